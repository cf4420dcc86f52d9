/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_STRING_DESIGN_H
#define DRAWTUBE_PLANNER_STRING_DESIGN_H

#include "hold.h"
#include "hung.h"
#include "liner_hangers.h"

/* One string in one size: the pipes that may be used, what each may carry at each depth, and the
 * cheapest string of them for a bit that has to pass. Used by strings.c, for one path at a time. */

/** Everything a design stands on; borrowed. */
typedef struct dt_design_site {
    const dt_window *window;
    const dt_seats *seats;
    const dt_nest *nest;
    const dt_catalogue *catalogue;
    const dt_trajectory *trajectory;
    const dt_design_in_force *design;
    const dt_pipe_price *price;
    dt_designed *designed; /* NULL: strings are not kept */
} dt_design_site;

typedef struct dt_string_design dt_string_design;

/** What hangs where: bounds of hangers on one string. */
typedef struct dt_hanging {
    const dt_hanger *own;   /* bears this string; NULL: none is asked for */
    const dt_hanger *guest; /* set in this string, so that its pipe there must suit; NULL: none */
    double guest_md_m;
} dt_hanging;

/** A string that holds, or that is pinned. */
typedef struct dt_design_choice {
    double price;
    bool pinned_pipe_fails;
    size_t section_count; /* from the shoe up, as the solver gives them */
    struct {
        size_t pipe, base_node, top_node;
    } sections[16];
} dt_design_choice;

/** Lists the pipes of a size. DT_OK, also when there are none; DT_E_MEMORY. */
dt_status dt_string_design_make(const dt_design_site *site, const dt_string_load *load,
                                const dt_nest_pipe *size, dt_string_design **out);
void dt_string_design_free(dt_string_design *design);

/** No string that lets drift_m through is cheaper; INFINITY when there is no such pipe. Quick. */
double dt_string_design_floor(const dt_string_design *design, double drift_m);

/** The cheapest string whose pipes all let drift_m through. DT_E_NONE when none holds. */
dt_status dt_string_design_choose(dt_string_design *design, double drift_m,
                                  const dt_hanging *hanging, dt_design_choice *out);

/** The choice as sections, top down, each with its factors; *sections is malloc'ed. */
dt_status dt_string_design_report(dt_string_design *design, const dt_design_choice *choice,
                                  double drift_m, dt_section **sections);

/** The loads it was made for, fitted to the size. */
const dt_string_load *dt_string_design_load(const dt_string_design *design);

/**
 * Most pressure of gas that stands on a string, Pa: at its top, of a kick it is designed for, over
 * the sea outside it, and of the finished well's leak, which lasts for years and counts whole. A
 * circulated influx counts as far as dt_string_load_fit() settled it. NAN where the string holds
 * none, so that it asks for no gas seal.
 */
double dt_string_load_gas(const dt_string_load *load);

/**
 * Does that gas ask for a gas-tight connection? In a sour well any gas does that may come of a pay;
 * where the well states no pay, of any rock.
 */
bool dt_string_load_asks_seal(const dt_string_load *load);

/** May this pipe and thread be used in this string: pins, welds, sour service? */
bool dt_string_pipe_usable(const dt_design_site *site, size_t string, const dt_pipe *pipe,
                           dt_thread thread);

#endif
