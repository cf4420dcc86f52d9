/* SPDX-License-Identifier: MIT */
#include "pressure.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "curve.h"
#include "numbers.h"
#include "same.h"
#include "units.h"

typedef struct method_text {
    const char *name, *words;
} method_text;

static const method_text method_texts[DT_FRACTURE_METHOD_COUNT] = {
    [DT_FRACTURE_POINTS] = {"points", "points of the well file"},
    [DT_FRACTURE_EATON] = {"eaton", "Eaton (1969)"},
    [DT_FRACTURE_MATTHEWS_KELLY] = {"matthews-kelly", "Matthews and Kelly (1967)"},
    [DT_FRACTURE_HUBBERT_WILLIS_LOW] = {"hubbert-willis-low", "Hubbert and Willis (1957), least"},
    [DT_FRACTURE_HUBBERT_WILLIS_HIGH] = {"hubbert-willis-high", "Hubbert and Willis (1957), most"},
    [DT_FRACTURE_CHRISTMAN] = {"christman", "Christman (1973)"},
};

const char *dt_fracture_method_text(dt_fracture_method method)
{
    return method_texts[method].name;
}

const char *dt_fracture_method_words(dt_fracture_method method)
{
    return method_texts[method].words;
}

/* ---- formulas ----------------------------------------------------------------------------- */

double dt_eaton_ratio(double poisson)
{
    return poisson >= 0 && poisson <= 0.5 ? poisson / (1 - poisson) : NAN;
}

double dt_fracture_from_ratio(double overburden_kgm3, double pore_kgm3, double ratio)
{
    return pore_kgm3 + ratio * (overburden_kgm3 - pore_kgm3);
}

double dt_fracture_eaton(double overburden_kgm3, double pore_kgm3, double poisson)
{
    return dt_fracture_from_ratio(overburden_kgm3, pore_kgm3, dt_eaton_ratio(poisson));
}

double dt_fracture_matthews_kelly(double overburden_kgm3, double pore_kgm3, double coefficient)
{
    return dt_fracture_from_ratio(overburden_kgm3, pore_kgm3, coefficient);
}

double dt_matthews_kelly_depth(double overburden_kgm3, double pore_kgm3, double tvd_m,
                               double normal_stress_kgm3)
{
    return (overburden_kgm3 - pore_kgm3) * tvd_m / normal_stress_kgm3;
}

double dt_fracture_hubbert_willis_low(double overburden_kgm3, double pore_kgm3)
{
    return dt_fracture_from_ratio(overburden_kgm3, pore_kgm3, 1.0 / 3.0);
}

double dt_fracture_hubbert_willis_high(double overburden_kgm3, double pore_kgm3)
{
    return dt_fracture_from_ratio(overburden_kgm3, pore_kgm3, 0.5);
}

double dt_fracture_christman(double overburden_kgm3, double pore_kgm3, double stress_ratio)
{
    return dt_fracture_from_ratio(overburden_kgm3, pore_kgm3, stress_ratio);
}

double dt_overburden_offshore(double air_m, double water_m, double sea_kgm3, double rock_kgm3,
                              double tvd_m)
{
    double rock_m = tvd_m - air_m - water_m;
    if (!(rock_m >= 0) || !(tvd_m > 0)) return NAN;
    return (water_m * sea_kgm3 + rock_m * rock_kgm3) / tvd_m;
}

#define LEAST_FIT_M    (1000 * DT_M_PER_FT)
#define MOST_FIT_M     (20000 * DT_M_PER_FT)
#define KGM3_PER_PSIFT (DT_PA_PER_PSI / DT_M_PER_FT / DT_STANDARD_GRAVITY)

double dt_gulf_coast_overburden(double tvd_m)
{
    if (!(tvd_m >= LEAST_FIT_M && tvd_m <= MOST_FIT_M)) return NAN;
    double k = tvd_m / (1000 * DT_M_PER_FT); /* fit in thousands of feet and psi/ft, from memory */
    return KGM3_PER_PSIFT * (0.84753 + 0.01494 * k - 0.0006 * k * k + 1.199e-5 * k * k * k);
}

double dt_gulf_coast_poisson(double tvd_m)
{
    if (!(tvd_m >= LEAST_FIT_M && tvd_m <= MOST_FIT_M)) return NAN;
    double D = tvd_m / DT_M_PER_FT; /* fit in feet, from memory */
    return D < 5000 ? -7.5e-9 * D * D + 8.0214e-5 * D + 0.20071
                    : -1.72e-10 * D * D + 9.47484e-6 * D + 0.37243;
}

double dt_leak_off_emw(double mud_kgm3, double surface_pa, double shoe_tvd_m)
{
    return mud_kgm3 + surface_pa / (DT_STANDARD_GRAVITY * shoe_tvd_m);
}

double dt_leak_off_surface(double leak_off_kgm3, double mud_kgm3, double shoe_tvd_m)
{
    return (leak_off_kgm3 - mud_kgm3) * DT_STANDARD_GRAVITY * shoe_tvd_m;
}

double dt_leak_off_surface_changed(double surface_pa, double old_mud_kgm3, double new_mud_kgm3,
                                   double shoe_tvd_m)
{
    return surface_pa - (new_mud_kgm3 - old_mud_kgm3) * DT_STANDARD_GRAVITY * shoe_tvd_m;
}

double dt_pore_eaton(double overburden_kgm3, double normal_kgm3, double ratio, double exponent)
{
    return overburden_kgm3 - (overburden_kgm3 - normal_kgm3) * pow(ratio, exponent);
}

/* ---- the fracture curve of a well ---- */

/** Between two computed points the curve is a line: this far apart it is one within 0.01 ppg. */
#define LONGEST_STEP_M 50.0

static double ratio_given(const dt_fracture_source *from, double tvd_m)
{
    if (from->gulf_coast) return dt_gulf_coast_poisson(fmin(fmax(tvd_m, LEAST_FIT_M), MOST_FIT_M));
    if (from->ratio_count == 0) return from->ratio;
    const dt_stress_ratio *r = from->ratios;
    if (tvd_m <= r[0].tvd_m) return r[0].ratio;
    for (size_t i = 1; i < from->ratio_count; ++i) {
        if (tvd_m > r[i].tvd_m) continue;
        double part = (tvd_m - r[i - 1].tvd_m) / (r[i].tvd_m - r[i - 1].tvd_m);
        return r[i - 1].ratio + part * (r[i].ratio - r[i - 1].ratio);
    }
    return r[from->ratio_count - 1].ratio;
}

/** k of the method at a depth, before any test. */
static double method_ratio(const dt_fracture_source *from, double tvd_m)
{
    switch (from->method) {
    case DT_FRACTURE_HUBBERT_WILLIS_LOW:
        return 1.0 / 3.0;
    case DT_FRACTURE_HUBBERT_WILLIS_HIGH:
        return 0.5;
    case DT_FRACTURE_EATON:
        return dt_eaton_ratio(ratio_given(from, tvd_m));
    default:
        return ratio_given(from, tvd_m);
    }
}

/** What the tests make of the part above pore pressure at a depth: a factor, 1 without tests. */
static double test_factor(const dt_fracture_source *from, const double *factors, double tvd_m)
{
    size_t n = from->test_count;
    if (n == 0) return 1;
    if (tvd_m <= from->tests[0].shoe_m) return factors[0];
    for (size_t i = 1; i < n; ++i) {
        double a = from->tests[i - 1].shoe_m, b = from->tests[i].shoe_m;
        if (tvd_m <= b)
            return factors[i - 1] + (tvd_m - a) / (b - a) * (factors[i] - factors[i - 1]);
    }
    return factors[n - 1];
}

static double untested(const dt_well *well, double tvd_m, dt_side side)
{
    const dt_fracture_source *from = &well->fracture_from;
    if (from->method == DT_FRACTURE_POINTS) return dt_curve_emw(&well->fracture, tvd_m, side);
    return dt_fracture_from_ratio(dt_curve_emw(&well->overburden, tvd_m, side),
                                  dt_curve_emw(&well->pore, tvd_m, side),
                                  method_ratio(from, tvd_m));
}

/** One factor a test; false when a test or the curve does not lie above pore pressure. */
static bool factors_of_tests(const dt_well *well, double *factors)
{
    const dt_fracture_source *from = &well->fracture_from;
    for (size_t i = 0; i < from->test_count; ++i) {
        const dt_leak_off *test = &from->tests[i];
        double pore = dt_curve_emw(&well->pore, test->shoe_m, DT_BELOW);
        double above = untested(well, test->shoe_m, DT_BELOW) - pore;
        factors[i] = (test->emw_kgm3 - test->deduct_kgm3 - pore) / above;
        if (!(above > 0) || !(factors[i] > 0) || !isfinite(factors[i])) return false;
    }
    return true;
}

static size_t put_depths(double *out, const dt_curve *curve)
{
    for (size_t i = 0; i < curve->count; ++i)
        out[i] = curve->points[i].tvd_m;
    return curve->count;
}

/** Sorted distinct depths of everything that shapes the curve; *out is malloc'ed. */
static dt_status shaping_depths(const dt_well *well, double **out, size_t *count)
{
    const dt_fracture_source *from = &well->fracture_from;
    size_t most = well->pore.count + well->overburden.count + well->fracture.count +
                  from->ratio_count + from->test_count + 2;
    double *depths = malloc(most * sizeof *depths);
    if (!depths) return DT_E_MEMORY;
    size_t n = put_depths(depths, &well->pore);
    n += put_depths(depths + n, &well->overburden);
    n += put_depths(depths + n, &well->fracture);
    for (size_t i = 0; i < from->ratio_count; ++i)
        depths[n++] = from->ratios[i].tvd_m;
    for (size_t i = 0; i < from->test_count; ++i)
        depths[n++] = from->tests[i].shoe_m;
    depths[n++] = well->objective_m;
    qsort(depths, n, sizeof *depths, by_value);
    size_t kept = 0;
    for (size_t i = 0; i < n; ++i)
        if (kept == 0 || depths[i] > depths[kept - 1]) depths[kept++] = depths[i];
    *out = depths;
    *count = kept;
    return DT_OK;
}

/** The computed curve in the making. */
typedef struct making {
    const dt_well *well;
    const double *factors;
    dt_curve_point *points;
    double *ratio;
    size_t count;
} making;

static void add_point(making *m, double tvd_m, dt_side side)
{
    const dt_well *well = m->well;
    const dt_fracture_source *from = &well->fracture_from;
    double pore = dt_curve_emw(&well->pore, tvd_m, side),
           factor = test_factor(from, m->factors, tvd_m);
    bool points = from->method == DT_FRACTURE_POINTS;
    double k = points ? NAN : factor * method_ratio(from, tvd_m);
    double emw = pore + factor * (untested(well, tvd_m, side) - pore);
    if (m->count > 0 && m->points[m->count - 1].tvd_m == tvd_m &&
        m->points[m->count - 1].emw_kgm3 == emw)
        return;
    m->ratio[m->count] = k;
    m->points[m->count++] = (dt_curve_point){.tvd_m = tvd_m,
                                             .emw_kgm3 = emw,
                                             .sd_kgm3 = from->sd_kgm3,
                                             .low_kgm3 = NAN,
                                             .high_kgm3 = NAN,
                                             .line = from->line};
}

static dt_status compute_points(making *m)
{
    double *depths = NULL;
    size_t count = 0, most = 0;
    dt_status status = shaping_depths(m->well, &depths, &count);
    if (status != DT_OK) return status;
    for (size_t i = 0; i + 1 < count; ++i)
        most += 2 + (size_t)dt_count_up((depths[i + 1] - depths[i]) / LONGEST_STEP_M);
    m->points = calloc(most + 2, sizeof *m->points);
    m->ratio = calloc(most + 2, sizeof *m->ratio);
    if (!m->points || !m->ratio) status = DT_E_MEMORY;
    for (size_t i = 0; status == DT_OK && i < count; ++i) {
        if (depths[i] > 0) add_point(m, depths[i], DT_ABOVE);
        if (i + 1 == count) break;
        add_point(m, depths[i], DT_BELOW);
        double steps = dt_count_up((depths[i + 1] - depths[i]) / LONGEST_STEP_M);
        for (double s = 1; s < steps; ++s)
            add_point(m, depths[i] + s * (depths[i + 1] - depths[i]) / steps, DT_BELOW);
    }
    free(depths);
    return status;
}

/** Given points stay the points; only what a test says of them is applied. */
static void calibrate_points(dt_well *well, const double *factors)
{
    dt_curve *curve = &well->fracture;
    for (size_t i = 0; i < curve->count; ++i) {
        dt_curve_point *p = &curve->points[i];
        bool upper_of_step = i + 1 < curve->count && curve->points[i + 1].tvd_m == p->tvd_m;
        double depth = fmax(p->tvd_m, 1e-3);
        double pore = dt_curve_emw(&well->pore, depth, upper_of_step ? DT_ABOVE : DT_BELOW);
        double factor = test_factor(&well->fracture_from, factors, depth);
        p->emw_kgm3 = pore + factor * (p->emw_kgm3 - pore);
        p->low_kgm3 = pore + factor * (p->low_kgm3 - pore);
        p->high_kgm3 = pore + factor * (p->high_kgm3 - pore);
    }
}

dt_status dt_fracture_settle(dt_well *well)
{
    dt_fracture_source *from = &well->fracture_from;
    bool points = from->method == DT_FRACTURE_POINTS;
    if (points && from->test_count == 0) return DT_OK;
    if (well->pore.count == 0 || (!points && well->overburden.count == 0)) return DT_E_DOMAIN;
    if (!points && !isfinite(method_ratio(from, well->objective_m))) return DT_E_DOMAIN;
    double *factors = calloc(from->test_count + 1, sizeof *factors);
    if (!factors) return DT_E_MEMORY;
    making m = {.well = well, .factors = factors};
    dt_status status = factors_of_tests(well, factors) ? DT_OK : DT_E_DOMAIN;
    if (status == DT_OK && points) calibrate_points(well, factors);
    if (status == DT_OK && !points) status = compute_points(&m);
    free(factors);
    if (status != DT_OK || points) {
        free(m.points);
        free(m.ratio);
        return status;
    }
    free(well->fracture.points);
    free(from->point_ratio);
    well->fracture.points = m.points;
    well->fracture.count = m.count;
    well->fracture.between = DT_BETWEEN_GRADIENT;
    from->point_ratio = m.ratio;
    return DT_OK;
}

void dt_fracture_follow(const dt_well *well, dt_curve *fracture)
{
    const double *ratio = well->fracture_from.point_ratio;
    if (!ratio) return;
    for (size_t i = 0; i < fracture->count; ++i) {
        dt_curve_point *p = &fracture->points[i];
        bool upper_of_step = i + 1 < fracture->count && p[1].tvd_m == p->tvd_m;
        dt_side side = upper_of_step ? DT_ABOVE : DT_BELOW;
        p->emw_kgm3 = dt_fracture_from_ratio(dt_curve_emw(&well->overburden, p->tvd_m, side),
                                             dt_curve_emw(&well->pore, p->tvd_m, side), ratio[i]);
    }
}
