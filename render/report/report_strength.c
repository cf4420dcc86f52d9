/* SPDX-License-Identifier: MIT */
/* Strength, string by string, and what stands on top of them. */
#include <math.h>
#include <stdio.h>

#include "plots.h"
#include "report.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/** A cell with a factor; small beside it, where told, the factor asked for. */
static void factor_cell(dt_page *page, double factor, double needed, dt_json_path path)
{
    char text[32];
    bool known = !isnan(factor), large = !isfinite(factor) || factor >= 100;
    if (large)
        snprintf(text, sizeof text, ">99");
    else
        snprintf(text, sizeof text, "%.2f", factor);
    dt_html_open_class(&page->html, "td", "number");
    if (known) dt_html_attribute(&page->html, "data-json", path.text);
    dt_html_text(&page->html, known ? text : "\u2013");
    if (known && isfinite(needed)) {
        snprintf(text, sizeof text, "(min %.2f)", needed);
        dt_html_raw(&page->html, " ");
        dt_html_element(&page->html, "small", NULL, text);
    }
    dt_html_close(&page->html);
}

/** "40.00 lb/ft C90 LTC". */
static void say_pipe(const dt_page *page, const dt_pipe *pipe, dt_thread thread, dt_buffer *text)
{
    dt_say_quantity(text, page->display, DT_KIND_LINEAR_MASS, pipe->weight_kgm);
    dt_buffer_text(text, " ");
    dt_buffer_text(text, pipe->grade->name);
    dt_buffer_text(text, " ");
    dt_buffer_text(text, dt_thread_text(thread));
}

static void pipe_head(dt_page *page, const dt_section *section)
{
    dt_buffer text = {0};
    say_pipe(page, section->pipe, section->thread, &text);
    dt_page_row_head_of(page, &text);
}

/** A table named after its string: the tables of a page need names of their own. */
static void string_table(dt_page *page, size_t string, const char *words)
{
    dt_buffer caption = {0};
    dt_say_string(&caption, page->program, string);
    dt_buffer_text(&caption, words);
    if (caption.failed)
        page->html.status = DT_E_MEMORY;
    else
        dt_page_table(page, caption.bytes);
    dt_buffer_free(&caption);
}

/* ---- the pipes of a string ---- */

static void pipe_row(dt_page *page, size_t string, size_t index)
{
    const dt_section *section = &dt_page_item(page, string)->string->sections[index];
    dt_html_open(&page->html, "tr");
    pipe_head(page, section);
    dt_page_cell(page, DT_KIND_LENGTH, section->top_md_m,
                 dt_json("strings.%zu.sections.%zu.top_md_ft", string, index));
    dt_page_cell(page, DT_KIND_LENGTH, section->base_md_m,
                 dt_json("strings.%zu.sections.%zu.base_md_ft", string, index));
    dt_page_cell(page, DT_KIND_DIAMETER, section->pipe->wall_m,
                 dt_json("strings.%zu.sections.%zu.wall_in", string, index));
    dt_page_cell(page, DT_KIND_DIAMETER, dt_nest_drift(page->program->well, section->pipe),
                 dt_json("strings.%zu.sections.%zu.drift_in", string, index));
    for (int c = 0; c < DT_CHECK_COUNT; ++c)
        factor_cell(page, section->screen.by_check[c].factor, section->screen.by_check[c].needed,
                    dt_json("strings.%zu.sections.%zu.factors.%s", string, index,
                            dt_check_code((dt_check)c)));
    dt_html_close(&page->html);
}

static void write_pipes(dt_page *page, size_t string)
{
    static const dt_column columns[] = {DT_WORDS("Pipe"),
                                        DT_QUANTITY("From MD", DT_KIND_LENGTH),
                                        DT_QUANTITY("To MD", DT_KIND_LENGTH),
                                        DT_QUANTITY("Wall", DT_KIND_DIAMETER),
                                        DT_QUANTITY("Drift", DT_KIND_DIAMETER),
                                        DT_NUMBER("Burst"),
                                        DT_NUMBER("Collapse"),
                                        DT_NUMBER("Tension"),
                                        DT_NUMBER("Triaxial")};
    string_table(page, string, ": pipe and smallest factors");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t s = 0; s < dt_page_item(page, string)->string->section_count; ++s)
        pipe_row(page, string, s);
    dt_page_table_end(page);
}

/* ---- what governs ---- */

typedef struct case_place {
    size_t string, section;
    const char *key; /* "governing.burst" */
} case_place;

static dt_json_path case_path(const case_place *at, const char *last)
{
    return dt_json("strings.%zu.sections.%zu.%s.%s", at->string, at->section, at->key, last);
}

/** "1.45 of 1.10", each with its place. */
static void factor_and_needed(dt_page *page, const dt_factor *f, const case_place *at)
{
    dt_html *html = &page->html;
    char text[32];
    bool large = !isfinite(f->factor) || f->factor >= 100;
    snprintf(text, sizeof text, "%.2f", f->factor);
    dt_html_open_class(html, "td", "number");
    dt_page_words(page, "span", large ? ">99" : text, case_path(at, "factor"));
    snprintf(text, sizeof text, "%.2f", f->needed);
    dt_html_text(html, " of ");
    dt_page_words(page, "span", text, case_path(at, "needed"));
    dt_html_close(html);
}

/** Case, place, load and resistance: four cells. */
static void case_cells(dt_page *page, const dt_factor *f, dt_load load, dt_check check,
                       const case_place *at)
{
    bool force = check == DT_CHECK_TENSION;
    dt_kind kind = force ? DT_KIND_FORCE : DT_KIND_PRESSURE;
    dt_page_words(page, "td", dt_load_words(load), case_path(at, "text"));
    factor_and_needed(page, f, at);
    dt_html_open(&page->html, "td");
    dt_page_figure(page, DT_KIND_LENGTH, f->at_md_m, case_path(at, "at_md_ft"));
    dt_html_text(&page->html, " MD, ");
    dt_page_figure(page, DT_KIND_LENGTH, f->at_tvd_m, case_path(at, "at_tvd_ft"));
    dt_html_text(&page->html, " TVD");
    dt_html_close(&page->html);
    dt_html_open(&page->html, "td");
    dt_page_figure(page, kind, f->load, case_path(at, force ? "load_klbf" : "load_psi"));
    dt_html_text(&page->html, " against ");
    dt_page_figure(page, kind, f->resistance,
                   case_path(at, force ? "resistance_klbf" : "resistance_psi"));
    dt_html_close(&page->html);
}

static void governing_rows(dt_page *page, size_t string, size_t index)
{
    const dt_section *section = &dt_page_item(page, string)->string->sections[index];
    for (int c = 0; c < DT_CHECK_COUNT; ++c) {
        const dt_factor *f = &section->screen.by_check[c];
        if (isnan(f->factor)) continue;
        char key[48];
        snprintf(key, sizeof key, "governing.%s", dt_check_code((dt_check)c));
        const case_place at = {string, index, key};
        dt_html_open(&page->html, "tr");
        pipe_head(page, section);
        dt_html_element(&page->html, "td", NULL, dt_check_code((dt_check)c));
        case_cells(page, f, section->screen.load_of_check[c], (dt_check)c, &at);
        dt_html_close(&page->html);
    }
}

static void write_governing(dt_page *page, size_t string)
{
    static const dt_column columns[] = {DT_WORDS("Pipe"),  DT_WORDS("Check"),
                                        DT_WORDS("Case"),  DT_NUMBER("Factor"),
                                        DT_WORDS("Where"), DT_WORDS("Load, resistance")};
    string_table(page, string, ": what governs each check");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t s = 0; s < dt_page_item(page, string)->string->section_count; ++s)
        governing_rows(page, string, s);
    dt_page_table_end(page);
}

/** Why not the next cheaper pipe. */
static void write_cheaper(dt_page *page, size_t string, size_t index)
{
    const dt_section *section = &dt_page_item(page, string)->string->sections[index];
    const case_place at = {string, index, "next_cheaper"};
    if (!section->cheaper_pipe) return;
    dt_html *html = &page->html;
    const dt_factor *f = &section->cheaper_factor;
    bool force = section->cheaper_check == DT_CHECK_TENSION;
    dt_kind kind = force ? DT_KIND_FORCE : DT_KIND_PRESSURE;
    char factor[32], needed[32];
    snprintf(factor, sizeof factor, "%.2f", f->factor);
    snprintf(needed, sizeof needed, "%.2f", f->needed);
    dt_html_open(html, "p");
    dt_html_text(html, "From ");
    dt_page_figure(page, DT_KIND_LENGTH, section->top_md_m,
                   dt_json("strings.%zu.sections.%zu.top_md_ft", string, index));
    dt_html_text(html, " MD the next cheaper pipe, ");
    dt_page_figure(page, DT_KIND_LINEAR_MASS, section->cheaper_pipe->weight_kgm,
                   case_path(&at, "weight_lbft"));
    dt_html_text(html, " ");
    dt_page_words(page, "span", section->cheaper_pipe->grade->name, case_path(&at, "grade"));
    dt_html_text(html, " ");
    dt_page_words(page, "span", dt_pipe_thread_text(section->cheaper_pipe, section->cheaper_thread),
                  case_path(&at, "thread"));
    dt_html_text(html, ", does not do. ");
    dt_page_words(page, "span", dt_load_words(section->cheaper_load), case_path(&at, "text"));
    dt_html_text(html, ", ");
    dt_page_words(page, "span", dt_check_code(section->cheaper_check), case_path(&at, "check"));
    dt_html_text(html, ": ");
    dt_page_figure(page, kind, f->load, case_path(&at, force ? "load_klbf" : "load_psi"));
    dt_html_text(html, " against ");
    dt_page_figure(page, kind, f->resistance,
                   case_path(&at, force ? "resistance_klbf" : "resistance_psi"));
    dt_html_text(html, " at ");
    dt_page_figure(page, DT_KIND_LENGTH, f->at_md_m, case_path(&at, "at_md_ft"));
    dt_html_text(html, " MD, ");
    dt_page_figure(page, DT_KIND_LENGTH, f->at_tvd_m, case_path(&at, "at_tvd_ft"));
    dt_html_text(html, " TVD, is SF ");
    dt_page_words(page, "span", factor, case_path(&at, "factor"));
    dt_html_text(html, " (min ");
    dt_page_words(page, "span", needed, case_path(&at, "needed"));
    dt_html_text(html, ").");
    dt_html_close(html);
}

static void write_drawing(dt_page *page, size_t string)
{
    dt_text svg = {0};
    dt_status status =
        dt_draw_strength(page->program, dt_program_at(page->program, string), page->display, &svg);
    if (status != DT_OK) {
        page->html.status = status;
        return;
    }
    char caption[128];
    snprintf(caption, sizeof caption,
             "Loads against ratings over depth. The same drawing stands beside this page as "
             "strength-%zu.svg.",
             string + 1);
    dt_page_drawing(page, &svg,
                    "Loads of each case against the ratings of the pipe over depth; the figures "
                    "that govern stand in the tables beside it.",
                    caption);
    dt_text_free(&svg);
}

void dt_section_strength(dt_page *page)
{
    dt_html_element(&page->html, "p", NULL,
                    "Each factor is resistance over load at the depth where it is smallest; the "
                    "small figure is the factor asked for. A dash: the case does not apply.");
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        dt_buffer text = {0};
        dt_html_open_class(&page->html, "div", "string");
        dt_say_string(&text, page->program, dt_program_at(page->program, i));
        dt_page_say(page, "h3", NULL, &text);
        write_pipes(page, i);
        write_governing(page, i);
        for (size_t s = 0; s < dt_page_item(page, i)->string->section_count; ++s)
            write_cheaper(page, i, s);
        write_drawing(page, i);
        dt_html_close(&page->html);
    }
}

/* ---- wellhead ---- */

static void head_row(dt_page *page, size_t index)
{
    const dt_head_stage *head =
        &page->program->wellhead.stages[dt_program_at(page->program, index)];
    if (!head->diverter && isnan(head->pressure_pa)) return;
    dt_html_open(&page->html, "tr");
    dt_page_string_head(page, index);
    dt_page_cell(page, DT_KIND_PRESSURE, head->pressure_pa,
                 dt_json("strings.%zu.surface_pressure_psi", index));
    if (page->program->well->bop_at_seabed)
        dt_page_cell(page, DT_KIND_PRESSURE, head->at_surface_pa,
                     dt_json("strings.%zu.pressure_at_rig_floor_psi", index));
    char class_text[48] = "";
    if (isfinite(head->class_psi)) snprintf(class_text, sizeof class_text, "%.0f", head->class_psi);
    dt_html_open_class(&page->html, "td", "number");
    if (class_text[0])
        dt_html_attribute(&page->html, "data-json",
                          dt_json("strings.%zu.wellhead_class_psi", index).text);
    dt_html_text(&page->html, class_text[0] ? class_text : "\u2013");
    dt_html_close(&page->html);
    dt_html_element(&page->html, "td", NULL,
                    head->diverter         ? "diverter"
                    : head->beyond_classes ? "above the largest class"
                                           : "spool and BOP");
    dt_html_close(&page->html);
}

static void landing_row(dt_page *page, const dt_landing *l)
{
    dt_html *html = &page->html;
    dt_html_open(html, "tr");
    dt_page_string_head(page, l->carrier);
    dt_page_cell(page, DT_KIND_FORCE, l->hung_n,
                 dt_json("strings.%zu.landing.hung_klbf", l->carrier));
    dt_page_cell(page, DT_KIND_FORCE, l->load_n,
                 dt_json("strings.%zu.landing.load_klbf", l->carrier));
    dt_page_cell(page, DT_KIND_PRESSURE, l->stress_pa,
                 dt_json("strings.%zu.landing.stress_psi", l->carrier));
    factor_cell(page, l->stress_factor, NAN,
                dt_json("strings.%zu.landing.stress_factor", l->carrier));
    if (l->column_made) {
        char number[32];
        snprintf(number, sizeof number, "%.2f", l->column_factor);
        dt_html_open_class(html, "td", NULL);
        dt_page_figure(page, DT_KIND_FORCE, l->column_load_n,
                       dt_json("strings.%zu.landing.column_load_klbf", l->carrier));
        dt_html_text(html, " of ");
        dt_page_figure(page, DT_KIND_FORCE, l->column_n,
                       dt_json("strings.%zu.landing.column_klbf", l->carrier));
        dt_html_text(html, ", factor ");
        dt_page_words(page, "span", number,
                      dt_json("strings.%zu.landing.column_factor", l->carrier));
        dt_html_close(html);
    } else {
        dt_html_element(html, "td", NULL, "\u2013");
    }
    dt_html_close(html);
}

static void write_landings(dt_page *page)
{
    static const dt_column landings[] = {DT_WORDS("Carried by"),
                                         DT_QUANTITY("Hung", DT_KIND_FORCE),
                                         DT_QUANTITY("All", DT_KIND_FORCE),
                                         DT_QUANTITY("Stress", DT_KIND_PRESSURE),
                                         DT_NUMBER("Factor"),
                                         DT_WORDS("As a column")};
    const dt_wellhead *wellhead = &page->program->wellhead;
    bool any = false;
    for (size_t i = 0; i < wellhead->landing_count; ++i)
        any = any || wellhead->landing[i].made;
    if (!any) return;
    dt_page_table(page, "What the string that carries the wellhead bears");
    dt_page_head(page, landings, COUNT(landings));
    for (size_t i = 0; i < wellhead->landing_count; ++i)
        if (wellhead->landing[i].made) landing_row(page, &wellhead->landing[i]);
    dt_page_table_end(page);
}

static void hanger_row(dt_page *page, size_t index)
{
    const dt_program_string *item = dt_page_item(page, index);
    const struct {
        double n;
        const char *key;
    } forces[] = {
        {item->hung.weight_n, "weight_klbf"},
        {item->hung.pressure_n, "pressure_klbf"},
        {item->hung.total_n, "load_klbf"},
        {item->hanger->capacity_n, "capacity_klbf"},
        {item->hanger->capacity_n / dt_hanger_factor(page->program->well) - item->hung.total_n,
         "margin_klbf"}};
    dt_html_open(&page->html, "tr");
    dt_page_string_head(page, index);
    for (size_t i = 0; i < COUNT(forces); ++i)
        dt_page_cell(page, DT_KIND_FORCE, forces[i].n,
                     dt_json("strings.%zu.hanger.%s", index, forces[i].key));
    factor_cell(page, item->hanger->capacity_n / item->hung.total_n, NAN,
                dt_json("strings.%zu.hanger.factor", index));
    factor_cell(page, dt_hanger_factor(page->program->well), NAN,
                dt_json("strings.%zu.hanger.needed", index));
    dt_page_words(page, "td", dt_load_code(item->hung.by),
                  dt_json("strings.%zu.hanger.governed_by", index));
    dt_page_cell(page, DT_KIND_DIAMETER, item->hanger->bore_m,
                 dt_json("strings.%zu.hanger.bore_in", index));
    dt_page_cell(page, DT_KIND_DIAMETER, item->hanger->receptacle_bore_m,
                 dt_json("strings.%zu.hanger.receptacle_bore_in", index));
    dt_html_close(&page->html);
}

static void write_hangers(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Liner"),
                                        DT_QUANTITY("Buoyed weight", DT_KIND_FORCE),
                                        DT_QUANTITY("Pressure", DT_KIND_FORCE),
                                        DT_QUANTITY("Hangs", DT_KIND_FORCE),
                                        DT_QUANTITY("Capacity", DT_KIND_FORCE),
                                        DT_QUANTITY("Margin", DT_KIND_FORCE),
                                        DT_NUMBER("Factor"),
                                        DT_NUMBER("Asked for"),
                                        DT_WORDS("Governed by"),
                                        DT_QUANTITY("Bore", DT_KIND_DIAMETER),
                                        DT_QUANTITY("Receptacle", DT_KIND_DIAMETER)};
    bool any = false;
    for (size_t i = 0; i < dt_program_strings(page->program); ++i)
        any = any || dt_page_item(page, i)->hanger;
    if (!any) return;
    dt_page_table(page, "What hangs on the hangers of liners once they are set");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < dt_program_strings(page->program); ++i)
        if (dt_page_item(page, i)->hanger) hanger_row(page, i);
    dt_page_table_end(page);
}

static void write_liner_tests(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Liner"),
                                        DT_QUANTITY("At the surface", DT_KIND_PRESSURE),
                                        DT_QUANTITY("In the well", DT_KIND_DENSITY)};
    bool any = false;
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        const dt_lap_test *test = dt_program_liner_test(dt_page_item(page, i));
        if (!test) continue;
        if (!any) {
            dt_page_table(page, "Pressure test of liner and lap");
            dt_page_head(page, columns, COUNT(columns));
        }
        any = true;
        dt_html_open(&page->html, "tr");
        dt_page_string_head(page, i);
        dt_page_cell(page, DT_KIND_PRESSURE, test->pressure_pa,
                     dt_json("strings.%zu.liner_test_psi", i));
        dt_page_cell(page, DT_KIND_DENSITY, test->fluid_kgm3,
                     dt_json("strings.%zu.liner_test_fluid_ppg", i));
        dt_html_close(&page->html);
    }
    if (any) dt_page_table_end(page);
}

void dt_section_wellhead(dt_page *page)
{
    static const dt_column heads[] = {DT_WORDS("On"),
                                      DT_QUANTITY("Surface pressure", DT_KIND_PRESSURE),
                                      DT_NUMBER_IN("Class", "psi"), DT_WORDS("What")};
    static const dt_column at_sea[] = {DT_WORDS("On"),
                                       DT_QUANTITY("At the sea floor", DT_KIND_PRESSURE),
                                       DT_QUANTITY("At the rig floor", DT_KIND_PRESSURE),
                                       DT_NUMBER_IN("Class", "psi"), DT_WORDS("What")};
    const dt_wellhead *wellhead = &page->program->wellhead;
    const bool sea = page->program->well->bop_at_seabed;
    dt_page_table(page, sea ? "Anticipated pressure at the BOP and working-pressure class"
                            : "Anticipated pressure at the surface and working-pressure class");
    dt_page_head(page, sea ? at_sea : heads, sea ? COUNT(at_sea) : COUNT(heads));
    for (size_t i = 0; i < wellhead->count; ++i)
        head_row(page, i);
    dt_page_table_end(page);
}

bool dt_wants_hangers(const dt_page *page)
{
    const dt_wellhead *wellhead = &page->program->wellhead;
    bool any = false;
    for (size_t i = 0; i < wellhead->landing_count; ++i)
        any = any || wellhead->landing[i].made;
    for (size_t i = 0; i < dt_program_strings(page->program); ++i)
        any = any || dt_page_item(page, i)->hanger || dt_program_liner_test(dt_page_item(page, i));
    return any;
}

void dt_section_hangers(dt_page *page)
{
    write_landings(page);
    write_hangers(page);
    write_liner_tests(page);
}
