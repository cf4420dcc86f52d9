/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PUBLIC_GRAPH_H
#define DRAWTUBE_PUBLIC_GRAPH_H

/* The option graph, by Graphviz: libdrawtube-graph. */

#include <drawtube/program.h>

#ifdef __cplusplus
extern "C" {
#endif

/**
 * The part of the nest of holes and pipes that matters with the chosen path marked, as SVG, laid
 * out by Graphviz in a child process.
 * @return DT_OK; DT_E_IO when the layout engine is not there: *out is then untouched; DT_E_MEMORY.
 */
DT_API dt_status dt_draw_options(const dt_program *program, dt_display display, dt_text *out);

#ifdef __cplusplus
}
#endif

#endif
