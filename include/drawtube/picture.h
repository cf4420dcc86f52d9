/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PUBLIC_PICTURE_H
#define DRAWTUBE_PUBLIC_PICTURE_H

/* PNG and PDF of drawings, by librsvg and cairo: libdrawtube-picture. */

#include <drawtube/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Pictures for what cannot read SVG. */
typedef enum dt_picture { DT_PICTURE_PNG, DT_PICTURE_PDF } dt_picture;

/** Whether this build has librsvg and cairo, which make pictures. */
DT_API bool dt_pictures_built_in(void);

/**
 * A drawing of ours as PNG of 300 dots an inch, or as PDF with its lines and text, made in a
 * child process. DT_OK; DT_E_IO when pictures are not built in, or svg is no drawing with a
 * size; DT_E_MEMORY.
 */
DT_API dt_status dt_draw_picture(const dt_text *svg, dt_picture kind, dt_text *out);

#ifdef __cplusplus
}
#endif

#endif
