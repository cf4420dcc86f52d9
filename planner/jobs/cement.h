/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CEMENT_H
#define DRAWTUBE_CEMENT_H

#include "annulus.h"
#include "basis.h"
#include "cement_rules.h"

/*
 * The primary cement job of one string: what is mixed, what is pumped, and whether the rock
 * bears it from the first barrel to the last. Method, equations and sources: docs/cement.md.
 */

/** Code for program.json, and words for people; static storage, "" for none. */
const char *dt_cement_rule_code(dt_cement_rule rule);
const char *dt_cement_rule_words(dt_cement_rule rule);

/** What <cementing> and <rheology> say for a role, or what holds instead. */
typedef struct dt_cement_settings {
    dt_slurry_spec lead, tail;
    double above_shoe_m, tail_length_m;
    double excess;
    double rathole_m;
    bool rathole_excess;
    double spacer_length_m;
    double spacer_kgm3;       /* NAN: halfway between the mud and the first slurry */
    double displacement_kgm3; /* NAN: the mud */
    double mix_rate_m3s, displacement_rate_m3s;
    double pump_m3_per_stroke;
    dt_margin margin;
    double bump_margin_pa;
    dt_test_rule test;
    double test_pressure_pa;
    double wait_s, wait_strength_pa;
    double plug_drop_s, thickening_reserve_s, tool_above_shoe_m;
    double thickening_s;            /* NAN: not checked */
    bool rates_stated, tail_stated; /* by the well file: no other ones are tried */
    double tail_least_m, slower, tool_depth_m;
    bool mud_stated;               /* its viscosity, by the well file */
    dt_liquid thin;                /* mud that may be made of it before pipe is run */
    dt_liquid mud, spacer, slurry; /* densities not used */
} dt_cement_settings;

/** What the well's basis has for a role: excess, waiting, test; the last row where it has none. */
const dt_role_customs *dt_cement_customs(const dt_well *well, dt_role role);

/** The annulus decides on customs: less excess over a caliper log, slower pumps where it is tight.
 */
void dt_cement_settle(const dt_well *well, dt_role role, const dt_annulus *annulus,
                      dt_cement_settings *out);

/** One slurry of the job. Listed from the top down: lead first, tail last. */
typedef struct dt_cement_part {
    dt_slurry_spec slurry;
    double excess;
    dt_excess_on excess_on;
    double top_md_m, top_tvd_m, base_md_m;          /* in the annulus */
    double cased_m3, open_m3, rathole_m3, track_m3; /* excess included where it applies */
    double volume_m3;                               /* their sum */
    double sacks;                                   /* whole ones: rounded up */
    double water_m3; /* of the rounded sacks; NAN when the slurry states none */
} dt_cement_part;

/** A second stage through a tool, when one stage cannot reach the top. */
typedef struct dt_stage_tool {
    bool proposed;
    double md_m, tvd_m;
    bool in_casing;                    /* else in open hole: wants hard gauge rock */
    bool for_time;                     /* the slurry would thicken first */
    double volume_m3, sacks, water_m3; /* of the second stage, by the lead slurry */
    double spare_pa; /* as dt_tight_spot, second stage at rest; INFINITY: no open rock above */
} dt_stage_tool;

/** What was changed of a usual job so that the rock withstands it. */
typedef enum dt_cement_repair {
    DT_REPAIR_RATE = 1u << 0, /* pumped slower */
    DT_REPAIR_TAIL = 1u << 1, /* a shorter tail */
    DT_REPAIR_MUD = 1u << 2,  /* thinner mud in the hole */
    DT_REPAIR_LEAD = 1u << 3  /* a dear light lead */
} dt_cement_repair;

typedef struct dt_cement {
    unsigned repairs; /* bits of dt_cement_repair */
    bool lead_chosen; /* the lead is the heaviest customary one that the rock withstands, or else
                         the lightest */
    bool cemented;    /* false: nothing below is set but rule */
    dt_cement_rule rule;
    double top_md_m, top_tvd_m;
    size_t zone_pay, zone_interval; /* zone that set the top, or DT_NO_INDEX */
    dt_cement_settings settings;
    dt_cement_part *parts;
    size_t part_count;
    double collar_md_m; /* float collar; equal to the shoe without a shoe track */
    double rathole_m;
    double mud_kgm3, spacer_kgm3, displacement_kgm3;
    double spacer_m3, slurry_m3, displacement_m3, sacks, cement_kg, water_m3;
    double displacement_most_m3; /* half the shoe track more, and no further */
    double strokes;              /* of the displacement */
    double mix_s, displace_s, job_s;
    double lift_pa;           /* annulus over inside at the shoe, at rest: what the float holds */
    double bump_pa, test_pa;  /* test NAN: none */
    double internal_yield_pa; /* weakest pipe or coupling, what the test may not pass */
    double pump_pa;           /* most at the surface while pumping */
    double free_fall_from_m3, free_fall_to_m3; /* pumped volumes between which it falls; NAN */
    double shoe_static_kgm3, shoe_kgm3; /* EMW at the shoe at the end: at rest, and pumping */
    double peak_shoe_kgm3;              /* most EMW at the shoe in the whole job */
    dt_tight_spot tight;                /* nearest the fracture in the whole job */
    /* The same without the margin, which grows with depth: rock may break above what is nearest. */
    dt_tight_spot barest;
    const char *barest_moment;
    double tight_pumped_m3;
    const char *tight_moment;                   /* "while the tail is displaced": static storage */
    double tallest_top_md_m, tallest_top_tvd_m; /* one stage may not reach higher; NAN: none does */
    dt_stage_tool stage;
    double wait_s; /* before drilling out */
    bool wait_by_strength, strength_never;
    double lift_off_n; /* pressure under the string less its weight: over 0 it would rise */
} dt_cement;

/** What one job is; dt_cement_plan() makes it from the stages, tests from print. */
typedef struct dt_cement_job {
    const dt_annulus *annulus;
    const dt_trajectory *trajectory;
    const dt_exposed *exposed;
    size_t exposed_count;
    double mud_kgm3;
    bool may_stage;  /* a stage tool may be proposed: not for conductors and liners */
    bool rock_alone; /* the pump and falling fluid are not looked at */
    dt_cement_settings settings;
} dt_cement_job;

/**
 * Volumes, sacks, water, displacement, times, pressures and the whole placement against the
 * rock. On entry out->parts (slurry, excess, top; lead first), part_count, collar_md_m and
 * mud are set; the rest is filled.
 * @return DT_OK; DT_E_DOMAIN for tops out of order or outside the string, a collar outside
 *         it, or a yield that is not positive: out then as before; DT_E_MEMORY.
 */
dt_status dt_cement_compute(const dt_cement_job *job, dt_cement *out);

/**
 * Top of the cement of one string of a plan, by its pin or by the rule of its role, m MD; NAN when
 * it is not cemented. annulus: of that string.
 */
double dt_cement_top_md(const dt_stages *stages, size_t string, const dt_annulus *annulus);

/** Of a string that is not cemented. */
dt_cement dt_cement_none(void);

/** The job of one string of a plan; track_m is the shoe track where no pin says one. */
dt_status dt_cement_plan(const dt_stages *stages, size_t string, double track_m, dt_cement *out);
void dt_cement_free(dt_cement *cement);

/** When cement reaches a strength, by straight lines from 0 at 0; INFINITY when it never does. */
double dt_strength_time(const dt_strength_point *points, size_t count, double strength_pa);

/** Triplex pump: 3 pi/4 bore^2 stroke efficiency, m3 a stroke. */
double dt_triplex_stroke(double bore_m, double stroke_m, double efficiency);

/**
 * Highest column of one slurry that a depth bears, m of TVD above that depth:
 * (fracture - margin - friction - mud g z) / ((slurry - mud) g); INFINITY for a slurry no
 * heavier than the mud.
 */
double dt_tallest_column(double fracture_pa, double margin_pa, double friction_pa, double mud_kgm3,
                         double slurry_kgm3, double tvd_m);

#endif
