/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PRESSURE_H
#define DRAWTUBE_PRESSURE_H

#include "well.h"

/*
 * Pressure helpers for when points are few: fracture gradient from overburden and pore
 * pressure, leak-off tests, overburden. All gradients are equivalent mud weights in kg/m3
 * referred to one datum; every one of them is F = P + k (S - P), the methods differ in k and
 * by whole ppg in the answer, so a result is never shown without its method.
 * Formulas, sources and what is from memory: docs/pressure.md.
 */

/** The method's name as the well file spells it, "eaton"; static storage. */
const char *dt_fracture_method_text(dt_fracture_method method);
/** The method in words, for warnings and labels: "Eaton (1969)"; static storage. */
const char *dt_fracture_method_words(dt_fracture_method method);

/** k = nu / (1 - nu). Eaton (1969). NAN unless 0 <= nu <= 0.5. */
double dt_eaton_ratio(double poisson);

/** F = P + k (S - P), kg/m3: what all methods come down to. */
double dt_fracture_from_ratio(double overburden_kgm3, double pore_kgm3, double ratio);

/** Eaton (1969), kg/m3. NAN when Poisson's ratio is outside 0 to 0.5. */
double dt_fracture_eaton(double overburden_kgm3, double pore_kgm3, double poisson);

/** Matthews and Kelly (1967), kg/m3, with their matrix stress coefficient Ki. */
double dt_fracture_matthews_kelly(double overburden_kgm3, double pore_kgm3, double coefficient);

/**
 * Depth at which Ki is read: where normally pressured rock has the same matrix stress,
 * (S - P) D / (S - Pn). Matthews and Kelly divide by 0.535 psi/ft, from memory.
 */
double dt_matthews_kelly_depth(double overburden_kgm3, double pore_kgm3, double tvd_m,
                               double normal_stress_kgm3);

/** Hubbert and Willis (1957), kg/m3: k = 1/3 at the least, 1/2 at the most. */
double dt_fracture_hubbert_willis_low(double overburden_kgm3, double pore_kgm3);
double dt_fracture_hubbert_willis_high(double overburden_kgm3, double pore_kgm3);

/** Christman (1973), kg/m3: overburden summed from air, water and rock. */
double dt_fracture_christman(double overburden_kgm3, double pore_kgm3, double stress_ratio);

/** Overburden at a depth below the rig floor, kg/m3, from air gap, water and rock above it. */
double dt_overburden_offshore(double air_m, double water_m, double sea_kgm3, double rock_kgm3,
                              double tvd_m);

/**
 * Closed fits of Eaton's curves for the Gulf Coast, from memory; for about 1,000 to 20,000 ft.
 * NAN outside 300 to 6,100 m. Overburden in kg/m3, Poisson's ratio as a number.
 */
double dt_gulf_coast_overburden(double tvd_m);
double dt_gulf_coast_poisson(double tvd_m);

/** Leak-off EMW, kg/m3: mud plus surface pressure over shoe depth. */
double dt_leak_off_emw(double mud_kgm3, double surface_pa, double shoe_tvd_m);

/** Largest annular surface pressure the shoe bears with a mud (MAASP), Pa. */
double dt_leak_off_surface(double leak_off_kgm3, double mud_kgm3, double shoe_tvd_m);

/** The same after a change of mud, Pa. */
double dt_leak_off_surface_changed(double surface_pa, double old_mud_kgm3, double new_mud_kgm3,
                                   double shoe_tvd_m);

/** Pore pressure from a log, kg/m3: S - (S - Pn) ratio^exponent. Eaton (1975). */
double dt_pore_eaton(double overburden_kgm3, double normal_kgm3, double ratio, double exponent);

/**
 * Fills well->fracture by well->fracture_from, and calibrates it by the leak-off tests: the
 * part above pore pressure is multiplied by tested over computed at each test, linearly
 * between tests and constant beyond them. Does nothing when the file gives points and no test.
 * @return DT_OK; DT_E_DOMAIN when an input the method needs is missing or a test does not lie
 *         above pore pressure (the well is as it was); DT_E_MEMORY.
 */
dt_status dt_fracture_settle(dt_well *well);

/** Recomputes the points of a computed curve for changed pore pressure. For odds.h. */
void dt_fracture_follow(const dt_well *well, dt_curve *fracture);

#endif
