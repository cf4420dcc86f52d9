/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_ODDS_WORDS_H
#define DRAWTUBE_RENDER_ODDS_WORDS_H

#include "odds.h"

/** "pore pressure at 11000 ft", "top of Tansy sand"; name may be cut. */
void dt_odds_input_words(const dt_program *program, const dt_odds_input *input, dt_display display,
                         char *buffer, size_t size);

#endif
