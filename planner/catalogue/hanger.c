/* SPDX-License-Identifier: MIT */
#include "hanger.h"

#include <math.h>

#include "same.h"
#include "units.h"

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
