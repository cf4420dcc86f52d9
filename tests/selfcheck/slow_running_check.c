/* SPDX-License-Identifier: MIT */
#include <math.h>

#include "slow_job.h"
#include "slow_seats.h"

/* Overpull and surge with the shoe at depth, by docs/running.md. */

/* ---- overpull -------------------------------------------------------------------------------- */

/**
 * The planner's is the least of twelve depths of the shoe. In a vertical hole that is at the last
 * of them, with the most pipe below each section; where drag is more on the way, it may be less.
 */
void check_overpull(const bore *b, double mud)
{
    const context *c = b->c;
    const claimed_string *s = &c->claims->strings[b->string];
    const dt_running_wishes *r = &c->well->running;
    double factor = slow_pulled(c->well), left = INFINITY, heavy = 0;
    double weighed_in = r->overpull_on_air ? 0 : mud;
    for (size_t k = 0; k < s->section_count; ++k) {
        const claimed_section *q = &s->sections[k];
        strength pipe;
        if (!strength_of(c->rows, &q->pipe, 0, &pipe)) return;
        double body = pipe.yield_psi * SLOW_PSI * pipe.area_m2;
        double load = bore_tension(c, b, weighed_in, weighed_in, 1, q->top_md_m);
        left = fmin(left, fmin(body, pipe.joint_n) / factor - load);
        heavy += q->pipe.weight_kgm * SLOW_G * (q->base_md_m - q->top_md_m);
    }
    /* a string that floats weighs less the deeper it is; then its last depth is not the hardest */
    bool vertical = c->course.count == 0 && s->hookload_filled_n > 0;
    double rig = r->rig_n - slow_or(r->blocks_n, 40000 * SLOW_LBF) - s->hookload_up_n;
    int n = (int)b->string;
    /* as for hook loads */
    double fine = 1e-3 * heavy + 1;
    agree(c->v, "overpull", n, "left in the pipe, N",
          vertical ? s->overpull_pipe_n : fmax(s->overpull_pipe_n, left), left, fine);
    agree(c->v, "overpull", n, "left in the rig, N",
          vertical || isnan(rig) ? s->overpull_rig_n : fmax(s->overpull_rig_n, rig), rig, fine);
    bool driven = b->string == 0 && c->well->conductor.method != DT_CONDUCTOR_DRILLED;
    if (isnan(rig) || driven) return;
    /* on the way it may be less where it is not vertical: that it is enough is not decided then */
    stop_told(c, DT_NOTICE_RIG_OVERLOADED, b->string, vertical ? rig : fmin(rig, 0), fine);
}

/* ---- surge ----------------------------------------------------------------------------------- */

/** Pa/m beside closed pipe that is let down: what it displaces and what clings to it. */
static double surging(const piece *p, double speed, const liquid *mud)
{
    double hole = p->outer[1], od = p->od, gap = hole - od;
    double driven = od * od / (hole * hole - od * od);
    double slow = speed * (driven + 0.275 * od / hole + 0.25);
    double fast = speed * (driven + 0.10 * od / hole + 0.41);
    if (mud->n > 0) return slow_power(mud, gap, slow, fast);
    double laminar = 48 * mud->pv * slow / (gap * gap) + 6 * mud->yp / gap;
    double re = mud->density * fast * gap / mud->pv;
    if (!(re > 0)) return laminar;
    return fmax(laminar, 2 * 0.0791 / pow(re, 0.25) * mud->density * fast * fast / gap);
}

typedef struct surged {
    double shoe_pa, spare_pa; /* at the shoe; least left of what open rock withstands */
} surged;

/** A joint let down in so many seconds. */
static surged surge(const bore *b, double joint_s, const liquid *mud)
{
    const dt_well *w = b->c->well;
    const dt_running_wishes *r = &w->running;
    static const double feet[] = {20, 29, 40};
    double joint = slow_or(r->joint_m, feet[(int)slow_or(r->range, 3) - 1] * SLOW_FT);
    double speed = joint / joint_s * slow_or(r->peak_factor, 1.5);
    dt_margin margin = r->margin_given ? r->margin : w->margins.safety;
    surged s = {0, INFINITY};
    for (size_t i = 0; i < b->count; ++i) {
        const piece *p = &b->items[i];
        s.shoe_pa += surging(p, speed, mud) * (p->base - p->top);
        if (p->base < b->open - 1e-6) continue;
        bool at_top = p->base<b->open + 1e-6, at_shoe = p->base> b->shoe - 1e-6;
        double rock = fmin(at_top ? INFINITY : slow_emw(&w->fracture, p->base_tvd, -1),
                           at_shoe ? INFINITY : slow_emw(&w->fracture, p->base_tvd, +1));
        double top = to_ground(b->c, b->string) ? slow_ground(w) : 0; /* of the mud */
        double left = (rock - margin.emw_kgm3) * SLOW_G * p->base_tvd - margin.pressure_pa -
                      mud->density * SLOW_G * (p->base_tvd - top) - sea_on(b->c, b->string) -
                      s.shoe_pa;
        s.spare_pa = fmin(s.spare_pa, left);
    }
    return s;
}

/** Over a caliper log friction is not straight between readings: Pa. The rest of what is let pass
 * is for rock that the planner looks at 50 m apart. */
static double rough(const bore *b, const surged *s)
{
    return (b->logged ? 0.02 : 1e-5) * s->shoe_pa;
}

/** Joints are let down as the well says; where it does not, in 20 s or as slowly as the rock asks
 * and is practical, and where that is not enough in thinner mud. */
static void check_joint_time(const bore *b, double density)
{
    const context *c = b->c;
    const dt_well *w = c->well;
    const claimed_string *s = &c->claims->strings[b->string];
    double slowest = fmax(slow_said(w, DT_CUSTOM_RUNNING_SLOWEST_JOINT, 20), 20), time = 20;
    int n = (int)b->string;
    if (s->joint_s > 20) time = fmin(ceil(s->joint_s), slowest);
    agree(c->v, "joint-time", n, "a joint, s", s->run_joint_s,
          slow_or(w->running.joint_time_s, time), 1e-9);
    if (!s->thinned) return;
    liquid thick = mud_of(c, density, false), thin = mud_of(c, density, true);
    surged before = surge(b, slow_or(w->running.joint_time_s, slowest), &thick);
    demand_true(c->v, "thinned", n,
                !slow_mud_stated(w) && (thin.pv < thick.pv || thin.yp < thick.yp) &&
                    before.spare_pa < rough(b, &before) + 5 * SLOW_PSI,
                "mud is thinned where it need not or may not be");
}

void check_room(const bore *b)
{
    const claimed_string *s = &b->c->claims->strings[b->string];
    double narrow = INFINITY, width = fmax(s->od_m, s->largest_od_m);
    for (size_t i = 0; i < b->count; ++i)
        if (b->items[i].logged)
            narrow = fmin(narrow, fmin(b->items[i].outer[0], b->items[i].outer[2]));
    stop_told(b->c, DT_NOTICE_HOLE_TOO_NARROW, b->string, narrow - width, 1e-6);
}

void check_surge(const bore *b, double density)
{
    const context *c = b->c;
    const claimed_string *s = &c->claims->strings[b->string];
    liquid mud = mud_of(c, density, s->thinned);
    /* pipe that does not go into its hole is not let down; no coupling is a fifth wider than its
     * pipe, so a claim that there is no surge needs a hole as narrow as that somewhere */
    const double wide = isnan(s->surge_pa) ? 1.2 : 1;
    for (size_t i = 0; i < b->count; ++i)
        if (b->items[i].outer[0] <= wide * b->items[i].od ||
            b->items[i].outer[2] <= wide * b->items[i].od) {
            if (!isnan(s->surge_pa)) stop_told(c, DT_NOTICE_SURGE, b->string, 0, 1);
            return;
        }
    surged planned = surge(b, s->run_joint_s, &mud);
    int n = (int)b->string;
    check_joint_time(b, density);
    agree(c->v, "surge", n, "surge at the shoe, Pa", s->surge_pa, planned.shoe_pa,
          rough(b, &planned));
    agree(c->v, "surge", n, "left by surge, Pa", s->surge_spare_pa, planned.spare_pa,
          rough(b, &planned) + 5 * SLOW_PSI);
    stop_told(c, DT_NOTICE_SURGE, b->string, planned.spare_pa, rough(b, &planned) + 5 * SLOW_PSI);
    /* as fast as is said, and no faster; 4 s is the fastest that is looked at, said as 0 */
    surged now = surge(b, isinf(s->joint_s) ? 1e9 : s->joint_s > 0 ? s->joint_s : 4, &mud);
    double fine = rough(b, &now) + 5 * SLOW_PSI;
    if (isinf(s->joint_s)) {
        demand_true(c->v, "joint-time", n, now.spare_pa < fine, "some speed would do");
        return;
    }
    demand_true(c->v, "joint-time", n, now.spare_pa > -fine, "a joint is let down too fast");
    if (!(s->joint_s > 0)) return;
    surged faster = surge(b, s->joint_s * 0.98, &mud);
    demand_true(c->v, "joint-time", n, faster.spare_pa < rough(b, &faster) + 5 * SLOW_PSI,
                "a joint could be let down faster");
}
