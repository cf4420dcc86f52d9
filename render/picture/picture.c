/* SPDX-License-Identifier: MIT */
/* SVG into PNG and PDF, through librsvg and cairo. Built without them it only says so. */
#include "picture.h"

#ifdef DT_HAVE_PICTURES

#include <cairo-pdf.h>
#include <cairo.h>
#include <librsvg/rsvg.h>

#include <math.h>

#include "child.h"

#define DPI          300.0 /* what print asks for: common practice, no source */
#define POINTS_PER_I 72.0
#define MM_PER_IN    25.4
#define MOST_PIXELS  20000.0 /* a side; every drawing is far below */

bool dt_pictures_built_in(void)
{
    return true;
}

static cairo_status_t sink(void *closure, const unsigned char *data, unsigned length)
{
    const int *out = closure;
    return dt_child_write(*out, data, length) ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

/** A length of the drawing in mm; 0 when it is not stated in a unit of print. */
static double millimetres(RsvgLength length)
{
    return length.unit == RSVG_UNIT_MM ? length.length : 0;
}

/** Size of the drawing on paper, in inches. */
static bool paper_size(RsvgHandle *drawing, double *width_in, double *height_in)
{
    gboolean has_width, has_height, has_box;
    RsvgLength width, height;
    RsvgRectangle box;
    rsvg_handle_get_intrinsic_dimensions(drawing, &has_width, &width, &has_height, &height,
                                         &has_box, &box);
    *width_in = millimetres(width) / MM_PER_IN;
    *height_in = millimetres(height) / MM_PER_IN;
    if (width.unit == RSVG_UNIT_PT) *width_in = width.length / POINTS_PER_I;
    if (height.unit == RSVG_UNIT_PT) *height_in = height.length / POINTS_PER_I;
    return *width_in > 0 && *height_in > 0 && *width_in * DPI < MOST_PIXELS &&
           *height_in * DPI < MOST_PIXELS;
}

static bool paint(RsvgHandle *drawing, cairo_surface_t *surface, double width, double height)
{
    cairo_t *cairo = cairo_create(surface);
    const RsvgRectangle page = {0, 0, width, height};
    bool good = rsvg_handle_render_document(drawing, cairo, &page, NULL);
    cairo_show_page(cairo);
    good = good && cairo_status(cairo) == CAIRO_STATUS_SUCCESS;
    cairo_destroy(cairo);
    return good;
}

static bool paint_png(RsvgHandle *drawing, double width_in, double height_in, int out)
{
    int width = (int)ceil(width_in * DPI), height = (int)ceil(height_in * DPI);
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
    bool good = paint(drawing, surface, width, height) &&
                cairo_surface_write_to_png_stream(surface, sink, &out) == CAIRO_STATUS_SUCCESS;
    cairo_surface_destroy(surface);
    return good;
}

static bool paint_pdf(RsvgHandle *drawing, double width_in, double height_in, int out)
{
    double width = width_in * POINTS_PER_I, height = height_in * POINTS_PER_I;
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(sink, &out, width, height);
    /* Same input, same bytes: the day of making has no place in a drawing. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    bool good = paint(drawing, surface, width, height);
    cairo_surface_finish(surface);
    good = good && cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS;
    cairo_surface_destroy(surface);
    return good;
}

typedef struct job {
    const dt_text *svg;
    dt_picture kind;
} job;

/** In a child: pango and fontconfig keep what they once allocated. */
static int make_picture(const void *context, int out)
{
    const job *j = context;
    RsvgHandle *drawing =
        rsvg_handle_new_from_data((const guint8 *)j->svg->bytes, j->svg->size, NULL);
    double width_in, height_in;
    if (!drawing) return 1;
    rsvg_handle_set_dpi(drawing, j->kind == DT_PICTURE_PNG ? DPI : POINTS_PER_I);
    if (!paper_size(drawing, &width_in, &height_in)) return 1;
    bool good = j->kind == DT_PICTURE_PNG ? paint_png(drawing, width_in, height_in, out)
                                          : paint_pdf(drawing, width_in, height_in, out);
    return good ? 0 : 1;
}

dt_status dt_draw_picture(const dt_text *svg, dt_picture kind, dt_text *out)
{
    const job j = {svg, kind};
    dt_buffer bytes = {0};
    dt_status status = dt_child_run(make_picture, &j, &bytes);
    if (status == DT_OK) return dt_buffer_take(&bytes, out);
    dt_buffer_free(&bytes);
    return status;
}

#else

bool dt_pictures_built_in(void)
{
    return false;
}

dt_status dt_draw_picture(const dt_text *svg, dt_picture kind, dt_text *out)
{
    (void)svg, (void)kind, (void)out;
    return DT_E_IO;
}

#endif
