/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_IMPORT_H
#define DRAWTUBE_IMPORT_H

#include <drawtube/questions.h>

#include "units.h"
#include "well.h"

/*
 * Tables and surveys from other files into the elements of a well file: LAS 2.0 (Canadian
 * Well Logging Society, 25 September 1992, with the changes of the 2017 update), CSV
 * (RFC 4180), and the trajectory object of WITSML 1.4.1.1. docs/import.md has the mapping.
 *
 * LAS and CSV are read line by line, with memory bounded by DT_IMPORT_MAX_ROWS whatever the
 * size of the file; WITSML is read whole, DT_IMPORT_MAX_WITSML bytes at most.
 */

#define DT_IMPORT_MAX_ROWS   ((size_t)1000000)
#define DT_IMPORT_MAX_LINE   ((size_t)65536) /* bytes, without the line end */
#define DT_IMPORT_MAX_WITSML ((size_t)16 << 20)
#define DT_IMPORT_MAX_POINTS ((size_t)2000) /* of one list in a well file */

/** A table as it will stand in the well file: numbers in its units, on a grid of four decimals. */
typedef struct dt_import_point {
    double depth, value;
} dt_import_point;

typedef struct dt_import_curve {
    const dt_unit *depth_unit, *unit; /* NULL: not wanted */
    dt_import_point *points;
    size_t count;
    size_t rows;              /* read, with a value */
    size_t gaps;              /* rows without a value */
    double gap_top, gap_base; /* the longest run of them, between the values around it */
    double worst_pa;          /* largest distance of a row from the thinned table */
} dt_import_curve;

/** One offset well, and what was seen in it; numbers in the units of their columns. */
typedef struct dt_import_reading {
    size_t well;
    const char *what;  /* static */
    double depth, emw; /* emw NAN: a seat */
} dt_import_reading;

typedef struct dt_import_neighbour {
    char *name;                              /* owned */
    double rig_floor, water_depth, distance; /* water NAN: on land, or not said */
    int line;
} dt_import_neighbour;

enum { DT_IMPORT_OFFSET_UNITS = 5 };

/** Offset wells in the order of the file. */
typedef struct dt_import_offsets {
    dt_import_neighbour *wells;
    size_t well_count;
    dt_import_reading *readings;
    size_t reading_count;
    /* of rig floor, water depth, distance, depth, emw */
    const dt_unit *units[DT_IMPORT_OFFSET_UNITS];
} dt_import_offsets;

struct dt_imported {
    dt_import_offsets offsets;
    dt_import_curve table[DT_IMPORT_TABLES];
    dt_station *stations; /* owned */
    size_t station_count;
    const dt_unit *md_unit;  /* the file's, or m */
    char *azimuth_reference; /* what the file says of north; NULL; owned */
};

/**
 * Reads a file of any of the three formats, told apart by how it begins, and thins its tables:
 * pore and collapse gradient are never lowered, fracture gradient and overburden never raised
 * at the depth of any row, and no row is further than the tolerance from the table.
 * @return DT_OK with *out (free with dt_imported_free()); DT_E_INPUT with findings; DT_E_MEMORY.
 */
dt_status dt_import(dt_import_read read, void *context, const dt_import_request *request,
                    dt_report *report, dt_imported *out);
void dt_imported_free(dt_imported *imported);

struct sentence;

/** Says them as <offsets>. */
void dt_import_say_offsets(struct sentence *s, const dt_import_offsets *offsets);

/**
 * Thins a polyline: depths never decrease, two points at one depth are a step. raise: the
 * result is nowhere below the points, else nowhere above them. For a point at depth x one
 * unit of value weighs weight_pa(x) in pressure.
 * @return DT_OK, the kept points in place and *count lowered; DT_E_NONE when more than `most`
 *         would have to be kept, points as they were; DT_E_MEMORY.
 */
typedef struct dt_thinning {
    bool raise;
    double tolerance_pa;
    double grid; /* values end on multiples of this, on the safe side; 0: as they are */
    double (*weight_pa)(const void *context, double depth);
    const void *context;
    size_t most; /* 0: any number */
} dt_thinning;
dt_status dt_thin(const dt_thinning *thinning, dt_import_point *points, size_t *count,
                  double *worst_pa);

/** The elements as XML, indented as in a well file; *out malloc'ed, owned by the caller. */
dt_status dt_import_text(const dt_imported *imported, char **out);

/**
 * The same elements put into a well file: in place of those it has, or at its end. The rest
 * stays as it is. DT_OK; DT_E_INPUT when the text is no XML; DT_E_MEMORY.
 */
dt_status dt_import_into(const dt_imported *imported, const char *well, size_t size, char **out);

#endif
