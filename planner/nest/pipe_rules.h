/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PIPE_RULES_H
#define DRAWTUBE_PIPE_RULES_H

#include "catalogue.h"
#include "well.h"

/*
 * Which pipe the trade would buy for a string: connections, grades and stock. One home, since the
 * nest, the design of a string and the search for options must agree. docs/strength.md.
 */

/** Is the pipe with this thread one that the well's basis would run as a string of this role? A pin
 * (NULL: none) or a price that names the grade or the thread allows it whatever the basis says. */
bool dt_pipe_rules_allow(const dt_well *well, dt_role role, const dt_pin *pin, const dt_pipe *pipe,
                         dt_thread thread);

/** May any string of the well be of this pipe and thread, pins considered? */
bool dt_pipe_rules_ever(const dt_well *well, const dt_pipe *pipe, dt_thread thread);

/** Are stocked pipes tried before all others? */
bool dt_stock_first(const dt_well *well);

/** Is the pipe with this thread on the list of commonly stocked pipe? A connection that the user's
 * own file states is. */
bool dt_pipe_stocked(const dt_well *well, const dt_pipe *pipe, dt_thread thread);

/**
 * Below this depth, m, a grade may meet hydrogen sulphide: 0 for grades of any temperature,
 * INFINITY where it never may. Warmth counts where the basis follows it and the well states
 * temperatures.
 */
double dt_grade_sour_below(const dt_well *well, const dt_grade *grade);

/** Does gas at this pressure on a string, Pa (NAN: none), ask for a gas-tight connection? Gas that
 * may be a pay's does in a sour well. */
bool dt_gas_tight_asked(const dt_well *well, double gas_pa, bool of_pay);

#endif
