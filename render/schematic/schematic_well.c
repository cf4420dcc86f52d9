/* SPDX-License-Identifier: MIT */
#include "same.h"
#include "schematic.h"

#include <math.h>
#include <stdlib.h>

static double panel_left(const dt_sketch *sketch)
{
    return sketch->right > sketch->left ? sketch->left : dt_sketch_layout(sketch)->panel_left;
}

static double panel_right(const dt_sketch *sketch)
{
    return sketch->right > sketch->left ? sketch->right : dt_sketch_layout(sketch)->panel_right;
}

/** Lengths that go with the width of the rock: `share` of it. */
static double panel_share(const dt_sketch *sketch, double share)
{
    return share * (panel_right(sketch) - panel_left(sketch));
}

static double depth_y(const dt_sketch *sketch, double tvd_m)
{
    return dt_depth_y(&sketch->depth, tvd_m);
}

/** A box between two depths across the rock. */
static dt_box rock_box(const dt_sketch *sketch, double top_m, double base_m)
{
    double top = depth_y(sketch, top_m), base = depth_y(sketch, base_m);
    return (dt_box){panel_left(sketch), top, panel_right(sketch) - panel_left(sketch), base - top};
}

/** The same box on both sides of the middle, between two radii. */
static void both_sides(dt_path *path, const dt_sketch *sketch, double inner_m, double outer_m,
                       double top_m, double base_m)
{
    double inner = inner_m * sketch->units_per_m, outer = outer_m * sketch->units_per_m;
    double top = depth_y(sketch, top_m), base = depth_y(sketch, base_m);
    if (!(outer > inner) || !(base > top)) return;
    dt_path_box(path, (dt_box){dt_panel_middle(sketch) - outer, top, outer - inner, base - top});
    dt_path_box(path, (dt_box){dt_panel_middle(sketch) + inner, top, outer - inner, base - top});
}

static void draw_band(const dt_sketch *sketch, dt_box box, const dt_hatch *hatch)
{
    dt_path path = {0};
    dt_path_box(&path, box);
    dt_svg_hatch(sketch->svg, &path, hatch);
    dt_ink edge = {.stroke = hatch->ink, .width = 0.7}; /* shows even what is thin to scale */
    dt_svg_line(sketch->svg, box.x, box.y, box.x + box.w, box.y, edge);
    dt_svg_line(sketch->svg, box.x, box.y + box.h, box.x + box.w, box.y + box.h, edge);
}

void dt_draw_rock(const dt_sketch *sketch)
{
    const dt_well *well = sketch->program->well;
    double ground_m = dt_well_ground_m(well), bottom_m = sketch->depth.bottom_m;
    if (well->over_sea)
        draw_band(sketch, rock_box(sketch, well->rig_floor_m, ground_m), &dt_hatch_water);
    dt_svg_rect(sketch->svg, rock_box(sketch, ground_m, bottom_m), (dt_ink){.fill = DT_ROCK});
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *interval = &well->intervals[i];
        double base_m = fmin(interval->base_m, bottom_m);
        if (interval->top_m < base_m)
            draw_band(sketch, rock_box(sketch, interval->top_m, base_m),
                      dt_hatch_of_kind(interval->kind));
    }
    /* pay stands at the edges only: it may lie inside a troublesome interval */
    for (size_t i = 0; i < well->pay_count; ++i) {
        if (well->pays[i].top_m >= bottom_m) continue;
        dt_box box = rock_box(sketch, well->pays[i].top_m, fmin(well->pays[i].base_m, bottom_m));
        box.w = panel_share(sketch, 0.17);
        draw_band(sketch, box, &dt_hatch_pay);
        box.x = panel_right(sketch) - box.w;
        draw_band(sketch, box, &dt_hatch_pay);
    }
}

static double hole_radius(const dt_program_string *item)
{
    return fmax(isfinite(item->hole_m) ? item->hole_m : 0, item->od_m) / 2;
}

static bool is_drilled(const dt_sketch *sketch, size_t index)
{
    const dt_program *program = sketch->program;
    return program->items[index].seat->role != DT_CONDUCTOR ||
           program->well->conductor.method == DT_CONDUCTOR_DRILLED;
}

/** Depth from which the hole of a string is drilled. */
static double hole_top_m(const dt_sketch *sketch, size_t index)
{
    double top = dt_well_ground_m(sketch->program->well);
    for (size_t i = 0; i < index; ++i)
        top = fmax(top, sketch->program->items[i].shoe_tvd_m);
    return top;
}

/** Steps off the bit's line, drawing units; fixed, so that a drawing is the same every time. */
static const double roughness[] = {0.2, 1.0, 0.4, 1.3, 0.1, 0.8, 1.2, 0.3, 0.9, 0.0, 1.1, 0.5, 0.7};
#define DT_ROUGHNESS_COUNT (COUNT_OF(roughness))

static void rough_edge(dt_path *path, double x, double side, double top, double base, bool up)
{
    const double step = 3.4;
    size_t count = (size_t)fmax(1, ceil((base - top) / step));
    for (size_t i = 0; i <= count; ++i) {
        size_t n = up ? count - i : i;
        double y = fmin(top + (double)n * step, base);
        double out = 1.2 * side * roughness[(n + (side < 0 ? 5 : 0)) % DT_ROUGHNESS_COUNT];
        if (i == 0 && !up)
            dt_path_move(path, x + out, y);
        else
            dt_path_line(path, x + out, y);
    }
}

/** A hole as the bit leaves it. */
static void draw_drilled(const dt_sketch *sketch, double radius_m, double top_m, double base_m)
{
    double radius = radius_m * sketch->units_per_m;
    double top = depth_y(sketch, top_m), base = depth_y(sketch, base_m);
    if (base <= top) return;
    dt_path area = {0}, walls = {0};
    rough_edge(&area, dt_panel_middle(sketch) - radius, -1, top, base, false);
    rough_edge(&area, dt_panel_middle(sketch) + radius, 1, top, base, true);
    dt_path_close(&area);
    rough_edge(&walls, dt_panel_middle(sketch) - radius, -1, top, base, false);
    rough_edge(&walls, dt_panel_middle(sketch) + radius, 1, top, base, false);
    dt_svg_path(sketch->svg, &area, (dt_ink){.fill = DT_HOLE});
    dt_svg_path(sketch->svg, &walls, (dt_ink){.stroke = "#7a6a55", .width = 0.7});
}

static void draw_hole(const dt_sketch *sketch, size_t index)
{
    const dt_program_string *item = &sketch->program->items[index];
    draw_drilled(sketch, hole_radius(item), hole_top_m(sketch, index), item->shoe_tvd_m);
}

void dt_draw_holes(const dt_sketch *sketch)
{
    const dt_open_end *open = &sketch->program->seats.open;
    if (open->given) draw_drilled(sketch, open->hole_m / 2, open->top_m, open->base_m);
    for (size_t i = 0; i < sketch->program->count; ++i) {
        const dt_program_string *item = &sketch->program->items[i];
        dt_path bore = {0};
        if (is_drilled(sketch, i)) draw_hole(sketch, i);
        both_sides(&bore, sketch, 0, item->od_m / 2,
                   fmax(item->top_tvd_m, dt_wellhead_tvd(sketch->program->well)), item->shoe_tvd_m);
        dt_svg_path(sketch->svg, &bore, (dt_ink){.fill = DT_HOLE});
    }
}

/** Inside radius of a string at a depth inside it. */
static double bore_radius(const dt_sketch *sketch, const dt_program_string *item, double tvd_m)
{
    double radius = item->od_m / 2;
    for (size_t i = 0; i < item->string->section_count; ++i) {
        const dt_section *section = &item->string->sections[i];
        radius = section->pipe->id_m / 2;
        if (tvd_m < dt_trajectory_tvd(&sketch->program->trajectory, section->base_md_m)) break;
    }
    return radius;
}

/** Radius of what surrounds a string at a depth: the innermost earlier pipe, else its hole. */
static double room_radius(const dt_sketch *sketch, size_t index, double tvd_m)
{
    const dt_program_string *items = sketch->program->items;
    for (size_t n = dt_seats_position(&sketch->program->seats, index); n-- > 0;) {
        const dt_program_string *item = &items[dt_program_at(sketch->program, n)];
        if (item->top_tvd_m <= tvd_m && tvd_m < item->shoe_tvd_m)
            return bore_radius(sketch, item, tvd_m);
    }
    for (size_t i = 0; i <= index && i < sketch->program->count; ++i)
        if (hole_top_m(sketch, i) <= tvd_m && tvd_m < items[i].shoe_tvd_m)
            return is_drilled(sketch, i) ? hole_radius(&items[i]) : 0;
    return 0; /* in the air or in the sea */
}

static int by_depth(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

/** Depths at which the room around a string may change. NULL when memory runs out. */
static double *room_breaks(const dt_sketch *sketch, size_t index, size_t *count)
{
    const dt_program *program = sketch->program;
    const size_t run = dt_seats_position(&program->seats, index) + 1; /* it, and all before it */
    size_t most = 3;
    for (size_t i = 0; i < run; ++i)
        most += 2 + program->items[dt_program_at(program, i)].string->section_count;
    double *breaks = malloc(most * sizeof *breaks);
    if (!breaks) return NULL;
    size_t n = 0;
    breaks[n++] = dt_well_ground_m(program->well);
    breaks[n++] = program->items[index].cement_top_tvd_m;
    for (size_t i = 0; i < run; ++i) {
        const dt_program_string *item = &program->items[dt_program_at(program, i)];
        breaks[n++] = item->top_tvd_m;
        breaks[n++] = item->shoe_tvd_m;
        for (size_t s = 0; s < item->string->section_count; ++s)
            breaks[n++] =
                dt_trajectory_tvd(&program->trajectory, item->string->sections[s].base_md_m);
    }
    qsort(breaks, n, sizeof *breaks, by_depth);
    *count = n;
    return breaks;
}

static void draw_cement(const dt_sketch *sketch, size_t index)
{
    const dt_program_string *item = &sketch->program->items[index];
    if (isnan(item->cement_top_tvd_m)) return;
    size_t count;
    double *breaks = room_breaks(sketch, index, &count);
    if (!breaks) {
        sketch->svg->status = DT_E_MEMORY;
        return;
    }
    dt_path path = {0};
    for (size_t i = 0; i + 1 < count; ++i) {
        double top = fmax(breaks[i], item->cement_top_tvd_m);
        double base = fmin(breaks[i + 1], item->shoe_tvd_m);
        if (top < base)
            both_sides(&path, sketch, item->od_m / 2, room_radius(sketch, index, (top + base) / 2),
                       top, base);
    }
    free(breaks);
    dt_svg_hatch(sketch->svg, &path, &dt_hatch_cement[index % 2]);
}

void dt_draw_cement(const dt_sketch *sketch)
{
    for (size_t i = 0; i < sketch->program->count; ++i)
        draw_cement(sketch, i);
}

void dt_path_shoe(dt_path *path, double wall_x, double y, double side)
{
    dt_path_move(path, wall_x, y);
    dt_path_line(path, wall_x, y - 8);
    dt_path_line(path, wall_x + side * 5, y);
    dt_path_close(path);
}

void dt_path_hanger(dt_path *path, double wall_x, double y, double side, double gap)
{
    dt_path_move(path, wall_x, y);
    dt_path_line(path, wall_x + side * gap, y);
    dt_path_line(path, wall_x + side * gap, y + 4);
    dt_path_line(path, wall_x, y + 9);
    dt_path_close(path);
}

void dt_path_level(dt_path *path, double x, double y)
{
    dt_path_move(path, x, y);
    dt_path_line(path, x - 4, y - 7);
    dt_path_line(path, x + 4, y - 7);
    dt_path_close(path);
}

double dt_wellhead_tvd(const dt_well *well)
{
    return !well->over_sea || well->bop_at_seabed ? dt_well_ground_m(well) : 0;
}

/** Whether a string hangs in the wellhead: neither a liner nor the one that carries the wellhead.
 */
static bool is_hung(const dt_program *program, size_t index)
{
    return index > 0 && program->items[index].seat->type != DT_LINER;
}

#define DT_WELLHEAD_FROM 105.0 /* rock that is narrower has no room for its symbols */

/** A housing round the outermost string, and a wedge where each other string hangs in it. */
void dt_draw_wellhead(const dt_sketch *sketch)
{
    const dt_program *program = sketch->program;
    if (program->count == 0 || panel_share(sketch, 1) < DT_WELLHEAD_FROM) return;
    const double head_m = dt_wellhead_tvd(program->well), y = depth_y(sketch, head_m);
    const double outside = program->items[0].od_m / 2 * sketch->units_per_m;
    dt_path housing = {0}, hangers = {0};
    for (int side = -1; side <= 1; side += 2) {
        const double wall = dt_panel_middle(sketch) + side * outside;
        dt_path_box(&housing, (dt_box){side < 0 ? wall - 5 : wall, y - 6, 5, 12});
        dt_path_box(&housing, (dt_box){side < 0 ? wall - 8 : wall, y - 8, 8, 3});
        for (size_t i = 1; i < dt_program_strings(program); ++i) {
            const size_t index = dt_program_at(program, i);
            if (!is_hung(program, index)) continue;
            const double od_m = program->items[index].od_m;
            const double gap = (room_radius(sketch, index, head_m + SAME_DEPTH_M) - od_m / 2);
            if (gap > 0)
                dt_path_hanger(&hangers,
                               dt_panel_middle(sketch) + side * od_m / 2 * sketch->units_per_m,
                               y - 5, side, gap * sketch->units_per_m);
        }
    }
    dt_svg_path(sketch->svg, &housing, (dt_ink){.fill = DT_STEEL});
    dt_svg_path(sketch->svg, &hangers, (dt_ink){.fill = DT_STEEL});
}

/** A leak-off test that was made: an arrow into the rock at its shoe. */
void dt_path_leak_off(dt_path *path, double x, double y, double side)
{
    dt_path_move(path, x, y);
    dt_path_line(path, x - side * 6, y - 3.4);
    dt_path_line(path, x - side * 6, y + 3.4);
    dt_path_close(path);
}

static void draw_tests(const dt_sketch *sketch)
{
    const dt_fracture_source *from = &sketch->program->well->fracture_from;
    double clear = 0;
    for (size_t i = 0; i < sketch->program->count; ++i)
        clear = fmax(clear, hole_radius(&sketch->program->items[i]) * sketch->units_per_m);
    dt_path marks = {0};
    for (size_t i = 0; i < from->test_count; ++i) {
        if (from->tests[i].shoe_m >= sketch->depth.bottom_m) continue;
        for (int side = -1; side <= 1; side += 2)
            dt_path_leak_off(&marks, dt_panel_middle(sketch) + side * (clear + 14),
                             depth_y(sketch, from->tests[i].shoe_m), side);
    }
    dt_svg_path(sketch->svg, &marks, (dt_ink){.fill = DT_RUST});
}

static void draw_pipe(const dt_sketch *sketch, size_t index)
{
    const dt_program_string *item = &sketch->program->items[index];
    dt_path wall = {0}, ends = {0};
    double top_m = fmax(item->top_tvd_m, dt_wellhead_tvd(sketch->program->well));
    for (size_t i = 0; i < item->string->section_count; ++i) {
        const dt_section *section = &item->string->sections[i];
        bool last = i + 1 == item->string->section_count;
        double base_m = last ? item->shoe_tvd_m
                             : dt_trajectory_tvd(&sketch->program->trajectory, section->base_md_m);
        both_sides(&wall, sketch, section->pipe->id_m / 2, item->od_m / 2, top_m, base_m);
        top_m = base_m;
    }
    double radius = item->od_m / 2 * sketch->units_per_m;
    double gap =
        (room_radius(sketch, index, item->top_tvd_m) - item->od_m / 2) * sketch->units_per_m;
    for (int side = -1; side <= 1; side += 2) {
        double wall_x = dt_panel_middle(sketch) + side * radius;
        if (item->seat->type != DT_TIEBACK)
            dt_path_shoe(&ends, wall_x, depth_y(sketch, item->shoe_tvd_m), side);
        if (item->seat->type == DT_LINER && gap > 0)
            dt_path_hanger(&ends, wall_x, depth_y(sketch, item->top_tvd_m), side, gap);
    }
    dt_svg_path(sketch->svg, &wall, (dt_ink){.fill = DT_STEEL});
    dt_svg_path(sketch->svg, &ends, (dt_ink){.fill = DT_STEEL});
}

void dt_draw_pipes(const dt_sketch *sketch)
{
    for (size_t n = 0; n < dt_program_strings(sketch->program); ++n)
        draw_pipe(sketch, dt_program_at(sketch->program, n));
    draw_tests(sketch);
    dt_draw_wellhead(sketch);
}

/** Solid ground: a strong line with short strokes under it, left and right of the hole. */
static void draw_ground(const dt_sketch *sketch)
{
    double y = depth_y(sketch, dt_well_ground_m(sketch->program->well)), clear = 0;
    for (size_t i = 0; i < sketch->program->count; ++i)
        clear = fmax(clear, hole_radius(&sketch->program->items[i]) * sketch->units_per_m);
    dt_path line = {0}, strokes = {0};
    for (int side = -1; side <= 1; side += 2) {
        double near = dt_panel_middle(sketch) + side * (clear + 1.5);
        double far = side < 0 ? panel_left(sketch) : panel_right(sketch);
        dt_path_move(&line, near, y);
        dt_path_line(&line, far, y);
        for (double x = fmin(near, far) + 6; x < fmax(near, far); x += 8) {
            dt_path_move(&strokes, x, y);
            dt_path_line(&strokes, x - 5, y + 5);
        }
    }
    dt_svg_path(sketch->svg, &strokes, (dt_ink){.stroke = DT_LINE, .width = 0.6});
    dt_svg_path(sketch->svg, &line, (dt_ink){.stroke = DT_LINE, .width = 1.6});
}

static void draw_rig_floor(const dt_sketch *sketch)
{
    double y = depth_y(sketch, 0);
    double foot = depth_y(sketch, sketch->program->well->rig_floor_m);
    double floor_w = panel_share(sketch, 0.877);
    dt_path legs = {0};
    for (int side = -1; side <= 1; side += 2) {
        dt_path_move(&legs, dt_panel_middle(sketch) + side * panel_share(sketch, 0.385), y);
        dt_path_line(&legs, dt_panel_middle(sketch) + side * panel_share(sketch, 0.415), foot);
    }
    dt_svg_path(sketch->svg, &legs, (dt_ink){.stroke = DT_LINE, .width = 0.9});
    dt_svg_rect(sketch->svg, (dt_box){dt_panel_middle(sketch) - floor_w / 2, y - 3, floor_w, 3},
                (dt_ink){.fill = DT_LINE});
}

void dt_draw_levels(const dt_sketch *sketch)
{
    const dt_well *well = sketch->program->well;
    draw_ground(sketch);
    draw_rig_floor(sketch);
    if (well->over_sea) {
        dt_path level = {0};
        double y = depth_y(sketch, well->rig_floor_m);
        dt_svg_line(sketch->svg, panel_left(sketch), y, panel_right(sketch), y,
                    (dt_ink){.stroke = DT_BLUE, .width = 1.2});
        dt_path_level(&level, panel_right(sketch) - 10, y);
        dt_svg_path(sketch->svg, &level, (dt_ink){.stroke = DT_BLUE, .width = 0.9});
    }
    if (isfinite(well->fresh_water_m) && well->fresh_water_m < sketch->depth.bottom_m) {
        dt_path level = {0};
        double y = depth_y(sketch, well->fresh_water_m);
        dt_svg_line(sketch->svg, panel_left(sketch), y, panel_right(sketch), y,
                    (dt_ink){.stroke = DT_BLUE, .width = 1.2, .dash = "7 3"});
        dt_path_level(&level, panel_left(sketch) + 10, y);
        dt_svg_path(sketch->svg, &level,
                    (dt_ink){.fill = DT_PAPER, .stroke = DT_BLUE, .width = 0.9});
    }
    double y = depth_y(sketch, well->objective_m);
    dt_svg_line(sketch->svg, panel_left(sketch), y, panel_right(sketch), y,
                (dt_ink){.stroke = DT_LINE, .width = 1, .dash = "10 3 2 3"});
}
