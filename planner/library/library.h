/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_LIBRARY_H
#define DRAWTUBE_PLANNER_LIBRARY_H

#include <drawtube/questions.h>

#include "ratings.h"

/*
 * The public face where it differs from the rooms: handles on the heap for what the rooms keep by
 * value, and views for what they show each other in full.
 */

/** A pipe rated. The pipe's grade is the one beside it, whose name is owned. */
struct dt_rated {
    dt_grade grade;
    char *grade_name;
    dt_pipe pipe;
    dt_rating rating;
    bool loaded;
    dt_loaded_rating under; /* when loaded */
};

/** The loaded rating, or NULL when no load was stated. */
const dt_loaded_rating *dt_rated_under(const dt_rated *rated);

/** What a program that links the library sees of a pipe. */
void dt_pipe_show(const dt_pipe *pipe, dt_pipe_view *out);

/** Hands out a refusal on the heap when it is wanted and `status` has one, else frees what it
 * holds. The status, or DT_E_MEMORY. */
dt_status dt_refusal_hand(dt_status status, dt_refusal *said, dt_refusal **out);

/** Hands a malloc'ed text over to *out. */
void dt_text_take(char *bytes, dt_text *out);

#endif
