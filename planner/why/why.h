/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_WHY_H
#define DRAWTUBE_WHY_H

#include <drawtube/questions.h>

#include "program.h"
#include "switches.h"

/*
 * Why this, and why not that? Every choice of a program with the rule that binds it, and
 * wishes: what the program would be under one, or the smallest set of rules that forbids it.
 * Docs: docs/why.md.
 */

/* ---- reasons -------------------------------------------------------------------------------- */

/** "seat", "hole", ...: for people and JSON; static storage. */
const char *dt_why_subject_text(dt_why_subject subject);

/** One choice and what binds it. */
typedef struct dt_why_item {
    size_t string;
    dt_why_subject subject;
    const char *rule;  /* stable code, static storage */
    double at_tvd_m;   /* where it binds; NAN when nowhere in particular */
    double have, need; /* both sides, `have >= need` wanted; NAN when the rule has no sides */
    dt_kind kind;      /* of both sides; a factor is DT_KIND_FRACTION: 1.25 is 125 % */
    double slack_step; /* the bound is eased by this much (SI of slack_kind) ... */
    dt_kind slack_kind;
    double moves_m;   /* ... and the seat moves by this much, shallower below 0; NAN: no slope */
    dt_notice reason; /* to be said */
    dt_notice slack;  /* what easing the bound gains; only where has_slack */
    bool has_slack;
} dt_why_item;

struct dt_why {
    dt_why_item *items; /* by string, then by subject */
    size_t count;
};

/**
 * The reasons of a program, or of one of its strings (DT_NO_INDEX: all). Shadow values of
 * seats come from placing the seat again with its bound eased by one step (0.1 ppg, 100 psi,
 * 100 ft), the neighbouring seats held.
 * @return DT_OK with *out, freed by dt_why_free(); DT_E_DOMAIN for a string that is not there;
 *         DT_E_MEMORY.
 */
dt_status dt_why_explain(const dt_program *program, size_t string, dt_why *out);
void dt_why_free(dt_why *why);

/* ---- wishes ---------------------------------------------------------------------------------- */

typedef enum dt_wish_field {
    DT_WISH_SHOE,
    DT_WISH_HOLE,
    DT_WISH_PIPE,
    DT_WISH_WEIGHT,
    DT_WISH_GRADE,
    DT_WISH_THREAD,
    DT_WISH_TYPE
} dt_wish_field;

enum { DT_WISH_SIZES = 8, DT_WISH_MOST = 8 };

/** One wish, read from the user's words. */
typedef struct dt_wish {
    dt_wish_kind kind;
    size_t string; /* of the program; DT_NO_INDEX for sizes of the whole well */
    dt_wish_field field;
    double value;  /* SI */
    char word[16]; /* grade, thread */
    dt_string_type type;
    double sizes_m[DT_WISH_SIZES];
    size_t size_count;
} dt_wish;

/**
 * Reads a wish: WITHOUT "string 3" or "intermediate 2"; SET "shoe of surface = 3000 ft" (also
 * hole, pipe, weight, grade, thread, type); ONLY "9.625 in, 13.375 in" or "7 in for production".
 * Strings go by their number from the surface, conductor first, or by their name.
 * @return DT_OK; DT_E_INPUT with *problem a sentence, owned by the caller; DT_E_MEMORY.
 */
dt_status dt_wish_read(const dt_program *program, dt_wish_kind kind, const char *text, dt_wish *out,
                       char **problem);

/** A well with wishes in it; what a program made under them hangs on. */
typedef struct dt_wished {
    dt_well well; /* shallow: shares the base well's lists but those below */
    dt_pin *pins;
    dt_interval *intervals;
    double *only_m;
    dt_wish *wishes; /* their words are pointed at by pins */
    dt_clearance_row no_clearance;
} dt_wished;

/**
 * Is there a program under the wishes when only some switches are on? *program is then that
 * program (freed by dt_program_free()) if the pointer is not NULL; its well is *holder, which
 * must outlive it and is freed by dt_wished_free(). refusal may be NULL.
 * @return DT_OK with *possible; DT_E_DOMAIN for more than DT_WISH_MOST wishes; DT_E_MEMORY.
 */
dt_status dt_wish_try(const dt_program *base, const dt_wish *wishes, size_t wish_count,
                      const dt_switches *switches, const bool *on, dt_wished *holder,
                      dt_program **program, bool *possible, dt_refusal *refusal);
void dt_wished_free(dt_wished *wished);

struct dt_verdict {
    bool possible;
    dt_program *program; /* under the wishes, when possible; else NULL */
    dt_wished wished;
    dt_switches switches;
    size_t *forbids;     /* indices of switches: the set that forbids the wishes, irreducible */
    size_t forbid_count; /* 0 and not possible: no rule forbids it, it cannot be built at all */
    bool smallest;       /* no smaller set forbids it: all were tried */
    dt_refusal refusal;  /* what the planner says with just that set in force */
    size_t tried;        /* plans made */
};

/** DT_OK with *out, freed by dt_verdict_free(); DT_E_MEMORY. */
dt_status dt_wish_judge(const dt_program *base, const dt_wish *wishes, size_t wish_count,
                        dt_verdict *out);
void dt_verdict_free(dt_verdict *verdict);

#endif
