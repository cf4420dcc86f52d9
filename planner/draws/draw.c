/* SPDX-License-Identifier: MIT */
/* Wells drawn from the spreads of the well file. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "draws.h"
#include "pressure.h"
#include "random.h"

static bool spread_of(dt_distribution distribution, double sd, double low, double high)
{
    return distribution == DT_NORMAL ? sd > 0 : low < high;
}

static const dt_curve *table_of(const dt_well *well, dt_input_kind kind)
{
    return kind == DT_INPUT_PORE       ? &well->pore
           : kind == DT_INPUT_FRACTURE ? &well->fracture
                                       : &well->collapse;
}

/**
 * Exponential correlation over depth makes the points of a table a Markov chain, so drawing
 * each from the one above it is exact: no matrix is needed. Without a correlation length
 * points are independent; a computed gradient without one has a single error of its method.
 */
static void chain(dt_uncertain *item, const dt_uncertain *before, double length_m, bool one_error)
{
    item->follow = 0;
    if (before && one_error)
        item->follow = 1;
    else if (before && isfinite(length_m))
        item->follow = exp(-(item->tvd_m - before->tvd_m) / length_m);
    item->own = sqrt(1 - item->follow * item->follow);
}

static void collect_table(const dt_well *well, dt_input_kind kind, dt_uncertains *list)
{
    const dt_curve *curve = table_of(well, kind);
    bool computed = kind == DT_INPUT_FRACTURE && well->fracture_from.point_ratio;
    bool one_error = computed && isnan(curve->correlation_length_m);
    const dt_uncertain *before = NULL;
    for (size_t i = 0; i < curve->count; ++i) {
        const dt_curve_point *p = &curve->points[i];
        if (!spread_of(curve->distribution, p->sd_kgm3, p->low_kgm3, p->high_kgm3)) continue;
        dt_uncertain *item = &list->items[list->count++];
        *item = (dt_uncertain){.kind = kind,
                               .index = i,
                               .whole_table = one_error,
                               .tvd_m = p->tvd_m,
                               .base = p->emw_kgm3,
                               .distribution = curve->distribution,
                               .sd = p->sd_kgm3,
                               .low = p->low_kgm3,
                               .high = p->high_kgm3};
        chain(item, before, curve->correlation_length_m, one_error);
        before = item;
    }
}

static void collect_depth(const dt_depth_spread *spread, dt_input_kind kind, size_t index,
                          double at_m, dt_uncertains *list)
{
    if (!spread_of(spread->distribution, spread->sd_m, spread->low_m, spread->high_m)) return;
    list->items[list->count++] = (dt_uncertain){.kind = kind,
                                                .index = index,
                                                .tvd_m = at_m,
                                                .base = at_m,
                                                .distribution = spread->distribution,
                                                .sd = spread->sd_m,
                                                .low = spread->low_m,
                                                .high = spread->high_m,
                                                .own = 1};
}

dt_status dt_uncertains_collect(const dt_well *well, dt_uncertains *out)
{
    size_t most =
        well->pore.count + well->fracture.count + well->collapse.count + well->interval_count + 1;
    dt_uncertains list = {calloc(most, sizeof *list.items), 0};
    if (!list.items) return DT_E_MEMORY;
    collect_table(well, DT_INPUT_PORE, &list);
    collect_table(well, DT_INPUT_FRACTURE, &list);
    collect_table(well, DT_INPUT_COLLAPSE, &list);
    for (size_t i = 0; i < well->interval_count; ++i)
        collect_depth(&well->intervals[i].top_spread, DT_INPUT_INTERVAL, i,
                      well->intervals[i].top_m, &list);
    if (isfinite(well->fresh_water_m))
        collect_depth(&well->fresh_water_spread, DT_INPUT_FRESH_WATER, 0, well->fresh_water_m,
                      &list);
    *out = list;
    return DT_OK;
}

void dt_uncertains_free(dt_uncertains *list)
{
    free(list->items);
    *list = (dt_uncertains){0};
}

/* ---- one realisation ---- */

static dt_status copy_points(dt_curve *curve)
{
    dt_curve_point *points = malloc((curve->count + 1) * sizeof *points);
    if (!points) return DT_E_MEMORY;
    if (curve->count > 0) memcpy(points, curve->points, curve->count * sizeof *points);
    curve->points = points;
    return DT_OK;
}

dt_status dt_drawn_begin(const dt_well *well, const dt_uncertains *list, dt_drawn *out)
{
    dt_drawn d = {.well = *well, .base = well};
    dt_curve *curves[] = {&d.well.pore, &d.well.fracture, &d.well.collapse};
    for (size_t i = 0; i < 3; ++i)
        if (copy_points(curves[i]) != DT_OK) curves[i]->points = NULL;
    d.well.intervals = malloc((well->interval_count + 1) * sizeof *d.well.intervals);
    d.normals = calloc(list->count + 1, sizeof *d.normals);
    if (!d.well.pore.points || !d.well.fracture.points || !d.well.collapse.points ||
        !d.well.intervals || !d.normals) {
        dt_drawn_free(&d);
        return DT_E_MEMORY;
    }
    if (well->interval_count > 0)
        memcpy(d.well.intervals, well->intervals, well->interval_count * sizeof *well->intervals);
    *out = d;
    return DT_OK;
}

void dt_drawn_free(dt_drawn *drawn)
{
    free(drawn->well.pore.points);
    free(drawn->well.fracture.points);
    free(drawn->well.collapse.points);
    free(drawn->well.intervals);
    free(drawn->normals);
    *drawn = (dt_drawn){0};
}

/** Value of the triangle low, mode, high below which a part u of it lies. */
static double triangular(double u, double low, double mode, double high)
{
    double width = high - low, left = (mode - low) / width;
    if (u < left) return low + sqrt(u * width * (mode - low));
    return high - sqrt((1 - u) * width * (high - mode));
}

static double value_of(const dt_uncertain *item, double normal)
{
    if (item->distribution == DT_NORMAL) return item->base + item->sd * normal;
    double u = dt_normal_below(normal);
    if (item->distribution == DT_UNIFORM) return item->low + u * (item->high - item->low);
    return triangular(u, item->low, item->base, item->high);
}

static void put_value(dt_drawn *d, const dt_uncertain *item, double value)
{
    dt_well *w = &d->well;
    switch (item->kind) {
    case DT_INPUT_PORE:
        w->pore.points[item->index].emw_kgm3 = value;
        break;
    case DT_INPUT_FRACTURE: /* a computed gradient follows pore pressure; its error comes on top */
        if (w->fracture_from.point_ratio)
            w->fracture.points[item->index].emw_kgm3 += value - item->base;
        else
            w->fracture.points[item->index].emw_kgm3 = value;
        break;
    case DT_INPUT_COLLAPSE:
        w->collapse.points[item->index].emw_kgm3 = value;
        break;
    case DT_INPUT_INTERVAL: {
        const dt_interval *base = &d->base->intervals[item->index];
        w->intervals[item->index].top_m = value;
        w->intervals[item->index].base_m = value + (base->base_m - base->top_m);
        break;
    }
    case DT_INPUT_FRESH_WATER:
        w->fresh_water_m = value;
        break;
    }
}

void dt_draw(dt_drawn *drawn, const dt_uncertains *list, uint64_t seed, uint32_t stream,
             uint64_t index)
{
    bool followed = !drawn->well.fracture_from.point_ratio;
    for (size_t i = 0; i < list->count; ++i) {
        const dt_uncertain *item = &list->items[i];
        double pair[2];
        if (i % 2 == 0) {
            dt_random_normals(seed, stream, index, (uint32_t)(i / 2), pair);
            drawn->normals[i] = pair[0];
            if (i + 1 < list->count) drawn->normals[i + 1] = pair[1];
        }
        double before = i > 0 && item->follow > 0 ? drawn->normals[i - 1] : 0;
        drawn->normals[i] = item->follow * before + item->own * drawn->normals[i];
        if (!followed && item->kind != DT_INPUT_PORE) {
            dt_fracture_follow(&drawn->well, &drawn->well.fracture);
            followed = true;
        }
        put_value(drawn, item, value_of(item, drawn->normals[i]));
    }
    if (!followed) dt_fracture_follow(&drawn->well, &drawn->well.fracture);
}
