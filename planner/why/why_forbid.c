/* SPDX-License-Identifier: MIT */
/* Reasons against a wish: the smallest set of rules and inputs that forbids it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "same.h"
#include "why.h"

/** Plans spent on looking for a smaller set than the one that deletion finds. */
#define MOST_TRIES 500

/* ---- the set that forbids ---- */

typedef struct hunt {
    const dt_program *base;
    const dt_wish *wishes;
    size_t wish_count;
    const dt_switches *switches;
    bool *on;
    size_t tried;
} hunt;

static dt_status possible_with(hunt *h, bool *possible)
{
    dt_wished holder = {0};
    ++h->tried;
    return dt_wish_try(h->base, h->wishes, h->wish_count, h->switches, h->on, &holder, NULL,
                       possible, NULL);
}

/** Deletion filter: leaves out each switch without which the wish stays forbidden. */
static dt_status delete_all(hunt *h)
{
    for (size_t i = 0; i < h->switches->count; ++i) {
        bool possible = false;
        if (!h->on[i]) continue;
        h->on[i] = false;
        dt_status status = possible_with(h, &possible);
        if (status != DT_OK) return status;
        if (possible) h->on[i] = true;
    }
    return DT_OK;
}

static size_t count_on(const hunt *h)
{
    size_t count = 0;
    for (size_t i = 0; i < h->switches->count; ++i)
        count += h->on[i];
    return count;
}

/**
 * The next set of `size` switches after the one that is on, in order; false at the last. The
 * sets come as the numbers with `size` bits do.
 */
static bool next_set(hunt *h, size_t size)
{
    size_t n = h->switches->count, trailing = 0;
    for (size_t i = n; i-- > 0 && h->on[i];)
        ++trailing;
    if (trailing == size) return false;
    size_t at = n - trailing;
    while (at > 0 && !h->on[at - 1])
        --at;
    h->on[at - 1] = false; /* the last one that can move, moves; those behind it follow */
    for (size_t i = at; i < n; ++i)
        h->on[i] = i <= at + trailing;
    return true;
}

/** How many sets have fewer than `size` of n switches, capped. */
static double sets_below(size_t n, size_t size)
{
    double total = 0, choose = 1;
    for (size_t k = 0; k < size; ++k) {
        total += choose;
        choose *= (double)(n - k) / (double)(k + 1);
    }
    return total;
}

/** Looks through all sets smaller than the one found. *smallest: all of them were looked at. */
static dt_status look_smaller(hunt *h, bool *smallest)
{
    size_t n = h->switches->count, found = count_on(h);
    *smallest = found <= 1 || sets_below(n, found) + (double)h->tried <= MOST_TRIES;
    if (found <= 1 || !*smallest) return DT_OK;
    bool *best = malloc(n * sizeof *best);
    if (!best) return DT_E_MEMORY;
    memcpy(best, h->on, n * sizeof *best);
    dt_status status = DT_OK;
    for (size_t size = 1; size < found && status == DT_OK; ++size) {
        for (size_t i = 0; i < n; ++i)
            h->on[i] = i < size;
        bool possible = true;
        do
            status = possible_with(h, &possible);
        while (status == DT_OK && possible && next_set(h, size));
        if (status == DT_OK && !possible) {
            free(best);
            return DT_OK;
        }
    }
    memcpy(h->on, best, n * sizeof *best);
    free(best);
    return status;
}

/** Every set of one less must allow the wish; what does not is left out again. */
static dt_status settle_forbidden(hunt *h, dt_verdict *verdict)
{
    dt_status status = delete_all(h);
    if (status == DT_OK) status = look_smaller(h, &verdict->smallest);
    if (status == DT_OK) status = delete_all(h); /* a set found by size is irreducible already */
    if (status != DT_OK) return status;
    verdict->forbids = calloc(h->switches->count + 1, sizeof *verdict->forbids);
    if (!verdict->forbids) return DT_E_MEMORY;
    for (size_t i = 0; i < h->switches->count; ++i)
        if (h->on[i]) verdict->forbids[verdict->forbid_count++] = i;
    dt_wished holder = {0};
    bool possible = false;
    return dt_wish_try(h->base, h->wishes, h->wish_count, h->switches, h->on, &holder, NULL,
                       &possible, &verdict->refusal);
}

dt_status dt_wish_judge(const dt_program *base, const dt_wish *wishes, size_t wish_count,
                        dt_verdict *out)
{
    *out = (dt_verdict){0};
    dt_status status = dt_switches_list(base->well, &out->switches);
    if (status != DT_OK) return status;
    hunt h = {.base = base,
              .wishes = wishes,
              .wish_count = wish_count,
              .switches = &out->switches,
              .on = malloc((out->switches.count + 1) * sizeof *h.on)};
    if (!h.on) status = DT_E_MEMORY;
    for (size_t i = 0; h.on && i < out->switches.count; ++i)
        h.on[i] = true;
    if (status == DT_OK)
        status = dt_wish_try(base, wishes, wish_count, &out->switches, h.on, &out->wished,
                             &out->program, &out->possible, NULL);
    h.tried = 1;
    if (status == DT_OK && !out->possible) status = settle_forbidden(&h, out);
    out->tried = h.tried;
    free(h.on);
    if (status != DT_OK) dt_verdict_free(out);
    return status;
}

void dt_verdict_free(dt_verdict *verdict)
{
    if (!verdict) return;
    dt_program_free(verdict->program);
    dt_wished_free(&verdict->wished);
    dt_switches_free(&verdict->switches);
    free(verdict->forbids);
    dt_refusal_free(&verdict->refusal);
    *verdict = (dt_verdict){0};
}
