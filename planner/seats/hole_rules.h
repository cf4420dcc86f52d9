/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_HOLE_RULES_H
#define DRAWTUBE_HOLE_RULES_H

#include "kick_assembly.h"

/*
 * What one hole is held to beside the window: whether a kick is shut in at all, and what depends on
 * its size (docs/seats.md). Each of these rules holds in every part of a hole that it holds in, so
 * for a given sequence of holes seats stay exact.
 */

/** How much is asked of a hole. */
typedef enum dt_tier {
    DT_TIER_LEAST,  /* what is a stopper where it is not kept */
    DT_TIER_WANTED, /* and what is for review: the influx that a hole should bear */
} dt_tier;

/** What stops a program whose shoe stands higher. */
typedef enum dt_job_stop {
    DT_STOP_RUNNING, /* pipe breaks the rock while it is run */
    DT_STOP_CEMENT,  /* the cement job breaks it */
    DT_STOP_OTHER,   /* something else, of this string or of another */
} dt_job_stop;

/**
 * What a job that was planned in full has taught: pipe of this size cannot be run, or not be
 * cemented, in a hole of this size that begins as high and ends as deep. A hole inside such a one
 * may do, so the rule is as monotonic as the others.
 */
typedef struct dt_job_limit {
    size_t string;
    double hole_m, od_m;
    double top_m;    /* the shoe above stands here or deeper ... */
    double base_m;   /* ... where the hole ends here or deeper */
    double failed_m; /* the deepest shoe under which it failed */
    double weak_m;   /* where the rock breaks, TVD */
    dt_job_stop stop;
} dt_job_limit;

/** Borrowed; whoever plans owns them. */
typedef struct dt_job_limits {
    const dt_job_limit *items;
    size_t count;
    double surface_least_m; /* the tail of the surface string's cement asks for its shoe here or
                               deeper; 0: no draft has asked */
} dt_job_limits;

typedef struct dt_hole_rules {
    double hole_m;  /* diameter; NAN: nothing here depends on it */
    bool diverter;  /* a kick is led away and not shut in */
    bool riserless; /* and returns go to the sea floor: sea water stands on the mud */
    dt_tier tier;
    double least_m3;  /* swabbed influx that must be borne; NAN: none */
    double wanted_m3; /* influx that should be borne, with the intensity of the well; NAN: none */
    dt_kick_assembly assembly; /* in the hole; meaningful where one of the two is asked */
    double ecd_kgm3;           /* circulating friction over the static mud */
    double most_length_m;      /* of open hole; INFINITY: no limit */
    double most_pore_kgm3;     /* rock that may be met under a diverter; INFINITY: any */
    bool relaxed;              /* it bears less than wanted, wherever the shoe above may stand */
    dt_job_limits jobs;        /* none until a draft has been planned in full and came to nothing */
    size_t string;             /* whose hole it is, and its pipe, to know which of them count */
    double od_m;
} dt_hole_rules;

/**
 * The rules of a hole of a well. hole_m NAN: of a hole whose size is not known, so that only those
 * count that hold for every size. lengths: whether the longest open hole by size binds.
 */
void dt_hole_rules_for(const dt_well *well, double hole_m, bool diverter, dt_tier tier,
                       bool lengths, dt_hole_rules *out);

/** Does the hole drilled out of a string of this place (0: the conductor) have a diverter? */
bool dt_hole_riserless(const dt_well *well, size_t string_above); /* returns to the sea floor */
bool dt_hole_has_diverter(const dt_well *well, size_t string_above);

/** Does any rule of a well depend on the size of a hole? */
bool dt_hole_rules_by_size(const dt_well *well);

/** Longest open hole of a size that its basis prefers, m; INFINITY: no limit. */
double dt_hole_preferred_length(const dt_well *well, double hole_m);

#endif
