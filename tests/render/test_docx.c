/* SPDX-License-Identifier: MIT */
/*
 * program.docx against the two outside things it has to agree with: the report, whose figures
 * test_report.c holds against program.json, and the rules of a package (ISO/IEC 29500-2: every part
 * has a content type, every relationship leads to a part; from memory). libzip unpacks it again.
 */
#include "check.h"

#include <drawtube/docx.h>

#ifdef DT_HAVE_DOCX

#include <libxml/parser.h>
#include <libxml/tree.h>

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <zip.h>

#include "drawings.h"
#include "least_type.h"
#include "shipped_wells.h"

enum { MOST_PARTS = 80, MOST_MARKS = 8000 };

typedef struct part {
    char name[96];
    char *bytes;
    size_t size;
} part;

typedef struct package {
    part parts[MOST_PARTS];
    size_t count;
} package;

static void unpack(const dt_text *docx, package *out)
{
    zip_error_t error;
    zip_source_t *source = zip_source_buffer_create(docx->bytes, docx->size, 0, &error);
    zip_t *zip = zip_open_from_source(source, ZIP_RDONLY | ZIP_CHECKCONS, &error);
    assert_non_null(zip);
    out->count = (size_t)zip_get_num_entries(zip, 0);
    assert_true(out->count < MOST_PARTS);
    for (size_t i = 0; i < out->count; ++i) {
        zip_stat_t about;
        assert_int_equal(zip_stat_index(zip, i, 0, &about), 0);
        part *p = &out->parts[i];
        snprintf(p->name, sizeof p->name, "%s", about.name);
        p->size = (size_t)about.size;
        p->bytes = malloc(p->size + 1);
        assert_non_null(p->bytes);
        zip_file_t *file = zip_fopen_index(zip, i, 0);
        assert_true(zip_fread(file, p->bytes, p->size) == (zip_int64_t)p->size);
        p->bytes[p->size] = '\0';
        zip_fclose(file);
    }
    zip_discard(zip);
}

static void free_package(package *p)
{
    for (size_t i = 0; i < p->count; ++i)
        free(p->parts[i].bytes);
}

static const part *find(const package *p, const char *name)
{
    for (size_t i = 0; i < p->count; ++i)
        if (strcmp(p->parts[i].name, name) == 0) return &p->parts[i];
    return NULL;
}

static xmlDocPtr parse(const part *p)
{
    assert_non_null(p);
    xmlDocPtr doc = xmlReadMemory(p->bytes, (int)p->size, NULL, NULL, XML_PARSE_NONET);
    if (!doc) fail_msg("%s is not well-formed", p->name);
    return doc;
}

static bool is(const xmlNode *node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0;
}

/** An attribute of whatever namespace; the caller frees. */
static char *attribute(const xmlNode *node, const char *name)
{
    for (const xmlAttr *at = node->properties; at; at = at->next)
        if (strcmp((const char *)at->name, name) == 0)
            return (char *)xmlNodeGetContent((const xmlNode *)at);
    return NULL;
}

typedef void (*visitor)(const xmlNode *element, void *context);

static void each(const xmlNode *node, visitor visit, void *context)
{
    for (; node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE) continue;
        visit(node, context);
        each(node->children, visit, context);
    }
}

/* ---- the rules of a package ---- */

typedef struct types {
    const package *package;
    bool typed[MOST_PARTS];
} types;

static void take_type(const xmlNode *element, void *context)
{
    types *t = context;
    char *extension = attribute(element, "Extension"), *name = attribute(element, "PartName");
    if (name && !find(t->package, name + 1)) fail_msg("%s has a type and is no part", name);
    for (size_t i = 0; i < t->package->count; ++i) {
        const char *own = t->package->parts[i].name, *dot = strrchr(own, '.');
        if (name && strcmp(name + 1, own) == 0) t->typed[i] = true;
        /* "xml" alone would say nothing of what a part is */
        if (extension && dot && strcmp(extension, "xml") != 0 && strcmp(dot + 1, extension) == 0)
            t->typed[i] = true;
    }
    xmlFree(extension);
    xmlFree(name);
}

static void check_types(const package *p)
{
    types t = {.package = p};
    assert_string_equal(p->parts[0].name, "[Content_Types].xml"); /* it comes first */
    xmlDocPtr doc = parse(&p->parts[0]);
    each(xmlDocGetRootElement(doc), take_type, &t);
    xmlFreeDoc(doc);
    for (size_t i = 1; i < p->count; ++i)
        if (!t.typed[i]) fail_msg("%s has no content type", p->parts[i].name);
}

typedef struct links {
    const package *package;
    const char *folder; /* of the part that the relationships are of */
    char ids[2 * MOST_PARTS][32];
    bool led_to[MOST_PARTS];
    size_t count, used;
} links;

static void take_link(const xmlNode *element, void *context)
{
    links *l = context;
    if (!is(element, "Relationship")) return;
    char *id = attribute(element, "Id"), *target = attribute(element, "Target"), path[160];
    snprintf(path, sizeof path, "%s%s", l->folder, target);
    const part *to = find(l->package, path);
    if (!to) fail_msg("relationship %s leads to %s, which is no part", id, path);
    l->led_to[to - l->package->parts] = true;
    snprintf(l->ids[l->count++], sizeof l->ids[0], "%s", id);
    xmlFree(id);
    xmlFree(target);
}

static void use_link(const xmlNode *element, void *context)
{
    links *l = context;
    const bool refers =
        is(element, "blip") || is(element, "svgBlip") || is(element, "footerReference");
    char *id = attribute(element, is(element, "footerReference") ? "id" : "embed");
    size_t at = 0;
    while (refers && id && at < l->count && strcmp(l->ids[at], id) != 0)
        ++at;
    if (refers && (!id || at == l->count)) fail_msg("<%s> refers to nothing", element->name);
    l->used += refers;
    xmlFree(id);
}

static void check_links(const package *p, const xmlNode *document)
{
    links root = {.package = p, .folder = ""}, own = {.package = p, .folder = "word/"};
    xmlDocPtr doc = parse(find(p, "_rels/.rels"));
    each(xmlDocGetRootElement(doc), take_link, &root);
    xmlFreeDoc(doc);
    doc = parse(find(p, "word/_rels/document.xml.rels"));
    each(xmlDocGetRootElement(doc), take_link, &own);
    xmlFreeDoc(doc);
    each(document, use_link, &own);
    for (size_t i = 0; i < p->count; ++i) {
        const char *name = p->parts[i].name;
        const bool about = strstr(name, ".rels") || name[0] == '[';
        if (!about && !root.led_to[i] && !own.led_to[i]) fail_msg("nothing leads to %s", name);
    }
    assert_true(own.used >= 5);
}

/* ---- what it says: letter by letter what the report says ---- */

typedef struct saying {
    char *letters; /* all but white space */
    size_t size;
    struct {
        char place[96], *text; /* a figure and its place in program.json */
    } marks[MOST_MARKS];
    size_t count;
} saying;

static void add_letters(char **letters, size_t *size, const char *text)
{
    *letters = realloc(*letters, *size + strlen(text) + 1);
    assert_non_null(*letters);
    for (; *text; ++text)
        if (!isspace((unsigned char)*text)) (*letters)[(*size)++] = *text;
    (*letters)[*size] = '\0';
}

static void add_mark(saying *s, const char *place, const char *text)
{
    assert_true(s->count < MOST_MARKS);
    size_t size = 0;
    snprintf(s->marks[s->count].place, sizeof s->marks[0].place, "%s", place);
    s->marks[s->count].text = NULL;
    add_letters(&s->marks[s->count++].text, &size, text);
}

/** The report: everything but its contents and the numbered lines of the file. */
static void hear_report(const xmlNode *node, saying *s)
{
    for (; node; node = node->next) {
        if (node->type == XML_TEXT_NODE)
            add_letters(&s->letters, &s->size, (const char *)node->content);
        if (node->type != XML_ELEMENT_NODE || is(node, "nav") || is(node, "ol")) continue;
        char *place = attribute(node, "data-json");
        xmlChar *text = place ? xmlNodeGetContent(node) : NULL;
        if (place) add_mark(s, place, (const char *)text);
        xmlFree(place);
        xmlFree(text);
        hear_report(node->children, s);
    }
}

static bool is_source_line(const xmlNode *paragraph)
{
    const xmlNode *at = paragraph->children;
    char *style = at && is(at, "pPr") && at->children ? attribute(at->children, "val") : NULL;
    const bool source = style && strcmp(style, "Source") == 0;
    xmlFree(style);
    return source;
}

/** Runs of one figure that follow each other are one; a paragraph more ends it. */
static void hear_run(const xmlNode *run, saying *s, bool *open)
{
    char *place = attribute(run, "place");
    xmlChar *text = xmlNodeGetContent(run);
    add_letters(&s->letters, &s->size, (const char *)text);
    if (place && *open && strcmp(s->marks[s->count - 1].place, place) == 0) {
        size_t size = strlen(s->marks[s->count - 1].text);
        add_letters(&s->marks[s->count - 1].text, &size, (const char *)text);
    } else if (place) {
        add_mark(s, place, (const char *)text);
    }
    *open = place != NULL;
    xmlFree(place);
    xmlFree(text);
}

static void hear_document(const xmlNode *node, saying *s, bool *open)
{
    for (; node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE || (is(node, "p") && is_source_line(node))) continue;
        if (is(node, "p")) *open = false;
        if (is(node, "r") && !(node->children && is(node->children, "drawing")))
            hear_run(node, s, open);
        else
            hear_document(node->children, s, open);
    }
}

static void free_saying(saying *s)
{
    for (size_t i = 0; i < s->count; ++i)
        free(s->marks[i].text);
    free(s->letters);
    free(s);
}

static void check_words(const dt_text *report, const xmlNode *document)
{
    saying *want = calloc(1, sizeof *want), *got = calloc(1, sizeof *got);
    xmlDocPtr page = xmlReadMemory(report->bytes, (int)report->size, NULL, NULL, XML_PARSE_NONET);
    bool open = false;
    assert_true(want && got && page);
    const xmlNode *body = xmlDocGetRootElement(page)->children;
    while (!is(body, "body"))
        body = body->next;
    hear_report(body->children, want);
    hear_document(document->children, got, &open);
    assert_true(want->count > 200);
    for (size_t i = 0; i < want->count && i < got->count; ++i)
        if (strcmp(want->marks[i].place, got->marks[i].place) != 0 ||
            strcmp(want->marks[i].text, got->marks[i].text) != 0)
            fail_msg("%s: \"%s\" in the report; %s: \"%s\" in the document", want->marks[i].place,
                     want->marks[i].text, got->marks[i].place, got->marks[i].text);
    assert_int_equal(want->count, got->count);
    for (size_t i = 0; i < want->size && i < got->size; ++i)
        if (want->letters[i] != got->letters[i])
            fail_msg("\"%.60s\" in the report, \"%.60s\" in the document", want->letters + i,
                     got->letters + i);
    assert_int_equal(want->size, got->size);
    xmlFreeDoc(page);
    free_saying(want);
    free_saying(got);
}

/* ---- tables and drawings ---- */

typedef struct counts {
    const package *package;
    size_t tables, heads, anchors, bookmarks, drawings;
    const xmlNode *document;
} counts;

static void check_row(const xmlNode *row, size_t columns)
{
    size_t cells = 0;
    for (const xmlNode *cell = row->children; cell; cell = cell->next) {
        if (!is(cell, "tc")) continue;
        const xmlNode *last = cell->last, *about = cell->children;
        assert_true(is(last, "p")); /* a cell ends with a paragraph, or it cannot be opened */
        size_t span = 1;
        for (const xmlNode *at = about->children; at; at = at->next) {
            char *value = is(at, "gridSpan") ? attribute(at, "val") : NULL;
            if (value) span = strtoul(value, NULL, 10);
            xmlFree(value);
        }
        cells += span;
    }
    assert_int_equal(cells, columns);
}

static void check_table(const xmlNode *table, counts *c)
{
    size_t columns = 0;
    long width = 0;
    for (const xmlNode *at = table->children; at; at = at->next) {
        if (is(at, "tr")) check_row(at, columns);
        for (const xmlNode *column = is(at, "tblGrid") ? at->children : NULL; column;
             column = column->next) {
            char *own = attribute(column, "w");
            assert_true(strtol(own, NULL, 10) > 0);
            width += strtol(own, NULL, 10);
            xmlFree(own);
            ++columns;
        }
    }
    /* A4 less 15 mm on each side, in 1/20 pt: 180 / 25.4 * 1440; less inside another table */
    const bool inside = is(table->parent, "tc");
    if (inside ? width > 6000 : width != 10205) fail_msg("a table of %ld twips", width);
    ++c->tables;
}

/** 300 dots an inch, at least, of what is shown on paper: the head of a PNG (ISO/IEC 15948). */
static void check_drawing(const xmlNode *extent, counts *c)
{
    char name[64], *wide = attribute(extent, "cx");
    const double inches = strtod(wide, NULL) / 914400;
    xmlFree(wide);
    snprintf(name, sizeof name, "word/media/drawing-%zu.png", ++c->drawings);
    const part *png = find(c->package, name);
    assert_non_null(png);
    assert_memory_equal(png->bytes, "\x89PNG\r\n\x1a\n", 8);
    const unsigned char *at = (const unsigned char *)png->bytes + 16;
    const double dots = at[0] * 16777216.0 + at[1] * 65536.0 + at[2] * 256.0 + at[3];
    if (dots < 299.5 * inches) fail_msg("%s has %.0f dots on %.2f in", name, dots, inches);
    assert_true(inches > 1 && inches < 7.9); /* it fits between the margins of the sheets */
    snprintf(name, sizeof name, "word/media/drawing-%zu.svg", c->drawings);
    const part *svg = find(c->package, name);
    assert_non_null(svg);
    const paper_drawing d = paper_measure(svg->bytes, svg->size);
    paper_check(&d, inches * 25.4, name);
}

static void count_bookmark(const xmlNode *element, void *context)
{
    const char **name = context;
    char *own = is(element, "bookmarkStart") ? attribute(element, "name") : NULL;
    if (own && *name && strcmp(own, *name) == 0) *name = NULL;
    xmlFree(own);
}

static void look(const xmlNode *element, void *context)
{
    counts *c = context;
    if (is(element, "tbl")) check_table(element, c);
    if (is(element, "tblHeader")) ++c->heads;
    if (is(element, "extent")) check_drawing(element, c);
    if (!is(element, "hyperlink")) return;
    char *anchor = attribute(element, "anchor");
    const char *left = anchor;
    each(c->document, count_bookmark, &left);
    if (left) fail_msg("#%s leads nowhere", anchor);
    xmlFree(anchor);
    ++c->anchors;
}

static void check_document(const dt_text *report, const dt_text *docx)
{
    package *p = calloc(1, sizeof *p);
    assert_non_null(p);
    unpack(docx, p);
    check_types(p);
    for (size_t i = 0; i < p->count; ++i)
        if (strstr(p->parts[i].name, ".xml") || strstr(p->parts[i].name, ".rels"))
            xmlFreeDoc(parse(&p->parts[i]));
    xmlDocPtr doc = parse(find(p, "word/document.xml"));
    const xmlNode *root = xmlDocGetRootElement(doc);
    check_links(p, root);
    check_words(report, root);
    counts c = {.package = p, .document = root};
    each(root, look, &c);
    assert_true(c.tables > 20 && c.heads > 10 && c.anchors > 5 && c.drawings > 5);
    xmlFreeDoc(doc);
    free_package(p);
    free(p);
}

static void the_document_says_what_the_report_says(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        dt_display display;
    } wells[] = {{"alder-reach", DT_DISPLAY_FIELD},
                 {"mizzenlow-shelf", DT_DISPLAY_METRIC},
                 {"thornback-rise", DT_DISPLAY_FIELD}};
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    for (size_t i = 0; i < sizeof wells / sizeof *wells; ++i) {
        char path[600];
        size_t size = 0;
        snprintf(path, sizeof path, "%s/%s.xml", DT_WELLS, wells[i].name);
        char *text = shipped_read(path, &size);
        dt_well *well = shipped_parse(path);
        const dt_source source = {wells[i].name, text, size};
        dt_program *program = NULL;
        dt_refusal refusal = {0};
        dt_text report = {0}, docx = {0};
        assert_int_equal(dt_program_plan(well, &catalogue, &program, &refusal), DT_OK);
        assert_int_equal(dt_write_report(program, NULL, &source, NULL, wells[i].display, &report),
                         DT_OK);
        assert_int_equal(dt_write_docx(&report, &docx), DT_OK);
        check_document(&report, &docx);
        dt_text_free(&report);
        dt_text_free(&docx);
        dt_program_free(program);
        dt_refusal_free(&refusal);
        dt_well_free(well);
        free(text);
    }
    dt_catalogue_free(&catalogue);
}

/* A page of one drawing, made small: the same bytes whatever the clock and the time zone are. */
#define PAGE                                                                                       \
    "<html><body><h1 data-json=\"well\">Test (invented)</h1><p>A &amp; B</p><img alt=\"x\" "       \
    "src=\"data:image/svg+xml;base64,"                                                             \
    "PHN2ZyB4bWxucz0iaHR0cDovL3d3dy53My5vcmcvMjAwMC9zdmciIHdpZHRoPSIyMG1tIiBoZWlnaHQ9IjEwbW0i"     \
    "IHZpZXdCb3g9IjAgMCAyMCAxMCI+PHJlY3Qgd2lkdGg9IjUiIGhlaWdodD0iNSIvPjwvc3ZnPg==\"/>"             \
    "</body></html>"

static void same_report_same_bytes(void **state)
{
    (void)state;
    static char page[] = PAGE;
    const dt_text report = {page, sizeof page - 1};
    dt_text first = {0};
    static const char *const zones[] = {"UTC0", "ABC+11:30", "XYZ-14"};
    for (size_t i = 0; i < sizeof zones / sizeof *zones; ++i) {
        dt_text docx = {0};
        assert_int_equal(setenv("TZ", zones[i], 1), 0);
        tzset();
        assert_int_equal(dt_write_docx(&report, &docx), DT_OK);
        if (i == 0) first = docx;
        if (i == 0) continue;
        assert_int_equal(docx.size, first.size);
        assert_memory_equal(docx.bytes, first.bytes, first.size);
        dt_text_free(&docx);
    }
    dt_text_free(&first);
}

static void what_is_no_report_is_refused(void **state)
{
    (void)state;
    static char words[] = "no page", other[] = "<svg/>",
                odd[] =
                    "<html><body><img alt=\"\" src=\"data:image/png;base64,AA==\"/></body></html>";
    char *const texts[] = {words, other, odd};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; ++i) {
        const dt_text report = {texts[i], strlen(texts[i])};
        dt_text docx = {0};
        assert_int_equal(dt_write_docx(&report, &docx), DT_E_INPUT);
        assert_null(docx.bytes);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_document_says_what_the_report_says),
        cmocka_unit_test(same_report_same_bytes),
        cmocka_unit_test(what_is_no_report_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

#else

static void without_libzip_there_is_none(void **state)
{
    (void)state;
    static char page[] = "<html><body/></html>";
    const dt_text report = {page, sizeof page - 1};
    dt_text docx = {0};
    assert_false(dt_docx_built_in());
    assert_int_equal(dt_write_docx(&report, &docx), DT_E_IO);
    assert_null(docx.bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(without_libzip_there_is_none)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}

#endif
