/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_ODDS_WORDS_H
#define DRAWTUBE_RENDER_ODDS_WORDS_H

#include "odds.h"

/** "pore pressure at 11000 ft", "top of Tansy sand"; name may be cut. */
void dt_odds_input_words(const dt_program *program, const dt_odds_input *input, dt_display display,
                         char *buffer, size_t size);

/** "casing does not hold", and so on; static storage. */
const char *dt_odds_stage_words(dt_stage stage);

/** What broke after the seats: of a load its words, else of what stops the program; static storage.
 */
const char *dt_odds_cause_words(const dt_odds_cause *cause);

#endif
