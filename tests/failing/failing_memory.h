/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_FAILING_MEMORY_H
#define DRAWTUBE_TESTS_FAILING_MEMORY_H

#include <stddef.h>

/*
 * Memory that runs out on demand. The linker sends the malloc, calloc and realloc of our own code
 * here (--wrap); jansson and libxml2 are sent here by their own hooks. The rest of the process
 * (the C library, Graphviz, cairo) keeps its memory.
 */

/** Starts counting anew: the call of that number fails, once. 0: none does. */
void memory_fails_at(size_t call);
/** Calls since then. */
size_t memory_calls(void);

/** From now on the allocations of jansson, or of libxml2, count as well. */
void memory_of_json(void);
void memory_of_xml(void);

#endif
