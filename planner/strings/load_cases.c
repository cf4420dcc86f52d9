/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <string.h>

#include "basis.h"
#include "hold.h"
#include "same.h"
#include "units.h"
#include "window.h"

/* The load cases: pressures inside and outside and the axial force, against depth.
 * Method, and what it leaves out: docs/strength.md. */

static const double g = DT_STANDARD_GRAVITY;
static const double steel_kgm3 = HANDBOOK_STEEL_KGM3;
static const double poisson = 0.3;
static const double expansion_perk = 6.9e-6 * 1.8; /* 6.9e-6 per degF, from memory */

static const struct {
    const char *code, *words;
    unsigned roles;
    dt_check check;
} load_table[] = {
#define DT_LOAD_ROW(name, code, words, roles, check) {code, words, roles, DT_CHECK_##check},
    DT_LOAD_LIST(DT_LOAD_ROW)
#undef DT_LOAD_ROW
};

const char *dt_load_code(dt_load load)
{
    return load < DT_LOAD_COUNT ? load_table[load].code : "";
}

const char *dt_load_words(dt_load load)
{
    return load < DT_LOAD_COUNT ? load_table[load].words : "";
}

unsigned dt_load_roles(dt_load load)
{
    return load < DT_LOAD_COUNT ? load_table[load].roles : 0;
}

dt_check dt_load_check(dt_load load)
{
    return load < DT_LOAD_COUNT ? load_table[load].check : DT_CHECK_COUNT;
}

const char *dt_check_code(dt_check check)
{
    static const char *const codes[] = {
#define DT_CHECK_CODE(name, code) code,
        DT_CHECK_LIST(DT_CHECK_CODE)
#undef DT_CHECK_CODE
    };
    return check < DT_CHECK_COUNT ? codes[check] : "";
}

/* The stated value, or that of the well's basis and a mark that it is. */
static double settle(const dt_well *well, bool given, double stated, dt_custom custom,
                     bool *by_basis)
{
    if (given && !isnan(stated)) return stated;
    *by_basis = true;
    return dt_custom_value_of(well, custom);
}

void dt_design_settle(const dt_well *well, dt_design_in_force *out)
{
    const dt_design *d = &well->design;
    dt_design_in_force f = {0};
    f.burst = settle(well, d->given, d->burst, DT_CUSTOM_DESIGN_BURST, &f.factors_customary);
    f.collapse =
        settle(well, d->given, d->collapse, DT_CUSTOM_DESIGN_COLLAPSE, &f.factors_customary);
    f.tension = settle(well, d->given, d->tension, DT_CUSTOM_DESIGN_TENSION, &f.factors_customary);
    const bool pulled = d->given && d->tension_pulled != 0; /* 0: a design made in code without */
    f.tension_pulled = settle(well, pulled, d->tension_pulled, DT_CUSTOM_DESIGN_TENSION_PULLED,
                              &f.factors_customary);
    f.triaxial =
        settle(well, d->given, d->triaxial, DT_CUSTOM_DESIGN_TRIAXIAL, &f.factors_customary);
    f.overpull_n =
        settle(well, d->given, d->overpull_n, DT_CUSTOM_DESIGN_OVERPULL, &f.overpull_customary);
    f.gas_gradient_kgm3 =
        settle(well, d->given, d->gas_gradient_kgm3, DT_CUSTOM_DESIGN_GAS, &f.gas_customary);
    const int method =
        d->given ? (int)d->collapse_method : dt_custom_word(well, DT_CUSTOM_DESIGN_COLLAPSE_METHOD);
    f.collapse_method =
        method == DT_CHOOSE_COMBINED ? DT_COLLAPSE_COMBINED : DT_COLLAPSE_REDUCED_YIELD;
    f.sour = d->given ? d->sour : dt_custom_word(well, DT_CUSTOM_DESIGN_SOUR) == 1;
    f.gauge_m = d->given && !isnan(d->gauge_m) ? d->gauge_m : 0;
    /* all zero: a design made in code that does not mention them */
    const bool said =
        d->given && !(d->max_sections == 0 && d->min_section_m == 0 && d->crossover_m == 0);
    f.max_sections = (size_t)settle(well, said, d->max_sections, DT_CUSTOM_DESIGN_MAX_SECTIONS,
                                    &f.taper_customary);
    f.min_section_m =
        settle(well, said, d->min_section_m, DT_CUSTOM_DESIGN_MIN_SECTION, &f.taper_customary);
    f.crossover_m =
        settle(well, said, d->crossover_m, DT_CUSTOM_DESIGN_CROSSOVER, &f.taper_customary);
    /* One job: where <loads> leaves its margin open, that of <cementing> holds (decision 0024). */
    const bool by_loads = well->loads.given && !isnan(well->loads.bump_margin_pa);
    f.bump_margin_pa = by_loads
                           ? well->loads.bump_margin_pa
                           : settle(well, well->cementing.given, well->cementing.bump_margin_pa,
                                    DT_CUSTOM_CEMENTING_BUMP_MARGIN, &f.bump_customary);
    *out = f;
}

double dt_design_needed(const dt_design_in_force *design, dt_load load)
{
    const double needed[DT_CHECK_COUNT] = {[DT_CHECK_BURST] = design->burst,
                                           [DT_CHECK_COLLAPSE] = design->collapse,
                                           [DT_CHECK_TENSION] = design->tension_pulled,
                                           [DT_CHECK_TRIAXIAL] = design->triaxial};
    return load == DT_LOAD_TENSION_HANG ? design->tension : needed[dt_load_check(load)];
}

/* ---- pressures ---- */

/* Nothing above where it begins; nor where a depth is no number. */
static double column_pa(double kgm3, double from_tvd_m, double tvd_m)
{
    return tvd_m > from_tvd_m ? kgm3 * g * (tvd_m - from_tvd_m) : kgm3 * g * 0;
}

/* The less (sign 1) or the more (sign -1) of the two sides of a table, so a step is never missed.
 */
static double curve_pa(const dt_curve *curve, double tvd_m, double sign)
{
    if (tvd_m <= 0) return 0;
    const double above = dt_curve_emw(curve, fmax(tvd_m - SAME_DEPTH_M, 0), DT_ABOVE);
    const double below = dt_curve_emw(curve, tvd_m + SAME_DEPTH_M, DT_BELOW);
    return sign * fmin(sign * above, sign * below) * g * tvd_m;
}

static double mud_kgm3(const dt_string_load *load)
{
    return isnan(load->mud_kgm3) ? 0 : load->mud_kgm3;
}

/* The mud that the string was run in, at a depth. */
static double mud_pa(const dt_string_load *load, double tvd_m)
{
    return load->riserless ? dt_well_sea_column_pa(load->well, mud_kgm3(load), tvd_m)
                           : column_pa(mud_kgm3(load), 0, tvd_m);
}

/* What is credited outside when the string is burst. */
static double burst_outside_pa(const dt_string_load *load, double tvd_m)
{
    const dt_outside kind = load->well ? load->well->loads.burst_outside : DT_OUTSIDE_WATER;
    switch (kind) {
    case DT_OUTSIDE_MUD:
        return mud_pa(load, tvd_m);
    case DT_OUTSIDE_MIX_WATER:
        if (load->tieback) return mud_pa(load, tvd_m);
        /* mud above the cement, the water it was mixed with in it */
        return mud_pa(load, fmin(tvd_m, load->cement_top_tvd_m)) +
               column_pa(load->backup_kgm3, load->cement_top_tvd_m, tvd_m);
    case DT_OUTSIDE_PORE:
        if (load->tieback) break; /* no rock outside: water, as where nothing is stated */
        return curve_pa(&load->well->pore, tvd_m, 1);
    case DT_OUTSIDE_CEMENTED:
        if (load->tieback || !(tvd_m > load->cement_top_tvd_m + SAME_DEPTH_M)) break;
        return curve_pa(&load->well->pore, tvd_m, 1);
    case DT_OUTSIDE_WATER:
        break;
    }
    return column_pa(load->backup_kgm3, load->backup_top_tvd_m, tvd_m);
}

static double slurry_outside_pa(const dt_string_load *load, double tvd_m)
{
    return mud_pa(load, fmin(tvd_m, load->spacer_top_tvd_m)) +
           column_pa(load->spacer_kgm3, load->spacer_top_tvd_m,
                     fmin(tvd_m, load->cement_top_tvd_m)) +
           column_pa(load->lead_kgm3, load->cement_top_tvd_m, fmin(tvd_m, load->tail_top_tvd_m)) +
           column_pa(load->cement_kgm3, load->tail_top_tvd_m, tvd_m);
}

bool dt_load_influx_stated(const dt_well *well)
{
    const dt_load_wishes *w = &well->loads;
    return !isnan(w->influx_m3) && !isnan(w->drill_pipe_m);
}

double dt_load_loss_level(const dt_string_load *load, size_t hole)
{
    return fmax(load->holes[hole].loss_level_tvd_m, load->least_empty_m);
}

double dt_load_left_inside(const dt_string_load *load, double tvd_m)
{
    double least_pa = NAN;
    for (size_t i = 0; i < load->hole_count; ++i)
        least_pa =
            fmin(least_pa, column_pa(load->holes[i].mud_kgm3, dt_load_loss_level(load, i), tvd_m));
    return least_pa;
}

/* Mud that lost returns leave inside; where nothing is drilled below, the packer fluid if stated,
 * else nothing. */
static double left_inside_pa(const dt_string_load *load, double tvd_m)
{
    if (load->wall_when_finished && dt_load_emptied(load)) {
        const dt_load_wishes *w = &load->well->loads;
        const bool packer = w->given && !isnan(w->packer_fluid_kgm3);
        return packer ? column_pa(w->packer_fluid_kgm3, 0, tvd_m) : 0;
    }
    return dt_load_left_inside(load, tvd_m);
}

/* A bed that ends where the string's own hole begins, or begins at its shoe, is not crossed: cement
 * and pipe of another string, or no pipe at all, stands in it. */
bool dt_load_crosses_salt(const dt_string_load *load, const dt_interval *bed)
{
    return strcmp(bed->kind, "salt") == 0 && bed->base_m > load->above_tvd_m + SAME_DEPTH_M &&
           bed->top_m < load->shoe_tvd_m - SAME_DEPTH_M;
}

/* Salt flows, so it ends by pressing with the weight of what stands above it: rock, and at sea the
 * water on it. */
static double salt_outside_pa(const dt_string_load *load, double tvd_m)
{
    const dt_well *well = load->well;
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *bed = &well->intervals[i];
        if (!dt_load_crosses_salt(load, bed) || tvd_m < bed->top_m - SAME_DEPTH_M ||
            tvd_m > bed->base_m + SAME_DEPTH_M || tvd_m < load->above_tvd_m - SAME_DEPTH_M)
            continue;
        return well->overburden.count
                   ? curve_pa(&well->overburden, tvd_m, -1)
                   : dt_well_sea_column_pa(well, dt_custom_value_of(well, DT_CUSTOM_OVERBURDEN),
                                           tvd_m);
    }
    return mud_pa(load, tvd_m);
}

/* The hardest of the tests that reach this depth; below them all, the fluid of them alone. */
static double lap_test_inside_pa(const dt_string_load *load, double tvd_m)
{
    double tested_pa = -INFINITY, filled_pa = -INFINITY;
    for (size_t i = 0; i < load->lap_test_count; ++i) {
        const dt_lap_test *t = &load->lap_tests[i];
        const double fluid_pa = column_pa(t->fluid_kgm3, 0, tvd_m);
        filled_pa = fmax(filled_pa, fluid_pa);
        if (tvd_m <= t->base_tvd_m + SAME_DEPTH_M)
            tested_pa = fmax(tested_pa, t->pressure_pa + fluid_pa);
    }
    return tested_pa > -INFINITY ? tested_pa : filled_pa;
}

/* What stands outside, which cases share: the mud of the string, what is credited in burst, or the
 * job before it sets. */
typedef enum outside_kind { OUTSIDE_MUD, OUTSIDE_BURST, OUTSIDE_JOB, OUTSIDE_SALT } outside_kind;
#define OUTSIDE_KINDS 4

static const outside_kind outside_of[DT_LOAD_COUNT] = {
    [DT_LOAD_BURST_GAS] = OUTSIDE_BURST,     [DT_LOAD_BURST_FRACTURE] = OUTSIDE_BURST,
    [DT_LOAD_BURST_INFLUX] = OUTSIDE_BURST,  [DT_LOAD_BURST_LEAK] = OUTSIDE_BURST,
    [DT_LOAD_BURST_TEST] = OUTSIDE_BURST,    [DT_LOAD_BURST_LAP] = OUTSIDE_BURST,
    [DT_LOAD_BURST_BUMP] = OUTSIDE_JOB,      [DT_LOAD_BURST_STIMULATION] = OUTSIDE_BURST,
    [DT_LOAD_COLLAPSE_EMPTY] = OUTSIDE_MUD,  [DT_LOAD_COLLAPSE_LOSS] = OUTSIDE_MUD,
    [DT_LOAD_COLLAPSE_CEMENT] = OUTSIDE_JOB, [DT_LOAD_COLLAPSE_FILL] = OUTSIDE_MUD,
    [DT_LOAD_COLLAPSE_SALT] = OUTSIDE_SALT,  [DT_LOAD_TENSION_HANG] = OUTSIDE_MUD,
    [DT_LOAD_TENSION_RUN] = OUTSIDE_MUD,     [DT_LOAD_TENSION_SHOCK] = OUTSIDE_MUD,
    [DT_LOAD_TENSION_BUMP] = OUTSIDE_JOB,    [DT_LOAD_TENSION_GREEN] = OUTSIDE_JOB};

static double outside_pa_of(const dt_string_load *load, outside_kind kind, double tvd_m)
{
    switch (kind) {
    case OUTSIDE_BURST:
        return burst_outside_pa(load, tvd_m);
    case OUTSIDE_JOB:
        return slurry_outside_pa(load, tvd_m);
    case OUTSIDE_SALT:
        return salt_outside_pa(load, tvd_m);
    case OUTSIDE_MUD:
        break;
    }
    return mud_pa(load, tvd_m);
}

/* The bubble at the top, mud below it; or mud under what a formation has more than that. */
static double influx_inside_pa(const dt_string_load *load, double tvd_m)
{
    double inside = load->influx_surface_pa + column_pa(load->gas_gradient_kgm3, 0, tvd_m);
    for (size_t i = 0; i < load->hole_count; ++i)
        inside =
            fmax(inside, load->holes[i].kick_net_pa + column_pa(load->holes[i].mud_kgm3, 0, tvd_m));
    return inside;
}

static double inside_pa_of(const dt_string_load *load, dt_load which, double tvd_m)
{
    switch (which) {
    case DT_LOAD_BURST_GAS:
        return load->surface_pressure_pa + column_pa(load->gas_gradient_kgm3, 0, tvd_m);
    case DT_LOAD_BURST_FRACTURE:
        return load->fracture_surface_pa + column_pa(load->gas_gradient_kgm3, 0, tvd_m);
    case DT_LOAD_BURST_INFLUX:
        return influx_inside_pa(load, tvd_m);
    case DT_LOAD_BURST_LEAK:
        return load->leak_pa + column_pa(load->packer_kgm3, 0, tvd_m);
    case DT_LOAD_BURST_TEST:
        return load->test_pa + column_pa(load->test_kgm3, 0, tvd_m);
    case DT_LOAD_BURST_LAP:
        return lap_test_inside_pa(load, tvd_m);
    case DT_LOAD_BURST_BUMP:
    case DT_LOAD_TENSION_BUMP:
        return load->bump_pa + column_pa(load->displacement_kgm3, 0, tvd_m);
    case DT_LOAD_BURST_STIMULATION:
        return load->well->loads.stimulation_pa +
               column_pa(load->well->loads.stimulation_fluid_kgm3, 0, tvd_m);
    case DT_LOAD_COLLAPSE_EMPTY:
        return 0;
    case DT_LOAD_COLLAPSE_LOSS:
    case DT_LOAD_COLLAPSE_SALT:
        return left_inside_pa(load, tvd_m);
    case DT_LOAD_COLLAPSE_CEMENT:
        return column_pa(load->displacement_kgm3, 0, tvd_m);
    case DT_LOAD_COLLAPSE_FILL: /* at the end of the longest stretch left empty */
        return column_pa(mud_kgm3(load), load->well->loads.unfilled_m, tvd_m);
    case DT_LOAD_TENSION_GREEN:
        return load->well->loads.green_test_pa + column_pa(load->displacement_kgm3, 0, tvd_m);
    case DT_LOAD_TENSION_HANG:
    case DT_LOAD_TENSION_RUN:
    case DT_LOAD_TENSION_SHOCK:
        return mud_pa(load, tvd_m);
    case DT_LOAD_COUNT:
        break;
    }
    return NAN;
}

void dt_load_pressures(const dt_string_load *load, dt_load which, double tvd_m, double *inside_pa,
                       double *outside_pa)
{
    *inside_pa = inside_pa_of(load, which, tvd_m);
    *outside_pa = which < DT_LOAD_COUNT ? outside_pa_of(load, outside_of[which], tvd_m) : NAN;
}

void dt_load_pressures_at(const dt_string_load *load, double tvd_m, double inside_pa[DT_LOAD_COUNT],
                          double outside_pa[DT_LOAD_COUNT])
{
    double of_kind[OUTSIDE_KINDS];
    bool known[OUTSIDE_KINDS] = {false};
    for (int i = 0; i < DT_LOAD_COUNT; ++i) {
        if (!load->runs[i]) continue;
        const outside_kind kind = outside_of[i];
        if (!known[kind]) of_kind[kind] = outside_pa_of(load, kind, tvd_m);
        known[kind] = true;
        inside_pa[i] = inside_pa_of(load, (dt_load)i, tvd_m);
        outside_pa[i] = of_kind[kind];
    }
}

/*
 * One bubble of gas at the surface, circulated up with the mud in use, bottom pressure held at the
 * formation's: Pf = P + mud g (D - h) + gas g h, with P V = Pf V0 and h = V / area. Ideal gas,
 * temperature left out. With lift = (mud - gas) g V0 / area that is P^2 = P (Pf - mud g D) + lift
 * Pf, or P^2 / (P + lift) = Pf - c g D with c = mud P / (P + lift). So the formation that brings
 * most is the one with most over a column of c. P is raised from 0, each time by the formation that
 * has most over the last c, until none raises it.
 */
static double most_of_bubbles(const dt_curve *pore, const dt_hole_below *hole, double lift_pa)
{
    double most_pa = 0;
    for (int i = 0; i < 100; ++i) {
        const double column_kgm3 =
            hole->mud_kgm3 * (lift_pa > 0 ? most_pa / (most_pa + lift_pa) : 1);
        const dt_over_column over =
            dt_curve_over_column(pore, column_kgm3, hole->top_tvd_m, hole->base_tvd_m);
        const double formation_pa = over.most_pa + column_kgm3 * g * over.most_tvd_m;
        const double net_pa = formation_pa - hole->mud_kgm3 * g * over.most_tvd_m;
        const double bubble_pa = (net_pa + sqrt(net_pa * net_pa + 4 * lift_pa * formation_pa)) / 2;
        if (!(bubble_pa > most_pa)) break;
        most_pa = bubble_pa;
    }
    return most_pa;
}

/* It is never more than the whole hole full of gas. */
void dt_string_load_fit(dt_string_load *load, double id_m)
{
    if (!load->runs[DT_LOAD_BURST_INFLUX]) return;
    const dt_load_wishes *w = &load->well->loads;
    const double area_m2 = PI / 4 * (id_m * id_m - w->drill_pipe_m * w->drill_pipe_m);
    load->influx_surface_pa = 0;
    for (size_t i = 0; i < load->hole_count; ++i) {
        const dt_hole_below *hole = &load->holes[i];
        const dt_curve *pore = &load->well->pore;
        const double gas_kgm3 = load->gas_gradient_kgm3;
        double influx_pa =
            dt_curve_over_column(pore, gas_kgm3, hole->top_tvd_m, hole->base_tvd_m).most_pa;
        const double lift_pa = fmax(hole->mud_kgm3 - gas_kgm3, 0) * g * w->influx_m3 / area_m2;
        if (area_m2 > 0) /* without an annulus nothing smaller can be shown */
            influx_pa = fmin(influx_pa, most_of_bubbles(pore, hole, lift_pa));
        load->influx_surface_pa = fmax(load->influx_surface_pa, influx_pa);
    }
}

/* ---- axial force ---- */

static double heating_k(const dt_string_load *load)
{
    const dt_thermal *t = &load->well->thermal;
    return t->count && !isnan(t->heating_k) ? t->heating_k : 0;
}

static bool is_service(const dt_string_load *load, dt_load which)
{
    return load->wall_when_finished && load->well &&
           (which == DT_LOAD_BURST_LEAK || which == DT_LOAD_COLLAPSE_EMPTY);
}

/* Held fast by cement below and wellhead above, so pressure and heat change the force: every depth
 * by its own change, ballooning 2 nu (Ai dpi - Ao dpo) and - E alpha dT As. */
static double held_fast_n(const dt_string_load *load, dt_load which, const dt_load_point *point,
                          double around_pa, double inner_m2, double outer_m2)
{
    const double balloon_n =
        2 * poisson *
        (inner_m2 * (point->inside_pa - around_pa) - outer_m2 * (point->outside_pa - around_pa));
    const double rise_k = is_service(load, which) ? heating_k(load) : 0;
    return balloon_n - dt_steel_modulus_pa() * expansion_perk * rise_k * (outer_m2 - inner_m2);
}

dt_load_force dt_load_force_at(const dt_string_load *load, dt_load which, const dt_ring *ring,
                               double tvd_m, const dt_load_point *point)
{
    const double around_pa = mud_pa(load, tvd_m);
    dt_load_force force = {.hanging_part = 1 - mud_kgm3(load) / steel_kgm3};
    force.landed_n = -around_pa * (ring->outer_m2 - ring->inner_m2); /* mud on both sides */
    force.axial_n = force.landed_n;
    switch (which) {
    case DT_LOAD_TENSION_RUN: /* pulled free: the drag of picking it up comes beside the overpull */
        force.pull_n = load->overpull_n + point->drag_m * ring->weight_kgm * g * force.hanging_part;
        break;
    case DT_LOAD_TENSION_SHOCK:
        force.pull_n = dt_custom_value_of(load->well, DT_CUSTOM_RUNNING_SHOCK_FORCE) *
                       DT_N_PER_LBF / DT_KGM_PER_LBFT * ring->weight_kgm;
        break;
    case DT_LOAD_TENSION_BUMP:
    case DT_LOAD_BURST_BUMP: /* the string hangs free: pressure on the plug pulls */
        force.pull_n = load->bump_pa * ring->inner_m2;
        break;
    case DT_LOAD_TENSION_GREEN:
        force.pull_n = load->well->loads.green_test_pa * ring->inner_m2;
        break;
    case DT_LOAD_TENSION_HANG:
    case DT_LOAD_COLLAPSE_CEMENT:
    case DT_LOAD_COLLAPSE_FILL:
        break;
    default:
        force.axial_n += held_fast_n(load, which, point, around_pa, ring->inner_m2, ring->outer_m2);
        break;
    }
    force.axial_n += force.pull_n;
    return force;
}

dt_ring dt_ring_of(const dt_pipe *pipe, double wear_m)
{
    const double inner_m = pipe->od_m - 2 * pipe->wall_m + 2 * wear_m;
    return (dt_ring){.outer_m2 = PI / 4 * pipe->od_m * pipe->od_m,
                     .inner_m2 = PI / 4 * inner_m * inner_m,
                     .weight_kgm = pipe->weight_kgm};
}

dt_load_point dt_load_at(const dt_string_load *load, dt_load which, const dt_pipe *pipe,
                         dt_load_place place, double hanging_n)
{
    dt_load_point at = {.drag_m = dt_load_drag(load, place.md_m)};
    dt_load_pressures(load, which, place.tvd_m, &at.inside_pa, &at.outside_pa);
    const dt_ring ring = dt_ring_of(pipe, load->wear_m);
    const dt_load_force force = dt_load_force_at(load, which, &ring, place.tvd_m, &at);
    at.axial_n = force.hanging_part * hanging_n + force.axial_n;
    at.pull_n = force.hanging_part * hanging_n + force.pull_n;
    return at;
}

/* ---- temperature ---- */

static double celsius_at(const dt_thermal *t, double tvd_m)
{
    if (tvd_m <= t->points[0].tvd_m) return t->points[0].celsius;
    for (size_t i = 1; i < t->count; ++i) {
        const dt_temperature_point *a = &t->points[i - 1], *b = &t->points[i];
        if (tvd_m > b->tvd_m) continue;
        return a->celsius + (b->celsius - a->celsius) * (tvd_m - a->tvd_m) / (b->tvd_m - a->tvd_m);
    }
    return t->points[t->count - 1].celsius;
}

double dt_yield_part_at(const dt_thermal *t, double celsius)
{
    const dt_derating_point *d = t->deratings;
    if (t->derating_count == 0) return 1;
    if (celsius <= d[0].celsius) return d[0].fraction;
    for (size_t i = 1; i < t->derating_count; ++i)
        if (celsius <= d[i].celsius)
            return d[i - 1].fraction + (d[i].fraction - d[i - 1].fraction) *
                                           (celsius - d[i - 1].celsius) /
                                           (d[i].celsius - d[i - 1].celsius);
    return d[t->derating_count - 1].fraction;
}

double dt_thermal_stress_pa(double rise_k)
{
    return dt_steel_modulus_pa() * expansion_perk * rise_k;
}

double dt_load_yield_part(const dt_string_load *load, double tvd_m)
{
    const dt_thermal *t = &load->well->thermal;
    if (!t->count || !t->derating_count) return 1;
    /* in service the whole string is warmer */
    const double celsius = celsius_at(t, tvd_m) + (load->wall_when_finished ? heating_k(load) : 0);
    return dt_yield_part_at(t, celsius);
}
