/* SPDX-License-Identifier: MIT */
#include "liner_hangers.h"

#include <math.h>

#include "basis.h"

double dt_hanger_factor(const dt_well *well)
{
    const double factor = well->hangers.factor;
    return dt_custom_or(well, factor == 0 ? NAN : factor, DT_CUSTOM_HANGERS_FACTOR);
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
