/* SPDX-License-Identifier: MIT */
#include "kick.h"

#include <math.h>

#include "same.h"
#include "units.h"

/** Bubbles that are told apart, m: over SAME_DEPTH_M, by which one as long as the hole is known. */
#define SAME_GAS_M 1e-4

/** How closely the weakest depth is looked for where the bubble that is borne sags, m. */
#define SAG_M 0.01

static double annulus_m2(double outer_m, double inner_m)
{
    return PI / 4 * (outer_m * outer_m - inner_m * inner_m);
}

/** Volume of a length filled from the bit up: round the collars first, then round the pipe. */
static double from_bit_up(const dt_kick_assembly *a, double length_m)
{
    double collars = fmin(length_m, a->collar_m);
    return annulus_m2(a->hole_m, a->collar_od_m) * collars +
           annulus_m2(a->hole_m, a->pipe_od_m) * (length_m - collars);
}

double dt_kick_from_bit_up(const dt_kick_assembly *assembly, double length_m)
{
    return from_bit_up(assembly, length_m);
}

double dt_kick_round_pipe(const dt_kick_assembly *assembly, double length_m)
{
    return annulus_m2(assembly->hole_m, assembly->pipe_od_m) * length_m;
}

double dt_kick_length(const dt_kick_assembly *a, double volume_m3)
{
    const double collars_m3 = annulus_m2(a->hole_m, a->collar_od_m) * a->collar_m;
    if (volume_m3 <= collars_m3) return volume_m3 / annulus_m2(a->hole_m, a->collar_od_m);
    return a->collar_m + (volume_m3 - collars_m3) / annulus_m2(a->hole_m, a->pipe_od_m);
}

/** What the weak point bears beside the formation, with mud alone in the open hole. */
static double budget_pa(const dt_influx_case *c)
{
    double open_m = c->bottom_tvd_m - c->weak_tvd_m;
    double formation_pa = c->formation_kgm3 * DT_STANDARD_GRAVITY * c->bottom_tvd_m;
    return c->limit_pa - formation_pa + c->mud_kgm3 * DT_STANDARD_GRAVITY * open_m;
}

/** Height of gas the weak point bears: the budget over the contrast. */
static double bubble_height(const dt_influx_case *c)
{
    return budget_pa(c) / ((c->mud_kgm3 - c->influx_kgm3) * DT_STANDARD_GRAVITY);
}

/** What a volume at the weak point is at the bottom; pressures at mid-bubble (Devereux). */
static double compressed(const dt_influx_case *c, double height_m, double volume_m3)
{
    double half_pa = c->influx_kgm3 * DT_STANDARD_GRAVITY * height_m / 2;
    double weak_pa = c->limit_pa + half_pa;
    double bottom_pa = c->formation_kgm3 * DT_STANDARD_GRAVITY * c->bottom_tvd_m - half_pa;
    double volume = volume_m3 * weak_pa / bottom_pa;
    if (c->law == DT_GAS_BOYLE) return volume;
    return volume * dt_kick_gas_z(bottom_pa, c->bottom_k, c->gas_gravity) * c->bottom_k /
           (dt_kick_gas_z(weak_pa, c->weak_k, c->gas_gravity) * c->weak_k);
}

static double along(const dt_trajectory *trajectory, double from_tvd_m, double to_tvd_m)
{
    if (!trajectory || trajectory->count == 0) return to_tvd_m - from_tvd_m;
    return dt_trajectory_md(trajectory, to_tvd_m) - dt_trajectory_md(trajectory, from_tvd_m);
}

dt_status dt_kick_tolerance(const dt_influx_case *c, const dt_trajectory *trajectory,
                            dt_kick_result *out)
{
    const dt_kick_assembly *a = &c->assembly;
    double sum = c->weak_tvd_m + c->bottom_tvd_m + c->mud_kgm3 + c->formation_kgm3 + c->limit_pa +
                 a->hole_m + a->pipe_od_m + a->collar_od_m + a->collar_m;
    bool pipe_fits = a->pipe_od_m < a->hole_m && a->collar_od_m < a->hole_m && a->collar_m >= 0;
    if (!isfinite(sum) || !pipe_fits || !(c->bottom_tvd_m > c->weak_tvd_m) ||
        !(c->influx_kgm3 >= 0 && c->influx_kgm3 < c->mud_kgm3))
        return DT_E_DOMAIN;
    double open_m = c->bottom_tvd_m - c->weak_tvd_m;
    dt_kick_result r = {.height_m = bubble_height(c), .weak_tvd_m = c->weak_tvd_m};
    r.whole_hole = r.height_m >= open_m - SAME_DEPTH_M;
    double height = fmin(fmax(r.height_m, 0), open_m);
    r.bottom_m3 = from_bit_up(a, along(trajectory, c->bottom_tvd_m - height, c->bottom_tvd_m));
    r.weak_m3 = annulus_m2(a->hole_m, a->pipe_od_m) *
                along(trajectory, c->weak_tvd_m, c->weak_tvd_m + height);
    r.weak_at_bottom_m3 = compressed(c, height, r.weak_m3);
    r.by_expansion = dt_less_by(r.weak_at_bottom_m3, r.bottom_m3, SAME_LOOK_M3);
    r.tolerance_m3 = r.whole_hole ? r.bottom_m3 : fmin(r.bottom_m3, r.weak_at_bottom_m3);
    if (!isfinite(r.tolerance_m3)) return DT_E_DOMAIN;
    *out = r;
    return DT_OK;
}

double dt_kick_zero_gain(double fracture_kgm3, double mud_kgm3, double shoe_tvd_m,
                         double bottom_tvd_m)
{
    return (fracture_kgm3 - mud_kgm3) * shoe_tvd_m / bottom_tvd_m;
}

double dt_kick_circulating_pressure(double formation_pa, double volume_m3, double mud_kgm3,
                                    double capacity_m3m)
{
    double P = formation_pa / DT_PA_PER_PSI, V = volume_m3 / DT_M3_PER_BBL;
    double W = mud_kgm3 / DT_KGM3_PER_PPG, C = capacity_m3m / (DT_M3_PER_BBL / DT_M_PER_FT);
    return 0.2 * sqrt(P * V * W / C) * DT_PA_PER_PSI;
}

/* ---- real gas ------------------------------------------------------------------------------ */

/** Dranchuk and Abou-Kassem (1975), held to a printed table: z as a function of reduced density. */
static double z_of_density(double r, double T)
{
    static const double A[] = {0,      0.3265,  -1.0700, -0.5339, 0.01569, -0.05165,
                               0.5475, -0.7361, 0.1844,  0.1056,  0.6134,  0.7210};
    double c1 = A[1] + A[2] / T + A[3] / pow(T, 3) + A[4] / pow(T, 4) + A[5] / pow(T, 5);
    double c2 = A[6] + A[7] / T + A[8] / (T * T), c3 = A[9] * (A[7] / T + A[8] / (T * T));
    double c4 = A[10] * (1 + A[11] * r * r) * r * r / pow(T, 3) * exp(-A[11] * r * r);
    return 1 + c1 * r + c2 * r * r - c3 * pow(r, 5) + c4;
}

double dt_kick_gas_z_reduced(double reduced_pressure, double reduced_temperature)
{
    double T = reduced_temperature, want = 0.27 * reduced_pressure / T; /* z times density */
    if (!(reduced_pressure > 0 && reduced_pressure <= 30 && T > 1 && T <= 3)) return NAN;
    double low = 0, high = 5;
    for (int i = 0; i < 200 && high - low > 1e-14; ++i) {
        double middle = low + (high - low) / 2;
        if (middle * z_of_density(middle, T) < want)
            low = middle;
        else
            high = middle;
    }
    return want / (low + (high - low) / 2);
}

double dt_kick_gas_z(double pressure_pa, double temperature_k, double gravity)
{
    double g = gravity, kelvin_per_rankine = 1 / 1.8; /* Sutton (1985): psia and degrees Rankine */
    double critical_pa = (756.8 - 131.0 * g - 3.6 * g * g) * DT_PA_PER_PSI;
    double critical_k = (169.2 + 349.5 * g - 74.0 * g * g) * kelvin_per_rankine;
    return dt_kick_gas_z_reduced(pressure_pa / critical_pa, temperature_k / critical_k);
}

/* ---- one section of a well ---- */

/** Undisturbed temperature at a depth, K: straight between points, the end values beyond. */
static double temperature(const dt_well *well, double tvd_m)
{
    const dt_temperature_point *p = well->thermal.points;
    size_t n = well->thermal.count, at = 0;
    if (n == 0) return NAN;
    while (at < n && p[at].tvd_m < tvd_m)
        ++at;
    double celsius = at < n ? p[at].celsius : p[n - 1].celsius;
    if (at > 0 && at < n)
        celsius = p[at - 1].celsius + (tvd_m - p[at - 1].tvd_m) / (p[at].tvd_m - p[at - 1].tvd_m) *
                                          (p[at].celsius - p[at - 1].celsius);
    return celsius + 273.15;
}

/** What a weak point bears. */
static double limit_at(const dt_well *well, double weak_m, double fracture_kgm3)
{
    return (fracture_kgm3 - well->kick.margin_kgm3) * DT_STANDARD_GRAVITY * weak_m;
}

/** With the formation at the intensity over the mud: what of it the trip margin covers, the callers
 * know. */
static dt_influx_case case_at(const dt_well *well, const dt_kick_assembly *assembly, double weak_m,
                              double fracture_kgm3, double base_m, double mud_kgm3)
{
    const dt_kick_wishes *k = &well->kick;
    return (dt_influx_case){.weak_tvd_m = weak_m,
                            .bottom_tvd_m = base_m,
                            .mud_kgm3 = mud_kgm3,
                            .formation_kgm3 = mud_kgm3 + k->intensity_kgm3,
                            .limit_pa = limit_at(well, weak_m, fracture_kgm3),
                            .influx_kgm3 = k->influx_kgm3,
                            .assembly = *assembly,
                            .law = k->law,
                            .weak_k = temperature(well, weak_m),
                            .bottom_k = temperature(well, base_m),
                            .gas_gravity = k->gas_gravity};
}

/** Keeps the weaker of two results: a bound comes before a volume of the whole hole. */
static bool weaker(const dt_kick_result *a, const dt_kick_result *b)
{
    if (a->whole_hole != b->whole_hole) return !a->whole_hole;
    return a->whole_hole ? dt_less_by(b->tolerance_m3, a->tolerance_m3, SAME_LOOK_M3)
                         : dt_less_by(a->tolerance_m3, b->tolerance_m3, SAME_LOOK_M3);
}

/** A hole whose weak points are looked at one after the other, and the least so far. */
typedef struct hole_look {
    const dt_well *well;
    const dt_trajectory *trajectory;
    const dt_kick_hole *hole;
    double intensity_kgm3;
    dt_kick_result least;
    bool any;
} hole_look;

static dt_influx_case weak_case(const hole_look *l, double weak_m, dt_side side)
{
    const dt_kick_hole *h = l->hole;
    const double fracture_kgm3 = dt_curve_emw(&l->well->fracture, weak_m, side);
    const double covered_kgm3 = dt_margin_emw(&l->well->margins.trip, h->base_m);
    dt_influx_case c = case_at(l->well, h->assembly, weak_m, fracture_kgm3, h->base_m, h->mud_kgm3);
    c.formation_kgm3 = h->mud_kgm3 + l->intensity_kgm3 - covered_kgm3;
    return c;
}

/** The deepest point of the hole is no weak point of its own: no bubble stands below it. */
static dt_status look_at(hole_look *l, double weak_m, dt_side side, dt_kick_result *out)
{
    if (weak_m >= l->hole->base_m) return DT_OK;
    const dt_influx_case c = weak_case(l, weak_m, side);
    const dt_status status = dt_kick_tolerance(&c, l->trajectory, out);
    if (status != DT_OK) return status;
    if (!l->any || weaker(out, &l->least)) l->least = *out;
    l->any = true;
    return DT_OK;
}

/** Height of gas that a depth bears over all that there can be of it below, m. */
static double gas_to_spare(const hole_look *l, double weak_m, dt_side side)
{
    const dt_influx_case c = weak_case(l, weak_m, side);
    return bubble_height(&c) - (l->hole->base_m - weak_m);
}

/** Where gas in all of the hole below begins to do no harm: the last depth that it still breaks. */
static double last_broken(const hole_look *l, double broken_m, double safe_m)
{
    while (fabs(broken_m - safe_m) > SAME_DEPTH_M) {
        const double middle_m = broken_m + (safe_m - broken_m) / 2;
        *(gas_to_spare(l, middle_m, DT_BELOW) < -SAME_GAS_M ? &broken_m : &safe_m) = middle_m;
    }
    return broken_m;
}

/** Does the bubble that is borne shrink from both ends of a stretch to somewhere between? */
static bool sags(const hole_look *l, double top_m, double base_m)
{
    const double part_m = (base_m - top_m) * 1e-3;
    const double at_m[] = {top_m, top_m + part_m, base_m - part_m, base_m};
    double height_m[4];
    for (int i = 0; i < 4; ++i) {
        const dt_influx_case c = weak_case(l, at_m[i], i < 3 ? DT_BELOW : DT_ABOVE);
        height_m[i] = bubble_height(&c);
    }
    return height_m[1] < height_m[0] && height_m[2] < height_m[3];
}

/** The least of a stretch that sags, by thirds. */
static dt_status look_for_least(hole_look *l, double top_m, double base_m)
{
    dt_status status = DT_OK;
    while (status == DT_OK && base_m - top_m > SAG_M) {
        const double third_m = (base_m - top_m) / 3;
        dt_kick_result upper = {0}, lower = {0};
        status = look_at(l, top_m + third_m, DT_BELOW, &upper);
        if (status == DT_OK) status = look_at(l, base_m - third_m, DT_BELOW, &lower);
        if (upper.tolerance_m3 < lower.tolerance_m3)
            base_m -= third_m;
        else
            top_m += third_m;
    }
    return status;
}

/**
 * Between two breaks the weakest depth is one of them; or that from which gas in all of the hole
 * below does no harm; or, where gradients are straight and pressures bend, one between.
 */
static dt_status look_between(hole_look *l, double top_m, double base_m)
{
    dt_kick_result at;
    dt_status status = look_at(l, top_m, DT_BELOW, &at);
    if (status == DT_OK) status = look_at(l, base_m, DT_ABOVE, &at);
    if (status != DT_OK) return status;
    const bool top_breaks = gas_to_spare(l, top_m, DT_BELOW) < -SAME_GAS_M;
    const bool base_breaks = gas_to_spare(l, base_m, DT_ABOVE) < -SAME_GAS_M;
    if (!top_breaks && !base_breaks) return DT_OK;
    if (base_breaks && base_m >= l->hole->base_m) /* weaker than the formation is strong */
        status = look_at(l, base_m - SAME_GAS_M, DT_BELOW, &at);
    if (status != DT_OK) return status;
    if (!base_breaks) base_m = last_broken(l, top_m, base_m);
    if (!top_breaks) top_m = last_broken(l, base_m, top_m);
    if (!base_breaks) status = look_at(l, base_m, DT_ABOVE, &at);
    if (status == DT_OK && !top_breaks) status = look_at(l, top_m, DT_BELOW, &at);
    if (status != DT_OK || !sags(l, top_m, base_m)) return status;
    return look_for_least(l, top_m, base_m);
}

dt_status dt_kick_of_hole(const dt_window *window, const dt_trajectory *trajectory,
                          const dt_kick_hole *hole, double intensity_kgm3, dt_kick_result *out)
{
    hole_look l = {.well = window->well,
                   .trajectory = trajectory,
                   .hole = hole,
                   .intensity_kgm3 = intensity_kgm3};
    double z = hole->top_m;
    for (size_t i = 0; i <= window->break_count && z < hole->base_m; ++i) {
        const double next =
            i < window->break_count ? fmin(window->breaks[i], hole->base_m) : hole->base_m;
        if (next <= hole->top_m) continue;
        const dt_status status = look_between(&l, z, next);
        if (status != DT_OK) return status;
        z = next;
    }
    if (!l.any) return DT_E_DOMAIN;
    *out = l.least;
    return DT_OK;
}

dt_status dt_kick_section(const dt_window *window, const dt_trajectory *trajectory,
                          const dt_kick_assembly *assembly, double top_m, double base_m,
                          double mud_kgm3, dt_kick_result *out)
{
    const dt_kick_hole hole = {assembly, top_m, base_m, mud_kgm3};
    return dt_kick_of_hole(window, trajectory, &hole, window->well->kick.intensity_kgm3, out);
}

dt_status dt_kick_curve(const dt_window *window, const dt_trajectory *trajectory,
                        const dt_kick_assembly *assembly, double top_m, double base_m,
                        double mud_kgm3, size_t count, dt_kick_point *out)
{
    for (size_t i = 0; i < count; ++i) {
        double at = top_m + (base_m - top_m) * (double)(i + 1) / (double)count;
        dt_kick_result r;
        dt_status status = dt_kick_section(window, trajectory, assembly, top_m, at, mud_kgm3, &r);
        if (status != DT_OK) return status;
        out[i] = (dt_kick_point){at, r.tolerance_m3, r.whole_hole};
    }
    return DT_OK;
}

/** What an influx case of the rules of seats bears: by how much it falls short where it bears none.
 */
static inline double borne(const dt_influx_case *c, const dt_kick_assembly *a)
{
    /* An influx as heavy as the mud loads nothing: only the budget's sign counts. */
    if (c->mud_kgm3 <= c->influx_kgm3) return budget_pa(c) >= 0 ? INFINITY : -1;
    double height = bubble_height(c), pipe_m2 = annulus_m2(a->hole_m, a->pipe_od_m);
    if (height <= 0) return height * pipe_m2;
    return fmin(from_bit_up(a, height), compressed(c, height, height * pipe_m2));
}

double dt_kick_hole_volume(const dt_well *well, const dt_hole_kick *hole, double weak_m,
                           double fracture_kgm3)
{
    const double covered_kgm3 = dt_margin_emw(&well->margins.trip, hole->base_m);
    /* asked some hundred times a hole: nothing is looked up that Boyle's law leaves alone, and no
     * member is left to be zeroed, which took an eighth of all odds */
    const dt_influx_case c = {.weak_tvd_m = weak_m,
                              .bottom_tvd_m = hole->base_m,
                              .mud_kgm3 = hole->mud_kgm3,
                              .formation_kgm3 =
                                  hole->mud_kgm3 + hole->intensity_kgm3 - covered_kgm3,
                              .limit_pa = limit_at(well, weak_m, fracture_kgm3),
                              .influx_kgm3 = well->kick.influx_kgm3,
                              .assembly = *hole->assembly,
                              .law = DT_GAS_BOYLE,
                              .weak_k = NAN,
                              .bottom_k = NAN,
                              .gas_gravity = NAN};
    return c.mud_kgm3 > c.influx_kgm3 && bubble_height(&c) >= hole->base_m - weak_m
               ? INFINITY
               : borne(&c, hole->assembly);
}

double dt_kick_seat_volume(const dt_well *well, double weak_m, double fracture_kgm3, double base_m,
                           double mud_kgm3)
{
    const dt_kick_wishes *k = &well->kick;
    dt_kick_assembly a = {.hole_m = k->seat_hole_m,
                          .pipe_od_m = k->seat_pipe_od_m,
                          .collar_od_m = k->seat_collar_od_m,
                          .collar_m = k->seat_collar_m};
    dt_influx_case c = case_at(well, &a, weak_m, fracture_kgm3, base_m, mud_kgm3);
    c.law = DT_GAS_BOYLE;
    return borne(&c, &a);
}
