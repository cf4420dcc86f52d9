/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_TRIGGER_WORDS_H
#define DRAWTUBE_RENDER_TRIGGER_WORDS_H

#include "program.h"
#include "text.h"

/** Which string is run past the bounds of a hole: "a contingency 16 in liner in 18-1/2 in hole",
 * "no string is left to run". Appends. */
void dt_trigger_words(const dt_program *program, size_t string, const dt_trigger *trigger,
                      dt_buffer *out);

#endif
