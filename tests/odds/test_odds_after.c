/* SPDX-License-Identifier: MIT */
/*
 * What comes after the seats in drawn wells, against probabilities that can be written down: a
 * column of cement over one normal fracture point, pipe empty inside over one normal pore point.
 * And the worth of knowing, odds and money.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "edited_well.h"
#include "jobs.h"
#include "numbers.h"
#include "odds.h"
#include "program_parts.h"
#include "random.h"
#include "units.h"
#include "well_in_code.h"

enum { WELLS = DT_FULL_SPEED ? 4000 : 800 };

/** The well of one uncertain number, with another one. Stays where it is: the program borrows of
 * it. */
static void plan_of(const edit *edits, size_t count, job_file *p)
{
    *p = (job_file){.well = edited_well(DT_TESTS "/odds/one-point.xml", edits, count)};
    dt_refusal refusal = {0};
    assert_int_equal(dt_catalogue_load(&p->catalogue), DT_OK);
    assert_int_equal(dt_program_plan(p->well, &p->catalogue, &p->program, &refusal), DT_OK);
}

static dt_odds *odds_of(const job_file *p, size_t samples, unsigned threads)
{
    const dt_odds_options options = {.samples = samples, .seed = 1, .threads = threads};
    dt_odds *odds = NULL;
    assert_int_equal(dt_odds_run(p->program, &options, &odds), DT_OK);
    return odds;
}

/** In how many drawn wells a string breaks so. */
static dt_share breaks_of(const job_file *p, size_t string, const char *code)
{
    dt_uncertains inputs;
    dt_drawn drawn;
    dt_share share = {0, WELLS};
    assert_int_equal(dt_uncertains_collect(p->well, &inputs), DT_OK);
    assert_int_equal(dt_drawn_begin(p->well, &inputs, &drawn), DT_OK);
    for (size_t i = 0; i < WELLS; ++i) {
        dt_window window;
        dt_stage_breaks breaks;
        dt_draw(&drawn, &inputs, 7, 0, i);
        assert_int_equal(dt_window_build(&drawn.well, &window), DT_OK);
        assert_int_equal(dt_program_breaks(p->program, &window, &breaks), DT_OK);
        for (size_t k = 0; k < breaks.count; ++k)
            if (breaks.items[k].string == string && strcmp(breaks.items[k].code, code) == 0)
                ++share.count;
        dt_window_free(&window);
    }
    dt_drawn_free(&drawn);
    dt_uncertains_free(&inputs);
    return share;
}

static void check_share(dt_share share, double p)
{
    assert_within(dt_share_value(share), p, 3.5 * sqrt(p * (1 - p) / (double)share.of));
}

static size_t cause_count(const dt_odds *odds, size_t string, const char *code)
{
    for (size_t i = 0; i < odds->after.cause_count; ++i)
        if (odds->after.causes[i].string == string && strcmp(odds->after.causes[i].code, code) == 0)
            return odds->after.causes[i].count;
    return 0;
}

/**
 * 5,000 ft of slurry of 15.8 ppg under 5,000 ft of mud of 9.3 ppg: 12.55 ppg at the shoe, where the
 * fracture gradient is normal, 13 +- 0.5. Above, the rock bears 16 ppg. Hydrostatics alone.
 */
static void cement_over_a_normal_point(void **state)
{
    (void)state;
    job_file p;
    plan_of(NULL, 0, &p);
    const double bears = dt_normal_below((13 - 12.55) / 0.5);
    check_share(breaks_of(&p, 2, "cement-breaks-formation"), 1 - bears);
    dt_odds *odds = odds_of(&p, 8192, 2);
    assert_int_equal(odds->after.wells, 512);
    assert_int_equal(odds->after.seats.count, 512); /* mud of 9.3 ppg breaks nothing */
    check_share(odds->after.all, bears);
    assert_int_equal(odds->after.by_stage[DT_STAGE_CEMENT].count + odds->after.all.count, 512);
    assert_int_equal(odds->after.by_stage[DT_STAGE_STRENGTH].count, 0);
    assert_int_equal(odds->after.by_stage[DT_STAGE_RUNNING].count, 0);
    assert_int_equal(cause_count(odds, 2, "cement-breaks-formation"), 512 - odds->after.all.count);
    assert_int_equal(odds->money.wells, 0); /* nothing is priced */
    dt_odds_free(odds);
    job_close(&p);
}

/* A pore pressure with a spread at 10,000 ft, and rock that is strong enough. */
static const edit normal_point[] = {
    {"value=\"13\" sd=\"0.5\"", "value=\"16\""},
    {"depth=\"10000\" value=\"9.0\"", "depth=\"10000\" value=\"9.8\" sd=\"0.3\""}};

/**
 * 7 in 26 lb/ft L80 collapses at 5,410 psi (API Bulletin 5C2, table of collapse, from memory).
 * Empty over mud that is 0.3 ppg over the pore pressure, it holds at 10,000 ft while that is at
 * most 5410 / (0.052 x 10,000) - 0.3 ppg, normal here.
 */
static void pipe_over_a_normal_point(void **state)
{
    (void)state;
    job_file p;
    plan_of(normal_point, 2, &p);
    const double gradient_psi_per_ft_ppg = 0.0519481; /* 12 / 231 */
    const double most = 5410 / (gradient_psi_per_ft_ppg * 10000) - 0.3;
    check_share(breaks_of(&p, 2, "full-evacuation"), 1 - dt_normal_below((most - 9.8) / 0.3));
    dt_odds *odds = odds_of(&p, 8192, 2);
    size_t most_counted = 0, sum = 0;
    for (size_t i = 0; i < odds->after.cause_count; ++i) {
        if (odds->after.causes[i].count > most_counted) most_counted = odds->after.causes[i].count;
        sum += odds->after.causes[i].count;
        if (i > 0) assert_true(odds->after.causes[i].count <= odds->after.causes[i - 1].count);
    }
    const size_t broken = odds->after.seats.count - odds->after.all.count;
    assert_true(broken >= most_counted && broken <= sum);
    dt_odds_free(odds);
    job_close(&p);
}

/**
 * Pipe that is empty inside is pressed by the mud it was run in: by what part more in a drawn well
 * is its mud over the mud as stated, whatever the pipe. Pipe that is not pinned and is chosen for
 * loads so much larger holds there; for a little less it need not.
 */
static void spare_of_pipe_is_the_ratio_of_muds(void **state)
{
    (void)state;
    job_file p;
    plan_of(normal_point, 2, &p);
    dt_uncertains inputs;
    dt_drawn drawn;
    size_t broken = 0;
    assert_int_equal(dt_uncertains_collect(p.well, &inputs), DT_OK);
    assert_int_equal(dt_drawn_begin(p.well, &inputs, &drawn), DT_OK);
    for (size_t i = 0; i < 100; ++i) {
        dt_window window;
        dt_stage_breaks breaks;
        dt_draw(&drawn, &inputs, 7, 0, i);
        assert_int_equal(dt_window_build(&drawn.well, &window), DT_OK);
        const dt_stages_asked asked = {(dt_string_set)1 << 2, 0};
        assert_int_equal(dt_program_breaks_of(p.program, &window, asked, &breaks), DT_OK);
        const double pore_ppg = 9.8 + 0.3 * drawn.normals[0];
        for (size_t k = 0; k < breaks.count; ++k, ++broken)
            assert_within(breaks.items[k].spare, (pore_ppg + 0.3) / (9.8 + 0.3) - 1, 1e-6);
        dt_window_free(&window);
    }
    assert_true(broken > 5);
    dt_drawn_free(&drawn);
    dt_uncertains_free(&inputs);
    job_close(&p);
}

/** In the well as it is stated a program breaks what its own notices call stoppers, and no more:
 * a shipped program that closes breaks nothing. */
static void the_well_as_stated_breaks_nothing(void **state)
{
    (void)state;
    static const char *const files[] = {"brackwater-deep.xml", "sandling-south.xml",
                                        "alder-reach.xml"};
    for (size_t i = 0; i < COUNT_OF(files); ++i) {
        job_file p;
        dt_stage_breaks breaks;
        job_open(DT_WELLS, files[i], &p);
        assert_int_equal(dt_program_stoppers(p.program), 0);
        assert_int_equal(dt_program_breaks(p.program, &p.program->window, &breaks), DT_OK);
        for (size_t k = 0; k < breaks.count; ++k)
            print_message("%s: %s\n", files[i], breaks.items[k].code);
        assert_int_equal(breaks.count, 0);
        job_close(&p);
    }
}

/**
 * One shoe, at most 400 ft above a bed whose top is anywhere between 5,000 and 5,600 ft, and not
 * below it: the best depths, 5,000 to 5,200 ft, do for two thirds of the wells, all of the middle
 * third among them. Each third is 200 ft wide, so who knows it always finds a depth. The worth is a
 * third; a well gains 1 or nothing, so its error is sqrt(1/3 x 2/3 / n).
 */
static void worth_of_a_third(void **state)
{
    (void)state;
    static coded_well c;
    coded_start(&c, 300, 10000);
    coded_pore(&c, 0, 10);
    coded_pore(&c, 10000, 10);
    coded_fracture(&c, 0, 14);
    coded_fracture(&c, 10000, 16);
    coded_interval(&c, 5300, 5900, DT_CASE_ABOVE, 400);
    c.intervals[0].top_spread = (dt_depth_spread){
        .distribution = DT_UNIFORM, .sd_m = NAN, .low_m = 5000 * FT, .high_m = 5600 * FT};
    c.well.seats.round_to_m = 50 * FT;
    dt_program program = {.well = &c.well};
    assert_int_equal(dt_window_build(&c.well, &program.window), DT_OK);
    assert_int_equal(dt_seats_choose(&program.window, &program.seats), DT_OK);
    assert_int_equal(program.seats.count, 3);
    program.count = 3;
    enum { SAMPLES = 16000 };
    const dt_odds_options options = {.samples = SAMPLES, .seed = 3, .threads = 2};
    dt_odds *odds = NULL;
    assert_int_equal(dt_odds_run(&program, &options, &odds), DT_OK);
    assert_int_equal(odds->input_count, 1);
    const double error = sqrt(1.0 / 3 * 2 / 3 / SAMPLES);
    assert_within(odds->inputs[0].worth, 1.0 / 3, 3.5 * error);
    assert_within(odds->inputs[0].worth_error, error, 0.05 * error);
    assert_true(isnan(odds->inputs[0].money_worth) && odds->after.wells == 0);
    dt_odds_free(odds);
    dt_seats_free(&program.seats);
    dt_window_free(&program.window);
}

/** Money: the same wells summed one by one, and threads that do not change it. */
static void money_well_by_well(void **state)
{
    (void)state;
    job_file p;
    job_open(DT_WELLS, "brackwater-deep.xml", &p);
    enum { SAMPLES = 300 };
    dt_odds *odds = odds_of(&p, SAMPLES, 1), *other = odds_of(&p, SAMPLES, 3);
    assert_int_equal(odds->money.wells, SAMPLES);
    assert_true(odds->money.cost.expected == other->money.cost.expected);
    assert_int_equal(odds->after.all.count, other->after.all.count);
    for (size_t i = 0; i < odds->input_count; ++i)
        if (isfinite(odds->inputs[i].money_worth))
            assert_true(odds->inputs[i].money_worth == other->inputs[i].money_worth);
    double shoes_m[DT_ODDS_MOST_STRINGS] = {0}, sum = 0, dearest = 0, costs[SAMPLES];
    for (size_t k = 0; k < p.program->seats.count; ++k)
        shoes_m[k] = p.program->seats.items[k].shoe_m;
    dt_moved same;
    assert_int_equal(dt_moved_begin(p.program, shoes_m, &same), DT_OK);
    assert_within(same.program.bill.total, p.program->bill.total, 1e-6);
    dt_uncertains inputs;
    dt_drawn drawn;
    size_t lost = 0;
    assert_int_equal(dt_uncertains_collect(p.well, &inputs), DT_OK);
    assert_int_equal(dt_drawn_begin(p.well, &inputs, &drawn), DT_OK);
    for (size_t i = 0; i < SAMPLES; ++i) {
        dt_window window;
        dt_drawn_cost one;
        dt_draw(&drawn, &inputs, 1, 0, i);
        assert_int_equal(dt_window_build(&drawn.well, &window), DT_OK);
        const dt_fate fate = dt_carried_in(&same.program, &same.carried, &window, &one);
        assert_true(one.cost >= p.program->bill.total - 0.01);
        costs[i] = fate == DT_FATE_LOST ? odds->money.dearest : one.cost;
        if (fate == DT_FATE_LOST)
            ++lost;
        else
            dearest = fmax(dearest, one.cost);
        sum += costs[i];
        dt_window_free(&window);
    }
    assert_int_equal(odds->money.lost.count, lost);
    assert_true(dearest <= odds->money.dearest); /* other seats may come dearer */
    assert_within(odds->money.cost.expected, sum / SAMPLES, 1e-6 * sum / SAMPLES);
    dt_drawn_free(&drawn);
    dt_uncertains_free(&inputs);
    dt_moved_free(&same);
    dt_odds_free(odds);
    dt_odds_free(other);
    job_close(&p);
}

/** The bill of shoes that are moved, held against the same shoes planned. With 3,300 ft sizes and
 * grades are those of the plan; the other two have another grade of liner, and differ between them
 * by what moving one shoe costs. */
static void moved_shoes_are_billed(void **state)
{
    (void)state;
    static const char *const surface[] = {"3300", "3500", "3800"};
    job_file base;
    double planned[3], moved[3];
    job_open(DT_WELLS, "brackwater-deep.xml", &base);
    for (size_t i = 0; i < 3; ++i) {
        char pin[160];
        snprintf(pin, sizeof pin,
                 "<pinned><string role=\"surface\" shoe=\"%s ft\"/></pinned><conductor ",
                 surface[i]);
        const edit edits[] = {{" basis=\"bare\"", ""}, {"<conductor ", pin}};
        dt_well *well = edited_well(DT_WELLS "/brackwater-deep.xml", edits, COUNT_OF(edits));
        dt_program *p = NULL;
        dt_refusal refusal = {0};
        assert_int_equal(dt_program_plan(well, &base.catalogue, &p, &refusal), DT_OK);
        assert_int_equal(p->count, base.program->count);
        double shoes_m[DT_ODDS_MOST_STRINGS] = {0};
        for (size_t k = 0; k < p->count; ++k) {
            assert_within(p->items[k].od_m, base.program->items[k].od_m, 1e-9);
            shoes_m[k] = p->items[k].shoe_tvd_m;
        }
        dt_moved m;
        assert_int_equal(dt_moved_begin(base.program, shoes_m, &m), DT_OK);
        planned[i] = p->bill.total;
        moved[i] = m.program.bill.total;
        dt_moved_free(&m);
        dt_program_free(p);
        dt_well_free(well);
    }
    assert_within(moved[0], planned[0], 0.002 * planned[0]);
    const double more = planned[2] - planned[1];
    assert_true(more > 0);
    assert_within(moved[2] - moved[1], more, 0.02 * more);
    job_close(&base);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cement_over_a_normal_point),
        cmocka_unit_test(pipe_over_a_normal_point),
        cmocka_unit_test(spare_of_pipe_is_the_ratio_of_muds),
        cmocka_unit_test(the_well_as_stated_breaks_nothing),
        cmocka_unit_test(worth_of_a_third),
        cmocka_unit_test(money_well_by_well),
        cmocka_unit_test(moved_shoes_are_billed),
    };
    return cmocka_run_group_tests_name("odds after the seats", tests, NULL, NULL);
}
