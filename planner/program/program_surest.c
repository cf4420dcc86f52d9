/* SPDX-License-Identifier: MIT */
/* Where most of the wells drawn from the spreads hold: seats for a program that closes
 * (docs/odds.md). */
#include <math.h>
#include <stdlib.h>

#include "draws.h"
#include "program_parts.h"
#include "section.h"

/** Step of seats that are not rounded. */
#define PLAIN_STEP_M 10.0

static size_t shoe_count(const dt_program *p)
{
    return p->seats.count + p->seats.open.given;
}

/** Shoes of a program; the objective behind them where the last hole stays open. */
static void shoes_of(const dt_program *p, double *shoes_m)
{
    for (size_t k = 0; k < p->seats.count; ++k)
        shoes_m[k] = p->seats.items[k].shoe_m;
    if (p->seats.open.given) shoes_m[p->seats.count] = p->seats.open.base_m;
}

bool dt_shoe_is_fixed(const dt_program *p, size_t string)
{
    return string == 0 || string + 1 >= shoe_count(p) || p->seats.items[string].shoe_pinned;
}

bool dt_surest_asked(const dt_program *p)
{
    if (p->well->seats.prefer != DT_PREFER_SUREST || p->ladder.count == 0) return false;
    return shoe_count(p) <= DT_ODDS_MOST_STRINGS;
}

/** What the draft itself was held to, and what else limits its surface shoe. */
static void holes_as_stated(const dt_program *p, const dt_odds_holes *must, dt_odds_holes *out)
{
    *out = *must;
    for (size_t k = 1; k < out->count; ++k)
        out->rules[k] = p->ladder.rungs[k].rules;
    out->surface_least_m =
        fmax(out->surface_least_m, p->ladder.rungs[1].rules.jobs.surface_least_m);
}

dt_status dt_surest_open(const dt_program *p, dt_surest *out)
{
    *out = (dt_surest){.of = DT_TRIALS};
    const dt_status status = dt_trials_of(p->well, &out->trials);
    return status == DT_OK && out->trials.count == 0 ? DT_E_NONE : status;
}

dt_status dt_surest_find(const dt_program *p, dt_surest *out)
{
    dt_odds_holes stated;
    bool fixed[DT_ODDS_MOST_STRINGS + 2];
    const double round_to_m = p->well->seats.round_to_m;
    dt_odds_holes_of_seats(p->well, &p->seats, &out->holes);
    holes_as_stated(p, &out->holes, &stated);
    shoes_of(p, out->shoes_m);
    for (size_t k = 0; k < out->holes.count; ++k)
        fixed[k] = dt_shoe_is_fixed(p, k);
    out->before = dt_trials_held(&out->trials, &out->holes, out->shoes_m);
    const dt_as_stated where = {&p->window, &stated};
    const dt_trial_filter all = {DT_NO_INDEX, 0};
    size_t held;
    const dt_status status = dt_search_seats(
        &out->trials, all, isfinite(round_to_m) && round_to_m > 0 ? round_to_m : PLAIN_STEP_M,
        &out->holes, &where, out->shoes_m, fixed, &held);
    return status == DT_OK && held <= out->before ? DT_E_NONE : status;
}

size_t dt_program_held(const dt_program *p, const dt_trials *trials)
{
    double shoes_m[DT_ODDS_MOST_STRINGS + 2];
    dt_odds_holes holes;
    if (shoe_count(p) > DT_ODDS_MOST_STRINGS) return 0;
    dt_odds_holes_of_seats(p->well, &p->seats, &holes);
    shoes_of(p, shoes_m);
    return dt_trials_held(trials, &holes, shoes_m);
}

bool dt_program_holds_in(const dt_program *p, const dt_window *window)
{
    double shoes_m[DT_ODDS_MOST_STRINGS + 2];
    dt_odds_holes holes;
    dt_rule rule;
    if (shoe_count(p) > DT_ODDS_MOST_STRINGS) return false;
    dt_odds_holes_of_seats(p->well, &p->seats, &holes);
    shoes_of(p, shoes_m);
    for (size_t k = 1; k < holes.count; ++k)
        if (!dt_shoe_stands(window, &holes, k, shoes_m[k], &rule) ||
            !dt_section_holds(window, &holes.rules[k], shoes_m[k - 1], shoes_m[k]))
            return false;
    return true;
}

double dt_program_price(const dt_program *p)
{
    return p->well->prices_given ? p->bill.total : p->bill.steel_kg;
}

bool dt_surest_affordable(const dt_program *p, const dt_program *cheapest)
{
    const double most = 1 + dt_custom_value_of(p->well, DT_CUSTOM_SEATS_SUREST_WITHIN);
    return dt_program_price(p) <= most * dt_program_price(cheapest);
}

void dt_surest_note(dt_program *p, const dt_program *cheapest, const dt_surest *s)
{
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_SUREST_SEATS, DT_NO_STRING);
    dt_notice_number(n, "held", (double)dt_program_held(p, &s->trials));
    dt_notice_number(n, "before", (double)s->before);
    dt_notice_number(n, "of", (double)s->of);
    const bool priced = p->well->prices_given;
    const double more = dt_program_price(p) - dt_program_price(cheapest);
    dt_notice_mark(n, "no_dearer", !(more > 0));
    if (more > 0 && priced) {
        dt_notice_number(n, "more", more);
        if (p->well->prices.currency) dt_notice_name(n, "currency", p->well->prices.currency);
    }
    if (more > 0 && !priced) dt_notice_number(n, "steel", more / 1000);
}

void dt_surest_free(dt_surest *s)
{
    dt_trials_free(&s->trials);
}
