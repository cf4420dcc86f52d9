/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_STRINGS_H
#define DRAWTUBE_STRINGS_H

#include "drawtube/nest.h"
#include "drawtube/ratings.h"
#include "drawtube/trajectory.h"

/*
 * Stage 5: which weights, grades and threads survive the loads?
 *
 * A first screen: each load case is a pure function of the well, the seats and one
 * string, and gives internal and external pressure against depth; a pipe is screened
 * against every case and reports its factor, the case and the depth that governs.
 */

#define DT_LOAD_LIST(X)                                                                            \
    X(BURST_GAS, "gas-to-surface", "gas to surface from the deepest hole drilled below")           \
    X(COLLAPSE_EMPTY, "full-evacuation", "empty inside, the mud it was run in outside")            \
    X(TENSION_RUN, "running-overpull", "buoyed weight plus overpull")

typedef enum dt_load {
#define DT_LOAD_ENUM(name, code, words) DT_LOAD_##name,
    DT_LOAD_LIST(DT_LOAD_ENUM)
#undef DT_LOAD_ENUM
        DT_LOAD_COUNT
} dt_load;

const char *dt_load_code(dt_load load);
const char *dt_load_words(dt_load load);

/** Factors with their origin: the well's <design>, or customary ones (and a warning). */
typedef struct dt_design_in_force {
    double burst, collapse, tension, triaxial;
    double overpull_n, gas_gradient_kgm3;
    bool factors_customary, overpull_customary, gas_customary;
} dt_design_in_force;

/** Factors, overpull and gas in force: the well's, or customary ones (docs/strength.md). */
void dt_design_settle(const dt_well *well, dt_design_in_force *out);

/** The loads on one string, enough to screen any pipe. */
typedef struct dt_string_load {
    size_t seat;
    double top_md_m, top_tvd_m, shoe_md_m, shoe_tvd_m;
    double mud_kgm3;               /* mud it is run in; NAN for a conductor */
    double surface_pressure_pa;    /* gas at surface: the smaller of the two limits below */
    double surface_by_pore_pa;     /* gas from the strongest pore pressure exposed below */
    double surface_by_fracture_pa; /* fracture at the shoe above that hole with gas above it; NAN:
                                      no such limit, the finished well shut in on gas governs */
    double pore_source_tvd_m;
    double backup_kgm3;      /* fluid credited outside in burst ... */
    double backup_top_tvd_m; /* ... standing from here down: ground or sea level */
    double gas_gradient_kgm3;
    double overpull_n;
    bool pressures_apply; /* false for a conductor: it carries a diverter only */
} dt_string_load;

/**
 * The loads on the string of a seat. lap_m is the liner lap, measured along the hole.
 * The pressures are NAN for a conductor. DT_OK; DT_E_DOMAIN when there is no such seat or
 * the hole never reaches its depth.
 */
dt_status dt_string_load_build(const dt_window *window, const dt_seats *seats,
                               const dt_trajectory *trajectory, const dt_design_in_force *design,
                               double lap_m, size_t seat, dt_string_load *out);

/** One case on one pipe: the smallest factor over depth and where it stands. */
typedef struct dt_factor {
    double
        factor; /* resistance / load; INFINITY when the case loads nothing; NAN when not screened */
    double needed;
    double at_md_m, at_tvd_m;
    double load, resistance; /* Pa or N */
} dt_factor;

typedef struct dt_screen {
    dt_factor by_load[DT_LOAD_COUNT];
    dt_load worst; /* smallest factor / needed */
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
} dt_section;

typedef struct dt_string {
    dt_string_load load;
    size_t nest_hole, nest_pipe; /* into the nest */
    double need_drift_m;         /* the next bit; the completion's pipe has none: 0 */
    dt_section *sections;
    size_t section_count;
    bool pinned_pipe_fails; /* a pin keeps a pipe that a case fails */
} dt_string;

/** Why no pipe of a string holds: the pipe that came nearest. */
typedef struct dt_shortfall {
    size_t seat;
    const dt_pipe *pipe;
    dt_thread thread;
    dt_factor factor;
    dt_load load;
} dt_shortfall;

typedef struct dt_strings {
    dt_string *items; /* one a seat */
    size_t count;
} dt_strings;

/**
 * The telescoping path and the pipes together: over all paths of the nest whose strings
 * all hold, the one with the fewest unusual holes, then the least rock drilled, then the
 * least steel. Exact (shortest path over the layered graph).
 * @return DT_OK; DT_E_NONE with *shortfall; DT_E_MEMORY.
 */
dt_status dt_strings_choose(const dt_window *window, const dt_seats *seats, const dt_nest *nest,
                            const dt_catalogue *catalogue, const dt_trajectory *trajectory,
                            double lap_m, dt_strings *out, dt_shortfall *shortfall);
void dt_strings_free(dt_strings *strings);

#endif
