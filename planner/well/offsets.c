/* SPDX-License-Identifier: MIT */
#include "offsets.h"

#include <math.h>
#include <stdlib.h>

#include "basis.h"
#include "same.h"

/* Depths below the ground at which points are made; further down every STEP_M to the objective. The
 * first is for the sea floor: right below a rig on land a weight from the rig floor means little.
 */
static const double DEPTHS_M[] = {10, 50, 100, 200, 300, 500, 750, 1000};
#define STEP_M     250
#define TREND_AT_M 1000.0 /* depth at which the level of the trend is meant */

#define COUNT(array) (sizeof(array) / sizeof *(array))

static double custom(const dt_well *well, dt_custom which)
{
    return dt_custom_value_of(well, which);
}

static double ground_of(const dt_offset *offset)
{
    return offset->rig_floor_m + offset->water_depth_m;
}

static double water_kgm3(const dt_well *well)
{
    return dt_custom_or(well, well->conductor.sea_gradient_kgm3, DT_CUSTOM_SEA_GRADIENT);
}

double dt_offset_below_m(const dt_offset *offset, const dt_offset_reading *reading)
{
    return reading->tvd_m - ground_of(offset);
}

/** From an equivalent mud weight at a depth below the rig floor of an offset well. */
static double rock_of(const dt_well *well, const dt_offset *offset, double tvd_m, double emw_kgm3)
{
    return (emw_kgm3 * tvd_m - water_kgm3(well) * offset->water_depth_m) /
           (tvd_m - ground_of(offset));
}

double dt_offset_rock_kgm3(const dt_well *well, const dt_offset *offset,
                           const dt_offset_reading *reading)
{
    return rock_of(well, offset, reading->tvd_m, reading->emw_kgm3);
}

double dt_offset_here_m(const dt_well *well, const dt_offset *offset,
                        const dt_offset_reading *reading)
{
    return dt_well_ground_m(well) + dt_offset_below_m(offset, reading);
}

/** An equivalent mud weight from this rig floor, of a density of the rock below the ground. */
static double here_kgm3(const dt_well *well, double rock_kgm3, double below_m)
{
    return (water_kgm3(well) * well->water_depth_m + rock_kgm3 * below_m) /
           (dt_well_ground_m(well) + below_m);
}

double dt_offset_here_kgm3(const dt_well *well, const dt_offset *offset,
                           const dt_offset_reading *reading)
{
    return here_kgm3(well, dt_offset_rock_kgm3(well, offset, reading),
                     dt_offset_below_m(offset, reading));
}

/* ---- fracture: one trend through all leak-offs ---- */

static bool says_fracture(const dt_offset_reading *r)
{
    return r->what == DT_OFFSET_LEAK_OFF || r->what == DT_OFFSET_LOSS;
}

/** Scatter of one test about the trend, as a variance in units of that of a deep one: a given error
 * of pressure is a larger one of density where the column is short. */
static double own_variance(const dt_well *well, double below_m)
{
    const double part = custom(well, DT_CUSTOM_OFFSETS_SHALLOW) / below_m;
    return 1 + part * part;
}

/** How far a whole well stands off another so far away, likewise. */
static double well_variance(const dt_well *well, double distance_m)
{
    return distance_m / custom(well, DT_CUSTOM_OFFSETS_DISTANCE);
}

static double depth_term(double below_m)
{
    return log(below_m / TREND_AT_M);
}

/** Sums of generalised least squares with a common deviation of all tests of one well: of its block
 * I w + t 11' the inverse is known (Sherman and Morrison). */
typedef struct sums {
    double xx[3]; /* of (1, x): 1 1, 1 x, x x */
    double xy[2], yy;
} sums;

static void add_offset(const dt_well *well, const dt_offset *offset, sums *all,
                       dt_offset_trend *trend)
{
    double w = 0, wx = 0, wy = 0;
    for (size_t i = 0; i < offset->reading_count; ++i) {
        const dt_offset_reading *r = &offset->readings[i];
        if (!says_fracture(r)) continue;
        const double below_m = dt_offset_below_m(offset, r);
        const double weight = 1 / own_variance(well, below_m), x = depth_term(below_m);
        const double y = dt_offset_rock_kgm3(well, offset, r);
        w += weight;
        wx += weight * x;
        wy += weight * y;
        all->xx[2] += weight * x * x;
        all->xy[1] += weight * x * y;
        all->yy += weight * y * y;
        trend->shallowest_m = fmin(trend->shallowest_m, below_m);
        trend->deepest_m = fmax(trend->deepest_m, below_m);
        ++trend->tests;
    }
    if (w <= 0) return;
    const double t =
        custom(well, DT_CUSTOM_OFFSETS_BETWEEN) + well_variance(well, offset->distance_m);
    const double k = t / (1 + w * t);
    all->xx[0] += w - k * w * w;
    all->xx[1] += wx - k * w * wx;
    all->xx[2] -= k * wx * wx;
    all->xy[0] += wy - k * w * wy;
    all->xy[1] -= k * wx * wy;
    all->yy -= k * wy * wy;
    trend->wells |= UINT64_C(1) << (offset - well->offsets);
}

/** What is known beforehand: the slope, as so many units of scatter. */
static void add_custom(const dt_well *well, sums *all)
{
    const double slope = custom(well, DT_CUSTOM_OFFSETS_SLOPE);
    const double in_scatters =
        custom(well, DT_CUSTOM_OFFSETS_SCATTER) / custom(well, DT_CUSTOM_OFFSETS_SLOPE_SPREAD);
    const double weight = in_scatters * in_scatters;
    all->xx[2] += weight;
    all->xy[1] += weight * slope;
    all->yy += weight * slope * slope;
}

dt_status dt_offset_trend_fit(const dt_well *well, dt_offset_trend *out)
{
    dt_offset_trend trend = {.shallowest_m = INFINITY};
    sums all = {0};
    for (size_t i = 0; i < well->offset_count; ++i)
        add_offset(well, &well->offsets[i], &all, &trend);
    if (trend.tests == 0 || (double)trend.tests < custom(well, DT_CUSTOM_OFFSETS_LEAST))
        return DT_E_DOMAIN;
    add_custom(well, &all);
    const double determinant = all.xx[0] * all.xx[2] - all.xx[1] * all.xx[1];
    if (!(determinant > 0)) return DT_E_DOMAIN;
    trend.inverse[0] = all.xx[2] / determinant;
    trend.inverse[1] = -all.xx[1] / determinant;
    trend.inverse[2] = all.xx[0] / determinant;
    trend.level_kgm3 = trend.inverse[0] * all.xy[0] + trend.inverse[1] * all.xy[1];
    trend.slope_kgm3 = trend.inverse[1] * all.xy[0] + trend.inverse[2] * all.xy[1];
    const double left =
        fmax(all.yy - trend.level_kgm3 * all.xy[0] - trend.slope_kgm3 * all.xy[1], 0);
    /* Scaled inverse chi squared: the customary scatter counts as so many tests. */
    const double usual = custom(well, DT_CUSTOM_OFFSETS_SCATTER);
    const double tests = custom(well, DT_CUSTOM_OFFSETS_WEIGHT);
    trend.scatter_kgm3 = sqrt((tests * usual * usual + left) / (tests + (double)trend.tests - 1));
    *out = trend;
    return DT_OK;
}

dt_offset_value dt_offset_fracture(const dt_well *well, const dt_offset_trend *trend,
                                   double below_m)
{
    /* nothing is known of the trend above the shallowest test: the density there holds */
    const double at_m = fmax(below_m, trend->shallowest_m), x = depth_term(at_m);
    const double of_trend =
        trend->inverse[0] + 2 * x * trend->inverse[1] + x * x * trend->inverse[2];
    const double variance =
        own_variance(well, at_m) + custom(well, DT_CUSTOM_OFFSETS_BETWEEN) + of_trend;
    return (dt_offset_value){.rock_kgm3 = trend->level_kgm3 + trend->slope_kgm3 * x,
                             .sd_kgm3 = trend->scatter_kgm3 * sqrt(variance),
                             .wells = trend->wells,
                             .beyond = dt_less(trend->deepest_m, below_m)};
}

/* ---- pore pressure: what the wells had at that depth ---- */

static bool says_pore(const dt_offset_reading *r)
{
    return r->what == DT_OFFSET_MUD || r->what == DT_OFFSET_KICK;
}

static bool is_shoe(const dt_offset_reading *r)
{
    return r->what == DT_OFFSET_LEAK_OFF || r->what == DT_OFFSET_SEAT;
}

/** Mud is kept a margin over the pore pressure; a kick shows it. */
static double pore_emw(const dt_well *well, const dt_offset_reading *r)
{
    return r->emw_kgm3 - (r->what == DT_OFFSET_MUD ? custom(well, DT_CUSTOM_OFFSETS_OVER_PORE) : 0);
}

/** Below the first shoe that was tested muds follow the pore pressure; without one, all the way. */
static double first_tested_m(const dt_offset *offset)
{
    double first_m = INFINITY;
    for (size_t i = 0; i < offset->reading_count; ++i)
        if (offset->readings[i].what == DT_OFFSET_LEAK_OFF)
            first_m = fmin(first_m, offset->readings[i].tvd_m);
    return isfinite(first_m) ? first_m : ground_of(offset);
}

static bool shoe_between(const dt_offset *offset, double from_m, double to_m)
{
    for (size_t i = 0; i < offset->reading_count; ++i) {
        const dt_offset_reading *r = &offset->readings[i];
        if (is_shoe(r) && !dt_less(r->tvd_m, from_m) && dt_less(r->tvd_m, to_m)) return true;
    }
    return false;
}

/** The readings next above and below a depth in the rock drilled on tested shoes. */
typedef struct around {
    const dt_offset_reading *above, *below;
} around;

static around find_around(const dt_offset *offset, double from_m, double tvd_m)
{
    around a = {0};
    for (size_t i = 0; i < offset->reading_count; ++i) {
        const dt_offset_reading *r = &offset->readings[i];
        if (!says_pore(r) || !dt_less(from_m, r->tvd_m)) continue;
        if (dt_less(r->tvd_m, tvd_m)) {
            if (!a.above || r->tvd_m >= a.above->tvd_m) a.above = r;
        } else if (!a.below || r->tvd_m < a.below->tvd_m) {
            a.below = r;
        }
    }
    return a;
}

/** Pore EMW of one well at its own depth: straight between readings of a hole; a hole's first
 * reading holds up to its shoe, the last one down. NAN: it has no reading. */
static double pore_in(const dt_well *well, const dt_offset *offset, double tvd_m, bool *beyond)
{
    const double from_m = first_tested_m(offset);
    const around a = find_around(offset, from_m, tvd_m);
    *beyond = !a.below;
    if (!a.above && !a.below) return NAN;
    if (!a.below) return pore_emw(well, a.above);
    if (!a.above || shoe_between(offset, a.above->tvd_m, tvd_m)) return pore_emw(well, a.below);
    if (shoe_between(offset, tvd_m, a.below->tvd_m)) return pore_emw(well, a.above);
    const double part = (tvd_m - a.above->tvd_m) / (a.below->tvd_m - a.above->tvd_m);
    return pore_emw(well, a.above) + part * (pore_emw(well, a.below) - pore_emw(well, a.above));
}

static double normal_rock(const dt_well *well)
{
    return well->over_sea ? water_kgm3(well) : custom(well, DT_CUSTOM_NORMAL_PORE);
}

static double pore_rock(const dt_well *well, const dt_offset *offset, double below_m, bool *beyond)
{
    const double tvd_m = ground_of(offset) + below_m;
    *beyond = false;
    if (!dt_less(first_tested_m(offset), tvd_m)) return normal_rock(well);
    const double emw_kgm3 = pore_in(well, offset, tvd_m, beyond);
    return isnan(emw_kgm3) ? NAN : rock_of(well, offset, tvd_m, emw_kgm3);
}

dt_offset_value dt_offset_pore(const dt_well *well, double below_m)
{
    dt_offset_value v = {.rock_kgm3 = NAN, .sd_kgm3 = NAN, .beyond = true};
    double w = 0, wy = 0, wyy = 0, count = 0;
    for (size_t i = 0; i < well->offset_count; ++i) {
        const dt_offset *offset = &well->offsets[i];
        bool beyond;
        const double y = pore_rock(well, offset, below_m, &beyond);
        if (isnan(y)) continue;
        const double weight = 1 / (1 + well_variance(well, offset->distance_m));
        w += weight;
        wy += weight * y;
        wyy += weight * y * y;
        count += 1;
        v.beyond = v.beyond && beyond;
        v.wells |= UINT64_C(1) << i;
    }
    if (count < 1) return v;
    const double mean = wy / w, left = fmax(wyy - mean * wy, 0);
    const double usual = custom(well, DT_CUSTOM_OFFSETS_PORE_SCATTER);
    const double wells = custom(well, DT_CUSTOM_OFFSETS_WEIGHT);
    v.rock_kgm3 = mean;
    v.sd_kgm3 = sqrt((wells * usual * usual + left) / (wells + count - 1) * (1 + 1 / w));
    return v;
}

bool dt_offsets_say_pore(const dt_well *well)
{
    for (size_t i = 0; i < well->offset_count; ++i) {
        const dt_offset *offset = &well->offsets[i];
        for (size_t k = 0; k < offset->reading_count; ++k)
            if (says_pore(&offset->readings[k]) &&
                dt_less(first_tested_m(offset), offset->readings[k].tvd_m))
                return true;
    }
    return false;
}

double dt_offsets_deepest_m(const dt_well *well, bool pore)
{
    double deepest_m = 0;
    for (size_t i = 0; i < well->offset_count; ++i)
        for (size_t k = 0; k < well->offsets[i].reading_count; ++k) {
            const dt_offset_reading *r = &well->offsets[i].readings[k];
            if (pore ? says_pore(r) : says_fracture(r))
                deepest_m = fmax(deepest_m, dt_offset_below_m(&well->offsets[i], r));
        }
    return deepest_m;
}

/* ---- the tables ---- */

static size_t point_depths(bool sea, double deepest_m, double *out)
{
    size_t count = 0;
    double at_m = 0;
    for (size_t i = sea ? 0 : 1;; ++i) {
        at_m = i < COUNT(DEPTHS_M) ? DEPTHS_M[i] : at_m + STEP_M;
        if (!dt_less(at_m, deepest_m)) break;
        if (out) out[count] = at_m;
        ++count;
    }
    if (out) out[count] = deepest_m;
    return count + 1;
}

static dt_curve_point point_of(const dt_well *well, double below_m, dt_offset_value v)
{
    const double tvd_m = dt_well_ground_m(well) + below_m;
    return (dt_curve_point){.tvd_m = tvd_m,
                            .emw_kgm3 = here_kgm3(well, v.rock_kgm3, below_m),
                            .sd_kgm3 = v.sd_kgm3 * below_m / tvd_m,
                            .low_kgm3 = NAN,
                            .high_kgm3 = NAN,
                            .offsets = v.wells,
                            .line = well->offsets_line};
}

static dt_status make(const dt_well *well, const dt_offset_trend *trend, dt_curve *curve)
{
    const double deepest_m = well->objective_m - dt_well_ground_m(well);
    const size_t count = point_depths(well->over_sea, deepest_m, NULL);
    double *depths = malloc(count * sizeof *depths);
    dt_curve_point *points = malloc(count * sizeof *points);
    dt_status status = depths && points ? DT_OK : DT_E_MEMORY;
    if (status == DT_OK) point_depths(well->over_sea, deepest_m, depths);
    for (size_t i = 0; status == DT_OK && i < count; ++i) {
        const dt_offset_value v =
            trend ? dt_offset_fracture(well, trend, depths[i]) : dt_offset_pore(well, depths[i]);
        points[i] = point_of(well, depths[i], v);
        if (v.wells == 0 || !(points[i].emw_kgm3 > 0)) status = DT_E_DOMAIN;
    }
    free(depths);
    if (status != DT_OK) {
        free(points);
        return status;
    }
    free(curve->points);
    *curve = (dt_curve){.points = points,
                        .count = count,
                        .distribution = DT_NORMAL,
                        .correlation_length_m = custom(well, DT_CUSTOM_OFFSETS_LENGTH),
                        .line = well->offsets_line};
    return DT_OK;
}

dt_status dt_offsets_settle(dt_well *well)
{
    const bool pore = well->pore.line == 0, fracture = well->fracture.line == 0;
    dt_status status = DT_OK;
    if (fracture) status = dt_offset_trend_fit(well, &well->offset_trend);
    if (status == DT_OK && fracture) status = make(well, &well->offset_trend, &well->fracture);
    if (status == DT_OK && pore) status = make(well, NULL, &well->pore);
    well->fracture_by_offsets = fracture && status == DT_OK;
    well->pore_by_offsets = pore && status == DT_OK;
    return status;
}
