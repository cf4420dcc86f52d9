/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_ODDS_H
#define DRAWTUBE_ODDS_H

#include <drawtube/questions.h>

#include "draws.h"
#include "program.h"

/*
 * How sure is it? The seats held against, and chosen anew for, many wells drawn from the
 * spreads of the well file (docs/odds.md). All counts are whole numbers summed over
 * realisations, so the answer is the same on any number of threads.
 */

/** count / of; NAN when nothing was counted. */
double dt_share_value(dt_share share);
/** Standard error of the share, sqrt(p (1 - p) / of); 0 at 0 and 1, see dt_share_bound(). */
double dt_share_error(dt_share share);
/** Where a share is 0 or 1: how far off it may be at 95 %, about 3 / of. 0 elsewhere. */
double dt_share_bound(dt_share share);

/** One uncertain number of the well file, and what the failures of the program owe to it. */
typedef struct dt_odds_input {
    dt_input_kind kind;
    size_t index;     /* point of the table, or interval */
    bool whole_table; /* one spread for a computed gradient */
    double tvd_m;
    dt_share low, high; /* odds of the program while the input is in its lowest, highest fifth */
    double first_order, first_order_error; /* share of the variance of success; NAN: no variance */
    double worth, worth_error; /* odds gained by knowing its third before the seats are fixed; NAN:
                                  not looked at */
    double money_worth, money_error; /* cost saved by it, as dt_odds.money; NAN */
} dt_odds_input;

/** Seats of one program and its odds. */
typedef struct dt_odds_program {
    double *shoes_m; /* conductor first; the objective last where it is cased */
    size_t count;
    dt_share odds;
} dt_odds_program;

/** What befell one string of the program as planned. */
typedef struct dt_odds_string {
    dt_share held;                /* its hole could be drilled and its shoe stood where it may */
    size_t broken[DT_RULE_COUNT]; /* realisations in which this rule was broken by most */
    /* Its seat chosen anew, in realisations that need as many strings as planned: */
    size_t anew;                /* how many */
    double p10_m, p50_m, p90_m; /* NAN when there are none */
    size_t *histogram;          /* by dt_odds.bin_m, bin_count bins */
} dt_odds_string;

enum { DT_ODDS_FAN = 65 };

/** The window at one depth over the drawn wells: the values with 10, 50 and 90 % below them. */
typedef struct dt_odds_fan {
    double tvd_m;
    double pore_kgm3[3], fracture_kgm3[3];
} dt_odds_fan;

/** One cause of what breaks after the seats. */
typedef struct dt_odds_cause {
    dt_stage stage;
    size_t string;    /* as the program numbers them */
    const char *code; /* static storage */
    size_t count;     /* wells that hold by the seats and break so */
} dt_odds_cause;

/** Strength, running and cement in drawn wells: of the first of them, since it takes longer. */
typedef struct dt_odds_after {
    size_t wells;                      /* asked; 0: none */
    dt_share seats, all;               /* of these hold by the seats; by all */
    dt_share by_stage[DT_STAGE_COUNT]; /* of those that hold by the seats, break in it */
    dt_odds_cause *causes;             /* by falling count */
    size_t cause_count;
} dt_odds_after;

/** What the program as planned comes to in drawn wells, a string carried for the hole that fails.
 */
typedef struct dt_odds_money {
    size_t wells;   /* asked; 0: none, nothing is priced */
    dt_share lost;  /* one string does not do: they count as `dearest` */
    double dearest; /* the most that a well came to that one string mended */
    dt_cost_spread cost;
} dt_odds_money;

struct dt_odds {
    size_t samples, asked; /* done, and asked for */
    bool stopped;          /* by the caller, before all were done */
    bool precise;          /* stopped because the precision asked for was reached */
    uint64_t seed;
    dt_share planned; /* the program can be drilled as planned */
    dt_share
        spare; /* the same with one contingency liner: one more shoe mends the one failing hole */
    dt_share anew; /* as many strings as planned, or fewer, if seats are chosen anew */
    size_t needed[DT_ODDS_MOST_STRINGS];       /* realisations that need this many strings */
    size_t hopeless;                           /* realisations for which no program exists */
    dt_odds_program base, robust, robust_more; /* as planned; surest with as many; with one more */
    bool searched; /* the surest programs were looked for; false when stopped before */
    dt_odds_string *strings;
    size_t string_count;
    bool last_open;
    dt_odds_string open_hole; /* below the last string: held and broken alone */
    dt_odds_input *inputs;    /* by falling first-order share */
    size_t input_count;
    double bin_m;
    size_t bin_count;
    dt_odds_fan fan[DT_ODDS_FAN]; /* from the ground to the objective */
    dt_odds_after after;
    dt_odds_money money;
};

/** How many numbers of a well file are uncertain. */
size_t dt_odds_input_count(const dt_well *well);

#endif
