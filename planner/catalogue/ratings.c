/* SPDX-License-Identifier: MIT */
#include "ratings.h"

#include <math.h>

#include "numbers.h"
#include "rows.h"
#include "same.h"
#include "units.h"

/*
 * The formulas are empirical in psi and in., so each public function converts at its edges
 * and the formulas keep the letters of their source (docs/strength.md).
 */

/* In the tables, D/t has two decimals, and areas and d1 three. */
typedef enum rounding { EXACT, AS_PRINTED } rounding;

/* Half goes up, also a half that the way through SI has taken the last bit off. */
static double rounded(double value, double step)
{
    return dt_nearest(value / step) * step;
}

static double to_decimals(double value, double per_unit, rounding how)
{
    return how == AS_PRINTED ? dt_nearest(value * per_unit) / per_unit : value;
}

const char *dt_regime_text(dt_regime regime)
{
    static const char *const texts[] = {
#define DT_REGIME_WORDS(name, text) text,
        DT_REGIME_LIST(DT_REGIME_WORDS)
#undef DT_REGIME_WORDS
    };
    return regime < DT_REGIME_COUNT ? texts[regime] : "";
}

static bool is_stress(double pa)
{
    return isfinite(pa) && pa > 0;
}

/*
 * Collapse, psi; s = D/t, Yp in psi. API Bull 5C3, 6th ed. (1994), section 2; the same as
 * ISO/TR 10400:2007, clause 8. Factors are not rounded.
 */
static double collapse_psi(double s, double Yp, dt_regime *regime)
{
    const double A = 2.8762 + 0.10679e-5 * Yp + 0.21301e-10 * Yp * Yp - 0.53132e-16 * Yp * Yp * Yp;
    const double B = 0.026233 + 0.50609e-6 * Yp;
    const double C = -465.93 + 0.030867 * Yp - 0.10483e-7 * Yp * Yp + 0.36989e-13 * Yp * Yp * Yp;
    const double r = B / A, k = 3 * r / (2 + r);
    const double F = 46.95e6 * k * k * k / (Yp * (k - r) * (1 - k) * (1 - k));
    const double G = F * r;
    const double s1 = (sqrt((A - 2) * (A - 2) + 8 * (B + C / Yp)) + (A - 2)) / (2 * (B + C / Yp));
    const double s2 = Yp * (A - F) / (C + Yp * (B - G));
    const double s3 = (2 + r) / (3 * r);
    if (s <= s1) {
        *regime = DT_REGIME_YIELD;
        return 2 * Yp * (s - 1) / (s * s);
    }
    if (s <= s2) {
        *regime = DT_REGIME_PLASTIC;
        return Yp * (A / s - B) - C;
    }
    if (s <= s3) {
        *regime = DT_REGIME_TRANSITION;
        return Yp * (F / s - G);
    }
    *regime = DT_REGIME_ELASTIC;
    return 46.95e6 / (s * (s - 1) * (s - 1));
}

/* Outside these the limits between the regimes lose their order (tried: it starts at 15,500 psi
 * below), and far above the polynomials bend down again. */
static const double least_collapse_yield_psi = 20e3, most_collapse_yield_psi = 160e3;

dt_status dt_collapse(double od_m, double wall_m, double yield_pa, double *collapse_pa,
                      dt_regime *regime)
{
    const double Yp = yield_pa / DT_PA_PER_PSI;
    if (!is_pipe(od_m, wall_m)) return DT_E_DOMAIN;
    if (!(Yp >= least_collapse_yield_psi && Yp <= most_collapse_yield_psi)) return DT_E_DOMAIN;
    dt_regime which;
    *collapse_pa = collapse_psi(od_m / wall_m, Yp, &which) * DT_PA_PER_PSI;
    if (regime) *regime = which;
    return DT_OK;
}

dt_status dt_reduced_yield(double yield_pa, double axial_stress_pa, double *reduced_pa)
{
    if (!is_stress(yield_pa) || !isfinite(axial_stress_pa)) return DT_E_DOMAIN;
    /* API Bull 5C3 (1994), 2.1.5; ISO/TR 10400:2007, eq. 42. Compression is not credited. */
    const double x = fmax(axial_stress_pa, 0) / yield_pa;
    if (x > 1) return DT_E_DOMAIN;
    *reduced_pa = (sqrt(1 - 0.75 * x * x) - 0.5 * x) * yield_pa;
    return DT_OK;
}

dt_status dt_collapse_axial(double od_m, double wall_m, double yield_pa, double axial_stress_pa,
                            double *collapse_pa, dt_regime *regime)
{
    double reduced_pa;
    dt_status status = dt_reduced_yield(yield_pa, axial_stress_pa, &reduced_pa);
    if (status != DT_OK) return status;
    return dt_collapse(od_m, wall_m, reduced_pa, collapse_pa, regime);
}

dt_status dt_internal_yield(double od_m, double wall_m, double yield_pa, double wall_fraction,
                            double *pressure_pa)
{
    if (!is_pipe(od_m, wall_m) || !is_stress(yield_pa)) return DT_E_DOMAIN;
    if (!(wall_fraction > 0 && wall_fraction <= 1)) return DT_E_DOMAIN;
    *pressure_pa = wall_fraction * 2 * yield_pa * wall_m / od_m; /* API Bull 5C3, 3.1.1 */
    return DT_OK;
}

dt_status dt_body_yield(double od_m, double wall_m, double yield_pa, double *force_n)
{
    if (!is_pipe(od_m, wall_m) || !is_stress(yield_pa)) return DT_E_DOMAIN;
    *force_n = yield_pa * PI * (od_m - wall_m) * wall_m;
    return DT_OK;
}

/* A pipe with one of the threads, in the letters and units of API Bull 5C3, section 9. */
typedef struct joint {
    double D, d, Yp, Up, Ap, Ajp;
    double W;  /* coupling OD */
    double d1; /* root diameter of the coupling's thread at the end of the pipe, powertight */
    double L4, E1;
    rounding how;
} joint;

static double ring_in2(double outer, double inner, rounding how)
{
    return to_decimals(PI / 4 * (outer * outer - inner * inner), 1000, how);
}

/* Small pipe differs from large in several thread constants; there is none between 7 and 7-5/8. */
static bool is_small(double D)
{
    return D < 7.3;
}

static double round_d1(const joint *j)
{
    const double H = 0.10825, Srn = 0.014;
    const double A = is_small(j->D) ? 0.375 : 0.4375;
    const double L1 = j->L4 - (is_small(j->D) ? 1.079 : 1.146);
    return to_decimals(j->E1 - (L1 + A) / 16 + H - 2 * Srn, 1000, j->how);
}

static double buttress_d1(const joint *j, double E7, double L7)
{
    const bool coarse_taper = j->D > 15; /* from 16 in. on */
    const double T = coarse_taper ? 0.0833 : 0.0625;
    const double I = coarse_taper ? 0.375 : j->D < 4.75 ? 0.400 : 0.500;
    return to_decimals(E7 - (L7 + I) * T + 0.062, 1000, j->how);
}

/* L4 in., NAN when this thread is not made on this pipe. */
static double round_thread_length(const dt_thread_row *row, const dt_pipe *pipe, dt_thread thread)
{
    double length_m = thread == DT_LTC ? row->ltc_length_m : row->stc_length_m;
    if (thread == DT_STC && pipe->weight_kgm <= row->light_weight_kgm + SAME_WEIGHT_KGM)
        length_m = row->light_stc_length_m;
    return length_m / DT_M_PER_IN;
}

static dt_status make_joint(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                            rounding how, joint *out)
{
    if (!is_pipe(pipe->od_m, pipe->wall_m)) return DT_E_DOMAIN;
    const dt_thread_row *row = dt_thread_row_find(catalogue, pipe->od_m);
    if (!row || thread >= DT_PLAIN_END) return DT_E_DOMAIN;
    joint j = {.D = pipe->od_m / DT_M_PER_IN,
               .d = (pipe->od_m - 2 * pipe->wall_m) / DT_M_PER_IN,
               .Yp = pipe->grade->yield_pa / DT_PA_PER_PSI,
               .Up = pipe->grade->tensile_pa / DT_PA_PER_PSI,
               .E1 = row->e1_m / DT_M_PER_IN,
               .how = how};
    const bool own = pipe->coupling_od_m > pipe->od_m; /* false for NAN too */
    j.W = (own ? pipe->coupling_od_m : row->coupling_od_m) / DT_M_PER_IN;
    j.Ap = ring_in2(j.D, j.d, how);
    j.Ajp = ring_in2(j.D - 0.1425, j.d, how);
    if (thread == DT_BTC) {
        j.d1 = buttress_d1(&j, row->e7_m / DT_M_PER_IN, row->l7_m / DT_M_PER_IN);
    } else {
        j.L4 = round_thread_length(row, pipe, thread);
        j.d1 = round_d1(&j);
    }
    if (!(j.d1 > 0 && j.d1 < j.W)) return DT_E_DOMAIN; /* also where a length is NAN */
    *out = j;
    return DT_OK;
}

/* lbf; API Bull 5C3 (1994), section 9, round threads: fracture, jump-out, coupling. */
static double round_strength_lbf(const joint *j)
{
    const double M = is_small(j->D) ? 0.704 : 0.709;
    const double L = j->L4 - M;
    const double fracture = 0.95 * j->Ajp * j->Up;
    const double jump_out =
        0.95 * j->Ajp * L *
        (0.74 * pow(j->D, -0.59) * j->Up / (0.5 * L + 0.14 * j->D) + j->Yp / (L + 0.14 * j->D));
    const double coupling = 0.95 * ring_in2(j->W, j->d1, j->how) * j->Up;
    return fmin(fmin(fracture, jump_out), coupling);
}

/* lbf; API Bull 5C3 (1994), section 9, buttress: pipe, coupling of the pipe's own grade. */
static double buttress_strength_lbf(const joint *j)
{
    const double pipe = 0.95 * j->Ap * j->Up * (1.008 - 0.0396 * (1.083 - j->Yp / j->Up) * j->D);
    const double coupling = 0.95 * ring_in2(j->W, j->d1, j->how) * j->Up;
    return fmin(pipe, coupling);
}

static dt_status joint_strength_lbf(const dt_catalogue *catalogue, const dt_pipe *pipe,
                                    dt_thread thread, rounding how, double *force_lbf)
{
    joint j;
    dt_status status = make_joint(catalogue, pipe, thread, how, &j);
    if (status != DT_OK) return status;
    *force_lbf = thread == DT_BTC ? buttress_strength_lbf(&j) : round_strength_lbf(&j);
    return DT_OK;
}

/** Joint strength of a connection that no formula gives: as stated, or a part of the body's. */
static dt_status other_joint_n(const dt_pipe *pipe, dt_thread thread, double *force_n)
{
    dt_status status = dt_body_yield(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa, force_n);
    if (status != DT_OK) return status;
    if (thread == DT_STATED && !isnan(pipe->stated_joint_n)) *force_n = pipe->stated_joint_n;
    if (thread >= DT_FLUSH && thread < DT_STATED)
        *force_n *= dt_raw_connections[thread - DT_FLUSH].tension;
    return DT_OK;
}

/** The same for internal pressure. */
static dt_status other_burst_pa(const dt_pipe *pipe, dt_thread thread, double *pressure_pa)
{
    dt_status status =
        dt_internal_yield(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa, 0.875, pressure_pa);
    if (status != DT_OK) return status;
    if (thread == DT_STATED && !isnan(pipe->stated_burst_pa)) *pressure_pa = pipe->stated_burst_pa;
    if (thread < DT_STATED) *pressure_pa *= dt_raw_connections[thread - DT_FLUSH].burst;
    return DT_OK;
}

double dt_collapse_part(const dt_pipe *pipe, dt_thread thread)
{
    double unloaded_pa;
    if (thread >= DT_FLUSH && thread < DT_STATED)
        return dt_raw_connections[thread - DT_FLUSH].collapse;
    if (thread != DT_STATED || isnan(pipe->stated_collapse_pa)) return 1;
    if (dt_collapse(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa, &unloaded_pa, NULL) != DT_OK)
        return 1;
    return pipe->stated_collapse_pa / unloaded_pa;
}

dt_status dt_joint_strength(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                            double *force_n)
{
    if (thread >= DT_PLAIN_END && thread < DT_THREAD_COUNT)
        return other_joint_n(pipe, thread, force_n);
    double force_lbf;
    dt_status status = joint_strength_lbf(catalogue, pipe, thread, EXACT, &force_lbf);
    if (status == DT_OK) *force_n = force_lbf * DT_N_PER_LBF;
    return status;
}

/* psi; API Bull 5C3, 3.1.2: yield of the coupling. */
static double coupling_yield_psi(const joint *j)
{
    return j->Yp * (j->W - j->d1) / j->W;
}

/* psi; API Bull 5C3, 3.1.3: leak at the hand-tight plane; modulus, taper, pitch, make-up turns. */
static double round_leak_psi(const joint *j)
{
    const double E = 30e6, T = 0.0625, p = 0.125, N = is_small(j->D) ? 3 : 3.5, Es = j->E1;
    return E * T * N * p * (j->W * j->W - Es * Es) / (2 * Es * j->W * j->W);
}

dt_status dt_coupling_internal_yield(const dt_catalogue *catalogue, const dt_pipe *pipe,
                                     dt_thread thread, double *pressure_pa)
{
    joint j;
    if (thread >= DT_FLUSH && thread < DT_THREAD_COUNT)
        return other_burst_pa(pipe, thread, pressure_pa);
    dt_status status = make_joint(catalogue, pipe, thread, EXACT, &j);
    if (status != DT_OK) return status;
    double P = coupling_yield_psi(&j);
    if (thread != DT_BTC) P = fmin(P, round_leak_psi(&j));
    *pressure_pa = P * DT_PA_PER_PSI;
    return DT_OK;
}

static dt_status rate_joints(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_rating *out)
{
    for (int thread = 0; thread < DT_THREAD_COUNT; ++thread) {
        double printed_lbf;
        out->joint_n[thread] = out->printed_joint_klbf[thread] = NAN;
        out->coupling_yield_pa[thread] = out->leak_pa[thread] = NAN;
        if (!(pipe->threads & 1u << thread)) continue;
        dt_status status =
            dt_joint_strength(catalogue, pipe, (dt_thread)thread, &out->joint_n[thread]);
        if (status != DT_OK) return status;
        if (thread >= DT_FLUSH) {
            out->printed_joint_klbf[thread] =
                rounded(out->joint_n[thread] / DT_N_PER_LBF, 1000) / 1000;
            status = other_burst_pa(pipe, (dt_thread)thread, &out->coupling_yield_pa[thread]);
            if (status != DT_OK) return status;
            continue;
        }
        if (thread == DT_PLAIN_END) {
            out->printed_joint_klbf[thread] = out->printed_body_yield_klbf;
            continue;
        }
        status = joint_strength_lbf(catalogue, pipe, (dt_thread)thread, AS_PRINTED, &printed_lbf);
        if (status != DT_OK) return status;
        out->printed_joint_klbf[thread] = rounded(printed_lbf, 1000) / 1000;
        joint j;
        status = make_joint(catalogue, pipe, (dt_thread)thread, EXACT, &j);
        if (status != DT_OK) return status;
        out->coupling_yield_pa[thread] = coupling_yield_psi(&j) * DT_PA_PER_PSI;
        if (thread != DT_BTC) out->leak_pa[thread] = round_leak_psi(&j) * DT_PA_PER_PSI;
    }
    return DT_OK;
}

dt_status dt_rate(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_rating *out)
{
    const double Yp_pa = pipe->grade->yield_pa, Yp = Yp_pa / DT_PA_PER_PSI;
    const double D = pipe->od_m / DT_M_PER_IN, t = pipe->wall_m / DT_M_PER_IN;
    dt_rating r;
    dt_regime unused;
    dt_status status = dt_collapse(pipe->od_m, pipe->wall_m, Yp_pa, &r.collapse_pa, &r.regime);
    if (status != DT_OK) return status;
    status = dt_internal_yield(pipe->od_m, pipe->wall_m, Yp_pa, 0.875, &r.internal_yield_pa);
    if (status != DT_OK) return status;
    status = dt_body_yield(pipe->od_m, pipe->wall_m, Yp_pa, &r.body_yield_n);
    if (status != DT_OK) return status;
    r.printed_collapse_psi =
        rounded(collapse_psi(to_decimals(D / t, 100, AS_PRINTED), Yp, &unused), 10);
    r.printed_internal_yield_psi = rounded(r.internal_yield_pa / DT_PA_PER_PSI, 10);
    r.printed_body_yield_klbf = rounded(Yp * ring_in2(D, D - 2 * t, AS_PRINTED), 1000) / 1000;
    if (dt_ductile_rupture(pipe->od_m, pipe->wall_m, Yp_pa, pipe->grade->tensile_pa, 0.875,
                           0.05 * pipe->wall_m, 1, &r.rupture_pa) != DT_OK)
        r.rupture_pa = NAN; /* tensile strength not known */
    if (status == DT_OK) status = rate_joints(catalogue, pipe, &r);
    if (status == DT_OK) *out = r;
    return status;
}
