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

static void say_row(sentence *s, const dt_comparison *c, const dt_compared *one, int width)
{
    char sizes[256];
    const dt_option *o = &one->option, *chosen = &c->items[0].option;
    dt_option_sizes(o, sizes, sizeof sizes);
    say(s, "%-5s %-*s %7zu %7s %6u %8.1f %7.1f", one->label, width, sizes, dt_option_strings(o),
        show_inches(o->last_od_m).text, o->spares, o->steel_kg / 1000, o->days);
    if (c->well->prices_given) say(s, " %13.0f %+13.0f", o->cost, o->cost - chosen->cost);
    if (one->like > 1) say(s, "  (%zu alike)", one->like);
    if (one->dominated_by) say(s, "  dominated");
    if (!dt_program_runnable(one->program)) say(s, "  NOT RUNNABLE");
    say(s, "\n");
}

static void say_head(sentence *s, const dt_comparison *c, int width)
{
    say(s, "%-5s %-*s %7s %7s %6s %8s %7s", "", width, "pipe, in", "strings", "last", "spares",
        "steel t", "days");
    if (c->well->prices_given) say(s, " %13s %13s", "cost", "difference");
    say(s, "\n");
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

/** A line of what there is to say of an item; nothing where that is nothing. */
static void say_sentence(sentence *s, dt_item_sentence *of, const dt_comparison *c, size_t index,
                         dt_display display)
{
    char *text = NULL;
    if (of(c, index, display, &text) != DT_OK)
        s->failed = true;
    else if (*text)
        say(s, "  %s\n", text);
    free(text);
}

dt_status dt_write_comparison_table(const dt_comparison *c, dt_display display, dt_text *out)
{
    sentence s = {0};
    int width = sizes_width(c);
    say_clean(&s, c->well->name);
    say(&s, ": %zu options of %zu kinds that no other program equals or beats in all\n",
        c->options.count, c->options.structure_count);
    if (c->well->prices_given)
        say(&s, "Ranked by cost; prices are those of the well file.");
    else
        say(&s, "No <prices> in the well file: ranked by steel, then days; nothing is priced.");
    if (c->plan_rank) say(&s, " The plan is number %zu of them.", c->plan_rank);
    say(&s, "\n\n");
    say_head(&s, c, width);
    for (size_t i = 0; i < c->count; ++i)
        say_row(&s, c, &c->items[i], width);
    if (c->left_out)
        say(&s, "%zu more kinds: see --json, which lists every option.\n", c->left_out);
    for (size_t i = 0; i < c->count; ++i) {
        const dt_compared *one = &c->items[i];
        say(&s, "\n%s%s\n", one->label, i == 0 ? ", the chosen one" : "");
        say_seats(&s, c, one, display);
        if (dt_say_stoppers(&s, one->program, 2, DT_IN_SHORT, display) != DT_OK) s.failed = true;
        if (i == 0 && one->dominated_by)
            say(&s, "  option %zu of the list equals or beats it in all\n", one->dominated_by);
        if (i == 0 && c->plan_breaks_wish)
            say(&s, "  it breaks a wish of the well file: it is none of the options\n");
        if (i == 0) continue;
        say_sentence(&s, dt_changes_sentence, c, i, display);
        say_lines(&s, c, one);
        say_sentence(&s, dt_buys_sentence, c, i, display);
        say_sentence(&s, dt_risks_sentence, c, i, display);
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
