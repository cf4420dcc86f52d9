/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_ACCESSORIES_H
#define DRAWTUBE_ACCESSORIES_H

#include "centralizers.h"

/*
 * What else has to be on the rig for a string, and how tight its joints are made up.
 * Which string takes what: docs/running.md.
 */

typedef struct dt_accessory {
    const char *name; /* static storage */
    const char *note; /* static storage; NULL when there is nothing to add */
    size_t count;
    double md_m; /* where it sits; NAN when nowhere in particular */
} dt_accessory;

/** Make-up torque of one section. */
typedef struct dt_torque {
    size_t section;
    double optimum_nm, least_nm, most_nm; /* NAN: made up by position, not by torque */
} dt_torque;

typedef struct dt_accessories {
    dt_accessory *items; /* from the shoe up */
    size_t count;
    dt_torque *torques; /* one a section */
    size_t torque_count;
} dt_accessories;

/**
 * Torque of API round threads: 1 ft-lbf for each 100 lbf of joint strength, 75 to 125 % of
 * it, rounded to 10 ft-lbf. Source: API RP 5C1, 4.4, from memory; Lyons (ed.), Standard
 * Handbook of Petroleum and Natural Gas Engineering, 1996, p. 1167.
 */
void dt_round_thread_torque(double joint_n, double *optimum_nm, double *least_nm, double *most_nm);

/**
 * What goes on and into the string of an index, and the make-up torque of its sections:
 * docs/running.md.
 * @return DT_OK with *out, freed by dt_accessories_free(); DT_E_MEMORY.
 */
dt_status dt_accessories_plan(const dt_stages *stages, size_t string, const dt_cement *cement,
                              const dt_running *running, const dt_centralizing *centralizing,
                              dt_accessories *out);
void dt_accessories_free(dt_accessories *accessories);

#endif
