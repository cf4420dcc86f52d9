/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_STRING_SHEET_H
#define DRAWTUBE_RENDER_STRING_SHEET_H

#include "labels.h"
#include "plots.h"
#include "sentence.h"

/* Private to render/: the sheet of one string. string_sheet.c sets the figures,
 * string_picture.c draws the string beside them. */

typedef struct dt_sheet {
    const dt_program *program;
    const dt_program_string *item;
    size_t index;
    dt_display display;
    dt_svg *svg;
    double y; /* where the next line of figures goes */
} dt_sheet;

#define DT_SHEET_W                                                                                 \
    792.0 /* A4 upright, less what a printer leaves free and what stands above and below */
#define DT_SHEET_H      1016.0
#define DT_SHEET_MARGIN 3.0
#define DT_PICTURE_TOP  66.0
#define DT_PICTURE_W    262.0

/** The string against measured depth, and its lowest part once more and larger. */
void dt_draw_string_picture(dt_sheet *sheet, double top, double bottom);

#endif
