/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_HUNG_H
#define DRAWTUBE_HUNG_H

#include "strings.h"

/* What hangs on a liner's hanger once it is set. Method: docs/strength.md. */

/** What a hanger bears once it is set. */
typedef struct dt_hung {
    double weight_n;   /* buoyed, along TVD */
    double pressure_n; /* of the plug bumped, or of the test before the cement sets */
    double total_n;
    dt_load by; /* which of the two: DT_LOAD_TENSION_BUMP or DT_LOAD_TENSION_GREEN */
} dt_hung;

/** hanging_n: weight in air of the whole liner, along TVD; top: the pipe at its top. */
dt_hung dt_hanger_load(const dt_string_load *load, const dt_pipe *top, double hanging_n);

/** Most weight in air a hanger takes below this pipe; the factor of the list is kept. */
double dt_hanger_most_hanging(const dt_hanger *hanger, const dt_string_load *load,
                              const dt_pipe *top);

#endif
