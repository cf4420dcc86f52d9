/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_WORDING_H
#define DRAWTUBE_RENDER_WORDING_H

#include "program.h"
#include "text.h"

/*
 * Private to render/: how the drawings say depths, sizes and strings. Each call appends.
 */

/** "9,000" or "2743.2". */
void dt_say_depth_number(dt_buffer *out, dt_display display, double depth_m);
/** "9,000 ft" or "2743.2 m". */
void dt_say_depth(dt_buffer *out, dt_display display, double depth_m);
/** "6,200 to 6,500 ft". */
void dt_say_range(dt_buffer *out, dt_display display, double top_m, double base_m);
/** "9,000 ft", or "9,412 ft MD / 9,000 ft TVD" when the well is deviated. */
void dt_say_md_tvd(dt_buffer *out, const dt_program *program, dt_display display, double md_m,
                   double tvd_m);
/** "9-5/8 in", and the size in mm behind it where people read metric. */
void dt_say_size(dt_buffer *out, dt_display display, double diameter_m);
/** "12.40 ppg". */
void dt_say_quantity(dt_buffer *out, dt_display display, dt_kind kind, double si);
/** "9-5/8 in intermediate 2 liner"; numbered where the well has more than one of the role. */
void dt_say_string(dt_buffer *out, const dt_program *program, size_t index);
/** "12-1/4 in hole", "14-3/4 in hole opened from 12-1/4 in", "driven, no hole". */
void dt_say_hole(dt_buffer *out, const dt_program *program, dt_display display, size_t index);

/** "Revision B, A. Fenwick, 2 March 2026", as far as the well file says; nothing where it does not.
 */
void dt_say_document(dt_buffer *out, const dt_well *well);

/** Whether MD and TVD differ anywhere that is drawn. */
bool dt_is_deviated(const dt_program *program);

/** Smallest of 1, 2, 5 times a power of ten that is at least `least`. */
double dt_round_step(double least);

#endif
