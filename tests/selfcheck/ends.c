/* SPDX-License-Identifier: MIT */
#include "ends.h"

#include <stdio.h>

/* How drafts end: at once, after which change, or never; by what stopped the first. */

static const char *const codes[DT_NOTICE_COUNT + 1] = {
#define DT_NOTICE(name, code, severity, between, template) code,
#include "notices.def"
#undef DT_NOTICE
    "not said"};

static end_kind kind_of(const claimed_end *end)
{
    if (end->open) return end->ended ? END_GIVEN_UP : END_NEVER;
    if (end->changed & CHANGED_STRINGS) return END_STRINGS;
    if (end->changed & CHANGED_LINER) return END_LINER;
    if (end->changed & CHANGED_SIZE) return END_SIZE;
    return end->changed & CHANGED_SHOE ? END_SHOE : END_AT_ONCE;
}

void ends_count(ends *e, const claims *said)
{
    ++e->wells;
    if (said->outcome != OUTCOME_PROGRAM) {
        ++e->none;
        return;
    }
    const end_kind kind = kind_of(&said->end);
    ++e->all[kind];
    if (kind != END_AT_ONCE) ++e->by[said->end.first][kind];
}

static void print_row(const char *name, const unsigned long *counts)
{
    printf("| %s |", name);
    for (int k = END_SHOE; k < END_COUNT; ++k)
        printf(" %lu |", counts[k]);
    printf("\n");
}

void ends_print(const ends *e)
{
    printf("%lu wells: %lu no program, %lu closed at once; the others, by what stopped the first "
           "draft:\n\n"
           "| first stopper | shoe moved | other sizes | liner | other number of strings | never: "
           "nothing left | never: given up |\n|---|---|---|---|---|---|---|\n",
           e->wells, e->none, e->all[END_AT_ONCE]);
    for (int code = 0; code <= DT_NOTICE_COUNT; ++code) {
        unsigned long any = 0;
        for (int k = 0; k < END_COUNT; ++k)
            any += e->by[code][k];
        if (any > 0) print_row(codes[code], e->by[code]);
    }
    print_row("all", e->all);
    printf("\n");
}
