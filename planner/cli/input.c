/* SPDX-License-Identifier: MIT */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli.h"

int cli_fail(dt_status status)
{
    fprintf(cli_messages(), "drawtube: %s\n", dt_status_text(status));
    return status == DT_E_INPUT  ? EXIT_REFUSED
           : status == DT_E_NONE ? EXIT_NO_PROGRAM
                                 : EXIT_SYSTEM;
}

enum { MOST_SHOWN = 500 }; /* findings: nobody reads more, and a broken file may bring 100,000 */

int cli_print_report(const char *file, const dt_report *report)
{
    const size_t count = dt_report_count(report), errors = dt_report_errors(report);
    const size_t shown = count < MOST_SHOWN ? count : MOST_SHOWN;
    for (size_t i = 0; i < shown; ++i) {
        dt_text line = {0};
        if (dt_report_line(report, i, &line) != DT_OK) return cli_fail(DT_E_MEMORY);
        fprintf(cli_messages(), "%s\n", line.bytes);
        dt_text_free(&line);
    }
    const size_t more = dt_report_found(report) - shown;
    if (more > 0) fprintf(cli_messages(), "%s: and %zu more\n", cli_shown(file).text, more);
    if (errors > 0)
        fprintf(cli_messages(), "%s: refused, %zu error%s\n", cli_shown(file).text, errors,
                errors == 1 ? "" : "s");
    return EXIT_DONE;
}

size_t cli_count_notices(const dt_program *program, dt_gravity gravity)
{
    size_t count = 0;
    dt_totals totals;
    dt_notice_view notice;
    dt_program_totals(program, &totals);
    for (size_t i = 0; i < totals.notices; ++i) {
        dt_notice_show(dt_program_notice(program, i), &notice);
        /* one only sums the others up */
        count += notice.gravity == gravity && strcmp(notice.code, "no-draft-closes") != 0;
    }
    return count;
}

void cli_say_runnable(const cli_options *options, const dt_program *program)
{
    if (dt_program_runnable(program)) return;
    fprintf(cli_messages(), "%s: the program is NOT RUNNABLE: drawtube plan tells its stoppers\n",
            cli_shown(options->input).text);
}

void cli_say_refusal(const cli_options *options, const char *lead, dt_refusal *refusal)
{
    dt_text text = {0};
    if (refusal && dt_refusal_text(refusal, options->display, &text) == DT_OK && text.size > 0)
        fprintf(cli_messages(), "%s: %s%s\n", cli_shown(options->input).text, lead, text.bytes);
    dt_text_free(&text);
    dt_refusal_close(refusal);
}

/* ---- whole numbers of options ---- */

bool cli_whole_number(const char *name, const char *text, unsigned long long least,
                      unsigned long long most, unsigned long long *out)
{
    char *end = NULL;
    errno = 0;
    unsigned long long value = strtoull(text, &end, 10);
    bool digits = text[0] >= '0' && text[0] <= '9' && *end == '\0' && errno == 0;
    if (digits && value >= least && value <= most) {
        *out = value;
        return true;
    }
    fprintf(cli_messages(), "drawtube: --%s \"%s\": write a whole number from %llu to %llu\n", name,
            text, least, most);
    return false;
}

bool cli_read_threads(const cli_options *options, unsigned *out)
{
    unsigned long long threads = 1;
    const long cores = sysconf(_SC_NPROCESSORS_ONLN);
    if (cores > 1)
        threads = cores < CLI_MOST_THREADS ? (unsigned long long)cores : CLI_MOST_THREADS;
    if (options->threads &&
        !cli_whole_number("threads", options->threads, 1, CLI_MOST_THREADS, &threads))
        return false;
    *out = (unsigned)threads;
    return true;
}

/* ---- bases ---- */

/** What --basis names: shipped ones, and files that are closed again. */
typedef struct bases {
    const dt_basis *over[DT_BASIS_MOST];
    dt_basis *read[DT_BASIS_MOST]; /* NULL for a shipped one */
    size_t count;
} bases;

static void close_bases(bases *b)
{
    for (size_t i = 0; i < b->count; ++i)
        dt_basis_close(b->read[i]);
}

static int read_basis(const char *path, dt_basis **out)
{
    char *text = NULL;
    size_t size = 0;
    int code = cli_read(path, DT_WELL_MAX_BYTES, &text, &size);
    if (code != EXIT_DONE) return code;
    dt_report *report = NULL;
    dt_status status = dt_report_open(cli_shown(path).text, &report);
    if (status == DT_OK) {
        status = dt_basis_open(text, size, report, out);
        if (cli_print_report(path, report) != EXIT_DONE) status = DT_E_MEMORY;
    }
    dt_report_close(report);
    free(text);
    if (status == DT_OK) return EXIT_DONE;
    return status == DT_E_INPUT ? EXIT_REFUSED : cli_fail(status);
}

/** A word without dot and slash is a name of ours, all else is a file. */
static int open_basis(const char *word, bases *b)
{
    const dt_basis *shipped = dt_basis_shipped(word);
    dt_basis *read = NULL;
    if (!shipped && !strpbrk(word, "./")) {
        fprintf(cli_messages(), "drawtube: --basis %s: write a file (./NAME) or one of",
                cli_shown(word).text);
        for (size_t i = 0; dt_basis_shipped_name(i); ++i)
            fprintf(cli_messages(), "%s %s", i ? "," : "", dt_basis_shipped_name(i));
        fprintf(cli_messages(), "\n");
        return EXIT_USAGE;
    }
    const int code = shipped ? EXIT_DONE : read_basis(word, &read);
    if (code != EXIT_DONE) return code;
    b->read[b->count] = read;
    b->over[b->count++] = shipped ? shipped : read;
    return EXIT_DONE;
}

int cli_basis_text(const char *word, char **text, size_t *size)
{
    bases b = {.count = 0};
    *text = NULL;
    int code = open_basis(word, &b);
    const bool is_file = code == EXIT_DONE && b.read[0];
    close_bases(&b);
    if (is_file) code = cli_read(word, DT_WELL_MAX_BYTES, text, size);
    return code;
}

/** Reads the text; the well needs no basis of ours any more when it is there. */
static int parse_well(const cli_options *options, const bases *b, const char *text, size_t size,
                      dt_well **well)
{
    dt_report *report = NULL;
    dt_text problem = {0};
    dt_status status = dt_report_open(cli_shown(options->input).text, &report);
    if (status == DT_OK) {
        status = dt_well_parse_with(text, size, b->over, b->count, options->changes,
                                    options->change_count, report, well, &problem);
        if (cli_print_report(options->input, report) != EXIT_DONE) status = DT_E_MEMORY;
    }
    const bool misread = problem.bytes != NULL;
    if (misread) fprintf(cli_messages(), "%s: %s\n", cli_shown(options->input).text, problem.bytes);
    dt_text_free(&problem);
    dt_report_close(report);
    if (status == DT_E_INPUT) return misread ? EXIT_USAGE : EXIT_REFUSED;
    return status == DT_OK ? EXIT_DONE : cli_fail(status);
}

int cli_load_source(cli_options *options, dt_well **well, char **text, size_t *size)
{
    *text = NULL;
    bases b = {.count = 0};
    int code = EXIT_DONE;
    for (size_t i = 0; code == EXIT_DONE && i < options->basis_count; ++i)
        code = open_basis(options->basis[i], &b);
    if (code == EXIT_DONE) code = cli_read(options->input, DT_WELL_MAX_BYTES, text, size);
    if (code == EXIT_DONE) code = parse_well(options, &b, *text, *size, well);
    if (code == EXIT_DONE && !options->units_given) options->display = dt_well_display(*well);
    close_bases(&b);
    return code;
}

int cli_load_well(cli_options *options, dt_well **well)
{
    char *text;
    size_t size = 0;
    int code = cli_load_source(options, well, &text, &size);
    free(text);
    return code;
}

typedef dt_status (*change_catalogue)(dt_catalogue *, const char *, size_t, dt_report *);

static int apply_file(const char *path, change_catalogue change, dt_catalogue *catalogue)
{
    if (!path) return EXIT_DONE;
    char *bytes = NULL;
    size_t size = 0;
    int code = cli_read(path, DT_CATALOGUE_MAX_BYTES, &bytes, &size);
    if (code != EXIT_DONE) return code;
    dt_report *report = NULL;
    dt_status status = dt_report_open(cli_shown(path).text, &report);
    if (status == DT_OK) {
        status = change(catalogue, bytes, size, report);
        if (cli_print_report(path, report) != EXIT_DONE) status = DT_E_MEMORY;
    }
    free(bytes);
    dt_report_close(report);
    if (status == DT_OK) return EXIT_DONE;
    return status == DT_E_INPUT ? EXIT_REFUSED : cli_fail(status);
}

int cli_load_catalogue(const cli_options *options, dt_catalogue **out)
{
    dt_catalogue *catalogue = NULL;
    dt_status status = dt_catalogue_open(&catalogue);
    if (status != DT_OK) return cli_fail(status);
    int code = apply_file(options->pipe_file, dt_catalogue_extend, catalogue);
    if (code == EXIT_DONE) code = apply_file(options->bits_file, dt_catalogue_bits, catalogue);
    if (code == EXIT_DONE) code = apply_file(options->stock_file, dt_catalogue_restrict, catalogue);
    if (code == EXIT_DONE)
        *out = catalogue;
    else
        dt_catalogue_close(catalogue);
    return code;
}
