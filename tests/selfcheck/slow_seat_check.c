/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "slow.h"

/*
 * Seats: each section of the claimed chain is walked metre by metre, and every end of a range
 * is shown to be one: a little further breaks a rule. With the argument of docs/seats.md (a
 * rule only gets easier when a section is shortened) that proves range and number of strings.
 */

#define STEP_M 1.0
/** How much further a limit is tried: a tenth of a metre, a twentieth of the least rounding
 * step; a limit that is wrong by less would show nowhere. */
#define FURTHER_M 0.1
/** Where nothing is rounded, a shoe that jobs hold down is moved back up no nearer than this to
 * where they fail (the planner's: one and a half of its first steps). */
#define UNROUNDED_M 22.6
/** Two shoes stand at least so far apart (planner's rule, docs/seats.md has it from here). */
#define APART_M 1.0

/** Is a limit of jobs one of this hole and pipe? */
static bool is_limit_of(const claims *p, const dt_job_limit *l, size_t i)
{
    return l->string == i && fabs(l->hole_m - p->strings[i].hole_m) < 1e-5 &&
           fabs(l->od_m - p->strings[i].od_m) < 1e-5;
}

/** Does the hole of a string begin deep enough for its jobs, where it ends as deep as one did under
 * which they failed? That they did is held against the neighbour (check_neighbour()). */
static bool jobs_ok(const context *c, size_t i, double a, double b)
{
    const claims *p = c->claims;
    for (size_t k = 0; i < p->count && k < p->limit_count; ++k) {
        const dt_job_limit *l = &p->limits[k];
        if (is_limit_of(p, l, i) && b > l->base_m + 1e-6 && a < l->top_m - 1e-6) return false;
    }
    return true;
}

/** Is the hole of a string, or of an open last one, kept to every rule from a shoe to a depth? */
static bool section_ok(const context *c, size_t i, double a, double b)
{
    slow_hole hole = slow_hole_of(c, i);
    return a >= b || (jobs_ok(c, i, a, b) && slow_drilled_ok(c->well, &hole, a, b, STEP_M));
}

/** Limits of the surface shoe of the basis, by the depth of the well. */
static const dt_surface_custom *surface_row(const context *c)
{
    size_t count, i = 0;
    const dt_surface_custom *list = slow_said_rows(c->well, DT_TABLE_SURFACE_ROWS, &count);
    while (i + 1 < count && c->well->objective_m > list[i].objective_to_m + 1e-6)
        ++i;
    return list ? &list[i] : NULL;
}

/** No shoe below the conductor stands above this. */
static double floor_of(const context *c)
{
    const dt_surface_custom *row = surface_row(c);
    double at = fmax(c->claims->strings[0].seat.shoe_m, c->claims->tail_floor_m);
    if (row && !isnan(row->least_m)) at = fmax(at, slow_ground(c->well) + row->least_m);
    if (isnan(c->well->fresh_water_m)) return at;
    return fmax(at, c->well->fresh_water_m + c->well->fresh_water_cover_m);
}

/** Is it fresh water that sets that depth? */
static bool floor_by_water(const context *c)
{
    const dt_surface_custom *row = surface_row(c);
    double least = row && !isnan(row->least_m) ? slow_ground(c->well) + row->least_m : 0;
    double water = c->well->fresh_water_m + c->well->fresh_water_cover_m;
    least = fmax(least, c->claims->tail_floor_m);
    return water > fmax(c->claims->strings[0].seat.shoe_m, least);
}

/** The first shoe below the conductor stands no deeper than this. */
static double ceiling_of(const context *c)
{
    const dt_surface_custom *row = surface_row(c);
    return row && !isnan(row->most_m) ? slow_ground(c->well) + row->most_m : INFINITY;
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

/* ---- one seat -------------------------------------------------------------------------------- */

/** Mud and least fracture of the hole drilled for a string. */
static void check_mud(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    double a = c->claims->strings[i - 1].seat.shoe_m, b = s->seat.shoe_m;
    if (!(a < b)) return;
    slow_samples list = slow_sample(c->well, a, b, STEP_M);
    double mud = -INFINITY, fracture = INFINITY;
    bool sea = slow_to_sea(c->well, i);
    for (size_t k = 0; k < list.count; ++k) {
        mud = fmax(mud, sea ? slow_sea_need(c->well, list.z[k], list.side[k])
                            : slow_need(c->well, list.z[k], list.side[k], true));
        fracture = fmin(fracture, slow_emw(&c->well->fracture, list.z[k], list.side[k]));
    }
    /* both stand at breaks, which are among the samples: rounding of arithmetic only */
    agree(c->v, "mud", (int)i, "mud, kg/m3", s->seat.mud_kgm3, mud, sea ? 1e-4 : 1e-6);
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
    bool ok = slow_sticking_ok(c->well, NULL, &list, mud);
    free(list.z);
    free(list.side);
    return !ok;
}

static void check_type(const context *c, size_t i)
{
    const claims *p = c->claims;
    const dt_seat *seat = &p->strings[i].seat;
    const dt_pin *pin = seat->pin < c->well->pin_count ? &c->well->pins[seat->pin] : NULL;
    dt_role role = i == 0                                     ? DT_CONDUCTOR
                   : i + 1 == p->count && !c->well->last_open ? DT_PRODUCTION
                   : i == 1                                   ? DT_SURFACE
                                                              : DT_INTERMEDIATE;
    demand_true(c->v, "role", (int)i, seat->role == role, "role");
    bool liner = pin && pin->type == DT_LINER;
    bool said = pin && pin->type != DT_TYPE_UNSAID;
    /* run to the surface, since the string above could not hold what is met below it: which string
     * that was is not looked at, that none is without a ladder is */
    const bool wide = seat->role == DT_PRODUCTION &&
                      p->strings[i].od_m > c->well->seats.production_up_to_m + 1e-6;
    bool full = slow_together(c) && ((c->claims->full >> i & 1) || wide);
    if (!said && !full && c->well->seats.liners && i >= 3) {
        if (seat->role == DT_PRODUCTION)
            liner = c->well->seats.production == DT_LAST_LINER;
        else
            liner = sticks(c, p->strings[i - 2].seat.shoe_m, seat->shoe_m);
    }
    /* tried since the full string could not be run or cemented; no liner hangs in the conductor */
    if (!said && i >= 2 && (c->claims->liners >> i & 1)) {
        demand_true(c->v, "liner", (int)i, c->well->seats.liners, "a liner that may not be");
        liner = true;
    }
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

/** Each free string takes a depth of its own where a shoe may stand. */
static double least_depth(const context *c, gap g, size_t seat)
{
    double at = fmax(floor_of(c), c->claims->strings[g.first - 1].seat.shoe_m + APART_M);
    for (size_t i = g.first; i < seat; ++i)
        at = slow_leave_avoided(c->well, at, true) + APART_M;
    return at;
}

static void check_shallowest(const context *c, gap g)
{
    const claims *p = c->claims;
    double top = p->strings[g.first - 1].seat.shoe_m, below = p->strings[g.end].seat.shoe_m;
    for (size_t i = g.end; i-- > g.first;) {
        double s = p->strings[i].seat.shallowest_m;
        demand_true(c->v, "seat-range", (int)i, section_ok(c, i + 1, s, below),
                    "the section below the shallowest seat breaks a rule");
        demand_true(c->v, "seat-range", (int)i, slow_shoe_ok(c->well, s),
                    "the shallowest seat stands where no shoe may stand");
        double room = least_depth(c, g, i);
        double further = slow_leave_avoided(c->well, s - FURTHER_M, false);
        demand_true(c->v, "seat-range", (int)i,
                    further < room || !section_ok(c, i + 1, further, below),
                    "a shallower seat than the shallowest would do");
        below = s;
    }
    demand_true(c->v, "seat-range", (int)g.first, section_ok(c, g.first, top, below),
                "the section above the shallowest seat breaks a rule");
}

/** A section of the least length is left to each string below; the surface shoe has its own limit.
 */
static double deepest_cap(const context *c, gap g, size_t i)
{
    double cap = c->claims->strings[g.end].seat.shoe_m - APART_M * (double)(g.end - i);
    return g.first == 1 && i == 1 ? fmin(cap, ceiling_of(c)) : cap;
}

static void check_deepest(const context *c, gap g)
{
    const claims *p = c->claims;
    double above = p->strings[g.first - 1].seat.shoe_m;
    for (size_t i = g.first; i < g.end; ++i) {
        double d = p->strings[i].seat.deepest_m;
        demand_true(c->v, "seat-range", (int)i, section_ok(c, i, above, d),
                    "the section above the deepest seat breaks a rule");
        double cap = deepest_cap(c, g, i);
        double further = slow_leave_avoided(c->well, d + FURTHER_M, true);
        demand_true(c->v, "seat-range", (int)i, further > cap || !section_ok(c, i, above, further),
                    "a deeper seat than the deepest would do");
        above = d;
    }
}

/** Pins between the ends of a gap that name a string and no shoe, and the surface string that is
 * there with them, or over fresh water. */
static size_t strings_asked(const context *c, gap g)
{
    const dt_well *w = c->well;
    const dt_seat *top = &c->claims->strings[g.first - 1].seat, *base;
    base = &c->claims->strings[g.end].seat;
    size_t from = g.first > 1 ? top->pin + 1 : 0, asked = 0;
    size_t end = base->shoe_pinned ? base->pin : w->pin_count;
    bool surface = base->shoe_pinned && base->role == DT_SURFACE;
    for (size_t i = from; i < end; ++i) {
        const dt_pin *pin = &w->pins[i];
        if (pin->role == DT_CONDUCTOR || pin->role == DT_PRODUCTION || pin->type == DT_TIEBACK)
            continue;
        ++asked;
        surface = surface || pin->role == DT_SURFACE;
    }
    bool fresh = floor_by_water(c);
    return asked + (g.first == 1 && !surface && (asked > 0 || base->shoe_pinned || fresh) ? 1 : 0);
}

/** With one string fewer the chain of shallowest seats would not reach up. */
static void check_fewest(const context *c, gap g)
{
    const claims *p = c->claims;
    size_t asked = strings_asked(c, g), free_seats = g.end - g.first;
    if (free_seats == 0 || free_seats <= asked) return;
    double top = p->strings[g.first - 1].seat.shoe_m;
    double next = g.first + 1 < g.end ? p->strings[g.first + 1].seat.shallowest_m
                                      : p->strings[g.end].seat.shoe_m;
    bool shoe = g.first + 1 < g.end, shallow = !(g.first == 1 && shoe && next > ceiling_of(c));
    demand_true(c->v, "fewest", (int)g.first, !shallow || !section_ok(c, g.first, top, next),
                "one string fewer would do");
}

/* ---- more strings than the rock needs -------------------------------------------------------- */

/** Shallowest depth from which the hole of a string reaches a bottom; it passes from `good`. */
static double halve_up(const context *c, size_t i, double bad, double good, double bottom)
{
    if (section_ok(c, i, bad, bottom)) return bad;
    while (good - bad > 5e-7) {
        double middle = (good + bad) / 2;
        *(section_ok(c, i, middle, bottom) ? &good : &bad) = middle;
    }
    return good;
}

/** Deepest depth that the hole of a string reaches from a shoe. */
static double halve_down(const context *c, size_t i, double shoe, double cap)
{
    double good = shoe, bad = cap;
    if (section_ok(c, i, shoe, cap)) return cap;
    while (bad - good > 5e-7) {
        double middle = (good + bad) / 2;
        *(section_ok(c, i, shoe, middle) ? &good : &bad) = middle;
    }
    return good;
}

/** Would fewer strings do between two fixed shoes if no pin asked for one? Greedy from below. */
static bool fewer_would_do(const context *c, gap g)
{
    const claims *p = c->claims;
    double top = p->strings[g.first - 1].seat.shoe_m, bottom = p->strings[g.end].seat.shoe_m;
    bool water = g.first == 1 && !p->strings[g.end].seat.shoe_pinned && floor_by_water(c);
    size_t needed = water ? 1 : 0, count = 0;
    while (count < g.end - g.first) {
        bool shallow = g.first > 1 || count == 0 || bottom <= ceiling_of(c) + 1e-6;
        if (shallow && count >= needed && section_ok(c, g.first, top, bottom)) return true;
        double at = fmax(halve_up(c, g.first + 1, top, bottom - APART_M, bottom), floor_of(c));
        bottom = slow_leave_avoided(c->well, fmax(at, top + APART_M), true);
        ++count;
    }
    return false;
}

/** Are the seats of a gap spread over the well? Of sizes and seats settled together that is the
 * word of the claims, where pins ask for strings at all: it hangs on every ladder. */
static bool is_spread(const context *c, gap g)
{
    size_t asked = strings_asked(c, g);
    if (slow_together(c)) return c->claims->spread;
    return asked > 0 && fewer_would_do(c, g);
}

/** A part of the way from its shallowest to its deepest below the shoe above, from the top down. */
static void check_spread(const context *c, gap g, size_t i)
{
    const dt_seat *seat = &c->claims->strings[i].seat;
    double above = c->claims->strings[i - 1].seat.shoe_m, part = i == 1 ? 0.5 : 0.7;
    double low = fmax(seat->shallowest_m, above + APART_M);
    double high = halve_down(c, i, above, deepest_cap(c, g, i));
    high = slow_leave_avoided(c->well, high, false);
    double at = slow_leave_avoided(c->well, low + part * fmax(high - low, 0), true);
    if (at > high + 1e-6) at = seat->shallowest_m;
    agree(c->v, "spread", (int)i, "part of the way to its deepest, m", seat->exact_m, at,
          FURTHER_M);
    double step = slow_or(c->well->seats.round_to_m, 0);
    if (!(step > 0)) return;
    /* no step between the exact depth and the shoe would do */
    double next = step * floor(seat->exact_m / step + 1e-9);
    for (; next > seat->shoe_m + 1e-6 && on_step(c, seat->shoe_m); next -= step)
        demand_true(c->v, "spread", (int)i,
                    !section_ok(c, i, above, next) || !slow_shoe_ok(c->well, next),
                    "a step nearer to its part of the way would do");
}

static void check_preference(const context *c, gap g, size_t i)
{
    const claims *p = c->claims;
    const dt_seat *seat = &p->strings[i].seat;
    bool deepest = c->well->seats.prefer == DT_PREFER_DEEPEST;
    /* above a hole that bears less than it should a shoe goes as deep as it may (docs/seats.md) */
    if (seat->why.rule == DT_RULE_KICK_WANTED && seat->why.have < seat->why.need) return;
    double step = slow_or(c->well->seats.round_to_m, 0);
    bool stepped = step > 0 && on_step(c, seat->shoe_m);
    double shift = stepped ? step : FURTHER_M;
    double at = deepest ? seat->shoe_m + shift : seat->shoe_m - shift;
    if (!stepped) at = slow_leave_avoided(c->well, at, deepest);
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
    demand_true(c->v, "preferred", (int)i, !section_ok(c, deepest ? i : i + 1, top, base),
                deepest ? "a deeper rounded seat would do" : "a shallower rounded seat would do");
}

/** Do shoes stand where most of the wells drawn from the spreads hold? Then they are neither the
 * shallowest nor spread over the well; that they hold as stated is checked as of all. */
static bool are_surest(const context *c)
{
    for (size_t i = 1; i < c->claims->count; ++i)
        if (c->claims->strings[i].seat.spare > 0)
            demand_true(c->v, "surest", (int)i, c->well->seats.prefer == DT_PREFER_SUREST,
                        "nobody asked for pipe that bears more");
    for (size_t i = 1; i < c->claims->count; ++i) {
        if (c->claims->strings[i].seat.why.rule != DT_RULE_SUREST) continue;
        demand_true(c->v, "surest", (int)i, c->well->seats.prefer == DT_PREFER_SUREST,
                    "nobody asked for the surest seats");
        return true;
    }
    return false;
}

static void check_gap(const context *c, gap g)
{
    const claims *p = c->claims;
    if (g.first >= g.end) return;
    bool spread = is_spread(c, g);
    check_shallowest(c, g);
    check_deepest(c, g);
    /* of how many strings the ladder is that is preferred is not looked at */
    if (!slow_together(c)) check_fewest(c, g);
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
        if (are_surest(c)) continue;
        if (spread)
            check_spread(c, g, i);
        else
            check_preference(c, g, i);
    }
}

/* ---- shoes that jobs hold down ----------------------------------------------------------------
 */

bool slow_held(const dt_well *well, const rows *r, const claims *said, size_t limit, double *shoe_m)
{
    const context c = {.well = well, .rows = r, .claims = said};
    const dt_job_limit *l = &said->limits[limit];
    size_t i = l->string;
    if (i < 2 || i >= said->count || said->strings[i - 1].seat.shoe_pinned) return false;
    double a = said->strings[i - 1].seat.shoe_m, b = said->strings[i].seat.shoe_m;
    double step = slow_or(well->seats.round_to_m, 0), at = a - (step > 0 ? step : UNROUNDED_M);
    if (jobs_ok(&c, i, at, b) || !on_step(&c, a)) return false;
    /* the limit is one of those in the way, and nothing else is */
    bool this_one = is_limit_of(said, l, i) && b > l->base_m + 1e-6 && at < l->top_m - 1e-6 &&
                    a >= l->top_m - 1e-6;
    slow_hole hole = slow_hole_of(&c, i);
    *shoe_m = at;
    return this_one && at >= floor_of(&c) && at >= said->strings[i - 2].seat.shoe_m + APART_M &&
           slow_shoe_ok(well, at) && slow_drilled_ok(well, &hole, at, b, STEP_M);
}

/** What stops a program, but for what is said of all drafts. */
static size_t stopped_by(const claims *p)
{
    size_t count = 0;
    for (size_t i = 0; i < p->stopper_count; ++i)
        count += p->stoppers[i].code != DT_NOTICE_NO_DRAFT_CLOSES;
    return count;
}

void check_neighbour(const dt_job_limit *limit, const claims *said, const claims *neighbour,
                     verdict *v)
{
    dt_notice_code code =
        limit->stop == DT_STOP_CEMENT ? DT_NOTICE_CEMENT_BREAKS_FORMATION : DT_NOTICE_SURGE;
    bool stopped = neighbour->outcome != OUTCOME_PROGRAM;
    if (limit->stop == DT_STOP_OTHER) {
        demand_true(v, "job-limit", (int)limit->string,
                    stopped || stopped_by(neighbour) > stopped_by(said),
                    "a step higher nothing more stops it, as is said");
        return;
    }
    for (size_t i = 0; i < neighbour->stopper_count; ++i)
        stopped = stopped || (neighbour->stoppers[i].code == code &&
                              neighbour->stoppers[i].string == limit->string);
    demand_true(v, "job-limit", (int)limit->string, stopped,
                "a step higher the job that is said to fail does not");
}

/** A rule that a pinned shoe breaks on its own: water above it, or no shoe there. */
static bool breaks_alone(const context *c, size_t i)
{
    double shoe = c->claims->strings[i].seat.shoe_m;
    return shoe < floor_of(c) - 1e-6 || (i == 1 && shoe > ceiling_of(c) + 1e-6) ||
           !slow_shoe_ok(c->well, shoe);
}

/** Does a hole break a rule that stops a program, and not one that is for review alone: the influx
 * that should be borne, the longest open hole? */
static bool stops_hole(const context *c, size_t i, double a, double b)
{
    slow_hole hole = slow_hole_of(c, i);
    hole.wanted_m3 = NAN;
    hole.most_length_m = INFINITY;
    return a < b && !(jobs_ok(c, i, a, b) && slow_drilled_ok(c->well, &hole, a, b, STEP_M));
}

/** Is it inside an interval that says so, and not only in rock where it had better not stand? */
static bool in_avoided(const context *c, double z)
{
    for (size_t i = 0; i < c->well->interval_count; ++i) {
        const dt_interval *v = &c->well->intervals[i];
        if (v->action == DT_AVOID_SHOE && z > v->top_m + 1e-6 && z < v->base_m - 1e-6) return true;
    }
    return false;
}

/** Pinned shoes are kept whatever they break; where it is what stops a program, that is said. Where
 * free shoes stand between two pinned ones it may be said of another hole. */
static void check_pin_stops(const context *c)
{
    const claims *p = c->claims;
    size_t fixed = 0;
    for (size_t i = 1; i < p->count; ++i) {
        const dt_seat *seat = &p->strings[i].seat;
        bool broken = stops_hole(c, i, p->strings[i - 1].seat.shoe_m, seat->shoe_m);
        bool water = floor_by_water(c) && seat->shoe_m < floor_of(c) - 1e-6;
        if (seat->shoe_pinned) broken = broken || water || in_avoided(c, seat->shoe_m);
        stop_told(c, DT_NOTICE_PIN_STOPS, i, fixed + 1 < i ? 0 : broken ? -1 : 1, 0.5);
        if (seat->shoe_pinned || i + 1 == p->count) fixed = i;
    }
    if (p->open.given && stops_hole(c, p->count, p->open.top_m, p->open.base_m))
        stop_told(c, DT_NOTICE_PIN_STOPS, p->count - 1, -1, 0.5);
    stop_none(c, DT_NOTICE_PIN_STOPS);
}

void check_seats(const context *c)
{
    const claims *p = c->claims;
    check_conductor(c);
    check_pin_stops(c);
    size_t fixed = 0;
    for (size_t i = 1; i < p->count; ++i) {
        double above = p->strings[i - 1].seat.shoe_m, shoe = p->strings[i].seat.shoe_m;
        bool ok = section_ok(c, i, above, shoe);
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
    if (good <= top) return section_ok(c, 2, top, bottom) ? top : INFINITY;
    if (!section_ok(c, 2, good, bottom)) return INFINITY;
    if (section_ok(c, 2, top, bottom)) return top;
    while (good - bad > 1) {
        double middle = floor((good + bad) / 2);
        if (middle <= bad || middle >= good) break;
        if (section_ok(c, 2, middle, bottom))
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
        bool shallow = n == 0 || bottom <= ceiling_of(c) + 1e-6;
        if (shallow && (n > 0 || !water) && section_ok(c, 1, conductor, bottom)) return true;
        double at = fmax(reach_up(c, bottom, conductor), floor_m + 1e-9);
        at = slow_leave_avoided(c->well, fmax(at, conductor + APART_M), true);
        if (!(at < bottom - 1.5)) return false;
        bottom = at;
    }
    return false;
}

void check_no_seats(const context *c)
{
    double conductor = c->well->conductor.depth_m;
    if (c->well->pin_count > 0 || isnan(conductor) || slow_by_size(c->well)) return;
    demand_true(c->v, "no-seats", -1, !seats_exist(c, conductor),
                "seats exist, and the planner says there are none");
}
