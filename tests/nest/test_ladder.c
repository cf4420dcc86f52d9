/* SPDX-License-Identifier: MIT */
/* The ladder that is chosen against all ladders, one by one, on small random wells; and what it
 * makes of pins by hand. Wells invented; their numbers are common practice, no source. */
#include <stdio.h>

#include "chance.h"
#include "check.h"
#include "slow_ladder.h"
#include "well_in_code.h"

#define IN   DT_M_PER_IN
#define BBL  0.158987294928
#define NEAR 1e-5 /* m2 and m3 that two ways of looking for a shoe may differ by */

enum { WELLS = DT_FULL_SPEED ? 600 : 200 };

typedef struct bases {
    dt_basis *land, *shelf, *texas; /* texas: land, and a surface shoe that is held up */
} bases;

static void open_bases(bases *b)
{
    const dt_basis *plain = dt_basis_built_in();
    *b = (bases){0};
    assert_int_equal(dt_basis_stack(plain, dt_basis_shipped("land"), &b->land), DT_OK);
    assert_int_equal(dt_basis_stack(plain, dt_basis_shipped("shelf"), &b->shelf), DT_OK);
    assert_int_equal(dt_basis_stack(b->land, dt_basis_shipped("texas"), &b->texas), DT_OK);
}

static void close_bases(bases *b)
{
    dt_basis_free(b->land);
    dt_basis_free(b->shelf);
    dt_basis_free(b->texas);
}

/* ---- a catalogue of a few sizes ---- */

static bool among(double value_m, const double *values_in, size_t count)
{
    for (size_t i = 0; i < count; ++i)
        if (fabs(value_m - values_in[i] * IN) < SLOW_WIDTH) return true;
    return false;
}

/** Leaves some sizes of pipe, a conductor's always, and some bits: all ladders of these can be
 * tried. Each size keeps its coupled pipe, and now and then its flush one. */
static void thin_out(dt_catalogue *c, uint64_t *dice)
{
    static const double ods_in[] = {20, 16, 13.375, 11.75, 10.75, 9.625, 8.625, 7.625, 7, 5};
    static const double bits_in[] = {26,     24,    22,  20,   17.5, 16,    14.75, 13.5, 12.25, 11,
                                     10.625, 9.875, 9.5, 8.75, 8.5,  7.875, 6.75,  6.5,  6.125, 6};
    double kept_od[12] = {30}, kept_bit[24] = {36};
    size_t ods = 1, bits = 1, kept = 0;
    for (size_t i = 0; i < sizeof ods_in / sizeof *ods_in; ++i)
        if (chance(dice) < 0.7) kept_od[ods++] = ods_in[i];
    for (size_t i = 0; i < sizeof bits_in / sizeof *bits_in; ++i)
        if (chance(dice) < 0.75) kept_bit[bits++] = bits_in[i];
    const bool flush = chance(dice) < 0.15;
    for (size_t i = 0; i < c->pipe_count; ++i) {
        const dt_pipe *p = &c->pipes[i];
        const bool coupled = p->coupling_od_m > 1.03 * p->od_m || p->od_m > 24 * IN;
        if (strcmp(p->grade->name, "K55") != 0 && strcmp(p->grade->name, "X56") != 0 &&
            strcmp(p->grade->name, "P110") != 0)
            continue; /* sizes and weights are what matters here */
        if (among(p->od_m, kept_od, ods) && (coupled || flush)) c->pipes[kept++] = *p;
    }
    c->pipe_count = kept;
    kept = 0;
    for (size_t i = 0; i < c->bit_count; ++i)
        if (among(c->bits[i].diameter_m, kept_bit, bits)) c->bits[kept++] = c->bits[i];
    c->bit_count = kept;
}

/* ---- random wells ---- */

typedef struct random_well {
    coded_well c;
    dt_kick_row kicks[2];
    uint64_t dice;
} random_well;

static double between(random_well *r, double low, double high)
{
    return low + (high - low) * chance(&r->dice);
}

static bool now_and_then(random_well *r, double part)
{
    return chance(&r->dice) < part;
}

/** Pressures that grow with depth: a normal stretch, then a ramp; now and then it falls again. */
static void put_pressures(random_well *r, double objective_ft)
{
    coded_well *c = &r->c;
    const double top_ppg = between(r, 8.4, 8.8), end_ppg = between(r, 8.8, 13.5);
    const double ramp_ft = between(r, 0.2, 0.8) * objective_ft;
    coded_pore(c, 0, top_ppg);
    coded_pore(c, ramp_ft, top_ppg);
    coded_pore(c, between(r, 0.8, 0.95) * objective_ft, end_ppg);
    coded_pore(c, objective_ft, now_and_then(r, 0.3) ? end_ppg - 1 : end_ppg + 0.2);
    const double weak_ppg = between(r, 11, 13.5);
    coded_fracture(c, 0, weak_ppg);
    coded_fracture(c, ramp_ft, between(r, 14, 15.5));
    coded_fracture(c, objective_ft, fmax(between(r, 15.5, 18), end_ppg + 2));
}

/** A swabbed influx by size of hole and one that is wanted, for wells without a basis of their own.
 */
static void put_kicks(random_well *r)
{
    const double small = between(r, 2, 10), large = between(r, 5, 30);
    r->kicks[0] = (dt_kick_row){.up_to_m = 9 * IN,
                                .least_m3 = small * BBL,
                                .minimum_m3 = (small + 10) * BBL,
                                .pipe_od_m = 3.5 * IN,
                                .collar_od_m = 4.75 * IN,
                                .collar_m = 500 * FT};
    r->kicks[1] = (dt_kick_row){.up_to_m = 60 * IN,
                                .least_m3 = large * BBL,
                                .minimum_m3 = (large + 30) * BBL,
                                .pipe_od_m = 5 * IN,
                                .collar_od_m = 8 * IN,
                                .collar_m = 600 * FT};
    r->c.well.kick.given = true;
    r->c.well.kick.seat_volume_m3 = NAN;
    r->c.well.kick.rows = r->kicks;
    r->c.well.kick.row_count = 2;
    r->c.well.kick.intensity_kgm3 = 0.3 * PPG;
}

/** Rock where no shoe may stand, or that is cased off. */
static void put_beds(random_well *r, double objective_ft)
{
    while (now_and_then(r, 0.4) && r->c.well.interval_count < 4) {
        const double top_ft = between(r, 300, 0.8 * objective_ft);
        const double base_ft = top_ft + between(r, 50, 0.15 * objective_ft);
        const bool off = now_and_then(r, 0.25);
        coded_interval(&r->c, top_ft, base_ft, off ? DT_CASE_OFF : DT_AVOID_SHOE, off ? 300 : 0);
        if (off) r->c.intervals[r->c.well.interval_count - 1].kind = "unstable";
    }
}

/** A pipe that the role might have, or none said. */
static double some_od(random_well *r, dt_role role)
{
    static const double usual_in[DT_ROLE_COUNT][3] = {
        [DT_CONDUCTOR] = {30, 30, 20},
        [DT_SURFACE] = {20, 13.375, 9.625},
        [DT_INTERMEDIATE] = {13.375, 9.625, 8.625},
        [DT_PRODUCTION] = {9.625, 7, 5},
    };
    if (!now_and_then(r, 0.12)) return NAN;
    return usual_in[role][(size_t)(3 * chance(&r->dice))] * IN;
}

static void put_pin(random_well *r, dt_role role, double shoe_ft)
{
    coded_pin(&r->c, role, shoe_ft);
    dt_pin *pin = &r->c.pins[r->c.well.pin_count - 1];
    pin->od_m = some_od(r, role);
    if (isfinite(pin->od_m) || !now_and_then(r, 0.06)) return;
    static const double holes_in[] = {17.5, 12.25, 8.5};
    pin->hole_m = holes_in[(size_t)(3 * chance(&r->dice))] * IN;
}

/** Strings that the engineer has decided: some with a shoe, which may stand anywhere in order. */
static void put_pins(random_well *r, double conductor_ft, double objective_ft)
{
    double at_ft = conductor_ft;
    if (now_and_then(r, 0.1)) put_pin(r, DT_CONDUCTOR, conductor_ft);
    if (now_and_then(r, 0.45)) {
        at_ft = between(r, at_ft + 50, 0.45 * objective_ft);
        const bool bare = now_and_then(r, 0.2);
        put_pin(r, DT_SURFACE, bare ? NAN : at_ft);
        if (bare) at_ft = conductor_ft;
    }
    while (now_and_then(r, 0.4) && r->c.well.pin_count < 5 && at_ft < 0.85 * objective_ft) {
        const bool bare = now_and_then(r, 0.25);
        const double next_ft = between(r, at_ft + 100, 0.97 * objective_ft);
        put_pin(r, DT_INTERMEDIATE, bare ? NAN : next_ft);
        if (!bare) at_ft = next_ft;
    }
    if (!r->c.well.last_open && now_and_then(r, 0.1)) put_pin(r, DT_PRODUCTION, NAN);
}

/** The first depth of a well that may be weak, with water to protect or not. */
static void make_well(random_well *r, const bases *b, uint64_t seed)
{
    *r = (random_well){.dice = 0x9e3779b97f4a7c15u * (seed + 1)};
    for (int i = 0; i < 8; ++i)
        chance(&r->dice);
    const double conductor_ft = between(r, 80, 500), objective_ft = between(r, 3000, 14000);
    coded_start(&r->c, conductor_ft, objective_ft);
    dt_well *w = &r->c.well;
    const int kind = (int)(5 * chance(&r->dice));
    const dt_basis *basis[] = {b->land, b->shelf, b->shelf, b->texas, dt_basis_built_in()};
    dt_well_start_on(w, basis[kind]);
    w->rig_floor_m = 0;
    w->objective_m = objective_ft * FT;
    w->conductor.depth_m = conductor_ft * FT;
    w->sticking = (dt_sticking){0};
    static const double least_in[] = {5, 5, 7};
    w->min_pipe_od_m = least_in[(size_t)(3 * chance(&r->dice))] * IN;
    w->sizes.spare = now_and_then(r, 0.2);
    w->sizes.opened_hole = now_and_then(r, 0.1);
    w->last_open = now_and_then(r, 0.25);
    w->last_hole_m = w->last_open && now_and_then(r, 0.3) ? 8.5 * IN : NAN;
    w->conductor.method = now_and_then(r, 0.3) ? DT_CONDUCTOR_DRIVEN : DT_CONDUCTOR_DRILLED;
    if (now_and_then(r, 0.3)) w->conductor.bop = !w->conductor.bop;
    put_pressures(r, objective_ft);
    if (basis[kind] == dt_basis_built_in() && now_and_then(r, 0.7)) put_kicks(r);
    if (now_and_then(r, 0.35)) {
        w->fresh_water_m = between(r, 0, 0.25) * objective_ft * FT;
        w->fresh_water_cover_m = 50 * FT;
    }
    put_beds(r, objective_ft);
    if (now_and_then(r, 0.65)) put_pins(r, conductor_ft, objective_ft);
}

/* ---- what is compared ---- */

typedef struct trial {
    random_well r;
    dt_catalogue catalogue;
    dt_window window;
    slow_string strings[SLOW_MOST_STRINGS];
} trial;

static slow_ladders slow_start(trial *t)
{
    return (slow_ladders){.window = &t->window, .catalogue = &t->catalogue, .strings = t->strings};
}

/** The cost of a ladder that was chosen, reckoned as those of all others are. */
static bool price(trial *t, const dt_ladder *ladder, slow_cost *out)
{
    slow_ladders s = slow_start(t);
    s.latitude = ladder->latitude;
    s.keep_broken = ladder->keep_broken;
    s.only = ladder;
    slow_try_count(&s, ladder->count, false);
    *out = s.best;
    free(s.shoes);
    return s.found;
}

static void fail_cost(uint64_t seed, const slow_cost *got, const slow_cost *want)
{
    for (int i = 0; i < SLOW_TERM_COUNT; ++i)
        print_message("term %d: %.9g, of the best of all ladders %.9g\n", i, got->term[i],
                      want->term[i]);
    fail_msg("well %d: another ladder is better", (int)seed);
}

static void same_cost(uint64_t seed, const slow_cost *got, const slow_cost *want)
{
    for (int i = 0; i < SLOW_TERM_COUNT; ++i)
        if (!(fabs(got->term[i] - want->term[i]) <= NEAR * fmax(1, want->term[i])))
            fail_cost(seed, got, want);
}

static bool about_place(dt_rule rule)
{
    return rule == DT_RULE_FRESH_WATER || rule == DT_RULE_SURFACE_LEAST ||
           rule == DT_RULE_SURFACE_MOST || rule == DT_RULE_AVOID_SHOE ||
           rule == DT_RULE_COMPETENT_ROCK;
}

/** The seats of a ladder can be laid; only the rules that it says are broken are, but for where a
 * pinned shoe stands; each hole keeps its rules from shoe to shoe. */
static void seats_agree(uint64_t seed, const trial *t, const dt_ladder *ladder, double broken)
{
    dt_seats seats;
    if (dt_ladder_seats(&t->window, ladder, &seats) != DT_OK)
        fail_msg("well %d: the ladder has no seats", (int)seed);
    assert_int_equal(seats.count, ladder->count);
    double count = 0;
    for (size_t i = 0; i < seats.broken_count; ++i)
        count += !about_place(seats.broken[i].why.rule);
    if (count != broken)
        fail_msg("well %d: %g holes of the seats break a rule, of the ladder %g", (int)seed, count,
                 broken);
    for (size_t k = 1; k < seats.count && broken == 0; ++k) {
        dt_section_check check;
        dt_section_test(&t->window, &ladder->rungs[k].rules, seats.items[k - 1].shoe_m,
                        seats.items[k].shoe_m, true, &check);
        if (!check.ok) fail_msg("well %d: hole %zu does not hold", (int)seed, k);
    }
    dt_seats_free(&seats);
}

/** The rungs say which holes bear less than they should: none under a diverter. */
static void shortfalls_are_told(uint64_t seed, const dt_well *well, const dt_ladder *ladder)
{
    const bool asked = well->sizes.series || well->kick.row_count > 0;
    for (size_t k = 1; k < ladder->count + well->last_open; ++k) {
        const dt_rung *rung = &ladder->rungs[k];
        const bool diverter = k == 1 && !well->conductor.bop;
        if (rung->relaxed != (asked && !diverter && rung->rules.tier == DT_TIER_LEAST))
            fail_msg("well %d: hole %zu is told wrongly", (int)seed, k);
    }
}

typedef struct tally {
    int chosen, refused, broken, pinned, open, by_latitude[DT_LATITUDE_COUNT];
    size_t tried;
} tally;

static void add_up(tally *sum, const trial *t, const slow_ladders *slow)
{
    sum->tried += slow->tried;
    if (!slow->found) {
        ++sum->refused;
        return;
    }
    ++sum->chosen;
    ++sum->by_latitude[slow->latitude];
    sum->broken += slow->keep_broken;
    sum->pinned += t->r.c.well.pin_count > 0;
    sum->open += t->r.c.well.last_open;
}

static void compare_one(trial *t, uint64_t seed, tally *sum)
{
    const dt_ladder_cuts none = {0};
    dt_ladder fast;
    slow_ladders slow = slow_start(t);
    slow_choose(&slow);
    const dt_status status = dt_ladder_choose(&t->window, &t->catalogue, &none, &fast);
    if ((status == DT_OK) != slow.found)
        fail_msg("well %d: %s, of all ladders %zu strings", (int)seed,
                 status == DT_OK ? "a ladder" : "no ladder", slow.found ? slow.count : 0);
    add_up(sum, t, &slow);
    if (slow.found) {
        slow_cost cost;
        if (fast.keep_broken != slow.keep_broken || fast.latitude != slow.latitude ||
            fast.count != slow.count)
            fail_msg("well %d: broken %d latitude %d strings %zu, of all ladders %d %d %zu",
                     (int)seed, fast.keep_broken, (int)fast.latitude, fast.count, slow.keep_broken,
                     (int)slow.latitude, slow.count);
        if (!price(t, &fast, &cost)) fail_msg("well %d: its ladder is none of all", (int)seed);
        same_cost(seed, &cost, &slow.best);
        shortfalls_are_told(seed, &t->r.c.well, &fast);
        seats_agree(seed, t, &fast, cost.term[SLOW_BROKEN]);
    }
    free(slow.shoes);
}

static void try_well(trial *t, const bases *b, uint64_t seed, tally *sum)
{
    make_well(&t->r, b, seed);
    assert_int_equal(dt_catalogue_load(&t->catalogue), DT_OK);
    thin_out(&t->catalogue, &t->r.dice);
    assert_int_equal(dt_window_build(&t->r.c.well, &t->window), DT_OK);
    compare_one(t, seed, sum);
    dt_window_free(&t->window);
    dt_catalogue_free(&t->catalogue);
}

static void no_ladder_is_better(void **state)
{
    (void)state;
    bases b;
    open_bases(&b);
    trial *t = malloc(sizeof *t);
    assert_non_null(t);
    tally sum = {0};
    for (uint64_t seed = 0; seed < WELLS; ++seed)
        try_well(t, &b, seed, &sum);
    try_well(t, &b, 496, &sum); /* the first way to give its pins to strings is not the best */
    print_message(
        "%d wells with a ladder (%d preferred, %d long, %d any; %d with pins, %d of them "
        "with a rule broken between; %d with an open last hole), %d without; %zu ladders\n",
        sum.chosen, sum.by_latitude[0], sum.by_latitude[1], sum.by_latitude[2], sum.pinned,
        sum.broken, sum.open, sum.refused, sum.tried);
    /* of each kind enough to mean something */
    assert_true(sum.chosen > WELLS / 3 && sum.pinned > WELLS / 10 && sum.open > WELLS / 20);
    free(t);
    close_bases(&b);
}

/* ---- pins and rock by hand ---- */

/** A land well to 9,000 ft with rock that asks for little, ladders and seats of its own. */
typedef struct by_hand {
    coded_well c;
    bases b;
    dt_catalogue catalogue;
    dt_window window;
    dt_ladder ladder;
    dt_seats seats;
} by_hand;

static void start_by_hand(by_hand *h)
{
    open_bases(&h->b);
    assert_int_equal(dt_catalogue_load(&h->catalogue), DT_OK);
    coded_start(&h->c, 100, 9000);
    dt_well_start_on(&h->c.well, h->b.land);
    h->c.well.rig_floor_m = 0;
    h->c.well.objective_m = 9000 * FT;
    h->c.well.conductor.depth_m = 100 * FT;
    h->c.well.sticking = (dt_sticking){0};
    h->c.well.min_pipe_od_m = 5 * IN;
    coded_pore(&h->c, 0, 8.6);
    coded_pore(&h->c, 9000, 8.8);
    coded_fracture(&h->c, 0, 13);
    coded_fracture(&h->c, 9000, 16);
}

static void lay_by_hand(by_hand *h)
{
    const dt_ladder_cuts none = {0};
    assert_int_equal(dt_window_build(&h->c.well, &h->window), DT_OK);
    assert_int_equal(dt_ladder_choose(&h->window, &h->catalogue, &none, &h->ladder), DT_OK);
    assert_int_equal(dt_ladder_seats(&h->window, &h->ladder, &h->seats), DT_OK);
}

static void end_by_hand(by_hand *h)
{
    dt_seats_free(&h->seats);
    dt_window_free(&h->window);
    dt_catalogue_free(&h->catalogue);
    close_bases(&h->b);
}

/** The surface shoe is pinned at 1,500 ft: it stays there, no rule is given up for it, and the
 * seats say what it breaks. */
static void expect_pin_kept(by_hand *h, dt_rule broken)
{
    coded_pin(&h->c, DT_SURFACE, 1500);
    lay_by_hand(h);
    assert_false(h->ladder.keep_broken);
    assert_within(h->seats.items[1].shoe_m / FT, 1500, 1e-6);
    assert_int_equal(h->seats.broken_count, 1);
    assert_int_equal(h->seats.broken[0].why.rule, broken);
}

static void a_pin_above_the_water_is_kept(void **state)
{
    (void)state;
    by_hand h;
    start_by_hand(&h);
    h.c.well.fresh_water_m = 2000 * FT;
    h.c.well.fresh_water_cover_m = 50 * FT;
    expect_pin_kept(&h, DT_RULE_FRESH_WATER);
    end_by_hand(&h);
}

/* The shoe below such a pin stands at the cover of the water, which is a rounding step, and not a
 * step deeper: the next string needs no more room than that. */
static void the_next_shoe_stands_at_the_cover(void **state)
{
    (void)state;
    by_hand h;
    start_by_hand(&h);
    h.c.well.fresh_water_m = 2000 * FT;
    h.c.well.fresh_water_cover_m = 50 * FT;
    coded_pin(&h.c, DT_SURFACE, 1500);
    coded_pin(&h.c, DT_INTERMEDIATE, NAN);
    lay_by_hand(&h);
    assert_int_equal(h.ladder.count, 4);
    assert_within(h.seats.items[2].shallowest_m / FT, 2050, 1e-6);
    end_by_hand(&h);
}

static void a_pin_in_bad_rock_is_kept(void **state)
{
    (void)state;
    by_hand h;
    start_by_hand(&h);
    coded_interval(&h.c, 80, 1600, DT_AVOID_SHOE, 0); /* nothing asks for a deeper shoe */
    expect_pin_kept(&h, DT_RULE_AVOID_SHOE);
    end_by_hand(&h);
}

/* Texas: a surface shoe no deeper than 3,500 ft (16 TAC 3.13, amendments of 2014, summary read). */
static void a_pin_past_what_a_regulation_allows_is_kept(void **state)
{
    (void)state;
    by_hand h;
    start_by_hand(&h);
    h.c.well.basis = h.b.texas;
    h.c.well.conductor.depth_m = 700 * FT; /* a diverter's hole is no longer than 3,000 ft */
    coded_pin(&h.c, DT_SURFACE, 3600);
    lay_by_hand(&h);
    assert_false(h.ladder.keep_broken);
    assert_within(h.seats.items[1].shoe_m / FT, 3600, 1e-6);
    assert_int_equal(h.seats.broken_count, 1);
    assert_int_equal(h.seats.broken[0].why.rule, DT_RULE_SURFACE_MOST);
    end_by_hand(&h);
}

/* The water's cover lies in rock where no shoe may stand, and two strings stand below it: the first
 * takes the base of that rock, the second the next depth that leaves both room. */
static void two_shoes_leave_bad_rock_one_after_the_other(void **state)
{
    (void)state;
    by_hand h;
    start_by_hand(&h);
    h.c.well.fresh_water_m = 2000 * FT;
    h.c.well.fresh_water_cover_m = 50 * FT;
    coded_interval(&h.c, 1900, 2400, DT_AVOID_SHOE, 0);
    coded_pin(&h.c, DT_SURFACE, NAN);
    coded_pin(&h.c, DT_INTERMEDIATE, NAN);
    lay_by_hand(&h);
    assert_int_equal(h.ladder.count, 4);
    assert_within(h.seats.items[1].shallowest_m / FT, 2400, 1e-6);
    assert_within(h.seats.items[2].shallowest_m, 2400 * FT + SLOW_APART_M, 1e-6);
    end_by_hand(&h);
}

/* Conductor and one string to the objective: that string is the production string, of up to
 * 9-7/8 in on land, and may be smaller than a surface string (docs/nest.md, by role). */
static void the_last_of_two_is_a_production_string(void **state)
{
    (void)state;
    by_hand h;
    start_by_hand(&h);
    h.c.well.objective_m = 2000 * FT;
    lay_by_hand(&h);
    assert_int_equal(h.ladder.count, 2);
    assert_int_equal(h.ladder.latitude, DT_LADDER_PREFERRED);
    assert_int_equal(h.seats.items[1].role, DT_PRODUCTION);
    assert_true(h.ladder.rungs[1].od_m < 8.625 * IN - SLOW_WIDTH);
    end_by_hand(&h);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_ladder_is_better),
        cmocka_unit_test(a_pin_above_the_water_is_kept),
        cmocka_unit_test(the_next_shoe_stands_at_the_cover),
        cmocka_unit_test(a_pin_in_bad_rock_is_kept),
        cmocka_unit_test(a_pin_past_what_a_regulation_allows_is_kept),
        cmocka_unit_test(two_shoes_leave_bad_rock_one_after_the_other),
        cmocka_unit_test(the_last_of_two_is_a_production_string),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
