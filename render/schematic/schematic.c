/* SPDX-License-Identifier: MIT */
#include "schematic.h"

#include <math.h>
#include <string.h>

#include "depth_labels.h"
#include "same.h"

#define DT_ABOVE_FLOOR  30.0  /* between the title and the rig floor: heads of the depth scales */
#define DT_LEGEND_FROM  600.0 /* a lower column has no room for a legend */
#define DT_RADIUS_SHARE 0.315 /* of the widest hole, of the width of the rock */

const dt_layout dt_layout_page = {.page_w = DT_PAGE_W,
                                  .page_h = 1018,
                                  .margin = DT_MARGIN,
                                  .panel_left = DT_PANEL_LEFT,
                                  .panel_right = DT_PANEL_RIGHT,
                                  .strip_w = DT_STRIP_W,
                                  .both_scales = true,
                                  .left_w = DT_LEFT_W,
                                  .right_x = DT_PAGE_W - DT_MARGIN - DT_RIGHT_W,
                                  .right_w = DT_RIGHT_W,
                                  .title_size = 17,
                                  .title_lines = 1,
                                  .foot_text_h = 62,
                                  .levels = true};

/** 90 mm wide: beside the text of a document, or on a telephone. */
static const dt_layout layout_column = {.page_w = 360,
                                        .page_h = 760,
                                        .margin = 8,
                                        .panel_left = 58,
                                        .panel_right = 172,
                                        .strip_w = 44,
                                        .left_w = 0,
                                        .right_x = 192,
                                        .right_w = 162,
                                        .title_size = 14,
                                        .title_lines = 2,
                                        .foot_text_h = 104,
                                        .levels = true};

/** 50 mm wide: the well at one look, for lists and slides. */
static const dt_layout layout_thumbnail = {.page_w = 200,
                                           .page_h = 280,
                                           .margin = 6,
                                           .panel_left = 8,
                                           .panel_right = 104,
                                           .right_x = 114,
                                           .right_w = 84};

static const dt_layout *const layouts[DT_FORM_COUNT] = {[DT_FORM_PAGE] = &dt_layout_page,
                                                        [DT_FORM_COLUMN] = &layout_column,
                                                        [DT_FORM_THUMBNAIL] = &layout_thumbnail};

static const char *const form_names[DT_FORM_COUNT] = {
    [DT_FORM_PAGE] = "page", [DT_FORM_COLUMN] = "column", [DT_FORM_THUMBNAIL] = "thumbnail"};

const char *dt_form_text(dt_form form)
{
    return form_names[form];
}

static const char caution[] = "Preliminary planning aid. Verify pressures and regulations locally; "
                              "a licensed engineer reviews.";

/* ---- labels on the right: one block a string ---- */

static void say_sections(dt_sketch *sketch, dt_labels *labels, dt_label *label, size_t index,
                         dt_buffer *text)
{
    const dt_string *string = sketch->program->items[index].string;
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        dt_say_quantity(text, sketch->display, DT_KIND_LINEAR_MASS, section->pipe->weight_kgm);
        dt_buffer_text(text, " ");
        dt_buffer_text(text, section->pipe->grade->name);
        dt_buffer_text(text, " ");
        dt_buffer_text(text, dt_pipe_thread_text(section->pipe, section->thread));
        if (string->section_count > 1) {
            dt_buffer_text(text, ", ");
            dt_say_range(text, sketch->display, section->top_md_m, section->base_md_m);
            if (dt_is_deviated(sketch->program)) dt_buffer_text(text, " MD");
        }
        dt_label_say(sketch, labels, label, false, 2, text);
    }
}

static void say_hole_and_mud(dt_sketch *sketch, size_t index, dt_buffer *text)
{
    dt_say_hole(text, sketch->program, sketch->display, index);
    double mud_kgm3 = sketch->program->items[index].seat->mud_kgm3;
    if (isnan(mud_kgm3)) return;
    dt_buffer_text(text, ", mud ");
    dt_say_quantity(text, sketch->display, DT_KIND_DENSITY, mud_kgm3);
}

static void say_cement(dt_sketch *sketch, size_t index, bool rule, dt_buffer *text)
{
    const dt_program_string *item = &sketch->program->items[index];
    if (isnan(item->cement_top_tvd_m)) {
        dt_buffer_text(text, "not cemented");
        return;
    }
    if (item->cement_top_tvd_m < dt_well_ground_m(sketch->program->well) + SAME_DEPTH_M) {
        dt_buffer_text(text,
                       sketch->program->well->over_sea ? "cement to mudline" : "cement to surface");
        return;
    }
    dt_buffer_text(text, "cement top ");
    dt_say_md_tvd(text, sketch->program, sketch->display, item->cement_top_md_m,
                  item->cement_top_tvd_m);
    if (!rule) return;
    dt_buffer_text(text, ": ");
    dt_buffer_text(text, dt_cement_rule_words(item->cement_rule));
}

static void say_hanger(dt_sketch *sketch, size_t index, dt_buffer *text)
{
    const dt_program_string *item = &sketch->program->items[index];
    dt_buffer_text(text, "hanger ");
    dt_say_md_tvd(text, sketch->program, sketch->display, item->top_md_m, item->top_tvd_m);
    if (index == 0) return;
    dt_buffer_text(text, ", lap ");
    dt_say_depth(text, sketch->display,
                 sketch->program->items[index - 1].shoe_md_m - item->top_md_m);
}

/** What the shoe must take for the hole below it, and what the pipe is tested to. */
static void say_tests(dt_sketch *sketch, dt_labels *labels, dt_label *label, size_t index,
                      dt_buffer *text)
{
    const dt_program *program = sketch->program;
    const dt_program_string *item = &program->items[index];
    const double least_kgm3 = index > 0 && index + 1 < program->count
                                  ? dt_program_while_drilling(program, index + 1).leak_off_kgm3
                                  : NAN;
    if (isfinite(least_kgm3)) {
        dt_buffer_text(text, "leak-off at least ");
        dt_say_quantity(text, sketch->display, DT_KIND_DENSITY, least_kgm3);
        dt_label_say(sketch, labels, label, false, 2, text);
    }
    if (item->job && item->job->cement.cemented && isfinite(item->job->cement.test_pa) &&
        index > 0) {
        dt_buffer_text(text, "casing test ");
        dt_say_quantity(text, sketch->display, DT_KIND_PRESSURE, item->job->cement.test_pa);
        dt_label_say(sketch, labels, label, false, 2, text);
    }
}

/** A tie-back has no hole, no shoe and no cement. */
static void label_tieback(dt_sketch *sketch, dt_labels *labels, size_t index, int detail)
{
    const dt_program_string *item = &sketch->program->items[index];
    dt_label *label =
        dt_labels_add(labels, dt_depth_y(&sketch->depth, item->shoe_tvd_m), DT_TEXT, DT_LINE_QUIET);
    dt_buffer text = {0};
    dt_say_string(&text, sketch->program, index);
    if (detail == 0) {
        dt_buffer_text(&text, " to ");
        dt_say_depth(&text, sketch->display, item->shoe_tvd_m);
    }
    dt_label_say(sketch, labels, label, true, detail == 3 ? 2 : 1, &text);
    if (detail >= 2) say_sections(sketch, labels, label, index, &text);
    if (detail >= 1) {
        dt_buffer_text(&text, "wellhead to liner top ");
        dt_say_md_tvd(&text, sketch->program, sketch->display, item->shoe_md_m, item->shoe_tvd_m);
        dt_label_say(sketch, labels, label, false, detail == 1 ? 1 : 2, &text);
    }
    if (detail >= 2) {
        dt_buffer_text(&text, "not cemented, mud ");
        dt_say_quantity(&text, sketch->display, DT_KIND_DENSITY, item->seat->mud_kgm3);
        dt_label_say(sketch, labels, label, false, 2, &text);
    }
    dt_need(sketch, &text);
    dt_buffer_free(&text);
}

static void label_string(dt_sketch *sketch, dt_labels *labels, size_t index, int detail)
{
    const dt_program_string *item = &sketch->program->items[index];
    if (item->seat->type == DT_TIEBACK) {
        label_tieback(sketch, labels, index, detail);
        return;
    }
    dt_label *label =
        dt_labels_add(labels, dt_depth_y(&sketch->depth, item->shoe_tvd_m), DT_TEXT, DT_LINE_QUIET);
    dt_buffer text = {0};
    dt_say_string(&text, sketch->program, index);
    if (detail == 0) {
        dt_buffer_text(&text, ", shoe ");
        dt_say_depth(&text, sketch->display, item->shoe_tvd_m);
    }
    dt_label_say(sketch, labels, label, true, detail == 3 ? 2 : 1, &text);
    if (detail >= 2) say_sections(sketch, labels, label, index, &text);
    if (detail >= 1) {
        dt_buffer_text(&text, "shoe ");
        dt_say_md_tvd(&text, sketch->program, sketch->display, item->shoe_md_m, item->shoe_tvd_m);
        dt_label_say(sketch, labels, label, false, detail == 1 ? 1 : 2, &text);
    }
    if (detail >= 2) {
        say_hole_and_mud(sketch, index, &text);
        dt_label_say(sketch, labels, label, false, 2, &text);
        if (item->seat->type == DT_LINER) say_hanger(sketch, index, &text);
        dt_label_say(sketch, labels, label, false, 2, &text);
        say_cement(sketch, index, detail == 3, &text);
        dt_label_say(sketch, labels, label, false, 4, &text);
        if (detail == 3) say_tests(sketch, labels, label, index, &text);
    }
    dt_need(sketch, &text);
    dt_buffer_free(&text);
}

/** Size and, with detail, shoe: all that a small drawing has room for. */
static void label_briefly(dt_sketch *sketch, dt_labels *labels, size_t index, int detail)
{
    const dt_program_string *item = &sketch->program->items[index];
    dt_label *label =
        dt_labels_add(labels, dt_depth_y(&sketch->depth, item->shoe_tvd_m), DT_TEXT, DT_LINE_QUIET);
    dt_buffer text = {0};
    char inches[48];
    dt_inch_text(item->od_m, inches, sizeof inches);
    dt_buffer_text(&text, inches);
    dt_buffer_text(&text, " in");
    if (item->seat->type == DT_LINER)
        dt_buffer_text(&text, item->string->load.slotted ? " slotted liner" : " liner");
    if (item->seat->type == DT_TIEBACK) dt_buffer_text(&text, " tie-back");
    dt_label_say(sketch, labels, label, true, 1, &text);
    if (detail > 0) dt_say_depth(&text, sketch->display, item->shoe_tvd_m);
    dt_label_say(sketch, labels, label, false, 1, &text);
    dt_buffer_free(&text);
}

/** A last hole that stays open, at its bottom. */
static void label_open_end(dt_sketch *sketch, dt_labels *labels, int detail)
{
    const dt_open_end *open = &sketch->program->seats.open;
    if (!open->given) return;
    dt_label *label =
        dt_labels_add(labels, dt_depth_y(&sketch->depth, open->base_m), DT_TEXT, DT_LINE_QUIET);
    dt_buffer text = {0};
    char inches[48];
    dt_inch_text(open->hole_m, inches, sizeof inches);
    dt_buffer_text(&text, inches);
    dt_buffer_text(&text, " in hole, open");
    dt_label_say(sketch, labels, label, true, 1, &text);
    if (detail >= 1) {
        dt_buffer_text(&text, "to ");
        dt_say_depth(&text, sketch->display, open->base_m);
        dt_buffer_text(&text, ", mud ");
        dt_say_quantity(&text, sketch->display, DT_KIND_DENSITY, open->mud_kgm3);
    }
    dt_label_say(sketch, labels, label, false, 1, &text);
    dt_buffer_free(&text);
}

/** The wellhead: its working pressure, and which strings hang in it. */
static void label_wellhead(dt_sketch *sketch, dt_labels *labels, int detail)
{
    const dt_program *program = sketch->program;
    double class_psi = 0;
    for (size_t i = 0; i < program->wellhead.count; ++i)
        class_psi = fmax(class_psi, program->wellhead.stages[i].class_psi); /* NAN counts not */
    dt_label *label = dt_labels_add(
        labels, dt_depth_y(&sketch->depth, dt_wellhead_tvd(program->well)), DT_TEXT, DT_LINE);
    dt_buffer text = {0};
    dt_buffer_text(&text, "wellhead");
    if (class_psi > 0) {
        dt_buffer_text(&text, ", ");
        dt_buffer_number(&text, class_psi, 0);
        dt_buffer_text(&text, " psi");
    }
    dt_label_say(sketch, labels, label, true, 1, &text);
    size_t hung = 0;
    for (size_t n = 1; n < dt_program_strings(program) && detail >= 2; ++n) {
        const dt_program_string *item = &program->items[dt_program_at(program, n)];
        char inches[48];
        if (item->seat->type == DT_LINER) continue;
        dt_inch_text(item->od_m, inches, sizeof inches);
        dt_buffer_text(&text, hung++ == 0 ? "hangers " : ", ");
        dt_buffer_text(&text, inches);
    }
    if (hung > 0) dt_buffer_text(&text, " in");
    dt_label_say(sketch, labels, label, false, 2, &text);
    dt_buffer_free(&text);
}

/** Leak-off tests that the well file states, at their shoes. */
static void label_leak_offs(dt_sketch *sketch, dt_labels *labels)
{
    const dt_fracture_source *from = &sketch->program->well->fracture_from;
    for (size_t i = 0; i < from->test_count; ++i) {
        const dt_leak_off *test = &from->tests[i];
        if (test->shoe_m >= sketch->depth.bottom_m) continue;
        dt_label *label =
            dt_labels_add(labels, dt_depth_y(&sketch->depth, test->shoe_m), DT_TEXT_RUST, DT_RUST);
        dt_buffer text = {0};
        dt_buffer_text(&text, "leak-off test ");
        dt_say_quantity(&text, sketch->display, DT_KIND_DENSITY, test->emw_kgm3);
        dt_buffer_text(&text, " at ");
        dt_say_depth(&text, sketch->display, test->shoe_m);
        dt_label_say(sketch, labels, label, true, 2, &text);
        dt_buffer_free(&text);
    }
}

static void label_left(dt_sketch *sketch, dt_labels *labels, int detail)
{
    dt_label_levels(sketch, labels, detail);
    label_wellhead(sketch, labels, detail);
    label_leak_offs(sketch, labels);
}

static void label_right(dt_sketch *sketch, dt_labels *labels, int detail)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    for (size_t n = 0; n < dt_program_strings(sketch->program); ++n) {
        const size_t i = dt_program_at(sketch->program, n);
        if (layout->levels)
            label_string(sketch, labels, i, detail);
        else
            label_briefly(sketch, labels, i, detail);
    }
    label_open_end(sketch, labels, detail);
    if (layout->levels && !(layout->left_w > 0)) label_left(sketch, labels, detail);
}

/* ---- leader lines ---- */

/** From the thing, level through the rock and the scale, then aslant to its label. */
static void draw_leaders(const dt_sketch *sketch, const dt_labels *labels, bool right)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    double strip = right && !layout->both_scales ? 0 : layout->strip_w;
    for (size_t i = 0; i < labels->count; ++i) {
        const dt_label *label = &labels->items[i];
        double y = label->top + labels->size * DT_LINE_HEIGHT / 2 + 1.5;
        double rock = right ? layout->panel_right : layout->panel_left;
        double bend = right ? rock + 4 + strip : rock - 4 - strip;
        double end = right ? layout->right_x : layout->margin + layout->left_w;
        dt_path path = {0};
        dt_path_move(&path, rock, label->target_y);
        dt_path_line(&path, bend, label->target_y);
        dt_path_line(&path, end, y);
        dt_svg_path(sketch->svg, &path, (dt_ink){.stroke = label->mark, .width = 0.7});
    }
}

/** The part of a shoe's leader that lies on the rock. */
static void draw_shoe_lines(const dt_sketch *sketch)
{
    dt_path path = {0};
    for (size_t i = 0; i < dt_program_strings(sketch->program); ++i) {
        const dt_program_string *item = &sketch->program->items[i];
        double y = dt_depth_y(&sketch->depth, item->shoe_tvd_m);
        dt_path_move(&path, dt_panel_middle(sketch) + item->od_m / 2 * sketch->units_per_m + 5, y);
        dt_path_line(&path, dt_sketch_layout(sketch)->panel_right, y);
    }
    dt_svg_path(sketch->svg, &path, (dt_ink){.stroke = DT_LINE, .width = 0.5});
}

/* ---- title, legend, scale ---- */

/** One block of text across the page, its top at y; draws only when told to. Returns its height. */
static double set_block(dt_sketch *sketch, double y, double size, bool bold, size_t most,
                        const char *text, bool draw)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    dt_labels block = {.width = layout->page_w - 2 * layout->margin, .size = size};
    dt_label *label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    dt_label_write(&block, label, bold, most, text);
    if (label) label->top = y;
    double height = label ? dt_label_height(&block, label) : 0;
    if (draw) dt_labels_draw(sketch->svg, &block, layout->margin, DT_START);
    if (block.failed) sketch->svg->status = DT_E_MEMORY;
    dt_labels_free(&block);
    return height;
}

/** Sets the title from the top of the page down; draws only when told to. Returns where it ends. */
static double set_title(dt_sketch *sketch, bool draw)
{
    const dt_well *well = sketch->program->well;
    const dt_layout *layout = dt_sketch_layout(sketch);
    double y =
        8 + 2 +
        set_block(sketch, 8, layout->title_size, true, layout->title_lines, well->name, draw);
    dt_buffer text = {0};
    dt_say_document(&text, well);
    if (text.size > 0) dt_buffer_text(&text, ". ");
    dt_say_not_runnable(&text, sketch->program);
    dt_buffer_text(&text, "Casing schematic. Depths below the rig floor, which stands ");
    dt_say_depth(&text, sketch->display, well->rig_floor_m);
    dt_buffer_text(&text, well->over_sea ? " above the sea; water depth " : " above the ground");
    if (well->over_sea) dt_say_depth(&text, sketch->display, well->water_depth_m);
    dt_buffer_text(&text, ". ");
    dt_buffer_text(&text, dt_is_deviated(sketch->program)
                              ? "Deviated well, drawn upright at true vertical depth; labels "
                                "give MD and TVD."
                              : "Vertical well.");
    dt_need(sketch, &text);
    if (!text.failed)
        y += set_block(sketch, y, DT_TYPE, false, 2 * layout->title_lines, text.bytes, draw);
    dt_buffer_free(&text);
    return y;
}

typedef enum swatch {
    SWATCH_HATCH,
    SWATCH_PIPE,
    SWATCH_HANGER,
    SWATCH_HOLE,
    SWATCH_LEAK_OFF,
    SWATCH_FRESH_WATER,
    SWATCH_OBJECTIVE,
    SWATCH_SCALE
} swatch;

typedef struct legend_entry {
    swatch kind;
    const dt_hatch *hatch;
    const char *words;
    double width; /* of the swatch */
} legend_entry;
#define DT_SWATCH_W    26.0
#define DT_LEGEND_MOST 24

static void legend_add(legend_entry *entries, size_t *count, swatch kind, const dt_hatch *hatch,
                       const char *words)
{
    for (size_t i = 0; i < *count; ++i)
        if (hatch && entries[i].hatch == hatch) return;
    if (*count < DT_LEGEND_MOST)
        entries[(*count)++] = (legend_entry){kind, hatch, words, DT_SWATCH_W};
}

static size_t legend_list(const dt_sketch *sketch, legend_entry *entries)
{
    const dt_program *program = sketch->program;
    size_t count = 0;
    bool liner = false, cement = false;
    for (size_t i = 0; i < program->count; ++i) {
        liner |= program->items[i].seat->type == DT_LINER;
        cement |= !isnan(program->items[i].cement_top_tvd_m);
    }
    legend_add(entries, &count, SWATCH_PIPE, NULL, "pipe and shoe");
    if (liner || program->count > 1) legend_add(entries, &count, SWATCH_HANGER, NULL, "hanger");
    legend_add(entries, &count, SWATCH_HOLE, NULL, "hole");
    if (cement)
        legend_add(entries, &count, SWATCH_HATCH, &dt_hatch_cement[0],
                   "cement (strokes alternate by string)");
    if (isfinite(program->well->fresh_water_m))
        legend_add(entries, &count, SWATCH_FRESH_WATER, NULL, "deepest fresh water");
    legend_add(entries, &count, SWATCH_OBJECTIVE, NULL, "objective");
    if (program->well->fracture_from.test_count > 0)
        legend_add(entries, &count, SWATCH_LEAK_OFF, NULL, "leak-off test");
    if (program->well->over_sea)
        legend_add(entries, &count, SWATCH_HATCH, &dt_hatch_water, "sea water");
    for (size_t i = 0; i < program->well->interval_count; ++i) {
        const dt_hatch *hatch = dt_hatch_of_kind(program->well->intervals[i].kind);
        legend_add(entries, &count, SWATCH_HATCH, hatch, hatch->words);
    }
    if (program->well->pay_count)
        legend_add(entries, &count, SWATCH_HATCH, &dt_hatch_pay, dt_hatch_pay.words);
    return count;
}

static void draw_swatch(dt_svg *svg, const legend_entry *entry, dt_box box)
{
    dt_path path = {0};
    double middle = box.y + box.h / 2, bottom = box.y + box.h;
    switch (entry->kind) {
    case SWATCH_HATCH:
        dt_path_box(&path, box);
        dt_svg_hatch(svg, &path, entry->hatch);
        dt_svg_rect(svg, box, (dt_ink){.stroke = entry->hatch->ink, .width = 0.6});
        break;
    case SWATCH_PIPE:
        dt_svg_rect(svg, (dt_box){box.x + 8, box.y, 2.4, box.h}, (dt_ink){.fill = DT_STEEL});
        dt_path_shoe(&path, box.x + 10.4, bottom, 1);
        dt_svg_path(svg, &path, (dt_ink){.fill = DT_STEEL});
        break;
    case SWATCH_HANGER:
        dt_svg_rect(svg, (dt_box){box.x + 8, box.y + 1, 2.4, box.h - 1},
                    (dt_ink){.fill = DT_STEEL});
        dt_path_hanger(&path, box.x + 10.4, box.y + 1, 1, 4);
        dt_svg_path(svg, &path, (dt_ink){.fill = DT_STEEL});
        break;
    case SWATCH_LEAK_OFF:
        dt_path_leak_off(&path, box.x + 16, middle, 1);
        dt_svg_path(svg, &path, (dt_ink){.fill = DT_RUST});
        break;
    case SWATCH_HOLE:
        dt_svg_rect(svg, box, (dt_ink){.fill = DT_HOLE, .stroke = "#7a6a55", .width = 0.7});
        break;
    case SWATCH_FRESH_WATER:
        dt_svg_line(svg, box.x, middle + 3, box.x + box.w, middle + 3,
                    (dt_ink){.stroke = DT_BLUE, .width = 1.2, .dash = "7 3"});
        dt_path_level(&path, box.x + box.w / 2, middle + 3);
        dt_svg_path(svg, &path, (dt_ink){.fill = DT_PAPER, .stroke = DT_BLUE, .width = 0.9});
        break;
    case SWATCH_SCALE:
        dt_path_move(&path, box.x, middle - 3);
        dt_path_line(&path, box.x, middle + 3);
        dt_path_move(&path, box.x, middle);
        dt_path_line(&path, box.x + box.w, middle);
        dt_path_move(&path, box.x + box.w, middle - 3);
        dt_path_line(&path, box.x + box.w, middle + 3);
        dt_svg_path(svg, &path, (dt_ink){.stroke = DT_LINE, .width = 1});
        break;
    case SWATCH_OBJECTIVE:
        dt_svg_line(svg, box.x, middle, box.x + box.w, middle,
                    (dt_ink){.stroke = DT_LINE, .width = 1, .dash = "10 3 2 3"});
        break;
    }
}

#define DT_LEGEND_ROW 16.0
#define DT_SCALE_MOST 56.0 /* longest scale bar, drawing units */

/** A round length across, drawn to scale: "10 in across", or "200 mm across". */
static legend_entry scale_bar(const dt_sketch *sketch, dt_buffer *words)
{
    bool metric = sketch->display == DT_DISPLAY_METRIC;
    double unit_m = metric ? 0.001 : DT_M_PER_IN;
    double most = DT_SCALE_MOST / sketch->units_per_m / unit_m, length = dt_round_step(most);
    if (length > most) length = dt_round_step(most / 2.5);
    dt_buffer_number(words, length, 2);
    dt_buffer_text(words, metric ? " mm across" : " in across");
    return (legend_entry){SWATCH_SCALE, NULL, words->failed ? "" : words->bytes,
                          length * unit_m * sketch->units_per_m};
}

static void draw_legend_entry(const dt_sketch *sketch, const legend_entry *entry, double x,
                              double y)
{
    double text = dt_text_width(entry->words, DT_TYPE, false);
    draw_swatch(sketch->svg, entry, (dt_box){x, y + 1, entry->width, 12});
    dt_svg_label_open(sketch->svg, (dt_box){x + entry->width + 3, y + 0.5, text + 2, 13});
    dt_svg_text(sketch->svg, x + entry->width + 4, y + 7,
                (dt_type){DT_TYPE, false, DT_TEXT, DT_START}, entry->words);
    dt_svg_close(sketch->svg);
}

/** Sets the legend in rows from y down; draws only when told to. Returns the height. */
static double set_legend(dt_sketch *sketch, double y, bool draw)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    legend_entry entries[DT_LEGEND_MOST + 1];
    dt_buffer bar = {0};
    size_t count = legend_list(sketch, entries);
    entries[count++] = scale_bar(sketch, &bar);
    double x = layout->margin, row = 0;
    for (size_t i = 0; i < count; ++i) {
        double text = dt_text_width(entries[i].words, DT_TYPE, false);
        double width = entries[i].width + 4 + text + 16;
        if (x > layout->margin && x + width - 16 > layout->page_w - layout->margin) {
            x = layout->margin;
            row += DT_LEGEND_ROW;
        }
        if (draw) draw_legend_entry(sketch, &entries[i], x, y + row);
        x += width;
    }
    dt_need(sketch, &bar);
    dt_buffer_free(&bar);
    return row + DT_LEGEND_ROW;
}

static void say_depth_scale(const dt_sketch *sketch, dt_buffer *text)
{
    const dt_depth_scale *depth = &sketch->depth;
    const char *unit = dt_display_unit(sketch->display, DT_KIND_LENGTH);
    for (int part = depth->broken ? 0 : 1; part < 2; ++part) {
        double per_mm =
            dt_display_value(sketch->display, DT_KIND_LENGTH, dt_depth_per_mm(depth, part == 0));
        dt_buffer_text(text, part == 1 && depth->broken ? " above " : "");
        if (part == 1 && depth->broken) {
            dt_say_depth(text, sketch->display, depth->break_m);
            dt_buffer_text(text, ", 1 mm is ");
        } else {
            dt_buffer_text(text, "Depth to scale: 1 mm is ");
        }
        dt_buffer_number(text, per_mm, per_mm < 10 ? 2 : 1);
        dt_buffer_text(text, " ");
        dt_buffer_text(text, unit);
    }
    dt_buffer_text(text, depth->broken ? " below. " : ". ");
}

static void say_width_scale(const dt_sketch *sketch, dt_buffer *text)
{
    double across_m = DT_UNITS_PER_MM / sketch->units_per_m; /* of diameter, in one mm */
    bool metric = sketch->display == DT_DISPLAY_METRIC;
    dt_buffer_text(text, "Diameters all to one scale: 1 mm is ");
    dt_buffer_number(text, metric ? across_m * 1000 : across_m / DT_M_PER_IN, 2);
    dt_buffer_text(text, metric ? " mm, " : " in, ");
    dt_buffer_text(text, "drawn ");
    dt_buffer_number(text, dt_depth_per_mm(&sketch->depth, false) / across_m, 0);
    dt_buffer_text(text, " times wider than depth");
    dt_buffer_text(text, sketch->depth.broken ? " below the break" : "");
    dt_buffer_text(text, ". Scales hold at a page width of ");
    dt_buffer_number(text, dt_sketch_layout(sketch)->page_w / DT_UNITS_PER_MM, 0);
    dt_buffer_text(text, " mm.");
}

static void draw_footer(dt_sketch *sketch, double y)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    size_t lines = layout->left_w > 0 ? 3 : 5;
    dt_svg_line(sketch->svg, layout->margin, y, layout->page_w - layout->margin, y,
                (dt_ink){.stroke = DT_LINE_QUIET, .width = 0.7});
    y += 6;
    y += set_legend(sketch, y, true);
    dt_buffer text = {0};
    say_depth_scale(sketch, &text);
    say_width_scale(sketch, &text);
    dt_need(sketch, &text);
    dt_labels block = {.width = layout->page_w - 2 * layout->margin, .size = DT_TYPE};
    dt_label *label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    if (!text.failed) dt_label_write(&block, label, false, lines, text.bytes);
    dt_label_write(&block, label, true, 2, caution);
    if (label) label->top = y;
    dt_labels_draw(sketch->svg, &block, layout->margin, DT_START);
    if (block.failed) sketch->svg->status = DT_E_MEMORY;
    dt_labels_free(&block);
    dt_buffer_free(&text);
}

/* ---- the page ---- */

static void say_description(const dt_program *program, dt_display display, dt_buffer *text)
{
    dt_buffer_text(text, "Depth to scale. Strings from the surface down: ");
    for (size_t n = 0; n < dt_program_strings(program); ++n) {
        const size_t i = dt_program_at(program, n);
        if (n) dt_buffer_text(text, "; ");
        dt_say_string(text, program, i);
        dt_buffer_text(text, i < program->count ? " with its shoe at " : " down to its liner at ");
        dt_say_md_tvd(text, program, display, program->items[i].shoe_md_m,
                      program->items[i].shoe_tvd_m);
    }
    dt_buffer_text(text, ". ");
    dt_buffer_text(text, caution);
}

static double across_scale(const dt_program *program, const dt_layout *layout)
{
    double radius = DT_RADIUS_SHARE * (layout->panel_right - layout->panel_left);
    double widest = 0.05;
    for (size_t i = 0; i < program->count; ++i) {
        if (isfinite(program->items[i].hole_m)) widest = fmax(widest, program->items[i].hole_m);
        widest = fmax(widest, program->items[i].od_m);
    }
    return radius / (widest / 2);
}

static void draw_page(dt_sketch *sketch)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    bool titled = layout->title_size > 0;
    bool footed = layout->foot_text_h > 0;
    double foot = footed ? layout->foot_text_h + set_legend(sketch, 0, false) : 0;
    double footer = layout->page_h - layout->margin - foot;
    double head = titled ? set_title(sketch, false) : 0;
    sketch->depth = dt_depth_scale_broken(sketch->program, head + DT_ABOVE_FLOOR, footer - 12,
                                          sketch->display == DT_DISPLAY_FIELD ? DT_M_PER_FT : 1);
    dt_labels left = {.width = layout->left_w}, right = {.width = layout->right_w};
    double low = head + layout->margin / 2, high = footer - 6;
    if (layout->left_w > 0) dt_labels_fit(sketch, &left, low, high, label_left);
    dt_labels_fit(sketch, &right, low, high, label_right);
    if (titled) set_title(sketch, true);
    dt_draw_rock(sketch);
    dt_draw_levels(sketch);
    draw_shoe_lines(sketch);
    dt_draw_holes(sketch);
    dt_draw_cement(sketch);
    dt_draw_pipes(sketch);
    dt_draw_break(sketch);
    draw_leaders(sketch, &left, false);
    draw_leaders(sketch, &right, true);
    dt_draw_depth_axes(sketch);
    dt_labels_draw(sketch->svg, &left, layout->margin, DT_END);
    dt_labels_draw(sketch->svg, &right, layout->right_x, DT_START);
    if (footed) draw_footer(sketch, footer);
    dt_labels_free(&left);
    dt_labels_free(&right);
}

static dt_status draw_laid_out(const dt_program *program, const dt_layout *layout,
                               dt_display display, dt_text *out)
{
    dt_buffer title = {0}, description = {0};
    dt_buffer_text(&title, "Casing schematic of ");
    dt_buffer_text(&title, program->well->name);
    say_description(program, display, &description);
    dt_status status = DT_E_MEMORY;
    if (!title.failed && !description.failed) {
        dt_svg svg;
        const dt_svg_page page = {layout->page_w, layout->page_h, "schematic", title.bytes,
                                  description.bytes};
        dt_svg_begin(&svg, &page);
        dt_sketch sketch = {.program = program,
                            .display = display,
                            .svg = &svg,
                            .units_per_m = across_scale(program, layout),
                            .layout = layout};
        draw_page(&sketch);
        status = dt_svg_end(&svg, out);
    }
    dt_buffer_free(&title);
    dt_buffer_free(&description);
    return status;
}

dt_status dt_draw_schematic_form(const dt_program *program, dt_form form, dt_display display,
                                 dt_text *out)
{
    return draw_laid_out(program, layouts[form], display, out);
}

dt_status dt_draw_schematic_beside(const dt_program *program, double height_mm, dt_display display,
                                   dt_text *out)
{
    dt_layout layout = layout_column;
    layout.page_h = height_mm * DT_UNITS_PER_MM;
    layout.title_size = 0;
    if (layout.page_h < DT_LEGEND_FROM) layout.foot_text_h = 0;
    return draw_laid_out(program, &layout, display, out);
}

dt_status dt_draw_schematic(const dt_program *program, dt_display display, dt_text *out)
{
    return dt_draw_schematic_form(program, DT_FORM_PAGE, display, out);
}
