/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_LABELS_H
#define DRAWTUBE_RENDER_LABELS_H

#include "svg.h"

/*
 * Private to render/: blocks of text beside a drawing, in one column, each wanted at some
 * height, pushed apart until none touches another and all are on the page.
 */

#define DT_LINE_BYTES  224
#define DT_LABEL_LINES 10
#define DT_LINE_HEIGHT 1.22 /* of the type size */

/** Width of one line of text, drawing units; never less than the fonts of the stack make it. */
double dt_text_width(const char *text, double size, bool bold);

/** Copies what fits into width, with an ellipsis where something was cut. */
void dt_text_fit(const char *text, double width, double size, bool bold, char out[DT_LINE_BYTES]);

typedef struct dt_label_line {
    char text[DT_LINE_BYTES];
    bool bold;
} dt_label_line;

typedef struct dt_label {
    double target_y;   /* where the thing itself is */
    const char *color; /* of the first line */
    const char *mark;  /* colour of the leader line */
    double text_width; /* widest line */
    size_t order;      /* of arrival; decides between equal targets */
    double top;        /* set by dt_labels_place() */
    size_t line_count;
    dt_label_line lines[DT_LABEL_LINES];
} dt_label;

typedef struct dt_labels {
    dt_label *items;
    size_t count, capacity;
    bool failed;        /* memory ran out */
    double width, size; /* of the column, of the type */
} dt_labels;

void dt_labels_free(dt_labels *labels);
/** A new empty label, or NULL after a failure. Valid until the next call. */
dt_label *dt_labels_add(dt_labels *labels, double target_y, const char *color, const char *mark);
/**
 * Appends a text to a label, broken at spaces into at most `most` lines; what does not fit
 * is cut with an ellipsis. An empty text adds nothing; label NULL is allowed.
 */
void dt_label_write(const dt_labels *labels, dt_label *label, bool bold, size_t most,
                    const char *text);
/** Height the label's box takes. */
double dt_label_height(const dt_labels *labels, const dt_label *label);

/**
 * Sorts by target and sets every top so that no two boxes overlap, all lie in [low, high]
 * and the sum of squared distances from the targets is the least possible.
 * @return false when the boxes do not fit at all; tops are then not set.
 */
bool dt_labels_place(dt_labels *labels, double low, double high);

/** Draws the blocks in a column from x on; with DT_END the text ends at x + width. */
void dt_labels_draw(dt_svg *svg, const dt_labels *labels, double x, dt_anchor anchor);

#endif
