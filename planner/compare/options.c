/* SPDX-License-Identifier: MIT */
#include "options.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "options_search.h"
#include "same.h"
#include "units.h"

/** A connection no wider than this over its pipe goes where a coupling might not. */
#define SLIM_OVER_PIPE 1.03

/** All a search borrows, made once for all sets of wishes. */
typedef struct ground {
    const dt_well *well;
    const dt_catalogue *catalogue;
    dt_window window;
    dt_trajectory trajectory;
    bool by_size; /* rules of holes depend on their sizes */
    /* the plan's own program, by_size alone; NULL: there is none */
    dt_program *planned;
    dt_seats own;          /* where there is none, or no need of one */
    const dt_seats *seats; /* of the two: candidates, and the conductor's */
    dt_ladder_latitude latitude;
    dt_tier tier;        /* what holes must bear: as the plan's do */
    double least_step_m; /* of candidates for shoes; 0: the usual one */
    size_t none_up_to;   /* strings: with these candidates there is no program of so many */
    const dt_progress *progress;
} ground;

static void free_ground(ground *g)
{
    dt_seats_free(&g->own);
    dt_program_free(g->planned);
    dt_window_free(&g->window);
    dt_trajectory_free(&g->trajectory);
}

/** The conductor alone: no seats were found. */
static dt_status seat_conductor(ground *g)
{
    const size_t none = DT_NO_INDEX;
    const dt_seat_plan plan = {.count = 1, .pins = &none};
    dt_status status = dt_seats_outline(g->well, &plan, &g->own);
    if (status != DT_OK) return status;
    dt_seat *conductor = &g->own.items[0];
    conductor->shoe_m = conductor->shallowest_m = conductor->deepest_m = conductor->exact_m =
        dt_seats_conductor_m(g->well);
    return DT_OK;
}

/** Options go as far from what the basis prefers as a ladder does: as far in pairs and lengths, and
 * no hole bears less than it should where none of the ladder's does. */
static void follow(ground *g, const dt_ladder *ladder)
{
    const size_t holes = ladder->count + (g->well->last_open ? 1 : 0);
    g->latitude = ladder->latitude;
    g->tier = DT_TIER_WANTED;
    for (size_t k = 1; k < holes; ++k)
        if (ladder->rungs[k].rules.tier == DT_TIER_LEAST) g->tier = DT_TIER_LEAST;
}

/** Where the plan's strings stand, and how far they go from what the basis prefers; where no pipe
 * of these holds, where they would. */
static dt_status plan_first(ground *g, dt_refusal *refusal)
{
    const dt_ladder_cuts none = {0};
    dt_ladder ladder;
    dt_status status = dt_program_plan(g->well, g->catalogue, &g->planned, NULL);
    if (status == DT_E_INPUT) /* said before anything is planned */
        return dt_program_plan(g->well, g->catalogue, &g->planned, refusal);
    if (status == DT_OK) {
        follow(g, &g->planned->ladder);
        g->seats = &g->planned->seats;
    }
    if (status != DT_E_NONE) return status;
    status = dt_ladder_choose(&g->window, g->catalogue, &none, &ladder);
    if (status == DT_E_NONE) return seat_conductor(g);
    if (status != DT_OK) return status;
    follow(g, &ladder);
    return dt_ladder_seats(&g->window, &ladder, &g->own);
}

static dt_status lay_ground(const dt_well *well, const dt_catalogue *catalogue, ground *g,
                            dt_refusal *refusal)
{
    *g = (ground){.well = well,
                  .catalogue = catalogue,
                  .by_size = dt_hole_rules_by_size(well),
                  .latitude = DT_LADDER_PREFERRED,
                  .tier = DT_TIER_LEAST};
    g->seats = &g->own;
    dt_status status = dt_trajectory_of(well, &g->trajectory);
    if (status == DT_OK) status = dt_window_build(well, &g->window);
    if (status != DT_OK) return status;
    if (g->by_size) return plan_first(g, refusal);
    g->latitude = DT_LADDER_ANY;
    return dt_seats_choose(&g->window, &g->own);
}

static dt_pipe_choice choice_of(const ground *g)
{
    const dt_well *well = g->well;
    dt_pipe_choice choice = {.well = well,
                             .catalogue = g->catalogue,
                             .window = &g->window,
                             .trajectory = &g->trajectory,
                             .lap_m = dt_custom_or(well, well->seats.lap_m, DT_CUSTOM_SEATS_LAP),
                             .most_pull_n = INFINITY,
                             .conductor_m = g->seats->items[0].shoe_m};
    dt_design_settle(well, &choice.design);
    return choice;
}

/** Strings asked whether they hold, before candidates for shoes move further apart: a second or
 * two. */
#define MOST_WORK 2e5

static dt_status open_search(const ground *g, const dt_wish_set *wishes, dt_search_way way,
                             dt_search **out)
{
    dt_search *s = calloc(1, sizeof *s);
    if (!s) return DT_E_MEMORY;
    s->progress = g->progress;
    s->choice = choice_of(g);
    s->choice.most_pull_n = wishes->most_pull_n;
    s->by_size = g->by_size;
    s->latitude = g->latitude;
    s->tier = g->tier;
    s->wishes = *wishes;
    s->by_pressure = way.by_pressure;
    s->most_work = INFINITY;
    dt_status status = dt_pipe_choice_init(&s->choice);
    if (status == DT_OK)
        status = dt_sites_build(&s->choice, g->seats, way.exact, g->least_step_m, &s->sites);
    if (status == DT_OK)
        s->fewest = g->by_size ? dt_sites_fewest(&s->sites, g->well) : g->seats->count;
    s->planned = g->planned ? dt_program_strings(g->planned) : 0;
    *out = s;
    return status;
}

static void close_search(dt_search *s)
{
    if (!s) return;
    dt_holds_free(s);
    dt_bounds_free(s);
    dt_reaches_free(s);
    dt_pipe_choice_free(&s->choice);
    dt_sites_free(&s->sites);
    free(s->front.items);
    free(s->front.scores);
    free(s->sizes_owned);
    free(s);
}

/** Programs of at most so many strings, tie-backs counted. */
static dt_status search_up_to(dt_search *s, size_t strings)
{
    dt_status status = DT_OK;
    for (size_t n = s->fewest; n <= strings && status == DT_OK; ++n) {
        if (s->existence && s->front.count > 0) break;
        status = dt_search_strings(s, n, strings - n);
    }
    return status;
}

static size_t fewest_found(const dt_search *s)
{
    size_t fewest = DT_MOST_STRINGS;
    for (size_t i = 0; i < s->front.count; ++i) {
        const size_t strings = s->front.items[i].count + s->front.items[i].tiebacks;
        if (strings < fewest) fewest = strings;
    }
    return fewest;
}

static size_t string_limit(const dt_search *s)
{
    return s->wishes.most_strings ? s->wishes.most_strings : DT_MOST_STRINGS;
}

/** Is there any program at all under the wishes? */
static dt_status find_any(dt_search *s)
{
    return search_up_to(s, string_limit(s));
}

/**
 * Runs over the numbers of strings: to the wish, or to one more than the fewest that work. These
 * are found first: nothing of fewer strings exists then, whatever is tied back. Gives up after two
 * numbers, unless `on`, as long as it is not known that there is anything to find.
 */
static dt_status run_search(dt_search *s, bool on, size_t none_up_to, size_t *fewest, size_t *most)
{
    const size_t limit = string_limit(s);
    dt_status status = DT_OK;
    *fewest = s->fewest;
    *most = limit;
    if (s->wishes.most_strings) {
        status = search_up_to(s, limit);
        if (s->front.count > 0) *fewest = fewest_found(s);
        return status;
    }
    size_t strings = s->fewest < limit ? s->fewest + 1 : limit;
    if (strings <= none_up_to && none_up_to < limit) strings = none_up_to + 1;
    const size_t last = on ? limit : strings;
    while (strings <= last && s->front.count == 0 && status == DT_OK)
        status = search_up_to(s, strings++);
    *most = strings - 1;
    if (s->front.count == 0 || status != DT_OK) return status;
    *fewest = fewest_found(s);
    const size_t wanted = *fewest + 1 > s->planned ? *fewest + 1 : s->planned;
    while (*most < wanted && *most < limit && status == DT_OK)
        status = search_up_to(s, ++*most);
    return status;
}

/* ---- wishes ---- */

typedef enum wish_kind {
    WISH_STRINGS,
    WISH_HOOKLOAD,
    WISH_BOP,
    WISH_WELLHEAD,
    WISH_NO_TIEBACKS,
    WISH_FORBID
} wish_kind;

typedef struct wish {
    wish_kind kind;
    double value;
    int line;
} wish;

/** Wishes besides the forbidden sizes. */
#define MOST_SINGLE_WISHES 5

/** The wishes of a well, as many as there are; `forbidden_m` has room for all sizes among them. */
typedef struct wish_list {
    wish *items;
    size_t count;
    double *forbidden_m;
} wish_list;

static void free_wishes(wish_list *list)
{
    free(list->items);
    free(list->forbidden_m);
    *list = (wish_list){0};
}

/** A size forbidden twice is one wish, of the line that comes first. */
static bool listed(const wish_list *list, double od_m)
{
    for (size_t i = 0; i < list->count; ++i)
        if (list->items[i].kind == WISH_FORBID &&
            fabs(list->items[i].value - od_m) < SAME_DIAMETER_M)
            return true;
    return false;
}

static dt_status list_wishes(const dt_wishes *w, wish_list *out)
{
    const size_t sizes = w->given ? w->forbidden_count : 0;
    wish_list l = {.items = calloc(MOST_SINGLE_WISHES + sizes, sizeof *l.items),
                   .forbidden_m = calloc(sizes + 1, sizeof *l.forbidden_m)};
    *out = l;
    if (!l.items || !l.forbidden_m) {
        free_wishes(out);
        return DT_E_MEMORY;
    }
    if (!w->given) return DT_OK;
    wish *at = l.items;
    if (w->max_strings > 0) *at++ = (wish){WISH_STRINGS, (double)w->max_strings, w->line};
    if (isfinite(w->rig_hookload_n)) *at++ = (wish){WISH_HOOKLOAD, w->rig_hookload_n, w->line};
    if (isfinite(w->bop_bore_m)) *at++ = (wish){WISH_BOP, w->bop_bore_m, w->line};
    if (isfinite(w->wellhead_bore_m)) *at++ = (wish){WISH_WELLHEAD, w->wellhead_bore_m, w->line};
    if (w->no_tiebacks) *at++ = (wish){WISH_NO_TIEBACKS, 1, w->line};
    out->count = (size_t)(at - l.items);
    for (size_t i = 0; i < sizes; ++i)
        if (!listed(out, w->forbidden[i].od_m))
            l.items[out->count++] = (wish){WISH_FORBID, w->forbidden[i].od_m, w->forbidden[i].line};
    return DT_OK;
}

/** The wishes that are picked, or all. The set borrows the list's room for forbidden sizes: one
 * set of a list at a time. */
static dt_wish_set pick_wishes(const wish_list *list, const bool *picked)
{
    dt_wish_set set = {
        .most_pull_n = INFINITY, .bore_m = INFINITY, .forbidden_od_m = list->forbidden_m};
    for (size_t i = 0; i < list->count; ++i) {
        const wish *w = &list->items[i];
        if (picked && !picked[i]) continue;
        switch (w->kind) {
        case WISH_STRINGS:
            set.most_strings = (size_t)w->value;
            break;
        case WISH_HOOKLOAD:
            set.most_pull_n = w->value;
            break;
        case WISH_BOP:
        case WISH_WELLHEAD:
            set.bore_m = fmin(set.bore_m, w->value);
            break;
        case WISH_NO_TIEBACKS:
            set.no_tiebacks = true;
            break;
        case WISH_FORBID:
            list->forbidden_m[set.forbidden_count++] = w->value;
            break;
        }
    }
    return set;
}

/* ---- wishes that leave nothing ---- */

/** Searches spent on looking for a smaller set than the one that is found by halving. */
#define MOST_TRIES 64

typedef struct hunt {
    const wish_list *list;
    dt_search *search; /* one for all tries: what a pipe holds is remembered */
    bool *on;          /* wishes in force in the next try */
    bool found;        /* by the last try */
    size_t tried;
} hunt;

/** Does any program exist under the wishes that are on? */
static dt_status try_wishes(hunt *h)
{
    dt_search *s = h->search;
    s->wishes = pick_wishes(h->list, h->on);
    if (s->choice.most_pull_n != s->wishes.most_pull_n) dt_holds_free(s);
    s->choice.most_pull_n = s->wishes.most_pull_n;
    memset(s->spare_memo, 0, sizeof s->spare_memo); /* forbidden sizes are no spares */
    dt_bounds_free(s);
    s->front.count = 0;
    ++h->tried;
    dt_status status = find_any(s);
    h->found = s->front.count > 0;
    return status;
}

static size_t count_on(const hunt *h)
{
    size_t count = 0;
    for (size_t i = 0; i < h->list->count; ++i)
        count += h->on[i];
    return count;
}

static void put_on(hunt *h, size_t first, size_t count, bool on)
{
    for (size_t i = first; i < first + count; ++i)
        h->on[i] = on;
}

/**
 * Of a run of wishes, which alone are off, turns on an irreducible set that leaves nothing together
 * with those that are on: each half is looked at with the other in force. `grown`: more are on than
 * at the last try. Takes about twice as many tries as wishes are named, times the logarithm of how
 * many there are.
 */
static dt_status halve(hunt *h, size_t first, size_t count, bool grown)
{
    dt_status status = grown ? try_wishes(h) : DT_OK;
    if (status != DT_OK || (grown && !h->found)) return status;
    put_on(h, first, count, count == 1);
    if (count == 1) return DT_OK;
    const size_t left = count / 2, right = count - left;
    put_on(h, first, left, true);
    status = halve(h, first + left, right, true);
    if (status != DT_OK) return status;
    put_on(h, first, left, false);
    bool any = false;
    for (size_t i = first + left; i < first + count; ++i)
        any = any || h->on[i];
    return halve(h, first, left, any);
}

/** The next set of as many wishes, in order; false at the last. */
static bool next_wishes(hunt *h, size_t size)
{
    const size_t n = h->list->count;
    size_t low = 0; /* the lowest wish with room above it moves up; those below start over */
    while (low < n && !(h->on[low] && (low + 1 == n || !h->on[low + 1])))
        ++low;
    if (low + 1 >= n) return false;
    size_t below = 0;
    for (size_t i = 0; i < low; ++i)
        below += h->on[i];
    put_on(h, 0, low + 1, false);
    h->on[low + 1] = true;
    put_on(h, 0, below, true);
    return size > 0;
}

/** How many sets have up to `size` of n wishes, or more than is tried. */
static double sets_up_to(size_t n, size_t size)
{
    double total = 0, choose = 1;
    for (size_t k = 0; k <= size && total <= MOST_TRIES; ++k) {
        total += choose;
        choose *= (double)(n - k) / (double)(k + 1);
    }
    return total;
}

/** Tries every set of so many wishes, in order, until nothing is left. */
static dt_status try_size(hunt *h, size_t size)
{
    put_on(h, 0, h->list->count, false);
    put_on(h, 0, size, true);
    do {
        dt_status status = try_wishes(h);
        if (status != DT_OK || !h->found) return status;
    } while (next_wishes(h, size));
    return DT_OK;
}

/** As far as there are few enough of them, sets no larger than the one that is on: the first of the
 * smallest. *smallest: all smaller ones were looked at. */
static dt_status look_smaller(hunt *h, bool *smallest)
{
    const size_t n = h->list->count, found = count_on(h), tried = h->tried;
    bool *best = malloc((n + 1) * sizeof *best);
    if (!best) return DT_E_MEMORY;
    memcpy(best, h->on, n * sizeof *best);
    dt_status status = DT_OK;
    size_t size = 0;
    h->found = true;
    while (status == DT_OK && h->found && size < found &&
           sets_up_to(n, size + 1) + (double)tried <= MOST_TRIES)
        status = try_size(h, ++size);
    if (h->found) memcpy(h->on, best, n * sizeof *best);
    *smallest = !h->found || size + 1 >= found;
    free(best);
    return status;
}

/** A set of wishes under which nothing is left, and without any one of which something is. */
static dt_status find_collision(hunt *h, bool *smallest)
{
    *smallest = true;
    if (h->list->count == 0) return DT_OK; /* known already */
    dt_status status = try_wishes(h);      /* none is on */
    if (status != DT_OK || !h->found) return status;
    status = halve(h, 0, h->list->count, false);
    return status == DT_OK ? look_smaller(h, smallest) : status;
}

static void note_wish(dt_refusal *refusal, dt_notice *above, const wish *w)
{
    static const struct {
        dt_notice_code code;
        const char *name;
        dt_kind kind;
    } rows[] = {[WISH_STRINGS] = {DT_NOTICE_WISH_STRINGS, "count", DT_KIND_COUNT},
                [WISH_HOOKLOAD] = {DT_NOTICE_WISH_HOOKLOAD, "hookload", DT_KIND_FORCE},
                [WISH_BOP] = {DT_NOTICE_WISH_BOP, "bore", DT_KIND_DIAMETER},
                [WISH_WELLHEAD] = {DT_NOTICE_WISH_WELLHEAD, "bore", DT_KIND_DIAMETER},
                [WISH_NO_TIEBACKS] = {DT_NOTICE_WISH_NO_TIEBACKS, NULL, DT_KIND_COUNT},
                [WISH_FORBID] = {DT_NOTICE_WISH_FORBID, "od", DT_KIND_DIAMETER}};
    dt_notice *n = dt_notice_below(&refusal->why, above, rows[w->kind].code);
    if (rows[w->kind].name) dt_notice_figure(n, rows[w->kind].name, rows[w->kind].kind, w->value);
    if (n) n->line = w->line;
}

static dt_status note_refusal(const hunt *h, bool smallest, dt_refusal *refusal)
{
    const size_t collision = count_on(h);
    dt_notice *n = dt_notice_add(
        &refusal->why, collision ? DT_NOTICE_NO_OPTION_LEFT : DT_NOTICE_NO_OPTION, DT_NO_STRING);
    if (collision) dt_notice_mark(n, collision > 1 ? "together" : "alone", true);
    dt_notice_mark(n, "not_all", !smallest);
    for (size_t i = 0; i < h->list->count; ++i)
        if (h->on[i]) note_wish(refusal, n, &h->list->items[i]);
    return refusal->why.failed ? DT_E_MEMORY : DT_OK;
}

/** Says why nothing is left: the plan's own refusal, or the wishes that collide. */
static dt_status refuse(const ground *g, const wish_list *list, dt_refusal *refusal)
{
    hunt h = {.list = list, .on = calloc(list->count + 1, sizeof *h.on)};
    bool smallest = true;
    if (!h.on) return DT_E_MEMORY;
    const dt_wish_set none = {.most_pull_n = INFINITY, .bore_m = INFINITY};
    const dt_pipe_choice choice = {.well = g->well, .catalogue = g->catalogue};
    const dt_search_way way = {.by_pressure = dt_pipe_choice_by_pressure(&choice), .exact = true};
    dt_status status = open_search(g, &none, way, &h.search);
    if (status == DT_OK) h.search->existence = true;
    if (status == DT_OK) status = find_collision(&h, &smallest);
    if (status == DT_OK && count_on(&h) == 0) {
        dt_program *program = NULL;
        status = dt_program_plan(g->well, g->catalogue, &program, refusal);
        dt_program_free(program);
    }
    if (status == DT_OK) {
        status = note_refusal(&h, smallest, refusal);
        if (status == DT_OK) status = DT_E_NONE;
    }
    close_search(h.search);
    free(h.on);
    return status;
}

/* ---- options in order ---- */

int dt_option_by_cost(const void *left, const void *right)
{
    const dt_option *a = left, *b = right;
    if (a->cost != b->cost) return a->cost < b->cost ? -1 : 1;
    if (a->steel_kg != b->steel_kg) return a->steel_kg < b->steel_kg ? -1 : 1;
    if (a->days != b->days) return a->days < b->days ? -1 : 1;
    if (a->last_od_m != b->last_od_m) return a->last_od_m > b->last_od_m ? -1 : 1;
    return (int)b->spares - (int)a->spares;
}

bool dt_options_same_structure(const dt_option *a, const dt_option *b)
{
    if (a->count != b->count) return false;
    for (size_t k = 0; k < a->count; ++k) {
        const dt_choice *x = &a->strings[k], *y = &b->strings[k];
        if (x->type != y->type || x->tied_back != y->tied_back ||
            fabs(x->hole_m - y->hole_m) > SAME_DIAMETER_M ||
            fabs(x->pipe->od_m - y->pipe->od_m) > SAME_DIAMETER_M)
            return false;
    }
    return true;
}

dt_status dt_options_find_structures(dt_options *o)
{
    free(o->structures);
    o->structure_count = 0;
    o->structures = calloc(o->count + 1, sizeof *o->structures);
    if (!o->structures) return DT_E_MEMORY;
    for (size_t i = 0; i < o->count; ++i) {
        dt_option *option = &o->items[i];
        size_t at = 0;
        while (at < o->structure_count &&
               !dt_options_same_structure(&o->items[o->structures[at].best], option))
            ++at;
        dt_structure *structure = &o->structures[at];
        if (at == o->structure_count) {
            ++o->structure_count;
            structure->best = i;
        }
        ++structure->count;
        option->structure = at;
        for (size_t k = 0; k < option->count; ++k) {
            double shoe = option->strings[k].shoe_m;
            bool first = structure->count == 1;
            structure->shallowest_m[k] = first ? shoe : fmin(structure->shallowest_m[k], shoe);
            structure->deepest_m[k] = first ? shoe : fmax(structure->deepest_m[k], shoe);
        }
    }
    return DT_OK;
}

static dt_status hand_over(dt_search *s, dt_options *o)
{
    o->items = s->front.items;
    o->count = s->front.count;
    s->front.items = NULL;
    s->front.count = 0;
    qsort(o->items, o->count, sizeof *o->items, dt_option_by_cost);
    o->most_by_wish = s->wishes.most_strings > 0;
    o->seat_count = s->sites.count;
    o->seat_step_m = s->sites.step_m;
    o->latitude = s->latitude;
    o->tier = s->tier;
    o->step_widened = s->sites.step_widened;
    o->bends_left_out = s->sites.bends_left_out;
    o->section_count = s->sites.pair_count;
    o->made = s->made;
    o->dominated = s->dominated;
    o->bounded = s->bounded;
    o->kept = s->kept;
    return dt_options_find_structures(o);
}

dt_status dt_options_search(const dt_well *well, const dt_catalogue *catalogue, dt_options *out,
                            dt_refusal *refusal)
{
    return dt_options_search_watched(well, catalogue, NULL, out, refusal);
}

dt_status dt_options_search_watched(const dt_well *well, const dt_catalogue *catalogue,
                                    const dt_progress *progress, dt_options *out,
                                    dt_refusal *refusal)
{
    const dt_pipe_choice choice = {.well = well, .catalogue = catalogue};
    const dt_search_way way = {.by_pressure = dt_pipe_choice_by_pressure(&choice),
                               .progress = progress};
    return dt_options_search_by(well, catalogue, way, out, refusal);
}

/** Opens a search and runs it; begins again with candidates further apart where it takes too long,
 * as long as they may be. on: as of run_search(). */
static dt_status open_and_run(ground *g, const dt_wish_set *set, dt_search_way way, bool on,
                              dt_search **s, dt_options *out)
{
    for (;;) {
        close_search(*s);
        *s = NULL;
        dt_status status = open_search(g, set, way, s);
        if (status != DT_OK) return status;
        if (dt_sites_can_widen(&(*s)->sites, g->well))
            (*s)->most_work = way.most_work > 0 ? way.most_work : MOST_WORK;
        status = run_search(*s, on, g->none_up_to, &out->fewest_strings, &out->most_strings);
        if (status != DT_E_STOPPED || !((*s)->work > (*s)->most_work)) return status;
        /* nothing found yet: far from the end */
        g->least_step_m = ((*s)->front.count > 0 ? 2 : 4) * (*s)->sites.step_m;
    }
}

/** Asks, pricing nothing, whether there is any program with shoes at exact depths. The search is
 * left in *s. */
static dt_status find_exact(const ground *g, const dt_wish_set *set, dt_search_way way,
                            dt_search **s, bool *found)
{
    way.exact = true;
    close_search(*s);
    *s = NULL;
    dt_status status = open_search(g, set, way, s);
    if (status == DT_OK) (*s)->existence = true;
    if (status == DT_OK) status = find_any(*s);
    *found = status == DT_OK && (*s)->front.count > 0;
    return status;
}

/** Where two numbers of strings gave nothing: asks first whether there is anything, and searches on
 * only then; exact depths come last. */
static dt_status search_on(ground *g, const dt_wish_set *set, dt_search_way way, dt_search **s,
                           dt_options *out)
{
    bool found;
    const bool rounded = dt_sites_rounded(g->well) && !way.exact;
    dt_status status = find_exact(g, set, way, s, &found);
    if (!found) return status;
    way.exact = !rounded;
    g->none_up_to = g->by_size ? 0 : out->most_strings;
    status = open_and_run(g, set, way, true, s, out);
    g->none_up_to = 0;
    if (status != DT_OK || (*s)->front.count > 0 || !rounded) return status;
    out->not_rounded = true;
    way.exact = true;
    return open_and_run(g, set, way, true, s, out);
}

/** The next thing that gives way where nothing is found; false: nothing is left to. */
static bool give_way(ground *g)
{
    if (g->tier == DT_TIER_WANTED)
        g->tier = DT_TIER_LEAST;
    else if (g->latitude < DT_LADDER_ANY)
        ++g->latitude;
    else
        return false;
    return true;
}

/** As near to what the basis prefers as the plan; where that has nothing, further from it. */
static dt_status search_latitudes(ground *g, const dt_wish_set *set, dt_search_way way,
                                  dt_search **s, dt_options *out)
{
    if (g->by_size && !g->planned) { /* is there anything, however far from it? */
        ground widest = *g;
        while (give_way(&widest))
            ;
        bool found;
        const dt_status status = find_exact(&widest, set, way, s, &found);
        if (!found) return status;
    }
    for (;;) {
        dt_status status = open_and_run(g, set, way, false, s, out);
        if (status == DT_OK && (*s)->front.count == 0) status = search_on(g, set, way, s, out);
        if (status != DT_OK || (*s)->front.count > 0 || !give_way(g)) return status;
        out->not_rounded = false;
    }
}

/** There are no seats: the plan says why, which takes long where it looks for what would cure it.
 */
static dt_status refuse_as_plan(const dt_well *well, const dt_catalogue *catalogue,
                                dt_refusal *refusal)
{
    dt_program *program = NULL;
    const dt_status status = dt_program_plan(well, catalogue, &program, refusal);
    dt_program_free(program);
    return status == DT_OK ? DT_E_NONE : status;
}

/** asked: somebody wants to know why there is nothing: what the plan says, or which wishes leave
 * nothing, which takes a search for each set. */
static dt_status search_for(const dt_well *well, const dt_catalogue *catalogue, dt_search_way way,
                            dt_options *out, bool asked, dt_refusal *refusal)
{
    *out = (dt_options){0};
    *refusal = (dt_refusal){0};
    ground g;
    dt_search *s = NULL;
    dt_status status = lay_ground(well, catalogue, &g, refusal);
    if (status == DT_E_NONE) {
        free_ground(&g);
        return asked ? refuse_as_plan(well, catalogue, refusal) : status;
    }
    g.progress = way.progress;
    wish_list list = {0};
    dt_wish_set set = {0};
    if (status == DT_OK) status = list_wishes(&well->wishes, &list);
    if (status == DT_OK) set = pick_wishes(&list, NULL);
    if (status == DT_OK) status = search_latitudes(&g, &set, way, &s, out);
    if (status == DT_OK)
        status = s->front.count > 0 ? hand_over(s, out)
                 : asked            ? refuse(&g, &list, refusal)
                                    : DT_E_NONE;
    close_search(s);
    free_wishes(&list);
    out->planned = g.planned;
    g.planned = NULL;
    free_ground(&g);
    if (status != DT_OK) dt_options_free(out);
    return status;
}

dt_status dt_options_search_by(const dt_well *well, const dt_catalogue *catalogue,
                               dt_search_way way, dt_options *out, dt_refusal *refusal)
{
    dt_refusal unasked = {0};
    if (refusal) return search_for(well, catalogue, way, out, true, refusal);
    const dt_status status = search_for(well, catalogue, way, out, false, &unasked);
    dt_refusal_free(&unasked);
    return status;
}

void dt_options_free(dt_options *options)
{
    if (!options) return;
    free(options->items);
    free(options->structures);
    dt_program_free(options->planned);
    *options = (dt_options){0};
}

/* ---- one option as a program, one program as an option ---- */

static dt_score score_of(const dt_option *o)
{
    return (dt_score){round(o->cost * 100), (int)lround(o->steel_kg * 10),
                      (int)lround(o->days * 24 * 60)};
}

bool dt_option_at_least(const dt_option *a, const dt_option *b)
{
    const dt_score as = score_of(a), bs = score_of(b);
    return dt_score_at_least(a, &as, b, &bs);
}

bool dt_option_dominates(const dt_option *a, const dt_option *b)
{
    return dt_option_at_least(a, b) && !dt_option_at_least(b, a);
}

const dt_pin *dt_option_pin(const dt_well *well, dt_role role, unsigned above)
{
    for (size_t i = 0; i < well->pin_count; ++i)
        if (well->pins[i].role == role && well->pins[i].type != DT_TIEBACK && above-- == 0)
            return &well->pins[i];
    return NULL;
}

static bool pipe_said(const dt_pin *pin)
{
    return isfinite(pin->od_m) || pin->grade || pin->thread;
}

/** Weight, grade and thread: those that the well file pins, and beside them the option's; tapered,
 * of these the thread alone of pipe with a slim connection. */
static void pin_pipe(dt_pin *pin, const dt_pin *before, const dt_pipe *pipe, dt_thread thread,
                     bool tapered)
{
    const bool slim =
        thread != DT_PLAIN_END && dt_nest_largest_od(pipe) <= SLIM_OVER_PIPE * pipe->od_m;
    pin->weight_kgm = tapered ? NAN : pipe->weight_kgm;
    pin->grade = tapered ? NULL : (char *)pipe->grade->name;
    pin->thread = tapered && !slim ? NULL : (char *)dt_pipe_thread_text(pipe, thread);
    if (!before) return;
    if (isfinite(before->weight_kgm)) pin->weight_kgm = before->weight_kgm;
    if (before->grade) pin->grade = before->grade;
    if (before->thread) pin->thread = before->thread;
}

/** before: what the well file pins of the liner; NULL. */
static dt_pin tieback_pin(const dt_well *well, const dt_pin *before, const dt_choice *c,
                          bool tapered)
{
    const dt_pin *own =
        before && before + 1 < well->pins + well->pin_count && before[1].type == DT_TIEBACK
            ? before + 1
            : NULL;
    dt_pin pin = {.role = c->role,
                  .type = DT_TIEBACK,
                  .shoe_m = NAN,
                  .hole_m = NAN,
                  .od_m = c->tie_pipe->od_m,
                  .wear_m = own ? own->wear_m : NAN,
                  .line = own ? own->line : 0,
                  .chosen = !own,
                  .pipe_chosen = !own || !pipe_said(own)};
    pin_pipe(&pin, own, c->tie_pipe, c->tie_thread, tapered);
    return pin;
}

dt_status dt_option_plan_told(const dt_well *well, const dt_catalogue *catalogue,
                              const dt_option *option, bool tapered, dt_designed *designed,
                              dt_option_plan *out, dt_refusal *refusal)
{
    out->well = *well;
    out->program = NULL;
    unsigned ordinal[DT_ROLE_COUNT] = {0};
    size_t count = 0;
    for (size_t k = 0; k < option->count; ++k) {
        const dt_choice *c = &option->strings[k];
        const dt_pin *before = dt_option_pin(well, c->role, ordinal[c->role]++);
        /* a conductor is pinned, too, where pins that say all keep the planner from other strings
         */
        const bool fixed = (k == 0 && !dt_hole_rules_by_size(well)) ||
                           (k > 0 && k + 1 == option->count && !well->last_open);
        dt_pin *pin = &out->pins[count++];
        *pin = (dt_pin){.role = c->role,
                        .type = c->type,
                        .shoe_m = fixed ? NAN : c->shoe_m,
                        .hole_m = c->hole_m,
                        .pilot_m = c->bit_m,
                        .od_m = c->pipe->od_m,
                        .wear_m = before ? before->wear_m : NAN};
        pin_pipe(pin, before, c->pipe, c->thread, tapered);
        pin->chosen = !before || (k > 0 && !fixed && isnan(before->shoe_m));
        pin->pipe_chosen = !before || !pipe_said(before);
        if (c->tied_back) out->pins[count++] = tieback_pin(well, before, c, tapered);
        if (!before) continue;
        pin->cement = before->cement;
        pin->cement_count = before->cement_count;
        pin->line = before->line;
        if (fixed) pin->shoe_m = before->shoe_m;
    }
    if (option->open_hole_m > 0) out->well.last_hole_m = option->open_hole_m;
    out->well.pins = out->pins;
    out->well.pin_count = count;
    out->well.seats.prefer = DT_PREFER_SHALLOWEST; /* it stands as it was found, no surer */
    return dt_program_plan_keeping(&out->well, catalogue, designed, &out->program, refusal);
}

dt_status dt_option_plan_make(const dt_well *well, const dt_catalogue *catalogue,
                              const dt_option *option, bool tapered, dt_option_plan *out)
{
    return dt_option_plan_told(well, catalogue, option, tapered, NULL, out, NULL);
}

/** A search only good for counting what nests. DT_OK or DT_E_MEMORY; close_search() frees it. */
static dt_status open_counting(const dt_well *well, const dt_catalogue *catalogue, dt_search **out)
{
    *out = NULL;
    dt_search *s = calloc(1, sizeof *s);
    if (!s) return DT_E_MEMORY;
    wish_list list;
    dt_status status = list_wishes(&well->wishes, &list);
    if (status != DT_OK) {
        free(s);
        return status;
    }
    s->wishes = pick_wishes(&list, NULL);
    s->sizes_owned = list.forbidden_m; /* goes with the search */
    list.forbidden_m = NULL;
    free_wishes(&list);
    s->choice = (dt_pipe_choice){.well = well, .catalogue = catalogue};
    *out = s;
    return dt_pipe_choice_init(&s->choice);
}

dt_status dt_option_of_program(const dt_program *program, dt_option *out)
{
    dt_search *s = NULL;
    dt_status status = open_counting(program->well, program->catalogue, &s);
    *out = (dt_option){.cost = program->bill.total,
                       .steel_kg = program->bill.steel_kg,
                       .days = program->bill.days,
                       .last_od_m = program->items[program->count - 1].od_m,
                       .count = program->count,
                       .tiebacks = program->seats.tieback_count,
                       .open_hole_m = program->seats.open.given ? program->seats.open.hole_m : 0};
    for (size_t k = 0; k < program->count && k < DT_MOST_STRINGS && status == DT_OK; ++k) {
        const dt_program_string *item = &program->items[k];
        const dt_section *section = &item->string->sections[0];
        const size_t tie = dt_seats_tieback_on(&program->seats, k);
        const dt_section *tied =
            tie == DT_NO_INDEX ? NULL : &program->items[tie].string->sections[0];
        double drift = dt_program_drift(program, k);
        if (tied) drift = fmin(drift, dt_program_drift(program, tie));
        out->strings[k] = (dt_choice){.role = item->seat->role,
                                      .type = item->seat->type,
                                      .shoe_m = item->shoe_tvd_m,
                                      .hole_m = item->hole_m,
                                      .bit_m = item->bit_m,
                                      .pipe = section->pipe,
                                      .thread = section->thread,
                                      .tied_back = tied != NULL,
                                      .tie_pipe = tied ? tied->pipe : NULL,
                                      .tie_thread = tied ? tied->thread : DT_THREAD_COUNT};
        if (k + 1 < program->count)
            out->spares += dt_spares_between(s, drift, program->items[k + 1].bit_m);
    }
    close_search(s);
    return status;
}

/** Most that hangs on the hook when a string is run as its design cases say. */
static double most_pull(const dt_program *program, const dt_string *string)
{
    const dt_trajectory *path = &program->trajectory;
    static const dt_load cases[] = {DT_LOAD_TENSION_RUN, DT_LOAD_TENSION_SHOCK};
    double hanging_n = 0, most_n = 0;
    for (size_t i = string->section_count; i-- > 0;) {
        const dt_section *s = &string->sections[i];
        const double top_m = dt_trajectory_deepest(path, s->top_md_m);
        const dt_load_place place = {s->top_md_m, top_m};
        hanging_n += s->pipe->weight_kgm * DT_STANDARD_GRAVITY *
                     (dt_trajectory_deepest(path, s->base_md_m) - top_m);
        for (size_t k = 0; k < COUNT_OF(cases); ++k) {
            if (!string->load.runs[cases[k]]) continue;
            const dt_load_point at = dt_load_at(&string->load, cases[k], s->pipe, place, hanging_n);
            most_n = fmax(most_n, at.pull_n);
        }
    }
    return most_n;
}

static bool forbidden_size(const dt_wishes *w, double od_m)
{
    for (size_t i = 0; i < w->forbidden_count; ++i)
        if (fabs(w->forbidden[i].od_m - od_m) < SAME_DIAMETER_M) return true;
    return false;
}

bool dt_program_keeps_wishes(const dt_program *program)
{
    const dt_wishes *w = &program->well->wishes;
    if (!w->given) return true;
    double bore_m = INFINITY;
    if (isfinite(w->bop_bore_m)) bore_m = fmin(bore_m, w->bop_bore_m);
    if (isfinite(w->wellhead_bore_m)) bore_m = fmin(bore_m, w->wellhead_bore_m);
    bore_m += SAME_DIAMETER_M;
    if (w->max_strings > 0 && dt_program_strings(program) > w->max_strings) return false;
    for (size_t i = 0; i < dt_program_strings(program); ++i) {
        const dt_program_string *item = &program->items[i];
        const bool tieback = i >= program->count;
        if (forbidden_size(w, item->od_m)) return false;
        if (i >= 2 && (item->largest_od_m > bore_m || (!tieback && item->bit_m > bore_m)))
            return false;
        if (isfinite(w->rig_hookload_n) && most_pull(program, item->string) > w->rig_hookload_n)
            return false;
        if (tieback && w->no_tiebacks && item->seat->pin == DT_NO_INDEX) return false;
    }
    return true;
}

/* ---- contingency ---- */

/** Widest drift of a size and the smallest bit whose hole it goes into; false: none. */
static bool size_nests(const dt_search *s, const dt_offers *size, double *drift_m, double *bit_m)
{
    const dt_catalogue *catalogue = s->choice.catalogue;
    double hole =
        size->largest_od_m + 2 * dt_nest_gap(s->choice.well, size->od_m, size->largest_od_m);
    *drift_m = 0;
    *bit_m = NAN;
    for (size_t i = 0; i < size->count; ++i)
        *drift_m = fmax(*drift_m, size->items[i].drift_m);
    for (size_t i = catalogue->bit_count; i-- > 0;)
        if (catalogue->bits[i].diameter_m >= hole - SAME_DIAMETER_M)
            *bit_m = catalogue->bits[i].diameter_m;
    return !size->welded && size->count > 0 && isfinite(*bit_m);
}

/** Largest pipe at the objective when so many strings follow below a drift; 0: none. */
static double largest_last(const dt_search *s, double drift_m, size_t strings)
{
    double best = 0;
    for (size_t i = 0; i < s->choice.size_count; ++i) {
        const dt_offers *size = &s->choice.sizes[i];
        double drift, bit;
        if (!size_nests(s, size, &drift, &bit) || bit > drift_m + SAME_DIAMETER_M) continue;
        if (drift >= drift_m) continue;
        best = fmax(best, strings == 1 ? size->od_m : largest_last(s, drift, strings - 1));
    }
    return best;
}

static void find_spares(const dt_search *s, double drift_m, double next_bit_m, size_t below,
                        dt_contingency *out)
{
    for (size_t i = 0; i < s->choice.size_count; ++i) {
        const dt_offers *size = &s->choice.sizes[i];
        double drift, bit;
        if (!size_nests(s, size, &drift, &bit) || bit > drift_m + SAME_DIAMETER_M) continue;
        if (drift >= drift_m) continue;
        bool keeps = drift >= next_bit_m - SAME_DIAMETER_M;
        if (keeps && !(size->od_m <= out->od_m)) {
            out->nests = true;
            out->od_m = size->od_m;
            out->hole_m = bit;
        }
        double last = largest_last(s, drift, below);
        if (last > 0 && !(last <= out->last_od_m)) {
            out->nests_smaller = true;
            out->smaller_od_m = size->od_m;
            out->smaller_hole_m = bit;
            out->last_od_m = last;
        }
    }
}

dt_status dt_contingency_find(const dt_program *program, size_t interval, dt_contingency *out)
{
    const dt_interval *bed = &program->well->intervals[interval];
    *out = (dt_contingency){.above = DT_NO_INDEX,
                            .in_hole_of = DT_NO_INDEX,
                            .hole_m = NAN,
                            .od_m = NAN,
                            .smaller_od_m = NAN,
                            .smaller_hole_m = NAN,
                            .last_od_m = NAN};
    size_t k = 0;
    while (k < program->count && program->items[k].shoe_tvd_m < bed->base_m - SAME_DEPTH_M)
        ++k;
    if (k == program->count) return DT_OK; /* the well does not reach its base */
    out->in_hole_of = k;
    if (k == 0) return DT_OK;
    out->above = k - 1;
    dt_search *s = NULL;
    dt_status status = open_counting(program->well, program->catalogue, &s);
    if (status == DT_OK) {
        const size_t tie = dt_seats_tieback_on(&program->seats, k - 1);
        double drift = dt_program_drift(program, k - 1);
        if (tie != DT_NO_INDEX) drift = fmin(drift, dt_program_drift(program, tie));
        find_spares(s, drift, program->items[k].bit_m, program->count - k, out);
    }
    close_search(s);
    return status;
}

void dt_option_plan_free(dt_option_plan *plan)
{
    if (!plan) return;
    dt_program_free(plan->program);
    plan->program = NULL;
}
