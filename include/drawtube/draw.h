/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PUBLIC_DRAW_H
#define DRAWTUBE_PUBLIC_DRAW_H

/*
 * Texts, tables, drawings and data of a result: libdrawtube-render. Nothing here computes
 * engineering. Each call makes its text in memory, DT_OK with *out, or DT_E_MEMORY and *out
 * untouched, unless it says more. `display` chooses the units that people read; data for other
 * programs has the units its schema says. `index` is the string's, of dt_program_at().
 */

#include <drawtube/questions.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- sentences --------------------------------------------------------------------------------
 */

/** A notice of a program or of a refusal as a sentence. */
DT_API dt_status dt_notice_text(const dt_notice *notice, dt_display display, dt_text *out);

/** One of the things that differ as a line, "shoe: 6550 ft MD -> 7000 ft MD (+450 ft)"; an empty
 * text where the two figures read the same. index below dt_changes_count(). DT_E_DOMAIN besides. */
DT_API dt_status dt_change_text(const dt_changes *changes, size_t index, dt_display display,
                                dt_text *out);
/** What that is about: "intermediate 2", "well"; 64 bytes are enough. index below
 * dt_changes_count(). */
DT_API void dt_change_where(const dt_changes *changes, size_t index, char *buffer, size_t size);

/** Why no program exists, as a paragraph; NULL makes an empty one. */
DT_API dt_status dt_refusal_text(const dt_refusal *refusal, dt_display display, dt_text *out);

/* ---- plain text for a terminal ----------------------------------------------------------------
 */

/** The program as a table. */
DT_API dt_status dt_write_program_table(const dt_program *program, dt_display display,
                                        dt_text *out);
/** The same with all that is for review and all that was assumed, which the other only begins. */
DT_API dt_status dt_write_program_full_table(const dt_program *program, dt_display display,
                                             dt_text *out);
/** The program as lines whose difference reads well: a fact a line, no column that moves, no line
 * number of the well file. */
DT_API dt_status dt_write_program_lines(const dt_program *program, dt_display display,
                                        dt_text *out);
/** What differs between two programs, string by string. */
DT_API dt_status dt_write_changes_text(const dt_changes *changes, dt_display display, dt_text *out);
/** Options side by side. */
DT_API dt_status dt_write_comparison_table(const dt_comparison *comparison, dt_display display,
                                           dt_text *out);
/** Odds. */
DT_API dt_status dt_write_odds_table(const dt_program *program, const dt_odds *odds,
                                     dt_display display, dt_text *out);
/** Reasons. */
DT_API dt_status dt_write_why_text(const dt_program *program, const dt_why *why, dt_display display,
                                   dt_text *out);
/** What became of a wish, given in the user's words. */
DT_API dt_status dt_write_verdict_text(const dt_program *program, const dt_verdict *verdict,
                                       const char *wish, dt_display display, dt_text *out);
/** Ratings, as the standard's tables print them and exact. */
DT_API dt_status dt_write_rated_table(const dt_rated *rated, dt_text *out);

/* ---- data for other programs ------------------------------------------------------------------
 */

/** The program as JSON, schema "drawtube.program/2": field units, numbers not rounded. */
DT_API dt_status dt_write_program_json(const dt_program *program, dt_text *out);
/** All options as JSON, schema "drawtube.options/1": field units, numbers not rounded. */
DT_API dt_status dt_write_comparison_json(const dt_comparison *comparison, dt_text *out);
/** What differs between two programs as JSON, schema "drawtube.changes/1": field units. */
DT_API dt_status dt_write_changes_json(const dt_changes *changes, dt_text *out);
/** Odds as JSON, schema "drawtube.odds/1". */
DT_API dt_status dt_write_odds_json(const dt_program *program, const dt_odds *odds, dt_text *out);
/** Reasons as JSON, schema "drawtube.why/1". */
DT_API dt_status dt_write_why_json(const dt_program *program, const dt_why *why, dt_text *out);
/** What became of a wish, given in the user's words. */
DT_API dt_status dt_write_verdict_json(const dt_program *program, const dt_verdict *verdict,
                                       const char *wish, dt_text *out);
/** Ratings as JSON, schema "drawtube.rating/1". */
DT_API dt_status dt_write_rated_json(const dt_rated *rated, dt_text *out);
/** The program table as CSV, a row a section, columns named and valued as in program.json. */
DT_API dt_status dt_write_program_csv(const dt_program *program, dt_text *out);
/** Holes and pipes as a wbGeometry object of WITSML 1.4.1.1. */
DT_API dt_status dt_write_witsml_geometry(const dt_program *program, dt_text *out);
/** The survey as a trajectory object of WITSML 1.4.1.1; DT_E_NONE when there is no station. */
DT_API dt_status dt_write_witsml_trajectory(const dt_program *program, dt_text *out);

/* ---- drawings, as SVG -------------------------------------------------------------------------
 */

/** Forms of the schematic: a full page, a column of a document, or a small picture. */
typedef enum dt_form { DT_FORM_PAGE, DT_FORM_COLUMN, DT_FORM_THUMBNAIL, DT_FORM_COUNT } dt_form;

/** "page", "column", "thumbnail"; static storage. */
DT_API const char *dt_form_text(dt_form form);

/** The well to scale in depth. */
DT_API dt_status dt_draw_schematic_form(const dt_program *program, dt_form form, dt_display display,
                                        dt_text *out);
/** The chosen program and the first options as schematics on one depth scale. */
DT_API dt_status dt_draw_comparison(const dt_comparison *comparison, dt_display display,
                                    dt_text *out);
/** The two programs that changes lie between as schematics beside each other, on one depth scale;
 * what differs is marked in the second. */
DT_API dt_status dt_draw_changes(const dt_changes *changes, dt_display display, dt_text *out);
/** The same of up to four programs, all held against one: changes[i] lies between it and the
 * program called names[i + 1]; names[0] is its own name. DT_E_DOMAIN for other numbers, or another
 * first program. */
DT_API dt_status dt_draw_changes_beside(const dt_changes *const *changes, const char *const *names,
                                        size_t count, dt_display display, dt_text *out);
/** What each program of a comparison costs against the share of drawn wells in which it holds;
 * DT_E_NONE for a well without spreads. */
DT_API dt_status dt_draw_certainty(const dt_comparison *comparison, dt_display display,
                                   dt_text *out);
/** Pore, fracture, margins, mud steps and seats against depth. */
DT_API dt_status dt_draw_window(const dt_program *program, dt_display display, dt_text *out);
/** The strings along the hole, depth against horizontal distance to one scale; DT_E_NONE for a well
 * without a path. */
DT_API dt_status dt_draw_course(const dt_program *program, dt_display display, dt_text *out);
/** Loads against ratings over depth of one string. */
DT_API dt_status dt_draw_strength(const dt_program *program, size_t index, dt_display display,
                                  dt_text *out);
/** The sheet of one string for the rig: its shoe track, cement and centralizers beside the figures
 * of running and cementing it, one upright A4 page. */
DT_API dt_status dt_draw_string_sheet(const dt_program *program, size_t index, dt_display display,
                                      dt_text *out);
/** The odds. */
DT_API dt_status dt_draw_odds(const dt_program *program, const dt_odds *odds, dt_display display,
                              dt_text *out);

/* ---- pages to read and to print ---------------------------------------------------------------
 */

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
 * shown beside the program. option_graph is the drawing of dt_draw_options() (graph.h), NULL where
 * there is none: it comes from a library of its own.
 * @return DT_OK; DT_E_MEMORY; DT_E_INPUT when the source is not the file of this program.
 */
DT_API dt_status dt_write_report(const dt_program *program, const dt_comparison *comparison,
                                 const dt_source *source, const dt_text *option_graph,
                                 dt_display display, dt_text *out);

/** One page to print: the drawing, the bills line by line, what each buys and risks. */
DT_API dt_status dt_write_comparison_page(const dt_comparison *comparison, dt_display display,
                                          dt_text *out);

#ifdef __cplusplus
}
#endif

#endif
