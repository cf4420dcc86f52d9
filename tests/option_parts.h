/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_OPTION_PARTS_H
#define DRAWTUBE_TESTS_OPTION_PARTS_H

#include <stdlib.h>

#include "basis.h"
#include "options.h"
#include "pipe_rules.h"
#include "well_in_code.h"

/* The parts of programs, laid out once more without the search: candidate shoes, sections,
 * pipes and holes of each string, and what each holds by halving the pressure. Used by a slow
 * search that assumes nothing and by a formulation for a general solver. */

#define PART_IN         DT_M_PER_IN
#define PART_SAME       (0.0005 * PART_IN)
#define MOST_PART_SITES 48

typedef struct part_pipe {
    const dt_pipe *pipe;
    dt_thread thread;
} part_pipe;

typedef struct parts {
    const dt_well *well;
    const dt_catalogue *catalogue;
    dt_window window;
    dt_trajectory trajectory;
    dt_seats seats;
    dt_design_in_force design;
    dt_times_in_force times;
    double lap_m;
    double site[MOST_PART_SITES]; /* conductor's shoe, candidates, objective */
    size_t site_count;
    size_t fewest, least; /* strings of the plan; strings from which programs are tried */
    /* where rules of holes depend on sizes: the plan's own program, and how far it goes */
    dt_program *planned;
    bool by_size, lengths, pairs_only;
    dt_tier tier; /* of what holes must bear: the plan's */
} parts;

static inline int part_by_depth(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/** Seats of the plan: candidates. */
static inline void parts_plan(parts *p)
{
    dt_refusal refusal = {0};
    p->by_size = dt_hole_rules_by_size(p->well);
    if (!p->by_size) {
        assert_int_equal(dt_seats_choose(&p->window, &p->seats), DT_OK);
        p->fewest = p->least = p->seats.count;
        return;
    }
    assert_int_equal(dt_program_plan(p->well, p->catalogue, &p->planned, &refusal), DT_OK);
    p->fewest = p->planned->seats.count;
    p->least = 2;
    p->lengths = p->planned->ladder.latitude == DT_LADDER_PREFERRED;
    p->pairs_only = p->well->sizes.series && p->planned->ladder.latitude != DT_LADDER_ANY;
    p->tier = DT_TIER_WANTED;
    const size_t holes = p->planned->count + (p->well->last_open ? 1 : 0);
    for (size_t k = 1; k < holes; ++k)
        if (p->planned->ladder.rungs[k].rules.tier == DT_TIER_LEAST) p->tier = DT_TIER_LEAST;
}

/** Candidate depths as docs/options.md lists them; steps of `step_m`. */
static inline void parts_open(parts *p, const dt_well *well, const dt_catalogue *catalogue,
                              double step_m)
{
    *p = (parts){.well = well, .catalogue = catalogue, .lap_m = well->seats.lap_m};
    assert_int_equal(dt_trajectory_build(NULL, 0, &p->trajectory), DT_OK);
    assert_int_equal(dt_window_build(well, &p->window), DT_OK);
    parts_plan(p);
    dt_design_settle(well, &p->design);
    dt_times_settle(well, &p->times);
    const dt_seats *seats = p->planned ? &p->planned->seats : &p->seats;
    double all[256];
    size_t count = 0;
    /* multiples, not sums: half a minute rounds by the last bit of a depth */
    for (int i = 1; i * step_m < well->objective_m; ++i)
        all[count++] = i * step_m;
    for (size_t i = 0; i < p->window.break_count; ++i)
        all[count++] = p->window.breaks[i];
    for (size_t i = 0; i < seats->count; ++i) {
        all[count++] = seats->items[i].shallowest_m;
        all[count++] = seats->items[i].deepest_m;
        all[count++] = seats->items[i].shoe_m;
    }
    for (size_t i = 0; i < p->window.bad_count; ++i) {
        all[count++] = p->window.bad[i].top_m;
        all[count++] = p->window.bad[i].base_m;
    }
    assert_true(count < 256);
    qsort(all, count, sizeof *all, part_by_depth);
    p->site[p->site_count++] = seats->items[0].shoe_m;
    for (size_t i = 0; i < count; ++i) {
        if (all[i] < p->site[0] + 1 || all[i] > well->objective_m - 1) continue;
        if (all[i] < p->site[p->site_count - 1] + 1e-6) continue;
        assert_true(p->site_count + 2 < MOST_PART_SITES);
        p->site[p->site_count++] = all[i];
    }
    p->site[p->site_count++] = well->objective_m;
}

static inline void parts_close(parts *p)
{
    dt_program_free(p->planned);
    dt_seats_free(&p->seats);
    dt_window_free(&p->window);
    dt_trajectory_free(&p->trajectory);
}

/** May the hole of a string (0 is the conductor) be drilled with a size? Each pair of depths is
 * asked by itself, each size too. NAN: whatever the size. */
static inline bool part_hole_drilled(const parts *p, size_t string, size_t top, size_t base,
                                     double hole_m)
{
    dt_hole_rules rules;
    dt_section_check check;
    dt_hole_rules_for(p->well, hole_m, string == 1 && !p->well->conductor.bop, p->tier, p->lengths,
                      &rules);
    dt_section_test(&p->window, &rules, p->site[top], p->site[base], true, &check);
    return check.ok;
}

static inline bool part_drilled(const parts *p, size_t top, size_t base)
{
    return part_hole_drilled(p, top == 0 ? 1 : 2, top, base, NAN);
}

/** Is a hole with a pipe one of the pairs of the basis? */
static inline bool part_listed(const parts *p, double hole_m, double od_m)
{
    size_t count;
    const dt_pair_custom *pairs = dt_custom_rows(p->well, DT_TABLE_PAIRS, &count);
    for (size_t i = 0; i < count; ++i)
        if (fabs(pairs[i].hole_m - hole_m) < PART_SAME && fabs(pairs[i].od_m - od_m) < PART_SAME)
            return true;
    return false;
}

/** The same, or may it be any? */
static inline bool part_paired(const parts *p, double hole_m, double od_m)
{
    return !p->pairs_only || part_listed(p, hole_m, od_m);
}

/** Seats of shoes at these sites, with their muds; DT_TIEBACK is a liner that is tied back. Returns
 * the tie-backs, which stand behind the seats. */
static inline size_t part_seats(const parts *p, const size_t *sites, const dt_string_type *types,
                                size_t count, dt_seat *out)
{
    size_t tiebacks = 0;
    for (size_t k = 0; k < count; ++k) {
        const bool ends = k + 1 == count && !p->well->last_open;
        out[k] = (dt_seat){.role = k == 0   ? DT_CONDUCTOR
                                   : ends   ? DT_PRODUCTION
                                   : k == 1 ? DT_SURFACE
                                            : DT_INTERMEDIATE,
                           .type = types[k],
                           .shoe_m = p->site[sites[k]],
                           .mud_kgm3 = NAN,
                           .pin = DT_NO_INDEX};
        if (k > 0)
            out[k].mud_kgm3 = dt_section_mud(&p->window, dt_hole_riserless(p->window.well, k - 1),
                                             p->site[sites[k - 1]], p->site[sites[k]], NULL, NULL);
        if (types[k] != DT_TIEBACK) continue;
        out[count + tiebacks] = out[k];
        out[count + tiebacks++].ties = k;
        out[k].type = DT_LINER;
        out[k].tied_back = true;
    }
    return tiebacks;
}

/** Pipes a string may be: only a conductor is welded. */
static inline size_t part_pipes(const parts *p, bool conductor, bool last, part_pipe *out)
{
    size_t count = 0;
    for (size_t i = 0; i < p->catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &p->catalogue->pipes[i];
        bool welded = pipe->threads == 1u << DT_PLAIN_END;
        if (welded && !conductor) continue;
        if (last && pipe->od_m < p->well->min_pipe_od_m - PART_SAME) continue;
        for (int t = 0; t < DT_THREAD_COUNT; ++t)
            if ((pipe->threads & (1u << t)) && (t != DT_PLAIN_END || welded) &&
                dt_pipe_rules_allow(p->well, conductor ? DT_CONDUCTOR : DT_PRODUCTION, NULL, pipe,
                                    (dt_thread)t))
                out[count++] = (part_pipe){pipe, (dt_thread)t};
    }
    return count;
}

/** What would hang on a liner's hanger: steel of 7850 kg/m3 in its mud, and the bump on its bore.
 */
static inline double part_hung(const dt_string_load *load, const dt_pipe *pipe)
{
    const double weight = pipe->weight_kgm * 9.80665 * (load->shoe_tvd_m - load->top_tvd_m);
    return weight * (1 - load->mud_kgm3 / 7850) +
           load->bump_pa * 3.14159265358979 / 4 * pipe->id_m * pipe->id_m;
}

static inline double part_largest(const dt_pipe *pipe)
{
    return isfinite(pipe->coupling_od_m) ? pipe->coupling_od_m : pipe->od_m;
}

/** Bits for a pipe: those for which no bit as common is smaller and wide enough. */
static inline size_t part_bits(const parts *p, const dt_pipe *pipe, double *out)
{
    double need = part_largest(pipe) + 2 * dt_nest_clearance(p->well, pipe->od_m);
    dt_bit_commonness best = DT_BIT_OPENER;
    bool any = false;
    size_t count = 0;
    for (size_t i = 0; i < p->catalogue->bit_count; ++i) {
        const dt_bit *bit = &p->catalogue->bits[i];
        if (bit->diameter_m < need - PART_SAME) continue;
        /* where holes and pipes come in pairs, each pair is another choice */
        const bool pair = p->well->sizes.series && part_listed(p, bit->diameter_m, pipe->od_m);
        if (any && bit->commonness >= best && !pair) continue;
        best = any && bit->commonness > best ? best : bit->commonness;
        any = true;
        out[count++] = bit->diameter_m;
    }
    return count;
}

/** Cents, 0.1 kg and minutes of one string. */
typedef struct part_sum {
    long long cents, steel, minutes;
} part_sum;

static inline part_sum part_bill(const parts *p, const dt_seat *seats, size_t k, size_t count,
                                 const part_pipe *pipe, double hole_m)
{
    const dt_seat *own = &seats[k];
    double above = k > 0 ? seats[k - 1].shoe_m : dt_well_ground_m(p->well);
    double top = k > 0 && own->type == DT_LINER ? fmax(above - p->lap_m, 0) : 0;
    dt_billed_string s = {.index = k,
                          .last = k + 1 == count && !p->well->last_open,
                          .type = own->type,
                          .hole_top_md_m = above,
                          .shoe_md_m = own->shoe_m,
                          .top_md_m = top,
                          .cement_top_md_m = dt_bill_cement_top(p->well, own->role, own->type,
                                                                above, top, own->shoe_m),
                          .hole_m = hole_m,
                          .bit_m = hole_m,
                          .od_m = pipe->pipe->od_m};
    dt_bill bill;
    dt_bill_hole(p->well, &p->times, &s, &bill);
    dt_bill_add_pipe(p->well, &(dt_billed_pipe){pipe->pipe, pipe->thread, own->shoe_m - top},
                     &bill);
    dt_bill_sum(&bill);
    return (part_sum){llround(bill.total * 100), llround(bill.steel_kg * 10),
                      llround(bill.days * 24 * 60)};
}

/** A tie-back from the top of the liner below this shoe to the wellhead. */
static inline part_sum part_tieback(const parts *p, double above_m, const part_pipe *pipe)
{
    const dt_billed_tieback t = {above_m - p->lap_m, pipe->pipe->od_m};
    dt_bill bill;
    dt_bill_tieback(p->well, &p->times, &t, &bill);
    dt_bill_add_pipe(p->well, &(dt_billed_pipe){pipe->pipe, pipe->thread, t.base_md_m}, &bill);
    dt_bill_sum(&bill);
    return (part_sum){llround(bill.total * 100), llround(bill.steel_kg * 10),
                      llround(bill.days * 24 * 60)};
}

/** No size of the series is skipped: the least hole below a size of pipe; 0 where any may be. */
static inline double part_least_hole(const parts *p, double od_m, double largest_m)
{
    double widest = 0;
    for (size_t k = 0; p->pairs_only && k < p->catalogue->pipe_count; ++k) {
        const dt_pipe *pipe = &p->catalogue->pipes[k];
        if (fabs(pipe->od_m - od_m) < PART_SAME && fabs(part_largest(pipe) - largest_m) < PART_SAME)
            widest = fmax(widest, pipe->drift_m);
    }
    return widest * dt_custom_value_of(p->well, DT_CUSTOM_SIZES_LEAST_STEP);
}

/** The hole that stays open below a size of pipe: the largest of the first pairs that comes through
 * half its weights or more; 0: none of them does. */
static inline double part_open_hole(const parts *p, double od_m, double largest_m)
{
    size_t pairs;
    const dt_pair_custom *rows = dt_custom_rows(p->well, DT_TABLE_PAIRS, &pairs);
    double best = 0;
    for (size_t i = 0; i < pairs; ++i) {
        int more = 0;
        double last_kgm = 0; /* one weight in several grades counts once */
        for (size_t k = 0; k < p->catalogue->pipe_count; ++k) {
            const dt_pipe *pipe = &p->catalogue->pipes[k];
            if (fabs(pipe->od_m - od_m) > PART_SAME ||
                fabs(part_largest(pipe) - largest_m) > PART_SAME)
                continue;
            if (fabs(pipe->weight_kgm - last_kgm) < 0.01) continue;
            last_kgm = pipe->weight_kgm;
            more += pipe->drift_m >= rows[i].hole_m - PART_SAME ? 1 : -1;
        }
        if (rows[i].order == 1 && more >= 0) best = fmax(best, rows[i].hole_m);
    }
    return best;
}

/** Cents and minutes of an open last hole below a site, from its lines. */
static inline part_sum part_open(const parts *p, size_t top, double hole_m)
{
    dt_bill bill;
    dt_bill_open_hole(p->well, &p->times, p->site[top], p->well->objective_m, hole_m, &bill);
    dt_bill_sum(&bill);
    return (part_sum){llround(bill.total * 100), 0, llround(bill.days * 24 * 60)};
}

/** Is this pipe of the other's size? A tie-back is of its liner's. */
static inline bool part_same_size(const part_pipe *a, const part_pipe *b)
{
    return fabs(a->pipe->od_m - b->pipe->od_m) < PART_SAME &&
           fabs(part_largest(a->pipe) - part_largest(b->pipe)) < PART_SAME;
}

/** Most strings that telescope between a drift and a bit, by trying all pipes. */
static inline unsigned part_spares(const parts *p, double drift_m, double bit_m)
{
    unsigned most = 0;
    for (size_t i = 0; i < p->catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &p->catalogue->pipes[i];
        double drift = dt_nest_drift(p->well, pipe);
        if (pipe->threads == 1u << DT_PLAIN_END || drift < bit_m - PART_SAME) continue;
        bool sold = false; /* with a thread that this well may have */
        for (int t = 0; t < DT_THREAD_COUNT; ++t)
            sold = sold || (t != DT_PLAIN_END && (pipe->threads & (1u << t)) &&
                            dt_pipe_rules_allow(p->well, DT_PRODUCTION, NULL, pipe, (dt_thread)t));
        if (!sold) continue;
        double need = part_largest(pipe) + 2 * dt_nest_clearance(p->well, pipe->od_m);
        bool fits = false;
        for (size_t b = 0; b < p->catalogue->bit_count; ++b)
            fits = fits || (p->catalogue->bits[b].diameter_m >= need - PART_SAME &&
                            p->catalogue->bits[b].diameter_m <= drift_m + PART_SAME);
        if (!fits || drift >= drift_m) continue;
        unsigned with = 1 + part_spares(p, drift, bit_m);
        if (with > most) most = with;
    }
    return most;
}

/* ---- invented wells and small catalogues ---- */

/** Rows of a stock list. */
static const char PART_STOCK[] = "od_in,weight_lbft,grade\n"
                                 "20,94,J55\n20,133,K55\n"
                                 "13.375,54.5,J55\n13.375,68,L80\n13.375,72,P110\n"
                                 "10.75,51,L80\n10.75,60.7,P110\n"
                                 "9.625,40,L80\n9.625,47,L80\n9.625,53.5,P110\n"
                                 "7,26,L80\n7,29,P110\n7,35,P110\n"
                                 "5,18,L80\n5,18,P110\n5,21.4,Q125\n";

/** Fewer yet. */
static const char SMALLER_STOCK[] = "od_in,weight_lbft,grade\n20,94,J55\n13.375,72,P110\n"
                                    "9.625,47,L80\n9.625,53.5,P110\n7,29,P110\n7,35,P110\n";

/** Light pipe that does for the upper part of a string and heavy pipe that its lower part needs. */
static const char TIEBACK_STOCK[] = "od_in,weight_lbft,grade\n20,94,J55\n13.375,72,P110\n"
                                    "9.625,53.5,P110\n7,23,L80\n7,29,P110\n"
                                    "5,15,L80\n5,21.4,Q125\n";

/** Hangers, heads and the rig cost next to nothing. */
static inline void part_cheap_hanging(dt_well *well)
{
    well->prices.rig_per_day = well->prices.services_per_day = 0;
    well->prices.hanger = well->prices.packer = well->prices.wellhead_stage = 500;
    well->prices.receptacle = 500;
}

static inline void part_prices(dt_well *well)
{
    static dt_grade_price pipes[5];
    static dt_thread_price threads[2];
    static dt_bit_price bits[2];
    static char j55[] = "J55", k55[] = "K55", l80[] = "L80", p110[] = "P110", btc[] = "BTC";
    pipes[0] = (dt_grade_price){j55, 1.35, 0};
    pipes[1] = (dt_grade_price){k55, 1.45, 0};
    pipes[2] = (dt_grade_price){l80, 1.90, 0};
    pipes[3] = (dt_grade_price){p110, 2.35, 0};
    pipes[4] = (dt_grade_price){NULL, 2.95, 0};
    threads[0] = (dt_thread_price){btc, 95, 0};
    threads[1] = (dt_thread_price){NULL, 60, 0};
    bits[0] = (dt_bit_price){12.25 * PART_IN, 14000, 0};
    bits[1] = (dt_bit_price){NAN, 30000, 0};
    well->prices_given = true;
    well->prices = (dt_prices){.rig_per_day = 45000,
                               .services_per_day = 12000,
                               .hanger = 85000,
                               .packer = 40000,
                               .receptacle = 25000,
                               .wellhead_stage = 38000,
                               .cement_per_kg = 0.29,
                               .pipes = pipes,
                               .pipe_count = 5,
                               .threads = threads,
                               .thread_count = 2,
                               .bits = bits,
                               .bit_count = 2};
}

/** Two invented wells: one whose pressures climb once, one whose climb twice. */
static inline void part_well(coded_well *c, int which)
{
    coded_start(c, 200, which ? 11000 : 9000);
    dt_well *w = &c->well;
    coded_pore(c, 0, 8.6);
    coded_pore(c, which ? 4000 : 5000, 9.0);
    coded_pore(c, 7000, which ? 11.5 : 11.0);
    coded_pore(c, which ? 11000 : 9000, which ? 14.0 : 12.0);
    coded_fracture(c, 0, 11.0);
    coded_fracture(c, 2000, 13.2);
    coded_fracture(c, 5000, 14.8);
    coded_fracture(c, which ? 11000 : 9000, 17.2);
    w->margins.trip.emw_kgm3 = 0.4 * PPG;
    w->margins.kick.emw_kgm3 = 0.5 * PPG;
    w->min_pipe_od_m = 5 * PART_IN;
    w->seats.lap_m = 300 * FT;
    w->seats.round_to_m = 1000 * FT;
    dt_times *t = &w->times;
    t->trip_m_per_hour = t->connection_minutes = t->stand_m = t->bit_run_m = NAN;
    t->circulate_hours = t->crew_hours = t->wait_hours = t->wellhead_hours = NAN;
    t->test_hours = t->drill_out_hours = t->hanger_hours = t->lap_test_hours = NAN;
    t->reserve = NAN;
    w->cementing.wait_s = NAN;
    w->prices.rig_per_day = NAN;
    w->wishes.rig_hookload_n = w->wishes.bop_bore_m = w->wishes.wellhead_bore_m = NAN;
    part_prices(w);
}

static inline void part_catalogue(dt_catalogue *catalogue, const char *stock)
{
    dt_report report = {0};
    assert_int_equal(dt_report_init(&report, "stock"), DT_OK);
    assert_int_equal(dt_catalogue_load(catalogue), DT_OK);
    assert_int_equal(dt_catalogue_restrict(catalogue, stock, strlen(stock), &report), DT_OK);
    dt_report_free(&report);
}

#endif
