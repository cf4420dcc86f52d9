/* SPDX-License-Identifier: MIT */
/* certainty.svg: what each program costs against the share of drawn wells in which it holds. */
#include <math.h>
#include <stdio.h>

#include "labels.h"
#include "plots.h"
#include "same.h"
#include "svg.h"
#include "wording.h"

#define PAGE_W 720.0
#define PAGE_H 460.0
#define LEFT   74.0
#define RIGHT  692.0
#define TOP    66.0
#define BOTTOM 380.0
#define REACH  4.0 /* of a mark */
#define SIZE   DT_TYPE

enum { MOST_LABELS = DT_MOST_COMPARED + DT_CERTAIN_COUNT + 2 };

typedef struct picture {
    dt_svg *svg;
    const dt_comparison *c;
    double low, high, unit; /* of money or of steel; what one of the axis is */
    dt_box taken[MOST_LABELS];
    size_t taken_count;
} picture;

static const dt_type small = {SIZE, false, DT_TEXT, DT_MIDDLE};

/** What is drawn along: money where there are prices, else steel in kg. */
static double amount_of(const picture *p, const dt_option *o)
{
    return p->c->well->prices_given ? o->cost : o->steel_kg;
}

static double x_of(const picture *p, double amount)
{
    return LEFT + (amount - p->low) / (p->high - p->low) * (RIGHT - LEFT);
}

static double y_of(const picture *p, size_t held, const dt_held_by_all *of_all)
{
    return BOTTOM - dt_comparison_percent_by_all(p->c, held, of_all) / 100 * (BOTTOM - TOP);
}

static void stretch(picture *p, const dt_option *o)
{
    p->low = fmin(p->low, amount_of(p, o));
    p->high = fmax(p->high, amount_of(p, o));
}

static void set_range(picture *p)
{
    p->low = INFINITY;
    p->high = -INFINITY;
    for (size_t i = 0; i < p->c->count; ++i)
        stretch(p, &p->c->items[i].option);
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i)
        if (p->c->certainty[i].given) stretch(p, &p->c->certainty[i].option);
    const double room = fmax(0.08 * (p->high - p->low), 0.01 * p->high);
    p->low -= room;
    p->high += room;
    p->unit = !p->c->well->prices_given ? 1e3 : p->high >= 1e6 ? 1e6 : p->high >= 1e3 ? 1e3 : 1;
}

static void draw_axes(const picture *p)
{
    const dt_ink faint = {.stroke = DT_LINE_FAINT, .width = 0.6};
    char text[96];
    for (int percent = 0; percent <= 100; percent += 20) {
        const double y = BOTTOM - percent / 100.0 * (BOTTOM - TOP);
        dt_svg_line(p->svg, LEFT, y, RIGHT, y, faint);
        snprintf(text, sizeof text, "%d %%", percent);
        dt_svg_text(p->svg, LEFT - 6, y, (dt_type){SIZE, false, DT_TEXT, DT_END}, text);
    }
    const double step = dt_round_step((p->high - p->low) / p->unit / 7);
    for (double at = step * ceil(p->low / p->unit / step); at <= p->high / p->unit; at += step) {
        const double x = x_of(p, at * p->unit);
        dt_svg_line(p->svg, x, TOP, x, BOTTOM, faint);
        snprintf(text, sizeof text, "%.*f", step < 0.1 ? 2 : step < 1 ? 1 : 0, at);
        dt_svg_text(p->svg, x, BOTTOM + 13, small, text);
    }
    dt_svg_rect(p->svg, (dt_box){LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP},
                (dt_ink){.stroke = DT_LINE, .width = 0.9});
    const char *currency = p->c->well->prices.currency;
    if (!p->c->well->prices_given)
        snprintf(text, sizeof text, "steel, t");
    else
        snprintf(text, sizeof text, "cost, %s%.60s",
                 p->unit > 1e3 ? "millions of "
                 : p->unit > 1 ? "thousands of "
                               : "",
                 currency ? currency : "the currency of the prices");
    dt_svg_text(p->svg, (LEFT + RIGHT) / 2, BOTTOM + 30, small, text);
    dt_svg_text(p->svg, LEFT, TOP - 10, (dt_type){SIZE, false, DT_TEXT, DT_START},
                "holds in so many of the drawn wells, by all stages");
}

static bool meet(const dt_box *a, const dt_box *b)
{
    return a->x < b->x + b->w && b->x < a->x + a->w && a->y < b->y + b->h && b->y < a->y + a->h;
}

static bool is_free(const picture *p, const dt_box *box)
{
    if (box->x < LEFT || box->x + box->w > RIGHT || box->y < TOP || box->y + box->h > BOTTOM)
        return false;
    for (size_t i = 0; i < p->taken_count; ++i)
        if (meet(box, &p->taken[i])) return false;
    return true;
}

static void take(picture *p, dt_box box)
{
    if (p->taken_count < MOST_LABELS) p->taken[p->taken_count++] = box;
}

/** A label beside its mark, where none is yet: first above, or to the left, then all round it, then
 * further off. */
static void put_label(picture *p, double x, double y, const char *text, bool bold, bool left)
{
    static const double ways[][2] = {{0, -1}, {0, 1},   {1, 0}, {-1, 0},
                                     {1, -1}, {-1, -1}, {1, 1}, {-1, 1}};
    const double w = dt_text_width(text, SIZE, bold) + 4, h = SIZE + 3;
    dt_box box = {x - w / 2, y - REACH - h - 1, w, h};
    for (int off = 1; off <= 3; ++off)
        for (size_t n = 0; n < COUNT_OF(ways); ++n) {
            const size_t i = (n + (left ? 3 : 0)) % COUNT_OF(ways);
            const double right = ways[i][0] * (w / 2 + REACH * off + 1);
            const double down = ways[i][1] * (h / 2 + REACH * off + 1);
            const dt_box there = {x + right - w / 2, y + down - h / 2, w, h};
            if (!is_free(p, &there)) continue;
            box = there;
            off = 4;
            break;
        }
    take(p, box);
    dt_svg_label_open(p->svg, box);
    dt_svg_text(p->svg, box.x + w / 2, box.y + h / 2, (dt_type){SIZE, bold, DT_TEXT, DT_MIDDLE},
                text);
    dt_svg_close(p->svg);
}

static dt_box mark_box(double x, double y)
{
    return (dt_box){x - REACH, y - REACH, 2 * REACH, 2 * REACH};
}

/** The plan between less and more certainty: a line, so that its slope is what a percent costs. */
static void draw_steps(const picture *p)
{
    dt_path path = {0};
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_certainty *step = &p->c->certainty[i];
        if (!step->given) continue;
        const double x = x_of(p, amount_of(p, &step->option)),
                     y = y_of(p, step->held, &step->of_all);
        if (path.any)
            dt_path_line(&path, x, y);
        else
            dt_path_move(&path, x, y);
    }
    dt_svg_path(p->svg, &path, (dt_ink){.stroke = DT_BLUE, .width = 1.6});
}

static void draw_marks(picture *p)
{
    for (size_t i = 0; i < p->c->count; ++i) {
        const dt_compared *one = &p->c->items[i];
        const double x = x_of(p, amount_of(p, &one->option)), y = y_of(p, one->held, &one->of_all);
        dt_svg_diamond(p->svg, x, y, REACH,
                       i == 0 ? (dt_ink){.fill = DT_BLUE, .stroke = DT_LINE, .width = 0.8}
                              : (dt_ink){.fill = DT_PAPER, .stroke = DT_RUST, .width = 1.4});
        take(p, mark_box(x, y));
    }
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_certainty *step = &p->c->certainty[i];
        if (!step->given || i == DT_CERTAIN_PLANNED) continue;
        const double x = x_of(p, amount_of(p, &step->option)),
                     y = y_of(p, step->held, &step->of_all);
        dt_svg_diamond(p->svg, x, y, REACH,
                       (dt_ink){.fill = DT_PAPER, .stroke = DT_BLUE, .width = 1.4});
        take(p, mark_box(x, y));
    }
}

static void name_marks(picture *p)
{
    for (size_t i = 0; i < p->c->count; ++i) {
        const dt_compared *one = &p->c->items[i];
        put_label(p, x_of(p, amount_of(p, &one->option)), y_of(p, one->held, &one->of_all),
                  one->label, i == 0, false);
    }
    for (int i = 0; i < DT_CERTAIN_COUNT; ++i) {
        const dt_certainty *step = &p->c->certainty[i];
        if (step->given && i != DT_CERTAIN_PLANNED)
            put_label(p, x_of(p, amount_of(p, &step->option)), y_of(p, step->held, &step->of_all),
                      dt_certainty_text((dt_certainty_step)i), false, i == DT_CERTAIN_SHALLOWEST);
    }
}

static void draw_page(picture *p, const char *title)
{
    dt_svg_text(p->svg, 14, 22, (dt_type){14, true, DT_TEXT, DT_START}, title);
    draw_axes(p);
    draw_steps(p);
    draw_marks(p);
    name_marks(p);
    dt_svg_text(p->svg, LEFT, BOTTOM + 50, (dt_type){SIZE, false, DT_TEXT, DT_START},
                "Blue: the plan, its sizes with the shallowest shoes, and with one string more.");
    dt_svg_text(p->svg, LEFT, BOTTOM + 65, (dt_type){SIZE, false, DT_TEXT, DT_START},
                "Rust: the other options, found by cost, not by certainty.");
}

dt_status dt_draw_certainty(const dt_comparison *comparison, dt_display display, dt_text *out)
{
    (void)display; /* money, steel and shares have no units to choose */
    if (comparison->drawn == 0 || comparison->count == 0) return DT_E_NONE;
    dt_buffer title = {0}, description = {0};
    char line[160];
    dt_buffer_text(&title, "What certainty costs: ");
    dt_buffer_text(&title, comparison->well->name);
    snprintf(line, sizeof line,
             "%zu programs by what they cost and by how many of %zu drawn wells they hold in, by "
             "all stages.",
             comparison->count, comparison->drawn);
    dt_buffer_text(&description, line);
    dt_status status = DT_E_MEMORY;
    if (!title.failed && !description.failed) {
        dt_svg svg;
        const dt_svg_page page = {PAGE_W, PAGE_H, "certainty", title.bytes, description.bytes};
        dt_svg_begin(&svg, &page);
        picture p = {.svg = &svg, .c = comparison};
        set_range(&p);
        draw_page(&p, title.bytes);
        status = dt_svg_end(&svg, out);
    }
    dt_buffer_free(&title);
    dt_buffer_free(&description);
    return status;
}
