/* SPDX-License-Identifier: MIT */
#include "strings.h"

#include "cited.h"
#include "units.h"

/*
 * Expected figures are worked by hand in field units: 1 lb/gal is 12/231 psi/ft exactly
 * (231 in3 in a gallon), gas 0.1 psi/ft, depths in ft below the rig floor.
 */

static const double ft = DT_M_PER_FT, psi = DT_PA_PER_PSI, ppg = DT_KGM3_PER_PPG;
static const double lbf = DT_N_PER_LBF;

static dt_catalogue catalogue;

enum { MAX_POINTS = 8, MAX_SEATS = 6 };

/* A well made in the test, and its stages. */
typedef struct bench {
    dt_curve_point pore[MAX_POINTS], fracture[MAX_POINTS];
    dt_seat items[MAX_SEATS];
    dt_well well;
    dt_window window;
    dt_seats seats;
    dt_trajectory trajectory;
    dt_design_in_force design;
} bench;

static void add_point(dt_curve *curve, dt_curve_point *store, double tvd_ft, double emw_ppg)
{
    store[curve->count++] = (dt_curve_point){.tvd_m = tvd_ft * ft,
                                             .emw_kgm3 = emw_ppg * ppg,
                                             .sd_kgm3 = NAN,
                                             .low_kgm3 = NAN,
                                             .high_kgm3 = NAN};
    curve->points = store;
}

static void pore(bench *b, double tvd_ft, double emw_ppg)
{
    add_point(&b->well.pore, b->pore, tvd_ft, emw_ppg);
}

static void fracture(bench *b, double tvd_ft, double emw_ppg)
{
    add_point(&b->well.fracture, b->fracture, tvd_ft, emw_ppg);
}

static void seat(bench *b, dt_string_type type, double shoe_ft, double mud_ppg)
{
    b->items[b->seats.count++] =
        (dt_seat){.type = type, .shoe_m = shoe_ft * ft, .mud_kgm3 = mud_ppg * ppg};
    b->seats.items = b->items;
    b->well.objective_m = shoe_ft * ft;
}

/* Rig floor at 30 ft over ground, gas 0.1 psi/ft, overpull 100,000 lbf. */
static void start(bench *b)
{
    *b = (bench){0};
    b->well.rig_floor_m = 30 * ft;
    dt_design_settle(&b->well, &b->design);
}

static void finish(bench *b)
{
    assert_int_equal(dt_window_build(&b->well, &b->window), DT_OK);
}

static dt_string_load load_of(const bench *b, size_t which)
{
    dt_string_load load;
    assert_int_equal(dt_string_load_build(&b->window, &b->seats, &b->trajectory, &b->design,
                                          300 * ft, which, &load),
                     DT_OK);
    return load;
}

static dt_screen screen_of(const bench *b, const dt_string_load *load, const dt_pipe *pipe,
                           dt_thread thread)
{
    dt_screen screen;
    assert_int_equal(
        dt_string_screen(&catalogue, pipe, thread, load, &b->trajectory, &b->design, &screen),
        DT_OK);
    return screen;
}

static const dt_pipe *find(double od_in, double weight_lbft, const char *grade)
{
    const dt_pipe *pipe =
        dt_pipe_find(&catalogue, od_in * DT_M_PER_IN, weight_lbft * DT_KGM_PER_LBFT, grade);
    assert_non_null(pipe);
    return pipe;
}

/* Conductor 100 ft, surface 2,000 ft, production 10,000 ft; 9 ppg pore, 14 ppg fracture. */
static void three_strings(bench *b)
{
    start(b);
    pore(b, 0, 9);
    pore(b, 10000, 9);
    fracture(b, 0, 14);
    fracture(b, 10000, 14);
    seat(b, DT_FULL, 100, NAN);
    seat(b, DT_FULL, 2000, 9.5);
    seat(b, DT_FULL, 10000, 10);
    finish(b);
}

static void customary_and_given_design(void **state)
{
    (void)state;
    dt_well well = {0};
    dt_design_in_force f;
    dt_design_settle(&well, &f);
    assert_true(f.factors_customary && f.overpull_customary && f.gas_customary);
    static const cited customary = {CITED_PRACTICE,
                                    "design of a string where the well states none"};
    assert_cited(&customary, "burst factor", "", f.burst, 1.10, 0);
    assert_cited(&customary, "collapse factor", "", f.collapse, 1.00, 0);
    assert_cited(&customary, "tension factor", "", f.tension, 1.60, 0);
    assert_cited(&customary, "tension factor with a pull, basis bare", "", f.tension_pulled, 1.60,
                 0);
    assert_cited(&customary, "triaxial factor", "", f.triaxial, 1.25, 0);
    assert_cited(&customary, "overpull", "lbf", f.overpull_n / lbf, 100e3, 1e-6);
    assert_cited(&customary, "gas gradient", "psi/ft",
                 f.gas_gradient_kgm3 * DT_STANDARD_GRAVITY * ft / psi, 0.1, 1e-12);
    well.design = (dt_design){.given = true,
                              .burst = 1.2,
                              .collapse = 1.1,
                              .tension = 1.7,
                              .tension_pulled = 1.4,
                              .triaxial = 1.3,
                              .overpull_n = 5e5,
                              .gas_gradient_kgm3 = 200};
    dt_design_settle(&well, &f);
    assert_false(f.factors_customary || f.overpull_customary || f.gas_customary);
    assert_within(f.burst + f.collapse + f.tension + f.triaxial, 5.3, 1e-12);
    assert_within(f.tension_pulled, 1.4, 0);
    well.design.collapse = NAN;
    dt_design_settle(&well, &f);
    assert_true(f.factors_customary && !f.overpull_customary);
    assert_within(f.collapse, 1.00, 0);
    assert_within(f.burst, 1.2, 0);
}

static void surface_pressures(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    dt_string_load load = load_of(&b, 1);
    assert_within(load.surface_by_pore_pa / psi, 10000 * (9 * 12 / 231. - 0.1), 0.01);
    assert_within(load.surface_by_fracture_pa / psi, 2000 * (14 * 12 / 231. - 0.1), 0.01);
    assert_within(load.surface_pressure_pa / psi, 1254.55, 0.01);
    assert_within(load.pore_source_tvd_m / ft, 10000, 1e-6);
    load = load_of(&b, 2);
    assert_within(load.surface_pressure_pa / psi, 3675.32, 0.01); /* shut in on gas */
    assert_true(isnan(load.surface_by_fracture_pa));
    assert_within(load.top_md_m, 0, 0);
    assert_within(load.shoe_md_m / ft, 10000, 1e-9);
    load = load_of(&b, 0);
    assert_false(load.pressures_apply);
    assert_true(isnan(load.surface_pressure_pa) && isnan(load.surface_by_pore_pa));
    assert_within(load.overpull_n, 0, 0);
    assert_int_equal(
        dt_string_load_build(&b.window, &b.seats, &b.trajectory, &b.design, 0, 3, &load),
        DT_E_DOMAIN);
    dt_window_free(&b.window);
}

static void factors_by_hand(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    dt_string_load load = load_of(&b, 2);
    dt_screen s = screen_of(&b, &load, find(9.625, 47, "L80"), DT_LTC);
    const dt_factor *burst = &s.by_load[DT_LOAD_BURST_GAS];
    assert_within(burst->load / psi, 3675.32 + 3, 0.01); /* at ground, 3 psi of gas lower down */
    assert_within(burst->at_md_m / ft, 30, 1e-6);
    assert_within(burst->factor, 6865 / 3678.32, 0.0002);
    const dt_factor *collapse = &s.by_load[DT_LOAD_COLLAPSE_EMPTY];
    assert_within(collapse->load / psi, 10000 * 10 * 12 / 231., 0.01);
    assert_within(collapse->at_tvd_m / ft, 10000, 1e-6);
    assert_within(collapse->factor, 4754 / 5194.81, 0.0002); /* no weight hangs below the shoe */
    const dt_factor *tension = &s.by_load[DT_LOAD_TENSION_RUN];
    const double buoyed = 1 - 10 * ppg / 7850;
    assert_within(tension->load / lbf, 470000 * buoyed + 100000, 1);
    assert_within(tension->factor, 892500 / (470000 * buoyed + 100000), 0.001);
    assert_within(tension->at_tvd_m, 0, 0);
    assert_false(s.ok); /* collapse */
    assert_int_equal(s.worst, DT_LOAD_COLLAPSE_EMPTY);
    s = screen_of(&b, &load, find(9.625, 53.5, "P110"), DT_BTC);
    assert_true(s.ok);
    dt_window_free(&b.window);
}

static const cited handbook = {
    CITED_WORKED, "buoyed weight by 1 - MW/65.5, steel of 490 lb/ft3, as handbooks give it"};

/* 10,000 ft of 47 lb/ft in 12 lb/gal. */
static void hook_load_as_handbooks(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    b.items[2].mud_kgm3 = 12 * ppg;
    dt_string_load load = load_of(&b, 2);
    load.overpull_n = 0;
    dt_screen s = screen_of(&b, &load, find(9.625, 47, "L80"), DT_LTC);
    assert_cited(&handbook, "10,000 ft of 47 lb/ft in 12 ppg", "lbf",
                 s.by_load[DT_LOAD_TENSION_RUN].load / lbf, 383900, 100);
    dt_window_free(&b.window);
}

static const cited worse_of_both = {
    CITED_PRACTICE, "tension: 1.6 on the hanging weight in mud, or 1.3 with what pulls beside it"};

/* 10,000 ft of 47 lb/ft in 12 ppg hang 470 (1 - 12/65.5) = 383.9 klbf; LTC joints of L80 bear 893
 * klbf and the body more. Alone 893/383.9 = 2.33 for 1.6, with 100 klbf 893/483.9 = 1.85 for 1.3:
 * the second is nearer to what it needs. With 20 klbf it is 893/403.9 = 2.21 for 1.3, and the
 * first is. Without the bump. */
static void tension_by_two_factors(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    b.items[2].mud_kgm3 = 12 * ppg;
    b.design.tension_pulled = 1.3;
    dt_string_load load = load_of(&b, 2);
    load.runs[DT_LOAD_TENSION_BUMP] = false; /* overpull against weight, and nothing else */
    dt_screen s = screen_of(&b, &load, find(9.625, 47, "L80"), DT_LTC);
    assert_cited(&worse_of_both, "10,000 ft of 47 lb/ft L80 in 12 ppg, alone", "",
                 s.by_load[DT_LOAD_TENSION_HANG].factor, 2.326, 0.003);
    assert_cited(&worse_of_both, "the same with 100 klbf of overpull", "",
                 s.by_load[DT_LOAD_TENSION_RUN].factor, 1.846, 0.003);
    assert_within(s.by_load[DT_LOAD_TENSION_HANG].needed, 1.6, 0);
    assert_within(s.by_load[DT_LOAD_TENSION_RUN].needed, 1.3, 0);
    assert_int_equal(s.load_of_check[DT_CHECK_TENSION], DT_LOAD_TENSION_RUN);
    assert_within(s.by_check[DT_CHECK_TENSION].needed, 1.3, 0);
    load.overpull_n = 20000 * lbf;
    s = screen_of(&b, &load, find(9.625, 47, "L80"), DT_LTC);
    assert_int_equal(s.load_of_check[DT_CHECK_TENSION], DT_LOAD_TENSION_HANG);
    assert_within(s.by_check[DT_CHECK_TENSION].needed, 1.6, 0);
    assert_within(s.by_check[DT_CHECK_TENSION].factor, 2.326, 0.003);
    dt_window_free(&b.window);
}

static void conductor_hangs_only(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    dt_string_load load = load_of(&b, 0);
    dt_screen s = screen_of(&b, &load, find(20, 94, "K55"), DT_STC);
    assert_true(isnan(s.by_load[DT_LOAD_BURST_GAS].factor));
    assert_true(isnan(s.by_load[DT_LOAD_COLLAPSE_EMPTY].factor));
    assert_true(isnan(s.by_load[DT_LOAD_TENSION_RUN].factor));
    assert_within(s.by_load[DT_LOAD_TENSION_HANG].load / lbf, 9400, 0.01);
    assert_true(s.ok);
    assert_int_equal(s.worst, DT_LOAD_TENSION_HANG);
    assert_within(s.by_check[DT_CHECK_TENSION].needed, 1.60, 0);
    dt_window_free(&b.window);
}

/* Intermediate at 8,000 ft, drilling liner to 11,000 ft, production from surface to 14,000 ft:
 * the intermediate sees both holes, each with the fracture gradient of the shoe above it. */
static void liner_leaves_the_string_above_exposed(void **state)
{
    (void)state;
    bench b;
    start(&b);
    pore(&b, 0, 9);
    pore(&b, 8000, 9);
    pore(&b, 14000, 15);
    fracture(&b, 0, 13);
    fracture(&b, 14000, 17);
    seat(&b, DT_FULL, 100, NAN);
    seat(&b, DT_FULL, 3000, 9.5);
    seat(&b, DT_FULL, 8000, 9.5);
    seat(&b, DT_LINER, 11000, 12.5);
    seat(&b, DT_FULL, 14000, 15.5);
    finish(&b);
    const double at_11000 = 13 + 4 * 11000 / 14000., at_8000 = 13 + 4 * 8000 / 14000.;
    dt_string_load load = load_of(&b, 2);
    assert_within(load.surface_by_pore_pa / psi, 14000 * (15 * 12 / 231. - 0.1), 0.01);
    assert_within(load.surface_by_fracture_pa / psi, 11000 * (at_11000 * 12 / 231. - 0.1), 0.01);
    assert_within(load.surface_pressure_pa, load.surface_by_fracture_pa, 1e-6);
    const double of_liner = load.surface_pressure_pa;
    load = load_of(&b, 3);
    assert_within(load.surface_pressure_pa, of_liner, 1e-6);
    assert_within(load.top_md_m / ft, 7700, 1e-6);
    load = load_of(&b, 1); /* covered by the intermediate: sees its hole only */
    assert_within(load.surface_by_pore_pa / psi, 8000 * (9 * 12 / 231. - 0.1), 0.01);
    /* a liner that reaches the objective leaves its wall to the string above for good */
    b.seats.count = 4;
    load = load_of(&b, 2);
    assert_within(load.surface_pressure_pa / psi, 11000 * (12 * 12 / 231. - 0.1), 0.01);
    assert_true(isnan(load.surface_by_fracture_pa) ||
                load.surface_by_fracture_pa >= load.surface_pressure_pa);
    assert_true(8000 * (at_8000 * 12 / 231. - 0.1) <
                11000 * (12 * 12 / 231. - 0.1)); /* else no test */
    assert_true(isnan(load.surface_by_fracture_pa));
    dt_window_free(&b.window);
}

/* Strongest gas at surface, against a slow walk through the hole: steps, and a pore gradient that
 * falls with depth so that the worst depth is inside a stretch. */
static void strongest_source_as_by_walking(void **state)
{
    (void)state;
    static const struct {
        dt_between between;
        double points[MAX_POINTS][2];
    } wells[] = {{DT_BETWEEN_GRADIENT, {{0, 9}, {4000, 9}, {4000, 14}, {12000, 3}, {12000, 2}}},
                 {DT_BETWEEN_GRADIENT, {{0, 9}, {5000, 16}, {6000, 4}, {7000, 8}, {12000, 6}}},
                 {DT_BETWEEN_PRESSURE, {{0, 9}, {5000, 16}, {6000, 9}, {7000, 8}, {12000, 6}}},
                 {DT_BETWEEN_GRADIENT, {{0, 1}, {5000, 1}, {6000, 1}, {7000, 1}, {12000, 1}}}};
    for (size_t w = 0; w < sizeof wells / sizeof *wells; ++w) {
        bench b;
        start(&b);
        for (size_t i = 0; i < 5; ++i)
            pore(&b, wells[w].points[i][0], wells[w].points[i][1]);
        b.well.pore.between = wells[w].between;
        fracture(&b, 0, 30);
        fracture(&b, 12000, 30);
        seat(&b, DT_FULL, 100, NAN);
        seat(&b, DT_FULL, 2500, 10);
        seat(&b, DT_FULL, 12000, 10);
        finish(&b);
        const dt_string_load load = load_of(&b, 1);
        double most_pa = 0;
        for (double z = 2500.01 * ft; z < 12000 * ft; z += 0.05) {
            const double emw = dt_curve_emw(&b.well.pore, z, DT_BELOW);
            most_pa = fmax(most_pa, (emw - load.gas_gradient_kgm3) * DT_STANDARD_GRAVITY * z);
        }
        if (most_pa == 0) {
            assert_true(load.surface_by_pore_pa < 0);
            assert_within(load.surface_pressure_pa, 0, 0);
        } else {
            assert_true(load.surface_by_pore_pa >= most_pa - 1);
            assert_within(load.surface_by_pore_pa / psi, most_pa / psi,
                          1); /* walk steps over 1 psi */
        }
        dt_window_free(&b.window);
    }
}

static void deviated_string(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    const double deg60 = acos(-1) / 3;
    const dt_station stations[] = {{0, deg60, 0, 1}, {1000, deg60, 0, 2}};
    assert_int_equal(dt_trajectory_build(stations, 2, &b.trajectory), DT_OK);
    dt_string_load load = load_of(&b, 2);
    assert_within(load.shoe_md_m / ft, 20000, 1e-6);
    dt_screen s = screen_of(&b, &load, find(9.625, 47, "L80"), DT_LTC);
    assert_within(s.by_load[DT_LOAD_BURST_GAS].at_md_m / ft, 60, 1e-6);
    assert_within(s.by_load[DT_LOAD_COLLAPSE_EMPTY].at_md_m / ft, 20000, 1e-6);
    assert_within(s.by_load[DT_LOAD_TENSION_RUN].load / lbf,
                  470000 * (1 - 10 * ppg / 7850) + 100000, 1); /* by TVD, not by length */
    b.items[2].type = DT_LINER;
    load = load_of(&b, 2);
    assert_within(load.top_md_m / ft, 4000 - 300, 1e-6);
    assert_within(load.top_tvd_m / ft, 1850, 1e-6);
    dt_trajectory_free(&b.trajectory);
    dt_window_free(&b.window);
}

/* Collapse over a fine grid of depths never finds a smaller factor than the screen did. */
static void collapse_as_by_walking(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    const dt_string_load load = load_of(&b, 2);
    for (size_t p = 0; p < catalogue.pipe_count; p += 7) {
        const dt_pipe *pipe = &catalogue.pipes[p];
        if (!(pipe->threads & 1u << DT_PLAIN_END)) continue;
        const double area_m2 = acos(-1) / 4 * (pipe->od_m * pipe->od_m - pipe->id_m * pipe->id_m);
        double least = INFINITY;
        for (int i = 1; i <= 2000; ++i) {
            const double z = load.shoe_tvd_m * i / 2000;
            const double weight_n = pipe->weight_kgm * DT_STANDARD_GRAVITY *
                                    (1 - load.mud_kgm3 / 7850) * (load.shoe_tvd_m - z);
            double resistance_pa = 0;
            (void)dt_collapse_axial(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa,
                                    weight_n / area_m2, &resistance_pa, NULL);
            least = fmin(least, resistance_pa / (load.mud_kgm3 * DT_STANDARD_GRAVITY * z));
        }
        const dt_screen s = screen_of(&b, &load, pipe, DT_PLAIN_END);
        assert_close(s.by_load[DT_LOAD_COLLAPSE_EMPTY].factor, least, 1e-3);
    }
    dt_window_free(&b.window);
}

/* 7 in 35 lb/ft L80 with buttress couplings: the coupling yields first (docs/strength.md). */
static void coupling_governs_burst(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    const dt_string_load load = load_of(&b, 2);
    dt_pipe pipe = *find(7, 35, "L80");
    dt_screen s = screen_of(&b, &load, &pipe, DT_BTC);
    assert_within(s.by_load[DT_LOAD_BURST_GAS].resistance / psi, 8464, 6);
    s = screen_of(&b, &load, &pipe, DT_PLAIN_END);
    assert_within(s.by_load[DT_LOAD_BURST_GAS].resistance / psi, 0.875 * 2 * 80e3 * 0.498 / 7, 0.1);
    pipe.coupling_od_m = pipe.clearance_coupling_od_m;
    s = screen_of(&b, &load, &pipe, DT_BTC);
    assert_true(s.by_load[DT_LOAD_BURST_GAS].resistance / psi < 8400);
    dt_screen unused;
    assert_int_equal(
        dt_string_screen(&catalogue, &pipe, DT_STC, &load, &b.trajectory, &b.design, &unused),
        DT_E_DOMAIN); /* this pipe has no short thread */
    dt_window_free(&b.window);
}

/* Nothing to burst it: the factor is infinite, and not the worst. */
static void unloaded_case(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    dt_string_load load = load_of(&b, 2);
    load.surface_pressure_pa = 0;
    load.gas_gradient_kgm3 = 0;
    dt_screen s = screen_of(&b, &load, find(9.625, 47, "L80"), DT_LTC);
    assert_true(isinf(s.by_load[DT_LOAD_BURST_GAS].factor));
    assert_true(s.worst != DT_LOAD_BURST_GAS);
    assert_within(s.by_load[DT_LOAD_BURST_GAS].load, 0, 0);
    dt_window_free(&b.window);
}

/* More wall in one grade and size is never the weaker pipe against a pressure. */
static void heavier_is_stronger(void **state)
{
    (void)state;
    bench b;
    three_strings(&b);
    const dt_string_load load = load_of(&b, 2);
    for (size_t i = 0; i < catalogue.pipe_count; ++i)
        for (size_t j = i + 1; j < catalogue.pipe_count; ++j) {
            const dt_pipe *light = &catalogue.pipes[i], *heavy = &catalogue.pipes[j];
            if (light->od_m != heavy->od_m || light->grade != heavy->grade) continue;
            if (!(light->threads & heavy->threads & 1u << DT_PLAIN_END)) continue;
            const dt_screen a = screen_of(&b, &load, light, DT_PLAIN_END);
            const dt_screen c = screen_of(&b, &load, heavy, DT_PLAIN_END);
            assert_true(c.by_load[DT_LOAD_BURST_GAS].factor >= a.by_load[DT_LOAD_BURST_GAS].factor);
            assert_true(c.by_load[DT_LOAD_COLLAPSE_EMPTY].factor >=
                        a.by_load[DT_LOAD_COLLAPSE_EMPTY].factor);
        }
    dt_window_free(&b.window);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(customary_and_given_design),
        cmocka_unit_test(surface_pressures),
        cmocka_unit_test(factors_by_hand),
        cmocka_unit_test(hook_load_as_handbooks),
        cmocka_unit_test(tension_by_two_factors),
        cmocka_unit_test(conductor_hangs_only),
        cmocka_unit_test(liner_leaves_the_string_above_exposed),
        cmocka_unit_test(strongest_source_as_by_walking),
        cmocka_unit_test(deviated_string),
        cmocka_unit_test(collapse_as_by_walking),
        cmocka_unit_test(coupling_governs_burst),
        cmocka_unit_test(unloaded_case),
        cmocka_unit_test(heavier_is_stronger),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
