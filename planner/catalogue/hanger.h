/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_HANGER_H
#define DRAWTUBE_HANGER_H

#include "catalogue.h"

/*
 * A liner's hanger: does it suit the liner, the pipe it is set in and what is run through it?
 * Method: docs/strength.md.
 */

/** A liner hanger that can be had: which liner it hangs in which pipe, and what it bears. */
typedef struct dt_hanger {
    double liner_m, casing_m;          /* outside diameters */
    double lightest_kgm, heaviest_kgm; /* of the casing it is set in; NAN: any */
    double capacity_n;
    double bore_m;            /* what is run through it below */
    double receptacle_bore_m; /* of the tie-back receptacle on top; NAN: none, or not stated */
    int line;
} dt_hanger;

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

#endif
