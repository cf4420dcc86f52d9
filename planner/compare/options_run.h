/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_OPTIONS_RUN_H
#define DRAWTUBE_PLANNER_OPTIONS_RUN_H

#include <math.h>
#include <stdint.h>

#include "options_search.h"
#include "same.h"
#include "units.h"

/* Private to the search for one number of strings: options_ranks.c lays out the strings of a run,
 * options_stand.c says what holds in one place, options_bound.c what the strings above add at
 * least, options_search.c makes the labels. */

typedef struct label {
    double cents;   /* whole */
    dt_hosts hosts; /* kinds of pipe the string above may be, for the hanger to be set in */
    dt_asks asks;   /* of the string above; where one pressure says it all, gas_pa alone */
    int exposure;   /* where it does not: the chain of shoes, from which all loads follow */
    int steel, minutes;
    int child, offer;          /* label of the layer below, offer of the pipe's size */
    uint16_t shoe, hole, pipe; /* site; indices into the nest */
    uint16_t bit;              /* of the hole, into the rank's bits */
    uint16_t tie;              /* offer of a tie-back, of the pipe's size */
    uint8_t type, od, spares;  /* od: rank among the sizes of the last string */
    uint8_t ties;              /* tie-backs; type DT_TIEBACK is a liner with one on it */
    int next;                  /* of the same kind, while labels are thinned out; 0: none */
} label;

/** Ends of a list of labels, by number plus one; 0: it is empty. */
typedef struct label_list {
    int first, last;
} label_list;

typedef struct labels {
    label *items;
    size_t count, capacity;
} labels;

/** Part of an array of labels. */
typedef struct span {
    size_t first, count;
} span;

/** The least an upper part can add; spares: the most. */
typedef struct bound {
    double cents;
    int steel, minutes, spares;
} bound;

static const bound no_way = {INFINITY, INT32_MAX / 4, INT32_MAX / 4, -1};

/** Strings `k` of the run, as far as they do not depend on seats. */
typedef struct rank {
    const dt_pin *pin, *tie_pin;
    bool pipe_pinned, tie_pinned;
    bool hanger_waived;
    bool full, liner, tied;    /* types allowed; tied: a liner with its tie-back */
    size_t *pipes, pipe_count; /* into the nest */
    size_t *size_of;           /* of each of them, into choice.sizes */
    size_t *first_offer;       /* of each of them, into usable */
    bool *usable[2];           /* offers that pins and rules leave a string, and a tie-back */
    double *bits;              /* distinct, that the string above must let through */
    size_t bit_count;
    double *most_burst; /* of the pipe above that lets each bit through, by ratings */
    size_t *reach;      /* deepest site below each shoe above, of any of its holes */
    bool *site;         /* its shoe may stand there in a complete program */
    labels layer;
    span *bucket; /* of [top site * bit_count + bit], into layer */
    bound *above; /* for the same index: strings above this one; the search's. NULL of the first */
} rank;

/** Loads and depths of a place over one chain, which all pipe that may stand there shares. */
typedef struct laid {
    bool none; /* no string fits the place */
    size_t k, top, base;
    dt_string_type type;
    int exposure;
    dt_string_load load;
    dt_depths depths;
} laid;

#define LAID_KEPT 256 /* a power of two; the next one in the same slot takes its place */

typedef struct run {
    dt_search *search;
    const dt_sites *sites;
    size_t count; /* drilled strings */
    size_t most_tiebacks;
    dt_seat seats[DT_MOST_STRINGS];
    dt_nest nest;
    size_t *bit_of_hole;
    const size_t **reach_of_hole; /* deepest sites, by hole; borrowed from the search */
    double *open_m;               /* open last hole below a pipe of the last string; NAN: none */
    const size_t **open_reach;    /* of that hole; NULL: none */
    rank ranks[DT_MOST_STRINGS];
    dt_times_in_force times;
    double ods[256]; /* of the last string, growing */
    size_t od_count;
    labels heap; /* candidates of one top */
    labels scratch;
    labels sorted;
    laid *laid[2][LAID_KEPT]; /* of strings, and of tie-backs: these never take a liner's slot */
    label_list *of_kind;      /* empty between two times of thinning out */
    int kind_room;
} run;

/** Top and bottom of a string, and how it hangs; DT_TIEBACK is a liner with its tie-back. */
typedef struct spot {
    size_t k, top, base; /* string, site of the shoe above, own site */
    dt_string_type type;
} spot;

/** A pipe of one place; with a tie-back on it, the two together. */
typedef struct way {
    double cents;
    dt_hosts hosts;        /* the liner's */
    int steel, offer, tie; /* tie: offer of the tie-back, 0 without one */
    uint8_t spares;
} way;

/** The offers of a size in one place, priced for the length they have there. Whether one holds
 * is found out only when it matters, and remembered in the search. */
typedef struct stand {
    const dt_offers *offers;
    const dt_pipe_choice *choice;
    dt_search *search;
    dt_string_place place;
    laid **shelf, *laid; /* the run's; loads and depths at hand, of an exposure */
    spot at;
    dt_hold_key key;
    int exposure; /* asked for now */
    /* gas sent up by the hole of this string, and the most of all that any string above holds */
    double sends_pa, most_sent_pa;
    bool least_gas;      /* for bounds: the least gas that can come from below is known */
    double least_gas_pa; /* at the surface */
    bool none;           /* no string fits this place */
    bool pinned;         /* a pin stays, whatever it fails */
    /* in the search's memory: from below; own cases, cold and warm, when first asked for */
    dt_known *known;
    dt_held *own[2];
    unsigned char *answers; /* of the exposure `answered` */
    int answered;
    /* by offer; owned */
    double *cents;
    int *steel, *chosen;
    size_t chosen_count;
    dt_hosts *hosts; /* kinds of pipe it may hang in, with the bit that spares is counted for */
    uint8_t *spares;
    way *ways;              /* room for every pair of offers */
    uint64_t *hangers;      /* a liner may hang on, a bit each; of those that are `hung` */
    bool *hung;             /* the hangers are known */
    bool *allowed, *passes; /* passes: the bit that spares is counted for */
    bound *least;           /* by bit below */
} stand;

/* ---- options_ranks.c ---- */

/** Pipes, bits, sites and sizes of each string, once the nest is built. DT_OK or DT_E_MEMORY. */
dt_status dt_run_lay_out(run *r);
void dt_run_free(run *r);
/** Is this the last string, its shoe at the objective? Above an open last hole no string is. */
bool dt_ends_below(const run *r, size_t k);
bool dt_hole_allowed(const dt_search *search, const dt_nest_hole *hole);

/* ---- options_stand.c ---- */

/** Forgets what the run has laid out. */
void dt_laid_free(run *r);

/** A stand with room for every size and every bit; NULL: out of memory. */
stand *dt_stand_new(const run *r);
void dt_stand_free(stand *st);

/** May an offer be in string k, or in its tie-back, wherever that stands? `sour` is asked by place.
 */
bool dt_offer_usable(const run *r, size_t k, bool tieback, const dt_offer *offer);

/** Puts the offers of pipe p of a rank, or of the tie-back on it, in a place. Without a chain of
 * what is below, a tie-back's loads know the shoe of its liner by the mud alone: places that differ
 * in it share what was found. DT_OK or DT_E_MEMORY. */
dt_status dt_stand_make(run *r, const spot *at, bool tieback, size_t p, stand *out);

/** Where each offer may hang, with this bit to come through its hanger; 0 bit: the last string. */
void dt_stand_find_hosts(const run *r, const spot *at, double bit_m, stand *st);

/** Offers that this bit passes, the strings that could still be fitted between, and the hosts. */
void dt_stand_count_spares(const run *r, const spot *at, size_t pipe, double bit_m, stand *st);

/** Does an offer hold what is asked from below? What it held, or did not, is remembered. */
bool dt_stand_holds(stand *st, size_t i, const dt_asks *asks);

/** Could an offer hold, whatever stands below? For bounds: with the least gas that can come. */
bool dt_stand_may_hold(stand *st, size_t i);
/** The same by a first look at its ratings alone. */
bool dt_stand_may_hold_by_ratings(stand *st, size_t i);

/** What an open last hole of a size below the last string adds. */
bound dt_open_hole_bill(const run *r, size_t top, double hole_m);

/** What the hole and everything but the pipe adds. */
bound dt_hole_bill(const run *r, const spot *at, const dt_nest_hole *hole, double od_m);

/* ---- options_bound.c ---- */

/** The least that the strings above each string of a run add to labels of it, for every site and
 * bit. Runs that differ in tie-backs alone share it. DT_OK; DT_E_NONE: no string can stand above
 * one of them, in any place; DT_E_MEMORY. */
dt_status dt_run_bound(run *r);

/** Can anything stand above string k hung from a site, with a bit that any pipe of its makes? */
bool dt_leads_up(const run *r, size_t k, size_t top);

/** Sets what gas a string in this place sends up, and the most that any string above may hold. */
void dt_stand_find_most_sent(const run *r, const spot *at, size_t pipe, stand *st);

/**
 * Can any pipe above let this bit through and hold what is asked? A first look at ratings, at the
 * shoe and at the top, in the lightest mud that string may stand in: false only when surely none
 * can.
 */
bool dt_may_be_held(const run *r, const spot *at, double bit_m, const dt_asks *asks);

#endif
