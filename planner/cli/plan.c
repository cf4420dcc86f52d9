/* SPDX-License-Identifier: MIT */
/* plan, check and draw: the commands that read a well. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <drawtube/docx.h>
#include <drawtube/graph.h>
#include <drawtube/picture.h>

#include "cli.h"
#include "planned.h"

void cli_planned_free(cli_planned *p)
{
    dt_program_free(p->program);
    dt_catalogue_close(p->catalogue);
    dt_well_free(p->well);
    free(p->text);
}

/** The program nearest to a well that was refused, for the folder of -o. */
static int make_nearest(cli_planned *p, const dt_refusal *refusal)
{
    const dt_status status = dt_plan_nearest(p->well, p->catalogue, refusal, &p->program);
    return status == DT_OK || status == DT_E_NONE ? EXIT_NO_PROGRAM : cli_fail(status);
}

int cli_make_plan_or_nearest(cli_options *options, cli_planned *p, bool nearest)
{
    int code = cli_load_source(options, &p->well, &p->text, &p->size);
    if (code == EXIT_DONE && !p->catalogue) code = cli_load_catalogue(options, &p->catalogue);
    if (code != EXIT_DONE) return code;
    dt_refusal *refusal = NULL;
    dt_status status = dt_plan(p->well, p->catalogue, &p->program, &refusal);
    if (status == DT_E_NONE && nearest) code = make_nearest(p, refusal);
    cli_say_refusal(options, "", refusal);
    if (status == DT_OK) return EXIT_DONE;
    if (status == DT_E_INPUT) return EXIT_REFUSED;
    if (status != DT_E_NONE) return cli_fail(status);
    return code == EXIT_DONE ? EXIT_NO_PROGRAM : code;
}

int cli_make_plan(cli_options *options, cli_planned *p)
{
    return cli_make_plan_or_nearest(options, p, false);
}

/* ---- what plan -o writes ---- */

/** A writer of one file; everything it needs stands in the two arguments. */
typedef dt_status (*write_function)(const cli_planned *, const cli_options *, dt_text *);

static dt_status schematic(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return dt_draw_schematic_form(p->program, DT_FORM_PAGE, options->display, out);
}

static dt_status column(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return dt_draw_schematic_form(p->program, DT_FORM_COLUMN, options->display, out);
}

static dt_status thumbnail(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return dt_draw_schematic_form(p->program, DT_FORM_THUMBNAIL, options->display, out);
}

static dt_status window(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return dt_draw_window(p->program, options->display, out);
}

static dt_status course(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return dt_draw_course(p->program, options->display, out);
}

static dt_status options_graph(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return dt_draw_options(p->program, options->display, out);
}

static dt_status json(const cli_planned *p, const cli_options *options, dt_text *out)
{
    (void)options; /* program.json is always in field units, by its schema */
    return dt_write_program_json(p->program, out);
}

static dt_status lines(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return dt_write_program_lines(p->program, options->display, out);
}

/** With --compare, the options are searched for and stand in the report, too. */
static dt_status report(const cli_planned *p, const cli_options *options, dt_text *out)
{
    const dt_source source = {options->input, p->text, p->size};
    dt_comparison *comparison = NULL;
    dt_refusal *refusal = NULL;
    dt_status status = DT_OK;
    if (options->compare)
        status = dt_comparison_open(p->well, p->catalogue, NULL, &comparison, &refusal);
    cli_say_refusal(options, "no options: ", refusal);
    if (status == DT_E_NONE) status = DT_OK; /* the wishes exclude all; the program still stands */
    if (status == DT_OK)                     /* no layout engine costs the option graph only */
        status = dt_write_report(p->program, comparison, &source, p->graph, options->display, out);
    dt_comparison_close(comparison);
    return status;
}

/** The report that was just written, for a word processor. */
static dt_status docx(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return options->docx ? dt_write_docx(p->report, out) : DT_E_NONE;
}

/** The same, printed. */
static dt_status report_pdf(const cli_planned *p, const cli_options *options, dt_text *out)
{
    return options->report_pdf ? cli_print_report_pdf(p->report, out) : DT_E_NONE;
}

typedef struct output {
    const char *name;
    write_function write;
    const char *without; /* what it comes to when DT_E_IO says that a part is missing; NULL: that
                            cannot be */
} output;

static const output outputs[] = {
    {"schematic.svg", schematic, NULL},
    {"schematic-column.svg", column, NULL},
    {"schematic-thumbnail.svg", thumbnail, NULL},
    {"window.svg", window, NULL},
    {"course.svg", course, NULL},
    /* before the report, which shows it */
    {"options.svg", options_graph,
     "Graphviz's layout plugins are not there (Debian: libgvc6), or it ran out of memory"},
    {"program.html", report, NULL},
    /* after the report, which they are made of */
    {"program.docx", docx, "librsvg or cairo gave up, for want of memory or fonts"},
    {"program.pdf", report_pdf, "the browser that prints it gave up"},
    {"program.json", json, NULL},
    {"program.txt", lines, NULL},
};

enum { OUTPUT_COUNT = COUNT_OF(outputs) };

/** Drawings there is one of for each string, numbered from the surface down: strength-1.svg. */
static const struct {
    const char *name;
    dt_status (*draw)(const dt_program *, size_t, dt_display, dt_text *);
} string_drawings[] = {{"strength", dt_draw_strength}, {"string", dt_draw_string_sheet}};

enum { STRING_DRAWING_COUNT = COUNT_OF(string_drawings) };

static const struct {
    dt_picture kind;
    const char *ending;
} pictures[] = {{DT_PICTURE_PNG, ".png"}, {DT_PICTURE_PDF, ".pdf"}};

enum { PICTURE_COUNT = COUNT_OF(pictures) };

/** Files in the making. */
typedef struct folder {
    cli_file *files;
    size_t count;
    const output *missing[OUTPUT_COUNT]; /* what could not be made, since a part is not there */
    size_t missing_count;
    cli_progress progress;
} folder;

/** The pictures asked for of a drawing that was just added. */
static int add_pictures(const cli_options *options, const char *name, folder *f)
{
    const dt_text *drawing = &f->files[f->count - 1].text;
    const char *end = strstr(name, ".svg");
    const bool asked[PICTURE_COUNT] = {options->png, options->pdf};
    for (size_t i = 0; end && i < PICTURE_COUNT; ++i) {
        if (!asked[i]) continue;
        cli_file *file = &f->files[f->count];
        dt_status status = dt_draw_picture(drawing, pictures[i].kind, &file->text);
        if (status == DT_E_IO)
            fprintf(cli_messages(),
                    "drawtube: no%s file of %s: librsvg or cairo gave up, for want of memory or "
                    "fonts\n",
                    pictures[i].ending, name);
        if (status != DT_OK) return status == DT_E_IO ? EXIT_SYSTEM : cli_fail(status);
        snprintf(file->name, sizeof file->name, "%.*s%s", (int)(end - name), name,
                 pictures[i].ending);
        ++f->count;
        cli_progress_step(&f->progress, f->count);
    }
    return EXIT_DONE;
}

/** Takes up what was made under a name, or says why it was not. */
static int add_file(const cli_options *options, dt_status status, const char *name, folder *f)
{
    if (status != DT_OK) return cli_fail(status);
    snprintf(f->files[f->count].name, sizeof f->files[f->count].name, "%s", name);
    ++f->count;
    return add_pictures(options, name, f);
}

static int add_string_drawings(const cli_options *options, const dt_program *program, folder *f)
{
    int code = EXIT_DONE;
    for (size_t d = 0; d < STRING_DRAWING_COUNT; ++d)
        for (size_t i = 0; code == EXIT_DONE && i < dt_program_strings(program); ++i) {
            char name[48];
            snprintf(name, sizeof name, "%s-%zu.svg", string_drawings[d].name, i + 1);
            dt_status status = string_drawings[d].draw(program, dt_program_at(program, i),
                                                       options->display, &f->files[f->count].text);
            code = add_file(options, status, name, f);
        }
    return code;
}

static int add_output(const cli_options *options, cli_planned *p, const output *o, folder *f)
{
    dt_text *text = &f->files[f->count].text;
    dt_status status = o->write(p, options, text);
    if (status == DT_OK && o->write == options_graph) p->graph = text; /* laid out once */
    if (status == DT_OK && o->write == report) p->report = text;
    if (status == DT_E_NONE) return EXIT_DONE; /* there is nothing to draw */
    if (status != DT_E_IO || !o->without) return add_file(options, status, o->name, f);
    f->missing[f->missing_count++] = o;
    return EXIT_DONE;
}

/** Draws everything in memory first: a failure leaves no file behind. */
int cli_write_outputs(const cli_options *options, cli_planned *p)
{
    folder f = {0};
    size_t most = (OUTPUT_COUNT + STRING_DRAWING_COUNT * dt_program_strings(p->program)) *
                  (1 + PICTURE_COUNT);
    f.files = calloc(most, sizeof *f.files);
    if (!f.files) return cli_fail(DT_E_MEMORY);
    /* with several wells their own bar is enough */
    f.progress = cli_progress_begin("files", options->input_count > 1 ? 0 : most);
    int code = add_string_drawings(options, p->program, &f);
    for (size_t i = 0; code == EXIT_DONE && i < OUTPUT_COUNT; ++i)
        code = add_output(options, p, &outputs[i], &f);
    cli_progress_end(&f.progress);
    size_t gone = 0;
    if (code == EXIT_DONE)
        code = cli_write_folder(options->output, "plan", f.files, f.count, &gone);
    if (code == EXIT_DONE && options->input_count <= 1)
        cli_say_written(options->output, f.count, gone);
    for (size_t i = 0; i < f.count; ++i)
        dt_text_free(&f.files[i].text);
    free(f.files);
    if (code != EXIT_DONE || f.missing_count == 0) return code;
    for (size_t i = 0; i < f.missing_count; ++i)
        fprintf(cli_messages(), "drawtube: %s is not written: %s\n", f.missing[i]->name,
                f.missing[i]->without);
    return EXIT_SYSTEM;
}

/** Refuses pictures that this build cannot make, before any work is done. */
static int check_pictures(const cli_options *options)
{
    if ((!options->png && !options->pdf) || dt_pictures_built_in()) return EXIT_DONE;
    fprintf(cli_messages(),
            "drawtube: --%s: this drawtube was built without librsvg and cairo; install them "
            "(Debian: librsvg2-dev libcairo2-dev) and build again\n",
            options->png ? "png" : "pdf");
    return EXIT_USAGE;
}

/** Refuses the forms of the report that this build or this machine cannot make. */
static int check_documents(const cli_options *options)
{
    if (options->docx && !dt_docx_built_in()) {
        fprintf(cli_messages(),
                "drawtube: --docx: this drawtube was built without libzip, librsvg and cairo; "
                "install them (Debian: libzip-dev librsvg2-dev libcairo2-dev) and build again\n");
        return EXIT_USAGE;
    }
    if (options->report_pdf && !cli_can_print()) {
        fprintf(cli_messages(), "drawtube: --report-pdf: there is no browser to print the report; "
                                "install one (Debian: chromium), or use --docx\n");
        return EXIT_USAGE;
    }
    return EXIT_DONE;
}

/* ---- plan ---- */

static int print_program(const cli_options *options, const dt_program *program)
{
    dt_text text = {0};
    dt_status status = options->json ? dt_write_program_json(program, &text)
                       : options->all
                           ? dt_write_program_full_table(program, options->display, &text)
                           : dt_write_program_table(program, options->display, &text);
    if (status != DT_OK) return cli_fail(status);
    int code = cli_print(&text);
    dt_text_free(&text);
    return code;
}

/** All the files of the program nearest to a well that was refused: where it collides is drawn. */
int cli_write_nearest(const cli_options *options, cli_planned *p)
{
    const int code = cli_write_outputs(options, p);
    if (code != EXIT_DONE) return code;
    fprintf(
        cli_messages(),
        "%s: the program nearest to it, NOT RUNNABLE, is in %s: window.svg marks what collides\n",
        cli_shown(options->input).text, cli_shown(options->output).text);
    return EXIT_NO_PROGRAM;
}

static int plan_one(cli_options *options)
{
    cli_planned p = {0};
    int code = cli_make_plan_or_nearest(options, &p, options->output != NULL);
    if (code == EXIT_DONE && options->output) code = cli_write_outputs(options, &p);
    if (code == EXIT_NO_PROGRAM && p.program) code = cli_write_nearest(options, &p);
    if (code == EXIT_DONE) code = print_program(options, p.program);
    if (code == EXIT_DONE && options->json) cli_say_runnable(options, p.program);
    if (code == EXIT_DONE && !dt_program_runnable(p.program)) code = EXIT_NO_PROGRAM;
    cli_planned_free(&p);
    return code;
}

int cli_plan(cli_options *options)
{
    if ((options->png || options->pdf) && !options->output) {
        fprintf(cli_messages(), "drawtube: plan writes pictures into the folder of -o DIR only\n");
        return EXIT_USAGE;
    }
    if ((options->docx || options->report_pdf) && !options->output) {
        fprintf(cli_messages(), "drawtube: plan writes documents into the folder of -o DIR only\n");
        return EXIT_USAGE;
    }
    if (options->output && strcmp(options->output, "-") == 0) {
        fprintf(cli_messages(), "drawtube: plan -o needs a folder; --json prints program.json\n");
        return EXIT_USAGE;
    }
    if (options->compare && !options->output) {
        fprintf(cli_messages(),
                "drawtube: plan --compare needs -o DIR; drawtube compare prints options\n");
        return EXIT_USAGE;
    }
    int code = check_pictures(options);
    if (code == EXIT_DONE) code = check_documents(options);
    if (code != EXIT_DONE) return code;
    return options->input_count > 1 ? cli_plan_several(options) : plan_one(options);
}

/* ---- draw, check ---- */

int cli_draw(cli_options *options)
{
    int code = check_pictures(options);
    if (code == EXIT_DONE && options->png && options->pdf) {
        fprintf(cli_messages(), "drawtube: draw makes one file: write --png or --pdf\n");
        code = EXIT_USAGE;
    }
    if (code != EXIT_DONE) return code;
    cli_planned p = {0};
    dt_text text = {0}, picture = {0};
    code = cli_make_plan(options, &p);
    if (code == EXIT_DONE) {
        dt_status status =
            dt_draw_schematic_form(p.program, options->form, options->display, &text);
        if (status == DT_OK && (options->png || options->pdf))
            status =
                dt_draw_picture(&text, options->png ? DT_PICTURE_PNG : DT_PICTURE_PDF, &picture);
        if (status != DT_OK) code = cli_fail(status);
    }
    if (code == EXIT_DONE)
        code = cli_write_file(options->output ? options->output : "-",
                              picture.bytes ? &picture : &text);
    if (code == EXIT_DONE) cli_say_runnable(options, p.program);
    dt_text_free(&text);
    dt_text_free(&picture);
    cli_planned_free(&p);
    return code;
}

int cli_check(cli_options *options)
{
    dt_well *well = NULL;
    int code = cli_load_well(options, &well);
    dt_well_free(well);
    if (code != EXIT_DONE) return code;
    printf("%s: the well file is whole and makes sense\n", cli_shown(options->input).text);
    return cli_flush();
}
