/* SPDX-License-Identifier: MIT */
/*
 * Every allocation of ours and of jansson fails once, in turn, over reading, planning and
 * writing: the answer is DT_E_MEMORY, outputs are untouched, and nothing leaks (the leak checker
 * looks at exit). tests/failing/ has the memory that fails; script_faults.sh does the same with
 * the whole command.
 */
#include <stdio.h>
#include <stdlib.h>

#include "check.h"
#include "drawings.h"
#include "failing_memory.h"
#include "option_parts.h"
#include "shipped_wells.h"

typedef dt_status (*writer)(const dt_program *, dt_display, dt_text *);

static dt_status write_json(const dt_program *program, dt_display display, dt_text *out)
{
    (void)display;
    return dt_write_program_json(program, out);
}

static dt_status draw_column(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_schematic_form(program, DT_FORM_COLUMN, display, out);
}

static dt_status write_last_sheet(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_string_sheet(program, program->count - 1, display, out);
}

static dt_status draw_production(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_strength(program, program->count - 1, display, out);
}

static dt_status write_csv(const dt_program *program, dt_display display, dt_text *out)
{
    (void)display;
    return dt_write_program_csv(program, out);
}

static dt_status write_geometry(const dt_program *program, dt_display display, dt_text *out)
{
    (void)display;
    return dt_write_witsml_geometry(program, out);
}

static dt_status draw_thumbnail(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_schematic_form(program, DT_FORM_THUMBNAIL, display, out);
}

static dt_status write_why(const dt_program *program, dt_display display, dt_text *out)
{
    dt_why why = {0};
    dt_status status = dt_why_explain(program, DT_NO_INDEX, &why);
    if (status == DT_OK && display == DT_DISPLAY_METRIC)
        status = dt_write_why_text(program, &why, display, out);
    else if (status == DT_OK)
        status = dt_write_why_json(program, &why, out);
    dt_why_free(&why);
    return status;
}

static const writer writers[] = {
    write_json,     dt_write_program_table, dt_draw_schematic, draw_column,
    draw_thumbnail, dt_draw_window,         draw_production,   write_last_sheet,
    write_csv,      write_geometry,         write_why,         dt_write_program_full_table};

/** What a plan is made of; freed together. */
typedef struct chain {
    dt_report report;
    dt_well *well;
    dt_catalogue catalogue;
    dt_program *program;
    dt_refusal refusal;
} chain;

static dt_status read_and_plan(chain *c, const char *bytes, size_t size, const char *path)
{
    *c = (chain){0};
    dt_status status = dt_report_init(&c->report, path);
    if (status == DT_OK) status = dt_well_parse(bytes, size, &c->report, &c->well);
    if (status == DT_OK) status = dt_catalogue_load(&c->catalogue);
    if (status == DT_OK) status = dt_program_plan(c->well, &c->catalogue, &c->program, &c->refusal);
    return status;
}

static void free_chain(chain *c)
{
    dt_program_free(c->program);
    dt_refusal_free(&c->refusal);
    dt_catalogue_free(&c->catalogue);
    dt_well_free(c->well);
    dt_report_free(&c->report);
}

static size_t reading_and_planning_fail(const char *bytes, size_t size, const char *path,
                                        dt_status good)
{
    chain c;
    memory_fails_at(0);
    assert_int_equal(read_and_plan(&c, bytes, size, path), good);
    free_chain(&c);
    size_t total = memory_calls();
    assert_true(total > 5);
    /* each of the reader and of the last stage; one in a stride between, where a plan has many */
    for (size_t n = 1; n <= total; n += n < 200 || n + 20 > total ? 1 : 1 + total / 40) {
        memory_fails_at(n);
        dt_status status = read_and_plan(&c, bytes, size, path);
        free_chain(&c);
        if (status != DT_E_MEMORY)
            fail_msg("%s: allocation %zu of %zu failed, status %d", path, n, total, (int)status);
    }
    memory_fails_at(0);
    return total;
}

/** Every allocation where there are few; of a long writer one in a stride, and each of the last. */
static size_t next_step(size_t n, size_t total)
{
    return n + 50 > total ? 1 : 1 + total / 150;
}

/** The writers read a finished program, so it is planned once. */
static size_t writing_fails(const char *bytes, size_t size, const char *path)
{
    chain c;
    size_t all = 0;
    memory_fails_at(0);
    assert_int_equal(read_and_plan(&c, bytes, size, path), DT_OK);
    for (size_t i = 0; i < sizeof writers / sizeof *writers; ++i) {
        dt_text text = {0};
        memory_fails_at(0);
        assert_int_equal(writers[i](c.program, DT_DISPLAY_FIELD, &text), DT_OK);
        dt_text_free(&text);
        size_t total = memory_calls();
        assert_true(total > 0);
        for (size_t n = 1; n <= total; n += next_step(n, total)) {
            text = (dt_text){0};
            memory_fails_at(n);
            dt_status status = writers[i](c.program, DT_DISPLAY_FIELD, &text);
            if (status != DT_E_MEMORY || text.bytes)
                fail_msg("%s, writer %zu: allocation %zu of %zu failed, status %d", path, i, n,
                         total, (int)status);
        }
        all += total;
    }
    memory_fails_at(0);
    free_chain(&c);
    return all;
}

static void each_allocation_fails_once(const char *name, dt_status good)
{
    char path[512];
    size_t size = 0;
    snprintf(path, sizeof path, "%s/%s", DT_WELLS, name);
    char *bytes = shipped_read(path, &size);
    size_t total = reading_and_planning_fail(bytes, size, path, good);
    if (good == DT_OK) total += writing_fails(bytes, size, path);
    printf("%s: %zu allocations\n", name, total);
    free(bytes);
}

static void a_plan(void **state)
{
    (void)state;
    each_allocation_fails_once("mizzenlow-shelf.xml", DT_OK);
}

static void a_plan_of_a_deviated_well(void **state)
{
    (void)state;
    each_allocation_fails_once("hollinfold.xml", DT_OK);
}

static void a_refusal(void **state)
{
    (void)state;
    each_allocation_fails_once("narrowgate.xml", DT_E_NONE);
}

static dt_status search_small(dt_catalogue *catalogue)
{
    coded_well c;
    part_well(&c, 1);
    dt_options options;
    dt_refusal refusal;
    dt_status status = dt_options_search(&c.well, catalogue, &options, &refusal);
    if (status == DT_OK) dt_options_free(&options);
    dt_refusal_free(&refusal);
    return status;
}

static void a_search_for_options(void **state)
{
    (void)state;
    dt_catalogue catalogue;
    memory_fails_at(0);
    part_catalogue(&catalogue, SMALLER_STOCK);
    memory_fails_at(0);
    assert_int_equal(search_small(&catalogue), DT_OK);
    size_t total = memory_calls();
    assert_true(total > 5);
    for (size_t n = 1; n <= total; ++n) {
        memory_fails_at(n);
        dt_status status = search_small(&catalogue);
        if (status != DT_E_MEMORY)
            fail_msg("allocation %zu of %zu failed, status %d", n, total, (int)status);
    }
    memory_fails_at(0);
    dt_catalogue_free(&catalogue);
    printf("search: %zu allocations\n", total);
}

static dt_status compare_small(dt_catalogue *catalogue)
{
    coded_well c;
    part_well(&c, 1);
    dt_comparison comparison;
    dt_refusal refusal;
    dt_status status = dt_comparison_make(&c.well, catalogue, &comparison, &refusal);
    dt_refusal_free(&refusal);
    if (status != DT_OK) return status;
    dt_text text = {0};
    status = dt_write_comparison_table(&comparison, DT_DISPLAY_FIELD, &text);
    dt_text_free(&text);
    text = (dt_text){0};
    if (status == DT_OK) status = dt_write_comparison_json(&comparison, &text);
    dt_text_free(&text);
    text = (dt_text){0};
    if (status == DT_OK) status = dt_write_comparison_page(&comparison, DT_DISPLAY_FIELD, &text);
    dt_text_free(&text);
    dt_comparison_free(&comparison);
    return status;
}

/** The whole comparison with its writers: a sample of its allocations. */
static void a_comparison(void **state)
{
    (void)state;
    dt_catalogue catalogue;
    memory_fails_at(0);
    part_catalogue(&catalogue, SMALLER_STOCK);
    memory_fails_at(0);
    assert_int_equal(compare_small(&catalogue), DT_OK);
    size_t total = memory_calls();
    assert_true(total > 5);
    for (size_t n = 1; n <= total; n += 1 + total / 60) {
        memory_fails_at(n);
        dt_status status = compare_small(&catalogue);
        if (status != DT_E_MEMORY)
            fail_msg("allocation %zu of %zu failed, status %d", n, total, (int)status);
    }
    memory_fails_at(0);
    dt_catalogue_free(&catalogue);
    printf("comparison: %zu allocations\n", total);
}

/** Why the program is so, and a wish that is judged. */
typedef struct asked {
    dt_why why;
    dt_verdict verdict;
} asked;

static void asked_free(asked *a)
{
    dt_verdict_free(&a->verdict);
    dt_why_free(&a->why);
}

static dt_status ask(const dt_program *program, asked *a)
{
    dt_wish wish;
    char *problem = NULL;
    *a = (asked){0};
    dt_status status = dt_why_explain(program, DT_NO_INDEX, &a->why);
    if (status == DT_OK)
        status = dt_wish_read(program, DT_WISH_WITHOUT, "string 3", &wish, &problem);
    if (status == DT_OK) status = dt_wish_judge(program, &wish, 1, &a->verdict);
    free(problem);
    return status;
}

static dt_status write_answer(const dt_program *program, const asked *a)
{
    dt_text text = {0};
    dt_status status = dt_write_verdict_text(program, &a->verdict, "x", DT_DISPLAY_FIELD, &text);
    dt_text_free(&text);
    text = (dt_text){0};
    if (status == DT_OK) status = dt_write_verdict_json(program, &a->verdict, "x", &text);
    dt_text_free(&text);
    return status;
}

static dt_status write_odds(const dt_program *program, const dt_odds *odds)
{
    dt_text text = {0};
    dt_status status = dt_write_odds_table(program, odds, DT_DISPLAY_FIELD, &text);
    dt_text_free(&text);
    text = (dt_text){0};
    if (status == DT_OK) status = dt_write_odds_json(program, odds, &text);
    dt_text_free(&text);
    text = (dt_text){0};
    if (status == DT_OK) status = dt_draw_odds(program, odds, DT_DISPLAY_FIELD, &text);
    dt_text_free(&text);
    return status;
}

/** What is asked of a planned well, and how it is told; told once it was made. */
typedef struct question {
    const dt_program *program;
    asked answer;
    dt_odds *odds;
} question;

static dt_status making_an_answer(question *q)
{
    asked a;
    const dt_status status = ask(q->program, &a);
    asked_free(&a);
    return status;
}

static dt_status telling_an_answer(question *q)
{
    return write_answer(q->program, &q->answer);
}

static dt_status run_odds(const dt_program *program, dt_odds **odds)
{
    const dt_odds_options options = {.samples = 20, .seed = 1, .threads = 1};
    return dt_odds_run(program, &options, odds);
}

static dt_status making_odds(question *q)
{
    dt_odds *odds = NULL;
    const dt_status status = run_odds(q->program, &odds);
    dt_odds_free(odds);
    return status;
}

static dt_status telling_odds(question *q)
{
    return write_odds(q->program, q->odds);
}

/** A forbidden wish takes many plans: of what takes long, one allocation in a stride and the first
 * and last few; what is told of it is told in no time, and fails at many more. */
static void question_fails(question *q, dt_status (*step)(question *), const char *name,
                           size_t ends, size_t strides)
{
    memory_fails_at(0);
    assert_int_equal(step(q), DT_OK);
    const size_t total = memory_calls();
    assert_true(total > 5);
    for (size_t n = 1; n <= total; n += n < 20 || n + ends > total ? 1 : 1 + total / strides) {
        memory_fails_at(n);
        if (step(q) != DT_E_MEMORY)
            fail_msg("%s: allocation %zu of %zu failed and nobody said so", name, n, total);
    }
    memory_fails_at(0);
    printf("%s: %zu allocations\n", name, total);
}

static void questions_of_a_plan(void **state)
{
    (void)state;
    size_t size = 0;
    char *bytes = shipped_read(DT_WELLS "/brackwater-deep.xml", &size);
    chain c;
    memory_fails_at(0);
    assert_int_equal(read_and_plan(&c, bytes, size, "x"), DT_OK);
    question q = {.program = c.program};
    assert_int_equal(ask(q.program, &q.answer), DT_OK);
    assert_int_equal(run_odds(q.program, &q.odds), DT_OK);
    question_fails(&q, making_an_answer, "a wish", 3, 30);
    question_fails(&q, telling_an_answer, "a verdict", 20, 150);
    question_fails(&q, making_odds, "odds", 3, 30);
    question_fails(&q, telling_odds, "odds told", 20, 150);
    asked_free(&q.answer);
    dt_odds_free(q.odds);
    free_chain(&c);
    free(bytes);
}

/** What a program that links the library calls, from the file to a rating. */
static dt_status handles(const char *bytes, size_t size, size_t from)
{
    dt_report *report = NULL;
    dt_well *well = NULL;
    dt_catalogue *catalogue = NULL;
    dt_program *program = NULL;
    dt_refusal *refusal = NULL;
    dt_why *why = NULL;
    dt_verdict *verdict = NULL;
    dt_rated *rated = NULL;
    dt_pipe_view pipe;
    dt_text text = {0};
    const dt_wish_words wish = {DT_WISH_WITHOUT, "string 2"};
    memory_fails_at(from);
    dt_status status = dt_report_open("x", &report);
    if (status == DT_OK) status = dt_well_parse(bytes, size, report, &well);
    if (status == DT_OK) status = dt_catalogue_open(&catalogue);
    if (status == DT_OK) status = dt_plan(well, catalogue, &program, &refusal);
    if (status == DT_OK) status = dt_why_open(program, DT_NO_INDEX, &why);
    if (status == DT_OK) status = dt_verdict_open(program, &wish, 1, &verdict, NULL);
    if (status == DT_OK) status = dt_catalogue_pipe(catalogue, 0, &pipe);
    if (status == DT_OK) status = dt_rated_open(catalogue, &pipe, 0, NULL, &rated);
    if (status == DT_OK) status = dt_write_rated_table(rated, &text);
    if (status != DT_OK) assert_null(text.bytes);
    dt_text_free(&text);
    dt_rated_close(rated);
    dt_verdict_close(verdict);
    dt_why_close(why);
    dt_refusal_close(refusal);
    dt_program_free(program);
    dt_catalogue_close(catalogue);
    dt_well_free(well);
    dt_report_close(report);
    return status;
}

static void handles_of_the_library(void **state)
{
    (void)state;
    size_t size = 0;
    char *bytes = shipped_read(DT_WELLS "/alder-reach.xml", &size);
    assert_int_equal(handles(bytes, size, 0), DT_OK);
    const size_t total = memory_calls();
    assert_true(total > 5);
    for (size_t n = 1; n <= total; n += n < 40 || n + 20 > total ? 1 : 1 + total / 150)
        if (handles(bytes, size, n) != DT_E_MEMORY)
            fail_msg("allocation %zu of %zu failed and nobody said so", n, total);
    memory_fails_at(0);
    printf("handles: %zu allocations\n", total);
    free(bytes);
}

/*
 * The report is long, and lays out the option graph in a child each time: every 181st allocation,
 * each of another remainder. A failure inside the child costs the option graph only.
 */
static void a_report(void **state)
{
    (void)state;
    char path[512];
    size_t size = 0;
    snprintf(path, sizeof path, "%s/%s", DT_WELLS, "mizzenlow-shelf.xml");
    memory_fails_at(0);
    char *bytes = shipped_read(path, &size);
    dt_well *well = shipped_parse(path);
    dt_catalogue catalogue;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    assert_int_equal(dt_program_plan(well, &catalogue, &program, &refusal), DT_OK);
    const dt_source source = {path, bytes, size};
    dt_text text = {0};
    memory_fails_at(0);
    assert_int_equal(dt_write_report(program, NULL, &source, NULL, DT_DISPLAY_FIELD, &text), DT_OK);
    dt_text_free(&text);
    size_t total = memory_calls(), failed = 0;
    assert_true(total > 5);
    for (size_t n = 1; n <= total; n += 181) {
        text = (dt_text){0};
        memory_fails_at(n);
        dt_status status = dt_write_report(program, NULL, &source, NULL, DT_DISPLAY_FIELD, &text);
        bool reached = memory_calls() >= n; /* by this process; else by the child alone */
        memory_fails_at(0);
        if (reached && status != DT_E_MEMORY) fail_msg("allocation %zu: %d", n, (int)status);
        if (status == DT_E_MEMORY) assert_null(text.bytes);
        failed += status == DT_E_MEMORY;
        dt_text_free(&text);
    }
    assert_true(failed > 20);
    printf("report: %zu allocations, %zu failed\n", total, failed);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
    free(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_search_for_options),      cmocka_unit_test(a_comparison),
        cmocka_unit_test(questions_of_a_plan),       cmocka_unit_test(a_plan),
        cmocka_unit_test(a_plan_of_a_deviated_well), cmocka_unit_test(a_refusal),
        cmocka_unit_test(handles_of_the_library),    cmocka_unit_test(a_report),
    };
    memory_of_json();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
