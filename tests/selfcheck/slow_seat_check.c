/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "slow.h"
#include "slow_seats.h"

/*
 * Seats: each section of the claimed chain is walked metre by metre, and every end of a range
 * is shown to be one: a little further breaks a rule. With the argument of docs/seats.md (a
 * rule only gets easier when a section is shortened) that proves range and number of strings.
 */

#define STEP_M 1.0
/** How much further a limit is tried: a tenth of a metre, a twentieth of the least rounding
 * step; a limit that is wrong by less would show nowhere. */
#define FURTHER_M 0.1
/** Two shoes stand at least so far apart (planner's rule, docs/seats.md has it from here). */
#define APART_M 1.0

static bool section_ok(const context *c, double a, double b)
{
    return a >= b || slow_section_ok(c->well, a, b, STEP_M);
}

static double floor_of(const context *c)
{
    double conductor = c->claims->strings[0].seat.shoe_m;
    if (isnan(c->well->fresh_water_m)) return conductor;
    return fmax(conductor, c->well->fresh_water_m + c->well->fresh_water_cover_m);
}

static bool listed_broken(const context *c, size_t seat)
{
    for (size_t i = 0; i < c->claims->broken_count; ++i)
        if (c->claims->broken[i].seat == seat) return true;
    return false;
}

static bool on_step(const context *c, double depth)
{
    double step = c->well->seats.round_to_m;
    return isnan(step) || step <= 0 || fabs(remainder(depth, step)) < 1e-5;
}

/** Deeper (or shallower) out of the intervals in which no shoe may stand. */
static double leave_avoided(const dt_well *w, double z, bool deeper)
{
    for (size_t k = 0; k <= w->interval_count; ++k)
        for (size_t i = 0; i < w->interval_count; ++i) {
            const dt_interval *v = &w->intervals[i];
            if (v->action == DT_AVOID_SHOE && z > v->top_m + 1e-6 && z < v->base_m - 1e-6)
                z = deeper ? v->base_m : v->top_m;
        }
    return z;
}

/* ---- one seat -------------------------------------------------------------------------------- */

/** Mud and least fracture of the hole drilled for a string. */
static void check_mud(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    double a = c->claims->strings[i - 1].seat.shoe_m, b = s->seat.shoe_m;
    if (!(a < b)) return;
    slow_samples list = slow_sample(c->well, a, b, STEP_M);
    double mud = -INFINITY, fracture = INFINITY;
    for (size_t k = 0; k < list.count; ++k) {
        mud = fmax(mud, slow_need(c->well, list.z[k], list.side[k], true));
        fracture = fmin(fracture, slow_emw(&c->well->fracture, list.z[k], list.side[k]));
    }
    /* both stand at breaks, which are among the samples: rounding of arithmetic only */
    agree(c->v, "mud", (int)i, "mud, kg/m3", s->seat.mud_kgm3, mud, 1e-6);
    agree(c->v, "min-fracture", (int)i, "least fracture, kg/m3", s->seat.min_fracture_kgm3,
          fracture, 1e-6);
    free(list.z);
    free(list.side);
}

static bool sticks(const context *c, double a, double b)
{
    if (!c->well->sticking.given || !(a < b)) return false;
    slow_samples list = slow_sample(c->well, a, b, STEP_M);
    double mud = -INFINITY;
    bool planned = c->well->sticking.mud == DT_STICKING_PLANNED_MUD;
    for (size_t k = 0; k < list.count; ++k)
        mud = fmax(mud, slow_need(c->well, list.z[k], list.side[k], planned));
    bool ok = slow_sticking_ok(c->well, &list, mud);
    free(list.z);
    free(list.side);
    return !ok;
}

static void check_type(const context *c, size_t i)
{
    const claims *p = c->claims;
    const dt_seat *seat = &p->strings[i].seat;
    const dt_pin *pin = seat->pin < c->well->pin_count ? &c->well->pins[seat->pin] : NULL;
    dt_role role = i == 0              ? DT_CONDUCTOR
                   : i + 1 == p->count ? DT_PRODUCTION
                   : i == 1            ? DT_SURFACE
                                       : DT_INTERMEDIATE;
    demand_true(c->v, "role", (int)i, seat->role == role, "role");
    bool liner = pin && pin->type == DT_LINER;
    if (!(pin && pin->type != DT_TYPE_UNSAID) && c->well->seats.liners && i >= 3 &&
        i + 1 < p->count)
        liner = sticks(c, p->strings[i - 2].seat.shoe_m, seat->shoe_m);
    demand_true(c->v, "liner", (int)i, (seat->type == DT_LINER) == liner,
                liner ? "should be a liner" : "should be a full string");
}

static void check_conductor(const context *c)
{
    const dt_well *w = c->well;
    const dt_conductor *k = &w->conductor;
    const dt_seat *seat = &c->claims->strings[0].seat;
    for (size_t i = 0; i < w->pin_count; ++i)
        if (w->pins[i].role == DT_CONDUCTOR && !isnan(w->pins[i].shoe_m)) {
            agree(c->v, "conductor", 0, "pinned shoe", seat->shoe_m, w->pins[i].shoe_m, 1e-6);
            return;
        }
    if (!isnan(k->depth_m)) {
        agree(c->v, "conductor", 0, "shoe", seat->shoe_m, k->depth_m, 1e-6);
        return;
    }
    double x = slow_or(k->flowline_m, w->rig_floor_m), y = w->over_sea ? w->water_depth_m : 0;
    double sea = w->over_sea ? slow_or(k->sea_gradient_kgm3, 1025) : 0;
    double depth = slow_ground(w) + fmax(0, ((x + y) * k->returns_gradient_kgm3 - y * sea) /
                                                (k->soil_gradient_kgm3 - k->returns_gradient_kgm3));
    double step = slow_or(w->seats.round_to_m, 0);
    if (step > 0) depth = step * ceil(depth / step - 1e-9);
    agree(c->v, "conductor", 0, "computed shoe", seat->shoe_m, depth, 1e-6);
}

/* ---- one gap between fixed shoes ------------------------------------------------------------- */

/** Seats first .. end - 1 are free, first - 1 and end are fixed. */
typedef struct gap {
    size_t first, end;
} gap;

static void check_shallowest(const context *c, gap g)
{
    const claims *p = c->claims;
    double top = p->strings[g.first - 1].seat.shoe_m, floor = floor_of(c);
    double below = p->strings[g.end].seat.shoe_m;
    for (size_t i = g.end; i-- > g.first;) {
        double s = p->strings[i].seat.shallowest_m;
        demand_true(c->v, "seat-range", (int)i, section_ok(c, s, below),
                    "the section below the shallowest seat breaks a rule");
        demand_true(c->v, "seat-range", (int)i, slow_shoe_ok(c->well, s),
                    "the shallowest seat stands where no shoe may stand");
        double room = fmax(floor, top + APART_M) + APART_M * (double)(i - g.first);
        double further = leave_avoided(c->well, s - FURTHER_M, false);
        demand_true(c->v, "seat-range", (int)i, further < room || !section_ok(c, further, below),
                    "a shallower seat than the shallowest would do");
        below = s;
    }
    demand_true(c->v, "seat-range", (int)g.first, section_ok(c, top, below),
                "the section above the shallowest seat breaks a rule");
}

static void check_deepest(const context *c, gap g)
{
    const claims *p = c->claims;
    double above = p->strings[g.first - 1].seat.shoe_m, base = p->strings[g.end].seat.shoe_m;
    for (size_t i = g.first; i < g.end; ++i) {
        double d = p->strings[i].seat.deepest_m;
        demand_true(c->v, "seat-range", (int)i, section_ok(c, above, d),
                    "the section above the deepest seat breaks a rule");
        double cap = base - APART_M * (double)(g.end - i);
        double further = leave_avoided(c->well, d + FURTHER_M, true);
        demand_true(c->v, "seat-range", (int)i, further > cap || !section_ok(c, above, further),
                    "a deeper seat than the deepest would do");
        above = d;
    }
}

/** With one string fewer the chain of shallowest seats would not reach up. */
static void check_fewest(const context *c, gap g)
{
    const claims *p = c->claims;
    size_t asked = 0, free_seats = g.end - g.first;
    for (size_t i = 0; i < c->well->pin_count; ++i)
        if (c->well->pins[i].role != DT_CONDUCTOR && c->well->pins[i].role != DT_PRODUCTION &&
            c->well->pins[i].type != DT_TIEBACK)
            ++asked;
    if (asked > 0 || floor_of(c) > p->strings[0].seat.shoe_m) ++asked; /* a surface string */
    if (free_seats == 0 || free_seats <= asked) return;
    double top = p->strings[g.first - 1].seat.shoe_m;
    double next = g.first + 1 < g.end ? p->strings[g.first + 1].seat.shallowest_m
                                      : p->strings[g.end].seat.shoe_m;
    demand_true(c->v, "fewest", (int)g.first, !section_ok(c, top, next),
                "one string fewer would do");
}

static void check_preference(const context *c, gap g, size_t i)
{
    const claims *p = c->claims;
    const dt_seat *seat = &p->strings[i].seat;
    bool deepest = c->well->seats.prefer == DT_PREFER_DEEPEST;
    double step = slow_or(c->well->seats.round_to_m, 0);
    bool stepped = step > 0 && on_step(c, seat->shoe_m);
    double shift = stepped ? step : FURTHER_M;
    double at = deepest ? seat->shoe_m + shift : seat->shoe_m - shift;
    if (!stepped) at = leave_avoided(c->well, at, deepest);
    /* outside its range, or too near the fixed shoe, is no choice */
    if (at < seat->shallowest_m - 1e-6 || at > seat->deepest_m + 1e-6) return;
    if (at < p->strings[g.first - 1].seat.shoe_m + APART_M ||
        at > p->strings[g.end].seat.shoe_m - APART_M || !slow_shoe_ok(c->well, at))
        return;
    /* the seat placed after it must find its place: a section's least length from this one */
    if (deepest && i + 1 < g.end && p->strings[i + 1].seat.shallowest_m < at + APART_M) return;
    if (!deepest && i > g.first && p->strings[i - 1].seat.deepest_m > at - APART_M) return;
    double top = deepest ? p->strings[i - 1].seat.shoe_m : at;
    double base = deepest ? at : p->strings[i + 1].seat.shoe_m;
    demand_true(c->v, "preferred", (int)i, !section_ok(c, top, base),
                deepest ? "a deeper rounded seat would do" : "a shallower rounded seat would do");
}

static void check_gap(const context *c, gap g)
{
    const claims *p = c->claims;
    if (g.first >= g.end) return;
    check_shallowest(c, g);
    check_deepest(c, g);
    check_fewest(c, g);
    for (size_t i = g.first; i < g.end; ++i) {
        const dt_seat *seat = &p->strings[i].seat;
        demand_true(c->v, "seat", (int)i,
                    seat->shoe_m >= seat->shallowest_m - 1e-6 &&
                        seat->shoe_m <= seat->deepest_m + 1e-6,
                    "the seat stands outside its range");
        demand_true(c->v, "seat", (int)i, slow_shoe_ok(c->well, seat->shoe_m),
                    "the seat stands where no shoe may stand");
        demand_true(c->v, "seat", (int)i,
                    on_step(c, seat->shoe_m) || fabs(seat->shoe_m - seat->exact_m) < 1e-6,
                    "the seat is neither rounded nor exact");
        check_preference(c, g, i);
    }
}

/** A rule that a pinned shoe breaks on its own: water above it, or no shoe there. */
static bool breaks_alone(const context *c, size_t i)
{
    double shoe = c->claims->strings[i].seat.shoe_m;
    return shoe < floor_of(c) - 1e-6 || !slow_shoe_ok(c->well, shoe);
}

void check_seats(const context *c)
{
    const claims *p = c->claims;
    check_conductor(c);
    size_t fixed = 0;
    for (size_t i = 1; i < p->count; ++i) {
        double above = p->strings[i - 1].seat.shoe_m, shoe = p->strings[i].seat.shoe_m;
        bool ok = section_ok(c, above, shoe);
        demand_true(c->v, "section", (int)i, ok || listed_broken(c, i),
                    "the hole breaks a rule and the program does not say so");
        demand_true(c->v, "broken-pin", (int)i,
                    !listed_broken(c, i) || !ok || breaks_alone(c, i) || fixed + 1 < i,
                    "a rule is said to be broken that is kept");
        demand_true(c->v, "section", (int)i, shoe > above - 1e-9 || p->strings[i].seat.shoe_pinned,
                    "shoes out of order");
        check_mud(c, i);
        if (!p->strings[i].seat.shoe_pinned && i + 1 < p->count) continue;
        check_gap(c, (gap){fixed + 1, i});
        fixed = i;
    }
    double objective = c->well->objective_m;
    for (size_t i = 0; i < c->well->pin_count; ++i) {
        const dt_pin *pin = &c->well->pins[i];
        if (pin->role == DT_PRODUCTION && !isnan(pin->shoe_m)) objective = pin->shoe_m;
        bool placed = isnan(pin->shoe_m) || pin->role == DT_PRODUCTION;
        for (size_t k = 0; k < p->count; ++k)
            placed = placed || fabs(p->strings[k].seat.shoe_m - pin->shoe_m) < 1e-6;
        demand_true(c->v, "pinned-shoe", -1, placed, "a pinned shoe has no string");
    }
    agree(c->v, "objective", (int)p->count - 1, "last shoe, m",
          p->strings[p->count - 1].seat.shoe_m, objective, 1e-6);
    for (size_t i = 0; i < p->count; ++i)
        check_type(c, i);
}

/* ---- no seats at all ------------------------------------------------------------------------- */

/** Shallowest whole metre from which a hole to a bottom passes; INFINITY when not even the next. */
static double reach_up(const context *c, double bottom, double top)
{
    double bad = top - 1, good = bottom - APART_M;
    if (good <= top) return section_ok(c, top, bottom) ? top : INFINITY;
    if (!section_ok(c, good, bottom)) return INFINITY;
    if (section_ok(c, top, bottom)) return top;
    while (good - bad > 1) {
        double middle = floor((good + bad) / 2);
        if (middle <= bad || middle >= good) break;
        if (section_ok(c, middle, bottom))
            good = middle;
        else
            bad = middle;
    }
    return good;
}

/**
 * Greedy from the bottom, by halving on whole metres: true when the conductor is reached. Pinned
 * shoes are left out (a refusal between pins is not looked at).
 */
static bool seats_exist(const context *c, double conductor)
{
    double floor_m = conductor;
    bool water = false;
    if (!isnan(c->well->fresh_water_m) &&
        c->well->fresh_water_m + c->well->fresh_water_cover_m > conductor) {
        floor_m = c->well->fresh_water_m + c->well->fresh_water_cover_m;
        water = true;
    }
    double bottom = c->well->objective_m;
    for (int n = 0; n < 16; ++n) {
        if ((n > 0 || !water) && section_ok(c, conductor, bottom)) return true;
        double at = fmax(reach_up(c, bottom, conductor), floor_m + 1e-9);
        at = leave_avoided(c->well, fmax(at, conductor + APART_M), true);
        if (!(at < bottom - 1.5)) return false;
        bottom = at;
    }
    return false;
}

void check_no_seats(const context *c)
{
    double conductor = c->well->conductor.depth_m;
    if (c->well->pin_count > 0 || isnan(conductor)) return;
    demand_true(c->v, "no-seats", -1, !seats_exist(c, conductor),
                "seats exist, and the planner says there are none");
}
