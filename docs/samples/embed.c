/* SPDX-License-Identifier: MIT */
/*
 * A program that links drawtube: reads a well file, plans, prints strings, sections and notices,
 * and draws the schematic. docs/library.md explains it.
 *
 *   cc embed.c -o embed $(pkg-config --cflags --libs drawtube-render)
 *   ./embed wells/alder-reach.xml schematic.svg
 *
 * Exit codes are those of the command: 0 done, 1 no program, 2 usage, 3 input refused, 4 system.
 */
#include <drawtube/draw.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { DONE = 0, NO_PROGRAM = 1, USAGE = 2, REFUSED = 3, SYSTEM = 4 };

/** A status as an exit code, with a word on standard error. */
static int failed(const char *doing, dt_status status)
{
    fprintf(stderr, "embed: %s: %s\n", doing, dt_status_text(status));
    return status == DT_E_NONE ? NO_PROGRAM : status == DT_E_INPUT ? REFUSED : SYSTEM;
}

/** A whole file; one byte more than the library takes, so that it can say what is wrong. */
static int read_file(const char *path, char **bytes, size_t *size)
{
    FILE *file = fopen(path, "rb");
    if (!file) {
        perror(path);
        return REFUSED;
    }
    *bytes = malloc(DT_WELL_MAX_BYTES + 1);
    *size = *bytes ? fread(*bytes, 1, DT_WELL_MAX_BYTES + 1, file) : 0;
    int code = !*bytes ? failed("reading", DT_E_MEMORY) : ferror(file) ? SYSTEM : DONE;
    fclose(file);
    return code;
}

/** Reads and checks the well; what is wrong with it goes to standard error, a line each. */
static int load(const char *path, dt_well **well)
{
    char *bytes = NULL;
    size_t size = 0;
    dt_report *report = NULL;
    int code = read_file(path, &bytes, &size);
    if (code == DONE) {
        dt_status status = dt_report_open(path, &report);
        if (status == DT_OK) status = dt_well_parse(bytes, size, report, well);
        if (status != DT_OK) code = failed("reading the well", status);
    }
    for (size_t i = 0; report && i < dt_report_count(report); ++i) {
        dt_text line = {0};
        if (dt_report_line(report, i, &line) == DT_OK) fprintf(stderr, "%s\n", line.bytes);
        dt_text_free(&line);
    }
    dt_report_close(report);
    free(bytes);
    return code;
}

/** Plans; a refusal goes to standard error as a paragraph. */
static int plan(const dt_well *well, const dt_catalogue *catalogue, dt_program **program)
{
    dt_refusal *refusal = NULL;
    dt_status status = dt_plan(well, catalogue, program, &refusal);
    dt_text why = {0};
    if (refusal && dt_refusal_text(refusal, dt_well_display(well), &why) == DT_OK)
        fprintf(stderr, "%s\n", why.bytes);
    dt_text_free(&why);
    dt_refusal_close(refusal);
    return status == DT_OK ? DONE : failed("planning", status);
}

static int print_string(const dt_program *program, size_t index, dt_display display)
{
    dt_string_view string;
    dt_status status = dt_program_string_view(program, index, &string);
    if (status != DT_OK) return failed("strings", status);
    char size[24], shoe[48];
    dt_inch_text(string.od_m, size, sizeof size);
    dt_display_text(display, DT_KIND_LENGTH, string.shoe_md_m, shoe, sizeof shoe);
    printf("%s in %s, %s, shoe at %s MD", size, string.name, dt_string_type_text(string.type),
           shoe);
    if (!isnan(string.mud_kgm3)) {
        char mud[48];
        dt_display_text(display, DT_KIND_DENSITY, string.mud_kgm3, mud, sizeof mud);
        printf(", drilled with %s", mud);
    }
    printf("\n");
    for (size_t s = 0; s < string.sections; ++s) {
        dt_section_view section;
        status = dt_program_section_view(program, index, s, &section);
        if (status != DT_OK) return failed("sections", status);
        char base[48], weight[48];
        dt_display_text(display, DT_KIND_LENGTH, section.base_md_m, base, sizeof base);
        dt_display_text(display, DT_KIND_LINEAR_MASS, section.pipe.weight_kgm, weight,
                        sizeof weight);
        printf("    to %s: %s %s %s", base, weight, section.pipe.grade,
               dt_thread_text(section.thread));
        for (int c = 0; c < DT_CHECK_COUNT; ++c)
            if (isfinite(section.checks[c].factor))
                printf(", %s %.2f of %.2f", dt_check_code((dt_check)c), section.checks[c].factor,
                       section.checks[c].needed);
        printf("\n");
    }
    return DONE;
}

static int print(const dt_program *program, dt_display display)
{
    int code = DONE;
    for (size_t n = 0; code == DONE && n < dt_program_strings(program); ++n)
        code = print_string(program, dt_program_at(program, n), display);
    dt_totals totals;
    dt_program_totals(program, &totals);
    printf("%zu strings, %.1f t of steel, %.1f days\n", totals.strings, totals.steel_kg / 1000,
           totals.days);
    if (!dt_program_runnable(program)) printf("NOT RUNNABLE: one or more lines below say why\n");
    for (size_t i = 0; code == DONE && i < totals.notices; ++i) {
        dt_text text = {0};
        dt_status status = dt_notice_text(dt_program_notice(program, i), display, &text);
        if (status == DT_OK)
            printf("- %s\n", text.bytes);
        else
            code = failed("notices", status);
        dt_text_free(&text);
    }
    return code;
}

static int draw(const dt_program *program, dt_display display, const char *path)
{
    dt_text svg = {0};
    dt_status status = dt_draw_schematic_form(program, DT_FORM_PAGE, display, &svg);
    if (status != DT_OK) return failed("drawing", status);
    FILE *file = fopen(path, "wb");
    bool good = file && fwrite(svg.bytes, 1, svg.size, file) == svg.size;
    if (file && fclose(file) != 0) good = false;
    if (!good) perror(path);
    dt_text_free(&svg);
    return good ? DONE : SYSTEM;
}

int main(int argc, char **argv)
{
    if (argc != 3) {
        fprintf(stderr, "usage: embed WELL SCHEMATIC\n");
        return USAGE;
    }
    dt_well *well = NULL;
    dt_catalogue *catalogue = NULL;
    dt_program *program = NULL;
    int code = load(argv[1], &well);
    if (code == DONE) {
        dt_status status = dt_catalogue_open(&catalogue);
        if (status != DT_OK) code = failed("the catalogue", status);
    }
    if (code == DONE) code = plan(well, catalogue, &program);
    if (code == DONE) code = print(program, dt_well_display(well));
    if (code == DONE) code = draw(program, dt_well_display(well), argv[2]);
    dt_program_free(program); /* before what it was made of */
    dt_catalogue_close(catalogue);
    dt_well_free(well);
    return code;
}
