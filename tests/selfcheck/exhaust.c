/* SPDX-License-Identifier: MIT */
#include "exhaust.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "program_parts.h"
#include "same.h"

/* ---- a small catalogue ----------------------------------------------------------------------- */

/** Sizes that telescope in a few ways; of each the weights named here, in lb/ft. */
static const struct {
    double od_in, weights[3];
} kept_sizes[] = {{20, {94, 133, 0}},   {16, {84, 0, 0}},      {13.375, {54.5, 68, 0}},
                  {9.625, {40, 47, 0}}, {8.625, {32, 0, 0}},   {7, {26, 29, 0}},
                  {5.5, {17, 20, 0}},   {4.5, {11.6, 13.5, 0}}};
static const char *const kept_grades[] = {"K55", "L80", "P110"};

static bool keeps(const dt_pipe *p)
{
    bool grade = false;
    for (size_t i = 0; i < COUNT_OF(kept_grades); ++i)
        grade = grade || strcmp(p->grade->name, kept_grades[i]) == 0;
    for (size_t i = 0; grade && i < COUNT_OF(kept_sizes); ++i)
        for (int k = 0; k < 3; ++k)
            if (fabs(p->od_m / DT_M_PER_IN - kept_sizes[i].od_in) < SAME_DIAMETER_IN &&
                fabs(p->weight_kgm - kept_sizes[i].weights[k] * DT_KGM_PER_LBFT) < SAME_WEIGHT_KGM)
                return p->coupling_od_m > p->od_m * 1.03; /* coupled */
    return false;
}

bool small_catalogue_make(const dt_catalogue *all, dt_catalogue *out)
{
    *out = *all;
    out->pipes = calloc(all->pipe_count + 1, sizeof *out->pipes);
    out->bits = calloc(all->bit_count + 1, sizeof *out->bits);
    out->pipe_count = out->bit_count = 0;
    if (!out->pipes || !out->bits) {
        small_catalogue_free(out);
        return false;
    }
    for (size_t i = 0; i < all->pipe_count; ++i)
        if (keeps(&all->pipes[i])) out->pipes[out->pipe_count++] = all->pipes[i];
    for (size_t i = 0; i < all->bit_count; ++i)
        if (all->bits[i].commonness != DT_BIT_LESS_COMMON)
            out->bits[out->bit_count++] = all->bits[i];
    return true;
}

void small_catalogue_free(dt_catalogue *small)
{
    free(small->pipes);
    free(small->bits);
}

/* ---- everything ------------------------------------------------------------------------------ */

enum { MOST_SIZES = 16, MOST_PAIRS = 96, GRID = 14 };

/** A size of pipe of the catalogue, and what passes it at most. */
typedef struct size {
    double od_m, widest_m, drift_m;
} size;

/** A hole and its pipe. */
typedef struct pair {
    double hole_m;
    const size *pipe;
} pair;

typedef struct everything {
    const dt_well *well;
    const dt_catalogue *small;
    size sizes[MOST_SIZES];
    size_t size_count;
    pair pairs[MOST_PAIRS];
    size_t pair_count;
    dt_learned learned; /* nothing: each is one draft */
    miss *out;
    dt_status status;
} everything;

static void list_sizes(everything *e)
{
    for (size_t i = 0; i < e->small->pipe_count; ++i) {
        const dt_pipe *p = &e->small->pipes[i];
        size_t k = 0;
        while (k < e->size_count && fabs(e->sizes[k].od_m - p->od_m) > SAME_DIAMETER_M)
            ++k;
        if (k == MOST_SIZES) continue;
        if (k == e->size_count) e->sizes[e->size_count++] = (size){p->od_m, p->coupling_od_m, 0};
        e->sizes[k].drift_m = fmax(e->sizes[k].drift_m, dt_nest_drift(e->well, p));
    }
}

/** Holes up to half as large again as the pipe, with room for its couplings. */
static void list_pairs(everything *e)
{
    for (size_t k = 0; k < e->size_count; ++k)
        for (size_t b = 0; b < e->small->bit_count; ++b) {
            const size *s = &e->sizes[k];
            const double hole_m = e->small->bits[b].diameter_m;
            const double gap_m = dt_nest_gap(e->well, s->od_m, s->widest_m);
            if (hole_m < s->widest_m + 2 * gap_m - SAME_DIAMETER_M || hole_m > 1.5 * s->od_m ||
                e->pair_count == MOST_PAIRS)
                continue;
            e->pairs[e->pair_count++] = (pair){hole_m, s};
        }
}

static dt_pin pin(dt_role role, dt_string_type type, double shoe_m, const pair *p)
{
    return (dt_pin){.role = role,
                    .type = type,
                    .shoe_m = shoe_m,
                    .hole_m = p->hole_m,
                    .od_m = p->pipe->od_m,
                    .weight_kgm = NAN,
                    .wear_m = NAN,
                    .chosen = true,
                    .pipe_chosen = true};
}

/** Does a rule give way to a pin, though it does not stop the program? */
static bool bends_rules(const dt_program *p)
{
    static const dt_notice_code bent[] = {DT_NOTICE_PIN_BREAKS_RULE,  DT_NOTICE_PIN_CLEARANCE,
                                          DT_NOTICE_PIN_COMPLETION,   DT_NOTICE_PIN_NOT_GAS_TIGHT,
                                          DT_NOTICE_PIN_NOT_SOUR,     DT_NOTICE_PIN_HANGER,
                                          DT_NOTICE_PIN_WITHOUT_PLACE};
    for (size_t i = 0; i < p->notices.count; ++i)
        for (size_t k = 0; k < COUNT_OF(bent); ++k)
            if (p->notices.items[i].code == bent[k]) return true;
    return false;
}

static void tell(const dt_program *p, char *to, size_t room)
{
    size_t n = 0;
    for (size_t i = 0; i < p->count && n + 80 < room; ++i) {
        const dt_program_string *s = &p->items[i];
        n += (size_t)snprintf(to + n, room - n, "%s%.4g in in %.4g in @ %.1f m%s", i ? " / " : "",
                              s->od_m / DT_M_PER_IN, s->hole_m / DT_M_PER_IN, s->shoe_tvd_m,
                              s->seat->type == DT_LINER ? " liner" : "");
    }
}

/** Plans one of them. */
static void try_pins(everything *e, dt_pin *pins, size_t count)
{
    dt_well well = *e->well; /* borrows everything */
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    well.pins = pins;
    well.pin_count = count;
    e->learned.known.count = e->learned.known.jobs.count = 0;
    dt_ladder_nests_free(&e->learned.nests); /* those of other pins */
    const dt_status status = dt_program_draft(&well, e->small, &e->learned, &program, &refusal);
    dt_refusal_free(&refusal);
    ++e->out->tried;
    if (status == DT_E_MEMORY) e->status = status;
    if (status == DT_OK && program->count == count && dt_program_runnable(program)) {
        const bool clean = !bends_rules(program);
        if (e->out->closed == 0 || (clean && e->out->clean == 0))
            tell(program, e->out->first, sizeof e->out->first);
        ++e->out->closed;
        e->out->clean += clean;
    }
    dt_program_free(program);
}

/** A size as conductor: driven as wide as itself, or in its smallest hole. */
static pair conductor_of(const everything *e, const size *s)
{
    pair made = {INFINITY, s};
    if (e->well->conductor.method != DT_CONDUCTOR_DRILLED) made.hole_m = s->od_m;
    for (size_t i = 0; i < e->pair_count; ++i)
        if (e->pairs[i].pipe == s) made.hole_m = fmin(made.hole_m, e->pairs[i].hole_m);
    return made;
}

/** The smallest conductor that a bit passes. */
static bool conductor_for(const everything *e, double bit_m, pair *out)
{
    for (size_t k = 0; k < e->size_count; ++k) { /* by growing size */
        *out = conductor_of(e, &e->sizes[k]);
        if (e->sizes[k].drift_m >= bit_m - SAME_DIAMETER_M && isfinite(out->hole_m)) return true;
    }
    return false;
}

/** The last string below a surface string, full and as a liner; or below the conductor. */
static void try_last(everything *e, dt_pin *pins, size_t above, double through_m)
{
    const bool liners = e->well->seats.liners && above == 2;
    for (size_t i = 0; i < e->pair_count && e->status == DT_OK; ++i) {
        const pair *p = &e->pairs[i];
        if (p->hole_m > through_m + SAME_DIAMETER_M ||
            p->pipe->od_m < e->well->min_pipe_od_m - SAME_DIAMETER_M)
            continue;
        for (int liner = 0; liner <= (liners ? 1 : 0); ++liner) {
            pins[above] = pin(DT_PRODUCTION, liner ? DT_LINER : DT_FULL, NAN, p);
            try_pins(e, pins, above + 1);
        }
    }
}

static void try_seats(everything *e, const pair *surface, const pair *conductor)
{
    const double top_m = dt_seats_conductor_m(e->well), base_m = e->well->objective_m;
    const double round_m = e->well->seats.round_to_m;
    double step_m = (base_m - top_m) / (GRID + 1);
    if (round_m > 0) step_m = round_m * fmax(round(step_m / round_m), 1);
    const double first_m = round_m > 0 ? step_m * ceil((top_m + 1) / step_m) : top_m + step_m;
    dt_pin pins[3];
    pins[0] = pin(DT_CONDUCTOR, DT_FULL, NAN, conductor);
    for (double at_m = first_m; at_m < base_m - 1 && e->status == DT_OK; at_m += step_m) {
        pins[1] = pin(DT_SURFACE, DT_FULL, at_m, surface);
        try_last(e, pins, 2, surface->pipe->drift_m);
    }
}

dt_status exhaust(const dt_well *well, const dt_catalogue *small, miss *out)
{
    everything *e = calloc(1, sizeof *e);
    if (!e) return DT_E_MEMORY;
    *out = (miss){.tried = 0};
    *e = (everything){.well = well, .small = small, .out = out, .status = DT_OK};
    e->learned.limits = calloc(DT_MOST_LEARNED, sizeof *e->learned.limits);
    e->learned.known.items = e->learned.cuts;
    e->learned.known.jobs.items = e->learned.limits;
    if (!e->learned.limits) e->status = DT_E_MEMORY;
    list_sizes(e);
    list_pairs(e);
    pair conductor;
    for (size_t i = 0; i < e->pair_count && e->status == DT_OK; ++i)
        if (conductor_for(e, e->pairs[i].hole_m, &conductor))
            try_seats(e, &e->pairs[i], &conductor);
    for (size_t k = 0; k < e->size_count && e->status == DT_OK; ++k) {
        conductor = conductor_of(e, &e->sizes[k]);
        dt_pin pins[2] = {pin(DT_CONDUCTOR, DT_FULL, NAN, &conductor)};
        if (isfinite(conductor.hole_m)) try_last(e, pins, 1, e->sizes[k].drift_m);
    }
    const dt_status status = e->status;
    dt_ladder_nests_free(&e->learned.nests);
    free(e->learned.limits);
    free(e);
    return status;
}
