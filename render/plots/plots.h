/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_PLOTS_H
#define DRAWTUBE_RENDER_PLOTS_H

#include "odds.h"
#include "program.h"
#include "text.h"

/* Curves against depth, and the sheet of one string. */

/** Pore, fracture, margins, mud steps and seats against depth, as SVG. */
dt_status dt_draw_window(const dt_program *program, dt_display display, dt_text *out);

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

/** The odds as a drawing. */
dt_status dt_draw_odds(const dt_program *program, const dt_odds *odds, dt_display display,
                       dt_text *out);

#endif
