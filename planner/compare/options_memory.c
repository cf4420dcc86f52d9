/* SPDX-License-Identifier: MIT */
/* What the search remembers: numbers of chains of shoes, and which pressures each pipe holds. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "options_search.h"
#include "same.h"

size_t dt_hash_bytes(const void *bytes, size_t size)
{
    const unsigned char *at = bytes;
    uint64_t mixed = 0xcbf29ce484222325u; /* FNV-1a */
    for (size_t i = 0; i < size; ++i)
        mixed = (mixed ^ at[i]) * 0x100000001b3u;
    return (size_t)(mixed ^ mixed >> 32);
}

/* Numbers of chains. */
static size_t exposure_slot(const dt_exposure *e, size_t slots)
{
    const int key[] = {e->top, e->site, e->next};
    return dt_hash_bytes(key, sizeof key) & (slots - 1);
}

static dt_status grow_exposures(dt_search *search)
{
    size_t slots = search->exposure_slots ? 2 * search->exposure_slots : 256;
    int *table = calloc(slots, sizeof *table);
    dt_exposure *items = realloc(search->exposures, slots / 2 * sizeof *items);
    if (items) search->exposures = items;
    if (!table || !items) {
        free(table);
        return DT_E_MEMORY;
    }
    for (size_t i = 0; i < search->exposure_count; ++i) {
        size_t at = exposure_slot(&items[i], slots);
        while (table[at])
            at = (at + 1) & (slots - 1);
        table[at] = (int)i + 1;
    }
    free(search->exposure_table);
    search->exposure_table = table;
    search->exposure_slots = slots;
    return DT_OK;
}

dt_status dt_exposure_number(dt_search *search, int top, int site, int next, int *out)
{
    if (2 * (search->exposure_count + 1) > search->exposure_slots &&
        grow_exposures(search) != DT_OK)
        return DT_E_MEMORY;
    dt_exposure e = {.top = top, .site = site, .next = next};
    size_t at = exposure_slot(&e, search->exposure_slots);
    for (; search->exposure_table[at]; at = (at + 1) & (search->exposure_slots - 1)) {
        const dt_exposure *known = &search->exposures[search->exposure_table[at] - 1];
        if (known->top == top && known->site == site && known->next == next) {
            *out = search->exposure_table[at];
            return DT_OK;
        }
    }
    dt_status status = dt_asks_of(search, &e, &e.asks);
    if (status != DT_OK) return status;
    search->exposures[search->exposure_count++] = e;
    search->exposure_table[at] = *out = (int)search->exposure_count;
    return DT_OK;
}

size_t dt_exposure_chain(const dt_search *search, const dt_exposure *exposure,
                         dt_string_below *below)
{
    size_t count = 0;
    while (exposure && count < DT_MOST_STRINGS) {
        below[count++] = (dt_string_below){exposure->next == DT_COVERED ? DT_FULL
                                           : exposure->next == DT_TIED  ? DT_TIEBACK
                                                                        : DT_LINER,
                                           search->sites.tvd_m[exposure->site]};
        exposure = exposure->next > 0 ? &search->exposures[exposure->next - 1] : NULL;
    }
    return count;
}

typedef struct dt_hold_entry {
    dt_hold_key key;
    dt_held *holds; /* NULL: a free slot */
} hold_entry;

static bool same_key(const dt_hold_key *a, const dt_hold_key *b)
{
    return a->conductor == b->conductor && a->type == b->type && a->top == b->top &&
           a->base == b->base && a->size == b->size && a->mud_kgm3 == b->mud_kgm3 &&
           a->role == b->role && a->pin == b->pin && a->what == b->what;
}

static size_t slot_of(const dt_hold_key *key, size_t capacity)
{
    uint64_t mud;
    memcpy(&mud, &key->mud_kgm3, sizeof mud);
    uint64_t mixed = mud ^ (key->conductor ? 1 : 0);
    const uint64_t parts[] = {(uint64_t)key->type, key->top,           key->base, key->size,
                              (uint64_t)key->role, (uint64_t)key->what};
    for (size_t i = 0; i < COUNT_OF(parts); ++i)
        mixed = (mixed ^ parts[i]) * 0x9e3779b97f4a7c15u;
    return (size_t)(mixed >> 32) & (capacity - 1);
}

static dt_status grow_memory(dt_search *search)
{
    size_t capacity = search->hold_capacity ? 2 * search->hold_capacity : 1024;
    hold_entry *bigger = calloc(capacity, sizeof *bigger);
    if (!bigger) return DT_E_MEMORY;
    for (size_t i = 0; i < search->hold_capacity; ++i) {
        if (!search->hold[i].holds) continue;
        size_t at = slot_of(&search->hold[i].key, capacity);
        while (bigger[at].holds)
            at = (at + 1) & (capacity - 1);
        bigger[at] = search->hold[i];
    }
    free(search->hold);
    search->hold = bigger;
    search->hold_capacity = capacity;
    return DT_OK;
}

dt_held *dt_holds_of(dt_search *search, const dt_hold_key *key)
{
    if (2 * search->hold_count >= search->hold_capacity && grow_memory(search) != DT_OK)
        return NULL;
    size_t at = slot_of(key, search->hold_capacity);
    for (; search->hold[at].holds; at = (at + 1) & (search->hold_capacity - 1))
        if (same_key(&search->hold[at].key, key)) return search->hold[at].holds;
    size_t count = search->choice.sizes[key->size].count;
    dt_held *fresh = malloc((count + 1) * sizeof *fresh);
    if (!fresh) return NULL;
    for (size_t i = 0; i < count; ++i)
        fresh[i] = (dt_held){-1, INFINITY};
    search->hold[at] = (hold_entry){*key, fresh};
    ++search->hold_count;
    return fresh;
}

void dt_holds_free(dt_search *search)
{
    for (size_t i = 0; i < search->hold_capacity; ++i)
        free(search->hold[i].holds);
    free(search->hold);
    free(search->exposures);
    free(search->exposure_table);
    search->hold = NULL;
    search->exposures = NULL;
    search->exposure_table = NULL;
    search->hold_count = search->hold_capacity = 0;
    search->exposure_count = search->exposure_capacity = search->exposure_slots = 0;
    dt_asks_free(search);
}
