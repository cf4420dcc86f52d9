/* SPDX-License-Identifier: MIT */
#include "open_ask.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "catalogue.h"
#include "nest.h"

#define SAME_M 1e-6

static void add_code(open_answer *a, const char *code)
{
    for (size_t i = 0; i < a->code_count; ++i)
        if (strcmp(a->codes[i], code) == 0) return;
    if (a->code_count < OPEN_MOST_CODES) a->codes[a->code_count++] = code;
}

/** The stoppers of a notice: its deepest reasons, else itself. */
static void add_stoppers(open_answer *a, const dt_notice *notice)
{
    dt_notice_view view;
    dt_notice_show(notice, &view);
    if (view.gravity != DT_STOPPER) return; /* what a repair cured stands below it */
    for (size_t i = 0; i < view.reasons; ++i)
        add_stoppers(a, dt_notice_reason(notice, i));
    const bool sum = strcmp(view.code, "no-draft-closes") == 0; /* it only says that others stop */
    if (view.reasons == 0 && !sum) add_code(a, view.code);
}

static void judge(open_answer *a, const dt_program *program, size_t pinned)
{
    dt_totals totals;
    dt_program_totals(program, &totals);
    a->planned = true;
    a->strings = totals.strings;
    for (size_t i = 0; i < totals.notices; ++i) {
        dt_notice_view view;
        dt_notice_show(dt_program_notice(program, i), &view);
        if (view.string != DT_NO_INDEX && view.string >= totals.strings)
            add_code(a, "a notice of no string");
        a->repaired = a->repaired || strcmp(view.code, "draft-repaired") == 0;
        add_stoppers(a, dt_program_notice(program, i));
    }
    if (pinned > 0 && totals.strings != pinned) add_code(a, "other strings");
    a->holds = a->code_count == 0;
}

static void plan(open_answer *a, const dt_well *well, size_t pinned, const dt_catalogue *catalogue)
{
    dt_program *program = NULL;
    dt_refusal *refusal = NULL;
    switch (dt_plan(well, catalogue, &program, &refusal)) {
    case DT_OK:
        judge(a, program, pinned);
        break;
    case DT_E_NONE:
    case DT_E_INPUT:
        add_stoppers(a, dt_refusal_notice(refusal));
        if (a->code_count == 0) add_code(a, "refused");
        break;
    default:
        add_code(a, "an error of the planner");
        break;
    }
    dt_refusal_close(refusal);
    dt_program_free(program);
}

dt_well *open_read(const open_well *rows, open_question question)
{
    size_t size = 0;
    char *bytes = open_file_of(rows, question, &size);
    dt_report *report = NULL;
    dt_well *well = NULL;
    if (dt_report_open(rows->name, &report) != DT_OK) abort();
    if (dt_well_parse(bytes, size, report, &well) != DT_OK) well = NULL;
    dt_report_close(report);
    free(bytes);
    return well;
}

open_answer open_ask(const open_well *rows, open_question question, const dt_catalogue *catalogue)
{
    open_answer a = {0};
    const clock_t start = clock();
    dt_well *well = open_read(rows, question);
    if (well)
        plan(&a, well, question == OPEN_AS_DRILLED ? rows->string_count : 0, catalogue);
    else
        add_code(&a, "not a well file");
    a.seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
    dt_well_free(well);
    return a;
}

bool open_hole_drilled(const open_string *string, const dt_catalogue *catalogue)
{
    const double hole_m = string->hole_in * DT_M_PER_IN;
    for (size_t i = 0; i < catalogue->bit_count; ++i)
        if (fabs(catalogue->bits[i].diameter_m - hole_m) < SAME_M) return true;
    return false;
}

bool open_pair_allowed(const open_string *string, const dt_well *shelf,
                       const dt_catalogue *catalogue)
{
    const double hole_m = string->hole_in * DT_M_PER_IN, od_m = string->od_in * DT_M_PER_IN;
    for (size_t i = 0; i < catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &catalogue->pipes[i];
        if (fabs(pipe->od_m - od_m) > SAME_M) continue;
        const double largest_m = dt_nest_largest_od(pipe);
        if ((hole_m - largest_m) / 2 >= dt_nest_gap(shelf, od_m, largest_m) - SAME_M) return true;
    }
    return false;
}
