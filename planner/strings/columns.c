/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdlib.h>

#include "hold.h"
#include "same.h"

/* A quick look at many pipes under one load: all spots of a case at once, burst and triaxial. What
 * it is sure of is what hold.c would find spot by spot; what it is not sure of is left to that. */

/* Columns beside those of the cases. */
enum { TVD, CURVATURE, YIELD_PART, DRAG, AXIAL, FIXED_COLUMNS };

static double *column(const dt_columns *c, size_t index)
{
    return c->cells + index * c->count;
}

/** Its inside pressure; the outside one follows. */
static double *pressures(const dt_columns *c, dt_load which)
{
    return column(c, FIXED_COLUMNS + 2 * c->place[which]);
}

const double *dt_columns_inside(const dt_columns *columns, dt_load which)
{
    return pressures(columns, which);
}

void dt_columns_free(dt_columns *columns)
{
    free(columns->cells);
    *columns = (dt_columns){0};
}

void dt_columns_take(dt_columns *c, const dt_spot *spots, dt_load which)
{
    double *inside_pa = pressures(c, which), *outside_pa = inside_pa + c->count;
    for (size_t i = 0; i < c->count; ++i) {
        inside_pa[i] = spots[i].inside_pa[which];
        outside_pa[i] = spots[i].outside_pa[which];
    }
}

void dt_columns_take_drag(dt_columns *c, const dt_spot *spots)
{
    for (size_t i = 0; i < c->count; ++i)
        column(c, DRAG)[i] = spots[i].drag_m;
}

dt_status dt_columns_make(const dt_string_load *load, const dt_spot *spots, size_t count,
                          dt_columns *out)
{
    dt_columns *c = out;
    size_t cases = 0;
    *c = (dt_columns){.count = count};
    for (int i = 0; i < DT_LOAD_COUNT; ++i)
        if (load->runs[i]) c->place[i] = cases++;
    c->cells = malloc(((FIXED_COLUMNS + 2 * cases) * count + 1) * sizeof *c->cells);
    if (!c->cells) return DT_E_MEMORY;
    for (size_t i = 0; i < count; ++i) {
        column(c, TVD)[i] = spots[i].tvd_m;
        column(c, CURVATURE)[i] = spots[i].curvature_radm;
        column(c, YIELD_PART)[i] = spots[i].yield_part;
    }
    dt_columns_take_drag(c, spots);
    for (int i = 0; i < DT_LOAD_COUNT; ++i)
        if (load->runs[i]) dt_columns_take(c, spots, (dt_load)i);
    return DT_OK;
}

/** The true axial force of a case is straight in each of these: so much, and so much for each. */
typedef struct straight {
    double at_none, per_tvd, per_inside, per_outside, per_drag;
} straight;

static double axial_n(const dt_strength *s, const dt_string_load *load, dt_load which, double tvd_m,
                      const dt_load_point *point)
{
    const dt_load_force force = dt_load_force_at(load, which, &s->ring, tvd_m, point);
    const double hanging_n = s->pipe->weight_kgm * DT_STANDARD_GRAVITY * (load->shoe_tvd_m - tvd_m);
    return force.hanging_part * hanging_n + force.axial_n;
}

/** As stress, by what the force comes to a unit further on; units of the size that loads have. */
static straight axial_of(const dt_strength *s, const dt_string_load *load, dt_load which)
{
    const double depth_m = 1e3, pressure_pa = 1e7, drag_m = 1e3;
    const dt_load_point none = {0}, inside = {.inside_pa = pressure_pa},
                        outside = {.outside_pa = pressure_pa}, drag = {.drag_m = drag_m};
    const double at_none = axial_n(s, load, which, 0, &none), area_m2 = s->shape.area_m2;
    return (straight){
        .at_none = at_none / area_m2,
        .per_tvd = (axial_n(s, load, which, depth_m, &none) - at_none) / depth_m / area_m2,
        .per_inside = (axial_n(s, load, which, 0, &inside) - at_none) / pressure_pa / area_m2,
        .per_outside = (axial_n(s, load, which, 0, &outside) - at_none) / pressure_pa / area_m2,
        .per_drag = (axial_n(s, load, which, 0, &drag) - at_none) / drag_m / area_m2};
}

static void fill_axial(const dt_columns *c, const straight *by, const double *inside_pa,
                       const double *outside_pa)
{
    const double *tvd_m = column(c, TVD), *drag_m = column(c, DRAG);
    double *axial_pa = column(c, AXIAL);
    for (size_t i = 0; i < c->count; ++i)
        axial_pa[i] = by->at_none + by->per_tvd * tvd_m[i] + by->per_inside * inside_pa[i] +
                      by->per_outside * outside_pa[i] + by->per_drag * drag_m[i];
}

/** Net pressures against the burst rating, as dt_triaxial_look_at_all() has stress. */
static dt_sides look_at_burst(const dt_columns *c, const double *inside_pa,
                              const double *outside_pa, double limit_pa)
{
    const double *part = column(c, YIELD_PART);
    const double under_pa = limit_pa * (1 - BOUND_SLACK), over_pa = limit_pa * (1 + BOUND_SLACK);
    dt_sides sides = {0, 0};
    for (size_t i = 0; i < c->count; ++i) {
        const double net_pa = inside_pa[i] - outside_pa[i];
        sides.under += net_pa < under_pa * part[i];
        sides.over += net_pa > over_pa * part[i];
    }
    return sides;
}

static dt_sight sight_of(const dt_columns *c, dt_sides sides)
{
    return sides.over ? DT_SEEN_FAILING : sides.under == c->count ? DT_SEEN_HOLDING : DT_UNSEEN;
}

dt_sight dt_columns_look(const dt_columns *c, const dt_strength *s, const dt_string_load *load,
                         const dt_design_in_force *design, dt_load which)
{
    const double *inside_pa = pressures(c, which), *outside_pa = inside_pa + c->count;
    dt_sight burst = DT_SEEN_HOLDING;
    if (dt_load_check(which) == DT_CHECK_BURST)
        burst = sight_of(c, look_at_burst(c, inside_pa, outside_pa, s->burst_pa / design->burst));
    if (burst == DT_SEEN_FAILING) return burst;
    const straight by = axial_of(s, load, which);
    fill_axial(c, &by, inside_pa, outside_pa);
    const dt_cuts cuts = {.count = c->count,
                          .axial_pa = column(c, AXIAL),
                          .inside_pa = inside_pa,
                          .outside_pa = outside_pa,
                          .curvature_radm = column(c, CURVATURE),
                          .limit_part = column(c, YIELD_PART)};
    const dt_sight triaxial =
        sight_of(c, dt_triaxial_look_at_all(&s->shape, &cuts, s->yield_pa / design->triaxial));
    return triaxial == DT_SEEN_HOLDING ? burst : triaxial;
}
