/* SPDX-License-Identifier: MIT */
#include "notice_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"
#include "sentence.h"

static const struct {
    const char *between, *template;
} templates[] = {
#define DT_NOTICE(name, code, severity, between, template) {between, template},
#include "notices.def"
#undef DT_NOTICE
};

/** What stands between braces: a name, and how it is shown. */
typedef struct slot {
    char name[32];
    char form; /* 'i' inches, 'm' money, '0' to '9' decimals, '!' nothing at all, 0 as is usual */
} slot;

/** Reads "{name:form}" at a brace; returns what follows it. */
static const char *read_slot(const char *at, slot *out)
{
    const char *end = strchr(at, '}');
    *out = (slot){.form = 0};
    ++at;
    if (*at == '!') {
        out->form = '!';
        ++at;
    }
    const char *colon = memchr(at, ':', (size_t)(end - at));
    if (colon) out->form = colon[1];
    snprintf(out->name, sizeof out->name, "%.*s", (int)((colon ? colon : end) - at), at);
    return end + 1;
}

static bool is_stated(const dt_notice *n, const slot *s)
{
    if (strcmp(s->name, "line") == 0) return n->line > 0;
    if (strcmp(s->name, "because") == 0) return n->because_count > 0;
    return dt_notice_find_name(n, s->name) || dt_notice_find_figure(n, s->name);
}

static dt_status say_notice(sentence *s, const dt_notice *n, const char *not_stated,
                            dt_display display);

static dt_status say_because(sentence *s, const dt_notice *n, dt_display display)
{
    for (size_t i = 0; i < n->because_count; ++i) {
        if (i > 0) say(s, "%s", templates[n->code].between);
        const dt_status status = say_notice(s, &n->because[i], " ", display);
        if (status != DT_OK) return status;
    }
    return DT_OK;
}

static void say_figure(sentence *s, const dt_figure *figure, char form, dt_display display)
{
    if (form == 'i')
        say(s, "%s", show_inches(figure->value).text);
    else if (strcmp(figure->name, "factor") == 0) /* as in tables: never rounded up */
        say(s, "%.2f", dt_shown_factor(figure->value));
    else if (form == 'm')
        say(s, "%s", show_money(figure->value).text);
    else if (figure->kind == DT_KIND_COUNT)
        say(s, "%.*f", form ? form - '0' : 6, figure->value);
    else if (form)
        say(s, "%.*f %s", form - '0', dt_display_value(display, figure->kind, figure->value),
            dt_display_unit(display, figure->kind));
    else
        say(s, "%s", show(display, figure->kind, figure->value).text);
}

static dt_status say_slot(sentence *s, const dt_notice *n, const slot *at, dt_display display)
{
    if (!is_stated(n, at)) return DT_E_DOMAIN;
    if (at->form == '!') return DT_OK;
    if (strcmp(at->name, "because") == 0) return say_because(s, n, display);
    const char *name = dt_notice_find_name(n, at->name);
    const dt_figure *figure = dt_notice_find_figure(n, at->name);
    if (name)
        say(s, "%s", name);
    else if (figure)
        say_figure(s, figure, at->form, display);
    else
        say(s, "%d", n->line);
    return DT_OK;
}

/** Does a part in brackets name only what is stated? */
static bool part_holds(const dt_notice *n, const char *at, const char *end)
{
    while ((at = memchr(at, '{', (size_t)(end - at))) != NULL) {
        slot s;
        at = read_slot(at, &s);
        if (!is_stated(n, &s)) return false;
    }
    return true;
}

/** Of the parts of a list the last one said leaves its comma. */
static void drop_comma(sentence *s)
{
    while (!s->failed && s->length > 0 && strchr(" ,", s->bytes[s->length - 1]))
        s->bytes[--s->length] = '\0';
}

/** A template to its end, or to the next bar; *next is what follows that, NULL at the end. */
static dt_status say_part(sentence *s, const dt_notice *n, const char *at, const char **next,
                          dt_display display)
{
    while (*at && *at != '|') {
        const size_t plain = strcspn(at, "[]{|");
        say(s, "%.*s", (int)plain, at);
        at += plain;
        if (*at == '[') {
            const char *end = strchr(at, ']');
            at = part_holds(n, at, end) ? at + 1 : end + 1;
        } else if (*at == ']') {
            ++at;
        } else if (*at == '{') {
            slot shown_here;
            at = read_slot(at, &shown_here);
            const dt_status status = say_slot(s, n, &shown_here, display);
            if (status != DT_OK) return status;
        }
    }
    drop_comma(s);
    *next = *at ? at + 1 : NULL;
    return DT_OK;
}

/** What was not stated, the words between it and the value taken, and in brackets where from; or a
 * sentence that has no such parts. */
static dt_status say_notice(sentence *s, const dt_notice *n, const char *not_stated,
                            dt_display display)
{
    const char *at = templates[n->code].template;
    dt_status status = DT_OK;
    for (int part = 0; at && status == DT_OK; ++part) {
        say(s, "%s", part == 0 ? "" : part == 1 ? not_stated : " (");
        status = say_part(s, n, at, &at, display);
        if (part == 2) say(s, ")");
    }
    return status;
}

dt_status dt_notice_words(const dt_notice *notice, dt_display display, char **out)
{
    sentence s = {0};
    const dt_status status = say_notice(&s, notice, " not stated, taken: ", display);
    if (status == DT_OK) return sentence_take(&s, out);
    free(s.bytes);
    return status;
}

dt_status dt_notice_part_words(const dt_notice *notice, dt_notice_part part, dt_display display,
                               char **out)
{
    sentence s = {0};
    const char *at = templates[notice->code].template;
    *out = NULL;
    for (int i = 0; at && i < (int)part; ++i) {
        at = strchr(at, '|');
        if (at) ++at;
    }
    if (!at) return DT_OK;
    const dt_status status = say_part(&s, notice, at, &at, display);
    if (status == DT_OK) return sentence_take(&s, out);
    free(s.bytes);
    return status;
}

dt_status dt_refusal_words(const dt_refusal *refusal, dt_display display, char **out)
{
    *out = NULL;
    return refusal->why.count > 0 ? dt_notice_words(&refusal->why.items[0], display, out) : DT_OK;
}

dt_status dt_reason_sentence(const dt_reason *reason, const dt_well *well, dt_display display,
                             char **out)
{
    const dt_notice notice = dt_reason_notice(reason, well);
    return dt_notice_words(&notice, display, out);
}

int dt_notice_where(const dt_program *program, const dt_notice *notice, char *buffer, size_t size)
{
    if (notice->string == DT_NO_STRING) return snprintf(buffer, size, "well");
    return dt_program_string_name(program, notice->string, buffer, size);
}

dt_status dt_cement_top_phrase(const dt_program *program, size_t index, dt_display display,
                               char **out)
{
    const dt_cement *c = &program->jobs[index].cement;
    const dt_well *well = program->well;
    const char *zone = NULL;
    double zone_m = NAN;
    if (c->zone_pay != DT_NO_INDEX) {
        zone = well->pays[c->zone_pay].name;
        zone_m = well->pays[c->zone_pay].top_m;
    } else if (c->zone_interval != DT_NO_INDEX) {
        zone = well->intervals[c->zone_interval].name;
        zone_m = well->intervals[c->zone_interval].top_m;
    }
    sentence s = {0};
    if (c->rule != DT_CEMENT_ABOVE_SHOE)
        say(&s, "%s", dt_cement_rule_words(c->rule));
    else if (zone)
        say(&s, "%s above %s, whose top is at %s TVD",
            show(display, DT_KIND_LENGTH, c->settings.above_shoe_m).text, zone,
            show(display, DT_KIND_LENGTH, zone_m).text);
    else
        say(&s, "%s above the shoe", show(display, DT_KIND_LENGTH, c->settings.above_shoe_m).text);
    return sentence_take(&s, out);
}

const char *dt_key_unit(dt_kind kind)
{
    static const char *const units[] = {[DT_KIND_LENGTH] = "ft",
                                        [DT_KIND_DIAMETER] = "in",
                                        [DT_KIND_DENSITY] = "ppg",
                                        [DT_KIND_PRESSURE] = "psi",
                                        [DT_KIND_LINEAR_MASS] = "lbft",
                                        [DT_KIND_FORCE] = "klbf",
                                        [DT_KIND_ANGLE] = "deg",
                                        [DT_KIND_VOLUME] = "bbl",
                                        [DT_KIND_YIELD] = "ft3_sk",
                                        [DT_KIND_FRACTION] = "percent",
                                        [DT_KIND_FLOW] = "bbl_min",
                                        [DT_KIND_TIME] = "h",
                                        [DT_KIND_SPEED] = "ft_min",
                                        [DT_KIND_VISCOSITY] = "cp",
                                        [DT_KIND_YIELD_POINT] = "lbf_100ft2"};
    return kind < DT_KIND_COUNT ? units[kind] : "";
}
