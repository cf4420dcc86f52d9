/* SPDX-License-Identifier: MIT */
#include "catalogue.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rows.h"
#include "same.h"
#include "units.h"

/* Two diameters are the same within half a thousandth of an inch, two weights within half a
 * hundredth of a pound per foot: half the last digit the tables print. */
static bool same_diameter(double a_m, double b_m)
{
    return fabs(a_m - b_m) <= SAME_DIAMETER_M;
}

static bool same_weight(double a_kgm, double b_kgm)
{
    return fabs(a_kgm - b_kgm) <= SAME_WEIGHT_KGM;
}

static int order(double a, double b)
{
    return (a > b) - (a < b);
}

static int compare_grades(const void *a, const void *b)
{
    const dt_grade *left = a, *right = b;
    int by_yield = order(left->yield_pa, right->yield_pa);
    return by_yield ? by_yield : strcmp(left->name, right->name);
}

static int first_thread(const dt_pipe *pipe)
{
    int thread = 0;
    while (thread < DT_STATED && !(pipe->threads & 1u << thread))
        ++thread;
    return thread;
}

static int compare_pipes(const void *a, const void *b)
{
    const dt_pipe *left = a, *right = b;
    int by_od = order(left->od_m, right->od_m);
    if (by_od) return by_od;
    int by_weight = order(left->weight_kgm, right->weight_kgm);
    if (by_weight) return by_weight;
    int by_grade = compare_grades(left->grade, right->grade);
    if (by_grade) return by_grade;
    const int by_thread = first_thread(left) - first_thread(right);
    if (by_thread || !left->connection || !right->connection) return by_thread;
    return strcmp(left->connection, right->connection);
}

static int compare_bits(const void *a, const void *b)
{
    const dt_bit *left = a, *right = b;
    return order(left->diameter_m, right->diameter_m);
}

static dt_pipe pipe_from_raw(const dt_raw_pipe *raw, const dt_grade *grade)
{
    return (dt_pipe){
        .od_m = raw->od_in * DT_M_PER_IN,
        .wall_m = raw->wall_in * DT_M_PER_IN,
        .id_m = (raw->od_in - 2 * raw->wall_in) * DT_M_PER_IN,
        .weight_kgm = raw->weight_lbft * DT_KGM_PER_LBFT,
        .drift_m = raw->drift_in * DT_M_PER_IN,
        .special_drift_m = raw->special_drift_in * DT_M_PER_IN,
        .coupling_od_m = raw->coupling_od_in * DT_M_PER_IN,
        .clearance_coupling_od_m = raw->clearance_coupling_od_in * DT_M_PER_IN,
        .grade = grade,
        .threads = raw->threads,
    };
}

/* A pipe of a row is at most this many: one for each outside diameter of its connections. */
enum { MOST_PIPES_OF_A_ROW = 4 };

/** Parts a row's pipe by the outside diameter of its connections. */
static size_t part_by_connection(const dt_pipe *row, dt_pipe out[MOST_PIPES_OF_A_ROW])
{
    size_t count = 0;
    const unsigned plain = row->threads & (DT_API_THREADS | 1u << DT_PLAIN_END);
    const bool api = (plain & DT_API_THREADS) != 0;
    dt_pipe told = *row;
    told.api_threaded = api;
    row = &told;
    unsigned left = row->threads & ~plain;
    if (plain) {
        out[count] = *row;
        out[count].threads = plain;
        if (api && left & 1u << DT_GAS_TIGHT) out[count].threads |= 1u << DT_GAS_TIGHT;
        if (api) left &= ~(1u << DT_GAS_TIGHT);
        if (!api) out[count].coupling_od_m = out[count].clearance_coupling_od_m = NAN;
        ++count;
    }
    for (int t = DT_FLUSH; t < DT_STATED; ++t) {
        if (!(left & 1u << t)) continue;
        const double over = dt_raw_connections[t - DT_FLUSH].od;
        out[count] = *row;
        out[count].threads = 1u << t;
        out[count].clearance_coupling_od_m = NAN;
        if (over > 0) out[count].coupling_od_m = over > 1 ? over * row->od_m : NAN;
        ++count;
    }
    return count;
}

const char *dt_pipe_thread_text(const dt_pipe *pipe, dt_thread thread)
{
    return thread == DT_STATED && pipe->connection ? pipe->connection : dt_thread_text(thread);
}

bool dt_pipe_has_thread(const dt_pipe *pipe, dt_thread thread, const char *name)
{
    return thread < DT_THREAD_COUNT && (pipe->threads & 1u << thread) != 0 &&
           strcmp(dt_pipe_thread_text(pipe, thread), name) == 0;
}

dt_thread dt_pipe_thread_find(const dt_pipe *pipe, const char *name)
{
    for (int t = 0; t < DT_THREAD_COUNT; ++t)
        if (dt_pipe_has_thread(pipe, (dt_thread)t, name)) return (dt_thread)t;
    return DT_THREAD_COUNT;
}

bool dt_pipe_gas_tight(const dt_pipe *pipe, dt_thread thread)
{
    if (thread == DT_STATED) return pipe->stated_gas_tight;
    return thread >= DT_FLUSH && thread < DT_STATED &&
           dt_raw_connections[thread - DT_FLUSH].gas_tight;
}

bool dt_catalogue_has_thread(const dt_catalogue *catalogue, const char *name)
{
    for (size_t i = 0; i < catalogue->pipe_count; ++i)
        if (dt_pipe_thread_find(&catalogue->pipes[i], name) != DT_THREAD_COUNT) return true;
    return false;
}

static dt_thread_row thread_from_raw(const dt_raw_thread *raw)
{
    return (dt_thread_row){
        .od_m = raw->od_in * DT_M_PER_IN,
        .stc_length_m = raw->stc_length_in * DT_M_PER_IN,
        .ltc_length_m = raw->ltc_length_in * DT_M_PER_IN,
        .light_weight_kgm = raw->light_weight_lbft * DT_KGM_PER_LBFT,
        .light_stc_length_m = raw->light_stc_length_in * DT_M_PER_IN,
        .e1_m = raw->e1_in * DT_M_PER_IN,
        .e7_m = raw->e7_in * DT_M_PER_IN,
        .l7_m = raw->l7_in * DT_M_PER_IN,
        .coupling_od_m = raw->coupling_od_in * DT_M_PER_IN,
    };
}

static void fill_built_in(dt_catalogue *c)
{
    for (size_t i = 0; i < c->grade_count; ++i) {
        const dt_raw_grade *raw = &dt_raw_grades[i];
        c->grades[i] = (dt_grade){raw->name,
                                  raw->yield_psi * DT_PA_PER_PSI,
                                  raw->max_yield_psi * DT_PA_PER_PSI,
                                  raw->tensile_psi * DT_PA_PER_PSI,
                                  raw->sour,
                                  raw->sour_from_c};
    }
    qsort(c->grades, c->grade_count, sizeof *c->grades, compare_grades);
    c->pipe_count = 0;
    for (size_t i = 0; i < dt_raw_pipe_count; ++i) {
        const dt_pipe row =
            pipe_from_raw(&dt_raw_pipes[i], dt_grade_find(c, dt_raw_pipes[i].grade));
        c->pipe_count += part_by_connection(&row, c->pipes + c->pipe_count);
    }
    qsort(c->pipes, c->pipe_count, sizeof *c->pipes, compare_pipes);
    for (size_t i = 0; i < c->bit_count; ++i)
        c->bits[i] = (dt_bit){dt_raw_bits[i].diameter_in * DT_M_PER_IN, dt_raw_bits[i].commonness};
    for (size_t i = 0; i < c->thread_count; ++i)
        c->threads[i] = thread_from_raw(&dt_raw_threads[i]);
}

dt_status dt_catalogue_load(dt_catalogue *out)
{
    dt_catalogue c = {.pipe_count = MOST_PIPES_OF_A_ROW * dt_raw_pipe_count,
                      .grade_count = dt_raw_grade_count,
                      .bit_count = dt_raw_bit_count,
                      .thread_count = dt_raw_thread_count};
    c.pipes = calloc(c.pipe_count, sizeof *c.pipes);
    c.grades = calloc(c.grade_count, sizeof *c.grades);
    c.bits = calloc(c.bit_count, sizeof *c.bits);
    c.threads = calloc(c.thread_count, sizeof *c.threads);
    if (!c.pipes || !c.grades || !c.bits || !c.threads) {
        dt_catalogue_free(&c);
        return DT_E_MEMORY;
    }
    fill_built_in(&c);
    *out = c;
    return DT_OK;
}

void dt_catalogue_free(dt_catalogue *catalogue)
{
    if (!catalogue) return;
    free(catalogue->pipes);
    free(catalogue->grades);
    free(catalogue->bits);
    free(catalogue->threads);
    for (size_t i = 0; i < catalogue->name_count; ++i)
        free(catalogue->names[i]);
    free(catalogue->names);
    *catalogue = (dt_catalogue){0};
}

/** The next letter or digit that tells grades apart, in capitals; what stands there at the end. */
static char grade_letter(const char **at)
{
    while (**at == '-' || **at == ' ')
        ++*at;
    const char c = **at;
    if (c) ++*at;
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

bool dt_same_grade(const char *a, const char *b)
{
    char left = grade_letter(&a), right = grade_letter(&b);
    while (left && left == right) {
        left = grade_letter(&a);
        right = grade_letter(&b);
    }
    return left == right;
}

const dt_grade *dt_grade_find(const dt_catalogue *catalogue, const char *name)
{
    for (size_t i = 0; i < catalogue->grade_count; ++i)
        if (dt_same_grade(catalogue->grades[i].name, name)) return &catalogue->grades[i];
    return NULL;
}

const dt_thread_row *dt_thread_row_find(const dt_catalogue *catalogue, double od_m)
{
    for (size_t i = 0; i < catalogue->thread_count; ++i)
        if (same_diameter(catalogue->threads[i].od_m, od_m)) return &catalogue->threads[i];
    return NULL;
}

const dt_pipe *dt_pipe_find(const dt_catalogue *catalogue, double od_m, double weight_kgm,
                            const char *grade)
{
    for (size_t i = 0; i < catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &catalogue->pipes[i];
        if (same_diameter(pipe->od_m, od_m) && same_weight(pipe->weight_kgm, weight_kgm) &&
            dt_same_grade(pipe->grade->name, grade))
            return pipe;
    }
    return NULL;
}

/* More than any stock holds, and few enough that comparing each with each stays quick. */
enum { MAX_USER_PIPES = 10000, MAX_USER_BITS = 1000 };

/* A user's file: its copy, cut into rows, with its header already held against what it must be. */
typedef struct user_file {
    char *text;
    dt_rows rows;
    dt_report *report;
    size_t errors_before;
    size_t row_count, cells; /* cells: of the header */
} user_file;

static dt_status open_user_file(user_file *file, const char *text, size_t size, const char *header,
                                const char *longer, dt_report *report)
{
    *file = (user_file){.report = report, .errors_before = report->errors};
    if (size > DT_CATALOGUE_MAX_BYTES) {
        dt_report_add(report, DT_MSG_CATALOGUE_ROW, 0, "", "the file is larger than 1 MiB");
        return DT_E_INPUT;
    }
    if (size && memchr(text, '\0', size)) {
        dt_report_add(report, DT_MSG_CATALOGUE_HEADER, 0, "file",
                      "this is no text: it has a zero byte");
        return DT_E_INPUT;
    }
    file->text = malloc(size + 1);
    if (!file->text) return DT_E_MEMORY;
    if (size) memcpy(file->text, text, size);
    file->text[size] = '\0';
    file->rows = dt_rows_start(file->text);
    dt_row row;
    bool any = dt_rows_next(&file->rows, &row);
    file->cells = row.count;
    if (any && (dt_row_is_header(&row, header) || (longer && dt_row_is_header(&row, longer))))
        return DT_OK;
    dt_report_add(report, DT_MSG_CATALOGUE_HEADER, any ? row.line : 0, "header",
                  "the first line must be %s", header);
    return DT_E_INPUT;
}

/* The next row with as many cells as the header has; rows with another number become findings. */
static bool next_row(user_file *file, size_t cells, dt_message complaint, dt_row *row)
{
    while (dt_rows_next(&file->rows, row)) {
        ++file->row_count;
        if (row->count == cells) return true;
        dt_report_add(file->report, complaint, row->line, "row",
                      "%zu cells where the header has %zu", row->count, cells);
    }
    return false;
}

/* Closes the file: DT_OK only when it had rows and none of them was refused. */
static dt_status close_user_file(user_file *file, dt_status status, dt_message complaint)
{
    if (status == DT_OK && file->row_count == 0)
        dt_report_add(file->report, complaint, 0, "file", "there is no row under the header");
    if (status == DT_OK && file->report->errors > file->errors_before) status = DT_E_INPUT;
    if (file->report->out_of_memory) status = DT_E_MEMORY;
    free(file->text);
    return status;
}

/* A growing list of pipes. */
typedef struct pipe_list {
    dt_pipe *items;
    size_t count, capacity;
} pipe_list;

static dt_status push_pipe(pipe_list *list, const dt_pipe *pipe)
{
    if (list->count == list->capacity) {
        size_t capacity = list->capacity ? 2 * list->capacity : 64;
        dt_pipe *items = realloc(list->items, capacity * sizeof *items);
        if (!items) return DT_E_MEMORY;
        list->items = items;
        list->capacity = capacity;
    }
    list->items[list->count++] = *pipe;
    return DT_OK;
}

/* Why a pipe of a user's row cannot be taken, or NULL. */
static const char *pipe_problem(const dt_catalogue *c, const dt_pipe *pipe)
{
    if (!pipe->grade) return "unknown grade";
    const dt_thread_row *row = dt_thread_row_find(c, pipe->od_m);
    if (!(pipe->threads & DT_API_THREADS)) return NULL;
    if (!row) return "no thread dimensions for this OD, grade";
    if ((pipe->threads & 1u << DT_STC) && isnan(row->stc_length_m))
        return "no STC dimensions for this OD, grade";
    if ((pipe->threads & 1u << DT_LTC) && isnan(row->ltc_length_m))
        return "no LTC dimensions for this OD, grade";
    return NULL;
}

static dt_status read_pipe_row(const dt_catalogue *c, user_file *file, const dt_row *row,
                               pipe_list *list)
{
    dt_pipe_row in;
    char problem[DT_PROBLEM_SIZE];
    if (!dt_row_pipe(row, &in, problem)) {
        dt_report_add(file->report, DT_MSG_CATALOGUE_ROW, row->line, "row", "%s", problem);
        return DT_OK;
    }
    for (size_t g = 0; g < in.grade_count; ++g) {
        dt_raw_pipe raw = {in.od_in,
                           in.weight_lbft,
                           in.wall_in,
                           in.drift_in,
                           in.special_drift_in,
                           in.coupling_od_in,
                           in.clearance_coupling_od_in,
                           in.grades[g],
                           in.threads[g]};
        dt_pipe pipe = pipe_from_raw(&raw, dt_grade_find(c, raw.grade));
        const char *why_not = pipe_problem(c, &pipe);
        if (why_not) {
            char name[48];
            dt_row_quote(raw.grade, name, sizeof name);
            dt_report_add(file->report, DT_MSG_CATALOGUE_ROW, row->line, "grades", "%s \"%s\"",
                          why_not, name);
            continue;
        }
        if (list->count == MAX_USER_PIPES) {
            dt_report_add(file->report, DT_MSG_CATALOGUE_ROW, row->line, "row",
                          "the file has more than %d pipes", MAX_USER_PIPES);
            return DT_E_INPUT;
        }
        dt_pipe parts[MOST_PIPES_OF_A_ROW];
        const size_t count = part_by_connection(&pipe, parts);
        for (size_t i = 0; i < count; ++i)
            if (push_pipe(list, &parts[i]) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

/* ---- connections that a file names itself ---- */

/** The catalogue's own copy of a name; NULL when memory runs out. */
static const char *keep_name(dt_catalogue *c, const char *name)
{
    for (size_t i = 0; i < c->name_count; ++i)
        if (strcmp(c->names[i], name) == 0) return c->names[i];
    char **names = realloc(c->names, (c->name_count + 1) * sizeof *names);
    if (!names) return NULL;
    c->names = names;
    char *copy = malloc(strlen(name) + 1);
    if (!copy) return NULL;
    strcpy(copy, name);
    return c->names[c->name_count++] = copy;
}

/** A rating in a cell: NAN for an empty one. */
static bool read_rating(const char *cell, double unit, double *out)
{
    double number = NAN;
    if (*cell && !dt_row_number(cell, &number)) return false;
    *out = number * unit;
    return true;
}

static bool is_connection_name(const char *name)
{
    return strlen(name) <= 24 && dt_thread_find(name) == DT_THREAD_COUNT &&
           strcmp(name, dt_thread_text(DT_STATED)) != 0;
}

/** What is wrong with the cells of a stated connection; NULL: nothing, and *pipe has its ratings.
 */
static const char *read_connection(const dt_row *row, const dt_pipe_row *in, dt_pipe *pipe)
{
    char *const *cell = row->cells + 9;
    double od_m;
    if (!is_connection_name(cell[0])) return "connection is a thread of the catalogue, or too long";
    if (in->grade_count != 1) return "a connection is stated for one grade";
    if (!read_rating(cell[1], DT_M_PER_IN, &od_m) ||
        !read_rating(cell[2], 1000 * DT_N_PER_LBF, &pipe->stated_joint_n) ||
        !read_rating(cell[3], DT_PA_PER_PSI, &pipe->stated_burst_pa) ||
        !read_rating(cell[4], DT_PA_PER_PSI, &pipe->stated_collapse_pa))
        return "connection_od_in, joint_klbf, burst_psi and collapse_psi are plain numbers over 0";
    if (isnan(od_m) || isnan(pipe->stated_joint_n) || isnan(pipe->stated_burst_pa))
        return "a connection needs connection_od_in, joint_klbf and burst_psi";
    if (od_m < pipe->od_m - SAME_DIAMETER_M) return "connection_od_in is under od_in";
    pipe->coupling_od_m = od_m > pipe->od_m + SAME_DIAMETER_M ? od_m : NAN;
    pipe->stated_gas_tight = strcmp(cell[5], "yes") == 0;
    if (!pipe->stated_gas_tight && strcmp(cell[5], "no") != 0) return "gas_tight is yes or no";
    return NULL;
}

static dt_status read_stated_row(dt_catalogue *c, user_file *file, dt_row *row, pipe_list *list)
{
    dt_pipe_row in;
    char problem[DT_PROBLEM_SIZE];
    if (!*row->cells[9]) return read_pipe_row(c, file, row, list);
    if (!dt_row_pipe(row, &in, problem)) {
        dt_report_add(file->report, DT_MSG_CATALOGUE_ROW, row->line, "row", "%s", problem);
        return DT_OK;
    }
    const dt_raw_pipe raw = {in.od_in,
                             in.weight_lbft,
                             in.wall_in,
                             in.drift_in,
                             in.special_drift_in,
                             in.coupling_od_in,
                             in.clearance_coupling_od_in,
                             in.grades[0],
                             1u << DT_STATED};
    dt_pipe pipe = pipe_from_raw(&raw, in.grade_count ? dt_grade_find(c, raw.grade) : NULL);
    pipe.clearance_coupling_od_m = NAN;
    const char *why_not = pipe.grade ? read_connection(row, &in, &pipe) : "unknown grade";
    if (!why_not && in.threads[0] != 1u << DT_PLAIN_END)
        why_not = "threads is PE beside a connection";
    if (!why_not && list->count == MAX_USER_PIPES) why_not = "the file has too many pipes";
    if (why_not) {
        dt_report_add(file->report, DT_MSG_CATALOGUE_ROW, row->line, "connection", "%s", why_not);
        return DT_OK;
    }
    pipe.connection = keep_name(c, row->cells[9]);
    return pipe.connection ? push_pipe(list, &pipe) : DT_E_MEMORY;
}

/** Do both come with connections of one kind, so that one replaces the other? */
static bool same_connections(const dt_pipe *a, const dt_pipe *b)
{
    if (a->connection && b->connection) return strcmp(a->connection, b->connection) == 0;
    const int x = first_thread(a), y = first_thread(b);
    return x == y || (x < DT_FLUSH && y < DT_FLUSH);
}

static bool replaced(const pipe_list *by, const dt_pipe *pipe)
{
    for (size_t i = 0; i < by->count; ++i) {
        const dt_pipe *at = &by->items[i];
        if (same_diameter(at->od_m, pipe->od_m) && same_weight(at->weight_kgm, pipe->weight_kgm) &&
            at->grade == pipe->grade && same_connections(at, pipe))
            return true;
    }
    return false;
}

/* The catalogue's pipes that no new one replaces, behind the new ones. Later rows replace earlier.
 */
static dt_status merge_pipes(const dt_catalogue *c, pipe_list *list)
{
    pipe_list merged = {0};
    dt_status status = DT_OK;
    for (size_t i = list->count + c->pipe_count; i-- > 0 && status == DT_OK;) {
        const dt_pipe *pipe = i < c->pipe_count ? &c->pipes[i] : &list->items[i - c->pipe_count];
        if (!replaced(&merged, pipe)) status = push_pipe(&merged, pipe);
    }
    free(list->items);
    *list = merged;
    return status;
}

dt_status dt_catalogue_extend(dt_catalogue *catalogue, const char *text, size_t size,
                              dt_report *report)
{
    user_file file;
    pipe_list list = {0};
    dt_row row;
    dt_status status = open_user_file(&file, text, size, DT_PIPE_HEADER, DT_STATED_HEADER, report);
    while (status == DT_OK && next_row(&file, file.cells, DT_MSG_CATALOGUE_ROW, &row))
        status = file.cells == 9 ? read_pipe_row(catalogue, &file, &row, &list)
                                 : read_stated_row(catalogue, &file, &row, &list);
    status = close_user_file(&file, status, DT_MSG_CATALOGUE_ROW);
    if (status == DT_OK) status = merge_pipes(catalogue, &list);
    if (status != DT_OK) {
        free(list.items);
        return status;
    }
    qsort(list.items, list.count, sizeof *list.items, compare_pipes);
    free(catalogue->pipes);
    catalogue->pipes = list.items;
    catalogue->pipe_count = list.count;
    return DT_OK;
}

/* Marks every pipe a stock row matches; returns whether there was one. NAN and "" match all. */
static bool mark_matches(const dt_catalogue *c, double od_m, double weight_kgm, const char *grade,
                         bool *keep)
{
    bool any = false;
    for (size_t i = 0; i < c->pipe_count; ++i) {
        const dt_pipe *pipe = &c->pipes[i];
        if (!isnan(od_m) && !same_diameter(pipe->od_m, od_m)) continue;
        if (!isnan(weight_kgm) && !same_weight(pipe->weight_kgm, weight_kgm)) continue;
        if (*grade && !dt_same_grade(pipe->grade->name, grade)) continue;
        keep[i] = any = true;
    }
    return any;
}

static void read_stock_row(const dt_catalogue *c, user_file *file, const dt_row *row, bool *keep)
{
    double od_in = NAN, weight_lbft = NAN;
    const char *const *cells = (const char *const *)row->cells;
    if (!*cells[0] && !*cells[1] && !*cells[2])
        /* what a spreadsheet leaves behind its last row; taken at its word it would match all */
        dt_report_add(file->report, DT_MSG_CATALOGUE_ROW, row->line, "row", "all cells are empty");
    else if ((*cells[0] && !dt_row_number(cells[0], &od_in)) ||
             (*cells[1] && !dt_row_number(cells[1], &weight_lbft)))
        dt_report_add(file->report, DT_MSG_CATALOGUE_ROW, row->line, "row",
                      "od_in and weight_lbft must be empty or plain numbers over 0");
    else if (!mark_matches(c, od_in * DT_M_PER_IN, weight_lbft * DT_KGM_PER_LBFT, cells[2], keep)) {
        char name[48];
        dt_row_quote(cells[2], name, sizeof name);
        dt_report_add(file->report, DT_MSG_CATALOGUE_NO_MATCH, row->line, "row",
                      "the catalogue has no pipe of OD %s in, %s lb/ft, grade %s",
                      *cells[0] ? cells[0] : "any", *cells[1] ? cells[1] : "any",
                      *name ? name : "any");
    }
}

dt_status dt_catalogue_restrict(dt_catalogue *catalogue, const char *text, size_t size,
                                dt_report *report)
{
    user_file file;
    dt_row row;
    bool *keep = calloc(catalogue->pipe_count + 1, sizeof *keep);
    if (!keep) return DT_E_MEMORY;
    dt_status status = open_user_file(&file, text, size, "od_in,weight_lbft,grade", NULL, report);
    while (status == DT_OK && next_row(&file, 3, DT_MSG_CATALOGUE_ROW, &row))
        read_stock_row(catalogue, &file, &row, keep);
    status = close_user_file(&file, status, DT_MSG_CATALOGUE_ROW);
    size_t kept = 0;
    for (size_t i = 0; status == DT_OK && i < catalogue->pipe_count; ++i)
        if (keep[i]) catalogue->pipes[kept++] = catalogue->pipes[i];
    if (status == DT_OK) catalogue->pipe_count = kept;
    free(keep);
    return status;
}

static dt_bit_commonness commonness_of(double diameter_m)
{
    for (size_t i = 0; i < dt_raw_bit_count; ++i)
        if (same_diameter(dt_raw_bits[i].diameter_in * DT_M_PER_IN, diameter_m))
            return dt_raw_bits[i].commonness;
    return DT_BIT_LESS_COMMON;
}

/* Adds the bit of a row to the list, which has room for it, or a finding to the report. */
static void read_bit_row(user_file *file, const dt_row *row, dt_bit *bits, size_t *count)
{
    double diameter_in;
    if (*count == MAX_USER_BITS) {
        dt_report_add(file->report, DT_MSG_CATALOGUE_BIT, row->line, "row",
                      "the file has more than %d bits", MAX_USER_BITS);
        file->rows.next = NULL; /* once is enough */
        return;
    }
    char quoted[48];
    dt_row_quote(row->cells[0], quoted, sizeof quoted);
    if (!dt_row_number(row->cells[0], &diameter_in) || diameter_in < 2 || diameter_in > 60) {
        dt_report_add(file->report, DT_MSG_CATALOGUE_BIT, row->line, "diameter_in",
                      "\"%s\" is not a plain number between 2 and 60", quoted);
        return;
    }
    const double diameter_m = diameter_in * DT_M_PER_IN;
    for (size_t i = 0; i < *count; ++i)
        if (same_diameter(bits[i].diameter_m, diameter_m)) {
            dt_report_add(file->report, DT_MSG_CATALOGUE_BIT, row->line, "diameter_in",
                          "%s in is listed twice", quoted);
            return;
        }
    bits[(*count)++] = (dt_bit){diameter_m, commonness_of(diameter_m)};
}

dt_status dt_catalogue_bits(dt_catalogue *catalogue, const char *text, size_t size,
                            dt_report *report)
{
    user_file file;
    dt_row row;
    size_t count = 0;
    dt_bit *bits = calloc(MAX_USER_BITS, sizeof *bits);
    if (!bits) return DT_E_MEMORY;
    dt_status status = open_user_file(&file, text, size, "diameter_in", NULL, report);
    while (status == DT_OK && next_row(&file, 1, DT_MSG_CATALOGUE_BIT, &row))
        read_bit_row(&file, &row, bits, &count);
    status = close_user_file(&file, status, DT_MSG_CATALOGUE_BIT);
    if (status != DT_OK) {
        free(bits);
        return status;
    }
    qsort(bits, count, sizeof *bits, compare_bits);
    free(catalogue->bits);
    catalogue->bits = bits;
    catalogue->bit_count = count;
    return DT_OK;
}
