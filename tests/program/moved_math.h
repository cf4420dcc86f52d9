/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_MOVED_MATH_H
#define DRAWTUBE_TESTS_MOVED_MATH_H

/*
 * Another mathematics library, as far as a program may notice: the linker sends sin, cos and their
 * like here (--wrap), and a result may be the neighbour of the double that the library gives. Which
 * way it goes hangs on the argument alone, so that equal calls stay equal.
 */

/** 0: the library's own results. Else a library of its own for each number. */
extern unsigned moved_math;

#endif
