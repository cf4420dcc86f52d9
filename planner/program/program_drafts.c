/* SPDX-License-Identifier: MIT */
/* Draft after draft, each planned in full, until one can be run as a whole (docs/nest.md). */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "numbers.h"
#include "program_parts.h"
#include "same.h"

/** Drafts that are planned in full for one well; of these for one change that might cure it. */
enum { MOST_DRAFTS = 32, CURE_DRAFTS = 4 };

/** First step of a shoe that has to stand deeper, where the well rounds to none; each next one is
 * twice as long, and the last is halved again. */
#define FIRST_STEP_M 15.0

/* A surface string is short where its tail is this part of it. */
#define MUCH_TAIL (1 / 3.0)

/* A limit holds from this much above the base it was found at: ladders stand before rounding. */
#define BASE_SLACK_M 0.05

bool dt_learned_cut(dt_learned *learned, const dt_ladder *ladder, dt_ladder_cut cut)
{
    if (learned->known.count == DT_MOST_LEARNED) return false;
    learned->cuts[learned->known.count++] = cut;
    learned->last = *ladder;
    learned->known.after = &learned->last;
    return true;
}

/** All that stands while drafts are planned. */
typedef struct search {
    const dt_well *well;
    const dt_catalogue *catalogue;
    size_t most; /* drafts */
    dt_learned learned;
    dt_designed own;                /* strings, unless others keep them */
    double step_m[DT_MOST_LEARNED]; /* of each limit: how far below a failure the next was tried */
    double excess_pa[DT_MOST_LEARNED];     /* and by how much the rock was broken, */
    double failed_base_m[DT_MOST_LEARNED]; /* in a hole down to here */
    double tail_shoe_m, tail_excess_pa;    /* of the surface shoe that was last sent deeper */
    dt_program *first;                     /* the first draft, which was not runnable */
    dt_program *nearest;                   /* that with the fewest stoppers; may be the first */
} search;

/** Freed with close_search(); NULL: out of memory. */
static search *open_search(const dt_well *well, const dt_catalogue *catalogue, size_t most,
                           dt_designed *designed)
{
    search *s = calloc(1, sizeof *s);
    if (!s) return NULL;
    *s = (search){.well = well, .catalogue = catalogue, .most = most};
    s->learned.limits = calloc(DT_MOST_LEARNED, sizeof *s->learned.limits);
    s->learned.known.items = s->learned.cuts;
    s->learned.designed = designed ? designed : &s->own;
    s->learned.known.jobs.items = s->learned.limits;
    if (s->learned.limits) return s;
    free(s);
    return NULL;
}

static void close_search(search *s)
{
    if (s->nearest != s->first) dt_program_free(s->nearest);
    dt_program_free(s->first);
    dt_ladder_nests_free(&s->learned.nests);
    dt_designed_free(&s->own);
    free(s->learned.limits);
    free(s);
}

/** Keeps a draft that is not runnable: the first one, and the nearest. */
static void keep(search *s, dt_program *p)
{
    if (!s->first) {
        s->first = s->nearest = p;
        return;
    }
    if (dt_program_stoppers(p) >= dt_program_stoppers(s->nearest)) {
        dt_program_free(p);
        return;
    }
    if (s->nearest != s->first) dt_program_free(s->nearest);
    s->nearest = p;
}

/* ---- what a stopper teaches ---- */

static bool breaks_rock(dt_notice_code code)
{
    return code == DT_NOTICE_SURGE || code == DT_NOTICE_CEMENT_BREAKS_FORMATION;
}

/** Would less pipe in the hole help? */
static bool eased_by_liner(dt_notice_code code)
{
    return breaks_rock(code) || code == DT_NOTICE_RIG_OVERLOADED ||
           code == DT_NOTICE_DRAG_HOLDS_STRING;
}

static bool type_is_said(const dt_program *p, size_t string)
{
    const size_t pin = p->seats.items[string].pin;
    return pin != DT_NO_INDEX && p->well->pins[pin].type != DT_TYPE_UNSAID;
}

/** Strings of a draft that stop and could be liners. */
static unsigned liners_for(const dt_program *p)
{
    unsigned liners = 0;
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        const bool drilled = n->string < p->seats.count && n->string >= 2;
        if (!eased_by_liner(n->code) || !drilled || !p->well->seats.liners) continue;
        const bool full = p->seats.items[n->string].type == DT_FULL;
        if (full && !type_is_said(p, n->string)) liners |= 1u << n->string;
    }
    return liners;
}

static double first_step(const dt_well *well)
{
    const double step_m = well->seats.round_to_m;
    return isfinite(step_m) && step_m > 0 ? step_m : FIRST_STEP_M;
}

/** The limit that was learned before for the same hole and pipe; DT_NO_INDEX: none. */
static size_t limit_of(const search *s, size_t string, const dt_rung *rung)
{
    for (size_t i = 0; i < s->learned.known.jobs.count; ++i) {
        const dt_job_limit *l = &s->learned.limits[i];
        if (l->string == string && fabs(l->hole_m - rung->hole_m) < SAME_DIAMETER_M &&
            fabs(l->od_m - rung->od_m) < SAME_DIAMETER_M)
            return i;
    }
    return DT_NO_INDEX;
}

/** What failed under a shoe that was too high, and where. n NULL: not the job. */
static void set_failure(dt_job_limit *limit, double failed_m, const dt_notice *n)
{
    const dt_figure *weak = n ? dt_notice_find_figure(n, "at_tvd") : NULL;
    limit->failed_m = failed_m;
    limit->weak_m = weak ? weak->value : failed_m;
    limit->stop = !n                                             ? DT_STOP_OTHER
                  : n->code == DT_NOTICE_CEMENT_BREAKS_FORMATION ? DT_STOP_CEMENT
                                                                 : DT_STOP_RUNNING;
}

/** By how much a job breaks the rock, Pa. */
static double excess_of(const dt_notice *n)
{
    const dt_figure *there = dt_notice_find_figure(n, "pressure");
    const dt_figure *borne = dt_notice_find_figure(n, "fracture");
    return there && borne ? there->value - borne->value : INFINITY;
}

/** How much further a shoe must move that has moved so far, as the last two drafts that broke the
 * rock have it: what they break it by falls on a straight line. 0: moving does not help. */
static double move_on(double moved_m, double before_pa, double excess_pa)
{
    const double fell_pa = before_pa - excess_pa;
    return fell_pa > 0 && moved_m > 0 && isfinite(fell_pa) ? excess_pa * moved_m / fell_pa : 0;
}

/** How much shorter a hole under a fixed shoe must be. 0: a shorter hole does not help, or none is
 * left. */
static double shorter_by(const search *s, size_t at, double top_m, double base_m, double excess_pa)
{
    const double by_m = move_on(s->failed_base_m[at] - base_m, s->excess_pa[at], excess_pa);
    return by_m < base_m - top_m ? by_m : 0;
}

/** A hole of a string that was drilled in vain: the next one begins deeper or, under a shoe that is
 * fixed, ends higher. false: nothing can be learned. */
static bool learn_limit(search *s, const dt_program *p, const dt_notice *n)
{
    dt_learned *k = &s->learned;
    const dt_rung *rung = &p->ladder.rungs[n->string];
    const dt_seat *seat = &p->seats.items[n->string];
    const double top_m = p->seats.items[n->string - 1].shoe_m;
    const double base_m = fmin(seat->shoe_m, seat->exact_m);
    const bool under_fixed = dt_shoe_is_fixed(p, n->string - 1);
    const double excess_pa = excess_of(n);
    const size_t before = limit_of(s, n->string, rung);
    size_t at = before;
    if (under_fixed && dt_shoe_is_fixed(p, n->string)) return false;
    if (before == DT_NO_INDEX) {
        if (k->known.jobs.count == DT_MOST_LEARNED) return false;
        at = k->known.jobs.count++;
        s->step_m[at] = first_step(s->well);
        k->limits[at] = (dt_job_limit){
            .string = n->string, .hole_m = rung->hole_m, .od_m = rung->od_m, .base_m = INFINITY};
    } else {
        const dt_job_limit *l = &k->limits[at];
        if (top_m < l->top_m - SAME_DEPTH_M && base_m > l->base_m + SAME_DEPTH_M)
            return false; /* it was kept all the same */
        if (!under_fixed) s->step_m[at] *= 2;
    }
    dt_job_limit *limit = &k->limits[at];
    double higher_m = s->step_m[at] - BASE_SLACK_M;
    if (under_fixed && before != DT_NO_INDEX) {
        const double by_m = shorter_by(s, at, top_m, base_m, excess_pa);
        /* no shorter hole of this size does: none of it is tried again under this shoe */
        higher_m = by_m > 0 ? fmax(s->step_m[at], by_m) : base_m - top_m;
        s->step_m[at] *= 2;
    }
    s->excess_pa[at] = excess_pa;
    s->failed_base_m[at] = base_m;
    limit->top_m = top_m + s->step_m[at];
    limit->base_m = fmin(limit->base_m, base_m - higher_m);
    set_failure(limit, top_m, n);
    return true;
}

/** The size of a string above its next hole, not to be tried again. */
static bool learn_size(search *s, const dt_program *p, size_t string)
{
    const size_t pin = p->seats.items[string].pin;
    if (pin != DT_NO_INDEX && isfinite(p->well->pins[pin].od_m)) return false;
    const double next_m = string + 1 < p->ladder.count ? p->ladder.rungs[string + 1].hole_m : 0;
    return dt_learned_cut(&s->learned, &p->ladder,
                          (dt_ladder_cut){string, p->ladder.rungs[string].od_m, next_m});
}

/** Pressure of the slurries of a job at rest, when all is pumped, Pa; nothing above them counts. */
static double slurries_at_rest(const dt_program *p, const dt_cement *c, double tvd_m)
{
    double pressure_pa = 0;
    for (size_t i = 0; i < c->part_count; ++i) {
        const dt_cement_part *part = &c->parts[i];
        const double base_m = dt_trajectory_deepest(&p->trajectory, part->base_md_m);
        pressure_pa += part->slurry.density_kgm3 * DT_STANDARD_GRAVITY *
                       fmax(fmin(base_m, tvd_m) - part->top_tvd_m, 0);
    }
    return pressure_pa;
}

/** Do the slurries of a surface string break the rock even at rest? They have to reach the surface,
 * so no shorter hole and no slower pump helps. */
static bool too_heavy_at_rest(const dt_program *p, const dt_notice *n)
{
    if (n->code != DT_NOTICE_CEMENT_BREAKS_FORMATION || n->string != 1) return false;
    const dt_cement *c = &p->jobs[n->string].cement;
    return slurries_at_rest(p, c, c->tight.tvd_m) > c->tight.fracture_pa;
}

/** Where the surface shoe must stand for light lead, and not the heavy tail, to stand on the rock
 * that breaks. 0: it does already. */
static double below_tail(const dt_program *p)
{
    const dt_cement *c = &p->jobs[1].cement;
    double tail_top_m = INFINITY, base_md_m = -INFINITY;
    for (size_t i = 0; i < c->part_count; ++i) {
        if (c->parts[i].base_md_m <= base_md_m) continue;
        base_md_m = c->parts[i].base_md_m;
        tail_top_m = c->parts[i].top_tvd_m;
    }
    /* a long string has light lead above its tail as it is */
    const double shoe_m = p->seats.items[1].shoe_m, ground_m = dt_well_ground_m(p->well);
    if (shoe_m - tail_top_m < MUCH_TAIL * (shoe_m - ground_m)) return 0;
    if (!(tail_top_m < c->tight.tvd_m - SAME_DEPTH_M)) return 0;
    return shoe_m + c->tight.tvd_m - tail_top_m;
}

/** How deep the surface shoe must stand where going deeper has helped before. 0: it has not, or so
 * deep that it would be another string. */
static double further_down(const search *s, double shoe_m, double excess_pa)
{
    if (!(s->tail_shoe_m > 0)) return 0;
    double by_m = move_on(shoe_m - s->tail_shoe_m, s->tail_excess_pa, excess_pa);
    if (by_m <= 0) return 0;
    by_m = fmax(by_m, first_step(s->well));
    return by_m < shoe_m - dt_well_ground_m(s->well) ? shoe_m + by_m : 0;
}

/** The cement of the surface string breaks the rock that its heavy tail stands on: the shoe goes
 * down. false: that does not help, or the shoe is fixed. */
static bool learn_tail(search *s, const dt_program *p, const dt_notice *n)
{
    if (n->code != DT_NOTICE_CEMENT_BREAKS_FORMATION || n->string != 1 || dt_shoe_is_fixed(p, 1))
        return false;
    const double excess_pa = excess_of(n), shoe_m = p->seats.items[1].shoe_m;
    double *least_m = &s->learned.known.jobs.surface_least_m;
    const double deeper_m = fmax(below_tail(p), further_down(s, shoe_m, excess_pa));
    if (deeper_m <= *least_m + SAME_DEPTH_M || deeper_m > s->well->objective_m - 1) return false;
    *least_m = deeper_m;
    s->tail_shoe_m = shoe_m;
    s->tail_excess_pa = excess_pa;
    return true;
}

/** Is it the job that breaks the rock by most in its hole? What a hole teaches is learned once:
 * both its running and its cement may break it. */
static bool is_worst_break(const dt_program *p, const dt_notice *n)
{
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *other = &p->notices.items[i];
        const double more_pa = excess_of(other) - excess_of(n);
        if (other == n || other->string != n->string || !breaks_rock(other->code)) continue;
        if (more_pa > 0 || (!(more_pa < 0) && other < n)) return false;
    }
    return true;
}

/** Takes away what stopped a draft. false: nothing of it can be changed. */
static bool learn(search *s, const dt_program *p)
{
    bool learned = false;
    if (p->ladder.count == 0) return true; /* decided in turn: next, all together */
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        if (dt_notice_gravity(n->code) != DT_STOPPER || n->string == DT_NO_STRING) continue;
        if (learn_tail(s, p, n)) {
            learned = true;
            continue;
        }
        if (too_heavy_at_rest(p, n)) return false;
        if (breaks_rock(n->code) && !is_worst_break(p, n)) continue;
        const bool tieback = n->string >= p->seats.count;
        const size_t string = tieback ? p->seats.items[n->string].ties : n->string;
        const bool moved = breaks_rock(n->code) && !tieback && string > 0 && learn_limit(s, p, n);
        learned = learned || moved;
        if (!moved && learn_size(s, p, string)) learned = true;
    }
    if (learned) {
        s->learned.last = p->ladder;
        s->learned.known.after = &s->learned.last;
    }
    return learned;
}

/* ---- one draft after the other ---- */

/** Plans the next draft. DT_OK with *out; DT_E_NONE: nothing is left. */
static dt_status next_draft(search *s, dt_program **out, dt_refusal *refusal)
{
    const dt_status status = dt_program_draft(s->well, s->catalogue, &s->learned, out, refusal);
    if (status == DT_OK) ++s->learned.drafts;
    return status;
}

/** A ladder planned once more, with liners in some places. *out NULL: that is no program. */
static dt_status plan_again(search *s, const dt_ladder *ladder, unsigned liners, dt_program **out)
{
    dt_refusal none = {0};
    *out = NULL;
    s->learned.again = ladder;
    s->learned.liners = liners;
    const dt_status status = next_draft(s, out, &none);
    s->learned.again = NULL;
    s->learned.liners = 0;
    dt_refusal_free(&none);
    return status == DT_E_NONE ? DT_OK : status;
}

/** The same ladder with liners where that may help: those that stop, then those that stop with
 * them. *out NULL: it does not. */
static dt_status try_liners(search *s, const dt_program *p, dt_program **out)
{
    *out = NULL;
    unsigned liners = p->ladder.count > 0 ? liners_for(p) : 0, more = liners;
    dt_status status = DT_OK;
    while (more != 0 && status == DT_OK) {
        dt_program *hung = NULL;
        status = plan_again(s, &p->ladder, liners, &hung);
        if (hung && dt_program_runnable(hung)) {
            *out = hung;
            return status;
        }
        more = hung ? liners_for(hung) & ~liners : 0;
        liners |= more;
        dt_program_free(hung);
    }
    return status;
}

/** Drafts until one closes, *out; NULL: none does. */
static dt_status close_drafts(search *s, dt_program **out, bool *ended, dt_refusal *refusal)
{
    *out = NULL;
    *ended = true;
    for (;;) {
        dt_program *p = NULL, *hung = NULL;
        dt_status status = next_draft(s, &p, refusal);
        if (status == DT_E_NONE && s->first) {
            *ended = false;
            return DT_OK;
        }
        if (status != DT_OK) return status;
        if (dt_program_runnable(p)) {
            *out = p;
            return DT_OK;
        }
        status = try_liners(s, p, &hung);
        const bool again = status == DT_OK && !hung && s->learned.drafts < s->most && learn(s, p);
        keep(s, p);
        *out = hung;
        if (!again) return status;
    }
}

/** What breaks the rock in the hole of a string; NULL: neither its running nor its cement does. */
static const dt_notice *job_failure(const dt_program *p, size_t string)
{
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        if (n->string == string && breaks_rock(n->code)) return n;
    }
    return NULL;
}

/** A limit of a program on its way back up, and what is known of it. */
typedef struct way_back {
    size_t limit;
    double good_m; /* the limit that the program stands on */
    double bad_m;  /* a shoe that was too high */
} way_back;

/** Is a draft with a higher shoe as good as the best: nothing more stops it, nor the job? */
static bool is_no_worse(const dt_program *p, const dt_program *best, size_t string)
{
    return dt_program_stoppers(p) <= dt_program_stoppers(best) &&
           (!job_failure(p, string) || job_failure(best, string));
}

/** The sizes of the best once more, with a limit that asks for less. Other sizes that a higher shoe
 * allows again have had their turn. *stays: it is no worse, and the best then. */
static dt_status with_limit(search *s, way_back *way, double limit_m, dt_program **best,
                            bool *stays)
{
    dt_program *p = NULL;
    const dt_ladder *ladder = &(*best)->ladder;
    dt_job_limit *limit = &s->learned.limits[way->limit];
    limit->top_m = limit_m;
    const dt_status status = plan_again(s, ladder, ladder->liners, &p);
    *stays = status == DT_OK && p && is_no_worse(p, *best, limit->string);
    if (*stays) {
        way->good_m = limit_m;
    } else {
        way->bad_m = p ? fmax(p->seats.items[limit->string - 1].shoe_m, limit_m) : limit_m;
        set_failure(limit, way->bad_m, p ? job_failure(p, limit->string) : NULL);
    }
    dt_program *worse = *stays ? *best : p;
    if (*stays) *best = p;
    dt_program_free(worse);
    return status;
}

/** A limit on the rounding step that is no harder: shoes stand there alone. */
static double limit_on_step(const search *s, double limit_m)
{
    const double step_m = s->well->seats.round_to_m;
    return isfinite(step_m) && step_m > 0 ? step_m * ceil((limit_m - SAME_DEPTH_M) / step_m)
                                          : limit_m;
}

/** Moves a shoe that a limit has put deeper back up, as far as the job still can be done. What the
 * limit was learned from may have had other pipe above, so where it failed is tried once more. */
static dt_status move_back(search *s, size_t at, dt_program **best)
{
    const double step_m = first_step(s->well);
    const dt_job_limit was = s->learned.limits[at];
    const double failed_m[] = {was.failed_m, 0};
    way_back way = {.limit = at, .good_m = was.top_m};
    bool stays = true;
    dt_status status = DT_OK;
    for (int i = 0; i < 2 && stays && status == DT_OK; ++i)
        status = with_limit(s, &way, failed_m[i], best, &stays);
    if (stays) return status;
    while (status == DT_OK) {
        const double good_m = limit_on_step(s, way.good_m);
        if (!(good_m - way.bad_m > 1.5 * step_m)) break;
        const double half_m = step_m * fmax(1, floor((good_m - way.bad_m) / 2 / step_m));
        status = with_limit(s, &way, way.bad_m + half_m, best, &stays);
    }
    const dt_job_limit *said = &(*best)->limits[at], *found = &s->learned.limits[at];
    const bool same = said->stop == found->stop && said->weak_m == found->weak_m;
    /* once more, so that it tells what failed nearest above it */
    if (status == DT_OK && !same) status = with_limit(s, &way, way.good_m, best, &stays);
    s->learned.limits[at].top_m = way.good_m;
    return status;
}

/** Was the hole of a program begun because of a limit? */
static bool binds(const dt_program *p, const dt_job_limit *l)
{
    if (l->string >= p->seats.count || p->ladder.count == 0) return false;
    const dt_rung *rung = &p->ladder.rungs[l->string];
    return fabs(rung->hole_m - l->hole_m) < SAME_DIAMETER_M &&
           fabs(rung->od_m - l->od_m) < SAME_DIAMETER_M;
}

/* ---- what is said of it ---- */

/** The stopper that a change of a string cured: one of the string or of that below it; of the
 * number of strings, the first. NULL: none of it. */
static const dt_notice *cured(const dt_program *first, size_t string)
{
    for (size_t i = 0; i < first->notices.count; ++i) {
        const dt_notice *n = &first->notices.items[i];
        if (dt_notice_gravity(n->code) != DT_STOPPER) continue;
        if (string == DT_NO_STRING || n->string == string || n->string == string + 1) return n;
    }
    return NULL;
}

/** What had stopped, where it was this or the next string. */
static void note_stopped(dt_program *p, const dt_program *first, dt_notice *n)
{
    const dt_notice *why = n ? cured(first, n->string) : NULL;
    char name[32];
    dt_notice_mark(n, "along", !why);
    if (!why || why->string == DT_NO_STRING) return;
    dt_program_string_name(first, why->string, name, sizeof name);
    dt_notice_name(n, "stopped", name);
    if (dt_program_strings(p) == dt_program_strings(first))
        dt_notice_copy_below(&p->notices, n, why);
    else
        dt_notice_copy_of_other(&p->notices, n, why);
}

/** What was changed of a string. */
static void note_repaired_string(dt_program *p, const dt_program *first, size_t i)
{
    const dt_program_string *now = &p->items[i], *was = &first->items[i];
    const bool resized = fabs(now->od_m - was->od_m) > SAME_DIAMETER_M ||
                         fabs(now->hole_m - was->hole_m) > SAME_DIAMETER_M;
    const bool surest = now->seat->why.rule == DT_RULE_SUREST;
    const bool moved = !surest && fabs(now->shoe_tvd_m - was->shoe_tvd_m) > SAME_DEPTH_M;
    const bool retyped = now->seat->type != was->seat->type;
    if (!resized && !moved && !retyped) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_DRAFT_REPAIRED, i);
    if (resized) {
        dt_notice_figure(n, "od", DT_KIND_DIAMETER, now->od_m);
        dt_notice_figure(n, "hole", DT_KIND_DIAMETER, now->hole_m);
        dt_notice_figure(n, "od_before", DT_KIND_DIAMETER, was->od_m);
        dt_notice_figure(n, "hole_before", DT_KIND_DIAMETER, was->hole_m);
    }
    if (moved) {
        dt_notice_figure(n, "shoe_tvd", DT_KIND_LENGTH, now->shoe_tvd_m);
        dt_notice_figure(n, "shoe_before", DT_KIND_LENGTH, was->shoe_tvd_m);
    }
    dt_notice_mark(n, "both", resized && moved);
    dt_notice_mark(n, "retyped", retyped && (resized || moved));
    if (retyped) dt_notice_mark(n, now->seat->type == DT_LINER ? "liner" : "full", true);
    note_stopped(p, first, n);
}

/** How a program differs from the first draft, and what that cured. */
static void note_repairs(dt_program *p, const dt_program *first)
{
    if (p->count == first->count) {
        for (size_t i = 0; i < p->count; ++i)
            note_repaired_string(p, first, i);
        return;
    }
    /* strings do not answer to one another */
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_DRAFT_REPAIRED, DT_NO_STRING);
    dt_notice_number(n, "strings", (double)p->count);
    dt_notice_number(n, "strings_before", (double)first->count);
    note_stopped(p, first, n);
}

/* ---- what would cure it ---- */

dt_status dt_program_closes(const dt_well *changed, const dt_catalogue *catalogue,
                            dt_learned *lends, bool *yes)
{
    search *s = open_search(changed, catalogue, CURE_DRAFTS, lends->designed);
    dt_program *p = NULL;
    bool ended;
    *yes = false;
    if (!s) return DT_E_MEMORY;
    s->learned.nests = lends->nests; /* lent */
    const dt_status status = close_drafts(s, &p, &ended, NULL);
    lends->nests = s->learned.nests;
    s->learned.nests = (dt_ladder_nests){0};
    *yes = p && dt_ladder_is_usual(changed, p->ladder.latitude);
    dt_program_free(p);
    close_search(s);
    return status == DT_E_NONE ? DT_OK : status;
}

/** Is what stops a draft the rock under the conductor alone, which a deeper one would cover? */
static bool conductor_may_cure(const dt_program *p)
{
    bool breaks = false;
    for (size_t i = 0; i < p->notices.count; ++i) {
        const dt_notice *n = &p->notices.items[i];
        const dt_figure *at = dt_notice_find_figure(n, "at_tvd");
        if (dt_notice_gravity(n->code) != DT_STOPPER) continue;
        if (n->string != 1 || !breaks_rock(n->code) || !at) return false;
        breaks = breaks || at->value < p->seats.items[0].shoe_m + SAME_DEPTH_M;
    }
    for (size_t i = 0; i < p->well->pin_count; ++i)
        if (p->well->pins[i].role == DT_CONDUCTOR && isfinite(p->well->pins[i].shoe_m))
            return false;
    return breaks && isfinite(dt_seats_conductor_m(p->well));
}

/** Says of the nearest draft why no other one comes after it, and what would cure it. */
static dt_status note_no_draft(search *s, dt_program *p, size_t drafts, bool ended)
{
    double deeper_m = NAN;
    if (conductor_may_cure(p)) {
        const dt_status status = dt_program_deeper_conductor(s->well, s->catalogue, &s->learned,
                                                             first_step(s->well), &deeper_m);
        if (status != DT_OK) return status;
    }
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_NO_DRAFT_CLOSES, DT_NO_STRING);
    const bool one = drafts == 1;
    dt_notice_mark(n, "one", one);
    if (!one) dt_notice_number(n, "drafts", (double)drafts);
    dt_notice_mark(n, ended ? "ended" : "looked", true);
    if (isfinite(deeper_m)) {
        dt_notice *cure = dt_notice_below(&p->notices, n, DT_NOTICE_CLOSES_WITH_CONDUCTOR);
        dt_notice_figure(cure, "deeper", DT_KIND_LENGTH, deeper_m);
        if (cure) cure->line = p->well->conductor.line;
    }
    return DT_OK;
}

/* ---- all of it ---- */

/** Moves back all shoes of a program that a limit put deeper, which then stands on limits of its
 * own alone. */
static dt_status move_all_back(search *s, dt_program **p)
{
    dt_job_limits *known = &s->learned.known.jobs;
    known->count = (*p)->limit_count;
    known->surface_least_m = (*p)->ladder.rungs[1].rules.jobs.surface_least_m;
    if (known->count > 0)
        memcpy(s->learned.limits, (*p)->limits, known->count * sizeof *s->learned.limits);
    dt_status status = DT_OK;
    for (size_t i = 0; i < known->count && status == DT_OK; ++i)
        if (binds(*p, &s->learned.limits[i]) &&
            !dt_shoe_is_fixed(*p, s->learned.limits[i].string - 1))
            status = move_back(s, i, p);
    return status;
}

/** The best once more, its shoes a part of the way to where they are surest. *out NULL: that is no
 * program. */
static dt_status part_of_the_way(search *s, const dt_program *best, const dt_surest *surest,
                                 double part, dt_program **out)
{
    dt_ladder steered = best->ladder;
    steered.steered = true;
    for (size_t k = 1; k < best->seats.count; ++k) {
        const double from_m = best->seats.items[k].shoe_m;
        steered.wanted_m[k] = from_m + part * (surest->shoes_m[k] - from_m);
    }
    return plan_again(s, &steered, steered.liners, out);
}

/** A program on its way to be the surest. */
typedef struct surer {
    dt_program *plain; /* as its shoes have it; owned unless it is the cheapest */
    dt_program *firm;  /* the same with some pipe that bears more; NULL: none does */
    dt_asked asked;    /* of the one that stands */
    dt_firmed firmed[DT_MOST_LADDER];
    size_t firmed_count;
} surer;

static dt_program *standing(const surer *c)
{
    return c->firm ? c->firm : c->plain;
}

/** What a search of the surest is held to. */
typedef struct within {
    const dt_program *cheapest;
    bool at_any_price; /* whatever its basis gives for certainty */
} within;

static bool affordable(const within *w, const dt_program *p)
{
    return w->at_any_price || dt_surest_affordable(p, w->cheapest);
}

/** A string and the tie-back on it. */
static dt_string_set with_tieback(const dt_program *p, size_t string)
{
    const size_t tie = dt_seats_tieback_on(&p->seats, string);
    const dt_string_set one = 1;
    return one << string | (tie == DT_NO_INDEX ? 0 : one << tie);
}

/** One string's pipe once more, chosen for loads that are a part larger: kept where more wells hold
 * by all stages. *better: it is. */
static dt_status firm_by(search *s, const within *w, size_t string, double spare, surer *c,
                         bool *better)
{
    dt_program *p = NULL;
    dt_asked asked;
    const dt_program *now = standing(c);
    dt_ladder ladder = now->ladder;
    ladder.rungs[string].spare = spare;
    *better = false;
    dt_status status = plan_again(s, &ladder, ladder.liners, &p);
    if (status != DT_OK || !p) return status;
    if (!dt_program_runnable(p) || !affordable(w, p)) {
        dt_program_free(p);
        return DT_OK;
    }
    status = dt_asked_copy(&c->asked, &asked);
    if (status == DT_OK) status = dt_asked_ask(p, with_tieback(p, string), &asked);
    *better = status == DT_OK && asked.held > c->asked.held;
    if (*better) {
        c->firmed[c->firmed_count++] = (dt_firmed){string, c->asked.held, asked.held,
                                                   dt_program_price(p) / dt_program_price(now) - 1};
        dt_asked_free(&c->asked);
        c->asked = asked;
        dt_program_free(c->firm);
        c->firm = p;
    } else {
        dt_asked_free(&asked);
        dt_program_free(p);
    }
    return status;
}

/** Firmer pipe for one string after the other, that which fails in most wells first: for all wells
 * in which it fails, or as large a part of them as the price allows. */
static dt_status firm_up(search *s, const within *w, surer *c)
{
    static const double parts[] = {1, 0.9, 0.75, 0.5, 0.25};
    dt_string_set done = 0;
    dt_status status = dt_asked_ask(c->plain, DT_ALL_STRINGS, &c->asked);
    while (status == DT_OK) {
        const size_t string = dt_asked_weakest(&c->asked, c->plain->ladder.count, done);
        if (string == DT_NO_INDEX) break;
        done |= (dt_string_set)1 << string;
        double tried = 0;
        bool better = false;
        for (size_t i = 0; i < COUNT_OF(parts) && !better && status == DT_OK; ++i) {
            const double spare = dt_asked_spare(&c->asked, string, parts[i]);
            if (!(spare > 0) || spare == tried) continue;
            tried = spare;
            status = firm_by(s, w, string, spare, c, &better);
        }
    }
    return status;
}

static dt_status begin_surer(dt_program *p, const dt_trials *trials, surer *out)
{
    *out = (surer){.plain = p};
    return dt_asked_begin(p, trials, DT_ASKED_WELLS, &out->asked);
}

/** The cheapest program, or the one a comparison has it beside, is others'. */
static void free_surer(const within *w, surer *c)
{
    if (c->plain != w->cheapest) dt_program_free(c->plain);
    dt_program_free(c->firm);
    dt_asked_free(&c->asked);
}

/** The program with its shoes where they are surest by the rules of seats, or as far towards it as
 * it closes and its price allows. *out NULL: none is surer. */
static dt_status move_shoes(search *s, const within *w, dt_surest *surest, dt_program **out)
{
    dt_program *p = NULL;
    *out = NULL;
    dt_status status = dt_surest_find(w->cheapest, surest);
    if (status != DT_OK) return status == DT_E_NONE ? DT_OK : status;
    for (double part = 1; part > 0.2 && !p && status == DT_OK; part /= 2) {
        status = part_of_the_way(s, w->cheapest, surest, part, &p);
        if (!p) continue;
        if (dt_program_runnable(p) && affordable(w, p) &&
            dt_program_held(p, &surest->trials) > surest->before)
            break;
        dt_program_free(p);
        p = NULL;
    }
    *out = p;
    return status;
}

/** May a program whose shoes stand elsewhere hold in more wells by all stages? Never in more than
 * by the rules of seats. */
static bool may_be_surer(const dt_program *p, const surer *than)
{
    size_t held = 0;
    for (size_t i = 0; i < than->asked.of; ++i)
        held += dt_program_holds_in(p, &than->asked.trials->items[i].window);
    return held > than->asked.held;
}

/** Says of the surest why it is, and lets the others go. */
static void choose_surer(const within *w, const dt_surest *surest, surer *c, dt_program **best)
{
    dt_program *p = standing(c);
    if (c->plain != w->cheapest) dt_surest_note(p, w->cheapest, surest);
    for (size_t i = 0; i < c->firmed_count; ++i)
        dt_firmer_note(p, c->plain, &c->firmed[i], &c->asked);
    dt_asked_note(p, &c->asked);
    if (p == *best) return;
    if (c->firm)
        c->firm = NULL;
    else
        c->plain = NULL;
    dt_program *cheapest = *best;
    *best = p;
    if (c->plain == cheapest) c->plain = NULL;
    dt_program_free(cheapest);
}

/** Moves the shoes of a program to where they are surest, and gives it pipe that bears more where
 * that is what breaks; the program as it was, with such pipe, if that is surer by all stages. */
static dt_status move_to_surest(search *s, bool at_any_price, dt_program **best)
{
    dt_surest surest;
    const within w = {*best, at_any_price};
    surer moved = {0}, stays = {0};
    dt_program *p = NULL;
    if (!dt_surest_asked(*best)) return DT_OK;
    dt_status status = dt_surest_open(*best, &surest);
    if (status == DT_OK) status = move_shoes(s, &w, &surest, &p);
    if (status == DT_OK && p) {
        status = begin_surer(p, &surest.trials, &moved);
        if (status == DT_OK) status = firm_up(s, &w, &moved);
    }
    const bool also = status == DT_OK && (!p || may_be_surer(*best, &moved));
    if (also) {
        status = begin_surer(*best, &surest.trials, &stays);
        if (status == DT_OK) status = firm_up(s, &w, &stays);
    }
    const bool is_moved = p && !(also && stays.asked.held > moved.asked.held);
    if (status == DT_OK) choose_surer(&w, &surest, is_moved ? &moved : &stays, best);
    free_surer(&w, &moved);
    free_surer(&w, &stays);
    dt_surest_free(&surest);
    return status == DT_E_NONE ? DT_OK : status;
}

/** The program that closes, moved back to the shallowest shoes; or the nearest one. */
static dt_status settle(search *s, dt_program **chosen, bool ended)
{
    dt_status status = DT_OK;
    if (!*chosen) {
        const size_t drafts = s->learned.drafts;
        if (s->nearest == s->first) s->first = NULL;
        *chosen = s->nearest;
        s->nearest = NULL;
        status = move_all_back(s, chosen);
        return status == DT_OK ? note_no_draft(s, *chosen, drafts, ended) : status;
    }
    status = move_all_back(s, chosen);
    if (status == DT_OK) status = move_to_surest(s, false, chosen);
    if (s->first) note_repairs(*chosen, s->first);
    return status;
}

dt_status dt_program_plan(const dt_well *well, const dt_catalogue *catalogue, dt_program **out,
                          dt_refusal *refusal)
{
    return dt_program_plan_keeping(well, catalogue, NULL, out, refusal);
}

dt_status dt_program_plan_keeping(const dt_well *well, const dt_catalogue *catalogue,
                                  dt_designed *designed, dt_program **out, dt_refusal *refusal)
{
    if (refusal) *refusal = (dt_refusal){0};
    search *s = open_search(well, catalogue, MOST_DRAFTS, designed);
    if (!s) return DT_E_MEMORY;
    dt_program *chosen = NULL;
    bool ended = false;
    dt_status status = close_drafts(s, &chosen, &ended, refusal);
    if (status == DT_OK) status = settle(s, &chosen, ended);
    if (status == DT_OK && chosen->notices.failed) status = DT_E_MEMORY;
    if (status == DT_OK)
        *out = chosen;
    else
        dt_program_free(chosen);
    close_search(s);
    return status;
}

/** The draft of a ladder, then its surest seats. */
static dt_status plan_ladder(search *s, const dt_ladder *ladder, dt_program **out)
{
    dt_status status = plan_again(s, ladder, ladder->liners, out);
    if (status == DT_OK && !*out) return DT_E_NONE;
    if (status == DT_OK) status = move_to_surest(s, true, out);
    return status == DT_OK && !dt_program_runnable(*out) ? DT_E_NONE : status;
}

dt_status dt_program_plan_more(const dt_program *planned, dt_program **out)
{
    dt_ladder ladder;
    if (planned->ladder.count == 0) return DT_E_NONE;
    dt_status status = dt_ladder_of_count(&planned->window, planned->catalogue,
                                          planned->ladder.count + 1, &ladder);
    if (status != DT_OK) return status;
    search *s = open_search(planned->well, planned->catalogue, MOST_DRAFTS, NULL);
    if (!s) return DT_E_MEMORY;
    dt_program *p = NULL;
    status = plan_ladder(s, &ladder, &p);
    if (status == DT_OK)
        *out = p;
    else
        dt_program_free(p);
    close_search(s);
    return status;
}

dt_status dt_program_plan_first(const dt_well *well, const dt_catalogue *catalogue,
                                dt_program **out, dt_refusal *refusal)
{
    if (refusal) *refusal = (dt_refusal){0};
    dt_learned *none = calloc(1, sizeof *none);
    if (!none) return DT_E_MEMORY;
    none->known.items = none->cuts;
    const dt_status status = dt_program_draft(well, catalogue, none, out, refusal);
    dt_ladder_nests_free(&none->nests);
    free(none);
    return status;
}
