/* SPDX-License-Identifier: MIT */
/* compare: the options side by side. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli.h"

static dt_status write_json(const dt_comparison *comparison, dt_display display, dt_text *out)
{
    (void)display; /* always in field units, by its schema */
    return dt_write_comparison_json(comparison, out);
}

static const struct {
    const char *name;
    dt_status (*write)(const dt_comparison *, dt_display, dt_text *);
} outputs[] = {
    {"compare.html", dt_write_comparison_page},
    {"compare.svg", dt_draw_comparison},
    {"certainty.svg", dt_draw_certainty}, /* where the well has spreads */
    {"options.json", write_json},
};

enum { OUTPUT_COUNT = COUNT_OF(outputs) };

/** Makes everything in memory first: a failure leaves no file behind. */
static int write_outputs(const cli_options *options, const dt_comparison *comparison)
{
    cli_file files[OUTPUT_COUNT];
    size_t made = 0;
    int code = EXIT_DONE;
    for (size_t i = 0; code == EXIT_DONE && i < OUTPUT_COUNT; ++i) {
        files[made] = (cli_file){0};
        snprintf(files[made].name, sizeof files[made].name, "%s", outputs[i].name);
        dt_status status = outputs[i].write(comparison, options->display, &files[made].text);
        if (status == DT_OK)
            ++made;
        else if (status != DT_E_NONE)
            code = cli_fail(status);
    }
    size_t gone = 0;
    if (code == EXIT_DONE) code = cli_write_folder(options->output, "compare", files, made, &gone);
    if (code == EXIT_DONE) cli_say_written(options->output, made, gone);
    for (size_t i = 0; i < made; ++i)
        dt_text_free(&files[i].text);
    return code;
}

static int print_comparison(const cli_options *options, const dt_comparison *comparison)
{
    dt_text text = {0};
    dt_status status = options->json
                           ? dt_write_comparison_json(comparison, &text)
                           : dt_write_comparison_table(comparison, options->display, &text);
    if (status != DT_OK) return cli_fail(status);
    int code = cli_print(&text);
    dt_text_free(&text);
    return code;
}

static int make_comparison(const cli_options *options, const dt_well *well,
                           const dt_catalogue *catalogue, dt_comparison **comparison)
{
    dt_refusal *refusal = NULL;
    dt_status status = dt_comparison_open(well, catalogue, NULL, comparison, &refusal);
    cli_say_refusal(options, "", refusal);
    if (status == DT_OK) return EXIT_DONE;
    return status == DT_E_NONE ? EXIT_NO_PROGRAM : cli_fail(status);
}

int cli_compare(cli_options *options)
{
    dt_well *well = NULL;
    dt_catalogue *catalogue = NULL;
    dt_comparison *comparison = NULL;
    if (options->output && strcmp(options->output, "-") == 0) {
        fprintf(stderr, "drawtube: compare -o needs a folder; --json prints options.json\n");
        return EXIT_USAGE;
    }
    if (options->input_count > 1) return cli_compare_two(options);
    int code = cli_load_well(options, &well);
    if (code == EXIT_DONE) code = cli_load_catalogue(options, &catalogue);
    if (code == EXIT_DONE) code = make_comparison(options, well, catalogue, &comparison);
    if (code == EXIT_DONE && options->output) code = write_outputs(options, comparison);
    if (code == EXIT_DONE) code = print_comparison(options, comparison);
    dt_comparison_close(comparison);
    dt_catalogue_close(catalogue);
    dt_well_free(well);
    return code;
}
