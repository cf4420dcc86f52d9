/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_OPTIONS_H
#define DRAWTUBE_OPTIONS_H

#include "program.h"

/*
 * Which complete programs are worth comparing?
 *
 * Seats, holes, pipes, string types, weights and grades are chosen together. The result is
 * every program that no other one equals or beats in money, strings, steel, days, pipe at
 * the objective and contingency strings at once. Exact; the argument is in docs/options.md.
 */

#define DT_MOST_STRINGS 16

/** One string of an option: what a pin would say. */
typedef struct dt_choice {
    dt_role role;
    dt_string_type type; /* DT_FULL or DT_LINER */
    double shoe_m;       /* TVD */
    double hole_m, bit_m;
    const dt_pipe *pipe; /* into the catalogue */
    dt_thread thread;
    bool tied_back; /* a liner with a tie-back of this pipe on it */
    const dt_pipe *tie_pipe;
    dt_thread tie_thread;
} dt_choice;

typedef struct dt_option {
    double cost; /* 0 when nothing is priced */
    double steel_kg, days;
    double last_od_m;   /* pipe at the objective */
    unsigned spares;    /* strings that still nest between two of this program */
    size_t count;       /* drilled strings */
    size_t tiebacks;    /* a tie-back is a string more */
    double open_hole_m; /* the last hole, where it stays open; 0: it is cased */
    dt_choice strings[DT_MOST_STRINGS];
    size_t structure; /* into dt_options.structures */
} dt_option;

/** Options of the same types, holes and pipe sizes: they differ in seats, weights and grades. */
typedef struct dt_structure {
    size_t best;  /* option with the least cost (or steel, when nothing is priced) */
    size_t count; /* options of this structure */
    double shallowest_m[DT_MOST_STRINGS], deepest_m[DT_MOST_STRINGS]; /* shoes among them */
} dt_structure;

typedef struct dt_options {
    dt_option *items; /* by cost, steel, days */
    size_t count;
    dt_structure *structures; /* by their best */
    size_t structure_count;
    size_t fewest_strings, most_strings; /* numbers of strings looked at, tie-backs counted */
    bool most_by_wish;
    dt_ladder_latitude
        latitude;         /* of pairs and lengths of open hole: what the well's rules allow */
    dt_tier tier;         /* DT_TIER_WANTED: every hole bears the influx that it should */
    size_t seat_count;    /* candidate depths */
    double seat_step_m;   /* the regular ones among them */
    bool step_widened;    /* a finer step would have taken too long */
    bool not_rounded;     /* shoes that the well file asks to round stand at exact depths too, since
                             no program has all of them rounded */
    bool bends_left_out;  /* the tables have too many points for each to be a candidate */
    size_t section_count; /* pairs of them that one mud drills */
    dt_program *planned;  /* the plan's own program, where the search had to look for it; owned */
    /* Partial programs: made, and of these beaten by another of their state, cut because even
     * the least their upper part can cost is beaten by a finished program, and kept. */
    size_t made, dominated, bounded, kept;
} dt_options;

/**
 * Finds every non-dominated program.
 * @return DT_OK with *out (free with dt_options_free); DT_E_NONE with refusal->text: no
 *         program exists, or the wishes exclude all (the smallest set of them is named);
 *         DT_E_MEMORY. refusal NULL: nobody asks why, which is quicker.
 */
dt_status dt_options_search(const dt_well *well, const dt_catalogue *catalogue, dt_options *out,
                            dt_refusal *refusal);
/** The same, told how far it has come: progress may be NULL. DT_E_STOPPED when it said so. */
dt_status dt_options_search_watched(const dt_well *well, const dt_catalogue *catalogue,
                                    const dt_progress *progress, dt_options *out,
                                    dt_refusal *refusal);
void dt_options_free(dt_options *options);

/** Kinds of options and the shoes of each, again: items are in order, so the first of a kind is its
 * best. DT_OK or DT_E_MEMORY. */
dt_status dt_options_find_structures(dt_options *options);

/** Are two options of the same types, holes and pipe sizes? */
bool dt_options_same_structure(const dt_option *a, const dt_option *b);

/** What the well file pins of a string, of which so many of its role stand above; NULL: nothing. */
const dt_pin *dt_option_pin(const dt_well *well, dt_role role, unsigned above);

/** Order of options, for qsort: cost, steel, days, then larger at the objective, more spares. */
int dt_option_by_cost(const void *left, const void *right);

/** Does `a` equal or beat `b` in every criterion? */
bool dt_option_at_least(const dt_option *a, const dt_option *b);

/** Does `a` equal or beat `b` in every criterion, and beat it in one? */
bool dt_option_dominates(const dt_option *a, const dt_option *b);

/** A program as an option, to be compared with others. Spares are counted for it. */
dt_status dt_option_of_program(const dt_program *program, dt_option *out);

/** Does a program keep the <wishes> of its well? Pinned tie-backs stay whatever is wished. */
bool dt_program_keeps_wishes(const dt_program *program);

/** An option in full: the well with every string pinned, and the program planned from it. */
typedef struct dt_option_plan {
    dt_well well;                     /* borrows all but its pins */
    dt_pin pins[2 * DT_MOST_STRINGS]; /* each liner's tie-back behind it */
    dt_program *program;
} dt_option_plan;

/**
 * tapered: leave weights, grades and threads to the planner, which may use several in a string, but
 * what the well file pins, and threads that a hole has no room beside any other for.
 * @return DT_OK; DT_E_NONE when the pinned program cannot be planned; DT_E_MEMORY.
 */
dt_status dt_option_plan_make(const dt_well *well, const dt_catalogue *catalogue,
                              const dt_option *option, bool tapered, dt_option_plan *out);
/** The same with why there is none, unless NULL: *refusal is freed by the caller whatever comes
 * back. designed: as of dt_program_plan_keeping(). */
dt_status dt_option_plan_told(const dt_well *well, const dt_catalogue *catalogue,
                              const dt_option *option, bool tapered, dt_designed *designed,
                              dt_option_plan *out, dt_refusal *refusal);
void dt_option_plan_free(dt_option_plan *plan);

/**
 * One contingency string to case an interval off early, at its base. Sizes alone are looked at: a
 * spare's strength is not.
 */
typedef struct dt_contingency {
    size_t in_hole_of;   /* string whose hole the interval is drilled in; DT_NO_INDEX: none */
    size_t above;        /* string the spare runs through; DT_NO_INDEX: there is none yet */
    bool nests;          /* a spare fits and leaves all below as planned */
    double hole_m, od_m; /* the widest such spare; NAN */
    bool nests_smaller;  /* a spare fits, with the strings below made smaller where need be */
    double smaller_hole_m, smaller_od_m, last_od_m; /* the one that leaves most; NAN */
} dt_contingency;

/** What if this interval must be cased off early? DT_OK or DT_E_MEMORY. */
dt_status dt_contingency_find(const dt_program *program, size_t interval, dt_contingency *out);

#endif
