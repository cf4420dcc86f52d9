/* SPDX-License-Identifier: MIT */
#include <math.h>

#include "same.h"
#include "string_sheet.h"
#include "wording.h"

/* Widths are not to scale: what stands beside what matters here, not by how much. */
#define MIDDLE     105.0
#define ROCK_HALF  54.0
#define HOLE_HALF  45.0
#define OUTER_HALF 41.0 /* bore of the pipe outside */
#define PIPE_HALF  22.0
#define BORE_HALF  18.0
#define LABEL_X    172.0

typedef struct picture {
    const dt_sheet *sheet;
    const dt_cement *cement;
    double top_md_m, base_md_m, ground_md_m, open_md_m, bottom_md_m;
    double top, bottom; /* on the page */
    bool large;         /* the lowest part, enlarged */
    dt_labels labels;
} picture;

static double y_of(const picture *p, double md_m)
{
    double share = (md_m - p->top_md_m) / (p->base_md_m - p->top_md_m);
    return p->top + fmin(fmax(share, 0), 1) * (p->bottom - p->top);
}

/** Half the room round the pipe at a depth. */
static double room(const picture *p, double md_m)
{
    return md_m > p->open_md_m ? HOLE_HALF : OUTER_HALF;
}

/** The same box on both sides of the middle, from one half-width to another. */
static void both_sides(dt_path *path, const picture *p, double inner, double outer, double top_m,
                       double base_m)
{
    double top = y_of(p, top_m), base = y_of(p, base_m);
    if (base <= top) return;
    dt_path_box(path, (dt_box){MIDDLE - outer, top, outer - inner, base - top});
    dt_path_box(path, (dt_box){MIDDLE + inner, top, outer - inner, base - top});
}

static void fill_both(const picture *p, double inner, double outer, double top_m, double base_m,
                      const char *fill)
{
    dt_path path = {0};
    both_sides(&path, p, inner, outer, top_m, base_m);
    dt_svg_path(p->sheet->svg, &path, (dt_ink){.fill = fill});
}

/* ---- what surrounds the string ---- */

static void draw_zone(const picture *p, double top_tvd_m, double base_tvd_m, const dt_hatch *hatch)
{
    const dt_trajectory *trajectory = &p->sheet->program->trajectory;
    double top = y_of(p, dt_trajectory_md(trajectory, top_tvd_m));
    double base = y_of(p, dt_trajectory_md(trajectory, base_tvd_m));
    if (!(base > top)) return;
    dt_path path = {0};
    dt_path_box(&path, (dt_box){MIDDLE - ROCK_HALF, top, ROCK_HALF - HOLE_HALF, base - top});
    dt_path_box(&path, (dt_box){MIDDLE + HOLE_HALF, top, ROCK_HALF - HOLE_HALF, base - top});
    dt_svg_hatch(p->sheet->svg, &path, hatch);
}

static void draw_surroundings(const picture *p)
{
    const dt_well *well = p->sheet->program->well;
    double ground = fmax(p->ground_md_m, p->top_md_m);
    double y = y_of(p, ground), base = y_of(p, p->bottom_md_m);
    if (p->base_md_m > ground)
        dt_svg_rect(p->sheet->svg, (dt_box){MIDDLE - ROCK_HALF, y, 2 * ROCK_HALF, p->bottom - y},
                    (dt_ink){.fill = DT_ROCK});
    if (well->over_sea) {
        dt_path sea = {0};
        double surface = y_of(p, well->rig_floor_m);
        if (y > surface) {
            dt_path_box(&sea, (dt_box){MIDDLE - ROCK_HALF, surface, 2 * ROCK_HALF, y - surface});
            dt_svg_hatch(p->sheet->svg, &sea, &dt_hatch_water);
        }
    }
    for (size_t i = 0; i < well->interval_count; ++i)
        draw_zone(p, well->intervals[i].top_m, well->intervals[i].base_m,
                  dt_hatch_of_kind(well->intervals[i].kind));
    for (size_t i = 0; i < well->pay_count; ++i)
        draw_zone(p, well->pays[i].top_m, well->pays[i].base_m, &dt_hatch_pay);
    double open = fmax(p->open_md_m, ground);
    bool driven = p->sheet->item->job->running.driven;
    double top = y_of(p, open), half = driven ? BORE_HALF : HOLE_HALF;
    dt_svg_rect(p->sheet->svg, (dt_box){MIDDLE - half, top, 2 * half, base - top},
                (dt_ink){.fill = DT_HOLE});
    if (driven) return;
    dt_path wall = {0};
    dt_path_move(&wall, MIDDLE - HOLE_HALF, top);
    dt_path_line(&wall, MIDDLE - HOLE_HALF, base);
    dt_path_line(&wall, MIDDLE + HOLE_HALF, base);
    dt_path_line(&wall, MIDDLE + HOLE_HALF, top);
    dt_svg_path(p->sheet->svg, &wall, (dt_ink){.stroke = "#7a6a55", .width = 0.7});
    if (p->sheet->index == 0) return;
    double shoe = y_of(p, p->open_md_m);
    if (shoe > p->top)
        dt_svg_rect(p->sheet->svg,
                    (dt_box){MIDDLE - OUTER_HALF, p->top, 2 * OUTER_HALF, shoe - p->top},
                    (dt_ink){.fill = DT_HOLE});
    fill_both(p, OUTER_HALF, OUTER_HALF + 4, p->top_md_m, p->open_md_m, DT_STEEL);
}

/* ---- cement, pipe, float equipment ---- */

static void draw_cement(const picture *p)
{
    const dt_cement *c = p->cement;
    if (!c->cemented) return;
    for (size_t i = 0; i < c->part_count; ++i) {
        const dt_cement_part *part = &c->parts[i];
        dt_path path = {0};
        both_sides(&path, p, PIPE_HALF, OUTER_HALF, part->top_md_m,
                   fmin(part->base_md_m, p->open_md_m));
        both_sides(&path, p, PIPE_HALF, HOLE_HALF, fmax(part->top_md_m, p->open_md_m),
                   part->base_md_m);
        if (i + 1 == c->part_count) {
            double shoe = p->sheet->item->shoe_md_m;
            both_sides(&path, p, 0, BORE_HALF, c->collar_md_m, shoe);
            both_sides(&path, p, 0, HOLE_HALF, shoe, p->bottom_md_m);
        }
        dt_svg_hatch(p->sheet->svg, &path, &dt_hatch_cement[i % 2]);
    }
}

static void draw_pipe(const picture *p)
{
    dt_svg *svg = p->sheet->svg;
    const dt_program_string *item = p->sheet->item;
    double shoe = y_of(p, item->shoe_md_m), collar = y_of(p, p->cement->collar_md_m);
    double high = p->large ? 9 : 4;
    if (p->sheet->program->well->over_sea && p->sheet->index == 0) /* no sea inside the pipe */
        fill_both(p, 0, BORE_HALF, p->top_md_m, p->ground_md_m, DT_HOLE);
    fill_both(p, BORE_HALF, PIPE_HALF, item->top_md_m, item->shoe_md_m, DT_STEEL);
    if (item->seat->type == DT_TIEBACK) { /* its stem in the receptacle of the liner below */
        fill_both(p, BORE_HALF, PIPE_HALF, item->shoe_md_m, p->base_md_m, DT_STEEL);
        double stem = 0.35 * (p->base_md_m - item->shoe_md_m);
        fill_both(p, PIPE_HALF, PIPE_HALF + 4, item->shoe_md_m - stem, item->shoe_md_m + stem,
                  DT_STEEL);
        return;
    }
    dt_path nose = {0};
    for (double side = -1; side <= 1; side += 2) {
        dt_path_move(&nose, MIDDLE + side * (BORE_HALF - 6), shoe);
        dt_path_line(&nose, MIDDLE + side * (PIPE_HALF + 4), shoe);
        dt_path_line(&nose, MIDDLE + side * (PIPE_HALF), shoe - 2 * high);
        dt_path_line(&nose, MIDDLE + side * BORE_HALF, shoe - 2 * high);
        dt_path_close(&nose);
    }
    dt_svg_path(svg, &nose, (dt_ink){.fill = DT_STEEL});
    if (!p->cement->cemented || collar <= p->top || collar >= shoe) return;
    dt_svg_rect(svg, (dt_box){MIDDLE - BORE_HALF, collar, 2 * BORE_HALF, high},
                (dt_ink){.fill = DT_STEEL});
    if (!p->large) return;
    dt_path valve = {0}; /* the opening of the float, and the top plug on it */
    dt_path_box(&valve, (dt_box){MIDDLE - 5, collar, 10, high});
    dt_svg_path(svg, &valve, (dt_ink){.fill = DT_PAPER});
    dt_svg_rect(svg, (dt_box){MIDDLE - BORE_HALF, collar - 12, 2 * BORE_HALF, 11},
                (dt_ink){.fill = DT_MAUVE, .stroke = DT_LINE, .width = 0.6});
}

static void bow(dt_path *path, const picture *p, double md_m, double high)
{
    double y = y_of(p, md_m), reach = room(p, md_m) - 1;
    for (double side = -1; side <= 1; side += 2) {
        if (!p->large) { /* a stroke beside the pipe: hundreds of bows would hide the cement */
            dt_path_move(path, MIDDLE + side * PIPE_HALF, y);
            dt_path_line(path, MIDDLE + side * (PIPE_HALF + 9), y);
            continue;
        }
        dt_path_move(path, MIDDLE + side * PIPE_HALF, y - high);
        dt_path_line(path, MIDDLE + side * reach, y - high / 3);
        dt_path_line(path, MIDDLE + side * reach, y + high / 3);
        dt_path_line(path, MIDDLE + side * PIPE_HALF, y + high);
    }
}

static void draw_centralizers(const picture *p)
{
    const dt_centralizing *c = &p->sheet->item->job->centralizing;
    double high = p->large ? 7 : 2.6;
    for (size_t i = 0; i < c->count; ++i) {
        const dt_centralizer_run *run = &c->runs[i];
        dt_path path = {0};
        bool rigid = run->kind == DT_CENTRALIZER_RIGID;
        for (size_t k = 0; k < run->count; ++k) {
            double md = run->count == 1 ? (run->top_md_m + run->base_md_m) / 2
                                        : run->base_md_m - ((double)k + 0.5) * run->spacing_m;
            md = fmax(md, run->top_md_m);
            if (md <= p->top_md_m || md >= p->base_md_m) continue;
            if (!rigid)
                bow(&path, p, md, high);
            else
                for (double side = -1; side <= 1; side += 2) {
                    double reach = room(p, md) - 2 - PIPE_HALF;
                    double x = side > 0 ? MIDDLE + PIPE_HALF : MIDDLE - PIPE_HALF - reach;
                    dt_path_box(&path, (dt_box){x, y_of(p, md) - high / 2, reach, high});
                }
        }
        dt_svg_path(p->sheet->svg, &path,
                    rigid ? (dt_ink){.fill = DT_RUST}
                          : (dt_ink){.stroke = DT_RUST, .width = p->large ? 1.6 : 0.9});
    }
}

/* ---- scale and labels ---- */

static void draw_scale(const picture *p)
{
    dt_svg *svg = p->sheet->svg;
    dt_display display = p->sheet->display;
    double unit = 1 / dt_display_value(display, DT_KIND_LENGTH, 1);
    double step = dt_round_step((p->base_md_m - p->top_md_m) / unit / 9);
    double x = MIDDLE - ROCK_HALF;
    dt_svg_line(svg, x - 3, p->top, x - 3, p->bottom, (dt_ink){.stroke = DT_LINE, .width = 0.7});
    for (double at = dt_count_up(p->top_md_m / unit / step) * step; at * unit <= p->base_md_m;
         at += step) {
        double y = y_of(p, at * unit);
        dt_buffer text = {0};
        dt_say_depth_number(&text, display, at * unit);
        dt_svg_line(svg, x - 7, y, x - 3, y, (dt_ink){.stroke = DT_LINE, .width = 0.7});
        if (!text.failed)
            dt_svg_text(svg, x - 9, y, (dt_type){DT_TYPE, false, DT_TEXT, DT_END}, text.bytes);
        else
            svg->status = DT_E_MEMORY;
        dt_buffer_free(&text);
    }
}

static void label(picture *p, double md_m, const char *head, const char *more)
{
    if (!(md_m >= p->top_md_m && md_m <= p->base_md_m)) return;
    dt_label *block = dt_labels_add(&p->labels, y_of(p, md_m), DT_TEXT, DT_LINE_QUIET);
    dt_label_write(&p->labels, block, true, 2, head);
    dt_buffer text = {0};
    dt_say_depth(&text, p->sheet->display, md_m);
    if (more) {
        dt_buffer_text(&text, ", ");
        dt_buffer_text(&text, more);
    }
    if (text.failed)
        p->labels.failed = true;
    else
        dt_label_write(&p->labels, block, false, 3, text.bytes);
    dt_buffer_free(&text);
}

static void label_cement(picture *p)
{
    const dt_cement *c = p->cement;
    for (size_t i = 0; c->cemented && i < c->part_count; ++i)
        label(p, c->parts[i].top_md_m,
              i == 0                   ? "top of cement"
              : i + 1 == c->part_count ? "top of tail"
                                       : "top of next slurry",
              c->parts[i].slurry.name);
    if (c->cemented && c->stage.proposed)
        label(p, c->stage.md_m, "stage tool proposed", c->stage.in_casing ? "inside pipe" : NULL);
}

static void label_zones(picture *p)
{
    const dt_program *program = p->sheet->program;
    const dt_well *well = program->well;
    for (size_t i = 0; i < well->pay_count; ++i) {
        double md = dt_trajectory_md(&program->trajectory, well->pays[i].top_m);
        if (md > p->open_md_m) label(p, md, well->pays[i].name, "top of pay");
    }
    for (size_t i = 0; i < well->interval_count && p->labels.count < 14; ++i) {
        double md = dt_trajectory_md(&program->trajectory, well->intervals[i].top_m);
        if (md > p->open_md_m) label(p, md, well->intervals[i].name, well->intervals[i].kind);
    }
}

static void label_all(picture *p)
{
    const dt_program_string *item = p->sheet->item;
    bool cemented = p->cement->cemented;
    if (item->seat->type == DT_TIEBACK) {
        label(p, item->shoe_md_m, p->large ? "seals in the receptacle" : "liner top",
              p->large ? "liner below" : NULL);
        return;
    }
    if (p->sheet->index > 0) label(p, p->open_md_m, "previous shoe", "open hole below");
    label_cement(p);
    if (!p->large) {
        if (item->seat->type == DT_LINER) label(p, item->top_md_m, "liner hanger", NULL);
        label_zones(p);
        label(p, item->shoe_md_m, "shoe", NULL);
        return;
    }
    bool track = cemented && p->cement->collar_md_m < item->shoe_md_m;
    bool conductor = p->sheet->index == 0;
    if (track)
        label(p, p->cement->collar_md_m, conductor ? "cement left inside" : "float collar",
              conductor ? "from here down" : "top plug bumps here");
    label(p, item->shoe_md_m, conductor ? "shoe" : "float shoe", NULL);
    if (cemented && p->cement->rathole_m > 0)
        label(p, p->bottom_md_m, "bottom of hole", "rathole, cemented");
}

static void draw_labels(picture *p)
{
    dt_svg *svg = p->sheet->svg;
    if (p->labels.failed) svg->status = DT_E_MEMORY;
    /* With more zones than the column holds, the picture stands without its labels' leaders. */
    if (svg->status != DT_OK) return;
    bool placed = dt_labels_place(&p->labels, p->top - 6, p->bottom + 8);
    if (p->labels.failed) svg->status = DT_E_MEMORY;
    if (!placed) return;
    for (size_t i = 0; i < p->labels.count; ++i) {
        const dt_label *at = &p->labels.items[i];
        double y = at->top + p->labels.size * DT_LINE_HEIGHT / 2 + 1.5;
        dt_path path = {0};
        dt_path_move(&path, MIDDLE + ROCK_HALF - 9, at->target_y);
        dt_path_line(&path, MIDDLE + ROCK_HALF + 2, at->target_y);
        dt_path_line(&path, LABEL_X - 2, y);
        dt_svg_path(svg, &path, (dt_ink){.stroke = at->mark, .width = 0.7});
    }
    dt_labels_draw(svg, &p->labels, LABEL_X, DT_START);
}

static void draw_panel(picture *p)
{
    p->labels = (dt_labels){.width = DT_PICTURE_W + DT_SHEET_MARGIN - LABEL_X, .size = DT_TYPE};
    draw_surroundings(p);
    draw_cement(p);
    draw_pipe(p);
    draw_centralizers(p);
    draw_scale(p);
    label_all(p);
    draw_labels(p);
    dt_labels_free(&p->labels);
}

static void caption(const dt_sheet *sheet, double y, const char *words)
{
    dt_svg_text(sheet->svg, DT_SHEET_MARGIN, y, (dt_type){DT_TYPE, true, DT_TEXT, DT_START}, words);
}

void dt_draw_string_picture(dt_sheet *sheet, double top, double bottom)
{
    const dt_program_string *item = sheet->item;
    const dt_program *program = sheet->program;
    const dt_cement *cement = &item->job->cement;
    double ground = dt_trajectory_md(&program->trajectory, dt_well_ground_m(program->well));
    double rathole = cement->cemented ? cement->rathole_m : 0, length = item->shoe_md_m;
    picture p = {.sheet = sheet,
                 .cement = cement,
                 .ground_md_m = ground,
                 .open_md_m = sheet->index ? program->items[sheet->index - 1].shoe_md_m : ground,
                 .bottom_md_m = item->shoe_md_m + rathole,
                 .base_md_m = item->shoe_md_m + fmax(rathole, 0.005 * length)};
    if (item->seat->type == DT_TIEBACK) /* pipe all round: no hole within the picture */
        p.open_md_m = p.bottom_md_m = 2 * item->shoe_md_m;
    /* A liner's picture begins a little above its hanger. */
    p.top_md_m = fmax(item->top_md_m - 0.03 * length, 0);
    double split = top + 0.64 * (bottom - top);
    caption(sheet, top, "Whole string, measured depth to scale");
    p.top = top + 16;
    p.bottom = split - 14;
    draw_panel(&p);
    caption(sheet, split + 12, "Its lowest part, larger");
    double joints = 4 * item->job->running.settings.joint_m + rathole;
    p.top_md_m = fmax(item->shoe_md_m - joints, 0);
    p.base_md_m = item->shoe_md_m + fmax(rathole, 0.05 * joints) * 1.6;
    if (item->seat->type == DT_TIEBACK) p.base_md_m = item->shoe_md_m + 0.3 * joints;
    p.top = split + 28;
    p.bottom = bottom - 8;
    p.large = true;
    draw_panel(&p);
}
