/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_WELL_ELEMENTS_H
#define DRAWTUBE_PLANNER_WELL_ELEMENTS_H

#include "well_values.h"

/* Readers of elements that well_read.c leaves to others, and what the model says where the file
 * has none of them. */

/* ---- well_pressure.c ---- */

/** sd, low, high and distribution of a depth. */
void dt_read_depth_spread(dt_reader *r, const xmlNode *node, dt_depth_spread *spread);
/** Reads a fracture gradient given by a method; false when it is given by points. */
bool dt_read_fracture_method(dt_reader *r, const xmlNode *node);
void dt_read_leak_offs(dt_reader *r, const xmlNode *root);
/** Computes or calibrates the fracture gradient once everything it needs has been read. */
void dt_settle_fracture(dt_reader *r);
void dt_read_kick(dt_reader *r, xmlNodePtr node);
void dt_pressure_absent(dt_well *well);

/* ---- well_offsets.c ---- */

void dt_read_offsets(dt_reader *r, xmlNodePtr node);
/** Makes the tables that the file leaves out of its offset wells, where it has some; after the
 * objective is settled. */
void dt_settle_offsets(dt_reader *r);

/* ---- well_spread.c ---- */

void dt_read_spread(dt_reader *r, xmlNodePtr node);
/** Gives the tables that state no spread the customary one of the class, where one is named; after
 * the fracture gradient is settled. */
void dt_settle_spread(dt_reader *r);

/* ---- well_read_prices.c ---- */

void dt_read_prices(dt_reader *r, xmlNodePtr node);
void dt_read_times(dt_reader *r, xmlNodePtr node);
void dt_read_wishes(dt_reader *r, xmlNodePtr node);
void dt_prices_absent(dt_well *well);

/* ---- well_read_jobs.c ---- */

void dt_read_cementing(dt_reader *r, xmlNodePtr node);
void dt_read_rheology(dt_reader *r, xmlNodePtr node);
void dt_read_running(dt_reader *r, xmlNodePtr node);
void dt_read_caliper(dt_reader *r, xmlNodePtr node);
void dt_jobs_absent(dt_well *well);

/* ---- well_read_loads.c ---- */

void dt_read_loads(dt_reader *r, xmlNodePtr node);
void dt_read_temperature(dt_reader *r, xmlNodePtr node);
void dt_read_derating(dt_reader *r, xmlNodePtr node);
void dt_read_wellhead(dt_reader *r, xmlNodePtr node);
void dt_loads_absent(dt_well *well);
/** The influx of the basis, where kicks go by role and the file states none. */
void dt_take_influx(dt_well *well);

/* ---- well_liners.c ---- */

void dt_read_hangers(dt_reader *r, xmlNodePtr node);
void dt_read_liner_test(dt_reader *r, xmlNodePtr node);
void dt_liners_absent(dt_well *well);

#endif
