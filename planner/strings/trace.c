/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdlib.h>

#include "hold.h"
#include "units.h"

/* Loads and ratings of a finished string against depth, for who draws or checks them. */

static void fill_point(const dt_string *string, const dt_design_in_force *design,
                       const dt_strength *strength, const dt_spot *spot, size_t section,
                       double hanging_n, dt_trace_point *out)
{
    dt_screen screen;
    dt_screen_begin(design, &screen);
    dt_screen_add(&screen, strength, &string->load, design, spot, hanging_n);
    *out = (dt_trace_point){.md_m = spot->md_m, .tvd_m = spot->tvd_m, .section = section};
    for (int i = 0; i < DT_LOAD_COUNT; ++i)
        out->load[i] = screen.by_load[i].load;
    for (int i = 0; i < DT_CHECK_COUNT; ++i)
        out->rating[i] = screen.by_check[i].resistance;
    out->triaxial_load = screen.by_check[DT_CHECK_TRIAXIAL].load;
}

/** Points of one section, top down: its ends and the spots between. */
static size_t trace_section(const dt_string *string, const dt_trajectory *trajectory,
                            const dt_design_in_force *design, const dt_strength *strength,
                            size_t which, const dt_spot *spots, size_t spot_count, double below_n,
                            dt_trace_point *out)
{
    const dt_section *s = &string->sections[which];
    const double base_tvd_m = dt_trajectory_deepest(trajectory, s->base_md_m);
    const double weight_npm = s->pipe->weight_kgm * DT_STANDARD_GRAVITY;
    size_t made = 0;
    for (size_t i = 0; i < spot_count + 2; ++i) {
        dt_spot end;
        const dt_spot *spot = i > 0 && i <= spot_count ? &spots[i - 1] : &end;
        if (spot == &end)
            dt_spot_fill(&string->load, trajectory, i == 0 ? s->top_md_m : s->base_md_m, &end);
        else if (spot->md_m <= s->top_md_m || spot->md_m >= s->base_md_m)
            continue;
        fill_point(string, design, strength, spot, which,
                   below_n + weight_npm * fmax(base_tvd_m - spot->tvd_m, 0), &out[made++]);
    }
    return made;
}

dt_status dt_string_trace(const dt_catalogue *catalogue, const dt_string *string,
                          const dt_trajectory *trajectory, const dt_design_in_force *design,
                          dt_trace *out)
{
    dt_spot *spots = NULL;
    size_t spot_count = 0;
    dt_trace trace = {0};
    dt_status status = dt_spots_make(&string->load, trajectory, &spots, &spot_count);
    if (status == DT_OK) {
        trace.points = calloc(spot_count + 2 * string->section_count + 1, sizeof *trace.points);
        if (!trace.points) status = DT_E_MEMORY;
    }
    for (size_t i = 0; status == DT_OK && i < string->section_count; ++i) {
        dt_strength strength;
        double below_n = 0;
        for (size_t k = i + 1; k < string->section_count; ++k) {
            const dt_section *s = &string->sections[k];
            below_n += s->pipe->weight_kgm * DT_STANDARD_GRAVITY *
                       (dt_trajectory_deepest(trajectory, s->base_md_m) -
                        dt_trajectory_deepest(trajectory, s->top_md_m));
        }
        status = dt_strength_make(catalogue, string->sections[i].pipe, string->sections[i].thread,
                                  string->load.wear_m, &strength);
        if (status == DT_OK)
            trace.count += trace_section(string, trajectory, design, &strength, i, spots,
                                         spot_count, below_n, trace.points + trace.count);
    }
    free(spots);
    if (status == DT_OK)
        *out = trace;
    else
        free(trace.points);
    return status;
}

void dt_trace_free(dt_trace *trace)
{
    if (!trace) return;
    free(trace->points);
    *trace = (dt_trace){0};
}
