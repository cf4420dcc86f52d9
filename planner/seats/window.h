/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_WINDOW_H
#define DRAWTUBE_WINDOW_H

#include "curve.h"

/*
 * Stage 2: which mud holds at each depth?
 */

/** What rules ask at one depth, seen from one side. Gradients and margins in kg/m3. */
typedef struct dt_face {
    double tvd_m;
    double pore_kgm3, fracture_kgm3, collapse_kgm3; /* collapse NAN when the well has none */
    double lower_kgm3;                              /* minimum mud weight */
    double swept_kgm3;                              /* surge + safety */
    double safety_kgm3;                             /* safety alone */
    double drilling_kgm3;                           /* drilling margin, under a BOP */
    double kick_kgm3; /* kick margin; under the depth-ratio rule the gain margin */
} dt_face;

/** Rock between two neighbouring breaks. */
typedef struct dt_rock {
    bool can_stick; /* permeable, and sticking limits are given */
    bool normal;    /* normally pressured */
} dt_rock;

/** A stretch in which no shoe may stand, its ends allowed. */
typedef struct dt_bad_rock {
    double top_m, base_m;
    size_t interval; /* index into well->intervals; DT_NO_INDEX: a pay */
    size_t pay;
    bool past; /* the rock itself ends above: a shoe stands so far past its base */
} dt_bad_rock;

typedef struct dt_span dt_span; /* spans.h */

typedef struct dt_window {
    const dt_well *well; /* borrowed; must outlive the window */
    double *breaks;      /* sorted distinct depths, m, where any bound can bend or step */
    size_t break_count;
    dt_face *faces;   /* of each break, [2 i] from above and [2 i + 1] from below */
    dt_rock *rocks;   /* break_count + 1: rocks[i] lies above breaks[i], the last below all */
    dt_bad_rock *bad; /* where no shoe may stand, by interval */
    size_t bad_count;
    dt_span *spans; /* over runs of stretches; [span_leaves + i] lies between breaks i and i + 1 */
    size_t span_leaves;
} dt_window;

/** What rules ask at a depth, from one side. */
dt_face dt_window_face(const dt_window *window, double tvd_m, dt_side side);

/**
 * The break that a depth is but for the noise of arithmetic, else the depth itself: 180 steps of
 * 50 ft are not the depth of a point at 9000 ft to the last digit, and a sliver of the rock above
 * it would be exposed below a shoe there.
 */
double dt_window_on_break(const dt_window *window, double tvd_m);

/** Index of the first break deeper than a depth; break_count when there is none. */
size_t dt_window_break_below(const dt_window *window, double tvd_m);

/** Builds the window of a checked well. DT_OK or DT_E_MEMORY. */
dt_status dt_window_build(const dt_well *well, dt_window *out);
void dt_window_free(dt_window *window);

/**
 * Minimum mud weight in a hole that returns to the sea floor, kg/m3 of what stands below the sea
 * floor: sea water in normally pressured rock, else what holds pore pressure with the trip margin
 * on top. docs/seats.md.
 */
double dt_window_riserless(const dt_window *window, const dt_face *face);

/**
 * The same inside a stretch between two faces, where rock turns from normal to more: what holds it
 * is most right there, since the column below the sea floor is shortest. -INFINITY: it does not
 * turn.
 */
double dt_window_riserless_inside(const dt_window *window, const dt_face *top, const dt_face *base,
                                  double *at_m);

/** EMW at a depth of a column of sea water with such mud below it. */
double dt_window_riserless_emw(const dt_window *window, double mud_kgm3, double tvd_m);

/** Minimum mud weight at a depth: max(pore + trip, collapse gradient), kg/m3. */
double dt_window_lower(const dt_window *window, double tvd_m, dt_side side);

/**
 * Maximum mud weight at a depth while the hole's bottom is at bottom_m, kg/m3:
 * fracture - surge - safety, and by the kick rule fracture - kick (fixed) or
 * fracture - gain - kick * bottom / tvd (depth-ratio; surge and safety left out).
 */
double dt_window_upper(const dt_window *window, double tvd_m, double bottom_m, dt_side side);

#endif
