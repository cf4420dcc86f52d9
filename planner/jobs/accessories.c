/* SPDX-License-Identifier: MIT */
#include "accessories.h"

#include <math.h>
#include <stdlib.h>

#include "same.h"
#include "units.h"

/** Kinds of string that take different things. */
enum {
    DRIVEN = 1u << 0,
    DRILLED = 1u << 1,
    SURFACE = 1u << 2,
    INTERMEDIATE = 1u << 3,
    PRODUCTION = 1u << 4,
    LINER = 1u << 5,
    TIEBACK = 1u << 6,
    SLOTTED = 1u << 7,
    FULL = SURFACE | INTERMEDIATE | PRODUCTION
};

typedef enum place { AT_SHOE, AT_COLLAR, ABOVE_COLLAR, AT_TOP, NOWHERE } place;

/** Who takes what, from the shoe up: common practice, with Devereux 1998, p. 94. */
typedef struct row {
    unsigned who;
    const char *name, *note;
    place at;
} row;

static const row rows[] = {
    {DRIVEN, "drive shoe", NULL, AT_SHOE},
    {DRILLED, "guide shoe", NULL, AT_SHOE},
    {FULL, "float shoe", NULL, AT_SHOE},
    {LINER, "float shoe", "double valve", AT_SHOE},
    {FULL | LINER, "float collar", NULL, AT_COLLAR},
    {LINER, "landing collar", "on the float collar", ABOVE_COLLAR},
    {FULL, "bottom plug", "hollow, bursts on the collar", NOWHERE},
    {FULL, "top plug", "solid", NOWHERE},
    {LINER, "drill-pipe dart", NULL, NOWHERE},
    {LINER, "liner wiper plug", NULL, NOWHERE},
    {LINER | SLOTTED, "liner hanger and setting tool", NULL, AT_TOP},
    {SLOTTED, "guide shoe", "with holes", AT_SHOE},
    {LINER, "liner-top packer", "optional", AT_TOP},
    {DRIVEN | DRILLED, "landing ring or base plate", "welded", AT_TOP},
    {FULL | TIEBACK, "casing hanger", "slips or mandrel", AT_TOP},
    {TIEBACK, "tie-back seal stem with its seals", "spaced out in the receptacle", AT_SHOE},
    {TIEBACK, "tie-back receptacle", "run with the liner's hanger", AT_SHOE},
};

enum { ROWS = COUNT_OF(rows), MORE_ROWS = 8 };

static unsigned kind_of(const dt_stages *stages, size_t string)
{
    const dt_seat *seat = &stages->seats->items[string];
    if (stages->strings->items[string].load.slotted) return SLOTTED;
    if (seat->type == DT_LINER) return LINER;
    if (seat->type == DT_TIEBACK) return TIEBACK;
    switch (seat->role) {
    case DT_SURFACE:
        return SURFACE;
    case DT_INTERMEDIATE:
        return INTERMEDIATE;
    case DT_PRODUCTION:
        return PRODUCTION;
    case DT_CONDUCTOR:
    case DT_ROLE_COUNT:
        break;
    }
    return stages->well->conductor.method == DT_CONDUCTOR_DRILLED ? DRILLED : DRIVEN;
}

static void add(dt_accessories *out, const char *name, const char *note, size_t count, double md_m)
{
    if (count > 0) out->items[out->count++] = (dt_accessory){name, note, count, md_m};
}

static void add_rows(const dt_stages *stages, size_t string, const dt_cement *cement,
                     dt_accessories *out)
{
    const dt_string_load *load = &stages->strings->items[string].load;
    double collar = cement->cemented ? cement->collar_md_m : NAN;
    const double at[] = {[AT_SHOE] = load->shoe_md_m,
                         [AT_COLLAR] = collar,
                         [ABOVE_COLLAR] = collar,
                         [AT_TOP] = load->top_md_m,
                         [NOWHERE] = NAN};
    unsigned kind = kind_of(stages, string);
    const bool no_collar = cement->cemented && !(collar < load->shoe_md_m);
    for (size_t i = 0; i < ROWS; ++i)
        if (rows[i].who & kind && !(no_collar && rows[i].at == AT_COLLAR))
            add(out, rows[i].name, rows[i].note, 1, at[rows[i].at]);
}

static void add_counted(const dt_cement *cement, const dt_running *running,
                        const dt_centralizing *c, dt_accessories *out)
{
    const dt_stage_tool *tool = &cement->stage;
    if (cement->cemented && tool->proposed) {
        add(out, "stage tool with its plugs",
            tool->in_casing ? "inside the old casing" : "in hard gauge rock", 1, tool->md_m);
        add(out, "cement basket", "below the stage tool", 1, tool->md_m);
    }
    add(out, "bow centralizers", NULL, c->bows, NAN);
    add(out, "rigid centralizers", NULL, c->rigids, NAN);
    add(out, "stop collars", "one a centralizer, where not over a coupling", c->bows + c->rigids,
        NAN);
    add(out, "scratchers", c->movement == DT_MOVE_ROTATE ? "rotating type" : "reciprocating type",
        c->scratchers, NAN);
    if (!running->driven)
        add(out, "thread lock, joints", "shoe track", running->track_joint_count, NAN);
}

void dt_round_thread_torque(double joint_n, double *optimum_nm, double *least_nm, double *most_nm)
{
    const double ft_lbf = DT_N_PER_LBF * DT_M_PER_FT;
    double optimum = 0.01 * joint_n / DT_N_PER_LBF; /* ft-lbf, a hundredth of the pounds */
    *optimum_nm = 10 * dt_nearest(optimum / 10) * ft_lbf;
    *least_nm = 10 * dt_nearest(0.75 * optimum / 10) * ft_lbf;
    *most_nm = 10 * dt_nearest(1.25 * optimum / 10) * ft_lbf;
}

static void set_torque(const dt_stages *stages, const dt_section *section, dt_torque *torque)
{
    double joint = NAN;
    bool is_round = section->thread == DT_STC || section->thread == DT_LTC;
    torque->optimum_nm = torque->least_nm = torque->most_nm = NAN;
    if (is_round &&
        dt_joint_strength(stages->catalogue, section->pipe, section->thread, &joint) == DT_OK)
        dt_round_thread_torque(joint, &torque->optimum_nm, &torque->least_nm, &torque->most_nm);
}

dt_status dt_accessories_plan(const dt_stages *stages, size_t string, const dt_cement *cement,
                              const dt_running *running, const dt_centralizing *centralizing,
                              dt_accessories *out)
{
    const dt_string *own = &stages->strings->items[string];
    *out = (dt_accessories){0};
    out->items = calloc(ROWS + MORE_ROWS, sizeof *out->items);
    out->torques = calloc(own->section_count, sizeof *out->torques);
    if (!out->items || !out->torques) {
        dt_accessories_free(out);
        return DT_E_MEMORY;
    }
    add_rows(stages, string, cement, out);
    add_counted(cement, running, centralizing, out);
    out->torque_count = own->section_count;
    for (size_t i = 0; i < own->section_count; ++i) {
        out->torques[i].section = i;
        set_torque(stages, &own->sections[i], &out->torques[i]);
    }
    return DT_OK;
}

void dt_accessories_free(dt_accessories *accessories)
{
    if (!accessories) return;
    free(accessories->items);
    free(accessories->torques);
    *accessories = (dt_accessories){0};
}
