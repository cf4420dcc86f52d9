/* SPDX-License-Identifier: MIT */
#include "well_slurries.h"

#include <string.h>

#include "units.h"

#define SACK_KG (94.0 * DT_KG_PER_LB) /* API Spec 10A */

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
    for (size_t i = 0; i < dt_slurry_built_in_count(); ++i) {
        *out = dt_slurry_built_in(i, NULL);
        if (strcmp(out->name, name) == 0) return true;
    }
    return false;
}
