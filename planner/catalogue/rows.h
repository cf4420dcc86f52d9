/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CATALOGUE_ROWS_H
#define DRAWTUBE_CATALOGUE_ROWS_H

#include <stdbool.h>
#include <stddef.h>

#include "catalogue.h"

/*
 * Rows of catalogue files, in the units of the files. One reader for the built-in files
 * (compile_catalogue.c, while building) and for a user's (catalogue.c), so that both are
 * held to the same rules. Needs nothing but the C library.
 */

enum { DT_ROW_CELLS = 16, DT_ROW_GRADES = 24, DT_PROBLEM_SIZE = 200 };

/** Walks a text line by line; the text is cut up in place. Comments and empty lines are skipped. */
typedef struct dt_rows {
    char *next; /* NULL at the end */
    int line;
} dt_rows;

/** One line. Cells are trimmed, and a cell wholly in double quotes loses them. */
typedef struct dt_row {
    int line;
    size_t count; /* may exceed DT_ROW_CELLS; those cells are not kept */
    char *cells[DT_ROW_CELLS];
} dt_row;

/** Starts on a NUL-terminated text; a byte order mark is skipped. */
dt_rows dt_rows_start(char *text);
bool dt_rows_next(dt_rows *rows, dt_row *row);

/** True when the row is exactly this comma-separated list of names. */
bool dt_row_is_header(const dt_row *row, const char *header);

/** A plain decimal number over 0. */
bool dt_row_number(const char *cell, double *value);

/** Copies a cell for a message: at most 40 bytes, those no terminal should get replaced. */
void dt_row_quote(const char *cell, char *out, size_t size);

#define DT_PIPE_HEADER                                                                             \
    "od_in,weight_lbft,wall_in,drift_in,special_drift_in,coupling_od_in,clearance_coupling_od_in," \
    "threads,grades"

/** A user's file may state connections of its own in six columns more. */
#define DT_STATED_HEADER                                                                           \
    DT_PIPE_HEADER ",connection,connection_od_in,joint_klbf,burst_psi,collapse_psi,gas_tight"

/** Threads of the API, which are cut to dimensions of threads.csv. */
#define DT_API_THREADS     (1u << DT_STC | 1u << DT_LTC | 1u << DT_BTC)
#define DT_COUPLED_THREADS (DT_API_THREADS | 1u << DT_GAS_TIGHT)

/** A pipe row as a file says it. Grade names point into the row; NAN for an empty cell. */
typedef struct dt_pipe_row {
    double od_in, weight_lbft, wall_in, drift_in, special_drift_in;
    double coupling_od_in, clearance_coupling_od_in;
    char *grades[DT_ROW_GRADES];
    unsigned threads[DT_ROW_GRADES]; /* per grade, bit (1u << dt_thread) */
    size_t grade_count;
} dt_pipe_row;

/** Reads and checks one row under DT_PIPE_HEADER; false with the reason in problem. */
bool dt_row_pipe(const dt_row *row, dt_pipe_row *out, char problem[DT_PROBLEM_SIZE]);

/* The compiled tables (generated from the files of this folder). */

typedef struct dt_raw_grade {
    const char *name;
    double yield_psi, max_yield_psi, tensile_psi;
    bool sour;
    double sour_from_c;
} dt_raw_grade;

typedef struct dt_raw_pipe {
    double od_in, weight_lbft, wall_in, drift_in, special_drift_in;
    double coupling_od_in, clearance_coupling_od_in;
    const char *grade;
    unsigned threads;
} dt_raw_pipe;

typedef struct dt_raw_bit {
    double diameter_in;
    dt_bit_commonness commonness;
} dt_raw_bit;

typedef struct dt_raw_thread {
    double od_in, stc_length_in, ltc_length_in, light_weight_lbft, light_stc_length_in;
    double e1_in, e7_in, l7_in, coupling_od_in;
} dt_raw_thread;

typedef struct dt_raw_slurry {
    const char *name;
    double density_ppg, yield_ft3_sk, water_gal_sk, sack_lb;
    const char *mix;
} dt_raw_slurry;

typedef struct dt_raw_connection {
    const char *name;
    double od; /* over the pipe's; 0: the coupling's */
    double tension, burst, collapse;
    bool gas_tight;
} dt_raw_connection;

extern const dt_raw_connection dt_raw_connections[];
extern const size_t dt_raw_connection_count;
extern const dt_raw_slurry dt_raw_slurries[];
extern const size_t dt_raw_slurry_count;
extern const dt_raw_grade dt_raw_grades[];
extern const size_t dt_raw_grade_count;
extern const dt_raw_pipe dt_raw_pipes[];
extern const size_t dt_raw_pipe_count;
extern const dt_raw_bit dt_raw_bits[];
extern const size_t dt_raw_bit_count;
extern const dt_raw_thread dt_raw_threads[];
extern const size_t dt_raw_thread_count;

#endif
