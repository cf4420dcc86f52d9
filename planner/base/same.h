/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_SAME_H
#define DRAWTUBE_PLANNER_SAME_H

#include <math.h>
#include <stdbool.h>

#include "units.h"

/*
 * What counts as the same, and small things said once. Private to planner/ and render/. A tolerance
 * that two files share stands here with its reason; one that a method alone needs (how closely a
 * halving stops, what print rounds to) stands beside the method.
 */

#define PI 3.14159265358979323846

/** Elements of an array (of the array itself: a pointer to it has lost their number). */
#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

/** Steel of 490 lb/ft3, handbook value. */
#define HANDBOOK_STEEL_KGM3 7850.0

/* ---- the same thing, written or reckoned twice ---- */

/** Half the last digit that catalogues print of a diameter (0.001 in). */
#define SAME_DIAMETER_IN 0.0005
#define SAME_DIAMETER_M  (SAME_DIAMETER_IN * DT_M_PER_IN)

/** Half the last digit that catalogues print of a weight (0.01 lb/ft). */
#define SAME_WEIGHT_KGM (0.005 * DT_KGM_PER_LBFT)

/**
 * Depths, along the hole or vertical: over what a turn into MD and back or a change of units leaves
 * (1e-12 of a depth), under what any drawing or table shows.
 */
#define SAME_DEPTH_M 1e-6

/** Depths of a list of looks: nothing is looked at twice, and no step between them is lost. */
#define SAME_LOOK_M  1e-9
#define SAME_LOOK_M3 1e-9

/* ---- choices that no last digit decides ---- */

/**
 * Two reckonings of one quantity (another order, another mathematics library, another unit) differ
 * by 1e-13 or so of it; what differs by less than this part is a tie, and a tie goes to a stated
 * order. Far under any printed digit.
 */
#define TIE 1e-9

/** The same for pressures left over, which are small differences of large ones (1e8 Pa). */
#define TIE_PA 1e-3

/** The same for densities left over, differences of some 1e3 kg/m3. */
#define TIE_KGM3 1e-6

/** Forces left over, differences of some 1e7 N; and weights hanging, sums of one string. */
#define TIE_N         1e-2
#define TIE_HANGING_N 5e-7

/** Prices of strings: under the 1e-9 that a plainer thread is preferred by. */
#define TIE_PRICE 1e-11

/** Rock and steel of a path of strings: a thousandth of a litre or of a gram prefers none. */
#define TIE_M3 1e-6
#define TIE_KG 1e-6

/**
 * Sums of the same terms in another order: what proofs of exactness compare by. Nearer than TIE, as
 * a search that keeps everything within TIE would keep all that is a thread dearer.
 */
#define SAME_SUM 1e-12

/** A bound is loosened by this part: rounding never makes it cut what holds, if but by a tie. */
#define BOUND_SLACK (4 * TIE)

/**
 * How near to a whole number, or to a half, a reckoned number is one: over what reckoning leaves,
 * and under what SAME_DEPTH_M is of any rounding step.
 */
static inline double dt_whole_width(double x)
{
    return 1e-9 + SAME_SUM * fabs(x);
}

/** The least whole number not less than x but for a tie: a length of 10.0000000001 joints is ten.
 */
static inline double dt_count_up(double x)
{
    return ceil(x - dt_whole_width(x));
}

/** The largest whole number not more than x but for a tie: 9.9999999999 joints are ten. */
static inline double dt_count_down(double x)
{
    return floor(x + dt_whole_width(x));
}

/** The nearest whole number; halves go away from 0, and what is a half but for a tie is one. */
static inline double dt_nearest(double x)
{
    return copysign(floor(fabs(x) + 0.5 + dt_whole_width(x)), x);
}

/** A factor of safety to two decimals. Never rounded up: what is asked for is reached or it is not.
 */
static inline double dt_shown_factor(double factor)
{
    return floor(factor * 100 + 1e-4) / 100;
}

/** Is a less than b by more than a tie? width: what counts as one, in their unit. False for NAN. */
static inline bool dt_less_by(double a, double b, double width)
{
    return a < b && (isinf(a) || isinf(b) || b - a > width);
}

/** The same, of quantities whose own size says how closely they are known. */
static inline bool dt_less(double a, double b)
{
    return dt_less_by(a, b, TIE * fmax(fabs(a), fabs(b)));
}

/** Neither is less than the other; false for NAN. Not transitive: no key to sort by. */
static inline bool dt_same(double a, double b)
{
    return (a <= b && !dt_less(a, b)) || (b <= a && !dt_less(b, a));
}

/** a >= b but for a tie: does what there is reach what is asked for? False for NAN. */
static inline bool dt_reaches(double a, double b)
{
    return a >= b || (a < b && !dt_less(a, b));
}

#endif
