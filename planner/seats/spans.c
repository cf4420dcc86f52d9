/* SPDX-License-Identifier: MIT */
#include "spans.h"

#include <math.h>
#include <stdlib.h>

static double least(double a, double b)
{
    return a < b ? a : b;
}

static double most(double a, double b)
{
    return a > b ? a : b;
}

/** Of no stretch: joined to another it leaves it as it is. */
static const dt_span nothing = {.top_m = INFINITY,
                                .base_m = -INFINITY,
                                .lower_most = -INFINITY,
                                .pore_most = -INFINITY,
                                .pore_least = INFINITY,
                                .bears_mud = INFINITY,
                                .bears_kick = INFINITY,
                                .bears_flow = INFINITY,
                                .fracture_least = INFINITY,
                                .stick_base_m = {0, 0},
                                .stick_pore = {INFINITY, INFINITY}};

static double bears_mud(const dt_face *face)
{
    return face->fracture_kgm3 - most(face->drilling_kgm3, face->swept_kgm3);
}

dt_span dt_span_of(const dt_face *top, const dt_face *base, dt_rock rock)
{
    dt_span s = nothing;
    s.top_m = top->tvd_m;
    s.base_m = base->tvd_m;
    s.lower_most = most(top->lower_kgm3, base->lower_kgm3);
    s.pore_most = most(top->pore_kgm3, base->pore_kgm3);
    s.pore_least = least(top->pore_kgm3, base->pore_kgm3);
    s.bears_mud = least(bears_mud(top), bears_mud(base));
    s.bears_kick =
        least(top->fracture_kgm3 - top->kick_kgm3, base->fracture_kgm3 - base->kick_kgm3);
    s.bears_flow =
        least(top->fracture_kgm3 - top->safety_kgm3, base->fracture_kgm3 - base->safety_kgm3);
    s.fracture_least = least(top->fracture_kgm3, base->fracture_kgm3);
    if (rock.can_stick) {
        s.stick_base_m[rock.normal] = base->tvd_m;
        s.stick_pore[rock.normal] = s.pore_least;
    }
    return s;
}

dt_span dt_span_join(const dt_span *a, const dt_span *b)
{
    dt_span s = {.top_m = least(a->top_m, b->top_m),
                 .base_m = most(a->base_m, b->base_m),
                 .lower_most = most(a->lower_most, b->lower_most),
                 .pore_most = most(a->pore_most, b->pore_most),
                 .pore_least = least(a->pore_least, b->pore_least),
                 .bears_mud = least(a->bears_mud, b->bears_mud),
                 .bears_kick = least(a->bears_kick, b->bears_kick),
                 .bears_flow = least(a->bears_flow, b->bears_flow),
                 .fracture_least = least(a->fracture_least, b->fracture_least)};
    for (int i = 0; i < 2; ++i) {
        s.stick_base_m[i] = most(a->stick_base_m[i], b->stick_base_m[i]);
        s.stick_pore[i] = least(a->stick_pore[i], b->stick_pore[i]);
    }
    return s;
}

dt_status dt_spans_build(dt_window *window)
{
    const size_t stretches = window->break_count > 0 ? window->break_count - 1 : 0;
    size_t leaves = 1;
    while (leaves < stretches)
        leaves *= 2;
    dt_span *spans = malloc(2 * leaves * sizeof *spans);
    if (!spans) return DT_E_MEMORY;
    for (size_t i = 0; i < leaves; ++i)
        spans[leaves + i] = i < stretches
                                ? dt_span_of(&window->faces[2 * i + 1], &window->faces[2 * i + 2],
                                             window->rocks[i + 1])
                                : nothing;
    for (size_t i = leaves; i-- > 1;)
        spans[i] = dt_span_join(&spans[2 * i], &spans[2 * i + 1]);
    window->spans = spans;
    window->span_leaves = leaves;
    return DT_OK;
}
