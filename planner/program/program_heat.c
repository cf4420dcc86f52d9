/* SPDX-License-Identifier: MIT */
/* What heating and cooling do to pipe that cement holds fast: docs/strength.md, "Hot wells". */
#include <math.h>

#include "numbers.h"
#include "program_parts.h"
#include "same.h"

/** The three temperatures of the pipe at a depth, degC: as it was cemented, flowing, killed. */
typedef struct course {
    double tvd_m, set_c, producing_c, quenched_c;
} course;

/** What a string comes to at its worst depths. */
typedef struct heat {
    const dt_section *pressed, *pulled;
    course pressed_at, pulled_at;
    double pressed_pa, pressed_yield_pa; /* stress, and what is left of the yield strength */
    double pulled_n, joint_n;            /* axial force, and what the joint or the body bears */
} heat;

static double between(double a, double b, double part)
{
    return a + part * (b - a);
}

/** Straight between the points of the table, its ends beyond. */
static course course_at(const dt_thermal *t, double tvd_m)
{
    size_t i = 0;
    while (i < t->count && t->points[i].tvd_m < tvd_m)
        ++i;
    if (i == 0 || i == t->count) {
        const dt_temperature_point *end = &t->points[i == 0 ? 0 : t->count - 1];
        return (course){tvd_m, end->celsius, end->producing_c, end->quenched_c};
    }
    const dt_temperature_point *a = &t->points[i - 1], *b = a + 1;
    const double part = (tvd_m - a->tvd_m) / (b->tvd_m - a->tvd_m);
    return (course){tvd_m, between(a->celsius, b->celsius, part),
                    between(a->producing_c, b->producing_c, part),
                    between(a->quenched_c, b->quenched_c, part)};
}

/** The weaker of joint and body, cold. */
static double joint_of(const dt_program *p, const dt_section *s)
{
    double body_n = NAN, joint_n = NAN;
    if (dt_body_yield(s->pipe->od_m, s->pipe->wall_m, s->pipe->grade->yield_pa, &body_n) != DT_OK)
        return NAN;
    if (dt_joint_strength(p->catalogue, s->pipe, s->thread, &joint_n) != DT_OK) return body_n;
    return fmin(body_n, joint_n);
}

/**
 * Cemented pipe keeps its length: warmed it is pressed by E alpha dT, and what is over its yield
 * strength it gives way to. Cooled again it is pulled by the whole way down less what it could be
 * pressed by; cooled below what it was cemented at, by that at least.
 */
static void look(const dt_program *p, const dt_section *s, const course *c, heat *h)
{
    const dt_thermal *t = &p->well->thermal;
    const double yield_pa = s->pipe->grade->yield_pa * dt_yield_part_at(t, c->producing_c);
    const double pressed_pa = dt_thermal_stress_pa(c->producing_c - c->set_c);
    if (pressed_pa / yield_pa > h->pressed_pa / h->pressed_yield_pa) {
        h->pressed = s;
        h->pressed_at = *c;
        h->pressed_pa = pressed_pa;
        h->pressed_yield_pa = yield_pa;
    }
    if (isnan(c->quenched_c)) return;
    const double given_pa = isnan(pressed_pa) ? 0 : fmin(fmax(pressed_pa, 0), yield_pa);
    const double hot_c = isnan(c->producing_c) ? c->set_c : c->producing_c;
    const double pulled_pa = fmax(dt_thermal_stress_pa(hot_c - c->quenched_c) - given_pa,
                                  dt_thermal_stress_pa(c->set_c - c->quenched_c));
    const double area_m2 = circle_area(s->pipe->od_m) - circle_area(s->pipe->id_m);
    const double joint_n = joint_of(p, s);
    if (pulled_pa * area_m2 / joint_n > h->pulled_n / h->joint_n) {
        h->pulled = s;
        h->pulled_at = *c;
        h->pulled_n = pulled_pa * area_m2;
        h->joint_n = joint_n;
    }
}

/** Cement holds it from its top down; the temperatures bend at the points of the table alone. */
static heat heat_of(const dt_program *p, size_t index)
{
    const dt_thermal *t = &p->well->thermal;
    const dt_cement *cement = &p->jobs[index].cement;
    heat h = {.pressed_yield_pa = 1, .joint_n = 1};
    for (size_t k = 0; k < p->strings.items[index].section_count; ++k) {
        const dt_section *s = &p->strings.items[index].sections[k];
        const double top_m =
            fmax(dt_trajectory_deepest(&p->trajectory, s->top_md_m), cement->top_tvd_m);
        const double base_m = dt_trajectory_deepest(&p->trajectory, s->base_md_m);
        if (!(top_m < base_m)) continue;
        course at = course_at(t, top_m);
        look(p, s, &at, &h);
        at = course_at(t, base_m);
        look(p, s, &at, &h);
        for (size_t i = 0; i < t->count; ++i) {
            if (!(t->points[i].tvd_m > top_m && t->points[i].tvd_m < base_m)) continue;
            at = course_at(t, t->points[i].tvd_m);
            look(p, s, &at, &h);
        }
    }
    return h;
}

static void note_string(dt_program *p, size_t index)
{
    const heat h = heat_of(p, index);
    if (h.pressed && h.pressed_pa > h.pressed_yield_pa) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_HEATED_PAST_YIELD, index);
        dt_notice_figure(n, "stress", DT_KIND_PRESSURE, h.pressed_pa);
        dt_notice_figure(n, "yield", DT_KIND_PRESSURE, h.pressed_yield_pa);
        dt_notice_figure(n, "at_tvd", DT_KIND_LENGTH, h.pressed_at.tvd_m);
        dt_notice_number(n, "from_c", h.pressed_at.set_c);
        dt_notice_number(n, "to_c", h.pressed_at.producing_c);
    }
    const double needed = p->design.tension_pulled;
    if (h.pulled && !dt_reaches(h.joint_n / h.pulled_n, needed)) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_QUENCHED, index);
        dt_notice_figure(n, "pull", DT_KIND_FORCE, h.pulled_n);
        dt_notice_figure(n, "bears", DT_KIND_FORCE, h.joint_n);
        dt_notice_figure(n, "at_tvd", DT_KIND_LENGTH, h.pulled_at.tvd_m);
        dt_notice_number(n, "to_c", h.pulled_at.quenched_c);
        dt_notice_number(n, "factor", h.joint_n / h.pulled_n);
        dt_notice_number(n, "needed", needed);
    }
}

void dt_program_note_heat(dt_program *p)
{
    if (p->well->thermal.count == 0) return;
    for (size_t i = 0; i < p->seats.count; ++i)
        if (p->jobs[i].cement.cemented) note_string(p, i);
}
