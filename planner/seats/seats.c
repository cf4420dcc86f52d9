/* SPDX-License-Identifier: MIT */
#include "seats.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "same.h"
#include "section.h"
#include "trajectory.h"

/** More strings than this never telescope; the search stops and says so. */
#define MOST_STRINGS 16

/** A section shorter than this is no section: two shoes stand at least this far apart. */
#define LEAST_SECTION_M 1.0

/** Depths closer than this are the same depth when seats are put on the rounding step. */

static dt_reason plain_reason(dt_rule rule, double have_m, double need_m, int line)
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
                       .line = line};
}

/** A depth with the reason that stops it there. depth_m is NAN when no depth will do. */
typedef struct limit {
    double depth_m;
    dt_reason why;
} limit;

/** Depth of the shallowest seat a shoe of this plan may take: below the conductor and the fresh
 * water. */
typedef struct floor_rule {
    double depth_m;
    dt_reason why;
} floor_rule;

/* ---- one section: shallowest shoe for a bottom, deepest bottom for a shoe -------------- */

/** A limit that is a break but for the noise of arithmetic is that break. */
static void snap_to_break(const dt_window *window, double fixed, bool moving_top, limit *found)
{
    for (size_t i = 0; i < window->break_count; ++i) {
        double depth = window->breaks[i];
        if (fabs(depth - found->depth_m) > 10 * SAME_DEPTH_M) continue;
        dt_section_check check;
        dt_section_test(window, moving_top ? depth : fixed, moving_top ? fixed : depth, true,
                        &check);
        if (check.ok) found->depth_m = depth;
    }
}

/** Room of the section between a fixed and a moving end; below 0 where a rule is broken. */
typedef struct moving {
    const dt_window *window;
    double fixed_m;
    bool top; /* the top moves */
} moving;

static double room(const moving *m, double at_m)
{
    return m->top ? dt_section_spare(m->window, at_m, m->fixed_m)
                  : dt_section_spare(m->window, m->fixed_m, at_m);
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
static limit close_in(const dt_window *window, double bad, double good, double fixed,
                      bool moving_top)
{
    moving m = {window, fixed, moving_top};
    bracket b = {bad, good, room(&m, bad), room(&m, good)};
    close_bracket(&m, &b);
    limit found = {b.good, plain_reason(DT_RULE_OBJECTIVE, b.good, b.good, 0)};
    dt_section_check check;
    dt_section_test(window, moving_top ? b.bad : fixed, moving_top ? fixed : b.bad, true, &check);
    if (!check.ok) found.why = check.why;
    snap_to_break(window, fixed, moving_top, &found);
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
        bool ok = room(m, depth) >= 0;
        *(ok ? good : bad) = depth;
        if (ok == (*good < *bad))
            first = middle + 1;
        else
            end = middle;
    }
}

/** Shallowest shoe at or below floor_m from which the hole can be taken to bottom_m. */
static limit shallowest_shoe(const dt_window *window, double floor_m, double bottom_m)
{
    dt_section_check check;
    double nearest = bottom_m - fmin(LEAST_SECTION_M, (bottom_m - floor_m) / 2);
    dt_section_test(window, floor_m, bottom_m, true, &check);
    if (check.ok)
        return (limit){floor_m, plain_reason(DT_RULE_BELOW_CONDUCTOR, floor_m, floor_m, 0)};
    dt_section_test(window, nearest, bottom_m, true, &check);
    if (!check.ok) return (limit){NAN, check.why};
    double bad = floor_m, good = nearest;
    between_breaks(&(moving){window, bottom_m, true}, &bad, &good);
    return close_in(window, bad, good, bottom_m, true);
}

/** Deepest bottom, at most cap_m, to which the hole below a shoe can be taken. */
static limit deepest_bottom(const dt_window *window, double shoe_m, double cap_m)
{
    dt_section_check check;
    double nearest = shoe_m + fmin(LEAST_SECTION_M, (cap_m - shoe_m) / 2);
    dt_section_test(window, shoe_m, cap_m, true, &check);
    if (check.ok) return (limit){cap_m, plain_reason(DT_RULE_ABOVE_OBJECTIVE, cap_m, cap_m, 0)};
    dt_section_test(window, shoe_m, nearest, true, &check);
    if (!check.ok) return (limit){NAN, check.why};
    double bad = cap_m, good = nearest;
    between_breaks(&(moving){window, shoe_m, false}, &bad, &good);
    return close_in(window, bad, good, shoe_m, false);
}

double dt_seats_shallowest(const dt_window *window, double floor_m, double bottom_m)
{
    return shallowest_shoe(window, floor_m, bottom_m).depth_m;
}

double dt_seats_deepest(const dt_window *window, double shoe_m, double cap_m)
{
    return deepest_bottom(window, shoe_m, cap_m).depth_m;
}

double dt_seats_out_of_avoided(const dt_window *window, double tvd_m)
{
    dt_reason why;
    while (!dt_shoe_allowed(window, tvd_m, &why))
        tvd_m = why.need;
    return tvd_m;
}

/** Moves a depth out of intervals where no shoe may stand; deeper or shallower as asked. */
static void leave_avoided(const dt_window *window, bool deeper, limit *at)
{
    dt_reason why;
    while (isfinite(at->depth_m) && !dt_shoe_allowed(window, at->depth_m, &why)) {
        const dt_interval *interval = &window->well->intervals[why.interval];
        why.need = deeper ? interval->base_m : interval->top_m;
        *at = (limit){why.need, why};
    }
}

/* ---- a gap between two fixed shoes ------------------------------------------------------- */

/** One seat being placed inside a gap. */
typedef struct place {
    limit shallowest, deepest, exact;
    double shoe_m;
    bool off_step; /* no rounding step fits between the limits */
} place;

typedef struct gap {
    double top_m, base_m; /* fixed shoes, or the objective */
    floor_rule floor;     /* no seat above this */
    size_t least_count;   /* seats that must stand inside */
    size_t count;
    place places[MOST_STRINGS];
    limit bottom_up_end, top_down_end; /* where the two passes got to */
} gap;

static limit lowest_seat(const dt_window *window, const gap *g, double bottom_m,
                         size_t strings_above)
{
    limit at = shallowest_shoe(window, g->top_m, bottom_m);
    if (isnan(at.depth_m)) return at;
    double least_m = fmax(g->floor.depth_m, g->top_m + LEAST_SECTION_M) +
                     LEAST_SECTION_M * (double)strings_above;
    if (at.depth_m < least_m) {
        if (least_m - at.depth_m > SAME_DEPTH_M)
            at.why = least_m > g->floor.depth_m + SAME_DEPTH_M
                         ? plain_reason(DT_RULE_BELOW_CONDUCTOR, least_m, g->top_m, 0)
                         : g->floor.why;
        at.depth_m = least_m;
    }
    leave_avoided(window, true, &at);
    if (at.depth_m > bottom_m - SAME_DEPTH_M) at.depth_m = NAN;
    return at;
}

/** Bottom-up by shallowest shoes: sets g->count and places[].shallowest. false: stuck. */
static bool count_strings(const dt_window *window, gap *g)
{
    limit from_below[MOST_STRINGS];
    size_t count = 0;
    double bottom = g->base_m;
    for (;;) {
        dt_section_check check;
        dt_section_test(window, g->top_m, bottom, true, &check);
        if (check.ok && count >= g->least_count) break;
        if (count == MOST_STRINGS) return false;
        size_t above = g->least_count > count + 1 ? g->least_count - count - 1 : 0;
        limit at = lowest_seat(window, g, bottom, above);
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

/** Top-down by deepest bottoms: sets places[].deepest. false when a seat cannot be reached. */
static bool deepen(const dt_window *window, gap *g)
{
    double shoe = g->top_m;
    for (size_t i = 0; i < g->count; ++i) {
        double cap = g->base_m - LEAST_SECTION_M * (double)(g->count - i);
        limit at = deepest_bottom(window, shoe, cap);
        leave_avoided(window, false, &at);
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
static bool leaves_room(const dt_window *window, const gap *g, size_t i, bool deeper, double at_m)
{
    if (deeper) {
        if (i == 0 || g->places[i - 1].deepest.depth_m <= at_m - LEAST_SECTION_M) return true;
        limit next = lowest_seat(window, g, at_m, i - 1);
        return next.depth_m <= g->places[i - 1].deepest.depth_m + SAME_DEPTH_M;
    }
    if (i + 1 == g->count || g->places[i + 1].shallowest.depth_m >= at_m + LEAST_SECTION_M)
        return true;
    limit next =
        deepest_bottom(window, at_m, g->base_m - LEAST_SECTION_M * (double)(g->count - i - 1));
    leave_avoided(window, false, &next);
    return next.depth_m >= g->places[i + 1].shallowest.depth_m - SAME_DEPTH_M;
}

/** Nearest depth on the rounding step that passes every limit, else the exact depth. */
static void put_on_step(const dt_window *window, gap *g, size_t i, bool deeper, double above_m,
                        double below_m)
{
    place *p = &g->places[i];
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
        dt_section_check above, below;
        dt_section_test(window, above_m, at, true, &above);
        dt_section_test(window, at, below_m, true, &below);
        /* The section to the free neighbour is judged when that neighbour is placed. */
        if (!(deeper ? below.ok : above.ok)) continue;
        if (dt_shoe_allowed(window, at, NULL) && leaves_room(window, g, i, deeper, at)) {
            p->shoe_m = at;
            return;
        }
    }
    p->off_step = true;
}

static void place_shallowest(const dt_window *window, gap *g)
{
    double below = g->base_m;
    for (size_t i = g->count; i-- > 0;) {
        place *p = &g->places[i];
        p->exact = lowest_seat(window, g, below, i);
        if (!(p->exact.depth_m <= p->deepest.depth_m + SAME_DEPTH_M)) p->exact = p->shallowest;
        put_on_step(window, g, i, true, g->top_m, below);
        below = p->shoe_m;
    }
}

static void place_deepest(const dt_window *window, gap *g)
{
    double above = g->top_m;
    for (size_t i = 0; i < g->count; ++i) {
        place *p = &g->places[i];
        p->exact =
            deepest_bottom(window, above, g->base_m - LEAST_SECTION_M * (double)(g->count - i));
        leave_avoided(window, false, &p->exact);
        if (!(p->exact.depth_m >= p->shallowest.depth_m - SAME_DEPTH_M)) p->exact = p->deepest;
        put_on_step(window, g, i, false, above, g->base_m);
        above = p->shoe_m;
    }
}

/** How far the hole gets from above when the pass from below is stuck, and what stops it. */
static void reach_down(const dt_window *window, gap *g)
{
    limit reach = deepest_bottom(window, g->top_m, g->base_m);
    g->top_down_end = reach;
    if (g->bottom_up_end.why.rule == DT_RULE_FRESH_WATER) return; /* the first section decides */
    for (int i = 0; i < MOST_STRINGS && isfinite(reach.depth_m); ++i) {
        leave_avoided(window, false, &reach);
        g->top_down_end = reach;
        limit next = deepest_bottom(window, reach.depth_m, g->base_m);
        if (!(next.depth_m > reach.depth_m + LEAST_SECTION_M)) return;
        reach = next;
    }
}

/** Fills a gap with the fewest seats. false: stuck; the two ends say where. */
static bool fill_gap(const dt_window *window, gap *g)
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
    if (window->well->seats.prefer == DT_PREFER_SHALLOWEST)
        place_shallowest(window, g);
    else
        place_deepest(window, g);
    return true;
}

/* ---- conductor ---------------------------------------------------------------------------- */

static void seat_conductor(const dt_window *window, dt_seat *seat)
{
    const dt_well *well = window->well;
    const dt_conductor *c = &well->conductor;
    *seat = (dt_seat){.role = DT_CONDUCTOR,
                      .type = DT_FULL,
                      .mud_kgm3 = NAN,
                      .mud_tvd_m = NAN,
                      .min_fracture_kgm3 = NAN,
                      .pin = DT_NO_INDEX};
    if (isfinite(c->depth_m)) {
        seat->exact_m = seat->shoe_m = c->depth_m;
        seat->why = plain_reason(DT_RULE_CONDUCTOR_GIVEN, c->depth_m, c->depth_m, c->line);
    } else {
        seat->exact_m = dt_well_ground_m(well) + fmax(dt_conductor_penetration_m(well), 0);
        seat->shoe_m = dt_conductor_shoe_m(well);
        seat->why = plain_reason(DT_RULE_CONDUCTOR_RETURNS, seat->exact_m, seat->exact_m, c->line);
    }
    seat->shallowest_m = seat->exact_m;
    seat->deepest_m = seat->shoe_m;
    seat->why_shallowest = seat->why_deepest = seat->why;
}

/* ---- pins and the whole list --------------------------------------------------------------- */

static size_t find_pin(const dt_well *well, dt_role role)
{
    for (size_t i = 0; i < well->pin_count; ++i) /* the liner stands before its tie-back */
        if (well->pins[i].role == role) return i;
    return DT_NO_INDEX;
}

static floor_rule fresh_water_floor(const dt_well *well, double conductor_m)
{
    floor_rule floor = {conductor_m,
                        plain_reason(DT_RULE_BELOW_CONDUCTOR, conductor_m, conductor_m, 0)};
    if (isnan(well->fresh_water_m)) return floor;
    double cover = well->fresh_water_m + well->fresh_water_cover_m;
    if (cover > conductor_m)
        floor = (floor_rule){
            cover, plain_reason(DT_RULE_FRESH_WATER, cover, cover, well->fresh_water_line)};
    return floor;
}

/** A seat under construction: a list that grows, freed by its owner on failure. */
static dt_seat *add_seat(dt_seats *seats)
{
    dt_seat *items = realloc(seats->items, (seats->count + 1) * sizeof *items);
    if (!items) return NULL;
    seats->items = items;
    dt_seat *seat = &items[seats->count++];
    *seat = (dt_seat){.type = DT_FULL,
                      .pin = DT_NO_INDEX,
                      .mud_kgm3 = NAN,
                      .mud_tvd_m = NAN,
                      .min_fracture_kgm3 = NAN};
    return seat;
}

static dt_status add_broken(dt_seats *seats, size_t seat, const dt_reason *why)
{
    dt_broken_pin *broken = realloc(seats->broken, (seats->broken_count + 1) * sizeof *broken);
    if (!broken) return DT_E_MEMORY;
    seats->broken = broken;
    broken[seats->broken_count++] = (dt_broken_pin){seat, *why};
    return DT_OK;
}

static dt_status add_fixed(dt_seats *seats, double shoe_m, const dt_reason *why, bool pinned)
{
    dt_seat *seat = add_seat(seats);
    if (!seat) return DT_E_MEMORY;
    seat->shallowest_m = seat->deepest_m = seat->exact_m = seat->shoe_m = shoe_m;
    seat->why = seat->why_shallowest = seat->why_deepest = *why;
    seat->shoe_pinned = pinned;
    return DT_OK;
}

static dt_status add_places(dt_seats *seats, const gap *g, dt_prefer prefer)
{
    for (size_t i = 0; i < g->count; ++i) {
        const place *p = &g->places[i];
        dt_seat *seat = add_seat(seats);
        if (!seat) return DT_E_MEMORY;
        seat->shallowest_m = p->shallowest.depth_m;
        seat->deepest_m = p->deepest.depth_m;
        seat->why_shallowest = p->shallowest.why;
        seat->why_deepest = p->deepest.why;
        seat->exact_m = p->exact.depth_m;
        seat->shoe_m = p->shoe_m;
        seat->why = p->exact.why;
        if (p->exact.why.rule == DT_RULE_ABOVE_OBJECTIVE && prefer == DT_PREFER_SHALLOWEST)
            seat->why = p->shallowest.why;
    }
    return DT_OK;
}

/** The pins between two fixed shoes that name a string but no shoe, and the surface string. */
static size_t strings_asked(const dt_well *well, size_t first_pin, size_t end_pin,
                            bool from_conductor, bool to_production, bool fresh_water)
{
    size_t asked = 0;
    bool surface = false;
    for (size_t i = first_pin; i < end_pin; ++i) {
        dt_role role = well->pins[i].role;
        if (role == DT_CONDUCTOR || role == DT_PRODUCTION) continue;
        if (well->pins[i].type == DT_TIEBACK) continue; /* has no shoe of its own */
        ++asked;
        if (role == DT_SURFACE) surface = true;
    }
    /* Strings below a surface string nobody pinned: it is there all the same. */
    bool end_is_surface = end_pin < well->pin_count && well->pins[end_pin].role == DT_SURFACE;
    if (from_conductor && !surface && !end_is_surface &&
        (asked > 0 || !to_production || fresh_water))
        ++asked;
    return asked;
}

/** One gap of the whole well, filled and appended. */
static dt_status append_gap(const dt_window *window, dt_seats *seats, gap *g, bool may_add,
                            bool pinned_end)
{
    if (may_add || g->least_count > 0) {
        if (fill_gap(window, g)) return add_places(seats, g, window->well->seats.prefer);
    } else {
        dt_section_check check;
        dt_section_test(window, g->top_m, g->base_m, true, &check);
        if (check.ok) return DT_OK;
        return add_broken(seats, seats->count, &check.why);
    }
    if (pinned_end) {
        dt_section_check check;
        dt_section_test(window, g->top_m, g->base_m, true, &check);
        if (!check.ok) return add_broken(seats, seats->count, &check.why);
    }
    seats->collisions[0] = g->bottom_up_end.why;
    seats->collisions[1] = g->top_down_end.why;
    seats->collision_count = 2;
    return DT_E_NONE;
}

static dt_status fill_well(const dt_window *window, dt_seats *seats)
{
    const dt_well *well = window->well;
    double top = seats->items[0].shoe_m;
    floor_rule floor = fresh_water_floor(well, top);
    bool fresh = floor.why.rule == DT_RULE_FRESH_WATER;
    bool from_conductor = true;
    const double objective = well->objective_m; /* a pinned production shoe stands there, too */
    size_t first = 0;
    for (size_t i = 0; i <= well->pin_count; ++i) {
        const dt_pin *pin = i < well->pin_count ? &well->pins[i] : NULL;
        if (pin && (pin->role == DT_CONDUCTOR || pin->role == DT_PRODUCTION || isnan(pin->shoe_m)))
            continue;
        const double shoe = pin ? dt_window_on_break(window, pin->shoe_m) : objective;
        gap g = {.top_m = top, .base_m = shoe, .floor = floor};
        g.least_count = strings_asked(well, first, i, from_conductor, pin == NULL, fresh);
        bool may_add = !(pin && pin->role == DT_SURFACE);
        dt_status status = append_gap(window, seats, &g, may_add, pin != NULL);
        if (status != DT_OK) return status;
        if (pin) {
            dt_reason why = plain_reason(pin->chosen ? DT_RULE_CHOSEN_TOGETHER : DT_RULE_PINNED,
                                         pin->shoe_m, pin->shoe_m, pin->line);
            if (pin->shoe_m < floor.depth_m - SAME_DEPTH_M) {
                dt_reason low = floor.why;
                low.have = pin->shoe_m;
                if (add_broken(seats, seats->count, &low) != DT_OK) return DT_E_MEMORY;
            }
            dt_reason avoided;
            if (!dt_shoe_allowed(window, shoe, &avoided) &&
                add_broken(seats, seats->count, &avoided) != DT_OK)
                return DT_E_MEMORY;
            if (add_fixed(seats, shoe, &why, true) != DT_OK) return DT_E_MEMORY;
            top = shoe;
            from_conductor = false;
            first = i + 1;
        }
    }
    dt_reason why = plain_reason(DT_RULE_OBJECTIVE, objective, objective, well->objective_line);
    return add_fixed(seats, objective, &why, false);
}

static void give_roles(const dt_well *well, dt_seats *seats)
{
    for (size_t i = 1; i < seats->count; ++i)
        seats->items[i].role = i + 1 == seats->count ? DT_PRODUCTION
                               : i == 1              ? DT_SURFACE
                                                     : DT_INTERMEDIATE;
    /* Pins in order: one with a shoe takes the seat at its shoe, one without the next free seat. */
    size_t next = 0;
    for (size_t p = 0; p < well->pin_count; ++p) {
        const dt_pin *pin = &well->pins[p];
        if (pin->type == DT_TIEBACK) continue;
        for (size_t i = next; i < seats->count; ++i) {
            dt_seat *seat = &seats->items[i];
            bool same_place = isnan(pin->shoe_m) || pin->role == DT_CONDUCTOR ||
                              pin->role == DT_PRODUCTION ||
                              fabs(pin->shoe_m - seat->shoe_m) < SAME_DEPTH_M;
            if (seat->role != pin->role || !same_place) continue;
            seat->pin = p;
            if (pin->type == DT_LINER) seat->type = DT_LINER;
            next = i + 1;
            break;
        }
    }
}

/**
 * An intermediate string under another one becomes a liner when running it from surface,
 * without the string above, would break the sticking limit: the string above it covers
 * that rock, so only the liner's own hole counts.
 */
static void give_types(const dt_window *window, dt_seats *seats)
{
    if (!window->well->seats.liners) return;
    for (size_t i = 3; i + 1 < seats->count; ++i) {
        dt_seat *seat = &seats->items[i];
        bool said =
            seat->pin != DT_NO_INDEX && window->well->pins[seat->pin].type != DT_TYPE_UNSAID;
        if (said) continue;
        if (!dt_section_sticks(window, seats->items[i - 2].shoe_m, seat->shoe_m)) continue;
        seat->type = DT_LINER;
        seat->liner_by_sticking = true;
    }
}

static void give_muds(const dt_window *window, dt_seats *seats)
{
    for (size_t i = 1; i < seats->count; ++i) {
        dt_seat *seat = &seats->items[i];
        double top = seats->items[i - 1].shoe_m;
        seat->mud_kgm3 =
            dt_section_mud(window, top, seat->shoe_m, &seat->mud_tvd_m, &seat->mud_by_collapse);
        seat->min_fracture_kgm3 = dt_section_min_fracture(window, top, seat->shoe_m);
    }
}

/** A liner whose lap, along the hole, reaches the wellhead leaves a tie-back no room. */
static dt_status has_room(const dt_well *well, double shoe_above_m, bool *fits)
{
    const double lap_m = dt_custom_or(well, well->seats.lap_m, DT_CUSTOM_SEATS_LAP);
    dt_trajectory trajectory = {0};
    const dt_status status = dt_trajectory_build(well->stations, well->station_count, &trajectory);
    if (status != DT_OK) return status;
    *fits = dt_trajectory_md(&trajectory, shoe_above_m) - lap_m > LEAST_SECTION_M;
    dt_trajectory_free(&trajectory);
    return DT_OK;
}

/** Tie-backs come from pins alone, each behind the pin of its liner. */
static dt_status add_tiebacks(const dt_well *well, dt_seats *seats)
{
    const size_t count = seats->count;
    for (size_t k = 1; k < count; ++k) {
        const size_t pin = seats->items[k].pin;
        if (pin == DT_NO_INDEX || pin + 1 >= well->pin_count) continue;
        if (well->pins[pin + 1].type != DT_TIEBACK || seats->items[k].type != DT_LINER) continue;
        bool fits = false;
        const dt_status status = has_room(well, seats->items[k - 1].shoe_m, &fits);
        if (status != DT_OK) return status;
        if (!fits) continue;
        seats->count = count + seats->tieback_count;
        dt_seat *added = add_seat(seats);
        seats->count = count; /* it is none of them */
        if (!added) return DT_E_MEMORY;
        ++seats->tieback_count;
        dt_seat *liner = &seats->items[k];
        liner->tied_back = true;
        *added = *liner;
        added->type = DT_TIEBACK;
        added->liner_by_sticking = added->shoe_pinned = false;
        added->shallowest_m = added->deepest_m = added->exact_m = added->shoe_m = NAN;
        added->mud_tvd_m = added->min_fracture_kgm3 = NAN; /* no hole is drilled for it */
        added->tied_back = false;
        added->ties = k;
        added->pin = pin + 1;
    }
    return DT_OK;
}

bool dt_seat_covers(const dt_seat *seat)
{
    return seat->type == DT_FULL || seat->tied_back;
}

size_t dt_seats_at(const dt_seats *seats, size_t position)
{
    if (seats->tieback_count == 0) return position;
    for (size_t k = 0; k < seats->count; ++k) {
        if (position == 0) return k;
        --position;
        if (!seats->items[k].tied_back) continue;
        if (position == 0) return dt_seats_tieback_on(seats, k);
        --position;
    }
    return DT_NO_INDEX;
}

size_t dt_seats_position(const dt_seats *seats, size_t index)
{
    if (seats->tieback_count == 0) return index;
    const size_t seat = index < seats->count ? index : seats->items[index].ties;
    size_t before = seat + (index < seats->count ? 0 : 1);
    for (size_t k = 0; k < seat; ++k)
        before += seats->items[k].tied_back;
    return before;
}

size_t dt_seats_tieback_on(const dt_seats *seats, size_t seat)
{
    for (size_t i = seats->count; i < seats->count + seats->tieback_count; ++i)
        if (seats->items[i].ties == seat) return i;
    return DT_NO_INDEX;
}

dt_status dt_seats_choose(const dt_window *window, dt_seats *out)
{
    *out = (dt_seats){0};
    dt_seat *conductor = add_seat(out);
    if (!conductor) return DT_E_MEMORY;
    seat_conductor(window, conductor);
    size_t pin = find_pin(window->well, DT_CONDUCTOR);
    if (pin != DT_NO_INDEX && isfinite(window->well->pins[pin].shoe_m)) {
        double shoe = window->well->pins[pin].shoe_m;
        conductor->shoe_m = conductor->shallowest_m = conductor->deepest_m = conductor->exact_m =
            shoe;
        conductor->why = plain_reason(DT_RULE_PINNED, shoe, shoe, window->well->pins[pin].line);
        conductor->shoe_pinned = true;
    }
    dt_status status = fill_well(window, out);
    if (status != DT_OK) return status;
    give_roles(window->well, out);
    give_types(window, out);
    give_muds(window, out);
    return add_tiebacks(window->well, out);
}

void dt_seats_free(dt_seats *seats)
{
    if (!seats) return;
    free(seats->items);
    free(seats->broken);
    *seats = (dt_seats){0};
}

typedef struct rule_text {
    const char *code, *words;
} rule_text;

static const rule_text rule_texts[DT_RULE_COUNT] = {
#define RULE_TEXT(name, code, words) [DT_RULE_##name] = {code, words},
    DT_RULE_LIST(RULE_TEXT)
#undef RULE_TEXT
};

const char *dt_rule_code(dt_rule rule)
{
    return rule_texts[rule].code;
}

const char *dt_rule_words(dt_rule rule)
{
    return rule_texts[rule].words;
}
