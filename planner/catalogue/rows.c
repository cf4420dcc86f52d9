/* SPDX-License-Identifier: MIT */
#include "rows.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"

static const char *const thread_names[DT_THREAD_COUNT] = {[DT_STC] = "STC",
                                                          [DT_LTC] = "LTC",
                                                          [DT_BTC] = "BTC",
                                                          [DT_PLAIN_END] = "PE",
                                                          [DT_FLUSH] = "flush",
                                                          [DT_SEMI_FLUSH] = "semi-flush",
                                                          [DT_GAS_TIGHT] = "gas-tight",
                                                          [DT_STATED] = "stated"};

const char *dt_thread_text(dt_thread thread)
{
    return thread < DT_THREAD_COUNT ? thread_names[thread] : "";
}

dt_thread dt_thread_find(const char *text)
{
    for (int i = 0; i < DT_STATED; ++i) /* a stated one goes by its own name */
        if (strcmp(text, thread_names[i]) == 0) return (dt_thread)i;
    return DT_THREAD_COUNT;
}

dt_rows dt_rows_start(char *text)
{
    if (strncmp(text, "\xEF\xBB\xBF", 3) == 0) text += 3;
    return (dt_rows){text, 0};
}

static char *trimmed(char *cell)
{
    cell += strspn(cell, " \t\r");
    size_t length = strlen(cell);
    while (length > 0 && strchr(" \t\r", cell[length - 1]))
        --length;
    cell[length] = '\0';
    if (length >= 2 && cell[0] == '"' && cell[length - 1] == '"') {
        cell[length - 1] = '\0';
        ++cell;
    }
    return cell;
}

/* Cuts the next line off; NULL at the end. */
static char *next_line(dt_rows *rows)
{
    char *line = rows->next;
    if (!line || !*line) return NULL;
    char *end = strchr(line, '\n');
    rows->next = end ? end + 1 : NULL;
    if (end) *end = '\0';
    ++rows->line;
    return line;
}

bool dt_rows_next(dt_rows *rows, dt_row *row)
{
    for (char *line = next_line(rows); line; line = next_line(rows)) {
        char first = line[strspn(line, " \t\r")];
        if (first == '\0' || first == '#') continue;
        *row = (dt_row){.line = rows->line};
        while (line) {
            char *comma = strchr(line, ',');
            if (comma) *comma = '\0';
            if (row->count < DT_ROW_CELLS) row->cells[row->count] = trimmed(line);
            ++row->count;
            line = comma ? comma + 1 : NULL;
        }
        return true;
    }
    return false;
}

bool dt_row_is_header(const dt_row *row, const char *header)
{
    for (size_t i = 0; i < row->count; ++i) {
        if (i >= DT_ROW_CELLS) return false;
        size_t length = strcspn(header, ",");
        if (strlen(row->cells[i]) != length || strncmp(row->cells[i], header, length) != 0)
            return false;
        header += length;
        bool last = i + 1 == row->count;
        if (last != (*header == '\0')) return false;
        if (!last) ++header;
    }
    return true;
}

bool dt_row_number(const char *cell, double *value)
{
    size_t length = strlen(cell);
    /* strtod alone would also take hexadecimal, exponents, signs, INF and NAN */
    if (length == 0 || length > 24 || strspn(cell, "0123456789.") != length) return false;
    char *end = NULL;
    double number = strtod(cell, &end);
    if (end != cell + length || !(number > 0)) return false;
    *value = number;
    return true;
}

void dt_row_quote(const char *cell, char *out, size_t size)
{
    size_t i = 0;
    for (; cell[i] && i + 1 < size && i < 40; ++i)
        out[i] = cell[i] >= ' ' && cell[i] <= '~' ? cell[i] : '?';
    out[i] = '\0';
}

static bool complain(char problem[DT_PROBLEM_SIZE], const char *what, const char *cell)
{
    char quoted[48];
    dt_row_quote(cell, quoted, sizeof quoted);
    snprintf(problem, DT_PROBLEM_SIZE, "%s \"%s\"", what, quoted);
    return false;
}

/* Numbers of a pipe row, in the order of the header. */
static bool read_numbers(const dt_row *row, dt_pipe_row *out, char problem[DT_PROBLEM_SIZE])
{
    static const struct {
        const char *not_a_number;
        bool required;
    } columns[] = {{"od_in is not a plain number over 0:", true},
                   {"weight_lbft is not a plain number over 0:", true},
                   {"wall_in is not a plain number over 0:", true},
                   {"drift_in is not a plain number over 0:", true},
                   {"special_drift_in is neither empty nor a plain number over 0:", false},
                   {"coupling_od_in is neither empty nor a plain number over 0:", false},
                   {"clearance_coupling_od_in is neither empty nor a plain number over 0:", false}};
    double *const targets[] = {&out->od_in,
                               &out->weight_lbft,
                               &out->wall_in,
                               &out->drift_in,
                               &out->special_drift_in,
                               &out->coupling_od_in,
                               &out->clearance_coupling_od_in};
    for (size_t i = 0; i < COUNT_OF(columns); ++i) {
        *targets[i] = NAN;
        if (!columns[i].required && !row->cells[i][0]) continue;
        if (!dt_row_number(row->cells[i], targets[i]))
            return complain(problem, columns[i].not_a_number, row->cells[i]);
    }
    return true;
}

/* A row with swapped columns or a slipped digit breaks one of these. */
static bool check_numbers(const dt_pipe_row *pipe, char problem[DT_PROBLEM_SIZE])
{
    const double id_in = pipe->od_in - 2 * pipe->wall_in;
    /* plain-end weight, API Spec 5CT; nominal weights differ from it by under 5 % */
    const double plain_lbft = 10.69 * (pipe->od_in - pipe->wall_in) * pipe->wall_in;
    problem[0] = '\0';
    if (pipe->od_in < 2 || pipe->od_in > 60)
        snprintf(problem, DT_PROBLEM_SIZE, "od_in %g is not between 2 and 60 in", pipe->od_in);
    else if (!(id_in > 0))
        snprintf(problem, DT_PROBLEM_SIZE, "wall_in %g leaves no bore in %g in", pipe->wall_in,
                 pipe->od_in);
    else if (fabs(pipe->weight_lbft - plain_lbft) > 0.1 * plain_lbft)
        snprintf(problem, DT_PROBLEM_SIZE,
                 "weight_lbft %g is over 10 %% off the %.2f lb/ft that OD and wall give",
                 pipe->weight_lbft, plain_lbft);
    else if (pipe->drift_in > id_in)
        snprintf(problem, DT_PROBLEM_SIZE, "drift_in %g is over the inside diameter %g in",
                 pipe->drift_in, id_in);
    else if (pipe->special_drift_in > id_in || pipe->special_drift_in <= pipe->drift_in)
        snprintf(problem, DT_PROBLEM_SIZE,
                 "special_drift_in %g is not between the drift %g and the inside diameter %g in",
                 pipe->special_drift_in, pipe->drift_in, id_in);
    else if (pipe->coupling_od_in <= pipe->od_in)
        snprintf(problem, DT_PROBLEM_SIZE, "coupling_od_in %g is not over od_in %g",
                 pipe->coupling_od_in, pipe->od_in);
    else if (!isnan(pipe->clearance_coupling_od_in) &&
             !(pipe->clearance_coupling_od_in > pipe->od_in &&
               pipe->clearance_coupling_od_in <= pipe->coupling_od_in))
        snprintf(problem, DT_PROBLEM_SIZE,
                 "clearance_coupling_od_in %g is not between od_in and coupling_od_in",
                 pipe->clearance_coupling_od_in);
    return problem[0] == '\0';
}

/* Cuts "L80;N80" at the separator and hands out one trimmed part after the other. */
static char *next_part(char **rest, char separator)
{
    char *part = *rest;
    if (!part) return NULL;
    char *end = strchr(part, separator);
    if (end) *end = '\0';
    *rest = end ? end + 1 : NULL;
    return trimmed(part);
}

static bool read_grades(char *cell, dt_pipe_row *out, char problem[DT_PROBLEM_SIZE])
{
    for (char *name = next_part(&cell, ';'); name; name = next_part(&cell, ';')) {
        if (!*name) return complain(problem, "grades holds an empty name", name);
        if (out->grade_count == DT_ROW_GRADES)
            return complain(problem, "grades lists too many grades, from", name);
        for (size_t i = 0; i < out->grade_count; ++i)
            if (strcmp(out->grades[i], name) == 0)
                return complain(problem, "grades lists twice", name);
        out->grades[out->grade_count] = name;
        out->threads[out->grade_count++] = 0;
    }
    return true;
}

/* One thread, "LTC" or "STC(J55/K55)". */
static bool read_thread(char *part, dt_pipe_row *out, char problem[DT_PROBLEM_SIZE])
{
    char *list = strchr(part, '(');
    char *close = list ? strchr(list, ')') : NULL;
    if (list && (!close || close[1])) return complain(problem, "threads cannot be read at", part);
    if (list) {
        *list++ = '\0';
        *close = '\0';
    }
    dt_thread thread = dt_thread_find(trimmed(part));
    if (thread == DT_THREAD_COUNT)
        return complain(problem,
                        "threads must be STC, LTC, BTC, PE, flush, semi-flush or gas-tight, not",
                        part);
    for (size_t i = 0; !list && i < out->grade_count; ++i)
        out->threads[i] |= 1u << thread;
    for (char *name = next_part(&list, '/'); name; name = next_part(&list, '/')) {
        size_t i = 0;
        while (i < out->grade_count && strcmp(out->grades[i], name) != 0)
            ++i;
        if (i == out->grade_count)
            return complain(problem, "threads names a grade the row does not list:", name);
        out->threads[i] |= 1u << thread;
    }
    return true;
}

static bool check_threads(const dt_pipe_row *pipe, char problem[DT_PROBLEM_SIZE])
{
    for (size_t i = 0; i < pipe->grade_count; ++i) {
        if (!pipe->threads[i]) return complain(problem, "no thread for grade", pipe->grades[i]);
        if ((pipe->threads[i] & DT_COUPLED_THREADS) && isnan(pipe->coupling_od_in))
            return complain(problem,
                            "coupling_od_in is empty but threads has one with a coupling"
                            ", grade",
                            pipe->grades[i]);
    }
    return true;
}

bool dt_row_pipe(const dt_row *row, dt_pipe_row *out, char problem[DT_PROBLEM_SIZE])
{
    *out = (dt_pipe_row){0};
    if (!read_numbers(row, out, problem) || !check_numbers(out, problem)) return false;
    char *threads = row->cells[7];
    if (!read_grades(row->cells[8], out, problem)) return false;
    for (char *part = next_part(&threads, ';'); part; part = next_part(&threads, ';'))
        if (!read_thread(part, out, problem)) return false;
    return check_threads(out, problem);
}
