/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_WHY_WORDS_H
#define DRAWTUBE_RENDER_WHY_WORDS_H

#include "why.h"

/** A switch in words, with the figures of the well file. DT_OK with *out owned by the caller. */
dt_status dt_switch_words(const dt_switch *item, const dt_well *well, dt_display display,
                          char **out);

#endif
