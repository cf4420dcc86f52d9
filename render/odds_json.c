/* SPDX-License-Identifier: MIT */
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawtube/drawings.h"
#include "drawtube/units.h"
#include "odds_words.h"

#define DIGITS 15

static void put(json_t *object, const char *key, double value)
{
    if (isfinite(value)) json_object_set_new(object, key, json_real(value));
}

static void put_count(json_t *object, const char *key, size_t count)
{
    json_object_set_new(object, key, json_integer((json_int_t)count));
}

static double feet(double m)
{
    return m / DT_M_PER_FT;
}

/** { "probability", "standard_error" }, and "within" where nothing else was seen. */
static json_t *share_of(dt_share share)
{
    json_t *object = json_object();
    put(object, "probability", dt_share_value(share));
    put(object, "standard_error", dt_share_error(share));
    if (dt_share_bound(share) > 0) put(object, "within", dt_share_bound(share));
    return object;
}

static void put_share(json_t *object, const char *key, dt_share share)
{
    json_object_set_new(object, key, share_of(share));
}

static json_t *histogram_of(const dt_odds *odds, const dt_odds_string *string)
{
    json_t *list = json_array();
    for (size_t b = 0; b < odds->bin_count; ++b) {
        if (string->histogram[b] == 0) continue;
        json_t *bin = json_object();
        put(bin, "tvd_ft", feet(odds->bin_m * (double)b));
        put_count(bin, "count", string->histogram[b]);
        json_array_append_new(list, bin);
    }
    return list;
}

static json_t *string_of(const dt_program *program, const dt_odds *odds, size_t k)
{
    const dt_odds_string *string = &odds->strings[k];
    json_t *object = json_object(), *broken = json_object();
    char name[32];
    dt_program_string_name(program, k, name, sizeof name);
    json_object_set_new(object, "name", json_string(name));
    put(object, "shoe_tvd_ft", feet(odds->base.shoes_m[k]));
    put_share(object, "holds", string->held);
    for (int rule = 0; rule < DT_RULE_COUNT; ++rule)
        if (string->broken[rule] > 0)
            put_share(broken, dt_rule_code((dt_rule)rule),
                      (dt_share){string->broken[rule], odds->samples});
    json_object_set_new(object, "broken_by", broken);
    put_count(object, "chosen_anew", string->anew);
    put(object, "seat_p10_tvd_ft", feet(string->p10_m));
    put(object, "seat_p50_tvd_ft", feet(string->p50_m));
    put(object, "seat_p90_tvd_ft", feet(string->p90_m));
    json_object_set_new(object, "seats", histogram_of(odds, string));
    return object;
}

static json_t *program_of(const dt_odds_program *program)
{
    json_t *object = json_object(), *shoes = json_array();
    for (size_t k = 0; k < program->count; ++k)
        json_array_append_new(shoes, json_real(feet(program->shoes_m[k])));
    put_count(object, "strings", program->count);
    put_share(object, "odds", program->odds);
    json_object_set_new(object, "shoes_tvd_ft", shoes);
    return object;
}

static json_t *input_of(const dt_program *program, const dt_odds_input *input)
{
    json_t *object = json_object();
    char name[80];
    dt_odds_input_words(program, input, DT_DISPLAY_FIELD, name, sizeof name);
    json_object_set_new(object, "input", json_string(name));
    put(object, "tvd_ft", feet(input->tvd_m));
    put_share(object, "lowest_fifth", input->low);
    put_share(object, "highest_fifth", input->high);
    put(object, "first_order", input->first_order);
    put(object, "first_order_error", input->first_order_error);
    put(object, "worth", input->worth);
    put(object, "worth_error", input->worth_error);
    return object;
}

static void put_lists(json_t *root, const dt_program *program, const dt_odds *odds)
{
    json_t *strings = json_array(), *inputs = json_array(), *needed = json_array();
    for (size_t n = 0; n < DT_ODDS_MOST_STRINGS; ++n) {
        if (odds->needed[n] == 0) continue;
        json_t *row = share_of((dt_share){odds->needed[n], odds->samples});
        put_count(row, "strings", n);
        json_array_append_new(needed, row);
    }
    for (size_t k = 1; k < odds->string_count; ++k)
        json_array_append_new(strings, string_of(program, odds, k));
    for (size_t i = 0; i < odds->input_count; ++i)
        json_array_append_new(inputs, input_of(program, &odds->inputs[i]));
    json_object_set_new(root, "strings_needed", needed);
    put_share(root, "no_program", (dt_share){odds->hopeless, odds->samples});
    json_object_set_new(root, "strings", strings);
    json_object_set_new(root, "as_planned_program", program_of(&odds->base));
    if (odds->robust.count) json_object_set_new(root, "surest_program", program_of(&odds->robust));
    if (odds->robust_more.count)
        json_object_set_new(root, "surest_with_one_more", program_of(&odds->robust_more));
    json_object_set_new(root, "inputs", inputs);
}

dt_status dt_write_odds_json(const dt_program *program, const dt_odds *odds, dt_text *out)
{
    json_t *root = json_object();
    if (!root) return DT_E_MEMORY;
    json_object_set_new(root, "schema", json_string("drawtube.odds/1"));
    json_object_set_new(root, "well", json_string(program->well->name));
    put_count(root, "samples", odds->samples);
    put_count(root, "samples_asked", odds->asked);
    json_object_set_new(root, "interrupted", json_boolean(odds->stopped));
    json_object_set_new(root, "precision_reached", json_boolean(odds->precise));
    put_count(root, "seed", (size_t)odds->seed);
    put_share(root, "as_planned", odds->planned);
    put_share(root, "with_spare_liner", odds->spare);
    put_share(root, "as_many_strings_anew", odds->anew);
    put_lists(root, program, odds);
    char *bytes = json_dumps(root, JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS));
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
