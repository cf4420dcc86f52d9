/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_DRAWINGS_H
#define DRAWTUBE_DRAWINGS_H

#include "drawtube/odds.h"
#include "drawtube/comparison.h"
#include "drawtube/program.h"
#include "drawtube/why.h"

/*
 * The leaves: each reads a program and fills a byte buffer. No file is touched, nothing
 * is computed that an engineer would question.
 */

/** Bytes made by a writer; owned by the caller, freed by dt_text_free(). Always NUL-terminated. */
typedef struct dt_text {
    char *bytes;
    size_t size; /* without the NUL */
} dt_text;

void dt_text_free(dt_text *text);

/** The well to scale in depth, as SVG. DT_OK or DT_E_MEMORY. */
dt_status dt_draw_schematic(const dt_program *program, dt_display display, dt_text *out);

/** Pore, fracture, margins, mud steps and seats against depth, as SVG. */
dt_status dt_draw_window(const dt_program *program, dt_display display, dt_text *out);

/**
 * The part of the nest that matters with the chosen path marked, laid out by Graphviz in a
 * child process. DT_E_IO when the layout engine is not there: *out is then untouched.
 */
dt_status dt_draw_options(const dt_program *program, dt_display display, dt_text *out);

/**
 * The sheet of one string for the rig: its shoe track, cement and centralizers beside the
 * figures of running and cementing it, one upright A4 page, as SVG.
 * @param[in] index  below program->count. DT_OK or DT_E_MEMORY.
 */
dt_status dt_draw_string_sheet(const dt_program *program, size_t index, dt_display display,
                               dt_text *out);
/** Loads against ratings over depth of one string, index from 0 for the conductor, as SVG. */
dt_status dt_draw_strength(const dt_program *program, size_t index, dt_display display,
                           dt_text *out);

/** The program as JSON, schema "drawtube.program/1": field units, numbers not rounded. */
dt_status dt_write_program_json(const dt_program *program, dt_text *out);

/** A rating as JSON, schema "drawtube.rating/1"; loaded NULL: no load was stated. */
dt_status dt_write_rating_json(const dt_pipe *pipe, const dt_rating *rating,
                               const dt_loaded_rating *loaded, dt_text *out);

/** A rating for a terminal, plain text: as the standard's tables print it, and exact. */
dt_status dt_write_rating_table(const dt_pipe *pipe, const dt_rating *rating,
                                const dt_loaded_rating *loaded, dt_text *out);

/** Reasons for a terminal, and as JSON, schema "drawtube.why/1". */
dt_status dt_write_why_text(const dt_program *program, const dt_why *why, dt_display display,
                            dt_text *out);
dt_status dt_write_why_json(const dt_program *program, const dt_why *why, dt_text *out);

/** What became of a wish, given in the user's words; the same two forms. */
dt_status dt_write_verdict_text(const dt_program *program, const dt_verdict *verdict,
                                const char *wish, dt_display display, dt_text *out);
dt_status dt_write_verdict_json(const dt_program *program, const dt_verdict *verdict,
                                const char *wish, dt_text *out);

/** Odds as a table for a terminal; as JSON, schema "drawtube.odds/1"; and as a drawing. */
dt_status dt_write_odds_table(const dt_program *program, const dt_odds *odds, dt_display display,
                              dt_text *out);
dt_status dt_write_odds_json(const dt_program *program, const dt_odds *odds, dt_text *out);
dt_status dt_draw_odds(const dt_program *program, const dt_odds *odds, dt_display display,
                       dt_text *out);

/** The program as a table for a terminal, plain text. */
dt_status dt_write_program_table(const dt_program *program, dt_display display, dt_text *out);

/** Options side by side, as a table for a terminal. */
dt_status dt_write_comparison_table(const dt_comparison *comparison, dt_display display,
                                    dt_text *out);

/** All options as JSON, schema "drawtube.options/1": field units, numbers not rounded. */
dt_status dt_write_comparison_json(const dt_comparison *comparison, dt_text *out);

/** The chosen program and the first options as schematics on one depth scale, as SVG. */
dt_status dt_draw_comparison(const dt_comparison *comparison, dt_display display, dt_text *out);

/** One page to print: the drawing, the bills line by line, what each buys and risks. */
dt_status dt_write_comparison_page(const dt_comparison *comparison, dt_display display,
                                   dt_text *out);

#endif
