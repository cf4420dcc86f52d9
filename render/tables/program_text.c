/* SPDX-License-Identifier: MIT */
/*
 * The program as lines whose difference reads well under version control: a fact a line, no columns
 * that move, and no line number of the well file, which moves whenever a line is put in above it.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "notice_words.h"
#include "rule_words.h"
#include "same.h"
#include "tables.h"
#include "wrapped.h"

/** Takes "(well file line 22)" out of a sentence, with the blank before it. */
static void drop_lines(char *text)
{
    static const char mark[] = " (well file line ";
    for (char *at = strstr(text, mark); at; at = strstr(at, mark)) {
        const char *end = strchr(at, ')');
        if (!end) return;
        memmove(at, end + 1, strlen(end + 1) + 1);
    }
}

static void say_stated(sentence *s, const char *key, const char *text)
{
    if (!text) return;
    say(s, "%s: ", key);
    say_clean(s, text);
    say(s, "\n");
}

/** A fact of a string; nothing where there is no such figure. */
static void say_figure(sentence *s, const char *key, dt_display display, dt_kind kind, double si,
                       const char *behind)
{
    if (isfinite(si)) say(s, "  %s: %s%s\n", key, show(display, kind, si).text, behind);
}

static void say_pipe(sentence *s, const dt_string *string, dt_display display)
{
    static const char *const checks[] = {"burst", "collapse", "tension", "triaxial"};
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        say(s, "  pipe to %s MD: %s %s %s\n",
            show(display, DT_KIND_LENGTH, section->base_md_m).text,
            show(display, DT_KIND_LINEAR_MASS, section->pipe->weight_kgm).text,
            section->pipe->grade->name, dt_pipe_thread_text(section->pipe, section->thread));
        for (int check = 0; check < DT_CHECK_COUNT; ++check) {
            const dt_factor *factor = &section->screen.by_check[check];
            if (isfinite(factor->factor))
                say(s, "    %s: %.2f, %.2f asked for\n", checks[check],
                    dt_shown_factor(factor->factor), factor->needed);
        }
    }
}

static dt_status say_seat(sentence *s, const dt_program *program, const dt_seat *seat,
                          dt_display display)
{
    char *words = NULL;
    const dt_status status = dt_reason_sentence(&seat->why, program->well, display, &words);
    if (status != DT_OK) return status;
    drop_lines(words);
    say(s, "  governed by: ");
    say_clean(s, words);
    say(s, "\n");
    free(words);
    return DT_OK;
}

static dt_status say_string(sentence *s, const dt_program *program, size_t index,
                            dt_display display)
{
    const dt_program_string *item = &program->items[index];
    const bool tie = item->seat->type == DT_TIEBACK;
    char name[48];
    dt_program_string_name(program, index, name, sizeof name);
    say(s, "\n%s\n  type: %s\n", name, dt_string_type_text(item->seat->type));
    if (isfinite(item->hole_m)) say(s, "  hole: %s in\n", show_inches(item->hole_m).text);
    say(s, "  casing: %s in\n", show_inches(item->od_m).text);
    say_figure(s, "top", display, DT_KIND_LENGTH, item->top_md_m, " MD");
    say_figure(s, tie ? "base" : "shoe", display, DT_KIND_LENGTH, item->shoe_md_m, " MD");
    say_figure(s, tie ? "base" : "shoe", display, DT_KIND_LENGTH, item->shoe_tvd_m, " TVD");
    say_pipe(s, item->string, display);
    if (tie) return DT_OK;
    dt_status status = say_seat(s, program, item->seat, display);
    say_figure(s, "mud", display, DT_KIND_DENSITY, item->seat->mud_kgm3, "");
    if (item->kick_known)
        say_figure(s, "kick tolerance", display, DT_KIND_VOLUME, item->kick.tolerance_m3, "");
    if (isnan(item->cement_top_md_m))
        say(s, "  cement: none\n");
    else
        say_figure(s, "top of cement", display, DT_KIND_LENGTH, item->cement_top_md_m, " MD");
    say(s, "  time: %.1f days\n", item->bill.days);
    return status;
}

/** All notices of a gravity, under a heading. */
static dt_status say_notices(sentence *s, const dt_program *program, const char *heading,
                             dt_gravity gravity, dt_display display)
{
    bool any = false;
    for (size_t i = 0; i < program->notices.count; ++i) {
        const dt_notice *notice = &program->notices.items[i];
        char where[64], *words = NULL;
        if (dt_notice_gravity(notice->code) != gravity) continue;
        const dt_status status = dt_notice_words(notice, display, &words);
        if (status != DT_OK) return status;
        if (!any) say(s, "\n%s\n", heading);
        any = true;
        drop_lines(words);
        dt_notice_where(program, notice, where, sizeof where);
        say(s, "  %s: ", where);
        say_clean(s, words);
        say(s, "\n");
        free(words);
    }
    return DT_OK;
}

static void say_top(sentence *s, const dt_program *program)
{
    const dt_well *well = program->well;
    say_clean(s, well->name);
    say(s, "\n");
    say_stated(s, "revision", well->document.revision);
    say_stated(s, "author", well->document.author);
    say_stated(s, "date", well->document.date);
    say(s, "runnable: %s\n", dt_program_runnable(program) ? "yes" : "NO");
    say(s, "strings: %zu\n", dt_program_strings(program));
    say(s, "steel: %.1f t\ntime: %.1f days\n", program->steel_kg / 1000, program->bill.days);
    if (!well->prices_given) return;
    say(s, "cost: %s ", show_money(program->bill.total).text);
    say_clean(s, well->prices.currency ? well->prices.currency : "in the currency of the prices");
    say(s, "\n");
}

dt_status dt_write_program_lines(const dt_program *program, dt_display display, dt_text *out)
{
    sentence s = {0};
    dt_status status = DT_OK;
    say_top(&s, program);
    for (size_t n = 0; status == DT_OK && n < dt_program_strings(program); ++n)
        status = say_string(&s, program, dt_program_at(program, n), display);
    if (status == DT_OK) status = say_notices(&s, program, "stoppers", DT_STOPPER, display);
    if (status == DT_OK) status = say_notices(&s, program, "for review", DT_REVIEW, display);
    say(&s, "\nPreliminary planning aid. Verify pressures and regulations locally; a licensed "
            "engineer\nreviews before anything is run.\n");
    if (status != DT_OK) {
        free(s.bytes);
        return status;
    }
    const size_t size = s.length;
    char *bytes = NULL;
    status = sentence_take(&s, &bytes);
    if (status == DT_OK) *out = (dt_text){bytes, size};
    return status;
}
