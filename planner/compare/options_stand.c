/* SPDX-License-Identifier: MIT */
/* One string in one place: what its offers hold, cost and let through. */
#include "options_run.h"
#include "pipe_rules.h"
#include "same.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void dt_stand_free(stand *st)
{
    if (!st) return;
    free(st->cents);
    free(st->steel);
    free(st->chosen);
    free(st->ways);
    free(st->hosts);
    free(st->spares);
    free(st->hangers);
    free(st->hung);
    free(st->allowed);
    free(st->passes);
    free(st->least);
    free(st);
}

stand *dt_stand_new(const run *r)
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
    st->hangers = calloc(most, sizeof *st->hangers);
    st->hung = calloc(most, sizeof *st->hung);
    st->allowed = calloc(most, sizeof *st->allowed);
    st->passes = calloc(most, sizeof *st->passes);
    st->least = calloc(r->nest.hole_count + 1, sizeof *st->least);
    if (st->cents && st->steel && st->chosen && st->ways && st->hosts && st->spares &&
        st->hangers && st->hung && st->allowed && st->passes && st->least)
        return st;
    dt_stand_free(st);
    return NULL;
}

/* ---- loads ---- */

void dt_laid_free(run *r)
{
    for (size_t i = 0; i < 2 * LAID_KEPT; ++i) {
        laid *l = r->laid[i / LAID_KEPT][i % LAID_KEPT];
        if (l) dt_depths_clear(&l->depths);
        free(l);
    }
}

static bool is_laid(const laid *l, const stand *st, int exposure)
{
    return l->exposure == exposure && l->type == st->place.type && l->k == st->at.k &&
           l->top == st->at.top && l->base == st->at.base;
}

/** Lays out what is not laid yet, in place of what is there. On failure nothing is. */
static dt_status lay(const stand *st, int exposure, laid *out)
{
    dt_string_below below[DT_MOST_STRINGS];
    dt_string_place place = st->place;
    const dt_exposure *chain = exposure > 0 ? &st->search->exposures[exposure - 1] : NULL;
    place.below = below;
    place.below_count = dt_exposure_chain(st->search, chain, below);
    dt_depths_clear(&out->depths);
    out->exposure = -1;
    const dt_status status = dt_pipe_choice_load(st->choice, &place, &out->load);
    if (status != DT_OK && status != DT_E_DOMAIN) return status;
    out->none = status == DT_E_DOMAIN; /* a liner without length: no pipe is one */
    out->exposure = exposure;
    out->type = st->place.type;
    out->k = st->at.k;
    out->top = st->at.top;
    out->base = st->at.base;
    return DT_OK;
}

/** Loads for what is below; a place asked again for the same has them still. */
static dt_status lay_exposure(stand *st, int exposure)
{
    if (st->laid && st->laid->exposure == exposure) return DT_OK;
    const size_t slot = 2 * (size_t)exposure + (st->place.type == DT_LINER ? 1 : 0);
    laid **l = &st->shelf[slot & (LAID_KEPT - 1)];
    st->laid = NULL;
    if (!*l) {
        *l = calloc(1, sizeof **l);
        if (!*l) return DT_E_MEMORY;
        (*l)->exposure = -1;
    }
    if (!is_laid(*l, st, exposure)) {
        const dt_status status = lay(st, exposure, *l);
        if (status != DT_OK) return status;
    }
    st->none = (*l)->none;
    st->laid = *l;
    return DT_OK;
}

/* ---- what holds ---- */

/** Asks the strength stage; a lack of memory is told when the run ends. */
static bool ask(stand *st, size_t i, dt_cases which)
{
    bool held = false;
    ++st->search->work;
    if (lay_exposure(st, st->exposure) != DT_OK ||
        dt_pipe_choice_holds(st->choice, &st->laid->load, &st->offers->items[i], which,
                             &st->laid->depths, &held) != DT_OK)
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
        dt_known *known = dt_known_of(st->search, &key);
        if (!known) {
            st->search->out_of_memory = true;
            return false;
        }
        st->own[warm] = dt_known_held(known);
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
    const dt_string_load *load = &st->laid->load;
    return dt_pipe_choice_may_hold(st->choice, load, &st->offers->items[i], DT_LOOK_AT_ALL,
                                   load->surface_pressure_pa) &&
           holds_own(st, i, wall) && ask(st, i, DT_CASES_FROM_BELOW);
}

/** What is known of an offer in this place; NULL: out of memory, which is told when the run ends.
 */
static dt_held *known_of(stand *st, size_t i)
{
    if (!st->known) st->known = dt_known_of(st->search, &st->key);
    if (st->known) return &dt_known_held(st->known)[i];
    st->search->out_of_memory = true;
    return NULL;
}

/** Does an offer hold a pressure from below? A pipe that holds one holds a smaller one. */
static bool holds_pressure(stand *st, size_t i, double pressure)
{
    dt_held *known = known_of(st, i);
    if (!known) return false;
    if (pressure <= known->good) return true;
    if (pressure >= known->bad) return false;
    dt_string_load *load = &st->laid->load; /* of any pressure: there is one chain */
    if (load->pressures_apply) load->surface_pressure_pa = pressure;
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

/** Does an offer stand over the chain that is asked for now? Asked once for all chains that ask the
 * same. */
static bool stands_over_chain(stand *st, size_t i, bool wall)
{
    const int like = st->exposure > 0 ? st->search->exposures[st->exposure - 1].like : 0;
    if (st->answered != like) {
        st->answers = dt_known_answers(st->known, like);
        st->answered = st->answers ? like : -1;
    }
    if (!st->answers) {
        st->search->out_of_memory = true;
        return false;
    }
    if (st->answers[i] == DT_NOT_ASKED)
        st->answers[i] = stands(st, i, wall) ? DT_HELD : DT_NOT_HELD;
    return st->answers[i] == DT_HELD;
}

/** The same for a chain: what it asks is compared with what was asked before. */
static bool holds_chain(stand *st, size_t i, const dt_asks *asks)
{
    dt_held *known = known_of(st, i);
    if (!known) return false;
    const dt_asks *good = known->good > 0 ? asks_known(st->search, known->good) : NULL;
    const dt_asks *bad = isfinite(known->bad) ? asks_known(st->search, known->bad) : NULL;
    if (good && dt_asks_no_more(asks, good)) return true;
    if (bad && dt_asks_no_more(bad, asks)) return false;
    /* a last string stands in the wall of the finished well */
    const bool held = stands_over_chain(st, i, st->exposure == 0 || asks->wall);
    const double number = st->exposure + 1;
    if (held && (!good || dt_asks_no_more(good, asks))) known->good = number;
    if (!held && (!bad || dt_asks_no_more(asks, bad))) known->bad = number;
    return held;
}

static bool holds_asked(stand *st, size_t i, const dt_asks *asks)
{
    return st->search->by_pressure ? holds_pressure(st, i, asks->gas_pa) : holds_chain(st, i, asks);
}

/** Pipe that is not stocked stands only where none does that is, in the same place. */
bool dt_stand_holds(stand *st, size_t i, const dt_asks *asks)
{
    if (!st->allowed[i] || st->none) return false;
    if (st->pinned) return true;
    if (!holds_asked(st, i, asks)) return false;
    if (!dt_stock_first(st->choice->well) || st->offers->items[i].stocked) return true;
    for (size_t k = 0; k < st->offers->count; ++k)
        if (st->offers->items[k].stocked && st->allowed[k] && st->passes[k] &&
            holds_asked(st, k, asks))
            return false;
    return true;
}

bool dt_stand_may_hold_by_ratings(stand *st, size_t i)
{
    if (!st->allowed[i] || st->none) return false;
    const dt_look look = st->least_gas ? DT_LOOK_AT_LEAST_GAS : DT_LOOK_AT_OWN;
    return st->pinned || dt_pipe_choice_may_hold(st->choice, &st->laid->load, &st->offers->items[i],
                                                 look, st->least_gas_pa);
}

bool dt_stand_may_hold(stand *st, size_t i)
{
    if (!dt_stand_may_hold_by_ratings(st, i)) return false;
    /* the loads laid out are those of the finished well's wall, which may be warmer */
    return st->pinned || st->search->by_pressure || st->least_gas ||
           st->choice->well->thermal.count > 0 || holds_own(st, i, true);
}

bool dt_offer_usable(const run *r, size_t k, bool tieback, const dt_offer *offer)
{
    const dt_pin *pin = tieback ? r->ranks[k].tie_pin : r->ranks[k].pin;
    const dt_pipe *pipe = offer->pipe;
    if (k > 0 && offer->thread == DT_PLAIN_END) return false;
    if (!dt_pipe_rules_allow(r->search->choice.well, r->seats[k].role, pin, pipe, offer->thread))
        return false;
    if (!pin) return true;
    if (isfinite(pin->weight_kgm) && fabs(pin->weight_kgm - pipe->weight_kgm) > SAME_WEIGHT_KGM)
        return false;
    if (pin->grade && !dt_same_grade(pin->grade, pipe->grade->name)) return false;
    return !pin->thread || dt_pipe_has_thread(pipe, offer->thread, pin->thread);
}

/** Is a place warm enough for a grade? top_m: TVD of the string's top, where it is coldest. */
static bool sour_allows(const dt_pin *pin, const dt_pipe_choice *choice, double top_m,
                        const dt_grade *grade)
{
    if (!choice->design.sour || (pin && pin->grade)) return true;
    const double below_m = dt_grade_sour_below(choice->well, grade);
    return !(below_m > 0) || below_m <= top_m;
}

/** The place of a string, or of the tie-back on it. False: a tie-back has no room. */
static bool fill_place(run *r, const spot *at, bool tieback, size_t p, stand *out)
{
    dt_search *search = r->search;
    const rank *rk = &r->ranks[at->k];
    const bool hung = at->type != DT_FULL;
    const double head_md = dt_wellhead_md(search->choice.well, search->choice.trajectory);
    const double hanger_md =
        at->k > 0 ? dt_top_md(&search->choice, hung ? DT_LINER : DT_FULL, r->sites->tvd_m[at->top])
                  : head_md;
    const double length = tieback ? hanger_md - head_md : r->sites->md_m[at->base] - hanger_md;
    out->search = search;
    out->choice = &search->choice;
    out->offers = &search->choice.sizes[rk->size_of[p]];
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
    const double top_m =
        dt_trajectory_deepest(search->choice.trajectory, hung && !tieback ? hanger_md : head_md);
    const bool *usable = rk->usable[tieback] + rk->first_offer[p];
    for (size_t i = 0; i < out->offers->count; ++i) {
        const dt_offer *offer = &out->offers->items[i];
        out->allowed[i] = usable[i] && sour_allows(pin, &search->choice, top_m, offer->pipe->grade);
        out->cents[i] = 0;
        out->steel[i] = 0;
        if (!out->allowed[i] || search->existence) continue;
        dt_bill bill = {0};
        const dt_billed_pipe billed = {offer->pipe, offer->thread, length};
        dt_bill_add_pipe_at(search->choice.well, &billed, offer->per_kg, offer->per_joint, &bill);
        out->cents[i] = round((bill.cost[DT_COST_PIPE] + bill.cost[DT_COST_THREADS]) * 100);
        out->steel[i] = (int)lround(bill.steel_kg * 10);
    }
    return length > 0;
}

dt_status dt_stand_make(run *r, const spot *at, bool tieback, size_t p, stand *out)
{
    out->none = !fill_place(r, at, tieback, p, out);
    out->key = (dt_hold_key){.conductor = at->k == 0,
                             .type = out->place.type,
                             .top = at->top,
                             .base = tieback && r->search->by_pressure ? 0 : at->base,
                             .size = r->ranks[at->k].size_of[p],
                             .mud_kgm3 = at->k == 0 ? 0 : out->place.mud_kgm3,
                             .role = out->place.role,
                             .pin = out->place.pin};
    out->known = NULL;
    out->own[0] = out->own[1] = NULL;
    out->exposure = 0;
    out->at = *at;
    out->shelf = r->laid[out->place.type == DT_TIEBACK];
    out->laid = NULL;
    out->least_gas = false;
    out->answered = -1;
    memset(out->hung, 0, out->offers->count * sizeof *out->hung);
    return out->none ? DT_OK : lay_exposure(out, 0);
}

/** Hangers that bear an offer, found once for all bits. */
static uint64_t hangers_of(const rank *rk, stand *st, size_t i)
{
    if (!st->hung[i])
        st->hangers[i] = dt_pipe_choice_hangers(st->choice, &st->laid->load, &st->offers->items[i],
                                                rk->pipe_pinned);
    st->hung[i] = true;
    return st->hangers[i];
}

void dt_stand_find_hosts(const run *r, const spot *at, double bit_m, stand *st)
{
    const rank *rk = &r->ranks[at->k];
    const dt_pin *below = at->k + 1 < r->count ? r->ranks[at->k + 1].pin : NULL;
    const bool bit_pinned = below && fabs(below->hole_m - bit_m) < SAME_DIAMETER_M;
    const bool any_bore = rk->pin && isfinite(rk->pin->od_m) && bit_pinned;
    const bool any = rk->hanger_waived || st->place.type != DT_LINER ||
                     r->search->choice.well->hangers.count == 0;
    const uint64_t let_through =
        any || any_bore ? ~(uint64_t)0 : dt_pipe_choice_passed(st->choice, bit_m);
    for (size_t i = 0; i < st->offers->count; ++i) {
        if (!st->passes[i]) continue;
        st->hosts[i] = st->none ? 0
                       : any
                           ? DT_ANY_HOST
                           : dt_pipe_choice_hosts(st->choice, hangers_of(rk, st, i) & let_through);
    }
}

void dt_stand_count_spares(const run *r, const spot *at, size_t pipe, double bit_m, stand *st)
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
        if (drift != last_drift && !r->search->existence)
            spares = dt_spares_between(r->search, drift, bit_m);
        last_drift = drift;
        st->spares[i] = (uint8_t)(spares > 255 ? 255 : spares);
    }
    dt_stand_find_hosts(r, at, bit_m, st);
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

bound dt_open_hole_bill(const run *r, size_t top, double hole_m)
{
    if (r->search->existence) return (bound){0, 0, 0, 0};
    const dt_sites *s = r->sites;
    dt_bill bill;
    dt_bill_open_hole(r->search->choice.well, &r->times, s->md_m[top], s->md_m[s->count - 1],
                      hole_m, &bill);
    dt_bill_sum(&bill);
    return (bound){round(bill.total * 100), 0, (int)lround(bill.days * 24 * 60), 0};
}

bound dt_hole_bill(const run *r, const spot *at, const dt_nest_hole *hole, double od_m)
{
    const dt_string_type type = at->type == DT_TIEBACK ? DT_LINER : at->type;
    const dt_well *well = r->search->choice.well;
    const dt_sites *s = r->sites;
    if (r->search->existence) return (bound){0, 0, 0, 0}; /* whatever it costs */
    double ground = dt_well_ground_m(well);
    double above = at->k > 0 ? s->tvd_m[at->top] : ground;
    double top_md = dt_top_md(&r->search->choice, at->k > 0 ? type : DT_FULL, above);
    double top = dt_trajectory_deepest(r->search->choice.trajectory, top_md);
    double cement =
        dt_bill_cement_top(well, r->seats[at->k].role, type, above, top, s->tvd_m[at->base]);
    dt_billed_string string = {
        .index = at->k,
        .last = dt_ends_below(r, at->k),
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
