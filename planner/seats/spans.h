/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_SPANS_H
#define DRAWTUBE_PLANNER_SPANS_H

#include "window.h"

/*
 * What rules can ask at most of a run of neighbouring stretches of a window, so that a look at a
 * hole need not pass every break: a run that clears all of them by what is known of it as a whole
 * is passed over (docs/seats.md).
 */

/** Bounds over the stretches of a run, kg/m3 and m. */
struct dt_span {
    double top_m, base_m;
    double lower_most, pore_most, pore_least;
    double bears_mud;  /* fracture less surge and safety, and less the drilling margin; the least */
    double bears_kick; /* fracture less kick or gain margin */
    double bears_flow; /* fracture less safety */
    double fracture_least;
    double stick_base_m[2], stick_pore[2]; /* where pipe can stick: [1] of normal rock */
};

/** A stretch alone. */
dt_span dt_span_of(const dt_face *top, const dt_face *base, dt_rock rock);

/** Two runs as one. */
dt_span dt_span_join(const dt_span *upper, const dt_span *lower);

/** Runs of a window: spans[1] of all stretches between breaks, spans[n] is spans[2 n] and
 * spans[2 n + 1] together, the last half is stretches alone. DT_OK or DT_E_MEMORY. */
dt_status dt_spans_build(dt_window *window);

#endif
