/* SPDX-License-Identifier: MIT */
/* Programs: planned, and shown string by string. */
#include <math.h>
#include <stdlib.h>

#include "comparison.h"
#include "library.h"

dt_status dt_refusal_hand(dt_status status, dt_refusal *said, dt_refusal **out)
{
    if (out && (status == DT_E_NONE || status == DT_E_INPUT)) {
        dt_refusal *kept = malloc(sizeof *kept);
        if (kept) {
            *kept = *said;
            *out = kept;
            return status;
        }
        status = DT_E_MEMORY;
    }
    dt_refusal_free(said);
    return status;
}

void dt_refusal_close(dt_refusal *refusal)
{
    if (!refusal) return;
    dt_refusal_free(refusal);
    free(refusal);
}

dt_status dt_plan(const dt_well *well, const dt_catalogue *catalogue, dt_program **out,
                  dt_refusal **refusal)
{
    dt_refusal said = {0};
    dt_program *program = NULL;
    dt_option_plan *owner = NULL;
    dt_status status = dt_program_find(well, catalogue, &program, &owner, &said);
    if (status == DT_OK) {
        program->kept = owner; /* one of the options hangs on a well of its own */
        *out = program;
    }
    return dt_refusal_hand(status, &said, refusal);
}

dt_status dt_plan_nearest(const dt_well *well, const dt_catalogue *catalogue,
                          const dt_refusal *refusal, dt_program **out)
{
    return dt_program_plan_nearest(well, catalogue, refusal, out);
}

/* ---- strings ---- */

static bool is_string(const dt_program *program, size_t index)
{
    return index < dt_program_strings(program);
}

dt_status dt_program_string_view(const dt_program *program, size_t index, dt_string_view *out)
{
    if (!is_string(program, index)) return DT_E_DOMAIN;
    const dt_program_string *item = &program->items[index];
    const dt_head_stage *head = &program->wellhead.stages[index];
    const bool seated = item->seat->type != DT_TIEBACK;
    *out = (dt_string_view){.role = item->seat->role,
                            .type = item->seat->type,
                            .top_md_m = item->top_md_m,
                            .top_tvd_m = item->top_tvd_m,
                            .shoe_md_m = item->shoe_md_m,
                            .shoe_tvd_m = item->shoe_tvd_m,
                            .shallowest_tvd_m = seated ? item->seat->shallowest_m : NAN,
                            .deepest_tvd_m = seated ? item->seat->deepest_m : NAN,
                            .governed_by = seated ? dt_rule_code(item->seat->why.rule) : NULL,
                            .shoe_pinned = seated && item->seat->shoe_pinned,
                            .hole_m = item->hole_m,
                            .bit_m = item->bit_m,
                            .od_m = item->od_m,
                            .largest_od_m = item->largest_od_m,
                            .mud_kgm3 = seated ? item->seat->mud_kgm3 : NAN,
                            .min_fracture_kgm3 = seated ? item->seat->min_fracture_kgm3 : NAN,
                            .kick_tolerance_m3 = item->kick_known ? item->kick.tolerance_m3 : NAN,
                            .surface_pressure_pa = head->pressure_pa,
                            .pressure_class_psi = head->diverter ? 0 : head->class_psi,
                            .cement_top_md_m = item->cement_top_md_m,
                            .cement_top_tvd_m = item->cement_top_tvd_m,
                            .cement_rule = dt_cement_rule_code(item->cement_rule),
                            .steel_kg = item->steel_kg,
                            .cost = item->bill.total,
                            .days = item->bill.days,
                            .sections = item->string->section_count};
    dt_program_string_name(program, index, out->name, sizeof out->name);
    return DT_OK;
}

static dt_factor_view factor_of(const dt_screen *screen, dt_check check)
{
    const dt_factor *factor = &screen->by_check[check];
    const bool found = isfinite(factor->factor);
    return (dt_factor_view){.factor = factor->factor,
                            .needed = factor->needed,
                            .at_md_m = found ? factor->at_md_m : NAN,
                            .at_tvd_m = found ? factor->at_tvd_m : NAN,
                            .load = found ? dt_load_code(screen->load_of_check[check]) : ""};
}

dt_status dt_program_section_view(const dt_program *program, size_t index, size_t section,
                                  dt_section_view *out)
{
    if (!is_string(program, index)) return DT_E_DOMAIN;
    const dt_string *string = program->items[index].string;
    if (section >= string->section_count) return DT_E_DOMAIN;
    const dt_section *one = &string->sections[section];
    *out = (dt_section_view){.top_md_m = one->top_md_m,
                             .base_md_m = one->base_md_m,
                             .thread = one->thread,
                             .holds = one->screen.ok};
    dt_pipe_show(one->pipe, &out->pipe);
    for (int check = 0; check < DT_CHECK_COUNT; ++check)
        out->checks[check] = factor_of(&one->screen, (dt_check)check);
    return DT_OK;
}

void dt_program_totals(const dt_program *program, dt_totals *out)
{
    const dt_program_string *last = &program->items[program->count - 1];
    *out = (dt_totals){.strings = dt_program_strings(program),
                       .shoe_md_m = last->shoe_md_m,
                       .shoe_tvd_m = last->shoe_tvd_m,
                       .last_od_m = last->od_m,
                       .steel_kg = program->steel_kg,
                       .cost = program->bill.total,
                       .days = program->bill.days,
                       .notices = program->notices.count};
}

/* ---- notices ---- */

const dt_notice *dt_program_notice(const dt_program *program, size_t index)
{
    return index < program->notices.count ? &program->notices.items[index] : NULL;
}

const dt_notice *dt_refusal_notice(const dt_refusal *refusal)
{
    return refusal->why.count > 0 ? &refusal->why.items[0] : NULL;
}

void dt_notice_show(const dt_notice *notice, dt_notice_view *out)
{
    *out = (dt_notice_view){.code = dt_notice_code_text(notice->code),
                            .gravity = dt_notice_gravity(notice->code),
                            .string = notice->string == DT_NO_STRING ? DT_NO_INDEX : notice->string,
                            .line = notice->line,
                            .figures = notice->figures,
                            .figure_count = notice->figure_count,
                            .reasons = notice->because_count};
}

const dt_notice *dt_notice_reason(const dt_notice *notice, size_t index)
{
    return index < notice->because_count ? &notice->because[index] : NULL;
}
