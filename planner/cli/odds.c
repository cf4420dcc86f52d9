/* SPDX-License-Identifier: MIT */
/* odds: how sure the program is. */
#include <errno.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "cli.h"

enum { DEFAULT_SAMPLES = 10000 };

/* Set by SIGINT alone: what is done so far is then printed with its precision. */
static atomic_int interrupted; /* threads look at it while the handler writes it */

static void on_interrupt(int number)
{
    (void)number;
    interrupted = 1;
}

static bool read_precision(const char *text, double *out)
{
    double value = 0;
    if (dt_quantity_parse(text, DT_KIND_FRACTION, &value) == DT_PARSE_OK && value > 0 &&
        value < 1) {
        *out = value;
        return true;
    }
    fprintf(stderr, "drawtube: --precision \"%s\": write a part of 100 %%, as in \"0.5 %%\"\n",
            text);
    return false;
}

static bool read_options(const cli_options *options, dt_odds_options *odds)
{
    unsigned long long samples = DEFAULT_SAMPLES, seed = 1;
    if (options->samples &&
        !cli_whole_number("samples", options->samples, 1, DT_ODDS_MOST_SAMPLES, &samples))
        return false;
    if (options->seed && !cli_whole_number("seed", options->seed, 0, 9223372036854775807ULL, &seed))
        return false;
    if (!cli_read_threads(options, &odds->threads)) return false;
    if (options->precision && !read_precision(options->precision, &odds->precision)) return false;
    odds->samples = (size_t)samples;
    odds->seed = seed;
    return true;
}

/** A bar on stderr once the work has taken a second, when somebody can see it. */
typedef struct progress {
    struct timespec start;
    bool seen, shown;
} progress;

static double seconds_since(const struct timespec *start)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - start->tv_sec) + 1e-9 * (double)(now.tv_nsec - start->tv_nsec);
}

static bool go_on(void *context, size_t done, size_t samples)
{
    progress *p = context;
    if (p->seen && (p->shown || seconds_since(&p->start) > 1)) {
        enum { WIDTH = 30 };
        char bar[WIDTH + 1];
        size_t full = samples ? done * WIDTH / samples : WIDTH;
        memset(bar, '.', WIDTH);
        memset(bar, '#', full < WIDTH ? full : WIDTH);
        bar[WIDTH] = '\0';
        fprintf(stderr, "\r[%s] %zu of %zu", bar, done, samples);
        fflush(stderr);
        p->shown = true;
    }
    return !interrupted;
}

static int write_odds(const cli_options *options, const dt_program *program, const dt_odds *odds)
{
    dt_text text = {0};
    dt_status status = options->json ? dt_write_odds_json(program, odds, &text)
                                     : dt_write_odds_table(program, odds, options->display, &text);
    if (status != DT_OK) return cli_fail(status);
    int code = cli_print(&text);
    dt_text_free(&text);
    if (code != EXIT_DONE || !options->output) return code;
    status = dt_draw_odds(program, odds, options->display, &text);
    if (status != DT_OK) return cli_fail(status);
    code = cli_write_file(options->output, &text);
    dt_text_free(&text);
    return code;
}

static int run_odds(const cli_options *options, dt_odds_options odds_options,
                    const dt_program *program)
{
    progress p = {.seen = isatty(STDERR_FILENO) != 0};
    struct sigaction action = {0}, before;
    dt_odds *odds = NULL;
    action.sa_handler = on_interrupt;
    clock_gettime(CLOCK_MONOTONIC, &p.start);
    sigaction(SIGINT, &action, &before);
    odds_options.go_on = go_on;
    odds_options.context = &p;
    dt_status status = dt_odds_run(program, &odds_options, &odds);
    sigaction(SIGINT, &before, NULL);
    if (p.shown) fputs("\r\033[K", stderr);
    if (status == DT_E_NONE) {
        fprintf(stderr,
                "%s: nothing is uncertain in this well file: give points sd, or low and high "
                "(docs/odds.md)\n",
                cli_shown(options->input).text);
        return EXIT_REFUSED;
    }
    if (status != DT_OK) return cli_fail(status);
    int code = write_odds(options, program, odds);
    dt_odds_free(odds);
    return code;
}

int cli_odds(cli_options *options)
{
    dt_odds_options odds = {0};
    cli_planned planned = {0};
    if (!read_options(options, &odds)) return EXIT_USAGE;
    int code = cli_make_plan(options, &planned);
    if (code == EXIT_DONE) {
        cli_say_runnable(options, planned.program);
        code = run_odds(options, odds, planned.program);
    }
    cli_planned_free(&planned);
    return code;
}
