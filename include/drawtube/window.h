/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_WINDOW_H
#define DRAWTUBE_WINDOW_H

#include "drawtube/well.h"

/*
 * Stage 2: which mud holds at each depth?
 *
 * Curves are piecewise: linear in EMW (between="gradient") or linear in pressure
 * (between="pressure"). At a step the two sides of one depth differ, so every
 * look-up says which side it means. The shallowest value holds up to the surface,
 * the deepest value down to the objective's depth at most (a shorter table is refused
 * by the reader).
 */

typedef enum dt_side {
    DT_ABOVE, /* limit from shallower depth */
    DT_BELOW  /* limit from deeper depth */
} dt_side;

/** EMW of a curve, kg/m3, at tvd_m > 0. NAN when the curve has no points. */
double dt_curve_emw(const dt_curve *curve, double tvd_m, dt_side side);

/** Pressure of a curve less that of a column from the surface down: most and least over a stretch,
 * and where. */
typedef struct dt_over_column {
    double most_pa, most_tvd_m, least_pa, least_tvd_m;
} dt_over_column;

/** Exact, inside segments too. The stretch has a length; both sides of a step inside it count. */
dt_over_column dt_curve_over_column(const dt_curve *curve, double column_kgm3, double top_m,
                                    double base_m);

/** Index of the input point nearest in depth that shapes the curve at tvd_m on that side. */
size_t dt_curve_point_near(const dt_curve *curve, double tvd_m, dt_side side);

/** EMW of a margin at a depth, kg/m3. */
double dt_margin_emw(const dt_margin *margin, double tvd_m);

/** What rules ask at one depth, seen from one side. Gradients and margins in kg/m3. */
typedef struct dt_face {
    double tvd_m;
    double pore_kgm3, fracture_kgm3, collapse_kgm3; /* collapse NAN when the well has none */
    double lower_kgm3;                              /* least mud */
    double swept_kgm3;                              /* surge + safety */
    double kick_kgm3; /* kick margin; under the depth-ratio rule the gain margin */
} dt_face;

/** Rock between two neighbouring breaks. */
typedef struct dt_rock {
    bool can_stick; /* permeable, and sticking limits are given */
    bool normal;    /* normally pressured */
} dt_rock;

typedef struct dt_window {
    const dt_well *well; /* borrowed; must outlive the window */
    double *breaks;      /* sorted distinct depths, m, where any bound can bend or step */
    size_t break_count;
    dt_face *faces; /* of each break, [2 i] from above and [2 i + 1] from below */
    dt_rock *rocks; /* break_count + 1: rocks[i] lies above breaks[i], the last below all */
} dt_window;

/** What rules ask at a depth, from one side. */
dt_face dt_window_face(const dt_window *window, double tvd_m, dt_side side);

/** Index of the first break deeper than a depth; break_count when there is none. */
size_t dt_window_break_below(const dt_window *window, double tvd_m);

/** Builds the window of a checked well. DT_OK or DT_E_MEMORY. */
dt_status dt_window_build(const dt_well *well, dt_window *out);
void dt_window_free(dt_window *window);

/** Least mud at a depth: max(pore + trip, collapse gradient), kg/m3. */
double dt_window_lower(const dt_window *window, double tvd_m, dt_side side);

/**
 * Most mud at a depth while the hole's bottom is at bottom_m, kg/m3:
 * fracture - surge - safety, and by the kick rule fracture - kick (fixed) or
 * fracture - gain - kick * bottom / tvd (depth-ratio; surge and safety left out).
 */
double dt_window_upper(const dt_window *window, double tvd_m, double bottom_m, dt_side side);

#endif
