/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_ODDS_PARTS_H
#define DRAWTUBE_PLANNER_ODDS_PARTS_H

#include "odds.h"

/* What odds.c shares with odds_after.c. */

enum {
    MOST_THREADS = 64,
    LOOKED_AT = 3, /* inputs whose worth is looked at */
    MOST_CANDIDATES = 2 + 2 * LOOKED_AT
};

/** One run: everything that does not change while realisations are made. */
typedef struct dt_odds_work {
    const dt_well *well;
    const dt_odds_options *options;
    dt_uncertains inputs;
    const double *shoes;      /* of the program as planned */
    bool *fixed;              /* pinned shoes */
    dt_odds_holes holes;      /* of the plan */
    dt_odds_holes more_holes; /* of one string more, where its sizes are known */
    dt_odds_ladders ladders;
    size_t strings; /* shoes, and the objective where the last hole stays open */
    size_t cased;   /* strings alone */
    size_t bins;
    double bin_m;
    dt_trials trials;
    double *candidates[MOST_CANDIDATES]; /* shoes; 0 is the plan, 1 the surest */
    size_t candidate_count;
    double *more; /* surest with one more string; NULL when not looked for */
    size_t looked_at[LOOKED_AT];
    size_t looked_count;
    bool searched;
} dt_odds_work;

/** Runs `work` on every item, one thread each; an item whose thread cannot start runs here. */
void dt_odds_run_all(void *(*work)(void *), void *items, size_t size, unsigned count);

/** Do all holes and shoes of a program hold? */
bool dt_odds_hold(const dt_window *window, const dt_odds_holes *holes, const double *shoes);

/** What is asked of the first realisations alone, since it takes longer: stages after the seats,
 * and money. Fills odds->after and odds->money and the worth in money of odds->inputs. DT_OK, also
 * where the program has no strings or no prices; DT_E_MEMORY and others. */
dt_status dt_odds_look_further(const dt_program *program, const dt_odds_work *work,
                               unsigned threads, dt_odds *odds);

#endif
