/* SPDX-License-Identifier: MIT */
/*
 * Thinning on the safe side. Part of the import, import.h.
 *
 * Douglas and Peucker (Cartographica 10 (1973) 112-122, from memory) choose the points to keep
 * with the tolerance as pressure at each depth. Each kept point then moves to the safe side by
 * what its two chords lack; a chord that moves at both ends by at least that much passes every
 * point of its own. What comes out is measured against every point; where the move went too
 * far, the choice is made again with a smaller tolerance. With none left every bend is kept,
 * so it ends.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "import.h"

typedef struct run {
    size_t first, last; /* points of one piece without a step, last included */
} run;

typedef struct thin_state {
    const dt_thinning *how;
    const dt_import_point *points;
    size_t count;
    bool *kept;
    size_t kept_count;
    double *lack; /* in value, toward the safe side, of each kept point */
    run *waiting; /* runs still to be looked at */
} thin_state;

/** Value of the chord between two points at a depth between them. */
static double chord(const dt_import_point *a, const dt_import_point *b, double depth)
{
    double span = b->depth - a->depth;
    return span > 0 ? a->value + (b->value - a->value) * (depth - a->depth) / span : a->value;
}

static double weight(const thin_state *t, double depth)
{
    return t->how->weight_pa(t->how->context, depth);
}

static void keep(thin_state *t, size_t index)
{
    t->kept_count += !t->kept[index];
    t->kept[index] = true;
}

static bool too_many(const thin_state *t)
{
    return t->how->most > 0 && t->kept_count > t->how->most;
}

/** Splits a run at its farthest point until all are within the tolerance, or are too many. */
static void choose(thin_state *t, run whole, double tolerance_pa)
{
    size_t open = 0;
    keep(t, whole.first);
    keep(t, whole.last);
    t->waiting[open++] = whole;
    while (open > 0 && !too_many(t)) {
        run r = t->waiting[--open];
        double farthest = tolerance_pa;
        size_t split = r.first;
        for (size_t i = r.first + 1; i < r.last; ++i) {
            const dt_import_point *p = &t->points[i];
            double off = fabs(p->value - chord(&t->points[r.first], &t->points[r.last], p->depth)) *
                         weight(t, p->depth);
            if (off > farthest) {
                farthest = off;
                split = i;
            }
        }
        if (split == r.first) continue;
        keep(t, split);
        t->waiting[open++] = (run){r.first, split};
        t->waiting[open++] = (run){split, r.last};
    }
}

static size_t next_kept(const thin_state *t, size_t from)
{
    do
        ++from;
    while (from < t->count && !t->kept[from]);
    return from;
}

/** How far each kept point has to move so that its chords pass no point on the wrong side. */
static void find_lack(thin_state *t)
{
    double sign = t->how->raise ? 1 : -1;
    for (size_t i = 0; i < t->count; ++i)
        t->lack[i] = 0;
    for (size_t a = 0, b = next_kept(t, 0); b < t->count; a = b, b = next_kept(t, b)) {
        double most = 0;
        for (size_t i = a + 1; i < b; ++i)
            most = fmax(most, sign * (t->points[i].value -
                                      chord(&t->points[a], &t->points[b], t->points[i].depth)));
        t->lack[a] = fmax(t->lack[a], most);
        t->lack[b] = fmax(t->lack[b], most);
    }
}

/** The kept points, moved and put on the grid. Returns their number. */
static size_t collect(const thin_state *t, dt_import_point *out)
{
    size_t count = 0;
    double grid = t->how->grid;
    for (size_t i = 0; i < t->count; ++i) {
        if (!t->kept[i]) continue;
        dt_import_point p = t->points[i];
        p.value += t->how->raise ? t->lack[i] : -t->lack[i];
        /* a value that stands on the grid already stays there */
        if (grid > 0)
            p.value =
                (t->how->raise ? ceil(p.value / grid - 1e-6) : floor(p.value / grid + 1e-6)) * grid;
        out[count++] = p;
    }
    return count;
}

/** Largest distance of a point from the thinned table, as pressure. */
static double measure(const thin_state *t, const dt_import_point *thin)
{
    double worst = 0;
    size_t at = 0; /* of the kept point a in thin */
    for (size_t a = 0; a < t->count; ++at) {
        size_t b = next_kept(t, a);
        const dt_import_point *p = &t->points[a];
        worst = fmax(worst, fabs(p->value - thin[at].value) * weight(t, p->depth));
        for (size_t i = a + 1; i < b && b < t->count; ++i) {
            p = &t->points[i];
            worst = fmax(worst, fabs(p->value - chord(&thin[at], &thin[at + 1], p->depth)) *
                                    weight(t, p->depth));
        }
        a = b;
    }
    return worst;
}

static void choose_all(thin_state *t, double tolerance_pa)
{
    memset(t->kept, 0, t->count * sizeof *t->kept);
    t->kept_count = 0;
    for (size_t first = 0; first < t->count;) {
        size_t last = first;
        while (last + 1 < t->count && t->points[last + 1].depth > t->points[last].depth)
            ++last;
        choose(t, (run){first, last}, tolerance_pa);
        first = last + 1;
    }
}

#define TRIES 24

dt_status dt_thin(const dt_thinning *thinning, dt_import_point *points, size_t *count,
                  double *worst_pa)
{
    thin_state t = {.how = thinning, .points = points, .count = *count};
    *worst_pa = 0;
    if (*count < 2) return DT_OK;
    dt_import_point *out = malloc(*count * sizeof *out);
    t.kept = malloc(*count * sizeof *t.kept);
    t.lack = malloc(*count * sizeof *t.lack);
    t.waiting = malloc((*count + 2) * sizeof *t.waiting);
    dt_status status = out && t.kept && t.lack && t.waiting ? DT_OK : DT_E_MEMORY;
    double tolerance = thinning->tolerance_pa / 2;
    size_t kept = 0;
    for (int tries = 0; status == DT_OK; ++tries) {
        choose_all(&t, tries < TRIES ? tolerance : 0);
        if (too_many(&t)) {
            status = DT_E_NONE;
            break;
        }
        find_lack(&t);
        kept = collect(&t, out);
        *worst_pa = measure(&t, out);
        if (*worst_pa <= thinning->tolerance_pa || tries == TRIES) break;
        tolerance *= 0.6;
    }
    if (status == DT_OK) {
        memcpy(points, out, kept * sizeof *out);
        *count = kept;
    }
    free(out);
    free(t.kept);
    free(t.lack);
    free(t.waiting);
    return status;
}
