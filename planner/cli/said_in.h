/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CLI_SAID_IN_H
#define DRAWTUBE_CLI_SAID_IN_H

#include <drawtube/questions.h>

/*
 * Sentences are still made while planning and asking, in the units given here, so the command says
 * which. The calls of the library are the same without that, and make them in field units. This
 * header goes when sentences are made where they are written.
 */
dt_status dt_plan_said_in(const dt_well *well, const dt_catalogue *catalogue, dt_display display,
                          dt_program **out, dt_refusal **refusal);
dt_status dt_comparison_open_said_in(const dt_well *well, const dt_catalogue *catalogue,
                                     dt_display display, const dt_progress *progress,
                                     dt_comparison **out, dt_refusal **refusal);
dt_status dt_why_open_said_in(const dt_program *program, size_t index, dt_display display,
                              dt_why **out);
dt_status dt_verdict_open_said_in(const dt_program *program, const dt_wish_words *wishes,
                                  size_t count, dt_display display, dt_verdict **out,
                                  dt_wish_problem *problem);

#endif
