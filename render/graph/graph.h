/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_GRAPH_H
#define DRAWTUBE_RENDER_GRAPH_H

#include <drawtube/graph.h>

#include "program.h"
#include "text.h"

/* The option graph, by Graphviz. */

#endif
