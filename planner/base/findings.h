/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_FINDINGS_H
#define DRAWTUBE_FINDINGS_H

#include <stddef.h>

#include <drawtube/well.h>

/** Message numbers keep their meaning for ever; the list is drawtube/messages.def. */
typedef enum dt_message {
#define DT_MESSAGE(number, name, severity, text, fix) DT_MSG_##name = (number),
#include "messages.def"
#undef DT_MESSAGE
    DT_MSG_NONE = 0
} dt_message;

/** One thing wrong with an input: where, what, and what would be right. */
typedef struct dt_finding {
    dt_message id;        /* stable number */
    dt_severity severity; /* from messages.def */
    int line;             /* 1-based line in the file; 0 when no one line is at fault */
    char *where;          /* element and attribute, "fresh_water/@deepest"; owned by the report */
    char *text;           /* what was found, and the limit it broke, both with units; owned */
    char *fix;            /* what would be right here; NULL: as messages.def says; owned */
} dt_finding;

/** Findings that are kept of one file: nobody reads more, and a broken file may bring 500,000. */
#define DT_REPORT_MOST ((size_t)20000)

/** All findings of one file. Sorted by line before it is handed out. */
struct dt_report {
    char *file; /* as the user typed it, "-" for stdin; owned */
    dt_finding *items;
    size_t count;
    size_t capacity;
    size_t errors;     /* how many findings are of severity DT_ERROR, kept or not */
    size_t left_out;   /* findings beyond DT_REPORT_MOST, which are counted and not kept */
    int out_of_memory; /* set when an item could not be stored */
};

/** Empties *report and remembers the file name (copied). DT_E_MEMORY on failure. */
dt_status dt_report_init(dt_report *report, const char *file);

/** Frees what the report owns; NULL and an already freed report are allowed. */
void dt_report_free(dt_report *report);

/**
 * Adds a finding; past DT_REPORT_MOST it is only counted. The text is printf-formatted; the "what
 * would be right" half of the message comes from messages.def when the finding is written out,
 * unless dt_report_fix() gave it one of its own.
 */
#if defined(__GNUC__)
__attribute__((format(printf, 5, 6)))
#endif
void dt_report_add(dt_report *report, dt_message id, int line, const char *where,
                   const char *format, ...);

/**
 * Gives the finding just added a remedy of its own ("write one of ft, m") in place of
 * the general one in messages.def.
 */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void dt_report_fix(dt_report *report, const char *format, ...);

/** What would be right: the finding's own remedy, or else that of messages.def. */
const char *dt_finding_fix(const dt_finding *finding);

/** Sorts by line, then by order of arrival. */
void dt_report_sort(dt_report *report);

/** Severity and the "what would be right" text of a message, static storage. */
dt_severity dt_message_severity(dt_message id);
const char *dt_message_fix(dt_message id);

/**
 * One finding as the line a user reads:
 * "file:14: error DT-214: fresh_water/@deepest: \"9000\" has no unit; write one of ft, m".
 * @return DT_OK with *out malloc'ed, owned by the caller; DT_E_MEMORY.
 */
dt_status dt_finding_line(const dt_report *report, size_t index, char **out);

#endif
