/* SPDX-License-Identifier: MIT */
/* What holds where the well file says nothing of cementing. Each origin is in docs/cement.md. */
#include <math.h>

#include "basis.h"
#include "cement.h"
#include "numbers.h"
#include "same.h"
#include "units.h"

double dt_triplex_stroke(double bore_m, double stroke_m, double efficiency)
{
    return 3 * PI / 4 * bore_m * bore_m * stroke_m * efficiency;
}

dt_liquid dt_mud_settle(const dt_well *well)
{
    const dt_rheology *said = &well->rheology;
    dt_liquid mud = {.density_kgm3 = NAN,
                     .pv_pas = dt_custom_or(well, said->mud_pv_pas, DT_CUSTOM_MUD_PV),
                     .yp_pa = dt_custom_or(well, said->mud_yp_pa, DT_CUSTOM_MUD_YP)};
    if (said->mud_600 > 0)
        dt_power_law(said->mud_600, said->mud_300, &mud.n, &mud.k_pasn);
    else if (said->mud_n > 0) {
        mud.n = said->mud_n;
        mud.k_pasn = said->mud_k_pasn;
    }
    return mud;
}

bool dt_mud_stated(const dt_well *well)
{
    const dt_rheology *said = &well->rheology;
    return !isnan(said->mud_pv_pas) || !isnan(said->mud_yp_pa) || said->mud_n > 0 ||
           said->mud_600 > 0;
}

dt_liquid dt_mud_thinned(const dt_well *well, bool *stated)
{
    *stated = dt_mud_stated(well);
    return (dt_liquid){.density_kgm3 = NAN,
                       .pv_pas = dt_custom_value_of(well, DT_CUSTOM_THIN_PV),
                       .yp_pa = dt_custom_value_of(well, DT_CUSTOM_THIN_YP)};
}

/** A rate of the well's basis, held back where the annulus round the string is tight. */
static double rate_in(const dt_well *well, const dt_annulus *annulus, dt_custom rate)
{
    const double most_ms = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_MOST_SPEED);
    double rate_m3s = dt_custom_value_of(well, rate);
    for (size_t i = 0; i < annulus->count; ++i) {
        const dt_annulus_piece *p = &annulus->pieces[i];
        double outer = fmin(p->outer_top_m, p->outer_base_m); /* of a cone the narrow end */
        double area = PI / 4 * (outer * outer - p->pipe_od_m * p->pipe_od_m);
        if (!p->landing && area > 0) rate_m3s = fmin(rate_m3s, area * most_ms);
    }
    return rate_m3s;
}

const dt_role_customs *dt_cement_customs(const dt_well *well, dt_role role)
{
    size_t count = 0, i = 0;
    const dt_role_customs *rows = dt_custom_rows(well, DT_TABLE_CEMENTING_ROLES, &count);
    while (i + 1 < count && rows[i].role != (int)role)
        ++i;
    return &rows[i];
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
    const dt_role_customs *row = dt_cement_customs(well, role);
    const double bore = dt_custom_or(well, w->pump_bore_m, DT_CUSTOM_CEMENTING_PUMP_BORE);
    const double stroke = dt_custom_or(well, w->pump_stroke_m, DT_CUSTOM_CEMENTING_PUMP_STROKE);
    const double share =
        dt_custom_or(well, w->pump_efficiency, DT_CUSTOM_CEMENTING_PUMP_EFFICIENCY);
    const double excess = annulus->by_caliper
                              ? dt_custom_value_of(well, DT_CUSTOM_CEMENTING_EXCESS_BY_CALIPER)
                              : row->excess;
    *out = (dt_cement_settings){
        .lead = dt_cement_slurry_or(well, w->lead, DT_CUSTOM_CEMENTING_LEAD),
        .tail = dt_cement_slurry_or(well, w->tail, DT_CUSTOM_CEMENTING_TAIL),
        .above_shoe_m = dt_custom_or(well, w->above_shoe_m, DT_CUSTOM_CEMENTING_ABOVE_SHOE),
        .tail_length_m = dt_custom_or(well, w->tail_length_m, DT_CUSTOM_CEMENTING_TAIL_LENGTH),
        .excess = or_else(w->excess, excess),
        .rathole_m = dt_custom_or(well, w->rathole_m, DT_CUSTOM_CEMENTING_RATHOLE),
        .rathole_excess = w->rathole_excess,
        .spacer_length_m =
            dt_custom_or(well, w->spacer_length_m, DT_CUSTOM_CEMENTING_SPACER_LENGTH),
        .spacer_kgm3 = w->spacer_kgm3,
        .displacement_kgm3 = w->displacement_kgm3,
        .mix_rate_m3s =
            or_else(w->mix_rate_m3s, rate_in(well, annulus, DT_CUSTOM_CEMENTING_MIX_RATE)),
        .displacement_rate_m3s =
            or_else(w->displacement_rate_m3s,
                    rate_in(well, annulus, DT_CUSTOM_CEMENTING_DISPLACEMENT_RATE)),
        .pump_m3_per_stroke = dt_triplex_stroke(bore, stroke, share),
        .margin = w->margin_given ? w->margin : dt_custom_margin(well, DT_CUSTOM_CEMENTING_MARGIN),
        .bump_margin_pa = dt_custom_or(well, w->bump_margin_pa, DT_CUSTOM_CEMENTING_BUMP_MARGIN),
        .test = w->test == DT_TEST_COUNT ? (dt_test_rule)row->test : w->test,
        .test_pressure_pa = w->test == DT_TEST_COUNT ? row->test_pressure_pa : w->test_pressure_pa,
        .wait_s = or_else(w->wait_s, row->wait_s),
        .wait_strength_pa =
            dt_custom_or(well, w->wait_strength_pa, DT_CUSTOM_CEMENTING_WAIT_STRENGTH),
        .thickening_s = w->thickening_s,
        .rates_stated = !isnan(w->mix_rate_m3s) || !isnan(w->displacement_rate_m3s),
        .tail_stated = !isnan(w->tail_length_m),
        .tail_least_m = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_TAIL_LEAST),
        .slower = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_SLOWER),
        .tool_depth_m = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_TOOL_DEPTH),
        .plug_drop_s = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_PLUG_DROP),
        .thickening_reserve_s = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_RESERVE),
        .tool_above_shoe_m = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_TOOL_ABOVE_SHOE),
        .mud = dt_mud_settle(well),
        .spacer = {.pv_pas = dt_custom_or(well, well->rheology.spacer_pv_pas, DT_CUSTOM_SPACER_PV),
                   .yp_pa = dt_custom_or(well, well->rheology.spacer_yp_pa, DT_CUSTOM_SPACER_YP)},
        .slurry = {.pv_pas = dt_custom_or(well, well->rheology.slurry_pv_pas, DT_CUSTOM_SLURRY_PV),
                   .yp_pa = dt_custom_or(well, well->rheology.slurry_yp_pa, DT_CUSTOM_SLURRY_YP)},
    };
    out->thin = dt_mud_thinned(well, &out->mud_stated);
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
