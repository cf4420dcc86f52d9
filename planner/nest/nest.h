/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_NEST_H
#define DRAWTUBE_NEST_H

#include "catalogue.h"
#include "seats.h"

/*
 * Stage 4: which holes and pipes telescope?
 *
 * A directed graph with one rank of holes and one of pipes per string, from the
 * conductor's hole down to the production pipe. hole -> pipe: the coupling clears the
 * hole by the clearance table. pipe -> hole: the bit passes the drift of at least one
 * weight of that pipe, or, where the well allows it, the hole is opened below the pipe.
 */

typedef struct dt_nest_pipe {
    size_t string; /* 0 is the conductor */
    double od_m;
    double coupling_od_m; /* largest outside diameter run: coupling, or OD when plain end */
} dt_nest_pipe;

typedef struct dt_nest_hole {
    size_t string;
    double diameter_m;
    double bit_m; /* diameter_m, or the pilot bit when the hole is opened */
    dt_bit_commonness commonness;
    bool opened;
    /* the liner run in it hangs in this one, so a hole stands once for each hanger that may be
     * used; NULL: no liner, or hangers are not checked */
    const dt_hanger *hanger;
} dt_nest_hole;

/** Edge from pipes[pipe] of string k to holes[hole] of string k+1. */
typedef struct dt_nest_pass {
    size_t pipe, hole;
    double need_drift_m; /* the bit that has to pass */
} dt_nest_pass;

/** Edge from holes[hole] to pipes[pipe] of one string. */
typedef struct dt_nest_fit {
    size_t hole, pipe;
    double radial_clearance_m, need_clearance_m;
} dt_nest_fit;

typedef struct dt_nest {
    size_t string_count;
    dt_nest_pipe *pipes;
    size_t pipe_count;
    dt_nest_hole *holes;
    size_t hole_count;
    dt_nest_pass *passes;
    size_t pass_count;
    dt_nest_fit *fits;
    size_t fit_count;
} dt_nest;

/**
 * A hole nobody drills by choice: opened below the pipe above, or with a bit less often stocked. A
 * hole opener's size is usual where it stands: large holes are made by nothing else.
 */
bool dt_nest_unusual(const dt_nest_hole *hole);

/** Smallest gap between hole wall and coupling for an OD, m: the well's table or the customary one.
 */
double dt_nest_clearance(const dt_well *well, double od_m);

/** The same for a pipe as it is run below the conductor: beside a connection hardly wider than its
 * pipe the basis may ask for less. */
double dt_nest_gap(const dt_well *well, double od_m, double largest_od_m);

/** Largest outside diameter of a pipe as run: its coupling, or the pipe where it has none. */
double dt_nest_largest_od(const dt_pipe *pipe);

/**
 * Is this pipe one of the node's? Welded and coupled pipe of one OD are nodes of their own,
 * since they ask for different holes.
 */
bool dt_nest_is_size(const dt_nest_pipe *node, const dt_pipe *pipe);

/** May this pipe be run as string `string` (0 is the conductor), pins and threads considered? */
bool dt_nest_pipe_allowed(const dt_well *well, const dt_seat *seat, size_t string,
                          const dt_pipe *pipe);

/** Drift of a pipe as ordered: the special drift where the well allows it and it is larger. */
double dt_nest_drift(const dt_well *well, const dt_pipe *pipe);

/**
 * Builds the graph of all holes and pipes that lie on some complete path from the
 * conductor's hole to a production pipe of at least the size the completion needs.
 * @return DT_OK; DT_E_NONE when no path exists: *blocked is then the string (0 is the
 *         conductor) above which nothing nests; DT_E_MEMORY.
 */
dt_status dt_nest_build(const dt_well *well, const dt_seats *seats, const dt_catalogue *catalogue,
                        dt_nest *out, size_t *blocked);

/** A string that was not planned; NAN: there is none. */
typedef struct dt_spare {
    double od_m, hole_m;
    const dt_pipe *pipe; /* of its size the heaviest that does; NULL: none */
} dt_spare;

/** The widest pipe that goes through a drift, hole and all, and lets a bit (0: none) through in
 * turn. Sizes alone: its strength is not asked. role: what the basis would buy it as. */
dt_spare dt_nest_spare(const dt_well *well, const dt_catalogue *catalogue, dt_role role,
                       double drift_m, double next_bit_m);

/** Order of what is none of the pairs of a basis. */
#define DT_UNLISTED 3

/** 1 for a pair of hole and pipe that is drafted with first, 2 for others that are run, 3 for what
 * is none of the basis's pairs. */
int dt_pair_order(const dt_well *well, dt_role role, double hole_m, bool opened, double od_m);

/** Drops what lies on no complete path, in place. As dt_nest_build(). */
dt_status dt_nest_prune(dt_nest *nest, size_t *blocked);

/** Frees a nest; NULL is allowed. */
void dt_nest_free(dt_nest *nest);

#endif
