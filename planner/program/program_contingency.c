/* SPDX-License-Identifier: MIT */
/* What a program costs with a string carried for the hole that may fail: over the drawn wells
 * (docs/costing.md). */
#include <math.h>
#include <stdlib.h>

#include "program_parts.h"
#include "section.h"

typedef dt_carried contingency;

/** The only hole that fails in a drawn well; 0: none does; DT_NO_INDEX: several, or a shoe stands
 * where none may. */
static size_t failing_hole(const contingency *c, const dt_window *window)
{
    size_t failing = 0;
    for (size_t k = 1; k < c->holes.count; ++k) {
        dt_rule rule;
        if (!dt_shoe_stands(window, &c->holes, k, c->shoes_m[k], &rule)) return DT_NO_INDEX;
        if (dt_section_holds(window, &c->holes.rules[k], c->shoes_m[k - 1], c->shoes_m[k]))
            continue;
        if (failing > 0) return DT_NO_INDEX;
        failing = k;
    }
    return failing;
}

/** How deep a hole that fails can be taken, so that one more shoe there mends it; NAN: it does not.
 */
static double mending_shoe(const contingency *c, const dt_window *window, size_t string)
{
    const double above_m = c->shoes_m[string - 1], below_m = c->shoes_m[string];
    const dt_hole_rules *rules = &c->holes.rules[string];
    double low_m = dt_seats_shallowest(window, rules, above_m, below_m);
    double high_m = dt_seats_deepest(window, rules, above_m, below_m);
    if (string == 1) {
        low_m = fmax(low_m, c->holes.surface_least_m);
        high_m = fmin(high_m, c->holes.surface_most_m);
    }
    if (!(low_m <= high_m)) return NAN;
    low_m = dt_seats_out_of_avoided(window, low_m);
    if (!(low_m <= high_m)) return NAN;
    return dt_shoe_allowed(window, high_m, NULL) ? high_m : low_m;
}

/** The part of a bill that hole and place decide. */
static dt_bill bill_between(const dt_program *p, size_t string, const dt_spare *extra, double top_m,
                            double shoe_m)
{
    const dt_program_string *item = &p->items[string];
    const dt_string_type type = extra ? DT_LINER : item->seat->type;
    const double hung_m = extra ? fmax(top_m - p->lap_m, 0) : item->top_tvd_m;
    const double cement_m =
        dt_bill_cement_top(p->well, item->seat->role, type, top_m, hung_m, shoe_m);
    const dt_billed_string s = {.index = string,
                                .last =
                                    !extra && string + 1 == p->seats.count && !p->seats.open.given,
                                .type = type,
                                .hole_top_md_m = dt_trajectory_md(&p->trajectory, top_m),
                                .shoe_md_m = dt_trajectory_md(&p->trajectory, shoe_m),
                                .top_md_m = dt_trajectory_md(&p->trajectory, hung_m),
                                .cement_top_md_m = dt_trajectory_md(&p->trajectory, cement_m),
                                .hole_m = extra ? extra->hole_m : item->hole_m,
                                .bit_m = extra ? extra->hole_m : item->bit_m,
                                .od_m = extra ? extra->od_m : item->od_m};
    dt_bill bill;
    dt_bill_hole(p->well, &p->times, &s, &bill);
    if (extra) {
        const dt_string *own = item->string;
        const dt_section *deepest = &own->sections[own->section_count - 1];
        const dt_billed_pipe pipe = {extra->pipe, deepest->thread, s.shoe_md_m - s.top_md_m};
        dt_bill_add_pipe_at(p->well, &pipe, dt_price_of_grade(p->well, deepest->pipe->grade->name),
                            dt_price_of_thread(p->well, deepest->pipe, deepest->thread), &bill);
    }
    dt_bill_sum(&bill);
    return bill;
}

double dt_contingency_price(const dt_program *p, size_t string, const dt_trigger *trigger,
                            double shoe_m)
{
    const dt_program_string *item = &p->items[string];
    const dt_string *own = item->string;
    const double above_m = item[-1].shoe_tvd_m;
    dt_spare extra = trigger->spare;
    if (trigger->left == DT_LEFT_EARLY)
        extra = (dt_spare){item->od_m, item->hole_m, own->sections[own->section_count - 1].pipe};
    return bill_between(p, string, &extra, above_m, shoe_m).total +
           bill_between(p, string, NULL, shoe_m, item->shoe_tvd_m).total -
           bill_between(p, string, NULL, above_m, item->shoe_tvd_m).total;
}

static int by_value(const void *left, const void *right)
{
    const double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

void dt_costs_summed(double *costs, size_t count, dt_cost_spread *out)
{
    const double want[3] = {0.1, 0.5, 0.9};
    double sum = 0, squares = 0;
    *out = (dt_cost_spread){NAN, NAN, {NAN, NAN, NAN}};
    if (count == 0) return;
    qsort(costs, count, sizeof *costs, by_value);
    for (size_t i = 0; i < count; ++i)
        sum += costs[i];
    out->expected = sum / (double)count;
    for (size_t i = 0; i < count; ++i)
        squares += (costs[i] - out->expected) * (costs[i] - out->expected);
    out->error = count > 1 ? sqrt(squares / (double)(count - 1) / (double)count) : NAN;
    for (int q = 0; q < 3; ++q) {
        const size_t at = (size_t)ceil(want[q] * (double)count - 1e-9);
        out->tenths[q] = costs[at > 0 ? at - 1 : 0];
    }
}

/** Sizes as planned: what each hole must keep, and what is left to run where it fails. */
static void contingency_begin(const dt_program *p, contingency *c)
{
    const size_t shoes = p->seats.count + p->seats.open.given;
    *c = (contingency){.cased = p->seats.count};
    dt_odds_holes_of_seats(p->well, &p->seats, &c->holes);
    for (size_t k = 0; k < shoes; ++k)
        c->shoes_m[k] = k < p->seats.count ? p->seats.items[k].shoe_m : p->seats.open.base_m;
}

dt_fate dt_carried_in(const dt_program *p, const dt_carried *c, const dt_window *window,
                      dt_drawn_cost *out)
{
    const size_t k = failing_hole(c, window);
    *out = (dt_drawn_cost){.cost = p->bill.total};
    if (k == DT_NO_INDEX || k >= c->cased) return DT_FATE_LOST;
    if (k == 0) return DT_FATE_HOLDS;
    const double shoe_m = mending_shoe(c, window, k);
    if (c->triggers[k].left == DT_LEFT_NONE || isnan(shoe_m)) return DT_FATE_LOST;
    out->cost += dt_contingency_price(p, k, &c->triggers[k], shoe_m);
    out->slim = c->triggers[k].slim;
    return DT_FATE_MENDED;
}

dt_status dt_program_contingent(const dt_program *p, const dt_trials *trials, dt_contingent *out)
{
    contingency c;
    *out = (dt_contingent){.of = trials->count};
    double *costs = calloc(trials->count + 1, sizeof *costs);
    if (!costs) return DT_E_MEMORY;
    contingency_begin(p, &c);
    for (size_t k = 1; k < p->seats.count; ++k)
        c.triggers[k] = dt_program_trigger(p, k);
    size_t drilled = 0;
    for (size_t t = 0; t < trials->count; ++t) {
        dt_drawn_cost one;
        const dt_fate fate = dt_carried_in(p, &c, &trials->items[t].window, &one);
        if (fate == DT_FATE_LOST) continue;
        out->held += fate == DT_FATE_HOLDS;
        out->set += fate == DT_FATE_MENDED;
        out->slim += one.slim;
        costs[drilled++] = one.cost;
    }
    dt_costs_summed(costs, p->well->prices_given ? drilled : 0, &out->cost);
    free(costs);
    return DT_OK;
}

/* ---- the same program with its shoes elsewhere ---- */

/** Pipe of the deepest section, so much longer: negative where it is shorter. */
static double pipe_price(const dt_program *p, size_t string, double longer_m)
{
    const dt_string *own = p->items[string].string;
    const dt_section *deepest = &own->sections[own->section_count - 1];
    const dt_billed_pipe pipe = {deepest->pipe, deepest->thread, fabs(longer_m)};
    dt_bill bill = {0};
    dt_bill_add_pipe(p->well, &pipe, &bill);
    dt_bill_sum(&bill);
    return longer_m < 0 ? -bill.total : bill.total;
}

static double open_hole_price(const dt_program *p, double top_m)
{
    const dt_open_end *open = &p->seats.open;
    dt_bill bill = {0};
    if (!open->given) return 0;
    dt_bill_open_hole(p->well, &p->times, dt_trajectory_md(&p->trajectory, top_m),
                      dt_trajectory_md(&p->trajectory, open->base_m), open->hole_m, &bill);
    dt_bill_sum(&bill);
    return bill.total;
}

static void move_item(dt_program *p, size_t string, double shoe_m)
{
    dt_program_string *item = &p->items[string];
    item->shoe_tvd_m = shoe_m;
    item->shoe_md_m = dt_trajectory_md(&p->trajectory, shoe_m);
    if (string == 0 || item->seat->type != DT_LINER) return;
    item->top_md_m = fmax(item[-1].shoe_md_m - p->lap_m, 0);
    item->top_tvd_m = dt_trajectory_deepest(&p->trajectory, item->top_md_m);
}

static double hole_price(const dt_program *p, size_t string)
{
    const double top_m = string > 0 ? p->items[string - 1].shoe_tvd_m : dt_well_ground_m(p->well);
    return bill_between(p, string, NULL, top_m, p->items[string].shoe_tvd_m).total;
}

dt_status dt_moved_begin(const dt_program *p, const double *shoes_m, dt_moved *out)
{
    const size_t strings = p->seats.count + p->seats.tieback_count;
    dt_moved m = {.program = *p, .items = malloc(strings * sizeof *m.items)};
    if (!m.items) return DT_E_MEMORY;
    for (size_t k = 0; k < strings; ++k)
        m.items[k] = p->items[k];
    m.program.items = m.items;
    contingency_begin(p, &m.carried);
    double more = 0;
    for (size_t k = 0; k < p->seats.count; ++k) {
        m.carried.shoes_m[k] = shoes_m[k];
        move_item(&m.program, k, shoes_m[k]);
        if (k > 0) dt_program_left(p, k, &m.carried.triggers[k]);
        const dt_program_string *is = &m.items[k], *was = &p->items[k];
        const double longer_m = is->shoe_md_m - is->top_md_m - (was->shoe_md_m - was->top_md_m);
        more += hole_price(&m.program, k) - hole_price(p, k) + pipe_price(p, k, longer_m);
    }
    const size_t last = p->seats.count - 1;
    more += open_hole_price(p, shoes_m[last]) - open_hole_price(p, p->seats.items[last].shoe_m);
    m.program.bill.total += more;
    *out = m;
    return DT_OK;
}

void dt_moved_free(dt_moved *moved)
{
    free(moved->items);
    *moved = (dt_moved){0};
}
