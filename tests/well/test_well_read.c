/* SPDX-License-Identifier: MIT */
/* The well-file reader: what it accepts and how it reads it; then one bad file for each message. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "full_well.h"
#include "units.h"
#include "well.h"

/* ---- helpers ---- */

static char *read_file(const char *path, size_t *size)
{
    FILE *file = fopen(path, "rb");
    if (!file) fail_msg("cannot open %s", path);
    char *text = malloc(DT_WELL_MAX_BYTES + 2);
    assert_non_null(text);
    *size = fread(text, 1, DT_WELL_MAX_BYTES + 1, file);
    fclose(file);
    text[*size] = '\0';
    return text;
}

static void print_findings(const dt_report *report)
{
    for (size_t i = 0; i < report->count; ++i) {
        char *line = NULL;
        if (dt_finding_line(report, i, &line) == DT_OK) print_message("%s\n", line);
        free(line);
    }
}

/** Parses a text that must be good and bring no more than that many warnings. */
static dt_well *parse_good(const char *text, size_t warnings)
{
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, "good"), DT_OK);
    dt_status status = dt_well_parse(text, strlen(text), &report, &well);
    if (status != DT_OK || report.count != warnings) {
        print_findings(&report);
        fail_msg("%s, %zu findings, want %zu", dt_status_text(status), report.count, warnings);
    }
    dt_report_free(&report);
    return well;
}

/** Parses a text and writes its message numbers and lines into `found`, "214@5 303@2". */
static void parse_any(const char *text, size_t size, char *found, size_t room)
{
    dt_report report;
    dt_well *well = NULL;
    size_t used = 0, errors = 0;
    assert_int_equal(dt_report_init(&report, "any"), DT_OK);
    dt_status status = dt_well_parse(text, size, &report, &well);
    found[0] = '\0';
    for (size_t i = 0; i < report.count && used < room; ++i) {
        const dt_finding *at = &report.items[i];
        if (at->severity == DT_ERROR) ++errors;
        used += (size_t)snprintf(found + used, room - used, "%s%d@%d", i ? " " : "", (int)at->id,
                                 at->line);
    }
    assert_int_equal(errors, report.errors);
    assert_int_equal(status, errors ? DT_E_INPUT : DT_OK);
    assert_true(status == DT_OK ? well != NULL : well == NULL); /* set only on DT_OK */
    dt_well_free(well);
    dt_report_free(&report);
}

/** `text` with one part put in place of another; freed by the caller. */
static char *replace(const char *text, const char *old, const char *new)
{
    const char *at = strstr(text, old);
    if (!at) fail_msg("no \"%s\" in the text", old);
    size_t size = strlen(text) + strlen(new) + 1;
    char *out = malloc(size);
    assert_non_null(out);
    snprintf(out, size, "%.*s%s%s", (int)(at - text), text, new, at + strlen(old));
    return out;
}

static void assert_found(const char *text, const char *want)
{
    char found[400];
    parse_any(text, strlen(text), found, sizeof found);
    assert_string_equal(found, want);
}

static void assert_changed(const char *old, const char *new, const char *want)
{
    char *text = replace(FULL_WELL, old, new);
    assert_found(text, want);
    free(text);
}

/* ---- good files ---- */

static void the_shipped_well_is_read(void **state)
{
    (void)state;
    size_t size = 0;
    char *text = read_file(DT_WELLS "/alder-reach.xml", &size);
    dt_well *well = parse_good(text, 0);
    free(text);
    assert_string_equal(well->name, "Alder Reach 1 (invented)");
    assert_null(well->note);
    assert_false(dt_has_document(well));
    assert_close(well->rig_floor_m, 30 * 0.3048, 1e-15);
    assert_close(dt_well_ground_m(well), 30 * 0.3048, 1e-15);
    assert_false(well->over_sea);
    assert_close(well->objective_m, 11500 * 0.3048, 1e-15);
    assert_close(well->min_pipe_od_m, 0.1778, 1e-15);
    assert_int_equal(well->pore.count, 5);
    assert_int_equal(well->fracture.count, 5);
    assert_close(well->pore.points[4].tvd_m, 11500 * 0.3048, 1e-15);
    assert_close(well->pore.points[4].emw_kgm3, 12.6 * 0.45359237 / 3.785411784e-3, 1e-15);
    assert_int_equal(well->pore.points[4].line, 13);
    assert_true(isnan(well->pore.points[4].sd_kgm3));
    assert_int_equal(well->collapse.count + well->overburden.count, 0);
    assert_int_equal(well->interval_count, 1);
    assert_string_equal(well->intervals[0].kind, "lost-circulation");
    assert_close(well->intervals[0].within_m, 300 * 0.3048, 1e-15);
    assert_int_equal(well->intervals[0].action, DT_CASE_OFF);
    assert_int_equal(well->intervals[0].permeable, DT_PERMEABLE_YES);
    assert_close(well->margins.kick.emw_kgm3, 0.5 * 119.82642731689663, 1e-14);
    assert_within(well->margins.kick.pressure_pa, 0.0, 0.0);
    assert_int_equal(well->margins.kick_rule, DT_KICK_FIXED);
    assert_true(well->sticking.given);
    assert_close(well->sticking.normal_limit_pa, 2300 * 4.4482216152605 / (0.0254 * 0.0254), 1e-14);
    assert_close(well->seats.lap_m, 300 * 0.3048, 1e-15);
    assert_true(well->seats.liners);
    assert_within(well->design.tension, 1.6, 0.0);
    assert_close(well->design.overpull_n, 100e3 * 4.4482216152605, 1e-14);
    assert_int_equal(well->conductor.method, DT_CONDUCTOR_DRILLED);
    assert_close(well->conductor.depth_m, 180 * 0.3048, 1e-15);
    assert_true(isnan(well->conductor.soil_gradient_kgm3));
    assert_int_equal(well->pay_count, 1);
    assert_int_equal(well->station_count + well->slurry_count + well->pin_count, 0);
    assert_false(well->prices_given);
    dt_well_free(well);
}

static void the_starters_are_read_without_a_warning(void **state)
{
    (void)state;
    for (int metric = 0; metric < 2; ++metric) {
        const char *text = dt_well_starter(metric);
        assert_non_null(strstr(text, "INVENTED"));
        dt_well *well = parse_good(text, 0);
        assert_int_equal(well->station_count > 0, metric);
        dt_well_free(well);
    }
}

static void every_load_is_read(const dt_well *well)
{
    const dt_load_wishes *w = &well->loads;
    assert_int_equal(well->design.collapse_method, DT_CHOOSE_COMBINED);
    assert_true(well->design.sour);
    assert_within(well->design.max_sections, 4, 0);
    assert_within(well->design.min_section_m + well->design.crossover_m, 162, 1e-12);
    assert_within(well->design.gauge_m, 30, 1e-12);
    assert_true(w->given && w->kick == DT_KICK_INFLUX && w->running == DT_RUNNING_SHOCK);
    assert_true(w->evacuation == DT_EVACUATION_LOST_RETURNS &&
                w->burst_outside == DT_OUTSIDE_MIX_WATER);
    assert_within(w->influx_m3, 4, 1e-12);
    assert_within(w->drill_pipe_m, 0.127, 1e-12);
    assert_within(w->packer_fluid_kgm3, 1050, 1e-9);
    assert_within(w->stimulation_pa + w->bump_margin_pa + w->green_test_pa, 435e5, 1e-3);
    assert_within(w->stimulation_fluid_kgm3, 1020, 1e-9);
    assert_within(w->cement_kgm3 + w->displacement_kgm3, 3000, 1e-9);
    assert_within(w->unfilled_m, 300, 0);
    assert_int_equal(w->test_count, 2);
    assert_true(isnan(w->tests[0].fluid_kgm3) && w->tests[0].role == DT_SURFACE);
    assert_within(w->tests[1].pressure_pa, 350e5, 1e-3);
    assert_within(w->tests[1].fluid_kgm3, 1030, 1e-9);
    const dt_hangers *hangers = &well->hangers;
    assert_int_equal(hangers->count, 2);
    assert_within(hangers->factor, 1.2, 0);
    assert_within(hangers->items[0].liner_m, 9.625 * 0.0254, 1e-12);
    assert_within(hangers->items[0].casing_m, 13.375 * 0.0254, 1e-12);
    assert_within(hangers->items[0].lightest_kgm, 54.5 * 0.45359237 / 0.3048, 1e-9);
    assert_within(hangers->items[0].heaviest_kgm, 72 * 0.45359237 / 0.3048, 1e-9);
    assert_within(hangers->items[0].capacity_n, 1.5e6, 1e-6);
    assert_within(hangers->items[0].bore_m + hangers->items[0].receptacle_bore_m, 18.5 * 0.0254,
                  1e-12);
    assert_true(isnan(hangers->items[1].lightest_kgm) && isnan(hangers->items[1].heaviest_kgm));
    assert_true(isnan(hangers->items[1].receptacle_bore_m));
    assert_true(well->liner_test.given && well->liner_test.rule == DT_LINER_TEST_FRACTURE);
    assert_true(isnan(well->liner_test.pressure_pa));
    assert_within(well->liner_test.above_pa, 35e5, 1e-6);
    assert_within(well->liner_test.fluid_kgm3, 1020, 1e-9);
    assert_int_equal(well->thermal.count, 2);
    assert_within(well->thermal.points[0].celsius, 10, 1e-12);
    assert_within(well->thermal.points[1].celsius, 100, 1e-12);
    assert_within(well->thermal.heating_k, 50, 1e-12);
    assert_int_equal(well->thermal.derating_count, 2);
    assert_within(well->thermal.deratings[1].fraction, 0.93, 1e-12);
    assert_within(well->wellhead.evacuation + well->wellhead.end_factor, 1.4, 1e-12);
    assert_within(well->wellhead.bop_n + well->wellhead.head_n, 320e3, 1e-6);
    assert_within(well->wellhead.free_length_m, 10, 0);
    assert_true(well->wellhead.mudline && !well->wellhead.hung_buckles);
    assert_within(well->pins[1].wear_m, 0.00127, 1e-12);
    assert_true(isnan(well->pins[0].wear_m));
}

/* Every optional part at once, sizes and pins included; see full_well.h. */
static void every_optional_part_is_read(void **state)
{
    (void)state;
    dt_well *well = parse_good(FULL_WELL, 0);
    assert_string_equal(well->name, "Full & \"quoted\" <script> (invented)");
    assert_string_equal(well->note, "Invented. Two\nlines.");
    assert_string_equal(well->document.revision, "C <draft>");
    assert_string_equal(well->document.author, "A. N. Other");
    assert_string_equal(well->document.date, "2 March");
    assert_true(well->over_sea);
    assert_close(dt_well_ground_m(well), 25.0 + 90.0, 1e-15);
    assert_int_equal(well->station_count, 3);
    assert_close(well->stations[1].inclination_rad, 10 * acos(-1) / 180, 1e-15);
    assert_int_equal(well->pore.distribution, DT_NORMAL);
    assert_close(well->pore.points[0].sd_kgm3, 20.0, 1e-15);
    assert_close(well->pore.correlation_length_m, 500.0, 1e-15);
    assert_int_equal(well->fracture.between, DT_BETWEEN_PRESSURE);
    assert_close(well->fracture.points[0].emw_kgm3, 16.0e5 / (9.80665 * 115), 1e-14);
    assert_close(well->fracture.points[1].low_kgm3, 500e5 / (9.80665 * 3000), 1e-14);
    assert_close(well->fracture.points[1].high_kgm3, 530e5 / (9.80665 * 3000), 1e-14);
    assert_int_equal(well->fracture.distribution, DT_TRIANGULAR);
    assert_int_equal(well->collapse.count, 2);
    assert_int_equal(well->overburden.count, 2);
    assert_within(well->fresh_water_cover_m, 0.0, 0.0);
    assert_int_equal(well->interval_count, 3);
    assert_int_equal(well->intervals[1].action, DT_CASE_ABOVE);
    assert_int_equal(well->intervals[2].action, DT_AVOID_SHOE);
    assert_within(well->intervals[2].within_m, 0.0, 0.0);
    assert_int_equal(well->intervals[2].permeable, DT_PERMEABLE_NO);
    assert_int_equal(well->margins.kick_rule, DT_KICK_DEPTH_RATIO);
    assert_close(well->margins.trip.pressure_pa, 10e5, 1e-15);
    assert_within(well->margins.trip.emw_kgm3, 0.0, 0.0);
    assert_within(well->margins.surge.emw_kgm3, 0.0, 0.0);
    assert_int_equal(well->sticking.mud, DT_STICKING_PORE_ONLY);
    assert_int_equal(well->sticking.rock, DT_STICKING_LISTED_ROCK);
    assert_int_equal(well->seats.prefer, DT_PREFER_DEEPEST);
    assert_false(well->seats.liners);
    assert_true(isnan(well->design.burst));
    assert_true(well->design.given);
    every_load_is_read(well);
    assert_true(well->sizes.special_drift);
    assert_true(well->sizes.opened_hole);
    assert_int_equal(well->sizes.clearance_count, 2);
    assert_close(well->sizes.clearances[1].radial_m, 0.0254, 1e-15);
    assert_int_equal(well->conductor.method, DT_CONDUCTOR_JETTED);
    assert_true(isnan(well->conductor.depth_m));
    assert_close(well->conductor.flowline_m, 20.0, 1e-15);
    assert_close(well->slurries[0].yield_m3kg, 1.15 * pow(0.3048, 3) / (94 * 0.45359237), 1e-14);
    assert_close(well->slurries[0].water_m3kg, 5.0 * 3.785411784e-3 / (94 * 0.45359237), 1e-14);
    assert_int_equal(well->pin_count, 4);
    assert_int_equal(well->pins[1].type, DT_FULL);
    assert_int_equal(well->pins[2].type, DT_LINER);
    assert_int_equal(well->pins[3].type, DT_TYPE_UNSAID);
    assert_string_equal(well->pins[1].grade, "J55");
    assert_null(well->pins[3].grade);
    assert_close(well->pins[1].weight_kgm, 68 * 0.45359237 / 0.3048, 1e-14);
    assert_int_equal(well->pins[1].cement_count, 2);
    assert_close(well->pins[1].cement[0].excess, 0.35, 1e-15);
    assert_int_equal(well->pins[1].cement[0].excess_on, DT_EXCESS_ANNULUS);
    assert_true(isnan(well->pins[1].cement[1].top_m));
    assert_true(well->prices_given);
    assert_string_equal(well->prices.currency, "CU");
    assert_within(well->prices.rig_per_day + well->prices.services_per_day, 57000, 0);
    assert_int_equal(well->prices.pipe_count, 2);
    assert_string_equal(well->prices.pipes[0].grade, "J55");
    assert_null(well->prices.pipes[1].grade);
    assert_close(well->prices.pipes[1].per_kg, 2.3, 1e-14);
    assert_within(well->prices.threads[0].per_joint, 95, 0);
    assert_within(well->prices.hanger + well->prices.packer, 125000, 0);
    assert_within(well->prices.bits[0].each, 14000, 0);
    assert_true(isnan(well->prices.bits[1].up_to_m));
    assert_close(well->times.trip_m_per_hour, 304.8, 1e-14);
    assert_close(well->times.reserve, 0.1, 1e-14);
    assert_close(well->times.drilling[1].per_hour, 15.24, 1e-14);
    assert_within(well->times.running[0].per_hour, 20, 0);
    assert_int_equal(well->wishes.max_strings, 6);
    assert_close(well->wishes.rig_hookload_n, 900e3 * 4.4482216152605, 1e-14);
    assert_close(well->wishes.forbidden[0].od_m, 11.75 * 0.0254, 1e-14);
    dt_well_free(well);
}

static void field_and_metric_read_alike(void **state)
{
    (void)state;
    char *metric =
        replace(FULL_WELL, "water_depth=\"90 m\"", "water_depth=\"295.2755905511811 ft\"");
    dt_well *a = parse_good(FULL_WELL, 0), *b = parse_good(metric, 0);
    assert_close(a->water_depth_m, b->water_depth_m, 1e-15);
    dt_well_free(a);
    dt_well_free(b);
    free(metric);
}

/* Each unit as somebody writes it, in a file that says the same otherwise. */
static void units_are_read_as_people_write_them(void **state)
{
    (void)state;
    static const char *const spelt[][2] = {{"depth=\"11500 ft\"", "depth=\"11500 Feet\""},
                                           {"min_pipe_od=\"7 in\"", "min_pipe_od='7\"'"},
                                           {"<pore_pressure depth_unit=\"ft\" unit=\"ppg\">",
                                            "<pore_pressure depth_unit=\"FT.\" unit=\"lb/gal\">"},
                                           {"<fracture_gradient depth_unit=\"ft\" unit=\"ppg\">",
                                            "<fracture_gradient depth_unit=\"foot\" unit=\"PPG\">"},
                                           {"trip=\"0.5 ppg\"", "trip=\"0.5 Lbm/gal\""},
                                           {"2300 psi", "2300 PSI"}};
    size_t size = 0;
    char *text = read_file(DT_WELLS "/alder-reach.xml", &size);
    dt_well *plain = parse_good(text, 0);
    for (size_t i = 0; i < sizeof spelt / sizeof *spelt; ++i) {
        char *next = replace(text, spelt[i][0], spelt[i][1]);
        free(text);
        text = next;
    }
    dt_well *well = parse_good(text, 0);
    assert_within(well->objective_m, plain->objective_m, 0);
    assert_within(well->min_pipe_od_m, plain->min_pipe_od_m, 0);
    for (size_t i = 0; i < plain->pore.count; ++i) {
        assert_within(well->pore.points[i].tvd_m, plain->pore.points[i].tvd_m, 0);
        assert_within(well->pore.points[i].emw_kgm3, plain->pore.points[i].emw_kgm3, 0);
        assert_within(well->fracture.points[i].tvd_m, plain->fracture.points[i].tvd_m, 0);
        assert_within(well->fracture.points[i].emw_kgm3, plain->fracture.points[i].emw_kgm3, 0);
    }
    assert_within(well->margins.trip.emw_kgm3, plain->margins.trip.emw_kgm3, 0);
    assert_within(well->sticking.normal_limit_pa, plain->sticking.normal_limit_pa, 0);
    dt_well_free(well);
    dt_well_free(plain);
    free(text);
}

/* 250 degF is 121.1 degC, however the unit is written. */
static void degrees_are_read_as_people_write_them(void **state)
{
    (void)state;
    static const char *const units[] = {"degF",
                                        "F",
                                        "\xC2\xB0"
                                        "F",
                                        "degC",
                                        "C",
                                        "\xC2\xB0"
                                        "C"};
    size_t size = 0;
    char *text = read_file(DT_WELLS "/alder-reach.xml", &size);
    for (size_t i = 0; i < sizeof units / sizeof *units; ++i) {
        char table[300];
        snprintf(
            table, sizeof table,
            "<temperature depth_unit=\"ft\" unit=\"%s\"><point depth=\"0\" temperature=\"70\"/>"
            "<point depth=\"11500\" temperature=\"250\"/></temperature></well>",
            units[i]);
        char *other = replace(text, "</well>", table);
        dt_well *well = parse_good(other, 1); /* nothing is derated by it */
        assert_close(well->thermal.points[1].celsius, i < 3 ? (250 - 32) / 1.8 : 250, 1e-12);
        dt_well_free(well);
        free(other);
    }
    free(text);
}

static void the_file_chooses_its_units(void **state)
{
    (void)state;
    static const struct {
        const char *root;
        dt_display want;
    } rows[] = {{"<well units=\"mixed\" ", DT_DISPLAY_MIXED},
                {"<well units=\"metric\" ", DT_DISPLAY_METRIC},
                {"<well units=\"field\" ", DT_DISPLAY_FIELD},
                {"<well ", DT_DISPLAY_FIELD}};
    size_t size = 0;
    char *text = read_file(DT_WELLS "/alder-reach.xml", &size);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        char *other = replace(text, "<well ", rows[i].root);
        dt_well *well = parse_good(other, 0);
        assert_int_equal(dt_well_display(well), rows[i].want);
        dt_well_free(well);
        free(other);
    }
    free(text);
    assert_changed("<well ", "<well units=\"imperial\" ", "307@2");
}

static void children_may_stand_in_any_order(void **state)
{
    (void)state;
    size_t size = 0;
    char *text = read_file(DT_WELLS "/alder-reach.xml", &size);
    char *without = replace(text, "<datum rig_floor=\"30 ft\" over=\"ground\"/>", "");
    char *last = replace(without, "</well>", "<datum rig_floor=\"30 ft\" over=\"ground\"/></well>");
    dt_well *well = parse_good(last, 0);
    assert_close(well->rig_floor_m, 30 * 0.3048, 1e-15);
    dt_well_free(well);
    free(last);
    free(without);
    free(text);
}

static void interval_kinds_all_pass_without_a_warning(void **state)
{
    (void)state;
    size_t count = 0;
    for (const char *const *kind = dt_interval_kinds(); *kind; ++kind, ++count) {
        char attribute[60];
        snprintf(attribute, sizeof attribute, "kind=\"%s\"", *kind);
        assert_changed("kind=\"coal\"", attribute, "");
    }
    assert_true(count >= 13);
}

static void enums_have_words(void **state)
{
    (void)state;
    assert_string_equal(dt_role_text(DT_CONDUCTOR), "conductor");
    assert_string_equal(dt_role_text(DT_PRODUCTION), "production");
    assert_string_equal(dt_role_text((dt_role)9), "unknown");
    assert_string_equal(dt_string_type_text(DT_TIEBACK), "tieback");
    assert_string_equal(dt_string_type_text(DT_TYPE_UNSAID), "unsaid");
    dt_well_free(NULL);
}

/* ---- bad files ---- */

static void all_problems_come_in_one_run(void **state)
{
    (void)state;
    const char *text = "<well xmlns=\"urn:drawtube:well:1\" name=\"x\">\n"        /* 1 */
                       "<datum rig_floor=\"30\" over=\"ground\" sky=\"blue\"/>\n" /* 2 */
                       "<frob/>\n"                                                /* 3 */
                       "<objective depth=\"9000 ft\"/>\n"                         /* 4 */
                       "<pore_pressure depth_unit=\"ft\" unit=\"ppg\">\n"
                       "<point depth=\"0\" value=\"9\"/><point depth=\"8000\" value=\"9\"/>\n"
                       "</pore_pressure>\n"
                       "<frob/>\n" /* 8 */
                       "<interval name=\"a\" kind=\"gas\" top=\"5000 ft\" base=\"4000 ft\" "
                       "action=\"skip\"/>\n"                               /* 9 */
                       "<margins trip=\"1 ppq\"/>\n"                       /* 10 */
                       "<conductor method=\"drilled\" depth=\"-1 ft\"/>\n" /* 11 */
                       "</well>\n";
    assert_found(text, "303@1 305@2 214@2 302@3 306@4 403@5 302@8 307@9 410@9 213@10 215@11");
}

/* A value that was refused must not bring a second finding by being absent. */
static void refused_values_bring_no_echo(void **state)
{
    (void)state;
    assert_changed("soil_gradient=\"1.15 sg\"", "soil_gradient=\"1.15\"", "214@41");
    assert_changed("<point depth=\"3000\" value=\"2.1\"/>", "<point depth=\"3000\" value=\"x\"/>",
                   "217@26");
    assert_changed("<slurry name=\"neat\"", "<slurry name=\"\"", "219@42");
    assert_changed("over=\"sea\"", "over=\"lake\"", "307@5");
    assert_changed("water_depth=\"90 m\"", "water_depth=\"90\"", "214@5");
    assert_changed("md=\"1000 m\"", "md=\"1000\"", "214@9");
    assert_changed("<point depth=\"3000\" value=\"1.3\" sd=\"0.03\"/>", "<poin/>", "302@14");
    assert_changed("<point depth=\"100\" value=\"1.04\" sd=\"0.02\"/>", "<poin/>", "302@13");
}

/* Between two points that agree, two ways of joining them do not: pressure-linear against
 * gradient-linear tables are compared at the points of both. */
static void crossings_are_found_on_both_sides_of_a_step(void **state)
{
    (void)state;
    const char *const form =
        "<well xmlns=\"urn:drawtube:well:1\" name=\"x\"><datum rig_floor=\"9 m\" over=\"ground\"/>"
        "<objective depth=\"3000 m\" min_pipe_od=\"7 in\"/><margins/>"
        "<conductor method=\"driven\" depth=\"50 m\"/>"
        "<pore_pressure depth_unit=\"m\" unit=\"sg\"><point depth=\"0\" value=\"1\"/>\n"
        "<point depth=\"1000\" value=\"1.2\"/><point depth=\"1000\" value=\"%s\"/>\n"
        "<point depth=\"3000\" value=\"1.2\"/></pore_pressure>"
        "<fracture_gradient depth_unit=\"m\" unit=\"sg\"><point depth=\"0\" value=\"1.5\"/>"
        "<point depth=\"3000\" value=\"1.5\"/></fracture_gradient></well>";
    const char *const values[][2] = {{"1.49", ""}, {"1.5", "405@2"}, {"1.6", "405@2"}};
    for (size_t i = 0; i < sizeof values / sizeof *values; ++i) {
        char text[2000];
        snprintf(text, sizeof text, form, values[i][0]);
        assert_found(text, values[i][1]);
    }
}

static void crossings_at_the_surface_are_found(void **state)
{
    (void)state;
    size_t size = 0;
    char *text = read_file(DT_WELLS "/alder-reach.xml", &size);
    char *crossed =
        replace(text, "<point depth=\"0\" value=\"8.6\"/>", "<point depth=\"0\" value=\"11.6\"/>");
    assert_found(crossed, "405@9");
    free(crossed);
    free(text);
}

/* At the mudline no rock lies on any: there the fracture gradient is the sea. From there down it is
 * more. */
static void they_may_meet_at_the_mudline(void **state)
{
    (void)state;
    const char *const form =
        "<well xmlns=\"urn:drawtube:well:1\" name=\"x\"><datum rig_floor=\"25 m\" over=\"sea\" "
        "water_depth=\"100 m\"/>"
        "<objective depth=\"3000 m\" min_pipe_od=\"7 in\"/><margins/>"
        "<conductor method=\"driven\" depth=\"180 m\"/>"
        "<pore_pressure depth_unit=\"m\" unit=\"sg\">"
        "<point depth=\"125\" value=\"%s\"/>\n<point depth=\"%s\" value=\"1.03\"/>"
        "<point depth=\"3000\" value=\"1.2\"/></pore_pressure>"
        "<fracture_gradient depth_unit=\"m\" unit=\"sg\"><point depth=\"125\" value=\"1.03\"/>"
        "<point depth=\"%s\" value=\"1.03\"/><point depth=\"3000\" value=\"1.7\"/>"
        "</fracture_gradient></well>";
    static const char *const rows[][4] = {{"1.03", "900", "125.5", "405@1"},
                                          {"1.03", "900", "125.0", ""},
                                          {"1.04", "900", "125", "405@1"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        char text[2000];
        snprintf(text, sizeof text, form, rows[i][0], rows[i][1], rows[i][2]);
        assert_found(text, rows[i][3]);
    }
}

static void editors_schema_hints_are_dropped(void **state)
{
    (void)state;
    assert_changed("<well ",
                   "<well xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" "
                   "xsi:schemaLocation=\"urn:drawtube:well:1 well.xsd\" ",
                   "");
}

static void foreign_elements_live_nowhere(void **state)
{
    (void)state;
    assert_changed("<margins ", "<datum xmlns=\"urn:other\"/><margins ", "302@33");
}

/* ---- one bad file for each message ---- */

/* The catalogue's own tests provoke these. */
#define CATALOGUE_MESSAGES 500

typedef struct number_row {
    int number;
    int seen;
} number_row;

static number_row NUMBERS[] = {
#define DT_MESSAGE(number, name, severity, text, fix) {number, 0},
#include "messages.def"
#undef DT_MESSAGE
};

static void mark_seen(const char *found)
{
    for (const char *at = found; at && *at; at = strchr(at, ' ') ? strchr(at, ' ') + 1 : NULL)
        for (size_t i = 0; i < sizeof NUMBERS / sizeof *NUMBERS; ++i)
            if (NUMBERS[i].number == atoi(at)) NUMBERS[i].seen = 1;
}

/** One line of expected.txt: "file numbers... [padded]". */
static void check_refused(char *line)
{
    char path[4096], found[400];
    char *want = strchr(line, ' ');
    assert_non_null(want);
    *want++ = '\0';
    char *padded = strstr(want, " padded");
    if (padded) *padded = '\0';
    snprintf(path, sizeof path, "%s/refused/%s", DT_TESTS, line);

    size_t size = 0;
    char *text = read_file(path, &size);
    if (padded) {
        memset(text + size, ' ', DT_WELL_MAX_BYTES + 1 - size);
        size = DT_WELL_MAX_BYTES + 1;
    }
    parse_any(text, size, found, sizeof found);
    if (strcmp(found, want) != 0) fail_msg("%s: found %s, want %s", line, found, want);
    mark_seen(found);
    free(text);
}

static size_t count_refused_files(void)
{
    size_t count = 0;
    DIR *folder = opendir(DT_TESTS "/refused");
    assert_non_null(folder);
    for (struct dirent *entry = readdir(folder); entry; entry = readdir(folder))
        if (strstr(entry->d_name, ".xml")) ++count;
    closedir(folder);
    return count;
}

static void every_message_has_a_bad_file(void **state)
{
    (void)state;
    char line[400];
    size_t listed = 0;
    FILE *list = fopen(DT_TESTS "/refused/expected.txt", "r");
    assert_non_null(list);
    while (fgets(line, sizeof line, list)) {
        line[strcspn(line, "\n")] = '\0';
        if (line[0] == '#' || line[0] == '\0') continue;
        check_refused(line);
        ++listed;
    }
    fclose(list);
    assert_int_equal(listed, count_refused_files()); /* no file without its expectation */
    for (size_t i = 0; i < sizeof NUMBERS / sizeof *NUMBERS; ++i)
        if (NUMBERS[i].number < CATALOGUE_MESSAGES && !NUMBERS[i].seen)
            fail_msg("no file of tests/refused brings DT-%d", NUMBERS[i].number);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_shipped_well_is_read),
        cmocka_unit_test(the_starters_are_read_without_a_warning),
        cmocka_unit_test(every_optional_part_is_read),
        cmocka_unit_test(field_and_metric_read_alike),
        cmocka_unit_test(units_are_read_as_people_write_them),
        cmocka_unit_test(degrees_are_read_as_people_write_them),
        cmocka_unit_test(the_file_chooses_its_units),
        cmocka_unit_test(children_may_stand_in_any_order),
        cmocka_unit_test(interval_kinds_all_pass_without_a_warning),
        cmocka_unit_test(enums_have_words),
        cmocka_unit_test(all_problems_come_in_one_run),
        cmocka_unit_test(refused_values_bring_no_echo),
        cmocka_unit_test(crossings_are_found_on_both_sides_of_a_step),
        cmocka_unit_test(crossings_at_the_surface_are_found),
        cmocka_unit_test(they_may_meet_at_the_mudline),
        cmocka_unit_test(editors_schema_hints_are_dropped),
        cmocka_unit_test(foreign_elements_live_nowhere),
        cmocka_unit_test(every_message_has_a_bad_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
