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
    bool tapers;        /* the planner does it with several lengths of pipe a string, for less */
    dt_option searched; /* as it stands among the options, one pipe a string */
    dt_difference *differences; /* changed, added, lacking, then how liners hang */
    size_t difference_count;
} dt_compared;

/** An option beside its figures in dt_options: how it was found, and of what its strings are. */
typedef struct dt_listed {
    dt_option searched;              /* of one pipe a string */
    bool tapers;                     /* several lengths of pipe a string make it lighter */
    size_t lengths[DT_MOST_STRINGS]; /* of pipe in each string; the one at its top is named */
    size_t tie_lengths[DT_MOST_STRINGS];
} dt_listed;

struct dt_comparison {
    const dt_well *well;         /* borrowed */
    const dt_progress *progress; /* while it is made; NULL: nobody asks */
    /* As they are drawn and billed: with several lengths of pipe a string where that is lighter and
     * no dearer, in the order of what they then come to; without those that another, or the plan,
     * then equals or beats in all. The plan's own program is one of them unless it is
     * beaten or breaks a wish. */
    dt_options options;
    dt_listed *listed;     /* as options.items */
    dt_listed plan_listed; /* of the plan's own program */
    size_t plan_rank;      /* of the plan's own program among them, 1-based; 0: it is not */
    bool plan_breaks_wish; /* then it is none of them, and beats none */
    size_t outdone;        /* found by the search, beaten since */
    size_t not_tapered;    /* too many to try with several lengths of pipe */
    dt_program *planned;   /* the program of drawtube plan; NULL when that finds none */
    dt_compared *items;    /* [0] is the chosen one the others are held against */
    size_t count;
    size_t left_out;               /* structures beyond DT_MOST_COMPARED */
    dt_contingency *contingencies; /* of the chosen program, one an interval of the well */
};

/** @return as dt_options_search(). */
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

/** Strings of an option, tie-backs too. */
size_t dt_option_strings(const dt_option *option);

#endif
