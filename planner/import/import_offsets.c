/* SPDX-License-Identifier: MIT */
/*
 * Offset wells of a CSV, a reading a row, into <offsets>. Part of the import, import.h; what the
 * columns are is told in docs/import.md. Every row that is refused is told, with its line.
 */
#include <libxml/xmlstring.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "import_parts.h"
#include "same.h"
#include "sentence.h"

/** Columns by name; the first two are words, the others numbers with a unit, in the order of
 * dt_import_offsets.units. */
enum { WELL, WHAT, FLOOR, WATER, DISTANCE, DEPTH, EMW, COLUMNS };

enum { FIRST_NUMBER = FLOOR };

static const struct {
    const char *name;
    dt_kind kind;
    bool optional;
} columns[COLUMNS] = {[WELL] = {"well", DT_KIND_COUNT, false},
                      [WHAT] = {"what", DT_KIND_COUNT, false},
                      [FLOOR] = {"rig_floor", DT_KIND_LENGTH, false},
                      [WATER] = {"water_depth", DT_KIND_LENGTH, true},
                      [DISTANCE] = {"distance", DT_KIND_LENGTH, false},
                      [DEPTH] = {"depth", DT_KIND_LENGTH, false},
                      [EMW] = {"emw", DT_KIND_DENSITY, false}};

/** No longer than names of a well file are. */
enum { LONGEST_NAME = 80 };

/** A row as it is read. */
typedef struct seen_row {
    const char *name, *what;
    double number[COLUMNS];
    int line;
} seen_row;

typedef struct reading_room {
    dt_import_sink sink;
    char *cells[DT_IMPORT_MOST_COLUMNS + 1];
    size_t at[COLUMNS]; /* DT_NO_INDEX: not in the file */
    dt_imported *out;
} reading_room;

static void refuse(reading_room *r, int line, const char *column, const char *is, const char *fix)
{
    dt_report_add(r->sink.report, DT_MSG_IMPORT_VALUE, line, NULL, "column \"%s\": %s", column, is);
    dt_report_fix(r->sink.report, "%s", fix);
}

static bool find_column(reading_room *r, int c, int line)
{
    const dt_import_sink *sink = &r->sink;
    const size_t at = dt_sink_column(sink, columns[c].name);
    r->at[c] = at < sink->head_count ? at : DT_NO_INDEX;
    if (r->at[c] != DT_NO_INDEX || columns[c].optional) return true;
    dt_report_add(sink->report, DT_MSG_IMPORT_COLUMN, line, NULL, "there is no column \"%s\"",
                  columns[c].name);
    dt_report_fix(sink->report,
                  "name the columns well, distance, rig_floor, water_depth, what, depth, emw");
    return false;
}

/** Unit of a column of numbers, where the file has it. */
static bool find_unit(reading_room *r, int c)
{
    if (r->at[c] == DT_NO_INDEX) return true;
    const char *text = r->sink.heads[r->at[c]].unit;
    const dt_unit *unit = dt_import_unit(columns[c].kind, text);
    r->out->offsets.units[c - FIRST_NUMBER] = unit;
    if (unit) return true;
    dt_report_add(r->sink.report, DT_MSG_IMPORT_UNIT, r->sink.heads[r->at[c]].line, NULL,
                  "column \"%s\": %s \"%s\"", columns[c].name, *text ? "unknown unit" : "no unit",
                  dt_show_cell(text).text);
    dt_report_fix(r->sink.report,
                  "write it in the head, as in \"depth [m]\", or in the row under it, one of %s",
                  dt_unit_choices(columns[c].kind));
    return false;
}

/** A number in its range, in SI; NAN passes only where it may be left out. */
static bool check_number(reading_room *r, const seen_row *row, int c, double least, double most)
{
    const dt_unit *unit = r->out->offsets.units[c - FIRST_NUMBER];
    if (!unit) return true;
    const double si = row->number[c] * unit->factor;
    if (isnan(si)) {
        if (columns[c].optional) return true;
        refuse(r, row->line, columns[c].name, "the row has no value", "write one");
        return false;
    }
    if (si >= least && si <= most) return true;
    refuse(r, row->line, columns[c].name, "the value is not believable", "check it and its unit");
    return false;
}

static bool check_name(reading_room *r, const seen_row *row)
{
    const bool fits = *row->name && strlen(row->name) <= LONGEST_NAME;
    if (fits && xmlCheckUTF8((const unsigned char *)row->name)) return true;
    refuse(r, row->line, columns[WELL].name, "the row names no well, or one in too many letters",
           "write a name of at most 80 bytes, in UTF-8");
    return false;
}

/** The word of a reading; NULL where there is none. */
static const char *word_of(const char *cell)
{
    for (int what = DT_OFFSET_LEAK_OFF; what <= DT_OFFSET_KICK; ++what)
        if (strcmp(dt_offset_what_text((dt_offset_what)what), cell) == 0)
            return dt_offset_what_text((dt_offset_what)what);
    return NULL;
}

static bool check_row(reading_room *r, const seen_row *row)
{
    const bool seat = row->what && strcmp(row->what, dt_offset_what_text(DT_OFFSET_SEAT)) == 0;
    bool good = check_name(r, row);
    if (!row->what)
        refuse(r, row->line, columns[WHAT].name, "not what can be seen in a well",
               "write one of leak-off, mud, seat, loss, kick");
    good = check_number(r, row, FLOOR, 0, 500) && good;
    good = check_number(r, row, WATER, 0, 5000) && good;
    good = check_number(r, row, DISTANCE, 0, 1e6) && good;
    good = check_number(r, row, DEPTH, 1, 20000) && good;
    if (row->what && !seat) good = check_number(r, row, EMW, 100, 4000) && good;
    if (seat && !isnan(row->number[EMW])) {
        refuse(r, row->line, columns[EMW].name, "a seat has none",
               "leave it empty; a test there is a row of its own, what \"leak-off\"");
        good = false;
    }
    return good && row->what;
}

/** One number of a well, said again: the same, or the row is refused. */
static bool agrees(reading_room *r, const seen_row *row, int c, double was, int line)
{
    if (was == row->number[c] || (isnan(was) && isnan(row->number[c]))) return true;
    dt_report_add(r->sink.report, DT_MSG_IMPORT_VALUE, row->line, NULL,
                  "column \"%s\": not what line %d has for the same well", columns[c].name, line);
    dt_report_fix(r->sink.report, "write the same in every row of a well");
    return false;
}

/** The well of a row, added when it is a new one; DT_NO_INDEX: refused, or no memory. */
static size_t well_of(reading_room *r, const seen_row *row)
{
    dt_import_offsets *o = &r->out->offsets;
    size_t i = 0;
    while (i < o->well_count && strcmp(o->wells[i].name, row->name) != 0)
        ++i;
    if (i < o->well_count) {
        const dt_import_neighbour *w = &o->wells[i];
        const bool same = agrees(r, row, FLOOR, w->rig_floor, w->line) &&
                          agrees(r, row, WATER, w->water_depth, w->line) &&
                          agrees(r, row, DISTANCE, w->distance, w->line);
        return same ? i : DT_NO_INDEX;
    }
    if (i == DT_MOST_OFFSETS) {
        refuse(r, row->line, columns[WELL].name, "more than 64 offset wells",
               "leave out those that are far");
        return DT_NO_INDEX;
    }
    dt_import_neighbour *grown = realloc(o->wells, (i + 1) * sizeof *grown);
    if (grown) o->wells = grown;
    const size_t size = strlen(row->name) + 1;
    char *name = malloc(size);
    if (!grown || !name) {
        free(name);
        r->sink.out_of_memory = true;
        return DT_NO_INDEX;
    }
    memcpy(name, row->name, size);
    o->wells[o->well_count++] = (dt_import_neighbour){name, row->number[FLOOR], row->number[WATER],
                                                      row->number[DISTANCE], row->line};
    return i;
}

static void add_reading(reading_room *r, const seen_row *row)
{
    dt_import_offsets *o = &r->out->offsets;
    const size_t well = well_of(r, row);
    if (well == DT_NO_INDEX) return;
    if (o->reading_count == DT_IMPORT_MAX_POINTS) {
        dt_report_add(r->sink.report, DT_MSG_IMPORT_POINTS, row->line, NULL,
                      "more than %zu readings", DT_IMPORT_MAX_POINTS);
        return;
    }
    dt_import_reading *grown = realloc(o->readings, (o->reading_count + 1) * sizeof *grown);
    if (!grown) {
        r->sink.out_of_memory = true;
        return;
    }
    o->readings = grown;
    o->readings[o->reading_count++] =
        (dt_import_reading){well, row->what, row->number[DEPTH], row->number[EMW]};
}

static dt_status read_row(dt_lines *lines, reading_room *r)
{
    const size_t count = dt_csv_cut(lines, r->cells, DT_IMPORT_MOST_COLUMNS);
    if (count != r->sink.head_count) {
        dt_report_add(r->sink.report, DT_MSG_IMPORT_CELLS, lines->number, NULL,
                      "the row has %zu cells, the head has %zu", count, r->sink.head_count);
        return DT_E_INPUT;
    }
    seen_row row = {.name = r->cells[r->at[WELL]],
                    .what = word_of(r->cells[r->at[WHAT]]),
                    .line = lines->number};
    bool good = true;
    for (int c = FIRST_NUMBER; c < COLUMNS; ++c) {
        row.number[c] = NAN;
        if (r->at[c] == DT_NO_INDEX) continue;
        char *cell = r->cells[r->at[c]];
        const dt_status status = dt_csv_number(lines, cell)
                                     ? dt_sink_number(&r->sink, cell, row.line, &row.number[c])
                                     : DT_E_INPUT;
        if (status != DT_OK && status != DT_E_INPUT) return status;
        good = good && status == DT_OK;
    }
    if (good && check_row(r, &row)) add_reading(r, &row);
    return r->sink.out_of_memory ? DT_E_MEMORY : DT_OK;
}

static dt_status read_rows(dt_lines *lines, reading_room *r)
{
    dt_status status = dt_csv_head(lines, &r->sink, r->cells);
    bool found = true;
    for (int c = 0; status == DT_OK && c < COLUMNS; ++c)
        found = find_column(r, c, r->sink.heads[0].line) && found;
    for (int c = FIRST_NUMBER; status == DT_OK && found && c < COLUMNS; ++c)
        found = find_unit(r, c) && found;
    if (status == DT_OK && !found) status = DT_E_INPUT;
    while (status == DT_OK && (status = dt_csv_next(lines)) == DT_OK)
        status = read_row(lines, r);
    if (status != DT_E_NONE) return status;
    if (!dt_csv_form_plain(lines) || r->sink.report->errors > 0) return DT_E_INPUT;
    if (r->out->offsets.reading_count > 0) return DT_OK;
    dt_report_add(r->sink.report, DT_MSG_IMPORT_EMPTY, lines->number, NULL,
                  "there is no row under the head");
    return DT_E_INPUT;
}

dt_status dt_import_csv_offsets(dt_lines *lines, dt_imported *out)
{
    reading_room *r = calloc(1, sizeof *r);
    if (!r) return DT_E_MEMORY;
    r->sink = (dt_import_sink){.report = lines->report, .null_value = NAN};
    r->out = out;
    const dt_status status = read_rows(lines, r);
    dt_sink_free(&r->sink);
    free(r);
    return status;
}

/* ---- as an element of a well file ---- */

static void say_name(sentence *s, const char *name)
{
    for (; *name; ++name) {
        switch (*name) {
        case '&':
            say(s, "&amp;");
            break;
        case '<':
            say(s, "&lt;");
            break;
        case '"':
            say(s, "&quot;");
            break;
        default:
            say(s, "%c", *name);
        }
    }
}

static void say_number(sentence *s, const char *name, double value, const dt_unit *unit)
{
    if (!isnan(value)) say(s, " %s=\"%.10g %s\"", name, value, unit->symbol);
}

void dt_import_say_offsets(sentence *s, const dt_import_offsets *o)
{
    const dt_unit *const *unit = o->units;
    say(s, "  <offsets>\n");
    for (size_t w = 0; w < o->well_count; ++w) {
        say(s, "    <offset name=\"");
        say_name(s, o->wells[w].name);
        say(s, "\"");
        say_number(s, "rig_floor", o->wells[w].rig_floor, unit[FLOOR - FIRST_NUMBER]);
        say_number(s, "water_depth", o->wells[w].water_depth, unit[WATER - FIRST_NUMBER]);
        say_number(s, "distance", o->wells[w].distance, unit[DISTANCE - FIRST_NUMBER]);
        say(s, ">\n");
        for (size_t i = 0; i < o->reading_count; ++i) {
            const dt_import_reading *reading = &o->readings[i];
            if (reading->well != w) continue;
            say(s, "      <reading what=\"%s\"", reading->what);
            say_number(s, "depth", reading->depth, unit[DEPTH - FIRST_NUMBER]);
            say_number(s, "emw", reading->emw, unit[EMW - FIRST_NUMBER]);
            say(s, "/>\n");
        }
        say(s, "    </offset>\n");
    }
    say(s, "  </offsets>\n");
}
