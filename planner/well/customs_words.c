/* SPDX-License-Identifier: MIT */
#include "customs_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/** What stands in one pair of braces, cut into words. */
typedef struct place {
    char text[96];
    char *words[4];
    size_t count;
    bool number_only;
} place;

static bool read_place(const char *text, size_t size, place *out)
{
    *out = (place){.number_only = size > 0 && text[0] == '#'};
    if (size >= sizeof out->text) return false;
    memcpy(out->text, text, size);
    for (char *at = out->text + out->number_only; *at;) {
        at += strspn(at, " ");
        if (!*at || out->count == sizeof out->words / sizeof *out->words) break;
        out->words[out->count++] = at;
        at += strcspn(at, " ");
        if (*at) *at++ = '\0';
    }
    return out->count == (out->number_only ? 3 : 2) || out->count == 4;
}

/** "100000 lbf" as "100,000 lbf"; decimals and words stay as they are. */
static void say_grouped(sentence *s, const char *text, size_t size)
{
    const size_t digits = strspn(text, "0123456789");
    for (size_t i = 0; i < size; ++i) {
        const bool comma = digits > 4 && i > 0 && i < digits && (digits - i) % 3 == 0;
        say(s, "%s%c", comma ? "," : "", text[i]);
    }
}

static bool say_value(sentence *s, const dt_well *well, const place *p)
{
    const dt_custom custom = dt_custom_find(p->words[0], p->words[1]);
    if (custom == DT_CUSTOM_COUNT) return false;
    const char *text = dt_custom_text(well, custom);
    const dt_custom like = p->number_only ? dt_custom_find(p->words[0], p->words[2]) : custom;
    if (like == DT_CUSTOM_COUNT) return false;
    const char *other = dt_custom_text(well, like);
    const size_t number = strcspn(text, " ");
    const bool alone = p->number_only && strcmp(text + number, other + strcspn(other, " ")) == 0;
    say_grouped(s, text, alone ? number : strlen(text));
    return true;
}

/** The column of that attribute, or the first one, in the table of a row's name. */
static int column_of(const place *p, const char *attribute)
{
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        const dt_column_row *c = dt_column_about((dt_custom_column)i);
        const dt_table_row *t = dt_table_about(c->table);
        if (strcmp(t->element, p->words[0]) != 0 || strcmp(t->row, p->words[1]) != 0) continue;
        if (!attribute || strcmp(c->attribute, attribute) == 0) return i;
    }
    return -1;
}

static double cell(const dt_column_row *column, const char *row)
{
    double number = NAN;
    int word = 0;
    if (column->form == DT_FORM_WORD) {
        memcpy(&word, row + column->offset, sizeof word);
        return word;
    }
    if (column->form != DT_FORM_NAME) memcpy(&number, row + column->offset, sizeof number);
    return number;
}

/** The value of the first column that chooses the row. */
static double key_of(const dt_well *well, const place *p, const dt_column_row *first)
{
    const char *key = p->words[2];
    if (strcmp(key, "=") == 0) {
        const dt_custom custom = dt_custom_find(p->words[0], first->attribute);
        return custom == DT_CUSTOM_COUNT ? NAN : dt_custom_value_of(well, custom);
    }
    if (first->form != DT_FORM_WORD) return strtod(key, NULL);
    const char *at = strstr(first->choices, key);
    double before = 0;
    for (const char *c = first->choices; at && c < at; ++c)
        before += *c == '|' ? 1 : 0;
    return at ? before : NAN;
}

static bool say_cell(sentence *s, const dt_well *well, const place *p)
{
    const int of_key = column_of(p, NULL), of_value = column_of(p, p->words[3]);
    if (of_key < 0 || of_value < 0) return false;
    const dt_column_row *first = dt_column_about((dt_custom_column)of_key);
    const dt_column_row *column = dt_column_about((dt_custom_column)of_value);
    const double key = key_of(well, p, first);
    size_t count = 0;
    const char *rows = dt_custom_rows(well, column->table, &count);
    for (size_t i = 0; i < count; ++i) {
        const char *row = rows + i * dt_table_about(column->table)->size;
        if (!(fabs(cell(first, row) - key) < 1e-9)) continue;
        const double si = cell(column, row);
        if (column->form == DT_FORM_QUANTITY)
            say(s, "%g %s", dt_display_value(DT_DISPLAY_FIELD, column->kind, si),
                dt_display_unit(DT_DISPLAY_FIELD, column->kind));
        else
            say(s, "%g", si);
        return true;
    }
    return false;
}

void dt_say_customs(sentence *s, const dt_well *well, const char *form)
{
    while (*form) {
        const size_t plain = strcspn(form, "{");
        if (plain > 0) say(s, "%.*s", (int)plain, form);
        form += plain;
        const char *end = *form ? strchr(form, '}') : NULL;
        if (!end) {
            say(s, "%s", form);
            return;
        }
        place p;
        const bool read = read_place(form + 1, (size_t)(end - form - 1), &p);
        const bool said = read && (p.count < 4 ? say_value(s, well, &p) : say_cell(s, well, &p));
        if (!said) say(s, "%.*s", (int)(end - form + 1), form);
        form = end + 1;
    }
}
