/* SPDX-License-Identifier: MIT */
/* Which pipe a basis lets a string be of: connections, grades, stock, warm pipe and gas seals. */
#include "pipe_rules.h"

#include <math.h>
#include <string.h>

#include "basis.h"
#include "cited.h"
#include "same.h"
#include "units.h"
#include "well_in_code.h"

#define PSI DT_PA_PER_PSI

static dt_catalogue catalogue;
static dt_basis *shelf;

static int open_all(void **state)
{
    (void)state;
    return dt_catalogue_load(&catalogue) != DT_OK ||
           dt_basis_stack(dt_basis_built_in(), dt_basis_shipped("shelf"), &shelf) != DT_OK;
}

static int close_all(void **state)
{
    (void)state;
    dt_catalogue_free(&catalogue);
    dt_basis_free(shelf);
    return 0;
}

/* The pipe of a row that comes with the thread. */
static const dt_pipe *pipe_with(double od_in, double weight_lbft, const char *grade,
                                dt_thread thread)
{
    for (size_t i = 0; i < catalogue.pipe_count; ++i) {
        const dt_pipe *p = &catalogue.pipes[i];
        if (fabs(p->od_m - od_in * DT_M_PER_IN) < SAME_DIAMETER_M &&
            fabs(p->weight_kgm - weight_lbft * DT_KGM_PER_LBFT) < SAME_WEIGHT_KGM &&
            strcmp(p->grade->name, grade) == 0 && (p->threads & 1u << thread))
            return p;
    }
    fail_msg("no %g in %g lb/ft %s %s", od_in, weight_lbft, grade, dt_thread_text(thread));
    return NULL;
}

static bool allows(const dt_well *well, dt_role role, double od_in, double weight_lbft,
                   const char *grade, dt_thread thread)
{
    return dt_pipe_rules_allow(well, role, NULL, pipe_with(od_in, weight_lbft, grade, thread),
                               thread);
}

/* Common practice, no source: what a shelf well is not drafted with; the built-in basis has no such
 * rule. */
static void grades_that_are_usual(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 200, 9000);
    assert_true(allows(&c.well, DT_SURFACE, 20, 94, "H40", DT_STC));
    assert_true(allows(&c.well, DT_PRODUCTION, 7, 29, "C90", DT_LTC));
    c.well.basis = shelf;
    assert_true(allows(&c.well, DT_CONDUCTOR, 20, 94, "H40", DT_STC));
    assert_false(allows(&c.well, DT_SURFACE, 20, 94, "H40", DT_STC));
    assert_false(allows(&c.well, DT_PRODUCTION, 7, 29, "R95", DT_LTC));
    assert_false(allows(&c.well, DT_PRODUCTION, 7, 29, "C90", DT_LTC));
    assert_false(allows(&c.well, DT_INTERMEDIATE, 13.375, 72, "P110", DT_STC));
    assert_true(allows(&c.well, DT_INTERMEDIATE, 13.375, 72, "P110", DT_BTC));
    c.well.design.given = true;
    c.well.design.sour = true;
    assert_true(allows(&c.well, DT_PRODUCTION, 7, 29, "C90", DT_LTC));
    c.well.design.sour = false;
    const dt_pin pin = {.od_m = NAN, .weight_kgm = NAN, .grade = (char *)"C90"};
    assert_true(
        dt_pipe_rules_allow(&c.well, DT_PRODUCTION, &pin, pipe_with(7, 29, "C90", DT_LTC), DT_LTC));
}

static void connections_where_needed(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 200, 9000);
    assert_false(allows(&c.well, DT_PRODUCTION, 7, 29, "L80", DT_FLUSH));
    assert_false(allows(&c.well, DT_INTERMEDIATE, 9.875, 62.8, "Q125", DT_GAS_TIGHT));
    c.well.basis = shelf;
    assert_false(allows(&c.well, DT_PRODUCTION, 7, 29, "L80", DT_FLUSH));
    assert_true(allows(&c.well, DT_PRODUCTION, 7, 29, "L80", DT_GAS_TIGHT));
    assert_true(allows(&c.well, DT_INTERMEDIATE, 9.875, 62.8, "Q125", DT_FLUSH));
    assert_false(allows(&c.well, DT_CONDUCTOR, 9.875, 62.8, "Q125", DT_FLUSH));
    assert_true(dt_pipe_stocked(&c.well, pipe_with(9.625, 47, "L80", DT_BTC), DT_BTC));
    assert_false(dt_pipe_stocked(&c.well, pipe_with(9.625, 47, "T95", DT_BTC), DT_BTC));
    assert_true(dt_stock_first(&c.well));
}

/* A row that no pipe answers to would be a slip: each grade and thread of it exists together. */
static void each_stocked_pipe_exists(void **state)
{
    (void)state;
    size_t count;
    coded_well c;
    coded_start(&c, 200, 9000);
    const dt_stock_custom *rows = dt_custom_rows(&c.well, DT_TABLE_STOCK, &count);
    for (size_t i = 0; i < count; ++i) {
        bool found = false;
        for (size_t k = 0; k < catalogue.pipe_count && !found; ++k) {
            const dt_pipe *p = &catalogue.pipes[k];
            if (fabs(p->od_m - rows[i].od_m) > SAME_DIAMETER_M ||
                fabs(p->weight_kgm - rows[i].weight_kgm) > SAME_WEIGHT_KGM)
                continue;
            for (int t = 0; t < DT_STATED && !found; ++t)
                found = (p->threads & 1u << t) && dt_pipe_stocked(&c.well, p, (dt_thread)t);
        }
        if (!found) fail_msg("the catalogue has no pipe of the stock row in line %d", rows[i].line);
    }
    assert_true(count > 40);
}

static const cited table_a3 = {CITED_RECALLED, "ISO 15156-2, table A.3"};

static void warm_pipe_in_sour_wells(void **state)
{
    (void)state;
    static const struct {
        const char *grade;
        double celsius;
    } rows[] = {{"R95", 65}, {"N80", 80}, {"P110", 80}, {"Q125", 107}};
    static const char *const any[] = {"H40", "J55", "K55", "M65", "L80", "C90", "T95"};
    dt_temperature_point points[] = {{.tvd_m = 0, .celsius = 10},
                                     {.tvd_m = 4000, .celsius = 130}}; /* 3 degC in 100 m */
    coded_well c;
    coded_start(&c, 200, 9000);
    c.well.basis = shelf;
    for (size_t i = 0; i < sizeof any / sizeof *any; ++i)
        assert_true(dt_grade_sour_below(&c.well, dt_grade_find(&catalogue, any[i])) == 0);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        const dt_grade *grade = dt_grade_find(&catalogue, rows[i].grade);
        c.well.thermal.count = 0;
        assert_true(isinf(dt_grade_sour_below(&c.well, grade)));
        c.well.thermal.points = points;
        c.well.thermal.count = 2;
        assert_cited(&table_a3, rows[i].grade, "m", dt_grade_sour_below(&c.well, grade),
                     (rows[i].celsius - 10) / 0.03, 1e-9);
    }
    c.well.basis = NULL;
    assert_true(isinf(dt_grade_sour_below(&c.well, dt_grade_find(&catalogue, "P110"))));
}

/* Common practice, no source: 5,000 psi of gas, or hydrogen sulphide, or the well's own word. */
static void gas_seals(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 200, 9000);
    assert_false(dt_gas_tight_asked(&c.well, 9000 * PSI, true));
    c.well.basis = shelf;
    assert_false(dt_gas_tight_asked(&c.well, 4999 * PSI, true));
    assert_true(dt_gas_tight_asked(&c.well, 5001 * PSI, true));
    assert_false(dt_gas_tight_asked(&c.well, NAN, true));
    c.well.design.given = true;
    c.well.design.sour = true;
    assert_true(dt_gas_tight_asked(&c.well, 100 * PSI, true));
    assert_false(dt_gas_tight_asked(&c.well, 100 * PSI, false)); /* the gas of sweet rock */
    assert_true(dt_gas_tight_asked(&c.well, 5001 * PSI, false));
    c.well.design.gas_tight = 1; /* no */
    assert_false(dt_gas_tight_asked(&c.well, 9000 * PSI, true));
    c.well.design.gas_tight = 2; /* yes */
    c.well.basis = NULL;
    assert_true(dt_gas_tight_asked(&c.well, 100 * PSI, true));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grades_that_are_usual), cmocka_unit_test(connections_where_needed),
        cmocka_unit_test(each_stocked_pipe_exists), cmocka_unit_test(warm_pipe_in_sour_wells),
        cmocka_unit_test(gas_seals)};
    return cmocka_run_group_tests(tests, open_all, close_all);
}
