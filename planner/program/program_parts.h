/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_PROGRAM_PARTS_H
#define DRAWTUBE_PLANNER_PROGRAM_PARTS_H

#include "basis.h"
#include "draws.h"
#include "program.h"

/* What program.c shares with the sources that speak for one stage. Notices go into p->notices,
 * whose `failed` is looked at once, at the end. */

/** More that came to nothing are not gone through. */
enum { DT_MOST_LEARNED = 48 };

/** What drafts that came to nothing have taught, and how the next one differs. Does not move: it
 * refers to itself. */
typedef struct dt_learned {
    dt_ladder_cut cuts[DT_MOST_LEARNED];
    dt_ladder last;         /* what known.after refers to */
    dt_ladder_cuts known;   /* cuts, limits of jobs, nests */
    dt_ladder_nests nests;  /* owned */
    dt_designed *designed;  /* borrowed; NULL: strings are not kept */
    dt_job_limit *limits;   /* of DT_MOST_LEARNED; owned. Each draft keeps those it stands on */
    size_t drafts;          /* planned in full so far */
    const dt_ladder *again; /* to be planned again, with other types; NULL: the next best */
    unsigned liners;
} dt_learned;

/** A size that is not tried again, on the ladder that it took away. false: there is no room. */
bool dt_learned_cut(dt_learned *learned, const dt_ladder *ladder, dt_ladder_cut cut);

/** One draft through all stages. As dt_program_plan(); DT_E_NONE has no reason once there was a
 * draft. */
dt_status dt_program_draft(const dt_well *well, const dt_catalogue *catalogue, dt_learned *learned,
                           dt_program **out, dt_refusal *refusal);

/** A notice that needs no figures: a condition of the well, and what it is a sign of. */
typedef struct dt_plain_notice {
    bool raised;
    dt_notice_code code;
} dt_plain_notice;

/** Adds those that are raised, about the whole well. */
void dt_program_note_plainly(dt_program *p, const dt_plain_notice *all, size_t count);

/** States a value of the well's basis: its figure in SI, and as the basis spells it. */
void dt_note_custom(dt_notice *notice, const dt_well *well, const char *name, dt_custom custom);

/** The same of one value of several, unless the well file states that one. */
void dt_note_open_custom(dt_notice *notice, const dt_well *well, const char *name,
                         dt_custom custom);

/** What is asked, pinned and taken for granted: the well, its seats, holes and kicks. */
void dt_program_note(dt_program *p);

/** What the strength of strings, wellhead and landing rests on, and what was not looked at. */
void dt_program_note_strength(dt_program *p);

/** Sections that fail a case: pinned pipe is kept all the same; that pipe the planner chose fails
 * is held here against its own screen, whatever the search believed. */
void dt_program_note_sections(dt_program *p, size_t index);

/** Laps that are too short, hangers that are not checked or do not suit a pin. */
void dt_program_note_liners(dt_program *p);

/** What the reader must know of running and cementing; and of one string alone. */
void dt_program_note_jobs(dt_program *p);
void dt_program_note_job(dt_program *p, size_t string);

/** program_heat.c: cemented pipe that is heated and cooled. */
void dt_program_note_heat(dt_program *p);

/** Pinned pipe that the catalogue does not have. DT_OK; DT_E_INPUT with the refusal, if one is
 * wanted; DT_E_MEMORY. */
dt_status dt_program_check_pins(const dt_program *p, dt_refusal *refusal);

/** Does one of the first few drafts of a changed well close, in usual holes and pipe? What nests
 * and the strings that were designed are lent: the well differs in its conductor or in kicks alone.
 * DT_OK or DT_E_MEMORY. */
dt_status dt_program_closes(const dt_well *changed, const dt_catalogue *catalogue,
                            dt_learned *lends, bool *yes);

/** A deeper conductor, on a step of depth, on which a whole program closes; NAN: none was found.
 * DT_OK or DT_E_MEMORY. */
dt_status dt_program_deeper_conductor(const dt_well *well, const dt_catalogue *catalogue,
                                      dt_learned *lends, double step_m, double *depth_m);

/** Adds to a refusal for want of seats what would cure it. DT_OK or DT_E_MEMORY. */
dt_status dt_program_note_cures(const dt_program *p, dt_learned *learned, dt_notices *list);

/* Why there are no seats, no nest, no pipe: DT_E_NONE, or DT_E_MEMORY. refusal NULL: nobody asks
 * why, which is what takes long. */
dt_status dt_program_refuse_seats(const dt_program *p, dt_learned *learned, dt_refusal *refusal);
/** No holes and pipes do under the rules of holes: which of these alone stands in the way. */
dt_status dt_program_refuse_ladders(dt_program *p, dt_learned *learned, dt_refusal *refusal);
dt_status dt_program_refuse_nest(const dt_program *p, size_t blocked, dt_refusal *refusal);
dt_status dt_program_refuse_strings(const dt_program *p, const dt_shortfall *shortfall,
                                    dt_refusal *refusal);

/** Plans how every string is run and cemented, into p->jobs. DT_OK or DT_E_MEMORY. */
dt_status dt_program_jobs(dt_program *p);
/** The same of some strings, without what the rock has no part in, centralizers and accessories,
 * and with surge at depth alone; the other jobs are left zeroed. */
dt_status dt_program_jobs_on_rock(dt_program *p, dt_string_set asked);

/* ---- program_surest.c: where most of the wells drawn from the spreads hold ---- */

/** The surest seats of a program, and the drawn wells they were found with. */
typedef struct dt_surest {
    dt_trials trials; /* owned */
    dt_odds_holes holes;
    double shoes_m[DT_ODDS_MOST_STRINGS + 2];
    size_t before, of; /* trials that hold with the program's own shoes, and all */
} dt_surest;

/** The conductor, the objective where it is cased, and what is pinned. */
bool dt_shoe_is_fixed(const dt_program *p, size_t string);

/** Is the surest program asked for, and can it be looked for? */
bool dt_surest_asked(const dt_program *p);

/** Draws the wells. DT_OK with *out, freed by dt_surest_free(); DT_E_NONE: nothing is uncertain;
 * DT_E_MEMORY. */
dt_status dt_surest_open(const dt_program *p, dt_surest *out);
/** Where the shoes of a program that closes are surest by the rules of seats, among those that do
 * as the well is stated. DT_OK; DT_E_NONE: nowhere surer; DT_E_MEMORY. */
dt_status dt_surest_find(const dt_program *p, dt_surest *out);
/** The bill; the steel where nothing is priced. */
double dt_program_price(const dt_program *p);
/** Does a program cost no more over the cheapest than its basis gives for certainty? */
bool dt_surest_affordable(const dt_program *p, const dt_program *cheapest);
void dt_surest_note(dt_program *p, const dt_program *cheapest, const dt_surest *surest);
void dt_surest_free(dt_surest *surest);

/* ---- program_firmer.c: all stages asked of the first drawn wells ---- */

/** One drawn well. */
typedef struct dt_asked_well {
    bool seats;             /* hold; nothing else is asked where they do not */
    bool jobs_known;        /* asked where strength holds alone */
    dt_string_set strength; /* strings that do not hold */
    dt_string_set jobs;     /* strings that cannot be run or cemented */
} dt_asked_well;

/** What all stages say of a program in the first drawn wells. */
typedef struct dt_asked {
    const dt_trials *trials; /* borrowed */
    size_t of, by_seats, held;
    size_t strings;
    dt_asked_well *wells;
    double *spare; /* well x string that does not hold: dt_stage_break.spare */
} dt_asked;

/** Room for a program; freed by dt_asked_free(). DT_OK or DT_E_MEMORY. */
dt_status dt_asked_begin(const dt_program *p, const dt_trials *trials, size_t most, dt_asked *out);
void dt_asked_free(dt_asked *asked);
/** Asks all stages. changed: strings whose pipe is not what it was when they were asked last, or
 * DT_ALL_STRINGS. DT_OK; DT_E_MEMORY and others. */
dt_status dt_asked_ask(const dt_program *p, dt_string_set changed, dt_asked *asked);
/** Wells whose seats hold and this string's pipe does not. */
size_t dt_asked_broken(const dt_asked *asked, size_t string);
/** Of the strings that are drilled and not done the one whose pipe fails in most wells, if that are
 * more than a few; DT_NO_INDEX: none. */
size_t dt_asked_weakest(const dt_asked *asked, size_t drilled, dt_string_set done);
/** By what part more its pipe must bear to hold in that part of the wells in which it fails. */
double dt_asked_spare(const dt_asked *asked, size_t string, double part);

/** Do all holes and shoes of a program hold in a drawn well, by the rules of seats? */
bool dt_program_holds_in(const dt_program *p, const dt_window *window);

/** A copy, freed on its own. DT_OK or DT_E_MEMORY. */
dt_status dt_asked_copy(const dt_asked *asked, dt_asked *out);

/** A string whose pipe bears more than it need in the well as stated. */
typedef struct dt_firmed {
    size_t string;
    size_t before, held; /* wells that hold by all stages without and with it */
    double dearer;       /* part of the bill, or of the steel where nothing is priced */
} dt_firmed;

/** Says so, and what it buys. plain: the program with the pipe it would have. */
void dt_firmer_note(dt_program *p, const dt_program *plain, const dt_firmed *firmed,
                    const dt_asked *asked);
/** What all stages say of the program that was chosen. */
void dt_asked_note(dt_program *p, const dt_asked *asked);

/** What is left to run between a string and the one above it: left, spare and slim of *t. */
void dt_program_left(const dt_program *p, size_t string, dt_trigger *t);

/** What hangs on the hanger of a liner, and which one it is. */
void dt_program_hang(const dt_program *p, size_t index, dt_program_string *item);

#endif
