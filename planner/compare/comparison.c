/* SPDX-License-Identifier: MIT */
#include "comparison_parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"
#include "units.h"

size_t dt_option_strings(const dt_option *option)
{
    return option->count + option->tiebacks;
}

/* ---- what differs from the chosen program ---- */

/** String of the chosen program that plays the same part, or NULL. */
static const dt_program_string *counterpart(const dt_program *chosen, const dt_program_string *of)
{
    for (size_t k = 0; k < chosen->count; ++k)
        if (chosen->items[k].seat->role == of->seat->role &&
            chosen->items[k].ordinal == of->ordinal)
            return &chosen->items[k];
    return NULL;
}

/** The tie-back on a string, or NULL. */
static const dt_program_string *tieback_on(const dt_program *program, const dt_program_string *item)
{
    const size_t tie = dt_seats_tieback_on(&program->seats, (size_t)(item - program->items));
    return tie == DT_NO_INDEX ? NULL : &program->items[tie];
}

static bool same_string(const dt_program_string *a, const dt_program_string *b)
{
    if (fabs(a->od_m - b->od_m) > SAME_DIAMETER_M ||
        fabs(a->hole_m - b->hole_m) > SAME_DIAMETER_M /* of tie-backs NAN */ ||
        a->seat->type != b->seat->type || fabs(a->shoe_tvd_m - b->shoe_tvd_m) > 0.01 ||
        a->string->section_count != b->string->section_count)
        return false;
    for (size_t i = 0; i < a->string->section_count; ++i) {
        const dt_section *x = &a->string->sections[i], *y = &b->string->sections[i];
        if (x->pipe != y->pipe || x->thread != y->thread) return false;
    }
    return true;
}

/** The same string, with the same tie-back on it or none. */
static bool unchanged(const dt_program *one, const dt_program_string *now, const dt_program *chosen,
                      const dt_program_string *was)
{
    const dt_program_string *tie = tieback_on(one, now), *had = tieback_on(chosen, was);
    return same_string(was, now) && !tie == !had && (!tie || same_string(had, tie));
}

static void add_difference(dt_compared *one, dt_difference_kind kind, size_t string, size_t was)
{
    one->differences[one->difference_count++] = (dt_difference){kind, string, was};
}

/** A liner, or a tie-back, where the chosen program has none; of the chosen program itself, any. */
static void note_hanging(const dt_program *chosen, dt_compared *one, size_t index)
{
    const dt_program_string *now = &one->program->items[index];
    if (now->seat->type != DT_LINER || index == 0) return;
    const dt_program_string *was = one->program == chosen ? NULL : counterpart(chosen, now);
    const bool hung = was && was->seat->type == DT_LINER && !was->seat->tied_back;
    const bool tied = was && was->seat->tied_back;
    const dt_program_string *above = counterpart(chosen, now - 1);
    const size_t then = above ? (size_t)(above - chosen->items) : DT_NO_INDEX;
    if (now->seat->tied_back && !tied) add_difference(one, DT_NEWLY_TIED, index, then);
    if (!now->seat->tied_back && !hung) add_difference(one, DT_NEWLY_HUNG, index, then);
}

static dt_status find_differences(const dt_program *chosen, dt_compared *one)
{
    const dt_program *program = one->program;
    one->differences = calloc(2 * program->count + chosen->count + 1, sizeof *one->differences);
    if (!one->differences) return DT_E_MEMORY;
    for (size_t k = 0; k < program->count; ++k) {
        const dt_program_string *now = &program->items[k], *was = counterpart(chosen, now);
        if (!was)
            add_difference(one, DT_ADDED, k, DT_NO_INDEX);
        else if (!unchanged(program, now, chosen, was))
            add_difference(one, DT_CHANGED, k, (size_t)(was - chosen->items));
    }
    for (size_t k = 0; k < chosen->count; ++k)
        if (!counterpart(program, &chosen->items[k]))
            add_difference(one, DT_LACKING, DT_NO_INDEX, k);
    for (size_t k = 1; k < program->count; ++k)
        note_hanging(chosen, one, k);
    return DT_OK;
}

/* ---- putting it together ---- */

/** The first option that equals or beats the plan in all; it is none of them then. */
static size_t find_dominating(const dt_options *o, const dt_option *option)
{
    for (size_t i = 0; i < o->count; ++i)
        if (dt_option_at_least(&o->items[i], option)) return i + 1;
    return 0;
}

/** The plan's own program comes first; it is often, but need not be, one of the options. */
static dt_status put_planned(dt_comparison *c)
{
    dt_compared *one = &c->items[0];
    snprintf(one->label, sizeof one->label, "plan");
    one->program = c->planned;
    dt_status status = dt_option_of_program(c->planned, &one->option);
    one->searched = one->option;
    one->rank = c->plan_rank;
    if (one->rank == 0) one->dominated_by = find_dominating(&c->options, &one->option);
    c->count = 1;
    return status;
}

/** The best option of a kind beside the plan's own program; DT_NO_INDEX: there is no other. */
static size_t best_beside_plan(const dt_comparison *c, size_t structure)
{
    for (size_t i = c->options.structures[structure].best; i < c->options.count; ++i)
        if (c->options.items[i].structure == structure && i + 1 != c->plan_rank) return i;
    return DT_NO_INDEX;
}

static void put_structure(dt_comparison *c, size_t structure)
{
    const dt_structure *kind = &c->options.structures[structure];
    const size_t best = best_beside_plan(c, structure);
    if (best == DT_NO_INDEX) return;
    dt_compared *one = &c->items[c->count];
    snprintf(one->label, sizeof one->label, "%c", (char)('A' + structure));
    one->option = c->options.items[best];
    one->searched = c->listed[best].searched;
    one->tapers = c->listed[best].tapers;
    one->rank = best + 1;
    one->like = kind->count;
    one->plan = c->listed[best].plan;
    c->listed[best].plan = NULL;
    one->program = one->plan->program;
    ++c->count;
}

static dt_status find_contingencies(dt_comparison *c)
{
    size_t count = c->well->interval_count;
    c->contingencies = calloc(count + 1, sizeof *c->contingencies);
    if (!c->contingencies) return DT_E_MEMORY;
    dt_status status = DT_OK;
    for (size_t i = 0; i < count && status == DT_OK; ++i)
        status = dt_contingency_find(c->items[0].program, i, &c->contingencies[i]);
    return status;
}

/** The program of drawtube plan, unless the search has it. */
static dt_status make_plan(dt_comparison *c, const dt_catalogue *catalogue)
{
    c->planned = c->options.planned;
    c->options.planned = NULL;
    if (c->planned) return DT_OK;
    return dt_program_plan_keeping(c->well, catalogue, &c->designed, &c->planned, NULL);
}

/** Options were found, and none of them closes. */
static dt_status refuse(const dt_comparison *c, dt_refusal *refusal)
{
    dt_notice *n = dt_notice_add(&refusal->why, DT_NOTICE_NO_OPTION_CLOSES, DT_NO_STRING);
    for (size_t i = 0; i < c->notes.count; ++i)
        dt_notice_copy_below(&refusal->why, n, &c->notes.items[i]);
    return refusal->why.failed ? DT_E_MEMORY : DT_E_NONE;
}

bool dt_comparison_surest(const dt_comparison *c)
{
    for (size_t k = 0; c->planned && k < c->planned->seats.count; ++k)
        if (c->planned->seats.items[k].why.rule == DT_RULE_SUREST ||
            c->planned->seats.items[k].spare > 0)
            return true;
    return false;
}

double dt_comparison_percent(const dt_comparison *c, size_t count)
{
    return 100.0 * (double)count / (double)c->drawn;
}

double dt_comparison_percent_by_all(const dt_comparison *c, size_t held,
                                    const dt_held_by_all *of_all)
{
    if (of_all->by_seats == 0) return 0;
    return dt_comparison_percent(c, held) * (double)of_all->by_all / (double)of_all->by_seats;
}

const char *dt_certainty_text(dt_certainty_step step)
{
    static const char *const texts[DT_CERTAIN_COUNT] = {"shallowest shoes", "as planned",
                                                        "one string more"};
    return texts[step];
}

static dt_status take_certainty(const dt_program *p, const dt_trials *trials, dt_certainty *out)
{
    if (!dt_program_runnable(p)) return DT_OK;
    out->given = true;
    out->held = dt_program_held(p, trials);
    dt_status status = dt_program_held_by_all(p, trials, &out->of_all);
    if (status == DT_OK) status = dt_program_contingent(p, trials, &out->contingent);
    return status == DT_OK ? dt_option_of_program(p, &out->option) : status;
}

/** Do the shoes of the plan stand as shallow as they may? */
static bool is_shallowest(const dt_comparison *c)
{
    return !dt_comparison_surest(c) && c->well->seats.prefer != DT_PREFER_DEEPEST;
}

/** The plan with the shallowest shoes, unless it is that itself, and with one string more: NULL
 * where there is none. */
static dt_status plan_beside(const dt_comparison *c, const dt_catalogue *catalogue,
                             const dt_well *shallow, dt_program **cheaper, dt_program **surer)
{
    dt_status status = DT_OK;
    if (!is_shallowest(c)) status = dt_program_plan(shallow, catalogue, cheaper, NULL);
    if (status == DT_OK || status == DT_E_NONE) status = dt_program_plan_more(c->planned, surer);
    return status == DT_E_NONE ? DT_OK : status;
}

/** What less and more certainty than the plan's comes to. */
static dt_status price_certainty(dt_comparison *c, const dt_catalogue *catalogue,
                                 const dt_trials *trials)
{
    dt_well shallow = *c->well; /* borrows everything */
    dt_program *cheaper = NULL, *surer = NULL;
    shallow.seats.prefer = DT_PREFER_SHALLOWEST;
    dt_status status = plan_beside(c, catalogue, &shallow, &cheaper, &surer);
    const dt_program *least = is_shallowest(c) ? c->planned : cheaper;
    const dt_program *all[DT_CERTAIN_COUNT] = {least, c->planned, surer};
    for (int i = 0; i < DT_CERTAIN_COUNT && status == DT_OK; ++i)
        if (all[i]) status = take_certainty(all[i], trials, &c->certainty[i]);
    dt_program_free(cheaper);
    dt_program_free(surer);
    return status;
}

/** In how many drawn wells each of the programs holds, where the well has spreads. */
static dt_status hold_against_draws(dt_comparison *c, const dt_catalogue *catalogue)
{
    dt_trials trials;
    dt_status status = dt_trials_of(c->well, &trials);
    if (status != DT_OK || trials.count == 0) return status;
    c->drawn = trials.count;
    for (size_t i = 0; i < c->count && status == DT_OK; ++i) {
        dt_compared *one = &c->items[i];
        one->held = dt_program_held(one->program, &trials);
        status = dt_program_held_by_all(one->program, &trials, &one->of_all);
        c->asked = one->of_all.asked;
    }
    /* what it costs over others it buys in certainty, which is not among what the search counts */
    if (dt_comparison_surest(c)) c->items[0].dominated_by = 0;
    if (status == DT_OK && c->planned && !c->plan_stopped)
        status = price_certainty(c, catalogue, &trials);
    dt_trials_free(&trials);
    return status;
}

static dt_status fill(dt_comparison *c, const dt_catalogue *catalogue, dt_refusal *refusal)
{
    dt_status status = make_plan(c, catalogue);
    if (status != DT_OK && status != DT_E_NONE) return status;
    status = dt_comparison_list(c, catalogue);
    if (status != DT_OK) return status;
    if (!c->planned && c->options.count == 0) return refusal ? refuse(c, refusal) : DT_E_NONE;
    size_t structures = c->options.structure_count;
    if (structures > DT_MOST_COMPARED) {
        c->left_out = structures - DT_MOST_COMPARED;
        structures = DT_MOST_COMPARED;
    }
    c->items = calloc(structures + 2, sizeof *c->items);
    if (!c->items) return DT_E_MEMORY;
    status = c->planned ? put_planned(c) : DT_OK;
    for (size_t i = 0; i < structures && status == DT_OK; ++i)
        put_structure(c, i);
    dt_comparison_drop_plans(c);
    if (status == DT_OK) status = hold_against_draws(c, catalogue);
    if (status == DT_OK) status = dt_comparison_note_order(c);
    if (status == DT_OK) status = dt_comparison_twins(c, catalogue);
    for (size_t i = 0; i < c->count && status == DT_OK; ++i)
        status = find_differences(c->items[0].program, &c->items[i]);
    return status == DT_OK ? find_contingencies(c) : status;
}

dt_status dt_comparison_make(const dt_well *well, const dt_catalogue *catalogue, dt_comparison *out,
                             dt_refusal *refusal)
{
    return dt_comparison_make_watched(well, catalogue, NULL, out, refusal);
}

dt_status dt_comparison_make_watched(const dt_well *well, const dt_catalogue *catalogue,
                                     const dt_progress *progress, dt_comparison *out,
                                     dt_refusal *refusal)
{
    *out = (dt_comparison){.well = well, .progress = progress};
    dt_status status = dt_options_search_watched(well, catalogue, progress, &out->options, refusal);
    if (status == DT_OK) status = fill(out, catalogue, refusal);
    out->progress = NULL;
    dt_designed_free(&out->designed);
    if (status != DT_OK) dt_comparison_free(out);
    return status;
}

void dt_comparison_free(dt_comparison *c)
{
    if (!c) return;
    /* one more than count may have been begun */
    for (size_t i = 0; c->items && i <= c->count; ++i) {
        dt_option_plan_free(c->items[i].plan);
        free(c->items[i].plan);
        free(c->items[i].differences);
    }
    free(c->items);
    dt_comparison_drop_plans(c);
    free(c->listed);
    dt_twins_free(c);
    dt_notices_free(&c->notes);
    free(c->contingencies);
    dt_program_free(c->planned);
    dt_options_free(&c->options);
    *c = (dt_comparison){0};
}

/* ---- the program to work with ---- */

/** Says on the program why it is one of the options, and how closely shoes were looked at where
 * that is not as closely as usual. */
static dt_status note_origin(dt_program *program, const dt_options *options,
                             const dt_refusal *refusal)
{
    dt_notice *n = dt_notice_add(&program->notices, DT_NOTICE_PLAN_FROM_OPTIONS, DT_NO_STRING);
    if (options->step_widened) dt_notice_figure(n, "step", DT_KIND_LENGTH, options->seat_step_m);
    const dt_notice *no = refusal->why.items;
    for (size_t i = 0; no && i < no->because_count; ++i)
        dt_notice_copy_of_other(&program->notices, n, &no->because[i]);
    return program->notices.failed ? DT_E_MEMORY : DT_OK;
}

dt_status dt_program_find(const dt_well *well, const dt_catalogue *catalogue, dt_program **out,
                          dt_option_plan **owner, dt_refusal *refusal)
{
    *owner = NULL;
    dt_status status = dt_program_plan(well, catalogue, out, refusal);
    /* the options of a program that is decided in full are it alone */
    if (status != DT_E_NONE || dt_pins_complete(well) || dt_hole_rules_by_size(well)) return status;
    dt_comparison c;
    status = dt_comparison_make(well, catalogue, &c, NULL); /* the plan has said why */
    if (status != DT_OK) return status;
    dt_option_plan *plan = c.items[0].plan;
    c.items[0].plan = NULL;
    status = note_origin(plan->program, &c.options, refusal);
    dt_comparison_free(&c);
    if (status != DT_OK) {
        dt_option_plan_free(plan);
        free(plan);
        return status;
    }
    dt_refusal_free(refusal);
    *owner = plan;
    *out = plan->program;
    return DT_OK;
}
