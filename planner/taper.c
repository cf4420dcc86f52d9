/* SPDX-License-Identifier: MIT */
#include "drawtube/taper.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/*
 * Sweep from the shoe up. A label is a price and a weight hanging at a node, with so many
 * sections used. Inside a section of one pipe both grow in a known way, so what is kept of an
 * unfinished section is what it started from: price - price_per_m * along, weight - weight_npm *
 * rise. Two unfinished sections of one pipe then compare once and for all, and only those that
 * no other beats in both are kept.
 */

typedef struct label {
    double price, hanging_n;
    size_t pipe, node, source; /* source: label the section stands on */
} label;

/** An unfinished section, already long enough to end. */
typedef struct run {
    double price, hanging_n; /* less what the pipe adds from the shoe to the node */
    size_t source;
} run;

typedef struct runs {
    run *list;
    size_t count, capacity;
} runs;

typedef struct span {
    size_t first, count;
} span;

typedef struct sweep {
    const dt_taper *problem;
    double min_length_m, least_price_per_m, bound;
    size_t levels;
    label *labels;
    size_t label_count, label_capacity;
    span *fronts;                       /* [level][node] of labels */
    runs *running;                      /* [level][pipe] */
    double *most, *least;               /* [pipe][node]: bounds on run.hanging_n */
    double *window_most, *window_least; /* the same, over the shortest section that ends here */
    size_t *start;  /* [node]: last node a section that ends here may start from, + 1 */
    double *need_n; /* [node]: no label with this weight can hang too little further up */
} sweep;

static double top_m(const dt_taper *p)
{
    return p->along_m[p->node_count - 1];
}

/** Does a (and whatever is built on it) do for all that b does, at no higher price? */
static bool beats(double a_price, double a_hanging, double b_price, double b_hanging, bool enough)
{
    return a_price <= b_price && a_hanging <= b_hanging && (enough || a_hanging >= b_hanging);
}

static bool grow(void **list, size_t *capacity, size_t count, size_t size)
{
    if (count < *capacity) return true;
    size_t more = *capacity ? 2 * *capacity : 8;
    void *bigger = realloc(*list, more * size);
    if (!bigger) return false;
    *list = bigger;
    *capacity = more;
    return true;
}

/* ---- tables ---- */

/** Bounds on the weight a section of each pipe starts from, one a node. */
static void fill_bounds(sweep *s)
{
    const dt_taper *p = s->problem;
    for (size_t i = 0; i < p->pipe_count; ++i) {
        const dt_taper_pipe *pipe = &p->pipes[i];
        double *most = s->most + i * p->node_count, *least = s->least + i * p->node_count;
        for (size_t n = 0; n < p->node_count; ++n) {
            most[n] = pipe->most_n[n] - pipe->weight_npm * p->rise_m[n];
            least[n] = pipe->least_n[n] - pipe->weight_npm * p->rise_m[n];
        }
    }
}

static void fill_starts(sweep *s)
{
    const dt_taper *p = s->problem;
    size_t start = 0;
    for (size_t n = 0; n < p->node_count; ++n) {
        while (start < n && p->along_m[n] - p->along_m[start] >= s->min_length_m - 1e-9)
            ++start;
        s->start[n] = start;
    }
}

/** Sliding extremes over [start - 1, node]; queue holds candidates, best first. */
static void slide(const sweep *s, const double *bound, double sign, size_t *queue, double *out)
{
    size_t head = 0, tail = 0;
    for (size_t n = 0; n < s->problem->node_count; ++n) {
        while (tail > head && sign * bound[queue[tail - 1]] >= sign * bound[n])
            --tail;
        queue[tail++] = n;
        const size_t from = s->start[n] ? s->start[n] - 1 : 0;
        while (queue[head] < from)
            ++head;
        out[n] = bound[queue[head]];
    }
}

static bool fill_windows(sweep *s)
{
    const size_t nodes = s->problem->node_count;
    size_t *queue = malloc(nodes * sizeof *queue);
    if (!queue) return false;
    for (size_t i = 0; i < s->problem->pipe_count; ++i) {
        slide(s, s->most + i * nodes, 1, queue, s->window_most + i * nodes);
        slide(s, s->least + i * nodes, -1, queue, s->window_least + i * nodes);
    }
    free(queue);
    return true;
}

/** A weight hanging of at least need_n[node] meets every lower bound further up, whatever the
 * pipes: they weigh at least as much as the lightest. */
static void fill_needs(sweep *s)
{
    const dt_taper *p = s->problem;
    double lightest = INFINITY, need = -INFINITY;
    for (size_t i = 0; i < p->pipe_count; ++i)
        lightest = fmin(lightest, p->pipes[i].weight_npm);
    for (size_t n = p->node_count; n-- > 0;) {
        if (n + 1 < p->node_count) need -= lightest * (p->rise_m[n + 1] - p->rise_m[n]);
        for (size_t i = 0; i < p->pipe_count; ++i)
            if (p->pipes[i].least_n[n] <= p->pipes[i].most_n[n])
                need = fmax(need, p->pipes[i].least_n[n]);
        s->need_n[n] = need;
    }
}

/** The cheapest string of one pipe bounds all others. */
static void bound_by_one_pipe(sweep *s)
{
    const dt_taper *p = s->problem;
    s->bound = s->least_price_per_m = INFINITY;
    for (size_t i = 0; i < p->pipe_count; ++i) {
        s->least_price_per_m = fmin(s->least_price_per_m, p->pipes[i].price_per_m);
        if (p->pipes[i].price_per_m * top_m(p) >= s->bound) continue;
        size_t n = 0;
        while (n < p->node_count && s->most[i * p->node_count + n] >= 0 &&
               s->least[i * p->node_count + n] <= 0)
            ++n;
        if (n == p->node_count) s->bound = p->pipes[i].price_per_m * top_m(p);
    }
}

/* ---- sweep ---- */

/** Adds an unfinished section, unless one at hand is as good; drops those it beats. */
static bool add_run(const sweep *s, runs *list, run added, size_t pipe, size_t node)
{
    const dt_taper *p = s->problem;
    const double grown_n = p->pipes[pipe].weight_npm * p->rise_m[node];
    size_t kept = 0;
    for (size_t i = 0; i < list->count; ++i) {
        const run r = list->list[i];
        if (beats(r.price, r.hanging_n, added.price, added.hanging_n,
                  r.hanging_n + grown_n >= s->need_n[node]))
            return true; /* nothing was dropped before: what `added` beats, r would have beaten */
    }
    const bool enough = added.hanging_n + grown_n >= s->need_n[node];
    for (size_t i = 0; i < list->count; ++i) {
        const run r = list->list[i];
        if (!beats(added.price, added.hanging_n, r.price, r.hanging_n, enough))
            list->list[kept++] = r;
    }
    list->count = kept;
    if (!grow((void **)&list->list, &list->capacity, list->count, sizeof *list->list)) return false;
    list->list[list->count++] = added;
    return true;
}

/** The window of a node starts at its last source; an earlier one has more nodes to hold. */
static bool holds_between(const sweep *s, size_t pipe, double hanging_n, size_t from, size_t to)
{
    const size_t first = pipe * s->problem->node_count;
    for (size_t n = from; n < to; ++n)
        if (hanging_n > s->most[first + n] || hanging_n < s->least[first + n]) return false;
    return true;
}

/** Sections that become long enough at this node, on the labels they start from. */
static bool start_runs(sweep *s, size_t level, size_t pipe, size_t node)
{
    const dt_taper *p = s->problem;
    const dt_taper_pipe *t = &p->pipes[pipe];
    const size_t from = node ? s->start[node - 1] : 0, to = s->start[node];
    runs *list = &s->running[level * p->pipe_count + pipe];
    const double most = s->window_most[pipe * p->node_count + node];
    const double least = s->window_least[pipe * p->node_count + node];
    for (size_t n = from; n < to; ++n) {
        const span front = s->fronts[(level - 1) * p->node_count + n];
        for (size_t i = front.first; i < front.first + front.count; ++i) {
            const label *l = &s->labels[i];
            if (level > 1 && l->pipe == pipe) continue;
            const run added = {l->price + (level > 1 ? p->crossover_price : 0) -
                                   t->price_per_m * p->along_m[n],
                               l->hanging_n - t->weight_npm * p->rise_m[n], i};
            if (added.hanging_n > most || added.hanging_n < least) continue;
            if (!holds_between(s, pipe, added.hanging_n, n, to - 1)) continue;
            const double reached = added.price + t->price_per_m * p->along_m[node];
            if (reached + s->least_price_per_m * (top_m(p) - p->along_m[node]) > s->bound) continue;
            if (!add_run(s, list, added, pipe, node)) return false;
        }
    }
    return true;
}

static void drop_overloaded(sweep *s, size_t level, size_t pipe, size_t node)
{
    const dt_taper *p = s->problem;
    runs *list = &s->running[level * p->pipe_count + pipe];
    const double most = s->most[pipe * p->node_count + node];
    const double least = s->least[pipe * p->node_count + node];
    size_t kept = 0;
    for (size_t i = 0; i < list->count; ++i)
        if (list->list[i].hanging_n <= most && list->list[i].hanging_n >= least)
            list->list[kept++] = list->list[i];
    list->count = kept;
}

/** Adds a label to the front that ends the pool, under the same rule as add_run(). */
static bool add_label(sweep *s, span *front, label added, size_t node)
{
    size_t kept = front->first;
    for (size_t i = front->first; i < front->first + front->count; ++i) {
        const label l = s->labels[i];
        if (beats(l.price, l.hanging_n, added.price, added.hanging_n,
                  l.hanging_n >= s->need_n[node]))
            return true;
    }
    const bool enough = added.hanging_n >= s->need_n[node];
    for (size_t i = front->first; i < front->first + front->count; ++i) {
        const label l = s->labels[i];
        if (!beats(added.price, added.hanging_n, l.price, l.hanging_n, enough))
            s->labels[kept++] = l;
    }
    s->label_count = kept;
    if (!grow((void **)&s->labels, &s->label_capacity, kept, sizeof *s->labels)) return false;
    s->labels[s->label_count++] = added;
    front->count = s->label_count - front->first;
    return true;
}

/** Labels at a node where sections end. */
static bool end_runs(sweep *s, size_t level, size_t node)
{
    const dt_taper *p = s->problem;
    span *front = &s->fronts[level * p->node_count + node];
    front->first = s->label_count;
    for (size_t pipe = 0; pipe < p->pipe_count; ++pipe) {
        const runs *list = &s->running[level * p->pipe_count + pipe];
        const dt_taper_pipe *t = &p->pipes[pipe];
        for (size_t i = 0; i < list->count; ++i) {
            const run *r = &list->list[i];
            const label added = {r->price + t->price_per_m * p->along_m[node],
                                 r->hanging_n + t->weight_npm * p->rise_m[node], pipe, node,
                                 r->source};
            if (!add_label(s, front, added, node)) return false;
        }
    }
    return true;
}

static bool sweep_up(sweep *s)
{
    const dt_taper *p = s->problem;
    if (!grow((void **)&s->labels, &s->label_capacity, 0, sizeof *s->labels)) return false;
    s->labels[s->label_count++] = (label){0, 0, p->pipe_count, 0, 0};
    s->fronts[0] = (span){0, 1}; /* the shoe, with nothing on it */
    for (size_t node = 1; node < p->node_count; ++node) {
        const bool top = node + 1 == p->node_count;
        const bool room_above = top_m(p) - p->along_m[node] >= s->min_length_m - 1e-9;
        for (size_t level = 1; level <= s->levels; ++level) {
            for (size_t pipe = 0; pipe < p->pipe_count; ++pipe) {
                if (s->running[level * p->pipe_count + pipe].count)
                    drop_overloaded(s, level, pipe, node);
                if (!start_runs(s, level, pipe, node)) return false;
            }
            if (!(top || (room_above && level < s->levels))) continue;
            if (!end_runs(s, level, node)) return false;
        }
    }
    return true;
}

/* ---- result ---- */

static dt_status read_back(const sweep *s, dt_taper_result *out)
{
    const dt_taper *p = s->problem;
    const label *best = NULL;
    for (size_t level = 1; level <= s->levels; ++level) {
        const span front = s->fronts[level * p->node_count + p->node_count - 1];
        for (size_t i = front.first; i < front.first + front.count; ++i)
            if (!best || s->labels[i].price < best->price) best = &s->labels[i];
    }
    if (!best) return DT_E_NONE;
    dt_taper_result result = {.price = best->price};
    for (const label *at = best; at->pipe < p->pipe_count; at = &s->labels[at->source])
        result.sections[result.section_count++] =
            (dt_taper_section){at->pipe, s->labels[at->source].node, at->node};
    for (size_t i = 0; i < result.section_count / 2; ++i) { /* shoe first */
        dt_taper_section *a = &result.sections[i];
        dt_taper_section *b = &result.sections[result.section_count - 1 - i];
        const dt_taper_section kept = *a;
        *a = *b;
        *b = kept;
    }
    *out = result;
    return DT_OK;
}

static bool allocate(sweep *s)
{
    const size_t nodes = s->problem->node_count, pipes = s->problem->pipe_count;
    s->fronts = calloc((s->levels + 1) * nodes, sizeof *s->fronts);
    s->running = calloc((s->levels + 1) * pipes, sizeof *s->running);
    s->most = malloc(4 * pipes * nodes * sizeof *s->most);
    s->start = malloc(nodes * sizeof *s->start);
    s->need_n = malloc(nodes * sizeof *s->need_n);
    if (!s->fronts || !s->running || !s->most || !s->start || !s->need_n) return false;
    s->least = s->most + pipes * nodes;
    s->window_most = s->least + pipes * nodes;
    s->window_least = s->window_most + pipes * nodes;
    return true;
}

static void release(sweep *s)
{
    for (size_t i = 0; s->running && i < (s->levels + 1) * s->problem->pipe_count; ++i)
        free(s->running[i].list);
    free(s->labels);
    free(s->fronts);
    free(s->running);
    free(s->most);
    free(s->start);
    free(s->need_n);
}

dt_status dt_taper_solve(const dt_taper *problem, dt_taper_result *out)
{
    if (problem->node_count < 2 || problem->max_sections < 1) return DT_E_DOMAIN;
    if (problem->max_sections > DT_TAPER_MOST_SECTIONS) return DT_E_DOMAIN;
    if (problem->pipe_count == 0) return DT_E_NONE;
    sweep s = {.problem = problem, .levels = problem->max_sections};
    s.min_length_m = fmin(fmax(problem->min_length_m, 0), top_m(problem));
    dt_status status = allocate(&s) ? DT_OK : DT_E_MEMORY;
    if (status == DT_OK) {
        fill_bounds(&s);
        fill_starts(&s);
        fill_needs(&s);
        bound_by_one_pipe(&s);
        if (!fill_windows(&s) || !sweep_up(&s)) status = DT_E_MEMORY;
    }
    if (status == DT_OK) status = read_back(&s, out);
    release(&s);
    return status;
}
