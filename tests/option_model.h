/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_OPTION_MODEL_H
#define DRAWTUBE_TESTS_OPTION_MODEL_H

#include <stdio.h>
#include <unistd.h>

#include "option_parts.h"

/* The cheapest program as a mixed-integer program, for a general-purpose solver. One binary
 * column for each way to place one string (shoes, type, hole, pipe); the strings are tied
 * together by rows: each once, shoe on shoe, bit through drift, and a pressure variable a
 * string that what hangs below pushes up and its pipe holds down. A liner with a tie-back is one
 * column for each pair of pipes; nothing passes up through it. It shares no step with the
 * search: no states, no labels, no order. */

typedef struct column {
    size_t k, top, base;
    dt_string_type type; /* DT_TIEBACK: a liner and the tie-back on it, both pipes chosen */
    double hole_m, drift_m, holds, pressure; /* Pa; INFINITY for a conductor */
    long long cents;
} column;

typedef struct model {
    const parts *p;
    size_t count; /* drilled strings */
    size_t most_tiebacks;
    column *items;
    size_t item_count, capacity;
    double finished[MOST_PART_SITES];
} model;

/** Largest surface pressure a pipe holds in a place, by halving. */
static inline double model_holds(const parts *p, const part_pipe *pipe, const dt_string_load *at)
{
    dt_string_load load = *at;
    dt_screen screen;
    if (!at->pressures_apply)
        return dt_string_screen(p->catalogue, pipe->pipe, pipe->thread, at, &p->trajectory,
                                &p->design, &screen) == DT_OK &&
                       screen.ok
                   ? INFINITY
                   : -1;
    double good = -1, bad = 300e6;
    for (int i = 0; i < 60; ++i) {
        load.surface_pressure_pa = i == 0 ? 0 : (good + bad) / 2;
        if (dt_string_screen(p->catalogue, pipe->pipe, pipe->thread, &load, &p->trajectory,
                             &p->design, &screen) != DT_OK)
            return -1;
        if (screen.ok)
            good = load.surface_pressure_pa;
        else
            bad = load.surface_pressure_pa;
        if (i == 0 && !screen.ok) return -1;
    }
    return good;
}

/** Surface pressure on the string above from one hole; `last` from the finished well. */
static inline double model_pressure(const parts *p, size_t top, size_t base, bool last)
{
    size_t sites[3] = {0, top, base};
    dt_string_type types[3] = {DT_FULL, DT_FULL, DT_FULL};
    dt_seat seats[3];
    part_seats(p, sites, types, 3, seats);
    const dt_seats list = {.items = seats, .count = 3};
    dt_string_load load;
    assert_int_equal(dt_string_load_build(&p->window, &list, &p->trajectory, &p->design, p->lap_m,
                                          last ? 2 : 1, &load),
                     DT_OK);
    return load.surface_pressure_pa;
}

static inline void model_add(model *m, column made)
{
    if (m->item_count == m->capacity) {
        m->capacity = m->capacity ? 2 * m->capacity : 256;
        m->items = realloc(m->items, m->capacity * sizeof *m->items);
        assert_non_null(m->items);
    }
    m->items[m->item_count++] = made;
}

/** What each pipe holds in the place of a seat or of a tie-back. */
static inline bool model_holds_all(const parts *p, const dt_seats *seats, size_t index,
                                   const part_pipe *pipes, size_t count, double *held)
{
    dt_string_load load;
    if (dt_string_load_build(&p->window, seats, &p->trajectory, &p->design, p->lap_m, index,
                             &load) != DT_OK)
        return false;
    for (size_t i = 0; i < count; ++i)
        held[i] = model_holds(p, &pipes[i], &load);
    return true;
}

static inline void model_place(model *m, size_t k, size_t top, size_t base, dt_string_type type)
{
    const parts *p = m->p;
    static part_pipe pipes[4096];
    static double held[4096], tie_held[4096];
    const bool tied = type == DT_TIEBACK;
    size_t pipe_count = part_pipes(p, k == 0, k + 1 == m->count, pipes);
    size_t sites[DT_MOST_STRINGS] = {0};
    dt_string_type types[DT_MOST_STRINGS] = {DT_FULL};
    dt_seat seats[2 * DT_MOST_STRINGS];
    for (size_t i = 0; i < m->count; ++i)
        sites[i] = i < k ? (i + 1 == k ? top : 0) : base;
    types[k] = type;
    /* Only the string and the shoe above it are looked at: everything else is a stand-in. */
    const size_t tiebacks = part_seats(p, sites, types, k + 1, seats);
    const dt_role role = k == 0              ? DT_CONDUCTOR
                         : k + 1 == m->count ? DT_PRODUCTION
                         : k == 1            ? DT_SURFACE
                                             : DT_INTERMEDIATE;
    seats[k].role = role;
    if (tied) seats[k + 1].role = role;
    const dt_seats list = {.items = seats, .count = k + 1, .tieback_count = tiebacks};
    if (!model_holds_all(p, &list, k, pipes, pipe_count, held) ||
        (tied && !model_holds_all(p, &list, k + 1, pipes, pipe_count, tie_held)))
        return;
    double pressure = k > 0 ? model_pressure(p, top, base, false) : 0;
    for (size_t i = 0; i < pipe_count; ++i) {
        double bits[16], drift = dt_nest_drift(p->well, pipes[i].pipe);
        if (held[i] < 0) continue;
        size_t bit_count = part_bits(p, pipes[i].pipe, bits);
        for (size_t b = 0; b < bit_count; ++b) {
            column made = {
                k,       top,      base,
                type,    bits[b],  drift,
                held[i], pressure, part_bill(p, seats, k, m->count, &pipes[i], bits[b]).cents};
            if (!tied) model_add(m, made);
            for (size_t j = 0; tied && j < pipe_count; ++j) {
                column both = made;
                if (tie_held[j] < 0 || !part_same_size(&pipes[i], &pipes[j])) continue;
                both.drift_m = fmin(drift, dt_nest_drift(p->well, pipes[j].pipe));
                both.holds = fmin(held[i], tie_held[j]);
                both.cents += part_tieback(p, p->site[top], &pipes[j]).cents;
                model_add(m, both);
            }
        }
    }
}

static inline void model_build(model *m, const parts *p, size_t count, size_t most_tiebacks)
{
    *m = (model){.p = p, .count = count, .most_tiebacks = most_tiebacks};
    size_t last = p->site_count - 1;
    for (size_t k = 0; k < count; ++k)
        for (size_t top = 0; top <= last; ++top)
            for (size_t base = k == 0 ? 0 : top + 1; base <= last; ++base) {
                if (k == 0 && (top > 0 || base > 0)) continue;
                if (k == 1 && top > 0) continue;
                if (k > 1 && (top == 0 || top == last)) continue;
                if (k > 0 && (k + 1 == count) != (base == last)) continue;
                if (k > 0 && !part_drilled(p, top, base)) continue;
                model_place(m, k, top, base, DT_FULL);
                if (k < 2 || !p->well->seats.liners) continue;
                model_place(m, k, top, base, DT_LINER);
                if (!p->well->wishes.no_tiebacks) model_place(m, k, top, base, DT_TIEBACK);
            }
    for (size_t top = 0; top < last; ++top)
        m->finished[top] = model_pressure(p, top, last, true);
}

/* ---- rows, in CPLEX LP format ---- */

#define MODEL_MPA 1e-6

/** A column is counted in a row when `of` says so. */
static inline size_t model_sum(FILE *f, const model *m, const char *sign,
                               bool (*of)(const column *, const double *), const double *with)
{
    size_t terms = 0;
    for (size_t i = 0; i < m->item_count; ++i)
        if (of(&m->items[i], with)) {
            fprintf(f, " %s x%zu%s", sign, i, ++terms % 8 ? "" : "\n");
        }
    return terms;
}

static inline bool model_of_k(const column *c, const double *with)
{
    return (double)c->k == with[0];
}

static inline bool model_base_at(const column *c, const double *with)
{
    return (double)c->k == with[0] && (double)c->base == with[1];
}

static inline bool model_top_at(const column *c, const double *with)
{
    return (double)c->k == with[0] && (double)c->top == with[1];
}

static inline bool model_narrow(const column *c, const double *with)
{
    return (double)c->k == with[0] && c->drift_m < with[1] - PART_SAME;
}

static inline bool model_needs_bit(const column *c, const double *with)
{
    return (double)c->k == with[0] && fabs(c->hole_m - with[1]) < PART_SAME;
}

static inline bool model_tied(const column *c, const double *with)
{
    return c->type == DT_TIEBACK && (double)c->k >= with[0];
}

static inline void model_pressure_rows(FILE *f, const model *m)
{
    for (size_t k = 1; k < m->count; ++k) {
        /* what string k holds is at least what is asked of it */
        fprintf(f, " hold%zu: p%zu", k, k);
        for (size_t i = 0; i < m->item_count; ++i)
            if (m->items[i].k == k)
                fprintf(f, " - %.12g x%zu\n", fmin(m->items[i].holds, 300e6) * MODEL_MPA, i);
        fprintf(f, " <= 0\n");
        if (k + 1 == m->count) {
            fprintf(f, " done%zu: p%zu", k, k);
            for (size_t i = 0; i < m->item_count; ++i)
                if (m->items[i].k == k)
                    fprintf(f, " - %.12g x%zu\n", m->finished[m->items[i].top] * MODEL_MPA, i);
            fprintf(f, " >= 0\n");
            continue;
        }
        fprintf(f, " gas%zu: p%zu", k, k);
        for (size_t i = 0; i < m->item_count; ++i)
            if (m->items[i].k == k + 1)
                fprintf(f, " - %.12g x%zu\n", m->items[i].pressure * MODEL_MPA, i);
        fprintf(f, " >= 0\n");
        /* under a liner, what is asked of the liner is asked of the string above too */
        fprintf(f, " pass%zu: p%zu - p%zu", k, k, k + 1);
        for (size_t i = 0; i < m->item_count; ++i)
            if (m->items[i].k == k + 1 && m->items[i].type == DT_LINER)
                fprintf(f, " - 300 x%zu\n", i);
        fprintf(f, " >= -300\n");
    }
}

static inline void model_write(const model *m, FILE *f)
{
    fprintf(f, "Minimize\n cost:");
    for (size_t i = 0; i < m->item_count; ++i)
        fprintf(f, " + %lld.%02lld x%zu\n", m->items[i].cents / 100, m->items[i].cents % 100, i);
    fprintf(f, "Subject To\n");
    for (size_t k = 0; k < m->count; ++k) {
        const double with[2] = {(double)k, 0};
        fprintf(f, " once%zu:", k);
        if (model_sum(f, m, "+", model_of_k, with) == 0) fprintf(f, " 0 z");
        fprintf(f, " = 1\n");
    }
    for (size_t k = 0; k + 1 < m->count; ++k) {
        for (size_t s = 0; s < m->p->site_count; ++s) {
            const double base[2] = {(double)k, (double)s}, top[2] = {(double)(k + 1), (double)s};
            fprintf(f, " shoe%zu_%zu: 0 z", k, s);
            model_sum(f, m, "+", model_base_at, base);
            model_sum(f, m, "-", model_top_at, top);
            fprintf(f, " = 0\n");
        }
        for (size_t b = 0; b < m->p->catalogue->bit_count; ++b) {
            double bit = m->p->catalogue->bits[b].diameter_m;
            const double above[2] = {(double)k, bit}, below[2] = {(double)(k + 1), bit};
            fprintf(f, " bit%zu_%zu: 0 z", k, b);
            model_sum(f, m, "+", model_narrow, above);
            model_sum(f, m, "+", model_needs_bit, below);
            fprintf(f, " <= 1\n");
        }
    }
    model_pressure_rows(f, m);
    /* a tie-back is a string more */
    const double all[2] = {0, 0};
    fprintf(f, " ties: 0 z");
    model_sum(f, m, "+", model_tied, all);
    fprintf(f, " <= %zu\n", m->most_tiebacks);
    fprintf(f, "Binary\n");
    for (size_t i = 0; i < m->item_count; ++i)
        fprintf(f, " x%zu\n", i);
    fprintf(f, "End\n");
}

static inline void model_free(model *m)
{
    free(m->items);
    *m = (model){0};
}

static inline bool model_solver_there(void)
{
    return system("glpsol --version >/dev/null 2>&1") == 0;
}

/** Cents of the least cost by GLPK; -1 when it finds no program. Asserts that it finished. */
static inline long long model_solve(const model *m)
{
    char model_file[] = "/tmp/drawtube-model-XXXXXX", result_file[] = "/tmp/drawtube-found-XXXXXX";
    int model_fd = mkstemp(model_file), result_fd = mkstemp(result_file);
    assert_true(model_fd >= 0 && result_fd >= 0);
    FILE *f = fdopen(model_fd, "w");
    assert_non_null(f);
    model_write(m, f);
    assert_int_equal(fclose(f), 0);
    close(result_fd);
    char command[256], line[512];
    snprintf(command, sizeof command, "glpsol --tmlim 120 --lp %s -o %s >/dev/null 2>&1",
             model_file, result_file);
    assert_int_equal(system(command), 0);
    FILE *result = fopen(result_file, "r");
    assert_non_null(result);
    long long cents = -2;
    bool optimal = false, empty = false;
    while (fgets(line, sizeof line, result)) {
        if (strncmp(line, "Status:", 7) == 0) {
            optimal = strstr(line, "INTEGER OPTIMAL") != NULL;
            empty = strstr(line, "EMPTY") || strstr(line, "UNDEFINED");
        }
        if (strncmp(line, "Objective:", 10) == 0 && strchr(line, '='))
            cents = llround(strtod(strchr(line, '=') + 1, NULL) * 100);
    }
    fclose(result);
    unlink(model_file);
    unlink(result_file);
    if (empty) return -1;
    if (!optimal) return -2;
    return cents;
}

#endif
