/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PAGE_PTHREAD_H
#define DRAWTUBE_PAGE_PTHREAD_H

/* A page has no threads to start: the caller then does the work itself (planner/odds/odds.c). */

typedef int pthread_t;

static inline int pthread_create(pthread_t *thread, const void *attributes, void *(*work)(void *),
                                 void *argument)
{
    (void)thread, (void)attributes, (void)work, (void)argument;
    return 1;
}

static inline int pthread_join(pthread_t thread, void **result)
{
    (void)thread, (void)result;
    return 1;
}

#endif
