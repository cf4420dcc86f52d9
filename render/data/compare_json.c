/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <stdlib.h>

#include "compare_words.h"
#include "json_parts.h"
#include "same.h"
#include "units.h"

/** Of several lengths of pipe in a string the one at its top is named, and how many they are. */
static void put_lengths(json_t **object, size_t lengths)
{
    if (lengths > 1) dt_json_put_count(object, "lengths", lengths);
}

static json_t *string_of(const dt_choice *choice, size_t lengths)
{
    json_t *object = json_object();
    dt_json_put_text(&object, "role", dt_role_text(choice->role));
    dt_json_put_text(&object, "type", dt_string_type_text(choice->type));
    dt_json_put(&object, "shoe_tvd_ft", choice->shoe_m / DT_M_PER_FT);
    dt_json_put(&object, "hole_in", choice->hole_m / DT_M_PER_IN);
    if (choice->bit_m < choice->hole_m - SAME_DIAMETER_M)
        dt_json_put(&object, "pilot_bit_in", choice->bit_m / DT_M_PER_IN);
    dt_json_put(&object, "od_in", choice->pipe->od_m / DT_M_PER_IN);
    dt_json_put(&object, "weight_lbft", choice->pipe->weight_kgm / DT_KGM_PER_LBFT);
    dt_json_put_text(&object, "grade", choice->pipe->grade->name);
    dt_json_put_text(&object, "thread", dt_pipe_thread_text(choice->pipe, choice->thread));
    put_lengths(&object, lengths);
    return object;
}

/** The tie-back on a liner: no shoe, no hole. */
static json_t *tieback_of(const dt_choice *choice, size_t lengths)
{
    json_t *object = json_object();
    dt_json_put_text(&object, "role", dt_role_text(choice->role));
    dt_json_put_text(&object, "type", dt_string_type_text(DT_TIEBACK));
    dt_json_put(&object, "od_in", choice->tie_pipe->od_m / DT_M_PER_IN);
    dt_json_put(&object, "weight_lbft", choice->tie_pipe->weight_kgm / DT_KGM_PER_LBFT);
    dt_json_put_text(&object, "grade", choice->tie_pipe->grade->name);
    dt_json_put_text(&object, "thread", dt_pipe_thread_text(choice->tie_pipe, choice->tie_thread));
    put_lengths(&object, lengths);
    return object;
}

static json_t *totals_of(const dt_comparison *c, const dt_option *option)
{
    json_t *totals = json_object();
    if (c->well->prices_given) dt_json_put(&totals, "cost", option->cost);
    if (c->well->prices_given && c->well->prices.currency)
        dt_json_put_text(&totals, "currency", c->well->prices.currency);
    dt_json_put(&totals, "steel_t", option->steel_kg / 1000);
    dt_json_put(&totals, "days", option->days);
    dt_json_put_count(&totals, "strings", dt_option_strings(option));
    dt_json_put(&totals, "last_od_in", option->last_od_m / DT_M_PER_IN);
    dt_json_put_count(&totals, "spare_strings", option->spares);
    return totals;
}

/** Where it stands in the order that plans are drafted in. */
static json_t *standing_of(const dt_standing *standing)
{
    json_t *object = json_object();
    dt_json_put_count(&object, "unlisted_pairs", standing->unlisted);
    dt_json_put_count(&object, "second_pairs", standing->second);
    dt_json_put_new(&object, "no_spare", json_boolean(standing->no_spare));
    dt_json_put(&object, "holes_ft2", standing->bulk_m2 / (DT_M_PER_FT * DT_M_PER_FT));
    dt_json_put_count(&object, "short_holes", standing->short_holes);
    return object;
}

static json_t *option_of(const dt_comparison *c, const dt_option *option, const dt_listed *listed)
{
    json_t *object = json_object(), *strings = json_array();
    for (size_t k = 0; k < option->count; ++k) {
        dt_json_append(&strings, string_of(&option->strings[k], listed->lengths[k]));
        if (option->strings[k].tied_back)
            dt_json_append(&strings, tieback_of(&option->strings[k], listed->tie_lengths[k]));
    }
    dt_json_put_new(&object, "strings", strings);
    dt_json_put_new(&object, "totals", totals_of(c, option));
    if (listed->tapers) dt_json_put_new(&object, "one_pipe", totals_of(c, &listed->searched));
    dt_json_put_new(&object, "standing", standing_of(&listed->standing));
    return object;
}

static void put_sentence(json_t **object, const char *key, dt_status status, const char *text)
{
    if (status == DT_OK)
        dt_json_put_text(object, key, text);
    else
        dt_json_put_new(object, key, NULL); /* no memory: the whole document fails */
}

/** Sentences are in field units, as the numbers are. */
static void put_item_sentence(json_t **object, const char *key, dt_item_sentence *of,
                              const dt_comparison *c, size_t index)
{
    char *text = NULL;
    const dt_status status = of(c, index, DT_DISPLAY_FIELD, &text);
    put_sentence(object, key, status, text);
    free(text);
}

static void put_words(json_t **object, const dt_comparison *c, size_t index)
{
    const dt_compared *one = &c->items[index];
    json_t *cost = json_object(), *hours = json_object();
    dt_json_put_new(object, "runnable", json_boolean(dt_program_runnable(one->program)));
    put_item_sentence(object, "changes", dt_changes_sentence, c, index);
    put_item_sentence(object, "buys", dt_buys_sentence, c, index);
    put_item_sentence(object, "risks", dt_risks_sentence, c, index);
    for (int i = 0; i < DT_COST_COUNT; ++i)
        dt_json_put(&cost, dt_cost_key((dt_cost)i), one->program->bill.cost[i]);
    for (int i = 0; i < DT_HOURS_COUNT; ++i)
        dt_json_put(&hours, dt_hours_key((dt_hours)i), one->program->bill.hours[i]);
    if (c->well->prices_given)
        dt_json_put_new(object, "cost_of", cost);
    else
        json_decref(cost);
    dt_json_put_new(object, "hours_of", hours);
}

static void put_dominated(json_t **object, size_t rank)
{
    dt_json_put_new(object, "dominated_by", rank ? json_integer((json_int_t)rank) : json_null());
}

/** "A" for the best of its kind, "A3" for the third. */
static void put_label(json_t **object, const dt_option *option, size_t place)
{
    char label[48];
    size_t kind = option->structure;
    int used = kind < 26 ? snprintf(label, sizeof label, "%c", (char)('A' + kind))
                         : snprintf(label, sizeof label, "kind %zu", kind + 1);
    if (place > 1)
        snprintf(label + used, sizeof label - (size_t)used, kind < 26 ? "%zu" : " no. %zu", place);
    dt_json_put_text(object, "label", label);
}

static json_t *options_of(const dt_comparison *c)
{
    json_t *list = json_array();
    size_t *seen = calloc(c->options.structure_count + 1, sizeof *seen);
    if (!seen) {
        json_decref(list);
        return NULL;
    }
    for (size_t i = 0; i < c->options.count; ++i) {
        const dt_option *option = &c->options.items[i];
        json_t *object = option_of(c, option, &c->listed[i]);
        dt_json_put_count(&object, "rank", i + 1);
        if (i + 1 == c->plan_rank)
            dt_json_put_text(&object, "label", "plan");
        else
            put_label(&object, option, ++seen[option->structure]);
        put_dominated(&object, 0);
        for (size_t k = 0; k < c->count; ++k)
            if (c->items[k].rank == i + 1 && c->items[k].plan) put_words(&object, c, k);
        dt_json_append(&list, object);
    }
    free(seen);
    return list;
}

/** A program with a string carried for the one hole that fails. */
static json_t *contingent_of(const dt_contingent *k)
{
    json_t *o = json_object();
    dt_json_put_count(&o, "held", k->held);
    dt_json_put_count(&o, "set", k->set);
    dt_json_put_count(&o, "slim", k->slim);
    dt_json_put(&o, "expected_cost", k->cost.expected);
    dt_json_put(&o, "expected_cost_error", k->cost.error);
    dt_json_put(&o, "p10_cost", k->cost.tenths[0]);
    dt_json_put(&o, "p50_cost", k->cost.tenths[1]);
    dt_json_put(&o, "p90_cost", k->cost.tenths[2]);
    return o;
}

/** In how many drawn wells each program that is shown holds. */
static json_t *drawn_of(const dt_comparison *c)
{
    json_t *object = json_object(), *list = json_array();
    dt_json_put_count(&object, "of", c->drawn);
    dt_json_put_count(&object, "asked_of_all", c->asked);
    for (size_t i = 0; i < c->count; ++i) {
        json_t *one = json_object();
        dt_json_put_text(&one, "label", c->items[i].label);
        dt_json_put_count(&one, "held", c->items[i].held);
        dt_json_put_count(&one, "asked_held_by_seats", c->items[i].of_all.by_seats);
        dt_json_put_count(&one, "asked_held_by_all", c->items[i].of_all.by_all);
        dt_json_append(&list, one);
    }
    dt_json_put_new(&object, "programs", list);
    json_t *steps = json_array();
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_certainty *step = &c->certainty[i];
        if (!step->given) continue;
        json_t *one = json_object(), *shoes = json_array();
        dt_json_put_text(&one, "step", dt_certainty_text((dt_certainty_step)i));
        dt_json_put_count(&one, "held", step->held);
        dt_json_put_count(&one, "asked_held_by_seats", step->of_all.by_seats);
        dt_json_put_count(&one, "asked_held_by_all", step->of_all.by_all);
        dt_json_put_new(&one, "totals", totals_of(c, &step->option));
        for (size_t k = 0; k < step->option.count; ++k)
            dt_json_append(&shoes, json_real(step->option.strings[k].shoe_m / DT_M_PER_FT));
        dt_json_put_new(&one, "shoes_tvd_ft", shoes);
        dt_json_put_new(&one, "with_contingency", contingent_of(&step->contingent));
        dt_json_append(&steps, one);
    }
    dt_json_put_new(&object, "steps", steps);
    return object;
}

static json_t *searched_of(const dt_comparison *c)
{
    const dt_options *o = &c->options;
    json_t *object = json_object();
    dt_json_put_count(&object, "fewest_strings", o->fewest_strings);
    dt_json_put_count(&object, "most_strings", o->most_strings);
    dt_json_put_new(&object, "most_strings_by_wish", json_boolean(o->most_by_wish));
    dt_json_put_count(&object, "candidate_depths", o->seat_count);
    dt_json_put(&object, "step_ft", o->seat_step_m / DT_M_PER_FT);
    dt_json_put_new(&object, "step_widened", json_boolean(o->step_widened));
    dt_json_put_new(&object, "shoes_not_rounded", json_boolean(o->not_rounded));
    dt_json_put_count(&object, "outdone", c->outdone);
    dt_json_put_count(&object, "alike", c->alike);
    dt_json_put_count(&object, "stopped", c->stopped);
    dt_json_put_new(&object, "stopped_most",
                    c->stopped ? json_string(dt_notice_code_text(c->stopped_most)) : json_null());
    dt_json_put_count(&object, "not_planned", c->not_planned);
    dt_json_put_new(&object, "bends_left_out", json_boolean(o->bends_left_out));
    dt_json_put_count(&object, "sections", o->section_count);
    dt_json_put_count(&object, "made", o->made);
    dt_json_put_count(&object, "beaten_in_their_state", o->dominated);
    dt_json_put_count(&object, "cut_by_bound", o->bounded);
    dt_json_put_count(&object, "kept", o->kept);
    char *text = NULL;
    const dt_status status = dt_searched_sentence(c, DT_DISPLAY_FIELD, &text);
    put_sentence(&object, "text", status, text);
    free(text);
    return object;
}

/** What the reader must know of the comparison. */
static json_t *notes_of(const dt_comparison *c)
{
    json_t *list = json_array();
    for (size_t i = 0; i < c->notes.count; ++i) {
        json_t *object = json_object();
        dt_json_put_text(&object, "code", dt_notice_code_text(c->notes.items[i].code));
        put_item_sentence(&object, "text", dt_comparison_note, c, i);
        dt_json_append(&list, object);
    }
    return list;
}

static void put_built(json_t **object, const char *key, bool built, double value)
{
    dt_json_put_new(object, key, built ? json_real(value) : json_null());
}

static json_t *twins_of(const dt_comparison *c)
{
    json_t *list = json_array();
    for (size_t i = 0; i < c->twin_count; ++i) {
        const dt_twin *t = &c->twins[i];
        const dt_compared *of = &c->items[t->item];
        json_t *object = json_object();
        char name[32];
        dt_program_string_name(of->program, t->string, name, sizeof name);
        dt_json_put_text(&object, "of", of->label);
        dt_json_put_text(&object, "string", name);
        dt_json_put(&object, "od_in", of->program->items[t->string].od_m / DT_M_PER_IN);
        dt_json_put_text(&object, "as", dt_hanging_text(t->as));
        dt_json_put_new(&object, "present", json_boolean(t->present));
        dt_json_put_new(&object, "built", json_boolean(t->built));
        dt_json_put_new(&object, "closes", json_boolean(t->closes));
        if (c->well->prices_given) put_built(&object, "cost", t->built, t->option.cost);
        put_built(&object, "steel_t", t->built, t->option.steel_kg / 1000);
        put_built(&object, "days", t->built, t->option.days);
        put_item_sentence(&object, "why", dt_twin_sentence, c, i);
        dt_json_append(&list, object);
    }
    return list;
}

static dt_status contingencies_of(const dt_comparison *c, json_t **list)
{
    for (size_t i = 0; i < c->well->interval_count; ++i) {
        const dt_contingency *found = &c->contingencies[i];
        char *text = NULL;
        dt_status status = dt_contingency_sentence(c->items[0].program, i, found, &text);
        if (status != DT_OK) return status;
        json_t *object = json_object();
        dt_json_put_text(&object, "interval", c->well->intervals[i].name);
        dt_json_put_new(&object, "nests", json_boolean(found->nests));
        dt_json_put(&object, "spare_od_in", found->od_m / DT_M_PER_IN);
        dt_json_put(&object, "spare_hole_in", found->hole_m / DT_M_PER_IN);
        dt_json_put(&object, "most_left_at_objective_in", found->last_od_m / DT_M_PER_IN);
        dt_json_put_text(&object, "text", text);
        dt_json_append(list, object);
        free(text);
    }
    return DT_OK;
}

dt_status dt_write_comparison_json(const dt_comparison *c, dt_text *out)
{
    json_t *root = json_object(), *list = json_array();
    dt_json_put_text(&root, "schema", "drawtube.options/1");
    dt_json_put_text(&root, "well", c->well->name);
    dt_json_put_new(&root, "priced", json_boolean(c->well->prices_given));
    if (c->planned) {
        json_t *plan = option_of(c, &c->items[0].option, &c->plan_listed);
        if (c->plan_rank) dt_json_put_count(&plan, "rank", c->plan_rank);
        dt_json_put_new(&plan, "breaks_wish", json_boolean(c->plan_breaks_wish));
        dt_json_put_text(&plan, "label", c->items[0].label);
        put_dominated(&plan, c->items[0].dominated_by);
        put_words(&plan, c, 0);
        dt_json_put_new(&root, "plan", plan);
    }
    if (c->drawn > 0) dt_json_put_new(&root, "drawn_wells", drawn_of(c));
    dt_json_put_new(&root, "options", options_of(c));
    dt_json_put_new(&root, "notes", notes_of(c));
    dt_json_put_new(&root, "twins", twins_of(c));
    dt_json_put_new(&root, "searched", searched_of(c));
    dt_json_put_text(&root, "proof", dt_proof_words());
    dt_status status = contingencies_of(c, &list);
    dt_json_put_new(&root, "contingency", list);
    if (status == DT_OK) return dt_json_take(root, 1, out);
    json_decref(root);
    return status;
}
