/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_WELL_IN_CODE_H
#define DRAWTUBE_TESTS_WELL_IN_CODE_H

#include <math.h>
#include <string.h>

#include "units.h"
#include "well.h"

/* Wells written in field units for the tests. The arrays live in the struct: no freeing. */

#define FT  DT_M_PER_FT
#define PPG DT_KGM3_PER_PPG
#define PSI DT_PA_PER_PSI

#define CODE_POINTS 32

typedef struct coded_well {
    dt_well well;
    dt_curve_point pore[CODE_POINTS], fracture[CODE_POINTS];
    dt_interval intervals[8];
    dt_pin pins[8];
} coded_well;

static inline void coded_point(dt_curve *curve, dt_curve_point *points, double depth_ft, double ppg)
{
    curve->points = points;
    points[curve->count++] = (dt_curve_point){.tvd_m = depth_ft * FT,
                                              .emw_kgm3 = ppg * PPG,
                                              .sd_kgm3 = NAN,
                                              .low_kgm3 = NAN,
                                              .high_kgm3 = NAN};
}

static inline void coded_pore(coded_well *c, double depth_ft, double ppg)
{
    coded_point(&c->well.pore, c->pore, depth_ft, ppg);
}

static inline void coded_fracture(coded_well *c, double depth_ft, double ppg)
{
    coded_point(&c->well.fracture, c->fracture, depth_ft, ppg);
}

static inline void coded_interval(coded_well *c, double top_ft, double base_ft, dt_action action,
                                  double within_ft)
{
    c->well.intervals = c->intervals;
    c->intervals[c->well.interval_count++] = (dt_interval){.name = "bed",
                                                           .kind = "other",
                                                           .top_m = top_ft * FT,
                                                           .base_m = base_ft * FT,
                                                           .action = action,
                                                           .within_m = within_ft * FT};
}

static inline void coded_pin(coded_well *c, dt_role role, double shoe_ft)
{
    c->well.pins = c->pins;
    c->pins[c->well.pin_count++] = (dt_pin){.role = role,
                                            .type = DT_TYPE_UNSAID,
                                            .shoe_m = shoe_ft * FT,
                                            .hole_m = NAN,
                                            .od_m = NAN,
                                            .weight_kgm = NAN};
}

/** A well with nothing in it but its depths: no margins, no sticking, no fresh water. */
static inline void coded_start(coded_well *c, double conductor_ft, double objective_ft)
{
    memset(c, 0, sizeof *c);
    dt_well *w = &c->well;
    dt_well_start(w);
    w->name = "coded (invented)";
    w->rig_floor_m = 0;
    w->objective_m = objective_ft * FT;
    w->min_pipe_od_m = 7 * DT_M_PER_IN;
    w->sticking = (dt_sticking){0};
    w->conductor.depth_m = conductor_ft * FT;
}

#endif
