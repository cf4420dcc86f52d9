/* SPDX-License-Identifier: MIT */
/* Holes and pipes: customary sizes, clearance and drift at every edge, the best path by trying all.
 */
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "cited.h"
#include "strings.h"
#include "well_in_code.h"

#define IN   DT_M_PER_IN
#define SAME (0.0005 * DT_M_PER_IN)

/* A coded well with seats at given depths, nothing else to worry a nest. */
static void seats_for(coded_well *c, size_t strings, dt_window *window, dt_seats *seats)
{
    coded_start(c, 200, 9000);
    coded_pore(c, 0, 8.6);
    coded_pore(c, 9000, 8.6);
    coded_fracture(c, 0, 14);
    coded_fracture(c, 9000, 14);
    if (strings > 2) coded_pin(c, DT_SURFACE, 1500);
    if (strings > 3) coded_pin(c, DT_INTERMEDIATE, 5000);
    assert_int_equal(dt_window_build(&c->well, window), DT_OK);
    assert_int_equal(dt_seats_choose(window, seats), DT_OK);
    assert_int_equal(seats->count, strings);
}

static const cited trade = {CITED_PRACTICE,
                            "hole sizes the trade uses with each pipe (8-1/2, 12-1/4 and 17-1/2 in "
                            "also in Bourgoyne et al., 1986, from memory)"};

static void customary_holes(void **state)
{
    (void)state;
    static const double pairs[][2] = {{5, 6.125},     {7, 8.5}, {9.625, 12.25}, {10.75, 13.5},
                                      {13.375, 17.5}, {16, 20}, {20, 26},       {30, 36}};
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    coded_well c;
    coded_start(&c, 200, 9000);
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; ++i) {
        double od = pairs[i][0] * IN, coupling = od, smallest = 0;
        for (size_t k = 0; k < catalogue.pipe_count; ++k)
            if (fabs(catalogue.pipes[k].od_m - od) < SAME &&
                (catalogue.pipes[k].threads & 1u << DT_STC))
                coupling = catalogue.pipes[k].coupling_od_m;
        for (size_t k = catalogue.bit_count; k-- > 0;) {
            const dt_bit *bit = &catalogue.bits[k];
            bool clears = (bit->diameter_m - coupling) / 2 >= dt_nest_clearance(&c.well, od) - SAME;
            if (clears && bit->commonness != DT_BIT_LESS_COMMON) smallest = bit->diameter_m;
        }
        char which[32];
        snprintf(which, sizeof which, "%.10g in pipe", pairs[i][0]);
        assert_cited_row(&trade, "smallest common bit", "in", which, smallest / IN, pairs[i][1],
                         1e-9);
    }
    dt_catalogue_free(&catalogue);
}

static void every_edge_keeps_its_rule(void **state)
{
    (void)state;
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    for (int variant = 0; variant < 4; ++variant) {
        coded_well c;
        dt_window window;
        dt_seats seats;
        dt_nest nest;
        size_t blocked;
        seats_for(&c, 4, &window, &seats);
        c.well.sizes.special_drift = variant & 1;
        c.well.sizes.opened_hole = variant & 2;
        assert_int_equal(dt_nest_build(&c.well, &seats, &catalogue, &nest, &blocked), DT_OK);
        assert_true(nest.fit_count > 0 && nest.pass_count > 0);
        for (size_t i = 0; i < nest.fit_count; ++i) {
            const dt_nest_fit *f = &nest.fits[i];
            double gap = (nest.holes[f->hole].diameter_m - nest.pipes[f->pipe].coupling_od_m) / 2;
            assert_close(f->radial_clearance_m, gap, 1e-12);
            assert_true(gap >= f->need_clearance_m - SAME);
            /* pipe goes down through the pipe above, which only the pilot bit is known to pass */
            assert_true(nest.pipes[f->pipe].coupling_od_m <= nest.holes[f->hole].bit_m + SAME);
        }
        for (size_t i = 0; i < nest.pass_count; ++i) {
            const dt_nest_pass *e = &nest.passes[i];
            double widest = 0;
            for (size_t k = 0; k < catalogue.pipe_count; ++k) {
                const dt_pipe *pipe = &catalogue.pipes[k];
                if (fabs(pipe->od_m - nest.pipes[e->pipe].od_m) > SAME) continue;
                double drift = (variant & 1) && pipe->special_drift_m > pipe->drift_m
                                   ? pipe->special_drift_m
                                   : pipe->drift_m;
                widest = fmax(widest, drift);
            }
            assert_true(e->need_drift_m <= widest + SAME);
            const dt_nest_hole *hole = &nest.holes[e->hole];
            assert_true(hole->opened == (hole->bit_m < hole->diameter_m - SAME));
            if (!(variant & 2)) assert_false(hole->opened);
        }
        dt_nest_free(&nest);
        dt_seats_free(&seats);
        dt_window_free(&window);
    }
    dt_catalogue_free(&catalogue);
}

/* ---- the chosen path against trying every path ---- */

typedef struct tried {
    double unusual, rock, steel;
} tried;

typedef struct trial {
    const dt_catalogue *catalogue;
    const dt_well *well;
    const dt_seats *seats;
    const dt_trajectory *trajectory;
    dt_string_load loads[4];
    dt_design_in_force design;
    bool *holds[4]; /* by string and pipe of the catalogue */
    const dt_pipe *taken[4];
    tried best;
} trial;

/* Does some hanger hang the liner of this string in the pipe above it, with this bit to come? */
static bool hung(const trial *t, size_t string, double bit_m)
{
    const dt_string_load *load = &t->loads[string];
    const dt_pipe *liner = t->taken[string], *host = string ? t->taken[string - 1] : NULL;
    const dt_hangers *list = &t->well->hangers;
    if (t->seats->items[string].type != DT_LINER || list->count == 0) return true;
    const double weight_n = liner->weight_kgm * DT_STANDARD_GRAVITY *
                            (load->shoe_tvd_m - load->top_tvd_m) * (1 - load->mud_kgm3 / 7850);
    const double bump_n = load->bump_pa * 3.14159265358979323846 / 4 * liner->id_m * liner->id_m;
    for (size_t i = 0; i < list->count; ++i) {
        const dt_hanger *h = &list->items[i];
        if (fabs(h->liner_m - liner->od_m) < SAME && fabs(h->casing_m - host->od_m) < SAME &&
            !(host->weight_kgm < h->lightest_kgm - 0.01) &&
            !(host->weight_kgm > h->heaviest_kgm + 0.01) && bit_m <= h->bore_m + SAME &&
            weight_n + bump_n <= h->capacity_n)
            return true;
    }
    return false;
}

/* Which pipes hold the loads of which string, in some thread. */
static void screen_once(trial *t)
{
    for (size_t string = 0; string < t->seats->count; ++string) {
        t->holds[string] = calloc(t->catalogue->pipe_count, sizeof(bool));
        assert_non_null(t->holds[string]);
        for (size_t k = 0; k < t->catalogue->pipe_count; ++k) {
            const dt_pipe *pipe = &t->catalogue->pipes[k];
            bool welded = pipe->threads == 1u << DT_PLAIN_END;
            for (int thread = 0; thread < DT_THREAD_COUNT && !t->holds[string][k]; ++thread) {
                dt_screen screen;
                if (thread >= DT_FLUSH) break; /* of a basis that asks for them */
                if (!(pipe->threads & (1u << thread)) || (thread == DT_PLAIN_END && !welded))
                    continue;
                t->holds[string][k] =
                    dt_string_screen(t->catalogue, pipe, (dt_thread)thread, &t->loads[string],
                                     t->trajectory, &t->design, &screen) == DT_OK &&
                    screen.ok;
            }
        }
    }
}

static bool better(tried a, tried b)
{
    if (a.unusual != b.unusual) return a.unusual < b.unusual;
    if (fabs(a.rock - b.rock) > 1e-6) return a.rock < b.rock;
    return a.steel < b.steel - 1e-6;
}

/* All holes, all pipes, all threads, string by string from the conductor down; no graph. */
static void try_from(trial *t, size_t string, double drift_above, tried so_far)
{
    if (string == t->seats->count) {
        if (hung(t, string - 1, 0) && better(so_far, t->best)) t->best = so_far;
        return;
    }
    double top = string ? t->seats->items[string - 1].shoe_m : 0,
           base = t->seats->items[string].shoe_m;
    bool last = string + 1 == t->seats->count;
    for (size_t b = 0; b < t->catalogue->bit_count; ++b) {
        const dt_bit *bit = &t->catalogue->bits[b];
        if (bit->diameter_m > drift_above + SAME) continue;
        if (string > 0 && !hung(t, string - 1, bit->diameter_m)) continue;
        for (size_t k = 0; k < t->catalogue->pipe_count; ++k) {
            const dt_pipe *pipe = &t->catalogue->pipes[k];
            if (!t->holds[string][k]) continue;
            bool welded = pipe->threads == 1u << DT_PLAIN_END;
            if ((welded && string > 0) || (last && pipe->od_m < t->well->min_pipe_od_m - SAME))
                continue;
            double coupling = isfinite(pipe->coupling_od_m) ? pipe->coupling_od_m : pipe->od_m;
            if ((bit->diameter_m - coupling) / 2 < dt_nest_clearance(t->well, pipe->od_m) - SAME)
                continue;
            tried next = {so_far.unusual + (bit->commonness == DT_BIT_LESS_COMMON),
                          so_far.rock + 3.14159265358979323846 / 4 * bit->diameter_m *
                                            bit->diameter_m * (base - top),
                          so_far.steel + pipe->weight_kgm * (base - t->loads[string].top_md_m)};
            t->taken[string] = pipe;
            if (!better(t->best, next)) try_from(t, string + 1, pipe->drift_m, next);
        }
    }
}

/* Six sizes in the grades of an ordinary yard: small enough to try everything. */
static const char small_stock[] =
    "od_in,weight_lbft,grade\n"
    "20,,H40\n20,,B\n18.625,87.5,\n13.375,,J55\n13.375,,L80\n9.625,,L80\n9.625,,J55\n"
    "7,,L80\n7,,P110\n5.5,,L80\n5,,P110\n";

/* Norwegian Petroleum Directorate, FactPages (NLOD): outside diameter and hole of the strings of
 * 151 vertical exploration wells, and how many strings had the pair. */
static void pairs_of_real_wells_are_allowed(void **state)
{
    (void)state;
    static const struct {
        double od_in, hole_in;
        int count;
    } pairs[] = {{30, 36, 149},     {13.375, 17.5, 138}, {9.625, 12.25, 133}, {20, 26, 131},
                 {7, 8.5, 59},      {9.875, 12.25, 7},   {14, 17.5, 6},       {18.625, 24, 6},
                 {9.625, 12.5, 5},  {18.625, 26, 5},     {13.625, 17.5, 3},   {16, 17.5, 3},
                 {5, 6, 2},         {7, 8.375, 2},       {7.625, 8.5, 1},     {7.625, 9.5, 1},
                 {8.625, 12.25, 1}, {9.625, 10.625, 1},  {9.625, 12, 1},      {10.75, 12.5, 1},
                 {11.75, 14, 1},    {11.75, 15, 1},      {13.375, 14.875, 1}, {13.375, 16, 1},
                 {13.375, 17, 1},   {16, 19.75, 1},      {16, 20, 1},         {16, 22, 1},
                 {18.375, 24, 1},   {18.625, 20, 1},     {20, 22, 1},         {20, 24, 1},
                 {20, 30, 1},       {24, 30, 1},         {32, 36, 1}};
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    coded_well c;
    coded_start(&c, 200, 9000);
    dt_basis *shelf = NULL;
    assert_int_equal(dt_basis_stack(dt_basis_built_in(), dt_basis_shipped("shelf"), &shelf), DT_OK);
    c.well.basis = shelf;
    int all = 0, allowed = 0;
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; ++i) {
        bool fits = false;
        for (size_t k = 0; k < catalogue.pipe_count; ++k) {
            const dt_pipe *pipe = &catalogue.pipes[k];
            if (fabs(pipe->od_m - pairs[i].od_in * IN) > SAME) continue;
            const double largest = dt_nest_largest_od(pipe);
            fits |= (pairs[i].hole_in * IN - largest) / 2 >=
                    dt_nest_gap(&c.well, pipe->od_m, largest) - SAME;
        }
        all += pairs[i].count;
        allowed += fits ? pairs[i].count : 0;
        if (!fits)
            print_message("not allowed: %g in %g in, %d times\n", pairs[i].od_in, pairs[i].hole_in,
                          pairs[i].count);
    }
    print_message("%d of %d strings allowed\n", allowed, all);
    assert_true(100 * allowed >= 99 * all);
    dt_basis_free(shelf);
    dt_catalogue_free(&catalogue);
}

/* Invented hangers; some hang no pipe that holds, some let no bit through. */
static void hang_in(coded_well *c)
{
    static dt_hanger list[7];
    const double klbf = 1000 * DT_N_PER_LBF, lbft = DT_KGM_PER_LBFT;
    list[0] = (dt_hanger){9.625 * IN, 13.375 * IN, NAN, 60 * lbft, 350 * klbf, 8.5 * IN, NAN, 0};
    list[1] = (dt_hanger){9.625 * IN, 13.375 * IN, 68 * lbft, NAN, 350 * klbf, 8.4 * IN, NAN, 0};
    list[2] = (dt_hanger){7 * IN, 9.625 * IN, 40 * lbft, 43.5 * lbft, 300 * klbf, 6.1 * IN, NAN, 0};
    list[3] = (dt_hanger){7 * IN, 9.625 * IN, NAN, NAN, 140 * klbf, 6 * IN, NAN, 0};
    list[4] = (dt_hanger){5.5 * IN, 9.625 * IN, NAN, NAN, 150 * klbf, 4.7 * IN, NAN, 0};
    list[5] = (dt_hanger){5 * IN, 9.625 * IN, NAN, NAN, 110 * klbf, 4 * IN, NAN, 0};
    list[6] = (dt_hanger){5 * IN, 7 * IN, NAN, NAN, 120 * klbf, 4 * IN, NAN, 0};
    c->well.hangers = (dt_hangers){list, 7, NAN, 0};
}

static void chosen_path_against_trying_all(void **state)
{
    (void)state;
    static const double completions[] = {5, 5.5, 7};
    size_t found = 0;
    for (size_t v = 0; v < 12; ++v) {
        coded_well c;
        dt_window window;
        dt_seats seats;
        dt_nest nest;
        dt_catalogue catalogue;
        dt_report report;
        size_t blocked;
        seats_for(&c, v < 3 ? 3 : 4, &window, &seats);
        c.well.min_pipe_od_m = completions[v % 3] * IN;
        if (v >= 6) { /* one liner, or two that hang one in the other */
            seats.items[3].type = DT_LINER;
            if (v >= 9) seats.items[2].type = DT_LINER;
            hang_in(&c);
        }
        c.well.design.given = true; /* one pipe a string: sequences are test_taper.c's */
        c.well.design.max_sections = 1;
        c.well.design.min_section_m = c.well.design.crossover_m = NAN;
        assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
        assert_int_equal(dt_report_init(&report, "stock"), DT_OK);
        assert_int_equal(
            dt_catalogue_restrict(&catalogue, small_stock, strlen(small_stock), &report), DT_OK);
        dt_trajectory vertical = {0};
        dt_strings strings = {0};
        dt_shortfall shortfall;
        nest = (dt_nest){0};
        dt_status status = dt_nest_build(&c.well, &seats, &catalogue, &nest, &blocked);
        if (status == DT_OK)
            status = dt_strings_choose(&window, &seats, &nest, &catalogue, &vertical, 90, NULL,
                                       &strings, &shortfall);
        assert_true(status == DT_OK || (v >= 6 && status == DT_E_NONE));
        found += status == DT_OK;
        tried got = {0, 0, 0};
        trial t = {.catalogue = &catalogue,
                   .well = &c.well,
                   .seats = &seats,
                   .trajectory = &vertical,
                   .best = {INFINITY, INFINITY, INFINITY}};
        dt_design_settle(&c.well, &t.design);
        for (size_t k = 0; k < seats.count; ++k) {
            assert_int_equal(
                dt_string_load_build(&window, &seats, &vertical, &t.design, 90, k, &t.loads[k]),
                DT_OK);
            if (status != DT_OK) continue;
            const dt_string *s = &strings.items[k];
            const dt_nest_hole *hole = &nest.holes[s->nest_hole];
            double top = k ? seats.items[k - 1].shoe_m : 0;
            got.unusual += hole->commonness == DT_BIT_LESS_COMMON;
            got.rock += 3.14159265358979323846 / 4 * hole->diameter_m * hole->diameter_m *
                        (seats.items[k].shoe_m - top);
            got.steel += s->sections[0].pipe->weight_kgm * (s->load.shoe_md_m - s->load.top_md_m);
        }
        screen_once(&t);
        try_from(&t, 0, INFINITY, (tried){0, 0, 0});
        assert_int_equal(isfinite(t.best.rock) != 0, status == DT_OK);
        if (status == DT_OK) {
            assert_within(got.unusual, t.best.unusual, 0);
            assert_close(got.rock, t.best.rock, 1e-9);
            assert_close(got.steel, t.best.steel, 1e-9);
        }
        for (size_t k = 0; k < seats.count; ++k)
            free(t.holds[k]);
        dt_strings_free(&strings);
        dt_nest_free(&nest);
        dt_catalogue_free(&catalogue);
        dt_report_free(&report);
        dt_seats_free(&seats);
        dt_window_free(&window);
    }
    assert_in_range(found, 9, 11); /* of the hung ones some exist, not all */
}

/* docs/nest.md: fewest unusual holes first. Round a 24 in conductor with 1.113 in to clear, a 28 in
 * bit is small enough but less common; 30 in is a hole opener's size and drilled every day. */
static void a_usual_hole_comes_before_a_smaller_one(void **state)
{
    (void)state;
    coded_well c;
    dt_window window;
    dt_seats seats;
    dt_nest nest;
    dt_strings strings;
    dt_shortfall shortfall;
    dt_catalogue catalogue;
    dt_trajectory vertical = {0};
    dt_clearance_row gap = {40 * IN, 1.113 * IN, 0};
    size_t blocked;
    coded_start(&c, 200, 3000);
    coded_pore(&c, 0, 8.6);
    coded_fracture(&c, 0, 14);
    coded_pin(&c, DT_CONDUCTOR, NAN);
    c.pins[0].od_m = 24 * IN;
    c.well.sizes.clearances = &gap;
    c.well.sizes.clearance_count = 1;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_window_build(&c.well, &window), DT_OK);
    assert_int_equal(dt_seats_choose(&window, &seats), DT_OK);
    assert_int_equal(dt_nest_build(&c.well, &seats, &catalogue, &nest, &blocked), DT_OK);
    assert_int_equal(dt_strings_choose(&window, &seats, &nest, &catalogue, &vertical, 90, NULL,
                                       &strings, &shortfall),
                     DT_OK);
    assert_within(nest.holes[strings.items[0].nest_hole].diameter_m / IN, 30, 1e-9);
    dt_strings_free(&strings);
    dt_nest_free(&nest);
    dt_seats_free(&seats);
    dt_window_free(&window);
    dt_catalogue_free(&catalogue);
}

static void nothing_nests_names_the_string(void **state)
{
    (void)state;
    coded_well c;
    dt_window window;
    dt_seats seats;
    dt_nest nest;
    dt_catalogue catalogue;
    dt_report report;
    size_t blocked = 99;
    static const char stock[] =
        "od_in,weight_lbft,grade\n20,,\n9.625,,\n7,,\n"; /* four strings, three sizes */
    seats_for(&c, 4, &window, &seats);
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_report_init(&report, "stock"), DT_OK);
    assert_int_equal(dt_catalogue_restrict(&catalogue, stock, strlen(stock), &report), DT_OK);
    assert_int_equal(dt_nest_build(&c.well, &seats, &catalogue, &nest, &blocked), DT_E_NONE);
    assert_true(blocked < 4);
    dt_catalogue_free(&catalogue);
    dt_report_free(&report);
    dt_seats_free(&seats);
    dt_window_free(&window);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(customary_holes),
        cmocka_unit_test(pairs_of_real_wells_are_allowed),
        cmocka_unit_test(every_edge_keeps_its_rule),
        cmocka_unit_test(chosen_path_against_trying_all),
        cmocka_unit_test(a_usual_hole_comes_before_a_smaller_one),
        cmocka_unit_test(nothing_nests_names_the_string),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
