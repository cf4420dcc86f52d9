/* SPDX-License-Identifier: MIT */
/*
 * compile_catalogue DIR OUT.c: turns the catalogue's files into C tables while building.
 * Every bad row of every file is reported as file:line; nothing is written then.
 */
#include "rows.h"
#include "same.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MAX_FILE_BYTES = 1 << 20, MAX_GRADES = 64, MAX_THREADS = 64, MAX_PIPES = 4096 };

typedef struct table {
    const char *dir, *name;
    char *text;
    dt_rows rows;
} table;

/* What rows of one file are held against from the files before. */
typedef struct compiler {
    FILE *out;
    int errors;
    char grades[MAX_GRADES][16];
    size_t grade_count;
    dt_raw_thread threads[MAX_THREADS];
    size_t thread_count;
    struct {
        double od_in, weight_lbft;
        size_t grade;
    } pipes[MAX_PIPES];
    size_t pipe_count;
} compiler;

static void complain(compiler *c, const table *t, int line, const char *problem)
{
    fprintf(stderr, "%s/%s:%d: %s\n", t->dir, t->name, line, problem);
    ++c->errors;
}

/* Reads a file whole and its header line; false when that failed. */
static bool open_table(compiler *c, table *t, const char *header)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", t->dir, t->name);
    FILE *in = fopen(path, "rb");
    t->text = calloc(1, MAX_FILE_BYTES + 1);
    size_t size = in && t->text ? fread(t->text, 1, MAX_FILE_BYTES, in) : 0;
    bool bad = !in || ferror(in);
    if (in) fclose(in);
    if (bad || size == 0 || size == MAX_FILE_BYTES || strlen(t->text) != size) {
        complain(c, t, 0, "cannot be read, or is no text of under 1 MiB");
        return false;
    }
    dt_row row;
    t->rows = dt_rows_start(t->text);
    if (!dt_rows_next(&t->rows, &row) || !dt_row_is_header(&row, header)) {
        complain(c, t, t->rows.line, "this is not the header of this file");
        return false;
    }
    return true;
}

/* Writes a number as the file has it, or NAN for an empty cell. */
static void put_number(FILE *out, double value)
{
    if (isnan(value))
        fputs("NAN, ", out);
    else
        fprintf(out, "%.17g, ", value);
}

/* Reads `count` cells from `first`; empty ones become NAN where their bit is set in optional. */
static bool numbers(const dt_row *row, size_t first, size_t count, unsigned optional, double *out)
{
    for (size_t i = 0; i < count; ++i) {
        const char *cell = row->cells[first + i];
        out[i] = NAN;
        if (!(*cell == '\0' && (optional >> i & 1u)) && !dt_row_number(cell, &out[i])) return false;
    }
    return true;
}

static void close_array(compiler *c, const char *what, size_t count)
{
    fprintf(c->out, "};\nconst size_t dt_raw_%s_count = %zu;\n", what, count);
}

static void compile_grades(compiler *c, table *t)
{
    fprintf(c->out, "const dt_raw_grade dt_raw_grades[] = {\n");
    for (dt_row row; dt_rows_next(&t->rows, &row);) {
        double v[3];
        bool known = false;
        for (size_t i = 0; row.count == 6 && i < c->grade_count; ++i)
            if (strcmp(c->grades[i], row.cells[0]) == 0) known = true;
        const bool sour = row.count == 6 && strcmp(row.cells[4], "yes") == 0;
        double from_c = NAN;
        const bool warm = row.count == 6 && dt_row_number(row.cells[4], &from_c);
        if (row.count != 6 || !numbers(&row, 1, 3, 2u, v) || !row.cells[5][0])
            complain(c, t, row.line,
                     "want name, yield, largest yield or nothing, tensile, sour, source");
        else if (!sour && !warm && strcmp(row.cells[4], "no") != 0)
            complain(c, t, row.line, "sour is yes, no or a temperature");
        else if (known || c->grade_count == MAX_GRADES)
            complain(c, t, row.line, "this grade stands above already, or there are too many");
        else if (!row.cells[0][0] || strlen(row.cells[0]) >= sizeof c->grades[0] ||
                 strpbrk(row.cells[0], "\"\\"))
            complain(c, t, row.line, "this is no name of a grade");
        else if (v[0] >= v[2] || v[1] <= v[0])
            complain(c, t, row.line, "yield is not under tensile strength or largest yield");
        else {
            memcpy(c->grades[c->grade_count++], row.cells[0], strlen(row.cells[0]) + 1);
            fprintf(c->out, "    {\"%s\", ", row.cells[0]);
            for (int i = 0; i < 3; ++i)
                put_number(c->out, v[i]);
            fprintf(c->out, "%s, ", sour ? "true" : "false");
            put_number(c->out, from_c);
            fprintf(c->out, "},\n");
        }
    }
    close_array(c, "grade", c->grade_count);
}

static void compile_threads(compiler *c, table *t)
{
    fprintf(c->out, "const dt_raw_thread dt_raw_threads[] = {\n");
    for (dt_row row; dt_rows_next(&t->rows, &row);) {
        double v[9];
        if (row.count != 9 || !numbers(&row, 0, 9, 0x1eu, v)) {
            complain(c, t, row.line, "want nine numbers over 0, the four after od_in optional");
            continue;
        }
        dt_raw_thread r = {v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8]};
        bool order = c->thread_count == 0 || r.od_in > c->threads[c->thread_count - 1].od_in;
        if (!order || c->thread_count == MAX_THREADS)
            complain(c, t, row.line, "diameters do not increase, or there are too many");
        else if (isnan(r.light_weight_lbft) != isnan(r.light_stc_length_in))
            complain(c, t, row.line, "light weight and its length go together");
        else if (!(r.e1_in < r.od_in && r.e7_in < r.od_in && r.coupling_od_in > r.od_in))
            complain(c, t, row.line, "pitch diameters must be under the OD, the coupling over it");
        else {
            c->threads[c->thread_count++] = r;
            fprintf(c->out, "    {");
            for (int i = 0; i < 9; ++i)
                put_number(c->out, v[i]);
            fprintf(c->out, "},\n");
        }
    }
    close_array(c, "thread", c->thread_count);
}

static void compile_bits(compiler *c, table *t)
{
    static const char *const names[] = {[DT_BIT_STANDARD] = "standard",
                                        [DT_BIT_LESS_COMMON] = "less-common",
                                        [DT_BIT_OPENER] = "opener"};
    static const char *const constants[] = {[DT_BIT_STANDARD] = "DT_BIT_STANDARD",
                                            [DT_BIT_LESS_COMMON] = "DT_BIT_LESS_COMMON",
                                            [DT_BIT_OPENER] = "DT_BIT_OPENER"};
    size_t count = 0;
    double last = 0;
    fprintf(c->out, "const dt_raw_bit dt_raw_bits[] = {\n");
    for (dt_row row; dt_rows_next(&t->rows, &row);) {
        double diameter_in;
        int kind = 3;
        while (row.count == 3 && kind > 0 && strcmp(names[kind - 1], row.cells[1]) != 0)
            --kind;
        if (row.count != 3 || kind == 0 || !row.cells[2][0] ||
            !dt_row_number(row.cells[0], &diameter_in))
            complain(c, t, row.line, "want a diameter, standard|less-common|opener, and a source");
        else if (diameter_in <= last)
            complain(c, t, row.line, "diameters do not increase");
        else {
            last = diameter_in;
            ++count;
            fprintf(c->out, "    {%.17g, %s},\n", diameter_in, constants[kind - 1]);
        }
    }
    close_array(c, "bit", count);
}

static void compile_connections(compiler *c, table *t)
{
    size_t count = 0;
    fprintf(c->out, "const dt_raw_connection dt_raw_connections[] = {\n");
    for (dt_row row; dt_rows_next(&t->rows, &row);) {
        double v[4];
        const char *od = row.count == 7 ? row.cells[1] : "";
        const bool coupled = strcmp(od, "0") == 0,
                   tight = row.count == 7 && !strcmp(row.cells[5], "yes");
        if (row.count != 7 || !numbers(&row, 2, 3, 0, v + 1) || !row.cells[6][0] ||
            (!coupled && !numbers(&row, 1, 1, 0, v)) || (!tight && strcmp(row.cells[5], "no") != 0))
            complain(c, t, row.line, "want name, od, tension, burst, collapse, gas_tight, source");
        else if (dt_thread_find(row.cells[0]) != (dt_thread)(DT_FLUSH + (int)count))
            complain(c, t, row.line, "connections stand in the order of dt_thread");
        else if (v[1] > 1 || v[2] > 1 || v[3] > 1 || (!coupled && v[0] < 1))
            complain(c, t, row.line, "a connection is no narrower and no stronger than its pipe");
        else {
            if (coupled) v[0] = 0;
            fprintf(c->out, "    {\"%s\", ", row.cells[0]);
            for (int i = 0; i < 4; ++i)
                put_number(c->out, v[i]);
            fprintf(c->out, "%s},\n", tight ? "true" : "false");
            ++count;
        }
    }
    if (count != DT_STATED - DT_FLUSH) complain(c, t, 0, "a connection is missing");
    close_array(c, "connection", count);
}

/* May this pipe's threads be rated at all? */
static bool threads_known(const compiler *c, double od_in, unsigned threads)
{
    if (!(threads & DT_API_THREADS)) return true;
    for (size_t i = 0; i < c->thread_count; ++i) {
        const dt_raw_thread *r = &c->threads[i];
        if (fabs(r->od_in - od_in) > SAME_DIAMETER_IN) continue;
        bool stc = !(threads & 1u << DT_STC) || !isnan(r->stc_length_in);
        bool ltc = !(threads & 1u << DT_LTC) || !isnan(r->ltc_length_in);
        return stc && ltc;
    }
    return false;
}

/* Notes one pipe; a message when it cannot be one. */
static const char *note_pipe(compiler *c, const dt_pipe_row *pipe, size_t which)
{
    size_t grade = 0;
    while (grade < c->grade_count && strcmp(c->grades[grade], pipe->grades[which]) != 0)
        ++grade;
    if (grade == c->grade_count) return "a grade of this row is not in grades.csv";
    if (!threads_known(c, pipe->od_in, pipe->threads[which]))
        return "a thread of this row is not in threads.csv";
    for (size_t i = 0; i < c->pipe_count; ++i)
        if (c->pipes[i].grade == grade &&
            fabs(c->pipes[i].od_in - pipe->od_in) < SAME_DIAMETER_IN &&
            fabs(c->pipes[i].weight_lbft - pipe->weight_lbft) < 0.005)
            return "size, weight and grade stand above already";
    if (c->pipe_count == MAX_PIPES) return "there are too many pipes";
    c->pipes[c->pipe_count].od_in = pipe->od_in;
    c->pipes[c->pipe_count].weight_lbft = pipe->weight_lbft;
    c->pipes[c->pipe_count++].grade = grade;
    return NULL;
}

static void compile_pipes(compiler *c, table *t)
{
    fprintf(c->out, "const dt_raw_pipe dt_raw_pipes[] = {\n");
    for (dt_row row; dt_rows_next(&t->rows, &row);) {
        dt_pipe_row pipe;
        char problem[DT_PROBLEM_SIZE];
        if (row.count != 10 || !row.cells[9][0]) {
            complain(c, t, row.line, "want ten cells, the last a source");
            continue;
        }
        if (!dt_row_pipe(&row, &pipe, problem)) {
            complain(c, t, row.line, problem);
            continue;
        }
        for (size_t g = 0; g < pipe.grade_count; ++g) {
            const char *why_not = note_pipe(c, &pipe, g);
            if (why_not) complain(c, t, row.line, why_not);
            const double v[] = {pipe.od_in,
                                pipe.weight_lbft,
                                pipe.wall_in,
                                pipe.drift_in,
                                pipe.special_drift_in,
                                pipe.coupling_od_in,
                                pipe.clearance_coupling_od_in};
            fprintf(c->out, "    {");
            for (size_t i = 0; i < sizeof v / sizeof *v; ++i)
                put_number(c->out, v[i]);
            fprintf(c->out, "\"%s\", %uu},\n", pipe.grades[g], pipe.threads[g]);
        }
    }
    close_array(c, "pipe", c->pipe_count);
}

/* Mass of the solids of a recipe "cem=94;gel=3.76@2.65", lb; 0 when it cannot be read. */
static double solids_lb(const char *mix)
{
    double sum = 0;
    for (const char *at = mix; at; at = strchr(at, ';') ? strchr(at, ';') + 1 : NULL) {
        const char *equals = strchr(at, '=');
        if (!equals) return 0;
        sum += strtod(equals + 1, NULL);
    }
    return sum;
}

static void compile_slurries(compiler *c, table *t)
{
    size_t count = 0;
    fprintf(c->out, "const dt_raw_slurry dt_raw_slurries[] = {\n");
    for (dt_row row; dt_rows_next(&t->rows, &row);) {
        double v[4];
        if (row.count != 7 || !numbers(&row, 1, 4, 0, v) || !row.cells[0][0] || !row.cells[6][0] ||
            strpbrk(row.cells[0], "\"\\") || strpbrk(row.cells[5], "\"\\")) {
            complain(c, t, row.line, "want name, density, yield, water, sack, mix, source");
            continue;
        }
        /* A sack weighs the same as its solids and water: a slip in any one figure shows. The
         * published rows round density and yield to half a per cent each. */
        double out_lb = v[0] * v[1] * 1728 / 231, in_lb = solids_lb(row.cells[5]) + 8.33 * v[2];
        if (fabs(out_lb - in_lb) > 0.015 * in_lb)
            complain(c, t, row.line, "density times yield is not the mass that was mixed");
        ++count;
        fprintf(c->out, "    {\"%s\", ", row.cells[0]);
        for (int i = 0; i < 4; ++i)
            put_number(c->out, v[i]);
        fprintf(c->out, "\"%s\"},\n", row.cells[5]);
    }
    close_array(c, "slurry", count);
}

int main(int argc, char **argv)
{
    static const struct {
        const char *file, *header;
        void (*compile)(compiler *, table *);
    } steps[] = {
        {"grades.csv", "name,yield_psi,max_yield_psi,tensile_psi,sour,source", compile_grades},
        {"threads.csv",
         "od_in,stc_length_in,ltc_length_in,light_weight_lbft,light_stc_length_in,e1_in,e7_in,"
         "l7_in,coupling_od_in",
         compile_threads},
        {"connections.csv", "name,od,tension,burst,collapse,gas_tight,source", compile_connections},
        {"bits.csv", "diameter_in,commonness,source", compile_bits},
        {"slurries.csv", "name,density_ppg,yield_ft3_sk,water_gal_sk,sack_lb,mix,source",
         compile_slurries},
        {"casing.csv", DT_PIPE_HEADER ",source", compile_pipes}};
    if (argc != 3) {
        fprintf(stderr, "usage: compile_catalogue DIR OUT.c\n");
        return 2;
    }
    static compiler c; /* too large for some stacks */
    c.out = fopen(argv[2], "wb");
    if (!c.out) {
        perror(argv[2]);
        return EXIT_FAILURE;
    }
    fputs("#include <math.h>\n#include \"rows.h\"\n", c.out);
    for (size_t i = 0; i < sizeof steps / sizeof *steps; ++i) {
        table t = {.dir = argv[1], .name = steps[i].file};
        if (open_table(&c, &t, steps[i].header)) steps[i].compile(&c, &t);
        free(t.text);
    }
    bool bad = ferror(c.out) != 0;
    if (fclose(c.out)) bad = true;
    if (bad) perror(argv[2]);
    if (c.errors) remove(argv[2]);
    return bad || c.errors ? EXIT_FAILURE : EXIT_SUCCESS;
}
