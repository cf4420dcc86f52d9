/* SPDX-License-Identifier: MIT */
/*
 * The drawings are read back as XML: nothing here looks at how they are made. Checked are the
 * profile that survives a word processor, that labels never overlap, that depths and diameters
 * are to scale, and that broken or hostile input stays harmless.
 */
#include "check.h"

#include <ctype.h>
#include <libxml/parser.h>
#include <libxml/xmlmemory.h>
#include <libxml/xpath.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/lsan_interface.h>
#endif

#include "drawing_fixture.h"
#include "drawings.h"
#include "least_type.h"
#include "shipped_wells.h"
#include "text.h"

#include "labels.h"

typedef dt_status (*draw)(const dt_program *, dt_display, dt_text *);
typedef struct drawing {
    const char *name;
    draw make;
    size_t least_texts, least_labels; /* what even the smallest program brings */
} drawing;

static dt_status draw_column(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_schematic_form(program, DT_FORM_COLUMN, display, out);
}

static dt_status draw_thumbnail(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_schematic_form(program, DT_FORM_THUMBNAIL, display, out);
}

static const drawing drawings[] = {{"schematic", dt_draw_schematic, 9, 11},
                                   {"schematic, column", draw_column, 9, 11},
                                   {"schematic, thumbnail", draw_thumbnail, 2, 1},
                                   {"window", dt_draw_window, 9, 11},
                                   {"options", dt_draw_options, 9, 0}};
#define DRAWINGS (sizeof drawings / sizeof *drawings)

static xmlDocPtr parse(const dt_text *text)
{
    xmlDocPtr doc = xmlReadMemory(text->bytes, (int)text->size, NULL, NULL,
                                  XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
    if (!doc) fail_msg("not well-formed XML");
    return doc;
}

static bool attribute_is(xmlNodePtr node, const char *name, const char *want)
{
    xmlChar *value = xmlGetProp(node, BAD_CAST name);
    bool same = value && strcmp((const char *)value, want) == 0;
    xmlFree(value);
    return same;
}

static double attribute_number(xmlNodePtr node, const char *name)
{
    xmlChar *value = xmlGetProp(node, BAD_CAST name);
    double number = value ? strtod((const char *)value, NULL) : NAN;
    xmlFree(value);
    return number;
}

/** Calls visit for every element, in document order. */
static void each(xmlNodePtr node, void (*visit)(xmlNodePtr, void *), void *context)
{
    for (; node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE) continue;
        visit(node, context);
        each(node->children, visit, context);
    }
}

/* ---- the profile: docs/drawings.md ---- */

static bool is_listed(const char *word, const char *const *list)
{
    for (; *list; ++list)
        if (strcmp(word, *list) == 0) return true;
    return false;
}

static void check_paint(const char *value)
{
    if (strcmp(value, "none") == 0) return;
    bool good = strlen(value) == 7 && value[0] == '#';
    for (size_t i = 1; good && i < 7; ++i)
        good = isxdigit((unsigned char)value[i]) != 0;
    if (!good) fail_msg("colour \"%s\" is not #rrggbb", value);
}

/** Every url(#id) must lead somewhere. */
static void check_reference(xmlDocPtr doc, const char *value)
{
    char path[128], id[80];
    if (sscanf(value, "url(#%79[^)])", id) != 1) fail_msg("odd reference %s", value);
    snprintf(path, sizeof path, "//*[@id='%s']", id);
    xmlXPathContextPtr context = xmlXPathNewContext(doc);
    xmlXPathObjectPtr found = xmlXPathEvalExpression(BAD_CAST path, context);
    int count = found && found->nodesetval ? found->nodesetval->nodeNr : 0;
    xmlXPathFreeObject(found);
    xmlXPathFreeContext(context);
    if (count != 1) fail_msg("%d elements have the id %s", count, id);
}

static void check_element(xmlNodePtr node, void *context)
{
    (void)context;
    static const char *const elements[] = {"svg", "title", "desc",    "rect",    "path",     "line",
                                           "g",   "text",  "polygon", "ellipse", "clipPath", NULL};
    static const char *const refused[] = {"style",       "dominant-baseline",
                                          "textLength",  "writing-mode",
                                          "paint-order", "filter",
                                          "display",     "href",
                                          NULL};
    if (!is_listed((const char *)node->name, elements)) fail_msg("<%s> is used", node->name);
    for (xmlAttrPtr a = node->properties; a; a = a->next) {
        const char *name = (const char *)a->name;
        if (is_listed(name, refused) || strncmp(name, "on", 2) == 0)
            fail_msg("attribute %s is used", name);
        xmlChar *value = xmlNodeListGetString(node->doc, a->children, 1);
        if (strcmp(name, "fill") == 0 || strcmp(name, "stroke") == 0)
            check_paint((const char *)value);
        if (strcmp(name, "clip-path") == 0) check_reference(node->doc, (const char *)value);
        if (value && strstr((const char *)value, "nan")) fail_msg("%s=\"%s\"", name, value);
        xmlFree(value);
    }
}

static void check_root(xmlNodePtr root)
{
    assert_string_equal((const char *)root->name, "svg");
    assert_true(attribute_is(root, "role", "img"));
    xmlChar *size = xmlGetProp(root, BAD_CAST "width");
    assert_non_null(size);
    assert_non_null(strstr((const char *)size, "mm"));
    assert_true(strtod((const char *)size, NULL) <= 180.001);
    xmlFree(size);
    xmlChar *ids = xmlGetProp(root, BAD_CAST "aria-labelledby");
    assert_non_null(ids);
    xmlNodePtr title = xmlFirstElementChild(root);
    xmlNodePtr desc = xmlNextElementSibling(title);
    assert_string_equal((const char *)title->name, "title");
    assert_string_equal((const char *)desc->name, "desc");
    char want[160];
    xmlChar *first = xmlGetProp(title, BAD_CAST "id"), *second = xmlGetProp(desc, BAD_CAST "id");
    snprintf(want, sizeof want, "%s %s", (const char *)first, (const char *)second);
    assert_string_equal((const char *)ids, want);
    xmlFree(first);
    xmlFree(second);
    xmlFree(ids);
}

/* ---- text colours: WCAG 2.2, success criterion 1.4.3 and its definition of contrast ratio ---- */

static double channel(long value)
{
    double c = (double)value / 255;
    return c <= 0.04045 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4);
}

static double contrast_on_white(const char *color)
{
    long rgb = strtol(color + 1, NULL, 16);
    double luminance = 0.2126 * channel(rgb >> 16 & 255) + 0.7152 * channel(rgb >> 8 & 255) +
                       0.0722 * channel(rgb & 255);
    return 1.05 / (luminance + 0.05);
}

static void check_text(xmlNodePtr node, void *context)
{
    int *count = context;
    if (strcmp((const char *)node->name, "text") != 0) return;
    xmlChar *fill = xmlGetProp(node, BAD_CAST "fill");
    assert_non_null(fill);
    if (!(contrast_on_white((const char *)fill) >= 4.5)) fail_msg("text in %s is too pale", fill);
    xmlFree(fill);
    ++*count;
}

/* ---- labels ---- */

typedef struct label_box {
    double x, y, w, h;
    char text[256];
} label_box;

typedef struct label_list {
    label_box *items;
    size_t count;
} label_list;

static void collect_label(xmlNodePtr node, void *context)
{
    label_list *list = context;
    if (!attribute_is(node, "class", "label")) return;
    list->items = realloc(list->items, (list->count + 1) * sizeof *list->items);
    assert_non_null(list->items);
    label_box *box = &list->items[list->count++];
    xmlChar *numbers = xmlGetProp(node, BAD_CAST "data-box");
    assert_non_null(numbers);
    assert_int_equal(
        sscanf((const char *)numbers, "%lf %lf %lf %lf", &box->x, &box->y, &box->w, &box->h), 4);
    xmlFree(numbers);
    xmlChar *content = xmlNodeGetContent(node);
    snprintf(box->text, sizeof box->text, "%s", (const char *)content);
    xmlFree(content);
    assert_true(strlen(box->text) > 0);
    /* every line of text stands inside its box, baseline and all */
    for (xmlNodePtr child = xmlFirstElementChild(node); child;
         child = xmlNextElementSibling(child)) {
        if (strcmp((const char *)child->name, "text") != 0) continue;
        double x = attribute_number(child, "x"), y = attribute_number(child, "y");
        double size = attribute_number(child, "font-size");
        assert_true(x >= box->x - 0.01 && x <= box->x + box->w + 0.01);
        assert_true(y - 0.72 * size >= box->y - 0.3 && y + 0.21 * size <= box->y + box->h + 0.3);
    }
}

static label_list collect_labels(xmlNodePtr root)
{
    label_list list = {0};
    each(root, collect_label, &list);
    return list;
}

static void check_labels(xmlNodePtr root, size_t least)
{
    double left, top, width, height;
    xmlChar *view = xmlGetProp(root, BAD_CAST "viewBox");
    assert_int_equal(sscanf((const char *)view, "%lf %lf %lf %lf", &left, &top, &width, &height),
                     4);
    xmlFree(view);
    label_list list = collect_labels(root);
    assert_true(list.count >= least);
    for (size_t i = 0; i < list.count; ++i) {
        const label_box *a = &list.items[i];
        if (!(a->x >= 0 && a->y >= 0 && a->x + a->w <= width && a->y + a->h <= height))
            fail_msg("\"%s\" leaves the page", a->text);
        for (size_t j = 0; j < i; ++j) {
            const label_box *b = &list.items[j];
            bool apart = a->x + a->w <= b->x + 0.02 || b->x + b->w <= a->x + 0.02 ||
                         a->y + a->h <= b->y + 0.02 || b->y + b->h <= a->y + 0.02;
            if (!apart) fail_msg("\"%s\" overlaps \"%s\"", a->text, b->text);
        }
    }
    free(list.items);
}

/** Nodes of the option graph do not overlap either. */
static void collect_node(xmlNodePtr node, void *context)
{
    label_list *list = context;
    if (!attribute_is(node, "class", "node")) return;
    xmlNodePtr shape = xmlFirstElementChild(node);
    while (shape && strcmp((const char *)shape->name, "text") != 0)
        shape = xmlNextElementSibling(shape);
    assert_non_null(shape);
    list->items = realloc(list->items, (list->count + 1) * sizeof *list->items);
    assert_non_null(list->items);
    xmlChar *content = xmlNodeGetContent(shape);
    label_box *box = &list->items[list->count++];
    *box = (label_box){.x = attribute_number(shape, "x"), .y = attribute_number(shape, "y")};
    snprintf(box->text, sizeof box->text, "%s", (const char *)content);
    xmlFree(content);
}

static void check_graph(xmlNodePtr root, const dt_program *program)
{
    label_list nodes = {0};
    each(root, collect_node, &nodes);
    assert_true(nodes.count >= 3 * program->count); /* heading, hole and pipe of each string */
    for (size_t i = 0; i < nodes.count; ++i)
        for (size_t j = 0; j < i; ++j)
            assert_true(fabs(nodes.items[i].x - nodes.items[j].x) > 20 ||
                        fabs(nodes.items[i].y - nodes.items[j].y) > 8);
    free(nodes.items);
    xmlChar *content = xmlNodeGetContent(root);
    size_t chosen = 0;
    for (const char *at = (const char *)content; (at = strstr(at, "chosen\n")) != NULL; ++at)
        ++chosen;
    assert_true(chosen >= 2 * program->count);
    char *name = NULL;
    assert_int_equal(dt_text_clean(program->well->name, &name), DT_OK);
    const char *named = strstr((const char *)content, name); /* the title */
    assert_non_null(named);
    assert_non_null(strstr(named + 1, name)); /* what is drawn */
    free(name);
    xmlFree(content);
}

static void check_drawing(const drawing *d, const dt_program *program, dt_display display)
{
    dt_text text = {0}, again = {0};
    assert_int_equal(d->make(program, display, &text), DT_OK);
    assert_int_equal(d->make(program, display, &again), DT_OK);
    assert_int_equal(text.size, again.size); /* same input, same bytes */
    assert_memory_equal(text.bytes, again.bytes, text.size);
    assert_int_equal(text.bytes[text.size], '\0');
    xmlDocPtr doc = parse(&text);
    xmlNodePtr root = xmlDocGetRootElement(doc);
    int texts = 0;
    const paper_drawing paper = paper_measure(text.bytes, text.size);
    /* the layout engine does not break a name that is wider than the page: all shrinks */
    if (d->make != dt_draw_options || !strstr(program->well->name, "unbrokenword"))
        paper_check(&paper, paper.width_mm, d->name);
    check_root(root);
    each(root, check_element, NULL);
    each(root, check_text, &texts);
    assert_true((size_t)texts >= d->least_texts);
    if (d->make == dt_draw_options)
        check_graph(root, program);
    else
        check_labels(root, d->least_labels);
    xmlFreeDoc(doc);
    dt_text_free(&text);
    dt_text_free(&again);
}

static void check_all(const dt_program *program)
{
    for (size_t i = 0; i < DRAWINGS; ++i) {
        print_message("    %s of %s\n", drawings[i].name, program->well->name);
        check_drawing(&drawings[i], program, DT_DISPLAY_FIELD);
        check_drawing(&drawings[i], program, DT_DISPLAY_METRIC);
    }
}

static void fixtures_are_drawn(void **state)
{
    (void)state;
    for (size_t i = 0; i < FIXTURE_PLANS; ++i) {
        fixture *f = fixture_build(&fixture_plans[i]);
        assert_non_null(f);
        check_all(&f->program);
        fixture_free(f);
    }
}

/* ---- every shipped well ---- */

static dt_status strength_of_first(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_strength(program, 0, display, out);
}

static dt_status strength_of_second(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_strength(program, 1, display, out);
}

static dt_status strength_of_last(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_strength(program, program->count - 1, display, out);
}

/** Strength plots stand on the planner's loads, so only planned wells have them. */
static void check_strengths(const dt_program *program)
{
    const drawing plots[] = {{"strength 1", strength_of_first, 9, 11},
                             {"strength 2", strength_of_second, 9, 11},
                             {"last strength", strength_of_last, 9, 11}};
    for (size_t i = 0; i < sizeof plots / sizeof *plots; ++i)
        for (int metric = 0; metric < 2; ++metric)
            check_drawing(&plots[i], program, metric ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD);
    dt_text text = {0};
    assert_int_equal(
        dt_draw_strength(program, dt_program_strings(program), DT_DISPLAY_FIELD, &text),
        DT_E_DOMAIN);
    assert_null(text.bytes);
    /* every case that is run is named, and its factor stands behind it */
    assert_int_equal(dt_draw_strength(program, program->count - 1, DT_DISPLAY_FIELD, &text), DT_OK);
    const dt_string_load *load = &program->strings.items[program->count - 1].load;
    for (int i = 0; i < DT_LOAD_COUNT; ++i) {
        char name[64];
        snprintf(name, sizeof name, ">%s: ", dt_load_code((dt_load)i));
        assert_int_equal(strstr(text.bytes, name) != NULL, load->runs[i]);
    }
    dt_text_free(&text);
}

/* Along the hole both ways are to one scale: a shoe is as far from the well head as the survey has
 * it, and a vertical well has no such drawing. */
static void check_course(const dt_program *program)
{
    const drawing course = {"course", dt_draw_course, 12, 4};
    dt_text text = {0};
    if (program->trajectory.count == 0) {
        assert_int_equal(dt_draw_course(program, DT_DISPLAY_FIELD, &text), DT_E_NONE);
        assert_null(text.bytes);
        return;
    }
    check_drawing(&course, program, DT_DISPLAY_FIELD);
    check_drawing(&course, program, DT_DISPLAY_METRIC);
}

/** Returns 1 when the well has a program that could be drawn. */
static int draw_well(const char *path, const dt_catalogue *catalogue)
{
    size_t size;
    char *bytes = shipped_read(path, &size);
    dt_report report;
    dt_well *well = NULL;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    assert_int_equal(dt_report_init(&report, path), DT_OK);
    assert_int_equal(dt_well_parse(bytes, size, &report, &well), DT_OK);
    dt_status status = dt_program_plan(well, catalogue, &program, &refusal);
    assert_true(status == DT_OK || status == DT_E_NONE);
    if (status == DT_OK) check_all(program);
    if (status == DT_OK) check_strengths(program);
    if (status == DT_OK) check_course(program);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_well_free(well);
    dt_report_free(&report);
    free(bytes);
    return status == DT_OK;
}

static void shipped_wells_are_drawn(void **state)
{
    (void)state;
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    shipped wells[MOST_SHIPPED];
    const size_t count = shipped_wells(wells);
    int drawn = 0;
    for (size_t i = 0; i < count; ++i)
        drawn += draw_well(wells[i].path, &catalogue);
    dt_catalogue_free(&catalogue);
    assert_true(drawn >= 1);
}

/* ---- to scale ---- */

typedef struct tick {
    double depth_m, y;
} tick;

/** Ticks of one depth axis below y_from, told by their place and by being a bare number. */
static size_t find_ticks(const label_list *list, bool feet, double y_from, tick *out, size_t most)
{
    size_t count = 0;
    for (size_t i = 0; i < list->count && count < most; ++i) {
        const label_box *box = &list->items[i];
        char digits[64] = "";
        size_t n = 0;
        bool bare = strlen(box->text) < 12;
        for (const char *c = box->text; *c && bare; ++c) {
            if (isdigit((unsigned char)*c))
                digits[n++] = *c;
            else
                bare = *c == ',';
        }
        bool left = box->x < 230;
        double y = box->y + box->h / 2;
        if (!bare || n == 0 || left != feet || y < y_from) continue;
        out[count++] = (tick){strtod(digits, NULL) * (feet ? 0.3048 : 1), y};
    }
    return count;
}

/* One linear scale in the lower part of the page, the same for feet (exactly 0.3048 m, NIST SP
 * 811) and for metres. */
static void depth_is_to_scale(void **state)
{
    (void)state;
    for (size_t i = 0; i < FIXTURE_PLANS; ++i) {
        fixture *f = fixture_build(&fixture_plans[i]);
        dt_text text = {0};
        assert_int_equal(dt_draw_schematic(&f->program, DT_DISPLAY_FIELD, &text), DT_OK);
        xmlDocPtr doc = parse(&text);
        label_list list = collect_labels(xmlDocGetRootElement(doc));
        tick ticks[128];
        size_t feet = find_ticks(&list, true, 300, ticks, 64);
        size_t all = feet + find_ticks(&list, false, 300, ticks + feet, 64);
        assert_true(feet >= 5 && all >= feet + 5);
        double slope =
            (ticks[feet - 1].y - ticks[0].y) / (ticks[feet - 1].depth_m - ticks[0].depth_m);
        for (size_t t = 0; t < all; ++t)
            assert_within(ticks[t].y, ticks[0].y + slope * (ticks[t].depth_m - ticks[0].depth_m),
                          0.05);
        free(list.items);
        xmlFreeDoc(doc);
        dt_text_free(&text);
        fixture_free(f);
    }
}

typedef struct steel {
    double x[2 * FIXTURE_STRINGS + 8], lowest[2 * FIXTURE_STRINGS + 8];
    size_t count;
} steel;

/** First x and largest y of every path in the colour of steel that has no stroke. */
static void collect_steel(xmlNodePtr node, void *context)
{
    steel *s = context;
    if (strcmp((const char *)node->name, "path") != 0 || !attribute_is(node, "fill", DT_STEEL))
        return;
    assert_true(s->count < sizeof s->x / sizeof *s->x);
    xmlChar *d = xmlGetProp(node, BAD_CAST "d");
    double lowest = 0;
    for (const char *at = (const char *)d; *at;) {
        if (*at != 'M' && *at != 'L') {
            ++at;
            continue;
        }
        char *end;
        double x = strtod(at + 1, &end);
        double y = strtod(end, &end);
        if (at == (const char *)d) s->x[s->count] = x;
        lowest = fmax(lowest, y);
        at = end;
    }
    s->lowest[s->count++] = lowest;
    xmlFree(d);
}

/* Diameters: all to one scale. Shoes: at their depth on the page's own depth scale. */
static void pipes_are_to_scale(void **state)
{
    (void)state;
    for (size_t i = 0; i < FIXTURE_PLANS; ++i) {
        fixture *f = fixture_build(&fixture_plans[i]);
        dt_text text = {0};
        assert_int_equal(dt_draw_schematic(&f->program, DT_DISPLAY_FIELD, &text), DT_OK);
        xmlDocPtr doc = parse(&text);
        steel s = {0};
        each(xmlDocGetRootElement(doc), collect_steel, &s);
        assert_true(s.count >= 2 * f->program.count); /* walls, then shoe, for each string */
        label_list list = collect_labels(xmlDocGetRootElement(doc));
        tick ticks[64];
        size_t feet = find_ticks(&list, true, 300, ticks, 64);
        double slope =
            (ticks[feet - 1].y - ticks[0].y) / (ticks[feet - 1].depth_m - ticks[0].depth_m);
        const double middle = 344; /* of the rock of the full page */
        double scale = (middle - s.x[0]) / f->items[0].od_m;
        for (size_t k = 0; k < f->program.count; ++k) {
            assert_within(middle - s.x[2 * k], scale * f->items[k].od_m, 0.02);
            double y = ticks[0].y + slope * (f->items[k].shoe_tvd_m - ticks[0].depth_m);
            if (s.lowest[2 * k] > 300) assert_within(s.lowest[2 * k], y, 0.1);
        }
        assert_true(s.lowest[2 * f->program.count - 2] > 300); /* at least the last was held */
        free(list.items);
        xmlFreeDoc(doc);
        dt_text_free(&text);
        fixture_free(f);
    }
}

/* ---- a crowd, hostile names, failures ---- */

static void many_intervals_stay_legible(void **state)
{
    (void)state;
    enum { MANY = 400 };
    fixture *f = fixture_build(&fixture_plans[0]);
    dt_interval *crowd = calloc(MANY, sizeof *crowd);
    assert_non_null(crowd);
    static char name[] = "One of very many intervals with a longer name", kind[] = "salt";
    for (size_t i = 0; i < MANY; ++i)
        crowd[i] = (dt_interval){.name = name,
                                 .kind = kind,
                                 .top_m = 300 + 8.0 * (double)i,
                                 .base_m = 304 + 8.0 * (double)i,
                                 .action = DT_CASE_OFF};
    for (size_t count = 1; count <= MANY; count = count * 2 + 1) {
        f->well.intervals = crowd;
        f->well.interval_count = count;
        check_drawing(&drawings[0], &f->program, DT_DISPLAY_FIELD);
        check_drawing(&drawings[1], &f->program, DT_DISPLAY_FIELD);
    }
    free(crowd);
    fixture_free(f);
}

static void hostile_names_stay_text(void **state)
{
    (void)state;
    fixture *f = fixture_build(&fixture_plans[3]);
    for (size_t i = 0; i < DRAWINGS; ++i) {
        dt_text text = {0};
        assert_int_equal(drawings[i].make(&f->program, DT_DISPLAY_FIELD, &text), DT_OK);
        assert_null(strstr(text.bytes, "<script"));
        assert_null(strstr(text.bytes, "<!--"));
        for (size_t n = 0; n < text.size; ++n)
            assert_true((unsigned char)text.bytes[n] >= 0x20 || text.bytes[n] == '\n');
        xmlDocPtr doc = parse(&text);
        xmlChar *title = xmlNodeGetContent(xmlFirstElementChild(xmlDocGetRootElement(doc)));
        assert_non_null(strstr((const char *)title, "<script>alert('x')</script> \"quoted\" &"));
        xmlFree(title);
        xmlFreeDoc(doc);
        dt_text_free(&text);
    }
    fixture_free(f);
}

static void a_missing_layout_engine_is_reported(void **state)
{
    (void)state;
    fixture *f = fixture_build(&fixture_plans[0]);
    char mark[] = "untouched";
    dt_text text = {mark, 9};
    setenv("GVBINDIR", "/nonexistent", 1);
    dt_status status = dt_draw_options(&f->program, DT_DISPLAY_FIELD, &text);
    unsetenv("GVBINDIR");
    assert_int_equal(status, DT_E_IO);
    assert_ptr_equal(text.bytes, mark);
    assert_int_equal(text.size, 9);
    fixture_free(f);
}

static long allocations_left = -1; /* below 0: no limit */

static bool may_allocate(void)
{
    if (allocations_left < 0) return true;
    if (allocations_left == 0) return false;
    --allocations_left;
    return true;
}

/*
 * When memory fails between two of its allocations, libxml2 2.9 loses a few bytes of its own
 * (xmlTextWriterStartElement does not look whether the list took the entry). Its blocks are not
 * counted while we make it fail; ours always are.
 */
static void *limited_malloc(size_t size)
{
    void *block = may_allocate() ? malloc(size) : NULL;
#ifdef __SANITIZE_ADDRESS__
    if (allocations_left >= 0 && block) {
        memset(block, 0, size);
        __lsan_ignore_object(block);
    }
#endif
    return block;
}

static void *limited_realloc(void *old, size_t size)
{
    return may_allocate() ? realloc(old, size) : NULL;
}

/** libxml2 would tell the terminal about every failure we cause. */
static void say_nothing(void *context, const char *format, ...)
{
    (void)context;
    (void)format;
}

static char *limited_strdup(const char *text)
{
    size_t size = strlen(text) + 1;
    char *copy = limited_malloc(size);
    return copy ? memcpy(copy, text, size) : NULL;
}

/** The writer below the drawings fails at its n-th allocation: a status, no half drawing. */
static void no_memory_is_a_status(void **state)
{
    (void)state;
    fixture *f = fixture_build(&fixture_plans[0]);
    char mark[] = "untouched";
    for (size_t i = 0; i < 2; ++i) {
        dt_status status = DT_E_MEMORY;
        long limit = 0;
        for (; status != DT_OK && limit < 2000000; limit += 1 + limit / 6) {
            dt_text text = {mark, 9};
            allocations_left = limit;
            status = drawings[i].make(&f->program, DT_DISPLAY_FIELD, &text);
            allocations_left = -1;
            if (status == DT_OK) {
                xmlFreeDoc(parse(&text));
                dt_text_free(&text);
                break;
            }
            assert_int_equal(status, DT_E_MEMORY);
            assert_ptr_equal(text.bytes, mark);
        }
        assert_int_equal(status, DT_OK);
        assert_true(limit > 3);
    }
    fixture_free(f);
}

static void a_foreign_locale_changes_nothing(void **state)
{
    (void)state;
    fixture *f = fixture_build(&fixture_plans[2]);
    for (size_t i = 0; i < DRAWINGS; ++i) {
        dt_text plain = {0}, foreign = {0};
        assert_int_equal(drawings[i].make(&f->program, DT_DISPLAY_METRIC, &plain), DT_OK);
        if (!setlocale(LC_ALL, "de_DE.UTF-8")) {
            print_message("    no locale de_DE.UTF-8 here: not checked\n");
            dt_text_free(&plain);
            break;
        }
        dt_status status = drawings[i].make(&f->program, DT_DISPLAY_METRIC, &foreign);
        setlocale(LC_ALL, "C");
        assert_int_equal(status, DT_OK);
        assert_string_equal(plain.bytes, foreign.bytes);
        dt_text_free(&plain);
        dt_text_free(&foreign);
    }
    fixture_free(f);
}

/* ---- the font metrics ---- */

/* Source: Adobe's font metrics for Helvetica and Helvetica-Bold, as groff's PostScript device
 * prints them (font/devps/HR and HB, column "width"; made by afmtodit). */
static int check_metrics(const char *path, bool bold)
{
    FILE *file = fopen(path, "r");
    if (!file) return 0;
    char line[512];
    bool charset = false;
    int checked = 0;
    while (fgets(line, sizeof line, file)) {
        char name[64];
        double width;
        if (strncmp(line, "charset", 7) == 0) charset = true;
        if (!charset || sscanf(line, "%63s %lf", name, &width) != 2) continue;
        if (strlen(name) != 1 || name[0] < '!' || name[0] > '~') continue;
        /* groff gives these five code points the typographic sign of another name */
        if (strchr("'`-^~", name[0])) continue;
        assert_within(dt_text_width(name, 1000, bold), width, 0.01);
        ++checked;
    }
    fclose(file);
    return checked;
}

static void font_widths_are_the_published_ones(void **state)
{
    (void)state;
    int regular = check_metrics("/usr/share/groff/1.22.4/font/devps/HR", false);
    int bold = check_metrics("/usr/share/groff/1.22.4/font/devps/HB", true);
    if (regular == 0 && bold == 0)
        print_message("    groff's PostScript fonts are not here: not checked\n");
    else
        assert_true(regular > 85 && bold > 85);
}

/* ---- the label placer, against a plain search ---- */

static void placed_labels_are_as_near_as_can_be(void **state)
{
    (void)state;
    dt_labels labels = {.width = 100, .size = 10};
    const double targets[3] = {50, 52, 90};
    for (size_t i = 0; i < 3; ++i)
        dt_label_write(&labels, dt_labels_add(&labels, targets[i], DT_TEXT, DT_TEXT), true, 1, "x");
    assert_true(dt_labels_place(&labels, 0, 200));
    double height = dt_label_height(&labels, &labels.items[0]), first = 10 * 1.22 / 2 + 1.5;
    double got = 0, best = 1e9, gap = 3;
    for (size_t i = 0; i < 3; ++i)
        got += pow(labels.items[i].top + first - targets[i], 2);
    for (double a = 0; a < 120; a += 0.25)
        for (double b = a + height + gap; b < 150; b += 0.25)
            for (double c = fmax(b + height + gap, 70); c < 100; c += 0.25)
                best = fmin(best, pow(a + first - targets[0], 2) + pow(b + first - targets[1], 2) +
                                      pow(c + first - targets[2], 2));
    assert_true(got <= best + 0.01);
    assert_false(dt_labels_place(&labels, 0, 3 * height)); /* no room for the gaps */
    dt_labels_free(&labels);
}

int main(void)
{
    xmlMemSetup(free, limited_malloc, limited_realloc, limited_strdup);
    xmlInitParser();
    xmlSetGenericErrorFunc(NULL, say_nothing);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fixtures_are_drawn),
        cmocka_unit_test(shipped_wells_are_drawn),
        cmocka_unit_test(depth_is_to_scale),
        cmocka_unit_test(pipes_are_to_scale),
        cmocka_unit_test(many_intervals_stay_legible),
        cmocka_unit_test(hostile_names_stay_text),
        cmocka_unit_test(a_missing_layout_engine_is_reported),
        cmocka_unit_test(no_memory_is_a_status),
        cmocka_unit_test(a_foreign_locale_changes_nothing),
        cmocka_unit_test(font_widths_are_the_published_ones),
        cmocka_unit_test(placed_labels_are_as_near_as_can_be),
    };
    int failed = cmocka_run_group_tests_name("drawings", tests, NULL, NULL);
    xmlCleanupParser();
    return failed;
}
