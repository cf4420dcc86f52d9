/* SPDX-License-Identifier: MIT */
#include "drawtube/slurries.h"

#include <string.h>

#include "catalogue/rows.h"
#include "drawtube/units.h"

#define M3_PER_FT3 (DT_M_PER_FT * DT_M_PER_FT * DT_M_PER_FT)
#define SACK_KG    (94.0 * DT_KG_PER_LB) /* API Spec 10A */

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

bool dt_slurry_find(const dt_well *well, const char *name, dt_slurry_spec *out)
{
    if (!name) return false;
    for (size_t i = 0; well && i < well->slurry_count; ++i) {
        const dt_slurry *s = &well->slurries[i];
        if (!s->name || strcmp(s->name, name) != 0) continue;
        *out = (dt_slurry_spec){.name = s->name,
                                .density_kgm3 = s->density_kgm3,
                                .yield_m3 = s->yield_m3kg * SACK_KG,
                                .water_m3 = s->water_m3kg * SACK_KG,
                                .sack_kg = SACK_KG};
        return true;
    }
    for (size_t i = 0; i < dt_raw_slurry_count; ++i)
        if (strcmp(dt_raw_slurries[i].name, name) == 0) {
            *out = dt_slurry_built_in(i, NULL);
            return true;
        }
    return false;
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
