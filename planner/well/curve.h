/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CURVE_H
#define DRAWTUBE_CURVE_H

#include "units.h"
#include "well.h"

/*
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

/** EMW of a margin at a depth, kg/m3. Here, since every face of every trial asks for it. */
static inline double dt_margin_emw(const dt_margin *margin, double tvd_m)
{
    return margin->emw_kgm3 + margin->pressure_pa / (DT_STANDARD_GRAVITY * tvd_m);
}

#endif
