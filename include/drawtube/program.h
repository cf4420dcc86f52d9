/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PUBLIC_PROGRAM_H
#define DRAWTUBE_PUBLIC_PROGRAM_H

/* The casing program of a well: planned, and read string by string. */

#include <drawtube/well.h>

#ifdef __cplusplus
extern "C" {
#endif

/** The chosen program in full. Never changes. */
typedef struct dt_program dt_program;

/** Why no program exists. draw.h makes a text of it. */
typedef struct dt_refusal dt_refusal;

/** Frees a refusal; NULL is allowed. */
DT_API void dt_refusal_close(dt_refusal *refusal);

/**
 * Chooses seats, sizes, pipe, cement and running of a well: string by string, and where that finds
 * nothing, the first of the options (questions.h), of which a notice then says so.
 * @param[out] refusal  set with DT_E_NONE and DT_E_INPUT, freed by dt_refusal_close(); else
 *                      untouched. NULL when it is not wanted.
 * @return DT_OK with *out, freed by dt_program_free(); DT_E_NONE when no program exists; DT_E_INPUT
 *         when the catalogue lacks a pinned pipe; DT_E_MEMORY. Well and catalogue must outlive
 *         program and refusal.
 */
DT_API dt_status dt_plan(const dt_well *well, const dt_catalogue *catalogue, dt_program **out,
                         dt_refusal **refusal);

/**
 * The program nearest to a well that dt_plan() refused: with one thing changed that would cure it,
 * or with as few rules left out as a search finds. Its first notices are stoppers that say what was
 * changed and why; it is never runnable.
 * @param[in] refusal  of that well, not NULL.
 * @return DT_OK with *out, freed by dt_program_free(); DT_E_NONE when nothing comes near;
 *         DT_E_MEMORY. Well and catalogue must outlive the program.
 */
DT_API dt_status dt_plan_nearest(const dt_well *well, const dt_catalogue *catalogue,
                                 const dt_refusal *refusal, dt_program **out);

/** Can it be run as it stands: is none of its notices a stopper? */
DT_API bool dt_program_runnable(const dt_program *program);

/** Frees a program; NULL is allowed. */
DT_API void dt_program_free(dt_program *program);

/* ---- strings ----------------------------------------------------------------------------------
 */

typedef enum dt_role {
    DT_CONDUCTOR,
    DT_SURFACE,
    DT_INTERMEDIATE,
    DT_PRODUCTION,
    DT_ROLE_COUNT
} dt_role;

typedef enum dt_string_type { DT_FULL, DT_LINER, DT_TIEBACK, DT_TYPE_UNSAID } dt_string_type;

/** Trade words for both, as the well file and program.json spell them; static storage. */
DT_API const char *dt_role_text(dt_role role);
DT_API const char *dt_string_type_text(dt_string_type type);

/** No string, for what takes the index of one. */
#define DT_NO_INDEX ((size_t)-1)

/** How many strings there are, tie-backs counted. */
DT_API size_t dt_program_strings(const dt_program *program);

/**
 * Index of the string at a position, from 0 at the surface in the order they are run: what all
 * calls below take. A tie-back stands after its liner.
 */
DT_API size_t dt_program_at(const dt_program *program, size_t position);

/** A string. Depths below the rig floor: MD along the hole, TVD down. NAN: there is no such figure.
 */
typedef struct dt_string_view {
    dt_role role;
    dt_string_type type;
    char name[48]; /* "surface", "intermediate 2", "production tie-back" */
    double top_md_m, top_tvd_m, shoe_md_m, shoe_tvd_m;
    double shallowest_tvd_m, deepest_tvd_m; /* where the shoe may stand, other seats free to move;
                                               NAN for a tie-back */
    const char *governed_by;    /* code of the rule that set the shoe, as in program.json; static;
                                   NULL for a tie-back */
    bool shoe_pinned;           /* by the well file */
    double hole_m, bit_m;       /* hole, and the bit when it is opened */
    double od_m, largest_od_m;  /* pipe, and its couplings */
    double mud_kgm3;            /* of the hole drilled for it; NAN for a conductor */
    double min_fracture_kgm3;   /* least that the hole bears; NAN for a conductor */
    double kick_tolerance_m3;   /* of that hole, at the bottom; NAN: not reckoned */
    double surface_pressure_pa; /* anticipated at the wellhead below this string; NAN: none */
    double pressure_class_psi;  /* that bears it; 0: none needed (a diverter); NAN */
    double cement_top_md_m, cement_top_tvd_m; /* NAN: not cemented */
    const char *cement_rule;                  /* code of the rule it was placed by; static */
    double steel_kg;                          /* nominal weight times length */
    double cost, days;                        /* cost 0 where the well has no prices */
    size_t sections;                          /* lengths of pipe, from the top down */
} dt_string_view;

/** A string of a program. DT_OK; DT_E_DOMAIN when there is no such string. */
DT_API dt_status dt_program_string_view(const dt_program *program, size_t index,
                                        dt_string_view *out);

/** What a design factor is a factor of. */
#define DT_CHECK_LIST(X)                                                                           \
    X(BURST, "burst")                                                                              \
    X(COLLAPSE, "collapse")                                                                        \
    X(TENSION, "tension")                                                                          \
    X(TRIAXIAL, "triaxial")

typedef enum dt_check {
#define DT_CHECK_ENUM(name, code) DT_CHECK_##name,
    DT_CHECK_LIST(DT_CHECK_ENUM)
#undef DT_CHECK_ENUM
        DT_CHECK_COUNT
} dt_check;

/** Code for program.json and people; static storage, "" for none. */
DT_API const char *dt_check_code(dt_check check);

/** The smallest of one check's factors over all load cases and depths of a section. */
typedef struct dt_factor_view {
    double factor; /* resistance over load; INFINITY when nothing loads it so; NAN: not looked at */
    double needed; /* the design factor it is held to */
    double at_md_m, at_tvd_m;
    const char *load; /* code of the load case, as in program.json; static; "" for none */
} dt_factor_view;

/** One length of one pipe. */
typedef struct dt_section_view {
    double top_md_m, base_md_m;
    dt_pipe_view pipe;
    dt_thread thread;
    dt_factor_view checks[DT_CHECK_COUNT];
    bool holds; /* false where a pin keeps pipe that a load case fails */
} dt_section_view;

/** A section of a string, from the top down. DT_OK; DT_E_DOMAIN when there is no such section. */
DT_API dt_status dt_program_section_view(const dt_program *program, size_t index, size_t section,
                                         dt_section_view *out);

/** The whole program in figures. */
typedef struct dt_totals {
    size_t strings;               /* tie-backs counted */
    double shoe_md_m, shoe_tvd_m; /* of the last one drilled */
    double last_od_m;             /* pipe at the objective */
    double steel_kg, cost, days;  /* cost 0 where the well has no prices */
    size_t notices;
} dt_totals;

/** The totals of a program. */
DT_API void dt_program_totals(const dt_program *program, dt_totals *out);

/* ---- notices ----------------------------------------------------------------------------------
 */

/** Something the reader of a program must know, as facts. draw.h makes a text of it. */
typedef struct dt_notice dt_notice;

/** STOPPER: it cannot be done so. REVIEW: look at it. ASSUMED: taken where nothing was stated. */
typedef enum dt_gravity { DT_STOPPER, DT_REVIEW, DT_ASSUMED } dt_gravity;

/** One number of a notice. */
typedef struct dt_figure {
    const char *name; /* static */
    dt_kind kind;     /* of the SI value; DT_KIND_COUNT: a plain number */
    double value;
} dt_figure;

/** A notice shown; texts are static, the figures belong to the notice. */
typedef struct dt_notice_view {
    const char *code; /* stable, as in program.json */
    dt_gravity gravity;
    size_t string; /* index of the string it is about; DT_NO_INDEX: the whole well */
    int line;      /* of the well file; 0: none */
    const dt_figure *figures;
    size_t figure_count;
    size_t reasons; /* notices below it */
} dt_notice_view;

/** A notice of a program, index below dt_totals.notices, owned by it; NULL when there is none. */
DT_API const dt_notice *dt_program_notice(const dt_program *program, size_t index);

/** What a refusal says, owned by it; NULL: nothing. */
DT_API const dt_notice *dt_refusal_notice(const dt_refusal *refusal);

/** The facts of a notice. */
DT_API void dt_notice_show(const dt_notice *notice, dt_notice_view *out);

/** A reason below a notice, owned by it; NULL when there is none of that index. */
DT_API const dt_notice *dt_notice_reason(const dt_notice *notice, size_t index);

#ifdef __cplusplus
}
#endif

#endif
