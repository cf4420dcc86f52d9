/* SPDX-License-Identifier: MIT */
/* What each hole of a program is held to while wells are drawn. */
#include <math.h>
#include <string.h>

#include "draws.h"
#include "same.h"
#include "section.h"

/**
 * What a hole must keep; what it should keep and the lengths preferred are for the draft. Nothing
 * in it is drawn, so it is found once.
 */
static void must(const dt_well *well, size_t string, double hole_m, dt_hole_rules *out)
{
    dt_hole_rules_for(well, hole_m, dt_hole_has_diverter(well, string - 1), DT_TIER_LEAST, false,
                      out);
}

/** Limits of the surface shoe beside fresh water, which may be drawn. */
static void set_surface(const dt_well *well, double conductor_m, dt_odds_holes *out)
{
    dt_well dry = *well; /* borrows everything */
    dry.fresh_water_m = NAN;
    dt_seats_surface_limits(&dry, conductor_m, &out->surface_least_m, &out->surface_most_m);
}

void dt_odds_holes_of_seats(const dt_well *well, const dt_seats *seats, dt_odds_holes *out)
{
    *out = (dt_odds_holes){.count = seats->count + seats->open.given};
    for (size_t k = 1; k < seats->count; ++k)
        must(well, k, seats->items[k].rules.hole_m, &out->rules[k]);
    if (seats->open.given) must(well, seats->count, seats->open.hole_m, &out->rules[seats->count]);
    set_surface(well, seats->items[0].shoe_m, out);
    if (seats->count < 2 || !seats->items[1].shoe_pinned) return;
    /* pinned outside, it is kept and reported; no drawn number bears on it */
    out->surface_least_m = fmin(out->surface_least_m, seats->items[1].shoe_m);
    out->surface_most_m = fmax(out->surface_most_m, seats->items[1].shoe_m);
}

void dt_odds_holes_of_ladder(const dt_well *well, const dt_ladder *ladder, dt_odds_holes *out)
{
    *out = (dt_odds_holes){.count = ladder->count + well->last_open};
    for (size_t k = 1; k < out->count; ++k)
        must(well, k, ladder->rungs[k].hole_m, &out->rules[k]);
    set_surface(well, dt_seats_conductor_m(well), out);
}

void dt_odds_holes_with_one_more(const dt_well *well, const dt_odds_holes *holes, size_t gap,
                                 dt_odds_holes *out)
{
    *out = *holes;
    ++out->count;
    for (size_t k = gap + 1; k < out->count; ++k)
        must(well, k, holes->rules[k > gap + 1 ? k - 1 : k].hole_m, &out->rules[k]);
}

/* ---- ladders of other numbers of strings ---- */

/** A ladder without one of its strings: what nests through more still nests. */
static void without(const dt_well *well, const dt_ladder *ladder, size_t string, dt_ladder *out)
{
    *out = *ladder;
    --out->count;
    for (size_t k = string; k <= out->count; ++k) {
        out->rungs[k] = ladder->rungs[k + 1];
        if (k < out->count) out->pins[k] = ladder->pins[k + 1];
    }
    const size_t end = out->count + well->last_open;
    for (size_t k = 1; k < end; ++k)
        must(well, k, out->rungs[k].hole_m, &out->rungs[k].rules);
}

static void take(const dt_well *well, const dt_ladder *ladder, dt_odds_ladders *out)
{
    dt_ladder *item = &out->items[out->count++];
    *item = *ladder;
    for (size_t k = 1; k < ladder->count + well->last_open; ++k)
        must(well, k, item->rungs[k].hole_m, &item->rungs[k].rules);
}

dt_status dt_odds_ladders_find(const dt_window *window, const dt_catalogue *catalogue,
                               const dt_ladder *planned, dt_odds_ladders *out)
{
    *out = (dt_odds_ladders){0};
    if (!dt_hole_rules_by_size(window->well)) return DT_OK;
    take(window->well, planned, out);
    for (size_t more = 1; more <= DT_ODDS_MORE; ++more) {
        dt_ladder ladder;
        const dt_status status =
            dt_ladder_of_count(window, catalogue, planned->count + more, &ladder);
        if (status == DT_E_NONE) break;
        if (status != DT_OK) return status;
        take(window->well, &ladder, out);
    }
    return DT_OK;
}

static dt_status lay(const dt_window *window, const dt_ladder *ladder, dt_seats *out)
{
    dt_status status = dt_ladder_seats(window, ladder, out);
    if (status == DT_OK && out->broken_count > 0) status = DT_E_NONE;
    if (status != DT_OK) {
        dt_seats_free(out);
        *out = (dt_seats){0};
    }
    return status;
}

/** Are holes below a string held to the same when all of them move up by one? */
static bool same_one_higher(const dt_well *well, size_t string, size_t holes)
{
    for (size_t k = string + 1; k < holes; ++k)
        if (dt_hole_has_diverter(well, k - 2) != dt_hole_has_diverter(well, k - 1) ||
            dt_hole_riserless(well, k - 2) != dt_hole_riserless(well, k - 1))
            return false;
    return true;
}

/** Could a string be left out? Its two holes become one, from as deep as the shoe above may stand
 * to as shallow as that below may: where these do not hold, none does. */
static bool may_go(const dt_window *window, const dt_ladder *ladder, const dt_seats *seats,
                   const dt_ladder *fewer, size_t string)
{
    const dt_well *well = window->well;
    const bool open = string + 1 == seats->count;
    if (!same_one_higher(well, string, ladder->count + well->last_open)) return true;
    const double base_m = open ? seats->open.base_m : seats->items[string + 1].shallowest_m;
    return dt_section_holds(window, &fewer->rungs[string].rules, seats->items[string - 1].deepest_m,
                            base_m);
}

/** Takes strings out, one by one, while the rock lets them. */
static dt_status lay_fewer(const dt_window *window, dt_ladder ladder, dt_seats *out)
{
    const dt_well *well = window->well;
    for (size_t k = 1; k + (well->last_open ? 0 : 1) < ladder.count && ladder.count > 2;) {
        dt_ladder fewer;
        dt_seats seats = {0};
        dt_status status = DT_E_NONE;
        if (ladder.pins[k] == DT_NO_INDEX) {
            without(well, &ladder, k, &fewer);
            if (may_go(window, &ladder, out, &fewer, k)) status = lay(window, &fewer, &seats);
        }
        if (status == DT_E_NONE) {
            ++k;
            continue;
        }
        if (status != DT_OK) return status;
        dt_seats_free(out);
        *out = seats;
        ladder = fewer;
        k = 1;
    }
    return DT_OK;
}

dt_status dt_odds_lay(const dt_window *window, const dt_odds_ladders *ladders, dt_seats *out)
{
    for (size_t i = 0; i < ladders->count; ++i) {
        const dt_status status = lay(window, &ladders->items[i], out);
        if (status == DT_E_NONE) continue;
        return status == DT_OK && i == 0 ? lay_fewer(window, ladders->items[0], out) : status;
    }
    return DT_E_NONE;
}
