/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PUBLIC_WELL_H
#define DRAWTUBE_PUBLIC_WELL_H

/* What goes in: a well file, the findings on it, and the catalogue of pipe and bits. */

#include <drawtube/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- findings ---------------------------------------------------------------------------------
 */

/** All that is wrong with one file, sorted by line. */
typedef struct dt_report dt_report;

typedef enum dt_severity { DT_ERROR, DT_WARNING } dt_severity;

/** One thing wrong with an input: where, what, and what would be right. Texts belong to the report.
 */
typedef struct dt_finding_view {
    int number; /* of the message; keeps its meaning for ever: docs/well-file.md */
    dt_severity severity;
    int line;          /* from 1; 0 when no one line is at fault */
    const char *where; /* element and attribute, "fresh_water/@deepest" */
    const char *text;  /* what was found, and the limit it broke, both with units */
    const char *fix;   /* what would be right here */
} dt_finding_view;

/**
 * An empty report on a file; the name is copied, and stands in front of each line.
 * @return DT_OK with *out, freed by dt_report_close(); DT_E_MEMORY.
 */
DT_API dt_status dt_report_open(const char *file, dt_report **out);

/** Frees a report; NULL is allowed. */
DT_API void dt_report_close(dt_report *report);

/** How many findings are kept, at most 20,000; how many there were; how many of these are errors.
 */
DT_API size_t dt_report_count(const dt_report *report);
DT_API size_t dt_report_found(const dt_report *report);
DT_API size_t dt_report_errors(const dt_report *report);

/** A finding, index below dt_report_count(); DT_OK or DT_E_DOMAIN. */
DT_API dt_status dt_report_finding(const dt_report *report, size_t index, dt_finding_view *out);

/**
 * A finding as the line a user reads: "file:14: error DT-214: fresh_water/@deepest: ...".
 * DT_OK; DT_E_DOMAIN when there is no such finding; DT_E_MEMORY.
 */
DT_API dt_status dt_report_line(const dt_report *report, size_t index, dt_text *out);

/* ---- the well ---------------------------------------------------------------------------------
 */

/** A well file that was read and makes sense. Never changes; may be planned from several threads.
 */
typedef struct dt_well dt_well;

/** Largest well file accepted, in bytes. */
#define DT_WELL_MAX_BYTES ((size_t)4 << 20)

/**
 * Reads and checks a well file held in memory.
 *
 * The text is parsed with no network, no external entities, no entity expansion and no DOCTYPE;
 * then held against the compiled-in schema (wells/well.xsd); then read; then checked for sense.
 * Everything that can be found is found in one call. docs/well-file.md tells the format.
 *
 * @param[in]     text, size  the file, any bytes; size above DT_WELL_MAX_BYTES is refused.
 * @param[in,out] report      receives all findings, sorted.
 * @param[out]    out         the well, freed by dt_well_free(). Warnings may stand beside DT_OK.
 * @return DT_OK; DT_E_INPUT when dt_report_errors() > 0; DT_E_MEMORY.
 */
DT_API dt_status dt_well_parse(const char *text, size_t size, dt_report *report, dt_well **out);

/* ---- the basis --------------------------------------------------------------------------------
 */

/** What holds where a well says nothing, as one file states it; docs/basis.md. Never changes. */
typedef struct dt_basis dt_basis;

/**
 * Reads a basis file held in memory, as safely as dt_well_parse() reads a well: schema
 * (wells/basis.xsd), values, limits. What it leaves out is that of whatever it is stacked over.
 *
 * @param[in]     text, size  the file, any bytes; size above DT_WELL_MAX_BYTES is refused.
 * @param[in,out] report      receives all findings, sorted.
 * @param[out]    out         freed by dt_basis_close(), when no call needs it any more.
 * @return DT_OK; DT_E_INPUT when dt_report_errors() > 0; DT_E_MEMORY.
 */
DT_API dt_status dt_basis_open(const char *text, size_t size, dt_report *report, dt_basis **out);

/** Frees a basis of dt_basis_open(), never a shipped one; NULL is allowed. Wells that were read on
 * it have what they need of it. */
DT_API void dt_basis_close(dt_basis *basis);

/** Name that the file gives itself; owned by the basis. */
DT_API const char *dt_basis_name(const dt_basis *basis);

/** A basis that comes with drawtube ("land", "us-ocs", ...), or NULL; static storage, not closed.
 */
DT_API const dt_basis *dt_basis_shipped(const char *name);

/** Their names from index 0; NULL past the last. Static storage. */
DT_API const char *dt_basis_shipped_name(size_t index);

/** So many bases may be stacked on a well, those that it names with them. */
#define DT_BASIS_MOST 11

/**
 * dt_well_parse() on bases of one's own: each of `over` is stacked over those before it, and all
 * over what the well names. What the well file itself states goes before them all.
 *
 * @param[in] over, count  bases of dt_basis_open() or dt_basis_shipped(); NULL when count is 0.
 */
DT_API dt_status dt_well_parse_on(const char *text, size_t size, const dt_basis *const *over,
                                  size_t count, dt_report *report, dt_well **out);

/**
 * dt_well_parse_on() with a few things otherwise than the file states them, for a what-if. Each
 * change is told in words: "fracture at 9000 ft -0.3 ppg" (pore, collapse, overburden; "from 8000
 * ft to 9000 ft", or nothing for the whole table; "at" puts a point into the table that it changes,
 * between neighbours that stay), "fresh water 2200 ft", "NAME top 6100 ft" and "NAME base 6600 ft"
 * of an interval or a pay, "without NAME" of an interval, "trip margin 0.3 ppg" (kick, surge,
 * safety, gain, drilling; +0.1 ppg adds). The name of the well then says them. What they make is
 * checked like any file.
 *
 * @param[out] problem  set with DT_E_INPUT when a change is not understood: a sentence that says
 *                      what may be said, freed by dt_text_free(). Else untouched.
 */
DT_API dt_status dt_well_parse_with(const char *text, size_t size, const dt_basis *const *over,
                                    size_t count, const char *const *changes, size_t change_count,
                                    dt_report *report, dt_well **out, dt_text *problem);

/** Frees a well; NULL is allowed. Programs made of it must be freed before. */
DT_API void dt_well_free(dt_well *well);

/** Name of the well; owned by it. */
DT_API const char *dt_well_name(const dt_well *well);

/** The units its file asks for, units of <well>; where it asks for none those it is written in, by
 * the depth of its objective (or its rig floor, where the objective is the end of the path): metric
 * for metres, else field. */
DT_API dt_display dt_well_display(const dt_well *well);

/** A commented new well file, field or metric, static storage. */
DT_API const char *dt_well_starter(bool metric);

/** One that names a basis ("land", "shelf", "deepwater", "geothermal") and leaves out what it
 * gives; NULL for any other name. Static storage. */
DT_API const char *dt_well_starter_on(const char *basis, bool metric);

/* ---- the catalogue ----------------------------------------------------------------------------
 */

/** Pipe, grades, threads and bits that can be had. */
typedef struct dt_catalogue dt_catalogue;

typedef enum dt_thread {
    DT_STC,
    DT_LTC,
    DT_BTC,
    DT_PLAIN_END,
    DT_FLUSH,      /* as wide as the pipe */
    DT_SEMI_FLUSH, /* a little wider */
    DT_GAS_TIGHT,  /* coupled, with a gas seal */
    DT_STATED,     /* of a pipe file that names it and states its ratings */
    DT_THREAD_COUNT
} dt_thread;

/** "STC", "LTC", "BTC", "PE"; static storage. */
DT_API const char *dt_thread_text(dt_thread thread);

/** One pipe that can be bought. NAN: not listed. */
typedef struct dt_pipe_view {
    double od_m, wall_m, id_m;
    double weight_kgm;              /* nominal, threads and couplings included */
    double drift_m;                 /* standard drift */
    double special_drift_m;         /* may be ordered */
    double coupling_od_m;           /* API coupling; NAN for plain end only */
    double clearance_coupling_od_m; /* special-clearance coupling */
    const char *grade;              /* "L80"; owned by the catalogue */
    double yield_pa;                /* specified minimum yield strength */
    double max_yield_pa;            /* NAN where the standard sets none or it was not at hand */
    double tensile_pa;              /* specified minimum tensile strength; NAN */
    bool sour;        /* may meet hydrogen sulphide at any temperature: docs/strength.md */
    unsigned threads; /* bit (1u << dt_thread) of each thread it comes with */
} dt_pipe_view;

/** The built-in catalogue. DT_OK with *out, freed by dt_catalogue_close(); DT_E_MEMORY. */
DT_API dt_status dt_catalogue_open(dt_catalogue **out);

/** Frees a catalogue; NULL is allowed. Programs made with it must be freed before. */
DT_API void dt_catalogue_close(dt_catalogue *catalogue);

/** Largest file the three calls below accept, in bytes. */
#define DT_CATALOGUE_MAX_BYTES ((size_t)1 << 20)

/**
 * Reads a user's pipe file (comma-separated, header od_in,weight_lbft,wall_in,drift_in,
 * special_drift_in,coupling_od_in,clearance_coupling_od_in,threads,grades; '#' comments)
 * and adds its rows, replacing rows of the same OD, weight and grade.
 * @return DT_OK; DT_E_INPUT with every bad row in the report and the catalogue as it was;
 *         DT_E_MEMORY.
 */
DT_API dt_status dt_catalogue_extend(dt_catalogue *catalogue, const char *text, size_t size,
                                     dt_report *report);

/**
 * Reads a stock list (header od_in,weight_lbft,grade; an empty cell matches all) and drops
 * every pipe no row matches. Same errors; a row that matches nothing is an error, and so is
 * a row with nothing in it and a file with no row.
 */
DT_API dt_status dt_catalogue_restrict(dt_catalogue *catalogue, const char *text, size_t size,
                                       dt_report *report);

/**
 * Reads a bit list (header diameter_in, one a row) that replaces the catalogue's bits.
 * A diameter of the built-in list keeps its commonness, any other is less common.
 * Same errors; a diameter listed twice is one.
 */
DT_API dt_status dt_catalogue_bits(dt_catalogue *catalogue, const char *text, size_t size,
                                   dt_report *report);

/** How many pipes there are; one of them, sorted by OD, weight, yield strength, grade. DT_OK or
 * DT_E_DOMAIN. */
DT_API size_t dt_catalogue_count(const dt_catalogue *catalogue);
DT_API dt_status dt_catalogue_pipe(const dt_catalogue *catalogue, size_t index, dt_pipe_view *out);

/** First pipe within 0.0005 in of the OD and 0.005 lb/ft of the weight in that grade. DT_OK;
 * DT_E_NONE. */
DT_API dt_status dt_catalogue_find(const dt_catalogue *catalogue, double od_m, double weight_kgm,
                                   const char *grade, dt_pipe_view *out);

#ifdef __cplusplus
}
#endif

#endif
