/* SPDX-License-Identifier: MIT */
#include <stdlib.h>
#include <string.h>

#include "import_parts.h"

enum { END_LF = 1, END_CRLF = 2, END_CR = 4 };

dt_status dt_lines_start(dt_lines *lines, dt_import_read read, void *context, dt_report *report)
{
    lines->read = read;
    lines->context = context;
    lines->report = report;
    lines->at = lines->filled = lines->length = 0;
    lines->ended = lines->mixed = lines->held = false;
    lines->form = (dt_csv_form){.separator = ','};
    lines->number = 0;
    lines->ends = 0;
    lines->line = malloc(DT_IMPORT_MAX_LINE + 1);
    return lines->line ? DT_OK : DT_E_MEMORY;
}

void dt_lines_free(dt_lines *lines)
{
    free(lines->line);
    lines->line = NULL;
}

static bool fill(dt_lines *lines)
{
    if (lines->at < lines->filled) return true;
    if (lines->ended) return false;
    lines->at = 0;
    lines->filled = lines->read(lines->context, lines->buffer, sizeof lines->buffer);
    lines->ended = lines->filled == 0;
    return !lines->ended;
}

const char *dt_lines_peek(dt_lines *lines, size_t *size)
{
    *size = fill(lines) ? lines->filled - lines->at : 0;
    return lines->buffer + lines->at;
}

/** Notes the kind of end; files put together from several have more than one, and survive. */
static void note_end(dt_lines *lines, unsigned end)
{
    bool other = lines->ends != 0 && (lines->ends & end) == 0;
    lines->ends |= end;
    if (!other || lines->mixed) return;
    lines->mixed = true;
    dt_report_add(lines->report, DT_MSG_IMPORT_LINE_ENDS, lines->number, NULL,
                  "this line ends in %s, the lines before it end otherwise",
                  end == END_LF     ? "LF"
                  : end == END_CRLF ? "CR LF"
                                    : "CR");
}

static dt_status finish(dt_lines *lines)
{
    lines->line[lines->length] = '\0';
    return DT_OK;
}

dt_status dt_lines_next(dt_lines *lines)
{
    lines->length = 0;
    if (!fill(lines)) return DT_E_NONE;
    ++lines->number;
    while (fill(lines)) {
        char c = lines->buffer[lines->at++];
        if (c == '\n') {
            note_end(lines, END_LF);
            return finish(lines);
        }
        if (c == '\r') {
            bool crlf = fill(lines) && lines->buffer[lines->at] == '\n';
            if (crlf) ++lines->at;
            note_end(lines, crlf ? END_CRLF : END_CR);
            return finish(lines);
        }
        if (c == '\0') {
            dt_report_add(lines->report, DT_MSG_IMPORT_BYTES, lines->number, NULL,
                          "a zero byte stands here: this is no text");
            return DT_E_INPUT;
        }
        if (lines->length == DT_IMPORT_MAX_LINE) {
            dt_report_add(lines->report, DT_MSG_IMPORT_LINE_LONG, lines->number, NULL,
                          "the line has more than %zu bytes", DT_IMPORT_MAX_LINE);
            return DT_E_INPUT;
        }
        lines->line[lines->length++] = c;
    }
    return finish(lines);
}

char *dt_import_trim(char *text)
{
    while (dt_import_is_blank(*text))
        ++text;
    size_t size = strlen(text);
    while (size > 0 && dt_import_is_blank(text[size - 1]))
        text[--size] = '\0';
    return text;
}
