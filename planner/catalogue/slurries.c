/* SPDX-License-Identifier: MIT */
#include "slurries.h"

#include "rows.h"
#include "units.h"

#define M3_PER_FT3 (DT_M_PER_FT * DT_M_PER_FT * DT_M_PER_FT)

size_t dt_slurry_built_in_count(void)
{
    return dt_raw_slurry_count;
}

dt_slurry_spec dt_slurry_built_in(size_t index, const char **mix)
{
    const dt_raw_slurry *raw = &dt_raw_slurries[index];
    if (mix) *mix = raw->mix;
    return (dt_slurry_spec){.name = raw->name,
                            .density_kgm3 = raw->density_ppg * DT_KGM3_PER_PPG,
                            .yield_m3 = raw->yield_ft3_sk * M3_PER_FT3,
                            .water_m3 = raw->water_gal_sk * DT_M3_PER_GAL,
                            .sack_kg = raw->sack_lb * DT_KG_PER_LB,
                            .built_in = true};
}

void dt_slurry_mix(const double *mass_kg, const double *density_kgm3, size_t count, double water_m3,
                   double water_kgm3, double *density_out_kgm3, double *yield_m3)
{
    double mass = water_m3 * water_kgm3, volume = water_m3;
    for (size_t i = 0; i < count; ++i) {
        mass += mass_kg[i];
        volume += mass_kg[i] / density_kgm3[i];
    }
    *density_out_kgm3 = mass / volume;
    *yield_m3 = volume;
}
