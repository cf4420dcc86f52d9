/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_PLANNED_TEXT_H
#define DRAWTUBE_TESTS_PLANNED_TEXT_H

#include "check.h"
#include "choices.h"

/** Everything a text leads to. Refusals and plans that do not exist are outcomes too. */
static inline choices_made choices_of_text(const dt_catalogue *catalogue, const char *text,
                                           size_t size, bool with_options)
{
    choices_made c = {0};
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, "well"), DT_OK);
    const dt_status read = dt_well_parse(text, size, &report, &well);
    choice_count(&c, "reader", "status", read);
    for (size_t i = 0; i < report.count; ++i) {
        choice_count(&c, "reader", "finding", report.items[i].id);
        if (read != DT_OK) choice_word(&c, "reader", "finding", report.items[i].text);
    }
    dt_report_free(&report);
    if (read != DT_OK) return c;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    const dt_status planned = dt_program_plan(well, catalogue, &program, &refusal);
    choice_count(&c, "plan", "status", planned);
    if (planned == DT_OK) choices_of_program(&c, program);
    dt_refusal_free(&refusal);
    dt_program_free(program);
    if (with_options) {
        dt_comparison compared;
        refusal = (dt_refusal){0};
        const dt_status made = dt_comparison_make(well, catalogue, &compared, &refusal);
        choice_count(&c, "compare", "status", made);
        if (made == DT_OK) {
            choices_of_comparison(&c, &compared);
            dt_comparison_free(&compared);
        }
        dt_refusal_free(&refusal);
    }
    dt_well_free(well);
    return c;
}

#endif
