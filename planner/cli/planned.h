/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CLI_PLANNED_H
#define DRAWTUBE_CLI_PLANNED_H

#include "cli.h"

/* What one well and several share of plan. */

/** cli_make_plan() with the catalogue that p has already, if any. nearest: where the well is
 * refused, p->program is the one that comes nearest, if any does. */
int cli_make_plan_or_nearest(cli_options *options, cli_planned *p, bool nearest);

/** Writes all files of a program into the folder of -o; everything is drawn in memory first. */
int cli_write_outputs(const cli_options *options, cli_planned *p);

/** All the files of the program nearest to a well that was refused: where it collides is drawn. */
int cli_write_nearest(const cli_options *options, cli_planned *p);

/** Several wells, a folder each inside that of -o, and a table of what became of them. */
int cli_plan_several(cli_options *options);

/** Whether a browser is there that prints a report. */
bool cli_can_print(void);

/** A report as PDF, by such a browser. DT_E_IO where none is there, or it gives up. */
dt_status cli_print_report_pdf(const dt_text *report, dt_text *out);

#endif
