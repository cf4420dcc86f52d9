/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_DATA_H
#define DRAWTUBE_RENDER_DATA_H

#include "comparison.h"
#include "odds.h"
#include "program.h"
#include "text.h"
#include "why.h"

/* Results for other programs: JSON, CSV, WITSML. */

/** The program as JSON, schema "drawtube.program/2": field units, numbers not rounded. */
dt_status dt_write_program_json(const dt_program *program, dt_text *out);

/** All options as JSON, schema "drawtube.options/1": field units, numbers not rounded. */
dt_status dt_write_comparison_json(const dt_comparison *comparison, dt_text *out);

/** Odds as JSON, schema "drawtube.odds/1". */
dt_status dt_write_odds_json(const dt_program *program, const dt_odds *odds, dt_text *out);

/** Reasons as JSON, schema "drawtube.why/1". */
dt_status dt_write_why_json(const dt_program *program, const dt_why *why, dt_text *out);

/** What became of a wish, given in the user's words. */
dt_status dt_write_verdict_json(const dt_program *program, const dt_verdict *verdict,
                                const char *wish, dt_text *out);

/** A rating as JSON, schema "drawtube.rating/1"; loaded NULL: no load was stated. */
dt_status dt_write_rating_json(const dt_pipe *pipe, const dt_rating *rating,
                               const dt_loaded_rating *loaded, dt_text *out);

/** The program table as CSV, a row a section, columns named and valued as in program.json. */
dt_status dt_write_program_csv(const dt_program *program, dt_text *out);

/** Holes and pipes as a wbGeometry object of WITSML 1.4.1.1. */
dt_status dt_write_witsml_geometry(const dt_program *program, dt_text *out);

/** The survey as a trajectory object of WITSML 1.4.1.1; DT_E_NONE when there is no station. */
dt_status dt_write_witsml_trajectory(const dt_program *program, dt_text *out);

#endif
