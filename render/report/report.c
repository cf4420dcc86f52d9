/* SPDX-License-Identifier: MIT */
#include "report.h"
#include "plots.h"
#include "schematics.h"

#include "json_parts.h"
#include "same.h"

#include <libxml/parser.h>

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

extern const char dt_embedded_report_style[];

static bool has_options(const dt_page *page)
{
    return page->options.bytes != NULL;
}

static bool has_course(const dt_page *page)
{
    return page->course.bytes != NULL;
}

static const dt_report_section sections[] = {
    {DT_PART_COVER, "stoppers", "Stoppers", dt_section_stoppers, dt_wants_stoppers, false},
    {DT_PART_COVER, "program", "Casing program", dt_section_program, NULL, false},
    {DT_PART_BODY, "window", "Mud window", dt_section_window, NULL, true},
    {DT_PART_BODY, "why", "Why each seat", dt_section_why, NULL, true},
    {DT_PART_BODY, "more-review", "Review, continued", dt_section_review, dt_wants_review, false},
    {DT_PART_BODY, "options", "Options side by side", dt_section_options, dt_wants_options, false},
    {DT_PART_BODY, "sheets", "Sheets of the strings", dt_section_sheets, NULL, true},
    {DT_PART_BODY, "kick", "Kick tolerance", dt_section_kick, dt_wants_kick, true},
    {DT_PART_BODY, "wellhead", "Wellhead and BOP", dt_section_wellhead, NULL, false},
    {DT_PART_BODY, "assumed", "Assumed", dt_section_assumed, NULL, false},
    {DT_PART_APPENDIX, "full", "Sizes, depths and steel", dt_section_full, NULL, false},
    {DT_PART_APPENDIX, "reasons", "Why each seat and size, in full", dt_section_reasons, NULL,
     false},
    {DT_PART_APPENDIX, "course", "Course of the hole", dt_section_course, has_course, false},
    {DT_PART_APPENDIX, "sizes", "Which sizes nest", dt_section_sizes, has_options, false},
    {DT_PART_APPENDIX, "all-options", "All options", dt_section_all_options, dt_wants_options,
     true},
    {DT_PART_APPENDIX, "strength", "Strength of each string", dt_section_strength, NULL, true},
    {DT_PART_APPENDIX, "hangers", "Hangers and landing", dt_section_hangers, dt_wants_hangers,
     false},
    {DT_PART_APPENDIX, "jobs", "Running and cementing", dt_section_jobs, NULL, true},
    {DT_PART_APPENDIX, "influx", "Kick tolerance down the hole", dt_section_influx, dt_wants_kick,
     true},
    {DT_PART_APPENDIX, "bill", "Time and money", dt_section_bill, dt_wants_bill, false},
    {DT_PART_APPENDIX, "settings", "Settings in force", dt_section_settings, NULL, true},
    {DT_PART_APPENDIX, "inputs", "What went in", dt_section_inputs, NULL, true},
    {DT_PART_APPENDIX, "file", "The well file, line by line", dt_section_file, NULL, false},
    {DT_PART_APPENDIX, "reading", "How to read this report", dt_section_reading, NULL, false},
};

enum { SECTION_COUNT = COUNT_OF(sections) };

/* ---- figures ---- */

dt_json_path dt_json(const char *format, ...)
{
    dt_json_path path;
    va_list list;
    va_start(list, format);
    vsnprintf(path.text, sizeof path.text, format, list);
    va_end(list);
    return path;
}

void dt_page_figure(dt_page *page, dt_kind kind, double si, dt_json_path path)
{
    dt_buffer text = {0};
    if (isfinite(si)) dt_say_quantity(&text, page->display, kind, si);
    dt_html_open(&page->html, "span");
    if (isfinite(si)) dt_html_attribute(&page->html, "data-json", path.text);
    dt_html_attribute(&page->html, "class", "figure");
    dt_html_text(&page->html, text.bytes ? text.bytes : "\u2013");
    dt_html_close(&page->html);
    if (text.failed) page->html.status = DT_E_MEMORY;
    dt_buffer_free(&text);
}

static void cell(dt_page *page, bool known, const char *text, dt_json_path path)
{
    dt_html_open_class(&page->html, "td", "number");
    if (known) dt_html_attribute(&page->html, "data-json", path.text);
    dt_html_text(&page->html, known ? text : "\u2013");
    dt_html_close(&page->html);
}

void dt_page_cell(dt_page *page, dt_kind kind, double si, dt_json_path path)
{
    char text[64] = "";
    if (isfinite(si)) dt_display_text(page->display, kind, si, text, sizeof text);
    text[strcspn(text, " ")] = '\0';
    cell(page, isfinite(si), text, path);
}

static dt_display other_of(dt_display display)
{
    return display == DT_DISPLAY_FIELD ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD;
}

/** A figure without its unit, marked with its place and, unless it is the page's, its system. */
static void write_figure(dt_page *page, const char *element, dt_display display, dt_kind kind,
                         double si, const char *place)
{
    char text[64] = "";
    dt_display_text(display, kind, si, text, sizeof text);
    text[strcspn(text, " ")] = '\0';
    dt_html_open(&page->html, element);
    dt_html_attribute(&page->html, "data-json", place);
    if (display != page->display)
        dt_html_attribute(&page->html, "data-units",
                          display == DT_DISPLAY_METRIC ? "metric" : "field");
    dt_html_text(&page->html, text);
    dt_html_close(&page->html);
}

void dt_page_cell_both(dt_page *page, dt_kind kind, double si, dt_json_path path)
{
    dt_html *html = &page->html;
    dt_html_open_class(html, "td", "number");
    if (isfinite(si)) {
        write_figure(page, "span", page->display, kind, si, path.text);
        dt_html_open(html, "br");
        dt_html_close_void(html);
        write_figure(page, "small", other_of(page->display), kind, si, path.text);
    } else {
        dt_html_text(html, "\u2013");
    }
    dt_html_close(html);
}

void dt_page_inches(dt_page *page, double diameter_m, dt_json_path path)
{
    char text[48] = "";
    if (isfinite(diameter_m)) dt_inch_text(diameter_m, text, sizeof text);
    cell(page, isfinite(diameter_m), text, path);
}

void dt_page_words(dt_page *page, const char *element, const char *text, dt_json_path path)
{
    dt_html_open(&page->html, element);
    dt_html_attribute(&page->html, "data-json", path.text);
    dt_html_text(&page->html, text);
    dt_html_close(&page->html);
}

/* ---- what several sections need ---- */

void dt_page_table(dt_page *page, const char *caption)
{
    dt_html *html = &page->html;
    dt_html_open_class(html, "section", "scroll");
    /* What scrolls has to be reachable by keyboard and have a name. */
    dt_html_attribute(html, "tabindex", "0");
    dt_html_attribute(html, "aria-label", caption);
    dt_html_open(html, "table");
    dt_html_element(html, "caption", NULL, caption);
}

/** Unit of a column, small behind or, with that of the other system, below its words. */
static void write_unit(dt_page *page, const dt_column *column, bool both)
{
    dt_html *html = &page->html;
    const char *unit =
        column->has_kind ? dt_display_unit(page->display, column->kind) : column->unit;
    if (!unit) return;
    both = both && column->has_kind;
    if (!both) dt_html_raw(html, " ");
    if (both) {
        dt_html_open(html, "br");
        dt_html_close_void(html);
    }
    dt_html_element(html, "small", NULL, unit);
    if (!both) return;
    dt_html_open(html, "br");
    dt_html_close_void(html);
    dt_html_element(html, "small", NULL, dt_display_unit(other_of(page->display), column->kind));
}

static void write_column_heads(dt_page *page, const dt_column *columns, size_t count, bool both)
{
    dt_html *html = &page->html;
    dt_html_open(html, "thead");
    dt_html_open(html, "tr");
    for (size_t i = 0; i < count; ++i) {
        dt_html_open_class(html, "th", columns[i].number ? "number" : NULL);
        dt_html_attribute(html, "scope", "col");
        dt_html_text(html, columns[i].words);
        write_unit(page, &columns[i], both);
        dt_html_close(html);
    }
    dt_html_close(html);
    dt_html_close(html);
    dt_html_open(html, "tbody");
}

void dt_page_head(dt_page *page, const dt_column *columns, size_t count)
{
    write_column_heads(page, columns, count, false);
}

void dt_page_head_both(dt_page *page, const dt_column *columns, size_t count)
{
    write_column_heads(page, columns, count, true);
}

void dt_page_table_end(dt_page *page)
{
    for (int i = 0; i < 3; ++i)
        dt_html_close(&page->html); /* tbody, table, section */
}

void dt_page_row_head(dt_page *page, const char *text)
{
    dt_html_open(&page->html, "th");
    dt_html_attribute(&page->html, "scope", "row");
    dt_html_text(&page->html, text);
    dt_html_close(&page->html);
}

void dt_page_row_head_of(dt_page *page, dt_buffer *text)
{
    if (text->failed) page->html.status = DT_E_MEMORY;
    dt_page_row_head(page, text->failed ? "" : text->bytes);
    dt_buffer_free(text);
}

const dt_program_string *dt_page_item(const dt_page *page, size_t position)
{
    return &page->program->items[dt_program_at(page->program, position)];
}

void dt_page_string_head(dt_page *page, size_t position)
{
    dt_buffer name = {0};
    dt_say_string(&name, page->program, dt_program_at(page->program, position));
    dt_page_row_head_of(page, &name);
}

void dt_page_term(dt_page *page, const char *term, const char *text)
{
    dt_html_element(&page->html, "dt", NULL, term);
    dt_html_open(&page->html, "dd");
    if (!text) return;
    dt_html_text(&page->html, text);
    dt_html_close(&page->html);
}

void dt_page_say(dt_page *page, const char *element, const char *css_class, dt_buffer *text)
{
    if (text->failed)
        page->html.status = DT_E_MEMORY;
    else
        dt_html_element(&page->html, element, css_class, text->bytes ? text->bytes : "");
    dt_buffer_free(text);
}

void dt_page_drawing(dt_page *page, const dt_text *svg, const char *alt, const char *caption)
{
    dt_html_open(&page->html, "figure");
    dt_html_image(&page->html, "image/svg+xml", svg, alt);
    dt_html_element(&page->html, "figcaption", NULL, caption);
    dt_html_close(&page->html);
}

void dt_page_line(dt_page *page, const char *words, long line)
{
    char target[32];
    if (!page->file.bytes || line <= 0) {
        dt_html_text(&page->html, words);
        return;
    }
    snprintf(target, sizeof target, "#line-%ld", line);
    dt_html_open(&page->html, "a");
    dt_html_attribute(&page->html, "href", target);
    dt_html_text(&page->html, words);
    dt_html_close(&page->html);
}

/* ---- the page ---- */

static void write_head(dt_page *page)
{
    dt_html *html = &page->html;
    static const char *const meta[][2] = {
        {"viewport", "width=device-width, initial-scale=1"},
        {"color-scheme", "light"},
        {"description", "Casing program, a preliminary planning aid"},
    };
    dt_html_open(html, "head");
    dt_html_raw(html, "<meta charset=\"utf-8\"/>");
    /* Whatever a name in the well file may try, this page loads nothing and runs nothing. */
    dt_html_raw(html, "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
                      "img-src data:; style-src 'unsafe-inline'\"/>");
    for (size_t i = 0; i < COUNT_OF(meta); ++i) {
        dt_html_open(html, "meta");
        dt_html_attribute(html, "name", meta[i][0]);
        dt_html_attribute(html, "content", meta[i][1]);
        dt_html_close_void(html);
    }
    dt_buffer title = {0};
    dt_buffer_text(&title, page->program->well->name);
    dt_buffer_text(&title, ": casing program");
    dt_page_say(page, "title", NULL, &title);
    dt_html_open(html, "style");
    dt_html_raw(html, dt_embedded_report_style);
    dt_html_close(html);
    dt_html_close(html);
}

static bool is_wanted(const dt_page *page, const dt_report_section *section)
{
    return !section->wanted || section->wanted(page);
}

static void write_contents(dt_page *page)
{
    dt_html *html = &page->html;
    dt_html_open(html, "nav");
    dt_html_attribute(html, "aria-label", "Contents");
    dt_html_open(html, "ul");
    for (size_t i = 0; i < SECTION_COUNT; ++i) {
        if (!is_wanted(page, &sections[i])) continue;
        char target[32];
        snprintf(target, sizeof target, "#%s", sections[i].id);
        dt_html_open(html, "li");
        dt_html_open(html, "a");
        dt_html_attribute(html, "href", target);
        dt_html_text(html, sections[i].heading);
        dt_html_close(html);
        dt_html_close(html);
    }
    dt_html_close(html);
    dt_html_close(html);
}

/** Who says what, when: as the well file has it. */
static void write_identity(dt_page *page)
{
    const dt_document *document = &page->program->well->document;
    const struct {
        const char *term, *text, *key;
    } rows[] = {{"Revision", document->revision, "document.revision"},
                {"Author", document->author, "document.author"},
                {"Date", document->date, "document.date"}};
    if (!dt_has_document(page->program->well)) return;
    dt_html_open_class(&page->html, "dl", "identity");
    for (size_t i = 0; i < COUNT_OF(rows); ++i) {
        if (!rows[i].text) continue;
        dt_html_open(&page->html, "div");
        dt_html_element(&page->html, "dt", NULL, rows[i].term);
        dt_page_words(page, "dd", rows[i].text, dt_json("%s", rows[i].key));
        dt_html_close(&page->html);
    }
    dt_html_close(&page->html);
}

static void write_header(dt_page *page)
{
    dt_html *html = &page->html;
    dt_html_open(html, "header");
    dt_html_element(html, "p", "kind", "Casing program");
    dt_html_open(html, "h1");
    dt_html_attribute(html, "data-json", "well");
    dt_html_text(html, page->program->well->name);
    dt_html_close(html);
    write_identity(page);
    if (page->program->well->note) dt_html_element(html, "p", "note", page->program->well->note);
    dt_html_element(html, "p", "caution",
                    "Preliminary planning aid. Verify pressures and regulations locally; a "
                    "licensed engineer reviews before anything is run.");
    dt_html_close(html);
}

static void write_section(dt_page *page, const dt_report_section *section)
{
    dt_html *html = &page->html;
    dt_html_open_class(html, "section", section->new_page ? "page" : NULL);
    dt_html_attribute(html, "id", section->id);
    dt_html_element(html, "h2", NULL, section->heading);
    section->write(page);
    dt_html_close(html);
    dt_html_raw(html, "\n");
}

static void write_part(dt_page *page, dt_report_part part)
{
    for (size_t i = 0; i < SECTION_COUNT; ++i)
        if (sections[i].part == part && is_wanted(page, &sections[i]))
            write_section(page, &sections[i]);
}

/** What comes behind the pages that are read: it begins one, and says what it holds. */
static void write_appendix(dt_page *page)
{
    dt_html *html = &page->html;
    dt_html_open_class(html, "section", "page appendix");
    dt_html_attribute(html, "id", "appendix");
    dt_html_element(html, "h2", NULL, "Appendix");
    dt_html_element(html, "p", NULL,
                    "The figures behind the pages before: every table in full, what went in, and "
                    "the well file.");
    dt_html_close(html);
    write_part(page, DT_PART_APPENDIX);
}

static void write_body(dt_page *page)
{
    dt_html *html = &page->html;
    dt_html_open(html, "body");
    dt_html_open(html, "main");
    dt_html_open_class(html, "div", page->schematic_apart ? "cover long" : "cover");
    write_header(page);
    write_contents(page);
    write_part(page, DT_PART_COVER);
    dt_html_close(html);
    write_part(page, DT_PART_BODY);
    write_appendix(page);
    dt_html_close(html);
    dt_html_close(html);
}

/** Draws what the page shows, beside the option graph, which it is given. */
static dt_status make_drawings(dt_page *page)
{
    dt_status status = dt_page_measure_cover(page);
    if (status == DT_OK)
        status = dt_draw_schematic_beside(page->program, page->schematic_mm, page->display,
                                          &page->schematic);
    if (status == DT_OK) status = dt_draw_window(page->program, page->display, &page->window);
    if (status == DT_OK) status = dt_draw_course(page->program, page->display, &page->course);
    return status == DT_E_NONE ? DT_OK : status; /* a vertical well has none */
}

/** The source in UTF-8, to be shown. What cannot be turned into it is not shown. */
static dt_status convert_source(dt_page *page)
{
    const char *encoding = (const char *)page->tree->encoding;
    dt_buffer text = {0};
    if (!encoding || xmlStrcasecmp(BAD_CAST encoding, BAD_CAST "UTF-8") == 0) {
        dt_buffer_bytes(&text, page->source->text, page->source->size);
        return dt_buffer_take(&text, &page->file);
    }
    xmlCharEncodingHandlerPtr handler = xmlFindCharEncodingHandler(encoding);
    xmlBufferPtr in = xmlBufferCreateSize(page->source->size + 1), out = xmlBufferCreate();
    bool good = handler && in && out &&
                xmlBufferAdd(in, BAD_CAST page->source->text, (int)page->source->size) == 0 &&
                xmlCharEncInFunc(handler, out, in) >= 0 && xmlBufferLength(in) == 0 &&
                !memchr(xmlBufferContent(out), '\0', (size_t)xmlBufferLength(out));
    if (good)
        dt_buffer_bytes(&text, (const char *)xmlBufferContent(out), (size_t)xmlBufferLength(out));
    if (handler) xmlCharEncCloseFunc(handler);
    xmlBufferFree(in);
    xmlBufferFree(out);
    return good ? dt_buffer_take(&text, &page->file) : DT_OK;
}

/** The file was read and found good before; only its tree is wanted here. */
static dt_status parse_source(dt_page *page)
{
    page->tree = xmlReadMemory(page->source->text, (int)page->source->size, NULL, NULL,
                               XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING |
                                   XML_PARSE_BIG_LINES);
    return page->tree && xmlDocGetRootElement(page->tree) ? DT_OK : DT_E_INPUT;
}

dt_status dt_write_report(const dt_program *program, const dt_comparison *comparison,
                          const dt_source *source, const dt_text *option_graph, dt_display display,
                          dt_text *out)
{
    if (source->size > DT_WELL_MAX_BYTES) return DT_E_INPUT;
    dt_page page = {
        .program = program, .comparison = comparison, .display = display, .source = source};
    if (option_graph) page.options = *option_graph; /* borrowed */
    dt_status status = parse_source(&page);
    if (status == DT_OK) status = convert_source(&page);
    if (status == DT_OK) status = dt_json_program(page.program, &page.json);
    if (status == DT_OK) status = make_drawings(&page);
    if (status == DT_OK) status = dt_page_split_review(&page);
    if (status == DT_OK) {
        dt_html_begin(&page.html, "en");
        write_head(&page);
        write_body(&page);
        status = dt_html_end(&page.html, out);
    }
    xmlFreeDoc(page.tree);
    json_decref(page.json);
    dt_text_free(&page.file);
    dt_text_free(&page.schematic);
    dt_text_free(&page.window);
    dt_text_free(&page.course);
    return status;
}
