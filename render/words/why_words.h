/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_WHY_WORDS_H
#define DRAWTUBE_RENDER_WHY_WORDS_H

#include "why.h"

/*
 * Reasons in words. Sentences are malloc'ed and owned by the caller: DT_OK, or DT_E_MEMORY.
 */

/** What bounds are eased by where people read field units (0.1 ppg, 100 psi, 100 ft) or metric ones
 * (10 kg/m3, 10 bar, 10 m). */
dt_why_steps dt_why_steps_in(dt_display display);

/** What binds a choice. */
dt_status dt_why_sentence(const dt_program *program, const dt_why_item *item, dt_display display,
                          char **out);

/** What easing the bound gains; *out is NULL when nothing is known. */
dt_status dt_slack_sentence(const dt_program *program, const dt_why_item *item, dt_display display,
                            char **out);

/** A switch, with the figures of the well file. */
dt_status dt_switch_words(const dt_switch *item, const dt_well *well, dt_display display,
                          char **out);

/** Why the set that forbids a wish does; *out is NULL when there is nothing to say. */
dt_status dt_why_not_sentence(const dt_verdict *verdict, dt_display display, char **out);

#endif
