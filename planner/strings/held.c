/* SPDX-License-Identifier: MIT */
/* A chosen string held against the loads of another well: one drawn from the spreads. */
#include <math.h>
#include <stdlib.h>

#include "hold.h"
#include "same.h"

/** One section, the weight below it known: the spots inside and both ends. */
static dt_status screen_section(const dt_catalogue *catalogue, const dt_section *section,
                                const dt_string_load *load, const dt_trajectory *trajectory,
                                const dt_design_in_force *design, const dt_spot *spots,
                                size_t count, double *below_n, dt_screen *out)
{
    dt_strength strength;
    dt_status status =
        dt_strength_make(catalogue, section->pipe, section->thread, load->wear_m, &strength);
    if (status != DT_OK) return status;
    const double weight_npm = section->pipe->weight_kgm * DT_STANDARD_GRAVITY;
    dt_spot ends[2];
    dt_spot_fill(load, trajectory, section->base_md_m, &ends[0]);
    dt_spot_fill(load, trajectory, section->top_md_m, &ends[1]);
    dt_screen_begin(design, out);
    for (size_t k = 0; k < count + 2; ++k) {
        const dt_spot *spot = k < count ? &spots[k] : &ends[k - count];
        if (k < count && (spot->md_m > section->base_md_m || spot->md_m < section->top_md_m))
            continue;
        const double rise_m = fmax(ends[0].tvd_m - spot->tvd_m, 0);
        dt_screen_add(out, &strength, load, design, spot, *below_n + weight_npm * rise_m);
    }
    dt_screen_conclude(out);
    *below_n += weight_npm * fmax(ends[0].tvd_m - ends[1].tvd_m, 0);
    return DT_OK;
}

dt_status dt_string_hold_again(const dt_catalogue *catalogue, const dt_string *string,
                               dt_string_load *load, const dt_trajectory *trajectory,
                               const dt_design_in_force *design, dt_screen *screens)
{
    double least_id_m = INFINITY, below_n = 0;
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_pipe *pipe = string->sections[i].pipe;
        least_id_m = fmin(least_id_m, pipe->od_m - 2 * pipe->wall_m);
    }
    load->drag = string->load.drag;
    dt_string_load_fit(load, least_id_m);
    dt_spot *spots;
    size_t count;
    dt_status status = dt_spots_make(load, trajectory, &spots, &count);
    if (status != DT_OK) return status;
    for (size_t i = string->section_count; status == DT_OK && i-- > 0;)
        status = screen_section(catalogue, &string->sections[i], load, trajectory, design, spots,
                                count, &below_n, &screens[i]);
    free(spots);
    return status;
}
