/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_OPEN_ASK_H
#define DRAWTUBE_TESTS_OPEN_ASK_H

#include <drawtube/program.h>

#include "open_file.h"

enum { OPEN_MOST_CODES = 12 };

/** What the planner makes of a question. */
typedef struct open_answer {
    bool planned;
    bool holds;     /* planned, nothing in it a stopper; pinned: with just the strings pinned */
    bool repaired;  /* another draft than the first */
    size_t strings; /* of the program */
    const char *codes[OPEN_MOST_CODES]; /* what stands against it, each once; static */
    size_t code_count;
    double seconds;
} open_answer;

open_answer open_ask(const open_well *well, open_question question, const dt_catalogue *catalogue);

/** The well of a question; NULL where the reader refuses it. Freed by the caller. */
dt_well *open_read(const open_well *well, open_question question);

/** Does some pipe of the string's diameter clear its hole, by the gaps of a well's basis? */
bool open_pair_allowed(const open_string *string, const dt_well *well,
                       const dt_catalogue *catalogue);

/** Is the string's hole the size of a bit or a hole opener of the catalogue? */
bool open_hole_drilled(const open_string *string, const dt_catalogue *catalogue);

#endif
