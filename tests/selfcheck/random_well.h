/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_RANDOM_WELL_H
#define DRAWTUBE_SELFCHECK_RANDOM_WELL_H

#include <stdint.h>

/*
 * Wells made up by a seed, as text of a well file. Structured, so that most of them have a
 * program: pressures climb, rock withstands more than it holds, conductors stand deep enough.
 */

/** X(NAME, words): what a well has in it, for the mix that is printed. */
#define FEATURE_LIST(X)                                                                            \
    X(SEA, "over the sea")                                                                         \
    X(DEVIATED, "deviated")                                                                        \
    X(LATERAL, "lateral")                                                                          \
    X(TURN, "turning in azimuth")                                                                  \
    X(METRIC, "metric units")                                                                      \
    X(STEPS, "tables with steps")                                                                  \
    X(SPREAD, "tables with spread")                                                                \
    X(PRESSURE, "tables linear in pressure")                                                       \
    X(METHOD, "fracture gradient by a method")                                                     \
    X(LEAK_OFF, "leak-off tests")                                                                  \
    X(COLLAPSE, "collapse gradient")                                                               \
    X(OVERBURDEN, "overburden")                                                                    \
    X(FRESH_WATER, "fresh water")                                                                  \
    X(CASE_OFF, "interval case-off")                                                               \
    X(CASE_ABOVE, "interval case-above")                                                           \
    X(AVOID_SHOE, "interval avoid-shoe")                                                           \
    X(SALT, "salt")                                                                                \
    X(PAY, "pay zones")                                                                            \
    X(DEPTH_RATIO, "kick rule depth-ratio")                                                        \
    X(PRESSURE_MARGIN, "margins as pressures")                                                     \
    X(STICKING, "sticking limits")                                                                 \
    X(ROUNDED, "rounded seats")                                                                    \
    X(DEEPEST, "deepest seats")                                                                    \
    X(NO_LINERS, "no liners")                                                                      \
    X(DRIVEN, "driven or jetted conductor")                                                        \
    X(COMPUTED, "conductor depth computed")                                                        \
    X(PINS, "pinned strings")                                                                      \
    X(PINNED_SHOE, "pinned shoes")                                                                 \
    X(PINNED_CEMENT, "pinned cement")                                                              \
    X(PINNED_LINER, "pinned liner")                                                                \
    X(SIZES, "clearances, opened holes, special drift")                                            \
    X(DESIGN, "design factors")                                                                    \
    X(COMBINED, "combined collapse")                                                               \
    X(SOUR, "sour")                                                                                \
    X(TAPER, "limits of tapering")                                                                 \
    X(KICK, "kick tolerance")                                                                      \
    X(SEAT_VOLUME, "influx volume for seats")                                                      \
    X(REAL_GAS, "real gas")                                                                        \
    X(LOADS, "load wishes")                                                                        \
    X(LOAD_INFLUX, "load case influx")                                                             \
    X(LOAD_LOSSES, "load case lost returns")                                                       \
    X(TEMPERATURE, "temperature")                                                                  \
    X(DERATING, "derating")                                                                        \
    X(WELLHEAD, "wellhead")                                                                        \
    X(PRICES, "prices")                                                                            \
    X(TIMES, "times")                                                                              \
    X(WISHES, "wishes")                                                                            \
    X(SLURRIES, "slurries")                                                                        \
    X(CEMENTING, "cementing wishes")                                                               \
    X(RHEOLOGY, "rheology")                                                                        \
    X(RUNNING, "running wishes")                                                                   \
    X(CALIPER, "caliper log")                                                                      \
    X(TIEBACK, "liners tied back")                                                                 \
    X(HANGERS, "liner hangers listed")                                                             \
    X(LINER_TEST, "liner-top test")                                                                \
    X(LAND, "basis of land, deep water, hot rock")                                                 \
    X(SHELF, "basis of the shelf, which prefers short holes")                                      \
    X(RULED, "basis of a regulation")                                                              \
    X(BASIS_MARGINS, "margins and circulating friction of the basis")                              \
    X(DRILLING, "drilling margin")                                                                 \
    X(DIVERTER, "diverter on the conductor")                                                       \
    X(PAST, "shoes past bad rock")                                                                 \
    X(LEAST_INFLUX, "least influx of the well's own")

typedef enum feature {
#define FEATURE_ENUM(name, words) FEATURE_##name,
    FEATURE_LIST(FEATURE_ENUM)
#undef FEATURE_ENUM
        FEATURE_COUNT
} feature;

const char *feature_words(feature which);

/**
 * The well of a seed and a number, the same on every machine. malloc'ed text, owned by the
 * caller, and bits (1 << feature) of what is in it; NULL without memory.
 */
char *random_well(uint64_t seed, uint64_t number, uint64_t *features);

#endif
