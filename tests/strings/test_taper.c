/* SPDX-License-Identifier: MIT */
/* The cheapest sequence of pipes, against trying every sequence, and once against an integer
 * program solved by GLPK (Debian libglpk-dev; skipped with a message where it is not there). */
#include "taper.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef DT_HAVE_GLPK
#include <glpk.h>
#endif

#include "chance.h"
#include "check.h"

enum { MOST_NODES = 13, MOST_PIPES = 5 };

/* A problem on a coarse grid, with all its storage. */
typedef struct trial {
    double along[MOST_NODES], rise[MOST_NODES];
    double least[MOST_PIPES][MOST_NODES], most[MOST_PIPES][MOST_NODES];
    dt_taper_pipe pipes[MOST_PIPES];
    dt_taper problem;
} trial;

/* Invented strings: pipes that weigh, cost and carry at random, heavier not always dearer, some
 * with a lower bound on what must hang, some depths that only some pipes hold. */
static void make_trial(trial *t, uint64_t seed)
{
    uint64_t state = seed * 0x9E3779B97F4A7C15u + 1;
    *t = (trial){0};
    const size_t nodes = 4 + (size_t)(chance(&state) * (MOST_NODES - 4));
    const size_t pipes = 2 + (size_t)(chance(&state) * (MOST_PIPES - 1.01));
    const double slope = 0.5 + 0.5 * chance(&state);
    for (size_t n = 1; n < nodes; ++n) {
        const double step = n + 1 == nodes ? 0.2 + 0.8 * chance(&state) : 1;
        t->along[n] = t->along[n - 1] + step;
        t->rise[n] = t->rise[n - 1] + step * slope;
    }
    for (size_t i = 0; i < pipes; ++i) {
        const double weight = 1 + 2 * chance(&state);
        const double strength = (0.4 + 1.2 * chance(&state)) * 2 * t->rise[nodes - 1];
        for (size_t n = 0; n < nodes; ++n) {
            t->most[i][n] = strength * (0.5 + chance(&state));
            t->least[i][n] = chance(&state) < 0.1 ? 0.6 * t->rise[n] * chance(&state) * 2 : -1;
            if (chance(&state) < 0.12) t->most[i][n] = -INFINITY;
        }
        t->pipes[i] = (dt_taper_pipe){0.5 + 2 * chance(&state), weight, t->least[i], t->most[i]};
    }
    t->problem = (dt_taper){nodes,          t->along,
                            t->rise,        t->pipes,
                            pipes,          (double)(int)(3 * chance(&state)),
                            chance(&state), 1 + (size_t)(3.99 * chance(&state)),
                            INFINITY};
}

/* Every sequence: at each node go on in the same pipe or begin a section of any other. */
static void try_all(const dt_taper *p, size_t base, double hanging, double price, size_t used,
                    size_t last, double *best)
{
    const size_t top = p->node_count - 1;
    if (base == top) {
        *best = fmin(*best, price);
        return;
    }
    if (used == p->max_sections) return;
    const double shortest = fmin(p->min_length_m, p->along_m[top]);
    for (size_t i = 0; i < p->pipe_count; ++i) {
        if (i == last) continue;
        const dt_taper_pipe *t = &p->pipes[i];
        for (size_t n = base; n <= top; ++n) {
            const double now = hanging + t->weight_npm * (p->rise_m[n] - p->rise_m[base]);
            if (now > t->most_n[n] || now < t->least_n[n]) break;
            const double length = p->along_m[n] - p->along_m[base];
            if (n == base || length < shortest - 1e-9) continue;
            try_all(p, n, now, price + t->price_per_m * length + (used ? p->crossover_price : 0),
                    used + 1, i, best);
        }
    }
}

/* What the solver hands back is a string that holds and costs what it says. */
static void assert_is_string(const dt_taper *p, const dt_taper_result *r)
{
    double price = 0, hanging = 0;
    size_t node = 0;
    assert_true(r->section_count >= 1 && r->section_count <= p->max_sections);
    for (size_t i = 0; i < r->section_count; ++i) {
        const dt_taper_section *s = &r->sections[i];
        const dt_taper_pipe *t = &p->pipes[s->pipe];
        assert_int_equal(s->base_node, node);
        for (size_t n = s->base_node; n <= s->top_node; ++n) {
            const double now = hanging + t->weight_npm * (p->rise_m[n] - p->rise_m[s->base_node]);
            assert_true(now <= t->most_n[n] + 1e-9 && now >= t->least_n[n] - 1e-9);
        }
        hanging += t->weight_npm * (p->rise_m[s->top_node] - p->rise_m[s->base_node]);
        price += t->price_per_m * (p->along_m[s->top_node] - p->along_m[s->base_node]) +
                 (i ? p->crossover_price : 0);
        node = s->top_node;
    }
    assert_int_equal(node, p->node_count - 1);
    assert_close(r->price, price, 1e-12);
}

static void cheapest_as_by_trying_all(void **state)
{
    (void)state;
    size_t solved = 0, tapered = 0, none = 0;
    for (uint64_t seed = 1; seed <= 1500; ++seed) {
        trial t;
        make_trial(&t, seed);
        double best = INFINITY;
        try_all(&t.problem, 0, 0, 0, 0, MOST_PIPES, &best);
        dt_taper_result got;
        const dt_status status = dt_taper_solve(&t.problem, &got);
        if (isinf(best)) {
            assert_int_equal(status, DT_E_NONE);
            ++none;
            continue;
        }
        if (status != DT_OK) fail_msg("seed %d: %d, best %g", (int)seed, (int)status, best);
        assert_is_string(&t.problem, &got);
        if (!(fabs(got.price - best) <= 1e-9 * best))
            fail_msg("seed %d: %.12g, best %.12g", (int)seed, got.price, best);
        ++solved;
        tapered += got.section_count > 1;
        const dt_taper_result free_of_price = got;
        t.problem.most_price = best * (1 + 1e-9); /* what is asked to cost no more is the same */
        assert_int_equal(dt_taper_solve(&t.problem, &got), DT_OK);
        assert_close(got.price, free_of_price.price, 1e-12);
        t.problem.most_price = best * (1 - 1e-6);
        assert_int_equal(dt_taper_solve(&t.problem, &got), DT_E_NONE);
    }
    assert_true(solved > 300 && tapered > 80 && none > 80); /* else it tests little */
}

/* A fine grid goes through the coarse bound first; boundaries at every node are tried for two
 * sections, and three for the pipes that can be in the middle. */
static void fine_grid_as_by_trying_pairs(void **state)
{
    (void)state;
    enum { NODES = 601 };
    static double along[NODES], bounds[3][2][NODES];
    for (size_t n = 0; n < NODES; ++n) {
        along[n] = (double)n * 0.3048;
        const double depth = along[NODES - 1] - along[n];
        for (int i = 0; i < 3; ++i)
            bounds[i][0][n] = -INFINITY;
        /* light pipe collapses deep, middle pipe carries little, strong pipe holds all */
        bounds[0][1][n] = depth > 113.7 ? -INFINITY : 130;
        bounds[1][1][n] = 171 - 0.1 * depth;
        bounds[2][1][n] = 1e9;
    }
    const dt_taper_pipe pipes[] = {{1.0, 1.0, bounds[0][0], bounds[0][1]},
                                   {1.4, 1.2, bounds[1][0], bounds[1][1]},
                                   {2.2, 1.1, bounds[2][0], bounds[2][1]}};
    for (size_t most = 1; most <= 4; ++most) {
        const dt_taper p = {NODES, along, along, pipes, 3, 25, 7, most, INFINITY};
        dt_taper_result got;
        assert_int_equal(dt_taper_solve(&p, &got), DT_OK);
        assert_is_string(&p, &got);
        double best = pipes[2].price_per_m * along[NODES - 1];
        if (most >= 2) {
            double all = INFINITY;
            dt_taper two = p;
            two.max_sections = most < 3 ? most : 3;
            try_all(&two, 0, 0, 0, 0, 3, &all);
            best = fmin(best, all);
        }
        if (most <= 3) assert_close(got.price, best, 1e-9);
    }
}

static void refuses_what_is_no_problem(void **state)
{
    (void)state;
    trial t;
    make_trial(&t, 3);
    dt_taper_result r = {.section_count = 77};
    dt_taper p = t.problem;
    p.node_count = 1;
    assert_int_equal(dt_taper_solve(&p, &r), DT_E_DOMAIN);
    p = t.problem;
    p.max_sections = 0;
    assert_int_equal(dt_taper_solve(&p, &r), DT_E_DOMAIN);
    p.max_sections = DT_TAPER_MOST_SECTIONS + 1;
    assert_int_equal(dt_taper_solve(&p, &r), DT_E_DOMAIN);
    p = t.problem;
    double *most = malloc(p.node_count * sizeof *most);
    assert_non_null(most);
    memcpy(most, p.pipes[0].most_n, p.node_count * sizeof *most);
    most[p.node_count / 2] = NAN;
    dt_taper_pipe pipes[MOST_PIPES];
    memcpy(pipes, p.pipes, p.pipe_count * sizeof *pipes);
    pipes[0].most_n = most;
    p.pipes = pipes;
    assert_int_equal(dt_taper_solve(&p, &r), DT_E_DOMAIN);
    free(most);
    p = t.problem;
    p.pipe_count = 0;
    assert_int_equal(dt_taper_solve(&p, &r), DT_E_NONE);
    assert_int_equal(r.section_count, 77); /* untouched */
}

#ifdef DT_HAVE_GLPK

/* x[cell][pipe] is 1 where the cell is of the pipe; s[node][pipe] 1 where a section of the pipe
 * begins at a node. Only what hangs below ties the cells together. */
typedef struct program {
    glp_prob *glpk;
    const dt_taper *p;
    int row;
} program;

static int cell_of(const dt_taper *p, size_t cell, size_t pipe)
{
    return 1 + (int)(cell * p->pipe_count + pipe);
}

static int begin_of(const dt_taper *p, size_t node, size_t pipe)
{
    return 1 + (int)((p->node_count - 1 + node) * p->pipe_count + pipe);
}

static void add_row(program *g, int kind, double low, double high, int count, const int *columns,
                    const double *factors)
{
    g->row = glp_add_rows(g->glpk, 1);
    glp_set_row_bnds(g->glpk, g->row, kind, low, high);
    glp_set_mat_row(g->glpk, g->row, count, columns, factors);
}

static void add_columns(program *g)
{
    const dt_taper *p = g->p;
    glp_add_cols(g->glpk, (int)(2 * (p->node_count - 1) * p->pipe_count));
    for (size_t cell = 0; cell + 1 < p->node_count; ++cell)
        for (size_t i = 0; i < p->pipe_count; ++i) {
            const double length = p->along_m[cell + 1] - p->along_m[cell];
            const int x = cell_of(p, cell, i), s = begin_of(p, cell, i);
            glp_set_col_kind(g->glpk, x, GLP_BV);
            glp_set_col_kind(g->glpk, s, GLP_BV);
            glp_set_obj_coef(g->glpk, x, p->pipes[i].price_per_m * length);
            glp_set_obj_coef(g->glpk, s, cell ? p->crossover_price : 0);
        }
}

static void add_sequence(program *g, int *columns, double *factors)
{
    const dt_taper *p = g->p;
    int all = 0;
    for (size_t cell = 0; cell + 1 < p->node_count; ++cell) {
        int count = 0;
        for (size_t i = 0; i < p->pipe_count; ++i) {
            columns[++count] = cell_of(p, cell, i);
            factors[count] = 1;
        }
        add_row(g, GLP_FX, 1, 1, count, columns, factors);
        for (size_t i = 0; i < p->pipe_count; ++i) { /* s >= x[cell] - x[cell - 1] */
            count = 2;
            columns[1] = begin_of(p, cell, i);
            factors[1] = 1;
            columns[2] = cell_of(p, cell, i);
            factors[2] = -1;
            if (cell) {
                columns[++count] = cell_of(p, cell - 1, i);
                factors[count] = 1;
            }
            add_row(g, GLP_LO, 0, 0, count, columns, factors);
            /* a section begun goes on for the shortest length */
            for (size_t k = cell; k + 1 < p->node_count; ++k) {
                if (k > cell && p->along_m[k] - p->along_m[cell] >= p->min_length_m - 1e-9) break;
                columns[1] = cell_of(p, k, i);
                factors[1] = 1;
                columns[2] = begin_of(p, cell, i);
                factors[2] = -1;
                add_row(g, GLP_LO, 0, 0, 2, columns, factors);
            }
            /* too near the top to begin at all */
            if (cell && p->along_m[p->node_count - 1] - p->along_m[cell] < p->min_length_m - 1e-9)
                glp_set_col_bnds(g->glpk, begin_of(p, cell, i), GLP_FX, 0, 0);
        }
    }
    for (size_t node = 0; node + 1 < p->node_count; ++node)
        for (size_t i = 0; i < p->pipe_count; ++i) {
            columns[++all] = begin_of(p, node, i);
            factors[all] = 1;
        }
    add_row(g, GLP_UP, 0, (double)p->max_sections, all, columns, factors);
}

/* Both ends of a cell: what hangs at the node, and room where the cell is of another pipe. */
static void add_loads(program *g, int *columns, double *factors)
{
    const dt_taper *p = g->p;
    const double huge = 1e3;
    for (size_t cell = 0; cell + 1 < p->node_count; ++cell)
        for (size_t i = 0; i < p->pipe_count; ++i)
            for (size_t node = cell; node <= cell + 1; ++node) {
                const dt_taper_pipe *t = &p->pipes[i];
                if (t->most_n[node] < t->least_n[node]) {
                    glp_set_col_bnds(g->glpk, cell_of(p, cell, i), GLP_FX, 0, 0);
                    continue;
                }
                int count = 0, own = 0;
                for (size_t c = 0; c < node; ++c)
                    for (size_t k = 0; k < p->pipe_count; ++k) {
                        columns[++count] = cell_of(p, c, k);
                        factors[count] = p->pipes[k].weight_npm * (p->rise_m[c + 1] - p->rise_m[c]);
                        if (columns[count] == cell_of(p, cell, i)) own = count;
                    }
                if (!own) {
                    columns[++count] = cell_of(p, cell, i);
                    factors[count] = 0;
                    own = count;
                }
                const double weight = factors[own];
                factors[own] = weight + huge;
                add_row(g, GLP_UP, 0, t->most_n[node] + huge, count, columns, factors);
                factors[own] = weight - huge;
                add_row(g, GLP_LO, t->least_n[node] - huge, 0, count, columns, factors);
            }
}

static double by_glpk(const dt_taper *p)
{
    int *columns = calloc(2 * MOST_NODES * MOST_PIPES + 2, sizeof *columns);
    double *factors = calloc(2 * MOST_NODES * MOST_PIPES + 2, sizeof *factors);
    assert_true(columns && factors);
    glp_term_out(GLP_OFF);
    program g = {glp_create_prob(), p, 0};
    glp_set_obj_dir(g.glpk, GLP_MIN);
    add_columns(&g);
    add_sequence(&g, columns, factors);
    add_loads(&g, columns, factors);
    glp_iocp control;
    glp_init_iocp(&control);
    control.presolve = GLP_ON;
    double best = INFINITY;
    if (glp_intopt(g.glpk, &control) == 0 && glp_mip_status(g.glpk) == GLP_OPT)
        best = glp_mip_obj_val(g.glpk);
    glp_delete_prob(g.glpk);
    free(columns);
    free(factors);
    return best;
}

static void cheapest_as_an_integer_program(void **state)
{
    (void)state;
    size_t solved = 0;
    for (uint64_t seed = 1; seed <= 60; ++seed) {
        trial t;
        make_trial(&t, seed);
        if (t.problem.min_length_m > t.along[t.problem.node_count - 1]) continue;
        const double best = by_glpk(&t.problem);
        dt_taper_result got;
        const dt_status status = dt_taper_solve(&t.problem, &got);
        assert_int_equal(status, isinf(best) ? DT_E_NONE : DT_OK);
        if (status != DT_OK) continue;
        assert_close(got.price, best, 1e-6);
        ++solved;
    }
    assert_true(solved > 10);
    glp_free_env();
}

#else

static void cheapest_as_an_integer_program(void **state)
{
    (void)state;
    print_message("skipped: GLPK is not installed (Debian: libglpk-dev)\n");
    skip();
}

#endif

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cheapest_as_by_trying_all),
        cmocka_unit_test(fine_grid_as_by_trying_pairs),
        cmocka_unit_test(refuses_what_is_no_problem),
        cmocka_unit_test(cheapest_as_an_integer_program),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
