/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_GAP_H
#define DRAWTUBE_GAP_H

#include "seats.h"

/* Private to the seats: what stands between two fixed shoes (docs/seats.md). */

/** More strings than this never telescope; the search stops and says so. */
#define DT_MOST_SEATS 16

/** Two shoes stand at least this far apart. */
#define DT_LEAST_SECTION_M 1.0

/** A depth with the reason that stops it there. depth_m is NAN when no depth will do. */
typedef struct dt_limit {
    double depth_m;
    dt_reason why;
} dt_limit;

/** One seat being placed inside a gap. */
typedef struct dt_place {
    dt_limit shallowest, deepest, exact;
    double shoe_m;
    bool off_step; /* no rounding step fits between the limits */
} dt_place;

typedef struct dt_gap {
    double top_m, base_m; /* fixed shoes, or the objective */
    dt_limit floor;       /* no seat above this */
    dt_limit ceiling;     /* the first seat below the conductor no deeper than this; INFINITY */
    bool from_conductor;
    bool counted;           /* least_count seats stand inside, each hole with rules of its own */
    bool spread;            /* of a counted gap: more strings are asked for than the rock needs */
    const double *wanted_m; /* of a counted gap: depth of each place, as near as may be; NULL */
    /* counted: of the hole that ends at each place, then of the one that ends at the base; else of
     * the hole below the conductor and of all others */
    const dt_hole_rules *rules;
    size_t least_count;  /* seats that must stand inside ... */
    size_t needed_count; /* ... and those of them that no pin asks for */
    size_t count;
    dt_place places[DT_MOST_SEATS];
    dt_limit bottom_up_end, top_down_end; /* where the two passes got to */
} dt_gap;

/** A reason that is a depth and no more. */
dt_reason dt_plain_reason(dt_rule rule, double have_m, double need_m, int line);

/** Fills a gap with the fewest seats, or with as many as are counted. false: stuck; the two ends
 * say where. */
bool dt_gap_fill(const dt_window *window, dt_gap *gap);

/** No shoe of a gap with so many strings between it and the gap's top stands above this: each of
 * them needs a depth of its own where a shoe may stand. */
double dt_gap_least_depth(const dt_window *window, const dt_gap *gap, size_t strings_above);

/** Shallowest seat of a gap from which a hole of these rules reaches a bottom, with so many strings
 * between it and the gap's top; NAN when none does. */
double dt_gap_lowest_seat(const dt_window *window, const dt_gap *gap, const dt_hole_rules *rules,
                          double bottom_m, size_t strings_above);

#endif
