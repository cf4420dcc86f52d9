/* SPDX-License-Identifier: MIT */
#include "annulus.h"

#include <math.h>
#include <stdlib.h>

#include "basis.h"
#include "numbers.h"
#include "same.h"
#include "units.h"

/* ---- building ---- */

typedef struct builder {
    const dt_well *well;
    const dt_seats *seats;
    const dt_strings *strings;
    size_t string, before; /* before: strings run before this one */
    double hole_m, open_md_m, top_md_m, ground_md_m;
    dt_annulus *out;
    double *depths; /* every depth where something changes */
    size_t depth_count;
} builder;

/** The innermost pipe outside a depth, of the strings run before; NULL in open hole. */
static const dt_section *outside(const builder *b, double md_m)
{
    for (size_t i = b->before; i-- > 0;) {
        const dt_string *s = &b->strings->items[dt_seats_at(b->seats, i)];
        for (size_t k = 0; k < s->section_count; ++k)
            if (md_m > s->sections[k].top_md_m && md_m < s->sections[k].base_md_m)
                return &s->sections[k];
    }
    return NULL;
}

static const dt_section *own_section(const builder *b, double md_m)
{
    const dt_string *s = &b->strings->items[b->string];
    for (size_t k = 0; k < s->section_count; ++k)
        if (md_m > s->sections[k].top_md_m && md_m < s->sections[k].base_md_m)
            return &s->sections[k];
    return NULL;
}

/** Diameter of the hole by the caliper log, or the bit's where it has no reading. */
static double caliper_at(const builder *b, double md_m, bool *logged)
{
    const dt_caliper_point *points = b->well->caliper;
    for (size_t i = 1; i < b->well->caliper_count; ++i) {
        if (md_m < points[i - 1].md_m - SAME_DEPTH_M || md_m > points[i].md_m + SAME_DEPTH_M)
            continue;
        double share = (md_m - points[i - 1].md_m) / (points[i].md_m - points[i - 1].md_m);
        share = fmin(fmax(share, 0), 1);
        *logged = true;
        return points[i - 1].diameter_m + share * (points[i].diameter_m - points[i - 1].diameter_m);
    }
    *logged = false;
    return b->hole_m;
}

static void add_depth(builder *b, double md_m, double low_m, double high_m)
{
    if (md_m >= low_m && md_m <= high_m) b->depths[b->depth_count++] = md_m;
}

/** Most steps that a cone between two readings is cut into. */
#define MOST_STEPS 20

/**
 * Steps of the cone that ends at a reading. Friction goes with the gap to the third power and is
 * taken at the middle of a step: where the gap changes by a twentieth over it, that is a thousandth
 * of it.
 */
static size_t cone_steps(const builder *b, size_t reading)
{
    const dt_caliper_point *from = &b->well->caliper[reading - 1], *to = from + 1;
    const dt_string *own = &b->strings->items[b->string];
    const double narrow_m = fmin(from->diameter_m, to->diameter_m),
                 gap_m = narrow_m - own->sections[0].pipe->od_m,
                 steps = dt_count_up(fabs(to->diameter_m - from->diameter_m) / (gap_m / 20));
    if (!(gap_m > 0) || !(steps < MOST_STEPS)) return MOST_STEPS;
    return steps > 1 ? (size_t)steps : 1;
}

static void add_cones(builder *b, double low_m, double high_m)
{
    const dt_caliper_point *points = b->well->caliper;
    for (size_t i = 0; i < b->well->caliper_count; ++i) {
        const size_t steps = i > 0 ? cone_steps(b, i) : 1;
        for (size_t k = 1; k < steps; ++k)
            add_depth(b,
                      points[i - 1].md_m +
                          (points[i].md_m - points[i - 1].md_m) * (double)k / (double)steps,
                      low_m, high_m);
        add_depth(b, points[i].md_m, low_m, high_m);
    }
}

static dt_status collect_depths(builder *b)
{
    size_t most = 3 + MOST_STEPS * b->well->caliper_count;
    for (size_t i = 0; i <= b->before; ++i)
        most += 2 * b->strings->items[dt_seats_at(b->seats, i)].section_count;
    b->depths = calloc(most, sizeof *b->depths);
    if (!b->depths) return DT_E_MEMORY;
    double low = b->top_md_m, high = b->out->shoe_md_m;
    add_depth(b, low, low, high);
    add_depth(b, high, low, high);
    add_depth(b, b->ground_md_m, low, high);
    for (size_t i = 0; i <= b->before; ++i) {
        const dt_string *s = &b->strings->items[dt_seats_at(b->seats, i)];
        for (size_t k = 0; k < s->section_count; ++k) {
            add_depth(b, s->sections[k].top_md_m, low, high);
            add_depth(b, s->sections[k].base_md_m, low, high);
        }
    }
    add_cones(b, fmax(low, b->open_md_m), high);
    qsort(b->depths, b->depth_count, sizeof *b->depths, by_value);
    return DT_OK;
}

/** Bore of the pipe that a string is run on. */
static double landing_id(const builder *b)
{
    return dt_custom_or(b->well, b->well->running.landing_id_m, DT_CUSTOM_LANDING_ID);
}

static dt_annulus_piece make_piece(builder *b, double top_md_m, double base_md_m)
{
    const dt_running_wishes *wishes = &b->well->running;
    double middle_m = (top_md_m + base_md_m) / 2;
    dt_annulus_piece piece = {.top_md_m = top_md_m, .base_md_m = base_md_m};
    const dt_section *own = own_section(b, middle_m), *round = outside(b, middle_m);
    piece.landing = own == NULL;
    piece.pipe_kgm = own ? own->pipe->weight_kgm
                         : dt_custom_or(b->well, wishes->landing_kgm, DT_CUSTOM_LANDING_WEIGHT);
    piece.pipe_od_m =
        own ? own->pipe->od_m : dt_custom_or(b->well, wishes->landing_od_m, DT_CUSTOM_LANDING_OD);
    piece.pipe_id_m = own ? own->pipe->id_m : landing_id(b);
    piece.open = round == NULL;
    if (round) {
        piece.outer_top_m = piece.outer_base_m = round->pipe->id_m;
        return piece;
    }
    if (middle_m < b->ground_md_m && b->well->bop_at_seabed) {
        piece.open = false;
        piece.outer_top_m = piece.outer_base_m = b->well->riser_bore_m;
        return piece;
    }
    bool logged = false, any = false;
    (void)caliper_at(b, middle_m, &any);
    piece.outer_top_m = any ? caliper_at(b, top_md_m, &logged) : b->hole_m;
    piece.outer_base_m = any ? caliper_at(b, base_md_m, &logged) : b->hole_m;
    b->out->by_caliper = b->out->by_caliper || any;
    return piece;
}

/** Bore of what stands above an annulus that begins at the ground: the string goes on, or the pipe
 * it is run on where it hangs in a wellhead there. */
static double above_id(const builder *b)
{
    const bool hangs = b->out->string_top_md_m > b->out->pieces[0].top_md_m - SAME_DEPTH_M;
    return hangs ? landing_id(b) : b->out->pieces[0].pipe_id_m;
}

/** The log is straight between readings: narrowest at one of them or at an end of the hole. */
static void find_narrowest(const builder *b, dt_annulus *out)
{
    const dt_caliper_point *points = b->well->caliper;
    const double top_m = fmax(b->open_md_m, b->top_md_m);
    out->narrow_m = INFINITY;
    for (size_t i = 1; i < b->well->caliper_count; ++i) {
        const dt_caliper_point *from = &points[i - 1], *to = &points[i];
        const double ends_m[2] = {fmax(from->md_m, top_m), fmin(to->md_m, out->shoe_md_m)};
        for (size_t k = 0; k < 2 && ends_m[1] > ends_m[0] + SAME_DEPTH_M; ++k) {
            const double share = (ends_m[k] - from->md_m) / (to->md_m - from->md_m);
            const double hole_m = from->diameter_m + share * (to->diameter_m - from->diameter_m);
            if (!(hole_m < out->narrow_m)) continue;
            out->narrow_m = hole_m;
            out->narrow_md_m = ends_m[k];
            out->narrow_line = from->diameter_m <= to->diameter_m ? from->line : to->line;
        }
    }
}

dt_status dt_annulus_build(const dt_stages *stages, size_t string, dt_annulus *out)
{
    const dt_well *well = stages->well;
    const dt_strings *strings = stages->strings;
    const dt_trajectory *trajectory = stages->trajectory;
    const dt_string *own = &strings->items[string];
    double ground_md = dt_trajectory_md(trajectory, dt_well_ground_m(well));
    *out = (dt_annulus){.string_top_md_m = own->load.top_md_m,
                        .hole_m = stages->nest->holes[own->nest_hole].diameter_m,
                        .open_md_m = string ? strings->items[string - 1].load.shoe_md_m : ground_md,
                        .shoe_md_m = own->load.shoe_md_m};
    if (own->load.tieback) out->open_md_m = out->shoe_md_m; /* in pipe from end to end */
    builder b = {.well = well,
                 .seats = stages->seats,
                 .strings = strings,
                 .string = string,
                 .before = dt_seats_position(stages->seats, string),
                 .out = out};
    b.hole_m = out->hole_m;
    b.open_md_m = out->open_md_m;
    b.ground_md_m = ground_md;
    /* Round the first pipe, and before a BOP stands at the sea floor, the annulus ends at the
     * ground; sea water stands on it. */
    const bool to_ground = string == 0 || string < dt_well_riserless(well);
    b.top_md_m = to_ground ? ground_md : 0;
    out->top_tvd_m = to_ground ? dt_well_ground_m(well) : 0;
    if (to_ground) out->top_pressure_pa = dt_well_sea_kgm2(well) * DT_STANDARD_GRAVITY;
    find_narrowest(&b, out);
    dt_status status = collect_depths(&b);
    if (status == DT_OK) {
        out->pieces = calloc(b.depth_count + 1, sizeof *out->pieces);
        if (!out->pieces) status = DT_E_MEMORY;
    }
    for (size_t i = 1; status == DT_OK && i < b.depth_count; ++i)
        if (b.depths[i] - b.depths[i - 1] > SAME_DEPTH_M)
            out->pieces[out->count++] = make_piece(&b, b.depths[i - 1], b.depths[i]);
    free(b.depths);
    if (status == DT_OK && out->count) out->above_id_m = above_id(&b);
    return status;
}

double dt_annulus_static(const dt_annulus *annulus, double kgm3, double tvd_m)
{
    return annulus->top_pressure_pa +
           kgm3 * DT_STANDARD_GRAVITY * fmax(tvd_m - annulus->top_tvd_m, 0);
}

void dt_annulus_free(dt_annulus *annulus)
{
    if (!annulus) return;
    free(annulus->pieces);
    *annulus = (dt_annulus){0};
}

/** Highest EMW of a curve in a hole: at an end of one of its stretches. NAN without points. */
static double highest_emw(const dt_curve *curve, const dt_window *window, double top_m,
                          double base_m)
{
    double highest =
        fmax(dt_curve_emw(curve, top_m, DT_BELOW), dt_curve_emw(curve, base_m, DT_ABOVE));
    for (size_t i = dt_window_break_below(window, top_m);
         i < window->break_count && window->breaks[i] < base_m; ++i)
        highest = fmax(highest, fmax(dt_curve_emw(curve, window->breaks[i], DT_ABOVE),
                                     dt_curve_emw(curve, window->breaks[i], DT_BELOW)));
    return highest;
}

/** The hole of a conductor begins at the ground, where a margin stated as a pressure would ask for
 * any mud: it is taken at the shoe. */
static double conductor_mud(const dt_stages *stages, double shoe_m)
{
    const dt_well *well = stages->well;
    const double ground_m = dt_well_ground_m(well);
    if (well->bop_at_seabed) { /* at its shoe: at the sea floor any pressure asks for any mud */
        const dt_face shoe = dt_window_face(stages->window, shoe_m, DT_ABOVE);
        return dt_window_riserless(stages->window, &shoe);
    }
    return fmax(highest_emw(&well->pore, stages->window, ground_m, shoe_m) +
                    dt_margin_emw(&well->margins.trip, shoe_m),
                highest_emw(&well->collapse, stages->window, ground_m, shoe_m));
}

double dt_annulus_mud(const dt_stages *stages, size_t string)
{
    const dt_seat *seat = &stages->seats->items[string];
    return isfinite(seat->mud_kgm3) ? seat->mud_kgm3 : conductor_mud(stages, seat->shoe_m);
}

/** Deepest a stretch of open hole is looked at in one step, m. */
#define EXPOSED_STEP_M 50.0

static dt_exposed expose(const dt_stages *stages, double tvd_m, dt_side side, bool both)
{
    const dt_curve *fracture = &stages->well->fracture;
    const double weight_m = DT_STANDARD_GRAVITY * tvd_m;
    dt_exposed at = {.md_m = dt_trajectory_md(stages->trajectory, tvd_m),
                     .tvd_m = tvd_m,
                     .above_pa = dt_curve_emw(fracture, tvd_m, DT_ABOVE) * weight_m,
                     .below_pa = dt_curve_emw(fracture, tvd_m, DT_BELOW) * weight_m};
    at.fracture_pa = side == DT_ABOVE ? at.above_pa : at.below_pa;
    if (both) at.fracture_pa = fmin(at.above_pa, at.below_pa);
    return at;
}

/** How far the fracture pressure of the stretch down to `to` sags below its chord, times 4: 0 where
 *  it is straight in pressure, a parabola where it is straight in gradient. */
static double sag_of(const dt_curve *fracture, const dt_exposed *from, const dt_exposed *to)
{
    if (fracture->between == DT_BETWEEN_PRESSURE || !(from->tvd_m > 0)) return 0;
    return (to->above_pa / to->tvd_m - from->below_pa / from->tvd_m) * (to->tvd_m - from->tvd_m);
}

/** Does the curve bend or step at a point, or end there? A point on the line between its neighbours
 *  says nothing new. */
static bool bends_at(const dt_curve *curve, size_t i)
{
    if (i == 0 || i + 1 >= curve->count) return true;
    const dt_curve_point *a = &curve->points[i - 1], *p = a + 1, *b = a + 2;
    if (!(p->tvd_m > a->tvd_m && b->tvd_m > p->tvd_m)) return true;
    const bool pressure = curve->between == DT_BETWEEN_PRESSURE;
    const double from = a->emw_kgm3 * (pressure ? a->tvd_m : 1),
                 at = p->emw_kgm3 * (pressure ? p->tvd_m : 1),
                 to = b->emw_kgm3 * (pressure ? b->tvd_m : 1),
                 line = from + (to - from) * (p->tvd_m - a->tvd_m) / (b->tvd_m - a->tvd_m);
    return !dt_same(at, line);
}

/** Depth of the next bend below a depth; *next: the first point not yet passed. */
static double next_point(const dt_curve *curve, size_t *next, double at_m)
{
    while (*next < curve->count &&
           (curve->points[*next].tvd_m <= at_m + SAME_DEPTH_M || !bends_at(curve, *next)))
        ++*next;
    return *next < curve->count ? curve->points[*next].tvd_m : INFINITY;
}

/** Next depth below at which a caliper log bends: friction does, so the rock is looked at there. */
static double next_bend(const dt_stages *stages, const dt_annulus *annulus, size_t *piece,
                        double at_m)
{
    if (!annulus->by_caliper) return INFINITY;
    for (; *piece < annulus->count; ++*piece) {
        const double tvd_m =
            dt_trajectory_deepest(stages->trajectory, annulus->pieces[*piece].base_md_m);
        if (tvd_m > at_m + SAME_DEPTH_M) return tvd_m;
    }
    return INFINITY;
}

dt_status dt_annulus_exposed(const dt_stages *stages, const dt_annulus *annulus, dt_exposed **out,
                             size_t *count)
{
    double top = dt_trajectory_deepest(stages->trajectory, annulus->open_md_m);
    double base = dt_trajectory_deepest(stages->trajectory, annulus->shoe_md_m);
    /* A pinned shoe may stand above the one before: then there is no open hole. */
    double open = fmax(base - top, 0);
    const dt_curve *fracture = &stages->well->fracture;
    size_t most = fracture->count + annulus->count + (size_t)(open / EXPOSED_STEP_M) + 3;
    dt_exposed *list = calloc(most, sizeof *list);
    if (!list) return DT_E_MEMORY;
    size_t n = 0, next = 0, piece = 0;
    /* At the ground itself, round the first pipe, nothing bears and nothing weighs. */
    if (open > 0 && annulus->count && !annulus->pieces[0].open)
        list[n++] = expose(stages, top, DT_BELOW, false);
    /* Only where the rock's strength bends: a point on a line must not move the looks below it. */
    for (double at = top; at < base - SAME_DEPTH_M;) {
        double to = fmin(at + EXPOSED_STEP_M, base);
        to = fmin(to, next_bend(stages, annulus, &piece, at));
        const double point_m = next_point(fracture, &next, at);
        const bool is_point = point_m <= to + SAME_DEPTH_M;
        if (is_point) to = fmin(point_m, base);
        list[n] = expose(stages, to, DT_ABOVE, is_point && to < base - SAME_DEPTH_M);
        if (n > 0) list[n].sag_pa = sag_of(fracture, &list[n - 1], &list[n]);
        ++n;
        at = to;
    }
    *out = list;
    *count = n;
    return DT_OK;
}

bool dt_tight_between(const dt_exposed *above, const dt_exposed *below,
                      const dt_tight_spot *at_above, const dt_tight_spot *at_below,
                      dt_tight_spot *out)
{
    const double sag = below->sag_pa;
    const double pressure_pa = at_below->pressure_pa - at_above->pressure_pa,
                 needed_pa = at_below->needed_pa - at_above->needed_pa;
    const double rise_pa = below->above_pa - above->below_pa - sag;
    if (!(sag > 0)) return false; /* hollow from below or straight: narrowest at an end */
    const double share = -(rise_pa - pressure_pa - needed_pa) / (2 * sag);
    if (!(share > 0 && share < 1)) return false;
    *out = (dt_tight_spot){.md_m = above->md_m + share * (below->md_m - above->md_m),
                           .tvd_m = above->tvd_m + share * (below->tvd_m - above->tvd_m),
                           .pressure_pa = at_above->pressure_pa + share * pressure_pa,
                           .needed_pa = at_above->needed_pa + share * needed_pa,
                           .fracture_pa = above->below_pa + share * (rise_pa + share * sag)};
    out->spare_pa = out->fracture_pa - out->pressure_pa - out->needed_pa;
    return true;
}

/* ---- volumes ---- */

const dt_annulus_piece *dt_annulus_at(const dt_annulus *annulus, double md_m)
{
    size_t low = 0, high = annulus->count - 1;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (annulus->pieces[middle].base_md_m >= md_m - SAME_DEPTH_M)
            high = middle;
        else
            low = middle + 1;
    }
    return &annulus->pieces[low];
}

double dt_annulus_outer(const dt_annulus_piece *piece, double md_m)
{
    double share = (md_m - piece->top_md_m) / (piece->base_md_m - piece->top_md_m);
    return piece->outer_top_m + share * (piece->outer_base_m - piece->outer_top_m);
}

double dt_annulus_volume(const dt_annulus *annulus, double from_md_m, double to_md_m, double excess,
                         dt_excess_on excess_on)
{
    double volume = 0;
    for (size_t i = 0; i < annulus->count; ++i) {
        const dt_annulus_piece *p = &annulus->pieces[i];
        double top = fmax(p->top_md_m, from_md_m), base = fmin(p->base_md_m, to_md_m);
        if (base <= top) continue;
        double d1 = dt_annulus_outer(p, top), d2 = dt_annulus_outer(p, base);
        double cone = PI / 12 * (d1 * d1 + d1 * d2 + d2 * d2);
        double factor = p->open || excess_on == DT_EXCESS_ANNULUS ? 1 + excess : 1;
        volume += (cone - circle_area(p->pipe_od_m)) * (base - top) * factor;
    }
    return volume;
}

double dt_annulus_bore(const dt_annulus *annulus, double from_md_m, double to_md_m)
{
    double volume = 0;
    if (annulus->count) {
        const double base_m = fmin(annulus->pieces[0].top_md_m, to_md_m);
        volume = circle_area(annulus->above_id_m) * fmax(base_m - from_md_m, 0);
    }
    for (size_t i = 0; i < annulus->count; ++i) {
        const dt_annulus_piece *p = &annulus->pieces[i];
        double top = fmax(p->top_md_m, from_md_m), base = fmin(p->base_md_m, to_md_m);
        if (base > top) volume += circle_area(p->pipe_id_m) * (base - top);
    }
    return volume;
}

double dt_annulus_steel(const dt_annulus *annulus, double from_md_m, double to_md_m,
                        double *closed_m3)
{
    double steel = 0, closed = 0;
    for (size_t i = 0; i < annulus->count; ++i) {
        const dt_annulus_piece *p = &annulus->pieces[i];
        double top = fmax(p->top_md_m, from_md_m), base = fmin(p->base_md_m, to_md_m);
        if (base <= top) continue;
        steel += (circle_area(p->pipe_od_m) - circle_area(p->pipe_id_m)) * (base - top);
        closed += circle_area(p->pipe_od_m) * (base - top);
    }
    if (closed_m3) *closed_m3 = closed;
    return steel;
}

/* ---- friction ---- */

void dt_power_law(double reading_600, double reading_300, double *n, double *k_pasn)
{
    const double degree_pa = DT_N_PER_LBF / (100 * DT_M_PER_FT * DT_M_PER_FT);
    *n = log2(reading_600 / reading_300);
    *k_pasn = reading_300 * degree_pa / pow(511, *n);
}

/** Turbulent gradient of a power law, where laminar flow would make laminar_pam. */
static double turbulent_power(double hydraulic_m, double speed_ms, dt_liquid liquid,
                              double laminar_re, double laminar_pam)
{
    const double dynamic = 2 * liquid.density_kgm3 * speed_ms * speed_ms / hydraulic_m;
    if (!(laminar_pam > 0)) return 0;
    const double reynolds = laminar_re * dynamic / laminar_pam;
    const double a = (log10(liquid.n) + 3.93) / 50, b = (1.75 - log10(liquid.n)) / 7;
    return a / pow(reynolds, b) * dynamic;
}

/** Re of a power law is what makes the friction of laminar flow this over it: in a slot, a pipe. */
#define SLOT_RE 24.0
#define PIPE_RE 16.0

/** Fanning friction of turbulent flow in smooth pipe: Blasius, from memory. */
static double turbulent(double hydraulic_m, double speed_ms, dt_liquid liquid)
{
    if (liquid.pv_pas <= 0) return 0;
    double reynolds = liquid.density_kgm3 * speed_ms * hydraulic_m / liquid.pv_pas;
    double f = 0.0791 / sqrt(sqrt(reynolds));
    return 2 * f * liquid.density_kgm3 * speed_ms * speed_ms / hydraulic_m;
}

double dt_friction_slot(double outer_m, double od_m, double speed_ms, dt_liquid liquid)
{
    double gap = outer_m - od_m;
    if (speed_ms <= 0) return 0;
    if (gap <= 0) return INFINITY;
    if (liquid.n > 0) {
        const double rate = 12 * speed_ms / gap * (2 * liquid.n + 1) / (3 * liquid.n);
        return 4 * liquid.k_pasn * pow(rate, liquid.n) / gap;
    }
    return 48 * liquid.pv_pas * speed_ms / (gap * gap) + 6 * liquid.yp_pa / gap;
}

/** The slot's hydraulic diameter is twice its width, which is both sides' gap together. */
static double turbulent_slot(double outer_m, double od_m, double speed_ms, dt_liquid liquid)
{
    const double gap_m = outer_m - od_m;
    if (!(liquid.n > 0)) return turbulent(gap_m, speed_ms, liquid);
    return turbulent_power(gap_m, speed_ms, liquid, SLOT_RE,
                           dt_friction_slot(outer_m, od_m, speed_ms, liquid));
}

double dt_friction_annulus(double outer_m, double od_m, double speed_ms, dt_liquid liquid)
{
    double laminar = dt_friction_slot(outer_m, od_m, speed_ms, liquid);
    if (speed_ms <= 0 || isinf(laminar)) return laminar;
    return fmax(laminar, turbulent_slot(outer_m, od_m, speed_ms, liquid));
}

double dt_clinging(double od_m, double outer_m, bool is_turbulent)
{
    double ratio = od_m / outer_m;
    return is_turbulent ? 0.10 * ratio + 0.41 : 0.275 * ratio + 0.25;
}

double dt_surge_gradient(double outer_m, double od_m, double pipe_speed_ms, dt_liquid liquid)
{
    if (pipe_speed_ms <= 0) return 0;
    if (outer_m <= od_m) return INFINITY;
    double driven = pipe_speed_ms * od_m * od_m / (outer_m * outer_m - od_m * od_m);
    double slow = driven + dt_clinging(od_m, outer_m, false) * pipe_speed_ms;
    double fast = driven + dt_clinging(od_m, outer_m, true) * pipe_speed_ms;
    return fmax(dt_friction_slot(outer_m, od_m, slow, liquid),
                turbulent_slot(outer_m, od_m, fast, liquid));
}

double dt_friction_pipe(double id_m, double speed_ms, dt_liquid liquid)
{
    if (speed_ms <= 0) return 0;
    if (liquid.n > 0) {
        const double rate = 8 * speed_ms / id_m * (3 * liquid.n + 1) / (4 * liquid.n);
        const double slow = 4 * liquid.k_pasn * pow(rate, liquid.n) / id_m;
        return fmax(slow, turbulent_power(id_m, speed_ms, liquid, PIPE_RE, slow));
    }
    double laminar = 32 * liquid.pv_pas * speed_ms / (id_m * id_m) + 16 * liquid.yp_pa / (3 * id_m);
    return fmax(laminar, turbulent(id_m, speed_ms, liquid));
}
