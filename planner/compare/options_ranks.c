/* SPDX-License-Identifier: MIT */
/* The strings of a run as far as they do not depend on seats: sizes, bits, sites, what may hang. */
#include "options_run.h"
#include "same.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool forbidden(const dt_search *search, size_t k, double od_m, double largest_m)
{
    const dt_wish_set *w = &search->wishes;
    for (size_t i = 0; i < w->forbidden_count; ++i)
        if (fabs(w->forbidden_od_m[i] - od_m) < SAME_DIAMETER_M) return true;
    return k >= 2 && largest_m > w->bore_m + SAME_DIAMETER_M;
}

bool dt_hole_allowed(const dt_search *search, const dt_nest_hole *hole)
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

/** How deep the holes of a string go, each and the deepest of them. */
static dt_status set_reach(run *r, size_t k)
{
    rank *rk = &r->ranks[k];
    rk->reach = calloc(r->sites->count + 1, sizeof *rk->reach);
    if (!rk->reach) return DT_E_MEMORY;
    for (size_t h = 0; k > 0 && h < r->nest.hole_count; ++h) {
        const dt_nest_hole *hole = &r->nest.holes[h];
        if (hole->string != k || !dt_hole_allowed(r->search, hole)) continue;
        dt_status status = dt_reach_of(r->search, hole->diameter_m, k == 1, &r->reach_of_hole[h]);
        if (status != DT_OK) return status;
        for (size_t i = 0; i < r->sites->count; ++i)
            if (r->reach_of_hole[h][i] > rk->reach[i]) rk->reach[i] = r->reach_of_hole[h][i];
    }
    return DT_OK;
}

/** What pins and rules leave of the pipe, once for all places. */
static dt_status set_usable(run *r, size_t k)
{
    rank *rk = &r->ranks[k];
    const dt_offers *sizes = r->search->choice.sizes;
    size_t count = 0;
    rk->first_offer = calloc(rk->pipe_count + 1, sizeof *rk->first_offer);
    if (!rk->first_offer) return DT_E_MEMORY;
    for (size_t p = 0; p < rk->pipe_count; ++p) {
        rk->first_offer[p] = count;
        count += sizes[rk->size_of[p]].count;
    }
    for (int tieback = 0; tieback < 2; ++tieback) {
        bool *usable = rk->usable[tieback] = calloc(count + 1, sizeof *usable);
        if (!usable) return DT_E_MEMORY;
        for (size_t p = 0; p < rk->pipe_count; ++p)
            for (size_t i = 0; i < sizes[rk->size_of[p]].count; ++i)
                usable[rk->first_offer[p] + i] =
                    dt_offer_usable(r, k, tieback == 1, &sizes[rk->size_of[p]].items[i]);
    }
    return DT_OK;
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
    rk->pipes = calloc(n->pipe_count + 1, sizeof *rk->pipes);
    rk->size_of = calloc(n->pipe_count + 1, sizeof *rk->size_of);
    rk->bits = calloc(n->hole_count + 1, sizeof *rk->bits);
    if (!rk->pipes || !rk->size_of || !rk->bits) return DT_E_MEMORY;
    for (size_t p = 0; p < n->pipe_count; ++p) {
        const dt_nest_pipe *pipe = &n->pipes[p];
        if (pipe->string != k || forbidden(r->search, k, pipe->od_m, pipe->coupling_od_m)) continue;
        size_t size = dt_pipe_choice_size(&r->search->choice, pipe);
        if (size == DT_NO_INDEX) continue;
        rk->pipes[rk->pipe_count] = p;
        rk->size_of[rk->pipe_count++] = size;
    }
    dt_status status = set_usable(r, k);
    if (status != DT_OK) return status;
    for (size_t h = 0; h < n->hole_count; ++h) {
        if (n->holes[h].string != k || !dt_hole_allowed(r->search, &n->holes[h])) continue;
        if (find_bit(rk, n->holes[h].bit_m) == DT_NO_INDEX)
            rk->bits[rk->bit_count++] = n->holes[h].bit_m;
        r->bit_of_hole[h] = find_bit(rk, n->holes[h].bit_m);
    }
    status = set_reach(r, k);
    if (status != DT_OK) return status;
    size_t buckets = r->sites->count * (rk->bit_count + 1);
    rk->most_burst = calloc(n->hole_count + 1, sizeof *rk->most_burst);
    rk->site = calloc(r->sites->count, sizeof *rk->site);
    rk->bucket = calloc(buckets, sizeof *rk->bucket);
    return rk->most_burst && rk->site && rk->bucket ? DT_OK : DT_E_MEMORY;
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

bool dt_ends_below(const run *r, size_t k)
{
    return k + 1 == r->count && !r->search->choice.well->last_open;
}

static bool pinned_elsewhere(const run *r, size_t k, size_t site)
{
    const dt_pin *pin = r->ranks[k].pin;
    return pin && k > 0 && !dt_ends_below(r, k) && isfinite(pin->shoe_m) &&
           fabs(pin->shoe_m - r->sites->tvd_m[site]) > SAME_DEPTH_M;
}

/** Does an open last hole lead on from a site to the bottom? */
static bool opens_from(const run *r, size_t site)
{
    const rank *last = &r->ranks[r->count - 1];
    for (size_t p = 0; p < last->pipe_count; ++p) {
        const size_t *reach = r->open_reach[last->pipes[p]];
        if (reach && reach[site] + 1 == r->sites->count) return true;
    }
    return false;
}

static bool may_stand(const run *r, size_t k, size_t site)
{
    const dt_sites *s = r->sites;
    if (dt_ends_below(r, k)) return site + 1 == s->count;
    if (!s->shoe[site] || pinned_elsewhere(r, k, site)) return false;
    if (k == 1 && s->tvd_m[site] > s->most_surface_m + SAME_DEPTH_M) return false;
    return k + 1 < r->count || opens_from(r, site);
}

/** Sites that each string's shoe can take with one left above and below for all others. */
static void set_sites(run *r)
{
    const dt_sites *s = r->sites;
    size_t n = r->count;
    r->ranks[0].site[0] = true;
    for (size_t k = 1; k < n; ++k)
        for (size_t b = 1; b < s->count; ++b) {
            if (!may_stand(r, k, b)) continue;
            for (size_t a = 0; a < b && !r->ranks[k].site[b]; ++a)
                r->ranks[k].site[b] = r->ranks[k - 1].site[a] && b <= r->ranks[k].reach[a];
        }
    for (size_t k = n - 1; k-- > 0;)
        for (size_t a = 0; a < s->count; ++a) {
            bool leads = false;
            for (size_t b = a + 1; b <= r->ranks[k + 1].reach[a] && !leads; ++b)
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

/** The open last hole below each size of the last string, and how deep it goes. */
static dt_status set_open_end(run *r)
{
    const dt_well *well = r->search->choice.well;
    const rank *last = &r->ranks[r->count - 1];
    dt_status status = DT_OK;
    for (size_t p = 0; well->last_open && p < last->pipe_count && status == DT_OK; ++p) {
        const size_t pipe = last->pipes[p];
        r->open_m[pipe] =
            dt_ladder_open_hole(well, r->search->choice.catalogue, &r->nest.pipes[pipe]);
        if (isfinite(r->open_m[pipe]))
            status = dt_reach_of(r->search, r->open_m[pipe], false, &r->open_reach[pipe]);
    }
    return status;
}

dt_status dt_run_lay_out(run *r)
{
    r->bit_of_hole = calloc(r->nest.hole_count + 1, sizeof *r->bit_of_hole);
    r->reach_of_hole = calloc(r->nest.hole_count + 1, sizeof *r->reach_of_hole);
    r->open_m = calloc(r->nest.pipe_count + 1, sizeof *r->open_m);
    r->open_reach = calloc(r->nest.pipe_count + 1, sizeof *r->open_reach);
    if (!r->bit_of_hole || !r->reach_of_hole || !r->open_m || !r->open_reach) return DT_E_MEMORY;
    for (size_t k = 0; k < r->count; ++k)
        if (set_rank(r, k) != DT_OK) return DT_E_MEMORY;
    if (set_open_end(r) != DT_OK) return DT_E_MEMORY;
    for (size_t k = 0; k < r->count; ++k)
        find_most_burst(r, k);
    set_sites(r);
    set_ods(r);
    return DT_OK;
}

void dt_run_free(run *r)
{
    for (size_t k = 0; k < DT_MOST_STRINGS; ++k) {
        free(r->ranks[k].pipes);
        free(r->ranks[k].size_of);
        free(r->ranks[k].first_offer);
        free(r->ranks[k].usable[0]);
        free(r->ranks[k].usable[1]);
        free(r->ranks[k].bits);
        free(r->ranks[k].most_burst);
        free(r->ranks[k].reach);
        free(r->ranks[k].site);
        free(r->ranks[k].layer.items);
        free(r->ranks[k].bucket);
    }
    free(r->bit_of_hole);
    free(r->reach_of_hole);
    free(r->open_m);
    free(r->open_reach);
    free(r->heap.items);
    free(r->scratch.items);
    free(r->sorted.items);
    free(r->of_kind);
    dt_laid_free(r);
    dt_nest_free(&r->nest);
}

/* ---- contingency strings ---- */

static unsigned spares_by_trial(dt_search *search, double drift_m, double bit_m)
{
    const dt_pipe_choice *c = &search->choice;
    unsigned most = 0;
    for (size_t i = 0; i < c->size_count; ++i) {
        const dt_offers *size = &c->sizes[i];
        if (size->welded || size->count == 0) continue;
        if (forbidden(search, 2, size->od_m, size->largest_od_m)) continue;
        double hole = size->largest_od_m + 2 * dt_nest_gap(c->well, size->od_m, size->largest_od_m);
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
