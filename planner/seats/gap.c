/* SPDX-License-Identifier: MIT */
/* Seats between two fixed shoes. Part of stage 3, seats.h. */
#include "gap.h"

#include <math.h>

#include "basis.h"
#include "same.h"
#include "section.h"

/** A section shorter than this is no section: two shoes stand at least this far apart. */
#define LEAST_SECTION_M DT_LEAST_SECTION_M

dt_reason dt_plain_reason(dt_rule rule, double have_m, double need_m, int line)
{
    return (dt_reason){.rule = rule,
                       .tvd_m = need_m,
                       .have = have_m,
                       .need = need_m,
                       .kind = DT_KIND_LENGTH,
                       .mud_kgm3 = NAN,
                       .mud_tvd_m = NAN,
                       .section_top_m = NAN,
                       .section_base_m = NAN,
                       .interval = DT_NO_INDEX,
                       .pay = DT_NO_INDEX,
                       .hole_m = NAN,
                       .line = line};
}

/* ---- one section: shallowest shoe for a bottom, deepest bottom for a shoe -------------- */

/** Room of the section between a fixed and a moving end; below 0 where a rule is broken. */
typedef struct moving {
    const dt_window *window;
    const dt_hole_rules *rules;
    double fixed_m;
    bool top; /* the top moves */
} moving;

static bool holds_at(const moving *m, double at_m)
{
    return m->top ? dt_section_holds(m->window, m->rules, at_m, m->fixed_m)
                  : dt_section_holds(m->window, m->rules, m->fixed_m, at_m);
}

/** A limit that is a break but for the noise of arithmetic is that break. */
static void snap_to_break(const moving *m, dt_limit *found)
{
    const dt_window *window = m->window;
    for (size_t i = 0; i < window->break_count; ++i) {
        double depth = window->breaks[i];
        if (fabs(depth - found->depth_m) > 10 * SAME_DEPTH_M) continue;
        if (holds_at(m, depth)) found->depth_m = depth;
    }
}

static double room(const moving *m, double at_m)
{
    return m->top ? dt_section_spare(m->window, m->rules, at_m, m->fixed_m)
                  : dt_section_spare(m->window, m->rules, m->fixed_m, at_m);
}

typedef struct bracket {
    double bad, good, bad_room, good_room;
} bracket;

static void narrow(const moving *m, bracket *b, double at_m)
{
    double there = room(m, at_m);
    if (there >= 0) {
        b->good = at_m;
        b->good_room = there;
    } else {
        b->bad = at_m;
        b->bad_room = there;
    }
}

/** A limit at a step or an interval's edge stands beside the break itself: look there first. */
static void probe_edges(const moving *m, bracket *b)
{
    static const double near_m[] = {2e-8, 8e-10};
    double toward = b->bad > b->good ? 1 : -1;
    for (size_t i = 0; i < COUNT_OF(near_m); ++i) {
        if (fabs(b->bad - b->good) <= near_m[i]) continue;
        double there = room(m, b->good + toward * near_m[i]);
        if (there >= 0) return;
        b->bad = b->good + toward * near_m[i];
        b->bad_room = there;
    }
}

/** Limits are found this closely, m: a thousandth of what a drawing or a table could show. */
#define CLOSE_M 1e-9

/**
 * Closes in on the limit inside [bad, good]. Room is continuous and nearly straight between
 * breaks, so a straight line through both ends hits it in a few steps, each taken a little
 * past the hit so that both ends move; halving takes over when the bracket does not shrink.
 */
static void close_bracket(const moving *m, bracket *b)
{
    probe_edges(m, b);
    for (int i = 0; i < 200; ++i) {
        double width = fabs(b->good - b->bad);
        double middle = b->bad + (b->good - b->bad) / 2;
        if (width < CLOSE_M || middle == b->bad || middle == b->good) return;
        double part = b->bad_room / (b->bad_room - b->good_room);
        double hit = b->bad + part * (b->good - b->bad);
        double past = fmax(1e-4 * fabs(part) * width, 0.3 * CLOSE_M);
        double toward = b->good > b->bad ? 1 : -1;
        double to_good = hit + toward * past, to_bad = hit - toward * past;
        bool inside = isfinite(hit) && fabs(to_good - b->bad) < width;
        if (inside) narrow(m, b, to_good);
        inside = isfinite(hit) && (to_bad - b->bad) * toward > 0 && (b->good - to_bad) * toward > 0;
        if (inside) narrow(m, b, to_bad);
        if (fabs(b->good - b->bad) > width / 4) narrow(m, b, b->bad + (b->good - b->bad) / 2);
    }
}

/** Narrows [bad, good] to one depth, on the side that passes; why is what stops the other side. */
static dt_limit close_in(const moving *m, double bad, double good)
{
    bracket b = {bad, good, room(m, bad), room(m, good)};
    close_bracket(m, &b);
    dt_limit found = {b.good, dt_plain_reason(DT_RULE_OBJECTIVE, b.good, b.good, 0)};
    dt_section_check check;
    dt_section_test(m->window, m->rules, m->top ? b.bad : m->fixed_m, m->top ? m->fixed_m : b.bad,
                    true, &check);
    if (!check.ok) found.why = check.why;
    snap_to_break(m, &found);
    return found;
}

/**
 * Halves the breaks strictly between a good and a bad depth down to two neighbours. Rules get
 * no harder on the good side, so one comparison decides for all breaks beyond it.
 */
static void between_breaks(const moving *m, double *bad, double *good)
{
    const dt_window *window = m->window;
    double upper = fmin(*bad, *good), lower = fmax(*bad, *good);
    size_t first = dt_window_break_below(window, upper), end = dt_window_break_below(window, lower);
    while (end > first && window->breaks[end - 1] >= lower)
        --end;
    while (first < end) {
        size_t middle = first + (end - first) / 2;
        double depth = window->breaks[middle];
        bool ok = holds_at(m, depth);
        *(ok ? good : bad) = depth;
        if (ok == (*good < *bad))
            first = middle + 1;
        else
            end = middle;
    }
}

/** Shallowest shoe at or below floor_m from which the hole can be taken to bottom_m. */
static dt_limit shallowest_shoe(const dt_window *window, const dt_hole_rules *rules, double floor_m,
                                double bottom_m)
{
    dt_section_check check;
    const moving m = {window, rules, bottom_m, true};
    double nearest = bottom_m - fmin(LEAST_SECTION_M, (bottom_m - floor_m) / 2);
    if (dt_section_holds(window, rules, floor_m, bottom_m))
        return (dt_limit){floor_m, dt_plain_reason(DT_RULE_BELOW_CONDUCTOR, floor_m, floor_m, 0)};
    if (!dt_section_holds(window, rules, nearest, bottom_m)) {
        dt_section_test(window, rules, nearest, bottom_m, true, &check);
        return (dt_limit){NAN, check.why};
    }
    double bad = floor_m, good = nearest;
    between_breaks(&m, &bad, &good);
    return close_in(&m, bad, good);
}

/** Deepest bottom, at most cap_m, to which the hole below a shoe can be taken. */
static dt_limit deepest_bottom(const dt_window *window, const dt_hole_rules *rules, double shoe_m,
                               double cap_m)
{
    dt_section_check check;
    const moving m = {window, rules, shoe_m, false};
    double nearest = shoe_m + fmin(LEAST_SECTION_M, (cap_m - shoe_m) / 2);
    if (dt_section_holds(window, rules, shoe_m, cap_m))
        return (dt_limit){cap_m, dt_plain_reason(DT_RULE_ABOVE_OBJECTIVE, cap_m, cap_m, 0)};
    if (!dt_section_holds(window, rules, shoe_m, nearest)) {
        dt_section_test(window, rules, shoe_m, nearest, true, &check);
        return (dt_limit){NAN, check.why};
    }
    double bad = cap_m, good = nearest;
    between_breaks(&m, &bad, &good);
    return close_in(&m, bad, good);
}

double dt_seats_shallowest(const dt_window *window, const dt_hole_rules *rules, double floor_m,
                           double bottom_m)
{
    return shallowest_shoe(window, rules, floor_m, bottom_m).depth_m;
}

double dt_seats_deepest(const dt_window *window, const dt_hole_rules *rules, double shoe_m,
                        double cap_m)
{
    return deepest_bottom(window, rules, shoe_m, cap_m).depth_m;
}

double dt_seats_out_of_avoided(const dt_window *window, double tvd_m)
{
    dt_reason why;
    while (!dt_shoe_allowed(window, tvd_m, &why))
        tvd_m = why.need;
    return tvd_m;
}

/** Moves a depth out of rock where no shoe may stand; deeper or shallower as asked. */
static void leave_avoided(const dt_window *window, bool deeper, dt_limit *at)
{
    dt_reason why;
    while (isfinite(at->depth_m) && !dt_shoe_allowed(window, at->depth_m, &why)) {
        if (!deeper) why.need = why.other;
        *at = (dt_limit){why.need, why};
    }
}

/* ---- a gap between two fixed shoes ------------------------------------------------------- */

/** Rules of the hole that ends at a place; place `count` is the hole that ends at the gap's base.
 */
static const dt_hole_rules *rules_at(const dt_gap *g, size_t place)
{
    if (g->counted) return &g->rules[place];
    return &g->rules[place == 0 && g->from_conductor ? 0 : 1];
}

/** Rules of the hole below the gap's last seat but `below`, while it is filled from below. */
static const dt_hole_rules *rules_from_below(const dt_gap *g, size_t below)
{
    return g->counted ? &g->rules[g->least_count - below] : &g->rules[1];
}

/** The least depth of dt_gap_least_depth() before rock where no shoe may stand moves this shoe. */
static double least_depth(const dt_window *window, const dt_gap *g, size_t strings_above)
{
    double at_m = fmax(g->floor.depth_m, g->top_m + LEAST_SECTION_M);
    for (size_t i = 0; i < strings_above; ++i)
        at_m = dt_seats_out_of_avoided(window, at_m) + LEAST_SECTION_M;
    return at_m;
}

double dt_gap_least_depth(const dt_window *window, const dt_gap *gap, size_t strings_above)
{
    return dt_seats_out_of_avoided(window, least_depth(window, gap, strings_above));
}

static dt_limit lowest_seat(const dt_window *window, const dt_gap *g, const dt_hole_rules *rules,
                            double bottom_m, size_t strings_above)
{
    dt_limit at = shallowest_shoe(window, rules, g->top_m, bottom_m);
    if (isnan(at.depth_m)) return at;
    const double least_m = least_depth(window, g, strings_above);
    if (at.depth_m < least_m) {
        if (least_m - at.depth_m > SAME_DEPTH_M)
            at.why = least_m > g->floor.depth_m + SAME_DEPTH_M
                         ? dt_plain_reason(DT_RULE_BELOW_CONDUCTOR, least_m, g->top_m, 0)
                         : g->floor.why;
        at.depth_m = least_m;
    }
    leave_avoided(window, true, &at);
    if (at.depth_m > bottom_m - SAME_DEPTH_M) at.depth_m = NAN;
    return at;
}

/** Has the pass from below placed all that is to stand in the gap? */
static bool all_placed(const dt_window *window, const dt_gap *g, size_t count, double bottom_m)
{
    if (g->counted) return count == g->least_count;
    /* a surface shoe that may stand no deeper asks for another string */
    if (count > 0 && bottom_m > g->ceiling.depth_m + SAME_DEPTH_M) return false;
    return count >= g->least_count && dt_section_holds(window, rules_at(g, 0), g->top_m, bottom_m);
}

/** Bottom-up by shallowest shoes: sets g->count and places[].shallowest. false: stuck. */
static bool count_strings(const dt_window *window, dt_gap *g)
{
    dt_limit from_below[DT_MOST_SEATS];
    size_t count = 0;
    double bottom = g->base_m;
    while (!all_placed(window, g, count, bottom)) {
        if (count == DT_MOST_SEATS) return false;
        size_t above = g->least_count > count + 1 ? g->least_count - count - 1 : 0;
        dt_limit at = lowest_seat(window, g, rules_from_below(g, count), bottom, above);
        g->bottom_up_end = at;
        if (isnan(at.depth_m)) {
            g->bottom_up_end.why.section_base_m = bottom;
            return false;
        }
        from_below[count++] = at;
        bottom = at.depth_m;
    }
    g->count = count;
    for (size_t i = 0; i < count; ++i)
        g->places[i].shallowest = from_below[count - 1 - i];
    return true;
}

/** Deepest bottom at a place, for a shoe above it: by its hole, the strings below it and, of the
 * first string below the conductor, by where its shoe may stand at most. */
static dt_limit deepest_at(const dt_window *window, const dt_gap *g, size_t i, double shoe_m)
{
    const double cap = g->base_m - LEAST_SECTION_M * (double)(g->count - i);
    const bool held = i == 0 && g->ceiling.depth_m < cap;
    dt_limit at = deepest_bottom(window, rules_at(g, i), shoe_m, held ? g->ceiling.depth_m : cap);
    if (held && at.depth_m >= g->ceiling.depth_m) at = g->ceiling;
    leave_avoided(window, false, &at);
    return at;
}

/** Top-down by deepest bottoms: sets places[].deepest. false when a seat cannot be reached. */
static bool deepen(const dt_window *window, dt_gap *g)
{
    double shoe = g->top_m;
    for (size_t i = 0; i < g->count; ++i) {
        const dt_limit at = deepest_at(window, g, i, shoe);
        g->places[i].deepest = at;
        g->top_down_end = at;
        if (!(at.depth_m >= g->places[i].shallowest.depth_m - SAME_DEPTH_M)) return false;
        shoe = at.depth_m;
    }
    return true;
}

static double on_step(double depth_m, double step_m, bool deeper)
{
    if (!isfinite(step_m) || step_m <= 0) return depth_m;
    double steps = depth_m / step_m;
    double tolerance = SAME_DEPTH_M / step_m;
    return step_m * (deeper ? ceil(steps - tolerance) : floor(steps + tolerance));
}

/**
 * Does the neighbour that is placed after this seat still find its place? Between the two limits
 * it does, unless they are so near that no section of the least length lies between.
 */
static bool leaves_room(const dt_window *window, const dt_gap *g, size_t i, bool deeper,
                        double at_m)
{
    if (deeper) {
        if (i == 0 || g->places[i - 1].deepest.depth_m <= at_m - LEAST_SECTION_M) return true;
        dt_limit next = lowest_seat(window, g, rules_at(g, i), at_m, i - 1);
        return next.depth_m <= g->places[i - 1].deepest.depth_m + SAME_DEPTH_M;
    }
    if (i + 1 == g->count || g->places[i + 1].shallowest.depth_m >= at_m + LEAST_SECTION_M)
        return true;
    dt_limit next = deepest_at(window, g, i + 1, at_m);
    return next.depth_m >= g->places[i + 1].shallowest.depth_m - SAME_DEPTH_M;
}

/** Nearest depth on the rounding step that passes every limit, else the exact depth. */
static void put_on_step(const dt_window *window, dt_gap *g, size_t i, bool deeper, double above_m,
                        double below_m)
{
    dt_place *p = &g->places[i];
    double step = window->well->seats.round_to_m;
    double exact = p->exact.depth_m;
    double low = fmax(p->shallowest.depth_m, above_m + LEAST_SECTION_M);
    double high = fmin(p->deepest.depth_m, below_m - LEAST_SECTION_M);
    p->shoe_m = exact;
    p->off_step = false;
    if (!isfinite(step) || step <= 0) return;
    for (double stepped = on_step(exact, step, deeper);
         stepped >= low - SAME_DEPTH_M && stepped <= high + SAME_DEPTH_M;
         stepped += deeper ? step : -step) {
        const double at = dt_window_on_break(window, stepped);
        /* The section to the free neighbour is judged when that neighbour is placed. */
        if (!(deeper ? dt_section_holds(window, rules_at(g, i + 1), at, below_m)
                     : dt_section_holds(window, rules_at(g, i), above_m, at)))
            continue;
        if (dt_shoe_allowed(window, at, NULL) && leaves_room(window, g, i, deeper, at)) {
            p->shoe_m = at;
            return;
        }
    }
    p->off_step = true;
}

static void place_shallowest(const dt_window *window, dt_gap *g)
{
    double below = g->base_m;
    for (size_t i = g->count; i-- > 0;) {
        dt_place *p = &g->places[i];
        p->exact = lowest_seat(window, g, rules_at(g, i + 1), below, i);
        if (!(p->exact.depth_m <= p->deepest.depth_m + SAME_DEPTH_M)) p->exact = p->shallowest;
        put_on_step(window, g, i, true, g->top_m, below);
        below = p->shoe_m;
    }
}

/** Why a hole bears less than wanted from a shoe; false: it bears it after all. */
static bool short_of_wanted(const dt_window *window, const dt_hole_rules *rules, double shoe_m,
                            double bottom_m, dt_reason *why)
{
    dt_hole_rules wanted = *rules;
    dt_section_check check;
    wanted.wanted_m3 = wanted.assembly.minimum_m3;
    dt_section_test(window, &wanted, shoe_m, bottom_m, true, &check);
    if (!check.ok) *why = check.why;
    return !check.ok;
}

/**
 * Where nowhere above a hole the influx that it should bear can be had, the shoe above gives it as
 * much as can be had: it stands as deep as its own hole may end with all that is wanted, and as far
 * short of that as a shoe stands clear of bad rock. What asks a string deeper stays in force.
 */
static void lower_for_relaxed(const dt_window *window, dt_gap *g)
{
    const dt_well *well = window->well;
    const double clear_m = dt_custom_or(well, well->seats.past_m, DT_CUSTOM_SEATS_PAST);
    double above = g->top_m;
    for (size_t i = 0; i < g->count && g->counted; ++i) {
        dt_place *p = &g->places[i];
        const double below = i + 1 < g->count ? g->places[i + 1].shoe_m : g->base_m;
        const dt_place before = *p;
        if (rules_at(g, i + 1)->relaxed && !rules_at(g, i)->relaxed) {
            dt_limit at = deepest_at(window, g, i, above);
            at.depth_m = fmin(at.depth_m, below - LEAST_SECTION_M) - clear_m;
            leave_avoided(window, false, &at);
            const bool deeper = at.depth_m > p->shoe_m + SAME_DEPTH_M;
            if (deeper && short_of_wanted(window, rules_at(g, i + 1), at.depth_m, below, &at.why)) {
                p->exact = at;
                put_on_step(window, g, i, false, above, below);
                if (p->off_step || p->shoe_m < before.shoe_m) *p = before;
            }
        }
        above = p->shoe_m;
    }
}

static void place_deepest(const dt_window *window, dt_gap *g)
{
    double above = g->top_m;
    for (size_t i = 0; i < g->count; ++i) {
        dt_place *p = &g->places[i];
        p->exact = deepest_at(window, g, i, above);
        if (!(p->exact.depth_m >= p->shallowest.depth_m - SAME_DEPTH_M)) p->exact = p->deepest;
        put_on_step(window, g, i, false, above, g->base_m);
        above = p->shoe_m;
    }
}

/**
 * Where a seat stands inside its range: as near as may be to the depth that is wanted; or, where
 * more strings are asked for than the rock needs, spread over the well: in 151 vertical exploration
 * wells of a shelf intermediate shoes stand at about 0.7 of the range they may stand in, surface
 * shoes at 0.5 (Norwegian Petroleum Directorate, FactPages).
 */
static double inside_range(const dt_gap *g, size_t i, double low_m, double deepest_m)
{
    if (g->wanted_m) return fmax(fmin(g->wanted_m[i], deepest_m), low_m);
    const double part = i == 0 && g->from_conductor ? 0.5 : 0.7;
    return low_m + part * fmax(deepest_m - low_m, 0);
}

/** From above, each below the one before. */
static void place_inside(const dt_window *window, dt_gap *g)
{
    const dt_rule rule = g->wanted_m ? DT_RULE_SUREST : DT_RULE_SPREAD;
    double above = g->top_m;
    for (size_t i = 0; i < g->count; ++i) {
        dt_place *p = &g->places[i];
        const dt_limit deepest = deepest_at(window, g, i, above);
        const double low = fmax(p->shallowest.depth_m, above + LEAST_SECTION_M);
        const double at_m = inside_range(g, i, low, deepest.depth_m);
        p->exact = (dt_limit){at_m, dt_plain_reason(rule, at_m, at_m, 0)};
        leave_avoided(window, true, &p->exact);
        if (!(p->exact.depth_m <= deepest.depth_m + SAME_DEPTH_M)) p->exact = p->shallowest;
        put_on_step(window, g, i, false, above, g->base_m);
        above = p->shoe_m;
    }
}

/** How far the hole gets from above when the pass from below is stuck, and what stops it. */
static void reach_down(const dt_window *window, dt_gap *g)
{
    dt_limit reach = deepest_bottom(window, rules_at(g, 0), g->top_m, g->base_m);
    g->top_down_end = reach;
    if (g->bottom_up_end.why.rule == DT_RULE_FRESH_WATER) return; /* the first section decides */
    for (size_t i = 1; i < DT_MOST_SEATS && isfinite(reach.depth_m); ++i) {
        if (g->counted && i > g->least_count) return;
        leave_avoided(window, false, &reach);
        g->top_down_end = reach;
        dt_limit next = deepest_bottom(window, rules_at(g, i), reach.depth_m, g->base_m);
        if (!(next.depth_m > reach.depth_m + LEAST_SECTION_M)) return;
        reach = next;
    }
}

/** Are more strings asked for than the rock needs? */
static bool is_crowded(const dt_window *window, const dt_gap *g)
{
    if (g->counted || g->least_count <= g->needed_count) return g->spread;
    dt_gap fewest = *g;
    fewest.least_count = g->needed_count;
    return count_strings(window, &fewest) && fewest.count < g->count;
}

bool dt_gap_fill(const dt_window *window, dt_gap *g)
{
    if (!count_strings(window, g)) {
        reach_down(window, g);
        return false;
    }
    if (!deepen(window, g)) {
        /* Name the seat whose two limits cross: what asks it deeper, what allows no deeper. */
        for (size_t i = 0; i < g->count; ++i)
            if (!(g->places[i].deepest.depth_m >= g->places[i].shallowest.depth_m - SAME_DEPTH_M)) {
                g->bottom_up_end = g->places[i].shallowest;
                g->top_down_end = g->places[i].deepest;
                break;
            }
        return false;
    }
    if (g->wanted_m || is_crowded(window, g))
        place_inside(window, g);
    else if (window->well->seats.prefer != DT_PREFER_DEEPEST) {
        place_shallowest(window, g);
        lower_for_relaxed(window, g);
    } else
        place_deepest(window, g);
    return true;
}

double dt_gap_lowest_seat(const dt_window *window, const dt_gap *gap, const dt_hole_rules *rules,
                          double bottom_m, size_t strings_above)
{
    return lowest_seat(window, gap, rules, bottom_m, strings_above).depth_m;
}
