/* SPDX-License-Identifier: MIT */
#include "drag.h"

#include <math.h>
#include <stdlib.h>

#include "basis.h"
#include "numbers.h"
#include "same.h"

#define STEP_M                                                                                     \
    10.0 /* random wells against steps of 1 m: hook loads within 0.06 % (tests/selfcheck) */

/* ---- the hole's course ---- */

/** Steps that end at survey stations, so that none lies on two arcs; n only counts when out is
 * NULL.
 */
static size_t cut_path(const dt_trajectory *trajectory, double base_md_m, dt_path_step *out)
{
    size_t n = 0;
    double top = 0;
    for (size_t i = 1; i <= trajectory->count && top < base_md_m; ++i) {
        bool last = i == trajectory->count;
        double base = last ? base_md_m : fmin(trajectory->nodes[i].md_m, base_md_m);
        /* a length of whole steps must not take one more by its last bit */
        size_t steps = base > top ? (size_t)fmax(dt_count_up((base - top) / STEP_M), 1) : 0;
        for (size_t k = 1; k <= steps; ++k, ++n) {
            if (!out) continue;
            out[n].top_md_m = n ? out[n - 1].base_md_m : 0;
            out[n].base_md_m = k == steps ? base : top + (base - top) * (double)k / (double)steps;
        }
        top = fmax(top, base);
    }
    return n;
}

dt_status dt_path_make(const dt_trajectory *trajectory, double base_md_m, dt_path_step **out,
                       size_t *count)
{
    size_t n = cut_path(trajectory, base_md_m, NULL);
    dt_path_step *steps = calloc(n + 1, sizeof *steps);
    if (!steps) return DT_E_MEMORY;
    (void)cut_path(trajectory, base_md_m, steps);
    if (n == 0) steps[n++].base_md_m = base_md_m;
    for (size_t i = 0; i < n; ++i) {
        dt_path_step *s = &steps[i];
        s->top_tvd_m = i ? steps[i - 1].base_tvd_m : 0;
        s->base_tvd_m = dt_trajectory_tvd(trajectory, s->base_md_m);
        double middle = (s->top_md_m + s->base_md_m) / 2, length = s->base_md_m - s->top_md_m;
        s->inclination_rad = dt_trajectory_inclination(trajectory, middle);
        if (trajectory->count == 0) continue;
        double bend = dt_trajectory_curvature(trajectory, middle);
        s->build_rad_m = (dt_trajectory_inclination(trajectory, s->base_md_m) -
                          dt_trajectory_inclination(trajectory, s->top_md_m)) /
                         length;
        s->turn_rad_m = sqrt(fmax(bend * bend - s->build_rad_m * s->build_rad_m, 0));
    }
    *out = steps;
    *count = n;
    return DT_OK;
}

/* ---- forces ---- */

double dt_side_force(double weight_nm, double tension_n, const dt_path_step *step,
                     double *low_side_nm)
{
    double low = weight_nm * sin(step->inclination_rad) - tension_n * step->build_rad_m;
    double across = tension_n * step->turn_rad_m;
    if (low_side_nm) *low_side_nm = low;
    return sqrt(low * low + across * across);
}

double dt_drag_over(const dt_path_step *step, const dt_dragged *pipe, double friction,
                    double length_m)
{
    /* by the tension midway: the one below the step is a whole step's weight too little */
    double along = friction * length_m;
    double drag = along * dt_side_force(pipe->weight_nm, pipe->below_n, step, NULL);
    double midway = pipe->below_n + (pipe->hangs_n + drag) / 2;
    return along * dt_side_force(pipe->weight_nm, midway, step, NULL);
}

double dt_open_part(double top_md_m, double base_md_m, double open_md_m)
{
    return fmin(fmax(base_md_m - open_md_m, 0) / (base_md_m - top_md_m), 1);
}

/* ---- the drag of a string that is pulled ---- */

/* Depths kept: this far apart at most, or a part of the string's length if that is more; and where
 * the drag bends. Behind so many bends one nearer than a third of it to the last depth kept stands
 * in its place. So they never run out. */
#define MOST_BENDS 200
#define KEEP_M     (3 * STEP_M)
#define KEEP_PART  (3.0 / (DT_MOST_DRAG - MOST_BENDS - 2))

/** Drawing a string up, pipe that weighs 1 N a metre: forces are lengths of it. */
typedef struct drawing {
    const dt_trajectory *trajectory;
    double open_md_m, friction_cased, friction_open;
    double apart_m;
    double hangs_m, drag_m; /* so far */
    size_t station;         /* stations from here on are passed */
    size_t bends;           /* kept so far */
} drawing;

static void keep(dt_drag *d, double md_m, double own_m)
{
    if (d->count == DT_MOST_DRAG) --d->count;
    d->md_m[d->count] = md_m;
    d->own_m[d->count++] = own_m;
}

/** Keeps a depth where the drag bends; of many in place of the last one when that is near. */
static void keep_bend(drawing *w, dt_drag *d, double md_m)
{
    const size_t n = d->count;
    const bool near = ++w->bends > MOST_BENDS && d->md_m[n - 1] - md_m < w->apart_m / 3;
    if (near && n > 1 && d->md_m[n - 2] - md_m <= w->apart_m) --d->count;
    keep(d, md_m, w->drag_m);
}

/** Does the drag bend at the top of a step: at a survey station, or where the open hole begins? */
static bool bends(drawing *w, const dt_path_step *step, const dt_path_step *above)
{
    const dt_trajectory_node *nodes = w->trajectory->nodes;
    while (w->station > 0 && nodes[w->station - 1].md_m > step->top_md_m + SAME_DEPTH_M)
        --w->station;
    if (w->station > 0 && nodes[w->station - 1].md_m >= step->top_md_m - SAME_DEPTH_M) return true;
    return w->open_md_m < step->base_md_m && w->open_md_m > above->top_md_m;
}

static void draw_step(drawing *w, const dt_path_step *step)
{
    const double part = dt_open_part(step->top_md_m, step->base_md_m, w->open_md_m);
    const double friction = w->friction_cased + part * (w->friction_open - w->friction_cased);
    const dt_dragged pipe = {1, step->base_tvd_m - step->top_tvd_m, w->hangs_m + w->drag_m};
    w->drag_m += dt_drag_over(step, &pipe, friction, step->base_md_m - step->top_md_m);
    w->hangs_m += pipe.hangs_n;
}

/** From the shoe up to the top of the string, which may lie within a step. */
static void draw_up(drawing *w, double top_md_m, const dt_path_step *path, size_t count,
                    dt_drag *out)
{
    keep(out, path[count - 1].base_md_m, 0);
    for (size_t i = count; i-- > 0;) {
        const dt_path_step *step = &path[i];
        const double below_m = w->drag_m;
        draw_step(w, step);
        const double since_m = out->md_m[out->count - 1] - step->top_md_m;
        if (i == 0 || step->top_md_m <= top_md_m) {
            const double part = (step->base_md_m - top_md_m) / (step->base_md_m - step->top_md_m);
            keep(out, top_md_m, below_m + part * (w->drag_m - below_m));
            return;
        }
        if (bends(w, step, &path[i - 1]))
            keep_bend(w, out, step->top_md_m);
        else if (since_m >= w->apart_m - SAME_DEPTH_M)
            keep(out, step->top_md_m, w->drag_m);
    }
}

dt_status dt_string_load_drag(const dt_trajectory *trajectory, dt_string_load *load)
{
    if (trajectory->count == 0 || !load->runs[DT_LOAD_TENSION_RUN]) return DT_OK;
    dt_path_step *path;
    size_t count;
    dt_status status = dt_path_make(trajectory, load->shoe_md_m, &path, &count);
    if (status != DT_OK) return status;
    const dt_running_wishes *w = &load->well->running;
    drawing d = {
        .trajectory = trajectory,
        .open_md_m = load->tieback ? INFINITY : dt_trajectory_md(trajectory, load->above_tvd_m),
        .friction_cased = dt_custom_or(load->well, w->friction_cased, DT_CUSTOM_FRICTION_CASED),
        .friction_open = dt_custom_or(load->well, w->friction_open, DT_CUSTOM_FRICTION_OPEN),
        .apart_m = fmax(KEEP_M, KEEP_PART * (load->shoe_md_m - load->top_md_m)),
        .station = trajectory->count};
    load->drag.count = 0;
    draw_up(&d, load->top_md_m, path, count, &load->drag);
    free(path);
    return DT_OK;
}

double dt_load_drag(const dt_string_load *load, double md_m)
{
    const dt_drag *d = &load->drag;
    if (d->count < 2) return 0;
    size_t below = 0, above = d->count - 1; /* depths fall from the first to the last */
    while (above - below > 1) {
        const size_t middle = (below + above) / 2;
        if (d->md_m[middle] > md_m)
            below = middle;
        else
            above = middle;
    }
    const double part = (d->md_m[below] - md_m) / (d->md_m[below] - d->md_m[above]);
    return d->own_m[below] + (d->own_m[above] - d->own_m[below]) * fmin(fmax(part, 0), 1);
}
