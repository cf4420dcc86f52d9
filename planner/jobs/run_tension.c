/* SPDX-License-Identifier: MIT */
/* Tension in a string while it is run: weight, drag, and what buckling adds to it. Part of
 * running.h; equations and sources: docs/running.md. */
#include <math.h>

#include "numbers.h"
#include "running.h"
#include "same.h"

static const double G = DT_STANDARD_GRAVITY;

/** Part of a stretch whose pipe is full: the rest lies in the air-filled part above the shoe. */
static double full_part(const dt_run *run, double shoe_md_m, double top_m, double base_m)
{
    const double air_from_m = shoe_md_m - run->air_m;
    if (!(run->air_m > 0) || base_m <= air_from_m) return 1;
    return fmax(air_from_m - top_m, 0) / (base_m - top_m);
}

/** Weight of the pipe between two depths, shoe at shoe_md_m, N per m of hole. */
static double mean_weight(const dt_run *run, double shoe_md_m, double inside_kgm3, double top_m,
                          double base_m)
{
    const dt_string *s = run->string;
    double raised = s->load.shoe_md_m - shoe_md_m, sum = 0, own = 0;
    inside_kgm3 *= full_part(run, shoe_md_m, top_m, base_m);
    for (size_t i = 0; i < s->section_count; ++i) {
        const dt_pipe *pipe = s->sections[i].pipe;
        double length = fmin(s->sections[i].base_md_m - raised, base_m) -
                        fmax(s->sections[i].top_md_m - raised, top_m);
        if (length <= 0) continue;
        own += length;
        sum += length * dt_weight_by_volumes(pipe->weight_kgm, pipe->od_m, pipe->id_m, inside_kgm3,
                                             run->mud_kgm3);
    }
    double above = base_m - top_m - own; /* hanging on landing pipe, always full of mud */
    sum += above * dt_weight_by_volumes(run->landing_kgm, run->landing_od_m, run->landing_id_m,
                                        run->mud_kgm3, run->mud_kgm3);
    return sum * G / (base_m - top_m);
}

/* ---- buckling ---- */

/** Pipe and gap at a depth: what resists buckling there. */
typedef struct column {
    double stiffness_nm2; /* E I */
    double gap_m;         /* radial */
} column;

static column column_at(const dt_run *run, double shoe_md_m, double md_m)
{
    const dt_string *s = run->string;
    const double own_md_m = md_m + s->load.shoe_md_m - shoe_md_m;
    double od_m = run->landing_od_m, id_m = run->landing_id_m;
    for (size_t i = 0; i < s->section_count; ++i)
        if (own_md_m >= s->sections[i].top_md_m && own_md_m <= s->sections[i].base_md_m) {
            od_m = s->sections[i].pipe->od_m;
            id_m = s->sections[i].pipe->id_m;
        }
    const dt_annulus_piece *piece = dt_annulus_at(run->annulus, md_m);
    return (column){dt_steel_modulus_pa() * PI / 64 * (pow(od_m, 4) - pow(id_m, 4)),
                    fmax(dt_annulus_outer(piece, md_m) - od_m, 0) / 2};
}

void dt_buckling_limits(double stiffness_nm2, double gap_m, double weight_nm, double side_nm,
                        double *waves_n, double *helix_n)
{
    const double inclined = 2 * sqrt(stiffness_nm2 * side_nm / gap_m);
    const double vertical = cbrt(stiffness_nm2 * weight_nm * weight_nm);
    *waves_n = fmax(inclined, 2.55 * vertical);
    *helix_n = fmax(inclined * sqrt(2), 5.55 * vertical);
}

/** How a stretch in compression lies: forces, and what a helix presses on the wall, N per m. */
typedef struct pressed {
    double pushed_n, waves_n, helix_n, wall_nm;
} pressed;

static pressed press(const dt_run *run, double shoe_md_m, const dt_path_step *step,
                     double weight_nm, double tension_n, double at_md_m)
{
    pressed p = {.pushed_n = -tension_n};
    if (!run->annulus || !run->annulus->count || !(p.pushed_n > 0)) return p;
    const column c = column_at(run, shoe_md_m, at_md_m);
    if (!(c.gap_m > 0)) return p;
    dt_buckling_limits(c.stiffness_nm2, c.gap_m, fabs(weight_nm),
                       dt_side_force(weight_nm, tension_n, step, NULL), &p.waves_n, &p.helix_n);
    if (p.pushed_n > p.helix_n)
        p.wall_nm = c.gap_m * p.pushed_n * p.pushed_n / (4 * c.stiffness_nm2);
    return p;
}

/* ---- tension ---- */

static double friction_over(const dt_run *run, double top_m, double base_m)
{
    const double open = dt_open_part(top_m, base_m, run->open_md_m);
    return run->friction_cased + open * (run->friction_open - run->friction_cased);
}

/** Keeps where the pipe is nearest to, or furthest beyond, its limit. */
static void keep_pressed(const pressed *p, double md_m, dt_buckling *worst)
{
    if (!worst || !(p->helix_n > 0)) return;
    const double part = p->pushed_n / p->helix_n;
    if (part > worst->part)
        *worst = (dt_buckling){.part = part,
                               .md_m = md_m,
                               .pushed_n = p->pushed_n,
                               .waves_n = p->waves_n,
                               .helix_n = p->helix_n};
}

static double tension_up(const dt_run *run, double shoe_md_m, double inside_kgm3, dt_motion motion,
                         double at_md_m, dt_buckling *worst)
{
    double tension = 0;
    for (size_t i = run->path_count; i-- > 0;) {
        const dt_path_step *step = &run->path[i];
        double top = fmax(step->top_md_m, at_md_m), base = fmin(step->base_md_m, shoe_md_m);
        if (base <= top) continue;
        double share = (base - top) / (step->base_md_m - step->top_md_m);
        double weight = mean_weight(run, shoe_md_m, inside_kgm3, top, base);
        double hangs = weight * share * (step->base_tvd_m - step->top_tvd_m), drag = 0;
        if (motion != DT_HANGING) {
            const double friction = friction_over(run, top, base), length = base - top;
            const dt_dragged pipe = {weight, hangs, tension};
            drag = dt_drag_over(step, &pipe, (double)motion * friction, length);
            if (motion == DT_LOWERING) {
                const pressed p = press(run, shoe_md_m, step, weight, tension + (hangs + drag) / 2,
                                        (top + base) / 2);
                drag -= friction * length * p.wall_nm;
                keep_pressed(&p, (top + base) / 2, worst);
            }
        }
        tension += hangs + drag;
    }
    return tension;
}

double dt_run_tension(const dt_run *run, double shoe_md_m, double inside_kgm3, dt_motion motion,
                      double at_md_m)
{
    return tension_up(run, shoe_md_m, inside_kgm3, motion, at_md_m, NULL);
}

void dt_run_buckling(const dt_run *run, double shoe_md_m, double inside_kgm3, dt_buckling *out)
{
    *out = (dt_buckling){0};
    (void)tension_up(run, shoe_md_m, inside_kgm3, DT_LOWERING, 0, out);
}
