/* SPDX-License-Identifier: MIT */
/* Customary spreads of pore pressure and fracture gradient, for a well file that asks for them by
 * class. Part of the well stage, beside well_read.c. */
#include <math.h>

#include "basis.h"
#include "same.h"
#include "well_elements.h"

const char *dt_spread_class_text(dt_spread_class class)
{
    static const char *const words[] = {"unsaid", "near", "offset", "exploration"};
    return words[class];
}

void dt_read_spread(dt_reader *r, xmlNodePtr node)
{
    static const char *const classes[] = {"near", "offset", "exploration"};
    r->well->spread_class =
        (dt_spread_class)(DT_SPREAD_NEAR +
                          dt_read_word(r, node, "class", classes, 3, DT_SPREAD_UNSAID - 1));
    r->well->spread_line = dt_line_of(node);
}

const dt_spread_custom *dt_spread_custom_of(const dt_well *well)
{
    size_t count;
    const dt_spread_custom *rows = dt_custom_rows(well, DT_TABLE_SPREADS, &count);
    for (size_t i = 0; i < count; ++i)
        if (rows[i].class + 1 == (int)well->spread_class) return &rows[i];
    return NULL;
}

static bool has_spread(const dt_curve *curve)
{
    for (size_t i = 0; i < curve->count; ++i) {
        const dt_curve_point *p = &curve->points[i];
        if (!isnan(p->sd_kgm3) || !isnan(p->low_kgm3) || !isnan(p->high_kgm3)) return true;
    }
    return false;
}

/** An equivalent mud weight counts from the rig floor, what is not known lies below the ground:
 * the spread is that part of the customary one which the rock is of the column. */
static bool give(const dt_well *well, dt_curve *curve, double sd_kgm3, double length_m)
{
    if (has_spread(curve)) return false;
    const double ground_m = dt_well_ground_m(well);
    for (size_t i = 0; i < curve->count; ++i) {
        dt_curve_point *p = &curve->points[i];
        if (!(p->tvd_m > ground_m + SAME_DEPTH_M)) continue; /* nothing of it is rock */
        p->sd_kgm3 = sd_kgm3 * (p->tvd_m - ground_m) / p->tvd_m;
    }
    curve->distribution = DT_NORMAL;
    if (isnan(curve->correlation_length_m)) curve->correlation_length_m = length_m;
    return true;
}

void dt_settle_spread(dt_reader *r)
{
    dt_well *well = r->well;
    const dt_spread_custom *row = dt_spread_custom_of(well);
    if (!row) return;
    const bool pore = give(well, &well->pore, row->pore_kgm3, row->length_m);
    const bool fracture = give(well, &well->fracture, row->fracture_kgm3, row->length_m);
    if (!pore && !fracture)
        dt_report_add(r->report, DT_MSG_SPREAD_CLASS_UNUSED, well->spread_line, "spread/@class",
                      "both <pore_pressure> and <fracture_gradient> state spreads of their own");
    well->spread_given = (dt_spread_given){pore, fracture};
}
