/* SPDX-License-Identifier: MIT */
/* What is asked of the first drawn wells alone, since it takes longer: the stages after the seats,
 * and what the wells cost (docs/odds.md). */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "odds_parts.h"
#include "random.h"

/** Wells asked of the stages after the seats: one in sixteen, since each takes as long as that
 * many, within these. Of money: the first of them. */
enum { AFTER_PART = 16, LEAST_AFTER = 32, MOST_AFTER = 1024, MONEY_WELLS = 2048 };

static size_t after_wells(size_t samples)
{
    const size_t part = samples / AFTER_PART;
    const size_t wells = part < LEAST_AFTER ? LEAST_AFTER : part > MOST_AFTER ? MOST_AFTER : part;
    return wells < samples ? wells : samples;
}

/** One drawn well. */
typedef struct seen {
    bool seats;                     /* hold, as planned */
    dt_stage_breaks breaks;         /* where they do, and it is asked */
    double cost[MOST_CANDIDATES];   /* of each program; INFINITY: one string carried does not do */
    unsigned char third[LOOKED_AT]; /* of the inputs looked at */
} seen;

/** What all workers share. */
typedef struct look {
    const dt_program *program;
    const dt_odds_work *work;
    seen *wells;
    size_t count, after_count; /* wells, and those asked of the stages after the seats */
    bool money;
    dt_moved moved[MOST_CANDIDATES];
} look;

typedef struct looker {
    const look *look;
    dt_drawn drawn;
    size_t first, stride;
    dt_status status;
} looker;

static dt_status see(looker *l, size_t index)
{
    const look *all = l->look;
    const dt_odds_work *w = all->work;
    seen *s = &all->wells[index];
    dt_window window;
    dt_draw(&l->drawn, &w->inputs, w->options->seed, 0, index);
    dt_status status = dt_window_build(&l->drawn.well, &window);
    if (status != DT_OK) return status;
    s->seats = dt_odds_hold(&window, &w->holes, w->shoes);
    if (s->seats && index < all->after_count)
        status = dt_program_breaks(all->program, &window, &s->breaks);
    for (size_t k = 0; k < w->looked_count; ++k) {
        const double u = dt_normal_below(l->drawn.normals[w->looked_at[k]]);
        s->third[k] = u < 1 ? (unsigned char)(u * 3) : 2;
    }
    for (size_t c = 0; all->money && c < w->candidate_count; ++c) {
        const dt_moved *m = &all->moved[c];
        dt_drawn_cost one;
        const dt_fate fate = dt_carried_in(&m->program, &m->carried, &window, &one);
        s->cost[c] = fate == DT_FATE_LOST ? INFINITY : one.cost;
    }
    dt_window_free(&window);
    return status;
}

static void *look_at_wells(void *argument)
{
    looker *l = argument;
    for (size_t i = l->first; i < l->look->count && l->status == DT_OK; i += l->stride)
        l->status = see(l, i);
    return NULL;
}

/* ---- stages after the seats ---- */

static void count_break(dt_odds_after *after, const dt_stage_break *b)
{
    for (size_t i = 0; i < after->cause_count; ++i) {
        dt_odds_cause *c = &after->causes[i];
        if (c->string != b->string || strcmp(c->code, b->code) != 0) continue;
        ++c->count;
        return;
    }
    after->causes[after->cause_count++] = (dt_odds_cause){b->stage, b->string, b->code, 1};
}

/** Often first; of those as often the string that is run first, then by name. */
static int by_count(const void *left, const void *right)
{
    const dt_odds_cause *a = left, *b = right;
    if (a->count != b->count) return a->count > b->count ? -1 : 1;
    if (a->string != b->string) return a->string < b->string ? -1 : 1;
    return strcmp(a->code, b->code);
}

static dt_status sum_after(const look *all, dt_odds_after *after)
{
    size_t most = 1;
    after->wells = all->after_count;
    for (size_t i = 0; i < after->wells; ++i)
        most += all->wells[i].breaks.count;
    after->causes = calloc(most, sizeof *after->causes);
    if (!after->causes) return DT_E_MEMORY;
    after->seats.of = after->all.of = after->wells;
    for (size_t i = 0; i < after->wells; ++i) {
        const seen *s = &all->wells[i];
        bool breaks[DT_STAGE_COUNT] = {false};
        if (s->seats) ++after->seats.count;
        if (s->seats && s->breaks.count == 0) ++after->all.count;
        for (size_t k = 0; k < s->breaks.count; ++k) {
            breaks[s->breaks.items[k].stage] = true;
            count_break(after, &s->breaks.items[k]);
        }
        for (int stage = 0; stage < DT_STAGE_COUNT; ++stage)
            if (breaks[stage]) ++after->by_stage[stage].count;
    }
    for (int stage = 0; stage < DT_STAGE_COUNT; ++stage)
        after->by_stage[stage].of = after->seats.count;
    qsort(after->causes, after->cause_count, sizeof *after->causes, by_count);
    return DT_OK;
}

/* ---- money ---- */

/** A well that one string carried does not mend costs more than any that it does. How much more is
 * not known: it counts as the dearest of those. */
static dt_status price_lost(const look *all, dt_odds_money *money)
{
    money->dearest = 0;
    money->wells = all->count;
    money->lost.of = all->count;
    double *costs = malloc(all->count * sizeof *costs);
    if (!costs) return DT_E_MEMORY;
    for (size_t i = 0; i < all->count; ++i)
        for (size_t c = 0; c < all->work->candidate_count; ++c)
            if (isfinite(all->wells[i].cost[c]))
                money->dearest = fmax(money->dearest, all->wells[i].cost[c]);
    for (size_t i = 0; i < all->count; ++i) {
        if (!isfinite(all->wells[i].cost[0])) ++money->lost.count;
        for (size_t c = 0; c < all->work->candidate_count; ++c)
            all->wells[i].cost[c] = fmin(all->wells[i].cost[c], money->dearest);
        costs[i] = all->wells[i].cost[0];
    }
    dt_costs_summed(costs, all->count, &money->cost);
    free(costs);
    return DT_OK;
}

/** The program that costs least over every second well, `half` 0 or 1: of those with input k in a
 * third, or of all (third 3). A tie goes to the one that was found first. */
static size_t cheapest(const look *all, size_t half, size_t k, unsigned third)
{
    double sum[MOST_CANDIDATES] = {0};
    size_t best = 0;
    for (size_t i = half; i < all->count; i += 2)
        for (size_t c = 0; c < all->work->candidate_count; ++c)
            if (third == 3 || all->wells[i].third[k] == third) sum[c] += all->wells[i].cost[c];
    for (size_t c = 1; c < all->work->candidate_count; ++c)
        if (sum[c] < sum[best]) best = c;
    return best;
}

/**
 * What knowing the third of an input saves: the program chosen by it held against the one chosen
 * without, well by well. They are chosen on every second well and judged on the others, then the
 * other way round, so the mean is of no choice that chance made look good.
 */
static void worth_in_money(const look *all, size_t k, dt_odds_input *out)
{
    double sum = 0, squares = 0;
    for (size_t half = 0; half < 2; ++half) {
        const size_t blind = cheapest(all, half, k, 3);
        size_t seeing[3];
        for (unsigned third = 0; third < 3; ++third)
            seeing[third] = cheapest(all, half, k, third);
        for (size_t i = 1 - half; i < all->count; i += 2) {
            const seen *s = &all->wells[i];
            const double saved = s->cost[blind] - s->cost[seeing[s->third[k]]];
            sum += saved;
            squares += saved * saved;
        }
    }
    const double n = (double)all->count, mean = sum / n;
    out->money_worth = mean;
    out->money_error = sqrt(fmax(squares / n - mean * mean, 0) / (n - 1));
}

static dt_odds_input *input_at(dt_odds *odds, const dt_uncertain *u)
{
    for (size_t i = 0; i < odds->input_count; ++i)
        if (odds->inputs[i].kind == u->kind && odds->inputs[i].index == u->index)
            return &odds->inputs[i];
    return NULL;
}

static dt_status sum_money(const look *all, dt_odds *odds)
{
    const dt_odds_work *w = all->work;
    dt_status status = price_lost(all, &odds->money);
    for (size_t k = 0; status == DT_OK && k < w->looked_count && all->count > 3; ++k) {
        dt_odds_input *input = input_at(odds, &w->inputs.items[w->looked_at[k]]);
        if (input) worth_in_money(all, k, input);
    }
    return status;
}

/* ---- all of it ---- */

static dt_status look_begin(const dt_program *program, const dt_odds_work *work, size_t samples,
                            look *all)
{
    *all = (look){.program = program, .work = work};
    all->money = program->well->prices_given;
    all->count = all->after_count = after_wells(samples);
    if (all->money) all->count = samples < MONEY_WELLS ? samples : MONEY_WELLS;
    all->wells = calloc(all->count, sizeof *all->wells);
    dt_status status = all->wells ? DT_OK : DT_E_MEMORY;
    for (size_t c = 0; status == DT_OK && all->money && c < work->candidate_count; ++c)
        status = dt_moved_begin(program, work->candidates[c], &all->moved[c]);
    return status;
}

static void look_free(look *all)
{
    for (size_t c = 0; c < MOST_CANDIDATES; ++c)
        dt_moved_free(&all->moved[c]);
    free(all->wells);
}

static dt_status look_through(const look *all, unsigned threads)
{
    looker lookers[MOST_THREADS] = {{0}};
    dt_status status = DT_OK;
    for (unsigned t = 0; t < threads; ++t) {
        lookers[t] = (looker){.look = all, .first = t, .stride = threads};
        lookers[t].status = dt_drawn_begin(all->work->well, &all->work->inputs, &lookers[t].drawn);
        if (status == DT_OK) status = lookers[t].status;
    }
    if (status == DT_OK) dt_odds_run_all(look_at_wells, lookers, sizeof *lookers, threads);
    for (unsigned t = 0; t < threads; ++t) {
        if (status == DT_OK) status = lookers[t].status;
        dt_drawn_free(&lookers[t].drawn);
    }
    return status;
}

dt_status dt_odds_look_further(const dt_program *program, const dt_odds_work *work,
                               unsigned threads, dt_odds *odds)
{
    if (program->strings.count == 0 || odds->stopped) return DT_OK;
    look all;
    dt_status status = look_begin(program, work, odds->samples, &all);
    if (status == DT_OK) status = look_through(&all, threads);
    if (status == DT_OK) status = sum_after(&all, &odds->after);
    if (status == DT_OK && all.money) status = sum_money(&all, odds);
    look_free(&all);
    return status;
}
