/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_JOBS_TABLE_H
#define DRAWTUBE_RENDER_JOBS_TABLE_H

#include "program.h"
#include "sentence.h"

/** Private to render/: two short tables for a terminal, one line a string: cement and running. */
/** Width of the column of names. */
int dt_name_width(const dt_program *program);

void dt_say_jobs(sentence *s, const dt_program *program, dt_display display);

#endif
