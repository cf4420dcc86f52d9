/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CENTRALIZERS_H
#define DRAWTUBE_CENTRALIZERS_H

#include "cement.h"
#include "running.h"

/*
 * How many centralizers, how far apart, so that cement can get all round the pipe.
 * Method, equations and sources: docs/running.md.
 */

/** One stretch of the string with centralizers at one spacing. */
typedef struct dt_centralizer_run {
    double top_md_m, base_md_m;
    double spacing_m;
    size_t count;
    dt_centralizer_kind kind;
    bool by_rule;                     /* a rule of thumb of the vertical case, not computed */
    bool reached;                     /* computed: the standoff wanted is reached */
    double standoff_at, standoff_mid; /* smallest, as a part of the clearance; NAN by rule */
    double side_n;                    /* largest load on one centralizer; NAN by rule */
    const char *why;                  /* static storage */
} dt_centralizer_run;

typedef struct dt_centralizing {
    double target;            /* standoff wanted */
    double restoring_n;       /* of a bow at 67 % standoff */
    bool restoring_published; /* else by weight, or the well's */
    dt_centralizer_run *runs; /* top down */
    size_t count;
    size_t bows, rigids, scratchers;
    double standoff; /* smallest computed; NAN: nothing was computed */
    bool missed;     /* the target is not reached somewhere */
    dt_movement movement;
} dt_centralizing;

/**
 * Load on one centralizer, N: weight of a span across the hole, and what tension presses round
 * the bend: 2 T sin(bend x span / 2), less in a build and more in a drop.
 * Source: Suman and Ellis, Cementing Handbook, World Oil, 1977, p. 44.
 * @param[out] low_side_n  its part in the vertical plane, over 0 on the low side; may be NULL.
 */
double dt_centralizer_load(double weight_nm, double tension_n, double inclination_rad,
                           double build_rad_m, double turn_rad_m, double span_m,
                           double *low_side_n);

/**
 * Sag midway of a span built in at both ends, m, under an even load and axial tension (or
 * compression, below the buckling load of the span: INFINITY from there on).
 * y = F L^3 / (384 E I) x (24 / u^4) (u^2 / 2 - u (cosh u - 1) / sinh u), u^2 = T L^2 / (4 E I):
 * API RP 10D-2, from memory; tests/jobs/test_running.c holds it against a beam by differences.
 */
double dt_sag(double load_n, double span_m, double stiffness_nm2, double tension_n);

/** Second moment of a pipe times Young's modulus (30e6 psi), N m2. */
double dt_pipe_stiffness(double od_m, double id_m);

typedef struct dt_standoff {
    double at, mid; /* at the centralizer and midway, as a part of the clearance, 0 to 1 */
} dt_standoff;

/**
 * Standoff of pipe in a hole. A bow gives way in a straight line, to 67 % of the clearance at
 * its restoring force; a rigid one not at all (rigid_od_m is then its OD).
 */
dt_standoff dt_standoff_of(double hole_m, double od_m, dt_centralizer_kind kind, double restoring_n,
                           double rigid_od_m, double load_n, double sag_m);

/** Least restoring force of a bow at 67 % standoff, N: API Spec 10D table 1 from memory. */
double dt_restoring_force(double od_m, double weight_kgm, bool *published);

/** joint_m is the length of a joint. cement may be uncemented: then no centralizers. */
dt_status dt_centralizers_plan(const dt_stages *stages, size_t string, const dt_cement *cement,
                               double joint_m, dt_centralizing *out);
void dt_centralizers_free(dt_centralizing *centralizing);

#endif
