/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_SECTION_H
#define DRAWTUBE_PLANNER_SECTION_H

#include "seats.h"

/**
 * How much room a section has: the least spare of all its rules in units of each rule's kind,
 * below 0 exactly when dt_section_test() finds it broken. For closing in on a limit: between
 * two breaks it is continuous in the moving end.
 */
double dt_section_spare(const dt_window *window, const dt_hole_rules *rules, double top_m,
                        double base_m);

/** Does a section keep all its rules? As dt_section_test(), but ends at the first that is broken.
 */
bool dt_section_holds(const dt_window *window, const dt_hole_rules *rules, double top_m,
                      double base_m);

/** What may turn out while a hole is drilled to the base that is planned, kg/m3. */
typedef struct dt_while_drilling {
    double leak_off_kgm3;  /* the shoe above has to bear this */
    double most_mud_kgm3;  /* no heavier mud */
    double most_pore_kgm3; /* at the base: what that mud holds; of a riserless hole NAN */
} dt_while_drilling;

/**
 * How far a hole bears what was not foreseen: the least leak-off at the shoe above with which all
 * rules hold there, and the heaviest mud with which they hold at all depths, the rest being as it
 * was planned. All NAN where the hole breaks a rule as it is.
 */
dt_while_drilling dt_section_while_drilling(const dt_window *window, const dt_hole_rules *rules,
                                            double top_m, double base_m);

/* ---- limits of one section: seats.c ---- */

/** Shallowest shoe at or below floor_m from which the hole can be taken to bottom_m, or NAN. */
double dt_seats_shallowest(const dt_window *window, const dt_hole_rules *rules, double floor_m,
                           double bottom_m);
/** Deepest bottom, at most cap_m, to which the hole below a shoe can be taken, or NAN. */
double dt_seats_deepest(const dt_window *window, const dt_hole_rules *rules, double shoe_m,
                        double cap_m);
/** Shallowest depth at or below a depth at which a shoe may stand. */
double dt_seats_out_of_avoided(const dt_window *window, double tvd_m);

#endif
