/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_DESIGNED_H
#define DRAWTUBE_PLANNER_DESIGNED_H

#include "string_design.h"

/*
 * Strings that were designed, kept to be asked for again: drafts of a well, and options of it,
 * share most of theirs. A string is found again by the very bytes of all its design reads; what it
 * reads of the well beside that is held to be the same, byte for byte, or all is forgotten.
 */

/** All that a design reads beside the well, as bytes. */
typedef struct dt_design_key {
    unsigned char *bytes; /* owned */
    size_t size, room;
    bool failed; /* out of memory */
} dt_design_key;

/** Writes bytes behind those that are there; out of memory is remembered in the key. */
void dt_design_key_add(dt_design_key *key, const void *bytes, size_t size);
/** Empties it. */
void dt_design_key_free(dt_design_key *key);

/** What was found for the key: DT_OK, with DT_OK and *out or DT_E_NONE in *status. DT_E_NONE: it
 * was not asked for yet; DT_E_MEMORY. */
dt_status dt_designed_find(dt_designed *designed, const dt_well *well,
                           const dt_catalogue *catalogue, const dt_design_key *key,
                           dt_status *status, dt_design_choice *out);

/** Keeps what was found, as long as there is room. DT_OK or DT_E_MEMORY. */
dt_status dt_designed_keep(dt_designed *designed, const dt_design_key *key, dt_status status,
                           const dt_design_choice *found);

#endif
