/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "review_table.h"
#include "tables.h"
#include "units.h"
#include "why_words.h"

static dt_status take(sentence *s, dt_text *out)
{
    char *bytes = NULL;
    dt_status status = sentence_take(s, &bytes);
    if (status == DT_OK) *out = (dt_text){bytes, strlen(bytes)};
    return status;
}

static dt_status say_reason(sentence *s, const char *subject, const dt_notice *notice,
                            dt_display display)
{
    char *text = NULL;
    const dt_status status = dt_notice_words(notice, display, &text);
    if (status == DT_OK) say(s, "  %-10s  %s\n", subject, text);
    free(text);
    return status;
}

dt_status dt_write_why_text(const dt_program *program, const dt_why *why, dt_display display,
                            dt_text *out)
{
    sentence s = {0};
    size_t last = DT_NO_INDEX;
    say(&s, "%s: why it is so\n", program->well->name);
    for (size_t i = 0; i < why->count; ++i) {
        const dt_why_item *item = &why->items[i];
        if (item->string != last) {
            char name[32];
            dt_program_string_name(program, item->string, name, sizeof name);
            say(&s, "\nstring %zu, %s: %s %s TVD\n",
                dt_seats_position(&program->seats, item->string) + 1, name,
                item->string < program->count ? "shoe" : "down to its liner at",
                show(display, DT_KIND_LENGTH, program->items[item->string].shoe_tvd_m).text);
            last = item->string;
        }
        dt_status status =
            say_reason(&s, dt_why_subject_text(item->subject), &item->reason, display);
        if (status == DT_OK && item->has_slack) status = say_reason(&s, "", &item->slack, display);
        if (status != DT_OK) {
            free(s.bytes);
            return status;
        }
    }
    say(&s, "\nWhat a bound is worth comes from placing the seat again with the bound eased, its\n"
            "neighbours held.\n");
    return take(&s, out);
}

static void say_string(sentence *s, const dt_program *program, size_t k, dt_display display)
{
    const dt_program_string *at = &program->items[k];
    char name[32];
    dt_program_string_name(program, k, name, sizeof name);
    const bool tieback = k >= program->count;
    say(s, "%-15s %-6s %9s %7s", name, dt_string_type_text(at->seat->type),
        show(display, DT_KIND_LENGTH, at->shoe_tvd_m).text,
        tieback ? "-" : show_inches(at->hole_m).text);
    say(s, " %7s  %s %s\n", show_inches(at->od_m).text,
        show(display, DT_KIND_LINEAR_MASS, at->string->sections[0].pipe->weight_kgm).text,
        at->string->sections[0].pipe->grade->name);
}

static void say_program(sentence *s, const char *head, const dt_program *program,
                        dt_display display)
{
    say(s, "%s: %zu strings, %.1f t of steel\n", head, dt_program_strings(program),
        program->steel_kg / 1000);
    for (size_t n = 0; n < dt_program_strings(program); ++n) {
        say(s, "  ");
        say_string(s, program, dt_program_at(program, n), display);
    }
}

/** "0.3 t more steel", or "as much steel" where it would read 0. */
static void say_more(sentence *s, double difference, int decimals, const char *unit, const char *of,
                     const char *none)
{
    if (fabs(difference) < 0.5 * pow(10, -decimals)) {
        say(s, "%s", none);
        return;
    }
    say(s, "%.*f %s %s%s", decimals, fabs(difference), unit, difference > 0 ? "more" : "less", of);
}

static void say_money(sentence *s, const dt_program *base, double cost)
{
    const char *currency = base->well->prices.currency;
    if (fabs(cost) < 0.5) {
        say(s, " and costs the same");
        return;
    }
    say(s, " and %.0f ", fabs(cost));
    say_clean(s, currency ? currency : "in the currency of the prices");
    say(s, cost > 0 ? " more" : " less");
}

static void say_difference(sentence *s, const dt_program *base, const dt_program *wished)
{
    const long strings = (long)dt_program_strings(wished) - (long)dt_program_strings(base);
    const bool priced = base->well->prices_given;
    say(s, "It takes %s, ",
        strings == 0  ? "as many strings"
        : strings > 0 ? "more strings"
                      : "fewer strings");
    say_more(s, (wished->steel_kg - base->steel_kg) / 1000, 1, "t", " steel", "as much steel");
    say(s, priced ? ", " : " and ");
    say_more(s, wished->bill.days - base->bill.days, 1, "days", "", "as many days");
    if (priced) say_money(s, base, wished->bill.total - base->bill.total);
    say(s, priced ? ".\n" : ". Without <prices> in the well file nothing is priced.\n");
}

/** A line with the planner's own reason, where there is one. */
static dt_status say_refused(sentence *s, const dt_refusal *refusal, const char *lead,
                             dt_display display)
{
    char *text = NULL;
    const dt_status status = dt_refusal_words(refusal, display, &text);
    if (text) say(s, "%s%s", lead, text);
    say(s, "\n");
    free(text);
    return status;
}

static dt_status say_forbidden(sentence *s, const dt_program *program, const dt_verdict *v,
                               dt_display display)
{
    if (v->forbid_count == 0) {
        say(s, "This cannot be built, whatever rules are left out");
        return say_refused(s, &v->refusal, ": ", display);
    }
    say(s, v->forbid_count == 1
               ? "This forbids it; without it, it can be done:\n"
               : "These forbid it together; without any one of them it can be done:\n");
    for (size_t i = 0; i < v->forbid_count; ++i) {
        char *words = NULL;
        dt_status status =
            dt_switch_words(&v->switches.items[v->forbids[i]], program->well, display, &words);
        if (status != DT_OK) return status;
        say(s, "  - %s\n", words);
        free(words);
    }
    say(s, "%s (%zu plans tried).\n",
        v->smallest ? "No smaller set of rules forbids it"
                    : "A smaller set may exist; not all were tried",
        v->tried);
    if (v->refusal.why.count == 0) return DT_OK;
    return say_refused(s, &v->refusal, "With just these in force: ", display);
}

dt_status dt_write_verdict_text(const dt_program *program, const dt_verdict *verdict,
                                const char *wish, dt_display display, dt_text *out)
{
    sentence s = {0};
    dt_status status = DT_OK;
    say(&s, "%s, what if: %s\n\n", program->well->name, wish);
    if (verdict->possible) {
        const bool runs = dt_program_runnable(verdict->program);
        say(&s, runs ? "It can be done.\n\n" : "It can be planned so, but not run.\n\n");
        status = dt_say_stoppers(&s, verdict->program, 0, DT_IN_SHORT, display);
        if (!runs) say(&s, "\n");
        say_program(&s, "What if", verdict->program, display);
        say_program(&s, "As planned", program, display);
        say_difference(&s, program, verdict->program);
    } else {
        status = say_forbidden(&s, program, verdict, display);
    }
    if (status != DT_OK) {
        free(s.bytes);
        return status;
    }
    return take(&s, out);
}
