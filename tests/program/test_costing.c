/* SPDX-License-Identifier: MIT */
/* The bill of a string against published examples, by hand, and against its own lines. */
#include "cited.h"
#include "costing.h"
#include "program.h"
#include "shipped_wells.h"
#include "well_in_code.h"

static void no_times(dt_well *well)
{
    dt_times *t = &well->times;
    t->trip_m_per_hour = t->connection_minutes = t->stand_m = t->bit_run_m = NAN;
    t->circulate_hours = t->crew_hours = t->wait_hours = t->wellhead_hours = NAN;
    t->test_hours = t->drill_out_hours = t->hanger_hours = t->lap_test_hours = NAN;
    t->reserve = NAN;
    well->cementing.wait_s = NAN;
}

static const cited academy = {
    CITED_READ, "Drilling time and cost, example of a training site (PetroSmart Academy, 2026)"};
static const cited heriot_watt = {
    CITED_READ, "Heriot-Watt University, drilling course notes, cost per foot, as a "
                "drilling-practice site reprints it"};
static const cited capacity = {CITED_WORKED, "annulus (Dh^2 - Do^2)/183.35 ft3/ft"};

/*
 * 3,000 ft of
 * 8-1/2 in hole at 65 ft/h: 46.2 h rotating and 2.1 h of connections (its surveys are not ours).
 */
static void drilling_and_connections_as_published(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 100, 9000);
    no_times(&c.well);
    dt_speed_row rop = {8.5 * DT_M_PER_IN, 65 * FT, 0};
    c.well.times.drilling = &rop;
    c.well.times.drilling_count = 1;
    c.well.times.connection_minutes = 4;
    c.well.times.stand_m = 95 * FT;
    dt_times_in_force times;
    dt_times_settle(&c.well, &times);
    dt_billed_string s = {2, true,      DT_FULL,           6000 * FT,         9000 * FT,
                          0, 8000 * FT, 8.5 * DT_M_PER_IN, 8.5 * DT_M_PER_IN, 7 * DT_M_PER_IN};
    dt_bill bill;
    dt_bill_hole(&c.well, &times, &s, &bill);
    assert_cited(&academy, "rotating and connections", "h", bill.hours[DT_HOURS_DRILL], 46.2 + 2.1,
                 0.06);
    assert_within(bill.hours[DT_HOURS_DRILL_OUT], 0, 0);
}

/*
 * Cost per foot, (bit + rig rate x (rotating + trip)) / footage: a bit of 8,000, 1,000 an hour,
 * 50 + 7 h, 2,000 ft: 32.5 a foot.
 */
static void cost_per_foot_as_published(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 100, 9000);
    no_times(&c.well);
    dt_bit_price bit = {NAN, 8000, 0};
    dt_speed_row rop = {60 * DT_M_PER_IN, 40 * FT, 0};
    c.well.prices_given = true;
    c.well.prices =
        (dt_prices){.rig_per_day = 20000, .services_per_day = 4000, .bits = &bit, .bit_count = 1};
    dt_times *t = &c.well.times;
    t->drilling = &rop;
    t->drilling_count = 1;
    t->connection_minutes = t->circulate_hours = 0;
    t->trip_m_per_hour = 4 * 7000 * FT / 7; /* one bit: two round trips to 7,000 ft in 7 h */
    dt_times_in_force times;
    dt_times_settle(&c.well, &times);
    dt_billed_string s = {2,
                          false,
                          DT_FULL,
                          5000 * FT,
                          7000 * FT,
                          0,
                          NAN,
                          12.25 * DT_M_PER_IN,
                          12.25 * DT_M_PER_IN,
                          9.625 * DT_M_PER_IN};
    dt_bill bill;
    dt_bill_hole(&c.well, &times, &s, &bill);
    double hours = bill.hours[DT_HOURS_DRILL] + bill.hours[DT_HOURS_TRIPS];
    double per_foot = (bill.cost[DT_COST_BITS] + hours * 24000 / 24) / 2000;
    assert_cited(&heriot_watt, "cost per foot", "", per_foot, 32.5, 1e-9);
}

/* Annulus of 12-1/4 in hole and 9-5/8 in pipe is 0.3132 ft3/ft (12.25^2 - 9.625^2 over
 * 183.35); 1,000 ft with 25 % excess, at 1.15 ft3 a sack of 94 lb. */
static void cement_by_hand(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 100, 9000);
    no_times(&c.well);
    c.well.prices_given = true;
    c.well.prices = (dt_prices){.cement_per_kg = 1};
    dt_times_in_force times;
    dt_times_settle(&c.well, &times);
    dt_billed_string s = {2,
                          false,
                          DT_FULL,
                          4500 * FT,
                          9000 * FT,
                          0,
                          8000 * FT,
                          12.25 * DT_M_PER_IN,
                          12.25 * DT_M_PER_IN,
                          9.625 * DT_M_PER_IN};
    dt_bill bill;
    dt_bill_hole(&c.well, &times, &s, &bill);
    const double kg = 0.3132 * 1250 / 1.15 * 94 * 0.45359237;
    assert_cited(&capacity, "cement of 1,000 ft of 12-1/4 x 9-5/8 in", "kg",
                 bill.cost[DT_COST_CEMENT], kg, 2e-4 * kg);
}

static void grades_and_threads_take_their_own_price(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 100, 9000);
    char l80[] = "L80", btc[] = "BTC";
    dt_grade_price pipes[] = {{l80, 2.1, 0}, {NULL, 3.0, 0}};
    dt_thread_price threads[] = {{NULL, 50, 0}, {btc, 95, 0}};
    c.well.prices.pipes = pipes;
    c.well.prices.pipe_count = 2;
    c.well.prices.threads = threads;
    c.well.prices.thread_count = 2;
    assert_within(dt_price_of_grade(&c.well, "L80"), 0, 0);
    c.well.prices_given = true;
    assert_within(dt_price_of_grade(&c.well, "L80"), 2.1, 0);
    assert_within(dt_price_of_grade(&c.well, "P110"), 3.0, 0);
    dt_grade grade = {.name = "L80"};
    dt_pipe pipe = {.weight_kgm = 100, .grade = &grade, .threads = 1u << DT_LTC | 1u << DT_BTC};
    assert_within(dt_price_of_thread(&c.well, &pipe, DT_BTC), 95, 0);
    assert_within(dt_price_of_thread(&c.well, &pipe, DT_LTC), 50, 0);
    dt_bill bill = {0};
    dt_bill_add_pipe(&c.well, &(dt_billed_pipe){&pipe, DT_BTC, 400 * FT}, &bill);
    dt_bill_sum(&bill);
    assert_within(bill.cost[DT_COST_PIPE], 12192 * 2.1, 0.005);
    assert_within(bill.cost[DT_COST_THREADS], 950, 0.005);
    assert_within(bill.total, 12192 * 2.1 + 950, 0.005);
}

/* A liner buys a hanger where a full string buys a wellhead stage. */
static void liner_and_full_string_differ_line_by_line(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 100, 9000);
    no_times(&c.well);
    c.well.prices_given = true;
    c.well.prices = (dt_prices){
        .hanger = 80000, .packer = 30000, .wellhead_stage = 35000, .rig_per_day = 24000};
    dt_times_in_force times;
    dt_times_settle(&c.well, &times);
    dt_billed_string s = {2, true, DT_FULL,           6000 * FT,         9000 * FT,
                          0, NAN,  8.5 * DT_M_PER_IN, 8.5 * DT_M_PER_IN, 7 * DT_M_PER_IN};
    dt_bill full, liner;
    dt_bill_hole(&c.well, &times, &s, &full);
    s.type = DT_LINER;
    s.top_md_m = 5700 * FT;
    dt_bill_hole(&c.well, &times, &s, &liner);
    assert_within(full.cost[DT_COST_WELLHEAD] - liner.cost[DT_COST_WELLHEAD], 35000, 0);
    assert_within(liner.cost[DT_COST_HANGER] - full.cost[DT_COST_HANGER], 110000, 0);
    /* 225 joints at 20 an hour against 82.5 joints and drill pipe to 5,700 ft and back */
    assert_within(full.hours[DT_HOURS_RUN], 4 + 11.25, 0.01);
    assert_within(liner.hours[DT_HOURS_RUN], 4 + 4.125 + 11.4, 0.01);
}

static void bills_of_shipped_wells_add_up(void **state)
{
    (void)state;
    static shipped wells[MOST_SHIPPED];
    size_t count = shipped_wells(wells), priced = 0;
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    for (size_t i = 0; i < count; ++i) {
        dt_well *well = shipped_parse(wells[i].path);
        dt_program *program = NULL;
        dt_refusal refusal = {0};
        dt_status status = dt_program_plan(well, &catalogue, &program, &refusal);
        double money = 0, days = 0, steel = 0;
        for (size_t k = 0; status == DT_OK && k < dt_program_strings(program); ++k) {
            money += program->items[k].bill.total;
            days += program->items[k].bill.days;
            steel += program->items[k].bill.steel_kg;
            assert_within(program->items[k].bill.steel_kg, program->items[k].steel_kg, 0.2);
        }
        if (status == DT_OK) {
            priced += well->prices_given;
            assert_within(program->bill.total, money, 0.005);
            assert_within(program->bill.days, days, 1e-9);
            assert_within(program->bill.steel_kg, steel, 0.05);
            assert_true(well->prices_given ? money > 0 : money == 0);
        }
        dt_program_free(program);
        dt_refusal_free(&refusal);
        dt_well_free(well);
    }
    dt_catalogue_free(&catalogue);
    assert_true(priced > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drilling_and_connections_as_published),
        cmocka_unit_test(cost_per_foot_as_published),
        cmocka_unit_test(cement_by_hand),
        cmocka_unit_test(grades_and_threads_take_their_own_price),
        cmocka_unit_test(liner_and_full_string_differ_line_by_line),
        cmocka_unit_test(bills_of_shipped_wells_add_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
