/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CATALOGUE_H
#define DRAWTUBE_CATALOGUE_H

#include <stdbool.h>
#include <stddef.h>

#include <drawtube/well.h>

#include "findings.h"

/*
 * Pipe, grades, bits and thread dimensions. The built-in data are the files in
 * planner/catalogue/, each with its source on top, compiled in by a small program
 * that refuses bad rows. A user's files can extend or restrict them.
 */

/** DT_THREAD_COUNT when unknown. */
dt_thread dt_thread_find(const char *text);

typedef struct dt_grade {
    const char *name;    /* "L80" */
    double yield_pa;     /* specified minimum yield strength */
    double max_yield_pa; /* NAN where the standard sets none or it was not at hand */
    double tensile_pa;   /* specified minimum tensile strength */
    bool sour;           /* may meet hydrogen sulphide at any temperature: docs/strength.md */
    double sour_from_c;  /* or from this temperature, degrees Celsius; NAN: never */
} dt_grade;

/**
 * One pipe that can be bought: size, weight, grade and the threads it comes with. Pipe of one row
 * whose connections differ in outside diameter stands once for each diameter, since each asks for
 * another hole: with API threads or plain ends first, then flush, semi-flush, gas-tight.
 */
typedef struct dt_pipe {
    double od_m, wall_m, id_m;
    double weight_kgm;              /* nominal, threads and couplings included */
    double drift_m;                 /* standard drift */
    double special_drift_m;         /* NAN when none is listed */
    double coupling_od_m;           /* API coupling; NAN for plain end only */
    double clearance_coupling_od_m; /* special-clearance coupling; NAN when none */
    const dt_grade *grade;          /* into the catalogue's grades */
    unsigned threads;               /* bit (1u << dt_thread) */
    /* of the connection DT_STATED; its name is the catalogue's, the ratings as its maker states
     * them */
    bool api_threaded; /* its row of the file has API threads, if not this pipe of it */
    const char *connection;
    double stated_joint_n, stated_burst_pa, stated_collapse_pa; /* NAN: as the pipe body */
    bool stated_gas_tight;
} dt_pipe;

/** Name of a thread of a pipe: a stated one goes by its own. Static, or owned by the catalogue. */
const char *dt_pipe_thread_text(const dt_pipe *pipe, dt_thread thread);

/** Does the pipe come with the thread of that name? */
bool dt_pipe_has_thread(const dt_pipe *pipe, dt_thread thread, const char *name);

/** The thread of that name that the pipe comes with; DT_THREAD_COUNT when there is none. */
dt_thread dt_pipe_thread_find(const dt_pipe *pipe, const char *name);

/** Is the connection a gas seal? API round and buttress threads are none. */
bool dt_pipe_gas_tight(const dt_pipe *pipe, dt_thread thread);

/** Is there a pipe with a thread of that name? */
bool dt_catalogue_has_thread(const dt_catalogue *catalogue, const char *name);

typedef enum dt_bit_commonness {
    DT_BIT_STANDARD,
    DT_BIT_LESS_COMMON,
    DT_BIT_OPENER
} dt_bit_commonness;

typedef struct dt_bit {
    double diameter_m;
    dt_bit_commonness commonness;
} dt_bit;

/** Thread dimensions that joint strength and coupling ratings need, per OD. */
typedef struct dt_thread_row {
    double od_m;
    double stc_length_m, ltc_length_m; /* L4, total thread length; NAN when not made */
    double light_weight_kgm;           /* up to this weight the STC thread is short_length_m; NAN */
    double light_stc_length_m;         /* NAN */
    double e1_m, e7_m, l7_m; /* pitch diameters and perfect thread length; see docs/strength.md */
    double coupling_od_m;
} dt_thread_row;

struct dt_catalogue {
    dt_pipe *pipes; /* sorted by OD, weight, yield, grade name */
    size_t pipe_count;
    dt_grade *grades; /* sorted by yield, name */
    size_t grade_count;
    dt_bit *bits; /* sorted by diameter */
    size_t bit_count;
    dt_thread_row *threads;
    size_t thread_count;
    char **names; /* of stated connections */
    size_t name_count;
};

/** The built-in catalogue; owned by the caller. DT_OK or DT_E_MEMORY. */
dt_status dt_catalogue_load(dt_catalogue *out);
void dt_catalogue_free(dt_catalogue *catalogue);

/** Two ways to write one grade: "L-80", "l80" and "L 80" are L80. */
bool dt_same_grade(const char *a, const char *b);

/** By name, and by OD within 0.0005 in; NULL when the catalogue has none. Borrowed from it. */
const dt_grade *dt_grade_find(const dt_catalogue *catalogue, const char *name);
const dt_thread_row *dt_thread_row_find(const dt_catalogue *catalogue, double od_m);

/** First pipe within 0.0005 in of the OD and 0.005 lb/ft of the weight in that grade, or NULL. */
const dt_pipe *dt_pipe_find(const dt_catalogue *catalogue, double od_m, double weight_kgm,
                            const char *grade);

#endif
