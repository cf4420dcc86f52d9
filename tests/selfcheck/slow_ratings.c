/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "slow.h"

/* Ratings by API Bull 5C3 (1994) and ISO/TR 10400:2007 as docs/strength.md writes them, and which
 * pipes of the catalogue's files a string may be made of. */

/* ---- ratings --------------------------------------------------------------------------------- */

double slow_collapse_pa(double D, double t, double yield_psi, double stress_psi)
{
    double x = fmax(stress_psi, 0) / yield_psi;
    if (x > 1) return 0;
    double Y = yield_psi * (sqrt(1 - 0.75 * x * x) - 0.5 * x), s = D / t;
    if (Y < 20000) return 0; /* below this the regimes lose their order: counts as none */
    double A = 2.8762 + Y * (0.10679e-5 + Y * (0.21301e-10 - Y * 0.53132e-16));
    double B = 0.026233 + 0.50609e-6 * Y;
    double C = -465.93 + Y * (0.030867 + Y * (-0.10483e-7 + Y * 0.36989e-13));
    double r = B / A, k = 3 * r / (2 + r);
    double F = 46.95e6 * k * k * k / (Y * (k - r) * pow(1 - k, 2)), G = F * r;
    double yield_to = (sqrt(pow(A - 2, 2) + 8 * (B + C / Y)) + (A - 2)) / (2 * (B + C / Y));
    double plastic_to = Y * (A - F) / (C + Y * (B - G)), transition_to = (2 + r) / (3 * r);
    double psi = s <= yield_to        ? 2 * Y * (s - 1) / (s * s)
                 : s <= plastic_to    ? Y * (A / s - B) - C
                 : s <= transition_to ? Y * (F / s - G)
                                      : 46.95e6 / (s * pow(s - 1, 2));
    return psi * SLOW_PSI;
}

static const row_thread *thread_row(const rows *r, double D)
{
    for (size_t i = 0; i < r->thread_count; ++i)
        if (fabs(r->threads[i].od - D) < 0.0005) return &r->threads[i];
    return NULL;
}

/** Coupling: pressure at which it yields or leaks, and the pull of the joint, psi and lbf. */
static bool joint_of(const row_thread *row, const row_pipe *pipe, const row_grade *grade,
                     dt_thread thread, double *burst_psi, double *pull_lbf)
{
    double D = pipe->od, d = D - 2 * pipe->wall, Up = grade->tensile_psi, Yp = grade->yield_psi;
    double W = pipe->coupling > D ? pipe->coupling : row->coupling, quarter = SLOW_PI / 4;
    bool small = D <= 7.0;
    if (thread == DT_BTC) {
        double T = D >= 16 ? 0.0833 : 0.0625, I = D >= 16 ? 0.375 : D == 4.5 ? 0.4 : 0.5;
        double d1 = row->e7 - (row->l7 + I) * T + 0.062, Ap = quarter * (D * D - d * d);
        double in_pipe = 0.95 * Ap * Up * (1.008 - 0.0396 * (1.083 - Yp / Up) * D);
        *pull_lbf = fmin(in_pipe, 0.95 * quarter * (W * W - d1 * d1) * Up);
        *burst_psi = Yp * (W - d1) / W;
        return d1 > 0 && d1 < W;
    }
    double L4 = thread == DT_LTC             ? row->ltc
                : pipe->weight <= row->light ? row->light_stc
                                             : row->stc;
    double L = L4 - (small ? 0.704 : 0.709), L1 = L4 - (small ? 1.079 : 1.146);
    double d1 = row->e1 - (L1 + (small ? 0.375 : 0.4375)) / 16 + 0.10825 - 0.028;
    double Ajp = quarter * (pow(D - 0.1425, 2) - d * d), N = small ? 3 : 3.5;
    double jump =
        0.95 * Ajp * L * (0.74 * pow(D, -0.59) * Up / (0.5 * L + 0.14 * D) + Yp / (L + 0.14 * D));
    *pull_lbf = fmin(fmin(0.95 * Ajp * Up, jump), 0.95 * quarter * (W * W - d1 * d1) * Up);
    double leak = 30e6 * 0.0625 * N * 0.125 * (W * W - row->e1 * row->e1) / (2 * row->e1 * W * W);
    *burst_psi = fmin(Yp * (W - d1) / W, leak);
    return L4 > 0 && d1 > 0 && d1 < W;
}

bool strength_of(const rows *r, const claimed_pipe *pipe, double wear_m, strength *out)
{
    const row_pipe *row = rows_pipe(r, pipe);
    const row_grade *grade = rows_grade(r, pipe->grade);
    if (!row || !grade) return false;
    strength s = {.D = row->od, .t = row->wall - wear_m / SLOW_IN, .yield_psi = grade->yield_psi};
    double id = s.D - 2 * s.t, area = SLOW_PI / 4 * (s.D * s.D - id * id);
    s.outer_m2 = SLOW_PI / 4 * s.D * s.D * SLOW_IN * SLOW_IN;
    s.inner_m2 = SLOW_PI / 4 * id * id * SLOW_IN * SLOW_IN;
    s.area_m2 = s.outer_m2 - s.inner_m2;
    s.weight_kgm = row->weight * SLOW_LB / SLOW_FT;
    double burst = 0.875 * 2 * s.yield_psi * s.t / s.D, pull = s.yield_psi * area;
    if (pipe->thread != DT_PLAIN_END) {
        const row_thread *threads = thread_row(r, row->od);
        double coupling, joint;
        if (!threads || !joint_of(threads, row, grade, pipe->thread, &coupling, &joint))
            return false;
        burst = fmin(burst, coupling);
        pull = fmin(pull, joint);
    }
    s.burst_pa = burst * SLOW_PSI;
    s.joint_n = pull * SLOW_LBF;
    *out = s;
    return s.t > 0;
}

/* ---- which pipes there are ------------------------------------------------------------------- */

static bool sour_ok(const char *grade)
{
    static const char *const fit[] = {"B",   "X42", "X46", "X52", "H40",
                                      "J55", "K55", "L80", "C90", "T95"};
    for (size_t i = 0; i < sizeof fit / sizeof *fit; ++i)
        if (strcmp(fit[i], grade) == 0) return true;
    return false;
}

/** May this row, grade and thread be run as this string, in this size? */
bool slow_may_run(const context *c, size_t i, const row_pipe *row, const char *grade,
                  dt_thread thread)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_pin *pin = s->seat.pin < c->well->pin_count ? &c->well->pins[s->seat.pin] : NULL;
    static const char *const threads[] = {"STC", "LTC", "BTC", "PE"};
    bool plain = strcmp(row->threads, "PE") == 0;
    if (fabs(row->od - s->od_m / SLOW_IN) > 0.0005) return false;
    if (fabs((isnan(row->coupling) ? row->od : row->coupling) - s->largest_od_m / SLOW_IN) > 0.0005)
        return false;
    if (!rows_has_grade(row, grade) || !rows_has_thread(row, grade, thread)) return false;
    if (thread == DT_PLAIN_END && !(i == 0 && plain)) return false;
    if (c->well->design.given && c->well->design.sour && !(pin && pin->grade) && !sour_ok(grade))
        return false;
    if (!pin) return true;
    if (pin->grade && strcmp(pin->grade, grade) != 0) return false;
    if (pin->thread && strcmp(pin->thread, threads[thread]) != 0) return false;
    return isnan(pin->weight_kgm) ||
           fabs(pin->weight_kgm / SLOW_LB * SLOW_FT - row->weight) < 0.005;
}

double slow_smallest_bore(const context *c, size_t i)
{
    double least = INFINITY;
    for (size_t k = 0; k < c->rows->pipe_count; ++k)
        for (size_t g = 0; g < c->rows->grade_count; ++g)
            for (int t = 0; t < 4; ++t) {
                const row_pipe *row = &c->rows->pipes[k];
                if (slow_may_run(c, i, row, c->rows->grades[g].name, (dt_thread)t))
                    least = fmin(least, (row->od - 2 * row->wall) * SLOW_IN);
            }
    return least;
}

double slow_drift(const dt_well *w, const row_pipe *p)
{
    return w->sizes.special_drift && p->special > p->drift ? p->special : p->drift;
}
