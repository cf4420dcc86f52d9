/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_STRINGS_H
#define DRAWTUBE_STRINGS_H

#include "nest.h"
#include "ratings.h"
#include "trajectory.h"

/*
 * Stage 5: which weights, grades and threads survive the loads?
 *
 * Each load case is a pure function of the well, the seats and one string: it gives internal
 * pressure, external pressure and axial force against depth. A string is the cheapest
 * sequence of pipes that meets every design factor at every depth. Method: docs/strength.md.
 */

/* Roles a case may be looked at for; whether it is follows from the well (docs/strength.md). */
#define DT_FOR_CASED (1u << DT_SURFACE | 1u << DT_INTERMEDIATE | 1u << DT_PRODUCTION)
#define DT_FOR_WALL  (1u << DT_INTERMEDIATE | 1u << DT_PRODUCTION)
#define DT_FOR_ALL   (DT_FOR_CASED | 1u << DT_CONDUCTOR)

/** X(NAME, code, words, roles, check). */
#define DT_LOAD_LIST(X)                                                                            \
    X(BURST_GAS, "gas-to-surface", "gas to surface from the deepest hole drilled below",           \
      DT_FOR_CASED, BURST)                                                                         \
    X(BURST_FRACTURE, "fracture-at-shoe", "fracture at the shoe with gas above it", DT_FOR_CASED,  \
      BURST)                                                                                       \
    X(BURST_INFLUX, "influx", "an influx of stated volume circulated to the surface",              \
      DT_FOR_CASED, BURST)                                                                         \
    X(BURST_LEAK, "tubing-leak", "gas pressure on top of the packer fluid", DT_FOR_WALL, BURST)    \
    X(BURST_TEST, "pressure-test", "pressure test", DT_FOR_CASED, BURST)                           \
    X(BURST_LAP, "liner-top-test", "pressure test of a liner and its lap once it is set",          \
      DT_FOR_CASED, BURST)                                                                         \
    X(BURST_BUMP, "cement-bump", "the plug bumped on the collar", DT_FOR_CASED, BURST)             \
    X(BURST_STIMULATION, "stimulation", "stimulation through the casing", DT_FOR_WALL, BURST)      \
    X(COLLAPSE_EMPTY, "full-evacuation", "empty inside, the mud it was run in outside",            \
      DT_FOR_CASED, COLLAPSE)                                                                      \
    X(COLLAPSE_LOSS, "lost-returns", "mud level down by losses in the hole below", DT_FOR_CASED,   \
      COLLAPSE)                                                                                    \
    X(COLLAPSE_CEMENT, "cementing", "unset slurry outside, displacing fluid inside", DT_FOR_CASED, \
      COLLAPSE)                                                                                    \
    X(COLLAPSE_FILL, "run-unfilled", "run in without filling", DT_FOR_CASED, COLLAPSE)             \
    X(COLLAPSE_SALT, "salt", "salt pressing with the overburden", DT_FOR_CASED, COLLAPSE)          \
    X(TENSION_HANG, "hanging-weight", "buoyed weight alone", DT_FOR_ALL, TENSION)                  \
    X(TENSION_RUN, "running-overpull", "buoyed weight plus overpull", DT_FOR_CASED, TENSION)       \
    X(TENSION_SHOCK, "running-shock", "buoyed weight plus shock", DT_FOR_CASED, TENSION)           \
    X(TENSION_BUMP, "bump-pull", "buoyed weight plus the plug bumped", DT_FOR_CASED, TENSION)      \
    X(TENSION_GREEN, "green-cement-test", "buoyed weight plus the test before the cement sets",    \
      DT_FOR_CASED, TENSION)

typedef enum dt_load {
#define DT_LOAD_ENUM(name, code, words, roles, check) DT_LOAD_##name,
    DT_LOAD_LIST(DT_LOAD_ENUM)
#undef DT_LOAD_ENUM
        DT_LOAD_COUNT
} dt_load;

/** Code for program.json, and words for people; static storage, "" for none. */
const char *dt_load_code(dt_load load);
const char *dt_load_words(dt_load load);
/** Roles the case may be looked at for, bit (1u << dt_role). */
unsigned dt_load_roles(dt_load load);
/** The uniaxial check of a case; every case is checked triaxially as well. */
dt_check dt_load_check(dt_load load);

/** What the design is held to, with its origin: the well's, or customary (and a warning). */
typedef struct dt_design_in_force {
    double burst, collapse, tension, triaxial;
    double tension_pulled; /* of the axial cases that pull beside the weight that hangs */
    double overpull_n, gas_gradient_kgm3;
    bool factors_customary, overpull_customary, gas_customary;
    dt_collapse_method collapse_method;
    bool sour;
    size_t max_sections;
    double min_section_m, crossover_m;
    double gauge_m; /* top length that has the smallest bore of its string; 0: not asked for */
    bool taper_customary; /* one of the three */
    double bump_margin_pa;
    bool bump_customary;
} dt_design_in_force;

/** Factors, overpull and gas in force: the well's, or customary ones (docs/strength.md). */
void dt_design_settle(const dt_well *well, dt_design_in_force *out);

/**
 * The factor that a case's own check needs: in tension one for the weight that hangs alone, another
 * where something pulls beside it (common practice, no source: docs/strength.md).
 */
double dt_design_needed(const dt_design_in_force *design, dt_load load);

/** A liner's pressure test as one string sees it. */
typedef struct dt_lap_test {
    double pressure_pa, fluid_kgm3; /* at the surface; what the well is full of */
    double base_tvd_m;              /* pressed down to here: the liner's own shoe, or where the
                                       next liner covers this string */
} dt_lap_test;

#define DT_MOST_LAP_TESTS 20 /* no well has so many strings */
#define DT_MOST_HOLES     20 /* nor so many holes */

/** A hole drilled below a string. */
typedef struct dt_hole_below {
    double top_tvd_m, base_tvd_m, mud_kgm3;
    double loss_level_tvd_m; /* the mud may fall to here; 0: it is not lost */
    double kick_net_pa;      /* most that a formation has over a column of the mud; not above 0
                                where the mud holds all of them */
} dt_hole_below;

#define DT_MOST_DRAG 600 /* depths at which drag is kept */

/**
 * Drag of a string that is pulled, from its shoe up to its top: as a length of pipe whose weight in
 * mud it is, for pipe of one weight from there to the shoe. Straight between the depths. count 0:
 * none.
 */
typedef struct dt_drag {
    size_t count;
    double md_m[DT_MOST_DRAG], own_m[DT_MOST_DRAG];
} dt_drag;

/** The loads on one string, enough to hold any pipe against them. NAN where a case is not run. */
typedef struct dt_string_load {
    size_t seat;
    size_t place; /* the seat whose hole it stands over: its own, or of a tie-back its liner's */
    bool tieback; /* not cemented, pipe all round: shoe_md_m is where it meets its liner */
    double top_md_m, top_tvd_m, shoe_md_m, shoe_tvd_m;
    double mud_kgm3;               /* mud it is run in; NAN for a conductor */
    double surface_pressure_pa;    /* gas at surface: the smaller of the two limits below */
    double surface_by_pore_pa;     /* gas from the strongest pore pressure exposed below */
    double surface_by_fracture_pa; /* fracture at the shoe above that hole with gas above it; NAN:
                                      no such limit, the finished well shut in on gas governs */
    double pore_source_tvd_m;
    double backup_kgm3;      /* fluid credited outside in burst, where it is water ... */
    double backup_top_tvd_m; /* ... standing from here down: ground or sea level */
    double gas_gradient_kgm3;
    double overpull_n;
    bool slotted;         /* open to the rock: no pressure stands across it */
    bool riserless;       /* run into a hole that returns to the sea floor: sea water stands on the
                           * mud outside */
    bool pressures_apply; /* false for a conductor: it carries a diverter only */

    const dt_well *well; /* borrowed */
    dt_role role;
    bool runs[DT_LOAD_COUNT];
    double above_tvd_m;         /* shoe above; 0 for a conductor */
    double fracture_surface_pa; /* fracture at the worst shoe with gas above it, at the surface */
    double influx_surface_pa;   /* set by dt_string_load_fit() */
    bool wall_when_finished;    /* holds the finished well */
    double leak_pa;             /* gas at the wellhead of the finished well */
    double test_pa, test_kgm3;
    dt_lap_test lap_tests[DT_MOST_LAP_TESTS]; /* a liner's own first, then those of liners below */
    size_t lap_test_count;
    /* the job: spacer, lead and tail from the top down; one slurry of the file is all three */
    double spacer_kgm3, spacer_top_tvd_m, lead_kgm3, cement_top_tvd_m, cement_kgm3, tail_top_tvd_m;
    double displacement_kgm3, bump_pa;
    dt_hole_below holes[DT_MOST_HOLES]; /* drilled while the string is their wall */
    size_t hole_count;
    double least_empty_m; /* losses leave it empty at least down to here, TVD; 0: no such rule */
    double packer_kgm3;   /* on top of which a leaking tubing presses; NAN: no such case */
    double wear_m;        /* wall taken off */
    double spare;         /* pipe is chosen as if every load were this part larger */
    dt_drag drag;         /* beside the overpull */
} dt_string_load;

/**
 * The loads on the string of a seat. lap_m is the liner lap, measured along the hole.
 * The pressures are NAN for a conductor. DT_OK; DT_E_DOMAIN when there is no such seat or
 * the hole never reaches its depth; DT_E_MEMORY.
 */
dt_status dt_string_load_build(const dt_window *window, const dt_seats *seats,
                               const dt_trajectory *trajectory, const dt_design_in_force *design,
                               double lap_m, size_t seat, dt_string_load *out);

/** Where full strings and tie-backs hang, MD: at the rig floor, as near as counts, or in a wellhead
 * at the sea floor. */
double dt_wellhead_md(const dt_well *well, const dt_trajectory *trajectory);

/** The same but for the drag, which takes the longest: for who asks many and pulls few. */
dt_status dt_string_load_lay(const dt_window *window, const dt_seats *seats,
                             const dt_trajectory *trajectory, const dt_design_in_force *design,
                             double lap_m, size_t seat, dt_string_load *out);

/**
 * Settles what depends on the pipe: the annulus of a circulated influx, inside an inner diameter.
 * dt_string_load_build() leaves influx_surface_pa NAN; without an influx case nothing changes.
 */
void dt_string_load_fit(dt_string_load *load, double id_m);

/** Are an influx and the drill pipe it passes stated? */
bool dt_load_influx_stated(const dt_well *well);

/** How deep the mud of a hole below falls in the string: by losses, or as its role has it. */
double dt_load_loss_level(const dt_string_load *load, size_t hole);

/** What lost returns leave inside at a depth, Pa: the least of the holes below; NAN without one. */
double dt_load_left_inside(const dt_string_load *load, double tvd_m);

/** Pressures of a case that runs, at a depth, Pa. */
void dt_load_pressures(const dt_string_load *load, dt_load which, double tvd_m, double *inside_pa,
                       double *outside_pa);

/** A case at a depth of one pipe. */
typedef struct dt_load_point {
    double inside_pa, outside_pa;
    double drag_m;  /* of pulling, as a length of this pipe */
    double axial_n; /* true force in the steel, tension positive */
    double pull_n;  /* what the joints are held against: buoyed weight and what pulls beside it */
} dt_load_point;

/** Drag of pulling at a depth, as a length of the pipe there: straight between two of the profile's
 * depths. */
double dt_load_drag(const dt_string_load *load, double md_m);

/** A depth along the hole and down. */
typedef struct dt_load_place {
    double md_m, tvd_m;
} dt_load_place;

/** hanging_n: weight in air of the pipe below this depth, along TVD. */
dt_load_point dt_load_at(const dt_string_load *load, dt_load which, const dt_pipe *pipe,
                         dt_load_place place, double hanging_n);

/** Part of the yield strength left at a depth: 1 without <derating>. */
double dt_load_yield_part(const dt_string_load *load, double tvd_m);

/** Part of the yield strength that is left at a temperature, by the well's table; 1 without one. */
double dt_yield_part_at(const dt_thermal *thermal, double celsius);

/** Stress of steel that is held fast and warmed, Pa: E alpha dT, pressed over 0. */
double dt_thermal_stress_pa(double rise_k);

/** One case on one pipe: the smallest factor over depth and where it stands. */
typedef struct dt_factor {
    double
        factor; /* resistance / load; INFINITY when the case loads nothing; NAN when not screened */
    double needed;
    double at_md_m, at_tvd_m;
    double load, resistance; /* Pa or N */
} dt_factor;

typedef struct dt_screen {
    dt_factor by_load[DT_LOAD_COUNT];   /* the case's own check */
    dt_factor by_check[DT_CHECK_COUNT]; /* the smallest of all cases */
    dt_load load_of_check[DT_CHECK_COUNT];
    dt_load worst;        /* smallest factor / needed of all checks: its case ... */
    dt_check worst_check; /* ... and check; the figures are by_check[worst_check] */
    bool ok;
} dt_screen;

/**
 * Holds one pipe, over the whole length of the string, against every case. For
 * special-clearance couplings pass a copy of the pipe with coupling_od_m replaced.
 * DT_OK; DT_E_DOMAIN when the pipe does not come with the thread or cannot be rated.
 */
dt_status dt_string_screen(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                           const dt_string_load *load, const dt_trajectory *trajectory,
                           const dt_design_in_force *design, dt_screen *out);

/** One length of one pipe. A string has one or more, top down. */
typedef struct dt_section {
    double top_md_m, base_md_m;
    const dt_pipe *pipe; /* into the catalogue */
    dt_thread thread;
    dt_screen screen;
    /* the next cheaper pipe that would fail here; NULL when every cheaper one holds too */
    const dt_pipe *cheaper_pipe;
    dt_thread cheaper_thread;
    dt_factor cheaper_factor;
    dt_load cheaper_load;
    dt_check cheaper_check;
} dt_section;

typedef struct dt_string {
    dt_string_load load;
    size_t nest_hole, nest_pipe; /* into the nest */
    double need_drift_m;         /* the next bit; the completion's pipe has none: 0 */
    dt_section *sections;
    size_t section_count;
    bool pinned_pipe_fails; /* a pin keeps a pipe that a case fails */
} dt_string;

/** A string at one depth. NAN: no such case, or it loads nothing that is rated. */
typedef struct dt_trace_point {
    double md_m, tvd_m;
    size_t section;
    double load[DT_LOAD_COUNT];    /* of the case's own check, Pa or N */
    double rating[DT_CHECK_COUNT]; /* the least over the cases, not divided by any factor */
    double triaxial_load;          /* largest von Mises stress of all cases */
} dt_trace_point;

/** Loads and ratings from the top down; two points where sections meet. */
typedef struct dt_trace {
    dt_trace_point *points;
    size_t count;
} dt_trace;

/**
 * Loads and ratings of a chosen string at every depth where something bends, for drawing.
 * @return DT_OK with *out, freed by dt_trace_free(); DT_E_DOMAIN when a pipe has no rating;
 * DT_E_MEMORY.
 */
dt_status dt_string_trace(const dt_catalogue *catalogue, const dt_string *string,
                          const dt_trajectory *trajectory, const dt_design_in_force *design,
                          dt_trace *out);
void dt_trace_free(dt_trace *trace);

/** Why no pipe of a string holds: the pipe that came nearest. */
typedef struct dt_shortfall {
    size_t seat;
    const dt_pipe *pipe;
    dt_thread thread;
    dt_factor factor;
    dt_load load;
    dt_check check;
    bool by_hanger; /* the pipe would hold: no hanger that may be used suits */
} dt_shortfall;

typedef struct dt_strings {
    dt_string *items; /* one a seat, then one a tie-back, as the seats number them */
    size_t count;     /* seats */
    size_t tieback_count;
} dt_strings;

/**
 * A chosen string held against other loads than it was chosen for, those of a drawn well: screens
 * has room for one a section. load has the same top and shoe; its drag is the string's own, since
 * that is a length of pipe and hangs on no pressure.
 * @return DT_OK, also where a section fails; DT_E_DOMAIN when a pipe has no rating; DT_E_MEMORY.
 */
dt_status dt_string_hold_again(const dt_catalogue *catalogue, const dt_string *string,
                               dt_string_load *load, const dt_trajectory *trajectory,
                               const dt_design_in_force *design, dt_screen *screens);

/** Price of a pipe, per metre. Any unit; a crossover is priced in the same one. */
typedef struct dt_pipe_price {
    double (*per_m)(const void *context, const dt_pipe *pipe, dt_thread thread);
    const void *context;
} dt_pipe_price;

/** Kilograms of steel, and of two pipes equally heavy the one of weaker steel. */
extern const dt_pipe_price dt_price_by_steel;

/** Strings that were designed, to be asked for again (designed.h). Zeroed, it holds none. It may be
 * handed from one draft to the next of a well, and to wells that borrow everything from it. */
typedef struct dt_designed {
    dt_well *well; /* that they were designed for, without what no design reads */
    const dt_catalogue *catalogue;
    struct dt_designed_string **slots;
    size_t count;
} dt_designed;
/** Empties it. */
void dt_designed_free(dt_designed *designed);

/**
 * The telescoping path and the pipes together: over all paths of the nest whose strings
 * all hold, the one with the fewest unusual holes, then the least rock drilled, then the
 * cheapest strings (dt_price_by_steel). A tie-back is of its liner's size and drift. Exact
 * (shortest path over the layered graph, whose pipe edges are the cheapest tapered strings of a
 * size that let the next bit pass). designed: where strings are kept; NULL: nowhere. What is
 * found is the same.
 * @return DT_OK; DT_E_NONE with *shortfall; DT_E_MEMORY.
 */
dt_status dt_strings_choose(const dt_window *window, const dt_seats *seats, const dt_nest *nest,
                            const dt_catalogue *catalogue, const dt_trajectory *trajectory,
                            double lap_m, dt_designed *designed, dt_strings *out,
                            dt_shortfall *shortfall);
void dt_strings_free(dt_strings *strings);

#endif
