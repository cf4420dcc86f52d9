/* SPDX-License-Identifier: MIT */
#include "drawtube/strings.h"

#include <math.h>
#include <stdlib.h>

#include "drawtube/units.h"
#include "string_design.h"

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

/** A design of one string in one size; made when first asked for. */
typedef struct sized {
    size_t nest_pipe;
    dt_string_design *design;
} sized;

/** What was chosen at a hole: a string for the bit of the next hole. */
typedef struct at_hole {
    path_cost cost; /* least from here to the bottom */
    size_t pipe, next_hole, design;
    dt_design_choice choice;
} at_hole;

/** A string already designed for one bit, so that it is designed once. */
typedef struct answer {
    size_t design;
    double drift_m;
    dt_status status;
    dt_design_choice choice;
} answer;

typedef struct chooser {
    dt_design_site site;
    dt_design_in_force design;
    dt_string_load *loads;
    sized *sizes;
    size_t size_count;
    answer *answers;
    size_t answer_count, answer_capacity;
    at_hole *holes;
} chooser;

static path_cost hole_cost(const chooser *c, const dt_nest_hole *hole)
{
    const dt_seat *seats = c->site.seats->items;
    double base = seats[hole->string].shoe_m;
    double top = hole->string > 0 ? seats[hole->string - 1].shoe_m : 0;
    double length =
        dt_trajectory_md(c->site.trajectory, base) - dt_trajectory_md(c->site.trajectory, top);
    double unusual = hole->opened || hole->commonness == DT_BIT_LESS_COMMON ? 1 : 0;
    return (path_cost){unusual, PI / 4 * hole->diameter_m * hole->diameter_m * length, 0};
}

static dt_status size_of(chooser *c, size_t nest_pipe, size_t *out)
{
    for (size_t i = 0; i < c->size_count; ++i)
        if (c->sizes[i].nest_pipe == nest_pipe) {
            *out = i;
            return DT_OK;
        }
    const dt_nest_pipe *size = &c->site.nest->pipes[nest_pipe];
    sized *added = &c->sizes[c->size_count]; /* room for one a pipe of the nest */
    dt_status status =
        dt_string_design_make(&c->site, &c->loads[size->string], size, &added->design);
    if (status != DT_OK) return status;
    added->nest_pipe = nest_pipe;
    *out = c->size_count++;
    return DT_OK;
}

/** The cheapest string of a size for a bit, from memory when it was asked for before. */
static dt_status ask(chooser *c, size_t nest_pipe, double drift_m, answer *out)
{
    size_t size;
    dt_status status = size_of(c, nest_pipe, &size);
    if (status != DT_OK) return status;
    for (size_t i = 0; i < c->answer_count; ++i)
        if (c->answers[i].design == size && fabs(c->answers[i].drift_m - drift_m) < 1e-9) {
            *out = c->answers[i];
            return DT_OK;
        }
    if (c->answer_count == c->answer_capacity) {
        size_t capacity = c->answer_capacity ? 2 * c->answer_capacity : 32;
        answer *bigger = realloc(c->answers, capacity * sizeof *bigger);
        if (!bigger) return DT_E_MEMORY;
        c->answers = bigger;
        c->answer_capacity = capacity;
    }
    answer made = {.design = size, .drift_m = drift_m};
    made.status = dt_string_design_choose(c->sizes[size].design, drift_m, &made.choice);
    if (made.status != DT_OK && made.status != DT_E_NONE) return made.status;
    c->answers[c->answer_count++] = made;
    *out = made;
    return DT_OK;
}

/** A pipe for a hole and the hole below it, and what that costs beside the pipe itself. */
typedef struct offer {
    size_t pipe, next_hole;
    path_cost beside;
} offer;

static int by_cost(const void *left, const void *right)
{
    const offer *a = left, *b = right;
    if (cheaper(a->beside, b->beside)) return -1;
    if (cheaper(b->beside, a->beside)) return 1;
    if (a->pipe != b->pipe) return a->pipe < b->pipe ? -1 : 1;
    return (a->next_hole > b->next_hole) - (a->next_hole < b->next_hole);
}

static size_t list_offers(const chooser *c, size_t hole, offer *list)
{
    const dt_nest *n = c->site.nest;
    const path_cost own = hole_cost(c, &n->holes[hole]);
    bool last = n->holes[hole].string + 1 == n->string_count;
    size_t count = 0;
    for (size_t f = 0; f < n->fit_count; ++f) {
        if (n->fits[f].hole != hole) continue;
        if (last) list[count++] = (offer){n->fits[f].pipe, DT_NO_INDEX, own};
        for (size_t e = 0; !last && e < n->pass_count; ++e) {
            const path_cost below = c->holes[n->passes[e].hole].cost;
            if (n->passes[e].pipe == n->fits[f].pipe && isfinite(below.rock_m3))
                list[count++] = (offer){n->fits[f].pipe, n->passes[e].hole, add_cost(own, below)};
        }
    }
    qsort(list, count, sizeof *list, by_cost);
    return count;
}

/** True when a string, however cheap, could not make this offer the best. */
static bool too_dear(path_cost beside, path_cost best)
{
    if (beside.unusual_holes != best.unusual_holes)
        return beside.unusual_holes > best.unusual_holes;
    if (fabs(beside.rock_m3 - best.rock_m3) > 1e-6) return beside.rock_m3 > best.rock_m3;
    return beside.steel_kg >= best.steel_kg;
}

static dt_status settle_hole(chooser *c, size_t hole, offer *list)
{
    const dt_nest *n = c->site.nest;
    at_hole *at = &c->holes[hole];
    size_t count = list_offers(c, hole, list);
    for (size_t i = 0; i < count; ++i) {
        if (too_dear(list[i].beside, at->cost)) break;
        size_t next = list[i].next_hole;
        double drift_m = next == DT_NO_INDEX ? 0 : n->holes[next].bit_m;
        answer found;
        dt_status status = ask(c, list[i].pipe, drift_m, &found);
        if (status != DT_OK) return status;
        if (found.status != DT_OK) continue;
        path_cost cost = add_cost((path_cost){0, 0, found.choice.price}, list[i].beside);
        if (!cheaper(cost, at->cost)) continue;
        *at = (at_hole){cost, list[i].pipe, next, found.design, found.choice};
    }
    return DT_OK;
}

/** Bottom-up over the ranks: the graph has no cycles, so each rank is final when left. */
static dt_status relax_rank(chooser *c, size_t string, offer *list)
{
    const dt_nest *n = c->site.nest;
    for (size_t h = 0; h < n->hole_count; ++h) {
        if (n->holes[h].string != string) continue;
        dt_status status = settle_hole(c, h, list);
        if (status != DT_OK) return status;
    }
    return DT_OK;
}

static bool rank_blocked(const chooser *c, size_t string)
{
    const dt_nest *n = c->site.nest;
    for (size_t h = 0; h < n->hole_count; ++h)
        if (n->holes[h].string == string && isfinite(c->holes[h].cost.rock_m3)) return false;
    return true;
}

/** May a bit that leads on to the bottom pass this pipe, as a size of the nest? */
static bool leads_on(const chooser *c, size_t string, const dt_pipe *pipe)
{
    const dt_nest *n = c->site.nest;
    const double drift_m = dt_nest_drift(c->site.window->well, pipe);
    const bool last = string + 1 == n->string_count;
    for (size_t i = 0; i < n->pipe_count; ++i) {
        if (n->pipes[i].string != string || !dt_nest_is_size(&n->pipes[i], pipe)) continue;
        if (last) return true;
        for (size_t e = 0; e < n->pass_count; ++e)
            if (n->passes[e].pipe == i && n->passes[e].need_drift_m <= drift_m + SAME_DIAMETER_M &&
                isfinite(c->holes[n->passes[e].hole].cost.rock_m3))
                return true;
    }
    return false;
}

/** The pipe that came nearest in a string where none will do, each over the whole length; pipe
 * NULL when no drift leads on. */
static dt_status find_shortfall(const chooser *c, size_t string, dt_shortfall *out)
{
    const dt_catalogue *catalogue = c->site.catalogue;
    double best = -1;
    *out = (dt_shortfall){.seat = string};
    for (size_t i = 0; i < catalogue->pipe_count * DT_THREAD_COUNT; ++i) {
        const dt_pipe *pipe = &catalogue->pipes[i / DT_THREAD_COUNT];
        const dt_thread thread = (dt_thread)(i % DT_THREAD_COUNT);
        dt_screen screen;
        if (!dt_string_pipe_usable(&c->site, string, pipe, thread) || !leads_on(c, string, pipe))
            continue;
        dt_status status = dt_string_screen(catalogue, pipe, thread, &c->loads[string],
                                            c->site.trajectory, &c->design, &screen);
        if (status == DT_E_MEMORY) return status;
        if (status != DT_OK) continue;
        const dt_factor *f = &screen.by_check[screen.worst_check];
        if (!(f->factor / f->needed > best)) continue;
        best = f->factor / f->needed;
        *out = (dt_shortfall){string, pipe, thread, *f, screen.worst, screen.worst_check};
    }
    return DT_OK;
}

static dt_status build_string(const chooser *c, size_t hole, dt_string *out)
{
    const at_hole *at = &c->holes[hole];
    const dt_string_design *design = c->sizes[at->design].design;
    size_t next = at->next_hole;
    *out = (dt_string){.load = *dt_string_design_load(design),
                       .nest_hole = hole,
                       .nest_pipe = at->pipe,
                       .need_drift_m = next == DT_NO_INDEX ? 0 : c->site.nest->holes[next].bit_m,
                       .section_count = at->choice.section_count,
                       .pinned_pipe_fails = at->choice.pinned_pipe_fails};
    return dt_string_design_report(design, &at->choice, out->need_drift_m, &out->sections);
}

static dt_status read_path(const chooser *c, dt_strings *out)
{
    const dt_nest *n = c->site.nest;
    size_t hole = DT_NO_INDEX;
    for (size_t h = 0; h < n->hole_count; ++h) {
        if (n->holes[h].string != 0 || !isfinite(c->holes[h].cost.rock_m3)) continue;
        if (hole == DT_NO_INDEX || cheaper(c->holes[h].cost, c->holes[hole].cost)) hole = h;
    }
    dt_strings made = {calloc(c->site.seats->count, sizeof *made.items), c->site.seats->count};
    if (!made.items) return DT_E_MEMORY;
    for (size_t k = 0; k < made.count; ++k) {
        if (build_string(c, hole, &made.items[k]) != DT_OK) {
            dt_strings_free(&made);
            return DT_E_MEMORY;
        }
        hole = c->holes[hole].next_hole;
    }
    *out = made;
    return DT_OK;
}

static dt_status prepare(chooser *c, double lap_m)
{
    size_t strings = c->site.seats->count, holes = c->site.nest->hole_count;
    c->loads = calloc(strings, sizeof *c->loads);
    c->holes = calloc(holes + 1, sizeof *c->holes);
    c->sizes = calloc(c->site.nest->pipe_count + 1, sizeof *c->sizes);
    if (!c->loads || !c->holes || !c->sizes) return DT_E_MEMORY;
    for (size_t h = 0; h < holes; ++h)
        c->holes[h].cost = no_path;
    for (size_t k = 0; k < strings; ++k) {
        dt_status status = dt_string_load_build(c->site.window, c->site.seats, c->site.trajectory,
                                                &c->design, lap_m, k, &c->loads[k]);
        if (status != DT_OK) return status;
    }
    return DT_OK;
}

static void release(chooser *c)
{
    for (size_t i = 0; i < c->size_count; ++i)
        dt_string_design_free(c->sizes[i].design);
    free(c->sizes);
    free(c->answers);
    free(c->loads);
    free(c->holes);
}

dt_status dt_strings_choose(const dt_window *window, const dt_seats *seats, const dt_nest *nest,
                            const dt_catalogue *catalogue, const dt_trajectory *trajectory,
                            double lap_m, dt_strings *out, dt_shortfall *shortfall)
{
    chooser c = {0};
    dt_design_settle(window->well, &c.design);
    c.site =
        (dt_design_site){window, seats, nest, catalogue, trajectory, &c.design, &dt_price_by_steel};
    offer *list = malloc((nest->fit_count * (nest->pass_count + 1) + 1) * sizeof *list);
    dt_status status = list ? prepare(&c, lap_m) : DT_E_MEMORY;
    for (size_t k = seats->count; status == DT_OK && k-- > 0;) {
        status = relax_rank(&c, k, list);
        if (status == DT_OK && rank_blocked(&c, k)) {
            status = find_shortfall(&c, k, shortfall);
            if (status == DT_OK) status = DT_E_NONE;
        }
    }
    if (status == DT_OK) status = read_path(&c, out);
    free(list);
    release(&c);
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
