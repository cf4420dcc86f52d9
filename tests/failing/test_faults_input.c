/* SPDX-License-Identifier: MIT */
/*
 * Every allocation of reading fails once, in turn: a file with every element, bad files, imported
 * tables and surveys, the user's own catalogue, the words of a plan full of notices. The answer is
 * DT_E_MEMORY and nothing leaks.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <libxml/parser.h>

#include "basis.h"
#include "catalogue.h"
#include "check.h"
#include "edited_well.h"
#include "failing_memory.h"
#include "findings.h"
#include "full_well.h"
#include "import.h"
#include "program.h"
#include "shipped_wells.h"
#include "why.h"
#include "why_words.h"

/** One way of reading text; frees what it made. */
typedef dt_status (*reading)(const char *text, size_t size, dt_report *report);

/**
 * Two things may fail and leave the answer as it is: a remedy of its own for a finding, which the
 * general one of messages.def stands in for, and the memory to sort findings in. Then all of
 * them are there, in the order of their lines.
 */
static bool refused_all_the_same(const dt_report *report, size_t findings)
{
    if (report->count != findings) return false;
    for (size_t i = 1; i < report->count; ++i)
        if (report->items[i].line < report->items[i - 1].line) return false;
    for (size_t i = 0; i < report->count; ++i)
        if (!*dt_finding_fix(&report->items[i])) return false;
    return true;
}

/** The last allocations, one in `stride`. */
static void last_fail_in_turn(const char *what, reading read, const char *text, size_t size,
                              dt_status good, size_t last, size_t stride)
{
    size_t total = 0, findings = 0, all_the_same = 0;
    for (size_t n = 0; n <= total; n = n == 0 && total > last ? total - last : n + stride) {
        dt_report report = {0};
        memory_fails_at(n);
        dt_status status = dt_report_init(&report, "x");
        if (status == DT_OK) status = read(text, size, &report);
        if (n == 0) total = memory_calls();
        assert_true(total > 0); /* memory_fails_at() is heard at all */
        memory_fails_at(0);
        if (n == 0) findings = report.count;
        const bool bears = n > 0 && status == DT_E_INPUT && good == status &&
                           refused_all_the_same(&report, findings);
        if (!bears && status != (n ? DT_E_MEMORY : good))
            fail_msg("%s: allocation %zu of %zu failed, status %d: %s", what, n, total, (int)status,
                     report.count ? report.items[0].text : "nothing said");
        all_the_same += bears;
        dt_report_free(&report);
    }
    printf("%s: %zu allocations, %zu can be done without\n", what, total, all_the_same);
}

static void fails_in_turn(const char *what, reading read, const char *text, size_t size,
                          dt_status good)
{
    last_fail_in_turn(what, read, text, size, good, (size_t)-1, 1);
}

/* ---- well files ---- */

static dt_status read_well(const char *text, size_t size, dt_report *report)
{
    dt_well *well = NULL;
    dt_status status = dt_well_parse(text, size, report, &well);
    dt_well_free(well);
    return status;
}

static void a_file_with_every_element(void **state)
{
    (void)state;
    fails_in_turn("every element", read_well, FULL_WELL, strlen(FULL_WELL), DT_OK);
}

static void bad_files(void **state)
{
    (void)state;
    const char *const names[] = {"212-quantity-not-finite.xml", "302-element-unknown.xml",
                                 "304-element-repeated.xml",    "412-name-repeated.xml",
                                 "491-price-repeated.xml",      "103-xml-broken.xml",
                                 "442-load-data-missing.xml"};
    for (size_t i = 0; i < sizeof names / sizeof *names; ++i) {
        char path[512];
        size_t size = 0;
        snprintf(path, sizeof path, "%s/refused/%s", DT_TESTS, names[i]);
        char *bytes = shipped_read(path, &size);
        fails_in_turn(names[i], read_well, bytes, size, DT_E_INPUT);
        free(bytes);
    }
}

/* ---- imports ---- */

typedef struct rest {
    const char *at;
    size_t left;
} rest;

static size_t next_bytes(void *context, char *out, size_t size)
{
    rest *r = context;
    size_t count = r->left < size ? r->left : size;
    memcpy(out, r->at, count);
    r->at += count;
    r->left -= count;
    return count;
}

/** The file into elements, and those into a well file. */
static dt_status import(const char *text, size_t size, const dt_import_request *request,
                        dt_report *report)
{
    rest r = {text, size};
    dt_imported imported = {0};
    char *elements = NULL, *into = NULL;
    dt_status status = dt_import(next_bytes, &r, request, report, &imported);
    if (status == DT_OK) status = dt_import_text(&imported, &elements);
    if (status == DT_OK) status = dt_import_into(&imported, FULL_WELL, strlen(FULL_WELL), &into);
    free(elements);
    free(into);
    dt_imported_free(&imported);
    return status;
}

static dt_status import_las(const char *text, size_t size, dt_report *report)
{
    const dt_import_request request = {.table = {{"PPG", NULL}, {"FG", NULL}},
                                       .tolerance_pa = 70000};
    return import(text, size, &request, report);
}

static dt_status import_csv(const char *text, size_t size, dt_report *report)
{
    const dt_import_request request = {.table = {{"pore", NULL}, {"frac", NULL}}};
    return import(text, size, &request, report);
}

static dt_status import_offsets(const char *text, size_t size, dt_report *report)
{
    const dt_import_request request = {.offsets = true};
    return import(text, size, &request, report);
}

static dt_status import_survey(const char *text, size_t size, dt_report *report)
{
    const dt_import_request request = {.survey = true};
    return import(text, size, &request, report);
}

static void imports(void **state)
{
    (void)state;
    const struct {
        const char *name;
        reading read;
    } files[] = {{"pressures.las", import_las},
                 {"pressures.csv", import_csv},
                 {"survey.csv", import_survey},
                 {"survey.xml", import_survey},
                 {"offsets.csv", import_offsets}};
    for (size_t i = 0; i < sizeof files / sizeof *files; ++i) {
        char path[512];
        size_t size = 0;
        snprintf(path, sizeof path, "%s/../docs/samples/%s", DT_TESTS, files[i].name);
        char *bytes = shipped_read(path, &size);
        fails_in_turn(files[i].name, files[i].read, bytes, size, DT_OK);
        free(bytes);
    }
}

/* ---- the user's catalogue ---- */

static dt_status change_catalogue(const char *text, size_t size, dt_report *report)
{
    static const char stock[] = "od_in,weight_lbft,grade\n7,,\n9.625,47,\n,,Q125\n";
    static const char bits[] = "diameter_in\n8.5\n12.25\n6\n";
    dt_catalogue catalogue = {0};
    dt_status status = dt_catalogue_load(&catalogue);
    if (status == DT_OK) status = dt_catalogue_extend(&catalogue, text, size, report);
    if (status == DT_OK)
        status = dt_catalogue_restrict(&catalogue, stock, sizeof stock - 1, report);
    if (status == DT_OK) status = dt_catalogue_bits(&catalogue, bits, sizeof bits - 1, report);
    dt_catalogue_free(&catalogue);
    return status;
}

static void a_catalogue_of_ones_own(void **state)
{
    (void)state;
    static const char pipes[] =
        "od_in,weight_lbft,wall_in,drift_in,special_drift_in,coupling_od_in,"
        "clearance_coupling_od_in,threads,grades\n"
        "7,29.5,0.42,6.035,,7.656,7.375,LTC,L80\n";
    fails_in_turn("catalogue", change_catalogue, pipes, sizeof pipes - 1, DT_OK);
}

/* ---- a plan full of notices, and what could forbid a wish ---- */

static dt_status plan_well(const char *text, size_t size, dt_report *report)
{
    dt_well *well = NULL;
    dt_catalogue catalogue = {0};
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_status status = dt_well_parse(text, size, report, &well);
    if (status == DT_OK) status = dt_catalogue_load(&catalogue);
    if (status == DT_OK) status = dt_program_plan(well, &catalogue, &program, &refusal);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
    return status;
}

static dt_status list_switches(const char *text, size_t size, dt_report *report)
{
    dt_well *well = NULL;
    dt_switches list = {0};
    dt_status status = dt_well_parse(text, size, report, &well);
    if (status == DT_OK) status = dt_switches_list(well, &list);
    for (size_t i = 0; status == DT_OK && i < list.count; ++i) {
        char *words = NULL;
        status = dt_switch_words(&list.items[i], well, DT_DISPLAY_METRIC, &words);
        free(words);
    }
    dt_switches_free(&list);
    dt_well_free(well);
    return status;
}

/** A shipped well with a few words changed; malloc'ed. */
static char *changed(const char *path, const edit *edits, size_t count)
{
    size_t size = 0;
    char *bytes = shipped_read(path, &size), *text = realloc(bytes, size + 1);
    assert_non_null(text);
    text[size] = '\0';
    for (size_t i = 0; i < count; ++i)
        text = edited_text(text, &edits[i]);
    return text;
}

/** The notices are written last: the last allocations of a plan are theirs. */
static void words_of_a_plan(void **state)
{
    (void)state;
    enum { WARNINGS = 250, STRIDE = 3 };
    static const edit edits[] = {
        {"<pay ", "<kick_tolerance intensity='0.1 ppg' seat_volume='1 bbl' seat_hole='12.25 in'/>"
                  "<wellhead bop='700 klbf' head='30 klbf' free_length='60 ft' end_factor='2'/>"
                  "<cementing test='pressure' test_pressure='9000 psi' bump_margin='800 psi'/>"
                  "<loads bump_margin='500 psi'/><running standoff='99 %'/>"
                  "<pinned><string role='surface' shoe='1000 ft' hole='17.5 in' od='13.375 in' "
                  "weight='48 lb/ft' grade='H40' thread='STC'/></pinned><pay "},
        {"overpull=", "sour=\"yes\" overpull="}};
    char *text = changed(DT_WELLS "/alder-reach.xml", edits, 2);
    last_fail_in_turn("warnings", plan_well, text, strlen(text), DT_OK, WARNINGS, STRIDE);
    fails_in_turn("switches", list_switches, text, strlen(text), DT_OK);
    free(text);
}

/* Refusals are worded last, too. */
static void words_of_a_refusal(void **state)
{
    (void)state;
    enum { WORDS = 25 };
    static const struct {
        edit change;
        dt_status status;
        size_t stride; /* where a refusal takes long to find */
    } rows[] = {
        {{"collapse=\"1.00\"", "collapse=\"4.00\""}, DT_E_NONE, 3},
        {{"<pay ", "<pinned><string role='production' grade='X99'/></pinned><pay "}, DT_E_INPUT, 1},
        {{"<pay ", "<pinned><string role='surface'/><string role='intermediate' od='9.625 in'/>"
                   "<string role='intermediate' od='9.625 in'/></pinned><pay "},
         DT_E_NONE,
         7}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        char *text = changed(DT_WELLS "/alder-reach.xml", &rows[i].change, 1);
        last_fail_in_turn("refusal", plan_well, text, strlen(text), rows[i].status, WORDS,
                          rows[i].stride);
        free(text);
    }
}

static void a_computed_fracture_gradient(void **state)
{
    (void)state;
    static const edit edits[] = {
        {"<fracture_gradient depth_unit=\"ft\" unit=\"ppg\">",
         "<fracture_gradient method='eaton'><ratio depth='0 ft' value='0.4'/><ratio depth='9000 "
         "ft' "
         "value='0.45'/></fracture_gradient><!--"},
        {"</fracture_gradient>\n  <overburden",
         "--><leak_off shoe='5000 ft' emw='15 ppg' deduct='0.3 ppg'/>\n  <overburden"}};
    char *text = changed(DT_WELLS "/mizzenlow-shelf.xml", edits, 2);
    fails_in_turn("computed gradient", read_well, text, strlen(text), DT_OK);
    free(text);
}

/* ---- a basis ---- */

static const xmlNode *basis_root; /* parsed while memory lasts: the parser is not looked at here */
static const dt_basis *basis_under; /* NULL for a file that says all */

static void nobody_listens(void *context, int line, const char *where, const char *problem)
{
    (void)context, (void)line, (void)where, (void)problem;
}

static dt_status read_basis(const char *text, size_t size, dt_report *report)
{
    (void)text, (void)size, (void)report;
    dt_basis *basis = NULL;
    const dt_status status = dt_basis_read(basis_root, basis_under, nobody_listens, NULL, &basis);
    dt_basis_free(basis);
    return status;
}

static void a_basis(void **state)
{
    (void)state;
    static const char ours[] =
        "<basis xmlns=\"urn:drawtube:well:1\" name=\"ours\"><cementing lead=\"H neat\">"
        "<heavier_tail slurry=\"H neat\"/><source>ours</source></cementing></basis>";
    xmlDocPtr built_in =
        xmlReadFile(DT_WELLS "/../planner/well/basis/built-in.xml", NULL, XML_PARSE_NONET);
    xmlDocPtr partly = xmlReadMemory(ours, sizeof ours - 1, NULL, NULL, XML_PARSE_NONET);
    assert_true(built_in && partly);
    basis_root = xmlDocGetRootElement(built_in);
    basis_under = NULL;
    fails_in_turn("the built-in basis", read_basis, "", 0, DT_OK);
    basis_root = xmlDocGetRootElement(partly);
    fails_in_turn("a basis that says little, alone", read_basis, "", 0, DT_E_INPUT);
    basis_under = dt_basis_built_in();
    fails_in_turn("the same over the built-in one", read_basis, "", 0, DT_OK);
    xmlFreeDoc(built_in);
    xmlFreeDoc(partly);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_basis),
        cmocka_unit_test(a_file_with_every_element),
        cmocka_unit_test(bad_files),
        cmocka_unit_test(imports),
        cmocka_unit_test(a_catalogue_of_ones_own),
        cmocka_unit_test(words_of_a_plan),
        cmocka_unit_test(words_of_a_refusal),
        cmocka_unit_test(a_computed_fracture_gradient),
    };
    return cmocka_run_group_tests_name("faults of input", tests, NULL, NULL);
}
