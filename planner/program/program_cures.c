/* SPDX-License-Identifier: MIT */
/* What would cure a well without seats: each change is tried, none is guessed. */
#include <math.h>

#include "basis.h"
#include "hole_rules.h"
#include "program_parts.h"
#include "same.h"

/** Would seats be found, looked at alone, with holes and pipe that nest where these are settled
 * together? */
static dt_status has_seats(const dt_program *p, dt_learned *learned, const dt_well *well, bool *yes)
{
    dt_window window;
    dt_status status = dt_window_build(well, &window);
    if (status != DT_OK) return status;
    const bool by_size = dt_hole_rules_by_size(well);
    if (!by_size || !well->last_open) { /* without it there is no ladder either, and it is quick */
        dt_seats seats;
        status = dt_seats_choose(&window, &seats);
        dt_seats_free(&seats);
    }
    if (status == DT_OK && by_size) {
        const dt_ladder_cuts none = {.nests = &learned->nests};
        dt_ladder ladder;
        status = dt_ladder_choose(&window, p->catalogue, &none, &ladder);
        if (status == DT_OK && !dt_ladder_is_usual(well, ladder.latitude)) status = DT_E_NONE;
    }
    dt_window_free(&window);
    *yes = status == DT_OK;
    return status == DT_E_NONE ? DT_OK : status;
}

/* ---- the conductor ---- */

/** How deep a conductor may be asked to stand, below the ground: no deeper one is driven or drilled
 * without a shoe test and a string of its own (common practice, no source). */
#define MOST_CONDUCTOR_M  600.0
#define CONDUCTOR_CLOSE_M 3.0 /* halving ends here */
#define DEEPER            1.25

/** The next one to try below a depth, on a step where there is one; NAN: none is set so deep. */
static double deeper_than(const dt_well *well, double at_m, double step_m)
{
    const double ground_m = dt_well_ground_m(well);
    double next_m = ground_m + fmax(at_m - ground_m, DT_CONDUCTOR_LEAST_M) * DEEPER;
    if (step_m > 0) next_m = step_m * ceil(next_m / step_m);
    const bool too_deep = next_m > ground_m + MOST_CONDUCTOR_M || next_m >= well->objective_m;
    return too_deep ? NAN : next_m;
}

static dt_status seats_on(const dt_program *p, dt_learned *learned, double conductor_m, bool bop,
                          bool *yes)
{
    dt_well changed = *p->well; /* borrows everything */
    changed.conductor.depth_m = conductor_m;
    changed.conductor.bop = bop;
    return has_seats(p, learned, &changed, yes);
}

/** A depth that does, put on the step of the seats: the shallowest on it below one that does not;
 * NAN where none of the two nearest does. */
static dt_status on_step(const dt_program *p, dt_learned *learned, bool bop, double bad_m,
                         double *depth_m)
{
    const double step_m = p->well->seats.round_to_m;
    if (!isfinite(step_m) || step_m <= 0) return DT_OK;
    const double first_m = step_m * ceil(bad_m / step_m + SAME_DEPTH_M / step_m);
    for (int i = 0; i < 2; ++i) {
        bool yes = false;
        *depth_m = first_m + step_m * i;
        const dt_status status = seats_on(p, learned, *depth_m, bop, &yes);
        if (status != DT_OK || yes) return status;
    }
    *depth_m = NAN;
    return DT_OK;
}

/** A deeper conductor on which there are seats, on their step, by halving: tried itself, but a
 * shallower one may do, too. NAN: none was found. */
static dt_status shallowest_conductor(const dt_program *p, dt_learned *learned, bool bop,
                                      double *out_m)
{
    const dt_well *well = p->well;
    const double now_m = dt_seats_conductor_m(well);
    double bad_m = now_m, good_m = now_m;
    bool yes = false;
    *out_m = NAN;
    dt_status status = bop == well->conductor.bop ? DT_OK : seats_on(p, learned, now_m, bop, &yes);
    while (status == DT_OK && !yes) {
        bad_m = good_m;
        good_m = deeper_than(well, good_m, NAN);
        if (isnan(good_m)) return DT_OK;
        status = seats_on(p, learned, good_m, bop, &yes);
    }
    while (status == DT_OK && good_m - bad_m > CONDUCTOR_CLOSE_M) {
        const double middle_m = (bad_m + good_m) / 2;
        status = seats_on(p, learned, middle_m, bop, &yes);
        *(yes ? &good_m : &bad_m) = middle_m;
    }
    if (status == DT_OK && good_m > now_m) status = on_step(p, learned, bop, bad_m, &good_m);
    if (status == DT_OK) *out_m = good_m;
    return status;
}

/** From a depth on down, the first on which a whole program closes; NAN: none was found. */
static dt_status closing_conductor(const dt_well *well, const dt_catalogue *catalogue,
                                   dt_learned *lends, bool bop, double step_m, double *depth_m)
{
    dt_status status = DT_OK;
    for (bool yes = false; status == DT_OK && isfinite(*depth_m);) {
        dt_well changed = *well; /* borrows everything */
        changed.conductor.depth_m = *depth_m;
        changed.conductor.bop = bop;
        status = dt_program_closes(&changed, catalogue, lends, &yes);
        if (yes) break;
        *depth_m = deeper_than(well, *depth_m, step_m);
    }
    return status;
}

dt_status dt_program_deeper_conductor(const dt_well *well, const dt_catalogue *catalogue,
                                      dt_learned *lends, double step_m, double *depth_m)
{
    *depth_m = deeper_than(well, dt_seats_conductor_m(well), step_m);
    return closing_conductor(well, catalogue, lends, well->conductor.bop, step_m, depth_m);
}

static bool conductor_is_pinned(const dt_well *well)
{
    for (size_t i = 0; i < well->pin_count; ++i)
        if (well->pins[i].role == DT_CONDUCTOR && isfinite(well->pins[i].shoe_m)) return true;
    return false;
}

static dt_status try_conductor(const dt_program *p, dt_learned *learned, bool bop, dt_notices *list)
{
    double depth_m;
    const double now_m = dt_seats_conductor_m(p->well);
    dt_status status = shallowest_conductor(p, learned, bop, &depth_m);
    if (status == DT_OK)
        status = closing_conductor(p->well, p->catalogue, learned, bop, p->well->seats.round_to_m,
                                   &depth_m);
    if (status != DT_OK || isnan(depth_m)) return status;
    dt_notice *n = dt_notice_below(list, &list->items[0], DT_NOTICE_CURE_CONDUCTOR);
    dt_notice_mark(n, "tested", bop && !p->well->conductor.bop);
    dt_notice_figure(n, depth_m > now_m ? "deeper" : "there", DT_KIND_LENGTH, depth_m);
    if (n) n->line = p->well->conductor.line;
    return DT_OK;
}

/* ---- how large a swabbed kick is asked for ---- */

enum { MOST_ROWS = 32, HALVINGS = 7 };

/** Are there seats with a part of what is asked for? whole: does a whole program close? */
static dt_status does_with_part(const dt_program *p, dt_learned *learned, double part, bool whole,
                                bool *yes)
{
    dt_well changed = *p->well; /* borrows everything */
    dt_kick_row rows[MOST_ROWS];
    size_t count = changed.kick.row_count;
    const dt_kick_row *stated = changed.kick.rows;
    if (count == 0) stated = dt_custom_rows(p->well, DT_TABLE_KICK_ROWS, &count);
    *yes = false;
    if (count == 0 || count > MOST_ROWS) return DT_OK;
    for (size_t i = 0; i < count; ++i) {
        rows[i] = stated[i];
        rows[i].least_m3 *= part; /* NAN stays */
    }
    changed.kick.rows = rows;
    changed.kick.row_count = count;
    return whole ? dt_program_closes(&changed, p->catalogue, learned, yes)
                 : has_seats(p, learned, &changed, yes);
}

/** Which part of the least kick tolerance asked for would do? */
static dt_status try_kick(const dt_program *p, dt_learned *learned, dt_notices *list)
{
    double good = 0, bad = 1;
    bool yes;
    dt_status status = does_with_part(p, learned, 0, false, &yes);
    if (status != DT_OK || !yes) return status;
    for (int i = 0; i < HALVINGS && status == DT_OK; ++i) {
        const double middle = (good + bad) / 2;
        status = does_with_part(p, learned, middle, false, &yes);
        *(yes ? &good : &bad) = middle;
    }
    const double percent = floor(good * 100);
    if (status == DT_OK) status = does_with_part(p, learned, percent / 100, true, &yes);
    if (status != DT_OK || !yes) return status;
    dt_notice *n = dt_notice_below(list, &list->items[0], DT_NOTICE_CURE_KICK);
    dt_notice_number(n, "part", percent);
    return DT_OK;
}

dt_status dt_program_note_cures(const dt_program *p, dt_learned *learned, dt_notices *list)
{
    if (list->count == 0) return DT_OK;
    dt_status status = DT_OK;
    if (!conductor_is_pinned(p->well) && isfinite(dt_seats_conductor_m(p->well))) {
        status = try_conductor(p, learned, true, list);
        if (status == DT_OK && !p->well->conductor.bop)
            status = try_conductor(p, learned, false, list);
    }
    if (status == DT_OK && dt_hole_rules_by_size(p->well)) status = try_kick(p, learned, list);
    return status;
}
