/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SWITCHES_H
#define DRAWTUBE_SWITCHES_H

#include "seats.h"
#include "well.h"

/* Rules and inputs of a well that can be left out, one by one: to see which of them forbid a wish,
 * and which program comes nearest where there is none. */

/** A rule or input that can be left out to see whether it is what forbids a wish. */
typedef enum dt_switch_kind {
    DT_SWITCH_RULE,     /* a rule of sections: mud limit, kick, sticking, influx volume */
    DT_SWITCH_TRIP,     /* trip margin */
    DT_SWITCH_COLLAPSE, /* collapse gradient */
    DT_SWITCH_FRESH_WATER,
    DT_SWITCH_INTERVAL,
    DT_SWITCH_PIN,        /* what the well file pins of one string */
    DT_SWITCH_COMPLETION, /* size the completion needs */
    DT_SWITCH_CLEARANCE,  /* gap between hole and coupling */
    DT_SWITCH_LOADS       /* design factors */
} dt_switch_kind;

typedef struct dt_switch {
    dt_switch_kind kind;
    dt_rule rule;
    size_t index; /* interval or pin */
} dt_switch;

typedef struct dt_switches {
    dt_switch *items;
    size_t count;
} dt_switches;

/** Every switch of a well. DT_OK, freed by dt_switches_free(); DT_E_MEMORY. */
dt_status dt_switches_list(const dt_well *well, dt_switches *out);
void dt_switches_free(dt_switches *switches);

/** The switch of a kind about an interval or a pin, by its index there; DT_NO_INDEX: there is none.
 */
size_t dt_switches_find(const dt_switches *switches, dt_switch_kind kind, size_t index);

/** Leaves it out of a copy of a well. Intervals and pins are not touched: who copied the well has
 * their lists. *none stands for the table of clearances then, and must outlive the copy. */
void dt_switch_off(const dt_switch *item, dt_well *copy, dt_clearance_row *none);

#endif
