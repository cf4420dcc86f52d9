/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_DRAWINGS_H
#define DRAWTUBE_RENDER_DRAWINGS_H

/* All that render/ makes of a result. */

#include "compare_words.h"
#include "data.h"
#include "graph.h"
#include "pages.h"
#include "picture.h"
#include "plots.h"
#include "schematics.h"
#include "tables.h"
#include "why_words.h"

#endif
