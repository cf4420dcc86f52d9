/* SPDX-License-Identifier: MIT */
/* Reasons: what binds every choice of a program, and what easing the bound would gain. */
#include "why.h"

#include <math.h>
#include <stdlib.h>

#include "same.h"
#include "section.h"
#include "units.h"

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

/** One step by which a bound is eased. */
typedef struct step {
    dt_kind kind;
    double si;
    const char *bound; /* "more fracture gradient" */
} step;

#define MORE_FRACTURE                                                                              \
    {                                                                                              \
        DT_KIND_DENSITY, 0.1 * DT_KGM3_PER_PPG, "more fracture gradient"                           \
    }
#define MORE_OVERBALANCE                                                                           \
    {                                                                                              \
        DT_KIND_PRESSURE, 100 * DT_PA_PER_PSI, "more sticking limit"                               \
    }
#define LESS_DEPTH(words)                                                                          \
    {                                                                                              \
        DT_KIND_LENGTH, 100 * DT_M_PER_FT, words                                                   \
    }

static const step steps[DT_RULE_COUNT] = {
    [DT_RULE_MUD_LIMIT] = MORE_FRACTURE,
    [DT_RULE_KICK_FIXED] = MORE_FRACTURE,
    [DT_RULE_KICK_DEPTH_RATIO] = MORE_FRACTURE,
    [DT_RULE_INFLUX_VOLUME] = MORE_FRACTURE,
    [DT_RULE_CIRCULATING] = MORE_FRACTURE,
    [DT_RULE_DRILLING_MARGIN] = MORE_FRACTURE,
    [DT_RULE_KICK_LEAST] = MORE_FRACTURE,
    [DT_RULE_KICK_WANTED] = MORE_FRACTURE,
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
        return dt_seats_deepest(window, &seats[string].rules, seats[string - 1].shoe_m,
                                seats[string + 1].shoe_m);
    size_t fixed =
        string - 1; /* seats above a chosen one move up with it, down to the last fixed */
    while (fixed > 0 && !seats[fixed].shoe_pinned)
        --fixed;
    double at = dt_seats_shallowest(window, &seats[string + 1].rules, seats[fixed].shoe_m,
                                    seats[string + 1].shoe_m);
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
    if (!chosen || !steps[why->rule].bound) return DT_OK;
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

static dt_status add_item(dt_why *list, const dt_why_item *item)
{
    dt_why_item *items = realloc(list->items, (list->count + 1) * sizeof *items);
    if (!items) return DT_E_MEMORY;
    list->items = items;
    items[list->count++] = *item;
    return DT_OK;
}

static dt_notice begin(dt_notice_code code, size_t string)
{
    return (dt_notice){.code = code, .string = string};
}

static dt_notice *begin_slack(dt_why_item *item, dt_notice_code code)
{
    item->has_slack = true;
    item->slack = begin(code, item->string);
    return &item->slack;
}

static void note_shadow(dt_why_item *item, const step *by)
{
    const bool in_vain = fabs(item->moves_m) < 0.01;
    dt_notice *n = begin_slack(item, in_vain ? DT_NOTICE_EASED_IN_VAIN : DT_NOTICE_EASED);
    dt_notice_figure(n, "step", by->kind, by->si);
    dt_notice_name(n, "bound", by->bound);
    if (in_vain) return;
    dt_notice_figure(n, "moves", DT_KIND_LENGTH, fabs(item->moves_m));
    dt_notice_mark(n, item->moves_m < 0 ? "shallower" : "deeper", true);
}

static dt_status explain_seat(const dt_program *p, size_t i, dt_why *out)
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
                        .slack_step = by->si,
                        .reason = dt_reason_notice(why, p->well)};
    item.reason.string = i;
    dt_status status = shadow_of(p, i, item.slack_step, &item.moves_m);
    if (status != DT_OK) return status;
    if (isfinite(item.moves_m)) note_shadow(&item, by);
    return add_item(out, &item);
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

static dt_status explain_hole(const dt_program *p, size_t i, dt_why *out)
{
    const dt_program_string *at = &p->items[i];
    if (i == 0 && p->well->conductor.method != DT_CONDUCTOR_DRILLED) return DT_OK;
    const double clearance_m = (at->hole_m - at->largest_od_m) / 2;
    const double needed_m = i == 0 ? dt_nest_clearance(p->well, at->od_m)
                                   : dt_nest_gap(p->well, at->od_m, at->largest_od_m);
    dt_why_item item = size_item(i, DT_WHY_HOLE, "clearance", clearance_m, needed_m);
    item.reason = begin(DT_NOTICE_HOLE_CHOSEN, i);
    dt_notice_figure(&item.reason, "hole", DT_KIND_DIAMETER, at->hole_m);
    dt_notice_figure(&item.reason, "clearance", DT_KIND_DIAMETER, clearance_m);
    dt_notice_figure(&item.reason, "needed", DT_KIND_DIAMETER, needed_m);
    dt_notice_figure(begin_slack(&item, DT_NOTICE_HOLE_SLACK), "spare", DT_KIND_DIAMETER,
                     clearance_m - needed_m);
    return add_item(out, &item);
}

static dt_status explain_last_pipe(const dt_program *p, size_t i, dt_why *out)
{
    const double od_m = p->items[i].od_m, needed_m = p->well->min_pipe_od_m;
    dt_why_item item = size_item(i, DT_WHY_PIPE, "completion", od_m, needed_m);
    item.reason = begin(DT_NOTICE_PIPE_FOR_COMPLETION, i);
    dt_notice_figure(&item.reason, "needed", DT_KIND_DIAMETER, needed_m);
    dt_notice_figure(&item.reason, "od", DT_KIND_DIAMETER, od_m);
    return add_item(out, &item);
}

static dt_status explain_pipe(const dt_program *p, size_t i, dt_why *out)
{
    const dt_program_string *at = &p->items[i];
    if (i + 1 == p->count) return explain_last_pipe(p, i, out);
    const double bit_m = at->string->need_drift_m;
    double drift_m = INFINITY;
    for (size_t k = 0; k < at->string->section_count; ++k)
        drift_m = fmin(drift_m, dt_nest_drift(p->well, at->string->sections[k].pipe));
    dt_why_item item = size_item(i, DT_WHY_PIPE, "drift", drift_m, bit_m);
    item.reason = begin(DT_NOTICE_PIPE_FOR_BIT, i);
    dt_notice_figure(&item.reason, "bit", DT_KIND_DIAMETER, bit_m);
    dt_notice_figure(&item.reason, "od", DT_KIND_DIAMETER, at->od_m);
    dt_notice_figure(&item.reason, "drift", DT_KIND_DIAMETER, drift_m);
    dt_notice_figure(begin_slack(&item, DT_NOTICE_PIPE_SLACK), "spare", DT_KIND_DIAMETER,
                     drift_m - bit_m);
    return add_item(out, &item);
}

static dt_status explain_section(const dt_section *part, size_t i, dt_why *out)
{
    const dt_factor *f = &part->screen.by_check[part->screen.worst_check];
    if (!isfinite(f->factor)) return DT_OK;
    dt_why_item item = {.string = i,
                        .subject = DT_WHY_WEIGHT,
                        .rule = dt_load_code(part->screen.worst),
                        .at_tvd_m = f->at_tvd_m,
                        .have = f->factor,
                        .need = f->needed,
                        .kind = DT_KIND_FRACTION,
                        .slack_step = NAN,
                        .moves_m = NAN,
                        .reason = begin(DT_NOTICE_WEIGHT_CHOSEN, i)};
    dt_notice *n = &item.reason;
    dt_notice_figure(n, "weight", DT_KIND_LINEAR_MASS, part->pipe->weight_kgm);
    dt_notice_name(n, "grade", part->pipe->grade->name);
    dt_notice_figure(n, "top_md", DT_KIND_LENGTH, part->top_md_m);
    dt_notice_figure(n, "base_md", DT_KIND_LENGTH, part->base_md_m);
    dt_notice_name(n, "load", dt_load_words(part->screen.worst));
    dt_notice_figure(n, "at_tvd", DT_KIND_LENGTH, f->at_tvd_m);
    dt_notice_number(n, "factor", f->factor);
    dt_notice_number(n, "needed", f->needed);
    dt_notice_number(begin_slack(&item, DT_NOTICE_WEIGHT_SLACK), "growth_percent",
                     100 * (f->factor / f->needed - 1));
    return add_item(out, &item);
}

static dt_status explain_weight(const dt_program *p, size_t i, dt_why *out)
{
    const dt_string *string = p->items[i].string;
    dt_status status = DT_OK;
    for (size_t k = 0; status == DT_OK && k < string->section_count; ++k)
        status = explain_section(&string->sections[k], i, out);
    return status;
}

static dt_status explain_cement(const dt_program *p, size_t i, dt_why *out)
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
                        .moves_m = NAN,
                        .reason = begin(DT_NOTICE_CEMENT_TOP_CHOSEN, i)};
    dt_notice_figure(&item.reason, "top_tvd", DT_KIND_LENGTH, at->cement_top_tvd_m);
    dt_notice_name(&item.reason, "rule", dt_cement_rule_words(at->cement_rule));
    return add_item(out, &item);
}

typedef dt_status (*explainer)(const dt_program *, size_t, dt_why *);

static const explainer explainers[] = {explain_seat, explain_hole, explain_pipe, explain_weight,
                                       explain_cement};

dt_status dt_why_explain(const dt_program *program, size_t string, dt_why *out)
{
    if (string != DT_NO_INDEX && string >= dt_program_strings(program)) return DT_E_DOMAIN;
    dt_why list = {0};
    dt_status status = DT_OK;
    for (size_t n = 0; status == DT_OK && n < dt_program_strings(program); ++n) {
        const size_t i = dt_program_at(program, n);
        if (string != DT_NO_INDEX && i != string) continue;
        if (i >= program->count) { /* a tie-back: no shoe, hole or cement, and its liner's size */
            status = explain_weight(program, i, &list);
            continue;
        }
        for (size_t k = 0; status == DT_OK && k < COUNT_OF(explainers); ++k)
            status = explainers[k](program, i, &list);
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
