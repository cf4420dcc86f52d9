/* SPDX-License-Identifier: MIT */
/* plan, check and draw: the commands that read a well. */
#include <stdio.h>
#include <stdlib.h>

#include "cli.h"

void cli_planned_free(cli_planned *p)
{
    dt_program_free(p->program);
    dt_catalogue_free(&p->catalogue);
    dt_well_free(p->well);
}

int cli_make_plan(const cli_options *options, cli_planned *p)
{
    int code = cli_load_well(options, &p->well);
    if (code == EXIT_DONE) code = cli_load_catalogue(options, &p->catalogue);
    if (code != EXIT_DONE) return code;
    dt_refusal refusal = {0};
    dt_status status =
        dt_program_plan(p->well, &p->catalogue, options->display, &p->program, &refusal);
    if (refusal.text) fprintf(stderr, "%s: %s\n", options->input, refusal.text);
    dt_refusal_free(&refusal);
    if (status == DT_OK) return EXIT_DONE;
    if (status == DT_E_INPUT) return EXIT_REFUSED;
    return status == DT_E_NONE ? EXIT_NO_PROGRAM : cli_fail(status);
}

typedef dt_status (*draw_function)(const dt_program *, dt_display, dt_text *);

static dt_status write_json(const dt_program *program, dt_display display, dt_text *out)
{
    (void)display; /* program.json is always in field units, by its schema */
    return dt_write_program_json(program, out);
}

typedef struct output {
    const char *name;
    draw_function draw;
} output;

static const output outputs[] = {
    {"schematic.svg", dt_draw_schematic},
    {"window.svg", dt_draw_window},
    {"program.json", write_json},
    {"options.svg", dt_draw_options},
};

enum { OUTPUT_COUNT = sizeof outputs / sizeof *outputs };

/** Drawings of which there is one a string: "strength-1.svg", "string-1.svg" for the conductor. */
typedef struct string_output {
    const char *name;
    dt_status (*draw)(const dt_program *, size_t index, dt_display, dt_text *);
} string_output;

static const string_output string_outputs[] = {
    {"strength", dt_draw_strength},
    {"string", dt_draw_string_sheet},
};

enum { STRING_OUTPUT_COUNT = sizeof string_outputs / sizeof *string_outputs };

typedef struct file_name {
    char text[40];
} file_name;

/** Draws those of every string behind the files there are. EXIT_DONE or EXIT_SYSTEM. */
static int draw_strings(const cli_options *options, const dt_program *program, cli_file *files,
                        file_name *names, size_t *made)
{
    for (size_t k = 0; k < STRING_OUTPUT_COUNT; ++k)
        for (size_t i = 0; i < program->count; ++i, ++names) {
            dt_status status =
                string_outputs[k].draw(program, i, options->display, &files[*made].text);
            if (status != DT_OK) return cli_fail(status);
            snprintf(names->text, sizeof names->text, "%s-%zu.svg", string_outputs[k].name, i + 1);
            files[(*made)++].name = names->text;
        }
    return EXIT_DONE;
}

/** Draws everything in memory first: a failure leaves no file behind. */
static int write_outputs(const cli_options *options, const dt_program *program)
{
    size_t of_strings = STRING_OUTPUT_COUNT * program->count;
    cli_file *files = calloc(OUTPUT_COUNT + of_strings, sizeof *files);
    file_name *names = calloc(of_strings, sizeof *names);
    size_t made = 0;
    int code = files && names ? EXIT_DONE : cli_fail(DT_E_MEMORY);
    bool no_layout = false;
    for (size_t i = 0; code == EXIT_DONE && i < OUTPUT_COUNT; ++i) {
        dt_status status = outputs[i].draw(program, options->display, &files[made].text);
        if (status == DT_OK)
            files[made++].name = outputs[i].name;
        else if (status == DT_E_IO)
            no_layout = true;
        else
            code = cli_fail(status);
    }
    if (code == EXIT_DONE) code = draw_strings(options, program, files, names, &made);
    if (code == EXIT_DONE) code = cli_write_folder(options->output, files, made);
    for (size_t i = 0; i < made; ++i)
        dt_text_free(&files[i].text);
    free(files);
    free(names);
    if (code == EXIT_DONE && no_layout) {
        fprintf(stderr,
                "drawtube: options.svg is not written: Graphviz's layout plugins are not there "
                "(Debian: libgvc6)\n");
        code = EXIT_SYSTEM;
    }
    return code;
}

static int print_program(const cli_options *options, const dt_program *program)
{
    dt_text text = {0};
    dt_status status = options->json ? dt_write_program_json(program, &text)
                                     : dt_write_program_table(program, options->display, &text);
    if (status != DT_OK) return cli_fail(status);
    int code = cli_print(&text);
    dt_text_free(&text);
    return code;
}

int cli_plan(const cli_options *options)
{
    cli_planned p = {0};
    int code = cli_make_plan(options, &p);
    if (code == EXIT_DONE && options->output) code = write_outputs(options, p.program);
    if (code == EXIT_DONE) code = print_program(options, p.program);
    cli_planned_free(&p);
    return code;
}

int cli_draw(const cli_options *options)
{
    cli_planned p = {0};
    dt_text text = {0};
    int code = cli_make_plan(options, &p);
    if (code == EXIT_DONE) {
        dt_status status = dt_draw_schematic(p.program, options->display, &text);
        if (status != DT_OK) code = cli_fail(status);
    }
    if (code == EXIT_DONE) code = cli_write_file(options->output ? options->output : "-", &text);
    dt_text_free(&text);
    cli_planned_free(&p);
    return code;
}

int cli_check(const cli_options *options)
{
    dt_well *well = NULL;
    int code = cli_load_well(options, &well);
    dt_well_free(well);
    if (code != EXIT_DONE) return code;
    printf("%s: the well file is whole and makes sense\n", options->input);
    return fflush(stdout) == 0 ? EXIT_DONE : cli_fail(DT_E_IO);
}
