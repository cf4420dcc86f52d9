/* SPDX-License-Identifier: MIT */
/* From the tree to the model: fracture methods, leak-off tests, kick tolerance and the spreads
 * of depths. Part of the well stage, beside well_read.c. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "kick_assembly.h"
#include "pressure.h"
#include "well_elements.h"
#include "well_limits.h"

/* Reasons are facts of the trade from memory. */
static const dt_limit DEPTH_SPREAD = {0, 5000, false, "a spread is smaller than its depth"};
static const dt_limit INFLUX = {0, 1500, false, "an influx is gas, oil or water"};
static const dt_limit LEAK_OFF = {0, 200e6, false, "leak-off tests stay below 30,000 psi"};
static const dt_limit VOLUME = {0, 1000, true, "an influx is a few to a few hundred barrels"};
static const dt_limit COLLARS = {0, 2000, false, "collars are a few hundred feet long"};
static const dt_limit RATIO = {0, 1, false, "the ratio is a part of one"};
static const dt_limit GRAVITY = {0.5, 1.5, false, "natural gas is 0.55 to about 1 of air"};

#define COUNT(array) (sizeof(array) / sizeof *(array))

void dt_read_depth_spread(dt_reader *r, const xmlNode *node, dt_depth_spread *spread)
{
    static const char *const words[] = {"normal", "triangular", "uniform"};
    static const dt_field fields[] = {
        {"sd", DT_KIND_LENGTH, &DEPTH_SPREAD, offsetof(dt_depth_spread, sd_m)},
        {"low", DT_KIND_LENGTH, &DEPTH, offsetof(dt_depth_spread, low_m)},
        {"high", DT_KIND_LENGTH, &DEPTH, offsetof(dt_depth_spread, high_m)},
    };
    dt_read_fields(r, node, fields, COUNT(fields), spread);
    bool range = dt_has_attribute(node, "low") || dt_has_attribute(node, "high");
    spread->distribution = (dt_distribution)dt_read_word(r, node, "distribution", words, 3,
                                                         range ? DT_TRIANGULAR : DT_NORMAL);
}

/* ---- fracture by a method ---- */

static dt_fracture_method method_of(dt_reader *r, const xmlNode *node)
{
    const char *words[DT_FRACTURE_METHOD_COUNT];
    for (int i = 0; i < DT_FRACTURE_METHOD_COUNT; ++i)
        words[i] = dt_fracture_method_text((dt_fracture_method)i);
    return (dt_fracture_method)dt_read_word(r, node, "method", words, DT_FRACTURE_METHOD_COUNT,
                                            DT_FRACTURE_POINTS);
}

static void report_mixed(dt_reader *r, const xmlNode *node, const char *what)
{
    dt_report_add(r->report, DT_MSG_FRACTURE_METHOD_MIXED, dt_line_of(node), "fracture_gradient",
                  "%s", what);
}

/** What stands beside points although only a method uses it, and the other way round. */
static void check_mixture(dt_reader *r, const xmlNode *node, dt_fracture_method method)
{
    static const char *const of_method[] = {"ratio", "ratio_from", "sd"};
    bool points = dt_child_named(node, "point") != NULL;
    if (method != DT_FRACTURE_POINTS) {
        if (points) report_mixed(r, node, "a method and points stand in one table");
        if (dt_has_attribute(node, "depth_unit") || dt_has_attribute(node, "unit") ||
            dt_has_attribute(node, "between") || dt_has_attribute(node, "distribution"))
            report_mixed(r, node, "a method takes no depth_unit, unit, between or distribution");
        return;
    }
    if (!points) {
        dt_report_add(r->report, DT_MSG_ELEMENT_MISSING, dt_line_of(node), "fracture_gradient",
                      "holds no <point>");
        dt_report_fix(r->report, "add points, or name the method the gradient is made by");
    }
    for (size_t i = 0; i < COUNT(of_method); ++i)
        if (dt_has_attribute(node, of_method[i]))
            report_mixed(r, node, "ratio, ratio_from and sd belong to a method");
    if (dt_child_named(node, "ratio")) report_mixed(r, node, "<ratio> belongs to a method");
}

static void read_ratios(dt_reader *r, const xmlNode *node, dt_fracture_source *from)
{
    from->ratios = dt_list_for(r, node, "ratio", sizeof *from->ratios, &from->ratio_count);
    xmlNodePtr at = dt_child_named(node, "ratio");
    for (size_t i = 0; i < from->ratio_count; ++i, at = dt_next_named(at, "ratio")) {
        dt_stress_ratio *row = &from->ratios[i];
        row->line = dt_line_of(at);
        dt_read_quantity(r, at, "depth", DT_KIND_LENGTH, &DEPTH, &row->tvd_m);
        dt_read_number(r, at, "value", 1, "", &RATIO, &row->ratio);
        if (i > 0 && row->tvd_m <= from->ratios[i - 1].tvd_m)
            dt_report_add(r->report, DT_MSG_PRESSURE_ROW_ORDER, row->line,
                          "fracture_gradient/ratio/@depth", "depth does not increase");
    }
}

/** Each method wants exactly one source of its ratio; Hubbert and Willis have theirs. */
static void check_ratio_source(dt_reader *r, const xmlNode *node, const dt_fracture_source *from)
{
    int sources = (from->ratio_count > 0) + from->gulf_coast + dt_has_attribute(node, "ratio");
    bool hubbert = from->method == DT_FRACTURE_HUBBERT_WILLIS_LOW ||
                   from->method == DT_FRACTURE_HUBBERT_WILLIS_HIGH;
    const char *name = dt_fracture_method_text(from->method);
    if (hubbert && sources > 0)
        dt_report_add(r->report, DT_MSG_FRACTURE_METHOD_MIXED, from->line, "fracture_gradient",
                      "method=\"%s\" has its own ratio", name);
    if (!hubbert && sources != 1)
        dt_report_add(r->report, DT_MSG_FRACTURE_METHOD_INPUT, from->line, "fracture_gradient",
                      "method=\"%s\" has %s ratio", name, sources ? "more than one" : "no");
    if (from->gulf_coast && from->method != DT_FRACTURE_EATON)
        dt_report_add(r->report, DT_MSG_FRACTURE_METHOD_MIXED, from->line, "fracture_gradient",
                      "ratio_from=\"gulf-coast\" is Poisson's ratio, for method=\"eaton\"");
    bool poisson = from->method == DT_FRACTURE_EATON;
    bool large = poisson && from->ratio > 0.5;
    for (size_t i = 0; poisson && i < from->ratio_count; ++i)
        large = large || from->ratios[i].ratio > 0.5;
    if (large)
        dt_report_add(r->report, DT_MSG_FRACTURE_METHOD_INPUT, from->line, "fracture_gradient",
                      "Poisson's ratio is at most 0.5");
}

bool dt_read_fracture_method(dt_reader *r, const xmlNode *node)
{
    static const char *const sources[] = {"gulf-coast"};
    dt_fracture_source *from = &r->well->fracture_from;
    from->method = method_of(r, node);
    from->line = dt_line_of(node);
    check_mixture(r, node, from->method);
    if (from->method == DT_FRACTURE_POINTS) return false;
    dt_read_number(r, node, "ratio", 1, "", &RATIO, &from->ratio);
    dt_read_quantity(r, node, "sd", DT_KIND_DENSITY, &SPREAD, &from->sd_kgm3);
    from->gulf_coast = dt_read_word(r, node, "ratio_from", sources, 1, -1) == 0;
    read_ratios(r, node, from);
    check_ratio_source(r, node, from);
    return true;
}

/* ---- leak-off tests ---- */

static void read_leak_off(dt_reader *r, const xmlNode *node, dt_leak_off *test)
{
    static const dt_field fields[] = {
        {"shoe", DT_KIND_LENGTH, &DEPTH_BELOW, offsetof(dt_leak_off, shoe_m)},
        {"emw", DT_KIND_DENSITY, &DENSITY, offsetof(dt_leak_off, emw_kgm3)},
        {"mud", DT_KIND_DENSITY, &DENSITY, offsetof(dt_leak_off, mud_kgm3)},
        {"pressure", DT_KIND_PRESSURE, &LEAK_OFF, offsetof(dt_leak_off, pressure_pa)},
        {"deduct", DT_KIND_DENSITY, &MARGIN_EMW, offsetof(dt_leak_off, deduct_kgm3)},
    };
    test->line = dt_line_of(node);
    dt_read_fields(r, node, fields, COUNT(fields), test);
    if (!dt_has_attribute(node, "deduct"))
        test->deduct_kgm3 = dt_custom_value_of(r->well, DT_CUSTOM_LEAK_OFF_DEDUCT);
    bool emw = dt_has_attribute(node, "emw"), mud = dt_has_attribute(node, "mud"),
         pressure = dt_has_attribute(node, "pressure");
    if (mud != pressure || emw == mud)
        dt_report_add(r->report, DT_MSG_LEAK_OFF_UNDETERMINED, test->line, "leak_off", "%s",
                      emw ? "emw stands beside mud or pressure"
                          : "neither emw nor both mud and pressure");
    if (!emw) test->emw_kgm3 = dt_leak_off_emw(test->mud_kgm3, test->pressure_pa, test->shoe_m);
}

void dt_read_leak_offs(dt_reader *r, const xmlNode *root)
{
    dt_fracture_source *from = &r->well->fracture_from;
    from->tests = dt_list_for(r, root, "leak_off", sizeof *from->tests, &from->test_count);
    xmlNodePtr at = dt_child_named(root, "leak_off");
    for (size_t i = 0; i < from->test_count; ++i, at = dt_next_named(at, "leak_off")) {
        read_leak_off(r, at, &from->tests[i]);
        if (i > 0 && from->tests[i].shoe_m <= from->tests[i - 1].shoe_m)
            dt_report_add(r->report, DT_MSG_PRESSURE_ROW_ORDER, from->tests[i].line,
                          "leak_off/@shoe", "depth does not increase");
    }
}

void dt_settle_fracture(dt_reader *r)
{
    dt_well *well = r->well;
    dt_fracture_source *from = &well->fracture_from;
    bool points = from->method == DT_FRACTURE_POINTS;
    if (points && from->test_count == 0) return;
    bool whole = r->report->errors == 0 && !r->gaps->pore && !r->gaps->overburden;
    if (!points && well->overburden.count == 0 && !r->gaps->overburden)
        dt_report_add(r->report, DT_MSG_FRACTURE_METHOD_INPUT, from->line, "fracture_gradient",
                      "method=\"%s\" needs <overburden>", dt_fracture_method_text(from->method));
    dt_status status = DT_E_DOMAIN;
    if (whole && r->report->errors == 0) {
        status = dt_fracture_settle(well);
        if (status == DT_E_MEMORY) r->out_of_memory = true;
        if (status == DT_E_DOMAIN)
            dt_report_add(r->report, DT_MSG_LEAK_OFF_OUTSIDE,
                          from->test_count ? from->tests[0].line : from->line,
                          from->test_count ? "leak_off" : "fracture_gradient", "%s",
                          from->test_count ? "a test is not above the pore pressure at its shoe"
                                           : "the method gives no gradient here");
    }
    if (status != DT_OK) r->gaps->fracture = true;
}

/* ---- kick tolerance ---- */

static void read_hole(dt_reader *r, const xmlNode *node, dt_kick_row *row)
{
    static const dt_field fields[] = {
        {"up_to", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_kick_row, up_to_m)},
        {"least", DT_KIND_VOLUME, &VOLUME, offsetof(dt_kick_row, least_m3)},
        {"minimum", DT_KIND_VOLUME, &VOLUME, offsetof(dt_kick_row, minimum_m3)},
        {"drill_pipe", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_kick_row, pipe_od_m)},
        {"collars", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_kick_row, collar_od_m)},
        {"collar_length", DT_KIND_LENGTH, &COLLARS, offsetof(dt_kick_row, collar_m)},
    };
    row->line = dt_line_of(node);
    dt_read_fields(r, node, fields, COUNT(fields), row);
    if (row->pipe_od_m >= row->up_to_m || row->collar_od_m >= row->up_to_m)
        dt_report_add(r->report, DT_MSG_KICK_PIPE_TOO_WIDE, row->line, "kick_tolerance/hole",
                      "drill pipe or collars do not go into the hole");
}

static void read_gas(dt_reader *r, const xmlNode *node, dt_kick_wishes *kick)
{
    static const char *const laws[] = {"boyle", "real"};
    kick->law = (dt_gas_law)dt_read_word(r, node, "gas_law", laws, 2,
                                         dt_custom_word(r->well, DT_CUSTOM_KICK_GAS_LAW));
    dt_read_number(r, node, "gas_gravity", 1, "", &GRAVITY, &kick->gas_gravity);
    bool given = dt_has_attribute(node, "gas_gravity");
    if (kick->law == DT_GAS_REAL && !given)
        dt_report_add(r->report, DT_MSG_KICK_TEMPERATURE, kick->line, "kick_tolerance",
                      "gas_law=\"real\" lacks gas_gravity");
    if (kick->law == DT_GAS_BOYLE && given)
        dt_report_add(r->report, DT_MSG_KICK_TEMPERATURE, kick->line, "kick_tolerance",
                      "gas_law=\"boyle\" does not use gas_gravity");
}

void dt_read_kick(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"intensity", DT_KIND_DENSITY, &MARGIN_EMW, offsetof(dt_kick_wishes, intensity_kgm3)},
        {"influx", DT_KIND_DENSITY, &INFLUX, offsetof(dt_kick_wishes, influx_kgm3)},
        {"margin", DT_KIND_DENSITY, &MARGIN_EMW, offsetof(dt_kick_wishes, margin_kgm3)},
        {"seat_volume", DT_KIND_VOLUME, &VOLUME, offsetof(dt_kick_wishes, seat_volume_m3)},
        {"seat_below", DT_KIND_LENGTH, &DEPTH, offsetof(dt_kick_wishes, seat_below_m)},
        {"seat_hole", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_kick_wishes, seat_hole_m)},
    };
    dt_kick_wishes *kick = &r->well->kick;
    double influx = kick->influx_kgm3;
    kick->given = true;
    kick->line = dt_line_of(node);
    dt_read_fields(r, node, fields, COUNT(fields), kick);
    if (!dt_has_attribute(node, "intensity"))
        kick->intensity_kgm3 = dt_custom_value_of(r->well, DT_CUSTOM_KICK_INTENSITY);
    if (!dt_has_attribute(node, "influx")) kick->influx_kgm3 = influx;
    if (!dt_has_attribute(node, "margin"))
        kick->margin_kgm3 = dt_custom_value_of(r->well, DT_CUSTOM_KICK_MARGIN);
    read_gas(r, node, kick);
    if (dt_has_attribute(node, "seat_volume") != dt_has_attribute(node, "seat_hole"))
        dt_report_add(r->report, DT_MSG_KICK_SEAT_RULE, kick->line, "kick_tolerance",
                      "one of seat_volume and seat_hole is missing");
    kick->rows = dt_list_for(r, node, "hole", sizeof *kick->rows, &kick->row_count);
    xmlNodePtr at = dt_child_named(node, "hole");
    for (size_t i = 0; i < kick->row_count; ++i, at = dt_next_named(at, "hole")) {
        read_hole(r, at, &kick->rows[i]);
        if (i > 0 && kick->rows[i].up_to_m <= kick->rows[i - 1].up_to_m)
            dt_report_add(r->report, DT_MSG_PRESSURE_ROW_ORDER, kick->rows[i].line,
                          "kick_tolerance/hole/@up_to", "up_to does not increase");
    }
    if (dt_has_attribute(node, "seat_below") && !dt_has_attribute(node, "seat_volume"))
        dt_report_add(r->report, DT_MSG_KICK_SEAT_RULE, kick->line, "kick_tolerance",
                      "seat_below has no meaning without seat_volume");
    dt_kick_seat_settle(r->well);
    if (kick->seat_pipe_od_m >= kick->seat_hole_m || kick->seat_collar_od_m >= kick->seat_hole_m)
        dt_report_add(r->report, DT_MSG_KICK_PIPE_TOO_WIDE, kick->line, "kick_tolerance/@seat_hole",
                      "the drill pipe or collars of its row do not go into seat_hole");
}

void dt_pressure_absent(dt_well *well)
{
    well->fracture_from.ratio = well->fracture_from.sd_kgm3 = NAN;
    well->fresh_water_spread = (dt_depth_spread){.sd_m = NAN, .low_m = NAN, .high_m = NAN};
    well->kick.influx_kgm3 = dt_custom_value_of(well, DT_CUSTOM_KICK_INFLUX);
    well->kick.intensity_kgm3 = dt_custom_value_of(well, DT_CUSTOM_KICK_INTENSITY);
    well->kick.margin_kgm3 = dt_custom_value_of(well, DT_CUSTOM_KICK_MARGIN);
    well->kick.gas_gravity = NAN;
    well->kick.seat_volume_m3 = well->kick.seat_hole_m = well->kick.seat_below_m = NAN;
    well->kick.seat_pipe_od_m = well->kick.seat_collar_od_m = well->kick.seat_collar_m = NAN;
}
