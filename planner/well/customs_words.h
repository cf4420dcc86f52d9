/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_CUSTOMS_WORDS_H
#define DRAWTUBE_PLANNER_CUSTOMS_WORDS_H

#include "basis.h"
#include "sentence.h"

/**
 * Appends words in which figures of the well's basis stand in braces, so that no sentence has a
 * default of its own:
 *   {design overpull}                  the value as the basis spells it, digits grouped: "100,000
 * lbf"
 *   {#rheology slurry_yp mud_yp}       its number alone, where the unit is that of the other
 * attribute {cementing by_role surface excess} a cell: of the row whose first column is that word
 * or number, in the field's unit: "100 %" {running joints = joint_length}    the same, of the row
 * that the value of that attribute chooses What is not known stays in its braces.
 */
void dt_say_customs(sentence *s, const dt_well *well, const char *form);

#endif
