/* SPDX-License-Identifier: MIT */
#include "seats.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "gap.h"
#include "same.h"
#include "section.h"
#include "trajectory.h"

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
        seat->why = dt_plain_reason(DT_RULE_CONDUCTOR_GIVEN, c->depth_m, c->depth_m, c->line);
    } else {
        seat->exact_m = dt_well_ground_m(well) + fmax(dt_conductor_penetration_m(well), 0);
        seat->shoe_m = dt_conductor_shoe_m(well);
        seat->why =
            dt_plain_reason(DT_RULE_CONDUCTOR_RETURNS, seat->exact_m, seat->exact_m, c->line);
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

/** The row of the basis for the surface shoe of a well as deep as this one. */
static const dt_surface_custom *surface_limits(const dt_well *well)
{
    size_t count, at = 0;
    const dt_surface_custom *rows = dt_custom_rows(well, DT_TABLE_SURFACE_ROWS, &count);
    while (at + 1 < count && well->objective_m > rows[at].objective_to_m + SAME_DEPTH_M)
        ++at;
    return &rows[at];
}

/** No shoe below the conductor stands above this: fresh water, and a least depth of the basis. */
static dt_limit surface_floor(const dt_well *well, double conductor_m)
{
    dt_limit floor = {conductor_m,
                      dt_plain_reason(DT_RULE_BELOW_CONDUCTOR, conductor_m, conductor_m, 0)};
    const double least = dt_well_ground_m(well) + surface_limits(well)->least_m;
    if (least > floor.depth_m)
        floor = (dt_limit){least, dt_plain_reason(DT_RULE_SURFACE_LEAST, least, least, 0)};
    const double cover = well->fresh_water_m + well->fresh_water_cover_m;
    if (cover > floor.depth_m)
        floor = (dt_limit){
            cover, dt_plain_reason(DT_RULE_FRESH_WATER, cover, cover, well->fresh_water_line)};
    return floor;
}

/** The surface shoe stands no deeper than this. */
static dt_limit surface_ceiling(const dt_well *well)
{
    const double most_m = surface_limits(well)->most_m;
    const double at_m = isnan(most_m) ? INFINITY : dt_well_ground_m(well) + most_m;
    return (dt_limit){at_m, dt_plain_reason(DT_RULE_SURFACE_MOST, at_m, at_m, 0)};
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

/** What a hole between two fixed shoes breaks: by most, and what stops it where that is another. */
static dt_status add_breaches(dt_seats *seats, const dt_section_check *check)
{
    dt_status status = DT_OK;
    if (check->stops && check->stop.rule != check->why.rule)
        status = add_broken(seats, seats->count, &check->stop);
    return status == DT_OK ? add_broken(seats, seats->count, &check->why) : status;
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

static void take_place(const dt_place *p, dt_prefer prefer, dt_seat *seat)
{
    seat->shallowest_m = p->shallowest.depth_m;
    seat->deepest_m = p->deepest.depth_m;
    seat->why_shallowest = p->shallowest.why;
    seat->why_deepest = p->deepest.why;
    seat->exact_m = p->exact.depth_m;
    seat->shoe_m = p->shoe_m;
    seat->why = p->exact.why;
    if (p->exact.why.rule == DT_RULE_ABOVE_OBJECTIVE && prefer != DT_PREFER_DEEPEST)
        seat->why = p->shallowest.why;
}

static dt_status add_places(dt_seats *seats, const dt_gap *g, dt_prefer prefer)
{
    for (size_t i = 0; i < g->count; ++i) {
        dt_seat *seat = add_seat(seats);
        if (!seat) return DT_E_MEMORY;
        take_place(&g->places[i], prefer, seat);
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

/** The rules of the hole that ends at the base of a gap with no seat inside. */
static void test_gap(const dt_window *window, const dt_gap *g, dt_section_check *out)
{
    const dt_hole_rules *rules = &g->rules[g->counted || g->from_conductor ? 0 : 1];
    dt_section_test(window, rules, g->top_m, g->base_m, true, out);
}

static dt_status collide(dt_seats *seats, const dt_gap *g)
{
    seats->collisions[0] = g->bottom_up_end.why;
    seats->collisions[1] = g->top_down_end.why;
    seats->collision_count = 2;
    return DT_E_NONE;
}

/** One gap of the whole well, filled and appended. */
static dt_status append_gap(const dt_window *window, dt_seats *seats, dt_gap *g, bool may_add,
                            bool pinned_end)
{
    dt_section_check check;
    if (may_add || g->least_count > 0) {
        if (dt_gap_fill(window, g)) return add_places(seats, g, window->well->seats.prefer);
        if (!pinned_end || g->counted) return collide(seats, g);
        test_gap(window, g, &check);
        return check.ok ? collide(seats, g) : add_breaches(seats, &check);
    }
    test_gap(window, g, &check);
    return check.ok ? DT_OK : add_breaches(seats, &check);
}

/** A pinned shoe against where shoes of its place may stand at all. */
static dt_status check_pinned(const dt_window *window, dt_seats *seats, const dt_limit *floor,
                              bool surface, double pinned_m, double shoe_m)
{
    dt_status status = DT_OK;
    if (pinned_m < floor->depth_m - SAME_DEPTH_M) {
        dt_reason low = floor->why;
        low.have = pinned_m;
        status = add_broken(seats, seats->count, &low);
    }
    const dt_limit ceiling = surface_ceiling(window->well);
    if (status == DT_OK && surface && pinned_m > ceiling.depth_m + SAME_DEPTH_M) {
        dt_reason deep = ceiling.why;
        deep.have = pinned_m;
        status = add_broken(seats, seats->count, &deep);
    }
    dt_reason avoided;
    if (status == DT_OK && !dt_shoe_allowed(window, shoe_m, &avoided))
        status = add_broken(seats, seats->count, &avoided);
    return status;
}

/** Strings that no pin asks for: the surface string over fresh water. */
static size_t strings_needed(bool from_conductor, const dt_limit *floor)
{
    return from_conductor && floor->why.rule == DT_RULE_FRESH_WATER ? 1 : 0;
}

/** Rules of the hole of a string whose size is not known. */
static void blind_rules(const dt_well *well, size_t string, dt_hole_rules *out)
{
    dt_hole_rules_for(well, NAN, dt_hole_has_diverter(well, string - 1), DT_TIER_LEAST, false, out);
}

static dt_status fill_well(const dt_window *window, dt_seats *seats)
{
    const dt_well *well = window->well;
    double top = seats->items[0].shoe_m;
    const dt_limit floor = surface_floor(well, top), ceiling = surface_ceiling(well);
    bool fresh = floor.why.rule == DT_RULE_FRESH_WATER;
    bool from_conductor = true;
    dt_hole_rules rules[2];
    blind_rules(well, 1, &rules[0]);
    blind_rules(well, 2, &rules[1]);
    const double objective = well->objective_m; /* a pinned production shoe stands there, too */
    size_t first = 0;
    for (size_t i = 0; i <= well->pin_count; ++i) {
        const dt_pin *pin = i < well->pin_count ? &well->pins[i] : NULL;
        if (pin && (pin->role == DT_CONDUCTOR || pin->role == DT_PRODUCTION || isnan(pin->shoe_m)))
            continue;
        const double shoe = pin ? dt_window_on_break(window, pin->shoe_m) : objective;
        dt_gap g = {.top_m = top,
                    .base_m = shoe,
                    .floor = floor,
                    .ceiling = ceiling,
                    .from_conductor = from_conductor,
                    .rules = rules};
        if (!from_conductor) g.ceiling.depth_m = INFINITY;
        g.least_count = strings_asked(well, first, i, from_conductor, pin == NULL, fresh);
        g.needed_count = strings_needed(from_conductor && !pin, &floor);
        bool may_add = !(pin && pin->role == DT_SURFACE);
        dt_status status = append_gap(window, seats, &g, may_add, pin != NULL);
        if (status != DT_OK) return status;
        if (pin) {
            dt_reason why = dt_plain_reason(pin->chosen ? DT_RULE_CHOSEN_TOGETHER : DT_RULE_PINNED,
                                            pin->shoe_m, pin->shoe_m, pin->line);
            status = check_pinned(window, seats, &floor, seats->count == 1, pin->shoe_m, shoe);
            if (status != DT_OK) return status;
            if (add_fixed(seats, shoe, &why, true) != DT_OK) return DT_E_MEMORY;
            top = shoe;
            from_conductor = false;
            first = i + 1;
        }
    }
    dt_reason why = dt_plain_reason(DT_RULE_OBJECTIVE, objective, objective, well->objective_line);
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

/** Is the type of a seat decided by a pin? */
static bool type_said(const dt_well *well, const dt_seat *seat)
{
    return seat->pin != DT_NO_INDEX && well->pins[seat->pin].type != DT_TYPE_UNSAID;
}

/** Below an intermediate string the last one is what the well or its basis makes of it. */
static void give_production_type(const dt_well *well, unsigned full, dt_seats *seats)
{
    dt_seat *last = &seats->items[seats->count - 1];
    const bool below_intermediate = seats->count > 3 && last->role == DT_PRODUCTION;
    if (!below_intermediate || !well->seats.liners || type_said(well, last)) return;
    if (full & 1u << (seats->count - 1)) return;
    if (well->seats.production == DT_LAST_LINER) last->type = DT_LINER;
}

/**
 * An intermediate string under another one becomes a liner when running it from surface,
 * without the string above, would break the sticking limit: the string above it covers
 * that rock, so only the liner's own hole counts.
 */
static void give_types(const dt_window *window, unsigned full, unsigned liners, dt_seats *seats)
{
    if (!window->well->seats.liners) return;
    give_production_type(window->well, full, seats);
    for (size_t i = 2; i < seats->count; ++i) {
        const bool asked = liners & 1u << i && !type_said(window->well, &seats->items[i]);
        if (asked) seats->items[i].type = DT_LINER;
    }
    for (size_t i = 3; i + 1 < seats->count; ++i) {
        dt_seat *seat = &seats->items[i];
        if (type_said(window->well, seat) || full & 1u << i) continue;
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
        seat->mud_kgm3 = dt_section_mud(window, dt_hole_riserless(window->well, i - 1), top,
                                        seat->shoe_m, &seat->mud_tvd_m, &seat->mud_by_collapse);
        seat->min_fracture_kgm3 = dt_section_min_fracture(window, top, seat->shoe_m);
    }
}

/** A liner whose lap, along the hole, reaches the wellhead leaves a tie-back no room. */
static dt_status has_room(const dt_well *well, double shoe_above_m, bool *fits)
{
    const double lap_m = dt_custom_or(well, well->seats.lap_m, DT_CUSTOM_SEATS_LAP);
    dt_trajectory trajectory = {0};
    const dt_status status = dt_trajectory_of(well, &trajectory);
    if (status != DT_OK) return status;
    *fits = dt_trajectory_md(&trajectory, shoe_above_m) - lap_m > DT_LEAST_SECTION_M;
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

/** The conductor, where the well or a pin puts it. */
static dt_status add_conductor(const dt_window *window, dt_seats *out)
{
    dt_seat *conductor = add_seat(out);
    if (!conductor) return DT_E_MEMORY;
    seat_conductor(window, conductor);
    size_t pin = find_pin(window->well, DT_CONDUCTOR);
    if (pin == DT_NO_INDEX || isnan(window->well->pins[pin].shoe_m)) return DT_OK;
    double shoe = window->well->pins[pin].shoe_m;
    conductor->shoe_m = conductor->shallowest_m = conductor->deepest_m = conductor->exact_m = shoe;
    conductor->why = dt_plain_reason(DT_RULE_PINNED, shoe, shoe, window->well->pins[pin].line);
    conductor->shoe_pinned = true;
    return DT_OK;
}

double dt_seats_conductor_m(const dt_well *well)
{
    const size_t pin = find_pin(well, DT_CONDUCTOR);
    const bool pinned = pin != DT_NO_INDEX && isfinite(well->pins[pin].shoe_m);
    return pinned ? well->pins[pin].shoe_m : dt_conductor_shoe_m(well);
}

void dt_seats_surface_limits(const dt_well *well, double conductor_m, double *least_m,
                             double *most_m)
{
    *least_m = surface_floor(well, conductor_m).depth_m;
    *most_m = surface_ceiling(well).depth_m;
}

double dt_seats_bottom(const dt_seats *seats)
{
    return seats->open.given ? seats->open.base_m : seats->items[seats->count - 1].shoe_m;
}

dt_status dt_seats_choose(const dt_window *window, dt_seats *out)
{
    *out = (dt_seats){0};
    dt_status status = add_conductor(window, out);
    if (status == DT_OK) status = fill_well(window, out);
    if (status != DT_OK) return status;
    for (size_t k = 1; k < out->count; ++k)
        blind_rules(window->well, k, &out->items[k].rules);
    give_roles(window->well, out);
    give_types(window, 0, 0, out);
    give_muds(window, out);
    return add_tiebacks(window->well, out);
}

/* ---- strings whose holes are known ---- */

static bool holds_shoe(const dt_well *well, const dt_seat_plan *plan, size_t string)
{
    if (string == 0) return true;
    if (string == plan->count) return well->last_open;
    if (string + 1 == plan->count && !well->last_open) return true;
    const size_t pin = plan->pins[string];
    return pin != DT_NO_INDEX && isfinite(well->pins[pin].shoe_m);
}

static dt_role role_at(const dt_well *well, const dt_seat_plan *plan, size_t string)
{
    if (string == 0) return DT_CONDUCTOR;
    if (string + 1 == plan->count && !well->last_open) return DT_PRODUCTION;
    return string == 1 ? DT_SURFACE : DT_INTERMEDIATE;
}

/** Roles, pins and the types that these alone decide. */
static void outline(const dt_well *well, const dt_seat_plan *plan, dt_seats *seats)
{
    for (size_t k = 0; k < plan->count; ++k) {
        dt_seat *seat = &seats->items[k];
        const size_t pin = plan->pins[k];
        seat->role = role_at(well, plan, k);
        seat->pin = pin;
        if (plan->rules) seat->rules = plan->rules[k];
        if (pin != DT_NO_INDEX && well->pins[pin].type == DT_LINER) seat->type = DT_LINER;
    }
    give_production_type(well, plan->full, seats);
}

dt_status dt_seats_outline(const dt_well *well, const dt_seat_plan *plan, dt_seats *out)
{
    *out = (dt_seats){0};
    for (size_t k = 0; k < plan->count; ++k) {
        dt_seat *seat = add_seat(out);
        if (!seat) {
            dt_seats_free(out);
            return DT_E_MEMORY;
        }
        seat->shoe_m = NAN;
    }
    outline(well, plan, out);
    return DT_OK;
}

/** Seats between two shoes that are fixed, then the lower one of them. */
static dt_status lay_gap(const dt_window *window, const dt_seat_plan *plan, size_t from, size_t to,
                         dt_seats *seats)
{
    const dt_well *well = window->well;
    const size_t pin = to < plan->count ? plan->pins[to] : DT_NO_INDEX;
    const bool pinned = pin != DT_NO_INDEX && isfinite(well->pins[pin].shoe_m) &&
                        well->pins[pin].role != DT_PRODUCTION;
    const double shoe_m =
        pinned ? dt_window_on_break(window, well->pins[pin].shoe_m) : well->objective_m;
    dt_limit floor = surface_floor(well, seats->items[0].shoe_m);
    const double tail_m = plan->rules[1].jobs.surface_least_m;
    if (tail_m > floor.depth_m)
        floor = (dt_limit){tail_m, dt_plain_reason(DT_RULE_TAIL_CEMENT, tail_m, tail_m, 0)};
    dt_gap g = {.top_m = seats->items[from].shoe_m,
                .base_m = shoe_m,
                .floor = floor,
                .ceiling = surface_ceiling(well),
                .from_conductor = from == 0,
                .counted = true,
                .spread = plan->spread,
                .wanted_m = plan->wanted_m ? plan->wanted_m + from + 1 : NULL,
                .rules = &plan->rules[from + 1],
                .least_count = to - from - 1};
    if (from > 0) g.ceiling.depth_m = INFINITY;
    const bool keep = plan->keep_broken && pinned;
    dt_status status = append_gap(window, seats, &g, false, keep);
    if (status == DT_OK && g.least_count == 0 && !plan->keep_broken && seats->broken_count > 0)
        return DT_E_NONE;
    if (status != DT_OK || to == plan->count) return status;
    const dt_reason why =
        pinned
            ? dt_plain_reason(well->pins[pin].chosen ? DT_RULE_CHOSEN_TOGETHER : DT_RULE_PINNED,
                              well->pins[pin].shoe_m, well->pins[pin].shoe_m, well->pins[pin].line)
            : dt_plain_reason(DT_RULE_OBJECTIVE, shoe_m, shoe_m, well->objective_line);
    if (pinned)
        status = check_pinned(window, seats, &floor, to == 1, well->pins[pin].shoe_m, shoe_m);
    return status == DT_OK ? add_fixed(seats, shoe_m, &why, pinned) : status;
}

static void give_open_mud(const dt_window *window, dt_seats *seats)
{
    dt_open_end *open = &seats->open;
    if (!open->given) return;
    open->mud_kgm3 =
        dt_section_mud(window, dt_hole_riserless(window->well, seats->count - 1), open->top_m,
                       open->base_m, &open->mud_tvd_m, &open->mud_by_collapse);
    open->min_fracture_kgm3 = dt_section_min_fracture(window, open->top_m, open->base_m);
}

void dt_seats_weigh_muds(const dt_window *window, dt_seats *seats)
{
    give_muds(window, seats);
    give_open_mud(window, seats);
    for (size_t i = seats->count; i < seats->count + seats->tieback_count; ++i)
        seats->items[i].mud_kgm3 = seats->items[seats->items[i].ties].mud_kgm3;
}

static void give_open_end(const dt_window *window, const dt_seat_plan *plan, dt_seats *seats)
{
    dt_open_end *open = &seats->open;
    *open = (dt_open_end){.given = window->well->last_open,
                          .top_m = seats->items[seats->count - 1].shoe_m,
                          .base_m = window->well->objective_m,
                          .hole_m = plan->rules[plan->count].hole_m,
                          .rules = plan->rules[plan->count]};
    give_open_mud(window, seats);
}

dt_status dt_seats_lay(const dt_window *window, const dt_seat_plan *plan, dt_seats *out)
{
    const dt_well *well = window->well;
    *out = (dt_seats){0};
    dt_status status = add_conductor(window, out);
    size_t from = 0;
    for (size_t k = 1; status == DT_OK && k <= plan->count; ++k) {
        if (!holds_shoe(well, plan, k)) continue;
        status = lay_gap(window, plan, from, k, out);
        from = k;
    }
    if (status != DT_OK) return status;
    outline(well, plan, out);
    give_types(window, plan->full, plan->liners, out);
    give_muds(window, out);
    give_open_end(window, plan, out);
    return add_tiebacks(well, out);
}

void dt_seats_free(dt_seats *seats)
{
    if (!seats) return;
    free(seats->items);
    free(seats->broken);
    *seats = (dt_seats){0};
}

const char *dt_rule_code(dt_rule rule)
{
    static const char *const codes[] = {
#define DT_RULE_CODE(name, code) code,
        DT_RULE_LIST(DT_RULE_CODE)
#undef DT_RULE_CODE
    };
    return codes[rule];
}
