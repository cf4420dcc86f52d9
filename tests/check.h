/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_CHECK_H
#define DRAWTUBE_TESTS_CHECK_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* cmocka 1.1.5 has no double comparison, and its float one passes NaN. */

/** |got - want| <= tol, false for NaN. */
#define assert_within(got, want, tol)                                                              \
    do {                                                                                           \
        double got_ = (got), want_ = (want), tol_ = (tol);                                         \
        if (!(fabs(got_ - want_) <= tol_))                                                         \
            fail_msg("%s = %.17g, want %.17g within %.3g", #got, got_, want_, tol_);               \
    } while (0)

/** Relative, and absolute under 1. */
#define assert_close(got, want, rel) assert_within(got, want, (rel)*fmax(1.0, fabs(want)))

#endif
