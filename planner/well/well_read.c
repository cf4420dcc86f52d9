/* SPDX-License-Identifier: MIT */
/* From a tree that fits the schema to the model, element by element. Single values are
 * well_values.c's, what values mean together is well_check.c's. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "catalogue.h"
#include "same.h"
#include "trajectory.h"
#include "well_elements.h"
#include "well_limits.h"

static const dt_limit FLOOR = {0, 300, false, "no rig floor stands so high"};
static const dt_limit WATER = {0, 5000, true, "no well stands in deeper water"};
static const dt_limit GAS = {0, 1000, false, "gas is lighter than water"};
static const dt_limit GAP = {0, 10 * DT_M_PER_IN, true, "a gap is an inch or so"};
static const dt_limit LAP = {1, 1000, false, "laps are about 100 m"};
static const dt_limit PAST = {0, 1000, false, "a shoe stands 15 to 30 m past bad rock"};
static const dt_limit ROUNDING = {0, 1000, false, "seats are rounded to 1 to 100 ft or m"};
static const dt_limit CORRELATION = {0, 15000, true, "no well is longer"};
static const dt_limit AZIMUTH = {-2 * PI, 2 * PI, false, "a full turn is 360 deg"};
static const dt_limit ANY_ANGLE = {-10, 10, false, "inclination is from 0 to 95 deg"};
static const dt_limit SECTIONS = {1, 8, false, "strings have one to four sections"};
static const dt_limit SECTION = {0, 15000, false, "the deepest holes are little over 12 km"};
static const dt_limit WEAR = {0, 2 * DT_M_PER_IN, false, "walls are an inch or less"};
static const dt_limit COLLAR = {-20000, 20000, false, "no well is longer"};
static const dt_limit YIELD = {1e-4, 2e-2, false, "yields are about 0.7 to 3 L/kg"};
static const dt_limit MIX_WATER = {0, 2e-2, false, "mix water is about 0.3 to 2 L/kg"};

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- elements ---- */

static void read_note(dt_reader *r, xmlNodePtr node)
{
    char *text = (char *)xmlNodeGetContent(node);
    if (text)
        r->well->note = dt_copy_text(r, text);
    else
        r->out_of_memory = true;
    xmlFree(text);
}

static void read_document(dt_reader *r, xmlNodePtr node)
{
    dt_document *document = &r->well->document;
    document->revision = dt_read_name(r, node, "revision");
    document->author = dt_read_name(r, node, "author");
    document->date = dt_read_name(r, node, "date");
}

/** Metres in the attribute: the file is metric, and read by those who think so. What <well> says
 * itself goes before. */
static void read_display(dt_reader *r, xmlNodePtr node, const char *name)
{
    char *text = dt_attribute(r, node, name);
    const dt_unit *unit = text ? dt_unit_of(text, DT_KIND_LENGTH) : NULL;
    if (unit && !r->units_said)
        r->well->display = strcmp(unit->symbol, "m") == 0 ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD;
    xmlFree(text);
}

static void read_units(dt_reader *r, xmlNodePtr root)
{
    static const char *const words[] = {"field", "metric", "mixed"};
    const int word = dt_read_word(r, root, "units", words, COUNT(words), -1);
    r->units_said = word >= 0;
    if (word >= 0)
        r->well->display = word == 0   ? DT_DISPLAY_FIELD
                           : word == 1 ? DT_DISPLAY_METRIC
                                       : DT_DISPLAY_MIXED;
}

static void read_datum(dt_reader *r, xmlNodePtr node)
{
    static const char *const over[] = {"ground", "sea"};
    dt_well *well = r->well;
    dt_read_quantity(r, node, "rig_floor", DT_KIND_LENGTH, &FLOOR, &well->rig_floor_m);
    read_display(r, node, "rig_floor");
    int word = dt_read_word(r, node, "over", over, 2, -1);
    well->over_sea = word == 1;
    if (word < 0) r->gaps->over = r->gaps->water_depth = true; /* the schema has told */
    well->datum_line = dt_line_of(node);
    well->water_depth_m = 0;
    if (!dt_has_attribute(node, "water_depth")) return;
    if (!dt_read_quantity(r, node, "water_depth", DT_KIND_LENGTH, &WATER, &well->water_depth_m))
        r->gaps->water_depth = true;
    static const char *const places[] = {"surface", "seabed"};
    const double from_m = dt_custom_value_of(well, DT_CUSTOM_DATUM_SEABED);
    well->bop_at_seabed =
        dt_read_word(r, node, "bop", places, 2, well->water_depth_m > from_m ? 1 : 0) == 1;
}

/** A depth, or a point on the path: its length, or the word "end". */
static void read_objective_depth(dt_reader *r, xmlNodePtr node)
{
    dt_well *well = r->well;
    const bool depth = dt_has_attribute(node, "depth"), md = dt_has_attribute(node, "md");
    if (depth == md) {
        dt_report_add(r->report, DT_MSG_OBJECTIVE_WHERE, dt_line_of(node), "objective",
                      depth ? "it has a depth and an md" : "it has neither a depth nor an md");
        return;
    }
    read_display(r, node, depth ? "depth" : "md");
    if (depth) {
        dt_read_quantity(r, node, "depth", DT_KIND_LENGTH, &DEPTH_BELOW, &well->objective_m);
        return;
    }
    char *text = dt_attribute(r, node, "md");
    if (!text) return;
    well->objective_at_end = strcmp(text, "end") == 0;
    if (!well->objective_at_end)
        dt_read_quantity(r, node, "md", DT_KIND_LENGTH, &LONG_DEPTH, &well->objective_md_m);
    xmlFree(text);
}

/** A slotted liner is a liner: as one that is pinned so, whatever else the pin says. */
static void settle_slotted(dt_reader *r)
{
    dt_well *well = r->well;
    if (!well->last_slotted) return;
    for (size_t i = 0; i < well->pin_count; ++i) {
        dt_pin *pin = &well->pins[i];
        if (pin->role != DT_PRODUCTION) continue;
        if (pin->type == DT_FULL || pin->type == DT_TIEBACK || pin->cement_count > 0)
            dt_report_add(r->report, DT_MSG_SLOTTED_PIN, pin->line, "pinned/string",
                          "last=\"slotted\", and the production string is %s",
                          pin->cement_count > 0 ? "cemented" : dt_string_type_text(pin->type));
        pin->type = DT_LINER;
        return;
    }
    dt_pin *more = realloc(well->pins, (well->pin_count + 1) * sizeof *more);
    if (!more) {
        r->out_of_memory = true;
        return;
    }
    well->pins = more;
    more[well->pin_count++] = (dt_pin){.role = DT_PRODUCTION,
                                       .type = DT_LINER,
                                       .shoe_m = NAN,
                                       .hole_m = NAN,
                                       .od_m = NAN,
                                       .weight_kgm = NAN,
                                       .wear_m = NAN,
                                       .line = well->objective_line};
}

/** As the trade has the word: holes of 80 deg and more. Common practice, no source. */
#define LATERAL_FROM_RAD (80 * PI / 180)

/** The depth of an objective on the path; nothing where the path is at fault, which is told. */
static void settle_objective(dt_reader *r)
{
    dt_well *well = r->well;
    if (!well->objective_at_end && isnan(well->objective_md_m)) return;
    if (well->station_count == 0) {
        if (well->objective_at_end && !r->gaps->path)
            dt_report_add(r->report, DT_MSG_OBJECTIVE_END, well->objective_line, "objective/@md",
                          "the well has no path");
        well->objective_m = well->objective_md_m; /* a vertical hole */
        well->objective_md_m = NAN;
        return;
    }
    dt_trajectory path = {0};
    const dt_status status = r->gaps->path
                                 ? DT_E_DOMAIN
                                 : dt_trajectory_build(well->stations, well->station_count, &path);
    if (status == DT_E_MEMORY) r->out_of_memory = true;
    if (status == DT_OK) {
        if (well->objective_at_end) well->objective_md_m = path.nodes[path.count - 1].md_m;
        well->objective_m = dt_trajectory_deepest(&path, well->objective_md_m);
        well->lateral = dt_trajectory_inclination(&path, well->objective_md_m) >= LATERAL_FROM_RAD;
    }
    dt_trajectory_free(&path);
}

static void read_objective(dt_reader *r, xmlNodePtr node)
{
    read_objective_depth(r, node);
    dt_read_quantity(r, node, "min_pipe_od", DT_KIND_DIAMETER, &DIAMETER, &r->well->min_pipe_od_m);
    static const char *const lasts[] = {"cased", "open", "slotted"};
    const int last = dt_read_word(r, node, "last", lasts, 3, 0);
    r->well->last_open = last == 1;
    r->well->last_slotted = last == 2;
    dt_read_quantity(r, node, "hole", DT_KIND_DIAMETER, &DIAMETER, &r->well->last_hole_m);
    if (!r->well->last_open && dt_has_attribute(node, "hole"))
        dt_report_add(r->report, DT_MSG_HOLE_WITHOUT_OPEN, dt_line_of(node), "objective/@hole",
                      "hole has no meaning where the last hole is cased");
    r->well->objective_line = dt_line_of(node);
}

static void read_riser(dt_reader *r, xmlNodePtr node)
{
    dt_well *well = r->well;
    well->riser_margin =
        dt_read_yes(r, node, "margin", dt_custom_word(well, DT_CUSTOM_RISER_MARGIN));
    double bore_m = NAN;
    dt_read_quantity(r, node, "bore", DT_KIND_DIAMETER, &DIAMETER, &bore_m);
    if (!isnan(bore_m)) well->riser_bore_m = bore_m;
    well->riser_line = dt_line_of(node);
}

static void read_path(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"md", DT_KIND_LENGTH, &LONG_DEPTH, offsetof(dt_station, md_m)},
        {"inclination", DT_KIND_ANGLE, &ANY_ANGLE, offsetof(dt_station, inclination_rad)},
        {"azimuth", DT_KIND_ANGLE, &AZIMUTH, offsetof(dt_station, azimuth_rad)},
    };
    dt_well *well = r->well;
    well->path_line = dt_line_of(node);
    well->stations = dt_list_for(r, node, "station", sizeof *well->stations, &well->station_count);
    if (node->_private || well->station_count == 0) r->gaps->path = true;
    xmlNodePtr at = dt_child_named(node, "station");
    for (size_t i = 0; i < well->station_count; ++i, at = dt_next_named(at, "station")) {
        dt_station *station = &well->stations[i];
        dt_read_fields(r, at, fields, COUNT(fields), station);
        station->line = dt_line_of(at);
        if (isnan(station->md_m + station->inclination_rad + station->azimuth_rad))
            r->gaps->path = true;
    }
}

/** Units of a table: for a pressure, the EMW's factor depends on the depth as well. */
typedef struct table_units {
    const dt_unit *depth, *value;
    bool pressure;
} table_units;

static bool read_table_unit(dt_reader *r, const xmlNode *node, const char *name, dt_kind kind,
                            dt_kind other, const dt_unit **out)
{
    char *text = dt_attribute(r, node, name);
    if (!text) return false;
    *out = dt_unit_spelt(kind, text);
    if (!*out && other != kind) *out = dt_unit_spelt(other, text);
    if (!*out) {
        dt_place where = dt_place_of(node, name);
        dt_quoted shown = dt_quote(text);
        dt_report_add(r->report, DT_MSG_TABLE_UNIT_UNKNOWN, dt_line_of(node), where.text,
                      "unknown unit \"%s\"", shown.text);
        if (other != kind)
            dt_report_fix(r->report, "write one of %s, or for pressures %s", dt_unit_choices(kind),
                          dt_unit_choices(other));
        else
            dt_report_fix(r->report, "write one of %s", dt_unit_choices(kind));
    }
    xmlFree(text);
    return *out != NULL;
}

/** Reads one point. False when its depth or value is missing or refused. */
static bool read_point(dt_reader *r, const xmlNode *node, const table_units *units,
                       dt_curve_point *point)
{
    const char *symbol = units->value->symbol;
    double factor = units->value->factor;
    point->line = dt_line_of(node);
    bool good = dt_read_number(r, node, "depth", units->depth->factor, units->depth->symbol, &DEPTH,
                               &point->tvd_m);
    if (isnan(point->tvd_m)) return false;
    if (units->pressure) {
        if (point->tvd_m <= 0) {
            dt_place where = dt_place_of(node, "depth");
            dt_report_add(r->report, DT_MSG_TABLE_PRESSURE_AT_SURFACE, point->line, where.text,
                          "a pressure at depth 0 has no gradient");
            return false;
        }
        factor /= DT_STANDARD_GRAVITY * point->tvd_m;
    }
    good = dt_read_number(r, node, "value", factor, symbol, &DENSITY, &point->emw_kgm3) && good;
    good = dt_read_number(r, node, "sd", factor, symbol, &SPREAD, &point->sd_kgm3) && good;
    good = dt_read_number(r, node, "low", factor, symbol, &DENSITY, &point->low_kgm3) && good;
    good = dt_read_number(r, node, "high", factor, symbol, &DENSITY, &point->high_kgm3) && good;
    return good && !isnan(point->emw_kgm3);
}

static void read_table(dt_reader *r, xmlNodePtr node, dt_curve *curve, bool *gap)
{
    static const char *const between[] = {"gradient", "pressure"};
    static const char *const distribution[] = {"normal", "triangular", "uniform"};
    curve->line = dt_line_of(node);
    curve->between = (dt_between)dt_read_word(r, node, "between", between, 2, DT_BETWEEN_GRADIENT);
    curve->distribution =
        (dt_distribution)dt_read_word(r, node, "distribution", distribution, 3, DT_NORMAL);
    dt_read_quantity(r, node, "correlation_length", DT_KIND_LENGTH, &CORRELATION,
                     &curve->correlation_length_m);

    table_units units = {0};
    bool known =
        read_table_unit(r, node, "depth_unit", DT_KIND_LENGTH, DT_KIND_LENGTH, &units.depth);
    known =
        read_table_unit(r, node, "unit", DT_KIND_DENSITY, DT_KIND_PRESSURE, &units.value) && known;
    *gap = node->_private || !known;
    if (!known) return;
    units.pressure = units.value->kind == DT_KIND_PRESSURE;

    size_t count = 0;
    curve->points = dt_list_for(r, node, "point", sizeof *curve->points, &count);
    xmlNodePtr at = dt_child_named(node, "point");
    for (size_t i = 0; i < count; ++i, at = dt_next_named(at, "point")) {
        if (read_point(r, at, &units, &curve->points[curve->count]))
            ++curve->count;
        else
            *gap = true;
    }
    if (count == 0) *gap = true;
}

static void read_pore(dt_reader *r, xmlNodePtr node)
{
    read_table(r, node, &r->well->pore, &r->gaps->pore);
}

static void read_fracture(dt_reader *r, xmlNodePtr node)
{
    if (dt_read_fracture_method(r, node)) {
        dt_curve *curve = &r->well->fracture;
        curve->line = dt_line_of(node);
        dt_read_quantity(r, node, "correlation_length", DT_KIND_LENGTH, &CORRELATION,
                         &curve->correlation_length_m);
        return;
    }
    static const char *const units[] = {"depth_unit", "unit"};
    for (size_t i = 0; i < COUNT(units); ++i)
        if (!dt_has_attribute(node, units[i]))
            dt_report_add(r->report, DT_MSG_ATTRIBUTE_MISSING, dt_line_of(node),
                          "fracture_gradient", "<fracture_gradient> has no %s", units[i]);
    read_table(r, node, &r->well->fracture, &r->gaps->fracture);
}

static void read_collapse(dt_reader *r, xmlNodePtr node)
{
    read_table(r, node, &r->well->collapse, &r->gaps->collapse);
}

static void read_overburden(dt_reader *r, xmlNodePtr node)
{
    read_table(r, node, &r->well->overburden, &r->gaps->overburden);
}

static void read_fresh_water(dt_reader *r, xmlNodePtr node)
{
    dt_read_quantity(r, node, "deepest", DT_KIND_LENGTH, &DEPTH_BELOW, &r->well->fresh_water_m);
    bool good =
        dt_read_quantity(r, node, "cover", DT_KIND_LENGTH, &DEPTH, &r->well->fresh_water_cover_m);
    if (good)
        r->well->fresh_water_cover_m =
            dt_custom_or(r->well, r->well->fresh_water_cover_m, DT_CUSTOM_FRESH_WATER_COVER);
    dt_read_depth_spread(r, node, &r->well->fresh_water_spread);
    r->well->fresh_water_line = dt_line_of(node);
}

static bool is_known_kind(const char *kind)
{
    for (const char *const *at = dt_interval_kinds(); *at; ++at)
        if (strcmp(*at, kind) == 0) return true;
    return false;
}

static void check_kind(dt_reader *r, const xmlNode *node, const char *kind)
{
    if (is_known_kind(kind)) return;
    char list[320] = "";
    for (const char *const *at = dt_interval_kinds(); *at; ++at) {
        size_t used = strlen(list);
        snprintf(list + used, sizeof list - used, "%s%s", used ? ", " : "", *at);
    }
    dt_quoted shown = dt_quote(kind);
    dt_place where = dt_place_of(node, "kind");
    dt_report_add(r->report, DT_MSG_INTERVAL_KIND_UNKNOWN, dt_line_of(node), where.text,
                  "\"%s\" is a kind the drawing has no pattern for", shown.text);
    dt_report_fix(r->report, "write one of %s; it is drawn plain as it is", list);
}

static void read_interval(dt_reader *r, xmlNodePtr node, dt_interval *interval)
{
    static const char *const actions[] = {"case-off", "case-above", "avoid-shoe"};
    static const char *const permeable[] = {"", "yes", "no"};
    static const dt_field fields[] = {
        {"top", DT_KIND_LENGTH, &DEPTH, offsetof(dt_interval, top_m)},
        {"base", DT_KIND_LENGTH, &DEPTH, offsetof(dt_interval, base_m)},
        {"within", DT_KIND_LENGTH, &DEPTH, offsetof(dt_interval, within_m)},
    };
    interval->line = dt_line_of(node);
    interval->name = dt_read_name(r, node, "name");
    interval->kind = dt_read_name(r, node, "kind");
    if (interval->kind) check_kind(r, node, interval->kind);
    dt_read_fields(r, node, fields, COUNT(fields), interval);
    dt_read_depth_spread(r, node, &interval->top_spread);
    if (!dt_has_attribute(node, "within"))
        interval->within_m = dt_custom_value_of(r->well, DT_CUSTOM_INTERVAL_WITHIN);
    interval->action = (dt_action)dt_read_word(r, node, "action", actions, 3, DT_CASE_OFF);
    interval->permeable =
        (dt_permeable)dt_read_word(r, node, "permeable", permeable, 3, DT_PERMEABLE_UNSAID);
    if (dt_has_attribute(node, "within") && interval->action == DT_AVOID_SHOE) {
        dt_place where = dt_place_of(node, "within");
        dt_report_add(r->report, DT_MSG_INTERVAL_WITHIN_UNUSED, interval->line, where.text,
                      "within has no meaning for action=\"avoid-shoe\"");
    }
}

static void read_pay(dt_reader *r, xmlNodePtr node, dt_pay *pay)
{
    static const dt_field fields[] = {
        {"top", DT_KIND_LENGTH, &DEPTH, offsetof(dt_pay, top_m)},
        {"base", DT_KIND_LENGTH, &DEPTH, offsetof(dt_pay, base_m)},
    };
    pay->line = dt_line_of(node);
    pay->name = dt_read_name(r, node, "name");
    dt_read_fields(r, node, fields, COUNT(fields), pay);
}

static void read_intervals(dt_reader *r, const xmlNode *root)
{
    dt_well *well = r->well;
    well->intervals =
        dt_list_for(r, root, "interval", sizeof *well->intervals, &well->interval_count);
    xmlNodePtr at = dt_child_named(root, "interval");
    for (size_t i = 0; i < well->interval_count; ++i, at = dt_next_named(at, "interval"))
        read_interval(r, at, &well->intervals[i]);

    well->pays = dt_list_for(r, root, "pay", sizeof *well->pays, &well->pay_count);
    at = dt_child_named(root, "pay");
    for (size_t i = 0; i < well->pay_count; ++i, at = dt_next_named(at, "pay"))
        read_pay(r, at, &well->pays[i]);
}

static void read_margins(dt_reader *r, xmlNodePtr node)
{
    static const char *const rules[] = {"fixed", "depth-ratio"};
    dt_margins *margins = &r->well->margins;
    const struct {
        const char *name;
        dt_margin *margin;
        dt_custom custom;
    } all[] = {{"trip", &margins->trip, DT_CUSTOM_MARGINS_TRIP},
               {"kick", &margins->kick, DT_CUSTOM_MARGINS_KICK},
               {"surge", &margins->surge, DT_CUSTOM_MARGINS_SURGE},
               {"safety", &margins->safety, DT_CUSTOM_MARGINS_SAFETY},
               {"gain", &margins->gain, DT_CUSTOM_MARGINS_GAIN},
               {"drilling", &margins->drilling, DT_CUSTOM_MARGINS_DRILLING}};
    for (size_t i = 0; i < COUNT(all); ++i) {
        dt_read_margin(r, node, all[i].name, all[i].margin);
        if (!dt_has_attribute(node, all[i].name))
            *all[i].margin = dt_custom_margin(r->well, all[i].custom);
    }
    margins->kick_rule = (dt_kick_rule)dt_read_word(
        r, node, "kick_rule", rules, 2, dt_custom_word(r->well, DT_CUSTOM_MARGINS_KICK_RULE));
    margins->line = dt_line_of(node);
}

static void read_sticking(dt_reader *r, xmlNodePtr node)
{
    static const char *const mud[] = {"planned", "pore"};
    static const char *const rock[] = {"all", "listed"};
    static const dt_field fields[] = {
        {"normal_limit", DT_KIND_PRESSURE, &STICKING, offsetof(dt_sticking, normal_limit_pa)},
        {"abnormal_limit", DT_KIND_PRESSURE, &STICKING, offsetof(dt_sticking, abnormal_limit_pa)},
        {"normal_pore", DT_KIND_DENSITY, &DENSITY, offsetof(dt_sticking, normal_pore_kgm3)},
    };
    dt_sticking *sticking = &r->well->sticking;
    dt_read_fields(r, node, fields, COUNT(fields), sticking);
    sticking->given = true;
    sticking->mud = (dt_sticking_mud)dt_read_word(r, node, "mud", mud, 2,
                                                  dt_custom_word(r->well, DT_CUSTOM_STICKING_MUD));
    sticking->rock = (dt_sticking_rock)dt_read_word(
        r, node, "rock", rock, 2, dt_custom_word(r->well, DT_CUSTOM_STICKING_ROCK));
    sticking->line = dt_line_of(node);
}

static void read_seats(dt_reader *r, xmlNodePtr node)
{
    static const char *const prefer[] = {"shallowest", "deepest", "surest"};
    static const char *const lasts[] = {"full", "liner"};
    static const dt_field fields[] = {
        {"round_to", DT_KIND_LENGTH, &ROUNDING, offsetof(dt_seat_wishes, round_to_m)},
        {"lap", DT_KIND_LENGTH, &LAP, offsetof(dt_seat_wishes, lap_m)},
        {"past", DT_KIND_LENGTH, &PAST, offsetof(dt_seat_wishes, past_m)},
    };
    dt_seat_wishes *seats = &r->well->seats;
    dt_read_fields(r, node, fields, COUNT(fields), seats);
    seats->prefer = (dt_prefer)dt_read_word(r, node, "prefer", prefer, 3,
                                            dt_custom_word(r->well, DT_CUSTOM_SEATS_PREFER));
    seats->liners = dt_read_yes(r, node, "liners", dt_custom_word(r->well, DT_CUSTOM_SEATS_LINERS));
    seats->production = (dt_last_string)dt_read_word(
        r, node, "production", lasts, 2, dt_custom_word(r->well, DT_CUSTOM_SEATS_PRODUCTION));
    if (dt_has_attribute(node, "production")) seats->production_up_to_m = INFINITY;
    r->rounding_stated = dt_has_attribute(node, "round_to");
    seats->line = dt_line_of(node);
}

static void read_design(dt_reader *r, xmlNodePtr node)
{
    static const char *const collapse_methods[] = {"reduced-yield", "combined"};
    static const dt_field fields[] = {
        {"overpull", DT_KIND_FORCE, &PULL, offsetof(dt_design, overpull_n)},
        {"gas_gradient", DT_KIND_DENSITY, &GAS, offsetof(dt_design, gas_gradient_kgm3)},
        {"min_section", DT_KIND_LENGTH, &SECTION, offsetof(dt_design, min_section_m)},
        {"crossover", DT_KIND_LENGTH, &SECTION, offsetof(dt_design, crossover_m)},
        {"gauge", DT_KIND_LENGTH, &SECTION, offsetof(dt_design, gauge_m)},
    };
    dt_design *design = &r->well->design;
    dt_read_fields(r, node, fields, COUNT(fields), design);
    dt_read_number(r, node, "burst", 1, "", &FACTOR, &design->burst);
    dt_read_number(r, node, "collapse", 1, "", &FACTOR, &design->collapse);
    dt_read_number(r, node, "tension", 1, "", &FACTOR, &design->tension);
    dt_read_number(r, node, "tension_pulled", 1, "", &FACTOR, &design->tension_pulled);
    dt_read_number(r, node, "triaxial", 1, "", &FACTOR, &design->triaxial);
    dt_read_number(r, node, "max_sections", 1, "", &SECTIONS, &design->max_sections);
    design->collapse_method =
        (dt_collapse_choice)dt_read_word(r, node, "collapse_method", collapse_methods, 2,
                                         dt_custom_word(r->well, DT_CUSTOM_DESIGN_COLLAPSE_METHOD));
    design->sour = dt_read_yes(r, node, "sour", dt_custom_word(r->well, DT_CUSTOM_DESIGN_SOUR));
    static const char *const tight[] = {"by-pressure", "no", "yes"};
    design->gas_tight = dt_read_word(r, node, "gas_tight", tight, COUNT(tight),
                                     dt_custom_word(r->well, DT_CUSTOM_DESIGN_GAS_TIGHT));
    design->given = true;
    design->line = dt_line_of(node);
}

static void read_sizes(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"up_to_od", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_clearance_row, up_to_od_m)},
        {"radial", DT_KIND_DIAMETER, &GAP, offsetof(dt_clearance_row, radial_m)},
    };
    dt_size_wishes *sizes = &r->well->sizes;
    sizes->special_drift = dt_read_yes(r, node, "special_drift",
                                       dt_custom_word(r->well, DT_CUSTOM_SIZES_SPECIAL_DRIFT));
    sizes->opened_hole =
        dt_read_yes(r, node, "opened_hole", dt_custom_word(r->well, DT_CUSTOM_SIZES_OPENED_HOLE));
    static const char *const choices[] = {"any", "series"};
    sizes->series = dt_read_word(r, node, "choose", choices, 2,
                                 dt_custom_word(r->well, DT_CUSTOM_SIZES_CHOOSE)) == 1;
    sizes->spare = dt_read_yes(r, node, "spare", dt_custom_word(r->well, DT_CUSTOM_SIZES_SPARE));
    sizes->line = dt_line_of(node);
    sizes->clearances =
        dt_list_for(r, node, "clearance", sizeof *sizes->clearances, &sizes->clearance_count);
    xmlNodePtr at = dt_child_named(node, "clearance");
    for (size_t i = 0; i < sizes->clearance_count; ++i, at = dt_next_named(at, "clearance")) {
        dt_read_fields(r, at, fields, COUNT(fields), &sizes->clearances[i]);
        sizes->clearances[i].line = dt_line_of(at);
    }
}

static void read_conductor(dt_reader *r, xmlNodePtr node)
{
    static const char *const methods[] = {"drilled", "driven", "jetted"};
    static const dt_field fields[] = {
        {"depth", DT_KIND_LENGTH, &DEPTH_BELOW, offsetof(dt_conductor, depth_m)},
        {"soil_gradient", DT_KIND_DENSITY, &DENSITY, offsetof(dt_conductor, soil_gradient_kgm3)},
        {"returns_gradient", DT_KIND_DENSITY, &DENSITY,
         offsetof(dt_conductor, returns_gradient_kgm3)},
        {"sea_gradient", DT_KIND_DENSITY, &DENSITY, offsetof(dt_conductor, sea_gradient_kgm3)},
        {"flowline", DT_KIND_LENGTH, &FLOOR, offsetof(dt_conductor, flowline_m)},
    };
    dt_conductor *conductor = &r->well->conductor;
    r->gaps->conductor = !dt_read_fields(r, node, fields, COUNT(fields), conductor);
    conductor->method =
        (dt_conductor_method)dt_read_word(r, node, "method", methods, 3, DT_CONDUCTOR_DRILLED);
    conductor->bop = dt_read_yes(r, node, "bop", dt_custom_word(r->well, DT_CUSTOM_CONDUCTOR_BOP));
    conductor->line = dt_line_of(node);
}

static void read_slurries(dt_reader *r, const xmlNode *root)
{
    static const dt_field fields[] = {
        {"density", DT_KIND_DENSITY, &SLURRY, offsetof(dt_slurry, density_kgm3)},
        {"yield", DT_KIND_YIELD, &YIELD, offsetof(dt_slurry, yield_m3kg)},
        {"water", DT_KIND_YIELD, &MIX_WATER, offsetof(dt_slurry, water_m3kg)},
    };
    dt_well *well = r->well;
    well->slurries = dt_list_for(r, root, "slurry", sizeof *well->slurries, &well->slurry_count);
    xmlNodePtr at = dt_child_named(root, "slurry");
    for (size_t i = 0; i < well->slurry_count; ++i, at = dt_next_named(at, "slurry")) {
        dt_slurry *slurry = &well->slurries[i];
        dt_read_fields(r, at, fields, COUNT(fields), slurry);
        slurry->name = dt_read_name(r, at, "name");
        slurry->line = dt_line_of(at);
        if (!slurry->name) r->gaps->slurries = true;
    }
}

static void read_cements(dt_reader *r, xmlNodePtr node, dt_pin *pin)
{
    static const char *const on[] = {"open-hole", "annulus"};
    static const dt_field fields[] = {
        {"top", DT_KIND_LENGTH, &DEPTH, offsetof(dt_pinned_cement, top_m)},
        {"excess", DT_KIND_FRACTION, &EXCESS, offsetof(dt_pinned_cement, excess)},
        {"collar_above_shoe", DT_KIND_LENGTH, &COLLAR,
         offsetof(dt_pinned_cement, collar_above_shoe_m)},
    };
    pin->cement = dt_list_for(r, node, "cement", sizeof *pin->cement, &pin->cement_count);
    xmlNodePtr at = dt_child_named(node, "cement");
    for (size_t i = 0; i < pin->cement_count; ++i, at = dt_next_named(at, "cement")) {
        dt_pinned_cement *cement = &pin->cement[i];
        dt_read_fields(r, at, fields, COUNT(fields), cement);
        cement->slurry = dt_read_name(r, at, "slurry");
        cement->excess_on =
            (dt_excess_on)dt_read_word(r, at, "excess_on", on, 2, DT_EXCESS_OPEN_HOLE);
        cement->line = dt_line_of(at);
    }
}

static void read_pin(dt_reader *r, xmlNodePtr node, dt_pin *pin)
{
    static const char *const types[] = {"full", "liner", "tieback"};
    static const char *const roles[] = {"conductor", "surface", "intermediate", "production"};
    static const dt_field fields[] = {
        {"shoe", DT_KIND_LENGTH, &DEPTH_BELOW, offsetof(dt_pin, shoe_m)},
        {"hole", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_pin, hole_m)},
        {"od", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_pin, od_m)},
        {"weight", DT_KIND_LINEAR_MASS, &WEIGHT, offsetof(dt_pin, weight_kgm)},
        {"wear", DT_KIND_DIAMETER, &WEAR, offsetof(dt_pin, wear_m)},
    };
    dt_read_fields(r, node, fields, COUNT(fields), pin);
    int role = dt_read_word(r, node, "role", roles, DT_ROLE_COUNT, -1);
    if (role < 0) r->gaps->pins = true; /* the schema has told */
    pin->role = role < 0 ? DT_INTERMEDIATE : (dt_role)role;
    pin->type = (dt_string_type)dt_read_word(r, node, "type", types, 3, DT_TYPE_UNSAID);
    pin->grade = dt_read_name(r, node, "grade");
    pin->thread = dt_read_name(r, node, "thread");
    pin->line = dt_line_of(node);
    read_cements(r, node, pin);
}

static void read_pinned(dt_reader *r, xmlNodePtr node)
{
    dt_well *well = r->well;
    if (node->_private) r->gaps->pins = true;
    well->pins = dt_list_for(r, node, "string", sizeof *well->pins, &well->pin_count);
    xmlNodePtr at = dt_child_named(node, "string");
    for (size_t i = 0; i < well->pin_count; ++i, at = dt_next_named(at, "string"))
        read_pin(r, at, &well->pins[i]);
}

/* ---- the whole ---- */

typedef struct element {
    const char *name;
    void (*read)(dt_reader *, xmlNodePtr);
    bool required;
} element;

/* Elements that stand at most once. */
static const element ELEMENTS[] = {
    {"document", read_document, false},
    {"note", read_note, false},
    {"datum", read_datum, true},
    {"objective", read_objective, true},
    {"path", read_path, false},
    {"pore_pressure", read_pore, true},
    {"fracture_gradient", read_fracture, true},
    {"offsets", dt_read_offsets, false},
    {"spread", dt_read_spread, false},
    {"collapse_gradient", read_collapse, false},
    {"overburden", read_overburden, false},
    {"fresh_water", read_fresh_water, false},
    {"margins", read_margins, false},
    {"sticking", read_sticking, false},
    {"seats", read_seats, false},
    {"design", read_design, false},
    {"sizes", read_sizes, false},
    {"conductor", read_conductor, true},
    {"pinned", read_pinned, false},
    {"prices", dt_read_prices, false},
    {"times", dt_read_times, false},
    {"wishes", dt_read_wishes, false},
    {"cementing", dt_read_cementing, false},
    {"rheology", dt_read_rheology, false},
    {"running", dt_read_running, false},
    {"caliper", dt_read_caliper, false},
    {"kick_tolerance", dt_read_kick, false},
    {"loads", dt_read_loads, false},
    {"temperature", dt_read_temperature, false},
    {"derating", dt_read_derating, false},
    {"wellhead", dt_read_wellhead, false},
    {"riser", read_riser, false},
    {"liner_hangers", dt_read_hangers, false},
    {"liner_top_test", dt_read_liner_test, false},
};

/** Tables that offset wells make where the file does not state them. */
static bool by_offsets(const xmlNode *root, const element *row)
{
    return (row->read == read_pore || row->read == read_fracture) &&
           dt_child_named(root, "offsets") != NULL;
}

static void read_element(dt_reader *r, const xmlNode *root, const element *row)
{
    xmlNodePtr first = dt_child_named(root, row->name);
    if (first) {
        row->read(r, first);
    } else if (row->required && !by_offsets(root, row)) {
        dt_report_add(r->report, DT_MSG_ELEMENT_MISSING, dt_line_of(root), "well",
                      "<well> has no <%s>", row->name);
        dt_report_fix(r->report, "add <%s .../>", row->name);
    }
    for (xmlNodePtr at = first ? dt_next_named(first, row->name) : NULL; at;
         at = dt_next_named(at, row->name))
        dt_report_add(r->report, DT_MSG_ELEMENT_REPEATED, dt_line_of(at), row->name,
                      "a second <%s>; the first is in line %d", row->name, dt_line_of(first));
}

/** Choices of elements that the file may leave out. */
static void take_words(dt_well *well)
{
    dt_load_wishes *loads = &well->loads;
    well->sticking.mud = (dt_sticking_mud)dt_custom_word(well, DT_CUSTOM_STICKING_MUD);
    well->sticking.rock = (dt_sticking_rock)dt_custom_word(well, DT_CUSTOM_STICKING_ROCK);
    well->seats.prefer = (dt_prefer)dt_custom_word(well, DT_CUSTOM_SEATS_PREFER);
    well->seats.liners = dt_custom_word(well, DT_CUSTOM_SEATS_LINERS) == 1;
    well->margins =
        (dt_margins){.trip = dt_custom_margin(well, DT_CUSTOM_MARGINS_TRIP),
                     .kick = dt_custom_margin(well, DT_CUSTOM_MARGINS_KICK),
                     .surge = dt_custom_margin(well, DT_CUSTOM_MARGINS_SURGE),
                     .safety = dt_custom_margin(well, DT_CUSTOM_MARGINS_SAFETY),
                     .gain = dt_custom_margin(well, DT_CUSTOM_MARGINS_GAIN),
                     .drilling = dt_custom_margin(well, DT_CUSTOM_MARGINS_DRILLING),
                     .kick_rule = (dt_kick_rule)dt_custom_word(well, DT_CUSTOM_MARGINS_KICK_RULE)};
    well->seats.production = (dt_last_string)dt_custom_word(well, DT_CUSTOM_SEATS_PRODUCTION);
    well->seats.production_up_to_m = dt_custom_value_of(well, DT_CUSTOM_SEATS_PRODUCTION_UP_TO);
    well->sizes.series = dt_custom_word(well, DT_CUSTOM_SIZES_CHOOSE) == 1;
    well->sizes.spare = dt_custom_word(well, DT_CUSTOM_SIZES_SPARE) == 1;
    well->conductor.bop = dt_custom_word(well, DT_CUSTOM_CONDUCTOR_BOP) == 1;
    well->sizes.special_drift = dt_custom_word(well, DT_CUSTOM_SIZES_SPECIAL_DRIFT) == 1;
    well->sizes.opened_hole = dt_custom_word(well, DT_CUSTOM_SIZES_OPENED_HOLE) == 1;
    loads->kick = (dt_kick_case)dt_custom_word(well, DT_CUSTOM_LOADS_KICK);
    dt_take_influx(well);
    loads->evacuation = (dt_evacuation)dt_custom_word(well, DT_CUSTOM_LOADS_EVACUATION);
    loads->running = (dt_running_load)dt_custom_word(well, DT_CUSTOM_LOADS_RUNNING);
    loads->burst_outside = (dt_outside)dt_custom_word(well, DT_CUSTOM_LOADS_BURST_OUTSIDE);
    well->kick.law = (dt_gas_law)dt_custom_word(well, DT_CUSTOM_KICK_GAS_LAW);
    well->wellhead.hung_buckles = dt_custom_word(well, DT_CUSTOM_WELLHEAD_HUNG_BUCKLES) == 1;
    well->wellhead.mudline = dt_custom_word(well, DT_CUSTOM_WELLHEAD_MUDLINE) == 1;
    well->riser_margin = dt_custom_word(well, DT_CUSTOM_RISER_MARGIN) == 1;
    well->riser_bore_m = dt_custom_value_of(well, DT_CUSTOM_RISER_BORE);
    well->wishes.no_tiebacks = dt_custom_word(well, DT_CUSTOM_WISHES_TIEBACKS) == 0;
}

void dt_well_start(dt_well *well)
{
    dt_well_start_on(well, NULL);
}

void dt_well_start_on(dt_well *well, const dt_basis *basis)
{
    memset(well, 0, sizeof *well);
    well->basis = basis;
    well->rig_floor_m = well->objective_m = well->objective_md_m = well->min_pipe_od_m = NAN;
    well->pore.correlation_length_m = well->fracture.correlation_length_m = NAN;
    well->collapse.correlation_length_m = well->overburden.correlation_length_m = NAN;
    well->fresh_water_m = well->fresh_water_cover_m = NAN;
    well->sticking.normal_limit_pa = well->sticking.abnormal_limit_pa = NAN;
    well->sticking.normal_pore_kgm3 = NAN;
    well->last_hole_m = NAN;
    well->seats.lap_m = well->seats.past_m = NAN;
    well->seats.round_to_m = dt_custom_value_of(well, DT_CUSTOM_SEATS_ROUND_TO);
    if (!(well->seats.round_to_m > 0)) well->seats.round_to_m = NAN;
    well->design.burst = well->design.collapse = well->design.tension = NAN;
    well->design.tension_pulled = NAN;
    well->design.triaxial = well->design.overpull_n = well->design.gas_gradient_kgm3 = NAN;
    well->conductor.depth_m = well->conductor.soil_gradient_kgm3 = NAN;
    well->conductor.returns_gradient_kgm3 = well->conductor.sea_gradient_kgm3 = NAN;
    well->conductor.flowline_m = NAN;
    dt_jobs_absent(well);
    dt_pressure_absent(well);
    dt_loads_absent(well);
    dt_liners_absent(well);
    dt_prices_absent(well);
    take_words(well);
}

/** Round depths are those of the file's units, where the basis has a step for metres and no layer
 * over it states another. */
static void settle_rounding(dt_reader *r)
{
    double *step_m = &r->well->seats.round_to_m;
    const dt_custom_value *values = dt_basis_of(r->well)->values;
    const dt_custom_value *plain = &values[DT_CUSTOM_SEATS_ROUND_TO];
    const dt_custom_value *metric = &values[DT_CUSTOM_SEATS_ROUND_TO_METRIC];
    if (!r->rounding_stated)
        *step_m =
            (r->well->display != DT_DISPLAY_FIELD && metric->layer >= plain->layer ? metric : plain)
                ->si;
    if (!(*step_m > 0)) *step_m = NAN; /* 0: none, whatever the basis says */
}

dt_status dt_well_read(struct _xmlDoc *doc, dt_report *report, dt_well *well, dt_well_gaps *gaps)
{
    dt_reader r = {.report = report, .well = well, .gaps = gaps};
    xmlNodePtr root = xmlDocGetRootElement(doc);
    const dt_well found = *well;
    dt_well_start_on(well, found.basis);
    well->own_basis = found.own_basis;
    well->basis_taken = found.basis_taken;
    gaps->conductor = true; /* until one is read: its absence is told as such */
    well->name = dt_read_name(&r, root, "name");
    read_units(&r, root);
    for (size_t i = 0; i < COUNT(ELEMENTS); ++i)
        read_element(&r, root, &ELEMENTS[i]);
    read_intervals(&r, root);
    read_slurries(&r, root);
    dt_read_leak_offs(&r, root);
    settle_objective(&r);
    settle_slotted(&r);
    settle_rounding(&r);
    dt_settle_offsets(&r);
    if (dt_well_join_depths(well) != DT_OK) r.out_of_memory = true;
    dt_settle_fracture(&r);
    dt_settle_spread(&r);
    return r.out_of_memory ? DT_E_MEMORY : DT_OK;
}

/* Elements of a basis that a well file has too, and whose readers ask for nothing else. */
static const element BASIS_ELEMENTS[] = {
    {"margins", read_margins, false},
    {"sticking", read_sticking, false},
    {"seats", read_seats, false},
    {"design", read_design, false},
    {"sizes", read_sizes, false},
    {"conductor", read_conductor, false},
    {"times", dt_read_times, false},
    {"wishes", dt_read_wishes, false},
    {"cementing", dt_read_cementing, false},
    {"rheology", dt_read_rheology, false},
    {"running", dt_read_running, false},
    {"kick_tolerance", dt_read_kick, false},
    {"loads", dt_read_loads, false},
    {"wellhead", dt_read_wellhead, false},
    {"riser", read_riser, false},
    {"liner_hangers", dt_read_hangers, false},
};

dt_status dt_well_limit_basis(const struct _xmlNode *root, dt_report *report)
{
    dt_well_gaps gaps = {0};
    dt_well *scratch = calloc(1, sizeof *scratch);
    if (!scratch) return DT_E_MEMORY;
    dt_well_start(scratch);
    dt_reader r = {.report = report, .well = scratch, .gaps = &gaps};
    for (size_t i = 0; i < COUNT(BASIS_ELEMENTS); ++i)
        read_element(&r, root, &BASIS_ELEMENTS[i]);
    dt_well_free(scratch);
    return r.out_of_memory ? DT_E_MEMORY : DT_OK;
}
