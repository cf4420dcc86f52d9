/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_KICK_ASSEMBLY_H
#define DRAWTUBE_KICK_ASSEMBLY_H

#include "well.h"

/* What a hole is drilled with, as far as a kick is concerned: docs/kick.md. */

/** What stands in a hole while it is drilled. */
typedef struct dt_kick_assembly {
    double hole_m, pipe_od_m, collar_od_m; /* diameters */
    double collar_m;                       /* length of the collars, along the hole */
    double least_m3;                       /* influx it must bear, swabbed; NAN */
    double minimum_m3;                     /* influx the hole should bear; NAN when none is asked */
    bool customary;                        /* from the customary table, not the well's */
} dt_kick_assembly;

/** The row of the well's table, or of the customary one, for a hole. */
void dt_kick_assembly_for(const dt_well *well, double hole_m, dt_kick_assembly *out);

/** Drill pipe and collars of the seat rule, from the row of its hole. The reader's last step. */
void dt_kick_seat_settle(dt_well *well);

#endif
