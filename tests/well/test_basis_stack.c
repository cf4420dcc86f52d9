/* SPDX-License-Identifier: MIT */
/* Bases that are named, stacked and read from files: which value wins, what is refused and where.
 */
#include "check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "findings.h"

#define BASES DT_WELLS "/../planner/well/basis"
#define OPEN  "<basis xmlns=\"urn:drawtube:well:1\" name=\"ours\">\n"

/* ---- wells ---- */

/** A whole well: attributes of <well>, of <datum>, and elements of its own. */
static char *well_text(const char *attributes, const char *datum, const char *elements)
{
    static char text[4096];
    const int size = snprintf(
        text, sizeof text,
        "<well xmlns=\"urn:drawtube:well:1\" name=\"Invented\" %s>\n"
        "<datum rig_floor=\"30 ft\" %s/>\n<objective depth=\"9000 ft\" min_pipe_od=\"5.5 in\"/>\n"
        "<pore_pressure depth_unit=\"ft\" unit=\"ppg\"><point depth=\"0\" value=\"8.6\"/>"
        "<point depth=\"9000\" value=\"8.8\"/></pore_pressure>\n"
        "<fracture_gradient depth_unit=\"ft\" unit=\"ppg\"><point depth=\"0\" value=\"11\"/>"
        "<point depth=\"9000\" value=\"16\"/></fracture_gradient>\n"
        "<conductor method=\"driven\" depth=\"4500 ft\"/>\n%s</well>",
        attributes, datum, elements);
    assert_true(size > 0 && (size_t)size < sizeof text);
    return text;
}

#define LAND "over=\"ground\""

/** The same well, its datum and objective in metres. */
static char *metric_text(const char *attributes, const char *elements)
{
    static const char *const feet[] = {"30 ft\" ", "9000 ft\""}, *const metres[] = {"9.1 m\" ",
                                                                                    "2743 m\" "};
    char *text = well_text(attributes, LAND, elements);
    for (size_t i = 0; i < 2; ++i) {
        char *at = strstr(text, feet[i]);
        memcpy(at, metres[i], strlen(feet[i]));
    }
    return text;
}

static dt_status parse(const char *text, const dt_basis *const *over, size_t count,
                       dt_report *report, dt_well **out)
{
    assert_int_equal(dt_report_init(report, "x.xml"), DT_OK);
    return dt_well_parse_on(text, strlen(text), over, count, report, out);
}

static dt_well *parse_good(const char *text, const dt_basis *const *over, size_t count)
{
    dt_report report;
    dt_well *well = NULL;
    const dt_status status = parse(text, over, count, &report, &well);
    if (status != DT_OK) fail_msg("line %d: %s", report.items[0].line, report.items[0].text);
    dt_report_free(&report);
    return well;
}

static dt_basis *open_good(const char *text)
{
    dt_report report;
    dt_basis *basis = NULL;
    assert_int_equal(dt_report_init(&report, "b.xml"), DT_OK);
    const dt_status status = dt_basis_open(text, strlen(text), &report, &basis);
    if (status != DT_OK)
        fail_msg("line %d: %s: %s", report.items[0].line, report.items[0].where,
                 report.items[0].text);
    dt_report_free(&report);
    return basis;
}

static const char *name_of(const dt_well *well)
{
    return dt_basis_of(well)->name;
}

/* ---- which basis ---- */

/* 1,500 ft: common practice, no source. */
static void where_a_well_stands_chooses_its_basis(void **state)
{
    (void)state;
    static const struct {
        const char *datum, *basis;
    } rows[] = {
        {LAND, "land"},
        {"over=\"sea\" water_depth=\"60 m\"", "shelf"},
        {"over=\"sea\" water_depth=\"1500 ft\"", "shelf"},
        {"over=\"sea\" water_depth=\"1501 ft\"", "deepwater"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        dt_well *well = parse_good(well_text("", rows[i].datum, ""), NULL, 0);
        assert_string_equal(name_of(well), rows[i].basis);
        assert_true(well->basis_taken);
        dt_well_free(well);
    }
}

static void a_well_names_its_basis(void **state)
{
    (void)state;
    dt_well *bare = parse_good(well_text("basis=\"bare\"", LAND, ""), NULL, 0);
    assert_ptr_equal(dt_basis_of(bare), dt_basis_built_in());
    assert_false(bare->basis_taken);
    assert_true(isnan(bare->seats.round_to_m));
    dt_well_free(bare);

    dt_well *two = parse_good(well_text("basis=\" land  us-ocs\"", LAND, ""), NULL, 0);
    const dt_basis *basis = dt_basis_of(two);
    assert_string_equal(basis->name, "land us-ocs");
    assert_int_equal(basis->layer_count, 3);
    assert_string_equal(basis->layers[0].name, "built-in");
    assert_string_equal(basis->layers[2].name, "us-ocs");
    assert_non_null(basis->layers[2].as_of);
    assert_int_equal(basis->values[DT_CUSTOM_DESIGN_BURST].layer, 0);
    assert_int_equal(basis->values[DT_CUSTOM_MARGINS_TRIP].layer, 1);
    assert_int_equal(basis->values[DT_CUSTOM_SEATS_LEAST_LAP].layer, 2);
    assert_int_equal(basis->tables[DT_TABLE_CEMENTING_ROLES].layer, 2);
    assert_within(two->seats.round_to_m, 50 * DT_M_PER_FT, 1e-9);
    dt_well_free(two);

    dt_well *none =
        parse_good(well_text("basis=\"land\"", LAND, "<seats round_to=\"0 ft\"/>"), NULL, 0);
    assert_true(isnan(none->seats.round_to_m));
    dt_well_free(none);
}

/* Common practice, no source: a draft in metres has shoes at round metres, one in feet at round
 * feet. What somebody stated for all files goes before the metric step of what it is stacked on. */
static void round_depths_are_those_of_the_file(void **state)
{
    (void)state;
    dt_well *feet = parse_good(well_text("basis=\"land\"", LAND, ""), NULL, 0);
    assert_within(feet->seats.round_to_m, 50 * DT_M_PER_FT, 1e-9);
    dt_well_free(feet);
    dt_well *metres = parse_good(metric_text("basis=\"land\"", ""), NULL, 0);
    assert_within(metres->seats.round_to_m, 10, 1e-9);
    dt_well_free(metres);
    dt_well *own = parse_good(metric_text("basis=\"land\"", "<seats round_to=\"5 m\"/>"), NULL, 0);
    assert_within(own->seats.round_to_m, 5, 1e-9);
    dt_well_free(own);
    dt_basis *house = open_good(OPEN "<seats round_to=\"25 m\"><source>a</source></seats></basis>");
    const dt_basis *over[] = {house};
    dt_well *ours = parse_good(metric_text("basis=\"land\"", "<seats/>"), over, 1);
    assert_within(ours->seats.round_to_m, 25, 1e-9);
    dt_well_free(ours);
    dt_basis_free(house);
    dt_well *bare = parse_good(metric_text("basis=\"bare\"", ""), NULL, 0);
    assert_true(isnan(bare->seats.round_to_m));
    dt_well_free(bare);
}

/* ---- which value ---- */

static void what_stands_nearer_to_the_well_wins(void **state)
{
    (void)state;
    dt_basis *first =
        open_good(OPEN "<margins trip=\"0.3 ppg\" surge=\"0.1 ppg\"><source>a</source>"
                       "</margins></basis>");
    dt_basis *second = open_good(OPEN "<margins trip=\"0.2 ppg\"><source>b</source></margins>"
                                      "<seats lap=\"200 ft\"><source>c</source></seats></basis>");
    const dt_basis *over[] = {first, second};
    dt_well *well =
        parse_good(well_text("basis=\"land\"", LAND, "<seats lap=\"250 ft\"/>"), over, 2);
    const dt_basis *basis = dt_basis_of(well);
    assert_int_equal(basis->layer_count, 4);
    assert_within(well->margins.trip.emw_kgm3, 0.2 * DT_KGM3_PER_PPG, 1e-9);  /* the last given */
    assert_within(well->margins.surge.emw_kgm3, 0.1 * DT_KGM3_PER_PPG, 1e-9); /* the first */
    assert_within(well->seats.round_to_m, 50 * DT_M_PER_FT, 1e-9);            /* that it names */
    assert_within(well->seats.lap_m, 250 * DT_M_PER_FT, 1e-9);                /* its own */
    assert_string_equal(dt_custom_source(well, DT_CUSTOM_MARGINS_TRIP), "b");
    assert_int_equal(well->stated[DT_CUSTOM_SEATS_LAP].line, 7);
    assert_string_equal(well->stated[DT_CUSTOM_SEATS_LAP].text, "250 ft");
    assert_int_equal(well->stated[DT_CUSTOM_MARGINS_TRIP].line, 0);
    dt_basis_close(second);
    dt_basis_close(first);
    /* the well has what it needs of them */
    assert_string_equal(dt_custom_source(well, DT_CUSTOM_MARGINS_SURGE), "a");
    dt_well_free(well);
}

static void a_table_goes_as_a_whole(void **state)
{
    (void)state;
    dt_basis *ours = open_good(OPEN "<sizes><clearance up_to_od=\"60 in\" radial=\"1 in\"/>"
                                    "<source>d</source></sizes></basis>");
    const dt_basis *over[] = {ours};
    dt_well *well = parse_good(well_text("", LAND, ""), over, 1);
    size_t count = 0;
    const dt_clearance_row *rows = dt_custom_rows(well, DT_TABLE_CLEARANCES, &count);
    assert_int_equal(count, 1);
    assert_within(rows[0].radial_m, DT_M_PER_IN, 1e-12);
    assert_string_equal(dt_basis_of(well)->name, "land ours");
    assert_true(well->basis_taken); /* another one over it changes nothing in that */
    dt_well_free(well);
    dt_basis_close(ours);
}

static void bare_begins_anew(void **state)
{
    (void)state;
    const dt_basis *over[] = {dt_basis_shipped("texas"), dt_basis_shipped("bare")};
    dt_well *well = parse_good(well_text("", LAND, ""), over, 2);
    assert_ptr_equal(dt_basis_of(well), dt_basis_built_in());
    assert_false(well->basis_taken);
    dt_well_free(well);
}

/* ---- what is refused ---- */

static void refused_well(const char *text, const dt_basis *const *over, size_t count, dt_message id,
                         const char *words)
{
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(parse(text, over, count, &report, &well), DT_E_INPUT);
    assert_null(well);
    assert_int_equal(report.items[0].id, id);
    char *line = NULL;
    assert_int_equal(dt_finding_line(&report, 0, &line), DT_OK);
    if (!strstr(line, words)) fail_msg("%s", line);
    free(line);
    dt_report_free(&report);
}

static void a_basis_that_there_is_not_is_told_with_those_that_there_are(void **state)
{
    (void)state;
    refused_well(well_text("basis=\"land offshore\"", LAND, ""), NULL, 0, DT_MSG_BASIS_UNKNOWN,
                 "x.xml:1: error DT-311: well/@basis: no basis \"offshore\" comes with drawtube");
    refused_well(well_text("basis=\"Land\"", LAND, ""), NULL, 0, DT_MSG_BASIS_UNKNOWN,
                 "bare, land, shelf, deepwater, geothermal, platform, us-ocs");
    refused_well(well_text("basis=\" \"", LAND, ""), NULL, 0, DT_MSG_BASIS_UNKNOWN, "no basis");
    refused_well(well_text("basis=\"land land land land land land land land land land land land\"",
                           LAND, ""),
                 NULL, 0, DT_MSG_BASIS_TOO_MANY, "more than 11 bases");
    assert_null(dt_basis_shipped("built-in"));
    assert_string_equal(dt_basis_shipped_name(0), "bare");
    assert_null(dt_basis_shipped_name(11));
    assert_null(dt_basis_shipped_name(99));
}

static void bases_that_contradict_each_other_are_refused(void **state)
{
    (void)state;
    dt_basis *short_laps =
        open_good(OPEN "<seats lap=\"150 ft\"><source>a</source></seats></basis>");
    dt_basis *long_least =
        open_good(OPEN "<seats least_lap=\"200 ft\"><source>b</source></seats></basis>");
    const dt_basis *over[] = {short_laps, long_least};
    refused_well(well_text("", LAND, ""), over, 2, DT_MSG_BASIS_CONTRADICTS,
                 "seats/@least_lap: once stacked, it is more than lap");
    dt_basis_close(short_laps);
    dt_basis_close(long_least);
}

static void a_basis_file_that_is_wrong_is_refused_with_its_line(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int number, line;
        const char *words;
    } rows[] = {
        {" \n", 102, 0, "empty"},
        {"<basis", 103, 1, "not well formed"},
        {"<!DOCTYPE basis [<!ENTITY x SYSTEM \"/etc/passwd\">]>\n" OPEN "</basis>", 104, 1,
         "DOCTYPE"},
        {"<well xmlns=\"urn:drawtube:well:1\" name=\"x\"/>", 301, 1, "first element is <well>"},
        {"<basis name=\"x\"/>", 301, 1, "namespace"},
        {OPEN "<margin trip=\"1 ppg\"/></basis>", 575, 2, "not known inside <basis>"},
        {OPEN "\n<margins trip=\"1 ppg\"/></basis>", 575, 3, "has no source"},
        {OPEN "<margins trip=\"1 ft\"><source>s</source></margins></basis>", 575, 2, "1 ft"},
        {OPEN "<sizes><source>s</source>\n<clearance up_to_od=\"60 in\" radial=\"1 in\"/></sizes>"
              "</basis>",
         576, 3, "schema"},
        {OPEN "<margins trip=\"1 ppg\">text<source>s</source></margins></basis>", 576, 2, "schema"},
        /* the limits of a well file */
        {OPEN "<margins trip=\"6 ppg\"><source>s</source></margins></basis>", 216, 2,
         "more than 5 ppg"},
        {OPEN "<design burst=\"0.1\"><source>s</source></design></basis>", 215, 2, "less than 0.5"},
        {OPEN "<seats lap=\"5000 m\"><source>s</source></seats></basis>", 216, 2, "laps are"},
        /* those of what a basis alone says */
        {OPEN "<seats least_lap=\"50000 m\"><source>s</source></seats></basis>", 577, 2,
         "no well is longer"},
        {OPEN "<running>\n<rate from=\"0 in\" joints_per_hour=\"2000000\"/><source>s</source>"
              "</running></basis>",
         577, 3, "running/rate/@joints_per_hour"},
        /* what is no basis at all once it is whole */
        {OPEN "<seats\nleast_lap=\"400 ft\"><source>s</source></seats></basis>", 575, 3,
         "is more than lap"},
        {OPEN "<kick_tolerance>\n<hole up_to=\"12 in\" drill_pipe=\"5 in\" collars=\"8 in\" "
              "collar_length=\"600 ft\"/><source>s</source></kick_tolerance></basis>",
         575, 3, "larger ones have no row"},
        {OPEN "<kick_tolerance>\n<hole up_to=\"60 in\" drill_pipe=\"5 in\" collars=\"8 in\" "
              "collar_length=\"600 ft\"/>\n<hole up_to=\"12 in\" drill_pipe=\"5 in\" "
              "collars=\"8 in\" collar_length=\"600 ft\"/><source>s</source></kick_tolerance>"
              "</basis>",
         575, 4, "not more than the row before"},
        {OPEN "<cementing>\n<by_role role=\"conductor\" excess=\"1 %\" wait=\"1 h\" test=\"none\"/>"
              "<source>s</source></cementing></basis>",
         575, 3, "has no row for one of"},
        {OPEN "<seats>\n<surface objective_to=\"15000 m\" least=\"300 ft\" most=\"200 ft\"/>"
              "<source>s</source></seats></basis>",
         575, 3, "is more than most"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        dt_report report;
        dt_basis *out = NULL;
        char *line = NULL;
        assert_int_equal(dt_report_init(&report, "b.xml"), DT_OK);
        const dt_status status = dt_basis_open(rows[i].text, strlen(rows[i].text), &report, &out);
        if (status != DT_E_INPUT || out) fail_msg("row %zu is read", i);
        assert_int_equal(dt_finding_line(&report, 0, &line), DT_OK);
        if ((int)report.items[0].id != rows[i].number || report.items[0].line != rows[i].line ||
            !strstr(line, rows[i].words))
            fail_msg("row %zu: %s", i, line);
        free(line);
        dt_report_free(&report);
    }
}

/* ---- the files that come with drawtube ---- */

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

/** A layer that was compiled in is the one that the file has. */
static void same_layer(const dt_basis *a, const dt_basis *b)
{
    assert_string_equal(a->name, b->name);
    assert_int_equal(a->layer_count, b->layer_count);
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_value *x = &a->values[i], *y = &b->values[i];
        assert_true(!x->text == !y->text);
        if (!x->text) continue;
        assert_string_equal(x->text, y->text);
        assert_string_equal(x->source, y->source);
        assert_int_equal(x->line, y->line);
    }
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        assert_int_equal(a->tables[i].count, b->tables[i].count);
}

static void the_shipped_files_are_what_was_compiled_in(void **state)
{
    (void)state;
    for (size_t i = 1; dt_basis_shipped_name(i); ++i) {
        const dt_basis *shipped = dt_basis_shipped(dt_basis_shipped_name(i));
        char path[512];
        snprintf(path, sizeof path, BASES "/%s.xml", dt_basis_name(shipped));
        char *text = read_file(path);
        dt_basis *read = open_good(text); /* limits and schema too */
        same_layer(read, shipped);
        dt_basis_close(read);
        free(text);
    }
    char *text = read_file(BASES "/built-in.xml");
    dt_basis_close(open_good(text));
    free(text);
}

static void starters_name_their_basis_and_leave_out_what_it_gives(void **state)
{
    (void)state;
    static const char *const names[] = {"land", "shelf", "deepwater", "geothermal"};
    for (size_t i = 0; i < sizeof names / sizeof *names; ++i)
        for (int metric = 0; metric < 2; ++metric) {
            const char *text = dt_well_starter_on(names[i], metric);
            assert_non_null(strstr(text, "INVENTED"));
            assert_null(strstr(text, "<margins"));
            assert_null(strstr(text, "<design"));
            dt_well *well = parse_good(text, NULL, 0);
            assert_string_equal(name_of(well), names[i]);
            assert_false(well->basis_taken);
            dt_well_free(well);
        }
    assert_null(dt_well_starter_on("us-ocs", false));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(where_a_well_stands_chooses_its_basis),
        cmocka_unit_test(a_well_names_its_basis),
        cmocka_unit_test(round_depths_are_those_of_the_file),
        cmocka_unit_test(what_stands_nearer_to_the_well_wins),
        cmocka_unit_test(a_table_goes_as_a_whole),
        cmocka_unit_test(bare_begins_anew),
        cmocka_unit_test(a_basis_that_there_is_not_is_told_with_those_that_there_are),
        cmocka_unit_test(bases_that_contradict_each_other_are_refused),
        cmocka_unit_test(a_basis_file_that_is_wrong_is_refused_with_its_line),
        cmocka_unit_test(the_shipped_files_are_what_was_compiled_in),
        cmocka_unit_test(starters_name_their_basis_and_leave_out_what_it_gives),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
