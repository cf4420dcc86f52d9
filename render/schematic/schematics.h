/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_SCHEMATICS_H
#define DRAWTUBE_RENDER_SCHEMATICS_H

#include <drawtube/draw.h>

#include "comparison.h"
#include "program.h"

/* The well to scale in depth, alone and several side by side. */

/** dt_draw_schematic_form() as a full page. */
dt_status dt_draw_schematic(const dt_program *program, dt_display display, dt_text *out);

/**
 * The column form without its title, height_mm high, for a page that has said what well it is.
 * Where that is little, legend and scales are left out.
 */
dt_status dt_draw_schematic_beside(const dt_program *program, double height_mm, dt_display display,
                                   dt_text *out);

#endif
