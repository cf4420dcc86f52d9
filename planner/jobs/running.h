/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RUNNING_H
#define DRAWTUBE_RUNNING_H

#include "annulus.h"
#include "drag.h"

/*
 * Getting one string to its depth: joints, weight, fill, surge, drag and time.
 * Method, equations and sources: docs/running.md.
 */

/** What <running> says for a string, or what holds instead. */
typedef struct dt_running_settings {
    int range;
    double joint_m, spares;
    double track_joints;
    double friction_cased, friction_open;
    double blocks_n, rig_n;           /* rig NAN: not checked */
    double collapse_factor, float_pa; /* float NAN: not checked */
    double fill_joints;
    double joint_time_s, peak_factor;
    bool mud_stated;        /* its viscosity, by the well file */
    dt_liquid thin;         /* mud that may be made of it before pipe is run */
    bool joint_time_stated; /* by the well file: kept though the rock asks for a slower one */
    double slowest_joint_s; /* no slower where it is not stated */
    double fastest_joint_s; /* no string is let down faster */
    dt_margin margin;
    double joints_per_hour, rig_up_s, trip_speed_ms;
    dt_shock shock;
    double shock_n_per_lbft; /* of pipe stopped short, by its weight in lb/ft */
    bool overpull_on_air;
    double landing_kgm, landing_od_m, landing_id_m;
    dt_liquid mud;
} dt_running_settings;

/** What holds for a string: the well's own settings, or customary ones: docs/running.md. od_m of
 * the pipe. */
void dt_running_settle(const dt_well *well, dt_role role, dt_string_type type, double od_m,
                       dt_running_settings *out);

/** The string with its shoe at one depth. Loads without the blocks. */
typedef struct dt_running_point {
    double md_m, tvd_m;
    double filled_n, floated_n; /* full of mud, and empty */
    double up_n, down_n;        /* filled, with drag, pulling and lowering */
    double overpull_pipe_n;     /* left in the weakest section over pulling; by design factor */
    double overpull_rig_n;      /* left in the rig; NAN when its load is not stated */
    double joint_s;             /* least time to lower a joint; 0: no limit */
} dt_running_point;

enum { DT_RUNNING_POINTS = 12 };

/** Where a string that is pushed down its hole comes nearest to buckling, or goes furthest beyond;
 * part 0: it is nowhere in compression, or nothing limits it. */
typedef struct dt_buckling {
    double part; /* of what it bears before it winds into a helix, which presses on the wall */
    double md_m, pushed_n, waves_n, helix_n;
} dt_buckling;

typedef struct dt_running {
    bool thinned; /* the mud, before the string is run, since the rock is weak */
    dt_running_settings settings;
    bool driven;     /* driven or jetted, not run into a hole: loads are in air */
    double mud_kgm3; /* it is run in; 0 when driven */
    size_t joints, spare_joints, couplings, track_joint_count;
    size_t
        track_left_out; /* joints of the shoe track that the string or its cement has no room for */
    double track_m, length_m;
    double steel_kg, air_n;
    double closed_end_m3, fill_m3; /* mud driven out closed-ended, and taken to fill */
    double hookload_filled_n, hookload_floated_n, hookload_up_n, hookload_down_n;
    bool nearly_floats;  /* empty it weighs less than a tenth of its weight in air */
    double empty_md_m;   /* deepest it may be run empty; the shoe when all the way */
    bool empty_by_float; /* the float's rating governs, not the pipe */
    double empty_factor; /* collapse resistance over load there */
    double fill_every_m;
    bool fills_itself; /* through its slots: nothing of it is run empty, and nothing surges */
    size_t fill_joint_count;
    dt_tight_spot surge; /* at the planned time a joint, shoe at depth */
    double surge_pa;     /* at the shoe; NAN where there is no surge to speak of */
    /* the caliper log has a place that the pipe with its couplings does not pass: then neither
     * surge nor time a joint is computed. line: of the reading, 0 where the pipe passes */
    int blocked_line;
    double blocked_md_m, blocked_hole_m, blocked_pipe_m;
    dt_buckling buckling;   /* lowered, shoe at depth */
    double floated_md_m;    /* flotation collar: below it the string is full of air while it is let
                             * down,    since drag would hold it full of mud; NAN: none */
    double joint_s;         /* least time for a joint near bottom */
    bool stops_circulating; /* no speed respects the margin: it is used up at rest */
    double overpull_pipe_n, overpull_rig_n; /* smallest over depth; NAN */
    double shock_n;                         /* NAN when none is asked for */
    double time_s;
    dt_running_point points[DT_RUNNING_POINTS]; /* from shallow to the shoe */
    size_t point_count;
} dt_running;

/** The string, its hole and the mud, for the weights below. Everything borrowed. */
typedef struct dt_run {
    const dt_string *string;
    const dt_path_step *path;
    size_t path_count;
    double open_md_m, mud_kgm3;
    double friction_cased, friction_open;
    double landing_kgm, landing_od_m, landing_id_m; /* above a liner */
    const dt_annulus *annulus;                      /* NULL: buckling is not looked at */
    double air_m; /* so much pipe above the shoe is empty, whatever is inside the rest */
} dt_run;

typedef enum dt_motion { DT_LOWERING = -1, DT_HANGING = 0, DT_PULLING = 1 } dt_motion;

/**
 * Effective tension in the string at at_md_m with its shoe at shoe_md_m, N: weight in air,
 * plus liquid inside, less liquid displaced (Devereux, Practical Well Planning and Drilling
 * Manual, 1998, p. 66), and soft-string drag. At the surface it is the hook load.
 */
double dt_run_tension(const dt_run *run, double shoe_md_m, double inside_kgm3, dt_motion motion,
                      double at_md_m);

/** The same string lowered: where it is nearest to buckling. */
void dt_run_buckling(const dt_run *run, double shoe_md_m, double inside_kgm3, dt_buckling *out);

/**
 * Compression at which pipe begins to lie in waves, and to wind into a helix, N. side_nm: what
 * presses it on the wall, in a bend with the compression's own part (He and Kyllingstad 1995, from
 * memory).
 * In a hole that leans 2 sqrt(E I w sin i / r) and 2 sqrt(2) sqrt(...): Dawson and Paslay 1984,
 * Chen, Lin and Cheatham, as Ghalambor and Guo have them (course slides 207-208, 2005). In a
 * vertical one, where these are none, 2.55 and 5.55 (E I w^2)^(1/3): Wu and Juvkam-Wold, from
 * memory.
 */
void dt_buckling_limits(double stiffness_nm2, double gap_m, double weight_nm, double side_nm,
                        double *waves_n, double *helix_n);

/** Weight of pipe in liquids by volumes, kg/m: w + inside id^2 pi/4 - outside od^2 pi/4. */
double dt_weight_by_volumes(double weight_kgm, double od_m, double id_m, double inside_kgm3,
                            double outside_kgm3);

/** Buoyancy factor: 1 - mud / steel. */
double dt_buoyancy_factor(double mud_kgm3, double steel_kgm3);

/** Deepest TVD a pipe may be run empty: collapse / (factor x mud x g). */
double dt_empty_depth(double collapse_pa, double factor, double mud_kgm3);

/** Shock of a string stopped at a speed: E A v / c = A v sqrt(E density). */
double dt_shock_force(double speed_ms, double steel_m2);

/** DT_OK; DT_E_DOMAIN when the pipe does not go into its hole; DT_E_MEMORY. */
dt_status dt_running_plan(const dt_stages *stages, size_t string, dt_running *out);

#endif
