/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdlib.h>

#include "json_parts.h"
#include "notice_words.h"
#include "units.h"
#include "why_words.h"

static dt_status put_text(json_t **object, const char *key, const dt_notice *notice)
{
    char *text = NULL;
    const dt_status status = dt_notice_words(notice, DT_DISPLAY_FIELD, &text);
    dt_json_put_text(object, key, text);
    free(text);
    return status;
}

/** Both sides in the field unit of their kind, which "unit" names. */
static dt_status reason_of(const dt_program *program, const dt_why_item *item, json_t **out)
{
    json_t *object = json_object();
    char name[32];
    dt_program_string_name(program, item->string, name, sizeof name);
    dt_json_put_new(&object, "string",
                    json_integer((json_int_t)dt_seats_position(&program->seats, item->string) + 1));
    dt_json_put_text(&object, "name", name);
    dt_json_put_text(&object, "subject", dt_why_subject_text(item->subject));
    dt_json_put_text(&object, "rule", item->rule);
    dt_json_put(&object, "at_tvd_ft", item->at_tvd_m / DT_M_PER_FT);
    bool factor = item->kind == DT_KIND_FRACTION;
    if (isfinite(item->have)) {
        dt_json_put(&object, "have",
                    factor ? item->have
                           : dt_display_value(DT_DISPLAY_FIELD, item->kind, item->have));
        dt_json_put(&object, "need",
                    factor ? item->need
                           : dt_display_value(DT_DISPLAY_FIELD, item->kind, item->need));
        dt_json_put_text(&object, "unit",
                         factor ? "1" : dt_display_unit(DT_DISPLAY_FIELD, item->kind));
    }
    dt_status status = put_text(&object, "text", &item->reason);
    if (isfinite(item->moves_m)) {
        dt_json_put(&object, "eased_by",
                    dt_display_value(DT_DISPLAY_FIELD, item->slack_kind, item->slack_step));
        dt_json_put_text(&object, "eased_unit",
                         dt_display_unit(DT_DISPLAY_FIELD, item->slack_kind));
        dt_json_put(&object, "moves_ft", item->moves_m / DT_M_PER_FT);
    }
    if (status == DT_OK && item->has_slack) status = put_text(&object, "slack_text", &item->slack);
    *out = object;
    return status;
}

dt_status dt_write_why_json(const dt_program *program, const dt_why *why, dt_text *out)
{
    json_t *root = json_object(), *reasons = json_array();
    dt_json_put_text(&root, "schema", "drawtube.why/1");
    dt_json_put_text(&root, "well", program->well->name);
    dt_status status = DT_OK;
    for (size_t i = 0; status == DT_OK && i < why->count; ++i) {
        json_t *reason = NULL;
        status = reason_of(program, &why->items[i], &reason);
        dt_json_append(&reasons, reason);
    }
    dt_json_put_new(&root, "reasons", reasons);
    if (status == DT_OK) return dt_json_take(root, 2, out);
    json_decref(root);
    return status;
}

static json_t *strings_of(const dt_program *program)
{
    json_t *list = json_array();
    for (size_t n = 0; n < dt_program_strings(program); ++n) {
        const size_t k = dt_program_at(program, n);
        const dt_program_string *at = &program->items[k];
        json_t *object = json_object();
        char name[32];
        dt_program_string_name(program, k, name, sizeof name);
        dt_json_put_text(&object, "name", name);
        dt_json_put_text(&object, "type", dt_string_type_text(at->seat->type));
        dt_json_put(&object, "shoe_tvd_ft", at->shoe_tvd_m / DT_M_PER_FT);
        dt_json_put(&object, "hole_in", at->hole_m / DT_M_PER_IN);
        dt_json_put(&object, "od_in", at->od_m / DT_M_PER_IN);
        dt_json_put(&object, "steel_t", at->steel_kg / 1000);
        dt_json_append(&list, object);
    }
    return list;
}

static dt_status put_forbids(json_t **root, const dt_program *program, const dt_verdict *v)
{
    json_t *list = json_array();
    dt_status status = DT_OK;
    for (size_t i = 0; status == DT_OK && i < v->forbid_count; ++i) {
        char *words = NULL;
        status = dt_switch_words(&v->switches.items[v->forbids[i]], program->well, DT_DISPLAY_FIELD,
                                 &words);
        if (status == DT_OK) dt_json_append(&list, json_string(words));
        free(words);
    }
    dt_json_put_new(root, "forbidden_by", list);
    dt_json_put_new(root, "smallest", json_boolean(v->smallest));
    dt_json_put_new(root, "plans_tried", json_integer((json_int_t)v->tried));
    char *refusal = NULL;
    if (status == DT_OK) status = dt_refusal_words(&v->refusal, DT_DISPLAY_FIELD, &refusal);
    dt_json_put_text(root, "text", refusal);
    free(refusal);
    return status;
}

dt_status dt_write_verdict_json(const dt_program *program, const dt_verdict *verdict,
                                const char *wish, dt_text *out)
{
    json_t *root = json_object();
    dt_status status = root ? DT_OK : DT_E_MEMORY;
    dt_json_put_text(&root, "schema", "drawtube.why/1");
    dt_json_put_text(&root, "well", program->well->name);
    dt_json_put_text(&root, "wish", wish);
    dt_json_put_new(&root, "possible", json_boolean(verdict->possible));
    if (verdict->possible) {
        const dt_program *wished = verdict->program;
        dt_json_put_new(&root, "runnable", json_boolean(dt_program_runnable(wished)));
        dt_json_put_new(&root, "strings", strings_of(wished));
        dt_json_put_new(&root, "strings_as_planned", strings_of(program));
        dt_json_put(&root, "steel_t", wished->steel_kg / 1000);
        dt_json_put(&root, "steel_difference_t", (wished->steel_kg - program->steel_kg) / 1000);
        dt_json_put(&root, "days_difference", wished->bill.days - program->bill.days);
        if (program->well->prices_given)
            dt_json_put(&root, "cost_difference", wished->bill.total - program->bill.total);
    } else if (status == DT_OK) {
        status = put_forbids(&root, program, verdict);
    }
    if (status == DT_OK) return dt_json_take(root, 2, out);
    json_decref(root);
    return status;
}
