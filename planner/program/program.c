/* SPDX-License-Identifier: MIT */
#include "program.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "pressure.h"
#include "program_parts.h"
#include "same.h"

size_t dt_program_strings(const dt_program *program)
{
    return program->count + program->seats.tieback_count;
}

size_t dt_program_at(const dt_program *program, size_t position)
{
    return dt_seats_at(&program->seats, position);
}

int dt_program_string_name(const dt_program *program, size_t index, char *buffer, size_t size)
{
    dt_role role = program->items[index].seat->role;
    const char *tied = program->items[index].seat->type == DT_TIEBACK ? " tie-back" : "";
    unsigned of_role = 0;
    for (size_t i = 0; i < program->count; ++i)
        if (program->items[i].seat->role == role) ++of_role;
    if (of_role > 1)
        return snprintf(buffer, size, "%s %u%s", dt_role_text(role), program->items[index].ordinal,
                        tied);
    return snprintf(buffer, size, "%s%s", dt_role_text(role), tied);
}

/* ---- the strings in full ---- */

static void reckon_kick(const dt_program *p, size_t index, dt_program_string *item)
{
    if (index == 0 || index >= p->count) return; /* no hole is drilled for a tie-back */
    if (item->seat->rules.riserless) return;     /* nothing is shut in before there is a BOP */
    dt_kick_assembly_for(p->well, item->hole_m, &item->kick_assembly);
    const dt_kick_hole hole = {&item->kick_assembly, p->seats.items[index - 1].shoe_m,
                               item->shoe_tvd_m, item->seat->mud_kgm3};
    const double intensity = p->well->kick.intensity_kgm3;
    item->kick_known =
        dt_kick_of_hole(&p->window, &p->trajectory, &hole, intensity, &item->kick) == DT_OK &&
        dt_kick_of_hole(&p->window, &p->trajectory, &hole, 0, &item->swabbed) == DT_OK;
}

/** The same for a last hole that stays open. */
static void reckon_open_end(dt_program *p)
{
    const dt_open_end *open = &p->seats.open;
    if (!open->given) return;
    dt_kick_assembly_for(p->well, open->hole_m, &p->open_assembly);
    const dt_kick_hole hole = {&p->open_assembly, open->top_m, open->base_m, open->mud_kgm3};
    const double intensity = p->well->kick.intensity_kgm3;
    p->open_kick_known =
        dt_kick_of_hole(&p->window, &p->trajectory, &hole, intensity, &p->open_kick) == DT_OK &&
        dt_kick_of_hole(&p->window, &p->trajectory, &hole, 0, &p->open_swabbed) == DT_OK;
}

static void bill_pipe(const dt_well *well, const dt_string *string, dt_bill *bill)
{
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        dt_billed_pipe pipe = {section->pipe, section->thread,
                               section->base_md_m - section->top_md_m};
        dt_bill_add_pipe(well, &pipe, bill);
    }
    dt_bill_sum(bill);
}

/** What the string costs: its hole, then each length of its pipe. */
static void bill_item(const dt_program *p, size_t index, dt_program_string *item)
{
    const dt_well *well = p->well;
    const dt_seat *above = index > 0 ? &p->seats.items[index - 1] : NULL;
    double above_m = above ? above->shoe_m : dt_well_ground_m(well);
    if (item->seat->type == DT_TIEBACK) {
        dt_billed_tieback t = {.base_md_m = item->shoe_md_m, .od_m = item->od_m};
        dt_bill_tieback(well, &p->times, &t, &item->bill);
        bill_pipe(well, item->string, &item->bill);
        return;
    }
    double cement = dt_bill_cement_top(well, item->seat->role, item->seat->type, above_m,
                                       item->top_tvd_m, item->shoe_tvd_m);
    dt_billed_string s = {.index = index,
                          .last = index + 1 == p->seats.count && !p->seats.open.given,
                          .type = item->seat->type,
                          .hole_top_md_m = dt_trajectory_md(&p->trajectory, above_m),
                          .shoe_md_m = item->shoe_md_m,
                          .top_md_m = item->top_md_m,
                          .cement_top_md_m = dt_trajectory_md(&p->trajectory, cement),
                          .hole_m = item->hole_m,
                          .bit_m = item->bit_m,
                          .od_m = item->od_m};
    dt_bill_hole(well, &p->times, &s, &item->bill);
    bill_pipe(well, item->string, &item->bill);
}

static void fill_item(const dt_program *p, size_t index, dt_program_string *item)
{
    const dt_string *string = &p->strings.items[index];
    const dt_nest_hole *hole = &p->nest.holes[string->nest_hole];
    const dt_nest_pipe *pipe = &p->nest.pipes[string->nest_pipe];
    *item = (dt_program_string){.seat = &p->seats.items[index],
                                .string = string,
                                .top_md_m = string->load.top_md_m,
                                .top_tvd_m = string->load.top_tvd_m,
                                .shoe_md_m = string->load.shoe_md_m,
                                .shoe_tvd_m = string->load.shoe_tvd_m,
                                .hole_m = hole->diameter_m,
                                .bit_m = hole->bit_m,
                                .opened = hole->opened,
                                .od_m = pipe->od_m,
                                .largest_od_m = pipe->coupling_od_m};
    const bool tieback = item->seat->type == DT_TIEBACK;
    for (size_t i = 0; i <= (tieback ? item->seat->ties : index); ++i)
        if (p->seats.items[i].role == item->seat->role) ++item->ordinal;
    if (tieback) { /* no hole is drilled for it */
        item->hole_m = item->bit_m = NAN;
        item->opened = false;
    }
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        item->steel_kg += section->pipe->weight_kgm * (section->base_md_m - section->top_md_m);
    }
    item->job = &p->jobs[index];
    const dt_cement *cement = &item->job->cement;
    item->cement_rule = cement->rule;
    item->cement_top_tvd_m = item->job->cement_refused ? NAN : cement->top_tvd_m;
    item->cement_top_md_m = item->job->cement_refused ? NAN : cement->top_md_m;
    reckon_kick(p, index, item);
    bill_item(p, index, item);
    dt_program_hang(p, index, item);
}

/** What drilling a last hole that stays open costs: part of the program's bill, of no string's. */
static void bill_open_end(dt_program *p)
{
    const dt_open_end *open = &p->seats.open;
    if (!open->given) return;
    dt_bill_open_hole(p->well, &p->times, dt_trajectory_md(&p->trajectory, open->top_m),
                      dt_trajectory_md(&p->trajectory, open->base_m), open->hole_m, &p->open_bill);
    dt_bill_sum(&p->open_bill);
    dt_bill_add(&p->bill, &p->open_bill);
}

static dt_status fill_items(dt_program *p)
{
    const size_t strings = p->seats.count + p->seats.tieback_count;
    p->items = calloc(strings, sizeof *p->items);
    if (!p->items) return DT_E_MEMORY;
    p->count = p->seats.count;
    dt_times_settle(p->well, &p->times);
    reckon_open_end(p);
    for (size_t i = 0; i < strings; ++i) {
        fill_item(p, i, &p->items[i]);
        p->steel_kg += p->items[i].steel_kg;
        dt_bill_add(&p->bill, &p->items[i].bill);
    }
    bill_open_end(p);
    return DT_OK;
}

/* ---- all stages ---- */

/** Seats, then sizes, then pipe: where no rule of a hole depends on its size. */
static dt_status run_in_turn(dt_program *p, dt_learned *learned, dt_refusal *refusal)
{
    dt_status status = dt_seats_choose(&p->window, &p->seats);
    if (status == DT_E_NONE) return dt_program_refuse_seats(p, learned, refusal);
    if (status != DT_OK) return status;
    size_t blocked = 0;
    status = dt_nest_build(p->well, &p->seats, p->catalogue, &p->nest, &blocked);
    if (status == DT_E_NONE) return dt_program_refuse_nest(p, blocked, refusal);
    if (status != DT_OK) return status;
    dt_shortfall shortfall = {0};
    status = dt_strings_choose(&p->window, &p->seats, &p->nest, p->catalogue, &p->trajectory,
                               p->lap_m, learned->designed, &p->strings, &shortfall);
    return status == DT_E_NONE ? dt_program_refuse_strings(p, &shortfall, refusal) : status;
}

/** What stands of a ladder that came to nothing, let go for the next. */
static void drop_ladder(dt_program *p)
{
    dt_nest_free(&p->nest);
    dt_seats_free(&p->seats);
    p->nest = (dt_nest){0};
    p->seats = (dt_seats){0};
}

/** Seats, nest and strings of a ladder. DT_E_NONE with *shortfall where no pipe holds; where its
 * seats do not nest, with the string that does not and *nests false. */
static dt_status run_ladder(dt_program *p, const dt_ladder *ladder, dt_designed *designed,
                            dt_shortfall *shortfall, bool *nests)
{
    size_t blocked = 0;
    *shortfall = (dt_shortfall){.seat = DT_NO_INDEX};
    *nests = false;
    dt_status status = dt_ladder_seats(&p->window, ladder, &p->seats);
    if (status != DT_OK) return status;
    status = dt_ladder_nest(p->well, &p->seats, p->catalogue, ladder, &p->nest, &blocked);
    if (status == DT_E_NONE) shortfall->seat = blocked;
    if (status != DT_OK) return status;
    *nests = true;
    return dt_strings_choose(&p->window, &p->seats, &p->nest, p->catalogue, &p->trajectory,
                             p->lap_m, designed, &p->strings, shortfall);
}

/** The string of a ladder that no pipe holds is not tried again above the same hole. */
static dt_ladder_cut cut_of(const dt_program *p, const dt_ladder *ladder, size_t seat)
{
    size_t string = seat < p->seats.count ? seat : ladder->count - 1;
    if (seat != DT_NO_INDEX && seat >= p->seats.count) string = p->seats.items[seat].ties;
    return (dt_ladder_cut){.string = string,
                           .od_m = ladder->rungs[string].od_m,
                           .next_m =
                               string + 1 < ladder->count ? ladder->rungs[string + 1].hole_m : 0};
}

/** Where a string cannot hold what is met below the liner under it, that one is run to surface. */
static bool spare_from_liner(const dt_program *p, size_t seat, dt_ladder *ladder)
{
    const size_t below = seat + 1;
    if (seat >= p->seats.count || below >= p->seats.count) return false;
    const dt_seat *liner = &p->seats.items[below];
    const bool said = liner->pin != DT_NO_INDEX && p->well->pins[liner->pin].type != DT_TYPE_UNSAID;
    if (liner->type != DT_LINER || said || ladder->full & 1u << below) return false;
    ladder->full |= 1u << below;
    return true;
}

/** Sizes and seats together, then pipe; where no pipe holds the next sizes. Once a draft has been
 * planned in full, nobody asks why there is no other. */
static dt_status run_ladders(dt_program *p, dt_learned *learned, dt_refusal *refusal)
{
    dt_shortfall shortfall = {0};
    bool nests = false;
    dt_ladder_cuts *known = &learned->known;
    known->nests = &learned->nests;
    for (;;) {
        dt_status status = dt_ladder_choose(&p->window, p->catalogue, known, &p->ladder);
        if (status == DT_E_NONE && learned->drafts > 0) return status;
        if (status == DT_E_NONE && known->count == 0)
            return dt_program_refuse_ladders(p, learned, refusal);
        if (status == DT_E_NONE) break;
        if (status != DT_OK) return status;
        do {
            drop_ladder(p);
            status = run_ladder(p, &p->ladder, learned->designed, &shortfall, &nests);
            if (status != DT_E_NONE) return status;
        } while (nests && spare_from_liner(p, shortfall.seat, &p->ladder));
        if (!dt_learned_cut(learned, &p->ladder, cut_of(p, &p->ladder, shortfall.seat))) break;
    }
    if (learned->drafts > 0) return DT_E_NONE;
    if (nests) return dt_program_refuse_strings(p, &shortfall, refusal);
    if (shortfall.seat < p->seats.count) return dt_program_refuse_nest(p, shortfall.seat, refusal);
    return dt_program_refuse_ladders(p, learned, refusal);
}

/** The ladder of a draft again, as the next draft asks for it. */
static dt_status run_again(dt_program *p, const dt_learned *learned)
{
    dt_shortfall shortfall;
    bool nests;
    p->ladder = *learned->again;
    p->ladder.liners = learned->liners;
    for (size_t k = 0; k <= p->ladder.count; ++k)
        p->ladder.rungs[k].rules.jobs = learned->known.jobs;
    return run_ladder(p, &p->ladder, learned->designed, &shortfall, &nests);
}

static dt_status run_stages(dt_program *p, dt_learned *learned, dt_refusal *refusal)
{
    const dt_well *well = p->well;
    dt_design_settle(well, &p->design);
    p->lap_customary = isnan(well->seats.lap_m);
    p->lap_m = dt_custom_or(well, well->seats.lap_m, DT_CUSTOM_SEATS_LAP);
    dt_status status = dt_program_check_pins(p, refusal);
    if (status == DT_OK) status = dt_trajectory_of(well, &p->trajectory);
    if (status == DT_OK) status = dt_window_build(well, &p->window);
    if (status != DT_OK) return status;
    /* the first draft in turn is quick; where its jobs fail, all is settled together */
    const bool in_turn = !dt_hole_rules_by_size(well) && learned->drafts == 0;
    status = learned->again ? run_again(p, learned)
             : in_turn      ? run_in_turn(p, learned, refusal)
                            : run_ladders(p, learned, refusal);
    if (status == DT_OK)
        status = dt_wellhead_build(&p->window, &p->seats, &p->strings, &p->trajectory, &p->design,
                                   &p->wellhead);
    return status;
}

/** What a reader must know, in the order of the stages. */
static dt_status raise_notices(dt_program *p)
{
    dt_program_note(p);
    dt_program_note_liners(p);
    dt_program_note_jobs(p);
    dt_program_note_heat(p);
    dt_program_note_strength(p);
    return p->notices.failed ? DT_E_MEMORY : DT_OK;
}

/** What was taught so far, as it is now: later drafts may be held to more, or to less. */
static dt_status keep_limits(dt_program *p, const dt_job_limits *jobs)
{
    if (jobs->count == 0) return DT_OK;
    p->limits = malloc(jobs->count * sizeof *p->limits);
    if (!p->limits) return DT_E_MEMORY;
    memcpy(p->limits, jobs->items, jobs->count * sizeof *p->limits);
    p->limit_count = jobs->count;
    return DT_OK;
}

dt_status dt_program_draft(const dt_well *well, const dt_catalogue *catalogue, dt_learned *learned,
                           dt_program **out, dt_refusal *refusal)
{
    dt_program *p = calloc(1, sizeof *p);
    if (!p) return DT_E_MEMORY;
    p->well = well;
    p->catalogue = catalogue;
    const dt_job_limits all = learned->known.jobs;
    dt_status status = keep_limits(p, &all);
    learned->known.jobs.items = p->limits;
    if (status == DT_OK) status = run_stages(p, learned, refusal);
    learned->known.jobs = all;
    if (status == DT_OK) status = dt_program_jobs(p);
    if (status == DT_OK) status = fill_items(p);
    if (status == DT_OK) status = raise_notices(p);
    if (status == DT_OK)
        *out = p;
    else
        dt_program_free(p);
    return status;
}

void dt_program_free(dt_program *program)
{
    if (!program) return;
    dt_notices_free(&program->notices);
    free(program->items);
    for (size_t i = 0; program->jobs && i < program->seats.count + program->seats.tieback_count;
         ++i) {
        dt_cement_free(&program->jobs[i].cement);
        dt_centralizers_free(&program->jobs[i].centralizing);
        dt_accessories_free(&program->jobs[i].accessories);
    }
    free(program->jobs);
    dt_wellhead_free(&program->wellhead);
    dt_strings_free(&program->strings);
    dt_nest_free(&program->nest);
    dt_seats_free(&program->seats);
    dt_window_free(&program->window);
    dt_trajectory_free(&program->trajectory);
    free(program->limits);
    free(program->kept);
    free(program);
}

void dt_refusal_free(dt_refusal *refusal)
{
    if (!refusal) return;
    dt_notices_free(&refusal->why);
    *refusal = (dt_refusal){0};
}
