/* SPDX-License-Identifier: MIT */
/* Bounds: what the strings above a label add at least, and what they hold at most. */
#include "options_run.h"
#include "same.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/** The least pipe of a place for a bit, whatever stands below. */
static bound least_pipe(stand *st)
{
    bound least = no_way;
    for (size_t i = 0; i < st->offers->count; ++i) {
        if (!st->passes[i] || !st->hosts[i]) continue;
        if (st->cents[i] >= least.cents && st->steel[i] >= least.steel &&
            st->spares[i] <= least.spares)
            continue;
        if (!dt_stand_may_hold(st, i)) continue;
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
    const dt_kick_case kick = well->loads.kick;
    const bool influx =
        kick == DT_KICK_INFLUX || (kick == DT_KICK_BY_ROLE && dt_load_influx_stated(well));
    const double shoe_m = s->tvd_m[at->base];
    size_t base = at->base + 1;
    const size_t deepest = r->ranks[at->k + 1].reach[at->base];
    while (base <= deepest && !r->ranks[at->k + 1].site[base])
        ++base;
    const double gas_kgm3 = r->search->choice.design.gas_gradient_kgm3;
    st->least_gas = !st->none && at->k > 0 && !influx && base <= deepest;
    if (!st->least_gas) return;
    st->least_gas_pa = s->pressure_pa[at->base * s->count + base];
    if (kick != DT_KICK_FRACTURE) return;
    const double broken_kgm3 = dt_curve_emw(&well->fracture, shoe_m, DT_BELOW);
    st->least_gas_pa = fmax((broken_kgm3 - gas_kgm3) * DT_STANDARD_GRAVITY * shoe_m, 0);
}

/** The least tie-back of a place for a bit, by a first look at ratings. */
static bound least_tieback(stand *tie)
{
    bound least = no_way;
    for (size_t i = 0; i < tie->offers->count; ++i) {
        if (!tie->passes[i] || !dt_stand_may_hold_by_ratings(tie, i)) continue;
        least.cents = fmin(least.cents, tie->cents[i]);
        if (tie->steel[i] < least.steel) least.steel = tie->steel[i];
        if (tie->spares[i] > least.spares) least.spares = tie->spares[i];
    }
    least.minutes = 0;
    return least;
}

/** A liner and the tie-back on it; a spare has to pass both. */
static bound both_of(bound a, bound b)
{
    if (a.spares < 0 || b.spares < 0) return no_way;
    return (bound){a.cents + b.cents, a.steel + b.steel, 0,
                   a.spares < b.spares ? a.spares : b.spares};
}

/** The least pipe of a size in a place, for each bit below. tie: NULL, or where the tie-back
 * stands that a liner must have. */
static dt_status least_pipes(run *r, const spot *at, size_t p, stand *st, stand *tie)
{
    const rank *rk = &r->ranks[at->k], *below = &r->ranks[at->k + 1];
    dt_status status = dt_stand_make(r, at, false, p, st);
    if (status == DT_OK && tie) status = dt_stand_make(r, at, true, p, tie);
    if (status == DT_OK) set_least_gas(r, at, st);
    if (status == DT_OK && tie) set_least_gas(r, at, tie);
    for (size_t beta = 0; beta < below->bit_count && status == DT_OK; ++beta) {
        dt_stand_count_spares(r, at, rk->pipes[p], below->bits[beta], st);
        st->least[beta] = least_pipe(st);
        if (!tie || st->least[beta].spares < 0) continue;
        dt_stand_count_spares(r, at, rk->pipes[p], below->bits[beta], tie);
        st->least[beta] = both_of(st->least[beta], least_tieback(tie));
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
        if (!dt_hole_allowed(r->search, hole)) continue;
        if (at->k > 0 && r->reach_of_hole[r->nest.fits[f].hole][at->top] < at->base) continue;
        size_t bit = r->bit_of_hole[r->nest.fits[f].hole];
        bound rest = at->k > 0 ? rk->above[at->top * rk->bit_count + bit] : nothing;
        if (rest.spares < 0) continue;
        bound own = dt_hole_bill(r, at, hole, r->nest.pipes[pipe].od_m);
        for (size_t beta = 0; beta < below->bit_count; ++beta)
            lower(&below->above[at->base * below->bit_count + beta], least[beta], own, rest);
    }
}

/** Every pipe of a place: they share its loads. */
static dt_status bound_pipes(run *r, const spot *at, stand *st, stand *tie)
{
    for (size_t p = 0; p < r->ranks[at->k].pipe_count; ++p) {
        dt_status status = least_pipes(r, at, p, st, at->type == DT_TIEBACK ? tie : NULL);
        if (status != DT_OK) return status;
        bound_spot(r, at, r->ranks[at->k].pipes[p], st->least);
    }
    return DT_OK;
}

static dt_status bound_tops(run *r, size_t k, size_t base, dt_string_type type, stand *st,
                            stand *tie)
{
    dt_status status = DT_OK;
    for (size_t top = 0; top < (k > 0 ? base : 1) && status == DT_OK; ++top) {
        if (k > 0 && (!r->ranks[k - 1].site[top] || base > r->ranks[k].reach[top])) continue;
        if (!dt_leads_up(r, k, top)) continue;
        const spot at = {k, top, base, type};
        status = bound_pipes(r, &at, st, tie);
    }
    return status;
}

/** A tie-back adds money, steel and time to its liner and leaves no more spares: where a liner may
 * do without, the liner's bound holds for both. */
static dt_status bound_rank(run *r, size_t k)
{
    const rank *rk = &r->ranks[k];
    const dt_string_type hung = rk->liner ? DT_LINER : DT_TIEBACK;
    stand *st = dt_stand_new(r), *tie = dt_stand_new(r);
    dt_status status = st && tie ? DT_OK : DT_E_MEMORY;
    for (size_t base = 0; base < r->sites->count && status == DT_OK; ++base) {
        if (!rk->site[base]) continue;
        if (rk->full) status = bound_tops(r, k, base, DT_FULL, st, tie);
        if (status == DT_OK && (rk->liner || rk->tied))
            status = bound_tops(r, k, base, hung, st, tie);
    }
    dt_stand_free(st);
    dt_stand_free(tie);
    return status;
}

bool dt_leads_up(const run *r, size_t k, size_t top)
{
    const rank *rk = &r->ranks[k];
    for (size_t bit = 0; k > 0 && bit < rk->bit_count; ++bit)
        if (rk->above[top * rk->bit_count + bit].spares >= 0) return true;
    return k == 0;
}

/* ---- bounds that are kept ---- */

typedef struct dt_kept_bounds {
    struct dt_kept_bounds *next;
    size_t count, pins[DT_MOST_STRINGS]; /* of the run: its strings and what is pinned of each */
    bool leads;                          /* something can stand above each string */
    bound *above[DT_MOST_STRINGS];
} kept_bounds;

static void free_kept(kept_bounds *kept)
{
    for (size_t k = 0; k < kept->count; ++k)
        free(kept->above[k]);
    free(kept);
}

void dt_bounds_free(dt_search *search)
{
    while (search->bounds) {
        kept_bounds *next = search->bounds->next;
        free_kept(search->bounds);
        search->bounds = next;
    }
}

static bool is_of(const kept_bounds *kept, const run *r)
{
    bool same = kept->count == r->count;
    for (size_t k = 0; k < r->count && same; ++k)
        same = kept->pins[k] == r->seats[k].pin;
    return same;
}

/** Room for the bounds of a run, nothing of which leads anywhere yet. NULL: out of memory. */
static kept_bounds *new_kept(const run *r)
{
    kept_bounds *kept = calloc(1, sizeof *kept);
    if (!kept) return NULL;
    kept->count = r->count;
    for (size_t k = 0; k < r->count; ++k) {
        const size_t room = r->sites->count * (r->ranks[k].bit_count + 1);
        kept->pins[k] = r->seats[k].pin;
        kept->above[k] = malloc(room * sizeof *kept->above[k]);
        if (!kept->above[k]) {
            free_kept(kept);
            return NULL;
        }
        for (size_t i = 0; i < room; ++i)
            kept->above[k][i] = no_way;
    }
    return kept;
}

static void lend(run *r, const kept_bounds *kept)
{
    for (size_t k = 0; k < r->count; ++k)
        r->ranks[k].above = kept->above[k];
}

static bool leads_anywhere(const run *r, size_t k)
{
    bool leads = false;
    for (size_t top = 0; top < r->sites->count && !leads; ++top)
        leads = dt_leads_up(r, k, top);
    return leads;
}

dt_status dt_run_bound(run *r)
{
    kept_bounds *kept = r->search->bounds;
    while (kept && !is_of(kept, r))
        kept = kept->next;
    if (kept) {
        lend(r, kept);
        return kept->leads ? DT_OK : DT_E_NONE;
    }
    kept = new_kept(r);
    if (!kept) return DT_E_MEMORY;
    lend(r, kept);
    dt_status status = DT_OK;
    kept->leads = true;
    for (size_t k = 0; k + 1 < r->count && status == DT_OK && kept->leads; ++k) {
        status = bound_rank(r, k);
        kept->leads = leads_anywhere(r, k + 1);
    }
    if (status != DT_OK) {
        free_kept(kept);
        return status;
    }
    kept->next = r->search->bounds;
    r->search->bounds = kept;
    return kept->leads ? DT_OK : DT_E_NONE;
}

/** The least net pressure of gas at the top of a string that ends at a site: all of it at the
 * surface; at the top of a liner less by what may stand outside down to its shoe. */
static double least_net_gas(const run *r, const rank *rk, size_t site, double gas_pa)
{
    const dt_pipe_choice *c = &r->search->choice;
    const dt_load_wishes *w = &c->well->loads;
    const dt_outside outside = w->burst_outside;
    double outside_kgm3 = 1000;
    if (!rk->liner) return gas_pa;
    if (outside != DT_OUTSIDE_WATER) /* mud, or water in it; pore pressure is left alone */
        outside_kgm3 =
            outside == DT_OUTSIDE_PORE || outside == DT_OUTSIDE_CEMENTED || !r->search->guard
                ? INFINITY
                : fmax(r->search->guard[site].heaviest_kgm3, 1000);
    const double less_kgm3 = fmax(outside_kgm3 - c->design.gas_gradient_kgm3, 0);
    return fmax(gas_pa - less_kgm3 * DT_STANDARD_GRAVITY * r->sites->tvd_m[site], 0);
}

void dt_stand_find_most_sent(const run *r, const spot *at, size_t pipe, stand *st)
{
    const dt_load_wishes *w = &r->search->choice.well->loads;
    const bool gas = w->kick == DT_KICK_GAS;
    double most_burst = 0;
    st->sends_pa = 0;
    st->most_sent_pa = INFINITY;
    if (at->k < 2) return;
    if (gas) st->sends_pa = r->sites->pressure_pa[at->top * r->sites->count + at->base];
    for (size_t f = 0; f < r->nest.fit_count; ++f)
        if (r->nest.fits[f].pipe == pipe &&
            dt_hole_allowed(r->search, &r->nest.holes[r->nest.fits[f].hole]))
            most_burst =
                fmax(most_burst, r->ranks[at->k].most_burst[r->bit_of_hole[r->nest.fits[f].hole]]);
    /* the net pressure is gas less a fixed part */
    const double part_pa = 1e9 - least_net_gas(r, &r->ranks[at->k - 1], at->top, 1e9);
    st->most_sent_pa = most_burst / r->search->choice.design.burst * (1 + BOUND_SLACK) + part_pa;
}

bool dt_may_be_held(const run *r, const spot *at, double bit_m, const dt_asks *asks)
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
            if (offer->burst_pa >= gas_pa * (1 - BOUND_SLACK) &&
                offer->collapse_pa >= c->design.collapse * squeeze_pa * (1 - BOUND_SLACK))
                return true;
        }
    }
    return false;
}
