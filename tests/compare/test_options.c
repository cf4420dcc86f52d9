/* SPDX-License-Identifier: MIT */
/* The exact search against one that tries everything, against its own program, and against what
 * must hold of any optimum. */
#include <stdio.h>

#include "check.h"
#include "option_parts.h"
#include "options_search.h"
#include "shipped_wells.h"
#include "told.h"

/* ---- a search that tries everything ---- */

typedef struct vector {
    long long cents, steel, minutes;
    double last_od_m;
    unsigned spares;
    size_t count; /* strings, tie-backs too */
} vector;

typedef struct front {
    vector *items;
    size_t count;
} front;

static bool as_good(const vector *a, const vector *b)
{
    return a->cents <= b->cents && a->steel <= b->steel && a->minutes <= b->minutes &&
           a->last_od_m >= b->last_od_m - PART_SAME && a->spares >= b->spares &&
           a->count <= b->count;
}

static void front_put(front *f, const vector *v)
{
    for (size_t i = 0; i < f->count; ++i)
        if (as_good(&f->items[i], v)) return;
    size_t kept = 0;
    for (size_t i = 0; i < f->count; ++i)
        if (!as_good(v, &f->items[i])) f->items[kept++] = f->items[i];
    f->count = kept;
    f->items = realloc(f->items, (f->count + 1) * sizeof *f->items);
    assert_non_null(f->items);
    f->items[f->count++] = *v;
}

#define MOST_WAYS 4000
/** A pipe in a hole, as one string of one set of seats. */
typedef struct way {
    double od_m, drift_m, hole_m, largest_m;
    double weight_kgm, hung_n; /* hung_n: on its hanger, were it a liner */
    part_sum sum;
} way;

typedef struct trial {
    const parts *p;
    front *f;
    size_t count, sites[8];
    dt_string_type types[8];
    dt_seat seats[16];
    size_t tiebacks, most; /* strings, tie-backs too */
    way *ways[8];
    size_t way_count[8];
    const way *taken[8];
    long long programs;
    bool drop; /* to save time */
} trial;

/** Answers of list_pipes() while everything is tried: many programs put the same loads on a string.
 */
enum { ANSWERS = 4096 };
typedef struct answer {
    dt_string_load load;
    bool conductor, last;
    size_t count;
    part_pipe *pipes;
} answer;

static answer answers[ANSWERS];

static void forget_answers(void)
{
    for (size_t i = 0; i < ANSWERS; ++i)
        free(answers[i].pipes);
    memset(answers, 0, sizeof answers);
}

/** The place of these loads in answers[], whoever has it now. */
static answer *answer_place(const dt_string_load *load)
{
    const unsigned char *bytes = (const unsigned char *)load;
    size_t hash = 1469598103934665603u;
    for (size_t i = 0; i < sizeof *load; ++i)
        hash = (hash ^ bytes[i]) * 1099511628211u;
    return &answers[hash % ANSWERS];
}

/** Is this string, or its tie-back, free of pins that are against it? Only surface and production
 * are pinned here. */
static bool type_pinned_otherwise(const parts *p, size_t k, size_t count, dt_string_type type)
{
    const dt_well *w = p->well;
    for (size_t i = 0; i < w->pin_count; ++i) {
        const dt_pin *pin = &w->pins[i];
        if (k != (pin->role == DT_SURFACE ? 1 : count - 1) || pin->type == DT_TIEBACK) continue;
        if (pin->type == DT_FULL && type != DT_FULL) return true;
        if (pin->type == DT_LINER && type == DT_FULL) return true;
        /* a tie-back that is pinned is there */
        if (i + 1 < w->pin_count && w->pins[i + 1].type == DT_TIEBACK && type != DT_TIEBACK)
            return true;
    }
    return false;
}

/** Loads know a string's pin by its seat: wear stands there. */
static void point_at_pins(trial *t)
{
    const dt_well *w = t->p->well;
    for (size_t i = 0; i < w->pin_count; ++i) {
        const size_t k = w->pins[i].role == DT_SURFACE ? 1 : t->count - 1;
        if (w->pins[i].type != DT_TIEBACK) t->seats[k].pin = i;
        for (size_t n = t->count; n < t->count + t->tiebacks; ++n)
            if (w->pins[i].type == DT_TIEBACK && t->seats[n].ties == k) t->seats[n].pin = i;
    }
}

/** Leaves the pipes that the pins of a string, or of its tie-back, allow. */
static size_t keep_pinned(const trial *t, size_t k, bool tieback, part_pipe *pipes, size_t count)
{
    const dt_well *w = t->p->well;
    for (size_t i = 0; i < w->pin_count; ++i) {
        const dt_pin *pin = &w->pins[i];
        if (k != (pin->role == DT_SURFACE ? 1 : t->count - 1)) continue;
        if (tieback != (pin->type == DT_TIEBACK)) continue;
        size_t kept = 0;
        for (size_t n = 0; n < count; ++n) {
            const dt_pipe *pipe = pipes[n].pipe;
            if (isfinite(pin->od_m) && fabs(pin->od_m - pipe->od_m) > PART_SAME) continue;
            if (isfinite(pin->weight_kgm) && fabs(pin->weight_kgm - pipe->weight_kgm) > 0.01)
                continue;
            if (pin->grade && strcmp(pin->grade, pipe->grade->name) != 0) continue;
            if (pin->thread && strcmp(pin->thread, dt_thread_text(pipes[n].thread)) != 0) continue;
            pipes[kept++] = pipes[n];
        }
        count = kept;
    }
    return count;
}

/** Pipes that hold the loads of a seat or a tie-back. */
static size_t list_pipes(const trial *t, size_t index, size_t k, part_pipe *pipes,
                         dt_string_load *out)
{
    const parts *p = t->p;
    size_t count = part_pipes(p, k == 0, k + 1 == t->count, pipes), kept = 0;
    count = keep_pinned(t, k, index >= t->count, pipes, count);
    const dt_seats seats = {
        .items = (dt_seat *)t->seats, .count = t->count, .tieback_count = t->tiebacks};
    dt_string_load load;
    memset(&load, 0, sizeof load);
    if (dt_string_load_build(&p->window, &seats, &p->trajectory, &p->design, p->lap_m, index,
                             &load) != DT_OK)
        return 0;
    *out = load;
    answer *known = answer_place(&load);
    if (known->pipes && known->conductor == (k == 0) && known->last == (k + 1 == t->count) &&
        memcmp(&known->load, &load, sizeof load) == 0) {
        memcpy(pipes, known->pipes, known->count * sizeof *pipes);
        return known->count;
    }
    for (size_t i = 0; i < count; ++i) {
        dt_screen screen;
        if (dt_string_screen(p->catalogue, pipes[i].pipe, pipes[i].thread, &load, &p->trajectory,
                             &p->design, &screen) == DT_OK &&
            screen.ok)
            pipes[kept++] = pipes[i];
    }
    free(known->pipes);
    *known = (answer){.conductor = k == 0, .last = k + 1 == t->count, .count = kept};
    memcpy(&known->load, &load, sizeof load);
    assert_non_null(known->pipes = malloc((kept + 1) * sizeof *pipes));
    memcpy(known->pipes, pipes, kept * sizeof *pipes);
    return kept;
}

static void add_way(trial *t, size_t k, const dt_string_load *load, const part_pipe *pipe,
                    const part_pipe *tie)
{
    const parts *p = t->p;
    double bits[16], drift = dt_nest_drift(p->well, pipe->pipe);
    size_t bit_count = part_bits(p, pipe->pipe, bits);
    part_sum tied = {0};
    if (tie) {
        tied = part_tieback(p, t->seats[k - 1].shoe_m, tie);
        drift = fmin(drift, dt_nest_drift(p->well, tie->pipe));
    }
    for (size_t b = 0; b < bit_count; ++b) {
        if (p->by_size && k > 0 && !part_hole_drilled(p, k, t->sites[k - 1], t->sites[k], bits[b]))
            continue;
        if (!part_paired(p, bits[b], pipe->pipe->od_m)) continue;
        assert_true(t->way_count[k] < MOST_WAYS);
        part_sum sum = part_bill(p, t->seats, k, t->count, pipe, bits[b]);
        sum.cents += tied.cents;
        sum.steel += tied.steel;
        sum.minutes += tied.minutes;
        t->ways[k][t->way_count[k]++] = (way){pipe->pipe->od_m,
                                              drift,
                                              bits[b],
                                              part_largest(pipe->pipe),
                                              pipe->pipe->weight_kgm,
                                              part_hung(load, pipe->pipe),
                                              sum};
    }
}

static void list_ways(trial *t, size_t k)
{
    static part_pipe pipes[4096], ties[4096];
    dt_string_load load, tie_load;
    size_t pipe_count = list_pipes(t, k, k, pipes, &load), tie_count = 0;
    for (size_t i = 0; i < t->tiebacks; ++i)
        if (t->seats[t->count + i].ties == k)
            tie_count = list_pipes(t, t->count + i, k, ties, &tie_load);
    t->way_count[k] = 0;
    for (size_t i = 0; i < pipe_count; ++i) {
        if (t->types[k] != DT_TIEBACK) add_way(t, k, &load, &pipes[i], NULL);
        for (size_t j = 0; t->types[k] == DT_TIEBACK && j < tie_count; ++j)
            if (part_same_size(&pipes[i], &ties[j])) add_way(t, k, &load, &pipes[i], &ties[j]);
    }
}

/** Does some hanger of the well hang string k, with this bit to come through it? */
static bool hung(const trial *t, size_t k, double bit_m)
{
    const dt_hangers *list = &t->p->well->hangers;
    const way *liner = t->taken[k], *host = t->taken[k - 1];
    if (t->types[k] == DT_FULL || list->count == 0) return true;
    for (size_t i = 0; i < list->count; ++i) {
        const dt_hanger *h = &list->items[i];
        if (fabs(h->liner_m - liner->od_m) > PART_SAME ||
            fabs(h->casing_m - host->od_m) > PART_SAME)
            continue;
        if (host->weight_kgm < h->lightest_kgm - 0.01 || host->weight_kgm > h->heaviest_kgm + 0.01)
            continue;
        if (bit_m <= h->bore_m + PART_SAME && liner->hung_n <= h->capacity_n) return true;
    }
    return false;
}

/** Adds the last hole where it stays open; false: it cannot be drilled below this pipe. */
static bool open_below(const trial *t, const way *above, vector *sum)
{
    const parts *p = t->p;
    if (!p->well->last_open) return true;
    const size_t top = t->sites[t->count - 1];
    const double hole_m = part_open_hole(p, above->od_m, above->largest_m);
    if (hole_m == 0 || above->drift_m < hole_m - PART_SAME ||
        !part_hole_drilled(p, t->count, top, p->site_count - 1, hole_m))
        return false;
    const part_sum open = part_open(p, top, hole_m);
    sum->cents += open.cents;
    sum->minutes += open.minutes;
    return true;
}

static void nest_on(trial *t, size_t k, const way *above, vector sum)
{
    if (k > 1 && k == t->count && !hung(t, k - 1, 0)) return;
    if (k == t->count && !open_below(t, above, &sum)) return;
    if (k == t->count) {
        sum.last_od_m = above->od_m;
        sum.count = t->count + t->tiebacks;
        front_put(t->f, &sum);
        ++t->programs;
        return;
    }
    double last_bit = NAN;
    unsigned spares = 0;
    for (size_t i = 0; i < t->way_count[k]; ++i) {
        const way *w = &t->ways[k][i];
        if (above && w->hole_m > above->drift_m + PART_SAME) continue;
        if (k > 1 && !hung(t, k - 1, w->hole_m)) continue;
        if (k > 1 && w->hole_m < part_least_hole(t->p, above->od_m, above->largest_m) - PART_SAME)
            continue;
        if (above && w->hole_m != last_bit) spares = part_spares(t->p, above->drift_m, w->hole_m);
        last_bit = w->hole_m;
        vector more = sum;
        more.cents += w->sum.cents;
        more.steel += w->sum.steel;
        more.minutes += w->sum.minutes;
        more.spares += above ? spares : 0;
        t->taken[k] = w;
        nest_on(t, k + 1, w, more);
    }
}

/** All ways below the conductor that cannot be beaten by another of the same hole, size and
 * drift are all that is needed; the rest would only take time. */
static void drop_worse(trial *t, size_t k)
{
    size_t kept = 0;
    for (size_t i = 0; i < t->way_count[k]; ++i) {
        bool worse = false;
        const way *a = &t->ways[k][i];
        for (size_t j = 0; j < t->way_count[k] && !worse; ++j) {
            const way *b = &t->ways[k][j];
            if (i == j || a->od_m != b->od_m || a->drift_m != b->drift_m || a->hole_m != b->hole_m)
                continue;
            if (t->p->well->hangers.count &&
                (a->weight_kgm != b->weight_kgm || b->hung_n > a->hung_n))
                continue;
            bool better = b->sum.cents <= a->sum.cents && b->sum.steel <= a->sum.steel &&
                          b->sum.minutes <= a->sum.minutes;
            bool equal = b->sum.cents == a->sum.cents && b->sum.steel == a->sum.steel &&
                         b->sum.minutes == a->sum.minutes;
            worse = better && (!equal || j < i);
        }
        if (!worse) t->ways[k][kept++] = *a;
    }
    t->way_count[k] = kept;
}

static void try_types(trial *t, size_t k)
{
    if (k < t->count) {
        t->types[k] = DT_FULL;
        try_types(t, k + 1);
        if (k < 2 || !t->p->well->seats.liners) return;
        t->types[k] = DT_LINER;
        try_types(t, k + 1);
        if (t->p->well->wishes.no_tiebacks) return;
        t->types[k] = DT_TIEBACK;
        try_types(t, k + 1);
        return;
    }
    for (size_t i = 1; i < t->count; ++i)
        if (type_pinned_otherwise(t->p, i, t->count, t->types[i])) return;
    t->tiebacks = part_seats(t->p, t->sites, t->types, t->count, t->seats);
    if (t->count + t->tiebacks > t->most) return;
    point_at_pins(t);
    for (size_t i = 0; i < t->count; ++i) {
        list_ways(t, i);
        if (t->drop) drop_worse(t, i);
    }
    nest_on(t, 0, NULL, (vector){0});
}

static void try_sites(trial *t, size_t k)
{
    size_t last = t->p->site_count - 1;
    if (k == t->count) { /* all stand above an open last hole */
        if (part_drilled(t->p, t->sites[k - 1], last)) try_types(t, 0);
        return;
    }
    if (k + 1 == t->count && !t->p->well->last_open) {
        if (!part_drilled(t->p, t->sites[k - 1], last)) return;
        t->sites[k] = last;
        try_types(t, 0);
        return;
    }
    for (size_t b = t->sites[k - 1] + 1; b < last; ++b) {
        if (!part_drilled(t->p, t->sites[k - 1], b)) break;
        if (!dt_shoe_allowed(&t->p->window, t->p->site[b], NULL)) continue;
        t->sites[k] = b;
        try_sites(t, k + 1);
    }
}

static void try_everything(const parts *p, size_t most, bool drop, front *f, long long *programs)
{
    trial t = {.p = p, .f = f, .drop = drop, .most = most};
    for (size_t k = 0; k < 8; ++k)
        assert_non_null(t.ways[k] = malloc(MOST_WAYS * sizeof *t.ways[k]));
    for (t.count = p->least; t.count <= most; ++t.count) {
        t.sites[0] = 0;
        try_sites(&t, 1);
    }
    *programs = t.programs;
    for (size_t k = 0; k < 8; ++k)
        free(t.ways[k]);
    forget_answers();
}

static bool in_front(const front *f, const dt_option *o)
{
    for (size_t i = 0; i < f->count; ++i) {
        const vector *v = &f->items[i];
        if (v->cents == llround(o->cost * 100) && v->steel == llround(o->steel_kg * 10) &&
            v->minutes == llround(o->days * 24 * 60) && v->spares == o->spares &&
            v->count == o->count + o->tiebacks && fabs(v->last_od_m - o->last_od_m) < PART_SAME)
            return true;
    }
    return false;
}

/** With the governing depths themselves as candidates, as parts_open() lists them. */
static dt_status search_exactly(const dt_well *well, const dt_catalogue *catalogue, dt_options *out,
                                dt_refusal *refusal)
{
    const dt_pipe_choice choice = {.well = well, .catalogue = catalogue};
    const dt_search_way how = {.by_pressure = dt_pipe_choice_by_pressure(&choice), .exact = true};
    return dt_options_search_by(well, catalogue, how, out, refusal);
}

/** Liners are neither asked for nor ruled out. */
enum { MAY_HANG = -1 };

static size_t compare_with_everything(coded_well *c, const char *stock, size_t more, int must_hang)
{
    dt_catalogue catalogue;
    part_catalogue(&catalogue, stock);
    parts p;
    parts_open(&p, &c->well, &catalogue, 1000 * FT);
    front f = {0};
    long long programs = 0;
    dt_options o;
    dt_refusal refusal;
    c->well.wishes.given = true;
    c->well.wishes.max_strings = p.fewest + more;
    if (search_exactly(&c->well, &catalogue, &o, &refusal) != DT_OK)
        fail_msg("%s", told_refusal(&refusal));
    if (p.by_size &&
        o.tier != p.tier) { /* holes bear less than the plan's: nothing else is there */
        try_everything(&p, p.fewest + more, false, &f, &programs);
        assert_int_equal(f.count, 0);
        p.tier = o.tier;
    }
    if (p.by_size && o.latitude == DT_LADDER_ANY && p.pairs_only) {
        /* further than the plan: as long as it does not go, there is nothing */
        try_everything(&p, p.fewest + more, false, &f, &programs);
        assert_int_equal(f.count, 0);
        p.pairs_only = p.lengths = false;
    }
    try_everything(&p, p.fewest + more, stock == PART_STOCK, &f, &programs);
    bool hangs = false;
    size_t tied = 0, drilling = 0;
    for (size_t i = 0; i < o.count; ++i) {
        tied += o.items[i].tiebacks > 0;
        if (!in_front(&f, &o.items[i]))
            fail_msg("option %zu (%.2f, %.1f kg, %.4f days) is not in the brute-force front", i,
                     o.items[i].cost, o.items[i].steel_kg, o.items[i].days);
        for (size_t k = 0; k < o.items[i].count; ++k) {
            hangs = hangs || o.items[i].strings[k].type == DT_LINER;
            drilling += o.items[i].strings[k].tied_back && k + 1 < o.items[i].count;
        }
    }
    assert_int_equal(o.count, f.count);
    assert_true(f.count > (c->well.pin_count ? 0 : 1));
    /* rules of holes leave few of them */
    assert_true(programs > (c->well.pin_count || must_hang == MAY_HANG ? 1 : 100));
    if (must_hang != MAY_HANG) assert_int_equal(hangs, must_hang);
    print_message(
        "%zu options, %zu tied back (%zu drilling liners), of %lld programs on %zu sites%s\n",
        o.count, tied, drilling, programs, p.site_count,
        o.tier == DT_TIER_WANTED ? ", influx as wanted" : "");
    dt_options_free(&o);
    parts_close(&p);
    dt_catalogue_free(&catalogue);
    free(f.items);
    return tied;
}

/** Rows of a well, and the built-in basis with tables of its own. */
typedef struct own_rules {
    dt_kick_row kicks[2];
    dt_circulating_custom circulating[2];
    dt_open_hole_custom lengths[2];
    dt_basis basis;
} own_rules;

/** A swabbed kick of so many barrels in holes up to 9 in, and in larger ones. */
static void ask_kicks(coded_well *c, own_rules *rules, double small_bbl, double large_bbl)
{
    const double bbl = 0.158987294928;
    rules->kicks[0] = (dt_kick_row){.up_to_m = 9 * PART_IN,
                                    .least_m3 = small_bbl * bbl,
                                    .minimum_m3 = NAN,
                                    .pipe_od_m = 3.5 * PART_IN,
                                    .collar_od_m = 4.75 * PART_IN,
                                    .collar_m = 500 * FT};
    rules->kicks[1] = (dt_kick_row){.up_to_m = 60 * PART_IN,
                                    .least_m3 = large_bbl * bbl,
                                    .minimum_m3 = NAN,
                                    .pipe_od_m = 5 * PART_IN,
                                    .collar_od_m = 8 * PART_IN,
                                    .collar_m = 600 * FT};
    c->well.kick.given = true;
    c->well.kick.seat_volume_m3 = NAN;
    c->well.kick.rows = rules->kicks;
    c->well.kick.row_count = 2;
}

/** More barrels that these holes should bear, at an intensity. */
static void want_kicks(coded_well *c, own_rules *rules, double small_bbl, double large_bbl)
{
    const double bbl = 0.158987294928;
    rules->kicks[0].minimum_m3 = small_bbl * bbl;
    rules->kicks[1].minimum_m3 = large_bbl * bbl;
    c->well.kick.intensity_kgm3 = 0.2 * PPG;
}

/** Friction in holes up to 9 in alone, and open holes no longer than so many feet in both sizes. */
static void ask_tables(coded_well *c, own_rules *rules, double ecd_ppg, double small_ft,
                       double large_ft)
{
    rules->circulating[0] = (dt_circulating_custom){9 * PART_IN, ecd_ppg * PPG, 0};
    rules->circulating[1] = (dt_circulating_custom){60 * PART_IN, 0, 0};
    rules->lengths[0] = (dt_open_hole_custom){9 * PART_IN, small_ft * FT, 0};
    rules->lengths[1] = (dt_open_hole_custom){60 * PART_IN, large_ft * FT, 0};
    rules->basis = *dt_basis_built_in();
    rules->basis.tables[DT_TABLE_CIRCULATING].rows = rules->circulating;
    rules->basis.tables[DT_TABLE_CIRCULATING].count = 2;
    rules->basis.tables[DT_TABLE_OPEN_HOLES].rows = rules->lengths;
    rules->basis.tables[DT_TABLE_OPEN_HOLES].count = 2;
    c->well.basis = &rules->basis;
}

/**
 * The rules of holes, one by one and together: a least influx by size of hole, a diverter on the
 * conductor, pairs of hole and pipe, a last hole that stays open.
 */
static void agrees_under_rules_of_holes(void **state)
{
    (void)state;
    for (int which = 0; which < 2; ++which)
        for (int rule = 0; rule < 7; ++rule) {
            coded_well c;
            own_rules rules;
            part_well(&c, which);
            if (rule == 0 || rule == 4 || rule == 6) ask_kicks(&c, &rules, 3, 5);
            if (rule == 6) want_kicks(&c, &rules, 4, 6);
            if (rule == 1 || rule == 4) c.well.conductor.bop = false;
            if (rule == 2 || rule == 4) c.well.sizes.series = true;
            if (rule == 3) c.well.last_open = true;
            if (rule == 5) ask_tables(&c, &rules, 0.2, 4500, 6500);
            print_message("well %d, rule %d: ", which, rule);
            compare_with_everything(&c, rule == 2 ? SMALLER_STOCK : TIEBACK_STOCK, 0, MAY_HANG);
        }
}

/** Two wells with the same options, and searched in the same way or the other. Returns those tied
 * back. */
static size_t same_options(const dt_well *one, bool one_by_pressure, const dt_well *other,
                           bool other_by_pressure, const char *stock)
{
    dt_catalogue catalogue;
    dt_options a, b;
    dt_refusal refusal;
    size_t tied = 0;
    part_catalogue(&catalogue, stock);
    assert_int_equal(dt_options_search_by(one, &catalogue,
                                          (dt_search_way){.by_pressure = one_by_pressure}, &a,
                                          &refusal),
                     DT_OK);
    assert_int_equal(dt_options_search_by(other, &catalogue,
                                          (dt_search_way){.by_pressure = other_by_pressure}, &b,
                                          &refusal),
                     DT_OK);
    assert_int_equal(a.count, b.count);
    for (size_t i = 0; i < a.count; ++i) {
        assert_within(a.items[i].cost, b.items[i].cost, 0.005);
        assert_within(a.items[i].steel_kg, b.items[i].steel_kg, 0.05);
        assert_within(a.items[i].days, b.items[i].days, 1e-9);
        assert_int_equal(a.items[i].tiebacks, b.items[i].tiebacks);
        tied += a.items[i].tiebacks > 0;
    }
    dt_options_free(&a);
    dt_options_free(&b);
    dt_catalogue_free(&catalogue);
    return tied;
}

/** Vertical to 2,000 ft, built to 40 degrees at 6,000 ft MD and held: bending and longer pipe. */
static void deviate(coded_well *c)
{
    static dt_station stations[] = {{0, 0, 0, 0},
                                    {2000 * FT, 0, 0, 0},
                                    {6000 * FT, 0.698, 0.5, 0},
                                    {25000 * FT, 0.698, 0.5, 0}};
    c->well.stations = stations;
    c->well.station_count = 4;
}

/** One search sums up what is below a string in one pressure, the other in the whole chain of
 * shoes: the same options, in a deviated well too. */
static void both_sums_of_what_is_below_agree(void **state)
{
    (void)state;
    size_t tied = 0;
    for (int which = 0; which < 2; ++which)
        for (size_t more = 0; more < 2; ++more)
            for (int deviated = 0; deviated < 2; ++deviated) {
                coded_well c;
                part_well(&c, which);
                if (more) part_cheap_hanging(&c.well);
                if (deviated) deviate(&c);
                c.well.wishes.given = true;
                c.well.wishes.max_strings = 3 + more;
                tied +=
                    same_options(&c.well, true, &c.well, false, more ? TIEBACK_STOCK : PART_STOCK);
            }
    assert_true(tied > 0);
}

/** Heat that warms nothing, and yield strength derated by nothing, change nothing: but they are
 * searched with the chain of shoes and its bounds for warm strings. */
static void heat_that_warms_nothing_changes_nothing(void **state)
{
    (void)state;
    static dt_temperature_point points[] = {{.tvd_m = 0, .celsius = 15},
                                            {.tvd_m = 20000 * FT, .celsius = 15}};
    static dt_derating_point deratings[] = {{.celsius = 15, .fraction = 1},
                                            {.celsius = 200, .fraction = 1}};
    for (int which = 0; which < 2; ++which) {
        coded_well plain, warm;
        part_well(&plain, which);
        plain.well.wishes.given = true;
        plain.well.wishes.max_strings = 4;
        warm = plain;
        warm.well.pore.points = warm.pore;
        warm.well.fracture.points = warm.fracture;
        warm.well.thermal = (dt_thermal){points, 2, 0, deratings, 2, 0, 0};
        same_options(&plain.well, true, &warm.well, false, PART_STOCK);
    }
}

/** 16,000 ft that one mud drills from any shoe: too many sections 50 ft apart. The step becomes
 * 100 ft, and the options those of a well that asks for 100 ft. */
static void a_widened_step_is_one_that_could_be_asked_for(void **state)
{
    (void)state;
    coded_well own, asked;
    part_well(&own, 0);
    own.well.pore.count = own.well.fracture.count = 0;
    own.well.objective_m = 16000 * FT;
    coded_pore(&own, 0, 9);
    coded_pore(&own, 16000, 9);
    coded_fracture(&own, 0, 14);
    coded_fracture(&own, 16000, 14);
    own.well.seats.round_to_m = NAN;
    own.well.seats.liners = false;
    own.well.fresh_water_m = 2000 * FT; /* asks for a surface string */
    own.well.fresh_water_cover_m = 0;
    own.well.wishes.given = true;
    own.well.wishes.max_strings = 3;
    asked = own;
    asked.well.pore.points = asked.pore;
    asked.well.fracture.points = asked.fracture;
    asked.well.seats.round_to_m = 100 * FT;
    same_options(&own.well, true, &asked.well, true, SMALLER_STOCK);
    dt_catalogue catalogue;
    dt_options o;
    dt_refusal refusal;
    part_catalogue(&catalogue, SMALLER_STOCK);
    const dt_well *wells[] = {&own.well, &asked.well};
    for (size_t i = 0; i < 2; ++i) {
        assert_int_equal(dt_options_search(wells[i], &catalogue, &o, &refusal), DT_OK);
        assert_within(o.seat_step_m / FT, 100, 1e-9);
        assert_int_equal(o.step_widened, i == 0);
        assert_true(o.section_count < 40000);
        dt_options_free(&o);
    }
    dt_catalogue_free(&catalogue);
}

/** A search that takes more work than it may begins again with candidates further apart, says so,
 * and finds nothing that is better than what all of them give. */
static void a_search_that_takes_long_looks_less_closely(void **state)
{
    (void)state;
    coded_well c;
    dt_catalogue catalogue;
    dt_options full, wide;
    dt_refusal refusal;
    part_well(&c, 0);
    c.well.seats.round_to_m = NAN;
    c.well.wishes.given = true;
    c.well.wishes.max_strings = 4;
    part_catalogue(&catalogue, PART_STOCK);
    dt_search_way how = {.by_pressure = true};
    assert_int_equal(dt_options_search_by(&c.well, &catalogue, how, &full, &refusal), DT_OK);
    how.most_work = 200;
    assert_int_equal(dt_options_search_by(&c.well, &catalogue, how, &wide, &refusal), DT_OK);
    assert_false(full.step_widened);
    assert_true(wide.step_widened);
    assert_within(fmod(wide.seat_step_m / full.seat_step_m, 2), 0, 1e-9);
    assert_true(wide.section_count < full.section_count);
    for (size_t i = 0; i < wide.count; ++i) {
        bool matched = false;
        for (size_t k = 0; k < full.count && !matched; ++k)
            matched = dt_option_at_least(&full.items[k], &wide.items[i]);
        assert_true(matched);
    }
    dt_options_free(&full);
    dt_options_free(&wide);
    dt_catalogue_free(&catalogue);
}

/** Seventy points on the straight lines of a well say nothing new; they are too many to be
 * candidate depths, and leave the options as they were. */
static void points_on_a_line_change_nothing(void **state)
{
    (void)state;
    static dt_curve_point many[80];
    coded_well plain, dotted;
    part_well(&plain, 0);
    plain.well.wishes.given = true;
    plain.well.wishes.max_strings = 3;
    dotted = plain;
    dotted.well.fracture.points = dotted.fracture;
    dotted.well.pore.points = many;
    dotted.well.pore.count = 0;
    for (size_t i = 0; i + 1 < plain.well.pore.count; ++i) {
        const dt_curve_point *a = &plain.pore[i], *b = a + 1;
        for (int k = 0; k < 23; ++k) {
            dt_curve_point *p = &many[dotted.well.pore.count++];
            *p = *a;
            p->tvd_m += k * (b->tvd_m - a->tvd_m) / 23;
            p->emw_kgm3 += k * (b->emw_kgm3 - a->emw_kgm3) / 23;
        }
    }
    many[dotted.well.pore.count++] = plain.pore[plain.well.pore.count - 1];
    for (int w = 0; w < 2; ++w) {
        dt_catalogue catalogue;
        dt_options o;
        dt_refusal refusal;
        part_catalogue(&catalogue, SMALLER_STOCK);
        assert_int_equal(
            dt_options_search(w ? &dotted.well : &plain.well, &catalogue, &o, &refusal), DT_OK);
        assert_int_equal(o.bends_left_out, w);
        dt_options_free(&o);
        dt_catalogue_free(&catalogue);
    }
    same_options(&plain.well, true, &dotted.well, true, PART_STOCK);
}

static void finds_all_that_trying_everything_finds(void **state)
{
    (void)state;
    for (int which = 0; which < 2; ++which) {
        coded_well c;
        part_well(&c, which);
        compare_with_everything(&c, PART_STOCK, 0, true);
        part_well(&c, which);
        c.well.seats.liners = false;
        compare_with_everything(&c, PART_STOCK, 0, false);
        part_well(&c, which);
        c.well.prices_given = false;
        compare_with_everything(&c, PART_STOCK, 0, true);
    }
}

static const char SMALL_STOCK[] = "od_in,weight_lbft,grade\n"
                                  "20,94,J55\n"
                                  "13.375,68,L80\n13.375,72,P110\n"
                                  "9.625,47,L80\n9.625,53.5,P110\n"
                                  "7,29,P110\n7,35,P110\n"
                                  "5,18,P110\n5,21.4,Q125\n";

/** Candidates 50 ft apart hold those 1,000 ft apart, and never lose their optimum; under loads
 * that need the whole chain of shoes they make hundreds of kinds of chains. */
static void a_finer_step_never_loses_an_optimum(void **state)
{
    (void)state;
    double best[2];
    for (int fine = 0; fine < 2; ++fine) {
        coded_well c;
        part_well(&c, 1);
        c.well.loads.given = true;
        c.well.loads.evacuation = DT_EVACUATION_LOST_RETURNS;
        c.well.loads.burst_outside = DT_OUTSIDE_MUD;
        c.well.liner_test = (dt_liner_test){true, DT_LINER_TEST_FRACTURE, NAN, NAN, NAN, 0};
        c.well.seats.round_to_m = (fine ? 50 : 1000) * FT;
        c.well.wishes.given = true;
        c.well.wishes.max_strings = 4;
        dt_catalogue catalogue;
        dt_options o;
        dt_refusal refusal;
        part_catalogue(&catalogue, SMALL_STOCK);
        assert_int_equal(dt_options_search(&c.well, &catalogue, &o, &refusal), DT_OK);
        best[fine] = o.items[0].cost;
        dt_options_free(&o);
        dt_catalogue_free(&catalogue);
    }
    assert_true(best[1] <= best[0] + 0.005);
}

/** Invented hangers, so tight that they change the options. */
static void hang_tight(coded_well *c)
{
    static dt_hanger list[6];
    const double klbf = 1000 * DT_N_PER_LBF, lbft = DT_KGM_PER_LBFT;
    list[0] = (dt_hanger){9.625 * PART_IN, 13.375 * PART_IN, NAN, 70 * lbft,
                          180 * klbf,      8.5 * PART_IN,    NAN, 0};
    list[1] = (dt_hanger){7 * PART_IN, 9.625 * PART_IN, NAN, NAN, 105 * klbf, 6 * PART_IN, NAN, 0};
    list[2] = (dt_hanger){7 * PART_IN, 9.625 * PART_IN, 47 * lbft, 47 * lbft,
                          140 * klbf,  6.125 * PART_IN, NAN,       0};
    list[3] = (dt_hanger){5 * PART_IN, 7 * PART_IN, 28 * lbft, NAN, 70 * klbf, 4 * PART_IN, NAN, 0};
    list[4] = (dt_hanger){5 * PART_IN, 9.625 * PART_IN, NAN, NAN, 95 * klbf, 4 * PART_IN, NAN, 0};
    list[5] = (dt_hanger){7 * PART_IN, 10.75 * PART_IN, NAN, NAN, 110 * klbf, 6 * PART_IN, NAN, 0};
    c->well.hangers = (dt_hangers){list, 6, NAN, 0};
}

/** The same options with the loads that follow from a liner's test, and with hangers. */
static void finds_them_under_hangers_and_tests(void **state)
{
    (void)state;
    for (int which = 0; which < 2; ++which) {
        coded_well c;
        part_well(&c, which);
        hang_tight(&c);
        compare_with_everything(&c, PART_STOCK, 0, true);
        part_well(&c, which);
        hang_tight(&c);
        compare_with_everything(&c, SMALL_STOCK, 1, true);
        part_well(&c, which);
        c.well.liner_test = (dt_liner_test){true, DT_LINER_TEST_FRACTURE, NAN, NAN, NAN, 0};
        compare_with_everything(&c, PART_STOCK, 0, true);
        part_well(&c, which);
        hang_tight(&c);
        c.well.liner_test =
            (dt_liner_test){true, DT_LINER_TEST_PRESSURE, 3000 * PSI, NAN, 8.5 * PPG, 0};
        compare_with_everything(&c, SMALL_STOCK, 1, true);
    }
}

/** Lost returns in place of an empty string. */
static void lose_returns(dt_load_wishes *loads)
{
    loads->given = true;
    loads->evacuation = DT_EVACUATION_LOST_RETURNS;
}

/** Loads that no one pressure sums up: whole chains of shoes, compared by what they ask. */
static void finds_them_under_other_loads(void **state)
{
    (void)state;
    static char salt[] = "salt";
    for (int loads = 0; loads < 6; ++loads)
        for (int which = 0; which < 2; ++which) {
            coded_well c;
            part_well(&c, which);
            dt_load_wishes *w = &c.well.loads;
            lose_returns(w);
            if (loads == 4) w->evacuation = DT_EVACUATION_FULL;
            if (loads == 1) w->kick = DT_KICK_FRACTURE;
            if (loads == 2) w->kick = DT_KICK_INFLUX;
            w->influx_m3 = loads == 2 ? 6 : NAN;
            w->drill_pipe_m = loads == 2 ? 5 * PART_IN : NAN;
            if (loads == 3) w->burst_outside = DT_OUTSIDE_MUD;
            if (loads == 3) w->packer_fluid_kgm3 = 9 * PPG;
            if (loads >= 4) coded_interval(&c, 3000, 3600, DT_CASE_OFF, 3000);
            if (loads >= 4) c.well.intervals[0].kind = salt;
            if (loads == 5) w->running = DT_RUNNING_SHOCK;
            compare_with_everything(&c, SMALL_STOCK, loads < 3, true);
        }
    for (int loads = 0; loads < 4; ++loads) { /* each string by its role */
        coded_well c;
        part_well(&c, loads % 2);
        dt_load_wishes *w = &c.well.loads;
        lose_returns(w);
        w->evacuation = DT_EVACUATION_BY_ROLE;
        w->kick = DT_KICK_BY_ROLE;
        w->packer_fluid_kgm3 = NAN;
        w->influx_m3 = loads >= 2 ? 6 : NAN;
        w->drill_pipe_m = loads >= 2 ? 5 * PART_IN : NAN;
        compare_with_everything(&c, SMALL_STOCK, loads < 2, true);
    }
    coded_well c; /* no string of it can be a liner */
    part_well(&c, 1);
    lose_returns(&c.well.loads);
    c.well.seats.liners = false;
    compare_with_everything(&c, SMALL_STOCK, 1, false);
}

/** Under weaker rock mud may be lighter and be lost less deep: what liners leave above then bends.
 */
static void finds_them_over_weaker_rock(void **state)
{
    (void)state;
    for (int deepest = 0; deepest < 3; ++deepest) {
        coded_well c;
        part_well(&c, 1);
        lose_returns(&c.well.loads);
        /* a liner's hole to 6,000 ft in 12.4 ppg falls to 6,000 (1 - 11.33/12.4) = 516 ft, the
         * one below in 11.73 ppg to 547, 500 or 467 ft: in the latter two less of it is left at
         * the shoe above, between 1,727 and 2,024 ft */
        c.pore[1].emw_kgm3 = 12 * PPG;
        c.pore[2].emw_kgm3 = 11 * PPG;
        c.pore[3].emw_kgm3 = (11.15 + 0.05 * deepest) * PPG;
        coded_interval(&c, 5000, 6000, DT_CASE_OFF, 1500);
        compare_with_everything(&c, SMALL_STOCK, 2, true);
    }
}

/** What stands outside in burst bounds what gas can ask of the string above a liner: with four
 * strings the bound cuts, and nothing may be lost by it. */
static void finds_them_whatever_stands_outside(void **state)
{
    (void)state;
    static const char stock[] = "od_in,weight_lbft,grade\n20,94,J55\n13.375,68,L80\n"
                                "13.375,72,P110\n9.625,40,L80\n9.625,47,P110\n"
                                "7,26,L80\n7,32,P110\n5,18,P110\n";
    const dt_outside outsides[] = {DT_OUTSIDE_MIX_WATER, DT_OUTSIDE_MUD, DT_OUTSIDE_PORE};
    for (size_t i = 0; i < sizeof outsides / sizeof *outsides; ++i)
        for (int which = 0; which < 2; ++which) {
            coded_well c;
            part_well(&c, which);
            c.well.design.given = true; /* so that what stands outside tells */
            c.well.design.burst = which ? 1.25 : 1.85;
            c.well.loads.given = true;
            c.well.loads.burst_outside = outsides[i];
            compare_with_everything(&c, stock, 1, true);
        }
}

/** Drilling liners tied back too, and the test of a liner that the string above sees before its
 * tie-back is run. */
static void finds_tied_drilling_liners_and_their_tests(void **state)
{
    (void)state;
    static const char stock[] = "od_in,weight_lbft,grade\n20,94,J55\n13.375,68,L80\n"
                                "9.625,43.5,P110\n9.625,47,Q125\n7,35,P110\n";
    size_t tied = 0;
    for (int tested = 0; tested < 3; ++tested) {
        coded_well c;
        part_well(&c, 1);
        part_cheap_hanging(&c.well);
        c.pore[c.well.pore.count - 1].emw_kgm3 = 15 * PPG; /* a deep shoe above the objective */
        if (tested)
            c.well.liner_test = (dt_liner_test){true, DT_LINER_TEST_FRACTURE, NAN, NAN, NAN, 0};
        if (tested == 2) lose_returns(&c.well.loads);
        tied += compare_with_everything(&c, stock, 2, true);
    }
    assert_in_range(tied, 2, 3); /* one each, and where returns are lost none or one */
}

/** What all options cost together: a set of options in one number. */
static double cost_of_all(const dt_well *well)
{
    dt_catalogue catalogue;
    part_catalogue(&catalogue, SMALL_STOCK);
    dt_options o;
    dt_refusal refusal;
    double sum = 0;
    assert_int_equal(dt_options_search(well, &catalogue, &o, &refusal), DT_OK);
    for (size_t i = 0; i < o.count; ++i)
        sum += o.items[i].cost;
    dt_options_free(&o);
    dt_catalogue_free(&catalogue);
    return sum;
}

/** Hangers and the liner's test are no ornament here: each alone changes the options. */
static void hangers_and_tests_bind(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 1);
    c.well.wishes.given = true;
    c.well.wishes.max_strings = 4;
    const double before = cost_of_all(&c.well);
    hang_tight(&c);
    assert_true(fabs(cost_of_all(&c.well) - before) > 1);
    c.well.hangers = (dt_hangers){0};
    assert_within(cost_of_all(&c.well), before, 0.005);
    c.well.liner_test = (dt_liner_test){true, DT_LINER_TEST_PRESSURE, 6000 * PSI, NAN, NAN, 0};
    assert_true(fabs(cost_of_all(&c.well) - before) > 1);
}

static void finds_them_with_one_string_more(void **state)
{
    (void)state;
    for (int which = 0; which < 2; ++which) {
        coded_well c;
        part_well(&c, which);
        compare_with_everything(&c, SMALL_STOCK, 1, true);
    }
}

/** Where hangers, heads and the rig cost next to nothing, lighter pipe pays for a tie-back. */
static void finds_the_tiebacks_that_trying_everything_finds(void **state)
{
    (void)state;
    size_t tied = 0;
    for (int which = 0; which < 2; ++which) {
        coded_well c;
        part_well(&c, which);
        part_cheap_hanging(&c.well);
        tied += compare_with_everything(&c, TIEBACK_STOCK, 1, true);
        part_well(&c, which);
        part_cheap_hanging(&c.well);
        c.well.wishes.no_tiebacks = true;
        assert_int_equal(compare_with_everything(&c, TIEBACK_STOCK, 1, true), 0);
    }
    assert_true(tied > 3);
}

/* ---- against the plan ---- */

/** Every kind of option of every shipped well, planned again from its pins, costs what the search
 * said, holds its loads and breaks no rule. */
static void options_are_programs(void **state)
{
    (void)state;
    static shipped wells[MOST_SHIPPED];
    size_t count = shipped_wells(wells), kinds = 0, tied = 0;
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    for (size_t i = 0; i < count; ++i) {
        dt_well *well = shipped_parse(wells[i].path);
        dt_options o;
        dt_refusal refusal;
        dt_status status = dt_options_search(well, &catalogue, &o, &refusal);
        dt_refusal_free(&refusal);
        for (size_t s = 0; status == DT_OK && s < o.structure_count; ++s) {
            const dt_option *option = &o.items[o.structures[s].best];
            static dt_option_plan plan;
            dt_option again;
            assert_int_equal(dt_option_plan_make(well, &catalogue, option, false, &plan), DT_OK);
            assert_int_equal(dt_option_of_program(plan.program, &again), DT_OK);
            assert_within(again.cost, option->cost, 0.005);
            assert_within(again.steel_kg, option->steel_kg, 0.05);
            assert_within(again.days, option->days, 1e-7);
            assert_int_equal(again.spares, option->spares);
            assert_int_equal(plan.program->seats.broken_count, 0);
            for (size_t k = 0; k < plan.program->count; ++k)
                assert_false(plan.program->strings.items[k].pinned_pipe_fails);
            dt_option_plan_free(&plan);
            ++kinds;
            tied += option->tiebacks > 0;
        }
        if (status == DT_OK) dt_options_free(&o);
        dt_well_free(well);
    }
    print_message("%zu kinds, %zu tied back\n", kinds, tied);
    assert_true(kinds >= 8 && tied > 0);
    dt_catalogue_free(&catalogue);
}

static void no_option_dominates_another(void **state)
{
    (void)state;
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    dt_well *well = shipped_parse(DT_WELLS "/mizzenlow-shelf.xml");
    dt_options o;
    dt_refusal refusal;
    assert_int_equal(dt_options_search(well, &catalogue, &o, &refusal), DT_OK);
    for (size_t i = 0; i < o.count; ++i)
        for (size_t k = 0; k < o.count; ++k)
            assert_false(dt_option_dominates(&o.items[i], &o.items[k]));
    dt_options_free(&o);
    dt_well_free(well);
    dt_catalogue_free(&catalogue);
}

/* ---- what must hold of an optimum ---- */

static double least_cost(const dt_well *well, const char *stock)
{
    dt_catalogue catalogue;
    part_catalogue(&catalogue, stock);
    dt_options o;
    dt_refusal refusal;
    dt_status status = dt_options_search(well, &catalogue, &o, &refusal);
    double least = status == DT_OK ? o.items[0].cost : INFINITY;
    if (status == DT_OK) dt_options_free(&o);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    return least;
}

static void cheaper_pipe_never_raises_the_optimum(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 1);
    double before = least_cost(&c.well, PART_STOCK);
    assert_true(isfinite(before));
    for (size_t i = 0; i < c.well.prices.pipe_count; ++i) {
        part_well(&c, 1);
        c.well.prices.pipes[i].per_kg *= 0.8;
        assert_true(least_cost(&c.well, PART_STOCK) <= before);
    }
    part_well(&c, 1);
    for (size_t i = 0; i < c.well.prices.pipe_count; ++i)
        c.well.prices.pipes[i].per_kg *= 0.8;
    assert_true(least_cost(&c.well, PART_STOCK) < before);
    part_well(&c, 1);
}

static void a_removed_size_never_lowers_it(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 1);
    double before = least_cost(&c.well, PART_STOCK);
    static const double sizes[] = {20, 13.375, 10.75, 9.625, 7, 5};
    size_t raised = 0;
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; ++i) {
        dt_forbidden forbidden = {sizes[i] * PART_IN, 1};
        part_well(&c, 1);
        c.well.wishes.given = true;
        c.well.wishes.forbidden = &forbidden;
        c.well.wishes.forbidden_count = 1;
        double after = least_cost(&c.well, PART_STOCK);
        assert_true(after >= before);
        raised += after > before;
    }
    assert_true(raised > 0);
}

static void a_longer_limit_never_loses_an_optimum(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 0);
    c.well.wishes.given = true;
    double last = INFINITY;
    for (size_t n = 3; n <= 5; ++n) {
        c.well.wishes.max_strings = n;
        double now = least_cost(&c.well, PART_STOCK);
        assert_true(now <= last);
        last = now;
    }
}

/* ---- wishes ---- */

static void refused(const dt_well *well, const char *const *said, const char *const *unsaid)
{
    dt_catalogue catalogue;
    part_catalogue(&catalogue, PART_STOCK);
    dt_options o;
    dt_refusal refusal;
    assert_int_equal(dt_options_search(well, &catalogue, &o, &refusal), DT_E_NONE);
    assert_non_null(told_refusal(&refusal));
    for (; *said; ++said)
        if (!strstr(told_refusal(&refusal), *said))
            fail_msg("\"%s\" not in: %s", *said, told_refusal(&refusal));
    for (; *unsaid; ++unsaid)
        if (strstr(told_refusal(&refusal), *unsaid))
            fail_msg("\"%s\" in: %s", *unsaid, told_refusal(&refusal));
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
}

static void colliding_wishes_are_named_and_no_others(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 1);
    dt_wishes *w = &c.well.wishes;
    w->given = true;
    w->line = 7;
    w->rig_hookload_n = 100e3 * DT_N_PER_LBF; /* overpull alone takes as much */
    w->bop_bore_m = 30 * PART_IN;
    refused(&c.well, (const char *[]){"rig_hookload", "line 7", "this limit", NULL},
            (const char *[]){"bop_bore", NULL});

    part_well(&c, 1);
    /* neither 7 in nor 5 in, one alone will do no harm */
    static dt_forbidden forbidden[] = {
        {5 * PART_IN, 8}, {7 * PART_IN, 9}, {10.75 * PART_IN, 10}, {9.625 * PART_IN, 11}};
    c.well.min_pipe_od_m = 5 * PART_IN;
    w->given = true;
    w->line = 7;
    w->max_strings = 4;
    w->forbidden = forbidden;
    w->forbidden_count = 4;
    dt_catalogue catalogue;
    part_catalogue(&catalogue, PART_STOCK);
    dt_options o;
    dt_refusal refusal;
    assert_int_equal(dt_options_search(&c.well, &catalogue, &o, &refusal), DT_E_NONE);
    assert_non_null(strstr(told_refusal(&refusal), "these limits together"));
    assert_non_null(strstr(told_refusal(&refusal), "Without any one of them there is a program"));
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
}

/** The lines that a refusal names as forbidden sizes. */
static size_t named_lines(const char *text, int lines[64])
{
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, "forbid od=")) != NULL; ++at) {
        assert_true(count < 64);
        assert_int_equal(
            sscanf(strstr(at, "(well file line"), "(well file line %d)", &lines[count++]), 1);
    }
    return count;
}

static dt_status options_of(dt_well *well, const dt_forbidden *forbidden, size_t count,
                            dt_refusal *refusal)
{
    dt_catalogue catalogue;
    dt_options o;
    part_catalogue(&catalogue, PART_STOCK);
    well->wishes.given = true;
    well->wishes.forbidden = (dt_forbidden *)forbidden;
    well->wishes.forbidden_count = count;
    *refusal = (dt_refusal){0};
    dt_status status = dt_options_search(well, &catalogue, &o, refusal);
    if (status == DT_OK) dt_options_free(&o);
    dt_catalogue_free(&catalogue);
    return status;
}

/* Any number of forbidden sizes, some twice, most not in stock: the ones named leave nothing by
 * themselves, and without any one of them there is a program. All sizes
 * of the stock below the conductor's are forbidden. */
static void many_forbidden_sizes(void **state)
{
    (void)state;
    enum { MOST = 400 };
    static dt_forbidden all[MOST];
    static const double stock[] = {13.375, 10.75, 9.625, 7, 5};
    for (size_t count = 14; count <= MOST; count += count < 30 ? 1 : 185) {
        coded_well c;
        part_well(&c, 1);
        for (size_t i = 0; i < count; ++i) /* the five sizes spread over the rows, twice each */
            all[i] = (dt_forbidden){(i % 3 ? stock[i / 3 % 5] : 40 + 0.01 * (double)i) * PART_IN,
                                    (int)i + 100};
        dt_refusal refusal;
        assert_int_equal(options_of(&c.well, all, count, &refusal), DT_E_NONE);
        int lines[64];
        const size_t named = named_lines(told_refusal(&refusal), lines);
        if (named == 0) fail_msg("%zu rows: %s", count, told_refusal(&refusal));
        dt_refusal_free(&refusal);
        for (size_t without = 0; without <= named; ++without) { /* the last round: all */
            dt_forbidden kept[64];
            size_t left = 0;
            for (size_t i = 0; i < named; ++i)
                if (i != without) kept[left++] = all[lines[i] - 100];
            assert_int_equal(options_of(&c.well, kept, left, &refusal),
                             without < named ? DT_OK : DT_E_NONE);
            dt_refusal_free(&refusal);
        }
    }
}

/* One wish at a time that leaves nothing: a well of three strings with two, a bit of the last
 * string that passes no BOP or wellhead of 4 in. Without wishes: the plan's own refusal. */
static void each_wish_that_leaves_nothing(void **state)
{
    (void)state;
    coded_well c;
    dt_wishes *w = &c.well.wishes;
    part_well(&c, 1);
    w->given = true;
    w->line = 7;
    w->max_strings = 2;
    refused(&c.well, (const char *[]){"max_strings=\"2\" (well file line 7)", NULL},
            (const char *[]){"bore", "hookload", NULL});
    part_well(&c, 1);
    w->given = true;
    w->line = 7;
    w->bop_bore_m = 4 * PART_IN;
    w->wellhead_bore_m = 20 * PART_IN;
    refused(&c.well, (const char *[]){"bop_bore=\"4.000 in\"", NULL},
            (const char *[]){"wellhead_bore", NULL});
    part_well(&c, 1);
    w->given = true;
    w->line = 7;
    w->bop_bore_m = 20 * PART_IN;
    w->wellhead_bore_m = 4 * PART_IN;
    refused(&c.well, (const char *[]){"wellhead_bore=\"4.000 in\"", NULL},
            (const char *[]){"bop_bore", NULL});
    part_well(&c, 1);
    c.well.min_pipe_od_m = 19 * PART_IN; /* as wide as what must go round it */
    refused(&c.well, (const char *[]){"No program exists", NULL}, (const char *[]){"wish", NULL});
}

static void wishes_hold_in_every_option(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 1);
    dt_forbidden forbidden = {10.75 * PART_IN, 1};
    dt_wishes *w = &c.well.wishes;
    w->given = true;
    w->forbidden = &forbidden;
    w->forbidden_count = 1;
    w->bop_bore_m = 13.625 * PART_IN;
    w->max_strings = 5;
    dt_catalogue catalogue;
    part_catalogue(&catalogue, PART_STOCK);
    dt_options o;
    dt_refusal refusal;
    assert_int_equal(dt_options_search(&c.well, &catalogue, &o, &refusal), DT_OK);
    for (size_t i = 0; i < o.count; ++i) {
        assert_true(o.items[i].count <= 5);
        for (size_t k = 0; k < o.items[i].count; ++k) {
            const dt_choice *s = &o.items[i].strings[k];
            assert_true(fabs(s->pipe->od_m - forbidden.od_m) > PART_SAME);
            if (k >= 2) assert_true(s->bit_m <= w->bop_bore_m + PART_SAME);
        }
    }
    dt_options_free(&o);
    dt_catalogue_free(&catalogue);
}

/* ---- pins ---- */

static void pins_stay_in_every_option(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 1);
    coded_pin(&c, DT_INTERMEDIATE, 6000);
    c.pins[0].od_m = 9.625 * PART_IN;
    c.pins[0].type = DT_FULL;
    dt_catalogue catalogue;
    part_catalogue(&catalogue, PART_STOCK);
    dt_options o;
    dt_refusal refusal;
    assert_int_equal(dt_options_search(&c.well, &catalogue, &o, &refusal), DT_OK);
    for (size_t i = 0; i < o.count; ++i) {
        bool found = false;
        for (size_t k = 0; k < o.items[i].count; ++k) {
            const dt_choice *s = &o.items[i].strings[k];
            found = found || (s->type == DT_FULL && fabs(s->shoe_m - 6000 * FT) < 1e-6 &&
                              fabs(s->pipe->od_m - 9.625 * PART_IN) < PART_SAME);
        }
        assert_true(found);
    }
    dt_options_free(&o);
    dt_catalogue_free(&catalogue);
}

/** Pins that leave some of the pipe free: the same options as from trying all that they allow. */
static void finds_what_pins_leave(void **state)
{
    (void)state;
    static char p110[] = "P110", q125[] = "Q125", ltc[] = "LTC";
    enum {
        WEIGHT,
        GRADE,
        THREAD,
        SURFACE,
        FULL,
        WORN,
        LINER,
        TIE_WEIGHT,
        TIE_GRADE,
        TIE_WORN,
        PINNED
    };
    size_t tied = 0;
    for (int pinned = 0; pinned < PINNED; ++pinned) {
        coded_well c;
        part_well(&c, 1);
        const bool tie = pinned >= TIE_WEIGHT;
        if (tie) part_cheap_hanging(&c.well);
        coded_pin(&c, pinned == SURFACE || pinned == WORN ? DT_SURFACE : DT_PRODUCTION, NAN);
        if (pinned == WEIGHT) c.pins[0].weight_kgm = 35 * DT_KGM_PER_LBFT;
        if (pinned == GRADE) c.pins[0].grade = p110;
        if (pinned == THREAD) c.pins[0].thread = ltc;
        if (pinned == SURFACE) c.pins[0].od_m = 9.625 * PART_IN;
        if (pinned == SURFACE) c.pins[0].grade = p110;
        if (pinned == FULL) c.pins[0].type = DT_FULL;
        if (pinned >= LINER) c.pins[0].type = DT_LINER;
        if (tie) coded_pin(&c, DT_PRODUCTION, NAN);
        c.pins[1].type = DT_TIEBACK;
        if (pinned == TIE_WEIGHT) c.pins[1].weight_kgm = 29 * DT_KGM_PER_LBFT;
        if (pinned == WORN) c.pins[0].wear_m = 0.002;
        if (pinned == TIE_WORN) c.pins[1].wear_m = 0.001;
        if (pinned == TIE_GRADE) c.pins[1].grade = q125;
        size_t found =
            compare_with_everything(&c, tie ? TIEBACK_STOCK : PART_STOCK, tie, pinned != FULL);
        if (tie) tied += found;
    }
    assert_true(tied > 0);
}

/** Pipe pinned in full stays though it fails, with no load asked of it; all else holds. */
static void pipe_pinned_in_full_is_not_judged(void **state)
{
    (void)state;
    static char grade[] = "J55";
    coded_well c;
    part_well(&c, 1);
    coded_pin(&c, DT_SURFACE, NAN);
    c.pins[0].od_m = 13.375 * PART_IN;
    c.pins[0].weight_kgm = 54.5 * DT_KGM_PER_LBFT;
    c.pins[0].grade = grade;
    dt_catalogue catalogue;
    part_catalogue(&catalogue, PART_STOCK);
    dt_options o;
    dt_refusal refusal;
    assert_int_equal(dt_options_search(&c.well, &catalogue, &o, &refusal), DT_OK);
    size_t failing = 0;
    assert_true(o.count > 0);
    for (size_t i = 0; i < o.count; ++i) {
        const dt_choice *surface = &o.items[i].strings[1];
        assert_within(surface->pipe->weight_kgm / DT_KGM_PER_LBFT, 54.5, 1e-6);
        assert_string_equal(surface->pipe->grade->name, "J55");
        dt_option_plan plan;
        assert_int_equal(dt_option_plan_make(&c.well, &catalogue, &o.items[i], false, &plan),
                         DT_OK);
        for (size_t k = 0; k < plan.program->count; ++k) {
            const bool ok = plan.program->items[k].string->sections[0].screen.ok;
            failing += k == 1 && !ok;
            if (k != 1) assert_true(ok);
        }
        dt_option_plan_free(&plan);
    }
    assert_true(failing > 0);
    dt_options_free(&o);
    dt_catalogue_free(&catalogue);
}

/** A pinned tie-back stays whatever it costs, in its grade, and wishes for none do not touch it. */
static void a_pinned_tieback_stays(void **state)
{
    (void)state;
    coded_well c;
    part_well(&c, 1);
    coded_pin(&c, DT_PRODUCTION, NAN);
    coded_pin(&c, DT_PRODUCTION, NAN);
    static char grade[] = "P110";
    c.pins[0].type = DT_LINER;
    c.pins[1].type = DT_TIEBACK;
    c.pins[1].grade = grade;
    c.well.wishes.given = c.well.wishes.no_tiebacks = true;
    dt_catalogue catalogue;
    part_catalogue(&catalogue, PART_STOCK);
    dt_options o;
    dt_refusal refusal;
    assert_int_equal(dt_options_search(&c.well, &catalogue, &o, &refusal), DT_OK);
    assert_true(o.count > 0);
    for (size_t i = 0; i < o.count; ++i) {
        const dt_choice *last = &o.items[i].strings[o.items[i].count - 1];
        assert_int_equal(o.items[i].tiebacks, 1);
        assert_true(last->type == DT_LINER && last->tied_back);
        assert_string_equal(last->tie_pipe->grade->name, "P110");
    }
    assert_int_equal(o.fewest_strings, o.items[0].count + 1);
    dt_options_free(&o);
    dt_catalogue_free(&catalogue);
}

/** What only a tie-back makes possible collides with the wish for none. */
static void a_wish_for_no_tiebacks_can_collide(void **state)
{
    (void)state;
    bool named = false;
    for (double klbf = 150; klbf < 500 && !named; klbf += 5) {
        coded_well c;
        part_well(&c, 1);
        c.well.wishes.given = true;
        c.well.wishes.line = 7;
        c.well.wishes.rig_hookload_n = klbf * 1e3 * DT_N_PER_LBF;
        dt_catalogue catalogue;
        part_catalogue(&catalogue, TIEBACK_STOCK);
        dt_options o;
        dt_refusal refusal;
        bool with = dt_options_search(&c.well, &catalogue, &o, &refusal) == DT_OK;
        if (with) dt_options_free(&o);
        dt_refusal_free(&refusal);
        c.well.wishes.no_tiebacks = true;
        bool without = dt_options_search(&c.well, &catalogue, &o, &refusal) == DT_OK;
        if (without) dt_options_free(&o);
        assert_true(with || !without);
        if (with && !without) {
            named = strstr(told_refusal(&refusal), "tiebacks=\"no\"") &&
                    strstr(told_refusal(&refusal), "rig_hookload");
            assert_true(named);
        }
        dt_refusal_free(&refusal);
        dt_catalogue_free(&catalogue);
    }
    assert_true(named);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_all_that_trying_everything_finds),
        cmocka_unit_test(agrees_under_rules_of_holes),
        cmocka_unit_test(finds_them_with_one_string_more),
        cmocka_unit_test(finds_the_tiebacks_that_trying_everything_finds),
        cmocka_unit_test(finds_them_under_hangers_and_tests),
        cmocka_unit_test(finds_them_under_other_loads),
        cmocka_unit_test(finds_them_whatever_stands_outside),
        cmocka_unit_test(hangers_and_tests_bind),
        cmocka_unit_test(both_sums_of_what_is_below_agree),
        cmocka_unit_test(a_finer_step_never_loses_an_optimum),
        cmocka_unit_test(heat_that_warms_nothing_changes_nothing),
        cmocka_unit_test(a_widened_step_is_one_that_could_be_asked_for),
        cmocka_unit_test(a_search_that_takes_long_looks_less_closely),
        cmocka_unit_test(points_on_a_line_change_nothing),
        cmocka_unit_test(options_are_programs),
        cmocka_unit_test(no_option_dominates_another),
        cmocka_unit_test(cheaper_pipe_never_raises_the_optimum),
        cmocka_unit_test(a_removed_size_never_lowers_it),
        cmocka_unit_test(a_longer_limit_never_loses_an_optimum),
        cmocka_unit_test(colliding_wishes_are_named_and_no_others),
        cmocka_unit_test(many_forbidden_sizes),
        cmocka_unit_test(each_wish_that_leaves_nothing),
        cmocka_unit_test(wishes_hold_in_every_option),
        cmocka_unit_test(pins_stay_in_every_option),
        cmocka_unit_test(finds_what_pins_leave),
        cmocka_unit_test(pipe_pinned_in_full_is_not_judged),
        cmocka_unit_test(a_pinned_tieback_stays),
        cmocka_unit_test(a_wish_for_no_tiebacks_can_collide),
    };
    /* minutes in builds that are slower (tests/CMakeLists.txt) */
    const struct CMUnitTest slow[] = {
        cmocka_unit_test(finds_tied_drilling_liners_and_their_tests),
        cmocka_unit_test(finds_them_over_weaker_rock),
    };
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    return failed + (DT_FULL_SPEED ? cmocka_run_group_tests(slow, NULL, NULL) : 0);
}
