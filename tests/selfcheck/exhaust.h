/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_EXHAUST_H
#define DRAWTUBE_SELFCHECK_EXHAUST_H

#include "claims.h"

/*
 * Small wells of which the planner says that no draft closes: every hole and pipe of a small
 * catalogue, with the shoe of the surface string on a coarse grid, planned in full with all of it
 * pinned. What closes is a miss of the planner's search.
 */

/** A few sizes, weights and grades of a catalogue, and its usual bits. Borrows the rest; only the
 * two lists are freed. */
bool small_catalogue_make(const dt_catalogue *all, dt_catalogue *out);
void small_catalogue_free(dt_catalogue *small);

/** A program that closes though it was said that none does. */
typedef struct miss {
    size_t tried;    /* programs planned with everything pinned */
    size_t closed;   /* of these without a stopper */
    size_t clean;    /* of these without a pin that breaks a rule for review */
    char first[400]; /* the first clean one, or else the first: its strings */
} miss;

/** Goes through all of them; conductor, surface and last string, or without a surface string. */
dt_status exhaust(const dt_well *well, const dt_catalogue *small, miss *out);

#endif
