/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_COMPARISON_PARTS_H
#define DRAWTUBE_PLANNER_COMPARISON_PARTS_H

#include "comparison.h"

/* What comparison.c shares with the sources that speak for one part of a comparison. */

/**
 * Plans the options that were found in full and puts those that close in the order of what they
 * come to. DT_OK, DT_E_STOPPED or DT_E_MEMORY.
 */
dt_status dt_comparison_list(dt_comparison *c, const dt_catalogue *catalogue);

/** Frees the programs of the list that nothing took. */
void dt_comparison_drop_plans(dt_comparison *c);

/** Where a program, given as an option too, stands in the order that plans are drafted in. well: as
 * the engineer wrote it, without the pins of an option. */
void dt_standing_of(const dt_program *program, const dt_well *well, const dt_option *option,
                    dt_standing *out);

/** Do shoes of the plan stand where most of the drawn wells hold? What that costs, it buys. */
bool dt_comparison_surest(const dt_comparison *c);

/** Notes why the plan is not the first of the options, and why one that beats it is not the plan.
 * DT_OK or DT_E_MEMORY. */
dt_status dt_comparison_note_order(dt_comparison *c);

/** Looks at liner, full string and tie-back where the plan and the first option have one of them.
 * DT_OK or DT_E_MEMORY. */
dt_status dt_comparison_twins(dt_comparison *c, const dt_catalogue *catalogue);
void dt_twins_free(dt_comparison *c);

#endif
