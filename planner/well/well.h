/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_WELL_H
#define DRAWTUBE_WELL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawtube/program.h>

#include "findings.h"
#include "hanger.h"

/*
 * Stage 1: is the input whole and sane?
 *
 * The model of a well file. Every depth is true vertical depth below the rig
 * floor in m unless its name says md. Every gradient is an equivalent mud weight
 * in kg/m3 referred to the rig floor: pressure = emw * g * tvd.
 * A quantity the file left out is NAN; a list left out has count 0.
 * The well owns everything it points to and is freed by dt_well_free().
 * `line` is the line of the element in the well file.
 */

typedef enum dt_between { DT_BETWEEN_GRADIENT, DT_BETWEEN_PRESSURE } dt_between;
typedef enum dt_distribution { DT_NORMAL, DT_TRIANGULAR, DT_UNIFORM } dt_distribution;

typedef struct dt_curve_point {
    double tvd_m;
    double emw_kgm3;
    double sd_kgm3;   /* spread of the value, NAN when none is stated */
    double low_kgm3;  /* NAN when none is stated */
    double high_kgm3; /* NAN when none is stated */
    uint64_t offsets; /* bit of each offset well it was made of; 0: stated or computed */
    int line;
} dt_curve_point;

/** A table against depth. Depths never decrease; two points at one depth are a step. */
typedef struct dt_curve {
    dt_curve_point *points;
    size_t count; /* 0 when the file has no such table */
    dt_between between;
    dt_distribution distribution;
    double correlation_length_m; /* NAN when not stated */
    int line;
} dt_curve;

/** What is known of the neighbourhood: which customary spreads a well without its own is given. */
typedef enum dt_spread_class {
    DT_SPREAD_UNSAID,
    DT_SPREAD_NEAR,
    DT_SPREAD_OFFSET,
    DT_SPREAD_EXPLORATION
} dt_spread_class;

/** Which tables have their spread from the class. */
typedef struct dt_spread_given {
    bool pore, fracture;
} dt_spread_given;

/** The word of a class. */
const char *dt_spread_class_text(dt_spread_class class);

/** How the fracture gradient is given: points, or a method of docs/pressure.md. */
typedef enum dt_fracture_method {
    DT_FRACTURE_POINTS,
    DT_FRACTURE_EATON,
    DT_FRACTURE_MATTHEWS_KELLY,
    DT_FRACTURE_HUBBERT_WILLIS_LOW,
    DT_FRACTURE_HUBBERT_WILLIS_HIGH,
    DT_FRACTURE_CHRISTMAN,
    DT_FRACTURE_METHOD_COUNT
} dt_fracture_method;

/** Ratio of a fracture method at a depth: Poisson's, Ki or the stress ratio. Linear between. */
typedef struct dt_stress_ratio {
    double tvd_m, ratio;
    int line;
} dt_stress_ratio;

/** A leak-off test: what the rock at a shoe was seen to bear. */
typedef struct dt_leak_off {
    double shoe_m;
    double emw_kgm3;              /* as stated, or from mud and pressure */
    double deduct_kgm3;           /* taken off for safety; 0 when the file says none */
    double mud_kgm3, pressure_pa; /* NAN when the EMW is stated */
    int line;
} dt_leak_off;

/** Where the fracture gradient comes from when it is not given as points, or is tested. */
typedef struct dt_fracture_source {
    dt_fracture_method method;
    double ratio;    /* one ratio for all depths; NAN */
    bool gulf_coast; /* Eaton with Poisson's ratio of the Gulf Coast fit */
    double sd_kgm3;  /* spread of the computed gradient; NAN */
    dt_stress_ratio *ratios;
    size_t ratio_count;
    dt_leak_off *tests; /* by growing depth */
    size_t test_count;
    double *point_ratio; /* k of each computed point of the curve; NULL for given points */
    int line;
} dt_fracture_source;

/* ---- offset wells: docs/offsets.md ---- */

/** More neighbours than anybody lists for one well; a point keeps those it is made of as bits. */
#define DT_MOST_OFFSETS 64

typedef enum dt_offset_what {
    DT_OFFSET_LEAK_OFF,
    DT_OFFSET_MUD,  /* while drilling there */
    DT_OFFSET_SEAT, /* a shoe, whether tested or not */
    DT_OFFSET_LOSS, /* mud at which returns were lost */
    DT_OFFSET_KICK  /* pore pressure that a kick showed */
} dt_offset_what;

/** The word of it. */
const char *dt_offset_what_text(dt_offset_what what);

typedef struct dt_offset_reading {
    dt_offset_what what;
    double tvd_m;    /* below the rig floor of its own well */
    double emw_kgm3; /* from there too; NAN for a seat */
    int line;
} dt_offset_reading;

typedef struct dt_offset {
    char *name;
    double rig_floor_m, water_depth_m; /* water 0 on land */
    double distance_m;                 /* to this well */
    dt_offset_reading *readings;
    size_t reading_count;
    int line;
} dt_offset;

/** Leak-offs against the depth z below the ground: density below it = level + slope ln(z / 1000 m).
 */
typedef struct dt_offset_trend {
    double level_kgm3, slope_kgm3;
    double scatter_kgm3; /* of one deep test about the trend */
    double inverse[3];   /* of the normal matrix: level, both, slope */
    double shallowest_m, deepest_m;
    size_t tests;
    uint64_t wells;
} dt_offset_trend;

/** A margin is an equivalent mud weight, a pressure, or (never in one attribute) both. */
typedef struct dt_margin {
    double emw_kgm3;    /* added to the equivalent mud weight */
    double pressure_pa; /* added as a pressure: emw + pressure / (g * tvd) */
} dt_margin;

/** Whether it asks for anything. */
bool dt_margin_given(const dt_margin *margin);

typedef enum dt_kick_rule { DT_KICK_FIXED, DT_KICK_DEPTH_RATIO } dt_kick_rule;

typedef struct dt_margins {
    dt_margin trip, kick, surge, safety, gain;
    dt_margin drilling; /* static mud under the fracture gradient in holes under a BOP */
    dt_kick_rule kick_rule;
    int line;
} dt_margins;

/** How uncertain a depth is. Nothing stated: sd_m, low_m and high_m are NAN. */
typedef struct dt_depth_spread {
    dt_distribution distribution;
    double sd_m;
    double low_m, high_m; /* depths around the stated one */
} dt_depth_spread;

typedef enum dt_gas_law { DT_GAS_BOYLE, DT_GAS_REAL } dt_gas_law;

/** What is drilled with in holes up to a size, and how large an influx they must bear. */
typedef struct dt_kick_row {
    double up_to_m;    /* hole diameter */
    double least_m3;   /* swabbed: less is a stopper; NAN: none is asked for */
    double minimum_m3; /* with the intensity: less is for review; NAN: none is asked for */
    double pipe_od_m, collar_od_m, collar_m; /* drill pipe, collars, length of the collars */
    int line;
} dt_kick_row;

/** Influx volume: how it is reckoned, and whether seats must allow for one. docs/kick.md */
typedef struct dt_kick_wishes {
    bool given;
    double intensity_kgm3; /* pore above the mud it is met with; 0 is a swabbed kick */
    double influx_kgm3;    /* density of the influx */
    double margin_kgm3;    /* kept below the fracture gradient */
    dt_gas_law law;
    double gas_gravity;                 /* to air, for the real gas law with <temperature>; NAN */
    double seat_volume_m3, seat_hole_m; /* seat rule: this influx in a hole of this size; NAN */
    double seat_below_m; /* weak points above this depth are not shut in on; 0 or NAN: none */
    double seat_pipe_od_m, seat_collar_od_m, seat_collar_m; /* from the rows, set by the reader */
    dt_kick_row *rows; /* replace the customary ones when count > 0 */
    size_t row_count;
    int line;
} dt_kick_wishes;

typedef enum dt_action {
    DT_CASE_OFF,   /* behind pipe before drilling more than within_m below its base */
    DT_CASE_ABOVE, /* a shoe within within_m above its top before it is entered */
    DT_AVOID_SHOE  /* no shoe strictly inside */
} dt_action;

typedef enum dt_permeable { DT_PERMEABLE_UNSAID, DT_PERMEABLE_YES, DT_PERMEABLE_NO } dt_permeable;

typedef struct dt_interval {
    char *name;
    char *kind; /* "lost-circulation", "salt", ... see dt_interval_kinds() */
    double top_m, base_m;
    dt_action action;
    double within_m; /* 0 when the file does not say */
    dt_permeable permeable;
    dt_depth_spread top_spread; /* of the top; the base moves with it */
    int line;
} dt_interval;

/** A zone the well is drilled for; drawn, and used for cement tops. */
typedef struct dt_pay {
    char *name;
    double top_m, base_m;
    int line;
} dt_pay;

typedef struct dt_station {
    double md_m, inclination_rad, azimuth_rad;
    int line;
} dt_station;

typedef enum dt_sticking_mud { DT_STICKING_PLANNED_MUD, DT_STICKING_PORE_ONLY } dt_sticking_mud;
typedef enum dt_sticking_rock { DT_STICKING_ALL_ROCK, DT_STICKING_LISTED_ROCK } dt_sticking_rock;

typedef struct dt_sticking {
    bool given; /* false: the check is not made, and the program says so */
    double normal_limit_pa, abnormal_limit_pa;
    double normal_pore_kgm3; /* rock with pore EMW up to this is normally pressured */
    dt_sticking_mud mud;     /* planned mud, or the pore EMW that sets it (no trip margin) */
    dt_sticking_rock rock;   /* all rock but intervals permeable="no", or only permeable="yes" */
    int line;
} dt_sticking;

/** SUREST: where most of the wells drawn from the spreads hold; without spreads, the shallowest. */
typedef enum dt_prefer { DT_PREFER_SHALLOWEST, DT_PREFER_DEEPEST, DT_PREFER_SUREST } dt_prefer;

/** What the last string is where an intermediate one stands above it. */
typedef enum dt_last_string { DT_LAST_FULL, DT_LAST_LINER } dt_last_string;

typedef struct dt_seat_wishes {
    double round_to_m; /* NAN: seats are not rounded */
    dt_prefer prefer;
    double lap_m;  /* liner lap; NAN when not stated */
    bool liners;   /* false: no string becomes a liner unless pinned so */
    double past_m; /* shoes stand so far past the base of what they case off; NAN when not stated */
    dt_last_string production;
    double production_up_to_m; /* a liner by custom only of pipe up to this diameter */
    int line;
} dt_seat_wishes;

typedef enum dt_conductor_method {
    DT_CONDUCTOR_DRILLED,
    DT_CONDUCTOR_DRIVEN,
    DT_CONDUCTOR_JETTED
} dt_conductor_method;

typedef struct dt_conductor {
    dt_conductor_method method;
    bool bop;                     /* false: a diverter, no kick is shut in on it */
    double depth_m;               /* NAN: computed from the gradients below */
    double soil_gradient_kgm3;    /* what the soil bears */
    double returns_gradient_kgm3; /* mud with cuttings in the conductor */
    double sea_gradient_kgm3;     /* sea water; NAN on land */
    double flowline_m;            /* flowline above sea level or ground; NAN: rig floor height */
    int line;
} dt_conductor;

typedef enum dt_collapse_choice { DT_CHOOSE_REDUCED_YIELD, DT_CHOOSE_COMBINED } dt_collapse_choice;

typedef struct dt_design {
    bool given;
    double burst, collapse, tension, triaxial; /* design factors; NAN when not stated */
    double tension_pulled;                     /* with overpull, bump or shock beside the weight */
    double overpull_n;                         /* NAN when not stated */
    double gas_gradient_kgm3;                  /* NAN when not stated */
    int line;
    dt_collapse_choice collapse_method;
    bool sour;            /* grades limited to those for hydrogen sulphide */
    int gas_tight;        /* gas-tight connections: by the pressure of the gas, no, yes */
    double max_sections;  /* of one string; NAN when not stated, as all below */
    double min_section_m; /* length of one section */
    double gauge_m;       /* top length that must have the smallest bore of its string */
    double crossover_m;   /* a crossover costs as much as so many metres of the lightest pipe */
} dt_design;

/* ---- loads ---- */

typedef enum dt_kick_case {
    DT_KICK_GAS,
    DT_KICK_FRACTURE,
    DT_KICK_INFLUX,
    DT_KICK_BY_ROLE
} dt_kick_case;
typedef enum dt_evacuation {
    DT_EVACUATION_FULL,
    DT_EVACUATION_LOST_RETURNS,
    DT_EVACUATION_BY_ROLE
} dt_evacuation;
typedef enum dt_running_load { DT_RUNNING_OVERPULL, DT_RUNNING_SHOCK } dt_running_load;
typedef enum dt_outside {
    DT_OUTSIDE_WATER,
    DT_OUTSIDE_MIX_WATER,
    DT_OUTSIDE_MUD,
    DT_OUTSIDE_PORE,
    DT_OUTSIDE_CEMENTED /* pore pressure behind cement, water above it */
} dt_outside;

/** A pressure test the engineer has decided on. */
typedef struct dt_pressure_test {
    dt_role role;
    double pressure_pa; /* at the surface */
    double fluid_kgm3;  /* NAN: the mud the string was run in */
    int line;
} dt_pressure_test;

/** What the load cases are made of; doubles are NAN when not stated. */
typedef struct dt_load_wishes {
    bool given;
    dt_kick_case kick;
    dt_evacuation evacuation;
    dt_running_load running;
    dt_outside burst_outside;
    double influx_m3, drill_pipe_m;
    double packer_fluid_kgm3;
    double stimulation_pa, stimulation_fluid_kgm3;
    double bump_margin_pa, cement_kgm3, displacement_kgm3;
    double green_test_pa;
    double unfilled_m; /* the longest stretch left empty while running */
    dt_pressure_test *tests;
    size_t test_count;
    int line;
} dt_load_wishes;

typedef struct dt_temperature_point {
    double tvd_m, celsius;
    int line;
    double producing_c, quenched_c; /* of the pipe while the well flows, and killed with cold
                                     * water; NAN: not stated */
} dt_temperature_point;

typedef struct dt_derating_point {
    double celsius, fraction; /* of the yield strength that is left */
    int line;
} dt_derating_point;

typedef struct dt_thermal {
    dt_temperature_point *points; /* undisturbed temperature; count 0: none */
    size_t count;
    double heating_k;             /* rise in service, NAN when none is stated */
    dt_derating_point *deratings; /* count 0: yield strength is not derated */
    size_t derating_count;
    int line, derating_line;
} dt_thermal;

/** Wellhead and landing; doubles are NAN when not stated. */
typedef struct dt_wellhead_wishes {
    bool given;
    double evacuation;    /* fraction of the hole full of gas in the anticipated surface pressure */
    double bop_n, head_n; /* weights */
    double free_length_m; /* of the carrying string above its cement or cellar floor */
    double end_factor;    /* K of the column */
    bool hung_buckles;    /* the hanging weight counts for the column too, not for stress alone */
    bool mudline;         /* inner strings hang at the mudline */
    int line;
} dt_wellhead_wishes;

/** Smallest gap between hole and coupling for pipes up to an outside diameter. */
typedef struct dt_clearance_row {
    double up_to_od_m;
    double radial_m;
    int line;
} dt_clearance_row;

typedef struct dt_size_wishes {
    bool special_drift; /* pipe may be ordered with special drift */
    bool opened_hole;   /* a hole may be opened below the pipe above to more than its drift */
    bool series;        /* holes and pipes are chosen from the pairs of the basis first */
    bool spare;         /* one smaller liner should still pass below the last string */
    dt_clearance_row *clearances; /* replaces the customary table when count > 0 */
    size_t clearance_count;
    int line;
    const double *only_m; /* pipe sizes below the conductor, for what-if questions; borrowed */
    size_t only_count;    /* 0: all; the reader says 0 */
} dt_size_wishes;

/** No row: capacity and bore of hangers are not checked, and the program says so. */
typedef struct dt_hangers {
    dt_hanger *items; /* the engineer's order of preference */
    size_t count;
    double factor; /* capacity is at least so many times what hangs; NAN or 0: 1 */
    int line;
} dt_hangers;

/** More hangers than anybody lists for one well; the search keeps them as bits. */
#define DT_MOST_HANGERS 64

typedef enum dt_liner_test_rule {
    DT_LINER_TEST_PRESSURE, /* surface pressure as stated */
    DT_LINER_TEST_FRACTURE  /* set by the fracture gradient (docs/strength.md) */
} dt_liner_test_rule;

/** The pressure test of liner and lap once the liner is set. */
typedef struct dt_liner_test {
    bool given;
    dt_liner_test_rule rule;
    double pressure_pa; /* at the surface; NAN with the other rule */
    double above_pa;    /* over fracture pressure, production liners; NAN: customary */
    double fluid_kgm3;  /* NAN: the mud the liner was run in */
    int line;
} dt_liner_test;

typedef struct dt_slurry {
    char *name;
    double density_kgm3;
    double yield_m3kg; /* slurry volume per mass of cement */
    double water_m3kg; /* mix water per mass of cement; NAN when not stated */
    int line;
} dt_slurry;

typedef enum dt_excess_on { DT_EXCESS_OPEN_HOLE, DT_EXCESS_ANNULUS } dt_excess_on;

typedef struct dt_pinned_cement {
    char *slurry;
    double top_m;  /* TVD; NAN when not stated */
    double excess; /* fraction; NAN */
    dt_excess_on excess_on;
    double collar_above_shoe_m; /* NAN */
    int line;
} dt_pinned_cement;

/** A string the engineer has already decided, whole or in part. */
typedef struct dt_pin {
    dt_role role;
    dt_string_type type; /* DT_TYPE_UNSAID when left to the planner */
    double shoe_m;       /* NAN ... */
    double hole_m, od_m; /* diameters */
    double pilot_m; /* bit of a pinned hole, smaller when it is opened; 0: the planner's choice */
    double weight_kgm;
    char *grade, *thread; /* NULL when left to the planner */
    double wear_m;        /* wall that wear and corrosion take; NAN when none */
    dt_pinned_cement *cement;
    size_t cement_count;
    int line;
    bool chosen;      /* of an option: the search chose its shoe, not the engineer */
    bool pipe_chosen; /* of an option: nor did the engineer say anything of its pipe */
} dt_pin;

/* ---- prices, times and wishes, for costing and for comparing programs ---- */

/** What pipe of a grade costs; grade NULL: every grade without a row of its own. */
typedef struct dt_grade_price {
    char *grade;
    double per_kg;
    int line;
} dt_grade_price;

/** What cutting a thread adds to a joint; thread NULL: every other thread. */
typedef struct dt_thread_price {
    char *thread;
    double per_joint;
    int line;
} dt_thread_price;

/** A bit of up to a diameter; NAN: every larger one. */
typedef struct dt_bit_price {
    double up_to_m;
    double each;
    int line;
} dt_bit_price;

/** Money, all in one currency. Nothing here has a default: a price left out is refused. */
typedef struct dt_prices {
    char *currency; /* as the team writes it; NULL when not stated */
    double rig_per_day, services_per_day;
    double hanger, packer; /* of a liner */
    double receptacle;     /* on the liner of a tie-back; NAN: a tie-back is priced without */
    double wellhead_stage; /* head and seals of one full string */
    double cement_per_kg;
    dt_grade_price *pipes;
    size_t pipe_count;
    dt_thread_price *threads;
    size_t thread_count;
    dt_bit_price *bits; /* by growing up_to_m, the one without last */
    size_t bit_count;
    int line;
} dt_prices;

/** Rate for holes or pipes up to a diameter: m per hour, or joints per hour. */
typedef struct dt_speed_row {
    double up_to_m;
    double per_hour;
    int line;
} dt_speed_row;

/** How fast the rig works. NAN: that of the basis. */
typedef struct dt_times {
    double trip_m_per_hour; /* each way */
    double connection_minutes, stand_m;
    double bit_run_m; /* rock one bit drills; each further bit is a round trip */
    double circulate_hours, crew_hours;
    double wait_hours; /* on cement */
    double wellhead_hours, test_hours, drill_out_hours;
    double hanger_hours, lap_test_hours;
    double reserve; /* part of all hours added for what goes wrong */
    dt_speed_row *drilling, *running;
    size_t drilling_count, running_count;
    int line;
} dt_times;

/** A pipe size that may not be used. */
typedef struct dt_forbidden {
    double od_m;
    int line;
} dt_forbidden;

/** Limits the team sets beyond the rock: they bind the comparison, and a refusal names them. */
typedef struct dt_wishes {
    bool given;
    size_t max_strings;    /* 0: not stated; the conductor counts */
    double rig_hookload_n; /* NAN ... */
    double bop_bore_m;     /* all that is run below the surface string passes it */
    double wellhead_bore_m;
    bool no_tiebacks;
    dt_forbidden *forbidden;
    size_t forbidden_count;
    int line;
} dt_wishes;
/* ---- what the engineer wants of the running and cementing; all of it optional ---- */

/** How a casing pressure test is set. X(NAME, word in the well file, words). */
#define DT_TEST_LIST(X)                                                                            \
    X(INTERNAL_YIELD, "internal-yield", "70 % of the weakest minimum internal yield")              \
    X(GRADIENT_022, "0.22-psi-per-ft",                                                             \
      "0.22 psi/ft of length or 1500 psi, the greater, and at most 70 % of internal yield")        \
    X(GRADIENT_020, "0.2-psi-per-ft", "0.2 psi/ft of depth, at most 1500 psi")                     \
    X(PRESSURE, "pressure", "as the well file says")                                               \
    X(NONE, "none", "no test")

/** Part of its internal yield that a string is tested to where that is the rule. */
#define DT_TEST_YIELD_PART 0.7

typedef enum dt_test_rule {
#define DT_TEST_ENUM(name, word, words) DT_TEST_##name,
    DT_TEST_LIST(DT_TEST_ENUM)
#undef DT_TEST_ENUM
        DT_TEST_COUNT
} dt_test_rule;

/** For people; static storage. */
const char *dt_test_rule_words(dt_test_rule rule);

typedef struct dt_strength_point {
    double time_s, strength_pa;
    int line;
} dt_strength_point;

/** <cementing>: NAN or NULL where the file says nothing (docs/cement.md has what holds then). */
typedef struct dt_cement_wishes {
    bool given;
    char *lead, *tail;    /* names of slurries, of the file or built in */
    double above_shoe_m;  /* least height of cement above the shoe and above zones */
    double tail_length_m; /* annulus filled with tail, above the shoe */
    double excess;        /* fraction of the open hole */
    double rathole_m;     /* hole below the shoe, filled with tail; 0: none */
    bool rathole_excess;  /* the excess applies to the rathole too */
    double spacer_kgm3, spacer_length_m;
    double displacement_kgm3; /* NAN: mud */
    double mix_rate_m3s, displacement_rate_m3s;
    double pump_bore_m, pump_stroke_m, pump_efficiency; /* one triplex pump */
    dt_margin margin;                                   /* kept below fracture while cementing */
    bool margin_given;
    double bump_margin_pa; /* over the lift pressure */
    dt_test_rule test;     /* DT_TEST_COUNT when not stated */
    double test_pressure_pa;
    double wait_s, wait_strength_pa;
    double thickening_s; /* of the slurries; NAN: not checked */
    dt_strength_point *strengths;
    size_t strength_count;
    int line;
} dt_cement_wishes;

/** <rheology>: Bingham figures of what is pumped, or a power law of the mud, by n and k or by two
 * readings of a rheometer; NAN where the file says nothing. */
typedef struct dt_rheology {
    double mud_pv_pas, mud_yp_pa;
    double mud_n, mud_k_pasn; /* k: the shear stress at 1 1/s */
    double mud_600, mud_300;  /* degrees of the dial */
    double spacer_pv_pas, spacer_yp_pa;
    double slurry_pv_pas, slurry_yp_pa;
    int line;
} dt_rheology;

typedef enum dt_centralizer_kind { DT_CENTRALIZER_BOW, DT_CENTRALIZER_RIGID } dt_centralizer_kind;
typedef enum dt_movement { DT_MOVE_NONE, DT_MOVE_RECIPROCATE, DT_MOVE_ROTATE } dt_movement;
typedef enum dt_shock { DT_SHOCK_NONE, DT_SHOCK_SPEED, DT_SHOCK_WEIGHT } dt_shock;

/** <running>: NAN where the file says nothing (docs/running.md has what holds then). */
typedef struct dt_running_wishes {
    double range;        /* 1, 2 or 3 */
    double joint_m;      /* average length a made-up joint adds */
    double spares;       /* fraction of the joints */
    double track_joints; /* joints between float collar and shoe */
    double friction_cased, friction_open;
    double blocks_n, rig_n; /* travelling equipment; what the rig may carry */
    double collapse_factor; /* while the string is empty */
    double float_pa;        /* what the float holds from below */
    double fill_joints;     /* joints between fills */
    double joint_time_s;    /* to lower one joint */
    double peak_factor;     /* largest over mean speed while lowering */
    dt_margin margin;       /* kept below fracture while running */
    bool margin_given;
    double joints_per_hour, rig_up_s, trip_speed_ms;
    double standoff; /* fraction wanted midway between centralizers */
    dt_centralizer_kind centralizer;
    double rigid_od_m;  /* of a rigid centralizer; NAN: 1/4 in under the hole */
    double restoring_n; /* of a bow at 67 % standoff; NAN: the published least */
    dt_movement movement;
    bool scratchers;
    double landing_kgm, landing_od_m, landing_id_m; /* pipe a liner is run on */
    dt_shock shock;
    bool overpull_on_air;
    int line;
} dt_running_wishes;

/** One reading of a caliper log; diameters join linearly, outside the log the bit size holds. */
typedef struct dt_caliper_point {
    double md_m, diameter_m;
    int line;
} dt_caliper_point;

/** A value of the basis that the well file states itself; line 0: it does not. */
typedef struct dt_stated {
    char *text; /* as the file spells it; NULL for rows */
    int line;
} dt_stated;

/** Which edition of the document it is, as the file says it: texts that nothing is reckoned from.
 * NULL: not stated. */
typedef struct dt_document {
    char *revision, *author, *date;
} dt_document;

/** Whether any of it is stated. */
bool dt_has_document(const struct dt_well *well);

struct dt_well {
    const struct dt_basis *basis; /* what holds where the well says nothing; borrowed; NULL: the
                                   * built-in one (basis.h) */
    struct dt_basis *own_basis;   /* NULL, or what `basis` is: freed with the well */
    bool basis_taken;             /* the file names none: where the well stands chose it */
    dt_stated *stated;  /* each dt_custom, then each dt_custom_table; NULL: built in code */
    dt_display display; /* units that the file is written in */
    char *name;
    char *note; /* NULL when none */
    dt_document document;
    double rig_floor_m; /* height of the rig floor above ground or sea level */
    bool over_sea;
    double water_depth_m; /* 0 on land */
    bool bop_at_seabed;   /* holes before it return to the sea floor */
    bool riser_margin;    /* the mud holds the rock without the riser, too */
    double riser_bore_m;
    int riser_line;
    double objective_m;    /* TVD; of one on the path the deepest down to it */
    double objective_md_m; /* where it is a point on the path; NAN: where its depth is first met */
    bool objective_at_end; /* of the path */
    bool lateral;          /* the hole is level, or nearly, where it ends */
    double min_pipe_od_m;  /* what the completion needs at the objective */
    bool last_open;        /* the last hole gets no pipe: all strings end above the objective */
    bool last_slotted;     /* the last string is a slotted liner: hung, not cemented */
    double last_hole_m;    /* its diameter; NAN: what the pipe above lets through */
    dt_station *stations;  /* NULL and 0: vertical */
    size_t station_count;
    dt_curve pore, fracture, collapse, overburden;
    dt_fracture_source fracture_from;
    dt_offset *offsets;
    size_t offset_count;
    int offsets_line;                          /* 0: no offset wells */
    bool pore_by_offsets, fracture_by_offsets; /* the table is made of them */
    dt_offset_trend offset_trend;              /* where fracture_by_offsets */
    dt_spread_class spread_class;
    dt_spread_given spread_given; /* by the class */
    int spread_line;
    dt_kick_wishes kick;
    dt_depth_spread fresh_water_spread;
    uint64_t rules_off;   /* bit of a dt_rule: left out of what-if questions; the reader says 0 */
    double fresh_water_m; /* deepest fresh water; NAN when none is stated */
    double fresh_water_cover_m;
    dt_interval *intervals;
    size_t interval_count;
    dt_pay *pays;
    size_t pay_count;
    dt_margins margins;
    dt_sticking sticking;
    dt_seat_wishes seats;
    dt_conductor conductor;
    dt_design design;
    dt_size_wishes sizes;
    dt_hangers hangers;
    dt_liner_test liner_test;
    dt_slurry *slurries;
    size_t slurry_count;
    dt_pin *pins; /* surface down */
    size_t pin_count;
    dt_load_wishes loads;
    dt_thermal thermal;
    dt_wellhead_wishes wellhead;
    bool prices_given;
    dt_prices prices; /* meaningful when prices_given */
    dt_times times;
    dt_wishes wishes;
    dt_cement_wishes cementing;
    dt_rheology rheology;
    dt_running_wishes running;
    dt_caliper_point *caliper; /* by growing MD */
    size_t caliper_count;
    int objective_line, fresh_water_line, datum_line, path_line;
};

/**
 * Checks a model for sense: adds findings, changes nothing. For models built in code
 * (dt_well_start()), which no reader has looked at: the stages take for granted that report->errors
 * is 0. dt_well_parse() has done the same for what it returns.
 */
void dt_well_check(const dt_well *well, dt_report *report);

/** A model that says nothing: what a well file leaves out is unstated (NAN, none, the default of
 * its enumeration). The start of a model built in code; frees nothing. */
void dt_well_start(dt_well *well);

/** TVD of the ground or of the mudline: rig floor height plus water depth. */
double dt_well_ground_m(const dt_well *well);

/** Pore pressure up to which rock is normally pressured, kg/m3. */
double dt_normal_pore(const dt_well *well);

/** Strings set before a riser is run to a BOP at the sea floor: their holes return to the sea
 * floor. Two, or the conductor alone where it carries the BOP; none where the BOP is not there. */
size_t dt_well_riserless(const dt_well *well);

/** Weight of the sea on the sea floor, kg/m2: times g a pressure. */
double dt_well_sea_kgm2(const dt_well *well);

/**
 * Pressure at a depth of a column that stands under the sea: sea water down to the sea floor, mud
 * below it, Pa. The column of a hole that returns to the sea floor.
 */
double dt_well_sea_column_pa(const dt_well *well, double mud_kgm3, double tvd_m);

/** A conductor reaches so deep into the ground at least: no search looks at shorter sections. */
#define DT_CONDUCTOR_LEAST_M 1.0

/**
 * How deep the conductor must reach into the ground for returns to come to the flowline without
 * lifting the soil at its shoe, m; 0 or less when the soil bears them with no conductor at all,
 * NAN when the well does not state both gradients.
 * Devereux, Practical Well Planning and Drilling Manual (1998), appendix 5, p. 457.
 */
double dt_conductor_penetration_m(const dt_well *well);

/** TVD of the conductor's shoe as <conductor> has it: given, or computed and rounded deeper to the
 *  well's step; NAN when it says neither. A pinned conductor goes before it. */
double dt_conductor_shoe_m(const dt_well *well);

/** Interval kinds the drawings know, NULL-terminated, static storage. */
const char *const *dt_interval_kinds(void);

#endif
