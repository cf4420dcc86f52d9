/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_SCHEMATIC_H
#define DRAWTUBE_RENDER_SCHEMATIC_H

#include "svg.h"
#include "wording.h"

/*
 * Private to render/: the parts of the schematic. schematic.c lays out the page and its
 * texts, schematic_depth.c owns the depth scale, schematic_well.c the rock and the steel.
 */

/* Columns of the page, drawing units from the left. */
#define DT_PAGE_W       720.0
#define DT_PAGE_H       1018.0
#define DT_MARGIN       14.0
#define DT_LEFT_W       150.0 /* label columns */
#define DT_RIGHT_W      178.0
#define DT_PANEL_LEFT   216.0 /* the rock */
#define DT_PANEL_RIGHT  476.0
#define DT_PANEL_MIDDLE ((DT_PANEL_LEFT + DT_PANEL_RIGHT) / 2)
#define DT_STRIP_W      32.0 /* depth scales beside the rock */
#define DT_RIGHT_X      (DT_PAGE_W - DT_MARGIN - DT_RIGHT_W)

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
    double left, right; /* of the rock; the well stands in the middle */
    double units_per_m; /* across: radii */
} dt_sketch;

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

/** Symbols at the wall of a pipe, shared with the legend; side is -1 or 1. */
void dt_path_shoe(dt_path *path, double wall_x, double y, double side);
void dt_path_hanger(dt_path *path, double wall_x, double y, double side, double gap);
/** Point-down triangle that marks a water level. */
void dt_path_level(dt_path *path, double x, double y);

#endif
