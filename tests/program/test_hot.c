/* SPDX-License-Identifier: MIT */
/* Hot wells: what heat does to cemented pipe, by hand, and a geothermal draft as a whole. */
#include "cited.h"

#include "edited_well.h"
#include "program.h"
#include "told.h"
#include "units.h"

static dt_catalogue catalogue;

static const cited steel = {CITED_RECALLED, "steel: E 30e6 psi, 6.9e-6 a degF"};
static const cited devereux = {
    CITED_READ, "Devereux, Practical Well Planning and Drilling Manual (1998), p. 84"};

/* 207 psi a degF; a stress of 7,440 psi on 26.44 in2 is 196,700 lb, and comes of 35.9 degF. */
static void stress_of_fixed_pipe(void **state)
{
    (void)state;
    assert_cited(&steel, "stress of fixed pipe, a degF", "psi",
                 dt_thermal_stress_pa(1 / 1.8) / DT_PA_PER_PSI, 207, 1e-6);
    const double rise_k = 7440.0 / 207 / 1.8;
    const double area_m2 = 26.44 * DT_M_PER_IN * DT_M_PER_IN;
    assert_cited(&devereux, "force of fixed pipe", "lb",
                 dt_thermal_stress_pa(rise_k) * area_m2 / DT_N_PER_LBF, 196700, 100);
}

static dt_program *plan_of(const edit *edits, size_t count, dt_well **well)
{
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    *well = edited_well(DT_TESTS "/../docs/practice/cinderfell-hot.xml", edits, count);
    assert_int_equal(dt_program_plan(*well, &catalogue, &program, &refusal), DT_OK);
    dt_refusal_free(&refusal);
    return program;
}

static const dt_notice *notice_of(const dt_program *p, dt_notice_code code, size_t string)
{
    for (size_t i = 0; i < p->notices.count; ++i)
        if (p->notices.items[i].code == code && p->notices.items[i].string == string)
            return &p->notices.items[i];
    return NULL;
}

static double figure_of(const dt_notice *n, const char *name)
{
    const dt_figure *f = dt_notice_find_figure(n, name);
    assert_non_null(f);
    return f->value;
}

/* All strings cemented to the surface with no round thread; the slotted liner hangs below them,
 * neither cemented nor under pressure. */
static void a_geothermal_draft(void **state)
{
    (void)state;
    dt_well *well;
    dt_program *p = plan_of(NULL, 0, &well);
    assert_true(dt_program_runnable(p));
    const size_t last = p->count - 1;
    assert_int_equal(p->count, 4);
    for (size_t i = 0; i < last; ++i) {
        const dt_cement *cement = &p->items[i].job->cement;
        assert_true(cement->cemented);
        assert_within(cement->top_tvd_m, dt_well_ground_m(well), 1e-6);
        for (size_t k = 0; k < p->items[i].string->section_count; ++k) {
            const dt_thread thread = p->items[i].string->sections[k].thread;
            assert_true(thread != DT_STC && thread != DT_LTC);
        }
    }
    const dt_program_string *liner = &p->items[last];
    assert_int_equal(liner->seat->type, DT_LINER);
    assert_true(liner->string->load.slotted && !liner->job->cement.cemented);
    assert_within(liner->shoe_tvd_m, 2600, 1e-6);
    for (int i = 0; i < DT_LOAD_COUNT; ++i)
        if (liner->string->load.runs[i]) assert_true(dt_load_check((dt_load)i) == DT_CHECK_TENSION);
    assert_true(liner->job->running.surge_pa == 0 || isnan(liner->job->running.surge_pa));
    dt_program_free(p);
    dt_well_free(well);
}

/* The 13-3/8 in J55 surface string at 549 m: 20 + 549 x 0.2 = 129.8 degC when it is cemented, 230.9
 * flowing; nearest the yield strength it is at the ground, 21.6 to 210.3 degC: 188.7 K x 1.8 x 207
 * psi = 70,311 psi on 55,000. Killed it is pulled hardest where it was heated by most over what it
 * gave way to. */
static void heated_and_quenched(void **state)
{
    (void)state;
    dt_well *well;
    dt_program *p = plan_of(NULL, 0, &well);
    const dt_notice *hot = notice_of(p, DT_NOTICE_HEATED_PAST_YIELD, 1);
    assert_non_null(hot);
    const double part = 8.0 / 1050, set = 20 + 210 * part, flowing = 210 + 40 * part;
    assert_within(figure_of(hot, "stress") / DT_PA_PER_PSI, (flowing - set) * 1.8 * 207, 1);
    assert_within(figure_of(hot, "yield") / DT_PA_PER_PSI, 55000, 1);
    assert_within(figure_of(hot, "at_tvd"), 8, 1e-6);
    const dt_notice *cold = notice_of(p, DT_NOTICE_QUENCHED, 1);
    if (cold) {
        const double at_m = figure_of(cold, "at_tvd"), down = at_m / 1050;
        const double s = 20 + 210 * down, f = 210 + 40 * down, q = 15 + 10 * down;
        const double pressed = fmin((f - s) * 1.8 * 207, 55000);
        const double pulled = fmax((f - q) * 1.8 * 207 - pressed, (s - q) * 1.8 * 207);
        const dt_pipe *pipe = p->items[1].string->sections[0].pipe;
        const double in2 = 0.785398163397448 * (pipe->od_m * pipe->od_m - pipe->id_m * pipe->id_m) /
                           (DT_M_PER_IN * DT_M_PER_IN);
        assert_within(figure_of(cold, "pull") / DT_N_PER_LBF, pulled * in2, 5);
    }
    dt_program_free(p);
    dt_well_free(well);
    /* with a table of yield strength less is left of it */
    static const edit derated[] = {
        {"</well>", "<derating unit=\"degC\"><point temperature=\"20\" yield=\"100 %\"/>"
                    "<point temperature=\"220\" yield=\"90 %\"/></derating></well>"}};
    p = plan_of(derated, 1, &well);
    hot = notice_of(p, DT_NOTICE_HEATED_PAST_YIELD, 1);
    assert_non_null(hot);
    assert_true(figure_of(hot, "yield") / DT_PA_PER_PSI < 51000);
    dt_program_free(p);
    dt_well_free(well);
    /* and a mild well says nothing */
    static const edit mild[] = {{"producing=\"210\" quenched=\"15\"", ""},
                                {"producing=\"250\" quenched=\"25\"", ""},
                                {"producing=\"285\" quenched=\"60\"", ""}};
    p = plan_of(mild, 3, &well);
    for (size_t i = 0; i < p->count; ++i) {
        assert_null(notice_of(p, DT_NOTICE_HEATED_PAST_YIELD, i));
        assert_null(notice_of(p, DT_NOTICE_QUENCHED, i));
    }
    dt_program_free(p);
    dt_well_free(well);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stress_of_fixed_pipe),
        cmocka_unit_test(a_geothermal_draft),
        cmocka_unit_test(heated_and_quenched),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
