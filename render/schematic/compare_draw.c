/* SPDX-License-Identifier: MIT */
/* Options as schematics beside each other, on one depth scale and one scale of diameters. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "change_words.h"
#include "changes.h"
#include "compare_words.h"
#include "labels.h"
#include "same.h"
#include "schematic.h"
#include "units.h"

#define MOST_COLUMNS 5
#define MARGIN       14.0
#define AXIS_W       52.0
#define PAGE_W       720.0 /* what paper has room for; the columns share it */
#define WIDEST       246.0 /* of a column */
#define LABELS_LEAST 76.0  /* of a column; the rock has the rest, or two fifths */
#define RADIUS_SHARE 0.41  /* of the rock */
#define HEAD_LINE    (DT_TYPE * DT_LINE_HEIGHT)
#define HEAD_H       (66.0 + 8 * HEAD_LINE) /* title, and over each column its name and sums */
#define PAGE_H       880.0
#define FOOT_H       46.0

static const char caution[] = "Preliminary planning aid. Verify pressures and regulations locally; "
                              "a licensed engineer reviews.";

/** A program, and what stands over it: its name in bold, sizes and sums. */
typedef struct side {
    const dt_program *program;
    const dt_changes *changes; /* marked in it, as the second of the two; NULL: none */
    char lines[4][256];        /* "": none */
} side;

typedef struct layout {
    dt_display display;
    dt_svg *svg;
    side sides[MOST_COLUMNS];
    size_t columns;
    double column_w, rock_w, width;
    dt_depth_scale depth;
    double units_per_m;
} layout;

static double column_x(const layout *l, size_t column)
{
    return MARGIN + AXIS_W + (double)column * l->column_w;
}

/** The scales that hold for all columns: deepest well, widest hole. */
static void set_scales(layout *l)
{
    double widest = 0.05, bottom = 0;
    for (size_t i = 0; i < l->columns; ++i) {
        const dt_program *p = l->sides[i].program;
        dt_depth_scale own = dt_depth_scale_plain(p, HEAD_H + 10, PAGE_H - FOOT_H - 8);
        if (own.bottom_m > bottom) l->depth = own;
        bottom = fmax(bottom, own.bottom_m);
        for (size_t k = 0; k < p->count; ++k)
            widest = fmax(widest, fmax(p->items[k].od_m,
                                       isfinite(p->items[k].hole_m) ? p->items[k].hole_m : 0));
    }
    l->units_per_m = RADIUS_SHARE * l->rock_w / (widest / 2);
}

/** A block of lines from (x, y) down, cut to its width. */
static void draw_block(layout *l, dt_box box, double size, const char *const *lines, size_t count,
                       size_t bold)
{
    dt_labels block = {.width = box.w, .size = size};
    dt_label *label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    for (size_t i = 0; i < count; ++i)
        dt_label_write(&block, label, i < bold, 2, lines[i]);
    if (label) label->top = box.y;
    dt_labels_draw(l->svg, &block, box.x, DT_START);
    if (block.failed) l->svg->status = DT_E_MEMORY;
    dt_labels_free(&block);
}

static void draw_axis(layout *l)
{
    double unit = l->display == DT_DISPLAY_FIELD ? DT_M_PER_FT : 1;
    double step = dt_round_step(l->depth.bottom_m / unit / 12) * unit;
    double right = column_x(l, l->columns) - 6;
    for (double tvd = 0; tvd <= l->depth.bottom_m; tvd += step) {
        double y = dt_depth_y(&l->depth, tvd);
        dt_buffer text = {0};
        dt_say_depth_number(&text, l->display, tvd);
        if (text.failed) l->svg->status = DT_E_MEMORY;
        dt_svg_line(l->svg, column_x(l, 0) - 6, y, right, y,
                    (dt_ink){.stroke = DT_LINE_FAINT, .width = 0.5});
        if (!text.failed)
            dt_svg_text(l->svg, column_x(l, 0) - 9, y,
                        (dt_type){DT_TYPE, false, DT_TEXT_QUIET, DT_END}, text.bytes);
        dt_buffer_free(&text);
    }
    dt_svg_text(l->svg, MARGIN, HEAD_H - 6, (dt_type){DT_TYPE, false, DT_TEXT_QUIET, DT_START},
                l->display == DT_DISPLAY_FIELD ? "TVD, ft" : "TVD, m");
}

/** What is otherwise in a string than in the one of the first program, a line each; whether any. */
static bool name_changes(const layout *l, const dt_changes *c, size_t k, dt_labels *labels,
                         dt_label *label)
{
    bool any = false;
    for (size_t i = 0; i < c->count; ++i) {
        char words[64] = "";
        if (c->items[i].is == k && !c->items[i].notice)
            dt_change_brief(c, i, l->display, words, sizeof words);
        if (words[0]) dt_label_write(labels, label, true, 2, words);
        any |= words[0] != '\0';
    }
    return any;
}

/** Whether a string of the first program has gone from one of the others. */
static bool has_gone(const layout *l, size_t k)
{
    for (size_t column = 1; column < l->columns; ++column) {
        const dt_changes *c = l->sides[column].changes;
        for (size_t i = 0; c && i < c->count; ++i)
            if (c->items[i].what == DT_CHANGE_REMOVED && c->items[i].was == k) return true;
    }
    return false;
}

/** detail: 2 everything, 1 its size and depth, 0 its size alone. */
static void name_string(layout *l, const side *of, size_t k, int detail, dt_labels *labels)
{
    const dt_program_string *item = &of->program->items[k];
    dt_label *label =
        dt_labels_add(labels, dt_depth_y(&l->depth, item->shoe_tvd_m), DT_TEXT, DT_LINE_QUIET);
    dt_buffer text = {0};
    char inches[48];
    dt_inch_text(item->od_m, inches, sizeof inches);
    dt_buffer_text(&text, inches);
    dt_buffer_text(&text, item->seat->type == DT_LINER     ? " liner"
                          : item->seat->type == DT_TIEBACK ? " tie-back"
                                                           : " in");
    if (!text.failed) dt_label_write(labels, label, true, 1, text.bytes);
    text.size = 0;
    dt_say_depth(&text, l->display, item->shoe_tvd_m);
    if (!text.failed && detail > 0) dt_label_write(labels, label, false, 1, text.bytes);
    if (item->seat->type == DT_LINER && detail > 1) {
        text.size = 0;
        dt_buffer_text(&text, "top ");
        dt_say_depth(&text, l->display, item->top_tvd_m);
        if (!text.failed) dt_label_write(labels, label, false, 1, text.bytes);
    }
    bool marked = of->changes && name_changes(l, of->changes, k, labels, label);
    if (of == &l->sides[0] && has_gone(l, k)) {
        dt_label_write(labels, label, true, 1, l->columns > 2 ? "not in all" : "not in the other");
        marked = true;
    }
    if (label && marked) label->mark = label->color = DT_TEXT_RUST;
    if (text.failed) l->svg->status = DT_E_MEMORY;
    dt_buffer_free(&text);
}

static void draw_names(layout *l, const side *of, double rock_right)
{
    const dt_program *p = of->program;
    dt_labels labels = {.width = l->column_w - l->rock_w - 16, .size = DT_TYPE};
    bool placed = false;
    for (int detail = 2; detail >= 0 && !placed && !labels.failed; --detail) {
        labels.count = 0;
        for (size_t n = 0; n < dt_program_strings(p); ++n)
            name_string(l, of, dt_program_at(p, n), detail, &labels);
        placed = dt_labels_place(&labels, l->depth.top_y - 6, l->depth.bottom_y + 6);
    }
    for (size_t i = 0; placed && i < labels.count; ++i) {
        const dt_label *label = &labels.items[i];
        dt_path path = {0};
        dt_path_move(&path, rock_right - 8, label->target_y);
        dt_path_line(&path, rock_right + 3, label->target_y);
        dt_path_line(&path, rock_right + 14, label->top + labels.size * DT_LINE_HEIGHT / 2 + 1.5);
        const bool marked = strcmp(label->mark, DT_TEXT_RUST) == 0;
        dt_svg_path(l->svg, &path, (dt_ink){.stroke = label->mark, .width = marked ? 1.6 : 0.7});
    }
    if (placed) dt_labels_draw(l->svg, &labels, rock_right + 14, DT_START);
    if (labels.failed) l->svg->status = DT_E_MEMORY;
    dt_labels_free(&labels);
}

static void draw_head(layout *l, size_t column)
{
    const side *of = &l->sides[column];
    const char *lines[COUNT_OF(of->lines)];
    size_t count = 0;
    for (size_t i = 0; i < COUNT_OF(of->lines); ++i)
        if (of->lines[i][0]) lines[count++] = of->lines[i];
    draw_block(l, (dt_box){column_x(l, column), 60, l->column_w - 6, HEAD_H - 66}, DT_TYPE, lines,
               count, 1);
}

/** Where the shoes of the first program stood that have moved: dashed across the rock. */
static void draw_former_shoes(layout *l, const side *of, double left, double right)
{
    const dt_changes *c = of->changes;
    for (size_t i = 0; c && i < c->count; ++i) {
        const dt_change_view *change = &c->items[i];
        if (change->what != DT_CHANGE_SHOE && change->what != DT_CHANGE_REMOVED) continue;
        const double y = dt_depth_y(&l->depth, c->was->items[change->was].shoe_tvd_m);
        dt_svg_line(l->svg, left, y, right, y,
                    (dt_ink){.stroke = DT_TEXT_RUST, .width = 1.2, .dash = "5 3"});
    }
}

static void draw_column(layout *l, size_t column)
{
    const dt_program *p = l->sides[column].program;
    dt_sketch sketch = {.program = p,
                        .display = l->display,
                        .svg = l->svg,
                        .depth = l->depth,
                        .left = column_x(l, column),
                        .right = column_x(l, column) + l->rock_w,
                        .units_per_m = l->units_per_m};
    draw_head(l, column);
    dt_draw_rock(&sketch);
    dt_draw_levels(&sketch);
    dt_draw_holes(&sketch);
    dt_draw_cement(&sketch);
    dt_draw_pipes(&sketch);
    draw_former_shoes(l, &l->sides[column], sketch.left, sketch.right);
    draw_names(l, &l->sides[column], sketch.right);
}

static void draw_texts(layout *l, const char *title, const char *note)
{
    const char *const heads[] = {title}, *const notes[] = {note}, *const foot[] = {caution};
    double width = l->width - 2 * MARGIN;
    draw_block(l, (dt_box){MARGIN, 8, width, 20}, 15, heads, 1, 1);
    draw_block(l, (dt_box){MARGIN, 28, width, 20}, DT_TYPE, notes, 1, 0);
    draw_block(l, (dt_box){MARGIN, PAGE_H - FOOT_H + 12, width, 30}, DT_TYPE, foot, 1, 1);
}

/** Draws the sides; full: the document's title, title: the one on it. */
static dt_status draw_sides(layout *l, const char *full, const char *title, const char *words,
                            const char *note, dt_text *out)
{
    dt_svg svg;
    l->column_w = fmin((PAGE_W - 2 * MARGIN - AXIS_W) / (double)l->columns, WIDEST);
    l->rock_w = fmin(l->column_w - LABELS_LEAST - 16, 0.4 * l->column_w);
    l->width = PAGE_W;
    set_scales(l);
    const dt_svg_page page = {l->width, PAGE_H, "compare", full, words};
    dt_svg_begin(&svg, &page);
    l->svg = &svg;
    draw_axis(l);
    for (size_t i = 0; i < l->columns; ++i)
        draw_column(l, i);
    draw_texts(l, title, note);
    l->svg = NULL;
    return dt_svg_end(&svg, out);
}

/* ---- options ---- */

static void fill_option(side *of, const dt_comparison *c, size_t index)
{
    const dt_compared *one = &c->items[index];
    const bool is_plan = index == 0 && !one->plan;
    const char *currency = c->well->prices.currency;
    of->program = one->program;
    snprintf(of->lines[0], sizeof of->lines[0], "%s%s", is_plan ? "Plan" : one->label,
             index == 0 ? ", the chosen one" : "");
    dt_option_sizes(&one->option, of->lines[1], sizeof of->lines[1]);
    snprintf(of->lines[2], sizeof of->lines[2], "%.1f t steel, %.1f days, %u spare",
             one->option.steel_kg / 1000, one->option.days, one->option.spares);
    if (c->well->prices_given)
        snprintf(of->lines[3], sizeof of->lines[3], "%.3f million %s", one->option.cost / 1e6,
                 currency ? currency : "");
}

dt_status dt_draw_comparison(const dt_comparison *comparison, dt_display display, dt_text *out)
{
    const dt_comparison *c = comparison;
    layout l = {.display = display};
    l.columns = c->count < MOST_COLUMNS ? c->count : MOST_COLUMNS;
    for (size_t i = 0; i < l.columns; ++i)
        fill_option(&l.sides[i], c, i);
    char note[256];
    snprintf(note, sizeof note,
             "Casing programs on one depth scale and one scale of diameters. %zu of %zu kinds of "
             "options are drawn, each by its %s; %zu options in all.",
             l.columns - (c->planned ? 1 : 0), c->options.structure_count,
             c->well->prices_given ? "cheapest" : "lightest", c->options.count);
    dt_buffer title = {0};
    dt_buffer_text(&title, "Casing programs compared for ");
    dt_buffer_text(&title, c->well->name);
    dt_status status = DT_E_MEMORY;
    if (!title.failed)
        status = draw_sides(&l, title.bytes, c->well->name,
                            "Schematics of the chosen program and of the options beside it, on one "
                            "depth scale.",
                            note, out);
    dt_buffer_free(&title);
    return status;
}

/* ---- two programs ---- */

static void fill_program(side *of, const dt_program *program, const char *which)
{
    const dt_well *well = program->well;
    const char *revision = well->document.revision, *currency = well->prices.currency;
    of->program = program;
    snprintf(of->lines[0], sizeof of->lines[0], "%s: %s%s%s", which, well->name,
             revision ? ", revision " : "", revision ? revision : "");
    snprintf(of->lines[1], sizeof of->lines[1], "%zu strings, %.1f t steel, %.1f days",
             dt_program_strings(program), program->steel_kg / 1000, program->bill.days);
    if (well->prices_given)
        snprintf(of->lines[2], sizeof of->lines[2], "%.3f million %s", program->bill.total / 1e6,
                 currency ? currency : "");
    if (!dt_program_runnable(program)) snprintf(of->lines[3], sizeof of->lines[3], "NOT RUNNABLE");
}

dt_status dt_draw_changes_beside(const dt_changes *const *changes, const char *const *names,
                                 size_t count, dt_display display, dt_text *out)
{
    if (count == 0 || count >= MOST_COLUMNS) return DT_E_DOMAIN;
    layout l = {.display = display, .columns = count + 1};
    fill_program(&l.sides[0], changes[0]->was, names[0]);
    for (size_t i = 0; i < count; ++i) {
        if (changes[i]->was != changes[0]->was) return DT_E_DOMAIN;
        fill_program(&l.sides[i + 1], changes[i]->is, names[i + 1]);
        l.sides[i + 1].changes = changes[i];
    }
    return draw_sides(&l, "Casing programs compared", "Casing programs compared",
                      "Schematics of programs beside each other, on one depth scale, with what "
                      "differs from the first marked.",
                      "On one depth scale and one scale of diameters. What differs from the first "
                      "is marked; a dashed line is where a shoe of the first stood.",
                      out);
}

dt_status dt_draw_changes(const dt_changes *changes, dt_display display, dt_text *out)
{
    const char *const names[] = {"First", "Second"};
    return dt_draw_changes_beside(&changes, names, 1, display, out);
}
