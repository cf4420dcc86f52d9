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
#include "options_search.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "drawtube/units.h"

#define SAME_DIAMETER_M (0.0005 * DT_M_PER_IN)

typedef struct label {
    double cents;   /* whole */
    dt_hosts hosts; /* kinds of pipe the string above may be, for the hanger to be set in */
    dt_asks asks;   /* of the string above; where one pressure says it all, gas_pa alone */
    int exposure;   /* where it does not: the chain of shoes, from which all loads follow */
    int steel, minutes;
    int child, offer;          /* label of the layer below, offer of the pipe's size */
    uint16_t shoe, hole, pipe; /* site; indices into the nest */
    uint16_t bit;              /* of the hole, into the rank's bits */
    uint16_t tie;              /* offer of a tie-back, of the pipe's size */
    uint8_t type, od, spares;  /* od: rank among the sizes of the last string */
    uint8_t ties;              /* tie-backs; type DT_TIEBACK is a liner with one on it */
} label;

typedef struct labels {
    label *items;
    size_t count, capacity;
} labels;

/** Part of an array of labels. */
typedef struct span {
    size_t first, count;
} span;

/** The least an upper part can add; spares: the most. */
typedef struct bound {
    double cents;
    int steel, minutes, spares;
} bound;

static const bound no_way = {INFINITY, INT32_MAX / 4, INT32_MAX / 4, -1};

/** Strings `k` of the run, as far as they do not depend on seats. */
typedef struct rank {
    const dt_pin *pin, *tie_pin;
    bool pipe_pinned, tie_pinned;
    bool hanger_waived;
    bool full, liner, tied;    /* types allowed; tied: a liner with its tie-back */
    size_t *pipes, pipe_count; /* into the nest */
    size_t *size_of;           /* of each of them, into choice.sizes */
    double *bits;              /* distinct, that the string above must let through */
    size_t bit_count;
    double *most_burst; /* of the pipe above that lets each bit through, by ratings */
    bool *site;         /* its shoe may stand there in a complete program */
    labels layer;
    span *bucket; /* of [top site * bit_count + bit], into layer */
    bound *above; /* for the same index: strings above this one */
} rank;

typedef struct run {
    dt_search *search;
    const dt_sites *sites;
    size_t count; /* drilled strings */
    size_t most_tiebacks;
    dt_seat seats[DT_MOST_STRINGS];
    dt_nest nest;
    size_t *bit_of_hole;
    rank ranks[DT_MOST_STRINGS];
    dt_times_in_force times;
    double ods[256]; /* of the last string, growing */
    size_t od_count;
    labels heap; /* candidates of one top */
    labels scratch;
    labels sorted;
} run;

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

/** Keeps what nothing else in the list equals or beats. */
static void thin_out(dt_search *search, label *items, size_t *count)
{
    if (*count > 1) qsort(items, *count, sizeof *items, by_score);
    size_t kept = 0;
    for (size_t i = 0; i < *count; ++i) {
        bool beaten = false;
        for (size_t k = 0; k < kept && !beaten; ++k)
            if (at_least(&items[k], &items[i])) beaten = true;
        if (beaten)
            ++search->dominated;
        else
            items[kept++] = items[i];
    }
    *count = kept;
}

/* ---- the front of finished programs -----------------------------------------------------------
 */

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

/* ---- setting up -------------------------------------------------------------------------------
 */

static bool forbidden(const dt_search *search, size_t k, double od_m, double largest_m)
{
    const dt_wish_set *w = &search->wishes;
    for (size_t i = 0; i < w->forbidden_count; ++i)
        if (fabs(w->forbidden_od_m[i] - od_m) < SAME_DIAMETER_M) return true;
    return k >= 2 && largest_m > w->bore_m + SAME_DIAMETER_M;
}

static bool hole_allowed(const dt_search *search, const dt_nest_hole *hole)
{
    return hole->string < 2 || hole->bit_m <= search->wishes.bore_m + SAME_DIAMETER_M;
}

static void set_types(const run *r, size_t k, rank *rk)
{
    bool may_hang = k >= 2;
    rk->full = true;
    rk->liner = may_hang && r->search->choice.well->seats.liners;
    rk->tied = rk->liner && !r->search->wishes.no_tiebacks;
    if (!rk->pin || rk->pin->type == DT_TYPE_UNSAID) return;
    const bool hangs = rk->pin->type == DT_LINER;
    rk->full = !hangs;
    rk->liner = hangs && !rk->tie_pin;
    rk->tied = rk->tie_pin || (hangs && !r->search->wishes.no_tiebacks);
}

static bool type_allowed(const rank *rk, dt_string_type type)
{
    return type == DT_FULL ? rk->full : type == DT_LINER ? rk->liner : rk->tied;
}

/** The pin of the tie-back on a pinned liner, or NULL. */
static const dt_pin *tieback_pin(const dt_well *well, size_t pin)
{
    if (pin == DT_NO_INDEX || pin + 1 >= well->pin_count) return NULL;
    return well->pins[pin + 1].type == DT_TIEBACK ? &well->pins[pin + 1] : NULL;
}

static size_t find_bit(const rank *rk, double bit_m)
{
    for (size_t i = 0; i < rk->bit_count; ++i)
        if (fabs(rk->bits[i] - bit_m) < SAME_DIAMETER_M) return i;
    return DT_NO_INDEX;
}

static dt_status set_rank(run *r, size_t k)
{
    rank *rk = &r->ranks[k];
    const dt_nest *n = &r->nest;
    size_t pin = r->seats[k].pin;
    rk->pin = pin == DT_NO_INDEX ? NULL : &r->search->choice.well->pins[pin];
    rk->pipe_pinned =
        rk->pin && isfinite(rk->pin->od_m) && isfinite(rk->pin->weight_kgm) && rk->pin->grade;
    const dt_pin *above = k > 0 ? r->ranks[k - 1].pin : NULL;
    rk->hanger_waived = dt_hanger_waived(r->search->choice.well, rk->pin, above);
    rk->tie_pin = tieback_pin(r->search->choice.well, pin);
    rk->tie_pinned = rk->tie_pin && isfinite(rk->tie_pin->weight_kgm) && rk->tie_pin->grade;
    set_types(r, k, rk);
    rk->pipes = malloc((n->pipe_count + 1) * sizeof *rk->pipes);
    rk->size_of = malloc((n->pipe_count + 1) * sizeof *rk->size_of);
    rk->bits = malloc((n->hole_count + 1) * sizeof *rk->bits);
    if (!rk->pipes || !rk->size_of || !rk->bits) return DT_E_MEMORY;
    for (size_t p = 0; p < n->pipe_count; ++p) {
        const dt_nest_pipe *pipe = &n->pipes[p];
        if (pipe->string != k || forbidden(r->search, k, pipe->od_m, pipe->coupling_od_m)) continue;
        size_t size = dt_pipe_choice_size(&r->search->choice, pipe);
        if (size == DT_NO_INDEX) continue;
        rk->pipes[rk->pipe_count] = p;
        rk->size_of[rk->pipe_count++] = size;
    }
    for (size_t h = 0; h < n->hole_count; ++h) {
        if (n->holes[h].string != k || !hole_allowed(r->search, &n->holes[h])) continue;
        if (find_bit(rk, n->holes[h].bit_m) == DT_NO_INDEX)
            rk->bits[rk->bit_count++] = n->holes[h].bit_m;
        r->bit_of_hole[h] = find_bit(rk, n->holes[h].bit_m);
    }
    size_t buckets = r->sites->count * (rk->bit_count + 1);
    rk->most_burst = calloc(n->hole_count + 1, sizeof *rk->most_burst);
    rk->site = calloc(r->sites->count, sizeof *rk->site);
    rk->bucket = calloc(buckets, sizeof *rk->bucket);
    rk->above = malloc(buckets * sizeof *rk->above);
    if (!rk->most_burst || !rk->site || !rk->bucket || !rk->above) return DT_E_MEMORY;
    for (size_t i = 0; i < buckets; ++i)
        rk->above[i] = no_way;
    return DT_OK;
}

/** What gas the pipe above can burst under at most; a conductor and a pin rule nothing out. */
static void find_most_burst(run *r, size_t k)
{
    const rank *rk = &r->ranks[k], *above = k > 0 ? rk - 1 : NULL;
    for (size_t bit = 0; bit < rk->bit_count; ++bit) {
        if (k < 2 || above->pipe_pinned) rk->most_burst[bit] = INFINITY;
        for (size_t p = 0; k >= 2 && p < above->pipe_count; ++p) {
            const dt_offers *size = &r->search->choice.sizes[above->size_of[p]];
            for (size_t i = 0; i < size->count; ++i)
                if (size->items[i].drift_m >= rk->bits[bit] - SAME_DIAMETER_M)
                    rk->most_burst[bit] = fmax(rk->most_burst[bit], size->items[i].burst_pa);
        }
    }
}

static bool pinned_elsewhere(const run *r, size_t k, size_t site)
{
    const dt_pin *pin = r->ranks[k].pin;
    return pin && k > 0 && k + 1 < r->count && isfinite(pin->shoe_m) &&
           fabs(pin->shoe_m - r->sites->tvd_m[site]) > 1e-6;
}

/** Sites that each string's shoe can take with one left above and below for all others. */
static void set_sites(run *r)
{
    const dt_sites *s = r->sites;
    size_t n = r->count;
    r->ranks[0].site[0] = true;
    for (size_t k = 1; k < n; ++k)
        for (size_t b = 1; b < s->count; ++b) {
            bool last = k + 1 == n;
            if (last ? b + 1 != s->count : !s->shoe[b] || pinned_elsewhere(r, k, b)) continue;
            for (size_t a = 0; a < b && !r->ranks[k].site[b]; ++a)
                r->ranks[k].site[b] = r->ranks[k - 1].site[a] && b <= s->reach[a];
        }
    for (size_t k = n - 1; k-- > 0;)
        for (size_t a = 0; a < s->count; ++a) {
            bool leads = false;
            for (size_t b = a + 1; b <= s->reach[a] && !leads; ++b)
                leads = r->ranks[k + 1].site[b];
            r->ranks[k].site[a] = r->ranks[k].site[a] && leads;
        }
}

static void set_ods(run *r)
{
    const rank *last = &r->ranks[r->count - 1];
    for (size_t i = 0; i < last->pipe_count && r->od_count < 255; ++i) {
        double od = r->nest.pipes[last->pipes[i]].od_m;
        size_t at = 0;
        while (at < r->od_count && r->ods[at] < od - SAME_DIAMETER_M)
            ++at;
        if (at < r->od_count && fabs(r->ods[at] - od) < SAME_DIAMETER_M) continue;
        memmove(&r->ods[at + 1], &r->ods[at], (r->od_count - at) * sizeof *r->ods);
        r->ods[at] = od;
        ++r->od_count;
    }
}

static uint8_t od_rank(const run *r, double od_m)
{
    for (size_t i = 0; i < r->od_count; ++i)
        if (fabs(r->ods[i] - od_m) < SAME_DIAMETER_M) return (uint8_t)i;
    return 0;
}

static void free_run(run *r)
{
    for (size_t k = 0; k < DT_MOST_STRINGS; ++k) {
        free(r->ranks[k].pipes);
        free(r->ranks[k].size_of);
        free(r->ranks[k].bits);
        free(r->ranks[k].most_burst);
        free(r->ranks[k].site);
        free(r->ranks[k].layer.items);
        free(r->ranks[k].bucket);
        free(r->ranks[k].above);
    }
    free(r->bit_of_hole);
    free(r->heap.items);
    free(r->scratch.items);
    free(r->sorted.items);
    dt_nest_free(&r->nest);
}

/* ---- spare strings ------------------------------------------------------------------------------
 */

static unsigned spares_by_trial(dt_search *search, double drift_m, double bit_m)
{
    const dt_pipe_choice *c = &search->choice;
    unsigned most = 0;
    for (size_t i = 0; i < c->size_count; ++i) {
        const dt_offers *size = &c->sizes[i];
        if (size->welded || size->count == 0) continue;
        if (forbidden(search, 2, size->od_m, size->largest_od_m)) continue;
        double hole = size->largest_od_m + 2 * dt_nest_clearance(c->well, size->od_m);
        bool drilled = false;
        for (size_t b = 0; b < c->catalogue->bit_count && !drilled; ++b) {
            double bit = c->catalogue->bits[b].diameter_m;
            drilled = bit >= hole - SAME_DIAMETER_M && bit <= drift_m + SAME_DIAMETER_M;
        }
        double widest = 0;
        for (size_t k = 0; k < size->count; ++k)
            widest = fmax(widest, size->items[k].drift_m);
        if (!drilled || widest < bit_m - SAME_DIAMETER_M || widest >= drift_m) continue;
        unsigned more = 1 + dt_spares_between(search, widest, bit_m);
        if (more > most) most = more;
    }
    return most;
}

/** Drifts and bits are few, and asked for over and over. A slot taken by another pair is worked
 * out again. */
unsigned dt_spares_between(dt_search *search, double drift_m, double bit_m)
{
    if (bit_m >= drift_m) return 0;
    uint64_t a, b;
    memcpy(&a, &drift_m, sizeof a);
    memcpy(&b, &bit_m, sizeof b);
    uint64_t mixed = (a ^ (b * 31)) * 0x9e3779b97f4a7c15u;
    size_t slot = (size_t)(mixed >> 40) & (DT_SPARE_MEMO - 1);
    if (search->spare_memo[slot].drift_m != drift_m || search->spare_memo[slot].bit_m != bit_m) {
        unsigned spares = spares_by_trial(search, drift_m, bit_m);
        search->spare_memo[slot].drift_m = drift_m;
        search->spare_memo[slot].bit_m = bit_m;
        search->spare_memo[slot].spares = spares;
    }
    return search->spare_memo[slot].spares;
}

/* ---- one string in one place ---- */

/** A pipe of one place; with a tie-back on it, the two together. */
typedef struct way {
    double cents;
    dt_hosts hosts;        /* the liner's */
    int steel, offer, tie; /* tie: offer of the tie-back, 0 without one */
    uint8_t spares;
} way;

/** The offers of a size in one place, priced for the length they have there. Whether one holds
 * is found out only when it matters, and remembered in the search. */
typedef struct stand {
    const dt_offers *offers;
    const dt_pipe_choice *choice;
    dt_search *search;
    dt_string_place place;
    dt_string_load load; /* of the exposure `laid` */
    dt_hold_key key;
    int exposure, laid; /* asked for now; with loads and depths at hand */
    /* gas sent up by the hole of this string, and the most of all that any string above holds */
    double sends_pa, most_sent_pa;
    bool least_gas; /* the loads have the least gas from below, for bounds */
    bool none;      /* no string fits this place */
    bool pinned;    /* a pin stays, whatever it fails */
    /* in the search's memory: from below; own cases, cold and warm, when first asked for */
    dt_held *holds, *own[2];
    dt_depths depths;
    /* by offer; owned */
    double *cents;
    int *steel, *chosen;
    size_t chosen_count;
    dt_hosts *hosts; /* kinds of pipe it may hang in, with the bit that spares is counted for */
    uint8_t *spares;
    way *ways;              /* room for every pair of offers */
    bool *allowed, *passes; /* passes: the bit that spares is counted for */
    bound *least;           /* by bit below */
} stand;

static void free_stand(stand *st)
{
    if (!st) return;
    dt_depths_clear(&st->depths);
    free(st->cents);
    free(st->steel);
    free(st->chosen);
    free(st->ways);
    free(st->hosts);
    free(st->spares);
    free(st->allowed);
    free(st->passes);
    free(st->least);
    free(st);
}

/** A stand with room for every size and every bit; NULL: out of memory. */
static stand *new_stand(const run *r)
{
    size_t most = 1;
    for (size_t i = 0; i < r->search->choice.size_count; ++i)
        if (r->search->choice.sizes[i].count > most) most = r->search->choice.sizes[i].count;
    stand *st = calloc(1, sizeof *st);
    if (!st) return NULL;
    st->cents = calloc(most, sizeof *st->cents);
    st->steel = calloc(most, sizeof *st->steel);
    st->chosen = calloc(most, sizeof *st->chosen);
    st->spares = calloc(most, sizeof *st->spares);
    st->ways = calloc(most * most, sizeof *st->ways);
    st->hosts = calloc(most, sizeof *st->hosts);
    st->allowed = calloc(most, sizeof *st->allowed);
    st->passes = calloc(most, sizeof *st->passes);
    st->least = calloc(r->nest.hole_count + 1, sizeof *st->least);
    if (st->cents && st->steel && st->chosen && st->ways && st->hosts && st->spares &&
        st->allowed && st->passes && st->least)
        return st;
    free_stand(st);
    return NULL;
}

/** Loads for what is below; a place asked again for the same has them still. */
static dt_status lay_exposure(stand *st, int exposure)
{
    if (st->laid == exposure) return DT_OK;
    dt_string_below below[DT_MOST_STRINGS];
    st->place.below = below;
    const dt_exposure *chain = exposure > 0 ? &st->search->exposures[exposure - 1] : NULL;
    st->place.below_count = dt_exposure_chain(st->search, chain, below);
    dt_status status = dt_pipe_choice_load(st->choice, &st->place, &st->load);
    st->place.below = NULL;
    st->place.below_count = 0;
    dt_depths_clear(&st->depths);
    st->none = status == DT_E_DOMAIN; /* a liner without length: no pipe is one */
    if (status != DT_OK && !st->none) return status;
    st->laid = exposure;
    return DT_OK;
}

/** Asks the strength stage; a lack of memory is told when the run ends. */
static bool ask(stand *st, size_t i, dt_cases which)
{
    bool held = false;
    if (lay_exposure(st, st->exposure) != DT_OK ||
        dt_pipe_choice_holds(st->choice, &st->load, &st->offers->items[i], which, &st->depths,
                             &held) != DT_OK)
        st->search->out_of_memory = true;
    return held;
}

/** Do the cases hold that stand whatever is below? Asked once a place. */
static bool holds_own(stand *st, size_t i, bool wall)
{
    /* heat and derating know the finished well by its wall; else the own cases are the same */
    const bool warm = wall && st->choice->well->thermal.count > 0;
    if (!st->own[warm]) {
        dt_hold_key key = st->key;
        key.what = warm ? DT_HOLD_OWN_WARM : DT_HOLD_OWN;
        st->own[warm] = dt_holds_of(st->search, &key);
        if (!st->own[warm]) {
            st->search->out_of_memory = true;
            return false;
        }
    }
    dt_held *own = &st->own[warm][i];
    if (own->good < 0 && own->bad == INFINITY) {
        if (ask(st, i, DT_OWN_CASES))
            own->good = 0;
        else
            own->bad = 0;
    }
    return own->good >= 0;
}

/** A first look, then the cases one by one. */
static bool stands(stand *st, size_t i, bool wall)
{
    if (lay_exposure(st, st->exposure) != DT_OK) {
        st->search->out_of_memory = true;
        return false;
    }
    return dt_pipe_choice_may_hold(st->choice, &st->load, &st->offers->items[i], DT_LOOK_AT_ALL) &&
           holds_own(st, i, wall) && ask(st, i, DT_CASES_FROM_BELOW);
}

/** Does an offer hold a pressure from below? A pipe that holds one holds a smaller one. */
static bool holds_pressure(stand *st, size_t i, double pressure)
{
    dt_held *known = &st->holds[i];
    if (pressure <= known->good) return true;
    if (pressure >= known->bad) return false;
    if (st->load.pressures_apply) st->load.surface_pressure_pa = pressure;
    const bool good = stands(st, i, true);
    if (good)
        known->good = pressure;
    else
        known->bad = pressure;
    return good;
}

static const dt_asks asks_nothing;

static const dt_asks *asks_known(const dt_search *search, double number)
{
    return number > 1 ? &search->exposures[(size_t)number - 2].asks : &asks_nothing;
}

/** The same for a chain: what it asks is compared with what was asked before. */
static bool holds_chain(stand *st, size_t i, const dt_asks *asks)
{
    dt_held *known = &st->holds[i];
    const dt_asks *good = known->good > 0 ? asks_known(st->search, known->good) : NULL;
    const dt_asks *bad = isfinite(known->bad) ? asks_known(st->search, known->bad) : NULL;
    if (good && dt_asks_no_more(asks, good)) return true;
    if (bad && dt_asks_no_more(bad, asks)) return false;
    /* a last string stands in the wall of the finished well */
    const bool held = stands(st, i, st->exposure == 0 || asks->wall);
    const double number = st->exposure + 1;
    if (held && (!good || dt_asks_no_more(good, asks))) known->good = number;
    if (!held && (!bad || dt_asks_no_more(asks, bad))) known->bad = number;
    return held;
}

/** Does an offer hold what is asked from below? What it held, or did not, is remembered. */
static bool holds(stand *st, size_t i, const dt_asks *asks)
{
    if (!st->allowed[i] || st->none) return false;
    if (st->pinned) return true;
    return st->search->by_pressure ? holds_pressure(st, i, asks->gas_pa) : holds_chain(st, i, asks);
}

/** Could an offer hold, whatever stands below? For bounds: with the least gas that can come. */
static bool may_hold(stand *st, size_t i)
{
    if (!st->allowed[i] || st->none) return false;
    if (st->pinned) return true;
    const dt_look look = st->least_gas ? DT_LOOK_AT_LEAST_GAS : DT_LOOK_AT_OWN;
    if (!dt_pipe_choice_may_hold(st->choice, &st->load, &st->offers->items[i], look)) return false;
    /* the loads laid out are those of the finished well's wall, which may be warmer */
    if (st->search->by_pressure || st->least_gas || st->choice->well->thermal.count > 0)
        return true;
    return holds_own(st, i, true);
}

static bool offer_allowed(const dt_pin *pin, const dt_pipe_choice *choice, size_t k,
                          const dt_offer *offer)
{
    const dt_pipe *pipe = offer->pipe;
    if (k > 0 && offer->thread == DT_PLAIN_END) return false;
    bool grade_pinned = pin && pin->grade;
    if (choice->design.sour && !grade_pinned && !pipe->grade->sour) return false;
    if (!pin) return true;
    if (isfinite(pin->weight_kgm) &&
        fabs(pin->weight_kgm - pipe->weight_kgm) > 0.005 * DT_KGM_PER_LBFT)
        return false;
    if (pin->grade && strcmp(pin->grade, pipe->grade->name) != 0) return false;
    return !pin->thread || dt_thread_find(pin->thread) == offer->thread;
}

/** Top and bottom of a string, and how it hangs; DT_TIEBACK is a liner with its tie-back. */
typedef struct spot {
    size_t k, top, base; /* string, site of the shoe above, own site */
    dt_string_type type;
} spot;

/** The place of a string, or of the tie-back on it. False: a tie-back has no room. */
static bool fill_place(run *r, const spot *at, bool tieback, size_t size, stand *out)
{
    dt_search *search = r->search;
    const rank *rk = &r->ranks[at->k];
    const bool hung = at->type != DT_FULL;
    const double hanger_md =
        at->k > 0 ? dt_top_md(&search->choice, hung ? DT_LINER : DT_FULL, r->sites->tvd_m[at->top])
                  : 0;
    const double length = tieback ? hanger_md : r->sites->md_m[at->base] - hanger_md;
    out->search = search;
    out->choice = &search->choice;
    out->offers = &search->choice.sizes[size];
    out->pinned = tieback ? rk->tie_pinned : rk->pipe_pinned;
    out->place = (dt_string_place){.index = at->k,
                                   .role = r->seats[at->k].role,
                                   .type = tieback ? DT_TIEBACK
                                           : hung  ? DT_LINER
                                                   : DT_FULL,
                                   .above_m = r->sites->tvd_m[at->top],
                                   .shoe_m = r->sites->tvd_m[at->base],
                                   .mud_kgm3 = NAN,
                                   .pin = r->seats[at->k].pin};
    if (tieback && rk->tie_pin) ++out->place.pin; /* right behind its liner's */
    if (tieback && !rk->tie_pin) out->place.pin = DT_NO_INDEX;
    if (at->k > 0) out->place.mud_kgm3 = r->sites->mud_kgm3[at->top * r->sites->count + at->base];
    const dt_pin *pin = tieback ? rk->tie_pin : rk->pin;
    for (size_t i = 0; i < out->offers->count; ++i) {
        const dt_offer *offer = &out->offers->items[i];
        out->allowed[i] = offer_allowed(pin, &search->choice, at->k, offer);
        if (!out->allowed[i]) continue;
        dt_bill bill = {0};
        dt_bill_add_pipe_at(&(dt_billed_pipe){offer->pipe, offer->thread, length}, offer->per_kg,
                            offer->per_joint, &bill);
        out->cents[i] = round((bill.cost[DT_COST_PIPE] + bill.cost[DT_COST_THREADS]) * 100);
        out->steel[i] = (int)lround(bill.steel_kg * 10);
    }
    return length > 0;
}

/** Without a chain of what is below, a tie-back's loads know the shoe of its liner by the mud
 * alone: places that differ in it share what was found. */
static dt_status make_stand(run *r, const spot *at, bool tieback, size_t size, stand *out)
{
    out->none = !fill_place(r, at, tieback, size, out);
    out->key = (dt_hold_key){.conductor = at->k == 0,
                             .type = out->place.type,
                             .top = at->top,
                             .base = tieback && r->search->by_pressure ? 0 : at->base,
                             .size = size,
                             .mud_kgm3 = at->k == 0 ? 0 : out->place.mud_kgm3,
                             .role = out->place.role,
                             .pin = out->place.pin};
    out->own[0] = out->own[1] = NULL;
    out->exposure = 0;
    out->laid = -1;
    out->holds = dt_holds_of(r->search, &out->key);
    if (!out->holds) return DT_E_MEMORY;
    return out->none ? DT_OK : lay_exposure(out, 0);
}

/** Where each offer may hang, with this bit to come through its hanger; 0 bit: the last string. */
static void find_hosts(const run *r, const spot *at, double bit_m, stand *st)
{
    const rank *rk = &r->ranks[at->k];
    const dt_pin *below = at->k + 1 < r->count ? r->ranks[at->k + 1].pin : NULL;
    const bool bit_pinned = below && fabs(below->hole_m - bit_m) < SAME_DIAMETER_M;
    const dt_hanger_pins pins = {.waived = rk->hanger_waived || st->place.type != DT_LINER,
                                 .any_capacity = rk->pipe_pinned,
                                 .any_bore = rk->pin && isfinite(rk->pin->od_m) && bit_pinned};
    for (size_t i = 0; i < st->offers->count; ++i)
        if (st->passes[i])
            st->hosts[i] = st->none ? 0
                                    : dt_pipe_choice_hosts(st->choice, &st->load,
                                                           &st->offers->items[i], bit_m, &pins);
}

static void count_spares(const run *r, const spot *at, size_t pipe, double bit_m, stand *st)
{
    bool kept = st->pinned;
    for (size_t e = 0; kept && e < r->nest.pass_count; ++e)
        if (r->nest.passes[e].pipe == pipe &&
            fabs(r->nest.passes[e].need_drift_m - bit_m) < SAME_DIAMETER_M)
            break;
        else if (e + 1 == r->nest.pass_count)
            kept = false;
    double last_drift = NAN;
    unsigned spares = 0;
    for (size_t i = 0; i < st->offers->count; ++i) {
        double drift = st->offers->items[i].drift_m;
        st->passes[i] = drift >= bit_m - SAME_DIAMETER_M || kept;
        st->passes[i] = st->passes[i] && st->allowed[i];
        if (!st->passes[i]) continue;
        if (drift != last_drift) spares = dt_spares_between(r->search, drift, bit_m);
        last_drift = drift;
        st->spares[i] = (uint8_t)(spares > 255 ? 255 : spares);
    }
    find_hosts(r, at, bit_m, st);
}

/** What a tie-back adds beside its pipe. */
static bound tieback_bill(const run *r, const spot *at, double od_m)
{
    const dt_billed_tieback t = {
        .base_md_m = dt_top_md(&r->search->choice, DT_LINER, r->sites->tvd_m[at->top]),
        .od_m = od_m};
    dt_bill bill;
    dt_bill_tieback(r->search->choice.well, &r->times, &t, &bill);
    dt_bill_sum(&bill);
    return (bound){round(bill.total * 100), 0, (int)lround(bill.days * 24 * 60), 0};
}

/** What the hole and everything but the pipe adds. */
static bound hole_bill(const run *r, const spot *at, const dt_nest_hole *hole, double od_m)
{
    const dt_string_type type = at->type == DT_TIEBACK ? DT_LINER : at->type;
    const dt_well *well = r->search->choice.well;
    const dt_sites *s = r->sites;
    double ground = dt_well_ground_m(well);
    double above = at->k > 0 ? s->tvd_m[at->top] : ground;
    double top_md = at->k > 0 ? dt_top_md(&r->search->choice, type, above) : 0;
    double top = dt_trajectory_tvd(r->search->choice.trajectory, top_md);
    double cement =
        dt_bill_cement_top(well, r->seats[at->k].role, type, above, top, s->tvd_m[at->base]);
    dt_billed_string string = {
        .index = at->k,
        .last = at->k + 1 == r->count,
        .type = type,
        .hole_top_md_m =
            at->k > 0 ? s->md_m[at->top] : dt_trajectory_md(r->search->choice.trajectory, ground),
        .shoe_md_m = s->md_m[at->base],
        .top_md_m = top_md,
        .cement_top_md_m = dt_trajectory_md(r->search->choice.trajectory, cement),
        .hole_m = hole->diameter_m,
        .bit_m = hole->bit_m,
        .od_m = od_m};
    dt_bill bill;
    dt_bill_hole(well, &r->times, &string, &bill);
    dt_bill_sum(&bill);
    bound all = {round(bill.total * 100), 0, (int)lround(bill.days * 24 * 60), 0};
    if (at->type != DT_TIEBACK) return all;
    const bound tie = tieback_bill(r, at, od_m);
    all.cents += tie.cents;
    all.minutes += tie.minutes;
    return all;
}

/* ---- bounds from above ---- */

/** The least pipe of a place for a bit, whatever stands below. */
static bound least_pipe(stand *st)
{
    bound least = no_way;
    for (size_t i = 0; i < st->offers->count; ++i) {
        if (!st->passes[i] || !st->hosts[i]) continue;
        if (st->cents[i] >= least.cents && st->steel[i] >= least.steel &&
            st->spares[i] <= least.spares)
            continue;
        if (!may_hold(st, i)) continue;
        least.cents = fmin(least.cents, st->cents[i]);
        if (st->steel[i] < least.steel) least.steel = st->steel[i];
        if (st->spares[i] > least.spares) least.spares = st->spares[i];
    }
    least.minutes = 0;
    return least;
}

static void lower(bound *to, bound a, bound b, bound c)
{
    if (a.spares < 0 || c.spares < 0) return;
    to->cents = fmin(to->cents, a.cents + b.cents + c.cents);
    int steel = a.steel + b.steel + c.steel, minutes = a.minutes + b.minutes + c.minutes;
    if (steel < to->steel) to->steel = steel;
    if (minutes < to->minutes) to->minutes = minutes;
    if (a.spares + c.spares > to->spares) to->spares = a.spares + c.spares;
}

/** The least gas that can come from below: of the shallowest hole that may be drilled there, since
 * deeper holes and liners only have more; or what breaks down the shoe, where that is the case. */
static void set_least_gas(run *r, const spot *at, stand *st)
{
    const dt_well *well = r->search->choice.well;
    const dt_sites *s = r->sites;
    const dt_kick_case kick = well->loads.given ? well->loads.kick : DT_KICK_GAS;
    const double shoe_m = s->tvd_m[at->base];
    size_t base = at->base + 1;
    while (base <= s->reach[at->base] && !r->ranks[at->k + 1].site[base])
        ++base;
    st->least_gas =
        st->load.pressures_apply && kick != DT_KICK_INFLUX && base <= s->reach[at->base];
    if (!st->least_gas) return;
    st->load.surface_pressure_pa = s->pressure_pa[at->base * s->count + base];
    if (kick != DT_KICK_FRACTURE) return;
    const double broken_kgm3 = dt_curve_emw(&well->fracture, shoe_m, DT_BELOW);
    st->load.surface_pressure_pa =
        fmax((broken_kgm3 - st->load.gas_gradient_kgm3) * DT_STANDARD_GRAVITY * shoe_m, 0);
}

/** The least pipe of a size in a place, for each bit below. */
static dt_status least_pipes(run *r, const spot *at, size_t p, stand *st)
{
    const rank *rk = &r->ranks[at->k], *below = &r->ranks[at->k + 1];
    dt_status status = make_stand(r, at, false, rk->size_of[p], st);
    if (status == DT_OK) set_least_gas(r, at, st);
    for (size_t beta = 0; beta < below->bit_count && status == DT_OK; ++beta) {
        count_spares(r, at, rk->pipes[p], below->bits[beta], st);
        st->least[beta] = least_pipe(st);
    }
    return status;
}

/** Bounds for labels of rank k+1 hung from site base: string k stands in `at`. */
static void bound_spot(run *r, const spot *at, size_t pipe, const bound *least)
{
    static const bound nothing = {0, 0, 0, 0};
    const rank *below = &r->ranks[at->k + 1], *rk = &r->ranks[at->k];
    for (size_t f = 0; f < r->nest.fit_count; ++f) {
        if (r->nest.fits[f].pipe != pipe) continue;
        const dt_nest_hole *hole = &r->nest.holes[r->nest.fits[f].hole];
        if (!hole_allowed(r->search, hole)) continue;
        size_t bit = r->bit_of_hole[r->nest.fits[f].hole];
        bound rest = at->k > 0 ? rk->above[at->top * rk->bit_count + bit] : nothing;
        if (rest.spares < 0) continue;
        bound own = hole_bill(r, at, hole, r->nest.pipes[pipe].od_m);
        for (size_t beta = 0; beta < below->bit_count; ++beta)
            lower(&below->above[at->base * below->bit_count + beta], least[beta], own, rest);
    }
}

static dt_status bound_pipe(run *r, size_t k, size_t base, size_t p, dt_string_type type, stand *st)
{
    const dt_sites *s = r->sites;
    for (size_t top = 0; top < (k > 0 ? base : 1); ++top) {
        if (k > 0 && (!r->ranks[k - 1].site[top] || base > s->reach[top])) continue;
        spot at = {k, top, base, type};
        dt_status status = least_pipes(r, &at, p, st);
        if (status != DT_OK) return status;
        bound_spot(r, &at, r->ranks[k].pipes[p], st->least);
    }
    return DT_OK;
}

/** A tie-back adds money, steel and time to its liner and leaves no more spares: the liner's bound
 * holds for both. */
static dt_status bound_rank(run *r, size_t k)
{
    const rank *rk = &r->ranks[k];
    stand *st = new_stand(r);
    if (!st) return DT_E_MEMORY;
    dt_status status = DT_OK;
    for (size_t base = 0; base < r->sites->count; ++base)
        for (size_t p = 0; rk->site[base] && p < rk->pipe_count; ++p)
            for (int type = DT_FULL; type <= DT_LINER && status == DT_OK; ++type)
                if (type == DT_FULL ? rk->full : rk->liner || rk->tied)
                    status = bound_pipe(r, k, base, p, (dt_string_type)type, st);
    free_stand(st);
    return status;
}

/* ---- labels ---- */

/** What hangs below a full string is covered by it, and asks no more of those above. */
static void cover(label *item)
{
    item->asks = asks_nothing;
    item->asks.gas_ordered = item->asks.loss_ordered = true;
    item->exposure = 0;
}

/** The least net pressure of gas at the top of a string that ends at a site: all of it at the
 * surface; at the top of a liner less by what may stand outside down to its shoe. */
static double least_net_gas(const run *r, const rank *rk, size_t site, double gas_pa)
{
    const dt_pipe_choice *c = &r->search->choice;
    const dt_load_wishes *w = &c->well->loads;
    const dt_outside outside = w->given ? w->burst_outside : DT_OUTSIDE_WATER;
    double outside_kgm3 = 1000;
    if (!rk->liner) return gas_pa;
    if (outside != DT_OUTSIDE_WATER) /* mud, or water in it; pore pressure is left alone */
        outside_kgm3 = outside == DT_OUTSIDE_PORE || !r->search->guard
                           ? INFINITY
                           : fmax(r->search->guard[site].heaviest_kgm3, 1000);
    const double less_kgm3 = fmax(outside_kgm3 - c->design.gas_gradient_kgm3, 0);
    return fmax(gas_pa - less_kgm3 * DT_STANDARD_GRAVITY * r->sites->tvd_m[site], 0);
}

/** Sets what gas a string in this place sends up, and the most that any string above may hold. */
static void find_most_sent(const run *r, const spot *at, size_t pipe, stand *st)
{
    const dt_load_wishes *w = &r->search->choice.well->loads;
    const bool gas = !(w->given && w->kick != DT_KICK_GAS);
    double most_burst = 0;
    st->sends_pa = 0;
    st->most_sent_pa = INFINITY;
    if (at->k < 2) return;
    if (gas) st->sends_pa = r->sites->pressure_pa[at->top * r->sites->count + at->base];
    for (size_t f = 0; f < r->nest.fit_count; ++f)
        if (r->nest.fits[f].pipe == pipe &&
            hole_allowed(r->search, &r->nest.holes[r->nest.fits[f].hole]))
            most_burst =
                fmax(most_burst, r->ranks[at->k].most_burst[r->bit_of_hole[r->nest.fits[f].hole]]);
    /* the net pressure is gas less a fixed part */
    const double part_pa = 1e9 - least_net_gas(r, &r->ranks[at->k - 1], at->top, 1e9);
    st->most_sent_pa = most_burst / r->search->choice.design.burst * (1 + 1e-9) + part_pa;
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
        if (!beaten && holds(st, i, asks)) st->chosen[st->chosen_count++] = (int)i;
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
    label nothing = {.hosts = DT_ANY_HOST};
    cover(&nothing);
    if (r->search->by_pressure) nothing.asks.gas_pa = r->sites->finished_pa[at->top];
    like->child = -1;
    like->od = od_rank(r, r->nest.pipes[pipe].od_m);
    stand *both[] = {st, tie};
    for (size_t b = 0; b < 2 && both[b]; ++b) {
        for (size_t i = 0; i < both[b]->offers->count; ++i) {
            both[b]->passes[i] = both[b]->allowed[i];
            both[b]->spares[i] = 0;
        }
        find_hosts(r, at, 0, both[b]);
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
    dt_status status = make_stand(r, at, false, rk->size_of[p], st);
    if (status == DT_OK && tie) status = make_stand(r, at, true, rk->size_of[p], tie);
    if (status != DT_OK || st->none || (tie && tie->none)) return status;
    find_most_sent(r, at, pipe, st);
    if (st->sends_pa > st->most_sent_pa) return DT_OK; /* no string above holds that */
    if (at->k + 1 == r->count) return hang_last(r, at, pipe, st, tie, &like, out);
    const rank *below = &r->ranks[at->k + 1];
    for (size_t beta = 0; beta < below->bit_count && status == DT_OK; ++beta) {
        span part = below->bucket[at->base * below->bit_count + beta];
        if (part.count == 0) continue;
        count_spares(r, at, pipe, below->bits[beta], st);
        if (tie) count_spares(r, at, pipe, below->bits[beta], tie);
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

/**
 * Can any pipe above let this bit through and hold what is asked? A first look at ratings, at the
 * shoe and at the top, in the lightest mud that string may stand in: false only when surely none
 * can.
 */
static bool may_be_held(const run *r, const spot *at, double bit_m, const dt_asks *asks)
{
    if (at->k < 2 || r->ranks[at->k - 1].pipe_pinned) return true;
    const rank *above = &r->ranks[at->k - 1];
    const dt_pipe_choice *c = &r->search->choice;
    const dt_site_guard *guard = r->search->guard ? &r->search->guard[at->top] : NULL;
    const double gas_pa = c->design.burst * least_net_gas(r, above, at->top, asks->gas_pa);
    const double outside_pa = guard && asks->losses ? guard->lightest_kgm3 * DT_STANDARD_GRAVITY *
                                                          r->sites->tvd_m[at->top]
                                                    : 0;
    for (size_t p = 0; p < above->pipe_count; ++p) {
        const dt_offers *size = &c->sizes[above->size_of[p]];
        for (size_t i = 0; i < size->count; ++i) {
            const dt_offer *offer = &size->items[i];
            if (offer->drift_m < bit_m - SAME_DIAMETER_M || !offer->rated) continue;
            const double inside_part = 1 - 2 * offer->pipe->wall_m / offer->pipe->od_m;
            const double squeeze_pa = outside_pa - inside_part * asks->inside_pa;
            if (offer->burst_pa >= gas_pa * (1 - 1e-9) &&
                offer->collapse_pa >= c->design.collapse * squeeze_pa * (1 - 1e-9))
                return true;
        }
    }
    return false;
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
        if (r->nest.fits[f].pipe != pipe || !hole_allowed(r->search, &r->nest.holes[hole]))
            continue;
        size_t bit = r->bit_of_hole[hole];
        bound own = hole_bill(r, at, &r->nest.holes[hole], r->nest.pipes[pipe].od_m);
        bound above = {0, 0, 0, 0};
        if (at->k > 0) above = rk->above[at->top * rk->bit_count + bit];
        if (above.spares < 0) continue; /* nothing above can let this through */
        if (r->search->existence) own = above = (bound){0, 0, 0, 0};
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
            if (!may_be_held(r, at, r->nest.holes[hole].bit_m, &made.asks)) {
                ++r->search->bounded;
                continue;
            }
            made.bit = (uint16_t)bit;
            if (push(&r->heap, &made) != DT_OK) return DT_E_MEMORY;
        }
    }
    return DT_OK;
}

static dt_status try_pipe(run *r, const spot *at, size_t p, stand *st, stand *tie)
{
    labels *group = &r->scratch;
    dt_status status = hang(r, at, p, st, tie, group);
    if (status != DT_OK) return status;
    for (size_t i = 0; at->type != DT_LINER && i < group->count; ++i)
        cover(&group->items[i]);
    thin_out(r->search, group->items, &group->count);
    if (group->count == 0) return DT_OK;
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
        thin_out(r->search, r->sorted.items, &r->sorted.count);
        rk->bucket[top * rk->bit_count + bit] = (span){rk->layer.count, r->sorted.count};
        for (size_t i = 0; i < r->sorted.count; ++i)
            if (push(&rk->layer, &r->sorted.items[i]) != DT_OK) return DT_E_MEMORY;
        r->search->kept += r->sorted.count;
    }
    r->heap.count = 0;
    return DT_OK;
}

static dt_status label_rank(run *r, size_t k)
{
    const dt_sites *s = r->sites;
    const rank *rk = &r->ranks[k];
    stand *st = new_stand(r), *tie = new_stand(r);
    dt_status status = st && tie ? DT_OK : DT_E_MEMORY;
    for (size_t top = 0; top < s->count && status == DT_OK; ++top) {
        if (k > 0 && !r->ranks[k - 1].site[top]) continue;
        size_t deepest = k > 0 ? s->reach[top] : 0;
        for (size_t base = k > 0 ? top + 1 : 0; base <= deepest && status == DT_OK; ++base) {
            if (!rk->site[base]) continue;
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
    free_stand(st);
    free_stand(tie);
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

/* ---- one run
 * -----------------------------------------------------------------------------------------------
 */

static void give_roles(run *r)
{
    for (size_t k = 0; k < r->count; ++k)
        r->seats[k] = (dt_seat){.role = k == 0              ? DT_CONDUCTOR
                                        : k + 1 == r->count ? DT_PRODUCTION
                                        : k == 1            ? DT_SURFACE
                                                            : DT_INTERMEDIATE,
                                .type = DT_FULL,
                                .pin = DT_NO_INDEX};
}

static dt_status run_once(run *r)
{
    size_t blocked;
    const dt_seats seats = {.items = r->seats, .count = r->count};
    dt_status status = dt_nest_build(r->search->choice.well, &seats, r->search->choice.catalogue,
                                     &r->nest, &blocked);
    if (status != DT_OK) return status == DT_E_NONE ? DT_OK : status;
    r->bit_of_hole = calloc(r->nest.hole_count + 1, sizeof *r->bit_of_hole);
    if (!r->bit_of_hole) return DT_E_MEMORY;
    for (size_t k = 0; k < r->count && status == DT_OK; ++k)
        status = set_rank(r, k);
    if (status != DT_OK) return status;
    for (size_t k = 0; k < r->count; ++k)
        find_most_burst(r, k);
    set_sites(r);
    set_ods(r);
    if (!r->ranks[0].site[0]) return DT_OK;
    for (size_t k = 0; k + 1 < r->count && status == DT_OK; ++k)
        status = bound_rank(r, k);
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
    free_run(r);
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
        if (role == DT_SURFACE && count < 3) return DT_OK;
        return assign(search, count, most_tiebacks, of_pin, pin + 1, of_pin[pin] + 1);
    }
    dt_status status = DT_OK;
    for (size_t k = next < 2 ? 2 : next; k + 1 < count && status == DT_OK; ++k) {
        of_pin[pin] = k;
        status = assign(search, count, most_tiebacks, of_pin, pin + 1, k + 1);
    }
    return status;
}

dt_status dt_search_strings(dt_search *search, size_t string_count, size_t most_tiebacks)
{
    const dt_well *well = search->choice.well;
    bool fresh = isfinite(well->fresh_water_m) &&
                 well->fresh_water_m + well->fresh_water_cover_m > search->sites.tvd_m[0];
    if (string_count < (fresh ? 3 : 2) || string_count > DT_MOST_STRINGS) return DT_OK;
    size_t *of_pin = calloc(well->pin_count + 1, sizeof *of_pin);
    if (!of_pin) return DT_E_MEMORY;
    dt_status status = assign(search, string_count, most_tiebacks, of_pin, 0, 0);
    free(of_pin);
    return status;
}
