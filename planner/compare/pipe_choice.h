/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_PIPE_CHOICE_H
#define DRAWTUBE_PLANNER_PIPE_CHOICE_H

#include <stdint.h>

#include "hold.h"
#include "hung.h"
#include "liner_hangers.h"

/*
 * The one door between the search for options and the strength stage: which pipes may a
 * string be, and how much surface pressure from below does each of them hold? The search
 * knows a string's loads only through this.
 */

/**
 * Kinds of pipe that hangers are set in, a bit each: hangers for the same size and weights share
 * one. A string that asks nothing of the pipe above has them all.
 */
typedef uint64_t dt_hosts;
#define DT_ANY_HOST (~(dt_hosts)0)

/** One way to buy pipe of a size. */
typedef struct dt_offer {
    const dt_pipe *pipe;
    dt_thread thread;
    double drift_m;
    double per_kg, per_joint; /* prices, 0 when nothing is priced */
    /* Ratings for a first look; INFINITY when it cannot be rated. */
    double collapse_pa; /* unstressed */
    double burst_pa;    /* body and coupling */
    double pull_n;      /* body and joint */
    dt_hosts hosts;     /* kinds of pipe it is, that a hanger may be set in */
    bool rated;
    bool thread_pinned; /* a pin of the well names it: it is kept where it is no gas seal */
    bool stocked;
    dt_strength strength; /* unworn, when rated */
} dt_offer;

/** All pipe of one outside diameter and coupling; lighter first, then weaker, then simpler. */
typedef struct dt_offers {
    double od_m, largest_od_m;
    bool welded;    /* plain end only: a conductor */
    dt_hosts hosts; /* kinds of this size, whatever the weight */
    dt_offer *items;
    size_t count;
} dt_offers;

/** A string below another, down to the next full one, or liner with a tie-back, which covers it. */
typedef struct dt_string_below {
    dt_string_type type; /* DT_TIEBACK: a liner with a tie-back */
    double shoe_m;
} dt_string_below;

/** Where a string stands. */
typedef struct dt_string_place {
    size_t index; /* 0 is the conductor */
    dt_role role;
    dt_string_type type; /* DT_TIEBACK: the tie-back on the liner of this place */
    double above_m;      /* shoe of the string above, TVD; unused for the conductor */
    double shoe_m;
    double mud_kgm3;              /* it is run in; NAN for the conductor */
    size_t pin;                   /* into well->pins, or DT_NO_INDEX */
    const dt_string_below *below; /* NULL and 0: not known, or nothing is */
    size_t below_count;
} dt_string_place;

typedef struct dt_pipe_choice {
    const dt_well *well;
    const dt_catalogue *catalogue;
    const dt_window *window;
    const dt_trajectory *trajectory;
    dt_design_in_force design;
    double lap_m;
    double most_pull_n; /* what the rig lifts; INFINITY when not limited */
    double conductor_m; /* shoe of the conductor */
    dt_offers *sizes;
    size_t size_count;
    uint8_t kind[DT_MOST_HANGERS]; /* of pipe that each hanger of the well is set in */
} dt_pipe_choice;

/** Sets the sizes up. window, trajectory and the rest of *choice are set by the caller. */
dt_status dt_pipe_choice_init(dt_pipe_choice *choice);
void dt_pipe_choice_free(dt_pipe_choice *choice);

/** Index of the size of a nest node, DT_NO_INDEX when the catalogue has it no more. */
size_t dt_pipe_choice_size(const dt_pipe_choice *choice, const dt_nest_pipe *node);

/**
 * Is gas to surface the only load a string gets from below? Then one pressure sums up all that
 * stands below it, and more of it is never easier to hold. Otherwise its place needs `below`.
 */
bool dt_pipe_choice_by_pressure(const dt_pipe_choice *choice);

/**
 * The loads of a place. With `below` left out, surface_pressure_pa is the caller's to set.
 * @return DT_OK; DT_E_DOMAIN when a string has no length there.
 */
dt_status dt_pipe_choice_load(const dt_pipe_choice *choice, const dt_string_place *place,
                              dt_string_load *out);

/** Which of the cases of a string. What it gets from below changes with what stands there; the
 * rest follows from its own place, whatever stands below. */
typedef enum dt_cases { DT_OWN_CASES, DT_CASES_FROM_BELOW } dt_cases;

/** What a first look may look at: all cases, since it is known what stands below; those alone that
 * stand whatever is; or these and gas, of which the load has the least that can come. */
typedef enum dt_look { DT_LOOK_AT_ALL, DT_LOOK_AT_OWN, DT_LOOK_AT_LEAST_GAS } dt_look;

/** Depths of one load, laid out when first asked for; zeroed, it holds none. */
typedef struct dt_depths {
    dt_spot *items;
    size_t count;
    dt_columns columns;         /* the same */
    double surface_pressure_pa; /* that the gas case stands for */
    double fitted_m;            /* bore that the influx is fitted to; 0: none yet */
    bool dragged;               /* the drag of pulling is laid */
} dt_depths;
void dt_depths_clear(dt_depths *depths);

/**
 * A first look, quick: false only when the offer surely does not hold these loads. At the shoe
 * nothing hangs below, so it collapses unstressed or not at all; at the surface nothing stands
 * outside, so gas is held by the pipe alone; at the top the whole string hangs. gas_pa is what
 * stands for the surface pressure of the load.
 */
bool dt_pipe_choice_may_hold(const dt_pipe_choice *choice, const dt_string_load *load,
                             const dt_offer *offer, dt_look look, double gas_pa);

/**
 * Does an offer hold these cases of the loads? *depths are those of this load, whose surface
 * pressure alone may have changed since; an influx is fitted to the bore of the offer in both.
 * DT_OK with *held, or DT_E_MEMORY.
 */
dt_status dt_pipe_choice_holds(const dt_pipe_choice *choice, dt_string_load *load,
                               const dt_offer *offer, dt_cases which, dt_depths *depths,
                               bool *held);

/** Hangers of the well's list, a bit each, that a liner of this offer may hang on under these
 * loads; any_capacity: whatever it weighs. The bit to come through is not asked yet. */
uint64_t dt_pipe_choice_hangers(const dt_pipe_choice *choice, const dt_string_load *load,
                                const dt_offer *offer, bool any_capacity);

/** Hangers of the list that let a bit through. */
uint64_t dt_pipe_choice_passed(const dt_pipe_choice *choice, double bit_m);

/** Kinds of pipe that these hangers are set in. */
dt_hosts dt_pipe_choice_hosts(const dt_pipe_choice *choice, uint64_t hangers);

/** Surface pressure on a string at above_m from the hole drilled from there to shoe_m, Pa. */
double dt_pressure_while_drilling(const dt_pipe_choice *choice, double above_m, double shoe_m);

/** Surface pressure on the wall of the finished well, its last hole from above_m to shoe_m. */
double dt_pressure_when_finished(const dt_pipe_choice *choice, double above_m, double shoe_m);

/** Where a string's top stands, along the hole: 0, or a lap above the shoe above. */
double dt_top_md(const dt_pipe_choice *choice, dt_string_type type, double above_m);

#endif
