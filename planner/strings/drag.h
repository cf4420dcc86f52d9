/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_DRAG_H
#define DRAWTUBE_PLANNER_DRAG_H

#include "strings.h"

/*
 * The soft string: what a hole that leans and bends adds to the weight of pipe that is pulled or
 * lowered in it. Loads and running reckon with it alike; equations and limits: docs/running.md.
 */

/** A short stretch of the hole's course, made once so that loads can be summed many times. */
typedef struct dt_path_step {
    double top_md_m, base_md_m, top_tvd_m, base_tvd_m;
    double inclination_rad; /* in the middle */
    double build_rad_m,
        turn_rad_m; /* bending in the vertical plane (building over 0), and across */
} dt_path_step;

/** Steps of at most 10 m down to a depth; one step in a vertical hole. Owned by the caller. */
dt_status dt_path_make(const dt_trajectory *trajectory, double base_md_m, dt_path_step **out,
                       size_t *count);

/**
 * Side force of pipe on the wall, N per m: the weight's part across the hole less what
 * tension takes in a build (or plus what it adds in a drop), and the tension's part in a turn.
 * Signed is the part in the vertical plane: over 0 on the low side. May be NULL.
 */
double dt_side_force(double weight_nm, double tension_n, const dt_path_step *step,
                     double *low_side_nm);

/** Pipe in a part of a step: its weight in liquid, what of it hangs, and the tension below it. */
typedef struct dt_dragged {
    double weight_nm, hangs_n, below_n;
} dt_dragged;

/** Drag over a part of a step, N: friction coefficient (below 0: lowering) x length x side force.
 */
double dt_drag_over(const dt_path_step *step, const dt_dragged *pipe, double friction,
                    double length_m);

/** Part of a stretch that lies below where the open hole begins, 0 to 1. */
double dt_open_part(double top_md_m, double base_md_m, double open_md_m);

/**
 * Fills load->drag: the drag of the string pulled from its shoe up, for pipe of one weight from
 * there down. Nothing in a vertical hole, or where no overpull is looked at. DT_OK; DT_E_MEMORY.
 */
dt_status dt_string_load_drag(const dt_trajectory *trajectory, dt_string_load *load);

#endif
