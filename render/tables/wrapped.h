/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_WRAPPED_H
#define DRAWTUBE_RENDER_WRAPPED_H

#include "sentence.h"

/** Columns of a line of words on a terminal; tables take what they need. */
#define DT_LINE_COLUMNS 100

/** Breaks what was said since `start`, the begin of a line, into lines at blanks; the lines after
 * the first begin with so many blanks. Returns how many lines it made. */
size_t dt_wrap(sentence *s, size_t start, int indent);

/** Takes the blanks off the end of what was said, and ends the line. */
void dt_end_line(sentence *s);

/** A row of cells, each of its own lines one below the other; the last one is as wide as the others
 * leave room for. A width of 0 ends the list. */
void dt_say_cells(sentence *s, const char *const cells[], const int widths[]);

#endif
