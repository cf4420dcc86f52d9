/* SPDX-License-Identifier: MIT */
#include "same.h"
#include "schematic.h"

#include <math.h>

#define DT_UPPER_SHARE   0.2 /* of the height, for the part above a break */
#define DT_BREAK_GAP     10.0
#define DT_LEAST_VISIBLE 34.0 /* a conductor shorter than this on the page calls for a break */

const dt_layout *dt_sketch_layout(const dt_sketch *sketch)
{
    return sketch->layout ? sketch->layout : &dt_layout_page;
}

double dt_panel_middle(const dt_sketch *sketch)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    if (sketch->right > sketch->left) return (sketch->left + sketch->right) / 2;
    return (layout->panel_left + layout->panel_right) / 2;
}

static double deepest_m(const dt_program *program)
{
    double deepest = program->well->objective_m;
    for (size_t i = 0; i < program->count; ++i)
        deepest = fmax(deepest, program->items[i].shoe_tvd_m);
    return deepest;
}

/** A round depth that stands clear of every shoe, so that none is hidden under the break. */
static double break_clear_of_shoes(const dt_program *program, double wanted_m, double unit_m)
{
    double step_m = dt_round_step(wanted_m / unit_m / 8) * unit_m;
    wanted_m = ceil(wanted_m / step_m) * step_m;
    for (int tries = 0; tries < 8; ++tries) {
        bool clear = true;
        for (size_t i = 0; i < program->count; ++i)
            clear &= fabs(program->items[i].shoe_tvd_m - wanted_m) > 0.08 * wanted_m &&
                     fabs(program->items[i].top_tvd_m - wanted_m) > 0.08 * wanted_m;
        if (clear) break;
        wanted_m += step_m;
    }
    return wanted_m;
}

dt_depth_scale dt_depth_scale_plain(const dt_program *program, double top_y, double bottom_y)
{
    return (dt_depth_scale){
        .top_y = top_y, .bottom_y = bottom_y, .bottom_m = deepest_m(program) * 1.015};
}

dt_depth_scale dt_depth_scale_broken(const dt_program *program, double top_y, double bottom_y,
                                     double unit_m)
{
    dt_depth_scale scale = dt_depth_scale_plain(program, top_y, bottom_y);
    if (program->count == 0) return scale;
    double ground_m = dt_well_ground_m(program->well);
    double shoe_m = program->items[0].shoe_tvd_m;
    double plain = (bottom_y - top_y) / scale.bottom_m;
    double break_m = break_clear_of_shoes(program, 1.3 * shoe_m, unit_m);
    double upper = DT_UPPER_SHARE * (bottom_y - top_y) / break_m;
    if ((shoe_m - ground_m) * plain >= DT_LEAST_VISIBLE || upper < 1.5 * plain) return scale;
    scale.broken = true;
    scale.break_m = break_m;
    scale.upper_end_y = top_y + DT_UPPER_SHARE * (bottom_y - top_y);
    scale.lower_start_y = scale.upper_end_y + DT_BREAK_GAP;
    return scale;
}

double dt_depth_y(const dt_depth_scale *scale, double tvd_m)
{
    if (!scale->broken)
        return scale->top_y + (scale->bottom_y - scale->top_y) * tvd_m / scale->bottom_m;
    if (tvd_m <= scale->break_m)
        return scale->top_y + (scale->upper_end_y - scale->top_y) * tvd_m / scale->break_m;
    double part = (tvd_m - scale->break_m) / (scale->bottom_m - scale->break_m);
    return scale->lower_start_y + (scale->bottom_y - scale->lower_start_y) * part;
}

double dt_depth_per_mm(const dt_depth_scale *scale, bool upper)
{
    double units, depth_m;
    if (!scale->broken) {
        units = scale->bottom_y - scale->top_y;
        depth_m = scale->bottom_m;
    } else if (upper) {
        units = scale->upper_end_y - scale->top_y;
        depth_m = scale->break_m;
    } else {
        units = scale->bottom_y - scale->lower_start_y;
        depth_m = scale->bottom_m - scale->break_m;
    }
    return depth_m / units * DT_UNITS_PER_MM;
}

/** One vertical axis with its ticks; side -1 stands left of the rock, 1 right of it. */
typedef struct axis {
    double x, side, unit_m; /* length of one axis unit in m */
    dt_display display;
} axis;

static void axis_tick(const dt_sketch *sketch, const axis *a, double value, bool major)
{
    double y = dt_depth_y(&sketch->depth, value * a->unit_m);
    double length = major ? 5 : 2.5;
    dt_ink ink = {.stroke = DT_LINE, .width = major ? 0.8 : 0.5};
    dt_svg_line(sketch->svg, a->x, y, a->x + a->side * length, y, ink);
    if (!major) return;
    dt_buffer text = {0};
    dt_say_depth_number(&text, a->display, value * a->unit_m);
    if (!text.failed) {
        double width = 36;
        double left = a->side < 0 ? a->x - 6 - width : a->x + 6;
        dt_svg_label_open(sketch->svg, (dt_box){left, y - DT_TYPE * 0.54, width, DT_TYPE * 1.08});
        dt_type type = {DT_TYPE, false, DT_TEXT_QUIET, a->side < 0 ? DT_END : DT_START};
        dt_svg_text(sketch->svg, a->side < 0 ? left + width : left, y, type, text.bytes);
        dt_svg_close(sketch->svg);
    }
    if (text.failed) sketch->svg->status = DT_E_MEMORY;
    dt_buffer_free(&text);
}

/** Ticks of one linear part, [from_m, to_m]; none of the large ones near an end that is a break. */
static void axis_part(const dt_sketch *sketch, const axis *a, double from_m, double to_m,
                      bool after_break, bool before_break)
{
    double units_per_m =
        (dt_depth_y(&sketch->depth, to_m) - dt_depth_y(&sketch->depth, from_m * (1 + 1e-9))) /
        (to_m - from_m);
    double major = dt_round_step(26 / units_per_m / a->unit_m);
    double minor = major / 5;
    double from = from_m / a->unit_m, to = to_m / a->unit_m;
    double near_end = 7 / units_per_m / a->unit_m;
    for (double n = dt_count_up(from / minor); n * minor <= to; ++n) {
        double value = n * minor;
        bool large = fmod(n, 5) < 0.5;
        if (after_break && value - from < near_end) large = false;
        if (before_break && to - value < near_end) large = false;
        if (after_break && value <= from) continue;
        axis_tick(sketch, a, value, large);
    }
}

static void axis_draw(const dt_sketch *sketch, const axis *a, const char *head)
{
    const dt_depth_scale *scale = &sketch->depth;
    dt_ink ink = {.stroke = DT_LINE, .width = 0.8};
    if (!scale->broken) {
        dt_svg_line(sketch->svg, a->x, scale->top_y, a->x, scale->bottom_y, ink);
        axis_part(sketch, a, 0, scale->bottom_m, false, false);
    } else {
        dt_svg_line(sketch->svg, a->x, scale->top_y, a->x, scale->upper_end_y, ink);
        dt_svg_line(sketch->svg, a->x, scale->lower_start_y, a->x, scale->bottom_y, ink);
        axis_part(sketch, a, 0, scale->break_m, false, true);
        axis_part(sketch, a, scale->break_m, scale->bottom_m, true, false);
    }
    dt_type type = {DT_TYPE, true, DT_TEXT_QUIET, a->side < 0 ? DT_END : DT_START};
    dt_svg_text(sketch->svg, a->x + a->side * 8, scale->top_y - 14, type, head);
}

void dt_draw_depth_axes(const dt_sketch *sketch)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    if (!(layout->strip_w > 0)) return;
    axis feet = {layout->panel_left - 2, -1, DT_M_PER_FT, DT_DISPLAY_FIELD};
    axis metres = {layout->panel_right + 2, 1, 1, DT_DISPLAY_METRIC};
    if (!layout->both_scales) {
        metres.x = feet.x;
        metres.side = feet.side;
    }
    bool metric = sketch->display != DT_DISPLAY_FIELD;
    if (layout->both_scales || !metric) axis_draw(sketch, &feet, "ft TVD");
    if (layout->both_scales || metric) axis_draw(sketch, &metres, "m TVD");
}

/** A saw-tooth line across the rock and both scales. */
static void tooth_line(const dt_sketch *sketch, dt_path *path, double y, bool back)
{
    const dt_layout *layout = dt_sketch_layout(sketch);
    const double over = layout->strip_w > 0 ? 8 : 4, tooth = 6;
    const double left = layout->panel_left - over, right = layout->panel_right + over;
    double width = right - left;
    int count = (int)(width / tooth);
    for (int i = 0; i <= count; ++i) {
        int n = back ? count - i : i;
        double x = left + width * n / count, lift = n % 2 ? -2.2 : 2.2;
        if (i == 0 && !back)
            dt_path_move(path, x, y + lift);
        else
            dt_path_line(path, x, y + lift);
    }
}

void dt_draw_break(const dt_sketch *sketch)
{
    const dt_depth_scale *scale = &sketch->depth;
    if (!scale->broken) return;
    double upper = scale->upper_end_y + 2.4, lower = scale->lower_start_y - 2.4;
    dt_path band = {0}, line = {0};
    tooth_line(sketch, &band, upper, false);
    tooth_line(sketch, &band, lower, true);
    dt_path_close(&band);
    dt_svg_path(sketch->svg, &band, (dt_ink){.fill = DT_PAPER});
    tooth_line(sketch, &line, upper, false);
    tooth_line(sketch, &line, lower, false);
    dt_svg_path(sketch->svg, &line, (dt_ink){.stroke = DT_LINE, .width = 0.9});
}
