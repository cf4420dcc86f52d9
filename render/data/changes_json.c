/* SPDX-License-Identifier: MIT */
/* What differs between two programs, for other programs. */
#include <math.h>
#include <stdlib.h>

#include "change_words.h"
#include "json_parts.h"
#include "notice.h"
#include "units.h"

static json_t *side_of(const dt_program *program)
{
    json_t *object = json_object();
    dt_json_put_text(&object, "well", program->well->name);
    dt_json_put_text(&object, "revision", program->well->document.revision);
    dt_json_put_count(&object, "strings", dt_program_strings(program));
    dt_json_put(&object, "steel_t", program->steel_kg / 1000);
    dt_json_put(&object, "days", program->bill.days);
    dt_json_put_new(&object, "runnable", json_boolean(dt_program_runnable(program)));
    return object;
}

/** The unit of both figures, and what an SI figure is in it. */
static const char *unit_of(const dt_changes *c, const dt_change_view *change, double *per)
{
    *per = 1;
    if (change->kind < DT_KIND_COUNT) {
        *per = 1 / dt_display_value(DT_DISPLAY_FIELD, change->kind, 1);
        return dt_display_unit(DT_DISPLAY_FIELD, change->kind);
    }
    if (change->what == DT_CHANGE_STEEL) {
        *per = 1000;
        return "t";
    }
    if (change->what == DT_CHANGE_DAYS) return "d";
    const char *currency = c->is->well->prices.currency;
    return change->what == DT_CHANGE_COST && currency ? currency : "1";
}

static void put_figures(json_t **object, const dt_changes *c, const dt_change_view *change)
{
    if (isnan(change->was_value) && isnan(change->is_value)) return;
    double per = 1;
    const char *unit = unit_of(c, change, &per);
    dt_json_put(object, "was", change->was_value / per);
    dt_json_put(object, "is", change->is_value / per);
    dt_json_put_text(object, "unit", unit);
}

static json_t *change_of(const dt_changes *c, size_t index, const char *words)
{
    const dt_change_view *change = &c->items[index];
    char where[64];
    json_t *object = json_object();
    dt_change_where(c, index, where, sizeof where);
    dt_json_put_text(&object, "about", where);
    dt_json_put_text(&object, "what", dt_change_code(change->what));
    if (change->notice)
        dt_json_put_text(&object, "notice", dt_notice_code_text(change->notice->code));
    else
        put_figures(&object, c, change);
    dt_json_put_text(&object, "text", words);
    return object;
}

dt_status dt_write_changes_json(const dt_changes *changes, dt_text *out)
{
    json_t *root = json_object(), *list = json_array();
    dt_status status = DT_OK;
    dt_json_put_text(&root, "schema", "drawtube.changes/1");
    dt_json_put_new(&root, "first", side_of(changes->was));
    dt_json_put_new(&root, "second", side_of(changes->is));
    for (size_t i = 0; status == DT_OK && i < changes->count; ++i) {
        char *words = NULL;
        status = dt_change_words(changes, i, DT_DISPLAY_FIELD, &words);
        if (words) dt_json_append(&list, change_of(changes, i, words));
        free(words);
    }
    dt_json_put_new(&root, "changes", list);
    if (status == DT_OK) return dt_json_take(root, 2, out);
    json_decref(root);
    return status;
}
