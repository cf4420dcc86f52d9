/* SPDX-License-Identifier: MIT */
/* Seats against hand-made wells, properties, and the same rules worked the slow way. */
#include <stdint.h>
#include <stdio.h>

#include "check.h"
#include "notice_words.h"
#include "seats.h"
#include "slow_seats.h"
#include "well_in_code.h"

typedef struct chosen {
    dt_window window;
    dt_seats seats;
    dt_status status;
} chosen;

static void choose(const coded_well *c, chosen *out)
{
    assert_int_equal(dt_window_build(&c->well, &out->window), DT_OK);
    out->status = dt_seats_choose(&out->window, &out->seats);
    assert_true(out->status == DT_OK || out->status == DT_E_NONE);
}

static void release(chosen *c)
{
    dt_window_free(&c->window);
    dt_seats_free(&c->seats);
}

/* Pore 9 ppg to 5,000 ft, then straight to 14 ppg at 10,000 ft: 1 ppg each 1,000 ft. Fracture
 * straight from 12 ppg at 0 to 17 ppg at 10,000 ft: 0.5 ppg each 1,000 ft. Trip and kick 0.5 ppg.
 * By hand: at 10,000 ft mud 14.5, needs 15.0 at the shoe: 6,000 ft. Mud to 6,000 ft is 10.5,
 * needs 11.0: any depth will do. So surface 6,000 ft, production 10,000 ft, and the surface
 * hole, from a conductor with 12.05 ppg at 100 ft, may go to mud 11.55: pore 11.05, 7,050 ft. */
static void straight(coded_well *c)
{
    coded_start(c, 100, 10000);
    coded_pore(c, 0, 9);
    coded_pore(c, 5000, 9);
    coded_pore(c, 10000, 14);
    coded_fracture(c, 0, 12);
    coded_fracture(c, 10000, 17);
    c->well.margins.trip.emw_kgm3 = c->well.margins.kick.emw_kgm3 = 0.5 * PPG;
}

static void straight_lines_by_hand(void **state)
{
    (void)state;
    coded_well c;
    straight(&c);
    chosen got;
    choose(&c, &got);
    assert_int_equal(got.seats.count, 3);
    const dt_seat *surface = &got.seats.items[1];
    assert_within(surface->shallowest_m / FT, 6000, 1e-4);
    assert_within(surface->deepest_m / FT, 7050, 1e-4);
    assert_within(surface->shoe_m / FT, 6000, 1e-4);
    assert_int_equal(surface->why_shallowest.rule, DT_RULE_KICK_FIXED);
    assert_within(surface->why_shallowest.mud_kgm3 / PPG, 14.5, 1e-9);
    assert_within(surface->why_shallowest.mud_tvd_m / FT, 10000, 1e-6);
    assert_within(surface->why_deepest.tvd_m / FT, 100, 1e-6);
    assert_within(got.seats.items[2].mud_kgm3 / PPG, 14.5, 1e-9);
    release(&got);
    c.well.seats.prefer = DT_PREFER_DEEPEST;
    choose(&c, &got);
    assert_within(got.seats.items[1].shoe_m / FT, 7050, 1e-4);
    release(&got);
}

/* A seat that stands on a rounding step by hand must not be rounded to the next one. */
static void rounding_goes_deeper_and_keeps_exact_steps(void **state)
{
    (void)state;
    coded_well c;
    straight(&c);
    c.well.seats.round_to_m = 50 * FT;
    chosen got;
    choose(&c, &got);
    assert_within(got.seats.items[1].shoe_m / FT, 6000, 1e-9);
    release(&got);
    c.fracture[0].emw_kgm3 = 11.99 * PPG; /* the shallowest seat moves to 6,007.98 ft */
    choose(&c, &got);
    assert_within(got.seats.items[1].exact_m / FT, (15.0 - 11.99) / 0.501 * 1000, 1e-3);
    assert_within(got.seats.items[1].shoe_m / FT, 6050, 1e-9);
    release(&got);
    c.well.seats.prefer = DT_PREFER_DEEPEST; /* deeper than the deepest works nowhere: rounded up */
    choose(&c, &got);
    assert_within(got.seats.items[1].shoe_m / FT, 7000, 1e-9);
    release(&got);
}

static void fresh_water_deepens_the_surface_shoe(void **state)
{
    (void)state;
    coded_well c;
    straight(&c);
    c.well.fresh_water_m = 6400 * FT;
    c.well.fresh_water_cover_m = 50 * FT;
    chosen got;
    choose(&c, &got);
    assert_within(got.seats.items[1].shoe_m / FT, 6450, 1e-6);
    assert_int_equal(got.seats.items[1].why.rule, DT_RULE_FRESH_WATER);
    release(&got);
    c.well.fresh_water_m =
        7010 * FT; /* cover to 7,060 ft: ten feet past the deepest surface seat */
    choose(&c, &got);
    assert_int_equal(got.status, DT_E_NONE);
    assert_int_equal(got.seats.collisions[0].rule, DT_RULE_FRESH_WATER);
    assert_int_equal(got.seats.collisions[1].rule, DT_RULE_KICK_FIXED);
    release(&got);
}

static void fresh_water_asks_for_a_surface_string(void **state)
{
    (void)state;
    coded_well c;
    straight(&c);
    c.well.objective_m = 4000 * FT; /* one section from the conductor would do */
    chosen got;
    choose(&c, &got);
    assert_int_equal(got.seats.count, 2);
    release(&got);
    c.well.fresh_water_m = 800 * FT;
    c.well.fresh_water_cover_m = 50 * FT;
    choose(&c, &got);
    assert_int_equal(got.seats.count, 3);
    assert_within(got.seats.items[1].shoe_m / FT, 850, 1e-6);
    release(&got);
}

static void intervals_move_seats(void **state)
{
    (void)state;
    const struct {
        double top, base;
        dt_action action;
        double within, shoe;
        dt_rule rule;
    } rows[] = {
        {6100, 6300, DT_CASE_OFF, 100, 6300, DT_RULE_CASE_OFF},
        {6100, 6300, DT_CASE_OFF, 4000, 6000, DT_RULE_KICK_FIXED},
        {6400, 6600, DT_CASE_ABOVE, 150, 6250, DT_RULE_CASE_ABOVE},
        {5900, 6200, DT_AVOID_SHOE, 0, 6200, DT_RULE_AVOID_SHOE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        coded_well c;
        straight(&c);
        coded_interval(&c, rows[i].top, rows[i].base, rows[i].action, rows[i].within);
        chosen got;
        choose(&c, &got);
        assert_int_equal(got.status, DT_OK);
        assert_within(got.seats.items[1].shoe_m / FT, rows[i].shoe, 1e-4);
        assert_int_equal(got.seats.items[1].why.rule, rows[i].rule);
        release(&got);
    }
}

static void no_window_names_what_collides(void **state)
{
    (void)state;
    coded_well c;
    straight(&c);
    coded_pore(&c, 10000, 17.2); /* a step at the objective is not exposed: still fine */
    chosen got;
    choose(&c, &got);
    assert_int_equal(got.status, DT_OK);
    release(&got);
    c.pore[2].emw_kgm3 = 16.2 * PPG; /* 16.7 + 0.5 > 17.0 at the bottom itself */
    choose(&c, &got);
    assert_int_equal(got.status, DT_E_NONE);
    assert_true(got.seats.collision_count > 0);
    assert_int_equal(got.seats.collisions[0].rule, DT_RULE_KICK_FIXED);
    release(&got);
}

static void pins_are_kept_and_broken_rules_told(void **state)
{
    (void)state;
    coded_well c;
    straight(&c);
    coded_pin(&c, DT_SURFACE, 5500);
    chosen got;
    choose(&c, &got);
    /* From 5,500 ft (14.75 ppg) the hole to 10,000 ft needs 15.0: the planner adds a string. */
    assert_int_equal(got.status, DT_OK);
    assert_int_equal(got.seats.count, 4);
    assert_within(got.seats.items[1].shoe_m / FT, 5500, 1e-9);
    assert_within(got.seats.items[2].shoe_m / FT, 6000, 1e-3);
    assert_int_equal(got.seats.broken_count, 0);
    release(&got);
    c.pins[0].shoe_m = 7200 * FT; /* past 7,050 ft: kept, and told */
    choose(&c, &got);
    assert_int_equal(got.status, DT_OK);
    assert_within(got.seats.items[1].shoe_m / FT, 7200, 1e-9);
    assert_int_equal(got.seats.broken_count, 1);
    assert_int_equal(got.seats.broken[0].seat, 1);
    assert_int_equal(got.seats.broken[0].why.rule, DT_RULE_KICK_FIXED);
    release(&got);
}

static void pins_without_a_shoe_ask_for_a_string(void **state)
{
    (void)state;
    coded_well c;
    straight(&c);
    coded_pin(&c, DT_SURFACE, NAN);
    coded_pin(&c, DT_INTERMEDIATE, NAN);
    chosen got;
    choose(&c, &got);
    assert_int_equal(got.status, DT_OK);
    assert_int_equal(got.seats.count, 4);
    assert_int_equal(got.seats.items[1].pin, 0);
    assert_int_equal(got.seats.items[2].pin, 1);
    release(&got);
}

/* ---- random wells -------------------------------------------------------------------------- */

/* splitmix64, S. Vigna, public domain: a fixed sequence for a fixed seed on any machine. */
static uint64_t draw(uint64_t *state)
{
    uint64_t z = (*state += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static double between(uint64_t *state, double low, double high)
{
    return low + (high - low) * (double)(draw(state) >> 11) / 9007199254740992.0;
}

static void random_curves(coded_well *c, uint64_t *r, double objective)
{
    size_t points = 3 + draw(r) % 6;
    double pore = between(r, 8.4, 9.2), fracture = between(r, 11, 13);
    for (size_t i = 0; i <= points; ++i) {
        double z = objective * (double)i / (double)points;
        coded_pore(c, z, pore);
        if (i > 0 && draw(r) % 8 == 0) coded_pore(c, z, pore = fmax(8.3, pore + between(r, -1, 1)));
        pore = fmax(8.3, pore + between(r, -0.8, 2.2));
    }
    points = 3 + draw(r) % 6;
    for (size_t i = 0; i <= points; ++i) {
        coded_fracture(c, objective * (double)i / (double)points, fracture);
        fracture += between(r, -0.3, 1.9);
    }
}

static void random_well(coded_well *c, uint64_t *r)
{
    double objective = between(r, 4000, 18000);
    coded_start(c, between(r, 150, 600), objective);
    random_curves(c, r, objective);
    dt_well *w = &c->well;
    w->pore.between = draw(r) % 2 ? DT_BETWEEN_PRESSURE : DT_BETWEEN_GRADIENT;
    w->fracture.between = draw(r) % 2 ? DT_BETWEEN_PRESSURE : DT_BETWEEN_GRADIENT;
    dt_margins *m = &w->margins;
    m->kick_rule = draw(r) % 2 ? DT_KICK_DEPTH_RATIO : DT_KICK_FIXED;
    m->trip.emw_kgm3 = between(r, 0, 0.5) * PPG;
    m->kick.emw_kgm3 = between(r, 0, 0.5) * PPG;
    if (draw(r) % 2) m->surge.emw_kgm3 = between(r, 0, 0.3) * PPG;
    if (draw(r) % 3 == 0) m->safety.pressure_pa = between(r, 0, 100) * PSI;
    if (draw(r) % 2) {
        w->sticking =
            (dt_sticking){.given = true,
                          .normal_limit_pa = between(r, 1500, 3000) * PSI,
                          .abnormal_limit_pa = between(r, 2500, 4000) * PSI,
                          .normal_pore_kgm3 = 9.2 * PPG,
                          .mud = draw(r) % 2 ? DT_STICKING_PLANNED_MUD : DT_STICKING_PORE_ONLY};
    }
    if (draw(r) % 2) {
        w->fresh_water_m = between(r, 200, 1500) * FT;
        w->fresh_water_cover_m = 50 * FT;
    }
    if (draw(r) % 3 == 0) {
        w->kick = (dt_kick_wishes){.given = true,
                                   .intensity_kgm3 = draw(r) % 2 ? between(r, 0, 0.5) * PPG : 0,
                                   .influx_kgm3 = between(r, 100, 400),
                                   .margin_kgm3 = draw(r) % 2 ? between(r, 0, 0.2) * PPG : 0,
                                   .seat_volume_m3 = between(r, 5, 60) * DT_M3_PER_BBL,
                                   .seat_below_m = draw(r) % 2 ? between(r, 0, 3000) * FT : NAN,
                                   .seat_hole_m = between(r, 8, 14) * DT_M_PER_IN,
                                   .seat_pipe_od_m = 5 * DT_M_PER_IN,
                                   .seat_collar_od_m = 6.5 * DT_M_PER_IN,
                                   .seat_collar_m = between(r, 0, 800) * FT};
    }
    double top = between(r, 0.2, 0.5) * objective;
    for (size_t i = draw(r) % 3; i > 0; --i) {
        double base = top + between(r, 50, 600);
        coded_interval(c, top, base, (dt_action)(draw(r) % 3), between(r, 20, 800));
        c->intervals[w->interval_count - 1].permeable = (dt_permeable)(draw(r) % 3);
        top = base + between(r, 100, 2000);
        if (top > objective - 700) break;
    }
}

/* A driven conductor goes where returns do not lift the soil, or where it is pinned. By hand for
 * soil of 16 ppg and returns of 11 ppg under a rig floor at 50 ft: 50 + 50 x 11/(16 - 11) = 160 ft.
 */
static void a_driven_conductor_may_be_pinned(void **state)
{
    (void)state;
    for (int pinned = 0; pinned < 2; ++pinned) {
        coded_well c;
        straight(&c);
        c.well.rig_floor_m = 50 * FT;
        c.well.conductor.method = DT_CONDUCTOR_DRIVEN;
        c.well.conductor.depth_m = NAN;
        c.well.conductor.soil_gradient_kgm3 = 16 * PPG;
        c.well.conductor.returns_gradient_kgm3 = 11 * PPG;
        if (pinned) coded_pin(&c, DT_CONDUCTOR, 240);
        if (pinned) c.pins[0].line = 33;
        chosen got;
        choose(&c, &got);
        assert_int_equal(got.status, DT_OK);
        const dt_seat *seat = &got.seats.items[0];
        assert_within(seat->shoe_m / FT, pinned ? 240 : 160, 1e-9);
        assert_int_equal(seat->shoe_pinned, pinned);
        assert_int_equal(seat->why.rule, pinned ? DT_RULE_PINNED : DT_RULE_CONDUCTOR_RETURNS);
        assert_int_equal(seat->why.line, pinned ? 33 : 0);
        release(&got);
    }
}

/* 3,048.0 m and 10,000 ft are one depth that differs in its last bits: the objective, not a pin. */
static void a_pinned_production_shoe_is_the_objective(void **state)
{
    (void)state;
    coded_well c;
    straight(&c);
    coded_pin(&c, DT_PRODUCTION, 10000 * (1 + 1e-13));
    assert_true(c.pins[0].shoe_m != c.well.objective_m);
    chosen got;
    choose(&c, &got);
    assert_int_equal(got.seats.count, 3);
    assert_within(got.seats.items[2].shoe_m, c.well.objective_m, 0);
    assert_int_equal(got.seats.items[2].why.rule, DT_RULE_OBJECTIVE);
    assert_int_equal(got.seats.items[2].pin, 0);
    release(&got);
}

/* Mud 10 ppg, formation 10.5 ppg at 10,000 ft, a shoe at 5,000 ft: any influx at all needs
 * (F - 10) x 5,000 / 10,000 >= 0.5 there, the zero-gain tolerance of tests/published/test_kick.c.
 * F = 11 ppg is the edge. Under it the sentence says so and gives no negative volume. */
static void no_influx_is_borne_below_the_zero_gain(void **state)
{
    (void)state;
    for (int side = -1; side <= 1; side += 2) {
        coded_well c;
        coded_start(&c, 300, 10000);
        coded_pore(&c, 0, 10);
        coded_pore(&c, 10000, 10);
        coded_fracture(&c, 0, 11 + side * 0.01);
        coded_fracture(&c, 10000, 11 + side * 0.01);
        c.well.kick = (dt_kick_wishes){.given = true,
                                       .intensity_kgm3 = 0.5 * PPG,
                                       .influx_kgm3 = 200,
                                       .seat_volume_m3 = 15 * DT_M3_PER_BBL,
                                       .seat_below_m = NAN,
                                       .seat_hole_m = 12.25 * DT_M_PER_IN,
                                       .seat_pipe_od_m = 5 * DT_M_PER_IN,
                                       .seat_collar_od_m = 8 * DT_M_PER_IN};
        dt_window window = {0};
        dt_section_check got;
        assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
        dt_section_test(&window, NULL, 5000 * FT, 10000 * FT, true, &got);
        assert_false(got.ok);
        const dt_reason *why = &got.why;
        assert_int_equal(why->rule, DT_RULE_INFLUX_VOLUME);
        assert_int_equal(why->have > 0, side > 0);
        char *text = NULL;
        assert_int_equal(dt_reason_sentence(why, &c.well, DT_DISPLAY_FIELD, &text), DT_OK);
        assert_int_equal(strstr(text, "15.0 bbl is asked for, and the kick tolerance is none") !=
                             NULL,
                         side < 0);
        assert_int_equal(strstr(text, "15.0 bbl is needed, ") != NULL, side > 0);
        assert_null(strstr(text, "-"));
        free(text);
        dt_window_free(&window);
    }
}

#define RANDOM_WELLS 400

/** Every seat's limits against a foot-by-foot search that looks at every exposed depth. */
static void check_limits(const coded_well *c, const dt_seats *s)
{
    for (size_t i = 1; i + 1 < s->count; ++i) {
        const dt_seat *seat = &s->items[i];
        double below = i + 2 == s->count ? s->items[i + 1].shoe_m : s->items[i + 1].shallowest_m;
        double above = i == 1 ? s->items[0].shoe_m : s->items[i - 1].deepest_m;
        assert_true(slow_section_ok(&c->well, seat->shallowest_m + 1e-6, below, FT));
        if (above < seat->deepest_m)
            assert_true(slow_section_ok(&c->well, above, seat->deepest_m - 1e-6, FT));
        bool placed = seat->why_shallowest.rule == DT_RULE_FRESH_WATER ||
                      seat->why_shallowest.rule == DT_RULE_AVOID_SHOE ||
                      seat->why_shallowest.rule == DT_RULE_BELOW_CONDUCTOR;
        if (!placed) assert_false(slow_section_ok(&c->well, seat->shallowest_m - FT, below, FT));
        placed = seat->why_deepest.rule == DT_RULE_AVOID_SHOE ||
                 seat->why_deepest.rule == DT_RULE_ABOVE_OBJECTIVE;
        if (!placed) assert_false(slow_section_ok(&c->well, above, seat->deepest_m + FT, FT));
        assert_true(slow_shoe_ok(&c->well, seat->shoe_m));
    }
}

static void check_chosen(const coded_well *c, const dt_seats *s)
{
    for (size_t i = 1; i < s->count; ++i)
        assert_true(slow_section_ok(&c->well, s->items[i - 1].shoe_m + 1e-6,
                                    s->items[i].shoe_m - 1e-6, FT));
}

static void random_wells_against_the_slow_way(void **state)
{
    (void)state;
    uint64_t r = 20261125;
    size_t planned = 0, refused = 0, by_count[20] = {0};
    for (int i = 0; i < RANDOM_WELLS; ++i) {
        coded_well c;
        random_well(&c, &r);
        chosen got;
        choose(&c, &got);
        if (got.status == DT_OK) {
            ++planned;
            ++by_count[got.seats.count];
            check_limits(&c, &got.seats);
            check_chosen(&c, &got.seats);
        } else {
            ++refused;
        }
        release(&got);
    }
    printf("%zu planned, %zu refused; strings 2:%zu 3:%zu 4:%zu 5:%zu 6:%zu\n", planned, refused,
           by_count[2], by_count[3], by_count[4], by_count[5], by_count[6]);
    assert_true(planned > RANDOM_WELLS / 4 && refused > 0);
    assert_true(by_count[3] > 0 && by_count[4] > 0 && by_count[5] > 0);
}

/* ---- holes whose sizes are known ------------------------------------------------------------- */

enum { LADDER_STRINGS = 4 };

/** A ladder of 17-1/2, 12-1/4, 8-1/2 in holes, with what the shipped bases ask of them. */
static void ladder_rules(bool diverter, dt_hole_rules *rules, slow_hole *slow)
{
    static const struct {
        double hole_in, collar_in, wanted_bbl, ecd_ppg;
    } holes[LADDER_STRINGS] = {{0}, {17.5, 8, 100, 0}, {12.25, 8, 50, 0}, {8.5, 6.5, 25, 0.2}};
    const double in = DT_M_PER_IN, bbl = DT_M3_PER_BBL;
    for (size_t k = 1; k < LADDER_STRINGS; ++k) {
        const bool shut_in = !(k == 1 && diverter);
        rules[k] = (dt_hole_rules){.hole_m = holes[k].hole_in * in,
                                   .diverter = !shut_in,
                                   .tier = DT_TIER_WANTED,
                                   .least_m3 = shut_in ? 25 * bbl : NAN,
                                   .wanted_m3 = shut_in ? holes[k].wanted_bbl * bbl : NAN,
                                   .assembly = {.hole_m = holes[k].hole_in * in,
                                                .pipe_od_m = 5 * in,
                                                .collar_od_m = holes[k].collar_in * in,
                                                .collar_m = 600 * FT},
                                   .ecd_kgm3 = holes[k].ecd_ppg * PPG,
                                   .most_length_m = shut_in ? 8000 * FT : 3000 * FT,
                                   .most_pore_kgm3 = shut_in ? INFINITY : 9.2 * PPG};
        slow[k] = (slow_hole){.diverter = !shut_in,
                              .most_length_m = rules[k].most_length_m,
                              .most_pore_kgm3 = rules[k].most_pore_kgm3,
                              .ecd_kgm3 = rules[k].ecd_kgm3,
                              .least_m3 = rules[k].least_m3,
                              .wanted_m3 = rules[k].wanted_m3,
                              .hole_m = rules[k].hole_m,
                              .pipe_m = 5 * in,
                              .collar_m = holes[k].collar_in * in,
                              .collar_length_m = 600 * FT};
    }
    rules[0] = rules[1];
    rules[LADDER_STRINGS] = rules[LADDER_STRINGS - 1];
}

/** Each seat of a ladder is the shallowest and the deepest that its holes let it be. */
static void check_ladder(const coded_well *c, const dt_seats *s, const slow_hole *holes)
{
    for (size_t i = 1; i + 1 < s->count; ++i) {
        const dt_seat *seat = &s->items[i];
        const double below =
            i + 2 == s->count ? s->items[i + 1].shoe_m : s->items[i + 1].shallowest_m;
        const double above = i == 1 ? s->items[0].shoe_m : s->items[i - 1].deepest_m;
        const dt_rule high = seat->why_shallowest.rule, deep = seat->why_deepest.rule;
        assert_true(slow_drilled_ok(&c->well, &holes[i + 1], seat->shallowest_m + 1e-6, below, FT));
        assert_true(slow_drilled_ok(&c->well, &holes[i], above, seat->deepest_m - 1e-6, FT));
        if (high != DT_RULE_FRESH_WATER && high != DT_RULE_AVOID_SHOE &&
            high != DT_RULE_BELOW_CONDUCTOR)
            assert_false(
                slow_drilled_ok(&c->well, &holes[i + 1], seat->shallowest_m - FT, below, FT));
        if (deep != DT_RULE_AVOID_SHOE && deep != DT_RULE_ABOVE_OBJECTIVE)
            assert_false(slow_drilled_ok(&c->well, &holes[i], above, seat->deepest_m + FT, FT));
    }
}

/** Rules by hole: seats of a fixed ladder against a search foot by foot, with the bit all the way
 * down each hole. Which ladder is the best of all such a search cannot decide. */
static void seats_of_a_ladder_against_the_slow_way(void **state)
{
    (void)state;
    uint64_t r = 20261127;
    size_t laid = 0, by_influx = 0;
    for (int i = 0; i < RANDOM_WELLS; ++i) {
        coded_well c;
        dt_window window = {0};
        dt_seats seats = {0};
        dt_hole_rules rules[LADDER_STRINGS + 1];
        slow_hole holes[LADDER_STRINGS] = {0};
        random_well(&c, &r);
        c.well.pin_count = 0;
        c.well.kick = (dt_kick_wishes){
            .influx_kgm3 = 230, .intensity_kgm3 = 0.5 * PPG, .seat_volume_m3 = NAN};
        ladder_rules(i % 2, rules, holes);
        const size_t pins[] = {DT_NO_INDEX, DT_NO_INDEX, DT_NO_INDEX, DT_NO_INDEX};
        const dt_seat_plan plan = {.count = LADDER_STRINGS, .pins = pins, .rules = rules};
        assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
        const dt_status status = dt_seats_lay(&window, &plan, &seats);
        if (status == DT_OK) {
            ++laid;
            for (size_t k = 1; k + 1 < seats.count; ++k)
                by_influx += seats.items[k].why_shallowest.rule == DT_RULE_KICK_WANTED ||
                             seats.items[k].why_shallowest.rule == DT_RULE_KICK_LEAST;
            check_ladder(&c, &seats, holes);
        } else {
            assert_int_equal(status, DT_E_NONE);
        }
        dt_seats_free(&seats);
        dt_window_free(&window);
    }
    printf("%zu ladders laid, %zu seats by an influx\n", laid, by_influx);
    assert_true(laid > 20 && by_influx > 10);
}

/** Count of strings against a search over all grid depths that assumes nothing about order. */
static void fewest_strings_against_the_slow_way(void **state)
{
    (void)state;
    uint64_t r = 7;
    size_t compared = 0;
    for (int i = 0; i < 60; ++i) {
        coded_well c;
        random_well(&c, &r);
        chosen got;
        choose(&c, &got);
        bool surface =
            isfinite(c.well.fresh_water_m) &&
            c.well.fresh_water_m + c.well.fresh_water_cover_m > got.seats.items[0].shoe_m;
        size_t slow = slow_fewest(&c.well, got.seats.items[0].shoe_m, 100 * FT, surface);
        /* The grid misses seats that fit only between its depths, so it may need more, never fewer.
         */
        if (got.status == DT_OK && slow > 0) {
            assert_true(slow >= got.seats.count - 1);
            if (slow == got.seats.count - 1) ++compared;
        }
        if (got.status == DT_E_NONE) assert_int_equal(slow, 0);
        release(&got);
    }
    printf("%zu wells with the same count on the grid\n", compared);
    assert_true(compared > 15);
}

static size_t sections_with_pin(const coded_well *c, size_t seat, double shoe_m, bool *broken)
{
    coded_well pinned = *c;
    pinned.well.pore.points = pinned.pore;
    pinned.well.fracture.points = pinned.fracture;
    pinned.well.intervals = pinned.intervals;
    pinned.well.seats.round_to_m = NAN;
    coded_pin(&pinned, seat == 1 ? DT_SURFACE : DT_INTERMEDIATE, shoe_m / FT);
    chosen got;
    choose(&pinned, &got);
    size_t sections = got.status == DT_OK ? got.seats.count - 1 : SIZE_MAX;
    *broken = got.seats.broken_count > 0;
    release(&got);
    return sections;
}

/** Any depth between shallowest and deepest works with the same count; a foot outside never does.
 */
static void a_seat_between_its_limits_works(void **state)
{
    (void)state;
    uint64_t r = 99;
    size_t inside = 0, outside = 0;
    for (int i = 0; i < 200; ++i) {
        coded_well c;
        random_well(&c, &r);
        chosen got;
        choose(&c, &got);
        for (size_t k = 1; got.status == DT_OK && k + 1 < got.seats.count; ++k) {
            const dt_seat *seat = &got.seats.items[k];
            double at = between(&r, seat->shallowest_m, seat->deepest_m);
            bool broken = false;
            if (slow_shoe_ok(&c.well, at)) {
                assert_int_equal(sections_with_pin(&c, k, at, &broken), got.seats.count - 1);
                assert_false(broken);
                ++inside;
            }
            double shallower = seat->shallowest_m - FT, deeper = seat->deepest_m + FT;
            /* A metre below the conductor, and above the objective, is our own least section. */
            if (seat->why_shallowest.rule != DT_RULE_BELOW_CONDUCTOR &&
                sections_with_pin(&c, k, shallower, &broken) == got.seats.count - 1)
                assert_true(broken);
            if (deeper < c.well.objective_m - FT &&
                seat->why_deepest.rule != DT_RULE_ABOVE_OBJECTIVE &&
                sections_with_pin(&c, k, deeper, &broken) == got.seats.count - 1)
                assert_true(broken);
            ++outside;
        }
        release(&got);
    }
    printf("%zu seats inside, %zu outside\n", inside, outside);
    assert_true(inside > 100 && outside > 100);
}

/** A weaker fracture curve never makes a section longer. */
static void weaker_rock_never_lengthens_a_section(void **state)
{
    (void)state;
    uint64_t r = 5;
    size_t compared = 0;
    for (int i = 0; i < 200; ++i) {
        coded_well c;
        random_well(&c, &r);
        chosen strong, weak;
        choose(&c, &strong);
        size_t point = draw(&r) % c.well.fracture.count;
        c.fracture[point].emw_kgm3 -= between(&r, 0, 1) * PPG;
        choose(&c, &weak);
        if (weak.status == DT_OK) {
            assert_int_equal(strong.status, DT_OK);
            assert_true(weak.seats.count >= strong.seats.count);
            for (size_t k = 1; weak.seats.count == strong.seats.count && k + 1 < weak.seats.count;
                 ++k) {
                assert_true(weak.seats.items[k].deepest_m <=
                            strong.seats.items[k].deepest_m + 1e-5);
                assert_true(weak.seats.items[k].shallowest_m >=
                            strong.seats.items[k].shallowest_m - 1e-5);
                ++compared;
            }
        }
        release(&strong);
        release(&weak);
    }
    assert_true(compared > 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(straight_lines_by_hand),
        cmocka_unit_test(rounding_goes_deeper_and_keeps_exact_steps),
        cmocka_unit_test(fresh_water_deepens_the_surface_shoe),
        cmocka_unit_test(fresh_water_asks_for_a_surface_string),
        cmocka_unit_test(intervals_move_seats),
        cmocka_unit_test(no_window_names_what_collides),
        cmocka_unit_test(pins_are_kept_and_broken_rules_told),
        cmocka_unit_test(pins_without_a_shoe_ask_for_a_string),
        cmocka_unit_test(a_driven_conductor_may_be_pinned),
        cmocka_unit_test(a_pinned_production_shoe_is_the_objective),
        cmocka_unit_test(no_influx_is_borne_below_the_zero_gain),
        cmocka_unit_test(random_wells_against_the_slow_way),
        cmocka_unit_test(seats_of_a_ladder_against_the_slow_way),
        cmocka_unit_test(fewest_strings_against_the_slow_way),
        cmocka_unit_test(a_seat_between_its_limits_works),
        cmocka_unit_test(weaker_rock_never_lengthens_a_section),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
