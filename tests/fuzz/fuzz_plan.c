/* SPDX-License-Identifier: MIT */
/* Any bytes as a well file, mostly a shipped one with other digits: read, planned and drawn. */
#include <stdint.h>

#include "everything.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);
size_t LLVMFuzzerMutate(uint8_t *bytes, size_t size, size_t room);
size_t LLVMFuzzerCustomMutator(uint8_t *bytes, size_t size, size_t room, unsigned seed);

/**
 * Mostly changes one digit of one attribute, so that files stay well files and the planner is
 * reached; one time in eight anything at all.
 */
size_t LLVMFuzzerCustomMutator(uint8_t *bytes, size_t size, size_t room, unsigned seed)
{
    uint32_t r = seed * 2654435761u + 12345u;
    if (size == 0 || r % 8 == 0) return LLVMFuzzerMutate(bytes, size, room);
    for (unsigned changes = 1 + (r >> 8) % 4; changes > 0; --changes) {
        r = r * 1664525u + 1013904223u;
        size_t from = r % size;
        for (size_t i = 0; i < size; ++i) {
            uint8_t *c = &bytes[(from + i) % size];
            if (*c < '0' || *c > '9') continue;
            r = r * 1664525u + 1013904223u;
            *c = (uint8_t)('0' + (r >> 16) % 10);
            break;
        }
    }
    return size;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    dt_well *well = read_well((const char *)bytes, size);
    /* the search in odds is slow: for some only */
    if (well) plan_and_ask(well, (questions){.why = true, .odds = well->interval_count % 2 == 0});
    dt_well_free(well);
    return 0;
}
