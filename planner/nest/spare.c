/* SPDX-License-Identifier: MIT */
/* A string that nobody planned: which pipe still goes between what stands and what follows. */
#include <math.h>

#include "nest.h"
#include "same.h"

/** The smallest bit whose hole a pipe goes into; NAN: none. */
static double hole_for(const dt_well *well, const dt_catalogue *catalogue, const dt_pipe *pipe)
{
    const double largest_m = dt_nest_largest_od(pipe);
    const double need_m = largest_m + 2 * dt_nest_gap(well, pipe->od_m, largest_m);
    double best_m = NAN;
    for (size_t i = 0; i < catalogue->bit_count; ++i) {
        const double bit_m = catalogue->bits[i].diameter_m;
        if (bit_m >= need_m - SAME_DIAMETER_M && !(bit_m >= best_m)) best_m = bit_m;
    }
    return best_m;
}

dt_spare dt_nest_spare(const dt_well *well, const dt_catalogue *catalogue, dt_role role,
                       double drift_m, double next_bit_m)
{
    const dt_seat unpinned = {.role = role, .pin = DT_NO_INDEX};
    dt_spare best = {NAN, NAN, NULL};
    for (size_t i = 0; i < catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &catalogue->pipes[i];
        const bool same = fabs(pipe->od_m - best.od_m) < SAME_DIAMETER_M;
        if (pipe->od_m < best.od_m - SAME_DIAMETER_M || pipe->od_m >= drift_m) continue;
        if (same && !(pipe->weight_kgm > best.pipe->weight_kgm)) continue;
        if (dt_nest_drift(well, pipe) < next_bit_m - SAME_DIAMETER_M) continue;
        const double hole_m = hole_for(well, catalogue, pipe);
        if (!(hole_m <= drift_m + SAME_DIAMETER_M)) continue;
        if (dt_nest_pipe_allowed(well, &unpinned, 1, pipe))
            best = (dt_spare){pipe->od_m, hole_m, pipe};
    }
    return best;
}
