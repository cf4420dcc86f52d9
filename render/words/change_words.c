/* SPDX-License-Identifier: MIT */
/* What differs between two programs, as sentences. */
#include "change_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "notice_words.h"
#include "same.h"
#include "sentence.h"

/** How each figure is called, and how it reads where there is none. */
static const struct {
    const char *name, *none, *behind;
} facts[DT_CHANGE_COUNT] = {
    [DT_CHANGE_STRINGS] = {"strings", "none", ""},
    [DT_CHANGE_STEEL] = {"steel", "none", ""},
    [DT_CHANGE_DAYS] = {"time", "none", ""},
    [DT_CHANGE_COST] = {"cost", "none", ""},
    [DT_CHANGE_SHOE] = {"shoe", "none", " MD"},
    [DT_CHANGE_TOP] = {"top", "none", " MD"},
    [DT_CHANGE_HOLE] = {"hole", "none", ""},
    [DT_CHANGE_SIZE] = {"casing", "none", ""},
    [DT_CHANGE_MUD] = {"mud", "none", ""},
    [DT_CHANGE_KICK] = {"kick tolerance", "not reckoned", ""},
    [DT_CHANGE_CEMENT] = {"top of cement", "not cemented", " MD"},
    [DT_CHANGE_CLASS] = {"wellhead class", "none", ""},
};

static shown name_of(const dt_program *program, size_t index)
{
    shown out;
    dt_program_string_name(program, index, out.text, sizeof out.text);
    return out;
}

static shown plain(const char *format, double value)
{
    shown out;
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
#endif
    snprintf(out.text, sizeof out.text, format, value);
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif
    return out;
}

/** One figure as people read it. */
static shown value_of(const dt_change_view *change, double value, dt_display display)
{
    if (isnan(value)) return plain(facts[change->what].none, 0);
    if (change->what == DT_CHANGE_STRINGS) return plain("%.0f", value);
    if (change->what == DT_CHANGE_STEEL) return plain("%.1f t", value / 1000);
    if (change->what == DT_CHANGE_DAYS) return plain("%.1f days", value);
    if (change->what == DT_CHANGE_COST) return show_money(value);
    if (change->what == DT_CHANGE_CLASS && value <= 0) return plain("a diverter", 0);
    if (change->kind == DT_KIND_DIAMETER) {
        shown out = show_inches(value);
        const size_t length = strlen(out.text);
        snprintf(out.text + length, sizeof out.text - length, " in");
        return out;
    }
    shown out = show(display, change->kind, value);
    const size_t length = strlen(out.text);
    snprintf(out.text + length, sizeof out.text - length, "%s", facts[change->what].behind);
    return out;
}

/** "+250 ft", "-0.30 ppg": by how much, where both figures are there; else nothing. */
static shown by_of(const dt_change_view *change, dt_display display)
{
    const double by = change->is_value - change->was_value;
    shown out = {""};
    if (isnan(by) || isinf(by) || change->what == DT_CHANGE_CLASS ||
        change->kind == DT_KIND_DIAMETER)
        return out;
    shown text = value_of(change, fabs(by), display);
    char *place = strstr(text.text, " MD");
    if (place) *place = '\0';
    snprintf(out.text, sizeof out.text, "%c%.46s", by < 0 ? '-' : '+', text.text);
    return out;
}

static void say_by(sentence *s, const dt_change_view *change, dt_display display)
{
    const shown by = by_of(change, display);
    if (by.text[0]) say(s, " (%s)", by.text);
}

/** "47.00 lb/ft L80 LTC to 5000 ft, 53.50 lb/ft ...": sections from the top down. */
static void say_pipe(sentence *s, const dt_program *program, size_t index, dt_display display)
{
    const dt_string *string = program->items[index].string;
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        say(s, "%s%s %s %s", i ? ", " : "",
            show(display, DT_KIND_LINEAR_MASS, section->pipe->weight_kgm).text,
            section->pipe->grade->name, dt_pipe_thread_text(section->pipe, section->thread));
        if (i + 1 < string->section_count)
            say(s, " to %s MD", show(display, DT_KIND_LENGTH, section->base_md_m).text);
    }
}

static void say_whole_string(sentence *s, const dt_program *program, size_t index,
                             dt_display display)
{
    const dt_program_string *item = &program->items[index];
    say(s, "%s in %s, ", show_inches(item->od_m).text, dt_string_type_text(item->seat->type));
    say_pipe(s, program, index, display);
    say(s, ", from %s to %s MD", show(display, DT_KIND_LENGTH, item->top_md_m).text,
        show(display, DT_KIND_LENGTH, item->shoe_md_m).text);
}

static dt_status say_notice(sentence *s, const dt_notice *notice, dt_display display)
{
    char *words = NULL;
    const dt_status status = dt_notice_words(notice, display, &words);
    if (status == DT_OK) say_clean(s, words);
    free(words);
    return status;
}

/** Figures that read the same are told as the same: their difference is under what is shown. */
static bool reads_the_same(const dt_change_view *change, dt_display display)
{
    return !change->notice && facts[change->what].name &&
           strcmp(value_of(change, change->was_value, display).text,
                  value_of(change, change->is_value, display).text) == 0;
}

static dt_status say_change(sentence *s, const dt_changes *c, const dt_change_view *change,
                            dt_display display)
{
    switch (change->what) {
    case DT_CHANGE_RUNNABLE:
        say(s, change->is_value > 0 ? "runnable, which it was not" : "NOT RUNNABLE, which it was");
        break;
    case DT_CHANGE_REMOVED:
        say(s, "no longer there: ");
        say_whole_string(s, c->was, change->was, display);
        break;
    case DT_CHANGE_ADDED:
        say(s, "new: ");
        say_whole_string(s, c->is, change->is, display);
        break;
    case DT_CHANGE_TYPE:
        say(s, "type: %s -> %s", dt_string_type_text(c->was->items[change->was].seat->type),
            dt_string_type_text(c->is->items[change->is].seat->type));
        break;
    case DT_CHANGE_PIPE:
        say(s, "pipe: ");
        say_pipe(s, c->was, change->was, display);
        say(s, " -> ");
        say_pipe(s, c->is, change->is, display);
        break;
    case DT_CHANGE_SETTLED:
    case DT_CHANGE_RAISED:
        say(s, "%s%s: ", change->what == DT_CHANGE_SETTLED ? "no longer " : "newly ",
            dt_notice_gravity(change->notice->code) == DT_STOPPER ? "a stopper" : "for review");
        return say_notice(s, change->notice, display);
    default:
        say(s, "%s: %s -> %s", facts[change->what].name,
            value_of(change, change->was_value, display).text,
            value_of(change, change->is_value, display).text);
        say_by(s, change, display);
    }
    return DT_OK;
}

dt_status dt_change_words(const dt_changes *changes, size_t index, dt_display display, char **out)
{
    sentence s = {0};
    const dt_change_view *change = &changes->items[index];
    *out = NULL;
    if (reads_the_same(change, display)) return DT_OK;
    dt_status status = say_change(&s, changes, change, display);
    if (status == DT_OK) return sentence_take(&s, out);
    free(s.bytes);
    return status;
}

void dt_change_where(const dt_changes *changes, size_t index, char *buffer, size_t size)
{
    const dt_change_view *change = &changes->items[index];
    const bool now = change->is != DT_NO_INDEX;
    if (!now && change->was == DT_NO_INDEX)
        snprintf(buffer, size, "well");
    else
        snprintf(buffer, size, "%s",
                 now ? name_of(changes->is, change->is).text
                     : name_of(changes->was, change->was).text);
}

void dt_change_brief(const dt_changes *changes, size_t index, dt_display display, char *buffer,
                     size_t size)
{
    const dt_change_view *change = &changes->items[index];
    buffer[0] = '\0';
    if (reads_the_same(change, display)) return;
    switch (change->what) {
    case DT_CHANGE_REMOVED:
        snprintf(buffer, size, "not in the other");
        break;
    case DT_CHANGE_ADDED:
        snprintf(buffer, size, "new");
        break;
    case DT_CHANGE_TYPE:
        snprintf(buffer, size, "was %s",
                 dt_string_type_text(changes->was->items[change->was].seat->type));
        break;
    case DT_CHANGE_SIZE:
    case DT_CHANGE_HOLE:
        snprintf(buffer, size, "%swas %s", change->what == DT_CHANGE_HOLE ? "hole " : "",
                 value_of(change, change->was_value, display).text);
        break;
    case DT_CHANGE_PIPE:
        snprintf(buffer, size, "other pipe");
        break;
    case DT_CHANGE_SHOE:
    case DT_CHANGE_TOP:
    case DT_CHANGE_MUD:
        snprintf(buffer, size, "%s %s", facts[change->what].name, by_of(change, display).text);
        break;
    default:
        break;
    }
}
