/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_SLOW_JOB_H
#define DRAWTUBE_SELFCHECK_SLOW_JOB_H

#include "slow.h"

/* One cement job, in short pieces of hole. */

typedef struct piece {
    double top, base, top_tvd, base_tvd; /* MD and TVD */
    double outer[3];                     /* at top, middle, base */
    double od, id, kgm;
    bool open, own, logged;
} piece;

typedef struct bore {
    const context *c;
    size_t string;
    double top, open, shoe, own_top, hole; /* MD; hole: bit size */
    bool logged;                           /* the caliper log covers some of the open hole */
    piece *items;
    size_t count;
    bool straight;   /* it does not buckle */
    double air_from; /* MD; below it the pipe is empty while it is let down; 0: it is full */
} bore;

typedef struct settings {
    double above, tail, excess, rathole, spacer, margin_emw, margin_pa, bump, wait;
    double mix, displace, stroke;
    double least_tail, slower; /* to which a job may be changed */
    bool tail_said;            /* its length, by the well */
    bool thin;                 /* the mud was made thinner */
    double displacing;         /* kg/m3; NAN: the mud */
    dt_test_rule test;
    double test_pa;
} settings;

/** What the job should be made of: names (NULL: one of the customary leads), tops, excess. */
typedef struct expected {
    const char *slurry[CLAIM_PARTS];
    double top[CLAIM_PARTS], excess[CLAIM_PARTS];
    bool on_all[CLAIM_PARTS];
    size_t count;
    double collar;
} expected;

typedef struct liquid {
    double density, pv, yp, top; /* MD of its top in the annulus */
    double n, k;                 /* of a power law, where n > 0 */
} liquid;

/** Friction of a power law in a slot, laminar or turbulent, Pa/m; a speed for each. */
double slow_power(const liquid *l, double gap, double slow, double fast);
/** Does the file say how the mud flows? */
bool slow_mud_stated(const dt_well *w);

/** Tail of a job of so much length that no pin places: as stated, or by that length. */
double slow_tail_length(const dt_well *w, double length);

/** TVD of the cement's top by pin or rule; NAN when not cemented. */
double slow_cement_top(const context *c, size_t i, double above_shoe, dt_cement_rule *rule);
/** Density of the tail that follows a mud, kg/m3, and of the lead; NAN: none does. */
double slow_tail_density(const context *c, double mud);
double slow_lead_density(const context *c, double mud);

/** Annulus of a piece, m3: Simpson's rule, which a cone obeys. */
double bore_ring(const piece *p, double excess, bool on_all);
/** Bore between two depths, m3. */
double bore_inside(const bore *b, double from, double to);
/** Pa/m in the annulus of a piece. */
double bore_friction(const piece *p, double rate_m3s, const liquid *l);
/** Liquids in the annulus at the end of the job, from the top down; 0: a slurry has no name. */
size_t bore_fill(const context *c, const bore *b, const expected *e, liquid *list);
/** What the planner's straight lines are off over a caliper log, m. */
double bore_bow_m(const context *c, const bore *b);
/** Largest difference between two liquids that touch, kg/m3. */
double bore_widest_step(const liquid *list, size_t n);

/** Tension at a depth of the soft string, in short pieces from the shoe up: weight, and drag where
 * the hole bends or leans. Motion: 1 pulling, -1 lowering. */
double bore_tension(const context *c, const bore *b, double mud, double fill, int motion,
                    double at_md);

/** Does the caliper log let the pipe with its couplings down? */
void check_room(const bore *b);
/** Pull that is left, and surge while it is run in, with the shoe at depth. */
void check_overpull(const bore *b, double mud);
void check_surge(const bore *b, double mud);

/** The narrowest moment of the whole job: what is left there, Pa, and what that may be off by;
 * INFINITY where it is not looked at. */
double least_left(const bore *b, const settings *s, const expected *e, double *fine);
void check_moments(const bore *b, const settings *s, const expected *e);

/** Does the annulus of a string end at the ground, and at sea at the sea floor? Round the first
 * pipe, and before a BOP stands there. */
bool to_ground(const context *c, size_t string);
/** Weight of the sea on an annulus that ends at its floor, Pa. */
double sea_on(const context *c, size_t string);
/** Mud as it is pumped or run through, thinned or not. */
liquid mud_of(const context *c, double density, bool thin);

#endif
