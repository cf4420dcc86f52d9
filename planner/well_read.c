/* SPDX-License-Identifier: MIT */
/* From a tree that fits the schema to the model, element by element. Single values are
 * well_values.c's, what values mean together is well_check.c's. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "drawtube/catalogue.h"
#include "well_read_loads.h"
#include "well_values.h"

/* No list of a well file needs more. Later stages compare lists with each other, so without a
 * cap a 4 MiB file could keep them busy for hours. */
#define LIST_MAX 2000

/* ---- limits ---- */

/* Reasons are facts of the trade from memory unless they name a source. */
static const dt_limit FLOOR = {0, 300, false, "no rig floor stands so high"};
static const dt_limit WATER = {0, 5000, true, "no well stands in deeper water"};
static const dt_limit DEPTH = {0, 15000, false, "the deepest holes are little over 12 km"};
static const dt_limit DEPTH_BELOW = {0, 15000, true, "the deepest holes are little over 12 km"};
static const dt_limit LONG_DEPTH = {0, 20000, false, "the longest holes are about 15 km"};
static const dt_limit DENSITY = {0, 3000, true, "rock itself weighs little more than 2700 kg/m3"};
static const dt_limit SPREAD = {0, 3000, false, "a spread is smaller than its value"};
static const dt_limit GAS = {0, 1000, false, "gas is lighter than water"};
static const dt_limit SLURRY = {500, 3000, false, "the heaviest slurries are about 2600 kg/m3"};
static const dt_limit MARGIN_EMW = {0, 5 * DT_KGM3_PER_PPG, false, "margins are parts of one ppg"};
static const dt_limit MARGIN_PA = {0, 100e6, false, "margins are a few hundred psi"};
static const dt_limit STICKING = {0, 100e6, true, "pipe sticks at a few thousand psi"};
static const dt_limit DIAMETER = {DT_M_PER_IN, 60 * DT_M_PER_IN, false,
                                  "pipes and bits are from 1 to 60 in"};
static const dt_limit GAP = {0, 10 * DT_M_PER_IN, true, "a gap is an inch or so"};
static const dt_limit WEIGHT = {1, 1500, false, "the heaviest casing is about 800 kg/m"};
static const dt_limit FACTOR = {0.5, 5, false, "design factors are from 1 to 2"};
static const dt_limit PULL = {0, 20e6, false, "no rig pulls so much"};
static const dt_limit LAP = {1, 1000, false, "laps are about 100 m"};
static const dt_limit ROUNDING = {0.01, 1000, false, "seats are rounded to 1 to 100 ft or m"};
static const dt_limit CORRELATION = {0, 15000, true, "no well is longer"};
static const dt_limit AZIMUTH = {-2 * 3.14159265358979323846, 2 * 3.14159265358979323846, false,
                                 "a full turn is 360 deg"};
static const dt_limit ANY_ANGLE = {-10, 10, false, "inclination is from 0 to below 90 deg"};
static const dt_limit SECTIONS = {1, 8, false, "strings have one to four sections"};
static const dt_limit SECTION = {0, 15000, false, "the deepest holes are little over 12 km"};
static const dt_limit WEAR = {0, 2 * DT_M_PER_IN, false, "walls are an inch or less"};
static const dt_limit EXCESS = {0, 10, false, "an excess is a part of the hole's volume"};
static const dt_limit COLLAR = {-20000, 20000, false, "no well is longer"};
static const dt_limit YIELD = {1e-4, 2e-2, false, "yields are about 0.7 to 3 L/kg"};
static const dt_limit MIX_WATER = {0, 2e-2, false, "mix water is about 0.3 to 2 L/kg"};

/* running and cementing */
static const dt_limit SHARE = {0, 1, true, "a share is at most 100 %"};
static const dt_limit FLOW = {0, 0.5, true, "pumps move 1 to 20 bbl/min"};
static const dt_limit SHORT_TIME = {0, 3600, true, "a joint is lowered in a minute or so"};
static const dt_limit TIME = {0, 30 * 86400.0, false, "a month is too long for a job"};
static const dt_limit SPEED = {0, 5, true, "pipe is run at walking speed"};
static const dt_limit VISCOSITY = {0, 1, false, "muds and slurries have 5 to 300 cP"};
static const dt_limit YIELD_POINT = {0, 100, false, "yield points are 5 to 60 lbf/100ft2"};
static const dt_limit JOINT = {4, 20, false, "casing is delivered in joints of 16 to 48 ft"};
static const dt_limit RANGE = {1, 3, false, "API Spec 5CT has ranges 1, 2 and 3"};
static const dt_limit JOINTS = {0, 1000, true, "no string is so long"};
static const dt_limit TRACK = {0, 10, false, "shoe tracks have one to three joints"};
static const dt_limit FRICTION = {0, 1, false, "friction factors are 0.1 to 0.5"};
static const dt_limit PEAK = {1, 5, false, "peaks are about 1.5 times the mean"};
static const dt_limit RATE = {0, 200, true, "crews run 5 to 30 joints an hour"};
static const dt_limit RATHOLE = {0, 1000, false, "a rathole is some ft deep"};
static const dt_limit HEIGHT = {0, 5000, false, "heights of cement are some 100 ft"};

/* of prices, times and wishes */
static const dt_limit PRICE = {0, 1e12, false, "no well costs so much"};
static const dt_limit SPEED_M = {0, 3000, true, "no hole and no pipe goes so fast"};
static const dt_limit JOINTS_H = {0, 200, true, "no crew runs so many joints in an hour"};
static const dt_limit STRETCH = {0, 15000, true, "no well is longer"};
static const dt_limit HOURS = {0, 1000, false, "no step of a well takes so many hours"};
static const dt_limit MINUTES = {0, 600, false, "a connection takes minutes"};
static const dt_limit RESERVE = {0, 2, false, "a reserve is a part of the time"};
static const dt_limit HOOK = {0, 20e6, true, "no rig pulls so much"};
static const dt_limit STRINGS = {2, 16, false, "no more strings than 16 telescope"};

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- children ---- */

static xmlNodePtr first_named(xmlNodePtr node, const char *name)
{
    while (node && (node->type != XML_ELEMENT_NODE || strcmp((const char *)node->name, name) != 0))
        node = node->next;
    return node;
}

static xmlNodePtr child_named(const xmlNode *parent, const char *name)
{
    return first_named(parent->children, name);
}

static xmlNodePtr next_named(const xmlNode *node, const char *name)
{
    return first_named(node->next, name);
}

/** Zeroed memory for all children of a name, at most LIST_MAX; NULL and 0 when there are none. */
static void *list_for(dt_reader *r, const xmlNode *parent, const char *name, size_t size,
                      size_t *count)
{
    *count = 0;
    size_t found = 0;
    for (xmlNodePtr at = child_named(parent, name); at; at = next_named(at, name))
        if (++found == LIST_MAX + 1) {
            dt_place where = dt_place_of(at, NULL);
            dt_report_add(r->report, DT_MSG_LIST_TOO_LONG, dt_line_of(at), where.text,
                          "more than %d <%s> in one list", LIST_MAX, name);
        }
    if (found == 0) return NULL;
    if (found > LIST_MAX) found = LIST_MAX;
    void *list = calloc(found, size);
    if (list)
        *count = found;
    else
        r->out_of_memory = true;
    return list;
}

xmlNodePtr dt_child_named(const xmlNode *parent, const char *name)
{
    return child_named(parent, name);
}

xmlNodePtr dt_next_named(const xmlNode *node, const char *name)
{
    return next_named(node, name);
}

void *dt_list_for(dt_reader *r, const xmlNode *parent, const char *name, size_t size, size_t *count)
{
    return list_for(r, parent, name, size, count);
}

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

static void read_datum(dt_reader *r, xmlNodePtr node)
{
    static const char *const over[] = {"ground", "sea"};
    dt_well *well = r->well;
    dt_read_quantity(r, node, "rig_floor", DT_KIND_LENGTH, &FLOOR, &well->rig_floor_m);
    int word = dt_read_word(r, node, "over", over, 2, -1);
    well->over_sea = word == 1;
    if (word < 0) r->gaps->over = r->gaps->water_depth = true; /* the schema has told */
    well->datum_line = dt_line_of(node);
    well->water_depth_m = 0;
    if (!dt_has_attribute(node, "water_depth")) return;
    if (!dt_read_quantity(r, node, "water_depth", DT_KIND_LENGTH, &WATER, &well->water_depth_m))
        r->gaps->water_depth = true;
}

static void read_objective(dt_reader *r, xmlNodePtr node)
{
    dt_read_quantity(r, node, "depth", DT_KIND_LENGTH, &DEPTH_BELOW, &r->well->objective_m);
    dt_read_quantity(r, node, "min_pipe_od", DT_KIND_DIAMETER, &DIAMETER, &r->well->min_pipe_od_m);
    r->well->objective_line = dt_line_of(node);
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
    well->stations = list_for(r, node, "station", sizeof *well->stations, &well->station_count);
    if (node->_private || well->station_count == 0) r->gaps->path = true;
    xmlNodePtr at = child_named(node, "station");
    for (size_t i = 0; i < well->station_count; ++i, at = next_named(at, "station")) {
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
    *out = dt_unit_find(kind, text);
    if (!*out && other != kind) *out = dt_unit_find(other, text);
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
    curve->points = list_for(r, node, "point", sizeof *curve->points, &count);
    xmlNodePtr at = child_named(node, "point");
    for (size_t i = 0; i < count; ++i, at = next_named(at, "point")) {
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
    if (good && isnan(r->well->fresh_water_cover_m)) r->well->fresh_water_cover_m = 0;
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
    if (!dt_has_attribute(node, "within")) interval->within_m = 0;
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
    well->intervals = list_for(r, root, "interval", sizeof *well->intervals, &well->interval_count);
    xmlNodePtr at = child_named(root, "interval");
    for (size_t i = 0; i < well->interval_count; ++i, at = next_named(at, "interval"))
        read_interval(r, at, &well->intervals[i]);

    well->pays = list_for(r, root, "pay", sizeof *well->pays, &well->pay_count);
    at = child_named(root, "pay");
    for (size_t i = 0; i < well->pay_count; ++i, at = next_named(at, "pay"))
        read_pay(r, at, &well->pays[i]);
}

/** A margin is an EMW or a pressure, as its unit says; absent means none. */
static void read_margin(dt_reader *r, const xmlNode *node, const char *name, dt_margin *margin)
{
    margin->emw_kgm3 = margin->pressure_pa = 0;
    char *text = dt_attribute(r, node, name);
    if (!text) return;
    double value = 0;
    dt_kind kind = DT_KIND_DENSITY;
    dt_parse parse = dt_quantity_parse(text, kind, &value);
    if (parse == DT_PARSE_UNKNOWN_UNIT) {
        kind = DT_KIND_PRESSURE;
        parse = dt_quantity_parse(text, kind, &value);
    }
    const dt_limit *bound = kind == DT_KIND_DENSITY ? &MARGIN_EMW : &MARGIN_PA;
    if (parse != DT_PARSE_OK) {
        char choices[160];
        snprintf(choices, sizeof choices, "%s, or for a pressure %s",
                 dt_unit_choices(DT_KIND_DENSITY), dt_unit_choices(DT_KIND_PRESSURE));
        dt_report_parse(r, node, name, text, parse, choices);
    } else {
        const dt_unit *unit = dt_unit_of(text, kind);
        if (dt_within_limit(r, node, name, text, value, bound, unit->factor, unit->symbol))
            *(kind == DT_KIND_DENSITY ? &margin->emw_kgm3 : &margin->pressure_pa) = value;
    }
    xmlFree(text);
}

static void read_margins(dt_reader *r, xmlNodePtr node)
{
    static const char *const rules[] = {"fixed", "depth-ratio"};
    dt_margins *margins = &r->well->margins;
    read_margin(r, node, "trip", &margins->trip);
    read_margin(r, node, "kick", &margins->kick);
    read_margin(r, node, "surge", &margins->surge);
    read_margin(r, node, "safety", &margins->safety);
    read_margin(r, node, "gain", &margins->gain);
    margins->kick_rule = (dt_kick_rule)dt_read_word(r, node, "kick_rule", rules, 2, DT_KICK_FIXED);
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
    sticking->mud = (dt_sticking_mud)dt_read_word(r, node, "mud", mud, 2, DT_STICKING_PLANNED_MUD);
    sticking->rock = (dt_sticking_rock)dt_read_word(r, node, "rock", rock, 2, DT_STICKING_ALL_ROCK);
    sticking->line = dt_line_of(node);
}

static void read_seats(dt_reader *r, xmlNodePtr node)
{
    static const char *const prefer[] = {"shallowest", "deepest"};
    static const dt_field fields[] = {
        {"round_to", DT_KIND_LENGTH, &ROUNDING, offsetof(dt_seat_wishes, round_to_m)},
        {"lap", DT_KIND_LENGTH, &LAP, offsetof(dt_seat_wishes, lap_m)},
    };
    dt_seat_wishes *seats = &r->well->seats;
    dt_read_fields(r, node, fields, COUNT(fields), seats);
    seats->prefer = (dt_prefer)dt_read_word(r, node, "prefer", prefer, 2, DT_PREFER_SHALLOWEST);
    seats->liners = dt_read_yes(r, node, "liners", true);
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
    dt_read_number(r, node, "triaxial", 1, "", &FACTOR, &design->triaxial);
    dt_read_number(r, node, "max_sections", 1, "", &SECTIONS, &design->max_sections);
    design->collapse_method = (dt_collapse_choice)dt_read_word(
        r, node, "collapse_method", collapse_methods, 2, DT_CHOOSE_REDUCED_YIELD);
    design->sour = dt_read_yes(r, node, "sour", false);
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
    sizes->special_drift = dt_read_yes(r, node, "special_drift", false);
    sizes->opened_hole = dt_read_yes(r, node, "opened_hole", false);
    sizes->line = dt_line_of(node);
    sizes->clearances =
        list_for(r, node, "clearance", sizeof *sizes->clearances, &sizes->clearance_count);
    xmlNodePtr at = child_named(node, "clearance");
    for (size_t i = 0; i < sizes->clearance_count; ++i, at = next_named(at, "clearance")) {
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
    well->slurries = list_for(r, root, "slurry", sizeof *well->slurries, &well->slurry_count);
    xmlNodePtr at = child_named(root, "slurry");
    for (size_t i = 0; i < well->slurry_count; ++i, at = next_named(at, "slurry")) {
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
    pin->cement = list_for(r, node, "cement", sizeof *pin->cement, &pin->cement_count);
    xmlNodePtr at = child_named(node, "cement");
    for (size_t i = 0; i < pin->cement_count; ++i, at = next_named(at, "cement")) {
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
    well->pins = list_for(r, node, "string", sizeof *well->pins, &well->pin_count);
    xmlNodePtr at = child_named(node, "string");
    for (size_t i = 0; i < well->pin_count; ++i, at = next_named(at, "string"))
        read_pin(r, at, &well->pins[i]);
}

/* ---- prices, times and wishes ---- */

/** A required single child of <prices>; NULL (told) when it is missing. */
static xmlNodePtr price_part(dt_reader *r, xmlNodePtr node, const char *name)
{
    xmlNodePtr part = child_named(node, name);
    if (!part) {
        dt_place where = dt_place_of(node, NULL);
        dt_report_add(r->report, DT_MSG_ELEMENT_MISSING, dt_line_of(node), where.text,
                      "<prices> has no <%s>: what it would price cannot be left out", name);
        dt_report_fix(r->report, "add <%s .../>, or leave <prices> out: nothing is priced then",
                      name);
        return NULL;
    }
    for (xmlNodePtr at = next_named(part, name); at; at = next_named(at, name)) {
        dt_place where = dt_place_of(at, NULL);
        dt_report_add(r->report, DT_MSG_ELEMENT_REPEATED, dt_line_of(at), where.text,
                      "a second <%s>; the first is in line %d", name, dt_line_of(part));
    }
    return part;
}

static void read_price(dt_reader *r, xmlNodePtr node, const char *name, double factor, double *out)
{
    dt_read_number(r, node, name, factor, "", &PRICE, out);
}

/** Rows with a key and one row without, for all the rest. */
static void check_rest(dt_reader *r, xmlNodePtr node, const char *name, const char *key)
{
    xmlNodePtr rest = NULL;
    for (xmlNodePtr at = child_named(node, name); at; at = next_named(at, name)) {
        if (dt_has_attribute(at, key)) continue;
        dt_place where = dt_place_of(at, NULL);
        if (rest)
            dt_report_add(r->report, DT_MSG_PRICE_REPEATED, dt_line_of(at), where.text,
                          "a second <%s> without %s; the first is in line %d", name, key,
                          dt_line_of(rest));
        else
            rest = at;
    }
    if (rest) return;
    dt_place where = dt_place_of(node, NULL);
    dt_report_add(r->report, DT_MSG_PRICE_MISSING, dt_line_of(node), where.text,
                  "no <%s> without %s: what no row names has no price", name, key);
    dt_report_fix(r->report, "add one <%s> without %s, for all the rest", name, key);
}

static void read_pipe_prices(dt_reader *r, xmlNodePtr node, dt_prices *prices)
{
    prices->pipes = list_for(r, node, "pipe", sizeof *prices->pipes, &prices->pipe_count);
    xmlNodePtr at = child_named(node, "pipe");
    for (size_t i = 0; i < prices->pipe_count; ++i, at = next_named(at, "pipe")) {
        dt_grade_price *row = &prices->pipes[i];
        row->grade = dt_read_name(r, at, "grade");
        row->line = dt_line_of(at);
        read_price(r, at, "per_tonne", 1e-3, &row->per_kg);
        for (size_t k = 0; k < i && row->grade; ++k)
            if (prices->pipes[k].grade && strcmp(prices->pipes[k].grade, row->grade) == 0)
                dt_report_add(r->report, DT_MSG_PRICE_REPEATED, row->line, "prices/pipe/@grade",
                              "\"%s\" has a price in line %d already", dt_quote(row->grade).text,
                              prices->pipes[k].line);
    }
    check_rest(r, node, "pipe", "grade");
}

static void read_thread_prices(dt_reader *r, xmlNodePtr node, dt_prices *prices)
{
    prices->threads = list_for(r, node, "thread", sizeof *prices->threads, &prices->thread_count);
    xmlNodePtr at = child_named(node, "thread");
    for (size_t i = 0; i < prices->thread_count; ++i, at = next_named(at, "thread")) {
        dt_thread_price *row = &prices->threads[i];
        row->thread = dt_read_name(r, at, "name");
        row->line = dt_line_of(at);
        if (row->thread && dt_thread_find(row->thread) == DT_THREAD_COUNT) {
            dt_report_add(r->report, DT_MSG_VALUE_NOT_ALLOWED, row->line, "prices/thread/@name",
                          "\"%s\" is no thread of the catalogue", dt_quote(row->thread).text);
            dt_report_fix(r->report, "write one of STC, LTC, BTC, PE");
        }
        read_price(r, at, "per_joint", 1, &row->per_joint);
        for (size_t k = 0; k < i && row->thread; ++k)
            if (prices->threads[k].thread && strcmp(prices->threads[k].thread, row->thread) == 0)
                dt_report_add(r->report, DT_MSG_PRICE_REPEATED, row->line, "prices/thread/@name",
                              "\"%s\" has a price in line %d already", dt_quote(row->thread).text,
                              prices->threads[k].line);
    }
    check_rest(r, node, "thread", "name");
}

static void report_order(dt_reader *r, int line, const char *where)
{
    dt_report_add(r->report, DT_MSG_ROWS_ORDER, line, where,
                  "up_to is not more than in the row before");
}

static void read_bit_prices(dt_reader *r, xmlNodePtr node, dt_prices *prices)
{
    prices->bits = list_for(r, node, "bit", sizeof *prices->bits, &prices->bit_count);
    xmlNodePtr at = child_named(node, "bit");
    for (size_t i = 0; i < prices->bit_count; ++i, at = next_named(at, "bit")) {
        dt_bit_price *row = &prices->bits[i];
        dt_read_quantity(r, at, "up_to", DT_KIND_DIAMETER, &DIAMETER, &row->up_to_m);
        read_price(r, at, "price", 1, &row->each);
        row->line = dt_line_of(at);
        if (i > 0 && dt_has_attribute(at, "up_to") && !(row->up_to_m > prices->bits[i - 1].up_to_m))
            report_order(r, row->line, "prices/bit/@up_to");
    }
    check_rest(r, node, "bit", "up_to");
}

static void read_prices(dt_reader *r, xmlNodePtr node)
{
    dt_prices *prices = &r->well->prices;
    r->well->prices_given = true;
    prices->line = dt_line_of(node);
    prices->currency = dt_read_name(r, node, "currency");
    const struct {
        const char *element, *attribute;
        double factor, *out;
    } fields[] = {
        {"rig", "per_day", 1, &prices->rig_per_day},
        {"liner", "hanger", 1, &prices->hanger},
        {"liner", "packer", 1, &prices->packer},
        {"wellhead", "per_stage", 1, &prices->wellhead_stage},
        {"cement", "per_tonne", 1e-3, &prices->cement_per_kg},
    };
    for (size_t i = 0; i < COUNT(fields); ++i) {
        bool told = i > 0 && strcmp(fields[i].element, fields[i - 1].element) == 0;
        xmlNodePtr part =
            told ? child_named(node, fields[i].element) : price_part(r, node, fields[i].element);
        if (part) read_price(r, part, fields[i].attribute, fields[i].factor, fields[i].out);
    }
    xmlNodePtr liner = child_named(node, "liner");
    if (liner) read_price(r, liner, "receptacle", 1, &prices->receptacle);
    xmlNodePtr rig = child_named(node, "rig");
    if (rig) read_price(r, rig, "services_per_day", 1, &prices->services_per_day);
    if (isnan(prices->services_per_day)) prices->services_per_day = 0;
    read_pipe_prices(r, node, prices);
    read_thread_prices(r, node, prices);
    read_bit_prices(r, node, prices);
}

/** Rows of <drilling> or <casing>. */
static void read_speeds(dt_reader *r, xmlNodePtr node, const char *name, bool joints,
                        dt_speed_row **rows, size_t *count)
{
    *rows = list_for(r, node, name, sizeof **rows, count);
    xmlNodePtr at = child_named(node, name);
    for (size_t i = 0; i < *count; ++i, at = next_named(at, name)) {
        dt_speed_row *row = &(*rows)[i];
        row->line = dt_line_of(at);
        dt_read_quantity(r, at, "up_to", DT_KIND_DIAMETER, &DIAMETER, &row->up_to_m);
        if (joints)
            dt_read_number(r, at, "joints_per_hour", 1, "", &JOINTS_H, &row->per_hour);
        else
            dt_read_quantity(r, at, "per_hour", DT_KIND_LENGTH, &SPEED_M, &row->per_hour);
        if (i > 0 && row->up_to_m <= (*rows)[i - 1].up_to_m)
            report_order(r, row->line, joints ? "times/casing/@up_to" : "times/drilling/@up_to");
    }
}

static void read_times(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"trip_per_hour", DT_KIND_LENGTH, &SPEED_M, offsetof(dt_times, trip_m_per_hour)},
        {"stand", DT_KIND_LENGTH, &STRETCH, offsetof(dt_times, stand_m)},
        {"bit_run", DT_KIND_LENGTH, &STRETCH, offsetof(dt_times, bit_run_m)},
        {"reserve", DT_KIND_FRACTION, &RESERVE, offsetof(dt_times, reserve)},
    };
    dt_times *times = &r->well->times;
    times->line = dt_line_of(node);
    dt_read_fields(r, node, fields, COUNT(fields), times);
    dt_read_number(r, node, "connection_minutes", 1, "", &MINUTES, &times->connection_minutes);
    const struct {
        const char *name;
        double *out;
    } hours[] = {
        {"circulate_hours", &times->circulate_hours}, {"crew_hours", &times->crew_hours},
        {"wait_hours", &times->wait_hours},           {"wellhead_hours", &times->wellhead_hours},
        {"test_hours", &times->test_hours},           {"drill_out_hours", &times->drill_out_hours},
        {"hanger_hours", &times->hanger_hours},       {"lap_test_hours", &times->lap_test_hours},
    };
    for (size_t i = 0; i < COUNT(hours); ++i)
        dt_read_number(r, node, hours[i].name, 1, "", &HOURS, hours[i].out);
    read_speeds(r, node, "drilling", false, &times->drilling, &times->drilling_count);
    read_speeds(r, node, "casing", true, &times->running, &times->running_count);
}

static void read_wishes(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"rig_hookload", DT_KIND_FORCE, &HOOK, offsetof(dt_wishes, rig_hookload_n)},
        {"bop_bore", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_wishes, bop_bore_m)},
        {"wellhead_bore", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_wishes, wellhead_bore_m)},
    };
    dt_wishes *wishes = &r->well->wishes;
    wishes->given = true;
    wishes->line = dt_line_of(node);
    dt_read_fields(r, node, fields, COUNT(fields), wishes);
    double most = NAN;
    dt_read_number(r, node, "max_strings", 1, "", &STRINGS, &most);
    if (isfinite(most) && most != floor(most))
        dt_report_add(r->report, DT_MSG_WISH_STRINGS, wishes->line, "wishes/@max_strings",
                      "%g is not a whole number of strings", most);
    else if (isfinite(most))
        wishes->max_strings = (size_t)most;
    wishes->no_tiebacks = !dt_read_yes(r, node, "tiebacks", true);
    wishes->forbidden =
        list_for(r, node, "forbid", sizeof *wishes->forbidden, &wishes->forbidden_count);
    xmlNodePtr at = child_named(node, "forbid");
    for (size_t i = 0; i < wishes->forbidden_count; ++i, at = next_named(at, "forbid")) {
        dt_read_quantity(r, at, "od", DT_KIND_DIAMETER, &DIAMETER, &wishes->forbidden[i].od_m);
        wishes->forbidden[i].line = dt_line_of(at);
    }
}

/* ---- running and cementing ---- */

#define CEMENT_FIELD(name, kind, bound, member)                                                    \
    {                                                                                              \
        name, kind, &(bound), offsetof(dt_cement_wishes, member)                                   \
    }
static const dt_field CEMENT_FIELDS[] = {
    CEMENT_FIELD("above_shoe", DT_KIND_LENGTH, HEIGHT, above_shoe_m),
    CEMENT_FIELD("tail_length", DT_KIND_LENGTH, HEIGHT, tail_length_m),
    CEMENT_FIELD("excess", DT_KIND_FRACTION, EXCESS, excess),
    CEMENT_FIELD("rathole", DT_KIND_LENGTH, RATHOLE, rathole_m),
    CEMENT_FIELD("spacer_density", DT_KIND_DENSITY, SLURRY, spacer_kgm3),
    CEMENT_FIELD("spacer_length", DT_KIND_LENGTH, HEIGHT, spacer_length_m),
    CEMENT_FIELD("displacement_density", DT_KIND_DENSITY, SLURRY, displacement_kgm3),
    CEMENT_FIELD("mix_rate", DT_KIND_FLOW, FLOW, mix_rate_m3s),
    CEMENT_FIELD("displacement_rate", DT_KIND_FLOW, FLOW, displacement_rate_m3s),
    CEMENT_FIELD("pump_bore", DT_KIND_DIAMETER, DIAMETER, pump_bore_m),
    CEMENT_FIELD("pump_stroke", DT_KIND_DIAMETER, DIAMETER, pump_stroke_m),
    CEMENT_FIELD("pump_efficiency", DT_KIND_FRACTION, SHARE, pump_efficiency),
    CEMENT_FIELD("bump_margin", DT_KIND_PRESSURE, MARGIN_PA, bump_margin_pa),
    CEMENT_FIELD("test_pressure", DT_KIND_PRESSURE, STICKING, test_pressure_pa),
    CEMENT_FIELD("wait", DT_KIND_TIME, TIME, wait_s),
    CEMENT_FIELD("wait_strength", DT_KIND_PRESSURE, STICKING, wait_strength_pa),
    CEMENT_FIELD("thickening_time", DT_KIND_TIME, TIME, thickening_s),
};
#undef CEMENT_FIELD

#define RHEOLOGY_FIELD(name, kind, bound, member)                                                  \
    {                                                                                              \
        name, kind, &(bound), offsetof(dt_rheology, member)                                        \
    }
static const dt_field RHEOLOGY_FIELDS[] = {
    RHEOLOGY_FIELD("mud_pv", DT_KIND_VISCOSITY, VISCOSITY, mud_pv_pas),
    RHEOLOGY_FIELD("mud_yp", DT_KIND_YIELD_POINT, YIELD_POINT, mud_yp_pa),
    RHEOLOGY_FIELD("spacer_pv", DT_KIND_VISCOSITY, VISCOSITY, spacer_pv_pas),
    RHEOLOGY_FIELD("spacer_yp", DT_KIND_YIELD_POINT, YIELD_POINT, spacer_yp_pa),
    RHEOLOGY_FIELD("slurry_pv", DT_KIND_VISCOSITY, VISCOSITY, slurry_pv_pas),
    RHEOLOGY_FIELD("slurry_yp", DT_KIND_YIELD_POINT, YIELD_POINT, slurry_yp_pa),
};
#undef RHEOLOGY_FIELD

#define RUNNING_FIELD(name, kind, bound, member)                                                   \
    {                                                                                              \
        name, kind, &(bound), offsetof(dt_running_wishes, member)                                  \
    }
static const dt_field RUNNING_FIELDS[] = {
    RUNNING_FIELD("joint_length", DT_KIND_LENGTH, JOINT, joint_m),
    RUNNING_FIELD("spares", DT_KIND_FRACTION, EXCESS, spares),
    RUNNING_FIELD("blocks", DT_KIND_FORCE, PULL, blocks_n),
    RUNNING_FIELD("rig_load", DT_KIND_FORCE, PULL, rig_n),
    RUNNING_FIELD("float_rating", DT_KIND_PRESSURE, STICKING, float_pa),
    RUNNING_FIELD("joint_time", DT_KIND_TIME, SHORT_TIME, joint_time_s),
    RUNNING_FIELD("rig_up", DT_KIND_TIME, TIME, rig_up_s),
    RUNNING_FIELD("trip_speed", DT_KIND_SPEED, SPEED, trip_speed_ms),
    RUNNING_FIELD("standoff", DT_KIND_FRACTION, SHARE, standoff),
    RUNNING_FIELD("rigid_od", DT_KIND_DIAMETER, DIAMETER, rigid_od_m),
    RUNNING_FIELD("restoring_force", DT_KIND_FORCE, PULL, restoring_n),
    RUNNING_FIELD("landing_weight", DT_KIND_LINEAR_MASS, WEIGHT, landing_kgm),
    RUNNING_FIELD("landing_od", DT_KIND_DIAMETER, DIAMETER, landing_od_m),
    RUNNING_FIELD("landing_id", DT_KIND_DIAMETER, DIAMETER, landing_id_m),
};
#undef RUNNING_FIELD

static const struct {
    const char *name;
    const dt_limit *bound;
    size_t offset;
} RUNNING_NUMBERS[] = {
    {"range", &RANGE, offsetof(dt_running_wishes, range)},
    {"track_joints", &TRACK, offsetof(dt_running_wishes, track_joints)},
    {"friction_cased", &FRICTION, offsetof(dt_running_wishes, friction_cased)},
    {"friction_open", &FRICTION, offsetof(dt_running_wishes, friction_open)},
    {"collapse_factor", &FACTOR, offsetof(dt_running_wishes, collapse_factor)},
    {"fill_joints", &JOINTS, offsetof(dt_running_wishes, fill_joints)},
    {"peak_factor", &PEAK, offsetof(dt_running_wishes, peak_factor)},
    {"joints_per_hour", &RATE, offsetof(dt_running_wishes, joints_per_hour)},
};

static void set_unsaid(const dt_field *fields, size_t count, void *base)
{
    const double none = NAN;
    for (size_t i = 0; i < count; ++i)
        memcpy((char *)base + fields[i].offset, &none, sizeof none);
}

/** The wishes for running and cementing. */
static void jobs_absent(dt_well *well)
{
    const double none = NAN;
    well->cementing = (dt_cement_wishes){.rathole_excess = true, .test = DT_TEST_COUNT};
    well->rheology = (dt_rheology){0};
    well->running = (dt_running_wishes){0};
    set_unsaid(CEMENT_FIELDS, COUNT(CEMENT_FIELDS), &well->cementing);
    set_unsaid(RHEOLOGY_FIELDS, COUNT(RHEOLOGY_FIELDS), &well->rheology);
    set_unsaid(RUNNING_FIELDS, COUNT(RUNNING_FIELDS), &well->running);
    for (size_t i = 0; i < COUNT(RUNNING_NUMBERS); ++i)
        memcpy((char *)&well->running + RUNNING_NUMBERS[i].offset, &none, sizeof none);
}

static void read_strengths(dt_reader *r, const xmlNode *node, dt_cement_wishes *wishes)
{
    static const dt_field fields[] = {
        {"time", DT_KIND_TIME, &TIME, offsetof(dt_strength_point, time_s)},
        {"value", DT_KIND_PRESSURE, &MARGIN_PA, offsetof(dt_strength_point, strength_pa)},
    };
    wishes->strengths =
        list_for(r, node, "strength", sizeof *wishes->strengths, &wishes->strength_count);
    xmlNodePtr at = child_named(node, "strength");
    for (size_t i = 0; i < wishes->strength_count; ++i, at = next_named(at, "strength")) {
        dt_read_fields(r, at, fields, COUNT(fields), &wishes->strengths[i]);
        wishes->strengths[i].line = dt_line_of(at);
    }
}

static void read_cementing(dt_reader *r, xmlNodePtr node)
{
    static const char *const tests[DT_TEST_COUNT] = {
#define TEST_WORD(name, word, words) [DT_TEST_##name] = word,
        DT_TEST_LIST(TEST_WORD)
#undef TEST_WORD
    };
    dt_cement_wishes *wishes = &r->well->cementing;
    wishes->given = true;
    dt_read_fields(r, node, CEMENT_FIELDS, COUNT(CEMENT_FIELDS), wishes);
    wishes->lead = dt_read_name(r, node, "lead");
    wishes->tail = dt_read_name(r, node, "tail");
    wishes->rathole_excess = dt_read_yes(r, node, "rathole_excess", true);
    read_margin(r, node, "margin", &wishes->margin);
    wishes->margin_given = dt_has_attribute(node, "margin");
    wishes->test = (dt_test_rule)dt_read_word(r, node, "test", tests, DT_TEST_COUNT, DT_TEST_COUNT);
    wishes->line = dt_line_of(node);
    read_strengths(r, node, wishes);
}

static void read_rheology(dt_reader *r, xmlNodePtr node)
{
    dt_read_fields(r, node, RHEOLOGY_FIELDS, COUNT(RHEOLOGY_FIELDS), &r->well->rheology);
    r->well->rheology.line = dt_line_of(node);
}

static void read_running(dt_reader *r, xmlNodePtr node)
{
    static const char *const kinds[] = {"bow", "rigid"};
    static const char *const movements[] = {"none", "reciprocate", "rotate"};
    static const char *const shocks[] = {"none", "speed", "weight"};
    static const char *const overpulls[] = {"buoyed", "air"};
    dt_running_wishes *wishes = &r->well->running;
    dt_read_fields(r, node, RUNNING_FIELDS, COUNT(RUNNING_FIELDS), wishes);
    for (size_t i = 0; i < COUNT(RUNNING_NUMBERS); ++i) {
        double value = NAN;
        dt_read_number(r, node, RUNNING_NUMBERS[i].name, 1, "", RUNNING_NUMBERS[i].bound, &value);
        memcpy((char *)wishes + RUNNING_NUMBERS[i].offset, &value, sizeof value);
    }
    read_margin(r, node, "margin", &wishes->margin);
    wishes->margin_given = dt_has_attribute(node, "margin");
    wishes->centralizer = (dt_centralizer_kind)dt_read_word(r, node, "centralizer", kinds, 2, 0);
    wishes->movement = (dt_movement)dt_read_word(r, node, "movement", movements, 3, 0);
    wishes->shock = (dt_shock)dt_read_word(r, node, "shock", shocks, 3, 0);
    wishes->overpull_on_air = dt_read_word(r, node, "overpull_on", overpulls, 2, 0) == 1;
    wishes->scratchers = dt_read_yes(r, node, "scratchers", false);
    wishes->line = dt_line_of(node);
}

static void read_caliper(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"md", DT_KIND_LENGTH, &LONG_DEPTH, offsetof(dt_caliper_point, md_m)},
        {"diameter", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_caliper_point, diameter_m)},
    };
    dt_well *well = r->well;
    well->caliper = list_for(r, node, "reading", sizeof *well->caliper, &well->caliper_count);
    xmlNodePtr at = child_named(node, "reading");
    for (size_t i = 0; i < well->caliper_count; ++i, at = next_named(at, "reading")) {
        dt_read_fields(r, at, fields, COUNT(fields), &well->caliper[i]);
        well->caliper[i].line = dt_line_of(at);
    }
}

/* ---- the whole ---- */

typedef struct element {
    const char *name;
    void (*read)(dt_reader *, xmlNodePtr);
    bool required;
} element;

/* Elements that stand at most once. */
static const element ELEMENTS[] = {
    {"note", read_note, false},
    {"datum", read_datum, true},
    {"objective", read_objective, true},
    {"path", read_path, false},
    {"pore_pressure", read_pore, true},
    {"fracture_gradient", read_fracture, true},
    {"collapse_gradient", read_collapse, false},
    {"overburden", read_overburden, false},
    {"fresh_water", read_fresh_water, false},
    {"margins", read_margins, true},
    {"sticking", read_sticking, false},
    {"seats", read_seats, false},
    {"design", read_design, false},
    {"sizes", read_sizes, false},
    {"conductor", read_conductor, true},
    {"pinned", read_pinned, false},
    {"prices", read_prices, false},
    {"times", read_times, false},
    {"wishes", read_wishes, false},
    {"cementing", read_cementing, false},
    {"rheology", read_rheology, false},
    {"running", read_running, false},
    {"caliper", read_caliper, false},
    {"kick_tolerance", dt_read_kick, false},
    {"loads", dt_read_loads, false},
    {"temperature", dt_read_temperature, false},
    {"derating", dt_read_derating, false},
    {"wellhead", dt_read_wellhead, false},
    {"liner_hangers", dt_read_hangers, false},
    {"liner_top_test", dt_read_liner_test, false},
};

static void read_element(dt_reader *r, const xmlNode *root, const element *row)
{
    xmlNodePtr first = child_named(root, row->name);
    if (first) {
        row->read(r, first);
    } else if (row->required) {
        dt_report_add(r->report, DT_MSG_ELEMENT_MISSING, dt_line_of(root), "well",
                      "<well> has no <%s>", row->name);
        dt_report_fix(r->report, "add <%s .../>", row->name);
    }
    for (xmlNodePtr at = first ? next_named(first, row->name) : NULL; at;
         at = next_named(at, row->name))
        dt_report_add(r->report, DT_MSG_ELEMENT_REPEATED, dt_line_of(at), row->name,
                      "a second <%s>; the first is in line %d", row->name, dt_line_of(first));
}

void dt_well_start(dt_well *well)
{
    memset(well, 0, sizeof *well);
    well->rig_floor_m = well->objective_m = well->min_pipe_od_m = NAN;
    well->pore.correlation_length_m = well->fracture.correlation_length_m = NAN;
    well->collapse.correlation_length_m = well->overburden.correlation_length_m = NAN;
    well->fresh_water_m = well->fresh_water_cover_m = NAN;
    well->sticking.normal_limit_pa = well->sticking.abnormal_limit_pa = NAN;
    well->sticking.normal_pore_kgm3 = NAN;
    well->seats.round_to_m = well->seats.lap_m = NAN;
    well->seats.liners = true;
    well->design.burst = well->design.collapse = well->design.tension = NAN;
    well->design.triaxial = well->design.overpull_n = well->design.gas_gradient_kgm3 = NAN;
    well->conductor.depth_m = well->conductor.soil_gradient_kgm3 = NAN;
    well->conductor.returns_gradient_kgm3 = well->conductor.sea_gradient_kgm3 = NAN;
    well->conductor.flowline_m = NAN;
    jobs_absent(well);
    dt_pressure_absent(well);
    dt_loads_absent(well);
    dt_liners_absent(well);
    well->prices.rig_per_day = well->prices.services_per_day = NAN;
    well->prices.receptacle = NAN;
    well->prices.hanger = well->prices.packer = well->prices.wellhead_stage = NAN;
    well->prices.cement_per_kg = NAN;
    dt_times *t = &well->times;
    t->trip_m_per_hour = t->connection_minutes = t->stand_m = t->bit_run_m = NAN;
    t->circulate_hours = t->crew_hours = t->wait_hours = t->wellhead_hours = NAN;
    t->test_hours = t->drill_out_hours = t->hanger_hours = t->lap_test_hours = NAN;
    t->reserve = NAN;
    well->wishes.rig_hookload_n = well->wishes.bop_bore_m = well->wishes.wellhead_bore_m = NAN;
}

dt_status dt_well_read(struct _xmlDoc *doc, dt_report *report, dt_well *well, dt_well_gaps *gaps)
{
    dt_reader r = {.report = report, .well = well, .gaps = gaps};
    xmlNodePtr root = xmlDocGetRootElement(doc);
    dt_well_start(well);
    gaps->conductor = true; /* until one is read: its absence is told as such */
    well->name = dt_read_name(&r, root, "name");
    for (size_t i = 0; i < COUNT(ELEMENTS); ++i)
        read_element(&r, root, &ELEMENTS[i]);
    read_intervals(&r, root);
    read_slurries(&r, root);
    dt_read_leak_offs(&r, root);
    dt_settle_fracture(&r);
    return r.out_of_memory ? DT_E_MEMORY : DT_OK;
}
