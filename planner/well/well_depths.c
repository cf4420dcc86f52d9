/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdlib.h>

#include "same.h"
#include "well_parts.h"

/*
 * Depths of a file that are one but for their last digits become one: an objective at 8950 ft and a
 * step of a table at 2727.96 m are meant to meet, and must not leave a sliver of the rock below to
 * be drilled. Sums that the planner takes for depths (the ground, a cover, a distance from an
 * interval) stand as they come out; what is written at such a depth is moved to it.
 */

typedef struct written {
    double tvd_m;
    double *in; /* where it stands in the model; NULL for a sum */
} written;

typedef struct depths {
    written *items;
    size_t count, room; /* room 0: they are only counted */
} depths;

static void note(depths *d, double tvd_m, double *in)
{
    if (!isfinite(tvd_m)) return;
    if (d->room) d->items[d->count] = (written){tvd_m, in};
    ++d->count;
}

static void note_written(depths *d, double *in)
{
    note(d, *in, in);
}

static void note_curve(depths *d, dt_curve *curve)
{
    for (size_t i = 0; i < curve->count; ++i)
        note_written(d, &curve->points[i].tvd_m);
}

static void note_pins(depths *d, dt_well *well)
{
    for (size_t i = 0; i < well->pin_count; ++i) {
        note_written(d, &well->pins[i].shoe_m);
        for (size_t k = 0; k < well->pins[i].cement_count; ++k)
            note_written(d, &well->pins[i].cement[k].top_m);
    }
}

static void note_sums(depths *d, const dt_well *well)
{
    note(d, dt_well_ground_m(well), NULL);
    note(d, well->fresh_water_m + well->fresh_water_cover_m, NULL);
    for (size_t i = 0; i < well->interval_count; ++i) {
        note(d, well->intervals[i].top_m - well->intervals[i].within_m, NULL);
        note(d, well->intervals[i].base_m + well->intervals[i].within_m, NULL);
    }
}

static void note_all(depths *d, dt_well *well, bool sums)
{
    note_written(d, &well->objective_m);
    note_written(d, &well->fresh_water_m);
    note_written(d, &well->conductor.depth_m);
    note_written(d, &well->kick.seat_below_m);
    note_curve(d, &well->pore);
    note_curve(d, &well->fracture);
    note_curve(d, &well->collapse);
    note_curve(d, &well->overburden);
    for (size_t i = 0; i < well->fracture_from.test_count; ++i)
        note_written(d, &well->fracture_from.tests[i].shoe_m);
    for (size_t i = 0; i < well->fracture_from.ratio_count; ++i)
        note_written(d, &well->fracture_from.ratios[i].tvd_m);
    for (size_t i = 0; i < well->interval_count; ++i) {
        note_written(d, &well->intervals[i].top_m);
        note_written(d, &well->intervals[i].base_m);
    }
    for (size_t i = 0; i < well->pay_count; ++i) {
        note_written(d, &well->pays[i].top_m);
        note_written(d, &well->pays[i].base_m);
    }
    for (size_t i = 0; i < well->thermal.count; ++i)
        note_written(d, &well->thermal.points[i].tvd_m);
    note_pins(d, well);
    if (sums) note_sums(d, well);
}

/** The shallower first; of one depth a sum, which cannot move. */
static int by_tvd(const void *left, const void *right)
{
    const written *a = left, *b = right;
    if (a->tvd_m != b->tvd_m) return a->tvd_m < b->tvd_m ? -1 : 1;
    return (a->in != NULL) - (b->in != NULL);
}

/** From one depth to the last that is the same: all become the first sum among them, or the first.
 */
static size_t join_from(depths *d, size_t first)
{
    size_t end = first + 1;
    double tvd_m = d->items[first].tvd_m;
    while (end < d->count && d->items[end].tvd_m - tvd_m <= SAME_DEPTH_M)
        ++end;
    for (size_t i = end; i-- > first;)
        if (!d->items[i].in) tvd_m = d->items[i].tvd_m;
    for (size_t i = first; i < end; ++i)
        if (d->items[i].in) *d->items[i].in = tvd_m;
    return end;
}

static bool join(dt_well *well, bool sums)
{
    depths d = {0};
    note_all(&d, well, sums);
    d.items = malloc((d.count + 1) * sizeof *d.items);
    if (!d.items) return false;
    d.room = d.count;
    d.count = 0;
    note_all(&d, well, sums);
    if (d.count) qsort(d.items, d.count, sizeof *d.items, by_tvd);
    for (size_t at = 0; at < d.count;)
        at = join_from(&d, at);
    free(d.items);
    return true;
}

dt_status dt_well_join_depths(dt_well *well)
{
    /* what is written first, since sums are made of it */
    return join(well, false) && join(well, true) ? DT_OK : DT_E_MEMORY;
}
