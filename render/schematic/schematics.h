/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_SCHEMATICS_H
#define DRAWTUBE_RENDER_SCHEMATICS_H

#include <drawtube/draw.h>

#include "comparison.h"
#include "program.h"

/* The well to scale in depth, alone and several side by side. */

/** dt_draw_schematic_form() as a full page. */
dt_status dt_draw_schematic(const dt_program *program, dt_display display, dt_text *out);

#endif
