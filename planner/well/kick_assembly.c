/* SPDX-License-Identifier: MIT */
#include "kick_assembly.h"

#include <math.h>

#include "basis.h"
#include "same.h"
#include "units.h"

#define IN DT_M_PER_IN

void dt_kick_assembly_for(const dt_well *well, double hole_m, dt_kick_assembly *out)
{
    bool own = well->kick.row_count > 0;
    size_t count = well->kick.row_count;
    const dt_kick_row *rows = well->kick.rows;
    if (!own) rows = dt_custom_rows(well, DT_TABLE_KICK_ROWS, &count);
    size_t at = 0;
    while (at + 1 < count && hole_m > rows[at].up_to_m + SAME_DIAMETER_M)
        ++at;
    *out = (dt_kick_assembly){.hole_m = hole_m,
                              .pipe_od_m = rows[at].pipe_od_m,
                              .collar_od_m = rows[at].collar_od_m,
                              .collar_m = rows[at].collar_m,
                              .least_m3 = rows[at].least_m3,
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
