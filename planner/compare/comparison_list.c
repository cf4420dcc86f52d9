/* SPDX-License-Identifier: MIT */
/* The options that were found, planned in full: those that close, in the order of what they come
 * to. */
#include "comparison_parts.h"

#include <math.h>
#include <stdlib.h>

#include "same.h"

/** Options planned in full; each takes some hundredths of a second. */
#define MOST_PLANNED 120

/** Shoes this near to each other stand at one depth. */
#define ONE_DEPTH_M 0.01

/** An option with what is known of it, while they are put in order. */
typedef struct entry {
    dt_option option;
    dt_listed more;
    bool own; /* the plan's own program */
} entry;

/** What is counted while options are planned. */
typedef struct tally {
    dt_comparison *c;
    const dt_catalogue *catalogue;
    size_t done, total;
    size_t stopped_by[DT_NOTICE_COUNT];
    dt_notices example; /* of the first that was stopped, by code; one a code */
} tally;

/* ---- does it close? ---- */

/** Is it a rule that only a pin may break? */
static bool breaks_by_pin(dt_notice_code code)
{
    static const dt_notice_code codes[] = {DT_NOTICE_PIN_BREAKS_RULE,   DT_NOTICE_PIN_CLEARANCE,
                                           DT_NOTICE_PIN_COMPLETION,    DT_NOTICE_PIN_HANGER,
                                           DT_NOTICE_PIN_NOT_GAS_TIGHT, DT_NOTICE_PIN_NOT_SOUR};
    for (size_t i = 0; i < COUNT_OF(codes); ++i)
        if (codes[i] == code) return true;
    return false;
}

/** Did the search, and not the engineer, choose what is pinned of a string? */
static bool is_chosen(const dt_program *p, size_t string)
{
    if (string == DT_NO_STRING || string >= dt_program_strings(p)) return false;
    const size_t pin = p->seats.items[string].pin;
    if (pin == DT_NO_INDEX || pin >= p->well->pin_count) return false;
    return p->well->pins[pin].pipe_chosen;
}

const dt_notice *dt_program_stopper(const dt_program *p)
{
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        if (dt_notice_gravity(n->code) == DT_STOPPER) return n;
        if (breaks_by_pin(n->code) && is_chosen(p, n->string)) return n;
    }
    return NULL;
}

/* ---- one option in full ---- */

static void free_plan(dt_option_plan **plan)
{
    dt_option_plan_free(*plan);
    free(*plan);
    *plan = NULL;
}

/** DT_OK with *out NULL where it cannot be planned. */
static dt_status plan_one(const tally *t, const dt_option *option, bool tapered,
                          dt_option_plan **out)
{
    *out = calloc(1, sizeof **out);
    if (!*out) return DT_E_MEMORY;
    const dt_status status =
        dt_option_plan_told(t->c->well, t->catalogue, option, tapered, &t->c->designed, *out, NULL);
    if (status != DT_OK) free_plan(out);
    return status == DT_E_NONE || status == DT_E_INPUT ? DT_OK : status;
}

static void count_lengths(const dt_program *program, dt_listed *out)
{
    for (size_t k = 0; k < program->count && k < DT_MOST_STRINGS; ++k) {
        const size_t tie = dt_seats_tieback_on(&program->seats, k);
        out->lengths[k] = program->items[k].string->section_count;
        out->tie_lengths[k] = tie == DT_NO_INDEX ? 0 : program->items[tie].string->section_count;
    }
}

/** Counts what stops an option; of each code the first is kept, to be told. */
static void count_stopped(tally *t, const dt_notice *why)
{
    const dt_notice_code code = why ? why->code : DT_NOTICE_NO_PROGRAM;
    ++t->c->stopped;
    if (t->stopped_by[code]++ > 0 || !why) return;
    dt_notice *n = dt_notice_add(&t->example, code, DT_NO_STRING);
    dt_notice_copy_below(&t->example, n, why);
}

/** Is a program what was searched, to the cent and the kilogram? */
static bool is_searched(const dt_bill *bill, const dt_option *searched)
{
    return fabs(bill->steel_kg - searched->steel_kg) < 0.05 &&
           fabs(bill->total - searched->cost) < 0.005;
}

/** The same shoes, holes and sizes with strings of several lengths of pipe, by least steel: taken
 * in place of the searched one when it is lighter, no dearer, and closes; and where it is just what
 * was searched. */
static dt_status taper(const tally *t, entry *one)
{
    const dt_option *searched = &one->more.searched;
    dt_option_plan *plan = NULL;
    dt_status status = plan_one(t, searched, true, &plan);
    if (status != DT_OK || !plan) return status;
    const dt_bill *bill = &plan->program->bill;
    const bool closes = !dt_program_stopper(plan->program);
    one->more.tapers =
        closes && bill->steel_kg < searched->steel_kg - 0.05 && bill->total <= searched->cost;
    if (one->more.tapers) status = dt_option_of_program(plan->program, &one->option);
    if (one->more.tapers || (closes && is_searched(bill, searched)))
        one->more.plan = plan;
    else
        free_plan(&plan);
    return status;
}

/** Plans an option in full. more.plan stays NULL where it does not close. */
static dt_status plan_entry(tally *t, entry *one)
{
    const dt_progress *p = t->c->progress;
    if (p && p->go_on && !p->go_on(p->context, t->done, t->total)) return DT_E_STOPPED;
    ++t->done;
    dt_status status = taper(t, one);
    if (status == DT_OK && !one->more.plan) {
        status = plan_one(t, &one->more.searched, false, &one->more.plan);
        if (status != DT_OK) return status;
        const dt_notice *why = one->more.plan ? dt_program_stopper(one->more.plan->program) : NULL;
        if (why || !one->more.plan) {
            count_stopped(t, why);
            if (one->more.plan) free_plan(&one->more.plan);
            return t->example.failed ? DT_E_MEMORY : DT_OK;
        }
    }
    if (status != DT_OK) return status;
    count_lengths(one->more.plan->program, &one->more);
    dt_standing_of(one->more.plan->program, t->c->well, &one->option, &one->more.standing);
    return DT_OK;
}

/* ---- which are planned ---- */

/** The best of each kind first, then the others in their order, as far as they are not too many. */
static size_t choose_planned(const dt_options *o, bool *chosen)
{
    size_t count = 0;
    for (int best = 1; best >= 0; --best)
        for (size_t i = 0; i < o->count && count < MOST_PLANNED; ++i)
            if ((o->structures[o->items[i].structure].best == i) == (best == 1)) {
                chosen[i] = true;
                ++count;
            }
    return count;
}

/** Plans those that are chosen, into list: those alone that close. */
static dt_status plan_chosen(tally *t, const bool *chosen, entry *list, size_t *count)
{
    const dt_options *o = &t->c->options;
    for (size_t i = 0; i < o->count; ++i) {
        if (!chosen[i]) continue;
        entry *one = &list[*count];
        *one = (entry){.option = o->items[i], .more = {.searched = o->items[i]}};
        const dt_status status = plan_entry(t, one);
        if (status != DT_OK) {
            if (one->more.plan) free_plan(&one->more.plan);
            return status;
        }
        if (one->more.plan) ++*count;
    }
    return DT_OK;
}

/** Which code stopped most, the first of as many; and one of those notices, below `above`. */
static void say_stopped(tally *t)
{
    dt_comparison *c = t->c;
    if (c->stopped == 0) return;
    size_t most = 0;
    for (size_t i = 0; i < DT_NOTICE_COUNT; ++i)
        if (t->stopped_by[i] > t->stopped_by[most]) most = i;
    c->stopped_most = (dt_notice_code)most;
    dt_notice *n = dt_notice_add(&c->notes, DT_NOTICE_OPTIONS_STOPPED, DT_NO_STRING);
    dt_notice_mark(n, "one", c->stopped == 1);
    if (c->stopped > 1) dt_notice_number(n, "count", (double)c->stopped);
    const bool all = t->stopped_by[most] == c->stopped;
    if (!all) dt_notice_number(n, "most", (double)t->stopped_by[most]);
    dt_notice_name(n, all ? "every" : "code", dt_notice_code_text(c->stopped_most));
    for (size_t i = 0; i < t->example.count; ++i)
        if (t->example.items[i].code == c->stopped_most)
            dt_notice_copy_below(&c->notes, n, &t->example.items[i].because[0]);
}

/** The plan's own program joins the options, unless it breaks a wish or does not close. */
static dt_status add_own(dt_comparison *c, entry *list, size_t *count)
{
    entry *own = &list[*count];
    *own = (entry){.own = true};
    dt_status status = dt_option_of_program(c->planned, &own->option);
    if (status == DT_OK) dt_standing_of(c->planned, c->well, &own->option, &own->more.standing);
    own->more.searched = own->option;
    count_lengths(c->planned, &own->more);
    c->plan_listed = own->more;
    c->plan_breaks_wish = !dt_program_keeps_wishes(c->planned);
    const dt_notice *why = dt_program_stopper(c->planned);
    c->plan_stopped = why != NULL;
    if (why)
        dt_notice_copy_below(&c->notes,
                             dt_notice_add(&c->notes, DT_NOTICE_PLAN_STOPPED, DT_NO_STRING), why);
    if (!c->plan_breaks_wish && !c->plan_stopped) ++*count;
    return status;
}

static dt_status fill_entries(dt_comparison *c, const dt_catalogue *catalogue, entry *list,
                              size_t *count)
{
    bool *chosen = calloc(c->options.count + 1, sizeof *chosen);
    if (!chosen) return DT_E_MEMORY;
    tally t = {.c = c, .catalogue = catalogue, .total = choose_planned(&c->options, chosen)};
    c->not_planned = c->options.count - t.total;
    dt_status status = plan_chosen(&t, chosen, list, count);
    if (status == DT_OK) say_stopped(&t);
    dt_notices_free(&t.example);
    free(chosen);
    if (status == DT_OK && c->planned) status = add_own(c, list, count);
    return status == DT_OK && c->notes.failed ? DT_E_MEMORY : status;
}

/* ---- in order ---- */

static int by_shown_cost(const void *left, const void *right)
{
    const entry *a = left, *b = right;
    if (a->option.cost != b->option.cost) return a->option.cost < b->option.cost ? -1 : 1;
    if (a->option.steel_kg != b->option.steel_kg)
        return a->option.steel_kg < b->option.steel_kg ? -1 : 1;
    if (a->option.days != b->option.days) return a->option.days < b->option.days ? -1 : 1;
    if (a->own != b->own) return a->own ? -1 : 1;
    return dt_option_by_cost(&a->more.searched, &b->more.searched);
}

/** Moves an entry that stays to the end of those that do; drops it else. */
static void keep(entry *list, size_t i, bool stays, size_t *kept)
{
    if (stays)
        list[(*kept)++] = list[i];
    else if (list[i].more.plan)
        free_plan(&list[i].more.plan);
}

/** Drops what another equals or beats in all; of equals the first stays. */
static size_t drop_outdone(entry *list, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; ++i) {
        bool outdone = false;
        for (size_t k = 0; k < count && !outdone; ++k)
            outdone = k < kept ? dt_option_at_least(&list[k].option, &list[i].option)
                               : k > i && dt_option_dominates(&list[k].option, &list[i].option);
        keep(list, i, !outdone, &kept);
    }
    return kept;
}

/** Do two options of a kind differ in seats, and each by less than a step? */
static bool alike(const entry *a, const entry *b, double step_m)
{
    double most_m = 0;
    if (a->own || b->own || !dt_options_same_structure(&a->option, &b->option)) return false;
    for (size_t k = 0; k < a->option.count; ++k)
        most_m = fmax(most_m, fabs(a->option.strings[k].shoe_m - b->option.strings[k].shoe_m));
    return most_m > ONE_DEPTH_M && most_m < step_m - SAME_DEPTH_M;
}

/** Options that differ by less than shoes are rounded to are one: the better stays. */
static size_t drop_alike(const dt_comparison *c, entry *list, size_t count)
{
    const double round_to_m = c->well->seats.round_to_m;
    const double step_m =
        isfinite(round_to_m) && round_to_m > 0 ? round_to_m : c->options.seat_step_m;
    size_t kept = 0;
    for (size_t i = 0; i < count; ++i) {
        bool same = false;
        for (size_t k = 0; k < kept && !same; ++k)
            same = alike(&list[k], &list[i], step_m);
        keep(list, i, !same, &kept);
    }
    return kept;
}

/** The list becomes that of the comparison. */
static dt_status take(dt_comparison *c, entry *list, size_t count, dt_option *items)
{
    dt_options *o = &c->options;
    c->plan_rank = 0;
    for (size_t i = 0; i < count; ++i) {
        items[i] = list[i].option;
        c->listed[i] = list[i].more;
        if (list[i].own) c->plan_rank = i + 1;
    }
    free(o->items);
    o->items = items;
    o->count = count;
    return dt_options_find_structures(o);
}

dt_status dt_comparison_list(dt_comparison *c, const dt_catalogue *catalogue)
{
    const size_t searched = c->options.count;
    entry *list = calloc(searched + 1, sizeof *list);
    dt_option *items = calloc(searched + 1, sizeof *items);
    c->listed = calloc(searched + 1, sizeof *c->listed);
    size_t count = 0;
    dt_status status = list && items && c->listed ? DT_OK : DT_E_MEMORY;
    if (status == DT_OK) status = fill_entries(c, catalogue, list, &count);
    if (status != DT_OK) {
        for (size_t i = 0; i < count; ++i)
            if (list[i].more.plan) free_plan(&list[i].more.plan);
        free(items);
        free(list);
        return status;
    }
    qsort(list, count, sizeof *list, by_shown_cost);
    const bool own = count > 0 && c->planned && !c->plan_breaks_wish && !c->plan_stopped;
    const size_t kept = drop_outdone(list, count);
    const size_t apart = drop_alike(c, list, kept);
    c->outdone = count - kept;
    c->alike = kept - apart;
    status = take(c, list, apart, items);
    if (own && c->plan_rank == 0) --c->outdone; /* the plan, which was not found */
    free(list);
    return status;
}

void dt_comparison_drop_plans(dt_comparison *c)
{
    for (size_t i = 0; c->listed && i < c->options.count; ++i)
        if (c->listed[i].plan) free_plan(&c->listed[i].plan);
}
