/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_LADDER_H
#define DRAWTUBE_LADDER_H

#include "nest.h"

/*
 * Which holes and pipes, and where their shoes may stand: settled together, since what a hole must
 * bear depends on its size.
 *
 * A ladder is a hole and a pipe for each string. For one ladder seats follow exactly by the
 * shallowest shoe of each string from the bottom up; all ladders of a nest are walked at once, and
 * of two that need the same hole next only the one matters that is preferred or leaves the string
 * above a shallower shoe (docs/seats.md).
 */

/** More strings than this never telescope. */
#define DT_MOST_LADDER 16

/** How far a ladder may go from what is preferred. Each takes in the one before. */
typedef enum dt_ladder_latitude {
    DT_LADDER_PREFERRED, /* pairs of the basis, open holes no longer than it prefers */
    DT_LADDER_LONG,      /* longer open holes */
    DT_LADDER_ANY,       /* whatever nests */
    DT_LATITUDE_COUNT
} dt_ladder_latitude;

typedef struct dt_rung {
    double hole_m, bit_m; /* bit: of a hole that is opened, else the hole */
    double od_m;
    dt_hole_rules rules; /* of its hole */
    bool relaxed;        /* its hole bears less than it should, but what it must */
    double spare;        /* of its pipe and of a tie-back on it: dt_seat.spare */
} dt_rung;

/** What is not to be tried again: a pipe as some string, above a hole of some size. */
typedef struct dt_ladder_cut {
    size_t string;
    double od_m;
    double next_m; /* hole below; 0: none */
} dt_ladder_cut;

typedef struct dt_ladder {
    dt_ladder_latitude latitude;
    size_t count; /* strings */
    size_t pins[DT_MOST_LADDER];
    dt_rung rungs[DT_MOST_LADDER + 1]; /* the last for an open last hole */
    bool spread;                       /* more strings are pinned than the rock needs */
    bool keep_broken;      /* found only with what is broken between pinned shoes kept */
    unsigned full, liners; /* as in dt_seat_plan */
    bool steered;          /* shoes stand as near as may be to these: */
    double wanted_m[DT_MOST_LADDER];
} dt_ladder;

/** What nests, kept from one choice to the next: it depends on how many strings there are and on
 * their pins, not on depths. Begins zeroed, of one well or of copies of it that differ in depths
 * and in rules of holes alone. */
typedef struct dt_ladder_nests {
    struct dt_kept_nest *items;
    size_t count;
} dt_ladder_nests;

/** Empties it. */
void dt_ladder_nests_free(dt_ladder_nests *nests);

typedef struct dt_ladder_cuts {
    dt_ladder_cut *items;
    size_t count;
    dt_job_limits jobs;     /* what drafts planned in full have taught */
    dt_ladder_nests *nests; /* borrowed; NULL: none are kept */
    /* The ladder that the last cut took away. A cut brings no ladder back, so that what came to
     * nothing before this one was found is not looked through again. NULL: none yet. */
    const dt_ladder *after;
} dt_ladder_cuts;

/** May a hole and its pipe be drafted with in a latitude? pin: of their string, or NULL. */
bool dt_ladder_allows(const dt_well *well, const dt_pin *pin, const dt_nest_hole *hole,
                      const dt_nest_pipe *pipe, size_t strings, dt_ladder_latitude latitude);

/** How far a hole and its pipe are from preferred: an order as of dt_pair_order(). Where whatever
 * nests is taken, holes nobody drills by choice are the last. */
int dt_ladder_order(const dt_well *well, size_t strings, const dt_nest_hole *hole,
                    const dt_nest_pipe *pipe);

/** Is a ladder of a latitude made of pairs that the basis lists, where it lists any? */
bool dt_ladder_is_usual(const dt_well *well, dt_ladder_latitude latitude);

/** Is a hole no smaller than is usual below a size of pipe, whichever connection it will have? A
 * conductor may be as wide as it likes. */
bool dt_ladder_is_tight(const dt_well *well, const dt_catalogue *catalogue,
                        const dt_nest_pipe *pipe, const dt_nest_hole *next);

/** Does a smaller liner pass a size of pipe that the completion could use? pin: of its string, or
 * NULL. */
bool dt_ladder_leaves_spare(const dt_well *well, const dt_catalogue *catalogue, const dt_pin *pin,
                            const dt_nest_pipe *pipe);

/** May the next hole be drilled out of a pipe in a latitude, and is it no smaller than is usual
 * there? below: pin of the next string, or NULL. */
bool dt_ladder_leads_on(const dt_well *well, const dt_catalogue *catalogue, const dt_pin *below,
                        const dt_nest_pipe *pipe, const dt_nest_hole *next,
                        dt_ladder_latitude latitude);

/**
 * The hole that stays open below a size of pipe: as stated, or the largest of the basis's pairs, of
 * those drafted with first, that comes through half its weights or more. NAN: none.
 */
double dt_ladder_open_hole(const dt_well *well, const dt_catalogue *catalogue,
                           const dt_nest_pipe *pipe);

/**
 * The ladder of the narrowest latitude that has one (what the basis prefers before what it lets
 * pass), of these of the fewest strings, of these the most preferred: a preferred size can cost a
 * string. keep_broken: rules broken between two pinned shoes are kept.
 * @return DT_OK with *out; DT_E_NONE when no number of strings does; DT_E_MEMORY.
 */
dt_status dt_ladder_choose(const dt_window *window, const dt_catalogue *catalogue,
                           const dt_ladder_cuts *cuts, dt_ladder *out);

/**
 * The same of a given number of strings.
 * @return as dt_ladder_choose(); DT_E_NONE, too, where the pins ask for more strings.
 */
dt_status dt_ladder_of_count(const dt_window *window, const dt_catalogue *catalogue, size_t count,
                             dt_ladder *out);

/** Has the engineer decided every string of a well, so that none is to be added? Each has a pin
 * with its shoe, hole and size, the last one too where the last hole is cased. */
bool dt_pins_complete(const dt_well *well);

/** The seats of a ladder. As dt_seats_lay(). */
dt_status dt_ladder_seats(const dt_window *window, const dt_ladder *ladder, dt_seats *out);

/** The nest of seats that a ladder was chosen for, its holes and pipe sizes alone. As
 * dt_nest_build(). */
dt_status dt_ladder_nest(const dt_well *well, const dt_seats *seats, const dt_catalogue *catalogue,
                         const dt_ladder *ladder, dt_nest *out, size_t *blocked);

#endif
