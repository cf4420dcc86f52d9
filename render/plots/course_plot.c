/* SPDX-License-Identifier: MIT */
/* The well along its hole: depth against the horizontal distance that the hole has gone, both to
 * one scale, with the strings as they lie in it. For wells that leave the vertical. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "depth_labels.h"
#include "plots.h"
#include "same.h"

#define TOP       100.0
#define LEFT      74.0           /* the depth axis */
#define WELL_X    (LEFT + 118.0) /* room for the names of beds */
#define RIGHT     520.0
#define MOST_H    700.0
#define LEAST_H   180.0
#define FOOT_H    88.0
#define WIDEST    15.0 /* the widest pipe, drawing units */
#define NARROWEST 3.4
#define STEP_M    5.0
#define STRAIGHT  0.01 /* a line may pass its points by so much */

/** A point of the hole's course on the page. */
typedef struct course_point {
    double md_m, x, y;
} course_point;

typedef struct course_plot {
    dt_sketch sketch;
    course_point *points;
    size_t count;
    double units_per_m; /* both ways */
    double deepest_m, away_m, end_md_m;
    double bottom_y;
} course_plot;

static double depth_y(const course_plot *p, double tvd_m)
{
    return TOP + tvd_m * p->units_per_m;
}

/* ---- the course ---- */

static double end_of(const dt_program *program)
{
    double end_m = 0;
    for (size_t i = 0; i < program->count; ++i)
        end_m = fmax(end_m, program->items[i].shoe_md_m);
    if (program->seats.open.given)
        end_m = fmax(end_m, dt_trajectory_md(&program->trajectory, program->seats.open.base_m));
    return end_m;
}

/** Depth and distance in metres for now; steps short enough that an arc looks like one. */
static bool follow(course_plot *p)
{
    const dt_trajectory *path = &p->sketch.program->trajectory;
    const size_t steps = (size_t)fmax(dt_count_up(p->end_md_m / STEP_M), 1);
    p->points = calloc(steps + 1, sizeof *p->points);
    if (!p->points) return false;
    double away_m = 0;
    for (size_t i = 0; i <= steps; ++i) {
        const double md_m = p->end_md_m * (double)i / (double)steps;
        const double tvd_m = dt_trajectory_tvd(path, md_m);
        if (i > 0) {
            const double middle = md_m - p->end_md_m / (double)steps / 2;
            away_m += sin(dt_trajectory_inclination(path, middle)) * p->end_md_m / (double)steps;
        }
        p->points[i] = (course_point){md_m, away_m, tvd_m};
        p->deepest_m = fmax(p->deepest_m, tvd_m);
    }
    p->count = steps + 1;
    p->away_m = away_m;
    return true;
}

static void to_page(course_plot *p)
{
    p->deepest_m *= 1.02;
    p->units_per_m = fmin((RIGHT - WELL_X - 12) / fmax(p->away_m, 1), MOST_H / p->deepest_m);
    p->bottom_y = TOP + fmax(p->deepest_m * p->units_per_m + WIDEST, LEAST_H);
    for (size_t i = 0; i < p->count; ++i) {
        p->points[i].x = WELL_X + p->points[i].x * p->units_per_m;
        p->points[i].y = depth_y(p, p->points[i].y);
    }
}

static course_point at_md(const course_plot *p, double md_m)
{
    const double place = md_m / p->end_md_m * (double)(p->count - 1);
    size_t i = (size_t)fmin(fmax(floor(place), 0), (double)(p->count - 2));
    const double part = fmin(fmax(place - (double)i, 0), 1);
    const course_point *a = &p->points[i], *b = a + 1;
    return (course_point){md_m, a->x + part * (b->x - a->x), a->y + part * (b->y - a->y)};
}

/** A line along the hole between two depths; points that lie on it straight are left out. */
static void stroke_hole(const course_plot *p, double top_md_m, double base_md_m, dt_ink ink)
{
    dt_path path = {0};
    course_point last = at_md(p, top_md_m), before = last;
    if (!(base_md_m > top_md_m)) return;
    dt_path_move(&path, last.x, last.y);
    for (size_t i = 0; i < p->count; ++i) {
        const course_point *q = &p->points[i];
        if (q->md_m <= top_md_m || q->md_m >= base_md_m) continue;
        const double length = hypot(q->x - last.x, q->y - last.y);
        const double off =
            fabs((q->x - last.x) * (before.y - last.y) - (q->y - last.y) * (before.x - last.x));
        if (off > STRAIGHT * length) { /* what was left out lies off the line */
            dt_path_line(&path, before.x, before.y);
            last = before;
        }
        before = *q;
    }
    dt_path_line(&path, before.x, before.y);
    const course_point end = at_md(p, base_md_m);
    dt_path_line(&path, end.x, end.y);
    dt_svg_path(p->sketch.svg, &path, ink);
}

/* ---- rock ---- */

static void draw_bed(const course_plot *p, double top_m, double base_m, const dt_hatch *hatch,
                     const char *name)
{
    const double top = depth_y(p, top_m);
    const double base = fmin(depth_y(p, base_m), p->bottom_y);
    if (top >= p->bottom_y) return;
    dt_path path = {0};
    dt_path_box(&path, (dt_box){LEFT, top, RIGHT - LEFT, fmax(base - top, 1.2)});
    dt_svg_hatch(p->sketch.svg, &path, hatch);
    char text[DT_LINE_BYTES];
    dt_text_fit(name, WELL_X - LEFT - 20, DT_TYPE, false, text);
    const double width = dt_text_width(text, DT_TYPE, false);
    const dt_box box = {LEFT + 4, (top + base) / 2 - 6.5, width + 4, 13};
    dt_svg_label_open(p->sketch.svg, box);
    dt_svg_text(p->sketch.svg, box.x + 2, (top + base) / 2,
                (dt_type){DT_TYPE, false, hatch->text, DT_START}, text);
    dt_svg_close(p->sketch.svg);
}

static void draw_rock(const course_plot *p)
{
    const dt_well *well = p->sketch.program->well;
    dt_svg *svg = p->sketch.svg;
    const double ground = depth_y(p, dt_well_ground_m(well));
    dt_svg_rect(svg, (dt_box){LEFT, ground, RIGHT - LEFT, p->bottom_y - ground},
                (dt_ink){.fill = DT_ROCK});
    if (well->over_sea) {
        const double sea = depth_y(p, well->rig_floor_m);
        dt_svg_rect(svg, (dt_box){LEFT, sea, RIGHT - LEFT, ground - sea},
                    (dt_ink){.fill = DT_WATER});
    }
    for (size_t i = 0; i < well->interval_count; ++i)
        draw_bed(p, well->intervals[i].top_m, well->intervals[i].base_m,
                 dt_hatch_of_kind(well->intervals[i].kind), well->intervals[i].name);
    for (size_t i = 0; i < well->pay_count; ++i)
        draw_bed(p, well->pays[i].top_m, well->pays[i].base_m, &dt_hatch_pay, well->pays[i].name);
    dt_svg_line(svg, LEFT, ground, RIGHT, ground, (dt_ink){.stroke = DT_LINE, .width = 1.4});
}

/* ---- pipe ---- */

static double pipe_width(const course_plot *p, double od_m)
{
    double widest_m = 0;
    for (size_t i = 0; i < p->sketch.program->count; ++i)
        widest_m = fmax(widest_m, p->sketch.program->items[i].od_m);
    return NARROWEST + (WIDEST - NARROWEST) * od_m / widest_m;
}

/** A bar across the hole at the shoe, square to it. */
static void draw_shoe(const course_plot *p, const dt_program_string *item, double reach)
{
    const course_point at = at_md(p, item->shoe_md_m), up = at_md(p, item->shoe_md_m - 3 * STEP_M);
    const double length = hypot(at.x - up.x, at.y - up.y);
    if (!(length > 0)) return;
    const double across_x = -(at.y - up.y) / length * reach,
                 across_y = (at.x - up.x) / length * reach;
    dt_svg_line(p->sketch.svg, at.x - across_x, at.y - across_y, at.x + across_x, at.y + across_y,
                (dt_ink){.stroke = DT_STEEL, .width = 2});
}

/** Cement, steel and bore as strokes over each other, the outermost string first. */
static void draw_string(const course_plot *p, size_t index)
{
    const dt_program_string *item = &p->sketch.program->items[index];
    const double width = pipe_width(p, item->od_m);
    const dt_cement *cement = &item->job->cement;
    if (cement->cemented)
        stroke_hole(p, cement->top_md_m, item->shoe_md_m,
                    (dt_ink){.stroke = DT_CEMENT, .width = width + 5});
    stroke_hole(p, item->top_md_m, item->shoe_md_m,
                (dt_ink){.stroke = DT_STEEL,
                         .width = width,
                         .dash = item->string->load.slotted ? "4 2" : NULL});
    stroke_hole(p, item->top_md_m, item->shoe_md_m,
                (dt_ink){.stroke = DT_HOLE, .width = width - 2.2});
    draw_shoe(p, item, width / 2 + 4);
}

static void draw_strings(const course_plot *p)
{
    const dt_program *program = p->sketch.program;
    const dt_open_end *open = &program->seats.open;
    stroke_hole(p, dt_trajectory_md(&program->trajectory, dt_well_ground_m(program->well)),
                p->end_md_m, (dt_ink){.stroke = DT_HOLE, .width = open->given ? NARROWEST : 1});
    for (size_t i = 0; i < program->count; ++i)
        draw_string(p, i);
}

/* ---- axes and words ---- */

static double unit_of(const course_plot *p)
{
    return 1 / dt_display_value(p->sketch.display, DT_KIND_LENGTH, 1);
}

static void axis_text(const course_plot *p, double x, double y, dt_anchor anchor, double value)
{
    dt_buffer words = {0};
    dt_say_depth_number(&words, p->sketch.display, value);
    if (words.failed) {
        p->sketch.svg->status = DT_E_MEMORY;
    } else {
        char text[DT_NUMBER_SIZE];
        snprintf(text, sizeof text, "%s", words.bytes);
        dt_svg_text(p->sketch.svg, x, y, (dt_type){DT_TYPE, false, DT_TEXT_QUIET, anchor}, text);
    }
    dt_buffer_free(&words);
}

static void draw_axes(const course_plot *p)
{
    dt_svg *svg = p->sketch.svg;
    const double unit = unit_of(p);
    const double step_m = dt_round_step(fmax(p->deepest_m, 90 / p->units_per_m) / unit / 9) * unit;
    const dt_ink tick = {.stroke = DT_LINE, .width = 0.8};
    dt_svg_line(svg, LEFT, TOP, LEFT, p->bottom_y, tick);
    for (double tvd_m = 0; depth_y(p, tvd_m) <= p->bottom_y; tvd_m += step_m) {
        dt_svg_line(svg, LEFT - 4, depth_y(p, tvd_m), LEFT, depth_y(p, tvd_m), tick);
        axis_text(p, LEFT - 7, depth_y(p, tvd_m), DT_END, tvd_m);
    }
    const double y = p->bottom_y + 6;
    dt_svg_line(svg, WELL_X, y, RIGHT, y, tick);
    const double most_m = (RIGHT - WELL_X) / p->units_per_m;
    const double across_m = dt_round_step(most_m / unit / 5) * unit;
    for (double away_m = 0; away_m <= most_m * (1 + TIE); away_m += across_m) {
        const double x = WELL_X + away_m * p->units_per_m;
        dt_svg_line(svg, x, y, x, y + 4, tick);
        axis_text(p, x, y + 12, DT_MIDDLE, away_m);
    }
    char words[96];
    snprintf(words, sizeof words, "%s TVD", dt_display_unit(p->sketch.display, DT_KIND_LENGTH));
    dt_svg_text(svg, LEFT, TOP - 12, (dt_type){DT_TYPE, true, DT_TEXT_QUIET, DT_END}, words);
    snprintf(words, sizeof words, "horizontal distance along the hole, %s",
             dt_display_unit(p->sketch.display, DT_KIND_LENGTH));
    dt_svg_text(svg, (WELL_X + RIGHT) / 2, y + 28,
                (dt_type){DT_TYPE, true, DT_TEXT_QUIET, DT_MIDDLE}, words);
}

static void label_strings(dt_sketch *sketch, dt_labels *labels, int detail)
{
    /* the sketch is the first member of its plot */
    const course_plot *p = (const course_plot *)(const void *)sketch;
    for (size_t i = 0; i < sketch->program->count; ++i) {
        const dt_program_string *item = &sketch->program->items[i];
        dt_label *label =
            dt_labels_add(labels, at_md(p, item->shoe_md_m).y, DT_TEXT, DT_LINE_QUIET);
        dt_buffer text = {0};
        dt_say_string(&text, sketch->program, i);
        dt_label_say(sketch, labels, label, true, 2, &text);
        if (detail > 0) {
            dt_buffer_text(&text, "shoe ");
            dt_say_md_tvd(&text, sketch->program, sketch->display, item->shoe_md_m,
                          item->shoe_tvd_m);
            dt_label_say(sketch, labels, label, false, 2, &text);
        }
        if (detail > 1 && item->job->cement.cemented) {
            dt_buffer_text(&text, "cement top ");
            dt_say_depth(&text, sketch->display, item->job->cement.top_md_m);
            dt_buffer_text(&text, " MD");
            dt_label_say(sketch, labels, label, false, 2, &text);
        }
        dt_buffer_free(&text);
    }
}

/** The label of a string whose shoe is at this height: labels are sorted by it. */
static void draw_leaders(const course_plot *p, const dt_labels *labels)
{
    for (size_t i = 0; i < labels->count; ++i) {
        const dt_label *label = &labels->items[i];
        const dt_program_string *item = &p->sketch.program->items[label->order - 1];
        const course_point at = at_md(p, item->shoe_md_m);
        dt_path path = {0};
        dt_path_move(&path, at.x + pipe_width(p, item->od_m) / 2 + 5, at.y);
        dt_path_line(&path, RIGHT + 8, at.y);
        dt_path_line(&path, DT_PAGE_W - DT_MARGIN - labels->width,
                     label->top + labels->size * DT_LINE_HEIGHT / 2 + 1.5);
        dt_svg_path(p->sketch.svg, &path, (dt_ink){.stroke = label->mark, .width = 0.7});
    }
}

static void draw_title(course_plot *p)
{
    dt_sketch *sketch = &p->sketch;
    dt_buffer text = {0};
    dt_say_not_runnable(&text, sketch->program);
    dt_buffer_text(&text,
                   "Course of the hole. Depth and horizontal distance to one scale: 1 mm is ");
    dt_say_depth(&text, sketch->display, DT_UNITS_PER_MM / p->units_per_m);
    dt_buffer_text(&text, " at a page width of 180 mm; pipe is drawn wider than it is.");
    dt_title_draw(sketch, 2, &text);
    dt_buffer_free(&text);
}

static void draw_page(course_plot *p)
{
    dt_labels right = {.width = DT_PAGE_W - DT_MARGIN - (RIGHT + 30)};
    dt_labels_fit(&p->sketch, &right, TOP - 20, p->bottom_y + 30, label_strings);
    draw_title(p);
    dt_svg_clip_open(p->sketch.svg, (dt_box){LEFT, TOP - 8, RIGHT - LEFT, p->bottom_y - TOP + 8});
    draw_rock(p);
    draw_strings(p);
    dt_svg_close(p->sketch.svg);
    draw_axes(p);
    draw_leaders(p, &right);
    dt_labels_draw(p->sketch.svg, &right, DT_PAGE_W - DT_MARGIN - right.width, DT_START);
    dt_labels_free(&right);
}

static void say_description(const course_plot *p, dt_buffer *text)
{
    const dt_program *program = p->sketch.program;
    dt_buffer_text(text,
                   "The hole as depth against horizontal distance, with its strings. Shoes: ");
    for (size_t i = 0; i < program->count; ++i) {
        if (i) dt_buffer_text(text, "; ");
        dt_say_string(text, program, i);
        dt_buffer_text(text, " at ");
        dt_say_md_tvd(text, program, p->sketch.display, program->items[i].shoe_md_m,
                      program->items[i].shoe_tvd_m);
    }
    dt_buffer_text(text, ".");
}

bool dt_has_course(const dt_program *program)
{
    return program->trajectory.count > 0;
}

dt_status dt_draw_course(const dt_program *program, dt_display display, dt_text *out)
{
    if (!dt_has_course(program)) return DT_E_NONE;
    course_plot p = {.sketch = {.program = program, .display = display},
                     .end_md_m = end_of(program)};
    if (!follow(&p)) return DT_E_MEMORY;
    to_page(&p);
    dt_buffer title = {0}, description = {0};
    dt_buffer_text(&title, "Course of the hole of ");
    dt_buffer_text(&title, program->well->name);
    say_description(&p, &description);
    dt_status status = DT_E_MEMORY;
    if (!title.failed && !description.failed) {
        dt_svg svg;
        const dt_svg_page page = {DT_PAGE_W, p.bottom_y + FOOT_H, "course", title.bytes,
                                  description.bytes};
        dt_svg_begin(&svg, &page);
        p.sketch.svg = &svg;
        draw_page(&p);
        status = dt_svg_end(&svg, out);
    }
    dt_buffer_free(&title);
    dt_buffer_free(&description);
    free(p.points);
    return status;
}
