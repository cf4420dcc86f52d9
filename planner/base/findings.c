/* SPDX-License-Identifier: MIT */
#include "findings.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"

typedef struct message_row {
    dt_message id;
    dt_severity severity;
    const char *fix;
} message_row;

static const message_row MESSAGES[] = {
#define DT_MESSAGE(number, name, severity, text, fix) {DT_MSG_##name, severity, fix},
#include "messages.def"
#undef DT_MESSAGE
};

static const message_row *message_find(dt_message id)
{
    for (size_t i = 0; i < COUNT_OF(MESSAGES); ++i)
        if (MESSAGES[i].id == id) return &MESSAGES[i];
    return NULL;
}

dt_severity dt_message_severity(dt_message id)
{
    const message_row *row = message_find(id);
    return row ? row->severity : DT_ERROR;
}

const char *dt_message_fix(dt_message id)
{
    const message_row *row = message_find(id);
    return row ? row->fix : "";
}

/** printf into fresh memory; NULL when there is none. */
static char *format_text(const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    char *text = length < 0 ? NULL : malloc((size_t)length + 1);
    if (text) vsnprintf(text, (size_t)length + 1, format, again);
    va_end(again);
    return text;
}

static char *copy_text(const char *text)
{
    size_t size = strlen(text) + 1;
    char *copy = malloc(size);
    if (copy) memcpy(copy, text, size);
    return copy;
}

dt_status dt_report_init(dt_report *report, const char *file)
{
    memset(report, 0, sizeof *report);
    report->file = copy_text(file);
    return report->file ? DT_OK : DT_E_MEMORY;
}

void dt_report_free(dt_report *report)
{
    if (!report) return;
    for (size_t i = 0; i < report->count; ++i) {
        free(report->items[i].where);
        free(report->items[i].text);
        free(report->items[i].fix);
    }
    free(report->items);
    free(report->file);
    memset(report, 0, sizeof *report);
}

static int report_grow(dt_report *report)
{
    if (report->count < report->capacity) return 1;
    size_t capacity = report->capacity ? 2 * report->capacity : 16;
    dt_finding *items = realloc(report->items, capacity * sizeof *items);
    if (!items) return 0;
    report->items = items;
    report->capacity = capacity;
    return 1;
}

void dt_report_add(dt_report *report, dt_message id, int line, const char *where,
                   const char *format, ...)
{
    dt_finding finding = {.id = id, .severity = dt_message_severity(id), .line = line};
    /* Counted even when it cannot be stored: a file with an error is never taken as good. */
    if (finding.severity == DT_ERROR) ++report->errors;
    if (report->count == DT_REPORT_MOST) {
        ++report->left_out;
        return;
    }

    va_list arguments;
    va_start(arguments, format);
    finding.text = format_text(format, arguments);
    va_end(arguments);
    finding.where = copy_text(where ? where : "");
    if (!finding.text || !finding.where || !report_grow(report)) {
        free(finding.text);
        free(finding.where);
        report->out_of_memory = 1;
        return;
    }
    report->items[report->count++] = finding;
}

void dt_report_fix(dt_report *report, const char *format, ...)
{
    /* After a finding that could not be stored the last one is not the caller's. */
    if (report->count == 0 || report->out_of_memory || report->left_out) return;
    dt_finding *last = &report->items[report->count - 1];
    va_list arguments;
    va_start(arguments, format);
    char *fix = format_text(format, arguments);
    va_end(arguments);
    if (!fix) return; /* the general remedy of messages.def still stands */
    free(last->fix);
    last->fix = fix;
}

const char *dt_finding_fix(const dt_finding *finding)
{
    return finding->fix ? finding->fix : dt_message_fix(finding->id);
}

/* qsort() is not stable; merging keeps the order of arrival within a line. */
static void merge_by_line(dt_finding *items, size_t count, dt_finding *spare)
{
    if (count < 2) return;
    size_t half = count / 2, left = 0, right = half, to = 0;
    merge_by_line(items, half, spare);
    merge_by_line(items + half, count - half, spare);
    while (left < half && right < count)
        spare[to++] = items[right].line < items[left].line ? items[right++] : items[left++];
    while (left < half)
        spare[to++] = items[left++];
    memcpy(items, spare, to * sizeof *items); /* what is left on the right already stands there */
}

/* Used when there is no memory to merge in: slow, but the order is the same. */
static void insert_by_line(dt_finding *items, size_t count)
{
    for (size_t i = 1; i < count; ++i) {
        dt_finding moving = items[i];
        size_t to = i;
        for (; to > 0 && items[to - 1].line > moving.line; --to)
            items[to] = items[to - 1];
        items[to] = moving;
    }
}

void dt_report_sort(dt_report *report)
{
    if (report->count < 2) return;
    dt_finding *spare = malloc(report->count * sizeof *spare);
    if (spare)
        merge_by_line(report->items, report->count, spare);
    else
        insert_by_line(report->items, report->count);
    free(spare);
}

dt_status dt_finding_line(const dt_report *report, size_t index, char **out)
{
    const dt_finding *finding = &report->items[index];
    const char *word = finding->severity == DT_ERROR ? "error" : "warning";
    const char *fix = dt_finding_fix(finding);
    char line[24] = "";
    if (finding->line > 0) snprintf(line, sizeof line, "%d:", finding->line);

    size_t size = strlen(report->file) + strlen(finding->where) + strlen(finding->text) +
                  strlen(fix) + sizeof line + 64;
    char *text = malloc(size);
    if (!text) return DT_E_MEMORY;
    snprintf(text, size, "%s:%s %s DT-%d: %s%s%s%s%s", report->file, line, word, (int)finding->id,
             finding->where, *finding->where ? ": " : "", finding->text, *fix ? "; " : "", fix);
    *out = text;
    return DT_OK;
}
