/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_FUZZ_IMPORT_ONCE_H
#define DRAWTUBE_TESTS_FUZZ_IMPORT_ONCE_H

#include <stdint.h>

#include "everything.h"
#include "import.h"

/* One import of bytes in memory; what comes out must be text that an importer can print. */

typedef struct input {
    const uint8_t *at;
    size_t left, most;
} input;

static inline size_t read_input(void *context, char *bytes, size_t size)
{
    input *in = context;
    size_t count = in->left < size ? in->left : size;
    if (count > in->most) count = in->most;
    if (count > 0) memcpy(bytes, in->at, count);
    in->at += count;
    in->left -= count;
    return count;
}

static inline void import_once(const uint8_t *bytes, size_t size, const dt_import_request *request)
{
    /* odd inputs arrive in drops, so that lines are cut at every place */
    input in = {bytes, size, size % 2 ? 7 : size};
    dt_report report = {0};
    dt_imported imported = {0};
    MUST(dt_report_init(&report, "fuzz") == DT_OK);
    dt_status status = dt_import(read_input, &in, request, &report, &imported);
    MUST(status == DT_OK || (status == DT_E_INPUT && report.errors > 0));
    char *text = NULL;
    if (status == DT_OK) MUST(dt_import_text(&imported, &text) == DT_OK && text);
    free(text);
    for (size_t i = 0; i < report.count; ++i) {
        char *line = NULL;
        MUST(dt_finding_line(&report, i, &line) == DT_OK);
        free(line);
    }
    dt_imported_free(&imported);
    dt_report_free(&report);
}

#endif
