/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_HOLD_H
#define DRAWTUBE_PLANNER_HOLD_H

#include "strings.h"

/* What load_cases.c, hold.c and strings.c share: pipe held against the cases at one depth. */

/** Cross section of a pipe, wear taken off. */
typedef struct dt_ring {
    double outer_m2, inner_m2, weight_kgm;
} dt_ring;
dt_ring dt_ring_of(const dt_pipe *pipe, double wear_m);

/** May the string stand empty to its foot, by the rule of the well? */
bool dt_load_emptied(const dt_string_load *load);

/** Does the string's own hole cross this bed, and is it salt? One that ends where the hole begins,
 * or begins at the shoe, is not crossed. */
bool dt_load_crosses_salt(const dt_string_load *load, const dt_interval *bed);

/** Force of a case: what hangs below counts by hanging_part, the rest is fixed. Of the point
 * pressures and drag are read. */
typedef struct dt_load_force {
    double hanging_part;
    double axial_n;  /* true force beside the hanging part */
    double pull_n;   /* pull beside it */
    double landed_n; /* true force beside it when the string had just been hung in mud */
} dt_load_force;
dt_load_force dt_load_force_at(const dt_string_load *load, dt_load which, const dt_ring *ring,
                               double tvd_m, const dt_load_point *point);

/** Pressures of every case that runs, at a depth, Pa: dt_load_pressures() of each. */
void dt_load_pressures_at(const dt_string_load *load, double tvd_m, double inside_pa[DT_LOAD_COUNT],
                          double outside_pa[DT_LOAD_COUNT]);

/** A depth of a string, with what does not depend on the pipe. */
typedef struct dt_spot {
    double md_m, tvd_m;
    double curvature_radm, yield_part, drag_m;
    double inside_pa[DT_LOAD_COUNT], outside_pa[DT_LOAD_COUNT];
} dt_spot;
void dt_spot_fill(const dt_string_load *load, const dt_trajectory *trajectory, double md_m,
                  dt_spot *out);

/**
 * Depths at which a string is looked at, top down: where a load, the yield strength or the
 * curvature bends, and no more than 100 ft apart.
 */
dt_status dt_spots_make(const dt_string_load *load, const dt_trajectory *trajectory, dt_spot **out,
                        size_t *count);

/** What one pipe stands, wear taken off, before derating. */
typedef struct dt_strength {
    const dt_pipe *pipe;
    dt_thread thread;
    dt_ring ring;
    double wall_m, yield_pa, burst_pa, joint_n;
    double collapse_part; /* of the connection over the body's collapse */
    dt_wall_shape shape;
} dt_strength;

/** DT_E_DOMAIN when the pipe does not come with the thread, or cannot be rated. */
dt_status dt_strength_make(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                           double wear_m, dt_strength *out);

/** Weights hanging below the spot between which every case holds; least > most when none does.
 * More than high_n never hangs there: the upper bound is no larger. */
void dt_strength_limits(const dt_strength *strength, const dt_string_load *load,
                        const dt_design_in_force *design, const dt_spot *spot, double high_n,
                        double *least_n, double *most_n);

/**
 * Which collapse regimes the upper bound lies in. Between two spots of one mark the bound bends
 * down only, so a straight line between them is on the safe side (docs/strength.md).
 */
unsigned dt_strength_mark(const dt_strength *strength, const dt_string_load *load,
                          const dt_design_in_force *design, const dt_spot *spot, double most_n);

/** Spots of a load in columns, for a quick look at many pipes. Zeroed, it holds none. */
typedef struct dt_columns {
    size_t count;
    double *cells; /* owned */
    size_t place[DT_LOAD_COUNT];
} dt_columns;
dt_status dt_columns_make(const dt_string_load *load, const dt_spot *spots, size_t count,
                          dt_columns *out);
/** Takes over what has changed in the spots: pressures of a case that runs, or the drag. */
void dt_columns_take(dt_columns *columns, const dt_spot *spots, dt_load which);
void dt_columns_take_drag(dt_columns *columns, const dt_spot *spots);
void dt_columns_free(dt_columns *columns);
/** Inside pressures of a case that runs, by spot; the outside ones follow them. */
const double *dt_columns_inside(const dt_columns *columns, dt_load which);

typedef enum dt_sight { DT_SEEN_HOLDING, DT_SEEN_FAILING, DT_UNSEEN } dt_sight;

/** Does the pipe hold a case at all spots, in burst and triaxial? Unseen: too near to tell. Columns
 * are written to on the way. */
dt_sight dt_columns_look(const dt_columns *columns, const dt_strength *strength,
                         const dt_string_load *load, const dt_design_in_force *design,
                         dt_load which);

/**
 * Do these of the load's cases hold at all spots (top down, and the same in columns), this pipe
 * from top to shoe? The same answer as dt_string_screen() gives, without the factors and with no
 * more looks than it takes. pull_n: largest pull of the running cases among them, 0 when none is;
 * meaningful when true.
 */
bool dt_strength_holds(const dt_strength *strength, const dt_string_load *load,
                       const dt_design_in_force *design, const dt_spot *spots,
                       const dt_columns *columns, const bool cases[DT_LOAD_COUNT], double *pull_n);

void dt_screen_begin(const dt_design_in_force *design, dt_screen *out);
/** Takes the factors of one spot into the screen. */
void dt_screen_add(dt_screen *screen, const dt_strength *strength, const dt_string_load *load,
                   const dt_design_in_force *design, const dt_spot *spot, double hanging_n);
/** Worst case and verdict. */
void dt_screen_conclude(dt_screen *screen);

#endif
