/* SPDX-License-Identifier: MIT */
/* Do the elements that say how strings are loaded make sense together? */
#include <math.h>
#include <stdbool.h>

#include "same.h"
#include "units.h"
#include "well_parts.h"

static void missing(dt_report *report, int line, const char *where, const char *what,
                    const char *needs)
{
    dt_report_add(report, DT_MSG_LOAD_DATA_MISSING, line, where, "%s needs %s", what, needs);
    dt_report_fix(report, "add %s, or leave the load case out", needs);
}

static void unused(dt_report *report, int line, const char *where, const char *why)
{
    dt_report_add(report, DT_MSG_LOAD_DATA_UNUSED, line, where, "has no effect: %s", why);
}

static void check_kick(const dt_load_wishes *loads, dt_report *report)
{
    const bool volume = !isnan(loads->influx_m3), pipe = !isnan(loads->drill_pipe_m);
    const bool by_role = loads->kick == DT_KICK_BY_ROLE && (volume || pipe);
    const bool influx = loads->kick == DT_KICK_INFLUX || by_role;
    const char *what = by_role ? "an influx of kick=\"by-role\"" : "kick=\"influx\"";
    if (loads->kick == DT_KICK_INFLUX && volume && !(loads->influx_m3 > 0))
        dt_report_add(report, DT_MSG_QUANTITY_TOO_SMALL, loads->line, "loads/@influx",
                      "with kick=\"influx\" is not more than 0");
    if (influx && !volume) missing(report, loads->line, "loads/@influx", what, "influx=\"...\"");
    if (influx && !pipe)
        missing(report, loads->line, "loads/@drill_pipe", what, "drill_pipe=\"...\"");
    if (!influx && volume) unused(report, loads->line, "loads/@influx", "kick is not \"influx\"");
    if (!influx && pipe) unused(report, loads->line, "loads/@drill_pipe", "kick is not \"influx\"");
}

static void check_loads(const dt_load_wishes *loads, dt_report *report)
{
    /* a basis may ask for an influx, of which only the well knows how large */
    if (loads->given || loads->kick == DT_KICK_INFLUX) check_kick(loads, report);
    if (!loads->given) return;
    if (!isnan(loads->stimulation_pa) && isnan(loads->stimulation_fluid_kgm3))
        missing(report, loads->line, "loads/@stimulation_fluid", "stimulation",
                "stimulation_fluid=\"...\"");
    if (isnan(loads->stimulation_pa) && !isnan(loads->stimulation_fluid_kgm3))
        unused(report, loads->line, "loads/@stimulation_fluid", "there is no stimulation pressure");
    for (size_t i = 0; i < loads->test_count; ++i)
        for (size_t k = 0; k < i; ++k)
            if (loads->tests[i].role == loads->tests[k].role)
                dt_report_add(report, DT_MSG_TEST_REPEATED, loads->tests[i].line,
                              "loads/test/@role", "a second test of the %s string",
                              dt_role_text(loads->tests[i].role));
}

static void check_thermal(const dt_well *well, dt_report *report)
{
    const dt_thermal *t = &well->thermal;
    if (t->derating_count && !t->count)
        missing(report, t->derating_line, "derating", "derating", "<temperature>");
    bool courses = false; /* of temperature, while the well flows or is killed */
    for (size_t i = 0; i < t->count; ++i)
        courses = courses || !isnan(t->points[i].producing_c) || !isnan(t->points[i].quenched_c);
    if (t->count && !t->derating_count && isnan(t->heating_k) && !courses)
        unused(report, t->line, "temperature", "there is neither <derating> nor heating");
    for (size_t i = 1; i < t->count; ++i)
        if (t->points[i].tvd_m <= t->points[i - 1].tvd_m)
            dt_report_add(report, DT_MSG_THERMAL_ORDER, t->points[i].line,
                          "temperature/point/@depth", "depth does not increase");
    for (size_t i = 1; i < t->derating_count; ++i)
        if (t->deratings[i].celsius <= t->deratings[i - 1].celsius)
            dt_report_add(report, DT_MSG_THERMAL_ORDER, t->deratings[i].line,
                          "derating/point/@temperature", "temperature does not increase");
    if (t->count && t->points[t->count - 1].tvd_m < well->objective_m - SAME_DEPTH_M) {
        char have[32], want[32];
        dt_display_text(well->display, DT_KIND_LENGTH, t->points[t->count - 1].tvd_m, have,
                        sizeof have);
        dt_display_text(well->display, DT_KIND_LENGTH, well->objective_m, want, sizeof want);
        dt_report_add(report, DT_MSG_TEMPERATURE_SHORT, t->line, "temperature",
                      "the table ends at %s, above the objective at %s", have, want);
    }
}

static void check_wellhead(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    const dt_wellhead_wishes *w = &well->wellhead;
    if (!w->given) return;
    if (w->mudline && !well->over_sea && !gaps->water_depth)
        unused(report, w->line, "wellhead/@mudline", "the well is on land");
    if (isnan(w->free_length_m) && !isnan(w->end_factor))
        unused(report, w->line, "wellhead/@end_factor", "there is no free_length");
    if (isnan(w->bop_n) && !isnan(w->free_length_m))
        unused(report, w->line, "wellhead/@free_length", "there is no bop, so no landing check");
}

static void check_sections(const dt_design *design, dt_report *report)
{
    double n = design->max_sections;
    if (n > 0 && fabs(n - floor(n + 0.5)) > 0)
        dt_report_add(report, DT_MSG_SECTIONS_NOT_WHOLE, design->line, "design/@max_sections",
                      "%g is not a whole number", n);
}

void dt_well_check_loads(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    check_loads(&well->loads, report);
    check_thermal(well, report);
    check_wellhead(well, gaps, report);
    check_sections(&well->design, report);
}
