/* SPDX-License-Identifier: MIT */
#include "random.h"

#include <math.h>

#include "same.h"

enum { ROUNDS = 10 };

static dt_random_block philox_round(dt_random_block c, uint32_t key0, uint32_t key1)
{
    uint64_t a = (uint64_t)0xD2511F53u * c.word[0], b = (uint64_t)0xCD9E8D57u * c.word[2];
    return (dt_random_block){{(uint32_t)(b >> 32) ^ c.word[1] ^ key0, (uint32_t)b,
                              (uint32_t)(a >> 32) ^ c.word[3] ^ key1, (uint32_t)a}};
}

dt_random_block dt_random_philox(dt_random_block counter, uint32_t key0, uint32_t key1)
{
    for (int i = 0; i < ROUNDS; ++i) {
        counter = philox_round(counter, key0, key1);
        key0 += 0x9E3779B9u;
        key1 += 0xBB67AE85u;
    }
    return counter;
}

/** 53 bits as a number strictly between 0 and 1. */
static double unit(uint32_t high, uint32_t low)
{
    uint64_t bits = ((uint64_t)high << 21) ^ ((uint64_t)low >> 11);
    return ((double)(bits & ((UINT64_C(1) << 53) - 1)) + 0.5) / 9007199254740992.0;
}

void dt_random_normals(uint64_t seed, uint32_t stream, uint64_t index, uint32_t pair, double out[2])
{
    dt_random_block counter = {{(uint32_t)index, (uint32_t)(index >> 32), pair, stream}};
    dt_random_block r = dt_random_philox(counter, (uint32_t)seed, (uint32_t)(seed >> 32));
    /* Box and Muller (1958). */
    double radius = sqrt(-2 * log(unit(r.word[0], r.word[1])));
    double angle = 2 * PI * unit(r.word[2], r.word[3]);
    out[0] = radius * cos(angle);
    out[1] = radius * sin(angle);
}

double dt_normal_below(double x)
{
    return 0.5 * erfc(-x * 0.70710678118654752440);
}
