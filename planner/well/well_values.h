/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_WELL_VALUES_H
#define DRAWTUBE_PLANNER_WELL_VALUES_H

#include <stdbool.h>
#include <stddef.h>

#include <libxml/tree.h>

#include "units.h"
#include "well_parts.h"

/* Single values of a well file: text to number, word or name, each with its finding when it is
 * none. What is absent or refused is NAN, NULL or the default, so later checks pass over it. */

/** What a value may be at all. A limit catches slips of the pen, it does not judge designs. */
typedef struct dt_limit {
    double least, most;
    bool above; /* the value must be more than `least`, not only at least that */
    const char *why;
} dt_limit;

/** One attribute of an element and where its value goes. */
typedef struct dt_field {
    const char *name;
    dt_kind kind;
    const dt_limit *bound;
    size_t offset; /* of a double in the element's struct */
} dt_field;

typedef struct dt_reader {
    dt_report *report;
    dt_well *well;
    dt_well_gaps *gaps;
    bool out_of_memory;
    bool rounding_stated; /* the well says what its shoes are rounded to */
    bool units_said;      /* by <well> itself */
} dt_reader;

/** Line of an element in the file. */
int dt_line_of(const xmlNode *node);

/** Value of an attribute, freed by xmlFree(); NULL when the element has none. */
char *dt_attribute(dt_reader *r, const xmlNode *node, const char *name);

/** True when the element has the attribute. */
bool dt_has_attribute(const xmlNode *node, const char *name);

/** Index of the attribute's word in a list; `otherwise` when absent or (as told before) wrong. */
int dt_read_word(dt_reader *r, const xmlNode *node, const char *name, const char *const *words,
                 int count, int otherwise);

/** A yes or no; `otherwise` when absent. */
bool dt_read_yes(dt_reader *r, const xmlNode *node, const char *name, bool otherwise);

/** malloc'ed copy; NULL when out of memory, which is noted. */
char *dt_copy_text(dt_reader *r, const char *text);

/** A name as it stands, malloc'ed; NULL when absent or refused. Escaping is for the writers. */
char *dt_read_name(dt_reader *r, const xmlNode *node, const char *name);

/** The finding for a text that is no quantity; `choices` are the units that would do. */
void dt_report_parse(dt_reader *r, const xmlNode *node, const char *name, const char *text,
                     dt_parse parse, const char *choices);

/** True when the SI value is within the limit; else a finding that tells the limit in the
 * unit the user wrote.
 */
bool dt_within_limit(dt_reader *r, const xmlNode *node, const char *name, const char *text,
                     double si, const dt_limit *bound, double factor, const char *symbol);

/** The unit a well-read quantity was written in. */
const dt_unit *dt_unit_of(const char *text, dt_kind kind);

/** Reads one quantity: NAN when the element has none or it is refused. False when refused. */
bool dt_read_quantity(dt_reader *r, const xmlNode *node, const char *name, dt_kind kind,
                      const dt_limit *bound, double *out);

/** Reads a bare number times `factor`, for points and design factors. As dt_read_quantity(). */
bool dt_read_number(dt_reader *r, const xmlNode *node, const char *name, double factor,
                    const char *symbol, const dt_limit *bound, double *out);

/** Reads a margin, a density or a pressure; zero when there is none or it is refused. */
void dt_read_margin(dt_reader *r, const xmlNode *node, const char *name, dt_margin *margin);

xmlNodePtr dt_child_named(const xmlNode *parent, const char *name);
xmlNodePtr dt_next_named(const xmlNode *node, const char *name);
/** Zeroed memory for all children of a name, so many that later stages can compare them with each
 * other; NULL and 0 when there are none. */
void *dt_list_for(dt_reader *r, const xmlNode *parent, const char *name, size_t size,
                  size_t *count);

/** Reads all fields of an element. False when one was refused. */
bool dt_read_fields(dt_reader *r, const xmlNode *node, const dt_field *fields, size_t count,
                    void *base);

#endif
