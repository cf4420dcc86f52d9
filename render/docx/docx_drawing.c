/* SPDX-License-Identifier: MIT */
/* Drawings: the SVG of the report beside a picture of it, each with its size on paper. */
#include "docx.h"

#include <drawtube/picture.h>

#include <libxml/parser.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define EMU_PER_MM 36000L /* ISO/IEC 29500-1, 20.1.2.1: 914,400 an inch */

#define TWIPS_PER_MM (1440 / 25.4)

static const char data_svg[] = "data:image/svg+xml;base64,";

/** Value of a digit of base64, RFC 4648 section 4; -1 for what is none. */
static int digit_of(char c)
{
    if (c >= 'A' && c <= 'Z') return c - 'A';
    if (c >= 'a' && c <= 'z') return c - 'a' + 26;
    if (c >= '0' && c <= '9') return c - '0' + 52;
    return c == '+' ? 62 : c == '/' ? 63 : -1;
}

/** The bytes of base64, up to its padding. */
static dt_status decode(const char *text, dt_text *out)
{
    dt_buffer bytes = {0};
    unsigned group = 0;
    int bits = 0;
    for (; *text && digit_of(*text) >= 0; ++text) {
        group = group << 6 | (unsigned)digit_of(*text);
        bits += 6;
        if (bits < 8) continue;
        bits -= 8;
        const char byte = (char)(group >> bits & 0xFF);
        dt_buffer_bytes(&bytes, &byte, 1);
    }
    return dt_buffer_take(&bytes, out);
}

/** "210mm" as 210; 0 when it is no length in mm. */
static double millimetres(const xmlNode *root, const char *name)
{
    xmlChar *text = xmlGetNoNsProp(root, BAD_CAST name);
    char *end = NULL;
    double value = text ? strtod((const char *)text, &end) : 0;
    if (end && strcmp(end, "mm") != 0) value = 0;
    xmlFree(text);
    return value;
}

/** Reads the size of a drawing, and lets it shrink to its room. */
static dt_status measure(const dt_docx *docx, dt_docx_drawing *drawing)
{
    xmlDocPtr tree = xmlReadMemory(drawing->svg.bytes, (int)drawing->svg.size, NULL, NULL,
                                   XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
    const xmlNode *root = tree ? xmlDocGetRootElement(tree) : NULL;
    double width = root ? millimetres(root, "width") : 0;
    double height = root ? millimetres(root, "height") : 0;
    xmlFreeDoc(tree);
    if (!(width > 0 && height > 0)) return DT_E_INPUT;
    const double room_mm = (double)docx->room / TWIPS_PER_MM;
    double scale = width > room_mm ? room_mm / width : 1;
    if (height * scale > docx->most_height_mm) scale = docx->most_height_mm / height;
    drawing->width_mm = width * scale;
    drawing->height_mm = height * scale;
    return DT_OK;
}

static dt_status take_drawing(const dt_docx *docx, const char *source, dt_docx_drawing *drawing)
{
    if (!source || strncmp(source, data_svg, sizeof data_svg - 1) != 0) return DT_E_INPUT;
    dt_status status = decode(source + sizeof data_svg - 1, &drawing->svg);
    if (status == DT_OK) status = measure(docx, drawing);
    if (status == DT_OK) status = dt_draw_picture(&drawing->svg, DT_PICTURE_PNG, &drawing->png);
    return status;
}

/** Makes room for one drawing more, and draws it. */
static dt_status add_drawing(dt_docx *docx, const char *source)
{
    dt_docx_drawing *grown =
        realloc(docx->drawings, (docx->drawing_count + 1) * sizeof *docx->drawings);
    if (!grown) return DT_E_MEMORY;
    docx->drawings = grown;
    grown[docx->drawing_count] = (dt_docx_drawing){0};
    return take_drawing(docx, source, &grown[docx->drawing_count++]);
}

static void write_extent(dt_docx *docx, const char *element, const dt_docx_drawing *drawing)
{
    dt_html_open(&docx->xml, element);
    dt_docx_number(docx, "cx", (long)(drawing->width_mm * (double)EMU_PER_MM));
    dt_docx_number(docx, "cy", (long)(drawing->height_mm * (double)EMU_PER_MM));
    dt_html_close_void(&docx->xml);
}

/** Name, number and words of a drawing. */
static void write_about(dt_docx *docx, const char *element, const char *words)
{
    char name[32];
    snprintf(name, sizeof name, "Drawing %zu", docx->drawing_count);
    dt_html_open(&docx->xml, element);
    dt_docx_number(docx, "id", (long)docx->drawing_count);
    dt_html_attribute(&docx->xml, "name", name);
    if (words) dt_html_attribute(&docx->xml, "descr", words);
    dt_html_close_void(&docx->xml);
}

/** The picture, and beside it in an extension, which the standard provides for, the SVG. */
static void write_blip(dt_docx *docx)
{
    dt_html *xml = &docx->xml;
    char png[32], svg[32];
    snprintf(png, sizeof png, "png%zu", docx->drawing_count);
    snprintf(svg, sizeof svg, "svg%zu", docx->drawing_count);
    dt_html_open(xml, "pic:blipFill");
    dt_html_open(xml, "a:blip");
    dt_html_attribute(xml, "r:embed", png);
    dt_html_open(xml, "a:extLst");
    dt_html_open(xml, "a:ext");
    dt_html_attribute(xml, "uri", "{96DAC541-7B7A-43D3-8B79-37D633B846F1}");
    dt_html_open(xml, "asvg:svgBlip");
    dt_html_attribute(xml, "xmlns:asvg",
                      "http://schemas.microsoft.com/office/drawing/2016/SVG/main");
    dt_html_attribute(xml, "r:embed", svg);
    dt_html_close_void(xml);
    for (int i = 0; i < 3; ++i)
        dt_html_close(xml); /* ext, extLst, blip */
    dt_html_raw(xml, "<a:stretch><a:fillRect/></a:stretch>");
    dt_html_close(xml);
}

static void write_picture(dt_docx *docx, const dt_docx_drawing *drawing)
{
    dt_html *xml = &docx->xml;
    dt_html_open(xml, "a:graphic");
    dt_html_open(xml, "a:graphicData");
    dt_html_attribute(xml, "uri", "http://schemas.openxmlformats.org/drawingml/2006/picture");
    dt_html_open(xml, "pic:pic");
    dt_html_open(xml, "pic:nvPicPr");
    write_about(docx, "pic:cNvPr", NULL);
    dt_html_raw(xml, "<pic:cNvPicPr/>");
    dt_html_close(xml);
    write_blip(docx);
    dt_html_open(xml, "pic:spPr");
    dt_html_open(xml, "a:xfrm");
    dt_html_raw(xml, "<a:off x=\"0\" y=\"0\"/>");
    write_extent(docx, "a:ext", drawing);
    dt_html_close(xml);
    dt_html_raw(xml, "<a:prstGeom prst=\"rect\"><a:avLst/></a:prstGeom>");
    for (int i = 0; i < 4; ++i)
        dt_html_close(xml); /* spPr, pic, graphicData, graphic */
}

void dt_docx_figure(dt_docx *docx, const xmlNode *image)
{
    dt_html *xml = &docx->xml;
    xmlChar *source = xmlGetNoNsProp(image, BAD_CAST "src");
    xmlChar *words = xmlGetNoNsProp(image, BAD_CAST "alt");
    dt_status status = add_drawing(docx, (const char *)source);
    if (xml->status == DT_OK) xml->status = status;
    if (xml->status == DT_OK) {
        const dt_docx_drawing *drawing = &docx->drawings[docx->drawing_count - 1];
        dt_docx_open_paragraph(docx, docx->beside ? "FigureBeside" : "Figure");
        dt_html_open(xml, "w:r");
        dt_html_open(xml, "w:drawing");
        dt_html_open(xml, "wp:inline");
        write_extent(docx, "wp:extent", drawing);
        write_about(docx, "wp:docPr", words ? (const char *)words : "");
        dt_html_raw(xml, "<wp:cNvGraphicFramePr><a:graphicFrameLocks noChangeAspect=\"1\"/>"
                         "</wp:cNvGraphicFramePr>");
        write_picture(docx, drawing);
        for (int i = 0; i < 4; ++i)
            dt_html_close(xml); /* inline, drawing, r, p */
    }
    xmlFree(source);
    xmlFree(words);
}
