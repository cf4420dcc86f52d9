/* SPDX-License-Identifier: MIT */
/* The C library's mathematics for WebAssembly, with fmax and fmin where the compiler can see into
 * them: planning asks for them in its innermost loops, and the library's are calls. The same
 * results, of the library's own rules. */
#ifndef DRAWTUBE_PAGE_MATH_H
#define DRAWTUBE_PAGE_MATH_H

#include_next <math.h>

static inline double dt_page_fmax(double a, double b)
{
    if (a > b) return a;
    if (a < b) return b;
    if (a != a) return b;
    if (b != b) return a;
    return signbit(a) ? b : a;
}

static inline double dt_page_fmin(double a, double b)
{
    if (a < b) return a;
    if (a > b) return b;
    if (a != a) return b;
    if (b != b) return a;
    return signbit(a) ? a : b;
}

#define fmax dt_page_fmax
#define fmin dt_page_fmin

#endif
