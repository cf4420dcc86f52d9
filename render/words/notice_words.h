/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_NOTICE_WORDS_H
#define DRAWTUBE_RENDER_NOTICE_WORDS_H

#include "program.h"

/* Facts as sentences: the templates of notices.def filled in. */

/** A notice as a sentence, in display units. DT_OK with *out malloc'ed, owned by the caller;
 * DT_E_MEMORY; DT_E_DOMAIN when its template names what the notice does not state. */
dt_status dt_notice_words(const dt_notice *notice, dt_display display, char **out);

/** What an assumed notice is told in: what was not stated, the value taken, where from. */
typedef enum dt_notice_part { DT_NOT_STATED, DT_TAKEN, DT_FROM } dt_notice_part;

/** One part of it; the same. NULL in *out where there is no such part. */
dt_status dt_notice_part_words(const dt_notice *notice, dt_notice_part part, dt_display display,
                               char **out);

/** Why no program exists, as a paragraph; the same. NULL in *out when nothing was refused. */
dt_status dt_refusal_words(const dt_refusal *refusal, dt_display display, char **out);

/** A reason as a sentence with both sides of the inequality; the same. */
dt_status dt_reason_sentence(const dt_reason *reason, const dt_well *well, dt_display display,
                             char **out);

/** What a notice is about: "surface", "production tie-back", "well". */
int dt_notice_where(const dt_program *program, const dt_notice *notice, char *buffer, size_t size);

/**
 * What the top of a string's cement was placed by, as a phrase: "500 ft above Lantern sand,
 * whose top is at 11200 ft TVD". DT_OK with *out malloc'ed, owned by the caller; DT_E_MEMORY.
 */
dt_status dt_cement_top_phrase(const dt_program *program, size_t index, dt_display display,
                               char **out);

/** What the field unit of a kind is called at the end of a JSON key: "ft", "psi"; "" for none. */
const char *dt_key_unit(dt_kind kind);

#endif
