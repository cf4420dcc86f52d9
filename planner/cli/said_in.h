/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CLI_SAID_IN_H
#define DRAWTUBE_CLI_SAID_IN_H

#include <drawtube/questions.h>

/*
 * Sentences of options are still made while they are compared, in the units given here, so the
 * command says which. dt_comparison_open() is the same, in field units. This header goes when the
 * sentences are made where they are written.
 */
dt_status dt_comparison_open_said_in(const dt_well *well, const dt_catalogue *catalogue,
                                     dt_display display, const dt_progress *progress,
                                     dt_comparison **out, dt_refusal **refusal);

#endif
