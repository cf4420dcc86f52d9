/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdlib.h>

#include "slow_job.h"
#include "slow_seats.h"

/*
 * A cement job from the first barrel to the last, by docs/cement.md: liquids follow each other as
 * plugs, down the pipe and up the annulus; at many moments the column is added up from the top and
 * held against the rock at every metre of open hole.
 */

enum { LIQUIDS = CLAIM_PARTS + 3, EVEN = 200, MOST_MOMENTS = 6000 };

typedef struct job {
    const bore *b;
    const settings *s;
    const expected *e;
    liquid list[LIQUIDS]; /* mud, spacer, slurries, from the top down as they end */
    size_t count;
    double volume[LIQUIDS]; /* of each in the annulus at the end; the mud has no end */
    double *below;          /* annulus from the base of a piece to the shoe, m3, excess included */
    double *room;           /* of each piece, m3 */
    double *rub;            /* friction of a piece, Pa: by liquid, mixing and displacing */
    double *rock; /* pressure left for the column at the base of a piece; INFINITY: none */
    double bore_m3, displaced;
} job;

/** Annulus of a piece with the excess that is taken to be there. */
static double roomy(const job *j, const piece *p)
{
    size_t i = 0;
    while (i + 1 < j->e->count && (p->top + p->base) / 2 > j->e->top[i + 1])
        ++i;
    return bore_ring(p, j->e->excess[i], j->e->on_all[i]);
}

static bool make_job(job *j)
{
    const bore *b = j->b;
    const dt_well *w = b->c->well;
    j->below = calloc(b->count, sizeof *j->below);
    j->rock = calloc(b->count, sizeof *j->rock);
    j->room = calloc(b->count, sizeof *j->room);
    j->rub = calloc(b->count, 2 * LIQUIDS * sizeof *j->rub);
    if (!j->below || !j->rock || !j->room || !j->rub) return false;
    double sum = 0;
    for (size_t i = b->count; i-- > 0;) {
        const piece *p = &b->items[i];
        j->below[i] = sum;
        j->room[i] = roomy(j, p);
        sum += j->room[i];
        for (size_t k = 0; k < j->count; ++k) {
            double *rub = &j->rub[2 * (i * LIQUIDS + k)];
            rub[0] = bore_friction(p, j->s->mix, &j->list[k]) * (p->base - p->top);
            rub[1] = bore_friction(p, j->s->displace, &j->list[k]) * (p->base - p->top);
        }
        j->rock[i] = INFINITY;
        if (p->base <= b->open + 1e-6) continue;
        double emw =
            fmin(slow_emw(&w->fracture, p->base_tvd, -1),
                 p->base < b->shoe - 1e-6 ? slow_emw(&w->fracture, p->base_tvd, +1) : INFINITY);
        j->rock[i] = (emw - j->s->margin_emw) * SLOW_G * p->base_tvd - j->s->margin_pa;
    }
    const claimed_cement *k = &b->c->claims->strings[b->string].cement;
    j->volume[1] = k->spacer_m3;
    for (size_t i = 0; i < j->e->count; ++i) {
        double base = i + 1 < j->e->count ? j->e->top[i + 1] : b->shoe;
        for (size_t q = 0; q < b->count; ++q) {
            double middle = (b->items[q].top + b->items[q].base) / 2;
            if (middle > j->e->top[i] && middle < base) j->volume[i + 2] += j->room[q];
        }
    }
    j->bore_m3 = bore_inside(b, 0, b->shoe);
    j->displaced = bore_inside(b, 0, j->e->collar);
    return true;
}

/** Least left anywhere in the open hole when so much has been pumped since the first spacer. */
static double left_at(const job *j, double pumped)
{
    const bore *b = j->b;
    double track = j->bore_m3 - j->displaced, tops[LIQUIDS], all = track;
    for (size_t i = 1; i < j->count; ++i)
        all += j->volume[i];
    size_t fast = pumped > all + 1e-9 ? 1 : 0;
    /* what stands below the top of each liquid, from the shoe up; below 0 it is in the pipe yet */
    double entered = pumped - j->bore_m3, sum = 0;
    tops[0] = INFINITY;
    for (size_t i = 1; i < j->count; ++i) {
        tops[i] = entered - sum;
        sum += j->volume[i];
    }
    double rest = sea_on(b->c, b->string), moving = 0, least = INFINITY;
    size_t at = 0;
    for (size_t i = 0; i < b->count; ++i) {
        const piece *p = &b->items[i];
        double size = j->room[i], from = j->below[i] + size;
        while (from > j->below[i] + 1e-15) {
            while (at + 1 < j->count && tops[at + 1] >= from - 1e-12 && tops[at + 1] > 0)
                ++at;
            double to =
                at + 1 < j->count && tops[at + 1] > j->below[i] ? tops[at + 1] : j->below[i];
            double part = size > 0 ? (from - to) / size : 1;
            rest += j->list[at].density * SLOW_G * (p->base_tvd - p->top_tvd) * part;
            moving += j->rub[2 * (i * LIQUIDS + at) + fast] * part;
            from = to;
        }
        least = fmin(least, j->rock[i] - rest - moving);
    }
    return least;
}

/** Moments: evenly, and when a liquid reaches a depth where something changes. */
static size_t make_moments(const job *j, double end, double *list)
{
    const bore *b = j->b;
    const dt_well *w = b->c->well;
    size_t n = 0;
    for (size_t i = 0; i <= EVEN; ++i)
        list[n++] = end * (double)i / EVEN;
    double before = j->bore_m3;
    for (size_t i = 1; i < j->count; ++i) {
        /* when its first drop comes round the shoe, and when it has risen to a depth */
        list[n++] = before;
        for (size_t q = 1; q < b->count && n + 4 < MOST_MOMENTS; ++q) {
            const piece *p = &b->items[q], *o = &b->items[q - 1];
            bool bend =
                p->open != o->open || p->od != o->od || fabs(p->outer[0] - o->outer[2]) > 1e-9;
            for (size_t k = 0; k < w->fracture.count && !bend; ++k)
                bend = fabs(w->fracture.points[k].tvd_m - p->top_tvd) < 0.6;
            for (size_t k = 0; k < j->e->count && !bend; ++k)
                bend = fabs(j->e->top[k] - p->top) < 1e-6;
            if (bend) list[n++] = before + j->below[q - 1];
        }
        before += j->volume[i];
    }
    list[n++] = before - 1e-9; /* the last of the slurry goes in: pumping goes faster from here */
    list[n++] = before - j->displaced + 1e-6;
    list[n++] = before - j->displaced - 1e-6;
    return n;
}

/** What the planner's straight lines may be off over a caliper log, Pa: as at the end of the job.
 */
static double over_log(const job *j)
{
    const bore *b = j->b;
    double moving = 0;
    if (!b->logged) return 0;
    for (size_t i = 0; i < b->count; ++i)
        moving += fmax(j->rub[2 * (i * LIQUIDS + j->count - 1)],
                       j->rub[2 * (i * LIQUIDS + j->count - 1) + 1]);
    return 0.02 * moving + bore_bow_m(b->c, b) * bore_widest_step(j->list, j->count) * SLOW_G;
}

double least_left(const bore *b, const settings *s, const expected *e, double *fine)
{
    job j = {.b = b, .s = s, .e = e};
    double *list = malloc(MOST_MOMENTS * sizeof *list), least = INFINITY;
    j.count = bore_fill(b->c, b, e, j.list);
    if (j.count > 0) {
        double top = j.list[0].top;
        j.list[0] = mud_of(b->c, j.list[0].density, s->thin);
        j.list[0].top = top;
    }
    /* round the first pipe nothing bears at the ground */
    if (list && j.count > 2 && b->string > 0 && make_job(&j)) {
        double end = j.displaced;
        for (size_t i = 1; i < j.count; ++i)
            end += j.volume[i];
        end += j.bore_m3 - j.displaced; /* the track is full of tail */
        size_t n = make_moments(&j, end, list);
        for (size_t i = 0; i < n; ++i)
            if (list[i] >= 0 && list[i] <= end) least = fmin(least, left_at(&j, list[i]));
        *fine = 5 * SLOW_PSI + over_log(&j);
    }
    free(j.below);
    free(j.rock);
    free(j.room);
    free(j.rub);
    free(list);
    return least;
}

void check_moments(const bore *b, const settings *s, const expected *e)
{
    double fine = 0, least = least_left(b, s, e, &fine);
    if (fine > 0)
        agree(b->c->v, "narrowest", (int)b->string, "left at the narrowest moment, Pa",
              b->c->claims->strings[b->string].cement.tight_spare_pa, least, fine);
}
