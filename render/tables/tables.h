/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_TABLES_H
#define DRAWTUBE_RENDER_TABLES_H

#include <drawtube/draw.h>

#include "changes.h"
#include "comparison.h"
#include "odds.h"
#include "program.h"
#include "why.h"

/* Plain text for a terminal. */

/** A rating for a terminal, plain text: as the standard's tables print it, and exact. */
dt_status dt_write_rating_table(const dt_pipe *pipe, const dt_rating *rating,
                                const dt_loaded_rating *loaded, dt_text *out);

#endif
