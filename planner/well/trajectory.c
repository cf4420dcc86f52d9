/* SPDX-License-Identifier: MIT */
#include "trajectory.h"

#include <math.h>
#include <stdlib.h>

#include "same.h"

static void put(double *out, double value)
{
    if (out) *out = value;
}

/*
 * Angle between two directions. The haversine form: the cosine form of the handbooks loses
 * half the digits when the angle is small, which is where most surveys are.
 */
static double angle_between(double inc1, double azi1, double inc2, double azi2)
{
    const double build = sin((inc2 - inc1) / 2), turn = sin((azi2 - azi1) / 2);
    const double h = build * build + sin(inc1) * sin(inc2) * turn * turn;
    return 2 * asin(sqrt(fmin(fmax(h, 0), 1)));
}

/* tan(b/2) / (b/2); the series is exact to the last digit below its limit and needs no 0/0. */
static double ratio(double dogleg)
{
    if (dogleg < 1e-4) return 1 + dogleg * dogleg / 12;
    return 2 / dogleg * tan(dogleg / 2);
}

void dt_minimum_curvature(double md_m, double inc1_rad, double azi1_rad, double inc2_rad,
                          double azi2_rad, double *tvd_m, double *north_m, double *east_m,
                          double *dogleg_rad, double *ratio_factor)
{
    const double dogleg = angle_between(inc1_rad, azi1_rad, inc2_rad, azi2_rad);
    const double RF = ratio(dogleg), half = md_m / 2 * RF;
    const double sin1 = sin(inc1_rad), sin2 = sin(inc2_rad);
    put(tvd_m, half * (cos(inc1_rad) + cos(inc2_rad)));
    put(north_m, half * (sin1 * cos(azi1_rad) + sin2 * cos(azi2_rad)));
    put(east_m, half * (sin1 * sin(azi1_rad) + sin2 * sin(azi2_rad)));
    put(dogleg_rad, dogleg);
    put(ratio_factor, RF);
}

/* A half turn between two stations has no plane of its own, and so no arc. */
static bool joins(const dt_trajectory_node *node)
{
    return node->dogleg_rad < PI - 1e-6;
}

static bool add_station(const dt_station *station, const dt_trajectory_node *last,
                        dt_trajectory_node *node)
{
    if (!(station->md_m > last->md_m) || !isfinite(station->md_m)) return false;
    if (!(station->inclination_rad >= 0 && station->inclination_rad <= PI)) return false;
    if (!isfinite(station->azimuth_rad)) return false;
    double tvd, north, east;
    *node = (dt_trajectory_node){.md_m = station->md_m,
                                 .inclination_rad = station->inclination_rad,
                                 .azimuth_rad = station->azimuth_rad};
    dt_minimum_curvature(station->md_m - last->md_m, last->inclination_rad, last->azimuth_rad,
                         node->inclination_rad, node->azimuth_rad, &tvd, &north, &east,
                         &node->dogleg_rad, NULL);
    node->tvd_m = last->tvd_m + tvd;
    node->north_m = last->north_m + north;
    node->east_m = last->east_m + east;
    return joins(node);
}

/*
 * The vertical half of an arc. The unit tangent turns evenly from one station's to the other's
 * in the plane of both, so its vertical part at angle q is down0 cos q + bend sin q.
 */
typedef struct arc {
    double length_m, dogleg;
    double down0; /* cosine of the inclination at the start */
    double bend;
} arc;

static arc arc_of(const dt_trajectory_node *start, const dt_trajectory_node *end)
{
    const double b = end->dogleg_rad, down0 = cos(start->inclination_rad);
    const double down1 = cos(end->inclination_rad);
    return (arc){.length_m = end->md_m - start->md_m,
                 .dogleg = b,
                 .down0 = down0,
                 .bend = b > 0 ? (down1 - down0 * cos(b)) / sin(b) : 0};
}

static double arc_down(const arc *a, double md_m)
{
    const double q = a->dogleg * md_m / a->length_m;
    return a->down0 * cos(q) + a->bend * sin(q);
}

/* TVD gained md below the start of the arc: half the sum of both tangents, as for a whole arc. */
static double arc_tvd(const arc *a, double md_m)
{
    const double q = a->dogleg * md_m / a->length_m;
    return md_m / 2 * (a->down0 + arc_down(a, md_m)) * ratio(q);
}

/* Lengths from the arc's start at which TVD turns, between its ends: the arc is level there. */
static double arc_crest(const arc *a)
{
    if (!(a->dogleg > 0)) return NAN;
    double q = atan2(a->down0, -a->bend); /* zero of the tangent, modulo a half turn */
    q = fmod(q + PI, PI);
    return q > 0 && q < a->dogleg ? a->length_m * q / a->dogleg : NAN;
}

static void note_deepest(dt_trajectory *t)
{
    for (size_t i = 1; i < t->count; ++i) {
        const dt_trajectory_node *start = &t->nodes[i - 1];
        const arc a = arc_of(start, start + 1);
        const double crest = arc_crest(&a);
        const double deepest_m = fmax(start->deepest_m, t->nodes[i].tvd_m);
        t->nodes[i].deepest_m =
            isnan(crest) ? deepest_m : fmax(deepest_m, start->tvd_m + arc_tvd(&a, crest));
    }
}

dt_status dt_trajectory_build(const dt_station *stations, size_t count, dt_trajectory *out)
{
    if (count == 0) {
        *out = (dt_trajectory){0};
        return DT_OK;
    }
    dt_trajectory t = {.nodes = calloc(count + 1, sizeof *t.nodes)};
    if (!t.nodes) return DT_E_MEMORY;
    dt_status status = DT_OK;
    const bool tied_in = stations[0].md_m == 0;
    const double inc = stations[0].inclination_rad, azi = stations[0].azimuth_rad;
    t.nodes[t.count++] =
        (dt_trajectory_node){.inclination_rad = tied_in ? inc : 0, .azimuth_rad = azi};
    if (!(inc >= 0 && inc <= PI) || !isfinite(azi)) status = DT_E_DOMAIN;
    for (size_t i = tied_in; i < count && status == DT_OK; ++i, ++t.count)
        if (!add_station(&stations[i], &t.nodes[t.count - 1], &t.nodes[t.count]))
            status = DT_E_DOMAIN;
    if (status != DT_OK) {
        dt_trajectory_free(&t);
        return status;
    }
    note_deepest(&t);
    *out = t;
    return DT_OK;
}

dt_status dt_trajectory_of(const dt_well *well, dt_trajectory *out)
{
    const dt_status status = dt_trajectory_build(well->stations, well->station_count, out);
    if (status != DT_OK || out->count == 0 || isnan(well->objective_md_m)) return status;
    out->toe_md_m = well->objective_md_m;
    out->toe_tvd_m = well->objective_m;
    return DT_OK;
}

void dt_trajectory_free(dt_trajectory *trajectory)
{
    if (!trajectory) return;
    free(trajectory->nodes);
    *trajectory = (dt_trajectory){0};
}

/* Index of the node that ends the arc holding md; count when md is below the last node. */
static size_t arc_end(const dt_trajectory *t, double md_m)
{
    size_t low = 1, high = t->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (t->nodes[middle].md_m < md_m)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Where TVD gained reaches `want` between two lengths of an arc over which it only grows. */
static double solve_arc(const arc *a, double low, double high, double want)
{
    double md = low + (high - low) / 2;
    for (int i = 0; i < 200; ++i) {
        const double error = arc_tvd(a, md) - want, slope = arc_down(a, md);
        if (error == 0) return md;
        if (error < 0)
            low = md;
        else
            high = md;
        double next = slope > 0 ? md - error / slope : low;
        if (!(next > low && next < high)) next = low + (high - low) / 2;
        if (next == md || next <= low || next >= high) return md;
        md = next;
    }
    return md;
}

/* A crest touched within rounding counts as reached: a hole landed level ends at one. */
static const double touch_m = 5e-10;

/* First length into the arc at which the TVD gained is `want`, or NAN. */
static double first_in_arc(const arc *a, double want)
{
    const double crest = arc_crest(a);
    const double first_end = isnan(crest) ? a->length_m : crest;
    if (arc_tvd(a, first_end) >= want - touch_m) return solve_arc(a, 0, first_end, want);
    if (!isnan(crest) && arc_tvd(a, a->length_m) >= want - touch_m)
        return solve_arc(a, crest, a->length_m, want);
    return NAN;
}

static const dt_trajectory_node *last_node(const dt_trajectory *t)
{
    return &t->nodes[t->count - 1];
}

double dt_trajectory_tvd(const dt_trajectory *trajectory, double md_m)
{
    if (!(md_m >= 0)) return NAN;
    if (trajectory->count == 0) return md_m;
    const size_t end = arc_end(trajectory, md_m);
    if (end == trajectory->count) {
        const dt_trajectory_node *last = last_node(trajectory);
        return last->tvd_m + (md_m - last->md_m) * cos(last->inclination_rad);
    }
    const dt_trajectory_node *nodes = trajectory->nodes;
    if (md_m == nodes[end].md_m) return nodes[end].tvd_m;
    const arc a = arc_of(&nodes[end - 1], &nodes[end]);
    return nodes[end - 1].tvd_m + arc_tvd(&a, md_m - nodes[end - 1].md_m);
}

double dt_trajectory_deepest(const dt_trajectory *trajectory, double md_m)
{
    const double tvd_m = dt_trajectory_tvd(trajectory, md_m);
    if (trajectory->count == 0 || isnan(tvd_m)) return tvd_m;
    const size_t end = arc_end(trajectory, md_m);
    const dt_trajectory_node *start = &trajectory->nodes[end > 0 ? end - 1 : 0];
    double deepest_m = fmax(start->deepest_m, tvd_m);
    if (end > 0 && end < trajectory->count) {
        const arc a = arc_of(start, start + 1);
        const double crest = arc_crest(&a);
        if (crest < md_m - start->md_m)
            deepest_m = fmax(deepest_m, start->tvd_m + arc_tvd(&a, crest));
    }
    return deepest_m;
}

/* Index of the node that ends the first arc which could reach a TVD: no node before it lies as
 * deep, nor does the hole between them. A little early, so that rounding is for the arc itself. */
static size_t arc_reaching(const dt_trajectory *t, double tvd_m)
{
    size_t low = 1, high = t->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (t->nodes[middle].deepest_m < tvd_m - SAME_DEPTH_M)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

double dt_trajectory_md(const dt_trajectory *trajectory, double tvd_m)
{
    if (!(tvd_m >= 0)) return NAN;
    if (trajectory->count == 0 || tvd_m == 0) return tvd_m;
    if (trajectory->toe_md_m > 0 && tvd_m >= trajectory->toe_tvd_m - SAME_DEPTH_M)
        return trajectory->toe_md_m;
    for (size_t i = arc_reaching(trajectory, tvd_m); i < trajectory->count; ++i) {
        const dt_trajectory_node *start = &trajectory->nodes[i - 1], *end = start + 1;
        if (tvd_m == end->tvd_m && end->tvd_m > start->tvd_m && end->inclination_rad <= PI / 2 &&
            start->inclination_rad <= PI / 2)
            return end->md_m; /* exact at stations */
        const arc a = arc_of(start, end);
        const double md = first_in_arc(&a, tvd_m - start->tvd_m);
        if (!isnan(md)) return start->md_m + md;
    }
    const dt_trajectory_node *last = last_node(trajectory);
    const double down = cos(last->inclination_rad);
    if (down < 1e-12) return NAN; /* level or upwards from here on */
    return last->md_m + (tvd_m - last->tvd_m) / down;
}

double dt_trajectory_inclination(const dt_trajectory *trajectory, double md_m)
{
    if (!(md_m >= 0)) return NAN;
    if (trajectory->count == 0) return 0;
    const size_t end = arc_end(trajectory, md_m);
    if (end == trajectory->count) return last_node(trajectory)->inclination_rad;
    const dt_trajectory_node *nodes = trajectory->nodes;
    if (md_m == nodes[end].md_m) return nodes[end].inclination_rad;
    const arc a = arc_of(&nodes[end - 1], &nodes[end]);
    return acos(fmin(fmax(arc_down(&a, md_m - nodes[end - 1].md_m), -1), 1));
}

double dt_trajectory_curvature(const dt_trajectory *trajectory, double md_m)
{
    if (!(md_m >= 0)) return NAN;
    const size_t end = arc_end(trajectory, md_m);
    if (end >= trajectory->count) return 0;
    const dt_trajectory_node *node = &trajectory->nodes[end];
    return node->dogleg_rad / (node->md_m - trajectory->nodes[end - 1].md_m);
}
