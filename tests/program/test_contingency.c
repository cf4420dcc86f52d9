/* SPDX-License-Identifier: MIT */
/* What a program costs with a string carried for the hole that may fail. */
#include <math.h>

#include "check.h"
#include "edited_well.h"
#include "program.h"
#include "section.h"

#define FT DT_M_PER_FT

static dt_catalogue catalogue;

/* A tree worked by hand: of ten wells seven cost 4.0 million, two need a liner of 0.5 million, one
 * a liner of 1.0 million. Expected 0.7 x 4.0 + 0.2 x 4.5 + 0.1 x 5.0 = 4.2 million; the squares
 * about it are 7 x 0.04 + 2 x 0.09 + 0.64 = 1.10, so the error is sqrt(1.10 / 9 / 10) = 0.110554
 * million. The first of ten is P10, the fifth P50, the ninth P90. Own arithmetic; the expected
 * value of a tree is common practice, no source. */
static void tree_by_hand(void **state)
{
    (void)state;
    double costs[] = {4.5e6, 4e6, 4e6, 4e6, 5e6, 4e6, 4e6, 4.5e6, 4e6, 4e6};
    dt_cost_spread s;
    dt_costs_summed(costs, 10, &s);
    assert_close(s.expected, 4.2e6, 1e-12);
    assert_close(s.error, 110554.15967851334, 1e-9);
    assert_close(s.tenths[0], 4e6, 1e-12);
    assert_close(s.tenths[1], 4e6, 1e-12);
    assert_close(s.tenths[2], 4.5e6, 1e-12);
    dt_costs_summed(costs, 0, &s);
    assert_true(isnan(s.expected) && isnan(s.error) && isnan(s.tenths[1]));
}

/** Do all holes of a drawn well hold, and which does not? */
static size_t failures(const dt_program *p, const dt_odds_holes *holes, const dt_window *window,
                       size_t *where)
{
    size_t failing = 0;
    for (size_t k = 1; k < p->count; ++k)
        if (!dt_section_holds(window, &holes->rules[k], p->seats.items[k - 1].shoe_m,
                              p->seats.items[k].shoe_m)) {
            ++failing;
            *where = k;
        }
    return failing;
}

/* Counted once more from the rules: as many hold as dt_program_held() says; the string is set in no
 * well but those where one hole fails and some depth on a 25 ft grid mends it, and in all of them
 * that the grid finds; the mean lies where bill and shares put it. */
static void counted_once_more(void **state)
{
    (void)state;
    const edit land = {"basis=\"bare\"", "basis=\"land\""};
    dt_well *well = edited_well(DT_WELLS "/brackwater-deep.xml", &land, 1);
    dt_program *p = NULL;
    dt_refusal refusal = {0};
    dt_trials trials;
    dt_odds_holes holes;
    dt_contingent c;
    assert_int_equal(dt_program_plan(well, &catalogue, &p, &refusal), DT_OK);
    assert_int_equal(dt_trials_of(well, &trials), DT_OK);
    assert_int_equal(dt_program_contingent(p, &trials, &c), DT_OK);
    dt_odds_holes_of_seats(well, &p->seats, &holes);
    size_t grid = 0, alone = 0;
    for (size_t t = 0; t < trials.count; ++t) {
        const dt_window *window = &trials.items[t].window;
        size_t k = 0;
        if (failures(p, &holes, window, &k) != 1) continue;
        ++alone;
        bool mends = false;
        const double top_m = p->seats.items[k - 1].shoe_m, base_m = p->seats.items[k].shoe_m;
        for (double at_m = top_m + 25 * FT; at_m < base_m && !mends; at_m += 25 * FT)
            mends = dt_shoe_allowed(window, at_m, NULL) &&
                    dt_section_holds(window, &holes.rules[k], top_m, at_m) &&
                    dt_section_holds(window, &holes.rules[k], at_m, base_m);
        grid += mends;
    }
    assert_int_equal(c.of, trials.count);
    assert_int_equal(c.held, dt_program_held(p, &trials));
    assert_true(c.set > 0 && c.set >= grid && c.set <= alone);
    assert_true(c.set - grid <= trials.count / 100); /* windows narrower than the grid */
    const dt_trigger last = dt_program_trigger(p, p->count - 1);
    const double deep = dt_contingency_price(p, p->count - 1, &last, 17000 * FT);
    const double shallow = dt_contingency_price(p, p->count - 1, &last, 15500 * FT);
    assert_true(shallow > 0 && deep > shallow); /* a longer liner costs more */
    assert_true(c.cost.expected > p->bill.total && c.cost.tenths[2] >= c.cost.tenths[1]);
    assert_close(c.cost.tenths[0], p->bill.total, 1e-12);
    dt_trials_free(&trials);
    dt_program_free(p);
    dt_well_free(well);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tree_by_hand),
        cmocka_unit_test(counted_once_more),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
