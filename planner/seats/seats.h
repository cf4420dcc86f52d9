/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SEATS_H
#define DRAWTUBE_SEATS_H

#include "hole_rules.h"
#include "notice.h"
#include "units.h"
#include "window.h"

/*
 * Stage 3: where may each shoe stand?
 *
 * A section [a, b] is drilled from the shoe at a to depth b with one mud. If it can be
 * drilled, so can every section inside it; so the shallowest shoe for a given bottom
 * and the deepest bottom for a given shoe exist, and going up from the objective by
 * shallowest shoes uses the fewest strings (docs/seats.md has the argument).
 */

/** Rules that can bind. X(NAME, code in program.json); their words are in render/words. */
#define DT_RULE_LIST(X)                                                                            \
    X(OBJECTIVE, "objective")                                                                      \
    X(CONDUCTOR_GIVEN, "conductor-given")                                                          \
    X(CONDUCTOR_RETURNS, "conductor-returns")                                                      \
    X(MUD_LIMIT, "fracture-surge-safety")                                                          \
    X(KICK_FIXED, "fracture-kick")                                                                 \
    X(KICK_DEPTH_RATIO, "fracture-kick-depth-ratio")                                               \
    X(STICKING_NORMAL, "sticking-normal")                                                          \
    X(STICKING_ABNORMAL, "sticking-abnormal")                                                      \
    X(CASE_OFF, "interval-case-off")                                                               \
    X(CASE_ABOVE, "interval-case-above")                                                           \
    X(AVOID_SHOE, "interval-avoid-shoe")                                                           \
    X(FRESH_WATER, "fresh-water")                                                                  \
    X(BELOW_CONDUCTOR, "below-conductor")                                                          \
    X(ABOVE_OBJECTIVE, "above-objective")                                                          \
    X(ROUNDING, "rounding")                                                                        \
    X(PINNED, "pinned")                                                                            \
    X(INFLUX_VOLUME, "influx-volume")                                                              \
    X(CHOSEN_TOGETHER, "chosen-together")                                                          \
    X(CIRCULATING, "fracture-circulating")                                                         \
    X(DRILLING_MARGIN, "drilling-margin")                                                          \
    X(KICK_LEAST, "kick-least")                                                                    \
    X(KICK_WANTED, "kick-wanted")                                                                  \
    X(DIVERTER_PRESSURE, "diverter-pressure")                                                      \
    X(DIVERTER_GAS, "diverter-gas")                                                                \
    X(OPEN_HOLE, "open-hole")                                                                      \
    X(COMPETENT_ROCK, "competent-rock")                                                            \
    X(SURFACE_LEAST, "surface-least")                                                              \
    X(SURFACE_MOST, "surface-most")                                                                \
    X(SPREAD, "spread")                                                                            \
    X(SUREST, "surest")                                                                            \
    X(RUNNING_JOB, "running-job")                                                                  \
    X(CEMENT_JOB, "cement-job")                                                                    \
    X(TAIL_CEMENT, "tail-cement")                                                                  \
    X(STOPPED_HIGHER, "stopped-higher")

typedef enum dt_rule {
#define DT_RULE_ENUM(name, code) DT_RULE_##name,
    DT_RULE_LIST(DT_RULE_ENUM)
#undef DT_RULE_ENUM
        DT_RULE_COUNT
} dt_rule;

/** Bit of a rule in dt_well.rules_off. */
static inline uint64_t dt_rule_bit(dt_rule rule)
{
    _Static_assert(DT_RULE_COUNT <= 64, "more rules than dt_well.rules_off has bits");
    return UINT64_C(1) << rule;
}

/** Code for program.json; static storage. */
const char *dt_rule_code(dt_rule rule);

/** Why a depth is a limit: the rule, where it binds, both sides, and the input behind it. */
typedef struct dt_reason {
    dt_rule rule;
    double tvd_m;         /* depth at which the rule binds */
    double have, need;    /* the two sides, `have >= need` wanted; SI of `kind` */
    double other;         /* of rock where no shoe stands, its upper end; else nothing */
    dt_kind kind;         /* DT_KIND_DENSITY, DT_KIND_PRESSURE or DT_KIND_LENGTH */
    double mud_kgm3;      /* mud of the section concerned; NAN when the rule knows none */
    double mud_tvd_m;     /* depth whose pore or collapse value set that mud; NAN */
    bool mud_by_collapse; /* the collapse gradient set it, not pore pressure */
    double section_top_m, section_base_m; /* the section looked at; NAN */
    size_t interval;                      /* index into well->intervals, or DT_NO_INDEX */
    size_t pay;                           /* index into well->pays, or DT_NO_INDEX */
    double hole_m;                        /* of the section, where the rule asks for it; NAN */
    int line;                             /* line of the input that governs; 0 when there is none */
} dt_reason;

typedef struct dt_section_check {
    bool ok;
    dt_reason why;  /* the rule broken by most, relative to its limit; valid when !ok */
    bool stops;     /* one is broken that a well cannot be drilled with, ... */
    dt_reason stop; /* of these the one broken by most */
} dt_section_check;

/**
 * Mud of the section [top_m, base_m], kg/m3, and where it comes from (both pointers may be NULL).
 * Of a hole that returns to the sea floor the mud below it, on which sea water stands.
 */
double dt_section_mud(const dt_window *window, bool riserless, double top_m, double base_m,
                      double *from_tvd_m, bool *by_collapse);

/** Least fracture EMW exposed in the section, kg/m3. */
double dt_section_min_fracture(const dt_window *window, double top_m, double base_m);

/**
 * May the hole from a shoe at top_m to base_m be drilled and cased with one mud?
 * Checks every rule of the section at every exposed depth (open below the shoe,
 * closed at the bottom: one-sided limits at steps). with_sticking=false leaves the
 * sticking rule out. rules: of the hole; NULL: none beside the window, under a BOP.
 */
void dt_section_test(const dt_window *window, const dt_hole_rules *rules, double top_m,
                     double base_m, bool with_sticking, dt_section_check *out);

/** Would running pipe through the whole of [top_m, base_m] break the sticking limit somewhere? */
bool dt_section_sticks(const dt_window *window, double top_m, double base_m);

/** May a shoe stand at this depth at all (avoid-shoe)? Fills why when not. */
bool dt_shoe_allowed(const dt_window *window, double tvd_m, dt_reason *why);

typedef struct dt_seat {
    dt_role role;
    dt_string_type type;            /* DT_FULL or DT_LINER; DT_TIEBACK behind the seats */
    double shallowest_m, deepest_m; /* TVD, not rounded, other seats free to move */
    dt_reason why_shallowest, why_deepest;
    double exact_m;  /* before rounding, for the seats chosen around it */
    double shoe_m;   /* chosen TVD */
    dt_reason why;   /* what governs the chosen seat */
    double mud_kgm3; /* of the hole drilled for this string; NAN for a conductor */
    double mud_tvd_m;
    bool mud_by_collapse;
    double min_fracture_kgm3; /* NAN for a conductor */
    dt_hole_rules rules;      /* of its hole; of a conductor nothing is asked */
    size_t pin;               /* index into well->pins, or DT_NO_INDEX */
    bool shoe_pinned;
    double spare; /* its pipe is chosen as if every load were this part larger; 0 as a rule */
    bool liner_by_sticking; /* type is a liner because running it from surface could stick */
    bool tied_back;         /* a liner with a tie-back on it */
    size_t ties;            /* of a DT_TIEBACK: the liner it stands on */
} dt_seat;

/** A rule broken by pinned seats, kept and reported. */
typedef struct dt_broken_pin {
    size_t seat;
    dt_reason why;
} dt_broken_pin;

/**
 * A seat is a drilled shoe. Tie-backs have none of their own, so they stand behind the seats, as
 * items[count] and on, each naming its liner: what reckons from shoe to shoe never meets them.
 */
/** The last hole where it stays open. */
typedef struct dt_open_end {
    bool given;
    double top_m, base_m; /* shoe of the last string, objective */
    double hole_m;        /* its diameter */
    dt_hole_rules rules;
    double mud_kgm3, mud_tvd_m;
    bool mud_by_collapse;
    double min_fracture_kgm3;
} dt_open_end;

typedef struct dt_seats {
    dt_seat *items; /* conductor first */
    size_t count;
    size_t tieback_count; /* behind them, from the surface down */
    dt_open_end open;     /* below the last of them */
    dt_broken_pin *broken;
    size_t broken_count;
    size_t collision_count;  /* set when DT_E_NONE */
    dt_reason collisions[2]; /* the limits that collide: what asks deeper, what allows no deeper */
} dt_seats;

/**
 * Chooses the seats: the fewest strings, and among those the shallowest or deepest
 * as the well prefers, rounded deeper and checked again; pins kept.
 * @return DT_OK; DT_E_NONE with out->collisions filled (out is valid to free in that
 *         case too); DT_E_MEMORY.
 */
dt_status dt_seats_choose(const dt_window *window, dt_seats *out);
/** Strings whose holes are known: what the seats are chosen for. */
typedef struct dt_seat_plan {
    size_t count;       /* strings, the conductor counted */
    const size_t *pins; /* [count] index into well->pins, or DT_NO_INDEX */
    const dt_hole_rules
        *rules;  /* [count + 1] of the hole of each string; then of an open last one */
    bool spread; /* more strings are asked for than the rock needs */
    const double
        *wanted_m; /* [count] of each shoe, within where it may stand; NULL: as the well prefers */
    bool keep_broken; /* a rule broken between two pinned shoes is kept and reported */
    /* bit (1u << string): no liner unless a pin says so, since the string above would have to hold
     * what is below it */
    unsigned full;
    unsigned liners; /* the same: a liner unless a pin, or the well, says otherwise */
} dt_seat_plan;

/** Strings of a plan with roles, pins and types, and shoes where these are given; NAN: not yet.
 * DT_OK with *out, freed by dt_seats_free(); DT_E_MEMORY. */
dt_status dt_seats_outline(const dt_well *well, const dt_seat_plan *plan, dt_seats *out);

/**
 * Seats of strings whose holes are known, so that rules that depend on a hole's size hold, too.
 * @return as dt_seats_choose().
 */
dt_status dt_seats_lay(const dt_window *window, const dt_seat_plan *plan, dt_seats *out);

/** Limits of the shoe of the first string below the conductor; INFINITY where none is deeper. */
void dt_seats_surface_limits(const dt_well *well, double conductor_m, double *least_m,
                             double *most_m);

/** Muds of seats that stay where they are, in another window: of a well drawn from the spreads. */
void dt_seats_weigh_muds(const dt_window *window, dt_seats *seats);

/** Depth of the conductor's shoe, pinned or as <conductor> has it. */
double dt_seats_conductor_m(const dt_well *well);

/** Where the deepest hole ends. */
double dt_seats_bottom(const dt_seats *seats);

/** Frees seats; NULL is allowed. */
void dt_seats_free(dt_seats *seats);

/** Does this string, or the tie-back on it, shield the strings above from what is below? */
bool dt_seat_covers(const dt_seat *seat);

/** Index of the tie-back on a liner's seat; DT_NO_INDEX when there is none. */
size_t dt_seats_tieback_on(const dt_seats *seats, size_t seat);

/** Strings in the order they are run, a tie-back after its liner: index at a place in it, and back.
 */
size_t dt_seats_at(const dt_seats *seats, size_t position);
size_t dt_seats_position(const dt_seats *seats, size_t index);

/** Does a hole that breaks it stop a program, and not only ask for review? */
bool dt_rule_stops(dt_rule rule);

/** A reason as a notice, with both sides of the inequality; names are the well's. */
dt_notice dt_reason_notice(const dt_reason *reason, const dt_well *well);

/** The same below another notice, about the same string; as dt_notice_below(). */
void dt_reason_below(dt_notices *list, dt_notice *above, const dt_reason *reason,
                     const dt_well *well);

#endif
