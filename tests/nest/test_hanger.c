/* SPDX-License-Identifier: MIT */
/* Hangers in whole plans, tapered strings included: what is planned obeys the list, the list never
 * makes a plan lighter, and what is not checked or pinned against it is said. */
#include <stdlib.h>

#include "check.h"
#include "program.h"
#include "shipped_wells.h"
#include "told.h"

#define IN 0.0254
static const double klbf = 1000 * 4.4482216152605, lbft = 0.45359237 / 0.3048;

static dt_catalogue catalogue;

/** Plans a shelf well whose 7-5/8 in liner hangs in 10-3/4 in; NULL: no program. */
static dt_program *plan(dt_well *well)
{
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_status status = dt_program_plan(well, &catalogue, &program, &refusal);
    assert_true(status == DT_OK || (status == DT_E_NONE && told_refusal(&refusal)));
    if (status == DT_E_NONE) assert_non_null(strstr(told_refusal(&refusal), "liner_hangers"));
    dt_refusal_free(&refusal);
    return status == DT_OK ? program : NULL;
}

static dt_well *shelf(void)
{
    dt_well *well = shipped_parse(DT_TESTS "/bare/mizzenlow-shelf.xml");
    free(well->hangers.items);
    well->hangers = (dt_hangers){0};
    well->design.collapse = 0.8; /* so that the pipe it hangs in may be one of several weights */
    well->design.min_section_m = 30;
    return well;
}

static bool warned(const dt_program *p, const char *code)
{
    for (size_t i = 0; i < p->notices.count; ++i)
        if (strcmp(told_code(p, i), code) == 0) return true;
    return false;
}

/** The weight of the liner, section by section, and the bump on its top pipe's bore. */
static double hung_n(const dt_program_string *item)
{
    double air_n = 0;
    for (size_t i = 0; i < item->string->section_count; ++i) {
        const dt_section *s = &item->string->sections[i];
        air_n += s->pipe->weight_kgm * 9.80665 * (s->base_md_m - s->top_md_m); /* a vertical well */
    }
    const double bore_m = item->string->sections[0].pipe->id_m;
    return air_n * (1 - item->seat->mud_kgm3 / 7850) +
           item->string->load.bump_pa * 3.14159265358979 / 4 * bore_m * bore_m;
}

static void obeys(const dt_program *p, size_t k)
{
    const dt_program_string *item = &p->items[k];
    const dt_hanger *h = item->hanger;
    if (item->seat->type != DT_LINER) return;
    assert_non_null(h);
    assert_close(item->hung.total_n, hung_n(item), 1e-9);
    assert_true(item->hung.total_n <= h->capacity_n * (1 + 1e-9));
    assert_within(h->liner_m, item->od_m, 1e-6);
    assert_true(item->string->need_drift_m <= h->bore_m + 1e-5);
    const dt_string *host = p->items[k - 1].string;
    for (size_t i = 0; i < host->section_count; ++i) {
        const dt_section *s = &host->sections[i];
        if (s->top_md_m > item->top_md_m || s->base_md_m < item->top_md_m) continue;
        assert_within(s->pipe->od_m, h->casing_m, 1e-6);
        assert_false(s->pipe->weight_kgm < h->lightest_kgm - 0.01);
        assert_false(s->pipe->weight_kgm > h->heaviest_kgm + 0.01);
    }
}

static void plans_obey_the_list(void **state)
{
    (void)state;
    dt_well *well = shelf();
    dt_program *free_one = plan(well);
    assert_non_null(free_one);
    assert_true(warned(free_one, "hanger-not-checked"));
    const double natural_n = hung_n(&free_one->items[3]);
    const double weights[][2] = {{NAN, NAN}, {NAN, 51}, {NAN, 55.5}, {60.7, 60.7}};
    size_t made = 0, heavier = 0;
    for (size_t w = 0; w < 4; ++w) {
        double last_kg = 0;
        for (double part = 1.3; part > 0.8; part -= 0.02) { /* less and less capacity */
            dt_hanger hanger = {7.625 * IN,
                                10.75 * IN,
                                weights[w][0] * lbft,
                                weights[w][1] * lbft,
                                part * natural_n,
                                6.25 * IN,
                                NAN,
                                1};
            well->hangers = (dt_hangers){&hanger, 1, NAN, 1};
            dt_program *p = plan(well);
            if (!p) continue;
            ++made;
            for (size_t k = 1; k < p->count; ++k)
                obeys(p, k);
            assert_false(warned(p, "hanger-not-checked") || warned(p, "pin-hanger"));
            assert_true(p->steel_kg >= last_kg - 1e-6 && p->steel_kg >= free_one->steel_kg - 1e-6);
            if (w == 0 && part > 1) assert_within(p->steel_kg, free_one->steel_kg, 1e-6);
            heavier += p->steel_kg > free_one->steel_kg + 1;
            last_kg = p->steel_kg;
            dt_program_free(p);
        }
    }
    print_message("%zu plans, %zu heavier than without hangers\n", made, heavier);
    assert_true(made > 20 && heavier > 5);
    well->hangers = (dt_hangers){0};
    dt_program_free(free_one);
    dt_well_free(well);
}

/** Two hangers to choose from: the plan is the better of the two it would be with one alone. */
/** Is there a warning of this code with these words? */
static bool is_told(const dt_program *p, const char *code, const char *words)
{
    for (size_t i = 0; i < p->notices.count; ++i)
        if (strcmp(told_code(p, i), code) == 0 && strstr(told_text(p, i), words)) return true;
    return false;
}

static void the_better_of_two(void **state)
{
    (void)state;
    dt_well *well = shelf();
    dt_hanger two[2] = {{7.625 * IN, 10.75 * IN, NAN, 51 * lbft, 200 * klbf, 6.25 * IN, NAN, 1},
                        {7.625 * IN, 10.75 * IN, 60 * lbft, NAN, 200 * klbf, 6.25 * IN, NAN, 2}};
    double alone_kg[2];
    for (size_t i = 0; i < 2; ++i) {
        well->hangers = (dt_hangers){&two[i], 1, NAN, 1};
        dt_program *p = plan(well);
        alone_kg[i] = p ? p->steel_kg : INFINITY;
        dt_program_free(p);
    }
    well->hangers = (dt_hangers){two, 2, NAN, 1};
    dt_program *p = plan(well);
    assert_non_null(p);
    assert_true(alone_kg[0] != alone_kg[1]);
    assert_within(p->steel_kg, fmin(alone_kg[0], alone_kg[1]), 1e-6);
    dt_program_free(p);
    well->hangers = (dt_hangers){0};
    dt_well_free(well);
}

static void pins_stay_and_are_told(void **state)
{
    (void)state;
    dt_well *well = shelf();
    dt_program *first = plan(well);
    dt_pin pins[2] = {{.role = DT_INTERMEDIATE,
                       .type = DT_FULL,
                       .shoe_m = NAN,
                       .hole_m = NAN,
                       .od_m = first->items[2].od_m,
                       .weight_kgm = NAN,
                       .wear_m = NAN},
                      {.role = DT_INTERMEDIATE,
                       .type = DT_LINER,
                       .shoe_m = NAN,
                       .hole_m = NAN,
                       .od_m = first->items[3].od_m,
                       .weight_kgm = 39 * lbft,
                       .grade = (char[]){"P110"},
                       .wear_m = NAN}};
    dt_pin *own = well->pins;
    const size_t own_count = well->pin_count;
    dt_hanger hanger = {7.625 * IN, 9.625 * IN, NAN, NAN, 200 * klbf, 6.25 * IN, NAN, 1};
    well->hangers = (dt_hangers){&hanger, 1, NAN, 1};
    well->pins = pins;
    well->pin_count = 2;
    dt_program *p = plan(well); /* no hanger for the pinned pair */
    assert_non_null(p);
    assert_true(warned(p, "pin-hanger"));
    assert_null(p->items[3].hanger);
    dt_program_free(p);
    hanger.casing_m = 10.75 * IN;
    hanger.capacity_n = 30 * klbf; /* too little for the pinned pipe */
    p = plan(well);
    assert_non_null(p);
    assert_true(warned(p, "pin-hanger"));
    assert_true(p->items[3].hung.total_n > hanger.capacity_n);
    dt_program_free(p);
    hanger.capacity_n = 200 * klbf;
    p = plan(well);
    assert_false(warned(p, "pin-hanger"));
    const double bit_m = p->items[4].bit_m;
    const dt_pipe *host = p->items[2].string->sections[0].pipe;
    const double host_kgm = host->weight_kgm;
    pins[0].grade = (char *)host->grade->name;
    dt_program_free(p);
    pins[0].weight_kgm = host_kgm; /* pinned pipe that the hanger is not made for */
    hanger.lightest_kgm = host_kgm + lbft;
    p = plan(well);
    assert_non_null(p);
    assert_ptr_equal(p->items[3].hanger, &hanger);
    assert_true(is_told(p, "pin-hanger", "is not set in the pipe above, 10-3/4 in"));
    dt_program_free(p);
    hanger.lightest_kgm = host_kgm - lbft; /* within its weights again: nothing to tell */
    p = plan(well);
    assert_false(warned(p, "pin-hanger"));
    dt_program_free(p);
    pins[0].weight_kgm = NAN;
    pins[0].grade = NULL;
    hanger.bore_m = bit_m - 0.25 * IN; /* with the hole below pinned, too: a bore too small */
    dt_pin three[3] = {pins[0],
                       pins[1],
                       {.role = DT_PRODUCTION,
                        .type = DT_TYPE_UNSAID,
                        .shoe_m = NAN,
                        .hole_m = bit_m,
                        .od_m = NAN,
                        .weight_kgm = NAN,
                        .wear_m = NAN}};
    well->pins = three;
    well->pin_count = 3;
    p = plan(well);
    assert_non_null(p);
    assert_true(is_told(p, "pin-hanger", "does not pass the hanger of line 1"));
    dt_program_free(p);
    hanger.bore_m = bit_m;
    p = plan(well);
    assert_false(warned(p, "pin-hanger"));
    dt_program_free(p);
    well->pins = own;
    well->pin_count = own_count;
    well->hangers = (dt_hangers){0};
    dt_program_free(first);
    dt_well_free(well);
}

/* 30 CFR 250.421(f), 2015 edition: 100 ft at least for such liners. */
static void short_laps_are_told(void **state)
{
    (void)state;
    dt_well *well = shelf();
    const double laps_ft[] = {99, 100, 300};
    for (size_t i = 0; i < 3; ++i) {
        well->seats.lap_m = laps_ft[i] * 0.3048;
        dt_program *p = plan(well);
        assert_non_null(p);
        assert_int_equal(warned(p, "lap-short"), laps_ft[i] < 100);
        dt_program_free(p);
    }
    dt_well_free(well);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plans_obey_the_list),
        cmocka_unit_test(the_better_of_two),
        cmocka_unit_test(pins_stay_and_are_told),
        cmocka_unit_test(short_laps_are_told),
    };
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
