/* SPDX-License-Identifier: MIT */
#include "designed.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/** Strings that are kept at most, each some kilobytes; a power of two over twice as many slots. */
enum { MOST_KEPT = 1024, SLOTS = 4 * MOST_KEPT };

struct dt_designed_string {
    uint64_t hash;
    dt_status status; /* DT_OK or DT_E_NONE */
    dt_design_choice choice;
    size_t size;
    unsigned char key[];
};

void dt_design_key_add(dt_design_key *key, const void *bytes, size_t size)
{
    if (key->failed) return;
    if (key->size + size > key->room) {
        const size_t room = 2 * (key->size + size);
        unsigned char *bigger = realloc(key->bytes, room);
        if (!bigger) {
            key->failed = true;
            return;
        }
        key->bytes = bigger;
        key->room = room;
    }
    memcpy(key->bytes + key->size, bytes, size);
    key->size += size;
}

void dt_design_key_free(dt_design_key *key)
{
    free(key->bytes);
    *key = (dt_design_key){0};
}

/** By words of eight bytes: keys are long. */
static uint64_t hash_of(const dt_design_key *key)
{
    uint64_t mixed = 0xcbf29ce484222325u;
    for (size_t i = 0; i < key->size; i += sizeof mixed) {
        uint64_t word = 0;
        const size_t left = key->size - i;
        memcpy(&word, key->bytes + i, left < sizeof word ? left : sizeof word);
        mixed = (mixed ^ word) * 0x9e3779b97f4a7c15u;
        mixed ^= mixed >> 29;
    }
    return mixed;
}

static size_t slot_of(const dt_designed *designed, const dt_design_key *key, uint64_t hash)
{
    size_t at = (size_t)hash & (SLOTS - 1);
    for (; designed->slots[at]; at = (at + 1) & (SLOTS - 1)) {
        const struct dt_designed_string *s = designed->slots[at];
        if (s->hash == hash && s->size == key->size && memcmp(s->key, key->bytes, key->size) == 0)
            break;
    }
    return at;
}

/** The well without what no design reads of it: of these options, drafts and cures differ. */
static void strip(const dt_well *well, dt_well *out)
{
    memcpy(out, well, sizeof *out);
    out->pins = NULL; /* what a pin says of a string is in its key */
    out->pin_count = 0;
    out->last_hole_m = 0;
    out->rules_off = 0;
    memset(&out->conductor, 0, sizeof out->conductor);
    memset(&out->kick, 0, sizeof out->kick);
}

void dt_designed_free(dt_designed *designed)
{
    for (size_t i = 0; designed->slots && i < SLOTS; ++i)
        free(designed->slots[i]);
    free(designed->slots);
    free(designed->well);
    *designed = (dt_designed){0};
}

/** Makes all that is kept be of this well: what is of another is forgotten. DT_OK; DT_E_MEMORY. */
static dt_status turn_to(dt_designed *designed, const dt_well *well, const dt_catalogue *catalogue)
{
    dt_well *stripped = malloc(sizeof *stripped);
    if (!stripped) return DT_E_MEMORY;
    strip(well, stripped);
    if (designed->well && designed->catalogue == catalogue &&
        memcmp(designed->well, stripped, sizeof *stripped) == 0) {
        free(stripped);
        return DT_OK;
    }
    dt_designed_free(designed);
    designed->well = stripped;
    designed->catalogue = catalogue;
    designed->slots = calloc(SLOTS, sizeof *designed->slots);
    return designed->slots ? DT_OK : DT_E_MEMORY;
}

dt_status dt_designed_find(dt_designed *designed, const dt_well *well,
                           const dt_catalogue *catalogue, const dt_design_key *key,
                           dt_status *status, dt_design_choice *out)
{
    const dt_status turned = turn_to(designed, well, catalogue);
    if (turned != DT_OK) return turned;
    const struct dt_designed_string *s = designed->slots[slot_of(designed, key, hash_of(key))];
    if (!s) return DT_E_NONE;
    *status = s->status;
    if (s->status == DT_OK) *out = s->choice;
    return DT_OK;
}

dt_status dt_designed_keep(dt_designed *designed, const dt_design_key *key, dt_status status,
                           const dt_design_choice *found)
{
    if (!designed->slots) return DT_E_MEMORY;
    if (designed->count == MOST_KEPT) return DT_OK;
    const uint64_t hash = hash_of(key);
    const size_t at = slot_of(designed, key, hash);
    struct dt_designed_string *s = calloc(1, sizeof *s + key->size);
    if (!s) return DT_E_MEMORY;
    s->hash = hash;
    s->status = status;
    if (status == DT_OK) s->choice = *found;
    s->size = key->size;
    memcpy(s->key, key->bytes, key->size);
    free(designed->slots[at]);
    designed->count += designed->slots[at] ? 0 : 1;
    designed->slots[at] = s;
    return DT_OK;
}
