/* SPDX-License-Identifier: MIT */
#include "curve.h"

#include <math.h>

#include "same.h"
#include "units.h"

/** First point at or below a depth (DT_ABOVE), or first point strictly below it (DT_BELOW). */
static size_t first_point(const dt_curve *curve, double tvd_m, dt_side side)
{
    size_t low = 0, high = curve->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        double depth = curve->points[middle].tvd_m;
        if (side == DT_ABOVE ? depth < tvd_m : depth <= tvd_m)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

double dt_curve_emw(const dt_curve *curve, double tvd_m, dt_side side)
{
    if (curve->count == 0) return NAN;
    size_t next = first_point(curve, tvd_m, side);
    if (next == 0) return curve->points[0].emw_kgm3;
    if (next == curve->count) return curve->points[curve->count - 1].emw_kgm3;
    const dt_curve_point *upper = &curve->points[next - 1], *lower = &curve->points[next];
    /* DT_BELOW at a point and DT_ABOVE at a point give the point's own value, not a quotient. */
    if (side == DT_BELOW && tvd_m <= upper->tvd_m) return upper->emw_kgm3;
    if (side == DT_ABOVE && tvd_m >= lower->tvd_m) return lower->emw_kgm3;
    double part = (tvd_m - upper->tvd_m) / (lower->tvd_m - upper->tvd_m);
    if (curve->between == DT_BETWEEN_GRADIENT)
        return upper->emw_kgm3 + part * (lower->emw_kgm3 - upper->emw_kgm3);
    double upper_pressure = upper->emw_kgm3 * upper->tvd_m;
    double lower_pressure = lower->emw_kgm3 * lower->tvd_m;
    return (upper_pressure + part * (lower_pressure - upper_pressure)) / tvd_m;
}

static void note_over_column(double emw_kgm3, double column_kgm3, double tvd_m, dt_over_column *out)
{
    const double over_pa = (emw_kgm3 - column_kgm3) * DT_STANDARD_GRAVITY * tvd_m;
    if (dt_less_by(out->most_pa, over_pa, TIE_PA)) { /* a tie: the shallower */
        out->most_pa = over_pa;
        out->most_tvd_m = tvd_m;
    }
    if (dt_less_by(over_pa, out->least_pa, TIE_PA)) {
        out->least_pa = over_pa;
        out->least_tvd_m = tvd_m;
    }
}

/** A stretch over which the curve neither bends nor steps. */
static void note_stretch(const dt_curve *curve, double column_kgm3, double top_m, double base_m,
                         dt_over_column *out)
{
    const double above = dt_curve_emw(curve, top_m, DT_BELOW);
    const double below = dt_curve_emw(curve, base_m, DT_ABOVE);
    note_over_column(above, column_kgm3, top_m, out);
    note_over_column(below, column_kgm3, base_m, out);
    const double slope = (below - above) / (base_m - top_m);
    if (curve->between != DT_BETWEEN_GRADIENT || !(slope < 0 || slope > 0)) return;
    /* linear in gradient is a parabola in pressure: its top, or its bottom */
    const double peak_m = (top_m - (above - column_kgm3) / slope) / 2;
    if (peak_m > top_m && peak_m < base_m)
        note_over_column(above + slope * (peak_m - top_m), column_kgm3, peak_m, out);
}

dt_over_column dt_curve_over_column(const dt_curve *curve, double column_kgm3, double top_m,
                                    double base_m)
{
    dt_over_column out = {-INFINITY, base_m, INFINITY, base_m};
    double from_m = top_m;
    for (size_t i = first_point(curve, top_m, DT_BELOW);
         i < curve->count && curve->points[i].tvd_m < base_m; ++i) {
        if (curve->points[i].tvd_m <= from_m) continue;
        note_stretch(curve, column_kgm3, from_m, curve->points[i].tvd_m, &out);
        from_m = curve->points[i].tvd_m;
    }
    note_stretch(curve, column_kgm3, from_m, base_m, &out);
    return out;
}

size_t dt_curve_point_near(const dt_curve *curve, double tvd_m, dt_side side)
{
    if (curve->count == 0) return DT_NO_INDEX;
    size_t next = first_point(curve, tvd_m, side);
    if (next == 0) return 0;
    if (next == curve->count) return curve->count - 1;
    double to_upper = tvd_m - curve->points[next - 1].tvd_m;
    double to_lower = curve->points[next].tvd_m - tvd_m;
    return to_upper < to_lower - SAME_DEPTH_M ? next - 1 : next;
}
