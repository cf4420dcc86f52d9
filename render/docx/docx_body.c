/* SPDX-License-Identifier: MIT */
/* The report's headings, paragraphs and lists as paragraphs of a document. */
#include "docx.h"

#include <stdio.h>
#include <string.h>

bool dt_docx_is(const xmlNode *node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0;
}

bool dt_docx_has_class(const xmlNode *element, const char *css_class)
{
    xmlChar *classes = xmlGetNoNsProp(element, BAD_CAST "class");
    const size_t size = strlen(css_class);
    bool has = false;
    for (const char *at = (const char *)classes; at && *at && !has;) {
        const size_t word = strcspn(at, " ");
        has = word == size && strncmp(at, css_class, size) == 0;
        at += word + strspn(at + word, " ");
    }
    xmlFree(classes);
    return has;
}

void dt_docx_value(dt_docx *docx, const char *element, const char *value)
{
    dt_html_open(&docx->xml, element);
    dt_html_attribute(&docx->xml, "w:val", value);
    dt_html_close_void(&docx->xml);
}

void dt_docx_number(dt_docx *docx, const char *attribute, long number)
{
    char text[24];
    snprintf(text, sizeof text, "%ld", number);
    dt_html_attribute(&docx->xml, attribute, text);
}

/* ---- runs ---- */

/** Inline elements of the report, and the character style each becomes. */
static const struct {
    const char *element, *style;
} inline_styles[] = {{"strong", "Strong"}, {"code", "Code"}, {"small", "Small"}};

/** The style of a text: that of the nearest element around it, inside its paragraph. */
static const char *style_of(const xmlNode *text, const xmlNode *paragraph)
{
    for (const xmlNode *at = text->parent; at && at != paragraph; at = at->parent)
        for (size_t i = 0; i < sizeof inline_styles / sizeof *inline_styles; ++i)
            if (dt_docx_is(at, inline_styles[i].element)) return inline_styles[i].style;
    return NULL;
}

static void open_run(dt_docx *docx, const char *style)
{
    dt_html_open(&docx->xml, "w:r");
    if (docx->mark) dt_html_attribute(&docx->xml, "dt:place", docx->mark);
    if (!style) return;
    dt_html_open(&docx->xml, "w:rPr");
    dt_docx_value(docx, "w:rStyle", style);
    dt_html_close(&docx->xml);
}

static void write_text(dt_docx *docx, const xmlNode *text, const xmlNode *paragraph)
{
    const char *words = (const char *)text->content;
    dt_html *xml = &docx->xml;
    open_run(docx, style_of(text, paragraph));
    dt_html_open(xml, "w:t");
    dt_html_attribute(xml, "xml:space", "preserve");
    dt_html_verbatim(xml, words, strlen(words));
    dt_html_close(xml);
    dt_html_close(xml);
}

static void write_runs(dt_docx *docx, const xmlNode *element, const xmlNode *paragraph);

/** A link inside the document; without a target only its words. */
static void write_link(dt_docx *docx, const xmlNode *link, const xmlNode *paragraph)
{
    xmlChar *target = xmlGetNoNsProp(link, BAD_CAST "href");
    const bool inside = target && target[0] == '#';
    if (inside) {
        dt_html_open(&docx->xml, "w:hyperlink");
        dt_html_attribute(&docx->xml, "w:anchor", (const char *)target + 1);
    }
    write_runs(docx, link, paragraph);
    if (inside) dt_html_close(&docx->xml);
    xmlFree(target);
}

/** Lists and tables inside an item of a list, say, come after its paragraph. */
static bool is_block(const xmlNode *node)
{
    static const char *const names[] = {"table", "dl", "ul", "ol", "figure", "section", "div"};
    for (size_t i = 0; i < sizeof names / sizeof *names; ++i)
        if (dt_docx_is(node, names[i])) return true;
    return false;
}

static void write_element(dt_docx *docx, const xmlNode *element, const xmlNode *paragraph)
{
    const char *before = docx->mark;
    xmlChar *mark = xmlGetNoNsProp(element, BAD_CAST "data-json");
    if (mark) docx->mark = (const char *)mark;
    if (dt_docx_is(element, "br"))
        dt_html_raw(&docx->xml, "<w:r><w:br/></w:r>");
    else if (dt_docx_is(element, "a"))
        write_link(docx, element, paragraph);
    else if (!is_block(element))
        write_runs(docx, element, paragraph);
    docx->mark = before;
    xmlFree(mark);
}

static void write_runs(dt_docx *docx, const xmlNode *element, const xmlNode *paragraph)
{
    for (const xmlNode *at = element->children; at; at = at->next)
        if (at->type == XML_TEXT_NODE)
            write_text(docx, at, paragraph);
        else if (at->type == XML_ELEMENT_NODE)
            write_element(docx, at, paragraph);
}

void dt_docx_runs(dt_docx *docx, const xmlNode *element)
{
    const char *before = docx->mark;
    xmlChar *mark = xmlGetNoNsProp(element, BAD_CAST "data-json");
    if (mark) docx->mark = (const char *)mark;
    write_runs(docx, element, element);
    docx->mark = before;
    xmlFree(mark);
}

/* ---- paragraphs ---- */

static void open_paragraph(dt_docx *docx, const char *style, const char *list)
{
    dt_html *xml = &docx->xml;
    dt_html_open(xml, "w:p");
    dt_html_open(xml, "w:pPr");
    dt_docx_value(docx, "w:pStyle", style);
    if (docx->breaks && strncmp(style, "Heading", 7) == 0) {
        dt_html_raw(xml, "<w:pageBreakBefore/>");
        docx->breaks = false;
    }
    docx->fresh = false;
    if (list) {
        dt_html_open(xml, "w:numPr");
        dt_html_raw(xml, "<w:ilvl w:val=\"0\"/>");
        dt_docx_value(docx, "w:numId", list);
        dt_html_close(xml);
    }
    dt_html_close(xml);
}

void dt_docx_open_paragraph(dt_docx *docx, const char *style)
{
    open_paragraph(docx, style, NULL);
}

/** Where links lead: a bookmark of the element's id, at the place where the document has come to.
 */
static void write_bookmark(dt_docx *docx, const xmlNode *element)
{
    xmlChar *id = xmlGetNoNsProp(element, BAD_CAST "id");
    if (!id) return;
    const long number = (long)++docx->bookmarks;
    dt_html_open(&docx->xml, "w:bookmarkStart");
    dt_docx_number(docx, "w:id", number);
    dt_html_attribute(&docx->xml, "w:name", (const char *)id);
    dt_html_close_void(&docx->xml);
    dt_html_open(&docx->xml, "w:bookmarkEnd");
    dt_docx_number(docx, "w:id", number);
    dt_html_close_void(&docx->xml);
    xmlFree(id);
}

void dt_docx_paragraph(dt_docx *docx, const xmlNode *element, const char *style)
{
    open_paragraph(docx, style, NULL);
    dt_docx_runs(docx, element);
    dt_html_close(&docx->xml);
}

/** "12" and a tab: the number of a line of the well file, which other sections name. */
static void write_line_number(dt_docx *docx, size_t number)
{
    char text[24];
    snprintf(text, sizeof text, "%zu", number);
    dt_html_open(&docx->xml, "w:r");
    dt_html_element(&docx->xml, "w:t", NULL, text);
    dt_html_raw(&docx->xml, "<w:tab/>");
    dt_html_close(&docx->xml);
}

/** Items of <ul>, and of <ol> as numbered lines. */
static void write_list(dt_docx *docx, const xmlNode *list)
{
    const bool numbered = dt_docx_is(list, "ol");
    size_t number = 0;
    for (const xmlNode *at = list->children; at; at = at->next) {
        if (!dt_docx_is(at, "li")) continue;
        open_paragraph(docx, numbered ? "Source" : "ListParagraph", numbered ? NULL : "1");
        write_bookmark(docx, at);
        if (numbered) write_line_number(docx, ++number);
        dt_docx_runs(docx, at);
        dt_html_close(&docx->xml);
    }
}

/* ---- blocks ---- */

/** What an element of the report becomes: a paragraph of that style. */
typedef struct block {
    const char *element, *css_class; /* css_class NULL: whatever class it has */
    const char *style;
} block;

static const block blocks[] = {{"h1", NULL, "Title"},       {"h2", NULL, "Heading1"},
                               {"h3", NULL, "Heading2"},    {"h4", NULL, "Heading3"},
                               {"p", "kind", "Subtitle"},   {"p", "caution", "Caution"},
                               {"p", "note", "Note"},       {"p", NULL, "Normal"},
                               {"summary", NULL, "Normal"}, {"figcaption", NULL, "Caption"}};

static const block *block_of(const xmlNode *element)
{
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; ++i)
        if (dt_docx_is(element, blocks[i].element) &&
            (!blocks[i].css_class || dt_docx_has_class(element, blocks[i].css_class)))
            return &blocks[i];
    return NULL;
}

/** Ends a section of the document: what comes next begins a page with margins of its own. */
static void end_section(dt_docx *docx, dt_docx_margins margins)
{
    dt_html *xml = &docx->xml;
    dt_html_open(xml, "w:p");
    dt_html_open(xml, "w:pPr");
    dt_docx_value(docx, "w:pStyle", "Gap");
    dt_docx_section(docx, margins);
    dt_html_close(xml);
    dt_html_close(xml);
    docx->breaks = false;
    docx->fresh = true;
}

static bool holds_sheets(const xmlNode *element)
{
    for (const xmlNode *at = element->children; at; at = at->next)
        if (at->type == XML_ELEMENT_NODE && dt_docx_has_class(at, "sheet")) return true;
    return false;
}

static void write_container(dt_docx *docx, const xmlNode *element)
{
    if (dt_docx_has_class(element, "page")) docx->breaks = !docx->fresh;
    write_bookmark(docx, element);
    dt_docx_blocks(docx, element);
}

/** The sheets have a section of their own, so that they stand at their size. */
static void write_sheets(dt_docx *docx, const xmlNode *element)
{
    const long room = docx->room;
    const double height_mm = docx->most_height_mm;
    end_section(docx, DT_DOCX_TEXT);
    docx->room = DT_DOCX_SHEET_WIDTH;
    docx->most_height_mm = DT_DOCX_SHEET_MM;
    write_container(docx, element);
    end_section(docx, DT_DOCX_SHEETS);
    docx->room = room;
    docx->most_height_mm = height_mm;
}

static void write_block(dt_docx *docx, const xmlNode *element)
{
    const block *own = block_of(element);
    if (dt_docx_is(element, "nav")) return; /* a word processor has its own list of headings */
    if (own)
        dt_docx_paragraph(docx, element, own->style);
    else if (dt_docx_is(element, "table"))
        dt_docx_table(docx, element);
    else if (dt_docx_is(element, "dl"))
        dt_docx_terms(docx, element);
    else if (dt_docx_has_class(element, "beside"))
        dt_docx_beside(docx, element);
    else if (dt_docx_is(element, "img"))
        dt_docx_figure(docx, element);
    else if (dt_docx_is(element, "ul") || dt_docx_is(element, "ol"))
        write_list(docx, element);
    else if (holds_sheets(element))
        write_sheets(docx, element);
    else
        write_container(docx, element);
}

void dt_docx_blocks(dt_docx *docx, const xmlNode *element)
{
    for (const xmlNode *at = element->children; at; at = at->next)
        if (at->type == XML_ELEMENT_NODE) write_block(docx, at);
}
