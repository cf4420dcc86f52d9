/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PUBLIC_QUESTIONS_H
#define DRAWTUBE_PUBLIC_QUESTIONS_H

/* What is asked besides the program: options side by side, why, how sure, what one pipe stands, and
 * tables of other programs brought into a well file. */

#include <stdint.h>

#include <drawtube/program.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- options side by side ---------------------------------------------------------------------
 */

/** Every program that closes and that no other one equals or beats in money, strings, steel, days,
 * pipe at the objective and contingency strings, beside the one dt_plan() chooses: docs/options.md.
 */
typedef struct dt_comparison dt_comparison;

/**
 * Searches them.
 * @param[in]  progress  told how many partial programs were made, of a total that is not known;
 * then how many of the options found were planned in full. NULL: nobody asks.
 * @param[out] refusal   as of dt_plan().
 * @return DT_OK with *out, freed by dt_comparison_close(); DT_E_NONE; DT_E_INPUT; DT_E_STOPPED when
 *         the progress said so; DT_E_MEMORY. Well and catalogue must outlive the comparison.
 */
DT_API dt_status dt_comparison_open(const dt_well *well, const dt_catalogue *catalogue,
                                    const dt_progress *progress, dt_comparison **out,
                                    dt_refusal **refusal);

/** Frees a comparison and its programs; NULL is allowed. */
DT_API void dt_comparison_close(dt_comparison *comparison);

/** How many programs are written out in full. */
DT_API size_t dt_comparison_count(const dt_comparison *comparison);

/** One of them. */
typedef struct dt_option_view {
    const char *label;         /* "plan", "A", "B", ...; owned by the comparison */
    const dt_program *program; /* in full; owned by the comparison */
    double cost;               /* 0 when nothing is priced */
    double steel_kg, days;
    double last_od_m; /* pipe at the objective */
    size_t strings;   /* tie-backs counted */
    unsigned spares;  /* strings that still nest between two of this program */
    size_t like;      /* options that differ from it in seats, weights and grades alone, itself
                         counted; 0 for the plan's own */
    bool dominated;   /* some option equals or beats it in all: of the plan's own alone */
    bool closes;      /* it has no stopper; false of the plan's own alone */
} dt_option_view;

/** Index below dt_comparison_count(); 0 is the one the others are held against. DT_OK or
 * DT_E_DOMAIN. */
DT_API dt_status dt_comparison_option(const dt_comparison *comparison, size_t index,
                                      dt_option_view *out);

/* ---- what differs between two programs --------------------------------------------------------
 */

/** How one program differs from another, of one well or of two. */
typedef struct dt_changes dt_changes;

/** What differs. First of the whole program, then string by string, then what is to be known. */
#define DT_CHANGE_LIST(X)                                                                          \
    X(RUNNABLE, "runnable") /* values 0 and 1 */                                                   \
    X(STRINGS, "strings")   /* how many */                                                         \
    X(STEEL, "steel")       /* kg */                                                               \
    X(DAYS, "days")         /* days */                                                             \
    X(COST, "cost")         /* money, where both wells have prices */                              \
    X(REMOVED, "removed")   /* a string that the first program has alone: `was` */                 \
    X(ADDED, "added")       /* one that the second has alone: `is` */                              \
    X(TYPE, "type")         /* full, liner, tie-back: read it of both strings */                   \
    X(SHOE, "shoe")         /* MD; of a tie-back where it ends */                                  \
    X(TOP, "top")           /* MD */                                                               \
    X(HOLE, "hole")                                                                                \
    X(SIZE, "size") /* outside diameter of the pipe */                                             \
    X(PIPE, "pipe") /* weight, grade, thread or a length: read the sections */                     \
    X(MUD, "mud")                                                                                  \
    X(KICK, "kick-tolerance")                                                                      \
    X(CEMENT, "cement-top")    /* MD; NAN: not cemented */                                         \
    X(CLASS, "wellhead-class") /* Pa; 0: a diverter */                                             \
    X(SETTLED, "settled")      /* a notice that the first program has alone */                     \
    X(RAISED, "raised")        /* one that the second has alone */

typedef enum dt_change {
#define DT_CHANGE_ENUM(name, code) DT_CHANGE_##name,
    DT_CHANGE_LIST(DT_CHANGE_ENUM)
#undef DT_CHANGE_ENUM
        DT_CHANGE_COUNT
} dt_change;

/** Its code for documents; static storage. */
DT_API const char *dt_change_code(dt_change what);

/** One thing that differs. */
typedef struct dt_change_view {
    dt_change what;
    size_t was, is;             /* the string in the first and in the second program; DT_NO_INDEX:
                                   the whole program, or there is no such string */
    dt_kind kind;               /* of the values; DT_KIND_COUNT: a plain number, as listed above */
    double was_value, is_value; /* SI; NAN: there is no such figure */
    const dt_notice *notice;    /* of SETTLED and RAISED, owned by its program; else NULL */
} dt_change_view;

/**
 * What differs, the first program before the second. Strings are paired by depth, size and role:
 * conductor with conductor, last with last, tie-backs with their liners. Figures that agree to
 * 1e-9 of themselves are the same.
 * @return DT_OK with *out, freed by dt_changes_close(), empty where the two are the same;
 *         DT_E_MEMORY. Both programs must outlive it.
 */
DT_API dt_status dt_changes_open(const dt_program *was, const dt_program *is, dt_changes **out);

/** Frees it; NULL is allowed. */
DT_API void dt_changes_close(dt_changes *changes);

/** How many things differ. */
DT_API size_t dt_changes_count(const dt_changes *changes);

/** One of them, index below dt_changes_count(): DT_OK or DT_E_DOMAIN. */
DT_API dt_status dt_changes_at(const dt_changes *changes, size_t index, dt_change_view *out);

/** The string of the first program that plays the part of a string of the second; DT_NO_INDEX: none
 * does. */
DT_API size_t dt_changes_partner(const dt_changes *changes, size_t is);

/* ---- why --------------------------------------------------------------------------------------
 */

/** What binds each choice of a program: docs/why.md. */
typedef struct dt_why dt_why;

typedef enum dt_why_subject {
    DT_WHY_SEAT,
    DT_WHY_HOLE,
    DT_WHY_PIPE,
    DT_WHY_WEIGHT,
    DT_WHY_CEMENT
} dt_why_subject;

/**
 * The reasons of a program, or of one of its strings (DT_NO_INDEX: all).
 * @return DT_OK with *out, freed by dt_why_close(); DT_E_DOMAIN for a string that is not there;
 *         DT_E_MEMORY. The program must outlive it.
 */
DT_API dt_status dt_why_open(const dt_program *program, size_t index, dt_why **out);

/** Frees reasons; NULL is allowed. */
DT_API void dt_why_close(dt_why *why);

/** How many reasons there are. */
DT_API size_t dt_why_count(const dt_why *why);

/** One choice and what binds it. NAN: there is no such figure. */
typedef struct dt_why_view {
    size_t string; /* index of the string */
    dt_why_subject subject;
    const char *rule;  /* stable code; static */
    double at_tvd_m;   /* where it binds */
    double have, need; /* both sides, SI of kind; a factor is DT_KIND_FRACTION: 1.25 is 125 % */
    dt_kind kind;
    double eased_by; /* the bound is eased by this much, SI of eased_kind ... */
    dt_kind eased_kind;
    double moves_m; /* ... and the seat moves by this much, shallower below 0 */
} dt_why_view;

/** A reason, by string and then by subject; DT_OK or DT_E_DOMAIN. */
DT_API dt_status dt_why_reason(const dt_why *why, size_t index, dt_why_view *out);

/* ---- wishes -----------------------------------------------------------------------------------
 */

/** What would be under wishes, or the smallest set of rules that forbids them. */
typedef struct dt_verdict dt_verdict;

typedef enum dt_wish_kind {
    DT_WISH_WITHOUT, /* "string 3", "intermediate 2": one string less */
    DT_WISH_SET,     /* "shoe of surface = 3000 ft"; also hole, pipe, weight, grade, thread, type */
    DT_WISH_ONLY     /* "9.625 in, 13.375 in" for the well, "7 in for production" for a string */
} dt_wish_kind;

/** A wish in words. */
typedef struct dt_wish_words {
    dt_wish_kind kind;
    const char *words;
} dt_wish_words;

/** Which wish was not understood, and why. */
typedef struct dt_wish_problem {
    size_t wish;  /* index of it */
    dt_text text; /* a sentence; freed by the caller */
} dt_wish_problem;

/**
 * Judges wishes, at most 8 at once, against a program.
 * @param[out] problem  set with DT_E_INPUT; NULL when it is not wanted.
 * @return DT_OK with *out, freed by dt_verdict_close(); DT_E_INPUT when a wish is not understood;
 *         DT_E_DOMAIN for more than 8 wishes; DT_E_MEMORY. The program must outlive it.
 */
DT_API dt_status dt_verdict_open(const dt_program *program, const dt_wish_words *wishes,
                                 size_t count, dt_verdict **out, dt_wish_problem *problem);

/** Frees a verdict and its program; NULL is allowed. */
DT_API void dt_verdict_close(dt_verdict *verdict);

/** The program under the wishes, owned by the verdict; NULL: the wishes are forbidden. */
DT_API const dt_program *dt_verdict_program(const dt_verdict *verdict);

/* ---- odds -------------------------------------------------------------------------------------
 */

/** How sure a program is, over many wells drawn from the spreads of the well file: docs/odds.md. */
typedef struct dt_odds dt_odds;

#define DT_ODDS_MOST_SAMPLES ((size_t)100000000)

typedef struct dt_odds_options {
    size_t samples; /* 1 to DT_ODDS_MOST_SAMPLES */
    uint64_t seed;
    double precision; /* stop when the standard error of `planned` is down to this; 0: never */
    unsigned threads; /* 1 to 64; 0 is 1. The answer is the same on any number. */
    /** Called between rounds from the calling thread; false stops, which is no error: what was done
     * is answered. NULL: never stops. */
    bool (*go_on)(void *context, size_t done, size_t samples);
    void *context; /* handed through */
} dt_odds_options;

/**
 * Draws the wells and plans them.
 * @return DT_OK with *out, freed by dt_odds_free(); DT_E_NONE when nothing in the well is
 *         uncertain; DT_E_DOMAIN when an option is out of range; DT_E_MEMORY. Program and well must
 *         outlive the odds.
 */
DT_API dt_status dt_odds_run(const dt_program *program, const dt_odds_options *options,
                             dt_odds **out);

/** Frees odds; NULL is allowed. */
DT_API void dt_odds_free(dt_odds *odds);

/** A probability p as what was counted: count / of, with a standard error of
 * sqrt(p (1 - p) / of). */
typedef struct dt_share {
    size_t count, of;
} dt_share;

/** The odds in figures. */
typedef struct dt_odds_view {
    size_t samples;   /* done */
    bool stopped;     /* by the caller, before all were done */
    dt_share planned; /* the program can be drilled as planned */
    dt_share
        spare; /* the same with one contingency liner: one more shoe mends the one failing hole */
    dt_share anew;   /* as many strings as planned, or fewer, if seats are chosen anew */
    size_t hopeless; /* wells drawn for which no program exists */
} dt_odds_view;

/** The figures of odds. */
DT_API void dt_odds_figures(const dt_odds *odds, dt_odds_view *out);

/* ---- what one pipe stands ---------------------------------------------------------------------
 */

/** Ratings of one pipe, alone and under a load: docs/strength.md. */
typedef struct dt_rated dt_rated;

/** What acts on a cut through a pipe. axial_n is the true force, tension positive. */
typedef struct dt_pipe_load {
    double inside_pa, outside_pa, axial_n;
    double curvature_radm; /* 0 in a straight hole */
} dt_pipe_load;

/** A plain-end pipe the catalogue does not have, of steel of a yield strength and (NAN: not stated)
 * a tensile strength. Nothing is checked here: dt_rated_open() does. */
DT_API void dt_pipe_plain(double od_m, double wall_m, double yield_pa, double tensile_pa,
                          dt_pipe_view *out);

/**
 * Rates a pipe of the catalogue or of dt_pipe_plain(), by the published formulas.
 * @param[in] wear_m  wall that wear and corrosion have taken, from inside; 0 for a new pipe.
 * @param[in] load    NULL: ratings alone.
 * @return DT_OK with *out, freed by dt_rated_close(); DT_E_DOMAIN where the formulas do not reach
 *         the pipe or the load; DT_E_MEMORY.
 */
DT_API dt_status dt_rated_open(const dt_catalogue *catalogue, const dt_pipe_view *pipe,
                               double wear_m, const dt_pipe_load *load, dt_rated **out);

/** Frees ratings; NULL is allowed. */
DT_API void dt_rated_close(dt_rated *rated);

/** Ratings in figures, not rounded. NAN where one does not exist. */
typedef struct dt_rated_view {
    double collapse_pa;       /* without axial load or internal pressure */
    double internal_yield_pa; /* of the body, wall at 87.5 % */
    double body_yield_n;
    double rupture_pa;                         /* ductile rupture */
    double joint_n[DT_THREAD_COUNT];           /* joint strength by thread */
    double coupling_yield_pa[DT_THREAD_COUNT]; /* internal yield of the coupling by thread */
    bool loaded;                               /* a load was stated: the three below are set */
    double triaxial_stress_pa;
    double burst_factor, tension_factor; /* resistance over load; INFINITY: not loaded so */
} dt_rated_view;

/** The figures of ratings. */
DT_API void dt_rated_figures(const dt_rated *rated, dt_rated_view *out);

/* ---- tables and surveys of other programs -----------------------------------------------------
 */

/** Pressure tables, a survey or offset wells read from LAS 2.0, CSV or WITSML 1.4.1.1:
 * docs/import.md. */
typedef struct dt_imported dt_imported;

typedef enum dt_import_table {
    DT_IMPORT_PORE,
    DT_IMPORT_FRACTURE,
    DT_IMPORT_COLLAPSE,
    DT_IMPORT_OVERBURDEN,
    DT_IMPORT_TABLES
} dt_import_table;

/** Element of the well file: "pore_pressure"; static storage. */
DT_API const char *dt_import_element(dt_import_table table);

/** A column of the file by its name. unit NULL: as the file says. Both borrowed. */
typedef struct dt_import_column {
    const char *name; /* NULL: not wanted; of the depth: the first column */
    const char *unit;
} dt_import_column;

/** What to take out of the file. Either tables, or a survey, or offset wells. */
typedef struct dt_import_request {
    dt_import_column depth; /* TVD below the rig floor */
    dt_import_column table[DT_IMPORT_TABLES];
    bool survey;
    bool offsets; /* a CSV of docs/import.md: its columns have names of their own */
    dt_import_column md, inclination, azimuth; /* of a CSV survey; names NULL: md, inc, azi */
    double tolerance_pa;                       /* of thinning; 0 keeps every bend */
} dt_import_request;

/** Hands out up to `size` bytes; 0 at the end. */
typedef size_t (*dt_import_read)(void *context, char *bytes, size_t size);

/**
 * Reads a file of any of the three formats, told apart by how it begins, and thins its tables:
 * pore and collapse gradient are never lowered, fracture gradient and overburden never raised
 * at the depth of any row, and no row is further than the tolerance from the table.
 * @return DT_OK with *out, freed by dt_imported_close(); DT_E_INPUT with findings; DT_E_MEMORY.
 */
DT_API dt_status dt_imported_open(dt_import_read read, void *context,
                                  const dt_import_request *request, dt_report *report,
                                  dt_imported **out);

/** Frees what was imported; NULL is allowed. */
DT_API void dt_imported_close(dt_imported *imported);

/** What became of one table. */
typedef struct dt_imported_view {
    size_t points;            /* kept */
    size_t rows;              /* read, with a value */
    size_t gaps;              /* rows without a value */
    double gap_top, gap_base; /* the longest run of them, in depth_unit */
    const char *depth_unit;   /* static */
    double worst_pa;          /* largest distance of a row from the thinned table */
} dt_imported_view;

/** DT_OK; DT_E_NONE when the table was not asked for. */
DT_API dt_status dt_imported_table(const dt_imported *imported, dt_import_table table,
                                   dt_imported_view *out);

/** Stations of the survey; 0 when none was asked for. */
DT_API size_t dt_imported_stations(const dt_imported *imported);

/** What the file says azimuths are referred to; owned by what was imported; NULL: nothing. */
DT_API const char *dt_imported_north(const dt_imported *imported);

/**
 * The elements as XML, indented as in a well file; or, when `well` is not NULL, that well file with
 * the elements in place of those it has, or at its end, and the rest as it is.
 * DT_OK; DT_E_INPUT when `well` is no XML; DT_E_MEMORY.
 */
DT_API dt_status dt_imported_xml(const dt_imported *imported, const char *well, size_t size,
                                 dt_text *out);

#ifdef __cplusplus
}
#endif

#endif
