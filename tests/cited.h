/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_CITED_H
#define DRAWTUBE_TESTS_CITED_H

#include <stdio.h>
#include <stdlib.h>

#include "check.h"

/*
 * Checks against something outside the project. Each names what it is held against and fails like
 * any other assertion; run with DT_ASSURANCE_DIR set, the program also writes a row a check to the
 * file of its own name there, from which docs/assurance.md is made (tests/assurance/).
 */

/* How the figure on the other side came to us: word in the rows, heading in the document. */
typedef enum cited_how {
    CITED_READ,     /* the source was open before us */
    CITED_WORKED,   /* arithmetic done outside the program with the formulas of the source */
    CITED_RECALLED, /* from memory: known by heart, not looked up */
    CITED_PRACTICE  /* common practice, no source */
} cited_how;

typedef struct cited {
    cited_how how;
    const char *source; /* author, title, year, place; no tab, no bar: it stands in a table */
} cited;

static inline void cited_row(const cited *from, const char *quantity, const char *unit,
                             const char *which, double ours, double theirs, double allowed)
{
    static const char *const how[] = {"read", "worked", "recalled", "practice"};
    static FILE *rows = NULL;
    const char *folder = getenv("DT_ASSURANCE_DIR");
    if (!folder) return;
    if (!rows) {
        char path[1024];
        snprintf(path, sizeof path, "%s/%s.rows", folder, DT_TEST_NAME);
        rows = fopen(path, "w");
        if (!rows) fail_msg("cannot write %s", path);
    }
    /* Six digits: more of ours would differ from one compiler to the next. */
    const double off = ours - theirs, share = theirs != 0 ? off / fabs(theirs) : off;
    fprintf(rows, "%s\t%s\t%s\t%s\t%s\t%.6g\t%.6g\t%.3g\t%.9f\n", how[from->how], from->source,
            quantity, unit, which, ours, theirs, allowed, share);
    fflush(rows); /* a failed assertion leaves the test by longjmp */
}

/** As assert_cited(), for one of many rows: `which` names the row (a pipe, a depth). */
#define assert_cited_row(from, quantity, unit, which, ours, theirs, allowed)                       \
    do {                                                                                           \
        const double ours_ = (ours), theirs_ = (theirs), allowed_ = (allowed);                     \
        assert_within(ours_, theirs_, allowed_);                                                   \
        cited_row((from), (quantity), (unit), (which), ours_, theirs_, allowed_);                  \
    } while (0)

/** |ours - theirs| <= allowed, false for NaN; all three in `unit`, "" for a plain number. */
#define assert_cited(from, quantity, unit, ours, theirs, allowed)                                  \
    assert_cited_row(from, quantity, unit, "", ours, theirs, allowed)

#endif
