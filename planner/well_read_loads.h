/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_WELL_READ_LOADS_H
#define DRAWTUBE_PLANNER_WELL_READ_LOADS_H

#include "well_values.h"

/* Readers of the elements that say how strings are loaded. */

void dt_read_loads(dt_reader *r, xmlNodePtr node);
void dt_read_temperature(dt_reader *r, xmlNodePtr node);
void dt_read_derating(dt_reader *r, xmlNodePtr node);
void dt_read_wellhead(dt_reader *r, xmlNodePtr node);
/* well_liners.c */
void dt_read_hangers(dt_reader *r, xmlNodePtr node);
void dt_read_liner_test(dt_reader *r, xmlNodePtr node);

/** What the model says where the file has none of them. */
void dt_loads_absent(dt_well *well);
void dt_liners_absent(dt_well *well);

#endif
