/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SLURRIES_H
#define DRAWTUBE_SLURRIES_H

#include <stdbool.h>
#include <stddef.h>

/*
 * The built-in cement slurries of planner/catalogue/slurries.csv (sources there).
 */

/** A slurry as it is bought and mixed, per sack. */
typedef struct dt_slurry_spec {
    const char *name; /* borrowed from the well or static */
    double density_kgm3;
    double yield_m3; /* slurry a sack makes */
    double water_m3; /* mix water a sack takes; NAN when not stated */
    double sack_kg;
    bool built_in;
} dt_slurry_spec;

/** How many slurries are built in. */
size_t dt_slurry_built_in_count(void);

/** The built-in slurry of an index below the count, and its recipe (may be NULL):
 * "cem=94;gel=3.76@2.65". */
dt_slurry_spec dt_slurry_built_in(size_t index, const char **mix);

/**
 * Density and yield by absolute volume: mass and volume of the sack's solids and water.
 * Source: Lapeyrouse, Formulas and Calculations for Drilling, Production and Workover,
 * 2nd ed. 2002, pp. 48-49.
 * @param[in] mass_kg, density_kgm3  of each solid; count solids.
 */
void dt_slurry_mix(const double *mass_kg, const double *density_kgm3, size_t count, double water_m3,
                   double water_kgm3, double *density_out_kgm3, double *yield_m3);

#endif
