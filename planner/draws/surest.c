/* SPDX-License-Identifier: MIT */
/* The surest seats: which depths let most drawn wells be drilled. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "draws.h"
#include "numbers.h"
#include "random.h"
#include "same.h"
#include "section.h"

/** Stream of realisations for searching: apart from those that judge, which is stream 0. */
#define SEARCH_STREAM 1u

static unsigned char third_of(double normal)
{
    double u = dt_normal_below(normal);
    return u < 1.0 / 3 ? 0 : u < 2.0 / 3 ? 1 : 2;
}

static dt_status build_trial(const dt_well *well, const dt_uncertains *list, uint64_t seed,
                             size_t index, dt_trial *trial)
{
    trial->third = malloc(list->count + 1);
    if (!trial->third) return DT_E_MEMORY;
    dt_status status = dt_drawn_begin(well, list, &trial->drawn);
    if (status != DT_OK) return status;
    dt_draw(&trial->drawn, list, seed, SEARCH_STREAM, index);
    for (size_t i = 0; i < list->count; ++i)
        trial->third[i] = third_of(trial->drawn.normals[i]);
    return dt_window_build(&trial->drawn.well, &trial->window);
}

dt_status dt_trials_build(const dt_well *well, const dt_uncertains *list, uint64_t seed,
                          size_t count, dt_trials *out)
{
    dt_trials trials = {calloc(count, sizeof *trials.items), count};
    dt_status status = trials.items ? DT_OK : DT_E_MEMORY;
    for (size_t i = 0; status == DT_OK && i < count; ++i)
        status = build_trial(well, list, seed, i, &trials.items[i]);
    if (status == DT_OK)
        *out = trials;
    else
        dt_trials_free(&trials);
    return status;
}

dt_status dt_trials_of(const dt_well *well, dt_trials *out)
{
    dt_uncertains inputs = {0};
    *out = (dt_trials){0};
    dt_status status = dt_uncertains_collect(well, &inputs);
    if (status == DT_OK && inputs.count > 0)
        status = dt_trials_build(well, &inputs, DT_TRIAL_SEED, DT_TRIALS, out);
    dt_uncertains_free(&inputs);
    return status;
}

void dt_trials_free(dt_trials *trials)
{
    for (size_t i = 0; trials->items && i < trials->count; ++i) {
        dt_window_free(&trials->items[i].window);
        dt_drawn_free(&trials->items[i].drawn);
        free(trials->items[i].third);
    }
    free(trials->items);
    *trials = (dt_trials){0};
}

bool dt_shoe_stands(const dt_window *window, const dt_odds_holes *holes, size_t string,
                    double shoe_m, dt_rule *broken)
{
    const dt_well *well = window->well;
    if (string == 0 || string + 1 == holes->count) return true; /* given depths, not chosen ones */
    if (string == 1 && shoe_m < holes->surface_least_m - SAME_DEPTH_M) {
        *broken = DT_RULE_SURFACE_LEAST;
        return false;
    }
    if (string == 1 && shoe_m > holes->surface_most_m + SAME_DEPTH_M) {
        *broken = DT_RULE_SURFACE_MOST;
        return false;
    }
    if (isfinite(well->fresh_water_m) &&
        shoe_m < well->fresh_water_m + well->fresh_water_cover_m - SAME_DEPTH_M) {
        *broken = DT_RULE_FRESH_WATER;
        return false;
    }
    *broken = DT_RULE_AVOID_SHOE;
    return dt_shoe_allowed(window, shoe_m, NULL);
}

/** Between which grid depths a hole with one end at a depth begins to hold, or ends to. */
typedef struct known {
    double fixed_m;      /* the other end */
    double fails, holds; /* grid depths, or beyond all of them */
} known;

/** Of one shoe in one trial. */
typedef struct known_ends {
    known below, own; /* of the hole below it, of its own */
} known_ends;

static const known_ends unknown = {{NAN, NAN, NAN}, {NAN, NAN, NAN}};

/** One search: what it works on and what it remembers. */
typedef struct search {
    const dt_trials *trials;
    dt_trial_filter filter;
    double step_m;
    const dt_odds_holes *holes;
    const dt_as_stated *stated; /* NULL: none */
    double *shoes;
    size_t count;
    unsigned char *held; /* trial x string: the hole and the shoe of that string hold */
    known_ends *ends;    /* trial x string */
    int *gain;           /* differences over the grid */
    size_t grid_count;
} search;

static bool counts(const search *s, const dt_trial *trial)
{
    return s->filter.input == DT_NO_INDEX || trial->third[s->filter.input] == s->filter.third;
}

static bool holds(const dt_window *window, const dt_odds_holes *holes, const double *shoes_m,
                  size_t string)
{
    dt_rule rule;
    return dt_shoe_stands(window, holes, string, shoes_m[string], &rule) &&
           dt_section_holds(window, &holes->rules[string], shoes_m[string - 1], shoes_m[string]);
}

size_t dt_trials_held(const dt_trials *trials, const dt_odds_holes *holes, const double *shoes_m)
{
    size_t held = 0;
    for (size_t t = 0; t < trials->count; ++t) {
        bool all = true;
        for (size_t k = 1; k < holes->count && all; ++k)
            all = holds(&trials->items[t].window, holes, shoes_m, k);
        held += all;
    }
    return held;
}

static void look(search *s, size_t string)
{
    for (size_t t = 0; t < s->trials->count; ++t)
        if (counts(s, &s->trials->items[t]))
            s->held[t * s->count + string] =
                holds(&s->trials->items[t].window, s->holes, s->shoes, string);
}

static bool others_hold(const search *s, size_t trial, size_t string)
{
    for (size_t k = 1; k < s->count; ++k)
        if (k != string && k != string + 1 && !s->held[trial * s->count + k]) return false;
    return true;
}

/** Grid depths from first to last; none where first is more. */
typedef struct grid_range {
    double first, last;
} grid_range;

static grid_range on_grid(const search *s, double low_m, double high_m)
{
    return (grid_range){fmax(dt_count_up(low_m / s->step_m), 0),
                        fmin(dt_count_down(high_m / s->step_m), (double)s->grid_count - 1)};
}

/** Adds `by` to every grid depth of a range. */
static void add_range(search *s, grid_range range, int by)
{
    if (!(range.first <= range.last)) return;
    s->gain[(size_t)range.first] += by;
    s->gain[(size_t)range.last + 1] -= by;
}

/** A hole with one end that moves over the grid. */
typedef struct end_move {
    const dt_window *window;
    const dt_hole_rules *rules;
    double step_m, fixed_m;
    bool top; /* the top moves: deeper is easier; else the base: shallower is */
} end_move;

static bool holds_at(const end_move *m, double at)
{
    return m->top ? dt_section_holds(m->window, m->rules, m->step_m * at, m->fixed_m)
                  : dt_section_holds(m->window, m->rules, m->fixed_m, m->step_m * at);
}

/**
 * The grid depth at which a hole begins to hold as its top goes down, or its base up, within a
 * range; one beyond the range where none does. What is asked grows one way only (docs/seats.md),
 * so halving finds it; what was found for the same other end is not looked at again, and for
 * another it is where looking begins, since ends move little.
 */
static double first_that_holds(const end_move *m, grid_range range, known *k)
{
    const double toward = m->top ? 1 : -1; /* the way on which it gets easier */
    const double start = m->top ? range.first : range.last, end = m->top ? range.last : range.first;
    const double span = fabs(end - start) + 1;
    /* counted from the hard end: fails at `none`, holds at `some` */
    double none = -1, some = span;
    if (k->fixed_m == m->fixed_m) {
        none = fmin(fmax((k->fails - start) * toward, none), span - 1);
        some = fmax(fmin((k->holds - start) * toward, some), 0);
    } else {
        const double guess = (k->holds - start) * toward;
        *k = (known){m->fixed_m, -toward * INFINITY, toward * INFINITY};
        double at = isfinite(guess) ? fmin(fmax(guess, 0), span - 1) : NAN;
        for (double step = 1; !isnan(at) && some - none > 1; step *= 4) {
            const bool ok = holds_at(m, start + toward * at);
            *(ok ? &some : &none) = at;
            const double next = ok ? at - step : at + step;
            /* both sides known, or nothing to the one looked for */
            if ((none >= 0 && some < span) || !(next > none && next < some)) break;
            at = next;
        }
    }
    while (some - none > 1) {
        const double middle = floor((none + some) / 2);
        *(holds_at(m, start + toward * middle) ? &some : &none) = middle;
    }
    if (none >= 0) k->fails = start + toward * none;
    if (some < span) k->holds = start + toward * some;
    return start + toward * some;
}

/** Leaves of a range the depths where a shoe of this string holds what is above it and what is
 * below: a shoe that lies deeper asks more of the hole above, and less of that below. */
static grid_range where_it_holds(const search *s, const dt_window *window,
                                 const dt_odds_holes *holes, size_t string, grid_range range,
                                 known_ends *ends)
{
    const dt_hole_rules *own = &holes->rules[string];
    const end_move below = {window, own + 1, s->step_m, s->shoes[string + 1], true};
    range.first = first_that_holds(&below, range, &ends->below);
    if (!(range.first <= range.last)) return range;
    const end_move above = {window, own, s->step_m, s->shoes[string - 1], false};
    range.last = first_that_holds(&above, range, &ends->own);
    return range;
}

/** Takes back the depths of a range where no shoe stands; stretches may overlap, so each is taken
 * from where those before it ended. */
static void leave_out_bad_rock(search *s, const dt_window *window, double low, double high)
{
    while (low <= high) {
        double top = INFINITY, base = INFINITY;
        for (size_t i = 0; i < window->bad_count; ++i) {
            const dt_bad_rock *bad = &window->bad[i];
            if (bad->base_m - SAME_DEPTH_M < low) continue;
            const double from = fmax(bad->top_m + SAME_DEPTH_M, low);
            if (from > bad->base_m - SAME_DEPTH_M || from >= top) continue;
            top = from;
            base = bad->base_m - SAME_DEPTH_M;
        }
        if (!(top <= high)) return;
        add_range(s, on_grid(s, top, fmin(base, high)), -1);
        low = nextafter(base, INFINITY);
    }
}

/** Where a shoe of this string may stand in a well, by what is asked of it alone. */
static grid_range of_itself(const search *s, const dt_well *well, const dt_odds_holes *holes,
                            size_t string)
{
    double low = s->shoes[string - 1] + 1, high = s->shoes[string + 1] - 1;
    if (isfinite(well->fresh_water_m))
        low = fmax(low, well->fresh_water_m + well->fresh_water_cover_m);
    if (string == 1) {
        low = fmax(low, holes->surface_least_m);
        high = fmin(high, holes->surface_most_m);
    }
    return low <= high ? on_grid(s, low, high) : (grid_range){1, 0};
}

/** Counts one trial at every depth where a shoe of this string would let it hold. */
static void add_trial(search *s, size_t t, size_t string)
{
    const dt_trial *trial = &s->trials->items[t];
    grid_range range = of_itself(s, &trial->drawn.well, s->holes, string);
    if (range.first <= range.last)
        range = where_it_holds(s, &trial->window, s->holes, string, range,
                               &s->ends[t * s->count + string]);
    if (!(range.first <= range.last)) return;
    add_range(s, range, 1);
    leave_out_bad_rock(s, &trial->window, s->step_m * range.first, s->step_m * range.last);
}

/** Where a shoe of this string holds in the well as stated: on the grid, rock apart. */
static grid_range as_stated(const search *s, size_t string)
{
    if (!s->stated) return (grid_range){0, (double)s->grid_count - 1};
    const dt_window *window = s->stated->window;
    const grid_range range = of_itself(s, window->well, s->stated->holes, string);
    known_ends ends = unknown;
    return range.first <= range.last
               ? where_it_holds(s, window, s->stated->holes, string, range, &ends)
               : range;
}

/** Middle of the longest run of grid depths in a range that most trials allow, or the shallowest
 * depth of all; NAN when none allows any. */
static double best_depth(const search *s, grid_range range, bool shallowest, int *best)
{
    int sum = 0, most = 0;
    size_t run = 0, longest = 0, end = 0, first = 0;
    for (size_t i = 0; i < s->grid_count; ++i) {
        sum += s->gain[i];
        const bool apart =
            (double)i < range.first || (double)i > range.last ||
            (s->stated && !dt_shoe_allowed(s->stated->window, s->step_m * (double)i, NULL));
        const int now = apart ? 0 : sum;
        if (now > most) {
            most = now;
            longest = run = 0;
            first = i;
        }
        run = now == most && most > 0 ? run + 1 : 0;
        if (run > longest) {
            longest = run;
            end = i;
        }
    }
    *best = most;
    const size_t at = shallowest ? first : end - (longest - 1) / 2;
    return most > 0 ? s->step_m * (double)at : NAN;
}

static size_t count_held(const search *s)
{
    size_t held = 0;
    for (size_t t = 0; t < s->trials->count; ++t)
        if (counts(s, &s->trials->items[t]) && others_hold(s, t, 0) &&
            (s->count < 2 || s->held[t * s->count + 1]))
            ++held;
    return held;
}

/** What becomes of a seat that is as good elsewhere. */
typedef enum tie {
    TIE_STAYS,
    TIE_TO_MIDDLE, /* of the depths that are as good: so its neighbours get room */
    TIE_TO_SHALLOWEST
} tie;

/** Moves one seat to its best depth when that is better than where it stands, or as good and the
 * tie says so. */
static bool move_seat(search *s, size_t string, tie ties, size_t *held)
{
    memset(s->gain, 0, (s->grid_count + 1) * sizeof *s->gain);
    for (size_t t = 0; t < s->trials->count; ++t)
        if (counts(s, &s->trials->items[t]) && others_hold(s, t, string)) add_trial(s, t, string);
    int most = 0;
    double before = s->shoes[string];
    double depth = best_depth(s, as_stated(s, string), ties == TIE_TO_SHALLOWEST, &most);
    const bool apart = fabs(depth - before) > s->step_m / 2;
    if (isnan(depth) || (size_t)most < *held) return false;
    if ((size_t)most == *held && !(ties != TIE_STAYS && apart)) return false;
    s->shoes[string] = depth;
    look(s, string);
    look(s, string + 1);
    size_t now = count_held(s);
    if (now > *held || (ties != TIE_STAYS && now == *held)) {
        *held = now;
        return true;
    }
    s->shoes[string] = before;
    look(s, string);
    look(s, string + 1);
    return false;
}

static void search_free(search *s)
{
    free(s->held);
    free(s->ends);
    free(s->gain);
}

dt_status dt_search_seats(const dt_trials *trials, dt_trial_filter filter, double step_m,
                          const dt_odds_holes *holes, const dt_as_stated *stated, double *shoes_m,
                          const bool *fixed, size_t *held)
{
    enum { MOST_ROUNDS = 12, TIE_ROUNDS = 8 };
    const size_t count = holes->count;
    search s = {.trials = trials,
                .filter = filter,
                .step_m = step_m,
                .holes = holes,
                .stated = stated,
                .shoes = shoes_m,
                .count = count};
    s.grid_count = (size_t)(shoes_m[count - 1] / step_m) + 2;
    s.held = calloc(trials->count + 1, count);
    s.ends = calloc(trials->count + 1, count * sizeof *s.ends);
    s.gain = calloc(s.grid_count + 1, sizeof *s.gain);
    if (!s.held || !s.ends || !s.gain) {
        search_free(&s);
        return DT_E_MEMORY;
    }
    for (size_t i = 0; i < trials->count * count; ++i)
        s.ends[i] = unknown;
    for (size_t k = 1; k < count; ++k)
        look(&s, k);
    size_t now = count_held(&s);
    bool moved = true;
    for (int round = 0; round < MOST_ROUNDS && moved; ++round) {
        moved = false;
        for (size_t k = 1; k + 1 < count; ++k)
            if (!fixed[k] && move_seat(&s, k, round < TIE_ROUNDS ? TIE_TO_MIDDLE : TIE_STAYS, &now))
                moved = true;
    }
    for (size_t k = 1; k + 1 < count; ++k)
        if (!fixed[k]) (void)move_seat(&s, k, TIE_TO_SHALLOWEST, &now);
    *held = now;
    search_free(&s);
    return DT_OK;
}
