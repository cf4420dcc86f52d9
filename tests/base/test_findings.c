/* SPDX-License-Identifier: MIT */
/* Findings: order, wording, severity, and that message numbers are unique and complete. */
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "findings.h"

typedef struct row {
    int number;
    const char *name, *text, *fix;
} row;

static const row ROWS[] = {
#define DT_MESSAGE(number, name, severity, text, fix) {number, #name, text, fix},
#include "messages.def"
#undef DT_MESSAGE
};
#define ROW_COUNT (sizeof ROWS / sizeof *ROWS)

static void numbers_and_names_are_unique(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROW_COUNT; ++i) {
        for (size_t k = 0; k < i; ++k) {
            assert_int_not_equal(ROWS[i].number, ROWS[k].number);
            assert_string_not_equal(ROWS[i].name, ROWS[k].name);
        }
        assert_in_range(ROWS[i].number, 101, 599);
        assert_true(strlen(ROWS[i].text) > 0);
        assert_true(strlen(ROWS[i].fix) > 0);
    }
}

static void a_line_reads_as_documented(void **state)
{
    (void)state;
    dt_report report;
    char *line = NULL;
    assert_int_equal(dt_report_init(&report, "file"), DT_OK);
    dt_report_add(&report, DT_MSG_QUANTITY_WITHOUT_UNIT, 14, "fresh_water/@deepest",
                  "\"%s\" has no unit", "9000");
    dt_report_fix(&report, "write one of %s", "ft, m");
    assert_int_equal(dt_finding_line(&report, 0, &line), DT_OK);
    assert_string_equal(line, "file:14: error DT-214: fresh_water/@deepest: \"9000\" has no unit; "
                              "write one of ft, m");
    free(line);

    dt_report_add(&report, DT_MSG_FILE_EMPTY, 0, NULL, "the file is empty");
    assert_int_equal(dt_finding_line(&report, 1, &line), DT_OK);
    assert_string_equal(line, "file: error DT-102: the file is empty; start from the file that "
                              "\"drawtube start\" prints");
    free(line);

    dt_report_add(&report, DT_MSG_MARGIN_UNUSED, 3, "margins", "left out");
    assert_int_equal(dt_finding_line(&report, 2, &line), DT_OK);
    assert_non_null(strstr(line, "file:3: warning DT-427: margins: left out; "));
    free(line);
    assert_int_equal(report.errors, 2);
    dt_report_free(&report);
}

static void sorting_keeps_the_order_within_a_line(void **state)
{
    (void)state;
    enum { COUNT = 1000 };
    dt_report report;
    assert_int_equal(dt_report_init(&report, "file"), DT_OK);
    unsigned seed = 1;
    for (int i = 0; i < COUNT; ++i) {
        seed = seed * 1103515245u + 12345u;
        dt_report_add(&report, DT_MSG_FILE_EMPTY, (int)(seed >> 16) % 37, "x", "%d", i);
    }
    dt_report_sort(&report);
    assert_int_equal(report.count, COUNT);
    for (size_t i = 1; i < report.count; ++i) {
        const dt_finding *a = &report.items[i - 1], *b = &report.items[i];
        assert_true(a->line <= b->line);
        if (a->line == b->line) assert_true(atoi(a->text) < atoi(b->text));
    }
    dt_report_free(&report);
}

/* Nobody reads 100,000 findings: past the first 20,000 they are counted, and keep no memory. */
static void past_the_most_findings_are_counted(void **state)
{
    (void)state;
    dt_report report;
    assert_int_equal(dt_report_init(&report, "file"), DT_OK);
    for (size_t i = 0; i < DT_REPORT_MOST + 3; ++i) {
        dt_report_add(&report, DT_MSG_FILE_EMPTY, 1, "x", "%zu", i);
        dt_report_fix(&report, "remedy %zu", i);
    }
    assert_int_equal(report.count, DT_REPORT_MOST);
    assert_int_equal(report.left_out, 3);
    assert_int_equal(report.errors, DT_REPORT_MOST + 3);
    /* the last one kept has its own remedy, not that of one left out */
    assert_string_equal(dt_finding_fix(&report.items[DT_REPORT_MOST - 1]), "remedy 19999");
    dt_report_free(&report);
}

static void freeing_twice_and_nothing_is_allowed(void **state)
{
    (void)state;
    dt_report report;
    assert_int_equal(dt_report_init(&report, "-"), DT_OK);
    dt_report_fix(&report, "no finding to give it to");
    dt_report_sort(&report);
    dt_report_free(&report);
    dt_report_free(&report);
    dt_report_free(NULL);
}

static void every_status_and_message_has_words(void **state)
{
    (void)state;
    assert_string_equal(dt_status_text(DT_OK), "done");
    assert_string_equal(dt_status_text(DT_E_MEMORY), "out of memory");
    assert_string_equal(dt_status_text((dt_status)99), "unknown status");
    assert_int_equal(dt_message_severity(DT_MSG_MARGIN_UNUSED), DT_WARNING);
    assert_int_equal(dt_message_severity(DT_MSG_PORE_ABOVE_FRACTURE), DT_ERROR);
    for (size_t i = 0; i < ROW_COUNT; ++i)
        assert_string_equal(dt_message_fix((dt_message)ROWS[i].number), ROWS[i].fix);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_and_names_are_unique),
        cmocka_unit_test(a_line_reads_as_documented),
        cmocka_unit_test(sorting_keeps_the_order_within_a_line),
        cmocka_unit_test(past_the_most_findings_are_counted),
        cmocka_unit_test(freeing_twice_and_nothing_is_allowed),
        cmocka_unit_test(every_status_and_message_has_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
