/* SPDX-License-Identifier: MIT */
/*
 * Several wells in one process: threads take one after the other, each into a folder of its own.
 * What is said of them comes in the order of the command line, whichever is done first.
 */
#include <libxml/parser.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "planned.h"
#include "writing.h"

/** One of the wells, and what became of it. */
typedef struct item {
    const char *input;
    char *messages; /* what would have gone to standard error; malloc'ed */
    int code;
    bool done, planned, runnable;
    dt_totals totals; /* where planned */
    size_t stoppers, review;
} item;

typedef struct batch {
    const cli_options *options;
    dt_catalogue *catalogue; /* read by all */
    int width;               /* of the names in the table */
    item *items;
    size_t count;
    /* What follows belongs to who has the lock. */
    pthread_mutex_t lock;
    pthread_cond_t changed;
    size_t next, done;
    unsigned working; /* threads */
} batch;

/* ---- one well ---- */

/** Name of a well's folder: its file's name without folder and ".xml". */
static void folder_name(const char *path, char name[256])
{
    const char *slash = strrchr(path, '/');
    const char *base = slash ? slash + 1 : path;
    size_t length = strlen(base);
    if (length > 4 && strcmp(base + length - 4, ".xml") == 0) length -= 4;
    snprintf(name, 256, "%.*s", (int)length, strcmp(path, "-") == 0 ? "standard-input" : base);
}

static void plan_into(const batch *b, item *it)
{
    char name[256];
    folder_name(it->input, name);
    cli_options one = *b->options;
    one.input = it->input;
    char *folder = cli_join(b->options->output, name);
    if (!folder) {
        it->code = cli_fail(DT_E_MEMORY);
        return;
    }
    one.output = folder;
    cli_planned p = {.catalogue = b->catalogue};
    it->code = cli_make_plan_or_nearest(&one, &p, true);
    if (it->code == EXIT_DONE) it->code = cli_write_outputs(&one, &p);
    if (it->code == EXIT_NO_PROGRAM && p.program) it->code = cli_write_nearest(&one, &p);
    it->planned = it->code == EXIT_DONE;
    if (it->planned) {
        dt_program_totals(p.program, &it->totals);
        it->stoppers = cli_count_notices(p.program, DT_STOPPER);
        it->review = cli_count_notices(p.program, DT_REVIEW);
        it->runnable = dt_program_runnable(p.program);
        if (!it->runnable) it->code = EXIT_NO_PROGRAM;
    }
    p.catalogue = NULL; /* of all */
    cli_planned_free(&p);
    free(folder);
}

/** Plans a well and keeps what is said of it. */
static void plan_item(const batch *b, item *it)
{
    size_t size = 0;
    FILE *said = open_memstream(&it->messages, &size);
    if (!said) {
        it->code = EXIT_SYSTEM;
        return;
    }
    cli_messages_to(said);
    plan_into(b, it);
    cli_messages_to(NULL);
    if (fclose(said) != 0) it->code = EXIT_SYSTEM;
}

/* ---- the threads ---- */

static void *work(void *data)
{
    batch *b = data;
    pthread_mutex_lock(&b->lock);
    while (b->next < b->count && !cli_told_to_end()) {
        item *it = &b->items[b->next++];
        pthread_mutex_unlock(&b->lock);
        plan_item(b, it);
        pthread_mutex_lock(&b->lock);
        it->done = true;
        ++b->done;
        pthread_cond_signal(&b->changed);
    }
    --b->working;
    pthread_cond_signal(&b->changed);
    pthread_mutex_unlock(&b->lock);
    return NULL;
}

/** Starts up to so many; how many there are. */
static unsigned start(batch *b, unsigned most, pthread_t *threads)
{
    unsigned started = 0;
    pthread_mutex_lock(&b->lock);
    while (started < most && started < b->count &&
           pthread_create(&threads[started], NULL, work, b) == 0)
        ++started;
    b->working = started;
    pthread_mutex_unlock(&b->lock);
    return started;
}

/* ---- what is said ---- */

enum { LEAST_WIDTH = 16, MOST_WIDTH = 60 };

/** The longest name has room, as far as a terminal has. */
static int width_of(const cli_options *options)
{
    size_t width = LEAST_WIDTH;
    for (int i = 0; i < options->input_count; ++i) {
        const size_t length = strlen(options->inputs[i]);
        if (length > width) width = length;
    }
    return width < MOST_WIDTH ? (int)width : MOST_WIDTH;
}

static void print_head(const batch *b)
{
    printf("%-*s %7s %8s %8s %6s %12s %6s %4s\n", b->width, "well", "strings",
           b->options->display == DT_DISPLAY_METRIC ? "shoe m" : "shoe ft", "steel t", "days",
           "cost", "review", "exit");
}

static void print_row(const batch *b, const item *it)
{
    static const char *const words[] = {[EXIT_NO_PROGRAM] = "no program exists",
                                        [EXIT_USAGE] = "not understood",
                                        [EXIT_REFUSED] = "refused",
                                        [EXIT_SYSTEM] = "failed"};
    const cli_words name = cli_shown(it->input);
    if (!it->planned) {
        printf("%-*s %7s %8s %8s %6s %12s %6s %4d  %s\n", b->width, name.text, "-", "-", "-", "-",
               "-", "-", it->code, words[it->code]);
        return;
    }
    char shoe[48], cost[48] = "-";
    dt_display_text(b->options->display, DT_KIND_LENGTH, it->totals.shoe_tvd_m, shoe, sizeof shoe);
    shoe[strcspn(shoe, " ")] = '\0';
    if (it->totals.cost > 0) snprintf(cost, sizeof cost, "%.0f", it->totals.cost);
    printf("%-*s %7zu %8s %8.1f %6.1f %12s %6zu %4d  ", b->width, name.text, it->totals.strings,
           shoe, it->totals.steel_kg / 1000, it->totals.days, cost, it->review, it->code);
    if (it->runnable)
        printf("closes\n");
    else
        printf("NOT RUNNABLE, %zu stopper%s\n", it->stoppers, it->stoppers == 1 ? "" : "s");
}

/** What was said of a well, then its row. */
static void tell(const batch *b, const item *it, cli_progress *progress)
{
    cli_progress_hide(progress);
    if (it->messages) fputs(it->messages, stderr);
    print_row(b, it);
}

enum { LOOK_NS = 100000000 }; /* how often signals that wait are looked at */

/** Waits for each in its order and tells of it; false when a signal ends it before. */
static bool tell_all(batch *b)
{
    cli_progress progress = cli_progress_begin("wells", b->count);
    size_t told = 0;
    print_head(b);
    pthread_mutex_lock(&b->lock);
    while (told < b->count) {
        cli_progress_step(&progress, b->done);
        if (b->items[told].done) {
            tell(b, &b->items[told++], &progress);
            continue;
        }
        if (b->working == 0 || cli_told_to_end()) break;
        struct timespec until;
        clock_gettime(CLOCK_REALTIME, &until);
        until.tv_sec += (until.tv_nsec + LOOK_NS) / 1000000000;
        until.tv_nsec = (until.tv_nsec + LOOK_NS) % 1000000000;
        pthread_cond_timedwait(&b->changed, &b->lock, &until);
    }
    pthread_mutex_unlock(&b->lock);
    cli_progress_end(&progress);
    return told == b->count;
}

/** How many were planned; the exit code is the gravest of all. */
static int sum_up(const batch *b)
{
    int worst = EXIT_DONE;
    size_t planned = 0, stopped = 0;
    for (size_t i = 0; i < b->count; ++i) {
        if (b->items[i].code > worst) worst = b->items[i].code;
        planned += b->items[i].planned;
        stopped += b->items[i].planned && !b->items[i].runnable;
    }
    printf("%zu of %zu wells planned into %s", planned, b->count,
           cli_shown(b->options->output).text);
    if (stopped > 0) printf(", %zu of them NOT RUNNABLE", stopped);
    printf("\n");
    return worst;
}

/* ---- several wells ---- */

/** A file and the folder it asks for. */
typedef struct asked {
    char name[256];
    const char *input;
} asked;

static int by_name(const void *a, const void *b)
{
    return strcmp(((const asked *)a)->name, ((const asked *)b)->name);
}

/** Whether no two of the folders have one name. */
static int check_apart(const cli_options *options, const asked *sorted)
{
    for (int i = 1; i < options->input_count; ++i) {
        if (by_name(&sorted[i - 1], &sorted[i]) != 0) continue;
        fprintf(stderr,
                "drawtube: %s and %s would share the folder %s/%s; give each file a "
                "name of its own\n",
                cli_shown(sorted[i - 1].input).text, cli_shown(sorted[i].input).text,
                cli_shown(options->output).text, cli_shown(sorted[i].name).text);
        return EXIT_USAGE;
    }
    return EXIT_DONE;
}

/** Whether a folder can be named after each file, and no two want the same. */
static int check_names(const cli_options *options)
{
    const size_t count = (size_t)options->input_count;
    asked *all = calloc(count, sizeof *all);
    int code = all ? EXIT_DONE : cli_fail(DT_E_MEMORY);
    for (size_t i = 0; code == EXIT_DONE && i < count; ++i) {
        all[i].input = options->inputs[i];
        folder_name(all[i].input, all[i].name);
        if (*all[i].name && strcmp(all[i].name, ".") != 0 && strcmp(all[i].name, "..") != 0)
            continue;
        fprintf(stderr, "drawtube: %s gives no name to its folder; rename the file\n",
                cli_shown(all[i].input).text);
        code = EXIT_USAGE;
    }
    if (code == EXIT_DONE) {
        qsort(all, count, sizeof *all, by_name);
        code = check_apart(options, all);
    }
    free(all);
    return code;
}

static int check_several(const cli_options *options)
{
    if (!options->output) {
        fprintf(stderr,
                "drawtube: plan with several wells needs -o DIR: each gets a folder in it\n");
        return EXIT_USAGE;
    }
    if (options->json) {
        fprintf(stderr,
                "drawtube: plan --json prints one well; with several, read DIR/*/program.json\n");
        return EXIT_USAGE;
    }
    return check_names(options);
}

/** Signals that end the process wait until no folder is being written; a well that is still being
 * planned is not waited for. */
static int run(batch *b, unsigned most)
{
    pthread_t threads[CLI_MOST_THREADS];
    sigset_t before;
    int code = EXIT_DONE;
    cli_hold_signals(&before);
    const unsigned started = start(b, most, threads);
    if (started == 0)
        code = cli_fail(DT_E_MEMORY);
    else if (!tell_all(b))
        code = EXIT_SYSTEM;
    if (cli_told_to_end()) {
        cli_keep_folders();
        cli_release_signals(&before); /* ends here, unless the signal is ignored */
    }
    for (unsigned i = 0; i < started; ++i)
        pthread_join(threads[i], NULL);
    cli_release_signals(&before);
    return code;
}

int cli_plan_several(const cli_options *options)
{
    unsigned most = 1;
    batch b = {.options = options,
               .count = (size_t)options->input_count,
               .width = width_of(options),
               .lock = PTHREAD_MUTEX_INITIALIZER,
               .changed = PTHREAD_COND_INITIALIZER};
    int code = check_several(options);
    if (code == EXIT_DONE && !cli_read_threads(options, &most)) code = EXIT_USAGE;
    if (code == EXIT_DONE) code = cli_make_folder(options->output);
    if (code == EXIT_DONE) code = cli_load_catalogue(options, &b.catalogue);
    if (code == EXIT_DONE) {
        b.items = calloc(b.count, sizeof *b.items);
        if (!b.items) code = cli_fail(DT_E_MEMORY);
    }
    for (size_t i = 0; b.items && i < b.count; ++i)
        b.items[i].input = options->inputs[i];
    xmlInitParser(); /* before a second thread is there */
    if (code == EXIT_DONE) code = run(&b, most);
    if (code == EXIT_DONE) {
        const int worst = sum_up(&b), printed = cli_flush();
        code = printed == EXIT_DONE ? worst : printed;
    }
    for (size_t i = 0; b.items && i < b.count; ++i)
        free(b.items[i].messages);
    free(b.items);
    dt_catalogue_close(b.catalogue);
    return code;
}
