/* SPDX-License-Identifier: MIT */
/* What the strength of strings, wellhead and landing rests on, and what was not looked at. */
#include <math.h>

#include "pipe_rules.h"
#include "program_parts.h"
#include "same.h"
#include "string_design.h"

static bool any_runs(const dt_program *p, dt_load which)
{
    for (size_t i = 0; i < dt_program_strings(p); ++i)
        if (p->strings.items[i].load.runs[which]) return true;
    return false;
}

void dt_program_note_sections(dt_program *p, size_t index)
{
    const dt_string *string = p->items[index].string;
    for (size_t k = 0; k < string->section_count; ++k) {
        const dt_section *section = &string->sections[k];
        const dt_screen *screen = &section->screen;
        if (screen->ok) continue;
        const dt_factor *f = &screen->by_check[screen->worst_check];
        dt_notice *n = dt_notice_add(&p->notices,
                                     string->pinned_pipe_fails ? DT_NOTICE_PIN_FAILS_LOAD
                                                               : DT_NOTICE_SECTION_FAILS_LOAD,
                                     index);
        dt_notice_figure(n, "top_md", DT_KIND_LENGTH, section->top_md_m);
        dt_notice_figure(n, "base_md", DT_KIND_LENGTH, section->base_md_m);
        dt_notice_name(n, "check", dt_check_code(screen->worst_check));
        dt_notice_name(n, "load", dt_load_code(screen->worst));
        dt_notice_figure(n, "at_md", DT_KIND_LENGTH, f->at_md_m);
        dt_notice_number(n, "factor", f->factor);
        dt_notice_number(n, "needed", f->needed);
    }
}

static void note_customs(dt_program *p)
{
    const dt_load_wishes *loads = &p->well->loads;
    if (p->design.taper_customary) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_TAPER_CUSTOMARY, DT_NO_STRING);
        dt_note_open_custom(n, p->well, "most_sections", DT_CUSTOM_DESIGN_MAX_SECTIONS);
        dt_note_open_custom(n, p->well, "section", DT_CUSTOM_DESIGN_MIN_SECTION);
        dt_note_open_custom(n, p->well, "crossover", DT_CUSTOM_DESIGN_CROSSOVER);
    }
    const bool no_packer = !loads->given || isnan(loads->packer_fluid_kgm3);
    const bool by_role = loads->kick == DT_KICK_BY_ROLE;
    const dt_plain_notice not_run[] = {
        {no_packer && !by_role, DT_NOTICE_TUBING_LEAK_NOT_RUN},
        {!any_runs(p, DT_LOAD_BURST_TEST), DT_NOTICE_PRESSURE_TEST_NOT_RUN}};
    dt_program_note_plainly(p, not_run, COUNT_OF(not_run));
    if (no_packer && by_role && any_runs(p, DT_LOAD_BURST_LEAK))
        dt_note_custom(dt_notice_add(&p->notices, DT_NOTICE_PACKER_FLUID_ASSUMED, DT_NO_STRING),
                       p->well, "fluid", DT_CUSTOM_LOADS_PACKER_FLUID);
    if (p->design.bump_customary)
        dt_note_custom(dt_notice_add(&p->notices, DT_NOTICE_BUMP_MARGIN_CUSTOMARY, DT_NO_STRING),
                       p->well, "bump_margin", DT_CUSTOM_CEMENTING_BUMP_MARGIN);
    if (any_runs(p, DT_LOAD_COLLAPSE_SALT) && !p->well->overburden.count)
        dt_note_custom(dt_notice_add(&p->notices, DT_NOTICE_OVERBURDEN_CUSTOMARY, DT_NO_STRING),
                       p->well, "overburden", DT_CUSTOM_OVERBURDEN);
}

static void note_wellhead(dt_program *p)
{
    const dt_wellhead_wishes *head = &p->well->wellhead;
    const bool bop = head->given && !isnan(head->bop_n);
    const dt_plain_notice all[] = {
        {!p->well->thermal.derating_count, DT_NOTICE_DERATING_OFF},
        {p->design.sour, DT_NOTICE_SOUR_GRADES},
        {!bop, DT_NOTICE_LANDING_NOT_CHECKED},
        {bop && isnan(head->free_length_m), DT_NOTICE_COLUMN_NOT_CHECKED},
        {bop && isnan(head->head_n), DT_NOTICE_HEAD_WEIGHT_NOT_STATED}};
    dt_program_note_plainly(p, all, COUNT_OF(all));
    if (head->given && !isnan(head->free_length_m) && isnan(head->end_factor))
        dt_note_custom(dt_notice_add(&p->notices, DT_NOTICE_END_FACTOR_CUSTOMARY, DT_NO_STRING),
                       p->well, "end_factor", DT_CUSTOM_WELLHEAD_END_FACTOR);
}

static void note_heads(dt_program *p)
{
    for (size_t i = 0; i < p->wellhead.count; ++i) {
        if (!p->wellhead.stages[i].beyond_classes) continue;
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_BEYOND_PRESSURE_CLASSES, i);
        dt_notice_figure(n, "pressure", DT_KIND_PRESSURE, p->wellhead.stages[i].pressure_pa);
    }
}

/* A landing is held against the triaxial design factor: it is a plain stress in steel. */
static void note_landing(dt_program *p)
{
    const double needed = p->design.triaxial;
    for (size_t i = 0; i < p->wellhead.landing_count; ++i) {
        const dt_landing *l = &p->wellhead.landing[i];
        if (!l->made) continue;
        if (l->stress_factor < needed) {
            dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_LANDING_STRESS, l->carrier);
            dt_notice_figure(n, "load", DT_KIND_FORCE, l->load_n);
            dt_notice_number(n, "factor", l->stress_factor);
            dt_notice_number(n, "needed", needed);
        }
        if (l->column_made && l->column_factor < needed) {
            dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_LANDING_COLUMN, l->carrier);
            dt_notice_figure(n, "bears", DT_KIND_FORCE, l->column_n);
            dt_notice_figure(n, "load", DT_KIND_FORCE, l->column_load_n);
            dt_notice_number(n, "factor", l->column_factor);
            dt_notice_number(n, "needed", needed);
        }
    }
}

/** A grade that is not for the temperature at the top of its pipe stands only where it is pinned.
 */
static void note_sour_pins(dt_program *p)
{
    for (size_t i = 0; p->design.sour && i < dt_program_strings(p); ++i) {
        const dt_section *top = &p->strings.items[i].sections[0];
        const dt_grade *grade = top->pipe->grade;
        const double top_m = dt_trajectory_deepest(&p->trajectory, top->top_md_m);
        if (dt_grade_sour_below(p->well, grade) <= top_m + DT_M_PER_FT) continue;
        dt_notice_name(dt_notice_add(&p->notices, DT_NOTICE_PIN_NOT_SOUR, i), "grade", grade->name);
    }
}

/** Pipe that gas asks a seal of and that has none stands only where it is pinned. */
static void note_open_pins(dt_program *p)
{
    for (size_t i = 0; i < dt_program_strings(p); ++i) {
        const dt_string *string = &p->strings.items[i];
        if (!dt_string_load_asks_seal(&string->load)) continue;
        for (size_t k = 0; k < string->section_count; ++k) {
            const dt_section *s = &string->sections[k];
            if (dt_pipe_gas_tight(s->pipe, s->thread)) continue;
            dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_PIN_NOT_GAS_TIGHT, i);
            dt_notice_name(n, "thread", dt_pipe_thread_text(s->pipe, s->thread));
            dt_notice_figure(n, "pressure", DT_KIND_PRESSURE, dt_string_load_gas(&string->load));
            break;
        }
    }
}

void dt_program_note_strength(dt_program *p)
{
    note_customs(p);
    note_wellhead(p);
    note_heads(p);
    note_landing(p);
    note_sour_pins(p);
    note_open_pins(p);
}
