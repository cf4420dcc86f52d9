/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_COMPARISON_H
#define DRAWTUBE_COMPARISON_H

#include <drawtube/questions.h>

#include "options.h"

/*
 * The options laid beside the program that `drawtube plan` chooses: what each one buys, what
 * it risks, line by line. Writers and drawings read this and compute nothing.
 */

/** Kinds of programs written out in full; the rest stand in dt_options alone. */
#define DT_MOST_COMPARED 26

typedef enum dt_difference_kind {
    DT_CHANGED,    /* a string that the chosen program has otherwise */
    DT_ADDED,      /* one that it does not have */
    DT_LACKING,    /* one of the chosen program's that is not here */
    DT_NEWLY_HUNG, /* a liner where the chosen program has a full string, a tie-back or nothing */
    DT_NEWLY_TIED  /* a liner tied back where it has no tie-back */
} dt_difference_kind;

/** How a program differs from the chosen one in one string. */
typedef struct dt_difference {
    dt_difference_kind kind;
    size_t string; /* of the program; DT_NO_INDEX: lacking */
    size_t was; /* the chosen program's; of liners its string that plays the part of the one above
                   this liner; DT_NO_INDEX: none */
} dt_difference;

typedef struct dt_compared {
    char label[8];             /* "plan", "A", "B", ... */
    dt_option option;          /* as it is drawn and billed */
    size_t rank;               /* 1-based place in options.items; 0: not among them */
    size_t like;               /* options of its structure, itself included; 0 for the plan's own */
    size_t dominated_by;       /* rank of an option that equals or beats it in all; 0: none does */
    const dt_program *program; /* in full; owned by plan or by the comparison */
    dt_option_plan *plan;      /* NULL for the plan's own program */
    bool tapers;           /* the planner does it with several lengths of pipe a string, for less */
    dt_option searched;    /* as it stands among the options, one pipe a string */
    size_t held;           /* of the drawn wells: by the rules of seats, with its shoes */
    dt_held_by_all of_all; /* of the first of them, by all stages */
    dt_difference *differences; /* changed, added, lacking, then how liners hang */
    size_t difference_count;
} dt_compared;

/** Where a program stands in the order that a plan is drafted in, before its bill is asked
 * (docs/nest.md): less of each is better, the first term that differs decides. */
typedef struct dt_standing {
    unsigned unlisted;    /* pairs that the basis does not have, holes nobody drills by choice */
    unsigned second;      /* pairs of the second order */
    bool no_spare;        /* no smaller liner passes below the last string, where one should */
    double bulk_m2;       /* cross sections of the holes of all strings */
    unsigned short_holes; /* that bear less of a kick than they should */
} dt_standing;

/** An option beside its figures in dt_options: how it was found, and of what its strings are. */
typedef struct dt_listed {
    dt_option searched;              /* of one pipe a string */
    bool tapers;                     /* several lengths of pipe a string make it lighter */
    size_t lengths[DT_MOST_STRINGS]; /* of pipe in each string; the one at its top is named */
    size_t tie_lengths[DT_MOST_STRINGS];
    dt_standing standing;
    dt_option_plan *plan; /* in full, while the comparison is made; NULL then */
} dt_listed;

/** How a string hangs. */
typedef enum dt_hanging { DT_RUN_FULL, DT_HUNG, DT_HUNG_AND_TIED } dt_hanging;

/** "full string", "liner", "liner, tied back"; static storage. */
const char *dt_hanging_text(dt_hanging as);

/** A program of the comparison with one string hung otherwise: the same shoes, holes and sizes, all
 * pipe chosen anew. Shown whatever beats it. */
typedef struct dt_twin {
    size_t item;      /* of the comparison, whose twin it is */
    size_t string;    /* of its program: the one that hangs so */
    dt_hanging as;    /* ... as */
    bool present;     /* the program itself */
    bool built;       /* there is such a program, and `option` is what it comes to */
    bool closes;      /* and it has no stopper */
    dt_option option; /* where built */
    dt_notices why;   /* what else changes; or why there is none */
} dt_twin;

/** What certainty costs: the plan, and beside it less and more of both. */
typedef enum dt_certainty_step {
    DT_CERTAIN_SHALLOWEST, /* as many strings, the shallowest shoes */
    DT_CERTAIN_PLANNED,
    DT_CERTAIN_MORE, /* one string more, its shoes where most hold */
    DT_CERTAIN_COUNT
} dt_certainty_step;

typedef struct dt_certainty {
    bool given;  /* there is such a program, and it closes */
    size_t held; /* as in dt_compared */
    dt_held_by_all of_all;
    dt_option option;
    dt_contingent contingent;
} dt_certainty;

/** A count of the drawn wells in percent, as every table has it. */
double dt_comparison_percent(const dt_comparison *comparison, size_t count);

/** In how many of them a program holds by all stages, in percent: in so many by the rules of seats,
 * and of those in as large a part as of the first wells. Never more than by the rules of seats. */
double dt_comparison_percent_by_all(const dt_comparison *comparison, size_t held,
                                    const dt_held_by_all *of_all);

/** "shallowest shoes", "as planned", "one string more"; static storage. */
const char *dt_certainty_text(dt_certainty_step step);

struct dt_comparison {
    const dt_well *well;         /* borrowed */
    const dt_progress *progress; /* while it is made; NULL: nobody asks */
    dt_designed designed;        /* strings, while it is made: its options share most of them */
    /* As they are drawn and billed: with several lengths of pipe a string where that is lighter and
     * no dearer, in the order of what they then come to. Each was planned in full and closes: it
     * has no stopper, and breaks no rule that only a pin may break. Without those that another, or
     * the plan, then equals or beats in all, and those that differ from a better one in seats by
     * less than these are rounded to. The plan's own program is one of them unless it is beaten,
     * breaks a wish or does not close. */
    dt_options options;
    dt_listed *listed;           /* as options.items */
    dt_listed plan_listed;       /* of the plan's own program */
    size_t plan_rank;            /* of the plan's own program among them, 1-based; 0: it is not */
    bool plan_breaks_wish;       /* then it is none of them, and beats none */
    bool plan_stopped;           /* it does not close: the same */
    size_t outdone;              /* found by the search, beaten since */
    size_t alike;                /* found, and nearly the same as a better one */
    size_t stopped;              /* found, but they do not close: left out */
    dt_notice_code stopped_most; /* what stops most of them */
    size_t not_planned;          /* too many to be planned in full: left out */
    dt_notices notes;            /* what the reader must know of the comparison */
    dt_program *planned;         /* the program of drawtube plan; NULL when that finds none */
    dt_compared *items;          /* [0] is the chosen one the others are held against */
    size_t count;
    dt_twin *twins; /* of the first two items, by string, each hung in every way */
    size_t twin_count;
    size_t left_out; /* structures beyond DT_MOST_COMPARED */
    size_t drawn;    /* wells drawn from the spreads; 0: nothing is uncertain */
    size_t asked;    /* the first of them, that are asked of all stages */
    dt_certainty certainty[DT_CERTAIN_COUNT]; /* where wells are drawn and the plan closes */
    dt_contingency *contingencies; /* of the chosen program, one an interval of the well */
};

/** The first notice for which a program is none to be offered: a stopper, or a rule that only a pin
 * of the engineer's may break; NULL: it closes. */
const dt_notice *dt_program_stopper(const dt_program *program);

/** @return as dt_options_search(); DT_E_NONE, too, where the plan finds none and no option closes.
 */
dt_status dt_comparison_make(const dt_well *well, const dt_catalogue *catalogue, dt_comparison *out,
                             dt_refusal *refusal);
/** The same, told how far it has come: progress may be NULL. DT_E_STOPPED when it said so. */
dt_status dt_comparison_make_watched(const dt_well *well, const dt_catalogue *catalogue,
                                     const dt_progress *progress, dt_comparison *out,
                                     dt_refusal *refusal);
void dt_comparison_free(dt_comparison *comparison);

/**
 * The program to work with: the one of dt_program_plan(), and where that finds none, since it
 * decides seats, types and sizes one after the other, the first of the options, which decide them
 * together. Its warnings then say so (plan-from-options), and its well is a copy with every string
 * pinned.
 * @return as dt_program_plan(); refusal->text is that of the plan. *owner is NULL, or owns the
 *         program and is freed with dt_option_plan_free() and free() in its place.
 */
dt_status dt_program_find(const dt_well *well, const dt_catalogue *catalogue, dt_program **out,
                          dt_option_plan **owner, dt_refusal *refusal);

/** Where an item of the comparison stands in the order of drafting. Borrowed. */
const dt_standing *dt_compared_standing(const dt_comparison *comparison, size_t index);

/** Strings of an option, tie-backs too. */
size_t dt_option_strings(const dt_option *option);

#endif
