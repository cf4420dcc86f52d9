/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_OPTIONS_SEARCH_H
#define DRAWTUBE_PLANNER_OPTIONS_SEARCH_H

#include "options.h"
#include "pipe_choice.h"

/* Private to the options stage: options_sites.c lays out what may be combined, options_search.c
 * (with options_run.h) combines it, options_asks.c and options_memory.c know what was asked and
 * held before, options.c is the public face. */

/** Money in cents, steel in 0.1 kg, time in minutes: whole numbers, so that sums are exact. */
typedef struct dt_score {
    double cents; /* whole */
    int steel, minutes;
} dt_score;

/** Every depth a shoe may stand at, and what the rock says of each pair. */
typedef struct dt_sites {
    double *tvd_m, *md_m; /* the conductor's shoe first, the objective last */
    bool *shoe;           /* a shoe below the conductor may stand here */
    size_t count;
    /* deepest site the hole below this shoe can be taken to, whatever its size */
    size_t *reach;
    double *mud_kgm3;    /* of the pair [top * count + base]; NAN when not drillable */
    double *pressure_pa; /* surface pressure from that hole */
    double *finished_pa; /* of the finished well whose last hole starts at this site */
    double least_surface_m, most_surface_m; /* of the first shoe below the conductor */
    double step_m;
    bool step_widened, bends_left_out; /* so that it does not take minutes */
    size_t pair_count;
} dt_sites;

/** The same for holes of one size: what rules of holes ask besides. */
typedef struct dt_reach {
    dt_hole_rules rules;
    bool first;      /* below the conductor: of its shoe alone */
    size_t *deepest; /* by the site of the shoe above */
} dt_reach;

/** Does the well file ask for rounded shoes? */
bool dt_sites_rounded(const dt_well *well);

/** exact: governing depths themselves, even where the well file asks for rounded shoes. Regular
 * candidates stand on steps of least_step_m at least; 0: on the usual ones. */
dt_status dt_sites_build(const dt_pipe_choice *choice, const dt_seats *seats, bool exact,
                         double least_step_m, dt_sites *out);

/** May candidates stand further apart, when the search of these takes too long? */
bool dt_sites_can_widen(const dt_sites *sites, const dt_well *well);
void dt_sites_free(dt_sites *sites);

/** Strings that a program has at least, by depths alone. */
size_t dt_sites_fewest(const dt_sites *sites, const dt_well *well);

/** The wishes in force for one search; a refusal tries subsets. */
typedef struct dt_wish_set {
    size_t most_strings;          /* 0: not limited */
    double most_pull_n;           /* INFINITY */
    double bore_m;                /* INFINITY */
    bool no_tiebacks;             /* beside pinned ones */
    const double *forbidden_od_m; /* borrowed */
    size_t forbidden_count;
} dt_wish_set;

/** Finished programs, none of which dominates another. */
typedef struct dt_front {
    dt_option *items;
    dt_score *scores;
    size_t count, capacity;
} dt_front;

/** Cases that stand whatever is below, in a string that is cold or warmed as the finished well
 * is, or those from below. */
typedef enum dt_hold_what { DT_HOLD_BELOW, DT_HOLD_OWN, DT_HOLD_OWN_WARM } dt_hold_what;

/** What a pipe holds depends on this alone. */
typedef struct dt_hold_key {
    bool conductor;
    dt_string_type type;
    size_t top, base, size;
    double mud_kgm3;
    dt_role role;
    size_t pin;
    dt_hold_what what;
} dt_hold_key;

/** What a pipe is known to hold, and known not to hold: surface pressures; where chains count,
 * numbers of chains plus one. -1 and INFINITY: nothing is known. */
typedef struct dt_held {
    double good, bad;
} dt_held;

/** What was answered for one chain below, by offer. */
typedef enum dt_answer { DT_NOT_ASKED, DT_HELD, DT_NOT_HELD } dt_answer;

/** All that is known of the offers of a size in one place. */
typedef struct dt_known dt_known;

/** What a chain asks of the string above it, in numbers. */
typedef struct dt_asks {
    double gas_pa;             /* gas at the surface; 0 where that is not asked */
    double level_m, inside_pa; /* of losses: mud down to here, pressure at the string's shoe */
    int kind;                  /* all that must be the same for two chains to compare */
    bool losses;               /* level_m and inside_pa are asked */
    bool wall;                 /* the string above holds the finished well */
    bool gas_ordered;          /* to hold more gas is to hold this */
    bool loss_ordered;         /* to hold a harder loss is to hold this */
} dt_asks;

/**
 * What a string sees below it, as a chain: its own shoe, the shoe of the next string, and what that
 * one sees where it is a liner. The same chain has the same number.
 */
typedef struct dt_exposure {
    int top, site, next; /* next: DT_COVERED below a full string, DT_TIED below a liner with a
                            tie-back, DT_NOTHING below the last */
    int like; /* the first chain that asks the same, by number: what holds it holds this */
    dt_asks asks;
} dt_exposure;

/** Mud that a string that ends at a site may be run in. */
typedef struct dt_site_guard {
    double lightest_kgm3, heaviest_kgm3;
} dt_site_guard;

enum { DT_NOTHING = 0, DT_COVERED = -1, DT_TIED = -2 };

#define DT_SPARE_MEMO 4096 /* a power of two */

typedef struct dt_search {
    const dt_progress *progress; /* NULL: nobody asks */
    dt_pipe_choice choice;
    size_t fewest;  /* strings: no program has fewer */
    size_t planned; /* strings of the plan's own program; 0: there is none, or it says no more */
    bool by_size;   /* rules of holes depend on their sizes */
    dt_ladder_latitude latitude;
    dt_tier tier; /* of what holes must bear */
    dt_sites sites;
    dt_reach *reaches; /* one for each set of rules that was met */
    size_t reach_count;
    dt_wish_set wishes;
    double *sizes_owned; /* forbidden sizes of the wishes, where nothing else owns them */
    bool existence;      /* only ask whether any program exists */
    bool out_of_memory;  /* a screen could not be made */
    double most_work;    /* strings asked whether they hold; INFINITY: as many as there are */
    double work;
    bool by_pressure;       /* one pressure sums up what is below; else the whole chain does */
    dt_exposure *exposures; /* by number less 1 */
    size_t exposure_count, exposure_capacity;
    int *exposure_table; /* hash of numbers */
    int *like_table;     /* of chains that ask the same, the first; as many slots */
    size_t exposure_slots;
    struct dt_kinds *kinds; /* options_asks.c's own */
    int *kind_table;
    dt_site_guard *guard; /* by site */
    double bending_pa, least_yield_pa;
    dt_front front;
    size_t made, dominated, bounded, kept;
    struct dt_kept_bounds *bounds; /* options_bound.c's own: of runs under these wishes */
    struct dt_hold_entry *hold;    /* hash table */
    size_t hold_count, hold_capacity;
    struct {
        double drift_m, bit_m;
        unsigned spares;
    } spare_memo[DT_SPARE_MEMO];
} dt_search;

/** How a search goes about it. */
typedef struct dt_search_way {
    bool by_pressure; /* how what is below is summed up */
    bool exact;       /* governing depths are candidates, even where shoes are to be rounded */
    const dt_progress *progress; /* told how many partial programs were made; NULL: nobody asks */
    double most_work;            /* before candidates move further apart; 0: the usual */
} dt_search_way;

/** dt_options_search() in a way that is given: for tests. */
dt_status dt_options_search_by(const dt_well *well, const dt_catalogue *catalogue,
                               dt_search_way way, dt_options *out, dt_refusal *refusal);

/**
 * All programs of a number of drilled strings with at most so many tie-backs, merged into the
 * front. DT_OK, DT_E_STOPPED or DT_E_MEMORY.
 */
dt_status dt_search_strings(dt_search *search, size_t string_count, size_t most_tiebacks);

/** Deepest sites of the hole of a size: below the conductor, or below any other string. Borrowed.
 * DT_OK or DT_E_MEMORY. */
dt_status dt_reach_of(dt_search *search, double hole_m, bool first, const size_t **out);
void dt_reaches_free(dt_search *search);

/** The number of a chain, a new one for a new chain. DT_OK or DT_E_MEMORY. */
dt_status dt_exposure_number(dt_search *search, int top, int site, int next, int *out);

/** A chain as strings, top down. Returns how many; `below` has room for DT_MOST_STRINGS. */
size_t dt_exposure_chain(const dt_search *search, const dt_exposure *exposure,
                         dt_string_below *below);

/** What a chain asks. DT_OK or DT_E_MEMORY. */
dt_status dt_asks_of(dt_search *search, const dt_exposure *exposure, dt_asks *out);
void dt_asks_free(dt_search *search);

/** Does every string that holds b hold a? */
bool dt_asks_no_more(const dt_asks *a, const dt_asks *b);

/** Are both held by the same strings? */
bool dt_asks_same(const dt_asks *a, const dt_asks *b);

/** A number in which all bytes have a part. */
size_t dt_hash_bytes(const void *bytes, size_t size);

/** Where the search remembers what the offers of a size hold; NULL: out of memory. */
dt_known *dt_known_of(dt_search *search, const dt_hold_key *key);
/** The extremes that each offer is known to hold, and not to hold. */
dt_held *dt_known_held(dt_known *known);
/** Room for answers of the offers under one chain, a byte each (dt_answer); valid until another
 * chain is asked for. NULL: out of memory. */
unsigned char *dt_known_answers(dt_known *known, int exposure);
void dt_holds_free(dt_search *search);

/** Forgets the bounds of all runs: the wishes have changed. */
void dt_bounds_free(dt_search *search);

/** Most strings that still telescope between a drift and a bit. */
unsigned dt_spares_between(dt_search *search, double drift_m, double bit_m);

/** Does a pass a at least as well as b in all, in whole numbers? */
bool dt_score_at_least(const dt_option *a, const dt_score *as, const dt_option *b,
                       const dt_score *bs);

#endif
