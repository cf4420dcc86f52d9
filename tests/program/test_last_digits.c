/* SPDX-License-Identifier: MIT */
/* No choice hangs on last digits: a well whose numbers move by a ten-million-millionth, or another
 * mathematics library, plans the same strings, seats, pipes, joints, centralizers and sacks.
 * Source: the outcome of a well decision is no matter of rounding; no figure of our own is
 * expected, each plan is held against the plan of the well as written. */
#include <stdint.h>

#include "check.h"
#include "moved_math.h"
#include "planned_text.h"
#include "random_well.h"
#include "shipped_wells.h"

/** Far over what two libraries differ by, far under every tolerance. */
#define MOVED_BY 1e-13

/** Numbers that only count something must stay whole. */
static const char *const counts[] = {"range",   "max_strings",  "max_sections",
                                     "joints",  "track_joints", "fill_joints",
                                     "samples", "seed",         "version"};

static bool is_count(const char *name, size_t length)
{
    for (size_t i = 0; i < sizeof counts / sizeof *counts; ++i)
        if (strlen(counts[i]) == length && strncmp(counts[i], name, length) == 0) return true;
    return false;
}

/** Up or down, by dice of their own for each draw. */
static double drawn_sign(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return *state >> 63 ? 1 : -1;
}

/** The text with every number in an attribute moved; malloc'ed. */
static char *moved_text(const char *text, size_t size, uint64_t draw, size_t *moved_size)
{
    uint64_t state = draw * 0x9e3779b97f4a7c15u + 1;
    char *out = malloc(4 * size + 64);
    assert_non_null(out);
    size_t used = 0;
    const char *end = text + size, *name = text;
    for (const char *at = text; at < end;) {
        if (*at == ' ' || *at == '\n' || *at == '\t') name = at + 1;
        if (at[0] != '=' || at + 1 >= end || at[1] != '"') {
            out[used++] = *at++;
            continue;
        }
        const char *value = at + 2, *close = memchr(value, '"', (size_t)(end - value));
        assert_non_null(close);
        char number[64] = {0}, *rest = number;
        const size_t length = (size_t)(close - value);
        if (length < sizeof number) memcpy(number, value, length);
        const double had = strtod(number, &rest);
        if (length && length < sizeof number && rest == number + length &&
            !is_count(name, (size_t)(at - name)))
            used += (size_t)sprintf(out + used, "=\"%.17g\"",
                                    had * (1 + drawn_sign(&state) * MOVED_BY));
        else {
            memcpy(out + used, at, (size_t)(close + 1 - at));
            used += (size_t)(close + 1 - at);
        }
        at = close + 1;
    }
    *moved_size = used;
    return out;
}

/** Draws of one text; how many of them choose otherwise. */
static size_t draws_differ(const dt_catalogue *catalogue, const char *name, const char *text,
                           size_t size, unsigned draws, bool with_options)
{
    choices_made plain = choices_of_text(catalogue, text, size, with_options);
    size_t differ = 0;
    for (unsigned draw = 1; draw <= draws; ++draw) {
        size_t moved_size = 0;
        char *moved = moved_text(text, size, draw, &moved_size);
        char said[64];
        snprintf(said, sizeof said, "numbers moved, draw %u", draw);
        choices_made other = choices_of_text(catalogue, moved, moved_size, with_options);
        differ += choices_differ(&plain, &other, name, said) > 0;
        free(other.items);
        free(moved);
        snprintf(said, sizeof said, "another library %u", draw);
        moved_math = draw;
        other = choices_of_text(catalogue, text, size, with_options);
        moved_math = 0;
        differ += choices_differ(&plain, &other, name, said) > 0;
        free(other.items);
    }
    free(plain.items);
    return differ;
}

/** DT_LAST_DIGITS=draws,wells in the environment looks further. */
static unsigned asked(int place, unsigned otherwise)
{
    const char *set = getenv("DT_LAST_DIGITS");
    if (!set) return otherwise;
    unsigned long draws = strtoul(set, NULL, 10);
    const char *comma = strchr(set, ',');
    return (unsigned)(place == 0 ? draws : comma ? strtoul(comma + 1, NULL, 10) : otherwise);
}

static void shipped_differ(bool with_options, unsigned draws)
{
    dt_catalogue catalogue;
    shipped wells[MOST_SHIPPED];
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    size_t count = shipped_wells(wells), differ = 0;
    assert_true(count > 0);
    for (size_t i = 0; i < count; ++i) {
        size_t size = 0;
        char *text = shipped_read(wells[i].path, &size);
        differ += draws_differ(&catalogue, wells[i].name, text, size, draws, with_options);
        free(text);
    }
    dt_catalogue_free(&catalogue);
    assert_int_equal(differ, 0);
}

static void test_shipped_wells(void **state)
{
    (void)state;
    shipped_differ(false, asked(0, DT_FULL_SPEED ? 2 : 1));
}

static void test_options_of_shipped_wells(void **state)
{
    (void)state;
    shipped_differ(true, 1);
}

static void test_random_wells(void **state)
{
    (void)state;
    dt_catalogue catalogue;
    assert_int_equal(dt_catalogue_load(&catalogue), DT_OK);
    size_t differ = 0;
    for (unsigned i = 0; i < asked(1, DT_FULL_SPEED ? 20 : 5); ++i) {
        uint64_t features = 0;
        char *text = random_well(5, i, &features), name[32];
        assert_non_null(text);
        snprintf(name, sizeof name, "random well %u", i);
        differ += draws_differ(&catalogue, name, text, strlen(text), asked(0, 1), false);
        free(text);
    }
    dt_catalogue_free(&catalogue);
    assert_int_equal(differ, 0);
}

/** The moved library is one: its sines are other sines, and near. */
static void test_library_is_moved(void **state)
{
    (void)state;
    unsigned other = 0;
    for (int i = 1; i < 100; ++i) {
        const double x = 0.01 * i;
        double (*volatile library)(double) = sin; /* or a compiler takes one sine for both */
        const double plain = library(x);
        moved_math = 1;
        const double moved = library(x);
        moved_math = 0;
        other += plain != moved;
        assert_true(fabs(plain - moved) <= 2.3e-16 * plain);
    }
    assert_in_range(other, 40, 90);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_library_is_moved),
        cmocka_unit_test(test_shipped_wells),
        cmocka_unit_test(test_random_wells),
        cmocka_unit_test(test_options_of_shipped_wells),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
