/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_WELL_PARTS_H
#define DRAWTUBE_PLANNER_WELL_PARTS_H

#include <stdbool.h>
#include <stddef.h>

#include "well.h"

/* What the three sources of the well stage share: well_xml.c hands a safe and pruned tree to
 * well_read.c, which fills the model that well_check.c checks. */

struct _xmlDoc;
struct _xmlNode;

/**
 * Parses the text safely and holds it against the compiled-in schema.
 * Elements the schema does not know are reported and taken out of the tree; the element
 * they stood in is marked (node->_private set), since what is left of it may be incomplete.
 * @param[out] out  the tree, freed by dt_well_free_doc(); NULL when the text is no well file at
 *                  all (then a finding says so).
 * @return DT_OK or DT_E_MEMORY.
 */
dt_status dt_well_open(const char *text, size_t size, dt_report *report, struct _xmlDoc **out);

/** The same for a basis file, of which nothing is taken out.
 * @param[out] schema_line  line where the tree first breaks the schema (wells/basis.xsd), 0 when it
 * fits: the reader of the basis tells the same better, so nothing is told here. */
dt_status dt_basis_tree(const char *text, size_t size, dt_report *report, struct _xmlDoc **out,
                        int *schema_line);

/** Size and emptiness of a file: false after a finding. */
bool dt_file_has_text(const char *text, size_t size, dt_report *report);

/** Finds the basis that a well file names, or takes that of where it stands, and stacks others over
 * it. Sets basis, own_basis and basis_taken alone. DT_OK (look at report->errors) or DT_E_MEMORY.
 */
dt_status dt_well_find_basis(const struct _xmlNode *root, const dt_basis *const *over, size_t count,
                             dt_report *report, dt_well *well);

/** Notes what the file states of what a basis has. DT_OK or DT_E_MEMORY. */
dt_status dt_well_note_stated(const struct _xmlNode *root, dt_well *well);

/** Frees what these two made. */
void dt_well_free_basis(dt_well *well);

/** Holds the values of a basis file's elements against the limits of a well file's. DT_OK (look at
 * report->errors) or DT_E_MEMORY. */
dt_status dt_well_limit_basis(const struct _xmlNode *root, dt_report *report);

/** Root element of a tree. */
const struct _xmlNode *dt_well_root(struct _xmlDoc *doc);

/** Frees the tree of dt_well_open(); NULL is allowed. */
void dt_well_free_doc(struct _xmlDoc *doc);

/** Parts of the model that could be read only in part: their checks would mislead. */
typedef struct dt_well_gaps {
    bool pore, fracture, collapse, overburden;
    bool path, pins, slurries, offsets;
    bool conductor; /* a depth or gradient stands there, but could not be read */
    bool over, water_depth;
} dt_well_gaps;

/**
 * Fills the model from the tree.
 * @param[out] well  must be zeroed but for its basis; on return every part is set, NAN where the
 * file has nothing.
 * @return DT_OK (look at report->errors) or DT_E_MEMORY.
 */
dt_status dt_well_read(struct _xmlDoc *doc, dt_report *report, dt_well *well, dt_well_gaps *gaps);

/** Makes depths of the model that differ in last digits alone one depth. DT_OK or DT_E_MEMORY. */
dt_status dt_well_join_depths(dt_well *well);

/** Frees the offset wells of the model. */
void dt_offsets_free(dt_well *well);

/** dt_well_check() for a model with gaps. */
void dt_well_check_known(const dt_well *well, const dt_well_gaps *gaps, dt_report *report);

/** The part of the checks that is about loads; called by dt_well_check_known(). */
void dt_well_check_loads(const dt_well *well, const dt_well_gaps *gaps, dt_report *report);

/** The part that is about hangers and tests of liners; called likewise. */
void dt_well_check_liners(const dt_well *well, dt_report *report);

/** A user's text made fit for a message: cut to a readable length, control characters masked. */
typedef struct dt_quoted {
    char text[72];
} dt_quoted;
dt_quoted dt_quote(const char *text);

/** Where in the file, for findings: "interval/@top", "pinned/string/@od". */
typedef struct dt_place {
    char text[240];
} dt_place;
dt_place dt_place_of(const struct _xmlNode *node, const char *attribute);

/** True when UTF-8 text holds a C0 or C1 control character. */
bool dt_has_controls(const char *text);

#endif
