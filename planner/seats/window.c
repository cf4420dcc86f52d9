/* SPDX-License-Identifier: MIT */
#include "window.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "numbers.h"
#include "same.h"
#include "spans.h"
#include "units.h"

/** Mud that holds pore pressure with the sea in place of what stands in the riser; 0: not asked. */
static double without_riser(const dt_well *well, double pore_kgm3, double tvd_m)
{
    const double below_m = tvd_m - dt_well_ground_m(well);
    if (!well->riser_margin || !well->bop_at_seabed || !(below_m > 0)) return 0;
    return (pore_kgm3 * tvd_m - dt_well_sea_kgm2(well)) / below_m;
}

double dt_window_lower(const dt_window *window, double tvd_m, dt_side side)
{
    const dt_well *well = window->well;
    double lower =
        dt_curve_emw(&well->pore, tvd_m, side) + dt_margin_emw(&well->margins.trip, tvd_m);
    if (well->collapse.count > 0) lower = fmax(lower, dt_curve_emw(&well->collapse, tvd_m, side));
    return fmax(lower, without_riser(well, dt_curve_emw(&well->pore, tvd_m, side), tvd_m));
}

double dt_window_riserless_emw(const dt_window *window, double mud_kgm3, double tvd_m)
{
    return dt_well_sea_column_pa(window->well, mud_kgm3, tvd_m) / (DT_STANDARD_GRAVITY * tvd_m);
}

/**
 * Is rock below the sea floor pressured by water alone? Tables count from the rig floor, in tenths
 * of a ppg: near the sea floor a constant weight of normal rock is tens of psi over the sea. So
 * what the table calls normal may be so much over sea water with normal rock below it.
 */
#define OVER_SEA_PA (50 * DT_PA_PER_PSI)

/** By how much the pressure of rock is over sea water with normal rock below it, Pa. */
static double over_sea_pa(const dt_well *well, const dt_face *face)
{
    return face->pore_kgm3 * DT_STANDARD_GRAVITY * face->tvd_m -
           dt_well_sea_column_pa(well, dt_normal_pore(well), face->tvd_m);
}

static bool normal_under_sea(const dt_well *well, const dt_face *face)
{
    const bool said = face->pore_kgm3 <= dt_normal_pore(well) + TIE_KGM3;
    return over_sea_pa(well, face) <= (said ? OVER_SEA_PA : TIE_PA);
}

/** Mud below the sea floor that holds a pressure with the sea on it, and its margin. */
static double held_under_sea(const dt_well *well, const dt_face *face)
{
    const double below_m = face->tvd_m - dt_well_ground_m(well);
    const dt_margin *trip = &well->margins.trip;
    return (face->pore_kgm3 * face->tvd_m - dt_well_sea_kgm2(well)) / below_m + trip->emw_kgm3 +
           trip->pressure_pa / (DT_STANDARD_GRAVITY * below_m);
}

double dt_window_riserless(const dt_window *window, const dt_face *face)
{
    const dt_well *well = window->well;
    const double sea_kgm2 = dt_well_sea_kgm2(well), sea_kgm3 = sea_kgm2 / well->water_depth_m;
    const double below_m = face->tvd_m - dt_well_ground_m(well);
    if (!(below_m > 0)) return sea_kgm3;
    double least = sea_kgm3;
    if (!normal_under_sea(well, face)) least = fmax(least, held_under_sea(well, face));
    return least;
}

/** Roots of q2 z^2 + q1 z + q0 between two depths, appended. */
static size_t roots_between(double q2, double q1, double q0, double top_m, double base_m,
                            double *out)
{
    const double square = q1 * q1 - 4 * q2 * q0;
    const double sum = -(q1 + copysign(sqrt(fmax(square, 0)), q1)) / 2;
    const double roots[] = {sum / q2, q0 / sum};
    size_t n = 0;
    for (size_t i = 0; i < COUNT_OF(roots) && square >= 0; ++i)
        if (roots[i] > top_m && roots[i] < base_m) out[n++] = roots[i];
    return n;
}

double dt_window_riserless_inside(const dt_window *window, const dt_face *top, const dt_face *base,
                                  double *at_m)
{
    const dt_well *well = window->well;
    const double normal = dt_normal_pore(well), ground_m = dt_well_ground_m(well);
    const double top_m = fmax(top->tvd_m, ground_m), length_m = base->tvd_m - top->tvd_m;
    const bool straight = well->pore.between == DT_BETWEEN_PRESSURE; /* pore z = a + b z */
    const double rise =
        straight ? (base->pore_kgm3 * base->tvd_m - top->pore_kgm3 * top->tvd_m) / length_m
                 : (base->pore_kgm3 - top->pore_kgm3) / length_m;
    const double q2 = straight ? 0 : rise,
                 flat = straight ? top->pore_kgm3 * top->tvd_m - rise * top->tvd_m
                                 : top->pore_kgm3 - rise * top->tvd_m;
    const double q1 = straight ? rise : flat, q0 = straight ? flat : 0;
    const double line = normal * ground_m - dt_well_sea_kgm2(well);
    double depths[6], most = -INFINITY;
    size_t n = roots_between(q2, q1 - normal, q0 + line - OVER_SEA_PA / DT_STANDARD_GRAVITY, top_m,
                             base->tvd_m, depths);
    n += roots_between(q2, q1 - normal, q0 + line, top_m, base->tvd_m, depths + n);
    n += roots_between(q2, q1 - normal, q0, top_m, base->tvd_m, depths + n);
    for (size_t i = 0; i < n; ++i) {
        const dt_face face = dt_window_face(window, depths[i], DT_BELOW);
        const double over_pa = over_sea_pa(well, &face);
        const bool said = face.pore_kgm3 <= normal + 100 * TIE_KGM3;
        /* abnormal on one side of it at least */
        if (over_pa < (said && face.pore_kgm3 < normal - 100 * TIE_KGM3 ? OVER_SEA_PA - 1 : -1))
            continue;
        const double held = held_under_sea(well, &face);
        if (!(held > most)) continue;
        most = held;
        *at_m = depths[i];
    }
    return most;
}

double dt_window_upper(const dt_window *window, double tvd_m, double bottom_m, dt_side side)
{
    const dt_margins *margins = &window->well->margins;
    double fracture = dt_curve_emw(&window->well->fracture, tvd_m, side);
    double swept = dt_margin_emw(&margins->surge, tvd_m) + dt_margin_emw(&margins->safety, tvd_m);
    double kick = margins->kick_rule == DT_KICK_FIXED
                      ? dt_margin_emw(&margins->kick, tvd_m)
                      : dt_margin_emw(&margins->gain, tvd_m) +
                            dt_margin_emw(&margins->kick, bottom_m) * bottom_m / tvd_m;
    return fracture - fmax(swept, kick);
}

/** Depth inside a segment of the pore curve where it crosses an EMW, or NAN. */
static double crossing(const dt_curve *curve, size_t segment, double emw)
{
    const dt_curve_point *a = &curve->points[segment], *b = &curve->points[segment + 1];
    if ((a->emw_kgm3 - emw) * (b->emw_kgm3 - emw) >= 0 || b->tvd_m <= a->tvd_m) return NAN;
    double length = b->tvd_m - a->tvd_m;
    if (curve->between == DT_BETWEEN_GRADIENT)
        return a->tvd_m + length * (emw - a->emw_kgm3) / (b->emw_kgm3 - a->emw_kgm3);
    /* Pressure form: emw(z) = slope + rest / z. */
    double slope = (b->emw_kgm3 * b->tvd_m - a->emw_kgm3 * a->tvd_m) / length;
    double rest = a->emw_kgm3 * a->tvd_m - slope * a->tvd_m;
    return rest / (emw - slope);
}

static void collect_curve(const dt_curve *curve, double *breaks, size_t *count)
{
    for (size_t i = 0; i < curve->count; ++i)
        breaks[(*count)++] = curve->points[i].tvd_m;
}

static void collect_intervals(const dt_well *well, double *breaks, size_t *count)
{
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *interval = &well->intervals[i];
        breaks[(*count)++] = interval->top_m;
        breaks[(*count)++] = interval->base_m;
        breaks[(*count)++] = interval->action == DT_CASE_ABOVE
                                 ? interval->top_m - interval->within_m
                                 : interval->base_m + interval->within_m;
    }
}

size_t dt_window_break_below(const dt_window *window, double tvd_m)
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

double dt_window_on_break(const dt_window *window, double tvd_m)
{
    size_t first = dt_window_break_below(window, tvd_m - SAME_DEPTH_M),
           end = dt_window_break_below(window, tvd_m + SAME_DEPTH_M);
    return first == end ? tvd_m : window->breaks[end - 1]; /* of several the deepest */
}

static dt_face make_face(const dt_well *well, double tvd_m, dt_side side)
{
    const dt_margins *m = &well->margins;
    dt_face face = {.tvd_m = tvd_m,
                    .pore_kgm3 = dt_curve_emw(&well->pore, tvd_m, side),
                    .fracture_kgm3 = dt_curve_emw(&well->fracture, tvd_m, side),
                    .collapse_kgm3 = dt_curve_emw(&well->collapse, tvd_m, side)};
    face.lower_kgm3 = face.pore_kgm3 + dt_margin_emw(&m->trip, tvd_m);
    if (face.collapse_kgm3 > face.lower_kgm3) face.lower_kgm3 = face.collapse_kgm3;
    face.lower_kgm3 = fmax(face.lower_kgm3, without_riser(well, face.pore_kgm3, tvd_m));
    face.swept_kgm3 = dt_margin_emw(&m->surge, tvd_m) + dt_margin_emw(&m->safety, tvd_m);
    face.safety_kgm3 = dt_margin_emw(&m->safety, tvd_m);
    face.drilling_kgm3 = dt_margin_emw(&m->drilling, tvd_m);
    face.kick_kgm3 = dt_margin_emw(m->kick_rule == DT_KICK_FIXED ? &m->kick : &m->gain, tvd_m);
    return face;
}

dt_face dt_window_face(const dt_window *window, double tvd_m, dt_side side)
{
    size_t below = dt_window_break_below(window, tvd_m);
    /* At a break the face is at hand, the same to the last digit. */
    if (below > 0 && window->breaks[below - 1] >= tvd_m)
        return window->faces[2 * (below - 1) + (side == DT_BELOW)];
    return make_face(window->well, tvd_m, side);
}

/** May pipe stick here? Rock is permeable unless an interval says no, or only where one says
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

/** Inside the rock between two breaks no rule changes, so its middle stands for all of it. */
static dt_rock make_rock(const dt_well *well, double tvd_m)
{
    if (!well->sticking.given) return (dt_rock){false, false};
    return (dt_rock){can_stick(well, tvd_m), dt_curve_emw(&well->pore, tvd_m, DT_BELOW) <=
                                                 well->sticking.normal_pore_kgm3 + TIE_KGM3};
}

static void fill_breaks(dt_window *window)
{
    const dt_well *well = window->well;
    double above = 0;
    for (size_t i = 0; i < window->break_count; ++i) {
        double at = window->breaks[i];
        window->faces[2 * i] = make_face(well, at, DT_ABOVE);
        window->faces[2 * i + 1] = make_face(well, at, DT_BELOW);
        window->rocks[i] = make_rock(well, above + (at - above) / 2);
        above = at;
    }
    window->rocks[window->break_count] = make_rock(well, above + 1);
}

/** Kinds of rock that no shoe stands in, whatever their action. */
static bool holds_no_shoe(const dt_well *well, const dt_interval *interval)
{
    static const char *const kinds[] = {"lost-circulation", "unstable", "depleted"};
    for (size_t i = 0; i < COUNT_OF(kinds); ++i)
        if (strcmp(interval->kind, kinds[i]) == 0) return true;
    const bool thin =
        interval->base_m - interval->top_m < dt_custom_value_of(well, DT_CUSTOM_SEATS_THICK_SALT);
    return strcmp(interval->kind, "salt") == 0 && thin;
}

/**
 * Where no shoe may stand: inside what the well says, and where its basis lets shoes stand past
 * bad rock, inside such rock and pays, and as far past the base of what is cased off as is asked,
 * but never further than it may be drilled past.
 */
static void list_bad_rock(dt_window *window)
{
    const dt_well *well = window->well;
    const double past_m = dt_custom_or(well, well->seats.past_m, DT_CUSTOM_SEATS_PAST);
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *v = &well->intervals[i];
        const bool case_off = v->action == DT_CASE_OFF;
        const double base_m = v->base_m + (case_off ? fmin(past_m, v->within_m) : 0);
        const bool bad = past_m > 0 && (case_off || holds_no_shoe(well, v));
        if (v->action != DT_AVOID_SHOE && !bad) continue;
        window->bad[window->bad_count++] =
            (dt_bad_rock){v->top_m, base_m, i, DT_NO_INDEX, base_m > v->base_m};
    }
    for (size_t i = 0; past_m > 0 && i < well->pay_count; ++i)
        window->bad[window->bad_count++] =
            (dt_bad_rock){well->pays[i].top_m, well->pays[i].base_m, DT_NO_INDEX, i, false};
}

dt_status dt_window_build(const dt_well *well, dt_window *out)
{
    const dt_curve *pore = &well->pore;
    size_t most = 2 * pore->count + well->fracture.count + well->collapse.count +
                  3 * well->interval_count + 2;
    double *breaks = malloc(most * sizeof *breaks);
    if (!breaks) return DT_E_MEMORY;
    size_t count = 0;
    collect_curve(pore, breaks, &count);
    collect_curve(&well->fracture, breaks, &count);
    collect_curve(&well->collapse, breaks, &count);
    collect_intervals(well, breaks, &count);
    /* The sticking limit changes where pore pressure leaves the normal range. */
    for (size_t i = 0; well->sticking.given && i + 1 < pore->count; ++i) {
        double depth = crossing(pore, i, well->sticking.normal_pore_kgm3);
        /* at a point itself it is there already: a sliver beside it would be rock of the other kind
         */
        if (depth > pore->points[i].tvd_m + SAME_DEPTH_M &&
            depth < pore->points[i + 1].tvd_m - SAME_DEPTH_M)
            breaks[count++] = depth;
    }
    breaks[count++] = well->objective_m;
    if (well->kick.given && isfinite(well->kick.seat_below_m))
        breaks[count++] = well->kick.seat_below_m;
    qsort(breaks, count, sizeof *breaks, by_value);
    size_t kept = 0;
    for (size_t i = 0; i < count; ++i)
        if (breaks[i] > 0 && (kept == 0 || breaks[i] > breaks[kept - 1]))
            breaks[kept++] = breaks[i];
    dt_window window = {.well = well, .breaks = breaks, .break_count = kept};
    window.faces = malloc((2 * kept + 1) * sizeof *window.faces);
    window.rocks = malloc((kept + 1) * sizeof *window.rocks);
    window.bad = malloc((well->interval_count + well->pay_count + 1) * sizeof *window.bad);
    if (!window.faces || !window.rocks || !window.bad) {
        dt_window_free(&window);
        return DT_E_MEMORY;
    }
    fill_breaks(&window);
    list_bad_rock(&window);
    if (dt_spans_build(&window) != DT_OK) {
        dt_window_free(&window);
        return DT_E_MEMORY;
    }
    *out = window;
    return DT_OK;
}

void dt_window_free(dt_window *window)
{
    if (!window) return;
    free(window->breaks);
    free(window->faces);
    free(window->rocks);
    free(window->bad);
    free(window->spans);
    *window = (dt_window){0};
}
