/* SPDX-License-Identifier: MIT */
/*
 * Strings that are kept (designed.h): a program planned with what was designed for a well is the
 * one that is planned afresh, whatever the well differs in from the one they were designed for. No
 * source: both are the planner's own.
 */
#include "check.h"
#include "option_parts.h"
#include "same.h"
#include "string_design.h"

/* One number, choice or row of a well, changed in place. */
typedef struct change {
    const char *what;
    void (*make)(coded_well *c);
} change;

#define CHANGE(name, ...)                                                                          \
    static void name(coded_well *c)                                                                \
    {                                                                                              \
        dt_well *w = &c->well;                                                                     \
        (void)w;                                                                                   \
        __VA_ARGS__;                                                                               \
    }

/** Pins the surface string as nothing else is said of it, to be changed further. */
static dt_pin *pin_surface(coded_well *c)
{
    if (c->well.pin_count == 0) coded_pin(c, DT_SURFACE, NAN);
    c->pins[0].shoe_m = NAN;
    return &c->pins[0];
}

/* what the kept well leaves out */
CHANGE(pin_shoe, pin_surface(c)->shoe_m = 4500 * FT)
CHANGE(pin_grade, pin_surface(c)->grade = (char *)"P110")
CHANGE(pin_thread, pin_surface(c)->thread = (char *)"BTC")
CHANGE(pin_worn, pin_surface(c)->wear_m = 0.002)
CHANGE(conductor_shut_in, w->conductor.bop = !w->conductor.bop)
CHANGE(conductor_deeper, w->conductor.depth_m = 700 * FT)
CHANGE(conductor_returns, w->conductor.depth_m = NAN; w->conductor.returns_gradient_kgm3 = 1250)
CHANGE(kick_harder, w->kick.given = true; w->kick.intensity_kgm3 = 60)
CHANGE(kick_lighter, w->kick.given = true; w->kick.influx_kgm3 = 120)
CHANGE(kick_margin, w->kick.given = true; w->kick.margin_kgm3 = 30)
CHANGE(kick_seats, w->kick.given = true; w->kick.seat_volume_m3 = 3; w->kick.seat_hole_m = 0.31)
CHANGE(rules, w->rules_off = ~(uint64_t)0)
CHANGE(last_hole, w->last_hole_m = 0.2159)
/* what it holds to be the same */
CHANGE(burst, w->design.given = true; w->design.burst = 1.6)
CHANGE(collapse, w->design.given = true; w->design.collapse = 1.5)
CHANGE(tension, w->design.given = true; w->design.tension = 2.9)
CHANGE(triaxial, w->design.given = true; w->design.triaxial = 1.9)
CHANGE(overpull, w->design.given = true; w->design.overpull_n = 9e5)
CHANGE(gas, w->design.given = true; w->design.gas_gradient_kgm3 = 30)
CHANGE(combined, w->design.given = true; w->design.collapse_method = DT_CHOOSE_COMBINED)
CHANGE(one_section, w->design.given = true; w->design.max_sections = 1)
CHANGE(long_sections, w->design.given = true; w->design.min_section_m = 900)
CHANGE(gauge, w->design.given = true; w->design.gauge_m = 300)
CHANGE(crossover, w->design.given = true; w->design.crossover_m = 800)
CHANGE(fractured, w->loads.given = true; w->loads.kick = DT_KICK_FRACTURE)
CHANGE(lost, w->loads.given = true; w->loads.evacuation = DT_EVACUATION_LOST_RETURNS)
CHANGE(shocked, w->loads.given = true; w->loads.running = DT_RUNNING_SHOCK)
CHANGE(outside, w->loads.given = true; w->loads.burst_outside = DT_OUTSIDE_PORE)
CHANGE(heavier, c->pore[c->well.pore.count - 1].emw_kgm3 += 0.1 * PPG)
CHANGE(unpriced, w->prices_given = false)
CHANGE(lap, w->seats.lap_m = 150)

static const change changes[] = {{"as it is", NULL},
                                 {"pinned shoe", pin_shoe},
                                 {"pinned grade", pin_grade},
                                 {"pinned thread", pin_thread},
                                 {"wear", pin_worn},
                                 {"shut in on the conductor", conductor_shut_in},
                                 {"deeper conductor", conductor_deeper},
                                 {"conductor by its returns", conductor_returns},
                                 {"kick intensity", kick_harder},
                                 {"density of the influx", kick_lighter},
                                 {"margin of the kick", kick_margin},
                                 {"seats by a kick", kick_seats},
                                 {"no rules", rules},
                                 {"last hole", last_hole},
                                 {"burst", burst},
                                 {"collapse", collapse},
                                 {"tension", tension},
                                 {"triaxial", triaxial},
                                 {"overpull", overpull},
                                 {"gas gradient", gas},
                                 {"combined collapse", combined},
                                 {"one section", one_section},
                                 {"long sections", long_sections},
                                 {"gauge", gauge},
                                 {"crossover", crossover},
                                 {"broken shoe", fractured},
                                 {"lost returns", lost},
                                 {"shock", shocked},
                                 {"pore pressure outside", outside},
                                 {"heavier mud", heavier},
                                 {"no prices", unpriced},
                                 {"lap", lap}};

/** The well with one change, its arrays its own. */
static void make_well(coded_well *c, int which, const change *by)
{
    memset(c, 0, sizeof *c);
    part_well(c, which);
    c->well.prices_given = true;
    if (by->make) by->make(c);
}

/** The arrays of the other, where they hold the same: a what-if borrows what it does not change. */
static void borrow(coded_well *c, coded_well *from)
{
    if (memcmp(c->pore, from->pore, sizeof c->pore) == 0) c->well.pore.points = from->pore;
    if (memcmp(c->fracture, from->fracture, sizeof c->fracture) == 0)
        c->well.fracture.points = from->fracture;
    if (c->well.intervals) c->well.intervals = from->intervals;
}

static void same_string(const dt_string *a, const dt_string *b)
{
    assert_int_equal(a->section_count, b->section_count);
    for (size_t i = 0; i < a->section_count; ++i) {
        const dt_section *x = &a->sections[i], *y = &b->sections[i];
        assert_ptr_equal(x->pipe, y->pipe);
        assert_int_equal(x->thread, y->thread);
        assert_true(x->top_md_m == y->top_md_m && x->base_md_m == y->base_md_m);
        assert_ptr_equal(x->cheaper_pipe, y->cheaper_pipe);
        assert_int_equal(x->cheaper_load, y->cheaper_load);
    }
}

static void same_program(const dt_program *a, const dt_program *b)
{
    assert_int_equal(dt_program_strings(a), dt_program_strings(b));
    for (size_t k = 0; k < dt_program_strings(a); ++k)
        same_string(a->items[k].string, b->items[k].string);
}

/** Plans with what is kept and afresh: the same. Returns whether there is a program. */
static bool agree(const dt_well *well, const dt_catalogue *catalogue, dt_designed *kept)
{
    dt_program *one = NULL, *other = NULL;
    const dt_status status = dt_program_plan_keeping(well, catalogue, kept, &one, NULL);
    assert_int_equal(dt_program_plan(well, catalogue, &other, NULL), status);
    if (status != DT_OK) return false;
    same_program(one, other);
    dt_program_free(one);
    dt_program_free(other);
    return true;
}

/** Every change from the well that strings were designed for, and back; in builds that are slower
 * every eighth. */
static void what_is_kept_is_what_would_be_designed(void **state)
{
    (void)state;
    const size_t step = DT_FULL_SPEED ? 1 : 8;
    size_t planned = 0, tried = 0;
    dt_catalogue catalogue;
    dt_designed kept = {0};
    dt_program *fresh = NULL, *again = NULL;
    coded_well own;
    part_catalogue(&catalogue, PART_STOCK);
    make_well(&own, 0, &changes[0]);
    assert_int_equal(dt_program_plan_keeping(&own.well, &catalogue, &kept, &fresh, NULL), DT_OK);
    for (size_t i = 0; i < COUNT_OF(changes); i += step) {
        coded_well changed;
        make_well(&changed, 0, &changes[i]);
        borrow(&changed, &own);
        planned += agree(&changed.well, &catalogue, &kept);
        ++tried;
        assert_int_equal(dt_program_plan_keeping(&own.well, &catalogue, &kept, &again, NULL),
                         DT_OK);
        same_program(again, fresh);
        dt_program_free(again);
    }
    dt_program_free(fresh);
    dt_designed_free(&kept);
    dt_catalogue_free(&catalogue);
    print_message("%zu of %zu changed wells have a program\n", planned, tried);
    assert_true(2 * planned > tried);
}

/** What drafts and options differ in leaves what is kept: pins, the conductor, kicks, rules. */
static void drafts_share_what_is_kept(void **state)
{
    (void)state;
    dt_catalogue catalogue;
    coded_well c;
    dt_designed kept = {0};
    part_catalogue(&catalogue, PART_STOCK);
    make_well(&c, 0, &changes[0]);
    assert_true(agree(&c.well, &catalogue, &kept));
    const size_t before = kept.count;
    assert_true(before > 0);
    void (*const all[])(coded_well *) = {pin_shoe, conductor_deeper, kick_harder, rules, last_hole};
    for (size_t i = 0; i < COUNT_OF(all); ++i) {
        all[i](&c);
        agree(&c.well, &catalogue, &kept);
        assert_true(kept.count >= before);
    }
    c.well.design.given = true;
    c.well.design.tension = 3.2;
    assert_true(agree(&c.well, &catalogue, &kept));
    dt_designed_free(&kept);
    dt_catalogue_free(&catalogue);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_kept_is_what_would_be_designed),
        cmocka_unit_test(drafts_share_what_is_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
