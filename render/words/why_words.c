/* SPDX-License-Identifier: MIT */
/* Reasons, and reasons against a wish, as sentences. */
#include "why_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sentence.h"
#include "units.h"

/* ---- reasons ---- */

dt_why_steps dt_why_steps_in(dt_display display)
{
    if (display == DT_DISPLAY_METRIC)
        return (dt_why_steps){.density_kgm3 = 10, .pressure_pa = 1e6, .length_m = 10};
    return (dt_why_steps){.density_kgm3 = 0.1 * DT_KGM3_PER_PPG,
                          .pressure_pa = 100 * DT_PA_PER_PSI,
                          .length_m = 100 * DT_M_PER_FT};
}

static const char *const eased[DT_RULE_COUNT] = {
    [DT_RULE_MUD_LIMIT] = "more fracture gradient",
    [DT_RULE_KICK_FIXED] = "more fracture gradient",
    [DT_RULE_KICK_DEPTH_RATIO] = "more fracture gradient",
    [DT_RULE_INFLUX_VOLUME] = "more fracture gradient",
    [DT_RULE_STICKING_NORMAL] = "more sticking limit",
    [DT_RULE_STICKING_ABNORMAL] = "more sticking limit",
    [DT_RULE_CASE_OFF] = "more hole allowed below the interval",
    [DT_RULE_CASE_ABOVE] = "more distance allowed above the interval",
    [DT_RULE_AVOID_SHOE] = "less interval",
    [DT_RULE_FRESH_WATER] = "less cover of fresh water",
};

static void say_shadow(sentence *s, const dt_program *p, const dt_why_item *item,
                       dt_display display)
{
    const char *words = eased[p->seats.items[item->string].why.rule];
    const shown step = show(display, item->slack_kind, item->slack_step);
    if (fabs(item->moves_m) < 0.01) {
        say(s, "%s %s would not move it: a step or another bound holds it there", step.text, words);
        return;
    }
    say(s, "%s %s would let it stand %s %s", step.text, words,
        show(display, DT_KIND_LENGTH, fabs(item->moves_m)).text,
        item->moves_m < 0 ? "shallower" : "deeper");
}

static void say_pipe(sentence *s, const dt_program *p, const dt_why_item *item, dt_display display)
{
    const dt_program_string *at = &p->items[item->string];
    if (item->string + 1 == p->count)
        say(s, "the completion needs %s in or more, the pipe is %s in",
            show_inches(item->need).text, show_inches(item->have).text);
    else
        say(s, "the next bit, %s in, must pass: the drift of the %s in pipe is %s",
            show_inches(item->need).text, show_inches(at->od_m).text,
            show(display, DT_KIND_DIAMETER, item->have).text);
}

static void say_weight(sentence *s, const dt_program *p, const dt_why_item *item,
                       dt_display display)
{
    const dt_section *part = &p->items[item->string].string->sections[item->section];
    say(s, "%s %s from %s to %s MD: %s governs at %s TVD, factor %.2f where %.2f is asked for",
        show(display, DT_KIND_LINEAR_MASS, part->pipe->weight_kgm).text, part->pipe->grade->name,
        show(display, DT_KIND_LENGTH, part->top_md_m).text,
        show(display, DT_KIND_LENGTH, part->base_md_m).text, dt_load_words(part->screen.worst),
        show(display, DT_KIND_LENGTH, item->at_tvd_m).text, item->have, item->need);
}

static void say_cement(sentence *s, const dt_program *p, const dt_why_item *item,
                       dt_display display)
{
    const dt_cement_rule rule = p->items[item->string].cement_rule;
    if (isfinite(item->at_tvd_m))
        say(s, "the top of cement at %s TVD: %s",
            show(display, DT_KIND_LENGTH, item->at_tvd_m).text, dt_cement_rule_words(rule));
    else
        say(s, "%s", dt_cement_rule_words(rule));
}

dt_status dt_why_sentence(const dt_program *program, const dt_why_item *item, dt_display display,
                          char **out)
{
    const dt_program_string *at = &program->items[item->string];
    sentence s = {0};
    switch (item->subject) {
    case DT_WHY_SEAT:
        return dt_reason_sentence(&at->seat->why, program->well, display, out);
    case DT_WHY_HOLE:
        say(&s, "the %s in hole leaves %s round the largest diameter run, %s is asked for",
            show_inches(at->hole_m).text, show(display, DT_KIND_DIAMETER, item->have).text,
            show(display, DT_KIND_DIAMETER, item->need).text);
        break;
    case DT_WHY_PIPE:
        say_pipe(&s, program, item, display);
        break;
    case DT_WHY_WEIGHT:
        say_weight(&s, program, item, display);
        break;
    case DT_WHY_CEMENT:
        say_cement(&s, program, item, display);
        break;
    }
    return sentence_take(&s, out);
}

dt_status dt_slack_sentence(const dt_program *program, const dt_why_item *item, dt_display display,
                            char **out)
{
    sentence s = {0};
    *out = NULL;
    switch (item->subject) {
    case DT_WHY_SEAT:
        if (!isfinite(item->moves_m)) return DT_OK;
        say_shadow(&s, program, item, display);
        break;
    case DT_WHY_HOLE:
        say(&s, "%s of the gap could be given up; holes come in bit sizes, so there is no slope",
            show(display, DT_KIND_DIAMETER, item->have - item->need).text);
        break;
    case DT_WHY_PIPE:
        if (item->string + 1 == program->count) return DT_OK;
        say(&s, "%s of drift is to spare; pipe comes in sizes, so there is no slope",
            show(display, DT_KIND_DIAMETER, item->have - item->need).text);
        break;
    case DT_WHY_WEIGHT:
        say(&s, "the load may grow by %.1f %% before this pipe fails",
            100 * (item->have / item->need - 1));
        break;
    case DT_WHY_CEMENT:
        return DT_OK;
    }
    return sentence_take(&s, out);
}

/* ---- switches ---- */

static void say_margin(sentence *s, const dt_margin *margin, dt_display display)
{
    if (margin->pressure_pa > 0)
        say(s, "%s", show(display, DT_KIND_PRESSURE, margin->pressure_pa).text);
    else
        say(s, "%s", show(display, DT_KIND_DENSITY, margin->emw_kgm3).text);
}

static void say_rule(sentence *s, const dt_switch *item, const dt_well *well, dt_display display)
{
    const dt_margins *m = &well->margins;
    say(s, "%s", dt_rule_words(item->rule));
    if (item->rule == DT_RULE_KICK_FIXED || item->rule == DT_RULE_KICK_DEPTH_RATIO) {
        say(s, " (kick ");
        say_margin(s, &m->kick, display);
        say(s, ", well file line %d)", m->line);
    }
    if (item->rule == DT_RULE_STICKING_NORMAL || item->rule == DT_RULE_STICKING_ABNORMAL)
        say(s, " (%s, well file line %d)",
            show(display, DT_KIND_PRESSURE,
                 item->rule == DT_RULE_STICKING_NORMAL ? well->sticking.normal_limit_pa
                                                       : well->sticking.abnormal_limit_pa)
                .text,
            well->sticking.line);
    if (item->rule == DT_RULE_INFLUX_VOLUME)
        say(s, " (%s, well file line %d)",
            show(display, DT_KIND_VOLUME, well->kick.seat_volume_m3).text, well->kick.line);
}

dt_status dt_switch_words(const dt_switch *item, const dt_well *well, dt_display display,
                          char **out)
{
    sentence s = {0};
    switch (item->kind) {
    case DT_SWITCH_RULE:
        say_rule(&s, item, well, display);
        break;
    case DT_SWITCH_TRIP:
        say(&s, "the trip margin of ");
        say_margin(&s, &well->margins.trip, display);
        say(&s, " above pore pressure (well file line %d)", well->margins.line);
        break;
    case DT_SWITCH_COLLAPSE:
        say(&s, "the collapse gradient (well file line %d)", well->collapse.line);
        break;
    case DT_SWITCH_FRESH_WATER:
        say(&s,
            "fresh water to %s and its cover must be behind the surface string (well file line %d)",
            show(display, DT_KIND_LENGTH, well->fresh_water_m).text, well->fresh_water_line);
        break;
    case DT_SWITCH_INTERVAL: {
        static const char *const actions[] = {[DT_CASE_OFF] = "must be behind pipe",
                                              [DT_CASE_ABOVE] = "needs a shoe above it",
                                              [DT_AVOID_SHOE] = "must hold no shoe"};
        const dt_interval *at = &well->intervals[item->index];
        say(&s, "%.120s, %s to %s, %s (well file line %d)", at->name,
            show(display, DT_KIND_LENGTH, at->top_m).text,
            show(display, DT_KIND_LENGTH, at->base_m).text, actions[at->action], at->line);
        break;
    }
    case DT_SWITCH_PIN:
        say(&s, "what the %s pins of the %s %s",
            well->pins[item->index].line > 0 ? "well file" : "program",
            dt_role_text(well->pins[item->index].role),
            well->pins[item->index].type == DT_TIEBACK ? "tie-back" : "string");
        if (well->pins[item->index].line > 0) say(&s, " (line %d)", well->pins[item->index].line);
        break;
    case DT_SWITCH_COMPLETION:
        say(&s, "the completion needs pipe of %s in or more (well file line %d)",
            show_inches(well->min_pipe_od_m).text, well->objective_line);
        break;
    case DT_SWITCH_CLEARANCE:
        say(&s, "the gap asked for between hole and coupling");
        break;
    case DT_SWITCH_LOADS:
        say(&s, "the loads the pipe must hold with its design factors");
        break;
    }
    return sentence_take(&s, out);
}

/* ---- why not ---- */

static dt_status say_why_not(const dt_program *program, dt_display display, char **out)
{
    sentence s = {0};
    for (size_t i = 0; i < program->seats.broken_count; ++i) {
        char *why = NULL;
        if (dt_reason_sentence(&program->seats.broken[i].why, program->well, display, &why) !=
            DT_OK) {
            free(s.bytes);
            return DT_E_MEMORY;
        }
        say(&s, "%s%s", i ? "; " : "", why);
        free(why);
    }
    for (size_t i = 0; i < program->warning_count; ++i)
        if (strncmp(program->warnings[i].code, "pin-", 4) == 0 &&
            strcmp(program->warnings[i].code, "pin-breaks-rule") != 0)
            say(&s, "%s%s", s.length ? "; " : "", program->warnings[i].text);
    for (size_t k = 1; s.length == 0 && k + 1 < program->count; ++k) {
        char *why = NULL;
        if (dt_reason_sentence(&program->seats.items[k].why_shallowest, program->well, display,
                               &why) != DT_OK) {
            free(s.bytes);
            return DT_E_MEMORY;
        }
        /* the whole list of seats is the reason: each is needed because of the one below */
        say(&s, "%zu strings are needed: ", program->count);
        for (size_t n = k; n + 1 < program->count; ++n) {
            if (n > k && dt_reason_sentence(&program->seats.items[n].why_shallowest, program->well,
                                            display, &why) != DT_OK) {
                free(s.bytes);
                return DT_E_MEMORY;
            }
            say(&s, "%sa shoe at %s or deeper, since %s", n > k ? "; " : "",
                show(display, DT_KIND_LENGTH, program->seats.items[n].shallowest_m).text, why);
            free(why);
        }
    }
    return sentence_take(&s, out);
}

dt_status dt_why_not_sentence(const dt_verdict *verdict, dt_display display, char **out)
{
    *out = NULL;
    if (verdict->broken) return say_why_not(verdict->broken, display, out);
    if (!verdict->refusal.text) return DT_OK;
    sentence s = {0};
    say(&s, "%s", verdict->refusal.text);
    return sentence_take(&s, out);
}
