/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_COMPARE_WORDS_H
#define DRAWTUBE_RENDER_COMPARE_WORDS_H

#include "comparison.h"

/*
 * A comparison in words. Sentences are malloc'ed and owned by the caller: DT_OK, or DT_E_MEMORY.
 */

/** "24 / 16 / 10-3/4 / 7-5/8 liner, tied back / 5"; returns the length as snprintf does. */
int dt_option_sizes(const dt_option *option, char *buffer, size_t size);

/** A sentence about one of comparison's items. */
typedef dt_status dt_item_sentence(const dt_comparison *c, size_t index, dt_display display,
                                   char **out);

/** Strings of an item that differ from the chosen program; "" when none do. */
dt_item_sentence dt_changes_sentence;

/** Pros and cons of an item beside the chosen program. */
dt_item_sentence dt_buys_sentence;
dt_item_sentence dt_risks_sentence;

/** The string of a twin of comparison->twins: "9-5/8 in intermediate"; returns the length as
 * snprintf does. */
int dt_twin_string_name(const dt_comparison *c, size_t index, char *buffer, size_t size);

/** What else changes with a twin of comparison->twins, or why there is none. "" of the program
 * itself. */
dt_item_sentence dt_twin_sentence;

/** A note of comparison->notes, with a capital letter and a full stop. */
dt_item_sentence dt_comparison_note;

/** What was looked at, and (static storage) why nothing is missing. */
dt_status dt_searched_sentence(const dt_comparison *c, dt_display display, char **out);
const char *dt_proof_words(void);

/** What a contingency comes to. */
dt_status dt_contingency_sentence(const dt_program *program, size_t interval,
                                  const dt_contingency *contingency, char **out);

#endif
