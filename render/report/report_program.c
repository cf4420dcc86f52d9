/* SPDX-License-Identifier: MIT */
/* The result's own sections of the report: what is planned and why. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report.h"
#include "review_words.h"
#include "rule_words.h"
#include "same.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/** Drawings of one page beside the page itself: said once, in each caption. */
#define BESIDE " The same drawing stands beside this page as "

static void open_row(dt_page *page)
{
    dt_html_open(&page->html, "tr");
}

static void close_row(dt_page *page)
{
    dt_html_close(&page->html);
}

static void name_of(const dt_page *page, size_t index, char name[32])
{
    dt_program_string_name(page->program, dt_program_at(page->program, index), name, 32);
    if (name[0] >= 'a' && name[0] <= 'z') name[0] = (char)(name[0] - 'a' + 'A');
}

/** Key of program.json for the lower end: a tie-back has no shoe. */
static const char *base_key(const dt_program_string *item)
{
    return item->seat->type == DT_TIEBACK ? "base" : "shoe";
}

/* ---- the first page ---- */

/** "40.00 lb/ft C90 LTC" of each section, a line each. */
static void write_pipes(dt_page *page, size_t index)
{
    dt_html *html = &page->html;
    const dt_string *string = dt_page_item(page, index)->string;
    dt_html_open(html, "td");
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        if (i) {
            dt_html_open(html, "br");
            dt_html_close_void(html);
        }
        dt_page_figure(page, DT_KIND_LINEAR_MASS, section->pipe->weight_kgm,
                       dt_json("strings.%zu.sections.%zu.weight_lbft", index, i));
        dt_html_text(html, " ");
        dt_page_words(page, "span", section->pipe->grade->name,
                      dt_json("strings.%zu.sections.%zu.grade", index, i));
        dt_html_text(html, " ");
        dt_page_words(page, "span", dt_pipe_thread_text(section->pipe, section->thread),
                      dt_json("strings.%zu.sections.%zu.thread", index, i));
    }
    dt_html_close(html);
}

/** Class of spool and BOP; a diverter, or a pressure above all classes, in words. */
static void class_cell(dt_page *page, size_t index)
{
    const dt_head_stage *head =
        &page->program->wellhead.stages[dt_program_at(page->program, index)];
    if (isfinite(head->class_psi)) {
        char text[48];
        snprintf(text, sizeof text, "%.0f", head->class_psi);
        dt_html_open_class(&page->html, "td", "number");
        dt_html_attribute(&page->html, "data-json",
                          dt_json("strings.%zu.wellhead_class_psi", index).text);
        dt_html_text(&page->html, text);
        dt_html_close(&page->html);
        return;
    }
    dt_html_element(&page->html, "td", "number",
                    head->diverter         ? "diverter"
                    : head->beyond_classes ? "above all"
                                           : "\u2013");
}

static void summary_row(dt_page *page, size_t index)
{
    const dt_program_string *item = dt_page_item(page, index);
    char name[32];
    name_of(page, index, name);
    open_row(page);
    dt_page_row_head(page, name);
    dt_page_words(page, "td", dt_string_type_text(item->seat->type),
                  dt_json("strings.%zu.type", index));
    dt_page_inches(page, item->hole_m, dt_json("strings.%zu.hole_in", index));
    dt_page_inches(page, item->od_m, dt_json("strings.%zu.od_in", index));
    write_pipes(page, index);
    dt_page_cell_both(page, DT_KIND_LENGTH, item->top_md_m,
                      dt_json("strings.%zu.top_md_ft", index));
    dt_page_cell_both(page, DT_KIND_LENGTH, item->shoe_md_m,
                      dt_json("strings.%zu.%s_md_ft", index, base_key(item)));
    if (dt_is_deviated(page->program))
        dt_page_cell_both(page, DT_KIND_LENGTH, item->shoe_tvd_m,
                          dt_json("strings.%zu.%s_tvd_ft", index, base_key(item)));
    dt_page_cell_both(page, DT_KIND_DENSITY, item->seat->mud_kgm3,
                      dt_json("strings.%zu.mud_ppg", index));
    dt_page_cell_both(page, DT_KIND_LENGTH, item->cement_top_md_m,
                      dt_json("strings.%zu.cement.top_md_ft", index));
    class_cell(page, index);
    close_row(page);
}

static void summary_table(dt_page *page)
{
    enum { SHOE_TVD = 7 };
    static const dt_column deviated[] = {DT_WORDS("String"),
                                         DT_WORDS("Type"),
                                         DT_NUMBER_IN("Hole", "in"),
                                         DT_NUMBER_IN("Casing", "in"),
                                         DT_WORDS("Weight, grade, thread"),
                                         DT_QUANTITY("Top MD", DT_KIND_LENGTH),
                                         DT_QUANTITY("Shoe MD", DT_KIND_LENGTH),
                                         DT_QUANTITY("Shoe TVD", DT_KIND_LENGTH),
                                         DT_QUANTITY("Mud", DT_KIND_DENSITY),
                                         DT_QUANTITY("Cement top MD", DT_KIND_LENGTH),
                                         DT_NUMBER_IN("Wellhead and BOP", "psi")};
    dt_column columns[COUNT(deviated)];
    size_t count = 0;
    for (size_t i = 0; i < COUNT(deviated); ++i)
        if (i != SHOE_TVD || dt_is_deviated(page->program)) columns[count++] = deviated[i];
    dt_page_table(page, "The strings from the surface down");
    dt_page_head_both(page, columns, count);
    for (size_t i = 0; i < dt_program_strings(page->program); ++i)
        summary_row(page, i);
    dt_page_table_end(page);
}

/** One fact: its name over its value, which is left open. */
static void open_fact(dt_page *page, const char *name)
{
    dt_html_open(&page->html, "div");
    dt_page_term(page, name, NULL);
}

static void close_fact(dt_page *page)
{
    dt_html_close(&page->html);
    dt_html_close(&page->html);
}

/** How many notices of a gravity there are, and the way to them; nothing where there are none. */
static void write_link_fact(dt_page *page, const char *name, const char *target, dt_gravity gravity)
{
    const dt_notices *notices = &page->program->notices;
    dt_buffer text = {0};
    size_t count = 0;
    for (size_t i = 0; i < notices->count; ++i)
        count += dt_notice_gravity(notices->items[i].code) == gravity;
    if (count == 0) return;
    open_fact(page, name);
    dt_html_open(&page->html, "a");
    dt_html_attribute(&page->html, "href", target);
    dt_buffer_number(&text, (double)count, 0);
    dt_page_say(page, "span", NULL, &text);
    dt_html_close(&page->html);
    close_fact(page);
}

/** A total of program.json, where there is one. */
static void write_total_fact(dt_page *page, const char *name, const char *key, int digits)
{
    const json_t *totals = json_object_get(page->json, "totals");
    const json_t *value = json_object_get(totals, key);
    const char *currency = json_string_value(json_object_get(totals, "currency"));
    char text[48];
    if (!value) return;
    snprintf(text, sizeof text, "%.*f", digits, json_number_value(value));
    open_fact(page, name);
    dt_page_words(page, "span", text, dt_json("totals.%s", key));
    if (currency && strcmp(key, "cost") == 0) {
        dt_html_text(&page->html, " ");
        dt_html_text(&page->html, currency);
    }
    close_fact(page);
}

static void write_facts(dt_page *page)
{
    dt_html *html = &page->html;
    const dt_program *program = page->program;
    dt_buffer text = {0};
    dt_html_open_class(html, "dl", "facts");
    open_fact(page, "Objective");
    dt_say_depth(&text, page->display, program->well->objective_m);
    dt_page_say(page, "span", "figure", &text);
    dt_html_text(html, " TVD");
    close_fact(page);
    open_fact(page, "Strings");
    dt_buffer_number(&text, (double)dt_program_strings(program), 0);
    dt_page_say(page, "span", NULL, &text);
    close_fact(page);
    open_fact(page, "Steel");
    char steel[32];
    snprintf(steel, sizeof steel, "%.1f", program->steel_kg / 1000);
    dt_page_words(page, "span", steel, dt_json("totals.steel_t"));
    dt_html_text(html, " t");
    close_fact(page);
    write_total_fact(page, "Days", "days", 1);
    write_total_fact(page, "Cost", "cost", 0);
    write_link_fact(page, "Stoppers", "#stoppers", DT_STOPPER);
    write_link_fact(page, "Review", "#review", DT_REVIEW);
    dt_html_close(html);
}

/** What the schematic shows, for those who cannot see it. */
static void say_schematic(const dt_page *page, dt_buffer *text)
{
    dt_buffer_text(text, "Casing schematic, depth to scale. From the surface down: ");
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        const dt_program_string *item = dt_page_item(page, i);
        if (i) dt_buffer_text(text, "; ");
        dt_say_string(text, page->program, dt_program_at(page->program, i));
        dt_buffer_text(text,
                       item->seat->type == DT_TIEBACK ? ", down to its liner at " : ", shoe at ");
        dt_say_md_tvd(text, page->program, page->display, item->shoe_md_m, item->shoe_tvd_m);
    }
    dt_buffer_text(text, ".");
}

static void write_review(dt_page *page, bool beside);

/** The review beside the schematic, as far as there is room. */
static void write_review_beside(dt_page *page)
{
    dt_html_open(&page->html, "div");
    dt_html_attribute(&page->html, "id", "review");
    dt_html_element(&page->html, "h3", NULL, "Review");
    write_review(page, true);
    dt_html_close(&page->html);
}

void dt_section_program(dt_page *page)
{
    dt_buffer alt = {0};
    say_schematic(page, &alt);
    summary_table(page);
    dt_html_open_class(&page->html, "div", page->schematic_apart ? "beside page" : "beside");
    if (alt.failed)
        page->html.status = DT_E_MEMORY;
    else
        dt_page_drawing(page, &page->schematic, alt.bytes,
                        "The well to scale. As a full page it stands beside this one as "
                        "schematic.svg.");
    dt_html_open(&page->html, "div");
    write_facts(page);
    write_review_beside(page);
    dt_html_close(&page->html);
    dt_html_close(&page->html);
    dt_buffer_free(&alt);
}

/* ---- the program in full ---- */

static void program_row(dt_page *page, size_t index)
{
    const dt_program_string *item = dt_page_item(page, index);
    const dt_seat *seat = item->seat;
    char name[32];
    name_of(page, index, name);
    open_row(page);
    dt_page_row_head(page, name);
    dt_page_words(page, "td", dt_string_type_text(seat->type), dt_json("strings.%zu.type", index));
    dt_page_inches(page, item->hole_m, dt_json("strings.%zu.hole_in", index));
    dt_page_inches(page, item->od_m, dt_json("strings.%zu.od_in", index));
    dt_page_inches(page, item->largest_od_m, dt_json("strings.%zu.coupling_od_in", index));
    dt_page_cell(page, DT_KIND_LENGTH, item->top_md_m, dt_json("strings.%zu.top_md_ft", index));
    dt_page_cell(page, DT_KIND_LENGTH, item->shoe_md_m,
                 dt_json("strings.%zu.%s_md_ft", index, base_key(item)));
    dt_page_cell(page, DT_KIND_LENGTH, item->shoe_tvd_m,
                 dt_json("strings.%zu.%s_tvd_ft", index, base_key(item)));
    dt_page_cell(page, DT_KIND_DENSITY, seat->mud_kgm3, dt_json("strings.%zu.mud_ppg", index));
    dt_page_cell(page, DT_KIND_DENSITY, seat->min_fracture_kgm3,
                 dt_json("strings.%zu.min_fracture_ppg", index));
    char steel[32];
    snprintf(steel, sizeof steel, "%.1f", item->steel_kg / 1000);
    dt_html_open_class(&page->html, "td", "number");
    dt_html_attribute(&page->html, "data-json", dt_json("strings.%zu.steel_t", index).text);
    dt_html_text(&page->html, steel);
    dt_html_close(&page->html);
    close_row(page);
}

void dt_section_full(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("String"),
                                        DT_WORDS("Type"),
                                        DT_NUMBER_IN("Hole", "in"),
                                        DT_NUMBER_IN("Pipe OD", "in"),
                                        DT_NUMBER_IN("Coupling OD", "in"),
                                        DT_QUANTITY("Top MD", DT_KIND_LENGTH),
                                        DT_QUANTITY("Shoe MD", DT_KIND_LENGTH),
                                        DT_QUANTITY("Shoe TVD", DT_KIND_LENGTH),
                                        DT_QUANTITY("Mud", DT_KIND_DENSITY),
                                        DT_QUANTITY("Min. fracture", DT_KIND_DENSITY),
                                        DT_NUMBER_IN("Steel", "t")};
    dt_html_element(
        &page->html, "p", NULL,
        "Mud weight and minimum fracture gradient are those of the hole drilled for the string. "
        "Pipe by pipe the strings stand under strength.");
    dt_page_table(page, "Sizes, depths and steel of each string");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < dt_program_strings(page->program); ++i)
        program_row(page, i);
    dt_page_table_end(page);
}

/* ---- window, sizes ---- */

void dt_section_window(dt_page *page)
{
    dt_page_drawing(
        page, &page->window,
        "Equivalent mud weight against true vertical depth: pore pressure, fracture "
        "gradient, minimum and maximum mud weight between them, the planned mud as steps, "
        "and how far each seat may move. The figures stand in the casing program, "
        "under the reasons and under what went in.",
        "Between the dashed and the dotted line the mud holds." BESIDE "window.svg.");
}

void dt_section_course(dt_page *page)
{
    dt_page_drawing(
        page, &page->course,
        "Depth against the horizontal distance that the hole has gone, to one scale, with "
        "the strings as they lie in it. The figures stand in the casing program.",
        "The strings along the hole." BESIDE "course.svg.");
}

void dt_section_sizes(dt_page *page)
{
    dt_page_drawing(page, &page->options,
                    "Graph of holes and pipes from the conductor down. The chosen path is marked; "
                    "beside it stand sizes that would nest as well. The chosen sizes and their "
                    "clearances are told above, string by string.",
                    "Holes and pipes that telescope; the chosen path is marked." BESIDE
                    "options.svg.");
}

/* ---- why ---- */

/** A sentence of program.json; the line of the well file it ends in becomes a link. */
static void write_sentence(dt_page *page, const char *sentence, int line, dt_json_path path)
{
    static const char words[] = "well file line ";
    dt_html *html = &page->html;
    const char *at = line > 0 ? strstr(sentence, words) : NULL;
    dt_buffer before = {0};
    dt_html_open(html, "span");
    dt_html_attribute(html, "data-json", path.text);
    dt_buffer_bytes(&before, sentence, at ? (size_t)(at - sentence) : strlen(sentence));
    if (before.failed)
        html->status = DT_E_MEMORY;
    else
        dt_html_text(html, before.bytes);
    if (at) {
        char link[32];
        snprintf(link, sizeof link, "%s%d", words, line);
        dt_page_line(page, link, line);
        at += strcspn(at, ")");
        dt_html_text(html, at);
    }
    dt_html_close(html);
    dt_buffer_free(&before);
}

/** Says a reason; "the same" when its sentence is that of the seat itself. */
static void write_reason(dt_page *page, const char *term, const dt_reason *reason,
                         const dt_reason *said, dt_json_path path)
{
    const dt_well *well = page->program->well;
    char *sentence = NULL, *before = NULL;
    dt_status status = dt_reason_sentence(reason, well, page->display, &sentence);
    if (status == DT_OK && said) status = dt_reason_sentence(said, well, page->display, &before);
    if (status != DT_OK) {
        page->html.status = status;
    } else if (before && strcmp(before, sentence) == 0) {
        dt_page_term(page, term, "the same");
    } else {
        dt_page_term(page, term, NULL);
        write_sentence(page, sentence, reason->line, path);
        dt_html_close(&page->html);
    }
    free(sentence);
    free(before);
}

static void write_seat(dt_page *page, size_t index)
{
    dt_html *html = &page->html;
    const dt_seat *seat = dt_page_item(page, index)->seat;
    bool moves = seat->deepest_m - seat->shallowest_m > SAME_DEPTH_M;
    dt_page_term(page, "Shoe", NULL);
    dt_page_figure(page, DT_KIND_LENGTH, seat->shoe_m, dt_json("strings.%zu.shoe_tvd_ft", index));
    dt_html_text(html, " TVD");
    if (fabs(seat->shoe_m - seat->exact_m) > SAME_DEPTH_M) {
        dt_html_text(html, ", rounded from ");
        dt_page_figure(page, DT_KIND_LENGTH, seat->exact_m,
                       dt_json("strings.%zu.seat_unrounded_tvd_ft", index));
    }
    if (seat->shoe_pinned && seat->why.rule != DT_RULE_CHOSEN_TOGETHER)
        dt_html_text(html, ", decided by the engineer");
    dt_html_close(html);
    if (moves) {
        dt_page_term(page, "Can be set", NULL);
        dt_html_text(html, "from ");
        dt_page_figure(page, DT_KIND_LENGTH, seat->shallowest_m,
                       dt_json("strings.%zu.seat_shallowest_tvd_ft", index));
        dt_html_text(html, " to ");
        dt_page_figure(page, DT_KIND_LENGTH, seat->deepest_m,
                       dt_json("strings.%zu.seat_deepest_tvd_ft", index));
        dt_html_text(html, " TVD, the other seats free to move");
        dt_html_close(html);
    }
    write_reason(page, "Governed by", &seat->why, NULL,
                 dt_json("strings.%zu.governed_text", index));
    if (moves) {
        write_reason(page, "No shallower", &seat->why_shallowest, &seat->why,
                     dt_json("strings.%zu.shallowest_governed_text", index));
        write_reason(page, "No deeper", &seat->why_deepest, &seat->why,
                     dt_json("strings.%zu.deepest_governed_text", index));
    }
    if (seat->liner_by_sticking)
        dt_page_term(page, "Liner", "since running it from surface could stick");
}

static void write_mud(dt_page *page, size_t index)
{
    const dt_seat *seat = dt_page_item(page, index)->seat;
    if (!isfinite(seat->mud_kgm3)) return;
    dt_page_term(page, "Mud", NULL);
    dt_page_figure(page, DT_KIND_DENSITY, seat->mud_kgm3, dt_json("strings.%zu.mud_ppg", index));
    if (isfinite(seat->mud_tvd_m)) {
        dt_html_text(&page->html, seat->mud_by_collapse ? ", set by the collapse gradient at "
                                                        : ", set by the pore pressure at ");
        dt_page_figure(page, DT_KIND_LENGTH, seat->mud_tvd_m,
                       dt_json("strings.%zu.mud_set_at_tvd_ft", index));
        dt_html_text(&page->html, " TVD");
    }
    dt_html_close(&page->html);
}

/** Hole, pipe and the two gaps that let them nest. */
static void write_size(dt_page *page, size_t index)
{
    const dt_program *program = page->program;
    const dt_program_string *item = dt_page_item(page, index);
    dt_buffer text = {0};
    dt_say_hole(&text, program, page->display, dt_program_at(program, index));
    dt_buffer_text(&text, ", pipe ");
    dt_say_size(&text, page->display, item->od_m);
    bool drilled =
        item->seat->role != DT_CONDUCTOR || program->well->conductor.method == DT_CONDUCTOR_DRILLED;
    for (size_t i = 0; drilled && i < program->nest.fit_count; ++i) {
        const dt_nest_fit *fit = &program->nest.fits[i];
        if (fit->hole != item->string->nest_hole || fit->pipe != item->string->nest_pipe) continue;
        dt_buffer_text(&text, " (largest diameter ");
        dt_say_size(&text, page->display, item->largest_od_m);
        dt_buffer_text(&text, "): ");
        dt_say_quantity(&text, page->display, DT_KIND_DIAMETER, fit->radial_clearance_m);
        dt_buffer_text(&text, " all round, ");
        dt_say_quantity(&text, page->display, DT_KIND_DIAMETER, fit->need_clearance_m);
        dt_buffer_text(&text, " asked for");
        break;
    }
    dt_html_element(&page->html, "dt", NULL, "Hole and pipe");
    dt_page_say(page, "dd", NULL, &text);
    if (!(item->string->need_drift_m > 0)) return;
    dt_buffer_text(&text, "the next bit, ");
    dt_say_size(&text, page->display, item->string->need_drift_m);
    dt_buffer_text(&text, ", against the drift of the pipe, ");
    double drift_m = INFINITY;
    for (size_t i = 0; i < item->string->section_count; ++i)
        drift_m = fmin(drift_m, dt_nest_drift(program->well, item->string->sections[i].pipe));
    dt_say_quantity(&text, page->display, DT_KIND_DIAMETER, drift_m);
    dt_html_element(&page->html, "dt", NULL, "Has to pass");
    dt_page_say(page, "dd", NULL, &text);
}

static void write_cement(dt_page *page, size_t index)
{
    const dt_program_string *item = dt_page_item(page, index);
    dt_buffer text = {0};
    char *phrase = NULL;
    dt_status status = dt_cement_top_phrase(page->program, dt_program_at(page->program, index),
                                            page->display, &phrase);
    if (status != DT_OK) {
        page->html.status = status;
        return;
    }
    if (isfinite(item->cement_top_tvd_m)) {
        dt_buffer_text(&text, "top ");
        dt_say_md_tvd(&text, page->program, page->display, item->cement_top_md_m,
                      item->cement_top_tvd_m);
        dt_buffer_text(&text, ": ");
    }
    dt_buffer_text(&text, phrase);
    dt_html_element(&page->html, "dt", NULL, "Cement");
    dt_page_say(page, "dd", NULL, &text);
    free(phrase);
}

/** A tie-back has no hole, no seat and no cement to give reasons for. */
static void write_tieback(dt_page *page, size_t index)
{
    dt_html *html = &page->html;
    dt_page_term(page, "Stands on", NULL);
    dt_html_text(html, "the receptacle on top of its liner, at ");
    dt_page_figure(page, DT_KIND_LENGTH, dt_page_item(page, index)->shoe_md_m,
                   dt_json("strings.%zu.base_md_ft", index));
    dt_html_text(html, " MD; run once the liner is cemented and tested");
    dt_html_close(html);
    dt_page_term(page, "Carries",
                 "what is drilled and produced below its liner, in place of the "
                 "string the liner hangs in");
    dt_page_term(page, "Pipe", "of its liner's size, so it passes where the liner passed");
    dt_page_term(page, "Outside", NULL);
    dt_html_text(html, "the mud its liner was run in, ");
    dt_page_figure(page, DT_KIND_DENSITY, dt_page_item(page, index)->seat->mud_kgm3,
                   dt_json("strings.%zu.mud_ppg", index));
    dt_html_text(html, "; not cemented");
    dt_html_close(html);
}

/** A reason in a cell of its own; "the same" where it says what the seat's own says. */
static void reason_cell(dt_page *page, const dt_reason *reason, const dt_reason *said,
                        dt_json_path path)
{
    const dt_well *well = page->program->well;
    char *sentence = NULL, *before = NULL;
    dt_status status = dt_reason_sentence(reason, well, page->display, &sentence);
    if (status == DT_OK && said) status = dt_reason_sentence(said, well, page->display, &before);
    dt_html_open(&page->html, "td");
    if (status != DT_OK)
        page->html.status = status;
    else if (before && strcmp(before, sentence) == 0)
        dt_html_text(&page->html, "the same");
    else
        write_sentence(page, sentence, reason->line, path);
    dt_html_close(&page->html);
    free(sentence);
    free(before);
}

/** The seat may stand from one depth to the other; one that cannot move has no such cells. */
static void range_cells(dt_page *page, size_t index)
{
    const dt_seat *seat = dt_page_item(page, index)->seat;
    if (seat->deepest_m - seat->shallowest_m > SAME_DEPTH_M) {
        dt_page_cell(page, DT_KIND_LENGTH, seat->shallowest_m,
                     dt_json("strings.%zu.seat_shallowest_tvd_ft", index));
        dt_page_cell(page, DT_KIND_LENGTH, seat->deepest_m,
                     dt_json("strings.%zu.seat_deepest_tvd_ft", index));
        reason_cell(page, &seat->why, NULL, dt_json("strings.%zu.governed_text", index));
        reason_cell(page, &seat->why_deepest, &seat->why,
                    dt_json("strings.%zu.deepest_governed_text", index));
        return;
    }
    dt_html_element(&page->html, "td", "number", "\u2013");
    dt_html_element(&page->html, "td", "number", "\u2013");
    reason_cell(page, &seat->why, NULL, dt_json("strings.%zu.governed_text", index));
    dt_html_element(&page->html, "td", NULL, "\u2013");
}

void dt_section_why(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("String"),
                                        DT_QUANTITY("Shoe TVD", DT_KIND_LENGTH),
                                        DT_QUANTITY("from", DT_KIND_LENGTH),
                                        DT_QUANTITY("to", DT_KIND_LENGTH),
                                        DT_WORDS("Governed by"),
                                        DT_WORDS("No deeper")};
    dt_page_table(page, "What governs each seat, and from where to where it may stand");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        const dt_seat *seat = dt_page_item(page, i)->seat;
        if (seat->type == DT_TIEBACK) continue; /* ends where its liner begins */
        open_row(page);
        dt_page_string_head(page, i);
        dt_page_cell(page, DT_KIND_LENGTH, seat->shoe_m, dt_json("strings.%zu.shoe_tvd_ft", i));
        range_cells(page, i);
        close_row(page);
    }
    dt_page_table_end(page);
}

void dt_section_reasons(dt_page *page)
{
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        dt_buffer text = {0};
        dt_html_open_class(&page->html, "div", "string");
        dt_say_string(&text, page->program, dt_program_at(page->program, i));
        dt_page_say(page, "h3", NULL, &text);
        dt_html_open_class(&page->html, "dl", "reasons");
        if (dt_page_item(page, i)->seat->type == DT_TIEBACK)
            write_tieback(page, i);
        else {
            write_seat(page, i);
            write_mud(page, i);
            write_size(page, i);
            write_cement(page, i);
        }
        dt_html_close(&page->html);
        dt_html_close(&page->html);
    }
}

/* ---- stoppers, review, assumed ---- */

/** The string a notice is about; of a stopper the line that brought it, unless its words tell it.
 */
static void write_where(dt_page *page, size_t i, const char *sentence)
{
    dt_html *html = &page->html;
    const dt_notice *n = &page->program->notices.items[i];
    const bool stops = dt_notice_gravity(n->code) == DT_STOPPER;
    const int number = stops ? dt_notice_line(page->program, n) : 0;
    char where[32], line[48];
    dt_notice_where(page->program, n, where, sizeof where);
    dt_html_open(html, "strong");
    if (n->string != DT_NO_STRING)
        dt_html_attribute(html, "data-json", dt_json("notices.%zu.string", i).text);
    dt_html_text(html, where);
    dt_html_close(html);
    snprintf(line, sizeof line, "well file line %d", number);
    if (number > 0 && !strstr(sentence, line)) {
        dt_html_text(html, " (");
        dt_page_line(page, line, number);
        dt_html_text(html, ")");
    }
    dt_html_text(html, ": ");
}

/** One notice; its sentence stands in program.json in field units, so only these are marked. */
static void write_notice(dt_page *page, size_t i)
{
    dt_html *html = &page->html;
    const dt_notice *n = &page->program->notices.items[i];
    char *text = NULL;
    if (dt_notice_words(n, page->display, &text) != DT_OK) {
        html->status = DT_E_MEMORY;
        return;
    }
    dt_html_open(html, "li");
    write_where(page, i, text);
    if (page->display == DT_DISPLAY_FIELD)
        write_sentence(page, text, n->line, dt_json("notices.%zu.text", i));
    else
        dt_html_element(html, "span", NULL, text);
    dt_html_text(html, " ");
    dt_page_words(page, "code", dt_notice_code_text(n->code), dt_json("notices.%zu.code", i));
    dt_html_close(html);
    free(text);
}

bool dt_wants_stoppers(const dt_page *page)
{
    return !dt_program_runnable(page->program);
}

void dt_section_stoppers(dt_page *page)
{
    dt_html *html = &page->html;
    const dt_notices *notices = &page->program->notices;
    char text[48];
    dt_stoppers_words(page->program, text, sizeof text);
    dt_html_open_class(html, "p", "caution");
    dt_html_element(html, "strong", NULL, "NOT RUNNABLE");
    dt_html_text(html, ": ");
    dt_html_text(html, text);
    dt_html_close(html);
    dt_html_open_class(html, "ul", "notices");
    for (size_t i = 0; i < notices->count; ++i)
        if (dt_notice_gravity(notices->items[i].code) == DT_STOPPER) write_notice(page, i);
    dt_html_close(html);
}

/** About how many lines a notice takes, so many characters each. 0: out of memory. */
static size_t lines_of(const dt_page *page, size_t index, size_t across)
{
    const dt_notice *n = &page->program->notices.items[index];
    char *text = NULL;
    if (dt_notice_words(n, page->display, &text) != DT_OK) return 0;
    const size_t lines = 1 + (strlen(text) + strlen(dt_notice_code_text(n->code)) + 14) / across;
    free(text);
    return lines;
}

/** Heights of the first page in print, mm: report.css sets it. Each is rounded up. */
#define COVER_MM     273.0
#define HEAD_MM      42.0 /* well, caution, caption and heads of the table */
#define IDENTITY_MM  8.0
#define STOPPERS_MM  20.0 /* what stands above the list of stoppers */
#define TEXT_LINE_MM 4.6
#define ROW_MM       1.4 /* of a table, without its lines */
#define ROW_LINE_MM  4.1
#define WORD_MM      26.0 /* more that the same takes in a word processor, caption included */
#define LEAST_MM     95.0 /* a schematic that is lower has no room for its labels */

dt_status dt_page_measure_cover(dt_page *page)
{
    enum { ACROSS = 95 };
    const dt_well *well = page->program->well;
    double taken = HEAD_MM + WORD_MM + (dt_has_document(well) ? IDENTITY_MM : 0);
    if (well->note) taken += TEXT_LINE_MM * (double)(1 + strlen(well->note) / ACROSS) + 1;
    if (dt_wants_stoppers(page)) taken += STOPPERS_MM;
    for (size_t i = 0; i < page->program->notices.count; ++i) {
        if (dt_notice_gravity(page->program->notices.items[i].code) != DT_STOPPER) continue;
        const size_t lines = lines_of(page, i, ACROSS);
        if (lines == 0) return DT_E_MEMORY;
        taken += TEXT_LINE_MM * (double)lines + 1;
    }
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        const size_t sections = dt_page_item(page, i)->string->section_count;
        taken += ROW_MM + ROW_LINE_MM * (double)(sections > 2 ? sections : 2);
    }
    const double left = floor(COVER_MM - taken);
    page->schematic_apart = left < LEAST_MM;
    page->schematic_mm = page->schematic_apart ? DT_SCHEMATIC_MOST_MM : left;
    return DT_OK;
}

/** Lines that the first page has beside its schematic, below the facts; in a page of its own the
 * schematic has that page. */
static size_t lines_beside(const dt_page *page)
{
    const double facts_mm = 40;
    const double room_mm = page->schematic_mm + (page->schematic_apart ? 0 : WORD_MM);
    return (size_t)fmax(0, (room_mm - WORD_MM / 2 - facts_mm) / TEXT_LINE_MM);
}

dt_status dt_page_split_review(dt_page *page)
{
    enum { ASIDE = 46 };
    dt_review review;
    size_t room = lines_beside(page), count = 0;
    dt_status status = dt_review_make(page->program, &review);
    if (status != DT_OK) return status;
    for (; count < review.count; ++count) {
        const size_t lines = lines_of(page, review.order[count], ASIDE);
        if (lines == 0) status = DT_E_MEMORY;
        if (lines == 0 || lines > room) break;
        room -= lines;
    }
    page->review_beside = count;
    page->more_review = count < review.count;
    dt_review_free(&review);
    return status;
}

static void write_review(dt_page *page, bool beside)
{
    dt_html *html = &page->html;
    dt_review review;
    if (dt_review_make(page->program, &review) != DT_OK) {
        html->status = DT_E_MEMORY;
        return;
    }
    const size_t split = page->review_beside;
    const size_t first = beside ? 0 : split, end = beside ? split : review.count;
    if (review.count == 0) dt_html_element(html, "p", NULL, "None.");
    if (first < end) dt_html_open_class(html, "ul", "notices");
    for (size_t i = first; i < end; ++i)
        write_notice(page, review.order[i]);
    if (first < end) dt_html_close(html);
    if (beside && page->more_review) {
        dt_html_open(html, "p");
        dt_html_open(html, "a");
        dt_html_attribute(html, "href", "#more-review");
        dt_html_text(html, "More for review");
        dt_html_close(html);
        dt_html_text(html, " behind the seats.");
        dt_html_close(html);
    }
    dt_review_free(&review);
}

void dt_section_review(dt_page *page)
{
    write_review(page, false);
}

bool dt_wants_review(const dt_page *page)
{
    return page->more_review;
}

void dt_section_assumed(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Not stated"), DT_WORDS("Taken"),
                                        DT_WORDS("From")};
    dt_html *html = &page->html;
    dt_assumptions all;
    dt_buffer text = {0};
    if (dt_assumptions_make(page->program, page->display, &all) != DT_OK) {
        html->status = DT_E_MEMORY;
        return;
    }
    dt_buffer_number(&text, (double)all.count, 0);
    dt_buffer_text(&text, " values that the well file does not state");
    dt_buffer_text(&text, ": what was taken, and where from");
    if (text.failed)
        html->status = DT_E_MEMORY;
    else
        dt_page_table(page, text.bytes);
    dt_buffer_free(&text);
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < all.count; ++i) {
        dt_html_open(html, "tr");
        dt_page_row_head(page, all.items[i].what);
        dt_html_element(html, "td", NULL, all.items[i].taken);
        dt_html_element(html, "td", NULL, all.items[i].from);
        dt_html_close(html);
    }
    dt_page_table_end(page);
    dt_assumptions_free(&all);
}
