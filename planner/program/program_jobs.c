/* SPDX-License-Identifier: MIT */
/* How every string of a program is run and cemented, and what to warn of. */
#include <math.h>
#include <stdlib.h>

#include "program_parts.h"
#include "same.h"
#include "units.h"

/* What is stated in two places with other units or digits is the same. */
#define SAME_FLUID_KGM3  (0.05 * DT_KGM3_PER_PPG)
#define SAME_PRESSURE_PA (10 * DT_PA_PER_PSI)

/** A tie-back lands in a receptacle, a slotted liner is open to the hole: nothing is pumped round
 * them, nothing holds them off. */
static bool is_bare(const dt_stages *stages, size_t i)
{
    return stages->seats->items[i].type == DT_TIEBACK || stages->strings->items[i].load.slotted;
}

/** What the rock bears or does not: the string run, and its cement pumped. */
static dt_status press_on_rock(const dt_stages *stages, size_t i, dt_job *job)
{
    dt_status status = dt_running_plan(stages, i, &job->running);
    job->cement = dt_cement_none();
    job->centralizing.standoff = NAN;
    if (status != DT_OK || is_bare(stages, i)) return status;
    status = dt_cement_plan(stages, i, job->running.track_m, &job->cement);
    job->cement_refused = status == DT_E_DOMAIN;
    return job->cement_refused ? DT_OK : status; /* a warning says what and why */
}

static dt_status plan_job(const dt_stages *stages, size_t i, dt_job *job)
{
    dt_status status = press_on_rock(stages, i, job);
    if (status == DT_OK && !is_bare(stages, i))
        status = dt_centralizers_plan(stages, i, &job->cement, job->running.settings.joint_m,
                                      &job->centralizing);
    if (status == DT_OK)
        status = dt_accessories_plan(stages, i, &job->cement, &job->running, &job->centralizing,
                                     &job->accessories);
    return status;
}

typedef dt_status (*job_planner)(const dt_stages *stages, size_t i, dt_job *job);

static dt_status plan_jobs(dt_program *p, job_planner plan, dt_string_set asked)
{
    const dt_stages stages = {.well = p->well,
                              .window = &p->window,
                              .trajectory = &p->trajectory,
                              .seats = &p->seats,
                              .nest = &p->nest,
                              .strings = &p->strings,
                              .catalogue = p->catalogue,
                              .design = &p->design,
                              .rock_alone = plan == press_on_rock};
    const size_t strings = p->seats.count + p->seats.tieback_count;
    p->jobs = calloc(strings, sizeof *p->jobs);
    if (!p->jobs) return DT_E_MEMORY;
    for (size_t i = 0; i < strings; ++i) {
        if (!dt_string_in(asked, i)) continue;
        dt_status status = plan(&stages, i, &p->jobs[i]);
        if (status != DT_OK) return status;
    }
    return DT_OK;
}

dt_status dt_program_jobs(dt_program *p)
{
    return plan_jobs(p, plan_job, DT_ALL_STRINGS);
}

dt_status dt_program_jobs_on_rock(dt_program *p, dt_string_set asked)
{
    return plan_jobs(p, press_on_rock, asked);
}

/* ---- what the file left to custom ---- */

/** One value of a custom, and the name its figure has. */
typedef struct part {
    const char *name;
    dt_custom custom;
} part;

enum { MOST_PARTS = 4 };

/** A custom of one or more values that was not stated. */
typedef struct unstated {
    bool raised;
    dt_notice_code code;
    part parts[MOST_PARTS];
} unstated;

static void note_unstated(dt_program *p, dt_notice *above, const unstated *u)
{
    if (!u->raised) return;
    dt_notice *n = dt_notice_below(&p->notices, above, u->code);
    for (size_t i = 0; i < MOST_PARTS && u->parts[i].name; ++i)
        dt_note_custom(n, p->well, u->parts[i].name, u->parts[i].custom);
}

/** Whether the basis tests casing by the pressure it yields at, whatever the role but the first. */
static bool tested_by_yield(const dt_well *well)
{
    size_t count = 0;
    const dt_role_customs *rows = dt_custom_rows(well, DT_TABLE_CEMENTING_ROLES, &count);
    for (size_t i = 0; i < count; ++i)
        if (rows[i].role != DT_CONDUCTOR && rows[i].test != DT_TEST_INTERNAL_YIELD) return false;
    return true;
}

/** What the basis says for every role: excess, waiting, the test. */
static void note_by_role(dt_program *p, dt_notice *above, dt_notice_code code)
{
    const dt_role_customs *surface = dt_cement_customs(p->well, DT_SURFACE);
    const dt_role_customs *deeper = dt_cement_customs(p->well, DT_PRODUCTION);
    dt_notice *n = dt_notice_below(&p->notices, above, code);
    if (code == DT_NOTICE_CUSTOM_EXCESS) {
        dt_notice_figure(n, "surface_excess", DT_KIND_FRACTION, surface->excess);
        dt_notice_figure(n, "deeper_excess", DT_KIND_FRACTION, deeper->excess);
        dt_note_custom(n, p->well, "caliper_excess", DT_CUSTOM_CEMENTING_EXCESS_BY_CALIPER);
        dt_notice_took(n, DT_CUSTOM_COUNT + DT_COLUMN_CEMENTING_ROLES_EXCESS);
    } else {
        dt_notice_figure(n, "wait", DT_KIND_TIME, surface->wait_s);
        dt_notice_figure(n, "production_wait", DT_KIND_TIME, deeper->wait_s);
        dt_notice_took(n, DT_CUSTOM_COUNT + DT_COLUMN_CEMENTING_ROLES_WAIT);
    }
}

/** Adds a notice, and takes it away again when nothing came to stand below it. */
static void note_list(dt_program *p, dt_notice_code code, void (*fill)(dt_program *, dt_notice *))
{
    dt_notice *n = dt_notice_add(&p->notices, code, DT_NO_STRING);
    fill(p, n);
    if (n && n->because_count == 0) --p->notices.count;
}

static void note_test_custom(dt_program *p, dt_notice *above)
{
    const dt_role_customs *deeper = dt_cement_customs(p->well, DT_PRODUCTION);
    dt_notice *n = dt_notice_below(&p->notices, above, DT_NOTICE_CUSTOM_TEST);
    if (tested_by_yield(p->well))
        dt_notice_figure(n, "yield_part", DT_KIND_FRACTION, DT_TEST_YIELD_PART);
    else
        dt_notice_name(n, "rule", dt_test_rule_words((dt_test_rule)deeper->test));
    dt_notice_took(n, DT_CUSTOM_COUNT + DT_COLUMN_CEMENTING_ROLES_TEST);
}

/** Rates, and how far they are lowered. */
static void note_rates(dt_program *p, dt_notice *above)
{
    dt_notice *n = dt_notice_below(&p->notices, above, DT_NOTICE_CUSTOM_RATES);
    dt_note_custom(n, p->well, "mix", DT_CUSTOM_CEMENTING_MIX_RATE);
    dt_note_custom(n, p->well, "displacement", DT_CUSTOM_CEMENTING_DISPLACEMENT_RATE);
    dt_note_custom(n, p->well, "annular_speed", DT_CUSTOM_CEMENTING_MOST_SPEED);
    const double slower = dt_custom_value_of(p->well, DT_CUSTOM_CEMENTING_SLOWER);
    if (slower < 1) dt_notice_figure(n, "slower", DT_KIND_FRACTION, slower);
}

/** Viscosities, and how far the mud is thinned. */
static void note_rheology(dt_program *p, dt_notice *above)
{
    const dt_well *well = p->well;
    dt_notice *n = dt_notice_below(&p->notices, above, DT_NOTICE_CUSTOM_RHEOLOGY);
    const bool power_law = well->rheology.mud_n > 0 || well->rheology.mud_600 > 0;
    dt_note_custom(n, well, power_law ? "spacer_viscosity" : "mud_viscosity", DT_CUSTOM_MUD_PV);
    dt_note_custom(n, well, power_law ? "spacer_yield_point" : "mud_yield_point", DT_CUSTOM_MUD_YP);
    dt_note_custom(n, well, "slurry_viscosity", DT_CUSTOM_SLURRY_PV);
    dt_note_custom(n, well, "slurry_yield_point", DT_CUSTOM_SLURRY_YP);
    if (power_law ||
        !(dt_custom_value_of(well, DT_CUSTOM_THIN_YP) < dt_custom_value_of(well, DT_CUSTOM_MUD_YP)))
        return;
    dt_note_custom(n, well, "thin_viscosity", DT_CUSTOM_THIN_PV);
    dt_note_custom(n, well, "thin_yield_point", DT_CUSTOM_THIN_YP);
}

static void note_cement_customs(dt_program *p, dt_notice *n)
{
    const dt_cement_wishes *c = &p->well->cementing;
    const dt_rheology *f = &p->well->rheology;
    const bool by_part = dt_custom_value_of(p->well, DT_CUSTOM_CEMENTING_TAIL_PART) > 0;
    const bool no_rathole = !(dt_custom_value_of(p->well, DT_CUSTOM_CEMENTING_RATHOLE) > 0);
    const bool no_rheology = isnan(f->mud_pv_pas + f->mud_yp_pa + f->spacer_pv_pas +
                                   f->spacer_yp_pa + f->slurry_pv_pas + f->slurry_yp_pa);
    const unstated slurries[] = {
        {!c->lead, DT_NOTICE_CUSTOM_LEAD, {{"slurry", DT_CUSTOM_CEMENTING_LEAD}}},
        {!c->tail, DT_NOTICE_CUSTOM_TAIL, {{"slurry", DT_CUSTOM_CEMENTING_TAIL}}},
        {isnan(c->tail_length_m) && !by_part,
         DT_NOTICE_CUSTOM_TAIL_LENGTH,
         {{"length", DT_CUSTOM_CEMENTING_TAIL_LENGTH}}},
        {isnan(c->tail_length_m) && by_part,
         DT_NOTICE_CUSTOM_TAIL_LENGTH,
         {{"part", DT_CUSTOM_CEMENTING_TAIL_PART},
          {"least", DT_CUSTOM_CEMENTING_TAIL_LEAST},
          {"most", DT_CUSTOM_CEMENTING_TAIL_MOST}}},
        {isnan(c->above_shoe_m),
         DT_NOTICE_CUSTOM_ABOVE_SHOE,
         {{"length", DT_CUSTOM_CEMENTING_ABOVE_SHOE}}}};
    const unstated fluids[] = {
        {isnan(c->spacer_length_m) || isnan(c->spacer_kgm3),
         DT_NOTICE_CUSTOM_SPACER,
         {{"length", DT_CUSTOM_CEMENTING_SPACER_LENGTH}}},
        {!c->margin_given, DT_NOTICE_CUSTOM_MARGIN, {{"margin", DT_CUSTOM_CEMENTING_MARGIN}}}};
    for (size_t i = 0; i < COUNT_OF(slurries); ++i)
        note_unstated(p, n, &slurries[i]);
    if (isnan(c->excess)) note_by_role(p, n, DT_NOTICE_CUSTOM_EXCESS);
    if (isnan(c->rathole_m)) {
        dt_notice *rathole = dt_notice_below(&p->notices, n, DT_NOTICE_CUSTOM_RATHOLE);
        dt_notice_mark(rathole, "none", no_rathole);
        if (!no_rathole) dt_note_custom(rathole, p->well, "length", DT_CUSTOM_CEMENTING_RATHOLE);
    }
    for (size_t i = 0; i < COUNT_OF(fluids); ++i)
        note_unstated(p, n, &fluids[i]);
    if (isnan(c->mix_rate_m3s) || isnan(c->displacement_rate_m3s)) note_rates(p, n);
    if (c->test == DT_TEST_COUNT && !p->well->loads.test_count) note_test_custom(p, n);
    if (isnan(c->wait_s)) note_by_role(p, n, DT_NOTICE_CUSTOM_WAIT);
    if (no_rheology) note_rheology(p, n);
}

static void note_running_customs(dt_program *p, dt_notice *n)
{
    const dt_running_wishes *r = &p->well->running;
    const bool slower = dt_custom_value_of(p->well, DT_CUSTOM_RUNNING_SLOWEST_JOINT) >
                        dt_custom_value_of(p->well, DT_CUSTOM_RUNNING_JOINT_TIME);
    const unstated all[] = {
        {isnan(r->spares), DT_NOTICE_CUSTOM_SPARES, {{"spares", DT_CUSTOM_RUNNING_SPARES}}},
        {isnan(r->friction_cased) || isnan(r->friction_open),
         DT_NOTICE_CUSTOM_FRICTION,
         {{"cased", DT_CUSTOM_FRICTION_CASED}, {"open", DT_CUSTOM_FRICTION_OPEN}}},
        {isnan(r->collapse_factor) && !(p->well->design.given && p->well->design.collapse > 0),
         DT_NOTICE_CUSTOM_COLLAPSE_EMPTY,
         {{"factor", DT_CUSTOM_DESIGN_COLLAPSE}}},
        {isnan(r->joint_time_s) && !slower,
         DT_NOTICE_CUSTOM_JOINT_TIME,
         {{"joint_time", DT_CUSTOM_RUNNING_JOINT_TIME}}},
        {isnan(r->joint_time_s) && slower,
         DT_NOTICE_CUSTOM_JOINT_TIME,
         {{"joint_time", DT_CUSTOM_RUNNING_JOINT_TIME},
          {"slowest", DT_CUSTOM_RUNNING_SLOWEST_JOINT}}},
        {isnan(r->rig_n), DT_NOTICE_CUSTOM_NO_RIG_LIMIT, {{NULL, DT_CUSTOM_COUNT}}},
        {isnan(r->standoff), DT_NOTICE_CUSTOM_STANDOFF, {{"standoff", DT_CUSTOM_STANDOFF}}}};
    if (isnan(r->range) && isnan(r->joint_m)) {
        size_t count = 0;
        const double range = dt_custom_value_of(p->well, DT_CUSTOM_RUNNING_RANGE);
        const dt_joint_custom *joints = dt_custom_rows(p->well, DT_TABLE_JOINTS, &count);
        dt_notice *joint = dt_notice_below(&p->notices, n, DT_NOTICE_CUSTOM_JOINTS);
        dt_note_custom(joint, p->well, "range", DT_CUSTOM_RUNNING_RANGE);
        for (size_t i = 0; i < count; ++i)
            if (fabs(joints[i].range - range) < 0.5)
                dt_notice_figure(joint, "joint", DT_KIND_LENGTH, joints[i].joint_m);
    }
    for (size_t i = 0; i < COUNT_OF(all); ++i)
        note_unstated(p, n, &all[i]);
}

static void note_customs(dt_program *p)
{
    const dt_running_wishes *r = &p->well->running;
    note_list(p, DT_NOTICE_CEMENTING_CUSTOMARY, note_cement_customs);
    note_list(p, DT_NOTICE_RUNNING_CUSTOMARY, note_running_customs);
    if (r->scratchers && r->movement == DT_MOVE_NONE)
        dt_notice_add(&p->notices, DT_NOTICE_SCRATCHERS_NEED_MOVEMENT, DT_NO_STRING);
}

/* ---- cement ---- */

/** One string whose job is looked at. */
typedef struct viewer {
    dt_program *p;
    size_t string;
    const dt_job *job;
} viewer;

static dt_notice *add(const viewer *v, dt_notice_code code)
{
    return dt_notice_add(&v->p->notices, code, v->string);
}

static void note_column(const viewer *v)
{
    const dt_cement *c = &v->job->cement;
    /* grout round a conductor is topped up by hand: it is no pumped primary job */
    const bool staged = c->stage.proposed && !c->stage.for_time && c->stage.spare_pa >= -TIE_PA;
    if (v->string == 0 || staged || !(c->tight.spare_pa < -TIE_PA)) return;
    const bool breaks = dt_less_by(c->barest.fracture_pa, c->barest.pressure_pa, TIE_PA);
    const dt_tight_spot *t = breaks ? &c->barest : &c->tight;
    const double left_pa = t->fracture_pa - t->pressure_pa;
    dt_notice *n =
        add(v, breaks ? DT_NOTICE_CEMENT_BREAKS_FORMATION : DT_NOTICE_CEMENT_MARGIN_SMALL);
    dt_notice_name(n, "moment", breaks ? c->barest_moment : c->tight_moment);
    dt_notice_figure(n, "pressure", DT_KIND_PRESSURE, t->pressure_pa);
    dt_notice_figure(n, "at_tvd", DT_KIND_LENGTH, t->tvd_m);
    dt_notice_figure(n, "fracture", DT_KIND_PRESSURE, t->fracture_pa);
    dt_notice_figure(n, breaks ? "over" : "left", DT_KIND_PRESSURE, fabs(left_pa));
    dt_notice_figure(n, "margin", DT_KIND_PRESSURE, t->needed_pa);
    dt_notice_mark(n, "never", isnan(c->tallest_top_md_m));
    if (c->tallest_top_md_m > c->top_md_m + 0.1)
        dt_notice_figure(n, "tallest_top_md", DT_KIND_LENGTH, c->tallest_top_md_m);
}

/** A figure of the kind that a value of the basis has. */
static void as_custom(dt_notice *n, const char *name, dt_custom custom, double value)
{
    dt_notice_figure(n, name, dt_custom_about(custom)->kind, value);
}

/** What was changed of the usual job; the conductor's grout is not judged. */
static void note_changed(const viewer *v)
{
    const dt_cement *c = &v->job->cement;
    const dt_cement_settings *s = &c->settings;
    if (v->string == 0 || c->repairs == 0) return;
    dt_notices *list = &v->p->notices;
    dt_notice *all = add(v, DT_NOTICE_JOB_CHANGED), *n;
    if (c->repairs & DT_REPAIR_LEAD) {
        n = dt_notice_below(list, all, DT_NOTICE_JOB_CHANGED_LEAD);
        dt_notice_name(n, "slurry", c->parts[0].slurry.name);
    }
    if (c->repairs & DT_REPAIR_RATE) {
        n = dt_notice_below(list, all, DT_NOTICE_JOB_CHANGED_RATES);
        as_custom(n, "mix", DT_CUSTOM_CEMENTING_MIX_RATE, s->mix_rate_m3s);
        as_custom(n, "displacement", DT_CUSTOM_CEMENTING_DISPLACEMENT_RATE,
                  s->displacement_rate_m3s);
    }
    if (c->repairs & DT_REPAIR_TAIL) {
        n = dt_notice_below(list, all, DT_NOTICE_JOB_CHANGED_TAIL);
        dt_notice_figure(n, "length", DT_KIND_LENGTH, s->tail_least_m);
    }
    if (c->repairs & DT_REPAIR_MUD) {
        n = dt_notice_below(list, all, DT_NOTICE_JOB_CHANGED_MUD);
        as_custom(n, "viscosity", DT_CUSTOM_THIN_PV, s->mud.pv_pas);
        as_custom(n, "yield_point", DT_CUSTOM_THIN_YP, s->mud.yp_pa);
    }
}

static void note_stage(const viewer *v)
{
    const dt_cement *c = &v->job->cement;
    if (c->stage.proposed) {
        dt_notice *n = add(v, DT_NOTICE_STAGE_TOOL_PROPOSED);
        dt_notice_mark(n, c->stage.for_time ? "for_time" : "for_top", true);
        dt_notice_mark(n, c->stage.in_casing ? "in_casing" : "in_rock", true);
        dt_notice_figure(n, "tool_md", DT_KIND_LENGTH, c->stage.md_m);
        dt_notice_number(n, "sacks", c->stage.sacks);
        dt_notice_name(n, "slurry", c->parts[0].slurry.name);
        if (c->stage.spare_pa < -TIE_PA)
            dt_notice_figure(n, "over", DT_KIND_PRESSURE, -c->stage.spare_pa);
    } else if (v->string > 0 &&
               dt_less(c->settings.thickening_s, c->job_s + c->settings.thickening_reserve_s)) {
        dt_notice *n = add(v, DT_NOTICE_CEMENT_TOO_SLOW);
        dt_notice_figure(n, "job", DT_KIND_TIME, c->job_s);
        dt_notice_figure(n, "thickening", DT_KIND_TIME, c->settings.thickening_s);
        dt_notice_figure(n, "reserve", DT_KIND_TIME, c->settings.thickening_reserve_s);
    }
}

/* Of a slurry whose thickening time is stated the job is held against that. */
static void note_long_job(const viewer *v)
{
    const dt_cement *c = &v->job->cement;
    const double most_s = dt_custom_value_of(v->p->well, DT_CUSTOM_CEMENTING_LONGEST_JOB);
    if (isfinite(c->settings.thickening_s) || !dt_less(most_s, c->job_s)) return;
    dt_notice *n = add(v, DT_NOTICE_CEMENT_JOB_LONG);
    dt_notice_figure(n, "job", DT_KIND_TIME, c->job_s);
    dt_notice_figure(n, "most", DT_KIND_TIME, most_s);
    dt_notice_mark(n, c->repairs & DT_REPAIR_RATE ? "rock" : "free", true);
}

static void note_light_slurry(const viewer *v)
{
    const dt_cement *c = &v->job->cement;
    for (size_t i = 0; i < c->part_count; ++i) {
        const dt_slurry_spec *slurry = &c->parts[i].slurry;
        if (dt_less(c->mud_kgm3, slurry->density_kgm3)) continue;
        dt_notice *n = add(v, DT_NOTICE_SLURRY_LIGHTER_THAN_MUD);
        dt_notice_name(n, "slurry", slurry->name);
        dt_notice_figure(n, "density", DT_KIND_DENSITY, slurry->density_kgm3);
        dt_notice_figure(n, "mud", DT_KIND_DENSITY, c->mud_kgm3);
    }
}

static void note_set(const viewer *v)
{
    const dt_cement *c = &v->job->cement;
    if (c->strength_never) {
        dt_notice *n = add(v, DT_NOTICE_STRENGTH_NOT_REACHED);
        dt_notice_figure(n, "strength", DT_KIND_PRESSURE, c->settings.wait_strength_pa);
        dt_notice_figure(n, "wait", DT_KIND_TIME, c->wait_s);
    }
    if (dt_less(c->internal_yield_pa, c->test_pa)) {
        dt_notice *n = add(v, DT_NOTICE_TEST_OVER_YIELD);
        dt_notice_figure(n, "test", DT_KIND_PRESSURE, c->test_pa);
        dt_notice_figure(n, "internal_yield", DT_KIND_PRESSURE, c->internal_yield_pa);
    }
    if (c->lift_off_n > TIE_N)
        dt_notice_figure(add(v, DT_NOTICE_STRING_MAY_RISE), "lift", DT_KIND_FORCE, c->lift_off_n);
    if (isnan(c->water_m3)) add(v, DT_NOTICE_MIX_WATER_NOT_STATED);
}

/** <loads> and <cementing> speak of one job: the pipe is held against what the first says. */
static void note_loads(const viewer *v)
{
    const dt_cement *c = &v->job->cement;
    const dt_string_load *load = &v->p->strings.items[v->string].load;
    double heaviest_kgm3 = 0;
    for (size_t i = 0; i < c->part_count; ++i)
        heaviest_kgm3 = fmax(heaviest_kgm3, c->parts[i].slurry.density_kgm3);
    if (heaviest_kgm3 > load->cement_kgm3 + SAME_FLUID_KGM3) { /* false for a conductor: NAN */
        dt_notice *n = add(v, DT_NOTICE_SLURRY_OVER_LOADS);
        dt_notice_figure(n, "slurry", DT_KIND_DENSITY, heaviest_kgm3);
        dt_notice_figure(n, "in_loads", DT_KIND_DENSITY, load->cement_kgm3);
    }
    if (c->test_pa > load->test_pa + SAME_PRESSURE_PA) { /* false where no test is a load case */
        dt_notice *n = add(v, DT_NOTICE_TEST_OVER_LOADS);
        dt_notice_figure(n, "test", DT_KIND_PRESSURE, c->test_pa);
        dt_notice_figure(n, "in_loads", DT_KIND_PRESSURE, load->test_pa);
    }
}

/** What both parts state of the whole well, and state differently. */
static void note_two_words(dt_program *p)
{
    const dt_load_wishes *loads = &p->well->loads;
    const dt_cement_wishes *job = &p->well->cementing;
    const struct {
        dt_notice_code code;
        dt_kind kind;
        double loads, job, same;
    } both[] = {{DT_NOTICE_BUMP_MARGINS_DIFFER, DT_KIND_PRESSURE, loads->bump_margin_pa,
                 job->bump_margin_pa, SAME_PRESSURE_PA},
                {DT_NOTICE_DISPLACEMENTS_DIFFER, DT_KIND_DENSITY, loads->displacement_kgm3,
                 job->displacement_kgm3, SAME_FLUID_KGM3}};
    for (size_t i = 0; i < COUNT_OF(both); ++i) {
        const bool stated = loads->given && job->given;
        if (!stated || !(fabs(both[i].loads - both[i].job) > both[i].same)) continue;
        dt_notice *n = dt_notice_add(&p->notices, both[i].code, DT_NO_STRING);
        dt_notice_figure(n, "in_loads", both[i].kind, both[i].loads);
        dt_notice_figure(n, "in_cementing", both[i].kind, both[i].job);
    }
}

/** The shoe track that was asked for reaches above the cement; a pinned collar stands as pinned. */
static void note_track(const viewer *v)
{
    const dt_running *r = &v->job->running;
    const dt_cement *c = &v->job->cement;
    const double shoe_m = v->p->strings.items[v->string].load.shoe_md_m;
    const bool own = fabs(shoe_m - r->track_m - c->collar_md_m) < SAME_DEPTH_M;
    if (r->track_left_out == 0 || !own) return;
    const size_t asked = r->track_joint_count + r->track_left_out;
    dt_notice *n = add(v, DT_NOTICE_SHOE_TRACK_SHORT);
    dt_notice_number(n, "asked", (double)asked);
    dt_notice_mark(n, asked > 1 ? "many" : "one", true);
    dt_notice_figure(n, "track", DT_KIND_LENGTH, (double)asked * r->settings.joint_m);
    dt_notice_figure(n, "top_md", DT_KIND_LENGTH, c->top_md_m);
    dt_notice_figure(n, "shoe_md", DT_KIND_LENGTH, shoe_m);
    if (r->track_joint_count > 0) dt_notice_number(n, "left", (double)r->track_joint_count);
    dt_notice_mark(n, "none", r->track_joint_count == 0);
}

static void note_not_computed(const viewer *v)
{
    dt_notice *n = add(v, DT_NOTICE_CEMENT_NOT_COMPUTED);
    if (v->job->running.blocked_line)
        dt_notice_figure(n, "blocked_md", DT_KIND_LENGTH, v->job->running.blocked_md_m);
    else
        dt_notice_figure(n, "shoe_md", DT_KIND_LENGTH,
                         v->p->strings.items[v->string].load.shoe_md_m);
}

static void note_cement(const viewer *v)
{
    const dt_cement *c = &v->job->cement;
    const double ground_m = dt_well_ground_m(v->p->well);
    if (c->rule == DT_CEMENT_PINNED && c->top_tvd_m < ground_m - SAME_DEPTH_M) {
        dt_notice *n = add(v, DT_NOTICE_CEMENT_TOP_ABOVE_GROUND);
        dt_notice_figure(n, "top_tvd", DT_KIND_LENGTH, c->top_tvd_m);
        dt_notice_figure(n, "ground_tvd", DT_KIND_LENGTH, ground_m);
    }
    if (v->job->cement_refused) note_not_computed(v);
    if (!c->cemented) return;
    note_track(v);
    note_light_slurry(v);
    note_loads(v);
    note_changed(v);
    note_column(v);
    note_stage(v);
    note_long_job(v);
    note_set(v);
}

/* ---- running ---- */

static void note_narrow_hole(const viewer *v)
{
    const dt_running *r = &v->job->running;
    if (!r->blocked_line) return;
    dt_notice *n = add(v, DT_NOTICE_HOLE_TOO_NARROW);
    dt_notice_figure(n, "hole", DT_KIND_DIAMETER, r->blocked_hole_m);
    dt_notice_figure(n, "at_md", DT_KIND_LENGTH, r->blocked_md_m);
    dt_notice_figure(n, "pipe", DT_KIND_DIAMETER, r->blocked_pipe_m);
    if (n) n->line = r->blocked_line;
}

static void note_surge(const viewer *v)
{
    const dt_running *r = &v->job->running;
    const dt_tight_spot *t = &r->surge;
    /* a conductor is run into a short hole that holds no pressure */
    if (v->string == 0 || !(t->spare_pa < -TIE_PA)) return;
    dt_notice *n = add(v, DT_NOTICE_SURGE);
    dt_notice_number(n, "joint_seconds", r->settings.joint_time_s);
    dt_notice_figure(n, "pressure", DT_KIND_PRESSURE, t->pressure_pa);
    dt_notice_figure(n, "at_tvd", DT_KIND_LENGTH, t->tvd_m);
    dt_notice_figure(n, "fracture", DT_KIND_PRESSURE, t->fracture_pa);
    if (t->needed_pa > 0) dt_notice_figure(n, "margin", DT_KIND_PRESSURE, t->needed_pa);
    dt_notice_number(n, "least_seconds", ceil(r->joint_s)); /* left out where none is slow enough */
    dt_notice_mark(n, "never", !isfinite(r->joint_s));
}

/** What a string that is pushed down needs, or suffers. */
static void note_pushed(const viewer *v)
{
    const dt_running *r = &v->job->running;
    if (!isnan(r->floated_md_m)) {
        dt_notice *n = add(v, DT_NOTICE_FLOATED_IN);
        const double shoe_m = v->p->strings.items[v->string].load.shoe_md_m;
        dt_notice_figure(n, "air", DT_KIND_LENGTH, shoe_m - r->floated_md_m);
        dt_notice_figure(n, "collar_md", DT_KIND_LENGTH, r->floated_md_m);
    }
    const dt_buckling *b = &r->buckling;
    if (!(b->part > 1)) return;
    dt_notice *n = add(v, DT_NOTICE_BUCKLES);
    dt_notice_figure(n, "pushed", DT_KIND_FORCE, b->pushed_n);
    dt_notice_figure(n, "at_md", DT_KIND_LENGTH, b->md_m);
    dt_notice_figure(n, "waves", DT_KIND_FORCE, b->waves_n);
    dt_notice_figure(n, "helix", DT_KIND_FORCE, b->helix_n);
}

static void note_running(const viewer *v)
{
    const dt_running *r = &v->job->running;
    note_narrow_hole(v);
    note_surge(v);
    if (r->nearly_floats && v->string != 0)
        dt_notice_figure(add(v, DT_NOTICE_STRING_FLOATS),
                         r->hookload_floated_n < 0 ? "buoyancy" : "weight", DT_KIND_FORCE,
                         fabs(r->hookload_floated_n));
    if (r->overpull_rig_n < -TIE_N)
        dt_notice_figure(add(v, DT_NOTICE_RIG_OVERLOADED), "over", DT_KIND_FORCE,
                         -r->overpull_rig_n);
    note_pushed(v);
    if (r->hookload_down_n < -TIE_N) add(v, DT_NOTICE_DRAG_HOLDS_STRING);
    if (v->job->centralizing.missed) {
        dt_notice *n = add(v, DT_NOTICE_STANDOFF_MISSED);
        dt_notice_figure(n, "target", DT_KIND_FRACTION, v->job->centralizing.target);
        dt_notice_figure(n, "left", DT_KIND_FRACTION, v->job->centralizing.standoff);
    }
}

void dt_program_note_job(dt_program *p, size_t string)
{
    const viewer v = {.p = p, .string = string, .job = &p->jobs[string]};
    if (!v.job->running.driven) note_running(&v);
    note_cement(&v);
}

void dt_program_note_jobs(dt_program *p)
{
    note_customs(p);
    note_two_words(p);
    for (size_t n = 0; n < dt_program_strings(p); ++n)
        dt_program_note_job(p, dt_program_at(p, n));
}
