/* SPDX-License-Identifier: MIT */
#include "taper.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "same.h"

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

/** Starts in a part of the sweep's own storage; owned says that it has outgrown it. */
typedef struct runs {
    run *list;
    size_t count, capacity;
    bool owned;
} runs;

enum { FEW_RUNS = 8 };

typedef struct span {
    size_t first, count;
} span;

typedef struct barrier {
    size_t node;
    double hanging_n;
} barrier;

/** Bounds on what a section of one pipe starts from, over a window that slides up: those that may
 * yet bind hardest, hardest first. */
typedef struct window {
    barrier *ring;
    size_t head, count, next; /* next: node not looked at yet */
} window;

typedef struct sweep {
    const dt_taper *problem;
    const bool *held; /* [pipe]: least_n counts; otherwise only where nothing can hang */
    double min_length_m, dearest;
    double tie;            /* prices nearer than this are one */
    double *rest;          /* [node]: no string is finished from here for less */
    size_t *running_count; /* [level]: unfinished sections of all pipes */
    size_t levels;
    label *labels;
    size_t label_count, label_capacity;
    span *fronts;    /* [level][node] of labels */
    runs *running;   /* [level][pipe] */
    run *store;      /* FEW_RUNS for each of them */
    window *windows; /* [pipe][most, least]: over the shortest section that ends at a node */
    barrier *rings;
    size_t ring_size; /* a power of two */
    size_t *start;    /* [node]: last node a section that ends here may start from, + 1 */
    double *need_n;   /* [node]: no label with this weight can hang too little further up */
} sweep;

static double top_m(const dt_taper *p)
{
    return p->along_m[p->node_count - 1];
}

/** Most that may hang below a node: nothing does where that is less than the least. */
static double most_n(const sweep *s, size_t pipe, size_t node)
{
    const dt_taper_pipe *t = &s->problem->pipes[pipe];
    return t->least_n[node] <= t->most_n[node] ? t->most_n[node] : -INFINITY;
}

/** Least that may hang below a node, as far as this sweep asks. */
static double least_n(const sweep *s, size_t pipe, size_t node)
{
    return s->held[pipe] ? s->problem->pipes[pipe].least_n[node] : -INFINITY;
}

/** What a section of the pipe adds from the shoe to a node. */
static double grown_n(const sweep *s, size_t pipe, size_t node)
{
    return s->problem->pipes[pipe].weight_npm * s->problem->rise_m[node];
}

/**
 * Does a (and whatever is built on it) do for all that b does, at no higher price? What was there
 * first is given a tie, in price and in weight, so that no last digit decides; what comes later is
 * not, so that ties do not add up. Bounds on the weight have room for a tie (string_design.c).
 */
static bool beats(double a_price, double a_hanging, double b_price, double b_hanging, bool enough)
{
    return a_price <= b_price && a_hanging <= b_hanging && (enough || a_hanging >= b_hanging);
}

static bool stays_before(const sweep *s, double a_price, double a_hanging, double b_price,
                         double b_hanging, bool enough)
{
    return a_price <= b_price + s->tie && a_hanging <= b_hanging + TIE_HANGING_N &&
           (enough || a_hanging >= b_hanging - TIE_HANGING_N);
}

static bool grow(void **list, size_t *capacity, size_t count, size_t size)
{
    if (count < *capacity) return true;
    size_t more = *capacity ? 2 * *capacity : 1024;
    void *bigger = realloc(*list, more * size);
    if (!bigger) return false;
    *list = bigger;
    *capacity = more;
    return true;
}

/* ---- tables ---- */

static double least_price(const dt_taper *p)
{
    double least = INFINITY;
    for (size_t i = 0; i < p->pipe_count; ++i)
        least = fmin(least, p->pipes[i].price_per_m);
    return least;
}

static void fill_starts(sweep *s)
{
    const dt_taper *p = s->problem;
    size_t start = 0;
    for (size_t n = 0; n < p->node_count; ++n) {
        while (start < n && p->along_m[n] - p->along_m[start] >= s->min_length_m - SAME_DEPTH_M)
            ++start;
        s->start[n] = start;
    }
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
                need = fmax(need, least_n(s, i, n));
        s->need_n[n] = need;
    }
}

/** Could the pipe stand between two nodes under the least that can hang there? */
static bool stands(const dt_taper *p, size_t pipe, size_t node, double lightest_npm)
{
    const dt_taper_pipe *t = &p->pipes[pipe];
    for (size_t n = node; n <= node + 1; ++n)
        if (t->most_n[n] < lightest_npm * p->rise_m[n] * (1 - SAME_SUM) ||
            t->most_n[n] < t->least_n[n])
            return false;
    return true;
}

/** Least price of what is above each node: every stretch in the cheapest pipe that could stand in
 * it. False when some stretch has none. */
static bool fill_rest(const dt_taper *p, double *rest)
{
    double lightest = INFINITY;
    for (size_t i = 0; i < p->pipe_count; ++i)
        lightest = fmin(lightest, p->pipes[i].weight_npm);
    rest[p->node_count - 1] = 0;
    for (size_t n = p->node_count - 1; n-- > 0;) {
        double least = INFINITY;
        for (size_t i = 0; i < p->pipe_count; ++i)
            if (p->pipes[i].price_per_m < least && stands(p, i, n, lightest))
                least = p->pipes[i].price_per_m;
        if (isinf(least)) return false;
        rest[n] = rest[n + 1] + least * (p->along_m[n + 1] - p->along_m[n]);
    }
    return true;
}

/** Price of the cheapest string of one pipe, INFINITY when none holds: it bounds all others. */
static double price_of_one_pipe(const dt_taper *p)
{
    double best = INFINITY;
    for (size_t i = 0; i < p->pipe_count; ++i) {
        const dt_taper_pipe *t = &p->pipes[i];
        if (t->price_per_m * top_m(p) >= best) continue;
        size_t n = 0;
        while (n < p->node_count && t->most_n[n] >= t->weight_npm * p->rise_m[n] &&
               t->least_n[n] <= t->weight_npm * p->rise_m[n])
            ++n;
        if (n == p->node_count) best = t->price_per_m * top_m(p);
    }
    return best;
}

/* ---- sweep ---- */

static bool make_room(runs *list)
{
    if (list->count < list->capacity) return true;
    run *bigger = list->owned ? realloc(list->list, 2 * list->capacity * sizeof *bigger)
                              : malloc(2 * list->capacity * sizeof *bigger);
    if (!bigger) return false;
    for (size_t i = 0; !list->owned && i < list->count; ++i)
        bigger[i] = list->list[i];
    list->list = bigger;
    list->capacity *= 2;
    list->owned = true;
    return true;
}

/** Adds an unfinished section, unless one at hand is as good; drops those it beats. */
static bool add_run(const sweep *s, runs *list, run added, size_t pipe, size_t node)
{
    const double more_n = grown_n(s, pipe, node);
    size_t kept = 0;
    for (size_t i = 0; i < list->count; ++i) {
        const run r = list->list[i];
        if (stays_before(s, r.price, r.hanging_n, added.price, added.hanging_n,
                         r.hanging_n + more_n >= s->need_n[node]))
            return true;
    }
    const bool enough = added.hanging_n + more_n >= s->need_n[node];
    for (size_t i = 0; i < list->count; ++i) {
        const run r = list->list[i];
        if (!beats(added.price, added.hanging_n, r.price, r.hanging_n, enough))
            list->list[kept++] = r;
    }
    list->count = kept;
    if (!make_room(list)) return false;
    list->list[list->count++] = added;
    return true;
}

/** Moves a window up to a node where sections may end: the bound that binds hardest in it. */
static double hardest(sweep *s, size_t pipe, bool most, size_t node)
{
    window *w = &s->windows[2 * pipe + (most ? 0 : 1)];
    const size_t mask = s->ring_size - 1, from = s->start[node] - 1;
    const double sign = most ? 1 : -1;
    while (w->count && w->ring[w->head & mask].node < from) {
        ++w->head;
        --w->count;
    }
    for (size_t n = w->next > from ? w->next : from; n <= node; ++n) {
        const double here_n =
            (most ? most_n(s, pipe, n) : least_n(s, pipe, n)) - grown_n(s, pipe, n);
        while (w->count &&
               sign * w->ring[(w->head + w->count - 1) & mask].hanging_n >= sign * here_n)
            --w->count;
        w->ring[(w->head + w->count++) & mask] = (barrier){n, here_n};
    }
    w->next = node + 1;
    return w->ring[w->head & mask].hanging_n;
}

/** Does what a section starts from hold at some nodes? */
static bool holds_between(const sweep *s, size_t pipe, double started_n, size_t from, size_t to)
{
    for (size_t n = from; n < to; ++n)
        if (started_n > most_n(s, pipe, n) - grown_n(s, pipe, n) ||
            started_n < least_n(s, pipe, n) - grown_n(s, pipe, n))
            return false;
    return true;
}

/** The window of a node starts at its last source; an earlier one has more nodes to hold. */
static bool holds_so_far(sweep *s, size_t pipe, double started_n, size_t from, size_t node)
{
    return started_n <= hardest(s, pipe, true, node) &&
           (!s->held[pipe] || started_n >= hardest(s, pipe, false, node)) &&
           holds_between(s, pipe, started_n, from, s->start[node] - 1);
}

/** Sections that become long enough at this node, on the labels they start from. */
static bool start_runs(sweep *s, size_t level, size_t pipe, size_t node)
{
    const dt_taper *p = s->problem;
    const dt_taper_pipe *t = &p->pipes[pipe];
    const size_t from = s->start[node - 1], to = s->start[node];
    const double crossover = level > 1 ? p->crossover_price : 0;
    /* what a section may cost at its start at most; most are too dear, so this is asked first */
    const double dearest = s->dearest - s->rest[node] - t->price_per_m * p->along_m[node];
    runs *list = &s->running[level * p->pipe_count + pipe];
    for (size_t n = from; n < to; ++n) {
        const span front = s->fronts[(level - 1) * p->node_count + n];
        const double less = t->price_per_m * p->along_m[n] - crossover;
        for (size_t i = front.first; i < front.first + front.count; ++i) {
            const label *l = &s->labels[i];
            if (l->price - less > dearest || (level > 1 && l->pipe == pipe)) continue;
            const run added = {l->price - less, l->hanging_n - t->weight_npm * p->rise_m[n], i};
            if (!holds_so_far(s, pipe, added.hanging_n, n, node)) continue;
            if (!add_run(s, list, added, pipe, node)) return false;
        }
    }
    return true;
}

/** Drops what the node does not hold, and what has become too dear. */
static void drop_runs(sweep *s, size_t level, size_t pipe, size_t node)
{
    const dt_taper *p = s->problem;
    const double dearest =
        s->dearest - s->rest[node] - p->pipes[pipe].price_per_m * p->along_m[node];
    runs *list = &s->running[level * p->pipe_count + pipe];
    const double most = most_n(s, pipe, node) - grown_n(s, pipe, node);
    const double least = least_n(s, pipe, node) - grown_n(s, pipe, node);
    size_t kept = 0;
    for (size_t i = 0; i < list->count; ++i)
        if (list->list[i].hanging_n <= most && list->list[i].hanging_n >= least &&
            list->list[i].price <= dearest)
            list->list[kept++] = list->list[i];
    list->count = kept;
}

/** Adds a label to the front that ends the pool, under the same rule as add_run(). */
static bool add_label(sweep *s, span *front, label added, size_t node)
{
    size_t kept = front->first;
    for (size_t i = front->first; i < front->first + front->count; ++i) {
        const label l = s->labels[i];
        if (stays_before(s, l.price, l.hanging_n, added.price, added.hanging_n,
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

/** Is there a label that a section ending at this node may start from? */
static bool may_start(const sweep *s, size_t level, size_t node)
{
    for (size_t n = s->start[node - 1]; n < s->start[node]; ++n)
        if (s->fronts[(level - 1) * s->problem->node_count + n].count) return true;
    return false;
}

/** One level at one node: unfinished sections go on, new ones join. */
static bool go_on(sweep *s, size_t level, size_t node)
{
    const dt_taper *p = s->problem;
    const bool starts = may_start(s, level, node);
    if (!starts && s->running_count[level] == 0) return true;
    size_t count = 0;
    for (size_t pipe = 0; pipe < p->pipe_count; ++pipe) {
        const runs *list = &s->running[level * p->pipe_count + pipe];
        if (list->count) drop_runs(s, level, pipe, node);
        if (starts && !start_runs(s, level, pipe, node)) return false;
        count += list->count;
    }
    s->running_count[level] = count;
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
        const bool room_above = top_m(p) - p->along_m[node] >= s->min_length_m - SAME_DEPTH_M;
        for (size_t level = 1; level <= s->levels; ++level) {
            if (!go_on(s, level, node)) return false;
            if (s->running_count[level] == 0 || !(top || (room_above && level < s->levels)))
                continue;
            if (!end_runs(s, level, node)) return false;
        }
    }
    return true;
}

/* ---- result ---- */

static size_t sections_of(const sweep *s, const label *at)
{
    size_t count = 0;
    for (; at->pipe < s->problem->pipe_count; at = &s->labels[at->source])
        ++count;
    return count;
}

/** The cheaper; of a tie the one with fewer sections, which comes first, then the lighter. */
static bool is_better(const sweep *s, const label *a, const label *than)
{
    const double cheaper = than->price - a->price;
    if (fabs(cheaper) > s->tie) return cheaper > 0;
    return sections_of(s, a) == sections_of(s, than) &&
           dt_less_by(a->hanging_n, than->hanging_n, TIE_HANGING_N);
}

static dt_status read_back(const sweep *s, dt_taper_result *out)
{
    const dt_taper *p = s->problem;
    const label *best = NULL;
    for (size_t level = 1; level <= s->levels; ++level) {
        const span front = s->fronts[level * p->node_count + p->node_count - 1];
        for (size_t i = front.first; i < front.first + front.count; ++i)
            if (!best || is_better(s, &s->labels[i], best)) best = &s->labels[i];
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

/** A ring for each bound of each pipe, as long as the longest window. */
static bool make_windows(sweep *s)
{
    size_t longest = 1;
    for (size_t n = 0; n < s->problem->node_count; ++n)
        if (s->start[n] && n + 2 - s->start[n] > longest) longest = n + 2 - s->start[n];
    s->ring_size = 1;
    while (s->ring_size < longest)
        s->ring_size *= 2;
    const size_t count = 2 * s->problem->pipe_count;
    s->windows = calloc(count, sizeof *s->windows);
    s->rings = malloc(count * s->ring_size * sizeof *s->rings);
    if (!s->windows || !s->rings) return false;
    for (size_t i = 0; i < count; ++i)
        s->windows[i].ring = s->rings + i * s->ring_size;
    return true;
}

static bool allocate(sweep *s)
{
    const size_t nodes = s->problem->node_count, pipes = s->problem->pipe_count;
    s->fronts = calloc((s->levels + 1) * nodes, sizeof *s->fronts);
    s->running = calloc((s->levels + 1) * pipes, sizeof *s->running);
    s->running_count = calloc(s->levels + 1, sizeof *s->running_count);
    s->store = malloc((s->levels + 1) * pipes * FEW_RUNS * sizeof *s->store);
    s->start = malloc(nodes * sizeof *s->start);
    s->need_n = malloc(nodes * sizeof *s->need_n);
    if (!s->fronts || !s->running || !s->running_count || !s->store || !s->start || !s->need_n)
        return false;
    for (size_t i = 0; i < (s->levels + 1) * pipes; ++i)
        s->running[i] = (runs){s->store + i * FEW_RUNS, 0, FEW_RUNS, false};
    fill_starts(s);
    return make_windows(s);
}

static void release(sweep *s)
{
    for (size_t i = 0; s->running && i < (s->levels + 1) * s->problem->pipe_count; ++i)
        if (s->running[i].owned) free(s->running[i].list);
    free(s->store);
    free(s->labels);
    free(s->fronts);
    free(s->running);
    free(s->running_count);
    free(s->windows);
    free(s->rings);
    free(s->start);
    free(s->need_n);
}

/** The sweep alone, for strings up to a price, with the least weights of the held pipes only. */
static dt_status sweep_within(const dt_taper *problem, const bool *held, double bound, double *rest,
                              dt_taper_result *out)
{
    sweep s = {.problem = problem,
               .held = held,
               .levels = problem->max_sections,
               .dearest = bound * (1 + SAME_SUM), /* sums in another order are the same price */
               .rest = rest};
    s.min_length_m = fmin(fmax(problem->min_length_m, 0), top_m(problem));
    s.tie = TIE_PRICE * least_price(problem) * top_m(problem);
    dt_status status = allocate(&s) ? DT_OK : DT_E_MEMORY;
    if (status == DT_OK) {
        fill_needs(&s);
        if (!sweep_up(&s)) status = DT_E_MEMORY;
    }
    if (status == DT_OK) status = read_back(&s, out);
    release(&s);
    return status;
}

/** Holds the pipes under which too little hangs somewhere in the string. False when there are
 * none: the string does. */
static bool hold_what_is_broken(const dt_taper *p, const dt_taper_result *string, bool *held)
{
    bool broken = false;
    double hanging_n = 0;
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_taper_section at = string->sections[i];
        const dt_taper_pipe *t = &p->pipes[at.pipe];
        const double started_n = hanging_n - t->weight_npm * p->rise_m[at.base_node];
        for (size_t n = at.base_node; n <= at.top_node && !held[at.pipe]; ++n)
            if (started_n < t->least_n[n] - t->weight_npm * p->rise_m[n])
                held[at.pipe] = broken = true;
        hanging_n = started_n + t->weight_npm * p->rise_m[at.top_node];
    }
    return broken;
}

/** The cheapest string up to a price. Where a least weight may still matter a lighter string does
 * not stand in for a heavier one, and a sweep can be left with all there are; but the cheapest
 * string seldom has too little hanging. So least weights count only for the pipes in which a
 * string found without them had too little: one that does with fewer rules is the cheapest. */
static dt_status solve_within(const dt_taper *problem, double bound, double *rest,
                              dt_taper_result *out)
{
    bool *held = calloc(problem->pipe_count, sizeof *held);
    if (!held) return DT_E_MEMORY;
    dt_taper_result found;
    dt_status status;
    do
        status = sweep_within(problem, held, bound, rest, &found);
    while (status == DT_OK && hold_what_is_broken(problem, &found, held));
    if (status == DT_OK) *out = found;
    free(held);
    return status;
}

/* ---- a good string first ---- */

enum { COARSE = 50, FEW_NODES = 400 };

/** The same problem with ends of sections at every COARSE-th node only; what a pipe carries at a
 * node is what it carries at all nodes since the one before. Its strings are strings of the fine
 * problem, so the best of them bounds it. */
static dt_status make_coarse(const dt_taper *p, double *store, dt_taper_pipe *pipes, dt_taper *out)
{
    const size_t count = (p->node_count - 2) / COARSE + 2;
    double *along = store, *rise = along + count, *bounds = rise + count;
    for (size_t c = 0; c < count; ++c) {
        const size_t n = c + 1 == count ? p->node_count - 1 : c * COARSE;
        along[c] = p->along_m[n];
        rise[c] = p->rise_m[n];
    }
    for (size_t i = 0; i < p->pipe_count; ++i) {
        const dt_taper_pipe *t = &p->pipes[i];
        double *least = bounds + 2 * i * count, *most = least + count;
        for (size_t c = 0; c < count; ++c) {
            const size_t to = c + 1 == count ? p->node_count - 1 : c * COARSE;
            least[c] = -INFINITY;
            most[c] = INFINITY;
            for (size_t n = c ? (c - 1) * COARSE : 0; n <= to; ++n) {
                const double more_n = t->weight_npm * (p->rise_m[to] - p->rise_m[n]);
                least[c] = fmax(least[c], t->least_n[n] + more_n);
                most[c] = fmin(most[c], t->most_n[n] + more_n);
            }
        }
        pipes[i] = (dt_taper_pipe){t->price_per_m, t->weight_npm, least, most};
    }
    *out = *p;
    out->node_count = count;
    out->along_m = along;
    out->rise_m = rise;
    out->pipes = pipes;
    return DT_OK;
}

static dt_status bound_by_coarse(const dt_taper *p, double *bound)
{
    const size_t count = (p->node_count - 2) / COARSE + 2;
    double *store = malloc((3 + 2 * p->pipe_count) * count * sizeof *store);
    dt_taper_pipe *pipes = malloc(p->pipe_count * sizeof *pipes);
    dt_taper coarse;
    dt_taper_result result;
    dt_status status = store && pipes ? make_coarse(p, store, pipes, &coarse) : DT_E_MEMORY;
    if (status == DT_OK) {
        double *rest = store + (2 + 2 * p->pipe_count) * count;
        status = DT_E_NONE;
        if (fill_rest(&coarse, rest)) status = solve_within(&coarse, *bound, rest, &result);
    }
    if (status == DT_OK) *bound = fmin(*bound, result.price);
    free(store);
    free(pipes);
    return status == DT_E_NONE ? DT_OK : status;
}

/** Is there a string within the bound in which the pipe has a section? Where it stands it costs its
 * own price over the shortest section at least, elsewhere the least there is. */
static bool worth_a_section(const dt_taper *p, size_t pipe, const double *rest, double bound)
{
    const double section_m = fmin(fmax(p->min_length_m, 0), top_m(p));
    const double price = p->pipes[pipe].price_per_m;
    size_t from = 0;
    for (size_t n = 1; n < p->node_count; ++n) {
        while (from + 1 < n && p->along_m[n] - p->along_m[from + 1] >= section_m - SAME_DEPTH_M)
            ++from;
        const double length_m = p->along_m[n] - p->along_m[from];
        if (length_m < section_m - SAME_DEPTH_M) continue;
        const double other = rest[0] - (rest[from] - rest[n]);
        if (other + price * fmin(length_m, section_m) <= bound * (1 + SAME_SUM)) return true;
    }
    return false;
}

/** Solves with the pipes that can be in the answer; out->sections name them as in the problem. */
static dt_status solve_with_few(const dt_taper *p, double bound, double *rest, dt_taper_result *out)
{
    dt_taper_pipe *pipes = malloc(p->pipe_count * sizeof *pipes);
    size_t *names = malloc(p->pipe_count * sizeof *names);
    dt_status status = pipes && names ? DT_OK : DT_E_MEMORY;
    size_t count = 0;
    for (size_t i = 0; status == DT_OK && i < p->pipe_count; ++i) {
        if (isfinite(bound) && !worth_a_section(p, i, rest, bound)) continue;
        pipes[count] = p->pipes[i];
        names[count++] = i;
    }
    if (status == DT_OK) {
        dt_taper few = *p;
        few.pipes = pipes;
        few.pipe_count = count;
        status = count ? solve_within(&few, bound, rest, out) : DT_E_NONE;
    }
    for (size_t i = 0; status == DT_OK && i < out->section_count; ++i)
        out->sections[i].pipe = names[out->sections[i].pipe];
    free(pipes);
    free(names);
    return status;
}

/** What compares with nothing would hold nowhere and rule nothing out. */
static bool has_nan(const dt_taper *p)
{
    bool found = false;
    for (size_t i = 0; i < p->pipe_count; ++i)
        for (size_t n = 0; n < p->node_count; ++n)
            found |= isnan(p->pipes[i].least_n[n]) || isnan(p->pipes[i].most_n[n]);
    return found;
}

dt_status dt_taper_solve(const dt_taper *problem, dt_taper_result *out)
{
    if (problem->node_count < 2 || problem->max_sections < 1) return DT_E_DOMAIN;
    if (problem->max_sections > DT_TAPER_MOST_SECTIONS) return DT_E_DOMAIN;
    if (problem->pipe_count == 0) return DT_E_NONE;
    if (has_nan(problem)) return DT_E_DOMAIN;
    double *rest = malloc(problem->node_count * sizeof *rest);
    if (!rest) return DT_E_MEMORY;
    double bound = fmin(price_of_one_pipe(problem), problem->most_price);
    dt_status status = fill_rest(problem, rest) ? DT_OK : DT_E_NONE;
    if (status == DT_OK && rest[0] > bound * (1 + SAME_SUM)) status = DT_E_NONE;
    if (status == DT_OK && problem->node_count > FEW_NODES)
        status = bound_by_coarse(problem, &bound);
    if (status == DT_OK) status = solve_with_few(problem, bound, rest, out);
    free(rest);
    return status;
}
