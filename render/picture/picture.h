/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_PICTURE_H
#define DRAWTUBE_RENDER_PICTURE_H

#include <stdbool.h>

#include "text.h"

/* PNG and PDF, by librsvg and cairo. */

/** Pictures for what cannot read SVG. */
typedef enum dt_picture { DT_PICTURE_PNG, DT_PICTURE_PDF } dt_picture;

/** Whether this build has librsvg and cairo, which make pictures. */
bool dt_pictures_built_in(void);

/**
 * A drawing of ours as PNG of 300 dots an inch, or as PDF with its lines and text, made in a
 * child process. DT_OK; DT_E_IO when pictures are not built in, or svg is no drawing with a
 * size; DT_E_MEMORY.
 */
dt_status dt_draw_picture(const dt_text *svg, dt_picture kind, dt_text *out);

#endif
