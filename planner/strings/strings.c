/* SPDX-License-Identifier: MIT */
#include "strings.h"

#include <math.h>
#include <stdlib.h>

#include "same.h"
#include "string_design.h"
#include "units.h"

/** What a path costs, compared term by term. Sums and minima of it keep the order exact. */
typedef struct path_cost {
    double unusual_holes; /* dt_nest_unusual() */
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
    if (fabs(a.rock_m3 - b.rock_m3) > TIE_M3) return a.rock_m3 < b.rock_m3;
    return a.steel_kg < b.steel_kg - TIE_KG;
}

/** A design of one string in one size. */
typedef struct sized {
    size_t string, nest_pipe; /* the string is the size's own, or the tie-back on it */
    dt_string_design *design;
} sized;

/** A string for one bit: priced at the least it can cost until it has been designed. */
typedef struct answer {
    size_t size;
    dt_hanging hanging;
    double drift_m, price;
    bool known;
    dt_design_choice choice; /* when known, and price is finite */
} answer;

/** From a hole through a pipe to the hole below; next_hole DT_NO_INDEX at the bottom. */
typedef struct edge {
    size_t hole, pipe, next_hole, answer;
    size_t tie_answer; /* of the tie-back on the string; DT_NO_INDEX */
    path_cost drilling;
} edge;

/** The best edge at a hole. */
typedef struct at_hole {
    path_cost cost; /* least from here to the bottom */
    size_t edge;
} at_hole;

typedef struct chooser {
    dt_design_site site;
    dt_design_in_force design;
    dt_string_load *loads;
    sized *sizes;
    size_t size_count;
    answer *answers;
    edge *edges; /* the last string first, so that what is below a hole is settled before it */
    size_t answer_count, edge_count;
    at_hole *holes;
} chooser;

/** A hole is drilled from the shoe above, or from the ground; a driven or jetted conductor needs
 * none. */
static path_cost hole_cost(const chooser *c, const dt_nest_hole *hole)
{
    const dt_seat *seats = c->site.seats->items;
    const dt_well *well = c->site.window->well;
    double base = seats[hole->string].shoe_m;
    double top = hole->string > 0 ? seats[hole->string - 1].shoe_m : dt_well_ground_m(well);
    double length = fmax(
        dt_trajectory_md(c->site.trajectory, base) - dt_trajectory_md(c->site.trajectory, top), 0);
    if (hole->string == 0 && well->conductor.method != DT_CONDUCTOR_DRILLED) length = 0;
    double unusual = dt_nest_unusual(hole) ? 1 : 0;
    return (path_cost){unusual, PI / 4 * hole->diameter_m * hole->diameter_m * length, 0};
}

static dt_status size_of(chooser *c, size_t string, size_t nest_pipe, size_t *out)
{
    for (size_t i = 0; i < c->size_count; ++i)
        if (c->sizes[i].nest_pipe == nest_pipe && c->sizes[i].string == string) {
            *out = i;
            return DT_OK;
        }
    const dt_nest_pipe *size = &c->site.nest->pipes[nest_pipe];
    sized *added = &c->sizes[c->size_count]; /* room for two a pipe of the nest */
    dt_status status = dt_string_design_make(&c->site, &c->loads[string], size, &added->design);
    if (status != DT_OK) return status;
    added->string = string;
    added->nest_pipe = nest_pipe;
    *out = c->size_count++;
    return DT_OK;
}

/** Hangers that bind a string alike: the same load borne, the same pipe asked for. */
static bool same_hanging(const dt_hanging *a, const dt_hanging *b)
{
    if (!a->own != !b->own || !a->guest != !b->guest) return false;
    if (a->own && a->own->capacity_n != b->own->capacity_n) return false;
    if (!a->guest || a->guest == b->guest) return true;
    /* a range left out is NAN, and two of them bind alike */
    const double x[] = {a->guest->lightest_kgm, a->guest->heaviest_kgm};
    const double y[] = {b->guest->lightest_kgm, b->guest->heaviest_kgm};
    for (int i = 0; i < 2; ++i)
        if (x[i] != y[i] && !(isnan(x[i]) && isnan(y[i]))) return false;
    return a->guest_md_m == b->guest_md_m;
}

/** The entry for a size, a bit and hangers, priced at its floor when it is new. */
static dt_status answer_of(chooser *c, size_t string, size_t nest_pipe, double drift_m,
                           const dt_hanging *hanging, size_t *out)
{
    size_t size;
    dt_status status = size_of(c, string, nest_pipe, &size);
    if (status != DT_OK) return status;
    for (size_t i = 0; i < c->answer_count; ++i)
        if (c->answers[i].size == size && fabs(c->answers[i].drift_m - drift_m) < SAME_LOOK_M &&
            same_hanging(&c->answers[i].hanging, hanging)) {
            *out = i;
            return DT_OK;
        }
    c->answers[c->answer_count] =
        (answer){.size = size,
                 .hanging = *hanging,
                 .drift_m = drift_m,
                 .price = dt_string_design_floor(c->sizes[size].design, drift_m)};
    *out = c->answer_count++;
    return DT_OK;
}

static const dt_pin *pin_at(const chooser *c, size_t string)
{
    const size_t pin = c->site.seats->items[string].pin;
    return pin < c->site.window->well->pin_count ? &c->site.window->well->pins[pin] : NULL;
}

/** Does the next bit pass the hanger of this hole's liner? Pins of both pass whatever they are. */
static bool bit_passes(const chooser *c, size_t hole, size_t next_hole)
{
    const dt_nest_hole *own = &c->site.nest->holes[hole];
    if (!own->hanger || next_hole == DT_NO_INDEX) return true;
    const dt_nest_hole *next = &c->site.nest->holes[next_hole];
    const dt_pin *pin = pin_at(c, own->string), *below = pin_at(c, next->string);
    const bool kept =
        pin && below && isfinite(pin->od_m) && isfinite(below->hole_m) && !next->opened;
    return kept || dt_hanger_passes(own->hanger, next->bit_m);
}

static dt_status add_edge(chooser *c, size_t hole, size_t pipe, size_t next_hole)
{
    const dt_nest *n = c->site.nest;
    if (!bit_passes(c, hole, next_hole)) return DT_OK;
    edge *added = &c->edges[c->edge_count];
    *added = (edge){.hole = hole,
                    .pipe = pipe,
                    .next_hole = next_hole,
                    .tie_answer = DT_NO_INDEX,
                    .drilling = hole_cost(c, &n->holes[hole])};
    const double drift_m = next_hole == DT_NO_INDEX ? 0 : n->holes[next_hole].bit_m;
    dt_hanging hanging = {.own = n->holes[hole].hanger, .guest_md_m = NAN};
    if (next_hole != DT_NO_INDEX && n->holes[next_hole].hanger) {
        hanging.guest = n->holes[next_hole].hanger;
        hanging.guest_md_m = c->loads[n->holes[next_hole].string].top_md_m;
    }
    const size_t string = n->pipes[pipe].string;
    dt_status status = answer_of(c, string, pipe, drift_m, &hanging, &added->answer);
    const size_t tie = dt_seats_tieback_on(c->site.seats, string);
    const dt_hanging none = {.guest_md_m = NAN}; /* it hangs on the wellhead */
    if (status == DT_OK && tie != DT_NO_INDEX)
        status = answer_of(c, tie, pipe, drift_m, &none, &added->tie_answer);
    if (status == DT_OK) ++c->edge_count;
    return status;
}

static dt_status add_edges_of(chooser *c, size_t string)
{
    const dt_nest *n = c->site.nest;
    const bool last = string + 1 == n->string_count;
    dt_status status = DT_OK;
    for (size_t f = 0; status == DT_OK && f < n->fit_count; ++f) {
        const dt_nest_fit *fit = &n->fits[f];
        if (n->holes[fit->hole].string != string) continue;
        if (last) status = add_edge(c, fit->hole, fit->pipe, DT_NO_INDEX);
        for (size_t e = 0; !last && status == DT_OK && e < n->pass_count; ++e)
            if (n->passes[e].pipe == fit->pipe)
                status = add_edge(c, fit->hole, fit->pipe, n->passes[e].hole);
    }
    return status;
}

/** Least cost from every hole to the bottom, by what is known of the strings so far. The graph has
 * no cycles and edges come from the bottom up, so one pass settles it. */
static void settle_holes(chooser *c)
{
    for (size_t h = 0; h < c->site.nest->hole_count; ++h)
        c->holes[h] = (at_hole){no_path, DT_NO_INDEX};
    for (size_t i = 0; i < c->edge_count; ++i) {
        const edge *e = &c->edges[i];
        path_cost cost = add_cost((path_cost){0, 0, c->answers[e->answer].price}, e->drilling);
        if (e->tie_answer != DT_NO_INDEX) cost.steel_kg += c->answers[e->tie_answer].price;
        if (e->next_hole != DT_NO_INDEX) cost = add_cost(cost, c->holes[e->next_hole].cost);
        if (!isfinite(cost.steel_kg) || !cheaper(cost, c->holes[e->hole].cost)) continue;
        c->holes[e->hole] = (at_hole){cost, i};
    }
}

/** The string above which no hole leads to the bottom: the deepest; DT_NO_INDEX when none. */
static size_t blocked_string(const chooser *c)
{
    const dt_nest *n = c->site.nest;
    for (size_t k = n->string_count; k-- > 0;) {
        bool open = false;
        for (size_t h = 0; h < n->hole_count && !open; ++h)
            open = n->holes[h].string == k && c->holes[h].edge != DT_NO_INDEX;
        if (!open) return k;
    }
    return DT_NO_INDEX;
}

static size_t best_first_hole(const chooser *c)
{
    const dt_nest *n = c->site.nest;
    size_t best = DT_NO_INDEX;
    for (size_t h = 0; h < n->hole_count; ++h) {
        if (n->holes[h].string != 0 || c->holes[h].edge == DT_NO_INDEX) continue;
        if (best == DT_NO_INDEX || cheaper(c->holes[h].cost, c->holes[best].cost)) best = h;
    }
    return best;
}

/** Designs a string if it is not designed yet; *news when it was not. */
static dt_status design_answer(chooser *c, size_t index, bool *news)
{
    answer *a = &c->answers[index];
    if (a->known) return DT_OK;
    dt_status status =
        dt_string_design_choose(c->sizes[a->size].design, a->drift_m, &a->hanging, &a->choice);
    if (status != DT_OK && status != DT_E_NONE) return status;
    a->known = *news = true;
    a->price = status == DT_OK ? a->choice.price : INFINITY;
    return DT_OK;
}

/** Designs the strings of the best path that are not designed yet. */
static dt_status design_path(chooser *c, bool *all_known)
{
    *all_known = true;
    for (size_t hole = best_first_hole(c); hole != DT_NO_INDEX;) {
        const edge *e = &c->edges[c->holes[hole].edge];
        bool news = false;
        dt_status status = design_answer(c, e->answer, &news);
        bool holds = isfinite(c->answers[e->answer].price);
        if (status == DT_OK && holds && e->tie_answer != DT_NO_INDEX) {
            status = design_answer(c, e->tie_answer, &news);
            holds = isfinite(c->answers[e->tie_answer].price);
        }
        if (status != DT_OK) return status;
        if (news) *all_known = false;
        if (!holds) return DT_OK; /* this path is none */
        hole = e->next_hole;
    }
    return DT_OK;
}

/** The seat whose hole a string stands over: its own, or of a tie-back its liner's. */
static size_t place_of(const chooser *c, size_t string)
{
    return c->loads[string].place;
}

/** Does a liner of this size hold? */
static bool liner_holds(const chooser *c, size_t nest_pipe)
{
    for (size_t i = 0; i < c->answer_count; ++i) {
        const answer *a = &c->answers[i];
        const sized *size = &c->sizes[a->size];
        if (size->nest_pipe == nest_pipe && size->string == c->site.nest->pipes[nest_pipe].string &&
            a->known && isfinite(a->price))
            return true;
    }
    return false;
}

/** May a bit that leads on to the bottom pass this pipe, as a size of the nest? A tie-back stands
 * on a liner that holds. */
static bool leads_on(const chooser *c, size_t string, const dt_pipe *pipe)
{
    const dt_nest *n = c->site.nest;
    const bool tieback = c->loads[string].tieback;
    string = place_of(c, string);
    const double drift_m = dt_nest_drift(c->site.window->well, pipe);
    const bool last = string + 1 == n->string_count;
    for (size_t i = 0; i < n->pipe_count; ++i) {
        if (n->pipes[i].string != string || !dt_nest_is_size(&n->pipes[i], pipe)) continue;
        if (tieback && !liner_holds(c, i)) continue;
        if (last && !c->site.seats->open.given) return true;
        if (last) return c->site.seats->open.hole_m <= drift_m + SAME_DIAMETER_M;
        for (size_t e = 0; e < n->pass_count; ++e)
            if (n->passes[e].pipe == i && n->passes[e].need_drift_m <= drift_m + SAME_DIAMETER_M &&
                c->holes[n->passes[e].hole].edge != DT_NO_INDEX)
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
        if (!dt_less(best, f->factor / f->needed)) continue;
        best = f->factor / f->needed;
        *out = (dt_shortfall){string,
                              pipe,
                              thread,
                              *f,
                              screen.worst,
                              screen.worst_check,
                              screen.ok && c->site.window->well->hangers.count > 0};
    }
    return DT_OK;
}

/** Does an edge lead on to the bottom, whatever its strings hold? */
static bool edge_leads_on(const chooser *c, const edge *e)
{
    return e->next_hole == DT_NO_INDEX || c->holes[e->next_hole].edge != DT_NO_INDEX;
}

/**
 * Of a blocked seat the tie-back when the liner itself could be built. Where no tie-back is as wide
 * as a liner, that liner was on no path and is designed here first.
 */
static dt_status failing_string(chooser *c, size_t seat, size_t *out)
{
    *out = seat;
    for (size_t i = 0; i < c->edge_count; ++i) {
        const edge *e = &c->edges[i];
        bool news = false;
        if (e->tie_answer == DT_NO_INDEX || c->sizes[c->answers[e->answer].size].string != seat ||
            !edge_leads_on(c, e))
            continue;
        dt_status status = design_answer(c, e->answer, &news);
        if (status != DT_OK) return status;
        if (isfinite(c->answers[e->answer].price)) *out = dt_seats_tieback_on(c->site.seats, seat);
    }
    return DT_OK;
}

static dt_status build_string(const chooser *c, size_t hole, size_t answer_index, dt_string *out)
{
    const edge *e = &c->edges[c->holes[hole].edge];
    const answer *a = &c->answers[answer_index];
    dt_string_design *design = c->sizes[a->size].design;
    *out = (dt_string){.load = *dt_string_design_load(design),
                       .nest_hole = hole,
                       .nest_pipe = e->pipe,
                       .need_drift_m = a->drift_m,
                       .section_count = a->choice.section_count,
                       .pinned_pipe_fails = a->choice.pinned_pipe_fails};
    return dt_string_design_report(design, &a->choice, a->drift_m, &out->sections);
}

static dt_status read_path(const chooser *c, dt_strings *out)
{
    size_t hole = best_first_hole(c);
    const dt_seats *seats = c->site.seats;
    dt_strings made = {calloc(seats->count + seats->tieback_count, sizeof *made.items),
                       seats->count, seats->tieback_count};
    if (!made.items) return DT_E_MEMORY;
    for (size_t k = 0; k < made.count; ++k) {
        const edge *e = &c->edges[c->holes[hole].edge];
        dt_status status = build_string(c, hole, e->answer, &made.items[k]);
        if (status == DT_OK && e->tie_answer != DT_NO_INDEX)
            status =
                build_string(c, hole, e->tie_answer, &made.items[dt_seats_tieback_on(seats, k)]);
        if (status != DT_OK) {
            dt_strings_free(&made);
            return status;
        }
        hole = e->next_hole;
    }
    *out = made;
    return DT_OK;
}

/** Edges at most: one for each way through a hole, a pipe and the hole below. */
static size_t count_edges(const dt_nest *n)
{
    size_t count = n->fit_count; /* those of the last string */
    for (size_t f = 0; f < n->fit_count; ++f)
        for (size_t e = 0; e < n->pass_count; ++e)
            count += n->passes[e].pipe == n->fits[f].pipe;
    return count;
}

static dt_status prepare(chooser *c, double lap_m)
{
    const dt_nest *n = c->site.nest;
    const size_t seats = c->site.seats->count, edges = count_edges(n);
    const size_t strings = seats + c->site.seats->tieback_count;
    c->loads = calloc(strings, sizeof *c->loads);
    c->holes = calloc(n->hole_count + 1, sizeof *c->holes);
    c->sizes = calloc(2 * n->pipe_count + 1, sizeof *c->sizes);
    c->edges = calloc(edges + 1, sizeof *c->edges);
    c->answers = calloc(2 * edges + 1, sizeof *c->answers);
    if (!c->loads || !c->holes || !c->sizes || !c->edges || !c->answers) return DT_E_MEMORY;
    dt_status status = DT_OK;
    for (size_t k = 0; status == DT_OK && k < strings; ++k)
        status = dt_string_load_build(c->site.window, c->site.seats, c->site.trajectory, &c->design,
                                      lap_m, k, &c->loads[k]);
    for (size_t k = seats; status == DT_OK && k-- > 0;)
        status = add_edges_of(c, k);
    return status;
}

static void release(chooser *c)
{
    for (size_t i = 0; i < c->size_count; ++i)
        dt_string_design_free(c->sizes[i].design);
    free(c->sizes);
    free(c->answers);
    free(c->edges);
    free(c->loads);
    free(c->holes);
}

/**
 * Strings take most of the time, so they are designed only where they matter: the best path is
 * found with every string at the least it can cost, the strings on it are designed, and so on until
 * all on the best path are. No other path can then be cheaper, since what is not designed stands
 * at no more than it costs.
 */
static dt_status search(chooser *c, dt_shortfall *shortfall)
{
    for (bool all_known = false; !all_known;) {
        settle_holes(c);
        const size_t blocked = blocked_string(c);
        if (blocked != DT_NO_INDEX) {
            size_t failing;
            dt_status status = failing_string(c, blocked, &failing);
            if (status == DT_OK) status = find_shortfall(c, failing, shortfall);
            return status == DT_OK ? DT_E_NONE : status;
        }
        dt_status status = design_path(c, &all_known);
        if (status != DT_OK) return status;
    }
    return DT_OK;
}

dt_status dt_strings_choose(const dt_window *window, const dt_seats *seats, const dt_nest *nest,
                            const dt_catalogue *catalogue, const dt_trajectory *trajectory,
                            double lap_m, dt_designed *designed, dt_strings *out,
                            dt_shortfall *shortfall)
{
    chooser c = {0};
    dt_design_settle(window->well, &c.design);
    c.site = (dt_design_site){
        window, seats, nest, catalogue, trajectory, &c.design, &dt_price_by_steel, designed};
    dt_status status = prepare(&c, lap_m);
    if (status == DT_OK) status = search(&c, shortfall);
    if (status == DT_OK) status = read_path(&c, out);
    release(&c);
    return status;
}

void dt_strings_free(dt_strings *strings)
{
    if (!strings) return;
    for (size_t i = 0; i < strings->count + strings->tieback_count; ++i)
        free(strings->items[i].sections);
    free(strings->items);
    *strings = (dt_strings){0};
}
