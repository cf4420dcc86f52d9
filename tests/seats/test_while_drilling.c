/* SPDX-License-Identifier: MIT */
/* How far a hole bears what was not foreseen: by hand, and against the rules themselves. */
#include <string.h>

#include "check.h"
#include "section.h"
#include "well_in_code.h"

/* From 3,000 to 8,000 ft, pore pressure 9 ppg, fracture 14 ppg at 3,000 ft and 15 at 8,000; trip
 * 0.5, surge 0.3, safety 0.2, kick 0.8 ppg. The mud is 9.5 ppg. The shoe has to bear 9.5 + 0.8,
 * which is more than 9.5 + 0.3 + 0.2; the hole bears 14 - 0.8 of mud, which holds 12.7 of pore
 * pressure. Own arithmetic. */
static void fill(coded_well *c)
{
    coded_start(c, 300, 10000);
    coded_pore(c, 0, 9);
    coded_pore(c, 10000, 9);
    coded_fracture(c, 0, 13.4);
    coded_fracture(c, 10000, 15.4);
    dt_margins *m = &c->well.margins;
    m->trip = (dt_margin){.emw_kgm3 = 0.5 * PPG};
    m->surge = (dt_margin){.emw_kgm3 = 0.3 * PPG};
    m->safety = (dt_margin){.emw_kgm3 = 0.2 * PPG};
    m->kick = (dt_margin){.emw_kgm3 = 0.8 * PPG};
    m->kick_rule = DT_KICK_FIXED;
}

static void bounds_by_hand(void **state)
{
    (void)state;
    coded_well c;
    dt_window window;
    fill(&c);
    assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
    const dt_while_drilling d = dt_section_while_drilling(&window, NULL, 3000 * FT, 8000 * FT);
    assert_close(d.leak_off_kgm3 / PPG, 10.3, 1e-6);
    assert_close(d.most_mud_kgm3 / PPG, 13.2, 1e-6);
    assert_close(d.most_pore_kgm3 / PPG, 12.7, 1e-6);
    dt_window_free(&window);
}

/* A well whose fracture table is the least leak-off at the shoe just holds; a hair less does not.
 * So with the pore pressure at the base, where the mud comes from. */
static void on_the_edge(void **state)
{
    (void)state;
    static const struct {
        double leak_off_ppg, pore_ppg;
        bool holds;
    } rows[] = {{10.3 + 1e-4, 9, true},
                {10.3 - 1e-4, 9, false},
                {14, 12.7 - 1e-4, true},
                {14, 12.7 + 1e-4, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        coded_well c;
        dt_window window;
        fill(&c);
        c.well.fracture.count = c.well.pore.count = 0;
        coded_fracture(&c, 0, rows[i].leak_off_ppg);
        coded_fracture(&c, 3000, rows[i].leak_off_ppg);
        coded_fracture(&c, 8000, 15);
        coded_pore(&c, 0, 9);
        coded_pore(&c, 3000, 9);
        coded_pore(&c, 8000, rows[i].pore_ppg);
        assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
        assert_int_equal(dt_section_holds(&window, NULL, 3000 * FT, 8000 * FT), rows[i].holds);
        dt_window_free(&window);
    }
}

/* A hole that breaks a rule as it is planned has no bounds. */
static void none_where_it_fails(void **state)
{
    (void)state;
    coded_well c;
    dt_window window;
    fill(&c);
    c.well.pore.count = 0;
    coded_pore(&c, 0, 14);
    coded_pore(&c, 10000, 14);
    assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
    const dt_while_drilling d = dt_section_while_drilling(&window, NULL, 3000 * FT, 8000 * FT);
    assert_true(isnan(d.leak_off_kgm3) && isnan(d.most_mud_kgm3) && isnan(d.most_pore_kgm3));
    dt_window_free(&window);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(bounds_by_hand),
                                       cmocka_unit_test(on_the_edge),
                                       cmocka_unit_test(none_where_it_fails)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
