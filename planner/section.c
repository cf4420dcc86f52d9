/* SPDX-License-Identifier: MIT */
/* One hole section drilled with one mud: which rules hold. Part of stage 3, seats.h. */
#include <math.h>

#include "drawtube/seats.h"

/*
 * A rule is broken only by more than the noise of arithmetic. The slack is far below any
 * printed digit (1e-10 ppg, 1e-9 psi, 1e-8 m) and makes a seat that stands exactly on a
 * limit, as hand-made straight-line wells do, come out on the limit.
 */
#define SLACK_KGM3 1e-8
#define SLACK_PA   1e-5
#define SLACK_M    1e-8

/**
 * The exposed rock of [top, base] as stretches between breaks. Inside a stretch no curve
 * bends and no rule changes, so every rule is decided at its two ends (docs/seats.md).
 */
typedef struct stretch {
    double top_m, base_m;
} stretch;

/** Index of the first break deeper than a depth. */
static size_t first_break_below(const dt_window *window, double tvd_m)
{
    size_t low = 0, high = window->break_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (window->breaks[middle] <= tvd_m)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static stretch next_stretch(const dt_window *window, double top_m, double base_m, size_t *at)
{
    while (*at < window->break_count && window->breaks[*at] <= top_m)
        ++*at;
    double end = *at < window->break_count ? fmin(window->breaks[*at], base_m) : base_m;
    return (stretch){top_m, end};
}

typedef struct mud {
    double emw_kgm3, from_tvd_m;
    bool by_collapse;
} mud;

static void raise_mud(const dt_window *window, double tvd_m, dt_side side, mud *most)
{
    double lower = dt_window_lower(window, tvd_m, side);
    if (lower > most->emw_kgm3) {
        const dt_well *well = window->well;
        double collapse = dt_curve_emw(&well->collapse, tvd_m, side);
        *most = (mud){lower, tvd_m, well->collapse.count > 0 && collapse >= lower};
    }
}

static mud section_mud(const dt_window *window, double top_m, double base_m)
{
    mud most = {-INFINITY, top_m, false};
    size_t at = first_break_below(window, top_m);
    for (double z = top_m; z < base_m;) {
        stretch part = next_stretch(window, z, base_m, &at);
        raise_mud(window, part.top_m, DT_BELOW, &most);
        raise_mud(window, part.base_m, DT_ABOVE, &most);
        z = part.base_m;
    }
    return most;
}

double dt_section_mud(const dt_window *window, double top_m, double base_m, double *from_tvd_m,
                      bool *by_collapse)
{
    mud found = section_mud(window, top_m, base_m);
    if (from_tvd_m) *from_tvd_m = found.from_tvd_m;
    if (by_collapse) *by_collapse = found.by_collapse;
    return found.emw_kgm3;
}

double dt_section_min_fracture(const dt_window *window, double top_m, double base_m)
{
    const dt_curve *fracture = &window->well->fracture;
    double least = INFINITY;
    size_t at = first_break_below(window, top_m);
    for (double z = top_m; z < base_m;) {
        stretch part = next_stretch(window, z, base_m, &at);
        least = fmin(least, dt_curve_emw(fracture, part.top_m, DT_BELOW));
        least = fmin(least, dt_curve_emw(fracture, part.base_m, DT_ABOVE));
        z = part.base_m;
    }
    return least;
}

/** State of one section test: the section, its mud, and the worst breach so far. */
typedef struct test {
    const dt_window *window;
    double top_m, base_m;
    mud mud;
    double pore_mud_kgm3; /* highest pore EMW exposed, for sticking without trip margin */
    double worst;         /* (need - have) / |have| of the worst breach */
    dt_section_check *out;
} test;

/** Records a breach when `have` falls short of `need` by more than the slack. */
static void demand(test *t, dt_rule rule, dt_kind kind, double tvd_m, double have, double need,
                   size_t interval, int line)
{
    double slack = kind == DT_KIND_DENSITY    ? SLACK_KGM3
                   : kind == DT_KIND_PRESSURE ? SLACK_PA
                                              : SLACK_M;
    if (have >= need - slack) return;
    double breach = (need - have) / fmax(fabs(have), 1.0);
    if (!t->out->ok && breach <= t->worst) return;
    t->worst = breach;
    t->out->ok = false;
    t->out->why = (dt_reason){.rule = rule,
                              .tvd_m = tvd_m,
                              .have = have,
                              .need = need,
                              .kind = kind,
                              .mud_kgm3 = t->mud.emw_kgm3,
                              .mud_tvd_m = t->mud.from_tvd_m,
                              .mud_by_collapse = t->mud.by_collapse,
                              .section_top_m = t->top_m,
                              .section_base_m = t->base_m,
                              .interval = interval,
                              .line = line};
}

static int line_of(const dt_curve *curve, double tvd_m, dt_side side)
{
    size_t point = dt_curve_point_near(curve, tvd_m, side);
    return point == DT_NO_INDEX ? 0 : curve->points[point].line;
}

static void test_fracture(test *t, double tvd_m, dt_side side)
{
    const dt_well *well = t->window->well;
    const dt_margins *m = &well->margins;
    double fracture = dt_curve_emw(&well->fracture, tvd_m, side);
    int line = line_of(&well->fracture, tvd_m, side);
    double swept =
        t->mud.emw_kgm3 + dt_margin_emw(&m->surge, tvd_m) + dt_margin_emw(&m->safety, tvd_m);
    demand(t, DT_RULE_MUD_LIMIT, DT_KIND_DENSITY, tvd_m, fracture, swept, DT_NO_INDEX, line);
    if (m->kick_rule == DT_KICK_FIXED) {
        double kicked = t->mud.emw_kgm3 + dt_margin_emw(&m->kick, tvd_m);
        demand(t, DT_RULE_KICK_FIXED, DT_KIND_DENSITY, tvd_m, fracture, kicked, DT_NO_INDEX, line);
        return;
    }
    double kicked = t->mud.emw_kgm3 + dt_margin_emw(&m->gain, tvd_m) +
                    dt_margin_emw(&m->kick, t->base_m) * t->base_m / tvd_m;
    demand(t, DT_RULE_KICK_DEPTH_RATIO, DT_KIND_DENSITY, tvd_m, fracture, kicked, DT_NO_INDEX,
           line);
}

/** May the pipe stick here? Rock is permeable unless an interval says no, or only where one says
 * yes. */
static bool can_stick(const dt_well *well, double tvd_m)
{
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *interval = &well->intervals[i];
        if (tvd_m > interval->top_m && tvd_m < interval->base_m) {
            if (interval->permeable == DT_PERMEABLE_YES) return true;
            if (interval->permeable == DT_PERMEABLE_NO) return false;
        }
    }
    return well->sticking.rock == DT_STICKING_ALL_ROCK;
}

static void test_overbalance(test *t, double tvd_m, dt_side side, bool normal, double mud_kgm3)
{
    const dt_well *well = t->window->well;
    const dt_sticking *sticking = &well->sticking;
    double pore = dt_curve_emw(&well->pore, tvd_m, side);
    double overbalance = (mud_kgm3 - pore) * DT_STANDARD_GRAVITY * tvd_m;
    demand(t, normal ? DT_RULE_STICKING_NORMAL : DT_RULE_STICKING_ABNORMAL, DT_KIND_PRESSURE, tvd_m,
           normal ? sticking->normal_limit_pa : sticking->abnormal_limit_pa, overbalance,
           DT_NO_INDEX, line_of(&well->pore, tvd_m, side));
}

static void test_sticking(test *t, stretch part)
{
    const dt_well *well = t->window->well;
    double middle = part.top_m + (part.base_m - part.top_m) / 2;
    if (!can_stick(well, middle)) return;
    double mud_kgm3 =
        well->sticking.mud == DT_STICKING_PLANNED_MUD ? t->mud.emw_kgm3 : t->pore_mud_kgm3;
    bool normal = dt_curve_emw(&well->pore, middle, DT_BELOW) <= well->sticking.normal_pore_kgm3;
    test_overbalance(t, part.top_m, DT_BELOW, normal, mud_kgm3);
    test_overbalance(t, part.base_m, DT_ABOVE, normal, mud_kgm3);
    if (well->pore.between == DT_BETWEEN_PRESSURE) return;
    /* With pore = p0 + p1 z the overbalance is a parabola; its top may stand inside. */
    double top = dt_curve_emw(&well->pore, part.top_m, DT_BELOW);
    double base = dt_curve_emw(&well->pore, part.base_m, DT_ABOVE);
    double p1 = (base - top) / (part.base_m - part.top_m);
    double vertex = (mud_kgm3 - (top - p1 * part.top_m)) / (2 * p1);
    if (p1 > 0 && vertex > part.top_m && vertex < part.base_m)
        test_overbalance(t, vertex, DT_BELOW, normal, mud_kgm3);
}

static void test_intervals(test *t)
{
    const dt_well *well = t->window->well;
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *interval = &well->intervals[i];
        bool exposed =
            t->top_m < interval->base_m - SLACK_M && t->base_m > interval->top_m + SLACK_M;
        if (!exposed) continue;
        if (interval->action == DT_CASE_OFF)
            demand(t, DT_RULE_CASE_OFF, DT_KIND_LENGTH, interval->base_m,
                   interval->base_m + interval->within_m, t->base_m, i, interval->line);
        if (interval->action == DT_CASE_ABOVE)
            demand(t, DT_RULE_CASE_ABOVE, DT_KIND_LENGTH, interval->top_m, t->top_m,
                   interval->top_m - interval->within_m, i, interval->line);
    }
}

static double highest_pore(const dt_window *window, double top_m, double base_m)
{
    double most = -INFINITY;
    size_t at = first_break_below(window, top_m);
    for (double z = top_m; z < base_m;) {
        stretch part = next_stretch(window, z, base_m, &at);
        most = fmax(most, dt_curve_emw(&window->well->pore, part.top_m, DT_BELOW));
        most = fmax(most, dt_curve_emw(&window->well->pore, part.base_m, DT_ABOVE));
        z = part.base_m;
    }
    return most;
}

void dt_section_test(const dt_window *window, double top_m, double base_m, bool with_sticking,
                     dt_section_check *out)
{
    out->ok = true;
    test t = {.window = window, .top_m = top_m, .base_m = base_m, .out = out};
    t.mud = section_mud(window, top_m, base_m);
    bool sticking = with_sticking && window->well->sticking.given;
    if (sticking) t.pore_mud_kgm3 = highest_pore(window, top_m, base_m);
    size_t at = first_break_below(window, top_m);
    for (double z = top_m; z < base_m;) {
        stretch part = next_stretch(window, z, base_m, &at);
        test_fracture(&t, part.top_m, DT_BELOW);
        test_fracture(&t, part.base_m, DT_ABOVE);
        if (sticking) test_sticking(&t, part);
        z = part.base_m;
    }
    test_intervals(&t);
}

bool dt_section_sticks(const dt_window *window, double top_m, double base_m)
{
    if (!window->well->sticking.given) return false;
    dt_section_check check = {.ok = true};
    test t = {.window = window, .top_m = top_m, .base_m = base_m, .out = &check};
    t.mud = section_mud(window, top_m, base_m);
    t.pore_mud_kgm3 = highest_pore(window, top_m, base_m);
    size_t at = first_break_below(window, top_m);
    for (double z = top_m; z < base_m;) {
        stretch part = next_stretch(window, z, base_m, &at);
        test_sticking(&t, part);
        z = part.base_m;
    }
    return !check.ok;
}

bool dt_shoe_allowed(const dt_window *window, double tvd_m, dt_reason *why)
{
    const dt_well *well = window->well;
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *interval = &well->intervals[i];
        if (interval->action != DT_AVOID_SHOE) continue;
        if (tvd_m <= interval->top_m + SLACK_M || tvd_m >= interval->base_m - SLACK_M) continue;
        if (why)
            *why = (dt_reason){.rule = DT_RULE_AVOID_SHOE,
                               .tvd_m = tvd_m,
                               .have = tvd_m,
                               .need = interval->base_m,
                               .kind = DT_KIND_LENGTH,
                               .mud_kgm3 = NAN,
                               .mud_tvd_m = NAN,
                               .section_top_m = NAN,
                               .section_base_m = NAN,
                               .interval = i,
                               .line = interval->line};
        return false;
    }
    return true;
}
