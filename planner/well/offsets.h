/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_WELL_OFFSETS_H
#define DRAWTUBE_PLANNER_WELL_OFFSETS_H

#include "well.h"

/* From what was seen in offset wells to pore and fracture points of this one, with their spread:
 * docs/offsets.md. Equivalent densities below the ground, y = (p - p_water) / (g z), are moved from
 * well to well; z is the depth below ground or sea floor in m. */

/** A value at a depth below the ground and how well it is known. */
typedef struct dt_offset_value {
    double rock_kgm3, sd_kgm3; /* equivalent density below the ground; one standard deviation */
    uint64_t wells;            /* bit of each offset well that made it */
    bool beyond;               /* deeper than anything those wells saw */
} dt_offset_value;

/** Depth of a reading below the ground of its well, m. */
double dt_offset_below_m(const dt_offset *offset, const dt_offset_reading *reading);

/** Equivalent density below the ground of a reading, kg/m3; the water weighs as over this well. */
double dt_offset_rock_kgm3(const dt_well *well, const dt_offset *offset,
                           const dt_offset_reading *reading);

/** Where a reading stands in this well: depth below its rig floor, m, and EMW from there (NAN for a
 * seat). */
double dt_offset_here_m(const dt_well *well, const dt_offset *offset,
                        const dt_offset_reading *reading);
double dt_offset_here_kgm3(const dt_well *well, const dt_offset *offset,
                           const dt_offset_reading *reading);

/**
 * Fits the trend of leak-offs (and losses) against depth to all offset wells of the model.
 * @return DT_OK; DT_E_DOMAIN without a leak-off or with fewer than the basis asks for.
 */
dt_status dt_offset_trend_fit(const dt_well *well, dt_offset_trend *out);

/** What the trend says of the fracture gradient at a depth below the ground. */
dt_offset_value dt_offset_fracture(const dt_well *well, const dt_offset_trend *trend,
                                   double below_m);

/** What muds and kicks say of the pore pressure at a depth below the ground; wells 0: nothing. */
dt_offset_value dt_offset_pore(const dt_well *well, double below_m);

/** Deepest reading that tells of the pore pressure or, of a leak-off, of fracture; m below the
 * ground. */
double dt_offsets_deepest_m(const dt_well *well, bool pore);

/** Whether the offset wells have what a table is made of. */
bool dt_offsets_say_pore(const dt_well *well);

/**
 * Makes the tables that the well file does not state (count 0, and for the fracture gradient no
 * method) of the offset wells.
 * @return DT_OK, DT_E_MEMORY; DT_E_DOMAIN where the offsets do not do, and no table is made.
 */
dt_status dt_offsets_settle(dt_well *well);

#endif
