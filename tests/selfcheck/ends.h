/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_ENDS_H
#define DRAWTUBE_SELFCHECK_ENDS_H

#include "claims.h"

/** How planning draft after draft ended; of a program that was changed in more than one way, the
 * change that goes furthest. */
typedef enum end_kind {
    END_AT_ONCE,
    END_SHOE,
    END_SIZE,    /* and shoes, perhaps */
    END_LINER,   /* a liner for a full string, or the other way round */
    END_STRINGS, /* more of them, or fewer */
    END_NEVER,   /* nothing was left to try */
    END_GIVEN_UP,
    END_COUNT
} end_kind;

typedef struct ends {
    unsigned long wells, none; /* none: no program at all */
    unsigned long all[END_COUNT];
    unsigned long by[DT_NOTICE_COUNT + 1][END_COUNT]; /* what stopped the first draft */
} ends;

void ends_count(ends *e, const claims *said);
/** As a table of docs/selfcheck.md. */
void ends_print(const ends *e);

#endif
