/* SPDX-License-Identifier: MIT */
/* Wells with a BOP at the sea floor: columns against published figures and statics, holes
 * before the riser against a slow search, and what follows of it for a whole program. */
#include "cited.h"

#include "edited_well.h"
#include "program.h"
#include "section.h"
#include "slow_seats.h"
#include "told.h"
#include "units.h"
#include "well_in_code.h"

static const cited lapeyrouse = {
    CITED_READ, "Lapeyrouse, Formulas and Calculations (2nd ed.), subsea fracture gradient"};
static const cited statics = {CITED_WORKED,
                              "statics of a column: 15,000 ft, water 5,000 ft of 8.55 ppg, "
                              "air gap 80 ft, pore pressure 12.0 ppg"};

/** A sea of so much water under a rig floor, its BOP at the sea floor. */
static void sea_of(coded_well *c, double floor_ft, double water_ft, double sea_ppg)
{
    coded_start(c, 5500, 15000);
    c->well.rig_floor_m = floor_ft * FT;
    c->well.over_sea = c->well.bop_at_seabed = true;
    c->well.water_depth_m = water_ft * FT;
    c->well.conductor.sea_gradient_kgm3 = sea_ppg * PPG;
    c->well.conductor.bop = false;
}

/* 2,000 ft of sea water of 8.9 ppg: 926 psi with the source's 0.052, which is 0.1 % more than a ppg
 * weighs. */
static void head_of_the_sea(void **state)
{
    (void)state;
    coded_well c;
    sea_of(&c, 100, 2000, 8.9);
    const double head_psi = dt_well_sea_kgm2(&c.well) * DT_STANDARD_GRAVITY / PSI;
    assert_cited(&lapeyrouse, "sea-water head at the sea floor", "psi", head_psi, 926, 1.5);
    /* a column with mud below it: sea down to the sea floor, nothing above the water */
    assert_within(dt_well_sea_column_pa(&c.well, 12 * PPG, 50 * FT), 0, 0);
    assert_within(dt_well_sea_column_pa(&c.well, 12 * PPG, 1100 * FT) / PSI, head_psi / 2, 1e-6);
    assert_within(dt_well_sea_column_pa(&c.well, 12 * PPG, 2100 * FT) / PSI, head_psi, 1e-6);
    assert_within(dt_well_sea_column_pa(&c.well, 12 * PPG, 3100 * FT) / PSI,
                  head_psi + 12 * PPG * DT_STANDARD_GRAVITY * 1000 * FT / PSI, 1e-6);
}

/* Without the riser the mud below the sea floor holds the pore pressure with the sea alone:
 * (9,360 / 0.052 - 8.55 x 5,000) / 9,920 = 13.836 ppg, 1.836 ppg over the pore pressure. */
static void riser_margin(void **state)
{
    (void)state;
    coded_well c;
    sea_of(&c, 80, 5000, 8.55);
    coded_pore(&c, 5080, 8.42);
    coded_pore(&c, 15000, 12.0);
    coded_fracture(&c, 5080, 8.7);
    coded_fracture(&c, 15000, 17.0);
    c.well.objective_m = 15000 * FT;
    c.well.margins.trip = (dt_margin){0};
    dt_window window;
    assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
    const double without = dt_window_lower(&window, 15000 * FT, DT_ABOVE);
    assert_within(without / PPG, 12.0, 1e-9);
    dt_window_free(&window);
    c.well.riser_margin = true;
    assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
    const double with = dt_window_lower(&window, 15000 * FT, DT_ABOVE);
    assert_cited(&statics, "mud that holds without the riser", "ppg", with / PPG, 13.836, 5e-4);
    const dt_face face = dt_window_face(&window, 15000 * FT, DT_ABOVE);
    assert_within(face.lower_kgm3, with, 1e-9);
    /* the same column, put the other way round */
    assert_within(dt_window_riserless_emw(&window, with, 15000 * FT) / PPG, 12.0, 1e-9);
    dt_window_free(&window);
}

/* The deepest bottom of the hole before the riser, and the shallowest shoe above it, against steps
 * of a foot over all rock by the slow rules. */
static void hole_before_the_riser_against_the_slow_way(void **state)
{
    (void)state;
    size_t limited = 0;
    for (int n = 0; n < 60; ++n) {
        coded_well c;
        const double water = 300 + 130 * n, ground = 80 + water, step = n % 7;
        sea_of(&c, 80, water, 8.55);
        c.well.objective_m = (ground + 6000) * FT;
        coded_pore(&c, ground, 8.55 * water / ground);
        coded_pore(&c, ground + 1500, (8.55 * water + 8.8 * 1500) / (ground + 1500));
        coded_pore(&c, ground + 3000, (8.55 * water + (9 + 0.2 * step) * 3000) / (ground + 3000));
        coded_pore(&c, ground + 6000, (8.55 * water + 12 * 6000) / (ground + 6000));
        coded_fracture(&c, ground, (8.55 * water + 200) / ground);
        coded_fracture(&c, ground + 600,
                       (8.55 * water + (9.6 + 0.15 * step) * 600) / (ground + 600));
        coded_fracture(&c, ground + 2500, (8.55 * water + 11.4 * 2500) / (ground + 2500));
        coded_fracture(&c, ground + 6000, (8.55 * water + 14.5 * 6000) / (ground + 6000));
        c.well.margins.trip = (dt_margin){.emw_kgm3 = 0.5 * PPG};
        c.well.margins.safety = (dt_margin){.emw_kgm3 = 0.02 * step * PPG};
        dt_window window;
        assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
        dt_hole_rules rules;
        dt_hole_rules_for(&c.well, NAN, true, DT_TIER_LEAST, false, &rules);
        assert_true(rules.riserless && rules.diverter);
        rules.most_length_m = INFINITY;
        slow_hole slow = SLOW_FREE_HOLE;
        slow.diverter = slow.sea = true;
        const double shoe = (ground + 300) * FT, cap = (ground + 5900) * FT;
        const double deepest = dt_seats_deepest(&window, &rules, shoe, cap);
        if (isnan(deepest)) { /* margins that the rock below the conductor does not bear */
            assert_false(slow_drilled_ok(&c.well, &slow, shoe, shoe + 2 * FT, FT));
            dt_window_free(&window);
            continue;
        }
        assert_true(slow_drilled_ok(&c.well, &slow, shoe, deepest - 1e-6, FT));
        if (deepest < cap - FT) {
            ++limited;
            assert_false(slow_drilled_ok(&c.well, &slow, shoe, deepest + FT, FT));
        }
        const double top = dt_seats_shallowest(&window, &rules, shoe, deepest);
        assert_true(top <= shoe + 1e-6);
        const double mud = dt_section_mud(&window, true, shoe, deepest, NULL, NULL);
        assert_true(mud >= 8.55 * PPG - 1e-9);
        dt_window_free(&window);
    }
    assert_true(limited > 20);
}

static const dt_program *planned(const edit *edits, size_t count, dt_well **well,
                                 dt_catalogue *catalogue, dt_program **program)
{
    dt_refusal refusal = {0};
    *well = edited_well(DT_TESTS "/../docs/practice/longmere-subsea.xml", edits, count);
    assert_int_equal(dt_catalogue_load(catalogue), DT_OK);
    assert_int_equal(dt_program_plan(*well, catalogue, program, &refusal), DT_OK);
    dt_refusal_free(&refusal);
    return *program;
}

/* Strings hang at the sea floor, the hole before the riser has sea water on its mud, no kick is
 * shut in there, and the BOP sees the gas only up to the sea floor. */
static void a_whole_program(void **state)
{
    (void)state;
    static const edit by_basis[] = {{"basis=\"bare\"", "basis=\"deepwater\""}};
    dt_well *well;
    dt_catalogue catalogue;
    dt_program *made;
    const dt_program *p = planned(by_basis, 1, &well, &catalogue, &made);
    const double floor_m = dt_well_ground_m(well);
    assert_true(dt_program_runnable(p) && p->count >= 6);
    assert_int_equal(dt_well_riserless(well), 2);
    for (size_t i = 0; i < p->count; ++i) {
        const dt_program_string *s = &p->items[i];
        assert_true(s->top_md_m >= floor_m - 1e-6);
        if (s->seat->type == DT_FULL) assert_within(s->top_md_m, floor_m, 1e-6);
        assert_int_equal(s->seat->rules.riserless, i == 1);
        if (i == 1) assert_false(s->kick_known);
        const dt_head_stage *head = &p->wellhead.stages[i];
        if (isnan(head->pressure_pa)) continue;
        const double gas_pa = 0.1 * PSI / FT * floor_m;
        assert_within(head->pressure_pa - head->at_surface_pa, gas_pa, 1);
    }
    /* the surface string: outside it the sea, then its mud */
    const dt_string_load *load = &p->strings.items[1].load;
    double inside, outside;
    dt_load_pressures(load, DT_LOAD_COLLAPSE_LOSS, load->shoe_tvd_m, &inside, &outside);
    assert_within(outside, dt_well_sea_column_pa(well, load->mud_kgm3, load->shoe_tvd_m), 1);
    assert_true(outside < load->mud_kgm3 * DT_STANDARD_GRAVITY * load->shoe_tvd_m - 1e5);
    /* lowered from the rig it hangs on pipe all the way down to the sea floor */
    const dt_running *run = &p->items[3].job->running;
    assert_true(run->hookload_filled_n > run->air_n * 0.8);
    dt_program_free(made);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(head_of_the_sea),
        cmocka_unit_test(riser_margin),
        cmocka_unit_test(hole_before_the_riser_against_the_slow_way),
        cmocka_unit_test(a_whole_program),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
