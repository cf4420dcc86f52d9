/* SPDX-License-Identifier: MIT */
#include "drawtube/strings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawtube/units.h"

#define PI              3.14159265358979323846
#define SAME_DIAMETER_M (0.0005 * DT_M_PER_IN)

/** What a path costs, compared term by term. Sums and minima of it keep the order exact. */
typedef struct path_cost {
    double unusual_holes; /* less common, opened, or made by a hole opener below 26 in */
    double rock_m3;
    double steel_kg;
} path_cost;

static const path_cost no_path = {INFINITY, INFINITY, INFINITY};

static path_cost add_cost(path_cost a, path_cost b)
{
    return (path_cost){a.unusual_holes + b.unusual_holes, a.rock_m3 + b.rock_m3,
                       a.steel_kg + b.steel_kg};
}

static bool cheaper(path_cost a, path_cost b)
{
    if (a.unusual_holes != b.unusual_holes) return a.unusual_holes < b.unusual_holes;
    /* Rock and steel are sums in a fixed order, so equal paths compare equal to the last bit
     * only by chance; a thousandth of a litre or of a gram is no reason to prefer one. */
    if (fabs(a.rock_m3 - b.rock_m3) > 1e-6) return a.rock_m3 < b.rock_m3;
    return a.steel_kg < b.steel_kg - 1e-6;
}

/** One way to buy the pipe of a string. */
typedef struct item {
    const dt_pipe *pipe;
    dt_thread thread;
    dt_screen screen;
    double drift_m;
} item;

/** All ways for all strings, each string's run of items sorted by preference. */
typedef struct items {
    item *list;
    size_t count;
    size_t *first; /* string_count + 1 indices into list */
} items;

/** Lighter first, then weaker steel, then the simpler thread. */
static int by_preference(const void *left, const void *right)
{
    const item *a = left, *b = right;
    if (a->pipe->weight_kgm != b->pipe->weight_kgm)
        return a->pipe->weight_kgm < b->pipe->weight_kgm ? -1 : 1;
    if (a->pipe->grade->yield_pa != b->pipe->grade->yield_pa)
        return a->pipe->grade->yield_pa < b->pipe->grade->yield_pa ? -1 : 1;
    if (a->pipe != b->pipe) return a->pipe < b->pipe ? -1 : 1;
    return (int)a->thread - (int)b->thread;
}

typedef struct chooser {
    const dt_window *window;
    const dt_seats *seats;
    const dt_nest *nest;
    const dt_catalogue *catalogue;
    const dt_trajectory *trajectory;
    dt_design_in_force design;
    dt_string_load *loads;
    items items;
    path_cost *from_hole; /* least cost from a hole node to the bottom */
    size_t *pipe_of_hole; /* choice at the hole */
    size_t *hole_of_hole; /* next hole, DT_NO_INDEX at the last string */
    size_t *item_of_hole;
} chooser;

static bool thread_allowed(const dt_well *well, const dt_seat *seat, size_t string,
                           const dt_pipe *pipe, dt_thread thread)
{
    if ((pipe->threads & (1u << thread)) == 0) return false;
    const dt_pin *pin = seat->pin == DT_NO_INDEX ? NULL : &well->pins[seat->pin];
    if (pin && pin->thread) return dt_thread_find(pin->thread) == thread;
    /* Threaded pipe bought plain-ended is for others' connections; only a conductor is welded. */
    return thread != DT_PLAIN_END || (string == 0 && pipe->threads == (1u << DT_PLAIN_END));
}

static bool nested(const dt_nest *nest, size_t string, const dt_pipe *pipe)
{
    for (size_t i = 0; i < nest->pipe_count; ++i)
        if (nest->pipes[i].string == string && dt_nest_is_size(&nest->pipes[i], pipe)) return true;
    return false;
}

static dt_status screen_pipe(chooser *c, size_t string, const dt_pipe *pipe)
{
    const dt_well *well = c->window->well;
    for (int t = 0; t < DT_THREAD_COUNT; ++t) {
        if (!thread_allowed(well, &c->seats->items[string], string, pipe, (dt_thread)t)) continue;
        item *added = &c->items.list[c->items.count];
        *added = (item){.pipe = pipe, .thread = (dt_thread)t, .drift_m = dt_nest_drift(well, pipe)};
        dt_status status = dt_string_screen(c->catalogue, pipe, (dt_thread)t, &c->loads[string],
                                            c->trajectory, &c->design, &added->screen);
        if (status == DT_E_MEMORY) return status;
        /* E_DOMAIN: the thread table does not know this pipe, so it cannot be rated or chosen. */
        if (status == DT_OK) ++c->items.count;
    }
    return DT_OK;
}

static dt_status screen_all(chooser *c)
{
    const dt_well *well = c->window->well;
    size_t strings = c->seats->count;
    c->items.first = calloc(strings + 1, sizeof *c->items.first);
    c->items.list =
        calloc(strings * c->catalogue->pipe_count * DT_THREAD_COUNT + 1, sizeof *c->items.list);
    if (!c->items.first || !c->items.list) return DT_E_MEMORY;
    for (size_t k = 0; k < strings; ++k) {
        c->items.first[k] = c->items.count;
        for (size_t i = 0; i < c->catalogue->pipe_count; ++i) {
            const dt_pipe *pipe = &c->catalogue->pipes[i];
            if (!nested(c->nest, k, pipe)) continue;
            if (!dt_nest_pipe_allowed(well, &c->seats->items[k], k, pipe)) continue;
            dt_status status = screen_pipe(c, k, pipe);
            if (status != DT_OK) return status;
        }
        qsort(c->items.list + c->items.first[k], c->items.count - c->items.first[k],
              sizeof *c->items.list, by_preference);
    }
    c->items.first[strings] = c->items.count;
    return DT_OK;
}

/** Has the engineer decided the very pipe? Then it stays even when a case fails it. */
static bool pipe_pinned(const chooser *c, size_t string)
{
    size_t pin = c->seats->items[string].pin;
    if (pin == DT_NO_INDEX) return false;
    const dt_pin *p = &c->window->well->pins[pin];
    return isfinite(p->od_m) && isfinite(p->weight_kgm) && p->grade;
}

/** First item of a string and size that holds and lets a bit through, or DT_NO_INDEX. */
static size_t pick_item(const chooser *c, size_t string, const dt_nest_pipe *size, double drift_m)
{
    bool pinned = pipe_pinned(c, string);
    size_t fallback = DT_NO_INDEX;
    bool fallback_passes = false;
    for (size_t i = c->items.first[string]; i < c->items.first[string + 1]; ++i) {
        const item *it = &c->items.list[i];
        if (!dt_nest_is_size(size, it->pipe)) continue;
        bool passes = it->drift_m >= drift_m - SAME_DIAMETER_M;
        if (passes && it->screen.ok) return i;
        if (!pinned || (fallback != DT_NO_INDEX && fallback_passes >= passes)) continue;
        fallback = i;
        fallback_passes = passes;
    }
    return fallback;
}

static path_cost hole_cost(const chooser *c, const dt_nest_hole *hole)
{
    double base = c->seats->items[hole->string].shoe_m;
    double top = hole->string > 0 ? c->seats->items[hole->string - 1].shoe_m : 0;
    double length = dt_trajectory_md(c->trajectory, base) - dt_trajectory_md(c->trajectory, top);
    double unusual = hole->opened || hole->commonness == DT_BIT_LESS_COMMON ? 1 : 0;
    return (path_cost){unusual, PI / 4 * hole->diameter_m * hole->diameter_m * length, 0};
}

static path_cost pipe_cost(const chooser *c, size_t string, const item *it)
{
    const dt_string_load *load = &c->loads[string];
    return (path_cost){0, 0, it->pipe->weight_kgm * (load->shoe_md_m - load->top_md_m)};
}

static void offer(chooser *c, size_t hole, size_t pipe, size_t next_hole, path_cost below)
{
    size_t string = c->nest->holes[hole].string;
    double drift = next_hole == DT_NO_INDEX ? 0 : c->nest->holes[next_hole].bit_m;
    size_t chosen = pick_item(c, string, &c->nest->pipes[pipe], drift);
    if (chosen == DT_NO_INDEX) return;
    path_cost cost = add_cost(
        add_cost(hole_cost(c, &c->nest->holes[hole]), pipe_cost(c, string, &c->items.list[chosen])),
        below);
    if (!cheaper(cost, c->from_hole[hole])) return;
    c->from_hole[hole] = cost;
    c->pipe_of_hole[hole] = pipe;
    c->hole_of_hole[hole] = next_hole;
    c->item_of_hole[hole] = chosen;
}

/** Bottom-up over the ranks: the graph has no cycles, so each rank is final when left. */
static void relax_rank(chooser *c, size_t string)
{
    const dt_nest *n = c->nest;
    bool last = string + 1 == n->string_count;
    for (size_t f = 0; f < n->fit_count; ++f) {
        size_t hole = n->fits[f].hole, pipe = n->fits[f].pipe;
        if (n->holes[hole].string != string) continue;
        if (last) offer(c, hole, pipe, DT_NO_INDEX, (path_cost){0, 0, 0});
        for (size_t e = 0; !last && e < n->pass_count; ++e)
            if (n->passes[e].pipe == pipe && isfinite(c->from_hole[n->passes[e].hole].rock_m3))
                offer(c, hole, pipe, n->passes[e].hole, c->from_hole[n->passes[e].hole]);
    }
}

static bool rank_blocked(const chooser *c, size_t string)
{
    for (size_t h = 0; h < c->nest->hole_count; ++h)
        if (c->nest->holes[h].string == string && isfinite(c->from_hole[h].rock_m3)) return false;
    return true;
}

/** Does the drift of a pipe let through some bit that leads on to the bottom? */
static bool leads_on(const chooser *c, size_t string, const item *it)
{
    const dt_nest *n = c->nest;
    if (string + 1 == n->string_count) return true;
    for (size_t e = 0; e < n->pass_count; ++e) {
        const dt_nest_pass *pass = &n->passes[e];
        if (n->pipes[pass->pipe].string != string ||
            !dt_nest_is_size(&n->pipes[pass->pipe], it->pipe))
            continue;
        if (pass->need_drift_m <= it->drift_m + SAME_DIAMETER_M &&
            isfinite(c->from_hole[pass->hole].rock_m3))
            return true;
    }
    return false;
}

/** The pipe that came nearest in a string where none will do; pipe NULL when no drift leads on. */
static void find_shortfall(const chooser *c, size_t string, dt_shortfall *out)
{
    double best = -1;
    for (size_t i = c->items.first[string]; i < c->items.first[string + 1]; ++i) {
        const item *it = &c->items.list[i];
        const dt_factor *f = &it->screen.by_load[it->screen.worst];
        double ratio = f->factor / f->needed;
        if (!(ratio > best) || !leads_on(c, string, it)) continue;
        best = ratio;
        *out = (dt_shortfall){string, it->pipe, it->thread, *f, it->screen.worst};
    }
    if (best < 0) *out = (dt_shortfall){.seat = string};
}

static dt_status build_string(const chooser *c, size_t hole, dt_string *out)
{
    size_t string = c->nest->holes[hole].string;
    const item *it = &c->items.list[c->item_of_hole[hole]];
    size_t next = c->hole_of_hole[hole];
    *out = (dt_string){.load = c->loads[string],
                       .nest_hole = hole,
                       .nest_pipe = c->pipe_of_hole[hole],
                       .need_drift_m = next == DT_NO_INDEX ? 0 : c->nest->holes[next].bit_m,
                       .section_count = 1,
                       .pinned_pipe_fails = !it->screen.ok};
    out->sections = malloc(sizeof *out->sections);
    if (!out->sections) return DT_E_MEMORY;
    out->sections[0] =
        (dt_section){out->load.top_md_m, out->load.shoe_md_m, it->pipe, it->thread, it->screen};
    return DT_OK;
}

static dt_status read_path(const chooser *c, dt_strings *out)
{
    size_t hole = DT_NO_INDEX;
    for (size_t h = 0; h < c->nest->hole_count; ++h) {
        if (c->nest->holes[h].string != 0 || !isfinite(c->from_hole[h].rock_m3)) continue;
        if (hole == DT_NO_INDEX || cheaper(c->from_hole[h], c->from_hole[hole])) hole = h;
    }
    dt_strings made = {calloc(c->seats->count, sizeof *made.items), c->seats->count};
    if (!made.items) return DT_E_MEMORY;
    for (size_t k = 0; k < made.count; ++k) {
        if (build_string(c, hole, &made.items[k]) != DT_OK) {
            dt_strings_free(&made);
            return DT_E_MEMORY;
        }
        hole = c->hole_of_hole[hole];
    }
    *out = made;
    return DT_OK;
}

static dt_status prepare(chooser *c, double lap_m)
{
    size_t strings = c->seats->count, holes = c->nest->hole_count;
    c->loads = calloc(strings, sizeof *c->loads);
    c->from_hole = malloc((holes + 1) * sizeof *c->from_hole);
    c->pipe_of_hole = calloc(holes + 1, sizeof *c->pipe_of_hole);
    c->hole_of_hole = calloc(holes + 1, sizeof *c->hole_of_hole);
    c->item_of_hole = calloc(holes + 1, sizeof *c->item_of_hole);
    if (!c->loads || !c->from_hole || !c->pipe_of_hole || !c->hole_of_hole || !c->item_of_hole)
        return DT_E_MEMORY;
    for (size_t h = 0; h < holes; ++h)
        c->from_hole[h] = no_path;
    for (size_t k = 0; k < strings; ++k) {
        dt_status status = dt_string_load_build(c->window, c->seats, c->trajectory, &c->design,
                                                lap_m, k, &c->loads[k]);
        if (status != DT_OK) return status;
    }
    return screen_all(c);
}

dt_status dt_strings_choose(const dt_window *window, const dt_seats *seats, const dt_nest *nest,
                            const dt_catalogue *catalogue, const dt_trajectory *trajectory,
                            double lap_m, dt_strings *out, dt_shortfall *shortfall)
{
    chooser c = {.window = window,
                 .seats = seats,
                 .nest = nest,
                 .catalogue = catalogue,
                 .trajectory = trajectory};
    dt_design_settle(window->well, &c.design);
    dt_status status = prepare(&c, lap_m);
    for (size_t k = seats->count; status == DT_OK && k-- > 0;) {
        relax_rank(&c, k);
        if (rank_blocked(&c, k)) {
            find_shortfall(&c, k, shortfall);
            status = DT_E_NONE;
        }
    }
    if (status == DT_OK) status = read_path(&c, out);
    free(c.loads);
    free(c.items.list);
    free(c.items.first);
    free(c.from_hole);
    free(c.pipe_of_hole);
    free(c.hole_of_hole);
    free(c.item_of_hole);
    return status;
}

void dt_strings_free(dt_strings *strings)
{
    if (!strings) return;
    for (size_t i = 0; i < strings->count; ++i)
        free(strings->items[i].sections);
    free(strings->items);
    *strings = (dt_strings){0};
}
