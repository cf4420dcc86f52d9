/* SPDX-License-Identifier: MIT */
/*
 * What a chain of shoes asks of the string above it, in numbers that can be compared, so that one
 * lower part can stand in for another although its shoes differ (docs/options.md).
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "options_search.h"
#include "same.h"
#include "units.h"

static const double g = DT_STANDARD_GRAVITY;

/* ---- kinds: what must be the same ---- */

enum { KIND_NUMBERS = 4, TEST_OF_LINER = 1, LOSS, KICK };

/** One record; `before` makes a list of records one number. */
typedef struct kind_record {
    double before, number[KIND_NUMBERS];
} kind_record;

struct dt_kinds {
    kind_record *items; /* by number less 1 */
    size_t count, capacity;
};

static dt_status number_of(dt_search *search, const kind_record *record, int *out)
{
    struct dt_kinds *kinds = search->kinds;
    if (!kinds) kinds = search->kinds = calloc(1, sizeof *kinds);
    if (!kinds) return DT_E_MEMORY;
    size_t slots = kinds->capacity;
    if (2 * (kinds->count + 1) > slots) {
        slots = slots ? 2 * slots : 256;
        kind_record *bigger = realloc(kinds->items, slots / 2 * sizeof *bigger);
        int *table = calloc(slots, sizeof *table);
        if (bigger) kinds->items = bigger;
        if (!bigger || !table) {
            free(table);
            return DT_E_MEMORY;
        }
        free(search->kind_table);
        search->kind_table = table;
        kinds->capacity = slots;
        for (size_t i = 0; i < kinds->count; ++i) {
            size_t at = dt_hash_bytes(&kinds->items[i], sizeof *kinds->items) & (slots - 1);
            while (table[at])
                at = (at + 1) & (slots - 1);
            table[at] = (int)i + 1;
        }
    }
    size_t at = dt_hash_bytes(record, sizeof *record) & (slots - 1);
    for (; search->kind_table[at]; at = (at + 1) & (slots - 1))
        if (memcmp(&kinds->items[search->kind_table[at] - 1], record, sizeof *record) == 0) {
            *out = search->kind_table[at];
            return DT_OK;
        }
    kinds->items[kinds->count++] = *record;
    search->kind_table[at] = *out = (int)kinds->count;
    return DT_OK;
}

static double known(double value)
{
    return isnan(value) ? -1 : value + 0.0; /* no NAN and no -0 in a record */
}

/* ---- which numbers count ---- */

static bool salt_above(const dt_well *well, double tvd_m)
{
    for (size_t i = 0; i < well->interval_count; ++i)
        if (strcmp(well->intervals[i].kind, "salt") == 0 && well->intervals[i].top_m < tvd_m)
            return true;
    return false;
}

static bool loses(const dt_well *well)
{
    return well->loads.evacuation != DT_EVACUATION_FULL;
}

/** Does less of a loss hold wherever more of it does? Not proved for the combined method; salt
 * presses from outside as well; by role a string above is empty to a depth of its own. */
static bool losses_ordered(const dt_search *search, double tvd_m)
{
    const dt_pipe_choice *c = &search->choice;
    return c->well->loads.evacuation == DT_EVACUATION_LOST_RETURNS &&
           c->design.collapse_method == DT_COLLAPSE_REDUCED_YIELD && !salt_above(c->well, tvd_m);
}

/** The deepest level of all holes below; is it of the hole that leaves least at the shoe too? Then
 * that hole leaves least everywhere, in one straight line. */
static bool one_hole_loses_most(const dt_string_load *load, double *level_m)
{
    const double inside_pa = dt_load_left_inside(load, load->shoe_tvd_m);
    bool one = false;
    *level_m = 0;
    for (size_t i = 0; i < load->hole_count; ++i)
        *level_m = fmax(*level_m, load->holes[i].loss_level_tvd_m);
    for (size_t i = 0; i < load->hole_count && !one; ++i) {
        const dt_hole_below *hole = &load->holes[i];
        const double left_m = fmax(load->shoe_tvd_m - hole->loss_level_tvd_m, 0);
        one = hole->loss_level_tvd_m == *level_m && hole->mud_kgm3 * g * left_m <= inside_pa;
    }
    return one;
}

/** A kind with one more thing that must be the same. */
static dt_status and_of(dt_search *search, int *kind, double what, double a, double b, double c)
{
    const kind_record record = {.before = *kind, .number = {what, known(a), known(b), known(c)}};
    return number_of(search, &record, kind);
}

static dt_status kind_of(dt_search *search, const dt_string_load *load, int *out)
{
    const dt_well *well = search->choice.well;
    const dt_load_wishes *w = &well->loads;
    const bool wall = load->wall_when_finished, given = w->given;
    const dt_kick_case kick = w->kick;
    const double shoe_m = load->shoe_tvd_m;
    double level_m;
    const bool same_loss =
        (!wall || well->loads.evacuation == DT_EVACUATION_BY_ROLE) &&
        (salt_above(well, shoe_m) ||
         (loses(well) && !(losses_ordered(search, shoe_m) && one_hole_loses_most(load, &level_m))));
    kind_record r = {.number = {wall}};
    const bool leaks = (given && !isnan(w->packer_fluid_kgm3)) || kick == DT_KICK_BY_ROLE;
    if (wall && leaks) r.number[1] = known(load->leak_pa);
    if (kick == DT_KICK_FRACTURE) r.number[2] = known(load->fracture_surface_pa);
    r.number[3] = load->hole_count > 0;
    dt_status status = number_of(search, &r, out);
    for (size_t i = 0; i < load->lap_test_count && status == DT_OK; ++i)
        status = and_of(search, out, TEST_OF_LINER, load->lap_tests[i].pressure_pa,
                        load->lap_tests[i].fluid_kgm3, 0);
    for (size_t i = 0; same_loss && i < load->hole_count && status == DT_OK; ++i)
        status =
            and_of(search, out, LOSS, load->holes[i].loss_level_tvd_m, load->holes[i].mud_kgm3, 0);
    const bool influx =
        kick == DT_KICK_INFLUX || (kick == DT_KICK_BY_ROLE && dt_load_influx_stated(well));
    if (!influx) return status;
    for (size_t i = 0; i < load->hole_count && status == DT_OK; ++i)
        status = and_of(search, out, KICK, load->holes[i].top_tvd_m, load->holes[i].base_tvd_m,
                        load->holes[i].mud_kgm3);
    return status;
}

/* ---- what may be compared ---- */

/** Lightest and heaviest mud a string that ends at a site may stand in. */
static void find_muds(dt_search *search)
{
    const dt_sites *s = &search->sites;
    for (size_t base = 0; base < s->count; ++base) {
        search->guard[base] = (dt_site_guard){INFINITY, 0};
        for (size_t top = 0; top < base; ++top) {
            double mud = s->mud_kgm3[top * s->count + base];
            if (isnan(mud)) continue;
            if (top == 0 && dt_hole_riserless(search->choice.well, 0)) /* as heavy as it gets */
                mud = dt_window_riserless_emw(search->choice.window, mud, s->tvd_m[base]);
            search->guard[base].lightest_kgm3 = fmin(search->guard[base].lightest_kgm3, mud);
            search->guard[base].heaviest_kgm3 = fmax(search->guard[base].heaviest_kgm3, mud);
        }
    }
}

/** Largest stress that bending puts into any pipe of the well. */
static double most_bending_pa(const dt_pipe_choice *c)
{
    double curvature = 0, od_m = 0;
    for (size_t i = 0; i < c->trajectory->count; ++i) {
        const double md_m = c->trajectory->nodes[i].md_m;
        curvature = fmax(curvature, dt_trajectory_curvature(c->trajectory, md_m + SAME_DEPTH_M));
        curvature = fmax(curvature, dt_trajectory_curvature(c->trajectory, md_m - SAME_DEPTH_M));
    }
    for (size_t i = 0; i < c->size_count; ++i)
        od_m = fmax(od_m, c->sizes[i].od_m);
    return dt_bending_stress(od_m, curvature);
}

static double least_yield_pa(const dt_pipe_choice *c)
{
    double least = INFINITY, part = 1;
    for (size_t i = 0; i < c->size_count; ++i)
        for (size_t k = 0; k < c->sizes[i].count; ++k)
            least = fmin(least, c->sizes[i].items[k].pipe->grade->yield_pa);
    for (size_t i = 0; i < c->well->thermal.derating_count; ++i)
        part = fmin(part, c->well->thermal.deratings[i].fraction);
    return least * part;
}

/**
 * Less gas at the surface holds wherever more of it does, when even the less leaves no net
 * pressure from outside: what is in between is, by convexity, no worse than the more and the
 * string with the same pressure inside and outside, and that one holds when its axial stress does,
 * which is what it was run with or a part of the mud's pressure (docs/options.md).
 */
static bool gas_ordered(const dt_search *search, size_t site, double gas_pa)
{
    const dt_pipe_choice *c = &search->choice;
    const dt_load_wishes *w = &c->well->loads;
    const double depth_m = search->sites.tvd_m[site];
    const dt_outside outside = w->burst_outside;
    if (outside == DT_OUTSIDE_PORE || outside == DT_OUTSIDE_CEMENTED) return false;
    const double mud_kgm3 = fmax(search->guard[site].heaviest_kgm3, 1000);
    const double outside_kgm3 = outside == DT_OUTSIDE_WATER ? 1000 : mud_kgm3;
    if (gas_pa < fmax(outside_kgm3 - c->design.gas_gradient_kgm3, 0) * g * depth_m) return false;
    const double part = 1 - 2 * 0.3; /* Poisson's ratio of the held string */
    return part * mud_kgm3 * g * depth_m + search->bending_pa <=
           search->least_yield_pa / c->design.triaxial;
}

/** A loss never leaves more inside than stands outside this string, or one above it when it may be
 * a liner. */
static bool never_bursts(const dt_search *search, size_t site, const dt_string_load *load)
{
    for (size_t at = 1; at <= site; ++at) {
        const dt_site_guard *guard = &search->guard[at];
        if (at < site && !(search->choice.well->seats.liners && isfinite(guard->lightest_kgm3)))
            continue;
        const double tvd_m = search->sites.tvd_m[at];
        if (dt_load_left_inside(load, tvd_m) > guard->lightest_kgm3 * g * tvd_m) return false;
    }
    return true;
}

/* ---- one chain ---- */

static dt_status load_of(const dt_search *search, const dt_exposure *e, dt_string_load *load)
{
    dt_string_below below[DT_MOST_STRINGS];
    const dt_string_place place = {.index = 2,
                                   .role = DT_INTERMEDIATE,
                                   .type = DT_FULL,
                                   .above_m = search->choice.conductor_m,
                                   .shoe_m = search->sites.tvd_m[e->top],
                                   .mud_kgm3 = NAN,
                                   .pin = DT_NO_INDEX,
                                   .below = below,
                                   .below_count = dt_exposure_chain(search, e, below)};
    return dt_pipe_choice_load(&search->choice, &place, load);
}

dt_status dt_asks_of(dt_search *search, const dt_exposure *e, dt_asks *out)
{
    const dt_well *well = search->choice.well;
    *out = (dt_asks){0};
    if (e->top == 0) return DT_OK; /* a conductor carries a diverter */
    if (!search->guard) {
        search->guard = calloc(search->sites.count + 1, sizeof *search->guard);
        if (!search->guard) return DT_E_MEMORY;
        find_muds(search);
        search->bending_pa = most_bending_pa(&search->choice);
        search->least_yield_pa = least_yield_pa(&search->choice);
    }
    dt_string_load load;
    const size_t site = (size_t)e->top;
    dt_status status = load_of(search, e, &load);
    if (status != DT_OK) return status;
    const bool wall = out->wall = load.wall_when_finished;
    if (load.runs[DT_LOAD_BURST_GAS]) {
        /* held empty too, with no more outside, and as cold */
        const bool emptied = !loses(well) && well->thermal.count == 0 &&
                             well->loads.burst_outside == DT_OUTSIDE_WATER;
        out->gas_pa = load.surface_pressure_pa;
        out->gas_ordered = emptied || gas_ordered(search, site, out->gas_pa);
    }
    if (!wall && losses_ordered(search, load.shoe_tvd_m)) {
        out->losses = true;
        out->loss_ordered =
            one_hole_loses_most(&load, &out->level_m) && never_bursts(search, site, &load);
        out->inside_pa = dt_load_left_inside(&load, load.shoe_tvd_m);
    }
    return status == DT_OK ? kind_of(search, &load, &out->kind) : status;
}

bool dt_asks_no_more(const dt_asks *a, const dt_asks *b)
{
    if (a->kind != b->kind) return false;
    if (a->gas_pa != b->gas_pa && !(a->gas_ordered && a->gas_pa < b->gas_pa)) return false;
    if (a->level_m == b->level_m && a->inside_pa == b->inside_pa) return true;
    return a->loss_ordered && a->level_m <= b->level_m && a->inside_pa >= b->inside_pa;
}

bool dt_asks_same(const dt_asks *a, const dt_asks *b)
{
    return a->kind == b->kind && a->gas_pa == b->gas_pa && a->level_m == b->level_m &&
           a->inside_pa == b->inside_pa;
}

void dt_asks_free(dt_search *search)
{
    if (search->kinds) free(search->kinds->items);
    free(search->kinds);
    free(search->kind_table);
    free(search->guard);
    search->kinds = NULL;
    search->kind_table = NULL;
    search->guard = NULL;
}
