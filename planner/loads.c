/* SPDX-License-Identifier: MIT */
#include "drawtube/strings.h"

#include <math.h>

#include "drawtube/units.h"

/* The first strength screen: the loads on one string, and one pipe held against them.
 * Method, and what it leaves out: docs/strength.md. */

static const double g = DT_STANDARD_GRAVITY;
static const double steel_kgm3 = 7850; /* 490 lb/ft3, handbook value */
static const double fresh_water_kgm3 = 1000;

/* Customary values where the well states none: common practice, no source; the gas gradient is that
 * of a published kick example (docs/strength.md). */
static const double customary_burst = 1.10, customary_collapse = 1.00;
static const double customary_tension = 1.60, customary_triaxial = 1.25;
static const double customary_overpull_n = 100e3 * DT_N_PER_LBF;
static const double customary_gas_kgm3 =
    0.1 * DT_PA_PER_PSI / DT_M_PER_FT / DT_STANDARD_GRAVITY; /* 0.1 psi/ft */

/* Depths at which collapse is looked at besides both ends. The least factor stands at the shoe
 * while resistance bends down with depth; the others guard the kinks between regimes. */
enum { COLLAPSE_STEPS = 16 };

static const struct {
    const char *code, *words;
} load_texts[] = {
#define DT_LOAD_ROW(name, code, words) {code, words},
    DT_LOAD_LIST(DT_LOAD_ROW)
#undef DT_LOAD_ROW
};

const char *dt_load_code(dt_load load)
{
    return load < DT_LOAD_COUNT ? load_texts[load].code : "";
}

const char *dt_load_words(dt_load load)
{
    return load < DT_LOAD_COUNT ? load_texts[load].words : "";
}

/* The stated value, or the customary one and a mark that it is. */
static double settle(bool given, double stated, double customary, bool *is_customary)
{
    if (given && !isnan(stated)) return stated;
    *is_customary = true;
    return customary;
}

void dt_design_settle(const dt_well *well, dt_design_in_force *out)
{
    const dt_design *d = &well->design;
    dt_design_in_force f = {0};
    f.burst = settle(d->given, d->burst, customary_burst, &f.factors_customary);
    f.collapse = settle(d->given, d->collapse, customary_collapse, &f.factors_customary);
    f.tension = settle(d->given, d->tension, customary_tension, &f.factors_customary);
    f.triaxial = settle(d->given, d->triaxial, customary_triaxial, &f.factors_customary);
    f.overpull_n = settle(d->given, d->overpull_n, customary_overpull_n, &f.overpull_customary);
    f.gas_gradient_kgm3 =
        settle(d->given, d->gas_gradient_kgm3, customary_gas_kgm3, &f.gas_customary);
    *out = f;
}

/* Gas at surface from one depth: the largest so far, and where it comes from. */
typedef struct gas_source {
    const dt_curve *pore;
    double gas_kgm3;
    double surface_pa, tvd_m;
} gas_source;

static void consider_source(gas_source *source, double emw_kgm3, double tvd_m)
{
    const double surface_pa = (emw_kgm3 - source->gas_kgm3) * g * tvd_m;
    if (!(surface_pa > source->surface_pa)) return;
    source->surface_pa = surface_pa;
    source->tvd_m = tvd_m;
}

/* A stretch over which pore pressure neither bends nor steps. */
static void consider_stretch(gas_source *source, double top_m, double base_m)
{
    const double above = dt_curve_emw(source->pore, top_m, DT_BELOW);
    const double below = dt_curve_emw(source->pore, base_m, DT_ABOVE);
    consider_source(source, above, top_m);
    consider_source(source, below, base_m);
    const double slope = (below - above) / (base_m - top_m);
    if (source->pore->between != DT_BETWEEN_GRADIENT || !(slope < 0)) return;
    /* linear in gradient is a parabola in pressure, here one with its top somewhere */
    const double peak_m = (top_m - (above - source->gas_kgm3) / slope) / 2;
    if (peak_m > top_m && peak_m < base_m)
        consider_source(source, above + slope * (peak_m - top_m), peak_m);
}

/* The strongest gas at surface from the hole between two shoes. */
static gas_source strongest_gas(const dt_window *window, double gas_kgm3, double top_m,
                                double base_m)
{
    gas_source source = {&window->well->pore, gas_kgm3, -INFINITY, base_m};
    double from_m = top_m;
    for (size_t i = 0; i < window->break_count; ++i) {
        const double depth_m = window->breaks[i];
        if (depth_m <= from_m || depth_m >= base_m) continue;
        consider_stretch(&source, from_m, depth_m);
        from_m = depth_m;
    }
    consider_stretch(&source, from_m, base_m);
    return source;
}

/* Keeps the worse of the surface pressure so far and one more; NAN by_fracture: no such limit. */
static void worsen(dt_string_load *load, const gas_source *source, double by_fracture_pa)
{
    const double limited_pa = fmin(source->surface_pa, by_fracture_pa); /* fmin passes NAN over */
    const double surface_pa = fmax(limited_pa, 0);
    if (surface_pa <= load->surface_pressure_pa) return;
    load->surface_pressure_pa = surface_pa;
    load->surface_by_pore_pa = source->surface_pa;
    load->surface_by_fracture_pa = by_fracture_pa;
    load->pore_source_tvd_m = source->tvd_m;
}

/* The holes drilled while this string is the wall above: down to the next string that covers it. */
static void gas_while_drilling(const dt_window *window, const dt_seats *seats, dt_string_load *load)
{
    for (size_t i = load->seat + 1; i < seats->count; ++i) {
        const double shoe_m = seats->items[i - 1].shoe_m;
        const gas_source source =
            strongest_gas(window, load->gas_gradient_kgm3, shoe_m, seats->items[i].shoe_m);
        const double fracture_kgm3 = dt_curve_emw(&window->well->fracture, shoe_m, DT_BELOW);
        worsen(load, &source, (fracture_kgm3 - load->gas_gradient_kgm3) * g * shoe_m);
        if (seats->items[i].type == DT_FULL) return;
    }
}

/* The finished well, shut in on gas: the last full string and the liners below it are its wall. */
static void gas_when_finished(const dt_window *window, const dt_seats *seats, dt_string_load *load)
{
    const size_t last = seats->count - 1;
    for (size_t i = load->seat + 1; i <= last; ++i)
        if (seats->items[i].type == DT_FULL) return;
    const double top_m = last > 0 ? seats->items[last - 1].shoe_m : 0;
    const gas_source source =
        strongest_gas(window, load->gas_gradient_kgm3, top_m, seats->items[last].shoe_m);
    worsen(load, &source, NAN);
}

static dt_status place(const dt_seats *seats, const dt_trajectory *trajectory, double lap_m,
                       dt_string_load *load)
{
    const dt_seat *seat = &seats->items[load->seat];
    load->shoe_tvd_m = seat->shoe_m;
    load->shoe_md_m = dt_trajectory_md(trajectory, seat->shoe_m);
    load->top_md_m = 0;
    if (seat->type == DT_LINER && load->seat > 0) {
        const double above_m = seats->items[load->seat - 1].shoe_m;
        load->top_md_m = fmax(dt_trajectory_md(trajectory, above_m) - lap_m, 0);
    }
    load->top_tvd_m = dt_trajectory_tvd(trajectory, load->top_md_m);
    return load->top_tvd_m < load->shoe_tvd_m && isfinite(load->shoe_md_m) ? DT_OK : DT_E_DOMAIN;
}

dt_status dt_string_load_build(const dt_window *window, const dt_seats *seats,
                               const dt_trajectory *trajectory, const dt_design_in_force *design,
                               double lap_m, size_t seat, dt_string_load *out)
{
    if (seat >= seats->count || !(lap_m >= 0)) return DT_E_DOMAIN;
    const bool conductor = seat == 0;
    dt_string_load load = {.seat = seat,
                           .mud_kgm3 = seats->items[seat].mud_kgm3,
                           .surface_pressure_pa = conductor ? NAN : -1,
                           .surface_by_pore_pa = NAN,
                           .surface_by_fracture_pa = NAN,
                           .pore_source_tvd_m = NAN,
                           .backup_kgm3 = fresh_water_kgm3,
                           .backup_top_tvd_m = window->well->rig_floor_m,
                           .gas_gradient_kgm3 = design->gas_gradient_kgm3,
                           .overpull_n = conductor ? 0 : design->overpull_n,
                           .pressures_apply = !conductor};
    dt_status status = place(seats, trajectory, lap_m, &load);
    if (status != DT_OK) return status;
    if (load.pressures_apply) {
        gas_while_drilling(window, seats, &load);
        gas_when_finished(window, seats, &load);
    }
    *out = load;
    return DT_OK;
}

/* Weight below a depth, in mud, N. Along TVD: in a deviated hole the rest lies on the wall. */
static double hanging_n(const dt_pipe *pipe, const dt_string_load *load, double tvd_m)
{
    const double mud_kgm3 = isnan(load->mud_kgm3) ? 0 : load->mud_kgm3;
    return pipe->weight_kgm * g * (1 - mud_kgm3 / steel_kgm3) * (load->shoe_tvd_m - tvd_m);
}

static void consider(dt_factor *worst, double load, double resistance, double tvd_m)
{
    const double factor = load > 0 ? resistance / load : resistance > 0 ? INFINITY : 0;
    /* among depths that load nothing the one nearest to doing so is named */
    const bool nearer = factor == worst->factor && isinf(factor) && load > worst->load;
    if (!isnan(worst->factor) && !(factor < worst->factor) && !nearer) return;
    worst->factor = factor;
    worst->load = load;
    worst->resistance = resistance;
    worst->at_tvd_m = tvd_m;
}

/* Net internal pressure is straight between these three depths, so they are enough. */
static dt_status screen_burst(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                              const dt_string_load *load, dt_factor *out)
{
    double resistance_pa, coupling_pa;
    dt_status status =
        dt_internal_yield(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa, 0.875, &resistance_pa);
    if (status == DT_OK && thread != DT_PLAIN_END) {
        status = dt_coupling_internal_yield(catalogue, pipe, thread, &coupling_pa);
        if (status == DT_OK) resistance_pa = fmin(resistance_pa, coupling_pa);
    }
    if (status != DT_OK) return status;
    const double depths_m[] = {load->top_tvd_m, load->backup_top_tvd_m, load->shoe_tvd_m};
    for (size_t i = 0; i < 3; ++i) {
        const double tvd_m = depths_m[i];
        if (tvd_m < load->top_tvd_m || tvd_m > load->shoe_tvd_m) continue;
        const double inside_pa = load->surface_pressure_pa + load->gas_gradient_kgm3 * g * tvd_m;
        const double outside_pa = load->backup_kgm3 * g * fmax(tvd_m - load->backup_top_tvd_m, 0);
        consider(out, inside_pa - outside_pa, resistance_pa, tvd_m);
    }
    return DT_OK;
}

static dt_status screen_collapse(const dt_pipe *pipe, const dt_string_load *load, dt_factor *out)
{
    double body_n, untensioned_pa;
    const double yield_pa = pipe->grade->yield_pa;
    dt_status status = dt_body_yield(pipe->od_m, pipe->wall_m, yield_pa, &body_n);
    if (status == DT_OK)
        status = dt_collapse(pipe->od_m, pipe->wall_m, yield_pa, &untensioned_pa, NULL);
    if (status != DT_OK) return status;
    for (int i = 0; i <= COLLAPSE_STEPS; ++i) {
        const double tvd_m =
            i == COLLAPSE_STEPS
                ? load->shoe_tvd_m
                : load->top_tvd_m + (load->shoe_tvd_m - load->top_tvd_m) * i / COLLAPSE_STEPS;
        const double stress_pa = hanging_n(pipe, load, tvd_m) / body_n * yield_pa;
        double resistance_pa;
        /* refused here means that tension leaves next to nothing: none is counted, and that
         * fails the pipe even at the surface, where there is no pressure yet */
        if (dt_collapse_axial(pipe->od_m, pipe->wall_m, yield_pa, stress_pa, &resistance_pa,
                              NULL) != DT_OK)
            resistance_pa = 0;
        consider(out, load->mud_kgm3 * g * tvd_m, resistance_pa, tvd_m);
    }
    return DT_OK;
}

static dt_status screen_tension(const dt_catalogue *catalogue, const dt_pipe *pipe,
                                dt_thread thread, const dt_string_load *load, dt_factor *out)
{
    double body_n, joint_n;
    dt_status status = dt_body_yield(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa, &body_n);
    if (status == DT_OK) status = dt_joint_strength(catalogue, pipe, thread, &joint_n);
    if (status != DT_OK) return status;
    consider(out, hanging_n(pipe, load, load->top_tvd_m) + load->overpull_n, fmin(body_n, joint_n),
             load->top_tvd_m);
    return DT_OK;
}

/* Sets what follows from the factors: measured depths, the worst case, the verdict. */
static void conclude(const dt_string_load *load, const dt_trajectory *trajectory, dt_screen *screen)
{
    double least = INFINITY;
    screen->worst = DT_LOAD_TENSION_RUN; /* screened for every string */
    screen->ok = true;
    for (int i = 0; i < DT_LOAD_COUNT; ++i) {
        dt_factor *f = &screen->by_load[i];
        if (isnan(f->factor)) continue;
        f->at_md_m = f->at_tvd_m == load->top_tvd_m    ? load->top_md_m
                     : f->at_tvd_m == load->shoe_tvd_m ? load->shoe_md_m
                                                       : dt_trajectory_md(trajectory, f->at_tvd_m);
        if (!(f->factor >= f->needed)) screen->ok = false;
        if (f->factor / f->needed < least) {
            least = f->factor / f->needed;
            screen->worst = (dt_load)i;
        }
    }
}

dt_status dt_string_screen(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                           const dt_string_load *load, const dt_trajectory *trajectory,
                           const dt_design_in_force *design, dt_screen *out)
{
    if (thread >= DT_THREAD_COUNT || !(pipe->threads & 1u << thread)) return DT_E_DOMAIN;
    const double needed[] = {[DT_LOAD_BURST_GAS] = design->burst,
                             [DT_LOAD_COLLAPSE_EMPTY] = design->collapse,
                             [DT_LOAD_TENSION_RUN] = design->tension};
    dt_screen screen;
    for (int i = 0; i < DT_LOAD_COUNT; ++i)
        screen.by_load[i] = (dt_factor){NAN, needed[i], NAN, NAN, NAN, NAN};
    dt_status status =
        screen_tension(catalogue, pipe, thread, load, &screen.by_load[DT_LOAD_TENSION_RUN]);
    if (status == DT_OK && load->pressures_apply)
        status = screen_burst(catalogue, pipe, thread, load, &screen.by_load[DT_LOAD_BURST_GAS]);
    if (status == DT_OK && load->pressures_apply)
        status = screen_collapse(pipe, load, &screen.by_load[DT_LOAD_COLLAPSE_EMPTY]);
    if (status != DT_OK) return status;
    conclude(load, trajectory, &screen);
    *out = screen;
    return DT_OK;
}
