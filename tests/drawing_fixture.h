/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_DRAWING_FIXTURE_H
#define DRAWTUBE_TESTS_DRAWING_FIXTURE_H

#include <stdlib.h>
#include <string.h>

#include "program.h"

/*
 * Programs put together by hand, so that the drawings are tested without the planner.
 * All wells, names and figures are invented. Not every program would stand up to a planner;
 * they are made to be hard to draw.
 */

#define FIXTURE_STRINGS 12
#define FIXTURE_POINTS  8
#define FIXTURE_ZONES   40
#define FIXTURE_NODES   400

typedef struct fixture_string {
    dt_role role;
    dt_string_type type;
    double od_in, id_in, weight_lbft;
    const char *grade;
    dt_thread thread;
    double hole_in, bit_in;
    double top_ft, shoe_ft; /* MD */
    double cement_top_ft;   /* MD; negative: not cemented */
    dt_cement_rule rule;
    double mud_ppg; /* 0: none */
} fixture_string;

typedef struct fixture_zone {
    const char *name, *kind; /* kind NULL: pay */
    double top_ft, base_ft;  /* TVD */
    dt_action action;
    double within_ft;
} fixture_zone;

typedef struct fixture_plan {
    const char *name;
    bool over_sea;
    double rig_floor_ft, water_ft, objective_ft, fresh_water_ft; /* fresh water 0: none */
    double pore[FIXTURE_POINTS][2],
        fracture[FIXTURE_POINTS][2]; /* ft, ppg; ends at depth 0 after the first */
    dt_between between;
    dt_kick_rule kick_rule;
    dt_conductor_method conductor;
    double kickoff_ft, inclination_deg; /* 0: vertical */
    fixture_string strings[FIXTURE_STRINGS];
    fixture_zone zones[FIXTURE_ZONES];
} fixture_plan;

typedef struct fixture {
    dt_well well;
    dt_program program;
    dt_curve_point pore[FIXTURE_POINTS], fracture[FIXTURE_POINTS];
    dt_interval intervals[FIXTURE_ZONES];
    dt_pay pays[FIXTURE_ZONES];
    dt_grade grades[FIXTURE_STRINGS];
    dt_pipe pipes[FIXTURE_STRINGS];
    dt_section sections[FIXTURE_STRINGS];
    dt_string strings[FIXTURE_STRINGS];
    dt_seat seats[FIXTURE_STRINGS];
    dt_program_string items[FIXTURE_STRINGS];
    dt_nest_pipe nest_pipes[FIXTURE_NODES];
    dt_nest_hole nest_holes[FIXTURE_NODES];
    dt_nest_fit fits[FIXTURE_NODES * 8];
    dt_nest_pass passes[FIXTURE_NODES * 8];
} fixture;

static inline double fixture_ft(double ft)
{
    return ft * DT_M_PER_FT;
}

static inline size_t fixture_curve(dt_curve *curve, dt_curve_point *points,
                                   const double (*table)[2], dt_between between)
{
    size_t count = 0;
    do {
        points[count] = (dt_curve_point){.tvd_m = fixture_ft(table[count][0]),
                                         .emw_kgm3 = table[count][1] * DT_KGM3_PER_PPG,
                                         .sd_kgm3 = NAN,
                                         .low_kgm3 = NAN,
                                         .high_kgm3 = NAN};
        ++count;
    } while (count < FIXTURE_POINTS && table[count][0] > 0);
    *curve = (dt_curve){
        .points = points, .count = count, .between = between, .correlation_length_m = NAN};
    return count;
}

static inline void fixture_well(fixture *f, const fixture_plan *plan)
{
    dt_well *well = &f->well;
    well->name = (char *)(uintptr_t)plan->name;
    well->over_sea = plan->over_sea;
    well->rig_floor_m = fixture_ft(plan->rig_floor_ft);
    well->water_depth_m = fixture_ft(plan->water_ft);
    well->objective_m = fixture_ft(plan->objective_ft);
    well->min_pipe_od_m = 7 * DT_M_PER_IN;
    well->fresh_water_m = plan->fresh_water_ft > 0 ? fixture_ft(plan->fresh_water_ft) : NAN;
    fixture_curve(&well->pore, f->pore, plan->pore, plan->between);
    fixture_curve(&well->fracture, f->fracture, plan->fracture, plan->between);
    well->margins.trip.emw_kgm3 = 0.5 * DT_KGM3_PER_PPG;
    well->margins.kick.emw_kgm3 = 0.5 * DT_KGM3_PER_PPG;
    well->margins.kick_rule = plan->kick_rule;
    well->conductor.method = plan->conductor;
    well->intervals = f->intervals;
    well->pays = f->pays;
    for (size_t i = 0; i < FIXTURE_ZONES && plan->zones[i].name; ++i) {
        const fixture_zone *zone = &plan->zones[i];
        char *name = (char *)(uintptr_t)zone->name;
        if (zone->kind)
            f->intervals[well->interval_count++] =
                (dt_interval){.name = name,
                              .kind = (char *)(uintptr_t)zone->kind,
                              .top_m = fixture_ft(zone->top_ft),
                              .base_m = fixture_ft(zone->base_ft),
                              .action = zone->action,
                              .within_m = fixture_ft(zone->within_ft)};
        else
            f->pays[well->pay_count++] = (dt_pay){.name = name,
                                                  .top_m = fixture_ft(zone->top_ft),
                                                  .base_m = fixture_ft(zone->base_ft)};
    }
}

static inline void fixture_item(fixture *f, const fixture_string *in, size_t i)
{
    const dt_trajectory *path = &f->program.trajectory;
    f->grades[i] = (dt_grade){.name = in->grade};
    f->pipes[i] = (dt_pipe){.od_m = in->od_in * DT_M_PER_IN,
                            .id_m = in->id_in * DT_M_PER_IN,
                            .weight_kgm = in->weight_lbft * DT_KGM_PER_LBFT,
                            .drift_m = (in->id_in - 0.156) * DT_M_PER_IN,
                            .grade = &f->grades[i]};
    f->sections[i] = (dt_section){.top_md_m = fixture_ft(in->top_ft),
                                  .base_md_m = fixture_ft(in->shoe_ft),
                                  .pipe = &f->pipes[i],
                                  .thread = in->thread};
    f->strings[i] = (dt_string){.sections = &f->sections[i], .section_count = 1};
    double shoe_m = dt_trajectory_tvd(path, fixture_ft(in->shoe_ft));
    f->seats[i] = (dt_seat){.role = in->role,
                            .type = in->type,
                            .shallowest_m = shoe_m * 0.93,
                            .deepest_m = shoe_m * 1.05,
                            .shoe_m = shoe_m,
                            .exact_m = shoe_m,
                            .mud_kgm3 = in->mud_ppg > 0 ? in->mud_ppg * DT_KGM3_PER_PPG : NAN};
    unsigned ordinal = 1;
    for (size_t j = 0; j < i; ++j)
        ordinal += f->seats[j].role == in->role;
    bool cemented = in->cement_top_ft >= 0;
    f->items[i] = (dt_program_string){
        .seat = &f->seats[i],
        .string = &f->strings[i],
        .ordinal = ordinal,
        .top_md_m = fixture_ft(in->top_ft),
        .top_tvd_m = dt_trajectory_tvd(path, fixture_ft(in->top_ft)),
        .shoe_md_m = fixture_ft(in->shoe_ft),
        .shoe_tvd_m = shoe_m,
        .hole_m = in->hole_in * DT_M_PER_IN,
        .bit_m = in->bit_in * DT_M_PER_IN,
        .opened = in->bit_in < in->hole_in,
        .od_m = in->od_in * DT_M_PER_IN,
        .largest_od_m = (in->od_in + 1) * DT_M_PER_IN,
        .cement_rule = in->rule,
        .cement_top_md_m = cemented ? fixture_ft(in->cement_top_ft) : NAN,
        .cement_top_tvd_m =
            cemented ? dt_trajectory_tvd(path, fixture_ft(in->cement_top_ft)) : NAN};
}

/** A nest around the chosen path: common sizes near it, edges where they would roughly pass. */
static inline void fixture_nest(fixture *f)
{
    static const double pipes[] = {4.5,   5,      5.5, 7,      7.625, 8.625, 9.625, 10.75,
                                   11.75, 13.375, 16,  18.625, 20,    24,    30};
    static const double bits[] = {6,     6.125,  6.5, 6.75,  7.875, 8.5,   8.75, 9.5,
                                  9.875, 10.625, 11,  12.25, 13.5,  14.75, 16,   17.5,
                                  20,    22,     24,  26,    28,    36};
    dt_nest *nest = &f->program.nest;
    *nest = (dt_nest){.string_count = f->program.count,
                      .pipes = f->nest_pipes,
                      .holes = f->nest_holes,
                      .fits = f->fits,
                      .passes = f->passes};
    for (size_t k = 0; k < f->program.count; ++k) {
        double od_m = f->items[k].od_m, hole_m = f->items[k].hole_m;
        f->strings[k].nest_pipe = nest->pipe_count;
        nest->pipes[nest->pipe_count++] = (dt_nest_pipe){k, od_m, od_m * 1.08};
        for (size_t i = 0; i < sizeof pipes / sizeof *pipes; ++i)
            if (fabs(pipes[i] * DT_M_PER_IN / od_m - 1) < 0.45 &&
                fabs(pipes[i] * DT_M_PER_IN - od_m) > 0.001)
                nest->pipes[nest->pipe_count++] =
                    (dt_nest_pipe){k, pipes[i] * DT_M_PER_IN, pipes[i] * 1.08 * DT_M_PER_IN};
        f->strings[k].nest_hole = nest->hole_count;
        nest->holes[nest->hole_count++] =
            (dt_nest_hole){k, hole_m, f->items[k].bit_m, DT_BIT_STANDARD, f->items[k].opened, NULL};
        for (size_t i = 0; i < sizeof bits / sizeof *bits; ++i)
            if (fabs(bits[i] * DT_M_PER_IN / hole_m - 1) < 0.45 &&
                fabs(bits[i] * DT_M_PER_IN - hole_m) > 0.001)
                nest->holes[nest->hole_count++] =
                    (dt_nest_hole){k,
                                   bits[i] * DT_M_PER_IN,
                                   bits[i] * DT_M_PER_IN,
                                   i % 4 == 1 ? DT_BIT_LESS_COMMON : DT_BIT_STANDARD,
                                   false,
                                   NULL};
    }
    for (size_t h = 0; h < nest->hole_count; ++h)
        for (size_t p = 0; p < nest->pipe_count; ++p) {
            double gap_m = (nest->holes[h].diameter_m - nest->pipes[p].coupling_od_m) / 2;
            bool chosen = f->strings[nest->holes[h].string].nest_hole == h &&
                          f->strings[nest->pipes[p].string].nest_pipe == p;
            if (nest->holes[h].string == nest->pipes[p].string && (gap_m > 0.009 || chosen))
                nest->fits[nest->fit_count++] = (dt_nest_fit){h, p, gap_m, 0.009};
            if (nest->holes[h].string == nest->pipes[p].string + 1 &&
                (chosen || nest->holes[h].bit_m < nest->pipes[p].od_m - 0.02))
                nest->passes[nest->pass_count++] = (dt_nest_pass){p, h, nest->holes[h].bit_m};
        }
}

/** Straight down to the kick-off, a 1,500 ft arc, then straight on: three nodes. */
static inline dt_status fixture_path(fixture *f, const fixture_plan *plan)
{
    if (plan->inclination_deg <= 0) return DT_OK;
    double angle = plan->inclination_deg * 3.14159265358979323846 / 180;
    const dt_station stations[3] = {
        {.md_m = 0},
        {.md_m = fixture_ft(plan->kickoff_ft)},
        {.md_m = fixture_ft(plan->kickoff_ft + 1500), .inclination_rad = angle}};
    return dt_trajectory_build(stations, 3, &f->program.trajectory);
}

/** NULL when memory runs out. Freed by fixture_free(). */
static inline fixture *fixture_build(const fixture_plan *plan)
{
    fixture *f = calloc(1, sizeof *f);
    if (!f) return NULL;
    fixture_well(f, plan);
    dt_program *program = &f->program;
    program->well = &f->well;
    program->items = f->items;
    program->seats.items = f->seats;
    program->strings.items = f->strings;
    if (fixture_path(f, plan) != DT_OK || dt_window_build(&f->well, &program->window) != DT_OK) {
        free(f);
        return NULL;
    }
    while (program->count < FIXTURE_STRINGS && plan->strings[program->count].od_in > 0) {
        fixture_item(f, &plan->strings[program->count], program->count);
        ++program->count;
    }
    program->seats.count = program->strings.count = program->count;
    fixture_nest(f);
    return f;
}

static inline void fixture_free(fixture *f)
{
    if (!f) return;
    dt_window_free(&f->program.window);
    dt_trajectory_free(&f->program.trajectory);
    free(f);
}

#define FIXTURE_LONG_NAME                                                                                                       \
    "Ærøskøbing–Ünïcödé–日本語の井戸–Скважина–a very long name that no column was ever made for, " \
    "unbrokenwordunbrokenwordunbrokenwordunbrokenwordunbrokenwordunbrokenwordunbrokenword"

static const fixture_plan fixture_plans[] = {
    {.name = "Alder Reach 1 (invented)",
     .rig_floor_ft = 30,
     .objective_ft = 11500,
     .fresh_water_ft = 1450,
     .pore = {{0, 8.6}, {6000, 8.8}, {7500, 9.6}, {9500, 11.4}, {11500, 12.6}},
     .fracture = {{0, 11.5}, {2000, 13.2}, {5000, 14.6}, {8000, 15.6}, {11500, 16.8}},
     .strings = {{DT_CONDUCTOR, DT_FULL, 20, 19.124, 94, "J55", DT_STC, 26, 26, 30, 180, 30,
                  DT_CEMENT_TO_GROUND, 0},
                 {DT_SURFACE, DT_FULL, 13.375, 12.515, 61, "J55", DT_STC, 17.5, 17.5, 30, 1500, 30,
                  DT_CEMENT_TO_GROUND, 9.2},
                 {DT_INTERMEDIATE, DT_FULL, 9.625, 8.681, 47, "L80", DT_LTC, 12.25, 12.25, 30, 6800,
                  5700, DT_CEMENT_ABOVE_SHOE, 9.7},
                 {DT_PRODUCTION, DT_FULL, 7, 6.184, 29, "P110", DT_LTC, 8.5, 8.5, 30, 11500, 10700,
                  DT_CEMENT_ABOVE_SHOE, 13.1}},
     .zones = {{"Rust sand", "lost-circulation", 6200, 6500, DT_CASE_OFF, 300},
               {"Lantern sand", NULL, 11200, 11400, DT_CASE_OFF, 0}}},
    {.name = "Petrel Bank 4 (invented)",
     .over_sea = true,
     .rig_floor_ft = 85,
     .water_ft = 320,
     .objective_ft = 14200,
     .kick_rule = DT_KICK_DEPTH_RATIO,
     .conductor = DT_CONDUCTOR_DRIVEN,
     .pore = {{405, 8.6}, {7000, 8.9}, {9000, 10.8}, {9001, 11.4}, {12000, 13.4}, {14200, 14.0}},
     .fracture =
         {{405, 9.4}, {1500, 11.6}, {4500, 14.2}, {9000, 16.4}, {9001, 17.2}, {14200, 18.3}},
     .strings = {{DT_CONDUCTOR, DT_FULL, 30, 28, 309.7, "X52", DT_PLAIN_END, 30, 30, 60, 690, -1,
                  DT_CEMENT_NONE, 0},
                 {DT_SURFACE, DT_FULL, 20, 18.73, 133, "K55", DT_BTC, 26, 26, 60, 2600, 405,
                  DT_CEMENT_TO_GROUND, 9.1},
                 {DT_INTERMEDIATE, DT_FULL, 13.375, 12.347, 72, "P110", DT_BTC, 17.5, 17.5, 60,
                  8600, 7000, DT_CEMENT_ABOVE_SHOE, 9.8},
                 {DT_INTERMEDIATE, DT_LINER, 9.625, 8.535, 53.5, "Q125", DT_BTC, 12.25, 12.25, 8250,
                  11600, 8250, DT_CEMENT_TO_LINER_TOP, 13.7},
                 {DT_PRODUCTION, DT_FULL, 7, 6.004, 35, "Q125", DT_BTC, 8.5, 8.5, 60, 14200, 11100,
                  DT_CEMENT_PINNED, 14.6}},
     .zones = {{"Shallow gas", "shallow-gas", 1150, 1230, DT_CASE_ABOVE, 500},
               {"Pale salt", "salt", 9100, 11200, DT_CASE_OFF, 500},
               {"Sour carbonate", "depleted", 12900, 13100, DT_AVOID_SHOE, 0},
               {"Beacon limestone", NULL, 13600, 14050, DT_CASE_OFF, 0}}},
    {.name = "Skarvholm 2 (invented)",
     .rig_floor_ft = 33,
     .objective_ft = 9800,
     .fresh_water_ft = 900,
     .between = DT_BETWEEN_PRESSURE,
     .pore = {{33, 8.5}, {4000, 8.7}, {7000, 10.2}, {9800, 11.6}},
     .fracture = {{33, 10.8}, {3000, 13.6}, {9800, 16.6}},
     .kickoff_ft = 2500,
     .inclination_deg = 48,
     .strings = {{DT_CONDUCTOR, DT_FULL, 20, 19.124, 94, "J55", DT_STC, 24, 24, 33, 300, 33,
                  DT_CEMENT_TO_GROUND, 0},
                 {DT_SURFACE, DT_FULL, 13.375, 12.415, 68, "L80", DT_BTC, 17.5, 17.5, 33, 2300, 33,
                  DT_CEMENT_TO_GROUND, 9.2},
                 {DT_INTERMEDIATE, DT_FULL, 9.625, 8.681, 47, "L80", DT_BTC, 14.75, 12.25, 33, 8200,
                  5500, DT_CEMENT_ABOVE_SHOE, 10.6},
                 {DT_PRODUCTION, DT_LINER, 7, 6.184, 29, "L80", DT_BTC, 8.5, 8.5, 7850, 12600, 7850,
                  DT_CEMENT_TO_LINER_TOP, 12.2}},
     .zones = {{"Swelling clay", "shale", 2700, 4100, DT_CASE_OFF, 800},
               {"Broken belt", "fault", 6100, 6350, DT_AVOID_SHOE, 0},
               {"Heron sand", NULL, 9500, 9750, DT_CASE_OFF, 0}}},
    {.name = "<script>alert('x')</script> \"quoted\" & \x01\x0b\xff\xc3 " FIXTURE_LONG_NAME,
     .rig_floor_ft = 25,
     .objective_ft = 8000,
     .fresh_water_ft = 700,
     .pore = {{0, 8.6}, {8000, 10.4}},
     .fracture = {{0, 12}, {8000, 16}},
     .strings = {{DT_CONDUCTOR, DT_FULL, 16, 15.25, 65, "H40", DT_STC, 20, 20, 25, 120, 25,
                  DT_CEMENT_TO_GROUND, 0},
                 {DT_SURFACE, DT_FULL, 9.625, 8.921, 36, "<b>&\"'", DT_LTC, 12.25, 12.25, 25, 1200,
                  25, DT_CEMENT_TO_GROUND, 9.1},
                 {DT_PRODUCTION, DT_FULL, 5.5, 4.892, 17, "N80", DT_LTC, 7.875, 7.875, 25, 8000,
                  700, DT_CEMENT_ABOVE_SHOE, 10.9}},
     .zones = {{"]]> <!-- & \"\xf0\x28\x8c\x28 " FIXTURE_LONG_NAME, "lost-circulation", 3000, 3050,
                DT_CASE_OFF, 300},
               {FIXTURE_LONG_NAME, "no such kind <&>", 3060, 3080, DT_CASE_OFF, 300},
               {"\xe2\x80\xae"
                "desrever \x1b[31m",
                "salt", 3085, 3090, DT_CASE_ABOVE, 300},
               {FIXTURE_LONG_NAME, NULL, 7700, 7900, DT_CASE_OFF, 0}}},
    {.name = "Crowded Ridge 8 (invented)",
     .rig_floor_ft = 30,
     .objective_ft = 12000,
     .fresh_water_ft = 400,
     .pore = {{0, 8.6}, {12000, 15}},
     .fracture = {{0, 11}, {12000, 18}},
     .strings = {{DT_CONDUCTOR, DT_FULL, 30, 28, 309.7, "X52", DT_PLAIN_END, 36, 36, 30, 200, 30,
                  DT_CEMENT_TO_GROUND, 0},
                 {DT_SURFACE, DT_FULL, 20, 18.73, 133, "K55", DT_BTC, 26, 26, 30, 900, 30,
                  DT_CEMENT_TO_GROUND, 9.2},
                 {DT_INTERMEDIATE, DT_FULL, 16, 14.688, 109, "N80", DT_BTC, 18.5, 18.5, 30, 10800,
                  10000, DT_CEMENT_ABOVE_SHOE, 12.1},
                 {DT_INTERMEDIATE, DT_LINER, 13.375, 12.347, 72, "P110", DT_BTC, 14.5, 14.5, 10500,
                  11000, 10500, DT_CEMENT_TO_LINER_TOP, 13.1},
                 {DT_INTERMEDIATE, DT_LINER, 11.75, 10.772, 65, "P110", DT_BTC, 12.25, 12.25, 10700,
                  11200, 10700, DT_CEMENT_TO_LINER_TOP, 13.6},
                 {DT_INTERMEDIATE, DT_LINER, 9.625, 8.535, 53.5, "Q125", DT_BTC, 10.625, 10.625,
                  10900, 11400, 10900, DT_CEMENT_TO_LINER_TOP, 14.1},
                 {DT_INTERMEDIATE, DT_LINER, 7.625, 6.625, 39, "Q125", DT_BTC, 8.5, 8.5, 11100,
                  11600, 11100, DT_CEMENT_TO_LINER_TOP, 14.6},
                 {DT_PRODUCTION, DT_FULL, 5.5, 4.67, 23, "Q125", DT_LTC, 6.5, 6.5, 30, 12000, 10000,
                  DT_CEMENT_ABOVE_SHOE, 15.5}},
     .zones = {{"Zone 1", "lost-circulation", 10900, 10950, DT_CASE_OFF, 50},
               {"Zone 2", "salt", 10960, 11000, DT_CASE_OFF, 50},
               {"Zone 3", "shale", 11010, 11050, DT_CASE_ABOVE, 50},
               {"Zone 4", "fault", 11060, 11100, DT_AVOID_SHOE, 0},
               {"Zone 5", "coal", 11110, 11150, DT_CASE_OFF, 50},
               {"Zone 6", "depleted", 11160, 11250, DT_CASE_OFF, 50},
               {"Zone 7", "overpressure", 11260, 11300, DT_CASE_OFF, 50},
               {"Zone 8", "shallow-gas", 11310, 11350, DT_CASE_OFF, 50},
               {"Zone 9", "salt", 11360, 11400, DT_CASE_OFF, 50},
               {"Zone 10", "shale", 11410, 11450, DT_CASE_OFF, 50},
               {"Zone 11", "coal", 11460, 11500, DT_CASE_OFF, 50},
               {"Pay 1", NULL, 11700, 11750, DT_CASE_OFF, 0},
               {"Pay 2", NULL, 11800, 11900, DT_CASE_OFF, 0}}},
    {.name = "Deep Tarn 1 (invented)",
     .rig_floor_ft = 35,
     .objective_ft = 22500,
     .fresh_water_ft = 1900,
     .conductor = DT_CONDUCTOR_DRIVEN,
     .pore = {{0, 8.6}, {9000, 9.2}, {13000, 13.5}, {18000, 16.2}, {22500, 17.4}},
     .fracture = {{0, 11.2}, {3000, 13.8}, {9000, 16.2}, {14000, 17.8}, {22500, 19.3}},
     .strings = {{DT_CONDUCTOR, DT_FULL, 26, 25, 136.2, "X42", DT_PLAIN_END, 26, 26, 35, 90, -1,
                  DT_CEMENT_NONE, 0},
                 {DT_SURFACE, DT_FULL, 20, 18.73, 133, "K55", DT_BTC, 24, 24, 35, 2100, 35,
                  DT_CEMENT_TO_GROUND, 9.1},
                 {DT_INTERMEDIATE, DT_FULL, 13.375, 12.347, 72, "P110", DT_BTC, 17.5, 17.5, 35,
                  9800, 8900, DT_CEMENT_ABOVE_SHOE, 9.9},
                 {DT_INTERMEDIATE, DT_FULL, 9.625, 8.535, 53.5, "Q125", DT_BTC, 12.25, 12.25, 35,
                  15300, 14600, DT_CEMENT_ABOVE_SHOE, 15.2},
                 {DT_PRODUCTION, DT_FULL, 7, 6.004, 35, "Q125", DT_BTC, 8.5, 8.5, 35, 22500, 14900,
                  DT_CEMENT_ABOVE_SHOE, 17.9}},
     .zones = {{"Gumbo clay", "shale", 4000, 5600, DT_CASE_OFF, 3000},
               {"Pressure ramp", "overpressure", 9900, 12400, DT_CASE_ABOVE, 300},
               {"Deep Tarn sand", NULL, 21800, 22300, DT_CASE_OFF, 0}}},
};
#define FIXTURE_PLANS (sizeof fixture_plans / sizeof *fixture_plans)

#endif
