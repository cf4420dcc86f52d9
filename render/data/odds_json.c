/* SPDX-License-Identifier: MIT */
#include <math.h>

#include "json_parts.h"
#include "odds_words.h"
#include "units.h"

/** { "probability", "standard_error" }, and "within" where nothing else was seen. */
static json_t *share_of(dt_share share)
{
    json_t *object = json_object();
    dt_json_put(&object, "probability", dt_share_value(share));
    dt_json_put(&object, "standard_error", dt_share_error(share));
    if (dt_share_bound(share) > 0) dt_json_put(&object, "within", dt_share_bound(share));
    return object;
}

static void put_share(json_t **object, const char *key, dt_share share)
{
    dt_json_put_new(object, key, share_of(share));
}

static json_t *histogram_of(const dt_odds *odds, const dt_odds_string *string)
{
    json_t *list = json_array();
    for (size_t b = 0; b < odds->bin_count; ++b) {
        if (string->histogram[b] == 0) continue;
        json_t *bin = json_object();
        dt_json_put(&bin, "tvd_ft", feet(odds->bin_m * (double)b));
        dt_json_put_count(&bin, "count", string->histogram[b]);
        dt_json_append(&list, bin);
    }
    return list;
}

/** How often each rule was the one broken by most. */
static json_t *broken_by(const dt_odds *odds, const dt_odds_string *string)
{
    json_t *object = json_object();
    for (int rule = 0; rule < DT_RULE_COUNT; ++rule)
        if (string->broken[rule] > 0)
            put_share(&object, dt_rule_code((dt_rule)rule),
                      (dt_share){string->broken[rule], odds->samples});
    return object;
}

static json_t *string_of(const dt_program *program, const dt_odds *odds, size_t k)
{
    const dt_odds_string *string = &odds->strings[k];
    json_t *object = json_object();
    char name[32];
    dt_program_string_name(program, k, name, sizeof name);
    dt_json_put_new(&object, "name", json_string(name));
    dt_json_put(&object, "shoe_tvd_ft", feet(odds->base.shoes_m[k]));
    put_share(&object, "holds", string->held);
    dt_json_put_new(&object, "broken_by", broken_by(odds, string));
    dt_json_put_count(&object, "chosen_anew", string->anew);
    dt_json_put(&object, "seat_p10_tvd_ft", feet(string->p10_m));
    dt_json_put(&object, "seat_p50_tvd_ft", feet(string->p50_m));
    dt_json_put(&object, "seat_p90_tvd_ft", feet(string->p90_m));
    dt_json_put_new(&object, "seats", histogram_of(odds, string));
    return object;
}

static json_t *open_hole_of(const dt_odds *odds)
{
    json_t *object = json_object();
    put_share(&object, "holds", odds->open_hole.held);
    dt_json_put_new(&object, "broken_by", broken_by(odds, &odds->open_hole));
    return object;
}

/** Stages after the seats, by cause. */
static json_t *after_of(const dt_program *program, const dt_odds_after *after)
{
    json_t *object = json_object(), *causes = json_array();
    dt_json_put_count(&object, "wells", after->wells);
    put_share(&object, "by_seats", after->seats);
    put_share(&object, "by_all_stages", after->all);
    for (int stage = 0; stage < DT_STAGE_COUNT; ++stage)
        put_share(&object, dt_stage_code((dt_stage)stage), after->by_stage[stage]);
    for (size_t i = 0; i < after->cause_count; ++i) {
        const dt_odds_cause *c = &after->causes[i];
        json_t *row = share_of((dt_share){c->count, after->seats.count});
        char name[32];
        dt_program_string_name(program, c->string, name, sizeof name);
        dt_json_put_new(&row, "string", json_string(name));
        dt_json_put_new(&row, "stage", json_string(dt_stage_code(c->stage)));
        dt_json_put_new(&row, "cause", json_string(c->code));
        dt_json_append(&causes, row);
    }
    dt_json_put_new(&object, "causes", causes);
    return object;
}

static json_t *money_of(const dt_odds_money *m)
{
    json_t *object = json_object();
    dt_json_put_count(&object, "wells", m->wells);
    dt_json_put(&object, "expected_cost", m->cost.expected);
    dt_json_put(&object, "expected_cost_error", m->cost.error);
    dt_json_put(&object, "p10_cost", m->cost.tenths[0]);
    dt_json_put(&object, "p50_cost", m->cost.tenths[1]);
    dt_json_put(&object, "p90_cost", m->cost.tenths[2]);
    put_share(&object, "one_string_not_enough", m->lost);
    dt_json_put(&object, "counted_as", m->dearest);
    return object;
}

static json_t *program_of(const dt_odds_program *program)
{
    json_t *object = json_object(), *shoes = json_array();
    for (size_t k = 0; k < program->count; ++k)
        dt_json_append(&shoes, json_real(feet(program->shoes_m[k])));
    dt_json_put_count(&object, "strings", program->count);
    put_share(&object, "odds", program->odds);
    dt_json_put_new(&object, "shoes_tvd_ft", shoes);
    return object;
}

static json_t *input_of(const dt_program *program, const dt_odds_input *input)
{
    json_t *object = json_object();
    char name[80];
    dt_odds_input_words(program, input, DT_DISPLAY_FIELD, name, sizeof name);
    dt_json_put_new(&object, "input", json_string(name));
    dt_json_put(&object, "tvd_ft", feet(input->tvd_m));
    put_share(&object, "lowest_fifth", input->low);
    put_share(&object, "highest_fifth", input->high);
    dt_json_put(&object, "first_order", input->first_order);
    dt_json_put(&object, "first_order_error", input->first_order_error);
    dt_json_put(&object, "worth", input->worth);
    dt_json_put(&object, "worth_error", input->worth_error);
    dt_json_put(&object, "money_worth", input->money_worth);
    dt_json_put(&object, "money_worth_error", input->money_error);
    return object;
}

static void put_lists(json_t **root, const dt_program *program, const dt_odds *odds)
{
    json_t *strings = json_array(), *inputs = json_array(), *needed = json_array();
    for (size_t n = 0; n < DT_ODDS_MOST_STRINGS; ++n) {
        if (odds->needed[n] == 0) continue;
        json_t *row = share_of((dt_share){odds->needed[n], odds->samples});
        dt_json_put_count(&row, "strings", n);
        dt_json_append(&needed, row);
    }
    for (size_t k = 1; k < odds->string_count; ++k)
        dt_json_append(&strings, string_of(program, odds, k));
    for (size_t i = 0; i < odds->input_count; ++i)
        dt_json_append(&inputs, input_of(program, &odds->inputs[i]));
    dt_json_put_new(root, "strings_needed", needed);
    put_share(root, "no_program", (dt_share){odds->hopeless, odds->samples});
    dt_json_put_new(root, "strings", strings);
    if (odds->last_open) dt_json_put_new(root, "open_hole", open_hole_of(odds));
    if (odds->after.wells) dt_json_put_new(root, "all_stages", after_of(program, &odds->after));
    if (odds->money.wells) dt_json_put_new(root, "money", money_of(&odds->money));
    dt_json_put_new(root, "as_planned_program", program_of(&odds->base));
    if (odds->robust.count) dt_json_put_new(root, "surest_program", program_of(&odds->robust));
    if (odds->robust_more.count)
        dt_json_put_new(root, "surest_with_one_more", program_of(&odds->robust_more));
    dt_json_put_new(root, "inputs", inputs);
}

dt_status dt_write_odds_json(const dt_program *program, const dt_odds *odds, dt_text *out)
{
    json_t *root = json_object();
    dt_json_put_new(&root, "schema", json_string("drawtube.odds/1"));
    dt_json_put_new(&root, "well", json_string(program->well->name));
    dt_json_put_count(&root, "samples", odds->samples);
    dt_json_put_count(&root, "samples_asked", odds->asked);
    dt_json_put_new(&root, "interrupted", json_boolean(odds->stopped));
    dt_json_put_new(&root, "precision_reached", json_boolean(odds->precise));
    dt_json_put_count(&root, "seed", (size_t)odds->seed);
    put_share(&root, "as_planned", odds->planned);
    put_share(&root, "with_spare_liner", odds->spare);
    put_share(&root, "as_many_strings_anew", odds->anew);
    put_lists(&root, program, odds);
    return dt_json_take(root, 2, out);
}
