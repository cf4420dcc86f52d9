/* SPDX-License-Identifier: MIT */
/* What is done past a bound of a hole: against every depth on the rounding step, and against sizes
 * looked up by hand. */
#include <math.h>

#include "check.h"
#include "edited_well.h"
#include "program.h"
#include "section.h"
#include "units.h"

#define IN DT_M_PER_IN

static dt_catalogue catalogue;

static dt_program *plan_of(const edit *edits, size_t count, dt_well **well)
{
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    edit all[2] = {{"basis=\"bare\"", "basis=\"land\""}};
    if (count > 0) all[1] = edits[0];
    *well = edited_well(DT_WELLS "/brackwater-deep.xml", all, 1 + count);
    assert_int_equal(dt_program_plan(*well, &catalogue, &program, &refusal), DT_OK);
    dt_refusal_free(&refusal);
    return program;
}

/* The highest shoe: of the depths on the step of the well between two shoes, the first from which
 * the next hole holds and where a shoe may stand. */
static void highest_shoe_is_the_first_that_does(void **state)
{
    (void)state;
    dt_well *well;
    dt_program *p = plan_of(NULL, 0, &well);
    size_t moved = 0;
    for (size_t k = 1; k + 1 < p->count; ++k) {
        const dt_trigger t = dt_program_trigger(p, k);
        const dt_seat *seat = &p->seats.items[k];
        const double step_m = well->seats.round_to_m;
        double least_m, most_m, at_m = 0;
        dt_seats_surface_limits(well, p->seats.items[0].shoe_m, &least_m, &most_m);
        for (double n = 1; n < 1e5 && at_m == 0; ++n)
            if (n * step_m > seat[-1].shoe_m && n * step_m > (k == 1 ? least_m : 0) - 1e-6 &&
                dt_shoe_allowed(&p->window, n * step_m, NULL) &&
                dt_section_holds(&p->window, &seat[1].rules, n * step_m, seat[1].shoe_m))
                at_m = n * step_m;
        assert_true(at_m > 0 && at_m <= seat->shoe_m + 1e-6);
        if (isnan(t.highest_m)) continue;
        assert_close(t.highest_m / at_m, 1.0, 1e-9);
        assert_close(t.run_at_m, t.highest_m, 1e-9);
        assert_true(t.leak_off_kgm3 <= t.bounds.leak_off_kgm3 + 1e-6);
        ++moved;
    }
    assert_true(moved >= 2);
    const dt_trigger last = dt_program_trigger(p, p->count - 1);
    assert_true(isnan(last.highest_m));
    assert_close(last.run_at_m, well->objective_m, 1e-9);
    dt_program_free(p);
    dt_well_free(well);
}

/* 7 in 38.00 lb/ft has a drift of 5.795 in (API 5CT, from memory), so of common bits 5-5/8 in is
 * the largest below it; 4-1/2 in pipe with couplings of 5.000 in is the widest that goes in. The
 * completion needs 7 in. */
static void string_itself_early(void **state)
{
    (void)state;
    dt_well *well;
    dt_program *p = plan_of(NULL, 0, &well);
    const dt_trigger t = dt_program_trigger(p, 3);
    assert_int_equal(t.left, DT_LEFT_EARLY);
    assert_close(t.spare.od_m / IN, 4.5, 1e-9);
    assert_true(t.spare.hole_m / IN < 5.795 && t.spare.hole_m / IN > 5);
    assert_true(t.slim);
    dt_program_free(p);
    dt_well_free(well);
}

/* Where the completion needs no more than 4-1/2 in, the same spare is not too slim. */
static void spare_that_is_wide_enough(void **state)
{
    (void)state;
    dt_well *well;
    const edit edits[] = {{"min_pipe_od=\"7 in\"", "min_pipe_od=\"4.5 in\""}};
    dt_program *p = plan_of(edits, 1, &well);
    for (size_t k = 1; k < p->count; ++k) {
        const dt_trigger t = dt_program_trigger(p, k);
        if (isfinite(t.spare.od_m)) assert_true(t.slim == (t.spare.od_m < 4.5 * IN - 1e-6));
    }
    dt_program_free(p);
    dt_well_free(well);
}

/* Sizes by hand: through the drift of 16 in 75.00 lb/ft (14.936 in, API 5CT, from memory) goes a
 * 14-3/4 in hole, in it 11-3/4 in pipe, whose 60.00 lb/ft has a drift of 10.616 in: a bit of
 * 10-5/8 in does not pass it, one of 8-1/2 in does. Nothing goes through a drift of 3 in. */
static void spares_by_hand(void **state)
{
    (void)state;
    dt_well *well = edited_well(DT_WELLS "/brackwater-deep.xml", NULL, 0);
    const double drift_m = 14.936 * IN;
    const dt_spare wide = dt_nest_spare(well, &catalogue, DT_INTERMEDIATE, drift_m, 12.25 * IN);
    assert_true(isnan(wide.od_m) || wide.od_m > 13 * IN);
    const dt_spare fits = dt_nest_spare(well, &catalogue, DT_INTERMEDIATE, drift_m, 8.5 * IN);
    assert_true(fits.od_m >= 11.75 * IN - 1e-9 && fits.hole_m <= drift_m);
    const dt_spare none = dt_nest_spare(well, &catalogue, DT_PRODUCTION, 3 * IN, 0);
    assert_true(isnan(none.od_m) && isnan(none.hole_m));
    dt_well_free(well);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(highest_shoe_is_the_first_that_does),
        cmocka_unit_test(string_itself_early),
        cmocka_unit_test(spare_that_is_wide_enough),
        cmocka_unit_test(spares_by_hand),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
