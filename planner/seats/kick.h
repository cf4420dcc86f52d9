/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_KICK_H
#define DRAWTUBE_KICK_H

#include "kick_assembly.h"
#include "trajectory.h"
#include "window.h"

/*
 * Kick tolerance: the largest influx that can be shut in and circulated out without
 * breaking the weak point. Single bubble. Formulas, sources, conventions: docs/kick.md.
 */

typedef struct dt_influx_case {
    double weak_tvd_m, bottom_tvd_m;
    double mud_kgm3;
    double formation_kgm3; /* EMW of the pressure met at the bottom */
    double limit_pa;       /* what the weak point bears */
    double influx_kgm3;
    dt_kick_assembly assembly;
    dt_gas_law law;
    double weak_k, bottom_k; /* temperatures, real gas law only */
    double gas_gravity;      /* to air, real gas law only */
} dt_influx_case;

typedef struct dt_kick_result {
    double tolerance_m3; /* the smaller of the two volumes, measured at the bottom; >= 0 */
    double height_m;     /* bubble the weak point bears, vertical; below 0 when it bears none */
    double bottom_m3;    /* that height filled from the bit up */
    double weak_m3;      /* that height below the weak point, drill pipe in it */
    double weak_at_bottom_m3; /* the same gas at the bottom */
    double weak_tvd_m;
    bool by_expansion; /* the bubble at the weak point governs, not the one at the bottom */
    bool whole_hole;   /* gas in the whole open hole does no harm: the true figure is larger */
} dt_kick_result;

/**
 * Kick tolerance of one case. The trajectory may be NULL (vertical): heights are vertical,
 * volumes are taken along the hole.
 * @return DT_OK; DT_E_DOMAIN when a value is not finite, the bottom is not below the weak
 *         point, pipe does not go into the hole, or the influx is not lighter than the mud.
 */
dt_status dt_kick_tolerance(const dt_influx_case *c, const dt_trajectory *trajectory,
                            dt_kick_result *out);

/** Tolerance as an intensity with no influx volume, kg/m3: (fracture - mud) shoe / bottom. */
double dt_kick_zero_gain(double fracture_kgm3, double mud_kgm3, double shoe_tvd_m,
                         double bottom_tvd_m);

/** Largest casing pressure while a gas kick is circulated out of water mud, Pa (0.2 sqrt(PVW/C)).
 */
double dt_kick_circulating_pressure(double formation_pa, double volume_m3, double mud_kgm3,
                                    double capacity_m3m);

/**
 * Deviation factor of natural gas, Dranchuk and Abou-Kassem (1975) with pseudo-critical
 * values of Sutton (1985); both from memory. NAN outside 0 < reduced pressure <= 30,
 * 1 < reduced temperature <= 3.
 */
double dt_kick_gas_z(double pressure_pa, double temperature_k, double gravity);
/** The same from reduced pressure and temperature. */
double dt_kick_gas_z_reduced(double reduced_pressure, double reduced_temperature);

/**
 * Kick tolerance of the hole from top_m to base_m with a mud: the least over every exposed
 * weak point. The well says intensity, influx, margin and gas law (docs/kick.md has the
 * defaults). DT_OK or DT_E_DOMAIN as above.
 */
dt_status dt_kick_section(const dt_window *window, const dt_trajectory *trajectory,
                          const dt_kick_assembly *assembly, double top_m, double base_m,
                          double mud_kgm3, dt_kick_result *out);

/** A hole under a BOP. */
typedef struct dt_kick_hole {
    const dt_kick_assembly *assembly;
    double top_m, base_m, mud_kgm3;
} dt_kick_hole;

/**
 * The same with an intensity that is given. The formation stands the intensity over the mud less
 * the trip margin, which holds that much of it: over the highest pore pressure of the hole, where
 * that sets the mud.
 */
dt_status dt_kick_of_hole(const dt_window *window, const dt_trajectory *trajectory,
                          const dt_kick_hole *hole, double intensity_kgm3, dt_kick_result *out);

/** One point of the curve of tolerance against depth while the section is drilled. */
typedef struct dt_kick_point {
    double tvd_m, tolerance_m3;
    bool whole_hole;
} dt_kick_point;

/**
 * Tolerance at `count` depths, evenly spaced from a little below top_m to base_m, the mud of
 * the whole section in the hole. DT_OK or DT_E_DOMAIN.
 */
dt_status dt_kick_curve(const dt_window *window, const dt_trajectory *trajectory,
                        const dt_kick_assembly *assembly, double top_m, double base_m,
                        double mud_kgm3, size_t count, dt_kick_point *out);

/** Length of hole that an influx takes up from the bit, m. */
double dt_kick_length(const dt_kick_assembly *assembly, double volume_m3);

/** Volume of a length filled from the bit up; of the same length round the pipe alone. m3. */
double dt_kick_from_bit_up(const dt_kick_assembly *assembly, double length_m);
double dt_kick_round_pipe(const dt_kick_assembly *assembly, double length_m);

/** A hole that an influx is met in, for the rules of seats. */
typedef struct dt_hole_kick {
    const dt_kick_assembly *assembly;
    double intensity_kgm3; /* of the formation over the highest pore pressure of the hole */
    double base_m, mud_kgm3;
} dt_hole_kick;

/**
 * The influx that an exposed depth bears in a hole, measured at the bottom, by one bubble of gas at
 * the bit and at that depth: INFINITY where the hole below it full of gas does no harm, negative
 * where it bears none. The formation is the intensity over the mud less the trip margin: over the
 * highest pore pressure, where that sets the mud. Vertical, Boyle.
 */
double dt_kick_hole_volume(const dt_well *well, const dt_hole_kick *hole, double weak_m,
                           double fracture_kgm3);

/**
 * The volume the seat rule reckons with, at one exposed depth of a section: vertical, Boyle,
 * monotonic under shortening (docs/seats.md). Negative when the depth bears no influx at all.
 */
double dt_kick_seat_volume(const dt_well *well, double weak_m, double fracture_kgm3, double base_m,
                           double mud_kgm3);

#endif
