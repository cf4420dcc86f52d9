/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLACEMENT_H
#define DRAWTUBE_PLACEMENT_H

#include "cement.h"

/*
 * Private to planner/: liquids following each other down the pipe and up the annulus, and the
 * pressures they make. Plug flow, no mixing; the pipe is always full (free fall is reported,
 * not followed); the rathole's share of the tail is left out, so that the tops end as planned.
 */

typedef struct placement_liquid {
    dt_liquid liquid;
    double volume_m3;   /* pumped; the first, the mud in the hole, has none */
    const char *moment; /* while it is pumped */
    double rate_m3s;
} placement_liquid;

/** A depth with what lies above it, made once. */
typedef struct placement_node {
    double md_m, tvd_m;
    double below_m3; /* annulus from here to the shoe, excess included */
    size_t exposed;  /* index, or DT_NO_INDEX */
} placement_node;

/** What stands on the top of a liquid: made once for each state of the annulus. */
typedef struct placement_level {
    double tvd_m, static_pa;
    double offset_pa[2]; /* for each rate: friction above, less the liquid's own sum at its top */
} placement_level;

/** One length of one bore, from the surface down. */
typedef struct placement_bore {
    double base_md_m, id_m;
} placement_bore;

typedef struct placement {
    const dt_cement_job *job;
    placement_liquid *liquids;
    size_t liquid_count;
    placement_node *nodes; /* top down */
    size_t node_count;
    double *friction; /* [rate][liquid][node]: Pa from the top down to the node */
    placement_bore *bores;
    size_t bore_count;
    double bore_m3;          /* pipe from the surface to the shoe */
    double *edges;           /* work: liquid_count + 1 depths in the annulus */
    placement_level *levels; /* work: one a liquid */
} placement;

enum { PLACEMENT_MIXING, PLACEMENT_DISPLACING, PLACEMENT_AT_REST };

dt_status placement_build(const dt_cement_job *job, const dt_cement *cement, placement *out);
void placement_free(placement *p);

/** Pressure in the annulus at a node with the liquids at p->edges. */
double placement_pressure(const placement *p, size_t node, int rate);

/** Sets p->edges for a pumped volume. */
void placement_at(placement *p, double pumped_m3);

/** Sets p->edges for slurries that end in place with the top of the first at top_md_m. */
void placement_end(placement *p, const dt_cement *cement, double top_md_m);

/** The exposed depth nearest to breaking with the liquids at p->edges, the margin counted; barest:
 * not counted, or NULL. */
dt_tight_spot placement_tight(const placement *p, int rate, dt_tight_spot *barest);

/** Runs the whole job and fills the pressures of out. */
dt_status placement_run(placement *p, dt_cement *out);

#endif
