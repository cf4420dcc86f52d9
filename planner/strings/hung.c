/* SPDX-License-Identifier: MIT */
#include "hung.h"

#include <math.h>

#include "hold.h"
#include "liner_hangers.h"
#include "same.h"

/** Pressure on the plug or on the floats pulls on what hangs free, times the bore at its top; the
 * larger of the two cases. */
static double pressing_n(const dt_string_load *load, const dt_ring *ring, dt_load *by)
{
    static const dt_load cases[] = {DT_LOAD_TENSION_BUMP, DT_LOAD_TENSION_GREEN};
    double most_n = 0;
    *by = DT_LOAD_TENSION_BUMP;
    for (size_t i = 0; i < COUNT_OF(cases); ++i) {
        const dt_load_point unused = {0};
        if (!load->runs[cases[i]]) continue;
        const double pull_n =
            dt_load_force_at(load, cases[i], ring, load->top_tvd_m, &unused).pull_n;
        if (!dt_less_by(most_n, pull_n, TIE_N)) continue;
        most_n = pull_n;
        *by = cases[i];
    }
    return most_n;
}

static double hanging_part(const dt_string_load *load, const dt_ring *ring)
{
    const dt_load_point unused = {0};
    return dt_load_force_at(load, DT_LOAD_TENSION_BUMP, ring, load->top_tvd_m, &unused)
        .hanging_part;
}

dt_hung dt_hanger_load(const dt_string_load *load, const dt_pipe *top, double hanging_n)
{
    const dt_ring ring = dt_ring_of(top, load->wear_m);
    dt_hung hung = {.weight_n = hanging_n * hanging_part(load, &ring)};
    hung.pressure_n = pressing_n(load, &ring, &hung.by);
    hung.total_n = hung.weight_n + hung.pressure_n;
    return hung;
}

double dt_hanger_most_hanging(const dt_hanger *hanger, const dt_string_load *load,
                              const dt_pipe *top)
{
    const dt_ring ring = dt_ring_of(top, load->wear_m);
    dt_load by;
    return (hanger->capacity_n / dt_hanger_factor(load->well) - pressing_n(load, &ring, &by)) /
           hanging_part(load, &ring);
}
