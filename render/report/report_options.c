/* SPDX-License-Identifier: MIT */
/* The options beside the chosen program. Their figures stand in options.json. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "compare_words.h"
#include "report.h"
#include "schematics.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

bool dt_wants_options(const dt_page *page)
{
    return page->comparison != NULL;
}

static void number_cell(dt_page *page, double value, int digits)
{
    char text[48];
    snprintf(text, sizeof text, "%.*f", digits, value);
    dt_html_element(&page->html, "td", "number", text);
}

static void option_row(dt_page *page, size_t index)
{
    const dt_compared *item = &page->comparison->items[index];
    dt_html *html = &page->html;
    char sizes[256], last[48];
    dt_option_sizes(&item->option, sizes, sizeof sizes);
    dt_inch_text(item->option.last_od_m, last, sizeof last);
    dt_html_open(html, "tr");
    dt_page_row_head(page, item->label);
    dt_html_element(html, "td", NULL, sizes);
    number_cell(page, (double)dt_option_strings(&item->option), 0);
    dt_html_element(html, "td", "number", last);
    number_cell(page, (double)item->option.spares, 0);
    number_cell(page, (double)dt_compared_standing(page->comparison, index)->second, 0);
    number_cell(page, (double)dt_compared_standing(page->comparison, index)->short_holes, 0);
    number_cell(page, item->option.steel_kg / 1000, 1);
    number_cell(page, item->option.days, 1);
    if (page->comparison->well->prices_given) number_cell(page, item->option.cost, 0);
    dt_html_close(html);
}

static void write_table(dt_page *page, size_t most)
{
    static const dt_column columns[] = {DT_WORDS("Option"),
                                        DT_WORDS("Pipes, in"),
                                        DT_NUMBER("Strings"),
                                        DT_NUMBER_IN("At the objective", "in"),
                                        DT_NUMBER("Contingency strings"),
                                        DT_NUMBER("Second-order pairs"),
                                        DT_NUMBER("Short of kick"),
                                        DT_NUMBER_IN("Steel", "t"),
                                        DT_NUMBER("Days"),
                                        DT_NUMBER("Cost")};
    size_t count = COUNT(columns) - (page->comparison->well->prices_given ? 0 : 1);
    const size_t all = page->comparison->count;
    dt_page_table(page, all > most
                            ? "The first options that no other program equals or beats in all"
                            : "Options that no other program equals or beats in all");
    dt_page_head(page, columns, count);
    for (size_t i = 0; i < all && i < most; ++i)
        option_row(page, i);
    dt_page_table_end(page);
}

/** What less and more certainty than the plan's comes to. */
static void write_certainty(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Program"),
                                        DT_NUMBER("Strings"),
                                        DT_NUMBER_IN("Seats hold in drawn wells", "%"),
                                        DT_NUMBER_IN("All stages hold", "%"),
                                        DT_NUMBER_IN("Steel", "t"),
                                        DT_NUMBER("Days"),
                                        DT_NUMBER("Cost")};
    const dt_comparison *c = page->comparison;
    if (!c->certainty[DT_CERTAIN_PLANNED].given) return;
    dt_page_table(page, "What certainty costs: held against wells drawn from the spreads");
    dt_page_head(page, columns, COUNT(columns) - (c->well->prices_given ? 0 : 1));
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_certainty *one = &c->certainty[i];
        dt_html_open(&page->html, "tr");
        dt_page_row_head(page, dt_certainty_text((dt_certainty_step)i));
        if (!one->given) {
            dt_html_open(&page->html, "td");
            dt_html_attribute(&page->html, "colspan", c->well->prices_given ? "6" : "5");
            dt_html_text(&page->html, "none was found that closes");
            dt_html_close(&page->html);
            dt_html_close(&page->html);
            continue;
        }
        number_cell(page, (double)dt_option_strings(&one->option), 0);
        number_cell(page, dt_comparison_percent(c, one->held), 0);
        number_cell(page, dt_comparison_percent_by_all(c, one->held, &one->of_all), 0);
        number_cell(page, one->option.steel_kg / 1000, 1);
        number_cell(page, one->option.days, 1);
        if (c->well->prices_given) number_cell(page, one->option.cost, 0);
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

/** The same with a string carried for the one hole that fails. */
static void write_contingent(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Program"),
                                        DT_NUMBER_IN("Holds as planned", "%"),
                                        DT_NUMBER_IN("Holds with the string set", "%"),
                                        DT_NUMBER("Expected cost"),
                                        DT_NUMBER("+-"),
                                        DT_NUMBER("P10"),
                                        DT_NUMBER("P50"),
                                        DT_NUMBER("P90")};
    const dt_comparison *c = page->comparison;
    if (!c->certainty[DT_CERTAIN_PLANNED].given) return;
    dt_page_table(page, "With a string more carried for the one hole that fails");
    dt_page_head(page, columns, c->well->prices_given ? COUNT(columns) : 3);
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_contingent *k = &c->certainty[i].contingent;
        if (!c->certainty[i].given) continue;
        dt_html_open(&page->html, "tr");
        dt_page_row_head(page, dt_certainty_text((dt_certainty_step)i));
        number_cell(page, dt_comparison_percent(c, k->held), 1);
        number_cell(page, dt_comparison_percent(c, k->held + k->set), 1);
        if (c->well->prices_given) {
            number_cell(page, k->cost.expected, 0);
            number_cell(page, k->cost.error, 0);
            for (int q = 0; q < 3; ++q)
                number_cell(page, k->cost.tenths[q], 0);
        }
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

static void twin_row(dt_page *page, size_t index)
{
    const dt_comparison *c = page->comparison;
    const dt_twin *t = &c->twins[index];
    const dt_compared *of = &c->items[t->item];
    dt_html *html = &page->html;
    char name[64], *why = NULL;
    dt_twin_string_name(c, index, name, sizeof name);
    dt_html_open(html, "tr");
    dt_page_row_head(page, of->label);
    dt_html_element(html, "td", NULL, name);
    dt_html_element(html, "td", NULL, dt_hanging_text(t->as));
    const double totals[] = {t->option.steel_kg / 1000, t->option.days, t->option.cost};
    for (size_t i = 0; i < (c->well->prices_given ? 3u : 2u); ++i)
        if (t->built)
            number_cell(page, totals[i], i < 2 ? 1 : 0);
        else
            dt_html_element(html, "td", "number", "");
    const dt_status status = dt_twin_sentence(c, index, page->display, &why);
    if (status == DT_OK)
        dt_html_element(html, "td", NULL, t->present ? "as it is" : why);
    else
        html->status = status;
    free(why);
    dt_html_close(html);
}

/** The plan with one string run otherwise. */
static bool is_other_plan(const dt_page *page, size_t twin)
{
    const dt_twin *t = &page->comparison->twins[twin];
    return t->item == 0 && !t->present;
}

/** Each string of the plan and of the first option as full string, liner and tied back; or those
 * alone that the plan does not have. */
static void write_twins(dt_page *page, bool all)
{
    static const dt_column priced[] = {
        DT_WORDS("Option"),           DT_WORDS("String"), DT_WORDS("As"),
        DT_NUMBER_IN("Steel", "t"),   DT_NUMBER("Days"),  DT_NUMBER("Cost"),
        DT_WORDS("What else changes")};
    static const dt_column unpriced[] = {DT_WORDS("Option"), DT_WORDS("String"),
                                         DT_WORDS("As"),     DT_NUMBER_IN("Steel", "t"),
                                         DT_NUMBER("Days"),  DT_WORDS("What else changes")};
    const bool prices = page->comparison->well->prices_given;
    if (page->comparison->twin_count == 0) return;
    dt_page_table(page,
                  all ? "Liner or full string: the same shoes, holes and sizes, pipe chosen anew"
                      : "The plan with a liner in place of a full string, and the reverse");
    dt_page_head(page, prices ? priced : unpriced, prices ? COUNT(priced) : COUNT(unpriced));
    for (size_t i = 0; i < page->comparison->twin_count; ++i)
        if (all || is_other_plan(page, i)) twin_row(page, i);
    dt_page_table_end(page);
}

static void write_sentence(dt_page *page, dt_item_sentence *of, size_t index)
{
    char *text = NULL;
    const dt_status status = of(page->comparison, index, page->display, &text);
    if (status == DT_OK)
        dt_html_text(&page->html, text);
    else
        page->html.status = status;
    free(text);
}

static void write_words(dt_page *page)
{
    dt_html *html = &page->html;
    dt_html_open_class(html, "dl", "reasons");
    for (size_t i = 1; i < page->comparison->count; ++i) {
        const dt_compared *item = &page->comparison->items[i];
        dt_page_term(page, item->label, NULL);
        write_sentence(page, dt_buys_sentence, i);
        dt_html_raw(html, " ");
        write_sentence(page, dt_risks_sentence, i);
        dt_html_close(html);
    }
    dt_html_close(html);
}

/** What if an interval must be cased off early. */
static void write_contingencies(dt_page *page)
{
    const dt_comparison *c = page->comparison;
    const dt_program *chosen = c->items[0].program;
    if (c->well->interval_count == 0 || !c->contingencies || !chosen) return;
    dt_html_element(&page->html, "h3", NULL, "If it must be cased off early");
    dt_html_open(&page->html, "ul");
    for (size_t i = 0; i < c->well->interval_count; ++i) {
        char *sentence = NULL;
        dt_status status = dt_contingency_sentence(chosen, i, &c->contingencies[i], &sentence);
        if (status == DT_OK)
            dt_html_element(&page->html, "li", NULL, sentence);
        else
            page->html.status = status;
        free(sentence);
    }
    dt_html_close(&page->html);
}

/** In the body: the plan, the first options, and liner or full string of the plan alone. */
void dt_section_options(dt_page *page)
{
    enum { MOST_IN_BODY = 6 };
    const dt_comparison *c = page->comparison;
    if (c->count == 0) return;
    write_table(page, MOST_IN_BODY);
    write_twins(page, false);
}

void dt_section_all_options(dt_page *page)
{
    const dt_comparison *c = page->comparison;
    dt_text svg = {0};
    if (c->count == 0) return;
    dt_status status = dt_draw_comparison(c, page->display, &svg);
    if (status != DT_OK) {
        page->html.status = status;
        return;
    }
    write_table(page, c->count);
    write_certainty(page);
    write_contingent(page);
    for (size_t i = 0; i < c->notes.count; ++i) {
        dt_html_open(&page->html, "p");
        write_sentence(page, dt_comparison_note, i);
        dt_html_close(&page->html);
    }
    write_twins(page, true);
    write_words(page);
    dt_page_drawing(page, &svg,
                    "The chosen program and the first options as schematics on one depth scale; "
                    "their sizes, strings and totals stand in the table above.",
                    "The chosen program and the first options on one depth scale.");
    dt_text_free(&svg);
    write_contingencies(page);
    char *searched = NULL;
    status = dt_searched_sentence(c, page->display, &searched);
    if (status == DT_OK)
        dt_html_element(&page->html, "p", NULL, searched);
    else
        page->html.status = status;
    free(searched);
    dt_html_element(&page->html, "p", NULL, dt_proof_words());
}
