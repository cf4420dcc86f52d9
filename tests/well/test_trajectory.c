/* SPDX-License-Identifier: MIT */
#include "trajectory.h"

#include "check.h"

static const double pi = 3.14159265358979323846;
static const double deg = 3.14159265358979323846 / 180;

static dt_trajectory built(const dt_station *stations, size_t count)
{
    dt_trajectory t;
    assert_int_equal(dt_trajectory_build(stations, count, &t), DT_OK);
    return t;
}

/* Every TVD comes back through its MD, and no shallower MD has it. */
static void holds_together(const dt_trajectory *t, double deepest_md_m)
{
    for (int i = 0; i <= 2000; ++i) {
        const double md_m = deepest_md_m * i / 2000, tvd_m = dt_trajectory_tvd(t, md_m);
        const double back_m = dt_trajectory_md(t, tvd_m);
        assert_within(dt_trajectory_tvd(t, back_m), tvd_m, 1e-9);
        assert_true(back_m <= md_m + 1e-6);
    }
}

static void no_stations_is_vertical(void **state)
{
    (void)state;
    dt_trajectory t = built(NULL, 0);
    assert_within(dt_trajectory_tvd(&t, 1234.5), 1234.5, 0);
    assert_within(dt_trajectory_md(&t, 1234.5), 1234.5, 0);
    assert_within(dt_trajectory_inclination(&t, 1234.5), 0, 0);
    assert_within(dt_trajectory_curvature(&t, 1234.5), 0, 0);
    assert_true(isnan(dt_trajectory_tvd(&t, -1)));
    assert_true(isnan(dt_trajectory_md(&t, NAN)));
    dt_trajectory_free(&t);
}

/* A quarter circle of radius R: geometry gives TVD = R sin q, departure = R (1 - cos q). */
static void quarter_circle(void **state)
{
    (void)state;
    const double R = 500;
    const dt_station stations[] = {{0, 0, 0.7, 1}, {R * pi / 2, pi / 2, 0.7, 2}};
    dt_trajectory t = built(stations, 2);
    assert_within(t.nodes[1].tvd_m, R, 1e-9);
    assert_within(hypot(t.nodes[1].north_m, t.nodes[1].east_m), R, 1e-9);
    assert_within(atan2(t.nodes[1].east_m, t.nodes[1].north_m), 0.7, 1e-12);
    for (double q = 0.01; q < pi / 2; q += 0.01) {
        assert_within(dt_trajectory_tvd(&t, R * q), R * sin(q), 1e-9);
        assert_within(dt_trajectory_inclination(&t, R * q), q, 1e-9);
        assert_within(dt_trajectory_curvature(&t, R * q), 1 / R, 1e-12);
        assert_within(dt_trajectory_md(&t, R * sin(q)), R * q, 1e-6);
    }
    assert_true(isnan(dt_trajectory_md(&t, R + 0.001))); /* level from the end on */
    assert_within(dt_trajectory_tvd(&t, 5 * R), R, 1e-9);
    dt_trajectory_free(&t);
}

/* A straight slant, two stations of the same direction: no arc to divide by. */
static void slant(void **state)
{
    (void)state;
    const dt_station stations[] = {
        {0, 60 * deg, 1, 1}, {100, 60 * deg, 1, 2}, {300, 60 * deg, 1, 3}};
    dt_trajectory t = built(stations, 3);
    assert_within(dt_trajectory_tvd(&t, 250), 125, 1e-9);
    assert_within(dt_trajectory_md(&t, 125), 250, 1e-9);
    assert_within(dt_trajectory_md(&t, 1000), 2000, 1e-9);
    assert_within(dt_trajectory_curvature(&t, 250), 0, 0);
    dt_trajectory_free(&t);
}

static void round_trips(void **state)
{
    (void)state;
    const dt_station build_and_hold[] = {{0, 0, 0, 1},
                                         {450, 0, 0, 2},
                                         {480, 1e-9, 0.3, 3}, /* smaller than any survey reads */
                                         {900, 32 * deg, 75 * deg, 4},
                                         {1500, 32.5 * deg, 81 * deg, 5},
                                         {1530, 32.5 * deg, 359 * deg, 6},
                                         {2600, 12 * deg, 3 * deg, 7},
                                         {3000, 88 * deg, 10 * deg, 8}};
    dt_trajectory t = built(build_and_hold, 8);
    holds_together(&t, 4000);
    for (size_t i = 0; i < t.count; ++i) {
        assert_within(dt_trajectory_tvd(&t, t.nodes[i].md_m), t.nodes[i].tvd_m, 0);
        assert_within(dt_trajectory_md(&t, t.nodes[i].tvd_m), t.nodes[i].md_m, 1e-6);
    }
    dt_trajectory_free(&t);
}

/* Past level the hole climbs: the first MD of a TVD is on the way down. */
static void climbing_hole(void **state)
{
    (void)state;
    const double R = 400, turn = 130 * deg;
    const dt_station stations[] = {{0, 0, 0, 1},
                                   {1000, 0, 0, 2},
                                   {1000 + R * turn, turn, 0, 3},
                                   {3000, turn, 0, 4},
                                   {4000, 0, 0, 5}};
    dt_trajectory t = built(stations, 5);
    holds_together(&t, 5000);
    assert_within(dt_trajectory_md(&t, 1000 + R), 1000 + R * pi / 2, 1e-2); /* crest: level there */
    assert_within(dt_trajectory_md(&t, 1000 + R * sin(1.2)), 1000 + R * 1.2, 1e-6);
    assert_true(dt_trajectory_md(&t, 1000 + R + 1) > 3000); /* reached again only below */
    dt_trajectory_free(&t);
}

/* Below MD 0 there is rock above the first station: vertical is taken. */
/* A hole that climbs and turns down again within one arc passes its start's depth after the crest's
 * mirror: walked along by the foot, the first MD that reaches a depth is the one told. */
static void undulating_hole(void **state)
{
    (void)state;
    const dt_station stations[] = {{0, 0, 0, 1},
                                   {1000, 0, 0, 2},
                                   {1600, 100 * deg, 0, 3},
                                   {1900, 100 * deg, 0.2, 4},
                                   {2600, 60 * deg, 0.2, 5},
                                   {3000, 95 * deg, 0.2, 6},
                                   {3600, 40 * deg, 0.4, 7}};
    dt_trajectory t = built(stations, 7);
    holds_together(&t, 5000);
    double deepest = 0;
    int turns = 0;
    for (double md = 0; md < 5000; md += 0.3) {
        double tvd = dt_trajectory_tvd(&t, md);
        if (tvd <= deepest) {
            ++turns;
            continue;
        }
        deepest = tvd; /* reached for the first time, within the step */
        double told = dt_trajectory_md(&t, tvd);
        assert_within(dt_trajectory_tvd(&t, told), tvd, 1e-9);
        if (!(told <= md + 1e-6 && told > md - 0.3 - 1e-6))
            fail_msg("%.3f m of TVD at %.3f m of MD, told %.3f", tvd, md, told);
    }
    assert_true(turns > 500);
    dt_trajectory_free(&t);
}

/* The deepest so far, found by walking along, and an objective on the path: rock counts where it is
 * first met, the objective's own depth at the toe. */
static void deepest_so_far_and_toe(void **state)
{
    (void)state;
    dt_station stations[] = {{0, 0, 0, 1},
                             {1000, 0, 0, 2},
                             {1600, 94 * deg, 0, 3},
                             {2400, 88 * deg, 0, 4},
                             {3000, 93 * deg, 0, 5}};
    dt_trajectory t = built(stations, 5);
    double deepest = 0;
    for (double md = 0; md <= 3000; md += 0.25) {
        deepest = fmax(deepest, dt_trajectory_tvd(&t, md));
        assert_within(dt_trajectory_deepest(&t, md), deepest, 1e-3);
        assert_true(dt_trajectory_deepest(&t, md) >= deepest - 1e-9);
    }
    assert_true(dt_trajectory_tvd(&t, 3000) < deepest - 1);
    dt_trajectory_free(&t);

    dt_well well = {.stations = stations, .station_count = 5, .objective_md_m = 2900};
    dt_trajectory plain = built(stations, 5);
    well.objective_m = dt_trajectory_deepest(&plain, 2900);
    assert_int_equal(dt_trajectory_of(&well, &t), DT_OK);
    assert_within(dt_trajectory_md(&t, well.objective_m), 2900, 0);
    assert_within(dt_trajectory_md(&t, well.objective_m + 500), 2900, 0);
    assert_within(dt_trajectory_md(&t, 1200), dt_trajectory_md(&plain, 1200), 0);
    dt_trajectory_free(&t);
    dt_trajectory_free(&plain);
}

static void first_station_below_surface(void **state)
{
    (void)state;
    const dt_station stations[] = {{300, 0, 0, 1}, {600, 10 * deg, 0, 2}};
    dt_trajectory t = built(stations, 2);
    assert_int_equal(t.count, 3);
    assert_within(dt_trajectory_tvd(&t, 300), 300, 1e-9);
    dt_trajectory_free(&t);
}

/* Cutting one arc into pieces changes nothing: the pieces lie on the same circle. */
static void cutting_an_arc(void **state)
{
    (void)state;
    const dt_station whole[] = {{0, 0, 0, 1}, {600, 45 * deg, 1, 2}};
    const dt_station cut[] = {
        {0, 0, 0, 1}, {150, 11.25 * deg, 1, 2}, {151, 11.325 * deg, 1, 3}, {600, 45 * deg, 1, 4}};
    dt_trajectory a = built(whole, 2), b = built(cut, 4);
    for (double md = 0; md <= 700; md += 7)
        assert_within(dt_trajectory_tvd(&a, md), dt_trajectory_tvd(&b, md), 1e-9);
    assert_within(a.nodes[1].north_m, b.nodes[3].north_m, 1e-9);
    assert_within(a.nodes[1].east_m, b.nodes[3].east_m, 1e-9);
    dt_trajectory_free(&a);
    dt_trajectory_free(&b);
}

/* The series meets the closed form where it takes over. */
static void small_angles_join(void **state)
{
    (void)state;
    double below = NAN, above = NAN;
    dt_minimum_curvature(30, 0, 0, 0.99e-4, 0, NULL, NULL, NULL, NULL, &below);
    dt_minimum_curvature(30, 0, 0, 1.01e-4, 0, NULL, NULL, NULL, NULL, &above);
    assert_within(below, 1 + 0.99e-4 * 0.99e-4 / 12, 1e-15);
    assert_within(above, 1 + 1.01e-4 * 1.01e-4 / 12, 1e-15);
    double dogleg = NAN;
    dt_minimum_curvature(30, 0.5, 0, 0.5 + 1e-9, 0, NULL, NULL, NULL, &dogleg, NULL);
    assert_within(dogleg, 1e-9, 1e-15); /* the cosine form gives 0 here */
}

static void refusals(void **state)
{
    (void)state;
    const dt_station backwards[] = {{0, 0, 0, 1}, {100, 0, 0, 2}, {100, 0.1, 0, 3}};
    const dt_station over[] = {{0, 0, 0, 1}, {100, 3.2, 0, 2}};
    const dt_station unread[] = {{0, 0, 0, 1}, {100, NAN, 0, 2}};
    const dt_station half_turn[] = {{0, 0, 0, 1}, {100, pi, 0, 2}};
    const dt_station negative[] = {{-5, 0, 0, 1}, {100, 0, 0, 2}};
    const dt_station bad_start[] = {{0, -0.1, 0, 1}, {100, 0, 0, 2}};
    dt_trajectory t = {.count = 77};
    assert_int_equal(dt_trajectory_build(backwards, 3, &t), DT_E_DOMAIN);
    assert_int_equal(dt_trajectory_build(over, 2, &t), DT_E_DOMAIN);
    assert_int_equal(dt_trajectory_build(unread, 2, &t), DT_E_DOMAIN);
    assert_int_equal(dt_trajectory_build(half_turn, 2, &t), DT_E_DOMAIN);
    assert_int_equal(dt_trajectory_build(negative, 2, &t), DT_E_DOMAIN);
    assert_int_equal(dt_trajectory_build(bad_start, 2, &t), DT_E_DOMAIN);
    assert_int_equal(t.count, 77);
}

/* Stations that are none, and depths before the first. */
static void nonsense_stations_are_refused(void **state)
{
    (void)state;
    const dt_station fine[] = {{.md_m = 0}, {.md_m = 1000, .inclination_rad = 0.3}};
    const dt_station bad[] = {{.md_m = 0},
                              {.md_m = NAN},
                              {.md_m = INFINITY},
                              {.md_m = 1000, .inclination_rad = -0.1},
                              {.md_m = 1000, .inclination_rad = 4},
                              {.md_m = 1000, .inclination_rad = NAN},
                              {.md_m = 1000, .azimuth_rad = NAN}};
    dt_trajectory t;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        const dt_station two[] = {fine[0], bad[i]};
        assert_int_equal(dt_trajectory_build(two, 2, &t), DT_E_DOMAIN);
    }
    assert_int_equal(dt_trajectory_build(fine, 2, &t), DT_OK);
    assert_true(isnan(dt_trajectory_inclination(&t, -1)) &&
                isnan(dt_trajectory_curvature(&t, NAN)));
    /* past the last station the hole goes straight on */
    assert_within(dt_trajectory_inclination(&t, 2000), 0.3, 1e-12);
    assert_within(dt_trajectory_curvature(&t, 2000), 0, 1e-12);
    dt_trajectory_free(&t);
    dt_trajectory_free(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nonsense_stations_are_refused),
        cmocka_unit_test(no_stations_is_vertical),
        cmocka_unit_test(quarter_circle),
        cmocka_unit_test(slant),
        cmocka_unit_test(round_trips),
        cmocka_unit_test(climbing_hole),
        cmocka_unit_test(undulating_hole),
        cmocka_unit_test(deepest_so_far_and_toe),
        cmocka_unit_test(first_station_below_surface),
        cmocka_unit_test(cutting_an_arc),
        cmocka_unit_test(small_angles_join),
        cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
