/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_H
#define DRAWTUBE_SELFCHECK_H

#include "random_well.h"
#include "slow.h"

/** What stays the same for every well of a run. */
typedef struct bench {
    dt_catalogue catalogue;
    rows rows;
    const char *plant; /* name of a mutation put into every program, or NULL */
} bench;

/** One well file, from its bytes to the verdict. */
typedef struct trial {
    outcome outcome;
    verdict verdict;
    claims claims;
    size_t neighbours; /* planned because a limit of jobs holds a shoe down */
    dt_well *well;
} trial;

/** false: out of memory. Free with trial_free(). */
bool trial_run(const bench *b, const char *text, size_t size, trial *out);
void trial_free(trial *t);

/** A claim made wrong on purpose. Returns false where this program has nothing of the kind. */
typedef struct mutation {
    const char *name, *words;
    bool (*change)(claims *);
    const char *by; /* check that has to notice it; NULL: any */
} mutation;

const mutation *mutations(size_t *count);
const mutation *mutation_find(const char *name);

/**
 * Takes elements, points and attributes out of a well file while the same check goes on
 * failing. malloc'ed text, owned by the caller; NULL without memory.
 */
char *shrink(const bench *b, const char *text, const char *check, size_t *tried);

#endif
