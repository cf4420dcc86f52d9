/* SPDX-License-Identifier: MIT */
#include "cement_rules.h"

#include <math.h>

#include "same.h"

/* ---- tops ---- */

/** Where a zone that must be covered begins in a hole, if that is above *shallowest_m, which it
 * then becomes. */
static bool is_shallower(double zone_top_m, double zone_base_m, double top_m, double base_m,
                         double *shallowest_m)
{
    const double from_m = fmax(zone_top_m, top_m);
    if (zone_base_m <= top_m + SAME_DEPTH_M || zone_top_m >= base_m - SAME_DEPTH_M ||
        from_m >= *shallowest_m - SAME_DEPTH_M)
        return false;
    *shallowest_m = from_m;
    return true;
}

/** Top of the shallowest zone in the hole of a string that its cement must cover. */
static double shallowest_zone(const dt_well *well, double top_m, double base_m, dt_cement_end *out)
{
    double shallowest_m = base_m;
    for (size_t i = 0; i < well->pay_count; ++i)
        if (is_shallower(well->pays[i].top_m, well->pays[i].base_m, top_m, base_m, &shallowest_m))
            out->zone_pay = i;
    for (size_t i = 0; i < well->interval_count; ++i) {
        const dt_interval *bed = &well->intervals[i];
        if (!is_shallower(bed->top_m, bed->base_m, top_m, base_m, &shallowest_m)) continue;
        out->zone_interval = i;
        out->zone_pay = DT_NO_INDEX;
    }
    return shallowest_m;
}

static const dt_pin *pin_of(const dt_well *well, const dt_seats *seats, size_t string)
{
    const size_t pin = seats->items[string].pin;
    return pin < well->pin_count ? &well->pins[pin] : NULL;
}

bool dt_cement_to_surface(const dt_well *well)
{
    return dt_custom_word(well, DT_CUSTOM_CEMENTING_TO_SURFACE) == 1;
}

dt_cement_end dt_cement_end_of(const dt_well *well, const dt_seats *seats, size_t string,
                               double top_tvd_m, double shoe_tvd_m)
{
    const dt_seat *seat = &seats->items[string];
    const dt_pin *pin = pin_of(well, seats, string);
    const double ground = dt_well_ground_m(well);
    dt_cement_end end = {DT_CEMENT_NONE, NAN, DT_NO_INDEX, DT_NO_INDEX};
    const bool driven = string == 0 && well->conductor.method != DT_CONDUCTOR_DRILLED;
    if (pin && pin->cement_count && isfinite(pin->cement[0].top_m)) {
        end.rule = DT_CEMENT_PINNED;
        /* Round the first pipe there is nothing above the ground to fill. */
        end.top_tvd_m = string ? pin->cement[0].top_m : fmax(pin->cement[0].top_m, ground);
    } else if (driven && !(pin && pin->cement_count)) {
        return end;
    } else if (well->last_slotted && seat->role == DT_PRODUCTION) {
        return end;
    } else if (seat->type == DT_LINER) {
        end.rule = DT_CEMENT_TO_LINER_TOP;
        end.top_tvd_m = top_tvd_m;
    } else if (seat->role == DT_CONDUCTOR || seat->role == DT_SURFACE ||
               dt_cement_to_surface(well)) {
        end.rule = DT_CEMENT_TO_GROUND;
        end.top_tvd_m = ground;
    } else {
        end.rule = DT_CEMENT_ABOVE_SHOE;
        const double above = string ? seats->items[string - 1].shoe_m : 0;
        const double zone = shallowest_zone(well, above, shoe_tvd_m, &end);
        const double over_m =
            dt_custom_or(well, well->cementing.above_shoe_m, DT_CUSTOM_CEMENTING_ABOVE_SHOE);
        end.top_tvd_m = fmax(zone - over_m, ground);
    }
    return end;
}

/* ---- slurries ---- */

dt_slurry_spec dt_cement_slurry_or(const dt_well *well, const char *name, dt_custom otherwise)
{
    dt_slurry_spec slurry = {0};
    if (!name || !dt_slurry_find(well, name, &slurry))
        (void)dt_slurry_find(NULL, dt_custom_text(well, otherwise), &slurry);
    return slurry;
}

double dt_cement_lightest(const dt_well *well, double mud_kgm3)
{
    return mud_kgm3 + dt_custom_value_of(well, DT_CUSTOM_CEMENTING_OVER_MUD);
}

dt_slurry_spec dt_cement_tail(const dt_well *well, double mud_kgm3)
{
    dt_slurry_spec tail = dt_cement_slurry_or(well, well->cementing.tail, DT_CUSTOM_CEMENTING_TAIL);
    size_t count = 0;
    const dt_name_custom *heavier = dt_custom_rows(well, DT_TABLE_HEAVIER_TAILS, &count);
    if (well->cementing.tail) return tail;
    for (size_t i = 0; i < count; ++i)
        if (dt_less(tail.density_kgm3, dt_cement_lightest(well, mud_kgm3)))
            (void)dt_slurry_find(NULL, heavier[i].text, &tail);
    return tail;
}

double dt_cement_tail_length(const dt_well *well, double length_m)
{
    const double part = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_TAIL_PART);
    const double stated_m = well->cementing.tail_length_m;
    if (!isnan(stated_m) || !(part > 0))
        return dt_custom_or(well, stated_m, DT_CUSTOM_CEMENTING_TAIL_LENGTH);
    const double most_m = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_TAIL_MOST);
    const double least_m = dt_custom_value_of(well, DT_CUSTOM_CEMENTING_TAIL_LEAST);
    return fmax(least_m, fmin(most_m, part * length_m));
}

bool dt_cement_leads(const dt_well *well, const dt_slurry_spec *lead, double mud_kgm3)
{
    return well->cementing.lead ||
           dt_reaches(lead->density_kgm3, dt_cement_lightest(well, mud_kgm3));
}
