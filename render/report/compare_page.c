/* SPDX-License-Identifier: MIT */
/* compare.html: one page that stands alone and prints. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compare_words.h"
#include "pages.h"
#include "schematics.h"
#include "text.h"
#include "units.h"

static const char head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>";
static const char style[] =
    "</title>\n<style>\n"
    "body{font:15px/1.45 'Liberation Sans',Arial,Helvetica,sans-serif;color:#1a1a1a;"
    "max-width:72rem;margin:1.5rem auto;padding:0 1rem}\n"
    "h1{font-size:1.5rem;margin:0}h2{font-size:1.15rem;margin:1.6rem 0 .4rem}"
    "h3{font-size:1rem;margin:1.2rem 0 .2rem}\n"
    "table{border-collapse:collapse;margin:.4rem 0}"
    "th,td{padding:.2rem .6rem;border-bottom:1px solid #d9d9d9;text-align:right;"
    "vertical-align:top;font-variant-numeric:tabular-nums}"
    "th:first-child,td:first-child,td.text,th.text{text-align:left}"
    "tr.chosen{background:#fff3c4}\n"
    ".drawing svg{max-width:100%;height:auto}.scroll{overflow-x:auto}"
    ".quiet{color:#555555}\n"
    "@media print{body{margin:0;max-width:none;font-size:10pt}"
    "@page{size:A4 landscape;margin:12mm}section{break-inside:avoid}}\n"
    "</style>\n</head>\n<body>\n";

/** Text of any origin, made fit for HTML. */
static void put(dt_buffer *out, const char *text)
{
    char *clean = NULL;
    if (dt_text_clean(text, &clean) != DT_OK) {
        out->failed = true;
        return;
    }
    for (const char *at = clean; *at; ++at) {
        const char *entity = *at == '&'   ? "&amp;"
                             : *at == '<' ? "&lt;"
                             : *at == '>' ? "&gt;"
                             : *at == '"' ? "&quot;"
                                          : NULL;
        if (entity)
            dt_buffer_text(out, entity);
        else
            dt_buffer_bytes(out, at, 1);
    }
    free(clean);
}

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static void
print(dt_buffer *out, const char *format, ...);

static void print(dt_buffer *out, const char *format, ...)
{
    char text[256];
    va_list list;
    va_start(list, format);
    int length = vsnprintf(text, sizeof text, format, list);
    va_end(list);
    if (length < 0 || (size_t)length >= sizeof text)
        out->failed = true;
    else
        put(out, text);
}

/** Money and such, with the thousands apart. */
static void put_number(dt_buffer *out, double value, bool signed_)
{
    char digits[48];
    int length = snprintf(digits, sizeof digits, "%.0f", fabs(value));
    bool zero = strcmp(digits, "0") == 0;
    if (value < 0 && !zero) dt_buffer_text(out, "\xE2\x88\x92");
    if (signed_ && value > 0 && !zero) dt_buffer_text(out, "+");
    for (int i = 0; i < length; ++i) {
        if (i > 0 && (length - i) % 3 == 0) dt_buffer_text(out, ",");
        dt_buffer_bytes(out, &digits[i], 1);
    }
}

static void cell_number(dt_buffer *out, double value, bool signed_)
{
    dt_buffer_text(out, "<td>");
    put_number(out, value, signed_);
    dt_buffer_text(out, "</td>");
}

/** The share of drawn wells in which a program holds, by the rules of seats and by all stages. */
static void put_held(dt_buffer *out, const dt_comparison *c, size_t held,
                     const dt_held_by_all *of_all)
{
    cell_number(out, round(dt_comparison_percent(c, held)), false);
    cell_number(out, round(dt_comparison_percent_by_all(c, held, of_all)), false);
}

static void cell(dt_buffer *out, const char *text)
{
    dt_buffer_text(out, "<td>");
    put(out, text);
    dt_buffer_text(out, "</td>");
}

static void put_overview(dt_buffer *out, const dt_comparison *c)
{
    bool priced = c->well->prices_given;
    dt_buffer_text(
        out, "<section><h2>The options</h2>\n<div class=\"scroll\"><table><tr><th></th>"
             "<th class=\"text\">pipe, in</th><th>strings</th><th>pipe at the "
             "objective, in</th><th>contingency strings</th><th>pairs of the second order</th>"
             "<th>holes short of kick tolerance</th>");
    if (c->drawn > 0)
        dt_buffer_text(out, "<th>seats hold in drawn wells, %</th><th>all stages hold, %</th>");
    dt_buffer_text(out, "<th>steel, t</th><th>days</th>");
    if (priced) {
        dt_buffer_text(out, "<th>cost, ");
        put(out, c->well->prices.currency ? c->well->prices.currency : "as priced");
        dt_buffer_text(out, "</th><th>difference</th>");
    }
    dt_buffer_text(out, "<th>alike</th></tr>\n");
    for (size_t i = 0; i < c->count; ++i) {
        const dt_compared *one = &c->items[i];
        char text[256], inches[48];
        dt_buffer_text(out, i == 0 ? "<tr class=\"chosen\">" : "<tr>");
        cell(out, one->label);
        dt_option_sizes(&one->option, text, sizeof text);
        dt_buffer_text(out, "<td class=\"text\">");
        put(out, text);
        dt_buffer_text(out, "</td>");
        dt_inch_text(one->option.last_od_m, inches, sizeof inches);
        cell_number(out, (double)dt_option_strings(&one->option), false);
        cell(out, inches);
        cell_number(out, one->option.spares, false);
        cell_number(out, dt_compared_standing(c, i)->second, false);
        cell_number(out, dt_compared_standing(c, i)->short_holes, false);
        if (c->drawn > 0) put_held(out, c, one->held, &one->of_all);
        snprintf(text, sizeof text, "%.1f", one->option.steel_kg / 1000);
        cell(out, text);
        snprintf(text, sizeof text, "%.1f", one->option.days);
        cell(out, text);
        if (priced) {
            cell_number(out, one->option.cost, false);
            cell_number(out, one->option.cost - c->items[0].option.cost, true);
        }
        const bool runs = dt_program_runnable(one->program);
        snprintf(text, sizeof text, "%zu", one->like);
        if (!one->like) snprintf(text, sizeof text, "%s", one->dominated_by ? "dominated" : "");
        const size_t used = strlen(text);
        if (!runs) snprintf(text + used, sizeof text - used, "%sNOT RUNNABLE", used ? ", " : "");
        cell(out, text);
        dt_buffer_text(out, "</tr>\n");
    }
    dt_buffer_text(out, "</table></div>\n");
    if (c->left_out)
        print(out, "%zu more kinds stand in options.json, with every option.", c->left_out);
    dt_buffer_text(out, "</section>\n");
}

static void put_paragraph(dt_buffer *out, const char *text)
{
    dt_buffer_text(out, "<p>");
    put(out, text);
    dt_buffer_text(out, "</p>\n");
}

static void put_sentence(dt_buffer *out, dt_item_sentence *of, const dt_comparison *c, size_t index,
                         dt_display display)
{
    char *text = NULL;
    if (of(c, index, display, &text) == DT_OK)
        put_paragraph(out, text);
    else
        out->failed = true;
    free(text);
}

static void text_cell(dt_buffer *out, const char *text)
{
    dt_buffer_text(out, "<td class=\"text\">");
    put(out, text);
    dt_buffer_text(out, "</td>");
}

static void tenths_cell(dt_buffer *out, bool there, double value)
{
    char text[48] = "";
    if (there) snprintf(text, sizeof text, "%.1f", value);
    cell(out, text);
}

static void put_twin(dt_buffer *out, const dt_comparison *c, size_t index, dt_display display)
{
    const dt_twin *t = &c->twins[index];
    const dt_compared *of = &c->items[t->item];
    char name[64], *why = NULL;
    dt_twin_string_name(c, index, name, sizeof name);
    dt_buffer_text(out, t->present ? "<tr class=\"chosen\">" : "<tr>");
    cell(out, of->label);
    text_cell(out, name);
    text_cell(out, dt_hanging_text(t->as));
    tenths_cell(out, t->built, t->option.steel_kg / 1000);
    tenths_cell(out, t->built, t->option.days);
    if (c->well->prices_given && t->built) {
        cell_number(out, t->option.cost, false);
        cell_number(out, t->option.cost - of->option.cost, true);
    } else if (c->well->prices_given) {
        dt_buffer_text(out, "<td></td><td></td>");
    }
    if (dt_twin_sentence(c, index, display, &why) == DT_OK)
        text_cell(out, t->present ? "as it is" : why);
    else
        out->failed = true;
    free(why);
    dt_buffer_text(out, "</tr>\n");
}

static void put_notes(dt_buffer *out, const dt_comparison *c, dt_display display)
{
    for (size_t i = 0; i < c->notes.count; ++i)
        put_sentence(out, dt_comparison_note, c, i, display);
}

/** Each string of the plan and of the first option as full string, liner and tied back. */
static void put_twins(dt_buffer *out, const dt_comparison *c, dt_display display)
{
    if (c->twin_count == 0) return;
    dt_buffer_text(out, "<section><h2>Liner or full string</h2>\n");
    put_paragraph(out,
                  "The same shoes, holes and sizes, one string hung otherwise, all pipe chosen "
                  "anew.");
    dt_buffer_text(out, "<div class=\"scroll\"><table><tr><th></th><th class=\"text\">string</th>"
                        "<th class=\"text\">as</th><th>steel, t</th><th>days</th>");
    if (c->well->prices_given) dt_buffer_text(out, "<th>cost</th><th>difference</th>");
    dt_buffer_text(out, "<th class=\"text\">why</th></tr>\n");
    for (size_t i = 0; i < c->twin_count; ++i)
        put_twin(out, c, i, display);
    dt_buffer_text(out, "</table></div></section>\n");
}

static void row_of(dt_buffer *out, const char *words, double was, double now)
{
    dt_buffer_text(out, "<tr>");
    cell(out, words);
    cell_number(out, was, false);
    cell_number(out, now, false);
    cell_number(out, now - was, true);
    dt_buffer_text(out, "</tr>\n");
}

/** Lines that differ, and the sum. */
static void put_bill(dt_buffer *out, const dt_comparison *c, const dt_compared *one)
{
    const dt_bill *was = &c->items[0].program->bill, *now = &one->program->bill;
    dt_buffer_text(out, "<table><tr><th></th><th>chosen</th><th>");
    put(out, one->label);
    dt_buffer_text(out, "</th><th>difference</th></tr>\n");
    for (int i = 0; c->well->prices_given && i < DT_COST_COUNT; ++i)
        if (was->cost[i] != 0 || now->cost[i] != 0)
            row_of(out, dt_cost_words((dt_cost)i), was->cost[i], now->cost[i]);
    if (c->well->prices_given) row_of(out, "cost", was->total, now->total);
    for (int i = 0; i < DT_HOURS_COUNT; ++i)
        if (was->hours[i] != 0 || now->hours[i] != 0) {
            char words[128];
            snprintf(words, sizeof words, "%s, h", dt_hours_words((dt_hours)i));
            row_of(out, words, was->hours[i], now->hours[i]);
        }
    row_of(out, "steel, kg", was->steel_kg, now->steel_kg);
    dt_buffer_text(out, "</table>\n");
}

static void put_strings(dt_buffer *out, const dt_compared *one, dt_display display)
{
    dt_buffer_text(out, "<table><tr><th>string</th><th class=\"text\">type</th><th>hole, in</th>"
                        "<th>pipe, in</th><th class=\"text\">weight, grade, thread</th><th>top, "
                        "MD</th><th>shoe, MD</th><th>shoe, TVD</th></tr>\n");
    for (size_t n = 0; n < dt_program_strings(one->program); ++n) {
        const size_t k = dt_program_at(one->program, n);
        const bool tieback = k >= one->program->count; /* no hole, no shoe */
        const dt_program_string *item = &one->program->items[k];
        const dt_section *section = &item->string->sections[0];
        char text[96];
        dt_buffer_text(out, "<tr>");
        dt_program_string_name(one->program, k, text, sizeof text);
        cell(out, text);
        dt_buffer_text(out, "<td class=\"text\">");
        put(out, dt_string_type_text(item->seat->type));
        dt_buffer_text(out, "</td>");
        if (!tieback) dt_inch_text(item->hole_m, text, sizeof text);
        cell(out, tieback ? "" : text);
        dt_inch_text(item->od_m, text, sizeof text);
        cell(out, text);
        dt_buffer_text(out, "<td class=\"text\">");
        dt_display_text(display, DT_KIND_LINEAR_MASS, section->pipe->weight_kgm, text, sizeof text);
        put(out, text);
        print(out, " %s %s", section->pipe->grade->name,
              dt_pipe_thread_text(section->pipe, section->thread));
        dt_buffer_text(out, "</td>");
        const double depths[] = {item->top_md_m, item->shoe_md_m, item->shoe_tvd_m};
        for (size_t i = 0; i < 3; ++i) {
            if (tieback && i > 0) {
                cell(out, "");
                continue;
            }
            dt_display_text(display, DT_KIND_LENGTH, depths[i], text, sizeof text);
            cell(out, text);
        }
        dt_buffer_text(out, "</tr>\n");
    }
    dt_buffer_text(out, "</table>\n");
}

static void put_option(dt_buffer *out, const dt_comparison *c, size_t index, dt_display display)
{
    const dt_compared *one = &c->items[index];
    char sizes[256];
    dt_option_sizes(&one->option, sizes, sizeof sizes);
    dt_buffer_text(out, "<section><h3>");
    put(out, one->label);
    dt_buffer_text(out, ": ");
    put(out, sizes);
    dt_buffer_text(out, index == 0 ? " (the chosen one)</h3>\n" : "</h3>\n");
    if (index > 0) {
        put_sentence(out, dt_buys_sentence, c, index, display);
        put_sentence(out, dt_risks_sentence, c, index, display);
    }
    if (index == 0 && c->plan_breaks_wish)
        put_paragraph(out,
                      "It breaks a limit in <wishes> of the well file: it is none of the options.");
    dt_buffer_text(out, "<div class=\"scroll\">");
    put_strings(out, one, display);
    if (index > 0) put_bill(out, c, one);
    dt_buffer_text(out, "</div></section>\n");
}

static void put_contingencies(dt_buffer *out, const dt_comparison *c)
{
    if (c->well->interval_count == 0) return;
    dt_buffer_text(out, "<section><h2>If it must be cased off early</h2>\n");
    for (size_t i = 0; i < c->well->interval_count; ++i) {
        char *text = NULL;
        if (dt_contingency_sentence(c->items[0].program, i, &c->contingencies[i], &text) != DT_OK)
            out->failed = true;
        else
            put_paragraph(out, text);
        free(text);
    }
    dt_buffer_text(out, "</section>\n");
}

/** The drawing without what stands before its root element. */
static void put_drawing(dt_buffer *out, const dt_text *svg)
{
    const char *root = svg->bytes ? strstr(svg->bytes, "<svg") : NULL;
    if (!root) return;
    dt_buffer_text(out, "<div class=\"drawing scroll\">");
    dt_buffer_text(out, root);
    dt_buffer_text(out, "</div>\n");
}

static void put_step(dt_buffer *out, const dt_comparison *c, dt_certainty_step step)
{
    const dt_certainty *one = &c->certainty[step];
    const dt_option *planned = &c->certainty[DT_CERTAIN_PLANNED].option;
    char text[64];
    dt_buffer_text(out, step == DT_CERTAIN_PLANNED ? "<tr class=\"chosen\">" : "<tr>");
    dt_buffer_text(out, "<td class=\"text\">");
    put(out, dt_certainty_text(step));
    dt_buffer_text(out, "</td>");
    if (!one->given) {
        dt_buffer_text(out,
                       "<td class=\"text\" colspan=\"5\">none was found that closes</td></tr>\n");
        return;
    }
    cell_number(out, (double)dt_option_strings(&one->option), false);
    put_held(out, c, one->held, &one->of_all);
    snprintf(text, sizeof text, "%.1f", one->option.steel_kg / 1000);
    cell(out, text);
    snprintf(text, sizeof text, "%.1f", one->option.days);
    cell(out, text);
    if (c->well->prices_given) {
        cell_number(out, one->option.cost, false);
        cell_number(out, one->option.cost - planned->cost, true);
    }
    dt_buffer_text(out, "</tr>\n");
}

static void put_contingent(dt_buffer *out, const dt_comparison *c)
{
    dt_buffer_text(out, "<h3>With a string more carried for the one hole that fails</h3>"
                        "<div class=\"scroll\"><table><tr><th></th><th>holds as planned, %</th>"
                        "<th>holds with the string set, %</th>");
    if (c->well->prices_given)
        dt_buffer_text(out,
                       "<th>expected cost</th><th>+-</th><th>P10</th><th>P50</th><th>P90</th>");
    dt_buffer_text(out, "</tr>\n");
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_contingent *k = &c->certainty[i].contingent;
        if (!c->certainty[i].given) continue;
        dt_buffer_text(out, "<tr><td class=\"text\">");
        put(out, dt_certainty_text((dt_certainty_step)i));
        dt_buffer_text(out, "</td>");
        cell_number(out, round(dt_comparison_percent(c, k->held)), false);
        cell_number(out, round(dt_comparison_percent(c, k->held + k->set)), false);
        if (c->well->prices_given) {
            cell_number(out, round(k->cost.expected), false);
            cell_number(out, round(k->cost.error), false);
            for (int q = 0; q < 3; ++q)
                cell_number(out, round(k->cost.tenths[q]), false);
        }
        dt_buffer_text(out, "</tr>\n");
    }
    dt_buffer_text(out, "</table></div>\n");
}

/** What less and more certainty than the plan's comes to, and all programs by both. */
static void put_certainty(dt_buffer *out, const dt_comparison *c, const dt_text *drawing)
{
    if (c->drawn == 0) return;
    dt_buffer_text(out, "<section><h2>What certainty costs</h2>\n");
    put_drawing(out, drawing);
    if (c->certainty[DT_CERTAIN_PLANNED].given) {
        dt_buffer_text(
            out, "<div class=\"scroll\"><table><tr><th></th><th>strings</th><th>seats hold "
                 "in drawn wells, %</th><th>all stages hold, %</th><th>steel, t</th><th>days</th>");
        if (c->well->prices_given) dt_buffer_text(out, "<th>cost</th><th>difference</th>");
        dt_buffer_text(out, "</tr>\n");
        for (int i = 0; i < DT_CERTAIN_COUNT; ++i)
            put_step(out, c, (dt_certainty_step)i);
        dt_buffer_text(out, "</table></div>\n");
        put_contingent(out, c);
    }
    dt_buffer_text(out, "</section>\n");
}

static dt_status draw_both(const dt_comparison *c, dt_display display, dt_text *svg,
                           dt_text *certainty)
{
    dt_status status = dt_draw_comparison(c, display, svg);
    if (status != DT_OK) return status;
    status = dt_draw_certainty(c, display, certainty);
    if (status == DT_OK || status == DT_E_NONE) return DT_OK;
    dt_text_free(svg);
    return status;
}

dt_status dt_write_comparison_page(const dt_comparison *c, dt_display display, dt_text *out)
{
    dt_text svg = {0}, certainty = {0};
    dt_status status = draw_both(c, display, &svg, &certainty);
    if (status != DT_OK) return status;
    dt_buffer page = {0};
    dt_buffer_text(&page, head);
    put(&page, c->well->name);
    dt_buffer_text(&page, ": casing programs compared");
    dt_buffer_text(&page, style);
    dt_buffer_text(&page, "<h1>");
    put(&page, c->well->name);
    dt_buffer_text(&page, "</h1>\n");
    put_paragraph(&page, c->well->prices_given
                             ? "Casing programs compared, ranked by cost at the prices of the "
                               "well file. No other program equals or beats one of these in "
                               "cost, strings, steel, days, pipe at the objective and "
                               "contingency strings at once."
                             : "Casing programs compared, ranked by steel and days: the well "
                               "file has no prices. No other program equals or beats one of "
                               "these in strings, steel, days, pipe at the objective and "
                               "contingency strings at once.");
    if (c->plan_rank) {
        char text[64];
        snprintf(text, sizeof text, "The plan is number %zu of them.", c->plan_rank);
        put_paragraph(&page, text);
    }
    put_drawing(&page, &svg);
    put_overview(&page, c);
    put_notes(&page, c, display);
    put_certainty(&page, c, &certainty);
    dt_text_free(&certainty);
    put_twins(&page, c, display);
    dt_buffer_text(&page, "<h2>One by one</h2>\n");
    for (size_t i = 0; i < c->count; ++i)
        put_option(&page, c, i, display);
    put_contingencies(&page, c);
    dt_buffer_text(&page, "<section class=\"quiet\"><h2>How it was found</h2>\n");
    char *searched = NULL;
    if (dt_searched_sentence(c, display, &searched) == DT_OK)
        put_paragraph(&page, searched);
    else
        page.failed = true;
    free(searched);
    put_paragraph(&page, dt_proof_words());
    dt_buffer_text(&page, "</section>\n<p><strong>Preliminary planning aid. Verify pressures and "
                          "regulations locally; a licensed engineer reviews before anything is "
                          "run.</strong></p>\n</body>\n</html>\n");
    dt_text_free(&svg);
    return dt_buffer_take(&page, out);
}
