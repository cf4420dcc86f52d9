/* SPDX-License-Identifier: MIT */
/* Each load case by hand in field units: 1 lb/gal is 12/231 psi/ft, depths in ft below the rig
 * floor. Then the strings chosen under them, looked at foot by foot. */
#include <stdlib.h>

#include "cited.h"
#include "hold.h"
#include "program.h"
#include "well_in_code.h"

static const double klbf = 1000 * DT_N_PER_LBF;
static const double ppg_psift = 12 / 231.;

static dt_catalogue catalogue;

/* Surface at 2,000 ft, intermediate at 8,000 ft, production at 12,000 ft; 9 ppg down to 8,000 ft,
 * 12 ppg below; fracture 14 ppg; muds 9.2, 9.5, 12.5 ppg; gas 0.1 psi/ft. */
typedef struct bench {
    coded_well c;
    dt_window window;
    dt_seat items[4];
    dt_seats seats;
    dt_trajectory trajectory;
    dt_design_in_force design;
} bench;

static void start(bench *b)
{
    *b = (bench){0};
    coded_start(&b->c, 100, 12000);
    coded_pore(&b->c, 0, 9);
    coded_pore(&b->c, 8000, 9);
    coded_pore(&b->c, 8000, 12);
    coded_pore(&b->c, 12000, 12);
    coded_fracture(&b->c, 0, 14);
    coded_fracture(&b->c, 12000, 14);
    const double shoes[] = {100, 2000, 8000, 12000}, muds[] = {NAN, 9.2, 9.5, 12.5};
    const dt_role roles[] = {DT_CONDUCTOR, DT_SURFACE, DT_INTERMEDIATE, DT_PRODUCTION};
    for (size_t i = 0; i < 4; ++i)
        b->items[i] = (dt_seat){.role = roles[i],
                                .type = DT_FULL,
                                .shoe_m = shoes[i] * FT,
                                .mud_kgm3 = muds[i] * PPG,
                                .pin = DT_NO_INDEX};
    b->seats = (dt_seats){.items = b->items, .count = 4};
    b->c.well.loads.given = true;
}

static dt_string_load load_of(bench *b, size_t seat)
{
    dt_string_load load;
    dt_window_free(&b->window);
    assert_int_equal(dt_window_build(&b->c.well, &b->window), DT_OK);
    dt_design_settle(&b->c.well, &b->design);
    assert_int_equal(dt_string_load_build(&b->window, &b->seats, &b->trajectory, &b->design,
                                          300 * FT, seat, &load),
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

static const double water_psift = 1000 * DT_STANDARD_GRAVITY * DT_M_PER_FT / DT_PA_PER_PSI;

static void kicks(void **state)
{
    (void)state;
    bench b;
    start(&b);
    dt_string_load load = load_of(&b, 2); /* drilled below: 12 ppg at 12,000 ft */
    const double by_pore = 12000 * (12 * ppg_psift - 0.1);
    const double by_fracture = 8000 * (14 * ppg_psift - 0.1);
    assert_pressures(&load, DT_LOAD_BURST_GAS, 5000, fmin(by_pore, by_fracture) + 500,
                     5000 * water_psift);
    assert_false(load.runs[DT_LOAD_BURST_FRACTURE] || load.runs[DT_LOAD_BURST_INFLUX]);
    b.c.well.loads.kick = DT_KICK_FRACTURE;
    load = load_of(&b, 2);
    assert_false(load.runs[DT_LOAD_BURST_GAS]);
    assert_pressures(&load, DT_LOAD_BURST_FRACTURE, 5000, by_fracture + 500, 5000 * water_psift);
    /* the finished well is shut in on gas whatever the kick: the production string keeps it */
    load = load_of(&b, 3);
    assert_true(load.runs[DT_LOAD_BURST_GAS] && !load.runs[DT_LOAD_BURST_FRACTURE]);
    dt_window_free(&b.window);
}

/* One bubble at the surface: what is found satisfies the three conditions it is made of. */
static void influx_circulated(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.c.well.loads.kick = DT_KICK_INFLUX;
    b.c.well.loads.influx_m3 = 25 * DT_M3_PER_BBL;
    b.c.well.loads.drill_pipe_m = 5 * DT_M_PER_IN;
    dt_string_load load = load_of(&b, 2);
    const double id_in = 8.681;
    dt_string_load_fit(&load, id_in * DT_M_PER_IN);
    const double bbl_ft = (id_in * id_in - 25) / 1029.4; /* annulus, handbook constant */
    const double formation = 12000 * 12 * ppg_psift, p = load.influx_surface_pa / PSI;
    const double height = 25 * formation / p / bbl_ft;
    const double bottom = p + 0.1 * height + 12.5 * ppg_psift * (12000 - height);
    static const cited bubble = {CITED_WORKED,
                                 "one bubble of gas at the surface, annulus (ID^2 - OD^2)/1029.4"};
    assert_cited(&bubble, "pressure at the bottom of the hole", "psi", bottom, formation, 0.5);
    assert_true(p > 0 && p < 12000 * (12 * ppg_psift - 0.1));
    /* the bubble above, mud of 12.5 ppg from its foot to the formation below: just under the shoe
     * at 8,000 ft that is 12 ppg as well, and less mud stands between */
    assert_true(height > 100 && height < 5000);
    assert_pressures(&load, DT_LOAD_BURST_INFLUX, 100, p + 10, 100 * water_psift);
    assert_pressures(&load, DT_LOAD_BURST_INFLUX, 5000, (8000 * 12 - 3000 * 12.5) * ppg_psift,
                     5000 * water_psift);
    /* a larger influx brings more, in the end no more than a hole full of gas */
    double last = p;
    for (double bbl = 50; bbl < 40000; bbl *= 2) {
        b.c.well.loads.influx_m3 = bbl * DT_M3_PER_BBL;
        dt_string_load_fit(&load, id_in * DT_M_PER_IN);
        assert_true(load.influx_surface_pa / PSI >= last);
        last = load.influx_surface_pa / PSI;
    }
    assert_within(last, 12000 * (12 * ppg_psift - 0.1), 0.05);
    dt_window_free(&b.window);
}

/* The formation that would fill the hole with most gas is not always the one whose influx brings
 * most: a bed of 14 ppg down to 6,100 ft, 12 ppg below it to 12,000 ft, drilled in 14.4 ppg. Each
 * bubble is worked for itself, P (P - net) = (mud - gas) Pf V0/A, and the larger counts. */
static void influx_from_the_worse_formation(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.c.well.loads.kick = DT_KICK_INFLUX;
    b.c.well.loads.influx_m3 = 25 * DT_M3_PER_BBL;
    b.c.well.loads.drill_pipe_m = 5 * DT_M_PER_IN;
    b.items[1].shoe_m = 5000 * FT;
    b.items[2].shoe_m = 12000 * FT;
    b.items[2].mud_kgm3 = 14.4 * PPG;
    b.seats.count = 3;
    const double depths[] = {6000, 6000, 6100, 6100}, pores[] = {9, 14, 14, 12};
    for (size_t i = 0; i < 4; ++i) {
        b.c.pore[i].tvd_m = depths[i] * FT;
        b.c.pore[i].emw_kgm3 = pores[i] * PPG;
    }
    dt_string_load load = load_of(&b, 1);
    const double id_in = 8.681, bbl_ft = (id_in * id_in - 25) / 1029.4; /* handbook constant */
    dt_string_load_fit(&load, id_in * DT_M_PER_IN);
    double bubble[2];
    const double from[2][2] = {{6100, 14}, {12000, 12}}; /* ft, ppg */
    for (size_t i = 0; i < 2; ++i) {
        const double formation = from[i][0] * from[i][1] * ppg_psift;
        const double net = from[i][0] * (from[i][1] - 14.4) * ppg_psift;
        const double lift = (14.4 * ppg_psift - 0.1) * formation * 25 / bbl_ft;
        bubble[i] = (net + sqrt(net * net + 4 * lift)) / 2;
    }
    assert_true(bubble[0] > 1.1 * bubble[1]);
    static const cited hand = {CITED_WORKED, "one bubble of gas at the surface, worked by hand"};
    assert_cited(&hand, "influx from 14 ppg at 6,100 ft above 12 ppg at 12,000 ft", "psi",
                 load.influx_surface_pa / PSI, bubble[0], 0.5);
    dt_window_free(&b.window);
}

static void finished_well(void **state)
{
    (void)state;
    bench b;
    start(&b);
    dt_string_load load = load_of(&b, 3);
    assert_false(load.runs[DT_LOAD_BURST_LEAK] || load.runs[DT_LOAD_BURST_STIMULATION] ||
                 load.runs[DT_LOAD_BURST_TEST]);
    b.c.well.loads.packer_fluid_kgm3 = 9 * PPG;
    b.c.well.loads.stimulation_pa = 4000 * PSI;
    b.c.well.loads.stimulation_fluid_kgm3 = 8.5 * PPG;
    dt_pressure_test test = {DT_PRODUCTION, 3000 * PSI, 8.6 * PPG, 0};
    b.c.well.loads.tests = &test;
    b.c.well.loads.test_count = 1;
    load = load_of(&b, 3);
    assert_pressures(&load, DT_LOAD_BURST_LEAK, 10000,
                     12000 * (12 * ppg_psift - 0.1) + 10000 * 9 * ppg_psift, 10000 * water_psift);
    assert_pressures(&load, DT_LOAD_BURST_STIMULATION, 10000, 4000 + 10000 * 8.5 * ppg_psift,
                     10000 * water_psift);
    assert_pressures(&load, DT_LOAD_BURST_TEST, 10000, 3000 + 10000 * 8.6 * ppg_psift,
                     10000 * water_psift);
    load = load_of(&b, 2); /* covered by the production string, and no test of its role */
    assert_false(load.runs[DT_LOAD_BURST_LEAK] || load.runs[DT_LOAD_BURST_STIMULATION] ||
                 load.runs[DT_LOAD_BURST_TEST]);
    b.items[3].type = DT_LINER; /* a production liner leaves the string above exposed */
    load = load_of(&b, 2);
    assert_true(load.runs[DT_LOAD_BURST_LEAK] && load.runs[DT_LOAD_BURST_STIMULATION]);
    dt_window_free(&b.window);
}

static void cementing(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.c.well.loads.cement_kgm3 = 16 * PPG;
    b.c.well.loads.displacement_kgm3 = 8.5 * PPG;
    b.c.well.loads.bump_margin_pa = 600 * PSI;
    dt_string_load load = load_of(&b, 2); /* slurry from 8,000 ft up to 500 ft above the shoe */
    const double outside = 7500 * 9.5 * ppg_psift + 500 * 16 * ppg_psift;
    const double inside = 8000 * 8.5 * ppg_psift;
    assert_pressures(&load, DT_LOAD_COLLAPSE_CEMENT, 8000, inside, outside);
    assert_pressures(&load, DT_LOAD_BURST_BUMP, 8000, inside + outside - inside + 600, outside);
    assert_pressures(&load, DT_LOAD_BURST_BUMP, 0, outside - inside + 600, 0);
    dt_pipe pipe = *dt_pipe_find(&catalogue, 9.625 * DT_M_PER_IN, 47 * DT_KGM_PER_LBFT, "L80");
    const dt_load_point at =
        dt_load_at(&load, DT_LOAD_TENSION_BUMP, &pipe, (dt_load_place){0, 0}, 376 * klbf);
    const double inner_in2 = 3.14159265358979 / 4 * 8.681 * 8.681;
    assert_within(at.pull_n / klbf,
                  376 * (1 - 9.5 * PPG / 7850) + (outside - inside + 600) * inner_in2 / 1000, 0.05);
    dt_window_free(&b.window);
}

static const cited planned = {
    CITED_WORKED,
    "columns of the job as docs/cement.md plans it: spacer, lead, tail by their tops"};

/* Cement 6,000 ft up from 8,000 ft, of which 500 ft are G neat, 15.8 ppg, and the rest G + 8 %
 * bentonite, 13.2 ppg; on it 500 ft of spacer halfway between that and the mud, 9.5 ppg. */
static void slurries_of_the_planned_job(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.c.well.cementing.above_shoe_m = 6000 * FT;
    dt_string_load load = load_of(&b, 2);
    const double over_lead = 1500 * 9.5 * ppg_psift + 500 * (9.5 + 13.2) / 2 * ppg_psift;
    const double over_tail = over_lead + 5500 * 13.2 * ppg_psift;
    const double outside = over_tail + 500 * 15.8 * ppg_psift, inside = 8000 * 9.5 * ppg_psift;
    assert_pressures(&load, DT_LOAD_COLLAPSE_CEMENT, 2000, 2000 * 9.5 * ppg_psift, over_lead);
    assert_pressures(&load, DT_LOAD_COLLAPSE_CEMENT, 7500, 7500 * 9.5 * ppg_psift, over_tail);
    assert_pressures(&load, DT_LOAD_COLLAPSE_CEMENT, 8000, inside, outside);
    assert_cited(&planned, "bump of lead and tail", "psi", load.bump_pa / PSI,
                 outside - inside + 500, 0.1);
    /* 15.6 ppg of mud wants a tail of 16.1: H neat, 16.4 ppg, and no lead of 13.2 follows it */
    b.items[2].mud_kgm3 = 15.6 * PPG;
    load = load_of(&b, 2);
    const double spacer = 500 * (15.6 + 16.4) / 2 * ppg_psift;
    const double lift = spacer + 6000 * 16.4 * ppg_psift - 6500 * 15.6 * ppg_psift;
    assert_cited(&planned, "bump of a tail alone, in heavy mud", "psi", load.bump_pa / PSI,
                 lift + 500, 0.1);
    dt_window_free(&b.window);
}

/* <loads> and <cementing> speak of one job: what one leaves open the other says (decision 0024). */
static void one_job_two_elements(void **state)
{
    (void)state;
    bench b;
    start(&b);
    dt_cement_wishes *job = &b.c.well.cementing;
    *job = (dt_cement_wishes){.given = true,
                              .bump_margin_pa = 300 * PSI,
                              .displacement_kgm3 = 8.4 * PPG,
                              .test = DT_TEST_COUNT};
    char lead[] = "G + 8 % bentonite", heavy[] = "H neat";
    job->lead = lead;
    dt_string_load load = load_of(&b, 2);
    assert_within(load.cement_kgm3 / PPG, 15.8, 1e-9); /* the tail is not named: customary */
    assert_within(load.displacement_kgm3 / PPG, 8.4, 1e-9);
    assert_within(b.design.bump_margin_pa / PSI, 300, 1e-9);
    assert_false(b.design.bump_customary);
    job->tail = heavy;
    assert_within(load_of(&b, 2).cement_kgm3 / PPG, 16.4, 1e-9); /* H neat: slurries.csv */
    dt_load_wishes *loads = &b.c.well.loads;
    loads->cement_kgm3 = 15 * PPG;
    loads->displacement_kgm3 = 9 * PPG;
    loads->bump_margin_pa = 700 * PSI;
    load = load_of(&b, 2); /* what <loads> says of the loads goes before */
    assert_within(load.cement_kgm3 / PPG, 15, 1e-9);
    assert_within(load.displacement_kgm3 / PPG, 9, 1e-9);
    assert_within(b.design.bump_margin_pa / PSI, 700, 1e-9);

    const dt_annulus none = {0};
    dt_cement_settings s;
    dt_pressure_test test = {DT_PRODUCTION, 3000 * PSI, NAN, 0};
    loads->tests = &test;
    loads->test_count = 1;
    dt_cement_settle(&b.c.well, DT_PRODUCTION, &none, &s);
    assert_within(s.bump_margin_pa / PSI, 300, 1e-9); /* the job's own */
    assert_within(s.displacement_kgm3 / PPG, 8.4, 1e-9);
    assert_int_equal(s.test, DT_TEST_PRESSURE);
    assert_within(s.test_pressure_pa / PSI, 3000, 1e-9);
    dt_cement_settle(&b.c.well, DT_INTERMEDIATE, &none, &s);
    assert_int_equal(s.test, DT_TEST_INTERNAL_YIELD); /* no test of its role */
    job->bump_margin_pa = job->displacement_kgm3 = NAN;
    job->test = DT_TEST_NONE;
    dt_cement_settle(&b.c.well, DT_PRODUCTION, &none, &s);
    assert_within(s.bump_margin_pa / PSI, 700, 1e-9);
    assert_within(s.displacement_kgm3 / PPG, 9, 1e-9);
    assert_int_equal(s.test, DT_TEST_NONE);
    dt_window_free(&b.window);
}

static void collapse_cases(void **state)
{
    (void)state;
    bench b;
    start(&b);
    dt_string_load load = load_of(&b, 2);
    assert_pressures(&load, DT_LOAD_COLLAPSE_EMPTY, 6000, 0, 6000 * 9.5 * ppg_psift);
    /* 12.5 ppg lost to 12 ppg at 12,000 ft: down to 12,000 (1 - 12/12.5) = 480 ft */
    b.c.well.loads.evacuation = DT_EVACUATION_LOST_RETURNS;
    b.c.well.loads.unfilled_m = 1500 * FT;
    load = load_of(&b, 2);
    assert_false(load.runs[DT_LOAD_COLLAPSE_EMPTY]);
    assert_int_equal(load.hole_count, 1);
    assert_within(load.holes[0].loss_level_tvd_m / FT, 480, 1e-6);
    assert_pressures(&load, DT_LOAD_COLLAPSE_LOSS, 6000, (6000 - 480) * 12.5 * ppg_psift,
                     6000 * 9.5 * ppg_psift);
    assert_pressures(&load, DT_LOAD_COLLAPSE_FILL, 6000, 4500 * 9.5 * ppg_psift,
                     6000 * 9.5 * ppg_psift);
    load = load_of(&b, 3); /* nothing is drilled below: the finished string may run empty */
    assert_true(load.runs[DT_LOAD_COLLAPSE_EMPTY] && !load.runs[DT_LOAD_COLLAPSE_LOSS]);
    dt_window_free(&b.window);
}

/* By role, common practice, no source: a surface string empty to 3,000 ft or its shoe, an
 * intermediate one to a third of its depth, the wall of the finished well empty. Losses fall to
 * 8,000 (1 - 9/9.5) = 421 ft and 480 ft, so custom governs until the rock is weaker. */
static void evacuation_by_role(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.c.well.loads.evacuation = DT_EVACUATION_BY_ROLE;
    dt_string_load load = load_of(&b, 1); /* to 2,000 ft: empty to the shoe */
    assert_false(load.runs[DT_LOAD_COLLAPSE_EMPTY]);
    assert_pressures(&load, DT_LOAD_COLLAPSE_LOSS, 2000, 0, 2000 * 9.2 * ppg_psift);
    b.items[1].shoe_m = 4000 * FT; /* 9.5 ppg left below 3,000 ft */
    load = load_of(&b, 1);
    assert_pressures(&load, DT_LOAD_COLLAPSE_LOSS, 3000, 0, 3000 * 9.2 * ppg_psift);
    assert_pressures(&load, DT_LOAD_COLLAPSE_LOSS, 4000, 1000 * 9.5 * ppg_psift,
                     4000 * 9.2 * ppg_psift);
    load = load_of(&b, 2); /* 8,000 / 3 = 2,666.7 ft */
    assert_false(load.runs[DT_LOAD_COLLAPSE_EMPTY]);
    assert_pressures(&load, DT_LOAD_COLLAPSE_LOSS, 8000, (8000 - 8000 / 3.0) * 12.5 * ppg_psift,
                     8000 * 9.5 * ppg_psift);
    dt_spot *spots = NULL;
    size_t count = 0, at_level = 0;
    assert_int_equal(dt_spots_make(&load, &b.trajectory, &spots, &count), DT_OK);
    for (size_t i = 0; i < count; ++i)
        at_level += fabs(spots[i].tvd_m / FT - 8000 / 3.0) < 1e-6;
    assert_int_equal(at_level, 1); /* the pressure bends there */
    free(spots);
    b.c.pore[3].emw_kgm3 = 7.5 * PPG; /* 12,000 (1 - 7.5/12.5) = 4,800 ft: the losses govern */
    load = load_of(&b, 2);
    assert_pressures(&load, DT_LOAD_COLLAPSE_LOSS, 8000, (8000 - 4800) * 12.5 * ppg_psift,
                     8000 * 9.5 * ppg_psift);
    load = load_of(&b, 3);
    assert_true(load.runs[DT_LOAD_COLLAPSE_EMPTY] && !load.runs[DT_LOAD_COLLAPSE_LOSS]);
    dt_window_free(&b.window);
}

/* By role, common practice, no source. The finished well is shut in on 12 ppg gas from 12,000 ft;
 * its packer fluid is the 12.5 ppg mud the string was run in until one is stated. */
static void kicks_by_role(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.c.well.loads.kick = DT_KICK_BY_ROLE;
    b.c.well.loads.influx_m3 = b.c.well.loads.drill_pipe_m = NAN;
    b.c.well.loads.packer_fluid_kgm3 = NAN;
    dt_string_load load = load_of(&b, 2);
    assert_true(load.runs[DT_LOAD_BURST_GAS] && !load.runs[DT_LOAD_BURST_INFLUX]);
    assert_false(load.runs[DT_LOAD_BURST_LEAK]);
    load = load_of(&b, 3);
    const double shut_in = 12000 * (12 * ppg_psift - 0.1);
    assert_pressures(&load, DT_LOAD_BURST_LEAK, 6000, shut_in + 6000 * 8.6 * ppg_psift,
                     6000 * water_psift);
    b.c.well.loads.packer_fluid_kgm3 = 9 * PPG;
    load = load_of(&b, 3);
    assert_pressures(&load, DT_LOAD_BURST_LEAK, 6000, shut_in + 6000 * 9 * ppg_psift,
                     6000 * water_psift);
    b.c.well.loads.influx_m3 = 6;
    b.c.well.loads.drill_pipe_m = 5 * 0.0254;
    load = load_of(&b, 2);
    assert_true(load.runs[DT_LOAD_BURST_INFLUX] && !load.runs[DT_LOAD_BURST_GAS]);
    load = load_of(&b, 1); /* a surface string keeps gas to surface */
    assert_true(load.runs[DT_LOAD_BURST_GAS] && !load.runs[DT_LOAD_BURST_INFLUX]);
    dt_window_free(&b.window);
}

/* Two holes below a string, the lower one in lighter mud. 12.5 ppg lost to 9 ppg at 8,000 ft falls
 * to 8,000 (1 - 9/12.5) = 2,240 ft; 10 ppg lost to 8.5 ppg at 12,000 ft to 1,800 ft. Less of the
 * first stands down to 4,000 ft, where both leave 22,000 ppg ft, less of the second below. */
static void of_two_losses_the_least_counts(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.c.well.loads.evacuation = DT_EVACUATION_LOST_RETURNS;
    b.items[1].shoe_m = 5000 * FT;
    b.items[2].type = DT_LINER;
    b.items[2].mud_kgm3 = 12.5 * PPG;
    b.items[3].mud_kgm3 = 10 * PPG;
    b.c.pore[2].emw_kgm3 = b.c.pore[3].emw_kgm3 = 8.5 * PPG;
    const dt_string_load load = load_of(&b, 1);
    const double rows[][2] = {{2240, 0},     {2500, 3250},  {3500, 15750},
                              {4000, 22000}, {4500, 27000}, {5000, 32000}}; /* ft, ppg ft */
    for (size_t i = 0; i < 6; ++i)
        assert_pressures(&load, DT_LOAD_COLLAPSE_LOSS, rows[i][0], rows[i][1] * ppg_psift,
                         rows[i][0] * 9.2 * ppg_psift);
    dt_spot *spots = NULL;
    size_t count = 0, at_4000 = 0;
    assert_int_equal(dt_spots_make(&load, &b.trajectory, &spots, &count), DT_OK);
    for (size_t i = 0; i < count; ++i)
        at_4000 += fabs(spots[i].tvd_m / FT - 4000) < 1e-6;
    assert_int_equal(at_4000, 1); /* the pressure bends there */
    free(spots);
    dt_window_free(&b.window);
}

static void salt_presses_with_the_overburden(void **state)
{
    (void)state;
    bench b;
    start(&b);
    char salt[] = "salt";
    coded_interval(&b.c, 5000, 6000, DT_CASE_OFF, 100);
    b.c.intervals[0].kind = salt;
    dt_string_load load = load_of(&b, 2);
    assert_pressures(&load, DT_LOAD_COLLAPSE_SALT, 5500, (5500 - 480) * 12.5 * ppg_psift, 5500);
    assert_pressures(&load, DT_LOAD_COLLAPSE_SALT, 6500, (6500 - 480) * 12.5 * ppg_psift,
                     6500 * 9.5 * ppg_psift); /* outside the salt the mud */
    /* An edge found from its MD is a rounding off: it is the salt's edge all the same. 1 psi/ft. */
    const double edges[] = {5000 * FT - 1e-9, 6000 * FT + 1e-9};
    for (size_t i = 0; i < 2; ++i) {
        double inside_pa, outside_pa;
        dt_load_pressures(&load, DT_LOAD_COLLAPSE_SALT, edges[i], &inside_pa, &outside_pa);
        assert_close(outside_pa, edges[i] / FT * PSI, 1e-9);
    }
    assert_false(load_of(&b, 3).runs[DT_LOAD_COLLAPSE_SALT]); /* behind the string above */
    assert_false(load_of(&b, 1).runs[DT_LOAD_COLLAPSE_SALT]); /* below its shoe */
    /* Beds that only touch the ends of the own hole are not crossed by it: no metre of pipe stands
     * in them. They add nothing beside a bed that is. */
    coded_interval(&b.c, 1500, 2000, DT_CASE_OFF, 100);
    coded_interval(&b.c, 8000, 8500, DT_CASE_OFF, 100);
    b.c.intervals[1].kind = b.c.intervals[2].kind = salt;
    load = load_of(&b, 2);
    assert_pressures(&load, DT_LOAD_COLLAPSE_SALT, 2000, (2000 - 480) * 12.5 * ppg_psift,
                     2000 * 9.5 * ppg_psift);
    assert_pressures(&load, DT_LOAD_COLLAPSE_SALT, 8000, (8000 - 480) * 12.5 * ppg_psift,
                     8000 * 9.5 * ppg_psift);
    b.c.intervals[0].top_m = 1000 * FT;
    b.c.intervals[0].base_m = 2000 * FT;
    assert_false(load_of(&b, 2).runs[DT_LOAD_COLLAPSE_SALT]);
    b.c.well.interval_count = 1;
    b.c.intervals[0].top_m = 5000 * FT;
    b.c.intervals[0].base_m = 6000 * FT;
    dt_curve_point weight[] = {{.tvd_m = 0, .emw_kgm3 = 2000}, {.tvd_m = 4000, .emw_kgm3 = 2400}};
    b.c.well.overburden = (dt_curve){.points = weight, .count = 2};
    load = load_of(&b, 2);
    const double z = 5500 * FT;
    assert_pressures(&load, DT_LOAD_COLLAPSE_SALT, 5500, (5500 - 480) * 12.5 * ppg_psift,
                     (2000 + 400 * z / 4000) * DT_STANDARD_GRAVITY * z / PSI);
    b.c.well.overburden = (dt_curve){0};
    /* Under the sea: the weight of the water from its surface, and of the rock from the sea floor.
     */
    b.c.well.rig_floor_m = 80 * FT;
    b.c.well.water_depth_m = 1000 * FT;
    double inside_pa, outside_pa;
    load = load_of(&b, 2);
    dt_load_pressures(&load, DT_LOAD_COLLAPSE_SALT, z, &inside_pa, &outside_pa);
    assert_close(outside_pa, 1000 * FT * 1025 * DT_STANDARD_GRAVITY + (5500 - 1080) * PSI, 1e-9);
    dt_window_free(&b.window);
}

static void outside_profiles(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.c.well.cementing.above_shoe_m = 6000 * FT; /* up to the shoe above, at 2,000 ft */
    const double inside = fmin(12000 * (12 * ppg_psift - 0.1), 8000 * (14 * ppg_psift - 0.1)) + 500;
    static const dt_outside kinds[] = {DT_OUTSIDE_WATER, DT_OUTSIDE_MUD, DT_OUTSIDE_MIX_WATER,
                                       DT_OUTSIDE_PORE};
    const double wanted[] = {5000 * water_psift, 5000 * 9.5 * ppg_psift,
                             2000 * 9.5 * ppg_psift + 3000 * water_psift, 5000 * 9 * ppg_psift};
    for (size_t i = 0; i < 4; ++i) {
        b.c.well.loads.burst_outside = kinds[i];
        const dt_string_load load = load_of(&b, 2);
        assert_pressures(&load, DT_LOAD_BURST_GAS, 5000, inside, wanted[i]);
    }
    dt_window_free(&b.window);
}

static const cited shock = {CITED_PRACTICE, "shock of running, 3200 lbf a lb/ft"};
static const cited elasticity = {
    CITED_WORKED, "elasticity of pipe held fast: 207 lbf a degF and in2; 2 x 0.3 of the pressure "
                  "change on the areas"};

static void axial_forces(void **state)
{
    (void)state;
    bench b;
    start(&b);
    const dt_pipe *pipe =
        dt_pipe_find(&catalogue, 9.625 * DT_M_PER_IN, 47 * DT_KGM_PER_LBFT, "L80");
    b.c.well.loads.running = DT_RUNNING_SHOCK;
    dt_string_load load = load_of(&b, 3);
    assert_false(load.runs[DT_LOAD_TENSION_RUN]); /* shock or overpull, not both */
    assert_true(load.runs[DT_LOAD_TENSION_SHOCK]);
    dt_load_point at = dt_load_at(&load, DT_LOAD_TENSION_SHOCK, pipe, (dt_load_place){0, 0}, 0);
    assert_cited(&shock, "on 47 lb/ft", "klbf", at.pull_n / klbf, 3.2 * 47, 1e-6);
    const dt_load_place at_5000 = {5000 * FT, 5000 * FT};
    const dt_load_point cold = dt_load_at(&load, DT_LOAD_COLLAPSE_EMPTY, pipe, at_5000, 0);
    const double mud = 5000 * 12.5 * ppg_psift, inner = 59.187, outer = 72.760;
    assert_cited(&elasticity, "pipe run empty at 5,000 ft", "lbf", cold.axial_n / DT_N_PER_LBF,
                 -mud * (outer - inner) - 0.6 * mud * inner, 20);
    dt_temperature_point ground[] = {{.tvd_m = 0, .celsius = 15}, {.tvd_m = 4000, .celsius = 100}};
    b.c.well.thermal.points = ground;
    b.c.well.thermal.count = 2;
    b.c.well.thermal.heating_k = 100 / 1.8;
    load = load_of(&b, 3);
    const dt_load_point warm = dt_load_at(&load, DT_LOAD_COLLAPSE_EMPTY, pipe, at_5000, 0);
    assert_cited(&elasticity, "heated by 100 degF", "klbf", (warm.axial_n - cold.axial_n) / klbf,
                 -280.9, 0.2);
    dt_derating_point parts[] = {{20, 1, 0}, {120, 0.9, 0}};
    b.c.well.thermal.deratings = parts;
    b.c.well.thermal.derating_count = 2;
    assert_within(dt_load_yield_part(&load, 4000), 0.9, 1e-12);
    b.c.well.thermal.heating_k = NAN;
    assert_within(dt_load_yield_part(&load, 4000), 1 - 0.1 * 0.8, 1e-12);
    assert_within(dt_load_yield_part(&load, 0), 1, 1e-12);
    b.c.well.thermal = (dt_thermal){.heating_k = NAN};
    assert_within(dt_load_yield_part(&load, 4000), 1, 0); /* off */
    dt_window_free(&b.window);
}

/* Anticipated surface pressure by hand, whole gas and 70 % gas over mud. */
static void surface_pressure_of_each_head(void **state)
{
    (void)state;
    bench b;
    start(&b);
    (void)load_of(&b, 0);
    dt_string strings[4];
    memset(strings, 0, sizeof strings);
    const dt_strings none = {strings, 4, 0};
    dt_wellhead head;
    assert_int_equal(dt_wellhead_build(&b.window, &b.seats, &none, &b.trajectory, &b.design, &head),
                     DT_OK);
    assert_true(head.stages[0].diverter && isnan(head.stages[0].pressure_pa));
    assert_within(head.stages[1].pressure_pa / PSI, 2000 * (14 * ppg_psift - 0.1), 0.05);
    assert_within(head.stages[1].class_psi, 2000, 0);
    assert_within(head.stages[2].pressure_pa / PSI, 8000 * (14 * ppg_psift - 0.1), 0.05);
    assert_within(head.stages[2].class_psi, 10000, 0);
    assert_within(head.stages[3].pressure_pa / PSI, 12000 * (12 * ppg_psift - 0.1), 0.05);
    assert_false(head.landing[0].made); /* no weight of the BOP stated */
    dt_wellhead_free(&head);
    b.c.well.wellhead = (dt_wellhead_wishes){.given = true,
                                             .evacuation = 0.7,
                                             .bop_n = NAN,
                                             .head_n = NAN,
                                             .free_length_m = NAN,
                                             .end_factor = NAN};
    assert_int_equal(dt_wellhead_build(&b.window, &b.seats, &none, &b.trajectory, &b.design, &head),
                     DT_OK);
    const double fill = 0.7 * 0.1 + 0.3 * 12.5 * ppg_psift;
    assert_within(head.stages[2].pressure_pa / PSI,
                  fmin(12000 * (12 * ppg_psift - fill), 8000 * (14 * ppg_psift - fill)), 0.05);
    dt_wellhead_free(&head);
    dt_window_free(&b.window);
}

static const cited landing = {
    CITED_WORKED, "a 13-3/8 in 68 lb/ft J55 string that carries 497.2 klbf; Euler's column"};

/* 25,570 psi, 0.46 of yield. */
static void landing_worked(void **state)
{
    (void)state;
    bench b;
    start(&b);
    (void)load_of(&b, 0);
    const dt_pipe *outer =
        dt_pipe_find(&catalogue, 13.375 * DT_M_PER_IN, 68 * DT_KGM_PER_LBFT, "J55");
    const dt_pipe *inner =
        dt_pipe_find(&catalogue, 9.625 * DT_M_PER_IN, 47 * DT_KGM_PER_LBFT, "N80");
    dt_section carrier = {.base_md_m = 2000 * FT, .pipe = outer};
    dt_section hung = {.base_md_m = 9000 * FT, .pipe = inner};
    dt_section none = {.pipe = inner};
    dt_string strings[4] = {{.sections = &carrier, .section_count = 1},
                            {.sections = &carrier, .section_count = 1},
                            {.sections = &hung, .section_count = 1},
                            {.sections = &none, .section_count = 1}};
    strings[2].load.mud_kgm3 = 10.5 * PPG;
    const dt_strings all = {strings, 4, 0};
    const double hung_klbf = 9 * 47 * (1 - 10.5 * PPG / 7850);
    b.c.well.wellhead = (dt_wellhead_wishes){.given = true,
                                             .evacuation = NAN,
                                             .bop_n = 60 * klbf,
                                             .head_n = (497.2 - 60 - hung_klbf) * klbf,
                                             .free_length_m = 30 * FT,
                                             .end_factor = NAN,
                                             .hung_buckles = true};
    dt_wellhead head;
    assert_int_equal(dt_wellhead_build(&b.window, &b.seats, &all, &b.trajectory, &b.design, &head),
                     DT_OK);
    const dt_landing *l = &head.landing[1];
    assert_int_equal(l->carrier, 1);
    assert_within(l->hung_n / klbf, hung_klbf, 0.01);
    /* buoyed by 65.5 ppg steel */
    assert_cited(&landing, "hung in it: 9,000 ft of 47 lb/ft", "klbf", l->hung_n / klbf, 355.2,
                 0.3);
    assert_within(l->load_n / klbf, 497.2, 0.01);
    assert_cited(&landing, "stress", "psi", l->stress_pa / PSI, 25570, 15);
    assert_cited(&landing, "share of yield", "", 1 / l->stress_factor, 0.46, 0.006);
    assert_cited(&landing, "strength as a column", "klbf", l->column_n / klbf, 231, 1);
    assert_true(l->column_factor < 1); /* the example fails as a column */
    dt_wellhead_free(&head);
    b.c.well.wellhead.hung_buckles = false;
    assert_int_equal(dt_wellhead_build(&b.window, &b.seats, &all, &b.trajectory, &b.design, &head),
                     DT_OK);
    assert_within(head.landing[1].column_load_n / klbf, 497.2 - hung_klbf, 0.01);
    dt_wellhead_free(&head);
    dt_window_free(&b.window);
}

static const cited cfr_425 = {CITED_WORKED, "US 30 CFR 250.425, 2015 edition"};

/* A production liner to 500 psi over fracture pressure at the shoe it laps into, a drilling liner
 * to what it will see in the test of the rock below it. */
static void liner_tops(void **state)
{
    (void)state;
    bench b;
    start(&b);
    const double k = ppg_psift;
    assert_false(load_of(&b, 2).runs[DT_LOAD_BURST_LAP]);
    b.items[3].type = DT_LINER; /* from 7,700 ft, in the string that ends at 8,000 ft */
    assert_false(load_of(&b, 2).runs[DT_LOAD_BURST_LAP]); /* the well asks for none */
    b.c.well.liner_test = (dt_liner_test){true, DT_LINER_TEST_PRESSURE, 1500 * PSI, NAN, NAN, 0};
    dt_string_load load = load_of(&b, 2);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 5000, 1500 + 5000 * 12.5 * k, 5000 * water_psift);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 7700, 1500 + 7700 * 12.5 * k, 7700 * water_psift);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 7701, 7701 * 12.5 * k, 7701 * water_psift);
    load = load_of(&b, 3); /* its own whole length */
    assert_pressures(&load, DT_LOAD_BURST_LAP, 12000, 1500 + 12000 * 12.5 * k, 12000 * water_psift);
    assert_false(load_of(&b, 1).runs[DT_LOAD_BURST_LAP]); /* covered by the full string */

    b.c.well.liner_test = (dt_liner_test){true, DT_LINER_TEST_FRACTURE, NAN, NAN, NAN, 0};
    load = load_of(&b, 2);
    const double of_production = 8000 * (14 - 12.5) * k + 500;
    assert_cited(&cfr_425, "test of a production liner, surface", "psi",
                 load.lap_tests[0].pressure_pa / PSI, of_production, 0.05);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 7000, of_production + 7000 * 12.5 * k,
                     7000 * water_psift);
    b.c.well.liner_test.above_pa = 800 * PSI; /* with water in the well, to the same at the shoe */
    b.c.well.liner_test.fluid_kgm3 = 8.4 * PPG;
    load = load_of(&b, 2);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 7000, 8000 * 14 * k + 800 - 1000 * 8.4 * k,
                     7000 * water_psift);

    /* a drilling liner from 1,700 ft as well: the surface string sees both tests */
    b.c.well.liner_test = (dt_liner_test){true, DT_LINER_TEST_FRACTURE, NAN, NAN, NAN, 0};
    b.items[2].type = DT_LINER;
    const double of_drilling = 8000 * (14 - 9.5) * k;
    load = load_of(&b, 1);
    assert_true(of_drilling + 1700 * 9.5 * k > of_production + 1700 * 12.5 * k);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 1700, of_drilling + 1700 * 9.5 * k,
                     1700 * water_psift);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 1800, 1800 * 12.5 * k, 1800 * water_psift);
    load = load_of(&b, 2); /* its own test to its shoe, the next one's to 7,700 ft */
    assert_cited(&cfr_425, "test of a drilling liner, surface", "psi",
                 load.lap_tests[0].pressure_pa / PSI, of_drilling, 0.05);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 7900, of_drilling + 7900 * 9.5 * k,
                     7900 * water_psift);
    b.c.well.liner_test = (dt_liner_test){true, DT_LINER_TEST_PRESSURE, 1500 * PSI, NAN, NAN, 0};
    load = load_of(&b, 2);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 7700, 1500 + 7700 * 12.5 * k, 7700 * water_psift);
    assert_pressures(&load, DT_LOAD_BURST_LAP, 7900, 1500 + 7900 * 9.5 * k, 7900 * water_psift);
    dt_window_free(&b.window);
}

static const cited soft_string = {
    CITED_WORKED, "drag in a straight slant: friction x weight across the hole x length"};

/* A slant of 40 deg from the surface on: 47 lb/ft lie on the wall with 47 sin 40 lb/ft, over 8,000
 * ft of TVD that is 8,000/cos 40 ft of pipe. Friction 0.30 below the shoe above at 2,000 ft, 0.20
 * above it. All of it in mud; the weight that hangs is 47 lb/ft of TVD. */
static void drag_beside_the_overpull(void **state)
{
    (void)state;
    bench b;
    start(&b);
    const dt_station slant = {.md_m = 0, .inclination_rad = 40 * 3.14159265358979 / 180};
    const dt_station stations[] = {slant, {.md_m = 6000, .inclination_rad = slant.inclination_rad}};
    assert_int_equal(dt_trajectory_build(stations, 2, &b.trajectory), DT_OK);
    const dt_pipe *pipe =
        dt_pipe_find(&catalogue, 9.625 * DT_M_PER_IN, 47 * DT_KGM_PER_LBFT, "L80");
    const double floats = 1 - 9.5 * PPG / 7850, across = tan(slant.inclination_rad);
    const dt_string_load load = load_of(&b, 2);
    const double at_2000_m = 2000 * FT / cos(slant.inclination_rad);
    const dt_load_place places[] = {{0, 0}, {at_2000_m, 2000 * FT}, {load.shoe_md_m, 8000 * FT}};
    const double dragged_ft[] = {0.3 * 6000 + 0.2 * 2000, 0.3 * 6000, 0};
    for (size_t i = 0; i < 3; ++i) {
        const double hangs_klbf = 47 * (8 - places[i].tvd_m / FT / 1000);
        const dt_load_point at =
            dt_load_at(&load, DT_LOAD_TENSION_RUN, pipe, places[i], hangs_klbf * klbf);
        const double drag_klbf = 47 * across * dragged_ft[i] / 1000;
        assert_cited(&soft_string, "pulled with an overpull of 100 klbf", "klbf", at.pull_n / klbf,
                     (hangs_klbf + drag_klbf) * floats + 100, 0.02);
        const dt_load_point still =
            dt_load_at(&load, DT_LOAD_TENSION_HANG, pipe, places[i], hangs_klbf * klbf);
        assert_within(still.pull_n / klbf, hangs_klbf * floats, 0.02); /* no drag, no overpull */
    }
    dt_trajectory_free(&b.trajectory);
    dt_window_free(&b.window);
}

static const cited hanging = {
    CITED_WORKED, "3,000 ft of 7 in 29 lb/ft on a hanger, bore 6.184 in (API Spec 5CT), "
                  "steel of 65.5 ppg"};

/* In 12.5 ppg mud, bumped with 1,200 psi: 87 klbf less buoyancy, and 1,200 psi on 30.035 in2. */
static void what_hangs_on_a_hanger(void **state)
{
    (void)state;
    bench b;
    start(&b);
    b.items[3].type = DT_LINER;
    dt_string_load load = load_of(&b, 3);
    load.bump_pa = 1200 * PSI;
    const dt_pipe *pipe = NULL;
    for (size_t i = 0; i < catalogue.pipe_count; ++i)
        if (fabs(catalogue.pipes[i].od_m / DT_M_PER_IN - 7) < 1e-6 &&
            fabs(catalogue.pipes[i].weight_kgm / DT_KGM_PER_LBFT - 29) < 1e-6)
            pipe = &catalogue.pipes[i];
    assert_non_null(pipe);
    dt_hung hung = dt_hanger_load(&load, pipe, 87 * klbf);
    assert_cited(&hanging, "buoyed weight", "klbf", hung.weight_n / klbf, 87 * (1 - 12.5 / 65.5),
                 0.02);
    assert_cited(&hanging, "1,200 psi on the bore", "klbf", hung.pressure_n / klbf, 1.2 * 30.035,
                 0.01);
    assert_within(hung.total_n, hung.weight_n + hung.pressure_n, 1e-9);
    assert_int_equal(hung.by, DT_LOAD_TENSION_BUMP);
    b.c.well.loads.green_test_pa = 2000 * PSI; /* a harder test before the cement sets governs */
    load = load_of(&b, 3);
    load.bump_pa = 1200 * PSI;
    hung = dt_hanger_load(&load, pipe, 87 * klbf);
    assert_int_equal(hung.by, DT_LOAD_TENSION_GREEN);
    assert_within(hung.pressure_n / klbf, 2 * 30.035, 0.02);
    const dt_hanger hanger = {.capacity_n = hung.total_n};
    assert_within(dt_hanger_most_hanging(&hanger, &load, pipe) / klbf, 87, 1e-6);
    b.c.well.hangers.factor = 1.25; /* 1.25 times the total, no more */
    const dt_hanger stronger = {.capacity_n = 1.25 * hung.total_n};
    assert_within(dt_hanger_most_hanging(&stronger, &load, pipe) / klbf, 87, 1e-6);
    dt_window_free(&b.window);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kicks),
        cmocka_unit_test(influx_circulated),
        cmocka_unit_test(influx_from_the_worse_formation),
        cmocka_unit_test(finished_well),
        cmocka_unit_test(cementing),
        cmocka_unit_test(slurries_of_the_planned_job),
        cmocka_unit_test(one_job_two_elements),
        cmocka_unit_test(collapse_cases),
        cmocka_unit_test(evacuation_by_role),
        cmocka_unit_test(kicks_by_role),
        cmocka_unit_test(of_two_losses_the_least_counts),
        cmocka_unit_test(salt_presses_with_the_overburden),
        cmocka_unit_test(outside_profiles),
        cmocka_unit_test(axial_forces),
        cmocka_unit_test(surface_pressure_of_each_head),
        cmocka_unit_test(landing_worked),
        cmocka_unit_test(liner_tops),
        cmocka_unit_test(drag_beside_the_overpull),
        cmocka_unit_test(what_hangs_on_a_hanger),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
