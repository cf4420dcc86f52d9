/* SPDX-License-Identifier: MIT */
/* Does the well make sense? Every comparison is false for NAN, so that a value the file left
 * out or that was refused brings no second finding. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "curve.h"
#include "same.h"
#include "trajectory.h"
#include "units.h"
#include "well_parts.h"
#include "well_slurries.h"

/* Two depths nearer than this are one: far below what any log resolves, far above the rounding
 * of a unit conversion (1e-12 of a depth). */
#define MOST_INCLINED_RAD (95 * PI / 180) /* laterals rise by a few degrees */

/* ---- values in messages, field and metric: the model does not know what the user wrote ---- */

typedef struct words {
    char text[64];
} words;

static words both(dt_kind kind, double si)
{
    char field[24], metric[24];
    words out;
    dt_display_text(DT_DISPLAY_FIELD, kind, si, field, sizeof field);
    dt_display_text(DT_DISPLAY_METRIC, kind, si, metric, sizeof metric);
    bool same = strcmp(field, metric) == 0; /* angles */
    if (same)
        snprintf(out.text, sizeof out.text, "%s", field);
    else
        snprintf(out.text, sizeof out.text, "%s (%s)", field, metric);
    return out;
}

static words depth(double m)
{
    return both(DT_KIND_LENGTH, m);
}

static words emw(double kgm3)
{
    return both(DT_KIND_DENSITY, kgm3);
}

/* ---- tables ---- */

typedef struct table {
    const dt_curve *curve;
    const char *element, *words;
    bool whole; /* read without gaps and in order: may be evaluated */
} table;

static bool check_depth_order(const table *t, dt_report *report)
{
    bool ordered = true;
    char where[64];
    snprintf(where, sizeof where, "%s/point/@depth", t->element);
    const dt_curve_point *points = t->curve->points;
    size_t at_depth = 1;
    for (size_t i = 1; i < t->curve->count; ++i) {
        double step_m = points[i].tvd_m - points[i - 1].tvd_m;
        at_depth = fabs(step_m) <= SAME_DEPTH_M ? at_depth + 1 : 1;
        if (step_m < -SAME_DEPTH_M) {
            dt_report_add(report, DT_MSG_TABLE_DEPTH_DECREASES, points[i].line, where,
                          "depth goes from %s back up to %s", depth(points[i - 1].tvd_m).text,
                          depth(points[i].tvd_m).text);
            ordered = false;
        }
        if (at_depth == 3) {
            dt_report_add(report, DT_MSG_TABLE_DEPTH_REPEATED, points[i].line, where,
                          "more than two points at %s", depth(points[i].tvd_m).text);
            ordered = false;
        }
    }
    return ordered;
}

static void check_spread(const table *t, dt_report *report)
{
    bool normal = t->curve->distribution == DT_NORMAL;
    char where[64];
    snprintf(where, sizeof where, "%s/point", t->element);
    for (size_t i = 0; i < t->curve->count; ++i) {
        const dt_curve_point *point = &t->curve->points[i];
        bool sd = !isnan(point->sd_kgm3), low = !isnan(point->low_kgm3),
             high = !isnan(point->high_kgm3);
        if (low && point->low_kgm3 > point->emw_kgm3)
            dt_report_add(report, DT_MSG_SPREAD_OUT_OF_ORDER, point->line, where,
                          "low, %s, is above the value, %s", emw(point->low_kgm3).text,
                          emw(point->emw_kgm3).text);
        if (high && point->high_kgm3 < point->emw_kgm3)
            dt_report_add(report, DT_MSG_SPREAD_OUT_OF_ORDER, point->line, where,
                          "high, %s, is below the value, %s", emw(point->high_kgm3).text,
                          emw(point->emw_kgm3).text);
        if (normal && (low || high))
            dt_report_add(report, DT_MSG_SPREAD_MIXED, point->line, where,
                          "low and high do not describe a normal distribution");
        if (!normal && (sd || low != high))
            dt_report_add(report, DT_MSG_SPREAD_MIXED, point->line, where, "%s",
                          sd ? "sd does not describe this distribution"
                             : "one of low and high is missing");
    }
}

/* A metre is 3.28 ft: a depth in the wrong one of the two is so far from the other. Bounds a
 * quarter to either side: tables seldom end where the objective is. */
#define FAR_RATIO     2.5
#define FARTHER_RATIO 4.1

/** The finding before is of one depth above another: asks for the unit where that may be it. */
static void ask_unit(double above_m, double below_m, const char *of, dt_report *report)
{
    if (below_m < FAR_RATIO * above_m || below_m > FARTHER_RATIO * above_m) return;
    dt_report_fix(report,
                  "metres for feet? correct the unit of the %s or of the objective; otherwise add "
                  "what is missing down to the objective",
                  of);
}

static void check_length(const table *t, double objective_m, dt_report *report)
{
    double deepest_m = 0;
    for (size_t i = 0; i < t->curve->count; ++i)
        deepest_m = fmax(deepest_m, t->curve->points[i].tvd_m);
    if (t->curve->count == 0) return;
    if (deepest_m < objective_m - SAME_DEPTH_M) {
        dt_report_add(report, DT_MSG_TABLE_SHORT, t->curve->line, t->element,
                      "the table ends at %s, above the objective at %s", depth(deepest_m).text,
                      depth(objective_m).text);
        ask_unit(deepest_m, objective_m, "table", report);
    } else if (deepest_m > FAR_RATIO * objective_m) {
        dt_report_add(report, DT_MSG_TABLE_FAR, t->curve->line, t->element,
                      "the table ends at %s, %.1f times as deep as the objective at %s",
                      depth(deepest_m).text, deepest_m / objective_m, depth(objective_m).text);
    }
}

static table check_table(const dt_curve *curve, const char *element, const char *name, bool gap,
                         double objective_m, dt_report *report)
{
    table t = {.curve = curve, .element = element, .words = name};
    t.whole = check_depth_order(&t, report) && !gap && curve->count > 0;
    check_spread(&t, report);
    if (!gap) check_length(&t, objective_m, report);
    return t;
}

/** Line of the point at or next above a depth. */
static int line_near(const dt_curve *curve, double tvd_m)
{
    int line = curve->points[0].line;
    for (size_t i = 0; i < curve->count && curve->points[i].tvd_m <= tvd_m + SAME_DEPTH_M; ++i)
        line = curve->points[i].line;
    return line;
}

/** Depth of the next point of either table below `from_m`, capped at the objective; NAN at the end.
 */
static double next_depth(const table *a, const table *b, double from_m, double last_m)
{
    const dt_curve *curves[2] = {a->curve, b->curve};
    double next_m = INFINITY;
    for (size_t k = 0; k < 2; ++k)
        for (size_t i = 0; i < curves[k]->count; ++i)
            if (curves[k]->points[i].tvd_m > from_m) {
                next_m = fmin(next_m, curves[k]->points[i].tvd_m);
                break;
            }
    return next_m <= last_m ? next_m : NAN;
}

/**
 * One finding for each stretch in which `lower` is not below `upper`, found by looking at both
 * sides of every point of both tables (above the first point each holds its first value), from
 * the ground down. At the ground itself, where no rock lies on any, they may meet.
 * @param at_equal  whether equal values are a finding as well
 */
static void check_crossing(const table *lower, const table *upper, bool at_equal, double ground_m,
                           double objective_m, dt_message id, dt_report *report)
{
    if (!lower->whole || !upper->whole) return;
    double last_m = fmax(lower->curve->points[lower->curve->count - 1].tvd_m,
                         upper->curve->points[upper->curve->count - 1].tvd_m);
    last_m = fmin(last_m, isnan(objective_m) ? INFINITY : objective_m + SAME_DEPTH_M);
    bool crossed = false;
    /* Look-ups need a depth above 0: the surface is looked at from just below. */
    const double first_m = fmax(SAME_DEPTH_M, ground_m); /* NAN is passed over */
    for (double at_m = first_m; !isnan(at_m); at_m = next_depth(lower, upper, at_m, last_m))
        for (int side = DT_ABOVE; side <= DT_BELOW; ++side) {
            double low = dt_curve_emw(lower->curve, at_m, (dt_side)side);
            double high = dt_curve_emw(upper->curve, at_m, (dt_side)side);
            bool now = low > high || (at_equal && low >= high && at_m > first_m);
            if (now && !crossed)
                dt_report_add(report, id, line_near(lower->curve, at_m), lower->element,
                              "at %s %s, %s, is %s %s, %s", depth(at_m).text, lower->words,
                              emw(low).text, low > high ? "above" : "equal to", upper->words,
                              emw(high).text);
            crossed = now;
        }
}

/** Where holes return to the sea floor, a table that was counted from sea level shows at once: the
 * first metres of rock have more than the sea on them. Half a part in a hundred is salt. */
static void check_mudline(const dt_well *well, const table *pore, dt_report *report)
{
    const double ground_m = dt_well_ground_m(well);
    const double sea_kgm3 = dt_well_sea_kgm2(well) / ground_m;
    const double pore_kgm3 = dt_curve_emw(pore->curve, ground_m, DT_BELOW);
    if (pore_kgm3 <= 1.005 * sea_kgm3) return;
    dt_report_add(report, DT_MSG_PORE_ABOVE_SEA, line_near(pore->curve, ground_m), pore->element,
                  "at the sea floor, %s, the pore pressure is %s; the sea on it makes %s",
                  depth(ground_m).text, emw(pore_kgm3).text, emw(sea_kgm3).text);
}

static void check_tables(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    double objective_m = well->objective_m;
    const double ground_m = dt_well_ground_m(well);
    const double reach_m = objective_m <= ground_m ? NAN : objective_m; /* told elsewhere */
    table pore =
        check_table(&well->pore, "pore_pressure", "pore pressure", gaps->pore, reach_m, report);
    table fracture = check_table(&well->fracture, "fracture_gradient", "the fracture gradient",
                                 gaps->fracture, reach_m, report);
    table collapse = check_table(&well->collapse, "collapse_gradient", "the collapse gradient",
                                 gaps->collapse, reach_m, report);
    table overburden = check_table(&well->overburden, "overburden", "the overburden",
                                   gaps->overburden, reach_m, report);
    check_crossing(&pore, &fracture, true, ground_m, objective_m, DT_MSG_PORE_ABOVE_FRACTURE,
                   report);
    check_crossing(&collapse, &fracture, true, ground_m, objective_m,
                   DT_MSG_COLLAPSE_ABOVE_FRACTURE, report);
    check_crossing(&fracture, &overburden, false, ground_m, objective_m,
                   DT_MSG_OVERBURDEN_BELOW_FRACTURE, report);
    if (pore.whole && well->bop_at_seabed && ground_m > 0) check_mudline(well, &pore, report);
}

/* ---- places ---- */

static void check_place(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    if (!gaps->water_depth && well->over_sea && well->water_depth_m <= 0)
        dt_report_add(report, DT_MSG_WATER_DEPTH_MISSING, well->datum_line, "datum",
                      "over=\"sea\" has no water_depth");
    if (!gaps->water_depth && !well->over_sea && well->water_depth_m > 0)
        dt_report_add(report, DT_MSG_WATER_DEPTH_ON_LAND, well->datum_line, "datum/@water_depth",
                      "over=\"ground\" with a water depth of %s", depth(well->water_depth_m).text);
    double ground_m = dt_well_ground_m(well);
    if (well->riser_line > 0 && !well->bop_at_seabed && !gaps->water_depth)
        dt_report_add(report, DT_MSG_RISER_WITHOUT_SEA, well->riser_line, "riser",
                      well->over_sea ? "the BOP stands at the surface" : "the well is on land");
    if (well->objective_m <= ground_m)
        dt_report_add(report, DT_MSG_OBJECTIVE_ABOVE_GROUND, well->objective_line,
                      "objective/@depth", "the objective at %s is not below the ground at %s",
                      depth(well->objective_m).text, depth(ground_m).text);
    if (well->fresh_water_m > well->objective_m)
        dt_report_add(report, DT_MSG_FRESH_WATER_BELOW_OBJECTIVE, well->fresh_water_line,
                      "fresh_water/@deepest", "fresh water at %s lies below the objective at %s",
                      depth(well->fresh_water_m).text, depth(well->objective_m).text);
    if (well->fresh_water_m < ground_m)
        dt_report_add(report, DT_MSG_FRESH_WATER_ABOVE_GROUND, well->fresh_water_line,
                      "fresh_water/@deepest", "fresh water at %s lies above the ground at %s",
                      depth(well->fresh_water_m).text, depth(ground_m).text);
}

/** What is known of one zone, whether interval or pay. */
typedef struct zone {
    const char *element, *name;
    double top_m, base_m;
    int line;
} zone;

static void check_zone(const dt_well *well, const zone *z, dt_report *report)
{
    dt_quoted name = dt_quote(z->name ? z->name : "");
    char where[40];
    snprintf(where, sizeof where, "%s/@top", z->element);
    if (z->top_m >= z->base_m)
        dt_report_add(report, DT_MSG_INTERVAL_INVERTED, z->line, where,
                      "\"%s\": the top at %s is not above the base at %s", name.text,
                      depth(z->top_m).text, depth(z->base_m).text);
    double upper_m = fmin(z->top_m, z->base_m); /* told as inverted already */
    if (upper_m < dt_well_ground_m(well))
        dt_report_add(report, DT_MSG_INTERVAL_ABOVE_GROUND, z->line, where,
                      "\"%s\" begins at %s, above the ground at %s", name.text, depth(upper_m).text,
                      depth(dt_well_ground_m(well)).text);
    if (upper_m >= well->objective_m)
        dt_report_add(report, DT_MSG_INTERVAL_BELOW_OBJECTIVE, z->line, where,
                      "\"%s\" begins at %s, not above the objective at %s", name.text,
                      depth(upper_m).text, depth(well->objective_m).text);
}

static bool same_name(const char *a, const char *b)
{
    return a && b && strcmp(a, b) == 0;
}

static void report_repeated(dt_report *report, int line, const char *element, const char *name,
                            int first_line)
{
    char where[40];
    snprintf(where, sizeof where, "%s/@name", element);
    dt_quoted shown = dt_quote(name);
    dt_report_add(report, DT_MSG_NAME_REPEATED, line, where,
                  "\"%s\" is the name of line %d as well", shown.text, first_line);
}

static void check_overlap(const dt_interval *a, const dt_interval *b, dt_report *report)
{
    bool inverted = a->top_m >= a->base_m || b->top_m >= b->base_m;
    double top_m = fmax(a->top_m, b->top_m), base_m = fmin(a->base_m, b->base_m);
    bool known = !isnan(a->top_m + a->base_m + b->top_m + b->base_m);
    if (inverted || !known || base_m - top_m <= SAME_DEPTH_M) return;
    dt_quoted name = dt_quote(b->name ? b->name : ""), other = dt_quote(a->name ? a->name : "");
    dt_report_add(report, DT_MSG_INTERVAL_OVERLAP, b->line, "interval",
                  "\"%s\" and \"%s\" (line %d) overlap from %s to %s", name.text, other.text,
                  a->line, depth(top_m).text, depth(base_m).text);
}

static void check_zones(const dt_well *well, dt_report *report)
{
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *at = &well->intervals[i];
        zone z = {"interval", at->name, at->top_m, at->base_m, at->line};
        check_zone(well, &z, report);
        bool told = false;
        for (size_t k = 0; k < i; ++k) {
            check_overlap(&well->intervals[k], at, report);
            if (!told && same_name(well->intervals[k].name, at->name)) {
                report_repeated(report, at->line, "interval", at->name, well->intervals[k].line);
                told = true;
            }
        }
    }
    for (size_t i = 0; i < well->pay_count; ++i) {
        const dt_pay *at = &well->pays[i];
        zone z = {"pay", at->name, at->top_m, at->base_m, at->line};
        check_zone(well, &z, report);
        for (size_t k = 0; k < i; ++k)
            if (same_name(well->pays[k].name, at->name)) {
                report_repeated(report, at->line, "pay", at->name, well->pays[k].line);
                break;
            }
    }
}

/* ---- margins, conductor, sizes, slurries ---- */

static void check_margins(const dt_well *well, dt_report *report)
{
    const dt_margins *m = &well->margins;
    if (m->kick_rule == DT_KICK_FIXED && dt_margin_given(&m->gain))
        dt_report_add(report, DT_MSG_MARGIN_UNUSED, m->line, "margins/@gain",
                      "kick_rule=\"fixed\" leaves gain out");
}

static void check_conductor_gradients(const dt_well *well, const dt_well_gaps *gaps,
                                      dt_report *report)
{
    const dt_conductor *c = &well->conductor;
    const struct {
        const char *where, *name;
        double value;
        bool unused;
    } rows[] = {
        {"conductor/@soil_gradient", "soil_gradient", c->soil_gradient_kgm3, !isnan(c->depth_m)},
        {"conductor/@returns_gradient", "returns_gradient", c->returns_gradient_kgm3,
         !isnan(c->depth_m)},
        {"conductor/@sea_gradient", "sea_gradient", c->sea_gradient_kgm3,
         !isnan(c->depth_m) || (!well->over_sea && !gaps->over)},
        {"conductor/@flowline", "flowline", c->flowline_m, !isnan(c->depth_m)},
    };
    for (size_t i = 0; i < COUNT_OF(rows); ++i)
        if (rows[i].unused && !isnan(rows[i].value))
            dt_report_add(report, DT_MSG_CONDUCTOR_GRADIENT_UNUSED, c->line, rows[i].where,
                          "%s has no effect: %s", rows[i].name,
                          isnan(c->depth_m) ? "the well is on land" : "the depth is given");
}

/** The conductor that is pinned at a depth of its own; NULL when none is. */
static const dt_pin *pinned_conductor(const dt_well *well)
{
    for (size_t i = 0; i < well->pin_count; ++i)
        if (well->pins[i].role == DT_CONDUCTOR && !isnan(well->pins[i].shoe_m))
            return &well->pins[i];
    return NULL;
}

/** A conductor whose depth follows from the returns, and not from a pin. */
static void check_computed_conductor(const dt_well *well, dt_report *report)
{
    const dt_conductor *c = &well->conductor;
    double ground_m = dt_well_ground_m(well), penetration_m = dt_conductor_penetration_m(well);
    double shoe_m = dt_conductor_shoe_m(well);
    if (penetration_m < DT_CONDUCTOR_LEAST_M)
        dt_report_add(report, DT_MSG_CONDUCTOR_NOT_NEEDED, c->line, "conductor",
                      "the soil bears returns to %s above the %s with a conductor of %s, and no "
                      "section is shorter than %s",
                      depth(isnan(c->flowline_m) ? well->rig_floor_m : c->flowline_m).text,
                      well->over_sea ? "sea" : "ground", depth(fmax(penetration_m, 0)).text,
                      depth(DT_CONDUCTOR_LEAST_M).text);
    else if (well->objective_m > ground_m && shoe_m >= well->objective_m)
        dt_report_add(report, DT_MSG_CONDUCTOR_BELOW_OBJECTIVE, c->line, "conductor",
                      "the conductor computed to %s is not above the objective at %s",
                      depth(shoe_m).text, depth(well->objective_m).text);
}

static void check_conductor(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    const dt_conductor *c = &well->conductor;
    double ground_m = dt_well_ground_m(well);
    bool sound = well->objective_m > ground_m; /* else the objective is at fault, and told */
    if (sound && c->depth_m >= well->objective_m)
        dt_report_add(report, DT_MSG_CONDUCTOR_BELOW_OBJECTIVE, c->line, "conductor/@depth",
                      "the conductor at %s is not above the objective at %s",
                      depth(c->depth_m).text, depth(well->objective_m).text);
    if (c->depth_m <= ground_m)
        dt_report_add(report, DT_MSG_CONDUCTOR_ABOVE_GROUND, c->line, "conductor/@depth",
                      "the conductor at %s is not below the ground at %s", depth(c->depth_m).text,
                      depth(ground_m).text);
    else if (c->depth_m < ground_m + DT_CONDUCTOR_LEAST_M - SAME_DEPTH_M)
        dt_report_add(report, DT_MSG_CONDUCTOR_ABOVE_GROUND, c->line, "conductor/@depth",
                      "the conductor at %s reaches %s into the ground at %s, and no section is "
                      "shorter than %s",
                      depth(c->depth_m).text, depth(c->depth_m - ground_m).text,
                      depth(ground_m).text, depth(DT_CONDUCTOR_LEAST_M).text);
    if (gaps->conductor) return;
    check_conductor_gradients(well, gaps, report);
    if (!isnan(c->depth_m)) return;
    if (isnan(c->soil_gradient_kgm3) || isnan(c->returns_gradient_kgm3))
        dt_report_add(report, DT_MSG_CONDUCTOR_UNDETERMINED, c->line, "conductor",
                      "no depth, and no %s to compute it from",
                      isnan(c->soil_gradient_kgm3) ? "soil_gradient" : "returns_gradient");
    if (c->soil_gradient_kgm3 <= c->returns_gradient_kgm3)
        dt_report_add(report, DT_MSG_CONDUCTOR_SOIL_TOO_WEAK, c->line, "conductor/@soil_gradient",
                      "the soil bears %s and the returns weigh %s", emw(c->soil_gradient_kgm3).text,
                      emw(c->returns_gradient_kgm3).text);
    else if (!gaps->over && !gaps->water_depth && !pinned_conductor(well))
        check_computed_conductor(well, report);
}

static void check_clearances(const dt_well *well, dt_report *report)
{
    const dt_clearance_row *rows = well->sizes.clearances;
    for (size_t i = 1; i < well->sizes.clearance_count; ++i)
        if (rows[i].up_to_od_m <= rows[i - 1].up_to_od_m)
            dt_report_add(report, DT_MSG_CLEARANCE_ORDER, rows[i].line, "sizes/clearance/@up_to_od",
                          "up_to_od goes from %s to %s",
                          both(DT_KIND_DIAMETER, rows[i - 1].up_to_od_m).text,
                          both(DT_KIND_DIAMETER, rows[i].up_to_od_m).text);
}

/** A spread of a depth: sd alone, or low and high round the depth. */
static void check_depth_spread(const dt_depth_spread *spread, double at_m, const char *where,
                               int line, dt_report *report)
{
    bool sd = !isnan(spread->sd_m), low = !isnan(spread->low_m), high = !isnan(spread->high_m);
    if (!sd && !low && !high) return;
    const char *what = NULL;
    if (sd && (low || high))
        what = "sd stands beside low or high";
    else if (low != high)
        what = "one of low and high is missing";
    else if (sd ? spread->distribution != DT_NORMAL : spread->distribution == DT_NORMAL)
        what = "sd goes with a normal distribution, low and high with the others";
    else if (low && (spread->low_m > at_m || spread->high_m < at_m))
        what = "the depth is not between low and high";
    if (what) dt_report_add(report, DT_MSG_DEPTH_SPREAD, line, where, "%s", what);
}

static void check_gas(const dt_well *well, dt_report *report)
{
    if (well->kick.given && well->kick.law == DT_GAS_REAL && well->thermal.count == 0)
        dt_report_add(report, DT_MSG_KICK_TEMPERATURE, well->kick.line, "kick_tolerance",
                      "gas_law=\"real\" needs <temperature>");
}

static void check_depth_spreads(const dt_well *well, dt_report *report)
{
    check_depth_spread(&well->fresh_water_spread, well->fresh_water_m, "fresh_water",
                       well->fresh_water_line, report);
    for (size_t i = 0; i < well->interval_count; ++i)
        check_depth_spread(&well->intervals[i].top_spread, well->intervals[i].top_m, "interval",
                           well->intervals[i].line, report);
}

static void check_slurries(const dt_well *well, dt_report *report)
{
    for (size_t i = 1; i < well->slurry_count; ++i)
        for (size_t k = 0; k < i; ++k)
            if (same_name(well->slurries[k].name, well->slurries[i].name)) {
                report_repeated(report, well->slurries[i].line, "slurry", well->slurries[i].name,
                                well->slurries[k].line);
                break;
            }
}

/* ---- survey ---- */

/** Order and angles. True when a trajectory can be built from the stations. */
static bool check_stations(const dt_well *well, dt_report *report)
{
    bool sound = true;
    const dt_station *stations = well->stations;
    for (size_t i = 0; i < well->station_count; ++i) {
        const dt_station *at = &stations[i];
        if (i == 0 && (at->md_m > 0 || at->md_m < 0)) {
            dt_report_add(report, DT_MSG_SURVEY_START, at->line, "path/station/@md",
                          "the first station is at %s", depth(at->md_m).text);
            sound = false;
        }
        if (i > 0 && at->md_m <= stations[i - 1].md_m) {
            dt_report_add(report, DT_MSG_SURVEY_ORDER, at->line, "path/station/@md",
                          "measured depth goes from %s to %s", depth(stations[i - 1].md_m).text,
                          depth(at->md_m).text);
            sound = false;
        }
        if (at->inclination_rad < 0 || at->inclination_rad > MOST_INCLINED_RAD) {
            dt_report_add(report, DT_MSG_SURVEY_INCLINATION, at->line, "path/station/@inclination",
                          "an inclination of %s", both(DT_KIND_ANGLE, at->inclination_rad).text);
            sound = false;
        }
    }
    return sound;
}

/** How far a path may go on below an objective stated by its depth before it is asked about. */
#define BEYOND_OBJECTIVE_M 150

static void check_far(const dt_well *well, double deepest_m, dt_report *report)
{
    if (deepest_m > FAR_RATIO * well->objective_m)
        dt_report_add(report, DT_MSG_SURVEY_FAR, well->path_line, "path",
                      "the survey ends at a true vertical depth of %s, %.1f times as deep as the "
                      "objective at %s",
                      depth(deepest_m).text, deepest_m / well->objective_m,
                      depth(well->objective_m).text);
}

/** A lateral is not reached by its depth: that is met where the hole lands. */
static void check_beyond(const dt_well *well, const dt_trajectory *trajectory, dt_report *report)
{
    const double met_m = dt_trajectory_md(trajectory, well->objective_m);
    const dt_trajectory_node *last = &trajectory->nodes[trajectory->count - 1];
    const double end_m = last->md_m, deeper_m = last->deepest_m - well->objective_m;
    if (!(end_m > met_m + BEYOND_OBJECTIVE_M) || deeper_m > DT_LEVEL_GAIN * (end_m - met_m)) return;
    dt_report_add(report, DT_MSG_PATH_GOES_ON, well->objective_line, "objective/@depth",
                  "the depth of the objective is met at a measured depth of %s, and the path goes "
                  "on to %s",
                  depth(met_m).text, depth(end_m).text);
}

static void check_path(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    if (well->station_count == 0) return;
    if (!check_stations(well, report) || gaps->path) return;
    dt_trajectory trajectory = {0};
    dt_status status = dt_trajectory_build(well->stations, well->station_count, &trajectory);
    if (status == DT_E_MEMORY) report->out_of_memory = 1;
    if (status != DT_OK) return;
    const dt_trajectory_node *last = &trajectory.nodes[trajectory.count - 1];
    if (well->objective_md_m > last->md_m + SAME_DEPTH_M) {
        dt_report_add(report, DT_MSG_SURVEY_SHORT, well->path_line, "path",
                      "the survey ends at a measured depth of %s, short of the objective at %s",
                      depth(last->md_m).text, depth(well->objective_md_m).text);
        ask_unit(last->md_m, well->objective_md_m, "stations", report);
    } else if (last->deepest_m < well->objective_m - SAME_DEPTH_M) {
        dt_report_add(report, DT_MSG_SURVEY_SHORT, well->path_line, "path",
                      "the survey ends at a true vertical depth of %s, above the objective at %s",
                      depth(last->deepest_m).text, depth(well->objective_m).text);
        ask_unit(last->deepest_m, well->objective_m, "stations", report);
    } else if (isnan(well->objective_md_m)) {
        check_far(well, last->deepest_m, report);
        check_beyond(well, &trajectory, report);
    }
    dt_trajectory_free(&trajectory);
}

/* ---- pinned strings ---- */

static void check_pin_depths(const dt_well *well, const dt_pin *pin, dt_report *report)
{
    if (pin->type == DT_TIEBACK) return; /* has none: check_pin_tieback() tells */
    double ground_m = dt_well_ground_m(well);
    if (pin->shoe_m <= ground_m || pin->shoe_m > well->objective_m + SAME_DEPTH_M)
        dt_report_add(report, DT_MSG_PIN_SHOE_OUTSIDE, pin->line, "pinned/string/@shoe",
                      "the shoe at %s is not between the ground at %s and the objective at %s",
                      depth(pin->shoe_m).text, depth(ground_m).text, depth(well->objective_m).text);
    else if (pin->role == DT_CONDUCTOR &&
             pin->shoe_m < ground_m + DT_CONDUCTOR_LEAST_M - SAME_DEPTH_M)
        dt_report_add(report, DT_MSG_PIN_SHOE_OUTSIDE, pin->line, "pinned/string/@shoe",
                      "the conductor at %s reaches %s into the ground at %s, and no section is "
                      "shorter than %s",
                      depth(pin->shoe_m).text, depth(pin->shoe_m - ground_m).text,
                      depth(ground_m).text, depth(DT_CONDUCTOR_LEAST_M).text);
    if (pin->role == DT_PRODUCTION && pin->shoe_m < well->objective_m - SAME_DEPTH_M)
        dt_report_add(report, DT_MSG_PIN_PRODUCTION_SHORT, pin->line, "pinned/string/@shoe",
                      "the production shoe at %s is above the objective at %s",
                      depth(pin->shoe_m).text, depth(well->objective_m).text);
    double conductor_m = well->conductor.depth_m;
    if (pin->role == DT_CONDUCTOR && fabs(pin->shoe_m - conductor_m) > SAME_DEPTH_M)
        dt_report_add(report, DT_MSG_PIN_CONDUCTOR_DIFFERS, pin->line, "pinned/string/@shoe",
                      "the conductor is pinned at %s, and <conductor> says %s",
                      depth(pin->shoe_m).text, depth(conductor_m).text);
}

static void check_pin_pipe(const dt_pin *pin, dt_report *report)
{
    bool to_surface = pin->role == DT_CONDUCTOR || pin->role == DT_SURFACE;
    if (to_surface && (pin->type == DT_LINER || pin->type == DT_TIEBACK))
        dt_report_add(report, DT_MSG_PIN_LINER_ROLE, pin->line, "pinned/string/@type",
                      "a %s string cannot be a %s", dt_role_text(pin->role),
                      dt_string_type_text(pin->type));
    if (pin->od_m >= pin->hole_m)
        dt_report_add(report, DT_MSG_PIN_TOO_WIDE, pin->line, "pinned/string/@od",
                      "pipe of %s does not go into a hole of %s",
                      both(DT_KIND_DIAMETER, pin->od_m).text,
                      both(DT_KIND_DIAMETER, pin->hole_m).text);
}

/** before: the pin listed before it, NULL when it is the first. */
static void check_pin_tieback(const dt_pin *before, const dt_pin *pin, dt_report *report)
{
    if (pin->type != DT_TIEBACK || pin->role == DT_CONDUCTOR || pin->role == DT_SURFACE) return;
    const bool follows = before && before->type == DT_LINER && before->role == pin->role;
    if (!follows)
        dt_report_add(report, DT_MSG_PIN_TIEBACK_ALONE, pin->line, "pinned/string/@type",
                      "no pinned %s liner stands right before it", dt_role_text(pin->role));
    const struct {
        bool said;
        const char *where, *words;
    } parts[] = {
        {!isnan(pin->shoe_m), "pinned/string/@shoe", "shoe"},
        {!isnan(pin->hole_m), "pinned/string/@hole", "hole"},
        {pin->cement_count > 0, "pinned/string/cement", "cement"},
    };
    for (size_t i = 0; i < COUNT_OF(parts); ++i)
        if (parts[i].said)
            dt_report_add(report, DT_MSG_PIN_TIEBACK_PART, pin->line, parts[i].where,
                          "a tie-back has no %s of its own", parts[i].words);
    if (follows && !isnan(pin->od_m) && !(fabs(pin->od_m - before->od_m) < SAME_DIAMETER_M))
        dt_report_add(report, DT_MSG_PIN_TIEBACK_SIZE, pin->line, "pinned/string/@od",
                      isnan(before->od_m) ? "%s, and its liner's size is not pinned"
                                          : "%s on a liner of another size",
                      both(DT_KIND_DIAMETER, pin->od_m).text);
}

static void check_collar(const dt_well *well, const dt_pin *pin, size_t at, dt_report *report)
{
    const char *where = "pinned/string/cement/@collar_above_shoe";
    const dt_pinned_cement *cement = &pin->cement[at];
    double collar_m = cement->collar_above_shoe_m;
    if (collar_m < 0)
        dt_report_add(report, DT_MSG_COLLAR_BELOW_SHOE, cement->line, where,
                      "the collar stands %s below the shoe", depth(-collar_m).text);
    /* In an inclined hole the string is longer than the shoe is deep: told once it is planned. */
    if (well->station_count == 0 && collar_m >= pin->shoe_m)
        dt_report_add(report, DT_MSG_COLLAR_ABOVE_STRING, cement->line, where,
                      "a shoe track of %s above a shoe at %s", depth(collar_m).text,
                      depth(pin->shoe_m).text);
    for (size_t k = 0; k < at; ++k)
        if (fabs(pin->cement[k].collar_above_shoe_m - collar_m) > SAME_DEPTH_M) {
            dt_report_add(report, DT_MSG_CEMENT_COLLARS_DIFFER, cement->line, where,
                          "the collar stands %s above the shoe here, %s in line %d",
                          depth(collar_m).text, depth(pin->cement[k].collar_above_shoe_m).text,
                          pin->cement[k].line);
            return;
        }
}

static void check_pin_cement(const dt_well *well, const dt_well_gaps *gaps, const dt_pin *pin,
                             dt_report *report)
{
    for (size_t i = 0; i < pin->cement_count; ++i) {
        const dt_pinned_cement *cement = &pin->cement[i];
        dt_slurry_spec slurry;
        bool found = dt_slurry_find(well, cement->slurry, &slurry);
        if (cement->slurry && !found && !gaps->slurries) {
            dt_quoted name = dt_quote(cement->slurry);
            dt_report_add(report, DT_MSG_PIN_SLURRY_UNKNOWN, cement->line,
                          "pinned/string/cement/@slurry",
                          "the file has no slurry \"%s\", and none is built in", name.text);
        }
        if (cement->top_m >= pin->shoe_m)
            dt_report_add(report, DT_MSG_PIN_CEMENT_TOP, cement->line, "pinned/string/cement/@top",
                          "the top of cement at %s is not above the shoe at %s",
                          depth(cement->top_m).text, depth(pin->shoe_m).text);
        if (i > 0 && cement->top_m <= pin->cement[i - 1].top_m)
            dt_report_add(report, DT_MSG_CEMENT_TOP_ORDER, cement->line,
                          "pinned/string/cement/@top",
                          "a top at %s under a slurry whose top is at %s",
                          depth(cement->top_m).text, depth(pin->cement[i - 1].top_m).text);
        if (i > 0 && i + 1 < pin->cement_count && isnan(cement->top_m))
            dt_report_add(report, DT_MSG_CEMENT_TOP_MISSING, cement->line, "pinned/string/cement",
                          "slurry %zu of %zu has no top", i + 1, pin->cement_count);
        check_collar(well, pin, i, report);
    }
}

/** True when a string of that role may follow the one before. Only intermediates repeat; a
 *  tie-back follows the liner it ties back, whose role it shares. */
static bool pin_follows(const dt_pin *before, const dt_pin *pin)
{
    if (pin->role > before->role) return true;
    return pin->role == before->role && (pin->role == DT_INTERMEDIATE || pin->type == DT_TIEBACK);
}

static void report_pin_order(const dt_well *well, const dt_pin *pin, double shoe_m,
                             dt_report *report)
{
    bool conductor = !pinned_conductor(well) && shoe_m == dt_conductor_shoe_m(well);
    bool computed = conductor && isnan(well->conductor.depth_m);
    char above[64] = "one before it";
    if (conductor)
        snprintf(above, sizeof above, "conductor, which line %d %s,", well->conductor.line,
                 computed ? "computes" : "gives");
    dt_report_add(report, DT_MSG_PIN_SHOE_ORDER, pin->line, "pinned/string/@shoe",
                  "the shoe at %s is not below the %s at %s", depth(pin->shoe_m).text, above,
                  depth(shoe_m).text);
    if (conductor)
        dt_report_fix(report, "pin it deeper, or %s line %d",
                      computed ? "give a shallower depth in" : "correct the depth in",
                      well->conductor.line);
}

static void check_pins(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    /* The deepest shoe so far; a tie-back ends at a liner's top. */
    double shoe_m = NAN, conductor_m = gaps->conductor          ? NAN
                                       : pinned_conductor(well) ? pinned_conductor(well)->shoe_m
                                                                : dt_conductor_shoe_m(well);
    for (size_t i = 0; i < well->pin_count; ++i) {
        const dt_pin *pin = &well->pins[i];
        check_pin_depths(well, pin, report);
        check_pin_pipe(pin, report);
        if (!gaps->pins) check_pin_tieback(i > 0 ? pin - 1 : NULL, pin, report);
        check_pin_cement(well, gaps, pin, report);
        if (i > 0 && !gaps->pins && !pin_follows(&well->pins[i - 1], pin))
            dt_report_add(report, DT_MSG_PIN_ORDER, pin->line, "pinned/string/@role",
                          "role %s cannot follow role %s", dt_role_text(pin->role),
                          dt_role_text(well->pins[i - 1].role));
        if (pin->type == DT_TIEBACK) continue;
        if (pin->role != DT_CONDUCTOR) shoe_m = fmax(shoe_m, conductor_m);
        if (pin->shoe_m <= shoe_m && pin->shoe_m > dt_well_ground_m(well)) /* else told already */
            report_pin_order(well, pin, shoe_m, report);
        if (!isnan(pin->shoe_m)) shoe_m = pin->shoe_m;
    }
}

/* ---- running and cementing ---- */

static void check_slurry_choice(const dt_well *well, const char *name, const char *where,
                                dt_report *report)
{
    dt_slurry_spec slurry;
    if (!name || dt_slurry_find(well, name, &slurry)) return;
    dt_quoted shown = dt_quote(name);
    dt_report_add(report, DT_MSG_SLURRY_CHOICE_UNKNOWN, well->cementing.line, where,
                  "the file has no slurry \"%s\", and none is built in", shown.text);
}

static void check_cementing(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    const dt_cement_wishes *c = &well->cementing;
    if (!gaps->slurries) {
        check_slurry_choice(well, c->lead, "cementing/@lead", report);
        check_slurry_choice(well, c->tail, "cementing/@tail", report);
    }
    bool wants = c->test == DT_TEST_PRESSURE;
    if (wants == isnan(c->test_pressure_pa))
        dt_report_add(report, DT_MSG_TEST_PRESSURE, c->line, "cementing/@test_pressure", "%s",
                      wants ? "test=\"pressure\" has no test_pressure"
                            : "a test_pressure without test=\"pressure\"");
    for (size_t i = 1; i < c->strength_count; ++i) {
        const dt_strength_point *at = &c->strengths[i];
        if (at->time_s <= at[-1].time_s || at->strength_pa < at[-1].strength_pa)
            dt_report_add(report, DT_MSG_STRENGTH_ORDER, at->line, "cementing/strength",
                          "%s at %s after %s at %s", both(DT_KIND_PRESSURE, at->strength_pa).text,
                          both(DT_KIND_TIME, at->time_s).text,
                          both(DT_KIND_PRESSURE, at[-1].strength_pa).text,
                          both(DT_KIND_TIME, at[-1].time_s).text);
    }
    for (size_t i = 1; i < well->caliper_count; ++i)
        if (well->caliper[i].md_m <= well->caliper[i - 1].md_m)
            dt_report_add(report, DT_MSG_CALIPER_ORDER, well->caliper[i].line,
                          "caliper/reading/@md", "md goes from %s to %s",
                          depth(well->caliper[i - 1].md_m).text, depth(well->caliper[i].md_m).text);
}

/** A mud is a Bingham plastic or follows a power law, and one statement says which. */
static void check_rheology(const dt_well *well, dt_report *report)
{
    const dt_rheology *r = &well->rheology;
    const bool bingham = r->mud_pv_pas >= 0 || r->mud_yp_pa >= 0, law = r->mud_n > 0,
               readings = r->mud_600 > 0;
    const char *wrong = NULL;
    if (law != (r->mud_k_pasn > 0))
        wrong = law ? "mud_n without mud_k" : "mud_k without mud_n";
    else if (readings != (r->mud_300 > 0))
        wrong = readings ? "mud_600 without mud_300" : "mud_300 without mud_600";
    else if (law && readings)
        wrong = "mud_n and mud_k beside readings";
    else if (bingham && (law || readings))
        wrong = "mud_pv or mud_yp beside a power law";
    if (wrong)
        dt_report_add(report, DT_MSG_MUD_TWICE, r->line, "rheology", "%s", wrong);
    else if (readings && !(r->mud_600 > r->mud_300 && r->mud_600 <= 2 * r->mud_300))
        dt_report_add(report, DT_MSG_MUD_READINGS, r->line, "rheology/@mud_600",
                      "readings of %g at 600 and %g at 300", r->mud_600, r->mud_300);
}

static void check_running(const dt_well *well, dt_report *report)
{
    /* API Spec 5CT length ranges, ft, as two mill articles of 2024 quote them */
    static const double least_ft[] = {16, 25, 34}, most_ft[] = {25, 34, 48};
    const dt_running_wishes *r = &well->running;
    const struct {
        const char *where;
        double value;
    } counts[] = {{"running/@range", r->range},
                  {"running/@track_joints", r->track_joints},
                  {"running/@fill_joints", r->fill_joints}};
    for (size_t i = 0; i < COUNT_OF(counts); ++i)
        if (counts[i].value != floor(counts[i].value) && !isnan(counts[i].value))
            dt_report_add(report, DT_MSG_NOT_A_COUNT, r->line, counts[i].where,
                          "%g is not a whole number", counts[i].value);
    int range = r->range == 1 || r->range == 2 || r->range == 3 ? (int)r->range : 0;
    if (range && (r->joint_m < least_ft[range - 1] * DT_M_PER_FT - SAME_DEPTH_M ||
                  r->joint_m > most_ft[range - 1] * DT_M_PER_FT + SAME_DEPTH_M))
        dt_report_add(report, DT_MSG_JOINT_OUTSIDE_RANGE, r->line, "running/@joint_length",
                      "a joint of %s is not of range %d", depth(r->joint_m).text, range);
    if (r->landing_id_m >= r->landing_od_m)
        dt_report_add(report, DT_MSG_LANDING_PIPE, r->line, "running/@landing_id",
                      "pipe of %s has a bore of %s", both(DT_KIND_DIAMETER, r->landing_od_m).text,
                      both(DT_KIND_DIAMETER, r->landing_id_m).text);
}

void dt_well_check_known(const dt_well *well, const dt_well_gaps *gaps, dt_report *report)
{
    check_tables(well, gaps, report);
    check_place(well, gaps, report);
    check_zones(well, report);
    check_margins(well, report);
    check_conductor(well, gaps, report);
    check_clearances(well, report);
    check_slurries(well, report);
    check_depth_spreads(well, report);
    check_gas(well, report);
    check_path(well, gaps, report);
    check_pins(well, gaps, report);
    check_cementing(well, gaps, report);
    check_rheology(well, report);
    check_running(well, report);
    dt_well_check_loads(well, gaps, report);
    dt_well_check_liners(well, report);
}

void dt_well_check(const dt_well *well, dt_report *report)
{
    const dt_well_gaps none = {0};
    dt_well_check_known(well, &none, report);
}
