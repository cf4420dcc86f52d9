/* SPDX-License-Identifier: MIT */
#include "depth_labels.h"

#include <math.h>
#include <stdio.h>

#include "review_words.h"
#include "same.h"

void dt_need(dt_sketch *sketch, const dt_buffer *buffer)
{
    if (buffer->failed) sketch->svg->status = DT_E_MEMORY;
}

/** How much a label tells: 3 everything, 2 no words for rules, 1 two lines, 0 one line. */
#define DT_MOST_DETAIL 3

void dt_label_say(dt_sketch *sketch, dt_labels *labels, dt_label *label, bool bold, size_t most,
                  dt_buffer *text)
{
    dt_need(sketch, text);
    if (!text->failed && text->size) dt_label_write(labels, label, bold, most, text->bytes);
    text->size = 0;
}

void dt_title_draw(dt_sketch *sketch, size_t most_lines, dt_buffer *what)
{
    dt_labels block = {.width = DT_PAGE_W - 2 * DT_MARGIN, .size = 17};
    dt_label *label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    dt_label_write(&block, label, true, 1, sketch->program->well->name);
    if (label) label->top = 8;
    dt_labels_draw(sketch->svg, &block, DT_MARGIN, DT_START);
    block.size = DT_TYPE;
    block.count = 0;
    label = dt_labels_add(&block, 0, DT_TEXT, NULL);
    dt_label_say(sketch, &block, label, false, most_lines, what);
    if (label) label->top = 32;
    dt_labels_draw(sketch->svg, &block, DT_MARGIN, DT_START);
    if (block.failed) sketch->svg->status = DT_E_MEMORY;
    dt_labels_free(&block);
}

/* ---- labels on the left: levels, intervals, pay ---- */

static void label_level(dt_sketch *sketch, dt_labels *labels, double tvd_m, const char *color,
                        const char *mark, const char *words, bool with_md)
{
    dt_label *label = dt_labels_add(labels, dt_depth_y(&sketch->depth, tvd_m), color, mark);
    dt_buffer text = {0};
    dt_buffer_text(&text, words);
    dt_buffer_text(&text, " ");
    if (with_md)
        dt_say_md_tvd(&text, sketch->program, sketch->display,
                      dt_trajectory_md(&sketch->program->trajectory, tvd_m), tvd_m);
    else
        dt_say_depth(&text, sketch->display, tvd_m);
    dt_label_say(sketch, labels, label, true, 2, &text);
    dt_need(sketch, &text);
    dt_buffer_free(&text);
}

static void say_action(const dt_sketch *sketch, const dt_interval *interval, dt_buffer *text)
{
    static const char *const words[] = {"behind pipe within ", "a shoe above it within ",
                                        "no shoe inside"};
    if (interval->action != DT_AVOID_SHOE && interval->within_m <= 0) {
        dt_buffer_text(text,
                       interval->action == DT_CASE_OFF ? "to be behind pipe" : "a shoe above it");
        return;
    }
    dt_buffer_text(text, words[interval->action]);
    if (interval->action != DT_AVOID_SHOE) dt_say_depth(text, sketch->display, interval->within_m);
}

static void label_interval(dt_sketch *sketch, dt_labels *labels, const dt_interval *interval,
                           int detail)
{
    const dt_hatch *hatch = dt_hatch_of_kind(interval->kind);
    double middle = (dt_depth_y(&sketch->depth, interval->top_m) +
                     dt_depth_y(&sketch->depth, interval->base_m)) /
                    2;
    dt_label *label = dt_labels_add(labels, middle, hatch->text, hatch->ink);
    dt_buffer text = {0};
    dt_label_write(labels, label, true, detail >= 2 ? 2 : 1, interval->name);
    if (detail >= 1) {
        if (detail >= 2 && hatch->name[0]) {
            dt_buffer_text(&text, hatch->words);
            dt_buffer_text(&text, ", ");
        } else if (detail >= 2) {
            dt_buffer_text(&text, interval->kind);
            dt_buffer_text(&text, ", ");
        }
        dt_say_range(&text, sketch->display, interval->top_m, interval->base_m);
        dt_label_say(sketch, labels, label, false, detail >= 2 ? 2 : 1, &text);
    }
    if (detail == 3) say_action(sketch, interval, &text);
    dt_label_say(sketch, labels, label, false, 2, &text);
    dt_need(sketch, &text);
    dt_buffer_free(&text);
}

static void label_pay(dt_sketch *sketch, dt_labels *labels, const dt_pay *pay, int detail)
{
    double middle =
        (dt_depth_y(&sketch->depth, pay->top_m) + dt_depth_y(&sketch->depth, pay->base_m)) / 2;
    dt_label *label = dt_labels_add(labels, middle, DT_TEXT, dt_hatch_pay.ink);
    dt_buffer text = {0};
    dt_label_write(labels, label, true, detail >= 2 ? 2 : 1, pay->name);
    dt_buffer_text(&text, "pay, ");
    dt_say_range(&text, sketch->display, pay->top_m, pay->base_m);
    if (detail >= 1) dt_label_say(sketch, labels, label, false, 1, &text);
    dt_need(sketch, &text);
    dt_buffer_free(&text);
}

static void label_break(dt_sketch *sketch, dt_labels *labels)
{
    if (!sketch->depth.broken) return;
    double y = (sketch->depth.upper_end_y + sketch->depth.lower_start_y) / 2;
    dt_label *label = dt_labels_add(labels, y, DT_TEXT_QUIET, DT_LINE_QUIET);
    dt_buffer text = {0};
    dt_buffer_text(&text, "depth scale changes at ");
    dt_say_depth(&text, sketch->display, sketch->depth.break_m);
    dt_label_say(sketch, labels, label, true, 2, &text);
    dt_need(sketch, &text);
    dt_buffer_free(&text);
}

/** Depths that were met already. */
typedef struct stops {
    const dt_program *program;
    dt_stop_visit visit;
    void *context;
    double tvd_m[16];
    size_t count;
} stops;

static void visit_stop(stops *s, const dt_notice *stopper, const dt_notice *n)
{
    const dt_figure *at = dt_notice_find_figure(n, "at_tvd");
    bool met = !at;
    for (size_t i = 0; i < s->count && !met; ++i)
        met = fabs(s->tvd_m[i] - at->value) < SAME_DEPTH_M;
    if (!met && s->count < COUNT_OF(s->tvd_m)) {
        char words[64] = "collides here as asked,";
        if (stopper->string < s->program->count) {
            char name[32];
            dt_program_string_name(s->program, stopper->string, name, sizeof name);
            snprintf(words, sizeof words, "%s is stopped here,", name);
        }
        s->tvd_m[s->count++] = at->value;
        s->visit(s->context, at->value, words);
    }
    for (size_t i = 0; i < n->because_count; ++i)
        visit_stop(s, stopper, &n->because[i]);
}

void dt_each_stop(const dt_program *program, dt_stop_visit visit, void *context)
{
    stops s = {.program = program, .visit = visit, .context = context};
    for (size_t i = 0; i < program->notices.count; ++i) {
        const dt_notice *n = &program->notices.items[i];
        if (dt_notice_gravity(n->code) == DT_STOPPER) visit_stop(&s, n, n);
    }
}

void dt_say_not_runnable(dt_buffer *text, const dt_program *program)
{
    char words[64];
    if (dt_program_runnable(program)) return;
    dt_stoppers_words(program, words, sizeof words);
    dt_buffer_text(text, "NOT RUNNABLE: ");
    dt_buffer_text(text, words);
    dt_buffer_text(text, ". ");
}

typedef struct stop_labels {
    dt_sketch *sketch;
    dt_labels *labels;
} stop_labels;

static void label_stop(void *context, double tvd_m, const char *words)
{
    const stop_labels *to = context;
    label_level(to->sketch, to->labels, fmin(tvd_m, to->sketch->depth.bottom_m), DT_TEXT_RUST,
                DT_RUST, words, false);
}

void dt_label_levels(dt_sketch *sketch, dt_labels *labels, int detail)
{
    const dt_well *well = sketch->program->well;
    label_level(sketch, labels, 0, DT_TEXT_QUIET, DT_LINE_QUIET, "rig floor,", false);
    if (well->over_sea)
        label_level(sketch, labels, well->rig_floor_m, DT_TEXT_BLUE, DT_BLUE, "sea level,", false);
    label_level(sketch, labels, dt_well_ground_m(well), DT_TEXT_QUIET, DT_LINE_QUIET,
                well->over_sea ? "mudline," : "ground level,", false);
    if (isfinite(well->fresh_water_m))
        label_level(sketch, labels, fmin(well->fresh_water_m, sketch->depth.bottom_m), DT_TEXT_BLUE,
                    DT_BLUE, "deepest fresh water,", false);
    label_break(sketch, labels);
    for (size_t i = 0; i < well->interval_count; ++i)
        if (well->intervals[i].top_m < sketch->depth.bottom_m)
            label_interval(sketch, labels, &well->intervals[i], detail);
    for (size_t i = 0; i < well->pay_count; ++i)
        if (well->pays[i].top_m < sketch->depth.bottom_m)
            label_pay(sketch, labels, &well->pays[i], detail);
    dt_each_stop(sketch->program, label_stop, &(stop_labels){sketch, labels});
    label_level(sketch, labels, well->objective_m, DT_TEXT, DT_LINE, "objective,", true);
}

/** Keeps as many labels as fit and says below how many are not there. */
static void place_what_fits(dt_sketch *sketch, dt_labels *labels, double low, double high)
{
    double step = labels->size * DT_LINE_HEIGHT + 6;
    size_t fit = (size_t)((high - low) / step);
    if (labels->count > fit && fit > 1) {
        dt_buffer text = {0};
        dt_buffer_text(&text, "and ");
        dt_buffer_number(&text, (double)(labels->count - fit + 1), 0);
        dt_buffer_text(&text, " more, drawn but not labelled");
        labels->count = fit - 1;
        dt_label *label = dt_labels_add(labels, high, DT_TEXT_RUST, DT_PAPER);
        dt_label_say(sketch, labels, label, true, 1, &text);
        dt_buffer_free(&text);
    }
    if (!dt_labels_place(labels, low, high)) sketch->svg->status = DT_E_MEMORY;
}

void dt_labels_fit(dt_sketch *sketch, dt_labels *labels, double low, double high,
                   void (*fill)(dt_sketch *, dt_labels *, int))
{
    labels->size = DT_TYPE;
    for (int detail = DT_MOST_DETAIL; detail >= 0 && sketch->svg->status == DT_OK; --detail) {
        labels->count = 0;
        fill(sketch, labels, detail);
        if (labels->failed) sketch->svg->status = DT_E_MEMORY;
        if (dt_labels_place(labels, low, high)) return;
    }
    if (sketch->svg->status == DT_OK) place_what_fits(sketch, labels, low, high);
}
