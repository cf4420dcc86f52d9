/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_OPEN_FILE_H
#define DRAWTUBE_TESTS_OPEN_FILE_H

#include "open_rows.h"

/** What is asked of a well. */
typedef enum open_question {
    OPEN_AS_DRILLED, /* every shoe, hole and pipe as run */
    OPEN_FREE,       /* the conductor's depth and the last pipe's size alone */
    OPEN_WITH_KICK,  /* the same with a kick margin */
    OPEN_QUESTIONS
} open_question;

/** Kick margin of OPEN_WITH_KICK, sg (0.5 ppg). */
#define OPEN_KICK_SG 0.06

/** The well file of a question, bytes on the heap. */
char *open_file_of(const open_well *well, open_question question, size_t *size);

#endif
