/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_BENCH_CLOCK_H
#define DRAWTUBE_BENCH_CLOCK_H

#include <time.h>

/** CLOCK_MONOTONIC, or CLOCK_PROCESS_CPUTIME_ID, which a busy machine does not stretch. */
static inline double clock_ms(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

#endif
