/* SPDX-License-Identifier: MIT */
#include "hole_rules.h"

#include <math.h>

#include "basis.h"
#include "same.h"

/** The row of a table by growing size that a diameter falls in: the last for all beyond it. */
#define ROW_FOR(rows, count, member, value_m, out)                                                 \
    do {                                                                                           \
        (out) = 0;                                                                                 \
        while ((out) + 1 < (count) && (value_m) > (rows)[out].member + SAME_DIAMETER_M)            \
            ++(out);                                                                               \
    } while (0)

double dt_hole_preferred_length(const dt_well *well, double hole_m)
{
    size_t count, at;
    const dt_open_hole_custom *rows = dt_custom_rows(well, DT_TABLE_OPEN_HOLES, &count);
    ROW_FOR(rows, count, up_to_m, hole_m, at);
    return isnan(rows[at].most_m) ? INFINITY : rows[at].most_m;
}

static double ecd_of(const dt_well *well, double hole_m)
{
    size_t count, at;
    const dt_circulating_custom *rows = dt_custom_rows(well, DT_TABLE_CIRCULATING, &count);
    ROW_FOR(rows, count, up_to_m, hole_m, at);
    return rows[at].ecd_kgm3;
}

bool dt_hole_has_diverter(const dt_well *well, size_t string_above)
{
    const size_t riserless = dt_well_riserless(well);
    return (string_above == 0 && !well->conductor.bop) || string_above + 1 < riserless;
}

bool dt_hole_riserless(const dt_well *well, size_t string_above)
{
    return well->bop_at_seabed && dt_hole_has_diverter(well, string_above);
}

/** Rock of more than normal pressure is not met under a diverter. */
static double most_pore(const dt_well *well)
{
    return dt_normal_pore(well) + dt_custom_value_of(well, DT_CUSTOM_DIVERTER_PORE);
}

void dt_hole_rules_for(const dt_well *well, double hole_m, bool diverter, dt_tier tier,
                       bool lengths, dt_hole_rules *out)
{
    dt_hole_rules r = {.hole_m = hole_m,
                       .diverter = diverter,
                       .tier = tier,
                       .least_m3 = NAN,
                       .wanted_m3 = NAN,
                       .most_length_m = INFINITY,
                       .most_pore_kgm3 = INFINITY};
    if (diverter) {
        r.most_length_m = dt_custom_value_of(well, DT_CUSTOM_DIVERTER_HOLE);
        r.riserless = well->bop_at_seabed;
        /* returns to the sea floor: weighted mud holds what flows, or the rock breaks */
        if (!r.riserless) r.most_pore_kgm3 = most_pore(well);
    }
    if (!isnan(hole_m)) {
        dt_kick_assembly_for(well, hole_m, &r.assembly);
        if (!diverter) {
            r.least_m3 = r.assembly.least_m3;
            r.wanted_m3 = tier == DT_TIER_WANTED ? r.assembly.minimum_m3 : NAN;
        }
        r.ecd_kgm3 = ecd_of(well, hole_m);
        if (lengths)
            r.most_length_m = fmin(r.most_length_m, dt_hole_preferred_length(well, hole_m));
    }
    *out = r;
}

bool dt_hole_rules_by_size(const dt_well *well)
{
    size_t count;
    const dt_circulating_custom *ecd = dt_custom_rows(well, DT_TABLE_CIRCULATING, &count);
    for (size_t i = 0; i < count; ++i)
        if (ecd[i].ecd_kgm3 > 0) return true;
    const dt_open_hole_custom *open = dt_custom_rows(well, DT_TABLE_OPEN_HOLES, &count);
    for (size_t i = 0; i < count; ++i)
        if (!isnan(open[i].most_m)) return true;
    const dt_kick_row *rows = well->kick.rows;
    count = well->kick.row_count;
    if (count == 0) rows = dt_custom_rows(well, DT_TABLE_KICK_ROWS, &count);
    for (size_t i = 0; i < count; ++i)
        if (!isnan(rows[i].least_m3)) return true;
    return well->sizes.series || well->last_open;
}
