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

/** The first chain that asks the same of a string that ends at the same shoe, or a free slot. */
static int *like_slot(const dt_exposure *items, int *table, size_t slots, const dt_exposure *e)
{
    const dt_asks *a = &e->asks;
    const double key[] = {e->top, a->kind, a->gas_pa, a->level_m, a->inside_pa};
    size_t at = dt_hash_bytes(key, sizeof key) & (slots - 1);
    for (; table[at]; at = (at + 1) & (slots - 1)) {
        const dt_exposure *known = &items[table[at] - 1];
        if (known->top == e->top && known->asks.wall == a->wall && dt_asks_same(&known->asks, a))
            break;
    }
    return &table[at];
}

static dt_status grow_exposures(dt_search *search)
{
    size_t slots = search->exposure_slots ? 2 * search->exposure_slots : 256;
    int *table = calloc(slots, sizeof *table), *like = calloc(slots, sizeof *like);
    dt_exposure *items = realloc(search->exposures, slots / 2 * sizeof *items);
    if (items) search->exposures = items;
    if (!table || !like || !items) {
        free(table);
        free(like);
        return DT_E_MEMORY;
    }
    for (size_t i = 0; i < search->exposure_count; ++i)
        if (items[i].like == (int)i + 1) *like_slot(items, like, slots, &items[i]) = (int)i + 1;
    free(search->like_table);
    search->like_table = like;
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
    const size_t slots = search->exposure_slots;
    int *like = like_slot(search->exposures, search->like_table, slots, &e);
    if (!*like) *like = (int)search->exposure_count + 1;
    e.like = *like;
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

struct dt_known {
    /* by slot of a hash table: the chain's number plus one, 0 where it is free; and answers */
    int *chains;
    unsigned char *answers; /* [slot * offer_count + offer] */
    size_t chain_count, slots;
    size_t offer_count;
    dt_held held[]; /* by offer */
};

dt_held *dt_known_held(dt_known *known)
{
    return known->held;
}

/** The slot of a chain, or the free one where it belongs. */
static size_t chain_slot(const dt_known *known, int chain)
{
    size_t at = (uint32_t)chain * 0x9e3779b1u & (known->slots - 1);
    while (known->chains[at] && known->chains[at] != chain)
        at = (at + 1) & (known->slots - 1);
    return at;
}

static dt_status grow_answers(dt_known *known)
{
    const size_t room = known->offer_count;
    dt_known bigger = {.slots = known->slots ? 2 * known->slots : 4, .offer_count = room};
    bigger.chains = calloc(bigger.slots, sizeof *bigger.chains);
    bigger.answers = calloc(bigger.slots * room + 1, 1);
    if (!bigger.chains || !bigger.answers) {
        free(bigger.chains);
        free(bigger.answers);
        return DT_E_MEMORY;
    }
    for (size_t i = 0; i < known->slots; ++i) {
        if (!known->chains[i]) continue;
        const size_t at = chain_slot(&bigger, known->chains[i]);
        bigger.chains[at] = known->chains[i];
        memcpy(bigger.answers + at * room, known->answers + i * room, room);
    }
    free(known->chains);
    free(known->answers);
    known->chains = bigger.chains;
    known->answers = bigger.answers;
    known->slots = bigger.slots;
    return DT_OK;
}

unsigned char *dt_known_answers(dt_known *known, int exposure)
{
    if (2 * known->chain_count >= known->slots && grow_answers(known) != DT_OK) return NULL;
    const size_t at = chain_slot(known, exposure + 1);
    if (!known->chains[at]) {
        known->chains[at] = exposure + 1;
        ++known->chain_count;
    }
    return known->answers + at * known->offer_count;
}

static dt_known *new_known(size_t offer_count)
{
    dt_known *known = malloc(sizeof *known + offer_count * sizeof known->held[0]);
    if (!known) return NULL;
    *known = (dt_known){.offer_count = offer_count};
    for (size_t i = 0; i < offer_count; ++i)
        known->held[i] = (dt_held){-1, INFINITY};
    return known;
}

static void free_known(dt_known *known)
{
    if (!known) return;
    free(known->chains);
    free(known->answers);
    free(known);
}

typedef struct dt_hold_entry {
    dt_hold_key key;
    dt_known *known; /* NULL: a free slot */
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
        if (!search->hold[i].known) continue;
        size_t at = slot_of(&search->hold[i].key, capacity);
        while (bigger[at].known)
            at = (at + 1) & (capacity - 1);
        bigger[at] = search->hold[i];
    }
    free(search->hold);
    search->hold = bigger;
    search->hold_capacity = capacity;
    return DT_OK;
}

dt_known *dt_known_of(dt_search *search, const dt_hold_key *key)
{
    if (2 * search->hold_count >= search->hold_capacity && grow_memory(search) != DT_OK)
        return NULL;
    size_t at = slot_of(key, search->hold_capacity);
    for (; search->hold[at].known; at = (at + 1) & (search->hold_capacity - 1))
        if (same_key(&search->hold[at].key, key)) return search->hold[at].known;
    dt_known *fresh = new_known(search->choice.sizes[key->size].count);
    if (!fresh) return NULL;
    search->hold[at] = (hold_entry){*key, fresh};
    ++search->hold_count;
    return fresh;
}

void dt_holds_free(dt_search *search)
{
    for (size_t i = 0; i < search->hold_capacity; ++i)
        free_known(search->hold[i].known);
    free(search->hold);
    free(search->exposures);
    free(search->exposure_table);
    free(search->like_table);
    search->hold = NULL;
    search->exposures = NULL;
    search->exposure_table = search->like_table = NULL;
    search->hold_count = search->hold_capacity = 0;
    search->exposure_count = search->exposure_capacity = search->exposure_slots = 0;
    dt_asks_free(search);
}
