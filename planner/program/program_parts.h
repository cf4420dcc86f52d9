/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_PROGRAM_PARTS_H
#define DRAWTUBE_PLANNER_PROGRAM_PARTS_H

#include "basis.h"
#include "program.h"

/* What program.c shares with the sources that speak for one stage. Notices go into p->notices,
 * whose `failed` is looked at once, at the end. */

/** A notice that needs no figures: a condition of the well, and what it is a sign of. */
typedef struct dt_plain_notice {
    bool raised;
    dt_notice_code code;
} dt_plain_notice;

/** Adds those that are raised, about the whole well. */
void dt_program_note_plainly(dt_program *p, const dt_plain_notice *all, size_t count);

/** States a value of the well's basis: its figure in SI, and as the basis spells it. */
void dt_note_custom(dt_notice *notice, const dt_well *well, const char *name, dt_custom custom);

/** The same of one value of several, unless the well file states that one. */
void dt_note_open_custom(dt_notice *notice, const dt_well *well, const char *name,
                         dt_custom custom);

/** What is asked, pinned and taken for granted: the well, its seats, holes and kicks. */
void dt_program_note(dt_program *p);

/** What the strength of strings, wellhead and landing rests on, and what was not looked at. */
void dt_program_note_strength(dt_program *p);

/** Sections that fail a case: pinned pipe is kept all the same; that pipe the planner chose fails
 * is held here against its own screen, whatever the search believed. */
void dt_program_note_sections(dt_program *p, size_t index);

/** Laps that are too short, hangers that are not checked or do not suit a pin. */
void dt_program_note_liners(dt_program *p);

/** What the reader must know of running and cementing. */
void dt_program_note_jobs(dt_program *p);

/** Pinned pipe that the catalogue does not have. DT_OK; DT_E_INPUT with the refusal; DT_E_MEMORY.
 */
dt_status dt_program_check_pins(const dt_program *p, dt_refusal *refusal);

/** Why there are no seats, no nest, no pipe. DT_E_NONE, or DT_E_MEMORY. */
dt_status dt_program_refuse_seats(const dt_program *p, dt_refusal *refusal);
/** No holes and pipes do under the rules of holes: which of these alone stands in the way. */
/** Adds to a refusal for want of seats what would cure it. DT_OK or DT_E_MEMORY. */
dt_status dt_program_note_cures(const dt_program *p, dt_notices *list);
dt_status dt_program_refuse_ladders(dt_program *p, dt_refusal *refusal);
dt_status dt_program_refuse_nest(const dt_program *p, size_t blocked, dt_refusal *refusal);
dt_status dt_program_refuse_strings(const dt_program *p, const dt_shortfall *shortfall,
                                    dt_refusal *refusal);

/** Plans how every string is run and cemented, into p->jobs. DT_OK or DT_E_MEMORY. */
dt_status dt_program_jobs(dt_program *p);

/** What hangs on the hanger of a liner, and which one it is. */
void dt_program_hang(const dt_program *p, size_t index, dt_program_string *item);

#endif
