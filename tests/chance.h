/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_CHANCE_H
#define DRAWTUBE_TESTS_CHANCE_H

#include <stdint.h>

/** From 0 to below 1, the same numbers on every machine: xorshift, no library generator. */
static inline double chance(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return (double)(*state >> 11) / 9007199254740992.0;
}

#endif
