/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_DOCX_H
#define DRAWTUBE_RENDER_DOCX_H

#include <drawtube/docx.h>

#include <libxml/tree.h>

#include "html.h"

/*
 * Private to render/docx: the report, which is XML, turned into the parts of a document, and
 * these packed into one file. docx.c names the parts, docx_body.c turns the report into
 * paragraphs, docx_table.c its tables, docx_drawing.c its drawings, docx_zip.c packs.
 */

/** What paper leaves for text: A4 less 15 mm on each side, as in report.css, in twips (1/20 pt). */
#define DT_DOCX_TEXT_WIDTH 10205

/** What paper leaves for a sheet, which is wider: A4 less 6 mm on each side, in twips. */
#define DT_DOCX_SHEET_WIDTH 11226
#define DT_DOCX_SHEET_MM    262.0 /* of its height */

/** Margins of a section of the document: those of text, or those of the sheets. */
typedef enum dt_docx_margins { DT_DOCX_TEXT, DT_DOCX_SHEETS } dt_docx_margins;

/** Height of a drawing: what fits on a page beside headings and caption, or below the table of the
 * first page. */
#define DT_DOCX_MOST_MM   245.0
#define DT_DOCX_BESIDE_MM 230.0

/** A drawing of the report, twice. */
typedef struct dt_docx_drawing {
    dt_text svg, png;
    double width_mm, height_mm; /* on paper */
} dt_docx_drawing;

/** The document in the making. */
typedef struct dt_docx {
    dt_html xml; /* word/document.xml; its status is that of the whole */
    dt_docx_drawing *drawings;
    size_t drawing_count;
    size_t bookmarks;
    const char *mark;      /* place in program.json of the text being written; NULL: none */
    bool breaks;           /* the next heading begins a page */
    bool beside;           /* in a cell of what stands side by side */
    bool fresh;            /* a section has begun one just now */
    long room;             /* across, in twips: that of the text, or of a cell that holds blocks */
    double most_height_mm; /* of a drawing, so that it fits with what stands above it */
} dt_docx;

/** Turns what stands in an element of the report into paragraphs and tables. */
void dt_docx_blocks(dt_docx *docx, const xmlNode *element);

/** <w:sectPr>: paper and margins of what stands before it. */
void dt_docx_section(dt_docx *docx, dt_docx_margins margins);

/** One paragraph of a style with what an element holds, in runs. */
void dt_docx_paragraph(dt_docx *docx, const xmlNode *element, const char *style);

/** Opens a paragraph of a style. Closed by dt_html_close(). */
void dt_docx_open_paragraph(dt_docx *docx, const char *style);

/** The text of an element and those in it, in runs. */
void dt_docx_runs(dt_docx *docx, const xmlNode *element);

/** <table> of the report. */
void dt_docx_table(dt_docx *docx, const xmlNode *table);

/** <dl> of the report, terms beside what is said of them, in a table without lines. */
void dt_docx_terms(dt_docx *docx, const xmlNode *list);

/** What the report has side by side: its first part, a drawing, beside the second. */
void dt_docx_beside(dt_docx *docx, const xmlNode *parts);

/** <img> of the report: a paragraph with the drawing. */
void dt_docx_figure(dt_docx *docx, const xmlNode *image);

/** An element with the one attribute w:val. */
void dt_docx_value(dt_docx *docx, const char *element, const char *value);
/** A number as attribute. */
void dt_docx_number(dt_docx *docx, const char *attribute, long number);

/** Whether a node is an element of that name. */
bool dt_docx_is(const xmlNode *node, const char *name);
/** Whether one of the classes of an element is this. */
bool dt_docx_has_class(const xmlNode *element, const char *css_class);

/** A part of the package. */
typedef struct dt_docx_part {
    const char *name; /* "word/document.xml" */
    const char *bytes;
    size_t size;
} dt_docx_part;

/** Packs the parts, in their order. DT_OK; DT_E_MEMORY. */
dt_status dt_docx_pack(const dt_docx_part *parts, size_t count, dt_text *out);

#endif
