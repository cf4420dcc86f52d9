/* SPDX-License-Identifier: MIT */
#include "claims.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The only part of the self-check that calls the planner. */

static claimed_pipe copy_pipe(const dt_pipe *pipe, dt_thread thread)
{
    claimed_pipe c = {.od_m = pipe->od_m,
                      .weight_kgm = pipe->weight_kgm,
                      .wall_m = pipe->wall_m,
                      .drift_m = pipe->drift_m,
                      .special_drift_m = pipe->special_drift_m,
                      .coupling_od_m = pipe->coupling_od_m,
                      .thread = thread};
    snprintf(c.grade, sizeof c.grade, "%s", pipe->grade->name);
    return c;
}

static void copy_sections(const dt_string *from, claimed_string *to)
{
    to->section_count = from->section_count < CLAIM_SECTIONS ? from->section_count : CLAIM_SECTIONS;
    for (size_t i = 0; i < to->section_count; ++i) {
        const dt_section *s = &from->sections[i];
        claimed_section *c = &to->sections[i];
        c->top_md_m = s->top_md_m;
        c->base_md_m = s->base_md_m;
        c->pipe = copy_pipe(s->pipe, s->thread);
        memcpy(c->by_check, s->screen.by_check, sizeof c->by_check);
        c->cheaper = s->cheaper_pipe != NULL;
        if (!c->cheaper) continue;
        c->cheaper_pipe = copy_pipe(s->cheaper_pipe, s->cheaper_thread);
        c->cheaper_factor = s->cheaper_factor;
        c->cheaper_load = s->cheaper_load;
        c->cheaper_check = s->cheaper_check;
    }
}

static void copy_cement(const dt_job *job, claimed_cement *to)
{
    const dt_cement *c = &job->cement;
    *to = (claimed_cement){.cemented = c->cemented && !job->cement_refused,
                           .refused = job->cement_refused,
                           .rule = c->rule,
                           .top_md_m = c->top_md_m,
                           .top_tvd_m = c->top_tvd_m,
                           .collar_md_m = c->collar_md_m,
                           .mud_kgm3 = c->mud_kgm3,
                           .spacer_kgm3 = c->spacer_kgm3,
                           .displacement_kgm3 = c->displacement_kgm3,
                           .spacer_m3 = c->spacer_m3,
                           .slurry_m3 = c->slurry_m3,
                           .displacement_m3 = c->displacement_m3,
                           .sacks = c->sacks,
                           .cement_kg = c->cement_kg,
                           .strokes = c->strokes,
                           .lift_pa = c->lift_pa,
                           .bump_pa = c->bump_pa,
                           .test_pa = c->test_pa,
                           .wait_s = c->wait_s,
                           .job_s = c->job_s,
                           .shoe_static_kgm3 = c->shoe_static_kgm3,
                           .shoe_kgm3 = c->shoe_kgm3,
                           .tight_spare_pa = c->tight.spare_pa,
                           .lift_off_n = c->lift_off_n,
                           .repairs = c->repairs,
                           .staged = c->stage.proposed,
                           .waived = c->stage.proposed && !c->stage.for_time &&
                                     c->stage.spare_pa >= -1e-3,
                           .mix_m3s = c->settings.mix_rate_m3s,
                           .displace_m3s = c->settings.displacement_rate_m3s};
    to->part_count = c->part_count < CLAIM_PARTS ? c->part_count : CLAIM_PARTS;
    for (size_t i = 0; to->cemented && i < to->part_count; ++i) {
        const dt_cement_part *p = &c->parts[i];
        to->parts[i] = (claimed_part){.top_md_m = p->top_md_m,
                                      .excess = p->excess,
                                      .volume_m3 = p->volume_m3,
                                      .sacks = p->sacks,
                                      .water_m3 = p->water_m3,
                                      .excess_on = p->excess_on};
        snprintf(to->parts[i].slurry, sizeof to->parts[i].slurry, "%s", p->slurry.name);
    }
}

static void copy_string(const dt_program *p, size_t i, claimed_string *to)
{
    const dt_program_string *s = &p->items[i];
    const dt_running *r = &s->job->running;
    *to = (claimed_string){.seat = *s->seat,
                           .top_md_m = s->top_md_m,
                           .top_tvd_m = s->top_tvd_m,
                           .shoe_md_m = s->shoe_md_m,
                           .shoe_tvd_m = s->shoe_tvd_m,
                           .hole_m = s->hole_m,
                           .bit_m = s->bit_m,
                           .od_m = s->od_m,
                           .largest_od_m = s->largest_od_m,
                           .need_drift_m = s->string->need_drift_m,
                           .opened = s->opened,
                           .pin_fails = s->string->pinned_pipe_fails,
                           .surface_pressure_pa = s->string->load.surface_pressure_pa,
                           .steel_kg = s->steel_kg,
                           .hookload_filled_n = r->hookload_filled_n,
                           .hookload_floated_n = r->hookload_floated_n,
                           .hookload_up_n = r->hookload_up_n,
                           .hookload_down_n = r->hookload_down_n,
                           .floated_md_m = r->floated_md_m,
                           .joints = r->joints,
                           .thinned = r->thinned,
                           .run_joint_s = r->settings.joint_time_s,
                           .surge_pa = r->surge_pa,
                           .surge_spare_pa = r->surge.spare_pa,
                           .joint_s = r->joint_s,
                           .overpull_pipe_n = r->overpull_pipe_n,
                           .overpull_rig_n = r->overpull_rig_n,
                           .kick_known = s->kick_known,
                           .kick = s->kick,
                           .bill = s->bill,
                           .head = p->wellhead.stages[i],
                           .hanger = s->hanger ? (size_t)(s->hanger - p->well->hangers.items)
                                               : DT_NO_INDEX,
                           .hung = s->hung,
                           .lap_test = {NAN, NAN, NAN}};
    if (dt_program_liner_test(s)) to->lap_test = *dt_program_liner_test(s);
    copy_sections(s->string, to);
    copy_cement(s->job, &to->cement);
}

static void copy_broken(const dt_seats *seats, claims *out)
{
    for (size_t i = 0; i < seats->broken_count && i < CLAIM_STRINGS; ++i)
        out->broken[out->broken_count++] = seats->broken[i];
}

/* ---- what stops it, and how it came to be ---- */

static void copy_stoppers(const dt_program *p, claims *out)
{
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        if (dt_notice_gravity(n->code) == DT_STOPPER && out->stopper_count < CLAIM_STOPPERS)
            out->stoppers[out->stopper_count++] = (claimed_stopper){n->code, n->string};
    }
}

/** Limits that hold for a hole of the program. */
static void copy_limits(const dt_program *p, claims *out)
{
    if (out->count > 1) out->tail_floor_m = p->seats.items[1].rules.jobs.surface_least_m;
    for (size_t i = 0; i < out->count; ++i) {
        const dt_hole_rules *rules = &p->seats.items[i].rules;
        for (size_t k = 0; k < rules->jobs.count && out->limit_count < CLAIM_LIMITS; ++k)
            if (rules->jobs.items[k].string == i)
                out->limits[out->limit_count++] = rules->jobs.items[k];
        out->strings[i].seat.rules.jobs = (dt_job_limits){.items = NULL}; /* of the program */
    }
    out->open.rules.jobs = (dt_job_limits){.items = NULL};
}

static unsigned changed_by(const dt_notice *n)
{
    unsigned changed = 0;
    if (dt_notice_find_figure(n, "shoe_tvd")) changed |= CHANGED_SHOE;
    if (dt_notice_find_figure(n, "od")) changed |= CHANGED_SIZE;
    if (dt_notice_find_name(n, "liner") || dt_notice_find_name(n, "full")) changed |= CHANGED_LINER;
    if (dt_notice_find_figure(n, "strings")) changed |= CHANGED_STRINGS;
    return changed;
}

static void copy_end(const dt_program *p, claims *out)
{
    claimed_end *end = &out->end;
    *end = (claimed_end){.first = DT_NOTICE_COUNT};
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        if (n->code == DT_NOTICE_NO_DRAFT_CLOSES) {
            end->open = true;
            end->ended = dt_notice_find_name(n, "ended") != NULL;
        }
        if (n->code != DT_NOTICE_DRAFT_REPAIRED) continue;
        end->changed |= changed_by(n);
        if (end->first == DT_NOTICE_COUNT && n->because_count > 0) end->first = n->because[0].code;
    }
    if (end->open && out->stopper_count > 0) end->first = out->stoppers[0].code;
}

/** false: more strings than there is room for. */
static bool copy_program(const dt_program *p, claims *out)
{
    size_t all = dt_program_strings(p);
    if (all > CLAIM_STRINGS) return false;
    out->outcome = OUTCOME_PROGRAM;
    out->count = p->count;
    out->tieback_count = all - p->count;
    for (size_t i = 0; i < all; ++i) {
        copy_string(p, i, &out->strings[i]);
        out->order[i] = dt_program_at(p, i);
    }
    copy_broken(&p->seats, out);
    out->open = p->seats.open;
    out->latitude = p->ladder.latitude;
    out->spread = p->ladder.spread;
    out->full = p->ladder.full;
    out->liners = p->ladder.liners;
    out->together = p->ladder.count > 0;
    copy_stoppers(p, out);
    copy_limits(p, out);
    copy_end(p, out);
    out->lap_m = p->lap_m;
    out->steel_kg = p->steel_kg;
    out->bill = p->bill;
    out->landing_count = p->wellhead.landing_count;
    memcpy(out->landing, p->wellhead.landing, sizeof out->landing);
    return true;
}

/** A refusal has no program to copy: the stages once more, up to the one that says no. */
static dt_status copy_refusal(const dt_well *well, const dt_catalogue *catalogue, claims *out)
{
    dt_window window = {0};
    dt_trajectory trajectory = {0};
    dt_seats seats = {0};
    dt_nest nest = {0};
    dt_strings strings = {0};
    dt_shortfall shortfall = {0};
    size_t blocked = 0;
    dt_status status = dt_trajectory_of(well, &trajectory);
    if (status == DT_OK) status = dt_window_build(well, &window);
    if (status == DT_OK) {
        out->outcome = OUTCOME_NO_SEATS;
        status = dt_seats_choose(&window, &seats);
    }
    if (status == DT_OK && seats.count + seats.tieback_count > CLAIM_STRINGS) status = DT_E_MEMORY;
    if (status == DT_OK) {
        for (size_t i = 0; i < seats.count + seats.tieback_count; ++i)
            out->strings[i].seat = seats.items[i];
        out->count = seats.count;
        out->tieback_count = seats.tieback_count;
        copy_broken(&seats, out);
        out->outcome = OUTCOME_NO_NEST;
        status = dt_nest_build(well, &seats, catalogue, &nest, &blocked);
    }
    if (status == DT_OK) {
        out->outcome = OUTCOME_NO_STRENGTH;
        status = dt_strings_choose(&window, &seats, &nest, catalogue, &trajectory, out->lap_m, NULL,
                                   &strings, &shortfall);
        out->short_string = shortfall.seat;
        out->short_known = shortfall.pipe != NULL;
        if (shortfall.pipe) out->short_pipe = copy_pipe(shortfall.pipe, shortfall.thread);
        out->short_by_hanger = shortfall.by_hanger;
        out->short_factor = shortfall.factor;
        out->short_load = shortfall.load;
        out->short_check = shortfall.check;
    }
    dt_strings_free(&strings);
    dt_nest_free(&nest);
    dt_seats_free(&seats);
    dt_window_free(&window);
    dt_trajectory_free(&trajectory);
    return status == DT_E_NONE ? DT_OK : status;
}

/** Are there holes, pipes and seats at all, where they are settled together? DT_OK or DT_E_NONE; in
 * doubt DT_OK. */
static dt_status has_ladder(const dt_well *well, const dt_catalogue *catalogue)
{
    const dt_ladder_cuts none = {0};
    dt_window window = {0};
    dt_ladder ladder;
    if (!dt_hole_rules_by_size(well)) return DT_OK;
    dt_status status = dt_window_build(well, &window);
    if (status == DT_OK) status = dt_ladder_choose(&window, catalogue, &none, &ladder);
    dt_window_free(&window);
    return status;
}

dt_status claims_take(const dt_well *well, const dt_catalogue *catalogue, claims *out)
{
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    memset(out, 0, sizeof *out);
    /* why there is no ladder takes long to say, and is not looked at */
    dt_status status = has_ladder(well, catalogue);
    if (status == DT_OK) status = dt_program_plan(well, catalogue, &program, &refusal);
    out->lap_m = well->seats.lap_m == well->seats.lap_m ? well->seats.lap_m : 300 * DT_M_PER_FT;
    if (status == DT_OK) {
        if (!copy_program(program, out)) status = DT_E_MEMORY;
    } else if (status == DT_E_NONE && dt_hole_rules_by_size(well)) {
        out->outcome = OUTCOME_NO_LADDER;
        status = DT_OK;
    } else if (status == DT_E_NONE) {
        status = copy_refusal(well, catalogue, out);
    } else if (status == DT_E_INPUT) {
        out->outcome = OUTCOME_REFUSED;
        status = DT_OK;
    }
    dt_program_free(program);
    dt_refusal_free(&refusal);
    return status;
}

/* ---- a program pinned ------------------------------------------------------------------------ */

static const dt_pin *pin_said(const dt_well *well, size_t pin)
{
    return pin < well->pin_count ? &well->pins[pin] : NULL;
}

static dt_pin pin_of(const dt_well *well, const claimed_string *s, double shoe_m)
{
    const dt_pin *said = pin_said(well, s->seat.pin);
    const bool tieback = s->seat.type == DT_TIEBACK;
    dt_pin pin = {.weight_kgm = NAN, .wear_m = NAN, .pipe_chosen = true, .chosen = true};
    if (said) pin = *said;
    pin.role = s->seat.role;
    pin.type = s->seat.type;
    pin.od_m = s->od_m;
    pin.hole_m = tieback ? NAN : s->hole_m;
    pin.pilot_m = s->opened ? s->bit_m : 0;
    pin.shoe_m = tieback ? NAN : shoe_m;
    return pin;
}

void claims_pin(const dt_well *well, const claims *said, size_t moved, double shoe_m,
                pinned_well *out)
{
    size_t count = 0;
    out->well = *well;
    for (size_t n = 0; n < said->count + said->tieback_count; ++n) {
        const size_t i = said->order[n];
        const claimed_string *s = &said->strings[i];
        /* the conductor and the last shoe stand where the well has them */
        const bool free_shoe = i > 0 && (i + 1 < said->count || well->last_open);
        const double at_m = i == moved ? shoe_m : free_shoe ? s->seat.shoe_m : NAN;
        out->pins[count++] = pin_of(well, s, at_m);
        if (!free_shoe && i < said->count && pin_said(well, s->seat.pin))
            out->pins[count - 1].shoe_m = well->pins[s->seat.pin].shoe_m;
    }
    out->well.pins = out->pins;
    out->well.pin_count = count;
}
