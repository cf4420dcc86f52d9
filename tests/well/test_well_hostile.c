/* SPDX-License-Identifier: MIT */
/* Files that mean harm, and files that are merely broken: none may crash the reader, make it
 * open another file, or pass for good. Run under AddressSanitizer these also show that every
 * refusing path frees what it took. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <libxml/xmlIO.h>

#include "check.h"
#include "full_well.h"
#include "well.h"

/* ---- helpers ---- */

/* Whatever libxml2 wants to open, by path or by address, it first asks this; it never gets any.
 * The one mutable global here: libxml2 hands the callback no data of ours. */
static int opened;

static int count_opening(const char *name)
{
    (void)name;
    ++opened;
    return 0;
}

static int watch_openings(void **state)
{
    (void)state;
    return xmlRegisterInputCallbacks(count_opening, NULL, NULL, NULL) < 0;
}

/** Parses; the number of the first error, 0 when the file is good. */
static int first_error(const char *text, size_t size)
{
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, "hostile"), DT_OK);
    dt_status status = dt_well_parse(text, size, &report, &well);
    int number = 0;
    for (size_t i = report.count; i-- > 0;)
        if (report.items[i].severity == DT_ERROR) number = (int)report.items[i].id;
    assert_int_equal(status, number ? DT_E_INPUT : DT_OK);
    assert_int_equal(number != 0, report.errors > 0);
    assert_true((well != NULL) == (status == DT_OK));
    for (size_t i = 0; i < report.count; ++i) {
        const dt_finding *at = &report.items[i];
        assert_true(strlen(at->text) > 0 && strlen(at->text) < 1000 && strlen(at->where) < 250);
        for (const char *c = at->text; *c; ++c)
            assert_true((unsigned char)*c >= 0x20); /* nothing that steers a terminal */
    }
    dt_well_free(well);
    dt_report_free(&report);
    return number;
}

static int first_error_of(const char *text)
{
    return first_error(text, strlen(text));
}

/** True when the text is refused and the message is among the findings. */
static bool brings(const char *text, dt_message id)
{
    dt_report report;
    dt_well *well = NULL;
    bool found = false;
    assert_int_equal(dt_report_init(&report, "hostile"), DT_OK);
    assert_int_equal(dt_well_parse(text, strlen(text), &report, &well), DT_E_INPUT);
    for (size_t i = 0; i < report.count; ++i)
        found = found || report.items[i].id == id;
    dt_report_free(&report);
    return found;
}

/** FULL_WELL with `old` replaced; Freed by the caller. */
static char *change(const char *old, const char *new, size_t new_size)
{
    const char *at = strstr(FULL_WELL, old);
    assert_non_null(at);
    size_t before = (size_t)(at - FULL_WELL), rest = sizeof FULL_WELL - before - strlen(old);
    char *text = malloc(before + new_size + rest);
    assert_non_null(text);
    memcpy(text, FULL_WELL, before);
    memcpy(text + before, new, new_size);
    memcpy(text + before + new_size, at + strlen(old), rest);
    return text;
}

static int first_error_with(const char *old, const char *new)
{
    char *text = change(old, new, strlen(new));
    int number = first_error_of(text);
    free(text);
    return number;
}

/* ---- sizes ---- */

static void nothing_and_blanks_are_empty(void **state)
{
    (void)state;
    assert_int_equal(first_error("", 0), DT_MSG_FILE_EMPTY);
    assert_int_equal(first_error_of(" \t\r\n \n"), DT_MSG_FILE_EMPTY);
    assert_int_equal(first_error_of("hello"), DT_MSG_XML_BROKEN);
    assert_int_equal(first_error_of("<"), DT_MSG_XML_BROKEN);
    assert_int_equal(first_error_of("<?xml version=\"1.0\"?>"), DT_MSG_XML_BROKEN);
    assert_int_equal(first_error_of("<a/>"), DT_MSG_ROOT_UNKNOWN);
    assert_int_equal(first_error("\0", 1), DT_MSG_XML_BROKEN);
}

static void two_hundred_megabytes_are_refused_unread(void **state)
{
    (void)state;
    size_t size = (size_t)200 << 20;
    char *text = malloc(size);
    assert_non_null(text);
    memset(text, ' ', size);
    assert_int_equal(first_error(text, size), DT_MSG_FILE_TOO_BIG);
    assert_int_equal(first_error(text, DT_WELL_MAX_BYTES + 1), DT_MSG_FILE_TOO_BIG);
    assert_int_equal(first_error(text, DT_WELL_MAX_BYTES), DT_MSG_FILE_EMPTY);
    free(text);
    /* Not a byte is looked at: this text is shorter than the size says. */
    assert_int_equal(first_error("", (size_t)-1), DT_MSG_FILE_TOO_BIG);
}

static void a_good_file_may_fill_the_limit(void **state)
{
    (void)state;
    char *text = malloc(DT_WELL_MAX_BYTES);
    assert_non_null(text);
    memset(text, '\n', DT_WELL_MAX_BYTES);
    memcpy(text, FULL_WELL, sizeof FULL_WELL - 1);
    assert_int_equal(first_error(text, DT_WELL_MAX_BYTES), 0);
    free(text);
}

/** `count` times `piece`, between a head and a tail. */
static char *repeated(const char *head, const char *piece, size_t count, const char *tail)
{
    size_t size = strlen(head) + count * strlen(piece) + strlen(tail) + 1;
    char *text = malloc(size), *to = text;
    assert_non_null(text);
    to += sprintf(to, "%s", head);
    for (size_t i = 0; i < count; ++i) {
        memcpy(to, piece, strlen(piece));
        to += strlen(piece);
    }
    memcpy(to, tail, strlen(tail) + 1);
    return text;
}

/* A spread is a standard deviation, or two limits round the depth with a shape for them. */
static void half_a_spread_is_refused(void **state)
{
    (void)state;
    const struct {
        const char *attributes;
        bool refused;
    } rows[] = {{"sd='20 m'", false},
                {"low='250 m' high='350 m' distribution='uniform'", false},
                {"low='250 m' high='350 m' distribution='triangular'", false},
                {"low='250 m' distribution='uniform'", true},
                {"high='350 m' distribution='uniform'", true},
                {"sd='20 m' high='350 m'", true},
                {"sd='20 m' distribution='uniform'", true},
                {"low='250 m' high='350 m' distribution='normal'", true},
                {"low='310 m' high='350 m' distribution='uniform'", true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        char water[160];
        snprintf(water, sizeof water, "<fresh_water deepest=\"300 m\" %s/>", rows[i].attributes);
        int found = first_error_with("<fresh_water deepest=\"300 m\"/>", water);
        if (found != (rows[i].refused ? DT_MSG_DEPTH_SPREAD : 0))
            fail_msg("%s: DT-%d", rows[i].attributes, found);
    }
}

#define HEAD "<well xmlns=\"urn:drawtube:well:1\" name=\"x\">"

static void deep_wide_and_long_files_are_refused(void **state)
{
    (void)state;
    char *deep = repeated(HEAD, "<a>", 100000, "");
    assert_int_equal(first_error_of(deep), DT_MSG_XML_TOO_DEEP);
    free(deep);
    deep = repeated(HEAD "<prices>", "<a>", 100000, "");
    assert_int_equal(first_error_of(deep), DT_MSG_XML_TOO_DEEP);
    free(deep);

    char *wide = repeated(HEAD, "<a/>", 100000, "</well>");
    assert_true(brings(wide, DT_MSG_ELEMENT_UNKNOWN));
    free(wide);
    wide = repeated(HEAD "<pore_pressure depth_unit=\"m\" unit=\"sg\">",
                    "<point depth=\"1\" value=\"1\"/>", 100000, "</pore_pressure></well>");
    assert_true(brings(wide, DT_MSG_LIST_TOO_LONG));
    free(wide);
    /* whole ones: of those without attributes 400,000 findings would come, and not all are kept */
    wide =
        repeated(HEAD, "<interval name='x' kind='salt' top='1 m' base='2 m' action='avoid-shoe'/>",
                 40000, "</well>");
    assert_true(brings(wide, DT_MSG_LIST_TOO_LONG));
    free(wide);
    wide = repeated(HEAD, "<a/>", 150001, "</well>");
    assert_int_equal(first_error_of(wide), DT_MSG_XML_CROWDED);
    free(wide);
    /* a tag of 100,000 attributes held libxml2 for minutes; 200 are looked at */
    wide = repeated("<well xmlns=\"urn:drawtube:well:1\" name=\"x\"", " a\n=\n'1'", 100000, "/>");
    assert_int_equal(first_error_of(wide), DT_MSG_XML_CROWDED);
    free(wide);
    /* the most that is read, and one more */
    const struct {
        const char *head, *piece, *tail;
        size_t most;
    } lists[] = {{HEAD "<liner_hangers>",
                  "<hanger liner='7 in' casing='9.625 in' capacity='300 klbf' bore='6 in'/>",
                  "</liner_hangers></well>", DT_MOST_HANGERS},
                 {HEAD "<temperature depth_unit='m' unit='degC'>", "<point/>",
                  "</temperature></well>", 2000}};
    for (size_t i = 0; i < sizeof lists / sizeof *lists; ++i)
        for (size_t more = 0; more < 2; ++more) {
            wide = repeated(lists[i].head, lists[i].piece, lists[i].most + more, lists[i].tail);
            assert_int_equal(brings(wide, DT_MSG_LIST_TOO_LONG), more);
            free(wide);
        }
    wide = repeated(HEAD, "<datum/>", 2000, "</well>"); /* all of these findings are kept */
    assert_true(brings(wide, DT_MSG_ELEMENT_REPEATED));
    free(wide);

    char *comments = repeated("", "<!-- -->\n", 100000,
                              FULL_WELL + strlen("<?xml version=\"1.0\" "
                                                 "encoding=\"UTF-8\"?>\n"));
    assert_int_equal(first_error_of(comments), 0);
    free(comments);
}

static void attributes_of_a_megabyte_are_refused(void **state)
{
    (void)state;
    char *text = repeated(HEAD "<note a=\"", "x", 1000000, "\"/></well>");
    assert_true(brings(text, DT_MSG_ATTRIBUTE_UNKNOWN));
    free(text);
    char *name = repeated("name=\"", "x", 1000000, "\"");
    assert_int_equal(first_error_with("name=\"Salt\"", name), DT_MSG_NAME_TOO_LONG);
    free(name);
    char *digits = repeated("depth=\"", "9", 1000000, " m\"");
    assert_int_equal(first_error_with("depth=\"3000 m\"", digits), DT_MSG_QUANTITY_NOT_FINITE);
    free(digits);
    char *zeros = repeated("depth=\"", "0", 1000000, "3000 m\"");
    assert_int_equal(first_error_with("depth=\"3000 m\"", zeros), 0); /* odd, but a number */
    free(zeros);
    char *unit = repeated("depth=\"3000 ", "m", 1000000, "\"");
    assert_int_equal(first_error_with("depth=\"3000 m\"", unit), DT_MSG_QUANTITY_UNKNOWN_UNIT);
    free(unit);
    char *element = repeated("<", "x", 40000, "/><margins ");
    assert_int_equal(first_error_with("<margins ", element), DT_MSG_ELEMENT_UNKNOWN);
    free(element);
}

/* ---- entities and other files ---- */

static void entities_are_refused_and_nothing_is_opened(void **state)
{
    (void)state;
    static const char *const files[] = {
        "<!DOCTYPE well [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;\">"
        "<!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;\"><!ENTITY d \"&c;&c;&c;&c;&c;&c;&c;&c;\">"
        "<!ENTITY e \"&d;&d;&d;&d;&d;&d;&d;&d;\"><!ENTITY f \"&e;&e;&e;&e;&e;&e;&e;&e;&e;\">]>" HEAD
        "<note>&f;</note></well>",
        "<!DOCTYPE well [<!ENTITY x SYSTEM \"file:///etc/passwd\">]>" HEAD
        "<note>&x;</note></well>",
        "<!DOCTYPE well [<!ENTITY x SYSTEM \"http://127.0.0.1:9/x\">]>" HEAD
        "<note>&x;</note></well>",
        "<!DOCTYPE well SYSTEM \"well.dtd\">" HEAD "</well>",
        "<!DOCTYPE well PUBLIC \"-//x//y\" \"http://127.0.0.1:9/well.dtd\">" HEAD "</well>",
        "<!DOCTYPE well [<!ENTITY % p SYSTEM \"file:///etc/passwd\"> %p;]>" HEAD "</well>",
        "<!DOCTYPE well [<!ENTITY % p \"<!ENTITY q 'r'>\"> %p;]>" HEAD "<note>&q;</note></well>",
        "<!DOCTYPE well>" HEAD "</well>",
        "<?xml version=\"1.0\"?><!-- first --><!DOCTYPE well [",
    };
    opened = 0;
    for (size_t i = 0; i < sizeof files / sizeof *files; ++i)
        assert_int_equal(first_error_of(files[i]), DT_MSG_XML_DOCTYPE);
    assert_int_equal(first_error_of(HEAD "<note>&x;</note></well>"), DT_MSG_XML_BROKEN);
    assert_int_equal(opened, 0);
}

/* Hints that a schema, XInclude or stylesheet processor may follow; the reader follows none. */
static void hints_to_other_files_open_none(void **state)
{
    (void)state;
#define XSI "xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" "
    opened = 0;
    assert_int_equal(first_error_with("<well ",
                                      "<well " XSI "xsi:schemaLocation=\"urn:x /etc/passwd "
                                      "urn:drawtube:well:1 /tmp/x.xsd\" "),
                     0);
    assert_int_equal(
        first_error_with("<pay ", "<pay " XSI "xsi:noNamespaceSchemaLocation=\"/etc/passwd\" "), 0);
    assert_int_equal(
        first_error_with("<rig ", "<rig " XSI "xsi:schemaLocation=\"urn:x /etc/passwd\" "), 0);
    assert_int_equal(first_error_with("<pay ", "<pay " XSI "xsi:nil=\"true\" "),
                     DT_MSG_ATTRIBUTE_UNKNOWN);
    assert_int_equal(first_error_with("<pay ", "<xi:include xmlns:xi=\"http://www.w3.org/"
                                               "2001/XInclude\" href=\"/etc/passwd\"/><pay "),
                     DT_MSG_ELEMENT_UNKNOWN);
    assert_int_equal(
        first_error_with("<well ",
                         "<?xml-stylesheet type=\"text/xsl\" href=\"/etc/passwd\"?><well "),
        0);
    assert_int_equal(opened, 0);
}

/* ---- bytes ---- */

static void bytes_that_are_no_text_are_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {"\x01",  "\x0B",         "\x1B[2J",  "\xFF",
                                      "\xC3(", "\xED\xA0\x80", "\xC0\xAF", "\xF4\x90\x80\x80",
                                      "&#0;",  "&#27;",        "&#xFFFF;"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i)
        assert_int_not_equal(first_error_with("Salt", bad[i]), 0);
    char *text = change("Salt", "\0", 1);
    assert_int_not_equal(first_error(text, sizeof FULL_WELL - 4), 0);
    free(text);
    static const char *const controls[] = {"a&#9;b", "a&#10;b", "a&#13;b", "a&#x85;b", "a&#x7F;b"};
    for (size_t i = 0; i < sizeof controls / sizeof *controls; ++i)
        assert_int_equal(first_error_with("Salt", controls[i]), DT_MSG_NAME_CONTROL);
}

static void names_keep_markup_as_text(void **state)
{
    (void)state;
    static const char name[] = "name=\"&lt;script>alert('&quot;')&lt;/script> &#x2300; &amp;amp;\"";
    char *text = change("name=\"Salt\"", name, strlen(name));
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, "x"), DT_OK);
    assert_int_equal(dt_well_parse(text, strlen(text), &report, &well), DT_OK);
    assert_string_equal(well->intervals[1].name, "<script>alert('\"')</script> \xE2\x8C\x80 &amp;");
    dt_well_free(well);
    dt_report_free(&report);
    free(text);
}

/** FULL_WELL in UTF-16, with its byte-order mark; ASCII only, as FULL_WELL is. */
static char *as_utf16(bool big, size_t *size)
{
    static const char head[] = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>";
    const char *body = FULL_WELL + strlen(head);
    size_t count = strlen(body);
    char *text = calloc(count + 1, 2);
    assert_non_null(text);
    text[big ? 0 : 1] = (char)0xFE;
    text[big ? 1 : 0] = (char)0xFF;
    for (size_t i = 0; i < count; ++i)
        text[2 * (i + 1) + (big ? 1 : 0)] = body[i];
    *size = 2 * (count + 1);
    return text;
}

static void byte_order_marks_are_understood(void **state)
{
    (void)state;
    char *text = change("<?xml", "\xEF\xBB\xBF<?xml", 8);
    assert_int_equal(first_error_of(text), 0);
    free(text);
    for (int big = 0; big < 2; ++big) {
        size_t size = 0;
        text = as_utf16(big, &size);
        assert_int_equal(first_error(text, size), 0);
        assert_int_not_equal(first_error(text, size - 3), 0); /* half a ">" */
        assert_int_not_equal(first_error(text, size / 2), 0);
        free(text);
    }
    assert_int_not_equal(first_error_with("UTF-8", "no-such-encoding"), 0);
    assert_int_not_equal(first_error_with("UTF-8", "UTF-16"), 0);
}

static void numbers_out_of_this_world_are_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {"1e400 m", "-1e400 m", "nan m",   "inf m", "1e308 m",
                                      "0x10 m",  "12 ppq",   "-3000 m", "0 m",   "1e-300 m m"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        char attribute[40];
        snprintf(attribute, sizeof attribute, "depth=\"%s\"", bad[i]);
        assert_int_not_equal(first_error_with("depth=\"3000 m\"", attribute), 0);
    }
}

/* ---- a good file taken apart ---- */

static void every_truncation_is_refused(void **state)
{
    (void)state;
    size_t whole = strlen(FULL_WELL), end = whole - 1; /* the file ends in one line break */
    for (size_t size = 0; size < end; ++size) {
        /* A copy of just that size, so that reading past it is seen. */
        char *text = malloc(size ? size : 1);
        assert_non_null(text);
        memcpy(text, FULL_WELL, size);
        if (first_error(text, size) == 0) fail_msg("accepted when cut at byte %zu", size);
        free(text);
    }
    assert_int_equal(first_error(FULL_WELL, end), 0);
    assert_int_equal(first_error(FULL_WELL, whole), 0);
}

static void bytes_changed_at_random_never_crash(void **state)
{
    (void)state;
    char text[sizeof FULL_WELL];
    unsigned seed = 20240229u; /* any */
    for (int round = 0; round < 3000; ++round) {
        memcpy(text, FULL_WELL, sizeof text);
        for (int k = 0; k < 1 + round % 4; ++k) {
            seed = seed * 1664525u + 1013904223u; /* Numerical Recipes' generator */
            text[(seed >> 8) % (sizeof text - 1)] = (char)(seed >> 24);
        }
        (void)first_error(text, sizeof text - 1); /* its own checks are the test */
    }
}

/** One attribute of FULL_WELL: its element, name, and where it and its value stand. */
typedef struct attribute {
    char element[32], name[32];
    size_t start, value, end; /* `start` is the blank before the name, `end` the closing quote */
} attribute;

static bool is_word(char c)
{
    return (c >= 'a' && c <= 'z') || c == '_' || c == ':';
}

/** Finds the next attribute at or after `from` in FULL_WELL; false at the end. */
static bool next_attribute(size_t from, attribute *out)
{
    const char *text = FULL_WELL;
    size_t equals = from;
    while (text[equals] && !(text[equals] == '=' && text[equals + 1] == '"'))
        ++equals;
    if (!text[equals]) return false;
    size_t name = equals, tag = equals;
    while (is_word(text[name - 1]))
        --name;
    while (text[tag] != '<')
        --tag;
    out->start = name - 1;
    out->value = equals + 2;
    out->end = out->value + strcspn(text + out->value, "\"");
    snprintf(out->name, sizeof out->name, "%.*s", (int)(equals - name), text + name);
    int length = 0;
    while (is_word(text[tag + 1 + (size_t)length]))
        ++length;
    snprintf(out->element, sizeof out->element, "%.*s", length, text + tag + 1);
    return true;
}

/** FULL_WELL without bytes from..to, with `new` in their place. */
static int first_error_spliced(size_t from, size_t to, const char *new)
{
    size_t size = sizeof FULL_WELL + strlen(new);
    char *text = malloc(size);
    assert_non_null(text);
    snprintf(text, size, "%.*s%s%s", (int)from, FULL_WELL, new, FULL_WELL + to);
    int number = first_error_of(text);
    free(text);
    return number;
}

static bool listed(const attribute *at, const char *const *list)
{
    char text[72];
    snprintf(text, sizeof text, "%s/%s", at->element, at->name);
    for (; *list; ++list)
        if (strcmp(*list, text) == 0) return true;
    return false;
}

/* Optional by docs/well-file.md, and without a consequence in FULL_WELL. Not here, though
 * optional: datum/water_depth (over the sea), fracture_gradient/distribution (its point has low
 * and high), point/low and point/high (one needs the other), conductor's two gradients (it has no
 * depth), cementing/test and cementing/test_pressure (one needs the other). */
static const char *const MAY_GO[] = {
    "well/basis",
    "pore_pressure/correlation_length",
    "fracture_gradient/between",
    "point/sd",
    "interval/within",
    "interval/permeable",
    "margins/trip",
    "margins/kick",
    "margins/kick_rule",
    "margins/gain",
    "sticking/mud",
    "sticking/rock",
    "seats/round_to",
    "seats/prefer",
    "seats/lap",
    "seats/liners",
    "design/tension",
    "design/tension_pulled",
    "design/overpull",
    "design/gas_gradient",
    "sizes/special_drift",
    "sizes/opened_hole",
    "conductor/sea_gradient",
    "conductor/flowline",
    "slurry/water",
    "string/type",
    "string/shoe",
    "string/hole",
    "string/od",
    "string/weight",
    "string/grade",
    "string/thread",
    "cement/top",
    "cement/excess",
    "cement/excess_on",
    "cement/collar_above_shoe",
    "prices/currency",
    "rig/services_per_day",
    "times/trip_per_hour",
    "times/connection_minutes",
    "times/stand",
    "times/bit_run",
    "times/circulate_hours",
    "times/crew_hours",
    "times/wait_hours",
    "times/wellhead_hours",
    "times/test_hours",
    "times/drill_out_hours",
    "times/hanger_hours",
    "times/lap_test_hours",
    "times/reserve",
    "wishes/max_strings",
    "wishes/rig_hookload",
    "wishes/bop_bore",
    "wishes/wellhead_bore",
    "cementing/lead",
    "cementing/tail",
    "cementing/above_shoe",
    "cementing/tail_length",
    "cementing/excess",
    "cementing/rathole",
    "cementing/rathole_excess",
    "cementing/spacer_density",
    "cementing/spacer_length",
    "cementing/displacement_density",
    "cementing/mix_rate",
    "cementing/displacement_rate",
    "cementing/pump_bore",
    "cementing/pump_stroke",
    "cementing/pump_efficiency",
    "cementing/margin",
    "cementing/bump_margin",
    "cementing/wait",
    "cementing/wait_strength",
    "cementing/thickening_time",
    "rheology/mud_pv",
    "rheology/mud_yp",
    "rheology/mud_n",
    "rheology/mud_k",
    "rheology/mud_600",
    "rheology/mud_300",
    "rheology/spacer_pv",
    "rheology/spacer_yp",
    "rheology/slurry_pv",
    "rheology/slurry_yp",
    "running/range",
    "running/joint_length",
    "running/spares",
    "running/track_joints",
    "running/friction_cased",
    "running/friction_open",
    "running/rig_load",
    "running/collapse_factor",
    "running/float_rating",
    "running/fill_joints",
    "running/joint_time",
    "running/peak_factor",
    "running/margin",
    "running/joints_per_hour",
    "running/standoff",
    "running/centralizer",
    "running/rigid_od",
    "running/restoring_force",
    "running/movement",
    "running/scratchers",
    "running/landing_weight",
    "running/landing_od",
    "running/landing_id",
    "running/shock",
    "running/overpull_on",
    "design/collapse_method",
    "design/sour",
    "design/max_sections",
    "design/min_section",
    "design/crossover",
    "design/gauge",
    "loads/kick",
    "loads/evacuation",
    "loads/running",
    "loads/burst_outside",
    "loads/packer_fluid",
    "loads/stimulation",
    "loads/bump_margin",
    "loads/cement",
    "loads/displacement",
    "loads/green_test",
    "loads/unfilled",
    "test/fluid",
    "temperature/heating",
    "wellhead/evacuation",
    "wellhead/bop",
    "wellhead/head",
    "wellhead/free_length",
    "wellhead/end_factor",
    "wellhead/hung_buckles",
    "wellhead/mudline",
    "string/wear",
    "liner_hangers/factor",
    "hanger/lightest",
    "hanger/heaviest",
    "hanger/receptacle_bore",
    "liner_top_test/above",
    "liner_top_test/fluid",
    "document/revision",
    "document/author",
    "document/date",
    NULL,
};

/* Free text: any words will do. */
static const char *const FREE_TEXT[] = {"well/name",       "interval/name", "interval/kind",
                                        "pay/name",        "string/grade",  "string/thread",
                                        "prices/currency", "pipe/grade",    "document/revision",
                                        "document/author", "document/date", NULL};

static void every_attribute_is_removed_in_turn(void **state)
{
    (void)state;
    attribute at = {.end = strlen("<?xml version=\"1.0\" encoding=\"UTF-8\"?>")};
    size_t count = 0;
    for (; next_attribute(at.end, &at); ++count) {
        int number = first_error_spliced(at.start, at.end + 1, "");
        bool good = listed(&at, MAY_GO);
        if ((number == 0) != good)
            fail_msg("without %s/@%s at byte %zu: DT-%d", at.element, at.name, at.start, number);
    }
    assert_true(count > 100);
}

static void every_attribute_is_spoilt_in_turn(void **state)
{
    (void)state;
    static const char *const values[] = {"",    "abc",    "-1",   "1e400",
                                         "NaN", "12 ppq", "-1 m", "9e9 sg"};
    attribute at = {.end = strlen("<?xml version=\"1.0\" encoding=\"UTF-8\"?>")};
    while (next_attribute(at.end, &at))
        for (size_t i = 0; i < sizeof values / sizeof *values; ++i) {
            int number = first_error_spliced(at.value, at.end, values[i]);
            /* a degree below zero is a temperature */
            if (strcmp(at.name, "temperature") == 0 && strcmp(values[i], "-1") == 0) continue;
            bool good = listed(&at, FREE_TEXT) && *values[i];
            if ((number == 0) != good)
                fail_msg("%s/@%s=\"%s\" at byte %zu: DT-%d", at.element, at.name, values[i],
                         at.start, number);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_and_blanks_are_empty),
        cmocka_unit_test(two_hundred_megabytes_are_refused_unread),
        cmocka_unit_test(a_good_file_may_fill_the_limit),
        cmocka_unit_test(deep_wide_and_long_files_are_refused),
        cmocka_unit_test(half_a_spread_is_refused),
        cmocka_unit_test(attributes_of_a_megabyte_are_refused),
        cmocka_unit_test(entities_are_refused_and_nothing_is_opened),
        cmocka_unit_test(hints_to_other_files_open_none),
        cmocka_unit_test(bytes_that_are_no_text_are_refused),
        cmocka_unit_test(names_keep_markup_as_text),
        cmocka_unit_test(byte_order_marks_are_understood),
        cmocka_unit_test(numbers_out_of_this_world_are_refused),
        cmocka_unit_test(every_truncation_is_refused),
        cmocka_unit_test(bytes_changed_at_random_never_crash),
        cmocka_unit_test(every_attribute_is_removed_in_turn),
        cmocka_unit_test(every_attribute_is_spoilt_in_turn),
    };
    return cmocka_run_group_tests(tests, watch_openings, NULL);
}
