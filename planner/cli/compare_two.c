/* SPDX-License-Identifier: MIT */
/* compare A B: what differs between the programs of two wells. */
#include <stdio.h>

#include "cli.h"

static dt_status write_json(const dt_changes *changes, dt_display display, dt_text *out)
{
    (void)display; /* always in field units, by its schema */
    return dt_write_changes_json(changes, out);
}

static const struct {
    const char *name;
    dt_status (*write)(const dt_changes *, dt_display, dt_text *);
} outputs[] = {
    {"changes.txt", dt_write_changes_text},
    {"changes.svg", dt_draw_changes},
    {"changes.json", write_json},
};

enum { OUTPUT_COUNT = COUNT_OF(outputs) };

static int write_outputs(const cli_options *options, const dt_changes *changes)
{
    cli_file files[OUTPUT_COUNT] = {0};
    size_t made = 0, gone = 0;
    int code = EXIT_DONE;
    for (; code == EXIT_DONE && made < OUTPUT_COUNT; ++made) {
        snprintf(files[made].name, sizeof files[made].name, "%s", outputs[made].name);
        const dt_status status = outputs[made].write(changes, options->display, &files[made].text);
        if (status != DT_OK) code = cli_fail(status);
    }
    if (code == EXIT_DONE) code = cli_write_folder(options->output, "compare", files, made, &gone);
    if (code == EXIT_DONE) cli_say_written(options->output, made, gone);
    for (size_t i = 0; i < OUTPUT_COUNT; ++i)
        dt_text_free(&files[i].text);
    return code;
}

static int print_changes(const cli_options *options, const dt_changes *changes)
{
    dt_text text = {0};
    const dt_status status = options->json
                                 ? dt_write_changes_json(changes, &text)
                                 : dt_write_changes_text(changes, options->display, &text);
    if (status != DT_OK) return cli_fail(status);
    const int code = cli_print(&text);
    dt_text_free(&text);
    return code;
}

static int hold_beside(const cli_options *options, const dt_program *was, const dt_program *is)
{
    dt_changes *changes = NULL;
    const dt_status status = dt_changes_open(was, is, &changes);
    if (status != DT_OK) return cli_fail(status);
    int code = options->output ? write_outputs(options, changes) : EXIT_DONE;
    if (code == EXIT_DONE) code = print_changes(options, changes);
    dt_changes_close(changes);
    return code;
}

int cli_compare_two(cli_options *options)
{
    if (options->input_count > 2) {
        fprintf(stderr, "drawtube: compare holds two wells beside each other, not %d\n",
                options->input_count);
        return EXIT_USAGE;
    }
    cli_planned sides[2] = {{0}};
    int code = EXIT_DONE;
    for (int i = 0; code == EXIT_DONE && i < 2; ++i) {
        cli_options one = *options;
        one.input = options->inputs[i];
        code = cli_make_plan(&one, &sides[i]);
    }
    if (code == EXIT_DONE && !options->units_given)
        options->display = dt_well_display(sides[1].well); /* the later of two revisions */
    if (code == EXIT_DONE) code = hold_beside(options, sides[0].program, sides[1].program);
    for (int i = 0; i < 2; ++i)
        cli_planned_free(&sides[i]);
    return code;
}
