/* SPDX-License-Identifier: MIT */
/* Reasons: what binds every choice of a program, and what easing the bound would gain. */
#include "why.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "section.h"
#include "sentence.h"

const char *dt_why_subject_text(dt_why_subject subject)
{
    static const char *const texts[] = {[DT_WHY_SEAT] = "seat",
                                        [DT_WHY_HOLE] = "hole",
                                        [DT_WHY_PIPE] = "pipe",
                                        [DT_WHY_WEIGHT] = "weight",
                                        [DT_WHY_CEMENT] = "cement top"};
    return texts[subject];
}

/* ---- shadow values of seats ---- */

/** One step by which a bound is eased, in what people read. */
typedef struct step {
    dt_kind kind;
    double field_si, metric_si;
    const char *words; /* "more fracture gradient" */
} step;

#define MORE_FRACTURE                                                                              \
    {                                                                                              \
        DT_KIND_DENSITY, 0.1 * DT_KGM3_PER_PPG, 10, "more fracture gradient"                       \
    }
#define MORE_OVERBALANCE                                                                           \
    {                                                                                              \
        DT_KIND_PRESSURE, 100 * DT_PA_PER_PSI, 1e6, "more sticking limit"                          \
    }
#define LESS_DEPTH(words)                                                                          \
    {                                                                                              \
        DT_KIND_LENGTH, 100 * DT_M_PER_FT, 10, words                                               \
    }

static const step steps[DT_RULE_COUNT] = {
    [DT_RULE_MUD_LIMIT] = MORE_FRACTURE,
    [DT_RULE_KICK_FIXED] = MORE_FRACTURE,
    [DT_RULE_KICK_DEPTH_RATIO] = MORE_FRACTURE,
    [DT_RULE_INFLUX_VOLUME] = MORE_FRACTURE,
    [DT_RULE_STICKING_NORMAL] = MORE_OVERBALANCE,
    [DT_RULE_STICKING_ABNORMAL] = MORE_OVERBALANCE,
    [DT_RULE_CASE_OFF] = LESS_DEPTH("more hole allowed below the interval"),
    [DT_RULE_CASE_ABOVE] = LESS_DEPTH("more distance allowed above the interval"),
    [DT_RULE_AVOID_SHOE] = LESS_DEPTH("less interval"),
    [DT_RULE_FRESH_WATER] = LESS_DEPTH("less cover of fresh water"),
};

/** A private copy of a well with one bound eased. */
typedef struct eased {
    dt_well well;
    dt_curve_point *fracture;
    dt_interval *intervals;
} eased;

static dt_status ease(const dt_well *well, const dt_reason *why, double by, eased *out)
{
    eased e = {.well = *well};
    e.fracture = malloc((well->fracture.count + 1) * sizeof *e.fracture);
    e.intervals = malloc((well->interval_count + 1) * sizeof *e.intervals);
    if (!e.fracture || !e.intervals) {
        free(e.fracture);
        free(e.intervals);
        return DT_E_MEMORY;
    }
    for (size_t i = 0; i < well->fracture.count; ++i) {
        e.fracture[i] = well->fracture.points[i];
        if (steps[why->rule].kind == DT_KIND_DENSITY) e.fracture[i].emw_kgm3 += by;
    }
    for (size_t i = 0; i < well->interval_count; ++i)
        e.intervals[i] = well->intervals[i];
    e.well.fracture.points = e.fracture;
    e.well.intervals = e.intervals;
    if (why->rule == DT_RULE_STICKING_NORMAL) e.well.sticking.normal_limit_pa += by;
    if (why->rule == DT_RULE_STICKING_ABNORMAL) e.well.sticking.abnormal_limit_pa += by;
    if (why->rule == DT_RULE_FRESH_WATER) e.well.fresh_water_cover_m -= by;
    if (why->interval < well->interval_count) {
        dt_interval *at = &e.intervals[why->interval];
        if (why->rule == DT_RULE_AVOID_SHOE && at->base_m - by > at->top_m) at->base_m -= by;
        if (why->rule != DT_RULE_AVOID_SHOE) at->within_m += by;
    }
    *out = e;
    return DT_OK;
}

/** Where the seat comes to stand between its neighbours, not rounded. */
static double place_between(const dt_program *p, const dt_well *well, const dt_window *window,
                            size_t string)
{
    const dt_seat *seats = p->seats.items;
    if (well->seats.prefer == DT_PREFER_DEEPEST)
        return dt_seats_deepest(window, seats[string - 1].shoe_m, seats[string + 1].shoe_m);
    size_t fixed =
        string - 1; /* seats above a chosen one move up with it, down to the last fixed */
    while (fixed > 0 && !seats[fixed].shoe_pinned)
        --fixed;
    double at = dt_seats_shallowest(window, seats[fixed].shoe_m, seats[string + 1].shoe_m);
    if (isfinite(well->fresh_water_m))
        at = fmax(at, well->fresh_water_m + well->fresh_water_cover_m);
    return isnan(at) ? at : dt_seats_out_of_avoided(window, at);
}

/** How far the seat moves when its bound is eased by a step; NAN where there is no such bound. */
static dt_status shadow_of(const dt_program *p, size_t string, double by, double *moves_m)
{
    const dt_reason *why = &p->seats.items[string].why;
    bool chosen = string > 0 && string + 1 < p->count && !p->seats.items[string].shoe_pinned;
    *moves_m = NAN;
    if (!chosen || !steps[why->rule].words) return DT_OK;
    eased e;
    dt_window window = {0};
    dt_status status = ease(p->well, why, by, &e);
    if (status != DT_OK) return status;
    status = dt_window_build(&e.well, &window);
    if (status == DT_OK)
        *moves_m = place_between(p, &e.well, &window, string) -
                   place_between(p, p->well, &p->window, string);
    dt_window_free(&window);
    free(e.fracture);
    free(e.intervals);
    return status;
}

/* ---- items ---- */

static dt_status add_item(dt_why *list, dt_why_item item, sentence *text, sentence *slack)
{
    dt_status status = sentence_take(text, &item.text);
    if (slack && (slack->bytes || slack->failed)) {
        dt_status second = sentence_take(slack, &item.slack_text);
        if (status == DT_OK) status = second;
    }
    dt_why_item *items = realloc(list->items, (list->count + 1) * sizeof *items);
    if (items) list->items = items;
    if (status == DT_OK && items) {
        items[list->count++] = item;
        return DT_OK;
    }
    free(item.text);
    free(item.slack_text);
    return DT_E_MEMORY;
}

static void say_shadow(sentence *s, const step *by, double si, double moves_m, dt_display display)
{
    shown step_text = show(display, by->kind, si);
    if (fabs(moves_m) < 0.01) {
        say(s, "%s %s would not move it: a step or another bound holds it there", step_text.text,
            by->words);
        return;
    }
    say(s, "%s %s would let it stand %s %s", step_text.text, by->words,
        show(display, DT_KIND_LENGTH, fabs(moves_m)).text, moves_m < 0 ? "shallower" : "deeper");
}

static dt_status explain_seat(const dt_program *p, size_t i, dt_display display, dt_why *out)
{
    const dt_reason *why = &p->seats.items[i].why;
    const step *by = &steps[why->rule];
    dt_why_item item = {.string = i,
                        .subject = DT_WHY_SEAT,
                        .rule = dt_rule_code(why->rule),
                        .at_tvd_m = why->tvd_m,
                        .have = why->have,
                        .need = why->need,
                        .kind = why->kind,
                        .slack_kind = by->kind,
                        .slack_step = display == DT_DISPLAY_METRIC ? by->metric_si : by->field_si};
    char *reason = NULL;
    dt_status status = shadow_of(p, i, item.slack_step, &item.moves_m);
    if (status == DT_OK) status = dt_reason_sentence(why, p->well, display, &reason);
    if (status != DT_OK) return status;
    sentence text = {0}, slack = {0};
    say(&text, "%s", reason);
    free(reason);
    if (isfinite(item.moves_m)) say_shadow(&slack, by, item.slack_step, item.moves_m, display);
    return add_item(out, item, &text, &slack);
}

/** An item whose rule has two sides that are diameters, and no slope: sizes come in steps. */
static dt_why_item size_item(size_t i, dt_why_subject subject, const char *rule, double have,
                             double need)
{
    return (dt_why_item){.string = i,
                         .subject = subject,
                         .rule = rule,
                         .at_tvd_m = NAN,
                         .have = have,
                         .need = need,
                         .kind = DT_KIND_DIAMETER,
                         .moves_m = NAN,
                         .slack_step = NAN};
}

static dt_status explain_hole(const dt_program *p, size_t i, dt_display display, dt_why *out)
{
    const dt_program_string *at = &p->items[i];
    if (i == 0 && p->well->conductor.method != DT_CONDUCTOR_DRILLED) return DT_OK;
    double gap = (at->hole_m - at->largest_od_m) / 2, need = dt_nest_clearance(p->well, at->od_m);
    dt_why_item item = size_item(i, DT_WHY_HOLE, "clearance", gap, need);
    sentence text = {0}, slack = {0};
    say(&text, "the %s in hole leaves %s round the largest diameter run, %s is asked for",
        show_inches(at->hole_m).text, show(display, DT_KIND_DIAMETER, gap).text,
        show(display, DT_KIND_DIAMETER, need).text);
    say(&slack, "%s of the gap could be given up; holes come in bit sizes, so there is no slope",
        show(display, DT_KIND_DIAMETER, gap - need).text);
    return add_item(out, item, &text, &slack);
}

static dt_status explain_pipe(const dt_program *p, size_t i, dt_display display, dt_why *out)
{
    const dt_program_string *at = &p->items[i];
    sentence text = {0}, slack = {0};
    if (i + 1 == p->count) {
        dt_why_item item =
            size_item(i, DT_WHY_PIPE, "completion", at->od_m, p->well->min_pipe_od_m);
        say(&text, "the completion needs %s in or more, the pipe is %s in",
            show_inches(p->well->min_pipe_od_m).text, show_inches(at->od_m).text);
        return add_item(out, item, &text, NULL);
    }
    double bit = at->string->need_drift_m, drift = INFINITY;
    for (size_t k = 0; k < at->string->section_count; ++k)
        drift = fmin(drift, dt_nest_drift(p->well, at->string->sections[k].pipe));
    dt_why_item item = size_item(i, DT_WHY_PIPE, "drift", drift, bit);
    say(&text, "the next bit, %s in, must pass: the drift of the %s in pipe is %s",
        show_inches(bit).text, show_inches(at->od_m).text,
        show(display, DT_KIND_DIAMETER, drift).text);
    say(&slack, "%s of drift is to spare; pipe comes in sizes, so there is no slope",
        show(display, DT_KIND_DIAMETER, drift - bit).text);
    return add_item(out, item, &text, &slack);
}

static dt_status explain_weight(const dt_program *p, size_t i, dt_display display, dt_why *out)
{
    const dt_string *string = p->items[i].string;
    for (size_t k = 0; k < string->section_count; ++k) {
        const dt_section *part = &string->sections[k];
        const dt_factor *f = &part->screen.by_check[part->screen.worst_check];
        if (!isfinite(f->factor)) continue;
        dt_why_item item = {.string = i,
                            .subject = DT_WHY_WEIGHT,
                            .rule = dt_load_code(part->screen.worst),
                            .at_tvd_m = f->at_tvd_m,
                            .have = f->factor,
                            .need = f->needed,
                            .kind = DT_KIND_FRACTION,
                            .slack_step = NAN,
                            .moves_m = NAN};
        sentence text = {0}, slack = {0};
        say(&text,
            "%s %s from %s to %s MD: %s governs at %s TVD, factor %.2f where %.2f is asked for",
            show(display, DT_KIND_LINEAR_MASS, part->pipe->weight_kgm).text,
            part->pipe->grade->name, show(display, DT_KIND_LENGTH, part->top_md_m).text,
            show(display, DT_KIND_LENGTH, part->base_md_m).text, dt_load_words(part->screen.worst),
            show(display, DT_KIND_LENGTH, f->at_tvd_m).text, f->factor, f->needed);
        say(&slack, "the load may grow by %.1f %% before this pipe fails",
            100 * (f->factor / f->needed - 1));
        if (add_item(out, item, &text, &slack) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

static dt_status explain_cement(const dt_program *p, size_t i, dt_display display, dt_why *out)
{
    const dt_program_string *at = &p->items[i];
    dt_why_item item = {.string = i,
                        .subject = DT_WHY_CEMENT,
                        .rule = dt_cement_rule_code(at->cement_rule),
                        .at_tvd_m = at->cement_top_tvd_m,
                        .have = NAN,
                        .need = NAN,
                        .kind = DT_KIND_LENGTH,
                        .slack_step = NAN,
                        .moves_m = NAN};
    sentence text = {0};
    if (isfinite(at->cement_top_tvd_m))
        say(&text, "the top of cement at %s TVD: %s",
            show(display, DT_KIND_LENGTH, at->cement_top_tvd_m).text,
            dt_cement_rule_words(at->cement_rule));
    else
        say(&text, "%s", dt_cement_rule_words(at->cement_rule));
    return add_item(out, item, &text, NULL);
}

typedef dt_status (*explainer)(const dt_program *, size_t, dt_display, dt_why *);

static const explainer explainers[] = {explain_seat, explain_hole, explain_pipe, explain_weight,
                                       explain_cement};

dt_status dt_why_explain(const dt_program *program, size_t string, dt_display display, dt_why *out)
{
    if (string != DT_NO_INDEX && string >= dt_program_strings(program)) return DT_E_DOMAIN;
    dt_why list = {0};
    dt_status status = DT_OK;
    for (size_t n = 0; status == DT_OK && n < dt_program_strings(program); ++n) {
        const size_t i = dt_program_at(program, n);
        if (string != DT_NO_INDEX && i != string) continue;
        if (i >= program->count) { /* a tie-back: no shoe, hole or cement, and its liner's size */
            status = explain_weight(program, i, display, &list);
            continue;
        }
        for (size_t k = 0; status == DT_OK && k < sizeof explainers / sizeof *explainers; ++k)
            status = explainers[k](program, i, display, &list);
    }
    if (status == DT_OK)
        *out = list;
    else
        dt_why_free(&list);
    return status;
}

void dt_why_free(dt_why *why)
{
    if (!why) return;
    for (size_t i = 0; i < why->count; ++i) {
        free(why->items[i].text);
        free(why->items[i].slack_text);
    }
    free(why->items);
    *why = (dt_why){0};
}
