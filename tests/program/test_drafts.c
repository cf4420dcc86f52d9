/* SPDX-License-Identifier: MIT */
/* Each way to mend a draft seen at work: the first draft has the stopper, the plan has none, and
 * says what was changed for which stopper (docs/nest.md, "Then the jobs"). The wells are random
 * ones of tests/selfcheck; what is asked of them are properties, no figures. */
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "edited_well.h"
#include "program.h"
#include "random_well.h"
#include "same.h"

static dt_catalogue catalogue;

/** A notice of a repair whose reason is a stopper of a code; NULL: none. */
static const dt_notice *repair_of(const dt_program *p, dt_notice_code cured, const char *says)
{
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        if (n->code != DT_NOTICE_DRAFT_REPAIRED || n->because_count == 0) continue;
        if (n->because[0].code != cured) continue;
        if (dt_notice_find_figure(n, says) || dt_notice_find_name(n, says)) return n;
    }
    return NULL;
}

static bool stops_by(const dt_program *p, dt_notice_code code)
{
    for (size_t i = 0; i < p->notices.count; ++i)
        if (p->notices.items[i].code == code) return true;
    return false;
}

static dt_well *read_random(uint64_t seed, unsigned number)
{
    uint64_t features = 0;
    char *text = random_well(seed, number, &features);
    dt_report report;
    dt_well *well = NULL;
    assert_non_null(text);
    assert_int_equal(dt_report_init(&report, "random"), DT_OK);
    assert_int_equal(dt_well_parse(text, strlen(text), &report, &well), DT_OK);
    dt_report_free(&report);
    free(text);
    return well;
}

static void each_repair_at_work(void **state)
{
    (void)state;
    static const struct {
        unsigned number; /* of seed 61 */
        dt_notice_code cured;
        const char *says; /* what the repair tells */
    } repairs[] = {
        {1, DT_NOTICE_LANDING_COLUMN, "od"},
        {76, DT_NOTICE_SURGE, "od"},
        {11, DT_NOTICE_CEMENT_BREAKS_FORMATION, "od"},
        {13, DT_NOTICE_CEMENT_BREAKS_FORMATION, "shoe_tvd"},
        {62, DT_NOTICE_LANDING_COLUMN, "od"},
        {64, DT_NOTICE_LANDING_STRESS, "od"},
        {80, DT_NOTICE_SURGE, "shoe_tvd"},
        {228, DT_NOTICE_SURGE, "liner"},
        {176, DT_NOTICE_CEMENT_TOO_SLOW, "strings"},
        {246, DT_NOTICE_CEMENT_BREAKS_FORMATION, "strings"},
    };
    for (size_t i = 0; i < COUNT_OF(repairs); ++i) {
        dt_well *well = read_random(61, repairs[i].number);
        dt_program *first = NULL, *plan = NULL;
        dt_refusal refusal = {0};
        assert_int_equal(dt_program_plan_first(well, &catalogue, &first, NULL), DT_OK);
        assert_int_equal(dt_program_plan(well, &catalogue, &plan, &refusal), DT_OK);
        assert_false(dt_program_runnable(first));
        assert_true(stops_by(first, repairs[i].cured));
        if (!dt_program_runnable(plan)) fail_msg("well %u is not runnable", repairs[i].number);
        if (!repair_of(plan, repairs[i].cured, repairs[i].says))
            fail_msg("well %u does not tell of its repair", repairs[i].number);
        dt_refusal_free(&refusal);
        dt_program_free(plan);
        dt_program_free(first);
        dt_well_free(well);
    }
}

/* The tail of a surface string of 289 m would stand on rock under the conductor, at 165 m, that it
 * breaks: light lead has to stand there. */
static void short_surface_string_goes_deeper(void **state)
{
    (void)state;
    dt_well *well = read_random(71, 151);
    dt_program *first = NULL, *plan = NULL;
    dt_refusal refusal = {0};
    assert_int_equal(dt_program_plan_first(well, &catalogue, &first, NULL), DT_OK);
    assert_int_equal(dt_program_plan(well, &catalogue, &plan, &refusal), DT_OK);
    assert_true(dt_program_runnable(plan));
    assert_int_equal(plan->seats.items[1].why_shallowest.rule, DT_RULE_TAIL_CEMENT);
    assert_true(plan->seats.items[1].shoe_m > first->seats.items[1].shoe_m + 100);
    dt_refusal_free(&refusal);
    dt_program_free(plan);
    dt_program_free(first);
    dt_well_free(well);
}

static bool fails_twice(const dt_program *p, size_t string)
{
    bool runs = true, cemented = true;
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        if (n->string != string) continue;
        if (n->code == DT_NOTICE_SURGE) runs = false;
        if (n->code == DT_NOTICE_CEMENT_BREAKS_FORMATION) cemented = false;
    }
    return !runs && !cemented;
}

/* A string whose running and whose cement both break the rock is one hole that begins too high: the
 * shoe above goes down, its size is not given up for it. */
static void two_failures_of_one_hole_move_its_shoe(void **state)
{
    (void)state;
    const edit on_land = {" basis=\"bare\"", " basis=\"land\""};
    dt_well *well = edited_well(DT_TESTS "/../docs/practice/cold-harrow.xml", &on_land, 1);
    dt_program *first = NULL, *plan = NULL;
    dt_refusal refusal = {0};
    assert_int_equal(dt_program_plan_first(well, &catalogue, &first, NULL), DT_OK);
    assert_int_equal(dt_program_plan(well, &catalogue, &plan, &refusal), DT_OK);
    const size_t last = first->seats.count - 1;
    assert_true(fails_twice(first, last));
    assert_true(dt_program_runnable(plan));
    assert_int_equal(plan->ladder.count, first->ladder.count);
    for (size_t i = 0; i <= last; ++i) {
        assert_within(plan->ladder.rungs[i].od_m, first->ladder.rungs[i].od_m, 1e-9);
        assert_within(plan->ladder.rungs[i].hole_m, first->ladder.rungs[i].hole_m, 1e-9);
    }
    assert_true(plan->seats.items[last - 1].shoe_m > first->seats.items[last - 1].shoe_m + 1);
    dt_refusal_free(&refusal);
    dt_program_free(plan);
    dt_program_free(first);
    dt_well_free(well);
}

/* Where the basis hangs production strings, one of 9-5/8 in is run to the surface all the same, as
 * the 30 / 20 / 13-3/8 / 9-5/8 in wells of common practice are; 7 in is hung, and so is 9-5/8 in
 * where the well itself says so or pins it (common practice, no source). */
static void wide_production_strings_are_full(void **state)
{
    (void)state;
    static const struct {
        edit edits[2];
        dt_string_type type;
    } rows[] = {
        {{{NULL, NULL}}, DT_LINER},
        {{{"min_pipe_od=\"7 in", "min_pipe_od=\"9 in"}}, DT_FULL},
        {{{"min_pipe_od=\"7 in", "min_pipe_od=\"9 in"},
          {"<margins", "<seats production=\"liner\"/><margins"}},
         DT_LINER},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        dt_well *well =
            edited_well(DT_TESTS "/../docs/practice/teal-platform.xml", rows[i].edits, 2);
        dt_program *p = NULL;
        dt_refusal refusal = {0};
        assert_int_equal(dt_program_plan(well, &catalogue, &p, &refusal), DT_OK);
        assert_true(dt_program_runnable(p));
        assert_int_equal(p->seats.items[p->seats.count - 1].type, rows[i].type);
        dt_program_free(p);
        dt_refusal_free(&refusal);
        dt_well_free(well);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_repair_at_work),
        cmocka_unit_test(wide_production_strings_are_full),
        cmocka_unit_test(short_surface_string_goes_deeper),
        cmocka_unit_test(two_failures_of_one_hole_move_its_shoe),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
