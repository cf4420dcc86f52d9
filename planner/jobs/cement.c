/* SPDX-License-Identifier: MIT */
#include "cement.h"

#include <math.h>
#include <stdlib.h>

#include "basis.h"
#include "placement.h"
#include "same.h"
#include "units.h"

static const double G = DT_STANDARD_GRAVITY;

static const char *const rule_codes[DT_CEMENT_RULE_COUNT] = {
#define RULE_CODE(name, code, words) [DT_CEMENT_##name] = code,
    DT_CEMENT_RULE_LIST(RULE_CODE)
#undef RULE_CODE
};

static const char *const rule_words[DT_CEMENT_RULE_COUNT] = {
#define RULE_WORDS(name, code, words) [DT_CEMENT_##name] = words,
    DT_CEMENT_RULE_LIST(RULE_WORDS)
#undef RULE_WORDS
};

const char *dt_cement_rule_code(dt_cement_rule rule)
{
    return rule_codes[rule];
}

const char *dt_cement_rule_words(dt_cement_rule rule)
{
    return rule_words[rule];
}

/* ---- volumes ---- */

static bool sane(const dt_cement_job *job, const dt_cement *c)
{
    const dt_annulus *a = job->annulus;
    if (a->count == 0 || c->part_count == 0) return false;
    for (size_t i = 0; i < a->count; ++i)
        if (fmin(a->pieces[i].outer_top_m, a->pieces[i].outer_base_m) <= a->pieces[i].pipe_od_m)
            return false;
    if (!(c->collar_md_m <= a->shoe_md_m && c->collar_md_m >= a->string_top_md_m)) return false;
    double above = a->pieces[0].top_md_m - SAME_DEPTH_M;
    for (size_t i = 0; i < c->part_count; ++i) {
        const dt_cement_part *p = &c->parts[i];
        if (!(p->top_md_m > above && p->top_md_m < a->shoe_md_m)) return false;
        if (!(p->slurry.yield_m3 > 0 && p->excess >= 0)) return false;
        above = p->top_md_m;
    }
    return true;
}

static void fill_part(const dt_cement_job *job, const dt_cement *c, size_t index)
{
    const dt_annulus *a = job->annulus;
    const dt_cement_settings *s = &job->settings;
    dt_cement_part *p = &c->parts[index];
    bool last = index + 1 == c->part_count;
    p->base_md_m = last ? a->shoe_md_m : c->parts[index + 1].top_md_m;
    p->top_tvd_m = dt_trajectory_deepest(job->trajectory, p->top_md_m);
    double cased_base = fmin(a->open_md_m, p->base_md_m);
    double open_top = fmax(a->open_md_m, p->top_md_m);
    p->cased_m3 = dt_annulus_volume(a, p->top_md_m, cased_base, p->excess, p->excess_on);
    p->open_m3 = dt_annulus_volume(a, open_top, p->base_md_m, p->excess, p->excess_on);
    p->rathole_m3 = p->track_m3 = 0;
    if (last) {
        double hole = dt_annulus_outer(&a->pieces[a->count - 1], a->shoe_md_m);
        double factor = s->rathole_excess ? 1 + p->excess : 1;
        p->rathole_m3 = PI / 4 * hole * hole * c->rathole_m * factor;
        p->track_m3 = dt_annulus_bore(a, c->collar_md_m, a->shoe_md_m);
    }
    p->volume_m3 = p->cased_m3 + p->open_m3 + p->rathole_m3 + p->track_m3;
    /* A volume that is a whole number of sacks must not take one more by the last bit. */
    p->sacks = dt_count_up(p->volume_m3 / p->slurry.yield_m3);
    p->water_m3 = p->sacks * p->slurry.water_m3;
}

static void fill_volumes(const dt_cement_job *job, dt_cement *c)
{
    const dt_annulus *a = job->annulus;
    const dt_cement_settings *s = &job->settings;
    c->rathole_m = s->rathole_m;
    c->slurry_m3 = c->sacks = c->cement_kg = c->water_m3 = 0;
    for (size_t i = 0; i < c->part_count; ++i) {
        fill_part(job, c, i);
        c->slurry_m3 += c->parts[i].volume_m3;
        c->sacks += c->parts[i].sacks;
        c->cement_kg += c->parts[i].sacks * c->parts[i].slurry.sack_kg;
        c->water_m3 += c->parts[i].water_m3;
    }
    c->top_md_m = c->parts[0].top_md_m;
    c->top_tvd_m = c->parts[0].top_tvd_m;
    c->mud_kgm3 = job->mud_kgm3;
    c->displacement_kgm3 = isnan(s->displacement_kgm3) ? c->mud_kgm3 : s->displacement_kgm3;
    double first = c->parts[0].slurry.density_kgm3;
    c->spacer_kgm3 = isnan(s->spacer_kgm3) ? (c->mud_kgm3 + first) / 2 : s->spacer_kgm3;
    double spacer_top = fmax(a->shoe_md_m - s->spacer_length_m, a->pieces[0].top_md_m);
    c->spacer_m3 = dt_annulus_volume(a, spacer_top, a->shoe_md_m, 0, DT_EXCESS_OPEN_HOLE);
    c->displacement_m3 = dt_annulus_bore(a, 0, c->collar_md_m);
    /* A plug that does not bump there was missed: common practice, no source. */
    c->displacement_most_m3 = c->displacement_m3 + c->parts[c->part_count - 1].track_m3 / 2;
}

static void fill_times(const dt_cement_job *job, dt_cement *c)
{
    const dt_cement_settings *s = &job->settings;
    c->strokes = c->displacement_m3 / s->pump_m3_per_stroke;
    c->mix_s = c->slurry_m3 / s->mix_rate_m3s;
    c->displace_s = c->displacement_m3 / s->displacement_rate_m3s;
    c->job_s = c->mix_s + s->plug_drop_s + c->displace_s;
}

/* ---- what one stage reaches, and what a second does ---- */

static bool bears(placement *sim, const dt_cement *c, double top_md_m)
{
    placement_end(sim, c, top_md_m);
    return placement_tight(sim, PLACEMENT_DISPLACING, NULL).spare_pa >= -TIE_PA;
}

/** Highest top that the rock withstands at the end of the job, pumping; by halving. */
static void find_tallest(placement *sim, const dt_cement_job *job, dt_cement *c)
{
    double high = job->annulus->pieces[0].top_md_m, low = job->annulus->shoe_md_m;
    c->tallest_top_md_m = c->tallest_top_tvd_m = NAN;
    if (!bears(sim, c, low)) return;
    if (bears(sim, c, high)) low = high;
    while (low - high > 0.01) {
        double middle = (low + high) / 2;
        if (bears(sim, c, middle))
            low = middle;
        else
            high = middle;
    }
    c->tallest_top_md_m = low;
    c->tallest_top_tvd_m = dt_trajectory_deepest(job->trajectory, low);
}

/** Worst spare at rest over the open rock above the tool, second stage in place. */
static double second_stage_spare(const dt_cement_job *job, const dt_cement *c)
{
    const dt_stage_tool *tool = &c->stage;
    const dt_margin *margin = &job->settings.margin;
    double worst = INFINITY;
    for (size_t i = 0; i < job->exposed_count; ++i) {
        const dt_exposed *rock = &job->exposed[i];
        if (rock->md_m > tool->md_m + SAME_DEPTH_M) continue;
        double cement = fmax(rock->tvd_m - c->top_tvd_m, 0);
        double pressure =
            job->annulus->top_pressure_pa +
            G * (c->parts[0].slurry.density_kgm3 * cement + c->mud_kgm3 * (rock->tvd_m - cement));
        double needed = margin->emw_kgm3 * G * rock->tvd_m + margin->pressure_pa;
        worst = fmin(worst, rock->fracture_pa - pressure - needed);
    }
    return worst;
}

static void propose_stage(const dt_cement_job *job, dt_cement *c)
{
    const dt_annulus *a = job->annulus;
    const dt_cement_settings *s = &job->settings;
    dt_stage_tool *tool = &c->stage;
    *tool = (dt_stage_tool){.md_m = NAN, .tvd_m = NAN, .spare_pa = INFINITY};
    bool too_tall = !(c->tallest_top_md_m <= c->top_md_m + SAME_DEPTH_M);
    bool too_long =
        dt_less(s->thickening_s, c->job_s + s->thickening_reserve_s); /* false for NAN */
    if (!job->may_stage || isnan(c->tallest_top_md_m) || (!too_tall && !too_long)) return;
    double limit = too_tall ? c->tallest_top_md_m : c->top_md_m;
    double in_casing = a->open_md_m - s->tool_above_shoe_m;
    double at = in_casing > limit + SAME_DEPTH_M && in_casing > c->top_md_m + SAME_DEPTH_M
                    ? in_casing
                    : limit;
    if (!too_tall && at <= c->top_md_m + SAME_DEPTH_M)
        return; /* too slow, and nowhere to split it */
    /* no tool stands high up, nor in a short string */
    if (at < s->tool_depth_m || a->shoe_md_m < 1.5 * s->tool_depth_m) return;
    const dt_cement_part *lead = &c->parts[0];
    tool->proposed = true;
    tool->for_time = !too_tall;
    tool->md_m = at;
    tool->tvd_m = dt_trajectory_deepest(job->trajectory, at);
    tool->in_casing = at < a->open_md_m - SAME_DEPTH_M;
    tool->volume_m3 = dt_annulus_volume(a, c->top_md_m, at, lead->excess, lead->excess_on);
    tool->sacks = dt_count_up(tool->volume_m3 / lead->slurry.yield_m3);
    tool->water_m3 = tool->sacks * lead->slurry.water_m3;
    tool->spare_pa = tool->in_casing ? INFINITY : second_stage_spare(job, c);
}

dt_status dt_cement_compute(const dt_cement_job *job, dt_cement *out)
{
    if (!sane(job, out)) return DT_E_DOMAIN;
    out->settings = job->settings;
    fill_volumes(job, out);
    fill_times(job, out);
    placement sim;
    dt_status status = placement_build(job, out, &sim);
    if (status != DT_OK) return status;
    status = placement_run(&sim, out);
    if (status == DT_OK) {
        find_tallest(&sim, job, out);
        propose_stage(job, out);
        out->bump_pa = fmax(out->lift_pa, 0) + job->settings.bump_margin_pa;
        out->cemented = true;
    }
    placement_free(&sim);
    return status;
}

/* ---- tops ---- */

static const dt_pin *pin_of(const dt_stages *stages, size_t string)
{
    size_t pin = stages->seats->items[string].pin;
    return pin == DT_NO_INDEX ? NULL : &stages->well->pins[pin];
}

/** Top of the cement by the pin or by the rule of the role, TVD; NAN when not cemented. */
static double place_top(const dt_stages *stages, size_t string, dt_cement *out)
{
    const dt_string_load *load = &stages->strings->items[string].load;
    const dt_cement_end end =
        dt_cement_end_of(stages->well, stages->seats, string, load->top_tvd_m, load->shoe_tvd_m);
    out->rule = end.rule;
    out->zone_pay = end.zone_pay;
    out->zone_interval = end.zone_interval;
    return end.top_tvd_m;
}

/* ---- from the stages to a job ---- */

static dt_status pinned_parts(const dt_stages *stages, const dt_pin *pin, double shoe_md_m,
                              dt_cement *out)
{
    const dt_cement_settings *s = &out->settings;
    out->parts = calloc(pin->cement_count, sizeof *out->parts);
    if (!out->parts) return DT_E_MEMORY;
    out->part_count = pin->cement_count;
    for (size_t i = 0; i < pin->cement_count; ++i) {
        const dt_pinned_cement *c = &pin->cement[i];
        dt_cement_part *p = &out->parts[i];
        if (!dt_slurry_find(stages->well, c->slurry, &p->slurry)) return DT_E_DOMAIN;
        p->excess = isnan(c->excess) ? s->excess : c->excess;
        p->excess_on = c->excess_on;
        if (i == 0)
            p->top_md_m = out->top_md_m;
        else if (isnan(c->top_m))
            p->top_md_m = fmax(shoe_md_m - s->tail_length_m, out->parts[i - 1].top_md_m);
        else
            p->top_md_m = dt_trajectory_md(stages->trajectory, c->top_m);
        if (isfinite(c->collar_above_shoe_m)) out->collar_md_m = shoe_md_m - c->collar_above_shoe_m;
    }
    return DT_OK;
}

/** Where the tail of a job that no pin decides begins. */
static double tail_top_of(const dt_well *well, double shoe_md_m, double top_md_m)
{
    return shoe_md_m - dt_cement_tail_length(well, shoe_md_m - top_md_m);
}

/**
 * Lead down to where the tail begins, tail from there. Tail alone where it is long enough, or
 * where the file names no lead and that of the basis is not heavier than the mud.
 */
static dt_status parts_by_settings(const dt_stages *stages, double shoe_md_m, double mud_kgm3,
                                   dt_cement *out)
{
    const dt_cement_settings *s = &out->settings;
    double tail_top = tail_top_of(stages->well, shoe_md_m, out->top_md_m);
    bool lead = tail_top > out->top_md_m + SAME_DEPTH_M &&
                dt_cement_leads(stages->well, &s->lead, mud_kgm3);
    out->part_count = lead ? 2 : 1;
    out->parts = calloc(out->part_count, sizeof *out->parts);
    if (!out->parts) return DT_E_MEMORY;
    dt_cement_part *tail = &out->parts[out->part_count - 1];
    if (lead)
        out->parts[0] =
            (dt_cement_part){.slurry = s->lead, .excess = s->excess, .top_md_m = out->top_md_m};
    *tail = (dt_cement_part){.slurry = dt_cement_tail(stages->well, mud_kgm3),
                             .excess = s->excess,
                             .top_md_m = lead ? tail_top : out->top_md_m};
    return DT_OK;
}

static void weakest_section(const dt_stages *stages, size_t string, dt_cement *out)
{
    const dt_string *s = &stages->strings->items[string];
    out->internal_yield_pa = INFINITY;
    for (size_t i = 0; i < s->section_count; ++i) {
        const dt_section *section = &s->sections[i];
        const dt_pipe *pipe = section->pipe;
        double body = INFINITY, coupling = INFINITY;
        /* E_DOMAIN: no coupling to rate, the body decides alone. */
        (void)dt_internal_yield(pipe->od_m, pipe->wall_m, pipe->grade->yield_pa, 0.875, &body);
        (void)dt_coupling_internal_yield(stages->catalogue, pipe, section->thread, &coupling);
        out->internal_yield_pa = fmin(out->internal_yield_pa, fmin(body, coupling));
    }
}

static void set_test(const dt_stages *stages, size_t string, dt_cement *out)
{
    const dt_string_load *load = &stages->strings->items[string].load;
    double length_ft = (load->shoe_md_m - load->top_md_m) / DT_M_PER_FT;
    double depth_ft = load->shoe_tvd_m / DT_M_PER_FT, psi = DT_PA_PER_PSI;
    double yield70 = DT_TEST_YIELD_PART * out->internal_yield_pa;
    switch (out->settings.test) {
    case DT_TEST_INTERNAL_YIELD:
        out->test_pa = yield70;
        break;
    case DT_TEST_GRADIENT_022:
        out->test_pa = fmin(fmax(0.22 * length_ft, 1500) * psi, yield70);
        break;
    case DT_TEST_GRADIENT_020:
        out->test_pa = fmin(0.2 * depth_ft, 1500) * psi;
        break;
    case DT_TEST_PRESSURE:
        out->test_pa = out->settings.test_pressure_pa;
        break;
    case DT_TEST_NONE:
    case DT_TEST_COUNT:
        out->test_pa = NAN;
        break;
    }
}

static void set_wait(const dt_well *well, dt_cement *out)
{
    const dt_cement_wishes *w = &well->cementing;
    out->wait_s = out->settings.wait_s;
    if (w->strength_count == 0) return;
    double at = dt_strength_time(w->strengths, w->strength_count, out->settings.wait_strength_pa);
    out->strength_never = isinf(at);
    out->wait_by_strength = isfinite(at) && at > out->wait_s;
    if (out->wait_by_strength) out->wait_s = at;
}

/** Lapeyrouse 2002, p. 66: pressure under the plugged string against its buoyed weight. */
static void set_lift_off(const dt_annulus *annulus, const dt_cement_job *job, dt_cement *out)
{
    double down = 0;
    for (size_t i = 0; i < annulus->count; ++i) {
        const dt_annulus_piece *p = &annulus->pieces[i];
        if (p->landing) continue;
        double tvd = dt_trajectory_deepest(job->trajectory, p->base_md_m) -
                     dt_trajectory_deepest(job->trajectory, p->top_md_m);
        double steel = PI / 4 * (p->pipe_od_m * p->pipe_od_m - p->pipe_id_m * p->pipe_id_m);
        down += (p->pipe_kgm - job->mud_kgm3 * steel) * G * tvd;
    }
    double od = annulus->pieces[annulus->count - 1].pipe_od_m;
    out->lift_off_n = fmax(out->lift_pa, 0) * PI / 4 * od * od - down;
}

/** Does the rock not bear the job as it stands? */
static bool breaks(const dt_cement *c)
{
    return c->tight.spare_pa < -TIE_PA;
}

/**
 * Where the file names no lead and that of the basis is too heavy, the next lighter ones of the
 * basis are tried, and the first the rock withstands is taken; if it bears none, the lightest.
 */
static dt_status lighten_lead(const dt_well *well, const dt_cement_job *job, dt_cement *out)
{
    size_t count = 0;
    const dt_name_custom *lighter = dt_custom_rows(well, DT_TABLE_LIGHTER_LEADS, &count);
    dt_status status = DT_OK;
    for (size_t i = 0; i < count && status == DT_OK && breaks(out); ++i) {
        dt_slurry_spec lead;
        if (!dt_slurry_find(NULL, lighter[i].text, &lead)) continue;
        if (dt_less(lead.density_kgm3, dt_cement_lightest(well, job->mud_kgm3))) break;
        out->parts[0].slurry = lead;
        out->lead_chosen = true;
        status = dt_cement_compute(job, out);
    }
    return status;
}

/** Slower, as far as that is practical: halved until the rock withstands it. */
static dt_status pump_slower(dt_cement_job *job, dt_cement *out)
{
    const double usual[2] = {job->settings.mix_rate_m3s, job->settings.displacement_rate_m3s};
    dt_status status = DT_OK;
    for (double part = 0.5; part >= job->settings.slower - SAME_SUM && breaks(out); part /= 2) {
        job->settings.mix_rate_m3s = part * usual[0];
        job->settings.displacement_rate_m3s = part * usual[1];
        status = dt_cement_compute(job, out);
        out->repairs |= DT_REPAIR_RATE;
        if (status != DT_OK) break;
    }
    return status;
}

/** The least tail in place of a longer one. */
static dt_status shorten_tail(dt_cement_job *job, dt_cement *out)
{
    dt_cement_part *tail = &out->parts[out->part_count - 1];
    const double top_m = job->annulus->shoe_md_m - job->settings.tail_least_m;
    if (out->part_count < 2 || !(top_m > tail->top_md_m + SAME_DEPTH_M)) return DT_OK;
    tail->top_md_m = top_m;
    out->repairs |= DT_REPAIR_TAIL;
    return dt_cement_compute(job, out);
}

/** Is the mud thinned before pipe is run any thinner? */
static bool can_thin(const dt_cement_settings *s)
{
    return !s->mud_stated && (s->thin.yp_pa < s->mud.yp_pa || s->thin.pv_pas < s->mud.pv_pas);
}

/** A repair of the job, in the order in which they are tried. */
static dt_status repair(dt_cement_job *job, dt_cement *out)
{
    dt_status status = DT_OK;
    if (!job->settings.rates_stated && breaks(out)) status = pump_slower(job, out);
    if (status == DT_OK && !job->settings.tail_stated && job->settings.slower < 1 && breaks(out))
        status = shorten_tail(job, out);
    if (status == DT_OK && can_thin(&job->settings) && breaks(out)) {
        job->settings.mud = job->settings.thin;
        out->repairs |= DT_REPAIR_MUD;
        status = dt_cement_compute(job, out);
    }
    return status;
}

/** Repairs with each dear lead in turn, of a job that is otherwise as usual, until the rock
 * withstands it. Such a lead may make the other repairs needless. */
static dt_status take_light_lead(const dt_well *well, const dt_cement_settings *usual,
                                 dt_cement_job *job, dt_cement *out)
{
    size_t count = 0;
    const dt_name_custom *rows = dt_custom_rows(well, DT_TABLE_LIGHT_LEADS, &count);
    dt_status status = DT_OK;
    for (size_t i = 0; i < count && status == DT_OK && breaks(out); ++i) {
        dt_slurry_spec lead;
        if (!dt_slurry_find(NULL, rows[i].text, &lead)) continue;
        if (dt_less(lead.density_kgm3, dt_cement_lightest(well, job->mud_kgm3))) break;
        out->parts[0].slurry = lead;
        out->parts[1].top_md_m = tail_top_of(well, job->annulus->shoe_md_m, out->top_md_m);
        out->lead_chosen = true;
        out->repairs = DT_REPAIR_LEAD;
        job->settings = *usual;
        status = dt_cement_compute(job, out);
        if (status == DT_OK) status = repair(job, out);
    }
    return status;
}

static dt_status plan_job(const dt_stages *stages, size_t string, double track_m,
                          const dt_annulus *annulus, dt_cement *out)
{
    const dt_pin *pin = pin_of(stages, string);
    const dt_seat *seat = &stages->seats->items[string];
    dt_cement_job job = {.annulus = annulus,
                         .trajectory = stages->trajectory,
                         .mud_kgm3 = dt_annulus_mud(stages, string),
                         .may_stage = string > 0 && seat->type != DT_LINER,
                         .rock_alone = stages->rock_alone};
    out->collar_md_m = annulus->shoe_md_m - track_m;
    dt_status status = pin && pin->cement_count
                           ? pinned_parts(stages, pin, annulus->shoe_md_m, out)
                           : parts_by_settings(stages, annulus->shoe_md_m, job.mud_kgm3, out);
    job.settings = out->settings;
    dt_exposed *exposed = NULL;
    if (status == DT_OK) status = dt_annulus_exposed(stages, annulus, &exposed, &job.exposed_count);
    job.exposed = exposed;
    bool pinned = pin && pin->cement_count;
    if (status == DT_OK) status = dt_cement_compute(&job, out);
    const dt_cement_settings usual = job.settings;
    const bool free_lead =
        status == DT_OK && !pinned && !stages->well->cementing.lead && out->part_count == 2;
    if (status == DT_OK && free_lead) status = lighten_lead(stages->well, &job, out);
    if (status == DT_OK && !pinned) status = repair(&job, out);
    if (status == DT_OK && free_lead && job.settings.slower < 1)
        status = take_light_lead(stages->well, &usual, &job, out);
    if (status == DT_OK) {
        weakest_section(stages, string, out);
        set_test(stages, string, out);
        set_wait(stages->well, out);
        set_lift_off(annulus, &job, out);
    }
    free(exposed);
    return status;
}

double dt_cement_top_md(const dt_stages *stages, size_t string, const dt_annulus *annulus)
{
    dt_cement c = {0};
    dt_cement_settle(stages->well, stages->seats->items[string].role, annulus, &c.settings);
    double top_tvd_m = place_top(stages, string, &c);
    return isnan(top_tvd_m) ? NAN : dt_trajectory_md(stages->trajectory, top_tvd_m);
}

dt_cement dt_cement_none(void)
{
    return (dt_cement){.rule = DT_CEMENT_NONE,
                       .top_md_m = NAN,
                       .top_tvd_m = NAN,
                       .zone_pay = DT_NO_INDEX,
                       .zone_interval = DT_NO_INDEX};
}

dt_status dt_cement_plan(const dt_stages *stages, size_t string, double track_m, dt_cement *out)
{
    dt_annulus annulus = {0};
    *out = dt_cement_none();
    dt_status status = dt_annulus_build(stages, string, &annulus);
    if (status == DT_OK) {
        dt_cement_settle(stages->well, stages->seats->items[string].role, &annulus, &out->settings);
        out->top_tvd_m = place_top(stages, string, out);
        out->top_md_m = dt_trajectory_md(stages->trajectory, out->top_tvd_m);
        if (isfinite(out->top_tvd_m)) status = plan_job(stages, string, track_m, &annulus, out);
    }
    dt_annulus_free(&annulus);
    return status;
}

void dt_cement_free(dt_cement *cement)
{
    if (!cement) return;
    free(cement->parts);
    cement->parts = NULL;
    cement->part_count = 0;
}
