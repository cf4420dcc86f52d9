/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "slow_loads.h"

/* Every string walked from the shoe up, every case held against every pipe, by docs/strength.md. */

/** Depth step, m, besides every depth where something bends. */
#define STEP_M 3.0

/**
 * The planner takes loads as straight between depths at most 100 ft apart (docs/strength.md: for
 * curves that are parabolas "a fraction of a psi"). So much is let pass on a load: one psi, and one
 * psi on the whole of the pipe.
 */
#define LOAD_PA SLOW_PSI

#define STEEL_KGM3 7850.0
#define YOUNG_PSI  30e6

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

static void keep(factors *s, dt_check check, double load, double resistance, double ease)
{
    double factor = load > 0 ? resistance / load : resistance > 0 ? INFINITY : 0;
    double eased = load - ease > 0 ? resistance / (load - ease) : resistance > 0 ? INFINITY : 0;
    if (!(s->factor[check] <= factor)) s->factor[check] = factor;
    if (!(s->eased[check] <= eased)) s->eased[check] = eased;
}

void slow_hold_case(const loads *l, dt_load which, const strength *s, const spot *at,
                    double hanging_n, factors *seen)
{
    double in = at->in[which], out = at->out[which], mud = loads_mud(l, at->z);
    double hung = hanging_n * (1 - l->mud / STEEL_KGM3), pull = 0;
    double axial = hung - mud * s->area_m2, landed = axial;
    bool free = which == DT_LOAD_COLLAPSE_CEMENT || which == DT_LOAD_COLLAPSE_FILL ||
                which == DT_LOAD_TENSION_HANG;
    if (which == DT_LOAD_TENSION_RUN)
        pull = l->overpull + at->drag_m * s->weight_kgm * SLOW_G * (1 - l->mud / STEEL_KGM3);
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
             s->collapse_part * slow_collapse_pa(s->D, s->t, yield, stress / SLOW_PSI), LOAD_PA);
    } else if (which == DT_LOAD_TENSION_HANG) {
        /* the weight alone has a factor of its own; it is told as if it had that of the others */
        keep(seen, DT_CHECK_TENSION, hung * l->tension / l->pulled, s->joint_n * at->part,
             LOAD_PA * s->outer_m2);
    } else {
        keep(seen, DT_CHECK_TENSION, hung + pull + bending * s->area_m2, s->joint_n * at->part,
             LOAD_PA * s->outer_m2);
    }
}

/* ---- depths ---------------------------------------------------------------------------------- */

/** What is drawn up from the shoe, of pipe that weighs 1 N/m: all of it, and what of it hangs. */
typedef struct drawn {
    double md, tension, hangs;
} drawn;

/**
 * Draws pipe up to a depth, in pieces of STEP_M at most, over a stretch within one arc: the soft
 * string of docs/running.md, by the tension midway of a piece.
 */
static void draw_up(const context *c, const loads *l, double to, drawn *d)
{
    const dt_running_wishes *r = &c->well->running;
    double cased = slow_or(r->friction_cased, 0.20), open = slow_or(r->friction_open, 0.30);
    double from = d->md, rock = course_md(&c->course, l->above_tvd);
    size_t steps = from > to ? slow_steps(from - to, STEP_M) : 0;
    for (size_t i = 0; i < steps; ++i) {
        double base = from - (from - to) * (double)i / (double)steps;
        double top = from - (from - to) * (double)(i + 1) / (double)steps, length = base - top;
        double up = acos(fmin(course_down(&c->course, top), 1));
        double down = acos(fmin(course_down(&c->course, base), 1)), build = (down - up) / length;
        double bend = course_bend(&c->course, (top + base) / 2, true, true);
        double turn2 = fmax(bend * bend - build * build, 0), drag = 0;
        double hangs = course_here(&c->course, base) - course_here(&c->course, top);
        for (int pass = 0; pass < 8; ++pass) {
            double at = d->tension + (hangs + drag) / 2;
            double low = sin((up + down) / 2) - at * build;
            drag = ((top + base) / 2 > rock && !l->tieback ? open : cased) * length *
                   sqrt(low * low + at * at * turn2);
        }
        d->tension += hangs + drag;
        d->hangs += hangs;
    }
    d->md = fmin(from, to);
}

/** The same to one depth, from the shoe over every station between. */
static double drag_at(const context *c, const loads *l, double md)
{
    drawn d = {l->shoe_md, 0, 0};
    if (c->course.count == 0) return 0;
    for (size_t i = c->well->station_count; i-- > 0;)
        draw_up(c, l, fmax(fmin(c->well->stations[i].md_m, l->shoe_md), md), &d);
    draw_up(c, l, md, &d);
    return d.tension - d.hangs;
}

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
bool slow_spots_make(const context *c, const loads *l, const double *more, size_t more_count,
                     spot_list *out)
{
    const dt_well *w = c->well;
    const claimed_string *s = &c->claims->strings[l->string];
    size_t steps = slow_steps(l->shoe_md - l->top_md, STEP_M), n = 0;
    size_t room = steps + more_count + 16 + 2 * CLAIM_STRINGS + 2 * s->section_count +
                  w->pore.count + w->overburden.count + w->thermal.count + w->station_count +
                  2 * w->interval_count;
    double *md = malloc(room * sizeof *md);
    if (!md) return false;
    for (size_t i = 0; i <= steps && steps > 0; ++i)
        md[n++] = l->top_md + (l->shoe_md - l->top_md) * (double)i / (double)steps;
    for (size_t i = 0; i < s->section_count; ++i) {
        add_depth(md, &n, l, s->sections[i].top_md_m);
        add_depth(md, &n, l, s->sections[i].base_md_m);
    }
    for (size_t i = 0; i < more_count; ++i)
        add_depth(md, &n, l, more[i]);
    double tvd[] = {w->rig_floor_m,
                    l->slurry_top,
                    l->slurry_top + 2e-3,
                    l->spacer_top,
                    l->tail_top,
                    l->above_tvd,
                    w->loads.given ? w->loads.unfilled_m : NAN};
    for (size_t i = 0; i < sizeof tvd / sizeof *tvd; ++i)
        if (tvd[i] > 0) add_depth(md, &n, l, course_md(&c->course, tvd[i]));
    for (size_t i = 0; i < l->lap_count; ++i)
        add_depth(md, &n, l, course_md(&c->course, l->laps[i].base_tvd));
    for (size_t i = 0; i < l->hole_count; ++i)
        if (l->holes[i].level > 0) add_depth(md, &n, l, course_md(&c->course, l->holes[i].level));
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
            if (l->runs[k]) loads_pressures(l, (dt_load)k, at->z, &at->in[k], &at->out[k]);
    }
    drawn d = {l->shoe_md, 0, 0};
    for (size_t i = out->count; i-- > 0 && c->course.count > 0;) {
        draw_up(c, l, out->items[i].md, &d);
        out->items[i].drag_m = d.tension - d.hangs;
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
            if (l->runs[k]) slow_hold_case(l, (dt_load)k, s, at, here, &found);
    }
    return found;
}

double slow_needed(const loads *l, int check)
{
    return check == DT_CHECK_BURST      ? l->burst
           : check == DT_CHECK_COLLAPSE ? l->collapse
           : check == DT_CHECK_TENSION  ? l->pulled
                                        : l->triaxial;
}

/** Every factor at least what is needed, by what pipe is said to bear more, and by a part more. */
bool slow_holds(const loads *l, const factors *s, double part)
{
    for (int k = 0; k < DT_CHECK_COUNT; ++k)
        if (s->factor[k] < slow_needed(l, k) * (1 + l->spare) * (1 + part)) return false;
    return true;
}

/* ---- what may be bought ---------------------------------------------------------------------- */

double slow_most_sections(const context *c, const loads *l)
{
    const dt_well *w = c->well;
    double most = slow_said(w, DT_CUSTOM_DESIGN_MAX_SECTIONS, 3);
    if (w->design.given) most = slow_or(w->design.max_sections, most);
    double surface = slow_said(w, DT_CUSTOM_DESIGN_SURFACE_SECTIONS, 16);
    return l->role == DT_SURFACE ? fmin(most, surface) : most;
}

double slow_least_section(const dt_well *w)
{
    double least = slow_said(w, DT_CUSTOM_DESIGN_MIN_SECTION, 500 * SLOW_FT);
    return w->design.given ? slow_or(w->design.min_section_m, least) : least;
}

bool slow_offered(const context *c, const loads *l, const row_pipe *row, const char *grade,
                  dt_thread thread, bool stocked)
{
    size_t at = c->claims->strings[l->string].seat.pin;
    const dt_pin *pin = at < c->well->pin_count ? &c->well->pins[at] : NULL;
    if (!slow_may_run(c, l->string, row, grade, thread)) return false;
    if (stocked && !slow_stocked(c->well, row, grade, thread)) return false;
    bool seals = thread >= DT_FLUSH && c->rows->connections[thread - DT_FLUSH].gas_tight;
    if (l->tight && !seals && !(pin && pin->thread)) return false;
    return (pin && pin->grade) || slow_sour_below(c->well, grade) <= l->top_tvd;
}

bool slow_of_stock(const context *c, size_t i)
{
    const claimed_string *s = &c->claims->strings[i];
    if (!slow_stock_first(c->well)) return false;
    for (size_t k = 0; k < s->section_count; ++k) {
        const claimed_pipe *p = &s->sections[k].pipe;
        const row_pipe *row = rows_pipe(c->rows, p);
        if (!row || !slow_stocked(c->well, row, p->grade, p->thread)) return false;
    }
    return true;
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
    double most = slow_most_sections(c, l), least = slow_least_section(c->well);
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

/** What a claimed factor needs. In tension it is of the weight alone or of what pulls beside it:
 * whichever of the two it says, if it is one of them. */
static double needed_of(const loads *l, int check, const dt_factor *f)
{
    bool alone = check == DT_CHECK_TENSION && fabs(f->needed - l->tension) < 1e-12;
    return alone ? l->tension : slow_needed(l, check);
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
            double needed = needed_of(l, q, f), claimed = f->factor * (slow_needed(l, q) / needed);
            agree(c->v, "needed", (int)i, names[q], f->needed, needed, 1e-12);
            stop_told(c, s->pin_fails ? DT_NOTICE_PIN_FAILS_LOAD : DT_NOTICE_SECTION_FAILS_LOAD, i,
                      found.factor[q] / slow_needed(l, q) - 1, 2e-3);
            if (!s->pin_fails)
                demand_true(c->v, "holds", (int)i, found.eased[q] >= slow_needed(l, q), names[q]);
            /* what is left out between depths, on this load; never less than a part in a
             * thousand, for both are minima over other depths */
            double ease = found.eased[q] - found.factor[q];
            double allowed = fmax(isfinite(ease) ? ease : 0, 1e-3 * found.factor[q]);
            if (!(claimed > 50 && found.factor[q] > 50))
                agree(c->v, "factor", (int)i, names[q], claimed, found.factor[q], allowed);
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
            if (!slow_holds(l, &found, CHORD_PART)) return false;
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

/** Would the hangers bear it that one section is of another pipe? */
static bool hangers_allow(const context *c, size_t i, size_t section, const row_pipe *row,
                          const claimed_pipe *other)
{
    const claims *p = c->claims;
    if (i >= p->count) return true;
    const dt_hanger *own = slow_hanger(c, i),
                    *below = i + 1 < p->count ? slow_hanger(c, i + 1) : NULL;
    if (own && slow_hanger_spare(c, i, section, other) < 1 + 1e-6) return false;
    if (!below || slow_hanger_fits(below, row)) return true;
    /* of a weight the hanger is not set in: not where it is set, to within a foot */
    const claimed_section *s = &p->strings[i].sections[section];
    double at = p->strings[i + 1].top_md_m;
    return at < s->top_md_m - SLOW_FT || at > s->base_md_m + SLOW_FT;
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
    bool stocked = slow_of_stock(c, i);
    for (size_t k = 0; k < s->section_count; ++k)
        for (size_t p = 0; p < c->rows->pipe_count; ++p) {
            const row_pipe *row = &c->rows->pipes[p];
            const claimed_pipe *now = &s->sections[k].pipe;
            const row_grade *grade_now = rows_grade(c->rows, now->grade);
            double kgm = row->weight * SLOW_LB / SLOW_FT;
            if (kgm > now->weight_kgm + 1e-6 || !grade_now) continue;
            if (slow_drift(c->well, row) * SLOW_IN < s->need_drift_m - 0.0005 * SLOW_IN) continue;
            if (gauge) continue; /* a swap may break the rule of the top's bore */
            bool one_thread = slow_said(c->well, DT_CUSTOM_DESIGN_ONE_THREAD, 0) == 1;
            for (size_t g = 0; g < c->rows->grade_count; ++g)
                for (int t = 0; t < THREADS; ++t) {
                    const row_grade *grade = &c->rows->grades[g];
                    if (!slow_offered(c, l, row, grade->name, (dt_thread)t, stocked)) continue;
                    if (one_thread && s->section_count > 1 && t != (int)now->thread) continue;
                    bool lighter = kgm < now->weight_kgm - 1e-6;
                    bool weaker = grade->yield_psi < grade_now->yield_psi;
                    bool simpler = strcmp(grade->name, now->grade) == 0 && t < (int)now->thread;
                    if (!lighter && !weaker && !simpler) continue;
                    claimed_pipe other = {
                        .od_m = row->od * SLOW_IN, .weight_kgm = kgm, .thread = (dt_thread)t};
                    snprintf(other.grade, sizeof other.grade, "%s", grade->name);
                    if (!hangers_allow(c, i, k, row, &other)) continue;
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
            at.drag_m = drag_at(c, l, md);
            for (int q = 0; q < DT_LOAD_COUNT; ++q)
                if (l->runs[q]) loads_pressures(l, (dt_load)q, z, &at.in[q], &at.out[q]);
            spot_list one = {&at, 1};
            factors found = hold(l, &pipe, &one, md, md, base, hanging);
            const int check = (int)section->cheaper_check;
            const dt_factor *f = &section->cheaper_factor;
            double claimed = f->factor * (slow_needed(l, check) / needed_of(l, check, f));
            agree(c->v, "cheaper-fails", (int)i, "factor of the cheaper pipe", claimed,
                  found.factor[check], 1e-3 * fabs(claimed));
            demand_true(c->v, "cheaper-fails", (int)i, claimed < slow_needed(l, check),
                        "the cheaper pipe that is said to fail does not");
        }
        if (!strength_of(c->rows, &section->pipe, l->wear, &pipe)) return;
        hanging += pipe.weight_kgm * SLOW_G * (base - course_tvd(&c->course, section->top_md_m));
    }
}

/** Would a string of this one pipe hold, at every so many spots? */
static bool alone_holds(const loads *l, const spot_list *spots, size_t step, const strength *pipe)
{
    for (size_t i = 0; i < spots->count; i += step) {
        spot_list one = {&spots->items[i], 1};
        factors found = hold(l, pipe, &one, one.items->md, one.items->md, l->shoe_tvd, 0);
        if (!slow_holds(l, &found, CHORD_PART)) return false;
    }
    return true;
}

/** Pipe that is not stocked, where one stocked pipe would hold from end to end? */
static void check_stock(const context *c, size_t i, const loads *l, const spot_list *spots)
{
    const claimed_string *s = &c->claims->strings[i];
    const rows *r = c->rows;
    if (!slow_stock_first(c->well) || slow_of_stock(c, i) || s->pin_fails || fully_pinned(c, i) ||
        c->well->hangers.count > 0)
        return;
    for (size_t k = 0; k < r->pipe_count; ++k)
        for (size_t g = 0; g < r->grade_count; ++g)
            for (int t = 0; t < THREADS; ++t) {
                const row_pipe *row = &r->pipes[k];
                claimed_pipe pipe = {.od_m = row->od * SLOW_IN,
                                     .weight_kgm = row->weight * SLOW_LB / SLOW_FT,
                                     .thread = (dt_thread)t};
                strength is;
                snprintf(pipe.grade, sizeof pipe.grade, "%s", r->grades[g].name);
                if (!slow_offered(c, l, row, pipe.grade, pipe.thread, true) ||
                    slow_drift(c->well, row) * SLOW_IN < s->need_drift_m - 0.0005 * SLOW_IN)
                    continue;
                demand_true(c->v, "stock", (int)i,
                            !strength_of(r, &pipe, l->wear, &is) || !alone_holds(l, spots, 1, &is),
                            "stocked pipe would hold");
            }
}

/** Each section as the basis lets it be bought, sealing gas where it must, warm where it must. */
static void check_sold(const context *c, size_t i, const loads *l)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_pin *pin = s->seat.pin < c->well->pin_count ? &c->well->pins[s->seat.pin] : NULL;
    for (size_t k = 0; k < s->section_count; ++k) {
        const claimed_pipe *p = &s->sections[k].pipe;
        const row_pipe *row = rows_pipe(c->rows, p);
        double top = course_tvd(&c->course, s->sections[k].top_md_m);
        if (!row) return; /* told elsewhere */
        demand_true(c->v, "sold", (int)i, slow_pipe_ok(c, i, row, p->grade, p->thread),
                    "pipe that its basis would not have");
        bool seals = p->thread >= DT_FLUSH && p->thread < DT_STATED &&
                     c->rows->connections[p->thread - DT_FLUSH].gas_tight;
        demand_true(c->v, "sold", (int)i,
                    seals || !l->tight || (pin && pin->thread) || fully_pinned(c, i),
                    "a thread that does not seal gas");
        demand_true(c->v, "sold", (int)i,
                    (pin && pin->grade) || slow_sour_below(c->well, p->grade) <= top + 1e-4,
                    "a grade where it is too cold in a sour well");
        demand_true(c->v, "sold", (int)i,
                    slow_said(c->well, DT_CUSTOM_DESIGN_ONE_THREAD, 0) != 1 ||
                        p->thread == s->sections[0].pipe.thread,
                    "threads of two kinds");
    }
}

void check_strength(const context *c)
{
    double steel = 0;
    for (size_t i = 0; i < slow_all(c->claims); ++i) {
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
        if (slow_spots_make(c, &l, NULL, 0, &spots)) {
            check_factors(c, i, &l, &spots);
            check_cheapest(c, i, &l, &spots);
            check_cheaper_fails(c, i, &l);
            check_taper(c, &l);
            check_stock(c, i, &l, &spots);
            check_sold(c, i, &l);
        }
        free(spots.items);
        steel += c->claims->strings[i].steel_kg;
    }
    agree(c->v, "steel", -1, "steel of all strings, kg", c->claims->steel_kg, steel, 1e-6 * steel);
    stop_none(c, DT_NOTICE_PIN_FAILS_LOAD);
    stop_none(c, DT_NOTICE_SECTION_FAILS_LOAD);
}

/* ---- no strength ----------------------------------------------------------------------------- */

#define ALL_SPOTS 1000000 /* more than there are */

static bool may_run_at_all(const context *c, size_t i, const row_pipe *row)
{
    for (size_t g = 0; g < c->rows->grade_count; ++g)
        for (int t = 0; t < THREADS; ++t)
            if (slow_may_run(c, i, row, c->rows->grades[g].name, (dt_thread)t)) return true;
    return false;
}

/** Rows of the catalogue of which a whole string would hold, in one grade and thread or other. */
static bool find_standing(context *c, claims *sized, size_t i, size_t spots_wanted, standing *out)
{
    const rows *r = c->rows;
    claimed_string *s = &sized->strings[i];
    spot_list spots = {NULL, 0};
    loads l = {.tieback = false};
    s->section_count = 0;
    for (size_t k = 0; k < r->pipe_count; ++k) {
        const row_pipe *row = &r->pipes[k];
        if (!out->string[i].row[k]) continue;
        double od = row->od * SLOW_IN, largest = slow_or(row->coupling, row->od) * SLOW_IN;
        bool resized = s->od_m != od || s->largest_od_m != largest;
        double od_before = s->od_m, largest_before = s->largest_od_m;
        s->od_m = od;
        s->largest_od_m = largest;
        if (!may_run_at_all(c, i, row)) {
            out->string[i].row[k] = false;
            s->od_m = od_before;
            s->largest_od_m = largest_before;
            continue;
        }
        /* a circulated influx depends on the size */
        if (!spots.items || (resized && i > 0 && l.runs[DT_LOAD_BURST_INFLUX])) {
            free(spots.items);
            loads_make(c, i, &l);
            if (!slow_spots_make(c, &l, NULL, 0, &spots)) return false;
        }
        bool any = false;
        size_t step = spots.count / spots_wanted + 1;
        for (size_t g = r->grade_count; g-- > 0 && !any;)
            for (int t = THREADS; t-- > 0 && !any;) {
                claimed_pipe pipe = {.od_m = s->od_m,
                                     .weight_kgm = row->weight * SLOW_LB / SLOW_FT,
                                     .thread = (dt_thread)t};
                strength is;
                snprintf(pipe.grade, sizeof pipe.grade, "%s", r->grades[g].name);
                any = slow_offered(c, &l, row, pipe.grade, pipe.thread, false) &&
                      strength_of(r, &pipe, l.wear, &is) && alone_holds(&l, &spots, step, &is);
            }
        out->string[i].row[k] = any;
    }
    double green = c->well->loads.given ? c->well->loads.green_test_pa : NAN;
    out->string[i].tall_m = l.shoe_tvd - l.top_tvd;
    out->string[i].pressed_pa = fmax(l.bump_pa, slow_or(green, 0));
    out->string[i].wear_m = l.wear;
    free(spots.items);
    return true;
}

/** Room for claims with other sizes, and for what stands; nothing where pins are kept though they
 * fail. */
static bool prepare(const context *asked, context *c, claims **sized, standing **s)
{
    for (size_t i = 0; i < asked->well->pin_count; ++i) {
        const dt_pin *pin = &asked->well->pins[i];
        if (!isnan(pin->hole_m) || !isnan(pin->weight_kgm)) return false;
    }
    *sized = malloc(sizeof **sized);
    *s = calloc(1, sizeof **s);
    if (!*sized || !*s) return false;
    **sized = *asked->claims;
    *c = *asked;
    c->claims = *sized;
    for (size_t i = 0; i < slow_all(*sized); ++i)
        for (size_t k = 0; k < ROW_PIPES; ++k)
            (*s)->string[i].row[k] = true;
    return true;
}

static bool find_all(context *c, claims *sized, size_t spots_wanted, standing *s)
{
    for (size_t i = 0; i < slow_all(sized); ++i)
        if (!find_standing(c, sized, i, spots_wanted, s)) return false;
    return true;
}

/**
 * Strings of one pipe each: do some nest and hold? Then the planner was wrong to say that none do;
 * that tapered ones might is not looked at. At a few spots first: where that leaves nothing,
 * nothing holds.
 */
static void check_none_holds(const context *asked)
{
    claims *sized = NULL;
    standing *s = NULL;
    context c;
    if (slow_by_size(asked->well)) return; /* sizes are cut there, and that is not exact */
    bool exists = prepare(asked, &c, &sized, &s) && find_all(&c, sized, 16, s) &&
                  slow_path_exists(&c, s) && find_all(&c, sized, ALL_SPOTS, s) &&
                  slow_path_exists(&c, s);
    demand_true(asked->v, "no-strength", -1, !exists,
                "strings of one pipe each nest and hold, and the planner says that none do");
    free(sized);
    free(s);
}

/** Of strings of one pipe each, no path has fewer unusual holes, or as many and less rock. */
void check_sizes(const context *asked)
{
    claims *sized = NULL;
    standing *s = NULL;
    context c;
    drilled best, said = slow_drilled(asked);
    /* of sizes settled with seats the order is another: pairs first, and slimness */
    if (slow_together(asked)) return;
    bool better = prepare(asked, &c, &sized, &s) && find_all(&c, sized, 16, s) &&
                  slow_best_path(&c, s, &best) && slow_less(best, said) &&
                  find_all(&c, sized, ALL_SPOTS, s) && slow_best_path(&c, s, &best) &&
                  slow_less(best, said);
    ++asked->v->compared;
    if (better)
        fault(asked->v, "sizes", -1,
              "%.0f unusual holes and %.3f m3 of rock; %.0f and %.3f would do", said.unusual,
              said.rock_m3, best.unusual, best.rock_m3);
    free(sized);
    free(s);
}

/** The nearest pipe is said to fail at a depth: does it, over the whole string? */
void check_no_strength(const context *c)
{
    const claims *p = c->claims;
    size_t i = p->short_string;
    loads l;
    strength pipe;
    check_none_holds(c);
    if (!p->short_known || p->short_by_hanger || i >= slow_all(p)) return;
    loads_make(c, i, &l);
    demand_true(c->v, "no-strength", (int)i, strength_of(c->rows, &p->short_pipe, l.wear, &pipe),
                "the pipe that comes nearest is not in the catalogue");
    const row_pipe *row = rows_pipe(c->rows, &p->short_pipe);
    if (!row || !strength_of(c->rows, &p->short_pipe, l.wear, &pipe)) return;
    if (l.runs[DT_LOAD_BURST_INFLUX]) return; /* the bore of a size that is not settled */
    spot_list spots = {NULL, 0};
    if (slow_spots_make(c, &l, NULL, 0, &spots)) {
        factors found = hold(&l, &pipe, &spots, l.top_md, l.shoe_md, l.shoe_tvd, 0);
        demand_true(c->v, "no-strength", (int)i, !slow_holds(&l, &found, CHORD_PART),
                    "the pipe that is said to fail holds");
    }
    free(spots.items);
}
