/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_PICTURE_H
#define DRAWTUBE_RENDER_PICTURE_H

#include <drawtube/picture.h>

#include "text.h"

/* PNG and PDF, by librsvg and cairo. */

#endif
