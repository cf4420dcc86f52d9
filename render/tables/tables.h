/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_TABLES_H
#define DRAWTUBE_RENDER_TABLES_H

#include "comparison.h"
#include "odds.h"
#include "program.h"
#include "text.h"
#include "why.h"

/* Plain text for a terminal. */

/** The program as a table for a terminal, plain text. */
dt_status dt_write_program_table(const dt_program *program, dt_display display, dt_text *out);

/** Options side by side, as a table for a terminal. */
dt_status dt_write_comparison_table(const dt_comparison *comparison, dt_display display,
                                    dt_text *out);

/** Odds as a table for a terminal. */
dt_status dt_write_odds_table(const dt_program *program, const dt_odds *odds, dt_display display,
                              dt_text *out);

/** Reasons for a terminal. */
dt_status dt_write_why_text(const dt_program *program, const dt_why *why, dt_display display,
                            dt_text *out);

/** What became of a wish, given in the user's words. */
dt_status dt_write_verdict_text(const dt_program *program, const dt_verdict *verdict,
                                const char *wish, dt_display display, dt_text *out);

/** A rating for a terminal, plain text: as the standard's tables print it, and exact. */
dt_status dt_write_rating_table(const dt_pipe *pipe, const dt_rating *rating,
                                const dt_loaded_rating *loaded, dt_text *out);

#endif
