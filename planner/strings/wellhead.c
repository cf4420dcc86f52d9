/* SPDX-License-Identifier: MIT */
#include "wellhead.h"

#include <math.h>
#include <stdlib.h>

#include "basis.h"
#include "same.h"
#include "units.h"

static const double g = DT_STANDARD_GRAVITY;
static const double steel_kgm3 = HANDBOOK_STEEL_KGM3;

double dt_working_pressure_psi(double pressure_pa)
{
    static const double classes_psi[] = {
#define DT_CLASS(psi) psi,
        DT_WORKING_PRESSURE_LIST(DT_CLASS)
#undef DT_CLASS
    };
    if (!(pressure_pa > 0)) return 0;
    for (size_t i = 0; i < COUNT_OF(classes_psi); ++i)
        if (dt_reaches(classes_psi[i] * DT_PA_PER_PSI, pressure_pa)) return classes_psi[i];
    return NAN;
}

/* ---- anticipated surface pressure ---- */

/* Weight of what fills the hole above a depth: gas over its part, mud over the rest. */
static double column_kgm3(const dt_design_in_force *design, double mud_kgm3, double evacuation)
{
    return evacuation * design->gas_gradient_kgm3 + (1 - evacuation) * mud_kgm3;
}

/** TVD of the BOP: the rig floor, as near as counts, or the sea floor. */
static double preventers_m(const dt_well *well)
{
    return well->bop_at_seabed ? dt_well_ground_m(well) : 0;
}

/** One hole: the smaller of pore pressure and fracture at the shoe, each less what stands above, up
 * to the BOP. */
static void consider_hole(const dt_window *window, double shoe_m, double base_m, double fill_kgm3,
                          bool fracture_counts, dt_head_stage *stage)
{
    const double above_pa = fill_kgm3 * g * preventers_m(window->well);
    double by_pore_pa = -INFINITY, source_m = base_m, from_m = shoe_m;
    for (size_t i = 0; i <= window->break_count; ++i) {
        const double to_m = i < window->break_count ? fmin(window->breaks[i], base_m) : base_m;
        if (to_m <= from_m) continue;
        for (int k = 0; k <= 8; ++k) { /* between breaks pore pressure may bend */
            const double z_m = from_m + (to_m - from_m) * k / 8;
            const double pore_kgm3 =
                dt_curve_emw(&window->well->pore, z_m, k == 8 ? DT_ABOVE : DT_BELOW);
            const double surface_pa = (pore_kgm3 - fill_kgm3) * g * z_m + above_pa;
            if (!dt_less_by(by_pore_pa, surface_pa, TIE_PA)) continue;
            by_pore_pa = surface_pa;
            source_m = z_m;
        }
        from_m = to_m;
    }
    const double by_fracture_pa =
        fracture_counts
            ? (dt_curve_emw(&window->well->fracture, shoe_m, DT_BELOW) - fill_kgm3) * g * shoe_m +
                  above_pa
            : NAN;
    const double pressure_pa = fmax(fmin(by_pore_pa, by_fracture_pa), 0); /* fmin passes NAN over */
    if (!isnan(stage->pressure_pa) && !dt_less_by(stage->pressure_pa, pressure_pa, TIE_PA)) return;
    stage->pressure_pa = pressure_pa;
    stage->by_pore_pa = by_pore_pa;
    stage->by_fracture_pa = by_fracture_pa;
    stage->source_tvd_m = source_m;
    if (window->well->bop_at_seabed) stage->at_surface_pa = fmax(pressure_pa - above_pa, 0);
}

static dt_head_stage stage_of(const dt_window *window, const dt_seats *seats,
                              const dt_design_in_force *design, double evacuation, size_t index)
{
    dt_head_stage stage = {.pressure_pa = NAN,
                           .at_surface_pa = NAN,
                           .by_pore_pa = NAN,
                           .by_fracture_pa = NAN,
                           .source_tvd_m = NAN,
                           .class_psi = NAN,
                           .diverter = index == 0};
    if (index == 0 || seats->items[index].type == DT_LINER) return stage;
    const size_t place = seats->items[index].type == DT_TIEBACK ? seats->items[index].ties : index;
    bool finished = true;
    for (size_t i = place + 1; i < seats->count && finished; ++i) {
        consider_hole(window, seats->items[i - 1].shoe_m, seats->items[i].shoe_m,
                      column_kgm3(design, seats->items[i].mud_kgm3, evacuation), true, &stage);
        finished = !dt_seat_covers(&seats->items[i]);
    }
    if (finished) { /* the finished well on this head: gas alone, and no shoe that gives way */
        const size_t last = seats->count - 1;
        consider_hole(window, last ? seats->items[last - 1].shoe_m : 0, seats->items[last].shoe_m,
                      design->gas_gradient_kgm3, false, &stage);
    }
    stage.class_psi = dt_working_pressure_psi(stage.pressure_pa);
    stage.beyond_classes = isnan(stage.class_psi);
    return stage;
}

/* ---- landing ---- */

/* Buoyed weight along TVD, as the load cases count it. */
static double hung_n(const dt_strings *strings, const dt_trajectory *trajectory, size_t index,
                     double from_tvd_m)
{
    const dt_string *s = &strings->items[index];
    const double mud_kgm3 = isnan(s->load.mud_kgm3) ? 0 : s->load.mud_kgm3;
    double sum_n = 0;
    for (size_t i = 0; i < s->section_count; ++i) {
        const double top_m =
            fmax(dt_trajectory_deepest(trajectory, s->sections[i].top_md_m), from_tvd_m);
        const double base_m = dt_trajectory_deepest(trajectory, s->sections[i].base_md_m);
        sum_n += s->sections[i].pipe->weight_kgm * g * fmax(base_m - top_m, 0);
    }
    return sum_n * (1 - mud_kgm3 / steel_kgm3);
}

dt_status dt_column_strength(double od_m, double wall_m, double yield_pa, double length_m,
                             double end_factor, double *load_n, double *slenderness,
                             double *slenderness_limit)
{
    if (!(wall_m > 0) || !(od_m > 2 * wall_m) || !(yield_pa > 0) || !(length_m > 0) ||
        !(end_factor > 0))
        return DT_E_DOMAIN;
    const double id_m = od_m - 2 * wall_m;
    const double area_m2 = PI / 4 * (od_m * od_m - id_m * id_m);
    const double radius_m = sqrt(od_m * od_m + id_m * id_m) / 4; /* of gyration */
    const double ratio = end_factor * length_m / radius_m;
    const double limit = sqrt(2 * PI * PI * dt_steel_modulus_pa() / yield_pa);
    const double stress_pa = ratio < limit ? yield_pa * (1 - ratio * ratio / (2 * limit * limit))
                                           : PI * PI * dt_steel_modulus_pa() / (ratio * ratio);
    *load_n = stress_pa * area_m2;
    *slenderness = ratio;
    *slenderness_limit = limit;
    return DT_OK;
}

/** On the pipe at the top of the carrier: every full string and tie-back inside it, BOP and
 * wellhead. */
static void land(const dt_window *window, const dt_strings *strings, const dt_seats *seats,
                 const dt_trajectory *trajectory, size_t carrier, dt_landing *out)
{
    const dt_wellhead_wishes *w = &window->well->wellhead;
    dt_landing l = {.carrier = carrier, .made = w->given && !isnan(w->bop_n)};
    /* at the mudline the inner strings hang below the free pipe: what is above it stands on it */
    const bool mudline = w->mudline && window->well->over_sea;
    const double from_tvd_m = mudline ? dt_well_ground_m(window->well) : 0;
    for (size_t i = carrier + 1; i < seats->count + seats->tieback_count; ++i) {
        if (seats->items[i].type == DT_LINER) continue;
        const double all_n = hung_n(strings, trajectory, i, 0);
        l.hung_n += mudline ? all_n - hung_n(strings, trajectory, i, from_tvd_m) : all_n;
    }
    if (l.made) {
        const dt_pipe *pipe = strings->items[carrier].sections[0].pipe;
        const double wall_m = pipe->wall_m - strings->items[carrier].load.wear_m;
        const double id_m = pipe->od_m - 2 * wall_m;
        const double area_m2 = PI / 4 * (pipe->od_m * pipe->od_m - id_m * id_m);
        const double head_n = isnan(w->head_n) ? 0 : w->head_n;
        l.load_n = w->bop_n + head_n + l.hung_n;
        l.stress_pa = l.load_n / area_m2;
        l.yield_pa = pipe->grade->yield_pa;
        l.stress_factor = l.stress_pa > 0 ? l.yield_pa / l.stress_pa : INFINITY;
        const double k = dt_custom_or(window->well, w->end_factor, DT_CUSTOM_WELLHEAD_END_FACTOR);
        l.column_made =
            !isnan(w->free_length_m) &&
            dt_column_strength(pipe->od_m, wall_m, l.yield_pa, w->free_length_m, k, &l.column_n,
                               &l.slenderness, &l.slenderness_limit) == DT_OK;
        l.column_load_n = l.load_n - (w->hung_buckles ? 0 : l.hung_n);
        l.column_factor =
            l.column_made && l.column_load_n > 0 ? l.column_n / l.column_load_n : INFINITY;
    }
    *out = l;
}

dt_status dt_wellhead_build(const dt_window *window, const dt_seats *seats,
                            const dt_strings *strings, const dt_trajectory *trajectory,
                            const dt_design_in_force *design, dt_wellhead *out)
{
    const dt_wellhead_wishes *w = &window->well->wellhead;
    const size_t count = seats->count + seats->tieback_count;
    dt_wellhead made = {.stages = calloc(count + 1, sizeof *made.stages),
                        .count = count,
                        .evacuation = dt_custom_or(window->well, w->given ? w->evacuation : NAN,
                                                   DT_CUSTOM_WELLHEAD_EVACUATION)};
    if (!made.stages) return DT_E_MEMORY;
    for (size_t i = 0; i < count; ++i)
        made.stages[i] = stage_of(window, seats, design, made.evacuation, i);
    for (size_t i = 0; i < seats->count && made.landing_count < 2; ++i)
        if (i == 0 || seats->items[i].role == DT_SURFACE)
            land(window, strings, seats, trajectory, i, &made.landing[made.landing_count++]);
    *out = made;
    return DT_OK;
}

void dt_wellhead_free(dt_wellhead *wellhead)
{
    if (!wellhead) return;
    free(wellhead->stages);
    *wellhead = (dt_wellhead){0};
}
