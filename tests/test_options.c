/* SPDX-License-Identifier: MIT */
/* The exact search against one that tries everything, against its own program, and against what
 * must hold of any optimum. */
#include <stdio.h>

#include "../planner/options_search.h"
#include "check.h"
#include "option_parts.h"
#include "shipped_wells.h"

/* ---- a search that tries everything
 * ---------------------------------------------------------------- */

typedef struct vector {
    long long cents, steel, minutes;
    double last_od_m;
    unsigned spares;
    size_t count;
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
    double od_m, drift_m, hole_m;
    double weight_kgm, hung_n; /* hung_n: on its hanger, were it a liner */
    part_sum sum;
} way;

typedef struct trial {
    const parts *p;
    front *f;
    size_t count, sites[8];
    dt_string_type types[8];
    dt_seat seats[8];
    way *ways[8];
    size_t way_count[8];
    const way *taken[8];
    long long programs;
    bool drop; /* to save time */
} trial;

static void list_ways(trial *t, size_t k)
{
    const parts *p = t->p;
    static part_pipe pipes[4096];
    size_t pipe_count = part_pipes(p, k == 0, k + 1 == t->count, pipes);
    const dt_seats seats = {.items = t->seats, .count = t->count};
    dt_string_load load;
    t->way_count[k] = 0;
    if (dt_string_load_build(&p->window, &seats, &p->trajectory, &p->design, p->lap_m, k, &load) !=
        DT_OK)
        return;
    for (size_t i = 0; i < pipe_count; ++i) {
        dt_screen screen;
        double bits[16];
        if (dt_string_screen(p->catalogue, pipes[i].pipe, pipes[i].thread, &load, &p->trajectory,
                             &p->design, &screen) != DT_OK ||
            !screen.ok)
            continue;
        size_t bit_count = part_bits(p, pipes[i].pipe, bits);
        for (size_t b = 0; b < bit_count; ++b) {
            assert_true(t->way_count[k] < MOST_WAYS);
            t->ways[k][t->way_count[k]++] =
                (way){pipes[i].pipe->od_m,
                      dt_nest_drift(p->well, pipes[i].pipe),
                      bits[b],
                      pipes[i].pipe->weight_kgm,
                      part_hung(&load, pipes[i].pipe),
                      part_bill(p, t->seats, k, t->count, &pipes[i], bits[b])};
        }
    }
}

/** Does some hanger of the well hang string k, with this bit to come through it? */
static bool hung(const trial *t, size_t k, double bit_m)
{
    const dt_hangers *list = &t->p->well->hangers;
    const way *liner = t->taken[k], *host = t->taken[k - 1];
    if (t->types[k] != DT_LINER || list->count == 0) return true;
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

static void nest_on(trial *t, size_t k, const way *above, vector sum)
{
    if (k > 1 && k == t->count && !hung(t, k - 1, 0)) return;
    if (k == t->count) {
        sum.last_od_m = above->od_m;
        sum.count = t->count;
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
        return;
    }
    part_seats(t->p, t->sites, t->types, t->count, t->seats);
    for (size_t i = 0; i < t->count; ++i) {
        list_ways(t, i);
        if (t->drop) drop_worse(t, i);
    }
    nest_on(t, 0, NULL, (vector){0});
}

static void try_sites(trial *t, size_t k)
{
    size_t last = t->p->site_count - 1;
    if (k + 1 == t->count) {
        if (!part_drilled(t->p, t->sites[k - 1], last)) return;
        t->sites[k] = last;
        try_types(t, 0);
        return;
    }
    for (size_t b = t->sites[k - 1] + 1; b < last; ++b) {
        if (!part_drilled(t->p, t->sites[k - 1], b)) break;
        t->sites[k] = b;
        try_sites(t, k + 1);
    }
}

static void try_everything(const parts *p, size_t most, bool drop, front *f, long long *programs)
{
    trial t = {.p = p, .f = f, .drop = drop};
    for (size_t k = 0; k < 8; ++k)
        assert_non_null(t.ways[k] = malloc(MOST_WAYS * sizeof *t.ways[k]));
    for (t.count = p->fewest; t.count <= most; ++t.count) {
        t.sites[0] = 0;
        try_sites(&t, 1);
    }
    *programs = t.programs;
    for (size_t k = 0; k < 8; ++k)
        free(t.ways[k]);
}

static bool in_front(const front *f, const dt_option *o)
{
    for (size_t i = 0; i < f->count; ++i) {
        const vector *v = &f->items[i];
        if (v->cents == llround(o->cost * 100) && v->steel == llround(o->steel_kg * 10) &&
            v->minutes == llround(o->days * 24 * 60) && v->spares == o->spares &&
            v->count == o->count && fabs(v->last_od_m - o->last_od_m) < PART_SAME)
            return true;
    }
    return false;
}

static void compare_with_everything(coded_well *c, const char *stock, size_t more, bool must_hang)
{
    dt_catalogue catalogue;
    part_catalogue(&catalogue, stock);
    parts p;
    parts_open(&p, &c->well, &catalogue, 1000 * FT);
    front f = {0};
    long long programs = 0;
    try_everything(&p, p.fewest + more, stock == PART_STOCK, &f, &programs);
    dt_options o;
    dt_refusal refusal;
    c->well.wishes.given = true;
    c->well.wishes.max_strings = p.fewest + more;
    assert_int_equal(dt_options_search(&c->well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal),
                     DT_OK);
    bool hangs = false;
    for (size_t i = 0; i < o.count; ++i) {
        if (!in_front(&f, &o.items[i]))
            fail_msg("option %zu (%.2f, %.1f kg, %.4f days) is not in the brute-force front", i,
                     o.items[i].cost, o.items[i].steel_kg, o.items[i].days);
        for (size_t k = 0; k < o.items[i].count; ++k)
            hangs = hangs || o.items[i].strings[k].type == DT_LINER;
    }
    assert_int_equal(o.count, f.count);
    assert_true(f.count > 1);
    assert_true(programs > 100);
    assert_int_equal(hangs, must_hang);
    print_message("%zu options of %lld programs on %zu sites\n", o.count, programs, p.site_count);
    dt_options_free(&o);
    parts_close(&p);
    dt_catalogue_free(&catalogue);
    free(f.items);
}

/** One search sums up what is below a string in one pressure, the other in the whole chain of
 * shoes: the same options. */
static void both_sums_of_what_is_below_agree(void **state)
{
    (void)state;
    for (int which = 0; which < 2; ++which)
        for (size_t more = 0; more < 2; ++more) {
            coded_well c;
            part_well(&c, which);
            dt_catalogue catalogue;
            part_catalogue(&catalogue, PART_STOCK);
            dt_options a, b;
            dt_refusal refusal;
            c.well.wishes.given = true;
            c.well.wishes.max_strings = 3 + more;
            assert_int_equal(
                dt_options_search_by(&c.well, &catalogue, DT_DISPLAY_FIELD, true, &a, &refusal),
                DT_OK);
            assert_int_equal(
                dt_options_search_by(&c.well, &catalogue, DT_DISPLAY_FIELD, false, &b, &refusal),
                DT_OK);
            assert_int_equal(a.count, b.count);
            for (size_t i = 0; i < a.count; ++i) {
                assert_within(a.items[i].cost, b.items[i].cost, 0.005);
                assert_within(a.items[i].steel_kg, b.items[i].steel_kg, 0.05);
                assert_within(a.items[i].days, b.items[i].days, 1e-9);
            }
            dt_options_free(&a);
            dt_options_free(&b);
            dt_catalogue_free(&catalogue);
        }
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

/** Loads that no one pressure sums up: whole chains of shoes, compared by what they ask. */
static void finds_them_under_other_loads(void **state)
{
    (void)state;
    const dt_load_wishes none = {.given = true,
                                 .influx_m3 = NAN,
                                 .drill_pipe_m = NAN,
                                 .packer_fluid_kgm3 = NAN,
                                 .stimulation_pa = NAN,
                                 .stimulation_fluid_kgm3 = NAN,
                                 .bump_margin_pa = NAN,
                                 .cement_kgm3 = NAN,
                                 .displacement_kgm3 = NAN,
                                 .green_test_pa = NAN,
                                 .unfilled_m = NAN};
    for (int loads = 0; loads < 6; ++loads)
        for (int which = 0; which < 2; ++which) {
            coded_well c;
            part_well(&c, which);
            dt_load_wishes *w = &c.well.loads;
            *w = none;
            if (loads != 4) w->evacuation = DT_EVACUATION_LOST_RETURNS;
            if (loads == 1) w->kick = DT_KICK_FRACTURE;
            if (loads == 2) w->kick = DT_KICK_INFLUX;
            w->influx_m3 = loads == 2 ? 6 : NAN;
            w->drill_pipe_m = loads == 2 ? 5 * PART_IN : NAN;
            if (loads == 3) w->burst_outside = DT_OUTSIDE_MUD;
            if (loads == 3) w->packer_fluid_kgm3 = 9 * PPG;
            if (loads >= 4) coded_interval(&c, 3000, 3600, DT_CASE_OFF, 3000);
            if (loads >= 4) c.well.intervals[0].kind = (char[]){"salt"};
            if (loads == 5) w->running = DT_RUNNING_SHOCK;
            compare_with_everything(&c, SMALL_STOCK, loads < 3, true);
        }
}

/** What all options cost together: a set of options in one number. */
static double cost_of_all(const dt_well *well)
{
    dt_catalogue catalogue;
    part_catalogue(&catalogue, SMALL_STOCK);
    dt_options o;
    dt_refusal refusal;
    double sum = 0;
    assert_int_equal(dt_options_search(well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal), DT_OK);
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

/* ---- against the plan
 * -------------------------------------------------------------------------------- */

/** Every kind of option of every shipped well, planned again from its pins, costs what the search
 * said, holds its loads and breaks no rule. */
static void options_are_programs(void **state)
{
    (void)state;
    static shipped wells[MOST_SHIPPED];
    size_t count = shipped_wells(wells), kinds = 0;
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    for (size_t i = 0; i < count; ++i) {
        dt_well *well = shipped_parse(wells[i].path);
        dt_options o;
        dt_refusal refusal;
        dt_status status = dt_options_search(well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal);
        dt_refusal_free(&refusal);
        for (size_t s = 0; status == DT_OK && s < o.structure_count; ++s) {
            const dt_option *option = &o.items[o.structures[s].best];
            static dt_option_plan plan;
            dt_option again;
            assert_int_equal(
                dt_option_plan_make(well, &catalogue, option, false, DT_DISPLAY_FIELD, &plan),
                DT_OK);
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
        }
        if (status == DT_OK) dt_options_free(&o);
        dt_well_free(well);
    }
    assert_true(kinds >= 8);
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
    assert_int_equal(dt_options_search(well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal), DT_OK);
    for (size_t i = 0; i < o.count; ++i)
        for (size_t k = 0; k < o.count; ++k)
            assert_false(dt_option_dominates(&o.items[i], &o.items[k]));
    /* The plan's own program is one of the programs looked at: it is an option, or beaten. */
    dt_program *program = NULL;
    dt_option own;
    assert_int_equal(dt_program_plan(well, &catalogue, DT_DISPLAY_FIELD, &program, &refusal),
                     DT_OK);
    assert_int_equal(dt_option_of_program(program, &own), DT_OK);
    bool covered = false;
    for (size_t i = 0; i < o.count; ++i)
        covered = covered || !dt_option_dominates(&own, &o.items[i]);
    for (size_t i = 0; i < o.count; ++i)
        assert_false(dt_option_dominates(&own, &o.items[i]));
    assert_true(covered);
    dt_program_free(program);
    dt_options_free(&o);
    dt_well_free(well);
    dt_catalogue_free(&catalogue);
}

/* ---- what must hold of an optimum
 * ---------------------------------------------------------------------- */

static double least_cost(const dt_well *well, const char *stock)
{
    dt_catalogue catalogue;
    part_catalogue(&catalogue, stock);
    dt_options o;
    dt_refusal refusal;
    dt_status status = dt_options_search(well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal);
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

/* ---- wishes
 * -----------------------------------------------------------------------------------------------
 */

static void refused(const dt_well *well, const char *const *said, const char *const *unsaid)
{
    dt_catalogue catalogue;
    part_catalogue(&catalogue, PART_STOCK);
    dt_options o;
    dt_refusal refusal;
    assert_int_equal(dt_options_search(well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal),
                     DT_E_NONE);
    assert_non_null(refusal.text);
    for (; *said; ++said)
        if (!strstr(refusal.text, *said)) fail_msg("\"%s\" not in: %s", *said, refusal.text);
    for (; *unsaid; ++unsaid)
        if (strstr(refusal.text, *unsaid)) fail_msg("\"%s\" in: %s", *unsaid, refusal.text);
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
    refused(&c.well, (const char *[]){"rig_hookload", "line 7", "this wish", NULL},
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
    assert_int_equal(dt_options_search(&c.well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal),
                     DT_E_NONE);
    assert_non_null(strstr(refusal.text, "these wishes together"));
    assert_non_null(strstr(refusal.text, "Without any one of them there is a program"));
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
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
    assert_int_equal(dt_options_search(&c.well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal), DT_OK);
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

/* ---- pins
 * ----------------------------------------------------------------------------------------------------
 */

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
    assert_int_equal(dt_options_search(&c.well, &catalogue, DT_DISPLAY_FIELD, &o, &refusal), DT_OK);
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_all_that_trying_everything_finds),
        cmocka_unit_test(finds_them_with_one_string_more),
        cmocka_unit_test(finds_them_under_hangers_and_tests),
        cmocka_unit_test(finds_them_under_other_loads),
        cmocka_unit_test(hangers_and_tests_bind),
        cmocka_unit_test(both_sums_of_what_is_below_agree),
        cmocka_unit_test(options_are_programs),
        cmocka_unit_test(no_option_dominates_another),
        cmocka_unit_test(cheaper_pipe_never_raises_the_optimum),
        cmocka_unit_test(a_removed_size_never_lowers_it),
        cmocka_unit_test(a_longer_limit_never_loses_an_optimum),
        cmocka_unit_test(colliding_wishes_are_named_and_no_others),
        cmocka_unit_test(wishes_hold_in_every_option),
        cmocka_unit_test(pins_stay_in_every_option),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
