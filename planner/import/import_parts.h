/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_IMPORT_PARTS_H
#define DRAWTUBE_PLANNER_IMPORT_PARTS_H

#include "import.h"

/* Private to the import: lines of a file, and rows of numbers under named columns. */

/** "a, b" safe for a message: at most 60 bytes, control bytes replaced. */
typedef struct dt_shown_cell {
    char text[72];
} dt_shown_cell;
dt_shown_cell dt_show_cell(const char *cell);

/** How a CSV is written, as far as its lines have told: csv_form.c. */
typedef struct dt_csv_form {
    char separator;
    int point_line, comma_line; /* of the first number with that decimal sign; 0: none */
    bool ungrouped;             /* a number shows that commas do not group digits */
    dt_shown_cell first;        /* with a decimal comma */
} dt_csv_form;

/** Lines of a file of any size. A line ends in LF, CR LF or CR. */
typedef struct dt_lines {
    dt_import_read read;
    void *context;
    dt_report *report;
    char buffer[65536];
    size_t at, filled;
    bool ended;
    char *line; /* NUL-terminated, without its end; valid until the next call */
    size_t length;
    int number;
    unsigned ends; /* kinds of line end seen, bit each */
    bool mixed;    /* told already */
    bool held;     /* dt_csv_next() gives the line once more */
    dt_csv_form form;
} dt_lines;

dt_status dt_lines_start(dt_lines *lines, dt_import_read read, void *context, dt_report *report);
void dt_lines_free(dt_lines *lines);
/** DT_OK with the next line; DT_E_NONE at the end; DT_E_INPUT with a finding. */
dt_status dt_lines_next(dt_lines *lines);
static inline bool dt_import_is_blank(char c)
{
    return c == ' ' || c == '\t';
}

/** The text without the blanks and tabs around it; its end is cut in place. */
char *dt_import_trim(char *text);
/** The first bytes of the file, none taken. */
const char *dt_lines_peek(dt_lines *lines, size_t *size);

/** A column as the file describes it; texts owned by the sink. */
typedef struct dt_import_head {
    char *name, *unit; /* unit "": none said */
    int line;
} dt_import_head;

#define DT_IMPORT_MOST_COLUMNS 512

typedef struct dt_import_series {
    dt_import_point *points;
    size_t count, capacity;
    size_t gaps;
    double gap_from, gap_top, gap_base;
    double factor; /* SI value of one unit of the column */
    size_t column;
    bool in_gap;
} dt_import_series;

/** Where rows go: the columns wanted are picked out and kept. */
typedef struct dt_import_sink {
    const dt_import_request *request;
    dt_report *report;
    dt_import_head *heads;
    size_t head_count;
    size_t depth_column;
    const dt_unit *depth_unit;
    const dt_unit *units[DT_IMPORT_TABLES];
    dt_import_series series[DT_IMPORT_TABLES];
    double null_value; /* NAN: none */
    bool has_null;
    double last_depth, before_last;
    int direction; /* 1 down, -1 up, 0 not known yet */
    size_t rows;
    bool out_of_memory;
} dt_import_sink;

void dt_sink_free(dt_import_sink *sink);
/** Adds a column; unit "" when the file names none. False when there are too many. */
bool dt_sink_head(dt_import_sink *sink, const char *name, const char *unit, int line);
/** Finds the columns the request names and their units. */
dt_status dt_sink_map(dt_import_sink *sink, int line);
/** One row; NAN is a gap. DT_OK or DT_E_INPUT with a finding, or DT_E_MEMORY. */
dt_status dt_sink_row(dt_import_sink *sink, const double *values, int line);
/** A cell as a number: NAN for a gap (empty, the null value, a word for not-a-number). */
dt_status dt_sink_number(dt_import_sink *sink, const char *cell, int line, double *value);

/** Tells of a cell that is no number, and of what was meant where that is plain. */
void dt_import_no_number(dt_report *report, int line, const char *cell);

/** The next row of a CSV, comments and blank lines passed over; DT_E_NONE at the end. A byte order
 * mark is dropped. */
dt_status dt_csv_next(dt_lines *lines);
/** Cuts the line at what parts its columns, in place. Returns the number of cells, at most `most`
 * kept. */
size_t dt_csv_cut(dt_lines *lines, char **cells, size_t most);
/** What parts the columns, by the head, which is the line; that is passed on when it only says so.
 * As dt_csv_next(). */
dt_status dt_csv_form_find(dt_lines *lines);
/** Makes a cell with a decimal comma a number of ours, in place, where the file has such. False
 * after a finding. */
bool dt_csv_number(dt_lines *lines, char *cell);
/** After the last row: false, with a finding, when commas may have grouped digits. */
bool dt_csv_form_plain(const dt_lines *lines);
/** Takes the units from the row under the head, if they stand there; another row comes again. */
dt_status dt_csv_unit_row(dt_lines *lines, dt_import_sink *sink, char **cells);
/** The column of that name: as it is spelt, or else but for case, blanks, dashes and underlines;
 * head_count: there is none. */
size_t dt_sink_column(const dt_import_sink *sink, const char *name);
/** The columns of a CSV and their units, by its first row, or two; cells has room for
 * DT_IMPORT_MOST_COLUMNS + 1. DT_OK; DT_E_INPUT with a finding; DT_E_MEMORY. */
dt_status dt_csv_head(dt_lines *lines, dt_import_sink *sink, char **cells);

dt_status dt_import_las(dt_lines *lines, dt_import_sink *sink);
dt_status dt_import_csv(dt_lines *lines, dt_import_sink *sink);
dt_status dt_import_csv_survey(dt_lines *lines, const dt_import_request *request, dt_imported *out);
dt_status dt_import_csv_offsets(dt_lines *lines, dt_imported *out);
dt_status dt_import_witsml(dt_lines *lines, dt_imported *out);

/** Our unit for a spelling of LAS, CSV or WITSML; NULL when there is none. */
const dt_unit *dt_import_unit(dt_kind kind, const char *spelling);

/** Holds the order and size of a survey and adds the station. */
dt_status dt_import_station(dt_imported *out, dt_report *report, const dt_station *station);

#endif
