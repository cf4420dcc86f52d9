/* SPDX-License-Identifier: MIT */
/* odds.svg: the fan of the window with the seats and their bands, and what drives the odds. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "labels.h"
#include "odds_words.h"
#include "plots.h"
#include "rule_words.h"
#include "same.h"
#include "svg.h"
#include "units.h"
#include "wording.h"

enum { MOST_BARS = 10, MOST_CAUSES = 10 };

#define PAGE_W      720.0
#define PLOT_LEFT   84.0
#define PLOT_RIGHT  430.0
#define PLOT_TOP    92.0
#define PLOT_BOTTOM 560.0
#define LANE_X      (PLOT_RIGHT + 14)
#define LANE_W      44.0
#define LABEL_X     (PLOT_RIGHT + 70)
#define BARS_LEFT   270.0
#define BARS_RIGHT  690.0
#define BARS_TOP    692.0
#define BAR_STEP    20.0
#define CAUSE_LEFT  440.0

typedef struct picture {
    dt_svg *svg;
    const dt_program *program;
    const dt_odds *odds;
    dt_display display;
    double low, high; /* of the mud weight axis, kg/m3 */
    double bottom_m;
} picture;

static double x_of(const picture *p, double kgm3)
{
    double part = (kgm3 - p->low) / (p->high - p->low);
    return PLOT_LEFT + fmax(-0.2, fmin(part, 1.2)) * (PLOT_RIGHT - PLOT_LEFT);
}

static double y_of(const picture *p, double tvd_m)
{
    return PLOT_TOP + tvd_m / p->bottom_m * (PLOT_BOTTOM - PLOT_TOP);
}

static const double *curve_at(const dt_odds_fan *fan, bool fracture)
{
    return fracture ? fan->fracture_kgm3 : fan->pore_kgm3;
}

static void set_range(picture *p)
{
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < DT_ODDS_FAN; ++i) {
        low = fmin(low, p->odds->fan[i].pore_kgm3[0]);
        high = fmax(high, p->odds->fan[i].fracture_kgm3[2]);
    }
    if (!(low < high)) high = low + 100;
    double unit = 1 / dt_display_value(p->display, DT_KIND_DENSITY, 1);
    double step = dt_round_step((high - low) / unit / 8) * unit;
    p->low = floor(low / step - 0.2) * step;
    p->high = ceil(high / step + 0.2) * step;
}

static void text(picture *p, double x, double y, dt_type type, const char *words)
{
    double width = dt_text_width(words, type.size, type.bold);
    double left = type.anchor == DT_START ? x : type.anchor == DT_END ? x - width : x - width / 2;
    dt_svg_label_open(p->svg, (dt_box){left, y - type.size * 0.55, width, type.size * 1.1});
    dt_svg_text(p->svg, x, y, type, words);
    dt_svg_close(p->svg);
}

static const dt_type small = {DT_TYPE, false, DT_TEXT, DT_START};
static const dt_type quiet_middle = {DT_TYPE, false, DT_TEXT_QUIET, DT_MIDDLE};
static const dt_type quiet_end = {DT_TYPE, false, DT_TEXT_QUIET, DT_END};

static void draw_axes(picture *p)
{
    double unit = 1 / dt_display_value(p->display, DT_KIND_DENSITY, 1);
    double step = dt_round_step((p->high - p->low) / unit / 8);
    for (double n = dt_count_up(p->low / unit / step); n * step * unit <= p->high * (1 + TIE);
         ++n) {
        char number[DT_NUMBER_SIZE];
        double x = x_of(p, n * step * unit);
        dt_number_text(n * step, 3, number);
        dt_svg_line(p->svg, x, PLOT_TOP, x, PLOT_BOTTOM,
                    (dt_ink){.stroke = DT_LINE_FAINT, .width = 0.5});
        text(p, x, PLOT_TOP - 9, quiet_middle, number);
    }
    double depth_unit = 1 / dt_display_value(p->display, DT_KIND_LENGTH, 1);
    double depth_step = dt_round_step(p->bottom_m / depth_unit / 10);
    for (double n = 0; n * depth_step * depth_unit <= p->bottom_m; ++n) {
        double y = y_of(p, n * depth_step * depth_unit);
        dt_buffer number = {0};
        dt_say_depth_number(&number, p->display, n * depth_step * depth_unit);
        dt_svg_line(p->svg, PLOT_LEFT, y, PLOT_RIGHT, y,
                    (dt_ink){.stroke = DT_LINE_FAINT, .width = 0.5});
        if (number.failed)
            p->svg->status = DT_E_MEMORY;
        else
            text(p, PLOT_LEFT - 5, y, quiet_end, number.bytes);
        dt_buffer_free(&number);
    }
    char head[80];
    snprintf(head, sizeof head, "equivalent mud weight, %s",
             dt_display_unit(p->display, DT_KIND_DENSITY));
    text(p, (PLOT_LEFT + PLOT_RIGHT) / 2, PLOT_TOP - 25, quiet_middle, head);
    snprintf(head, sizeof head, "TVD, %s", dt_display_unit(p->display, DT_KIND_LENGTH));
    text(p, PLOT_LEFT - 5, PLOT_TOP - 25, quiet_end, head);
}

static void draw_frame(picture *p)
{
    dt_svg_rect(p->svg,
                (dt_box){PLOT_LEFT, PLOT_TOP, PLOT_RIGHT - PLOT_LEFT, PLOT_BOTTOM - PLOT_TOP},
                (dt_ink){.stroke = DT_LINE, .width = 0.8});
}

/** One table over the drawn wells: the band that holds 80 % of them, and the middle line. */
static void draw_fan(picture *p, bool fracture, const char *fill, dt_ink line)
{
    dt_path band = {0}, middle = {0};
    const dt_odds_fan *fan = p->odds->fan;
    for (size_t i = 0; i < DT_ODDS_FAN; ++i) {
        double x = x_of(p, curve_at(&fan[i], fracture)[0]), y = y_of(p, fan[i].tvd_m);
        double m = x_of(p, curve_at(&fan[i], fracture)[1]);
        if (i == 0) {
            dt_path_move(&band, x, y);
            dt_path_move(&middle, m, y);
        } else {
            dt_path_line(&band, x, y);
            dt_path_line(&middle, m, y);
        }
    }
    for (size_t i = DT_ODDS_FAN; i-- > 0;)
        dt_path_line(&band, x_of(p, curve_at(&fan[i], fracture)[2]), y_of(p, fan[i].tvd_m));
    dt_path_close(&band);
    dt_svg_path(p->svg, &band,
                (dt_ink){.fill = fill, .stroke = line.stroke, .width = 0.4, .dash = line.dash});
    dt_svg_path(p->svg, &middle, line);
}

/** How the seat lies where it is chosen anew: bins to the right of the lane, the fullest as wide as
 * it. */
static void draw_distribution(picture *p, const dt_odds_string *s)
{
    const dt_odds *odds = p->odds;
    size_t most = 0;
    for (size_t b = 0; b < odds->bin_count; ++b)
        if (s->histogram[b] > most) most = s->histogram[b];
    for (size_t b = 0; b < odds->bin_count; ++b) {
        if (s->histogram[b] == 0) continue;
        const double top = y_of(p, odds->bin_m * ((double)b - 0.5));
        const double base = y_of(p, odds->bin_m * ((double)b + 0.5));
        const double width = LANE_W * (double)s->histogram[b] / (double)most;
        dt_svg_rect(p->svg, (dt_box){LANE_X, top, fmax(width, 0.6), fmax(base - top, 0.6)},
                    (dt_ink){.fill = "#9fb6c4"});
    }
}

static void draw_seat(picture *p, size_t k)
{
    const dt_odds_string *s = &p->odds->strings[k];
    const double y = y_of(p, p->odds->base.shoes_m[k]), x = LANE_X - 5;
    dt_svg_line(p->svg, PLOT_LEFT, y, PLOT_RIGHT, y, (dt_ink){.stroke = DT_LINE, .width = 0.8});
    if (s->anew > 0) {
        const dt_ink ink = {.stroke = DT_LINE, .width = 1.2};
        draw_distribution(p, s);
        const double top = y_of(p, s->p10_m), base = y_of(p, s->p90_m), at = y_of(p, s->p50_m);
        dt_svg_line(p->svg, LANE_X - 1.5, top, LANE_X - 1.5, base, ink);
        dt_svg_line(p->svg, LANE_X - 1.5, at, LANE_X + LANE_W, at, ink);
    }
    dt_svg_diamond(p->svg, x, y, 3, (dt_ink){.fill = DT_STEEL});
}

static void label_seats(picture *p)
{
    dt_labels labels = {.width = PAGE_W - LABEL_X - 14, .size = DT_TYPE};
    for (size_t k = 1; k < p->odds->string_count; ++k) {
        dt_label *label =
            dt_labels_add(&labels, y_of(p, p->odds->base.shoes_m[k]), DT_TEXT, DT_LINE_QUIET);
        dt_buffer words = {0};
        dt_say_string(&words, p->program, k);
        dt_buffer_text(&words, ", ");
        dt_say_depth(&words, p->display, p->odds->base.shoes_m[k]);
        if (!words.failed) dt_label_write(&labels, label, true, 1, words.bytes);
        labels.failed = labels.failed || words.failed;
        dt_buffer_free(&words);
        char share[64];
        snprintf(share, sizeof share, "holds in %.1f %%",
                 100 * dt_share_value(p->odds->strings[k].held));
        dt_label_write(&labels, label, false, 1, share);
    }
    if (dt_labels_place(&labels, PLOT_TOP - 20, PLOT_BOTTOM + 20)) {
        for (size_t i = 0; i < labels.count; ++i) {
            dt_path leader = {0};
            dt_path_move(&leader, LANE_X + LANE_W + 2, labels.items[i].target_y);
            dt_path_line(&leader, LABEL_X,
                         labels.items[i].top + labels.size * DT_LINE_HEIGHT / 2 + 1.5);
            dt_svg_path(p->svg, &leader, (dt_ink){.stroke = DT_LINE_QUIET, .width = 0.6});
        }
        dt_labels_draw(p->svg, &labels, LABEL_X, DT_START);
    }
    if (labels.failed) p->svg->status = DT_E_MEMORY;
    dt_labels_free(&labels);
}

/* ---- what drives the odds ---- */

static double share_x(double share)
{
    return BARS_LEFT + fmax(0, fmin(share, 1)) * (BARS_RIGHT - BARS_LEFT);
}

static void draw_bar(picture *p, size_t row, const dt_odds_input *input)
{
    char name[80], cut[DT_LINE_BYTES];
    double y = BARS_TOP + BAR_STEP * ((double)row + 0.5);
    double low = share_x(dt_share_value(input->low)), high = share_x(dt_share_value(input->high));
    dt_odds_input_words(p->program, input, p->display, name, sizeof name);
    dt_text_fit(name, BARS_LEFT - 30, DT_TYPE, false, cut);
    text(p, BARS_LEFT - 8, y, (dt_type){DT_TYPE, false, DT_TEXT, DT_END}, cut);
    dt_path area = {0};
    dt_path_box(&area, (dt_box){fmin(low, high), y - 5, fmax(fabs(high - low), 0.5), 10});
    dt_svg_path(p->svg, &area, (dt_ink){.fill = "#c9dcea", .stroke = DT_BLUE, .width = 0.7});
    /* a filled end is the input's highest fifth, an open end its lowest */
    dt_svg_rect(p->svg, (dt_box){high - 2.5, y - 6, 5, 12}, (dt_ink){.fill = DT_BLUE});
    dt_svg_rect(p->svg, (dt_box){low - 2.5, y - 6, 5, 12},
                (dt_ink){.fill = DT_PAPER, .stroke = DT_BLUE, .width = 1});
}

static void draw_bars(picture *p)
{
    size_t rows = p->odds->input_count < MOST_BARS ? p->odds->input_count : MOST_BARS;
    double base = BARS_TOP + BAR_STEP * (double)rows;
    text(p, 14, BARS_TOP - 40, (dt_type){13, true, DT_TEXT, DT_START}, "What drives the odds");
    text(p, 14, BARS_TOP - 25, small,
         "Odds of the program while one input is in its lowest fifth (open end) or highest fifth "
         "(filled end).");
    for (int n = 0; n <= 100; n += 20) {
        char number[16];
        double x = share_x(n / 100.0);
        snprintf(number, sizeof number, "%d %%", n);
        dt_svg_line(p->svg, x, BARS_TOP, x, base, (dt_ink){.stroke = DT_LINE_FAINT, .width = 0.5});
        text(p, x, BARS_TOP - 9, quiet_middle, number);
    }
    double planned = share_x(dt_share_value(p->odds->planned));
    for (size_t i = 0; i < rows; ++i)
        draw_bar(p, i, &p->odds->inputs[i]);
    dt_svg_line(p->svg, planned, BARS_TOP, planned, base,
                (dt_ink){.stroke = DT_LINE, .width = 1.2, .dash = "5 2.5"});
}

/* ---- what breaks it ---- */

/** One cause, of the seats or of what comes after them. */
typedef struct cause {
    char words[160];
    double share; /* of the wells asked */
    bool after;
} cause;

static int by_share(const void *left, const void *right)
{
    const cause *a = left, *b = right;
    if (a->share != b->share) return a->share > b->share ? -1 : 1;
    return strcmp(a->words, b->words);
}

static void add_cause(cause *list, size_t *count, double share, bool after, const char *string,
                      const char *words)
{
    cause c = {.share = share, .after = after};
    snprintf(c.words, sizeof c.words, "%s: %s", string, words);
    if (*count < MOST_CAUSES)
        list[(*count)++] = c;
    else if (share > list[MOST_CAUSES - 1].share)
        list[MOST_CAUSES - 1] = c;
    qsort(list, *count, sizeof *list, by_share);
}

/** Those that break it most often, of all stages. */
static size_t find_causes(const picture *p, cause *list)
{
    const dt_odds *odds = p->odds;
    size_t count = 0;
    for (size_t k = 1; k < odds->string_count + odds->last_open; ++k) {
        const bool open = k == odds->string_count;
        const dt_odds_string *s = open ? &odds->open_hole : &odds->strings[k];
        char name[32] = "open hole";
        if (!open) dt_program_string_name(p->program, k, name, sizeof name);
        for (int rule = 0; rule < DT_RULE_COUNT; ++rule)
            if (s->broken[rule] > 0)
                add_cause(list, &count, (double)s->broken[rule] / (double)odds->samples, false,
                          name, dt_rule_words((dt_rule)rule));
    }
    for (size_t i = 0; i < odds->after.cause_count; ++i) {
        const dt_odds_cause *c = &odds->after.causes[i];
        char name[32];
        dt_program_string_name(p->program, c->string, name, sizeof name);
        add_cause(list, &count, (double)c->count / (double)odds->after.wells, true, name,
                  dt_odds_cause_words(c));
    }
    return count;
}

static double causes_top(const picture *p)
{
    const size_t rows = p->odds->input_count < MOST_BARS ? p->odds->input_count : MOST_BARS;
    return BARS_TOP + BAR_STEP * (double)rows + 76;
}

static double page_height(const picture *p, size_t causes)
{
    return causes ? causes_top(p) + BAR_STEP * (double)causes + 24 : causes_top(p) - 52;
}

static void draw_cause(picture *p, size_t row, double most, const cause *c)
{
    char cut[DT_LINE_BYTES], share[32];
    const dt_ink after = {.fill = DT_STEEL};
    const dt_ink seats = {.fill = "#f6dfcf", .stroke = DT_RUST, .width = 0.7};
    const double y = causes_top(p) + BAR_STEP * ((double)row + 0.5);
    const double width = (BARS_RIGHT - CAUSE_LEFT - 60) * c->share / most;
    dt_text_fit(c->words, CAUSE_LEFT - 30, DT_TYPE, false, cut);
    text(p, CAUSE_LEFT - 8, y, (dt_type){DT_TYPE, false, DT_TEXT, DT_END}, cut);
    dt_svg_rect(p->svg, (dt_box){CAUSE_LEFT, y - 5, fmax(width, 0.5), 10},
                c->after ? after : seats);
    snprintf(share, sizeof share, "%.1f %%", 100 * c->share);
    text(p, CAUSE_LEFT + fmax(width, 0.5) + 6, y, small, share);
}

static void draw_causes(picture *p, const cause *list, size_t count)
{
    char line[200];
    const dt_odds_after *after = &p->odds->after;
    if (count == 0) return;
    const double top = causes_top(p);
    text(p, 14, top - 40, (dt_type){13, true, DT_TEXT, DT_START}, "What breaks it");
    if (after->wells > 0)
        snprintf(
            line, sizeof line,
            "Open bars: rules of seats, of all wells drawn. Filled bars: strength, running and "
            "cement, of the first %zu, where the seats hold.",
            after->wells);
    else
        snprintf(line, sizeof line, "Rules of seats, of all wells drawn.");
    text(p, 14, top - 25, small, line);
    if (after->wells > 0) {
        snprintf(line, sizeof line, "Of these, %.1f %% hold by the seats, %.1f %% by all stages.",
                 100 * dt_share_value(after->seats), 100 * dt_share_value(after->all));
        text(p, 14, top - 11, small, line);
    }
    for (size_t i = 0; i < count; ++i)
        draw_cause(p, i, list[0].share, &list[i]);
}

static void draw_title(picture *p)
{
    char line[200], cut[DT_LINE_BYTES];
    dt_text_fit(p->program->well->name, PAGE_W - 28, 16, true, cut);
    text(p, 14, 18, (dt_type){16, true, DT_TEXT, DT_START}, cut);
    snprintf(line, sizeof line,
             "Can be drilled as planned: %.1f %% (standard error %.2f). With one contingency "
             "liner: %.1f %%. "
             "%zu wells drawn, seed %llu.",
             100 * dt_share_value(p->odds->planned), 100 * dt_share_error(p->odds->planned),
             100 * dt_share_value(p->odds->spare), p->odds->samples,
             (unsigned long long)p->odds->seed);
    text(p, 14, 38, (dt_type){DT_TYPE, false, DT_TEXT, DT_START}, line);
}

static void draw_key(picture *p)
{
    double y = PLOT_BOTTOM + 16;
    dt_svg_line(p->svg, PLOT_LEFT, y, PLOT_LEFT + 24, y, (dt_ink){.stroke = DT_BLUE, .width = 1.8});
    text(p, PLOT_LEFT + 28, y, small, "pore pressure, and 80 % of the drawn wells");
    dt_svg_line(p->svg, PLOT_LEFT + 290, y, PLOT_LEFT + 314, y,
                (dt_ink){.stroke = DT_RUST, .width = 1.8, .dash = "6 2"});
    text(p, PLOT_LEFT + 318, y, small, "fracture gradient, the same");
    text(p, PLOT_LEFT, y + 16, small,
         "Beside the plot: how each seat lies when it is chosen anew, the shallowest that does, "
         "with");
    text(p, PLOT_LEFT, y + 30, small,
         "P10 to P90 and the middle one. The mark is the planned seat.");
}

static void draw_page(picture *p, const cause *causes, size_t cause_count)
{
    set_range(p);
    draw_title(p);
    draw_axes(p);
    dt_svg_clip_open(p->svg,
                     (dt_box){PLOT_LEFT, PLOT_TOP, PLOT_RIGHT - PLOT_LEFT, PLOT_BOTTOM - PLOT_TOP});
    draw_fan(p, false, "#d7e6f1", (dt_ink){.stroke = DT_BLUE, .width = 1.8});
    draw_fan(p, true, "#f6dfcf", (dt_ink){.stroke = DT_RUST, .width = 1.8, .dash = "6 2"});
    dt_svg_close(p->svg);
    draw_frame(p);
    for (size_t k = 1; k < p->odds->string_count; ++k)
        draw_seat(p, k);
    label_seats(p);
    draw_key(p);
    draw_bars(p);
    draw_causes(p, causes, cause_count);
}

dt_status dt_draw_odds(const dt_program *program, const dt_odds *odds, dt_display display,
                       dt_text *out)
{
    dt_buffer title = {0}, description = {0};
    char line[160];
    dt_buffer_text(&title, "Odds of ");
    dt_buffer_text(&title, program->well->name);
    snprintf(line, sizeof line,
             "The program can be drilled as planned in %.1f %% of %zu drawn wells.",
             100 * dt_share_value(odds->planned), odds->samples);
    dt_buffer_text(&description, line);
    dt_status status = DT_E_MEMORY;
    if (!title.failed && !description.failed) {
        dt_svg svg;
        cause causes[MOST_CAUSES];
        picture p = {.svg = &svg,
                     .program = program,
                     .odds = odds,
                     .display = display,
                     .bottom_m = program->well->objective_m * 1.02};
        const size_t cause_count = find_causes(&p, causes);
        const dt_svg_page page = {PAGE_W, page_height(&p, cause_count), "odds", title.bytes,
                                  description.bytes};
        dt_svg_begin(&svg, &page);
        draw_page(&p, causes, cause_count);
        status = dt_svg_end(&svg, out);
    }
    dt_buffer_free(&title);
    dt_buffer_free(&description);
    return status;
}
