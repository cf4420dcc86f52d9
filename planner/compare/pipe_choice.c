/* SPDX-License-Identifier: MIT */
#include "pipe_choice.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "costing.h"
#include "drag.h"
#include "pipe_rules.h"
#include "same.h"
#include "string_design.h"
#include "units.h"

/** Lighter first, then weaker steel, then the simpler thread: the planner's own order. */
static int by_preference(const void *left, const void *right)
{
    const dt_offer *a = left, *b = right;
    if (a->pipe->weight_kgm != b->pipe->weight_kgm)
        return a->pipe->weight_kgm < b->pipe->weight_kgm ? -1 : 1;
    if (a->pipe->grade->yield_pa != b->pipe->grade->yield_pa)
        return a->pipe->grade->yield_pa < b->pipe->grade->yield_pa ? -1 : 1;
    if (a->pipe != b->pipe) return a->pipe < b->pipe ? -1 : 1;
    return (int)a->thread - (int)b->thread;
}

static size_t find_size(const dt_pipe_choice *c, double od_m, double largest_od_m)
{
    for (size_t i = 0; i < c->size_count; ++i)
        if (fabs(c->sizes[i].od_m - od_m) < SAME_DIAMETER_M &&
            fabs(c->sizes[i].largest_od_m - largest_od_m) < SAME_DIAMETER_M)
            return i;
    return DT_NO_INDEX;
}

static void rate_offer(const dt_catalogue *catalogue, dt_offer *offer)
{
    const dt_pipe *pipe = offer->pipe;
    double coupling_pa, body_n, yield_pa = pipe->grade->yield_pa;
    if (dt_collapse(pipe->od_m, pipe->wall_m, yield_pa, &offer->collapse_pa, NULL) != DT_OK)
        offer->collapse_pa = INFINITY;
    if (dt_internal_yield(pipe->od_m, pipe->wall_m, yield_pa, 0.875, &offer->burst_pa) != DT_OK)
        offer->burst_pa = INFINITY;
    else if (offer->thread != DT_PLAIN_END &&
             dt_coupling_internal_yield(catalogue, pipe, offer->thread, &coupling_pa) == DT_OK)
        offer->burst_pa = fmin(offer->burst_pa, coupling_pa);
    if (dt_body_yield(pipe->od_m, pipe->wall_m, yield_pa, &body_n) != DT_OK ||
        dt_joint_strength(catalogue, pipe, offer->thread, &offer->pull_n) != DT_OK)
        offer->pull_n = INFINITY;
    else
        offer->pull_n = fmin(offer->pull_n, body_n);
}

static dt_status add_offers(dt_pipe_choice *c, dt_offers *size, const dt_pipe *pipe)
{
    dt_offer *bigger = realloc(size->items, (size->count + DT_THREAD_COUNT) * sizeof *bigger);
    if (!bigger) return DT_E_MEMORY;
    size->items = bigger;
    for (int t = 0; t < DT_THREAD_COUNT; ++t) {
        if ((pipe->threads & (1u << t)) == 0) continue;
        /* Threaded pipe bought plain-ended is for others' connections. */
        if (t == DT_PLAIN_END && pipe->threads != (1u << DT_PLAIN_END)) continue;
        if (!dt_pipe_rules_ever(c->well, pipe, (dt_thread)t)) continue;
        if (t != DT_PLAIN_END) size->welded = false;
        dt_offer *offer = &size->items[size->count++];
        *offer = (dt_offer){.pipe = pipe,
                            .thread = (dt_thread)t,
                            .drift_m = dt_nest_drift(c->well, pipe),
                            .per_kg = dt_price_of_grade(c->well, pipe->grade->name),
                            .per_joint = dt_price_of_thread(c->well, pipe, (dt_thread)t)};
        rate_offer(c->catalogue, offer);
        for (size_t i = 0; i < c->well->pin_count; ++i)
            offer->thread_pinned |= c->well->pins[i].thread &&
                                    dt_pipe_has_thread(pipe, (dt_thread)t, c->well->pins[i].thread);
        offer->stocked = dt_pipe_stocked(c->well, pipe, (dt_thread)t);
        offer->rated =
            dt_strength_make(c->catalogue, pipe, (dt_thread)t, 0, &offer->strength) == DT_OK;
    }
    return DT_OK;
}

static bool same_bound(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/** Hangers for the same pipe ask the same of it. */
static void sort_hangers(dt_pipe_choice *c)
{
    const dt_hangers *list = &c->well->hangers;
    for (size_t i = 0; i < list->count; ++i) {
        const dt_hanger *h = &list->items[i];
        size_t k = 0;
        while (!(dt_hanger_fits_size(h, list->items[k].casing_m) &&
                 same_bound(h->lightest_kgm, list->items[k].lightest_kgm) &&
                 same_bound(h->heaviest_kgm, list->items[k].heaviest_kgm)))
            ++k; /* ends at h itself */
        c->kind[i] = (uint8_t)k;
    }
}

static dt_hosts kind_of(const dt_pipe_choice *c, size_t hanger)
{
    return (dt_hosts)1 << c->kind[hanger];
}

static void find_hosts(const dt_pipe_choice *c, dt_offers *size)
{
    const dt_hangers *list = &c->well->hangers;
    for (size_t h = 0; h < list->count; ++h) {
        if (!dt_hanger_fits_size(&list->items[h], size->od_m)) continue;
        size->hosts |= kind_of(c, h);
        for (size_t i = 0; i < size->count; ++i)
            if (dt_hanger_fits(&list->items[h], size->items[i].pipe))
                size->items[i].hosts |= kind_of(c, h);
    }
}

uint64_t dt_pipe_choice_hangers(const dt_pipe_choice *c, const dt_string_load *load,
                                const dt_offer *offer, bool any_capacity)
{
    const dt_hangers *list = &c->well->hangers;
    const double hanging_n = offer->pipe->weight_kgm * DT_STANDARD_GRAVITY *
                             (load->shoe_tvd_m - load->top_tvd_m) * (1 - SAME_SUM);
    uint64_t hangers = 0;
    for (size_t i = 0; i < list->count; ++i)
        if (dt_hanger_is_for(&list->items[i], offer->pipe->od_m) &&
            (any_capacity ||
             hanging_n <= dt_hanger_most_hanging(&list->items[i], load, offer->pipe)))
            hangers |= (uint64_t)1 << i;
    return hangers;
}

uint64_t dt_pipe_choice_passed(const dt_pipe_choice *c, double bit_m)
{
    const dt_hangers *list = &c->well->hangers;
    uint64_t hangers = 0;
    for (size_t i = 0; i < list->count; ++i)
        if (dt_hanger_passes(&list->items[i], bit_m)) hangers |= (uint64_t)1 << i;
    return hangers;
}

dt_hosts dt_pipe_choice_hosts(const dt_pipe_choice *c, uint64_t hangers)
{
    dt_hosts hosts = 0;
    for (size_t i = 0; hangers && i < c->well->hangers.count; ++i)
        if (hangers >> i & 1) hosts |= kind_of(c, i);
    return hosts;
}

dt_status dt_pipe_choice_init(dt_pipe_choice *c)
{
    c->sizes = calloc(c->catalogue->pipe_count + 1, sizeof *c->sizes);
    c->size_count = 0;
    if (!c->sizes) return DT_E_MEMORY;
    for (size_t i = 0; i < c->catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &c->catalogue->pipes[i];
        double largest = dt_nest_largest_od(pipe);
        size_t at = find_size(c, pipe->od_m, largest);
        if (at == DT_NO_INDEX) {
            at = c->size_count++;
            c->sizes[at] = (dt_offers){.od_m = pipe->od_m, .largest_od_m = largest, .welded = true};
        }
        if (add_offers(c, &c->sizes[at], pipe) != DT_OK) return DT_E_MEMORY;
    }
    sort_hangers(c);
    for (size_t i = 0; i < c->size_count; ++i) {
        qsort(c->sizes[i].items, c->sizes[i].count, sizeof *c->sizes[i].items, by_preference);
        find_hosts(c, &c->sizes[i]);
    }
    return DT_OK;
}

void dt_pipe_choice_free(dt_pipe_choice *c)
{
    for (size_t i = 0; c->sizes && i < c->size_count; ++i)
        free(c->sizes[i].items);
    free(c->sizes);
    c->sizes = NULL;
    c->size_count = 0;
}

size_t dt_pipe_choice_size(const dt_pipe_choice *c, const dt_nest_pipe *node)
{
    return find_size(c, node->od_m, node->coupling_od_m);
}

/** May the case change with what stands below the string? */
static bool from_below(const dt_well *well, dt_load which)
{
    const bool losses = well->loads.evacuation != DT_EVACUATION_FULL;
    const bool changes[DT_LOAD_COUNT] = {
        [DT_LOAD_BURST_GAS] = true,
        [DT_LOAD_BURST_FRACTURE] = true,
        [DT_LOAD_BURST_INFLUX] = true,
        [DT_LOAD_BURST_LEAK] = true,
        [DT_LOAD_BURST_STIMULATION] = true,
        [DT_LOAD_BURST_LAP] = true,
        [DT_LOAD_COLLAPSE_LOSS] = true,
        [DT_LOAD_COLLAPSE_SALT] = true,
        /* run for the wall of the finished well alone, or warmed there */
        [DT_LOAD_COLLAPSE_EMPTY] = losses || well->thermal.count > 0,
    };
    return changes[which];
}

bool dt_pipe_choice_by_pressure(const dt_pipe_choice *choice)
{
    const dt_well *well = choice->well;
    const dt_load_wishes *w = &well->loads;
    /* Losses, other kicks and the finished well ask for more of what is below; heat, since the
     * finished well is the warmer. Salt presses against the mud that losses below would leave. A
     * liner's test presses with another fluid, and only down to its top. */
    if (w->kick != DT_KICK_GAS || w->evacuation != DT_EVACUATION_FULL ||
        w->burst_outside != DT_OUTSIDE_WATER)
        return false;
    if (w->given && (!isnan(w->packer_fluid_kgm3) || !isnan(w->stimulation_pa))) return false;
    if (well->thermal.count > 0 || well->liner_test.given) return false;
    for (size_t i = 0; i < well->interval_count; ++i)
        if (strcmp(well->intervals[i].kind, "salt") == 0) return false;
    return true;
}

/* Conductor, above, own, all that may stand below, one below these, and a tie-back. */
#define MOST_SEATS 22

/** Seats of a well cut down to what one string's loads depend on. Returns its index: the last one
 * of a tie-back, which stands behind the seats. */
static size_t cut_down(const dt_pipe_choice *c, const dt_string_place *place,
                       dt_seat seats[MOST_SEATS], size_t *count)
{
    const bool tieback = place->type == DT_TIEBACK;
    size_t own = place->index < 2 ? place->index : 2;
    *count = own + 1 + place->below_count;
    for (size_t i = 0; i < *count; ++i)
        seats[i] = (dt_seat){
            .role = DT_INTERMEDIATE, .type = DT_FULL, .mud_kgm3 = NAN, .pin = DT_NO_INDEX};
    seats[0].role = DT_CONDUCTOR;
    seats[0].shoe_m = c->conductor_m;
    if (own == 2) seats[1].shoe_m = place->above_m;
    seats[own].role = place->role;
    seats[own].shoe_m = place->shoe_m;
    seats[own].type = tieback ? DT_LINER : place->type;
    seats[own].mud_kgm3 = place->mud_kgm3;
    seats[own].pin = place->pin;
    for (size_t i = 0; i < place->below_count; ++i) {
        seats[own + 1 + i].shoe_m = place->below[i].shoe_m;
        const bool tied = place->below[i].type == DT_TIEBACK;
        seats[own + 1 + i].type = tied ? DT_LINER : place->below[i].type;
        seats[own + 1 + i].tied_back = tied;
        seats[own + 1 + i].mud_kgm3 =
            dt_section_mud(c->window, dt_hole_riserless(c->well, own + i), seats[own + i].shoe_m,
                           place->below[i].shoe_m, NULL, NULL);
    }
    /* A liner that is tied back above the objective is not the last: its test is a drilling
     * liner's. */
    const size_t last = *count - 1;
    if (last > own && seats[last].tied_back && !c->well->last_open &&
        seats[last].shoe_m < c->well->objective_m - SAME_DEPTH_M) {
        seats[*count] = (dt_seat){.role = DT_PRODUCTION,
                                  .type = DT_FULL,
                                  .shoe_m = c->well->objective_m,
                                  .mud_kgm3 = NAN,
                                  .pin = DT_NO_INDEX};
        ++*count;
    }
    if (!tieback) return own;
    seats[own].tied_back = true;
    seats[*count] = seats[own];
    seats[*count].type = DT_TIEBACK;
    seats[*count].ties = own;
    return *count;
}

dt_status dt_pipe_choice_load(const dt_pipe_choice *c, const dt_string_place *place,
                              dt_string_load *out)
{
    dt_seat items[MOST_SEATS];
    size_t count;
    if (place->below_count > MOST_SEATS - 5) return DT_E_DOMAIN;
    size_t own = cut_down(c, place, items, &count);
    dt_seats seats = {
        .items = items, .count = count, .tieback_count = place->type == DT_TIEBACK ? 1 : 0};
    const double deepest_m = items[count - 1].shoe_m; /* what covers it is asked before */
    if (c->well->last_open)
        seats.open = (dt_open_end){.given = true,
                                   .top_m = deepest_m,
                                   .base_m = c->well->objective_m,
                                   .mud_kgm3 = dt_section_mud(c->window, false, deepest_m,
                                                              c->well->objective_m, NULL, NULL)};
    return dt_string_load_lay(c->window, &seats, c->trajectory, &c->design, c->lap_m, own, out);
}

/** Gas on the string may ask for a gas-tight connection; more of it never asks for less. */
static bool seals(const dt_string_load *load, const dt_offer *offer)
{
    return dt_pipe_gas_tight(offer->pipe, offer->thread) || offer->thread_pinned ||
           !dt_string_load_asks_seal(load);
}

bool dt_pipe_choice_may_hold(const dt_pipe_choice *c, const dt_string_load *load,
                             const dt_offer *offer, dt_look look, double gas_pa)
{
    const double g = DT_STANDARD_GRAVITY, hair = 1 - BOUND_SLACK, steel_kgm3 = HANDBOOK_STEEL_KGM3;
    if (!load->pressures_apply) return true;
    double shoe_pa = load->mud_kgm3 * g * load->shoe_tvd_m;
    if (load->runs[DT_LOAD_COLLAPSE_EMPTY] &&
        (look == DT_LOOK_AT_ALL || !from_below(c->well, DT_LOAD_COLLAPSE_EMPTY)) &&
        c->design.collapse_method == DT_COLLAPSE_REDUCED_YIELD &&
        offer->collapse_pa < c->design.collapse * shoe_pa * hair)
        return false;
    if (look != DT_LOOK_AT_OWN && load->runs[DT_LOAD_BURST_GAS] && load->top_tvd_m <= 0 &&
        offer->burst_pa < c->design.burst * gas_pa * hair)
        return false;
    double hung_n = offer->pipe->weight_kgm * g * (1 - load->mud_kgm3 / steel_kgm3) *
                    (load->shoe_tvd_m - load->top_tvd_m);
    if (offer->pull_n < c->design.tension * hung_n * hair) return false;
    return !load->runs[DT_LOAD_TENSION_RUN] ||
           offer->pull_n >= c->design.tension_pulled * (hung_n + load->overpull_n) * hair;
}

void dt_depths_clear(dt_depths *depths)
{
    free(depths->items);
    dt_columns_free(&depths->columns);
    *depths = (dt_depths){0};
}

/** Pressures of one case anew, at all depths. */
static void fill_case(const dt_string_load *load, dt_load which, dt_depths *depths)
{
    for (size_t i = 0; i < depths->count; ++i)
        dt_load_pressures(load, which, depths->items[i].tvd_m, &depths->items[i].inside_pa[which],
                          &depths->items[i].outside_pa[which]);
    dt_columns_take(&depths->columns, depths->items, which);
}

static dt_status lay_depths(const dt_pipe_choice *c, const dt_string_load *load, dt_depths *depths)
{
    if (!depths->items) {
        dt_status status = dt_spots_make(load, c->trajectory, &depths->items, &depths->count);
        if (status == DT_OK)
            status = dt_columns_make(load, depths->items, depths->count, &depths->columns);
        if (status != DT_OK) {
            dt_depths_clear(depths); /* the search may ask once more before it is told */
            return status;
        }
    } else if (load->runs[DT_LOAD_BURST_GAS] &&
               load->surface_pressure_pa != depths->surface_pressure_pa) {
        fill_case(load, DT_LOAD_BURST_GAS, depths);
    }
    depths->surface_pressure_pa = load->surface_pressure_pa;
    return DT_OK;
}

/** The drag of pulling at all depths, when it is first asked for. */
static dt_status lay_drag(const dt_pipe_choice *c, const dt_string_load *load, dt_depths *depths)
{
    if (depths->dragged) return DT_OK;
    dt_string_load dragged = *load;
    dt_status status = dt_string_load_drag(c->trajectory, &dragged);
    for (size_t i = 0; status == DT_OK && i < depths->count; ++i)
        depths->items[i].drag_m = dt_load_drag(&dragged, depths->items[i].md_m);
    if (status == DT_OK) dt_columns_take_drag(&depths->columns, depths->items);
    depths->dragged = status == DT_OK;
    return status;
}

/** An influx depends on the bore; pipe of one wall shares what it comes to. */
static void fit_influx(dt_string_load *load, const dt_pipe *pipe, dt_depths *depths)
{
    const double bore_m = pipe->od_m - 2 * pipe->wall_m;
    if (depths->fitted_m == bore_m) return;
    dt_string_load_fit(load, bore_m);
    fill_case(load, DT_LOAD_BURST_INFLUX, depths);
    depths->fitted_m = bore_m;
}

dt_status dt_pipe_choice_holds(const dt_pipe_choice *c, dt_string_load *load, const dt_offer *offer,
                               dt_cases which, dt_depths *depths, bool *held)
{
    dt_strength worn;
    const dt_strength *strength = &offer->strength;
    bool cases[DT_LOAD_COUNT], any = false;
    *held = false;
    for (int i = 0; i < DT_LOAD_COUNT; ++i) {
        cases[i] = from_below(c->well, (dt_load)i) == (which == DT_CASES_FROM_BELOW);
        any = any || (cases[i] && load->runs[i]);
    }
    /* what cannot be rated cannot be chosen */
    if (load->wear_m > 0) {
        if (dt_strength_make(c->catalogue, offer->pipe, offer->thread, load->wear_m, &worn) !=
            DT_OK)
            return DT_OK;
        strength = &worn;
    } else if (!offer->rated) {
        return DT_OK;
    }
    if (any) {
        dt_status status = lay_depths(c, load, depths);
        if (status == DT_OK && cases[DT_LOAD_TENSION_RUN]) status = lay_drag(c, load, depths);
        if (status != DT_OK) return status;
    }
    if (any && cases[DT_LOAD_BURST_INFLUX] && load->runs[DT_LOAD_BURST_INFLUX])
        fit_influx(load, offer->pipe, depths);
    double pull_n;
    if (which == DT_CASES_FROM_BELOW && !seals(load, offer)) return DT_OK;
    *held = dt_strength_holds(strength, load, &c->design, depths->items, &depths->columns, cases,
                              &pull_n) &&
            pull_n <= c->most_pull_n;
    return DT_OK;
}

static double surface_pressure(const dt_pipe_choice *c, double above_m, double shoe_m, size_t seat)
{
    dt_seat items[3] = {{.shoe_m = c->conductor_m, .type = DT_FULL},
                        {.shoe_m = above_m, .type = DT_FULL},
                        {.shoe_m = shoe_m, .type = DT_FULL}};
    const dt_seats seats = {.items = items, .count = 3};
    dt_string_load load;
    if (dt_string_load_lay(c->window, &seats, c->trajectory, &c->design, c->lap_m, seat, &load) !=
        DT_OK)
        return INFINITY;
    return load.surface_pressure_pa;
}

double dt_pressure_while_drilling(const dt_pipe_choice *c, double above_m, double shoe_m)
{
    return surface_pressure(c, above_m, shoe_m, 1);
}

double dt_pressure_when_finished(const dt_pipe_choice *c, double above_m, double shoe_m)
{
    return surface_pressure(c, above_m, shoe_m, 2);
}

double dt_top_md(const dt_pipe_choice *c, dt_string_type type, double above_m)
{
    const double head_md = dt_wellhead_md(c->well, c->trajectory);
    if (type != DT_LINER) return head_md;
    return fmax(dt_trajectory_md(c->trajectory, above_m) - c->lap_m, head_md);
}
