/* SPDX-License-Identifier: MIT */
#include "ladder.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "gap.h"
#include "pipe_rules.h"
#include "same.h"
#include "units.h"

/** What a ladder costs, compared term by term. */
typedef struct ladder_cost {
    int broken;     /* rules broken between two pinned shoes */
    int unlisted;   /* pairs that the basis does not have, or holes nobody drills by choice */
    int second;     /* pairs of a later order than the first */
    int no_spare;   /* no smaller liner passes below the last string, where one should */
    double bulk_m2; /* cross sections of all holes: of two ladders the slimmer one */
    int relaxed;    /* holes that bear less than they should */
    int relaxed_at; /* their strings added up: deeper ones weigh more, pressure is higher there */
    double rock_m3; /* drilled */
} ladder_cost;

/** What stands from a hole down. */
typedef struct label {
    double shoe_m; /* shallowest shoe of the string above, so that this hole reaches its bottom */
    ladder_cost cost;
    size_t fit, child; /* of the nest; label of the hole below, DT_NO_INDEX for the last */
    double open_m;     /* open last hole below; 0: none */
    dt_tier tier;      /* of this hole's rules */
    dt_tier open_tier;
} label;

/** A shallowest shoe that was worked out before. */
typedef struct known_shoe {
    size_t string;
    double hole_m, od_m, base_m, shoe_m;
    dt_tier tier;
    size_t next; /* of the same place in the table; DT_NO_INDEX: the last */
} known_shoe;

enum { KNOWN_PLACES = 1024 };

/** A hole that is asked for: whose, how wide, for which pipe. */
typedef struct bore {
    size_t string;
    double hole_m, od_m; /* od_m NAN: it stays open */
} bore;

typedef struct walk {
    const dt_window *window;
    const dt_catalogue *catalogue;
    const dt_ladder_cuts *cuts;
    dt_ladder_latitude latitude;
    bool keep_broken;
    size_t count;
    const size_t *pins;
    double conductor_m, most_surface_m;
    double least_m[DT_MOST_LADDER + 1]; /* no shoe of a string stands above this */
    dt_limit floor;
    const dt_nest *nest;
    label *labels;
    size_t label_count, label_room;
    size_t *hole_first, *hole_count; /* labels of each hole of the nest */
    size_t *by_hole;                 /* its fits, those of each hole together, in their order */
    size_t *fits_to;                 /* [hole]: how many of these are of holes before it */
    known_shoe *known;
    size_t known_count, known_room;
    size_t known_first[KNOWN_PLACES]; /* by known_place() */
    bool failed;                      /* out of memory */
    ladder_cost cost;                 /* of the ladder that was found */
} walk;

static bool cost_less(const ladder_cost *a, const ladder_cost *b)
{
    if (a->broken != b->broken) return a->broken < b->broken;
    if (a->unlisted != b->unlisted) return a->unlisted < b->unlisted;
    if (a->second != b->second) return a->second < b->second;
    if (a->no_spare != b->no_spare) return a->no_spare < b->no_spare;
    if (fabs(a->bulk_m2 - b->bulk_m2) > TIE_M3) return a->bulk_m2 < b->bulk_m2;
    if (a->relaxed != b->relaxed) return a->relaxed < b->relaxed;
    if (a->relaxed_at != b->relaxed_at) return a->relaxed_at < b->relaxed_at;
    return a->rock_m3 < b->rock_m3 - TIE_M3;
}

static bool wanted_counts(const dt_well *well)
{
    return well->sizes.series || well->kick.row_count > 0;
}

/** Does the hole of a string bear less than it should, where that is asked for? Under a diverter
 * nothing is borne, so nothing is short. */
static bool is_relaxed(const dt_well *well, dt_tier tier, size_t string)
{
    return string > 0 && tier == DT_TIER_LEAST && wanted_counts(well) &&
           !dt_hole_has_diverter(well, string - 1);
}

static void relax(const dt_well *well, dt_tier tier, size_t string, ladder_cost *cost)
{
    if (!is_relaxed(well, tier, string)) return;
    ++cost->relaxed;
    cost->relaxed_at += (int)string;
}

/* ---- depths ---- */

static const dt_pin *pin_of(const walk *w, size_t string)
{
    const size_t pin = string < w->count ? w->pins[string] : DT_NO_INDEX;
    return pin == DT_NO_INDEX ? NULL : &w->window->well->pins[pin];
}

/** Depth at which a string's shoe is fixed; NAN where it is free. */
static double fixed_at(const walk *w, size_t string)
{
    const dt_well *well = w->window->well;
    const dt_pin *pin = pin_of(w, string);
    if (string == 0) return w->conductor_m;
    if (string + 1 == w->count && !well->last_open) return well->objective_m;
    return pin && isfinite(pin->shoe_m) ? dt_window_on_break(w->window, pin->shoe_m) : NAN;
}

/** The nearest string above one whose shoe is fixed: the conductor at the latest. */
static size_t fixed_above(const walk *w, size_t string)
{
    size_t at = string - 1;
    while (at > 0 && isnan(fixed_at(w, at)))
        --at;
    return at;
}

/** What a free string stands in: the gap below the nearest shoe that is fixed, down to a bottom, as
 * dt_seats_lay() fills it. */
static dt_gap gap_around(const walk *w, size_t string, double base_m)
{
    return (dt_gap){
        .top_m = fixed_at(w, fixed_above(w, string)), .base_m = base_m, .floor = w->floor};
}

/** Strings of the gap above a free one. */
static size_t free_above(const walk *w, size_t string)
{
    return string - fixed_above(w, string) - 1;
}

static void set_least_depths(walk *w)
{
    w->least_m[0] = w->conductor_m;
    for (size_t k = 1; k < w->count; ++k) {
        const double fixed_m = fixed_at(w, k);
        const dt_gap gap = gap_around(w, k, w->window->well->objective_m);
        w->least_m[k] =
            isnan(fixed_m) ? dt_gap_least_depth(w->window, &gap, free_above(w, k)) : fixed_m;
    }
}

static dt_hole_rules rules_of(const walk *w, const bore *b, dt_tier tier)
{
    const dt_well *well = w->window->well;
    dt_hole_rules rules;
    dt_hole_rules_for(well, b->hole_m, dt_hole_has_diverter(well, b->string - 1), tier,
                      w->latitude == DT_LADDER_PREFERRED, &rules);
    rules.jobs = w->cuts->jobs;
    rules.string = b->string;
    rules.od_m = b->od_m;
    return rules;
}

/** A free surface shoe may be held up by a regulation; one that is decided stands where it does. */
static bool too_deep_for_surface(const walk *w, size_t string, double shoe_m)
{
    return string == 1 && isnan(fixed_at(w, 1)) && shoe_m > w->most_surface_m + SAME_DEPTH_M;
}

/** Where the string above a hole may stand at the shallowest, with the rules of a tier. A shoe that
 * is decided stands where it does, whatever rock or water is there. NAN: nowhere. */
static double find_above(const walk *w, const bore *b, dt_tier tier, double base_m)
{
    const dt_hole_rules rules = rules_of(w, b, tier);
    const size_t above = b->string - 1;
    const double fixed_m = fixed_at(w, above);
    if (isnan(fixed_m)) {
        const dt_gap gap = gap_around(w, above, base_m);
        const double at_m =
            dt_gap_lowest_seat(w->window, &gap, &rules, base_m, free_above(w, above));
        return at_m > base_m - DT_LEAST_SECTION_M + SAME_DEPTH_M ? NAN : at_m;
    }
    if (too_deep_for_surface(w, b->string, base_m)) return NAN;
    dt_section_check check;
    dt_section_test(w->window, &rules, fixed_m, base_m, true, &check);
    return check.ok ? fixed_m : NAN;
}

/** Place of a hole in the table of what is known, by the bits of its depth and diameter. */
static size_t known_place(const known_shoe *k)
{
    uint64_t depth, hole;
    memcpy(&depth, &k->base_m, sizeof depth);
    memcpy(&hole, &k->hole_m, sizeof hole);
    uint64_t mixed = (depth ^ hole * 31 ^ k->string) * UINT64_C(0x9e3779b97f4a7c15);
    return (size_t)(mixed >> 32) % KNOWN_PLACES;
}

static bool same_hole(const known_shoe *a, const known_shoe *b)
{
    return a->string == b->string && a->hole_m == b->hole_m && a->od_m == b->od_m &&
           a->tier == b->tier && a->base_m == b->base_m;
}

static double keep_known(walk *w, const known_shoe *made)
{
    if (w->known_count == w->known_room) {
        const size_t room = w->known_room ? 2 * w->known_room : 64;
        known_shoe *bigger = realloc(w->known, room * sizeof *bigger);
        if (!bigger) {
            w->failed = true;
            return NAN;
        }
        w->known = bigger;
        w->known_room = room;
    }
    size_t *first = &w->known_first[known_place(made)];
    w->known[w->known_count] = *made;
    w->known[w->known_count].next = *first;
    *first = w->known_count++;
    return made->shoe_m;
}

/** The same, remembered: many ladders end a hole of one size at one depth. Which pipe is run in it
 * matters to what jobs have taught alone. */
static double shoe_above(walk *w, const bore *b, dt_tier tier, double base_m)
{
    const bool by_pipe = w->cuts->jobs.count > 0 && isfinite(b->od_m);
    known_shoe asked = {.string = b->string,
                        .hole_m = b->hole_m,
                        .od_m = by_pipe ? b->od_m : 0,
                        .base_m = base_m,
                        .tier = tier};
    for (size_t i = w->known_first[known_place(&asked)]; i != DT_NO_INDEX; i = w->known[i].next)
        if (same_hole(&w->known[i], &asked)) return w->known[i].shoe_m;
    asked.shoe_m = find_above(w, b, tier, base_m);
    return keep_known(w, &asked);
}

/* ---- sizes ---- */

/** Would a pipe be bought for any string but a conductor, whatever its thread? */
static bool is_bought(const dt_well *well, const dt_pin *pin, const dt_pipe *pipe)
{
    for (int t = 0; t < DT_THREAD_COUNT; ++t)
        if ((pipe->threads & 1u << t) &&
            dt_pipe_rules_allow(well, DT_INTERMEDIATE, pin, pipe, (dt_thread)t))
            return true;
    return false;
}

/** Largest drift among the weights of a size that may be bought. */
static double drift_of(const dt_well *well, const dt_catalogue *catalogue, const dt_pin *pin,
                       const dt_nest_pipe *pipe)
{
    double widest = 0;
    for (size_t i = 0; i < catalogue->pipe_count; ++i) {
        const dt_pipe *p = &catalogue->pipes[i];
        if (dt_nest_is_size(pipe, p) && (pipe->string == 0 || is_bought(well, pin, p)))
            widest = fmax(widest, dt_nest_drift(well, p));
    }
    return widest;
}

/** Is a weight of a size commonly stocked, in any grade and thread? */
static bool weight_stocked(const dt_well *well, const dt_pipe *pipe)
{
    size_t count;
    const dt_stock_custom *rows = dt_custom_rows(well, DT_TABLE_STOCK, &count);
    for (size_t i = 0; i < count; ++i)
        if (fabs(rows[i].od_m - pipe->od_m) < SAME_DIAMETER_M &&
            fabs(rows[i].weight_kgm - pipe->weight_kgm) < SAME_WEIGHT_KGM)
            return true;
    return false;
}

/** Does a bit come through half the weights of a size or more, of those stocked where any is? */
static bool mostly_passes(const dt_well *well, const dt_catalogue *catalogue,
                          const dt_nest_pipe *pipe, double bit_m)
{
    size_t all[2] = {0}, wide[2] = {0}; /* not stocked, stocked */
    double last_kgm = 0;
    for (size_t i = 0; i < catalogue->pipe_count; ++i) {
        const dt_pipe *p = &catalogue->pipes[i];
        if (!dt_nest_is_size(pipe, p) || fabs(p->weight_kgm - last_kgm) < SAME_WEIGHT_KGM) continue;
        last_kgm = p->weight_kgm; /* one weight in several grades counts once */
        const size_t stocked = weight_stocked(well, p);
        ++all[stocked];
        if (p->drift_m >= bit_m - SAME_DIAMETER_M) ++wide[stocked];
    }
    const size_t of = all[1] > 0 ? 1 : 0;
    return wide[of] > 0 && 2 * wide[of] >= all[of];
}

bool dt_ladder_leaves_spare(const dt_well *well, const dt_catalogue *catalogue, const dt_pin *pin,
                            const dt_nest_pipe *pipe)
{
    size_t count;
    const dt_pair_custom *pairs = dt_custom_rows(well, DT_TABLE_PAIRS, &count);
    const double drift_m = drift_of(well, catalogue, pin, pipe);
    for (size_t i = 0; i < count; ++i)
        if (pairs[i].hole_m <= drift_m + SAME_DIAMETER_M &&
            pairs[i].od_m >= well->min_pipe_od_m - SAME_DIAMETER_M)
            return true;
    return false;
}

double dt_ladder_open_hole(const dt_well *well, const dt_catalogue *catalogue,
                           const dt_nest_pipe *pipe)
{
    if (isfinite(well->last_hole_m))
        return well->last_hole_m <= drift_of(well, catalogue, NULL, pipe) + SAME_DIAMETER_M
                   ? well->last_hole_m
                   : NAN;
    size_t count;
    const dt_pair_custom *pairs = dt_custom_rows(well, DT_TABLE_PAIRS, &count);
    double best_m = NAN;
    for (int order = 1; order < DT_UNLISTED && isnan(best_m); ++order)
        for (size_t i = 0; i < count; ++i)
            if (pairs[i].order <= order && !(pairs[i].hole_m <= best_m) &&
                mostly_passes(well, catalogue, pipe, pairs[i].hole_m))
                best_m = pairs[i].hole_m;
    return best_m;
}

static bool is_cut(const walk *w, size_t string, double od_m, double next_m)
{
    for (size_t i = 0; i < w->cuts->count; ++i) {
        const dt_ladder_cut *c = &w->cuts->items[i];
        if (c->string == string && fabs(c->od_m - od_m) < SAME_DIAMETER_M &&
            fabs(c->next_m - next_m) < SAME_DIAMETER_M)
            return true;
    }
    return false;
}

/** What a string is sized as, by its place: its role, but that the last one above a hole that stays
 * open is as slim as a production string, which is what its hole would get. */
static dt_role role_at(const dt_well *well, size_t string, size_t strings)
{
    if (string == 0) return DT_CONDUCTOR;
    if (string == 1 && (string + 1 < strings || well->last_open)) return DT_SURFACE;
    return string + 1 == strings ? DT_PRODUCTION : DT_INTERMEDIATE;
}

/** Widest pipe that is usual as a string of a role. */
static double usual_most(const dt_well *well, const dt_role_sizes *row)
{
    if (!well->lateral || isnan(row->lateral_most_m)) return row->most_m;
    return fmax(row->lateral_most_m, well->min_pipe_od_m);
}

/** Is a pipe of this size usual as a string of this place? */
static bool is_usual(const dt_well *well, size_t string, size_t strings, double od_m)
{
    size_t count;
    const dt_role_sizes *rows = dt_custom_rows(well, DT_TABLE_ROLE_SIZES, &count);
    const dt_role role = role_at(well, string, strings);
    for (size_t i = 0; i < count; ++i)
        if ((dt_role)rows[i].role == role)
            return !(od_m < rows[i].least_m - SAME_DIAMETER_M) &&
                   !(od_m > usual_most(well, &rows[i]) + SAME_DIAMETER_M);
    return true;
}

static bool sizes_decided(const dt_pin *pin)
{
    return pin && isfinite(pin->od_m) && isfinite(pin->hole_m);
}

int dt_ladder_order(const dt_well *well, size_t strings, const dt_nest_hole *hole,
                    const dt_nest_pipe *pipe)
{
    if (!well->sizes.series) return dt_nest_unusual(hole) ? DT_UNLISTED : 1;
    const bool driven = hole->string == 0 && well->conductor.method != DT_CONDUCTOR_DRILLED;
    if (!is_usual(well, hole->string, strings, pipe->od_m)) return DT_UNLISTED;
    return dt_pair_order(well, role_at(well, hole->string, strings),
                         driven ? NAN : hole->diameter_m, hole->opened, pipe->od_m);
}

bool dt_ladder_is_usual(const dt_well *well, dt_ladder_latitude latitude)
{
    return !well->sizes.series || latitude < DT_LADDER_ANY;
}

bool dt_ladder_is_tight(const dt_well *well, const dt_catalogue *catalogue,
                        const dt_nest_pipe *pipe, const dt_nest_hole *next)
{
    if (!well->sizes.series || next->string == 1) return true;
    double drift_m = 0;
    for (size_t i = 0; i < catalogue->pipe_count; ++i)
        if (fabs(catalogue->pipes[i].od_m - pipe->od_m) < SAME_DIAMETER_M)
            drift_m = fmax(drift_m, catalogue->pipes[i].drift_m);
    const double part = dt_custom_value_of(well, DT_CUSTOM_SIZES_LEAST_STEP);
    return next->diameter_m >= part * drift_m - SAME_DIAMETER_M;
}

bool dt_ladder_leads_on(const dt_well *well, const dt_catalogue *catalogue, const dt_pin *below,
                        const dt_nest_pipe *pipe, const dt_nest_hole *next,
                        dt_ladder_latitude latitude)
{
    if (latitude >= DT_LADDER_ANY || (below && isfinite(below->hole_m))) return true;
    return dt_ladder_is_tight(well, catalogue, pipe, next);
}

bool dt_ladder_allows(const dt_well *well, const dt_pin *pin, const dt_nest_hole *hole,
                      const dt_nest_pipe *pipe, size_t strings, dt_ladder_latitude latitude)
{
    if (!well->sizes.series || latitude >= DT_LADDER_ANY || (pin && isfinite(pin->od_m)))
        return true;
    return dt_ladder_order(well, strings, hole, pipe) < DT_UNLISTED;
}

/** How far from preferred a hole and its pipe are. false: further than the latitude goes. */
static bool add_pair(const walk *w, const dt_nest_fit *fit, ladder_cost *cost)
{
    const dt_well *well = w->window->well;
    const dt_nest_hole *hole = &w->nest->holes[fit->hole];
    const dt_nest_pipe *pipe = &w->nest->pipes[fit->pipe];
    const dt_pin *pin = pin_of(w, hole->string);
    cost->bulk_m2 += PI / 4 * hole->diameter_m * hole->diameter_m;
    if (!dt_ladder_allows(well, pin, hole, pipe, w->count, w->latitude)) return false;
    if (sizes_decided(pin)) return true;
    const int order = dt_ladder_order(well, w->count, hole, pipe);
    cost->unlisted += order >= DT_UNLISTED ? 1 : 0;
    cost->second += order > 1 && order < DT_UNLISTED ? 1 : 0;
    return true;
}

static double rock_of(const walk *w, const dt_nest_hole *hole, double top_m, double base_m)
{
    if (hole->string == 0 && w->window->well->conductor.method != DT_CONDUCTOR_DRILLED) return 0;
    return PI / 4 * hole->diameter_m * hole->diameter_m * fmax(base_m - top_m, 0);
}

/* ---- labels ---- */

/** Keeps a label of a hole unless one there is as cheap and leaves as shallow a shoe; drops those
 * that it beats so. */
static void keep_label(walk *w, size_t hole_first, const label *made)
{
    size_t kept = hole_first;
    for (size_t i = hole_first; i < w->label_count; ++i) {
        const label *other = &w->labels[i];
        if (!cost_less(&made->cost, &other->cost) && other->shoe_m <= made->shoe_m) return;
    }
    for (size_t i = hole_first; i < w->label_count; ++i) {
        const label *other = &w->labels[i];
        if (!cost_less(&other->cost, &made->cost) && made->shoe_m <= other->shoe_m) continue;
        w->labels[kept++] = *other;
    }
    w->label_count = kept;
    if (w->label_count == w->label_room) {
        const size_t room = w->label_room ? 2 * w->label_room : 256;
        label *bigger = realloc(w->labels, room * sizeof *bigger);
        if (!bigger) {
            w->failed = true;
            return;
        }
        w->labels = bigger;
        w->label_room = room;
    }
    w->labels[w->label_count++] = *made;
}

/** Between two fixed shoes a broken rule may be kept. */
static bool may_break(const walk *w, size_t string)
{
    const bool below = string == w->count || !isnan(fixed_at(w, string));
    const dt_pin *pin = pin_of(w, string), *above = pin_of(w, string - 1);
    const bool decided = (pin && isfinite(pin->shoe_m)) ||
                         (string + 1 >= w->count && above && isfinite(above->shoe_m));
    return w->keep_broken && below && !isnan(fixed_at(w, string - 1)) && decided;
}

/** The holes of a string with a pipe, above a hole that is known or at the bottom. */
static void extend(walk *w, size_t hole_first, const label *from, size_t string, double hole_m,
                   double base_m)
{
    const bore b = {string, hole_m, w->nest->pipes[w->nest->fits[from->fit].pipe].od_m};
    for (int tier = DT_TIER_WANTED; tier >= DT_TIER_LEAST; --tier) {
        if (tier == DT_TIER_WANTED && !wanted_counts(w->window->well)) continue;
        label made = *from;
        made.tier = (dt_tier)tier;
        relax(w->window->well, made.tier, string, &made.cost);
        made.shoe_m = shoe_above(w, &b, made.tier, base_m);
        if (isnan(made.shoe_m) && tier == DT_TIER_LEAST && may_break(w, string)) {
            made.shoe_m = fixed_at(w, string - 1);
            ++made.cost.broken;
        }
        if (isnan(made.shoe_m)) continue;
        made.cost.rock_m3 +=
            rock_of(w, &w->nest->holes[w->nest->fits[made.fit].hole], made.shoe_m, base_m);
        keep_label(w, hole_first, &made);
        if (tier == DT_TIER_WANTED && made.shoe_m <= w->least_m[string - 1]) return;
    }
}

/** The base of a string's hole where what is below leaves its shoe at the shallowest; NAN: a pin
 * stands in the way. */
static double base_of(const walk *w, size_t string, double shallowest_m)
{
    const double fixed_m = fixed_at(w, string);
    return isnan(fixed_m) ? shallowest_m : fixed_m;
}

/** Labels of the open last hole under a pipe: where the last string may stand above it. */
static void under_open_hole(walk *w, size_t hole_first, label from, const dt_nest_pipe *pipe,
                            double hole_m)
{
    const double open_m = dt_ladder_open_hole(w->window->well, w->catalogue, pipe);
    if (isnan(open_m)) return;
    from.open_m = open_m;
    const bore b = {w->count, open_m, NAN};
    const double bottom_m = w->window->well->objective_m;
    for (int tier = DT_TIER_WANTED; tier >= DT_TIER_LEAST; --tier) {
        if (tier == DT_TIER_WANTED && !wanted_counts(w->window->well)) continue;
        label made = from;
        made.open_tier = (dt_tier)tier;
        relax(w->window->well, made.open_tier, w->count, &made.cost);
        double shoe_m = shoe_above(w, &b, made.open_tier, bottom_m);
        if (isnan(shoe_m) && tier == DT_TIER_LEAST && may_break(w, w->count)) {
            shoe_m = fixed_at(w, w->count - 1);
            ++made.cost.broken;
        }
        if (isnan(shoe_m)) continue;
        made.cost.rock_m3 += PI / 4 * open_m * open_m * (bottom_m - shoe_m);
        extend(w, hole_first, &made, w->count - 1, hole_m, base_of(w, w->count - 1, shoe_m));
    }
}

static void extend_last(walk *w, size_t hole_first, size_t fit_index, label from)
{
    const dt_nest_fit *fit = &w->nest->fits[fit_index];
    const dt_nest_hole *hole = &w->nest->holes[fit->hole];
    const dt_nest_pipe *pipe = &w->nest->pipes[fit->pipe];
    if (is_cut(w, hole->string, pipe->od_m, 0)) return;
    const dt_well *well = w->window->well;
    if (well->sizes.spare &&
        !dt_ladder_leaves_spare(well, w->catalogue, pin_of(w, hole->string), pipe))
        from.cost.no_spare = 1;
    if (well->last_open)
        under_open_hole(w, hole_first, from, pipe, hole->diameter_m);
    else
        extend(w, hole_first, &from, hole->string, hole->diameter_m, well->objective_m);
}

/** The first pass of a pipe, by halving: they stand in the order of pipes. */
static size_t first_pass(const dt_nest *n, size_t pipe)
{
    size_t low = 0, high = n->pass_count;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (n->passes[middle].pipe < pipe)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/** A string's hole and pipe above every hole that passes the pipe. */
static void extend_above(walk *w, size_t hole_first, size_t fit_index, const label *pair)
{
    const dt_nest_fit *fit = &w->nest->fits[fit_index];
    const dt_nest_hole *hole = &w->nest->holes[fit->hole];
    const dt_nest_pipe *pipe = &w->nest->pipes[fit->pipe];
    const double drift_m = drift_of(w->window->well, w->catalogue, pin_of(w, pipe->string), pipe);
    for (size_t e = first_pass(w->nest, fit->pipe);
         e < w->nest->pass_count && w->nest->passes[e].pipe == fit->pipe; ++e) {
        const size_t next = w->nest->passes[e].hole;
        if (w->hole_count[next] == 0) continue;
        /* pipe that is decided to the weight stays, whatever passes it */
        const dt_pin *pin = pin_of(w, hole->string);
        if (w->nest->holes[next].bit_m > drift_m + SAME_DIAMETER_M &&
            !(pin && isfinite(pin->weight_kgm)))
            continue;
        if (is_cut(w, hole->string, pipe->od_m, w->nest->holes[next].diameter_m)) continue;
        if (!dt_ladder_leads_on(w->window->well, w->catalogue, pin_of(w, hole->string + 1), pipe,
                                &w->nest->holes[next], w->latitude))
            continue;
        const bool tight =
            dt_ladder_is_tight(w->window->well, w->catalogue, pipe, &w->nest->holes[next]);
        for (size_t i = 0; i < w->hole_count[next]; ++i) {
            const size_t child = w->hole_first[next] + i;
            label made = *pair;
            const ladder_cost below = w->labels[child].cost;
            made.child = child;
            made.cost.broken += below.broken;
            made.cost.unlisted += below.unlisted + (tight ? 0 : 1);
            made.cost.second += below.second;
            made.cost.no_spare += below.no_spare;
            made.cost.bulk_m2 += below.bulk_m2;
            made.cost.relaxed += below.relaxed;
            made.cost.relaxed_at += below.relaxed_at;
            made.cost.rock_m3 += below.rock_m3;
            const double base_m = base_of(w, hole->string, w->labels[child].shoe_m);
            if (hole->string > 0) {
                extend(w, hole_first, &made, hole->string, hole->diameter_m, base_m);
                continue;
            }
            made.shoe_m = 0;
            made.cost.rock_m3 +=
                rock_of(w, hole, dt_well_ground_m(w->window->well), w->conductor_m);
            keep_label(w, hole_first, &made);
        }
    }
}

static void walk_string(walk *w, size_t string)
{
    const dt_nest *n = w->nest;
    for (size_t h = 0; h < n->hole_count && !w->failed; ++h) {
        if (n->holes[h].string != string) continue;
        const size_t first = w->label_count;
        for (size_t i = w->fits_to[h]; i < w->fits_to[h + 1] && !w->failed; ++i) {
            const size_t f = w->by_hole[i];
            label pair = {.fit = f, .child = DT_NO_INDEX};
            if (!add_pair(w, &n->fits[f], &pair.cost)) continue;
            if (string + 1 == w->count)
                extend_last(w, first, f, pair);
            else
                extend_above(w, first, f, &pair);
        }
        w->hole_first[h] = first;
        w->hole_count[h] = w->label_count - first;
    }
}

/* ---- one assignment of pins to strings ---- */

static void read_ladder(const walk *w, size_t best, dt_ladder *out)
{
    *out = (dt_ladder){.latitude = w->latitude, .count = w->count};
    memcpy(out->pins, w->pins, w->count * sizeof *w->pins);
    size_t at = best;
    for (size_t k = 0; k < w->count; ++k) {
        const label *l = &w->labels[at];
        const dt_nest_fit *fit = &w->nest->fits[l->fit];
        const dt_nest_hole *hole = &w->nest->holes[fit->hole];
        dt_rung *rung = &out->rungs[k];
        *rung = (dt_rung){.hole_m = hole->diameter_m,
                          .bit_m = hole->bit_m,
                          .od_m = w->nest->pipes[fit->pipe].od_m,
                          .relaxed = is_relaxed(w->window->well, l->tier, k)};
        const bore b = {k, rung->hole_m, rung->od_m};
        if (k > 0) rung->rules = rules_of(w, &b, l->tier);
        rung->rules.relaxed = rung->relaxed;
        if (k + 1 == w->count && w->window->well->last_open) {
            dt_rung *open = &out->rungs[w->count];
            *open = (dt_rung){.hole_m = l->open_m, .bit_m = l->open_m};
            const bore last = {w->count, l->open_m, NAN};
            open->rules = rules_of(w, &last, l->open_tier);
            open->relaxed = is_relaxed(w->window->well, l->open_tier, w->count);
            open->rules.relaxed = open->relaxed;
        }
        at = l->child;
    }
}

static size_t best_label(const walk *w)
{
    size_t best = DT_NO_INDEX;
    for (size_t h = 0; h < w->nest->hole_count; ++h) {
        if (w->nest->holes[h].string != 0) continue;
        for (size_t i = w->hole_first[h]; i < w->hole_first[h] + w->hole_count[h]; ++i)
            if (best == DT_NO_INDEX || cost_less(&w->labels[i].cost, &w->labels[best].cost))
                best = i;
    }
    return best;
}

/** Puts the fits of each hole together. */
static void sort_fits(walk *w)
{
    const dt_nest *n = w->nest;
    for (size_t f = 0; f < n->fit_count; ++f)
        ++w->fits_to[n->fits[f].hole + 1];
    for (size_t h = 0; h < n->hole_count; ++h)
        w->fits_to[h + 1] += w->fits_to[h];
    for (size_t f = 0; f < n->fit_count; ++f)
        w->by_hole[w->fits_to[n->fits[f].hole]++] = f;
    for (size_t h = n->hole_count; h > 0; --h) /* each ends where the next began */
        w->fits_to[h] = w->fits_to[h - 1];
    w->fits_to[0] = 0;
}

static dt_status walk_nest(walk *w, dt_ladder *out)
{
    w->hole_first = calloc(w->nest->hole_count + 1, sizeof *w->hole_first);
    w->hole_count = calloc(w->nest->hole_count + 1, sizeof *w->hole_count);
    w->fits_to = calloc(w->nest->hole_count + 2, sizeof *w->fits_to);
    w->by_hole = calloc(w->nest->fit_count + 1, sizeof *w->by_hole);
    w->failed = !w->hole_first || !w->hole_count || !w->fits_to || !w->by_hole;
    if (!w->failed) sort_fits(w);
    for (size_t k = w->count; k-- > 0 && !w->failed;)
        walk_string(w, k);
    const size_t best = w->failed ? DT_NO_INDEX : best_label(w);
    if (best != DT_NO_INDEX) {
        read_ladder(w, best, out);
        w->cost = w->labels[best].cost;
    }
    const dt_status status = w->failed ? DT_E_MEMORY : best == DT_NO_INDEX ? DT_E_NONE : DT_OK;
    free(w->hole_first);
    free(w->hole_count);
    free(w->by_hole);
    free(w->fits_to);
    free(w->labels);
    free(w->known);
    return status;
}

/** The nest of a number of strings with their pins: the same whatever the latitude. */
typedef struct dt_kept_nest {
    size_t count;
    size_t pins[DT_MOST_LADDER];
    dt_status status; /* DT_E_NONE: nothing nests */
    dt_nest nest;
} kept_nest;

/* One for each number of strings and way to give pins to them; more are built anew. */
enum { MOST_KEPT = 2048, KEPT_STEP = 64 };

/** What all walks of a well have in common. */
typedef struct search {
    const dt_window *window;
    const dt_catalogue *catalogue;
    const dt_ladder_cuts *cuts;
    dt_ladder_latitude latitude;
    bool keep_broken;
    dt_ladder_nests *nests; /* of MOST_KEPT; NULL: none are kept */
    dt_ladder best;         /* count 0: none */
    ladder_cost cost;       /* of it */
} search;

void dt_ladder_nests_free(dt_ladder_nests *nests)
{
    for (size_t i = 0; i < nests->count; ++i)
        dt_nest_free(&nests->items[i].nest);
    free(nests->items);
    *nests = (dt_ladder_nests){0};
}

static dt_status build_nest(const search *s, size_t count, const size_t *pins, dt_nest *out)
{
    const dt_seat_plan plan = {.count = count, .pins = pins};
    dt_seats outline;
    size_t blocked;
    dt_status status = dt_seats_outline(s->window->well, &plan, &outline);
    if (status != DT_OK) return status;
    status = dt_nest_build(s->window->well, &outline, s->catalogue, out, &blocked);
    dt_seats_free(&outline);
    return status;
}

/** The nest, kept or in *own, which the caller frees. As dt_nest_build(). */
static dt_status nest_for(search *s, size_t count, const size_t *pins, dt_nest *own,
                          const dt_nest **out)
{
    dt_ladder_nests *nests = s->nests;
    for (size_t i = 0; nests && i < nests->count; ++i) {
        const kept_nest *k = &nests->items[i];
        if (k->count != count || memcmp(k->pins, pins, count * sizeof *pins) != 0) continue;
        *out = &k->nest;
        return k->status;
    }
    *out = own;
    const dt_status status = build_nest(s, count, pins, own);
    const bool answered = status == DT_OK || status == DT_E_NONE;
    if (!answered || !nests || nests->count == MOST_KEPT) return status;
    if (nests->count % KEPT_STEP == 0) {
        kept_nest *more = realloc(nests->items, (nests->count + KEPT_STEP) * sizeof *nests->items);
        if (!more) return DT_E_MEMORY; /* *own is freed by the caller */
        nests->items = more;
    }
    kept_nest *k = &nests->items[nests->count++];
    *k = (kept_nest){.count = count, .status = status};
    memcpy(k->pins, pins, count * sizeof *pins);
    if (status == DT_OK) k->nest = *own;
    *own = (dt_nest){0};
    *out = &k->nest;
    return status;
}

static dt_status try_nest(search *s, size_t count, const size_t *pins, const dt_nest *nest)
{
    const dt_well *well = s->window->well;
    walk w = {.window = s->window,
              .catalogue = s->catalogue,
              .cuts = s->cuts,
              .latitude = s->latitude,
              .keep_broken = s->keep_broken,
              .count = count,
              .pins = pins,
              .conductor_m = dt_seats_conductor_m(well),
              .nest = nest};
    dt_seats_surface_limits(well, w.conductor_m, &w.floor.depth_m, &w.most_surface_m);
    w.floor.depth_m = fmax(w.floor.depth_m, s->cuts->jobs.surface_least_m);
    for (size_t i = 0; i < KNOWN_PLACES; ++i)
        w.known_first[i] = DT_NO_INDEX;
    set_least_depths(&w);
    dt_ladder found;
    const dt_status status = walk_nest(&w, &found);
    if (status == DT_OK && (s->best.count == 0 || cost_less(&w.cost, &s->cost))) {
        s->best = found;
        s->cost = w.cost;
    }
    return status;
}

static dt_status try_pins(search *s, size_t count, const size_t *pins)
{
    dt_nest own = {0};
    const dt_nest *nest;
    dt_status status = nest_for(s, count, pins, &own, &nest);
    if (status == DT_OK) status = try_nest(s, count, pins, nest);
    dt_nest_free(&own);
    return status == DT_E_NONE ? DT_OK : status;
}

/* ---- pins ---- */

static bool says_intermediate(const dt_well *well, size_t pin, bool shoes_alone)
{
    const dt_pin *p = &well->pins[pin];
    if (p->type == DT_TIEBACK || p->role != DT_INTERMEDIATE) return false;
    return !shoes_alone || isfinite(p->shoe_m);
}

/** Gives the intermediate pins from `pin` on the strings from `string` on, in every way. */
static dt_status assign(search *s, size_t count, size_t *pins, size_t pin, size_t string,
                        bool shoes_alone)
{
    const dt_well *well = s->window->well;
    while (pin < well->pin_count && !says_intermediate(well, pin, shoes_alone))
        ++pin;
    if (pin == well->pin_count) return try_pins(s, count, pins);
    const size_t end = well->last_open ? count : count - 1;
    dt_status status = DT_OK;
    for (size_t at = string; at < end && status == DT_OK; ++at) {
        pins[at] = pin;
        status = assign(s, count, pins, pin + 1, at + 1, shoes_alone);
        pins[at] = DT_NO_INDEX;
        if (isnan(well->pins[pin].shoe_m)) break; /* the next free string, as it is told */
    }
    return status;
}

/** All ladders of a number of strings; best.count stays 0 when there is none. */
static dt_status try_count(search *s, size_t count, bool shoes_alone)
{
    const dt_well *well = s->window->well;
    size_t pins[DT_MOST_LADDER];
    for (size_t k = 0; k < count; ++k)
        pins[k] = DT_NO_INDEX;
    for (size_t i = 0; i < well->pin_count; ++i) {
        const dt_pin *p = &well->pins[i];
        if (p->type == DT_TIEBACK) continue;
        if (p->role == DT_CONDUCTOR) pins[0] = i;
        if (p->role == DT_SURFACE && !(shoes_alone && isnan(p->shoe_m))) pins[1] = i;
        if (p->role == DT_PRODUCTION && !shoes_alone && pins[count - 1] == DT_NO_INDEX)
            pins[count - 1] = i;
    }
    return assign(s, count, pins, 0, 2, shoes_alone);
}

/** Fewest strings that the pins leave; shoes_alone: pins without a shoe ask for none. */
static size_t least_count(const search *s, bool shoes_alone)
{
    const dt_well *well = s->window->well;
    const double conductor_m = dt_seats_conductor_m(well);
    double least_m, most_m;
    dt_seats_surface_limits(well, conductor_m, &least_m, &most_m);
    size_t middle = 0, surface = least_m > conductor_m ? 1 : 0;
    for (size_t i = 0; i < well->pin_count; ++i) {
        const dt_pin *p = &well->pins[i];
        if (p->role == DT_SURFACE && !(shoes_alone && isnan(p->shoe_m))) surface = 1;
        if (says_intermediate(well, i, shoes_alone)) ++middle;
    }
    if (middle > 0) surface = 1;
    const size_t last = well->last_open ? 0 : 1;
    const size_t count = 1 + surface + middle + last;
    return count < 2 ? 2 : count;
}

static bool has_bare_pins(const dt_well *well)
{
    for (size_t i = 0; i < well->pin_count; ++i)
        if (isnan(well->pins[i].shoe_m) && well->pins[i].type != DT_TIEBACK &&
            (well->pins[i].role == DT_SURFACE || well->pins[i].role == DT_INTERMEDIATE))
            return true;
    return false;
}

bool dt_pins_complete(const dt_well *well)
{
    bool role[DT_ROLE_COUNT] = {false};
    for (size_t i = 0; i < well->pin_count; ++i) {
        const dt_pin *p = &well->pins[i];
        if (p->type == DT_TIEBACK) continue;
        const bool last = p->role == DT_PRODUCTION; /* its shoe is the objective */
        if (isnan(p->od_m) || isnan(p->hole_m) || (!last && isnan(p->shoe_m))) return false;
        role[p->role] = true;
    }
    return role[DT_CONDUCTOR] && role[DT_SURFACE] && (well->last_open || role[DT_PRODUCTION]);
}

/** least: fewer strings were tried before and came to nothing. */
static dt_status choose_at(search *s, size_t least)
{
    const dt_well *well = s->window->well;
    const size_t asked = least_count(s, false);
    bool spread = false;
    dt_status status = DT_OK;
    if (has_bare_pins(well)) {
        /* do fewer strings do than are asked for? */
        for (size_t n = least_count(s, true); n < asked && status == DT_OK && !spread; ++n) {
            status = try_count(s, n, true);
            spread = s->best.count > 0;
        }
        s->best.count = 0;
    }
    const size_t most = dt_pins_complete(well) ? asked : DT_MOST_LADDER - 1;
    for (size_t n = asked > least ? asked : least;
         n <= most && status == DT_OK && s->best.count == 0; ++n)
        status = try_count(s, n, false);
    s->best.spread = spread;
    return status;
}

dt_status dt_ladder_choose(const dt_window *window, const dt_catalogue *catalogue,
                           const dt_ladder_cuts *cuts, dt_ladder *out)
{
    dt_ladder_nests own = {0};
    search s = {.window = window,
                .catalogue = catalogue,
                .cuts = cuts,
                .nests = cuts->nests ? cuts->nests : &own};
    const dt_ladder *after = cuts->after;
    dt_status status = DT_OK;
    for (int broken = after && after->keep_broken; broken < 2 && status == DT_OK; ++broken) {
        if (broken && window->well->pin_count == 0) break;
        s.keep_broken = broken == 1;
        const bool same = after && after->keep_broken == s.keep_broken;
        const int first = same ? (int)after->latitude : 0;
        for (int l = first; l < DT_LATITUDE_COUNT && status == DT_OK && s.best.count == 0; ++l) {
            s.latitude = (dt_ladder_latitude)l;
            status = choose_at(&s, same && l == first ? after->count : 0);
        }
        if (s.best.count > 0) break;
    }
    dt_ladder_nests_free(&own);
    if (status != DT_OK) return status;
    s.best.keep_broken = s.keep_broken;
    *out = s.best;
    return s.best.count > 0 ? DT_OK : DT_E_NONE;
}

dt_status dt_ladder_of_count(const dt_window *window, const dt_catalogue *catalogue, size_t count,
                             dt_ladder *out)
{
    const dt_ladder_cuts none = {0};
    search s = {.window = window, .catalogue = catalogue, .cuts = &none};
    if (count < least_count(&s, false) || count >= DT_MOST_LADDER) return DT_E_NONE;
    dt_status status = DT_OK;
    for (int l = 0; l < DT_LATITUDE_COUNT && status == DT_OK && s.best.count == 0; ++l) {
        s.latitude = (dt_ladder_latitude)l;
        status = try_count(&s, count, false);
    }
    if (status != DT_OK) return status;
    s.best.spread = true; /* whether the rock needs them or not */
    *out = s.best;
    return s.best.count > 0 ? DT_OK : DT_E_NONE;
}

/** Strings of a ladder that are run to the surface: as it says, and a last one wider than what is
 * hung as a production liner, which would make a wider one yet the wall of the finished well. */
static unsigned full_of(const dt_well *well, const dt_ladder *ladder)
{
    const size_t last = ladder->count - 1;
    const bool wide = ladder->rungs[last].od_m > well->seats.production_up_to_m + SAME_DIAMETER_M;
    return ladder->full | (wide && !well->last_open ? 1u << last : 0);
}

/** Hands on what the pipe of each string bears beyond what is asked. */
static void spare_pipe(const dt_ladder *ladder, dt_seats *seats)
{
    for (size_t i = 0; i < seats->count + seats->tieback_count; ++i) {
        dt_seat *seat = &seats->items[i];
        const size_t string = seat->type == DT_TIEBACK ? seat->ties : i;
        if (string < ladder->count) seat->spare = ladder->rungs[string].spare;
    }
}

dt_status dt_ladder_seats(const dt_window *window, const dt_ladder *ladder, dt_seats *out)
{
    dt_hole_rules rules[DT_MOST_LADDER + 1];
    for (size_t k = 0; k <= ladder->count; ++k)
        rules[k] = ladder->rungs[k].rules;
    const dt_seat_plan plan = {.count = ladder->count,
                               .pins = ladder->pins,
                               .rules = rules,
                               .spread = ladder->spread,
                               .wanted_m = ladder->steered ? ladder->wanted_m : NULL,
                               .full = full_of(window->well, ladder),
                               .liners = ladder->liners,
                               .keep_broken = true};
    const dt_status status = dt_seats_lay(window, &plan, out);
    if (status == DT_OK) spare_pipe(ladder, out);
    return status;
}

/** Leaves the holes and pipe sizes of a ladder, in place. */
static void keep_rungs(dt_nest *n, const dt_ladder *ladder)
{
    size_t kept = 0;
    for (size_t f = 0; f < n->fit_count; ++f) {
        const dt_nest_hole *hole = &n->holes[n->fits[f].hole];
        const dt_rung *rung = &ladder->rungs[hole->string];
        const bool same = fabs(hole->diameter_m - rung->hole_m) < SAME_DIAMETER_M &&
                          fabs(hole->bit_m - rung->bit_m) < SAME_DIAMETER_M &&
                          fabs(n->pipes[n->fits[f].pipe].od_m - rung->od_m) < SAME_DIAMETER_M;
        if (same) n->fits[kept++] = n->fits[f];
    }
    n->fit_count = kept;
}

dt_status dt_ladder_nest(const dt_well *well, const dt_seats *seats, const dt_catalogue *catalogue,
                         const dt_ladder *ladder, dt_nest *out, size_t *blocked)
{
    dt_status status = dt_nest_build(well, seats, catalogue, out, blocked);
    if (status != DT_OK) return status;
    keep_rungs(out, ladder);
    status = dt_nest_prune(out, blocked);
    if (status != DT_OK) dt_nest_free(out);
    return status;
}
