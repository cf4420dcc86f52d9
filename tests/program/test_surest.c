/* SPDX-License-Identifier: MIT */
/* The surest seats of a plan against every other choice of seats on the rounding step. */
#include <stdio.h>

#include "check.h"
#include "edited_well.h"
#include "program.h"
#include "program_parts.h"
#include "told.h"
#include "units.h"

static dt_catalogue catalogue;

enum { WELLS = DT_FULL_SPEED ? 512 : 128, MOST_STEPS = 64, FREE = 3 };

#define SEED 1 /* that of the plan */

/** Drawn wells in which something holds, one bit each. */
typedef struct bits {
    uint64_t word[512 / 64];
} bits;

/** What the trials and the well as stated say of every hole between shoes on the step. */
typedef struct table {
    const dt_program *p;
    dt_trials trials;
    dt_odds_holes must, stated;
    double step_m, first_m[FREE];
    size_t count[FREE];
} table;

static dt_program *plan_of(const edit *edits, size_t count, dt_well **well)
{
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    edit all[2] = {{"basis=\"bare\"", "basis=\"land\""}};
    if (count > 0) all[1] = edits[0];
    *well = edited_well(DT_WELLS "/brackwater-deep.xml", all, 1 + count);
    assert_int_equal(dt_program_plan(*well, &catalogue, &program, &refusal), DT_OK);
    dt_refusal_free(&refusal);
    return program;
}

static const edit as_before = {"<seats ", "<seats prefer=\"shallowest\" "};

static table open_table(const dt_program *p)
{
    table t = {.p = p, .step_m = p->well->seats.round_to_m};
    dt_uncertains inputs;
    assert_int_equal(dt_uncertains_collect(p->well, &inputs), DT_OK);
    assert_int_equal(dt_trials_build(p->well, &inputs, SEED, WELLS, &t.trials), DT_OK);
    dt_uncertains_free(&inputs);
    dt_odds_holes_of_seats(p->well, &p->seats, &t.must);
    t.stated = t.must;
    for (size_t k = 1; k < t.stated.count; ++k)
        t.stated.rules[k] = p->ladder.rungs[k].rules;
    for (size_t i = 0; i < FREE; ++i) {
        const dt_seat *seat = &p->seats.items[i + 1];
        const double first = ceil(seat->shallowest_m / t.step_m - 1e-9);
        const double last = floor(seat->deepest_m / t.step_m + 1e-9);
        t.first_m[i] = first * t.step_m;
        t.count[i] = (size_t)(last - first) + 1;
        assert_true(t.count[i] > 1 && t.count[i] <= MOST_STEPS);
    }
    return t;
}

static bool hole_holds(const dt_window *window, const dt_odds_holes *holes, size_t k, double top_m,
                       double base_m)
{
    dt_section_check check;
    dt_rule rule;
    if (!dt_shoe_stands(window, holes, k, base_m, &rule)) return false;
    dt_section_test(window, &holes->rules[k], top_m, base_m, true, &check);
    return check.ok;
}

/** Drawn wells in which hole k holds; none where it does not in the well as stated. */
static bits of_hole(const table *t, size_t k, double top_m, double base_m)
{
    bits b = {{0}};
    if (!hole_holds(&t->p->window, &t->stated, k, top_m, base_m)) return b;
    for (size_t i = 0; i < t->trials.count; ++i)
        if (hole_holds(&t->trials.items[i].window, &t->must, k, top_m, base_m))
            b.word[i / 64] |= (uint64_t)1 << (i % 64);
    return b;
}

static size_t count_common(const bits *a, const bits *b, const bits *c, const bits *d)
{
    size_t count = 0;
    for (size_t i = 0; i < sizeof a->word / sizeof *a->word; ++i)
        for (uint64_t w = a->word[i] & b->word[i] & c->word[i] & d->word[i]; w; w &= w - 1)
            ++count;
    return count;
}

static double depth(const table *t, size_t seat, size_t step)
{
    return t->first_m[seat] + (double)step * t->step_m;
}

/** The most drawn wells that any three shoes on the step let hold: every one is looked at. */
static size_t most_by_force(const table *t)
{
    static bits first[MOST_STEPS], second[MOST_STEPS][MOST_STEPS], third[MOST_STEPS][MOST_STEPS],
        last[MOST_STEPS];
    const dt_seat *seats = t->p->seats.items;
    size_t most = 0;
    for (size_t a = 0; a < t->count[0]; ++a) {
        first[a] = of_hole(t, 1, seats[0].shoe_m, depth(t, 0, a));
        for (size_t b = 0; b < t->count[1]; ++b)
            second[a][b] = of_hole(t, 2, depth(t, 0, a), depth(t, 1, b));
    }
    for (size_t c = 0; c < t->count[2]; ++c) {
        last[c] = of_hole(t, 4, depth(t, 2, c), seats[4].shoe_m);
        for (size_t b = 0; b < t->count[1]; ++b)
            third[b][c] = of_hole(t, 3, depth(t, 1, b), depth(t, 2, c));
    }
    for (size_t a = 0; a < t->count[0]; ++a)
        for (size_t b = 0; b < t->count[1]; ++b)
            for (size_t c = 0; c < t->count[2]; ++c) {
                const size_t held = count_common(&first[a], &second[a][b], &third[b][c], &last[c]);
                if (held > most) most = held;
            }
    return most;
}

static size_t held_by(const table *t, const dt_program *p)
{
    double shoes_m[DT_ODDS_MOST_STRINGS + 2];
    for (size_t k = 0; k < p->seats.count; ++k)
        shoes_m[k] = p->seats.items[k].shoe_m;
    return dt_trials_held(&t->trials, &t->must, shoes_m);
}

/* Of all seats on the step that do as the well is stated, none lets more drawn wells hold; it
 * closes, and costs what the basis gives for it at most. */
static void no_seats_are_surer(void **state)
{
    (void)state;
    dt_well *well, *plain;
    dt_program *p = plan_of(NULL, 0, &well), *shallow = plan_of(&as_before, 1, &plain);
    assert_int_equal(p->seats.count, FREE + 2);
    table t = open_table(p);
    const size_t held = held_by(&t, p), before = held_by(&t, shallow), most = most_by_force(&t);
    print_message("%zu of %d hold, %zu with the shallowest shoes, %zu with any\n", held, WELLS,
                  before, most);
    assert_true(dt_program_runnable(p));
    assert_true(held > before);
    assert_true(held <= most);
    assert_true((double)held >= 0.99 * (double)most);
    assert_true(p->bill.total <= 1.05 * shallow->bill.total);
    dt_trials_free(&t.trials);
    dt_program_free(p);
    dt_program_free(shallow);
    dt_well_free(well);
    dt_well_free(plain);
}

/* What it says of itself is so; a plan with the shallowest shoes, or without spreads, says nothing
 * of it. */
static void it_says_how_sure(void **state)
{
    (void)state;
    dt_well *well;
    dt_program *p = plan_of(NULL, 0, &well);
    const dt_notice *said = NULL;
    for (size_t i = 0; i < p->notices.count; ++i)
        if (p->notices.items[i].code == DT_NOTICE_SUREST_SEATS) said = &p->notices.items[i];
    assert_non_null(said);
    for (size_t k = 1; k + 1 < p->seats.count; ++k)
        assert_int_equal(p->seats.items[k].why.rule, DT_RULE_SUREST);
    dt_program_free(p);
    dt_well_free(well);
    p = plan_of(&as_before, 1, &well);
    for (size_t i = 0; i < p->notices.count; ++i)
        assert_int_not_equal(p->notices.items[i].code, DT_NOTICE_SUREST_SEATS);
    for (size_t k = 1; k + 1 < p->seats.count; ++k)
        assert_int_not_equal(p->seats.items[k].why.rule, DT_RULE_SUREST);
    dt_program_free(p);
    dt_well_free(well);
}

/* ---- by all stages ---- */

/** In how many of the wells apart from those that a plan looks at a program holds by all stages. */
static size_t held_elsewhere(const dt_program *p, size_t wells)
{
    dt_uncertains inputs;
    dt_trials trials;
    size_t held = 0;
    assert_int_equal(dt_uncertains_collect(p->well, &inputs), DT_OK);
    assert_int_equal(dt_trials_build(p->well, &inputs, SEED + 1, wells, &trials), DT_OK);
    for (size_t i = 0; i < wells; ++i) {
        dt_stage_breaks breaks;
        if (!dt_program_holds_in(p, &trials.items[i].window)) continue;
        assert_int_equal(dt_program_breaks(p, &trials.items[i].window, &breaks), DT_OK);
        held += breaks.count == 0;
    }
    dt_trials_free(&trials);
    dt_uncertains_free(&inputs);
    return held;
}

static const dt_notice *notice_of(const dt_program *p, dt_notice_code code)
{
    for (size_t i = 0; i < p->notices.count; ++i)
        if (p->notices.items[i].code == code) return &p->notices.items[i];
    return NULL;
}

/* Pipe that just holds in the well as stated fails in every well with heavier mud. What is chosen
 * holds there, within the price of the basis, in wells it was not chosen on too; what it says of
 * itself is counted again, pipe that is as light as it was fails as often as it says. */
static void pipe_bears_the_drawn_wells(void **state)
{
    (void)state;
    enum { ELSEWHERE = DT_FULL_SPEED ? 400 : 40 };
    size_t size;
    dt_report report;
    dt_well *well, *shallow;
    const char *path = DT_WELLS "/sandling-south.xml";
    char *text = shipped_read(path, &size);
    assert_int_equal(dt_report_init(&report, path), DT_OK);
    assert_int_equal(dt_well_parse(text, size, &report, &well), DT_OK);
    assert_int_equal(dt_well_parse(text, size, &report, &shallow), DT_OK);
    shallow->seats.prefer = DT_PREFER_SHALLOWEST;
    dt_program *p, *plain;
    assert_int_equal(dt_program_plan(well, &catalogue, &p, NULL), DT_OK);
    assert_int_equal(dt_program_plan(shallow, &catalogue, &plain, NULL), DT_OK);
    const size_t held = held_elsewhere(p, ELSEWHERE), before = held_elsewhere(plain, ELSEWHERE);
    print_message("%zu of %d hold by all stages, %zu with the lightest pipe\n", held, ELSEWHERE,
                  before);
    assert_true(dt_program_runnable(p));
    assert_int_equal(p->seats.count, plain->seats.count);
    assert_true(held > before + ELSEWHERE / 5);
    assert_true(p->bill.steel_kg <= 1.05 * plain->bill.steel_kg);
    assert_null(notice_of(plain, DT_NOTICE_FIRMER_PIPE));
    const dt_notice *said = notice_of(p, DT_NOTICE_FIRMER_PIPE);
    assert_non_null(said);
    assert_true(p->seats.items[said->string].spare > 0);
    dt_trials trials;
    dt_asked asked;
    assert_int_equal(dt_trials_of(well, &trials), DT_OK);
    for (int i = 0; i < 2; ++i) {
        const dt_program *one = i ? plain : p;
        assert_int_equal(dt_asked_begin(one, &trials, DT_ASKED_WELLS, &asked), DT_OK);
        assert_int_equal(dt_asked_ask(one, DT_ALL_STRINGS, &asked), DT_OK);
        const dt_figure *f = dt_notice_find_figure(said, i ? "before" : "held");
        assert_close(f->value, 100.0 * (double)asked.held / (double)asked.of, 1e-9);
        assert_true(asked.held <= asked.by_seats);
        dt_asked_free(&asked);
    }
    dt_trials_free(&trials);
    dt_report_free(&report);
    dt_program_free(p);
    dt_program_free(plain);
    dt_well_free(well);
    dt_well_free(shallow);
    free(text);
}

/* A pinned shoe stays where it is, whatever would be surer. */
static void pinned_shoes_stay(void **state)
{
    (void)state;
    const edit pinned = {"</well>",
                         "<pinned><string role=\"surface\" shoe=\"2500 ft\"/></pinned></well>"};
    dt_well *well;
    dt_program *p = plan_of(&pinned, 1, &well);
    assert_close(p->seats.items[1].shoe_m, 2500 * DT_M_PER_FT, 1e-6);
    dt_program_free(p);
    dt_well_free(well);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_seats_are_surer), cmocka_unit_test(it_says_how_sure),
        cmocka_unit_test(pinned_shoes_stay), cmocka_unit_test(pipe_bears_the_drawn_wells)};
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dt_catalogue_free(&catalogue);
    return failed;
}
