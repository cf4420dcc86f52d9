/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_OPEN_PAGE_H
#define DRAWTUBE_TESTS_OPEN_PAGE_H

#include <stdio.h>

#include "open_ask.h"

typedef struct open_figures {
    const open_wells *wells;
    open_answer (*answers)[OPEN_QUESTIONS]; /* one row a well */
    bool *sound;                            /* no mud of it over the leak-off above */
    const dt_catalogue *catalogue;
    const dt_well *shelf; /* any of them: for what its basis says */
} open_figures;

/** The figures that are held to a target. */
typedef struct open_tally {
    size_t wells, sound;
    size_t hold;            /* sound wells whose program as drilled holds */
    size_t free_planned;    /* sound wells with a free plan */
    size_t same, near;      /* strings as run; as run or one off */
    double mean_difference; /* planned less run */
    size_t keep_kick, kick_planned;
    size_t pairs, pairs_allowed, holes_drilled;
} open_tally;

open_tally open_count(const open_figures *f);

/** Is all that the page says of a well what the planner makes of it? */
bool open_page_agrees(const char *page, const open_figures *f, size_t well);

/** docs/open-wells.md. */
void open_page_write(FILE *out, const open_figures *f);

#endif
