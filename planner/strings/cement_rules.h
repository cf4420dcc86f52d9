/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_CEMENT_RULES_H
#define DRAWTUBE_PLANNER_CEMENT_RULES_H

#include "basis.h"
#include "seats.h"
#include "well_slurries.h"

/*
 * What of a cement job follows from seats, rock and mud alone, before there is pipe: where the
 * cement ends and which slurries it is of. The loads of a string stand on it (docs/strength.md),
 * and its job is planned by it (docs/cement.md).
 */

/** Rule a cement top was placed by. */
#define DT_CEMENT_RULE_LIST(X)                                                                     \
    X(NONE, "none", "driven or jetted, not cemented")                                              \
    X(TO_GROUND, "to-ground", "to ground level or mudline")                                        \
    X(ABOVE_SHOE, "above-shoe", "above the shoe and above the shallowest zone behind it")          \
    X(TO_LINER_TOP, "to-liner-top", "whole liner and lap")                                         \
    X(PINNED, "pinned", "as the well file says")

typedef enum dt_cement_rule {
#define DT_CEMENT_RULE_ENUM(name, code, words) DT_CEMENT_##name,
    DT_CEMENT_RULE_LIST(DT_CEMENT_RULE_ENUM)
#undef DT_CEMENT_RULE_ENUM
        DT_CEMENT_RULE_COUNT
} dt_cement_rule;

/** Where cement ends, and why there. */
typedef struct dt_cement_end {
    dt_cement_rule rule;
    double top_tvd_m;               /* NAN: not cemented */
    size_t zone_pay, zone_interval; /* the zone that set it, or DT_NO_INDEX */
} dt_cement_end;

/** Is every full string cemented to the surface, as in hot wells? */
bool dt_cement_to_surface(const dt_well *well);

/** Top of the cement of a string by its pin or by the rule of its role; a liner's is top_tvd_m. */
dt_cement_end dt_cement_end_of(const dt_well *well, const dt_seats *seats, size_t string,
                               double top_tvd_m, double shoe_tvd_m);

/** A slurry by name, or that of the basis where the name is NULL or unknown. */
dt_slurry_spec dt_cement_slurry_or(const dt_well *well, const char *name, dt_custom otherwise);

/** Density, kg/m3, that a slurry must have to follow the mud. */
double dt_cement_lightest(const dt_well *well, double mud_kgm3);

/** The tail in force, or where the file names none the next heavier one for a heavy mud. */
dt_slurry_spec dt_cement_tail(const dt_well *well, double mud_kgm3);

/** Length of the tail of a job of so much length, m: stated, or a part of it within limits. */
double dt_cement_tail_length(const dt_well *well, double length_m);

/** Does the job have this lead: stated, or heavy enough to follow the mud? */
bool dt_cement_leads(const dt_well *well, const dt_slurry_spec *lead, double mud_kgm3);

#endif
