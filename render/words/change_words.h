/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_CHANGE_WORDS_H
#define DRAWTUBE_RENDER_CHANGE_WORDS_H

#include <drawtube/draw.h> /* dt_change_where() */

#include "changes.h"

/** One thing that differs: "shoe: 6550 ft MD -> 7000 ft MD (+450 ft)". DT_OK with *out malloc'ed,
 * NULL where the two read the same; DT_E_MEMORY, DT_E_DOMAIN as dt_notice_words(). */
dt_status dt_change_words(const dt_changes *changes, size_t index, dt_display display, char **out);

/** The same in few words, for a drawing in which the first program stands beside: "shoe +450 ft",
 * "was 9-5/8 in". Empty for what a drawing of the strings does not tell, and where the two read the
 * same. */
void dt_change_brief(const dt_changes *changes, size_t index, dt_display display, char *buffer,
                     size_t size);

#endif
