/* SPDX-License-Identifier: MIT */
/* What a reviewer reads: stoppers above all, review by how close it is, each assumption by itself;
 * lines that a terminal holds. */
#include <math.h>

#include "basis.h"
#include "check.h"
#include "drawings.h"
#include "edited_well.h"
#include "review_words.h"
#include "wrapped.h"

#define LAND DT_WELLS "/alder-reach.xml"
#define JOB  DT_TESTS "/jobs/example-e.xml"

typedef struct planned {
    dt_catalogue catalogue;
    dt_well *well;
    dt_program *program;
} planned;

static void plan(const char *path, planned *p)
{
    dt_refusal refusal = {0};
    *p = (planned){.well = shipped_parse(path)};
    assert_int_equal(dt_catalogue_load(&p->catalogue), DT_OK);
    dt_status status = dt_program_plan(p->well, &p->catalogue, &p->program, &refusal);
    dt_refusal_free(&refusal);
    assert_true(status == DT_OK || status == DT_E_NONE);
}

static void forget(planned *p)
{
    dt_program_free(p->program);
    dt_catalogue_free(&p->catalogue);
    dt_well_free(p->well);
}

/* ---- how close ---- */

static void closeness_is_what_there_is_over_what_is_needed(void **state)
{
    (void)state;
    dt_notice kick = {.code = DT_NOTICE_KICK_TOLERANCE_SHORT, .string = 0};
    assert_true(isnan(dt_notice_closeness(&kick)));
    dt_notice_figure(&kick, "tolerance", DT_KIND_VOLUME, 10);
    assert_true(isnan(dt_notice_closeness(&kick)));
    dt_notice_figure(&kick, "needed", DT_KIND_VOLUME, 50);
    assert_within(dt_notice_closeness(&kick), 0.2, 1e-12);
    /* an overbalance of 2500 where 2000 is the limit: as close as 2000 where 2500 is needed */
    dt_notices list = {0};
    dt_notice *pin = dt_notice_add(&list, DT_NOTICE_PIN_BREAKS_RULE, 0);
    dt_notice *rule = dt_notice_below(&list, pin, DT_NOTICE_RULE_SPREAD);
    dt_notice_figure(rule, "there", DT_KIND_PRESSURE, 2500);
    dt_notice_figure(rule, "needed", DT_KIND_PRESSURE, 2000);
    assert_within(dt_notice_closeness(pin), 0.8, 1e-12);
    dt_notices_free(&list);
    const dt_notice plain = {.code = DT_NOTICE_STRING_FLOATS, .string = 0};
    assert_true(isnan(dt_notice_closeness(&plain)));
}

/** 0: its figures tell; 1: of a string; 2: of the well, with figures, reasons or a line; 3: names
 * what is not stated. */
static int group_of(const dt_notice *n)
{
    if (!isnan(dt_notice_closeness(n))) return 0;
    if (n->string != DT_NO_STRING) return 1;
    return n->figure_count || n->because_count || n->line ? 2 : 3;
}

static void check_order(const dt_program *program)
{
    dt_review review;
    size_t reviews = 0;
    assert_int_equal(dt_review_make(program, &review), DT_OK);
    for (size_t i = 0; i < program->notices.count; ++i)
        reviews += dt_notice_gravity(program->notices.items[i].code) == DT_REVIEW;
    assert_int_equal(review.count, reviews);
    for (size_t i = 0; i < review.count; ++i) {
        const dt_notice *now = &program->notices.items[review.order[i]];
        assert_int_equal(dt_notice_gravity(now->code), DT_REVIEW);
        if (i == 0) continue;
        const dt_notice *before = &program->notices.items[review.order[i - 1]];
        const int group = group_of(now);
        assert_true(group_of(before) <= group);
        if (group_of(before) < group) continue;
        const bool raised = review.order[i - 1] < review.order[i];
        assert_true(group > 0 ? raised : dt_notice_closeness(before) <= dt_notice_closeness(now));
    }
    dt_review_free(&review);
}

/* ---- what was assumed ---- */

/** Each part of each row has words; a notice that tells several values has a row for each. */
static void check_assumed(const dt_program *program, dt_display display)
{
    dt_assumptions all;
    size_t values = 0;
    assert_int_equal(dt_assumptions_make(program, display, &all), DT_OK);
    for (size_t i = 0; i < program->notices.count; ++i) {
        const dt_notice *n = &program->notices.items[i];
        if (dt_notice_gravity(n->code) == DT_ASSUMED)
            values += n->because_count ? n->because_count : 1;
    }
    assert_int_equal(all.count, values);
    for (size_t i = 0; i < all.count; ++i) {
        const dt_assumed *a = &all.items[i];
        if (!*a->what || !*a->taken || !*a->from)
            fail_msg("\"%s\", \"%s\", \"%s\"", a->what, a->taken, a->from);
    }
    dt_assumptions_free(&all);
}

/** A value has the file of the basis that says it, and that file's source. */
static void a_value_has_its_origin(void **state)
{
    (void)state;
    planned p = {.well = shipped_parse(LAND)};
    dt_basis ours = *dt_basis_of(p.well);
    dt_refusal refusal = {0};
    dt_assumptions all;
    bool seen = false;
    ours.layers[ours.values[DT_CUSTOM_STANDOFF].layer].name = "ours";
    ours.values[DT_CUSTOM_STANDOFF].source = "our rule 7";
    p.well->basis = &ours;
    assert_int_equal(dt_catalogue_load(&p.catalogue), DT_OK);
    assert_int_equal(dt_program_plan(p.well, &p.catalogue, &p.program, &refusal), DT_OK);
    assert_int_equal(dt_assumptions_make(p.program, DT_DISPLAY_FIELD, &all), DT_OK);
    for (size_t i = 0; i < all.count; ++i) {
        if (strcmp(all.items[i].what, "standoff") != 0) continue;
        seen = true;
        assert_string_equal(all.items[i].taken, dt_custom_text(p.well, DT_CUSTOM_STANDOFF));
        assert_string_equal(all.items[i].from, "ours: our rule 7");
    }
    assert_true(seen);
    dt_assumptions_free(&all);
    dt_program_free(p.program);
    p.program = NULL;
    forget(&p);
}

/* ---- on the terminal ---- */

/** Columns of the longest line from one place of a text to another. */
static size_t widest(const char *from, const char *to)
{
    size_t most = 0;
    for (const char *line = from; line && line < to; ++line) {
        const size_t length = strcspn(line, "\n");
        most = length > most ? length : most;
        line += length;
    }
    return most;
}

static const char *must_find(const char *text, const char *words)
{
    const char *at = strstr(text, words);
    if (!at) fail_msg("\"%s\" is not there", words);
    return at;
}

/** Review and reasons in lines of 100 columns; ten of review in short, and how many are left. */
static void check_table(const dt_program *program, dt_display display)
{
    dt_text brief = {0}, full = {0};
    assert_int_equal(dt_write_program_table(program, display, &brief), DT_OK);
    assert_int_equal(dt_write_program_full_table(program, display, &full), DT_OK);
    const char *review = must_find(brief.bytes, "\nReview\n") + 8;
    const char *end = must_find(review, "\nWhy each"), *reasons = must_find(end, "\nWhat governs");
    const char *more = strstr(review, " more for review: --all lists them");
    size_t lines = 0;
    for (const char *c = review; c < end; ++c)
        lines += *c == '\n';
    assert_true(lines <= (more ? 11u : 10u));
    assert_true(widest(review, reasons) <= DT_LINE_COLUMNS);
    must_find(brief.bytes, "\nAssumed: ");
    assert_null(strstr(full.bytes, "--all"));
    must_find(full.bytes, "\nAssumed\n");
    assert_true(widest(full.bytes, full.bytes + full.size) <= 130);
    for (size_t i = 0; i < program->notices.count; ++i) {
        char code[64];
        const dt_notice *n = &program->notices.items[i];
        if (dt_notice_gravity(n->code) == DT_ASSUMED) continue;
        snprintf(code, sizeof code, "[%s]", dt_notice_code_text(n->code));
        must_find(full.bytes, code);
    }
    assert_null(strstr(brief.bytes, " \n"));
    assert_null(strstr(full.bytes, " \n"));
    dt_text_free(&brief);
    dt_text_free(&full);
}

static void shipped_wells_are_read_in_order(void **state)
{
    (void)state;
    static shipped wells[MOST_SHIPPED];
    const size_t count = shipped_wells(wells);
    size_t plans = 0;
    for (size_t i = 0; i < count; ++i) {
        planned p;
        plan(wells[i].path, &p);
        for (int d = 0; p.program && d < 2; ++d) {
            const dt_display display = d ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD;
            check_order(p.program);
            check_assumed(p.program, display);
            check_table(p.program, display);
        }
        plans += p.program != NULL;
        forget(&p);
    }
    assert_true(plans >= 5);
}

/* Pinned pipe that fails (tests/program/test_warnings.c): the pins stand in lines 23 and 24. */
static void stoppers_stand_above_the_table(void **state)
{
    (void)state;
    planned p;
    dt_text text = {0};
    plan(JOB, &p);
    assert_non_null(p.program);
    assert_false(dt_program_runnable(p.program));
    assert_int_equal(dt_program_stoppers(p.program), 2);
    assert_int_equal(dt_write_program_table(p.program, DT_DISPLAY_FIELD, &text), DT_OK);
    const char *head = must_find(text.bytes, "\nNOT RUNNABLE: 2 stoppers to cure\n");
    const char *table = must_find(text.bytes, "\nstring ");
    assert_true(head < table);
    const char *first = must_find(head, "  surface: the pinned pipe fails collapse");
    const char *second = must_find(head, "  production: the pinned pipe fails collapse");
    assert_true(first < second && second < table);
    assert_true(must_find(head, "file line 23)") < second);
    assert_true(must_find(head, "file line 24)") < table);
    dt_text_free(&text);
    forget(&p);
    plan(LAND, &p);
    assert_true(dt_program_runnable(p.program));
    assert_int_equal(dt_write_program_table(p.program, DT_DISPLAY_FIELD, &text), DT_OK);
    assert_null(strstr(text.bytes, "RUNNABLE"));
    dt_text_free(&text);
    forget(&p);
}

/* ---- lines ---- */

/** What is said after a mark, wrapped. */
static void wraps(const char *text, int indent, const char *want)
{
    sentence s = {0};
    char *bytes = NULL;
    say(&s, "before\n");
    const size_t start = s.length;
    say(&s, "%s", text);
    dt_wrap(&s, start, indent);
    assert_int_equal(sentence_take(&s, &bytes), DT_OK);
    assert_string_equal(bytes + start, want);
    free(bytes);
}

static void lines_break_at_blanks(void **state)
{
    (void)state;
    char ninety[91] = "", line[256], want[256];
    memset(ninety, 'x', 90);
    wraps("", 2, "");
    wraps("  short", 2, "  short");
    wraps("two\nlines", 2, "two lines");
    snprintf(line, sizeof line, "%s words enough", ninety);
    snprintf(want, sizeof want, "%s words\n    enough", ninety);
    wraps(line, 4, want);
    /* a number stays with its unit */
    snprintf(line, sizeof line, "%s at 120 psi", ninety);
    snprintf(want, sizeof want, "%s at\n    120 psi", ninety);
    wraps(line, 4, want);
    /* letters of two bytes are one column wide: 90 + 1 + 9 fit */
    snprintf(line, sizeof line, "%s %s", ninety,
             "\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4"
             "\xC3\xA4\xC3\xA4\xC3\xA4");
    wraps(line, 4, line);
    /* a word longer than a line is broken, and no letter with it */
    snprintf(line, sizeof line, "%sxxxxxxxxx\xC3\xA4y", ninety);
    snprintf(want, sizeof want, "%sxxxxxxxxx\xC3\xA4\n  y", ninety);
    wraps(line, 2, want);
}

static void cells_stand_below_each_other(void **state)
{
    (void)state;
    static const int widths[] = {6, 8, 4, 0};
    static const char *const cells[] = {"one", "two words", ""};
    sentence s = {0};
    char *bytes = NULL;
    dt_say_cells(&s, cells, widths);
    assert_int_equal(sentence_take(&s, &bytes), DT_OK);
    assert_string_equal(bytes, "one     two\n        words\n");
    free(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(closeness_is_what_there_is_over_what_is_needed),
        cmocka_unit_test(a_value_has_its_origin),
        cmocka_unit_test(shipped_wells_are_read_in_order),
        cmocka_unit_test(stoppers_stand_above_the_table),
        cmocka_unit_test(lines_break_at_blanks),
        cmocka_unit_test(cells_stand_below_each_other),
    };
    return cmocka_run_group_tests_name("review", tests, NULL, NULL);
}
