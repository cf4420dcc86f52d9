/* SPDX-License-Identifier: MIT */
/* One pipe, rated. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "library.h"
#include "same.h"

#define STEEL_KGM3 7850 /* mass density of steel, common practice, no source */

void dt_pipe_plain(double od_m, double wall_m, double yield_pa, double tensile_pa,
                   dt_pipe_view *out)
{
    *out = (dt_pipe_view){.od_m = od_m,
                          .wall_m = wall_m,
                          .id_m = od_m - 2 * wall_m,
                          .weight_kgm = PI * (od_m - wall_m) * wall_m * STEEL_KGM3,
                          .drift_m = NAN,
                          .special_drift_m = NAN,
                          .coupling_od_m = NAN,
                          .clearance_coupling_od_m = NAN,
                          .grade = "user",
                          .yield_pa = yield_pa,
                          .max_yield_pa = NAN,
                          .tensile_pa = tensile_pa,
                          .threads = 1u << DT_PLAIN_END};
}

static dt_status copy_pipe(const dt_pipe_view *view, double wear_m, dt_rated *out)
{
    const size_t size = strlen(view->grade) + 1;
    out->grade_name = malloc(size);
    if (!out->grade_name) return DT_E_MEMORY;
    memcpy(out->grade_name, view->grade, size);
    out->grade = (dt_grade){.name = out->grade_name,
                            .yield_pa = view->yield_pa,
                            .max_yield_pa = view->max_yield_pa,
                            .tensile_pa = view->tensile_pa,
                            .sour = view->sour};
    out->pipe = (dt_pipe){.od_m = view->od_m,
                          .wall_m = view->wall_m - wear_m,
                          .id_m = view->id_m + 2 * wear_m,
                          .weight_kgm = view->weight_kgm,
                          .drift_m = view->drift_m,
                          .special_drift_m = view->special_drift_m,
                          .coupling_od_m = view->coupling_od_m,
                          .clearance_coupling_od_m = view->clearance_coupling_od_m,
                          .grade = &out->grade,
                          .threads = view->threads};
    return DT_OK;
}

/** Pipe of one row stands in the catalogue once for each diameter of its connections: all of them
 * are rated as one. */
static void add_connections(const dt_catalogue *catalogue, dt_rated *rated)
{
    const dt_pipe *pipe = &rated->pipe;
    for (size_t i = 0; i < catalogue->pipe_count; ++i) {
        dt_pipe other = catalogue->pipes[i];
        if (fabs(other.od_m - pipe->od_m) > SAME_DIAMETER_M ||
            fabs(other.weight_kgm - pipe->weight_kgm) > SAME_WEIGHT_KGM ||
            strcmp(other.grade->name, pipe->grade->name) != 0)
            continue;
        other.wall_m = pipe->wall_m;
        for (int t = DT_FLUSH; t < DT_STATED; ++t) {
            dt_rating *r = &rated->rating;
            if (!(other.threads & 1u << t)) continue;
            if (dt_joint_strength(catalogue, &other, (dt_thread)t, &r->joint_n[t]) == DT_OK)
                r->printed_joint_klbf[t] = dt_nearest(r->joint_n[t] / DT_N_PER_LBF / 1000);
            (void)dt_coupling_internal_yield(catalogue, &other, (dt_thread)t,
                                             &r->coupling_yield_pa[t]);
        }
    }
}

dt_status dt_rated_open(const dt_catalogue *catalogue, const dt_pipe_view *pipe, double wear_m,
                        const dt_pipe_load *load, dt_rated **out)
{
    if (!(wear_m >= 0 && wear_m < pipe->wall_m)) return DT_E_DOMAIN;
    dt_rated *rated = calloc(1, sizeof *rated);
    if (!rated) return DT_E_MEMORY;
    dt_status status = copy_pipe(pipe, wear_m, rated);
    if (status == DT_OK) status = dt_rate(catalogue, &rated->pipe, &rated->rating);
    if (status == DT_OK) add_connections(catalogue, rated);
    rated->loaded = load != NULL;
    if (status == DT_OK && load) status = dt_rate_loaded(&rated->pipe, load, &rated->under);
    if (status == DT_OK)
        *out = rated;
    else
        dt_rated_close(rated);
    return status;
}

void dt_rated_close(dt_rated *rated)
{
    if (!rated) return;
    free(rated->grade_name);
    free(rated);
}

const dt_loaded_rating *dt_rated_under(const dt_rated *rated)
{
    return rated->loaded ? &rated->under : NULL;
}

void dt_rated_figures(const dt_rated *rated, dt_rated_view *out)
{
    const dt_rating *r = &rated->rating;
    *out =
        (dt_rated_view){.collapse_pa = r->collapse_pa,
                        .internal_yield_pa = r->internal_yield_pa,
                        .body_yield_n = r->body_yield_n,
                        .rupture_pa = r->rupture_pa,
                        .loaded = rated->loaded,
                        .triaxial_stress_pa = rated->loaded ? rated->under.triaxial_stress_pa : NAN,
                        .burst_factor = rated->loaded ? rated->under.burst_factor : NAN,
                        .tension_factor = rated->loaded ? rated->under.tension_factor : NAN};
    memcpy(out->joint_n, r->joint_n, sizeof out->joint_n);
    memcpy(out->coupling_yield_pa, r->coupling_yield_pa, sizeof out->coupling_yield_pa);
}
