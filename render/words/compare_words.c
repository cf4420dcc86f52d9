/* SPDX-License-Identifier: MIT */
/* Pros and cons of options beside the chosen program, and what was searched, as sentences. */
#include "compare_words.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "notice_words.h"
#include "same.h"
#include "sentence.h"
#include "units.h"

int dt_option_sizes(const dt_option *option, char *buffer, size_t size)
{
    int used = 0;
    if (size > 0) buffer[0] = '\0';
    for (size_t k = 0; k < option->count; ++k) {
        size_t at = (size_t)used < size ? (size_t)used : size;
        const dt_choice *c = &option->strings[k];
        used += snprintf(buffer + at, size - at, "%s%s%s", k ? " / " : "",
                         show_inches(c->pipe->od_m).text,
                         c->tied_back          ? " liner, tied back"
                         : c->type == DT_LINER ? " liner"
                                               : "");
    }
    return used;
}

static const char *currency(const dt_well *well)
{
    return well->prices.currency ? well->prices.currency : "(currency of the prices)";
}

/** A list in words: "a, b; c". */
static void item(sentence *s, bool *any)
{
    say(s, *any ? "; " : "");
    *any = true;
}

/* ---- the pros and cons of an option ---- */

/** Totals in which `a` is better than `b`, in words; the other way round they are losses. */
static void say_totals(sentence *s, const dt_well *well, const dt_option *a, const dt_option *b,
                       bool gain, bool *any)
{
    double cost = b->cost - a->cost, steel = (b->steel_kg - a->steel_kg) / 1000;
    double days = b->days - a->days;
    if (well->prices_given && cost >= 0.5) {
        item(s, any);
        say(s, "%s %s %s", gain ? "saves" : "costs", show_money(cost).text, currency(well));
        if (!gain) say(s, " more");
    }
    if (steel >= 0.05) {
        item(s, any);
        say(s, "%.1f t %s steel", steel, gain ? "less" : "more");
    }
    if (days >= 0.05) {
        item(s, any);
        say(s, "%.1f days %s", days, gain ? "shorter" : "longer");
    }
    const size_t strings = dt_option_strings(a), more = dt_option_strings(b);
    if (strings < more) {
        item(s, any);
        say(s, "%zu string%s %s", more - strings, more - strings > 1 ? "s" : "",
            gain ? "fewer" : "more");
    }
    if (a->last_od_m > b->last_od_m + SAME_DIAMETER_M) {
        item(s, any);
        say(s, "leaves %s in at the objective instead of %s in",
            show_inches(gain ? a->last_od_m : b->last_od_m).text,
            show_inches(gain ? b->last_od_m : a->last_od_m).text);
    }
    if (a->spares > b->spares) {
        item(s, any);
        say(s, "%u contingency string%s %s", a->spares - b->spares,
            a->spares - b->spares > 1 ? "s" : "",
            gain ? "more would still nest" : "fewer would still nest");
    }
}

/** In more of the drawn wells; a hundredth of them is the noise of so many, of the
 * few asked of all stages a twentieth. By all stages, and by the rules of seats where those alone
 * tell them apart. */
static void say_certainty(sentence *s, const dt_comparison *c, const dt_compared *a,
                          const dt_compared *b, bool gain, bool *any)
{
    if (100 * a->of_all.by_all > 100 * b->of_all.by_all + 5 * c->asked) {
        item(s, any);
        say(s, "holds by all stages in %zu of %zu drawn wells rather than %zu",
            gain ? a->of_all.by_all : b->of_all.by_all, c->asked,
            gain ? b->of_all.by_all : a->of_all.by_all);
        return;
    }
    if (100 * a->held <= 100 * b->held + c->drawn) return;
    item(s, any);
    say(s, "its seats hold in %zu of %zu drawn wells rather than %zu", gain ? a->held : b->held,
        c->drawn, gain ? b->held : a->held);
}

static shown name_of(const dt_program *program, size_t index)
{
    shown out;
    dt_program_string_name(program, index, out.text, sizeof out.text);
    return out;
}

/** What its tie-back takes over from the string above a liner, once it is there. */
static void say_tieback(sentence *s, const dt_program *program, size_t index, dt_display display,
                        bool *any)
{
    const dt_program_string *liner = &program->items[index], *above = &program->items[index - 1];
    const dt_program_string *tie = &program->items[dt_seats_tieback_on(&program->seats, index)];
    const double taken = tie->string->load.surface_pressure_pa;
    const double left = above->string->load.surface_pressure_pa;
    const double heaviest = fmax(liner->job->running.hookload_filled_n, /* one after the other */
                                 tie->job->running.hookload_filled_n);
    item(s, any);
    say(s, "the tie-back on the %s in liner, not the %s in above it, stands what is ",
        show_inches(liner->od_m).text, show_inches(above->od_m).text);
    say(s, index + 1 == program->count ? "produced" : "drilled deeper");
    if (taken > 0)
        say(s, " (gas to surface %s; %s is left to the %s in)",
            show(display, DT_KIND_PRESSURE, taken).text,
            show(display, DT_KIND_PRESSURE, fmax(left, 0)).text, show_inches(above->od_m).text);
    say(s, "; run in two parts, the heavier hangs with %s on the hook",
        show(display, DT_KIND_FORCE, heaviest).text);
}

/** What can go wrong with it. */
static void say_tieback_risk(sentence *s, const dt_program *program, size_t index,
                             dt_display display, bool *any)
{
    const dt_program_string *tie = &program->items[dt_seats_tieback_on(&program->seats, index)];
    item(s, any);
    say(s,
        "the tie-back stands in seals at %s MD that must hold for as long as it does, is not "
        "cemented, and takes a wellhead stage of its own; until it is run, the hole of its liner "
        "is carried by the %s in above",
        show(display, DT_KIND_LENGTH, tie->shoe_md_m).text,
        show_inches(program->items[index - 1].od_m).text);
}

/** What a liner moves onto the string above it. */
static void say_liner(sentence *s, const dt_program *chosen, const dt_program *program,
                      const dt_difference *d, dt_display display, bool *any)
{
    const size_t index = d->string;
    const dt_program_string *liner = &program->items[index], *above = &program->items[index - 1];
    item(s, any);
    say(s, "the %s in above the %s liner also stands what is drilled",
        show_inches(above->od_m).text, show_inches(liner->od_m).text);
    if (index + 1 == program->count) say(s, " and produced");
    say(s, " through it");
    double pressure = above->string->load.surface_pressure_pa;
    double before =
        d->was == DT_NO_INDEX ? NAN : chosen->items[d->was].string->load.surface_pressure_pa;
    if (isfinite(pressure) && pressure > 0) {
        say(s, " (gas to surface %s", show(display, DT_KIND_PRESSURE, pressure).text);
        if (isfinite(before) && fabs(before - pressure) > 1000)
            say(s, ", in the chosen program %s", show(display, DT_KIND_PRESSURE, before).text);
        say(s, ")");
    }
    say(s, ", and the lap of %s from %s MD must be tested",
        show(display, DT_KIND_LENGTH, above->shoe_md_m - liner->top_md_m).text,
        show(display, DT_KIND_LENGTH, liner->top_md_m).text);
}

dt_status dt_buys_sentence(const dt_comparison *c, size_t index, dt_display display, char **out)
{
    sentence s = {0};
    bool any = false;
    const dt_compared *one = &c->items[index];
    say(&s, "Pros: ");
    say_totals(&s, c->well, &one->option, &c->items[0].option, true, &any);
    say_certainty(&s, c, one, &c->items[0], true, &any);
    for (size_t i = 0; i < one->difference_count; ++i) {
        const dt_difference *d = &one->differences[i];
        if (d->kind != DT_NEWLY_HUNG) continue;
        item(&s, &any);
        say(&s, "no %s pipe above %s MD", name_of(one->program, d->string).text,
            show(display, DT_KIND_LENGTH, one->program->items[d->string].top_md_m).text);
    }
    for (size_t i = 0; i < one->difference_count; ++i)
        if (one->differences[i].kind == DT_NEWLY_TIED)
            say_tieback(&s, one->program, one->differences[i].string, display, &any);
    say(&s, any ? "." : "nothing over the chosen program.");
    if (one->tapers) {
        say(&s, " With several lengths of pipe a string instead of one: %.1f t less steel",
            (one->searched.steel_kg - one->option.steel_kg) / 1000);
        if (c->well->prices_given)
            say(&s, ", %s %s less", show_money(one->searched.cost - one->option.cost).text,
                currency(c->well));
        say(&s, "; counted here.");
    }
    return sentence_take(&s, out);
}

dt_status dt_risks_sentence(const dt_comparison *c, size_t index, dt_display display, char **out)
{
    sentence s = {0};
    bool any = false;
    const dt_compared *one = &c->items[index];
    say(&s, "Cons: ");
    say_totals(&s, c->well, &c->items[0].option, &one->option, false, &any);
    say_certainty(&s, c, &c->items[0], one, false, &any);
    for (size_t i = 0; i < one->difference_count; ++i)
        if (one->differences[i].kind == DT_NEWLY_HUNG)
            say_liner(&s, c->items[0].program, one->program, &one->differences[i], display, &any);
    for (size_t i = 0; i < one->difference_count; ++i)
        if (one->differences[i].kind == DT_NEWLY_TIED)
            say_tieback_risk(&s, one->program, one->differences[i].string, display, &any);
    say(&s, any ? "." : "nothing more than the chosen program.");
    return sentence_take(&s, out);
}

static void say_pipe(sentence *s, const dt_program_string *item_, dt_display display)
{
    const dt_pipe *pipe = item_->string->sections[0].pipe;
    size_t lengths = item_->string->section_count;
    say(s, "%s in %s %s", show_inches(item_->od_m).text,
        show(display, DT_KIND_LINEAR_MASS, pipe->weight_kgm).text, pipe->grade->name);
    if (lengths > 1) say(s, " and %zu more below", lengths - 1);
}

/** The tie-back on a string, or NULL. */
static const dt_program_string *tieback_on(const dt_program *program,
                                           const dt_program_string *item_)
{
    const size_t tie = dt_seats_tieback_on(&program->seats, (size_t)(item_ - program->items));
    return tie == DT_NO_INDEX ? NULL : &program->items[tie];
}

static void say_string(sentence *s, const dt_program *program, const dt_program_string *item_,
                       dt_display display)
{
    say_pipe(s, item_, display);
    say(s, " %s in %s in hole, shoe %s", item_->seat->type == DT_LINER ? "liner" : "full string",
        show_inches(item_->hole_m).text, show(display, DT_KIND_LENGTH, item_->shoe_tvd_m).text);
    const dt_program_string *tie = tieback_on(program, item_);
    if (!tie) return;
    say(s, ", tied back with ");
    say_pipe(s, tie, display);
}

dt_status dt_changes_sentence(const dt_comparison *c, size_t index, dt_display display, char **out)
{
    sentence s = {0};
    bool any = false;
    const dt_compared *one = &c->items[index];
    const dt_program *program = one->program, *chosen = c->items[0].program;
    for (size_t i = 0; i < one->difference_count; ++i) {
        const dt_difference *d = &one->differences[i];
        if (d->kind == DT_NEWLY_HUNG || d->kind == DT_NEWLY_TIED) continue;
        item(&s, &any);
        if (d->kind == DT_LACKING) {
            say(&s, "no %s", name_of(chosen, d->was).text);
            continue;
        }
        say(&s, "%s: ", name_of(program, d->string).text);
        say_string(&s, program, &program->items[d->string], display);
        say(&s, d->kind == DT_CHANGED ? " (chosen: " : " (not in the chosen program)");
        if (d->kind == DT_ADDED) continue;
        say_string(&s, chosen, &chosen->items[d->was], display);
        say(&s, ")");
    }
    return sentence_take(&s, out);
}

/* ---- twins and notes ---- */

static dt_status say_fact(sentence *s, const dt_notice *fact, dt_display display)
{
    char *text = NULL;
    const dt_status status = dt_notice_words(fact, display, &text);
    if (status == DT_OK) say(s, "%s", text);
    free(text);
    return status;
}

int dt_twin_string_name(const dt_comparison *c, size_t index, char *buffer, size_t size)
{
    const dt_twin *t = &c->twins[index];
    const dt_program *program = c->items[t->item].program;
    return snprintf(buffer, size, "%s in %s", show_inches(program->items[t->string].od_m).text,
                    name_of(program, t->string).text);
}

dt_status dt_twin_sentence(const dt_comparison *c, size_t index, dt_display display, char **out)
{
    sentence s = {0};
    bool any = false;
    const dt_notices *why = &c->twins[index].why;
    for (size_t i = 0; i < why->count; ++i) {
        item(&s, &any);
        const dt_status status = say_fact(&s, &why->items[i], display);
        if (status == DT_OK) continue;
        free(s.bytes);
        return status;
    }
    return sentence_take(&s, out);
}

dt_status dt_comparison_note(const dt_comparison *c, size_t index, dt_display display, char **out)
{
    sentence s = {0};
    const dt_status status = say_fact(&s, &c->notes.items[index], display);
    if (status != DT_OK) {
        free(s.bytes);
        return status;
    }
    say(&s, ".");
    if (!s.failed) s.bytes[0] = (char)toupper((unsigned char)s.bytes[0]);
    return sentence_take(&s, out);
}

/* ---- searched, and proved ---- */

dt_status dt_searched_sentence(const dt_comparison *c, dt_display display, char **out)
{
    const dt_options *o = &c->options;
    const dt_well *well = c->well;
    sentence s = {0};
    bool tied = false;
    for (size_t i = 0; i < o->count; ++i)
        tied = tied || o->items[i].tiebacks > 0;
    say(&s,
        "%zu to %zu strings, tie-backs counted, each of one weight, grade and thread; %zu "
        "candidate depths for shoes "
        "(every %s and every depth that "
        "governs), %zu sections between them that one mud drills; %zu partial programs made, of "
        "these %zu beaten by another of their own state, %zu cut because even the least their "
        "upper part can take is beaten by a finished program, %zu kept.",
        o->fewest_strings, o->most_strings, o->seat_count,
        show(display, DT_KIND_LENGTH, o->seat_step_m).text, o->section_count, o->made, o->dominated,
        o->bounded, o->kept);
    if (o->step_widened)
        say(&s, " The step is wider than usual: this well leaves so much room that a finer one "
                "would take minutes.");
    if (o->not_rounded)
        say(&s, " No program has all shoes on the steps that round_to asks for: they stand at "
                "exact depths, too.");
    if (o->bends_left_out)
        say(&s, " The tables have too many points for each to be a candidate depth.");
    if (tied && well->prices_given && isnan(well->prices.receptacle))
        say(&s, " Tie-backs are priced without a receptacle: <prices> has no price of one.");
    if (c->outdone)
        say(&s,
            " Of the programs found, %zu %s left out: counted with several lengths of pipe a "
            "string, or beside the plan, another equals or beats %s in all.",
            c->outdone, c->outdone > 1 ? "are" : "is", c->outdone > 1 ? "them" : "it");
    if (c->alike)
        say(&s,
            " %zu more differ%s from one of these in seats by less than these are rounded to, and "
            "%s left out.",
            c->alike, c->alike > 1 ? "" : "s", c->alike > 1 ? "are" : "is");
    if (c->not_planned)
        say(&s,
            " %zu more were found, but are not listed: they were too many to be planned in full.",
            c->not_planned);
    if (c->stopped)
        say(&s, " What only a program that has a stopper beats in all was not looked at again.");
    for (size_t i = 0; i < well->pin_count; ++i)
        if (well->pins[i].role == DT_PRODUCTION && well->pins[i].type != DT_TIEBACK &&
            well->pins[i].od_m < well->min_pipe_od_m - SAME_DIAMETER_M)
            say(&s,
                " The completion needs %s in or more (well file line %d); the pin of %s in (line "
                "%d) stays in every option.",
                show_inches(well->min_pipe_od_m).text, well->objective_line,
                show_inches(well->pins[i].od_m).text, well->pins[i].line);
    if (!o->most_by_wish)
        say(&s, " The number of strings was limited to one more than the fewest, since "
                "<wishes> states no limit.");
    return sentence_take(&s, out);
}

const char *dt_proof_words(void)
{
    return "Label dominance over a layered graph, bottom-up. What the strings above ask of a lower "
           "part "
           "is its shoe, the bit that must pass and the surface pressure it sends up (where the "
           "well has "
           "loads that need more: the chain of shoes down to the next full string or tie-back, "
           "past which "
           "nothing loads what is above), and nothing else; "
           "money, steel, time and contingency strings are sums over strings. So a lower part that "
           "another of "
           "the "
           "same shoe and bit equals or beats in all of these, pressure included, can be replaced "
           "by it "
           "under any upper part, and is dropped. A part is also dropped when its sums plus the "
           "least "
           "any upper part can add are no better than a finished program. Nothing else is left "
           "out; of "
           "programs equal in all criteria one is kept.";
}

dt_status dt_contingency_sentence(const dt_program *program, size_t interval,
                                  const dt_contingency *c, char **out)
{
    sentence s = {0};
    const char *name = program->well->intervals[interval].name;
    if (c->in_hole_of == DT_NO_INDEX)
        say(&s, "%s: the well does not drill through it.", name);
    else if (c->above == DT_NO_INDEX)
        say(&s, "%s: the conductor stands through it.", name);
    else if (c->nests)
        say(&s,
            "%s, cased off early: a contingency string, %s in in %s in hole, nests below the %s, "
            "and "
            "nothing below it changes.",
            name, show_inches(c->od_m).text, show_inches(c->hole_m).text,
            name_of(program, c->above).text);
    else if (c->nests_smaller)
        say(&s,
            "%s, cased off early: no contingency string nests with the strings below as planned; "
            "with a %s in "
            "string in %s in hole below the %s, %s in is the largest pipe left at the objective, "
            "where %s in is planned%s.",
            name, show_inches(c->smaller_od_m).text, show_inches(c->smaller_hole_m).text,
            name_of(program, c->above).text, show_inches(c->last_od_m).text,
            show_inches(program->items[program->count - 1].od_m).text,
            c->last_od_m < program->well->min_pipe_od_m - SAME_DIAMETER_M
                ? ", and the completion needs more"
                : "");
    else
        say(&s, "%s, cased off early: no contingency string nests, whatever is given up below.",
            name);
    return sentence_take(&s, out);
}
