/* SPDX-License-Identifier: MIT */
#include "review_table.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "jobs_table.h"
#include "wrapped.h"

/** Lines of review that a first look takes in. */
enum { REVIEW_LINES = 10 };

/** A sentence, and for the whole list its code, by which docs/notices.md tells more. */
static dt_status say_words(sentence *s, const dt_notice *n, dt_extent extent, dt_display display)
{
    char *text = NULL;
    const dt_status status = dt_notice_words(n, display, &text);
    if (status == DT_OK) say_clean(s, text);
    if (extent == DT_IN_FULL) say(s, " [%s]", dt_notice_code_text(n->code));
    free(text);
    return status;
}

/** The line of the well file, unless the sentence ends in it. */
static void say_line(sentence *s, const dt_program *program, const dt_notice *n, size_t start)
{
    char line[48];
    const int number = dt_notice_line(program, n);
    if (s->failed || number <= 0) return;
    snprintf(line, sizeof line, "(well file line %d)", number);
    if (!strstr(s->bytes + start, line)) say(s, " %s", line);
}

dt_status dt_say_stoppers(sentence *s, const dt_program *program, int blanks, dt_extent extent,
                          dt_display display)
{
    char text[48];
    dt_status status = DT_OK;
    if (dt_program_runnable(program)) return DT_OK;
    dt_stoppers_words(program, text, sizeof text);
    say(s, "%*sNOT RUNNABLE: %s\n", blanks, "", text);
    for (size_t i = 0; status == DT_OK && i < program->notices.count; ++i) {
        const dt_notice *n = &program->notices.items[i];
        const size_t start = s->length;
        char where[32];
        if (dt_notice_gravity(n->code) != DT_STOPPER) continue;
        dt_notice_where(program, n, where, sizeof where);
        say(s, "%*s  %s: ", blanks, "", where);
        status = say_words(s, n, extent, display);
        say_line(s, program, n, start);
        dt_wrap(s, start, blanks + 6);
        say(s, "\n");
    }
    return status;
}

dt_status dt_say_review(sentence *s, const dt_program *program, const dt_review *review,
                        dt_extent extent, dt_display display)
{
    const int width = dt_name_width(program);
    size_t lines = 0, told = 0;
    if (review->count == 0) return DT_OK;
    say(s, "\nReview\n");
    for (; told < review->count; ++told) {
        const dt_notice *n = &program->notices.items[review->order[told]];
        const size_t start = s->length;
        char where[32];
        dt_notice_where(program, n, where, sizeof where);
        say(s, "  %-*s ", width, where);
        const dt_status status = say_words(s, n, extent, display);
        if (status != DT_OK) return status;
        lines += dt_wrap(s, start, width + 3);
        if (extent == DT_IN_SHORT && told > 0 && lines > REVIEW_LINES) {
            s->length = start;
            break;
        }
        say(s, "\n");
    }
    if (told < review->count)
        say(s, "  and %zu more for review: --all lists them\n", review->count - told);
    return DT_OK;
}

dt_status dt_say_assumed(sentence *s, const dt_program *program, dt_extent extent,
                         dt_display display)
{
    static const int widths[] = {34, 42, 42, 0};
    static const char *const head[] = {"not stated", "taken", "from"};
    dt_assumptions all;
    const dt_status status = dt_assumptions_make(program, display, &all);
    if (status != DT_OK || all.count == 0) return status;
    if (extent == DT_IN_SHORT) {
        say(s,
            "\nAssumed: %zu values that the well file does not state; --all lists each with its "
            "source\n",
            all.count);
    } else {
        say(s, "\nAssumed\n");
        dt_say_cells(s, head, widths);
        for (size_t i = 0; i < all.count; ++i) {
            const dt_assumed *one = &all.items[i];
            const char *const cells[] = {one->what, one->taken, one->from};
            dt_say_cells(s, cells, widths);
        }
    }
    dt_assumptions_free(&all);
    return DT_OK;
}
