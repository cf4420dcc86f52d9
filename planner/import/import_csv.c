/* SPDX-License-Identifier: MIT */
/*
 * Tables and surveys with a row a line. Part of the import, import.h.
 * RFC 4180 for commas and quotes; a quoted cell does not hold a line break here. Columns may be
 * parted by semicolons or tabs, too (csv_form.c). The first line that is no comment names the
 * columns, each with its unit in brackets, "depth [ft]", or in the next row.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "import_parts.h"

/** Takes the quotes off a cell in place; "" stands for one quote. */
static char *unquote(char *cell)
{
    size_t size = strlen(cell);
    if (size < 2 || cell[0] != '"' || cell[size - 1] != '"') return cell;
    cell[size - 1] = '\0';
    char *out = cell;
    for (const char *in = cell + 1; *in; ++in) {
        if (in[0] == '"' && in[1] == '"') ++in;
        *out++ = *in;
    }
    *out = '\0';
    return cell;
}

size_t dt_csv_cut(dt_lines *lines, char **cells, size_t most)
{
    char *line = lines->line;
    const char separator = lines->form.separator;
    size_t count = 0;
    bool quoted = false;
    char *start = line;
    for (char *at = line;; ++at) {
        if (*at == '"') quoted = !quoted;
        bool end = *at == '\0';
        if (!end && (*at != separator || quoted)) continue;
        *at = '\0';
        if (count < most) cells[count] = unquote(dt_import_trim(start));
        ++count;
        if (end) return count;
        start = at + 1;
    }
}

static bool is_blank(const char *line)
{
    while (dt_import_is_blank(*line))
        ++line;
    return *line == '\0' || *line == '#';
}

/** Splits "depth [ft]" or "depth (ft)" into name and unit in place. */
static char *cut_unit(char *cell)
{
    size_t size = strlen(cell);
    if (size == 0) return cell;
    char close = cell[size - 1], open = close == ']' ? '[' : close == ')' ? '(' : '\0';
    char *at = open ? strrchr(cell, open) : NULL;
    if (!at) return cell + size;
    cell[size - 1] = '\0';
    *at = '\0';
    dt_import_trim(cell);
    for (size_t n = strlen(cell); n > 0 && dt_import_is_blank(cell[n - 1]); --n)
        cell[n - 1] = '\0';
    return dt_import_trim(at + 1);
}

dt_status dt_csv_next(dt_lines *lines)
{
    dt_status status = DT_OK;
    if (lines->held) {
        lines->held = false;
        return status;
    }
    while ((status = dt_lines_next(lines)) == DT_OK) {
        if (lines->number == 1 && strncmp(lines->line, "\xEF\xBB\xBF", 3) == 0)
            memmove(lines->line, lines->line + 3, lines->length - 2);
        if (!is_blank(lines->line)) break;
    }
    return status;
}

dt_status dt_csv_head(dt_lines *lines, dt_import_sink *sink, char **cells)
{
    dt_status status = dt_csv_next(lines);
    if (status == DT_E_NONE) {
        dt_report_add(sink->report, DT_MSG_IMPORT_EMPTY, 0, NULL, "the file has no lines");
        return DT_E_INPUT;
    }
    if (status != DT_OK) return status;
    status = dt_csv_form_find(lines);
    if (status == DT_E_NONE) lines->line[0] = '\0'; /* no column at all */
    if (status != DT_OK && status != DT_E_NONE) return status;
    size_t count = dt_csv_cut(lines, cells, DT_IMPORT_MOST_COLUMNS + 1);
    for (size_t i = 0; i < count && i <= DT_IMPORT_MOST_COLUMNS; ++i) {
        char *unit = cut_unit(cells[i]);
        if (dt_sink_head(sink, cells[i], unit, lines->number)) continue;
        return sink->out_of_memory ? DT_E_MEMORY : DT_E_INPUT;
    }
    return dt_csv_unit_row(lines, sink, cells);
}

static dt_status read_row(dt_lines *lines, dt_import_sink *sink, char **cells, double *values)
{
    size_t count = dt_csv_cut(lines, cells, DT_IMPORT_MOST_COLUMNS);
    if (count != sink->head_count) {
        dt_report_add(sink->report, DT_MSG_IMPORT_CELLS, lines->number, NULL,
                      "the row has %zu cells, the head has %zu", count, sink->head_count);
        return DT_E_INPUT;
    }
    for (size_t i = 0; i < count; ++i) {
        bool wanted = i == sink->depth_column;
        for (int t = 0; t < DT_IMPORT_TABLES; ++t)
            wanted = wanted || (sink->units[t] && sink->series[t].column == i);
        values[i] = NAN; /* other columns may hold words */
        if (!wanted) continue;
        if (!dt_csv_number(lines, cells[i])) return DT_E_INPUT;
        dt_status status = dt_sink_number(sink, cells[i], lines->number, &values[i]);
        if (status != DT_OK) return status;
    }
    return DT_OK;
}

typedef struct csv_room {
    char *cells[DT_IMPORT_MOST_COLUMNS + 1];
    double values[DT_IMPORT_MOST_COLUMNS];
} csv_room;

static dt_status read_table(dt_lines *lines, dt_import_sink *sink, csv_room *room)
{
    dt_status status = dt_csv_head(lines, sink, room->cells);
    if (status == DT_OK) status = dt_sink_map(sink, sink->heads[0].line);
    while (status == DT_OK && (status = dt_csv_next(lines)) == DT_OK) {
        status = read_row(lines, sink, room->cells, room->values);
        if (status == DT_OK) status = dt_sink_row(sink, room->values, lines->number);
    }
    if (status != DT_E_NONE) return status;
    if (!dt_csv_form_plain(lines)) return DT_E_INPUT;
    if (sink->rows > 0) return DT_OK;
    dt_report_add(sink->report, DT_MSG_IMPORT_EMPTY, lines->number, NULL,
                  "there is no row under the head");
    return DT_E_INPUT;
}

dt_status dt_import_csv(dt_lines *lines, dt_import_sink *sink)
{
    csv_room *room = malloc(sizeof *room);
    if (!room) return DT_E_MEMORY;
    dt_status status = read_table(lines, sink, room);
    free(room);
    return status;
}

/* ---- surveys ---- */

enum { USUAL = 4 }; /* names of a column of a survey, ours first */

typedef struct survey_column {
    const dt_import_column *wanted;
    const char *usual[USUAL];
    dt_kind kind;
    size_t at;
    const dt_unit *unit;
} survey_column;

static bool map_column(dt_import_sink *sink, survey_column *c, int line)
{
    const char *name = c->wanted->name ? c->wanted->name : c->usual[0];
    c->at = dt_sink_column(sink, name);
    for (size_t i = 1; !c->wanted->name && c->at == sink->head_count && i < USUAL; ++i)
        c->at = dt_sink_column(sink, c->usual[i]);
    if (c->at == sink->head_count) {
        dt_report_add(sink->report, DT_MSG_IMPORT_COLUMN, line, NULL, "there is no column \"%s\"",
                      dt_show_cell(name).text);
        return false;
    }
    const char *text = c->wanted->unit ? c->wanted->unit : sink->heads[c->at].unit;
    c->unit = dt_import_unit(c->kind, text);
    if (c->unit) return true;
    dt_report_add(sink->report, DT_MSG_IMPORT_UNIT, sink->heads[c->at].line, NULL,
                  "column \"%s\": %s \"%s\"", dt_show_cell(name).text,
                  *text ? "unknown unit" : "no unit", dt_show_cell(text).text);
    dt_report_fix(sink->report,
                  "write it in the head, as in \"md [ft]\", or in the row under it, one of %s",
                  dt_unit_choices(c->kind));
    return false;
}

static dt_status read_stations(dt_lines *lines, dt_import_sink *sink, csv_room *room,
                               dt_imported *out)
{
    const dt_import_request *request = sink->request;
    survey_column columns[] = {
        {&request->md, {"md", "measured depth", "depth md", "depth"}, DT_KIND_LENGTH, 0, NULL},
        {&request->inclination,
         {"inc", "incl", "inclination", "deviation"},
         DT_KIND_ANGLE,
         0,
         NULL},
        {&request->azimuth, {"azi", "azim", "azimuth", "azm"}, DT_KIND_ANGLE, 0, NULL}};
    dt_status status = dt_csv_head(lines, sink, room->cells);
    for (size_t i = 0; status == DT_OK && i < 3; ++i)
        if (!map_column(sink, &columns[i], sink->heads[0].line)) status = DT_E_INPUT;
    out->md_unit = columns[0].unit;
    while (status == DT_OK && (status = dt_csv_next(lines)) == DT_OK) {
        size_t count = dt_csv_cut(lines, room->cells, DT_IMPORT_MOST_COLUMNS);
        double si[3] = {0};
        if (count != sink->head_count) {
            dt_report_add(sink->report, DT_MSG_IMPORT_CELLS, lines->number, NULL,
                          "the row has %zu cells, the head has %zu", count, sink->head_count);
            return DT_E_INPUT;
        }
        for (size_t i = 0; i < 3; ++i) {
            if (!dt_csv_number(lines, room->cells[columns[i].at])) return DT_E_INPUT;
            if (dt_number_parse(room->cells[columns[i].at], &si[i]) != DT_PARSE_OK) {
                dt_report_add(sink->report, DT_MSG_IMPORT_NUMBER, lines->number, NULL,
                              "\"%s\" is not a number",
                              dt_show_cell(room->cells[columns[i].at]).text);
                return DT_E_INPUT;
            }
            si[i] *= columns[i].unit->factor;
        }
        const dt_station station = {si[0], si[1], si[2], lines->number};
        status = dt_import_station(out, sink->report, &station);
    }
    if (status != DT_E_NONE) return status;
    if (!dt_csv_form_plain(lines)) return DT_E_INPUT;
    if (out->station_count > 0) return DT_OK;
    dt_report_add(sink->report, DT_MSG_IMPORT_EMPTY, lines->number, NULL,
                  "there is no row under the head");
    return DT_E_INPUT;
}

dt_status dt_import_csv_survey(dt_lines *lines, const dt_import_request *request, dt_imported *out)
{
    dt_import_sink sink = {.request = request, .report = lines->report, .null_value = NAN};
    csv_room *room = malloc(sizeof *room);
    dt_status status = room ? read_stations(lines, &sink, room, out) : DT_E_MEMORY;
    if (sink.out_of_memory) status = DT_E_MEMORY;
    free(room);
    dt_sink_free(&sink);
    return status;
}
