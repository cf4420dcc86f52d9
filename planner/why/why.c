/* SPDX-License-Identifier: MIT */
/* Reasons: what binds every choice of a program, and what easing the bound would gain. */
#include "why.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "section.h"

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

/** What a bound is eased by: a quantity of this kind; DT_KIND_COUNT: the rule has no slope. */
static dt_kind eased_kind(dt_rule rule)
{
    switch (rule) {
    case DT_RULE_MUD_LIMIT:
    case DT_RULE_KICK_FIXED:
    case DT_RULE_KICK_DEPTH_RATIO:
    case DT_RULE_INFLUX_VOLUME:
        return DT_KIND_DENSITY;
    case DT_RULE_STICKING_NORMAL:
    case DT_RULE_STICKING_ABNORMAL:
        return DT_KIND_PRESSURE;
    case DT_RULE_CASE_OFF:
    case DT_RULE_CASE_ABOVE:
    case DT_RULE_AVOID_SHOE:
    case DT_RULE_FRESH_WATER:
        return DT_KIND_LENGTH;
    default:
        return DT_KIND_COUNT;
    }
}

static double step_of(const dt_why_steps *steps, dt_kind kind)
{
    return kind == DT_KIND_DENSITY    ? steps->density_kgm3
           : kind == DT_KIND_PRESSURE ? steps->pressure_pa
           : kind == DT_KIND_LENGTH   ? steps->length_m
                                      : NAN;
}

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
        if (eased_kind(why->rule) == DT_KIND_DENSITY) e.fracture[i].emw_kgm3 += by;
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
    if (!chosen || eased_kind(why->rule) == DT_KIND_COUNT) return DT_OK;
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

static dt_status add_item(dt_why *list, dt_why_item item)
{
    dt_why_item *items = realloc(list->items, (list->count + 1) * sizeof *items);
    if (!items) return DT_E_MEMORY;
    list->items = items;
    items[list->count++] = item;
    return DT_OK;
}

/** An item without a place, sides or a slope. */
static dt_why_item plain_item(size_t i, dt_why_subject subject, const char *rule)
{
    return (dt_why_item){.string = i,
                         .section = DT_NO_INDEX,
                         .subject = subject,
                         .rule = rule,
                         .at_tvd_m = NAN,
                         .have = NAN,
                         .need = NAN,
                         .moves_m = NAN,
                         .slack_step = NAN};
}

static dt_status explain_seat(const dt_program *p, size_t i, const dt_why_steps *steps, dt_why *out)
{
    const dt_reason *why = &p->seats.items[i].why;
    dt_why_item item = plain_item(i, DT_WHY_SEAT, dt_rule_code(why->rule));
    item.at_tvd_m = why->tvd_m;
    item.have = why->have;
    item.need = why->need;
    item.kind = why->kind;
    item.slack_kind = eased_kind(why->rule);
    item.slack_step = step_of(steps, item.slack_kind);
    dt_status status = shadow_of(p, i, item.slack_step, &item.moves_m);
    return status == DT_OK ? add_item(out, item) : status;
}

/** An item whose rule has two sides that are diameters, and no slope: sizes come in steps. */
static dt_why_item size_item(size_t i, dt_why_subject subject, const char *rule, double have,
                             double need)
{
    dt_why_item item = plain_item(i, subject, rule);
    item.have = have;
    item.need = need;
    item.kind = DT_KIND_DIAMETER;
    return item;
}

static dt_status explain_hole(const dt_program *p, size_t i, const dt_why_steps *steps, dt_why *out)
{
    (void)steps;
    const dt_program_string *at = &p->items[i];
    if (i == 0 && p->well->conductor.method != DT_CONDUCTOR_DRILLED) return DT_OK;
    double gap = (at->hole_m - at->largest_od_m) / 2, need = dt_nest_clearance(p->well, at->od_m);
    return add_item(out, size_item(i, DT_WHY_HOLE, "clearance", gap, need));
}

static dt_status explain_pipe(const dt_program *p, size_t i, const dt_why_steps *steps, dt_why *out)
{
    (void)steps;
    const dt_program_string *at = &p->items[i];
    if (i + 1 == p->count)
        return add_item(out,
                        size_item(i, DT_WHY_PIPE, "completion", at->od_m, p->well->min_pipe_od_m));
    double drift = INFINITY;
    for (size_t k = 0; k < at->string->section_count; ++k)
        drift = fmin(drift, dt_nest_drift(p->well, at->string->sections[k].pipe));
    return add_item(out, size_item(i, DT_WHY_PIPE, "drift", drift, at->string->need_drift_m));
}

static dt_status explain_weight(const dt_program *p, size_t i, const dt_why_steps *steps,
                                dt_why *out)
{
    (void)steps;
    const dt_string *string = p->items[i].string;
    for (size_t k = 0; k < string->section_count; ++k) {
        const dt_screen *screen = &string->sections[k].screen;
        const dt_factor *f = &screen->by_check[screen->worst_check];
        if (!isfinite(f->factor)) continue;
        dt_why_item item = plain_item(i, DT_WHY_WEIGHT, dt_load_code(screen->worst));
        item.section = k;
        item.at_tvd_m = f->at_tvd_m;
        item.have = f->factor;
        item.need = f->needed;
        item.kind = DT_KIND_FRACTION;
        if (add_item(out, item) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

static dt_status explain_cement(const dt_program *p, size_t i, const dt_why_steps *steps,
                                dt_why *out)
{
    (void)steps;
    const dt_program_string *at = &p->items[i];
    dt_why_item item = plain_item(i, DT_WHY_CEMENT, dt_cement_rule_code(at->cement_rule));
    item.at_tvd_m = at->cement_top_tvd_m;
    item.kind = DT_KIND_LENGTH;
    return add_item(out, item);
}

typedef dt_status (*explainer)(const dt_program *, size_t, const dt_why_steps *, dt_why *);

static const explainer explainers[] = {explain_seat, explain_hole, explain_pipe, explain_weight,
                                       explain_cement};

dt_status dt_why_explain(const dt_program *program, size_t string, const dt_why_steps *steps,
                         dt_why *out)
{
    if (string != DT_NO_INDEX && string >= dt_program_strings(program)) return DT_E_DOMAIN;
    dt_why list = {0};
    dt_status status = DT_OK;
    for (size_t n = 0; status == DT_OK && n < dt_program_strings(program); ++n) {
        const size_t i = dt_program_at(program, n);
        if (string != DT_NO_INDEX && i != string) continue;
        if (i >= program->count) { /* a tie-back: no shoe, hole or cement, and its liner's size */
            status = explain_weight(program, i, steps, &list);
            continue;
        }
        for (size_t k = 0; status == DT_OK && k < sizeof explainers / sizeof *explainers; ++k)
            status = explainers[k](program, i, steps, &list);
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
    free(why->items);
    *why = (dt_why){0};
}
