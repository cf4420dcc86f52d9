/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_SLOW_SEATS_H
#define DRAWTUBE_TESTS_SLOW_SEATS_H

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "units.h"
#include "well.h"

/*
 * The seat rules once more, the slow way and from the definitions alone: every exposed depth
 * is looked at, foot by foot, plus both sides of every input point. Shares no code with
 * planner/seats/window.c, section.c or seats.c.
 */

#define SLOW_SLACK 2e-6

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
    size_t count;
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

static inline slow_samples slow_sample(const dt_well *w, double a, double b, double step)
{
    size_t room = (size_t)((b - a) / step) + 16 +
                  8 * (w->pore.count + w->fracture.count + w->collapse.count + w->interval_count);
    slow_samples s = {malloc(room * sizeof(double)), malloc(room * sizeof(int)), 0};
    const dt_curve *curves[] = {&w->pore, &w->fracture, &w->collapse};
    for (double z = a + step; z < b; z += step)
        slow_add(&s, z, 1);
    for (double z = a; z < b; z += step) {
        double turn = slow_turn(w, z, fmin(z + step, b));
        /* a shoe may stand on the turn: a sliver beside it is rounding, not rock */
        if (isnan(turn) || turn < a + 1e-4 || turn > b - 1e-4) continue;
        slow_add(&s, turn, -1);
        slow_add(&s, turn, 1);
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

static inline bool slow_fracture_ok(const dt_well *w, const slow_samples *s, double mud, double b)
{
    const dt_margins *m = &w->margins;
    for (size_t i = 0; i < s->count; ++i) {
        double z = s->z[i], frac = slow_emw(&w->fracture, z, s->side[i]);
        if (mud + slow_margin(m->surge, z) + slow_margin(m->safety, z) > frac + SLOW_SLACK)
            return false;
        double kicked = m->kick_rule == DT_KICK_FIXED
                            ? mud + slow_margin(m->kick, z)
                            : mud + slow_margin(m->gain, z) + slow_margin(m->kick, b) * b / z;
        if (kicked > frac + SLOW_SLACK) return false;
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

static inline bool slow_sticking_ok(const dt_well *w, const slow_samples *s, double mud)
{
    for (size_t i = 0; i < s->count && w->sticking.given; ++i) {
        double z = s->z[i], nudge = s->side[i] * 1e-6, pore = slow_emw(&w->pore, z, s->side[i]);
        if (!slow_permeable(w, z + nudge)) continue;
        bool normal =
            slow_emw(&w->pore, z + nudge, s->side[i]) <= w->sticking.normal_pore_kgm3 + 1e-9;
        double limit = normal ? w->sticking.normal_limit_pa : w->sticking.abnormal_limit_pa;
        if ((mud - pore) * 9.80665 * z > limit + 0.01) return false;
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

static inline bool slow_section_ok(const dt_well *w, double a, double b, double step)
{
    if (!slow_intervals_ok(w, a, b)) return false;
    slow_samples s = slow_sample(w, a, b, step);
    double mud = 0, pore = 0;
    for (size_t i = 0; i < s.count; ++i) {
        mud = fmax(mud, slow_need(w, s.z[i], s.side[i], true));
        pore = fmax(pore, slow_need(w, s.z[i], s.side[i], false));
    }
    bool ok = slow_fracture_ok(w, &s, mud, b) && slow_influx_ok(w, &s, mud, b) &&
              slow_sticking_ok(w, &s, w->sticking.mud == DT_STICKING_PLANNED_MUD ? mud : pore);
    free(s.z);
    free(s.side);
    return ok;
}

static inline bool slow_shoe_ok(const dt_well *w, double z)
{
    for (size_t i = 0; i < w->interval_count; ++i) {
        const dt_interval *v = &w->intervals[i];
        if (v->action == DT_AVOID_SHOE && z > v->top_m + 1e-6 && z < v->base_m - 1e-6) return false;
    }
    return true;
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
