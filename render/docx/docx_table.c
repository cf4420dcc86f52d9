/* SPDX-License-Identifier: MIT */
/* Tables of the report, and its lists of terms, as tables of a document. */
#include "docx.h"

#include <stdlib.h>

enum { MOST_COLUMNS = 24 };

/* Widths in twips. A character of the tables' 8 pt takes about 0.55 of that, more in bold; a cell
 * has 4 pt of room beside its text. Common practice, no source: a word processor wraps what is
 * estimated too narrow. */
#define CHARACTER_TWIPS 92L
#define CELL_TWIPS      110L

/** Columns of a table: what each cannot do without, and what it would take on one line. */
typedef struct layout {
    size_t count;
    long least[MOST_COLUMNS], wanted[MOST_COLUMNS], width[MOST_COLUMNS];
} layout;

static bool is_cell(const xmlNode *node)
{
    return dt_docx_is(node, "td") || dt_docx_is(node, "th") || dt_docx_is(node, "dt") ||
           dt_docx_is(node, "dd");
}

static size_t span_of(const xmlNode *cell)
{
    xmlChar *text = xmlGetNoNsProp(cell, BAD_CAST "colspan");
    const size_t span = text ? strtoul((const char *)text, NULL, 10) : 1;
    xmlFree(text);
    return span > 0 ? span : 1;
}

/** Characters of UTF-8, and of the longest word among them. */
static void count_characters(const char *text, long *all, long *word)
{
    long in_word = 0;
    *all = *word = 0;
    for (; *text; ++text) {
        if (((unsigned char)*text & 0xC0) == 0x80) continue;
        ++*all;
        in_word = *text == ' ' || *text == '-' ? 0 : in_word + 1;
        if (in_word > *word) *word = in_word;
    }
}

static void measure_cell(layout *l, size_t column, const xmlNode *cell)
{
    xmlChar *text = xmlNodeGetContent(cell);
    long all = 0, word = 0;
    if (text) count_characters((const char *)text, &all, &word);
    xmlFree(text);
    /* numbers, and dates of a kind, stay on one line */
    if (dt_docx_has_class(cell, "number") && dt_docx_is(cell, "td")) word = all;
    const long least = word * CHARACTER_TWIPS + CELL_TWIPS;
    const long wanted = all * CHARACTER_TWIPS + CELL_TWIPS;
    if (least > l->least[column]) l->least[column] = least;
    if (wanted > l->wanted[column]) l->wanted[column] = wanted;
}

static void measure_row(layout *l, const xmlNode *row)
{
    size_t column = 0;
    for (const xmlNode *cell = row->children; cell; cell = cell->next) {
        if (!is_cell(cell)) continue;
        const size_t span = span_of(cell);
        if (span == 1 && column < MOST_COLUMNS) measure_cell(l, column, cell);
        column += span;
    }
    if (column > l->count) l->count = column < MOST_COLUMNS ? column : MOST_COLUMNS;
}

/** Calls back for each row of <thead> and <tbody>. */
static void each_row(const xmlNode *table, void (*visit)(void *context, const xmlNode *row),
                     void *context)
{
    for (const xmlNode *part = table->children; part; part = part->next)
        for (const xmlNode *row = part->children; row; row = row->next)
            if (dt_docx_is(row, "tr")) visit(context, row);
}

static void measure_visit(void *context, const xmlNode *row)
{
    measure_row(context, row);
}

/** Each column gets what it cannot do without, and of the rest what it wants, in proportion. */
static void share_out(layout *l, long room)
{
    long least = 0, more = 0, given = 0;
    for (size_t i = 0; i < l->count; ++i) {
        if (l->wanted[i] > room / 2) l->wanted[i] = room / 2; /* long prose wraps */
        if (l->wanted[i] < l->least[i]) l->wanted[i] = l->least[i];
        least += l->least[i];
        more += l->wanted[i] - l->least[i];
    }
    for (size_t i = 0; i < l->count; ++i) {
        if (least >= room || more == 0)
            l->width[i] = l->least[i] * room / (least > 0 ? least : 1);
        else
            l->width[i] = l->least[i] + (l->wanted[i] - l->least[i]) * (room - least) / more;
        given += l->width[i];
    }
    if (l->count > 0) l->width[l->count - 1] += room - given;
}

/* ---- cells ---- */

static void open_cell(dt_docx *docx, long width, size_t span)
{
    dt_html *xml = &docx->xml;
    dt_html_open(xml, "w:tc");
    dt_html_open(xml, "w:tcPr");
    dt_html_open(xml, "w:tcW");
    dt_docx_number(docx, "w:w", width);
    dt_html_attribute(xml, "w:type", "dxa");
    dt_html_close_void(xml);
    if (span > 1) {
        dt_html_open(xml, "w:gridSpan");
        dt_docx_number(docx, "w:val", (long)span);
        dt_html_close_void(xml);
    }
    dt_html_close(xml);
}

static void write_cell(dt_docx *docx, const layout *l, size_t column, const xmlNode *cell,
                       bool head)
{
    const size_t span = span_of(cell);
    const bool number = dt_docx_has_class(cell, "number");
    long width = 0;
    for (size_t i = column; i < column + span && i < l->count; ++i)
        width += l->width[i];
    open_cell(docx, width, span);
    const char *style = head                     ? (number ? "TableHeadNumber" : "TableHead")
                        : number                 ? "TableNumber"
                        : dt_docx_is(cell, "th") ? "TableRowHead"
                        : dt_docx_is(cell, "dt") ? "Term"
                                                 : "TableText";
    dt_docx_paragraph(docx, cell, style);
    dt_html_close(&docx->xml);
}

typedef struct writing {
    dt_docx *docx;
    const layout *l;
} writing;

static void write_row(void *context, const xmlNode *row)
{
    const writing *w = context;
    dt_html *xml = &w->docx->xml;
    const bool head = dt_docx_is(row->parent, "thead");
    size_t column = 0;
    dt_html_open(xml, "w:tr");
    dt_html_open(xml, "w:trPr");
    dt_html_raw(xml, "<w:cantSplit/>");
    if (head) dt_html_raw(xml, "<w:tblHeader/>");
    dt_html_close(xml);
    for (const xmlNode *cell = row->children; cell; cell = cell->next) {
        if (!is_cell(cell)) continue;
        write_cell(w->docx, w->l, column, cell, head);
        column += span_of(cell);
    }
    dt_html_close(xml);
}

/** Opens a table of fixed widths, which word processors keep to. */
static void open_table(dt_docx *docx, const layout *l, const char *style)
{
    dt_html *xml = &docx->xml;
    dt_html_open(xml, "w:tbl");
    dt_html_open(xml, "w:tblPr");
    dt_docx_value(docx, "w:tblStyle", style);
    dt_html_open(xml, "w:tblW");
    dt_docx_number(docx, "w:w", docx->room);
    dt_html_attribute(xml, "w:type", "dxa");
    dt_html_close_void(xml);
    dt_html_raw(xml, "<w:tblLayout w:type=\"fixed\"/><w:tblLook w:val=\"0020\" w:firstRow=\"1\"/>");
    dt_html_close(xml);
    dt_html_open(xml, "w:tblGrid");
    for (size_t i = 0; i < l->count; ++i) {
        dt_html_open(xml, "w:gridCol");
        dt_docx_number(docx, "w:w", l->width[i]);
        dt_html_close_void(xml);
    }
    dt_html_close(xml);
}

/** Two tables that touch would become one: an empty line of little height keeps them apart. */
static void close_table(dt_docx *docx)
{
    dt_html_close(&docx->xml);
    dt_docx_open_paragraph(docx, "Gap");
    dt_html_close(&docx->xml);
}

void dt_docx_table(dt_docx *docx, const xmlNode *table)
{
    layout l = {0};
    for (const xmlNode *at = table->children; at; at = at->next)
        if (dt_docx_is(at, "caption")) dt_docx_paragraph(docx, at, "TableCaption");
    each_row(table, measure_visit, &l);
    if (l.count == 0) return;
    share_out(&l, docx->room);
    open_table(docx, &l, "Rows");
    const writing w = {docx, &l};
    each_row(table, write_row, (void *)&w);
    close_table(docx);
}

/* ---- terms ---- */

/** The next <dt> from a node on, also in the <div> that some lists keep each pair in. */
static const xmlNode *next_term(const xmlNode *at)
{
    for (; at; at = at->next) {
        if (dt_docx_is(at, "dt")) return at;
        if (dt_docx_is(at, "div") && at->children) return next_term(at->children);
    }
    return NULL;
}

static const xmlNode *said_of(const xmlNode *term)
{
    const xmlNode *at = term->next;
    while (at && !dt_docx_is(at, "dd"))
        at = at->next;
    return at;
}

static const xmlNode *after(const xmlNode *term)
{
    const xmlNode *next = next_term(term->next);
    if (next || !dt_docx_is(term->parent, "div")) return next;
    return next_term(term->parent->next);
}

/** Pairs side by side: lists of many short figures have two a row, others one. */
void dt_docx_terms(dt_docx *docx, const xmlNode *list)
{
    const size_t across = dt_docx_has_class(list, "job") ? 2 : 1;
    dt_html *xml = &docx->xml;
    layout l = {.count = 2 * across};
    for (size_t i = 0; i < across; ++i) {
        const long pair = (docx->room + (long)i) / (long)across; /* all of it, together */
        l.width[2 * i] = across == 1 ? pair / 5 : pair * 11 / 20;
        l.width[2 * i + 1] = pair - l.width[2 * i];
    }
    const xmlNode *term = next_term(list->children);
    if (!term) return;
    open_table(docx, &l, "Terms");
    while (term) {
        dt_html_open(xml, "w:tr");
        dt_html_raw(xml, "<w:trPr><w:cantSplit/></w:trPr>");
        for (size_t i = 0; i < across; ++i) {
            const xmlNode *said = term ? said_of(term) : NULL;
            if (said) {
                write_cell(docx, &l, 2 * i, term, false);
                write_cell(docx, &l, 2 * i + 1, said, false);
                term = after(term);
            } else {
                for (size_t k = 0; k < 2; ++k) {
                    open_cell(docx, l.width[2 * i + k], 1);
                    dt_docx_open_paragraph(docx, "TableText");
                    dt_html_close(xml);
                    dt_html_close(xml);
                }
            }
        }
        dt_html_close(xml);
    }
    close_table(docx);
}

/* ---- side by side ---- */

void dt_docx_beside(dt_docx *docx, const xmlNode *parts)
{
    const double height_mm = docx->most_height_mm;
    const long room = docx->room;
    const layout l = {.count = 2, .width = {room * 11 / 20, room - room * 11 / 20}};
    size_t column = 0;
    open_table(docx, &l, "Terms");
    dt_html_open(&docx->xml, "w:tr");
    for (const xmlNode *at = parts->children; at; at = at->next) {
        if (at->type != XML_ELEMENT_NODE || column == l.count) continue;
        open_cell(docx, l.width[column], 1);
        docx->room = l.width[column++] - CELL_TWIPS;
        docx->most_height_mm = DT_DOCX_BESIDE_MM;
        docx->beside = true;
        dt_docx_blocks(docx, at);
        dt_docx_open_paragraph(docx, "Gap"); /* a cell ends with a paragraph */
        dt_html_close(&docx->xml);
        dt_html_close(&docx->xml);
    }
    for (; column < l.count; ++column) {
        open_cell(docx, l.width[column], 1);
        dt_docx_open_paragraph(docx, "Gap");
        dt_html_close(&docx->xml);
        dt_html_close(&docx->xml);
    }
    docx->room = room;
    docx->most_height_mm = height_mm;
    docx->beside = false;
    dt_html_close(&docx->xml);
    close_table(docx);
}
