/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_SCHEMATIC_H
#define DRAWTUBE_RENDER_SCHEMATIC_H

#include "schematics.h"
#include "svg.h"
#include "wording.h"

/*
 * Private to render/: the parts of the schematic. schematic.c lays out the page and its
 * texts, schematic_depth.c owns the depth scale, schematic_well.c the rock and the steel.
 */

/* Columns of the page, drawing units from the left. */
#define DT_PAGE_W      720.0
#define DT_MARGIN      14.0
#define DT_LEFT_W      160.0 /* label columns */
#define DT_RIGHT_W     192.0
#define DT_PANEL_LEFT  238.0 /* the rock */
#define DT_PANEL_RIGHT 450.0
#define DT_STRIP_W     44.0 /* depth scales beside the rock */

/** Where the parts of one form of the schematic stand, drawing units. */
typedef struct dt_layout {
    double page_w, page_h, margin;
    double panel_left, panel_right; /* the rock */
    double strip_w;                 /* depth scale beside the rock; 0: none is drawn */
    bool both_scales;               /* feet on the left and metres on the right, or the
                                       display's own on the left alone */
    double left_w;                  /* label column left of the rock; 0: one column takes all */
    double right_x, right_w;
    double title_size; /* 0: no title, no legend, no text at the foot */
    size_t title_lines;
    double foot_text_h; /* room for the text under the legend */
    bool levels;        /* levels and intervals have labels */
} dt_layout;

extern const dt_layout dt_layout_page;

/** TVD to y: linear, or two linear parts with a drawn break between them. */
typedef struct dt_depth_scale {
    double top_y, bottom_y; /* of rig floor and of bottom_m */
    double bottom_m;
    bool broken;
    double break_m;
    double upper_end_y, lower_start_y; /* both are break_m */
} dt_depth_scale;

typedef struct dt_sketch {
    const dt_program *program;
    dt_display display;
    dt_svg *svg;
    dt_depth_scale depth;
    double units_per_m;      /* across: radii */
    const dt_layout *layout; /* NULL: that of the full page */
    double left, right;      /* of the rock, where it does not stand as in the layout */
} dt_sketch;

/** The layout of a sketch. */
const dt_layout *dt_sketch_layout(const dt_sketch *sketch);
/** x of the middle of the rock, where the hole goes down. */
double dt_panel_middle(const dt_sketch *sketch);

/** One linear scale from the rig floor to the deepest shoe or the objective. */
dt_depth_scale dt_depth_scale_plain(const dt_program *program, double top_y, double bottom_y);
/**
 * The same, with a larger scale above a break where the conductor would vanish otherwise.
 * unit_m: length of the unit people read, so that the break stands at a round depth.
 */
dt_depth_scale dt_depth_scale_broken(const dt_program *program, double top_y, double bottom_y,
                                     double unit_m);
double dt_depth_y(const dt_depth_scale *scale, double tvd_m);
/** Metres of depth in one millimetre of paper, above and below the break. */
double dt_depth_per_mm(const dt_depth_scale *scale, bool upper);
void dt_draw_depth_axes(const dt_sketch *sketch);
void dt_draw_break(const dt_sketch *sketch);

void dt_draw_rock(const dt_sketch *sketch);
void dt_draw_holes(const dt_sketch *sketch);
void dt_draw_cement(const dt_sketch *sketch);
void dt_draw_pipes(const dt_sketch *sketch);
void dt_draw_levels(const dt_sketch *sketch);
/** TVD of the wellhead: at ground level, at the mudline, or on the deck over the sea. */
double dt_wellhead_tvd(const dt_well *well);
void dt_draw_wellhead(const dt_sketch *sketch);

/** Symbols at the wall of a pipe, shared with the legend; side is -1 or 1. */
void dt_path_shoe(dt_path *path, double wall_x, double y, double side);
void dt_path_leak_off(dt_path *path, double x, double y, double side);
void dt_path_hanger(dt_path *path, double wall_x, double y, double side, double gap);
/** Point-down triangle that marks a water level. */
void dt_path_level(dt_path *path, double x, double y);

#endif
