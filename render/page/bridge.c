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

/** A planned well that others are held against, or that is held against another. */
typedef struct page_side {
    char name[512];
    dt_well *well;
    dt_program *program;
} page_side;

/** Most programs beside each other in one drawing, as dt_draw_changes_beside() has it. */
enum { MOST_SIDES = 5 };

typedef struct page_desk {
    char *text; /* of the well file; size bytes are in use */
    size_t size, room;
    char file[512]; /* its name, for messages */
    dt_catalogue *catalogue;
    const dt_basis *bases[DT_BASIS_MOST]; /* over what wells name; they live as long as the desk */
    size_t base_count;
    dt_report *report;
    dt_well *well;
    dt_program *program;
    dt_refusal *refusal;
    dt_comparison *comparison;
    dt_refusal *no_comparison;
    dt_odds *odds;
    page_side sides[MOST_SIDES];
    size_t side_count;
    dt_changes *changes[MOST_SIDES]; /* [i]: from the first side to side i; [0] is not used */
    dt_text made;
} page_desk;

/** Lists of one's own that change the catalogue; the page knows them by number. */
typedef enum page_kind { PAGE_PIPE, PAGE_BITS, PAGE_STOCK } page_kind;

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
    PAGE_CHANGES,  /* index: of the side. A line each: code, what it is about, words, by tabs */
    PAGE_PARTNERS, /* index: of the side. For each of its strings the first side's, or -, a line
                      each */
    PAGE_CHANGES_DRAWING,
    PAGE_VERSION
} page_output;

PAGE_API(page_open) page_desk *page_open(void);
PAGE_API(page_room) char *page_room(page_desk *desk, size_t size);
PAGE_API(page_name) char *page_name(page_desk *desk);
PAGE_API(page_stack) dt_status page_stack(page_desk *desk, size_t size);
PAGE_API(page_list) dt_status page_list(page_desk *desk, int kind, size_t size);
PAGE_API(page_check) dt_status page_check(page_desk *desk, size_t size);
PAGE_API(page_plan) dt_status page_plan(page_desk *desk);
PAGE_API(page_compare) dt_status page_compare(page_desk *desk);
PAGE_API(page_odds) dt_status page_odds(page_desk *desk, size_t samples);
PAGE_API(page_set_aside) dt_status page_set_aside(page_desk *desk);
PAGE_API(page_clear_sides) void page_clear_sides(page_desk *desk);
PAGE_API(page_make) dt_status page_make(page_desk *desk, int output, size_t index, int display);
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

/** Stacks a basis over what wells name, as --basis does: the text in page_room(), or with size 0
 * the one that comes with drawtube under the name in page_name(). A dt_status. */
dt_status page_stack(page_desk *desk, size_t size)
{
    if (desk->base_count == DT_BASIS_MOST) return DT_E_DOMAIN;
    const dt_basis *basis = NULL;
    dt_basis *read = NULL;
    dt_status status = DT_OK;
    if (size == 0)
        basis = dt_basis_shipped(desk->file);
    else {
        dt_report *report = NULL;
        status = dt_report_open(desk->file, &report);
        if (status == DT_OK) status = dt_basis_open(desk->text, size, report, &read);
        dt_report_close(report);
        basis = read;
    }
    if (status == DT_OK && !basis) status = DT_E_INPUT;
    if (status == DT_OK) desk->bases[desk->base_count++] = basis;
    return status;
}

/** Changes the catalogue by the list in page_room(), as --pipe, --bits and --stock do: a dt_status.
 * Before any well is planned: programs hold on to the catalogue. */
dt_status page_list(page_desk *desk, int kind, size_t size)
{
    static dt_status (*const change[])(dt_catalogue *, const char *, size_t, dt_report *) = {
        [PAGE_PIPE] = dt_catalogue_extend,
        [PAGE_BITS] = dt_catalogue_bits,
        [PAGE_STOCK] = dt_catalogue_restrict,
    };
    if (kind < PAGE_PIPE || kind > PAGE_STOCK || desk->program || desk->side_count > 0)
        return DT_E_DOMAIN;
    dt_report *report = NULL;
    dt_status status = dt_report_open(desk->file, &report);
    if (status == DT_OK) status = change[kind](desk->catalogue, desk->text, size, report);
    dt_report_close(report);
    return status;
}

/** Reads and checks the text in page_room(): a dt_status. */
dt_status page_check(page_desk *desk, size_t size)
{
    clear_program(desk);
    dt_well_free(desk->well);
    dt_report_close(desk->report);
    desk->well = NULL;
    desk->report = NULL;
    desk->size = size;
    const dt_status status = dt_report_open(desk->file, &desk->report);
    if (status != DT_OK) return status;
    return dt_well_parse_on(desk->text, size, desk->bases, desk->base_count, desk->report,
                            &desk->well);
}

/** Plans the well of the last page_check(): a dt_status. Where none exists, the nearest is kept. */
dt_status page_plan(page_desk *desk)
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
dt_status page_compare(page_desk *desk)
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
dt_status page_odds(page_desk *desk, size_t samples)
{
    if (!desk->program) return DT_E_NONE;
    dt_odds_free(desk->odds);
    desk->odds = NULL;
    const dt_odds_options options = {.samples = samples, .seed = 1, .threads = 1};
    return dt_odds_run(desk->program, &options, &desk->odds);
}

/** Frees all that page_set_aside() kept. */
void page_clear_sides(page_desk *desk)
{
    for (size_t i = 0; i < desk->side_count; ++i) {
        dt_changes_close(desk->changes[i]);
        desk->changes[i] = NULL;
        dt_program_free(desk->sides[i].program);
        dt_well_free(desk->sides[i].well);
        desk->sides[i] = (page_side){0};
    }
    desk->side_count = 0;
}

/** Takes the program off the desk, to be held against others under the name in page_name(); the
 * first that is taken is the one they are held against. A dt_status: DT_E_NONE without a program,
 * DT_E_DOMAIN where there are as many as can be. */
dt_status page_set_aside(page_desk *desk)
{
    if (!desk->program) return DT_E_NONE;
    if (desk->side_count == MOST_SIDES) return DT_E_DOMAIN;
    const size_t at = desk->side_count;
    if (at > 0) {
        const dt_status status =
            dt_changes_open(desk->sides[0].program, desk->program, &desk->changes[at]);
        if (status != DT_OK) return status;
    }
    page_side *side = &desk->sides[desk->side_count++];
    memcpy(side->name, desk->file, sizeof side->name);
    side->well = desk->well;
    side->program = desk->program;
    desk->well = NULL;
    desk->program = NULL;
    clear_program(desk);
    return DT_OK;
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

/** A line for each thing that differs and reads otherwise. */
static dt_status put_change(FILE *stream, const dt_changes *changes, size_t index,
                            dt_display display)
{
    dt_change_view change;
    dt_text words = {0};
    char about[64];
    dt_status status = dt_changes_at(changes, index, &change);
    if (status == DT_OK) status = dt_change_text(changes, index, display, &words);
    if (status != DT_OK || !words.bytes) return status;
    dt_change_where(changes, index, about, sizeof about);
    if (words.size)
        fprintf(stream, "%s\t%s\t%s\n", dt_change_code(change.what), about, words.bytes);
    dt_text_free(&words);
    return DT_OK;
}

/** Lines of a side's changes, or of the partners of its strings. */
static dt_status lines_of_side(const page_desk *desk, page_output output, size_t side,
                               dt_display display, dt_text *out)
{
    if (side == 0 || side >= desk->side_count) return DT_E_NONE;
    char *bytes = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&bytes, &size);
    if (!stream) return DT_E_MEMORY;
    const dt_changes *changes = desk->changes[side];
    const dt_program *program = desk->sides[side].program;
    dt_status status = DT_OK;
    if (output == PAGE_CHANGES)
        for (size_t i = 0; status == DT_OK && i < dt_changes_count(changes); ++i)
            status = put_change(stream, changes, i, display);
    else
        for (size_t i = 0; i < dt_program_strings(program); ++i) {
            const size_t was = dt_changes_partner(changes, dt_program_at(program, i));
            const dt_program *first = desk->sides[0].program;
            size_t at = 0; /* program.json has strings by position */
            while (was != DT_NO_INDEX && dt_program_at(first, at) != was)
                ++at;
            fprintf(stream, was == DT_NO_INDEX ? "-\n" : "%zu\n", at);
        }
    if (fclose(stream) != 0 && status == DT_OK) status = DT_E_MEMORY;
    if (status == DT_OK)
        *out = (dt_text){bytes, size};
    else
        free(bytes);
    return status;
}

static dt_status draw_sides(const page_desk *desk, dt_display display, dt_text *out)
{
    const dt_changes *changes[MOST_SIDES];
    const char *names[MOST_SIDES];
    if (desk->side_count < 2) return DT_E_NONE;
    for (size_t i = 0; i < desk->side_count; ++i) {
        names[i] = desk->sides[i].name;
        if (i > 0) changes[i - 1] = desk->changes[i];
    }
    return dt_draw_changes_beside(changes, names, desk->side_count - 1, display, out);
}

/** Makes an output of what is on the desk: a dt_status; page_made() has it when that is DT_OK. */
dt_status page_make(page_desk *desk, int output, size_t index, int display)
{
    const dt_display units =
        display >= 0 && display <= (int)DT_DISPLAY_MIXED ? (dt_display)display : DT_DISPLAY_FIELD;
    dt_text_free(&desk->made);
    desk->made = (dt_text){0};
    switch (output) {
    case PAGE_VERSION:
        return copy(dt_version(), &desk->made);
    case PAGE_FINDINGS:
        return desk->report ? findings(desk, &desk->made) : DT_E_NONE;
    case PAGE_REFUSAL:
        return dt_refusal_text(desk->refusal, units, &desk->made);
    case PAGE_CHANGES:
    case PAGE_PARTNERS:
        return lines_of_side(desk, (page_output)output, index, units, &desk->made);
    case PAGE_CHANGES_DRAWING:
        return draw_sides(desk, units, &desk->made);
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
