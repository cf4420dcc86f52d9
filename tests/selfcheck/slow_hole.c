/* SPDX-License-Identifier: MIT */
#include <math.h>

#include "slow.h"

/* What a hole is held to by its size and by what stands on it: docs/seats.md, "Rules by hole". */

#define SAME_M (0.0005 * SLOW_IN)

/** Drill pipe and collars by hole, and the influx that is asked for: the well's rows, those of its
 * basis, or those of docs/kick.md. */
static dt_kick_row kick_row(const dt_well *w, double hole_m)
{
    static const double up_to[] = {5, 6.75, 9, 13.5}, pipe[] = {2.875, 3.5, 5, 5, 5};
    static const double collar[] = {3.5, 4.75, 6.5, 8, 8}, length[] = {500, 500, 600, 600, 600};
    static const double minimum[] = {10, 10, 25, 50, 100};
    size_t count = w->kick.row_count, i = 0;
    const dt_kick_row *list = w->kick.rows;
    if (count == 0) list = slow_said_rows(w, DT_TABLE_KICK_ROWS, &count);
    while (count > 0 && i + 1 < count && hole_m > list[i].up_to_m + SAME_M)
        ++i;
    if (count > 0) return list[i];
    while (i < 4 && hole_m > up_to[i] * SLOW_IN + SAME_M)
        ++i;
    return (dt_kick_row){.pipe_od_m = pipe[i] * SLOW_IN,
                         .collar_od_m = collar[i] * SLOW_IN,
                         .collar_m = length[i] * SLOW_FT,
                         .least_m3 = NAN,
                         .minimum_m3 = minimum[i] * SLOW_BBL};
}

slow_hole slow_assembly(const dt_well *w, double hole_m)
{
    dt_kick_row row = kick_row(w, hole_m);
    slow_hole h = SLOW_FREE_HOLE;
    h.hole_m = hole_m;
    h.pipe_m = row.pipe_od_m;
    h.collar_m = row.collar_od_m;
    h.collar_length_m = row.collar_m;
    h.least_m3 = row.least_m3;
    h.wanted_m3 = row.minimum_m3;
    return h;
}

bool slow_by_size(const dt_well *w)
{
    size_t count;
    const dt_circulating_custom *ecd = slow_said_rows(w, DT_TABLE_CIRCULATING, &count);
    for (size_t i = 0; i < count; ++i)
        if (ecd[i].ecd_kgm3 > 0) return true;
    const dt_open_hole_custom *open = slow_said_rows(w, DT_TABLE_OPEN_HOLES, &count);
    for (size_t i = 0; i < count; ++i)
        if (!isnan(open[i].most_m)) return true;
    const dt_kick_row *list = w->kick.rows;
    count = w->kick.row_count;
    if (count == 0) list = slow_said_rows(w, DT_TABLE_KICK_ROWS, &count);
    for (size_t i = 0; i < count; ++i)
        if (!isnan(list[i].least_m3)) return true;
    return w->sizes.series || w->last_open;
}

bool slow_together(const context *c)
{
    return slow_by_size(c->well) || c->claims->together;
}

static double circulating(const dt_well *w, double hole_m)
{
    size_t count, i = 0;
    const dt_circulating_custom *list = slow_said_rows(w, DT_TABLE_CIRCULATING, &count);
    while (i + 1 < count && hole_m > list[i].up_to_m + SAME_M)
        ++i;
    return count ? list[i].ecd_kgm3 : 0;
}

static double preferred_length(const dt_well *w, double hole_m)
{
    size_t count, i = 0;
    const dt_open_hole_custom *list = slow_said_rows(w, DT_TABLE_OPEN_HOLES, &count);
    while (i + 1 < count && hole_m > list[i].up_to_m + SAME_M)
        ++i;
    return count && !isnan(list[i].most_m) ? list[i].most_m : INFINITY;
}

bool slow_to_sea(const dt_well *w, size_t i)
{
    return w->bop_at_seabed && (i == 0 || (i == 1 && !w->conductor.bop));
}

slow_hole slow_hole_of(const context *c, size_t i)
{
    const dt_well *w = c->well;
    const claims *p = c->claims;
    bool by_size = slow_together(c), diverter = i == 1 && !w->conductor.bop;
    bool sea = slow_to_sea(w, i);
    slow_hole h = SLOW_FREE_HOLE;
    double hole_m = i < p->count ? p->strings[i].hole_m : p->open.hole_m;
    if (by_size) h = slow_assembly(w, hole_m);
    /* how much is borne is the claims' word, and then it must be */
    const dt_tier tier = i < p->count ? p->strings[i].seat.rules.tier : p->open.rules.tier;
    if (tier == DT_TIER_LEAST) h.wanted_m3 = NAN;
    if (by_size) h.ecd_kgm3 = circulating(w, hole_m);
    if (by_size && p->latitude == DT_LADDER_PREFERRED)
        h.most_length_m = preferred_length(w, hole_m);
    if (!diverter) return h;
    double normal = w->sticking.given ? w->sticking.normal_pore_kgm3
                                      : slow_said(w, DT_CUSTOM_NORMAL_PORE, 9.0 * SLOW_PPG);
    h.diverter = true;
    h.least_m3 = h.wanted_m3 = NAN;
    h.most_pore_kgm3 = normal + slow_said(w, DT_CUSTOM_DIVERTER_PORE, 0.2 * SLOW_PPG);
    h.sea = sea;
    if (sea) h.most_pore_kgm3 = INFINITY;
    h.most_length_m = fmin(h.most_length_m, slow_said(w, DT_CUSTOM_DIVERTER_HOLE, 3000 * SLOW_FT));
    return h;
}
