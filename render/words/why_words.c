/* SPDX-License-Identifier: MIT */
/* Rules and inputs that forbid a what-if, in words. */
#include "why_words.h"
#include "rule_words.h"

#include "sentence.h"
#include "units.h"

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
        say(&s, "the clearance asked for between hole and coupling");
        break;
    case DT_SWITCH_LOADS:
        say(&s, "the loads the pipe must hold with its design factors");
        break;
    }
    return sentence_take(&s, out);
}
