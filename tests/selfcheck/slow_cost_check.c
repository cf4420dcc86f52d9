/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "slow.h"

/* Money, steel and days by docs/costing.md; kick tolerance by docs/kick.md; wellhead pressures and
 * landing by docs/strength.md. */

static const char *const hours_names[] = {"drilling", "trips",     "running", "cementing",
                                          "head",     "drill out", "reserve"};
static const char *const cost_names[] = {"pipe",   "threads", "hanger", "wellhead",
                                         "cement", "bits",    "rig"};

/* ---- costs ----------------------------------------------------------------------------------- */

typedef struct pace {
    double trip, connection, stand, run, circulate, crew, wait, head, test, out, hanger, lap_test;
    double reserve;
} pace;

static pace pace_of(const dt_well *w)
{
    const dt_times *t = &w->times;
    return (pace){slow_or(t->trip_m_per_hour, 1000 * SLOW_FT),
                  slow_or(t->connection_minutes, 5),
                  slow_or(t->stand_m, 90 * SLOW_FT),
                  slow_or(t->bit_run_m, 5000 * SLOW_FT),
                  slow_or(t->circulate_hours, 6),
                  slow_or(t->crew_hours, 4),
                  slow_or(slow_or(t->wait_hours, w->cementing.wait_s / 3600), 12),
                  slow_or(t->wellhead_hours, 10),
                  slow_or(t->test_hours, 4),
                  slow_or(t->drill_out_hours, 4),
                  slow_or(t->hanger_hours, 4),
                  slow_or(t->lap_test_hours, 4),
                  slow_or(t->reserve, 0)};
}

static double drilling_rate(const dt_well *w, double hole_in)
{
    const dt_times *t = &w->times;
    for (size_t i = 0; i < t->drilling_count; ++i)
        if (hole_in <= t->drilling[i].up_to_m / SLOW_IN + 1e-4 || i + 1 == t->drilling_count)
            return t->drilling[i].per_hour;
    hole_in -= 1e-4; /* m to in and back */
    return (hole_in <= 6.5 ? 20 : hole_in <= 8.75 ? 30 : hole_in <= 12.25 ? 45 : 60) * SLOW_FT;
}

static double running_rate(const dt_well *w, double od_in)
{
    const dt_times *t = &w->times;
    for (size_t i = 0; i < t->running_count; ++i)
        if (od_in <= t->running[i].up_to_m / SLOW_IN + 1e-4 || i + 1 == t->running_count)
            return t->running[i].per_hour;
    od_in -= 1e-4;
    return od_in <= 7.625 ? 20 : od_in <= 10.75 ? 15 : od_in <= 16 ? 10 : 6;
}

static double cement_top(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_well *w = c->well;
    double ground = slow_ground(w);
    if (i == 0) return w->conductor.method == DT_CONDUCTOR_DRILLED ? ground : NAN;
    if (s->seat.type == DT_LINER) return s->top_tvd_m;
    if (s->seat.role == DT_SURFACE || slow_said(w, DT_CUSTOM_CEMENTING_TO_SURFACE, 0) == 1)
        return ground;
    double above = c->claims->strings[i - 1].seat.shoe_m, shoe = s->shoe_tvd_m, top = shoe;
    for (size_t k = 0; k < w->pay_count; ++k)
        if (w->pays[k].base_m > above && w->pays[k].top_m < shoe)
            top = fmin(top, fmax(w->pays[k].top_m, above));
    for (size_t k = 0; k < w->interval_count; ++k)
        if (w->intervals[k].base_m > above && w->intervals[k].top_m < shoe)
            top = fmin(top, fmax(w->intervals[k].top_m, above));
    return fmax(top - slow_said(w, DT_CUSTOM_CEMENTING_ABOVE_SHOE, 500 * SLOW_FT), ground);
}

static double ring(double outer, double inner, double length)
{
    return SLOW_PI / 4 * fmax(outer * outer - inner * inner, 0) * fmax(length, 0);
}

static double price_of_pipe(const dt_prices *p, const char *grade)
{
    double rest = 0;
    for (size_t i = 0; i < p->pipe_count; ++i) {
        if (p->pipes[i].grade && strcmp(p->pipes[i].grade, grade) == 0) return p->pipes[i].per_kg;
        if (!p->pipes[i].grade) rest = p->pipes[i].per_kg;
    }
    return rest;
}

static double price_of_thread(const dt_prices *p, dt_thread thread)
{
    double rest = 0;
    for (size_t i = 0; i < p->thread_count; ++i) {
        if (p->threads[i].thread && strcmp(p->threads[i].thread, rows_thread_name(thread)) == 0)
            return p->threads[i].per_joint;
        if (!p->threads[i].thread) rest = p->threads[i].per_joint;
    }
    return rest;
}

static double price_of_bit(const dt_prices *p, double in)
{
    for (size_t i = 0; i < p->bit_count; ++i)
        if (isnan(p->bits[i].up_to_m) || in <= p->bits[i].up_to_m / SLOW_IN + 1e-4)
            return p->bits[i].each;
    return 0;
}

static void find_hours(const context *c, size_t i, double slurry, double rock, double *hours)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_well *w = c->well;
    pace t = pace_of(w);
    if (i >= c->claims->count) {
        /* a tie-back: one trip to clean the receptacle out; circulating is for a hole of its own */
        memset(hours, 0, DT_HOURS_COUNT * sizeof *hours);
        hours[DT_HOURS_TRIPS] = 2 * s->shoe_md_m / t.trip;
        hours[DT_HOURS_RUN] =
            s->shoe_md_m / (40 * SLOW_FT) / running_rate(w, s->od_m / SLOW_IN) + t.crew;
        hours[DT_HOURS_HEAD] = t.head + t.test;
        hours[DT_HOURS_RESERVE] =
            (hours[DT_HOURS_TRIPS] + hours[DT_HOURS_RUN] + hours[DT_HOURS_HEAD]) * t.reserve;
        return;
    }
    bool liner = s->seat.type == DT_LINER, last = i + 1 == c->claims->count;
    double runs = fmax(1, ceil(rock / t.run - 1e-9)), length = s->shoe_md_m - s->top_md_m;
    hours[DT_HOURS_DRILL] =
        rock / drilling_rate(w, s->hole_m / SLOW_IN) + rock / t.stand * t.connection / 60;
    hours[DT_HOURS_TRIPS] = 2 * s->shoe_md_m / t.trip * (runs + 1) + t.circulate;
    hours[DT_HOURS_RUN] = length / (40 * SLOW_FT) / running_rate(w, s->od_m / SLOW_IN) + t.crew +
                          (liner ? 2 * s->top_md_m / t.trip : 0);
    hours[DT_HOURS_CEMENT] = 0;
    if (slurry > 0)
        hours[DT_HOURS_CEMENT] = slurry / (5 * SLOW_BBL * 60) + 10.0 / 60 + t.wait +
                                 ring(s->od_m, 0, length) / (8 * SLOW_BBL * 60);
    hours[DT_HOURS_HEAD] = liner ? t.hanger + t.lap_test : t.head + t.test;
    hours[DT_HOURS_DRILL_OUT] = last ? 0 : t.out;
    double sum = 0;
    for (int k = 0; k < DT_HOURS_RESERVE; ++k)
        sum += hours[k];
    hours[DT_HOURS_RESERVE] = sum * t.reserve;
}

static void check_bill(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_prices *p = &c->well->prices;
    bool tie = i >= c->claims->count;
    double above =
        i ? c->claims->strings[i - 1].shoe_md_m : course_md(&c->course, slow_ground(c->well));
    double rock = fmax(s->shoe_md_m - above, 0), top = NAN;
    if (!tie) top = course_md(&c->course, cement_top(c, i));
    double slurry = 0, hours[DT_HOURS_COUNT], cost[DT_COST_COUNT] = {0}, all = 0, money = 0;
    if (!isnan(top))
        slurry = 1.25 * ring(s->hole_m, s->od_m, s->shoe_md_m - fmax(top, above)) +
                 ring(s->hole_m, s->od_m, above - top);
    find_hours(c, i, slurry, rock, hours);
    /* Amounts are kept to the minute, the cent and 0.1 kg: half of that on each, and for sums one
     * a line. */
    double minute = 1.0 / 60, cent = 0.01;
    for (int k = 0; k < DT_HOURS_COUNT; ++k) {
        agree(c->v, "hours", (int)i, hours_names[k], s->bill.hours[k], hours[k],
              k == DT_HOURS_RESERVE ? minute : 0.51 * minute);
        all += hours[k];
    }
    agree(c->v, "days", (int)i, "days", s->bill.days, all / 24, DT_HOURS_COUNT * minute / 24);
    double steel = 0;
    for (size_t k = 0; k < s->section_count; ++k) {
        const claimed_section *q = &s->sections[k];
        double length = q->base_md_m - q->top_md_m, kg = q->pipe.weight_kgm * length;
        steel += kg;
        cost[DT_COST_PIPE] += kg * price_of_pipe(p, q->pipe.grade);
        cost[DT_COST_THREADS] += length / (40 * SLOW_FT) * price_of_thread(p, q->pipe.thread);
    }
    agree(c->v, "bill-steel", (int)i, "steel, kg", s->bill.steel_kg, steel,
          0.1 * (double)s->section_count);
    bool liner = s->seat.type == DT_LINER;
    bool opened = s->bit_m < s->hole_m - 1e-6;
    double bits = fmax(1, ceil(rock / pace_of(c->well).run - 1e-9)) * (opened ? 2 : 1);
    if (c->well->prices_given) {
        cost[DT_COST_HANGER] = liner ? p->hanger + p->packer : tie ? slow_or(p->receptacle, 0) : 0;
        cost[DT_COST_WELLHEAD] = liner ? 0 : p->wellhead_stage;
        cost[DT_COST_CEMENT] = slurry / (1.15 * pow(SLOW_FT, 3)) * 94 * SLOW_LB * p->cement_per_kg;
        cost[DT_COST_BITS] = tie ? 0 : bits * price_of_bit(p, s->hole_m / SLOW_IN);
        cost[DT_COST_RIG] = all / 24 * (p->rig_per_day + p->services_per_day);
    } else {
        memset(cost, 0, sizeof cost);
    }
    for (int k = 0; k < DT_COST_COUNT; ++k) {
        double allowed = cent * (double)s->section_count;
        if (k == DT_COST_RIG && c->well->prices_given)
            allowed += DT_HOURS_COUNT * minute / 24 * (p->rig_per_day + p->services_per_day);
        agree(c->v, "cost", (int)i, cost_names[k], s->bill.cost[k], cost[k], allowed);
        money += s->bill.cost[k];
    }
    agree(c->v, "cost", (int)i, "total", s->bill.total, money, cent);
}

void check_costs(const context *c)
{
    double money = 0, days = 0, steel = 0;
    for (size_t i = 0; i < slow_all(c->claims); ++i) {
        check_bill(c, i);
        money += c->claims->strings[i].bill.total;
        days += c->claims->strings[i].bill.days;
        steel += c->claims->strings[i].bill.steel_kg;
    }
    double n = (double)slow_all(c->claims);
    agree(c->v, "cost", -1, "cost of all", c->claims->bill.total, money, 0.01 * n);
    agree(c->v, "days", -1, "days of all", c->claims->bill.days, days, n / 60 / 24);
    agree(c->v, "bill-steel", -1, "steel of all, kg", c->claims->bill.steel_kg, steel, 0.1 * n);
}

/* ---- kick tolerance -------------------------------------------------------------------------- */

/** Hole filled from the bit up, m3. */
static double filled(const slow_hole *d, double length)
{
    double low = fmin(length, d->collar_length_m);
    return ring(d->hole_m, d->collar_m, low) + ring(d->hole_m, d->pipe_m, length - low);
}

static double kelvin(const dt_well *w, double z)
{
    const dt_thermal *t = &w->thermal;
    if (z <= t->points[0].tvd_m) return t->points[0].celsius + 273.15;
    for (size_t i = 1; i < t->count; ++i)
        if (z <= t->points[i].tvd_m) {
            const dt_temperature_point *a = &t->points[i - 1], *b = &t->points[i];
            return 273.15 + (a->celsius * (b->tvd_m - z) + b->celsius * (z - a->tvd_m)) /
                                (b->tvd_m - a->tvd_m);
        }
    return t->points[t->count - 1].celsius + 273.15;
}

/** Dranchuk and Abou-Kassem (1975) by substitution with halved steps; pseudo-critical values of
 * Sutton (1985). */
static double deviation(double pa, double kelvins, double gravity)
{
    double g = gravity;
    double P = pa / ((756.8 - 131.0 * g - 3.6 * g * g) * SLOW_PSI);
    double T = kelvins * 1.8 / (169.2 + 349.5 * g - 74.0 * g * g), z = 1;
    if (!(P > 0 && P <= 30 && T > 1 && T <= 3)) return NAN;
    for (int n = 0; n < 2000; ++n) {
        double r = 0.27 * P / (z * T);
        double c1 =
            0.3265 - 1.0700 / T - 0.5339 / pow(T, 3) + 0.01569 / pow(T, 4) - 0.05165 / pow(T, 5);
        double c2 = 0.5475 - 0.7361 / T + 0.1844 / (T * T);
        double c3 = 0.1056 * (-0.7361 / T + 0.1844 / (T * T));
        double c4 = 0.6134 * (1 + 0.7210 * r * r) * r * r / pow(T, 3) * exp(-0.7210 * r * r);
        double next = 1 + c1 * r + c2 * r * r - c3 * pow(r, 5) + c4;
        if (fabs(next - z) < 1e-13) break;
        z += 0.2 * (next - z);
    }
    return z;
}

typedef struct tolerance {
    double m3;
    bool whole;
} tolerance;

/** What one weak point bears. */
static tolerance borne(const context *c, const slow_hole *d, double z, double rock, double b,
                       double mud, double intensity)
{
    const dt_kick_wishes *k = &c->well->kick;
    double Pmax = (rock - k->margin_kgm3) * SLOW_G * z;
    /* the mud holds its trip margin of the intensity already (docs/kick.md) */
    double Pf = (mud + intensity - slow_margin(c->well->margins.trip, b)) * SLOW_G * b;
    double H = (Pmax - Pf + mud * SLOW_G * (b - z)) / ((mud - k->influx_kgm3) * SLOW_G);
    bool whole = H >= b - z;
    H = fmax(fmin(H, b - z), 0);
    double md_b = course_md(&c->course, b), md_z = course_md(&c->course, z);
    double at_bottom = filled(d, md_b - course_md(&c->course, b - H));
    double at_weak = ring(d->hole_m, d->pipe_m, course_md(&c->course, z + H) - md_z);
    double half = k->influx_kgm3 * SLOW_G * H / 2, Ps = Pmax + half, Pb = Pf - half;
    double taken_down = at_weak * Ps / Pb;
    if (k->law == DT_GAS_REAL)
        taken_down *= deviation(Pb, kelvin(c->well, b), k->gas_gravity) * kelvin(c->well, b) /
                      (deviation(Ps, kelvin(c->well, z), k->gas_gravity) * kelvin(c->well, z));
    return (tolerance){whole ? at_bottom : fmin(at_bottom, taken_down), whole};
}

/** The least that any depth of a hole bears: the longest hole full of gas, or else a bound. */
static tolerance least_borne(const context *c, double hole_m, double a, double b, double mud,
                             double intensity)
{
    slow_hole d = slow_assembly(c->well, hole_m);
    slow_samples list = slow_sample(c->well, a, b, 2.0);
    tolerance least = {-INFINITY, true};
    for (size_t k = 0; k < list.count; ++k) {
        double z = list.z[k];
        if (z >= b) continue;
        tolerance t =
            borne(c, &d, z, slow_emw(&c->well->fracture, z, list.side[k]), b, mud, intensity);
        if (t.whole != least.whole ? !t.whole : t.whole ? t.m3 > least.m3 : t.m3 < least.m3)
            least = t;
    }
    free(list.z);
    free(list.side);
    return least;
}

/** Is a swabbed kick of the least volume borne, where a kick is shut in and one is asked for? */
static void check_swabbed(const context *c, size_t string, double hole_m, double a, double b,
                          double mud)
{
    double asked = slow_assembly(c->well, hole_m).least_m3;
    if (isnan(asked)) return;
    tolerance t = least_borne(c, hole_m, a, b, mud, 0);
    if (t.whole) return;
    stop_told(c, DT_NOTICE_KICK_TOLERANCE_LEAST, string, t.m3 - asked, 1e-4 * asked + 1e-4);
}

void check_kick(const context *c)
{
    const claims *p = c->claims;
    for (size_t i = 1; i < p->count; ++i) {
        const claimed_string *s = &p->strings[i];
        double a = p->strings[i - 1].seat.shoe_m, b = s->seat.shoe_m, mud = s->seat.mud_kgm3;
        if (!s->kick_known || !(a < b)) continue;
        tolerance least = least_borne(c, s->hole_m, a, b, mud, c->well->kick.intensity_kgm3);
        demand_true(c->v, "kick", (int)i, s->kick.whole_hole == least.whole,
                    "gas in the whole hole: harmless or not");
        /* one part in ten thousand: depths solved from TVD, multiplied by a capacity */
        agree(c->v, "kick", (int)i, "kick tolerance, m3", s->kick.tolerance_m3, least.m3,
              1e-4 * least.m3 + 1e-4);
        /* what is drilled under a diverter is not shut in */
        bool shut_in = !slow_hole_of(c, i).diverter && (i > 1 || c->well->sizes.series);
        if (shut_in) check_swabbed(c, i, s->hole_m, a, b, mud);
    }
    if (p->open.given)
        check_swabbed(c, DT_NO_STRING, p->open.hole_m, p->open.top_m, p->open.base_m,
                      p->open.mud_kgm3);
    stop_none(c, DT_NOTICE_KICK_TOLERANCE_LEAST);
}

/* ---- wellhead -------------------------------------------------------------------------------- */

static double hardest(const context *c, double shoe, double base, double fill, bool rock)
{
    const dt_well *w = c->well;
    if (!(shoe < base)) return NAN;
    slow_samples list = slow_sample(w, shoe, base, 1.0);
    double pore = -INFINITY;
    for (size_t k = 0; k < list.count; ++k)
        pore =
            fmax(pore, (slow_emw(&w->pore, list.z[k], list.side[k]) - fill) * SLOW_G * list.z[k]);
    free(list.z);
    free(list.side);
    double limit = (slow_emw(&w->fracture, shoe, +1) - fill) * SLOW_G * shoe;
    double to_bop = w->bop_at_seabed ? fill * SLOW_G * slow_ground(w) : 0;
    return fmax((rock ? fmin(pore, limit) : pore) + to_bop, 0);
}

static double gas_of(const dt_well *w)
{
    double gas = 0.1 * SLOW_PSI / SLOW_FT / SLOW_G;
    return w->design.given ? slow_or(w->design.gas_gradient_kgm3, gas) : gas;
}

static void check_head(const context *c, size_t i)
{
    static const double classes[] = {2000, 3000, 5000, 10000, 15000, 20000};
    const claims *p = c->claims;
    const dt_well *w = c->well;
    double gas = gas_of(w), part = w->wellhead.given ? slow_or(w->wellhead.evacuation, 1) : 1;
    double most = -1, class_psi = NAN;
    if (i == 0 || p->strings[i].seat.type == DT_LINER) return;
    bool finished = true;
    for (size_t j = slow_place(p, i) + 1; j < p->count && finished; ++j) {
        double fill = part * gas + (1 - part) * p->strings[j].seat.mud_kgm3;
        most = fmax(
            most, hardest(c, p->strings[j - 1].seat.shoe_m, p->strings[j].seat.shoe_m, fill, true));
        finished = !slow_covers(p, j);
    }
    if (finished)
        most = fmax(most, hardest(c, p->strings[p->count - 2].seat.shoe_m,
                                  p->strings[p->count - 1].seat.shoe_m, gas, false));
    for (size_t k = sizeof classes / sizeof *classes; k-- > 0;)
        if (most <= classes[k] * SLOW_PSI * (1 + 1e-9)) class_psi = classes[k];
    if (!(most > 0)) class_psi = 0;
    const dt_head_stage *s = &p->strings[i].head;
    /* the planner looks nine times between breaks, this a metre apart: the top of a parabola */
    agree(c->v, "wellhead", (int)i, "anticipated surface pressure, Pa", s->pressure_pa, most,
          5 * SLOW_PSI);
    stop_told(c, DT_NOTICE_BEYOND_PRESSURE_CLASSES, i, classes[5] * SLOW_PSI - most, 5 * SLOW_PSI);
    if (fabs(most / SLOW_PSI - class_psi) > 5 || isnan(class_psi))
        agree(c->v, "wellhead", (int)i, "working pressure, psi", s->class_psi, class_psi, 0.5);
}

static double hung(const context *c, size_t i, double from_tvd)
{
    const claimed_string *s = &c->claims->strings[i];
    double sum = 0;
    for (size_t k = 0; k < s->section_count; ++k) {
        double top = fmax(course_tvd(&c->course, s->sections[k].top_md_m), from_tvd);
        double base = course_tvd(&c->course, s->sections[k].base_md_m);
        sum += s->sections[k].pipe.weight_kgm * SLOW_G * fmax(base - top, 0);
    }
    size_t place = slow_place(c->claims, i);
    return sum * (1 - (i ? c->claims->strings[place].seat.mud_kgm3 : 0) / 7850);
}

static void check_landing(const context *c, const dt_landing *l)
{
    const dt_wellhead_wishes *w = &c->well->wellhead;
    size_t carrier = l->carrier;
    bool made = w->given && !isnan(w->bop_n);
    demand_true(c->v, "landing", (int)carrier, l->made == made, "made or not");
    double sum = 0, ground = slow_ground(c->well);
    bool said = w->given ? w->mudline : slow_said(c->well, DT_CUSTOM_WELLHEAD_MUDLINE, 0) == 1;
    bool mudline = said && c->well->over_sea;
    for (size_t i = carrier + 1; i < slow_all(c->claims); ++i)
        if (c->claims->strings[i].seat.type != DT_LINER)
            sum += hung(c, i, 0) - (mudline ? hung(c, i, ground) : 0);
    agree(c->v, "landing", (int)carrier, "hung, N", l->hung_n, sum, 1e-6 * sum + 1);
    strength pipe;
    const claimed_string *s = &c->claims->strings[carrier];
    double wear =
        s->seat.pin < c->well->pin_count ? slow_or(c->well->pins[s->seat.pin].wear_m, 0) : 0;
    if (!made || !strength_of(c->rows, &s->sections[0].pipe, wear, &pipe)) return;
    double load = sum + w->bop_n + slow_or(w->head_n, 0), Y = pipe.yield_psi * SLOW_PSI;
    const dt_design *design = &c->well->design;
    double needed = slow_or(design->given ? design->triaxial : NAN,
                            slow_said(c->well, DT_CUSTOM_DESIGN_TRIAXIAL, 1.25));
    double bears = Y / (load / pipe.area_m2);
    agree(c->v, "landing", (int)carrier, "stress factor", l->stress_factor, bears,
          1e-6 * l->stress_factor);
    stop_told(c, DT_NOTICE_LANDING_STRESS, carrier, bears / needed - 1, 1e-6);
    demand_true(c->v, "landing", (int)carrier, l->column_made == !isnan(w->free_length_m),
                "column made or not");
    if (!l->column_made) return;
    double D = pipe.D * SLOW_IN, d = D - 2 * pipe.t * SLOW_IN, E = 30e6 * SLOW_PSI;
    double ratio = slow_or(w->end_factor, 2) * w->free_length_m / (sqrt(D * D + d * d) / 4);
    double limit = sqrt(2 * SLOW_PI * SLOW_PI * E / Y);
    double stress = ratio < limit ? Y * (1 - ratio * ratio / (2 * limit * limit))
                                  : SLOW_PI * SLOW_PI * E / (ratio * ratio);
    double on_column = load - (w->hung_buckles ? 0 : sum);
    double stands = stress * pipe.area_m2 / on_column;
    agree(c->v, "landing", (int)carrier, "column factor", l->column_factor, stands,
          1e-6 * l->column_factor);
    stop_told(c, DT_NOTICE_LANDING_COLUMN, carrier, stands / needed - 1, 1e-6);
}

void check_wellhead(const context *c)
{
    for (size_t i = 0; i < slow_all(c->claims); ++i)
        check_head(c, i);
    for (size_t i = 0; i < c->claims->landing_count; ++i)
        check_landing(c, &c->claims->landing[i]);
    stop_none(c, DT_NOTICE_BEYOND_PRESSURE_CLASSES);
    stop_none(c, DT_NOTICE_LANDING_STRESS);
    stop_none(c, DT_NOTICE_LANDING_COLUMN);
}
