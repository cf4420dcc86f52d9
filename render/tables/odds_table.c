/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "odds_words.h"
#include "sentence.h"
#include "tables.h"
#include "units.h"

/** "71.3 % +- 0.5", or "100 %, at least 99.9 %" where nothing else was seen. */
static shown share_words(dt_share share)
{
    shown out;
    double p = 100 * dt_share_value(share), bound = 100 * dt_share_bound(share);
    if (share.of == 0)
        snprintf(out.text, sizeof out.text, "-");
    else if (bound > 0 && share.count > 0)
        snprintf(out.text, sizeof out.text, "100 %%, surely over %.4g %%", 100 - bound);
    else if (bound > 0)
        snprintf(out.text, sizeof out.text, "0 %%, surely under %.3g %%", bound);
    else
        snprintf(out.text, sizeof out.text, "%.2f %% +- %.2f", p, 100 * dt_share_error(share));
    return out;
}

static void say_summary(sentence *s, const dt_program *program, const dt_odds *odds)
{
    say(s, "%s: how sure is the program of %zu strings?\n\n", program->well->name, program->count);
    say(s, "%zu realisations, seed %llu, %zu uncertain inputs%s\n", odds->samples,
        (unsigned long long)odds->seed, odds->input_count,
        odds->stopped   ? " (interrupted: the rest was not made)"
        : odds->precise ? " (the precision asked for was reached)"
                        : "");
    say(s, "+- is one standard error\n\n");
    say(s, "%-46s %s\n", "can be drilled as planned", share_words(odds->planned).text);
    say(s, "%-46s %s\n", "the same with one contingency liner", share_words(odds->spare).text);
    say(s, "%-46s %s\n\n", "as many strings or fewer, seats chosen anew",
        share_words(odds->anew).text);
}

static void say_rules(sentence *s, const dt_odds *odds, const dt_odds_string *string)
{
    const char *before = "";
    for (int rule = 0; rule < DT_RULE_COUNT; ++rule) {
        if (string->broken[rule] == 0) continue;
        say(s, "%s%s %.2f %%", before, dt_rule_code((dt_rule)rule),
            100 * (double)string->broken[rule] / (double)odds->samples);
        before = ", ";
    }
}

static void say_strings(sentence *s, const dt_program *program, const dt_odds *odds,
                        dt_display display)
{
    char head[64];
    snprintf(head, sizeof head, "seat anew P10 P50 P90, %s",
             dt_display_unit(display, DT_KIND_LENGTH));
    say(s, "%-15s %9s  %-26s %-28s %s\n", "string", "shoe TVD", "holds", head, "broken by");
    for (size_t k = 1; k < odds->string_count; ++k) {
        const dt_odds_string *string = &odds->strings[k];
        char name[32], seat[64] = "-";
        dt_program_string_name(program, k, name, sizeof name);
        if (string->anew > 0)
            snprintf(seat, sizeof seat, "%.0f  %.0f  %.0f",
                     dt_display_value(display, DT_KIND_LENGTH, string->p10_m),
                     dt_display_value(display, DT_KIND_LENGTH, string->p50_m),
                     dt_display_value(display, DT_KIND_LENGTH, string->p90_m));
        say(s, "%-15s %9s  %-26s %-28s ", name,
            show(display, DT_KIND_LENGTH, odds->base.shoes_m[k]).text,
            share_words(string->held).text, seat);
        say_rules(s, odds, string);
        say(s, "\n");
    }
    if (!odds->last_open) return;
    say(s, "%-15s %9s  %-26s %-28s ", "open hole", "-", share_words(odds->open_hole.held).text,
        "-");
    say_rules(s, odds, &odds->open_hole);
    say(s, "\n");
}

/** What comes after the seats, by cause. */
static void say_after(sentence *s, const dt_program *program, const dt_odds *odds)
{
    const dt_odds_after *after = &odds->after;
    if (after->wells == 0) return;
    say(s, "\nAll stages, in the first %zu of these wells\n", after->wells);
    say(s, "  %-28s %s\n", "hold by the rules of seats", share_words(after->seats).text);
    say(s, "  %-28s %s\n", "and by what comes after", share_words(after->all).text);
    for (int stage = 0; stage < DT_STAGE_COUNT; ++stage)
        say(s, "  %-28s %s\n", dt_odds_stage_words((dt_stage)stage),
            share_words(after->by_stage[stage]).text);
    for (size_t i = 0; i < after->cause_count; ++i) {
        const dt_odds_cause *c = &after->causes[i];
        char name[32];
        dt_program_string_name(program, c->string, name, sizeof name);
        say(s, "    %-26s %s, %s\n", name,
            share_words((dt_share){c->count, after->seats.count}).text, c->code);
    }
    say(s, "  The three and their causes: of the wells that hold by the rules of seats.\n");
}

static void say_money(sentence *s, const dt_program *program, const dt_odds *odds)
{
    const dt_odds_money *m = &odds->money;
    const char *currency = program->well->prices.currency;
    if (m->wells == 0) return;
    say(s, "\nIn money%s%s, in the first %zu of these wells\n", currency ? ", " : "",
        currency ? currency : "", m->wells);
    say(s, "  %-28s %s +- %s, P10 %s, P50 %s, P90 %s\n", "expected, as planned",
        show_money(m->cost.expected).text, show_money(m->cost.error).text,
        show_money(m->cost.tenths[0]).text, show_money(m->cost.tenths[1]).text,
        show_money(m->cost.tenths[2]).text);
    say(s, "  %-28s %s\n", "contingency string not enough", share_words(m->lost).text);
    say(s,
        "  Where one hole fails, with the contingency string; where that is not enough, "
        "%s,\n  the dearest of the others: such a well costs more.\n",
        show_money(m->dearest).text);
}

static void say_needed(sentence *s, const dt_odds *odds)
{
    say(s, "\nStrings needed, seats chosen anew\n");
    for (size_t n = 0; n < DT_ODDS_MOST_STRINGS; ++n)
        if (odds->needed[n] > 0)
            say(s, "  %2zu strings   %s\n", n,
                share_words((dt_share){odds->needed[n], odds->samples}).text);
    if (odds->hopeless > 0)
        say(s, "  no program   %s\n", share_words((dt_share){odds->hopeless, odds->samples}).text);
}

static void say_program(sentence *s, const char *head, const dt_odds_program *program,
                        dt_display display)
{
    if (program->count == 0) return;
    say(s, "  %-28s %-26s", head, share_words(program->odds).text);
    for (size_t k = 0; k < program->count; ++k)
        say(s, "%s%.0f", k ? ", " : " ",
            dt_display_value(display, DT_KIND_LENGTH, program->shoes_m[k]));
    say(s, " %s\n", dt_display_unit(display, DT_KIND_LENGTH));
}

static void say_programs(sentence *s, const dt_odds *odds, dt_display display)
{
    char more[48];
    snprintf(more, sizeof more, "surest found, %zu strings", odds->robust_more.count);
    say(s, "\nPrograms, by their shoes (TVD)\n");
    say_program(s, "as planned", &odds->base, display);
    if (!odds->searched) say(s, "  surer seats were not looked for\n");
    say_program(s, "surest found, as many strings", &odds->robust, display);
    say_program(s, more, &odds->robust_more, display);
}

static void say_inputs(sentence *s, const dt_program *program, const dt_odds *odds,
                       dt_display display)
{
    say(s, "\nWhat drives it\n");
    say(s, "  %-34s %-22s %-20s %-19s%s\n", "input", "odds if low .. if high", "share of variance",
        "value of information", odds->money.wells ? " in money" : "");
    for (size_t i = 0; i < odds->input_count && i < 12; ++i) {
        const dt_odds_input *input = &odds->inputs[i];
        char name[80], ends[48], share[48] = "-", worth[48] = "-", money[48] = "";
        dt_odds_input_words(program, input, display, name, sizeof name);
        snprintf(ends, sizeof ends, "%.1f .. %.1f %%", 100 * dt_share_value(input->low),
                 100 * dt_share_value(input->high));
        if (isfinite(input->first_order))
            snprintf(share, sizeof share, "%.1f %% +- %.1f", 100 * input->first_order,
                     100 * input->first_order_error);
        if (isfinite(input->worth))
            snprintf(worth, sizeof worth, "%+.2f %% +- %.2f", 100 * input->worth,
                     100 * input->worth_error);
        if (isfinite(input->money_worth))
            snprintf(money, sizeof money, "%+.0f +- %.0f", input->money_worth, input->money_error);
        say(s, "  %-34s %-22s %-20s %s", name, ends, share, worth);
        say(s, "%*s%s\n", money[0] ? 20 - (int)strlen(worth) : 0, "", money);
    }
    say(s,
        "  low, high: its lowest and highest fifth. Value of information: odds gained by\n"
        "  knowing its third before the seats are fixed, looked at for the three that matter most; "
        "in money\n"
        "  the expected cost saved.\n\n"
        "Preliminary planning aid. Verify pressures and regulations locally; a licensed engineer\n"
        "reviews before anything is run.\n");
}

dt_status dt_write_odds_table(const dt_program *program, const dt_odds *odds, dt_display display,
                              dt_text *out)
{
    sentence s = {0};
    say_summary(&s, program, odds);
    say_strings(&s, program, odds, display);
    say_after(&s, program, odds);
    say_needed(&s, odds);
    say_programs(&s, odds, display);
    say_money(&s, program, odds);
    say_inputs(&s, program, odds, display);
    char *bytes = NULL;
    dt_status status = sentence_take(&s, &bytes);
    if (status == DT_OK) *out = (dt_text){bytes, strlen(bytes)};
    return status;
}
