/* SPDX-License-Identifier: MIT */
/* Points made of offset wells, and customary spreads: moved from datum to datum by hand, trends
 * against closed forms and least squares worked by hand. */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "basis.h"
#include "offsets.h"
#include "units.h"

static dt_well *read_text(const char *text)
{
    dt_report report;
    dt_report_init(&report, "test.xml");
    dt_well *well = NULL;
    if (dt_well_parse(text, strlen(text), &report, &well) != DT_OK) {
        for (size_t i = 0; i < report.count; ++i)
            print_error("%s\n", report.items[i].text);
        fail();
    }
    dt_report_free(&report);
    return well;
}

#define HEAD                                                                                       \
    "<well xmlns='urn:drawtube:well:1' name='Test (invented)' basis='bare'>"                       \
    "<datum rig_floor='%g m' over='%s' %s/><objective depth='3000 m' min_pipe_od='7 in'/>"         \
    "<conductor method='drilled' depth='%g m'/>"

/** A well of three leak-offs that lie on level + 100 ln(z / 1000 m) below the ground, exactly. */
static void offset_text(char *out, size_t size, const char *name, double floor_m, double water_m,
                        double away_m, double level)
{
    const double depths[] = {500, 1200, 2600};
    size_t used =
        (size_t)snprintf(out, size, "<offset name='%s' rig_floor='%.17g m' distance='%.17g m'",
                         name, floor_m, away_m);
    if (water_m > 0)
        used += (size_t)snprintf(out + used, size - used, " water_depth='%.17g m'", water_m);
    used += (size_t)snprintf(out + used, size - used, ">");
    for (size_t i = 0; i < 3; ++i) {
        const double z = depths[i], tvd = floor_m + water_m + z;
        const double emw = (1025 * water_m + (level + 100 * log(z / 1000)) * z) / tvd;
        used += (size_t)snprintf(out + used, size - used,
                                 "<reading what='leak-off' depth='%.17g m' emw='%.17g kg/m3'/>",
                                 tvd, emw);
    }
    snprintf(out + used, size - used,
             "<reading what='mud' depth='%.17g m' emw='1200 kg/m3'/></offset>",
             floor_m + water_m + 2800);
}

static dt_well *well_of(double floor_m, double water_m, double away_m, double level)
{
    char head[600], water[64] = "", one[1200], two[1200], text[4000];
    if (water_m > 0) snprintf(water, sizeof water, "water_depth='%g m'", water_m);
    snprintf(head, sizeof head, HEAD, floor_m, water_m > 0 ? "sea" : "ground", water,
             floor_m + water_m + 60);
    offset_text(one, sizeof one, "A", 20, water_m > 0 ? 300 : 0, away_m, level);
    offset_text(two, sizeof two, "B", 45, water_m > 0 ? 80 : 0, away_m, level);
    snprintf(text, sizeof text, "%s<offsets>%s%s</offsets></well>", head, one, two);
    return read_text(text);
}

/* Tests on a trend with the customary slope, at wells of other datums: nothing is left over, and
 * the scatter is the customary one as 4 tests among 4 + 6 - 1. */
static void exact_tests_give_their_trend(void **state)
{
    (void)state;
    dt_well *well = well_of(25, 500, 10000, 1800);
    const dt_offset_trend *t = &well->offset_trend;
    assert_true(well->fracture_by_offsets && well->pore_by_offsets);
    assert_int_equal(t->tests, 6);
    assert_int_equal(t->wells, 3);
    assert_within(t->level_kgm3, 1800, 1e-6);
    assert_within(t->slope_kgm3, 100, 1e-6);
    assert_within(t->scatter_kgm3, 120 * sqrt(4 / 9.0), 1e-3);
    assert_within(t->shallowest_m, 500, 1e-9);
    assert_within(t->deepest_m, 2600, 1e-9);
    assert_within(dt_offset_fracture(well, t, 2600).rock_kgm3, 1800 + 100 * log(2.6), 1e-6);
    dt_well_free(well);
}

/* Water and air are taken off at the offset well and put on at this one: the density of the rock
 * column alone moves. Worked by hand: tests at z of 1,000 m, 1.5 sg at 1,120 m below a rig floor
 * 20 m over 100 m of sea: 1500 x 1120 - 1025 x 100 = 1,577,500 kg/m2, 1,577.5 kg/m3. */
static void datum_moves_by_hand(void **state)
{
    (void)state;
    dt_well well;
    dt_well_start(&well);
    well.over_sea = true;
    well.rig_floor_m = 30;
    well.water_depth_m = 400;
    dt_offset_reading r = {.what = DT_OFFSET_LEAK_OFF, .tvd_m = 1120, .emw_kgm3 = 1500};
    const dt_offset offset = {
        .rig_floor_m = 20, .water_depth_m = 100, .readings = &r, .reading_count = 1};
    assert_within(dt_offset_below_m(&offset, &r), 1000, 1e-9);
    assert_within(dt_offset_rock_kgm3(&well, &offset, &r), 1577.5, 1e-9);
    /* on land there is air alone: 1500 x 1020 / 1000 */
    well.over_sea = false;
    const dt_offset land = {.rig_floor_m = 20, .readings = &r, .reading_count = 1};
    r.tvd_m = 1020;
    assert_within(dt_offset_rock_kgm3(&well, &land, &r), 1530, 1e-9);
}

/* One deep test at each of n wells side by side is a mean: with the slope of no account (x = 0 at
 * 1,000 m) level = mean, and variance of a new well's test by hand. */
static void tests_at_one_depth_are_a_mean(void **state)
{
    (void)state;
    dt_well well;
    dt_well_start(&well);
    dt_offset_reading r[3];
    dt_offset o[3];
    const double values[3] = {1700, 1800, 1930};
    for (size_t i = 0; i < 3; ++i) {
        r[i] =
            (dt_offset_reading){.what = DT_OFFSET_LEAK_OFF, .tvd_m = 1000, .emw_kgm3 = values[i]};
        o[i] = (dt_offset){.readings = &r[i], .reading_count = 1};
    }
    well.offsets = o;
    well.offset_count = 3;
    dt_offset_trend t;
    assert_int_equal(dt_offset_trend_fit(&well, &t), DT_OK);
    assert_within(t.level_kgm3, 1810, 1e-9); /* (1700 + 1800 + 1930) / 3 */
    assert_within(t.slope_kgm3, 100, 1e-9);  /* the customary one */
    /* a test: 1 + (300 / 1000)^2 = 1.09, and 0.2 between wells: 1.29. Squares left over:
     * (110^2 + 10^2 + 120^2) / 1.29 = 20620.155; scatter^2 = (4 x 120^2 + 20620.155) / (4 + 3 - 1)
     * = 13036.693; a new test: x (1.29 + 1.29 / 3) */
    assert_within(t.scatter_kgm3 * t.scatter_kgm3, (4 * 14400 + 26600 / 1.29) / 6, 1e-6);
    const dt_offset_value v = dt_offset_fracture(&well, &t, 1000);
    assert_within(v.rock_kgm3, 1810, 1e-9);
    assert_within(v.sd_kgm3, sqrt((4 * 14400 + 26600 / 1.29) / 6 * 1.29 * 4 / 3), 1e-6);
    assert_false(v.beyond);
    assert_true(dt_offset_fracture(&well, &t, 1100).beyond);
    /* further off is less sure: 25 km add 0.5 to the 1.29 of each well */
    for (size_t i = 0; i < 3; ++i)
        o[i].distance_m = 25000;
    assert_int_equal(dt_offset_trend_fit(&well, &t), DT_OK);
    const double s2 = (4 * 14400 + 26600 / 1.79) / 6;
    assert_within(dt_offset_fracture(&well, &t, 1000).sd_kgm3, sqrt(s2 * (1.29 + 1.79 / 3)), 1e-6);
}

/* Straight between the readings of a hole; a kick shows the pore pressure, mud stands 0.05 sg over
 * it. Worked by hand. */
static void pore_is_the_mean_of_muds(void **state)
{
    (void)state;
    dt_well well;
    dt_well_start(&well);
    /* two wells on land, floor at the ground, muds 1,300 and 1,400 kg/m3 at 2,000 m: less 50 */
    dt_offset_reading r[2][2] = {{{.what = DT_OFFSET_MUD, .tvd_m = 2000, .emw_kgm3 = 1300},
                                  {.what = DT_OFFSET_KICK, .tvd_m = 2400, .emw_kgm3 = 1330}},
                                 {{.what = DT_OFFSET_MUD, .tvd_m = 2000, .emw_kgm3 = 1400},
                                  {.what = DT_OFFSET_MUD, .tvd_m = 2400, .emw_kgm3 = 1460}}};
    dt_offset o[2] = {{.readings = r[0], .reading_count = 2},
                      {.readings = r[1], .reading_count = 2}};
    well.offsets = o;
    well.offset_count = 2;
    dt_offset_value v = dt_offset_pore(&well, 2000);
    assert_within(v.rock_kgm3, 1300, 1e-9);
    /* scatter^2 = (4 x 50^2 + 50^2 + 50^2) / (4 + 2 - 1) = 3000, a new well x 1.5 */
    assert_within(v.sd_kgm3, sqrt(4500), 1e-9);
    /* halfway, straight: (1250 + 1330) / 2 and (1350 + 1410) / 2 */
    assert_within(dt_offset_pore(&well, 2200).rock_kgm3, (1290 + 1380) / 2.0, 1e-9);
    v = dt_offset_pore(&well, 2500);
    assert_within(v.rock_kgm3, (1330 + 1410) / 2.0, 1e-9);
    assert_true(v.beyond);
    /* a new hole begins at 2,100 m in the first: its kick holds up to the shoe */
    dt_offset_reading more[3] = {
        r[0][0], {.what = DT_OFFSET_SEAT, .tvd_m = 2100, .emw_kgm3 = NAN}, r[0][1]};
    o[0] = (dt_offset){.readings = more, .reading_count = 3};
    assert_within(dt_offset_pore(&well, 2200).rock_kgm3, (1330 + 1380) / 2.0, 1e-9);
    assert_within(dt_offset_pore(&well, 2050).rock_kgm3, (1250 + 1357.5) / 2.0, 1e-9);
}

/* Nearer wells weigh more, as 1 / (1 + d / 50 km). */
static void nearer_wells_weigh_more(void **state)
{
    (void)state;
    dt_well well;
    dt_well_start(&well);
    dt_offset_reading r[2] = {{.what = DT_OFFSET_KICK, .tvd_m = 2000, .emw_kgm3 = 1200},
                              {.what = DT_OFFSET_KICK, .tvd_m = 2000, .emw_kgm3 = 1500}};
    dt_offset o[2] = {{.readings = &r[0], .reading_count = 1},
                      {.readings = &r[1], .reading_count = 1, .distance_m = 50000}};
    well.offsets = o;
    well.offset_count = 2;
    assert_within(dt_offset_pore(&well, 2000).rock_kgm3, (1200 + 1500 / 2.0) / 1.5, 1e-9);
}

static void tables_are_at_this_datum(void **state)
{
    (void)state;
    dt_well *well = well_of(25, 500, 0, 1800);
    assert_true(well->pore.count > 10 && well->pore.count == well->fracture.count);
    for (size_t i = 0; i < well->fracture.count; ++i) {
        const dt_curve_point *p = &well->fracture.points[i];
        const double z = p->tvd_m - 525;
        const dt_offset_value v = dt_offset_fracture(well, &well->offset_trend, z);
        assert_within(p->emw_kgm3 * p->tvd_m, 1025 * 500.0 + v.rock_kgm3 * z, 1e-6);
        assert_within(p->sd_kgm3 * p->tvd_m, v.sd_kgm3 * z, 1e-6);
        assert_true(p->offsets == 3);
    }
    assert_within(well->fracture.points[well->fracture.count - 1].tvd_m, 3000, 1e-9);
    assert_within(well->fracture.correlation_length_m, 1000, 1e-9);
    dt_well_free(well);
}

/* near the ground, the part that rock is of the depth: 0.3 ppg x (9000 - 30) / 9000 */
static void class_gives_spreads_where_none_is_stated(void **state)
{
    (void)state;
    const char *text =
        "<well xmlns='urn:drawtube:well:1' name='Test (invented)' basis='bare'>"
        "<datum rig_floor='30 ft' over='ground'/><objective depth='9000 ft' min_pipe_od='7 in'/>"
        "<conductor method='drilled' depth='200 ft'/><spread class='offset'/>"
        "<pore_pressure depth_unit='ft' unit='ppg'><point depth='0' value='8.6'/>"
        "<point depth='9000' value='9'/></pore_pressure>"
        "<fracture_gradient depth_unit='ft' unit='ppg'><point depth='0' value='12'/>"
        "<point depth='9000' value='16' sd='0.7'/></fracture_gradient></well>";
    dt_well *well = read_text(text);
    assert_true(isnan(well->pore.points[0].sd_kgm3));
    assert_within(well->pore.points[1].sd_kgm3, 0.3 * DT_KGM3_PER_PPG * 8970 / 9000, 1e-6);
    assert_within(well->pore.correlation_length_m, 3000 * DT_M_PER_FT, 1e-6);
    assert_within(well->fracture.points[1].sd_kgm3, 0.7 * DT_KGM3_PER_PPG, 1e-6);
    assert_true(isnan(well->fracture.points[0].sd_kgm3));
    assert_true(well->spread_given.pore && !well->spread_given.fracture);
    dt_well_free(well);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(exact_tests_give_their_trend),
        cmocka_unit_test(datum_moves_by_hand),
        cmocka_unit_test(tests_at_one_depth_are_a_mean),
        cmocka_unit_test(pore_is_the_mean_of_muds),
        cmocka_unit_test(nearer_wells_weigh_more),
        cmocka_unit_test(tables_are_at_this_datum),
        cmocka_unit_test(class_gives_spreads_where_none_is_stated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
