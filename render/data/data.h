/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_DATA_H
#define DRAWTUBE_RENDER_DATA_H

#include <drawtube/draw.h>

#include "comparison.h"
#include "odds.h"
#include "program.h"
#include "why.h"

/* Results for other programs: JSON, CSV, WITSML. */

/** A rating as JSON, schema "drawtube.rating/1"; loaded NULL: no load was stated. */
dt_status dt_write_rating_json(const dt_pipe *pipe, const dt_rating *rating,
                               const dt_loaded_rating *loaded, dt_text *out);

#endif
