/* SPDX-License-Identifier: MIT */
/* Elements about liners: the hangers that can be had, and the test once a liner is set. */
#include <math.h>
#include <stdlib.h>

#include "well_elements.h"
#include "well_limits.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* Reasons are facts of the trade from memory. */
static const dt_limit CAPACITY = {0, 20e6, true, "hangers bear some 100 to 2000 klbf"};
static const dt_limit CAPACITY_FACTOR = {1, 5, false, "design factors are from 1 to 2"};

void dt_read_hangers(dt_reader *r, xmlNodePtr node)
{
    static const dt_field fields[] = {
        {"liner", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_hanger, liner_m)},
        {"casing", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_hanger, casing_m)},
        {"lightest", DT_KIND_LINEAR_MASS, &WEIGHT, offsetof(dt_hanger, lightest_kgm)},
        {"heaviest", DT_KIND_LINEAR_MASS, &WEIGHT, offsetof(dt_hanger, heaviest_kgm)},
        {"capacity", DT_KIND_FORCE, &CAPACITY, offsetof(dt_hanger, capacity_n)},
        {"bore", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_hanger, bore_m)},
        {"receptacle_bore", DT_KIND_DIAMETER, &DIAMETER, offsetof(dt_hanger, receptacle_bore_m)},
    };
    dt_hangers *list = &r->well->hangers;
    list->line = dt_line_of(node);
    dt_read_number(r, node, "factor", 1, "", &CAPACITY_FACTOR, &list->factor);
    list->items = dt_list_for(r, node, "hanger", sizeof *list->items, &list->count);
    xmlNodePtr at = dt_child_named(node, "hanger");
    for (size_t i = 0; i < list->count; ++i, at = dt_next_named(at, "hanger")) {
        dt_hanger *hanger = &list->items[i];
        dt_read_fields(r, at, fields, COUNT(fields), hanger);
        hanger->line = dt_line_of(at);
    }
    if (list->count <= DT_MOST_HANGERS) return;
    dt_report_add(r->report, DT_MSG_LIST_TOO_LONG, list->items[DT_MOST_HANGERS].line,
                  "liner_hangers/hanger", "more than %d hangers", DT_MOST_HANGERS);
    list->count = DT_MOST_HANGERS;
}

void dt_read_liner_test(dt_reader *r, xmlNodePtr node)
{
    static const char *const rules[] = {"pressure", "fracture"};
    static const dt_field fields[] = {
        {"pressure", DT_KIND_PRESSURE, &PRESSURE, offsetof(dt_liner_test, pressure_pa)},
        {"above", DT_KIND_PRESSURE, &PRESSURE, offsetof(dt_liner_test, above_pa)},
        {"fluid", DT_KIND_DENSITY, &FLUID, offsetof(dt_liner_test, fluid_kgm3)},
    };
    dt_liner_test *test = &r->well->liner_test;
    test->given = true;
    test->line = dt_line_of(node);
    test->rule = (dt_liner_test_rule)dt_read_word(r, node, "by", rules, 2, DT_LINER_TEST_FRACTURE);
    dt_read_fields(r, node, fields, COUNT(fields), test);
    const bool stated = dt_has_attribute(node, "pressure");
    const bool by_pressure = test->rule == DT_LINER_TEST_PRESSURE;
    if (stated != by_pressure && dt_has_attribute(node, "by"))
        dt_report_add(r->report, DT_MSG_LINER_TEST_INPUT, test->line, "liner_top_test/@pressure",
                      stated ? "pressure has no effect: by is \"fracture\""
                             : "by=\"pressure\" needs pressure=\"...\"");
    if (by_pressure && dt_has_attribute(node, "above"))
        dt_report_add(r->report, DT_MSG_LINER_TEST_INPUT, test->line, "liner_top_test/@above",
                      "above has no effect: by is \"pressure\"");
}

void dt_liners_absent(dt_well *well)
{
    well->hangers.factor = NAN;
    well->liner_test.pressure_pa = well->liner_test.above_pa = well->liner_test.fluid_kgm3 = NAN;
}

static void check_sizes(const dt_hanger *h, dt_report *report)
{
    const struct {
        double small, large;
        const char *where, *inner, *outer;
    } orders[] = {
        {h->liner_m, h->casing_m, "liner_hangers/hanger/@liner", "liner", "casing"},
        {h->bore_m, h->liner_m, "liner_hangers/hanger/@bore", "bore", "liner"},
        {h->receptacle_bore_m, h->casing_m, "liner_hangers/hanger/@receptacle_bore",
         "receptacle's bore", "casing"},
    };
    for (size_t i = 0; i < COUNT(orders); ++i) {
        char small[32], large[32];
        if (!(orders[i].small >= orders[i].large)) continue;
        dt_inch_text(orders[i].small, small, sizeof small);
        dt_inch_text(orders[i].large, large, sizeof large);
        dt_report_add(report, DT_MSG_HANGER_SIZES, h->line, orders[i].where,
                      "the %s, %s in, is not smaller than the %s, %s in", orders[i].inner, small,
                      orders[i].outer, large);
    }
}

void dt_well_check_liners(const dt_well *well, dt_report *report)
{
    for (size_t i = 0; i < well->hangers.count; ++i) {
        const dt_hanger *h = &well->hangers.items[i];
        check_sizes(h, report);
        if (h->lightest_kgm > h->heaviest_kgm)
            dt_report_add(report, DT_MSG_HANGER_WEIGHTS, h->line, "liner_hangers/hanger/@lightest",
                          "lightest is more than heaviest");
    }
}
