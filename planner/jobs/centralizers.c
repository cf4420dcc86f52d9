/* SPDX-License-Identifier: MIT */
#include "centralizers.h"

#include <math.h>
#include <stdlib.h>

#include "basis.h"
#include "numbers.h"
#include "same.h"
#include "units.h"

#define FT DT_M_PER_FT
#define IN DT_M_PER_IN

/** Standoff at which API Spec 10D states a bow's force. */
#define STANDOFF_RATED 0.67

/** Stretches that are looked at as one when spacing is computed. */
#define STRETCH_M 100.0

static const double G = DT_STANDARD_GRAVITY;

/* ---- formulas ---- */

double dt_pipe_stiffness(double od_m, double id_m)
{
    return dt_steel_modulus_pa() * PI / 64 * (pow(od_m, 4) - pow(id_m, 4));
}

double dt_centralizer_load(double weight_nm, double tension_n, double inclination_rad,
                           double build_rad_m, double turn_rad_m, double span_m, double *low_side_n)
{
    double low =
        weight_nm * span_m * sin(inclination_rad) - 2 * tension_n * sin(build_rad_m * span_m / 2);
    double across = 2 * tension_n * sin(turn_rad_m * span_m / 2);
    if (low_side_n) *low_side_n = low;
    return sqrt(low * low + across * across);
}

double dt_sag(double load_n, double span_m, double stiffness_nm2, double tension_n)
{
    double plain = load_n * span_m * span_m * span_m / (384 * stiffness_nm2);
    double u2 = tension_n * span_m * span_m / (4 * stiffness_nm2), u = sqrt(fabs(u2));
    /* Near 0 the bracket loses all its digits; its series is 1 - u^2/10 + 17 u^4/1680. */
    if (u < 0.05) return plain * (1 - u2 / 10 + 17 * u2 * u2 / 1680);
    if (u2 > 0) return plain * 24 / (u2 * u2) * (u2 / 2 - u * tanh(u / 2));
    if (u >= PI) return INFINITY; /* the span buckles */
    return plain * 24 / (u2 * u2) * (u2 / 2 + u * tan(u / 2));
}

dt_standoff dt_standoff_of(double hole_m, double od_m, dt_centralizer_kind kind, double restoring_n,
                           double rigid_od_m, double load_n, double sag_m)
{
    double clearance = (hole_m - od_m) / 2;
    double at = kind == DT_CENTRALIZER_BOW
                    ? clearance * (1 - (1 - STANDOFF_RATED) * load_n / restoring_n)
                    : fmin((rigid_od_m - od_m) / 2, clearance);
    dt_standoff out = {.at = fmax(at, 0) / clearance};
    out.mid = fmin(out.at, fmax(at - sag_m, 0) / clearance);
    return out;
}

double dt_restoring_force(double od_m, double weight_kgm, bool *published)
{
    static const struct {
        double od_in, lbf;
    } rows[] = {{4.5, 464},    {5.5, 620},    {7, 1040},      {8.625, 1440},
                {9.625, 1600}, {10.75, 1020}, {13.375, 1220}, {20, 1880}};
    for (size_t i = 0; i < COUNT_OF(rows); ++i)
        if (fabs(od_m / IN - rows[i].od_in) < SAME_DIAMETER_IN) {
            *published = true;
            return rows[i].lbf * DT_N_PER_LBF;
        }
    /* The published figures are a medium weight times 40 ft up to 9-5/8 in, 20 ft above. */
    *published = false;
    return weight_kgm * G * (od_m <= 9.6255 * IN ? 40 : 20) * FT;
}

/* ---- the string in place ---- */

typedef struct worker {
    const dt_stages *stages;
    const dt_cement *cement;
    const dt_running_wishes *wishes;
    const dt_path_step *path;
    size_t path_count;
    double *tension; /* effective, at the middle of each step */
    const dt_annulus *annulus;
    double joint_m;
    dt_centralizing *out;
    size_t capacity;
} worker;

/** What stands outside the pipe at a depth at the end of the job. */
static double outside_density(const dt_cement *cement, double md_m)
{
    double density = cement->mud_kgm3;
    for (size_t i = 0; i < cement->part_count; ++i)
        if (md_m >= cement->parts[i].top_md_m - SAME_DEPTH_M)
            density = cement->parts[i].slurry.density_kgm3;
    return density;
}

static double weight_at(const worker *w, double md_m)
{
    const dt_annulus_piece *p = dt_annulus_at(w->annulus, md_m);
    double inside = md_m > w->cement->collar_md_m + SAME_DEPTH_M
                        ? w->cement->parts[w->cement->part_count - 1].slurry.density_kgm3
                        : w->cement->displacement_kgm3;
    return G * dt_weight_by_volumes(p->pipe_kgm, p->pipe_od_m, p->pipe_id_m, inside,
                                    outside_density(w->cement, md_m));
}

static void fill_tension(worker *w)
{
    double tension = 0;
    for (size_t i = w->path_count; i-- > 0;) {
        const dt_path_step *s = &w->path[i];
        double middle = (s->top_md_m + s->base_md_m) / 2;
        double gain = weight_at(w, middle) * (s->base_tvd_m - s->top_tvd_m);
        w->tension[i] = tension + gain / 2;
        tension += gain;
    }
}

/** In the middle of what a step has of a stretch: above it other liquids may stand outside. */
static dt_standoff standoff_in_step(const worker *w, size_t step, const dt_centralizer_run *run,
                                    double *load_n)
{
    const dt_path_step *s = &w->path[step];
    double span_m = run->spacing_m;
    double middle = (fmax(s->top_md_m, run->top_md_m) + fmin(s->base_md_m, run->base_md_m)) / 2;
    const dt_annulus_piece *p = dt_annulus_at(w->annulus, middle);
    double hole = dt_annulus_outer(p, fmin(fmax(middle, p->top_md_m), p->base_md_m));
    *load_n = dt_centralizer_load(weight_at(w, middle), w->tension[step], s->inclination_rad,
                                  s->build_rad_m, s->turn_rad_m, span_m, NULL);
    double sag =
        dt_sag(*load_n, span_m, dt_pipe_stiffness(p->pipe_od_m, p->pipe_id_m), w->tension[step]);
    double rigid = or_else(w->wishes->rigid_od_m,
                           hole - dt_custom_value_of(w->stages->well, DT_CUSTOM_RIGID_GAP));
    return dt_standoff_of(hole, p->pipe_od_m, w->wishes->centralizer, w->out->restoring_n, rigid,
                          *load_n, sag);
}

/* ---- the list ---- */

static dt_status add_run(worker *w, dt_centralizer_run run)
{
    dt_centralizing *out = w->out;
    /* A stretch like the one above goes on with it. */
    dt_centralizer_run *last = out->count ? &out->runs[out->count - 1] : NULL;
    if (last && !run.by_rule && !last->by_rule && last->kind == run.kind &&
        fabs(last->spacing_m - run.spacing_m) < SAME_DEPTH_M && last->reached == run.reached &&
        fabs(last->base_md_m - run.top_md_m) < SAME_DEPTH_M) {
        last->base_md_m = run.base_md_m;
        last->standoff_at = fmin(last->standoff_at, run.standoff_at);
        last->standoff_mid = fmin(last->standoff_mid, run.standoff_mid);
        last->side_n = fmax(last->side_n, run.side_n);
        return DT_OK;
    }
    if (out->count == w->capacity) {
        size_t capacity = 2 * w->capacity + 8;
        dt_centralizer_run *bigger = realloc(out->runs, capacity * sizeof *bigger);
        if (!bigger) return DT_E_MEMORY;
        out->runs = bigger;
        w->capacity = capacity;
    }
    out->runs[out->count++] = run;
    return DT_OK;
}

static dt_status add_rule(worker *w, double top_m, double base_m, double spacing_m, size_t count,
                          dt_centralizer_kind kind, const char *why)
{
    return add_run(w, (dt_centralizer_run){.top_md_m = top_m,
                                           .base_md_m = base_m,
                                           .spacing_m = spacing_m,
                                           .count = count,
                                           .kind = kind,
                                           .by_rule = true,
                                           .reached = true,
                                           .standoff_at = NAN,
                                           .standoff_mid = NAN,
                                           .side_n = NAN,
                                           .why = why});
}

static bool near_zone(const worker *w, double top_md_m, double base_md_m)
{
    const dt_well *well = w->stages->well;
    const double reach_m = dt_custom_value_of(well, DT_CUSTOM_ZONE_REACH);
    double top = dt_trajectory_deepest(w->stages->trajectory, top_md_m) - reach_m;
    double base = dt_trajectory_deepest(w->stages->trajectory, base_md_m) + reach_m;
    for (size_t i = 0; i < well->pay_count; ++i)
        if (well->pays[i].base_m > top + SAME_DEPTH_M && well->pays[i].top_m < base - SAME_DEPTH_M)
            return true;
    return false;
}

/** Largest spacing of the well's basis that reaches the target in all steps of a stretch. */
static dt_status add_computed(worker *w, double top_m, double base_m)
{
    size_t count = 0;
    const dt_number_custom *joints = dt_custom_rows(w->stages->well, DT_TABLE_SPACINGS, &count);
    bool zone = near_zone(w, top_m, base_m);
    dt_centralizer_run run = {.top_md_m = top_m,
                              .base_md_m = base_m,
                              .kind = w->wishes->centralizer,
                              .why =
                                  zone ? "for the standoff wanted, at least one a joint at the pay"
                                       : "for the standoff wanted"};
    for (size_t k = 0; k < count && !run.reached; ++k) {
        if (zone && joints[k].number > 1) continue;
        run.spacing_m = joints[k].number * w->joint_m;
        run.standoff_at = run.standoff_mid = INFINITY;
        run.side_n = 0;
        for (size_t i = 0; i < w->path_count; ++i) {
            if (w->path[i].base_md_m <= top_m + SAME_DEPTH_M ||
                w->path[i].top_md_m >= base_m - SAME_DEPTH_M)
                continue;
            double load = 0;
            dt_standoff s = standoff_in_step(w, i, &run, &load);
            run.standoff_at = fmin(run.standoff_at, s.at);
            run.standoff_mid = fmin(run.standoff_mid, s.mid);
            run.side_n = fmax(run.side_n, load);
        }
        run.reached = dt_reaches(run.standoff_mid, w->out->target);
    }
    return add_run(w, run);
}

static bool vertical_between(const worker *w, double top_m, double base_m)
{
    const double most_rad = dt_custom_value_of(w->stages->well, DT_CUSTOM_VERTICAL);
    for (size_t i = 0; i < w->path_count; ++i)
        if (w->path[i].base_md_m > top_m + SAME_DEPTH_M &&
            w->path[i].top_md_m < base_m - SAME_DEPTH_M &&
            dt_less(most_rad, w->path[i].inclination_rad))
            return false;
    return true;
}

/** Devereux 1998, pp. 93-94, placement when not computed: by size of the pipe. */
static dt_status add_stretch(worker *w, double top_m, double base_m, double od_m)
{
    if (!vertical_between(w, top_m, base_m)) return add_computed(w, top_m, base_m);
    bool each = od_m >= 18.6 * IN || near_zone(w, top_m, base_m);
    double spacing = (each ? 1 : 2) * w->joint_m;
    return add_rule(w, top_m, base_m, spacing, 0, w->wishes->centralizer,
                    each ? "one a joint: large pipe or pay zone" : "one for two joints");
}

/** Open hole in the cement, in stretches: cut where pay zones begin and end as well. */
static dt_status add_open_hole(worker *w, double top_m, double base_m, double od_m)
{
    const dt_well *well = w->stages->well;
    const double reach_m = dt_custom_value_of(well, DT_CUSTOM_ZONE_REACH);
    dt_status status = DT_OK;
    for (double at = top_m; status == DT_OK && at < base_m - SAME_DEPTH_M;) {
        double to = vertical_between(w, at, base_m) ? base_m : fmin(at + STRETCH_M, base_m);
        for (size_t i = 0; i < well->pay_count; ++i) {
            const double cuts[] = {well->pays[i].top_m - reach_m, well->pays[i].base_m + reach_m};
            for (size_t k = 0; k < 2; ++k) {
                double md = dt_trajectory_md(w->stages->trajectory, cuts[k]);
                if (md > at + SAME_DEPTH_M && md < to - SAME_DEPTH_M) to = md;
            }
        }
        status = add_stretch(w, at, to, od_m);
        at = to;
    }
    return status;
}

static dt_status place(worker *w)
{
    const dt_annulus *a = w->annulus;
    double od = a->pieces[a->count - 1].pipe_od_m, shoe = a->shoe_md_m;
    double top = fmax(w->cement->top_md_m, a->string_top_md_m);
    double bottom_two = fmax(shoe - 2 * w->joint_m, fmax(top, a->open_md_m));
    dt_status status = DT_OK;
    if (top < a->open_md_m - SAME_DEPTH_M) {
        /* rigid ones stay inside pipe: Devereux 1998, p. 92 */
        double hanger = a->string_top_md_m + 15;
        if (hanger > top + SAME_DEPTH_M && hanger < a->open_md_m - w->joint_m - SAME_DEPTH_M)
            status = add_rule(w, hanger, hanger, w->joint_m, 1, DT_CENTRALIZER_RIGID,
                              "one 10 to 20 m below the hanger");
        double inside = fmax(a->open_md_m - w->joint_m / 2, top);
        if (status == DT_OK)
            status = add_rule(w, inside, inside, w->joint_m, 1, DT_CENTRALIZER_RIGID,
                              "one just inside the previous shoe");
    }
    double open_top = fmax(top, a->open_md_m);
    if (status == DT_OK && bottom_two > open_top + SAME_DEPTH_M)
        status = add_open_hole(w, open_top, bottom_two, od);
    if (status == DT_OK && shoe > bottom_two + SAME_DEPTH_M)
        status = add_rule(w, bottom_two, shoe, w->joint_m / 2, 0, w->wishes->centralizer,
                          "two on each of the bottom two joints");
    return status;
}

static void count_up(worker *w)
{
    dt_centralizing *out = w->out;
    out->standoff = NAN;
    for (size_t i = 0; i < out->count; ++i) {
        dt_centralizer_run *run = &out->runs[i];
        if (run->count == 0)
            run->count =
                (size_t)fmax(dt_count_up((run->base_md_m - run->top_md_m) / run->spacing_m), 1);
        *(run->kind == DT_CENTRALIZER_BOW ? &out->bows : &out->rigids) += run->count;
        if (run->by_rule) continue;
        out->missed = out->missed || !run->reached;
        if (!(out->standoff <= run->standoff_mid)) out->standoff = run->standoff_mid;
    }
}

/** Reciprocating scratchers over the pay. */
static size_t count_scratchers(const worker *w)
{
    const dt_well *well = w->stages->well;
    double length = 0, open = dt_trajectory_deepest(w->stages->trajectory, w->annulus->open_md_m);
    double shoe = dt_trajectory_deepest(w->stages->trajectory, w->annulus->shoe_md_m);
    if (!w->wishes->scratchers || w->wishes->movement == DT_MOVE_NONE) return 0;
    for (size_t i = 0; i < well->pay_count; ++i)
        length += fmax(fmin(well->pays[i].base_m, shoe) - fmax(well->pays[i].top_m, open), 0);
    return (size_t)dt_count_up(length / dt_custom_value_of(well, DT_CUSTOM_SCRATCHER_SPACING));
}

dt_status dt_centralizers_plan(const dt_stages *stages, size_t string, const dt_cement *cement,
                               double joint_m, dt_centralizing *out)
{
    const dt_running_wishes *wishes = &stages->well->running;
    *out = (dt_centralizing){.target =
                                 dt_custom_or(stages->well, wishes->standoff, DT_CUSTOM_STANDOFF),
                             .standoff = NAN,
                             .movement = wishes->movement};
    if (!cement->cemented) return DT_OK;
    dt_annulus annulus = {0};
    dt_path_step *path = NULL;
    worker w = {.stages = stages,
                .cement = cement,
                .wishes = wishes,
                .annulus = &annulus,
                .joint_m = joint_m,
                .out = out};
    dt_status status = dt_annulus_build(stages, string, &annulus);
    if (status == DT_OK)
        status = dt_path_make(stages->trajectory, annulus.shoe_md_m, &path, &w.path_count);
    if (status == DT_OK) {
        w.path = path;
        w.tension = calloc(w.path_count, sizeof *w.tension);
        if (!w.tension) status = DT_E_MEMORY;
    }
    if (status == DT_OK) {
        const dt_annulus_piece *last = &annulus.pieces[annulus.count - 1];
        out->restoring_n =
            dt_restoring_force(last->pipe_od_m, last->pipe_kgm, &out->restoring_published);
        if (isfinite(wishes->restoring_n)) {
            out->restoring_n = wishes->restoring_n;
            out->restoring_published = false;
        }
        fill_tension(&w);
        status = place(&w);
    }
    if (status == DT_OK) {
        count_up(&w);
        out->scratchers = count_scratchers(&w);
    }
    free(w.tension);
    free(path);
    dt_annulus_free(&annulus);
    if (status != DT_OK) dt_centralizers_free(out);
    return status;
}

void dt_centralizers_free(dt_centralizing *centralizing)
{
    if (!centralizing) return;
    free(centralizing->runs);
    centralizing->runs = NULL;
    centralizing->count = 0;
}
