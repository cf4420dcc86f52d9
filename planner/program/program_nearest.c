/* SPDX-License-Identifier: MIT */
/* Where no program exists, the one that comes nearest: of a well with one thing changed, and where
 * one does not do, with as few as a search finds. It is never called one that can be run. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "program_parts.h"
#include "same.h"
#include "switches.h"

/** A copy of a well with something changed, in one block of memory: the program keeps it. */
typedef struct changed_well {
    dt_well well;
    dt_clearance_row no_clearance;
    dt_pin *pins; /* behind the intervals */
    dt_interval intervals[];
} changed_well;

/* What is left out first: rules that cost rig time, then those of what a kick does, then what was
 * asked of the well, and last that mud must stay in the window. */
static const struct {
    dt_switch_kind kind;
    dt_rule rule;
} order[] = {
    {DT_SWITCH_RULE, DT_RULE_OPEN_HOLE},       {DT_SWITCH_RULE, DT_RULE_CIRCULATING},
    {DT_SWITCH_RULE, DT_RULE_DRILLING_MARGIN}, {DT_SWITCH_TRIP, DT_RULE_COUNT},
    {DT_SWITCH_RULE, DT_RULE_STICKING_NORMAL}, {DT_SWITCH_RULE, DT_RULE_STICKING_ABNORMAL},
    {DT_SWITCH_PIN, DT_RULE_PINNED},           {DT_SWITCH_CLEARANCE, DT_RULE_COUNT},
    {DT_SWITCH_COMPLETION, DT_RULE_COUNT},     {DT_SWITCH_INTERVAL, DT_RULE_COUNT},
    {DT_SWITCH_RULE, DT_RULE_INFLUX_VOLUME},   {DT_SWITCH_RULE, DT_RULE_KICK_LEAST},
    {DT_SWITCH_RULE, DT_RULE_KICK_FIXED},      {DT_SWITCH_RULE, DT_RULE_KICK_DEPTH_RATIO},
    {DT_SWITCH_RULE, DT_RULE_DIVERTER_GAS},    {DT_SWITCH_RULE, DT_RULE_DIVERTER_PRESSURE},
    {DT_SWITCH_COLLAPSE, DT_RULE_COUNT},       {DT_SWITCH_FRESH_WATER, DT_RULE_FRESH_WATER},
    {DT_SWITCH_LOADS, DT_RULE_COUNT},          {DT_SWITCH_RULE, DT_RULE_MUD_LIMIT},
};

static size_t place_of(const dt_switch *item)
{
    for (size_t i = 0; i < COUNT_OF(order); ++i)
        if (order[i].kind == item->kind &&
            (item->kind != DT_SWITCH_RULE || order[i].rule == item->rule))
            return i;
    return COUNT_OF(order);
}

/** By insertion: switches of one place stay as the well has them. */
static void put_in_order(dt_switches *s)
{
    for (size_t i = 1; i < s->count; ++i) {
        const dt_switch item = s->items[i];
        size_t k = i;
        for (; k > 0 && place_of(&s->items[k - 1]) > place_of(&item); --k)
            s->items[k] = s->items[k - 1];
        s->items[k] = item;
    }
}

typedef struct hunt {
    const dt_well *well;
    const dt_catalogue *catalogue;
    dt_switches switches;
    bool *off;
    double conductor_m; /* with a tested shoe or without; NAN: as it is */
    bool tested;
} hunt;

static bool is_off(const hunt *h, dt_switch_kind kind, size_t index)
{
    const size_t at = dt_switches_find(&h->switches, kind, index);
    return at != DT_NO_INDEX && h->off[at];
}

/** The well as it would be. NULL: out of memory. */
static changed_well *change(const hunt *h)
{
    const dt_well *well = h->well;
    changed_well *c = malloc(sizeof *c + well->interval_count * sizeof *c->intervals +
                             well->pin_count * sizeof *c->pins);
    if (!c) return NULL;
    c->well = *well;
    c->pins = (dt_pin *)(void *)(c->intervals + well->interval_count);
    c->well.intervals = c->intervals;
    c->well.pins = c->pins;
    c->well.interval_count = c->well.pin_count = 0;
    for (size_t i = 0; i < well->interval_count; ++i)
        if (!is_off(h, DT_SWITCH_INTERVAL, i))
            c->intervals[c->well.interval_count++] = well->intervals[i];
    for (size_t i = 0; i < well->pin_count; ++i)
        if (!is_off(h, DT_SWITCH_PIN, i)) c->pins[c->well.pin_count++] = well->pins[i];
    for (size_t i = 0; i < h->switches.count; ++i)
        if (h->off[i]) dt_switch_off(&h->switches.items[i], &c->well, &c->no_clearance);
    if (isfinite(h->conductor_m)) c->well.conductor.depth_m = h->conductor_m;
    if (h->tested) c->well.conductor.bop = true;
    return c;
}

/** A program of the well as changed: the first draft, or in full. *out NULL: there is none. */
static dt_status try_changed(const hunt *h, bool in_full, dt_program **out)
{
    *out = NULL;
    changed_well *c = change(h);
    if (!c) return DT_E_MEMORY;
    const dt_status status = in_full ? dt_program_plan(&c->well, h->catalogue, out, NULL)
                                     : dt_program_plan_first(&c->well, h->catalogue, out, NULL);
    if (status == DT_OK)
        (*out)->kept = c;
    else
        free(c);
    return status == DT_E_NONE || status == DT_E_INPUT ? DT_OK : status;
}

/** The cure that the refusal names first, tried by it already. */
static bool take_cure(hunt *h, const dt_notice *n)
{
    for (size_t i = 0; i < n->because_count; ++i) {
        const dt_notice *below = &n->because[i];
        const dt_figure *deeper = dt_notice_find_figure(below, "deeper");
        const dt_figure *there = dt_notice_find_figure(below, "there");
        if (below->code != DT_NOTICE_CURE_CONDUCTOR || (!deeper && !there)) continue;
        h->conductor_m = deeper ? deeper->value : there->value;
        h->tested = dt_notice_find_name(below, "tested") != NULL;
        return true;
    }
    return false;
}

/** Leaves out one thing; where none does alone, one after the other until a draft is there, and
 * then takes back what need not be left out. *found: there is one. */
static dt_status leave_out(hunt *h, bool *found)
{
    const size_t count = h->switches.count;
    dt_program *p = NULL;
    dt_status status = DT_OK;
    *found = false;
    for (size_t i = 0; i < count && status == DT_OK && !p; ++i) {
        h->off[i] = true;
        status = try_changed(h, false, &p);
        h->off[i] = p != NULL;
    }
    const bool one = p != NULL;
    for (size_t i = 0; i < count && status == DT_OK && !p; ++i) {
        h->off[i] = true;
        status = try_changed(h, false, &p);
    }
    *found = p != NULL;
    dt_program_free(p);
    for (size_t i = 0; i < count && status == DT_OK && *found && !one; ++i) {
        if (!h->off[i]) continue;
        h->off[i] = false;
        status = try_changed(h, false, &p);
        h->off[i] = !p;
        dt_program_free(p);
    }
    return status;
}

/** What was changed, as reasons below. */
static void note_changes(const hunt *h, dt_notices *list, dt_notice *n)
{
    static const char *const marks[] = {
        [DT_SWITCH_TRIP] = "trip",           [DT_SWITCH_COLLAPSE] = "collapse",
        [DT_SWITCH_CLEARANCE] = "clearance", [DT_SWITCH_COMPLETION] = "completion",
        [DT_SWITCH_LOADS] = "loads",         [DT_SWITCH_PIN] = "pin"};
    const dt_well *well = h->well;
    if (isfinite(h->conductor_m)) {
        dt_notice *c = dt_notice_below(list, n, DT_NOTICE_NEAREST_CONDUCTOR);
        dt_notice_mark(c, "tested", h->tested);
        dt_notice_figure(c, "shoe_tvd", DT_KIND_LENGTH, h->conductor_m);
        if (c) c->line = well->conductor.line;
    }
    for (size_t i = 0; i < h->switches.count; ++i) {
        const dt_switch *item = &h->switches.items[i];
        if (!h->off[i]) continue;
        dt_notice *c = dt_notice_below(list, n, DT_NOTICE_NEAREST_WITHOUT);
        if (item->kind == DT_SWITCH_RULE) dt_notice_name(c, "rule", dt_rule_code(item->rule));
        if (item->kind < COUNT_OF(marks) && marks[item->kind])
            dt_notice_mark(c, marks[item->kind], true);
        if (item->kind == DT_SWITCH_FRESH_WATER) {
            dt_notice_figure(c, "fresh_water", DT_KIND_LENGTH, well->fresh_water_m);
            if (c) c->line = well->fresh_water_line;
        } else if (item->kind == DT_SWITCH_INTERVAL) {
            dt_notice_name(c, "interval", well->intervals[item->index].name);
            if (c) c->line = well->intervals[item->index].line;
        } else if (item->kind == DT_SWITCH_PIN) {
            dt_notice_name(c, "role", dt_role_text(well->pins[item->index].role));
            if (c) c->line = well->pins[item->index].line;
        }
    }
}

/** Why the well has no program as it is asked: the reasons of the refusal, cures left out. */
static void note_why(dt_program *p, dt_notice *n, const dt_notice *why)
{
    const bool seats = why->code == DT_NOTICE_NO_SEATS;
    if (!seats) {
        dt_notice_copy_of_other(&p->notices, n, why);
        return;
    }
    for (size_t i = 0; i < why->because_count; ++i)
        dt_notice_copy_of_other(&p->notices, n, &why->because[i]);
}

/** Says before all else that this is not what was asked for. */
static dt_status note_nearest(const hunt *h, const dt_refusal *refusal, dt_program *p)
{
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_NEAREST_PROGRAM, DT_NO_STRING);
    note_changes(h, &p->notices, n);
    dt_notice *asked = dt_notice_add(&p->notices, DT_NOTICE_AS_ASKED_REFUSED, DT_NO_STRING);
    const dt_notice *why = refusal->why.count > 0 ? &refusal->why.items[0] : NULL;
    for (size_t i = 0; why && i < why->because_count; ++i)
        if (why->because[i].code != DT_NOTICE_CURE_CONDUCTOR &&
            why->because[i].code != DT_NOTICE_CURE_KICK)
            note_why(p, asked, &why->because[i]);
    if (p->notices.failed) return DT_E_MEMORY;
    enum { SAID = 2 };
    dt_notice first[SAID], *items = p->notices.items;
    memcpy(first, &items[p->notices.count - SAID], sizeof first);
    memmove(&items[SAID], items, (p->notices.count - SAID) * sizeof *items);
    memcpy(items, first, sizeof first);
    return DT_OK;
}

dt_status dt_program_plan_nearest(const dt_well *well, const dt_catalogue *catalogue,
                                  const dt_refusal *refusal, dt_program **out)
{
    hunt h = {.well = well, .catalogue = catalogue, .conductor_m = NAN};
    bool found = false;
    dt_program *p = NULL;
    dt_status status = dt_switches_list(well, &h.switches);
    if (status == DT_OK) {
        put_in_order(&h.switches);
        h.off = calloc(h.switches.count + 1, sizeof *h.off);
        if (!h.off) status = DT_E_MEMORY;
    }
    if (status == DT_OK && refusal->why.count > 0) found = take_cure(&h, &refusal->why.items[0]);
    if (status == DT_OK && !found) status = leave_out(&h, &found);
    if (status == DT_OK && !found) status = DT_E_NONE;
    if (status == DT_OK) status = try_changed(&h, true, &p);
    if (status == DT_OK && !p) status = DT_E_NONE;
    if (status == DT_OK) status = note_nearest(&h, refusal, p);
    if (status == DT_OK)
        *out = p;
    else
        dt_program_free(p);
    free(h.off);
    dt_switches_free(&h.switches);
    return status;
}
