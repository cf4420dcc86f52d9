/* SPDX-License-Identifier: MIT */
/*
 * How each string is put in place: running and cementing. The figures are many, so they are
 * taken out of program.json itself, by a table of its keys; the ending of a key tells the unit.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "plots.h"
#include "report.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/** One figure or word of program.json, under a string; shown where it is there. */
typedef struct job_key {
    const char *words, *path;
} job_key;

static const job_key running_keys[] = {
    {"Joints", "running.joints"},
    {"Spare joints", "running.spare_joints"},
    {"Range", "running.range"},
    {"Couplings", "running.couplings"},
    {"Joints of the shoe track", "running.shoe_track_joints"},
    {"Weight in air", "running.air_weight_klbf"},
    {"Hook load, filled", "running.hookload_filled_klbf"},
    {"Hook load, empty", "running.hookload_floated_klbf"},
    {"Pick-up weight", "running.hookload_up_klbf"},
    {"Slack-off weight", "running.hookload_down_klbf"},
    {"Maximum push over its helix", "running.pushed_klbf"},
    {"Winds into a helix from", "running.helix_from_klbf"},
    {"Flotation collar", "running.flotation_collar_md_ft"},
    {"Maximum unfilled depth", "running.empty_to_md_ft"},
    {"Limit of running empty", "running.empty_by"},
    {"Collapse factor there", "running.empty_collapse_factor"},
    {"Fill every", "running.fill_every_ft"},
    {"Overpull left in the pipe", "running.overpull_pipe_klbf"},
    {"Overpull left in the rig", "running.overpull_rig_klbf"},
    {"Surge at the shoe", "running.surge_psi"},
    {"Tightest in surge, at", "running.surge_tightest.md_ft"},
    {"TVD there", "running.surge_tightest.tvd_ft"},
    {"Pressure there", "running.surge_tightest.pressure_psi"},
    {"Fracture pressure there", "running.surge_tightest.fracture_psi"},
    {"Margin there", "running.surge_tightest.margin_psi"},
    {"Margin wanted", "running.surge_tightest.margin_wanted_psi"},
    {"Minimum running time per joint", "running.least_joint_s"},
    {"Shock", "running.shock_klbf"},
    {"Running time", "running.hours"},
    {"Centralizers", "running.centralizers"},
    {"Minimum standoff", "running.standoff_pct"},
};

static const job_key cement_keys[] = {
    {"Top, MD", "cement.top_md_ft"},
    {"Top, TVD", "cement.top_tvd_ft"},
    {"Float collar, MD", "cement.collar_md_ft"},
    {"Sacks", "cement.sacks"},
    {"Slurry", "cement.slurry_bbl"},
    {"Mix water", "cement.water_bbl"},
    {"Spacer", "cement.spacer_bbl"},
    {"Spacer weight", "cement.spacer_ppg"},
    {"Displacement to the collar", "cement.displacement_bbl"},
    {"Stop displacing at", "cement.displacement_most_bbl"},
    {"Strokes", "cement.displacement_strokes"},
    {"Pumping time", "cement.job_h"},
    {"Float differential", "cement.float_differential_psi"},
    {"Bump", "cement.bump_psi"},
    {"Test", "cement.test_psi"},
    {"Test by", "cement.test_rule"},
    {"Maximum pump pressure", "cement.pump_psi"},
    {"At the shoe, end of job, at rest", "cement.end_of_job_shoe_ppg"},
    {"At the shoe, end of job, pumping", "cement.end_of_job_pumping_shoe_ppg"},
    {"Maximum at the shoe in the job", "cement.peak_shoe_ppg"},
    {"Tightest, at", "cement.tightest.md_ft"},
    {"TVD there", "cement.tightest.tvd_ft"},
    {"When", "cement.tightest.moment"},
    {"Pumped by then", "cement.tightest.pumped_bbl"},
    {"Pressure there", "cement.tightest.pressure_psi"},
    {"Fracture pressure there", "cement.tightest.fracture_psi"},
    {"Margin there", "cement.tightest.margin_psi"},
    {"Margin wanted", "cement.tightest.margin_wanted_psi"},
    {"Highest top in one stage, MD", "cement.tallest_top_md_ft"},
    {"Free fall (U-tubing) from", "cement.free_fall_from_bbl"},
    {"Free fall (U-tubing) to", "cement.free_fall_to_bbl"},
    {"Lift on the string", "cement.lift_off_klbf"},
    {"Stage tool, MD", "cement.stage_tool.md_ft"},
    {"Stage tool, TVD", "cement.stage_tool.tvd_ft"},
    {"Second stage", "cement.stage_tool.second_stage_bbl"},
    {"Sacks of the second stage", "cement.stage_tool.second_stage_sacks"},
    {"WOC before drilling out", "cement.wait_h"},
    {"WOC by", "cement.wait_by"},
};

static const job_key slurry_columns[] = {
    {"Slurry", "slurry"},         {"Density", "density_ppg"},
    {"Yield", "yield_ft3_sk"},    {"Sack", "sack_lb"},
    {"Top MD", "top_md_ft"},      {"Base MD", "base_md_ft"},
    {"Excess", "excess_pct"},     {"Excess on", "excess_on"},
    {"In casing", "overlap_bbl"}, {"Open hole", "open_hole_bbl"},
    {"Rathole", "rathole_bbl"},   {"Shoe track", "shoe_track_bbl"},
    {"All", "slurry_bbl"},        {"Sacks", "sacks"},
    {"Water", "water_bbl"}};

static const job_key centralizer_columns[] = {{"From MD", "top_md_ft"},
                                              {"To MD", "base_md_ft"},
                                              {"Number", "count"},
                                              {"Kind", "kind"},
                                              {"Spacing", "spacing_ft"},
                                              {"Standoff", "standoff_pct"},
                                              {"Side load", "side_load_lbf"},
                                              {"Why", "why"}};

static const job_key accessory_columns[] = {
    {"Accessory", "name"}, {"Number", "count"}, {"MD", "md_ft"}, {"Note", "note"}};

static const job_key torque_columns[] = {{"Section", "section"},
                                         {"Optimum", "optimum_ftlbf"},
                                         {"Minimum", "least_ftlbf"},
                                         {"Maximum", "most_ftlbf"}};

static const job_key depth_columns[] = {{"Shoe at MD", "md_ft"},
                                        {"Filled", "filled_klbf"},
                                        {"Empty", "floated_klbf"},
                                        {"Pick-up", "up_klbf"},
                                        {"Slack-off", "down_klbf"},
                                        {"Overpull, pipe", "overpull_pipe_klbf"},
                                        {"Overpull, rig", "overpull_rig_klbf"},
                                        {"Minimum time per joint", "least_joint_s"}};

/* ---- a value as people read it ---- */

/** What the ending of a key stands for. Kinds follow the display; others keep their unit. */
typedef struct ending {
    const char *text;
    bool has_kind;
    dt_kind kind;
    double si; /* one of the key's unit */
    const char *unit;
    int digits;
} ending;

static const ending endings[] = {
    {"_klbf", true, DT_KIND_FORCE, 1000 * DT_N_PER_LBF, NULL, 0},
    {"_ftlbf", false, 0, 0, "ft-lbf", 0},
    {"_lbf", false, 0, 0, "lbf", 0},
    {"_ft3_sk", false, 0, 0, "ft3/sk", 3},
    {"_ft", true, DT_KIND_LENGTH, DT_M_PER_FT, NULL, 0},
    {"_ppg", true, DT_KIND_DENSITY, DT_KGM3_PER_PPG, NULL, 0},
    {"_psi", true, DT_KIND_PRESSURE, DT_PA_PER_PSI, NULL, 0},
    {"bbl", true, DT_KIND_VOLUME, DT_M3_PER_BBL, NULL, 0},
    {"_lb", false, 0, 0, "lb", 0},
    {"_in", false, 0, DT_M_PER_IN, "in", 0},
    {"_pct", false, 0, 0, "%", 0},
    {"_factor", false, 0, 0, NULL, 2},
    {"_h", false, 0, 0, "h", 1},
    {"hours", false, 0, 0, "h", 1},
    {"_s", false, 0, 0, "s", 1},
    {"days", false, 0, 0, "days", 1},
};

static const ending of_hours = {"", false, 0, 0, "h", 1}, of_money = {"", false, 0, 0, NULL, 0};

static const ending *ending_of(const char *key)
{
    size_t length = strlen(key);
    if (strncmp(key, "hours_of.", 9) == 0) return &of_hours;
    if (strncmp(key, "cost", 4) == 0) return &of_money;
    for (size_t i = 0; i < COUNT(endings); ++i) {
        size_t end = strlen(endings[i].text);
        if (length >= end && strcmp(key + length - end, endings[i].text) == 0) return &endings[i];
    }
    return NULL;
}

static const char *unit_of(const dt_page *page, const char *key)
{
    const ending *e = ending_of(key);
    if (!e) return NULL;
    return e->has_kind ? dt_display_unit(page->display, e->kind) : e->unit;
}

/** The value alone, without its unit. */
static void say_value(const dt_page *page, const char *key, const json_t *value, dt_buffer *out)
{
    char text[64] = "";
    const ending *e = ending_of(key);
    if (json_is_string(value)) {
        dt_buffer_text(out, json_string_value(value));
        return;
    }
    if (json_is_true(value)) dt_buffer_text(out, "yes");
    if (json_is_true(value)) return;
    double number = json_number_value(value);
    if (e && !e->has_kind && e->si > 0) { /* sizes stay in inches */
        dt_inch_text(number * e->si, text, sizeof text);
    } else if (e && e->has_kind) {
        dt_display_text(page->display, e->kind, number * e->si, text, sizeof text);
        text[strcspn(text, " ")] = '\0';
    } else {
        snprintf(text, sizeof text, "%.*f", e ? e->digits : 0, number);
    }
    dt_buffer_text(out, text);
}

static const json_t *look_up(const json_t *at, const char *path)
{
    char part[48];
    while (at && *path) {
        size_t length = strcspn(path, ".");
        snprintf(part, sizeof part, "%.*s", (int)length, path);
        at = json_object_get(at, part);
        path += length + (path[length] == '.');
    }
    return json_is_number(at) || json_is_string(at) || json_is_true(at) ? at : NULL;
}

/* ---- lists of facts, and tables ---- */

static const json_t *string_json(const dt_page *page, size_t index)
{
    return json_array_get(json_object_get(page->json, "strings"), index);
}

static void write_keys(dt_page *page, size_t string, const job_key *keys, size_t count)
{
    dt_html *html = &page->html;
    dt_html_open_class(html, "dl", "reasons job");
    for (size_t i = 0; i < count; ++i) {
        const json_t *value = look_up(string_json(page, string), keys[i].path);
        if (!value) continue;
        dt_buffer text = {0};
        say_value(page, keys[i].path, value, &text);
        dt_page_term(page, keys[i].words, NULL);
        dt_page_words(page, "span", text.failed ? "" : text.bytes,
                      dt_json("strings.%zu.%s", string, keys[i].path));
        const char *unit = unit_of(page, keys[i].path);
        if (unit) dt_html_text(html, " ");
        if (unit) dt_html_text(html, unit);
        dt_html_close(html);
        if (text.failed) html->status = DT_E_MEMORY;
        dt_buffer_free(&text);
    }
    dt_html_close(html);
}

static void table_head(dt_page *page, const job_key *columns, size_t count)
{
    dt_html *html = &page->html;
    dt_html_open(html, "thead");
    dt_html_open(html, "tr");
    for (size_t i = 0; i < count; ++i) {
        const char *unit = unit_of(page, columns[i].path);
        dt_html_open_class(html, "th", unit ? "number" : NULL);
        dt_html_attribute(html, "scope", "col");
        dt_html_text(html, columns[i].words);
        if (unit) dt_html_raw(html, " ");
        if (unit) dt_html_element(html, "small", NULL, unit);
        dt_html_close(html);
    }
    dt_html_close(html);
    dt_html_close(html);
    dt_html_open(html, "tbody");
}

/** A row's cells, out of an object whose path in program.json is `place`. */
static void row_cells(dt_page *page, const json_t *row, const char *place, const job_key *columns,
                      size_t count)
{
    dt_html *html = &page->html;
    for (size_t i = 0; i < count; ++i) {
        const json_t *value = look_up(row, columns[i].path);
        dt_buffer text = {0};
        if (value) say_value(page, columns[i].path, value, &text);
        dt_html_open_class(html, "td", json_is_string(value) ? NULL : "number");
        if (value && !json_is_true(value))
            dt_html_attribute(html, "data-json", dt_json("%s.%s", place, columns[i].path).text);
        dt_html_text(html, value && text.bytes ? text.bytes : "\u2013");
        dt_html_close(html);
        if (text.failed) html->status = DT_E_MEMORY;
        dt_buffer_free(&text);
    }
}

/** A row of an object; place is its path below the string: "running.depths.3". */
static void table_row(dt_page *page, size_t string, const json_t *row, const char *place,
                      const job_key *columns, size_t count)
{
    dt_html_open(&page->html, "tr");
    row_cells(page, row, dt_json("strings.%zu.%s", string, place).text, columns, count);
    dt_html_close(&page->html);
}

/** Opens a table named after its string. */
static void open_table(dt_page *page, size_t string, const char *words, const job_key *columns,
                       size_t count)
{
    dt_buffer caption = {0};
    dt_say_string(&caption, page->program, string);
    dt_buffer_text(&caption, ": ");
    dt_buffer_text(&caption, words);
    if (caption.failed)
        page->html.status = DT_E_MEMORY;
    else
        dt_page_table(page, caption.bytes);
    table_head(page, columns, count);
    dt_buffer_free(&caption);
}

static void write_list(dt_page *page, size_t string, const char *words, const char *key,
                       const job_key *columns, size_t count)
{
    const json_t *list =
        json_object_get(json_object_get(string_json(page, string), "running"), key);
    if (json_array_size(list) == 0) return;
    open_table(page, string, words, columns, count);
    for (size_t i = 0; i < json_array_size(list); ++i) {
        char place[64];
        snprintf(place, sizeof place, "running.%s.%zu", key, i);
        table_row(page, string, json_array_get(list, i), place, columns, count);
    }
    dt_page_table_end(page);
}

static void write_slurries(dt_page *page, size_t string)
{
    const json_t *cement = json_object_get(string_json(page, string), "cement");
    const json_t *list = json_object_get(cement, "slurries");
    static const char *const parts[] = {"lead", "tail"};
    open_table(page, string, "slurries from the top down", slurry_columns, COUNT(slurry_columns));
    for (size_t i = 0; i < COUNT(parts); ++i) {
        const json_t *part = json_object_get(cement, parts[i]);
        char place[64];
        snprintf(place, sizeof place, "cement.%s", parts[i]);
        if (part) table_row(page, string, part, place, slurry_columns, COUNT(slurry_columns));
    }
    /* more than two: lead and tail are the first and the last of them */
    for (size_t i = 0; i < json_array_size(list); ++i) {
        char place[64];
        snprintf(place, sizeof place, "cement.slurries.%zu", i);
        table_row(page, string, json_array_get(list, i), place, slurry_columns,
                  COUNT(slurry_columns));
    }
    dt_page_table_end(page);
}

/* ---- the sheets ---- */

static void write_sheet(dt_page *page, size_t string)
{
    dt_text svg = {0};
    dt_status status = dt_draw_string_sheet(page->program, dt_program_at(page->program, string),
                                            page->display, &svg);
    if (status != DT_OK) {
        page->html.status = status;
        return;
    }
    char caption[128];
    snprintf(caption, sizeof caption,
             "Sheet to carry to the rig. It stands beside this page as string-%zu.svg.",
             string + 1);
    dt_page_drawing(page, &svg,
                    "Shoe track, cement and centralizers of the string drawn beside the figures "
                    "of running and cementing it, which stand in the lists and tables below.",
                    caption);
    dt_text_free(&svg);
}

/** A page a string. */
void dt_section_sheets(dt_page *page)
{
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        dt_buffer text = {0};
        dt_html_open_class(&page->html, "div", i > 0 ? "page sheet" : "sheet");
        dt_say_string(&text, page->program, dt_program_at(page->program, i));
        dt_page_say(page, "h3", NULL, &text);
        write_sheet(page, i);
        dt_html_close(&page->html);
    }
}

void dt_section_jobs(dt_page *page)
{
    dt_html *html = &page->html;
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        dt_buffer text = {0};
        dt_html_open_class(html, "div", "string");
        dt_say_string(&text, page->program, dt_program_at(page->program, i));
        dt_page_say(page, "h3", NULL, &text);
        dt_html_element(html, "h4", NULL, "Running");
        write_keys(page, i, running_keys, COUNT(running_keys));
        write_list(page, i, "loads while running", "depths", depth_columns, COUNT(depth_columns));
        write_list(page, i, "centralizers", "centralizer_runs", centralizer_columns,
                   COUNT(centralizer_columns));
        write_list(page, i, "accessories", "accessories", accessory_columns,
                   COUNT(accessory_columns));
        write_list(page, i, "make-up torque", "torque", torque_columns, COUNT(torque_columns));
        if (json_is_object(json_object_get(string_json(page, i), "cement"))) {
            dt_html_element(html, "h4", NULL, "Cementing");
            write_keys(page, i, cement_keys, COUNT(cement_keys));
            write_slurries(page, i);
        }
        dt_html_close(html);
    }
}

/* ---- kick tolerance ---- */

static const job_key kick_columns[] = {
    {"Bit at TVD", "tvd_ft"}, {"Kick tolerance", "bbl"}, {"Fills the whole hole", "whole_hole"}};

static const job_key kick_keys[] = {
    {"Kick tolerance", "kick_tolerance_bbl"},
    {"With the bit at, TVD", "kick_tolerance_at_tvd_ft"},
    {"By", "kick_tolerance_by"},
    {"Minimum", "kick_tolerance_minimum_bbl"},
    {"Minimum leak-off at the previous shoe", "while_drilling.leak_off_ppg"},
    {"Maximum mud weight", "while_drilling.most_mud_ppg"},
    {"Maximum pore pressure at its base", "while_drilling.most_pore_ppg"}};

static bool has_kick(const dt_page *page, size_t string)
{
    return json_object_get(string_json(page, string), "kick_tolerance_bbl") != NULL ||
           json_object_get(string_json(page, string), "kick_tolerance_curve") != NULL;
}

bool dt_wants_kick(const dt_page *page)
{
    bool any = false;
    for (size_t i = 0; i < dt_program_strings(page->program); ++i)
        any = any || has_kick(page, i);
    return any;
}

static const job_key trigger_columns[] = {
    {"Hole down to the", ""},
    {"Minimum leak-off at the previous shoe", "leak_off_ppg"},
    {"Maximum mud weight", "most_mud_ppg"},
    {"Maximum pore pressure at its base", "most_pore_ppg"},
    {"Else the shoe moves up to, TVD", "shoe_no_higher_tvd_ft"},
    {"for a leak-off of at least", "leak_off_there_ppg"},
    {"Past that is run", "contingency_text"},
    {"at most at, TVD", "contingency_tvd_ft"},
    {"Contingency string", "contingency_od_in"},
    {"in hole", "contingency_hole_in"}};

/** What the rig crew does past a bound, where the well has spreads. */
static void write_triggers(dt_page *page)
{
    if (!dt_well_has_spreads(page->program->well)) return;
    bool any = false;
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        const json_t *row = json_object_get(string_json(page, i), "while_drilling");
        if (!row) continue;
        if (!any) {
            dt_page_table(page, "Triggers while drilling: what is done past a bound of each hole");
            table_head(page, trigger_columns, COUNT(trigger_columns));
        }
        any = true;
        dt_buffer name = {0};
        dt_html_open(&page->html, "tr");
        dt_say_string(&name, page->program, dt_program_at(page->program, i));
        dt_page_row_head_of(page, &name);
        row_cells(page, row, dt_json("strings.%zu.while_drilling", i).text, trigger_columns + 1,
                  COUNT(trigger_columns) - 1);
        dt_html_close(&page->html);
    }
    if (!any) return;
    dt_page_table_end(page);
    dt_html_element(&page->html, "p", "note",
                    "By sizes and rules of seats alone; pipe and cement are planned on the well "
                    "file with the reading in it.");
}

/** A row a string: the smallest influx that its hole bears, against what is asked for. */
void dt_section_kick(dt_page *page)
{
    static const job_key string_column = {"Hole down to the", ""};
    job_key columns[COUNT(kick_keys) + 1] = {string_column};
    for (size_t i = 0; i < COUNT(kick_keys); ++i)
        columns[i + 1] = kick_keys[i];
    dt_page_table(page, "The largest influx that can be shut in and circulated out of each hole");
    table_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        if (!has_kick(page, i)) continue;
        dt_html_open(&page->html, "tr");
        dt_page_string_head(page, i);
        row_cells(page, string_json(page, i), dt_json("strings.%zu", i).text, kick_keys,
                  COUNT(kick_keys));
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

/** The same down each hole, and what is done past a bound. */
void dt_section_influx(dt_page *page)
{
    write_triggers(page);
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        const json_t *curve = json_object_get(string_json(page, i), "kick_tolerance_curve");
        if (json_array_size(curve) == 0) continue;
        open_table(page, i, "kick tolerance down the hole", kick_columns, COUNT(kick_columns));
        for (size_t k = 0; k < json_array_size(curve); ++k)
            table_row(page, i, json_array_get(curve, k),
                      dt_json("kick_tolerance_curve.%zu", k).text, kick_columns,
                      COUNT(kick_columns));
        dt_page_table_end(page);
    }
}

/* ---- time and money ---- */

static const job_key time_columns[] = {{"Drill", "hours_of.drill"},
                                       {"Trips", "hours_of.trips"},
                                       {"Run", "hours_of.run"},
                                       {"Cement", "hours_of.cement"},
                                       {"Head or hanger", "hours_of.head"},
                                       {"Drill out", "hours_of.drill_out"},
                                       {"Reserve", "hours_of.reserve"},
                                       {"All", "days"}};

static const job_key money_columns[] = {
    {"Pipe", "cost_of.pipe"},     {"Threads", "cost_of.threads"},
    {"Hanger", "cost_of.hanger"}, {"Wellhead", "cost_of.wellhead"},
    {"Cement", "cost_of.cement"}, {"Bits", "cost_of.bits"},
    {"Rig", "cost_of.rig"},       {"All", "cost"}};

/** A row a string, and one of the totals. */
static void write_bill(dt_page *page, const char *caption, const job_key *columns, size_t count)
{
    static const job_key string_column = {"String", ""};
    job_key all[12] = {string_column};
    dt_html *html = &page->html;
    for (size_t i = 0; i < count; ++i)
        all[i + 1] = columns[i];
    dt_page_table(page, caption);
    table_head(page, all, count + 1);
    for (size_t i = 0; i < dt_program_strings(page->program); ++i) {
        dt_html_open(html, "tr");
        dt_page_string_head(page, i);
        row_cells(page, string_json(page, i), dt_json("strings.%zu", i).text, columns, count);
        dt_html_close(html);
    }
    dt_html_open(html, "tr");
    dt_page_row_head(page, "All");
    row_cells(page, json_object_get(page->json, "totals"), "totals", columns, count);
    dt_html_close(html);
    dt_page_table_end(page);
}

bool dt_wants_bill(const dt_page *page)
{
    return json_object_get(json_object_get(page->json, "totals"), "days") != NULL;
}

void dt_section_bill(dt_page *page)
{
    const json_t *totals = json_object_get(page->json, "totals");
    write_bill(page, "Hours of each string, and days of all", time_columns, COUNT(time_columns));
    if (!json_object_get(totals, "cost")) {
        dt_html_element(&page->html, "p", NULL, "Nothing is priced.");
        return;
    }
    dt_buffer caption = {0};
    dt_buffer_text(&caption, "Cost of each string");
    const char *currency = json_string_value(json_object_get(totals, "currency"));
    if (currency) dt_buffer_text(&caption, ", ");
    if (currency) dt_buffer_text(&caption, currency);
    if (caption.failed)
        page->html.status = DT_E_MEMORY;
    else
        write_bill(page, caption.bytes, money_columns, COUNT(money_columns));
    dt_buffer_free(&caption);
}
