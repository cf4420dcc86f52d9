/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../slow_seats.h"
#include "slow.h"

/*
 * Ratings by API Bull 5C3 (1994) and ISO/TR 10400:2007 as docs/strength.md writes them, and the
 * load cases of that page, walked from the shoe up.
 */

/** Depth step, m, besides every depth where something bends. */
#define STEP_M 3.0

/**
 * The planner takes loads as straight between depths at most 100 ft apart (docs/strength.md: for
 * curves that are parabolas "a fraction of a psi"). So much is let pass on a load, Pa and N: one
 * psi, and one psi on the largest bore there is, 36 in, or 1000 lbf.
 */
#define LOAD_PA SLOW_PSI
#define LOAD_N  (1000 * SLOW_LBF)

/** A depth that comes from an MD is this edge or step when it is nearer than that, m. */
#define EDGE_M 1e-5

/**
 * The planner's bounds on the weight that may hang are straight lines over up to 100 ft, on the
 * safe side (docs/strength.md), so it may pass over a pipe that holds by next to nothing. Hanging
 * weight grows by up to 100 ft of pipe there, an axial stress of 340 psi: with it collapse pressure
 * falls by less than 0.4 %, in a line that bows by a quarter of that at most.
 */
#define CHORD_PART 1e-3

#define STEEL_KGM3 7850.0
#define YOUNG_PSI  30e6

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
    double F = 46.95e6 * pow(k, 3) / (Y * (k - r) * pow(1 - k, 2)), G = F * r;
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

/* ---- what loads a string --------------------------------------------------------------------- */

typedef struct loads {
    const dt_well *well;
    dt_role role;
    size_t string;
    double top_tvd, shoe_tvd, top_md, shoe_md, above_tvd;
    double mud, gas, overpull;
    bool runs[DT_LOAD_COUNT], wall; /* wall of the finished well */
    double surface_pa, broken_pa, leak_pa;
    struct {
        double formation_pa, depth, mud;
    } kicks[CLAIM_STRINGS]; /* one a hole drilled below */
    size_t kick_count;
    double annulus_m2;
    double slurry, slurry_top, displacement, bump_pa;
    double test_pa, test_fluid, level, level_mud, wear;
    double burst, collapse, tension, triaxial;
    bool combined;
} loads;

static double column(double density, double from, double to)
{
    return to > from ? density * SLOW_G * (to - from) : 0;
}

/** Pressure of a curve: the smaller or the larger of both sides. */
static double curve_pa(const dt_curve *curve, double z, bool smaller)
{
    if (z <= 0) return 0;
    /* z comes from an MD and may stand a rounding beside a step */
    double a = slow_emw(curve, z - EDGE_M, -1), b = slow_emw(curve, z + EDGE_M, +1);
    return (smaller ? fmin(a, b) : fmax(a, b)) * SLOW_G * z;
}

/** The strongest gas a hole gives at the surface: every metre and every point, both sides. */
static double strongest(const dt_well *w, double gas, double a, double b, double *source)
{
    double most = -INFINITY;
    size_t steps = slow_steps(b - a, 1.0);
    for (size_t i = 0; i <= steps + w->pore.count; ++i) {
        bool point = i > steps;
        double z = point        ? w->pore.points[i - steps - 1].tvd_m
                   : i == steps ? b
                                : a + (b - a) * (double)i / (double)steps;
        if (z < a || z > b) continue;
        for (int side = -1; side <= 1; side += 2) {
            if ((z <= a && side < 0) || (z >= b && side > 0)) continue;
            double pa = (slow_emw(&w->pore, z, side) - gas) * SLOW_G * z;
            if (pa > most) {
                most = pa;
                *source = z;
            }
        }
    }
    return most;
}

static void losses_of(loads *l, double mud, double a, double b)
{
    const dt_well *w = l->well;
    size_t steps = slow_steps(b - a, 1.0);
    for (size_t i = 0; i <= steps + w->pore.count; ++i) {
        bool point = i > steps;
        double z = point        ? w->pore.points[i - steps - 1].tvd_m
                   : i == steps ? b
                                : a + (b - a) * (double)i / (double)steps;
        if (z < a || z > b) continue;
        for (int side = -1; side <= 1; side += 2) {
            if ((z <= a && side < 0) || (z >= b && side > 0)) continue;
            double level = z * (1 - slow_emw(&w->pore, z, side) / mud);
            if (level > l->level) {
                l->level = level;
                l->level_mud = mud;
            }
        }
    }
}

/** Everything that comes up while the holes below are drilled, and from the finished well. */
static void set_kicks(const context *c, loads *l)
{
    const claims *p = c->claims;
    const dt_well *w = c->well;
    size_t n = p->count, last = n - 1;
    double source = 0;
    l->surface_pa = 0;
    l->broken_pa = NAN;
    l->level = 0;
    for (size_t j = l->string + 1; j < n; ++j) {
        double shoe = p->strings[j - 1].seat.shoe_m, base = p->strings[j].seat.shoe_m;
        double by_pore = strongest(w, l->gas, shoe, base, &source);
        double by_rock = (slow_emw(&w->fracture, shoe, +1) - l->gas) * SLOW_G * shoe;
        l->surface_pa = fmax(l->surface_pa, fmin(by_pore, by_rock));
        l->broken_pa = isnan(l->broken_pa) ? by_rock : fmax(l->broken_pa, by_rock);
        size_t k = l->kick_count++;
        l->kicks[k].formation_pa = by_pore + l->gas * SLOW_G * source;
        l->kicks[k].depth = source;
        l->kicks[k].mud = p->strings[j].seat.mud_kgm3;
        if (isnan(l->level_mud)) l->level_mud = p->strings[j].seat.mud_kgm3;
        losses_of(l, p->strings[j].seat.mud_kgm3, shoe, base);
        if (p->strings[j].seat.type == DT_FULL) break;
    }
    l->wall = true;
    for (size_t j = l->string + 1; j < n; ++j)
        if (p->strings[j].seat.type == DT_FULL) l->wall = false;
    if (!l->wall) return;
    double top = last ? p->strings[last - 1].seat.shoe_m : 0;
    l->leak_pa = fmax(strongest(w, l->gas, top, p->strings[last].seat.shoe_m, &source), 0);
    l->surface_pa = fmax(l->surface_pa, l->leak_pa);
}

static void set_slurry(const context *c, loads *l)
{
    const dt_seat *seat = &c->claims->strings[l->string].seat;
    const dt_well *w = c->well;
    const dt_pin *pin = seat->pin < w->pin_count ? &w->pins[seat->pin] : NULL;
    double top = INFINITY, margin = 500 * SLOW_PSI;
    l->slurry = NAN;
    for (size_t i = 0; pin && i < pin->cement_count; ++i) {
        top = fmin(top, slow_or(pin->cement[i].top_m, INFINITY));
        for (size_t k = 0; k < w->slurry_count; ++k)
            if (strcmp(w->slurries[k].name, pin->cement[i].slurry) == 0)
                l->slurry = fmax(l->slurry, w->slurries[k].density_kgm3);
    }
    l->displacement = l->mud;
    if (isnan(l->slurry)) l->slurry = 15.8 * SLOW_PPG;
    if (w->loads.given) {
        bool pinned = false;
        for (size_t i = 0; pin && i < pin->cement_count; ++i)
            for (size_t k = 0; k < w->slurry_count; ++k)
                pinned = pinned || strcmp(w->slurries[k].name, pin->cement[i].slurry) == 0;
        if (!pinned) l->slurry = slow_or(w->loads.cement_kgm3, l->slurry);
        l->displacement = slow_or(w->loads.displacement_kgm3, l->mud);
        margin = slow_or(w->loads.bump_margin_pa, margin);
    }
    l->slurry_top = l->role == DT_SURFACE    ? slow_ground(w)
                    : seat->type == DT_LINER ? l->top_tvd
                                             : l->above_tvd;
    if (top < INFINITY) l->slurry_top = fmin(top, l->shoe_tvd);
    double outside = column(l->mud, 0, fmin(l->slurry_top, l->shoe_tvd)) +
                     column(l->slurry, l->slurry_top, l->shoe_tvd);
    l->bump_pa = fmax(outside - column(l->displacement, 0, l->shoe_tvd), 0) + margin;
}

static bool crosses_salt(const loads *l)
{
    for (size_t i = 0; i < l->well->interval_count; ++i) {
        const dt_interval *v = &l->well->intervals[i];
        if (strcmp(v->kind, "salt") == 0 && v->base_m > l->above_tvd && v->top_m < l->shoe_tvd)
            return true;
    }
    return false;
}

static void choose(loads *l)
{
    const dt_load_wishes *w = &l->well->loads;
    bool g = w->given, below = l->kick_count > 0, wall = l->wall;
    if (l->role == DT_CONDUCTOR) {
        l->runs[DT_LOAD_TENSION_RUN] = true;
        return;
    }
    bool losses = g && w->evacuation == DT_EVACUATION_LOST_RETURNS && below && !wall;
    bool shock = g && w->running == DT_RUNNING_SHOCK;
    l->runs[DT_LOAD_BURST_GAS] = wall || !g || w->kick == DT_KICK_GAS;
    l->runs[DT_LOAD_BURST_FRACTURE] = g && w->kick == DT_KICK_FRACTURE && below;
    l->runs[DT_LOAD_BURST_INFLUX] = g && w->kick == DT_KICK_INFLUX && below;
    /* tubing and stimulation are looked at for intermediate and production strings only */
    bool inner = l->role != DT_SURFACE;
    l->runs[DT_LOAD_BURST_LEAK] = inner && wall && g && !isnan(w->packer_fluid_kgm3);
    l->runs[DT_LOAD_BURST_STIMULATION] = inner && wall && g && !isnan(w->stimulation_pa);
    l->runs[DT_LOAD_BURST_TEST] = !isnan(l->test_pa);
    l->runs[DT_LOAD_BURST_BUMP] = l->runs[DT_LOAD_TENSION_BUMP] = true;
    l->runs[DT_LOAD_COLLAPSE_EMPTY] = !losses;
    l->runs[DT_LOAD_COLLAPSE_LOSS] = losses;
    l->runs[DT_LOAD_COLLAPSE_CEMENT] = true;
    l->runs[DT_LOAD_COLLAPSE_FILL] = g && !isnan(w->unfilled_m);
    l->runs[DT_LOAD_COLLAPSE_SALT] = crosses_salt(l);
    l->runs[DT_LOAD_TENSION_RUN] = !shock;
    l->runs[DT_LOAD_TENSION_SHOCK] = shock;
    l->runs[DT_LOAD_TENSION_GREEN] = g && !isnan(w->green_test_pa);
}

static void set_design(const dt_well *w, loads *l)
{
    const dt_design *d = &w->design;
    bool g = d->given;
    l->burst = g ? slow_or(d->burst, 1.10) : 1.10;
    l->collapse = g ? slow_or(d->collapse, 1.00) : 1.00;
    l->tension = g ? slow_or(d->tension, 1.60) : 1.60;
    l->triaxial = g ? slow_or(d->triaxial, 1.25) : 1.25;
    l->overpull = g ? slow_or(d->overpull_n, 1e5 * SLOW_LBF) : 1e5 * SLOW_LBF;
    double gas = 0.1 * SLOW_PSI / SLOW_FT / SLOW_G;
    l->gas = g ? slow_or(d->gas_gradient_kgm3, gas) : gas;
    l->combined = g && d->collapse_method == DT_CHOOSE_COMBINED;
}

/** Smallest bore of the pipes a string may be made of: what a circulated influx rises round. */
static double smallest_bore(const context *c, size_t i);

static void loads_make(const context *c, size_t i, loads *out)
{
    const claims *p = c->claims;
    const dt_seat *seat = &p->strings[i].seat;
    const dt_well *w = c->well;
    loads l = {.well = w, .string = i, .role = seat->role};
    set_design(w, &l);
    l.shoe_tvd = seat->shoe_m;
    l.shoe_md = course_md(&c->course, l.shoe_tvd);
    if (seat->type == DT_LINER && i > 0)
        l.top_md = fmax(course_md(&c->course, p->strings[i - 1].seat.shoe_m) - p->lap_m, 0);
    l.top_tvd = course_tvd(&c->course, l.top_md);
    l.above_tvd = i ? p->strings[i - 1].seat.shoe_m : 0;
    l.mud = i ? seat->mud_kgm3 : 0;
    l.surface_pa = l.leak_pa = l.test_pa = l.level_mud = NAN;
    if (seat->pin < w->pin_count) l.wear = slow_or(w->pins[seat->pin].wear_m, 0);
    if (i == 0) {
        l.overpull = 0;
        choose(&l);
        *out = l;
        return;
    }
    set_kicks(c, &l);
    set_slurry(c, &l);
    for (size_t k = 0; w->loads.given && k < w->loads.test_count; ++k)
        if (w->loads.tests[k].role == l.role) {
            l.test_pa = w->loads.tests[k].pressure_pa;
            l.test_fluid = slow_or(w->loads.tests[k].fluid_kgm3, l.mud);
        }
    choose(&l);
    if (l.runs[DT_LOAD_BURST_INFLUX]) {
        double bore = smallest_bore(c, i), pipe = w->loads.drill_pipe_m;
        l.annulus_m2 = SLOW_PI / 4 * (bore * bore - pipe * pipe);
    }
    *out = l;
}

/* ---- pressures of a case --------------------------------------------------------------------- */

static double burst_outside(const loads *l, double z)
{
    const dt_well *w = l->well;
    switch (w->loads.given ? w->loads.burst_outside : DT_OUTSIDE_WATER) {
    case DT_OUTSIDE_MUD:
        return column(l->mud, 0, z);
    case DT_OUTSIDE_MIX_WATER:
        return column(l->mud, 0, fmin(z, l->slurry_top)) + column(1000, l->slurry_top, z);
    case DT_OUTSIDE_PORE:
        return curve_pa(&w->pore, z, true);
    case DT_OUTSIDE_WATER:
        break;
    }
    return column(1000, w->rig_floor_m, z);
}

/** One bubble at the surface: by trying heights until pressure and volume agree. */
static double influx_inside(const loads *l, double z)
{
    double most = 0;
    for (size_t k = 0; k < l->kick_count; ++k) {
        double Pf = l->kicks[k].formation_pa, D = l->kicks[k].depth, mud = l->kicks[k].mud;
        double full = fmax(Pf - l->gas * SLOW_G * D, 0), at_surface = full, height = D;
        double low = 0, high = D; /* height of the bubble */
        for (int n = 0; n < 60 && l->annulus_m2 > 0; ++n) {
            height = (low + high) / 2;
            double P = Pf - mud * SLOW_G * (D - height) - l->gas * SLOW_G * height;
            /* the gas that is there, at this pressure, is taller than what was tried */
            if (P <= 0 || Pf * l->well->loads.influx_m3 / P > height * l->annulus_m2)
                low = height;
            else
                high = height;
        }
        if (l->annulus_m2 > 0)
            at_surface = Pf - mud * SLOW_G * (D - height) - l->gas * SLOW_G * height;
        at_surface = fmax(fmin(at_surface, full), 0);
        double here = fmax(at_surface + l->gas * SLOW_G * z, Pf - mud * SLOW_G * fmax(D - z, 0));
        most = fmax(most, here);
    }
    return most;
}

static double left_inside(const loads *l, double z)
{
    if (!l->wall) return column(l->level_mud, l->level, z);
    double packer = l->well->loads.given ? l->well->loads.packer_fluid_kgm3 : NAN;
    return isnan(packer) ? 0 : column(packer, 0, z);
}

static double salt_outside(const loads *l, double z)
{
    for (size_t i = 0; i < l->well->interval_count; ++i) {
        const dt_interval *v = &l->well->intervals[i];
        if (strcmp(v->kind, "salt") != 0 || z < v->top_m - EDGE_M || z > v->base_m + EDGE_M ||
            z < l->above_tvd - EDGE_M)
            continue;
        if (l->well->overburden.count) return curve_pa(&l->well->overburden, z, false);
        return SLOW_PSI / SLOW_FT * z;
    }
    return column(l->mud, 0, z);
}

static void pressures(const loads *l, dt_load which, double z, double *in, double *out)
{
    const dt_load_wishes *w = &l->well->loads;
    double mud = column(l->mud, 0, z), gas = column(l->gas, 0, z);
    double slurry = column(l->mud, 0, fmin(z, l->slurry_top)) + column(l->slurry, l->slurry_top, z);
    double displaced = column(l->displacement, 0, z);
    *in = mud;
    *out = mud;
    switch (which) {
    case DT_LOAD_BURST_GAS:
        *in = l->surface_pa + gas;
        break;
    case DT_LOAD_BURST_FRACTURE:
        *in = l->broken_pa + gas;
        break;
    case DT_LOAD_BURST_INFLUX:
        *in = influx_inside(l, z);
        break;
    case DT_LOAD_BURST_LEAK:
        *in = l->leak_pa + column(w->packer_fluid_kgm3, 0, z);
        break;
    case DT_LOAD_BURST_TEST:
        *in = l->test_pa + column(l->test_fluid, 0, z);
        break;
    case DT_LOAD_BURST_STIMULATION:
        *in = w->stimulation_pa + column(w->stimulation_fluid_kgm3, 0, z);
        break;
    case DT_LOAD_BURST_BUMP:
    case DT_LOAD_TENSION_BUMP:
        *in = l->bump_pa + displaced;
        *out = slurry;
        break;
    case DT_LOAD_TENSION_GREEN:
        *in = w->green_test_pa + displaced;
        *out = slurry;
        break;
    case DT_LOAD_COLLAPSE_EMPTY:
        *in = 0;
        break;
    case DT_LOAD_COLLAPSE_LOSS:
        *in = left_inside(l, z);
        break;
    case DT_LOAD_COLLAPSE_CEMENT:
        *in = displaced;
        *out = slurry;
        break;
    case DT_LOAD_COLLAPSE_FILL:
        *in = column(l->mud, w->unfilled_m, z);
        break;
    case DT_LOAD_COLLAPSE_SALT:
        *in = left_inside(l, z);
        *out = salt_outside(l, z);
        break;
    default:
        break;
    }
    if (which <= DT_LOAD_BURST_STIMULATION && which != DT_LOAD_BURST_BUMP)
        *out = burst_outside(l, z);
}

/* ---- one pipe at one depth ------------------------------------------------------------------- */

static double yield_part(const loads *l, double z)
{
    const dt_thermal *t = &l->well->thermal;
    if (!t->count || !t->derating_count) return 1;
    double warm = t->points[t->count - 1].celsius;
    for (size_t i = t->count; i-- > 0;) {
        if (z > t->points[i].tvd_m) break;
        warm = t->points[i].celsius;
        if (i > 0 && z > t->points[i - 1].tvd_m)
            warm -= (t->points[i].tvd_m - z) * (t->points[i].celsius - t->points[i - 1].celsius) /
                    (t->points[i].tvd_m - t->points[i - 1].tvd_m);
    }
    if (l->wall) warm += slow_or(t->heating_k, 0);
    const dt_derating_point *d = t->deratings;
    size_t n = t->derating_count;
    if (warm <= d[0].celsius) return d[0].fraction;
    for (size_t i = 1; i < n; ++i)
        if (warm <= d[i].celsius)
            return d[i].fraction - (d[i].celsius - warm) * (d[i].fraction - d[i - 1].fraction) /
                                       (d[i].celsius - d[i - 1].celsius);
    return d[n - 1].fraction;
}

/** Largest von Mises stress over inner and outer wall, tension and compression side of a bend. */
static double mises(const strength *s, double in, double out, double axial_n, double bending_pa)
{
    double ro = s->D / 2, ri = ro - s->t, most = 0;
    for (int wall = 0; wall < 2; ++wall) {
        double r = wall ? ro : ri;
        /* Lame */
        double a = (in * ri * ri - out * ro * ro) / (ro * ro - ri * ri);
        double b = (in - out) * ri * ri * ro * ro / (ro * ro - ri * ri) / (r * r);
        double radial = a - b, hoop = a + b;
        for (int side = -1; side <= 1; side += 2) {
            double z = axial_n / s->area_m2 + side * bending_pa * r / ro;
            double v = sqrt(0.5 * (pow(radial - hoop, 2) + pow(hoop - z, 2) + pow(z - radial, 2)));
            most = fmax(most, v);
        }
    }
    return most;
}

typedef struct factors {
    double factor[DT_CHECK_COUNT]; /* smallest; NAN: not looked at */
    double eased[DT_CHECK_COUNT];  /* the same with LOAD_PA or LOAD_N taken off the load */
} factors;

static void keep(factors *s, dt_check check, double load, double resistance, double ease)
{
    double factor = load > 0 ? resistance / load : resistance > 0 ? INFINITY : 0;
    double eased = load - ease > 0 ? resistance / (load - ease) : resistance > 0 ? INFINITY : 0;
    if (!(s->factor[check] <= factor)) s->factor[check] = factor;
    if (!(s->eased[check] <= eased)) s->eased[check] = eased;
}

/** A spot: what depends on the depth and not on the pipe. */
typedef struct spot {
    double md, z, bend, part;
    double in[DT_LOAD_COUNT], out[DT_LOAD_COUNT];
} spot;

static void hold_case(const loads *l, dt_load which, const strength *s, const spot *at,
                      double hanging_n, factors *seen)
{
    double in = at->in[which], out = at->out[which], mud = column(l->mud, 0, at->z);
    double hung = hanging_n * (1 - l->mud / STEEL_KGM3), pull = 0;
    double axial = hung - mud * s->area_m2, landed = axial;
    bool free = which == DT_LOAD_COLLAPSE_CEMENT || which == DT_LOAD_COLLAPSE_FILL;
    if (which == DT_LOAD_TENSION_RUN)
        pull = l->overpull;
    else if (which == DT_LOAD_TENSION_SHOCK)
        pull = 3200 * SLOW_LBF * s->weight_kgm * SLOW_FT / SLOW_LB;
    else if (which == DT_LOAD_TENSION_BUMP || which == DT_LOAD_BURST_BUMP)
        pull = l->bump_pa * s->inner_m2;
    else if (which == DT_LOAD_TENSION_GREEN)
        pull = l->well->loads.green_test_pa * s->inner_m2;
    else if (!free)
        axial += 2 * 0.3 * (s->inner_m2 * (in - mud) - s->outer_m2 * (out - mud));
    if (l->wall && (which == DT_LOAD_BURST_LEAK || which == DT_LOAD_COLLAPSE_EMPTY) &&
        l->well->thermal.count)
        axial -= YOUNG_PSI * SLOW_PSI * 6.9e-6 * 1.8 * slow_or(l->well->thermal.heating_k, 0) *
                 s->area_m2;
    axial += pull;
    double bending = YOUNG_PSI * SLOW_PSI * s->D * SLOW_IN / 2 * at->bend;
    double yield = s->yield_psi * at->part;
    keep(seen, DT_CHECK_TRIAXIAL, mises(s, in, out, axial, bending), yield * SLOW_PSI, LOAD_PA);
    if (which <= DT_LOAD_BURST_STIMULATION)
        keep(seen, DT_CHECK_BURST, in - out, s->burst_pa * at->part, LOAD_PA);
    else if (which <= DT_LOAD_COLLAPSE_SALT) {
        double inside = l->combined ? in : (1 - 2 * s->t / s->D) * in;
        double stress = l->combined ? landed / s->area_m2 + in : hung / s->area_m2;
        keep(seen, DT_CHECK_COLLAPSE, out - inside,
             slow_collapse_pa(s->D, s->t, yield, stress / SLOW_PSI), LOAD_PA);
    } else {
        keep(seen, DT_CHECK_TENSION, hung + pull + bending * s->area_m2, s->joint_n * at->part,
             LOAD_N);
    }
}

/* ---- depths ---------------------------------------------------------------------------------- */

typedef struct spot_list {
    spot *items;
    size_t count;
} spot_list;

static int by_depth(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

static void add_depth(double *list, size_t *n, const loads *l, double md)
{
    if (md >= l->top_md - 1e-9 && md <= l->shoe_md + 1e-9) list[(*n)++] = md;
}

/** Every STEP_M, where sections meet, and where a curve, a fluid or the hole bends. */
static bool spots_make(const context *c, const loads *l, spot_list *out)
{
    const dt_well *w = c->well;
    const claimed_string *s = &c->claims->strings[l->string];
    size_t steps = slow_steps(l->shoe_md - l->top_md, STEP_M), n = 0;
    size_t room = steps + 16 + 2 * s->section_count + w->pore.count + w->overburden.count +
                  w->thermal.count + w->station_count + 2 * w->interval_count;
    double *md = malloc(room * sizeof *md);
    if (!md) return false;
    for (size_t i = 0; i <= steps && steps > 0; ++i)
        md[n++] = l->top_md + (l->shoe_md - l->top_md) * (double)i / (double)steps;
    for (size_t i = 0; i < s->section_count; ++i) {
        add_depth(md, &n, l, s->sections[i].top_md_m);
        add_depth(md, &n, l, s->sections[i].base_md_m);
    }
    double tvd[] = {w->rig_floor_m, l->slurry_top, l->level, l->above_tvd,
                    w->loads.given ? w->loads.unfilled_m : NAN};
    for (size_t i = 0; i < 5; ++i)
        if (tvd[i] > 0) add_depth(md, &n, l, course_md(&c->course, tvd[i]));
    for (size_t i = 0; i < w->pore.count; ++i)
        add_depth(md, &n, l, course_md(&c->course, w->pore.points[i].tvd_m));
    for (size_t i = 0; i < w->overburden.count; ++i)
        add_depth(md, &n, l, course_md(&c->course, w->overburden.points[i].tvd_m));
    for (size_t i = 0; i < w->thermal.count; ++i)
        add_depth(md, &n, l, course_md(&c->course, w->thermal.points[i].tvd_m));
    for (size_t i = 0; i < w->station_count; ++i)
        add_depth(md, &n, l, w->stations[i].md_m);
    for (size_t i = 0; i < w->interval_count; ++i) {
        add_depth(md, &n, l, course_md(&c->course, w->intervals[i].top_m));
        add_depth(md, &n, l, course_md(&c->course, w->intervals[i].base_m));
    }
    qsort(md, n, sizeof *md, by_depth);
    out->items = calloc(n, sizeof *out->items);
    out->count = out->items ? n : 0;
    for (size_t i = 0; i < out->count; ++i) {
        spot *at = &out->items[i];
        *at = (spot){.md = md[i], .z = course_tvd(&c->course, md[i])};
        /* a string bends with the hole it stands in, not with what comes below its shoe */
        at->bend =
            course_bend(&c->course, md[i], md[i] > l->top_md + 1e-5, md[i] < l->shoe_md - 1e-5);
        at->part = yield_part(l, at->z);
        for (int k = 0; k < DT_LOAD_COUNT; ++k)
            if (l->runs[k]) pressures(l, (dt_load)k, at->z, &at->in[k], &at->out[k]);
    }
    free(md);
    return out->count > 0;
}

/** Holds one pipe over [top, base] with a weight hanging at the base. */
static factors hold(const loads *l, const strength *s, const spot_list *spots, double top,
                    double base, double base_tvd, double hanging_n)
{
    factors found;
    for (int k = 0; k < DT_CHECK_COUNT; ++k)
        found.factor[k] = found.eased[k] = NAN;
    for (size_t i = 0; i < spots->count; ++i) {
        const spot *at = &spots->items[i];
        if (at->md < top - 1e-7 || at->md > base + 1e-7) continue;
        double here = hanging_n + s->weight_kgm * SLOW_G * (base_tvd - at->z);
        for (int k = 0; k < DT_LOAD_COUNT; ++k)
            if (l->runs[k]) hold_case(l, (dt_load)k, s, at, here, &found);
    }
    return found;
}

static double needed(const loads *l, int check)
{
    return check == DT_CHECK_BURST      ? l->burst
           : check == DT_CHECK_COLLAPSE ? l->collapse
           : check == DT_CHECK_TENSION  ? l->tension
                                        : l->triaxial;
}

/** Every factor at least what is needed, and by a part more. */
static bool holds(const loads *l, const factors *s, double part)
{
    for (int k = 0; k < DT_CHECK_COUNT; ++k)
        if (s->factor[k] < needed(l, k) * (1 + part)) return false;
    return true;
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
static bool may_run(const context *c, size_t i, const row_pipe *row, const char *grade,
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

static double smallest_bore(const context *c, size_t i)
{
    double least = INFINITY;
    for (size_t k = 0; k < c->rows->pipe_count; ++k)
        for (size_t g = 0; g < c->rows->grade_count; ++g)
            for (int t = 0; t < 4; ++t) {
                const row_pipe *row = &c->rows->pipes[k];
                if (may_run(c, i, row, c->rows->grades[g].name, (dt_thread)t))
                    least = fmin(least, (row->od - 2 * row->wall) * SLOW_IN);
            }
    return least;
}

static double drift_of(const dt_well *w, const row_pipe *p)
{
    return w->sizes.special_drift && p->special > p->drift ? p->special : p->drift;
}

/* ---- a string -------------------------------------------------------------------------------- */

static void check_sections(const context *c, size_t i, const loads *l)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_design *d = &c->well->design;
    int n = (int)i;
    /* 1e-5 m: MD of a TVD, solved twice */
    agree(c->v, "place", n, "shoe MD, m", s->shoe_md_m, l->shoe_md, 1e-5);
    agree(c->v, "place", n, "shoe TVD, m", s->shoe_tvd_m, l->shoe_tvd, 1e-6);
    agree(c->v, "place", n, "top MD, m", s->top_md_m, l->top_md, 1e-5);
    agree(c->v, "place", n, "top TVD, m", s->top_tvd_m, l->top_tvd, 1e-5);
    double at = s->top_md_m, steel = 0;
    bool joined = true;
    for (size_t k = 0; k < s->section_count; ++k) {
        joined = joined && fabs(s->sections[k].top_md_m - at) < 1e-6;
        at = s->sections[k].base_md_m;
        joined = joined && at > s->sections[k].top_md_m;
        steel += (at - s->sections[k].top_md_m) * s->sections[k].pipe.weight_kgm;
    }
    demand_true(c->v, "sections", n, joined && fabs(at - s->shoe_md_m) < 1e-6,
                "sections do not join from top to shoe");
    agree(c->v, "steel", n, "steel, kg", s->steel_kg, steel, 1e-6 * steel);
    double most = d->given ? slow_or(d->max_sections, 3) : 3;
    double least = d->given ? slow_or(d->min_section_m, 500 * SLOW_FT) : 500 * SLOW_FT;
    demand_true(c->v, "sections", n, (double)s->section_count <= most, "too many sections");
    for (size_t k = 0; k < s->section_count && s->section_count > 1; ++k)
        demand_true(c->v, "sections", n,
                    s->sections[k].base_md_m - s->sections[k].top_md_m >= least - 1e-6,
                    "a section is too short");
    double gauge = d->given ? slow_or(d->gauge_m, 0) : 0;
    for (size_t k = 0; gauge > 0 && k < s->section_count; ++k)
        demand_true(c->v, "gauge", n,
                    s->sections[k].pipe.wall_m <= s->sections[0].pipe.wall_m + 1e-9 &&
                        s->sections[0].base_md_m >= fmin(s->top_md_m + gauge, s->shoe_md_m) - 1e-6,
                    "the top is not the smallest bore of its string");
}

/** Factors of every section, from the shoe up. */
static void check_factors(const context *c, size_t i, const loads *l, const spot_list *spots)
{
    const claimed_string *s = &c->claims->strings[i];
    static const char *const names[] = {"burst", "collapse", "tension", "triaxial"};
    double hanging = 0;
    for (size_t k = s->section_count; k-- > 0;) {
        const claimed_section *section = &s->sections[k];
        strength pipe;
        if (!strength_of(c->rows, &section->pipe, l->wear, &pipe)) {
            fault(c->v, "rating", (int)i, "a pipe that cannot be rated");
            return;
        }
        double base = course_tvd(&c->course, section->base_md_m);
        factors found = hold(l, &pipe, spots, section->top_md_m, section->base_md_m, base, hanging);
        for (int q = 0; q < DT_CHECK_COUNT; ++q) {
            const dt_factor *f = &section->by_check[q];
            if (isnan(found.factor[q]) && isnan(f->factor)) continue;
            agree(c->v, "needed", (int)i, names[q], f->needed, needed(l, q), 1e-12);
            if (!s->pin_fails)
                demand_true(c->v, "holds", (int)i, found.eased[q] >= needed(l, q), names[q]);
            /* what is left out between depths, on this load; never less than a part in a
             * thousand, for both are minima over other depths */
            double ease = found.eased[q] - found.factor[q];
            double allowed = fmax(isfinite(ease) ? ease : 0, 1e-3 * found.factor[q]);
            if (!(f->factor > 50 && found.factor[q] > 50))
                agree(c->v, "factor", (int)i, names[q], f->factor, found.factor[q], allowed);
        }
        hanging += pipe.weight_kgm * SLOW_G * (base - course_tvd(&c->course, section->top_md_m));
    }
}

/** Would the string hold with another pipe in one section? In doubt, no. */
static bool swap_holds(const context *c, size_t i, const loads *l, const spot_list *spots,
                       size_t section, const claimed_pipe *other)
{
    const claimed_string *s = &c->claims->strings[i];
    double hanging = 0;
    for (size_t k = s->section_count; k-- > 0;) {
        strength pipe;
        const claimed_pipe *p = k == section ? other : &s->sections[k].pipe;
        if (!strength_of(c->rows, p, l->wear, &pipe)) return false;
        double base = course_tvd(&c->course, s->sections[k].base_md_m);
        if (k <= section) {
            factors found = hold(l, &pipe, spots, s->sections[k].top_md_m, s->sections[k].base_md_m,
                                 base, hanging);
            if (!holds(l, &found, CHORD_PART)) return false;
        }
        hanging +=
            pipe.weight_kgm * SLOW_G * (base - course_tvd(&c->course, s->sections[k].top_md_m));
    }
    return true;
}

static bool fully_pinned(const context *c, size_t i)
{
    size_t pin = c->claims->strings[i].seat.pin;
    if (pin >= c->well->pin_count) return false;
    const dt_pin *p = &c->well->pins[pin];
    return !isnan(p->od_m) && !isnan(p->weight_kgm) && p->grade;
}

/** Few spots first: a pipe that fails there fails. */
static spot_list thinned(const spot_list *all, spot *room, size_t most)
{
    size_t step = all->count / most + 1;
    spot_list few = {room, 0};
    for (size_t i = 0; i < all->count; i += step)
        room[few.count++] = all->items[i];
    room[few.count++] = all->items[all->count - 1];
    return few;
}

/** No single section can be made of a pipe that weighs less, or as much in weaker steel. */
static void check_cheapest(const context *c, size_t i, const loads *l, const spot_list *spots)
{
    const claimed_string *s = &c->claims->strings[i];
    bool gauge = c->well->design.given && slow_or(c->well->design.gauge_m, 0) > 0;
    spot few_room[40];
    if (fully_pinned(c, i) || s->pin_fails) return;
    spot_list few = thinned(spots, few_room, 32);
    for (size_t k = 0; k < s->section_count; ++k)
        for (size_t p = 0; p < c->rows->pipe_count; ++p) {
            const row_pipe *row = &c->rows->pipes[p];
            const claimed_pipe *now = &s->sections[k].pipe;
            const row_grade *grade_now = rows_grade(c->rows, now->grade);
            double kgm = row->weight * SLOW_LB / SLOW_FT;
            if (kgm > now->weight_kgm + 1e-6 || !grade_now) continue;
            if (drift_of(c->well, row) * SLOW_IN < s->need_drift_m - 0.0005 * SLOW_IN) continue;
            if (gauge) continue; /* a swap may break the rule of the top's bore */
            for (size_t g = 0; g < c->rows->grade_count; ++g)
                for (int t = 0; t < 4; ++t) {
                    const row_grade *grade = &c->rows->grades[g];
                    if (!may_run(c, i, row, grade->name, (dt_thread)t)) continue;
                    bool lighter = kgm < now->weight_kgm - 1e-6;
                    bool weaker = grade->yield_psi < grade_now->yield_psi;
                    bool simpler = strcmp(grade->name, now->grade) == 0 && t < (int)now->thread;
                    if (!lighter && !weaker && !simpler) continue;
                    claimed_pipe other = {
                        .od_m = row->od * SLOW_IN, .weight_kgm = kgm, .thread = (dt_thread)t};
                    snprintf(other.grade, sizeof other.grade, "%s", grade->name);
                    ++c->v->compared;
                    if (swap_holds(c, i, l, &few, k, &other) &&
                        swap_holds(c, i, l, spots, k, &other))
                        fault(c->v, "cheapest", (int)i,
                              "section %zu: %.2f lb/ft %s thread %d would hold too; %.2f lb/ft %s "
                              "is said",
                              k, row->weight, grade->name, t, now->weight_kgm / SLOW_LB * SLOW_FT,
                              now->grade);
                }
        }
}

/** The named cheaper pipe does fail where it is said to. */
static void check_cheaper_fails(const context *c, size_t i, const loads *l)
{
    const claimed_string *s = &c->claims->strings[i];
    double hanging = 0;
    for (size_t k = s->section_count; k-- > 0;) {
        const claimed_section *section = &s->sections[k];
        double base = course_tvd(&c->course, section->base_md_m);
        strength pipe;
        if (section->cheaper && strength_of(c->rows, &section->cheaper_pipe, l->wear, &pipe)) {
            double md = section->cheaper_factor.at_md_m, z = course_tvd(&c->course, md);
            spot at = {
                .md = md,
                .z = z,
            };
            at.bend = course_bend(&c->course, md, md > l->top_md + 1e-5, md < l->shoe_md - 1e-5);
            at.part = yield_part(l, z);
            for (int q = 0; q < DT_LOAD_COUNT; ++q)
                if (l->runs[q]) pressures(l, (dt_load)q, z, &at.in[q], &at.out[q]);
            spot_list one = {&at, 1};
            factors found = hold(l, &pipe, &one, md, md, base, hanging);
            dt_check check = section->cheaper_check;
            agree(c->v, "cheaper-fails", (int)i, "factor of the cheaper pipe",
                  section->cheaper_factor.factor, found.factor[check],
                  1e-3 * fabs(section->cheaper_factor.factor));
            demand_true(c->v, "cheaper-fails", (int)i,
                        section->cheaper_factor.factor < needed(l, check),
                        "the cheaper pipe that is said to fail does not");
        }
        if (!strength_of(c->rows, &section->pipe, l->wear, &pipe)) return;
        hanging += pipe.weight_kgm * SLOW_G * (base - course_tvd(&c->course, section->top_md_m));
    }
}

void check_strength(const context *c)
{
    double steel = 0;
    for (size_t i = 0; i < c->claims->count; ++i) {
        loads l;
        spot_list spots = {NULL, 0};
        loads_make(c, i, &l);
        check_sections(c, i, &l);
        if (i > 0) {
            double claimed = c->claims->strings[i].surface_pressure_pa;
            /* sources a metre apart: the top of a parabola is missed by less than a psi */
            agree(c->v, "surface-pressure", (int)i, "gas at surface, Pa", claimed, l.surface_pa,
                  LOAD_PA);
        }
        if (spots_make(c, &l, &spots)) {
            check_factors(c, i, &l, &spots);
            check_cheapest(c, i, &l, &spots);
            check_cheaper_fails(c, i, &l);
        }
        free(spots.items);
        steel += c->claims->strings[i].steel_kg;
    }
    agree(c->v, "steel", -1, "steel of all strings, kg", c->claims->steel_kg, steel, 1e-6 * steel);
}

/** The nearest pipe is said to fail at a depth: does it, over the whole string? */
void check_no_strength(const context *c)
{
    const claims *p = c->claims;
    size_t i = p->short_string;
    loads l;
    strength pipe;
    if (!p->short_known || i >= p->count) return;
    loads_make(c, i, &l);
    demand_true(c->v, "no-strength", (int)i, strength_of(c->rows, &p->short_pipe, l.wear, &pipe),
                "the pipe that comes nearest is not in the catalogue");
    const row_pipe *row = rows_pipe(c->rows, &p->short_pipe);
    if (!row || !strength_of(c->rows, &p->short_pipe, l.wear, &pipe)) return;
    if (l.runs[DT_LOAD_BURST_INFLUX]) return; /* the bore of a size that is not settled */
    spot_list spots = {NULL, 0};
    if (spots_make(c, &l, &spots)) {
        factors found = hold(&l, &pipe, &spots, l.top_md, l.shoe_md, l.shoe_tvd, 0);
        demand_true(c->v, "no-strength", (int)i, !holds(&l, &found, CHORD_PART),
                    "the pipe that is said to fail holds");
    }
    free(spots.items);
}
