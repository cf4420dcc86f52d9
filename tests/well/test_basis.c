/* SPDX-License-Identifier: MIT */
/* The basis: what is taken where a well says nothing, and that nothing is taken from elsewhere. */
#include "check.h"

#include <libxml/parser.h>
#include <libxml/xmlschemas.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "cement.h"
#include "costing.h"
#include "running.h"
#include "slurries.h"
#include "strings.h"
#include "well_slurries.h"

#define BUILT_IN DT_WELLS "/../planner/well/basis/built-in.xml"

/* ---- reading ---- */

typedef struct told {
    int count, line;
    char where[160], text[400];
} told;

/** Keeps the first. */
static void listen(void *context, int line, const char *where, const char *problem)
{
    told *t = context;
    if (t->count++ > 0) return;
    t->line = line;
    snprintf(t->where, sizeof t->where, "%s", where);
    snprintf(t->text, sizeof t->text, "%s", problem);
}

static dt_status read_text(const char *text, const dt_basis *under, told *t, dt_basis **out)
{
    xmlDocPtr doc = xmlReadMemory(text, (int)strlen(text), "basis.xml", NULL,
                                  XML_PARSE_NONET | XML_PARSE_BIG_LINES);
    assert_non_null(doc);
    *t = (told){0};
    const dt_status status = dt_basis_read(xmlDocGetRootElement(doc), under, listen, t, out);
    xmlFreeDoc(doc);
    return status;
}

static char *read_file(const char *path)
{
    FILE *in = fopen(path, "rb");
    assert_non_null(in);
    char *text = calloc(1, 1 << 18);
    assert_non_null(text);
    const size_t size = fread(text, 1, (1 << 18) - 1, in);
    assert_true(size > 0 && size < (1 << 18) - 1);
    fclose(in);
    return text;
}

static void the_file_is_what_was_compiled_in(void **state)
{
    (void)state;
    char *text = read_file(BUILT_IN);
    told t;
    dt_basis *read = NULL;
    assert_int_equal(read_text(text, NULL, &t, &read), DT_OK);
    const dt_basis *built_in = dt_basis_built_in();
    assert_string_equal(read->name, "built-in");
    assert_string_equal(built_in->name, "built-in");
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_value *a = &read->values[i], *b = &built_in->values[i];
        assert_true((isnan(a->si) && isnan(b->si)) || (a->si >= b->si && a->si <= b->si));
        assert_string_equal(a->text, b->text);
        assert_string_equal(a->source, b->source);
        assert_int_equal(a->line, b->line);
        assert_true(a->pressure == b->pressure);
        assert_true(*a->source != '\0' && !strchr(a->source, '\n'));
    }
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        assert_int_equal(read->tables[i].count, built_in->tables[i].count);
    for (int i = 0; i < DT_COLUMN_COUNT; ++i)
        assert_string_equal(read->column_sources[i], built_in->column_sources[i]);
    dt_basis_free(read);
    free(text);
}

#define OPEN "<basis xmlns=\"urn:drawtube:well:1\" name=\"ours\">\n"

static void a_basis_that_is_wrong_is_refused_with_its_line(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int line;
        const char *where, *problem;
    } rows[] = {
        {"<well xmlns=\"urn:drawtube:well:1\" name=\"x\"/>", 1, "well", "first element must be"},
        {"<basis name=\"x\"/>", 1, "basis", "first element must be"},
        {"<basis xmlns=\"urn:drawtube:well:1\"/>", 1, "basis/@name", "has a name"},
        {OPEN "<desing burst=\"1.2\"/></basis>", 2, "desing", "not known inside <basis>"},
        {OPEN "\n<design bursts=\"1.2\"><source>s</source></design></basis>", 3, "design/@bursts",
         "no such attribute"},
        {OPEN "<design thickening=\"1\"/></basis>", 2, "design/@thickening", "no such attribute"},
        {OPEN "<design burst=\"1.2\"/></basis>", 2, "design/@burst", "has no source"},
        {OPEN "<design burst=\"1.2\"><source of=\"tension\">s</source></design></basis>", 2,
         "design/@burst", "has no source"},
        {OPEN "<design burst=\"1.2\"><source> </source></design></basis>", 2, "design/@burst",
         "has no source"},
        {OPEN "<design burst=\"1.2\"><source>s</source><source of=\"tension\">s</source></design>"
              "</basis>",
         2, "source/@of", "states no tension"},
        {OPEN "<design burst=\"1.2 psi\"><source>s</source></design></basis>", 2, "design/@burst",
         "a number without a unit"},
        {OPEN "<design overpull=\"100000\"><source>s</source></design></basis>", 2,
         "design/@overpull", "one of lbf, klbf"},
        {OPEN "<design overpull=\"-1 lbf\"><source>s</source></design></basis>", 2,
         "design/@overpull", "one of lbf, klbf"},
        {OPEN "<design sour=\"maybe\"><source>s</source></design></basis>", 2, "design/@sour",
         "one of no|yes"},
        {OPEN "<design sour=\"ye\"><source>s</source></design></basis>", 2, "design/@sour",
         "one of no|yes"},
        {OPEN "<margins trip=\"0.5 ft\"><source>s</source></margins></basis>", 2, "margins/@trip",
         "or for a pressure"},
        {OPEN "<cementing lead=\" \"><source>s</source></cementing></basis>", 2, "cementing/@lead",
         "a name"},
        {OPEN "<design burst=\"1\"><source>s</source></design>\n<design burst=\"1\"/></basis>", 3,
         "design", "a second <design>; the first is in line 2"},
        {OPEN "<sizes><hole/></sizes></basis>", 2, "hole", "not known inside <sizes>"},
        {OPEN "<sizes>\n<clearance up_to_od=\"7 in\"/><source>s</source></sizes></basis>", 3,
         "clearance/@radial", "is missing"},
        {OPEN "<sizes>\n<clearance up_to_od=\"7 in\" radial=\"1 in\"/>\n<clearance up_to_od=\"7 "
              "in\" radial=\"1 in\"/><source>s</source></sizes></basis>",
         4, "clearance", "not more than the row before"},
        {OPEN
         "<sizes>\n<clearance up_to_od=\"7 in\" radial=\"1 in\" od=\"1 in\"/><source>s</source>"
         "</sizes></basis>",
         3, "clearance/@od", "no such attribute"},
        {OPEN "<sizes>\n<clearance up_to_od=\"7 in\" radial=\"1 in\"/></sizes></basis>", 2,
         "sizes/clearance/@up_to_od", "has no source"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        told t;
        dt_basis *out = NULL;
        const dt_status status = read_text(rows[i].text, dt_basis_built_in(), &t, &out);
        if (status != DT_E_INPUT || out || t.line != rows[i].line ||
            strcmp(t.where, rows[i].where) != 0 || !strstr(t.text, rows[i].problem))
            fail_msg("row %zu: line %d, %s: %s", i, t.line, t.where, t.text);
    }
}

static void a_built_in_basis_says_all(void **state)
{
    (void)state;
    told t;
    dt_basis *out = NULL;
    assert_int_equal(read_text(OPEN "</basis>", NULL, &t, &out), DT_E_INPUT);
    assert_int_equal(t.count, DT_CUSTOM_COUNT + DT_TABLE_COUNT);
    assert_non_null(strstr(t.text, "is missing"));
}

/* ---- a basis of one's own ---- */

static void a_well_stands_on_its_own_basis(void **state)
{
    (void)state;
    told t;
    dt_basis *ours = NULL;
    const char *text =
        OPEN "<design burst=\"1.2\" sour=\"yes\"><source>our rule 7</source></design>"
             "<margins trip=\"50 psi\"><source>our rule 8</source></margins>"
             "<loads evacuation=\"lost-returns\"><source>our rule 11</source></loads>"
             "<wellhead mudline=\"yes\"><source>our rule 12</source></wellhead>"
             "<wishes tiebacks=\"no\"><source>our rule 13</source></wishes>"
             "<cementing tail=\"H neat\" margin=\"0.5 ppg\">"
             "<lighter_lead slurry=\"G + 12 % bentonite\"/>"
             "<source>our rule 9</source></cementing>"
             "<running><joints range=\"1\" joint_length=\"6 m\"/>"
             "<joints range=\"3\" joint_length=\"12 m\"/>"
             "<source of=\"joints/range\">API Spec 5CT</source>"
             "<source of=\"joints\">our\n  rule 10</source></running></basis>";
    assert_int_equal(read_text(text, dt_basis_built_in(), &t, &ours), DT_OK);
    assert_string_equal(ours->name, "ours");
    dt_well well, silent;
    dt_well_start_on(&well, ours);
    dt_well_start(&silent);
    assert_ptr_equal(dt_basis_of(&silent), dt_basis_built_in());
    assert_ptr_equal(dt_basis_of(NULL), dt_basis_built_in());
    assert_ptr_equal(dt_basis_of(&well), ours);

    dt_design_in_force mine, theirs;
    dt_design_settle(&well, &mine);
    dt_design_settle(&silent, &theirs);
    assert_within(mine.burst, 1.2, 0);
    assert_true(mine.sour && !theirs.sour);
    assert_within(mine.tension, theirs.tension, 0); /* left to the basis under it */
    assert_within(dt_custom_margin(&well, DT_CUSTOM_MARGINS_TRIP).pressure_pa, 50 * DT_PA_PER_PSI,
                  1e-9);
    assert_within(dt_custom_margin(&well, DT_CUSTOM_MARGINS_TRIP).emw_kgm3, 0, 0);
    assert_within(dt_custom_margin(&well, DT_CUSTOM_CEMENTING_MARGIN).emw_kgm3,
                  0.5 * DT_KGM3_PER_PPG, 1e-9);
    assert_string_equal(dt_custom_source(&well, DT_CUSTOM_DESIGN_BURST), "our rule 7");
    assert_string_equal(dt_custom_text(&well, DT_CUSTOM_CEMENTING_TAIL), "H neat");
    size_t leads = 0, tails = 0;
    const dt_name_custom *lead = dt_custom_rows(&well, DT_TABLE_LIGHTER_LEADS, &leads);
    const dt_name_custom *tail = dt_custom_rows(&well, DT_TABLE_HEAVIER_TAILS, &tails);
    assert_int_equal(leads, 1);
    assert_string_equal(lead[0].text, "G + 12 % bentonite");
    assert_true(tails == 2 && strcmp(tail[0].text, "H neat") == 0); /* from under */
    assert_string_equal(ours->column_sources[DT_COLUMN_JOINTS_RANGE], "API Spec 5CT");
    assert_string_equal(ours->column_sources[DT_COLUMN_JOINTS_LENGTH], "our rule 10");

    assert_int_equal(well.loads.evacuation, DT_EVACUATION_LOST_RETURNS); /* without a <loads> */
    assert_int_equal(silent.loads.evacuation, DT_EVACUATION_FULL);
    assert_true(well.wellhead.mudline && !silent.wellhead.mudline);
    assert_true(well.wishes.no_tiebacks && !silent.wishes.no_tiebacks);

    dt_running_settings run;
    dt_running_settle(&well, DT_PRODUCTION, DT_FULL, 0.2, &run);
    assert_within(run.joint_m, 12, 0);
    well.running.range = 2; /* no row of its own: that of the range below */
    dt_running_settle(&well, DT_PRODUCTION, DT_FULL, 0.2, &run);
    assert_within(run.joint_m, 6, 0);
    dt_basis_free(ours);
}

/* ---- the schemas ---- */

static void no_word(void *context, xmlErrorPtr error)
{
    print_error("line %d: %s", error->line, error->message);
    ++*(int *)context;
}

static void count_only(void *context, xmlErrorPtr error)
{
    (void)error;
    ++*(int *)context;
}

static void the_file_fits_its_schema(void **state)
{
    (void)state;
    int wrong = 0;
    xmlSchemaParserCtxtPtr compiler = xmlSchemaNewParserCtxt(DT_WELLS "/basis.xsd");
    xmlSchemaPtr schema = xmlSchemaParse(compiler);
    assert_non_null(schema);
    xmlSchemaValidCtxtPtr validator = xmlSchemaNewValidCtxt(schema);
    xmlSchemaSetValidStructuredErrors(validator, no_word, &wrong);
    xmlDocPtr doc = xmlReadFile(BUILT_IN, NULL, XML_PARSE_NONET);
    assert_non_null(doc);
    assert_int_equal(xmlSchemaValidateDoc(validator, doc), 0);
    assert_int_equal(wrong, 0);
    static const char misspelt[] =
        "<basis xmlns=\"urn:drawtube:well:1\" name=\"x\"><sizes odd=\"1\"/></basis>";
    xmlDocPtr odd = xmlReadMemory(misspelt, sizeof misspelt - 1, NULL, NULL, XML_PARSE_NONET);
    assert_non_null(odd);
    xmlSchemaSetValidStructuredErrors(validator, count_only, &wrong);
    assert_true(xmlSchemaValidateDoc(validator, odd) > 0 && wrong > 0);
    xmlFreeDoc(odd);
    xmlFreeDoc(doc);
    xmlSchemaFreeValidCtxt(validator);
    xmlSchemaFree(schema);
    xmlSchemaFreeParserCtxt(compiler);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_file_is_what_was_compiled_in),
        cmocka_unit_test(a_basis_that_is_wrong_is_refused_with_its_line),
        cmocka_unit_test(a_built_in_basis_says_all),
        cmocka_unit_test(a_well_stands_on_its_own_basis),
        cmocka_unit_test(the_file_fits_its_schema),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
