/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PROGRAM_H
#define DRAWTUBE_PROGRAM_H

#include "accessories.h"
#include "costing.h"
#include "draws.h"
#include "hung.h"
#include "kick.h"
#include "ladder.h"
#include "liner_hangers.h"
#include "notice.h"
#include "section.h"
#include "wellhead.h"

/*
 * The chosen program in full, each figure with its governing rule. Writers and drawings
 * read this and the well, and compute no engineering.
 */

/** How one string is put in place. */
typedef struct dt_job {
    dt_running running;
    dt_cement cement;
    bool cement_refused; /* tops, collar or diameters contradict each other: not computed */
    dt_centralizing centralizing;
    dt_accessories accessories;
} dt_job;

typedef struct dt_program_string {
    const dt_seat *seat;     /* into program->seats */
    const dt_string *string; /* into program->strings */
    unsigned ordinal;        /* 1-based among strings of its role */
    double top_md_m, top_tvd_m, shoe_md_m, shoe_tvd_m;
    double hole_m, bit_m; /* hole diameter, and the bit when it is opened; NAN for a tie-back */
    bool opened;
    double od_m, largest_od_m;                /* pipe, and coupling or pipe */
    double cement_top_tvd_m, cement_top_md_m; /* NAN when not cemented */
    dt_cement_rule cement_rule;
    const dt_job *job; /* into program->jobs */
    double steel_kg;   /* nominal weight times length */
    bool kick_known;   /* false for a conductor, and where pipe does not go into the hole */
    dt_kick_assembly kick_assembly; /* what the hole of this string is drilled with */
    dt_kick_result kick;            /* of the hole drilled for this string, from the shoe above */
    dt_kick_result swabbed;         /* the same with no intensity */
    dt_bill bill;                   /* money (where the well has prices) and time of this string */
    const dt_hanger *hanger;        /* of a liner; NULL: not checked */
    dt_hung hung;                   /* on a liner's hanger */
} dt_program_string;

struct dt_program {
    const dt_well *well;           /* borrowed */
    const dt_catalogue *catalogue; /* borrowed */
    dt_window window;
    dt_trajectory trajectory;
    dt_ladder ladder; /* count 0: no rule of a hole depends on its size */
    dt_seats seats;
    dt_nest nest;
    dt_strings strings;
    dt_wellhead wellhead;
    dt_design_in_force design;
    double lap_m; /* liner lap in force */
    bool lap_customary;
    dt_program_string *items; /* conductor first, one a drilled shoe; tie-backs behind them */
    size_t count;             /* drilled shoes */
    dt_job *jobs;             /* as the items */
    bool open_kick_known;     /* of an open last hole, seats.open */
    dt_kick_assembly open_assembly;
    dt_kick_result open_kick, open_swabbed;
    double steel_kg;
    dt_times_in_force times;
    dt_bill bill;         /* of all strings, and of an open last hole */
    dt_bill open_bill;    /* of an open last hole alone */
    dt_notices notices;   /* what the reader must know */
    dt_job_limit *limits; /* what earlier drafts taught; rules of ladder and seats refer to it */
    size_t limit_count;
    void *kept; /* memory that its well stands in, freed with the program; NULL: the well is others'
                 */
};

/** Why no program exists; owned by the caller, freed by dt_refusal_free(). */
struct dt_refusal {
    dt_notices why; /* one notice, the reasons below it; none when there is nothing to say */
};

/** The trade's name of a string: "surface", "intermediate 2", "production tie-back". Returns the
 * length as snprintf does. */
int dt_program_string_name(const dt_program *program, size_t index, char *buffer, size_t size);

/** How many notices are stoppers: a program with none can be run. */
size_t dt_program_stoppers(const dt_program *program);

/** The pressure test of a liner and its lap; NULL where there is none. */
const dt_lap_test *dt_program_liner_test(const dt_program_string *item);

/**
 * Runs all stages, and again with what the last draft taught, until a draft can be run as a whole
 * (docs/nest.md). Where none can, the one with the fewest stoppers, which its notices name.
 * @return DT_OK with *out (free with dt_program_free); DT_E_NONE with refusal->why;
 *         DT_E_INPUT with refusal->why when the catalogue lacks a pinned pipe; DT_E_MEMORY. well
 *         and catalogue must outlive the program. refusal NULL: nobody asks why, which is quicker.
 */
dt_status dt_program_plan(const dt_well *well, const dt_catalogue *catalogue, dt_program **out,
                          dt_refusal *refusal);

/** The same, with strings that were designed for this well before, or for one that differs from it
 * in pins, conductor or kicks alone; those designed here are added. NULL: none are kept. */
dt_status dt_program_plan_keeping(const dt_well *well, const dt_catalogue *catalogue,
                                  dt_designed *designed, dt_program **out, dt_refusal *refusal);

/** The first of these drafts, whether or not its jobs can be done. As dt_program_plan(); refusal
 * NULL: nobody asks why there is none, which is quicker. */
dt_status dt_program_plan_first(const dt_well *well, const dt_catalogue *catalogue,
                                dt_program **out, dt_refusal *refusal);

/**
 * The program nearest to a well that has none: on the conductor that the refusal names as a cure;
 * else with one rule or input left out, the first of a fixed order that does, those first that cost
 * least; where none does alone, with several of which none can be taken back. Its notices begin
 * with what was changed and why, as stoppers: it is never runnable.
 * @return DT_OK with *out (free with dt_program_free); DT_E_NONE: there is none; DT_E_MEMORY.
 */
dt_status dt_program_plan_nearest(const dt_well *well, const dt_catalogue *catalogue,
                                  const dt_refusal *refusal, dt_program **out);
void dt_refusal_free(dt_refusal *refusal);

/**
 * A program with one string more than another, its shoes where most of the wells drawn from the
 * spreads hold, whatever that costs: what a string buys in certainty.
 * @return DT_OK with *out (free with dt_program_free), which closes; DT_E_NONE: none was found;
 *         DT_E_MEMORY.
 */
dt_status dt_program_plan_more(const dt_program *planned, dt_program **out);

/** Drift of the narrowest length of a string. */
double dt_program_drift(const dt_program *p, size_t string);

/** Is anything of the well file stated with a spread? */
bool dt_well_has_spreads(const dt_well *well);

/** What the hole of a string bears beyond what is foreseen; all NAN where none is drilled, or it
 * breaks a rule as planned. */
dt_while_drilling dt_program_while_drilling(const dt_program *p, size_t string);

/** What is left to run where a hole does not come to its base. */
typedef enum dt_left {
    DT_LEFT_NONE,  /* nothing nests any more */
    DT_LEFT_SPARE, /* a string between two of the program, which stay as planned */
    DT_LEFT_EARLY  /* the string itself; those below follow one hole higher each, and a spare is
                        the last of them */
} dt_left;

/** "spare", "early", "none"; static storage. */
const char *dt_left_text(dt_left left);

/** What is done at the bounds of a hole while it is drilled. Sizes and rules of seats alone are
 * asked (docs/seats.md). */
typedef struct dt_trigger {
    dt_while_drilling bounds; /* NAN: none, and nothing else is set */
    double highest_m;     /* its shoe may stand so high, the next hole as planned; NAN: it stays */
    double leak_off_kgm3; /* the least at the shoe above that takes the hole there; NAN */
    dt_left left;         /* past that */
    double run_at_m;      /* the deepest that it is run at */
    dt_spare spare;
    bool slim; /* the last string is then smaller than the completion needs */
} dt_trigger;

/** What is done at the bounds of the hole of a string. */
dt_trigger dt_program_trigger(const dt_program *p, size_t string);

/** Costs over drawn wells. NAN: nothing is priced, or no well was drilled. */
typedef struct dt_cost_spread {
    double expected, error; /* the mean, and its standard error */
    double tenths[3];       /* a tenth, half and nine tenths of the wells cost no more */
} dt_cost_spread;

/** Sorts costs and sums them up. */
void dt_costs_summed(double *costs, size_t count, dt_cost_spread *out);

/** A program with a string more carried for the one hole that fails, over drawn wells. */
typedef struct dt_contingent {
    size_t of, held, set; /* wells; that hold as planned; in which the string is set and mends it */
    size_t slim;          /* of those set: the last string is smaller than the completion needs */
    dt_cost_spread cost;  /* of those that hold and those that are mended */
} dt_contingent;

/** What setting the string that a trigger names adds to the bill: the hole in two parts, each with
 * its string, less the hole in one. */
double dt_contingency_price(const dt_program *p, size_t string, const dt_trigger *trigger,
                            double shoe_m);

/** DT_OK or DT_E_MEMORY. */
dt_status dt_program_contingent(const dt_program *p, const dt_trials *trials, dt_contingent *out);

/* ---- program_contingency.c: what a drawn well costs ---- */

/** A program as drawn wells are held against it. */
typedef struct dt_carried {
    dt_odds_holes holes;
    size_t cased; /* shoes with a string */
    double shoes_m[DT_ODDS_MOST_STRINGS + 2];
    dt_trigger triggers[DT_ODDS_MOST_STRINGS + 2]; /* of each string: what is left to run */
} dt_carried;

/** What becomes of it in one. */
typedef enum dt_fate {
    DT_FATE_HOLDS,
    DT_FATE_MENDED, /* the string carried is set */
    DT_FATE_LOST    /* more than that is needed */
} dt_fate;

typedef struct dt_drawn_cost {
    double cost; /* the bill, with the string that is set */
    bool slim;
} dt_drawn_cost;

/** What becomes of a program in a drawn well, and what it costs; of a lost one no more than its
 * bill is known. */
dt_fate dt_carried_in(const dt_program *p, const dt_carried *c, const dt_window *window,
                      dt_drawn_cost *out);

/** A program with its shoes elsewhere, as far as money needs it: sizes, pipe and jobs as planned,
 * each string longer or shorter by its deepest length of pipe. */
typedef struct dt_moved {
    dt_program program; /* borrowed but for items and the total of its bill */
    dt_program_string *items;
    dt_carried carried;
} dt_moved;

/** shoes_m: one a string. DT_OK with *out, freed by dt_moved_free(); DT_E_MEMORY. */
dt_status dt_moved_begin(const dt_program *p, const double *shoes_m, dt_moved *out);
void dt_moved_free(dt_moved *moved);

/* ---- program_drawn.c: a program held against one drawn well by what comes after the seats ---- */

/** Stages beside the seats that may break in a drawn well. */
typedef enum dt_stage {
    DT_STAGE_STRENGTH,
    DT_STAGE_RUNNING,
    DT_STAGE_CEMENT,
    DT_STAGE_COUNT
} dt_stage;

/** "strength", "running", "cement"; static storage. */
const char *dt_stage_code(dt_stage stage);

/** Some strings of a program: a bit each, as it numbers them. */
typedef uint64_t dt_string_set;
#define DT_ALL_STRINGS (~(dt_string_set)0)

static inline bool dt_string_in(dt_string_set set, size_t string)
{
    return string < 64 && (set >> string & 1) != 0;
}

/** What broke: a string, and why. */
typedef struct dt_stage_break {
    dt_stage stage;
    size_t string;    /* as the program numbers them, tie-backs behind */
    const char *code; /* of the load, or of the notice that says it; static storage */
    double spare;     /* of strength: the part by which the load is larger than in the well as
                         stated, the most of all checks that fail; 0 of other stages */
} dt_stage_break;

enum { DT_MOST_BREAKS = 48 };

typedef struct dt_stage_breaks {
    dt_stage_break items[DT_MOST_BREAKS]; /* one a string and code */
    size_t count;
} dt_stage_breaks;

/**
 * A program held against a drawn well, its shoes, sizes and pipe as planned: mud weighed and jobs
 * planned anew for its pressures, every string held against its loads. What stops a program breaks
 * here; what is for review does not. Rules of the seats are not asked: dt_program_held().
 * @return DT_OK, with nothing in *out where all holds; DT_E_DOMAIN; DT_E_MEMORY.
 */
dt_status dt_program_breaks(const dt_program *p, const dt_window *window, dt_stage_breaks *out);

/** Which strings are asked by which of the stages after the seats. */
typedef struct dt_stages_asked {
    dt_string_set strength, jobs;
} dt_stages_asked;

/** The same of some strings: dt_program_breaks() asks all. */
dt_status dt_program_breaks_of(const dt_program *p, const dt_window *window, dt_stages_asked asked,
                               dt_stage_breaks *out);

/** Drawn wells that are asked of all stages while a program is planned, and of each program that is
 * compared: the first of them, since strength and jobs take much longer than seats. */
enum { DT_ASKED_WELLS = 96, DT_COMPARED_WELLS = 32 };

/** The first drawn wells, DT_COMPARED_WELLS at most, asked of all stages. */
typedef struct dt_held_by_all {
    size_t asked, by_seats, by_all; /* of those asked: hold by the rules of seats, by all stages */
} dt_held_by_all;

/** In how many of them a program holds. DT_OK; DT_E_MEMORY and others. */
dt_status dt_program_held_by_all(const dt_program *p, const dt_trials *trials, dt_held_by_all *out);

/** Of how many drawn wells all holes and shoes of a program hold, by the rules of seats. */
size_t dt_program_held(const dt_program *p, const dt_trials *trials);

#endif
