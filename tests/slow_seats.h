/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_SLOW_SEATS_H
#define DRAWTUBE_TESTS_SLOW_SEATS_H

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "units.h"
#include "well.h"

/*
 * The seat rules once more, the slow way and from the definitions alone: every exposed depth
 * is looked at, foot by foot, plus both sides of every input point. Shares no code with
 * planner/seats/window.c, section.c or seats.c.
 */

#define SLOW_SLACK 2e-6

/**
 * A value of the basis that the well names, which is data as the well is; of the built-in one the
 * checks have their own copy, beside each use.
 */
static inline double slow_said(const dt_well *w, dt_custom which, double built_in)
{
    return w->basis ? w->basis->values[which].si : built_in;
}

/** Rows of a table of the basis that the well names; none for the built-in one's. */
static inline const void *slow_said_rows(const dt_well *w, dt_custom_table which, size_t *count)
{
    *count = w->basis ? w->basis->tables[which].count : 0;
    return w->basis ? w->basis->tables[which].rows : NULL;
}

/** What one hole is held to beside the window, by docs/seats.md, "Rules by hole". */
typedef struct slow_hole {
    bool diverter, sea;                   /* sea: returns go to the sea floor */
    double most_length_m, most_pore_kgm3; /* INFINITY: no limit */
    double ecd_kgm3;
    double least_m3, wanted_m3; /* influx swabbed, and with the intensity; NAN: not asked for */
    double hole_m, pipe_m, collar_m, collar_length_m;
} slow_hole;

#define SLOW_FREE_HOLE                                                                             \
    ((slow_hole){                                                                                  \
        .most_length_m = INFINITY, .most_pore_kgm3 = INFINITY, .least_m3 = NAN, .wanted_m3 = NAN})

/** EMW by walking the table; side -1 looks from above, +1 from below. */
static inline double slow_emw(const dt_curve *c, double z, int side)
{
    double value = c->points[0].emw_kgm3;
    for (size_t i = 0; i < c->count; ++i) {
        double zi = c->points[i].tvd_m;
        if (side < 0 ? zi < z : zi <= z) {
            value = c->points[i].emw_kgm3;
            continue;
        }
        if (i == 0) return c->points[0].emw_kgm3;
        double za = c->points[i - 1].tvd_m, va = c->points[i - 1].emw_kgm3,
               vi = c->points[i].emw_kgm3;
        double w = (z - za) / (zi - za);
        if (c->between == DT_BETWEEN_GRADIENT) return (1 - w) * va + w * vi;
        return ((1 - w) * va * za + w * vi * zi) / z;
    }
    return value;
}

static inline double slow_margin(dt_margin m, double z)
{
    return m.emw_kgm3 + (m.pressure_pa > 0 ? m.pressure_pa / 9.80665 / z : 0);
}

static inline double slow_need(const dt_well *w, double z, int side, bool with_trip)
{
    double need = slow_emw(&w->pore, z, side) + (with_trip ? slow_margin(w->margins.trip, z) : 0);
    if (w->collapse.count && with_trip) need = fmax(need, slow_emw(&w->collapse, z, side));
    return need;
}

/* ---- under the sea: returns to the sea floor, sea water on the mud ---- */

static inline double slow_sea_weight(const dt_well *w)
{
    double sea = w->conductor.sea_gradient_kgm3;
    return isnan(sea) ? slow_said(w, DT_CUSTOM_SEA_GRADIENT, 1025) : sea;
}

/** EMW at a depth of sea water down to the sea floor with a mud below it. */
static inline double slow_sea_emw(const dt_well *w, double mud, double z)
{
    double floor = w->rig_floor_m + w->water_depth_m;
    return (slow_sea_weight(w) * w->water_depth_m + mud * (z - floor)) / z;
}

/** Mud below the sea floor that a depth asks for: docs/seats.md, "Before the riser". */
static inline double slow_sea_need(const dt_well *w, double z, int side)
{
    double floor = w->rig_floor_m + w->water_depth_m, sea = slow_sea_weight(w);
    double pore = slow_emw(&w->pore, z, side), on = sea * w->water_depth_m, below = z - floor;
    double normal = w->sticking.given ? w->sticking.normal_pore_kgm3
                                      : slow_said(w, DT_CUSTOM_NORMAL_PORE, 9.0 * 119.8264273);
    double over_pa = (pore * z - on - normal * below) * 9.80665, need = sea;
    if (!(below > 0)) return sea;
    if (over_pa > (pore <= normal + 1e-6 ? 50 * 6894.757293168 : 1))
        need = fmax(need, (pore * z - on) / below + w->margins.trip.emw_kgm3 +
                              w->margins.trip.pressure_pa / 9.80665 / below);
    return need;
}

static inline bool slow_permeable(const dt_well *w, double z)
{
    for (size_t i = 0; i < w->interval_count; ++i) {
        const dt_interval *v = &w->intervals[i];
        if (z <= v->top_m || z >= v->base_m || v->permeable == DT_PERMEABLE_UNSAID) continue;
        return v->permeable == DT_PERMEABLE_YES;
    }
    return w->sticking.rock == DT_STICKING_ALL_ROCK;
}

/** A list of (depth, side) samples of the open section. */
typedef struct slow_samples {
    double *z;
    int *side;
    size_t count, even_count; /* even: the first of them, a step apart */
} slow_samples;

static inline void slow_add(slow_samples *s, double z, int side)
{
    s->z[s->count] = z;
    s->side[s->count++] = side;
}

/** Where pore pressure leaves the normal range, or comes back, between two depths: by halving. */
static inline double slow_turn(const dt_well *w, double a, double b)
{
    bool normal = slow_emw(&w->pore, a, 1) <= w->sticking.normal_pore_kgm3;
    if (!w->sticking.given || (slow_emw(&w->pore, b, -1) <= w->sticking.normal_pore_kgm3) == normal)
        return NAN;
    for (int n = 0; n < 60; ++n) {
        double z = (a + b) / 2;
        *((slow_emw(&w->pore, z, 1) <= w->sticking.normal_pore_kgm3) == normal ? &a : &b) = z;
    }
    return (a + b) / 2;
}

/** Where rock turns from what sea water holds to more, or back, between two depths: by halving. */
static inline double slow_sea_turn(const dt_well *w, double a, double b)
{
    double sea = slow_sea_weight(w) + 1e-9;
    if (!w->bop_at_seabed || !(a > w->rig_floor_m + w->water_depth_m)) return NAN;
    bool held = slow_sea_need(w, a, 1) <= sea;
    if ((slow_sea_need(w, b, -1) <= sea) == held) return NAN;
    for (int n = 0; n < 60; ++n) {
        double z = (a + b) / 2;
        *((slow_sea_need(w, z, 1) <= sea) == held ? &a : &b) = z;
    }
    return held ? b : a;
}

static inline slow_samples slow_sample(const dt_well *w, double a, double b, double step)
{
    size_t room = (size_t)((b - a) / step) + 64 +
                  8 * (w->pore.count + w->fracture.count + w->collapse.count + w->interval_count);
    slow_samples s = {malloc(room * sizeof(double)), malloc(room * sizeof(int)), 0, 0};
    const dt_curve *curves[] = {&w->pore, &w->fracture, &w->collapse};
    for (double z = a + step; z < b; z += step)
        slow_add(&s, z, 1);
    s.even_count = s.count;
    for (double z = a; z < b; z += step) {
        double turns[] = {slow_turn(w, z, fmin(z + step, b)),
                          slow_sea_turn(w, z, fmin(z + step, b))};
        for (int t = 0; t < 2; ++t) {
            /* a shoe may stand on the turn: a sliver beside it is rounding, not rock */
            if (isnan(turns[t]) || turns[t] < a + 1e-4 || turns[t] > b - 1e-4) continue;
            slow_add(&s, turns[t], -1);
            slow_add(&s, turns[t], 1);
        }
    }
    for (size_t i = 0; i < 2 * w->interval_count; ++i) {
        double edge = i % 2 ? w->intervals[i / 2].base_m : w->intervals[i / 2].top_m;
        if (!(edge > a + 1e-4 && edge < b - 1e-4)) continue;
        slow_add(&s, edge, -1);
        slow_add(&s, edge, 1);
    }
    if (w->kick.given && w->kick.seat_below_m > a && w->kick.seat_below_m < b) {
        slow_add(&s, w->kick.seat_below_m, -1);
        slow_add(&s, w->kick.seat_below_m, 1);
    }
    slow_add(&s, a, 1);
    slow_add(&s, b, -1);
    for (size_t c = 0; c < 3; ++c)
        for (size_t i = 0; i < curves[c]->count; ++i) {
            double z = curves[c]->points[i].tvd_m;
            if (z > a && z < b) {
                slow_add(&s, z, -1);
                slow_add(&s, z, 1);
            }
        }
    return s;
}

static inline bool slow_fracture_ok(const dt_well *w, const slow_hole *h, const slow_samples *s,
                                    double mud, double b)
{
    const dt_margins *m = &w->margins;
    for (size_t i = 0; i < s->count; ++i) {
        double z = s->z[i], frac = slow_emw(&w->fracture, z, s->side[i]) + SLOW_SLACK;
        double safety = slow_margin(m->safety, z), whole = mud;
        if (h->sea) mud = slow_sea_emw(w, whole, z);
        if (mud + slow_margin(m->surge, z) + safety > frac) return false;
        if (h->ecd_kgm3 > 0 && mud + h->ecd_kgm3 + safety > frac) return false;
        if (h->diverter) {
            if (slow_emw(&w->pore, z, s->side[i]) > h->most_pore_kgm3 + SLOW_SLACK) return false;
            mud = whole;
            continue; /* nothing is shut in */
        }
        double kicked = m->kick_rule == DT_KICK_FIXED
                            ? mud + slow_margin(m->kick, z)
                            : mud + slow_margin(m->gain, z) + slow_margin(m->kick, b) * b / z;
        if (kicked > frac || mud + slow_margin(m->drilling, z) > frac) return false;
    }
    return true;
}

/**
 * The influx rule: the tallest gas column each exposed depth bears, in barrels at the bottom, by
 * trying columns of growing height; volumes by Boyle at mid-bubble.
 */
static inline bool slow_influx_ok(const dt_well *w, const slow_samples *s, double mud, double b)
{
    const dt_kick_wishes *k = &w->kick;
    const double g = 9.80665, quarter_pi = 0.785398163397448;
    if (!k->given || isnan(k->seat_volume_m3)) return true;
    double pipe =
        quarter_pi * (k->seat_hole_m * k->seat_hole_m - k->seat_pipe_od_m * k->seat_pipe_od_m);
    double collar =
        quarter_pi * (k->seat_hole_m * k->seat_hole_m - k->seat_collar_od_m * k->seat_collar_od_m);
    double at_bottom_pa = (mud + k->intensity_kgm3) * g * b;
    for (size_t i = 0; i < s->count; ++i) {
        double z = s->z[i];
        if (z < k->seat_below_m) continue;
        double borne_pa = (slow_emw(&w->fracture, z, s->side[i]) - k->margin_kgm3) * g * z;
        /* Column that fills the volume at the bottom, and the one it grows to at this depth. */
        double column = k->seat_volume_m3 / collar;
        if (column > k->seat_collar_m)
            column = k->seat_collar_m + (k->seat_volume_m3 - collar * k->seat_collar_m) / pipe;
        double tallest = column, low = 0, high = 2e5;
        for (int n = 0; n < 100;
             ++n) { /* column whose gas, taken down to the bottom, is the volume */
            double h = (low + high) / 2, half = k->influx_kgm3 * g * h / 2;
            bool enough = half >= at_bottom_pa ||
                          h * pipe * (borne_pa + half) / (at_bottom_pa - half) >= k->seat_volume_m3;
            *(enough ? &high : &low) = h;
        }
        tallest = fmax(column, high);
        /* With that column below the depth, mud under it: what the depth feels. */
        double felt_pa = at_bottom_pa - mud * g * (b - z - tallest) - k->influx_kgm3 * g * tallest;
        if (felt_pa > borne_pa * (1 + 1e-9) + 1) return false;
    }
    return true;
}

/* ---- influx by hole -------------------------------------------------------------------------- */

/** A place where the bit may be while a hole is drilled, and the mud that it takes to get there. */
typedef struct slow_bit {
    double z, mud;
} slow_bit;

static inline int slow_by_depth(const void *left, const void *right)
{
    const slow_bit *a = left, *b = right;
    return a->z != b->z ? (a->z > b->z) - (a->z < b->z) : (a->mud > b->mud) - (a->mud < b->mud);
}

/** Every sample as a bit, from the shoe down, with the heaviest mud that was needed so far. */
static inline slow_bit *slow_bits(const dt_well *w, const slow_samples *s)
{
    slow_bit *bits = malloc((s->count + 1) * sizeof *bits);
    for (size_t i = 0; i < s->count; ++i)
        bits[i] = (slow_bit){s->z[i], slow_need(w, s->z[i], s->side[i], true)};
    qsort(bits, s->count, sizeof *bits, slow_by_depth);
    for (size_t i = 1; i < s->count; ++i)
        bits[i].mud = fmax(bits[i].mud, bits[i - 1].mud);
    return bits;
}

static inline double slow_ring(double outer_m, double inner_m)
{
    return 0.785398163397448 * (outer_m * outer_m - inner_m * inner_m);
}

/** Length of hole that an influx fills from the bit up. */
static inline double slow_filled_m(const slow_hole *h, double m3)
{
    double low = slow_ring(h->hole_m, h->collar_m), high = slow_ring(h->hole_m, h->pipe_m);
    double beside_collars = low * h->collar_length_m;
    return m3 <= beside_collars ? m3 / low : h->collar_length_m + (m3 - beside_collars) / high;
}

/**
 * May gas of a volume come in with the bit there, and be carried up to a weak depth that bears so
 * much? Its column is the taller of the one at the bit and the one that it has grown to when its
 * top is at that depth (Boyle, pressures at mid-column), never taller than the hole below.
 */
static inline bool slow_carried(const dt_well *w, const slow_hole *h, double z, double borne_pa,
                                const slow_bit *bit, double intensity, double m3)
{
    const double g = 9.80665, gas = w->kick.influx_kgm3 * g, below = bit->z - z;
    double pf_pa = (bit->mud + intensity - slow_margin(w->margins.trip, bit->z)) * g * bit->z;
    /* height x ring (borne + gas height / 2) = m3 (pf - gas height / 2) */
    double ring = slow_ring(h->hole_m, h->pipe_m), q = ring * gas / 2;
    double p = ring * borne_pa + m3 * gas / 2, r = m3 * pf_pa;
    double grown = q > 0 ? (sqrt(fmax(p * p + 4 * q * r, 0)) - p) / (2 * q) : r / p;
    double column = fmin(fmax(slow_filled_m(h, m3), grown), below);
    double felt_pa = pf_pa - bit->mud * g * (below - column) - gas * column;
    return felt_pa <= borne_pa * (1 + 1e-9) + 1;
}

/** Of the samples between breaks so many are looked at, as weak depths and as bits. */
#define SLOW_WEAK 300
#define SLOW_BITS 24

/** An influx at one weak depth, with the bit at the first place that is far enough and at others
 * down to the bottom. */
static inline bool slow_kick_at(const dt_well *w, const slow_hole *h, const slow_samples *s,
                                const slow_bit *bits, size_t weak, double intensity, double m3)
{
    size_t n = s->count, every = n / SLOW_BITS + 1, k = 0;
    double z = s->z[weak], rock = slow_emw(&w->fracture, z, s->side[weak]);
    double borne_pa = (rock - w->kick.margin_kgm3) * 9.80665 * z;
    slow_bit first = {fmin(z + slow_filled_m(h, m3), bits[n - 1].z), 0};
    while (k < n && bits[k].z < first.z)
        first.mud = bits[k++].mud;
    first.mud = fmax(first.mud, slow_need(w, first.z, -1, true));
    if (!slow_carried(w, h, z, borne_pa, &first, intensity, m3)) return false;
    for (; k < n; ++k) {
        bool step = k > 0 && bits[k].z == bits[k - 1].z;
        if (k % every && !step && k + 1 < n) continue;
        if (!slow_carried(w, h, z, borne_pa, &bits[k], intensity, m3)) return false;
    }
    return true;
}

/**
 * An influx of a volume at every exposed depth, with the bit anywhere below it that is as far as
 * the influx is long; where the hole ends before, at its end.
 */
static inline bool slow_kick_ok(const dt_well *w, const slow_hole *h, const slow_samples *s,
                                const slow_bit *bits, double intensity, double m3)
{
    size_t every = s->even_count / SLOW_WEAK + 1;
    if (isnan(m3) || h->diverter) return true;
    for (size_t i = 0; i < s->count; ++i)
        if ((i >= s->even_count || i % every == 0) &&
            !slow_kick_at(w, h, s, bits, i, intensity, m3))
            return false;
    return true;
}

/* ---- the rest of a hole ---------------------------------------------------------------------- */

/** Gas, pressure and pay are not entered under a diverter; a hole is no longer than it may be. */
static inline bool slow_hole_ok(const dt_well *w, const slow_hole *h, double a, double b)
{
    static const char *const flowing[] = {"gas", "shallow-gas", "overpressure"};
    if (b - a > h->most_length_m + 1e-6) return false;
    for (size_t i = 0; h->diverter && i < w->interval_count; ++i)
        for (size_t k = 0; k < 3; ++k)
            if (strcmp(w->intervals[i].kind, flowing[k]) == 0 &&
                a < w->intervals[i].base_m - 1e-6 && b > w->intervals[i].top_m + 1e-6)
                return false;
    for (size_t i = 0; h->diverter && i < w->pay_count; ++i)
        if (a < w->pays[i].base_m - 1e-6 && b > w->pays[i].top_m + 1e-6) return false;
    return true;
}

static inline bool slow_sticking_ok(const dt_well *w, const slow_hole *h, const slow_samples *s,
                                    double mud)
{
    for (size_t i = 0; i < s->count && w->sticking.given; ++i) {
        double z = s->z[i], nudge = s->side[i] * 1e-6, pore = slow_emw(&w->pore, z, s->side[i]);
        if (!slow_permeable(w, z + nudge)) continue;
        bool normal =
            slow_emw(&w->pore, z + nudge, s->side[i]) <= w->sticking.normal_pore_kgm3 + 1e-9;
        double limit = normal ? w->sticking.normal_limit_pa : w->sticking.abnormal_limit_pa;
        double here = h && h->sea ? slow_sea_emw(w, mud, z) : mud;
        if ((here - pore) * 9.80665 * z > limit + 0.01) return false;
    }
    return true;
}

static inline bool slow_intervals_ok(const dt_well *w, double a, double b)
{
    for (size_t i = 0; i < w->interval_count; ++i) {
        const dt_interval *v = &w->intervals[i];
        if (b <= v->top_m + 1e-6 || a >= v->base_m - 1e-6) continue;
        if (v->action == DT_CASE_OFF && b > v->base_m + v->within_m + 1e-6) return false;
        if (v->action == DT_CASE_ABOVE && a < v->top_m - v->within_m - 1e-6) return false;
    }
    return true;
}

/** Does the hole from a shoe to a depth keep every rule? hole: what it is held to beside the
 * window. */
static inline bool slow_drilled_ok(const dt_well *w, const slow_hole *hole, double a, double b,
                                   double step)
{
    if (!slow_intervals_ok(w, a, b) || !slow_hole_ok(w, hole, a, b)) return false;
    slow_samples s = slow_sample(w, a, b, step);
    double mud = 0, pore = 0;
    for (size_t i = 0; i < s.count; ++i) {
        double need =
            hole->sea ? slow_sea_need(w, s.z[i], s.side[i]) : slow_need(w, s.z[i], s.side[i], true);
        mud = fmax(mud, need);
        pore = fmax(pore, hole->sea ? need : slow_need(w, s.z[i], s.side[i], false));
    }
    bool ok =
        slow_fracture_ok(w, hole, &s, mud, b) &&
        (hole->diverter || slow_influx_ok(w, &s, mud, b)) &&
        slow_sticking_ok(w, hole, &s, w->sticking.mud == DT_STICKING_PLANNED_MUD ? mud : pore);
    if (ok && !(isnan(hole->least_m3) && isnan(hole->wanted_m3))) {
        slow_bit *bits = slow_bits(w, &s);
        ok = slow_kick_ok(w, hole, &s, bits, 0, hole->least_m3) &&
             slow_kick_ok(w, hole, &s, bits, w->kick.intensity_kgm3, hole->wanted_m3);
        free(bits);
    }
    free(s.z);
    free(s.side);
    return ok;
}

/** The same of a hole that is held to the window alone. */
static inline bool slow_section_ok(const dt_well *w, double a, double b, double step)
{
    slow_hole none = SLOW_FREE_HOLE;
    return slow_drilled_ok(w, &none, a, b, step);
}

/** Rock that no shoe stands in where shoes stand past bad rock, whatever is to be done about it. */
static inline bool slow_bad_rock(const dt_well *w, const dt_interval *v)
{
    double thick = slow_said(w, DT_CUSTOM_SEATS_THICK_SALT, 1000 * DT_M_PER_FT);
    if (strcmp(v->kind, "salt") == 0) return v->base_m - v->top_m < thick;
    return strcmp(v->kind, "lost-circulation") == 0 || strcmp(v->kind, "unstable") == 0 ||
           strcmp(v->kind, "depleted") == 0;
}

/** Is a depth inside a stretch where no shoe may stand? Its ends are then told. */
static inline bool slow_in_avoided(const dt_well *w, double z, double *top_m, double *base_m)
{
    double past = w->seats.past_m;
    if (isnan(past)) past = slow_said(w, DT_CUSTOM_SEATS_PAST, 0);
    for (size_t i = 0; i < w->interval_count + w->pay_count; ++i) {
        const dt_interval *v = i < w->interval_count ? &w->intervals[i] : NULL;
        const dt_pay *pay = v ? NULL : &w->pays[i - w->interval_count];
        bool off = v && v->action == DT_CASE_OFF;
        bool bad = past > 0 && (!v || off || slow_bad_rock(w, v));
        *top_m = v ? v->top_m : pay->top_m;
        *base_m = v ? v->base_m : pay->base_m;
        if (past > 0 && off) *base_m += fmin(past, v->within_m);
        if ((bad || (v && v->action == DT_AVOID_SHOE)) && z > *top_m + 1e-6 && z < *base_m - 1e-6)
            return true;
    }
    return false;
}

static inline bool slow_shoe_ok(const dt_well *w, double z)
{
    double top, base;
    return !slow_in_avoided(w, z, &top, &base);
}

/** Deeper (or shallower) out of the rock in which no shoe may stand. */
static inline double slow_leave_avoided(const dt_well *w, double z, bool deeper)
{
    double top, base;
    while (slow_in_avoided(w, z, &top, &base))
        z = deeper ? base : top;
    return z;
}

/**
 * Fewest hole sections from the conductor shoe to the objective over all grid depths, by
 * breadth: nothing about monotony is assumed. 0 when there is none. The grid is the step's
 * multiples plus every depth where an interval asks for a shoe.
 */
static inline size_t slow_fewest(const dt_well *w, double conductor, double step,
                                 bool surface_needed)
{
    size_t n = 0, room = (size_t)(w->objective_m / step) + 4 + 4 * w->interval_count;
    double *grid = malloc(room * sizeof *grid), cover = conductor;
    size_t *depth = calloc(room, sizeof *depth), found = 0;
    if (!isnan(w->fresh_water_m))
        cover = fmax(conductor, w->fresh_water_m + w->fresh_water_cover_m);
    grid[n++] = conductor;
    for (double z = step * ceil(cover / step); z < w->objective_m - 1e-6; z += step)
        if (slow_shoe_ok(w, z) && z > conductor) grid[n++] = z;
    if (cover > conductor) grid[n++] = cover;
    for (size_t i = 0; i < w->interval_count; ++i) {
        const dt_interval *v = &w->intervals[i];
        double edges[] = {v->top_m, v->base_m, v->base_m + v->within_m, v->top_m - v->within_m};
        for (size_t e = 0; e < 4; ++e)
            if (edges[e] > cover && edges[e] < w->objective_m && slow_shoe_ok(w, edges[e]))
                grid[n++] = edges[e];
    }
    for (size_t level = 0; level < 12 && !found; ++level)
        for (size_t i = 0; i < n && !found; ++i) {
            if (depth[i] != level || (level == 0 && i > 0)) continue;
            if ((level > 0 || !surface_needed) && slow_section_ok(w, grid[i], w->objective_m, step))
                found = level + 1;
            for (size_t j = 1; j < n && !found; ++j)
                if (depth[j] == 0 && grid[j] > grid[i] &&
                    slow_section_ok(w, grid[i], grid[j], step))
                    depth[j] = level + 1;
        }
    free(grid);
    free(depth);
    return found;
}

#endif
