/* SPDX-License-Identifier: MIT */
#include "ratings.h"

#include <math.h>

#include "numbers.h"
#include "same.h"
#include "units.h"

/* A pipe with several loads at once: collapse with tension and internal pressure, ductile
 * rupture, bending, and the triaxial stress of a thick wall (docs/strength.md). */

static const double modulus_pa = 30e6 * DT_PA_PER_PSI; /* as in the published formulas */

double dt_steel_modulus_pa(void)
{
    return modulus_pa;
}

static const struct {
    const char *code, *words;
} method_texts[] = {
#define DT_METHOD_ROW(name, code, words) {code, words},
    DT_COLLAPSE_METHOD_LIST(DT_METHOD_ROW)
#undef DT_METHOD_ROW
};

const char *dt_collapse_method_code(dt_collapse_method method)
{
    return method < DT_COLLAPSE_METHOD_COUNT ? method_texts[method].code : "";
}

const char *dt_collapse_method_words(dt_collapse_method method)
{
    return method < DT_COLLAPSE_METHOD_COUNT ? method_texts[method].words : "";
}

const char *dt_wall_point_words(dt_wall_point point)
{
    static const char *const texts[] = {
#define DT_POINT_WORDS(name, words) words,
        DT_WALL_POINT_LIST(DT_POINT_WORDS)
#undef DT_POINT_WORDS
    };
    return point < DT_WALL_POINT_COUNT ? texts[point] : "";
}

dt_status dt_collapse_loaded(dt_collapse_method method, double od_m, double wall_m, double yield_pa,
                             double axial_stress_pa, double inside_pa, double *outside_pa,
                             dt_regime *regime)
{
    if (!isfinite(inside_pa) || !isfinite(axial_stress_pa)) return DT_E_DOMAIN;
    double collapse_pa;
    if (method == DT_COLLAPSE_COMBINED) {
        /* API TR 5C3, addendum of October 2015, 8.4.6 (from memory): the equivalent grade of
         * x = (Sa + pi)/Yp gives a differential pressure. */
        dt_status status = dt_collapse_axial(
            od_m, wall_m, yield_pa, fmax(axial_stress_pa + inside_pa, 0), &collapse_pa, regime);
        if (status == DT_OK) *outside_pa = collapse_pa + inside_pa;
        return status;
    }
    dt_status status =
        dt_collapse_axial(od_m, wall_m, yield_pa, axial_stress_pa, &collapse_pa, regime);
    /* API Bull 5C3 (1994), 2.1.6 (from memory): equivalent external pressure
     * po - (1 - 2 t/D) pi */
    if (status == DT_OK) *outside_pa = collapse_pa + (1 - 2 * wall_m / od_m) * inside_pa;
    return status;
}

dt_status dt_ductile_rupture(double od_m, double wall_m, double yield_pa, double tensile_pa,
                             double wall_fraction, double flaw_m, double flaw_factor,
                             double *pressure_pa)
{
    if (!is_pipe(od_m, wall_m) || !(yield_pa > 0) || !(tensile_pa > 0)) return DT_E_DOMAIN;
    if (!(wall_fraction > 0 && wall_fraction <= 1) || !(flaw_m >= 0) || !(flaw_factor >= 1))
        return DT_E_DOMAIN;
    /* ISO/TR 10400:2007, ductile rupture, after Klever and Stewart, SPE 48330 (from memory) */
    const double n = 0.1693 - 0.000812 * (yield_pa / DT_PA_PER_PSI / 1000);
    const double k = pow(0.5, n + 1) + pow(1 / sqrt(3), n + 1);
    const double t = wall_fraction * wall_m - flaw_factor * flaw_m;
    if (!(t > 0) || !isfinite(k)) return DT_E_DOMAIN;
    *pressure_pa = 2 * k * tensile_pa * t / (od_m - t);
    return DT_OK;
}

double dt_bending_stress(double od_m, double curvature_radm)
{
    return modulus_pa * od_m / 2 * fabs(curvature_radm); /* beam theory */
}

/* Thick-wall stresses after Lame: radial K - M, hoop K + M, M at the inner and the outer wall. */
typedef struct wall {
    double area_m2, K, M[2];
    double bending_pa[2];
} wall;

static dt_status make_wall(double od_m, double wall_m, const dt_pipe_load *load, wall *out)
{
    if (!is_pipe(od_m, wall_m) || !isfinite(load->inside_pa) || !isfinite(load->outside_pa))
        return DT_E_DOMAIN;
    const double ro = od_m / 2, ri = ro - wall_m, ring = ro * ro - ri * ri;
    const double net = load->inside_pa - load->outside_pa;
    const double bending_pa = dt_bending_stress(od_m, load->curvature_radm);
    if (!isfinite(bending_pa)) return DT_E_DOMAIN;
    *out = (wall){.area_m2 = PI * ring,
                  .K = (load->inside_pa * ri * ri - load->outside_pa * ro * ro) / ring,
                  .M = {net * ro * ro / ring, net * ri * ri / ring},
                  .bending_pa = {bending_pa * ri / ro, bending_pa}};
    return DT_OK;
}

dt_status dt_triaxial(double od_m, double wall_m, const dt_pipe_load *load, double *stress_pa,
                      dt_wall_point *point)
{
    wall w;
    dt_status status = make_wall(od_m, wall_m, load, &w);
    if (status != DT_OK) return status;
    if (!isfinite(load->axial_n)) return DT_E_DOMAIN;
    static const dt_wall_point points[2][3] = {
        {DT_WALL_INSIDE, DT_WALL_INSIDE_TENSION, DT_WALL_INSIDE_COMPRESSION},
        {DT_WALL_OUTSIDE, DT_WALL_OUTSIDE_TENSION, DT_WALL_OUTSIDE_COMPRESSION}};
    double most = -1;
    dt_wall_point where = DT_WALL_INSIDE;
    for (int side = 0; side < 2; ++side)
        for (int bend = -1; bend <= 1; bend += 2) {
            const double Sz = load->axial_n / w.area_m2 + bend * w.bending_pa[side];
            /* von Mises with Sr = K - M, St = K + M */
            const double vme = sqrt((Sz - w.K) * (Sz - w.K) + 3 * w.M[side] * w.M[side]);
            if (!(vme > most)) continue;
            most = vme;
            where = points[side][w.bending_pa[1] > 0 ? (bend > 0 ? 1 : 2) : 0];
        }
    *stress_pa = most;
    if (point) *point = where;
    return DT_OK;
}

dt_wall_shape dt_wall_shape_of(double od_m, double wall_m)
{
    const double ro = od_m / 2, ri = ro - wall_m, ring = ro * ro - ri * ri;
    return (dt_wall_shape){.od_m = od_m,
                           .area_m2 = PI * ring,
                           .inner_part = ri * ri / ring,
                           .outer_part = ro * ro / ring,
                           .inner_bend = ri / ro};
}

/** Square of the stress at the two walls, the larger; bend_pa: at the outer wall. */
static inline double square_of(const dt_wall_shape *shape, double axial_pa, double inside_pa,
                               double outside_pa, double bend_pa)
{
    const double net_pa = inside_pa - outside_pa;
    const double K = inside_pa * shape->inner_part - outside_pa * shape->outer_part;
    const double off_pa = fabs(axial_pa - K);
    const double inner_pa = off_pa + bend_pa * shape->inner_bend, outer_pa = off_pa + bend_pa;
    const double inner_M = net_pa * shape->outer_part, outer_M = net_pa * shape->inner_part;
    const double inner = inner_pa * inner_pa + 3 * inner_M * inner_M;
    const double outer = outer_pa * outer_pa + 3 * outer_M * outer_M;
    return inner > outer ? inner : outer;
}

dt_triaxial_side dt_triaxial_look(const dt_wall_shape *shape, const dt_pipe_load *load,
                                  double limit_pa)
{
    const double square =
        square_of(shape, load->axial_n / shape->area_m2, load->inside_pa, load->outside_pa,
                  dt_bending_stress(shape->od_m, load->curvature_radm));
    const double under_pa = limit_pa * (1 - BOUND_SLACK), over_pa = limit_pa * (1 + BOUND_SLACK);
    if (square < under_pa * under_pa) return DT_SURELY_UNDER;
    return square > over_pa * over_pa ? DT_SURELY_OVER : DT_NEAR_LIMIT;
}

dt_sides dt_triaxial_look_at_all(const dt_wall_shape *shape, const dt_cuts *cuts, double limit_pa)
{
    const double under_pa = limit_pa * (1 - BOUND_SLACK), over_pa = limit_pa * (1 + BOUND_SLACK);
    const double bend_pam = dt_bending_stress(shape->od_m, 1);
    dt_sides sides = {0, 0};
    for (size_t i = 0; i < cuts->count; ++i) {
        const double square = square_of(shape, cuts->axial_pa[i], cuts->inside_pa[i],
                                        cuts->outside_pa[i], bend_pam * cuts->curvature_radm[i]);
        const double part = cuts->limit_part[i] * cuts->limit_part[i];
        sides.under += square < under_pa * under_pa * part;
        sides.over += square > over_pa * over_pa * part;
    }
    return sides;
}

dt_status dt_triaxial_range(double od_m, double wall_m, const dt_pipe_load *load, double limit_pa,
                            double *least_n, double *most_n)
{
    wall w;
    dt_status status = make_wall(od_m, wall_m, load, &w);
    if (status != DT_OK) return status;
    if (!(limit_pa > 0)) return DT_E_DOMAIN;
    double reach = INFINITY; /* of the axial stress on both sides of K */
    for (int side = 0; side < 2; ++side) {
        const double square = limit_pa * limit_pa - 3 * w.M[side] * w.M[side];
        reach = fmin(reach, square < 0 ? -INFINITY : sqrt(square) - w.bending_pa[side]);
    }
    *least_n = (w.K - reach) * w.area_m2;
    *most_n = (w.K + reach) * w.area_m2;
    return DT_OK;
}

dt_status dt_rate_loaded(const dt_pipe *pipe, const dt_pipe_load *load, dt_loaded_rating *out)
{
    dt_loaded_rating r = {.load = *load};
    const double yield_pa = pipe->grade->yield_pa;
    double body_n, internal_pa;
    dt_status status = dt_body_yield(pipe->od_m, pipe->wall_m, yield_pa, &body_n);
    if (status == DT_OK)
        status = dt_internal_yield(pipe->od_m, pipe->wall_m, yield_pa, 0.875, &internal_pa);
    if (status == DT_OK)
        status = dt_triaxial(pipe->od_m, pipe->wall_m, load, &r.triaxial_stress_pa, &r.wall_point);
    if (status != DT_OK) return status;
    r.triaxial_factor = r.triaxial_stress_pa > 0 ? yield_pa / r.triaxial_stress_pa : INFINITY;
    r.bending_stress_pa = dt_bending_stress(pipe->od_m, load->curvature_radm);
    const double area_m2 = body_n / yield_pa;
    const double pull_n = load->axial_n + r.bending_stress_pa * area_m2;
    const double net_pa = load->inside_pa - load->outside_pa;
    r.tension_factor = pull_n > 0 ? body_n / pull_n : INFINITY;
    r.burst_factor = net_pa > 0 ? internal_pa / net_pa : INFINITY;
    for (int m = 0; m < DT_COLLAPSE_METHOD_COUNT; ++m) {
        if (dt_collapse_loaded((dt_collapse_method)m, pipe->od_m, pipe->wall_m, yield_pa,
                               load->axial_n / area_m2, load->inside_pa, &r.collapse_outside_pa[m],
                               NULL) != DT_OK)
            r.collapse_outside_pa[m] = NAN; /* tension leaves too little yield strength */
        r.collapse_factor[m] =
            load->outside_pa > 0 ? r.collapse_outside_pa[m] / load->outside_pa : INFINITY;
    }
    *out = r;
    return DT_OK;
}
