/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_WELL_SLURRIES_H
#define DRAWTUBE_WELL_SLURRIES_H

#include "slurries.h"
#include "well.h"

/* Slurries a well may name: its own, and the built-in ones (slurries.h). */

/**
 * A slurry by name: the well file's, or else a built-in one. A sack of a well file's slurry
 * is 94 lb (API Spec 10A). well may be NULL. False when there is none.
 */
bool dt_slurry_find(const dt_well *well, const char *name, dt_slurry_spec *out);

#endif
