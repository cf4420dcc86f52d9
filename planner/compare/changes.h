/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CHANGES_H
#define DRAWTUBE_CHANGES_H

#include <drawtube/questions.h>

#include "program.h"

/*
 * How one program differs from another, of the same well or of two: facts, in the order in which
 * they are read. Sentences are render/words/change_words.c's.
 */

struct dt_changes {
    const dt_program *was, *is; /* borrowed */
    dt_change_view *items;
    size_t count, room;
    size_t *partner; /* by index of a string of `is`: that of `was` which plays its part */
};

#endif
