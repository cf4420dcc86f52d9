/* SPDX-License-Identifier: MIT */
/*
 * Several wells in one run: processes take one after the other, each into a folder of its own.
 * What is said of them comes in the order of the command line, whichever is done first. Processes,
 * not threads: the option graph is laid out in a child, and none may be forked where another
 * thread could hold a lock (docs/decisions/0046).
 */
#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "planned.h"
#include "writing.h"

/** What became of a well. */
typedef struct outcome {
    int code;
    bool planned, runnable;
    dt_display display;
    dt_totals totals; /* where planned */
    size_t stoppers, review;
    size_t said; /* bytes of the messages, which follow on the pipe */
} outcome;

/** One of the wells. */
typedef struct item {
    const char *input;
    char *messages; /* what would have gone to standard error; malloc'ed */
    bool done;
    outcome is;
} item;

/** A process that plans what it is asked for, one well at a time. */
typedef struct worker {
    pid_t process;
    int ask, answer; /* ends of its pipes; -1: it is gone */
    size_t item;     /* that it is at; NO_ITEM: at none */
} worker;

#define NO_ITEM ((size_t)-1)

typedef struct batch {
    const cli_options *options;
    dt_catalogue *catalogue; /* of all */
    int width;               /* of the names in the table */
    item *items;
    size_t count, next, done;
    worker workers[CLI_MOST_THREADS];
    unsigned worker_count;
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

static outcome plan_into(const batch *b, const char *input)
{
    char name[256];
    outcome is = {.code = EXIT_SYSTEM};
    folder_name(input, name);
    cli_options one = *b->options;
    one.input = input;
    char *folder = cli_join(b->options->output, name);
    if (!folder) {
        cli_fail(DT_E_MEMORY);
        return is;
    }
    one.output = folder;
    cli_planned p = {.catalogue = b->catalogue};
    is.code = cli_make_plan_or_nearest(&one, &p, true);
    if (is.code == EXIT_DONE) is.code = cli_write_outputs(&one, &p);
    if (is.code == EXIT_NO_PROGRAM && p.program) is.code = cli_write_nearest(&one, &p);
    is.planned = is.code == EXIT_DONE;
    is.display = one.display;
    if (is.planned) {
        dt_program_totals(p.program, &is.totals);
        is.stoppers = cli_count_notices(p.program, DT_STOPPER);
        is.review = cli_count_notices(p.program, DT_REVIEW);
        is.runnable = dt_program_runnable(p.program);
        if (!is.runnable) is.code = EXIT_NO_PROGRAM;
    }
    p.catalogue = NULL; /* of all */
    cli_planned_free(&p);
    free(folder);
    return is;
}

/* ---- pipes ---- */

/** All of it, or false: the other end is gone. */
static bool give(int end, const void *bytes, size_t size)
{
    for (const char *at = bytes; size > 0;) {
        const ssize_t some = write(end, at, size);
        if (some < 0 && errno == EINTR) continue;
        if (some <= 0) return false;
        at += some;
        size -= (size_t)some;
    }
    return true;
}

static bool take(int end, void *bytes, size_t size)
{
    for (char *at = bytes; size > 0;) {
        const ssize_t some = read(end, at, size);
        if (some < 0 && errno == EINTR) continue;
        if (some <= 0) return false;
        at += some;
        size -= (size_t)some;
    }
    return true;
}

/* ---- the processes ---- */

/** Plans a well and gives what became of it, and what is said of it. */
static bool answer(const batch *b, size_t index, int end)
{
    char *messages = NULL;
    size_t size = 0;
    FILE *said = open_memstream(&messages, &size);
    if (!said) return false;
    cli_messages_to(said);
    outcome is = plan_into(b, b->items[index].input);
    cli_messages_to(NULL);
    bool whole = fclose(said) == 0;
    is.said = size;
    whole = whole && give(end, &is, sizeof is) && give(end, messages, size);
    free(messages);
    return whole;
}

/** What a worker does, until it is asked no more. */
static int work(const batch *b, int ask, int end)
{
    size_t index;
    while (take(ask, &index, sizeof index))
        if (index >= b->count || !answer(b, index, end)) return EXIT_SYSTEM;
    return EXIT_DONE;
}

static void close_ends(worker *w)
{
    if (w->ask >= 0) close(w->ask);
    if (w->answer >= 0) close(w->answer);
    w->ask = w->answer = -1;
}

/** One more; before: the signals that it lets through. */
static bool start_one(batch *b, const sigset_t *before)
{
    int asks[2], answers[2];
    if (pipe(asks) != 0) return false;
    if (pipe(answers) != 0) {
        close(asks[0]);
        close(asks[1]);
        return false;
    }
    const pid_t process = fork();
    if (process == 0) {
        for (unsigned i = 0; i < b->worker_count; ++i)
            close_ends(&b->workers[i]);
        close(asks[1]);
        close(answers[0]);
        signal(SIGPIPE, SIG_DFL); /* nobody waits for the answer any more */
        cli_release_signals(before);
        _exit(work(b, asks[0], answers[1]));
    }
    close(asks[0]);
    close(answers[1]);
    worker w = {process, asks[1], answers[0], NO_ITEM};
    if (process < 0)
        close_ends(&w);
    else
        b->workers[b->worker_count++] = w;
    return process > 0;
}

/** Gives the next well to a worker that is at none. */
static void ask_next(batch *b, worker *w)
{
    if (w->ask < 0 || w->item != NO_ITEM || b->next == b->count) return;
    const size_t index = b->next;
    if (!give(w->ask, &index, sizeof index)) {
        close_ends(w);
        return;
    }
    w->item = index;
    ++b->next;
}

/** Takes the answer of a worker. Where it ends without one, its well has failed. */
static void take_answer(batch *b, worker *w)
{
    item *it = &b->items[w->item];
    bool whole = take(w->answer, &it->is, sizeof it->is);
    if (whole) it->messages = malloc(it->is.said + 1);
    if (whole && it->messages) {
        it->messages[it->is.said] = '\0';
        whole = take(w->answer, it->messages, it->is.said);
    }
    if (!whole || !it->messages) {
        it->is = (outcome){.code = EXIT_SYSTEM};
        close_ends(w);
    }
    it->done = true;
    w->item = NO_ITEM;
    ++b->done;
}

enum { LOOK_MS = 100 }; /* how often signals that wait are looked at */

/** Waits a little for answers; false when no worker is at a well any more. */
static bool await(batch *b)
{
    struct pollfd ends[CLI_MOST_THREADS];
    worker *of[CLI_MOST_THREADS];
    nfds_t count = 0;
    for (unsigned i = 0; i < b->worker_count; ++i) {
        worker *w = &b->workers[i];
        ask_next(b, w);
        if (w->item == NO_ITEM) continue;
        ends[count] = (struct pollfd){.fd = w->answer, .events = POLLIN};
        of[count++] = w;
    }
    if (count == 0) return false;
    if (poll(ends, count, LOOK_MS) <= 0) return true;
    for (nfds_t i = 0; i < count; ++i)
        if (ends[i].revents != 0) take_answer(b, of[i]);
    return true;
}

/** Ends them: those that are at a well at once, with what they have not written yet. */
static void stop_workers(batch *b)
{
    for (unsigned i = 0; i < b->worker_count; ++i) {
        worker *w = &b->workers[i];
        if (w->item != NO_ITEM) kill(w->process, SIGTERM);
        close_ends(w);
    }
    for (unsigned i = 0; i < b->worker_count; ++i)
        while (waitpid(b->workers[i].process, NULL, 0) < 0 && errno == EINTR)
            ;
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
    printf("%-*s %7s %9s %8s %6s %12s %6s %4s\n", b->width, "well", "strings", "shoe", "steel t",
           "days", "cost", "review", "exit");
}

static void print_row(const batch *b, const item *it)
{
    static const char *const words[] = {[EXIT_NO_PROGRAM] = "no program exists",
                                        [EXIT_USAGE] = "not understood",
                                        [EXIT_REFUSED] = "refused",
                                        [EXIT_SYSTEM] = "failed"};
    const cli_words name = cli_shown(it->input);
    if (!it->is.planned) {
        printf("%-*s %7s %9s %8s %6s %12s %6s %4d  %s\n", b->width, name.text, "-", "-", "-", "-",
               "-", "-", it->is.code, words[it->is.code]);
        return;
    }
    char shoe[48], cost[48] = "-";
    dt_display_text(it->is.display, DT_KIND_LENGTH, it->is.totals.shoe_tvd_m, shoe, sizeof shoe);
    if (it->is.totals.cost > 0) snprintf(cost, sizeof cost, "%.0f", it->is.totals.cost);
    printf("%-*s %7zu %9s %8.1f %6.1f %12s %6zu %4d  ", b->width, name.text, it->is.totals.strings,
           shoe, it->is.totals.steel_kg / 1000, it->is.totals.days, cost, it->is.review,
           it->is.code);
    if (it->is.runnable)
        printf("closes\n");
    else
        printf("NOT RUNNABLE, %zu stopper%s\n", it->is.stoppers, it->is.stoppers == 1 ? "" : "s");
}

/** What was said of a well, then its row. */
static void tell(const batch *b, const item *it, cli_progress *progress)
{
    cli_progress_hide(progress);
    if (it->messages) fputs(it->messages, stderr);
    print_row(b, it);
}

/** Waits for each in its order and tells of it; false when a signal ends it before, or no worker is
 * left. */
static bool tell_all(batch *b)
{
    cli_progress progress = cli_progress_begin("wells", b->count);
    size_t told = 0;
    print_head(b);
    while (told < b->count && !cli_told_to_end()) {
        cli_progress_step(&progress, b->done);
        if (b->items[told].done)
            tell(b, &b->items[told++], &progress);
        else if (!await(b))
            break;
    }
    cli_progress_end(&progress);
    return told == b->count;
}

/** How many were planned; the exit code is the gravest of all. */
static int sum_up(const batch *b)
{
    int worst = EXIT_DONE;
    size_t planned = 0, stopped = 0;
    for (size_t i = 0; i < b->count; ++i) {
        if (b->items[i].is.code > worst) worst = b->items[i].is.code;
        planned += b->items[i].is.planned;
        stopped += b->items[i].is.planned && !b->items[i].is.runnable;
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

/** Signals that end the process wait until the workers have ended, each with its folder whole. */
static int run(batch *b, unsigned most)
{
    sigset_t before;
    struct sigaction quiet = {.sa_handler = SIG_IGN}, usual;
    int code = EXIT_DONE;
    sigaction(SIGPIPE, &quiet, &usual); /* a worker that is gone is seen where it is written to */
    cli_hold_signals(&before);
    fflush(stdout);
    while (b->worker_count < most && b->worker_count < b->count && start_one(b, &before)) {
    }
    if (b->worker_count == 0)
        code = cli_fail(DT_E_IO);
    else if (!tell_all(b))
        code = EXIT_SYSTEM;
    stop_workers(b);
    cli_release_signals(&before); /* ends here where a signal waits, unless it is ignored */
    sigaction(SIGPIPE, &usual, NULL);
    return code;
}

int cli_plan_several(cli_options *options)
{
    unsigned most = 1;
    batch b = {
        .options = options, .count = (size_t)options->input_count, .width = width_of(options)};
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
