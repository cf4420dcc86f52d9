/* SPDX-License-Identifier: MIT */
/* import and export: tables, surveys and programs from and for other programs. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli.h"

static size_t read_file(void *context, char *bytes, size_t size)
{
    return fread(bytes, 1, size, context);
}

/** "NAME" or "NAME:UNIT", cut up in a copy of argv's text. */
static bool set_column(const char *text, dt_import_column *column, char **copy)
{
    if (!text) return true;
    size_t size = strlen(text) + 1;
    *copy = malloc(size);
    if (!*copy) return false;
    memcpy(*copy, text, size);
    char *colon = strrchr(*copy, ':');
    column->name = *copy;
    if (!colon) return true;
    *colon = '\0';
    column->unit = colon + 1;
    return true;
}

enum { COLUMN_OPTIONS = 5 };

/** Fills the request; copies hold its texts. EXIT_DONE, EXIT_USAGE or EXIT_SYSTEM. */
static int make_request(const cli_options *options, dt_import_request *request,
                        char *copies[COLUMN_OPTIONS])
{
    const char *texts[COLUMN_OPTIONS] = {options->depth_column, options->pore_column,
                                         options->fracture_column, options->collapse_column,
                                         options->overburden_column};
    dt_import_column *columns[COLUMN_OPTIONS] = {
        &request->depth, &request->table[DT_IMPORT_PORE], &request->table[DT_IMPORT_FRACTURE],
        &request->table[DT_IMPORT_COLLAPSE], &request->table[DT_IMPORT_OVERBURDEN]};
    bool any = false;
    for (size_t i = 0; i < COLUMN_OPTIONS; ++i) {
        if (!set_column(texts[i], columns[i], &copies[i])) return cli_fail(DT_E_MEMORY);
        any = any || (i > 0 && texts[i]);
    }
    request->survey = options->survey;
    request->offsets = options->offsets;
    if (any + options->survey + options->offsets != 1) {
        fprintf(stderr, any || options->survey
                            ? "drawtube: a survey, offset wells and pressure tables come from "
                              "files of their own: import one at a time\n"
                            : "drawtube: import needs --survey, --offsets, or at least one of "
                              "--pore, --fracture, --collapse, --overburden\n");
        return EXIT_USAGE;
    }
    double tolerance_pa = 10 * DT_PA_PER_PSI;
    if (options->tolerance &&
        (dt_quantity_parse(options->tolerance, DT_KIND_PRESSURE, &tolerance_pa) != DT_PARSE_OK ||
         tolerance_pa < 0 || tolerance_pa > 1e8)) {
        fprintf(stderr,
                "drawtube: --tolerance \"%s\": write a pressure from 0 to 100 MPa, with a decimal "
                "point and one of %s\n",
                options->tolerance, dt_unit_choices(DT_KIND_PRESSURE));
        return EXIT_USAGE;
    }
    request->tolerance_pa = tolerance_pa;
    return EXIT_DONE;
}

/** What was dropped and what was taken for granted, to standard error. */
static void say_outcome(const dt_imported *imported, const cli_options *options)
{
    for (int t = 0; t < DT_IMPORT_TABLES; ++t) {
        dt_imported_view table;
        if (dt_imported_table(imported, (dt_import_table)t, &table) != DT_OK) continue;
        char worst[48];
        const bool in_metres = strcmp(table.depth_unit, "m") == 0;
        const dt_display display = options->units_given ? options->display
                                   : in_metres          ? DT_DISPLAY_METRIC
                                                        : DT_DISPLAY_FIELD;
        dt_display_text(display, DT_KIND_PRESSURE, table.worst_pa, worst, sizeof worst);
        fprintf(stderr,
                "%s: %s: %zu of %zu rows kept, %zu dropped; no row is further than %s from "
                "the table, none on the unsafe side\n",
                cli_shown(options->input).text, dt_import_element((dt_import_table)t), table.points,
                table.rows, table.rows - table.points, worst);
        if (table.gaps > 0)
            fprintf(stderr,
                    "%s: %s: %zu rows have no value; the longest gap, joined straight, is "
                    "%g to %g %s\n",
                    cli_shown(options->input).text, dt_import_element((dt_import_table)t),
                    table.gaps, table.gap_top, table.gap_base, table.depth_unit);
    }
    const size_t stations = dt_imported_stations(imported);
    const char *north = dt_imported_north(imported);
    if (stations > 0)
        fprintf(stderr, "%s: %zu stations; azimuths as the file has them%s%s\n",
                cli_shown(options->input).text, stations, north ? ", referred to " : "",
                north ? north : "");
    else if (options->offsets)
        fprintf(stderr,
                "%s: depths are taken as true vertical depth below the rig floor of each well\n",
                cli_shown(options->input).text);
    else
        fprintf(stderr, "%s: depths are taken as true vertical depth below the rig floor\n",
                cli_shown(options->input).text);
}

static int import_file(const cli_options *options, const dt_import_request *request,
                       dt_imported **imported)
{
    bool standard = strcmp(options->input, "-") == 0;
    FILE *file = standard ? stdin : fopen(options->input, "rb");
    if (!file) return cli_say_error(EXIT_REFUSED, "cannot open", options->input);
    dt_report *report = NULL;
    dt_status status = dt_report_open(cli_shown(options->input).text, &report);
    if (status == DT_OK) status = dt_imported_open(read_file, file, request, report, imported);
    bool broken = ferror(file) != 0;
    if (broken) cli_say_error(EXIT_REFUSED, "cannot read", options->input);
    if (!standard) fclose(file);
    /* what a file lacks that could not be read to its end is not worth saying */
    if (!broken && report && cli_print_report(options->input, report) != EXIT_DONE)
        status = DT_E_MEMORY;
    dt_report_close(report);
    if (broken) return EXIT_REFUSED;
    if (status == DT_OK) return EXIT_DONE;
    return status == DT_E_INPUT ? EXIT_REFUSED : cli_fail(status);
}

static int make_text(const cli_options *options, const dt_imported *imported, dt_text *out)
{
    char *well = NULL;
    size_t size = 0;
    int code = options->into ? cli_read(options->into, DT_WELL_MAX_BYTES, &well, &size) : EXIT_DONE;
    if (code != EXIT_DONE) return code;
    dt_status status = dt_imported_xml(imported, well, size, out);
    free(well);
    if (status == DT_OK) return EXIT_DONE;
    if (status != DT_E_INPUT) return cli_fail(status);
    fprintf(stderr, "drawtube: --into %s is no well file; see drawtube check %s\n",
            cli_shown(options->into).text, cli_shown(options->into).text);
    return EXIT_REFUSED;
}

int cli_import(cli_options *options)
{
    dt_import_request request = {0};
    dt_imported *imported = NULL;
    dt_text text = {0};
    char *copies[COLUMN_OPTIONS] = {0};
    int code = make_request(options, &request, copies);
    if (code == EXIT_DONE) code = import_file(options, &request, &imported);
    if (code == EXIT_DONE) code = make_text(options, imported, &text);
    if (code == EXIT_DONE) code = cli_write_file(options->output ? options->output : "-", &text);
    if (code == EXIT_DONE) say_outcome(imported, options);
    for (size_t i = 0; i < COLUMN_OPTIONS; ++i)
        free(copies[i]);
    dt_text_free(&text);
    dt_imported_close(imported);
    return code;
}

/* ---- export ---- */

typedef dt_status (*export_function)(const dt_program *, dt_text *);

static const struct {
    const char *name;
    export_function write;
} formats[] = {{"csv", dt_write_program_csv},
               {"witsml-geometry", dt_write_witsml_geometry},
               {"witsml-trajectory", dt_write_witsml_trajectory}};

enum { FORMAT_COUNT = COUNT_OF(formats) };

int cli_export(cli_options *options)
{
    size_t format = 0;
    while (format < FORMAT_COUNT && options->as && strcmp(formats[format].name, options->as) != 0)
        ++format;
    if (!options->as || format == FORMAT_COUNT) {
        fprintf(stderr, "drawtube: export needs --as csv, witsml-geometry or witsml-trajectory\n");
        return EXIT_USAGE;
    }
    cli_planned p = {0};
    dt_text text = {0};
    int code = cli_make_plan(options, &p);
    if (code == EXIT_DONE) {
        dt_status status = formats[format].write(p.program, &text);
        if (status == DT_E_NONE) {
            fprintf(stderr, "drawtube: %s is vertical and has no survey stations to export\n",
                    cli_shown(options->input).text);
            code = EXIT_REFUSED;
        } else if (status != DT_OK) {
            code = cli_fail(status);
        }
    }
    if (code == EXIT_DONE) code = cli_write_file(options->output ? options->output : "-", &text);
    if (code == EXIT_DONE) cli_say_runnable(options, p.program);
    dt_text_free(&text);
    cli_planned_free(&p);
    return code;
}
