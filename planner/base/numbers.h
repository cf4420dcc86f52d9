/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_NUMBERS_H
#define DRAWTUBE_PLANNER_NUMBERS_H

#include <math.h>
#include <stdbool.h>

#include "same.h"

/* Small things that several stages want of plain numbers. */

/** A setting, or what holds where it was not stated (NAN). */
static inline double or_else(double value, double otherwise)
{
    return isnan(value) ? otherwise : value;
}

/** Of a circle, in m2. */
static inline double circle_area(double diameter_m)
{
    return PI / 4 * diameter_m * diameter_m;
}

/** A tube with a wall and a bore. */
static inline bool is_pipe(double od_m, double wall_m)
{
    return isfinite(od_m) && wall_m > 0 && od_m > 2 * wall_m;
}

/** For qsort() over double, the smallest first. */
static inline int by_value(const void *left, const void *right)
{
    const double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

#endif
