/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_SLOW_LADDER_H
#define DRAWTUBE_TESTS_SLOW_LADDER_H

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "ladder.h"
#include "pipe_rules.h"
#include "units.h"

/*
 * All ladders of a well, one after the other: every hole with every pipe, every way to give pins to
 * strings, every tier of every hole, and what each costs by the table of docs/nest.md, "Ladders".
 * Nothing is left out because something better is known. Shares no code with ladder.c, nest.c,
 * seats.c or gap.c; of a section it knows what dt_section_test() says. Without hangers, liners and
 * job limits.
 */

#define SLOW_WIDTH   (0.0005 * DT_M_PER_IN) /* diameters nearer than this are one */
#define SLOW_DEPTH   1e-6
#define SLOW_APART_M 1.0 /* two shoes stand at least this far apart */
enum { SLOW_MOST_SIZES = 64, SLOW_MOST_BORES = 400, SLOW_MOST_STRINGS = 12 };

/** Terms of the table, in its order. */
typedef enum slow_term {
    SLOW_BROKEN,
    SLOW_UNLISTED,
    SLOW_SECOND,
    SLOW_NO_SPARE,
    SLOW_SECTIONS, /* cross sections of the holes, m2 */
    SLOW_SHORT,    /* holes that bear only the least influx */
    SLOW_SHORT_AT, /* their strings added up */
    SLOW_ROCK,     /* m3 */
    SLOW_TERM_COUNT
} slow_term;

typedef struct slow_cost {
    double term[SLOW_TERM_COUNT];
} slow_cost;

typedef struct slow_size {
    double od_m, largest_m, drift_m; /* drift: the widest of what may be bought */
} slow_size;

typedef struct slow_bore {
    double diameter_m, bit_m;
    bool less_common;
} slow_bore;

/** What a string may be: its pipes, its holes, which pipe goes into which hole. */
typedef struct slow_string {
    slow_size sizes[SLOW_MOST_SIZES];
    slow_bore bores[SLOW_MOST_BORES];
    size_t size_count, bore_count;
    bool fits[SLOW_MOST_BORES][SLOW_MOST_SIZES];
} slow_string;

/** A shoe that was looked for before. */
typedef struct slow_shoe {
    size_t string;
    double hole_m, od_m, base_m, at_m;
    dt_tier tier;
} slow_shoe;

typedef struct slow_ladders {
    const dt_window *window;
    const dt_catalogue *catalogue;
    dt_ladder_latitude latitude;
    bool keep_broken;
    size_t count;
    size_t pins[DT_MOST_LADDER];
    const dt_ladder *only; /* only what is this ladder; NULL: all */
    bool found;
    slow_cost best;
    slow_string *strings; /* SLOW_MOST_STRINGS */
    slow_shoe *shoes;
    size_t shoe_count, shoe_room, tried; /* tried: complete ladders */
} slow_ladders;

/** A ladder half built: what stands from a string down. */
typedef struct slow_half {
    slow_cost cost;
    double base_m; /* where the next hole up ends */
    double bit_m;  /* of the hole that stands on top; NAN: none yet */
    double hole_m;
} slow_half;

static inline bool slow_less(const slow_cost *a, const slow_cost *b)
{
    for (int t = 0; t < SLOW_TERM_COUNT; ++t)
        if (fabs(a->term[t] - b->term[t]) > 1e-6) return a->term[t] < b->term[t];
    return false;
}

static inline bool slow_same(double a, double b)
{
    return fabs(a - b) < SLOW_WIDTH || (isnan(a) && isnan(b));
}

static inline double slow_area(double hole_m)
{
    return 3.14159265358979323846 / 4 * hole_m * hole_m;
}

/* ---- strings: roles, pins, fixed shoes ---- */

static inline const dt_pin *slow_pin(const slow_ladders *s, size_t k)
{
    if (k >= s->count || s->pins[k] == DT_NO_INDEX) return NULL;
    return &s->window->well->pins[s->pins[k]];
}

/** What a string is sized as: the last one as production, but alone above an open hole. */
static inline dt_role slow_role(const slow_ladders *s, size_t k)
{
    const bool last = k + 1 == s->count;
    if (k == 0) return DT_CONDUCTOR;
    if (k == 1) return last && !s->window->well->last_open ? DT_PRODUCTION : DT_SURFACE;
    return last ? DT_PRODUCTION : DT_INTERMEDIATE;
}

static inline bool slow_shoe_pinned(const slow_ladders *s, size_t k)
{
    const dt_pin *pin = slow_pin(s, k);
    return pin && isfinite(pin->shoe_m);
}

static inline double slow_conductor(const dt_well *well)
{
    for (size_t i = 0; i < well->pin_count; ++i)
        if (well->pins[i].role == DT_CONDUCTOR && isfinite(well->pins[i].shoe_m))
            return well->pins[i].shoe_m;
    return well->conductor.depth_m;
}

/** Where a shoe is decided; NAN: it is free. */
static inline double slow_fixed(const slow_ladders *s, size_t k)
{
    const dt_well *well = s->window->well;
    if (k == 0) return slow_conductor(well);
    if (k + 1 == s->count && !well->last_open) return well->objective_m;
    return slow_shoe_pinned(s, k) ? slow_pin(s, k)->shoe_m : NAN;
}

/* ---- seats ---- */

/** The row of the basis for the surface shoe, by the depth of the objective. */
static inline const dt_surface_custom *slow_surface_row(const dt_well *well)
{
    size_t count, at = 0;
    const dt_surface_custom *rows = dt_custom_rows(well, DT_TABLE_SURFACE_ROWS, &count);
    for (size_t i = 0; i + 1 < count; ++i)
        if (well->objective_m > rows[i].objective_to_m + SLOW_DEPTH) at = i + 1;
    return &rows[at];
}

/** No shoe that is free stands above this: fresh water, and what a regulation asks. */
static inline double slow_floor(const dt_well *well)
{
    const double water_m = well->fresh_water_m + well->fresh_water_cover_m;
    const double least_m = dt_well_ground_m(well) + slow_surface_row(well)->least_m;
    return fmax(slow_conductor(well), fmax(water_m, isnan(least_m) ? 0 : least_m));
}

/** The next depth at or below one at which a shoe may stand. */
static inline double slow_good_rock(const dt_window *window, double at_m)
{
    dt_reason why;
    while (!dt_shoe_allowed(window, at_m, &why))
        at_m = why.need;
    return at_m;
}

/** Nowhere above this does a free shoe stand: below the fixed shoe above it every string between
 * takes a depth of its own. */
static inline double slow_least(const slow_ladders *s, size_t k)
{
    size_t top = k - 1;
    while (isnan(slow_fixed(s, top)))
        --top;
    double at_m = fmax(slow_floor(s->window->well), slow_fixed(s, top) + SLOW_APART_M);
    for (size_t i = top + 1; i < k; ++i)
        at_m = slow_good_rock(s->window, at_m) + SLOW_APART_M;
    return at_m;
}

static inline dt_hole_rules slow_rules(const slow_ladders *s, size_t k, double hole_m, double od_m,
                                       dt_tier tier)
{
    dt_hole_rules rules;
    const dt_well *well = s->window->well;
    dt_hole_rules_for(well, hole_m, k == 1 && !well->conductor.bop, tier,
                      s->latitude == DT_LADDER_PREFERRED, &rules);
    rules.string = k;
    rules.od_m = od_m;
    return rules;
}

static inline bool slow_holds(const slow_ladders *s, const dt_hole_rules *rules, double top_m,
                              double base_m)
{
    dt_section_check check;
    dt_section_test(s->window, rules, top_m, base_m, true, &check);
    return check.ok;
}

/** Shallowest depth from `low` on from which a hole reaches its base: the first point of the input
 * that does, then by halving up to the one before. */
static inline double slow_shallowest(const slow_ladders *s, const dt_hole_rules *rules, double low,
                                     double base_m)
{
    double good = base_m - SLOW_APART_M, bad = low;
    if (low > good + SLOW_DEPTH || !slow_holds(s, rules, good, base_m)) return NAN;
    if (slow_holds(s, rules, low, base_m)) return low;
    for (size_t i = 0; i < s->window->break_count; ++i) {
        const double at_m = s->window->breaks[i];
        if (at_m <= low || at_m >= good) continue;
        if (slow_holds(s, rules, at_m, base_m)) {
            good = at_m;
            break;
        }
        bad = at_m;
    }
    const double point_m = good;
    while (good - bad > 1e-8) {
        const double at_m = (good + bad) / 2;
        *(slow_holds(s, rules, at_m, base_m) ? &good : &bad) = at_m;
    }
    return point_m - good < SLOW_DEPTH ? point_m : good;
}

/** Where the string above a hole of string k stands at the shallowest; NAN: nowhere. */
static inline double slow_find_shoe(const slow_ladders *s, size_t k, double hole_m, double od_m,
                                    dt_tier tier, double base_m)
{
    const dt_hole_rules rules = slow_rules(s, k, hole_m, od_m, tier);
    const double fixed_m = slow_fixed(s, k - 1), most_m = slow_surface_row(s->window->well)->most_m;
    if (!isnan(fixed_m)) {
        const bool free_surface = k == 1 && isnan(slow_fixed(s, 1));
        if (free_surface && base_m > dt_well_ground_m(s->window->well) + most_m + SLOW_DEPTH)
            return NAN;
        return slow_holds(s, &rules, fixed_m, base_m) ? fixed_m : NAN;
    }
    double at_m = slow_shallowest(s, &rules, slow_least(s, k - 1), base_m);
    if (isnan(at_m)) return NAN;
    at_m = slow_good_rock(s->window, at_m);
    return at_m > base_m - SLOW_APART_M + SLOW_DEPTH ? NAN : at_m;
}

/** The same, kept: many ladders end one hole at one depth. */
static inline double slow_shoe_above(slow_ladders *s, size_t k, double hole_m, double od_m,
                                     dt_tier tier, double base_m)
{
    for (size_t i = 0; i < s->shoe_count; ++i) {
        const slow_shoe *w = &s->shoes[i];
        if (w->string == k && w->hole_m == hole_m && slow_same(w->od_m, od_m) && w->tier == tier &&
            w->base_m == base_m)
            return w->at_m;
    }
    if (s->shoe_count == s->shoe_room) {
        s->shoe_room = 2 * s->shoe_room + 64;
        s->shoes = realloc(s->shoes, s->shoe_room * sizeof *s->shoes);
        if (!s->shoes) abort();
    }
    const double at_m = slow_find_shoe(s, k, hole_m, od_m, tier, base_m);
    s->shoes[s->shoe_count++] = (slow_shoe){k, hole_m, od_m, base_m, at_m, tier};
    return at_m;
}

/** May a rule be broken in the hole of string k? Both its ends are decided, one by a pin. */
static inline bool slow_may_break(const slow_ladders *s, size_t k)
{
    const bool end = k + 1 >= s->count;
    if (!s->keep_broken || isnan(slow_fixed(s, k - 1))) return false;
    if (k < s->count && isnan(slow_fixed(s, k))) return false;
    return slow_shoe_pinned(s, k) || (end && slow_shoe_pinned(s, k - 1));
}

/* ---- sizes ---- */

static inline bool slow_bought(const slow_ladders *s, size_t k, const dt_pipe *pipe)
{
    const dt_pin *pin = slow_pin(s, k);
    for (int t = 0; t < DT_THREAD_COUNT; ++t)
        if ((pipe->threads & 1u << t) && (k == 0 || t != DT_PLAIN_END) &&
            dt_pipe_rules_allow(s->window->well, slow_role(s, k), pin, pipe, (dt_thread)t))
            return true;
    return false;
}

static inline double slow_largest(const dt_pipe *pipe)
{
    return isfinite(pipe->coupling_od_m) ? pipe->coupling_od_m : pipe->od_m;
}

static inline bool slow_is_size(const slow_size *size, const dt_pipe *pipe)
{
    return slow_same(size->od_m, pipe->od_m) && slow_same(size->largest_m, slow_largest(pipe));
}

static inline void slow_add_size(slow_string *string, const dt_pipe *pipe, double drift_m)
{
    for (size_t i = 0; i < string->size_count; ++i)
        if (slow_is_size(&string->sizes[i], pipe)) {
            string->sizes[i].drift_m = fmax(string->sizes[i].drift_m, drift_m);
            return;
        }
    if (string->size_count == SLOW_MOST_SIZES) abort();
    string->sizes[string->size_count++] = (slow_size){pipe->od_m, slow_largest(pipe), drift_m};
}

static inline void slow_set_sizes(slow_ladders *s, size_t k)
{
    const dt_well *well = s->window->well;
    const dt_pin *pin = slow_pin(s, k);
    const bool pinned = pin && isfinite(pin->od_m);
    for (size_t i = 0; i < s->catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &s->catalogue->pipes[i];
        const bool special = well->sizes.special_drift && pipe->special_drift_m > pipe->drift_m;
        if (pinned && !slow_same(pin->od_m, pipe->od_m)) continue;
        if (!pinned && k + 1 == s->count && pipe->od_m < well->min_pipe_od_m - SLOW_WIDTH) continue;
        if (slow_bought(s, k, pipe))
            slow_add_size(&s->strings[k], pipe, special ? pipe->special_drift_m : pipe->drift_m);
    }
}

static inline void slow_add_bore(slow_string *string, slow_bore bore)
{
    for (size_t i = 0; i < string->bore_count; ++i)
        if (slow_same(string->bores[i].diameter_m, bore.diameter_m) &&
            slow_same(string->bores[i].bit_m, bore.bit_m))
            return;
    if (string->bore_count == SLOW_MOST_BORES) abort();
    string->bores[string->bore_count++] = bore;
}

/** A hole, and the same opened from every pilot bit that is usual. */
static inline void slow_add_hole(const slow_ladders *s, size_t k, double hole_m, bool open_too)
{
    const dt_catalogue *c = s->catalogue;
    const double most = dt_custom_value_of(s->window->well, DT_CUSTOM_SIZES_MOST_OPENING);
    bool less_common = true; /* a size that no bit has */
    for (size_t i = 0; i < c->bit_count; ++i)
        if (slow_same(c->bits[i].diameter_m, hole_m))
            less_common = c->bits[i].commonness == DT_BIT_LESS_COMMON;
    slow_add_bore(&s->strings[k], (slow_bore){hole_m, hole_m, less_common});
    for (size_t i = 0; open_too && k > 0 && i < c->bit_count; ++i) {
        const double pilot_m = c->bits[i].diameter_m;
        if (c->bits[i].commonness == DT_BIT_STANDARD && pilot_m < hole_m - SLOW_WIDTH &&
            pilot_m * most >= hole_m - SLOW_WIDTH)
            slow_add_bore(&s->strings[k], (slow_bore){hole_m, pilot_m, less_common});
    }
}

static inline void slow_set_bores(slow_ladders *s, size_t k)
{
    const dt_well *well = s->window->well;
    const dt_pin *pin = slow_pin(s, k);
    if (k == 0 && well->conductor.method != DT_CONDUCTOR_DRILLED)
        for (size_t i = 0; i < s->strings[0].size_count; ++i) {
            const double od_m = s->strings[0].sizes[i].od_m;
            slow_add_bore(&s->strings[0], (slow_bore){od_m, od_m, false});
        }
    else if (pin && isfinite(pin->hole_m)) /* one that is decided is made, if need be opened */
        slow_add_hole(s, k, pin->hole_m, well->sizes.opened_hole || well->sizes.series);
    else
        for (size_t i = 0; i < s->catalogue->bit_count; ++i)
            slow_add_hole(s, k, s->catalogue->bits[i].diameter_m, well->sizes.opened_hole);
}

/** Room beside the connection, by the table and what is said of flush ones. */
static inline double slow_gap(const dt_well *well, size_t k, const slow_size *size)
{
    size_t count = well->sizes.clearance_count;
    const dt_clearance_row *rows = well->sizes.clearances;
    if (count == 0) rows = dt_custom_rows(well, DT_TABLE_CLEARANCES, &count);
    double gap_m = rows[count - 1].radial_m;
    for (size_t i = count; i-- > 0;)
        if (size->od_m <= rows[i].up_to_od_m + SLOW_WIDTH) gap_m = rows[i].radial_m;
    const double flush_m = dt_custom_value_of(well, DT_CUSTOM_FLUSH_CLEARANCE);
    const bool flush = k > 0 && flush_m > 0 && well->sizes.clearance_count == 0 &&
                       size->largest_m <= 1.03 * size->od_m;
    return flush ? fmin(flush_m, gap_m) : gap_m;
}

static inline bool slow_clears(const slow_ladders *s, size_t k, const slow_bore *bore,
                               const slow_size *size)
{
    const dt_well *well = s->window->well;
    const dt_pin *pin = slow_pin(s, k);
    if (k == 0 && well->conductor.method != DT_CONDUCTOR_DRILLED)
        return slow_same(bore->diameter_m, size->od_m);
    if (pin && isfinite(pin->hole_m) && isfinite(pin->od_m)) return true;
    if (bore->bit_m < bore->diameter_m - SLOW_WIDTH && size->largest_m > bore->bit_m + SLOW_WIDTH)
        return false;
    return (bore->diameter_m - size->largest_m) / 2 >= slow_gap(well, k, size) - SLOW_WIDTH;
}

static inline bool slow_opened(const slow_bore *bore)
{
    return bore->bit_m < bore->diameter_m - SLOW_WIDTH;
}

static inline bool slow_unusual(const slow_bore *bore)
{
    return slow_opened(bore) || bore->less_common;
}

/** No larger, with no larger bit, no less usual. */
static inline bool slow_as_good(const slow_bore *a, const slow_bore *b)
{
    return a->diameter_m <= b->diameter_m && a->bit_m <= b->bit_m &&
           slow_opened(a) <= slow_opened(b) && slow_unusual(a) <= slow_unusual(b);
}

/** The order of a pair by the tables of the basis; 3: none of them. */
static inline int slow_pair(const slow_ladders *s, size_t k, double hole_m, bool opened,
                            double od_m)
{
    size_t count;
    const dt_pair_custom *pairs = dt_custom_rows(s->window->well, DT_TABLE_PAIRS, &count);
    double best = 3;
    for (size_t i = 0; i < count; ++i)
        if (slow_same(pairs[i].od_m, od_m) &&
            (isnan(hole_m) || slow_same(pairs[i].hole_m, hole_m)) &&
            (pairs[i].role < 0 || pairs[i].role == (int)slow_role(s, k)) &&
            (pairs[i].opened == 1) == opened)
            best = fmin(best, pairs[i].order);
    return (int)best;
}

static inline void slow_set_fits(slow_ladders *s, size_t k)
{
    slow_string *string = &s->strings[k];
    for (size_t p = 0; p < string->size_count; ++p)
        for (size_t h = 0; h < string->bore_count; ++h) {
            const slow_bore *bore = &string->bores[h];
            bool fits = slow_clears(s, k, bore, &string->sizes[p]), needless = false;
            for (size_t o = 0; o < string->bore_count; ++o)
                needless |= o != h && slow_as_good(&string->bores[o], bore) &&
                            slow_clears(s, k, &string->bores[o], &string->sizes[p]);
            const bool listed =
                s->window->well->sizes.series &&
                slow_pair(s, k, bore->diameter_m, slow_opened(bore), string->sizes[p].od_m) < 3;
            string->fits[h][p] = fits && (!needless || listed);
        }
}

/** Outside what is usual for its role? */
static inline bool slow_out_of_role(const slow_ladders *s, size_t k, double od_m)
{
    size_t count;
    const dt_role_sizes *rows = dt_custom_rows(s->window->well, DT_TABLE_ROLE_SIZES, &count);
    for (size_t i = 0; i < count; ++i)
        if (rows[i].role == (int)slow_role(s, k) && /* none of these wells is a lateral */
            (od_m < rows[i].least_m - SLOW_WIDTH || od_m > rows[i].most_m + SLOW_WIDTH))
            return true;
    return false;
}

/** 1, 2, or 3 for what is no pair, or is not usual. */
static inline int slow_order(const slow_ladders *s, size_t k, const slow_bore *bore, double od_m)
{
    const dt_well *well = s->window->well;
    const bool driven = k == 0 && well->conductor.method != DT_CONDUCTOR_DRILLED;
    if (!well->sizes.series) return slow_unusual(bore) ? 3 : 1;
    if (slow_out_of_role(s, k, od_m)) return 3;
    return slow_pair(s, k, driven ? NAN : bore->diameter_m, slow_opened(bore), od_m);
}

/** Is the hole below a size of pipe smaller than is usual? */
static inline bool slow_skips(const slow_ladders *s, double od_m, double hole_m, size_t below)
{
    double drift_m = 0;
    if (!s->window->well->sizes.series || below == 1) return false;
    for (size_t i = 0; i < s->catalogue->pipe_count; ++i)
        if (slow_same(s->catalogue->pipes[i].od_m, od_m))
            drift_m = fmax(drift_m, s->catalogue->pipes[i].drift_m);
    const double part = dt_custom_value_of(s->window->well, DT_CUSTOM_SIZES_LEAST_STEP);
    return hole_m < part * drift_m - SLOW_WIDTH;
}

static inline bool slow_has_spare(const slow_ladders *s, double drift_m)
{
    size_t count;
    const dt_pair_custom *pairs = dt_custom_rows(s->window->well, DT_TABLE_PAIRS, &count);
    bool has = false;
    for (size_t i = 0; i < count; ++i)
        has |= pairs[i].hole_m <= drift_m + SLOW_WIDTH &&
               pairs[i].od_m >= s->window->well->min_pipe_od_m - SLOW_WIDTH;
    return has;
}

static inline bool slow_stocked(const dt_well *well, const dt_pipe *pipe)
{
    size_t count;
    const dt_stock_custom *rows = dt_custom_rows(well, DT_TABLE_STOCK, &count);
    bool has = false;
    for (size_t i = 0; i < count; ++i)
        has |= slow_same(rows[i].od_m, pipe->od_m) &&
               fabs(rows[i].weight_kgm - pipe->weight_kgm) < 0.005 * DT_KGM_PER_LBFT;
    return has;
}

/** Does a bit come through half the weights of a size, of those stocked where any is? */
static inline bool slow_mostly(const slow_ladders *s, const slow_size *size, double bit_m)
{
    size_t all[2] = {0}, wide[2] = {0};
    for (size_t i = 0; i < s->catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &s->catalogue->pipes[i];
        bool again = !slow_is_size(size, pipe);
        for (size_t o = 0; o < i && !again; ++o)
            again = slow_is_size(size, &s->catalogue->pipes[o]) &&
                    fabs(s->catalogue->pipes[o].weight_kgm - pipe->weight_kgm) <
                        0.005 * DT_KGM_PER_LBFT;
        if (again) continue;
        const int stocked = slow_stocked(s->window->well, pipe);
        all[stocked] += 1;
        wide[stocked] += pipe->drift_m >= bit_m - SLOW_WIDTH;
    }
    const int of = all[1] > 0;
    return wide[of] > 0 && 2 * wide[of] >= all[of];
}

/** The hole that stays open below the last string; NAN: none comes through. */
static inline double slow_open_hole(const slow_ladders *s, const slow_size *size)
{
    const dt_well *well = s->window->well;
    size_t count;
    const dt_pair_custom *pairs = dt_custom_rows(well, DT_TABLE_PAIRS, &count);
    if (isfinite(well->last_hole_m))
        return well->last_hole_m <= size->drift_m + SLOW_WIDTH ? well->last_hole_m : NAN;
    for (int order = 1; order <= 2; ++order) {
        double best_m = NAN;
        for (size_t i = 0; i < count; ++i)
            if (pairs[i].order <= order && slow_mostly(s, size, pairs[i].hole_m))
                best_m = fmax(isnan(best_m) ? 0 : best_m, pairs[i].hole_m);
        if (!isnan(best_m)) return best_m;
    }
    return NAN;
}

/* ---- ladders, from the last string up ---- */

static inline bool slow_is_it(const slow_ladders *s, size_t k, double hole_m, double bit_m,
                              double od_m)
{
    if (!s->only) return true;
    const dt_rung *rung = &s->only->rungs[k];
    return slow_same(rung->hole_m, hole_m) && slow_same(rung->bit_m, bit_m) &&
           (isnan(od_m) || slow_same(rung->od_m, od_m));
}

/** The hole of a string in a tier, from the shoe above to the base of what is half built. false:
 * it cannot be drilled. */
static inline bool slow_drill(slow_ladders *s, size_t k, double hole_m, double od_m, dt_tier tier,
                              slow_half *half)
{
    const dt_well *well = s->window->well;
    const bool asked = well->sizes.series || well->kick.row_count > 0;
    if (tier == DT_TIER_WANTED && !asked) return false;
    if (s->only && s->only->rungs[k].rules.tier != tier) return false;
    double shoe_m = slow_shoe_above(s, k, hole_m, od_m, tier, half->base_m);
    if (isnan(shoe_m) && tier == DT_TIER_LEAST && slow_may_break(s, k)) {
        shoe_m = slow_fixed(s, k - 1);
        half->cost.term[SLOW_BROKEN] += 1;
    }
    if (isnan(shoe_m)) return false;
    const bool diverter = k == 1 && !well->conductor.bop;
    if (tier == DT_TIER_LEAST && asked && !diverter) {
        half->cost.term[SLOW_SHORT] += 1;
        half->cost.term[SLOW_SHORT_AT] += (double)k;
    }
    half->cost.term[SLOW_ROCK] += slow_area(hole_m) * fmax(half->base_m - shoe_m, 0);
    half->base_m = shoe_m;
    return true;
}

static inline void slow_finish(slow_ladders *s, const slow_bore *bore, slow_half half)
{
    const dt_well *well = s->window->well;
    if (well->conductor.method == DT_CONDUCTOR_DRILLED)
        half.cost.term[SLOW_ROCK] +=
            slow_area(bore->diameter_m) * fmax(slow_conductor(well) - dt_well_ground_m(well), 0);
    ++s->tried;
    if (s->found && !slow_less(&half.cost, &s->best)) return;
    s->found = true;
    s->best = half.cost;
}

static inline void slow_climb(slow_ladders *s, size_t k, const slow_half *below);

/** A string in its hole, over what is half built. */
static inline void slow_stand(slow_ladders *s, size_t k, const slow_bore *bore,
                              const slow_size *size, const slow_half *below)
{
    if (k == 0) {
        slow_finish(s, bore, *below);
        return;
    }
    for (int tier = DT_TIER_LEAST; tier <= DT_TIER_WANTED; ++tier) {
        slow_half half = *below;
        if (!slow_drill(s, k, bore->diameter_m, size->od_m, (dt_tier)tier, &half)) continue;
        half.bit_m = bore->bit_m;
        half.hole_m = bore->diameter_m;
        slow_climb(s, k - 1, &half);
    }
}

/** Below the last string: nothing, or a hole that stays open. */
static inline void slow_stand_last(slow_ladders *s, const slow_bore *bore, const slow_size *size,
                                   const slow_half *pair)
{
    const size_t k = s->count - 1;
    slow_half half = *pair;
    half.base_m = s->window->well->objective_m;
    if (s->window->well->sizes.spare && !slow_has_spare(s, size->drift_m))
        half.cost.term[SLOW_NO_SPARE] = 1;
    if (!s->window->well->last_open) {
        slow_stand(s, k, bore, size, &half);
        return;
    }
    const double open_m = slow_open_hole(s, size);
    if (isnan(open_m) || !slow_is_it(s, s->count, open_m, open_m, NAN)) return;
    for (int tier = DT_TIER_LEAST; tier <= DT_TIER_WANTED; ++tier) {
        slow_half open = half;
        if (slow_drill(s, s->count, open_m, NAN, (dt_tier)tier, &open))
            slow_stand(s, k, bore, size, &open);
    }
}

/** What a hole and its pipe cost by themselves. false: not in this latitude. */
static inline bool slow_add_pair(const slow_ladders *s, size_t k, const slow_bore *bore,
                                 const slow_size *size, slow_cost *cost)
{
    const dt_pin *pin = slow_pin(s, k);
    const int order = slow_order(s, k, bore, size->od_m);
    const bool od_pinned = pin && isfinite(pin->od_m);
    cost->term[SLOW_SECTIONS] += slow_area(bore->diameter_m);
    if (s->window->well->sizes.series && s->latitude != DT_LADDER_ANY && !od_pinned && order == 3)
        return false;
    if (od_pinned && isfinite(pin->hole_m)) return true;
    cost->term[SLOW_UNLISTED] += order == 3;
    cost->term[SLOW_SECOND] += order == 2;
    return true;
}

/** Every pipe in every hole as string k. */
static inline void slow_climb(slow_ladders *s, size_t k, const slow_half *below)
{
    const slow_string *string = &s->strings[k];
    const dt_pin *next = slow_pin(s, k + 1);
    for (size_t f = 0; f < string->bore_count * string->size_count; ++f) {
        const slow_bore *bore = &string->bores[f / string->size_count];
        const slow_size *size = &string->sizes[f % string->size_count];
        slow_half pair = *below;
        if (!string->fits[f / string->size_count][f % string->size_count]) continue;
        if (!slow_is_it(s, k, bore->diameter_m, bore->bit_m, size->od_m)) continue;
        if (!slow_add_pair(s, k, bore, size, &pair.cost)) continue;
        if (k + 1 == s->count) {
            slow_stand_last(s, bore, size, &pair);
            continue;
        }
        if (below->bit_m > size->drift_m + SLOW_WIDTH) continue;
        if (slow_skips(s, size->od_m, below->hole_m, k + 1)) {
            if (s->latitude != DT_LADDER_ANY && !(next && isfinite(next->hole_m))) continue;
            pair.cost.term[SLOW_UNLISTED] += 1;
        }
        slow_stand(s, k, bore, size, &pair);
    }
}

/* ---- pins ---- */

static inline void slow_try_pins(slow_ladders *s)
{
    if (s->only && memcmp(s->pins, s->only->pins, s->count * sizeof *s->pins) != 0) return;
    memset(s->strings, 0, SLOW_MOST_STRINGS * sizeof *s->strings);
    for (size_t k = 0; k < s->count; ++k) {
        slow_set_sizes(s, k);
        slow_set_bores(s, k);
        slow_set_fits(s, k);
    }
    s->shoe_count = 0;
    const slow_half nothing = {.bit_m = NAN, .hole_m = NAN};
    slow_climb(s, s->count - 1, &nothing);
}

static inline bool slow_asks(const dt_pin *pin, bool shoes_alone)
{
    return pin->role == DT_INTERMEDIATE && pin->type != DT_TIEBACK &&
           !(shoes_alone && isnan(pin->shoe_m));
}

/** Pins of intermediate strings from `pin` on to strings from `k` on; one without a shoe is the
 * next string. */
static inline void slow_give(slow_ladders *s, size_t pin, size_t k, bool shoes_alone)
{
    const dt_well *well = s->window->well;
    const size_t end = well->last_open ? s->count : s->count - 1;
    while (pin < well->pin_count && !slow_asks(&well->pins[pin], shoes_alone))
        ++pin;
    if (pin == well->pin_count) {
        slow_try_pins(s);
        return;
    }
    const size_t last = isnan(well->pins[pin].shoe_m) ? k + 1 : end;
    for (size_t at = k; at < end && at < last; ++at) {
        s->pins[at] = pin;
        slow_give(s, pin + 1, at + 1, shoes_alone);
        s->pins[at] = DT_NO_INDEX;
    }
}

/** All ladders of so many strings. */
static inline void slow_try_count(slow_ladders *s, size_t count, bool shoes_alone)
{
    const dt_well *well = s->window->well;
    s->count = count;
    for (size_t k = 0; k < DT_MOST_LADDER; ++k)
        s->pins[k] = DT_NO_INDEX;
    for (size_t i = 0; i < well->pin_count; ++i) {
        const dt_pin *pin = &well->pins[i];
        if (pin->role == DT_CONDUCTOR) s->pins[0] = i;
        if (pin->role == DT_SURFACE && !(shoes_alone && isnan(pin->shoe_m))) s->pins[1] = i;
    }
    for (size_t i = 0; i < well->pin_count && !shoes_alone; ++i)
        if (well->pins[i].role == DT_PRODUCTION && s->pins[count - 1] == DT_NO_INDEX)
            s->pins[count - 1] = i;
    slow_give(s, 0, 2, shoes_alone);
}

/** Fewest strings that pins and regulations leave. */
static inline size_t slow_fewest(const dt_well *well, bool shoes_alone)
{
    size_t middle = 0;
    bool surface = slow_floor(well) > slow_conductor(well);
    for (size_t i = 0; i < well->pin_count; ++i) {
        const dt_pin *pin = &well->pins[i];
        surface |= pin->role == DT_SURFACE && !(shoes_alone && isnan(pin->shoe_m));
        middle += slow_asks(pin, shoes_alone);
    }
    const size_t count = middle + (surface || middle > 0 ? 2u : 1u) + (well->last_open ? 0u : 1u);
    return count < 2 ? 2 : count;
}

/** Are all strings decided, so that none is added? */
static inline bool slow_decided(const dt_well *well)
{
    bool has[DT_ROLE_COUNT] = {false};
    for (size_t i = 0; i < well->pin_count; ++i) {
        const dt_pin *pin = &well->pins[i];
        if (isnan(pin->od_m) || isnan(pin->hole_m)) return false;
        if (pin->role != DT_PRODUCTION && isnan(pin->shoe_m)) return false;
        has[pin->role] = true;
    }
    return has[DT_CONDUCTOR] && has[DT_SURFACE] && (well->last_open || has[DT_PRODUCTION]);
}

/** Pipes telescope: there are never more strings than sizes. */
static inline size_t slow_size_count(const dt_catalogue *catalogue)
{
    size_t count = 0;
    for (size_t i = 0; i < catalogue->pipe_count; ++i)
        count += i == 0 || !slow_same(catalogue->pipes[i].od_m, catalogue->pipes[i - 1].od_m);
    return count < SLOW_MOST_STRINGS ? count : SLOW_MOST_STRINGS;
}

/** The best of all ladders: narrowest latitude, then fewest strings, then by the table. */
static inline void slow_choose(slow_ladders *s)
{
    const dt_well *well = s->window->well;
    const size_t fewest = slow_fewest(well, false);
    const size_t most = slow_decided(well) ? fewest : slow_size_count(s->catalogue);
    for (int broken = 0; broken < (well->pin_count > 0 ? 2 : 1); ++broken)
        for (int l = 0; l < DT_LATITUDE_COUNT; ++l)
            for (size_t n = fewest; n <= most; ++n) {
                s->keep_broken = broken == 1;
                s->latitude = (dt_ladder_latitude)l;
                slow_try_count(s, n, false);
                if (s->found) return;
            }
}

#endif
