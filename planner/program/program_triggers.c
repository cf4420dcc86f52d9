/* SPDX-License-Identifier: MIT */
/* What the crew does when a hole does not bear what was foreseen: how far its shoe may move, and
 * which string is left to run (docs/seats.md). */
#include <math.h>

#include "program_parts.h"
#include "same.h"
#include "section.h"

double dt_program_drift(const dt_program *p, size_t string)
{
    const dt_string *one = p->items[string].string;
    double drift_m = INFINITY;
    for (size_t i = 0; i < one->section_count; ++i)
        drift_m = fmin(drift_m, dt_nest_drift(p->well, one->sections[i].pipe));
    return drift_m;
}

const char *dt_left_text(dt_left left)
{
    static const char *const texts[] = {"none", "spare", "early"};
    return texts[left];
}

dt_while_drilling dt_program_while_drilling(const dt_program *p, size_t string)
{
    if (string == 0 || string >= p->seats.count) return (dt_while_drilling){NAN, NAN, NAN};
    const dt_seat *seat = &p->seats.items[string];
    return dt_section_while_drilling(&p->window, &seat->rules, seat[-1].shoe_m, seat->shoe_m);
}

/** The shallowest shoe from which the next hole still comes to its base, on the rounding step where
 * there is one; NAN: the shoe is fixed, or as shallow as it can stand. */
static double highest_shoe(const dt_program *p, size_t string)
{
    const dt_seat *seat = &p->seats.items[string];
    const bool last = string + 1 == p->seats.count;
    if (dt_shoe_is_fixed(p, string)) return NAN;
    const dt_hole_rules *next = last ? &p->seats.open.rules : &seat[1].rules;
    const double base_m = last ? p->seats.open.base_m : seat[1].shoe_m;
    double least_m, most_m, above_m = seat[-1].shoe_m + 1;
    dt_seats_surface_limits(p->well, p->seats.items[0].shoe_m, &least_m, &most_m);
    above_m = fmax(above_m, string == 1 ? least_m : p->well->fresh_water_m);
    const double exact_m =
        dt_seats_out_of_avoided(&p->window, dt_seats_shallowest(&p->window, next, above_m, base_m));
    const double step_m = p->well->seats.round_to_m;
    double at_m = exact_m;
    if (isfinite(step_m) && step_m > 0) at_m = step_m * dt_count_up(exact_m / step_m);
    if (!dt_shoe_allowed(&p->window, at_m, NULL)) at_m = exact_m;
    return at_m < seat->shoe_m - 1 ? at_m : NAN;
}

/** Drift of a string, and of the tie-back on it. */
static double drift_through(const dt_program *p, size_t string)
{
    const size_t tie = dt_seats_tieback_on(&p->seats, string);
    const double drift_m = dt_program_drift(p, string);
    return tie == DT_NO_INDEX ? drift_m : fmin(drift_m, dt_program_drift(p, tie));
}

void dt_program_left(const dt_program *p, size_t string, dt_trigger *t)
{
    const dt_program_string *item = &p->items[string];
    const dt_role last = DT_PRODUCTION;
    t->spare = dt_nest_spare(p->well, p->catalogue, item->seat->role, drift_through(p, string - 1),
                             item->bit_m);
    t->left = DT_LEFT_SPARE;
    if (isfinite(t->spare.od_m)) return;
    t->spare = dt_nest_spare(p->well, p->catalogue, last, drift_through(p, p->count - 1), 0);
    t->left = isfinite(t->spare.od_m) ? DT_LEFT_EARLY : DT_LEFT_NONE;
    t->slim = t->spare.od_m < p->well->min_pipe_od_m - SAME_DIAMETER_M;
}

dt_trigger dt_program_trigger(const dt_program *p, size_t string)
{
    dt_trigger t = {.bounds = dt_program_while_drilling(p, string),
                    .highest_m = NAN,
                    .leak_off_kgm3 = NAN,
                    .run_at_m = NAN,
                    .spare = {NAN, NAN, NULL}};
    if (isnan(t.bounds.leak_off_kgm3)) return t;
    const dt_seat *seat = &p->seats.items[string];
    const double highest_m = highest_shoe(p, string);
    if (isfinite(highest_m)) {
        const dt_while_drilling there =
            dt_section_while_drilling(&p->window, &seat->rules, seat[-1].shoe_m, highest_m);
        t.highest_m = highest_m;
        t.leak_off_kgm3 = there.leak_off_kgm3;
    }
    t.run_at_m = isfinite(highest_m) ? highest_m : seat->shoe_m;
    dt_program_left(p, string, &t);
    return t;
}
