/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_NOTICE_H
#define DRAWTUBE_NOTICE_H

#include <stdbool.h>
#include <stddef.h>

#include <drawtube/program.h>

#include "status.h"
#include "units.h"

/*
 * What a stage has to say to the reader of a program, as facts: a code, figures with their kinds,
 * names, and the reasons below. Sentences are made of them in render/words. notices.def lists the
 * codes, with their severity and template.
 */

typedef enum dt_notice_code {
#define DT_NOTICE(name, code, severity, between, template) DT_NOTICE_##name,
#include "notices.def"
#undef DT_NOTICE
    DT_NOTICE_COUNT
} dt_notice_code;

/** One name of a notice: a grade, an interval, a word that tells which part is said. */
typedef struct dt_named {
    const char *name; /* static storage */
    char text[104];   /* names of a well file are shorter */
} dt_named;

enum { DT_NOTICE_FIGURES = 8, DT_NOTICE_NAMES = 10, DT_NOTICE_TAKEN = 6 };

struct dt_notice {
    dt_notice_code code;
    size_t string; /* index of the string it is about; DT_NO_STRING: the whole well */
    int line;      /* of the well file; 0: none */
    dt_figure figures[DT_NOTICE_FIGURES];
    size_t figure_count;
    dt_named names[DT_NOTICE_NAMES];
    size_t name_count;
    int taken[DT_NOTICE_TAKEN]; /* values of the basis that it tells: basis.h counts them */
    size_t taken_count;
    struct dt_notice *because; /* reasons below; owned */
    size_t because_count;
};

#define DT_NO_STRING ((size_t)-1)

/** Notices in the order they were raised. failed: memory ran out, one or more are missing. */
typedef struct dt_notices {
    dt_notice *items;
    size_t count;
    bool failed;
} dt_notices;

/** Stable code for JSON, and severity; static storage. */
const char *dt_notice_code_text(dt_notice_code code);
dt_gravity dt_notice_gravity(dt_notice_code code);

/** "stopper", "review", "assumed"; static storage. */
const char *dt_gravity_text(dt_gravity gravity);

/** Adds a notice about a string, or about the well (DT_NO_STRING). NULL when memory runs out: what
 * is then put into NULL is passed over, and list->failed is set. Valid until the next is added. */
dt_notice *dt_notice_add(dt_notices *list, dt_notice_code code, size_t string);

/** A reason below a notice, added in the same way. */
dt_notice *dt_notice_below(dt_notices *list, dt_notice *above, dt_notice_code code);

/** States a figure in SI; one that is not finite is left out, as if nothing had been stated. */
void dt_notice_figure(dt_notice *notice, const char *name, dt_kind kind, double si);

/** States a plain number: a factor, a count, per cent. */
void dt_notice_number(dt_notice *notice, const char *name, double number);

/** States a name; NULL is left out. */
void dt_notice_name(dt_notice *notice, const char *name, const char *text);

/** States nothing but that a part of the sentence holds. */
void dt_notice_mark(dt_notice *notice, const char *name, bool holds);

/** States that it tells a value of the basis, by its place there. */
void dt_notice_took(dt_notice *notice, int value);

/** The figure, or the name, of that name; NULL when it was not stated. */
const dt_figure *dt_notice_find_figure(const dt_notice *notice, const char *name);
const char *dt_notice_find_name(const dt_notice *notice, const char *name);

/** Puts a copy of a notice, reasons and all, below another. */
void dt_notice_copy_below(dt_notices *list, dt_notice *above, const dt_notice *notice);

/** The same of a notice of another program, whose strings are others: it is about none of them. */
void dt_notice_copy_of_other(dt_notices *list, dt_notice *above, const dt_notice *notice);

/** Frees the notices and empties the list; NULL is allowed. */
void dt_notices_free(dt_notices *list);

#endif
