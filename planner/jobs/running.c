/* SPDX-License-Identifier: MIT */
#include "running.h"

#include <math.h>
#include <stdlib.h>

#include "basis.h"
#include "cement.h"
#include "numbers.h"
#include "same.h"
#include "units.h"

static const double G = DT_STANDARD_GRAVITY;

/** Steel: 489.5 lb/ft3, as handbooks have it for the weight of pipe; 490 for the rest (same.h). */
#define STEEL_KGM3 (489.5 * DT_KG_PER_LB / (DT_M_PER_FT * DT_M_PER_FT * DT_M_PER_FT))

/* ---- settings ---- */

/** Joints an hour by size, where the well states no rate. */
static double rate_of(const dt_well *well, double od_m)
{
    size_t count = 0;
    const dt_rate_custom *rows = dt_custom_rows(well, DT_TABLE_RUNNING_RATES, &count);
    while (count > 1 && od_m < rows[count - 1].from_m)
        --count;
    return rows[count - 1].per_hour;
}

/** Length of a made-up joint of a range, where the well states none. */
static double joint_of(const dt_well *well, int range)
{
    size_t count = 0;
    const dt_joint_custom *rows = dt_custom_rows(well, DT_TABLE_JOINTS, &count);
    while (count > 1 && range < rows[count - 1].range)
        --count;
    return rows[count - 1].joint_m;
}

void dt_running_settle(const dt_well *well, dt_role role, dt_string_type type, double od_m,
                       dt_running_settings *out)
{
    const dt_running_wishes *w = &well->running;
    int range = (int)dt_custom_or(well, w->range, DT_CUSTOM_RUNNING_RANGE);
    dt_design_in_force design; /* empty pipe: one load, one factor, standing or being run */
    dt_design_settle(well, &design);
    bool single = role == DT_CONDUCTOR || type == DT_LINER;
    bool no_track = type == DT_TIEBACK; /* not cemented */
    const dt_custom track = single ? DT_CUSTOM_RUNNING_TRACK_SINGLE : DT_CUSTOM_RUNNING_TRACK;
    *out = (dt_running_settings){
        .range = range,
        .joint_m = or_else(w->joint_m, joint_of(well, range)),
        .spares = dt_custom_or(well, w->spares, DT_CUSTOM_RUNNING_SPARES),
        .track_joints = no_track ? 0 : dt_custom_or(well, w->track_joints, track),
        .friction_cased = dt_custom_or(well, w->friction_cased, DT_CUSTOM_FRICTION_CASED),
        .friction_open = dt_custom_or(well, w->friction_open, DT_CUSTOM_FRICTION_OPEN),
        .blocks_n = dt_custom_or(well, w->blocks_n, DT_CUSTOM_RUNNING_BLOCKS),
        .rig_n = w->rig_n,
        .collapse_factor = or_else(w->collapse_factor, design.collapse),
        .float_pa = w->float_pa,
        .fill_joints = dt_custom_or(well, w->fill_joints, DT_CUSTOM_RUNNING_FILL),
        .joint_time_s = dt_custom_or(well, w->joint_time_s, DT_CUSTOM_RUNNING_JOINT_TIME),
        .joint_time_stated = !isnan(w->joint_time_s),
        .slowest_joint_s = dt_custom_value_of(well, DT_CUSTOM_RUNNING_SLOWEST_JOINT),
        .fastest_joint_s = dt_custom_value_of(well, DT_CUSTOM_RUNNING_FASTEST_JOINT),
        .peak_factor = dt_custom_or(well, w->peak_factor, DT_CUSTOM_RUNNING_PEAK),
        .margin = w->margin_given ? w->margin : well->margins.safety,
        .joints_per_hour = or_else(w->joints_per_hour, rate_of(well, od_m)),
        .rig_up_s = dt_custom_or(well, w->rig_up_s, DT_CUSTOM_RUNNING_RIG_UP),
        .trip_speed_ms = dt_custom_or(well, w->trip_speed_ms, DT_CUSTOM_RUNNING_TRIP_SPEED),
        .shock = w->shock,
        .shock_n_per_lbft = dt_custom_value_of(well, DT_CUSTOM_RUNNING_SHOCK_FORCE) * DT_N_PER_LBF,
        .overpull_on_air = w->overpull_on_air,
        .landing_kgm = dt_custom_or(well, w->landing_kgm, DT_CUSTOM_LANDING_WEIGHT),
        .landing_od_m = dt_custom_or(well, w->landing_od_m, DT_CUSTOM_LANDING_OD),
        .landing_id_m = dt_custom_or(well, w->landing_id_m, DT_CUSTOM_LANDING_ID),
        .mud = dt_mud_settle(well),
    };
    out->thin = dt_mud_thinned(well, &out->mud_stated);
}

/* ---- small formulas ---- */

double dt_weight_by_volumes(double weight_kgm, double od_m, double id_m, double inside_kgm3,
                            double outside_kgm3)
{
    return weight_kgm + inside_kgm3 * circle_area(id_m) - outside_kgm3 * circle_area(od_m);
}

double dt_buoyancy_factor(double mud_kgm3, double steel_kgm3)
{
    return 1 - mud_kgm3 / steel_kgm3;
}

double dt_empty_depth(double collapse_pa, double factor, double mud_kgm3)
{
    return collapse_pa / (factor * mud_kgm3 * G);
}

double dt_shock_force(double speed_ms, double steel_m2)
{
    return steel_m2 * speed_ms * sqrt(dt_steel_modulus_pa() * STEEL_KGM3);
}

/* ---- running it empty ---- */

/** Smallest collapse factor anywhere in the string, run empty to a depth. */
static double empty_factor(const dt_run *run, const dt_trajectory *trajectory, double shoe_md_m)
{
    const dt_string *s = run->string;
    double raised = s->load.shoe_md_m - shoe_md_m, least = INFINITY;
    for (size_t i = 0; i < s->section_count; ++i) {
        const dt_pipe *pipe = s->sections[i].pipe;
        double base = s->sections[i].base_md_m - raised;
        if (base <= 0) continue;
        double load = run->mud_kgm3 * G * dt_trajectory_tvd(trajectory, base);
        /* Axial stress of the steel: effective tension less the mud's push on the closed end. */
        double effective = dt_run_tension(run, shoe_md_m, 0, DT_HANGING, base);
        double steel = circle_area(pipe->od_m) - circle_area(pipe->id_m);
        double stress = fmax((effective - load * circle_area(pipe->od_m)) / steel, 0);
        double resistance = NAN;
        if (dt_collapse_axial(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa, stress, &resistance,
                              NULL) != DT_OK)
            resistance = 0;
        least = fmin(least, resistance / load);
    }
    return least;
}

static void run_empty(const dt_run *run, const dt_trajectory *trajectory, dt_running *out)
{
    const dt_running_settings *s = &out->settings;
    double shoe = run->string->load.shoe_md_m, low = 0, high = shoe;
    if (dt_reaches(empty_factor(run, trajectory, shoe), s->collapse_factor)) low = shoe;
    while (high - low > 0.01) {
        double middle = (low + high) / 2;
        if (dt_reaches(empty_factor(run, trajectory, middle), s->collapse_factor))
            low = middle;
        else
            high = middle;
    }
    double by_float = isnan(s->float_pa) || run->mud_kgm3 <= 0
                          ? INFINITY
                          : dt_trajectory_md(trajectory, s->float_pa / (run->mud_kgm3 * G));
    out->empty_by_float = by_float < low - SAME_DEPTH_M;
    out->empty_md_m = fmin(low, by_float);
    out->empty_factor = empty_factor(run, trajectory, fmax(out->empty_md_m, 1));
    double joints = fmin(s->fill_joints, dt_count_down(out->empty_md_m / s->joint_m));
    out->fill_joint_count = (size_t)fmax(joints, 1);
    out->fill_every_m = (double)out->fill_joint_count * s->joint_m;
}

/* ---- surge ---- */

typedef struct surge {
    const dt_running_settings *settings;
    const dt_annulus *annulus;
    const dt_exposed *exposed;
    size_t exposed_count;
    double mud_kgm3, length_m, od_m;
    double *gradient[2]; /* per piece: beside the string, beside landing pipe */
    bool at_depth_alone;
} surge;

/** Surge gradients of all pieces for one speed of the pipe. */
static void set_speed(surge *s, double speed_ms)
{
    dt_liquid mud = s->settings->mud;
    mud.density_kgm3 = s->mud_kgm3;
    for (size_t i = 0; i < s->annulus->count; ++i) {
        const dt_annulus_piece *p = &s->annulus->pieces[i];
        double outer = (p->outer_top_m + p->outer_base_m) / 2;
        /* what does not go through the riser is run before it */
        s->gradient[0][i] =
            p->base_md_m <= s->annulus->string_top_md_m + SAME_DEPTH_M && outer <= s->od_m
                ? 0
                : dt_surge_gradient(outer, s->od_m, speed_ms, mud);
        s->gradient[1][i] = dt_surge_gradient(outer, s->settings->landing_od_m, speed_ms, mud);
    }
}

/** Surge pressure at a depth with the shoe at another: what resists above both. */
static double surge_at(const surge *s, double shoe_md_m, double md_m)
{
    double sum = 0, hanger = shoe_md_m - s->length_m;
    for (size_t i = 0; i < s->annulus->count; ++i) {
        const dt_annulus_piece *p = &s->annulus->pieces[i];
        double base = fmin(p->base_md_m, fmin(shoe_md_m, md_m));
        if (base <= p->top_md_m) break;
        double beside = fmax(base - fmax(p->top_md_m, hanger), 0);
        sum += beside * s->gradient[0][i];
        double landing = base - p->top_md_m - beside;
        if (landing > 0) sum += landing * s->gradient[1][i];
    }
    return sum;
}

static dt_tight_spot surge_spot(const surge *s, double shoe_md_m)
{
    dt_tight_spot worst = {.spare_pa = INFINITY}, before = worst, inside;
    const dt_margin *margin = &s->settings->margin;
    for (size_t i = 0; i < s->exposed_count; ++i) {
        const dt_exposed *rock = &s->exposed[i];
        dt_tight_spot at = {
            .md_m = rock->md_m, .tvd_m = rock->tvd_m, .fracture_pa = rock->fracture_pa};
        at.pressure_pa = dt_annulus_static(s->annulus, s->mud_kgm3, rock->tvd_m) +
                         surge_at(s, shoe_md_m, rock->md_m);
        at.needed_pa = margin->emw_kgm3 * G * rock->tvd_m + margin->pressure_pa;
        at.spare_pa = at.fracture_pa - at.pressure_pa - at.needed_pa;
        if (i > 0 && dt_tight_between(rock - 1, rock, &before, &at, &inside) &&
            inside.spare_pa < worst.spare_pa - TIE_PA)
            worst = inside;
        if (at.spare_pa < worst.spare_pa - TIE_PA) worst = at; /* of equals the shallowest */
        before = at;
    }
    return worst;
}

/** Largest speed of the pipe that keeps the margin with the shoe at a depth; 0 when none does. */
static double surge_speed(surge *s, double shoe_md_m, double most_ms)
{
    double low = 0, high = most_ms;
    set_speed(s, high);
    if (surge_spot(s, shoe_md_m).spare_pa >= -TIE_PA) return high;
    while (high - low > 1e-4 * most_ms) {
        double middle = (low + high) / 2;
        set_speed(s, middle);
        if (surge_spot(s, shoe_md_m).spare_pa >= -TIE_PA)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/** Where the file states no time, joints are lowered as slowly as the rock asks, and no slower than
 * is practical. */
static void slow_down(dt_running *out)
{
    dt_running_settings *set = &out->settings;
    if (set->joint_time_stated || !(out->joint_s > set->joint_time_s)) return;
    set->joint_time_s = fmin(ceil(out->joint_s), fmax(set->slowest_joint_s, set->joint_time_s));
}

static void run_surge(surge *s, dt_running *out)
{
    const dt_running_settings *set = &out->settings;
    double peak = set->joint_m * set->peak_factor;
    const size_t on_the_way = out->point_count > 0 ? out->point_count - 1 : 0;
    for (size_t i = s->at_depth_alone ? on_the_way : 0; i < out->point_count; ++i) {
        double speed = surge_speed(s, out->points[i].md_m, peak / set->fastest_joint_s);
        out->points[i].joint_s = speed >= peak / set->fastest_joint_s ? 0
                                 : speed > 0                          ? peak / speed
                                                                      : INFINITY;
        if (isinf(out->points[i].joint_s)) out->stops_circulating = true;
        out->joint_s = out->points[i].joint_s; /* ends with the shoe at depth */
    }
    double shoe = s->annulus->shoe_md_m;
    slow_down(out);
    set_speed(s, peak / set->joint_time_s);
    out->surge = surge_spot(s, shoe);
    out->surge_pa = surge_at(s, shoe, shoe);
}

/* ---- tally, points, time ---- */

static void count_joints(const dt_string *string, dt_running *out)
{
    const dt_running_settings *s = &out->settings;
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        double length = section->base_md_m - section->top_md_m;
        out->joints += (size_t)dt_count_up(length / s->joint_m);
        out->steel_kg += length * section->pipe->weight_kgm;
    }
    out->spare_joints = (size_t)dt_count_up((double)out->joints * s->spares);
    out->couplings = out->joints; /* each joint comes with one */
    out->length_m = string->load.shoe_md_m - string->load.top_md_m;
    out->air_n = out->steel_kg * G;
}

/**
 * A float collar screws on between two joints, so a track is of whole joints, and no more cement is
 * left inside than stands outside (common practice, no source): joints that would reach above the
 * top of the cement, or out of the string, are left out of it. Short conductors keep none: they
 * are cemented through an inner string stabbed into the shoe.
 */
static void fit_track(const dt_stages *stages, size_t string, const dt_annulus *annulus,
                      dt_running *out)
{
    const dt_running_settings *s = &out->settings;
    const bool tieback = stages->seats->items[string].type == DT_TIEBACK; /* has no track */
    const bool slotted = stages->strings->items[string].load.slotted;     /* nor has it a collar */
    double top_m = tieback || slotted ? NAN : dt_cement_top_md(stages, string, annulus);
    if (top_m >= annulus->shoe_md_m) top_m = NAN; /* pinned so: there is no job, and it says why */
    const double room_m = annulus->shoe_md_m - fmax(top_m, annulus->string_top_md_m);
    const size_t wanted = (size_t)s->track_joints;
    size_t joints = wanted;
    while (joints > 0 && (double)joints * s->joint_m > room_m + SAME_DEPTH_M)
        --joints;
    out->track_joint_count = joints;
    out->track_left_out = wanted - joints;
    out->track_m = joints == wanted ? s->track_joints * s->joint_m : (double)joints * s->joint_m;
}

/** Smallest pull left over the load, sections and shoe at a depth; design factor on the weaker
 *  of body and joint. */
static double overpull_left(const dt_stages *stages, const dt_run *run, const dt_running *out,
                            double shoe_md_m)
{
    const dt_string *s = run->string;
    double raised = s->load.shoe_md_m - shoe_md_m, least = INFINITY;
    for (size_t i = 0; i < s->section_count; ++i) {
        const dt_section *section = &s->sections[i];
        double top = fmax(section->top_md_m - raised, 0);
        if (section->base_md_m - raised <= 0) continue;
        double body = NAN, joint = INFINITY;
        (void)dt_body_yield(section->pipe->od_m, section->pipe->wall_m,
                            section->pipe->grade->yield_pa, &body);
        (void)dt_joint_strength(stages->catalogue, section->pipe, section->thread, &joint);
        dt_run air = *run;
        if (out->settings.overpull_on_air) air.mud_kgm3 = 0;
        double load = dt_run_tension(&air, shoe_md_m, air.mud_kgm3, DT_PULLING, top);
        least = fmin(least, fmin(body, joint) / stages->design->tension_pulled - load);
    }
    return least;
}

/** Where the hole first leans so much that pipe does not slide into it by its own weight: the heel,
 * tan(inclination) = 1 / friction. NAN: nowhere. */
static double heel_md(const dt_run *run)
{
    const double slides_rad = atan(1 / run->friction_open);
    for (size_t i = 0; i < run->path_count; ++i)
        if (run->path[i].inclination_rad > slides_rad) return run->path[i].top_md_m;
    return NAN;
}

/** Does the string go down all the way by its own weight? */
static bool goes_down(const dt_run *run)
{
    const double shoe = run->string->load.shoe_md_m;
    for (size_t i = 0; i < DT_RUNNING_POINTS; ++i)
        if (dt_run_tension(run, shoe * (double)(i + 1) / DT_RUNNING_POINTS, run->mud_kgm3,
                           DT_LOWERING, 0) < -TIE_N)
            return false;
    return true;
}

/**
 * Where drag would hold the string it is floated in: from the heel down the pipe is left full of
 * air under a flotation collar, lighter on the low side, with mud above to push it (common
 * practice, no source). Not where the empty pipe would collapse, nor in a liner, whose landing pipe
 * pushes less.
 */
static void float_in(const dt_run *full, const dt_trajectory *trajectory, dt_run *run,
                     dt_running *out)
{
    const double shoe = run->string->load.shoe_md_m, heel = heel_md(run);
    if (isnan(heel) || heel >= shoe - SAME_DEPTH_M || goes_down(full)) return;
    if (run->string->load.top_md_m > 0) return;
    if (!dt_reaches(empty_factor(run, trajectory, shoe), out->settings.collapse_factor)) return;
    run->air_m = shoe - heel;
    if (goes_down(run))
        out->floated_md_m = heel;
    else
        run->air_m = 0;
}

static void fill_points(const dt_stages *stages, const dt_run *run, dt_running *out)
{
    const dt_running_settings *s = &out->settings;
    double shoe = run->string->load.shoe_md_m, mud = run->mud_kgm3;
    const dt_run *lowered = run;
    dt_run full = *run; /* pulled, a string may have been filled */
    full.air_m = 0;
    run = &full;
    out->overpull_pipe_n = out->overpull_rig_n = INFINITY;
    out->point_count = DT_RUNNING_POINTS;
    for (size_t i = 0; i < out->point_count; ++i) {
        dt_running_point *p = &out->points[i];
        p->md_m = shoe * (double)(i + 1) / DT_RUNNING_POINTS;
        p->tvd_m = dt_trajectory_tvd(stages->trajectory, p->md_m);
        p->filled_n = dt_run_tension(run, p->md_m, mud, DT_HANGING, 0);
        p->floated_n = run->string->load.slotted ? p->filled_n /* it fills as it goes down */
                                                 : dt_run_tension(run, p->md_m, 0, DT_HANGING, 0);
        p->up_n = dt_run_tension(run, p->md_m, mud, DT_PULLING, 0);
        p->down_n = dt_run_tension(lowered, p->md_m, mud, DT_LOWERING, 0);
        p->overpull_pipe_n = overpull_left(stages, run, out, p->md_m);
        p->overpull_rig_n = s->rig_n - s->blocks_n - p->up_n;
        out->overpull_pipe_n = fmin(out->overpull_pipe_n, p->overpull_pipe_n);
        out->overpull_rig_n = fmin(out->overpull_rig_n, p->overpull_rig_n);
    }
    if (isnan(s->rig_n)) out->overpull_rig_n = NAN;
    const dt_running_point *last = &out->points[out->point_count - 1];
    out->hookload_filled_n = last->filled_n;
    out->hookload_floated_n = last->floated_n;
    out->hookload_up_n = last->up_n;
    out->hookload_down_n = last->down_n;
    dt_run_buckling(lowered, shoe, mud, &out->buckling);
    out->nearly_floats = dt_less_by(last->floated_n, 0.1 * out->air_n, TIE_N);
}

static double shock_of(const dt_string *string, const dt_running_settings *s)
{
    const dt_pipe *top = string->sections[0].pipe;
    double speed = s->joint_m / s->joint_time_s * s->peak_factor;
    switch (s->shock) {
    case DT_SHOCK_SPEED:
        return dt_shock_force(speed, circle_area(top->od_m) - circle_area(top->id_m));
    case DT_SHOCK_WEIGHT:
        return s->shock_n_per_lbft * top->weight_kgm / DT_KGM_PER_LBFT;
    case DT_SHOCK_NONE:
        break;
    }
    return NAN;
}

/** Crew, joints at the rate of the size, slower joints where surge asks for it, liner trip. */
static double running_time(const dt_string *string, const dt_running *out)
{
    const dt_running_settings *s = &out->settings;
    double time = s->rig_up_s + (double)out->joints * 3600 / s->joints_per_hour;
    double joints = (double)out->joints / (double)DT_RUNNING_POINTS;
    for (size_t i = 0; i < out->point_count; ++i) {
        double slow = out->points[i].joint_s - s->joint_time_s;
        if (slow > 0 && isfinite(slow)) time += slow * joints;
    }
    return time + string->load.top_md_m / s->trip_speed_ms;
}

static dt_status with_surge(const dt_stages *stages, const dt_annulus *annulus, dt_running *out,
                            double mud_kgm3, double od_m)
{
    surge s = {.settings = &out->settings,
               .annulus = annulus,
               .mud_kgm3 = mud_kgm3,
               .length_m = out->length_m,
               .od_m = od_m,
               .at_depth_alone = stages->rock_alone};
    dt_exposed *exposed = NULL;
    double *memory = calloc(2 * annulus->count + 1, sizeof *memory);
    dt_status status = memory ? DT_OK : DT_E_MEMORY;
    if (memory) {
        s.gradient[0] = memory;
        s.gradient[1] = memory + annulus->count;
        status = dt_annulus_exposed(stages, annulus, &exposed, &s.exposed_count);
    }
    if (status == DT_OK) {
        s.exposed = exposed;
        const double usual_s = out->settings.joint_time_s;
        run_surge(&s, out);
        const dt_running_settings *set = &out->settings;
        const bool thinner = set->thin.yp_pa < set->mud.yp_pa || set->thin.pv_pas < set->mud.pv_pas;
        if (out->surge.spare_pa < -TIE_PA && !set->mud_stated && thinner) {
            out->settings.mud = set->thin;
            out->settings.joint_time_s = usual_s;
            out->thinned = true;
            run_surge(&s, out);
        }
    }
    free(exposed);
    free(memory);
    return status;
}

/** Does the caliper log let the pipe with its couplings down? Says where it does not. */
static bool passes(const dt_annulus *annulus, const dt_nest_pipe *pipe, dt_running *out)
{
    const double width_m = fmax(pipe->od_m, pipe->coupling_od_m);
    if (!annulus->narrow_line || annulus->narrow_m > width_m) return true;
    out->blocked_line = annulus->narrow_line;
    out->blocked_md_m = annulus->narrow_md_m;
    out->blocked_hole_m = annulus->narrow_m;
    out->blocked_pipe_m = width_m;
    for (size_t i = 0; i < out->point_count; ++i)
        out->points[i].joint_s = INFINITY;
    out->joint_s = INFINITY;
    out->surge_pa = NAN;
    return false;
}

dt_status dt_running_plan(const dt_stages *stages, size_t string, dt_running *out)
{
    const dt_string *own = &stages->strings->items[string];
    const dt_seat *seat = &stages->seats->items[string];
    double od = stages->nest->pipes[own->nest_pipe].od_m;
    *out = (dt_running){.floated_md_m = NAN};
    dt_running_settle(stages->well, seat->role, seat->type, od, &out->settings);
    count_joints(own, out);
    out->driven = string == 0 && stages->well->conductor.method != DT_CONDUCTOR_DRILLED;
    out->mud_kgm3 = out->driven ? 0 : dt_annulus_mud(stages, string);
    dt_annulus annulus = {0};
    dt_path_step *path = NULL;
    dt_run run = {.string = own,
                  .mud_kgm3 = out->mud_kgm3,
                  .friction_cased = out->settings.friction_cased,
                  .friction_open = out->settings.friction_open,
                  .landing_kgm = out->settings.landing_kgm,
                  .landing_od_m = out->settings.landing_od_m,
                  .landing_id_m = out->settings.landing_id_m};
    dt_status status = dt_annulus_build(stages, string, &annulus);
    if (status == DT_OK)
        status = dt_path_make(stages->trajectory, own->load.shoe_md_m, &path, &run.path_count);
    if (status == DT_OK) {
        run.path = path;
        run.open_md_m = annulus.open_md_m;
        run.annulus = &annulus;
        fit_track(stages, string, &annulus, out);
        (void)dt_annulus_steel(&annulus, annulus.string_top_md_m, annulus.shoe_md_m,
                               &out->closed_end_m3);
        out->fill_m3 = dt_annulus_bore(&annulus, annulus.string_top_md_m, annulus.shoe_md_m);
        const dt_run full = run;
        float_in(&full, stages->trajectory, &run, out);
        fill_points(stages, &run, out);
        run_empty(&run, stages->trajectory, out);
        out->surge.spare_pa = INFINITY;
        out->fills_itself = own->load.slotted;
        const bool pushes = !out->driven && !out->fills_itself;
        if (pushes && passes(&annulus, &stages->nest->pipes[own->nest_pipe], out))
            status = with_surge(stages, &annulus, out, run.mud_kgm3, od);
        out->shock_n = shock_of(own, &out->settings);
        out->time_s = running_time(own, out);
    }
    free(path);
    dt_annulus_free(&annulus);
    return status;
}
