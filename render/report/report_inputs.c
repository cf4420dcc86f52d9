/* SPDX-License-Identifier: MIT */
/* What went in: the tables of the well, the file itself, and how to read the report. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "offsets.h"
#include "report.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/** A cell of an input: not a result, so it has no place in program.json. */
static void plain_cell(dt_page *page, dt_kind kind, double si)
{
    char text[64] = "\u2013";
    if (isfinite(si)) {
        dt_display_text(page->display, kind, si, text, sizeof text);
        text[strcspn(text, " ")] = '\0';
    }
    dt_html_element(&page->html, "td", "number", text);
}

static void line_cell(dt_page *page, int line)
{
    char words[16];
    snprintf(words, sizeof words, "%d", line);
    dt_html_open_class(&page->html, "td", "number");
    dt_page_line(page, words, line);
    dt_html_close(&page->html);
}

static void write_curve(dt_page *page, const dt_curve *curve, const char *caption)
{
    static const dt_column columns[] = {DT_QUANTITY("TVD", DT_KIND_LENGTH),
                                        DT_QUANTITY("Equivalent mud weight", DT_KIND_DENSITY),
                                        DT_NUMBER("Line")};
    if (curve->count == 0) return;
    char text[96];
    snprintf(text, sizeof text, "%s, linear in %s", caption,
             curve->between == DT_BETWEEN_GRADIENT ? "gradient" : "pressure");
    dt_page_table(page, text);
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < curve->count; ++i) {
        dt_html_open(&page->html, "tr");
        plain_cell(page, DT_KIND_LENGTH, curve->points[i].tvd_m);
        plain_cell(page, DT_KIND_DENSITY, curve->points[i].emw_kgm3);
        line_cell(page, curve->points[i].line);
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

static void made_of_cell(dt_page *page, const dt_curve_point *point)
{
    const dt_well *well = page->program->well;
    dt_buffer names = {0};
    for (size_t i = 0; i < well->offset_count; ++i) {
        if (!(point->offsets >> i & 1)) continue;
        if (names.size > 0) dt_buffer_text(&names, ", ");
        dt_buffer_text(&names, well->offsets[i].name);
    }
    dt_page_say(page, "td", NULL, &names);
}

/** A table that was made of offset wells: with its spread, and the wells of each point. */
static void write_made(dt_page *page, const dt_curve *curve, const char *caption, const char *key)
{
    static const dt_column columns[] = {
        DT_QUANTITY("TVD", DT_KIND_LENGTH), DT_QUANTITY("Equivalent mud weight", DT_KIND_DENSITY),
        DT_QUANTITY("Standard deviation", DT_KIND_DENSITY), DT_WORDS("Made of")};
    char text[96];
    snprintf(text, sizeof text, "%s, made of offset wells", caption);
    dt_page_table(page, text);
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < curve->count; ++i) {
        const dt_curve_point *p = &curve->points[i];
        dt_html_open(&page->html, "tr");
        dt_page_cell(page, DT_KIND_LENGTH, p->tvd_m, dt_json("offsets.%s.%zu.tvd_ft", key, i));
        dt_page_cell(page, DT_KIND_DENSITY, p->emw_kgm3, dt_json("offsets.%s.%zu.emw_ppg", key, i));
        dt_page_cell(page, DT_KIND_DENSITY, p->sd_kgm3, dt_json("offsets.%s.%zu.sd_ppg", key, i));
        made_of_cell(page, p);
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

static void write_offset_wells(dt_page *page)
{
    static const dt_column columns[] = {
        DT_WORDS("Offset well"), DT_QUANTITY("Distance", DT_KIND_LENGTH),
        DT_QUANTITY("Rig floor", DT_KIND_LENGTH), DT_QUANTITY("Water depth", DT_KIND_LENGTH),
        DT_NUMBER("Line")};
    const dt_well *well = page->program->well;
    dt_page_table(page, "Offset wells");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < well->offset_count; ++i) {
        const dt_offset *offset = &well->offsets[i];
        dt_html_open(&page->html, "tr");
        dt_page_row_head(page, offset->name);
        dt_page_cell(page, DT_KIND_LENGTH, offset->distance_m,
                     dt_json("offsets.wells.%zu.distance_ft", i));
        dt_page_cell(page, DT_KIND_LENGTH, offset->rig_floor_m,
                     dt_json("offsets.wells.%zu.rig_floor_ft", i));
        dt_page_cell(page, DT_KIND_LENGTH, offset->water_depth_m,
                     dt_json("offsets.wells.%zu.water_depth_ft", i));
        line_cell(page, offset->line);
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

static void write_reading(dt_page *page, size_t i, size_t k)
{
    const dt_well *well = page->program->well;
    const dt_offset *offset = &well->offsets[i];
    const dt_offset_reading *r = &offset->readings[k];
    dt_html_open(&page->html, "tr");
    dt_page_row_head(page, offset->name);
    dt_html_element(&page->html, "td", NULL, dt_offset_what_text(r->what));
    dt_page_cell(page, DT_KIND_LENGTH, r->tvd_m,
                 dt_json("offsets.wells.%zu.readings.%zu.tvd_ft", i, k));
    if (isfinite(r->emw_kgm3))
        dt_page_cell(page, DT_KIND_DENSITY, r->emw_kgm3,
                     dt_json("offsets.wells.%zu.readings.%zu.emw_ppg", i, k));
    else
        plain_cell(page, DT_KIND_DENSITY, NAN);
    plain_cell(page, DT_KIND_LENGTH, dt_offset_here_m(well, offset, r));
    plain_cell(page, DT_KIND_DENSITY, dt_offset_here_kgm3(well, offset, r));
    line_cell(page, r->line);
    dt_html_close(&page->html);
}

static void write_readings(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Offset well"),
                                        DT_WORDS("Seen"),
                                        DT_QUANTITY("TVD there", DT_KIND_LENGTH),
                                        DT_QUANTITY("EMW there", DT_KIND_DENSITY),
                                        DT_QUANTITY("TVD here", DT_KIND_LENGTH),
                                        DT_QUANTITY("EMW here", DT_KIND_DENSITY),
                                        DT_NUMBER("Line")};
    const dt_well *well = page->program->well;
    dt_page_table(page, "What was seen there, and the same at this well's ground and rig floor");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < well->offset_count; ++i)
        for (size_t k = 0; k < well->offsets[i].reading_count; ++k)
            write_reading(page, i, k);
    dt_page_table_end(page);
}

/** The trend of leak-offs, as docs/offsets.md has it. */
static void write_trend(dt_page *page)
{
    static const dt_column columns[] = {DT_QUANTITY("At 1,000 m", DT_KIND_DENSITY),
                                        DT_QUANTITY("Per ln of depth", DT_KIND_DENSITY),
                                        DT_QUANTITY("Scatter of a test", DT_KIND_DENSITY),
                                        DT_QUANTITY("Shallowest test", DT_KIND_LENGTH),
                                        DT_QUANTITY("Deepest test", DT_KIND_LENGTH)};
    const dt_offset_trend *t = &page->program->well->offset_trend;
    dt_page_table(page, "Trend of leak-offs: density and depth below the ground");
    dt_page_head(page, columns, COUNT(columns));
    dt_html_open(&page->html, "tr");
    dt_page_cell(page, DT_KIND_DENSITY, t->level_kgm3, dt_json("offsets.trend.level_ppg"));
    dt_page_cell(page, DT_KIND_DENSITY, t->slope_kgm3, dt_json("offsets.trend.slope_ppg"));
    dt_page_cell(page, DT_KIND_DENSITY, t->scatter_kgm3, dt_json("offsets.trend.scatter_ppg"));
    dt_page_cell(page, DT_KIND_LENGTH, t->shallowest_m, dt_json("offsets.trend.shallowest_ft"));
    dt_page_cell(page, DT_KIND_LENGTH, t->deepest_m, dt_json("offsets.trend.deepest_ft"));
    dt_html_close(&page->html);
    dt_page_table_end(page);
}

static void write_offsets(dt_page *page)
{
    const dt_well *well = page->program->well;
    if (well->offset_count == 0) return;
    write_offset_wells(page);
    write_readings(page);
    if (well->fracture_by_offsets) write_trend(page);
}

static void write_intervals(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Interval"),
                                        DT_WORDS("Kind"),
                                        DT_QUANTITY("Top", DT_KIND_LENGTH),
                                        DT_QUANTITY("Base", DT_KIND_LENGTH),
                                        DT_WORDS("Action"),
                                        DT_QUANTITY("Within", DT_KIND_LENGTH),
                                        DT_NUMBER("Line")};
    static const char *const actions[] = {[DT_CASE_OFF] = "case off",
                                          [DT_CASE_ABOVE] = "case above",
                                          [DT_AVOID_SHOE] = "no shoe inside"};
    const dt_well *well = page->program->well;
    if (well->interval_count == 0) return;
    dt_page_table(page, "Troublesome intervals, TVD");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *interval = &well->intervals[i];
        dt_html_open(&page->html, "tr");
        dt_page_row_head(page, interval->name);
        dt_html_element(&page->html, "td", NULL, interval->kind);
        plain_cell(page, DT_KIND_LENGTH, interval->top_m);
        plain_cell(page, DT_KIND_LENGTH, interval->base_m);
        dt_html_element(&page->html, "td", NULL, actions[interval->action]);
        plain_cell(page, DT_KIND_LENGTH,
                   interval->action == DT_AVOID_SHOE ? NAN : interval->within_m);
        line_cell(page, interval->line);
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

static void write_pays(dt_page *page)
{
    static const dt_column columns[] = {DT_WORDS("Pay"), DT_QUANTITY("Top", DT_KIND_LENGTH),
                                        DT_QUANTITY("Base", DT_KIND_LENGTH), DT_NUMBER("Line")};
    const dt_well *well = page->program->well;
    if (well->pay_count == 0) return;
    dt_page_table(page, "What the well is drilled for, TVD");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < well->pay_count; ++i) {
        dt_html_open(&page->html, "tr");
        dt_page_row_head(page, well->pays[i].name);
        plain_cell(page, DT_KIND_LENGTH, well->pays[i].top_m);
        plain_cell(page, DT_KIND_LENGTH, well->pays[i].base_m);
        line_cell(page, well->pays[i].line);
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

static void write_survey(dt_page *page)
{
    static const dt_column columns[] = {DT_QUANTITY("MD", DT_KIND_LENGTH),
                                        DT_QUANTITY("Inclination", DT_KIND_ANGLE),
                                        DT_QUANTITY("Azimuth", DT_KIND_ANGLE),
                                        DT_QUANTITY("TVD", DT_KIND_LENGTH), DT_NUMBER("Line")};
    const dt_well *well = page->program->well;
    if (well->station_count == 0) {
        dt_html_element(&page->html, "p", NULL, "The hole is taken to be vertical.");
        return;
    }
    dt_page_table(page, "Survey stations; TVD by minimum curvature");
    dt_page_head(page, columns, COUNT(columns));
    for (size_t i = 0; i < well->station_count; ++i) {
        const dt_station *s = &well->stations[i];
        dt_html_open(&page->html, "tr");
        plain_cell(page, DT_KIND_LENGTH, s->md_m);
        plain_cell(page, DT_KIND_ANGLE, s->inclination_rad);
        plain_cell(page, DT_KIND_ANGLE, s->azimuth_rad);
        plain_cell(page, DT_KIND_LENGTH, dt_trajectory_tvd(&page->program->trajectory, s->md_m));
        line_cell(page, s->line);
        dt_html_close(&page->html);
    }
    dt_page_table_end(page);
}

void dt_section_inputs(dt_page *page)
{
    const dt_well *well = page->program->well;
    dt_html_element(&page->html, "p", NULL,
                    "Depths are true vertical depths below the rig floor unless they say MD. "
                    "Gradients are equivalent mud weights counted from the rig floor.");
    dt_html_open_class(&page->html, "div", "curves");
    if (well->pore_by_offsets)
        write_made(page, &well->pore, "Pore pressure", "pore_pressure");
    else
        write_curve(page, &well->pore, "Pore pressure");
    if (well->fracture_by_offsets)
        write_made(page, &well->fracture, "Fracture gradient", "fracture_gradient");
    else
        write_curve(page, &well->fracture, "Fracture gradient");
    write_curve(page, &well->collapse, "Collapse gradient");
    write_curve(page, &well->overburden, "Overburden");
    dt_html_close(&page->html);
    write_offsets(page);
    write_intervals(page);
    write_pays(page);
    write_survey(page);
}

/** One line of the file with its number, which other sections link to. */
static void write_line(dt_page *page, size_t number, const char *text, size_t size)
{
    char id[32];
    snprintf(id, sizeof id, "line-%zu", number);
    if (size > 0 && text[size - 1] == '\r') --size;
    dt_html_open(&page->html, "li");
    dt_html_attribute(&page->html, "id", id);
    dt_html_open(&page->html, "code");
    dt_html_verbatim(&page->html, text, size);
    dt_html_close(&page->html);
    dt_html_close(&page->html);
}

void dt_section_file(dt_page *page)
{
    dt_buffer name = {0};
    dt_buffer_text(&name, "As it was read from ");
    /* without its folder: where it lay on a machine is nobody's business */
    const char *slash = strrchr(page->source->file, '/');
    const char *file = slash ? slash + 1 : page->source->file;
    dt_buffer_text(&name, strcmp(file, "-") == 0 ? "standard input" : file);
    dt_buffer_text(&name, ".");
    dt_page_say(page, "p", NULL, &name);
    if (!page->file.bytes) {
        dt_html_element(&page->html, "p", NULL,
                        "The file is written in an encoding that cannot be shown here.");
        return;
    }
    const char *at = page->file.bytes, *end = at + page->file.size;
    dt_html_open_class(&page->html, "ol", "source");
    for (size_t number = 1; at < end; ++number) {
        const char *stop = memchr(at, '\n', (size_t)(end - at));
        write_line(page, number, at, (size_t)((stop ? stop : end) - at));
        at = stop ? stop + 1 : end;
    }
    dt_html_close(&page->html);
}

void dt_section_reading(dt_page *page)
{
    static const char *const notes[] = {
        "MD is measured along the hole, TVD straight down, both from the rig floor. Sizes are "
        "inches, as the trade names them.",
        "A seat is governed by the rule, depth and input that decide it. The limits of a seat hold "
        "while the other seats are free to move.",
        "Figures are rounded for reading. program.json beside this page holds them unrounded, in "
        "field units, under the place that each figure here names in its data-json attribute.",
        "The plan is a draft: pressures are those of the well file, regulations are not checked, "
        "and a licensed engineer reviews it before anything is run.",
    };
    dt_html_open(&page->html, "ul");
    for (size_t i = 0; i < COUNT(notes); ++i)
        dt_html_element(&page->html, "li", NULL, notes[i]);
    dt_html_close(&page->html);
}
