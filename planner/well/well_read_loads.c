/* SPDX-License-Identifier: MIT */
/* The elements that say how strings are loaded: loads, temperature, derating, wellhead. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "well_elements.h"
#include "well_limits.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* Reasons are facts of the trade from memory. */
static const dt_limit VOLUME = {0, 200, false, "influxes are a few tens of barrels"};
static const dt_limit PIPE = {DT_M_PER_IN, 20 * DT_M_PER_IN, false, "drill pipe is 2 to 7 in"};
static const dt_limit LENGTH = {0, 15000, false, "the deepest holes are little over 12 km"};
static const dt_limit CELSIUS = {-60, 400, false, "rock of oil wells is below 300 degC"};
static const dt_limit HEATING = {0, 400, false, "rock of oil wells is below 300 degC"};
static const dt_limit STRENGTH = {0.1, 1.2, false, "a part of the yield strength, about 0.8 to 1"};
static const dt_limit SHARE = {0, 1, false, "a part of the hole is at most all of it"};
static const dt_limit PREVENTERS = {0, 20e6, true, "no BOP weighs so much"};
static const dt_limit FORCE = {0, 20e6, false, "no wellhead weighs so much"};
static const dt_limit END_FACTOR = {0.5, 2.5, false, "K is 0.5 (fixed ends) to 2 (free top)"};

static const char *const roles[] = {"conductor", "surface", "intermediate", "production"};

static void read_tests(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"pressure", DT_KIND_PRESSURE, &PRESSURE, offsetof(dt_pressure_test, pressure_pa)},
        {"fluid", DT_KIND_DENSITY, &FLUID, offsetof(dt_pressure_test, fluid_kgm3)},
    };
    dt_load_wishes *loads = &r->well->loads;
    loads->tests = dt_list_for(r, node, "test", sizeof *loads->tests, &loads->test_count);
    xmlNodePtr at = dt_child_named(node, "test");
    for (size_t i = 0; i < loads->test_count; ++i, at = dt_next_named(at, "test")) {
        dt_pressure_test *test = &loads->tests[i];
        dt_read_fields(r, at, fields, COUNT(fields), test);
        test->role = (dt_role)dt_read_word(r, at, "role", roles, DT_ROLE_COUNT, DT_PRODUCTION);
        test->line = dt_line_of(at);
    }
}

void dt_read_loads(dt_reader *r, xmlNodePtr node)
{
    static const char *const kicks[] = {"gas", "fracture", "influx", "by-role"};
    static const char *const evacuations[] = {"full", "lost-returns", "by-role"};
    static const char *const runnings[] = {"overpull", "shock"};
    static const char *const outsides[] = {"water", "mix-water", "mud", "pore", "cemented"};
    static const dt_field fields[] = {
        {"influx", DT_KIND_VOLUME, &VOLUME, offsetof(dt_load_wishes, influx_m3)},
        {"drill_pipe", DT_KIND_DIAMETER, &PIPE, offsetof(dt_load_wishes, drill_pipe_m)},
        {"packer_fluid", DT_KIND_DENSITY, &FLUID, offsetof(dt_load_wishes, packer_fluid_kgm3)},
        {"stimulation", DT_KIND_PRESSURE, &PRESSURE, offsetof(dt_load_wishes, stimulation_pa)},
        {"stimulation_fluid", DT_KIND_DENSITY, &FLUID,
         offsetof(dt_load_wishes, stimulation_fluid_kgm3)},
        {"bump_margin", DT_KIND_PRESSURE, &PRESSURE, offsetof(dt_load_wishes, bump_margin_pa)},
        {"cement", DT_KIND_DENSITY, &FLUID, offsetof(dt_load_wishes, cement_kgm3)},
        {"displacement", DT_KIND_DENSITY, &FLUID, offsetof(dt_load_wishes, displacement_kgm3)},
        {"green_test", DT_KIND_PRESSURE, &PRESSURE, offsetof(dt_load_wishes, green_test_pa)},
        {"unfilled", DT_KIND_LENGTH, &LENGTH, offsetof(dt_load_wishes, unfilled_m)},
    };
    dt_load_wishes *loads = &r->well->loads;
    loads->given = true;
    loads->line = dt_line_of(node);
    loads->kick = (dt_kick_case)dt_read_word(r, node, "kick", kicks, COUNT(kicks),
                                             dt_custom_word(r->well, DT_CUSTOM_LOADS_KICK));
    loads->evacuation =
        (dt_evacuation)dt_read_word(r, node, "evacuation", evacuations, COUNT(evacuations),
                                    dt_custom_word(r->well, DT_CUSTOM_LOADS_EVACUATION));
    loads->running = (dt_running_load)dt_read_word(
        r, node, "running", runnings, 2, dt_custom_word(r->well, DT_CUSTOM_LOADS_RUNNING));
    loads->burst_outside =
        (dt_outside)dt_read_word(r, node, "burst_outside", outsides, 5,
                                 dt_custom_word(r->well, DT_CUSTOM_LOADS_BURST_OUTSIDE));
    dt_read_fields(r, node, fields, COUNT(fields), loads);
    /* none by role is gas to surface, whatever drill pipe is said: what a basis gives is put off */
    if (loads->kick == DT_KICK_BY_ROLE && loads->influx_m3 <= 0)
        loads->influx_m3 = loads->drill_pipe_m = NAN;
    if (!dt_has_attribute(node, "influx") && !dt_has_attribute(node, "drill_pipe"))
        dt_take_influx(r->well);
    read_tests(r, node);
}

/** Whether a table is in degF; degC when absent or (as the schema said) wrong. */
static bool in_fahrenheit(dt_reader *r, xmlNodePtr node)
{
    static const char *const units[] = {"degC",
                                        "C",
                                        "\xC2\xB0"
                                        "C",
                                        "degF",
                                        "F",
                                        "\xC2\xB0"
                                        "F"};
    return dt_read_word(r, node, "unit", units, COUNT(units), 0) >= 3;
}

/** Reads a bare temperature, or a difference of two, and checks it in degrees Celsius. */
static void read_degrees(dt_reader *r, xmlNodePtr node, const char *name, bool fahrenheit,
                         bool difference, double *out)
{
    static const dt_limit any = {-1e4, 1e4, false, "rock of oil wells is below 300 degC"};
    double number = NAN;
    *out = NAN;
    if (!dt_read_number(r, node, name, 1, fahrenheit ? "degF" : "degC", &any, &number)) return;
    if (isnan(number)) return;
    double zero = fahrenheit && !difference ? 32 : 0;
    double celsius = fahrenheit ? (number - zero) / 1.8 : number;
    char *text = dt_attribute(r, node, name);
    if (text &&
        dt_within_limit(r, node, name, text, celsius, difference ? &HEATING : &CELSIUS, 1, "degC"))
        *out = celsius;
    xmlFree(text);
}

void dt_read_temperature(dt_reader *r, xmlNodePtr node)
{
    dt_thermal *thermal = &r->well->thermal;
    bool fahrenheit = in_fahrenheit(r, node);
    thermal->line = dt_line_of(node);
    if (dt_has_attribute(node, "heating"))
        read_degrees(r, node, "heating", fahrenheit, true, &thermal->heating_k);
    char *symbol = dt_attribute(r, node, "depth_unit");
    const dt_unit *unit = symbol ? dt_unit_spelt(DT_KIND_LENGTH, symbol) : NULL;
    if (symbol && !unit) {
        dt_place where = dt_place_of(node, "depth_unit");
        dt_quoted shown = dt_quote(symbol);
        dt_report_add(r->report, DT_MSG_TABLE_UNIT_UNKNOWN, thermal->line, where.text,
                      "unknown unit \"%s\"", shown.text);
        dt_report_fix(r->report, "write one of %s", dt_unit_choices(DT_KIND_LENGTH));
    }
    xmlFree(symbol);
    if (!unit) return;
    size_t count = 0;
    thermal->points = dt_list_for(r, node, "point", sizeof *thermal->points, &count);
    xmlNodePtr at = dt_child_named(node, "point");
    for (size_t i = 0; i < count; ++i, at = dt_next_named(at, "point")) {
        dt_temperature_point point = {
            .line = dt_line_of(at), .producing_c = NAN, .quenched_c = NAN};
        dt_read_number(r, at, "depth", unit->factor, unit->symbol, &LENGTH, &point.tvd_m);
        read_degrees(r, at, "temperature", fahrenheit, false, &point.celsius);
        if (dt_has_attribute(at, "producing"))
            read_degrees(r, at, "producing", fahrenheit, false, &point.producing_c);
        if (dt_has_attribute(at, "quenched"))
            read_degrees(r, at, "quenched", fahrenheit, false, &point.quenched_c);
        if (!isnan(point.tvd_m + point.celsius)) thermal->points[thermal->count++] = point;
    }
}

void dt_read_derating(dt_reader *r, xmlNodePtr node)
{
    dt_thermal *thermal = &r->well->thermal;
    bool fahrenheit = in_fahrenheit(r, node);
    size_t count = 0;
    thermal->derating_line = dt_line_of(node);
    thermal->deratings = dt_list_for(r, node, "point", sizeof *thermal->deratings, &count);
    xmlNodePtr at = dt_child_named(node, "point");
    for (size_t i = 0; i < count; ++i, at = dt_next_named(at, "point")) {
        dt_derating_point point = {.line = dt_line_of(at)};
        read_degrees(r, at, "temperature", fahrenheit, false, &point.celsius);
        dt_read_quantity(r, at, "yield", DT_KIND_FRACTION, &STRENGTH, &point.fraction);
        if (!isnan(point.celsius + point.fraction))
            thermal->deratings[thermal->derating_count++] = point;
    }
}

void dt_read_wellhead(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"evacuation", DT_KIND_FRACTION, &SHARE, offsetof(dt_wellhead_wishes, evacuation)},
        {"bop", DT_KIND_FORCE, &PREVENTERS, offsetof(dt_wellhead_wishes, bop_n)},
        {"head", DT_KIND_FORCE, &FORCE, offsetof(dt_wellhead_wishes, head_n)},
        {"free_length", DT_KIND_LENGTH, &LENGTH, offsetof(dt_wellhead_wishes, free_length_m)},
    };
    dt_wellhead_wishes *wellhead = &r->well->wellhead;
    dt_read_fields(r, node, fields, COUNT(fields), wellhead);
    dt_read_number(r, node, "end_factor", 1, "", &END_FACTOR, &wellhead->end_factor);
    wellhead->given = true;
    wellhead->hung_buckles = dt_read_yes(r, node, "hung_buckles",
                                         dt_custom_word(r->well, DT_CUSTOM_WELLHEAD_HUNG_BUCKLES));
    wellhead->mudline =
        dt_read_yes(r, node, "mudline", dt_custom_word(r->well, DT_CUSTOM_WELLHEAD_MUDLINE));
    wellhead->line = dt_line_of(node);
}

void dt_take_influx(dt_well *well)
{
    const double influx_m3 = dt_custom_value_of(well, DT_CUSTOM_LOADS_INFLUX);
    if (well->loads.kick != DT_KICK_BY_ROLE || !(influx_m3 > 0)) return;
    well->loads.influx_m3 = influx_m3;
    well->loads.drill_pipe_m = dt_custom_value_of(well, DT_CUSTOM_LOADS_DRILL_PIPE);
}

void dt_loads_absent(dt_well *well)
{
    dt_load_wishes *loads = &well->loads;
    loads->influx_m3 = loads->drill_pipe_m = loads->packer_fluid_kgm3 = NAN;
    loads->stimulation_pa = loads->stimulation_fluid_kgm3 = loads->bump_margin_pa = NAN;
    loads->cement_kgm3 = loads->displacement_kgm3 = loads->green_test_pa = NAN;
    loads->unfilled_m = NAN;
    well->thermal.heating_k = NAN;
    well->wellhead.evacuation = well->wellhead.bop_n = well->wellhead.head_n = NAN;
    well->wellhead.free_length_m = well->wellhead.end_factor = NAN;
    well->design.max_sections = well->design.min_section_m = well->design.crossover_m = NAN;
    well->design.gauge_m = NAN;
}
