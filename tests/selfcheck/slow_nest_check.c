/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "slow.h"

/* Holes, bits and pipes: does each fit into the one before? By docs/nest.md. */

#define SAME_IN 0.0005

static double inches(double m)
{
    return m / SLOW_IN;
}

/** Least gap round a coupling, in: the well's rows or those of docs/nest.md. */
static double clearance(const dt_well *w, double od_in)
{
    static const double up_to[] = {5.5, 7, 8.625, 9.875, 11.875, 16, 20};
    static const double gap[] = {0.25, 0.40, 0.50, 0.75, 0.85, 1.50, 2.00, 3.00};
    const dt_size_wishes *s = &w->sizes;
    for (size_t i = 0; i < s->clearance_count; ++i)
        if (od_in <= inches(s->clearances[i].up_to_od_m) + SAME_IN || i + 1 == s->clearance_count)
            return inches(s->clearances[i].radial_m);
    size_t i = 0;
    while (i < 7 && od_in > up_to[i] + SAME_IN)
        ++i;
    return gap[i];
}

/** The same beside a connection: below the conductor a basis may ask for less beside one that is
 * hardly wider than its pipe, where the well has no rows of its own. */
static double gap_beside(const context *c, size_t i, double od_in, double widest_in)
{
    double flush = inches(slow_said(c->well, DT_CUSTOM_FLUSH_CLEARANCE, 0));
    double gap = clearance(c->well, od_in);
    bool narrow = i > 0 && c->well->sizes.clearance_count == 0 && widest_in <= 1.03 * od_in;
    return narrow && flush > 0 ? fmin(flush, gap) : gap;
}

static double run_od(const row_pipe *p)
{
    return isnan(p->coupling) ? p->od : p->coupling;
}

static bool only_plain(const row_pipe *p)
{
    return strcmp(p->threads, "PE") == 0;
}

static const dt_pin *pin_of(const context *c, size_t i)
{
    size_t pin = c->claims->strings[i].seat.pin;
    return pin < c->well->pin_count ? &c->well->pins[pin] : NULL;
}

static bool driven(const context *c, size_t i)
{
    return i == 0 && c->well->conductor.method != DT_CONDUCTOR_DRILLED;
}

/* ---- a finished program ---------------------------------------------------------------------- */

static void check_pipe(const context *c, size_t i, const claimed_pipe *pipe)
{
    const row_pipe *row = rows_pipe(c->rows, pipe);
    verdict *v = c->v;
    int n = (int)i;
    if (!demand_true(v, "catalogue", n, row != NULL, "the catalogue has no such pipe")) return;
    agree(v, "catalogue", n, "wall, in", inches(pipe->wall_m), row->wall, 1e-6);
    agree(v, "catalogue", n, "drift, in", inches(pipe->drift_m), row->drift, 1e-6);
    agree(v, "catalogue", n, "coupling, in", inches(pipe->coupling_od_m), row->coupling, 1e-6);
    demand_true(v, "catalogue", n, rows_has_grade(row, pipe->grade), "not made in this grade");
    demand_true(v, "catalogue", n, rows_has_thread(row, pipe->grade, pipe->thread),
                "not made with this thread");
    demand_true(v, "catalogue", n, pipe->thread != DT_PLAIN_END || (i == 0 && only_plain(row)),
                "plain end below the conductor");
    const dt_pin *pin = pin_of(c, i);
    if (!pin) return;
    demand_true(v, "pinned-pipe", n,
                (isnan(pin->od_m) || fabs(inches(pin->od_m - pipe->od_m)) < 0.001) &&
                    (isnan(pin->weight_kgm) || fabs(pin->weight_kgm - pipe->weight_kgm) < 0.01) &&
                    (!pin->grade || strcmp(pin->grade, pipe->grade) == 0) &&
                    (!pin->thread || strcmp(pin->thread, rows_thread_name(pipe->thread)) == 0),
                "another pipe than the one pinned");
}

static int rarity_of(const context *c, double in)
{
    for (size_t i = 0; i < c->rows->bit_count; ++i)
        if (fabs(c->rows->bits[i].in - in) < SAME_IN) return c->rows->bits[i].rarity;
    return -1;
}

static double smallest_drift(const context *c, size_t i)
{
    double least = INFINITY;
    for (size_t k = 0; k < c->claims->strings[i].section_count; ++k) {
        const row_pipe *row = rows_pipe(c->rows, &c->claims->strings[i].sections[k].pipe);
        if (row) least = fmin(least, slow_drift(c->well, row));
    }
    return least;
}

/** What passes a string once it is set: its pipe, the tie-back and the hanger on it, in. */
static double passes(const context *c, size_t i)
{
    double least = smallest_drift(c, i);
    size_t tie = slow_tieback_on(c->claims, i);
    if (tie != DT_NO_INDEX) least = fmin(least, smallest_drift(c, tie));
    const dt_hanger *hanger = slow_hanger(c, i);
    return hanger ? fmin(least, slow_hanger_bore(hanger)) : least;
}

/** Beside the body of a liner, or of a long full string in heavy mud, a basis may want room, in. */
static double body_gap(const context *c, size_t i)
{
    const dt_well *w = c->well;
    const dt_seat *seat = &c->claims->strings[i].seat;
    if (i == 0) return 0;
    if (seat->type == DT_LINER) return inches(slow_said(w, DT_CUSTOM_LINER_BODY_CLEARANCE, 0));
    if (!(seat->shoe_m > slow_said(w, DT_CUSTOM_LONG_STRING, 10000 * SLOW_FT) &&
          seat->mud_kgm3 > slow_said(w, DT_CUSTOM_HEAVY_MUD, 15 * SLOW_PPG)))
        return 0;
    return inches(slow_said(w, DT_CUSTOM_LONG_BODY_CLEARANCE, 0));
}

static void check_hole(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_pin *pin = pin_of(c, i);
    double hole = inches(s->hole_m), bit = inches(s->bit_m), run = inches(s->largest_od_m);
    int n = (int)i;
    verdict *v = c->v;
    if (driven(c, i)) {
        agree(v, "hole", n, "driven hole, in", hole, inches(s->od_m), SAME_IN);
        return;
    }
    bool hole_pinned = pin && !isnan(pin->hole_m), both = hole_pinned && !isnan(pin->od_m);
    demand_true(v, "hole", n, hole_pinned || rarity_of(c, hole) >= 0, "no such bit");
    if (hole_pinned) agree(v, "hole", n, "pinned hole, in", hole, inches(pin->hole_m), SAME_IN);
    demand_true(v, "clearance", n,
                both || (hole - run) / 2 >= gap_beside(c, i, inches(s->od_m), run) - SAME_IN,
                "the coupling does not clear the hole");
    demand_true(v, "clearance", n, both || (hole - inches(s->od_m)) / 2 >= body_gap(c, i) - SAME_IN,
                "no room for cement beside the body");
    demand_true(v, "opened", n, s->opened == (bit < hole - SAME_IN), "opened or not");
    if (s->opened && !(pin && pin->pilot_m > 0))
        demand_true(v, "opened", n,
                    (c->well->sizes.opened_hole || (c->well->sizes.series && hole_pinned)) &&
                        hole <= 1.25 * bit + SAME_IN && rarity_of(c, bit) == 0,
                    "a hole opened where or as it may not be");
    if (i == 0) return;
    const dt_pin *above = pin_of(c, i - 1);
    bool kept = hole_pinned && above && !isnan(above->od_m);
    demand_true(v, "drift", n, kept || bit <= passes(c, i - 1) + SAME_IN,
                "the bit does not pass the pipe above");
    demand_true(v, "passage", n, both || kept || run <= passes(c, i - 1) + SAME_IN,
                "the coupling does not pass the pipe above");
}

/** Is there a hole that is better and would do between the same two pipes? */
static void check_best_hole(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_pin *pin = pin_of(c, i);
    /* sizes settled with seats keep to pairs, and a larger hole bears more gas */
    if (driven(c, i) || (pin && !isnan(pin->hole_m)) || slow_together(c)) return;
    double drift = i > 0 ? passes(c, i - 1) : INFINITY;
    double need =
        inches(s->largest_od_m) + 2 * gap_beside(c, i, inches(s->od_m), inches(s->largest_od_m));
    bool unusual = s->opened || rarity_of(c, inches(s->hole_m)) == 1;
    for (size_t k = 0; k < c->rows->bit_count; ++k) {
        double bit = c->rows->bits[k].in;
        if (bit < need - SAME_IN || bit > drift + SAME_IN || c->rows->bits[k].rarity == 1) continue;
        demand_true(c->v, "best-hole", (int)i, !unusual && bit >= inches(s->hole_m) - SAME_IN,
                    unusual ? "a usual hole would do" : "a smaller usual hole would do");
    }
}

/* ---- pairs ----------------------------------------------------------------------------------- */

static bool is_pair(const context *c, size_t i, dt_role role)
{
    const claimed_string *s = &c->claims->strings[i];
    size_t count;
    const dt_pair_custom *pairs = slow_said_rows(c->well, DT_TABLE_PAIRS, &count);
    for (size_t k = 0; k < count; ++k)
        if (fabs(inches(pairs[k].od_m - s->od_m)) < SAME_IN &&
            (driven(c, i) || fabs(inches(pairs[k].hole_m - s->hole_m)) < SAME_IN) &&
            (pairs[k].role < 0 || pairs[k].role == (int)role) &&
            (pairs[k].opened == 1) == s->opened)
            return true;
    return false;
}

static bool is_usual(const context *c, size_t i, dt_role role)
{
    double od = c->claims->strings[i].od_m;
    size_t count;
    const dt_role_sizes *list = slow_said_rows(c->well, DT_TABLE_ROLE_SIZES, &count);
    for (size_t k = 0; k < count; ++k)
        if (list[k].role == (int)role) {
            double most = list[k].most_m, level = list[k].lateral_most_m;
            if (c->well->lateral && level == level)
                most = level > c->well->min_pipe_od_m ? level : c->well->min_pipe_od_m;
            return !(od < list[k].least_m - 1e-5) && !(od > most + 1e-5);
        }
    return true;
}

/** Widest drift of a size of pipe, whatever its connection, as the catalogue has it. */
static double widest_drift(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    double widest = 0;
    for (size_t k = 0; k < c->rows->pipe_count; ++k) {
        const row_pipe *p = &c->rows->pipes[k];
        if (fabs(p->od - inches(s->od_m)) < SAME_IN) widest = fmax(widest, p->drift);
    }
    return widest;
}

/** What a string is sized as: the last one as production, but alone above an open hole. */
static dt_role sized_as(const context *c, size_t i)
{
    const bool last = i + 1 == c->claims->count;
    if (i == 0) return DT_CONDUCTOR;
    if (i == 1) return last && !c->well->last_open ? DT_PRODUCTION : DT_SURFACE;
    return last ? DT_PRODUCTION : DT_INTERMEDIATE;
}

/** Where a basis has pairs: one of them, of a size usual for the string, and no size skipped,
 * unless nothing usual closes. That nothing does is not looked at. */
static void check_pair(const context *c, size_t i)
{
    const claims *p = c->claims;
    const claimed_string *s = &p->strings[i];
    const dt_pin *pin = pin_of(c, i);
    const dt_role role = sized_as(c, i);
    if (!c->well->sizes.series || p->latitude == DT_LADDER_ANY) return;
    if (!(pin && !isnan(pin->od_m))) {
        demand_true(c->v, "pair", (int)i, is_pair(c, i, role),
                    "hole and pipe that are none of the pairs");
        demand_true(c->v, "pair", (int)i, is_usual(c, i, role), "a size not usual for its role");
    }
    if (i < 2 || (pin && !isnan(pin->hole_m))) return;
    double step = slow_said(c->well, DT_CUSTOM_SIZES_LEAST_STEP, 0.85);
    demand_true(c->v, "pair", (int)i, inches(s->hole_m) >= step * widest_drift(c, i - 1) - SAME_IN,
                "a size is skipped");
}

/** Does the next bit, and the next string, pass what a string is made of? */
static void check_drift(const context *c, size_t i)
{
    const claims *p = c->claims;
    double drift = smallest_drift(c, i), need = inches(p->strings[i].need_drift_m);
    if (i + 1 < p->count) need = fmax(need, inches(p->strings[i + 1].largest_od_m));
    stop_told(c, DT_NOTICE_PIN_DRIFT, i, drift - need + SAME_IN, 1e-5);
}

void check_nest(const context *c)
{
    const claims *p = c->claims;
    for (size_t i = 0; i < slow_all(p); ++i) {
        const claimed_string *s = &p->strings[i];
        check_drift(c, i);
        for (size_t k = 0; k < s->section_count; ++k) {
            const claimed_pipe *pipe = &s->sections[k].pipe;
            check_pipe(c, i, pipe);
            double run = slow_or(pipe->coupling_od_m, pipe->od_m);
            agree(c->v, "one-size", (int)i, "OD, in", inches(s->od_m), inches(pipe->od_m), SAME_IN);
            agree(c->v, "one-size", (int)i, "coupling, in", inches(s->largest_od_m), inches(run),
                  SAME_IN);
        }
        if (i >= p->count) continue; /* what is asked of a tie-back: slow_liner_check.c */
        check_hole(c, i);
        check_best_hole(c, i);
        check_pair(c, i);
    }
    const claimed_string *last = &p->strings[p->count - 1];
    const dt_pin *pin = pin_of(c, p->count - 1);
    stop_none(c, DT_NOTICE_PIN_DRIFT);
    demand_true(c->v, "completion", (int)p->count - 1,
                (pin && !isnan(pin->od_m)) ||
                    inches(last->od_m) >= inches(c->well->min_pipe_od_m) - SAME_IN,
                "smaller than the completion needs");
}

/* ---- nothing nests --------------------------------------------------------------------------- */

/** Is the pipe of the size and weight that a pin wants? */
static bool of_size(const dt_pin *pin, const row_pipe *p)
{
    if (!pin) return true;
    if (!isnan(pin->od_m) && fabs(inches(pin->od_m) - p->od) > SAME_IN) return false;
    if (!isnan(pin->weight_kgm) && fabs(pin->weight_kgm / SLOW_LB * SLOW_FT - p->weight) > 0.005)
        return false;
    return true;
}

/** Is it made in some grade, with some thread, that may be run as this string? */
static bool can_be_had(const context *c, size_t i, const row_pipe *p)
{
    for (size_t g = 0; g < c->rows->grade_count; ++g)
        for (int t = 0; t < THREADS; ++t)
            if (slow_pipe_ok(c, i, p, c->rows->grades[g].name, (dt_thread)t)) return true;
    return false;
}

static bool allowed(const context *c, size_t i, const row_pipe *p)
{
    const dt_pin *pin = pin_of(c, i);
    if (i > 0 && only_plain(p)) return false;
    if (i + 1 == c->claims->count && !(pin && !isnan(pin->od_m)) &&
        p->od < inches(c->well->min_pipe_od_m) - SAME_IN)
        return false;
    return of_size(pin, p) && can_be_had(c, i, p);
}

/** Is there pipe of the liner's size to tie it back with, which a bit passes? */
static bool can_be_tied(const context *c, const standing *s, size_t i, const row_pipe *liner,
                        double bit)
{
    size_t tie = slow_tieback_on(c->claims, i);
    if (tie == DT_NO_INDEX) return true;
    for (size_t k = 0; k < c->rows->pipe_count; ++k) {
        const row_pipe *p = &c->rows->pipes[k];
        if (fabs(p->od - liner->od) < SAME_IN && fabs(run_od(p) - run_od(liner)) < SAME_IN &&
            !only_plain(p) && of_size(pin_of(c, tie), p) && can_be_had(c, tie, p) &&
            (!s || s->string[tie].row[k]) && bit <= slow_drift(c->well, p) + SAME_IN)
            return true;
    }
    return false;
}

/** Does it bear this liner, of one pipe from end to end? In doubt, no. */
static bool bears(const context *c, const standing *s, size_t i, const row_pipe *liner,
                  const dt_hanger *hanger)
{
    const claimed_string *t = &c->claims->strings[i];
    double factor = slow_or(c->well->hangers.factor, 1), bore = (liner->od - 2 * liner->wall);
    bore = bore * SLOW_IN + 2 * s->string[i].wear_m;
    double load = liner->weight * SLOW_LB / SLOW_FT * s->string[i].tall_m * SLOW_G *
                      (1 - t->seat.mud_kgm3 / 7850) +
                  SLOW_PI / 4 * bore * bore * s->string[i].pressed_pa;
    return hanger->capacity_n >= (factor > 0 ? factor : 1) * load * (1 + 1e-6);
}

/** Largest bit that passes a hanger of this liner in that pipe, in; INFINITY where none is asked
 * for, 0 where the list has none. */
static double through_hanger(const context *c, const standing *s, size_t i, const row_pipe *liner,
                             const row_pipe *casing)
{
    const dt_hangers *list = &c->well->hangers;
    double most = 0;
    if (list->count == 0 || c->claims->strings[i].seat.type != DT_LINER || slow_hanger_waived(c, i))
        return INFINITY;
    for (size_t k = 0; k < list->count; ++k) {
        const dt_hanger *h = &list->items[k];
        if (fabs(inches(h->liner_m) - liner->od) < SAME_IN &&
            fabs(inches(h->casing_m) - casing->od) < SAME_IN &&
            (!s || (slow_hanger_fits(h, casing) && bears(c, s, i, liner, h))))
            most = fmax(most, slow_hanger_bore(h));
    }
    return most;
}

/** Smallest bit with which a hole is drilled for a pipe; INFINITY: it is too small. */
static double bit_for(const context *c, size_t i, const row_pipe *p, size_t b)
{
    const rows *r = c->rows;
    double hole = r->bits[b].in, bit = hole;
    if (hole < run_od(p) + 2 * gap_beside(c, i, p->od, run_od(p)) - SAME_IN) return INFINITY;
    if (!c->well->sizes.opened_hole || i == 0) return bit;
    for (size_t q = 0; q < r->bit_count; ++q)
        if (r->bits[q].rarity == 0 && r->bits[q].in >= run_od(p) - SAME_IN &&
            r->bits[q].in * 1.25 >= hole - SAME_IN)
            bit = fmin(bit, r->bits[q].in);
    return bit;
}

/** Smallest bit that makes a hole for a pipe, in. */
static double least_bit(const context *c, size_t i, const row_pipe *p)
{
    double least = INFINITY;
    for (size_t b = 0; b < c->rows->bit_count; ++b)
        least = fmin(least, bit_for(c, i, p, b));
    return least;
}

/** Every pipe of every string, from the conductor down: which can be reached at all, and what
 * passes it then? */
bool slow_path_exists(const context *c, const standing *s)
{
    const rows *r = c->rows;
    double through[CLAIM_STRINGS]
                  [ROW_PIPES]; /* the largest bit that passes; negative: not reached */
    size_t n = c->claims->count;
    for (size_t i = 0; i < n; ++i)
        for (size_t k = 0; k < r->pipe_count; ++k) {
            const row_pipe *p = &r->pipes[k];
            double own = slow_drift(c->well, p), bit = driven(c, i) ? 0 : least_bit(c, i, p);
            through[i][k] = -1;
            if (!allowed(c, i, p) || !can_be_tied(c, s, i, p, 0) || !isfinite(bit)) continue;
            if (s && !s->string[i].row[k]) continue;
            if (i == 0) through[i][k] = own;
            for (size_t a = 0; i > 0 && a < r->pipe_count; ++a) {
                if (through[i - 1][a] < 0 || bit > through[i - 1][a] + SAME_IN ||
                    !can_be_tied(c, s, i - 1, &r->pipes[a], bit))
                    continue;
                double hanger = through_hanger(c, s, i, p, &r->pipes[a]);
                if (hanger > 0) through[i][k] = fmax(through[i][k], fmin(own, hanger));
            }
        }
    for (size_t k = 0; k < r->pipe_count; ++k)
        if (through[n - 1][k] >= 0) return true;
    return false;
}

/* ---- the best path --------------------------------------------------------------------------- */

enum { STATES = 4096 };

/** A string down to which pipes are chosen: what passes it, and what was drilled so far. */
typedef struct state {
    size_t row;
    double through; /* in */
    drilled cost;
} state;

static double drilled_length(const context *c, size_t i)
{
    if (i == 0 && driven(c, i)) return 0;
    if (i == 0)
        return fmax(c->claims->strings[0].shoe_md_m - course_md(&c->course, slow_ground(c->well)),
                    0);
    return fmax(c->claims->strings[i].shoe_md_m - c->claims->strings[i - 1].shoe_md_m, 0);
}

static double rock_of(const context *c, size_t i, double hole_m)
{
    return SLOW_PI / 4 * hole_m * hole_m * drilled_length(c, i);
}

drilled slow_drilled(const context *c)
{
    drilled sum = {0, 0};
    for (size_t i = 0; i < c->claims->count; ++i) {
        const claimed_string *s = &c->claims->strings[i];
        if (driven(c, i)) continue;
        sum.unusual += s->opened || rarity_of(c, inches(s->hole_m)) == 1;
        sum.rock_m3 += rock_of(c, i, s->hole_m);
    }
    return sum;
}

/** Largest drift of pipe that ties this liner back and stands, in; INFINITY: it is not tied back.
 */
static double through_tieback(const context *c, const standing *s, size_t i, const row_pipe *liner)
{
    size_t tie = slow_tieback_on(c->claims, i);
    double most = tie == DT_NO_INDEX ? INFINITY : -1;
    for (size_t k = 0; tie != DT_NO_INDEX && k < c->rows->pipe_count; ++k) {
        const row_pipe *p = &c->rows->pipes[k];
        if (s->string[tie].row[k] && fabs(p->od - liner->od) < SAME_IN &&
            fabs(run_od(p) - run_od(liner)) < SAME_IN && !only_plain(p) &&
            of_size(pin_of(c, tie), p) && can_be_had(c, tie, p))
            most = fmax(most, slow_drift(c->well, p));
    }
    return most;
}

/** The best hole for a pipe whose bit passes what is above. */
static drilled best_hole(const context *c, size_t i, const row_pipe *p, double through)
{
    const rows *r = c->rows;
    drilled best = {INFINITY, INFINITY};
    double need = run_od(p) + 2 * gap_beside(c, i, p->od, run_od(p)) - SAME_IN;
    for (size_t b = 0; b < r->bit_count; ++b) {
        double hole = r->bits[b].in;
        if (hole < need) continue;
        drilled now = {r->bits[b].rarity == 1, rock_of(c, i, hole * SLOW_IN)};
        bool passes_it = hole <= through + SAME_IN;
        for (size_t q = 0; q < r->bit_count && !passes_it && c->well->sizes.opened_hole; ++q)
            if (r->bits[q].rarity == 0 && r->bits[q].in >= run_od(p) - SAME_IN &&
                r->bits[q].in <= through + SAME_IN && hole <= 1.25 * r->bits[q].in + SAME_IN) {
                passes_it = true;
                now.unusual = 1;
            }
        if (passes_it && slow_less(now, best)) best = now;
    }
    return best;
}

static size_t add_state(state *list, size_t n, state new)
{
    for (size_t i = 0; i < n; ++i)
        if (list[i].row == new.row && list[i].through == new.through) {
            if (slow_less(new.cost, list[i].cost)) list[i].cost = new.cost;
            return n;
        }
    if (n < STATES) list[n++] = new;
    return n;
}

/** A pipe below one that is chosen, in each hanger that would do. */
static size_t go_down(const context *c, const standing *s, size_t i, const state *from, size_t row,
                      state *list, size_t n)
{
    const dt_hangers *hangers = &c->well->hangers;
    const row_pipe *p = &c->rows->pipes[row], *casing = &c->rows->pipes[from->row];
    drilled hole = best_hole(c, i, p, from->through);
    if (isinf(hole.unusual)) return n;
    state new = {row, fmin(slow_drift(c->well, p), through_tieback(c, s, i, p)), from->cost};
    new.cost.unusual += hole.unusual;
    new.cost.rock_m3 += hole.rock_m3;
    if (hangers->count == 0 || c->claims->strings[i].seat.type != DT_LINER ||
        slow_hanger_waived(c, i))
        return add_state(list, n, new);
    double own = new.through;
    for (size_t k = 0; k < hangers->count; ++k) {
        const dt_hanger *h = &hangers->items[k];
        if (fabs(inches(h->liner_m) - p->od) > SAME_IN || !slow_hanger_fits(h, casing) ||
            !bears(c, s, i, p, h))
            continue;
        new.through = fmin(own, slow_hanger_bore(h));
        n = add_state(list, n, new);
    }
    return n;
}

bool slow_best_path(const context *c, const standing *s, drilled *best)
{
    state *lists = calloc(2 * STATES, sizeof *lists), *now = lists, *next = lists + STATES;
    const rows *r = c->rows;
    const claimed_string *top = &c->claims->strings[0];
    size_t n = 0;
    *best = (drilled){INFINITY, INFINITY};
    if (!lists) return false;
    for (size_t k = 0; k < r->pipe_count; ++k) {
        const row_pipe *p = &r->pipes[k];
        if (s->string[0].row[k] && allowed(c, 0, p) && fabs(p->od - inches(top->od_m)) < SAME_IN &&
            fabs(run_od(p) - inches(top->largest_od_m)) < SAME_IN)
            n = add_state(now, n,
                          (state){k, slow_drift(c->well, p),
                                  driven(c, 0) ? (drilled){0, 0} : best_hole(c, 0, p, INFINITY)});
    }
    for (size_t i = 1; i < c->claims->count; ++i) {
        size_t m = 0;
        for (size_t k = 0; k < r->pipe_count; ++k) {
            if (!s->string[i].row[k] || !allowed(c, i, &r->pipes[k]) ||
                through_tieback(c, s, i, &r->pipes[k]) < 0)
                continue;
            for (size_t a = 0; a < n; ++a)
                m = go_down(c, s, i, &now[a], k, next, m);
        }
        state *swap = now;
        now = next;
        next = swap;
        n = m;
    }
    for (size_t a = 0; a < n; ++a)
        if (slow_less(now[a].cost, *best)) *best = now[a].cost;
    free(lists);
    return true;
}

void check_no_nest(const context *c)
{
    for (size_t i = 0; i < c->well->pin_count; ++i)
        if (!isnan(c->well->pins[i].hole_m)) return; /* pinned holes keep rules of their own */
    demand_true(c->v, "no-nest", -1, !slow_path_exists(c, NULL),
                "pipes nest, and the planner says that none do");
}
