/* SPDX-License-Identifier: MIT */
#include "drawtube/hanger.h"

#include <math.h>

#include "drawtube/basis.h"
#include "drawtube/units.h"
#include "hold.h"

#define SAME_DIAMETER_M (0.0005 * DT_M_PER_IN)
#define SAME_WEIGHT_KGM (0.005 * DT_KGM_PER_LBFT)

static bool same(double a_m, double b_m)
{
    return fabs(a_m - b_m) < SAME_DIAMETER_M;
}

bool dt_hanger_is_for(const dt_hanger *hanger, double liner_m)
{
    return same(hanger->liner_m, liner_m);
}

bool dt_hanger_fits_size(const dt_hanger *hanger, double casing_m)
{
    return same(hanger->casing_m, casing_m);
}

bool dt_hanger_fits(const dt_hanger *hanger, const dt_pipe *casing)
{
    /* written so that a bound left out (NAN) bounds nothing */
    return dt_hanger_fits_size(hanger, casing->od_m) &&
           !(casing->weight_kgm < hanger->lightest_kgm - SAME_WEIGHT_KGM) &&
           !(casing->weight_kgm > hanger->heaviest_kgm + SAME_WEIGHT_KGM);
}

double dt_hanger_bore(const dt_hanger *hanger)
{
    return fmin(hanger->bore_m, hanger->receptacle_bore_m); /* fmin passes NAN over */
}

bool dt_hanger_passes(const dt_hanger *hanger, double bit_m)
{
    return bit_m <= dt_hanger_bore(hanger) + SAME_DIAMETER_M;
}

double dt_hanger_factor(const dt_well *well)
{
    const double factor = well->hangers.factor;
    return dt_custom_or(well, factor == 0 ? NAN : factor, DT_CUSTOM_HANGERS_FACTOR);
}

/** Pressure on the plug or on the floats pulls on what hangs free, times the bore at its top; the
 * larger of the two cases. */
static double pressing_n(const dt_string_load *load, const dt_ring *ring, dt_load *by)
{
    static const dt_load cases[] = {DT_LOAD_TENSION_BUMP, DT_LOAD_TENSION_GREEN};
    double most_n = 0;
    *by = DT_LOAD_TENSION_BUMP;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; ++i) {
        const dt_load_point unused = {0};
        if (!load->runs[cases[i]]) continue;
        const double pull_n =
            dt_load_force_at(load, cases[i], ring, load->top_tvd_m, &unused).pull_n;
        if (!(pull_n > most_n)) continue;
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

bool dt_hanger_waived(const dt_well *well, const dt_pin *liner, const dt_pin *above)
{
    if (!liner || isnan(liner->od_m)) return false;
    for (size_t i = 0; i < well->hangers.count; ++i) {
        const dt_hanger *h = &well->hangers.items[i];
        if (!dt_hanger_is_for(h, liner->od_m)) continue;
        if (!above || isnan(above->od_m) || dt_hanger_fits_size(h, above->od_m)) return false;
    }
    return true;
}
