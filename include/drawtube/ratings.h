/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RATINGS_H
#define DRAWTUBE_RATINGS_H

#include "drawtube/catalogue.h"

/*
 * What one pipe can stand, by the published formulas. Nothing here knows a well.
 */

#define DT_REGIME_LIST(X)                                                                          \
    X(YIELD, "yield")                                                                              \
    X(PLASTIC, "plastic")                                                                          \
    X(TRANSITION, "transition")                                                                    \
    X(ELASTIC, "elastic")

typedef enum dt_regime {
#define DT_REGIME_ENUM(name, text) DT_REGIME_##name,
    DT_REGIME_LIST(DT_REGIME_ENUM)
#undef DT_REGIME_ENUM
        DT_REGIME_COUNT
} dt_regime;

const char *dt_regime_text(dt_regime regime);

/*
 * All of them: DT_E_DOMAIN, and nothing written, for a value that is not finite, not positive,
 * or a wall of half the OD or more. Sources and what is left out: docs/strength.md.
 * Checked by tests/published/test_ratings.c.
 */

/**
 * Collapse resistance without axial load or internal pressure, Pa, not rounded.
 * Yield strengths from 20,000 to 160,000 psi (138 to 1103 MPa); regime may be NULL.
 */
dt_status dt_collapse(double od_m, double wall_m, double yield_pa, double *collapse_pa,
                      dt_regime *regime);

/** Yield strength reduced for axial tension up to yield (no credit for compression), Pa. */
dt_status dt_reduced_yield(double yield_pa, double axial_stress_pa, double *reduced_pa);

/**
 * Collapse resistance under axial tension, the reduced-yield form, Pa.
 * DT_E_DOMAIN too where the tension leaves less than 20,000 psi of yield strength.
 */
dt_status dt_collapse_axial(double od_m, double wall_m, double yield_pa, double axial_stress_pa,
                            double *collapse_pa, dt_regime *regime);

/** Internal yield of the body; wall_fraction 0.875 for the standard's wall tolerance. Pa. */
dt_status dt_internal_yield(double od_m, double wall_m, double yield_pa, double wall_fraction,
                            double *pressure_pa);

/** Pipe body yield, N. */
dt_status dt_body_yield(double od_m, double wall_m, double yield_pa, double *force_n);

/**
 * Joint strength, N, of a pipe with a thread. DT_E_DOMAIN when the thread table has no
 * such thread for this OD. DT_PLAIN_END gives the body yield (welded or by others).
 * The coupling has the pipe's grade and the OD pipe->coupling_od_m: for special-clearance
 * couplings pass a copy of the pipe with that OD replaced.
 */
dt_status dt_joint_strength(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                            double *force_n);

/**
 * Internal pressure, Pa, at which the coupling yields or, for round threads, the thread leaks.
 * Coupling as for dt_joint_strength(). DT_E_DOMAIN for DT_PLAIN_END and unknown threads.
 * Leaves out the leak of buttress threads.
 */
dt_status dt_coupling_internal_yield(const dt_catalogue *catalogue, const dt_pipe *pipe,
                                     dt_thread thread, double *pressure_pa);

/** Everything `drawtube rate` prints; NAN where a figure does not exist. */
typedef struct dt_rating {
    double collapse_pa, internal_yield_pa, body_yield_n;
    dt_regime regime;
    double joint_n[DT_THREAD_COUNT];
    /* the same as the tables of the standard print them: pressures to 10 psi, forces to 1000 lbf,
     * with the standard's own rounding of D/t, area and d1 on the way */
    double printed_collapse_psi, printed_internal_yield_psi, printed_body_yield_klbf;
    double printed_joint_klbf[DT_THREAD_COUNT];
} dt_rating;

dt_status dt_rate(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_rating *out);

#endif
