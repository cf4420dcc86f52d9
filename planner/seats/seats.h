/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SEATS_H
#define DRAWTUBE_SEATS_H

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
    X(CHOSEN_TOGETHER, "chosen-together")

typedef enum dt_rule {
#define DT_RULE_ENUM(name, code) DT_RULE_##name,
    DT_RULE_LIST(DT_RULE_ENUM)
#undef DT_RULE_ENUM
        DT_RULE_COUNT
} dt_rule;

/** Code for program.json; static storage. */
const char *dt_rule_code(dt_rule rule);

/** Why a depth is a limit: the rule, where it binds, both sides, and the input behind it. */
typedef struct dt_reason {
    dt_rule rule;
    double tvd_m;         /* depth at which the rule binds */
    double have, need;    /* the two sides, `have >= need` wanted; SI of `kind` */
    dt_kind kind;         /* DT_KIND_DENSITY, DT_KIND_PRESSURE or DT_KIND_LENGTH */
    double mud_kgm3;      /* mud of the section concerned; NAN when the rule knows none */
    double mud_tvd_m;     /* depth whose pore or collapse value set that mud; NAN */
    bool mud_by_collapse; /* the collapse gradient set it, not pore pressure */
    double section_top_m, section_base_m; /* the section looked at; NAN */
    size_t interval;                      /* index into well->intervals, or DT_NO_INDEX */
    int line;                             /* line of the input that governs; 0 when there is none */
} dt_reason;

typedef struct dt_section_check {
    bool ok;
    dt_reason why; /* the rule broken by most, relative to its limit; valid when !ok */
} dt_section_check;

/** Mud of the section [top_m, base_m], kg/m3, and where it comes from (both pointers may be NULL).
 */
double dt_section_mud(const dt_window *window, double top_m, double base_m, double *from_tvd_m,
                      bool *by_collapse);

/** Least fracture EMW exposed in the section, kg/m3. */
double dt_section_min_fracture(const dt_window *window, double top_m, double base_m);

/**
 * May the hole from a shoe at top_m to base_m be drilled and cased with one mud?
 * Checks every rule of the section at every exposed depth (open below the shoe,
 * closed at the bottom: one-sided limits at steps). with_sticking=false leaves the
 * sticking rule out.
 */
void dt_section_test(const dt_window *window, double top_m, double base_m, bool with_sticking,
                     dt_section_check *out);

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
    size_t pin;               /* index into well->pins, or DT_NO_INDEX */
    bool shoe_pinned;
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
typedef struct dt_seats {
    dt_seat *items; /* conductor first */
    size_t count;
    size_t tieback_count; /* behind them, from the surface down */
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
void dt_seats_free(dt_seats *seats);

/** Does this string, or the tie-back on it, shield the strings above from what is below? */
bool dt_seat_covers(const dt_seat *seat);

/** Index of the tie-back on a liner's seat; DT_NO_INDEX when there is none. */
size_t dt_seats_tieback_on(const dt_seats *seats, size_t seat);

/** Strings in the order they are run, a tie-back after its liner: index at a place in it, and back.
 */
size_t dt_seats_at(const dt_seats *seats, size_t position);
size_t dt_seats_position(const dt_seats *seats, size_t index);

/** A reason as a notice, with both sides of the inequality; names are the well's. */
dt_notice dt_reason_notice(const dt_reason *reason, const dt_well *well);

/** The same below another notice, about the same string; as dt_notice_below(). */
void dt_reason_below(dt_notices *list, dt_notice *above, const dt_reason *reason,
                     const dt_well *well);

#endif
