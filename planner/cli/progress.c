/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "cli.h"

#define QUIET_S 1.0 /* work that is done by then shows nothing */
#define EVERY_S 0.1
#define CELLS   30

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

cli_progress cli_progress_begin(const char *what, size_t total)
{
    const char *terminal = getenv("TERM");
    bool dumb = terminal && strcmp(terminal, "dumb") == 0;
    return (cli_progress){.what = what,
                          .total = total,
                          .started_s = seconds(),
                          .on = total > 0 && !dumb && isatty(STDERR_FILENO) == 1};
}

void cli_progress_step(cli_progress *progress, size_t done)
{
    double now = seconds();
    if (!progress->on || now - progress->started_s < QUIET_S || now - progress->drawn_s < EVERY_S)
        return;
    progress->drawn_s = now;
    progress->shown = true;
    size_t full = CELLS * done / progress->total;
    fprintf(stderr, "\r[%.*s%.*s] %zu of %zu %s", (int)full, "##############################",
            (int)(CELLS - full), "..............................", done, progress->total,
            progress->what);
    fflush(stderr);
}

void cli_progress_hide(cli_progress *progress)
{
    if (progress->shown) fputs("\r\033[K", stderr);
    progress->shown = false;
    progress->drawn_s = 0;
}

void cli_progress_end(cli_progress *progress)
{
    if (progress->shown) fputs("\r\033[K", stderr);
    progress->on = progress->shown = false;
}
