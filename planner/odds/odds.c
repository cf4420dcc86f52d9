/* SPDX-License-Identifier: MIT */
#include "odds.h"

#include <math.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

#include "numbers.h"
#include "odds_parts.h"
#include "random.h"
#include "same.h"
#include "section.h"

enum {
    BINS = 20, /* of one uncertain number, for its first-order share */
    FIFTH = BINS / 5,
    ROUND = 4096, /* realisations between two looks at precision and interruption */
};

/** Histogram bin of seats that are not rounded. */
#define PLAIN_BIN_M 10.0

/* ---- shares ---- */

double dt_share_value(dt_share share)
{
    return share.of ? (double)share.count / (double)share.of : NAN;
}

double dt_share_error(dt_share share)
{
    double p = dt_share_value(share);
    return sqrt(p * (1 - p) / (double)share.of);
}

double dt_share_bound(dt_share share)
{
    bool end = share.of && (share.count == 0 || share.count == share.of);
    return end ? fmin(1, 3 / (double)share.of) : 0;
}

/* ---- what is counted ---- */

/** Whole numbers only: their sum does not depend on the order of adding. */
typedef struct tally {
    size_t planned, spare, anew, hopeless, more, done;
    size_t needed[DT_ODDS_MOST_STRINGS];
    size_t *held;                   /* string */
    size_t *broken;                 /* string x rule */
    size_t *again;                  /* string: realisations that need as many strings */
    size_t *histogram;              /* string x bin */
    size_t *bin_all, *bin_good;     /* input x BINS */
    size_t *candidate;              /* candidate */
    size_t *third_all, *third_good; /* input x 3; candidate x input x 3 */
    size_t *only; /* input looked at x 3 x candidate x candidate: the first holds, not the second */
    size_t *block; /* all of the above in one piece */
    size_t block_count;
} tally;

typedef dt_odds_work run;

static bool tally_begin(const run *r, tally *t)
{
    size_t n = r->strings, k = r->inputs.count;
    size_t sizes[] = {n,
                      n * DT_RULE_COUNT,
                      n,
                      n * r->bins,
                      k * BINS,
                      k * BINS,
                      MOST_CANDIDATES,
                      k * 3,
                      MOST_CANDIDATES * k * 3,
                      LOOKED_AT * 3 * MOST_CANDIDATES * MOST_CANDIDATES};
    size_t total = 0;
    for (size_t i = 0; i < COUNT_OF(sizes); ++i)
        total += sizes[i];
    *t = (tally){.block = calloc(total, sizeof *t->block), .block_count = total};
    if (!t->block) return false;
    size_t **parts[] = {&t->held,     &t->broken,    &t->again,     &t->histogram,  &t->bin_all,
                        &t->bin_good, &t->candidate, &t->third_all, &t->third_good, &t->only};
    size_t *at = t->block;
    for (size_t i = 0; i < COUNT_OF(sizes); ++i) {
        *parts[i] = at;
        at += sizes[i];
    }
    return true;
}

static void tally_add(tally *sum, const tally *part)
{
    sum->planned += part->planned;
    sum->spare += part->spare;
    sum->anew += part->anew;
    sum->hopeless += part->hopeless;
    sum->more += part->more;
    sum->done += part->done;
    for (size_t i = 0; i < DT_ODDS_MOST_STRINGS; ++i)
        sum->needed[i] += part->needed[i];
    for (size_t i = 0; i < sum->block_count; ++i)
        sum->block[i] += part->block[i];
}

/* ---- one realisation ---- */

typedef struct worker {
    run *r;
    dt_drawn drawn;
    tally tally;
    dt_status status;
    unsigned id;
    size_t first, end; /* realisations of this round */
} worker;

bool dt_odds_hold(const dt_window *window, const dt_odds_holes *holes, const double *shoes)
{
    dt_rule rule;
    for (size_t k = 1; k < holes->count; ++k)
        if (!dt_shoe_stands(window, holes, k, shoes[k], &rule) ||
            !dt_section_holds(window, &holes->rules[k], shoes[k - 1], shoes[k]))
            return false;
    return true;
}

/** Can one more shoe, anywhere in it, take a hole of the plan to its base? */
static bool one_shoe_mends(const run *r, const dt_window *window, size_t string)
{
    const double above_m = r->shoes[string - 1], below_m = r->shoes[string];
    dt_odds_holes parts;
    dt_odds_holes_with_one_more(r->well, &r->holes, string - 1, &parts);
    double low = dt_seats_shallowest(window, &parts.rules[string + 1], above_m, below_m);
    double high = dt_seats_deepest(window, &parts.rules[string], above_m, below_m);
    if (string == 1) {
        low = fmax(low, r->holes.surface_least_m);
        high = fmin(high, r->holes.surface_most_m);
    }
    if (!(low <= high)) return false;
    return dt_seats_out_of_avoided(window, low) <= high;
}

/** The program as planned, string by string. */
static bool judge_plan(worker *w, const dt_window *window)
{
    const run *r = w->r;
    size_t failing = 0, where = 0;
    bool mendable = true;
    for (size_t k = 1; k < r->strings; ++k) {
        dt_rule rule = DT_RULE_FRESH_WATER;
        bool stands = dt_shoe_stands(window, &r->holes, k, r->shoes[k], &rule);
        bool drilled = dt_section_holds(window, &r->holes.rules[k], r->shoes[k - 1], r->shoes[k]);
        if (stands && drilled) {
            ++w->tally.held[k];
            continue;
        }
        if (!drilled) {
            dt_section_check check;
            dt_section_test(window, &r->holes.rules[k], r->shoes[k - 1], r->shoes[k], true, &check);
            rule = check.why.rule;
        }
        ++w->tally.broken[k * DT_RULE_COUNT + rule];
        ++failing;
        where = k;
        mendable = mendable && stands;
    }
    if (failing == 0) ++w->tally.planned;
    if (failing == 0 || (failing == 1 && mendable && one_shoe_mends(r, window, where)))
        ++w->tally.spare;
    return failing == 0;
}

static void count_seats(worker *w, const dt_seats *seats)
{
    const run *r = w->r;
    for (size_t k = 1; k < r->cased; ++k) {
        double bin = floor(seats->items[k].shoe_m / r->bin_m + 0.5);
        if (!(bin >= 0 && bin < (double)r->bins)) continue;
        ++w->tally.again[k];
        ++w->tally.histogram[k * r->bins + (size_t)bin];
    }
}

static dt_status choose_anew(worker *w, const dt_window *window)
{
    dt_seats seats = {0};
    const dt_odds_ladders *ladders = &w->r->ladders;
    dt_status status =
        ladders->count > 0 ? dt_odds_lay(window, ladders, &seats) : dt_seats_choose(window, &seats);
    if (status == DT_OK && seats.broken_count == 0 && seats.count < DT_ODDS_MOST_STRINGS) {
        ++w->tally.needed[seats.count];
        if (seats.count <= w->r->cased) ++w->tally.anew;
        if (seats.count == w->r->cased) count_seats(w, &seats);
    } else if (status == DT_OK || status == DT_E_NONE) {
        ++w->tally.hopeless;
        status = DT_OK;
    }
    dt_seats_free(&seats);
    return status;
}

/** Where one program holds and another does not, by thirds of the inputs looked at. */
static void count_pairs(worker *w, const bool *held)
{
    const run *r = w->r;
    for (size_t k = 0; k < r->looked_count; ++k) {
        const double u = dt_normal_below(w->drawn.normals[r->looked_at[k]]);
        const size_t third = u < 1 ? (size_t)(u * 3) : 2;
        size_t *only = w->tally.only + (k * 3 + third) * MOST_CANDIDATES * MOST_CANDIDATES;
        for (size_t a = 0; a < r->candidate_count; ++a)
            for (size_t b = 0; held[a] && b < r->candidate_count; ++b)
                only[a * MOST_CANDIDATES + b] += !held[b];
    }
}

static void count_inputs(worker *w, bool good, const bool *held)
{
    run *r = w->r;
    size_t inputs = r->inputs.count;
    for (size_t i = 0; i < inputs; ++i) {
        double u = dt_normal_below(w->drawn.normals[i]);
        size_t bin = u < 1 ? (size_t)(u * BINS) : BINS - 1;
        size_t third = u < 1 ? (size_t)(u * 3) : 2;
        ++w->tally.bin_all[i * BINS + bin];
        w->tally.bin_good[i * BINS + bin] += good;
        ++w->tally.third_all[i * 3 + third];
        for (size_t c = 0; c < r->candidate_count; ++c)
            w->tally.third_good[(c * inputs + i) * 3 + third] += held[c];
    }
}

static dt_status realise(worker *w, size_t index)
{
    const run *r = w->r;
    dt_window window;
    dt_draw(&w->drawn, &r->inputs, r->options->seed, 0, index);
    dt_status status = dt_window_build(&w->drawn.well, &window);
    if (status != DT_OK) return status;
    bool held[MOST_CANDIDATES] = {judge_plan(w, &window)};
    for (size_t c = 0; c < r->candidate_count; ++c) {
        if (c > 0) held[c] = dt_odds_hold(&window, &r->holes, r->candidates[c]);
        w->tally.candidate[c] += held[c];
    }
    if (r->more && dt_odds_hold(&window, &r->more_holes, r->more)) ++w->tally.more;
    status = choose_anew(w, &window);
    count_inputs(w, held[0], held);
    count_pairs(w, held);
    ++w->tally.done;
    dt_window_free(&window);
    return status;
}

static void *work_round(void *argument)
{
    worker *w = argument;
    for (size_t i = w->first; i < w->end && w->status == DT_OK; ++i)
        w->status = realise(w, i);
    return NULL;
}

/* ---- threads ---- */

void dt_odds_run_all(void *(*work)(void *), void *items, size_t size, unsigned count)
{
    pthread_t threads[MOST_THREADS];
    bool started[MOST_THREADS] = {false};
    for (unsigned t = 1; t < count; ++t)
        started[t] = pthread_create(&threads[t], NULL, work, (char *)items + t * size) == 0;
    work(items);
    for (unsigned t = 1; t < count; ++t) {
        if (started[t])
            pthread_join(threads[t], NULL);
        else
            work((char *)items + t * size);
    }
}

static dt_status workers_begin(run *r, unsigned count, worker *workers)
{
    for (unsigned t = 0; t < count; ++t) {
        workers[t] = (worker){.r = r, .id = t};
        if (dt_drawn_begin(r->well, &r->inputs, &workers[t].drawn) != DT_OK) return DT_E_MEMORY;
        if (!tally_begin(r, &workers[t].tally)) return DT_E_MEMORY;
    }
    return DT_OK;
}

static void workers_free(worker *workers, unsigned count)
{
    for (unsigned t = 0; t < count; ++t) {
        dt_drawn_free(&workers[t].drawn);
        free(workers[t].tally.block);
    }
}

/* ---- the surest programs ---- */

/** One search of the list; jobs are shared out over threads. */
typedef struct job {
    dt_trial_filter filter;
    const dt_odds_holes *holes;
    double *shoes;
    bool *fixed;
    size_t held;
} job;

typedef struct searcher {
    const run *r;
    job *jobs;
    size_t job_count, first, stride;
    dt_status status;
} searcher;

static void *work_jobs(void *argument)
{
    searcher *s = argument;
    for (size_t i = s->first; i < s->job_count && s->status == DT_OK; i += s->stride) {
        job *j = &s->jobs[i];
        s->status = dt_search_seats(&s->r->trials, j->filter, s->r->bin_m, j->holes, NULL, j->shoes,
                                    j->fixed, &j->held);
    }
    return NULL;
}

/** A copy of the planned shoes; with a gap given, one more in the middle of that gap. */
static dt_status job_begin(const run *r, size_t gap, dt_trial_filter filter, job *out)
{
    job j = {.filter = filter, .holes = gap == DT_NO_INDEX ? &r->holes : &r->more_holes};
    j.shoes = calloc(j.holes->count, sizeof *j.shoes);
    j.fixed = calloc(j.holes->count, sizeof *j.fixed);
    *out = j;
    if (!j.shoes || !j.fixed) return DT_E_MEMORY;
    for (size_t k = 0, at = 0; k < r->strings; ++k) {
        if (k > 0 && k - 1 == gap) j.shoes[at++] = (r->shoes[k - 1] + r->shoes[k]) / 2;
        j.fixed[at] = r->fixed[k];
        j.shoes[at++] = r->shoes[k];
    }
    return DT_OK;
}

/** A point of a computed gradient that shares the one error of its method with the point above? */
static bool told_before(const run *r, size_t input)
{
    const dt_uncertain *u = &r->inputs.items[input];
    return u->whole_table && input > 0 && r->inputs.items[input - 1].kind == u->kind;
}

/** How differently the plan fares in the low and the high third of an input, over the trials. */
static double contrast(const run *r, size_t input)
{
    size_t all[3] = {0}, good[3] = {0};
    for (size_t t = 0; t < r->trials.count; ++t) {
        const dt_trial *trial = &r->trials.items[t];
        ++all[trial->third[input]];
        good[trial->third[input]] += dt_odds_hold(&trial->window, &r->holes, r->shoes);
    }
    double low = all[0] ? (double)good[0] / (double)all[0] : 0;
    double high = all[2] ? (double)good[2] / (double)all[2] : 0;
    return fabs(high - low);
}

static dt_status choose_inputs_to_look_at(run *r)
{
    double *size = malloc((r->inputs.count + 1) * sizeof *size);
    if (!size) return DT_E_MEMORY;
    for (size_t i = 0; i < r->inputs.count; ++i)
        size[i] = told_before(r, i) ? -1 : contrast(r, i);
    while (r->looked_count < LOOKED_AT && r->looked_count < r->inputs.count) {
        size_t best = 0;
        for (size_t i = 1; i < r->inputs.count; ++i)
            if (size[i] > size[best]) best = i;
        if (size[best] < 0) break;
        r->looked_at[r->looked_count++] = best;
        size[best] = -1;
    }
    free(size);
    return DT_OK;
}

static void take_jobs(run *r, job *jobs, size_t gaps, size_t count)
{
    /* jobs[0]: as many strings; then one for each gap; then thirds. */
    size_t best = 0;
    for (size_t g = 1; g <= gaps; ++g)
        if (best == 0 || jobs[g].held > jobs[best].held) best = g;
    for (size_t i = 0; i < count; ++i) {
        if (i == best && best > 0)
            r->more = jobs[i].shoes;
        else if (i == 0 || i > gaps)
            r->candidates[r->candidate_count++] = jobs[i].shoes;
        else
            free(jobs[i].shoes);
    }
}

static dt_status search_programs(run *r, unsigned threads)
{
    size_t gaps = r->more_holes.count > 0 ? r->strings - 1 : 0, count = 0;
    job *jobs = calloc(1 + gaps + (size_t)2 * LOOKED_AT, sizeof *jobs);
    if (!jobs) return DT_E_MEMORY;
    dt_status status = choose_inputs_to_look_at(r);
    const dt_trial_filter all = {DT_NO_INDEX, 0};
    if (status == DT_OK) status = job_begin(r, DT_NO_INDEX, all, &jobs[count++]);
    for (size_t g = 0; status == DT_OK && g < gaps; ++g)
        status = job_begin(r, g, all, &jobs[count++]);
    for (size_t i = 0; i < 2 * r->looked_count && status == DT_OK; ++i) {
        dt_trial_filter third = {r->looked_at[i / 2], i % 2 ? 2 : 0};
        status = job_begin(r, DT_NO_INDEX, third, &jobs[count++]);
    }
    searcher searchers[MOST_THREADS];
    for (unsigned t = 0; t < threads; ++t)
        searchers[t] = (searcher){r, jobs, status == DT_OK ? count : 0, t, threads, DT_OK};
    dt_odds_run_all(work_jobs, searchers, sizeof *searchers, threads);
    for (unsigned t = 0; t < threads && status == DT_OK; ++t)
        status = searchers[t].status;
    if (status == DT_OK) take_jobs(r, jobs, gaps, count);
    for (size_t i = 0; i < count; ++i) {
        free(jobs[i].fixed);
        if (status != DT_OK) free(jobs[i].shoes);
    }
    free(jobs);
    r->searched = status == DT_OK;
    return status;
}

/* ---- results ---- */

static void tenths(double *values, size_t count, double out[3])
{
    const double want[] = {0.1, 0.5, 0.9};
    qsort(values, count, sizeof *values, by_value);
    for (int q = 0; q < 3; ++q)
        out[q] = values[(size_t)(want[q] * (double)(count - 1) + 0.5)];
}

/** The window's spread at DT_ODDS_FAN depths. DT_OK or DT_E_MEMORY. */
static dt_status make_fan(const dt_trials *trials, double top_m, double base_m, dt_odds_fan *out)
{
    double *values = malloc(trials->count * sizeof *values);
    if (!values) return DT_E_MEMORY;
    for (size_t i = 0; i < DT_ODDS_FAN; ++i) {
        double at = fmax(top_m, 0.3) + (base_m - fmax(top_m, 0.3)) * (double)i / (DT_ODDS_FAN - 1);
        out[i].tvd_m = at;
        for (size_t t = 0; t < trials->count; ++t)
            values[t] = dt_curve_emw(&trials->items[t].drawn.well.pore, at, DT_ABOVE);
        tenths(values, trials->count, out[i].pore_kgm3);
        for (size_t t = 0; t < trials->count; ++t)
            values[t] = dt_curve_emw(&trials->items[t].drawn.well.fracture, at, DT_ABOVE);
        tenths(values, trials->count, out[i].fracture_kgm3);
    }
    free(values);
    return DT_OK;
}

static void quantiles(const dt_odds *odds, dt_odds_string *s)
{
    const double want[] = {0.1, 0.5, 0.9};
    double *out[] = {&s->p10_m, &s->p50_m, &s->p90_m};
    for (int q = 0; q < 3; ++q) {
        size_t sum = 0;
        *out[q] = NAN;
        for (size_t b = 0; b < odds->bin_count && s->anew > 0; ++b) {
            sum += s->histogram[b];
            if ((double)sum >= want[q] * (double)s->anew) {
                *out[q] = odds->bin_m * (double)b;
                break;
            }
        }
    }
}

/** The open last hole, whose base is no shoe. */
static void fill_open_hole(const run *r, const tally *t, dt_odds *odds)
{
    const size_t k = r->cased;
    odds->last_open = r->strings > k;
    if (!odds->last_open) return;
    odds->open_hole.held = (dt_share){t->held[k], t->done};
    memcpy(odds->open_hole.broken, &t->broken[k * DT_RULE_COUNT], sizeof odds->open_hole.broken);
}

static dt_status fill_strings(const run *r, const tally *t, dt_odds *odds)
{
    fill_open_hole(r, t, odds);
    odds->strings = calloc(r->cased, sizeof *odds->strings);
    if (!odds->strings) return DT_E_MEMORY;
    odds->string_count = r->cased;
    for (size_t k = 0; k < r->cased; ++k) {
        dt_odds_string *s = &odds->strings[k];
        s->held = (dt_share){k ? t->held[k] : t->done, t->done};
        memcpy(s->broken, &t->broken[k * DT_RULE_COUNT], sizeof s->broken);
        s->anew = t->again[k];
        s->histogram = malloc(r->bins * sizeof *s->histogram);
        if (!s->histogram) return DT_E_MEMORY;
        memcpy(s->histogram, &t->histogram[k * r->bins], r->bins * sizeof *s->histogram);
        quantiles(odds, s);
        /* cased to the objective, it always ends there, whatever bin that falls into */
        if (k + 1 == r->strings && s->anew > 0) s->p10_m = s->p50_m = s->p90_m = r->shoes[k];
    }
    return DT_OK;
}

static dt_share fifth(const size_t *all, const size_t *good, size_t first)
{
    dt_share share = {0};
    for (size_t b = first; b < first + FIFTH; ++b) {
        share.of += all[b];
        share.count += good[b];
    }
    return share;
}

/**
 * Share of the variance of success that goes with one input alone: variance of the odds between
 * the bins of that input, less what bins of this size show by chance.
 */
static void first_order(const size_t *all, const size_t *good, dt_odds_input *out)
{
    double n = 0, hits = 0, between = 0, noise = 0;
    for (size_t b = 0; b < BINS; ++b) {
        n += (double)all[b];
        hits += (double)good[b];
    }
    double p = hits / n, variance = p * (1 - p);
    out->first_order = out->first_order_error = NAN;
    if (!(variance > 0)) return;
    for (size_t b = 0; b < BINS; ++b) {
        if (all[b] == 0) continue;
        double q = (double)good[b] / (double)all[b], part = (double)all[b] / n;
        between += part * (q - p) * (q - p);
        noise += part * (q - p) * (q - p) * q * (1 - q);
    }
    double chance = (BINS - 1) / n;
    out->first_order = (between / variance - chance) / (1 - chance);
    out->first_order_error = sqrt(4 * noise / n / (variance * variance) + 2 * (BINS - 1) / (n * n));
}

/** What knowing the third of an input before the seats are fixed adds to the odds. `k`: its place
 * among those looked at. */
static void worth(const run *r, const tally *t, size_t k, dt_odds_input *out)
{
    const size_t inputs = r->inputs.count, input = r->looked_at[k];
    size_t blind = 0, gained = 0, lost = 0;
    for (size_t c = 1; c < r->candidate_count; ++c)
        if (t->candidate[c] > t->candidate[blind]) blind = c;
    for (size_t third = 0; third < 3; ++third) {
        const size_t *good = t->third_good + input * 3 + third;
        const size_t *only = t->only + (k * 3 + third) * MOST_CANDIDATES * MOST_CANDIDATES;
        size_t best = blind;
        for (size_t c = 0; c < r->candidate_count; ++c)
            if (good[c * inputs * 3] > good[best * inputs * 3]) best = c;
        gained += only[best * MOST_CANDIDATES + blind];
        lost += only[blind * MOST_CANDIDATES + best];
    }
    /* well by well the gain is 1, 0 or -1 */
    const double n = (double)t->done, mean = ((double)gained - (double)lost) / n;
    out->worth = mean;
    out->worth_error = sqrt(((double)(gained + lost) / n - mean * mean) / n);
}

static int by_first_order(const void *left, const void *right)
{
    const dt_odds_input *a = left, *b = right;
    double x = isnan(a->first_order) ? -1 : a->first_order;
    double y = isnan(b->first_order) ? -1 : b->first_order;
    if (x > y || x < y) return x > y ? -1 : 1;
    if (a->kind != b->kind) return a->kind < b->kind ? -1 : 1;
    return (a->index > b->index) - (a->index < b->index);
}

static dt_status fill_inputs(const run *r, const tally *t, dt_odds *odds)
{
    odds->inputs = calloc(r->inputs.count, sizeof *odds->inputs);
    if (!odds->inputs) return DT_E_MEMORY;
    for (size_t i = 0; i < r->inputs.count; ++i) {
        const dt_uncertain *u = &r->inputs.items[i];
        if (told_before(r, i)) continue;
        dt_odds_input *out = &odds->inputs[odds->input_count++];
        const size_t *all = &t->bin_all[i * BINS], *good = &t->bin_good[i * BINS];
        *out = (dt_odds_input){.kind = u->kind,
                               .index = u->index,
                               .whole_table = u->whole_table,
                               .tvd_m = u->tvd_m,
                               .low = fifth(all, good, 0),
                               .high = fifth(all, good, BINS - FIFTH),
                               .worth = NAN,
                               .worth_error = NAN,
                               .money_worth = NAN,
                               .money_error = NAN};
        first_order(all, good, out);
        for (size_t k = 0; k < r->looked_count; ++k)
            if (r->looked_at[k] == i) worth(r, t, k, out);
    }
    qsort(odds->inputs, odds->input_count, sizeof *odds->inputs, by_first_order);
    return DT_OK;
}

static dt_status fill_program(const double *shoes, size_t count, dt_share share,
                              dt_odds_program *out)
{
    double *copy = malloc(count * sizeof *copy);
    if (!copy) return DT_E_MEMORY;
    memcpy(copy, shoes, count * sizeof *copy);
    *out = (dt_odds_program){copy, count, share};
    return DT_OK;
}

static dt_status fill_programs(const run *r, const tally *t, dt_odds *odds)
{
    size_t best = 0, done = t->done;
    for (size_t c = 1; c < r->candidate_count; ++c)
        if (t->candidate[c] > t->candidate[best]) best = c;
    dt_status status = fill_program(r->shoes, r->cased, (dt_share){t->planned, done}, &odds->base);
    if (!r->searched || status != DT_OK) return status;
    status = fill_program(r->candidates[best], r->cased, (dt_share){t->candidate[best], done},
                          &odds->robust);
    if (status == DT_OK && r->more)
        status = fill_program(r->more, r->cased + 1, (dt_share){t->more, done}, &odds->robust_more);
    return status;
}

static dt_status fill_odds(const run *r, const tally *t, dt_odds *odds)
{
    odds->samples = t->done;
    odds->asked = r->options->samples;
    odds->seed = r->options->seed;
    odds->planned = (dt_share){t->planned, t->done};
    odds->spare = (dt_share){t->spare, t->done};
    odds->anew = (dt_share){t->anew, t->done};
    memcpy(odds->needed, t->needed, sizeof odds->needed);
    odds->hopeless = t->hopeless;
    odds->searched = r->searched;
    odds->bin_m = r->bin_m;
    odds->bin_count = r->bins;
    dt_status status = fill_strings(r, t, odds);
    if (status == DT_OK) status = fill_inputs(r, t, odds);
    if (status == DT_OK) status = fill_programs(r, t, odds);
    return status;
}

/* ---- the run ---- */

/** Precise enough, by the standard error, or by the 95 % bound where everything or nothing holds.
 */
static bool precise(const run *r, dt_share planned)
{
    double error = dt_share_error(planned);
    if (dt_share_bound(planned) > 0) error = dt_share_bound(planned) / 2;
    return r->options->precision > 0 && error <= r->options->precision;
}

static bool go_on(const run *r, size_t done)
{
    const dt_odds_options *o = r->options;
    return !o->go_on || o->go_on(o->context, done, o->samples);
}

/** Rounds until all is done, precise enough or stopped; sums into workers[0].tally. */
static dt_status make_rounds(run *r, worker *workers, unsigned threads, dt_odds *odds)
{
    size_t samples = r->options->samples;
    dt_status status = DT_OK;
    for (size_t first = 0; first < samples && status == DT_OK;) {
        size_t size = samples - first < ROUND ? samples - first : ROUND;
        for (unsigned t = 0; t < threads; ++t) {
            workers[t].first = first + size * t / threads;
            workers[t].end = first + size * (t + 1) / threads;
        }
        dt_odds_run_all(work_round, workers, sizeof *workers, threads);
        first += size;
        dt_share planned = {0, first};
        for (unsigned t = 0; t < threads; ++t) {
            if (status == DT_OK) status = workers[t].status;
            planned.count += workers[t].tally.planned;
        }
        odds->precise = first < samples && precise(r, planned);
        if (odds->precise) break;
        odds->stopped = !go_on(r, first) && first < samples;
        if (odds->stopped) break;
    }
    for (unsigned t = 1; t < threads && status == DT_OK; ++t)
        tally_add(&workers[0].tally, &workers[t].tally);
    return status;
}

/** Which holes there are, as planned and with more strings. */
static dt_status settle_holes(const dt_program *program, run *r)
{
    dt_odds_holes_of_seats(r->well, &program->seats, &r->holes);
    const dt_status status =
        dt_odds_ladders_find(&program->window, program->catalogue, &program->ladder, &r->ladders);
    if (r->ladders.count == 0)
        dt_odds_holes_with_one_more(r->well, &r->holes, 0, &r->more_holes); /* all of one kind */
    else if (r->ladders.count > 1)
        dt_odds_holes_of_ladder(r->well, &r->ladders.items[1], &r->more_holes);
    return status;
}

static dt_status run_begin(const dt_program *program, const dt_odds_options *options, run *r,
                           double **shoes)
{
    const size_t cased = program->seats.count, n = cased + program->seats.open.given;
    *r = (run){.well = program->well, .options = options, .strings = n, .cased = cased};
    double *copy = calloc(n, sizeof *copy);
    r->fixed = calloc(n, sizeof *r->fixed);
    *shoes = copy;
    r->shoes = copy;
    if (!copy || !r->fixed) return DT_E_MEMORY;
    for (size_t k = 0; k < cased; ++k) {
        copy[k] = program->seats.items[k].shoe_m;
        r->fixed[k] = program->seats.items[k].shoe_pinned;
    }
    if (n > cased) copy[cased] = program->seats.open.base_m;
    const dt_status status = settle_holes(program, r);
    if (status != DT_OK) return status;
    double step = program->well->seats.round_to_m;
    r->bin_m = isfinite(step) && step > 0 ? step : PLAIN_BIN_M;
    r->bins = (size_t)(program->well->objective_m / r->bin_m) + 3;
    return dt_uncertains_collect(program->well, &r->inputs);
}

static void run_free(run *r, double *shoes)
{
    for (size_t c = 1; c < r->candidate_count; ++c)
        free(r->candidates[c]);
    free(r->more);
    free(r->fixed);
    free(shoes);
    dt_trials_free(&r->trials);
    dt_uncertains_free(&r->inputs);
}

size_t dt_odds_input_count(const dt_well *well)
{
    dt_uncertains list = {0};
    if (dt_uncertains_collect(well, &list) != DT_OK) return 0;
    size_t count = list.count;
    dt_uncertains_free(&list);
    return count;
}

dt_status dt_odds_run(const dt_program *program, const dt_odds_options *options, dt_odds **out)
{
    unsigned threads = options->threads ? options->threads : 1;
    bool sane = options->samples > 0 && options->samples <= DT_ODDS_MOST_SAMPLES &&
                threads <= MOST_THREADS && options->precision >= 0 && program->seats.count >= 2;
    if (!sane) return DT_E_DOMAIN;
    run r;
    double *shoes = NULL;
    worker workers[MOST_THREADS] = {{0}};
    dt_odds *odds = calloc(1, sizeof *odds);
    dt_status status = run_begin(program, options, &r, &shoes);
    if (status == DT_OK && !odds) status = DT_E_MEMORY;
    if (status == DT_OK && r.inputs.count == 0) status = DT_E_NONE;
    if (status == DT_OK) {
        r.candidates[r.candidate_count++] = shoes;
        status = dt_trials_build(r.well, &r.inputs, options->seed, DT_TRIALS, &r.trials);
    }
    if (status == DT_OK)
        status = make_fan(&r.trials, dt_well_ground_m(r.well), r.well->objective_m, odds->fan);
    if (status == DT_OK && go_on(&r, 0)) status = search_programs(&r, threads);
    if (status == DT_OK) status = workers_begin(&r, threads, workers);
    if (status == DT_OK) status = make_rounds(&r, workers, threads, odds);
    if (status == DT_OK) status = fill_odds(&r, &workers[0].tally, odds);
    if (status == DT_OK && go_on(&r, odds->samples))
        status = dt_odds_look_further(program, &r, threads, odds);
    workers_free(workers, threads);
    run_free(&r, shoes);
    if (status == DT_OK)
        *out = odds;
    else
        dt_odds_free(odds);
    return status;
}

void dt_odds_free(dt_odds *odds)
{
    if (!odds) return;
    for (size_t k = 0; odds->strings && k < odds->string_count; ++k)
        free(odds->strings[k].histogram);
    free(odds->strings);
    free(odds->inputs);
    free(odds->after.causes);
    free(odds->base.shoes_m);
    free(odds->robust.shoes_m);
    free(odds->robust_more.shoes_m);
    free(odds);
}
