/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TAPER_H
#define DRAWTUBE_TAPER_H

#include <stddef.h>

#include "status.h"

/*
 * The cheapest sequence of pipes for one string, bottom up.
 *
 * What a pipe may carry at a depth depends on the weight that hangs below it, and on nothing
 * else of the string. So a string is a path over nodes of depth; a state is the weight hanging,
 * the price so far and the sections used. Exact: docs/strength.md.
 */

/** One pipe that may be used. least_n[node] <= weight hanging below the node <= most_n[node]. */
typedef struct dt_taper_pipe {
    double price_per_m; /* > 0, along the hole */
    double weight_npm;  /* > 0, N per metre of TVD */
    const double *least_n, *most_n;
} dt_taper_pipe;

typedef struct dt_taper {
    size_t node_count;     /* at least 2: the shoe first, the top last */
    const double *along_m; /* distance from the shoe along the hole, increasing */
    const double *rise_m;  /* the same along TVD, never decreasing */
    const dt_taper_pipe *pipes;
    size_t pipe_count;
    double min_length_m; /* of a section; a shorter string has one section */
    double crossover_price;
    size_t max_sections; /* at least 1 */
    double most_price;   /* a string that is dearer is of no use; INFINITY: any is */
} dt_taper;

typedef struct dt_taper_section {
    size_t pipe;
    size_t base_node, top_node;
} dt_taper_section;

#define DT_TAPER_MOST_SECTIONS 16

typedef struct dt_taper_result {
    dt_taper_section sections[DT_TAPER_MOST_SECTIONS]; /* from the shoe up */
    size_t section_count;
    double price;
} dt_taper_result;

/** DT_OK; DT_E_NONE when no sequence holds; DT_E_DOMAIN for counts out of range and bounds that are
 * NAN; DT_E_MEMORY. */
dt_status dt_taper_solve(const dt_taper *problem, dt_taper_result *out);

#endif
