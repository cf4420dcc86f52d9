/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_WHAT_IF_H
#define DRAWTUBE_WHAT_IF_H

#include "well.h"

/**
 * Changes a well that was read and is not checked yet, by words: "fracture at 9000 ft -0.3 ppg",
 * "fresh water 2200 ft", "without Rust sand", "trip margin 0.3 ppg". Its name then says them.
 * @return DT_OK; DT_E_INPUT with *problem, a malloc'ed sentence that says what may be said;
 *         DT_E_MEMORY.
 */
dt_status dt_well_what_if(dt_well *well, const char *const *changes, size_t count, char **problem);

#endif
