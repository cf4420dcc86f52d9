/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_SVG_H
#define DRAWTUBE_RENDER_SVG_H

#include <libxml/xmlwriter.h>

#include "palette.h"
#include "text.h"

/*
 * Private to render/: SVG in the profile that survives a word processor (docs/drawings.md):
 * presentation attributes only, hatches as lines under a clip path over a plain area,
 * baselines set by hand. The first failure sticks and is handed back by dt_svg_end().
 */

typedef struct dt_box {
    double x, y, w, h;
} dt_box;

/** How a shape is inked. NULL fill or stroke is "none"; dash NULL is a full line. */
typedef struct dt_ink {
    const char *fill, *stroke;
    double width;
    const char *dash;
} dt_ink;

typedef enum dt_anchor { DT_START, DT_MIDDLE, DT_END } dt_anchor;

typedef struct dt_type {
    double size;
    bool bold;
    const char *color;
    dt_anchor anchor;
} dt_type;

typedef struct dt_svg {
    dt_buffer bytes;
    xmlTextWriterPtr writer;
    dt_status status;
    const char *prefix; /* of ids, so that several drawings can stand in one page */
    unsigned clip_count;
} dt_svg;

/** Page in drawing units, 4 to the millimetre. Texts need not be clean. */
typedef struct dt_svg_page {
    double w, h;
    const char *prefix, *title, *description;
} dt_svg_page;
#define DT_UNITS_PER_MM 4.0
/** Type of 8 pt, drawing units: the least that a drawing has at its own size, in which it stands on
 * paper. */
#define DT_TYPE 11.3

void dt_svg_begin(dt_svg *svg, const dt_svg_page *page);
/** Closes everything and frees the writer, in every case. *out is set on DT_OK only. */
dt_status dt_svg_end(dt_svg *svg, dt_text *out);

void dt_svg_open(dt_svg *svg, const char *element);
void dt_svg_close(dt_svg *svg);
void dt_svg_attribute(dt_svg *svg, const char *name, const char *value);
void dt_svg_number(dt_svg *svg, const char *name, double value);

void dt_svg_rect(dt_svg *svg, dt_box box, dt_ink ink);
void dt_svg_line(dt_svg *svg, double x1, double y1, double x2, double y2, dt_ink ink);
/** One line of text whose middle stands at y. */
void dt_svg_text(dt_svg *svg, double x, double y, dt_type type, const char *text);
/** Opens <g class="label" data-box="x y w h"> and lays white paper under it. */
void dt_svg_label_open(dt_svg *svg, dt_box box);

/** Path data in the making; handed to one of the calls below, which free it. */
typedef struct dt_path {
    dt_buffer d;
    dt_box bounds;
    bool any;
} dt_path;

void dt_path_move(dt_path *path, double x, double y);
void dt_path_line(dt_path *path, double x, double y);
void dt_path_close(dt_path *path);
void dt_path_box(dt_path *path, dt_box box);

void dt_svg_path(dt_svg *svg, dt_path *path, dt_ink ink);
/** A mark at a point: a square on its corner, reach to each side. */
void dt_svg_diamond(dt_svg *svg, double x, double y, double reach, dt_ink ink);
/** The area of the path, plain and hatched; an empty path draws nothing. */
void dt_svg_hatch(dt_svg *svg, dt_path *path, const dt_hatch *hatch);
/** Opens a group that shows only what is inside the box. */
void dt_svg_clip_open(dt_svg *svg, dt_box box);

#endif
