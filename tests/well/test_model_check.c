/* SPDX-License-Identifier: MIT */
/* A model built in code is checked for sense as a file is: nothing new is found in what the reader
 * let through, and what it would refuse is found. */
#include "check.h"
#include "shipped_wells.h"
#include "well_in_code.h"

/** What dt_well_check() finds in a model: DT numbers of errors, 0 behind the last. */
static size_t errors_of(const dt_well *well, int *ids, size_t room)
{
    dt_report report;
    size_t count = 0;
    assert_int_equal(dt_report_init(&report, "model"), DT_OK);
    dt_well_check(well, &report);
    for (size_t i = 0; i < report.count; ++i)
        if (dt_message_severity(report.items[i].id) == DT_ERROR && count < room)
            ids[count++] = (int)report.items[i].id;
    assert_int_equal(count, report.errors);
    dt_report_free(&report);
    return count;
}

static void what_was_read_makes_sense(void **state)
{
    (void)state;
    static shipped all[MOST_SHIPPED];
    size_t count = shipped_wells(all);
    assert_true(count > 5);
    for (size_t i = 0; i < count; ++i) {
        int ids[8];
        dt_well *well = shipped_parse(all[i].path);
        if (errors_of(well, ids, 8) != 0) fail_msg("%s: DT-%d", all[i].name, ids[0]);
        dt_well_free(well);
    }
}

static void sound(coded_well *c)
{
    coded_start(c, 300, 10000);
    coded_pore(c, 0, 9);
    coded_pore(c, 10000, 12);
    coded_fracture(c, 0, 13);
    coded_fracture(c, 10000, 17);
}

typedef struct spoiled {
    int message;
    void (*spoil)(coded_well *c);
} spoiled;

static void crossing(coded_well *c)
{
    c->pore[1].emw_kgm3 = 18 * PPG;
}

static void rising(coded_well *c)
{
    c->fracture[1].tvd_m = -1;
}

static void too_deep(coded_well *c)
{
    coded_pin(c, DT_INTERMEDIATE, 10500);
}

static void too_wide(coded_well *c)
{
    coded_pin(c, DT_INTERMEDIATE, 5000);
    c->pins[0].od_m = 0.3;
    c->pins[0].hole_m = 0.25;
}

static void other_conductor(coded_well *c)
{
    coded_pin(c, DT_CONDUCTOR, 500);
}

static void upside_down(coded_well *c)
{
    coded_interval(c, 5000, 4000, DT_AVOID_SHOE, 0);
}

static void half_a_spread(coded_well *c)
{
    coded_interval(c, 4000, 5000, DT_AVOID_SHOE, 0);
    c->intervals[0].top_spread = (dt_depth_spread){DT_UNIFORM, NAN, 3900 * FT, NAN};
}

static void what_the_reader_would_refuse_is_found(void **state)
{
    (void)state;
    const spoiled rows[] = {{DT_MSG_PORE_ABOVE_FRACTURE, crossing},
                            {DT_MSG_TABLE_DEPTH_DECREASES, rising},
                            {DT_MSG_PIN_SHOE_OUTSIDE, too_deep},
                            {DT_MSG_PIN_TOO_WIDE, too_wide},
                            {DT_MSG_PIN_CONDUCTOR_DIFFERS, other_conductor},
                            {DT_MSG_INTERVAL_INVERTED, upside_down},
                            {DT_MSG_DEPTH_SPREAD, half_a_spread}};
    coded_well c;
    int ids[8];
    sound(&c);
    if (errors_of(&c.well, ids, 8) != 0) fail_msg("a sound model: DT-%d", ids[0]);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        sound(&c);
        rows[i].spoil(&c);
        size_t count = errors_of(&c.well, ids, 8);
        bool found = false;
        for (size_t k = 0; k < count; ++k)
            found = found || ids[k] == rows[i].message;
        if (!found) fail_msg("DT-%d is not found, but %zu others", rows[i].message, count);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_read_makes_sense),
        cmocka_unit_test(what_the_reader_would_refuse_is_found),
    };
    return cmocka_run_group_tests_name("model check", tests, NULL, NULL);
}
