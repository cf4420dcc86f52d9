/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_LINER_HANGERS_H
#define DRAWTUBE_LINER_HANGERS_H

#include "hanger.h"
#include "well.h"

/* What the well file's list of liner hangers asks, beside what one hanger can do (hanger.h). */

/** Capacity must be at least so many times what hangs: the list's factor, else 1. */
double dt_hanger_factor(const dt_well *well);

/**
 * May a pinned liner do without a hanger of the list? True when its size is pinned and no row
 * suits it in the pipe above as far as that is pinned: the pin stays, with a warning.
 */
bool dt_hanger_waived(const dt_well *well, const dt_pin *liner, const dt_pin *above);

#endif
