/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_OPEN_ROWS_H
#define DRAWTUBE_TESTS_OPEN_ROWS_H

#include <stdbool.h>
#include <stddef.h>

/* Wells as they were drilled, from the three files beside this one; README.md there. NAN: not
 * recorded. */

enum { OPEN_MOST_STRINGS = 8, OPEN_NAME = 24 };

typedef struct open_string {
    char type[16]; /* as recorded */
    double od_in, hole_in, shoe_m, leak_off_sg;
} open_string;

typedef struct open_mud {
    double depth_m, mud_sg;
} open_mud;

typedef struct open_well {
    char name[OPEN_NAME];
    double rig_floor_m, water_depth_m, total_depth_m;
    double latitude_deg, longitude_deg;
    bool floats;         /* the rig does: its BOP stands at the sea floor */
    double last_hole_in; /* drilled below the last shoe */
    open_string strings[OPEN_MOST_STRINGS];
    size_t string_count;
    open_mud *muds; /* by depth */
    size_t mud_count;
} open_well;

typedef struct open_wells {
    open_well *items;
    size_t count;
} open_wells;

/** Reads the files of a folder; ends the program where a row is not what it should be. */
open_wells open_wells_read(const char *folder);
void open_wells_free(open_wells *wells);

/** Does the last hole get no pipe? A hole was recorded below the last shoe, or there are more than
 * 100 m of it. */
bool open_last_hole(const open_well *well);

/** The total depth; where the last hole is cased, the last shoe. */
double open_objective_m(const open_well *well);

/** How far the heaviest mud of the holes stays under the leak-off of the shoe above, sg, the least
 * of all shoes. */
double open_least_margin_sg(const open_well *well);

#endif
