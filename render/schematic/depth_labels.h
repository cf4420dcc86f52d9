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

/**
 * Fills a column with as much detail (3 everything, 0 one line) and in as large a type as
 * fits between low and high. Where even one small line each is too much, the last label says
 * how many are left out.
 */
void dt_labels_fit(dt_sketch *sketch, dt_labels *labels, double low, double high,
                   void (*fill)(dt_sketch *, dt_labels *, int detail));

/** The left column: rig floor, ground or sea, fresh water, break, intervals, pay, objective. */
void dt_label_levels(dt_sketch *sketch, dt_labels *labels, int detail);

#endif
