/* SPDX-License-Identifier: MIT */
/* Ratings against the tables of the standard and against examples worked by hand. */
#include "cited.h"
#include "ratings.h"
#include "table.h"
#include "units.h"

static dt_catalogue catalogue;

static const dt_pipe *find(double od_in, double weight_lbft, const char *grade)
{
    const dt_pipe *pipe =
        dt_pipe_find(&catalogue, od_in * DT_M_PER_IN, weight_lbft * DT_KGM_PER_LBFT, grade);
    if (!pipe) fail_msg("the catalogue has no %g in %g lb/ft %s", od_in, weight_lbft, grade);
    return pipe;
}

static double collapse_psi(double od_in, double wall_in, double yield_psi, dt_regime *regime)
{
    double pa = NAN;
    assert_int_equal(dt_collapse(od_in * DT_M_PER_IN, wall_in * DT_M_PER_IN,
                                 yield_psi * DT_PA_PER_PSI, &pa, regime),
                     DT_OK);
    return pa / DT_PA_PER_PSI;
}

static const cited bull_5c2 = {CITED_RECALLED,
                               "API Bull 5C2, casing performance table (ratings.csv)"};
static const cited engineering_table = {
    CITED_READ, "API Casing Engineering Data Table, sizes 4.500 to 5.000 in, an engineering site's "
                "reprint (ratings_read.csv)"};
static const cited lecture = {
    CITED_READ, "a university's casing design lecture that quotes a cementing handbook"};
static const cited bull_5c3 = {CITED_READ,
                               "API Bull 5C3, 6th ed. (1994), section 2, in a supplier's reprint "
                               "(collapse_factors.csv)"};
static const cited rahman = {
    CITED_READ, "Rahman and Chilingarian, Casing Design Theory and Practice (1995), table 2.4"};
static const cited worked = {CITED_WORKED,
                             "API Bull 5C3, 6th ed. (1994), formulas of docs/strength.md"};
static const cited spec_5ct = {CITED_READ, "API Spec 5CT / ISO 11960, drift table"};

/* ratings.csv: one row, every figure it prints; within one printed unit. */
static void rated_as_printed(void **state)
{
    const table_row *row = *state;
    const dt_pipe *pipe = find(table_number(row, 0), table_number(row, 1), row->cells[2]);
    dt_rating r;
    assert_int_equal(dt_rate(&catalogue, pipe, &r), DT_OK);
    const double got[] = {r.printed_collapse_psi,       r.printed_internal_yield_psi,
                          r.printed_body_yield_klbf,    r.printed_joint_klbf[DT_STC],
                          r.printed_joint_klbf[DT_LTC], r.printed_joint_klbf[DT_BTC]};
    const double exact[] = {
        r.collapse_pa / DT_PA_PER_PSI,           r.internal_yield_pa / DT_PA_PER_PSI,
        r.body_yield_n / DT_N_PER_LBF / 1000,    r.joint_n[DT_STC] / DT_N_PER_LBF / 1000,
        r.joint_n[DT_LTC] / DT_N_PER_LBF / 1000, r.joint_n[DT_BTC] / DT_N_PER_LBF / 1000};
    static const char *const quantity[] = {"collapse",   "internal yield", "body yield",
                                           "joint, STC", "joint, LTC",     "joint, BTC"};
    char which[64];
    snprintf(which, sizeof which, "%.10s in %.10s lb/ft %.10s", row->cells[0], row->cells[1],
             row->cells[2]);
    for (size_t i = 0; i < 6; ++i) {
        const double unit = i < 2 ? 10 : 1;
        if (row->cells[3 + i][0] == '\0') {
            assert_true(i >= 3); /* pressures and body yield are printed for all */
            continue;
        }
        const double printed = table_number(row, 3 + i);
        const bool read = i == 0 && strcmp(row->cells[9], "V") == 0;
        assert_cited_row(read ? &lecture : &bull_5c2, quantity[i], i < 2 ? "psi" : "klbf", which,
                         got[i], printed, unit);
        /* unrounded on the way: half a unit of print more, and in collapse what D/t to two
         * decimals changes */
        assert_within(exact[i], printed, 1.5 * unit + (i == 0 ? 0.001 * printed : 0));
    }
}

/* One figure of a row of ratings_read.csv, where the row has it. */
static void held_as_read(const table_row *row, size_t cell, const char *quantity, const char *unit,
                         double ours, double allowed)
{
    char which[64];
    if (row->cells[cell][0] == '\0') return;
    snprintf(which, sizeof which, "%.10s in %.10s lb/ft %.10s", row->cells[0], row->cells[1],
             row->cells[2]);
    assert_cited_row(&engineering_table, quantity, unit, which, ours, table_number(row, cell),
                     allowed);
}

/* A mill's grade that is not in the catalogue: what its yield strength alone gives. */
static void steel_of_65_ksi_as_read(const table_row *row)
{
    const double od_m = table_number(row, 0) * DT_M_PER_IN, Yp_pa = 65e3 * DT_PA_PER_PSI;
    const double wall_m = table_number(row, 12) * DT_M_PER_IN;
    double pa = NAN, force_n = NAN;
    assert_int_equal(dt_collapse(od_m, wall_m, Yp_pa, &pa, NULL), DT_OK);
    held_as_read(row, 3, "collapse of a mill's 65 ksi", "psi", pa / DT_PA_PER_PSI, 10);
    assert_int_equal(dt_internal_yield(od_m, wall_m, Yp_pa, 0.875, &pa), DT_OK);
    held_as_read(row, 4, "internal yield of a mill's 65 ksi", "psi", pa / DT_PA_PER_PSI, 5);
    assert_int_equal(dt_body_yield(od_m, wall_m, Yp_pa, &force_n), DT_OK);
    held_as_read(row, 11, "body yield of a mill's 65 ksi", "klbf", force_n / DT_N_PER_LBF / 1000,
                 1);
}

/* ratings_read.csv: one row. */
static void rated_as_read(void **state)
{
    const table_row *row = *state;
    if (strcmp(row->cells[2], "LS65") == 0) {
        steel_of_65_ksi_as_read(row);
        return;
    }
    static const char *const burst[] = {"internal yield with STC", "internal yield with LTC",
                                        "internal yield with BTC"};
    static const char *const joint[] = {"joint, STC", "joint, LTC", "joint, BTC"};
    static const dt_thread threads[] = {DT_STC, DT_LTC, DT_BTC};
    const dt_pipe *pipe = find(table_number(row, 0), table_number(row, 1), row->cells[2]);
    dt_rating r;
    assert_int_equal(dt_rate(&catalogue, pipe, &r), DT_OK);
    held_as_read(row, 3, "collapse", "psi", r.printed_collapse_psi, 10);
    held_as_read(row, 4, "internal yield", "psi", r.printed_internal_yield_psi, 0);
    for (size_t i = 0; i < 3; ++i) {
        const dt_thread t = threads[i];
        if (!(pipe->threads & 1u << t)) {
            assert_true(row->cells[5 + i][0] == '\0' && row->cells[8 + i][0] == '\0');
            continue;
        }
        double least_pa = fmin(r.internal_yield_pa, r.coupling_yield_pa[t]);
        if (t != DT_BTC) least_pa = fmin(least_pa, r.leak_pa[t]);
        held_as_read(row, 5 + i, burst[i], "psi", least_pa / DT_PA_PER_PSI, 5);
        held_as_read(row, 8 + i, joint[i], "klbf", r.printed_joint_klbf[t], 1);
    }
    held_as_read(row, 11, "body yield", "klbf", r.printed_body_yield_klbf, 1);
    held_as_read(row, 12, "wall", "in", pipe->wall_m / DT_M_PER_IN, 1e-9);
    held_as_read(row, 13, "bore", "in", pipe->id_m / DT_M_PER_IN, 1e-9);
    held_as_read(row, 14, "drift", "in", pipe->drift_m / DT_M_PER_IN, 1e-9);
}

/* The D/t at which a regime ends, by halving around where it is said to. */
static double regime_limit(double near, double yield_psi, size_t regime)
{
    double below = near - 0.5, above = near + 0.5;
    for (int i = 0; i < 60; ++i) {
        const double s = (below + above) / 2;
        dt_regime here;
        collapse_psi(s, 1, yield_psi, &here);
        *((size_t)here <= DT_REGIME_YIELD + regime ? &below : &above) = s;
    }
    return below;
}

/* collapse_factors.csv: the factors show in the pressures, the limits in the regimes. */
static void collapse_factors_as_printed(void **state)
{
    const table_row *row = *state;
    const double Yp = 1000 * table_number(row, 0), A = table_number(row, 1);
    const double B = table_number(row, 2), C = table_number(row, 3), F = table_number(row, 4);
    const double G = table_number(row, 5);
    dt_regime regime;
    static const char *const quantity[] = {"yield to plastic", "plastic to transition",
                                           "transition to elastic"};
    char which[32];
    snprintf(which, sizeof which, "%.10s ksi", row->cells[0]);
    for (size_t i = 0; i < 3; ++i) {
        const double limit = table_number(row, 6 + i); /* printed to 0.01: true within 0.005 */
        collapse_psi(limit - 0.006, 1, Yp, &regime);
        assert_int_equal(regime, DT_REGIME_YIELD + (int)i);
        collapse_psi(limit + 0.006, 1, Yp, &regime);
        assert_int_equal(regime, DT_REGIME_YIELD + (int)i + 1);
        assert_cited_row(&bull_5c3, quantity[i], "D/t", which, regime_limit(limit, Yp, i), limit,
                         0.006);
    }
    const double s1 = table_number(row, 6), s2 = table_number(row, 7), s3 = table_number(row, 8);
    for (double part = 0.1; part < 1; part += 0.2) {
        double s = s1 + part * (s2 - s1);
        /* half a unit of each printed factor */
        assert_cited_row(&bull_5c3, "plastic collapse by A, B, C", "psi", which,
                         collapse_psi(s, 1, Yp, NULL), Yp * (A / s - B) - C,
                         Yp * (0.0005 / s + 0.00005) + 0.5);
        s = s2 + part * (s3 - s2);
        assert_cited_row(&bull_5c3, "transition collapse by F, G", "psi", which,
                         collapse_psi(s, 1, Yp, NULL), Yp * (F / s - G),
                         Yp * (0.0005 / s + 0.00005));
    }
}

/* One printed, one of each regime worked by hand, D/t to two decimals. */
static void collapse_worked_in_each_regime(void **state)
{
    (void)state;
    dt_regime regime;
    assert_cited(&rahman, "collapse, 9-5/8 in 47 lb/ft of 80 ksi", "psi",
                 collapse_psi(9.625, 0.472, 80e3, &regime), 4754, 0.5);
    assert_cited(&worked, "plastic collapse, D/t 20.39, 80 ksi", "psi",
                 collapse_psi(20.39, 1, 80e3, &regime), 4755, 0.5);
    assert_int_equal(regime, DT_REGIME_PLASTIC);
    assert_cited(&worked, "yield collapse, 5 in 0.437 in, 80 ksi", "psi",
                 collapse_psi(5.000, 0.437, 80e3, &regime), 12763, 2);
    assert_int_equal(regime, DT_REGIME_YIELD);
    assert_cited(&worked, "transition collapse, 13-3/8 in 0.480 in, 80 ksi", "psi",
                 collapse_psi(13.375, 0.480, 80e3, &regime), 2263.8, 1);
    assert_int_equal(regime, DT_REGIME_TRANSITION);
    assert_cited(&worked, "elastic collapse, 20 in 0.438 in, 55 ksi", "psi",
                 collapse_psi(20.000, 0.438, 55e3, &regime), 515.5, 0.5);
    assert_int_equal(regime, DT_REGIME_ELASTIC);
}

static const cited tr_10400 = {CITED_WORKED, "ISO/TR 10400:2007, eq. 42"};

/* 30,000 psi tension on 9-5/8 in 47 lb/ft L80, D/t 20.39. */
static void collapse_worked_under_tension(void **state)
{
    (void)state;
    double pa = NAN;
    dt_regime regime;
    assert_int_equal(dt_reduced_yield(80e3 * DT_PA_PER_PSI, 30e3 * DT_PA_PER_PSI, &pa), DT_OK);
    assert_cited(&tr_10400, "yield reduced by 30,000 psi of tension", "psi", pa / DT_PA_PER_PSI,
                 60664, 0.5);
    assert_int_equal(
        dt_collapse_axial(20.39, 1, 80e3 * DT_PA_PER_PSI, 30e3 * DT_PA_PER_PSI, &pa, &regime),
        DT_OK);
    assert_cited(&tr_10400, "collapse under it, D/t 20.39", "psi", pa / DT_PA_PER_PSI, 4118, 0.5);
    assert_int_equal(regime, DT_REGIME_PLASTIC);
}

/* 9-5/8 in 47 lb/ft L80; areas and d1 there have three decimals. */
static void strengths_worked(void **state)
{
    (void)state;
    const dt_pipe *pipe = find(9.625, 47, "L80");
    double value = NAN;
    assert_int_equal(
        dt_internal_yield(pipe->od_m, pipe->wall_m, 80e3 * DT_PA_PER_PSI, 0.875, &value), DT_OK);
    assert_cited(&worked, "internal yield, 9-5/8 in 47 lb/ft L80", "psi", value / DT_PA_PER_PSI,
                 6865, 0.5);
    assert_int_equal(dt_body_yield(pipe->od_m, pipe->wall_m, 80e3 * DT_PA_PER_PSI, &value), DT_OK);
    assert_cited(&worked, "body yield of it", "lbf", value / DT_N_PER_LBF, 1085760, 0.0005 * 80e3);
    assert_int_equal(dt_joint_strength(&catalogue, pipe, DT_LTC, &value), DT_OK);
    assert_cited(&worked, "joint of it, LTC", "lbf", value / DT_N_PER_LBF, 892500, 100);
    assert_int_equal(dt_joint_strength(&catalogue, pipe, DT_BTC, &value), DT_OK);
    assert_cited(&worked, "joint of it, BTC", "lbf", value / DT_N_PER_LBF, 1122200, 100);
}

static const cited tensile_page = {
    CITED_READ, "drillingmanual.com, casing tensile strength: 0.7854 x 55,000 (7^2 - 6.276^2)"};

static void body_yield_as_read(void **state)
{
    (void)state;
    const dt_pipe *pipe = find(7, 26, "J55");
    double force_n = NAN;
    assert_int_equal(dt_body_yield(pipe->od_m, pipe->wall_m, 55e3 * DT_PA_PER_PSI, &force_n),
                     DT_OK);
    assert_cited(&tensile_page, "body yield of 7 in 26 lb/ft J55", "lbf", force_n / DT_N_PER_LBF,
                 415200, 50);
}

static const cited petex = {CITED_READ, "Casing and Cementing (a university's drilling lessons), "
                                        "table 5, API Spec 5CT"};

static void grades_as_read(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double least, most, tensile;
    } rows[] = {
        {"H40", 40e3, 80e3, 60e3}, {"J55", 55e3, 80e3, 75e3}, {"K55", 55e3, 80e3, 95e3},
        {"M65", 65e3, 85e3, 85e3}, {"L80", 80e3, 95e3, 95e3}, {"N80", 80e3, 110e3, 100e3},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        const dt_grade *g = dt_grade_find(&catalogue, rows[i].name);
        assert_non_null(g);
        assert_cited_row(&petex, "least yield strength", "psi", rows[i].name,
                         g->yield_pa / DT_PA_PER_PSI, rows[i].least, 1e-6);
        assert_cited_row(&petex, "largest yield strength", "psi", rows[i].name,
                         g->max_yield_pa / DT_PA_PER_PSI, rows[i].most, 1e-6);
        assert_cited_row(&petex, "least tensile strength", "psi", rows[i].name,
                         g->tensile_pa / DT_PA_PER_PSI, rows[i].tensile, 1e-6);
    }
}

static const cited couplings = {CITED_WORKED, "API Bull 5C3, 6th ed. (1994), 3.1.2 and 3.1.3"};

/* Couplings of 9-5/8 in 47 and 7 in 35 lb/ft L80, and of the two ends of the size range, where the
 * taper or the length differs. */
static void couplings_worked(void **state)
{
    (void)state;
    double pa = NAN;
    const dt_pipe *pipe = find(9.625, 47, "L80");
    assert_int_equal(dt_coupling_internal_yield(&catalogue, pipe, DT_LTC, &pa), DT_OK);
    /* the leak; the coupling yields at 9586 */
    assert_cited(&couplings, "9-5/8 in 47 lb/ft L80 LTC", "psi", pa / DT_PA_PER_PSI, 8461, 1);
    assert_int_equal(dt_coupling_internal_yield(&catalogue, pipe, DT_BTC, &pa), DT_OK);
    /* d1 to three decimals is 4 psi */
    assert_cited(&couplings, "9-5/8 in 47 lb/ft L80 BTC", "psi", pa / DT_PA_PER_PSI, 8834, 5);
    pipe = find(7, 35, "L80");
    assert_int_equal(dt_coupling_internal_yield(&catalogue, pipe, DT_BTC, &pa), DT_OK);
    assert_cited(&couplings, "7 in 35 lb/ft L80 BTC", "psi", pa / DT_PA_PER_PSI, 8464, 6);
    pipe = find(20, 94, "J55"); /* coarse taper: d1 = 20 - 3.4995 x 0.0833 = 19.7085 */
    assert_int_equal(dt_coupling_internal_yield(&catalogue, pipe, DT_BTC, &pa), DT_OK);
    assert_cited(&couplings, "20 in 94 lb/ft J55 BTC", "psi", pa / DT_PA_PER_PSI, 3382.5, 0.5);
    pipe = find(4.5, 11.6, "L80"); /* d1 = 4.516 - 2.0535 x 0.0625 = 4.38766 */
    assert_int_equal(dt_coupling_internal_yield(&catalogue, pipe, DT_BTC, &pa), DT_OK);
    assert_cited(&couplings, "4-1/2 in 11.60 lb/ft L80 BTC", "psi", pa / DT_PA_PER_PSI, 9797.5,
                 0.5);
}

/* ID less 3.18, 3.97, 4.76 mm (1/8, 5/32, 3/16 in). */
static void drift_rule(void **state)
{
    (void)state;
    assert_true(catalogue.pipe_count > 0);
    for (size_t i = 0; i < catalogue.pipe_count; ++i) {
        const dt_pipe *pipe = &catalogue.pipes[i];
        const double od_in = pipe->od_m / DT_M_PER_IN;
        const double less_mm = od_in < 9.62 ? 3.18 : od_in <= 13.375 + 1e-9 ? 3.97 : 4.76;
        char which[64];
        snprintf(which, sizeof which, "%.3f in %.2f lb/ft", od_in,
                 pipe->weight_kgm / DT_KGM_PER_LBFT);
        assert_cited_row(&spec_5ct, "drift of every pipe of the catalogue", "mm", which,
                         pipe->drift_m * 1000, pipe->id_m * 1000 - less_mm, 0.02);
    }
}

/* No step between the regimes, thicker is stronger, better steel never weaker. */
static void collapse_is_smooth_and_ordered(void **state)
{
    (void)state;
    for (double Yp = 21e3; Yp < 160e3; Yp += 2500)
        for (double s = 5; s < 80; s += 0.01) {
            const double here = collapse_psi(s, 1, Yp, NULL);
            const double thinner = collapse_psi(s + 0.01, 1, Yp, NULL);
            assert_true(thinner < here);
            assert_true(thinner > 0.99 * here);
        }
    for (double s = 5; s < 80; s += 0.5)
        for (double Yp = 21e3; Yp < 150e3; Yp += 500)
            assert_true(collapse_psi(s, 1, Yp + 500, NULL) >= collapse_psi(s, 1, Yp, NULL) - 1e-6);
}

/* Tension never helps, compression neither. */
static void tension_weakens(void **state)
{
    (void)state;
    double last = INFINITY;
    for (double Sa = -40e3; Sa <= 60e3; Sa += 1000) {
        double pa = NAN;
        assert_int_equal(
            dt_collapse_axial(0.2, 0.01, 80e3 * DT_PA_PER_PSI, Sa * DT_PA_PER_PSI, &pa, NULL),
            DT_OK);
        assert_true(Sa <= 0 || pa < last);
        if (Sa <= 0) assert_within(pa / DT_PA_PER_PSI, collapse_psi(0.2, 0.01, 80e3, NULL), 1e-6);
        last = pa;
    }
}

static void refuses_what_is_no_pipe(void **state)
{
    (void)state;
    double untouched = -1;
    const double yield_pa = 80e3 * DT_PA_PER_PSI;
    const double bad[][2] = {{0.2, 0},    {0.2, 0.1},       {0.2, -0.01},
                             {NAN, 0.01}, {INFINITY, 0.01}, {0.2, NAN}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        const double od_m = bad[i][0], wall_m = bad[i][1];
        assert_int_equal(dt_collapse(od_m, wall_m, yield_pa, &untouched, NULL), DT_E_DOMAIN);
        assert_int_equal(dt_internal_yield(od_m, wall_m, yield_pa, 1, &untouched), DT_E_DOMAIN);
        assert_int_equal(dt_body_yield(od_m, wall_m, yield_pa, &untouched), DT_E_DOMAIN);
    }
    assert_int_equal(dt_collapse(0.2, 0.01, NAN, &untouched, NULL), DT_E_DOMAIN);
    assert_int_equal(dt_collapse(0.2, 0.01, 10e3 * DT_PA_PER_PSI, &untouched, NULL), DT_E_DOMAIN);
    assert_int_equal(dt_internal_yield(0.2, 0.01, yield_pa, 1.1, &untouched), DT_E_DOMAIN);
    assert_int_equal(dt_reduced_yield(yield_pa, 1.01 * yield_pa, &untouched), DT_E_DOMAIN);
    /* 10-3/4 in is not made with long round thread; 26 in with none at all */
    assert_int_equal(dt_joint_strength(&catalogue, find(10.75, 51, "L80"), DT_LTC, &untouched),
                     DT_E_DOMAIN);
    assert_int_equal(dt_joint_strength(&catalogue, find(26, 136.17, "X52"), DT_BTC, &untouched),
                     DT_E_DOMAIN);
    assert_within(untouched, -1, 0);
}

/* A special-clearance coupling carries no more than the standard one. */
static void smaller_couplings_are_weaker(void **state)
{
    (void)state;
    size_t weaker = 0;
    for (size_t i = 0; i < catalogue.pipe_count; ++i) {
        dt_pipe pipe = catalogue.pipes[i];
        double standard_n, clearance_n;
        if (!(pipe.threads & 1u << DT_BTC) || isnan(pipe.clearance_coupling_od_m)) continue;
        assert_int_equal(dt_joint_strength(&catalogue, &pipe, DT_BTC, &standard_n), DT_OK);
        pipe.coupling_od_m = pipe.clearance_coupling_od_m;
        assert_int_equal(dt_joint_strength(&catalogue, &pipe, DT_BTC, &clearance_n), DT_OK);
        assert_true(clearance_n <= standard_n);
        if (clearance_n < standard_n) ++weaker;
    }
    assert_true(weaker > 0);
}

int main(void)
{
    if (dt_catalogue_load(&catalogue) != DT_OK) return EXIT_FAILURE;
    size_t rated = 0, factors = 0, read = 0;
    table_row *ratings = table_read("ratings.csv", &rated);
    table_row *limits = table_read("collapse_factors.csv", &factors);
    for (size_t i = 0; i < rated; ++i)
        snprintf(ratings[i].name, sizeof ratings[i].name, "%.10s_%.10s_%.10s", ratings[i].cells[0],
                 ratings[i].cells[1], ratings[i].cells[2]);
    table_row *read_rows = table_read("ratings_read.csv", &read);
    for (size_t i = 0; i < read; ++i)
        snprintf(read_rows[i].name, sizeof read_rows[i].name, "%.10s_%.10s_%.10s_as_read",
                 read_rows[i].cells[0], read_rows[i].cells[1], read_rows[i].cells[2]);
    for (size_t i = 0; i < factors; ++i)
        snprintf(limits[i].name, sizeof limits[i].name, "factors_of_%.10s_ksi", limits[i].cells[0]);
    const struct CMUnitTest others[] = {
        cmocka_unit_test(collapse_worked_in_each_regime),
        cmocka_unit_test(collapse_worked_under_tension),
        cmocka_unit_test(strengths_worked),
        cmocka_unit_test(body_yield_as_read),
        cmocka_unit_test(grades_as_read),
        cmocka_unit_test(couplings_worked),
        cmocka_unit_test(drift_rule),
        cmocka_unit_test(collapse_is_smooth_and_ordered),
        cmocka_unit_test(tension_weakens),
        cmocka_unit_test(refuses_what_is_no_pipe),
        cmocka_unit_test(smaller_couplings_are_weaker),
    };
    int failed = table_run("rated pipes", ratings, rated, rated_as_printed);
    failed += table_run("pipes as read", read_rows, read, rated_as_read);
    failed += table_run("collapse factors", limits, factors, collapse_factors_as_printed);
    failed += cmocka_run_group_tests_name("ratings", others, NULL, NULL);
    free(ratings);
    free(limits);
    free(read_rows);
    dt_catalogue_free(&catalogue);
    return failed;
}
