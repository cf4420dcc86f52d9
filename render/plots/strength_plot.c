/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>

#include "labels.h"
#include "plots.h"
#include "same.h"
#include "wording.h"

/* Loads against ratings over depth: a panel a check, every case a line with a dash of its own, the
 * rating divided by its design factor the wall they must stay left of. */

#define PAGE_W   720.0
#define PAGE_H   572.0
#define MARGIN   14.0
#define TOP      100.0
#define BOTTOM   430.0
#define FIRST_X  66.0
#define PANEL_W  148.0
#define GAP      14.0
#define KEY_STEP 14.4

enum { MOST_LINES = 8 };

/* In order of appearance in a panel: never colour alone. */
static const struct style {
    const char *stroke, *dash;
    double width;
} styles[MOST_LINES] = {
    {DT_BLUE, NULL, 1.7},        {DT_RUST, "7 3", 1.7},          {DT_GREEN, "2 2", 1.9},
    {"#a8507f", "9 2 2 2", 1.7}, {DT_LINE_QUIET, "4 2", 1.5},    {DT_BLUE, "1 3", 1.9},
    {DT_RUST, "12 3 3 3", 1.3},  {DT_GREEN, "5 2 1 2 1 2", 1.3},
};

static const struct panel_kind {
    const char *head;
    dt_kind kind;
} kinds[DT_CHECK_COUNT] = {
    [DT_CHECK_BURST] = {"Burst", DT_KIND_PRESSURE},
    [DT_CHECK_COLLAPSE] = {"Collapse", DT_KIND_PRESSURE},
    [DT_CHECK_TENSION] = {"Tension", DT_KIND_FORCE},
    [DT_CHECK_TRIAXIAL] = {"Triaxial", DT_KIND_PRESSURE},
};

typedef struct plot {
    const dt_program *program;
    const dt_string *string;
    dt_display display;
    dt_svg *svg;
    dt_trace trace;
} plot;

typedef struct panel {
    dt_check check;
    double x;    /* left edge */
    double most; /* SI value at the right edge */
    dt_load lines[MOST_LINES];
    size_t line_count;
} panel;

/** A text in one place that the drawing owns. */
static void put(plot *p, double x, double y, dt_type type, const dt_buffer *text)
{
    if (text->failed) {
        p->svg->status = DT_E_MEMORY;
        return;
    }
    if (!text->size) return;
    const double width = dt_text_width(text->bytes, type.size, type.bold);
    const double left = type.anchor == DT_MIDDLE ? x - width / 2
                        : type.anchor == DT_END  ? x - width
                                                 : x;
    dt_svg_label_open(p->svg, (dt_box){left, y - type.size * 0.62, width, type.size * 1.24});
    dt_svg_text(p->svg, x, y, type, text->bytes);
    dt_svg_close(p->svg);
}

static double depth_y(const plot *p, double md_m)
{
    const dt_string_load *load = &p->string->load;
    return TOP + (BOTTOM - TOP) * (md_m - load->top_md_m) / (load->shoe_md_m - load->top_md_m);
}

static double value_x(const panel *n, double value)
{
    return n->x + PANEL_W * fmax(fmin(value / n->most, 1), 0);
}

/** Load of a line at a point; NAN for none. */
static double line_load(const panel *n, size_t line, const dt_trace_point *at)
{
    return n->check == DT_CHECK_TRIAXIAL ? at->triaxial_load : at->load[n->lines[line]];
}

static double needed(const plot *p, const panel *n, size_t line)
{
    const dt_design_in_force *design = &p->program->design;
    return n->check == DT_CHECK_TRIAXIAL ? design->triaxial
                                         : dt_design_needed(design, n->lines[line]);
}

/** Lines up to here need another factor than those from it on; 0 where all need one. In tension the
 * weight that hangs alone comes first, and has its own. */
static size_t parted(const plot *p, const panel *n)
{
    const bool two = n->line_count > 1 && needed(p, n, 0) != needed(p, n, 1);
    return two ? 1 : 0;
}

/** Where what a line asks for ends: rating over factor. */
static const dt_ink wall = {.stroke = DT_STEEL, .width = 1.1, .dash = "10 3"};
static const dt_ink wall_alone = {.stroke = DT_STEEL, .width = 1.1, .dash = "3 3"};

/* ---- panels ---- */

static void list_lines(const plot *p, panel *n)
{
    n->line_count = 0;
    if (n->check == DT_CHECK_TRIAXIAL) {
        n->line_count = 1;
        n->lines[0] = DT_LOAD_COUNT;
        return;
    }
    for (int i = 0; i < DT_LOAD_COUNT && n->line_count < MOST_LINES; ++i)
        if (p->string->load.runs[i] && dt_load_check((dt_load)i) == n->check)
            n->lines[n->line_count++] = (dt_load)i;
}

static void set_range(const plot *p, panel *n)
{
    double most = 0;
    for (size_t i = 0; i < p->trace.count; ++i) {
        const dt_trace_point *at = &p->trace.points[i];
        if (isfinite(at->rating[n->check])) most = fmax(most, at->rating[n->check]);
        for (size_t k = 0; k < n->line_count; ++k)
            if (isfinite(line_load(n, k, at))) most = fmax(most, line_load(n, k, at));
    }
    n->most = most > 0 ? most * 1.06 : 1;
}

static void draw_grid(plot *p, const panel *n)
{
    const struct panel_kind *kind = &kinds[n->check];
    const double unit = 1 / dt_display_value(p->display, kind->kind, 1);
    const double step = dt_round_step(n->most / unit / 2.8);
    for (double k = 0; k * step * unit <= n->most; ++k) {
        const double x = value_x(n, k * step * unit);
        char number[DT_NUMBER_SIZE];
        dt_buffer text = {0};
        dt_svg_line(p->svg, x, TOP, x, BOTTOM, (dt_ink){.stroke = DT_LINE_FAINT, .width = 0.5});
        dt_number_text(k * step, 3, number);
        dt_buffer_text(&text, number);
        /* the last number keeps clear of the next panel's first */
        const double half = dt_text_width(number, DT_TYPE, false) / 2;
        put(p, fmin(x, n->x + PANEL_W + 3 - half), TOP - 8,
            (dt_type){DT_TYPE, false, DT_TEXT_QUIET, DT_MIDDLE}, &text);
        dt_buffer_free(&text);
    }
}

/** A line through the points: value(at) divided by `by`; it breaks where there is none. */
static void draw_values(plot *p, const panel *n, size_t line, bool rating, double by, dt_ink ink)
{
    dt_path path = {0};
    bool down = false;
    for (size_t i = 0; i < p->trace.count; ++i) {
        const dt_trace_point *at = &p->trace.points[i];
        const double value = rating ? at->rating[n->check] : line_load(n, line, at);
        if (!isfinite(value)) {
            down = false;
            continue;
        }
        const double x = value_x(n, value / by), y = depth_y(p, at->md_m);
        if (down)
            dt_path_line(&path, x, y);
        else
            dt_path_move(&path, x, y);
        down = true;
    }
    dt_svg_path(p->svg, &path, ink);
}

/** A diamond where the factor is smallest. */
static void draw_worst(plot *p, const panel *n)
{
    const dt_factor *worst = NULL;
    for (size_t i = 0; i < p->string->section_count; ++i) {
        const dt_factor *f = &p->string->sections[i].screen.by_check[n->check];
        if (!isfinite(f->factor)) continue;
        if (!worst || f->factor / f->needed < worst->factor / worst->needed) worst = f;
    }
    if (!worst) return;
    const double x = value_x(n, worst->load), y = depth_y(p, worst->at_md_m);
    dt_svg_diamond(p->svg, x, y, 4, (dt_ink){.fill = DT_CHOSEN, .stroke = DT_LINE, .width = 1});
}

static void draw_head(plot *p, const panel *n)
{
    dt_buffer head = {0};
    dt_buffer_text(&head, kinds[n->check].head);
    dt_buffer_text(&head, ", ");
    dt_buffer_text(&head, dt_display_unit(p->display, kinds[n->check].kind));
    put(p, n->x + PANEL_W / 2, TOP - 26, (dt_type){12, true, DT_TEXT, DT_MIDDLE}, &head);
    dt_buffer_free(&head);
    dt_svg_rect(p->svg, (dt_box){n->x, TOP, PANEL_W, BOTTOM - TOP},
                (dt_ink){.stroke = DT_LINE, .width = 0.8});
}

static void draw_unloaded(plot *p, const panel *n)
{
    dt_buffer text = {0};
    draw_head(p, n);
    dt_buffer_text(&text, "no case is looked at");
    put(p, n->x + PANEL_W / 2, (TOP + BOTTOM) / 2,
        (dt_type){DT_TYPE, false, DT_TEXT_QUIET, DT_MIDDLE}, &text);
    dt_buffer_free(&text);
}

static void draw_panel(plot *p, const panel *n)
{
    draw_grid(p, n);
    draw_head(p, n);
    draw_values(p, n, 0, true, 1, (dt_ink){.stroke = DT_STEEL, .width = 3});
    draw_values(p, n, 0, true, needed(p, n, parted(p, n)), wall);
    if (parted(p, n)) draw_values(p, n, 0, true, needed(p, n, 0), wall_alone);
    for (size_t k = 0; k < n->line_count; ++k)
        draw_values(
            p, n, k, false, 1,
            (dt_ink){.stroke = styles[k].stroke, .width = styles[k].width, .dash = styles[k].dash});
    draw_worst(p, n);
}

/* ---- key ---- */

static void say_factor(dt_buffer *text, double factor)
{
    if (isnan(factor)) {
        dt_buffer_text(text, "not loaded");
    } else if (!isfinite(factor) || factor >= 100) {
        dt_buffer_text(text, "over 99");
    } else {
        /* never rounded up: a factor that is asked for is reached or it is not */
        char number[32];
        snprintf(number, sizeof number, "%.2f", dt_shown_factor(factor));
        dt_buffer_text(text, number);
    }
}

/** Smallest factor of a case over the sections of the string. */
static double least_factor(const plot *p, const panel *n, size_t line)
{
    double least = NAN;
    for (size_t i = 0; i < p->string->section_count; ++i) {
        const dt_screen *s = &p->string->sections[i].screen;
        least = fmin(least, n->check == DT_CHECK_TRIAXIAL ? s->by_check[n->check].factor
                                                          : s->by_load[n->lines[line]].factor);
    }
    return least;
}

static void key_line(plot *p, const panel *n, double y, dt_ink ink, dt_buffer *text)
{
    dt_svg_line(p->svg, n->x, y, n->x + 22, y, ink);
    if (!text->failed && text->size) {
        char fitted[DT_LINE_BYTES];
        dt_text_fit(text->bytes, PANEL_W - 24, DT_TYPE, false, fitted);
        text->size = 0;
        dt_buffer_text(text, fitted);
    }
    put(p, n->x + 26, y, (dt_type){DT_TYPE, false, DT_TEXT, DT_START}, text);
    dt_buffer_free(text);
}

static void draw_key(plot *p, const panel *n)
{
    double y = BOTTOM + 16;
    dt_buffer text = {0};
    for (size_t k = 0; k < n->line_count; ++k, y += KEY_STEP) {
        text = (dt_buffer){0};
        dt_buffer_text(&text, n->check == DT_CHECK_TRIAXIAL ? "largest of all cases"
                                                            : dt_load_code(n->lines[k]));
        dt_buffer_text(&text, ": ");
        say_factor(&text, least_factor(p, n, k));
        key_line(
            p, n, y,
            (dt_ink){.stroke = styles[k].stroke, .width = styles[k].width, .dash = styles[k].dash},
            &text);
    }
    text = (dt_buffer){0};
    dt_buffer_text(&text, n->check == DT_CHECK_TRIAXIAL ? "yield strength" : "rating");
    key_line(p, n, y, (dt_ink){.stroke = DT_STEEL, .width = 3}, &text);
    for (size_t k = parted(p, n) + 1; k-- > 0;) {
        text = (dt_buffer){0};
        dt_buffer_text(&text, parted(p, n) == 0 ? "rating / "
                              : k == 0          ? "by weight, rating / "
                                                : "else rating / ");
        dt_buffer_number(&text, needed(p, n, k), 3);
        y += KEY_STEP;
        key_line(p, n, y, k == parted(p, n) ? wall : wall_alone, &text);
    }
}

/* ---- depth and sections ---- */

static void depth_number(plot *p, double md_m, dt_type type)
{
    dt_buffer text = {0};
    dt_say_depth_number(&text, p->display, md_m);
    put(p, FIRST_X - 8, depth_y(p, md_m), type, &text);
    dt_buffer_free(&text);
}

static void draw_depths(plot *p)
{
    const dt_string_load *load = &p->string->load;
    const double unit = 1 / dt_display_value(p->display, DT_KIND_LENGTH, 1);
    const double step = dt_round_step((load->shoe_md_m - load->top_md_m) / unit / 8) * unit;
    for (double md_m = dt_count_up(load->top_md_m / step) * step;
         md_m <= load->shoe_md_m + SAME_DEPTH_M; md_m += step) {
        const double y = depth_y(p, md_m);
        dt_svg_line(p->svg, FIRST_X - 5, y, FIRST_X, y, (dt_ink){.stroke = DT_LINE, .width = 0.8});
        depth_number(p, md_m, (dt_type){DT_TYPE, false, DT_TEXT_QUIET, DT_END});
    }
    dt_buffer text = {0};
    dt_buffer_text(&text, "MD, ");
    dt_buffer_text(&text, dt_display_unit(p->display, DT_KIND_LENGTH));
    put(p, FIRST_X - 8, TOP - 26, (dt_type){DT_TYPE, true, DT_TEXT_QUIET, DT_END}, &text);
    dt_buffer_free(&text);
}

static void say_section(const plot *p, const dt_section *s, dt_buffer *text)
{
    dt_say_range(text, p->display, s->top_md_m, s->base_md_m);
    dt_buffer_text(text, ": ");
    dt_say_quantity(text, p->display, DT_KIND_LINEAR_MASS, s->pipe->weight_kgm);
    dt_buffer_text(text, " ");
    dt_buffer_text(text, s->pipe->grade->name);
    dt_buffer_text(text, " ");
    dt_buffer_text(text, dt_pipe_thread_text(s->pipe, s->thread));
}

static void draw_sections(plot *p)
{
    double y = PAGE_H - 8 - KEY_STEP * (double)(p->string->section_count - 1);
    for (size_t i = 0; i < p->string->section_count; ++i) {
        const dt_section *s = &p->string->sections[i];
        dt_buffer text = {0};
        say_section(p, s, &text);
        if (s->cheaper_pipe) {
            dt_buffer_text(&text, "; next cheaper, ");
            dt_say_quantity(&text, p->display, DT_KIND_LINEAR_MASS, s->cheaper_pipe->weight_kgm);
            dt_buffer_text(&text, " ");
            dt_buffer_text(&text, s->cheaper_pipe->grade->name);
            dt_buffer_text(&text, " ");
            dt_buffer_text(&text, dt_pipe_thread_text(s->cheaper_pipe, s->cheaper_thread));
            dt_buffer_text(&text, ", fails ");
            dt_buffer_text(&text, dt_check_code(s->cheaper_check));
            dt_buffer_text(&text, ", ");
            dt_buffer_text(&text, dt_load_code(s->cheaper_load));
            dt_buffer_text(&text, ", at ");
            say_factor(&text, s->cheaper_factor.factor);
        }
        put(p, MARGIN, y, (dt_type){DT_TYPE, false, DT_TEXT, DT_START}, &text);
        dt_buffer_free(&text);
        y += KEY_STEP;
        if (i + 1 == p->string->section_count) break;
        const double line_y = depth_y(p, s->base_md_m);
        dt_svg_line(p->svg, FIRST_X, line_y, FIRST_X + 4 * PANEL_W + 3 * GAP, line_y,
                    (dt_ink){.stroke = DT_LINE_QUIET, .width = 0.7, .dash = "2 2"});
    }
}

/* ---- the page ---- */

static void draw_title(plot *p, size_t index)
{
    dt_labels block = {.width = PAGE_W - 2 * MARGIN, .size = 15};
    dt_label *label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    dt_buffer text = {0};
    dt_say_string(&text, p->program, index);
    dt_buffer_text(&text, ", ");
    dt_buffer_text(&text, p->program->well->name);
    if (!text.failed) dt_label_write(&block, label, true, 1, text.bytes);
    if (label) label->top = 8;
    dt_labels_draw(p->svg, &block, MARGIN, DT_START);
    block.size = DT_TYPE;
    block.count = 0;
    label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    dt_label_write(&block, label, false, 2,
                   "Loads against ratings. A load left of the dashed line holds with the factor "
                   "asked for; the diamond is where the factor is smallest. Burst and collapse "
                   "are differential, triaxial is the von Mises stress.");
    if (label) label->top = 30;
    dt_labels_draw(p->svg, &block, MARGIN, DT_START);
    if (block.failed || text.failed) p->svg->status = DT_E_MEMORY;
    dt_buffer_free(&text);
    dt_labels_free(&block);
}

static void draw_page(plot *p, size_t index)
{
    draw_title(p, index);
    draw_depths(p);
    draw_sections(p);
    for (int i = 0; i < DT_CHECK_COUNT; ++i) {
        panel n = {.check = (dt_check)i, .x = FIRST_X + i * (PANEL_W + GAP)};
        list_lines(p, &n);
        if (n.line_count == 0) {
            draw_unloaded(p, &n);
            continue;
        }
        set_range(p, &n);
        draw_panel(p, &n);
        draw_key(p, &n);
    }
}

dt_status dt_draw_strength(const dt_program *program, size_t index, dt_display display,
                           dt_text *out)
{
    if (index >= dt_program_strings(program)) return DT_E_DOMAIN;
    plot p = {.program = program, .string = program->items[index].string, .display = display};
    dt_buffer title = {0};
    dt_status status = dt_string_trace(program->catalogue, p.string, &program->trajectory,
                                       &program->design, &p.trace);
    if (status != DT_OK) return status;
    dt_buffer_text(&title, "Strength of the ");
    dt_say_string(&title, program, index);
    dt_buffer_text(&title, " string of ");
    dt_buffer_text(&title, program->well->name);
    status = DT_E_MEMORY;
    if (!title.failed) {
        dt_svg svg;
        const dt_svg_page page = {PAGE_W, PAGE_H, "strength", title.bytes,
                                  "Loads of every case and ratings of the pipe against measured "
                                  "depth: burst, collapse, tension, triaxial."};
        dt_svg_begin(&svg, &page);
        p.svg = &svg;
        draw_page(&p, index);
        status = dt_svg_end(&svg, out);
    }
    dt_buffer_free(&title);
    dt_trace_free(&p.trace);
    return status;
}
