/* SPDX-License-Identifier: MIT */
#include "moved_math.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

unsigned moved_math = 0;

static uint64_t bits_of(double x)
{
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

/** A third of all results goes up, a third down; exact ones stay, as they do in every library. */
static double moved(double result, double x, double y, unsigned which)
{
    if (!moved_math || x == 0 || result == 0 || result == 1 || result == -1 || !isfinite(result))
        return result;
    uint64_t h = bits_of(x) * 0x9e3779b97f4a7c15u ^ bits_of(y) * 0xc2b2ae3d27d4eb4fu;
    h += (uint64_t)moved_math * 0x165667b19e3779f9u + which;
    h = (h ^ h >> 31) * 0xbf58476d1ce4e5b9u;
    h = (h ^ h >> 29) * 0x94d049bb133111ebu;
    const unsigned way = (unsigned)((h ^ h >> 32) % 3);
    return way == 0 ? result : nextafter(result, way == 1 ? INFINITY : -INFINITY);
}

#define MOVED_ONE(name, number)                                                                    \
    double __real_##name(double x);                                                                \
    double __wrap_##name(double x);                                                                \
    double __wrap_##name(double x)                                                                 \
    {                                                                                              \
        return moved(__real_##name(x), x, 0, number);                                              \
    }
#define MOVED_TWO(name, number)                                                                    \
    double __real_##name(double x, double y);                                                      \
    double __wrap_##name(double x, double y);                                                      \
    double __wrap_##name(double x, double y)                                                       \
    {                                                                                              \
        return moved(__real_##name(x, y), x, y, number);                                           \
    }

MOVED_ONE(sin, 1)
MOVED_ONE(cos, 2)
MOVED_ONE(tan, 3)
MOVED_ONE(asin, 4)
MOVED_ONE(acos, 5)
MOVED_ONE(tanh, 6)
MOVED_ONE(exp, 7)
MOVED_ONE(log, 8)
MOVED_TWO(atan2, 9)
MOVED_TWO(pow, 10)

/* What gcc makes of a sine and a cosine of one angle. */
void __wrap_sincos(double x, double *sine, double *cosine);
void __wrap_sincos(double x, double *sine, double *cosine)
{
    *sine = __wrap_sin(x);
    *cosine = __wrap_cos(x);
}
