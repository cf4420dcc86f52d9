/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "depth_labels.h"
#include "offsets.h"
#include "plots.h"
#include "rule_words.h"
#include "same.h"
#include "window_triggers.h"

#define DT_PLOT_H      912.0 /* page */
#define DT_PLOT_TOP    102.0
#define DT_PLOT_BOTTOM 772.0
#define DT_PLOT_LEFT   200.0
#define DT_PLOT_RIGHT  478.0
#define DT_LEVELS_W    122.0 /* labels left of the plot */
#define DT_LANES_X     (DT_PLOT_RIGHT + DT_STRIP_W + 2)
#define DT_LANES_W     22.0
#define DT_KEY_ROW     16.0
#define DT_KEY_W       28.0 /* sample of a line in the key */
#define DT_KICK_W      60.0 /* kick tolerance has a panel of its own, so wide, right of the window */
#define DT_KICK_GAP    14.0

/** Where the depth scales stand. */
static const dt_layout window_layout = {.page_w = DT_PAGE_W,
                                        .page_h = DT_PLOT_H,
                                        .margin = DT_MARGIN,
                                        .panel_left = DT_PLOT_LEFT,
                                        .panel_right = DT_PLOT_RIGHT,
                                        .strip_w = DT_STRIP_W,
                                        .both_scales = true};

typedef enum line_kind {
    LINE_PORE,
    LINE_FRACTURE,
    LINE_COLLAPSE,
    LINE_OVERBURDEN,
    LINE_LOWER,
    LINE_UPPER,
    LINE_MUD,
    LINE_KICK,
    LINE_COUNT
} line_kind;

/** Each line differs from the others by its dash and its weight, not by colour alone. */
static const struct line_style {
    const char *name, *key; /* in the plot, and in full below it */
    const char *stroke, *text;
    double width;
    const char *dash;
} line_styles[LINE_COUNT] = {
    [LINE_PORE] = {"pore pressure", "pore pressure", DT_BLUE, DT_TEXT_BLUE, 1.8, NULL},
    [LINE_FRACTURE] = {"fracture gradient", "fracture gradient", DT_RUST, DT_TEXT_RUST, 1.8, NULL},
    [LINE_COLLAPSE] = {"collapse gradient", "collapse gradient", "#a8507f", DT_TEXT_MAUVE, 1.4,
                       "8 2 1.5 2"},
    [LINE_OVERBURDEN] = {"overburden", "overburden", DT_LINE, DT_TEXT, 1.0, "12 4"},
    [LINE_LOWER] = {"min. mud weight", "minimum mud weight: pore pressure + trip margin", DT_BLUE,
                    DT_TEXT_BLUE, 1.2, "5 2.5"},
    [LINE_UPPER] = {"max. mud weight", "maximum mud weight: fracture gradient less margins",
                    DT_RUST, DT_TEXT_RUST, 1.2, "1.5 2"},
    [LINE_MUD] = {"planned mud", "planned mud", DT_LINE, DT_TEXT, 2.8, NULL},
    [LINE_KICK] = {"kick tolerance", "kick tolerance as a hole is drilled", DT_GREEN, DT_TEXT_GREEN,
                   1.3, "3 1.5 1 1.5"},
};

typedef struct spot {
    double x, y;
} spot;

/** The plot area, what is inked in it, and the names already placed in it. */
typedef struct plot {
    dt_sketch sketch;
    double low_kgm3, high_kgm3; /* of the x axis */
    spot *ink;                  /* points along every line, close together */
    size_t ink_count, ink_capacity;
    dt_box names[64];
    size_t name_count;
    double right;   /* edge of the mud window; the kick panel is beyond it */
    double kick_m3; /* at the right edge of that panel; 0: there is none */
} plot;

static double emw_x(const plot *p, double emw_kgm3)
{
    double part = (emw_kgm3 - p->low_kgm3) / (p->high_kgm3 - p->low_kgm3);
    part = fmax(-0.5, fmin(part, 1.5)); /* far outside it is cut off by the clip path */
    return DT_PLOT_LEFT + part * (p->right - DT_PLOT_LEFT);
}

static double tvd_y(const plot *p, double tvd_m)
{
    return dt_depth_y(&p->sketch.depth, tvd_m);
}

/** One line of the plot; bottom_m matters for the upper bound alone. */
typedef struct line {
    line_kind kind;
    double bottom_m;
} line;

static double line_emw(const plot *p, const line *l, double tvd_m, dt_side side)
{
    const dt_window *window = &p->sketch.program->window;
    const dt_well *well = p->sketch.program->well;
    switch (l->kind) {
    case LINE_PORE:
        return dt_curve_emw(&well->pore, tvd_m, side);
    case LINE_FRACTURE:
        return dt_curve_emw(&well->fracture, tvd_m, side);
    case LINE_COLLAPSE:
        return dt_curve_emw(&well->collapse, tvd_m, side);
    case LINE_OVERBURDEN:
        return dt_curve_emw(&well->overburden, tvd_m, side);
    case LINE_LOWER:
        return dt_window_lower(window, tvd_m, side);
    case LINE_UPPER:
        return dt_window_upper(window, tvd_m, l->bottom_m, side);
    case LINE_MUD:
    case LINE_KICK:
    case LINE_COUNT:
        break;
    }
    return NAN;
}

/** Whether lines bend between the points of the input. */
static bool is_curved(const dt_well *well)
{
    const dt_curve *curves[] = {&well->pore, &well->fracture, &well->collapse, &well->overburden};
    const dt_margin *margins[] = {&well->margins.trip, &well->margins.kick, &well->margins.surge,
                                  &well->margins.safety, &well->margins.gain};
    for (size_t i = 0; i < 4; ++i)
        if (curves[i]->count && curves[i]->between == DT_BETWEEN_PRESSURE) return true;
    for (size_t i = 0; i < 5; ++i)
        if (margins[i]->pressure_pa > 0 || margins[i]->pressure_pa < 0) return true;
    return well->margins.kick_rule == DT_KICK_DEPTH_RATIO;
}

typedef void (*visit)(void *context, double tvd_m, dt_side side);

/** Walks down from one depth to another, both sides of every break, and between where bent. */
static void walk(const plot *p, double from_m, double to_m, visit call, void *context)
{
    const dt_window *window = &p->sketch.program->window;
    int between = is_curved(p->sketch.program->well) ? 8 : 1;
    double at = from_m;
    call(context, from_m, DT_BELOW);
    for (size_t i = 0; i <= window->break_count; ++i) {
        double next = i < window->break_count ? fmin(window->breaks[i], to_m) : to_m;
        if (next <= at) continue;
        for (int n = 1; n < between; ++n)
            call(context, at + (next - at) * n / between, DT_ABOVE);
        call(context, next, DT_ABOVE);
        if (next < to_m) call(context, next, DT_BELOW);
        at = next;
    }
}

static void ink_add(plot *p, double x, double y)
{
    if (p->ink_count == p->ink_capacity) {
        size_t capacity = p->ink_capacity ? 2 * p->ink_capacity : 1024;
        spot *grown = realloc(p->ink, capacity * sizeof *grown);
        if (!grown) {
            p->sketch.svg->status = DT_E_MEMORY;
            return;
        }
        p->ink = grown;
        p->ink_capacity = capacity;
    }
    p->ink[p->ink_count++] = (spot){x, y};
}

/** A line in the making: the path, and its points kept for the placing of names. */
typedef struct pen {
    plot *p;
    const line *l;
    dt_path path;
    double x, y;
} pen;

static void pen_to(pen *t, double x, double y)
{
    if (!t->path.any) {
        dt_path_move(&t->path, x, y);
    } else {
        if (fabs(x - t->x) < 0.005 && fabs(y - t->y) < 0.005) return;
        double length = hypot(x - t->x, y - t->y);
        int steps = (int)fmin(400, ceil(length / 5));
        for (int i = 0; i < steps; ++i)
            ink_add(t->p, t->x + (x - t->x) * i / steps, t->y + (y - t->y) * i / steps);
        dt_path_line(&t->path, x, y);
    }
    t->x = x;
    t->y = y;
}

static void pen_visit(void *context, double tvd_m, dt_side side)
{
    pen *t = context;
    double emw = line_emw(t->p, t->l, tvd_m, side);
    if (isfinite(emw)) pen_to(t, emw_x(t->p, emw), tvd_y(t->p, tvd_m));
}

static void pen_ink(pen *t, line_kind kind)
{
    const struct line_style *style = &line_styles[kind];
    dt_svg_path(t->p->sketch.svg, &t->path,
                (dt_ink){.stroke = style->stroke, .width = style->width, .dash = style->dash});
}

static void draw_line(plot *p, line_kind kind, double bottom_m, double from_m, double to_m)
{
    line l = {kind, bottom_m};
    pen t = {.p = p, .l = &l};
    if (from_m < to_m) walk(p, from_m, to_m, pen_visit, &t);
    pen_ink(&t, kind);
}

/* ---- what is drawn ---- */

/** Depth where rock begins; never 0, where an equivalent mud weight has no meaning. */
static double rock_top_m(const dt_well *well)
{
    return fmax(dt_well_ground_m(well), 0.3);
}

static double section_top_m(const dt_program *program, size_t index)
{
    return index ? program->items[index - 1].shoe_tvd_m : rock_top_m(program->well);
}

typedef struct area {
    plot *p;
    line lower, upper;
    dt_path path;
    spot *back; /* the upper edge, to be walked back */
    size_t count, capacity;
} area;

static void area_visit(void *context, double tvd_m, dt_side side)
{
    area *a = context;
    double low = line_emw(a->p, &a->lower, tvd_m, side);
    double high = fmax(low, line_emw(a->p, &a->upper, tvd_m, side));
    double y = tvd_y(a->p, tvd_m);
    if (a->count == a->capacity) {
        size_t capacity = a->capacity ? 2 * a->capacity : 64;
        spot *grown = realloc(a->back, capacity * sizeof *grown);
        if (!grown) {
            a->p->sketch.svg->status = DT_E_MEMORY;
            return;
        }
        a->back = grown;
        a->capacity = capacity;
    }
    if (a->count == 0)
        dt_path_move(&a->path, emw_x(a->p, low), y);
    else
        dt_path_line(&a->path, emw_x(a->p, low), y);
    a->back[a->count++] = (spot){emw_x(a->p, high), y};
}

/** The room between minimum and maximum mud weight while a section is drilled. */
static void draw_room(plot *p, size_t index)
{
    const dt_program *program = p->sketch.program;
    double base_m = program->items[index].shoe_tvd_m, top_m = section_top_m(program, index);
    area a = {.p = p, .lower = {LINE_LOWER, base_m}, .upper = {LINE_UPPER, base_m}};
    if (top_m < base_m) walk(p, top_m, base_m, area_visit, &a);
    for (size_t i = a.count; i-- > 0;)
        dt_path_line(&a.path, a.back[i].x, a.back[i].y);
    if (a.count) dt_path_close(&a.path);
    free(a.back);
    dt_svg_path(p->sketch.svg, &a.path, (dt_ink){.fill = DT_WINDOW});
}

static void draw_bands(const plot *p)
{
    const dt_well *well = p->sketch.program->well;
    double bottom_m = p->sketch.depth.bottom_m;
    for (size_t i = 0; i < well->interval_count + well->pay_count; ++i) {
        bool pay = i >= well->interval_count;
        const dt_pay *zone = pay ? &well->pays[i - well->interval_count] : NULL;
        double top_m = pay ? zone->top_m : well->intervals[i].top_m;
        double base_m = fmin(pay ? zone->base_m : well->intervals[i].base_m, bottom_m);
        if (top_m >= base_m) continue;
        const dt_hatch *hatch = pay ? &dt_hatch_pay : dt_hatch_of_kind(well->intervals[i].kind);
        double top = tvd_y(p, top_m), base = tvd_y(p, base_m);
        const double width = 14; /* hatch at both edges; the lines stay readable between */
        dt_path path = {0};
        dt_path_box(&path, (dt_box){DT_PLOT_LEFT, top, width, base - top});
        dt_path_box(&path, (dt_box){p->right - width, top, width, base - top});
        dt_svg_hatch(p->sketch.svg, &path, hatch);
        dt_ink edge = {.stroke = hatch->ink, .width = 0.6, .dash = "2 2"};
        dt_svg_line(p->sketch.svg, DT_PLOT_LEFT, top, DT_PLOT_RIGHT, top, edge);
        dt_svg_line(p->sketch.svg, DT_PLOT_LEFT, base, DT_PLOT_RIGHT, base, edge);
    }
}

/** Across the plot, where the program is stopped, or collides as it was asked. */
static void draw_stop(void *context, double tvd_m, const char *words)
{
    const plot *p = context;
    const double y = tvd_y(p, tvd_m);
    (void)words;
    dt_svg_line(p->sketch.svg, DT_PLOT_LEFT, y, DT_PLOT_RIGHT, y,
                (dt_ink){.stroke = DT_RUST, .width = 1.6, .dash = "3 2"});
}

static void draw_levels(plot *p)
{
    const dt_well *well = p->sketch.program->well;
    dt_svg *svg = p->sketch.svg;
    double ground = tvd_y(p, dt_well_ground_m(well));
    dt_svg_line(svg, DT_PLOT_LEFT, ground, DT_PLOT_RIGHT, ground,
                (dt_ink){.stroke = DT_LINE, .width = 1.2});
    if (isfinite(well->fresh_water_m)) {
        double y = tvd_y(p, well->fresh_water_m);
        dt_svg_line(svg, DT_PLOT_LEFT, y, DT_PLOT_RIGHT, y,
                    (dt_ink){.stroke = DT_BLUE, .width = 1, .dash = "7 3"});
    }
    double y = tvd_y(p, well->objective_m);
    dt_svg_line(svg, DT_PLOT_LEFT, y, DT_PLOT_RIGHT, y,
                (dt_ink){.stroke = DT_LINE, .width = 1, .dash = "10 3 2 3"});
    dt_each_stop(p->sketch.program, draw_stop, p);
}

/** Under sea water the mud's weight counted from the rig floor grows with depth. */
static void pen_sea_column(plot *p, pen *t, double mud_kgm3, double top_m, double base_m)
{
    enum { POINTS = 24 };
    for (int n = 0; n <= POINTS; ++n) {
        const double tvd_m = top_m + (base_m - top_m) * n / POINTS;
        const double emw = dt_window_riserless_emw(&p->sketch.program->window, mud_kgm3, tvd_m);
        pen_to(t, emw_x(p, emw), tvd_y(p, tvd_m));
    }
}

static void draw_mud(plot *p)
{
    const dt_program *program = p->sketch.program;
    pen t = {.p = p};
    for (size_t i = 0; i < program->count; ++i) {
        double mud = program->items[i].seat->mud_kgm3;
        if (isnan(mud)) continue;
        if (program->items[i].seat->rules.riserless) {
            pen_sea_column(p, &t, mud, section_top_m(program, i), program->items[i].shoe_tvd_m);
            continue;
        }
        pen_to(&t, emw_x(p, mud), tvd_y(p, section_top_m(program, i)));
        pen_to(&t, emw_x(p, mud), tvd_y(p, program->items[i].shoe_tvd_m));
    }
    const dt_open_end *open = &program->seats.open;
    if (open->given) {
        pen_to(&t, emw_x(p, open->mud_kgm3), tvd_y(p, open->top_m));
        pen_to(&t, emw_x(p, open->mud_kgm3), tvd_y(p, open->base_m));
    }
    pen_ink(&t, LINE_MUD);
}

/** Where a hole has a kick tolerance its panel takes the right of the plot, up to a round volume.
 */
static void set_kick_scale(plot *p)
{
    const dt_program *program = p->sketch.program;
    double most = 0;
    p->right = DT_PLOT_RIGHT;
    for (size_t i = 1; i < program->count; ++i)
        if (program->items[i].kick_known && !program->items[i].kick.whole_hole)
            most = fmax(most, program->items[i].kick.tolerance_m3);
    if (!(most > 0)) return;
    const double unit = 1 / dt_display_value(p->sketch.display, DT_KIND_VOLUME, 1);
    const double step = dt_round_step(most / unit / 2);
    p->kick_m3 = ceil(1.2 * most / unit / step) * step * unit;
    p->right = DT_PLOT_RIGHT - DT_KICK_W - DT_KICK_GAP;
}

/** Frame, scale and head of the kick panel. */
static void kick_axis(const plot *p)
{
    dt_svg *svg = p->sketch.svg;
    const double left = DT_PLOT_RIGHT - DT_KICK_W;
    const dt_ink edge = {.stroke = DT_LINE, .width = 0.8};
    const double unit = 1 / dt_display_value(p->sketch.display, DT_KIND_VOLUME, 1);
    if (!(p->kick_m3 > 0)) return;
    dt_svg_line(svg, p->right, DT_PLOT_TOP, p->right, DT_PLOT_BOTTOM, edge);
    dt_svg_line(svg, left, DT_PLOT_TOP, left, DT_PLOT_BOTTOM, edge);
    dt_svg_line(svg, left, DT_PLOT_TOP, DT_PLOT_RIGHT, DT_PLOT_TOP, edge);
    dt_svg_line(svg, left, DT_PLOT_BOTTOM, DT_PLOT_RIGHT, DT_PLOT_BOTTOM, edge);
    for (int end = 0; end < 2; ++end) {
        char text[DT_NUMBER_SIZE];
        const double x = left + end * DT_KICK_W;
        dt_number_text(end * p->kick_m3 / unit, 3, text);
        const double width = dt_text_width(text, DT_TYPE, false);
        dt_svg_line(svg, x, DT_PLOT_BOTTOM, x, DT_PLOT_BOTTOM + 4, edge);
        const double from = end ? x - width : x; /* clear of the depth scale */
        dt_svg_label_open(
            svg, (dt_box){from, DT_PLOT_BOTTOM + 11 - DT_TYPE * 0.54, width, DT_TYPE * 1.08});
        dt_svg_text(svg, from, DT_PLOT_BOTTOM + 11,
                    (dt_type){DT_TYPE, false, DT_TEXT_QUIET, DT_START}, text);
        dt_svg_close(svg);
    }
    char head[48];
    snprintf(head, sizeof head, "kick tolerance, %s",
             dt_display_unit(p->sketch.display, DT_KIND_VOLUME));
    dt_svg_text(svg, left + DT_KICK_W / 2, DT_PLOT_BOTTOM + 25,
                (dt_type){DT_TYPE, true, DT_TEXT_GREEN, DT_MIDDLE}, head);
}

/** Kick tolerance against the depth of the bit, section by section. */
static void draw_kick(plot *p)
{
    enum { POINTS = 40 };
    const dt_program *program = p->sketch.program;
    for (size_t i = 1; i < program->count && p->kick_m3 > 0; ++i) {
        const dt_program_string *item = &program->items[i];
        dt_kick_point curve[POINTS];
        pen t = {.p = p};
        if (!item->kick_known ||
            dt_kick_curve(&program->window, &program->trajectory, &item->kick_assembly,
                          item[-1].shoe_tvd_m, item->shoe_tvd_m, item->seat->mud_kgm3, POINTS,
                          curve) != DT_OK)
            continue;
        for (size_t n = 0; n < POINTS; ++n) {
            const double part = curve[n].tolerance_m3 / p->kick_m3; /* beyond it is cut off */
            pen_to(&t, DT_PLOT_RIGHT - DT_KICK_W + fmin(part, 1.2) * DT_KICK_W,
                   tvd_y(p, curve[n].tvd_m));
        }
        pen_ink(&t, LINE_KICK);
    }
}

static void draw_lines(plot *p)
{
    const dt_program *program = p->sketch.program;
    const dt_well *well = program->well;
    double top = rock_top_m(well), bottom = well->objective_m;
    const line_kind inputs[] = {LINE_OVERBURDEN, LINE_COLLAPSE, LINE_PORE, LINE_FRACTURE};
    const dt_curve *curves[] = {&well->overburden, &well->collapse, &well->pore, &well->fracture};
    draw_line(p, LINE_LOWER, 0, top, bottom);
    for (size_t i = 0; i < program->count; ++i)
        if (!isnan(program->items[i].seat->mud_kgm3))
            draw_line(p, LINE_UPPER, program->items[i].shoe_tvd_m, section_top_m(program, i),
                      fmin(program->items[i].shoe_tvd_m, bottom));
    if (program->seats.open.given)
        draw_line(p, LINE_UPPER, program->seats.open.base_m, program->seats.open.top_m, bottom);
    for (size_t i = 0; i < 4; ++i)
        if (curves[i]->count) draw_line(p, inputs[i], 0, top, bottom);
    draw_mud(p);
}

/* ---- seats ---- */

static double lane_x(const plot *p, size_t index)
{
    double step = fmin(8, DT_LANES_W / (double)p->sketch.program->count);
    return DT_LANES_X + step * ((double)index + 0.5);
}

/** A line across at each seat, and beside the plot the range in which it may stand. */
static void draw_seats(plot *p)
{
    const dt_program *program = p->sketch.program;
    dt_svg *svg = p->sketch.svg;
    for (size_t i = 0; i < program->count; ++i) {
        const dt_seat *seat = program->items[i].seat;
        double y = tvd_y(p, seat->shoe_m), x = lane_x(p, i);
        dt_svg_line(svg, DT_PLOT_LEFT, y, DT_PLOT_RIGHT, y,
                    (dt_ink){.stroke = DT_LINE, .width = 0.6});
        for (double at = DT_PLOT_LEFT; at < DT_PLOT_RIGHT; at += 5)
            ink_add(p, at, y);
        if (!isfinite(seat->shallowest_m) || !isfinite(seat->deepest_m)) continue;
        double top = tvd_y(p, seat->shallowest_m), base = tvd_y(p, seat->deepest_m);
        base = fmin(base, p->sketch.depth.bottom_y);
        dt_svg_line(svg, x - 2, top, x + 2, top, (dt_ink){.stroke = DT_LINE, .width = 0.8});
        dt_svg_line(svg, x - 2, base, x + 2, base, (dt_ink){.stroke = DT_LINE, .width = 0.8});
        dt_svg_rect(svg, (dt_box){x - 1.2, top, 2.4, fmax(base - top, 0)},
                    (dt_ink){.fill = "#9fb6c4", .stroke = DT_LINE, .width = 0.5});
        dt_svg_diamond(svg, x, y, 3, (dt_ink){.fill = DT_STEEL});
    }
}

/** What a hole bears: the leak-off below its shoe, the rest above its base. */
static void draw_bounds(plot *p)
{
    enum { MOST = 3 * DT_MOST_LADDER };
    dt_bound_mark marks[MOST];
    static const double off[DT_BOUND_COUNT] = {6, -14.5, -5.5}; /* close in weight: one over the
                                                                   other */
    const size_t count = dt_bound_marks(p->sketch.program, marks, MOST);
    for (size_t i = 0; i < count; ++i) {
        const double x = emw_x(p, marks[i].emw_kgm3);
        const double y = tvd_y(p, marks[i].tvd_m) + off[marks[i].bound];
        dt_draw_bound(p->sketch.svg, marks[i].bound, x, y);
        for (double to = -6; to <= 6; to += 3)
            ink_add(p, x + to, y);
    }
}

static void say_seat_range(dt_sketch *sketch, const dt_seat *seat, dt_buffer *text)
{
    if (!isfinite(seat->shallowest_m) || !isfinite(seat->deepest_m)) return;
    if (seat->deepest_m - seat->shallowest_m < 0.1) {
        dt_buffer_text(text, "fixed");
        return;
    }
    dt_buffer_text(text, "can be set ");
    dt_say_range(text, sketch->display, seat->shallowest_m, seat->deepest_m);
}

static void say_kick(const dt_sketch *sketch, const dt_program_string *item, dt_buffer *text)
{
    if (!item->kick_known) return;
    dt_buffer_text(text, item->kick.whole_hole ? "kick tolerance over " : "kick tolerance ");
    dt_say_quantity(text, sketch->display, DT_KIND_VOLUME, item->kick.tolerance_m3);
}

static void label_seat(dt_sketch *sketch, dt_labels *labels, size_t index, int detail)
{
    const dt_program *program = sketch->program;
    const dt_seat *seat = program->items[index].seat;
    dt_label *label =
        dt_labels_add(labels, dt_depth_y(&sketch->depth, seat->shoe_m), DT_TEXT, DT_LINE_QUIET);
    dt_buffer text = {0};
    dt_say_string(&text, program, index);
    if (detail < 1) {
        dt_buffer_text(&text, ", seat ");
        dt_say_depth(&text, sketch->display, seat->shoe_m);
    }
    dt_label_say(sketch, labels, label, true, detail == 3 ? 2 : 1, &text);
    if (detail >= 1) {
        dt_buffer_text(&text, "seat ");
        dt_say_depth(&text, sketch->display, seat->shoe_m);
        dt_buffer_text(&text, dt_is_deviated(program) ? " TVD" : "");
        dt_label_say(sketch, labels, label, false, 1, &text);
    }
    if (detail >= 2) {
        say_seat_range(sketch, seat, &text);
        dt_label_say(sketch, labels, label, false, 2, &text);
        say_kick(sketch, &program->items[index], &text);
        dt_label_say(sketch, labels, label, false, 1, &text);
    }
    if (detail == 3) {
        dt_buffer_text(&text, dt_rule_words(seat->why.rule));
        dt_label_say(sketch, labels, label, false, 3, &text);
    }
    dt_need(sketch, &text);
    dt_buffer_free(&text);
}

static void label_seats(dt_sketch *sketch, dt_labels *labels, int detail)
{
    for (size_t i = 0; i < sketch->program->count; ++i)
        label_seat(sketch, labels, i, detail);
}

/** From the plot's edge past the scale and the lanes to the label. */
static void draw_seat_leaders(const plot *p, const dt_labels *labels)
{
    for (size_t i = 0; i < labels->count; ++i) {
        const dt_label *label = &labels->items[i];
        dt_path path = {0};
        dt_path_move(&path, DT_PLOT_RIGHT, label->target_y);
        dt_path_line(&path, DT_LANES_X + DT_LANES_W + 2, label->target_y);
        dt_path_line(&path, DT_PAGE_W - DT_MARGIN - labels->width,
                     label->top + labels->size * DT_LINE_HEIGHT / 2 + 1.5);
        dt_svg_path(p->sketch.svg, &path, (dt_ink){.stroke = label->mark, .width = 0.7});
    }
}

/* ---- offset wells ---- */

/** Each sort of reading by its shape, not by colour alone. */
static void draw_mark(dt_svg *svg, dt_offset_what what, double x, double y)
{
    const dt_ink rust = {.fill = DT_PAPER, .stroke = DT_RUST, .width = 1.1};
    const dt_ink blue = {.fill = DT_PAPER, .stroke = DT_BLUE, .width = 1.1};
    dt_path path = {0};
    switch (what) {
    case DT_OFFSET_LEAK_OFF:
        dt_svg_diamond(svg, x, y, 3.4, rust);
        return;
    case DT_OFFSET_MUD:
        dt_svg_rect(svg, (dt_box){x - 2, y - 2, 4, 4}, blue);
        return;
    case DT_OFFSET_SEAT: /* a shoe, at the edge of the plot */
        dt_path_move(&path, x - 4, y);
        dt_path_line(&path, x + 4, y);
        dt_path_line(&path, x + 4, y - 4);
        dt_path_close(&path);
        dt_svg_path(svg, &path, (dt_ink){.fill = DT_PAPER, .stroke = DT_LINE, .width = 1});
        return;
    case DT_OFFSET_LOSS:
        dt_path_move(&path, x - 3, y - 3);
        dt_path_line(&path, x + 3, y + 3);
        dt_path_move(&path, x - 3, y + 3);
        dt_path_line(&path, x + 3, y - 3);
        dt_svg_path(svg, &path, (dt_ink){.stroke = DT_RUST, .width = 1.6});
        return;
    case DT_OFFSET_KICK:
        dt_path_move(&path, x - 3.6, y + 3);
        dt_path_line(&path, x + 3.6, y + 3);
        dt_path_line(&path, x, y - 3.6);
        dt_path_close(&path);
        dt_svg_path(svg, &path, blue);
        return;
    }
}

/** What was seen in offset wells, moved to this well; leak-offs are shoes as well. */
static void draw_offsets(plot *p)
{
    const dt_well *well = p->sketch.program->well;
    for (size_t i = 0; i < well->offset_count; ++i)
        for (size_t k = 0; k < well->offsets[i].reading_count; ++k) {
            const dt_offset_reading *r = &well->offsets[i].readings[k];
            const double tvd_m = dt_offset_here_m(well, &well->offsets[i], r);
            if (tvd_m > p->sketch.depth.bottom_m) continue;
            const double y = tvd_y(p, tvd_m);
            if (r->what == DT_OFFSET_SEAT || r->what == DT_OFFSET_LEAK_OFF)
                draw_mark(p->sketch.svg, DT_OFFSET_SEAT, DT_PLOT_LEFT + 22, y);
            if (r->what == DT_OFFSET_SEAT) continue;
            const double x = emw_x(p, dt_offset_here_kgm3(well, &well->offsets[i], r));
            draw_mark(p->sketch.svg, r->what, x, y);
            ink_add(p, x, y);
        }
}

static bool has_mark(const dt_well *well, dt_offset_what what)
{
    for (size_t i = 0; i < well->offset_count; ++i)
        for (size_t k = 0; k < well->offsets[i].reading_count; ++k) {
            const dt_offset_what seen = well->offsets[i].readings[k].what;
            if (seen == what || (what == DT_OFFSET_SEAT && seen == DT_OFFSET_LEAK_OFF)) return true;
        }
    return false;
}

/* ---- names inside the plot ---- */

static bool boxes_touch(dt_box a, dt_box b)
{
    return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
}

/** How much ink a box would hide; negative when it may not stand there at all. */
static long name_cost(const plot *p, dt_box box)
{
    if (box.x < DT_PLOT_LEFT + 16 || box.x + box.w > p->right - 16 || box.y < DT_PLOT_TOP + 2 ||
        box.y + box.h > DT_PLOT_BOTTOM - 2)
        return -1;
    for (size_t i = 0; i < p->name_count; ++i)
        if (boxes_touch(box, p->names[i])) return -1;
    long cost = 0;
    for (size_t i = 0; i < p->ink_count; ++i)
        cost += p->ink[i].x > box.x - 1 && p->ink[i].x < box.x + box.w + 1 &&
                p->ink[i].y > box.y - 1 && p->ink[i].y < box.y + box.h + 1;
    return cost;
}

/** A mud, and whether sea water stands on it. */
typedef struct named_mud {
    double kgm3;
    bool under_sea;
} named_mud;

static double mud_at(const plot *p, const named_mud *mud, double tvd_m)
{
    return mud->under_sea ? dt_window_riserless_emw(&p->sketch.program->window, mud->kgm3, tvd_m)
                          : mud->kgm3;
}

/** Writes a name close to a line between two depths where it hides least; none if no room. */
static void name_line(plot *p, const line *l, const named_mud *mud, double from_m, double to_m,
                      const char *text)
{
    if (p->name_count == COUNT_OF(p->names)) return; /* the key below has them */
    const struct line_style *style = &line_styles[l->kind];
    double width = dt_text_width(text, DT_TYPE, true) + 4, height = DT_TYPE + 2.6;
    dt_box best = {0};
    long least = -1;
    for (int n = 1; n < 24; ++n) {
        double tvd_m = from_m + (to_m - from_m) * n / 24;
        double emw = mud ? mud_at(p, mud, tvd_m) : line_emw(p, l, tvd_m, DT_ABOVE);
        if (!isfinite(emw)) continue;
        for (int side = 0; side < 2; ++side) {
            double x = emw_x(p, emw) + (side ? 4 : -4 - width);
            dt_box box = {x, tvd_y(p, tvd_m) - height / 2, width, height};
            long cost = name_cost(p, box);
            if (cost >= 0) cost = cost * 64 + abs(n - 12);
            if (cost >= 0 && (least < 0 || cost < least)) {
                least = cost;
                best = box;
            }
        }
    }
    if (least < 0) return;
    p->names[p->name_count++] = best;
    dt_svg_label_open(p->sketch.svg, best);
    dt_svg_text(p->sketch.svg, best.x + 2, best.y + height / 2,
                (dt_type){DT_TYPE, true, style->text, DT_START}, text);
    dt_svg_close(p->sketch.svg);
}

static void name_mud(plot *p, named_mud mud, double top_m, double base_m)
{
    if (isnan(mud.kgm3)) return;
    dt_buffer text = {0};
    dt_buffer_text(&text, "mud ");
    dt_say_quantity(&text, p->sketch.display, DT_KIND_DENSITY, mud.kgm3);
    if (mud.under_sea) dt_buffer_text(&text, " under sea water");
    dt_need(&p->sketch, &text);
    const line l = {LINE_MUD, 0};
    if (!text.failed) name_line(p, &l, &mud, top_m, base_m, text.bytes);
    dt_buffer_free(&text);
}

static void name_muds(plot *p)
{
    const dt_program *program = p->sketch.program;
    for (size_t i = 0; i < program->count; ++i) {
        const dt_seat *seat = program->items[i].seat;
        name_mud(p, (named_mud){seat->mud_kgm3, seat->rules.riserless}, section_top_m(program, i),
                 program->items[i].shoe_tvd_m);
    }
    const dt_open_end *open = &program->seats.open;
    if (open->given) name_mud(p, (named_mud){open->mud_kgm3, false}, open->top_m, open->base_m);
}

static bool has_line(const plot *p, line_kind kind)
{
    const dt_well *well = p->sketch.program->well;
    if (kind == LINE_COLLAPSE) return well->collapse.count > 0;
    if (kind == LINE_OVERBURDEN) return well->overburden.count > 0;
    if (kind == LINE_KICK) return p->kick_m3 > 0;
    return true;
}

/** The upper bound steps from section to section: the longest one carries its name. */
static void name_upper(plot *p)
{
    const dt_program *program = p->sketch.program;
    double from = 0, to = 0;
    for (size_t i = 0; i < program->count; ++i) {
        double start = section_top_m(program, i), shoe = program->items[i].shoe_tvd_m;
        if (isnan(program->items[i].seat->mud_kgm3) || shoe - start <= to - from) continue;
        from = start;
        to = shoe;
    }
    const line l = {LINE_UPPER, to};
    if (from < to) name_line(p, &l, NULL, from, to, line_styles[LINE_UPPER].name);
}

static void name_lines(plot *p)
{
    const dt_well *well = p->sketch.program->well;
    name_muds(p);
    for (size_t kind = LINE_PORE; kind < LINE_UPPER; ++kind) {
        const line l = {(line_kind)kind, well->objective_m};
        if (has_line(p, l.kind))
            name_line(p, &l, NULL, rock_top_m(well), well->objective_m, line_styles[kind].name);
    }
    name_upper(p);
}

/* ---- axes ---- */

static void widen(double *low, double *high, double emw)
{
    if (!isfinite(emw)) return;
    *low = fmin(*low, emw);
    *high = fmax(*high, emw);
}

static void set_range(plot *p)
{
    const dt_program *program = p->sketch.program;
    const dt_curve *curves[] = {&program->well->pore, &program->well->fracture,
                                &program->well->collapse, &program->well->overburden};
    double low = INFINITY, high = -INFINITY;
    for (size_t c = 0; c < 4; ++c)
        for (size_t i = 0; i < curves[c]->count; ++i)
            widen(&low, &high, curves[c]->points[i].emw_kgm3);
    const dt_well *well = program->well;
    for (size_t i = 0; i < well->offset_count; ++i)
        for (size_t k = 0; k < well->offsets[i].reading_count; ++k)
            widen(&low, &high,
                  dt_offset_here_kgm3(well, &well->offsets[i], &well->offsets[i].readings[k]));
    for (size_t i = 0; i < program->count; ++i)
        widen(&low, &high, program->items[i].seat->mud_kgm3);
    if (program->seats.open.given) widen(&low, &high, program->seats.open.mud_kgm3);
    if (!(low < high)) {
        low = isfinite(low) ? low * 0.9 : 900;
        high = isfinite(high) && high > low ? high * 1.1 : low * 1.3;
    }
    double unit = 1 / dt_display_value(p->sketch.display, DT_KIND_DENSITY, 1);
    double step = dt_round_step((high - low) / unit / 9) * unit;
    p->low_kgm3 = floor(low / step - 0.6) * step;
    p->high_kgm3 = ceil(high / step + 0.4) * step;
}

static void emw_axis(const plot *p, dt_display display, double y, double side)
{
    dt_svg *svg = p->sketch.svg;
    double unit = 1 / dt_display_value(display, DT_KIND_DENSITY, 1);
    double step = dt_round_step((p->high_kgm3 - p->low_kgm3) / unit / 9);
    dt_svg_line(svg, DT_PLOT_LEFT, y, p->right, y, (dt_ink){.stroke = DT_LINE, .width = 0.8});
    for (double n = dt_count_up(p->low_kgm3 / unit / step);
         n * step * unit <= p->high_kgm3 * (1 + TIE); ++n) {
        double x = emw_x(p, n * step * unit);
        char text[DT_NUMBER_SIZE];
        dt_number_text(n * step, 3, text);
        dt_svg_line(svg, x, y, x, y + 4 * side, (dt_ink){.stroke = DT_LINE, .width = 0.8});
        if (display == p->sketch.display)
            dt_svg_line(svg, x, DT_PLOT_TOP, x, DT_PLOT_BOTTOM,
                        (dt_ink){.stroke = DT_LINE_FAINT, .width = 0.5});
        double width = dt_text_width(text, DT_TYPE, false);
        dt_svg_label_open(
            svg, (dt_box){x - width / 2, y + 11 * side - DT_TYPE * 0.54, width, DT_TYPE * 1.08});
        dt_svg_text(svg, x, y + 11 * side, (dt_type){DT_TYPE, false, DT_TEXT_QUIET, DT_MIDDLE},
                    text);
        dt_svg_close(svg);
    }
    dt_buffer text = {0};
    dt_buffer_text(&text, "equivalent mud weight, ");
    dt_buffer_text(&text, dt_display_unit(display, DT_KIND_DENSITY));
    if (!text.failed)
        dt_svg_text(svg, (DT_PLOT_LEFT + p->right) / 2, y + 25 * side,
                    (dt_type){DT_TYPE, true, DT_TEXT_QUIET, DT_MIDDLE}, text.bytes);
    if (text.failed) svg->status = DT_E_MEMORY;
    dt_buffer_free(&text);
}

/* ---- the page ---- */

static void draw_title(plot *p)
{
    dt_sketch *sketch = &p->sketch;
    dt_buffer text = {0};
    dt_say_not_runnable(&text, sketch->program);
    dt_buffer_text(&text, "Mud window and seats. True vertical depth below the rig floor; "
                          "equivalent mud weights refer to the rig floor.");
    dt_title_draw(sketch, 2, &text);
    dt_buffer_free(&text);
}

static double key_entry(const plot *p, double x, double y, const char *words)
{
    double width = dt_text_width(words, DT_TYPE, false);
    dt_svg_label_open(p->sketch.svg, (dt_box){x + 31, y - 6.5, width + 2, 13});
    dt_svg_text(p->sketch.svg, x + 32, y, (dt_type){DT_TYPE, false, DT_TEXT, DT_START}, words);
    dt_svg_close(p->sketch.svg);
    return x + 32 + width + 16;
}

/** Begins a line of the key where words do not fit in this one. */
static void key_wrap(const char *words, double *x, double *y)
{
    if (*x + 32 + dt_text_width(words, DT_TYPE, false) <= DT_PAGE_W - DT_MARGIN) return;
    *x = DT_MARGIN;
    *y += DT_KEY_ROW;
}

static void key_bounds(const plot *p, double *x, double *y)
{
    for (int i = 0; i < DT_BOUND_COUNT && dt_well_has_spreads(p->sketch.program->well); ++i) {
        const char *words = dt_bound_words((dt_bound)i);
        key_wrap(words, x, y);
        dt_draw_bound(p->sketch.svg, (dt_bound)i, *x + 18, *y);
        *x = key_entry(p, *x, *y, words);
    }
}

static void draw_offset_key(const plot *p, double x, double y)
{
    static const char *const words[] = {[DT_OFFSET_LEAK_OFF] = "leak-off of an offset well",
                                        [DT_OFFSET_MUD] = "its mud",
                                        [DT_OFFSET_SEAT] = "its shoe",
                                        [DT_OFFSET_LOSS] = "its losses",
                                        [DT_OFFSET_KICK] = "its kick"};
    for (size_t what = 0; what < COUNT_OF(words); ++what) {
        if (!has_mark(p->sketch.program->well, (dt_offset_what)what)) continue;
        key_wrap(words[what], &x, &y);
        draw_mark(p->sketch.svg, (dt_offset_what)what, x + 14, y);
        x = key_entry(p, x, y, words[what]);
    }
}

/** All lines by name, for a reader whom the plot's own names do not reach. */
static void draw_key(plot *p)
{
    dt_svg *svg = p->sketch.svg;
    double x = DT_MARGIN, y = DT_PLOT_BOTTOM + 46;
    for (size_t kind = 0; kind < LINE_COUNT; ++kind) {
        const struct line_style *style = &line_styles[kind];
        const char *words =
            kind == LINE_LOWER && has_line(p, LINE_COLLAPSE)
                ? "minimum mud weight: pore pressure + trip margin, or collapse gradient"
                : style->key;
        if (!has_line(p, (line_kind)kind)) continue;
        key_wrap(words, &x, &y);
        dt_svg_line(svg, x, y, x + 28, y,
                    (dt_ink){.stroke = style->stroke, .width = style->width, .dash = style->dash});
        x = key_entry(p, x, y, words);
    }
    const char *range = "range of the seat, and where it stands";
    key_wrap(range, &x, &y);
    dt_path shoe = {0};
    dt_svg_rect(svg, (dt_box){x, y - 1.2, 28, 2.4},
                (dt_ink){.fill = "#9fb6c4", .stroke = DT_LINE, .width = 0.5});
    dt_path_move(&shoe, x + 14, y - 3);
    dt_path_line(&shoe, x + 17, y);
    dt_path_line(&shoe, x + 14, y + 3);
    dt_path_line(&shoe, x + 11, y);
    dt_path_close(&shoe);
    dt_svg_path(svg, &shoe, (dt_ink){.fill = DT_STEEL});
    x = key_entry(p, x, y, range);
    key_bounds(p, &x, &y);
    draw_offset_key(p, x, y);
}

static void draw_level_leaders(const plot *p, const dt_labels *labels)
{
    for (size_t i = 0; i < labels->count; ++i) {
        const dt_label *label = &labels->items[i];
        dt_path path = {0};
        dt_path_move(&path, DT_PLOT_LEFT, label->target_y);
        dt_path_line(&path, DT_PLOT_LEFT - 4 - DT_STRIP_W, label->target_y);
        dt_path_line(&path, DT_MARGIN + DT_LEVELS_W,
                     label->top + labels->size * DT_LINE_HEIGHT / 2 + 1.5);
        dt_svg_path(p->sketch.svg, &path, (dt_ink){.stroke = label->mark, .width = 0.7});
    }
}

static void draw_page(plot *p)
{
    dt_sketch *sketch = &p->sketch;
    dt_labels left = {.width = DT_LEVELS_W};
    dt_labels right = {.width = DT_PAGE_W - DT_MARGIN - (DT_LANES_X + DT_LANES_W + 16)};
    set_range(p);
    set_kick_scale(p);
    const dt_box frame = {DT_PLOT_LEFT, DT_PLOT_TOP, p->right - DT_PLOT_LEFT,
                          DT_PLOT_BOTTOM - DT_PLOT_TOP};
    const dt_box kick_frame = {DT_PLOT_RIGHT - DT_KICK_W, DT_PLOT_TOP, DT_KICK_W,
                               DT_PLOT_BOTTOM - DT_PLOT_TOP};
    dt_labels_fit(sketch, &left, DT_PLOT_TOP - 34, DT_PLOT_BOTTOM + 34, dt_label_levels);
    dt_labels_fit(sketch, &right, DT_PLOT_TOP - 34, DT_PLOT_BOTTOM + 34, label_seats);
    draw_title(p);
    dt_display other = sketch->display == DT_DISPLAY_FIELD ? DT_DISPLAY_METRIC : DT_DISPLAY_FIELD;
    emw_axis(p, sketch->display, DT_PLOT_TOP, -1);
    emw_axis(p, other, DT_PLOT_BOTTOM, 1);
    dt_svg_clip_open(sketch->svg, frame);
    for (size_t i = 0; i < sketch->program->count; ++i)
        if (!isnan(sketch->program->items[i].seat->mud_kgm3)) draw_room(p, i);
    draw_bands(p);
    draw_lines(p);
    draw_offsets(p);
    dt_svg_close(sketch->svg);
    dt_svg_clip_open(sketch->svg, kick_frame);
    draw_kick(p);
    dt_svg_close(sketch->svg);
    kick_axis(p);
    draw_levels(p);
    draw_level_leaders(p, &left);
    draw_seat_leaders(p, &right);
    draw_seats(p);
    draw_bounds(p);
    dt_draw_depth_axes(sketch);
    name_lines(p);
    dt_labels_draw(sketch->svg, &left, DT_MARGIN, DT_END);
    dt_labels_draw(sketch->svg, &right, DT_PAGE_W - DT_MARGIN - right.width, DT_START);
    draw_key(p);
    dt_labels_free(&left);
    dt_labels_free(&right);
}

static void say_description(const dt_program *program, dt_display display, dt_buffer *text)
{
    dt_buffer_text(text, "Pore pressure, fracture gradient and planned mud against true vertical "
                         "depth. Seats: ");
    for (size_t i = 0; i < program->count; ++i) {
        if (i) dt_buffer_text(text, "; ");
        dt_say_string(text, program, i);
        dt_buffer_text(text, " at ");
        dt_say_depth(text, display, program->items[i].seat->shoe_m);
        double mud = program->items[i].seat->mud_kgm3;
        if (isnan(mud)) continue;
        dt_buffer_text(text, ", mud ");
        dt_say_quantity(text, display, DT_KIND_DENSITY, mud);
    }
    dt_buffer_text(text, ".");
}

dt_status dt_draw_window(const dt_program *program, dt_display display, dt_text *out)
{
    dt_buffer title = {0}, description = {0};
    dt_buffer_text(&title, "Mud window and seats of ");
    dt_buffer_text(&title, program->well->name);
    say_description(program, display, &description);
    dt_status status = DT_E_MEMORY;
    if (!title.failed && !description.failed) {
        dt_svg svg;
        /* the key of offset wells takes a line more */
        const double height = DT_PLOT_H + (program->well->offset_count > 0 ? 16 : 0);
        const dt_svg_page page = {DT_PAGE_W, height, "window", title.bytes, description.bytes};
        dt_svg_begin(&svg, &page);
        plot p = {
            .sketch = {
                .program = program, .display = display, .svg = &svg, .layout = &window_layout}};
        p.sketch.depth = dt_depth_scale_plain(program, DT_PLOT_TOP, DT_PLOT_BOTTOM);
        draw_page(&p);
        free(p.ink);
        status = dt_svg_end(&svg, out);
    }
    dt_buffer_free(&title);
    dt_buffer_free(&description);
    return status;
}
