/* SPDX-License-Identifier: MIT */
/* Combined loads: the closed forms against the equations of elasticity integrated numerically, and
 * against uniaxial yield in the limits. */
#include "ratings.h"

#include <math.h>
#include <stdint.h>

#include "chance.h"
#include "check.h"
#include "units.h"

static const double in = DT_M_PER_IN, psi = DT_PA_PER_PSI, lbf = DT_N_PER_LBF;
static const double pi = 3.14159265358979323846;

/*
 * A ring in generalised plane strain: u'' + u'/r - u/r^2 = 0, integrated from the inner to the
 * outer wall by Runge and Kutta's method, twice, and joined by three boundary conditions: pressure
 * inside and outside, and the axial force as the integral of the axial stress. Hooke's law for any
 * E and nu: the stresses do not depend on them. No formula of the library is in it.
 */
enum { STEPS = 400 };

typedef struct ring {
    double r[STEPS + 1];
    double u[2][STEPS + 1], slope[2][STEPS + 1]; /* of two independent solutions */
    double part[3];                              /* of the two solutions and the axial strain */
} ring;

static const double lame = 1.2e11, shear = 8e10;

static double curl(double r, double u, double slope)
{
    return u / (r * r) - slope / r;
}

static void integrate(ring *g, int which, double u, double slope)
{
    for (int i = 0; i <= STEPS; ++i) {
        g->u[which][i] = u;
        g->slope[which][i] = slope;
        if (i == STEPS) break;
        const double r = g->r[i], h = g->r[i + 1] - g->r[i];
        const double a1 = slope, b1 = curl(r, u, slope);
        const double a2 = slope + h / 2 * b1;
        const double b2 = curl(r + h / 2, u + h / 2 * a1, slope + h / 2 * b1);
        const double a3 = slope + h / 2 * b2;
        const double b3 = curl(r + h / 2, u + h / 2 * a2, slope + h / 2 * b2);
        const double a4 = slope + h * b3, b4 = curl(r + h, u + h * a3, slope + h * b3);
        u += h / 6 * (a1 + 2 * a2 + 2 * a3 + a4);
        slope += h / 6 * (b1 + 2 * b2 + 2 * b3 + b4);
    }
}

/* Stress of one of the three parts, of unit size, at a node: radial, hoop, axial. */
static void unit_stress(const ring *g, int part, int node, double out[3])
{
    const double radial = part < 2 ? g->slope[part][node] : 0;
    const double hoop = part < 2 ? g->u[part][node] / g->r[node] : 0;
    const double axial = part == 2 ? 1 : 0;
    const double all = lame * (radial + hoop + axial);
    out[0] = all + 2 * shear * radial;
    out[1] = all + 2 * shear * hoop;
    out[2] = all + 2 * shear * axial;
}

static double determinant(double m[3][3])
{
    return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
           m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
           m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
}

static void solve_ring(ring *g, double od, double wall, double inside, double outside, double force)
{
    double m[3][3];
    for (int i = 0; i <= STEPS; ++i)
        g->r[i] = od / 2 - wall + wall * i / STEPS;
    integrate(g, 0, 1e-6, 0);
    integrate(g, 1, 0, 1e-5);
    for (int part = 0; part < 3; ++part) {
        double s[3], sum = 0;
        unit_stress(g, part, 0, s);
        m[0][part] = s[0];
        unit_stress(g, part, STEPS, s);
        m[1][part] = s[0];
        for (int i = 0; i <= STEPS; ++i) { /* Simpson's rule */
            unit_stress(g, part, i, s);
            const double weight = i == 0 || i == STEPS ? 1 : i % 2 ? 4 : 2;
            sum += weight * s[2] * 2 * pi * g->r[i];
        }
        m[2][part] = sum * wall / STEPS / 3;
    }
    const double right[3] = {-inside, -outside, force};
    const double whole = determinant(m);
    for (int part = 0; part < 3; ++part) {
        double swapped[3][3];
        for (int i = 0; i < 3; ++i)
            for (int k = 0; k < 3; ++k)
                swapped[i][k] = k == part ? right[i] : m[i][k];
        g->part[part] = determinant(swapped) / whole;
    }
}

/* Largest von Mises stress anywhere in the wall, bending added with either sign. */
static double worst_stress(const ring *g, double curvature)
{
    double worst = 0;
    for (int i = 0; i <= STEPS; ++i)
        for (int side = -1; side <= 1; side += 2) {
            double s[3] = {0, 0, 0};
            for (int part = 0; part < 3; ++part) {
                double one[3];
                unit_stress(g, part, i, one);
                for (int k = 0; k < 3; ++k)
                    s[k] += g->part[part] * one[k];
            }
            s[2] += side * 30e6 * psi * curvature * g->r[i]; /* beam: strain is curvature x arm */
            worst =
                fmax(worst, sqrt(((s[0] - s[1]) * (s[0] - s[1]) + (s[1] - s[2]) * (s[1] - s[2]) +
                                  (s[2] - s[0]) * (s[2] - s[0])) /
                                 2));
        }
    return worst;
}

static void triaxial_as_integrated(void **state)
{
    (void)state;
    uint64_t seed = 20240117;
    for (int n = 0; n < 300; ++n) {
        const double od = (4.5 + 16 * chance(&seed)) * in;
        const double wall = od * (0.01 + 0.09 * chance(&seed));
        const dt_pipe_load load = {15e3 * psi * chance(&seed), 15e3 * psi * chance(&seed),
                                   (chance(&seed) - 0.4) * 1e6 * lbf,
                                   n % 3 ? chance(&seed) * 10 * pi / 180 / (100 * DT_M_PER_FT) : 0};
        ring g;
        solve_ring(&g, od, wall, load.inside_pa, load.outside_pa, load.axial_n);
        double stress;
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
        assert_close(stress, worst_stress(&g, load.curvature_radm), 2e-6);
    }
}

/* One load alone: yield in tension at the body's yield, with pressure ends of equal pressure on
 * both sides nothing at all, and by pressure alone the thick wall's own yield. */
static void triaxial_is_uniaxial_in_the_limits(void **state)
{
    (void)state;
    uint64_t seed = 7;
    for (int n = 0; n < 200; ++n) {
        const double od = (4.5 + 16 * chance(&seed)) * in;
        const double wall = od * (0.01 + 0.09 * chance(&seed)),
                     yield = (40 + 85 * n / 200.) * 1e3 * psi;
        double body, stress;
        assert_int_equal(dt_body_yield(od, wall, yield, &body), DT_OK);
        dt_pipe_load load = {0, 0, body, 0};
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
        assert_close(stress, yield, 1e-12);
        load.axial_n = -body;
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
        assert_close(stress, yield, 1e-12);
        /* pressure on all sides alone: a rod in a fluid does not yield */
        const double p = 10e3 * psi * chance(&seed);
        load = (dt_pipe_load){p, p, -p * body / yield, 0};
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
        assert_within(stress, 0, 1);
        /* bending alone yields the outer wall when its stress is the yield strength */
        load = (dt_pipe_load){0, 0, 0, yield / (30e6 * psi * od / 2)};
        dt_wall_point point;
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, &point), DT_OK);
        assert_close(stress, yield, 1e-12);
        assert_true(point == DT_WALL_OUTSIDE_TENSION || point == DT_WALL_OUTSIDE_COMPRESSION);
        /* a thin wall, closed ends: hoop p D/2t and axial half of it, von Mises hoop x sqrt(3)/2 */
        const double thin = od * 1e-5, q = 1e3 * psi * chance(&seed);
        load = (dt_pipe_load){q, 0, q * pi / 4 * od * od, 0};
        assert_int_equal(dt_triaxial(od, thin, &load, &stress, NULL), DT_OK);
        assert_close(stress, q * od / (2 * thin) * sqrt(3) / 2, 1e-4);
    }
}

static void a_quick_look_never_misjudges(void **state)
{
    (void)state;
    uint64_t seed = 7;
    size_t sure = 0;
    for (int n = 0; n < 20000; ++n) {
        const double od = (4.5 + 16 * chance(&seed)) * in,
                     wall = od * (0.01 + 0.09 * chance(&seed));
        const dt_wall_shape shape = dt_wall_shape_of(od, wall);
        const dt_pipe_load load = {20e3 * psi * chance(&seed), 20e3 * psi * chance(&seed),
                                   (2 * chance(&seed) - 1) * 1e7,
                                   n % 2 ? chance(&seed) * 0.003 : 0};
        double stress;
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
        /* a limit anywhere, and one within some last digits of the stress */
        const double limit = 150e3 * psi * chance(&seed);
        const dt_triaxial_side side = dt_triaxial_look(&shape, &load, limit);
        if (side == DT_SURELY_UNDER) assert_true(stress < limit);
        if (side == DT_SURELY_OVER) assert_true(stress > limit);
        sure += side != DT_NEAR_LIMIT;
        const double close = stress * (1 + 2e-9 * (chance(&seed) - 0.5));
        assert_int_equal(dt_triaxial_look(&shape, &load, close), DT_NEAR_LIMIT);
    }
    assert_true(sure > 19990);
    const dt_wall_shape shape = dt_wall_shape_of(7 * in, 0.4 * in);
    const dt_pipe_load bad[] = {{NAN, 0, 0, 0}, {0, NAN, 0, 0}, {0, 0, NAN, 0}, {0, 0, 0, NAN}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i)
        assert_int_equal(dt_triaxial_look(&shape, &bad[i], 80e3 * psi), DT_NEAR_LIMIT);
}

static void range_is_the_inverse(void **state)
{
    (void)state;
    uint64_t seed = 99;
    size_t none = 0;
    for (int n = 0; n < 500; ++n) {
        const double od = (4.5 + 16 * chance(&seed)) * in;
        const double wall = od * (0.01 + 0.09 * chance(&seed)), limit = 60e3 * psi;
        dt_pipe_load load = {20e3 * psi * chance(&seed), 5e3 * psi * chance(&seed), 0,
                             chance(&seed) * 0.003};
        double least, most, stress;
        assert_int_equal(dt_triaxial_range(od, wall, &load, limit, &least, &most), DT_OK);
        if (least > most) {
            /* no force will do: not even the best */
            double best = INFINITY;
            for (int i = -200; i <= 200; ++i) {
                load.axial_n = i * 2e4 * lbf;
                assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
                best = fmin(best, stress);
            }
            assert_true(best > limit);
            ++none;
            continue;
        }
        load.axial_n = most;
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
        assert_close(stress, limit, 1e-9);
        load.axial_n = least;
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
        assert_close(stress, limit, 1e-9);
        load.axial_n = (least + most) / 2;
        assert_int_equal(dt_triaxial(od, wall, &load, &stress, NULL), DT_OK);
        assert_true(stress <= limit);
    }
    assert_true(none > 20 && none < 400);
}

/* Within one regime collapse bends down with axial stress: strings rest their bounds on it. */
static void collapse_bends_down_within_a_regime(void **state)
{
    (void)state;
    for (double yield_ksi = 40; yield_ksi <= 125; yield_ksi += 2.5)
        for (double slenderness = 10; slenderness <= 50; slenderness += 0.5) {
            const double od = 9.625 * in, wall = od / slenderness, yield = yield_ksi * 1e3 * psi;
            double before = NAN, now = NAN, p;
            dt_regime regime, was = DT_REGIME_COUNT, were = DT_REGIME_COUNT;
            for (double x = 0; x < 0.75; x += 0.005) {
                if (dt_collapse_axial(od, wall, yield, x * yield, &p, &regime) != DT_OK) break;
                if (regime == was && regime == were) {
                    assert_true(p <= now + 1e-3 || regime == DT_REGIME_ELASTIC);
                    assert_true(before - 2 * now + p <= 2e-6 * now); /* second difference */
                }
                before = now;
                now = p;
                were = was;
                was = regime;
            }
        }
}

static void nothing_is_written_when_refused(void **state)
{
    (void)state;
    double x = 77, y = 77;
    const dt_pipe_load bad[] = {
        {NAN, 0, 0, 0}, {0, INFINITY, 0, 0}, {0, 0, 0, NAN}, {0, 0, NAN, 0}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i)
        assert_int_equal(dt_triaxial(7 * in, 0.4 * in, &bad[i], &x, NULL), DT_E_DOMAIN);
    const dt_pipe_load none = {0, 0, 0, 0};
    assert_int_equal(dt_triaxial(7 * in, 3.5 * in, &none, &x, NULL), DT_E_DOMAIN);
    assert_int_equal(dt_triaxial_range(7 * in, 0.4 * in, &none, 0, &x, &y), DT_E_DOMAIN);
    assert_int_equal(dt_triaxial_range(7 * in, 0.4 * in, &none, NAN, &x, &y), DT_E_DOMAIN);
    assert_int_equal(
        dt_ductile_rupture(7 * in, 0.4 * in, 80e3 * psi, 95e3 * psi, 0.875, 0.4 * in, 1, &x),
        DT_E_DOMAIN); /* the flaw leaves no wall */
    assert_int_equal(
        dt_collapse_loaded(DT_COLLAPSE_COMBINED, 7 * in, 0.4 * in, 80e3 * psi, NAN, 0, &x, NULL),
        DT_E_DOMAIN);
    assert_within(x + y, 154, 0);
}

/* ---- what the formulas do not reach: refused, and the output left as it was ---- */

static double kept;

#define assert_refused(call)                                                                       \
    do {                                                                                           \
        kept = 12345;                                                                              \
        assert_int_equal(call, DT_E_DOMAIN);                                                       \
        assert_within(kept, 12345, 0);                                                             \
    } while (0)

/** A pipe of 9-5/8 in and 80,000 psi with one number replaced by nonsense. */
static void nonsense_is_refused(void **state)
{
    (void)state;
    const double od = 9.625 * in, wall = 0.472 * in, yield = 80000 * psi;
    const double ods[] = {NAN, INFINITY, 0, -od, 2 * wall};
    for (size_t i = 0; i < sizeof ods / sizeof *ods; ++i) {
        assert_refused(dt_collapse(ods[i], wall, yield, &kept, NULL));
        assert_refused(dt_internal_yield(ods[i], wall, yield, 0.875, &kept));
        assert_refused(dt_body_yield(ods[i], wall, yield, &kept));
        assert_refused(dt_ductile_rupture(ods[i], wall, yield, 95000 * psi, 0.875, 0, 1, &kept));
        const dt_pipe_load load = {0};
        assert_refused(dt_triaxial(ods[i], wall, &load, &kept, NULL));
    }
    const double yields[] = {NAN, INFINITY, 0, -yield};
    for (size_t i = 0; i < sizeof yields / sizeof *yields; ++i) {
        assert_refused(dt_collapse(od, wall, yields[i], &kept, NULL));
        assert_refused(dt_collapse_axial(od, wall, yields[i], 0, &kept, NULL));
        assert_refused(dt_internal_yield(od, wall, yields[i], 0.875, &kept));
        assert_refused(dt_body_yield(od, wall, yields[i], &kept));
        assert_refused(dt_reduced_yield(yields[i], 0, &kept));
    }
    /* the standard's collapse formulas are fitted from 20,000 to 160,000 psi */
    assert_refused(dt_collapse(od, wall, 19999 * psi, &kept, NULL));
    assert_refused(dt_collapse(od, wall, 160001 * psi, &kept, NULL));
    assert_int_equal(dt_collapse(od, wall, 20001 * psi, &kept, NULL), DT_OK);
    assert_refused(dt_reduced_yield(yield, NAN, &kept));
    assert_refused(dt_collapse_loaded(DT_COLLAPSE_COMBINED, od, wall, yield, 0, NAN, &kept, NULL));
    assert_refused(dt_collapse_loaded(DT_COLLAPSE_COMBINED, od, wall, yield, NAN, 0, &kept, NULL));
    assert_refused(dt_internal_yield(od, wall, yield, 0, &kept));
    assert_refused(dt_internal_yield(od, wall, yield, 1.01, &kept));
    assert_refused(dt_ductile_rupture(od, wall, yield, 0, 0.875, 0, 1, &kept));
    assert_refused(dt_ductile_rupture(od, wall, 0, 95000 * psi, 0.875, 0, 1, &kept));
    assert_refused(dt_ductile_rupture(od, wall, yield, 95000 * psi, 1.5, 0, 1, &kept));
    assert_refused(dt_ductile_rupture(od, wall, yield, 95000 * psi, 0.875, -1, 1, &kept));
    assert_refused(dt_ductile_rupture(od, wall, yield, 95000 * psi, 0.875, 0, 0.5, &kept));
    /* a flaw as deep as the wall */
    assert_refused(dt_ductile_rupture(od, wall, yield, 95000 * psi, 0.875, 0.875 * wall, 1, &kept));
}

/* A pipe that nothing acts on fails in nothing. */
static void an_unloaded_pipe_has_no_factor(void **state)
{
    (void)state;
    const dt_grade grade = {.name = "L80",
                            .yield_pa = 80000 * psi,
                            .max_yield_pa = 95000 * psi,
                            .tensile_pa = 95000 * psi};
    const dt_pipe pipe = {.od_m = 9.625 * in, .wall_m = 0.472 * in, .grade = &grade};
    const dt_pipe_load load = {0};
    dt_loaded_rating r;
    assert_int_equal(dt_rate_loaded(&pipe, &load, &r), DT_OK);
    assert_true(isinf(r.triaxial_factor) && isinf(r.burst_factor) && isinf(r.tension_factor));
    for (int m = 0; m < DT_COLLAPSE_METHOD_COUNT; ++m)
        assert_true(isinf(r.collapse_factor[m]));
    /* pulled to 99 % of yield, 800 psi are left to collapse by: no figure, not a wrong one */
    const double area = pi / 4 * (pow(9.625, 2) - pow(9.625 - 0.944, 2)) * in * in;
    const dt_pipe_load pulled = {.axial_n = 0.999 * area * 80000 * psi};
    assert_int_equal(dt_rate_loaded(&pipe, &pulled, &r), DT_OK);
    assert_true(isnan(r.collapse_outside_pa[DT_COLLAPSE_REDUCED_YIELD]));
    assert_within(r.tension_factor, 1 / 0.999, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nonsense_is_refused),
        cmocka_unit_test(an_unloaded_pipe_has_no_factor),
        cmocka_unit_test(triaxial_as_integrated),
        cmocka_unit_test(triaxial_is_uniaxial_in_the_limits),
        cmocka_unit_test(a_quick_look_never_misjudges),
        cmocka_unit_test(range_is_the_inverse),
        cmocka_unit_test(collapse_bends_down_within_a_regime),
        cmocka_unit_test(nothing_is_written_when_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
