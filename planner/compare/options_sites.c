/* SPDX-License-Identifier: MIT */
/* Candidate depths for shoes, and what the rock allows between two of them. */
#include <math.h>
#include <stdlib.h>

#include "numbers.h"
#include "options_search.h"
#include "same.h"
#include "units.h"

/** Regular candidates stand on about this step: the multiple of the rounding step nearest it. */
#define REGULAR_STEP_M (50 * DT_M_PER_FT)

/** More sections than this and the step is doubled; more bends than that and they are left out, so
 * that a log of hundreds of points does not make a search of minutes. The result says both. */
#define MOST_SECTIONS 40000

/** The same where holes have rules of their own and what is below a string is not one pressure but
 * every hole and its mud: there is as much more to remember. */
#define MOST_SECTIONS_BY_CHAIN 4000
#define MOST_BENDS             60

/** Two shoes closer than this are one (as in seats.c). */
#define LEAST_SECTION_M 1.0

bool dt_sites_rounded(const dt_well *well)
{
    return isfinite(well->seats.round_to_m) && well->seats.round_to_m > 0;
}

static double step_of(const dt_well *well)
{
    double round_to = well->seats.round_to_m;
    if (!dt_sites_rounded(well)) return REGULAR_STEP_M;
    return round_to * fmax(round(REGULAR_STEP_M / round_to), 1);
}

/** Depths with a reason of their own: bends and steps of the window, intervals, seats. */
static size_t list_governing(const dt_pipe_choice *c, const dt_seats *seats, double *depths)
{
    const dt_well *well = c->well;
    size_t count = 0;
    for (size_t i = 0; i < c->window->break_count && c->window->break_count <= MOST_BENDS; ++i)
        depths[count++] = c->window->breaks[i];
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *interval = &well->intervals[i];
        depths[count++] = interval->top_m;
        depths[count++] = interval->base_m;
        depths[count++] = interval->action == DT_CASE_ABOVE ? interval->top_m - interval->within_m
                                                            : interval->base_m + interval->within_m;
    }
    for (size_t i = 0; i < seats->count; ++i) {
        const dt_seat *seat = &seats->items[i];
        depths[count++] = seat->shallowest_m;
        depths[count++] = seat->deepest_m;
    }
    if (isfinite(well->fresh_water_m))
        depths[count++] = well->fresh_water_m + well->fresh_water_cover_m;
    for (size_t i = 0; i < c->window->bad_count; ++i) {
        depths[count++] = c->window->bad[i].top_m;
        depths[count++] = c->window->bad[i].base_m;
    }
    double least_m, most_m;
    dt_seats_surface_limits(well, c->conductor_m, &least_m, &most_m);
    if (least_m > c->conductor_m) depths[count++] = least_m;
    if (isfinite(most_m)) depths[count++] = most_m;
    return count;
}

/** Where shoes are rounded, the two multiples about each governing depth; else the depth itself.
 * As they are: pinned shoes, and the plan's own, which is exact where no multiple fits its limits.
 */
static size_t add_governing(const dt_pipe_choice *c, const dt_seats *seats, bool exact,
                            double *depths)
{
    const dt_well *well = c->well;
    const double step = well->seats.round_to_m;
    size_t count = list_governing(c, seats, depths);
    for (size_t i = count; !exact && dt_sites_rounded(well) && i-- > 0;) {
        const double steps = depths[i] / step;
        depths[i] = floor(steps + SAME_DEPTH_M / step) * step;
        depths[count++] = ceil(steps - SAME_DEPTH_M / step) * step;
    }
    for (size_t i = 0; i < seats->count; ++i)
        depths[count++] = seats->items[i].shoe_m;
    for (size_t i = 0; i < well->pin_count; ++i)
        if (isfinite(well->pins[i].shoe_m)) depths[count++] = well->pins[i].shoe_m;
    return count;
}

/** Shoe of the conductor, then all candidates below it in order, each once, then the objective. */
static dt_status collect(const dt_pipe_choice *c, const dt_seats *seats, bool exact, double step_m,
                         dt_sites *s)
{
    const dt_well *well = c->well;
    double top = seats->items[0].shoe_m, bottom = well->objective_m;
    s->step_m = step_m;
    s->bends_left_out = c->window->break_count > MOST_BENDS;
    size_t regular = (size_t)(bottom / s->step_m) + 1;
    size_t room = regular +
                  2 * (c->window->break_count + 3 * (well->interval_count + seats->count) +
                       2 * c->window->bad_count) +
                  well->pin_count + 10;
    double *depths = malloc(room * sizeof *depths);
    s->tvd_m = malloc(room * sizeof *s->tvd_m);
    if (!depths || !s->tvd_m) {
        free(depths);
        return DT_E_MEMORY;
    }
    size_t count = add_governing(c, seats, exact, depths);
    for (size_t i = 1; i <= regular; ++i)
        depths[count++] = (double)i * s->step_m;
    for (size_t i = 0; i < count; ++i)
        depths[i] = dt_window_on_break(c->window, depths[i]);
    qsort(depths, count, sizeof *depths, by_value);
    s->tvd_m[s->count++] = top;
    for (size_t i = 0; i < count; ++i) {
        double last = s->tvd_m[s->count - 1];
        if (depths[i] < top + LEAST_SECTION_M || depths[i] > bottom - LEAST_SECTION_M) continue;
        if (depths[i] > last + SAME_DEPTH_M) s->tvd_m[s->count++] = depths[i];
    }
    s->tvd_m[s->count++] = bottom;
    free(depths);
    return DT_OK;
}

/**
 * Deepest site, no deeper than a cap, that a hole of these rules below a site can be taken to.
 * from: a site that it surely can be taken to.
 */
static size_t deepest_from(const dt_pipe_choice *c, const dt_sites *s, const dt_hole_rules *rules,
                           size_t top, size_t from, size_t cap)
{
    size_t base = from < top ? top : from;
    while (base < cap) {
        dt_section_check check;
        dt_section_test(c->window, rules, s->tvd_m[top], s->tvd_m[base + 1], true, &check);
        if (!check.ok) break;
        ++base;
    }
    return base;
}

/**
 * Deepest reachable site of each shoe: a section that works works inside too, so the deepest never
 * rises from one shoe to the next and one walk finds all. The hole below the conductor may have
 * rules of its own.
 */
static void find_reach(const dt_pipe_choice *c, dt_sites *s)
{
    const size_t last = s->count - 1;
    dt_hole_rules rules;
    for (size_t top = 0; top < last; ++top) {
        if (top < 2)
            dt_hole_rules_for(c->well, NAN, dt_hole_has_diverter(c->well, top), DT_TIER_LEAST,
                              false, &rules);
        const size_t from = top < 2 ? top : s->reach[top - 1];
        s->reach[top] = deepest_from(c, s, &rules, top, from, last);
        s->pair_count += s->reach[top] - top;
    }
    s->reach[last] = last;
}

static bool same_volume(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/** Do two sets of rules ask the same? */
static bool same_rules(const dt_hole_rules *a, const dt_hole_rules *b)
{
    const bool kick = !isnan(a->least_m3) || !isnan(a->wanted_m3);
    return a->diverter == b->diverter && same_volume(a->least_m3, b->least_m3) &&
           same_volume(a->wanted_m3, b->wanted_m3) && (!kick || a->hole_m == b->hole_m) &&
           a->ecd_kgm3 == b->ecd_kgm3 && a->most_length_m == b->most_length_m &&
           a->most_pore_kgm3 == b->most_pore_kgm3;
}

static dt_status add_reach(dt_search *search, const dt_hole_rules *rules, bool first,
                           const size_t **out)
{
    const dt_sites *s = &search->sites;
    dt_reach *bigger =
        realloc(search->reaches, (search->reach_count + 1) * sizeof *search->reaches);
    if (!bigger) return DT_E_MEMORY;
    search->reaches = bigger;
    size_t *deepest = calloc(s->count, sizeof *deepest);
    if (!deepest) return DT_E_MEMORY;
    bigger[search->reach_count++] = (dt_reach){*rules, first, deepest};
    for (size_t top = first ? 0 : 1; top < (first ? 1 : s->count); ++top)
        deepest[top] = deepest_from(&search->choice, s, rules, top,
                                    top > 1 ? deepest[top - 1] : top, s->reach[top]);
    *out = deepest;
    return DT_OK;
}

dt_status dt_reach_of(dt_search *search, double hole_m, bool first, const size_t **out)
{
    const dt_well *well = search->choice.well;
    *out = search->sites.reach;
    if (!search->by_size) return DT_OK;
    dt_hole_rules rules;
    dt_hole_rules_for(well, hole_m, first && dt_hole_has_diverter(well, 0), search->tier,
                      search->latitude == DT_LADDER_PREFERRED, &rules);
    for (size_t i = 0; i < search->reach_count; ++i)
        if (search->reaches[i].first == first && same_rules(&search->reaches[i].rules, &rules)) {
            *out = search->reaches[i].deepest;
            return DT_OK;
        }
    return add_reach(search, &rules, first, out);
}

void dt_reaches_free(dt_search *search)
{
    for (size_t i = 0; i < search->reach_count; ++i)
        free(search->reaches[i].deepest);
    free(search->reaches);
    search->reaches = NULL;
    search->reach_count = 0;
}

size_t dt_sites_fewest(const dt_sites *s, const dt_well *well)
{
    /* the deepest site that so many strings lead to: a deeper shoe never leads less deep */
    size_t shoe = 0, strings = 1;
    while (s->reach[shoe] + 1 < s->count && strings < DT_MOST_STRINGS) {
        size_t next = s->reach[shoe];
        while (next > shoe && !s->shoe[next])
            --next;
        /* below the conductor other rules may lead deeper than from any shoe that they leave */
        if (next == shoe) break;
        shoe = next;
        ++strings;
    }
    strings += well->last_open ? 0 : 1;
    const size_t surface = s->least_surface_m > s->tvd_m[0] ? 1 : 0;
    const size_t least = 1 + surface + (well->last_open ? 0 : 1);
    return strings < least ? least : strings < 2 ? 2 : strings;
}

static void fill_pairs(const dt_pipe_choice *c, dt_sites *s)
{
    for (size_t top = 0; top + 1 < s->count; ++top) {
        for (size_t base = top + 1; base < s->count; ++base) {
            size_t pair = top * s->count + base;
            bool drilled = base <= s->reach[top];
            s->mud_kgm3[pair] =
                drilled ? dt_section_mud(c->window, top == 0 && dt_hole_riserless(c->well, 0),
                                         s->tvd_m[top], s->tvd_m[base], NULL, NULL)
                        : NAN;
            s->pressure_pa[pair] =
                drilled ? dt_pressure_while_drilling(c, s->tvd_m[top], s->tvd_m[base]) : NAN;
        }
        s->finished_pa[top] = dt_pressure_when_finished(c, s->tvd_m[top], s->tvd_m[s->count - 1]);
    }
}

static dt_status make_room(dt_sites *s)
{
    size_t n = s->count;
    s->md_m = calloc(n + 1, sizeof *s->md_m);
    s->shoe = calloc(n + 1, sizeof *s->shoe);
    s->reach = calloc(n + 1, sizeof *s->reach);
    s->mud_kgm3 = calloc(n * n + 1, sizeof *s->mud_kgm3);
    s->pressure_pa = calloc(n * n + 1, sizeof *s->pressure_pa);
    s->finished_pa = calloc(n + 1, sizeof *s->finished_pa);
    return s->md_m && s->shoe && s->reach && s->mud_kgm3 && s->pressure_pa && s->finished_pa
               ? DT_OK
               : DT_E_MEMORY;
}

static void mark_shoes(const dt_pipe_choice *c, dt_sites *s)
{
    dt_seats_surface_limits(c->well, s->tvd_m[0], &s->least_surface_m, &s->most_surface_m);
    const double floor = fmax(s->tvd_m[0], s->least_surface_m);
    for (size_t i = 0; i < s->count; ++i) {
        s->md_m[i] = dt_trajectory_md(c->trajectory, s->tvd_m[i]);
        s->shoe[i] = i > 0 && i + 1 < s->count && s->tvd_m[i] >= floor - SAME_DEPTH_M &&
                     dt_shoe_allowed(c->window, s->tvd_m[i], NULL);
    }
}

/** So far apart, candidates say little. */
static bool is_wide(double step_m, const dt_well *well)
{
    return step_m > well->objective_m / 20;
}

bool dt_sites_can_widen(const dt_sites *sites, const dt_well *well)
{
    return !is_wide(sites->step_m, well);
}

dt_status dt_sites_build(const dt_pipe_choice *choice, const dt_seats *seats, bool exact,
                         double least_step_m, dt_sites *out)
{
    dt_sites s = {0};
    const bool by_chain =
        dt_hole_rules_by_size(choice->well) && !dt_pipe_choice_by_pressure(choice);
    const size_t most = by_chain ? MOST_SECTIONS_BY_CHAIN : MOST_SECTIONS;
    double step = step_of(choice->well);
    dt_status status;
    while (step < least_step_m)
        step *= 2;
    for (;; step *= 2) {
        s = (dt_sites){0};
        status = collect(choice, seats, exact, step, &s);
        if (status == DT_OK) status = make_room(&s);
        if (status != DT_OK) break;
        find_reach(choice, &s);
        if (s.pair_count <= most || is_wide(step, choice->well)) break;
        dt_sites_free(&s);
    }
    if (status != DT_OK) {
        dt_sites_free(&s);
        return status;
    }
    s.step_widened = step > step_of(choice->well);
    mark_shoes(choice, &s);
    fill_pairs(choice, &s);
    *out = s;
    return DT_OK;
}

void dt_sites_free(dt_sites *sites)
{
    free(sites->tvd_m);
    free(sites->md_m);
    free(sites->shoe);
    free(sites->reach);
    free(sites->mud_kgm3);
    free(sites->pressure_pa);
    free(sites->finished_pa);
    *sites = (dt_sites){0};
}
