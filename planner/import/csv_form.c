/* SPDX-License-Identifier: MIT */
/*
 * How a CSV is written: what parts its columns, which sign is the decimal one, and whether units
 * stand in a row of their own. Seen from the file alone; what two readings would fit is refused.
 */
#include <stdlib.h>
#include <string.h>

#include "import_parts.h"

/* ---- what parts the columns ---- */

/** Counts a sign outside quotes. */
static size_t count_outside(const char *line, char sign)
{
    size_t count = 0;
    bool quoted = false;
    for (; *line; ++line) {
        if (*line == '"') quoted = !quoted;
        count += *line == sign && !quoted;
    }
    return count;
}

/** "sep=;", which spreadsheets write before the head. */
static bool says_separator(const dt_lines *lines, char *separator)
{
    const char *line = lines->line;
    if (strncmp(line, "sep=", 4) != 0 || strlen(line) != 5 || !strchr(",;\t", line[4]))
        return false;
    *separator = line[4];
    return true;
}

dt_status dt_csv_form_find(dt_lines *lines)
{
    dt_csv_form *form = &lines->form;
    *form = (dt_csv_form){.separator = ','};
    if (says_separator(lines, &form->separator)) return dt_csv_next(lines);
    static const char signs[] = {',', ';', '\t'};
    size_t kinds = 0;
    for (size_t i = 0; i < sizeof signs; ++i) {
        if (count_outside(lines->line, signs[i]) == 0) continue;
        form->separator = signs[i];
        ++kinds;
    }
    if (kinds < 2) return DT_OK;
    dt_report_add(lines->report, DT_MSG_IMPORT_COLUMNS, lines->number, NULL,
                  "the head has more than one of comma, semicolon and tab: which of them parts the "
                  "columns is not plain");
    dt_report_fix(lines->report, "keep one of them, and put names that hold another into quotes");
    return DT_E_INPUT;
}

/* ---- the decimal sign ---- */

static size_t digits_at(const char *text)
{
    return strspn(text, "0123456789");
}

/** What a number says of its file: 0 nothing. */
enum { SAYS_POINT = 1, SAYS_COMMA = 2, SAYS_UNGROUPED = 4, SAYS_BOTH = 8 };

static unsigned what_it_says(const char *cell)
{
    const char *at = cell + strspn(cell, "+-");
    const size_t whole = digits_at(at), rest = strcspn(at, ",.");
    const char sign = at[whole];
    if (strchr(at, ',') && strchr(at, '.')) return whole == rest ? SAYS_BOTH : 0;
    if (sign == '\0') return whole > 3 ? SAYS_UNGROUPED : 0;
    if (sign == '.') return SAYS_POINT;
    if (sign != ',') return 0;
    const size_t part = digits_at(at + whole + 1);
    if (part == 0 || at[whole + 1 + part] != '\0') return 0; /* no number: told where it is read */
    const bool grouped = part == 3 && whole > 0 && whole <= 3 && at[0] != '0';
    return SAYS_COMMA | (grouped ? 0u : SAYS_UNGROUPED);
}

/** In place: a decimal comma becomes a point. False after a finding. */
bool dt_csv_number(dt_lines *lines, char *cell)
{
    dt_csv_form *form = &lines->form;
    if (form->separator == ',') return true; /* a comma parts columns there */
    const unsigned says = what_it_says(cell);
    const bool against = ((says & SAYS_POINT) && form->comma_line) ||
                         ((says & SAYS_COMMA) && form->point_line) || says == SAYS_BOTH;
    if (against) {
        dt_report_add(lines->report, DT_MSG_IMPORT_NUMBER, lines->number, NULL,
                      "\"%s\": the file has numbers with a point and numbers with a comma",
                      dt_show_cell(cell).text);
        dt_report_fix(lines->report,
                      "write all of them with one decimal sign, and digits without grouping");
        return false;
    }
    if ((says & SAYS_POINT) && !form->point_line) form->point_line = lines->number;
    if (says & SAYS_UNGROUPED) form->ungrouped = true;
    if (!(says & SAYS_COMMA)) return true;
    if (!form->comma_line) {
        form->comma_line = lines->number;
        form->first = dt_show_cell(cell);
    }
    *strchr(cell, ',') = '.';
    return true;
}

bool dt_csv_form_plain(const dt_lines *lines)
{
    const dt_csv_form *form = &lines->form;
    if (!form->comma_line || form->ungrouped) return true;
    dt_report_add(lines->report, DT_MSG_IMPORT_NUMBER, form->comma_line, NULL,
                  "\"%s\": the comma may be the decimal sign or group digits: no number of the "
                  "file tells which",
                  form->first.text);
    dt_report_fix(lines->report, "write the numbers with a decimal point, and without grouping");
    return false;
}

/* ---- a row of units ---- */

static bool is_some_unit(const char *text)
{
    for (int kind = 0; kind < DT_KIND_COUNT; ++kind)
        if (dt_import_unit((dt_kind)kind, text)) return true;
    return false;
}

/** The unit in a cell of such a row, its brackets taken off in place. */
static char *bare_unit(char *cell)
{
    const size_t size = strlen(cell);
    const bool in_brackets = size > 1 && ((cell[0] == '[' && cell[size - 1] == ']') ||
                                          (cell[0] == '(' && cell[size - 1] == ')'));
    if (!in_brackets) return cell;
    cell[size - 1] = '\0';
    return dt_import_trim(cell + 1);
}

/** Units in some cells, and a number in none. */
static bool is_unit_row(char **cells, size_t count)
{
    bool any = false;
    for (size_t i = 0; i < count; ++i) {
        if (strpbrk(cells[i], "0123456789") && !is_some_unit(cells[i])) return false;
        any = any || is_some_unit(cells[i]);
    }
    return any;
}

/** Units that are the same but for how they are spelt. */
static bool same_unit(const char *a, const char *b)
{
    for (int kind = 0; kind < DT_KIND_COUNT; ++kind)
        if (dt_import_unit((dt_kind)kind, a) &&
            dt_import_unit((dt_kind)kind, a) == dt_import_unit((dt_kind)kind, b))
            return true;
    return false;
}

static dt_status take_units(dt_lines *lines, dt_import_sink *sink, char **cells)
{
    for (size_t i = 0; i < sink->head_count; ++i) {
        dt_import_head *head = &sink->heads[i];
        if (!*cells[i] || same_unit(head->unit, cells[i])) continue;
        if (is_some_unit(head->unit) && is_some_unit(cells[i])) {
            dt_report_add(
                lines->report, DT_MSG_IMPORT_UNIT, lines->number, NULL,
                "column \"%s\" is in \"%s\" by its head and in \"%s\" by the row under it",
                dt_show_cell(head->name).text, dt_show_cell(head->unit).text,
                dt_show_cell(cells[i]).text);
            dt_report_fix(lines->report, "correct one of the two");
            return DT_E_INPUT;
        }
        if (is_some_unit(head->unit)) continue;
        char *unit = malloc(strlen(cells[i]) + 1);
        if (!unit) return DT_E_MEMORY;
        memcpy(unit, cells[i], strlen(cells[i]) + 1);
        free(head->unit);
        head->unit = unit;
        head->line = lines->number;
    }
    return DT_OK;
}

dt_status dt_csv_unit_row(dt_lines *lines, dt_import_sink *sink, char **cells)
{
    dt_status status = dt_csv_next(lines);
    if (status == DT_E_NONE) return DT_OK; /* told where rows are missed */
    if (status != DT_OK) return status;
    char *kept = malloc(lines->length + 1);
    if (!kept) return DT_E_MEMORY;
    memcpy(kept, lines->line, strlen(lines->line) + 1);
    const size_t count = dt_csv_cut(lines, cells, DT_IMPORT_MOST_COLUMNS);
    for (size_t i = 0; i < count && i < DT_IMPORT_MOST_COLUMNS; ++i)
        cells[i] = bare_unit(cells[i]);
    const bool units = count == sink->head_count && is_unit_row(cells, count);
    if (units) {
        status = take_units(lines, sink, cells);
    } else {
        memcpy(lines->line, kept, strlen(kept) + 1);
        lines->held = true;
    }
    free(kept);
    return status;
}
