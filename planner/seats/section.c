/* SPDX-License-Identifier: MIT */
/* One hole section drilled with one mud: which rules hold. Part of stage 3, seats.h. */
#include "section.h"

#include <math.h>
#include <string.h>

#include "kick.h"
#include "same.h"
#include "spans.h"

/*
 * A rule is broken only by more than the noise of arithmetic. The slack is far below any
 * printed digit (1e-10 ppg, 1e-9 psi, 1e-8 m) and makes a seat that stands exactly on a
 * limit, as hand-made straight-line wells do, come out on the limit. The scale makes room of
 * different kinds comparable.
 */
typedef struct measure {
    double slack, scale;
} measure;

static const measure measures[DT_KIND_COUNT] = {
    [DT_KIND_DENSITY] = {1e-8, 1000},
    [DT_KIND_PRESSURE] = {1e-5, 1e7},
    [DT_KIND_LENGTH] = {1e-8, 1000},
    [DT_KIND_VOLUME] = {1e-9, 10},
};
#define SLACK_M 1e-8

/**
 * The exposed rock of [top, base] as stretches between breaks. Inside a stretch no curve
 * bends and no rule changes, so every rule is decided at its two ends (docs/seats.md).
 */
typedef struct walk {
    const dt_window *window;
    double base_m;
    size_t next;       /* first break below the stretch's top */
    dt_face top, base; /* of the stretch, seen from inside it */
    dt_rock rock;
} walk;

static void set_base(walk *w)
{
    const dt_window *window = w->window;
    w->rock = window->rocks[w->next];
    bool to_break = w->next < window->break_count && window->breaks[w->next] <= w->base_m;
    w->base = to_break ? window->faces[2 * w->next] : dt_window_face(window, w->base_m, DT_ABOVE);
}

static walk walk_begin(const dt_window *window, double top_m, double base_m)
{
    walk w = {.window = window, .base_m = base_m, .next = dt_window_break_below(window, top_m)};
    w.top = dt_window_face(window, top_m, DT_BELOW);
    set_base(&w);
    return w;
}

/** Goes on to the next stretch; false at the bottom. */
static bool walk_on(walk *w)
{
    if (!(w->base.tvd_m < w->base_m)) return false;
    w->top = w->window->faces[2 * w->next + 1];
    ++w->next;
    set_base(w);
    return true;
}

typedef struct mud {
    double emw_kgm3, from_tvd_m;
    double
        named_kgm3; /* what from_tvd_m asks for: the most but for a tie, the shallowest of these */
    bool by_collapse;
} mud;

/** Weight of what is in the hole: of all of it, or below the sea floor of a hole that returns
 * there.
 */
static void raise_mud(const walk *w, bool riserless, const dt_face *face, mud *most)
{
    const double lower = riserless ? dt_window_riserless(w->window, face) : face->lower_kgm3;
    if (lower > most->emw_kgm3) most->emw_kgm3 = lower;
    if (!(lower > most->named_kgm3 + TIE_KGM3)) return; /* both may be infinite */
    most->named_kgm3 = lower;
    most->from_tvd_m = face->tvd_m;
    most->by_collapse = !riserless && face->collapse_kgm3 >= lower - TIE_KGM3;
}

static void raise_inside(const walk *w, mud *most)
{
    double at_m = NAN;
    const double lower = dt_window_riserless_inside(w->window, &w->top, &w->base, &at_m);
    most->emw_kgm3 = fmax(most->emw_kgm3, lower);
    if (!(lower > most->named_kgm3 + TIE_KGM3)) return;
    most->named_kgm3 = lower;
    most->from_tvd_m = at_m;
    most->by_collapse = false;
}

static mud section_mud(const walk *start, bool riserless)
{
    mud most = {-INFINITY, start->top.tvd_m, -INFINITY, false};
    walk w = *start;
    do {
        raise_mud(&w, riserless, &w.top, &most);
        raise_mud(&w, riserless, &w.base, &most);
        if (riserless) raise_inside(&w, &most);
    } while (walk_on(&w));
    return most;
}

double dt_section_mud(const dt_window *window, bool riserless, double top_m, double base_m,
                      double *from_tvd_m, bool *by_collapse)
{
    mud found = {-INFINITY, top_m, -INFINITY, false};
    if (top_m < base_m) {
        walk w = walk_begin(window, top_m, base_m);
        found = section_mud(&w, riserless);
    }
    if (from_tvd_m) *from_tvd_m = found.from_tvd_m;
    if (by_collapse) *by_collapse = found.by_collapse;
    return found.emw_kgm3;
}

double dt_section_min_fracture(const dt_window *window, double top_m, double base_m)
{
    double least = INFINITY;
    if (!(top_m < base_m)) return least;
    walk w = walk_begin(window, top_m, base_m);
    do {
        least = fmin(least, w.top.fracture_kgm3);
        least = fmin(least, w.base.fracture_kgm3);
    } while (walk_on(&w));
    return least;
}

/** A demand that was not met, before it is made a reason. */
typedef struct breach {
    dt_rule rule;
    dt_kind kind;
    double tvd_m, have, need;
    size_t interval, pay;
    bool by_size;          /* what is asked depends on the size of the hole */
    const dt_curve *curve; /* the input behind it: a table seen from a side, or a line */
    dt_side side;
    int line;
} breach;

/** A depth at which the bit first needs a mud: the hole below needs no more down to the next. */
typedef struct bit_stop {
    double tvd_m, mud_kgm3;
} bit_stop;

/** Where more are met, two neighbours count as one at the shallower depth, in the heavier mud. */
#define MOST_STOPS 24

/** State of one section test: the section, its mud, and the worst breach so far. */
/** The breach that is worst so far, relative to its limit. */
typedef struct worst {
    double short_by; /* (need - have) / |have| */
    bool found;
    breach why;
} worst;

typedef struct test {
    const dt_window *window;
    const dt_hole_rules *rules; /* NULL: none beside the window */
    bool riserless;             /* the mud stands below the sea floor alone */
    double top_m, base_m;
    mud mud;
    double pore_mud_kgm3;       /* highest pore EMW exposed, for sticking without trip margin */
    double ratio_kgm3;          /* depth-ratio rule: kick margin times bottom depth, kg/m2 */
    double spare;               /* least room of all rules, in units of its kind's scale */
    worst broken;               /* of all rules */
    worst stopped;              /* of those that a well cannot be drilled without */
    bit_stop stops[MOST_STOPS]; /* top down; listed when an influx is first looked at */
    size_t stop_count;
    bool listed;
    bool to_first; /* ends at the first rule broken */
    bool measures; /* spare is wanted, not only what is broken */
    bool skips;    /* runs of stretches may be passed over by their bounds */
} test;

static void keep_worst(worst *w, const breach *asked, double short_by)
{
    if (w->found && short_by <= w->short_by + TIE) return; /* a tie: the first */
    *w = (worst){short_by, true, *asked};
}

/** Does `have` fall short of `need` by more than the slack? Nearly always it does not: what would
 * be said of it is put together only then. */
static inline bool falls_short(test *t, dt_rule rule, dt_kind kind, double have, double need)
{
    if (t->window->well->rules_off & dt_rule_bit(rule)) return false;
    const measure *m = &measures[kind];
    const double spare = have - need + m->slack, part = spare / m->scale;
    if (part < t->spare) t->spare = part;
    return spare < 0;
}

static void record(test *t, const breach *asked)
{
    const double short_by = (asked->need - asked->have) / fmax(fabs(asked->have), 1.0);
    keep_worst(&t->broken, asked, short_by);
    if (dt_rule_stops(asked->rule)) keep_worst(&t->stopped, asked, short_by);
}

/** Is all known that is asked for? */
static bool ended(const test *t)
{
    return t->to_first && t->broken.found;
}

/** Records a breach when `have` falls short of `need`. */
static void demand(test *t, const breach *asked)
{
    if (falls_short(t, asked->rule, asked->kind, asked->have, asked->need)) record(t, asked);
}

/** An EMW that a face must bear by a rule. */
static void demand_density(test *t, dt_rule rule, const dt_face *face, dt_side side, double need)
{
    if (!falls_short(t, rule, DT_KIND_DENSITY, face->fracture_kgm3, need)) return;
    record(t, &(breach){.rule = rule,
                        .kind = DT_KIND_DENSITY,
                        .tvd_m = face->tvd_m,
                        .have = face->fracture_kgm3,
                        .need = need,
                        .interval = DT_NO_INDEX,
                        .pay = DT_NO_INDEX,
                        .by_size = rule == DT_RULE_CIRCULATING,
                        .curve = &t->window->well->fracture,
                        .side = side});
}

/** EMW of the column of a mud at a depth. */
static double column_at(const test *t, double mud_kgm3, double tvd_m)
{
    return t->riserless ? dt_window_riserless_emw(t->window, mud_kgm3, tvd_m) : mud_kgm3;
}

static void test_influx(test *t, const dt_face *face, dt_side side)
{
    const dt_well *well = t->window->well;
    if (!well->kick.given || isnan(well->kick.seat_volume_m3)) return;
    if (face->tvd_m < well->kick.seat_below_m) return;
    double have =
        dt_kick_seat_volume(well, face->tvd_m, face->fracture_kgm3, t->base_m, t->mud.emw_kgm3);
    demand(t, &(breach){.rule = DT_RULE_INFLUX_VOLUME,
                        .kind = DT_KIND_VOLUME,
                        .tvd_m = face->tvd_m,
                        .have = have,
                        .need = well->kick.seat_volume_m3,
                        .interval = DT_NO_INDEX,
                        .pay = DT_NO_INDEX,
                        .curve = &well->fracture,
                        .side = side});
}

/** An influx that a face must bear by a rule. */
typedef struct kick_ask {
    const dt_face *face;
    dt_side side;
    dt_rule rule;
    double intensity_kgm3, need_m3;
} kick_ask;

/** An influx with the bit at a depth, in the mud that is needed down to there. */
static void test_kick_at(test *t, const kick_ask *asked, const bit_stop *bit)
{
    const dt_hole_kick kick = {.assembly = &t->rules->assembly,
                               .intensity_kgm3 = asked->intensity_kgm3,
                               .base_m = bit->tvd_m,
                               .mud_kgm3 = bit->mud_kgm3};
    const double have_m3 =
        dt_kick_hole_volume(t->window->well, &kick, asked->face->tvd_m, asked->face->fracture_kgm3);
    if (!falls_short(t, asked->rule, DT_KIND_VOLUME, have_m3, asked->need_m3)) return;
    record(t, &(breach){.rule = asked->rule,
                        .kind = DT_KIND_VOLUME,
                        .tvd_m = asked->face->tvd_m,
                        .have = have_m3,
                        .need = asked->need_m3,
                        .interval = DT_NO_INDEX,
                        .pay = DT_NO_INDEX,
                        .by_size = true,
                        .curve = &t->window->well->fracture,
                        .side = asked->side});
}

/** Is the last stop on a straight climb from the one before it to another? Then it decides nothing
 * (docs/seats.md). */
static bool on_a_ramp(const test *t, double tvd_m, double mud_kgm3)
{
    if (t->stop_count < 2) return false;
    const bit_stop *a = &t->stops[t->stop_count - 2], *b = a + 1;
    const double part = (b->tvd_m - a->tvd_m) / (tvd_m - a->tvd_m);
    return fabs(a->mud_kgm3 + part * (mud_kgm3 - a->mud_kgm3) - b->mud_kgm3) < TIE_KGM3;
}

static void add_stop(test *t, double tvd_m, double mud_kgm3)
{
    if (on_a_ramp(t, tvd_m, mud_kgm3)) --t->stop_count;
    if (t->stop_count < MOST_STOPS)
        t->stops[t->stop_count++] = (bit_stop){tvd_m, mud_kgm3};
    else
        t->stops[MOST_STOPS - 1].mud_kgm3 = mud_kgm3;
}

static void list_stops(test *t)
{
    if (t->listed) return;
    t->listed = true;
    walk w = walk_begin(t->window, t->top_m, t->base_m);
    double most = -INFINITY;
    do {
        if (w.top.lower_kgm3 > most) add_stop(t, w.top.tvd_m, most = w.top.lower_kgm3);
        if (w.base.lower_kgm3 > most) add_stop(t, w.base.tvd_m, most = w.base.lower_kgm3);
    } while (walk_on(&w));
}

/**
 * The influx that a hole of this size must bear at this depth, with an intensity, wherever the bit
 * is while it is drilled, but not before the hole below is as long as the influx. The first bit and
 * those that need a heavier mud decide, and the one at the bottom (docs/seats.md).
 */
static void test_kick(test *t, const kick_ask *asked)
{
    if (isnan(asked->need_m3)) return;
    const bit_stop bottom = {t->base_m, t->mud.emw_kgm3};
    if (t->to_first) test_kick_at(t, asked, &bottom); /* the likeliest to break */
    if (ended(t)) return;
    list_stops(t);
    const double fits_m = asked->face->tvd_m + dt_kick_length(&t->rules->assembly, asked->need_m3);
    for (size_t i = 0; i < t->stop_count; ++i) {
        const bit_stop *stop = &t->stops[i];
        bit_stop bit = {fmin(fmax(stop->tvd_m, fits_m), t->base_m), stop->mud_kgm3};
        if (i + 1 < t->stop_count && bit.tvd_m >= t->stops[i + 1].tvd_m) continue;
        if (bit.tvd_m > stop->tvd_m) /* on a ramp more is needed by then */
            bit.mud_kgm3 = fmax(bit.mud_kgm3, dt_window_lower(t->window, bit.tvd_m, DT_ABOVE));
        test_kick_at(t, asked, &bit);
        if (ended(t)) return;
    }
    if (!t->to_first) test_kick_at(t, asked, &bottom);
}

/** What a kick that is shut in asks of the rock. */
static void test_shut_in(test *t, const dt_face *face, dt_side side)
{
    const dt_well *well = t->window->well;
    const bool fixed = well->margins.kick_rule == DT_KICK_FIXED;
    demand_density(t, fixed ? DT_RULE_KICK_FIXED : DT_RULE_KICK_DEPTH_RATIO, face, side,
                   t->mud.emw_kgm3 + face->kick_kgm3 + (fixed ? 0 : t->ratio_kgm3 / face->tvd_m));
    test_influx(t, face, side);
    if (dt_margin_given(&well->margins.drilling))
        demand_density(t, DT_RULE_DRILLING_MARGIN, face, side,
                       t->mud.emw_kgm3 + face->drilling_kgm3);
    if (!t->rules || ended(t)) return;
    test_kick(t, &(kick_ask){face, side, DT_RULE_KICK_LEAST, 0, t->rules->least_m3});
    test_kick(t, &(kick_ask){face, side, DT_RULE_KICK_WANTED, well->kick.intensity_kgm3,
                             t->rules->wanted_m3});
}

/** What is not met before a BOP stands on the well. */
static void test_diverter(test *t, const dt_face *face, dt_side side)
{
    demand(t, &(breach){.rule = DT_RULE_DIVERTER_PRESSURE,
                        .kind = DT_KIND_DENSITY,
                        .tvd_m = face->tvd_m,
                        .have = t->rules->most_pore_kgm3,
                        .need = face->pore_kgm3,
                        .interval = DT_NO_INDEX,
                        .pay = DT_NO_INDEX,
                        .curve = &t->window->well->pore,
                        .side = side});
}

static void test_fracture(test *t, const dt_face *face, dt_side side)
{
    const double column_kgm3 = column_at(t, t->mud.emw_kgm3, face->tvd_m);
    demand_density(t, DT_RULE_MUD_LIMIT, face, side, column_kgm3 + face->swept_kgm3);
    if (t->rules && t->rules->ecd_kgm3 > 0)
        demand_density(t, DT_RULE_CIRCULATING, face, side,
                       column_kgm3 + t->rules->ecd_kgm3 + face->safety_kgm3);
    if (t->rules && t->rules->diverter)
        test_diverter(t, face, side);
    else
        test_shut_in(t, face, side);
}

/**
 * Under sea water the column's EMW grows with depth, ever more slowly: where the fracture gradient
 * climbs the two may be nearest inside a stretch. With fracture = f0 + f1 z and a column of
 * mud + (sea - mud x sea floor) / z that is where z^2 = (mud x sea floor - sea) / f1.
 */
static void test_nearest(test *t, const walk *w)
{
    const double length_m = w->base.tvd_m - w->top.tvd_m,
                 ground_m = dt_well_ground_m(t->window->well);
    const double climbs = (w->base.fracture_kgm3 - w->top.fracture_kgm3) / length_m;
    const double lacks = t->mud.emw_kgm3 * ground_m - dt_well_sea_kgm2(t->window->well);
    if (!t->riserless || !(climbs > 0) || !(lacks > 0)) return;
    const double at_m = sqrt(lacks / climbs);
    if (!(at_m > w->top.tvd_m && at_m < w->base.tvd_m)) return;
    const dt_face face = dt_window_face(t->window, at_m, DT_BELOW);
    test_fracture(t, &face, DT_BELOW);
}

static void test_overbalance(test *t, double tvd_m, double pore_kgm3, dt_side side, bool normal,
                             double mud_kgm3)
{
    const dt_well *well = t->window->well;
    const dt_sticking *sticking = &well->sticking;
    const dt_rule rule = normal ? DT_RULE_STICKING_NORMAL : DT_RULE_STICKING_ABNORMAL;
    const double have_pa = normal ? sticking->normal_limit_pa : sticking->abnormal_limit_pa;
    const double need_pa =
        (column_at(t, mud_kgm3, tvd_m) - pore_kgm3) * DT_STANDARD_GRAVITY * tvd_m;
    if (!falls_short(t, rule, DT_KIND_PRESSURE, have_pa, need_pa)) return;
    record(t, &(breach){.rule = rule,
                        .kind = DT_KIND_PRESSURE,
                        .tvd_m = tvd_m,
                        .have = have_pa,
                        .need = need_pa,
                        .interval = DT_NO_INDEX,
                        .pay = DT_NO_INDEX,
                        .curve = &well->pore,
                        .side = side});
}

static void test_sticking(test *t, const walk *w)
{
    const dt_well *well = t->window->well;
    if (!w->rock.can_stick) return;
    double mud_kgm3 =
        well->sticking.mud == DT_STICKING_PLANNED_MUD ? t->mud.emw_kgm3 : t->pore_mud_kgm3;
    bool normal = w->rock.normal;
    double top_m = w->top.tvd_m, base_m = w->base.tvd_m;
    double top = w->top.pore_kgm3, base = w->base.pore_kgm3;
    test_overbalance(t, top_m, top, DT_BELOW, normal, mud_kgm3);
    test_overbalance(t, base_m, base, DT_ABOVE, normal, mud_kgm3);
    if (well->pore.between == DT_BETWEEN_PRESSURE) return;
    /* With pore = p0 + p1 z the overbalance is a parabola; its top may stand inside. */
    double p1 = (base - top) / (base_m - top_m);
    double vertex = (mud_kgm3 - (top - p1 * top_m)) / (2 * p1);
    if (p1 > 0 && vertex > top_m && vertex < base_m)
        test_overbalance(t, vertex, dt_curve_emw(&well->pore, vertex, DT_BELOW), DT_BELOW, normal,
                         mud_kgm3);
}

static void test_intervals(test *t)
{
    const dt_well *well = t->window->well;
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *interval = &well->intervals[i];
        bool exposed =
            t->top_m < interval->base_m - SLACK_M && t->base_m > interval->top_m + SLACK_M;
        if (!exposed) continue;
        breach asked = {
            .kind = DT_KIND_LENGTH, .interval = i, .pay = DT_NO_INDEX, .line = interval->line};
        if (interval->action == DT_CASE_OFF) {
            asked.rule = DT_RULE_CASE_OFF;
            asked.tvd_m = interval->base_m;
            asked.have = interval->base_m + interval->within_m;
            asked.need = t->base_m;
            demand(t, &asked);
        } else if (interval->action == DT_CASE_ABOVE) {
            asked.rule = DT_RULE_CASE_ABOVE;
            asked.tvd_m = interval->top_m;
            asked.have = t->top_m;
            asked.need = interval->top_m - interval->within_m;
            demand(t, &asked);
        }
    }
}

/** Rock that holds hydrocarbons or flows is not entered under a diverter. */
static bool flows(const dt_interval *interval)
{
    static const char *const kinds[] = {"gas", "shallow-gas", "overpressure"};
    for (size_t i = 0; i < COUNT_OF(kinds); ++i)
        if (strcmp(interval->kind, kinds[i]) == 0) return true;
    return false;
}

/** Base of the hole against the top of something that must not be entered. */
static void demand_above(test *t, breach asked, double top_m, double base_m)
{
    const bool exposed = t->top_m < base_m - SLACK_M && t->base_m > top_m + SLACK_M;
    if (!exposed) return;
    asked.rule = DT_RULE_DIVERTER_GAS;
    asked.kind = DT_KIND_LENGTH;
    asked.tvd_m = asked.have = top_m;
    asked.need = t->base_m;
    demand(t, &asked);
}

/** Jobs that are known to fail in a hole like this: it begins deeper, or ends higher. */
static void test_jobs(test *t)
{
    static const dt_rule rules[] = {[DT_STOP_RUNNING] = DT_RULE_RUNNING_JOB,
                                    [DT_STOP_CEMENT] = DT_RULE_CEMENT_JOB,
                                    [DT_STOP_OTHER] = DT_RULE_STOPPED_HIGHER};
    for (size_t i = 0; i < t->rules->jobs.count; ++i) {
        const dt_job_limit *j = &t->rules->jobs.items[i];
        const bool same = j->string == t->rules->string &&
                          fabs(j->hole_m - t->rules->hole_m) < SAME_DIAMETER_M &&
                          fabs(j->od_m - t->rules->od_m) < SAME_DIAMETER_M;
        if (!same || t->base_m <= j->base_m + SAME_DEPTH_M) continue; /* it ends higher */
        demand(t, &(breach){.rule = rules[j->stop],
                            .kind = DT_KIND_LENGTH,
                            .tvd_m = j->weak_m,
                            .have = t->top_m,
                            .need = j->top_m,
                            .interval = DT_NO_INDEX,
                            .pay = DT_NO_INDEX,
                            .by_size = true});
    }
}

/** What a hole is held to as a whole: how long it is open, and what it enters under a diverter. */
static void test_hole(test *t)
{
    const dt_well *well = t->window->well;
    if (!t->rules) return;
    if (isfinite(t->rules->most_length_m))
        demand(t, &(breach){.rule = DT_RULE_OPEN_HOLE,
                            .kind = DT_KIND_LENGTH,
                            .tvd_m = t->base_m,
                            .have = t->rules->most_length_m,
                            .need = t->base_m - t->top_m,
                            .interval = DT_NO_INDEX,
                            .pay = DT_NO_INDEX,
                            .by_size = true});
    test_jobs(t);
    if (!t->rules->diverter) return;
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *v = &well->intervals[i];
        if (flows(v))
            demand_above(t, (breach){.interval = i, .pay = DT_NO_INDEX, .line = v->line}, v->top_m,
                         v->base_m);
    }
    for (size_t i = 0; i < well->pay_count; ++i)
        demand_above(t, (breach){.interval = DT_NO_INDEX, .pay = i, .line = well->pays[i].line},
                     well->pays[i].top_m, well->pays[i].base_m);
}

/** The stretches of a section: one whole, or a part above its first break, whole ones, and a part
 * below its last. */
typedef struct reach {
    size_t first, end; /* breaks below the top and not below the base */
    dt_face top, base;
} reach;

static reach reach_of(const dt_window *window, double top_m, double base_m)
{
    reach r = {.first = dt_window_break_below(window, top_m),
               .end = dt_window_break_below(window, base_m)};
    r.top = dt_window_face(window, top_m, DT_BELOW);
    const bool at_break = r.end > r.first && window->breaks[r.end - 1] >= base_m;
    r.base = at_break ? window->faces[2 * (r.end - 1)] : dt_window_face(window, base_m, DT_ABOVE);
    return r;
}

/** What mud and pore pressure are at most over whole stretches: of those below `node` that lie in
 * [first, end). */
static void most_of(const dt_window *window, size_t node, size_t low, size_t high, size_t first,
                    size_t end, double *lower_kgm3, double *pore_kgm3)
{
    if (first >= high || end <= low) return;
    const dt_span *span = &window->spans[node];
    if (first <= low && high <= end) {
        if (span->lower_most > *lower_kgm3) *lower_kgm3 = span->lower_most;
        if (span->pore_most > *pore_kgm3) *pore_kgm3 = span->pore_most;
        return;
    }
    const size_t middle = low + (high - low) / 2;
    most_of(window, 2 * node, low, middle, first, end, lower_kgm3, pore_kgm3);
    most_of(window, 2 * node + 1, middle, high, first, end, lower_kgm3, pore_kgm3);
}

static void raise_most(const dt_face *face, double *lower_kgm3, double *pore_kgm3)
{
    if (face->lower_kgm3 > *lower_kgm3) *lower_kgm3 = face->lower_kgm3;
    if (face->pore_kgm3 > *pore_kgm3) *pore_kgm3 = face->pore_kgm3;
}

/** The mud of a section under a BOP, and its highest pore pressure. */
static void look_over(const dt_window *window, const reach *r, double *lower_kgm3,
                      double *pore_kgm3)
{
    *lower_kgm3 = *pore_kgm3 = -INFINITY;
    raise_most(&r->top, lower_kgm3, pore_kgm3);
    raise_most(&r->base, lower_kgm3, pore_kgm3);
    if (r->end == r->first) return;
    raise_most(&window->faces[2 * r->first], lower_kgm3, pore_kgm3);
    most_of(window, 1, 0, window->span_leaves, r->first, r->end - 1, lower_kgm3, pore_kgm3);
    if (window->breaks[r->end - 1] < r->base.tvd_m)
        raise_most(&window->faces[2 * r->end - 1], lower_kgm3, pore_kgm3);
}

/** May the bounds of a run speak for its stretches? Not where sea water stands on the mud, where
 * an influx is asked for whatever the size of the hole, or where a column bends the minimum mud
 * weight. */
static bool may_skip(const test *t)
{
    const dt_well *well = t->window->well;
    return !t->riserless && !well->riser_margin &&
           !(well->kick.given && !isnan(well->kick.seat_volume_m3));
}

static test test_begin(const dt_window *window, const dt_hole_rules *rules, const reach *r)
{
    const dt_well *well = window->well;
    test t = {.window = window,
              .rules = rules,
              .top_m = r->top.tvd_m,
              .base_m = r->base.tvd_m,
              .spare = INFINITY};
    t.riserless = rules && rules->riserless;
    double pore_kgm3 = NAN;
    if (t.riserless) {
        const walk w = walk_begin(window, t.top_m, t.base_m);
        t.mud = section_mud(&w, true);
    } else {
        look_over(window, r, &t.mud.emw_kgm3, &pore_kgm3);
    }
    t.ratio_kgm3 = dt_margin_emw(&well->margins.kick, t.base_m) * t.base_m;
    if (well->sticking.given && well->sticking.mud == DT_STICKING_PORE_ONLY)
        t.pore_mud_kgm3 = t.riserless ? t.mud.emw_kgm3 : pore_kgm3;
    t.skips = may_skip(&t);
    return t;
}

static void test_stretch(test *t, const walk *w, bool with_sticking)
{
    test_fracture(t, &w->top, DT_BELOW);
    if (ended(t)) return;
    test_fracture(t, &w->base, DT_ABOVE);
    test_nearest(t, w);
    if (with_sticking) test_sticking(t, w);
}

/* ---- runs of stretches by their bounds ---- */

/** How far a bound must lie from a limit to speak for what lies behind it: over the noise of
 * arithmetic, under what anything is told by. */
static const double clear_by[DT_KIND_COUNT] = {
    [DT_KIND_DENSITY] = 1e-6,
    [DT_KIND_PRESSURE] = 1e-3,
    [DT_KIND_LENGTH] = 1e-6,
    [DT_KIND_VOLUME] = 1e-6,
};

/** By how much a limit must be kept, so that nothing is learned by looking closer. */
static double clear_of(const test *t, dt_kind kind)
{
    return clear_by[kind] + (t->measures ? t->spare * measures[kind].scale : 0);
}

/**
 * Is the influx borne with the bit anywhere below the run? Its bubble is least with the heaviest
 * mud and the highest formation pressure that there can be; the weak point bears least where it is
 * shallowest and breaks first (docs/seats.md).
 */
static bool kick_clears(const test *t, const dt_span *s, double intensity_kgm3, double need_m3)
{
    if (isnan(need_m3)) return true;
    const dt_well *well = t->window->well;
    const dt_margin *trip = &well->margins.trip;
    const double per_m = intensity_kgm3 - trip->emw_kgm3,
                 fixed_kgm2 = trip->pressure_pa / DT_STANDARD_GRAVITY;
    const double over_kgm2 = fmax(per_m * s->top_m, per_m * t->base_m) - fixed_kgm2;
    const double bears_kgm3 = s->fracture_least - well->kick.margin_kgm3;
    const double spare_kgm3 = bears_kgm3 - t->mud.emw_kgm3,
                 lighter_kgm3 = t->mud.emw_kgm3 - well->kick.influx_kgm3;
    if (!(spare_kgm3 > 0 && lighter_kgm3 > 0)) return false;
    const double height_m = (spare_kgm3 * s->top_m - over_kgm2) / lighter_kgm3;
    if (!(height_m > 0)) return false;
    const double want_m3 = need_m3 + clear_of(t, DT_KIND_VOLUME);
    const dt_kick_assembly *a = &t->rules->assembly;
    const double formation_kgm2 = t->mud.emw_kgm3 * t->base_m + over_kgm2;
    return dt_kick_from_bit_up(a, height_m) > want_m3 &&
           dt_kick_round_pipe(a, height_m) * bears_kgm3 * s->top_m > want_m3 * formation_kgm2;
}

static bool kicks_clear(const test *t, const dt_span *s)
{
    const dt_well *well = t->window->well;
    const double ratio_kgm3 =
        well->margins.kick_rule == DT_KICK_FIXED ? 0 : t->ratio_kgm3 / s->top_m;
    if (!(s->bears_kick - t->mud.emw_kgm3 - ratio_kgm3 > clear_of(t, DT_KIND_DENSITY)))
        return false;
    if (!t->rules || (isnan(t->rules->least_m3) && isnan(t->rules->wanted_m3))) return true;
    return s->pore_least > well->kick.influx_kgm3 && kick_clears(t, s, 0, t->rules->least_m3) &&
           kick_clears(t, s, well->kick.intensity_kgm3, t->rules->wanted_m3);
}

static bool sticking_clears(const test *t, const dt_span *s)
{
    const dt_sticking *sticking = &t->window->well->sticking;
    if (!sticking->given) return true;
    const double mud_kgm3 =
        sticking->mud == DT_STICKING_PLANNED_MUD ? t->mud.emw_kgm3 : t->pore_mud_kgm3;
    const double limits_pa[] = {sticking->abnormal_limit_pa, sticking->normal_limit_pa};
    for (int i = 0; i < 2; ++i) {
        if (!(s->stick_base_m[i] > 0)) continue;
        const double most_pa =
            (mud_kgm3 - s->stick_pore[i]) * DT_STANDARD_GRAVITY * s->stick_base_m[i];
        if (!(most_pa > 0 ? limits_pa[i] - most_pa > clear_of(t, DT_KIND_PRESSURE)
                          : limits_pa[i] > clear_of(t, DT_KIND_PRESSURE)))
            return false;
    }
    return true;
}

/** Do all stretches of a run keep all rules by so much that none of them need be looked at? */
static bool clears(const test *t, const dt_span *s, bool with_sticking)
{
    const double density_kgm3 = clear_of(t, DT_KIND_DENSITY);
    const dt_hole_rules *rules = t->rules;
    if (!(s->bears_mud - t->mud.emw_kgm3 > density_kgm3)) return false;
    if (rules && !(s->bears_flow - t->mud.emw_kgm3 - rules->ecd_kgm3 > density_kgm3)) return false;
    if (rules && rules->diverter) {
        if (!(rules->most_pore_kgm3 - s->pore_most > density_kgm3)) return false;
    } else if (!kicks_clear(t, s)) {
        return false;
    }
    return !with_sticking || sticking_clears(t, s);
}

/** How a section is gone down. */
typedef struct descent {
    test *t;
    bool with_sticking;
} descent;

/** A stretch, or a part of one, between two faces. */
static void go_through(const descent *d, const dt_face *top, const dt_face *base, dt_rock rock)
{
    if (d->t->skips) {
        const dt_span span = dt_span_of(top, base, rock);
        if (clears(d->t, &span, d->with_sticking)) return;
    }
    const walk w = {
        .window = d->t->window, .base_m = base->tvd_m, .top = *top, .base = *base, .rock = rock};
    test_stretch(d->t, &w, d->with_sticking);
}

/** Whole stretches below `node` that lie in [first, end), top down: a breach that is found first
 * stays among those as bad. */
static void go_down(const descent *d, size_t node, size_t low, size_t high, size_t first,
                    size_t end)
{
    const dt_window *window = d->t->window;
    if (first >= high || end <= low || ended(d->t)) return;
    const bool whole = first <= low && high <= end;
    if (whole && d->t->skips && clears(d->t, &window->spans[node], d->with_sticking)) return;
    if (high - low == 1) {
        const walk w = {.window = window,
                        .base_m = window->breaks[low + 1],
                        .top = window->faces[2 * low + 1],
                        .base = window->faces[2 * low + 2],
                        .rock = window->rocks[low + 1]};
        test_stretch(d->t, &w, d->with_sticking);
        return;
    }
    const size_t middle = low + (high - low) / 2;
    go_down(d, 2 * node, low, middle, first, end);
    go_down(d, 2 * node + 1, middle, high, first, end);
}

static void go_down_section(const descent *d, const reach *r)
{
    const dt_window *window = d->t->window;
    if (r->end == r->first) {
        go_through(d, &r->top, &r->base, window->rocks[r->first]);
        return;
    }
    go_through(d, &r->top, &window->faces[2 * r->first], window->rocks[r->first]);
    go_down(d, 1, 0, window->span_leaves, r->first, r->end - 1);
    if (window->breaks[r->end - 1] < r->base.tvd_m && !ended(d->t))
        go_through(d, &window->faces[2 * r->end - 1], &r->base, window->rocks[r->end]);
}

static test run_test(const dt_window *window, const dt_hole_rules *rules, double top_m,
                     double base_m, bool with_sticking, bool measuring)
{
    if (!(top_m < base_m))
        return (test){.window = window, .top_m = top_m, .base_m = base_m, .spare = INFINITY};
    const reach r = reach_of(window, top_m, base_m);
    test t = test_begin(window, rules, &r);
    t.measures = measuring;
    go_down_section(&(descent){&t, with_sticking}, &r);
    test_intervals(&t);
    test_hole(&t);
    return t;
}

/** The mud of a section and what asks for it. */
static mud named_mud(const test *t)
{
    const walk w = walk_begin(t->window, t->top_m, t->base_m);
    return section_mud(&w, t->riserless);
}

static dt_reason reason_of(const test *t, const mud *named, const breach *b)
{
    int line = b->line;
    if (b->curve) {
        size_t point = dt_curve_point_near(b->curve, b->tvd_m, b->side);
        if (point != DT_NO_INDEX) line = b->curve->points[point].line;
    }
    return (dt_reason){.rule = b->rule,
                       .tvd_m = b->tvd_m,
                       .have = b->have,
                       .need = b->need,
                       .kind = b->kind,
                       .mud_kgm3 = named->emw_kgm3,
                       .mud_tvd_m = named->from_tvd_m,
                       .mud_by_collapse = named->by_collapse,
                       .section_top_m = t->top_m,
                       .section_base_m = t->base_m,
                       .interval = b->interval,
                       .pay = b->pay,
                       .hole_m = b->by_size && t->rules ? t->rules->hole_m : NAN,
                       .line = line};
}

void dt_section_test(const dt_window *window, const dt_hole_rules *rules, double top_m,
                     double base_m, bool with_sticking, dt_section_check *out)
{
    test t = run_test(window, rules, top_m, base_m, with_sticking, false);
    out->ok = !t.broken.found;
    out->stops = t.stopped.found;
    if (out->ok) return;
    const mud named = named_mud(&t);
    out->why = reason_of(&t, &named, &t.broken.why);
    if (out->stops) out->stop = reason_of(&t, &named, &t.stopped.why);
}

double dt_section_spare(const dt_window *window, const dt_hole_rules *rules, double top_m,
                        double base_m)
{
    return run_test(window, rules, top_m, base_m, true, true).spare;
}

bool dt_section_holds(const dt_window *window, const dt_hole_rules *rules, double top_m,
                      double base_m)
{
    if (!(top_m < base_m)) return true;
    const reach r = reach_of(window, top_m, base_m);
    test t = test_begin(window, rules, &r);
    t.to_first = true;
    test_intervals(&t);
    test_hole(&t);
    if (!t.broken.found) go_down_section(&(descent){&t, true}, &r);
    return !t.broken.found;
}

/** Does the rock at the shoe above bear all that is asked, if it broke at this? */
static bool shoe_bears(test *t, const dt_face *shoe, double fracture_kgm3)
{
    dt_face face = *shoe;
    face.fracture_kgm3 = fracture_kgm3;
    t->broken.found = false;
    test_fracture(t, &face, DT_BELOW);
    return !t->broken.found;
}

/** Does the hole bear a mud? The bits before the last are in what they need as planned. */
static bool bears_mud(test *t, const reach *r, double mud_kgm3)
{
    t->mud.emw_kgm3 = mud_kgm3;
    t->broken.found = false;
    t->to_first = true;
    go_down_section(&(descent){t, true}, r);
    return !t->broken.found;
}

/** Densities are found this closely, kg/m3: far below a printed digit. */
#define CLOSE_KGM3 1e-6

dt_while_drilling dt_section_while_drilling(const dt_window *window, const dt_hole_rules *rules,
                                            double top_m, double base_m)
{
    if (!dt_section_holds(window, rules, top_m, base_m)) return (dt_while_drilling){NAN, NAN, NAN};
    const reach r = reach_of(window, top_m, base_m);
    test t = test_begin(window, rules, &r);
    const double mud_kgm3 = t.mud.emw_kgm3;
    double bad = 0, good = r.top.fracture_kgm3;
    while (good - bad > CLOSE_KGM3) {
        const double middle = bad + (good - bad) / 2;
        *(shoe_bears(&t, &r.top, middle) ? &good : &bad) = middle;
    }
    const double leak_off_kgm3 = good;
    good = mud_kgm3;
    bad = 2 * r.top.fracture_kgm3; /* no rock withstands a mud that it breaks under */
    while (bad - good > CLOSE_KGM3) {
        const double middle = good + (bad - good) / 2;
        *(bears_mud(&t, &r, middle) ? &good : &bad) = middle;
    }
    const double covered_kgm3 = dt_margin_emw(&window->well->margins.trip, base_m);
    return (dt_while_drilling){leak_off_kgm3, good, t.riserless ? NAN : good - covered_kgm3};
}

bool dt_section_sticks(const dt_window *window, double top_m, double base_m)
{
    if (!window->well->sticking.given || !(top_m < base_m)) return false;
    const reach r = reach_of(window, top_m, base_m);
    test t = test_begin(window, NULL, &r);
    walk w = walk_begin(window, top_m, base_m);
    do
        test_sticking(&t, &w);
    while (walk_on(&w));
    return t.broken.found;
}

bool dt_shoe_allowed(const dt_window *window, double tvd_m, dt_reason *why)
{
    const dt_well *well = window->well;
    for (size_t i = 0; i < window->bad_count; ++i) {
        const dt_bad_rock *bad = &window->bad[i];
        if (tvd_m <= bad->top_m + SLACK_M || tvd_m >= bad->base_m - SLACK_M) continue;
        const bool pay = bad->interval == DT_NO_INDEX;
        const bool said = !pay && well->intervals[bad->interval].action == DT_AVOID_SHOE;
        if (why)
            *why = (dt_reason){.rule = said ? DT_RULE_AVOID_SHOE : DT_RULE_COMPETENT_ROCK,
                               .tvd_m = tvd_m,
                               .have = tvd_m,
                               .need = bad->base_m,
                               .other = bad->top_m,
                               .kind = DT_KIND_LENGTH,
                               .mud_kgm3 = NAN,
                               .mud_tvd_m = NAN,
                               .section_top_m = NAN,
                               .section_base_m = NAN,
                               .interval = bad->interval,
                               .pay = bad->pay,
                               .hole_m = NAN,
                               .line = pay ? well->pays[bad->pay].line
                                           : well->intervals[bad->interval].line};
        return false;
    }
    return true;
}
