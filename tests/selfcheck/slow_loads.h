/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_SLOW_LOADS_H
#define DRAWTUBE_SELFCHECK_SLOW_LOADS_H

#include "slow.h"

/** A depth that comes from an MD is this edge or step when it is nearer than that, m. */
#define EDGE_M 1e-5

/** What loads one string; Pa, m and kg/m3. NAN or false where a case is not run. */
typedef struct loads {
    const dt_well *well;
    dt_role role;
    size_t string, place; /* place: of a tie-back its liner's */
    bool tieback;
    double top_tvd, shoe_tvd, top_md, shoe_md, above_tvd;
    double mud, gas, overpull;
    bool runs[DT_LOAD_COUNT], wall; /* wall of the finished well */
    double surface_pa, broken_pa, leak_pa;
    struct {
        double top, base, mud, level; /* level: its mud may fall to */
        double net_pa;                /* most that its rock is above a column of its mud */
    } holes[CLAIM_STRINGS];           /* drilled below */
    size_t hole_count;
    double annulus_m2, bubble_pa;                     /* an influx at the surface */
    double slurry, slurry_top, displacement, bump_pa; /* slurry: the tail */
    double lead, tail_top, spacer, spacer_top;
    struct {
        double pa, fluid, base_tvd;
    } laps[CLAIM_STRINGS]; /* tests of liners that press this string */
    size_t lap_count;
    double test_pa, test_fluid, wear;
    double burst, collapse, tension, pulled, triaxial;
    double spare; /* its pipe is said to be chosen as if every load were this part larger */
    bool combined;
    bool tight; /* gas may stand on it that asks for gas-tight connections */
} loads;

/** The loads on a string of the claims. */
void loads_make(const context *c, size_t i, loads *out);

/** What a liner and its lap are tested to at the surface, and with what; false: not at all. */
bool loads_lap_test(const context *c, size_t liner, double *pa, double *fluid);

/** Pressures of a case at a TVD. */
void loads_pressures(const loads *l, dt_load which, double z, double *in, double *out);

/** Pressure of the mud a string was run in: all the way up, or with sea water on it. */
double loads_mud(const loads *l, double z);

/** Weight of a liquid from one TVD down to another; 0 above it. */
double loads_column(double density, double from, double to);

/* ---- pipe held against them ------------------------------------------------------------------ */

/**
 * The planner's bounds on the weight that may hang are straight lines over up to 100 ft, on the
 * safe side (docs/strength.md), so it may pass over a pipe that holds by next to nothing. Hanging
 * weight grows by up to 100 ft of pipe there, an axial stress of 340 psi: with it collapse pressure
 * falls by less than 0.4 %, in a line that bows by a quarter of that at most.
 */
#define CHORD_PART 1e-3

typedef struct factors {
    double factor[DT_CHECK_COUNT]; /* smallest; NAN: not looked at */
    double eased[DT_CHECK_COUNT];  /* the same with a psi taken off the load */
} factors;

/** A spot: what depends on the depth and not on the pipe. */
typedef struct spot {
    double md, z, bend, part;
    double drag_m; /* of pulling: as a length of pipe like that at the spot */
    double in[DT_LOAD_COUNT], out[DT_LOAD_COUNT];
} spot;

typedef struct spot_list {
    spot *items;
    size_t count;
} spot_list;

/** One case on one pipe at one spot, with a weight hanging below it: factors seen are kept. */
void slow_hold_case(const loads *l, dt_load which, const strength *s, const spot *at,
                    double hanging_n, factors *seen);
double slow_needed(const loads *l, int check);
/** Every factor at least what is needed, and by a part more. */
bool slow_holds(const loads *l, const factors *s, double part);
/** Every few metres, where a curve, a fluid, a section or the hole bends, and at more depths along
 * the hole. Items are freed by the caller. */
bool slow_spots_make(const context *c, const loads *l, const double *more, size_t more_count,
                     spot_list *out);
/** Limits of tapering, by the well or its basis. */
double slow_most_sections(const context *c, const loads *l);
double slow_least_section(const dt_well *w);
/** May pipe be bought for a string, in its size, so that it seals what it must, and in a sour well
 * stand anywhere in it? stocked: of that which is commonly stocked. */
bool slow_offered(const context *c, const loads *l, const row_pipe *row, const char *grade,
                  dt_thread thread, bool stocked);
/** Is a string of stocked pipe alone, where that is tried first? */
bool slow_of_stock(const context *c, size_t i);
/** Is there a cheaper string, with ends of sections on a coarse grid? */
void check_taper(const context *c, const loads *l);

#endif
