/* SPDX-License-Identifier: MIT */
#include "changes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"

const char *dt_change_code(dt_change what)
{
    static const char *const codes[] = {
#define DT_CHANGE_CODE(name, code) code,
        DT_CHANGE_LIST(DT_CHANGE_CODE)
#undef DT_CHANGE_CODE
    };
    return what < DT_CHANGE_COUNT ? codes[what] : "";
}

/* ---- which string of one plays the part of which of the other ---- */

/* What a pairing costs. A string alone costs 1, so two that differ by more than two strings alone
 * are no pair: a shoe a third of the well deeper in pipe of a third of the diameter is another
 * string. */
#define BY_SHOE      3.0 /* of a shoe moved by the depth of the well */
#define BY_DIAMETER  3.0 /* of pipe of another size, by the part of the wider one */
#define OTHER_ROLE   0.2
#define NEVER_A_PAIR 4.0 /* a conductor, or the last string, with any other */

static bool is_end(const dt_program *program, size_t index)
{
    return program->items[index].seat->role == DT_CONDUCTOR ||
           program->items[index].seat->role == DT_PRODUCTION;
}

static double pair_cost(const dt_changes *c, size_t i, size_t k)
{
    const dt_program_string *a = &c->was->items[i], *b = &c->is->items[k];
    const double deepest = fmax(c->was->items[c->was->count - 1].shoe_tvd_m,
                                c->is->items[c->is->count - 1].shoe_tvd_m);
    double cost = BY_SHOE * fabs(a->shoe_tvd_m - b->shoe_tvd_m) / deepest +
                  BY_DIAMETER * fabs(a->od_m - b->od_m) / fmax(a->od_m, b->od_m);
    if (a->seat->role != b->seat->role) cost += OTHER_ROLE;
    if (a->seat->role != b->seat->role && (is_end(c->was, i) || is_end(c->is, k)))
        cost += NEVER_A_PAIR;
    return cost;
}

/** The cheapest pairing that keeps both orders; ties to pairs, from the bottom up. */
static dt_status pair_drilled(dt_changes *c)
{
    const size_t n = c->was->count, m = c->is->count, width = m + 1;
    double *cost = calloc((n + 1) * width, sizeof *cost);
    if (!cost) return DT_E_MEMORY;
    for (size_t i = 0; i <= n; ++i)
        for (size_t k = 0; k <= m; ++k) {
            double *at = &cost[i * width + k];
            if (i > 0 || k > 0) *at = INFINITY;
            if (i > 0) *at = cost[(i - 1) * width + k] + 1;
            if (k > 0) *at = fmin(*at, cost[i * width + k - 1] + 1);
            if (i > 0 && k > 0)
                *at = fmin(*at, cost[(i - 1) * width + k - 1] + pair_cost(c, i - 1, k - 1));
        }
    for (size_t i = n, k = m; i > 0 && k > 0;) {
        const double here = cost[i * width + k];
        if (dt_same(here, cost[(i - 1) * width + k - 1] + pair_cost(c, i - 1, k - 1)))
            c->partner[--k] = --i;
        else if (dt_same(here, cost[(i - 1) * width + k] + 1))
            --i;
        else
            --k;
    }
    free(cost);
    return DT_OK;
}

/** Tie-backs go with their liners. */
static void pair_tiebacks(dt_changes *c)
{
    for (size_t k = 0; k < c->is->count; ++k) {
        const size_t tie = dt_seats_tieback_on(&c->is->seats, k);
        if (tie != DT_NO_INDEX && c->partner[k] != DT_NO_INDEX)
            c->partner[tie] = dt_seats_tieback_on(&c->was->seats, c->partner[k]);
    }
}

/* ---- facts ---- */

static dt_change_view *add(dt_changes *c, dt_change what, size_t was, size_t is)
{
    if (c->count == c->room) {
        const size_t room = 2 * c->room + 32;
        dt_change_view *items = realloc(c->items, room * sizeof *items);
        if (!items) return NULL;
        c->items = items;
        c->room = room;
    }
    dt_change_view *item = &c->items[c->count++];
    *item = (dt_change_view){.what = what,
                             .was = was,
                             .is = is,
                             .kind = DT_KIND_COUNT,
                             .was_value = NAN,
                             .is_value = NAN};
    return item;
}

/** A figure that is not the same in both; NAN is one that is not there. */
static bool add_figure(dt_changes *c, const dt_change_view *of)
{
    const double width = of->kind == DT_KIND_LENGTH ? SAME_DEPTH_M : 0;
    if (isnan(of->was_value) && isnan(of->is_value)) return true;
    if (dt_same(of->was_value, of->is_value) || fabs(of->was_value - of->is_value) <= width)
        return true;
    dt_change_view *item = add(c, of->what, of->was, of->is);
    if (item) *item = *of;
    return item != NULL;
}

static bool same_pipe(const dt_string *a, const dt_string *b)
{
    if (a->section_count != b->section_count) return false;
    for (size_t i = 0; i < a->section_count; ++i) {
        const dt_section *x = &a->sections[i], *y = &b->sections[i];
        const bool last = i + 1 == a->section_count; /* its base is the shoe, told by itself */
        if (fabs(x->pipe->weight_kgm - y->pipe->weight_kgm) > SAME_WEIGHT_KGM ||
            strcmp(x->pipe->grade->name, y->pipe->grade->name) != 0 || x->thread != y->thread ||
            (!last && fabs(x->base_md_m - y->base_md_m) > SAME_DEPTH_M))
            return false;
    }
    return true;
}

static double mud_of(const dt_program_string *item)
{
    return item->seat->type == DT_TIEBACK ? NAN : item->seat->mud_kgm3;
}

static double kick_of(const dt_program_string *item)
{
    return item->kick_known ? item->kick.tolerance_m3 : NAN;
}

static double class_of(const dt_program *program, size_t index)
{
    const dt_head_stage *head = &program->wellhead.stages[index];
    return head->diverter ? 0 : head->class_psi * DT_PA_PER_PSI;
}

static bool compare_string(dt_changes *c, size_t was, size_t is)
{
    const dt_program_string *a = &c->was->items[was], *b = &c->is->items[is];
    if (a->seat->type != b->seat->type && !add(c, DT_CHANGE_TYPE, was, is)) return false;
    const dt_change_view depths[] = {
        {DT_CHANGE_SHOE, was, is, DT_KIND_LENGTH, a->shoe_md_m, b->shoe_md_m, NULL},
        {DT_CHANGE_TOP, was, is, DT_KIND_LENGTH, a->top_md_m, b->top_md_m, NULL},
        {DT_CHANGE_HOLE, was, is, DT_KIND_DIAMETER, a->hole_m, b->hole_m, NULL},
        {DT_CHANGE_SIZE, was, is, DT_KIND_DIAMETER, a->od_m, b->od_m, NULL},
    };
    const dt_change_view figures[] = {
        {DT_CHANGE_MUD, was, is, DT_KIND_DENSITY, mud_of(a), mud_of(b), NULL},
        {DT_CHANGE_KICK, was, is, DT_KIND_VOLUME, kick_of(a), kick_of(b), NULL},
        {DT_CHANGE_CEMENT, was, is, DT_KIND_LENGTH, a->cement_top_md_m, b->cement_top_md_m, NULL},
        {DT_CHANGE_CLASS, was, is, DT_KIND_PRESSURE, class_of(c->was, was), class_of(c->is, is),
         NULL},
    };
    for (size_t i = 0; i < COUNT_OF(depths); ++i)
        if (!add_figure(c, &depths[i])) return false;
    if (!same_pipe(a->string, b->string) && !add(c, DT_CHANGE_PIPE, was, is)) return false;
    for (size_t i = 0; i < COUNT_OF(figures); ++i)
        if (!add_figure(c, &figures[i])) return false;
    return true;
}

/** Index in `is` of the partner of a string of `was`; DT_NO_INDEX: it has none. */
static size_t partner_of(const dt_changes *c, size_t was)
{
    for (size_t k = 0; k < dt_program_strings(c->is); ++k)
        if (c->partner[k] == was) return k;
    return DT_NO_INDEX;
}

/** Strings from the surface down: one that went stands above the next that both have. */
static bool compare_strings(dt_changes *c)
{
    size_t told = 0; /* of those of `was`, by position */
    const size_t strings = dt_program_strings(c->was);
    for (size_t n = 0; n < dt_program_strings(c->is); ++n) {
        const size_t is = dt_program_at(c->is, n), was = c->partner[is];
        for (; was != DT_NO_INDEX && told < strings; ++told) {
            const size_t before = dt_program_at(c->was, told);
            if (before == was) break;
            if (partner_of(c, before) == DT_NO_INDEX &&
                !add(c, DT_CHANGE_REMOVED, before, DT_NO_INDEX))
                return false;
        }
        if (was == DT_NO_INDEX ? !add(c, DT_CHANGE_ADDED, DT_NO_INDEX, is)
                               : !compare_string(c, was, is))
            return false;
    }
    for (; told < strings; ++told) {
        const size_t before = dt_program_at(c->was, told);
        if (partner_of(c, before) == DT_NO_INDEX && !add(c, DT_CHANGE_REMOVED, before, DT_NO_INDEX))
            return false;
    }
    return true;
}

static bool compare_totals(dt_changes *c)
{
    const bool was = dt_program_runnable(c->was), is = dt_program_runnable(c->is);
    const bool priced = c->was->well->prices_given && c->is->well->prices_given;
    const size_t none = DT_NO_INDEX;
    const dt_change_view figures[] = {
        {DT_CHANGE_STRINGS, none, none, DT_KIND_COUNT, (double)dt_program_strings(c->was),
         (double)dt_program_strings(c->is), NULL},
        {DT_CHANGE_STEEL, none, none, DT_KIND_COUNT, c->was->steel_kg, c->is->steel_kg, NULL},
        {DT_CHANGE_DAYS, none, none, DT_KIND_COUNT, c->was->bill.days, c->is->bill.days, NULL},
        {DT_CHANGE_COST, none, none, DT_KIND_COUNT, priced ? c->was->bill.total : NAN,
         priced ? c->is->bill.total : NAN, NULL},
    };
    if (was != is) {
        dt_change_view *item = add(c, DT_CHANGE_RUNNABLE, none, none);
        if (!item) return false;
        item->was_value = was;
        item->is_value = is;
    }
    for (size_t i = 0; i < COUNT_OF(figures); ++i)
        if (!add_figure(c, &figures[i])) return false;
    return true;
}

/** Whether the other program says the same of the string in that place. */
static bool has_notice(const dt_program *program, const dt_notice *notice, size_t string)
{
    for (size_t i = 0; i < program->notices.count; ++i)
        if (program->notices.items[i].code == notice->code &&
            program->notices.items[i].string == string)
            return true;
    return false;
}

static bool counts(const dt_notice *notice)
{
    return dt_notice_gravity(notice->code) != DT_ASSUMED;
}

/** What is newly to be known, and what no longer is; figures of what stays are not looked at. */
static bool compare_notices(dt_changes *c)
{
    for (size_t i = 0; i < c->was->notices.count; ++i) {
        const dt_notice *notice = &c->was->notices.items[i];
        const size_t is =
            notice->string == DT_NO_STRING ? DT_NO_INDEX : partner_of(c, notice->string);
        const bool gone_string = notice->string != DT_NO_STRING && is == DT_NO_INDEX;
        if (!counts(notice) || gone_string) continue;
        if (has_notice(c->is, notice, is == DT_NO_INDEX ? DT_NO_STRING : is)) continue;
        dt_change_view *item = add(c, DT_CHANGE_SETTLED, notice->string, is);
        if (!item) return false;
        item->notice = notice;
    }
    for (size_t i = 0; i < c->is->notices.count; ++i) {
        const dt_notice *notice = &c->is->notices.items[i];
        const size_t was =
            notice->string == DT_NO_STRING ? DT_NO_INDEX : c->partner[notice->string];
        const bool new_string = notice->string != DT_NO_STRING && was == DT_NO_INDEX;
        if (!counts(notice)) continue;
        if (!new_string && has_notice(c->was, notice, was == DT_NO_INDEX ? DT_NO_STRING : was))
            continue;
        dt_change_view *item = add(c, DT_CHANGE_RAISED, was, notice->string);
        if (!item) return false;
        item->notice = notice;
    }
    return true;
}

/* ---- the whole ---- */

dt_status dt_changes_open(const dt_program *was, const dt_program *is, dt_changes **out)
{
    dt_changes *c = calloc(1, sizeof *c);
    if (!c) return DT_E_MEMORY;
    c->was = was;
    c->is = is;
    const size_t strings = dt_program_strings(is);
    c->partner = calloc(strings + 1, sizeof *c->partner);
    dt_status status = c->partner ? DT_OK : DT_E_MEMORY;
    for (size_t k = 0; status == DT_OK && k < strings; ++k)
        c->partner[k] = DT_NO_INDEX;
    if (status == DT_OK) status = pair_drilled(c);
    if (status == DT_OK) {
        pair_tiebacks(c);
        if (!compare_totals(c) || !compare_strings(c) || !compare_notices(c)) status = DT_E_MEMORY;
    }
    if (status == DT_OK)
        *out = c;
    else
        dt_changes_close(c);
    return status;
}

void dt_changes_close(dt_changes *changes)
{
    if (!changes) return;
    free(changes->items);
    free(changes->partner);
    free(changes);
}

size_t dt_changes_count(const dt_changes *changes)
{
    return changes->count;
}

dt_status dt_changes_at(const dt_changes *changes, size_t index, dt_change_view *out)
{
    if (index >= changes->count) return DT_E_DOMAIN;
    *out = changes->items[index];
    return DT_OK;
}

size_t dt_changes_partner(const dt_changes *changes, size_t is)
{
    return is < dt_program_strings(changes->is) ? changes->partner[is] : DT_NO_INDEX;
}
