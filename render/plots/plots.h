/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_PLOTS_H
#define DRAWTUBE_RENDER_PLOTS_H

#include <drawtube/draw.h>

#include "comparison.h"
#include "odds.h"
#include "program.h"

/* Curves against depth, the course of the hole, and the sheet of one string. */

/** Does a program have a course to draw: is its well deviated? */
bool dt_has_course(const dt_program *program);

#endif
