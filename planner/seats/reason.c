/* SPDX-License-Identifier: MIT */
/* A reason as a sentence. Part of stage 3, seats.h. */
#include <math.h>
#include <stdlib.h>

#include "seats.h"
#include "sentence.h"

static void say_both_sides(sentence *s, const dt_reason *r, dt_display display)
{
    say(s, "%s is needed, %s is there", show(display, r->kind, r->need).text,
        show(display, r->kind, r->have).text);
}

static void say_mud(sentence *s, const dt_reason *r, dt_display display)
{
    if (isnan(r->mud_kgm3)) return;
    say(s, "; the mud %s is set by the %s at %s", show(display, DT_KIND_DENSITY, r->mud_kgm3).text,
        r->mud_by_collapse ? "collapse gradient" : "pore pressure",
        show(display, DT_KIND_LENGTH, r->mud_tvd_m).text);
}

static void say_section(sentence *s, const dt_reason *r, dt_display display)
{
    if (isnan(r->section_top_m) || isnan(r->section_base_m)) return;
    say(s, " while drilling %s to %s", show(display, DT_KIND_LENGTH, r->section_top_m).text,
        show(display, DT_KIND_LENGTH, r->section_base_m).text);
}

static const char *interval_name(const dt_reason *r, const dt_well *well)
{
    return r->interval < well->interval_count ? well->intervals[r->interval].name : "interval";
}

static void say_rule(sentence *s, const dt_reason *r, const dt_well *well, dt_display display)
{
    shown at = show(display, DT_KIND_LENGTH, r->tvd_m);
    switch (r->rule) {
    case DT_RULE_MUD_LIMIT:
    case DT_RULE_KICK_FIXED:
    case DT_RULE_KICK_DEPTH_RATIO:
        say(s, "%s at %s TVD: ", dt_rule_words(r->rule), at.text);
        say_both_sides(s, r, display);
        say_section(s, r, display);
        say_mud(s, r, display);
        break;
    case DT_RULE_STICKING_NORMAL:
    case DT_RULE_STICKING_ABNORMAL:
        say(s, "%s at %s TVD: the overbalance is %s, the limit %s", dt_rule_words(r->rule), at.text,
            show(display, r->kind, r->need).text, show(display, r->kind, r->have).text);
        say_section(s, r, display);
        say_mud(s, r, display);
        break;
    case DT_RULE_INFLUX_VOLUME:
        say(s, "%s at %s TVD: ", dt_rule_words(r->rule), at.text);
        if (r->have <= 0)
            say(s, "%s is asked for, and none is borne", show(display, r->kind, r->need).text);
        else
            say_both_sides(s, r, display);
        say_section(s, r, display);
        say_mud(s, r, display);
        break;
    case DT_RULE_CASE_OFF:
        say(s, "%s must be behind pipe before the hole passes %s TVD", interval_name(r, well),
            show(display, r->kind, r->have).text);
        break;
    case DT_RULE_CASE_ABOVE:
        say(s, "a shoe must stand at %s TVD or deeper before %s is entered at %s TVD",
            show(display, r->kind, r->need).text, interval_name(r, well), at.text);
        break;
    case DT_RULE_AVOID_SHOE:
        say(s, "no shoe may stand inside %s; the nearest depth outside is %s TVD",
            interval_name(r, well), show(display, r->kind, r->need).text);
        break;
    case DT_RULE_FRESH_WATER:
        say(s, "fresh water with its cover reaches %s TVD and must be behind the surface string",
            at.text);
        break;
    default:
        say(s, "%s: %s TVD", dt_rule_words(r->rule), at.text);
    }
}

dt_status dt_reason_sentence(const dt_reason *reason, const dt_well *well, dt_display display,
                             char **out)
{
    sentence s = {0};
    say_rule(&s, reason, well, display);
    if (reason->line > 0) say(&s, " (well file line %d)", reason->line);
    return sentence_take(&s, out);
}
