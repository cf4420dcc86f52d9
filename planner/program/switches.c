/* SPDX-License-Identifier: MIT */
#include "switches.h"

#include <math.h>
#include <stdlib.h>

#include "hole_rules.h"
#include "same.h"

/** Has the pin of a string anything to switch off? The conductor's depth is not a rule. */
static bool pin_says(const dt_pin *pin)
{
    return pin->role != DT_CONDUCTOR &&
           (isfinite(pin->shoe_m) || isfinite(pin->hole_m) || isfinite(pin->od_m) ||
            isfinite(pin->weight_kgm) || pin->grade || pin->thread || pin->type != DT_TYPE_UNSAID);
}

dt_status dt_switches_list(const dt_well *well, dt_switches *out)
{
    bool fixed = well->margins.kick_rule == DT_KICK_FIXED;
    const bool by_size = dt_hole_rules_by_size(well); /* else the rules of holes ask nothing */
    bool influx = well->kick.given && isfinite(well->kick.seat_volume_m3);
    const struct {
        bool there;
        dt_switch item;
    } rows[] = {
        {true, {DT_SWITCH_RULE, DT_RULE_MUD_LIMIT, 0}},
        {true, {DT_SWITCH_RULE, fixed ? DT_RULE_KICK_FIXED : DT_RULE_KICK_DEPTH_RATIO, 0}},
        {well->sticking.given, {DT_SWITCH_RULE, DT_RULE_STICKING_NORMAL, 0}},
        {well->sticking.given, {DT_SWITCH_RULE, DT_RULE_STICKING_ABNORMAL, 0}},
        {influx, {DT_SWITCH_RULE, DT_RULE_INFLUX_VOLUME, 0}},
        {by_size, {DT_SWITCH_RULE, DT_RULE_KICK_LEAST, 0}},
        {by_size, {DT_SWITCH_RULE, DT_RULE_CIRCULATING, 0}},
        {dt_margin_given(&well->margins.drilling), {DT_SWITCH_RULE, DT_RULE_DRILLING_MARGIN, 0}},
        {by_size, {DT_SWITCH_RULE, DT_RULE_DIVERTER_PRESSURE, 0}},
        {by_size, {DT_SWITCH_RULE, DT_RULE_DIVERTER_GAS, 0}},
        {by_size, {DT_SWITCH_RULE, DT_RULE_OPEN_HOLE, 0}},
        {dt_margin_given(&well->margins.trip), {DT_SWITCH_TRIP, DT_RULE_COUNT, 0}},
        {well->collapse.count > 0, {DT_SWITCH_COLLAPSE, DT_RULE_COUNT, 0}},
        {isfinite(well->fresh_water_m), {DT_SWITCH_FRESH_WATER, DT_RULE_FRESH_WATER, 0}},
        {true, {DT_SWITCH_CLEARANCE, DT_RULE_COUNT, 0}},
        {true, {DT_SWITCH_COMPLETION, DT_RULE_COUNT, 0}},
        {true, {DT_SWITCH_LOADS, DT_RULE_COUNT, 0}},
    };
    size_t row_count = COUNT_OF(rows);
    dt_switch *items = calloc(row_count + well->interval_count + well->pin_count, sizeof *items);
    if (!items) return DT_E_MEMORY;
    dt_switches list = {items, 0};
    for (size_t i = 0; i < row_count; ++i)
        if (rows[i].there) items[list.count++] = rows[i].item;
    for (size_t i = 0; i < well->interval_count; ++i)
        items[list.count++] = (dt_switch){DT_SWITCH_INTERVAL, DT_RULE_COUNT, i};
    for (size_t i = 0; i < well->pin_count; ++i)
        if (pin_says(&well->pins[i]))
            items[list.count++] = (dt_switch){DT_SWITCH_PIN, DT_RULE_PINNED, i};
    *out = list;
    return DT_OK;
}

void dt_switches_free(dt_switches *switches)
{
    if (!switches) return;
    free(switches->items);
    *switches = (dt_switches){0};
}

size_t dt_switches_find(const dt_switches *switches, dt_switch_kind kind, size_t index)
{
    for (size_t i = 0; i < switches->count; ++i)
        if (switches->items[i].kind == kind && switches->items[i].index == index) return i;
    return DT_NO_INDEX;
}

/** Design factors so small that no load governs. */
static void leave_loads_out(dt_well *copy)
{
    copy->design.burst = copy->design.collapse = copy->design.tension = 1e-9;
    copy->design.tension_pulled = copy->design.triaxial = 1e-9;
}

void dt_switch_off(const dt_switch *item, dt_well *copy, dt_clearance_row *none)
{
    switch (item->kind) {
    case DT_SWITCH_RULE:
        copy->rules_off |= dt_rule_bit(item->rule);
        break;
    case DT_SWITCH_TRIP:
        copy->margins.trip = (dt_margin){0, 0};
        break;
    case DT_SWITCH_COLLAPSE:
        copy->collapse.count = 0;
        break;
    case DT_SWITCH_FRESH_WATER:
        copy->fresh_water_m = copy->fresh_water_cover_m = NAN;
        break;
    case DT_SWITCH_COMPLETION:
        copy->min_pipe_od_m = 0;
        break;
    case DT_SWITCH_CLEARANCE:
        /* a row for every size, so that the customary table does not step in */
        *none = (dt_clearance_row){.up_to_od_m = 1e9};
        copy->sizes.clearances = none;
        copy->sizes.clearance_count = 1;
        break;
    case DT_SWITCH_LOADS:
        leave_loads_out(copy);
        break;
    case DT_SWITCH_INTERVAL:
    case DT_SWITCH_PIN:
        break; /* left out of their lists by the caller */
    }
}
