/* SPDX-License-Identifier: MIT */
/*
 * program.html: every figure in it equals program.json to the printed digit, both ways. The
 * page is read as XML, which it is as well as HTML.
 */
#include <libxml/parser.h>
#include <libxml/tree.h>

#include <ctype.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "check.h"
#include "drawings.h"
#include "least_type.h"
#include "shipped_wells.h"
#include "units.h"

typedef struct seen {
    char path[128];
} seen;

typedef struct walk {
    json_t *json;
    dt_display display;
    seen *paths; /* of program.json, shown somewhere in the page */
    size_t count;
    size_t numbers, words, links, others; /* others: in the system that is not the page's */
    xmlNodePtr root;
} walk;

/* ---- units: the key of program.json says its own ---- */

typedef struct key_unit {
    const char *ending;
    dt_kind kind;
    double si; /* one of the key's unit */
} key_unit;

static const key_unit key_units[] = {
    {"_ft", DT_KIND_LENGTH, 0.3048},              /* NIST SP 811, exact */
    {"_in", DT_KIND_DIAMETER, 0.0254},            /* NIST SP 811, exact */
    {"_ppg", DT_KIND_DENSITY, 119.826427316897},  /* lb / US gal, from exact factors */
    {"_psi", DT_KIND_PRESSURE, 6894.75729316836}, /* lbf / in2, from exact factors */
    {"_klbf", DT_KIND_FORCE, 4448.2216152605},    /* NIST SP 811, exact */
    {"bbl", DT_KIND_VOLUME, 0.158987294928},      /* 42 US gal of 231 in3, exact */
    {"_lbft", DT_KIND_LINEAR_MASS, 0.45359237 / 0.3048},
};

/** What people should read for a figure of program.json, in the display's unit. */
static double as_shown(const char *key, double value, dt_display display)
{
    if (display == DT_DISPLAY_FIELD) return value;
    for (size_t i = 0; i < sizeof key_units / sizeof *key_units; ++i) {
        size_t length = strlen(key), end = strlen(key_units[i].ending);
        if (length >= end && strcmp(key + length - end, key_units[i].ending) == 0)
            return dt_display_value(display, key_units[i].kind, value * key_units[i].si);
    }
    return value;
}

/* ---- looking a path up ---- */

static json_t *look_up(json_t *at, const char *path)
{
    char part[64];
    while (at && *path) {
        size_t length = strcspn(path, ".");
        assert_true(length < sizeof part);
        memcpy(part, path, length);
        part[length] = '\0';
        at = json_is_array(at) ? json_array_get(at, strtoul(part, NULL, 10))
                               : json_object_get(at, part);
        path += length + (path[length] == '.');
    }
    return at;
}

static const char *last_key(const char *path)
{
    const char *dot = strrchr(path, '.');
    return dot ? dot + 1 : path;
}

/** "9-5/8" as a number; false when it is not of that form. */
static bool read_fraction(const char *text, double *value)
{
    unsigned whole = 0, top, bottom;
    char rest;
    if (sscanf(text, "%u-%u/%u%c", &whole, &top, &bottom, &rest) != 3) {
        whole = 0;
        if (sscanf(text, "%u/%u%c", &top, &bottom, &rest) != 2) return false;
    }
    *value = whole + (double)top / bottom;
    return true;
}

/** Holds a printed number against the value, to the last digit printed. */
static void check_number(const walk *w, const char *path, const char *text, double value)
{
    double shown = 0, exact = as_shown(last_key(path), value, w->display);
    if (read_fraction(text, &shown)) {
        assert_within(shown, value, 0.0005); /* sizes are inches in either display */
        return;
    }
    char *end = NULL;
    if (strncmp(text, ">99", 3) == 0) {
        assert_true(value >= 99.5);
        return;
    }
    shown = strtod(text, &end);
    if (end == text) fail_msg("%s: \"%s\" is not a number", path, text);
    const char *point = memchr(text, '.', (size_t)(end - text));
    size_t digits = point ? (size_t)(end - point - 1) : 0;
    /* sizes are inches in either display; no wall in mm comes near its own inches */
    bool size = w->display == DT_DISPLAY_METRIC && fabs(shown - value) <= 0.0005;
    if (!size && !(fabs(shown - exact) <= 0.5000001 * pow(10, -(double)digits)))
        fail_msg("%s: \"%s\" is shown, %.15g is exact", path, text, exact);
}

static void squeeze(char *text)
{
    char *out = text;
    for (const char *c = text; *c; ++c) {
        if ((unsigned char)*c == 0xC2 && (unsigned char)c[1] == 0xA0) {
            *out++ = ' ';
            ++c;
        } else if (!isspace((unsigned char)*c) || (out > text && out[-1] != ' ')) {
            *out++ = isspace((unsigned char)*c) ? ' ' : *c;
        }
    }
    *out = '\0';
}

/** Text of program.json is in field units: compared letter by letter where the page is, too. */
static void check_words(const walk *w, const char *path, const char *text, const char *value)
{
    if (strstr(path, "governed_text") && w->display == DT_DISPLAY_METRIC) return;
    if (strcmp(text, value) != 0) fail_msg("%s: \"%s\" is not \"%s\"", path, text, value);
}

/** The system that a figure is in: its own where it says so, otherwise the page's. */
static dt_display display_of(xmlNodePtr node, dt_display page)
{
    xmlChar *units = xmlGetProp(node, BAD_CAST "data-units");
    const bool metric = units && strcmp((const char *)units, "metric") == 0;
    if (units && !metric) assert_string_equal(units, "field");
    if (units) page = metric ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD;
    xmlFree(units);
    return page;
}

static void check_marked(walk *w, xmlNodePtr node, const char *path)
{
    xmlChar *content = xmlNodeGetContent(node);
    char *text = (char *)content;
    squeeze(text);
    json_t *value = look_up(w->json, path);
    if (json_is_number(value)) {
        check_number(w, path, text, json_number_value(value));
        ++w->numbers;
    } else if (json_is_string(value)) {
        check_words(w, path, text, json_string_value(value));
        ++w->words;
    } else if (strstr(path, ".factors.") && strcmp(text, ">99") == 0) {
        /* a case that loads nothing has no factor in program.json */
    } else if (!(strstr(path, ".factor") && strncmp(text, ">99", 3) == 0)) {
        fail_msg("%s: not in program.json, shown as \"%s\"", path, text);
    }
    w->paths = realloc(w->paths, (w->count + 1) * sizeof *w->paths);
    assert_non_null(w->paths);
    snprintf(w->paths[w->count++].path, sizeof w->paths->path, "%s", path);
    xmlFree(content);
}

static bool is_element(xmlNodePtr node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0;
}

static bool has_id(xmlNodePtr node, const char *id)
{
    for (; node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE) continue;
        xmlChar *own = xmlGetProp(node, BAD_CAST "id");
        bool same = own && strcmp((const char *)own, id) == 0;
        xmlFree(own);
        if (same || has_id(node->children, id)) return true;
    }
    return false;
}

static void check_element(walk *w, xmlNodePtr node)
{
    xmlChar *path = xmlGetProp(node, BAD_CAST "data-json");
    const dt_display page = w->display;
    w->display = display_of(node, page);
    if (path) check_marked(w, node, (const char *)path);
    if (path && w->display != page) ++w->others;
    w->display = page;
    xmlFree(path);
    xmlChar *href = xmlGetProp(node, BAD_CAST "href");
    if (href) {
        assert_int_equal(href[0], '#'); /* nothing outside the page */
        if (!has_id(w->root, (const char *)href + 1)) fail_msg("%s leads nowhere", href);
        ++w->links;
    }
    xmlFree(href);
    if (is_element(node, "script") || is_element(node, "link") || is_element(node, "iframe"))
        fail_msg("<%s> in the page", node->name);
    xmlChar *source = xmlGetProp(node, BAD_CAST "src");
    if (source)
        assert_int_equal(strncmp((const char *)source, "data:image/svg+xml;base64,", 26), 0);
    xmlFree(source);
    if (is_element(node, "img")) {
        xmlChar *alt = xmlGetProp(node, BAD_CAST "alt");
        assert_true(alt && strlen((const char *)alt) > 40);
        xmlFree(alt);
    }
    if (is_element(node, "th")) assert_true(xmlHasProp(node, BAD_CAST "scope") != NULL);
    if (is_element(node, "table")) assert_true(is_element(node->children, "caption"));
}

static void walk_page(walk *w, xmlNodePtr node)
{
    for (; node; node = node->next) {
        if (node->type == XML_ELEMENT_NODE) check_element(w, node);
        walk_page(w, node->children);
    }
}

/* ---- the other way: every figure of program.json is in the page ---- */

static bool is_shown(const walk *w, const char *path)
{
    for (size_t i = 0; i < w->count; ++i)
        if (strcmp(w->paths[i].path, path) == 0) return true;
    return false;
}

/**
 * Keys a page need not repeat: limits of a seat that cannot move or that are the seat itself,
 * the seat before rounding where it was not rounded, a worst case that only repeats a factor.
 */
static bool may_be_left_out(const char *path)
{
    static const char *const endings[] = {"seat_shallowest_tvd_ft", "seat_deepest_tvd_ft",
                                          "seat_unrounded_tvd_ft", "pilot_bit_in"};
    if (strstr(path, ".worst_case.")) return true; /* one of those under governing, again */
    if (strncmp(path, "notices.", 8) == 0)
        return true; /* said in the sentence, which is compared */
    if (strncmp(path, "basis.", 6) == 0)
        return true; /* lines alone: said in the words that lead to the line */
    for (size_t i = 0; i < sizeof endings / sizeof *endings; ++i) {
        size_t length = strlen(path), end = strlen(endings[i]);
        if (length > end && strcmp(path + length - end, endings[i]) == 0) return true;
    }
    return false;
}

static void walk_json(const walk *w, json_t *at, const char *path)
{
    char below[160];
    const char *key;
    json_t *value;
    size_t index;
    if (json_is_number(at) && !is_shown(w, path) && !may_be_left_out(path))
        fail_msg("%s of program.json is not in the page", path);
    if (json_is_object(at)) {
        json_object_foreach(at, key, value)
        {
            snprintf(below, sizeof below, "%s%s%s", path, *path ? "." : "", key);
            walk_json(w, value, below);
        }
    }
    json_array_foreach(at, index, value)
    {
        snprintf(below, sizeof below, "%s.%zu", path, index);
        walk_json(w, value, below);
    }
}

/* ---- cells without a mark: only where inputs and settings stand ---- */

static void check_cells_marked(xmlNodePtr node, bool results)
{
    static const char *const result_sections[] = {"program", "full", "strength"};
    for (; node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE) continue;
        bool here = results;
        xmlChar *id = xmlGetProp(node, BAD_CAST "id");
        for (size_t i = 0; id && i < 3; ++i)
            here = here || strcmp((const char *)id, result_sections[i]) == 0;
        xmlFree(id);
        if (here && is_element(node, "td")) {
            xmlChar *content = xmlNodeGetContent(node);
            bool figure = strpbrk((const char *)content, "0123456789") != NULL;
            bool marked = xmlHasProp(node, BAD_CAST "data-json") != NULL;
            for (xmlNodePtr child = node->children; child; child = child->next)
                marked = marked || (child->type == XML_ELEMENT_NODE &&
                                    xmlHasProp(child, BAD_CAST "data-json"));
            if (figure && !marked) fail_msg("\"%s\" has no place in program.json", content);
            xmlFree(content);
        }
        check_cells_marked(node->children, here);
    }
}

/* ---- drawings: at the size they have on paper ---- */

/** Bytes of base64, RFC 4648 section 4, in place; their number. */
static size_t decode(char *text)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    unsigned long group = 0;
    int bits = 0;
    size_t size = 0;
    for (const char *at = text; *at && strchr(digits, *at); ++at) {
        group = (group << 6 | (unsigned long)(strchr(digits, *at) - digits)) & 0xFFFFFF;
        bits += 6;
        if (bits < 8) continue;
        bits -= 8;
        text[size++] = (char)(group >> bits & 0xFF);
    }
    return size;
}

/** Each drawing fits on an A4 page at its own size, so that nothing shrinks it, and has no text
 * under 8 pt then. The schematic stands beside the review, the sheets between narrow margins. */
static void check_drawings(const xmlNode *node, const xmlNode *figure, size_t *count)
{
    static const char head[] = "data:image/svg+xml;base64,";
    for (; node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE) continue;
        check_drawings(node->children, node, count);
        if (strcmp((const char *)node->name, "img") != 0) continue;
        xmlChar *source = xmlGetNoNsProp(node, BAD_CAST "src");
        assert_memory_equal(source, head, strlen(head));
        char *svg = (char *)source + strlen(head);
        const paper_drawing d = paper_measure(svg, decode(svg));
        xmlChar *place = xmlGetNoNsProp(figure->parent, BAD_CAST "class");
        const bool sheet = place && strstr((const char *)place, "sheet");
        /* A4 less the margins of report.css: 15 mm or 6 mm at the sides, 11 mm above and below; a
         * heading and a caption take the rest */
        assert_true(d.width_mm <= (sheet ? 198.001 : 180.001));
        assert_true(d.height_mm <= (sheet ? 275 : 258));
        paper_check(&d, d.width_mm, "the report");
        xmlFree(place);
        xmlFree(source);
        ++*count;
    }
}

static void check_page(const dt_program *program, const dt_source *source, dt_display display)
{
    dt_text page = {0}, again = {0}, json = {0};
    assert_int_equal(dt_write_report(program, NULL, source, NULL, display, &page), DT_OK);
    assert_int_equal(dt_write_report(program, NULL, source, NULL, display, &again), DT_OK);
    assert_int_equal(dt_write_program_json(program, &json), DT_OK);
    assert_int_equal(page.size, strlen(page.bytes));
    assert_int_equal(page.size, again.size); /* same input, same bytes */
    assert_memory_equal(page.bytes, again.bytes, page.size);
    xmlDocPtr doc = xmlReadMemory(page.bytes, (int)page.size, NULL, NULL, XML_PARSE_NONET);
    assert_non_null(doc);
    walk w = {.json = json_loads(json.bytes, 0, NULL), .display = display};
    assert_non_null(w.json);
    w.root = xmlDocGetRootElement(doc);
    walk_page(&w, w.root);
    check_cells_marked(w.root, false);
    size_t drawn = 0;
    check_drawings(w.root, NULL, &drawn);
    assert_true(drawn > 2 * program->count); /* schematic, window, a sheet and loads a string */
    walk_json(&w, w.json, "");
    assert_true(w.numbers > 20 * program->count);
    assert_true(w.words > 3 * program->count);
    assert_true(w.links > 10);
    assert_true(w.others >= 3 * dt_program_strings(program));
    json_decref(w.json);
    free(w.paths);
    xmlFreeDoc(doc);
    dt_text_free(&page);
    dt_text_free(&again);
    dt_text_free(&json);
}

/** An invented hanger for the liner of mizzenlow-shelf, and a test of it: more figures to show. */
static void hang_liners(dt_well *well)
{
    free(well->hangers.items);
    well->hangers = (dt_hangers){calloc(1, sizeof *well->hangers.items), 1, 1.1, 1};
    assert_non_null(well->hangers.items);
    well->hangers.items[0] = (dt_hanger){
        7.625 * DT_M_PER_IN, 10.75 * DT_M_PER_IN, NAN, NAN, 1e6, 6.3 * DT_M_PER_IN, 0.195, 1};
    well->liner_test = (dt_liner_test){true, DT_LINER_TEST_FRACTURE, NAN, NAN, NAN, 1};
}

static void every_figure_is_that_of_program_json(void **state)
{
    (void)state;
    static shipped wells[MOST_SHIPPED];
    size_t count = shipped_wells(wells), reports = 0, hung = 0;
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    for (size_t i = 0; i < count; ++i) {
        size_t size = 0;
        char *text = shipped_read(wells[i].path, &size);
        dt_well *well = shipped_parse(wells[i].path);
        const dt_source source = {wells[i].name, text, size};
        for (int pass = 0; pass < 4; ++pass) {
            const dt_display d = pass % 2 ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD;
            dt_program *program = NULL;
            dt_refusal refusal = {0};
            if (pass == 2) hang_liners(well);
            dt_status status = dt_program_plan(well, &catalogue, &program, &refusal);
            if (status == DT_OK) {
                check_page(program, &source, d);
                for (size_t k = 0; k < program->count; ++k)
                    hung += program->items[k].hanger && dt_program_liner_test(&program->items[k]);
                ++reports;
            }
            dt_program_free(program);
            dt_refusal_free(&refusal);
        }
        dt_well_free(well);
        free(text);
    }
    dt_catalogue_free(&catalogue);
    assert_true(reports >= 8);
    assert_int_equal(hung, 2);
}

/** A source that is no well file is refused, not guessed at. */
static void a_foreign_source_is_refused(void **state)
{
    (void)state;
    char path[600];
    snprintf(path, sizeof path, "%s/alder-reach.xml", DT_WELLS);
    dt_well *well = shipped_parse(path);
    dt_catalogue catalogue;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_text page = {0};
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_program_plan(well, &catalogue, &program, &refusal), DT_OK);
    const dt_source empty = {"x", "", 0}, words = {"x", "no XML", 6};
    assert_int_equal(dt_write_report(program, NULL, &empty, NULL, DT_DISPLAY_FIELD, &page),
                     DT_E_INPUT);
    assert_int_equal(dt_write_report(program, NULL, &words, NULL, DT_DISPLAY_FIELD, &page),
                     DT_E_INPUT);
    assert_null(page.bytes);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
}

/** Another encoding is shown in UTF-8; a name that is markup stays a name. */
static void other_encodings_are_shown(void **state)
{
    (void)state;
    char path[600];
    size_t size = 0;
    snprintf(path, sizeof path, "%s/alder-reach.xml", DT_WELLS);
    char *text = shipped_read(path, &size);
    text[size] = '\0';
    char *encoding = strstr(text, "UTF-8"), *name = strstr(text, "Alder Reach 1");
    assert_true(encoding && name);
    memcpy(name, "\xC5lders &lt;b>", 13); /* ISO-8859-1 for A with ring */
    char *latin = malloc(size + 16);
    assert_non_null(latin);
    size_t head = (size_t)(encoding - text);
    memcpy(latin, text, head);
    memcpy(latin + head, "ISO-8859-1", 10);
    memcpy(latin + head + 10, encoding + 5, size - head - 5);
    size += 5;
    dt_report report;
    dt_well *well = NULL;
    dt_catalogue catalogue;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_text page = {0};
    assert_int_equal(dt_report_init(&report, path), DT_OK);
    assert_int_equal(dt_well_parse(latin, size, &report, &well), DT_OK);
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_program_plan(well, &catalogue, &program, &refusal), DT_OK);
    const dt_source source = {path, latin, size};
    assert_int_equal(dt_write_report(program, NULL, &source, NULL, DT_DISPLAY_FIELD, &page), DT_OK);
    assert_non_null(strstr(page.bytes, "name=&quot;\xC3\x85lders &amp;lt;b&gt;"));
    assert_null(strstr(page.bytes, "<b>"));
    xmlDocPtr doc = xmlReadMemory(page.bytes, (int)page.size, NULL, NULL, XML_PARSE_NONET);
    assert_non_null(doc);
    xmlFreeDoc(doc);
    dt_text_free(&page);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
    dt_report_free(&report);
    free(text);
    free(latin);
}

/* What a company's basis says of a value is what the report says where the well is silent. */
static void settings_tell_the_source_of_the_basis(void **state)
{
    (void)state;
    static dt_basis ours;
    ours = *dt_basis_built_in();
    ours.values[DT_CUSTOM_DESIGN_TRIAXIAL].si = 1.31;
    ours.values[DT_CUSTOM_DESIGN_TRIAXIAL].source = "our rule 7";
    ours.values[DT_CUSTOM_SIZES_OPENED_HOLE].source = "our rule 8";
    ours.column_sources[DT_COLUMN_CLEARANCES_RADIAL] = "our rule 9";
    char path[600];
    size_t size = 0;
    snprintf(path, sizeof path, "%s/alder-reach.xml", DT_WELLS);
    char *text = shipped_read(path, &size);
    text[size] = '\0';
    char *stated = strstr(text, "triaxial=\"1.25\"");
    assert_non_null(stated);
    memset(stated, ' ', strlen("triaxial=\"1.25\""));
    dt_report report;
    dt_well *well = NULL;
    dt_catalogue catalogue;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_text page = {0};
    assert_int_equal(dt_report_init(&report, path), DT_OK);
    assert_int_equal(dt_well_parse(text, size, &report, &well), DT_OK);
    well->basis = &ours;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_program_plan(well, &catalogue, &program, &refusal), DT_OK);
    const dt_source source = {path, text, size};
    assert_int_equal(dt_write_report(program, NULL, &source, NULL, DT_DISPLAY_FIELD, &page), DT_OK);
    static const char *const rows[] = {
        "Triaxial factor</th><td>1.31</td><td>customary: our rule 7<",
        "Hole opened below a pipe</th><td>no</td><td>our rule 8<", "<td>customary: our rule 9<"};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i)
        if (!strstr(page.bytes, rows[i])) fail_msg("the report does not say %s", rows[i]);
    dt_text_free(&page);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
    dt_report_free(&report);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_figure_is_that_of_program_json),
        cmocka_unit_test(a_foreign_source_is_refused),
        cmocka_unit_test(other_encodings_are_shown),
        cmocka_unit_test(settings_tell_the_source_of_the_basis),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
