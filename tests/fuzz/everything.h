/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_FUZZ_EVERYTHING_H
#define DRAWTUBE_TESTS_FUZZ_EVERYTHING_H

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "drawings.h"
#include "told.h"

/*
 * All that can be made of a well that was read: its program, every drawing and table of it,
 * reasons, wishes, odds and options. What must hold of any valid well is checked on the way, and
 * a breach aborts, which is what the fuzzer looks for.
 *
 * Not here: dt_draw_options() and the report around it, which lay out a graph in a forked child
 * (libFuzzer does not follow children, and a fork an input is slow); the comparison's search runs
 * with a short stock only, since the whole catalogue may take a minute.
 */

/** What to ask beyond the plan itself; the slow questions are asked of some inputs only. */
typedef struct questions {
    bool why, wish, odds, compare;
} questions;

#define MUST(condition)                                                                            \
    do {                                                                                           \
        if (!(condition)) {                                                                        \
            fprintf(stderr, "%s:%d: not so: %s\n", __FILE__, __LINE__, #condition);                \
            abort();                                                                               \
        }                                                                                          \
    } while (0)

static inline void written(dt_status status, dt_text *text)
{
    MUST(status == DT_OK && text->bytes && strlen(text->bytes) == text->size);
    dt_text_free(text);
    *text = (dt_text){0};
}

static inline void write_all(const dt_program *p)
{
    static dt_status (*const writers[])(const dt_program *, dt_display, dt_text *) = {
        dt_write_program_table, dt_draw_window, dt_write_program_full_table};
    static dt_status (*const files[])(const dt_program *, dt_text *) = {
        dt_write_program_json, dt_write_program_csv, dt_write_witsml_geometry};
    dt_text text = {0};
    for (size_t i = 0; i < sizeof writers / sizeof *writers; ++i)
        written(writers[i](p, i % 2 ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD, &text), &text);
    for (size_t i = 0; i < sizeof files / sizeof *files; ++i)
        written(files[i](p, &text), &text);
    for (int form = 0; form < DT_FORM_COUNT; ++form)
        written(dt_draw_schematic_form(p, (dt_form)form, DT_DISPLAY_METRIC, &text), &text);
    for (size_t i = 0; i < dt_program_strings(p); ++i) { /* tie-backs, too */
        written(dt_draw_string_sheet(p, i, DT_DISPLAY_METRIC, &text), &text);
        written(dt_draw_strength(p, i, DT_DISPLAY_FIELD, &text), &text);
    }
    dt_status drawn = dt_draw_course(p, DT_DISPLAY_FIELD, &text);
    if (drawn == DT_E_NONE)
        MUST(!text.bytes);
    else
        written(drawn, &text);
    dt_status status = dt_write_witsml_trajectory(p, &text);
    MUST(status == DT_OK || status == DT_E_NONE);
    dt_text_free(&text);
}

/** What no program may break, whatever the well. */
static inline void check_program(const dt_program *p)
{
    MUST(p->count > 0);
    for (size_t i = 0; i < p->count; ++i) {
        const dt_program_string *s = &p->items[i];
        MUST(s->top_md_m >= -1e-6 && s->shoe_md_m > s->top_md_m);
        MUST(s->shoe_md_m >= s->shoe_tvd_m - 1e-6);
        MUST(s->string->section_count > 0 && s->steel_kg > 0);
        MUST(s->largest_od_m >= s->od_m);
        if (i == 0) continue;
        MUST(s->shoe_tvd_m > s[-1].shoe_tvd_m);
        MUST(s->od_m < s[-1].od_m);
    }
}

static inline void ask_why(const dt_program *p)
{
    dt_why why = {0};
    dt_text text = {0};
    MUST(dt_why_explain(p, DT_NO_INDEX, &why) == DT_OK);
    written(dt_write_why_json(p, &why, &text), &text);
    written(dt_write_why_text(p, &why, DT_DISPLAY_METRIC, &text), &text);
    dt_why_free(&why);
}

static inline void ask_wish(const dt_program *p)
{
    dt_wish wish;
    dt_verdict verdict = {0};
    dt_text text = {0};
    char *problem = NULL;
    dt_status status = dt_wish_read(p, DT_WISH_WITHOUT, "string 3", &wish, &problem);
    MUST(status == DT_OK || (status == DT_E_INPUT && problem));
    free(problem);
    if (status != DT_OK) return;
    MUST(dt_wish_judge(p, &wish, 1, &verdict) == DT_OK);
    written(dt_write_verdict_json(p, &verdict, "without string 3", &text), &text);
    written(dt_write_verdict_text(p, &verdict, "without string 3", DT_DISPLAY_FIELD, &text), &text);
    dt_verdict_free(&verdict);
}

static inline void ask_odds(const dt_program *p)
{
    const dt_odds_options options = {.samples = 4, .seed = 1, .threads = 1};
    dt_odds *odds = NULL;
    dt_text text = {0};
    dt_status status = dt_odds_run(p, &options, &odds);
    MUST(status == DT_OK || status == DT_E_NONE);
    if (status == DT_OK) {
        written(dt_write_odds_table(p, odds, DT_DISPLAY_FIELD, &text), &text);
        written(dt_write_odds_json(p, odds, &text), &text);
        written(dt_draw_odds(p, odds, DT_DISPLAY_METRIC, &text), &text);
    }
    dt_odds_free(odds);
}

/** The options with a short stock: a pipe or two of each size. */
static inline void ask_compare(const dt_well *well)
{
    static const char stock[] = "od_in,weight_lbft,grade\n20,,K55\n13.375,68,K55\n9.625,47,L80\n"
                                "9.625,53.5,P110\n7,29,P110\n5,18,P110\n";
    dt_report report = {0};
    dt_catalogue catalogue = {0};
    dt_comparison comparison = {0};
    dt_refusal refusal = {0};
    dt_text text = {0};
    MUST(dt_report_init(&report, "stock") == DT_OK && dt_catalogue_load(&catalogue) == DT_OK);
    MUST(dt_catalogue_restrict(&catalogue, stock, sizeof stock - 1, &report) == DT_OK);
    dt_status status = dt_comparison_make(well, &catalogue, &comparison, &refusal);
    MUST(status == DT_OK ||
         ((status == DT_E_NONE || status == DT_E_INPUT) && told_refusal(&refusal)));
    if (status == DT_OK) {
        written(dt_write_comparison_json(&comparison, &text), &text);
        written(dt_write_comparison_table(&comparison, DT_DISPLAY_METRIC, &text), &text);
        written(dt_write_comparison_page(&comparison, DT_DISPLAY_FIELD, &text), &text);
        written(dt_draw_comparison(&comparison, DT_DISPLAY_FIELD, &text), &text);
        const dt_status drawn = dt_draw_certainty(&comparison, DT_DISPLAY_FIELD, &text);
        if (drawn != DT_E_NONE) written(drawn, &text);
    }
    dt_comparison_free(&comparison);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_report_free(&report);
}

static inline void plan_and_ask(const dt_well *well, questions ask)
{
    dt_catalogue catalogue = {0};
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    MUST(dt_catalogue_load(&catalogue) == DT_OK);
    dt_status status = dt_program_plan(well, &catalogue, &program, &refusal);
    MUST(status == DT_OK ||
         ((status == DT_E_NONE || status == DT_E_INPUT) && told_refusal(&refusal)));
    if (status == DT_OK) {
        check_program(program);
        write_all(program);
        if (ask.why) ask_why(program);
        if (ask.wish) ask_wish(program);
        if (ask.odds) ask_odds(program);
    }
    if (ask.compare) ask_compare(well);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
}

/** Reads bytes as a well; a refusal must bring a reason. NULL when refused. */
static inline dt_well *read_well(const char *bytes, size_t size)
{
    dt_report report = {0};
    dt_well *well = NULL;
    MUST(dt_report_init(&report, "fuzz") == DT_OK);
    dt_status status = dt_well_parse(bytes, size, &report, &well);
    MUST(status == DT_OK || (status == DT_E_INPUT && report.errors > 0 && !well));
    for (size_t i = 0; i < report.count; ++i) {
        char *line = NULL;
        MUST(dt_finding_line(&report, i, &line) == DT_OK);
        for (const char *c = line; *c; ++c)
            MUST((unsigned char)*c >= ' ' && *c != 0x7f); /* nothing a terminal obeys */
        free(line);
    }
    dt_report_free(&report);
    return well;
}

#endif
