/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SENTENCE_H
#define DRAWTUBE_SENTENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "status.h"
#include "units.h"

/** Text that grows; failed is set when memory ran out, and later words are dropped. */
typedef struct sentence {
    char *bytes;
    size_t length, room;
    bool failed;
} sentence;

/** Appends printf-formatted words. */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void say(sentence *s, const char *format, ...);

/** Appends what somebody else wrote: no control characters, which must not reach a terminal. */
void say_clean(sentence *s, const char *text);

/** Hands the text to the caller, or frees it and returns DT_E_MEMORY when it failed. */
dt_status sentence_take(sentence *s, char **out);

/** A quantity as people read it, by value so that several fit in one call of say(). */
typedef struct shown {
    char text[48];
} shown;

shown show(dt_display display, dt_kind kind, double si);

/** Money with its thousands apart, as people read it. */
shown show_money(double amount);

/** A diameter in the trade's fractions of an inch. */
shown show_inches(double diameter_m);

#endif
