/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_SELFCHECK_CLAIMS_H
#define DRAWTUBE_SELFCHECK_CLAIMS_H

#include "program.h"

/*
 * What a finished program says, copied out flat: numbers and names, no pointers into the
 * planner. The checker sees the well and this and nothing else, and a mutation is one
 * assignment.
 */

enum {
    CLAIM_STRINGS = 24,
    CLAIM_SECTIONS = 16,
    CLAIM_PARTS = 16,
    CLAIM_STOPPERS = 96,
    CLAIM_LIMITS = 64
};

typedef struct claimed_pipe {
    double od_m, weight_kgm, wall_m, drift_m, special_drift_m, coupling_od_m;
    char grade[16];
    dt_thread thread;
} claimed_pipe;

typedef struct claimed_section {
    double top_md_m, base_md_m;
    claimed_pipe pipe;
    dt_factor by_check[DT_CHECK_COUNT];
    bool cheaper; /* a cheaper pipe is named that fails here */
    claimed_pipe cheaper_pipe;
    dt_factor cheaper_factor;
    dt_load cheaper_load;
    dt_check cheaper_check;
} claimed_section;

typedef struct claimed_part {
    char slurry[64];
    double top_md_m, excess, volume_m3, sacks, water_m3;
    dt_excess_on excess_on;
} claimed_part;

typedef struct claimed_cement {
    bool cemented, refused;
    dt_cement_rule rule;
    double top_md_m, top_tvd_m, collar_md_m;
    claimed_part parts[CLAIM_PARTS];
    size_t part_count;
    double mud_kgm3, spacer_kgm3, displacement_kgm3;
    double spacer_m3, slurry_m3, displacement_m3, sacks, cement_kg, strokes;
    double lift_pa, bump_pa, test_pa, wait_s, job_s;
    double shoe_static_kgm3, shoe_kgm3, tight_spare_pa, lift_off_n;
    unsigned repairs; /* bits of dt_cement_repair */
    bool staged;      /* a stage tool is proposed, */
    bool waived;      /* with which the rock withstands the job */
    double mix_m3s, displace_m3s;
} claimed_cement;

typedef struct claimed_string {
    dt_seat seat; /* shoe, range, mud, pin */
    double top_md_m, top_tvd_m, shoe_md_m, shoe_tvd_m;
    double hole_m, bit_m, od_m, largest_od_m, need_drift_m;
    bool opened, pin_fails;
    claimed_section sections[CLAIM_SECTIONS];
    size_t section_count;
    double surface_pressure_pa, steel_kg;
    claimed_cement cement;
    double floated_md_m;
    double hookload_filled_n, hookload_floated_n, hookload_up_n, hookload_down_n;
    size_t joints;
    bool thinned;       /* mud, before it is run */
    double run_joint_s; /* in which a joint is let down */
    double surge_pa, surge_spare_pa, joint_s, overpull_pipe_n, overpull_rig_n;
    bool kick_known;
    dt_kick_result kick;
    dt_bill bill;
    dt_head_stage head;
    size_t hanger; /* row of the well's list, or DT_NO_INDEX */
    dt_hung hung;
    dt_lap_test lap_test; /* of a liner; pressure NAN: none */
} claimed_string;

/** What stops a program, and which string. DT_NO_STRING: the whole of it. */
typedef struct claimed_stopper {
    dt_notice_code code;
    size_t string;
} claimed_stopper;

/** How the first draft was changed until one closed. */
enum {
    CHANGED_SHOE = 1,
    CHANGED_SIZE = 2,
    CHANGED_LINER = 4,
    CHANGED_STRINGS = 8,
};

/** How drafts after drafts ended. */
typedef struct claimed_end {
    bool open;        /* none closes */
    bool ended;       /* and there were more to try */
    unsigned changed; /* 0: the first closed, or none does */
    dt_notice_code
        first; /* what stopped the first draft; DT_NOTICE_COUNT: nothing, or it is not said */
} claimed_end;

typedef enum outcome {
    OUTCOME_PROGRAM,
    OUTCOME_NO_SEATS,
    OUTCOME_NO_NEST,
    OUTCOME_NO_STRENGTH,
    OUTCOME_NO_LADDER, /* where sizes and seats are settled together: none of them, whatever why */
    OUTCOME_REFUSED,   /* by the reader, or a pin the catalogue does not have */
    OUTCOME_COUNT
} outcome;

typedef struct claims {
    outcome outcome;
    claimed_string strings[CLAIM_STRINGS];
    size_t count; /* of strings; where seats were found and nothing else, only seats are set */
    size_t tieback_count;        /* behind them */
    size_t order[CLAIM_STRINGS]; /* index of each string, as they are run */
    dt_broken_pin broken[CLAIM_STRINGS];
    size_t broken_count;
    dt_open_end open;            /* the last hole, where it stays open */
    dt_ladder_latitude latitude; /* of the ladder, where sizes and seats are settled together */
    bool spread;                 /* its seats are spread over the well */
    unsigned full;               /* bit (1u << string): run to the surface for the string above */
    unsigned liners;             /* the same: a liner, since as a full string it could not be run */
    bool together;               /* sizes and seats were settled together */
    claimed_stopper stoppers[CLAIM_STOPPERS];
    size_t stopper_count;
    dt_job_limit
        limits[CLAIM_LIMITS]; /* shoes that stand deeper, since jobs under higher ones fail */
    size_t limit_count;
    double tail_floor_m; /* the tail of its cement asks for the surface shoe here or deeper; 0 */
    claimed_end end;
    double lap_m;
    double steel_kg;
    dt_bill bill;
    dt_landing landing[2];
    size_t landing_count;
    /* OUTCOME_NO_STRENGTH: the pipe that came nearest */
    size_t short_string;
    bool short_known, short_by_hanger;
    claimed_pipe short_pipe;
    dt_factor short_factor;
    dt_load short_load;
    dt_check short_check;
} claims;

/** A well with every string of a program pinned: shoe, hole, size, type, tie-backs; of the pipe
 * what the well itself pins. The well borrows what the first one has. */
typedef struct pinned_well {
    dt_well well;
    dt_pin pins[CLAIM_STRINGS];
} pinned_well;

/** Pins a program, but for the shoe of one string, which stands elsewhere. */
void claims_pin(const dt_well *well, const claims *said, size_t moved, double shoe_m,
                pinned_well *out);

/** Plans a well and copies what the program says. DT_OK (any outcome) or DT_E_MEMORY. */
dt_status claims_take(const dt_well *well, const dt_catalogue *catalogue, claims *out);

#endif
