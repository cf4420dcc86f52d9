/* SPDX-License-Identifier: MIT */
/* From the file to the model: how strings are run and cemented. */
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "basis.h"
#include "well_elements.h"
#include "well_limits.h"

static const dt_limit SHARE = {0, 1, true, "a share is at most 100 %"};
static const dt_limit FLOW = {0, 0.5, true, "pumps move 1 to 20 bbl/min"};
static const dt_limit SHORT_TIME = {0, 3600, true, "a joint is lowered in a minute or so"};
static const dt_limit TIME = {0, 30 * 86400.0, false, "a month is too long for a job"};
static const dt_limit SPEED = {0, 5, true, "pipe is run at walking speed"};
static const dt_limit VISCOSITY = {0, 1, false, "muds and slurries have 5 to 300 cP"};
static const dt_limit YIELD_POINT = {0, 100, false, "yield points are 5 to 60 lbf/100ft2"};
static const dt_limit CONSISTENCY = {0, 100, true, "a mud's k is 0.1 to 10 lbf/100ft2"};
static const dt_limit EXPONENT = {0.1, 1, false, "a mud thins when it is sheared: n is 0.3 to 1"};
static const dt_limit DIAL = {0, 300, true, "the dial of a rheometer goes to 300 degrees"};
static const dt_limit JOINT = {4, 20, false, "casing is delivered in joints of 16 to 48 ft"};
static const dt_limit RANGE = {1, 3, false, "API Spec 5CT has ranges 1, 2 and 3"};
static const dt_limit JOINTS = {0, 1000, true, "no string is so long"};
static const dt_limit TRACK = {0, 10, false, "shoe tracks have one to three joints"};
static const dt_limit FRICTION = {0, 1, false, "friction factors are 0.1 to 0.5"};
static const dt_limit PEAK = {1, 5, false, "peaks are about 1.5 times the mean"};
static const dt_limit RATE = {0, 200, true, "crews run 5 to 30 joints an hour"};
static const dt_limit RATHOLE = {0, 1000, false, "a rathole is some ft deep"};
static const dt_limit HEIGHT = {0, 5000, false, "heights of cement are some 100 ft"};

#define COUNT(array) (sizeof(array) / sizeof *(array))

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
    RHEOLOGY_FIELD("mud_k", DT_KIND_YIELD_POINT, CONSISTENCY, mud_k_pasn),
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

/** A number without a unit. */
typedef struct plain_number {
    const char *name;
    const dt_limit *bound;
    size_t offset;
} plain_number;

static const plain_number RHEOLOGY_NUMBERS[] = {
    {"mud_n", &EXPONENT, offsetof(dt_rheology, mud_n)},
    {"mud_600", &DIAL, offsetof(dt_rheology, mud_600)},
    {"mud_300", &DIAL, offsetof(dt_rheology, mud_300)},
};

static const plain_number RUNNING_NUMBERS[] = {
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

static void set_unsaid_numbers(const plain_number *numbers, size_t count, void *base)
{
    const double none = NAN;
    for (size_t i = 0; i < count; ++i)
        memcpy((char *)base + numbers[i].offset, &none, sizeof none);
}

static void read_plain(dt_reader *r, xmlNodePtr node, const plain_number *numbers, size_t count,
                       void *base)
{
    for (size_t i = 0; i < count; ++i) {
        double value = NAN;
        dt_read_number(r, node, numbers[i].name, 1, "", numbers[i].bound, &value);
        memcpy((char *)base + numbers[i].offset, &value, sizeof value);
    }
}

void dt_jobs_absent(dt_well *well)
{
    well->cementing = (dt_cement_wishes){
        .rathole_excess = dt_custom_word(well, DT_CUSTOM_CEMENTING_RATHOLE_EXCESS) == 1,
        .test = DT_TEST_COUNT};
    well->rheology = (dt_rheology){0};
    well->running = (dt_running_wishes){
        .centralizer = (dt_centralizer_kind)dt_custom_word(well, DT_CUSTOM_CENTRALIZER),
        .movement = (dt_movement)dt_custom_word(well, DT_CUSTOM_MOVEMENT),
        .shock = (dt_shock)dt_custom_word(well, DT_CUSTOM_RUNNING_SHOCK),
        .overpull_on_air = dt_custom_word(well, DT_CUSTOM_RUNNING_OVERPULL_ON) == 1,
        .scratchers = dt_custom_word(well, DT_CUSTOM_SCRATCHERS) == 1};
    set_unsaid(CEMENT_FIELDS, COUNT(CEMENT_FIELDS), &well->cementing);
    set_unsaid(RHEOLOGY_FIELDS, COUNT(RHEOLOGY_FIELDS), &well->rheology);
    set_unsaid(RUNNING_FIELDS, COUNT(RUNNING_FIELDS), &well->running);
    set_unsaid_numbers(RHEOLOGY_NUMBERS, COUNT(RHEOLOGY_NUMBERS), &well->rheology);
    set_unsaid_numbers(RUNNING_NUMBERS, COUNT(RUNNING_NUMBERS), &well->running);
}

static void read_strengths(dt_reader *r, const xmlNode *node, dt_cement_wishes *wishes)
{
    static const dt_field fields[] = {
        {"time", DT_KIND_TIME, &TIME, offsetof(dt_strength_point, time_s)},
        {"value", DT_KIND_PRESSURE, &MARGIN_PA, offsetof(dt_strength_point, strength_pa)},
    };
    wishes->strengths =
        dt_list_for(r, node, "strength", sizeof *wishes->strengths, &wishes->strength_count);
    xmlNodePtr at = dt_child_named(node, "strength");
    for (size_t i = 0; i < wishes->strength_count; ++i, at = dt_next_named(at, "strength")) {
        dt_read_fields(r, at, fields, COUNT(fields), &wishes->strengths[i]);
        wishes->strengths[i].line = dt_line_of(at);
    }
}

void dt_read_cementing(dt_reader *r, xmlNodePtr node)
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
    wishes->rathole_excess = dt_read_yes(
        r, node, "rathole_excess", dt_custom_word(r->well, DT_CUSTOM_CEMENTING_RATHOLE_EXCESS));
    dt_read_margin(r, node, "margin", &wishes->margin);
    wishes->margin_given = dt_has_attribute(node, "margin");
    wishes->test = (dt_test_rule)dt_read_word(r, node, "test", tests, DT_TEST_COUNT, DT_TEST_COUNT);
    wishes->line = dt_line_of(node);
    read_strengths(r, node, wishes);
}

void dt_read_rheology(dt_reader *r, xmlNodePtr node)
{
    dt_read_fields(r, node, RHEOLOGY_FIELDS, COUNT(RHEOLOGY_FIELDS), &r->well->rheology);
    read_plain(r, node, RHEOLOGY_NUMBERS, COUNT(RHEOLOGY_NUMBERS), &r->well->rheology);
    r->well->rheology.line = dt_line_of(node);
}

void dt_read_running(dt_reader *r, xmlNodePtr node)
{
    static const char *const kinds[] = {"bow", "rigid"};
    static const char *const movements[] = {"none", "reciprocate", "rotate"};
    static const char *const shocks[] = {"none", "speed", "weight"};
    static const char *const overpulls[] = {"buoyed", "air"};
    dt_running_wishes *wishes = &r->well->running;
    dt_read_fields(r, node, RUNNING_FIELDS, COUNT(RUNNING_FIELDS), wishes);
    read_plain(r, node, RUNNING_NUMBERS, COUNT(RUNNING_NUMBERS), wishes);
    dt_read_margin(r, node, "margin", &wishes->margin);
    wishes->margin_given = dt_has_attribute(node, "margin");
    wishes->centralizer = (dt_centralizer_kind)dt_read_word(
        r, node, "centralizer", kinds, 2, dt_custom_word(r->well, DT_CUSTOM_CENTRALIZER));
    wishes->movement = (dt_movement)dt_read_word(r, node, "movement", movements, 3,
                                                 dt_custom_word(r->well, DT_CUSTOM_MOVEMENT));
    wishes->shock = (dt_shock)dt_read_word(r, node, "shock", shocks, 3,
                                           dt_custom_word(r->well, DT_CUSTOM_RUNNING_SHOCK));
    wishes->overpull_on_air =
        dt_read_word(r, node, "overpull_on", overpulls, 2,
                     dt_custom_word(r->well, DT_CUSTOM_RUNNING_OVERPULL_ON)) == 1;
    wishes->scratchers =
        dt_read_yes(r, node, "scratchers", dt_custom_word(r->well, DT_CUSTOM_SCRATCHERS));
    wishes->line = dt_line_of(node);
}

void dt_read_caliper(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"md", DT_KIND_LENGTH, &LONG_DEPTH, offsetof(dt_caliper_point, md_m)},
        {"diameter", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_caliper_point, diameter_m)},
    };
    dt_well *well = r->well;
    well->caliper = dt_list_for(r, node, "reading", sizeof *well->caliper, &well->caliper_count);
    xmlNodePtr at = dt_child_named(node, "reading");
    for (size_t i = 0; i < well->caliper_count; ++i, at = dt_next_named(at, "reading")) {
        dt_read_fields(r, at, fields, COUNT(fields), &well->caliper[i]);
        well->caliper[i].line = dt_line_of(at);
    }
}
