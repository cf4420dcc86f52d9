/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_FAILING_MEMORY_H
#define DRAWTUBE_TESTS_FAILING_MEMORY_H

#include <stddef.h>

/*
 * Memory that runs out on demand. The linker sends the malloc, calloc and realloc of our own code
 * here (--wrap); jansson is sent here by its own hook. The rest of the process (the C library,
 * libxml2, Graphviz, cairo) keeps its memory. In the command libxml2 takes its own from the
 * command's (planner/cli/guard.c), so there it is counted as well.
 */

/** Starts counting anew: the call of that number fails, once. 0: none does. */
void memory_fails_at(size_t call);
/** Calls since then. */
size_t memory_calls(void);

/** From now on the allocations of jansson count as well. */
void memory_of_json(void);

#endif
