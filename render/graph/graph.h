/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_GRAPH_H
#define DRAWTUBE_RENDER_GRAPH_H

#include "program.h"
#include "text.h"

/* The option graph, by Graphviz. */

/**
 * The part of the nest that matters with the chosen path marked, laid out by Graphviz in a
 * child process. DT_E_IO when the layout engine is not there: *out is then untouched.
 */
dt_status dt_draw_options(const dt_program *program, dt_display display, dt_text *out);

#endif
