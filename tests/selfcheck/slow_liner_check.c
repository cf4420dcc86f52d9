/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <string.h>

#include "slow_loads.h"

/* What is particular to liners: the hanger, the test of the lap, the tie-back. By docs/nest.md,
 * docs/strength.md and docs/well-file.md. */

#define SAME_IN 0.0005

static double inches(double m)
{
    return m / SLOW_IN;
}

static const dt_pin *pin_at(const context *c, size_t pin)
{
    return pin < c->well->pin_count ? &c->well->pins[pin] : NULL;
}

/* ---- hangers --------------------------------------------------------------------------------- */

const dt_hanger *slow_hanger(const context *c, size_t i)
{
    size_t row = c->claims->strings[i].hanger;
    return i < c->claims->count && row < c->well->hangers.count ? &c->well->hangers.items[row]
                                                                : NULL;
}

double slow_hanger_bore(const dt_hanger *hanger)
{
    return inches(isnan(hanger->receptacle_bore_m)
                      ? hanger->bore_m
                      : fmin(hanger->bore_m, hanger->receptacle_bore_m));
}

bool slow_hanger_fits(const dt_hanger *hanger, const row_pipe *casing)
{
    double unit = SLOW_LB / SLOW_FT;
    if (fabs(inches(hanger->casing_m) - casing->od) > SAME_IN) return false;
    if (!isnan(hanger->lightest_kgm) && casing->weight < hanger->lightest_kgm / unit - 0.005)
        return false;
    return isnan(hanger->heaviest_kgm) || casing->weight <= hanger->heaviest_kgm / unit + 0.005;
}

bool slow_hanger_waived(const context *c, size_t i)
{
    const dt_hangers *list = &c->well->hangers;
    const dt_pin *pin = pin_at(c, c->claims->strings[i].seat.pin);
    const dt_pin *above = i ? pin_at(c, c->claims->strings[i - 1].seat.pin) : NULL;
    if (!pin || isnan(pin->od_m)) return false;
    for (size_t k = 0; k < list->count; ++k) {
        const dt_hanger *h = &list->items[k];
        bool in_it =
            !above || isnan(above->od_m) || fabs(inches(h->casing_m - above->od_m)) < SAME_IN;
        if (fabs(inches(h->liner_m - pin->od_m)) < SAME_IN && in_it) return false;
    }
    return true;
}

/** What is set bears: buoyed weight along TVD, and what presses on the bore at the top. */
static bool hung_load(const context *c, size_t i, size_t section, const claimed_pipe *other,
                      dt_hung *out)
{
    const claimed_string *s = &c->claims->strings[i];
    loads l;
    loads_make(c, i, &l);
    *out = (dt_hung){.by = DT_LOAD_TENSION_BUMP};
    for (size_t k = 0; k < s->section_count; ++k) {
        strength pipe;
        if (!strength_of(c->rows, k == section && other ? other : &s->sections[k].pipe, l.wear,
                         &pipe))
            return false;
        double tall = course_tvd(&c->course, s->sections[k].base_md_m) -
                      course_tvd(&c->course, s->sections[k].top_md_m);
        out->weight_n += pipe.weight_kgm * SLOW_G * tall * (1 - l.mud / 7850);
        if (k > 0) continue;
        double pa = l.bump_pa, green = c->well->loads.given ? c->well->loads.green_test_pa : NAN;
        if (green > pa) {
            pa = green;
            out->by = DT_LOAD_TENSION_GREEN;
        }
        out->pressure_n = pa * pipe.inner_m2;
    }
    out->total_n = out->weight_n + out->pressure_n;
    return true;
}

static double spare_on(const context *c, const dt_hanger *hanger, double total_n)
{
    double factor = c->well->hangers.factor;
    return hanger->capacity_n / total_n / (isnan(factor) || factor == 0 ? 1 : factor);
}

double slow_hanger_spare(const context *c, size_t i, size_t section, const claimed_pipe *other)
{
    const dt_hanger *hanger = slow_hanger(c, i);
    dt_hung load;
    if (!hanger) return 1;
    return hung_load(c, i, section, other, &load) ? spare_on(c, hanger, load.total_n) : 0;
}

/** Is it set in the pipe above where the liner's top stands, to within so much? */
static bool set_in_above(const context *c, size_t i, const dt_hanger *hanger, double within)
{
    const claimed_string *above = &c->claims->strings[i - 1];
    double top = c->claims->strings[i].top_md_m;
    for (size_t k = 0; k < above->section_count; ++k) {
        const claimed_section *q = &above->sections[k];
        const row_pipe *row = rows_pipe(c->rows, &q->pipe);
        if (row && top >= q->top_md_m - within && top <= q->base_md_m + within &&
            slow_hanger_fits(hanger, row))
            return true;
    }
    return false;
}

static bool for_liner(const dt_hanger *hanger, const claimed_string *s)
{
    return fabs(inches(hanger->liner_m - s->od_m)) < SAME_IN;
}

static void check_hanger(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_hangers *list = &c->well->hangers;
    const dt_hanger *hanger = slow_hanger(c, i);
    verdict *v = c->v;
    int n = (int)i;
    bool asked = list->count > 0 && i > 0 && i < c->claims->count && s->seat.type == DT_LINER &&
                 !slow_hanger_waived(c, i);
    demand_true(v, "hanger", n, (hanger != NULL) == asked,
                asked ? "a liner hangs in nothing" : "a hanger where none is asked for");
    if (!hanger || !asked) return;
    demand_true(v, "hanger", n, for_liner(hanger, s), "a hanger for another liner");
    demand_true(v, "hanger", n, set_in_above(c, i, hanger, SLOW_FT),
                "a hanger not set in this pipe");
    double next = i + 1 < c->claims->count ? inches(c->claims->strings[i + 1].bit_m) : 0;
    demand_true(v, "hanger", n, next <= slow_hanger_bore(hanger) + SAME_IN,
                "the next bit does not pass the hanger");
    dt_hung load;
    if (!hung_load(c, i, 0, NULL, &load)) return;
    agree(v, "hung", n, "buoyed weight, N", s->hung.weight_n, load.weight_n, 1e-6 * load.weight_n);
    agree(v, "hung", n, "pressed on, N", s->hung.pressure_n, load.pressure_n,
          1e-6 * load.pressure_n);
    agree(v, "hung", n, "all that hangs, N", s->hung.total_n, load.total_n, 1e-6 * load.total_n);
    demand_true(v, "hung", n, s->hung.by == load.by, "by the other case");
    demand_true(v, "hung", n, spare_on(c, hanger, load.total_n) >= 1 - 1e-9,
                "the hanger does not bear it");
    /* the list is in order of preference */
    for (const dt_hanger *h = list->items; h < hanger; ++h)
        demand_true(v, "hanger-preferred", n,
                    !for_liner(h, s) || !set_in_above(c, i, h, 0) ||
                        next > slow_hanger_bore(h) - SAME_IN ||
                        spare_on(c, h, load.total_n) < 1 + 1e-9,
                    "an earlier row of the list would do");
}

/* ---- the test of a liner --------------------------------------------------------------------- */

static void check_lap_test(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    double pa = NAN, fluid = NAN;
    bool tested = i < c->claims->count && loads_lap_test(c, i, &pa, &fluid);
    agree(c->v, "lap-test", (int)i, "liner-top test, Pa", s->lap_test.pressure_pa,
          tested ? pa : NAN, 1e-6 * fabs(slow_or(pa, 0)) + 1);
    agree(c->v, "lap-test", (int)i, "its fluid, kg/m3", s->lap_test.fluid_kgm3,
          tested ? fluid : NAN, 1e-6);
    agree(c->v, "lap-test", (int)i, "pressed down to, m TVD", s->lap_test.base_tvd_m,
          tested ? s->seat.shoe_m : NAN, 1e-5);
}

/* ---- tie-backs ------------------------------------------------------------------------------- */

/** Pinned behind this liner, with room above the liner's top? */
static bool wants_tieback(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_pin *next = s->seat.pin < c->well->pin_count ? pin_at(c, s->seat.pin + 1) : NULL;
    if (i == 0 || s->seat.type != DT_LINER || !next || next->type != DT_TIEBACK) return false;
    /* less than a metre of it is left out (docs/well-file.md); seats stand a metre apart at least,
     * so it may be a metre to the last bit: either will do then */
    double above = course_md(&c->course, c->claims->strings[i - 1].seat.shoe_m) - c->claims->lap_m;
    return fabs(above - 1) < 1e-6 ? slow_tieback_on(c->claims, i) != DT_NO_INDEX : above > 1;
}

static void check_tieback(const context *c, size_t i)
{
    const claimed_string *t = &c->claims->strings[i];
    size_t on = slow_place(c->claims, i);
    const claimed_string *s = &c->claims->strings[on];
    verdict *v = c->v;
    int n = (int)i;
    demand_true(v, "tieback", n, t->seat.type == DT_TIEBACK && t->seat.ties == on,
                "behind the strings stands what is no tie-back");
    demand_true(v, "tieback", n, wants_tieback(c, on), "a tie-back that nobody asked for");
    demand_true(v, "tieback", n, t->seat.role == s->seat.role, "another role than its liner");
    demand_true(v, "tieback", n, t->seat.pin == s->seat.pin + 1, "another pin");
    agree(v, "tieback", n, "OD, in", inches(t->od_m), inches(s->od_m), SAME_IN);
    agree(v, "tieback", n, "coupling, in", inches(t->largest_od_m), inches(s->largest_od_m),
          SAME_IN);
    agree(v, "tieback", n, "mud, kg/m3", t->seat.mud_kgm3, s->seat.mud_kgm3, 1e-9);
    demand_true(v, "tieback", n, isnan(t->hole_m) && isnan(t->bit_m) && !t->opened,
                "a hole of its own");
    demand_true(v, "tieback", n, !t->cement.cemented && t->cement.rule == DT_CEMENT_NONE,
                "cemented");
    demand_true(v, "tieback", n, !t->kick_known, "a kick in no hole");
}

/** Strings from the surface down as they are run, each tie-back after its liner. */
static void check_order(const context *c)
{
    const claims *p = c->claims;
    size_t at = 0;
    bool ok = true;
    for (size_t i = 0; i < p->count; ++i) {
        size_t tie = slow_tieback_on(p, i);
        ok = ok && p->order[at++] == i;
        if (tie != DT_NO_INDEX) ok = ok && p->order[at++] == tie;
    }
    demand_true(c->v, "order", -1, ok && at == slow_all(p), "strings out of order");
}

void check_liners(const context *c)
{
    const claims *p = c->claims;
    check_order(c);
    for (size_t i = 0; i < p->count; ++i) {
        size_t tie = slow_tieback_on(p, i);
        demand_true(c->v, "tieback", (int)i, (tie != DT_NO_INDEX) == wants_tieback(c, i),
                    "tied back or not");
        demand_true(c->v, "tieback", (int)i, p->strings[i].seat.tied_back == (tie != DT_NO_INDEX),
                    "the liner does not know of its tie-back");
    }
    for (size_t i = 0; i < slow_all(p); ++i) {
        const claimed_string *s = &p->strings[i];
        size_t next = slow_place(p, i) + 1;
        const dt_pin *below = next < p->count ? pin_at(c, p->strings[next].seat.pin) : NULL;
        check_hanger(c, i);
        check_lap_test(c, i);
        if (i >= p->count) check_tieback(c, i);
        if (!(below && !isnan(below->hole_m)))
            agree(c->v, "need-drift", (int)i, "bit to pass, in", inches(s->need_drift_m),
                  next < p->count ? inches(p->strings[next].bit_m) : 0, SAME_IN);
    }
}
