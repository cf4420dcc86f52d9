/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compare_words.h"
#include "review_table.h"
#include "tables.h"
#include "units.h"

/** Longest column of sizes, for its width. */
static int sizes_width(const dt_comparison *c)
{
    int widest = 10;
    for (size_t i = 0; i < c->count; ++i) {
        char text[256];
        int length = dt_option_sizes(&c->items[i].option, text, sizeof text);
        if (length > widest) widest = length;
    }
    return widest;
}

/** Columns that are shown where one of the programs has something in them. */
typedef struct columns {
    int width; /* of the sizes */
    bool second, short_holes;
} layout;

static layout layout_of(const dt_comparison *c)
{
    layout out = {.width = sizes_width(c)};
    for (size_t i = 0; i < c->count; ++i) {
        out.second = out.second || dt_compared_standing(c, i)->second > 0;
        out.short_holes = out.short_holes || dt_compared_standing(c, i)->short_holes > 0;
    }
    return out;
}

static void say_row(sentence *s, const dt_comparison *c, size_t index, const layout *columns)
{
    const dt_compared *one = &c->items[index];
    const dt_standing *standing = dt_compared_standing(c, index);
    char sizes[256];
    const dt_option *o = &one->option, *chosen = &c->items[0].option;
    dt_option_sizes(o, sizes, sizeof sizes);
    say(s, "%-5s %-*s %7zu %7s %11u", one->label, columns->width, sizes, dt_option_strings(o),
        show_inches(o->last_od_m).text, o->spares);
    if (columns->second) say(s, " %3u", standing->second);
    if (columns->short_holes) say(s, " %5u", standing->short_holes);
    if (c->drawn > 0)
        say(s, " %4.0f %% %4.0f %%", dt_comparison_percent(c, one->held),
            dt_comparison_percent_by_all(c, one->held, &one->of_all));
    say(s, " %8.1f %7.1f", o->steel_kg / 1000, o->days);
    if (c->well->prices_given) say(s, " %13.0f %+13.0f", o->cost, o->cost - chosen->cost);
    if (one->like > 1) say(s, "  (%zu alike)", one->like);
    if (one->dominated_by) say(s, "  dominated");
    if (!dt_program_runnable(one->program)) say(s, "  NOT RUNNABLE");
    say(s, "\n");
}

static void say_head(sentence *s, const dt_comparison *c, const layout *columns)
{
    say(s, "%-5s %-*s %7s %7s %11s", "", columns->width, "pipe, in", "strings", "last",
        "contingency");
    if (columns->second) say(s, " 2nd");
    if (columns->short_holes) say(s, " short");
    if (c->drawn > 0) say(s, "  seats  holds");
    say(s, " %8s %7s", "steel t", "days");
    if (c->well->prices_given) say(s, " %13s %13s", "cost", "difference");
    say(s, "\n");
}

/** What the columns mean that have no words of their own. */
static void say_legend(sentence *s, const dt_comparison *c, const layout *columns)
{
    if (c->drawn > 0)
        say(s,
            "seats: in so many of %zu wells drawn from the spreads the seats hold; holds: all "
            "stages, in "
            "as large a part\nof those as of the first %zu (docs/odds.md).\n",
            c->drawn, c->asked);
    if (columns->second)
        say(s, "2nd: pairs of hole and pipe of the second order (docs/nest.md).\n");
    if (columns->short_holes) say(s, "short: holes of less kick tolerance than is asked for.\n");
}

/** What there is to say of an item, behind two blanks; nothing where that is nothing. */
static void say_sentence(sentence *s, dt_item_sentence *of, const dt_comparison *c, size_t index,
                         dt_display display)
{
    char *text = NULL;
    if (of(c, index, display, &text) != DT_OK)
        s->failed = true;
    else if (*text)
        say(s, "  %s", text);
    free(text);
}

/** The same on a line of its own. */
static void say_line(sentence *s, dt_item_sentence *of, const dt_comparison *c, size_t index,
                     dt_display display)
{
    const size_t before = s->length;
    say_sentence(s, of, c, index, display);
    if (s->length > before) say(s, "\n");
}

static void say_note(sentence *s, const dt_comparison *c, size_t index, dt_display display)
{
    char *text = NULL;
    if (dt_comparison_note(c, index, display, &text) != DT_OK)
        s->failed = true;
    else
        say_clean(s, text);
    say(s, "\n");
    free(text);
}

/** What certainty costs, from less to more of it. */
static void say_certainty(sentence *s, const dt_comparison *c)
{
    const dt_certainty *all = c->certainty, *planned = &all[DT_CERTAIN_PLANNED];
    if (!planned->given) return;
    say(s,
        "\nWhat certainty costs: %zu wells drawn from the spreads asked by the rules of seats, the "
        "first %zu by all stages\n",
        c->drawn, c->asked);
    say(s, "%-17s %7s %6s %6s %8s %7s", "", "strings", "seats", "holds", "steel t", "days");
    if (c->well->prices_given) say(s, " %13s %13s", "cost", "difference");
    say(s, "\n");
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_option *o = &all[i].option;
        if (!all[i].given) {
            say(s, "%-17s none was found that closes\n", dt_certainty_text((dt_certainty_step)i));
            continue;
        }
        say(s, "%-17s %7zu %4.0f %% %4.0f %% %8.1f %7.1f", dt_certainty_text((dt_certainty_step)i),
            dt_option_strings(o), dt_comparison_percent(c, all[i].held),
            dt_comparison_percent_by_all(c, all[i].held, &all[i].of_all), o->steel_kg / 1000,
            o->days);
        if (c->well->prices_given)
            say(s, " %13.0f %+13.0f", o->cost, o->cost - planned->option.cost);
        say(s, "\n");
    }
}

/** The same with a string carried for the one hole that fails. */
static void say_contingent(sentence *s, const dt_comparison *c)
{
    if (!c->certainty[DT_CERTAIN_PLANNED].given) return;
    say(s, "\nWith a string more carried for the one hole that fails (docs/costing.md)\n");
    say(s, "%-17s %9s %9s %9s", "", "holds", "set in", "neither");
    if (c->well->prices_given)
        say(s, " %13s %9s %11s %11s %11s", "expected", "+-", "P10", "P50", "P90");
    say(s, "\n");
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_contingent *k = &c->certainty[i].contingent;
        if (!c->certainty[i].given) continue;
        say(s, "%-17s %7.1f %% %7.1f %% %7.1f %%", dt_certainty_text((dt_certainty_step)i),
            dt_comparison_percent(c, k->held), dt_comparison_percent(c, k->set),
            dt_comparison_percent(c, k->of - k->held - k->set));
        if (isfinite(k->cost.expected))
            say(s, " %13.0f %9.0f %11.0f %11.0f %11.0f", k->cost.expected, k->cost.error,
                k->cost.tenths[0], k->cost.tenths[1], k->cost.tenths[2]);
        if (k->slim > 0)
            say(s, "  %.1f %% end slimmer than the completion needs",
                dt_comparison_percent(c, k->slim));
        say(s, "\n");
    }
    say(s,
        "Costs are of the wells in which it holds or is mended; +- is one standard error; a tenth "
        "of them cost\nno more than P10. A string that is carried and not set costs nothing "
        "here.\n");
}

/** Twins: one line for each way in which a string may hang. */
static void say_twins(sentence *s, const dt_comparison *c, dt_display display)
{
    if (c->twin_count == 0) return;
    say(s, "\nLiner or full string: the same shoes, holes and sizes, all pipe chosen anew\n");
    say(s, "%-32s %-17s %8s %7s", "", "", "steel t", "days");
    if (c->well->prices_given) say(s, " %13s %13s", "cost", "difference");
    say(s, "\n");
    for (size_t i = 0; i < c->twin_count; ++i) {
        const dt_twin *t = &c->twins[i];
        const dt_compared *of = &c->items[t->item];
        char name[64] = "";
        if (t->as == DT_RUN_FULL) dt_twin_string_name(c, i, name, sizeof name); /* the first */
        say(s, "%-5s %-26s %-17s", *name ? of->label : "", name, dt_hanging_text(t->as));
        if (t->built)
            say(s, " %8.1f %7.1f", t->option.steel_kg / 1000, t->option.days);
        else
            say(s, " %8s %7s", "-", "-");
        if (c->well->prices_given && t->built)
            say(s, " %13.0f %+13.0f", t->option.cost, t->option.cost - of->option.cost);
        else if (c->well->prices_given)
            say(s, " %13s %13s", "-", "-");
        if (t->present) say(s, "  as it is");
        say_sentence(s, dt_twin_sentence, c, i, display);
        say(s, "\n");
    }
}

/** Shoes of the options of one structure: a depth, or the range they take. */
static void say_seats(sentence *s, const dt_comparison *c, const dt_compared *one,
                      dt_display display)
{
    say(s, "  shoes TVD: ");
    for (size_t k = 0; k < one->option.count; ++k) {
        double low = one->option.strings[k].shoe_m, high = low;
        if (one->like > 0) {
            const dt_structure *kind =
                &c->options.structures[c->options.items[one->rank - 1].structure];
            low = kind->shallowest_m[k];
            high = kind->deepest_m[k];
        }
        say(s, k ? ", " : "");
        say(s, "%s", show(display, DT_KIND_LENGTH, one->option.strings[k].shoe_m).text);
        if (high - low > 0.01)
            say(s, " (%s to %s)", show(display, DT_KIND_LENGTH, low).text,
                show(display, DT_KIND_LENGTH, high).text);
    }
    say(s, "\n");
}

static void say_lines(sentence *s, const dt_comparison *c, const dt_compared *one)
{
    const dt_bill *now = &one->program->bill, *was = &c->items[0].program->bill;
    bool any = false;
    for (int i = 0; i < DT_COST_COUNT; ++i) {
        double difference = now->cost[i] - was->cost[i];
        if (fabs(difference) < 0.5) continue;
        say(s, "%s%s %+.0f", any ? ", " : "  lines: ", dt_cost_key((dt_cost)i), difference);
        any = true;
    }
    for (int i = 0; i < DT_HOURS_COUNT; ++i) {
        double difference = now->hours[i] - was->hours[i];
        if (fabs(difference) < 0.05) continue;
        say(s, "%s%s %+.1f h", any ? ", " : "  lines: ", dt_hours_key((dt_hours)i), difference);
        any = true;
    }
    if (any) say(s, "\n");
}

static dt_status say_contingencies(sentence *s, const dt_comparison *c)
{
    if (c->well->interval_count > 0) say(s, "\nIf it must be cased off early\n");
    for (size_t i = 0; i < c->well->interval_count; ++i) {
        char *text = NULL;
        dt_status status =
            dt_contingency_sentence(c->items[0].program, i, &c->contingencies[i], &text);
        if (status != DT_OK) return status;
        say(s, "  ");
        say_clean(s, text);
        say(s, "\n");
        free(text);
    }
    return DT_OK;
}

dt_status dt_write_comparison_table(const dt_comparison *c, dt_display display, dt_text *out)
{
    sentence s = {0};
    const layout columns = layout_of(c);
    say_clean(&s, c->well->name);
    if (c->options.count > 0)
        say(&s, ": %zu options of %zu kinds that no other program equals or beats in all\n",
            c->options.count, c->options.structure_count);
    else
        say(&s, ": no option closes\n");
    if (c->well->prices_given)
        say(&s, "Ranked by cost; prices are those of the well file.");
    else
        say(&s, "No <prices> in the well file: ranked by steel, then days; nothing is priced.");
    if (c->plan_rank) say(&s, " The plan is number %zu of them.", c->plan_rank);
    say(&s, "\n\n");
    say_head(&s, c, &columns);
    for (size_t i = 0; i < c->count; ++i)
        say_row(&s, c, i, &columns);
    if (c->left_out)
        say(&s, "%zu more kinds: see --json, which lists every option.\n", c->left_out);
    say_legend(&s, c, &columns);
    if (c->notes.count > 0) say(&s, "\n");
    for (size_t i = 0; i < c->notes.count; ++i)
        say_note(&s, c, i, display);
    say_certainty(&s, c);
    say_contingent(&s, c);
    say_twins(&s, c, display);
    for (size_t i = 0; i < c->count; ++i) {
        const dt_compared *one = &c->items[i];
        say(&s, "\n%s%s\n", one->label, i == 0 ? ", the chosen one" : "");
        say_seats(&s, c, one, display);
        if (dt_say_stoppers(&s, one->program, 2, DT_IN_SHORT, display) != DT_OK) s.failed = true;
        if (i == 0 && one->dominated_by)
            say(&s, "  option %zu of the list equals or beats it in all\n", one->dominated_by);
        if (i == 0 && c->plan_breaks_wish)
            say(&s,
                "  it breaks a limit in <wishes> of the well file: it is none of the options\n");
        if (i == 0) continue;
        say_line(&s, dt_changes_sentence, c, i, display);
        say_lines(&s, c, one);
        say_line(&s, dt_buys_sentence, c, i, display);
        say_line(&s, dt_risks_sentence, c, i, display);
    }
    dt_status status = say_contingencies(&s, c);
    if (status != DT_OK) {
        free(s.bytes);
        return status;
    }
    char *searched = NULL;
    if (dt_searched_sentence(c, display, &searched) != DT_OK) s.failed = true;
    say(&s, "\nSearched: %s\nProof: %s\n", searched ? searched : "", dt_proof_words());
    free(searched);
    say(&s, "\nPreliminary planning aid. Verify pressures and regulations locally; a licensed "
            "engineer\nreviews before anything is run.\n");
    size_t size = s.length;
    char *bytes = NULL;
    status = sentence_take(&s, &bytes);
    if (status == DT_OK) *out = (dt_text){bytes, size};
    return status;
}
