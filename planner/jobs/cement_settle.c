/* SPDX-License-Identifier: MIT */
/* What holds where the well file says nothing of cementing. Each origin is in docs/cement.md. */
#include <math.h>

#include "cement.h"
#include "numbers.h"
#include "same.h"
#include "units.h"

#define FT  DT_M_PER_FT
#define PPG DT_KGM3_PER_PPG
#define PSI DT_PA_PER_PSI
#define BPM (DT_M3_PER_BBL / 60)
#define YP  (DT_N_PER_LBF / (100 * DT_M_PER_FT * DT_M_PER_FT))

/** What differs from role to role. */
typedef struct role_row {
    double excess; /* of the open hole: common practice; the last two HWU's and RRC's 20 % */
    double wait_h; /* common practice */
    dt_test_rule test;
    double test_psi;
} role_row;

static const role_row by_role[DT_ROLE_COUNT] = {
    /* a drilled conductor 100 to 200 %; 250 psi: US 30 CFR 250.721(a) */
    [DT_CONDUCTOR] = {1.00, 12, DT_TEST_PRESSURE, 250},
    [DT_SURFACE] = {1.00, 12, DT_TEST_INTERNAL_YIELD, NAN},
    [DT_INTERMEDIATE] = {0.20, 12, DT_TEST_INTERNAL_YIELD, NAN},
    [DT_PRODUCTION] = {0.20, 24, DT_TEST_INTERNAL_YIELD, NAN},
};
#define EXCESS_BY_CALIPER 0.15 /* over caliper volume 10 to 15 %: common practice */

double dt_triplex_stroke(double bore_m, double stroke_m, double efficiency)
{
    return 3 * PI / 4 * bore_m * bore_m * stroke_m * efficiency;
}

dt_bingham dt_mud_settle(const dt_well *well)
{
    return (dt_bingham){.density_kgm3 = NAN,
                        .pv_pas = or_else(well->rheology.mud_pv_pas, 20e-3),
                        .yp_pa = or_else(well->rheology.mud_yp_pa, 12 * YP)};
}

static dt_slurry_spec slurry_or(const dt_well *well, const char *name, const char *otherwise)
{
    dt_slurry_spec slurry = {0};
    if (!name || !dt_slurry_find(well, name, &slurry))
        (void)dt_slurry_find(NULL, otherwise, &slurry);
    return slurry;
}

/** Pumping faster than this in the narrowest annulus is not customary: 4 ft/s, no source. */
#define SPEED_MOST_MS (4 * FT)

/** A customary rate, held back where the annulus round the string is tight. */
static double rate_in(const dt_annulus *annulus, double rate_m3s)
{
    for (size_t i = 0; i < annulus->count; ++i) {
        const dt_annulus_piece *p = &annulus->pieces[i];
        double outer = fmin(p->outer_top_m, p->outer_base_m); /* of a cone the narrow end */
        double area = PI / 4 * (outer * outer - p->pipe_od_m * p->pipe_od_m);
        if (!p->landing && area > 0) rate_m3s = fmin(rate_m3s, area * SPEED_MOST_MS);
    }
    return rate_m3s;
}

/** The pressure test of <loads> for a role; NAN when it has none. */
static double test_of_loads(const dt_well *well, dt_role role)
{
    for (size_t i = 0; well->loads.given && i < well->loads.test_count; ++i)
        if (well->loads.tests[i].role == role) return well->loads.tests[i].pressure_pa;
    return NAN;
}

/** Where <cementing> leaves something open, what <loads> says of the same job (decision 0024). */
static void take_from_loads(const dt_well *well, dt_role role, dt_cement_settings *out)
{
    const dt_cement_wishes *w = &well->cementing;
    if (isnan(w->bump_margin_pa) && well->loads.given && !isnan(well->loads.bump_margin_pa))
        out->bump_margin_pa = well->loads.bump_margin_pa;
    if (isnan(w->displacement_kgm3) && well->loads.given)
        out->displacement_kgm3 = well->loads.displacement_kgm3;
    const double test_pa = test_of_loads(well, role);
    if (w->test == DT_TEST_COUNT && !isnan(test_pa)) {
        out->test = DT_TEST_PRESSURE;
        out->test_pressure_pa = test_pa;
    }
}

void dt_cement_settle(const dt_well *well, dt_role role, const dt_annulus *annulus,
                      dt_cement_settings *out)
{
    const dt_cement_wishes *w = &well->cementing;
    const role_row *row = &by_role[role];
    double bore = or_else(w->pump_bore_m, 6.5 * DT_M_PER_IN);
    double stroke = or_else(w->pump_stroke_m, 12 * DT_M_PER_IN);
    *out = (dt_cement_settings){
        .lead = slurry_or(well, w->lead, "G + 8 % bentonite"),
        .tail = slurry_or(well, w->tail, "G neat"),
        .above_shoe_m = or_else(w->above_shoe_m, 500 * FT),
        .tail_length_m = or_else(w->tail_length_m, 500 * FT),
        .excess = or_else(w->excess, annulus->by_caliper ? EXCESS_BY_CALIPER : row->excess),
        .rathole_m = or_else(w->rathole_m, 0),
        .rathole_excess = w->rathole_excess,
        .spacer_length_m = or_else(w->spacer_length_m, 500 * FT),
        .spacer_kgm3 = w->spacer_kgm3,
        .displacement_kgm3 = w->displacement_kgm3,
        .mix_rate_m3s = or_else(w->mix_rate_m3s, rate_in(annulus, 5 * BPM)),
        .displacement_rate_m3s = or_else(w->displacement_rate_m3s, rate_in(annulus, 8 * BPM)),
        .pump_m3_per_stroke = dt_triplex_stroke(bore, stroke, or_else(w->pump_efficiency, 0.96)),
        .margin = w->margin_given ? w->margin : (dt_margin){.emw_kgm3 = 0.3 * PPG},
        .bump_margin_pa = or_else(w->bump_margin_pa, 500 * PSI),
        .test = w->test == DT_TEST_COUNT ? row->test : w->test,
        .test_pressure_pa = w->test == DT_TEST_COUNT ? row->test_psi * PSI : w->test_pressure_pa,
        .wait_s = or_else(w->wait_s, row->wait_h * 3600),
        .wait_strength_pa = or_else(w->wait_strength_pa, 500 * PSI),
        .thickening_s = w->thickening_s,
        .mud = dt_mud_settle(well),
        .spacer = {.pv_pas = or_else(well->rheology.spacer_pv_pas, 20e-3),
                   .yp_pa = or_else(well->rheology.spacer_yp_pa, 12 * YP)},
        .slurry = {.pv_pas = or_else(well->rheology.slurry_pv_pas, 50e-3),
                   .yp_pa = or_else(well->rheology.slurry_yp_pa, 15 * YP)},
    };
    take_from_loads(well, role, out);
}

double dt_strength_time(const dt_strength_point *points, size_t count, double strength_pa)
{
    double time_s = 0, strength = 0;
    for (size_t i = 0; i < count; ++i) {
        if (points[i].strength_pa >= strength_pa) {
            double rise = points[i].strength_pa - strength;
            if (rise <= 0) return points[i].time_s;
            return time_s + (strength_pa - strength) / rise * (points[i].time_s - time_s);
        }
        time_s = points[i].time_s;
        strength = points[i].strength_pa;
    }
    return INFINITY;
}

double dt_tallest_column(double fracture_pa, double margin_pa, double friction_pa, double mud_kgm3,
                         double slurry_kgm3, double tvd_m)
{
    if (slurry_kgm3 <= mud_kgm3) return INFINITY;
    double left = fracture_pa - margin_pa - friction_pa - mud_kgm3 * DT_STANDARD_GRAVITY * tvd_m;
    return left / ((slurry_kgm3 - mud_kgm3) * DT_STANDARD_GRAVITY);
}
