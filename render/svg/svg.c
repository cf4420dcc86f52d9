/* SPDX-License-Identifier: MIT */
#include "svg.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "xml_sink.h"

#define DT_RADIANS_PER_DEG 0.017453292519943295

static void svg_check(dt_svg *svg, int written)
{
    if (written < 0 && svg->status == DT_OK) svg->status = DT_E_MEMORY;
}

void dt_svg_open(dt_svg *svg, const char *element)
{
    if (svg->status != DT_OK) return;
    svg_check(svg, xmlTextWriterStartElement(svg->writer, BAD_CAST element));
}

void dt_svg_close(dt_svg *svg)
{
    if (svg->status != DT_OK) return;
    svg_check(svg, xmlTextWriterEndElement(svg->writer));
}

/** Attribute of text that is known to be clean. */
void dt_svg_attribute(dt_svg *svg, const char *name, const char *value)
{
    if (svg->status != DT_OK) return;
    svg_check(svg, xmlTextWriterWriteAttribute(svg->writer, BAD_CAST name, BAD_CAST value));
}

void dt_svg_number(dt_svg *svg, const char *name, double value)
{
    if (!isfinite(value)) {
        if (svg->status == DT_OK) svg->status = DT_E_DOMAIN;
        return;
    }
    char text[DT_NUMBER_SIZE];
    dt_number_text(value, 2, text);
    dt_svg_attribute(svg, name, text);
}

static void svg_string(dt_svg *svg, const char *text)
{
    if (svg->status != DT_OK) return;
    char *clean;
    if (dt_text_clean(text, &clean) != DT_OK) {
        svg->status = DT_E_MEMORY;
        return;
    }
    svg_check(svg, xmlTextWriterWriteString(svg->writer, BAD_CAST clean));
    free(clean);
}

static void svg_ink(dt_svg *svg, dt_ink ink)
{
    dt_svg_attribute(svg, "fill", ink.fill ? ink.fill : "none");
    if (!ink.stroke) return;
    dt_svg_attribute(svg, "stroke", ink.stroke);
    dt_svg_number(svg, "stroke-width", ink.width);
    if (ink.dash) dt_svg_attribute(svg, "stroke-dasharray", ink.dash);
}

static void svg_named(dt_svg *svg, const char *element, const char *text)
{
    dt_buffer id = {0};
    dt_buffer_text(&id, svg->prefix);
    dt_buffer_text(&id, "-");
    dt_buffer_text(&id, element);
    if (id.failed) svg->status = DT_E_MEMORY;
    dt_svg_open(svg, element);
    dt_svg_attribute(svg, "id", id.bytes);
    svg_string(svg, text);
    dt_svg_close(svg);
    dt_buffer_free(&id);
}

static void svg_size(dt_svg *svg, const dt_svg_page *page)
{
    dt_buffer text = {0};
    dt_buffer_number(&text, page->w / DT_UNITS_PER_MM, 2);
    dt_buffer_text(&text, "mm");
    if (!text.failed) dt_svg_attribute(svg, "width", text.bytes);
    text.size = 0;
    dt_buffer_number(&text, page->h / DT_UNITS_PER_MM, 2);
    dt_buffer_text(&text, "mm");
    if (!text.failed) dt_svg_attribute(svg, "height", text.bytes);
    text.size = 0;
    dt_buffer_text(&text, "0 0 ");
    dt_buffer_number(&text, page->w, 2);
    dt_buffer_text(&text, " ");
    dt_buffer_number(&text, page->h, 2);
    if (!text.failed) dt_svg_attribute(svg, "viewBox", text.bytes);
    text.size = 0;
    dt_buffer_text(&text, page->prefix);
    dt_buffer_text(&text, "-title ");
    dt_buffer_text(&text, page->prefix);
    dt_buffer_text(&text, "-desc");
    if (!text.failed) dt_svg_attribute(svg, "aria-labelledby", text.bytes);
    if (text.failed) svg->status = DT_E_MEMORY;
    dt_buffer_free(&text);
}

void dt_svg_begin(dt_svg *svg, const dt_svg_page *page)
{
    *svg = (dt_svg){.prefix = page->prefix};
    svg->writer = dt_xml_writer_into(&svg->bytes);
    if (!svg->writer) {
        svg->status = DT_E_MEMORY;
        return;
    }
    svg_check(svg, xmlTextWriterStartDocument(svg->writer, NULL, "UTF-8", NULL));
    dt_svg_open(svg, "svg");
    dt_svg_attribute(svg, "xmlns", "http://www.w3.org/2000/svg");
    svg_size(svg, page);
    dt_svg_attribute(svg, "role", "img");
    dt_svg_attribute(svg, "font-family", DT_FONT_STACK);
    svg_named(svg, "title", page->title);
    svg_named(svg, "desc", page->description);
    dt_svg_rect(svg, (dt_box){0, 0, page->w, page->h}, (dt_ink){.fill = DT_PAPER});
}

dt_status dt_svg_end(dt_svg *svg, dt_text *out)
{
    if (svg->writer) {
        dt_svg_close(svg); /* fails if libxml2 lost track of an element */
        if (svg->status == DT_OK) svg_check(svg, xmlTextWriterEndDocument(svg->writer));
        xmlFreeTextWriter(svg->writer); /* flushes into svg->bytes */
        svg->writer = NULL;
    }
    static const char closing[] = "</svg>\n";
    size_t tail = sizeof closing - 1;
    /* libxml2 does not report every failed allocation; a whole drawing ends with its end tag. */
    bool whole = svg->bytes.size > tail &&
                 memcmp(svg->bytes.bytes + svg->bytes.size - tail, closing, tail) == 0;
    if (svg->status == DT_OK && !whole) svg->status = DT_E_MEMORY;
    if (svg->status != DT_OK) {
        dt_buffer_free(&svg->bytes);
        return svg->status;
    }
    return dt_buffer_take(&svg->bytes, out);
}

void dt_svg_rect(dt_svg *svg, dt_box box, dt_ink ink)
{
    dt_svg_open(svg, "rect");
    dt_svg_number(svg, "x", box.x);
    dt_svg_number(svg, "y", box.y);
    dt_svg_number(svg, "width", box.w);
    dt_svg_number(svg, "height", box.h);
    svg_ink(svg, ink);
    dt_svg_close(svg);
}

void dt_svg_line(dt_svg *svg, double x1, double y1, double x2, double y2, dt_ink ink)
{
    dt_svg_open(svg, "line");
    dt_svg_number(svg, "x1", x1);
    dt_svg_number(svg, "y1", y1);
    dt_svg_number(svg, "x2", x2);
    dt_svg_number(svg, "y2", y2);
    svg_ink(svg, ink);
    dt_svg_close(svg);
}

void dt_svg_text(dt_svg *svg, double x, double y, dt_type type, const char *text)
{
    static const char *const anchors[] = {"start", "middle", "end"};
    dt_svg_open(svg, "text");
    dt_svg_number(svg, "x", x);
    dt_svg_number(svg, "y", y + 0.35 * type.size); /* no viewer agrees on dominant-baseline */
    dt_svg_number(svg, "font-size", type.size);
    if (type.bold) dt_svg_attribute(svg, "font-weight", "bold");
    if (type.anchor != DT_START) dt_svg_attribute(svg, "text-anchor", anchors[type.anchor]);
    dt_svg_attribute(svg, "fill", type.color);
    svg_string(svg, text);
    dt_svg_close(svg);
}

void dt_svg_label_open(dt_svg *svg, dt_box box)
{
    dt_buffer text = {0};
    const double numbers[4] = {box.x, box.y, box.w, box.h};
    for (size_t i = 0; i < 4; ++i) {
        if (i) dt_buffer_text(&text, " ");
        dt_buffer_number(&text, numbers[i], 2);
    }
    if (text.failed) svg->status = DT_E_MEMORY;
    dt_svg_open(svg, "g");
    dt_svg_attribute(svg, "class", "label");
    dt_svg_attribute(svg, "data-box", text.bytes);
    dt_svg_rect(svg, box, (dt_ink){.fill = DT_PAPER});
    dt_buffer_free(&text);
}

static void path_reach(dt_path *path, double x, double y)
{
    if (!path->any) {
        path->any = true;
        path->bounds = (dt_box){x, y, 0, 0};
        return;
    }
    double right = fmax(path->bounds.x + path->bounds.w, x);
    double bottom = fmax(path->bounds.y + path->bounds.h, y);
    path->bounds.x = fmin(path->bounds.x, x);
    path->bounds.y = fmin(path->bounds.y, y);
    path->bounds.w = right - path->bounds.x;
    path->bounds.h = bottom - path->bounds.y;
}

static void path_point(dt_path *path, const char *command, double x, double y)
{
    path_reach(path, x, y);
    dt_buffer_text(&path->d, command);
    dt_buffer_number(&path->d, x, 2);
    dt_buffer_text(&path->d, " ");
    dt_buffer_number(&path->d, y, 2);
}

void dt_path_move(dt_path *path, double x, double y)
{
    path_point(path, "M", x, y);
}

void dt_path_line(dt_path *path, double x, double y)
{
    path_point(path, "L", x, y);
}

void dt_path_close(dt_path *path)
{
    dt_buffer_text(&path->d, "Z");
}

void dt_path_box(dt_path *path, dt_box box)
{
    dt_path_move(path, box.x, box.y);
    dt_path_line(path, box.x + box.w, box.y);
    dt_path_line(path, box.x + box.w, box.y + box.h);
    dt_path_line(path, box.x, box.y + box.h);
    dt_path_close(path);
}

/** Frees the path data; false when there is nothing to draw or something went wrong. */
static bool path_good(dt_svg *svg, const dt_path *path)
{
    if (path->d.failed && svg->status == DT_OK) svg->status = DT_E_MEMORY;
    if (path->any && !(isfinite(path->bounds.w) && isfinite(path->bounds.h)) &&
        svg->status == DT_OK)
        svg->status = DT_E_DOMAIN;
    return path->any && svg->status == DT_OK;
}

static void svg_path_data(dt_svg *svg, const dt_path *path, dt_ink ink)
{
    dt_svg_open(svg, "path");
    dt_svg_attribute(svg, "d", path->d.bytes);
    svg_ink(svg, ink);
    dt_svg_close(svg);
}

void dt_svg_path(dt_svg *svg, dt_path *path, dt_ink ink)
{
    if (path_good(svg, path)) svg_path_data(svg, path, ink);
    dt_buffer_free(&path->d);
    *path = (dt_path){0};
}

void dt_svg_diamond(dt_svg *svg, double x, double y, double reach, dt_ink ink)
{
    dt_path mark = {0};
    dt_path_move(&mark, x, y - reach);
    dt_path_line(&mark, x + reach, y);
    dt_path_line(&mark, x, y + reach);
    dt_path_line(&mark, x - reach, y);
    dt_path_close(&mark);
    dt_svg_path(svg, &mark, ink);
}

/** Writes the clip path and opens the group it cuts. */
static void svg_clip(dt_svg *svg, const dt_path *path)
{
    dt_buffer id = {0}, reference = {0};
    dt_buffer_text(&id, svg->prefix);
    dt_buffer_text(&id, "-clip");
    dt_buffer_number(&id, ++svg->clip_count, 0);
    dt_buffer_text(&reference, "url(#");
    dt_buffer_text(&reference, id.failed ? "" : id.bytes);
    dt_buffer_text(&reference, ")");
    if (id.failed || reference.failed) svg->status = DT_E_MEMORY;
    dt_svg_open(svg, "clipPath");
    dt_svg_attribute(svg, "id", id.bytes);
    dt_svg_open(svg, "path");
    dt_svg_attribute(svg, "d", path->d.bytes);
    dt_svg_close(svg);
    dt_svg_close(svg);
    dt_svg_open(svg, "g");
    dt_svg_attribute(svg, "clip-path", reference.bytes);
    dt_buffer_free(&id);
    dt_buffer_free(&reference);
}

void dt_svg_clip_open(dt_svg *svg, dt_box box)
{
    dt_path path = {0};
    dt_path_box(&path, box);
    if (path_good(svg, &path)) svg_clip(svg, &path);
    dt_buffer_free(&path.d);
}

/** One line of a family: where it runs through the middle of the area, and how far either way. */
static void hatch_line(dt_path *lines, const dt_hatch_family *family, double x, double y,
                       double half, bool odd)
{
    double along_x = cos(family->angle_deg * DT_RADIANS_PER_DEG);
    double along_y = sin(family->angle_deg * DT_RADIANS_PER_DEG);
    if (family->off <= 0) {
        dt_path_move(lines, x - half * along_x, y - half * along_y);
        dt_path_line(lines, x + half * along_x, y + half * along_y);
        return;
    }
    double period = family->on + family->off;
    for (double at = -half - (odd ? family->stagger : 0); at < half; at += period) {
        double end = at + family->on;
        dt_path_move(lines, x + at * along_x, y + at * along_y);
        dt_path_line(lines, x + end * along_x, y + end * along_y);
    }
}

/*
 * Lines stand on one grid for the whole page, so that a hatch runs on across areas that
 * touch. Lines along or across the page are cut to the area; slanted ones to a circle
 * around it, and the clip path does the rest.
 */
static void hatch_family(dt_path *lines, const dt_hatch_family *family, dt_box area)
{
    if (family->spacing <= 0) return;
    double angle = family->angle_deg * DT_RADIANS_PER_DEG;
    double across_x = -sin(angle), across_y = cos(angle);
    double middle_x = area.x + area.w / 2, middle_y = area.y + area.h / 2;
    double reach = (fabs(across_x) * area.w + fabs(across_y) * area.h) / 2;
    double half = (fabs(across_y) * area.w + fabs(across_x) * area.h) / 2;
    double middle = middle_x * across_x + middle_y * across_y;
    for (double n = ceil((middle - reach) / family->spacing); n * family->spacing < middle + reach;
         ++n) {
        double step = n * family->spacing - middle;
        hatch_line(lines, family, middle_x + step * across_x, middle_y + step * across_y, half,
                   fmod(fabs(n), 2) > 0.5);
    }
}

void dt_svg_hatch(dt_svg *svg, dt_path *path, const dt_hatch *hatch)
{
    if (path_good(svg, path)) {
        svg_path_data(svg, path, (dt_ink){.fill = hatch->fill});
        svg_clip(svg, path);
        dt_path lines = {0};
        for (size_t i = 0; i < 2; ++i)
            hatch_family(&lines, &hatch->family[i], path->bounds);
        dt_svg_path(svg, &lines, (dt_ink){.stroke = hatch->ink, .width = hatch->width});
        dt_svg_close(svg);
    }
    dt_buffer_free(&path->d);
    *path = (dt_path){0};
}
