/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_DRAWS_H
#define DRAWTUBE_PLANNER_DRAWS_H

#include "ladder.h"

/*
 * Wells drawn from the spreads of a well file, and seats held against many of them: what the plan
 * and the odds both ask (docs/odds.md).
 */

enum { DT_ODDS_MOST_STRINGS = 20 };

typedef enum dt_input_kind {
    DT_INPUT_PORE,
    DT_INPUT_FRACTURE,
    DT_INPUT_COLLAPSE,
    DT_INPUT_INTERVAL,
    DT_INPUT_FRESH_WATER
} dt_input_kind;

/* ---- holes.c: what each hole must keep ---- */

/** Rules of the holes between shoes; an open last hole counts as one more, to the objective. */
typedef struct dt_odds_holes {
    size_t count;                                  /* shoes, the objective among them */
    dt_hole_rules rules[DT_ODDS_MOST_STRINGS + 2]; /* of the hole above each; [0] is unused */
    double surface_least_m, surface_most_m;        /* of the surface shoe, fresh water apart */
} dt_odds_holes;

/** Of seats as planned, each with the size of its hole. */
void dt_odds_holes_of_seats(const dt_well *well, const dt_seats *seats, dt_odds_holes *out);
/** Of a ladder that has no seats yet. */
void dt_odds_holes_of_ladder(const dt_well *well, const dt_ladder *ladder, dt_odds_holes *out);
/** With one more shoe in the hole that ends at shoe gap + 1: both parts are as wide as it. */
void dt_odds_holes_with_one_more(const dt_well *well, const dt_odds_holes *holes, size_t gap,
                                 dt_odds_holes *out);

/** How many strings more than planned a drawn well is given. */
enum { DT_ODDS_MORE = 2 };

/** The planned ladder, then those of more strings, found on the well as stated. None where no rule
 * of a hole depends on its size. */
typedef struct dt_odds_ladders {
    size_t count;
    dt_ladder items[1 + DT_ODDS_MORE];
} dt_odds_ladders;

/** The ladders beside a planned one. DT_OK, also where none is needed; DT_E_MEMORY. */
dt_status dt_odds_ladders_find(const dt_window *window, const dt_catalogue *catalogue,
                               const dt_ladder *planned, dt_odds_ladders *out);

/** Seats of a drawn well by the ladder of fewest strings that does. As dt_seats_lay(). */
dt_status dt_odds_lay(const dt_window *window, const dt_odds_ladders *ladders, dt_seats *out);

/* ---- draw.c: wells drawn from the spreads ---- */

/** One uncertain number: how it is spread and how it hangs on the one before it. */
typedef struct dt_uncertain {
    dt_input_kind kind;
    size_t index;
    bool whole_table;
    double tvd_m, base;
    dt_distribution distribution;
    double sd, low, high;
    double follow, own; /* normal = follow x the one before + own x a new one */
} dt_uncertain;

typedef struct dt_uncertains {
    dt_uncertain *items;
    size_t count;
} dt_uncertains;

/** All uncertain numbers of a well. DT_OK, also when there are none; DT_E_MEMORY. */
dt_status dt_uncertains_collect(const dt_well *well, dt_uncertains *out);
void dt_uncertains_free(dt_uncertains *list);

/** A private copy of the parts of a well that are drawn; the rest is the well's own. */
typedef struct dt_drawn {
    dt_well well;
    const dt_well *base;
    double *normals; /* one an uncertain number, of the last realisation */
} dt_drawn;

/** A copy to draw into. DT_OK with *out, freed by dt_drawn_free(); DT_E_MEMORY. */
dt_status dt_drawn_begin(const dt_well *well, const dt_uncertains *list, dt_drawn *out);
void dt_drawn_free(dt_drawn *drawn);

/** Makes drawn->well realisation `index` of a stream. */
void dt_draw(dt_drawn *drawn, const dt_uncertains *list, uint64_t seed, uint32_t stream,
             uint64_t index);

/* ---- surest.c: the surest seats ---- */

/** Realisations that a search looks at, their windows built once. */
typedef struct dt_trial {
    dt_window window; /* of drawn.well */
    dt_drawn drawn;
    unsigned char *third; /* of each uncertain number: 0 low, 1 middle, 2 high */
} dt_trial;

typedef struct dt_trials {
    dt_trial *items;
    size_t count;
} dt_trials;

/** Draws `count` wells and builds their windows. DT_OK with *out, freed by dt_trials_free();
 * DT_E_MEMORY. */
dt_status dt_trials_build(const dt_well *well, const dt_uncertains *list, uint64_t seed,
                          size_t count, dt_trials *out);
void dt_trials_free(dt_trials *trials);

/** Wells that a plan and a comparison look at, and the seed they are drawn with. */
enum { DT_TRIALS = 512, DT_TRIAL_SEED = 1 };

/** Draws those. DT_OK, with none where nothing of the well is uncertain; DT_E_MEMORY. */
dt_status dt_trials_of(const dt_well *well, dt_trials *out);

/** Which trials a search counts: all, or those with an input in one third. */
typedef struct dt_trial_filter {
    size_t input; /* DT_NO_INDEX: all */
    unsigned char third;
} dt_trial_filter;

/** The well as stated: its seats hold there too, by rules that may ask for more than must be. */
typedef struct dt_as_stated {
    const dt_window *window;
    const dt_odds_holes *holes;
} dt_as_stated;

/** Of how many trials all holes and shoes hold. */
size_t dt_trials_held(const dt_trials *trials, const dt_odds_holes *holes, const double *shoes_m);

/**
 * Moves the free seats of a program, one at a time and each to its best depth on the grid,
 * until no single move lets more trials hold. shoes_m is changed in place. stated: where they
 * stay, which they are in to begin with; NULL: anywhere.
 * @return DT_OK or DT_E_MEMORY; *held is how many of the counted trials hold.
 */
dt_status dt_search_seats(const dt_trials *trials, dt_trial_filter filter, double step_m,
                          const dt_odds_holes *holes, const dt_as_stated *stated, double *shoes_m,
                          const bool *fixed, size_t *held);

/** Does the section end at a shoe that stands where it may (string 1 covers fresh water)? */
bool dt_shoe_stands(const dt_window *window, const dt_odds_holes *holes, size_t string,
                    double shoe_m, dt_rule *broken);

#endif
