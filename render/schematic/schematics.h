/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_SCHEMATICS_H
#define DRAWTUBE_RENDER_SCHEMATICS_H

#include "comparison.h"
#include "program.h"
#include "text.h"

/* The well to scale in depth, alone and several side by side. */

/** Forms of the schematic: a full page, a column of a document, or a small picture. */
typedef enum dt_form { DT_FORM_PAGE, DT_FORM_COLUMN, DT_FORM_THUMBNAIL, DT_FORM_COUNT } dt_form;

/** "page", "column", "thumbnail"; static storage. */
const char *dt_form_text(dt_form form);

/** The well to scale in depth, as SVG. DT_OK or DT_E_MEMORY. */
dt_status dt_draw_schematic_form(const dt_program *program, dt_form form, dt_display display,
                                 dt_text *out);

/** The same as a full page. */
dt_status dt_draw_schematic(const dt_program *program, dt_display display, dt_text *out);

/** The chosen program and the first options as schematics on one depth scale, as SVG. */
dt_status dt_draw_comparison(const dt_comparison *comparison, dt_display display, dt_text *out);

#endif
