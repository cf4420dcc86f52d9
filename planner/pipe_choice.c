/* SPDX-License-Identifier: MIT */
#include "pipe_choice.h"

#include <math.h>
#include <stdlib.h>

#include "drawtube/costing.h"
#include "drawtube/units.h"

#define SAME_DIAMETER_M (0.0005 * DT_M_PER_IN)

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

static dt_status add_offers(dt_pipe_choice *c, dt_offers *size, const dt_pipe *pipe)
{
    dt_offer *bigger = realloc(size->items, (size->count + DT_THREAD_COUNT) * sizeof *bigger);
    if (!bigger) return DT_E_MEMORY;
    size->items = bigger;
    double collapse_pa;
    if (dt_collapse(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa, &collapse_pa, NULL) != DT_OK)
        collapse_pa = INFINITY;
    for (int t = 0; t < DT_THREAD_COUNT; ++t) {
        if ((pipe->threads & (1u << t)) == 0) continue;
        /* Threaded pipe bought plain-ended is for others' connections. */
        if (t == DT_PLAIN_END && pipe->threads != (1u << DT_PLAIN_END)) continue;
        size->items[size->count++] = (dt_offer){pipe,
                                                (dt_thread)t,
                                                dt_nest_drift(c->well, pipe),
                                                dt_price_of_grade(c->well, pipe->grade->name),
                                                dt_price_of_thread(c->well, (dt_thread)t),
                                                collapse_pa};
    }
    return DT_OK;
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
        if (pipe->threads & ~(1u << DT_PLAIN_END)) c->sizes[at].welded = false;
    }
    for (size_t i = 0; i < c->size_count; ++i)
        qsort(c->sizes[i].items, c->sizes[i].count, sizeof *c->sizes[i].items, by_preference);
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

/** Seats of a well cut down to what one string's loads depend on. Returns its index. */
static size_t cut_down(const dt_pipe_choice *c, const dt_string_place *place, dt_seat seats[3])
{
    for (int i = 0; i < 3; ++i)
        seats[i] = (dt_seat){.type = DT_FULL, .mud_kgm3 = NAN, .pin = DT_NO_INDEX};
    seats[0].shoe_m = c->conductor_m;
    seats[1].shoe_m = place->above_m;
    size_t own = place->index < 2 ? place->index : 2;
    seats[own].shoe_m = place->shoe_m;
    seats[own].type = place->type;
    seats[own].mud_kgm3 = place->mud_kgm3;
    return own;
}

/**
 * Pressure held, from one screen. Net internal pressure at each depth is the surface pressure
 * plus a term of that depth alone, so the depth that governs does not move with the surface
 * pressure, and what is left to the limit can be added.
 */
static double pressure_held(const dt_screen *screen, double surface_pa)
{
    for (int i = 0; i < DT_LOAD_COUNT; ++i) {
        const dt_factor *f = &screen->by_load[i];
        if (i != DT_LOAD_BURST_GAS && !isnan(f->factor) && !(f->factor >= f->needed)) return -1;
    }
    const dt_factor *burst = &screen->by_load[DT_LOAD_BURST_GAS];
    if (isnan(burst->factor)) return INFINITY;
    /* a hair less, so that the same sum made in another order cannot come out too large */
    return surface_pa + (burst->resistance / burst->needed - burst->load) * (1 - 1e-12) - 1e-3;
}

dt_status dt_pipe_choice_load(const dt_pipe_choice *c, const dt_string_place *place,
                              dt_string_load *out)
{
    dt_seat items[3];
    size_t own = cut_down(c, place, items);
    const dt_seats seats = {.items = items, .count = own + 1};
    dt_status status =
        dt_string_load_build(c->window, &seats, c->trajectory, &c->design, c->lap_m, own, out);
    /* High enough that every depth is loaded: the factor that governs is then finite. */
    if (status == DT_OK && out->pressures_apply) out->surface_pressure_pa = 1e9;
    return status;
}

double dt_pipe_choice_holds(const dt_pipe_choice *c, const dt_string_load *load,
                            const dt_offer *offer)
{
    /* The shoe carries no pipe below it: what collapses there unstressed need not be screened. */
    double shoe_pa = load->mud_kgm3 * DT_STANDARD_GRAVITY * load->shoe_tvd_m;
    if (load->pressures_apply && offer->collapse_pa < c->design.collapse * shoe_pa * (1 - 1e-9))
        return -1;
    dt_screen screen;
    if (dt_string_screen(c->catalogue, offer->pipe, offer->thread, load, c->trajectory, &c->design,
                         &screen) != DT_OK)
        return -1;
    if (screen.by_load[DT_LOAD_TENSION_RUN].load > c->most_pull_n) return -1;
    return pressure_held(&screen, load->surface_pressure_pa);
}

static double surface_pressure(const dt_pipe_choice *c, double above_m, double shoe_m, size_t seat)
{
    dt_seat items[3] = {{.shoe_m = c->conductor_m, .type = DT_FULL},
                        {.shoe_m = above_m, .type = DT_FULL},
                        {.shoe_m = shoe_m, .type = DT_FULL}};
    const dt_seats seats = {.items = items, .count = 3};
    dt_string_load load;
    if (dt_string_load_build(c->window, &seats, c->trajectory, &c->design, c->lap_m, seat, &load) !=
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
    return type == DT_LINER ? fmax(dt_trajectory_md(c->trajectory, above_m) - c->lap_m, 0) : 0;
}
