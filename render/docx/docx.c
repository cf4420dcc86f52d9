/* SPDX-License-Identifier: MIT */
/* The report as a document of Office Open XML. Built without libzip it only says so. */
#include "docx.h"

#ifdef DT_HAVE_DOCX

#include <drawtube/picture.h>

#include <libxml/parser.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

extern const char dt_embedded_docx_styles[], dt_embedded_docx_numbering[],
    dt_embedded_docx_settings[], dt_embedded_docx_rels[], dt_embedded_docx_types[];

/** Parts that are there in every document, before the drawings, which are two parts each. */
enum {
    PART_TYPES,
    PART_RELS,
    PART_CORE,
    PART_DOCUMENT,
    PART_LINKS,
    PART_STYLES,
    PART_NUMBERING,
    PART_SETTINGS,
    PART_FOOTER,
    FIXED_PARTS
};

static const char *const part_names[FIXED_PARTS] = {
    [PART_TYPES] = "[Content_Types].xml",
    [PART_RELS] = "_rels/.rels",
    [PART_CORE] = "docProps/core.xml",
    [PART_DOCUMENT] = "word/document.xml",
    [PART_LINKS] = "word/_rels/document.xml.rels",
    [PART_STYLES] = "word/styles.xml",
    [PART_NUMBERING] = "word/numbering.xml",
    [PART_SETTINGS] = "word/settings.xml",
    [PART_FOOTER] = "word/footer.xml",
};

#define RELATIONS "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
#define WORDS     "http://schemas.openxmlformats.org/wordprocessingml/2006/main"

static const char *const namespaces[][2] = {
    {"xmlns:w", WORDS},
    {"xmlns:r", RELATIONS},
    {"xmlns:wp", "http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing"},
    {"xmlns:a", "http://schemas.openxmlformats.org/drawingml/2006/main"},
    {"xmlns:pic", "http://schemas.openxmlformats.org/drawingml/2006/picture"},
    {"xmlns:mc", "http://schemas.openxmlformats.org/markup-compatibility/2006"},
    {"xmlns:dt", "urn:drawtube:report:1"},
    {"mc:Ignorable", "dt"}, /* where a figure stands in program.json: for machines */
};

bool dt_docx_built_in(void)
{
    return dt_pictures_built_in();
}

/* ---- what the report is about ---- */

/** The text that stands in the report for a key of program.json; NULL where it is not there. */
static xmlChar *text_of(const xmlNode *at, const char *key)
{
    for (; at; at = at->next) {
        if (at->type != XML_ELEMENT_NODE) continue;
        xmlChar *own = xmlGetNoNsProp(at, BAD_CAST "data-json");
        const bool same = own && strcmp((const char *)own, key) == 0;
        xmlFree(own);
        if (same) return xmlNodeGetContent(at);
        xmlChar *below = text_of(at->children, key);
        if (below) return below;
    }
    return NULL;
}

static void write_property(dt_html *xml, const xmlNode *root, const char *element, const char *key)
{
    xmlChar *text = text_of(root, key);
    if (text) dt_html_element(xml, element, NULL, (const char *)text);
    xmlFree(text);
}

/** Title and author, out of the well file; no dates but its own, which stands in the text. */
static dt_status make_core(const xmlNode *root, dt_text *out)
{
    dt_html xml;
    dt_xml_begin(&xml);
    dt_html_open(&xml, "cp:coreProperties");
    dt_html_attribute(&xml, "xmlns:cp",
                      "http://schemas.openxmlformats.org/package/2006/metadata/core-properties");
    dt_html_attribute(&xml, "xmlns:dc", "http://purl.org/dc/elements/1.1/");
    write_property(&xml, root, "dc:title", "well");
    write_property(&xml, root, "dc:creator", "document.author");
    write_property(&xml, root, "cp:version", "document.revision");
    return dt_xml_end(&xml, "</cp:coreProperties>", out);
}

static void write_field(dt_html *xml, const char *field)
{
    dt_html_open(xml, "w:fldSimple");
    dt_html_attribute(xml, "w:instr", field);
    dt_html_raw(xml, "<w:r><w:t>1</w:t></w:r>");
    dt_html_close(xml);
}

static void write_footer_text(dt_html *xml, const char *before, const char *text)
{
    dt_html_open(xml, "w:r");
    dt_html_open(xml, "w:t");
    dt_html_attribute(xml, "xml:space", "preserve");
    dt_html_verbatim(xml, before, strlen(before));
    dt_html_verbatim(xml, text, strlen(text));
    dt_html_close(xml);
    dt_html_close(xml);
}

/** Well and revision, and which page of how many. */
static dt_status make_footer(const xmlNode *root, dt_text *out)
{
    dt_html xml;
    xmlChar *well = text_of(root, "well"), *revision = text_of(root, "document.revision");
    dt_xml_begin(&xml);
    dt_html_open(&xml, "w:ftr");
    dt_html_attribute(&xml, "xmlns:w", WORDS);
    dt_html_raw(&xml, "<w:p><w:pPr><w:pStyle w:val=\"Footer\"/></w:pPr>");
    if (well) write_footer_text(&xml, "", (const char *)well);
    if (revision) write_footer_text(&xml, ", revision ", (const char *)revision);
    dt_html_raw(&xml, "<w:r><w:tab/></w:r>");
    write_footer_text(&xml, "Page ", "");
    write_field(&xml, "PAGE");
    write_footer_text(&xml, " of ", "");
    write_field(&xml, "NUMPAGES");
    dt_html_raw(&xml, "</w:p>");
    xmlFree(well);
    xmlFree(revision);
    return dt_xml_end(&xml, "</w:ftr>", out);
}

/* ---- the document ---- */

static void write_body(dt_docx *docx, const xmlNode *root)
{
    dt_html *xml = &docx->xml;
    dt_html_open(xml, "w:document");
    for (size_t i = 0; i < sizeof namespaces / sizeof *namespaces; ++i)
        dt_html_attribute(xml, namespaces[i][0], namespaces[i][1]);
    dt_html_open(xml, "w:body");
    for (const xmlNode *at = root->children; at; at = at->next)
        if (dt_docx_is(at, "body")) dt_docx_blocks(docx, at);
    dt_docx_section(docx, DT_DOCX_TEXT);
    dt_html_close(xml);
}

void dt_docx_section(dt_docx *docx, dt_docx_margins margins)
{
    /* A4, 15 mm on each side, or 6 mm: twips are 1/20 pt, 56.69 a mm */
    static const char *const of[] = {
        [DT_DOCX_TEXT] = "<w:pgMar w:top=\"850\" w:right=\"850\" w:bottom=\"850\" w:left=\"850\" "
                         "w:header=\"400\" w:footer=\"400\" w:gutter=\"0\"/>",
        [DT_DOCX_SHEETS] = "<w:pgMar w:top=\"283\" w:right=\"340\" w:bottom=\"510\" w:left=\"340\" "
                           "w:header=\"227\" w:footer=\"227\" w:gutter=\"0\"/>"};
    dt_html_raw(&docx->xml, "<w:sectPr><w:footerReference w:type=\"default\" r:id=\"footer\"/>"
                            "<w:pgSz w:w=\"11906\" w:h=\"16838\"/>");
    dt_html_raw(&docx->xml, of[margins]);
    dt_html_raw(&docx->xml, "</w:sectPr>");
}

static void write_link(dt_html *xml, const char *id, const char *type, const char *target)
{
    dt_html_open(xml, "Relationship");
    dt_html_attribute(xml, "Id", id);
    dt_html_attribute(xml, "Type", type);
    dt_html_attribute(xml, "Target", target);
    dt_html_close_void(xml);
}

/** Which parts word/document.xml makes use of, by which name. */
static dt_status make_links(const dt_docx *docx, dt_text *out)
{
    static const char *const fixed[][3] = {{"styles", RELATIONS "/styles", "styles.xml"},
                                           {"numbering", RELATIONS "/numbering", "numbering.xml"},
                                           {"settings", RELATIONS "/settings", "settings.xml"},
                                           {"footer", RELATIONS "/footer", "footer.xml"}};
    static const char *const kinds[] = {"svg", "png"};
    dt_html xml;
    dt_xml_begin(&xml);
    dt_html_open(&xml, "Relationships");
    dt_html_attribute(&xml, "xmlns",
                      "http://schemas.openxmlformats.org/package/2006/relationships");
    for (size_t i = 0; i < sizeof fixed / sizeof *fixed; ++i)
        write_link(&xml, fixed[i][0], fixed[i][1], fixed[i][2]);
    for (size_t i = 1; i <= docx->drawing_count; ++i)
        for (size_t k = 0; k < 2; ++k) {
            char id[32], target[64];
            snprintf(id, sizeof id, "%s%zu", kinds[k], i);
            snprintf(target, sizeof target, "media/drawing-%zu.%s", i, kinds[k]);
            write_link(&xml, id, RELATIONS "/image", target);
        }
    return dt_xml_end(&xml, "</Relationships>", out);
}

/* ---- the package ---- */

static dt_status pack(const dt_docx *docx, dt_text made[FIXED_PARTS], dt_text *out)
{
    const size_t count = FIXED_PARTS + 2 * docx->drawing_count;
    dt_docx_part *parts = calloc(count, sizeof *parts);
    char(*names)[48] = calloc(count, sizeof *names);
    dt_status status = parts && names ? DT_OK : DT_E_MEMORY;
    static const char *const embedded[FIXED_PARTS] = {[PART_TYPES] = dt_embedded_docx_types,
                                                      [PART_RELS] = dt_embedded_docx_rels,
                                                      [PART_STYLES] = dt_embedded_docx_styles,
                                                      [PART_NUMBERING] = dt_embedded_docx_numbering,
                                                      [PART_SETTINGS] = dt_embedded_docx_settings};
    for (size_t i = 0; status == DT_OK && i < FIXED_PARTS; ++i)
        parts[i] = embedded[i] ? (dt_docx_part){part_names[i], embedded[i], strlen(embedded[i])}
                               : (dt_docx_part){part_names[i], made[i].bytes, made[i].size};
    for (size_t i = 0; status == DT_OK && i < docx->drawing_count; ++i) {
        const dt_docx_drawing *d = &docx->drawings[i];
        const size_t at = FIXED_PARTS + 2 * i;
        snprintf(names[at], sizeof names[at], "word/media/drawing-%zu.svg", i + 1);
        snprintf(names[at + 1], sizeof names[at + 1], "word/media/drawing-%zu.png", i + 1);
        parts[at] = (dt_docx_part){names[at], d->svg.bytes, d->svg.size};
        parts[at + 1] = (dt_docx_part){names[at + 1], d->png.bytes, d->png.size};
    }
    if (status == DT_OK) status = dt_docx_pack(parts, count, out);
    free(parts);
    free(names);
    return status;
}

static dt_status make_parts(dt_docx *docx, const xmlNode *root, dt_text made[FIXED_PARTS])
{
    dt_xml_begin(&docx->xml);
    write_body(docx, root);
    dt_status status = dt_xml_end(&docx->xml, "</w:document>", &made[PART_DOCUMENT]);
    if (status == DT_OK) status = make_core(root, &made[PART_CORE]);
    if (status == DT_OK) status = make_footer(root, &made[PART_FOOTER]);
    if (status == DT_OK) status = make_links(docx, &made[PART_LINKS]);
    return status;
}

dt_status dt_write_docx(const dt_text *report, dt_text *out)
{
    if (!dt_docx_built_in()) return DT_E_IO;
    xmlDocPtr tree =
        xmlReadMemory(report->bytes, (int)report->size, NULL, NULL,
                      XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING | XML_PARSE_HUGE);
    const xmlNode *root = tree ? xmlDocGetRootElement(tree) : NULL;
    if (!root || !dt_docx_is(root, "html")) {
        xmlFreeDoc(tree);
        return DT_E_INPUT;
    }
    dt_docx docx = {.room = DT_DOCX_TEXT_WIDTH, .most_height_mm = DT_DOCX_MOST_MM};
    dt_text made[FIXED_PARTS] = {{0}};
    dt_status status = make_parts(&docx, root, made);
    if (status == DT_OK) status = pack(&docx, made, out);
    for (size_t i = 0; i < FIXED_PARTS; ++i)
        dt_text_free(&made[i]);
    for (size_t i = 0; i < docx.drawing_count; ++i) {
        dt_text_free(&docx.drawings[i].svg);
        dt_text_free(&docx.drawings[i].png);
    }
    free(docx.drawings);
    xmlFreeDoc(tree);
    return status;
}

#else

bool dt_docx_built_in(void)
{
    return false;
}

dt_status dt_write_docx(const dt_text *report, dt_text *out)
{
    (void)report, (void)out;
    return DT_E_IO;
}

#endif
