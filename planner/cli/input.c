/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <stdlib.h>

#include "cli.h"

int cli_fail(dt_status status)
{
    fprintf(stderr, "drawtube: %s\n", dt_status_text(status));
    return status == DT_E_INPUT  ? EXIT_REFUSED
           : status == DT_E_NONE ? EXIT_NO_PROGRAM
                                 : EXIT_SYSTEM;
}

enum { MOST_SHOWN = 500 }; /* findings: nobody reads more, and a broken file may bring 100,000 */

int cli_print_report(const dt_report *report)
{
    size_t shown = report->count < MOST_SHOWN ? report->count : MOST_SHOWN;
    for (size_t i = 0; i < shown; ++i) {
        char *line = NULL;
        if (dt_finding_line(report, i, &line) != DT_OK) return cli_fail(DT_E_MEMORY);
        fprintf(stderr, "%s\n", line);
        free(line);
    }
    size_t more = report->count - shown + report->left_out;
    if (more > 0) fprintf(stderr, "%s: and %zu more\n", report->file, more);
    if (report->errors > 0)
        fprintf(stderr, "%s: refused, %zu error%s\n", report->file, report->errors,
                report->errors == 1 ? "" : "s");
    return EXIT_DONE;
}

int cli_load_source(const cli_options *options, dt_well **well, char **text, size_t *size)
{
    *text = NULL;
    int code = cli_read(options->input, DT_WELL_MAX_BYTES, text, size);
    if (code != EXIT_DONE) return code;
    dt_report report = {0};
    dt_status status = dt_report_init(&report, cli_shown(options->input).text);
    if (status == DT_OK) status = dt_well_parse(*text, *size, &report, well);
    if (cli_print_report(&report) != EXIT_DONE) status = DT_E_MEMORY;
    dt_report_free(&report);
    if (status == DT_OK) return EXIT_DONE;
    return status == DT_E_INPUT ? EXIT_REFUSED : cli_fail(status);
}

int cli_load_well(const cli_options *options, dt_well **well)
{
    char *text;
    size_t size = 0;
    int code = cli_load_source(options, well, &text, &size);
    free(text);
    return code;
}

typedef dt_status (*change_catalogue)(dt_catalogue *, const char *, size_t, dt_report *);

#define CATALOGUE_MAX_BYTES ((size_t)1 << 20)

static int apply_file(const char *path, change_catalogue change, dt_catalogue *catalogue)
{
    if (!path) return EXIT_DONE;
    char *bytes = NULL;
    size_t size = 0;
    int code = cli_read(path, CATALOGUE_MAX_BYTES, &bytes, &size);
    if (code != EXIT_DONE) return code;
    dt_report report = {0};
    dt_status status = dt_report_init(&report, cli_shown(path).text);
    if (size > CATALOGUE_MAX_BYTES) {
        dt_report_add(&report, DT_MSG_CATALOGUE_ROW, 0, "", "the file is larger than 1 MiB");
        status = DT_E_INPUT;
    } else if (status == DT_OK) {
        status = change(catalogue, bytes, size, &report);
    }
    free(bytes);
    if (cli_print_report(&report) != EXIT_DONE) status = DT_E_MEMORY;
    dt_report_free(&report);
    if (status == DT_OK) return EXIT_DONE;
    return status == DT_E_INPUT ? EXIT_REFUSED : cli_fail(status);
}

int cli_load_catalogue(const cli_options *options, dt_catalogue *catalogue)
{
    dt_status status = dt_catalogue_load(catalogue);
    if (status != DT_OK) return cli_fail(status);
    int code = apply_file(options->pipe_file, dt_catalogue_extend, catalogue);
    if (code == EXIT_DONE) code = apply_file(options->bits_file, dt_catalogue_bits, catalogue);
    if (code == EXIT_DONE) code = apply_file(options->stock_file, dt_catalogue_restrict, catalogue);
    if (code != EXIT_DONE) dt_catalogue_free(catalogue);
    return code;
}
