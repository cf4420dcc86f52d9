/* SPDX-License-Identifier: MIT */
/* Philox 4x32-10 against known answers, read in a copy of the file that its authors publish. */
#include "cited.h"

#include "random.h"

static const cited random123 = {
    CITED_READ, "Random123, tests/kat_vectors, rows of philox4x32 10 (Salmon et al., SC11, 2011)"};
static const cited normal_law = {CITED_READ, "tables of the normal law"};

static void known_answers(void **state)
{
    (void)state;
    static const struct {
        dt_random_block counter;
        uint32_t key[2];
        uint32_t want[4];
    } rows[] = {
        {{{0, 0, 0, 0}}, {0, 0}, {0x6627e8d5u, 0xe169c58du, 0xbc57ac4cu, 0x9b00dbd8u}},
        {{{0xffffffffu, 0xffffffffu, 0xffffffffu, 0xffffffffu}},
         {0xffffffffu, 0xffffffffu},
         {0x408f276du, 0x41c83b0eu, 0xa20bc7c6u, 0x6d5451fdu}},
        {{{0x243f6a88u, 0x85a308d3u, 0x13198a2eu, 0x03707344u}},
         {0xa4093822u, 0x299f31d0u},
         {0xd16cfe09u, 0x94fdccebu, 0x5001e420u, 0x24126ea1u}},
    };
    int equal = 0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; ++i) {
        dt_random_block got = dt_random_philox(rows[i].counter, rows[i].key[0], rows[i].key[1]);
        for (int k = 0; k < 4; ++k)
            equal += got.word[k] == rows[i].want[k];
    }
    assert_cited(&random123, "words of Philox 4x32-10 that agree", "", equal, 12, 0);
}

/* Moments of a standard normal, within 4 standard errors; both halves of a pair independent. */
static void normals(void **state)
{
    (void)state;
    enum { N = 200000 };
    double sum = 0, squares = 0, fourth = 0, product = 0, below = 0;
    for (uint64_t i = 0; i < N; ++i) {
        double x[2];
        dt_random_normals(42, 0, i, 0, x);
        sum += x[0] + x[1];
        squares += x[0] * x[0] + x[1] * x[1];
        fourth += pow(x[0], 4) + pow(x[1], 4);
        product += x[0] * x[1];
        below += (x[0] < 1) + (x[1] < 1);
    }
    const double n = 2.0 * N;
    assert_within(sum / n, 0, 4 / sqrt(n));
    assert_within(squares / n, 1, 4 * sqrt(2 / n));
    assert_within(fourth / n, 3, 4 * sqrt(96 / n));
    assert_within(product / N, 0, 4 / sqrt(N));
    assert_within(below / n, dt_normal_below(1), 4 * sqrt(0.1335 / n));
    assert_cited(&normal_law, "below 1", "", dt_normal_below(1), 0.8413447460685429, 1e-15);
    assert_cited(&normal_law, "below -1.959963984540054", "", dt_normal_below(-1.959963984540054),
                 0.025, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_answers),
        cmocka_unit_test(normals),
    };
    return cmocka_run_group_tests_name("random", tests, NULL, NULL);
}
