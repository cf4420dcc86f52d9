/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_SLOW_H
#define DRAWTUBE_SELFCHECK_SLOW_H

#include "claims.h"
#include "slow_seats.h"

/*
 * The checker: claims of a program held against the well, re-derived the slow way from the
 * pages of docs/ and the published formulas. Nothing here calls the planner: of its headers only
 * types and enumerations are used, and a test looks at the object files to make sure.
 * Method and tolerances: docs/selfcheck.md.
 */

#define SLOW_G   9.80665
#define SLOW_PI  3.14159265358979323846
#define SLOW_FT  0.3048
#define SLOW_IN  0.0254
#define SLOW_LB  0.45359237
#define SLOW_GAL (231 * SLOW_IN * SLOW_IN * SLOW_IN)
#define SLOW_BBL (42 * SLOW_GAL)
#define SLOW_LBF (SLOW_LB * SLOW_G)
#define SLOW_PSI (SLOW_LBF / (SLOW_IN * SLOW_IN))
#define SLOW_PPG (SLOW_LB / SLOW_GAL)

/* ---- the catalogue's files, read here as data ------------------------------------------------ */

/** A row of casing.csv stands once for each outside diameter of its connections: with the API's
 * threads or plain ends, flush, semi-flush, and gas-tight where no API thread is cut on it. */
typedef struct row_pipe {
    double od, weight, wall, drift, special, coupling; /* in, lb/ft; NAN: none is wider than it */
    char threads[96], grades[80];
    bool api; /* the row has API threads */
} row_pipe;

enum { ROW_PIPES = 640, THREADS = DT_STATED };

/** A row of connections.csv: parts of what the body bears. */
typedef struct row_connection {
    double od, tension, burst, collapse; /* od: over the pipe's; 0: the coupling's */
    bool gas_tight;
} row_connection;

typedef struct row_grade {
    char name[16];
    double yield_psi, tensile_psi;
} row_grade;

typedef struct row_thread {
    double od, stc, ltc, light, light_stc, e1, e7, l7, coupling;
} row_thread;

typedef struct row_slurry {
    char name[64];
    double density_kgm3, yield_m3, water_m3, sack_kg;
} row_slurry;

typedef struct rows {
    row_pipe pipes[ROW_PIPES];
    row_grade grades[32];
    row_thread threads[32];
    row_slurry slurries[64];
    struct {
        double in;
        int rarity; /* 0 standard, 1 less common, 2 opener */
    } bits[128];
    row_connection connections[3]; /* flush, semi-flush, gas-tight */
    size_t pipe_count, grade_count, thread_count, slurry_count, bit_count, connection_count;
} rows;

/** Reads planner/catalogue/. false when a file is missing or holds nothing. */
bool rows_read(const char *folder, rows *out);
const row_grade *rows_grade(const rows *r, const char *name);
const row_pipe *rows_pipe(const rows *r, const claimed_pipe *pipe);
/** Is the thread cut on the pipe in this grade? "STC(J55/K55);BTC" */
bool rows_has_thread(const row_pipe *pipe, const char *grade, dt_thread thread);
bool rows_has_grade(const row_pipe *pipe, const char *grade);
/** "STC", "flush": as the files spell it. */
const char *rows_thread_name(dt_thread thread);

/* ---- findings -------------------------------------------------------------------------------- */

typedef struct verdict {
    struct {
        const char *check; /* static: "seat-range", ... */
        int string;        /* -1: the whole program */
        char text[240];
    } items[96];
    size_t count;             /* kept */
    size_t faults;            /* all */
    size_t compared;          /* figures looked at */
    size_t stoppers, decided; /* what is said to stop the program; of these decided here */
} verdict;

#if defined(__GNUC__)
__attribute__((format(printf, 4, 5)))
#endif
void fault(verdict *v, const char *check, int string, const char *format, ...);

/** Demands the claim within tolerance of what was found; NAN agrees with NAN only. */
bool agree(verdict *v, const char *check, int string, const char *what, double claimed,
           double found, double tolerance);
/** Demands that something holds. */
bool demand_true(verdict *v, const char *check, int string, bool holds, const char *what);

/* ---- the hole's course ----------------------------------------------------------------------- */

/** Depths along the hole at short steps, the tangent turned from station to station in space. */
typedef struct course {
    size_t count;            /* 0: vertical */
    double *md, *tvd, *down; /* down: cosine of the inclination */
    double *bend;            /* rad/m of the arc that ends at or holds the point */
    double *reached;         /* the deepest so far */
    double toe_md, toe_tvd;  /* of an objective on the path; toe_md 0: none */
} course;

bool course_make(const dt_well *well, course *out);
void course_free(course *c);
/** As deep as the hole has been down to there, and as deep as it is there. */
double course_tvd(const course *c, double md);
double course_here(const course *c, double md);
double course_md(const course *c, double tvd);
double course_down(const course *c, double md);
/** The sharper of the arcs that meet at a depth, of those asked for. */
double course_bend(const course *c, double md, bool above, bool below);

/* ---- parts ----------------------------------------------------------------------------------- */

/** What was found of a stopper of a string, from figures that were worked out here. */
typedef enum found_stop { STOP_UNSEEN, STOP_NOT, STOP_UNSURE, STOP_YES } found_stop;

/** By code and string; behind the strings, the program as a whole. */
typedef struct stops {
    unsigned char of[DT_NOTICE_COUNT][CLAIM_STRINGS + 1];
} stops;

typedef struct context {
    const dt_well *well;
    const rows *rows;
    const claims *claims;
    course course;
    verdict *v;
    stops *stops;
} context;

/**
 * Tells what is left over before something stops a string (negative: it does), and how far that may
 * be off: the band that the figure itself is compared within. The worst that is told counts.
 */
void stop_told(const context *c, dt_notice_code code, size_t string, double left, double band);
/** Nothing of the kind stops any string unless something else is told. */
void stop_none(const context *c, dt_notice_code code);
/** Code of a stopper; static storage. */
const char *stop_name(dt_notice_code code);
/** Everything that stops a program is said, and nothing else. */
void check_stoppers(const context *c);

/** Tie-backs stand behind the strings that have a hole of their own. */
static inline size_t slow_all(const claims *p)
{
    return p->count + p->tieback_count;
}

/** The string in whose hole this one stands: its own, of a tie-back its liner. */
static inline size_t slow_place(const claims *p, size_t i)
{
    if (i < p->count) return i;
    return p->strings[i].seat.ties < p->count ? p->strings[i].seat.ties : p->count - 1;
}

/** Index of the tie-back on a liner; DT_NO_INDEX: none. */
static inline size_t slow_tieback_on(const claims *p, size_t liner)
{
    for (size_t i = p->count; i < slow_all(p); ++i)
        if (p->strings[i].seat.ties == liner) return i;
    return DT_NO_INDEX;
}

/** Runs to the wellhead, by itself or by a tie-back: what is above is a wall no longer. */
static inline bool slow_covers(const claims *p, size_t i)
{
    return p->strings[i].seat.type == DT_FULL || slow_tieback_on(p, i) != DT_NO_INDEX;
}

static inline double slow_ground(const dt_well *w)
{
    return w->rig_floor_m + (w->over_sea ? w->water_depth_m : 0);
}

static inline double slow_or(double value, double otherwise)
{
    return value == value ? value : otherwise;
}

/** Design factor in tension where something pulls beside the weight. */
static inline double slow_pulled(const dt_well *w)
{
    double custom = slow_said(w, DT_CUSTOM_DESIGN_TENSION_PULLED, 1.60);
    return w->design.given ? slow_or(w->design.tension_pulled, custom) : custom;
}

/** Steps that cut a length: none for one that claims have made nothing or less. */
static inline size_t slow_steps(double length, double step)
{
    double steps = length / step;
    return steps > 0 && steps < 1e6 ? (size_t)steps + 1 : 0;
}

/** Strength of one pipe as the claims name it; what is not in the catalogue's files is NAN. */
typedef struct strength {
    double D, t; /* in; t after wear */
    double yield_psi;
    double burst_pa, joint_n; /* body and coupling; body and joint; at full yield */
    double area_m2, inner_m2, outer_m2, weight_kgm;
    double collapse_part; /* of the connection over the body */
} strength;

/** May this row, grade and thread be run as this string, whatever its size? */
bool slow_pipe_ok(const context *c, size_t i, const row_pipe *row, const char *grade,
                  dt_thread thread);
/** Is it commonly stocked, and is that tried first? */
bool slow_stocked(const dt_well *w, const row_pipe *row, const char *grade, dt_thread thread);
bool slow_stock_first(const dt_well *w);
/** Must a string that gas of this pressure may stand on be gas-tight? NAN: there is none. */
bool slow_tight_asked(const dt_well *w, double gas_pa, bool of_pay);
/** TVD below which a grade may stand in a sour well: -INFINITY anywhere, INFINITY nowhere. */
double slow_sour_below(const dt_well *w, const char *grade);
/** The same, in this size and where it stands? */
bool slow_may_run(const context *c, size_t i, const row_pipe *row, const char *grade,
                  dt_thread thread);
/** Smallest bore of the pipes a string may be made of, m: what a circulated influx rises round. */
double slow_smallest_bore(const context *c, size_t i);
/** Drift as ordered, in. */
double slow_drift(const dt_well *w, const row_pipe *p);

bool strength_of(const rows *r, const claimed_pipe *pipe, double wear_m, strength *out);
double slow_collapse_pa(double D, double t, double yield_psi, double stress_psi);

/** Does any rule of the well depend on the size of a hole, so that sizes and seats are settled
 * together? */
bool slow_by_size(const dt_well *w);
/** Were they: so, or since the first draft could not be run? That is the claims' word. */
bool slow_together(const context *c);
/** Drill pipe and collars in a hole, and the influx that its size asks for. */
slow_hole slow_assembly(const dt_well *w, double hole_m);
/** What the hole of a string is held to; behind the last string: an open last hole. */
slow_hole slow_hole_of(const context *c, size_t i);

void check_seats(const context *c);
/** Does a limit of jobs alone hold the shoe above its hole down? Then a step higher. */
bool slow_held(const dt_well *well, const rows *r, const claims *said, size_t limit,
               double *shoe_m);
/** The program with that shoe a step higher, planned in full, is stopped as the limit says. */
void check_neighbour(const dt_job_limit *limit, const claims *said, const claims *neighbour,
                     verdict *v);
void check_no_seats(const context *c);
void check_nest(const context *c);
void check_no_nest(const context *c);
/** Which rows of the catalogue hold as a whole string, and what a liner's hanger would carry. */
typedef struct standing {
    struct {
        bool row[ROW_PIPES];
        double tall_m, pressed_pa, wear_m;
    } string[CLAIM_STRINGS];
} standing;

/** Holes nobody drills by choice, and rock drilled, m3, of a path below the conductor. */
typedef struct drilled {
    double unusual, rock_m3;
} drilled;

static inline bool slow_less(drilled a, drilled b)
{
    return a.unusual != b.unusual ? a.unusual < b.unusual : a.rock_m3 < b.rock_m3 - 1e-4;
}

drilled slow_drilled(const context *c);
/** The best path of pipes that stand, below the conductor that is claimed. false: no memory. */
bool slow_best_path(const context *c, const standing *s, drilled *best);

/** Do pipes nest, of those that stand where that is given? */
bool slow_path_exists(const context *c, const standing *s);
void check_liners(const context *c);
/** Row of the list of hangers a liner hangs in; NULL: none. */
/** Does the hole of a string return to the sea floor? Its mud stands below that alone. */
bool slow_to_sea(const dt_well *w, size_t i);
const dt_hanger *slow_hanger(const context *c, size_t i);
bool slow_hanger_fits(const dt_hanger *hanger, const row_pipe *casing);
/** Bore of a hanger and what is on it, in. */
double slow_hanger_bore(const dt_hanger *hanger);
/** A size that is pinned and not in the list hangs in nothing, and nobody asks. */
bool slow_hanger_waived(const context *c, size_t i);
/** Capacity of a liner's hanger over what it must be for the liner's pipe, with one section
 * made of another; 1 where it has none. */
double slow_hanger_spare(const context *c, size_t i, size_t section, const claimed_pipe *other);
void check_strength(const context *c);
void check_no_strength(const context *c);
void check_sizes(const context *c);
void check_cement(const context *c);
void check_running(const context *c);
void check_kick(const context *c);
void check_costs(const context *c);
void check_wellhead(const context *c);

/** All of them, or with brief only until something is wrong. false: out of memory. */
bool recheck(const dt_well *well, const rows *r, const claims *said, bool brief, verdict *out);

#endif
