/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_WINDOW_TRIGGERS_H
#define DRAWTUBE_WINDOW_TRIGGERS_H

#include "plots.h"
#include "svg.h"

/* Private to the window plot: the bounds that the crew watches, one mark each. */

typedef enum dt_bound {
    DT_BOUND_LEAK_OFF, /* least leak-off, below a shoe */
    DT_BOUND_MUD,      /* maximum mud weight, above the base of its hole */
    DT_BOUND_PORE,     /* highest pore pressure, the same */
    DT_BOUND_COUNT
} dt_bound;

typedef struct dt_bound_mark {
    dt_bound bound;
    double tvd_m, emw_kgm3;
} dt_bound_mark;

/** "minimum leak-off for the hole below"; static storage. */
const char *dt_bound_words(dt_bound bound);

/** The bounds of each hole of a program whose well has spreads; returns how many, at most `most`.
 */
size_t dt_bound_marks(const dt_program *program, dt_bound_mark *out, size_t most);

/** One mark, told from the others by its shape: a triangle points to where a reading may lie. */
void dt_draw_bound(dt_svg *svg, dt_bound bound, double x, double y);

#endif
