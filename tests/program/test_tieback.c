/* SPDX-License-Identifier: MIT */
/*
 * Tie-backs: loads by hand (12/231 psi/ft a lb/gal; which cases run is common practice, no
 * source), the string above never worse off, and the shipped well that needs one, planned.
 */
#include <stdio.h>

#include "annulus.h"
#include "check.h"
#include "comparison.h"
#include "drawings.h"
#include "program.h"
#include "shipped_wells.h"
#include "told.h"
#include "well_in_code.h"

static const double ppg_psift = 12 / 231.;
static const double lbf = DT_N_PER_LBF;

/* Conductor at 100 ft, surface at 3,000 ft, intermediate at 8,000 ft, drilling liner to 11,000 ft,
 * production from surface to 14,000 ft; rig floor at 30 ft, lap 300 ft, gas 0.1 psi/ft. */
typedef struct bench {
    coded_well c;
    dt_window window;
    dt_seat items[8];
    dt_seats seats;
    dt_trajectory trajectory;
    dt_design_in_force design;
} bench;

static void start(bench *b)
{
    *b = (bench){0};
    coded_start(&b->c, 100, 14000);
    b->c.well.rig_floor_m = 30 * FT;
    coded_pore(&b->c, 0, 9);
    coded_pore(&b->c, 8000, 9);
    coded_pore(&b->c, 14000, 15);
    coded_fracture(&b->c, 0, 13);
    coded_fracture(&b->c, 14000, 17);
    const double shoes[] = {100, 3000, 8000, 11000, 14000};
    const double muds[] = {NAN, 9.5, 9.5, 12.5, 15.5};
    const dt_role roles[] = {DT_CONDUCTOR, DT_SURFACE, DT_INTERMEDIATE, DT_INTERMEDIATE,
                             DT_PRODUCTION};
    for (size_t i = 0; i < 5; ++i)
        b->items[i] = (dt_seat){.role = roles[i],
                                .type = i == 3 ? DT_LINER : DT_FULL,
                                .shoe_m = shoes[i] * FT,
                                .mud_kgm3 = muds[i] * PPG,
                                .pin = DT_NO_INDEX};
    b->seats = (dt_seats){.items = b->items, .count = 5};
}

/** Puts a tie-back on a liner; returns its index. */
static size_t tie(bench *b, size_t liner)
{
    const size_t index = b->seats.count + b->seats.tieback_count++;
    b->items[liner].type = DT_LINER;
    b->items[liner].tied_back = true;
    b->items[index] = b->items[liner];
    b->items[index].type = DT_TIEBACK;
    b->items[index].tied_back = false;
    b->items[index].ties = liner;
    return index;
}

static dt_string_load load_of(bench *b, size_t index)
{
    dt_string_load load;
    dt_design_settle(&b->c.well, &b->design);
    dt_window_free(&b->window);
    assert_int_equal(dt_window_build(&b->c.well, &b->window), DT_OK);
    assert_int_equal(dt_string_load_build(&b->window, &b->seats, &b->trajectory, &b->design,
                                          300 * FT, index, &load),
                     DT_OK);
    return load;
}

static void assert_pressures(const dt_string_load *load, dt_load which, double tvd_ft,
                             double inside_psi, double outside_psi)
{
    double inside, outside;
    assert_true(load->runs[which]);
    dt_load_pressures(load, which, tvd_ft * FT, &inside, &outside);
    assert_within(inside / PSI, inside_psi, 0.05);
    assert_within(outside / PSI, outside_psi, 0.05);
}

/* ---- a drilling liner, tied back ---- */

static void drilling_liner_by_hand(void **state)
{
    (void)state;
    bench b;
    start(&b);
    const double untied_pa = load_of(&b, 2).surface_pressure_pa;
    const size_t index = tie(&b, 3);
    /* gas of the last hole, held by the rock at the liner's shoe: 13 + 4 x 11/14 = 16.143 ppg */
    const double at_11000 = 11000 * ((13 + 4 * 11000 / 14000.) * ppg_psift - 0.1);
    dt_string_load load = load_of(&b, index);
    assert_within(load.top_md_m, 0, 0);
    assert_within(load.shoe_md_m / FT, 7700, 1e-6); /* a lap above the shoe at 8,000 ft */
    assert_within(load.surface_pressure_pa / PSI, at_11000, 0.05);
    assert_pressures(&load, DT_LOAD_BURST_GAS, 7700, at_11000 + 770,
                     (7700 - 30) * 62.428 / 144); /* fresh water below ground */
    assert_pressures(&load, DT_LOAD_COLLAPSE_EMPTY, 7700, 0, 7700 * 12.5 * ppg_psift);
    /* not cemented, and no salt behind it */
    const dt_load never[] = {DT_LOAD_BURST_BUMP,    DT_LOAD_COLLAPSE_CEMENT, DT_LOAD_TENSION_BUMP,
                             DT_LOAD_TENSION_GREEN, DT_LOAD_COLLAPSE_SALT,   DT_LOAD_BURST_TEST};
    for (size_t i = 0; i < sizeof never / sizeof *never; ++i)
        assert_false(load.runs[never[i]]);
    assert_false(load.wall_when_finished);
    /* weight in 12.5 ppg mud and overpull */
    const dt_pipe pipe = {.od_m = 7.625 * DT_M_PER_IN,
                          .wall_m = 0.5 * DT_M_PER_IN,
                          .weight_kgm = 39 * DT_KGM_PER_LBFT};
    const double air_n = 39 * 7700 * lbf;
    assert_within(
        dt_load_at(&load, DT_LOAD_TENSION_RUN, &pipe, (dt_load_place){0, 0}, air_n).pull_n / lbf,
        39 * 7700 * (1 - 12.5 * PPG / 7850) + 100000, 1);
    /* the string above keeps the hole of the liner alone: 12 ppg at 11,000 ft against the rock at
     * its own shoe, 13 + 4 x 8/14 = 15.286 ppg */
    load = load_of(&b, 2);
    assert_within(load.surface_by_pore_pa / PSI, 11000 * (12 * ppg_psift - 0.1), 0.05);
    assert_within(load.surface_by_fracture_pa / PSI,
                  8000 * ((13 + 4 * 8000 / 14000.) * ppg_psift - 0.1), 0.05);
    assert_true(load.surface_pressure_pa < untied_pa - 1000 * PSI);
    /* the liner itself still stands what is below it */
    assert_within(load_of(&b, 3).surface_pressure_pa / PSI, at_11000, 0.05);
    dt_window_free(&b.window);
}

/* ---- a production liner, tied back ---- */

static void production_liner_by_hand(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.seats.count = 4; /* the liner at 11,000 ft is the last */
    b.items[3].role = DT_PRODUCTION;
    b.c.well.objective_m = 11000 * FT;
    dt_pressure_test test = {DT_PRODUCTION, 4000 * PSI, NAN, 0};
    dt_load_wishes *w = &b.c.well.loads;
    w->given = true;
    w->packer_fluid_kgm3 = 9 * PPG;
    w->stimulation_pa = 3000 * PSI;
    w->stimulation_fluid_kgm3 = 8.5 * PPG;
    w->unfilled_m = 2000 * FT;
    w->tests = &test;
    w->test_count = 1;
    dt_string_load above = load_of(&b, 2);
    assert_true(above.wall_when_finished && above.runs[DT_LOAD_BURST_LEAK]);
    const size_t index = tie(&b, 3);
    const double gas = 11000 * (12 * ppg_psift - 0.1); /* the finished well, shut in */
    dt_string_load load = load_of(&b, index);
    assert_true(load.wall_when_finished);
    assert_pressures(&load, DT_LOAD_BURST_LEAK, 5000, gas + 5000 * 9 * ppg_psift,
                     4970 * 62.428 / 144);
    assert_pressures(&load, DT_LOAD_BURST_STIMULATION, 5000, 3000 + 5000 * 8.5 * ppg_psift,
                     4970 * 62.428 / 144);
    assert_pressures(&load, DT_LOAD_BURST_TEST, 5000, 4000 + 5000 * 12.5 * ppg_psift,
                     4970 * 62.428 / 144);
    assert_pressures(&load, DT_LOAD_COLLAPSE_FILL, 5000, 3000 * 12.5 * ppg_psift,
                     5000 * 12.5 * ppg_psift);
    above = load_of(&b, 2);
    assert_false(above.wall_when_finished || above.runs[DT_LOAD_BURST_LEAK] ||
                 above.runs[DT_LOAD_BURST_STIMULATION] || above.runs[DT_LOAD_BURST_TEST]);
    dt_window_free(&b.window);
}

/* What stands outside: no rock, so pore pressure cannot; no cement, so mud all the way. */
static void outside_in_burst(void **state)
{
    (void)state;
    bench b;
    start(&b);
    const size_t index = tie(&b, 3);
    b.c.well.loads.given = true;
    const struct {
        dt_outside kind;
        double psi;
    } rows[] = {{DT_OUTSIDE_WATER, 4970 * 62.428 / 144},
                {DT_OUTSIDE_PORE, 4970 * 62.428 / 144},
                {DT_OUTSIDE_MUD, 5000 * 12.5 * ppg_psift},
                {DT_OUTSIDE_MIX_WATER, 5000 * 12.5 * ppg_psift}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        b.c.well.loads.burst_outside = rows[i].kind;
        const dt_string_load load = load_of(&b, index);
        double inside, outside;
        dt_load_pressures(&load, DT_LOAD_BURST_GAS, 5000 * FT, &inside, &outside);
        assert_within(outside / PSI, rows[i].psi, 0.1);
    }
    dt_window_free(&b.window);
}

/* The test of the liner is over before its tie-back is run: the string above stands it. That of a
 * liner further down is the tie-back's. */
static void liner_tests(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.items[4].type = DT_LINER; /* 11,000 to 14,000 ft */
    b.c.well.liner_test =
        (dt_liner_test){true, DT_LINER_TEST_PRESSURE, 2500 * PSI, NAN, 8.5 * PPG, 0};
    assert_int_equal(load_of(&b, 2).lap_test_count, 2);
    const size_t index = tie(&b, 3);
    const dt_string_load above = load_of(&b, 2), tied = load_of(&b, index);
    assert_int_equal(above.lap_test_count, 1);
    assert_int_equal(tied.lap_test_count, 1);
    assert_pressures(&tied, DT_LOAD_BURST_LAP, 7000, 2500 + 7000 * 8.5 * ppg_psift,
                     6970 * 62.428 / 144);
    dt_window_free(&b.window);
}

/* ---- never worse for the strings above ---- */

static double next_random(unsigned *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return (double)(*seed >> 8) / 16777216;
}

/* 400 invented wells of three to six strings: with a tie-back on a liner no case presses any string
 * above harder from inside, none is added, and none is left emptier. */
static void never_raises_the_loads_above(void **state)
{
    (void)state;
    unsigned seed = 20240607;
    size_t eased = 0;
    for (int n = 0; n < 400; ++n) {
        bench b;
        start(&b);
        const size_t count = 4 + (size_t)(3 * next_random(&seed));
        const size_t liner = 2 + (size_t)(next_random(&seed) * (double)(count - 2));
        double shoe_ft = 100;
        for (size_t i = 0; i < count; ++i) {
            b.items[i] = b.items[i < 5 ? i : 3];
            b.items[i].role = i == 0           ? DT_CONDUCTOR
                              : i + 1 == count ? DT_PRODUCTION
                              : i == 1         ? DT_SURFACE
                                               : DT_INTERMEDIATE;
            b.items[i].type = i > 1 && next_random(&seed) < 0.5 ? DT_LINER : DT_FULL;
            b.items[i].shoe_m = shoe_ft * FT;
            b.items[i].mud_kgm3 = i ? (9.5 + 1.5 * (double)i) * PPG : NAN;
            shoe_ft += 1500 + 900 * next_random(&seed);
        }
        b.seats.count = count;
        for (size_t i = 0; i < b.c.well.pore.count; ++i)
            b.c.pore[i].emw_kgm3 = (8.5 + 6 * next_random(&seed)) * PPG;
        b.items[liner].type = DT_LINER;
        dt_string_load before[8];
        for (size_t k = 0; k < liner; ++k)
            before[k] = load_of(&b, k);
        tie(&b, liner);
        for (size_t k = 0; k < liner; ++k) {
            const dt_string_load after = load_of(&b, k);
            eased += after.surface_pressure_pa < before[k].surface_pressure_pa - PSI;
            for (int c = 0; c < DT_LOAD_COUNT; ++c) {
                assert_true(before[k].runs[c] || !after.runs[c]);
                for (double part = 0; after.runs[c] && part <= 1; part += 0.25) {
                    double was[2], is[2];
                    const double z = part * after.shoe_tvd_m;
                    dt_load_pressures(&before[k], (dt_load)c, z, &was[0], &was[1]);
                    dt_load_pressures(&after, (dt_load)c, z, &is[0], &is[1]);
                    const bool burst = dt_load_check((dt_load)c) == DT_CHECK_BURST;
                    assert_true(burst ? is[0] <= was[0] + 1 : is[0] >= was[0] - 1);
                    assert_within(is[1], was[1], 1e-6 * fabs(was[1]) + 1e-6);
                }
            }
        }
        dt_window_free(&b.window);
    }
    assert_true(eased > 100);
}

/* ---- the bill ---- */

/* 40 ft joints, 20 an hour to 7-5/8 in; trip 1,000 ft/h; crew 4 h; head and test 10 + 4 h; rig
 * 48,000 a day. 8,000 ft: 16 h of trip, 10 + 4 h of running, 14 h at the head: 44 h = 88,000. */
static void bill_by_hand(void **state)
{
    (void)state;
    coded_well c;
    coded_start(&c, 100, 9000);
    dt_times *t = &c.well.times;
    t->trip_m_per_hour = t->connection_minutes = t->stand_m = t->bit_run_m = NAN;
    t->circulate_hours = t->crew_hours = t->wait_hours = t->wellhead_hours = NAN;
    t->test_hours = t->drill_out_hours = t->hanger_hours = t->lap_test_hours = NAN;
    t->reserve = NAN;
    c.well.cementing.wait_s = NAN;
    c.well.prices_given = true;
    c.well.prices = (dt_prices){.rig_per_day = 48000,
                                .wellhead_stage = 30000,
                                .hanger = 1,
                                .packer = 1,
                                .receptacle = 25000};
    dt_times_in_force times;
    dt_times_settle(&c.well, &times);
    dt_bill bill;
    const dt_billed_tieback s = {8000 * FT, 7 * DT_M_PER_IN};
    dt_bill_tieback(&c.well, &times, &s, &bill);
    dt_bill_sum(&bill);
    assert_within(bill.hours[DT_HOURS_TRIPS], 16, 1e-9);
    assert_within(bill.hours[DT_HOURS_RUN], 14, 1e-9);
    assert_within(bill.hours[DT_HOURS_HEAD], 14, 1e-9);
    assert_within(bill.days, 44 / 24., 1e-9);
    assert_within(bill.total, 88000 + 30000 + 25000, 0.005);
    assert_within(bill.cost[DT_COST_CEMENT] + bill.cost[DT_COST_BITS], 0, 0);
    c.well.prices.receptacle = NAN; /* priced without, never as a sum of nothing */
    dt_bill_tieback(&c.well, &times, &s, &bill);
    dt_bill_sum(&bill);
    assert_within(bill.total, 88000 + 30000, 0.005);
}

/* ---- the shipped well, planned ---- */

typedef struct planned {
    dt_catalogue catalogue;
    dt_well *well;
    dt_program *program;
} planned;

static void plan(planned *p)
{
    dt_refusal refusal;
    *p = (planned){0};
    assert_int_equal(dt_catalogue_load(&p->catalogue), DT_OK);
    p->well = shipped_parse(DT_TESTS "/bare/thornback-rise.xml");
    if (dt_program_plan(p->well, &p->catalogue, &p->program, &refusal) != DT_OK)
        fail_msg("%s", told_refusal(&refusal));
}

static void unplan(planned *p)
{
    dt_program_free(p->program);
    dt_well_free(p->well);
    dt_catalogue_free(&p->catalogue);
}

static bool warned(const dt_program *p, const char *code)
{
    for (size_t i = 0; i < p->notices.count; ++i)
        if (strcmp(told_code(p, i), code) == 0) return true;
    return false;
}

static void pinned_tieback_is_a_string(void **state)
{
    (void)state;
    planned a;
    plan(&a);
    const dt_program *p = a.program;
    assert_int_equal(p->count, 4);
    assert_int_equal(dt_program_strings(p), 5);
    const dt_program_string *liner = &p->items[3], *tied = &p->items[dt_program_at(p, 4)];
    assert_int_equal(tied->seat->type, DT_TIEBACK);
    assert_within(tied->shoe_md_m, liner->top_md_m, 0);
    assert_within(tied->od_m, liner->od_m, 0);
    char name[32];
    dt_program_string_name(p, 4, name, sizeof name);
    assert_string_equal(name, "production tie-back");
    /* what is left out does not read as nought */
    assert_true(isnan(tied->hole_m) && isnan(tied->cement_top_tvd_m) && !tied->kick_known);
    assert_false(tied->job->cement.cemented);
    assert_int_equal(tied->job->centralizing.bows + tied->job->centralizing.rigids, 0);
    assert_true(tied->job->running.hookload_filled_n > 0);
    assert_true(isinf(tied->job->running.surge.spare_pa));
    /* every part holds; the liner is its own string */
    for (size_t i = 0; i < tied->string->section_count; ++i)
        assert_true(tied->string->sections[i].screen.ok);
    assert_within(tied->string->sections[tied->string->section_count - 1].base_md_m,
                  liner->top_md_m, 1e-9);
    /* a head of its own: 12.6 ppg at 15,800 ft less gas; nothing on the liner */
    assert_within(p->wellhead.stages[4].pressure_pa / PSI, 15800 * (12.6 * ppg_psift - 0.1), 0.5);
    assert_true(isnan(p->wellhead.stages[3].pressure_pa));
    /* bills of all five make the program's */
    double total = 0, steel_kg = 0;
    for (size_t i = 0; i < dt_program_strings(p); ++i) {
        total += p->items[i].bill.total;
        steel_kg += p->items[i].bill.steel_kg;
    }
    assert_within(p->bill.total, total, 0.005);
    assert_within(p->bill.steel_kg, steel_kg, 0.05);
    assert_within(tied->bill.cost[DT_COST_HANGER], 24000, 0.005);
    assert_false(warned(p, "receptacle-not-priced"));
    unplan(&a);
}

/* Without its tie-back the same liner leaves its gas to the intermediate string, which no grade
 * allowed here holds; the refusal says that a tie-back would help, and it does. The liner has
 * couplings: flush it would pass a narrower hole, and so a heavier intermediate string, that does.
 */
static void refusal_names_what_helps(void **state)
{
    (void)state;
    planned a;
    plan(&a);
    static char thread[] = "LTC";
    dt_pin liner = a.well->pins[0];
    liner.thread = thread;
    dt_well bare = *a.well;
    bare.pins = &liner;
    bare.pin_count = 1;
    dt_program *program = NULL;
    dt_refusal refusal;
    assert_int_equal(dt_program_plan(&bare, &a.catalogue, &program, &refusal), DT_E_NONE);
    assert_non_null(strstr(told_refusal(&refusal), "intermediate string"));
    assert_non_null(strstr(told_refusal(&refusal), "if the production liner below were tied back"));
    dt_refusal_free(&refusal);
    unplan(&a);
}

/* A tie-back of a grade that does not hold the gas: the refusal names it, not its liner, which
 * could be built. */
static void refusal_names_the_tieback(void **state)
{
    (void)state;
    planned a;
    plan(&a);
    static char grade[] = "J55";
    dt_pin pins[2] = {a.well->pins[0], a.well->pins[1]};
    pins[1].grade = grade;
    dt_well weak = *a.well;
    weak.pins = pins;
    dt_program *program = NULL;
    dt_refusal refusal;
    assert_int_equal(dt_program_plan(&weak, &a.catalogue, &program, &refusal), DT_E_NONE);
    if (!strstr(told_refusal(&refusal), "holds the loads of the production tie-back on the liner"))
        fail_msg("%s", told_refusal(&refusal));
    /* 12.6 ppg at 15,800 ft less gas, 8,759 psi; the strongest 7 in J55 is no match for it */
    assert_non_null(strstr(told_refusal(&refusal), "in burst, gas-to-surface"));
    dt_refusal_free(&refusal);
    unplan(&a);
}

static void unpriced_receptacle_is_said(void **state)
{
    (void)state;
    planned a;
    plan(&a);
    dt_well without = *a.well;
    without.prices.receptacle = NAN;
    dt_program *program = NULL;
    dt_refusal refusal;
    assert_int_equal(dt_program_plan(&without, &a.catalogue, &program, &refusal), DT_OK);
    assert_true(warned(program, "receptacle-not-priced"));
    assert_within(a.program->bill.total - program->bill.total, 24000, 0.005);
    dt_program_free(program);
    unplan(&a);
}

/* Weight, grade and thread may be pinned: kept, and a pin that fails is said. */
static void pinned_pipe_of_a_tieback(void **state)
{
    (void)state;
    planned a;
    plan(&a);
    static char grade[] = "L80", thread[] = "LTC";
    dt_pin pins[2] = {a.well->pins[0], a.well->pins[1]};
    pins[1].weight_kgm = 23 * DT_KGM_PER_LBFT;
    pins[1].grade = grade;
    pins[1].thread = thread;
    dt_well pinned = *a.well;
    pinned.pins = pins;
    dt_program *program = NULL;
    dt_refusal refusal;
    assert_int_equal(dt_program_plan(&pinned, &a.catalogue, &program, &refusal), DT_OK);
    const dt_string *tied = program->items[4].string;
    assert_int_equal(tied->section_count, 1);
    assert_within(tied->sections[0].pipe->weight_kgm / DT_KGM_PER_LBFT, 23, 1e-9);
    assert_true(tied->pinned_pipe_fails && warned(program, "pin-fails-load"));
    dt_program_free(program);
    unplan(&a);
}

/* A drilling liner tied back: the next bit passes both, and the next string stands in the tie-back.
 */
static void next_string_stands_in_the_tieback(void **state)
{
    (void)state;
    planned a = {0};
    assert_int_equal(dt_catalogue_load(&a.catalogue), DT_OK);
    a.well = shipped_parse(DT_WELLS "/mizzenlow-shelf.xml");
    dt_pin pins[3];
    for (size_t i = 0; i < 3; ++i)
        pins[i] = (dt_pin){.role = DT_INTERMEDIATE,
                           .type = i == 0   ? DT_FULL
                                   : i == 1 ? DT_LINER
                                            : DT_TIEBACK,
                           .shoe_m = i == 0 ? 7500 * FT : NAN,
                           .hole_m = NAN,
                           .od_m = NAN,
                           .weight_kgm = NAN,
                           .wear_m = NAN};
    dt_well well = *a.well;
    well.pins = pins;
    well.pin_count = 3;
    dt_refusal refusal;
    assert_int_equal(dt_program_plan(&well, &a.catalogue, &a.program, &refusal), DT_OK);
    const dt_program *p = a.program;
    assert_int_equal(p->seats.tieback_count, 1);
    assert_int_equal(dt_program_at(p, 4), p->count); /* after its liner, before production */
    const dt_string *tied = p->items[p->count].string;
    for (size_t i = 0; i < tied->section_count; ++i)
        assert_true(dt_nest_drift(&well, tied->sections[i].pipe) >=
                    p->items[4].bit_m - 0.0005 * DT_M_PER_IN);
    const dt_stages stages = {.well = &well,
                              .window = &p->window,
                              .trajectory = &p->trajectory,
                              .seats = &p->seats,
                              .nest = &p->nest,
                              .strings = &p->strings,
                              .catalogue = p->catalogue,
                              .design = &p->design};
    dt_annulus annulus;
    assert_int_equal(dt_annulus_build(&stages, 4, &annulus), DT_OK);
    assert_within(dt_annulus_outer(dt_annulus_at(&annulus, 100 * FT), 100 * FT),
                  tied->sections[0].pipe->id_m, 1e-9);
    dt_annulus_free(&annulus);
    assert_int_equal(dt_annulus_build(&stages, p->count, &annulus), DT_OK); /* its own */
    for (size_t i = 0; i < annulus.count; ++i)
        assert_false(annulus.pieces[i].open || annulus.pieces[i].landing);
    assert_within(annulus.pieces[annulus.count - 1].base_md_m, p->items[3].top_md_m, 1e-6);
    dt_annulus_free(&annulus);
    unplan(&a);
}

/* A tie-back that the lap leaves no room for is left out, and that is said. */
static void no_room_is_said(void **state)
{
    (void)state;
    planned a;
    plan(&a);
    dt_well well = *a.well;
    well.seats.lap_m = 12000 * FT;
    well.design.sour = false; /* grades that hold what the tie-back would have held */
    dt_program *program = NULL;
    dt_refusal refusal;
    dt_status status = dt_program_plan(&well, &a.catalogue, &program, &refusal);
    assert_int_equal(status, DT_OK);
    assert_int_equal(program->seats.tieback_count, 0);
    assert_within(program->items[3].top_md_m, 0, 0); /* its liner is a full string by its lap */
    assert_true(warned(program, "tieback-left-out"));
    dt_program_free(program);
    dt_refusal_free(&refusal);
    unplan(&a);
}

static void outputs_tell_of_it(void **state)
{
    (void)state;
    planned a;
    plan(&a);
    dt_text text;
    assert_int_equal(dt_write_program_json(a.program, &text), DT_OK);
    const char *type = strstr(text.bytes, "\"tieback\"");
    assert_non_null(type);
    const char *end = strstr(type, "\"totals\"");
    const struct {
        const char *key;
        bool there;
    } keys[] = {{"\"base_md_ft\"", true},  {"\"running\"", true},
                {"\"sections\"", true},    {"\"wellhead_class_psi\"", true},
                {"\"shoe_md_ft\"", false}, {"\"hole_in\"", false},
                {"\"cement\": {", false},  {"\"centralizers\"", false},
                {"\"surge_psi\"", false},  {"\"governed_by\"", false}};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; ++i) {
        const char *at = strstr(type, keys[i].key);
        if ((at && at < end) != keys[i].there) fail_msg("%s", keys[i].key);
    }
    dt_text_free(&text);
    assert_int_equal(dt_write_program_table(a.program, DT_DISPLAY_FIELD, &text), DT_OK);
    assert_non_null(strstr(text.bytes, "production tie-back tieback       -"));
    dt_text_free(&text);
    assert_int_equal(dt_draw_schematic(a.program, DT_DISPLAY_FIELD, &text), DT_OK);
    assert_non_null(strstr(text.bytes, "7 in production tie-back"));
    dt_text_free(&text);
    unplan(&a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drilling_liner_by_hand),
        cmocka_unit_test(production_liner_by_hand),
        cmocka_unit_test(outside_in_burst),
        cmocka_unit_test(liner_tests),
        cmocka_unit_test(never_raises_the_loads_above),
        cmocka_unit_test(bill_by_hand),
        cmocka_unit_test(pinned_tieback_is_a_string),
        cmocka_unit_test(refusal_names_what_helps),
        cmocka_unit_test(refusal_names_the_tieback),
        cmocka_unit_test(unpriced_receptacle_is_said),
        cmocka_unit_test(pinned_pipe_of_a_tieback),
        cmocka_unit_test(next_string_stands_in_the_tieback),
        cmocka_unit_test(no_room_is_said),
        cmocka_unit_test(outputs_tell_of_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
