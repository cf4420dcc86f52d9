/* SPDX-License-Identifier: MIT */
/*
 * Wells as they were drilled, held against the planner:
 *   open_wells [--every N] [--times] [--targets] [--dump WELL] [--write PAGE | --hold PAGE]
 * --write makes docs/open-wells.md; --hold fails where the page is not what it would make;
 * --targets fails where a figure is under its target. --every N takes only each Nth well, for
 * builds that are slow: --hold then looks at what the page says of these.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "open_page.h"

/* The planner's targets, in percent, and strings. */
#define TARGET_HOLD       75.0
#define TARGET_NEAR       85.0
#define TARGET_DIFFERENCE 0.5
#define TARGET_PAIRS      99.0

typedef struct options {
    size_t every;
    bool times, targets;
    const char *dump, *write, *hold;
} options;

static options read_options(int count, char **words)
{
    options o = {.every = 1};
    for (int i = 1; i < count; ++i) {
        const char *value = i + 1 < count ? words[i + 1] : "";
        const bool times = strcmp(words[i], "--times") == 0;
        const bool targets = strcmp(words[i], "--targets") == 0;
        o.times |= times;
        o.targets |= targets;
        if (times || targets) continue;
        if (strcmp(words[i], "--every") == 0)
            o.every = strtoul(value, NULL, 10);
        else if (strcmp(words[i], "--dump") == 0)
            o.dump = value;
        else if (strcmp(words[i], "--write") == 0)
            o.write = value;
        else if (strcmp(words[i], "--hold") == 0)
            o.hold = value;
        else
            o.every = 0;
        ++i;
    }
    if (o.every == 0) {
        fputs("usage: open_wells [--every N] [--times] [--targets] [--dump WELL] [--write PAGE | "
              "--hold PAGE]\n",
              stderr);
        exit(2);
    }
    return o;
}

static void ask_all(open_figures *f, const options *o)
{
    for (size_t i = 0; i < f->wells->count; i += o->every) {
        const open_well *well = &f->wells->items[i];
        f->sound[i] = open_least_margin_sg(well) >= 0;
        for (int q = 0; q < OPEN_QUESTIONS; ++q) {
            f->answers[i][q] = open_ask(well, (open_question)q, f->catalogue);
            if (!o->times) continue;
            printf("%s\t%d\t%.3f s\n", well->name, q, f->answers[i][q].seconds);
            fflush(stdout);
        }
    }
}

/** The well files of one well, to be looked at with the command. */
static int dump(const open_wells *wells, const char *name)
{
    for (size_t i = 0; i < wells->count; ++i) {
        if (strcmp(wells->items[i].name, name) != 0) continue;
        for (int q = 0; q < OPEN_QUESTIONS; ++q) {
            size_t size = 0;
            char *bytes = open_file_of(&wells->items[i], (open_question)q, &size);
            fwrite(bytes, 1, size, stdout);
            free(bytes);
        }
        return 0;
    }
    fprintf(stderr, "no well %s\n", name);
    return 2;
}

static char *page_text(const open_figures *f)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&bytes, &size);
    if (!out) abort();
    open_page_write(out, f);
    fclose(out);
    return bytes;
}

static int write_page(const char *path, const char *text)
{
    FILE *out = fopen(path, "w");
    if (!out || fputs(text, out) < 0 || fclose(out) != 0) {
        perror(path);
        return 2;
    }
    return 0;
}

/** The whole of a file, "" where there is none. */
static char *read_page(const char *path)
{
    enum { MOST = 1 << 20 };
    char *bytes = calloc(1, MOST);
    FILE *in = fopen(path, "r");
    if (!bytes) abort();
    if (in && fread(bytes, 1, MOST - 1, in) == 0) perror(path);
    if (in) fclose(in);
    return bytes;
}

static int hold_page(const open_figures *f, const options *o, const char *text)
{
    char *kept = read_page(o->hold);
    bool same = true;
    if (o->every == 1) same = strcmp(kept, text) == 0;
    for (size_t i = 0; i < f->wells->count; i += o->every) {
        if (open_page_agrees(kept, f, i)) continue;
        fprintf(stderr, "%s: another answer\n", f->wells->items[i].name);
        same = false;
    }
    free(kept);
    if (same) return 0;
    fprintf(stderr,
            "%s is not what the planner makes: cmake --build build --target open_wells_page\n",
            o->hold);
    return 1;
}

static bool reached(const char *what, double figure, double target, bool enough)
{
    printf("%-6s %s: %.3g, target %.3g\n", enough ? "ok" : "UNDER", what, figure, target);
    return enough;
}

static bool hold_targets(const open_tally *t)
{
    const double hold = 100.0 * (double)t->hold / (double)t->sound;
    const double near = 100.0 * (double)t->near / (double)t->sound;
    const double pairs = 100.0 * (double)t->pairs_allowed / (double)t->pairs;
    const double off = t->mean_difference < 0 ? -t->mean_difference : t->mean_difference;
    bool all = reached("hold as drilled, %", hold, TARGET_HOLD, hold >= TARGET_HOLD);
    all &= reached("strings as run or one off, %", near, TARGET_NEAR, near >= TARGET_NEAR);
    all &= reached("mean difference of strings", off, TARGET_DIFFERENCE, off <= TARGET_DIFFERENCE);
    all &= reached("plans with a kick margin", (double)t->kick_planned, (double)t->keep_kick,
                   t->kick_planned >= t->keep_kick);
    all &= reached("pairs allowed, %", pairs, TARGET_PAIRS, pairs >= TARGET_PAIRS);
    return all;
}

static int run(open_figures *f, const options *o)
{
    ask_all(f, o);
    const open_tally tally = open_count(f);
    char *text = page_text(f);
    int status = 0;
    if (o->every == 1 && !hold_targets(&tally)) status = o->targets ? 1 : 0;
    if (o->write) status |= write_page(o->write, text);
    if (o->hold) status |= hold_page(f, o, text);
    free(text);
    return status;
}

int main(int count, char **words)
{
    const options o = read_options(count, words);
    open_wells wells = open_wells_read(DT_OPEN_WELLS);
    if (o.dump) {
        const int status = dump(&wells, o.dump);
        open_wells_free(&wells);
        return status;
    }
    dt_catalogue *catalogue = NULL;
    open_figures f = {.wells = &wells,
                      .answers = calloc(wells.count, sizeof *f.answers),
                      .sound = calloc(wells.count, sizeof *f.sound)};
    if (!f.answers || !f.sound || dt_catalogue_open(&catalogue) != DT_OK) abort();
    f.catalogue = catalogue;
    dt_well *shelf = open_read(&wells.items[0], OPEN_FREE);
    if (!shelf) abort();
    f.shelf = shelf;
    const int status = run(&f, &o);
    dt_well_free(shelf);
    dt_catalogue_close(catalogue);
    free(f.answers);
    free(f.sound);
    open_wells_free(&wells);
    return status;
}
