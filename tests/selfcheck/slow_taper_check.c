/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "slow_loads.h"

/*
 * The string as a whole: from the shoe up over a coarse grid of depths, every pipe tried on every
 * stretch, the weight that hangs carried along. What it finds holds at every spot, so a string
 * that is cheaper than the planner's by more than docs/strength.md allows is a fault. It need not
 * find the cheapest: of strings that hang less and cost less it goes on with those alone.
 */

enum { NODES = 32, OPTIONS = 96, KEPT = 48, SECTIONS = 8, JOINTS = 4 };

/** Beside where the planner's sections meet, m: there its string holds by next to nothing, a little
 * higher or deeper by what CHORD_PART asks. */
#define BESIDE_M (30 * SLOW_FT)

typedef struct option {
    claimed_pipe pipe;
    strength strength;
    double wall;
    bool fits_below;   /* the hanger of the liner below is set in it */
    bool could[NODES]; /* on the stretch that ends at a node: burst and collapse, nothing hanging */
} option;

/** A string from the shoe up to a node, its last section finished. */
typedef struct label {
    double kg, hanging_n, widest_wall;
    size_t count;                             /* of sections */
    unsigned char of[SECTIONS], to[SECTIONS]; /* option, and node where it ends */
} label;

typedef struct search {
    const context *c;
    const loads *l;
    spot_list spots;
    double md[NODES], z[NODES], rest_kg[NODES]; /* node 0 is the shoe; least to come from here up */
    size_t node_count;
    option *options;
    size_t option_count;
    label *labels[NODES];
    size_t label_count[NODES];
    double limit_kg, crossover_kg, min_section, gauge;
    size_t max_sections;
    bool stocked, one_thread;
    double saving; /* a taper that saves no more of the cheapest single pipe is not worth it */
} search;

/* ---- the grid -------------------------------------------------------------------------------- */

static int deeper(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a < b) - (a > b);
}

/** Even steps, on whole feet from the shoe as the planner's, and where the planner's sections
 * meet. */
static void set_nodes(search *s)
{
    const claimed_string *t = &s->c->claims->strings[s->l->string];
    double list[NODES], top = s->l->top_md, shoe = s->l->shoe_md;
    size_t n = 0, joints = t->section_count < JOINTS ? t->section_count : JOINTS;
    size_t even = NODES - 2 - 3 * JOINTS;
    list[n++] = shoe;
    for (size_t i = 1; i < even; ++i)
        list[n++] = shoe - SLOW_FT * round((shoe - top) * (double)i / (double)even / SLOW_FT);
    for (size_t i = 1; i < joints; ++i)
        for (int side = -1; side <= 1; ++side)
            list[n++] = t->sections[i].top_md_m + side * BESIDE_M;
    list[n++] = top;
    qsort(list, n, sizeof *list, deeper);
    for (size_t i = 0; i < n; ++i) {
        if (list[i] > shoe || list[i] < top) continue;
        if (s->node_count && s->md[s->node_count - 1] - list[i] < 0.01) continue;
        s->md[s->node_count++] = list[i];
    }
    s->md[s->node_count - 1] = top;
    for (size_t i = 0; i < s->node_count; ++i)
        s->z[i] = course_tvd(&s->c->course, s->md[i]);
}

/* ---- which pipes ----------------------------------------------------------------------------- */

/** Of pipes equally heavy the strongest grade: price knows weight alone. */
static void add_option(search *s, const row_pipe *row, const row_grade *grade, dt_thread thread)
{
    const claims *p = s->c->claims;
    size_t i = s->l->string, at = 0;
    option o = {.pipe = {.od_m = row->od * SLOW_IN,
                         .weight_kgm = row->weight * SLOW_LB / SLOW_FT,
                         .thread = thread}};
    snprintf(o.pipe.grade, sizeof o.pipe.grade, "%s", grade->name);
    if (!strength_of(s->c->rows, &o.pipe, s->l->wear, &o.strength)) return;
    const dt_hanger *below = i + 1 < p->count ? slow_hanger(s->c, i + 1) : NULL;
    o.fits_below = !below || slow_hanger_fits(below, row);
    o.wall = row->wall;
    while (at < s->option_count && !(s->options[at].pipe.thread == thread &&
                                     s->options[at].pipe.weight_kgm == o.pipe.weight_kgm))
        ++at;
    if (at == OPTIONS) return;
    if (at == s->option_count)
        ++s->option_count;
    else if (s->options[at].strength.yield_psi > o.strength.yield_psi ||
             (s->options[at].strength.yield_psi == o.strength.yield_psi &&
              s->options[at].strength.joint_n >= o.strength.joint_n)) /* K55 over J55 */
        return;
    s->options[at] = o;
}

/** Lightest pipe of the size, and of what may be run. */
static void set_options(search *s, double *lightest, double *usable)
{
    const rows *r = s->c->rows;
    double need = s->c->claims->strings[s->l->string].need_drift_m;
    for (size_t k = 0; k < r->pipe_count; ++k)
        for (size_t g = 0; g < r->grade_count; ++g)
            for (int t = 0; t < THREADS; ++t) {
                const row_pipe *row = &r->pipes[k];
                double kgm = row->weight * SLOW_LB / SLOW_FT;
                if (!slow_offered(s->c, s->l, row, r->grades[g].name, (dt_thread)t, s->stocked))
                    continue;
                *lightest = fmin(*lightest, kgm);
                if (slow_drift(s->c->well, row) * SLOW_IN < need - 0.0005 * SLOW_IN) continue;
                *usable = fmin(*usable, kgm);
                add_option(s, row, &r->grades[g], (dt_thread)t);
            }
}

/* ---- does it hold? --------------------------------------------------------------------------- */

static bool spot_holds(const search *s, const strength *pipe, const spot *at, double hanging_n,
                       bool bound)
{
    factors seen;
    for (int k = 0; k < DT_CHECK_COUNT; ++k)
        seen.factor[k] = seen.eased[k] = NAN;
    for (int k = 0; k < DT_LOAD_COUNT; ++k) {
        if (!s->l->runs[k]) continue;
        slow_hold_case(s->l, (dt_load)k, pipe, at, hanging_n, &seen);
        if (bound) seen.factor[DT_CHECK_TENSION] = seen.factor[DT_CHECK_TRIAXIAL] = NAN;
        if (!slow_holds(s->l, &seen, CHORD_PART)) return false;
    }
    return true;
}

/** Spots of the stretch that ends at a node. */
static void stretch(const search *s, size_t node, size_t *from, size_t *to)
{
    const spot_list *all = &s->spots;
    *from = 0;
    while (*from < all->count && all->items[*from].md < s->md[node] - 1e-7)
        ++*from;
    *to = *from;
    while (*to < all->count && all->items[*to].md <= s->md[node - 1] + 1e-7)
        ++*to;
}

/** One pipe over one stretch, with a weight hanging at its base. */
static bool stretch_holds(const search *s, const option *o, size_t node, double hanging_n)
{
    size_t from, to;
    stretch(s, node, &from, &to);
    /* coarse first: what fails there fails */
    for (size_t step = to - from > 8 ? 8 : 1; step > 0; step = step > 1 ? 1 : 0)
        for (size_t i = from; i < to; i += step) {
            const spot *at = &s->spots.items[i];
            double here = hanging_n + o->strength.weight_kgm * SLOW_G * (s->z[node - 1] - at->z);
            if (!spot_holds(s, &o->strength, at, here, false)) return false;
        }
    return true;
}

/** The hanger of the liner below must be set in the pipe at its top. */
static bool set_in_it(const search *s, const option *o, size_t node)
{
    const claims *p = s->c->claims;
    size_t i = s->l->string;
    if (o->fits_below || i + 1 >= p->count) return true;
    double at = p->strings[i + 1].top_md_m;
    return at < s->md[node] - SLOW_FT || at > s->md[node - 1] + SLOW_FT;
}

/** Where could a pipe stand if nothing hung in it? And the least that any string costs from here.
 */
static void set_bounds(search *s)
{
    for (size_t node = s->node_count; node-- > 1;) {
        size_t from, to;
        double least = INFINITY;
        stretch(s, node, &from, &to);
        for (size_t k = 0; k < s->option_count; ++k) {
            option *o = &s->options[k];
            o->could[node] = set_in_it(s, o, node);
            for (size_t i = from; i < to && o->could[node]; i += (to - from) / 3 + 1)
                o->could[node] = spot_holds(s, &o->strength, &s->spots.items[i], 0, true);
            if (o->could[node]) least = fmin(least, o->pipe.weight_kgm);
        }
        s->rest_kg[node - 1] = s->rest_kg[node] + least * (s->md[node - 1] - s->md[node]);
    }
}

/* ---- the walk -------------------------------------------------------------------------------- */

static bool beats(const label *a, const label *b)
{
    return a->kg <= b->kg && a->hanging_n <= b->hanging_n && a->count <= b->count &&
           a->widest_wall <= b->widest_wall && a->of[a->count - 1] == b->of[b->count - 1];
}

static void add_label(search *s, size_t node, const label *new)
{
    label *list = s->labels[node];
    size_t n = s->label_count[node], kept = 0;
    for (size_t i = 0; i < n; ++i)
        if (beats(&list[i], new)) return;
    for (size_t i = 0; i < n; ++i)
        if (!beats(new, &list[i])) list[kept++] = list[i];
    if (kept < KEPT) list[kept++] = *new;
    s->label_count[node] = kept;
}

/** One more section on a label, as far up as it holds and could still be the cheaper string. */
static void extend(search *s, size_t node, const label *from, size_t which)
{
    const option *o = &s->options[which];
    size_t last = s->node_count - 1;
    label now = *from;
    if (now.count) {
        const option *below = &s->options[now.of[now.count - 1]];
        if (now.of[now.count - 1] == which) return;
        if (s->one_thread && below->pipe.thread != o->pipe.thread) return;
        now.kg += s->crossover_kg;
    }
    now.of[now.count++] = (unsigned char)which;
    now.widest_wall = fmax(now.widest_wall, o->wall);
    for (size_t to = node + 1; to <= last; ++to) {
        double length = s->md[to - 1] - s->md[to];
        now.kg += o->pipe.weight_kgm * length;
        if (!o->could[to] || now.kg + s->rest_kg[to] > s->limit_kg) return;
        if (!stretch_holds(s, o, to, now.hanging_n)) return;
        now.hanging_n += o->strength.weight_kgm * SLOW_G * (s->z[to - 1] - s->z[to]);
        now.to[now.count - 1] = (unsigned char)to;
        double section = s->md[node] - s->md[to];
        bool whole = node == 0 && to == last;
        if (section < s->min_section && !whole) continue;
        if (to == last && s->gauge > 0 &&
            (o->wall < now.widest_wall || section < fmin(s->gauge, s->md[0] - s->md[last])))
            continue;
        add_label(s, to, &now);
    }
}

/** Capacity of the liner's own hanger over what it must be. */
static bool hanger_bears(const search *s, const label *t)
{
    const dt_hanger *hanger = slow_hanger(s->c, s->l->string);
    if (!hanger) return true;
    double factor = slow_or(s->c->well->hangers.factor, 1);
    double green = s->c->well->loads.given ? s->c->well->loads.green_test_pa : NAN;
    double pressed =
        fmax(s->l->bump_pa, slow_or(green, 0)) * s->options[t->of[t->count - 1]].strength.inner_m2;
    double all = t->hanging_n * (1 - s->l->mud / 7850) + pressed;
    return hanger->capacity_n >= (factor > 0 ? factor : 1) * all * (1 + 1e-6);
}

static void say(const search *s, const label *t, double claimed)
{
    char words[160] = "";
    size_t n = 0;
    for (size_t i = t->count; i-- > 0 && n + 40 < sizeof words;) {
        const option *o = &s->options[t->of[i]];
        n += (size_t)snprintf(words + n, sizeof words - n, "%.2f lb/ft %s thread %d from %.1f m; ",
                              o->strength.weight_kgm / SLOW_LB * SLOW_FT, o->pipe.grade,
                              (int)o->pipe.thread, s->md[t->to[i]]);
    }
    fault(s->c->v, "taper", (int)s->l->string, "%.1f kg said, %.1f kg hold: %s", claimed, t->kg,
          words);
}

/**
 * What docs/strength.md allows the planner: an end of a section up to a foot away from where it
 * could be; the rest (bounds on the safe side) is CHORD_PART of every factor.
 */
static double allowed_kg(const search *s)
{
    double least = INFINITY, most = 0;
    for (size_t i = 0; i < s->option_count; ++i) {
        least = fmin(least, s->options[i].pipe.weight_kgm);
        most = fmax(most, s->options[i].pipe.weight_kgm);
    }
    return fmax(most - least, 0) * SLOW_FT * (double)(s->max_sections - 1) + 0.1;
}

static void settle(search *s, double *claimed)
{
    const dt_design *d = &s->c->well->design;
    const claimed_string *t = &s->c->claims->strings[s->l->string];
    double lightest = INFINITY, usable = INFINITY;
    double joint = d->given ? slow_or(d->crossover_m, 40 * SLOW_FT) : 40 * SLOW_FT;
    set_options(s, &lightest, &usable);
    s->min_section = slow_least_section(s->c->well);
    s->gauge = d->given ? slow_or(d->gauge_m, 0) : 0;
    s->max_sections = (size_t)slow_most_sections(s->c, s->l);
    if (s->max_sections > SECTIONS) s->max_sections = SECTIONS;
    /* "so much of the lightest pipe": of the size or of what may be run here, in doubt against
     * what is found */
    s->crossover_kg = joint * usable;
    *claimed = t->steel_kg + joint * lightest * ((double)t->section_count - 1);
    /* so much of one pipe from end to end would have been taken in place of a taper */
    s->limit_kg = (*claimed - allowed_kg(s)) / (t->section_count > 1 ? 1 - s->saving : 1);
}

/** Would the planner have had to take this string in place of its own? */
static bool is_better(const search *s, const label *t, double claimed)
{
    bool tapered = s->c->claims->strings[s->l->string].section_count > 1;
    double least = claimed - allowed_kg(s);
    if (tapered && t->count == 1) return t->kg * (1 - s->saving) < least;
    if (!tapered && t->count > 1) return t->kg < claimed * (1 - s->saving) - (claimed - least);
    return t->kg < least;
}

static void walk(search *s)
{
    label start = {.kg = 0};
    for (size_t k = 0; k < s->option_count; ++k)
        extend(s, 0, &start, k);
    for (size_t node = 1; node + 1 < s->node_count; ++node)
        for (size_t i = 0; i < s->label_count[node]; ++i)
            for (size_t k = 0; k < s->option_count; ++k)
                if (s->labels[node][i].count < s->max_sections)
                    extend(s, node, &s->labels[node][i], k);
}

void check_taper(const context *c, const loads *l)
{
    const claimed_string *t = &c->claims->strings[l->string];
    search s = {.c = c, .l = l, .stocked = slow_of_stock(c, l->string)};
    s.one_thread = slow_said(c->well, DT_CUSTOM_DESIGN_ONE_THREAD, 0) == 1;
    s.saving = slow_said(c->well, DT_CUSTOM_DESIGN_TAPER_SAVING, 0);
    double claimed;
    label *room = malloc((size_t)NODES * KEPT * sizeof *room);
    s.options = calloc(OPTIONS, sizeof *s.options);
    bool any = room && s.options && !t->pin_fails && t->section_count && l->shoe_md > l->top_md;
    if (any) set_nodes(&s);
    /* with the ends of all stretches, where a pipe is loaded hardest */
    if (any && slow_spots_make(c, l, s.md, s.node_count, &s.spots)) {
        for (size_t i = 0; i < NODES; ++i)
            s.labels[i] = room + i * KEPT;
        settle(&s, &claimed);
        set_bounds(&s);
        walk(&s);
        size_t last = s.node_count - 1;
        const label *best = NULL;
        ++c->v->compared;
        for (size_t i = 0; i < s.label_count[last]; ++i)
            if (hanger_bears(&s, &s.labels[last][i]) &&
                is_better(&s, &s.labels[last][i], claimed) &&
                (!best || s.labels[last][i].kg < best->kg))
                best = &s.labels[last][i];
        if (best) say(&s, best, claimed);
    }
    free(s.spots.items);
    free(room);
    free(s.options);
}
