/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RATINGS_H
#define DRAWTUBE_RATINGS_H

#include <drawtube/questions.h>

#include "catalogue.h"

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

/** Words for people; static storage, "" for none. */
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

/** Collapse of a connection over that of the pipe body, by its table row or as stated; 1 for API
 * threads. */
double dt_collapse_part(const dt_pipe *pipe, dt_thread thread);

/**
 * Internal pressure, Pa, at which the coupling yields or, for round threads, the thread leaks.
 * Coupling as for dt_joint_strength(). DT_E_DOMAIN for DT_PLAIN_END and unknown threads.
 * Leaves out the leak of buttress threads: their make-up turns were not at hand.
 */
dt_status dt_coupling_internal_yield(const dt_catalogue *catalogue, const dt_pipe *pipe,
                                     dt_thread thread, double *pressure_pa);

/** How axial load and internal pressure enter the collapse resistance. */
#define DT_COLLAPSE_METHOD_LIST(X)                                                                 \
    X(REDUCED_YIELD, "reduced-yield", "yield strength reduced for axial tension")                  \
    X(COMBINED, "combined", "axial stress and internal pressure combined")

typedef enum dt_collapse_method {
#define DT_COLLAPSE_METHOD_ENUM(name, code, words) DT_COLLAPSE_##name,
    DT_COLLAPSE_METHOD_LIST(DT_COLLAPSE_METHOD_ENUM)
#undef DT_COLLAPSE_METHOD_ENUM
        DT_COLLAPSE_METHOD_COUNT
} dt_collapse_method;

/** Code for program.json, and words for people; static storage, "" for none. */
const char *dt_collapse_method_code(dt_collapse_method method);
const char *dt_collapse_method_words(dt_collapse_method method);

/**
 * External pressure, Pa, at which a pipe with tension and pressure inside collapses.
 * axial_stress_pa: reduced-yield takes the stress of the buoyed weight, combined the true axial
 * stress, pressure ends included. Compression, and a negative sum of axial stress and internal
 * pressure, are not credited. DT_E_DOMAIN as dt_collapse_axial().
 */
dt_status dt_collapse_loaded(dt_collapse_method method, double od_m, double wall_m, double yield_pa,
                             double axial_stress_pa, double inside_pa, double *outside_pa,
                             dt_regime *regime);

/**
 * Ductile rupture of a capped pipe, Pa: where the wall tears, with no margin in it.
 * flaw_m is the deepest flaw that inspection may miss; flaw_factor 1 for quenched and tempered
 * steel, 2 for other. DT_E_DOMAIN when the flaw leaves no wall.
 */
dt_status dt_ductile_rupture(double od_m, double wall_m, double yield_pa, double tensile_pa,
                             double wall_fraction, double flaw_m, double flaw_factor,
                             double *pressure_pa);

/** Bending stress at the outside of a pipe that follows a curvature, rad/m; Pa. */
double dt_bending_stress(double od_m, double curvature_radm);

/** Where in the wall the triaxial stress is largest. */
#define DT_WALL_POINT_LIST(X)                                                                      \
    X(INSIDE, "inner wall")                                                                        \
    X(INSIDE_TENSION, "inner wall, tension side of the bend")                                      \
    X(INSIDE_COMPRESSION, "inner wall, compression side of the bend")                              \
    X(OUTSIDE, "outer wall")                                                                       \
    X(OUTSIDE_TENSION, "outer wall, tension side of the bend")                                     \
    X(OUTSIDE_COMPRESSION, "outer wall, compression side of the bend")

typedef enum dt_wall_point {
#define DT_WALL_POINT_ENUM(name, words) DT_WALL_##name,
    DT_WALL_POINT_LIST(DT_WALL_POINT_ENUM)
#undef DT_WALL_POINT_ENUM
        DT_WALL_POINT_COUNT
} dt_wall_point;

/** Words for people; static storage, "" for none. */
const char *dt_wall_point_words(dt_wall_point point);

/**
 * Largest von Mises stress of the cut, Pa: thick-wall stresses at the inner and the outer wall,
 * each with the bending stress added and taken off. point may be NULL.
 */
dt_status dt_triaxial(double od_m, double wall_m, const dt_pipe_load *load, double *stress_pa,
                      dt_wall_point *point);

/** What the triaxial stress of a pipe takes from its wall, reckoned once. */
typedef struct dt_wall_shape {
    double od_m, area_m2;
    double inner_part, outer_part; /* of the ring: areas inside the inner and the outer wall */
    double inner_bend;             /* bending at the inner wall over that at the outer */
} dt_wall_shape;
dt_wall_shape dt_wall_shape_of(double od_m, double wall_m);

typedef enum dt_triaxial_side { DT_SURELY_UNDER, DT_SURELY_OVER, DT_NEAR_LIMIT } dt_triaxial_side;

/**
 * Is the stress of dt_triaxial() surely under a limit over 0, or surely over it? Where it is nearer
 * than the two reckonings may differ, or a load is no number, the answer is near.
 */
dt_triaxial_side dt_triaxial_look(const dt_wall_shape *shape, const dt_pipe_load *load,
                                  double limit_pa);

/** Cuts of one pipe in columns: true axial stress, pressures, and the part of the limit that is
 * left there. */
typedef struct dt_cuts {
    size_t count;
    const double *axial_pa, *inside_pa, *outside_pa, *curvature_radm, *limit_part;
} dt_cuts;

/** Of so many, how many are surely under their limit, and how many surely over it. */
typedef struct dt_sides {
    size_t under, over;
} dt_sides;

/** The same of many cuts. */
dt_sides dt_triaxial_look_at_all(const dt_wall_shape *shape, const dt_cuts *cuts, double limit_pa);

/**
 * Axial forces, N, between which the von Mises stress stays within limit_pa everywhere in the
 * wall. *least_n > *most_n when no force will do. The inverse of dt_triaxial().
 */
dt_status dt_triaxial_range(double od_m, double wall_m, const dt_pipe_load *load, double limit_pa,
                            double *least_n, double *most_n);

/** Steel that lengths and temperatures act on: Young's modulus 30e6 psi, ratio 0.3. */
double dt_steel_modulus_pa(void);

/** Everything `drawtube rate` prints; NAN where a figure does not exist. */
typedef struct dt_rating {
    double collapse_pa, internal_yield_pa, body_yield_n;
    dt_regime regime;
    double joint_n[DT_THREAD_COUNT];
    /* the same as the tables of the standard print them: pressures to 10 psi, forces to 1000 lbf,
     * with the standard's own rounding of D/t, area and d1 on the way */
    double printed_collapse_psi, printed_internal_yield_psi, printed_body_yield_klbf;
    double printed_joint_klbf[DT_THREAD_COUNT];
    double coupling_yield_pa[DT_THREAD_COUNT]; /* internal yield of the coupling */
    double leak_pa[DT_THREAD_COUNT];           /* round threads only */
    double rupture_pa; /* ductile rupture, wall 0.875, flaw of 5 % of the wall, factor 1 */
} dt_rating;

/** One pipe under a stated load. */
typedef struct dt_loaded_rating {
    dt_pipe_load load;
    double collapse_outside_pa[DT_COLLAPSE_METHOD_COUNT]; /* outside pressure at collapse */
    double triaxial_stress_pa, triaxial_factor;
    dt_wall_point wall_point;
    double bending_stress_pa;
    double burst_factor, collapse_factor[DT_COLLAPSE_METHOD_COUNT]; /* INFINITY: not loaded so */
    double tension_factor; /* body yield over tension and bending; INFINITY in compression */
} dt_loaded_rating;

/** Holds one pipe, its axial force taken as the true one, against a load. */
dt_status dt_rate_loaded(const dt_pipe *pipe, const dt_pipe_load *load, dt_loaded_rating *out);

/**
 * Every rating of a pipe in each of its threads, as the tables of the standard print them and not
 * rounded.
 * @return DT_OK; DT_E_DOMAIN when a dimension or the thread table does not allow it. *out is set on
 * DT_OK only. Source: the formulas above; checked by tests/published/ratings.csv.
 */
dt_status dt_rate(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_rating *out);

#endif
