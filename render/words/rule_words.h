/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_RULE_WORDS_H
#define DRAWTUBE_RENDER_RULE_WORDS_H

#include "seats.h"

/** A rule of seats in a few words: "mud + kick margin must stay under the fracture gradient";
 * static storage. What it came to is said by its notice. */
const char *dt_rule_words(dt_rule rule);

#endif
