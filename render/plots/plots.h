/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_PLOTS_H
#define DRAWTUBE_RENDER_PLOTS_H

#include <drawtube/draw.h>

#include "odds.h"
#include "program.h"

/* Curves against depth, and the sheet of one string. */

#endif
