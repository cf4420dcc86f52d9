/* SPDX-License-Identifier: MIT */
/*
 * Linked into the command drawtube_failing, which is drawtube with memory that runs out and
 * signals that come at a bad moment:
 * DT_FAIL_AT=n lets the n-th allocation fail; DT_FAIL_COUNT=FILE writes how many there were.
 * DT_SIGNAL_AT=n raises DT_SIGNAL (a number) before the n-th step of writing: making, naming,
 * linking, removing a file or a folder and having it on the disk; DT_STEP_COUNT=FILE writes how
 * many there were.
 */
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/types.h>

#include "failing_memory.h"

static long steps;

static void maybe_signal(void)
{
    const char *at = getenv("DT_SIGNAL_AT"), *number = getenv("DT_SIGNAL");
    ++steps;
    if (at && number && steps == strtol(at, NULL, 10)) raise((int)strtol(number, NULL, 10));
}

/* Calls that change what is on the disk: counted, then done. */
#define STEP(result, name, parameters, arguments)                                                  \
    result __real_##name parameters;                                                               \
    result __wrap_##name parameters;                                                               \
    result __wrap_##name parameters                                                                \
    {                                                                                              \
        maybe_signal();                                                                            \
        return __real_##name arguments;                                                            \
    }

STEP(int, mkstemp, (char *name), (name))
STEP(char *, mkdtemp, (char *name), (name))
STEP(int, mkdir, (const char *name, mode_t mode), (name, mode))
STEP(int, rename, (const char *from, const char *to), (from, to))
STEP(int, renameat2, (int a, const char *from, int b, const char *to, unsigned int flags),
     (a, from, b, to, flags))
STEP(int, linkat, (int a, const char *from, int b, const char *to, int flags),
     (a, from, b, to, flags))
STEP(int, unlink, (const char *name), (name))
STEP(int, rmdir, (const char *name), (name))
STEP(int, fsync, (int descriptor), (descriptor))

static void write_number(const char *path, unsigned long number)
{
    FILE *file = path ? fopen(path, "w") : NULL;
    if (!file) return;
    fprintf(file, "%lu\n", number);
    fclose(file);
}

static void write_counts(void)
{
    write_number(getenv("DT_FAIL_COUNT"), memory_calls());
    write_number(getenv("DT_STEP_COUNT"), (unsigned long)steps);
}

__attribute__((constructor)) static void prepare(void)
{
    const char *at = getenv("DT_FAIL_AT");
    memory_of_json();
    if (getenv("DT_FAIL_COUNT") || getenv("DT_STEP_COUNT")) atexit(write_counts);
    memory_fails_at(at ? strtoul(at, NULL, 10) : 0);
}
