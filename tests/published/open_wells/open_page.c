/* SPDX-License-Identifier: MIT */
#include "open_page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_DIFFERENCE = 8, MOST_TOLD = 64 };

/* A sum of decimals in binary. */
#define SAME_SG 1e-9

static double share(size_t part, size_t all)
{
    return all > 0 ? 100 * (double)part / (double)all : 0;
}

static void count_pairs(open_tally *t, const open_figures *f)
{
    for (size_t i = 0; i < f->wells->count; ++i)
        for (size_t k = 0; k < f->wells->items[i].string_count; ++k) {
            const open_string *string = &f->wells->items[i].strings[k];
            ++t->pairs;
            t->pairs_allowed += open_pair_allowed(string, f->shelf, f->catalogue);
            t->holes_drilled += open_hole_drilled(string, f->catalogue);
        }
}

static int difference(const open_figures *f, size_t i)
{
    return (int)f->answers[i][OPEN_FREE].strings - (int)f->wells->items[i].string_count;
}

open_tally open_count(const open_figures *f)
{
    open_tally t = {.wells = f->wells->count};
    int sum = 0;
    for (size_t i = 0; i < t.wells; ++i) {
        const open_answer *a = f->answers[i];
        t.keep_kick += open_least_margin_sg(&f->wells->items[i]) >= OPEN_KICK_SG - SAME_SG;
        t.kick_planned += a[OPEN_WITH_KICK].planned;
        t.sound += f->sound[i];
        if (!f->sound[i]) continue;
        t.hold += a[OPEN_AS_DRILLED].holds;
        if (!a[OPEN_FREE].planned) continue;
        ++t.free_planned;
        t.same += difference(f, i) == 0;
        t.near += abs(difference(f, i)) <= 1;
        sum += difference(f, i);
    }
    t.mean_difference = t.free_planned > 0 ? (double)sum / (double)t.free_planned : 0;
    count_pairs(&t, f);
    return t;
}

/* ---- the page ---- */

static const char HEAD[] =
    "# Wells as they were drilled\n\n"
    "*Made by the test run; not to be written by hand. After a change: `cmake --build build "
    "--target "
    "open_wells_page`.*\n\n"
    "Rules can be exact and still not be those of the trade. So the planner is held against 151 "
    "vertical exploration wells on a\n"
    "shelf as they were drilled, with the shelf's [basis](basis.md) and not a value more. Source: "
    "Norwegian Petroleum\n"
    "Directorate, FactPages, snapshot of 2013-05-08, Norwegian Licence for Open Government Data; "
    "numbers only. Rows and their\n"
    "history are in [`tests/published/open_wells`](../tests/published/open_wells/README.md).\n\n"
    "## How the rows are read\n\n"
    "- *Pore pressure*: the mud while drilling less a trip margin of 0.05 sg, each reading in the "
    "hole it was taken in; sea\n"
    "  water above the first shoe with a leak-off. No pore pressure was recorded: the true one is "
    "lower wherever the mud was\n"
    "  heavier than it had to be.\n"
    "- *Fracture*: the leak-offs, straight in pressure between shoes, constant below the last; at "
    "the sea floor the water's\n"
    "  column and 0.03 sg.\n"
    "- *Objective*: the total depth. The last hole stays open where a hole was recorded below the "
    "last shoe, or where there\n"
    "  are more than 100 m of it; else the objective is the last shoe.\n"
    "- *BOP*: at the sea floor where the rig recorded floats (semisubmersible, drill ship), else "
    "at the surface.\n"
    "- *Pins*: roles by order, shoe, hole and pipe as recorded, \"liner\" where recorded. Weight "
    "and "
    "grade were not recorded.\n"
    "- *Left out*: wells with a mud over the leak-off of the shoe above, in questions 1 and 2. No "
    "program holds there by the\n"
    "  figures recorded.\n\n";

static void write_row(FILE *out, const char *question, const char *figure, const char *target)
{
    fprintf(out, "| %s | %s | %s |\n", question, figure, target);
}

static void write_figures(FILE *out, const open_tally *t)
{
    char text[160];
    fputs("## Figures\n\n| question | figure | target |\n|---|---|---|\n", out);
    snprintf(text, sizeof text, "%zu of %zu (%.0f %%)", t->hold, t->sound,
             share(t->hold, t->sound));
    write_row(
        out,
        "1. As drilled, all pinned, no kick margin: a program of just these strings, no stopper",
        text, "75 %");
    snprintf(text, sizeof text, "%zu of %zu (%.0f %%)", t->free_planned, t->sound,
             share(t->free_planned, t->sound));
    write_row(out, "2. Nothing pinned but the conductor's depth: a program exists", text, "");
    snprintf(text, sizeof text, "%zu of %zu (%.0f %%)", t->near, t->sound,
             share(t->near, t->sound));
    write_row(out, "&nbsp;&nbsp;&nbsp;as many strings as were run, or one off", text, "85 %");
    snprintf(text, sizeof text, "%zu (%.0f %%)", t->same, share(t->same, t->sound));
    write_row(out, "&nbsp;&nbsp;&nbsp;as many as were run", text, "");
    snprintf(text, sizeof text, "%+.2f", t->mean_difference);
    write_row(out, "&nbsp;&nbsp;&nbsp;planned less run, mean", text, "within 0.5");
    snprintf(text, sizeof text, "%zu of %zu", t->kick_planned, t->wells);
    char target[64];
    snprintf(target, sizeof target, "%zu, as many as kept it at every shoe", t->keep_kick);
    write_row(out, "3. As 2, with a kick margin of 0.06 sg (0.5 ppg), all wells: a program exists",
              text, target);
    snprintf(text, sizeof text, "%zu of %zu (%.1f %%)", t->pairs_allowed, t->pairs,
             share(t->pairs_allowed, t->pairs));
    write_row(out, "4. Pipe that clears the hole it was run in, by the gaps of the nest", text,
              "99 %");
    snprintf(text, sizeof text, "%zu of %zu", t->holes_drilled, t->pairs);
    write_row(out, "&nbsp;&nbsp;&nbsp;holes of the size of a bit or hole opener in the catalogue",
              text, "");
    fputc('\n', out);
}

static void write_differences(FILE *out, const open_figures *f)
{
    size_t counts[2 * MOST_DIFFERENCE + 1] = {0};
    for (size_t i = 0; i < f->wells->count; ++i)
        if (f->sound[i] && f->answers[i][OPEN_FREE].planned)
            ++counts[difference(f, i) + MOST_DIFFERENCE];
    fputs("Strings planned less run, question 2:\n\n| difference | wells |\n|---|---|\n", out);
    for (int d = -MOST_DIFFERENCE; d <= MOST_DIFFERENCE; ++d)
        if (counts[d + MOST_DIFFERENCE] > 0)
            fprintf(out, "| %+d | %zu |\n", d, counts[d + MOST_DIFFERENCE]);
    fputc('\n', out);
}

typedef struct told {
    const char *code;
    size_t wells;
} told;

static int by_count(const void *a, const void *b)
{
    const told *x = a, *y = b;
    if (x->wells != y->wells) return x->wells < y->wells ? 1 : -1;
    return strcmp(x->code, y->code);
}

static bool fails(const open_figures *f, size_t i, open_question question)
{
    const open_answer *a = &f->answers[i][question];
    if (question == OPEN_WITH_KICK)
        return !a->planned && open_least_margin_sg(&f->wells->items[i]) >= OPEN_KICK_SG - SAME_SG;
    return f->sound[i] && (question == OPEN_AS_DRILLED ? !a->holds : !a->planned);
}

static void write_rules(FILE *out, const open_figures *f, open_question question)
{
    told rules[MOST_TOLD] = {0};
    size_t count = 0;
    for (size_t i = 0; i < f->wells->count; ++i) {
        const open_answer *a = &f->answers[i][question];
        for (size_t c = 0; fails(f, i, question) && c < a->code_count; ++c) {
            size_t r = 0;
            while (r < count && strcmp(rules[r].code, a->codes[c]) != 0)
                ++r;
            if (r == MOST_TOLD) abort();
            rules[r].code = a->codes[c];
            ++rules[r].wells;
            if (r == count) ++count;
        }
    }
    qsort(rules, count, sizeof *rules, by_count);
    fputs("| rule | wells |\n|---|---|\n", out);
    for (size_t r = 0; r < count; ++r)
        fprintf(out, "| %s | %zu |\n", rules[r].code, rules[r].wells);
    fputc('\n', out);
}

static void write_well(FILE *out, const open_well *well, const open_answer *a)
{
    fprintf(out, "| %s | ", well->name);
    for (size_t k = 0; k < well->string_count; ++k) {
        char od[32];
        dt_inch_text(well->strings[k].od_in * DT_M_PER_IN, od, sizeof od);
        fprintf(out, "%s%s @ %.0f", k > 0 ? ", " : "", od, well->strings[k].shoe_m);
    }
    fprintf(out, "%s | ", open_last_hole(well) ? ", open" : "");
    for (size_t c = 0; c < a->code_count; ++c)
        fprintf(out, "%s%s", c > 0 ? ", " : "", a->codes[c]);
    fputs(" |\n", out);
}

static const char *const headings[OPEN_QUESTIONS] = {
    [OPEN_AS_DRILLED] = "## Programs as drilled that do not hold\n\n",
    [OPEN_FREE] = "## Wells without a free plan\n\n",
    [OPEN_WITH_KICK] = "## Wells that kept the kick margin and get no plan with it\n\n"};

static void write_failing(FILE *out, const open_figures *f, open_question question)
{
    fputs(headings[question], out);
    write_rules(out, f, question);
    fputs("| well | as drilled, shoes in m | against it |\n|---|---|---|\n", out);
    for (size_t i = 0; i < f->wells->count; ++i)
        if (fails(f, i, question)) write_well(out, &f->wells->items[i], &f->answers[i][question]);
    fputc('\n', out);
}

static bool stops(const open_figures *f, size_t i)
{
    const open_answer *a = &f->answers[i][OPEN_FREE];
    return a->planned && !a->holds;
}

/** How the jobs of free plans come out: which close at once, which as another draft, which never.
 */
static void write_closing(FILE *out, const open_figures *f)
{
    size_t at_once = 0, repaired = 0, never = 0, by_code[MOST_TOLD] = {0}, count = 0;
    const char *codes[MOST_TOLD];
    for (size_t i = 0; i < f->wells->count; ++i) {
        const open_answer *a = &f->answers[i][OPEN_FREE];
        at_once += a->holds && !a->repaired;
        repaired += a->holds && a->repaired;
        never += stops(f, i);
        for (size_t c = 0; stops(f, i) && c < a->code_count; ++c) {
            size_t r = 0;
            while (r < count && strcmp(codes[r], a->codes[c]) != 0)
                ++r;
            if (r == MOST_TOLD) abort();
            codes[r] = a->codes[c];
            ++by_code[r];
            if (r == count) ++count;
        }
    }
    fprintf(
        out,
        "## How free plans close\n\n"
        "Of all %zu wells, those with a mud over a leak-off among them, question 2. Running and "
        "cementing are planned by the customs of the shelf\n"
        "([nest.md](nest.md#then-the-jobs-draft-after-draft)).\n\n"
        "| | wells |\n|---|---|\n| no program | %zu |\n| the first draft closes | %zu |\n"
        "| another draft does | %zu |\n| none does: NOT RUNNABLE | %zu |\n\n"
        "Read one by one, the last: in ten it is the cement of the surface string to the sea "
        "floor,\n"
        "over rock whose strength between sea floor and first leak-off is our straight line and no "
        "record.\n"
        "In one, 2/4-16, a mud of 2.12 sg is heavier than any slurry built in. In the others pore "
        "pressure as\n"
        "we read it, the mud that was recorded less 0.05 sg, leaves under every seat less room to "
        "the leak-off\n"
        "than surge and slurry take.\n\n"
        "What stops the nearest draft of these:\n\n| stopper | wells |\n|---|---|\n",
        f->wells->count, f->wells->count - at_once - repaired - never, at_once, repaired, never);
    for (size_t r = 0; r < count; ++r)
        fprintf(out, "| %s | %zu |\n", codes[r], by_code[r]);
    fputs("\n| well | as drilled, shoes in m | stoppers of the plan |\n|---|---|---|\n", out);
    for (size_t i = 0; i < f->wells->count; ++i)
        if (stops(f, i)) write_well(out, &f->wells->items[i], &f->answers[i][OPEN_FREE]);
    fputc('\n', out);
}

static void write_pairs(FILE *out, const open_figures *f)
{
    fputs("## Pipe too wide for the hole it was run in\n\n| well | hole | pipe "
          "|\n|---|---|---|\n",
          out);
    for (size_t i = 0; i < f->wells->count; ++i)
        for (size_t k = 0; k < f->wells->items[i].string_count; ++k) {
            const open_string *s = &f->wells->items[i].strings[k];
            if (!open_pair_allowed(s, f->shelf, f->catalogue))
                fprintf(out, "| %s | %.10g in | %.10g in |\n", f->wells->items[i].name, s->hole_in,
                        s->od_in);
        }
}

/** The rows of a well below a heading, as the page has them and as they should be. */
static bool section_agrees(const char *page, const open_figures *f, size_t i,
                           open_question question)
{
    char start[OPEN_NAME + 8], *row = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&row, &size);
    if (!out) abort();
    fputc('\n', out);
    if (fails(f, i, question)) write_well(out, &f->wells->items[i], &f->answers[i][question]);
    fclose(out);
    const char *from = strstr(page, headings[question]);
    const char *to = from ? strstr(from + 3, "\n## ") : NULL;
    snprintf(start, sizeof start, "\n| %s |", f->wells->items[i].name);
    const char *at = from ? strstr(from, start) : NULL;
    if (at && to && at >= to) at = NULL;
    const bool agrees = from && (size > 1 ? at && strncmp(at, row, size) == 0 : !at);
    free(row);
    return agrees;
}

bool open_page_agrees(const char *page, const open_figures *f, size_t well)
{
    bool agrees = true;
    for (int q = 0; q < OPEN_QUESTIONS; ++q)
        agrees = agrees && section_agrees(page, f, well, (open_question)q);
    return agrees;
}

void open_page_write(FILE *out, const open_figures *f)
{
    const open_tally tally = open_count(f);
    fputs(HEAD, out);
    write_figures(out, &tally);
    write_differences(out, f);
    write_closing(out, f);
    for (int q = 0; q < OPEN_QUESTIONS; ++q)
        write_failing(out, f, (open_question)q);
    write_pairs(out, f);
}
