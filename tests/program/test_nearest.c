/* SPDX-License-Identifier: MIT */
/* Where no program exists, the nearest one: what was changed is what the refusal asks for, is told
 * before all else, and is no more than it takes (docs/nest.md, "Where there is no program"). */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "edited_well.h"
#include "program.h"
#include "random_well.h"
#include "told.h"
#include "well_in_code.h"

static dt_catalogue catalogue;

/** The nearest program of a well that has none. */
static dt_program *nearest_to(const dt_well *well)
{
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    assert_int_equal(dt_program_plan(well, &catalogue, &program, &refusal), DT_E_NONE);
    const dt_status status = dt_program_plan_nearest(well, &catalogue, &refusal, &program);
    dt_refusal_free(&refusal);
    assert_true(status == DT_OK || status == DT_E_NONE);
    return status == DT_OK ? program : NULL;
}

/** What was changed, its first notice. */
static const dt_notice *changed(const dt_program *p)
{
    assert_false(dt_program_runnable(p));
    assert_true(p->notices.count > 2);
    assert_int_equal(p->notices.items[0].code, DT_NOTICE_NEAREST_PROGRAM);
    assert_int_equal(p->notices.items[1].code, DT_NOTICE_AS_ASKED_REFUSED);
    assert_true(p->notices.items[0].because_count > 0);
    assert_true(p->notices.items[1].because_count > 0);
    return &p->notices.items[0];
}

static void on_the_conductor_that_cures(void **state)
{
    (void)state;
    dt_well *well = edited_well(DT_WELLS "/narrowgate.xml", NULL, 0);
    dt_program *p = nearest_to(well);
    assert_non_null(p);
    const dt_notice *n = changed(p);
    assert_int_equal(n->because_count, 1);
    assert_int_equal(n->because[0].code, DT_NOTICE_NEAREST_CONDUCTOR);
    const dt_figure *shoe = dt_notice_find_figure(&n->because[0], "shoe_tvd");
    assert_non_null(shoe);
    assert_within(p->seats.items[0].shoe_m, shoe->value, 1e-9);
    assert_true(p->well != well && well->conductor.depth_m < shoe->value - 1);
    dt_program_free(p);
    dt_well_free(well);
}

/* 9 ppg of pore pressure and 16 of fracture gradient all the way down: nothing of the rock is in
 * the way, so that what is asked for beside it is what collides. */
static void easy_rock(coded_well *c)
{
    coded_start(c, 300, 8000);
    coded_pore(c, 0, 9);
    coded_pore(c, 8000, 9);
    coded_fracture(c, 0, 16);
    coded_fracture(c, 8000, 16);
}

static void without_what_no_pipe_has(void **state)
{
    (void)state;
    coded_well c;
    easy_rock(&c);
    c.well.min_pipe_od_m =
        28 * DT_M_PER_IN; /* above it no conductor nests in a hole that is drilled */
    dt_program *p = nearest_to(&c.well);
    assert_non_null(p);
    const dt_notice *n = changed(p);
    assert_int_equal(n->because_count, 1);
    assert_int_equal(n->because[0].code, DT_NOTICE_NEAREST_WITHOUT);
    assert_non_null(dt_notice_find_name(&n->because[0], "completion"));
    dt_program_free(p);
}

static void without_both_of_two(void **state)
{
    (void)state;
    coded_well c;
    easy_rock(&c);
    c.well.min_pipe_od_m = 28 * DT_M_PER_IN;
    c.well.fresh_water_m = 8500 * FT; /* deeper than the well */
    c.well.fresh_water_cover_m = 50 * FT;
    c.well.fresh_water_line = 7;
    dt_program *p = nearest_to(&c.well);
    assert_non_null(p);
    const dt_notice *n = changed(p);
    bool water = false, completion = false;
    for (size_t i = 0; i < n->because_count; ++i) {
        water = water || dt_notice_find_figure(&n->because[i], "fresh_water");
        completion = completion || dt_notice_find_name(&n->because[i], "completion");
    }
    assert_int_equal(n->because_count, 2);
    assert_true(water && completion);
    dt_program_free(p);
}

/** A conductor that the refusal names as a cure, put into the well: a program closes on it. */
static size_t hold_conductors(dt_well *well, const dt_refusal *refusal)
{
    size_t held = 0;
    const double depth_m = well->conductor.depth_m;
    const bool bop = well->conductor.bop;
    for (size_t i = 0; i < refusal->why.count; ++i)
        for (size_t k = 0; k < refusal->why.items[i].because_count; ++k) {
            const dt_notice *n = &refusal->why.items[i].because[k];
            if (n->code != DT_NOTICE_CURE_CONDUCTOR) continue;
            const dt_figure *at = dt_notice_find_figure(n, "deeper");
            if (at) well->conductor.depth_m = at->value;
            well->conductor.bop = bop || dt_notice_find_name(n, "tested") != NULL;
            dt_program *p = NULL;
            dt_refusal none = {0};
            assert_int_equal(dt_program_plan(well, &catalogue, &p, &none), DT_OK);
            assert_true(dt_program_runnable(p));
            dt_program_free(p);
            dt_refusal_free(&none);
            ++held;
            well->conductor.depth_m = depth_m;
            well->conductor.bop = bop;
        }
    return held;
}

static void a_cure_closes(void **state)
{
    (void)state;
    dt_well *well = shipped_parse(DT_WELLS "/narrowgate.xml");
    dt_program *p = NULL;
    dt_refusal refusal = {0};
    assert_int_equal(dt_program_plan(well, &catalogue, &p, &refusal), DT_E_NONE);
    assert_true(hold_conductors(well, &refusal) > 0);
    dt_refusal_free(&refusal);
    dt_well_free(well);
}

/* Whatever the well, it is told and never called one that can be run. */
static void of_random_wells(void **state)
{
    (void)state;
    size_t none = 0, made = 0, held = 0;
    for (unsigned i = 0; i < (DT_FULL_SPEED ? 60 : 16); ++i) {
        uint64_t features = 0;
        char *text = random_well(11, i, &features);
        dt_report report;
        dt_well *well = NULL;
        dt_program *p = NULL;
        dt_refusal refusal = {0};
        assert_non_null(text);
        assert_int_equal(dt_report_init(&report, "random"), DT_OK);
        dt_status status = dt_well_parse(text, strlen(text), &report, &well);
        if (status == DT_OK) status = dt_program_plan(well, &catalogue, &p, &refusal);
        if (status == DT_E_NONE) {
            ++none;
            status = dt_program_plan_nearest(well, &catalogue, &refusal, &p);
            made += status == DT_OK;
            if (status == DT_OK) changed(p);
            held += hold_conductors(well, &refusal);
        }
        dt_program_free(p);
        dt_refusal_free(&refusal);
        dt_well_free(well);
        dt_report_free(&report);
        free(text);
    }
    printf("%zu of %zu wells without a program have a nearest one; %zu conductors that cure\n",
           made, none, held);
    assert_true(none > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(on_the_conductor_that_cures),
        cmocka_unit_test(without_what_no_pipe_has),
        cmocka_unit_test(without_both_of_two),
        cmocka_unit_test(a_cure_closes),
        cmocka_unit_test(of_random_wells),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
