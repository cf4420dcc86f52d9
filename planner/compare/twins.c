/* SPDX-License-Identifier: MIT */
/* Liner or full string: programs that differ from one of the comparison in how one string hangs. */
#include "comparison_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"

/** Programs of the comparison that have their twins looked at: the plan and the first option. */
#define TWINNED 2

const char *dt_hanging_text(dt_hanging as)
{
    static const char *const texts[] = {[DT_RUN_FULL] = "full string",
                                        [DT_HUNG] = "liner",
                                        [DT_HUNG_AND_TIED] = "liner, tied back"};
    return texts[as];
}

static dt_hanging hanging_of(const dt_choice *c)
{
    return c->type != DT_LINER ? DT_RUN_FULL : c->tied_back ? DT_HUNG_AND_TIED : DT_HUNG;
}

static dt_notice *note(dt_twin *t, dt_notice_code code)
{
    return dt_notice_add(&t->why, code, DT_NO_STRING);
}

/* ---- what else changes ---- */

/** The first length of pipe in which two strings differ; DT_NO_INDEX: none does. */
static size_t first_other(const dt_string *was, const dt_string *now)
{
    const size_t both =
        was->section_count < now->section_count ? was->section_count : now->section_count;
    for (size_t i = 0; i < both; ++i)
        if (was->sections[i].pipe != now->sections[i].pipe ||
            was->sections[i].thread != now->sections[i].thread)
            return i;
    return DT_NO_INDEX;
}

static void note_pipe_of(dt_notice *n, const dt_section *was, const dt_section *now)
{
    dt_notice_figure(n, "od", DT_KIND_DIAMETER, now->pipe->od_m);
    dt_notice_figure(n, "weight", DT_KIND_LINEAR_MASS, now->pipe->weight_kgm);
    dt_notice_name(n, "grade", now->pipe->grade->name);
    dt_notice_name(n, "thread", dt_pipe_thread_text(now->pipe, now->thread));
    dt_notice_figure(n, "was_weight", DT_KIND_LINEAR_MASS, was->pipe->weight_kgm);
    dt_notice_name(n, "was_grade", was->pipe->grade->name);
    dt_notice_name(n, "was_thread", dt_pipe_thread_text(was->pipe, was->thread));
}

/** Other pipe, and the gas that stands on it where that is another, too. */
static void note_string(dt_twin *t, const dt_program *was, const dt_program *now, size_t k)
{
    const dt_string *before = was->items[k].string, *after = now->items[k].string;
    const size_t at = first_other(before, after);
    if (at == DT_NO_INDEX) return;
    dt_notice *n = note(t, DT_NOTICE_TWIN_PIPE);
    note_pipe_of(n, &before->sections[at], &after->sections[at]);
    if (at > 0) dt_notice_figure(n, "below_md", DT_KIND_LENGTH, after->sections[at].top_md_m);
    const double gas_pa = after->load.surface_pressure_pa,
                 had_pa = before->load.surface_pressure_pa;
    if (!(gas_pa > 0) || fabs(gas_pa - had_pa) < 1000) return;
    dt_notice_figure(n, "gas", DT_KIND_PRESSURE, gas_pa);
    dt_notice_figure(n, "was_gas", DT_KIND_PRESSURE, fmax(had_pa, 0));
}

static void note_changes(dt_twin *t, const dt_program *was, const dt_program *now)
{
    for (size_t k = 0; k < was->count && k < now->count; ++k)
        note_string(t, was, now, k);
    const size_t tie = dt_seats_tieback_on(&now->seats, t->string);
    if (tie != DT_NO_INDEX) {
        const dt_pipe *pipe = now->items[tie].string->sections[0].pipe;
        dt_notice *n = note(t, DT_NOTICE_TWIN_TIEBACK);
        dt_notice_figure(n, "weight", DT_KIND_LINEAR_MASS, pipe->weight_kgm);
        dt_notice_name(n, "grade", pipe->grade->name);
    }
    if (t->why.count == 0) note(t, DT_NOTICE_TWIN_SAME_PIPE);
}

/* ---- one twin ---- */

/** Does the well file say how the string hangs? Then the twin is not looked at. */
static bool said(const dt_well *well, const dt_option *o, dt_twin *t)
{
    const dt_choice *c = &o->strings[t->string];
    unsigned above = 0;
    for (size_t i = 0; i < t->string; ++i)
        above += o->strings[i].role == c->role;
    const dt_pin *pin = dt_option_pin(well, c->role, above);
    const bool pinned = pin && pin->type != DT_TYPE_UNSAID;
    const bool no_liners = t->as != DT_RUN_FULL && !well->seats.liners;
    const bool no_ties =
        t->as == DT_HUNG_AND_TIED && well->wishes.given && well->wishes.no_tiebacks;
    if (!pinned && !no_liners && !no_ties) return false;
    dt_notice *n = note(t, DT_NOTICE_TWIN_SAID);
    if (n) n->line = pinned ? pin->line : no_ties ? well->wishes.line : 0;
    return true;
}

/** That a tie-back would help is seen in the next line. */
static void forget_hint(dt_notice *why)
{
    for (size_t i = 0; i < why->name_count; ++i)
        if (strcmp(why->names[i].name, "liner") == 0)
            why->names[i--] = why->names[--why->name_count];
}

/** Keeps why there is no such program, without the words that it begins with. */
static void note_refusal(dt_twin *t, const dt_refusal *refusal)
{
    dt_notice *n = note(t, DT_NOTICE_TWIN_NOT_BUILT);
    for (size_t i = 0; i < refusal->why.count; ++i) {
        const dt_notice *why = &refusal->why.items[i];
        const bool opens = why->code == DT_NOTICE_NO_PROGRAM && why->because_count > 0;
        dt_notice_copy_below(&t->why, n, opens ? &why->because[0] : why);
    }
    for (size_t i = 0; n && i < n->because_count; ++i)
        forget_hint(&n->because[i]);
}

static dt_status judge(dt_twin *t, const dt_program *was, const dt_program *now)
{
    const dt_notice *why = dt_program_stopper(now);
    const bool tied = dt_seats_tieback_on(&now->seats, t->string) != DT_NO_INDEX;
    if (t->as == DT_HUNG_AND_TIED && !tied) {
        note(t, DT_NOTICE_TWIN_NO_ROOM);
        return DT_OK;
    }
    const dt_status status = dt_option_of_program(now, &t->option);
    if (status != DT_OK) return status;
    t->built = true;
    t->closes = !why;
    if (why) dt_notice_copy_below(&t->why, note(t, DT_NOTICE_TWIN_STOPPED), why);
    if (!dt_program_keeps_wishes(now)) note(t, DT_NOTICE_TWIN_BREAKS_WISH);
    note_changes(t, was, now);
    return DT_OK;
}

/** The same shoes, holes and sizes, the string hung otherwise, all pipe chosen anew. */
static dt_status plan_twin(dt_comparison *c, const dt_catalogue *catalogue, dt_twin *t)
{
    const dt_compared *of = &c->items[t->item];
    dt_option wanted = of->option;
    dt_choice *hung = &wanted.strings[t->string];
    hung->type = t->as == DT_RUN_FULL ? DT_FULL : DT_LINER;
    hung->tied_back = t->as == DT_HUNG_AND_TIED;
    hung->tie_pipe = hung->pipe;
    hung->tie_thread = hung->thread;
    dt_option_plan *plan = calloc(1, sizeof *plan);
    if (!plan) return DT_E_MEMORY;
    dt_refusal refusal;
    dt_status status =
        dt_option_plan_told(c->well, catalogue, &wanted, true, &c->designed, plan, &refusal);
    if (status == DT_OK) status = judge(t, of->program, plan->program);
    if (status == DT_E_NONE || status == DT_E_INPUT) {
        note_refusal(t, &refusal);
        status = DT_OK;
    }
    dt_refusal_free(&refusal);
    dt_option_plan_free(plan);
    free(plan);
    return status == DT_OK && t->why.failed ? DT_E_MEMORY : status;
}

static dt_status add_twins(dt_comparison *c, const dt_catalogue *catalogue, size_t item, size_t k)
{
    const dt_option *o = &c->items[item].option;
    dt_status status = DT_OK;
    for (int as = DT_RUN_FULL; as <= DT_HUNG_AND_TIED && status == DT_OK; ++as) {
        dt_twin *t = &c->twins[c->twin_count++];
        *t = (dt_twin){.item = item, .string = k, .as = (dt_hanging)as};
        t->present = hanging_of(&o->strings[k]) == t->as;
        if (t->present) {
            t->option = *o;
            t->built = true;
            t->closes = !dt_program_stopper(c->items[item].program);
        } else if (!said(c->well, o, t)) {
            status = plan_twin(c, catalogue, t);
        }
    }
    return status;
}

dt_status dt_comparison_twins(dt_comparison *c, const dt_catalogue *catalogue)
{
    c->twins = calloc(TWINNED * 3 * DT_MOST_STRINGS, sizeof *c->twins);
    if (!c->twins) return DT_E_MEMORY;
    dt_status status = DT_OK;
    for (size_t i = 0; i < c->count && i < TWINNED; ++i)
        for (size_t k = 2; k < c->items[i].option.count && status == DT_OK; ++k)
            status = add_twins(c, catalogue, i, k);
    return status;
}

void dt_twins_free(dt_comparison *c)
{
    for (size_t i = 0; i < c->twin_count; ++i)
        dt_notices_free(&c->twins[i].why);
    free(c->twins);
    c->twins = NULL;
    c->twin_count = 0;
}
