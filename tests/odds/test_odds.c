/* SPDX-License-Identifier: MIT */
/*
 * Odds against probabilities that can be written down: straight-line wells in which one or two
 * uncertain numbers decide. Laws of the normal, triangular and uniform distributions.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "drawings.h"
#include "odds.h"
#include "random.h"
#include "well_in_code.h"

enum { SEEDS = DT_FULL_SPEED ? 60 : 20, SAMPLES = 1000 };

/** A program of the stages that odds look at: the well and its seats. */
typedef struct made {
    coded_well c;
    dt_window window;
    dt_program program;
} made;

static void make(made *m)
{
    assert_int_equal(dt_window_build(&m->c.well, &m->window), DT_OK);
    m->program = (dt_program){.well = &m->c.well, .window = m->window};
    assert_int_equal(dt_seats_choose(&m->window, &m->program.seats), DT_OK);
    m->program.count = m->program.seats.count;
    m->program.items = calloc(m->program.count, sizeof *m->program.items);
    assert_non_null(m->program.items);
    for (size_t k = 0; k < m->program.count; ++k)
        m->program.items[k].seat = &m->program.seats.items[k];
}

static void unmake(made *m)
{
    dt_seats_free(&m->program.seats);
    dt_window_free(&m->window);
    free(m->program.items);
}

static dt_odds *run(const made *m, size_t samples, uint64_t seed, unsigned threads)
{
    dt_odds_options options = {.samples = samples, .seed = seed, .threads = threads};
    dt_odds *odds = NULL;
    assert_int_equal(dt_odds_run(&m->program, &options, &odds), DT_OK);
    return odds;
}

/**
 * One hole from 300 to 10,000 ft, mud 10 ppg. Fracture 12 at the top; its last point is what
 * varies around `mean`. The hole holds while that point is at least 10 ppg: nothing else binds.
 */
static void one_point(made *m, double mean_ppg)
{
    memset(m, 0, sizeof *m);
    coded_start(&m->c, 300, 10000);
    coded_pore(&m->c, 0, 10);
    coded_pore(&m->c, 10000, 10);
    coded_fracture(&m->c, 0, 12);
    coded_fracture(&m->c, 10000, mean_ppg);
    m->c.well.fracture.correlation_length_m = NAN;
    m->c.well.pore.correlation_length_m = NAN;
}

/** Over many seeds: the odds within 3 standard errors (at most 2 seeds outside, 0.27 % expected),
 * and their scatter that of a binomial count. */
static void check_probability(const made *m, double p)
{
    double square = 0;
    int outside = 0;
    for (uint64_t seed = 1; seed <= SEEDS; ++seed) {
        dt_odds *odds = run(m, SAMPLES, seed, 1);
        double off = dt_share_value(odds->planned) - p, error = sqrt(p * (1 - p) / SAMPLES);
        assert_within(dt_share_error(odds->planned), error, 0.25 * error);
        if (!(fabs(off) <= 3 * error)) ++outside;
        square += off * off / (error * error);
        dt_odds_free(odds);
    }
    assert_true(outside <= 2);
    /* chi-square with a degree of freedom a seed: 4.5 standard deviations */
    assert_within(square, SEEDS, 4.5 * sqrt(2.0 * SEEDS));
}

/** One run of many realisations; quicker than many runs. */
static void check_once(const made *m, double p)
{
    const size_t samples = 16000;
    dt_odds *odds = run(m, samples, 7, 2);
    assert_within(dt_share_value(odds->planned), p, 3.5 * sqrt(p * (1 - p) / (double)samples));
    dt_odds_free(odds);
}

static void normal_point(void **state)
{
    (void)state;
    made m;
    one_point(&m, 10.4);
    m.c.fracture[1].sd_kgm3 = 0.5 * PPG;
    make(&m);
    check_probability(&m, dt_normal_below(0.4 / 0.5));
    unmake(&m);
}

static void triangular_point(void **state)
{
    (void)state;
    made m;
    one_point(&m, 10.5);
    m.c.well.fracture.distribution = DT_TRIANGULAR;
    m.c.fracture[1].low_kgm3 = 9.5 * PPG;
    m.c.fracture[1].high_kgm3 = 12 * PPG;
    make(&m);
    /* below the mode: (x - low)^2 / ((high - low)(mode - low)) */
    check_probability(&m, 1 - 0.25 / (2.5 * 1.0));
    unmake(&m);
}

static void uniform_point(void **state)
{
    (void)state;
    made m;
    one_point(&m, 10.2);
    m.c.well.fracture.distribution = DT_UNIFORM;
    m.c.fracture[1].low_kgm3 = 9.5 * PPG;
    m.c.fracture[1].high_kgm3 = 10.9 * PPG;
    make(&m);
    check_probability(&m, 0.9 / 1.4);
    unmake(&m);
}

/* Two points at their limits: both hold with 1/4 + asin(rho) / (2 pi), the orthant of the
 * bivariate normal (Sheppard, 1899); rho = exp(-distance / correlation length). */
static void correlated_points(void **state)
{
    (void)state;
    const double lengths_ft[] = {1000, 3000, 10000};
    for (size_t i = 0; i < 3; ++i) {
        made m;
        one_point(&m, 14);
        m.c.well.fracture.count = 0;
        coded_fracture(&m.c, 0, 14);
        coded_fracture(&m.c, 4000, 10 + 1e-9);
        coded_fracture(&m.c, 7000, 10 + 1e-9);
        coded_fracture(&m.c, 10000, 14);
        m.c.fracture[1].sd_kgm3 = m.c.fracture[2].sd_kgm3 = 0.3 * PPG;
        m.c.well.fracture.correlation_length_m = lengths_ft[i] * FT;
        make(&m);
        double rho = exp(-3000 / lengths_ft[i]);
        check_probability(&m, 0.25 + asin(rho) / 6.283185307179586);
        unmake(&m);
    }
}

/* Depths: a shoe stays out of a bed that moves, and below water that may lie deeper. */
static void uncertain_depths(void **state)
{
    (void)state;
    made m;
    one_point(&m, 14);
    coded_pin(&m.c, DT_SURFACE, 4000);
    coded_interval(&m.c, 4100, 4300, DT_AVOID_SHOE, 0);
    m.c.intervals[0].top_spread = (dt_depth_spread){DT_NORMAL, 100 * FT, NAN, NAN};
    make(&m);
    /* inside while -300 < shift < -100 ft */
    check_probability(&m, 1 - (dt_normal_below(-1) - dt_normal_below(-3)));
    unmake(&m);
    one_point(&m, 14);
    coded_pin(&m.c, DT_SURFACE, 4000);
    m.c.well.fresh_water_m = 3900 * FT;
    m.c.well.fresh_water_cover_m = 50 * FT;
    m.c.well.fresh_water_spread = (dt_depth_spread){DT_UNIFORM, NAN, 3700 * FT, 4000 * FT};
    make(&m);
    check_probability(&m, 250.0 / 300);
    unmake(&m);
}

/* A hole that caves: mud of the collapse gradient at the bottom against rock of 12 ppg. Pore is far
 * below it, so the hole holds while that point is at most 12 ppg. */
static void uncertain_collapse(void **state)
{
    (void)state;
    made m;
    dt_curve_point collapse[2];
    one_point(&m, 12);
    coded_point(&m.c.well.collapse, collapse, 0, 9);
    coded_point(&m.c.well.collapse, collapse, 10000, 11.7);
    m.c.well.collapse.correlation_length_m = NAN;
    collapse[1].sd_kgm3 = 0.4 * PPG;
    make(&m);
    check_once(&m, dt_normal_below(0.3 / 0.4));
    dt_odds *odds = run(&m, 2000, 1, 1);
    assert_int_equal(odds->input_count, 1); /* all of the variance is its own */
    assert_int_equal(odds->inputs[0].kind, DT_INPUT_COLLAPSE);
    assert_int_equal(odds->inputs[0].index, 1);
    assert_within(odds->inputs[0].tvd_m / FT, 10000, 1e-9);
    assert_int_equal(odds->inputs[0].low.count, odds->inputs[0].low.of);
    assert_int_equal(odds->inputs[0].high.count, 0); /* the highest fifth is above 12.03 ppg */
    dt_odds_free(odds);
    unmake(&m);
}

/** A well of one section whose fracture gradient is computed, F = (P + S)/2. */
static void check_computed(const char *gradient, void (*check)(const made *, double), double p)
{
    char text[2048];
    snprintf(text, sizeof text,
             "<well xmlns='urn:drawtube:well:1' name='x (invented)' basis='bare'>"
             "<datum rig_floor='0 ft' over='ground'/>"
             "<objective depth='10000 ft' min_pipe_od='7 in'/>"
             "<pore_pressure depth_unit='ft' unit='ppg'><point depth='0' value='11'/>"
             "<point depth='10000' value='16.7' sd='0.4'/></pore_pressure>"
             "<overburden depth_unit='ft' unit='ppg'><point depth='0' value='25'/>"
             "<point depth='10000' value='18'/></overburden>%s"
             "<margins trip='0.5 ppg'/><conductor method='drilled' depth='10 ft'/></well>",
             gradient);
    dt_report report = {0};
    dt_well *well = NULL;
    made m = {0};
    assert_int_equal(dt_report_init(&report, "text"), DT_OK);
    if (dt_well_parse(text, strlen(text), &report, &well) != DT_OK)
        fail_msg("%s", report.items[0].text);
    assert_int_equal(dt_window_build(well, &m.window), DT_OK);
    m.program.well = well;
    m.program.window = m.window;
    assert_int_equal(dt_seats_choose(&m.window, &m.program.seats), DT_OK);
    assert_int_equal(m.program.seats.count, 2);
    check(&m, p);
    dt_seats_free(&m.program.seats);
    dt_window_free(&m.window);
    dt_well_free(well);
    dt_report_free(&report);
}

/* F = (P + S)/2 follows the drawn pore pressure: with a trip margin of 0.5 ppg the bottom holds
 * while P <= S - 0.5/0.5 = 17 ppg. Were F kept, it would hold while P + 0.5 <= 17.35. */
static void computed_gradient_follows_pore(void **state)
{
    (void)state;
    check_computed("<fracture_gradient method='christman' ratio='0.5'/>", check_probability,
                   dt_normal_below(0.3 / 0.4));
}

/* With an error e of the method on top, one for all depths: the bottom holds while
 * 0.15 - dP/2 + e >= 0, of variance 0.2^2 + 0.15^2. Were the hundreds of computed points drawn
 * apart, or the error lost, it would be another number. */
static void computed_gradient_has_one_error(void **state)
{
    (void)state;
    check_computed("<fracture_gradient method='christman' ratio='0.5' sd='0.15 ppg'/>", check_once,
                   dt_normal_below(0.15 / 0.25));
}

/* When the one hole fails, two strings do not do, and one more always mends it here. */
static void strings_needed(void **state)
{
    (void)state;
    made m;
    memset(&m, 0, sizeof m);
    coded_start(&m.c, 300, 10000);
    coded_pore(&m.c, 0, 9);
    coded_pore(&m.c, 10000, 12.5);
    m.c.pore[1].sd_kgm3 = 0.5 * PPG;
    coded_fracture(&m.c, 0, 13);
    coded_fracture(&m.c, 10000, 18);
    m.c.well.pore.correlation_length_m = m.c.well.fracture.correlation_length_m = NAN;
    make(&m);
    assert_int_equal(m.program.seats.count, 2);
    dt_odds *odds = run(&m, 20000, 3, 2);
    double p = dt_normal_below((13 + 5 * 0.03 - 12.5) / 0.5); /* fracture at 300 ft */
    assert_within(dt_share_value(odds->planned), p, 3.5 * sqrt(p * (1 - p) / 20000));
    assert_int_equal(odds->needed[2], odds->planned.count);
    assert_int_equal(odds->needed[3], 20000 - odds->planned.count);
    assert_int_equal(odds->spare.count, 20000);
    assert_int_equal(odds->strings[1].broken[DT_RULE_MUD_LIMIT] +
                         odds->strings[1].broken[DT_RULE_KICK_FIXED],
                     20000 - odds->planned.count);
    dt_odds_free(odds);
    unmake(&m);
}

/* Success needs both of two independent numbers: shares of variance in closed form,
 * S1 = pB^2 pA (1 - pA) / (pA pB (1 - pA pB)). */
static void first_order_shares(void **state)
{
    (void)state;
    made m;
    one_point(&m, 14);
    m.c.well.fracture.count = 0;
    coded_fracture(&m.c, 0, 14);
    coded_fracture(&m.c, 4000, 10 + 0.3 * 0.6744897501960817); /* holds in 75 % */
    coded_fracture(&m.c, 7000, 10 + 1e-9);                     /* holds in 50 % */
    coded_fracture(&m.c, 10000, 14);
    m.c.fracture[1].sd_kgm3 = m.c.fracture[2].sd_kgm3 = 0.3 * PPG;
    make(&m);
    dt_odds *odds = run(&m, 100000, 11, 2);
    double a = 0.75, b = 0.5, whole = a * b * (1 - a * b);
    assert_int_equal(odds->input_count, 2);
    assert_within(odds->inputs[0].tvd_m, 7000 * FT, 1e-6);
    double s0 = a * a * b * (1 - b) / whole, s1 = b * b * a * (1 - a) / whole;
    assert_within(odds->inputs[0].first_order, s0, 4 * odds->inputs[0].first_order_error);
    assert_within(odds->inputs[1].first_order, s1, 4 * odds->inputs[1].first_order_error);
    assert_true(odds->inputs[0].first_order_error < 0.01);
    assert_within(dt_share_value(odds->inputs[0].low), 0, 0);
    assert_within(dt_share_value(odds->inputs[0].high), 0.75, 0.015);
    dt_odds_free(odds);
    unmake(&m);
}

/* ---- the surest seats ---- */

/** One free seat: an intermediate between a low and a high pressure ramp. */
static void one_seat(made *m)
{
    memset(m, 0, sizeof *m);
    coded_start(&m->c, 300, 10000);
    coded_pore(&m->c, 0, 9);
    coded_pore(&m->c, 5000, 9);
    coded_pore(&m->c, 10000, 14);
    coded_fracture(&m->c, 0, 11.5);
    coded_fracture(&m->c, 10000, 18);
    m->c.pore[2].sd_kgm3 = 0.6 * PPG;
    m->c.fracture[1].sd_kgm3 = 0.4 * PPG;
    m->c.well.seats.round_to_m = 50 * FT;
    m->c.well.pore.correlation_length_m = m->c.well.fracture.correlation_length_m = NAN;
    make(m);
    assert_int_equal(m->program.seats.count, 3);
}

/* Every depth on the grid is tried by running the odds for it. */
static void surest_seat_against_all_depths(void **state)
{
    (void)state;
    made m;
    one_seat(&m);
    dt_odds *odds = run(&m, 20000, 5, 2);
    double surest = dt_share_value(odds->robust.odds), best = 0;
    double planned = m.program.seats.items[1].shoe_m;
    for (double at = 1000; at < 10000; at += 150) {
        m.program.seats.items[1].shoe_m = at * FT;
        dt_odds *here = run(&m, 2000, 5, 2);
        best = fmax(best, dt_share_value(here->planned));
        dt_odds_free(here);
    }
    m.program.seats.items[1].shoe_m = planned;
    printf("planned %.3f, surest %.3f, best of all depths %.3f\n", dt_share_value(odds->planned),
           surest, best);
    /* best is the largest of 60 noisy figures, 0.011 each */
    assert_true(surest >= best - 0.03);
    assert_true(surest >= dt_share_value(odds->planned));
    assert_true(dt_share_value(odds->robust_more.odds) >= surest - 0.01);
    dt_odds_free(odds);
    unmake(&m);
}

/* ---- running ---- */

static char *json_of(const made *m, unsigned threads)
{
    dt_odds *odds = run(m, 9000, 77, threads);
    dt_text text = {0};
    assert_int_equal(dt_write_odds_json(&m->program, odds, &text), DT_OK);
    dt_odds_free(odds);
    return text.bytes;
}

static void same_bytes_on_any_number_of_threads(void **state)
{
    (void)state;
    made m;
    one_seat(&m);
    char *one = json_of(&m, 1);
    for (unsigned threads = 2; threads <= 9; threads += 1) {
        char *many = json_of(&m, threads);
        assert_string_equal(many, one);
        free(many);
    }
    free(one);
    unmake(&m);
}

static bool stop_after_one(void *context, size_t done, size_t samples)
{
    (void)samples;
    *(size_t *)context = done;
    return done == 0;
}

static void stopping(void **state)
{
    (void)state;
    made m;
    one_seat(&m);
    size_t done = 0;
    dt_odds_options options = {
        .samples = 1000000, .seed = 1, .threads = 2, .go_on = stop_after_one, .context = &done};
    dt_odds *odds = NULL;
    assert_int_equal(dt_odds_run(&m.program, &options, &odds), DT_OK);
    assert_true(odds->stopped && odds->samples == done && odds->samples < 100000);
    assert_true(odds->searched && odds->planned.of == odds->samples);
    dt_odds_free(odds);
    options.go_on = NULL;
    options.precision = 0.005;
    assert_int_equal(dt_odds_run(&m.program, &options, &odds), DT_OK);
    assert_true(odds->precise && !odds->stopped && odds->samples < 20000);
    assert_true(dt_share_error(odds->planned) <= 0.005);
    dt_odds_free(odds);
    unmake(&m);
}

static void bad_options(void **state)
{
    (void)state;
    made m;
    one_seat(&m);
    dt_odds *odds = NULL;
    dt_odds_options options = {.samples = 0, .threads = 1};
    assert_int_equal(dt_odds_run(&m.program, &options, &odds), DT_E_DOMAIN);
    options.samples = (size_t)1000000000000;
    assert_int_equal(dt_odds_run(&m.program, &options, &odds), DT_E_DOMAIN);
    options.samples = 10;
    options.threads = 1000;
    assert_int_equal(dt_odds_run(&m.program, &options, &odds), DT_E_DOMAIN);
    m.c.pore[2].sd_kgm3 = m.c.fracture[1].sd_kgm3 = NAN;
    options.threads = 1;
    assert_int_equal(dt_odds_run(&m.program, &options, &odds), DT_E_NONE);
    assert_int_equal(dt_odds_input_count(&m.c.well), 0);
    assert_null(odds);
    unmake(&m);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(normal_point),
        cmocka_unit_test(triangular_point),
        cmocka_unit_test(uniform_point),
        cmocka_unit_test(correlated_points),
        cmocka_unit_test(uncertain_depths),
        cmocka_unit_test(uncertain_collapse),
        cmocka_unit_test(computed_gradient_follows_pore),
        cmocka_unit_test(computed_gradient_has_one_error),
        cmocka_unit_test(strings_needed),
        cmocka_unit_test(first_order_shares),
        cmocka_unit_test(surest_seat_against_all_depths),
        cmocka_unit_test(same_bytes_on_any_number_of_threads),
        cmocka_unit_test(stopping),
        cmocka_unit_test(bad_options),
    };
    return cmocka_run_group_tests_name("odds", tests, NULL, NULL);
}
