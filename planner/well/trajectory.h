/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TRAJECTORY_H
#define DRAWTUBE_TRAJECTORY_H

#include "well.h"

/*
 * Where the hole goes: survey stations joined by circular arcs (minimum curvature).
 * Source: see docs/trajectory.md.
 */

typedef struct dt_trajectory_node {
    double md_m, tvd_m, north_m, east_m;
    double inclination_rad, azimuth_rad;
    double dogleg_rad; /* angle of the arc that ends here; 0 at the first node */
    double deepest_m;  /* TVD that the hole has reached so far */
} dt_trajectory_node;

/** Depth gained over length, below which a hole is as good as level: it leans 80 deg and more. */
#define DT_LEVEL_GAIN 0.17

/** Rock is met by depth, pipe is cut by length. Where a hole runs level or rises one depth has many
 * lengths: rock counts where it is first met, and the objective where the path ends. */
typedef struct dt_trajectory {
    dt_trajectory_node *nodes; /* NULL and 0: vertical, MD equals TVD */
    size_t count;
    double toe_md_m;  /* where the objective is a point on the path: its end; 0: it is not */
    double toe_tvd_m; /* deepest down to there */
} dt_trajectory;

/** Position change over one arc. Angles rad, lengths m. Any pointer may be NULL. */
void dt_minimum_curvature(double md_m, double inc1_rad, double azi1_rad, double inc2_rad,
                          double azi2_rad, double *tvd_m, double *north_m, double *east_m,
                          double *dogleg_rad, double *ratio_factor);

/**
 * Builds the trajectory of a well's stations. When the first is below MD 0, the hole is
 * taken to start vertical at MD 0. DT_E_DOMAIN: depths that do not increase, inclinations
 * outside 0 to 180 deg, a half turn between two stations. DT_E_MEMORY.
 */
dt_status dt_trajectory_build(const dt_station *stations, size_t count, dt_trajectory *out);

/** That of a well, which ends at its objective. Same errors. */
dt_status dt_trajectory_of(const dt_well *well, dt_trajectory *out);
void dt_trajectory_free(dt_trajectory *trajectory);

/** TVD of a measured depth; below the last station straight on; NAN for a negative one. */
double dt_trajectory_tvd(const dt_trajectory *trajectory, double md_m);

/** The deepest TVD down to a measured depth: what the rock that was met so far reaches to. That of
 * dt_trajectory_tvd() in a hole that does not rise. */
double dt_trajectory_deepest(const dt_trajectory *trajectory, double md_m);

/**
 * First measured depth at which a TVD is reached; NAN when it never is. Solved inside the
 * arc: in a hole that goes down throughout, dt_trajectory_tvd() of it is tvd_m within 1e-9 m.
 * The depth of an objective on the path, and whatever is deeper, is the toe.
 */
double dt_trajectory_md(const dt_trajectory *trajectory, double tvd_m);

/** Inclination at a measured depth, rad; NAN for a negative one. */
double dt_trajectory_inclination(const dt_trajectory *trajectory, double md_m);

/** Dogleg severity of the arc that holds (or ends at) a measured depth, rad per m; 0 below. */
double dt_trajectory_curvature(const dt_trajectory *trajectory, double md_m);

#endif
