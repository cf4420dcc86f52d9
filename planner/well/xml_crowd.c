/* SPDX-License-Identifier: MIT */
#include "xml_crowd.h"

#include <string.h>

#include "same.h"

/** How the characters of the text lie in its bytes, from its first four (XML 1.0, appendix F). */
typedef struct layout {
    size_t width, at; /* bytes of a unit, and the one of them that holds a letter of ASCII */
    bool ebcdic;
} layout;

static layout layout_of(const char *text, size_t size)
{
    static const struct {
        const char start[5];
        layout is;
    } rows[] = {
        {"\0\0\0<", {4, 3, false}}, {"<\0\0\0", {4, 0, false}},         {"\0<\0?", {2, 1, false}},
        {"<\0?\0", {2, 0, false}},  {"\x4c\x6f\xa7\x94", {1, 0, true}},
    };
    for (size_t i = 0; size >= 4 && i < COUNT_OF(rows); ++i)
        if (memcmp(text, rows[i].start, 4) == 0) return rows[i].is;
    if (size >= 2 && memcmp(text, "\xfe\xff", 2) == 0) return (layout){2, 1, false};
    if (size >= 2 && memcmp(text, "\xff\xfe", 2) == 0) return (layout){2, 0, false};
    return (layout){1, 0, false};
}

/** The unit there as ASCII; SUB (control-Z) for every other character. */
static char ascii_at(const char *text, layout is)
{
    static const char others[] =
        "\x4c<\x7e=\x7f\"\x7d'\x61/\x40 \x25\n\x15\n\x0d\r\x05\t\x5a!\x4f!";
    for (size_t i = 0; i < is.width; ++i)
        if (i != is.at && text[i]) return '\x1a';
    char c = text[is.at];
    if (!is.ebcdic) return c;
    for (const char *row = others; *row; row += 2)
        if (row[0] == c) return row[1];
    return '\x1a';
}

typedef struct crowd {
    size_t tags, attributes; /* of the file, and since the last "<" */
    int line;
    char before; /* the character before, blanks behind "=" left out */
} crowd;

/**
 * No state of quotes and comments, which an odd encoding could upset: an attribute has its "=" and
 * quote, and no "<" between it and the "<" of its tag, or the file is no XML.
 */
static void count(crowd *c, char letter)
{
    bool blank = letter == ' ' || letter == '\t' || letter == '\n' || letter == '\r';
    bool quote = letter == '"' || letter == '\'';
    if (letter == '\n') ++c->line;
    if (c->before == '<' && letter != '/' && letter != '!' && letter != '?') ++c->tags;
    if (letter == '<') c->attributes = 0;
    if (c->before == '=' && quote) ++c->attributes;
    if (!(c->before == '=' && blank)) c->before = letter;
}

static void tell(const crowd *c, size_t most_tags, dt_report *report)
{
    bool tags = c->tags > most_tags;
    if (!report) return;
    dt_report_add(report, DT_MSG_XML_CROWDED, c->line, NULL, "%s has more than %zu %s",
                  tags ? "the file" : "an element", tags ? most_tags : DT_XML_MOST_ATTRIBUTES,
                  tags ? "elements" : "attributes");
}

bool dt_xml_is_crowded(const char *text, size_t size, size_t most_tags, dt_report *report)
{
    layout is = layout_of(text, size);
    crowd c = {.line = 1};
    for (size_t i = 0; i + is.width <= size; i += is.width) {
        count(&c, ascii_at(text + i, is));
        if (c.attributes <= DT_XML_MOST_ATTRIBUTES && c.tags <= most_tags) continue;
        tell(&c, most_tags, report);
        return true;
    }
    return false;
}
