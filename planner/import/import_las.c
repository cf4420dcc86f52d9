/* SPDX-License-Identifier: MIT */
/*
 * LAS 2.0, unwrapped. Part of the import, import.h.
 * Read: "LAS Version 2.0, A Floppy Disk Standard for Log Data", Canadian Well Logging Society,
 * 25 September 1992, appendix 1; and the list of changes of the 2017 update: delimiters are the
 * first dot, the first space after it and the last colon; lines may be longer than 256 bytes.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "import_parts.h"
#include "same.h"

typedef struct las {
    dt_lines *lines;
    dt_import_sink *sink;
    char section; /* letter after ~, 0 before the first */
    bool seen[128];
    bool has_version, has_wrap, has_start, has_stop, has_step, has_null;
    double start, stop, step;
    int start_line, stop_line, step_line;
    char *values[DT_IMPORT_MOST_COLUMNS + 1]; /* cells of a data line */
} las;

/** A header line in its parts, cut up in place. */
typedef struct las_item {
    char *name, *unit, *data;
} las_item;

static dt_status refuse(las *l, dt_message id, const char *words)
{
    dt_report_add(l->sink->report, id, l->lines->number, NULL, "%s", words);
    return DT_E_INPUT;
}

/** NAME.UNIT DATA : description. False when the dot or the colon is missing. */
static bool cut_item(char *line, las_item *item)
{
    char *dot = strchr(line, '.'), *colon = strrchr(line, ':');
    if (!dot || !colon || colon < dot) return false;
    *dot = *colon = '\0';
    char *space = dot + 1;
    while (*space && !dt_import_is_blank(*space))
        ++space;
    item->data = *space ? dt_import_trim(space + 1) : space;
    *space = '\0';
    item->unit = dot + 1;
    item->name = dt_import_trim(line);
    return true;
}

static dt_status read_version(las *l, const las_item *item)
{
    if (strcmp(item->name, "VERS") == 0) {
        double version = 0;
        l->has_version = true;
        if (dt_number_parse(item->data, &version) == DT_PARSE_OK && version == 2.0) return DT_OK;
        return refuse(l, DT_MSG_LAS_VERSION, "the file is not LAS version 2.0");
    }
    if (strcmp(item->name, "WRAP") != 0) return DT_OK;
    l->has_wrap = true;
    if (strcmp(item->data, "NO") == 0) return DT_OK;
    return refuse(l, DT_MSG_LAS_WRAPPED, "the data lines are wrapped (WRAP is not NO)");
}

static dt_status read_well(las *l, const las_item *item)
{
    const struct {
        const char *name;
        double *value;
        bool *has;
        int *line;
    } items[] = {{"STRT", &l->start, &l->has_start, &l->start_line},
                 {"STOP", &l->stop, &l->has_stop, &l->stop_line},
                 {"STEP", &l->step, &l->has_step, &l->step_line},
                 {"NULL", &l->sink->null_value, &l->has_null, NULL}};
    for (size_t i = 0; i < COUNT_OF(items); ++i) {
        if (strcmp(item->name, items[i].name) != 0) continue;
        double value = 0;
        if (dt_number_parse(item->data, &value) != DT_PARSE_OK) {
            dt_report_add(l->sink->report, DT_MSG_IMPORT_NUMBER, l->lines->number, items[i].name,
                          "\"%s\" is not a number", dt_show_cell(item->data).text);
            return DT_E_INPUT;
        }
        *items[i].value = value;
        *items[i].has = true;
        if (items[i].line) *items[i].line = l->lines->number;
    }
    l->sink->has_null = l->has_null;
    return DT_OK;
}

static dt_status read_item(las *l)
{
    las_item item;
    if (l->section != 'V' && l->section != 'W' && l->section != 'C') return DT_OK;
    if (!cut_item(l->lines->line, &item))
        return refuse(l, DT_MSG_LAS_ITEM,
                      "a line of a header needs a dot and a colon: "
                      "NAME.UNIT DATA : DESCRIPTION");
    if (l->section == 'V') return read_version(l, &item);
    if (l->section == 'W') return read_well(l, &item);
    if (dt_sink_head(l->sink, item.name, item.unit, l->lines->number)) return DT_OK;
    return l->sink->out_of_memory ? DT_E_MEMORY : DT_E_INPUT;
}

/** What has to be there before the data begin. */
static dt_status check_header(las *l)
{
    const struct {
        bool there;
        const char *words;
    } needs[] = {{l->has_version, "~V has no VERS"}, {l->has_wrap, "~V has no WRAP"},
                 {l->has_start, "~W has no STRT"},   {l->has_stop, "~W has no STOP"},
                 {l->has_null, "~W has no NULL"},    {l->seen['C'], "there is no ~C section"}};
    dt_status status = DT_OK;
    for (size_t i = 0; i < COUNT_OF(needs); ++i)
        if (!needs[i].there) status = refuse(l, DT_MSG_LAS_MISSING, needs[i].words);
    if (status != DT_OK) return status;
    /* STEP may be 0 for irregular depths; files that leave it out mean that, too. */
    if (l->has_step && l->step != 0 && (l->stop - l->start) * l->step < 0) {
        dt_report_add(l->sink->report, DT_MSG_LAS_RANGE, l->step_line, "STEP",
                      "the step %g does not lead from STRT %g to STOP %g", l->step, l->start,
                      l->stop);
        return DT_E_INPUT;
    }
    return dt_sink_map(l->sink, l->lines->number);
}

static dt_status read_section(las *l, const char *line)
{
    char letter = line[1];
    if (letter >= 'a' && letter <= 'z') letter = (char)(letter - 'a' + 'A');
    if (letter < ' ' || letter > '~') letter = '?'; /* char has a sign on some machines only */
    if (l->section == 0 && letter != 'V')
        return refuse(l, DT_MSG_LAS_MISSING, "the first section is not ~V");
    if (l->seen[(int)letter] && strchr("VWCA", letter))
        return refuse(l, DT_MSG_LAS_ITEM, "this section stands twice");
    l->seen[(int)letter] = true;
    l->section = letter;
    return letter == 'A' ? check_header(l) : DT_OK;
}

static dt_status read_row(las *l)
{
    double values[DT_IMPORT_MOST_COLUMNS];
    size_t count = 0, columns = l->sink->head_count;
    char *at = l->lines->line;
    while (*at) {
        while (dt_import_is_blank(*at))
            ++at;
        if (!*at) break;
        if (count <= columns) l->values[count] = at;
        ++count;
        while (*at && !dt_import_is_blank(*at))
            ++at;
        if (*at) *at++ = '\0';
    }
    if (count == 0) return DT_OK;
    if (count != columns) {
        dt_report_add(l->sink->report, DT_MSG_IMPORT_CELLS, l->lines->number, NULL,
                      "the row has %zu numbers, ~C names %zu curves", count, columns);
        return DT_E_INPUT;
    }
    for (size_t i = 0; i < columns; ++i) {
        dt_status status = dt_sink_number(l->sink, l->values[i], l->lines->number, &values[i]);
        if (status != DT_OK) return status;
    }
    return dt_sink_row(l->sink, values, l->lines->number);
}

static dt_status read_line(las *l)
{
    char *line = l->lines->line;
    while (dt_import_is_blank(*line) || *line == '"')
        ++line;
    if (*line == '~') return read_section(l, line);
    if (l->section == 'A') return read_row(l);
    if (*line == '\0' || *line == '#') return DT_OK;
    if (l->section == 0) return refuse(l, DT_MSG_LAS_MISSING, "the first section is not ~V");
    return read_item(l);
}

/** STRT and STOP are the first and last depth of the file: what is missing was cut off. */
static dt_status check_range(las *l, double first_depth)
{
    const dt_import_sink *sink = l->sink;
    double slack =
        l->has_step && l->step != 0 ? fabs(l->step) / 2 : 1e-3 * fabs(l->stop - l->start);
    slack = fmax(slack, 1e-6 * fmax(fabs(l->start), fabs(l->stop)));
    if (fabs(first_depth - l->start) > slack) {
        dt_report_add(sink->report, DT_MSG_LAS_RANGE, l->start_line, "STRT",
                      "STRT is %g, the first row is at %g", l->start, first_depth);
        return DT_E_INPUT;
    }
    if (fabs(sink->last_depth - l->stop) > slack) {
        dt_report_add(sink->report, DT_MSG_LAS_RANGE, l->stop_line, "STOP",
                      "STOP is %g, the last row is at %g: rows are missing, or the header is wrong",
                      l->stop, sink->last_depth);
        return DT_E_INPUT;
    }
    return DT_OK;
}

static dt_status read_all(las *l)
{
    dt_status status;
    double first_depth = NAN;
    while ((status = dt_lines_next(l->lines)) == DT_OK) {
        status = read_line(l);
        if (status != DT_OK) return status;
        if (isnan(first_depth) && l->sink->rows == 1) first_depth = l->sink->last_depth;
    }
    if (status != DT_E_NONE) return status;
    if (!l->seen['A']) return refuse(l, DT_MSG_LAS_MISSING, "there is no ~A section with data");
    if (l->sink->rows == 0) return refuse(l, DT_MSG_IMPORT_EMPTY, "the ~A section has no rows");
    return check_range(l, first_depth);
}

dt_status dt_import_las(dt_lines *lines, dt_import_sink *sink)
{
    las *l = calloc(1, sizeof *l);
    if (!l) return DT_E_MEMORY;
    l->lines = lines;
    l->sink = sink;
    dt_status status = read_all(l);
    free(l);
    return status;
}
