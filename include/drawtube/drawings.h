/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_DRAWINGS_H
#define DRAWTUBE_DRAWINGS_H

#include "drawtube/comparison.h"
#include "drawtube/odds.h"
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

/** Frees the bytes; NULL, and a text that is empty, are allowed. */
void dt_text_free(dt_text *text);

/** Forms of the schematic: a full page, a column of a document, or a small picture. */
typedef enum dt_form { DT_FORM_PAGE, DT_FORM_COLUMN, DT_FORM_THUMBNAIL, DT_FORM_COUNT } dt_form;

/** "page", "column", "thumbnail"; static storage. */
const char *dt_form_text(dt_form form);

/** The well to scale in depth, as SVG. DT_OK or DT_E_MEMORY. */
dt_status dt_draw_schematic_form(const dt_program *program, dt_form form, dt_display display,
                                 dt_text *out);

/** The same as a full page. */
dt_status dt_draw_schematic(const dt_program *program, dt_display display, dt_text *out);

/** Pore, fracture, margins, mud steps and seats against depth, as SVG. */
dt_status dt_draw_window(const dt_program *program, dt_display display, dt_text *out);

/**
 * The part of the nest that matters with the chosen path marked, laid out by Graphviz in a
 * child process. DT_E_IO when the layout engine is not there: *out is then untouched.
 */
dt_status dt_draw_options(const dt_program *program, dt_display display, dt_text *out);

/** Pictures for what cannot read SVG. */
typedef enum dt_picture { DT_PICTURE_PNG, DT_PICTURE_PDF } dt_picture;

/** Whether this build has librsvg and cairo, which make pictures. */
bool dt_pictures_built_in(void);

/**
 * A drawing of ours as PNG of 300 dots an inch, or as PDF with its lines and text, made in a
 * child process. DT_OK; DT_E_IO when pictures are not built in, or svg is no drawing with a
 * size; DT_E_MEMORY.
 */
dt_status dt_draw_picture(const dt_text *svg, dt_picture kind, dt_text *out);

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

/** The program table as CSV, a row a section, columns named and valued as in program.json. */
dt_status dt_write_program_csv(const dt_program *program, dt_text *out);

/** Holes and pipes as a wbGeometry object of WITSML 1.4.1.1. */
dt_status dt_write_witsml_geometry(const dt_program *program, dt_text *out);

/** The survey as a trajectory object of WITSML 1.4.1.1; DT_E_NONE when there is no station. */
dt_status dt_write_witsml_trajectory(const dt_program *program, dt_text *out);

/** The well file a program was made from, as it was read. All borrowed. */
typedef struct dt_source {
    const char *file; /* as the user typed it */
    const char *text;
    size_t size;
} dt_source;

/**
 * The program as one self-contained page of HTML: drawings inside it, no script, nothing to
 * load, made to be read on a screen and printed on A4 or Letter. Each figure that program.json
 * holds names its place there in a data-json attribute. The source is echoed with its line
 * numbers and tells which settings were stated. comparison may be NULL: then no options are
 * shown beside the program.
 * @return DT_OK; DT_E_MEMORY; DT_E_INPUT when the source is not the file of this program.
 */
dt_status dt_write_report(const dt_program *program, const dt_comparison *comparison,
                          const dt_source *source, dt_display display, dt_text *out);
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
