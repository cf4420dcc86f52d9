/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_PAGES_H
#define DRAWTUBE_RENDER_PAGES_H

#include <drawtube/draw.h>

#include "comparison.h"
#include "program.h"

/* Pages to read and to print. */

#endif
