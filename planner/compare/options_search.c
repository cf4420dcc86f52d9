/* SPDX-License-Identifier: MIT */
/*
 * Every non-dominated program of a number of strings, bottom-up (docs/options.md).
 *
 * A label is a lower part of a program: strings k and below, hung from the shoe `top`. Its
 * state is (k, top, the bit that must pass the string above); beside its score it carries the
 * surface pressure that the string above must hold for it. Within one state a label that
 * another equals or beats in everything, pressure included, is dropped: whatever upper part
 * completes the dropped one completes the other at least as well.
 */
#include "options_run.h"
#include "same.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static dt_status push(labels *list, const label *item)
{
    if (list->count == list->capacity) {
        size_t capacity = list->capacity ? 2 * list->capacity : 256;
        label *bigger = realloc(list->items, capacity * sizeof *bigger);
        if (!bigger) return DT_E_MEMORY;
        list->items = bigger;
        list->capacity = capacity;
    }
    list->items[list->count++] = *item;
    return DT_OK;
}

/* ---- dominance ---- */

static int by_score(const void *left, const void *right)
{
    const label *a = left, *b = right;
    if (a->cents != b->cents) return a->cents < b->cents ? -1 : 1;
    if (a->steel != b->steel) return a->steel < b->steel ? -1 : 1;
    if (a->minutes != b->minutes) return a->minutes < b->minutes ? -1 : 1;
    if (a->asks.gas_pa != b->asks.gas_pa) return a->asks.gas_pa < b->asks.gas_pa ? -1 : 1;
    if (a->asks.level_m != b->asks.level_m) return a->asks.level_m < b->asks.level_m ? -1 : 1;
    if (a->asks.inside_pa != b->asks.inside_pa)
        return a->asks.inside_pa > b->asks.inside_pa ? -1 : 1;
    if (a->ties != b->ties) return a->ties < b->ties ? -1 : 1;
    if (a->od != b->od) return a->od > b->od ? -1 : 1;
    if (a->spares != b->spares) return a->spares > b->spares ? -1 : 1;
    if (a->hosts != b->hosts) return a->hosts > b->hosts ? -1 : 1; /* a larger set first */
    if (a->asks.kind != b->asks.kind) return a->asks.kind < b->asks.kind ? -1 : 1;
    if (a->exposure != b->exposure) return a->exposure < b->exposure ? -1 : 1;
    /* Equal in all: any one may stay; this makes it the same one on every machine. */
    if (a->shoe != b->shoe) return a->shoe < b->shoe ? -1 : 1;
    if (a->hole != b->hole) return a->hole < b->hole ? -1 : 1;
    if (a->offer != b->offer) return a->offer < b->offer ? -1 : 1;
    if (a->tie != b->tie) return a->tie < b->tie ? -1 : 1;
    return (a->child > b->child) - (a->child < b->child);
}

static bool at_least(const label *a, const label *b)
{
    return a->steel <= b->steel && a->minutes <= b->minutes && a->ties <= b->ties &&
           a->od >= b->od && a->spares >= b->spares && a->cents <= b->cents &&
           (b->hosts & ~a->hosts) == 0 && dt_asks_no_more(&a->asks, &b->asks);
}

/** Room for every kind that these labels are of. */
static dt_status make_kind_room(run *r, const label *items, size_t count)
{
    int most = 0;
    for (size_t i = 0; i < count; ++i)
        if (items[i].asks.kind > most) most = items[i].asks.kind;
    if (most < r->kind_room) return DT_OK;
    label_list *bigger = calloc(2 * (size_t)most + 1, sizeof *bigger);
    if (!bigger) return DT_E_MEMORY;
    free(r->of_kind);
    r->of_kind = bigger;
    r->kind_room = 2 * most + 1;
    return DT_OK;
}

/** Is a label equalled or beaten by one of its kind that is kept? Others never compare. */
static bool is_beaten(const label *items, const label_list *kept, const label *by)
{
    for (int k = kept->first; k; k = items[k - 1].next)
        if (at_least(&items[k - 1], by)) return true;
    return false;
}

/** Keeps what nothing else in the list equals or beats. */
static dt_status thin_out(run *r, label *items, size_t *count)
{
    dt_status status = make_kind_room(r, items, *count);
    if (status != DT_OK) return status;
    if (*count > 1) qsort(items, *count, sizeof *items, by_score);
    size_t kept = 0;
    for (size_t i = 0; i < *count; ++i) {
        label_list *list = &r->of_kind[items[i].asks.kind];
        if (is_beaten(items, list, &items[i])) {
            ++r->search->dominated;
            continue;
        }
        items[kept] = items[i];
        items[kept++].next = 0;
        *(list->last ? &items[list->last - 1].next : &list->first) = (int)kept;
        list->last = (int)kept;
    }
    for (size_t i = 0; i < kept; ++i)
        r->of_kind[items[i].asks.kind] = (label_list){0, 0};
    *count = kept;
    return DT_OK;
}

/* ---- the front of finished programs ---- */

static bool score_at_least(const dt_score *a, const dt_score *b)
{
    return a->cents <= b->cents && a->steel <= b->steel && a->minutes <= b->minutes;
}

bool dt_score_at_least(const dt_option *a, const dt_score *as, const dt_option *b,
                       const dt_score *bs)
{
    return score_at_least(as, bs) && a->count + a->tiebacks <= b->count + b->tiebacks &&
           a->spares >= b->spares && a->last_od_m >= b->last_od_m - SAME_DIAMETER_M;
}

/** Is there a finished program at least as good as anything this could become? */
static bool front_beats(const run *r, double cents, int steel, int minutes, int ties, double od_m,
                        int spares)
{
    dt_front *front = &r->search->front;
    const dt_score bound_score = {cents, steel, minutes};
    for (size_t i = 0; i < front->count; ++i) {
        if (!score_at_least(&front->scores[i], &bound_score)) continue;
        const dt_option *o = &front->items[i];
        if (o->count + o->tiebacks <= r->count + (size_t)ties && (int)o->spares >= spares &&
            o->last_od_m >= od_m - SAME_DIAMETER_M)
            return true;
    }
    return false;
}

static dt_status front_add(dt_front *front, const dt_option *option, const dt_score *score)
{
    for (size_t i = 0; i < front->count; ++i)
        if (dt_score_at_least(&front->items[i], &front->scores[i], option, score)) return DT_OK;
    size_t kept = 0;
    for (size_t i = 0; i < front->count; ++i) {
        if (dt_score_at_least(option, score, &front->items[i], &front->scores[i])) continue;
        front->items[kept] = front->items[i];
        front->scores[kept++] = front->scores[i];
    }
    front->count = kept;
    if (front->count == front->capacity) {
        size_t capacity = front->capacity ? 2 * front->capacity : 64;
        dt_option *items = realloc(front->items, capacity * sizeof *items);
        if (items) front->items = items;
        dt_score *scores = realloc(front->scores, capacity * sizeof *scores);
        if (scores) front->scores = scores;
        if (!items || !scores) return DT_E_MEMORY;
        front->capacity = capacity;
    }
    front->items[front->count] = *option;
    front->scores[front->count++] = *score;
    return DT_OK;
}

/* ---- labels ---- */

static bool type_allowed(const rank *rk, dt_string_type type)
{
    return type == DT_FULL ? rk->full : type == DT_LINER ? rk->liner : rk->tied;
}

static uint8_t od_rank(const run *r, double od_m)
{
    for (size_t i = 0; i < r->od_count; ++i)
        if (fabs(r->ods[i] - od_m) < SAME_DIAMETER_M) return (uint8_t)i;
    return 0;
}

/** What hangs below a full string is covered by it, and asks no more of those above. */
static void cover(label *item)
{
    item->asks = (dt_asks){0};
    item->asks.gas_ordered = item->asks.loss_ordered = true;
    item->exposure = 0;
}

/** May what hangs from the string below be set in this offer? Pinned pipe hosts it in any weight.
 */
static bool hosts(const stand *st, size_t i, dt_hosts asked)
{
    dt_hosts own = st->pinned ? st->offers->hosts : st->offers->items[i].hosts;
    return asked == DT_ANY_HOST || (own & asked) != 0;
}

/** Offers of a stand that hold, host what hangs in them, and that no other beats. */
static void choose_offers(stand *st, const dt_asks *asks, dt_hosts asked)
{
    st->chosen_count = 0;
    for (size_t i = 0; i < st->offers->count; ++i) {
        if (!st->passes[i] || !st->hosts[i] || !hosts(st, i, asked)) continue;
        bool beaten = false;
        for (size_t c = 0; c < st->chosen_count && !beaten; ++c)
            beaten = st->steel[st->chosen[c]] <= st->steel[i] &&
                     st->cents[st->chosen[c]] <= st->cents[i] &&
                     st->spares[st->chosen[c]] >= st->spares[i] &&
                     (st->hosts[i] & ~st->hosts[st->chosen[c]]) == 0;
        if (!beaten && dt_stand_holds(st, i, asks)) st->chosen[st->chosen_count++] = (int)i;
    }
}

static size_t add_way(way *ways, size_t count, const way *made)
{
    for (size_t i = 0; i < count; ++i)
        if (ways[i].cents <= made->cents && ways[i].steel <= made->steel &&
            ways[i].spares >= made->spares && (made->hosts & ~ways[i].hosts) == 0)
            return count;
    ways[count] = *made;
    return count + 1;
}

/** Ways to buy the string and its tie-back (NULL: none) under a label below that no other beats. A
 * spare has to pass both; what hangs below is set in the liner. */
static void choose_ways(stand *st, stand *tie, const label *below, size_t *count)
{
    *count = 0;
    st->exposure = below->exposure;
    if (tie) tie->exposure = below->exposure;
    choose_offers(st, &below->asks, below->hosts);
    if (tie && st->chosen_count > 0) choose_offers(tie, &below->asks, DT_ANY_HOST);
    for (size_t c = 0; c < st->chosen_count; ++c) {
        const int i = st->chosen[c];
        way made = {st->cents[i], st->hosts[i], st->steel[i], i, 0, st->spares[i]};
        if (!tie) st->ways[(*count)++] = made;
        for (size_t t = 0; tie && t < tie->chosen_count; ++t) {
            made.tie = tie->chosen[t];
            made.cents = st->cents[i] + tie->cents[made.tie];
            made.steel = st->steel[i] + tie->steel[made.tie];
            made.spares =
                st->spares[i] < tie->spares[made.tie] ? st->spares[i] : tie->spares[made.tie];
            *count = add_way(st->ways, *count, &made);
        }
    }
}

/** Adds to `out` every way to put the pipe of a stand on the labels of one bucket below. */
static dt_status put_pipe(run *r, stand *st, stand *tie, const label *below, span part,
                          const label *like, labels *out)
{
    size_t ways = 0;
    const label *of = NULL; /* below which the ways were chosen */
    for (size_t l = 0; l < part.count; ++l) {
        const label *child = &below[l];
        if (child->ties + (tie ? 1u : 0u) > r->most_tiebacks) continue;
        if (like->type == DT_LINER && child->asks.gas_pa > st->most_sent_pa) {
            ++r->search->bounded; /* no string above holds what this sends up */
            continue;
        }
        if (!of || child->asks.gas_pa != of->asks.gas_pa || child->exposure != of->exposure ||
            child->hosts != of->hosts) {
            of = child;
            choose_ways(st, tie, child, &ways);
        }
        for (size_t w = 0; w < ways; ++w) {
            const way *by = &st->ways[w];
            label made = *like;
            made.cents = child->cents + by->cents;
            made.steel = child->steel + by->steel;
            made.minutes = child->minutes;
            made.asks = child->asks;
            made.exposure = child->exposure;
            made.hosts = by->hosts;
            if (like->child != -1) made.od = child->od; /* -1: there is nothing below */
            made.spares = (uint8_t)(child->spares + by->spares);
            made.ties = (uint8_t)(child->ties + (tie ? 1 : 0));
            made.child = (int)(part.first + l);
            made.offer = by->offer;
            made.tie = (uint16_t)by->tie;
            if (r->search->existence) {
                made.cents = 0;
                made.steel = made.minutes = 0;
                made.od = made.spares = 0;
            }
            ++r->search->made;
            if (push(out, &made) != DT_OK) return DT_E_MEMORY;
        }
    }
    return DT_OK;
}

/** The deepest string: every pipe that the well file allows, with nothing below it. */
static dt_status hang_last(run *r, const spot *at, size_t pipe, stand *st, stand *tie, label *like,
                           labels *out)
{
    const dt_sites *s = r->sites;
    label nothing = {.hosts = DT_ANY_HOST};
    double open_m = 0;
    cover(&nothing);
    if (r->search->by_pressure)
        nothing.asks.gas_pa = dt_ends_below(r, at->k)
                                  ? s->finished_pa[at->top]
                                  : dt_pressure_when_finished(&r->search->choice, s->tvd_m[at->top],
                                                              s->tvd_m[at->base]);
    if (!dt_ends_below(r, at->k)) {
        if (!r->open_reach[pipe] || r->open_reach[pipe][at->base] + 1 < s->count) return DT_OK;
        open_m = r->open_m[pipe];
        const bound open = dt_open_hole_bill(r, at->base, open_m);
        nothing.cents = open.cents;
        nothing.minutes = open.minutes;
    }
    like->child = -1;
    like->od = od_rank(r, r->nest.pipes[pipe].od_m);
    stand *both[] = {st, tie};
    for (size_t b = 0; b < 2 && both[b]; ++b) {
        for (size_t i = 0; i < both[b]->offers->count; ++i) {
            both[b]->passes[i] =
                both[b]->allowed[i] &&
                (both[b]->pinned || both[b]->offers->items[i].drift_m >= open_m - SAME_DIAMETER_M);
            both[b]->spares[i] = 0;
        }
        dt_stand_find_hosts(r, at, 0, both[b]);
    }
    return put_pipe(r, st, tie, &nothing, (span){0, 1}, like, out);
}

/** All ways to hang a pipe size in a place on everything below it; not yet the hole. `tie` is
 * where a tie-back stands, used when the type is one. */
static dt_status hang(run *r, const spot *at, size_t p, stand *st, stand *tie, labels *out)
{
    const rank *rk = &r->ranks[at->k];
    size_t pipe = rk->pipes[p];
    label like = {.shoe = (uint16_t)at->base, .pipe = (uint16_t)pipe, .type = (uint8_t)at->type};
    if (at->type != DT_TIEBACK) tie = NULL;
    out->count = 0;
    dt_status status = dt_stand_make(r, at, false, p, st);
    if (status == DT_OK && tie) status = dt_stand_make(r, at, true, p, tie);
    if (status != DT_OK || st->none || (tie && tie->none)) return status;
    dt_stand_find_most_sent(r, at, pipe, st);
    if (st->sends_pa > st->most_sent_pa) return DT_OK; /* no string above holds that */
    if (at->k + 1 == r->count) return hang_last(r, at, pipe, st, tie, &like, out);
    const rank *below = &r->ranks[at->k + 1];
    for (size_t beta = 0; beta < below->bit_count && status == DT_OK; ++beta) {
        span part = below->bucket[at->base * below->bit_count + beta];
        if (part.count == 0) continue;
        dt_stand_count_spares(r, at, pipe, below->bits[beta], st);
        if (tie) dt_stand_count_spares(r, at, pipe, below->bits[beta], tie);
        status = put_pipe(r, st, tie, below->layer.items + part.first, part, &like, out);
    }
    return status;
}

/** The best of a group in each criterion by itself. */
static label ideal_of(const label *items, size_t count)
{
    label best = items[0];
    for (size_t i = 1; i < count; ++i) {
        best.cents = fmin(best.cents, items[i].cents);
        if (items[i].steel < best.steel) best.steel = items[i].steel;
        if (items[i].minutes < best.minutes) best.minutes = items[i].minutes;
        if (items[i].ties < best.ties) best.ties = items[i].ties;
        if (items[i].od > best.od) best.od = items[i].od;
        if (items[i].spares > best.spares) best.spares = items[i].spares;
    }
    return best;
}

/** Where chains count: what the string above sees, and what that asks. */
static dt_status send_up(run *r, const spot *at, label *made)
{
    const int below = made->exposure;
    cover(made);
    if (at->k == 0) return DT_OK;
    int next = at->type == DT_LINER ? below : DT_COVERED;
    /* all the same to the string above, but that the liner under a tie-back is tested in it first
     */
    if (at->type == DT_TIEBACK && r->search->choice.well->liner_test.given) next = DT_TIED;
    dt_status status =
        dt_exposure_number(r->search, (int)at->top, (int)at->base, next, &made->exposure);
    if (status != DT_OK) return status;
    made->asks = r->search->exposures[made->exposure - 1].asks;
    return DT_OK;
}

/** Drills the hole of hung pipe: the group goes to the heap of its top, with what the string
 * above must hold and let through. */
static dt_status drill(run *r, const spot *at, size_t pipe, const label *items, size_t count)
{
    const rank *rk = &r->ranks[at->k];
    const label ideal = ideal_of(items, count);
    double here = at->k > 0 ? r->sites->pressure_pa[at->top * r->sites->count + at->base] : 0;
    for (size_t f = 0; f < r->nest.fit_count; ++f) {
        size_t hole = r->nest.fits[f].hole;
        if (r->nest.fits[f].pipe != pipe || !dt_hole_allowed(r->search, &r->nest.holes[hole]))
            continue;
        if (at->k > 0 && r->reach_of_hole[hole][at->top] < at->base) continue;
        size_t bit = r->bit_of_hole[hole];
        bound own = dt_hole_bill(r, at, &r->nest.holes[hole], r->nest.pipes[pipe].od_m);
        bound above = {0, 0, 0, 0};
        if (at->k > 0) above = rk->above[at->top * rk->bit_count + bit];
        if (above.spares < 0) continue; /* nothing above can let this through */
        if (r->search->existence) above = (bound){0, 0, 0, 0};
        double cents = own.cents + above.cents;
        int minutes = own.minutes + above.minutes;
        if (front_beats(r, ideal.cents + cents, ideal.steel + above.steel, ideal.minutes + minutes,
                        ideal.ties, r->ods[ideal.od], ideal.spares + above.spares)) {
            r->search->bounded += count;
            continue;
        }
        for (size_t i = 0; i < count; ++i) {
            label made = items[i];
            if (front_beats(r, made.cents + cents, made.steel + above.steel, made.minutes + minutes,
                            made.ties, r->ods[made.od], made.spares + above.spares)) {
                ++r->search->bounded;
                continue;
            }
            made.cents += own.cents;
            made.minutes += own.minutes;
            made.hole = (uint16_t)hole;
            made.asks.gas_pa = at->type == DT_LINER ? fmax(here, made.asks.gas_pa) : here;
            if (!r->search->by_pressure && send_up(r, at, &made) != DT_OK) return DT_E_MEMORY;
            if (!dt_may_be_held(r, at, r->nest.holes[hole].bit_m, &made.asks)) {
                ++r->search->bounded;
                continue;
            }
            made.bit = (uint16_t)bit;
            if (push(&r->heap, &made) != DT_OK) return DT_E_MEMORY;
        }
    }
    return DT_OK;
}

/** Is there a hole for the pipe that reaches so deep, whose bit something above lets through? */
static bool leads_up(const run *r, const spot *at, size_t pipe)
{
    const rank *rk = &r->ranks[at->k];
    for (size_t f = 0; at->k > 0 && f < r->nest.fit_count; ++f) {
        const size_t hole = r->nest.fits[f].hole;
        if (r->nest.fits[f].pipe == pipe && dt_hole_allowed(r->search, &r->nest.holes[hole]) &&
            r->reach_of_hole[hole][at->top] >= at->base &&
            rk->above[at->top * rk->bit_count + r->bit_of_hole[hole]].spares >= 0)
            return true;
    }
    return at->k == 0;
}

static dt_status try_pipe(run *r, const spot *at, size_t p, stand *st, stand *tie)
{
    labels *group = &r->scratch;
    if (!leads_up(r, at, r->ranks[at->k].pipes[p])) return DT_OK;
    dt_status status = hang(r, at, p, st, tie, group);
    if (status != DT_OK) return status;
    for (size_t i = 0; at->type != DT_LINER && i < group->count; ++i)
        cover(&group->items[i]);
    status = thin_out(r, group->items, &group->count);
    if (status != DT_OK || group->count == 0) return status;
    return drill(r, at, r->ranks[at->k].pipes[p], group->items, group->count);
}

/** Moves the heap of one top into the layer, bit by bit, thinned out. */
static dt_status settle_top(run *r, size_t k, size_t top)
{
    rank *rk = &r->ranks[k];
    for (size_t bit = 0; bit < rk->bit_count; ++bit) {
        r->sorted.count = 0;
        for (size_t i = 0; i < r->heap.count; ++i)
            if (r->heap.items[i].bit == bit && push(&r->sorted, &r->heap.items[i]) != DT_OK)
                return DT_E_MEMORY;
        const dt_status status = thin_out(r, r->sorted.items, &r->sorted.count);
        if (status != DT_OK) return status;
        rk->bucket[top * rk->bit_count + bit] = (span){rk->layer.count, r->sorted.count};
        for (size_t i = 0; i < r->sorted.count; ++i)
            if (push(&rk->layer, &r->sorted.items[i]) != DT_OK) return DT_E_MEMORY;
        r->search->kept += r->sorted.count;
    }
    r->heap.count = 0;
    return DT_OK;
}

/** Tells whoever asked how far it has come. DT_OK, or DT_E_STOPPED: also where it takes too long.
 */
static dt_status tell(const dt_search *s)
{
    const dt_progress *p = s->progress;
    if (s->work > s->most_work) return DT_E_STOPPED;
    return !p || !p->go_on || p->go_on(p->context, s->made, 0) ? DT_OK : DT_E_STOPPED;
}

static dt_status label_rank(run *r, size_t k)
{
    const dt_sites *s = r->sites;
    const rank *rk = &r->ranks[k];
    stand *st = dt_stand_new(r), *tie = dt_stand_new(r);
    dt_status status = st && tie ? DT_OK : DT_E_MEMORY;
    for (size_t top = 0; top < s->count && status == DT_OK; ++top) {
        if (k > 0 && !r->ranks[k - 1].site[top]) continue;
        if (!dt_leads_up(r, k, top)) continue;
        size_t deepest = k > 0 ? rk->reach[top] : 0;
        for (size_t base = k > 0 ? top + 1 : 0; base <= deepest && status == DT_OK; ++base) {
            if (!rk->site[base]) continue;
            status = tell(r->search);
            for (size_t p = 0; p < rk->pipe_count; ++p)
                for (int type = DT_FULL; type <= DT_TIEBACK && status == DT_OK; ++type) {
                    if (!type_allowed(rk, (dt_string_type)type)) continue;
                    if (type == DT_TIEBACK && r->most_tiebacks == 0) continue;
                    spot at = {k, top, base, (dt_string_type)type};
                    status = try_pipe(r, &at, p, st, tie);
                }
        }
        if (status == DT_OK) status = settle_top(r, k, top);
        if (k == 0) break;
    }
    dt_stand_free(st);
    dt_stand_free(tie);
    return status;
}

/* ---- finished programs ---- */

static void read_option(const run *r, const label *top, dt_option *out)
{
    *out = (dt_option){.cost = top->cents / 100,
                       .steel_kg = top->steel / 10.0,
                       .days = top->minutes / (24.0 * 60),
                       .spares = top->spares,
                       .last_od_m = r->ods[top->od],
                       .count = r->count,
                       .tiebacks = top->ties};
    const label *at = top;
    for (size_t k = 0; k < r->count; ++k) {
        const dt_nest_hole *hole = &r->nest.holes[at->hole];
        size_t size = dt_pipe_choice_size(&r->search->choice, &r->nest.pipes[at->pipe]);
        const dt_offer *offers = r->search->choice.sizes[size].items;
        const bool tied = at->type == DT_TIEBACK;
        out->strings[k] =
            (dt_choice){.role = r->seats[k].role,
                        .type = tied ? DT_LINER : (dt_string_type)at->type,
                        .shoe_m = r->sites->tvd_m[at->shoe],
                        .hole_m = hole->diameter_m,
                        .bit_m = hole->bit_m,
                        .pipe = offers[at->offer].pipe,
                        .thread = offers[at->offer].thread,
                        .tied_back = tied,
                        .tie_pipe = tied ? offers[at->tie].pipe : NULL,
                        .tie_thread = tied ? offers[at->tie].thread : DT_THREAD_COUNT};
        if (k + 1 == r->count && !dt_ends_below(r, k)) out->open_hole_m = r->open_m[at->pipe];
        if (k + 1 < r->count) at = &r->ranks[k + 1].layer.items[at->child];
    }
}

static dt_status finish(run *r)
{
    const labels *top = &r->ranks[0].layer;
    for (size_t i = 0; i < top->count; ++i) {
        dt_option option;
        read_option(r, &top->items[i], &option);
        const dt_score score = {top->items[i].cents, top->items[i].steel, top->items[i].minutes};
        if (front_add(&r->search->front, &option, &score) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

/* ---- one run ---- */

static void give_roles(run *r)
{
    for (size_t k = 0; k < r->count; ++k)
        r->seats[k] = (dt_seat){.role = k == 0                ? DT_CONDUCTOR
                                        : dt_ends_below(r, k) ? DT_PRODUCTION
                                        : k == 1              ? DT_SURFACE
                                                              : DT_INTERMEDIATE,
                                .type = DT_FULL,
                                .pin = DT_NO_INDEX};
}

/** Leaves the pairs of hole and pipe that the latitude of the search allows. DT_E_NONE: they lead
 * nowhere. */
static dt_status keep_allowed(run *r)
{
    const dt_well *well = r->search->choice.well;
    dt_nest *n = &r->nest;
    size_t kept = 0, blocked;
    for (size_t f = 0; f < n->fit_count; ++f) {
        const dt_nest_hole *hole = &n->holes[n->fits[f].hole];
        const size_t pin = r->seats[hole->string].pin;
        if (dt_ladder_allows(well, pin == DT_NO_INDEX ? NULL : &well->pins[pin], hole,
                             &n->pipes[n->fits[f].pipe], r->count, r->search->latitude))
            n->fits[kept++] = n->fits[f];
    }
    size_t led = 0;
    for (size_t e = 0; e < n->pass_count; ++e) {
        const dt_nest_hole *next = &n->holes[n->passes[e].hole];
        const size_t pin = r->seats[next->string].pin;
        if (dt_ladder_leads_on(well, r->search->choice.catalogue,
                               pin == DT_NO_INDEX ? NULL : &well->pins[pin],
                               &n->pipes[n->passes[e].pipe], next, r->search->latitude))
            n->passes[led++] = n->passes[e];
    }
    if (kept == n->fit_count && led == n->pass_count) return DT_OK;
    n->fit_count = kept;
    n->pass_count = led;
    return dt_nest_prune(n, &blocked);
}

static dt_status run_once(run *r)
{
    size_t blocked;
    const dt_seats seats = {.items = r->seats, .count = r->count};
    dt_status status = dt_nest_build(r->search->choice.well, &seats, r->search->choice.catalogue,
                                     &r->nest, &blocked);
    if (status == DT_OK) status = keep_allowed(r);
    if (status != DT_OK) return status == DT_E_NONE ? DT_OK : status;
    status = dt_run_lay_out(r);
    if (status != DT_OK || !r->ranks[0].site[0]) return status;
    status = dt_run_bound(r);
    if (status == DT_E_NONE) return DT_OK;
    for (size_t k = r->count; k-- > 0 && status == DT_OK;)
        status = label_rank(r, k);
    return status == DT_OK ? finish(r) : status;
}

/** Tries every way to give the pinned intermediate strings to those of this run, in order. */
static dt_status with_pins(dt_search *search, size_t count, size_t most_tiebacks,
                           const size_t *of_pin, size_t pins)
{
    run *r = calloc(1, sizeof *r);
    if (!r) return DT_E_MEMORY;
    r->search = search;
    r->sites = &search->sites;
    r->count = count;
    r->most_tiebacks = most_tiebacks;
    dt_times_settle(search->choice.well, &r->times);
    give_roles(r);
    for (size_t i = 0; i < pins; ++i)
        if (search->choice.well->pins[i].type != DT_TIEBACK && of_pin[i] < count)
            r->seats[of_pin[i]].pin = i;
    dt_status status = run_once(r);
    if (search->out_of_memory) status = DT_E_MEMORY;
    dt_run_free(r);
    free(r);
    return status;
}

static dt_status assign(dt_search *search, size_t count, size_t most_tiebacks, size_t *of_pin,
                        size_t pin, size_t next)
{
    const dt_well *well = search->choice.well;
    if (pin == well->pin_count)
        return with_pins(search, count, most_tiebacks, of_pin, well->pin_count);
    if (well->pins[pin].type == DT_TIEBACK) /* goes with its liner's */
        return assign(search, count, most_tiebacks, of_pin, pin + 1, next);
    dt_role role = well->pins[pin].role;
    if (role != DT_INTERMEDIATE) {
        of_pin[pin] = role == DT_CONDUCTOR ? 0 : role == DT_SURFACE ? 1 : count - 1;
        if (role == DT_SURFACE && count < (well->last_open ? 2 : 3)) return DT_OK;
        return assign(search, count, most_tiebacks, of_pin, pin + 1, of_pin[pin] + 1);
    }
    dt_status status = DT_OK;
    const size_t end = well->last_open ? count : count - 1;
    for (size_t k = next < 2 ? 2 : next; k < end && status == DT_OK; ++k) {
        of_pin[pin] = k;
        status = assign(search, count, most_tiebacks, of_pin, pin + 1, k + 1);
    }
    return status;
}

dt_status dt_search_strings(dt_search *search, size_t string_count, size_t most_tiebacks)
{
    const dt_well *well = search->choice.well;
    const size_t surface = search->sites.least_surface_m > search->sites.tvd_m[0] ? 1 : 0;
    const size_t least = 1 + surface + (well->last_open ? 0 : 1);
    if (string_count < 2 || string_count < least || string_count > DT_MOST_STRINGS) return DT_OK;
    size_t *of_pin = calloc(well->pin_count + 1, sizeof *of_pin);
    if (!of_pin) return DT_E_MEMORY;
    dt_status status = assign(search, string_count, most_tiebacks, of_pin, 0, 0);
    free(of_pin);
    return status;
}
