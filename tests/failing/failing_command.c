/* SPDX-License-Identifier: MIT */
/*
 * Linked into the command drawtube_failing, which is drawtube with memory that runs out and
 * signals that come at a bad moment:
 * DT_FAIL_AT=n lets the n-th allocation fail; DT_FAIL_COUNT=FILE writes how many there were.
 * DT_SIGNAL_AT=n raises DT_SIGNAL (a number) before the n-th time that a temporary file is made
 * or gets its name.
 */
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>

#include "failing_memory.h"

int __real_mkstemp(char *name);
int __real_rename(const char *from, const char *to);
int __wrap_mkstemp(char *name);
int __wrap_rename(const char *from, const char *to);

static void maybe_signal(void)
{
    static long steps;
    const char *at = getenv("DT_SIGNAL_AT"), *number = getenv("DT_SIGNAL");
    if (at && number && ++steps == strtol(at, NULL, 10)) raise((int)strtol(number, NULL, 10));
}

int __wrap_mkstemp(char *name)
{
    maybe_signal();
    return __real_mkstemp(name);
}

int __wrap_rename(const char *from, const char *to)
{
    maybe_signal();
    return __real_rename(from, to);
}

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
    if (getenv("DT_FAIL_COUNT")) atexit(write_count);
    memory_fails_at(at ? strtoul(at, NULL, 10) : 0);
}
