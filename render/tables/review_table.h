/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_REVIEW_TABLE_H
#define DRAWTUBE_RENDER_REVIEW_TABLE_H

#include <drawtube/draw.h>

#include "review_words.h"
#include "sentence.h"

/** How much of a long list is told. */
typedef enum dt_extent { DT_IN_SHORT, DT_IN_FULL } dt_extent;

/** What stops the program, a line and one for each, begun with blanks; nothing where nothing does.
 */
dt_status dt_say_stoppers(sentence *s, const dt_program *program, int blanks, dt_extent extent,
                          dt_display display);

/** What to look at, string by string, the closest first; in short so much as takes ten lines. */
dt_status dt_say_review(sentence *s, const dt_program *program, const dt_review *review,
                        dt_extent extent, dt_display display);

/** What was taken where nothing was stated: in short how many values. */
dt_status dt_say_assumed(sentence *s, const dt_program *program, dt_extent extent,
                         dt_display display);

#endif
