/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_ANNULUS_H
#define DRAWTUBE_ANNULUS_H

#include "strings.h"

/*
 * The space between a string and what stands round it, from the surface to its shoe, and the
 * friction of a liquid moving in it. What cementing and running both need.
 */

/** One length of one geometry. The outer diameter is linear from top to base. */
typedef struct dt_annulus_piece {
    double top_md_m, base_md_m;
    double outer_top_m, outer_base_m; /* bore of the pipe outside, or the hole */
    double pipe_od_m, pipe_id_m;
    double pipe_kgm; /* nominal weight */
    bool open;       /* rock outside */
    bool landing;    /* the pipe the string is run on, not the string itself */
} dt_annulus_piece;

typedef struct dt_annulus {
    dt_annulus_piece *pieces; /* top down, one begins where the last ends */
    size_t count;
    double string_top_md_m; /* of the string itself: a liner's hanger */
    double above_id_m;      /* bore of what goes on from the first piece up to the rig floor: the
                               string, or the pipe it is run on where it hangs at the sea floor */
    double top_tvd_m;       /* of the annulus itself */
    double top_pressure_pa; /* on the annulus at its top: sea water over a mudline */
    double hole_m;          /* bit size of the open hole */
    double open_md_m;       /* where the open hole begins: the previous shoe */
    double shoe_md_m;
    bool by_caliper; /* the caliper log covers some of the open hole */
    /* the narrowest place of the open hole in the caliper log, the shallowest of several; line:
     * of the smaller of the readings round it, 0 where the log covers nothing of the hole */
    double narrow_md_m, narrow_m;
    int narrow_line;
} dt_annulus;

/** What the stages before have settled; all borrowed. */
typedef struct dt_stages {
    const dt_well *well;
    const dt_window *window;
    const dt_trajectory *trajectory;
    const dt_seats *seats;
    const dt_nest *nest;
    const dt_strings *strings;
    const dt_catalogue *catalogue;
    const dt_design_in_force *design;
    bool rock_alone; /* asked for what breaks the rock: surge with the shoe at depth and not on the
                        way there, nothing of the pump */
} dt_stages;

/**
 * The annulus of a string in the well as it stands when that string is run: what is inside
 * the innermost pipe of the strings before it, the hole below their shoes (bit size, or the
 * caliper log where it has readings), and above a liner the pipe it is run on.
 * @return DT_OK; DT_E_MEMORY.
 */
dt_status dt_annulus_build(const dt_stages *stages, size_t string, dt_annulus *out);
void dt_annulus_free(dt_annulus *annulus);

/** Pressure in an annulus full of one liquid at rest, Pa. */
double dt_annulus_static(const dt_annulus *annulus, double kgm3, double tvd_m);

/** The piece at a depth: the one above at a boundary. Depths outside take the end pieces. */
const dt_annulus_piece *dt_annulus_at(const dt_annulus *annulus, double md_m);

/** Outer diameter at a depth within a piece, m. */
double dt_annulus_outer(const dt_annulus_piece *piece, double md_m);

/**
 * Volume between two depths, m3, in closed form: cone of the outer side less cylinder of the
 * pipe. Open hole times 1 + excess; cased annulus too when excess_on is DT_EXCESS_ANNULUS.
 */
double dt_annulus_volume(const dt_annulus *annulus, double from_md_m, double to_md_m, double excess,
                         dt_excess_on excess_on);

/** Capacity of the pipe between two depths, m3. */
double dt_annulus_bore(const dt_annulus *annulus, double from_md_m, double to_md_m);

/** Volume of steel and of closed-end pipe between two depths, m3 (the second may be NULL). */
double dt_annulus_steel(const dt_annulus *annulus, double from_md_m, double to_md_m,
                        double *closed_m3);

/** Mud the string is run in, kg/m3: the section's, or for a conductor the minimum mud weight of its
 * hole, with a trip margin that is a pressure taken at its shoe. */
double dt_annulus_mud(const dt_stages *stages, size_t string);

/** An exposed depth and what the rock there bears. */
typedef struct dt_exposed {
    double md_m, tvd_m, fracture_pa;
    double above_pa, below_pa; /* of a step: seen from the rock above it, and from below */
    /* Down to here from the depth before, the fracture pressure is a share t of the way between the
     * two, less sag_pa t (1 - t): straight in gradient is a parabola in pressure. */
    double sag_pa;
} dt_exposed;

/**
 * The depths of the open hole of a string: its ends, every bend of the fracture gradient and of a
 * caliper log between (with the weaker side of a step) and no more than 50 m apart. A point of the
 * gradient on the straight line between its neighbours is no bend.
 * @return DT_OK with *out malloc'ed, owned by the caller; DT_E_MEMORY.
 */
dt_status dt_annulus_exposed(const dt_stages *stages, const dt_annulus *annulus, dt_exposed **out,
                             size_t *count);

/** Where an operation comes nearest to breaking the rock. */
typedef struct dt_tight_spot {
    double md_m, tvd_m;
    double pressure_pa, fracture_pa;
    double needed_pa; /* margin asked for */
    double spare_pa;  /* fracture - pressure - needed; INFINITY when nothing was looked at */
} dt_tight_spot;

/**
 * The narrowest place inside a stretch of open hole along which pressure and margin are straight,
 * from what there is at its two ends.
 * @return false when it is narrowest at an end.
 */
bool dt_tight_between(const dt_exposed *above, const dt_exposed *below,
                      const dt_tight_spot *at_above, const dt_tight_spot *at_below,
                      dt_tight_spot *out);

/** A liquid that a Bingham line describes, or a power law: shear stress k (rate of shear)^n where
 * n > 0, and then pv and yp say nothing. */
typedef struct dt_liquid {
    double density_kgm3, pv_pas, yp_pa;
    double n, k_pasn; /* k: the shear stress at 1 1/s, Pa */
} dt_liquid;

/** A power law through the readings of a rheometer at 600 and 300 turns a minute (1,022 and 511
 * 1/s), a degree of the dial taken for 1 lbf/100ft2: Lapeyrouse (2002), surge. */
void dt_power_law(double reading_600, double reading_300, double *n, double *k_pasn);

/**
 * Friction gradient in an annulus, Pa/m: the larger of laminar flow in a slot,
 * 48 pv v / gap^2 + 6 yp / gap with gap = outer - od (Bourgoyne et al., Applied Drilling
 * Engineering, SPE 1986, from memory), and turbulent flow over the slot's hydraulic diameter: of a
 * Bingham plastic Blasius, f = 0.0791 / Re^0.25 (from memory). A power law: laminar
 * 4 k [12 v (2n + 1) / (3n gap)]^n / gap (Lapeyrouse 2002, surge), turbulent f = a / Re^b, Re =
 * 24 / f of laminar flow, a = (lg n + 3.93) / 50, b = (1.75 - lg n) / 7 (a fit to Dodge and
 * Metzner, 1959, from memory). INFINITY where there is no gap; 0 at rest.
 */
double dt_friction_annulus(double outer_m, double od_m, double speed_ms, dt_liquid liquid);

/** The mud in force (density NAN): the well's power law, its Bingham figures, or those of the
 * basis. */
dt_liquid dt_mud_settle(const dt_well *well);

/** Does the well file say how the mud flows? */
bool dt_mud_stated(const dt_well *well);

/** The mud once it was thinned before pipe is run. stated: the well file says what it is, and none
 * else is tried. */
dt_liquid dt_mud_thinned(const dt_well *well, bool *stated);

/** The laminar part of it alone, Pa/m. */
double dt_friction_slot(double outer_m, double od_m, double speed_ms, dt_liquid liquid);

/**
 * Mud clinging to moving pipe, as a part of the pipe's speed: 0.275 od/outer + 0.25 laminar,
 * 0.10 od/outer + 0.41 turbulent. Source: Burkhardt (1961) as fitted by Guo and Liu, Applied
 * Drilling Circulation Systems, 2011, p. 50, eq. 2.80-2.83.
 */
double dt_clinging(double od_m, double outer_m, bool turbulent);

/**
 * Surge gradient beside closed-end pipe being lowered, Pa/m: the liquid moves at
 * speed od^2 / (outer^2 - od^2) + clinging x speed, laminar or turbulent, whichever resists
 * more.
 */
double dt_surge_gradient(double outer_m, double od_m, double pipe_speed_ms, dt_liquid liquid);

/** The same in a pipe: 32 pv v / d^2 + 16 yp / (3 d) laminar, of a power law
 * 4 k [8 v (3n + 1) / (4n d)]^n / d. */
double dt_friction_pipe(double id_m, double speed_ms, dt_liquid liquid);

#endif
