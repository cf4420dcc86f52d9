/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_DEPTH_LABELS_H
#define DRAWTUBE_RENDER_DEPTH_LABELS_H

#include "labels.h"
#include "schematic.h"

/*
 * Private to render/: the label columns of drawings against depth. The column on the left
 * (levels, intervals, pay) is the same in the schematic and in the window plot.
 */

/** Passes a buffer's failure on to the drawing. */
void dt_need(dt_sketch *sketch, const dt_buffer *buffer);

/** Writes the buffer's text into a label and empties the buffer. */
void dt_label_say(dt_sketch *sketch, dt_labels *labels, dt_label *label, bool bold, size_t most,
                  dt_buffer *text);

/** Heads a page: the well's name, and in lines of smaller type what is drawn; empties the buffer.
 */
void dt_title_draw(dt_sketch *sketch, size_t most_lines, dt_buffer *what);

/**
 * Fills a column with as much detail (3 everything, 0 one line) as fits between low and high.
 * Where even one line each is too much, the last label says
 * how many are left out.
 */
void dt_labels_fit(dt_sketch *sketch, dt_labels *labels, double low, double high,
                   void (*fill)(dt_sketch *, dt_labels *, int detail));

/** A depth at which a program is stopped; words say by what, for a label. */
typedef void (*dt_stop_visit)(void *context, double tvd_m, const char *words);

/** Calls visit for each depth that a stopper or a reason of one names, once each. */
void dt_each_stop(const dt_program *program, dt_stop_visit visit, void *context);

/** "NOT RUNNABLE: 2 stoppers to cure. "; nothing for a program that can be run. */
void dt_say_not_runnable(dt_buffer *text, const dt_program *program);

/** The left column: rig floor, ground or sea, fresh water, break, intervals, pay, objective, and
 * where the program is stopped. */
void dt_label_levels(dt_sketch *sketch, dt_labels *labels, int detail);

#endif
