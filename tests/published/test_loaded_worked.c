/* SPDX-License-Identifier: MIT */
/* Combined loads, worked by hand from the published formulas for 9-5/8 in 47 lb/ft L80
 * (D = 9.625, t = 0.472 in., Ap = 13.572 in2); sources beside each. docs/strength.md says which
 * were read and which are from memory. */
#include "cited.h"
#include "ratings.h"
#include "units.h"
#include "wellhead.h"

static const double in = DT_M_PER_IN, psi = DT_PA_PER_PSI, lbf = DT_N_PER_LBF;
static const double od = 9.625 * DT_M_PER_IN, wall = 0.472 * DT_M_PER_IN;
static const double yield = 80e3 * DT_PA_PER_PSI, tensile = 95e3 * DT_PA_PER_PSI;

static const cited bull_5c3 = {CITED_WORKED, "API Bull 5C3 (1994), 2.1.5"};
static const cited bull_5c3_inside = {CITED_RECALLED, "API Bull 5C3 (1994), 2.1.6"};

/* Sa 30,000 psi gives Ypa 60,664 psi and
 * 4118 psi; with 3000 psi inside the largest outside pressure is 6824 psi. */
static void collapse_by_reduced_yield(void **state)
{
    (void)state;
    double reduced, outside;
    dt_regime regime;
    assert_int_equal(dt_reduced_yield(yield, 30e3 * psi, &reduced), DT_OK);
    assert_cited(&bull_5c3, "yield reduced by 30,000 psi of tension", "psi", reduced / psi, 60664,
                 1);
    assert_int_equal(dt_collapse_loaded(DT_COLLAPSE_REDUCED_YIELD, od, wall, yield, 30e3 * psi, 0,
                                        &outside, &regime),
                     DT_OK);
    assert_cited(&bull_5c3, "collapse under it", "psi", outside / psi, 4118, 2);
    assert_int_equal(regime, DT_REGIME_PLASTIC);
    assert_int_equal(dt_collapse_loaded(DT_COLLAPSE_REDUCED_YIELD, od, wall, yield, 30e3 * psi,
                                        3000 * psi, &outside, NULL),
                     DT_OK);
    assert_cited(&bull_5c3_inside, "outside pressure with 3,000 psi inside", "psi", outside / psi,
                 6824, 2);
}

static const cited tr_5c3 = {CITED_RECALLED, "API TR 5C3, addendum of October 2015, 8.4.6"};

/* The closed form: x = 0.4125, equivalent
 * grade 58,221 psi, collapse difference 4021 psi, outside 7021 psi. */
static void collapse_with_internal_pressure(void **state)
{
    (void)state;
    double outside, plain, combined;
    assert_int_equal(dt_collapse_loaded(DT_COLLAPSE_COMBINED, od, wall, yield, 30e3 * psi,
                                        3000 * psi, &outside, NULL),
                     DT_OK);
    assert_cited(&tr_5c3, "outside pressure with 3,000 psi inside", "psi", outside / psi, 7021, 2);
    /* without internal pressure the two forms are one */
    for (double Sa = 0; Sa < 60e3; Sa += 5e3) {
        assert_int_equal(
            dt_collapse_loaded(DT_COLLAPSE_COMBINED, od, wall, yield, Sa * psi, 0, &combined, NULL),
            DT_OK);
        assert_int_equal(dt_collapse_loaded(DT_COLLAPSE_REDUCED_YIELD, od, wall, yield, Sa * psi, 0,
                                            &plain, NULL),
                         DT_OK);
        assert_close(combined, plain, 1e-12);
    }
}

static const cited klever_stewart = {CITED_RECALLED,
                                     "ISO/TR 10400:2007 after Klever and Stewart, SPE 48330"};

/* Flaws of 5 and 12.5 % of the wall. */
static void ductile_rupture(void **state)
{
    (void)state;
    double p;
    assert_int_equal(dt_ductile_rupture(od, wall, yield, tensile, 0.875, 0.05 * wall, 1, &p),
                     DT_OK);
    assert_cited(&klever_stewart, "ductile rupture, flaw of 5 %", "psi", p / psi, 8094, 2);
    assert_int_equal(dt_ductile_rupture(od, wall, yield, tensile, 0.875, 0.125 * wall, 1, &p),
                     DT_OK);
    assert_cited(&klever_stewart, "ductile rupture, flaw of 12.5 %", "psi", p / psi, 7330, 2);
}

static const cited lame = {CITED_WORKED,
                           "Lame's stresses of a thick wall, von Mises; a beam's bending"};

/* 6000 psi inside, 2000 outside, 500,000 lbf: 42,863 psi, straight; 45,964 psi at
 * the inner wall, tension side, in a dogleg of 3 deg/100 ft (bending 6300 psi at the outside). */
static void triaxial_stress(void **state)
{
    (void)state;
    const double degrees = 3.14159265358979323846 / 180,
                 curvature = 3 * degrees / (100 * DT_M_PER_FT);
    dt_pipe_load load = {6000 * psi, 2000 * psi, 500e3 * lbf, 0};
    double stress;
    dt_wall_point point;
    assert_int_equal(dt_triaxial(od, wall, &load, &stress, &point), DT_OK);
    assert_cited(&lame, "triaxial stress, straight", "psi", stress / psi, 42863, 3);
    assert_int_equal(point, DT_WALL_INSIDE);
    assert_cited(&lame, "bending at 3 deg/100 ft", "psi", dt_bending_stress(od, curvature) / psi,
                 6300, 1);
    load.curvature_radm = curvature;
    assert_int_equal(dt_triaxial(od, wall, &load, &stress, &point), DT_OK);
    assert_cited(&lame, "triaxial stress, bent", "psi", stress / psi, 45964, 5);
    assert_int_equal(point, DT_WALL_INSIDE_TENSION);
}

static const cited spec_6a = {CITED_READ,
                              "crcwellhead.com, understanding API 6A: 2,000, 3,000, 5,000, 10,000, "
                              "15,000 and 20,000 psi"};

/* The smallest class that bears a pressure. */
static void working_pressure_classes(void **state)
{
    (void)state;
    static const double cases[][2] = {{1, 2000},      {2000, 2000},   {2001, 3000},
                                      {4999, 5000},   {5001, 10000},  {10492, 15000},
                                      {15000, 15000}, {15001, 20000}, {20000, 20000}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        char which[32];
        snprintf(which, sizeof which, "for %.0f psi", cases[i][0]);
        assert_cited_row(&spec_6a, "working-pressure class", "psi", which,
                         dt_working_pressure_psi(cases[i][0] * psi), cases[i][1], 0);
    }
    assert_within(dt_working_pressure_psi(0), 0, 0);
    assert_true(isnan(dt_working_pressure_psi(20001 * psi)));
}

static const cited euler = {CITED_WORKED,
                            "Euler's column and the parabola below it, as handbooks give them"};

/* Columns of 13-3/8 in 68 lb/ft J55 (t 0.480), Cc = sqrt(2 pi^2 E/Fy) = 103.8. 30 ft free at the
 * top 231 klbf; 15 ft 760 klbf, slenderness 78.9; 30 ft held at the top, K 0.7, is not slender: its
 * Euler load of 1888 klbf is above what it bears. */
static void columns_worked(void **state)
{
    (void)state;
    const double d = 13.375 * in, t = 0.480 * in, fy = 55e3 * psi, ft = DT_M_PER_FT;
    double load, ratio, limit;
    assert_int_equal(dt_column_strength(d, t, fy, 30 * ft, 2, &load, &ratio, &limit), DT_OK);
    assert_cited(&euler, "13-3/8 in 68 lb/ft J55, 30 ft free at the top", "klbf", load / lbf / 1e3,
                 231, 1);
    assert_cited(&euler, "slenderness where the forms meet", "", limit, 103.8, 0.1);
    assert_int_equal(dt_column_strength(d, t, fy, 15 * ft, 2, &load, &ratio, &limit), DT_OK);
    assert_cited(&euler, "the same, 15 ft", "klbf", load / lbf / 1e3, 760, 2);
    assert_cited(&euler, "its slenderness", "", ratio, 78.9, 0.1);
    assert_int_equal(dt_column_strength(d, t, fy, 30 * ft, 0.7, &load, &ratio, &limit), DT_OK);
    assert_true(ratio < limit && load / lbf < 1888e3);
    assert_int_equal(dt_column_strength(d, t, fy, 0, 2, &load, &ratio, &limit), DT_E_DOMAIN);
    /* the two forms meet at the limit, at half the yield */
    const double area = 3.14159265358979323846 * (d - t) * t;
    assert_int_equal(
        dt_column_strength(d, t, fy, 15 * ft * limit / 78.9135, 2, &load, &ratio, &limit), DT_OK);
    assert_close(load, area * fy / 2, 1e-3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(collapse_by_reduced_yield),
        cmocka_unit_test(collapse_with_internal_pressure),
        cmocka_unit_test(ductile_rupture),
        cmocka_unit_test(triaxial_stress),
        cmocka_unit_test(working_pressure_classes),
        cmocka_unit_test(columns_worked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
