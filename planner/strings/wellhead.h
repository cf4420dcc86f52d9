/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_WELLHEAD_H
#define DRAWTUBE_WELLHEAD_H

#include "strings.h"

/*
 * Wellhead and blowout preventer: the pressure that may come to the surface while each hole is
 * drilled and when the well is finished, the working-pressure class that bears it, and what the
 * conductor and the surface string carry. Method and sources: docs/strength.md.
 */

/** X(psi): working-pressure classes of API Spec 6A (wellhead) and 16A (BOP), from memory. */
#define DT_WORKING_PRESSURE_LIST(X) X(2000) X(3000) X(5000) X(10000) X(15000) X(20000)

/** Smallest class that bears a pressure, psi; 0 for none needed, NAN above the largest. */
double dt_working_pressure_psi(double pressure_pa);

/** What is nippled up on one string, and for what. NAN: not applicable. */
typedef struct dt_head_stage {
    double pressure_pa;   /* anticipated at the BOP while this string is the outermost wall
                             open to a hole, down to the next string that runs to surface */
    double at_surface_pa; /* the same at the rig floor, where the BOP is at the sea floor;
                             NAN: they are not */
    double by_pore_pa, by_fracture_pa; /* the two it is the smaller of; by_fracture NAN: no limit */
    double source_tvd_m;
    double class_psi;    /* of the spool on this string and the BOP on it */
    bool diverter;       /* a conductor carries a diverter, with no working pressure */
    bool beyond_classes; /* the pressure is above the largest class */
} dt_head_stage;

/** What the string that carries the wellhead bears. */
typedef struct dt_landing {
    bool made;      /* false: no weight of the BOP stated, no check */
    size_t carrier; /* index of the string */
    double hung_n;  /* buoyed weight of the strings inside, as landed */
    double load_n;  /* all: BOP, wellhead, hung */
    double stress_pa, yield_pa;
    double stress_factor;                  /* yield / stress */
    bool column_made;                      /* a free length is stated */
    double column_load_n;                  /* what counts for the column */
    double column_n;                       /* what it bears */
    double slenderness, slenderness_limit; /* K L / r; above the limit Euler governs */
    double column_factor;
} dt_landing;

typedef struct dt_wellhead {
    dt_head_stage *stages; /* one a string, as the seats number them, tie-backs last; liners are
                              NAN: nothing is nippled up on them */
    size_t count;
    double evacuation;     /* in force, 1 unless stated */
    dt_landing landing[2]; /* on the conductor, and on the surface string */
    size_t landing_count;
} dt_wellhead;

/** DT_OK or DT_E_MEMORY; free with dt_wellhead_free(). */
dt_status dt_wellhead_build(const dt_window *window, const dt_seats *seats,
                            const dt_strings *strings, const dt_trajectory *trajectory,
                            const dt_design_in_force *design, dt_wellhead *out);
void dt_wellhead_free(dt_wellhead *wellhead);

/**
 * Axial load, N, at which a column of pipe gives way, and its slenderness. Euler above the limit of
 * slenderness, the inelastic parabola below it.
 */
dt_status dt_column_strength(double od_m, double wall_m, double yield_pa, double length_m,
                             double end_factor, double *load_n, double *slenderness,
                             double *slenderness_limit);

#endif
