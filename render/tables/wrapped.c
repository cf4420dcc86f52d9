/* SPDX-License-Identifier: MIT */
#include "wrapped.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_CELLS = 4, GAP = 2 };

/** Bytes that go on with a character of UTF-8 take no column of their own. */
static bool begins(char c)
{
    return ((unsigned char)c & 0xC0) != 0x80;
}

/** Bytes of the text that fit into so many columns: up to a blank, best one that does not part a
 * number from its unit, or a piece of a longer word. */
static size_t fitting(const char *text, int columns)
{
    size_t at = strspn(text, " "), any = 0, best = 0;
    int column = (int)at;
    for (; text[at]; ++at) {
        if (text[at] == ' ') any = at;
        if (text[at] == ' ' && !strchr("0123456789", text[at - 1])) best = at;
        if (begins(text[at]) && ++column > columns) return best ? best : any ? any : at;
    }
    return at;
}

static int columns_of(const char *text, size_t size)
{
    int columns = 0;
    for (size_t i = 0; i < size; ++i)
        columns += begins(text[i]);
    return columns;
}

size_t dt_wrap(sentence *s, size_t start, int indent)
{
    if (s->failed || s->length <= start) return 0;
    const size_t size = s->length - start;
    char *text = malloc(size + 1);
    if (!text) {
        s->failed = true;
        return 0;
    }
    memcpy(text, s->bytes + start, size);
    text[size] = '\0';
    for (char *c = strchr(text, '\n'); c; c = strchr(c, '\n'))
        *c = ' ';
    s->length = start;
    size_t lines = 0;
    for (const char *at = text; *at; at += strspn(at, " ")) {
        const size_t length = fitting(at, DT_LINE_COLUMNS - (lines ? indent : 0));
        if (lines) say(s, "\n%*s", indent, "");
        say(s, "%.*s", (int)length, at);
        at += length;
        ++lines;
    }
    free(text);
    return lines;
}

void dt_end_line(sentence *s)
{
    while (!s->failed && s->length > 0 && s->bytes[s->length - 1] == ' ')
        s->bytes[--s->length] = '\0';
    say(s, "\n");
}

void dt_say_cells(sentence *s, const char *const cells[], const int widths[])
{
    const char *at[MOST_CELLS];
    int count = 0;
    for (; count < MOST_CELLS && widths[count] > 0; ++count)
        at[count] = cells[count];
    for (bool more = true; more;) {
        more = false;
        for (int i = 0; i < count; ++i) {
            const size_t length = fitting(at[i], widths[i]);
            const int blanks = widths[i] - columns_of(at[i], length) + GAP;
            say(s, "%.*s%*s", (int)length, at[i], blanks, "");
            at[i] += length;
            at[i] += strspn(at[i], " ");
            more = more || *at[i];
        }
        dt_end_line(s);
    }
}
