/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_SLOW_LOADS_H
#define DRAWTUBE_SELFCHECK_SLOW_LOADS_H

#include "slow.h"

/** A depth that comes from an MD is this edge or step when it is nearer than that, m. */
#define EDGE_M 1e-5

/** What loads one string; Pa, m and kg/m3. NAN or false where a case is not run. */
typedef struct loads {
    const dt_well *well;
    dt_role role;
    size_t string;
    double top_tvd, shoe_tvd, top_md, shoe_md, above_tvd;
    double mud, gas, overpull;
    bool runs[DT_LOAD_COUNT], wall; /* wall of the finished well */
    double surface_pa, broken_pa, leak_pa;
    struct {
        double formation_pa, depth, mud, level; /* level: its mud may fall to */
    } kicks[CLAIM_STRINGS];                     /* one a hole drilled below */
    size_t kick_count;
    double annulus_m2;
    double slurry, slurry_top, displacement, bump_pa;
    double test_pa, test_fluid, wear;
    double burst, collapse, tension, triaxial;
    bool combined;
} loads;

/** The loads on a string of the claims. */
void loads_make(const context *c, size_t i, loads *out);

/** Pressures of a case at a TVD. */
void loads_pressures(const loads *l, dt_load which, double z, double *in, double *out);

/** Weight of a liquid from one TVD down to another; 0 above it. */
double loads_column(double density, double from, double to);

#endif
