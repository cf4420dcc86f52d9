/* SPDX-License-Identifier: MIT */
/*
 * Linked into the command drawtube_failing, which is drawtube with memory that runs out:
 * DT_FAIL_AT=n lets the n-th allocation fail; DT_FAIL_COUNT=FILE writes how many there were.
 * DT_FAIL_XML=1 counts those of libxml2, too.
 */
#include <stdio.h>
#include <stdlib.h>

#include "failing_memory.h"

static void write_count(void)
{
    FILE *file = fopen(getenv("DT_FAIL_COUNT"), "w");
    if (file) {
        fprintf(file, "%zu\n", memory_calls());
        fclose(file);
    }
}

__attribute__((constructor)) static void prepare(void)
{
    const char *at = getenv("DT_FAIL_AT");
    memory_of_json();
    if (getenv("DT_FAIL_XML")) memory_of_xml();
    if (getenv("DT_FAIL_COUNT")) atexit(write_count);
    memory_fails_at(at ? strtoul(at, NULL, 10) : 0);
}
