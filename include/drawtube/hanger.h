/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_HANGER_H
#define DRAWTUBE_HANGER_H

#include "drawtube/strings.h"

/*
 * A liner's hanger: does it suit the liner, the pipe it is set in and what is run through it,
 * and does it bear what hangs on it? Method: docs/strength.md.
 */

/** Does it hang liners of this outside diameter? */
bool dt_hanger_is_for(const dt_hanger *hanger, double liner_m);

/** Is it set in pipe of this outside diameter? */
bool dt_hanger_fits_size(const dt_hanger *hanger, double casing_m);

/** Is it set in this very pipe: size, and weight where it has a range? */
bool dt_hanger_fits(const dt_hanger *hanger, const dt_pipe *casing);

/** Does a bit pass it, receptacle and all? */
bool dt_hanger_passes(const dt_hanger *hanger, double bit_m);

/** Bore of hanger and receptacle, the smaller. */
double dt_hanger_bore(const dt_hanger *hanger);

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

/** Capacity must be at least so many times what hangs: the list's factor, else 1. */
double dt_hanger_factor(const dt_well *well);

/**
 * May a pinned liner do without a hanger of the list? True when its size is pinned and no row
 * suits it in the pipe above as far as that is pinned: the pin stays, with a warning.
 */
bool dt_hanger_waived(const dt_well *well, const dt_pin *liner, const dt_pin *above);

#endif
