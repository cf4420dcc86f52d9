/* SPDX-License-Identifier: MIT */
/*
 * The planner as the live page calls it: compiled to WebAssembly, never into the command. A page
 * holds one desk; a call puts a text on it, plans it, and asks for what is made of the program.
 * Whoever calls reads what was made from memory before the next call (docs/live-page.md).
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <drawtube/draw.h>
#include <drawtube/questions.h>

/** A function that the page may call: its name stays in the module. */
#if defined(__wasm__)
#define PAGE_API(name) __attribute__((export_name(#name)))
#else
#define PAGE_API(name)
#endif

typedef struct page_desk {
    char *text; /* of the well file; size bytes are in use */
    size_t size, room;
    char file[512]; /* its name, for messages */
    dt_catalogue *catalogue;
    dt_report *report;
    dt_well *well;
    dt_program *program;
    dt_refusal *refusal;
    dt_comparison *comparison;
    dt_refusal *no_comparison;
    dt_odds *odds;
    dt_text made;
} page_desk;

/** What page_make() makes; the page knows them by number. */
typedef enum page_output {
    PAGE_FINDINGS, /* a line each: severity, line, number, then the line a user reads, by tabs */
    PAGE_REFUSAL,
    PAGE_JSON,
    PAGE_TABLE,
    PAGE_SCHEMATIC, /* index: a dt_form */
    PAGE_WINDOW,
    PAGE_COURSE,
    PAGE_STRENGTH, /* index: of the string, counted from 0 */
    PAGE_SHEET,    /* the same */
    PAGE_REPORT,
    PAGE_COMPARISON_JSON,
    PAGE_COMPARISON_DRAWING,
    PAGE_COMPARISON_PAGE,
    PAGE_NO_COMPARISON,
    PAGE_ODDS_JSON,
    PAGE_CERTAINTY,
    PAGE_VERSION
} page_output;

PAGE_API(page_open) page_desk *page_open(void);
PAGE_API(page_room) char *page_room(page_desk *desk, size_t size);
PAGE_API(page_name) char *page_name(page_desk *desk);
PAGE_API(page_check) int page_check(page_desk *desk, size_t size);
PAGE_API(page_plan) int page_plan(page_desk *desk);
PAGE_API(page_compare) int page_compare(page_desk *desk);
PAGE_API(page_odds) int page_odds(page_desk *desk, size_t samples);
PAGE_API(page_make) int page_make(page_desk *desk, int output, size_t index, int display);
PAGE_API(page_made) const char *page_made(const page_desk *desk);
PAGE_API(page_made_size) size_t page_made_size(const page_desk *desk);

/** A desk with the built-in catalogue; NULL when memory runs out. It lives as long as the module.
 */
page_desk *page_open(void)
{
    page_desk *desk = calloc(1, sizeof *desk);
    if (!desk) return NULL;
    if (dt_catalogue_open(&desk->catalogue) == DT_OK) return desk;
    free(desk);
    return NULL;
}

/** Room for a well file of so many bytes, which the page fills; NULL when memory runs out. */
char *page_room(page_desk *desk, size_t size)
{
    if (size + 1 > desk->room) {
        char *text = realloc(desk->text, size + 1);
        if (!text) return NULL;
        desk->text = text;
        desk->room = size + 1;
    }
    return desk->text;
}

/** Where the page puts the file's name, at most 511 bytes and a NUL. */
char *page_name(page_desk *desk)
{
    return desk->file;
}

static void clear_program(page_desk *desk)
{
    dt_odds_free(desk->odds);
    dt_comparison_close(desk->comparison);
    dt_refusal_close(desk->no_comparison);
    dt_refusal_close(desk->refusal);
    dt_program_free(desk->program);
    desk->odds = NULL;
    desk->comparison = NULL;
    desk->no_comparison = NULL;
    desk->refusal = NULL;
    desk->program = NULL;
}

/** Reads and checks the text in page_room(): a dt_status. */
int page_check(page_desk *desk, size_t size)
{
    clear_program(desk);
    dt_well_free(desk->well);
    dt_report_close(desk->report);
    desk->well = NULL;
    desk->report = NULL;
    desk->size = size;
    const dt_status status = dt_report_open(desk->file, &desk->report);
    if (status != DT_OK) return status;
    return dt_well_parse(desk->text, size, desk->report, &desk->well);
}

/** Plans the well of the last page_check(): a dt_status. Where none exists, the nearest is kept. */
int page_plan(page_desk *desk)
{
    if (!desk->well) return DT_E_INPUT;
    clear_program(desk);
    const dt_status status = dt_plan(desk->well, desk->catalogue, &desk->program, &desk->refusal);
    if (status != DT_E_NONE) return status;
    const dt_status nearest =
        dt_plan_nearest(desk->well, desk->catalogue, desk->refusal, &desk->program);
    return nearest == DT_OK || nearest == DT_E_NONE ? DT_E_NONE : nearest;
}

/** Searches the options beside the program: a dt_status. */
int page_compare(page_desk *desk)
{
    if (!desk->well) return DT_E_INPUT;
    dt_comparison_close(desk->comparison);
    dt_refusal_close(desk->no_comparison);
    desk->comparison = NULL;
    desk->no_comparison = NULL;
    return dt_comparison_open(desk->well, desk->catalogue, NULL, &desk->comparison,
                              &desk->no_comparison);
}

/** Plans so many wells drawn from the spreads: a dt_status. */
int page_odds(page_desk *desk, size_t samples)
{
    if (!desk->program) return DT_E_NONE;
    dt_odds_free(desk->odds);
    desk->odds = NULL;
    const dt_odds_options options = {.samples = samples, .seed = 1, .threads = 1};
    return dt_odds_run(desk->program, &options, &desk->odds);
}

static dt_status findings(const page_desk *desk, dt_text *out)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&bytes, &size);
    if (!stream) return DT_E_MEMORY;
    dt_status status = DT_OK;
    for (size_t i = 0; status == DT_OK && i < dt_report_count(desk->report); ++i) {
        dt_finding_view finding;
        dt_text line = {0};
        status = dt_report_finding(desk->report, i, &finding);
        if (status == DT_OK) status = dt_report_line(desk->report, i, &line);
        if (status == DT_OK)
            fprintf(stream, "%d\t%d\t%d\t%s\n", finding.severity == DT_ERROR, finding.line,
                    finding.number, line.bytes);
        dt_text_free(&line);
    }
    if (fclose(stream) != 0 && status == DT_OK) status = DT_E_MEMORY;
    if (status == DT_OK)
        *out = (dt_text){bytes, size};
    else
        free(bytes);
    return status;
}

static dt_status copy(const char *words, dt_text *out)
{
    const size_t size = strlen(words);
    char *bytes = malloc(size + 1);
    if (!bytes) return DT_E_MEMORY;
    memcpy(bytes, words, size + 1);
    *out = (dt_text){bytes, size};
    return DT_OK;
}

static dt_status make_of_comparison(const page_desk *desk, page_output output, dt_display display,
                                    dt_text *out)
{
    if (output == PAGE_NO_COMPARISON) return dt_refusal_text(desk->no_comparison, display, out);
    if (!desk->comparison) return DT_E_NONE;
    switch (output) {
    case PAGE_COMPARISON_JSON:
        return dt_write_comparison_json(desk->comparison, out);
    case PAGE_COMPARISON_DRAWING:
        return dt_draw_comparison(desk->comparison, display, out);
    case PAGE_COMPARISON_PAGE:
        return dt_write_comparison_page(desk->comparison, display, out);
    case PAGE_CERTAINTY:
        return dt_draw_certainty(desk->comparison, display, out);
    default:
        return DT_E_DOMAIN;
    }
}

static dt_status make_report(const page_desk *desk, dt_display display, dt_text *out)
{
    const dt_source source = {desk->file, desk->text, desk->size};
    return dt_write_report(desk->program, desk->comparison, &source, NULL, display, out);
}

static dt_status make_of_string(const page_desk *desk, page_output output, size_t index,
                                dt_display display, dt_text *out)
{
    if (index >= dt_program_strings(desk->program)) return DT_E_NONE;
    const size_t at = dt_program_at(desk->program, index);
    return output == PAGE_STRENGTH ? dt_draw_strength(desk->program, at, display, out)
                                   : dt_draw_string_sheet(desk->program, at, display, out);
}

static dt_status make_of_program(const page_desk *desk, page_output output, size_t index,
                                 dt_display display, dt_text *out)
{
    const dt_program *p = desk->program;
    if (!p) return DT_E_NONE;
    switch (output) {
    case PAGE_JSON:
        return dt_write_program_json(p, out);
    case PAGE_TABLE:
        return dt_write_program_full_table(p, display, out);
    case PAGE_SCHEMATIC:
        return dt_draw_schematic_form(p, (dt_form)index, display, out);
    case PAGE_WINDOW:
        return dt_draw_window(p, display, out);
    case PAGE_COURSE:
        return dt_draw_course(p, display, out);
    case PAGE_STRENGTH:
    case PAGE_SHEET:
        return make_of_string(desk, output, index, display, out);
    case PAGE_REPORT:
        return make_report(desk, display, out);
    case PAGE_ODDS_JSON:
        return desk->odds ? dt_write_odds_json(p, desk->odds, out) : DT_E_NONE;
    default:
        return make_of_comparison(desk, output, display, out);
    }
}

/** Makes an output of what is on the desk: a dt_status; page_made() has it when that is DT_OK. */
int page_make(page_desk *desk, int output, size_t index, int display)
{
    const dt_display units = display ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD;
    dt_text_free(&desk->made);
    desk->made = (dt_text){0};
    switch (output) {
    case PAGE_VERSION:
        return copy(dt_version(), &desk->made);
    case PAGE_FINDINGS:
        return desk->report ? findings(desk, &desk->made) : DT_E_NONE;
    case PAGE_REFUSAL:
        return dt_refusal_text(desk->refusal, units, &desk->made);
    default:
        return make_of_program(desk, (page_output)output, index, units, &desk->made);
    }
}

const char *page_made(const page_desk *desk)
{
    return desk->made.bytes;
}

size_t page_made_size(const page_desk *desk)
{
    return desk->made.size;
}
