/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_PROGRAM_PARTS_H
#define DRAWTUBE_PLANNER_PROGRAM_PARTS_H

#include "program.h"
#include "sentence.h"

/* What program.c shares with the sources that speak for one stage. */

/** Adds a warning; takes the text over. DT_OK or DT_E_MEMORY. */
dt_status dt_program_warn(dt_program *p, const char *code, const char *where, sentence *text);

/** A warning that needs no numbers: a condition of the well and what follows from it. */
typedef struct dt_plain_warning {
    bool raised;
    const char *code, *text;
} dt_plain_warning;

/** Adds those that are raised, about the whole well. DT_OK or DT_E_MEMORY. */
dt_status dt_program_warn_plainly(dt_program *p, const dt_plain_warning *all, size_t count);

/** What the strength of strings, wellhead and landing rests on, and what was not looked at. */
dt_status dt_program_warn_strength(dt_program *p, dt_display display);

/** Sections that fail a case: pinned pipe is kept all the same; that pipe the planner chose fails
 * is held here against its own screen, whatever the search believed. DT_OK or DT_E_MEMORY. */
dt_status dt_program_warn_of_sections(dt_program *p, size_t index, const char *name,
                                      dt_display display);

/** Pinned pipe that the catalogue does not have. DT_OK; DT_E_INPUT with refusal->text; DT_E_MEMORY.
 */
dt_status dt_program_check_pins(const dt_program *p, dt_display display, dt_refusal *refusal);

/** Plans how every string is run and cemented, into p->jobs. DT_OK or DT_E_MEMORY. */
dt_status dt_program_jobs(dt_program *p);

/** What hangs on the hanger of a liner, and which one it is. */
void dt_program_hang(const dt_program *p, size_t index, dt_program_string *item);

/** Laps that are too short, hangers that are not checked or do not suit a pin. */
dt_status dt_program_warn_of_liners(dt_program *p, dt_display display);

/** What the reader must know of running and cementing. */
dt_status dt_program_warn_of_jobs(dt_program *p, dt_display display);

#endif
