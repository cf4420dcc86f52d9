/* SPDX-License-Identifier: MIT */
/* Why the plan is not the first of the options: where these stand behind it in the order that a
 * plan is drafted in (docs/nest.md), which asks for the bill last. */
#include "comparison_parts.h"

#include <math.h>
#include <stdio.h>

#include "basis.h"
#include "same.h"
#include "units.h"

/* ---- where a program stands ---- */

static dt_nest_hole hole_of(const dt_option *o, size_t k)
{
    const dt_choice *c = &o->strings[k];
    return (dt_nest_hole){.string = k,
                          .diameter_m = c->hole_m,
                          .bit_m = c->bit_m,
                          .opened = c->bit_m < c->hole_m - SAME_DIAMETER_M};
}

static dt_nest_pipe pipe_of(const dt_option *o, size_t k)
{
    const dt_pipe *pipe = o->strings[k].pipe;
    return (dt_nest_pipe){k, pipe->od_m, dt_nest_largest_od(pipe)};
}

/** What the engineer said of a string of an option, or NULL. */
static const dt_pin *pin_of(const dt_well *well, const dt_option *o, size_t k)
{
    unsigned before = 0;
    for (size_t i = 0; i < k; ++i)
        before += o->strings[i].role == o->strings[k].role;
    return dt_option_pin(well, o->strings[k].role, before);
}

/** The order of a string's hole and pipe; 1 where the engineer decided both. */
static int pair_order(const dt_well *well, const dt_option *o, size_t k)
{
    const dt_pin *pin = pin_of(well, o, k);
    if (pin && isfinite(pin->od_m) && isfinite(pin->hole_m)) return 1;
    const dt_nest_hole hole = hole_of(o, k);
    const dt_nest_pipe pipe = pipe_of(o, k);
    return dt_ladder_order(well, o->count, &hole, &pipe);
}

void dt_standing_of(const dt_program *program, const dt_well *well, const dt_option *o,
                    dt_standing *out)
{
    *out = (dt_standing){0};
    for (size_t k = 0; k < o->count; ++k) {
        const int order = pair_order(well, o, k);
        const dt_nest_pipe pipe = pipe_of(o, k);
        out->unlisted += order >= DT_UNLISTED;
        out->second += order > 1 && order < DT_UNLISTED;
        out->bulk_m2 += PI / 4 * o->strings[k].hole_m * o->strings[k].hole_m;
        if (k + 1 == o->count) {
            out->no_spare =
                well->sizes.spare && !dt_ladder_leaves_spare(well, program->catalogue, NULL, &pipe);
            continue;
        }
        const dt_nest_hole next = hole_of(o, k + 1);
        out->unlisted += !dt_ladder_is_tight(well, program->catalogue, &pipe, &next);
    }
    for (size_t i = 0; i < program->notices.count; ++i)
        out->short_holes += program->notices.items[i].code == DT_NOTICE_KICK_TOLERANCE_SHORT;
}

const dt_standing *dt_compared_standing(const dt_comparison *c, size_t index)
{
    const dt_compared *one = &c->items[index];
    return one->plan ? &c->listed[one->rank - 1].standing : &c->plan_listed.standing;
}

/* ---- why the plan is not first ---- */

/** An option beside the plan. */
typedef struct pair {
    dt_comparison *c;
    const dt_option *o, *own;
    const dt_standing *there, *here;
    dt_notice *note;
} pair;

static dt_notice *because(const pair *p, dt_notice_code code)
{
    return dt_notice_below(&p->c->notes, p->note, code);
}

/** Both sides of a term that counts. */
static void count_both(const pair *p, dt_notice_code code, size_t there, size_t here)
{
    dt_notice *n = because(p, code);
    dt_notice_number(n, "count", (double)there);
    dt_notice_number(n, "plan", (double)here);
}

static void note_pairs(const pair *p)
{
    for (size_t k = 0; k < p->o->count; ++k) {
        const int order = pair_order(p->c->well, p->o, k);
        if (order <= 1 || order >= DT_UNLISTED) continue;
        dt_notice *n = because(p, DT_NOTICE_ORDER_PAIR);
        dt_notice_figure(n, "od", DT_KIND_DIAMETER, p->o->strings[k].pipe->od_m);
        dt_notice_figure(n, "hole", DT_KIND_DIAMETER, p->o->strings[k].hole_m);
    }
}

/** The first term of the order in which the two differ. True: there is one. */
static bool note_term(const pair *p)
{
    const dt_standing *a = p->there, *b = p->here;
    if (p->o->count != p->own->count) {
        count_both(p, DT_NOTICE_ORDER_STRINGS, p->o->count, p->own->count);
        return true;
    }
    if (!dt_hole_rules_by_size(p->c->well)) return false;
    const double wider = a->bulk_m2 - b->bulk_m2;
    const double terms[] = {
        (double)a->unlisted - (double)b->unlisted, (double)a->second - (double)b->second,
        (double)a->no_spare - (double)b->no_spare, fabs(wider) > TIE_M3 ? wider : 0,
        (double)a->short_holes - (double)b->short_holes};
    size_t at = 0;
    while (at < COUNT_OF(terms) && terms[at] == 0)
        ++at;
    if (at == COUNT_OF(terms)) return false;
    if (terms[at] < 0)
        because(p, DT_NOTICE_ORDER_NO_PIPE);
    else if (at == 0)
        count_both(p, DT_NOTICE_ORDER_UNLISTED, a->unlisted, b->unlisted);
    else if (at == 1)
        note_pairs(p);
    else if (at == 2)
        because(p, DT_NOTICE_ORDER_SPARE);
    else if (at == 3)
        dt_notice_number(because(p, DT_NOTICE_ORDER_BULK), "percent", 100 * wider / b->bulk_m2);
    else
        count_both(p, DT_NOTICE_ORDER_KICK, a->short_holes, b->short_holes);
    return true;
}

/** A string that the plan runs to the surface, or hangs, and the option does not. */
static void note_type(const pair *p, size_t k)
{
    const dt_choice *there = &p->o->strings[k], *here = &p->own->strings[k];
    const bool hung = there->type == DT_LINER, was = here->type == DT_LINER;
    if (hung == was && there->tied_back == here->tied_back) return;
    const bool ties = there->tied_back && !here->tied_back;
    dt_notice *n = because(p, ties   ? DT_NOTICE_ORDER_TIES
                              : hung ? DT_NOTICE_ORDER_HANGS
                                     : DT_NOTICE_ORDER_RUNS);
    dt_notice_figure(n, "od", DT_KIND_DIAMETER, there->pipe->od_m);
    dt_notice_mark(n, "surface", hung && !ties && k == 2);
    dt_notice_mark(n, "last", hung && !ties && k + 1 == p->o->count);
    if (hung || !was) return;
    const dt_seat *seat = &p->c->planned->seats.items[k];
    dt_notice_mark(n, seat->liner_by_sticking ? "sticks" : "basis", true);
}

/** Does something differ in how strings hang? */
static bool note_types(const pair *p)
{
    const size_t before = p->note ? p->note->because_count : 0;
    for (size_t k = 2; p->o->count == p->own->count && k < p->o->count; ++k)
        note_type(p, k);
    return p->note && p->note->because_count > before;
}

static bool note_seats(const pair *p)
{
    const size_t ends = p->c->well->last_open ? 0 : 1;
    for (size_t k = 1; k + ends < p->o->count; ++k) {
        const dt_choice *there = &p->o->strings[k], *here = &p->own->strings[k];
        if (fabs(there->shoe_m - here->shoe_m) < 0.01) continue;
        dt_notice *n = because(p, DT_NOTICE_ORDER_SEAT);
        dt_notice_name(n, "role", dt_role_text(there->role));
        dt_notice_figure(n, "there", DT_KIND_LENGTH, there->shoe_m);
        dt_notice_figure(n, "here", DT_KIND_LENGTH, here->shoe_m);
        const bool deep = p->c->well->seats.prefer == DT_PREFER_DEEPEST;
        const bool surest = p->c->planned->seats.items[k].why.rule == DT_RULE_SUREST;
        dt_notice_mark(n, surest ? "surest" : deep ? "deep" : "shallow", true);
        return true;
    }
    return false;
}

/** What the option has over the plan: money, or steel where nothing is priced. */
static void note_gain(const pair *p)
{
    const dt_well *well = p->c->well;
    const double saved = p->own->cost - p->o->cost;
    const double steel_kg = p->own->steel_kg - p->o->steel_kg;
    if (well->prices_given && saved >= 0.5) {
        dt_notice_number(p->note, "saved", saved);
        dt_notice_name(p->note, "currency", well->prices.currency);
        dt_notice_mark(p->note, "cheaper", true);
    } else if (steel_kg >= 50) {
        dt_notice_number(p->note, "steel", steel_kg / 1000);
    }
    dt_notice_mark(p->note, "dominates",
                   dt_option_at_least(p->o, p->own) && !dt_comparison_surest(p->c));
}

static void note_option(dt_comparison *c, size_t rank)
{
    char name[48];
    pair p = {.c = c,
              .o = &c->options.items[rank - 1],
              .own = &c->items[0].option,
              .there = &c->listed[rank - 1].standing,
              .here = &c->plan_listed.standing,
              .note = dt_notice_add(&c->notes, DT_NOTICE_PLAN_NOT_FIRST, DT_NO_STRING)};
    snprintf(name, sizeof name, "option %zu of the list", rank);
    for (size_t i = 0; i < c->count; ++i)
        if (c->items[i].rank == rank) snprintf(name, sizeof name, "%s", c->items[i].label);
    dt_notice_name(p.note, "option", name);
    note_gain(&p);
    const bool term = note_term(&p), types = note_types(&p);
    if (term || types || note_seats(&p)) return;
    because(&p, dt_hole_rules_by_size(c->well) ? DT_NOTICE_ORDER_PIPE : DT_NOTICE_ORDER_IN_TURN);
}

dt_status dt_comparison_note_order(dt_comparison *c)
{
    if (!c->planned || c->plan_stopped || c->plan_breaks_wish || c->plan_rank == 1) return DT_OK;
    note_option(c, 1);
    const size_t by = c->items[0].dominated_by;
    if (by > 1) note_option(c, by);
    return c->notes.failed ? DT_E_MEMORY : DT_OK;
}
