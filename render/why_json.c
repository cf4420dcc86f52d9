/* SPDX-License-Identifier: MIT */
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawtube/drawings.h"
#include "drawtube/units.h"

#define DIGITS 15

static void put(json_t *object, const char *key, double value)
{
    if (isfinite(value)) json_object_set_new(object, key, json_real(value));
}

static void put_text(json_t *object, const char *key, const char *text)
{
    if (text) json_object_set_new(object, key, json_string(text));
}

static dt_status dump(json_t *root, dt_text *out)
{
    char *bytes = root ? json_dumps(root, JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS)) : NULL;
    json_decref(root);
    if (!bytes) return DT_E_MEMORY;
    size_t size = strlen(bytes);
    char *longer = realloc(bytes, size + 2);
    if (!longer) {
        free(bytes);
        return DT_E_MEMORY;
    }
    memcpy(longer + size, "\n", 2);
    *out = (dt_text){longer, size + 1};
    return DT_OK;
}

/** Both sides in the field unit of their kind, which "unit" names. */
static json_t *reason_of(const dt_program *program, const dt_why_item *item)
{
    json_t *object = json_object();
    char name[32];
    dt_program_string_name(program, item->string, name, sizeof name);
    json_object_set_new(object, "string", json_integer((json_int_t)item->string + 1));
    put_text(object, "name", name);
    put_text(object, "subject", dt_why_subject_text(item->subject));
    put_text(object, "rule", item->rule);
    put(object, "at_tvd_ft", item->at_tvd_m / DT_M_PER_FT);
    bool factor = item->kind == DT_KIND_FRACTION;
    if (isfinite(item->have)) {
        put(object, "have",
            factor ? item->have : dt_display_value(DT_DISPLAY_FIELD, item->kind, item->have));
        put(object, "need",
            factor ? item->need : dt_display_value(DT_DISPLAY_FIELD, item->kind, item->need));
        put_text(object, "unit", factor ? "1" : dt_display_unit(DT_DISPLAY_FIELD, item->kind));
    }
    put_text(object, "text", item->text);
    if (isfinite(item->moves_m)) {
        put(object, "eased_by",
            dt_display_value(DT_DISPLAY_FIELD, item->slack_kind, item->slack_step));
        put_text(object, "eased_unit", dt_display_unit(DT_DISPLAY_FIELD, item->slack_kind));
        put(object, "moves_ft", item->moves_m / DT_M_PER_FT);
    }
    put_text(object, "slack_text", item->slack_text);
    return object;
}

dt_status dt_write_why_json(const dt_program *program, const dt_why *why, dt_text *out)
{
    json_t *root = json_object(), *reasons = json_array();
    put_text(root, "schema", "drawtube.why/1");
    put_text(root, "well", program->well->name);
    for (size_t i = 0; i < why->count; ++i)
        json_array_append_new(reasons, reason_of(program, &why->items[i]));
    json_object_set_new(root, "reasons", reasons);
    return dump(root, out);
}

static json_t *strings_of(const dt_program *program)
{
    json_t *list = json_array();
    for (size_t k = 0; k < program->count; ++k) {
        const dt_program_string *at = &program->items[k];
        json_t *object = json_object();
        char name[32];
        dt_program_string_name(program, k, name, sizeof name);
        put_text(object, "name", name);
        put_text(object, "type", dt_string_type_text(at->seat->type));
        put(object, "shoe_tvd_ft", at->shoe_tvd_m / DT_M_PER_FT);
        put(object, "hole_in", at->hole_m / DT_M_PER_IN);
        put(object, "od_in", at->od_m / DT_M_PER_IN);
        put(object, "steel_t", at->steel_kg / 1000);
        json_array_append_new(list, object);
    }
    return list;
}

static dt_status put_forbids(json_t *root, const dt_program *program, const dt_verdict *v)
{
    json_t *list = json_array();
    dt_status status = DT_OK;
    for (size_t i = 0; status == DT_OK && i < v->forbid_count; ++i) {
        char *words = NULL;
        status = dt_switch_words(&v->switches.items[v->forbids[i]], program->well, DT_DISPLAY_FIELD,
                                 &words);
        if (status == DT_OK) json_array_append_new(list, json_string(words));
        free(words);
    }
    json_object_set_new(root, "forbidden_by", list);
    json_object_set_new(root, "smallest", json_boolean(v->smallest));
    json_object_set_new(root, "plans_tried", json_integer((json_int_t)v->tried));
    put_text(root, "text", v->refusal);
    return status;
}

dt_status dt_write_verdict_json(const dt_program *program, const dt_verdict *verdict,
                                const char *wish, dt_text *out)
{
    json_t *root = json_object();
    dt_status status = root ? DT_OK : DT_E_MEMORY;
    put_text(root, "schema", "drawtube.why/1");
    put_text(root, "well", program->well->name);
    put_text(root, "wish", wish);
    json_object_set_new(root, "possible", json_boolean(verdict->possible));
    if (verdict->possible) {
        const dt_program *wished = verdict->program;
        json_object_set_new(root, "strings", strings_of(wished));
        json_object_set_new(root, "strings_as_planned", strings_of(program));
        put(root, "steel_t", wished->steel_kg / 1000);
        put(root, "steel_difference_t", (wished->steel_kg - program->steel_kg) / 1000);
    } else if (status == DT_OK) {
        status = put_forbids(root, program, verdict);
    }
    if (status == DT_OK) return dump(root, out);
    json_decref(root);
    return status;
}
