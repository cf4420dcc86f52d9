/* SPDX-License-Identifier: MIT */
/* program.pdf: the report as a browser prints it. A browser is no part of drawtube: one that is
 * there is used. */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "cli.h"
#include "planned.h"
#include "writing.h"

enum { MOST_SECONDS = 120, MOST_PDF_BYTES = 256 * 1024 * 1024 };

/** Programs that print a page with these arguments, in the order of preference. */
static const char *const browsers[] = {"chromium", "chromium-browser", "google-chrome"};

/** Whether a program of that name is in a folder of PATH. */
static bool is_there(const char *program)
{
    const char *at = getenv("PATH");
    while (at && *at) {
        const size_t length = strcspn(at, ":");
        char folder[4096];
        if (length > 0 && length < sizeof folder) {
            snprintf(folder, sizeof folder, "%.*s", (int)length, at);
            char *path = cli_join(folder, program);
            const bool there = path && access(path, X_OK) == 0;
            free(path);
            if (there) return true;
        }
        at += length + (at[length] == ':');
    }
    return false;
}

static const char *find_browser(void)
{
    for (size_t i = 0; i < COUNT_OF(browsers); ++i)
        if (is_there(browsers[i])) return browsers[i];
    return NULL;
}

bool cli_can_print(void)
{
    return find_browser() != NULL;
}

/* ---- a folder for the browser to work in ---- */

/** Removes a folder and all that is in it; what cannot be removed stays. */
static void remove_all(const char *path)
{
    struct stat about;
    if (lstat(path, &about) != 0) return;
    if (!S_ISDIR(about.st_mode)) {
        unlink(path);
        return;
    }
    DIR *stream = opendir(path);
    for (struct dirent *entry; stream && (entry = readdir(stream));) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) continue;
        char *inside = cli_join(path, entry->d_name);
        if (inside) remove_all(inside);
        free(inside);
    }
    if (stream) closedir(stream);
    rmdir(path);
}

static char *make_work_folder(void)
{
    const char *place = getenv("TMPDIR");
    char *path = cli_join(place && *place == '/' ? place : "/tmp", "drawtube-print-XXXXXX");
    if (path && mkdtemp(path)) return path;
    free(path);
    return NULL;
}

/* ---- the browser ---- */

/** In the child: nothing of it reaches the terminal, and Ctrl-C ends it. */
static void become_browser(const char *browser, const char *folder, const sigset_t *signals)
{
    char profile[4200], to[4200], page[4200];
    snprintf(profile, sizeof profile, "--user-data-dir=%s/profile", folder);
    snprintf(to, sizeof to, "--print-to-pdf=%s/program.pdf", folder);
    snprintf(page, sizeof page, "file://%s/program.html", folder);
    /* Browsers refuse to work for root with their sandbox on. The page is ours, and forbids
     * itself scripts and every request. */
    const char *sandbox = geteuid() == 0 ? "--no-sandbox" : "--disable-sync";
    const int nowhere = open("/dev/null", O_RDWR);
    if (nowhere < 0 || dup2(nowhere, 0) < 0 || dup2(nowhere, 1) < 0 || dup2(nowhere, 2) < 0)
        _exit(127);
    pthread_sigmask(SIG_SETMASK, signals, NULL);
    execlp(browser, browser, "--headless", "--disable-gpu", "--no-first-run",
           "--disable-background-networking", "--disable-component-update", "--disable-extensions",
           "--no-pdf-header-footer", sandbox, profile, to, page, (char *)NULL);
    _exit(127);
}

/** Waits for a process; one that takes too long, or a signal of ours, ends it. */
static bool wait_for(pid_t process)
{
    const struct timespec pause = {0, 20 * 1000 * 1000};
    for (int i = 0; i < MOST_SECONDS * 50; ++i) {
        int status;
        const pid_t ended = waitpid(process, &status, WNOHANG);
        if (ended == process) return WIFEXITED(status) && WEXITSTATUS(status) == 0;
        if (ended < 0 && errno != EINTR) return false;
        if (cli_told_to_end()) break;
        nanosleep(&pause, NULL);
    }
    kill(process, SIGKILL);
    waitpid(process, NULL, 0);
    return false;
}

static bool run_browser(const char *browser, const char *folder)
{
    sigset_t before;
    fflush(NULL);
    cli_hold_signals(&before);
    const pid_t process = fork();
    if (process == 0) become_browser(browser, folder, &before);
    const bool good = process > 0 && wait_for(process);
    if (!good) remove_all(folder); /* before a signal that waits ends this process */
    cli_release_signals(&before);
    return good;
}

static dt_status take_pdf(const char *path, dt_text *out)
{
    static const char begins[] = "%PDF-";
    char *bytes = NULL;
    size_t size = 0;
    if (access(path, R_OK) != 0) return DT_E_IO;
    if (cli_read(path, MOST_PDF_BYTES, &bytes, &size) != EXIT_DONE) return DT_E_IO;
    if (size < sizeof begins || memcmp(bytes, begins, sizeof begins - 1) != 0) {
        free(bytes);
        return DT_E_IO;
    }
    *out = (dt_text){bytes, size};
    return DT_OK;
}

dt_status cli_print_report_pdf(const dt_text *report, dt_text *out)
{
    const char *browser = find_browser();
    char *folder = browser ? make_work_folder() : NULL;
    char *page = folder ? cli_join(folder, "program.html") : NULL;
    char *pdf = folder ? cli_join(folder, "program.pdf") : NULL;
    dt_status status = DT_E_IO;
    if (page && pdf && cli_write_file(page, report) == EXIT_DONE && run_browser(browser, folder))
        status = take_pdf(pdf, out);
    if (folder) remove_all(folder);
    free(page);
    free(pdf);
    free(folder);
    return status;
}
