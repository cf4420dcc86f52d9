/* SPDX-License-Identifier: MIT */
#include "window_triggers.h"

#include <math.h>

#include "palette.h"

#define REACH 3.6

const char *dt_bound_words(dt_bound bound)
{
    static const char *const words[DT_BOUND_COUNT] = {"minimum leak-off for the hole below",
                                                      "maximum mud weight of the hole above",
                                                      "highest pore pressure at its base"};
    return words[bound];
}

static size_t add(dt_bound_mark *out, size_t count, size_t most, dt_bound_mark mark)
{
    if (count < most && isfinite(mark.emw_kgm3)) out[count++] = mark;
    return count;
}

size_t dt_bound_marks(const dt_program *program, dt_bound_mark *out, size_t most)
{
    size_t count = 0;
    if (!dt_well_has_spreads(program->well)) return 0;
    for (size_t i = 1; i < program->count; ++i) {
        const dt_while_drilling d = dt_program_while_drilling(program, i);
        const double above_m = program->items[i - 1].shoe_tvd_m;
        const double base_m = program->items[i].shoe_tvd_m;
        count = add(out, count, most, (dt_bound_mark){DT_BOUND_LEAK_OFF, above_m, d.leak_off_kgm3});
        count = add(out, count, most, (dt_bound_mark){DT_BOUND_MUD, base_m, d.most_mud_kgm3});
        count = add(out, count, most, (dt_bound_mark){DT_BOUND_PORE, base_m, d.most_pore_kgm3});
    }
    return count;
}

/** A triangle whose point is to the right, or to the left. */
static void draw_triangle(dt_svg *svg, double x, double y, double right, dt_ink ink)
{
    dt_path path = {0};
    dt_path_move(&path, x, y);
    dt_path_line(&path, x - 2 * REACH * right, y - REACH);
    dt_path_line(&path, x - 2 * REACH * right, y + REACH);
    dt_path_close(&path);
    dt_svg_path(svg, &path, ink);
}

void dt_draw_bound(dt_svg *svg, dt_bound bound, double x, double y)
{
    if (bound == DT_BOUND_MUD)
        dt_svg_rect(svg, (dt_box){x - REACH, y - REACH, 2 * REACH, 2 * REACH},
                    (dt_ink){.fill = DT_PAPER, .stroke = DT_LINE, .width = 1.2});
    else if (bound == DT_BOUND_LEAK_OFF) /* what is read must lie to the right of its point */
        draw_triangle(svg, x, y, 1, (dt_ink){.fill = DT_RUST, .stroke = DT_LINE, .width = 0.7});
    else
        draw_triangle(svg, x, y, -1, (dt_ink){.fill = DT_BLUE, .stroke = DT_LINE, .width = 0.7});
}
