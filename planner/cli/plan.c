/* SPDX-License-Identifier: MIT */
/* plan, check and draw: the commands that read a well. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <drawtube/graph.h>
#include <drawtube/picture.h>

#include "cli.h"

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

/** nearest: where the well is refused, p->program is the one that comes nearest, if any does. */
static int make_plan(const cli_options *options, cli_planned *p, bool nearest)
{
    int code = cli_load_source(options, &p->well, &p->text, &p->size);
    if (code == EXIT_DONE) code = cli_load_catalogue(options, &p->catalogue);
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

int cli_make_plan(const cli_options *options, cli_planned *p)
{
    return make_plan(options, p, false);
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
    dt_text graph = {0};
    if (status == DT_OK) status = dt_draw_options(p->program, options->display, &graph);
    if (status == DT_E_IO) status = DT_OK; /* no layout engine costs the option graph only */
    if (status == DT_OK)
        status = dt_write_report(p->program, comparison, &source, &graph, options->display, out);
    dt_text_free(&graph);
    dt_comparison_close(comparison);
    return status;
}

typedef struct output {
    const char *name;
    write_function write;
} output;

static const output outputs[] = {
    {"schematic.svg", schematic},
    {"schematic-column.svg", column},
    {"schematic-thumbnail.svg", thumbnail},
    {"window.svg", window},
    {"course.svg", course},
    {"options.svg", options_graph},
    {"program.html", report},
    {"program.json", json},
    {"program.txt", lines},
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
    bool no_layout; /* the layout engine of the option graph is not there */
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
            fprintf(stderr,
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

static int add_output(const cli_options *options, const cli_planned *p, const output *o, folder *f)
{
    dt_status status = o->write(p, options, &f->files[f->count].text);
    if (status == DT_E_NONE) return EXIT_DONE; /* there is nothing to draw */
    if (status != DT_E_IO) return add_file(options, status, o->name, f);
    f->no_layout = true;
    return EXIT_DONE;
}

/** Draws everything in memory first: a failure leaves no file behind. */
static int write_outputs(const cli_options *options, const cli_planned *p)
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
    if (code == EXIT_DONE && f.no_layout) {
        fprintf(stderr,
                "drawtube: options.svg is not written: Graphviz's layout plugins are not there "
                "(Debian: libgvc6), or it ran out of memory\n");
        code = EXIT_SYSTEM;
    }
    return code;
}

/** Refuses pictures that this build cannot make, before any work is done. */
static int check_pictures(const cli_options *options)
{
    if ((!options->png && !options->pdf) || dt_pictures_built_in()) return EXIT_DONE;
    fprintf(stderr,
            "drawtube: --%s: this drawtube was built without librsvg and cairo; install them "
            "(Debian: librsvg2-dev libcairo2-dev) and build again\n",
            options->png ? "png" : "pdf");
    return EXIT_USAGE;
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
static int write_nearest(const cli_options *options, const cli_planned *p)
{
    const int code = write_outputs(options, p);
    if (code != EXIT_DONE) return code;
    fprintf(
        stderr,
        "%s: the program nearest to it, NOT RUNNABLE, is in %s: window.svg marks what collides\n",
        cli_shown(options->input).text, cli_shown(options->output).text);
    return EXIT_NO_PROGRAM;
}

static int plan_one(const cli_options *options)
{
    cli_planned p = {0};
    int code = make_plan(options, &p, options->output != NULL);
    if (code == EXIT_DONE && options->output) code = write_outputs(options, &p);
    if (code == EXIT_NO_PROGRAM && p.program) code = write_nearest(options, &p);
    if (code == EXIT_DONE) code = print_program(options, p.program);
    if (code == EXIT_DONE && options->json) cli_say_runnable(options, p.program);
    if (code == EXIT_DONE && !dt_program_runnable(p.program)) code = EXIT_NO_PROGRAM;
    cli_planned_free(&p);
    return code;
}

/** Name of a well's folder: its file's name without folder and ".xml". */
static void folder_name(const char *path, char name[256])
{
    const char *slash = strrchr(path, '/');
    const char *base = slash ? slash + 1 : path;
    size_t length = strlen(base);
    if (length > 4 && strcmp(base + length - 4, ".xml") == 0) length -= 4;
    snprintf(name, 256, "%.*s", (int)length, strcmp(path, "-") == 0 ? "standard-input" : base);
}

/** Several wells need a folder each: no two may ask for the same. */
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
    char name[256], other[256];
    for (int i = 0; i < options->input_count; ++i) {
        folder_name(options->inputs[i], name);
        if (strcmp(name, ".") == 0 || strcmp(name, "..") == 0 || !*name) {
            fprintf(stderr, "drawtube: %s gives no name to its folder; rename the file\n",
                    cli_shown(options->inputs[i]).text);
            return EXIT_USAGE;
        }
        for (int k = 0; k < i; ++k) {
            folder_name(options->inputs[k], other);
            if (strcmp(name, other) != 0) continue;
            fprintf(stderr,
                    "drawtube: %s and %s would share the folder %s/%s; give each file a "
                    "name of its own\n",
                    cli_shown(options->inputs[k]).text, cli_shown(options->inputs[i]).text,
                    cli_shown(options->output).text, cli_shown(name).text);
            return EXIT_USAGE;
        }
    }
    return EXIT_DONE;
}

/** One line of the summary. */
static void print_summary(const cli_options *options, const cli_planned *p, int code)
{
    static const char *const words[] = {[EXIT_NO_PROGRAM] = "no program exists",
                                        [EXIT_REFUSED] = "refused",
                                        [EXIT_SYSTEM] = "failed"};
    if (code != EXIT_DONE) {
        printf("%-32s %s\n", cli_shown(options->input).text, words[code]);
        return;
    }
    dt_totals totals;
    dt_program_totals(p->program, &totals);
    char shoe[48];
    dt_display_text(options->display, DT_KIND_LENGTH, totals.shoe_tvd_m, shoe, sizeof shoe);
    printf("%-32s ", cli_shown(options->input).text);
    const size_t stoppers = cli_count_notices(p->program, DT_STOPPER);
    if (stoppers > 0) printf("NOT RUNNABLE, %zu stopper%s: ", stoppers, stoppers == 1 ? "" : "s");
    printf("%zu strings to %s TVD, %.1f t of steel, %zu for review\n", totals.strings, shoe,
           totals.steel_kg / 1000, cli_count_notices(p->program, DT_REVIEW));
}

/** What became of one well of several. */
typedef struct outcome {
    int code;
    bool planned, runnable;
} outcome;

static outcome plan_into(const cli_options *all, const char *input)
{
    char name[256];
    folder_name(input, name);
    cli_options one = *all;
    one.input = input;
    char *folder_path = cli_join(all->output, name);
    if (!folder_path) return (outcome){.code = cli_fail(DT_E_MEMORY)};
    one.output = folder_path;
    cli_planned p = {0};
    int code = make_plan(&one, &p, true);
    if (code == EXIT_DONE) code = write_outputs(&one, &p);
    if (code == EXIT_NO_PROGRAM && p.program) code = write_nearest(&one, &p);
    print_summary(&one, &p, code);
    outcome o = {.code = code, .planned = code == EXIT_DONE};
    o.runnable = o.planned && dt_program_runnable(p.program);
    if (o.planned && !o.runnable) o.code = EXIT_NO_PROGRAM;
    cli_planned_free(&p);
    free(folder_path);
    return o;
}

/** Plans each well, whatever became of the others. The exit code is the gravest one. */
static int plan_several(const cli_options *options)
{
    int worst = check_several(options);
    if (worst == EXIT_DONE) worst = cli_make_folder(options->output);
    if (worst != EXIT_DONE) return worst;
    int done = 0, stopped = 0;
    cli_progress progress = cli_progress_begin("wells", (size_t)options->input_count);
    for (int i = 0; i < options->input_count; ++i) {
        const outcome o = plan_into(options, options->inputs[i]);
        if (o.code > worst) worst = o.code;
        done += o.planned;
        stopped += o.planned && !o.runnable;
        cli_progress_step(&progress, (size_t)i + 1);
    }
    cli_progress_end(&progress);
    printf("%d of %d wells planned into %s", done, options->input_count,
           cli_shown(options->output).text);
    if (stopped > 0) printf(", %d of them NOT RUNNABLE", stopped);
    printf("\n");
    int code = cli_flush();
    return code == EXIT_DONE ? worst : code;
}

int cli_plan(const cli_options *options)
{
    if ((options->png || options->pdf) && !options->output) {
        fprintf(stderr, "drawtube: plan writes pictures into the folder of -o DIR only\n");
        return EXIT_USAGE;
    }
    if (options->output && strcmp(options->output, "-") == 0) {
        fprintf(stderr, "drawtube: plan -o needs a folder; --json prints program.json\n");
        return EXIT_USAGE;
    }
    if (options->compare && !options->output) {
        fprintf(stderr, "drawtube: plan --compare needs -o DIR; drawtube compare prints options\n");
        return EXIT_USAGE;
    }
    int code = check_pictures(options);
    if (code != EXIT_DONE) return code;
    return options->input_count > 1 ? plan_several(options) : plan_one(options);
}

/* ---- draw, check ---- */

int cli_draw(const cli_options *options)
{
    int code = check_pictures(options);
    if (code == EXIT_DONE && options->png && options->pdf) {
        fprintf(stderr, "drawtube: draw makes one file: write --png or --pdf\n");
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

int cli_check(const cli_options *options)
{
    dt_well *well = NULL;
    int code = cli_load_well(options, &well);
    dt_well_free(well);
    if (code != EXIT_DONE) return code;
    printf("%s: the well file is whole and makes sense\n", cli_shown(options->input).text);
    return cli_flush();
}
