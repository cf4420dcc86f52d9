/* SPDX-License-Identifier: MIT */
#include "import.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "import_parts.h"
#include "same.h"
#include "sentence.h"

static const char *const elements[DT_IMPORT_TABLES] = {[DT_IMPORT_PORE] = "pore_pressure",
                                                       [DT_IMPORT_FRACTURE] = "fracture_gradient",
                                                       [DT_IMPORT_COLLAPSE] = "collapse_gradient",
                                                       [DT_IMPORT_OVERBURDEN] = "overburden"};

/** Tables that must never be lowered; the others must never be raised. */
static const bool raises[DT_IMPORT_TABLES] = {[DT_IMPORT_PORE] = true, [DT_IMPORT_COLLAPSE] = true};

const char *dt_import_element(dt_import_table table)
{
    return elements[table];
}

/* ---- units: how others spell ours ---- */

typedef struct spelling {
    const char *theirs, *ours;
} spelling;

/* Codes of LAS files (K/M3 and F stand in the standard's own examples) that nobody writes
 * elsewhere; the rest from memory. */
static const spelling spellings[] = {
    {"F", "ft"}, {"G/C3", "g/cm3"}, {"K/M3", "kg/m3"}, {"PSI/F", "psi/ft"}};

/* strcasecmp() follows the locale; a file's meaning must not. */
static char upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

static bool same_word(const char *a, const char *b)
{
    for (; *a && *b; ++a, ++b)
        if (upper(*a) != upper(*b)) return false;
    return *a == *b;
}

const dt_unit *dt_import_unit(dt_kind kind, const char *theirs)
{
    const dt_unit *unit = dt_unit_spelt(kind, theirs);
    for (size_t i = 0; !unit && i < COUNT_OF(spellings); ++i)
        if (same_word(spellings[i].theirs, theirs)) unit = dt_unit_find(kind, spellings[i].ours);
    return unit;
}

dt_shown_cell dt_show_cell(const char *cell)
{
    dt_shown_cell out;
    size_t n = 0;
    for (; *cell && n < 60; ++cell) {
        unsigned char c = (unsigned char)*cell;
        out.text[n++] = c < 0x20 || c >= 0x7F ? '?' : (char)c;
    }
    out.text[n] = '\0';
    if (*cell) memcpy(out.text + n, "...", 4);
    return out;
}

/* ---- the sink: columns picked out of rows ---- */

void dt_sink_free(dt_import_sink *sink)
{
    for (size_t i = 0; i < sink->head_count; ++i) {
        free(sink->heads[i].name);
        free(sink->heads[i].unit);
    }
    free(sink->heads);
    for (int t = 0; t < DT_IMPORT_TABLES; ++t)
        free(sink->series[t].points);
    *sink = (dt_import_sink){0};
}

static char *copy(const char *text)
{
    size_t size = strlen(text) + 1;
    char *out = malloc(size);
    if (out) memcpy(out, text, size);
    return out;
}

bool dt_sink_head(dt_import_sink *sink, const char *name, const char *unit, int line)
{
    if (sink->head_count == DT_IMPORT_MOST_COLUMNS) {
        dt_report_add(sink->report, DT_MSG_IMPORT_COLUMNS, line, NULL, "more than %d columns",
                      DT_IMPORT_MOST_COLUMNS);
        return false;
    }
    dt_import_head *grown = realloc(sink->heads, (sink->head_count + 1) * sizeof *grown);
    if (grown) sink->heads = grown;
    dt_import_head head = {copy(name), copy(unit), line};
    if (!grown || !head.name || !head.unit) {
        free(head.name);
        free(head.unit);
        sink->out_of_memory = true;
        return false;
    }
    sink->heads[sink->head_count++] = head;
    return true;
}

/** The next letter of a name, blanks, dashes and underlines passed over. */
static char name_letter(const char **at)
{
    while (**at == ' ' || **at == '_' || **at == '-')
        ++*at;
    const char c = **at;
    if (c) ++*at;
    return upper(c);
}

static bool same_name(const char *a, const char *b)
{
    char left = name_letter(&a), right = name_letter(&b);
    while (left && left == right) {
        left = name_letter(&a);
        right = name_letter(&b);
    }
    return left == right;
}

size_t dt_sink_column(const dt_import_sink *sink, const char *name)
{
    for (size_t i = 0; i < sink->head_count; ++i)
        if (strcmp(sink->heads[i].name, name) == 0) return i;
    size_t found = 0;
    while (found < sink->head_count && !same_name(sink->heads[found].name, name))
        ++found;
    return found;
}

/** Index of a column by name; head_count when there is none, which is reported. */
static size_t find_column(dt_import_sink *sink, const char *name, int line)
{
    const size_t column = dt_sink_column(sink, name);
    if (column < sink->head_count) return column;
    sentence have = {0};
    for (size_t i = 0; i < sink->head_count && i < 24; ++i)
        say(&have, "%s%s", i ? ", " : "", dt_show_cell(sink->heads[i].name).text);
    dt_report_add(sink->report, DT_MSG_IMPORT_COLUMN, line, NULL, "there is no column \"%s\"",
                  dt_show_cell(name).text);
    dt_report_fix(sink->report, "the file has %s", have.bytes ? have.bytes : "none");
    free(have.bytes);
    return sink->head_count;
}

/** Unit of a column: what the request says, or else the file; NULL after a finding. */
static const dt_unit *column_unit(dt_import_sink *sink, const dt_import_column *wanted,
                                  size_t column, const dt_kind *kinds, size_t kind_count)
{
    const dt_import_head *head = &sink->heads[column];
    const char *text = wanted->unit ? wanted->unit : head->unit;
    for (size_t i = 0; i < kind_count; ++i) {
        const dt_unit *unit = dt_import_unit(kinds[i], text);
        if (unit) return unit;
    }
    if (*text)
        dt_report_add(sink->report, DT_MSG_IMPORT_UNIT, wanted->unit ? 0 : head->line, NULL,
                      "column \"%s\": unknown unit \"%s\"", dt_show_cell(head->name).text,
                      dt_show_cell(text).text);
    else
        dt_report_add(sink->report, DT_MSG_IMPORT_UNIT, head->line, NULL,
                      "column \"%s\" has no unit", dt_show_cell(head->name).text);
    dt_report_fix(sink->report, "name it on the command line, NAME:UNIT, with one of %s%s%s",
                  dt_unit_choices(kinds[0]), kind_count > 1 ? ", " : "",
                  kind_count > 1 ? dt_unit_choices(kinds[1]) : "");
    return NULL;
}

dt_status dt_sink_map(dt_import_sink *sink, int line)
{
    static const dt_kind of_depth[] = {DT_KIND_LENGTH};
    static const dt_kind of_value[] = {DT_KIND_DENSITY, DT_KIND_PRESSURE};
    const dt_import_request *request = sink->request;
    if (sink->head_count == 0) {
        dt_report_add(sink->report, DT_MSG_IMPORT_COLUMN, line, NULL, "the file names no columns");
        return DT_E_INPUT;
    }
    sink->depth_column = request->depth.name ? find_column(sink, request->depth.name, line) : 0;
    if (sink->depth_column < sink->head_count)
        sink->depth_unit = column_unit(sink, &request->depth, sink->depth_column, of_depth, 1);
    for (int t = 0; t < DT_IMPORT_TABLES; ++t) {
        if (!request->table[t].name) continue;
        sink->series[t].column = find_column(sink, request->table[t].name, line);
        if (sink->series[t].column == sink->head_count) continue;
        sink->units[t] = column_unit(sink, &request->table[t], sink->series[t].column, of_value, 2);
    }
    return sink->report->errors ? DT_E_INPUT : DT_OK;
}

void dt_import_no_number(dt_report *report, int line, const char *cell)
{
    char mended[160];
    dt_report_add(report, DT_MSG_IMPORT_NUMBER, line, NULL, "\"%s\" is not a number",
                  dt_show_cell(cell).text);
    if (dt_number_mend(cell, mended, sizeof mended)) dt_report_fix(report, "%s", mended);
}

dt_status dt_sink_number(dt_import_sink *sink, const char *cell, int line, double *value)
{
    /* -1.#IND and its like come from old C libraries: the value is not there. */
    static const char *const none[] = {"",        "NAN",      "-NAN", "-1.#IND", "1.#IND",
                                       "1.#QNAN", "-1.#QNAN", "NULL", "N/A"};
    for (size_t i = 0; i < COUNT_OF(none); ++i) {
        if (!same_word(cell, none[i])) continue;
        *value = NAN;
        return DT_OK;
    }
    if (dt_number_parse(cell, value) != DT_PARSE_OK) {
        dt_import_no_number(sink->report, line, cell);
        return DT_E_INPUT;
    }
    if (sink->has_null && fabs(*value - sink->null_value) <= 1e-6 * fabs(sink->null_value))
        *value = NAN;
    return DT_OK;
}

/** Depths go one way; two rows at one depth are a step, three are not. */
static bool check_depth(dt_import_sink *sink, double depth, int line)
{
    bool first = sink->rows == 0;
    double moved = first ? 0 : depth - sink->last_depth;
    int way = moved > 0 ? 1 : moved < 0 ? -1 : 0;
    bool thrice = sink->rows > 1 && way == 0 && sink->before_last == depth;
    if (!first && way != 0 && sink->direction == 0) sink->direction = way;
    if (thrice)
        dt_report_add(sink->report, DT_MSG_IMPORT_DEPTH, line, NULL,
                      "depth %g stands three times in a row", depth);
    else if (way != 0 && way != sink->direction)
        dt_report_add(sink->report, DT_MSG_IMPORT_DEPTH, line, NULL,
                      "depth %g comes after %g, but the rows before went %s", depth,
                      sink->last_depth, sink->direction > 0 ? "down" : "up");
    else if (depth < 0 || depth * sink->depth_unit->factor > 20000)
        dt_report_add(sink->report, DT_MSG_IMPORT_DEPTH, line, NULL,
                      "depth %g is not between 0 and 20000 m", depth);
    else
        return true;
    return false;
}

/** A value that no rock has is mostly a null value that the file does not name. */
static bool check_value(dt_import_sink *sink, int t, double depth, double value, int line)
{
    const dt_unit *unit = sink->units[t];
    double si = value * unit->factor, depth_m = depth * sink->depth_unit->factor;
    bool pressure = unit->kind == DT_KIND_PRESSURE;
    double emw = pressure ? si / (DT_STANDARD_GRAVITY * depth_m) : si;
    if (pressure && !(depth_m > 0))
        dt_report_add(sink->report, DT_MSG_IMPORT_VALUE, line, NULL,
                      "a pressure at depth 0 gives no gradient");
    else if (!(emw > 0 && emw <= 4000))
        dt_report_add(sink->report, DT_MSG_IMPORT_VALUE, line, NULL,
                      "\"%s\" is %g %s at depth %g, which no rock has",
                      dt_show_cell(sink->heads[sink->series[t].column].name).text, value,
                      unit->symbol, depth);
    else
        return true;
    if (value <= -99)
        dt_report_fix(sink->report, "it looks like a null value, but the file names %s",
                      sink->has_null ? "another" : "none");
    return false;
}

static bool add_point(dt_import_sink *sink, int t, double depth, double value)
{
    dt_import_series *s = &sink->series[t];
    if (isnan(value)) {
        ++s->gaps;
        s->in_gap = true;
        return true;
    }
    if (s->in_gap && s->count > 0) {
        double from = s->points[s->count - 1].depth;
        if (fabs(depth - from) > fabs(s->gap_base - s->gap_top)) {
            s->gap_top = fmin(from, depth);
            s->gap_base = fmax(from, depth);
        }
    }
    s->in_gap = false;
    if (s->count == s->capacity) {
        size_t capacity = s->capacity ? 2 * s->capacity : 1024;
        dt_import_point *grown = realloc(s->points, capacity * sizeof *grown);
        if (!grown) return false;
        s->points = grown;
        s->capacity = capacity;
    }
    s->points[s->count++] = (dt_import_point){depth, value};
    return true;
}

dt_status dt_sink_row(dt_import_sink *sink, const double *values, int line)
{
    double depth = values[sink->depth_column];
    if (isnan(depth)) {
        dt_report_add(sink->report, DT_MSG_IMPORT_DEPTH, line, NULL, "the row has no depth");
        return DT_E_INPUT;
    }
    if (sink->rows == DT_IMPORT_MAX_ROWS) {
        dt_report_add(sink->report, DT_MSG_IMPORT_ROWS, line, NULL, "more than %zu rows",
                      DT_IMPORT_MAX_ROWS);
        return DT_E_INPUT;
    }
    if (!check_depth(sink, depth, line)) return DT_E_INPUT;
    for (int t = 0; t < DT_IMPORT_TABLES; ++t) {
        if (!sink->units[t]) continue;
        double value = values[sink->series[t].column];
        if (!isnan(value) && !check_value(sink, t, depth, value, line)) return DT_E_INPUT;
        if (!add_point(sink, t, depth, value)) return DT_E_MEMORY;
    }
    sink->before_last = sink->last_depth;
    sink->last_depth = depth;
    ++sink->rows;
    return DT_OK;
}

/* ---- from rows to tables ---- */

typedef struct table_units {
    const dt_unit *depth, *value;
} table_units;

/** Pascals that one unit of value weighs at a depth. */
static double weight_pa(const void *context, double depth)
{
    const table_units *u = context;
    if (u->value->kind == DT_KIND_PRESSURE) return u->value->factor;
    return u->value->factor * DT_STANDARD_GRAVITY * depth * u->depth->factor;
}

static void reverse(dt_import_point *points, size_t count)
{
    for (size_t i = 0; i < count / 2; ++i) {
        dt_import_point p = points[i];
        points[i] = points[count - 1 - i];
        points[count - 1 - i] = p;
    }
}

#define GRID 1e-4 /* of values, in their own unit: finer than anybody measures */

static dt_status finish_table(dt_import_sink *sink, int t, dt_import_curve *out)
{
    dt_import_series *s = &sink->series[t];
    if (s->count == 0) {
        dt_report_add(sink->report, DT_MSG_IMPORT_EMPTY, sink->heads[s->column].line, NULL,
                      "column \"%s\" has no value at all",
                      dt_show_cell(sink->heads[s->column].name).text);
        return DT_E_INPUT;
    }
    if (sink->direction < 0) reverse(s->points, s->count);
    *out = (dt_import_curve){.depth_unit = sink->depth_unit,
                             .unit = sink->units[t],
                             .points = s->points,
                             .count = s->count,
                             .rows = s->count,
                             .gaps = s->gaps,
                             .gap_top = s->gap_top,
                             .gap_base = s->gap_base};
    s->points = NULL;
    const table_units units = {out->depth_unit, out->unit};
    const dt_thinning how = {.raise = raises[t],
                             .tolerance_pa = sink->request->tolerance_pa,
                             .grid = GRID,
                             .weight_pa = weight_pa,
                             .context = &units,
                             .most = DT_IMPORT_MAX_POINTS};
    dt_status status = dt_thin(&how, out->points, &out->count, &out->worst_pa);
    if (status != DT_E_NONE) return status;
    dt_report_add(sink->report, DT_MSG_IMPORT_POINTS, 0, NULL,
                  "\"%s\" keeps more than %zu points within the tolerance",
                  dt_show_cell(sink->heads[s->column].name).text, DT_IMPORT_MAX_POINTS);
    return DT_E_INPUT;
}

static dt_status import_tables(dt_lines *lines, const dt_import_request *request, dt_report *report,
                               dt_imported *out)
{
    dt_import_sink sink = {.request = request, .report = report, .null_value = NAN};
    size_t size = 0;
    const char *bytes = dt_lines_peek(lines, &size);
    size_t at = 0;
    while (at < size && (bytes[at] == ' ' || bytes[at] == '\r' || bytes[at] == '\n'))
        ++at;
    /* a comment may stand before the first section of a LAS file, and before a CSV's head */
    bool las = at < size && bytes[at] == '~';
    for (size_t i = at; !las && i + 1 < size; ++i)
        las = bytes[at] == '#' && (bytes[i] == '\n' || bytes[i] == '\r') && bytes[i + 1] == '~';
    dt_status status = las ? dt_import_las(lines, &sink) : dt_import_csv(lines, &sink);
    for (int t = 0; status == DT_OK && t < DT_IMPORT_TABLES; ++t)
        if (sink.units[t]) status = finish_table(&sink, t, &out->table[t]);
    if (sink.out_of_memory) status = DT_E_MEMORY;
    dt_sink_free(&sink);
    return status;
}

/* ---- surveys ---- */

dt_status dt_import_station(dt_imported *out, dt_report *report, const dt_station *station)
{
    const dt_station *last = out->station_count ? &out->stations[out->station_count - 1] : NULL;
    if (last && !(station->md_m > last->md_m)) {
        dt_report_add(report, DT_MSG_IMPORT_DEPTH, station->line, NULL,
                      "measured depth does not increase");
        return DT_E_INPUT;
    }
    if (out->station_count == DT_IMPORT_MAX_POINTS) {
        dt_report_add(report, DT_MSG_IMPORT_POINTS, station->line, NULL, "more than %zu stations",
                      DT_IMPORT_MAX_POINTS);
        return DT_E_INPUT;
    }
    dt_station *grown = realloc(out->stations, (out->station_count + 2) * sizeof *grown);
    if (!grown) return DT_E_MEMORY;
    out->stations = grown;
    /* Above the first station the hole is taken to be vertical, as the trajectory does. */
    if (!last && station->md_m > 0)
        out->stations[out->station_count++] = (dt_station){.azimuth_rad = station->azimuth_rad};
    out->stations[out->station_count++] = *station;
    return DT_OK;
}

/* ---- the whole ---- */

static bool is_xml(dt_lines *lines)
{
    size_t size = 0;
    const char *bytes = dt_lines_peek(lines, &size);
    size_t at = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    while (at < size &&
           (bytes[at] == ' ' || bytes[at] == '\t' || bytes[at] == '\r' || bytes[at] == '\n'))
        ++at;
    return at < size && bytes[at] == '<';
}

dt_status dt_import(dt_import_read read, void *context, const dt_import_request *request,
                    dt_report *report, dt_imported *out)
{
    dt_imported made = {0};
    dt_lines *lines = malloc(sizeof *lines);
    if (!lines) return DT_E_MEMORY;
    dt_status status = dt_lines_start(lines, read, context, report);
    if (status == DT_OK) {
        if (is_xml(lines) && !request->offsets)
            status = dt_import_witsml(lines, &made);
        else if (request->offsets)
            status = dt_import_csv_offsets(lines, &made);
        else if (request->survey)
            status = dt_import_csv_survey(lines, request, &made);
        else
            status = import_tables(lines, request, report, &made);
    }
    dt_lines_free(lines);
    free(lines);
    if (report->out_of_memory) status = DT_E_MEMORY;
    if (status == DT_OK && report->errors) status = DT_E_INPUT;
    if (status == DT_OK)
        *out = made;
    else
        dt_imported_free(&made);
    return status;
}

void dt_imported_free(dt_imported *imported)
{
    for (int t = 0; t < DT_IMPORT_TABLES; ++t)
        free(imported->table[t].points);
    for (size_t i = 0; i < imported->offsets.well_count; ++i)
        free(imported->offsets.wells[i].name);
    free(imported->offsets.wells);
    free(imported->offsets.readings);
    free(imported->stations);
    free(imported->azimuth_reference);
    *imported = (dt_imported){0};
}

/* ---- as elements of a well file ---- */

static void say_table(sentence *s, const char *element, const dt_import_curve *curve)
{
    /* A pressure joins linearly in pressure, as the thinning took it. */
    bool pressure = curve->unit->kind == DT_KIND_PRESSURE;
    say(s, "  <%s depth_unit=\"%s\" unit=\"%s\"%s>\n", element, curve->depth_unit->symbol,
        curve->unit->symbol, pressure ? " between=\"pressure\"" : "");
    for (size_t i = 0; i < curve->count; ++i)
        say(s, "    <point depth=\"%.10g\" value=\"%.10g\"/>\n", curve->points[i].depth,
            curve->points[i].value);
    say(s, "  </%s>\n", element);
}

static void say_survey(sentence *s, const dt_imported *imported)
{
    const dt_unit *deg = dt_unit_find(DT_KIND_ANGLE, "deg"), *length = imported->md_unit;
    say(s, "  <path>\n");
    for (size_t i = 0; i < imported->station_count; ++i) {
        const dt_station *station = &imported->stations[i];
        say(s, "    <station md=\"%.10g %s\" inclination=\"%.10g deg\" azimuth=\"%.10g deg\"/>\n",
            station->md_m / length->factor, length->symbol, station->inclination_rad / deg->factor,
            station->azimuth_rad / deg->factor);
    }
    say(s, "  </path>\n");
}

dt_status dt_import_text(const dt_imported *imported, char **out)
{
    sentence s = {0};
    if (imported->station_count > 0) say_survey(&s, imported);
    if (imported->offsets.reading_count > 0) dt_import_say_offsets(&s, &imported->offsets);
    for (int t = 0; t < DT_IMPORT_TABLES; ++t)
        if (imported->table[t].unit) say_table(&s, elements[t], &imported->table[t]);
    return sentence_take(&s, out);
}
