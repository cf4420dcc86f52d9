/* SPDX-License-Identifier: MIT */
/*
 * Reasons and wishes: shadow values against the slope of straight lines, and the sets that
 * forbid a wish against every subset of the switches.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "drawings.h"
#include "edited_well.h"
#include "told.h"
#include "well_in_code.h"
#include "why.h"
#include "why_words.h"

typedef struct planned {
    coded_well c;
    dt_catalogue catalogue;
    dt_program *program;
} planned;

static bool plan(planned *p)
{
    dt_refusal refusal = {0};
    /* few pipes: thousands of plans are made below */
    static const char stock[] =
        "od_in,weight_lbft,grade\n13.375,,J55\n13.375,,N80\n9.625,,J55\n"
        "9.625,,L80\n9.625,,H40\n7,,L80\n7,,H40\n20,,J55\n20,,K55\n5.5,,L80\n";
    dt_report report = {0};
    assert_int_equal(dt_catalogue_load(&p->catalogue), DT_OK);
    assert_int_equal(dt_report_init(&report, "stock"), DT_OK);
    assert_int_equal(dt_catalogue_restrict(&p->catalogue, stock, strlen(stock), &report), DT_OK);
    dt_report_free(&report);
    dt_status status = dt_program_plan(&p->c.well, &p->catalogue, &p->program, &refusal);
    if (status != DT_OK) print_message("%s\n", told_refusal(&refusal));
    dt_refusal_free(&refusal);
    return status == DT_OK;
}

static void release(planned *p)
{
    dt_program_free(p->program);
    dt_catalogue_free(&p->catalogue);
}

/** Pore 9 ppg to 4,000 ft, 12 ppg at 8,000; fracture 12 + 0.5 ppg per 1,000 ft; kick 0.5 ppg. */
static void ramp(planned *p)
{
    memset(p, 0, sizeof *p);
    coded_start(&p->c, 300, 8000);
    coded_pore(&p->c, 0, 9);
    coded_pore(&p->c, 4000, 9);
    coded_pore(&p->c, 8000, 13);
    coded_fracture(&p->c, 0, 11.5);
    coded_fracture(&p->c, 8000, 15.5);
    p->c.well.margins.kick.emw_kgm3 = 0.5 * PPG;
    p->c.well.margins.trip.emw_kgm3 = 0.5 * PPG;
    assert_true(plan(p));
    assert_int_equal(p->program->count, 3);
}

/** As ramp(), but 11 ppg at the bottom: only trip and kick margin together need two strings. */
static void gentle(planned *p)
{
    ramp(p);
    release(p);
    p->c.pore[2].emw_kgm3 = 11 * PPG;
    assert_true(plan(p));
    assert_int_equal(p->program->count, 3);
}

static const dt_why_item *item_of(const dt_why *why, size_t string, dt_why_subject subject)
{
    for (size_t i = 0; i < why->count; ++i)
        if (why->items[i].string == string && why->items[i].subject == subject)
            return &why->items[i];
    return NULL;
}

/* The shoe stands where 11.5 + z/2000 = 13 + 0.5 + 0.5: at 5,000 ft. 0.1 ppg is 200 ft of it. */
static void shadow_of_a_straight_line(void **state)
{
    (void)state;
    planned p;
    ramp(&p);
    dt_why why = {0};
    assert_int_equal(dt_why_explain(p.program, DT_NO_INDEX, &why), DT_OK);
    const dt_why_item *seat = item_of(&why, 1, DT_WHY_SEAT);
    assert_non_null(seat);
    assert_string_equal(seat->rule, "fracture-kick");
    assert_within(seat->at_tvd_m / FT, 5000, 1e-3);
    assert_within(seat->need / PPG, 14, 1e-6);
    assert_within(seat->slack_step / PPG, 0.1, 1e-9);
    assert_within(seat->moves_m / FT, -200, 1e-3);
    assert_non_null(strstr(told(&seat->slack), "200 ft shallower"));
    assert_non_null(item_of(&why, 2, DT_WHY_PIPE));
    assert_non_null(item_of(&why, 2, DT_WHY_WEIGHT));
    assert_non_null(item_of(&why, 0, DT_WHY_CEMENT));
    dt_why_free(&why);
    assert_int_equal(dt_why_explain(p.program, 1, &why), DT_OK);
    for (size_t i = 0; i < why.count; ++i)
        assert_int_equal(why.items[i].string, 1);
    dt_why_free(&why);
    assert_int_equal(dt_why_explain(p.program, 3, &why), DT_E_DOMAIN);
    release(&p);
}

/* Each bound eased by its step, by the straight lines of ramp(): fracture 11.5 ppg + 0.5 a 1,000
 * ft, pore 9 ppg to 4,000 ft and 1 ppg a 1,000 ft below. Steps: 0.1 ppg, 100 psi, 100 ft
 * (docs/why.md). */
static void shadows_of_every_bound(void **state)
{
    (void)state;
    enum { DEEPEST, DEEPEST_BED, WATER, ABOVE, AVOID, STICKING, BOUNDS };
    /* sticking without a trip margin: 13 ppg at the bottom against 9 + (z - 4), z in 1,000 ft:
     * (8 - z) z = limit / (1000 * 12/231 psi) */
    const double psi_kft = 1000 * 12 / 231.;
    const double at_700 = 500 * (8 + sqrt(64 - 4 * 700 / psi_kft));
    const double at_800 = 500 * (8 + sqrt(64 - 4 * 800 / psi_kft));
    const struct {
        const char *rule;
        double shoe_ft, moves_ft;
    } want[BOUNDS] = {
        [DEEPEST] = {"fracture-kick", 5650, 100}, /* pore + 1 = 11.65 ppg under 300 ft */
        [DEEPEST_BED] = {"interval-case-off", 5300, 100},
        [WATER] = {"fresh-water", 5500, -100},
        [ABOVE] = {"interval-case-above", 5500, -100},
        [AVOID] = {"interval-avoid-shoe", 5200, -100},
        [STICKING] = {"sticking-abnormal", at_700, at_800 - at_700},
    };
    for (int bound = 0; bound < BOUNDS; ++bound) {
        planned p;
        ramp(&p);
        release(&p);
        if (bound <= DEEPEST_BED) p.c.well.seats.prefer = DT_PREFER_DEEPEST;
        if (bound == DEEPEST_BED) coded_interval(&p.c, 5000, 5200, DT_CASE_OFF, 100);
        if (bound == WATER) p.c.well.fresh_water_m = 5300 * FT;
        if (bound == WATER) p.c.well.fresh_water_cover_m = 200 * FT;
        if (bound == ABOVE) coded_interval(&p.c, 6000, 6100, DT_CASE_ABOVE, 500);
        if (bound == AVOID) coded_interval(&p.c, 4900, 5200, DT_AVOID_SHOE, 0);
        if (bound == STICKING) {
            p.c.well.margins.trip.emw_kgm3 = 0;
            /* under 300 ft the surface string's cement breaks the rock, and the shoe moves for it
             */
            p.c.well.conductor.depth_m = 600 * FT;
            p.c.well.sticking = (dt_sticking){.given = true,
                                              .normal_limit_pa = 5000 * PSI,
                                              .abnormal_limit_pa = 700 * PSI,
                                              .normal_pore_kgm3 = 9 * PPG};
        }
        assert_true(plan(&p));
        assert_int_equal(p.program->count, 3);
        assert_within(p.program->items[1].shoe_tvd_m / FT, want[bound].shoe_ft, 1e-2);
        dt_why why = {0};
        assert_int_equal(dt_why_explain(p.program, 1, &why), DT_OK);
        const dt_why_item *seat = item_of(&why, 1, DT_WHY_SEAT);
        assert_non_null(seat);
        assert_string_equal(seat->rule, want[bound].rule);
        assert_within(seat->moves_m / FT, want[bound].moves_ft, 1e-2);
        assert_non_null(
            strstr(told(&seat->slack), want[bound].moves_ft > 0 ? " deeper" : " shallower"));
        dt_why_free(&why);
        release(&p);
    }
}

/* ---- words ---- */

static void reading_wishes(void **state)
{
    (void)state;
    planned p;
    ramp(&p);
    dt_wish w;
    char *problem = NULL;
    assert_int_equal(
        dt_wish_read(p.program, DT_WISH_SET, "shoe of surface = 3000 ft", &w, &problem), DT_OK);
    assert_true(w.field == DT_WISH_SHOE && w.string == 1);
    assert_within(w.value, 3000 * FT, 1e-9);
    assert_int_equal(dt_wish_read(p.program, DT_WISH_SET, "grade of string 3 = P110", &w, &problem),
                     DT_OK);
    assert_true(w.string == 2 && strcmp(w.word, "P110") == 0);
    assert_int_equal(dt_wish_read(p.program, DT_WISH_ONLY, "9.625 in, 7 in", &w, &problem), DT_OK);
    assert_true(w.kind == DT_WISH_ONLY && w.size_count == 2);
    assert_int_equal(dt_wish_read(p.program, DT_WISH_ONLY, "7 in for production", &w, &problem),
                     DT_OK);
    assert_true(w.kind == DT_WISH_SET && w.field == DT_WISH_PIPE && w.string == 2);
    assert_int_equal(dt_wish_read(p.program, DT_WISH_WITHOUT, "string 2", &w, &problem), DT_OK);
    assert_int_equal(w.string, 1);
    static const struct {
        dt_wish_kind kind;
        const char *text;
    } bad[] = {
        {DT_WISH_SET, ""},
        {DT_WISH_SET, "shoe of surface"},
        {DT_WISH_SET, "shoe of surface = 3000"},
        {DT_WISH_SET, "shoe of surface = -3 ft"},
        {DT_WISH_SET, "shoe of production = 3000 ft"},
        {DT_WISH_SET, "colour of surface = 3 ft"},
        {DT_WISH_SET, "shoe of string 9 = 3000 ft"},
        {DT_WISH_SET, "type of surface = liner"},
        {DT_WISH_SET, "thread of surface = XYZ"},
        {DT_WISH_SET, "grade of surface = "},
        {DT_WISH_WITHOUT, "string 0"},
        {DT_WISH_WITHOUT, "string 1"},
        {DT_WISH_WITHOUT, "string 3"},
        {DT_WISH_WITHOUT, "the third"},
        {DT_WISH_ONLY, ""},
        {DT_WISH_ONLY, "9.625"},
        {DT_WISH_ONLY, "9.625 in,"},
        {DT_WISH_ONLY, "7 in, 5 in for production"},
        {DT_WISH_ONLY, "7 in for nothing"},
        {DT_WISH_ONLY, "1 in, 2 in, 3 in, 4 in, 5 in, 6 in, 7 in, 8 in, 9 in"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        if (dt_wish_read(p.program, bad[i].kind, bad[i].text, &w, &problem) != DT_E_INPUT)
            fail_msg("\"%s\" was read", bad[i].text);
        assert_non_null(problem);
        free(problem);
        problem = NULL;
    }
    release(&p);
}

/* ---- sets against brute force ---- */

static bool possible(const dt_program *base, const dt_wish *wishes, size_t count,
                     const dt_switches *switches, const bool *on)
{
    dt_wished holder = {0};
    bool answer = false;
    assert_int_equal(dt_wish_try(base, wishes, count, switches, on, &holder, NULL, &answer, NULL),
                     DT_OK);
    return answer;
}

static size_t bits(size_t set)
{
    size_t count = 0;
    for (; set; set &= set - 1)
        ++count;
    return count;
}

/** Every subset: which is the smallest that forbids, and is the set found one of those? */
static size_t check_against_all_subsets(const dt_program *base, const dt_wish *wishes, size_t count)
{
    dt_verdict v;
    assert_int_equal(dt_wish_judge(base, wishes, count, &v), DT_OK);
    size_t n = v.switches.count, found = 0, smallest = SIZE_MAX;
    bool on[16];
    assert_true(n <= 12);
    for (size_t i = 0; i < v.forbid_count; ++i)
        found |= (size_t)1 << v.forbids[i];
    for (size_t set = 0; set < (size_t)1 << n; ++set) {
        for (size_t i = 0; i < n; ++i)
            on[i] = set >> i & 1;
        bool can = possible(base, wishes, count, &v.switches, on);
        if (set + 1 == (size_t)1 << n) assert_int_equal(can, v.possible);
        if (!can && bits(set) < smallest) smallest = bits(set);
        if (v.possible || (set & found) != set) continue;
        /* the set itself forbids; with any one left out the wish is possible */
        if (set == found) assert_false(can);
        if (bits(set) + 1 == bits(found)) assert_true(can);
    }
    if (!v.possible && v.smallest) assert_int_equal(bits(found), smallest);
    printf("%zu switches, %s, %zu in the set, %zu plans\n", n,
           v.possible ? "possible" : "forbidden", v.forbid_count, v.tried);
    size_t size = v.forbid_count;
    dt_verdict_free(&v);
    return size;
}

static void sets_on_small_wells(void **state)
{
    (void)state;
    static const struct {
        dt_wish_kind kind;
        const char *text;
    } wishes[] = {
        {DT_WISH_WITHOUT, "string 2"},
        {DT_WISH_SET, "shoe of surface = 3000 ft"},
        {DT_WISH_SET, "hole of production = 6.125 in"},
        {DT_WISH_SET, "shoe of surface = 4950 ft"},
        {DT_WISH_ONLY, "7 in"},
        {DT_WISH_SET, "pipe of surface = 7 in"},
        {DT_WISH_SET, "hole of surface = 8.5 in"},
        {DT_WISH_SET, "grade of production = H40"},
    };
    size_t largest = 0;
    /* the last on 10 switches: 1,024 subsets, at full speed only */
    for (int variant = 0; variant < (DT_FULL_SPEED ? 3 : 2); ++variant) {
        planned p;
        if (variant == 0)
            ramp(&p);
        else
            gentle(&p);
        release(&p);
        if (variant == 2) {
            coded_interval(&p.c, 2800, 3200, DT_AVOID_SHOE, 0);
            coded_interval(&p.c, 6000, 6100, DT_CASE_ABOVE, 500);
            p.c.well.sticking = (dt_sticking){.given = true,
                                              .normal_limit_pa = 800 * PSI,
                                              .abnormal_limit_pa = 2500 * PSI,
                                              .normal_pore_kgm3 = 9 * PPG};
        }
        assert_true(plan(&p));
        for (size_t i = 0; i < sizeof wishes / sizeof *wishes; ++i) {
            if (variant == 2 && i != 0 && i != 3) continue;
            dt_wish wish;
            char *problem = NULL;
            dt_status read =
                dt_wish_read(p.program, wishes[i].kind, wishes[i].text, &wish, &problem);
            free(problem);
            assert_int_equal(read, DT_OK);
            size_t size = check_against_all_subsets(p.program, &wish, 1);
            if (size > largest) largest = size;
        }
        release(&p);
    }
    assert_true(largest >= 2);
}

static dt_wish wish_for(const dt_program *program, dt_wish_kind kind, const char *text)
{
    dt_wish wish;
    char *problem = NULL;
    if (dt_wish_read(program, kind, text, &wish, &problem) != DT_OK)
        fail_msg("%s: %s", text, problem);
    return wish;
}

/* Leaving out rule after rule ends at a pair here, gap and completion for 7 in pipe in a 7-7/8 in
 * hole; but the mud limit alone forbids to drill 300 ft to 8,000 ft in one: 13 ppg, 11.65 ppg. */
static void a_smaller_set_is_looked_for(void **state)
{
    (void)state;
    planned p;
    ramp(&p);
    dt_wish wishes[2] = {wish_for(p.program, DT_WISH_SET, "hole of production = 7.875 in"),
                         wish_for(p.program, DT_WISH_WITHOUT, "string 2")};
    assert_int_equal(check_against_all_subsets(p.program, &wishes[1], 1), 1);
    assert_int_equal(check_against_all_subsets(p.program, wishes, 2), 1);
    dt_verdict v;
    assert_int_equal(dt_wish_judge(p.program, wishes, 2, &v), DT_OK);
    assert_true(v.smallest && !v.possible);
    assert_int_equal(v.switches.items[v.forbids[0]].rule, DT_RULE_MUD_LIMIT);
    dt_verdict_free(&v);
    release(&p);
}

/* Pore 9 ppg to the bottom, and a hole that caves below 13 ppg there: only the collapse gradient
 * with a limit above asks for the second string. */
static void collapse_gradient_forbids(void **state)
{
    (void)state;
    planned p;
    ramp(&p);
    release(&p);
    p.c.pore[2].emw_kgm3 = 9 * PPG;
    static dt_curve_point collapse[2];
    coded_point(&p.c.well.collapse, collapse, 0, 9);
    coded_point(&p.c.well.collapse, collapse, 8000, 13);
    p.c.well.collapse.line = 77;
    assert_true(plan(&p));
    assert_int_equal(p.program->count, 3);
    const dt_wish wish = wish_for(p.program, DT_WISH_WITHOUT, "string 2");
    assert_int_equal(check_against_all_subsets(p.program, &wish, 1), 2);
    dt_verdict v;
    assert_int_equal(dt_wish_judge(p.program, &wish, 1, &v), DT_OK);
    assert_int_equal(v.switches.items[v.forbids[0]].rule, DT_RULE_KICK_FIXED);
    assert_int_equal(v.switches.items[v.forbids[1]].kind, DT_SWITCH_COLLAPSE);
    char *words = NULL;
    assert_int_equal(
        dt_switch_words(&v.switches.items[v.forbids[1]], &p.c.well, DT_DISPLAY_FIELD, &words),
        DT_OK);
    assert_string_equal(words, "the collapse gradient (well file line 77)");
    free(words);
    dt_verdict_free(&v);
    release(&p);
}

/* A wish that is the plan itself changes nothing; one a little deeper is kept to the foot. */
static void wishes_are_pins(void **state)
{
    (void)state;
    planned p;
    ramp(&p);
    dt_wish wish;
    char *problem = NULL;
    assert_int_equal(
        dt_wish_read(p.program, DT_WISH_SET, "shoe of surface = 5100 ft", &wish, &problem), DT_OK);
    dt_verdict v;
    assert_int_equal(dt_wish_judge(p.program, &wish, 1, &v), DT_OK);
    assert_true(v.possible && v.program->count == 3);
    assert_within(v.program->items[1].shoe_tvd_m / FT, 5100, 1e-6);
    dt_text text = {0};
    assert_int_equal(dt_write_verdict_json(p.program, &v, "x", &text), DT_OK);
    assert_non_null(strstr(text.bytes, "\"possible\": true"));
    dt_text_free(&text);
    dt_verdict_free(&v);
    release(&p);
}

/* ---- shipped wells ---- */

static void plan_file(const char *path, const edit *edits, size_t count, dt_well **well,
                      dt_catalogue *catalogue, dt_program **program)
{
    dt_refusal refusal = {0};
    *program = NULL;
    *well = edited_well(path, edits, count);
    assert_int_equal(dt_catalogue_load(catalogue), DT_OK);
    dt_status status = dt_program_plan(*well, catalogue, program, &refusal);
    if (status != DT_OK)
        fail_msg("%s: %s", path, told_refusal(&refusal) ? told_refusal(&refusal) : "no memory");
}

/* Every rule and input of a well that may be left out says itself with its figures and line. */
static void switches_in_words(void **state)
{
    (void)state;
    const edit edits[] = {
        {"<pay ", "<kick_tolerance seat_volume='25 bbl' seat_hole='12.25 in'/><pay "},
        {"</well>", "<pinned><string role='surface' hole='17.5 in'/></pinned></well>"}};
    /* 0.05 sg = 0.42 ppg; 150 bar = 2176 psi, 215 bar = 3118 psi; 310 m = 1017 ft */
    const char *const want[] = {
        "the trip margin of 0.42 ppg above pore pressure (well file line 43)",
        "the collapse gradient (well file line 33)",
        "must be behind the surface string (well file line 40)",
        "fresh water to 1017 ft and its cover ",
        "(2176 psi, well file line 44)",
        "(3118 psi, well file line 44)",
        "(25.0 bbl, well file line 48)",
        "Wether coal",
        "Cinder lime",
        "line 49", /* the pin */
        "7 in",    /* what the completion needs */
        "design factors"};
    dt_well *well = edited_well(DT_TESTS "/bare/hollinfold.xml", edits, 2);
    dt_switches list;
    assert_int_equal(dt_switches_list(well, &list), DT_OK);
    for (size_t w = 0; w < sizeof want / sizeof *want; ++w) {
        bool said = false;
        for (size_t i = 0; i < list.count; ++i) {
            char *words = NULL;
            assert_int_equal(dt_switch_words(&list.items[i], well, DT_DISPLAY_FIELD, &words),
                             DT_OK);
            if (w == 0) print_message("%s\n", words);
            said = said || strstr(words, want[w]);
            free(words);
        }
        if (!said) fail_msg("no switch says \"%s\"", want[w]);
    }
    dt_switches_free(&list);
    dt_well_free(well);
}

/* Whatever a pin says is a switch; a conductor's depth and a pin that says nothing are none. */
static void every_pin_that_says_something_is_a_switch(void **state)
{
    (void)state;
    static char word[] = "L80";
    coded_well c;
    coded_start(&c, 300, 8000);
    const dt_role roles[8] = {DT_CONDUCTOR,    DT_INTERMEDIATE, DT_INTERMEDIATE, DT_INTERMEDIATE,
                              DT_INTERMEDIATE, DT_INTERMEDIATE, DT_INTERMEDIATE, DT_PRODUCTION};
    for (size_t i = 0; i < 8; ++i)
        coded_pin(&c, roles[i], i == 0 ? 300 : NAN);
    c.pins[1].hole_m = 0.3;
    c.pins[2].weight_kgm = 50;
    c.pins[3].grade = word;
    c.pins[4].thread = word;
    c.pins[5].type = DT_LINER;
    c.pins[6].type = DT_TIEBACK;
    c.well.margins.trip.pressure_pa = 200 * PSI;
    c.well.margins.line = 5;
    dt_switches list;
    assert_int_equal(dt_switches_list(&c.well, &list), DT_OK);
    size_t pins = 0;
    for (size_t i = 0; i < list.count; ++i) {
        char *words = NULL;
        if (list.items[i].kind == DT_SWITCH_PIN) assert_int_equal(list.items[i].index, ++pins);
        assert_int_equal(dt_switch_words(&list.items[i], &c.well, DT_DISPLAY_FIELD, &words), DT_OK);
        if (list.items[i].kind == DT_SWITCH_TRIP)
            assert_string_equal(words, "the trip margin of 200 psi above pore pressure (well file "
                                       "line 5)");
        if (list.items[i].kind == DT_SWITCH_PIN && pins == 6)
            assert_non_null(strstr(words, "intermediate tie-back"));
        free(words);
    }
    assert_int_equal(pins, 6); /* neither the first nor the last */
    dt_switches_free(&list);
}

/* thornback-rise stands by its tie-back: tests/program/test_tieback.c has the refusal without it.
 */
static void wishes_for_a_tieback(void **state)
{
    (void)state;
    dt_well *well;
    dt_catalogue catalogue;
    dt_program *program;
    plan_file(DT_TESTS "/bare/thornback-rise.xml", NULL, 0, &well, &catalogue, &program);
    const size_t tie = program->count;
    /* its pipe is explained by its loads, and nothing else is: no hole, no cement */
    dt_why why;
    assert_int_equal(dt_why_explain(program, tie, &why), DT_OK);
    const dt_string *string = program->items[tie].string;
    assert_int_equal(why.count, string->section_count);
    for (size_t i = 0; i < why.count; ++i) {
        const dt_screen *screen = &string->sections[i].screen;
        assert_int_equal(why.items[i].string, tie);
        assert_int_equal(why.items[i].subject, DT_WHY_WEIGHT);
        assert_true(why.items[i].have >= why.items[i].need * (1 - 1e-9));
        assert_within(why.items[i].have, screen->by_check[screen->worst_check].factor, 0);
    }
    dt_why_free(&why);
    /* the heaviest 7 in of the catalogue holds what a lighter one does, and is kept to */
    dt_wish wish = wish_for(program, DT_WISH_SET, "weight of production tie-back = 38 lb/ft");
    assert_int_equal(wish.string, tie);
    dt_verdict v;
    assert_int_equal(dt_wish_judge(program, &wish, 1, &v), DT_OK);
    if (!v.possible) fail_msg("%s", told_refusal(&v.refusal));
    assert_int_equal(v.program->seats.tieback_count, 1);
    string = v.program->items[v.program->count].string;
    for (size_t i = 0; i < string->section_count; ++i)
        assert_within(string->sections[i].pipe->weight_kgm / DT_KGM_PER_LBFT, 38, 0.005);
    dt_verdict_free(&v);
    /* left out, the liner that is pinned leaves its gas to a string that does not hold it: possible
     * without the loads, and where the production string need not be a liner; the liner has
     * couplings here, since flush it passes a heavier string above it, which holds */
    const dt_wish two[] = {wish_for(program, DT_WISH_WITHOUT, "production tie-back"),
                           wish_for(program, DT_WISH_SET, "thread of production = LTC")};
    dt_switches list;
    assert_int_equal(dt_switches_list(well, &list), DT_OK);
    const struct {
        dt_switch_kind off;
        size_t wishes;
        bool possible;
    } tries[] = {{DT_SWITCH_TRIP, 2, false}, {DT_SWITCH_LOADS, 2, true}, {DT_SWITCH_PIN, 1, true}};
    for (size_t t = 0; t < sizeof tries / sizeof *tries; ++t) {
        bool on[32], can;
        dt_refusal refusal = {0};
        dt_wished holder = {0};
        assert_true(list.count < sizeof on / sizeof *on);
        for (size_t i = 0; i < list.count; ++i)
            on[i] = list.items[i].kind != tries[t].off || list.items[i].index > 0;
        assert_int_equal(
            dt_wish_try(program, two, tries[t].wishes, &list, on, &holder, NULL, &can, &refusal),
            DT_OK);
        assert_int_equal(can, tries[t].possible);
        if (!can)
            assert_non_null(
                strstr(told_refusal(&refusal), "if the production liner below were tied back"));
        dt_refusal_free(&refusal);
    }
    dt_switches_free(&list);
    /* what is its liner's */
    const struct {
        dt_wish_kind kind;
        const char *text, *words;
    } bad[] = {{DT_WISH_SET, "shoe of production tie-back = 9000 ft", "has no shoe of its own"},
               {DT_WISH_SET, "hole of production tie-back = 9 in", "has no hole of its own"},
               {DT_WISH_ONLY, "7 in for production tie-back", "is of its liner's size"}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; ++i) {
        char *problem = NULL;
        assert_int_equal(dt_wish_read(program, bad[i].kind, bad[i].text, &wish, &problem),
                         DT_E_INPUT);
        if (!strstr(problem, bad[i].words)) fail_msg("%s: %s", bad[i].text, problem);
        free(problem);
    }
    dt_program_free(program);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
}

typedef struct wished {
    const char *base, *wish;
    bool possible;
    dt_switch_kind by; /* the one thing that forbids it */
} wished;

/* Each stands to reason: what is wished is far on one side of one rule of the file. */
static void wishes_for_shipped_wells(void **state)
{
    (void)state;
    static const edit pinned = {
        "<pay ", "<pinned><string role='intermediate' od='9.625 in'/></pinned><pay "};
    static const wished rows[] = {
        /* fresh water reaches 2000 ft with its cover */
        {"alder-reach.xml", "shoe of surface = 1000 ft", false, DT_SWITCH_FRESH_WATER},
        /* 7 in 26 lb/ft P110, the strongest of its weight, collapses at 6230 psi; 13.1 ppg at
         * 11,500 ft are 7830 psi */
        {"alder-reach.xml", "weight of production = 26 lb/ft", false, DT_SWITCH_LOADS},
        /* the pin above is 9-5/8 in: the same size does not go through it */
        {"alder-reach.xml", "pipe of production = 9.625 in", false, DT_SWITCH_PIN},
        /* the completion needs 7 in */
        {"alder-reach.xml", "pipe of production = 5 in", false, DT_SWITCH_COMPLETION},
        {"alder-reach.xml", "weight of production = 32 lb/ft", true, DT_SWITCH_LOADS},
        {"alder-reach.xml", "thread of production = BTC", true, DT_SWITCH_LOADS},
        {"alder-reach.xml", "grade of production = P110", true, DT_SWITCH_LOADS},
        {"mizzenlow-shelf.xml", "type of intermediate 2 = full", true, DT_SWITCH_LOADS},
        /* what they are already */
        {"mizzenlow-shelf.xml", "type of string 1 = full", true, DT_SWITCH_LOADS},
        {"mizzenlow-shelf.xml", "type of surface = full", true, DT_SWITCH_LOADS},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        char path[512];
        dt_well *well;
        dt_catalogue catalogue;
        dt_program *program;
        dt_wish wish;
        dt_verdict v;
        char *problem = NULL;
        snprintf(path, sizeof path, "%s/bare/%s", DT_TESTS, rows[i].base);
        plan_file(path, &pinned, rows[i].base[0] == 'a', &well, &catalogue, &program);
        if (dt_wish_read(program, DT_WISH_SET, rows[i].wish, &wish, &problem) != DT_OK)
            fail_msg("%s: %s", rows[i].wish, problem);
        assert_int_equal(dt_wish_judge(program, &wish, 1, &v), DT_OK);
        if (v.possible != rows[i].possible)
            fail_msg("%s: %s", rows[i].wish, v.possible ? "possible" : told_refusal(&v.refusal));
        if (!v.possible) {
            assert_int_equal(v.forbid_count, 1);
            assert_int_equal(v.switches.items[v.forbids[0]].kind, rows[i].by);
        } else {
            const dt_program_string *now = &v.program->items[wish.string];
            for (size_t k = 0; k < now->string->section_count; ++k) {
                const dt_section *section = &now->string->sections[k];
                if (wish.field == DT_WISH_WEIGHT)
                    assert_within(section->pipe->weight_kgm, wish.value, 0.005);
                if (wish.field == DT_WISH_THREAD) assert_int_equal(section->thread, DT_BTC);
                if (wish.field == DT_WISH_GRADE)
                    assert_string_equal(section->pipe->grade->name, "P110");
            }
            if (wish.field == DT_WISH_TYPE) assert_int_equal(now->seat->type, DT_FULL);
        }
        dt_verdict_free(&v);
        dt_program_free(program);
        dt_catalogue_free(&catalogue);
        dt_well_free(well);
    }
}

/* A well of two strings, whose second is full already and has nothing to hang in but the conductor.
 */
static void types_in_a_well_of_two_strings(void **state)
{
    (void)state;
    dt_well *well;
    dt_catalogue catalogue;
    dt_program *program;
    dt_wish wish;
    dt_verdict v;
    char *problem = NULL;
    /* without fresh water, 3000 ft of this rock need no surface string */
    const edit edits[] = {{"<objective depth=\"11500 ft\"", "<objective depth=\"3000 ft\""},
                          {"<fresh_water deepest=\"1450 ft\" cover=\"50 ft\"/>", ""},
                          {"<pay ", "<!--"},
                          {"</well>", "--></well>"}};
    plan_file(DT_TESTS "/bare/alder-reach.xml", edits, sizeof edits / sizeof *edits, &well,
              &catalogue, &program);
    assert_int_equal(program->count, 2);
    for (int string = 1; string <= 2; ++string) {
        char text[64];
        snprintf(text, sizeof text, "type of string %d = full", string);
        if (dt_wish_read(program, DT_WISH_SET, text, &wish, &problem) != DT_OK)
            fail_msg("%s: %s", text, problem);
        assert_int_equal(dt_wish_judge(program, &wish, 1, &v), DT_OK);
        assert_true(v.possible);
        assert_int_equal(v.program->count, 2);
        assert_within(v.program->bill.steel_kg, program->bill.steel_kg, 1e-6);
        dt_verdict_free(&v);
    }
    assert_int_equal(
        dt_wish_read(program, DT_WISH_SET, "type of production = liner", &wish, &problem),
        DT_E_INPUT);
    assert_non_null(strstr(problem, "the production string runs to the surface"));
    free(problem);
    dt_program_free(program);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
}

/* Words that are no wish get a sentence that says what is wrong. */
static void wishes_that_cannot_be_read(void **state)
{
    (void)state;
    const struct {
        dt_wish_kind kind;
        const char *text, *words;
    } rows[] = {
        {DT_WISH_SET, "type of production = stuck", "write full or liner"},
        {DT_WISH_SET, "thread of production = WELD", "is no thread"},
        {DT_WISH_SET, "colour of production = red", "FIELD of STRING = VALUE"},
        {DT_WISH_SET, "shoe of cellar = 30 ft", "no \"cellar\""},
        {DT_WISH_SET, "shoe of surface = -30 ft", "is no"},
        {DT_WISH_SET, "shoe = 30 ft", "FIELD of STRING = VALUE"},
        {DT_WISH_SET, "type of string 1 = liner", "the conductor string runs to the surface"},
        {DT_WISH_SET, "type of string 2 = liner", "the surface string runs to the surface"},
        {DT_WISH_WITHOUT, "string 99", "string 1 to string 3"},
        {DT_WISH_WITHOUT, "string 4294967298", "string 1 to string 3"}};
    dt_well *well;
    dt_catalogue catalogue;
    dt_program *program;
    plan_file(DT_TESTS "/bare/alder-reach.xml", NULL, 0, &well, &catalogue, &program);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        dt_wish wish;
        char *problem = NULL;
        assert_int_equal(dt_wish_read(program, rows[i].kind, rows[i].text, &wish, &problem),
                         DT_E_INPUT);
        if (!problem || !strstr(problem, rows[i].words))
            fail_msg("%s: %s", rows[i].text, problem ? problem : "nothing said");
        free(problem);
    }
    dt_program_free(program);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shadow_of_a_straight_line),
        cmocka_unit_test(shadows_of_every_bound),
        cmocka_unit_test(reading_wishes),
        cmocka_unit_test(sets_on_small_wells),
        cmocka_unit_test(wishes_are_pins),
        cmocka_unit_test(switches_in_words),
        cmocka_unit_test(wishes_for_shipped_wells),
        cmocka_unit_test(types_in_a_well_of_two_strings),
        cmocka_unit_test(wishes_that_cannot_be_read),
        cmocka_unit_test(a_smaller_set_is_looked_for),
        cmocka_unit_test(collapse_gradient_forbids),
        cmocka_unit_test(every_pin_that_says_something_is_a_switch),
        cmocka_unit_test(wishes_for_a_tieback),
    };
    return cmocka_run_group_tests_name("why", tests, NULL, NULL);
}
