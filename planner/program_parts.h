/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PROGRAM_PARTS_H
#define DRAWTUBE_PROGRAM_PARTS_H

#include "drawtube/program.h"
#include "sentence.h"

/* What the sources of the program stage share. */

/** Adds a warning; takes the text in every case. DT_OK or DT_E_MEMORY. */
dt_status dt_program_warn(dt_program *p, const char *code, const char *where, sentence *text);

/** Plans how every string is run and cemented, into p->jobs. DT_OK or DT_E_MEMORY. */
dt_status dt_program_jobs(dt_program *p);

/** What the reader must know of running and cementing. */
dt_status dt_program_warn_of_jobs(dt_program *p, dt_display display);

#endif
