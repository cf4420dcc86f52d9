/* SPDX-License-Identifier: MIT */
#include "kick_assembly.h"

#include <math.h>

#include "same.h"
#include "units.h"

#define IN DT_M_PER_IN
#define FT DT_M_PER_FT

/*
 * Drill pipe and collars customary for a hole (common practice, no source), and the lower
 * end of the influx volumes seen in practice (from memory; not standardised: SPE 28909,
 * SPE/IADC 140113). A table to be edited: <kick_tolerance> of the well file replaces it.
 */
static const dt_kick_row customary_rows[] = {
    {5.0 * IN, 10 * DT_M3_PER_BBL, 2.875 * IN, 3.5 * IN, 500 * FT, 0},
    {6.75 * IN, 10 * DT_M3_PER_BBL, 3.5 * IN, 4.75 * IN, 500 * FT, 0},
    {9.0 * IN, 25 * DT_M3_PER_BBL, 5.0 * IN, 6.5 * IN, 600 * FT, 0},
    {13.5 * IN, 50 * DT_M3_PER_BBL, 5.0 * IN, 8.0 * IN, 600 * FT, 0},
    {60.0 * IN, 100 * DT_M3_PER_BBL, 5.0 * IN, 8.0 * IN, 600 * FT, 0},
};

void dt_kick_assembly_for(const dt_well *well, double hole_m, dt_kick_assembly *out)
{
    bool own = well->kick.row_count > 0;
    const dt_kick_row *rows = own ? well->kick.rows : customary_rows;
    size_t count = own ? well->kick.row_count : sizeof customary_rows / sizeof *customary_rows;
    size_t at = 0;
    while (at + 1 < count && hole_m > rows[at].up_to_m + SAME_DIAMETER_M)
        ++at;
    *out = (dt_kick_assembly){.hole_m = hole_m,
                              .pipe_od_m = rows[at].pipe_od_m,
                              .collar_od_m = rows[at].collar_od_m,
                              .collar_m = rows[at].collar_m,
                              .minimum_m3 = rows[at].minimum_m3,
                              .customary = !own};
}

void dt_kick_seat_settle(dt_well *well)
{
    dt_kick_wishes *k = &well->kick;
    dt_kick_assembly a;
    if (isnan(k->seat_hole_m)) return;
    dt_kick_assembly_for(well, k->seat_hole_m, &a);
    k->seat_pipe_od_m = a.pipe_od_m;
    k->seat_collar_od_m = a.collar_od_m;
    k->seat_collar_m = a.collar_m;
}
