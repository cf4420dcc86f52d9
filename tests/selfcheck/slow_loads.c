/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "slow_job.h"
#include "slow_loads.h"
#include "slow_seats.h"

/* The load cases of docs/strength.md: every hole walked metre by metre, every fluid by itself. */

/* ---- what loads a string --------------------------------------------------------------------- */

double loads_column(double density, double from, double to)
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

/** The mud a string was run in: all the way up, or sea water on it. */
double loads_mud(const loads *l, double z)
{
    if (!slow_to_sea(l->well, l->string)) return loads_column(l->mud, 0, z);
    double floor = slow_ground(l->well), sea = slow_sea_weight(l->well);
    return loads_column(sea, l->well->rig_floor_m, fmin(z, floor)) + loads_column(l->mud, floor, z);
}

/** What is credited outside: fresh water, or the sea that stands on the wellhead. */
static double water_of(const dt_well *w)
{
    return w->bop_at_seabed ? slow_sea_weight(w) : 1000;
}

/** One bubble from a depth, at the surface: heights are tried until pressure and volume agree. */
static double bubble(const loads *l, double Pf, double D, double mud)
{
    if (!(l->annulus_m2 > 0)) return INFINITY;
    double height = D;
    double low = 0, high = D; /* height of the bubble */
    for (int n = 0; n < 60; ++n) {
        height = (low + high) / 2;
        double P = Pf - mud * SLOW_G * (D - height) - l->gas * SLOW_G * height;
        /* the gas that is there, at this pressure, is taller than what was tried */
        if (P <= 0 || Pf * l->well->loads.influx_m3 / P > height * l->annulus_m2)
            low = height;
        else
            high = height;
    }
    return fmax(Pf - mud * SLOW_G * (D - height) - l->gas * SLOW_G * height, 0);
}

/** The rock of a hole, every metre and every point, both sides: how far its mud may fall, what its
 * influx brings. */
static void look_at_hole(loads *l, size_t hole)
{
    const dt_well *w = l->well;
    bool influx = w->loads.kick == DT_KICK_INFLUX || w->loads.kick == DT_KICK_BY_ROLE;
    double a = l->holes[hole].top, b = l->holes[hole].base, mud = l->holes[hole].mud;
    size_t steps = slow_steps(b - a, 1.0);
    double most = 0, full = 0;
    l->holes[hole].level = 0;
    l->holes[hole].net_pa = -INFINITY;
    for (size_t i = 0; i <= steps + w->pore.count; ++i) {
        bool point = i > steps;
        double z = point        ? w->pore.points[i - steps - 1].tvd_m
                   : i == steps ? b
                                : a + (b - a) * (double)i / (double)steps;
        if (z < a || z > b) continue;
        for (int side = -1; side <= 1; side += 2) {
            if ((z <= a && side < 0) || (z >= b && side > 0)) continue;
            double emw = slow_emw(&w->pore, z, side), net = (emw - mud) * SLOW_G * z;
            l->holes[hole].level = fmax(l->holes[hole].level, z * (1 - emw / mud));
            l->holes[hole].net_pa = fmax(l->holes[hole].net_pa, net);
            full = fmax(full, (emw - l->gas) * SLOW_G * z);
            if (influx) most = fmax(most, bubble(l, emw * SLOW_G * z, z, mud));
        }
    }
    l->bubble_pa = fmax(l->bubble_pa, fmin(most, full)); /* no more than a hole full of gas */
}

/** Is gas of its holes, or of the finished well, gas of a pay? Where no pay is told of, all may be.
 */
static bool of_pay(const loads *l)
{
    const dt_well *w = l->well;
    bool found = l->wall || w->pay_count == 0;
    for (size_t k = 0; k < l->hole_count; ++k)
        for (size_t i = 0; i < w->pay_count; ++i)
            if (w->pays[i].base_m > l->holes[k].top + EDGE_M &&
                w->pays[i].top_m < l->holes[k].base - EDGE_M)
                found = true;
    return found;
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
    for (size_t j = l->place + 1; j < n; ++j) {
        double shoe = p->strings[j - 1].seat.shoe_m, base = p->strings[j].seat.shoe_m;
        double by_pore = strongest(w, l->gas, shoe, base, &source);
        double by_rock = (slow_emw(&w->fracture, shoe, +1) - l->gas) * SLOW_G * shoe;
        l->surface_pa = fmax(l->surface_pa, fmin(by_pore, by_rock));
        l->broken_pa = isnan(l->broken_pa) ? by_rock : fmax(l->broken_pa, by_rock);
        size_t k = l->hole_count++;
        l->holes[k].top = shoe;
        l->holes[k].base = base;
        l->holes[k].mud = p->strings[j].seat.mud_kgm3;
        if (slow_covers(p, j)) break;
    }
    l->wall = true;
    for (size_t j = l->place + 1; j < n; ++j)
        if (slow_covers(p, j)) l->wall = false;
    if (!l->wall) return;
    double top = last ? p->strings[last - 1].seat.shoe_m : 0;
    l->leak_pa = fmax(strongest(w, l->gas, top, p->strings[last].seat.shoe_m, &source), 0);
    l->surface_pa = fmax(l->surface_pa, l->leak_pa);
}

/** Density of a slurry of the well file or of the catalogue; NAN when there is none. */
static double density_of(const context *c, const char *name)
{
    if (!name) return NAN;
    for (size_t i = 0; i < c->well->slurry_count; ++i)
        if (strcmp(c->well->slurries[i].name, name) == 0) return c->well->slurries[i].density_kgm3;
    for (size_t i = 0; i < c->rows->slurry_count; ++i)
        if (strcmp(c->rows->slurries[i].name, name) == 0) return c->rows->slurries[i].density_kgm3;
    return NAN;
}

/** Heaviest pinned, else what <loads> says; NAN: the job's own slurries. */
static double slurry_of(const context *c, const dt_pin *pin)
{
    const dt_well *w = c->well;
    double heaviest = NAN;
    for (size_t i = 0; pin && i < pin->cement_count; ++i)
        heaviest = fmax(heaviest, density_of(c, pin->cement[i].slurry));
    return isnan(heaviest) && w->loads.given ? w->loads.cement_kgm3 : heaviest;
}

/** What <loads> says, else what <cementing> says of the same job, else custom (decision 0024). */
static double said(const dt_well *w, double by_loads, double by_job, double custom)
{
    return slow_or(w->loads.given ? by_loads : NAN, slow_or(by_job, custom));
}

/** The annulus as the job leaves it: mud, spacer, lead, tail. */
static double slurries(const loads *l, double z)
{
    return loads_mud(l, fmin(z, l->spacer_top)) +
           loads_column(l->spacer, l->spacer_top, fmin(z, l->slurry_top)) +
           loads_column(l->lead, l->slurry_top, fmin(z, l->tail_top)) +
           loads_column(l->slurry, l->tail_top, z);
}

static void set_slurry(const context *c, loads *l)
{
    const dt_seat *seat = &c->claims->strings[l->string].seat;
    const dt_well *w = c->well;
    const dt_pin *pin = seat->pin < w->pin_count ? &w->pins[seat->pin] : NULL;
    l->slurry = slurry_of(c, pin);
    l->displacement = said(w, w->loads.displacement_kgm3, w->cementing.displacement_kgm3, l->mud);
    double margin = said(w, w->loads.bump_margin_pa, w->cementing.bump_margin_pa, 500 * SLOW_PSI);
    dt_cement_rule rule;
    double over = slow_or(w->cementing.above_shoe_m,
                          slow_said(w, DT_CUSTOM_CEMENTING_ABOVE_SHOE, 500 * SLOW_FT));
    l->slurry_top = fmin(slow_cement_top(c, l->string, over, &rule), l->shoe_tvd);
    l->spacer_top = l->tail_top = l->slurry_top;
    l->lead = l->spacer = l->slurry;
    if (isnan(l->slurry)) {
        double top = course_md(&c->course, l->slurry_top);
        double tail = l->shoe_md - slow_tail_length(w, l->shoe_md - top);
        double lead = slow_lead_density(c, l->mud);
        l->slurry = l->lead = slow_tail_density(c, l->mud);
        if (!isnan(lead) && tail > top + 1e-6) {
            l->lead = lead;
            l->tail_top = course_tvd(&c->course, tail);
        }
        l->spacer = slow_or(w->cementing.spacer_kgm3, (l->mud + l->lead) / 2);
        double length = slow_or(w->cementing.spacer_length_m, 500 * SLOW_FT);
        if (l->role != DT_SURFACE) /* where it is returned */
            l->spacer_top = fmin(course_tvd(&c->course, fmax(top - length, 0)), l->slurry_top);
    }
    l->bump_pa =
        fmax(slurries(l, l->shoe_tvd) - loads_column(l->displacement, 0, l->shoe_tvd), 0) + margin;
}

bool loads_lap_test(const context *c, size_t liner, double *pa, double *fluid)
{
    const dt_liner_test *t = &c->well->liner_test;
    const claimed_string *s = &c->claims->strings[liner];
    if (!t->given || liner == 0 || s->seat.type != DT_LINER) return false;
    *fluid = slow_or(t->fluid_kgm3, s->seat.mud_kgm3);
    *pa = t->pressure_pa;
    if (t->rule == DT_LINER_TEST_PRESSURE) return true;
    bool last = s->seat.role == DT_PRODUCTION;
    double shoe = c->claims->strings[last ? liner - 1 : liner].seat.shoe_m;
    double rock = slow_emw(&c->well->fracture, shoe, +1) * SLOW_G * shoe;
    double above = last ? slow_or(t->above_pa, 500 * SLOW_PSI) : 0;
    *pa = fmax(rock + above - loads_column(*fluid, 0, shoe), 0);
    return true;
}

static double top_of_liner_md(const context *c, size_t i)
{
    double shoe = course_md(&c->course, c->claims->strings[i - 1].seat.shoe_m);
    double head = c->well->bop_at_seabed ? course_md(&c->course, slow_ground(c->well)) : 0;
    return fmax(shoe - c->claims->lap_m, head);
}

static void add_lap(loads *l, double pa, double fluid, double base_tvd)
{
    l->laps[l->lap_count].pa = pa;
    l->laps[l->lap_count].fluid = fluid;
    l->laps[l->lap_count++].base_tvd = base_tvd;
}

/** Each liner is tested, and with it every pipe that is wall above it at that time. */
static void set_laps(const context *c, loads *l)
{
    const claims *p = c->claims;
    for (size_t liner = 1; liner < p->count; ++liner) {
        double pa, fluid;
        if (!loads_lap_test(c, liner, &pa, &fluid)) continue;
        if (l->string == liner) add_lap(l, pa, fluid, l->shoe_tvd);
        for (size_t k = liner; k-- > 0;) { /* k is pressed down to the top of the next */
            double base = course_tvd(&c->course, top_of_liner_md(c, k + 1));
            if (l->string == k) add_lap(l, pa, fluid, base);
            if (p->strings[k].seat.type != DT_LINER) break;
            size_t tie = slow_tieback_on(p, k);
            if (tie != DT_NO_INDEX && l->string == tie) add_lap(l, pa, fluid, l->shoe_tvd);
            if (tie != DT_NO_INDEX) break;
        }
    }
}

/** Does the string's own hole cross this salt? Not one that only touches its ends. */
static bool in_own_hole(const loads *l, const dt_interval *v)
{
    return strcmp(v->kind, "salt") == 0 && v->base_m > l->above_tvd + EDGE_M &&
           v->top_m < l->shoe_tvd - EDGE_M;
}

static bool crosses_salt(const loads *l)
{
    if (l->tieback) return false; /* pipe stands all round it */
    for (size_t i = 0; i < l->well->interval_count; ++i)
        if (in_own_hole(l, &l->well->intervals[i])) return true;
    return false;
}

static void choose(loads *l)
{
    const dt_load_wishes *w = &l->well->loads;
    bool g = w->given, cemented = !l->tieback, below = l->hole_count > 0, wall = l->wall;
    if (l->role == DT_CONDUCTOR) {
        l->runs[DT_LOAD_TENSION_HANG] = true;
        return;
    }
    /* by role the string that is produced through alone is emptied */
    bool emptied = w->evacuation == DT_EVACUATION_BY_ROLE ? l->role == DT_PRODUCTION : wall;
    bool losses = w->evacuation != DT_EVACUATION_FULL && below && !emptied;
    bool by_role = w->kick == DT_KICK_BY_ROLE;
    bool bubble_by_role = by_role && l->role != DT_SURFACE && !isnan(w->influx_m3);
    bool shock = w->running == DT_RUNNING_SHOCK;
    l->runs[DT_LOAD_BURST_GAS] = wall || w->kick == DT_KICK_GAS || (by_role && !bubble_by_role);
    l->runs[DT_LOAD_BURST_FRACTURE] = w->kick == DT_KICK_FRACTURE && below;
    l->runs[DT_LOAD_BURST_INFLUX] = (w->kick == DT_KICK_INFLUX || bubble_by_role) && below;
    /* tubing and stimulation are looked at for intermediate and production strings only */
    bool inner = l->role != DT_SURFACE;
    l->runs[DT_LOAD_BURST_LEAK] = inner && wall && (by_role || !isnan(w->packer_fluid_kgm3));
    l->runs[DT_LOAD_BURST_STIMULATION] = inner && wall && g && !isnan(w->stimulation_pa);
    l->runs[DT_LOAD_BURST_TEST] = !isnan(l->test_pa);
    l->runs[DT_LOAD_BURST_LAP] = l->lap_count > 0;
    l->runs[DT_LOAD_BURST_BUMP] = l->runs[DT_LOAD_TENSION_BUMP] = cemented;
    l->runs[DT_LOAD_COLLAPSE_EMPTY] = !losses;
    l->runs[DT_LOAD_COLLAPSE_LOSS] = losses;
    l->runs[DT_LOAD_COLLAPSE_CEMENT] = cemented;
    l->runs[DT_LOAD_COLLAPSE_FILL] = g && !isnan(w->unfilled_m);
    l->runs[DT_LOAD_COLLAPSE_SALT] = crosses_salt(l);
    l->runs[DT_LOAD_TENSION_HANG] = true;
    l->runs[DT_LOAD_TENSION_RUN] = !shock;
    l->runs[DT_LOAD_TENSION_SHOCK] = shock;
    l->runs[DT_LOAD_TENSION_GREEN] = cemented && g && !isnan(w->green_test_pa);
}

static void set_design(const dt_well *w, loads *l)
{
    const dt_design *d = &w->design;
    bool g = d->given;
    l->burst = g ? slow_or(d->burst, 1.10) : 1.10;
    l->collapse = g ? slow_or(d->collapse, 1.00) : 1.00;
    l->tension = g ? slow_or(d->tension, 1.60) : 1.60;
    l->pulled = slow_pulled(w);
    l->triaxial = g ? slow_or(d->triaxial, 1.25) : 1.25;
    l->overpull = g ? slow_or(d->overpull_n, 1e5 * SLOW_LBF) : 1e5 * SLOW_LBF;
    double gas = 0.1 * SLOW_PSI / SLOW_FT / SLOW_G;
    l->gas = g ? slow_or(d->gas_gradient_kgm3, gas) : gas;
    l->combined = g && d->collapse_method == DT_CHOOSE_COMBINED;
}

void loads_make(const context *c, size_t i, loads *out)
{
    const claims *p = c->claims;
    const dt_seat *seat = &p->strings[i].seat;
    const dt_well *w = c->well;
    size_t place = slow_place(p, i);
    loads l = {.well = w,
               .string = i,
               .place = place,
               .tieback = place != i,
               .role = seat->role,
               .spare = seat->spare};
    set_design(w, &l);
    l.shoe_tvd = p->strings[place].seat.shoe_m;
    l.shoe_md = course_md(&c->course, l.shoe_tvd);
    if (w->bop_at_seabed) l.top_md = course_md(&c->course, slow_ground(w));
    if (seat->type == DT_LINER && i > 0) l.top_md = top_of_liner_md(c, i);
    if (l.tieback) { /* from the wellhead to the top of its liner */
        l.shoe_md = place ? top_of_liner_md(c, place) : 0;
        l.shoe_tvd = course_tvd(&c->course, l.shoe_md);
    }
    l.top_tvd = course_tvd(&c->course, l.top_md);
    l.above_tvd = i && !l.tieback ? p->strings[i - 1].seat.shoe_m : 0;
    l.mud = i ? p->strings[place].seat.mud_kgm3 : 0;
    l.surface_pa = l.leak_pa = l.test_pa = NAN;
    if (seat->pin < w->pin_count) l.wear = slow_or(w->pins[seat->pin].wear_m, 0);
    if (i == 0) {
        l.overpull = 0;
        choose(&l);
        *out = l;
        return;
    }
    set_kicks(c, &l);
    if (!l.tieback) set_slurry(c, &l);
    set_laps(c, &l);
    for (size_t k = 0; w->loads.given && k < w->loads.test_count; ++k)
        if (w->loads.tests[k].role == l.role) {
            l.test_pa = w->loads.tests[k].pressure_pa;
            l.test_fluid = slow_or(w->loads.tests[k].fluid_kgm3, l.mud);
        }
    choose(&l);
    if (l.runs[DT_LOAD_BURST_INFLUX]) {
        double inner = slow_smallest_bore(c, i), pipe = w->loads.drill_pipe_m;
        l.annulus_m2 = SLOW_PI / 4 * (inner * inner - pipe * pipe);
    }
    for (size_t k = 0; k < l.hole_count; ++k)
        look_at_hole(&l, k);
    /* what may stand at its top: the gas of the kick, a circulated influx, both over the sea
     * outside where it hangs in a wellhead on the sea floor; the finished well's leak */
    double gas = l.runs[DT_LOAD_BURST_GAS] ? l.surface_pa : NAN, outside = 0;
    if (w->water_depth_m > 0 && l.top_tvd < w->rig_floor_m + w->water_depth_m + 0.01)
        outside = loads_column(water_of(w), w->rig_floor_m, l.top_tvd);
    if (l.runs[DT_LOAD_BURST_INFLUX]) gas = fmax(gas, l.bubble_pa);
    gas -= outside;
    if (l.wall) gas = fmax(gas, l.leak_pa);
    gas += loads_column(l.gas, 0, l.top_tvd);
    l.tight = slow_tight_asked(w, gas, of_pay(&l));
    *out = l;
}

/* ---- pressures of a case --------------------------------------------------------------------- */

static double burst_outside(const loads *l, double z)
{
    const dt_well *w = l->well;
    switch (w->loads.burst_outside) {
    case DT_OUTSIDE_MUD:
        return loads_mud(l, z);
    case DT_OUTSIDE_MIX_WATER:
        if (l->tieback) return loads_mud(l, z);
        return loads_mud(l, fmin(z, l->slurry_top)) + loads_column(water_of(w), l->slurry_top, z);
    case DT_OUTSIDE_PORE:
        if (l->tieback) break;
        return curve_pa(&w->pore, z, true);
    case DT_OUTSIDE_CEMENTED:
        if (l->tieback || z <= l->slurry_top + 1e-6) break;
        return curve_pa(&w->pore, z, true);
    case DT_OUTSIDE_WATER:
        break;
    }
    return loads_column(water_of(w), w->rig_floor_m, z);
}

/** The bubble at the top, mud below it. */
static double influx_inside(const loads *l, double z)
{
    double most = l->bubble_pa + l->gas * SLOW_G * z;
    for (size_t k = 0; k < l->hole_count; ++k)
        most = fmax(most, l->holes[k].net_pa + l->holes[k].mud * SLOW_G * z);
    return most;
}

static double left_inside(const loads *l, double z)
{
    double least = NAN; /* whichever hole below is at work */
    double empty = 0;   /* by role never less than so much of it */
    if (l->well->loads.evacuation == DT_EVACUATION_BY_ROLE)
        empty = l->role == DT_SURFACE ? fmin(3000 * SLOW_FT, l->shoe_tvd) : l->shoe_tvd / 3;
    for (size_t i = 0; i < l->hole_count; ++i)
        least = fmin(least, loads_column(l->holes[i].mud, fmax(l->holes[i].level, empty), z));
    if (!l->wall) return least;
    if (l->well->loads.evacuation == DT_EVACUATION_BY_ROLE && l->role != DT_PRODUCTION)
        return least;
    double packer = l->well->loads.given ? l->well->loads.packer_fluid_kgm3 : NAN;
    return isnan(packer) ? 0 : loads_column(packer, 0, z);
}

static double salt_outside(const loads *l, double z)
{
    for (size_t i = 0; i < l->well->interval_count; ++i) {
        const dt_interval *v = &l->well->intervals[i];
        if (!in_own_hole(l, v) || z < v->top_m - EDGE_M || z > v->base_m + EDGE_M ||
            z < l->above_tvd - EDGE_M)
            continue;
        if (l->well->overburden.count) return curve_pa(&l->well->overburden, z, false);
        double water = l->well->water_depth_m > 0 ? slow_sea_weight(l->well) : 0,
               floor = slow_ground(l->well);
        return loads_column(water, l->well->rig_floor_m, fmin(z, floor)) +
               SLOW_PSI / SLOW_FT * (z - floor);
    }
    return loads_mud(l, z);
}

void loads_pressures(const loads *l, dt_load which, double z, double *in, double *out)
{
    const dt_load_wishes *w = &l->well->loads;
    double mud = loads_mud(l, z), gas = loads_column(l->gas, 0, z);
    double slurry = slurries(l, z);
    double displaced = loads_column(l->displacement, 0, z);
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
        /* by role that of the basis stands for a packer fluid that is not stated */
        *in =
            l->leak_pa +
            loads_column(slow_or(w->packer_fluid_kgm3,
                                 slow_said(l->well, DT_CUSTOM_LOADS_PACKER_FLUID, 8.6 * SLOW_PPG)),
                         0, z);
        break;
    case DT_LOAD_BURST_TEST:
        *in = l->test_pa + loads_column(l->test_fluid, 0, z);
        break;
    case DT_LOAD_BURST_LAP:
        *in = 0;
        for (size_t i = 0; i < l->lap_count; ++i) {
            bool pressed = z <= l->laps[i].base_tvd + EDGE_M;
            *in = fmax(*in, (pressed ? l->laps[i].pa : 0) + loads_column(l->laps[i].fluid, 0, z));
        }
        break;
    case DT_LOAD_BURST_STIMULATION:
        *in = w->stimulation_pa + loads_column(w->stimulation_fluid_kgm3, 0, z);
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
        *in = loads_column(l->mud, w->unfilled_m, z);
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
