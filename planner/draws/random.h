/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RANDOM_H
#define DRAWTUBE_RANDOM_H

#include <stdint.h>

/*
 * Random numbers by counter: the n-th number is computed from n alone, so any thread may draw
 * any of them and the result never depends on who drew what.
 * Philox 4x32-10: J. Salmon, M. Moraes, R. Dror, D. Shaw, "Parallel random numbers: as easy as
 * 1, 2, 3", SC11 (2011). Constants and test vectors from memory; they agree with each other.
 */

typedef struct dt_random_block {
    uint32_t word[4];
} dt_random_block;

/** Philox 4x32-10 of a counter under a key. */
dt_random_block dt_random_philox(dt_random_block counter, uint32_t key0, uint32_t key1);

/** Two independent standard normals: number `pair` of realisation `index` of a stream. */
void dt_random_normals(uint64_t seed, uint32_t stream, uint64_t index, uint32_t pair,
                       double out[2]);

/** Chance that a standard normal is below x. */
double dt_normal_below(double x);

#endif
