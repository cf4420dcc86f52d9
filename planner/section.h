/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_SECTION_H
#define DRAWTUBE_PLANNER_SECTION_H

#include "drawtube/seats.h"

/**
 * How much room a section has: the least spare of all its rules in units of each rule's kind,
 * below 0 exactly when dt_section_test() finds it broken. For closing in on a limit: between
 * two breaks it is continuous in the moving end.
 */
double dt_section_spare(const dt_window *window, double top_m, double base_m);

#endif
