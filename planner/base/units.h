/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_UNITS_H
#define DRAWTUBE_UNITS_H

/*
 * Inside the library every quantity is SI: m, Pa, kg/m3, kg/m, N, rad, m3, s.
 * Units appear at the edges only: the readers and the writers use this header.
 */
#include <drawtube/base.h>

#include <stdbool.h>

/** One unit of one kind: SI value = number * factor. All our kinds have zero offset. */
typedef struct dt_unit {
    dt_kind kind;
    const char *symbol;
    double factor;
} dt_unit;

/** The table of all units; *count receives its length. Static storage. */
const dt_unit *dt_unit_table(size_t *count);

/** The unit of that kind and symbol (exact spelling), or NULL. */
const dt_unit *dt_unit_find(dt_kind kind, const char *symbol);

/**
 * The unit of that kind as people write it: our symbols in any case, "feet", "lb/gal", "S.G.",
 * kg/m3 with the power sign (planner/base/spellings.def). NULL when it is none.
 */
const dt_unit *dt_unit_spelt(dt_kind kind, const char *text);

/** As dt_quantity_parse(), and *unit is the unit that was written; untouched unless DT_PARSE_OK. */
dt_parse dt_quantity_read(const char *text, dt_kind kind, double *si, const dt_unit **unit);

/**
 * What somebody meant who wrote "12,4 ppg" or "10 000 ft": words that say how it is written
 * here. False: the text has nothing of the kind, out is untouched.
 */
bool dt_number_mend(const char *text, char *out, size_t size);

/** SI value of a kind in the display system, as a number. */
double dt_display_value(dt_display display, dt_kind kind, double si);

/** Symbol the display system uses for a kind, static storage. */
const char *dt_display_unit(dt_display display, dt_kind kind);

#endif
