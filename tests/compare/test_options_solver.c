/* SPDX-License-Identifier: MIT */
/* The least cost of two reduced wells by the search and by a general-purpose solver, GLPK of
 * Debian (glpk-utils), from a formulation of its own: the same to the cent. Skipped, and said
 * so, where the solver is not installed. */
#include <stdio.h>

#include "check.h"
#include "option_model.h"
#include "options_search.h"

static const char SOLVER_STOCK[] = "od_in,weight_lbft,grade\n"
                                   "20,94,J55\n"
                                   "13.375,68,L80\n13.375,72,P110\n"
                                   "10.75,60.7,P110\n"
                                   "9.625,47,L80\n9.625,53.5,P110\n"
                                   "7,26,L80\n7,29,P110\n7,35,P110\n"
                                   "5,18,P110\n5,21.4,Q125\n";

/** cheap: hangers, heads and the rig cost next to nothing, so that a tie-back can be the cheapest
 * way. Returns whether one is. */
static bool same_to_the_cent(int which, bool liners, bool cheap)
{
    coded_well c;
    part_well(&c, which);
    c.well.seats.liners = liners;
    if (cheap) part_cheap_hanging(&c.well);
    dt_catalogue catalogue;
    part_catalogue(&catalogue, cheap ? TIEBACK_STOCK : SOLVER_STOCK);
    parts p;
    parts_open(&p, &c.well, &catalogue, 1000 * FT);
    long long least = -1;
    for (size_t n = p.fewest; n <= p.fewest + 1; ++n) {
        model m;
        model_build(&m, &p, n, p.fewest + 1 - n);
        long long found = model_solve(&m);
        print_message("well %d, %zu strings: %zu columns, %lld cents\n", which, n, m.item_count,
                      found);
        assert_true(found != -2);
        if (found >= 0 && (least < 0 || found < least)) least = found;
        model_free(&m);
    }
    dt_options o;
    dt_refusal refusal;
    c.well.wishes.given = true;
    c.well.wishes.max_strings = p.fewest + 1;
    const dt_search_way way = {.by_pressure = true, .exact = true}; /* parts_open()'s depths */
    assert_int_equal(dt_options_search_by(&c.well, &catalogue, way, &o, &refusal), DT_OK);
    assert_true(least > 0);
    assert_int_equal(llround(o.items[0].cost * 100), least);
    const bool tied = o.items[0].tiebacks > 0;
    dt_options_free(&o);
    parts_close(&p);
    dt_catalogue_free(&catalogue);
    return tied;
}

static void the_solver_finds_the_same_optimum(void **state)
{
    (void)state;
    if (!model_solver_there()) {
        print_message("glpsol is not installed (Debian: glpk-utils): not compared\n");
        skip();
    }
    same_to_the_cent(0, true, false);
    same_to_the_cent(0, false, false);
    same_to_the_cent(1, true, false);
    same_to_the_cent(1, false, false);
    bool tied = same_to_the_cent(0, true, true);
    tied |= same_to_the_cent(1, true, true);
    assert_true(tied);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_solver_finds_the_same_optimum)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
