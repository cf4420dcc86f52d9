/* SPDX-License-Identifier: MIT */
/* SVG into PNG and PDF, through librsvg and cairo. Built without them it only says so. */
#include "drawtube/drawings.h"

#ifdef DT_HAVE_PICTURES

#include <cairo-pdf.h>
#include <cairo.h>
#include <librsvg/rsvg.h>

#include <math.h>

#include "text.h"

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
    dt_buffer *buffer = closure;
    dt_buffer_bytes(buffer, (const char *)data, length);
    return buffer->failed ? CAIRO_STATUS_NO_MEMORY : CAIRO_STATUS_SUCCESS;
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

static dt_status paint(RsvgHandle *drawing, cairo_surface_t *surface, double width, double height)
{
    cairo_t *cairo = cairo_create(surface);
    const RsvgRectangle page = {0, 0, width, height};
    GError *error = NULL;
    bool good = rsvg_handle_render_document(drawing, cairo, &page, &error);
    if (error) g_error_free(error);
    cairo_show_page(cairo);
    good = good && cairo_status(cairo) == CAIRO_STATUS_SUCCESS;
    cairo_destroy(cairo);
    return good ? DT_OK : DT_E_MEMORY;
}

static dt_status paint_png(RsvgHandle *drawing, double width_in, double height_in, dt_buffer *bytes)
{
    int width = (int)ceil(width_in * DPI), height = (int)ceil(height_in * DPI);
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
    dt_status status = paint(drawing, surface, width, height);
    if (status == DT_OK &&
        cairo_surface_write_to_png_stream(surface, sink, bytes) != CAIRO_STATUS_SUCCESS)
        status = DT_E_MEMORY;
    cairo_surface_destroy(surface);
    return status;
}

static dt_status paint_pdf(RsvgHandle *drawing, double width_in, double height_in, dt_buffer *bytes)
{
    double width = width_in * POINTS_PER_I, height = height_in * POINTS_PER_I;
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(sink, bytes, width, height);
    /* Same input, same bytes: the day of making has no place in a drawing. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    dt_status status = paint(drawing, surface, width, height);
    cairo_surface_finish(surface);
    if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) status = DT_E_MEMORY;
    cairo_surface_destroy(surface);
    return status;
}

dt_status dt_draw_picture(const dt_text *svg, dt_picture kind, dt_text *out)
{
    GError *error = NULL;
    RsvgHandle *drawing = rsvg_handle_new_from_data((const guint8 *)svg->bytes, svg->size, &error);
    if (error) g_error_free(error);
    if (!drawing) return DT_E_INPUT;
    rsvg_handle_set_dpi(drawing, kind == DT_PICTURE_PNG ? DPI : POINTS_PER_I);
    double width_in, height_in;
    dt_buffer bytes = {0};
    dt_status status = DT_E_INPUT;
    if (paper_size(drawing, &width_in, &height_in))
        status = kind == DT_PICTURE_PNG ? paint_png(drawing, width_in, height_in, &bytes)
                                        : paint_pdf(drawing, width_in, height_in, &bytes);
    g_object_unref(drawing);
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
