/* SPDX-License-Identifier: MIT */
#include "string_design.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "designed.h"
#include "pipe_rules.h"
#include "same.h"
#include "taper.h"
#include "units.h"

#define NODE_STEP_M DT_M_PER_FT
#define LINE_NEAR_M (10 * DT_M_PER_FT) /* in pipe hanging: a tenth of what a stretch adds */

static const double g = DT_STANDARD_GRAVITY;

/** One way to buy pipe of the size. */
typedef struct candidate {
    dt_strength strength;
    double price_per_m, drift_m;
    double warm_from_m; /* TVD below which the grade may stand; 0: anywhere */
    bool stocked, limited;
    double *least_n, *most_n; /* [spot], from the shoe up; once it is limited */
} candidate;

struct dt_string_design {
    dt_design_site site;
    const dt_design_in_force *asked; /* what is in force */
    dt_design_in_force spared;       /* the design in force, its factors raised by load.spare */
    dt_string_load load;
    bool pinned;    /* the engineer has decided the very pipe: it stays even when a case fails it */
    dt_spot *spots; /* from the shoe up */
    size_t spot_count;
    double *along_m, *rise_m; /* [node], from the shoe up */
    size_t node_count;
    candidate *candidates; /* by price */
    size_t candidate_count;
    double *limits; /* storage of all candidates' limits; NULL until a string is asked for */
    double lightest_npm, heaviest_npm;
};

/* ---- which pipes ---- */

static const dt_pin *pin_of(const dt_design_site *site, size_t string)
{
    const size_t pin = site->seats->items[string].pin;
    return pin < site->window->well->pin_count ? &site->window->well->pins[pin] : NULL;
}

bool dt_string_pipe_usable(const dt_design_site *site, size_t string, const dt_pipe *pipe,
                           dt_thread thread)
{
    const dt_seat *seat = &site->seats->items[string];
    const dt_pin *pin = pin_of(site, string);
    if ((pipe->threads & (1u << thread)) == 0) return false;
    if (!dt_nest_pipe_allowed(site->window->well, seat, string, pipe)) return false;
    const dt_well *well = site->window->well;
    /* a tie-back ends where its liner begins: what its liner may be is looked at there */
    const dt_seat *foot = seat->type == DT_TIEBACK ? &site->seats->items[seat->ties] : seat;
    if (site->design->sour && !(pin && pin->grade) &&
        !(dt_grade_sour_below(well, pipe->grade) < foot->shoe_m))
        return false;
    if (!dt_pipe_rules_allow(well, seat->role, pin, pipe, thread)) return false;
    if (pin && pin->thread) return dt_pipe_has_thread(pipe, thread, pin->thread);
    /* Threaded pipe bought plain-ended is for others' connections; only a conductor is welded. */
    return thread != DT_PLAIN_END || (string == 0 && pipe->threads == (1u << DT_PLAIN_END));
}

static bool pipe_pinned(const dt_design_site *site, size_t string)
{
    const dt_pin *p = pin_of(site, string);
    /* a tie-back is of its liner's size without saying so */
    return p && (isfinite(p->od_m) || p->type == DT_TIEBACK) && isfinite(p->weight_kgm) && p->grade;
}

static double price_by_steel(const void *context, const dt_pipe *pipe, dt_thread thread)
{
    (void)context;
    /* of two pipes equally heavy weaker steel first, then the simpler thread: far too little to
     * outweigh a difference in mass */
    return pipe->weight_kgm * (1 + 1e-15 * pipe->grade->yield_pa + 1e-9 * (double)thread);
}

const dt_pipe_price dt_price_by_steel = {price_by_steel, NULL};

static int by_price(const void *left, const void *right)
{
    const candidate *a = left, *b = right;
    if (a->price_per_m != b->price_per_m) return a->price_per_m < b->price_per_m ? -1 : 1;
    if (a->strength.pipe != b->strength.pipe) return a->strength.pipe < b->strength.pipe ? -1 : 1;
    return (int)a->strength.thread - (int)b->strength.thread;
}

/** Sea water on the outside of a string that hangs in a wellhead at the sea floor. */
static double sea_pa(const dt_string_load *load)
{
    const dt_well *well = load->well;
    const bool at_mudline =
        load->top_tvd_m <= well->rig_floor_m + well->water_depth_m + SAME_DEPTH_M;
    const double sea_m = well->over_sea && at_mudline ? load->top_tvd_m - well->rig_floor_m : 0;
    return load->backup_kgm3 * g * fmax(sea_m, 0);
}

double dt_string_load_gas(const dt_string_load *load)
{
    if (!load->pressures_apply) return NAN;
    double gas_pa = NAN;
    if (load->runs[DT_LOAD_BURST_GAS]) gas_pa = load->surface_pressure_pa - sea_pa(load);
    if (load->runs[DT_LOAD_BURST_INFLUX])
        gas_pa = fmax(gas_pa, load->influx_surface_pa - sea_pa(load));
    if (load->wall_when_finished) gas_pa = fmax(gas_pa, load->leak_pa);
    return gas_pa + load->gas_gradient_kgm3 * g * load->top_tvd_m;
}

/** May the gas on the string be that of a pay? */
static bool holds_pay(const dt_string_load *load)
{
    const dt_well *well = load->well;
    if (load->wall_when_finished || well->pay_count == 0) return true;
    for (size_t i = 0; i < load->hole_count; ++i)
        for (size_t k = 0; k < well->pay_count; ++k)
            if (well->pays[k].base_m > load->holes[i].top_tvd_m + SAME_DEPTH_M &&
                well->pays[k].top_m < load->holes[i].base_tvd_m - SAME_DEPTH_M)
                return true;
    return false;
}

bool dt_string_load_asks_seal(const dt_string_load *load)
{
    return dt_gas_tight_asked(load->well, dt_string_load_gas(load), holds_pay(load));
}

static double warm_from(const dt_string_design *d, const dt_pipe *pipe)
{
    const dt_pin *pin = pin_of(&d->site, d->load.seat);
    if (!d->site.design->sour || (pin && pin->grade)) return 0;
    return dt_grade_sour_below(d->site.window->well, pipe->grade);
}

static dt_status list_candidates(dt_string_design *d, const dt_nest_pipe *size)
{
    const dt_catalogue *catalogue = d->site.catalogue;
    const size_t string = d->load.seat;
    size_t room = 1;
    for (size_t i = 0; i < catalogue->pipe_count; ++i)
        if (dt_nest_is_size(size, &catalogue->pipes[i])) room += DT_THREAD_COUNT;
    d->candidates = calloc(room, sizeof *d->candidates);
    if (!d->candidates) return DT_E_MEMORY;
    for (size_t i = 0; i < catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &catalogue->pipes[i];
        if (!dt_nest_is_size(size, pipe)) continue;
        for (int t = 0; t < DT_THREAD_COUNT; ++t) {
            candidate *c = &d->candidates[d->candidate_count];
            if (!dt_string_pipe_usable(&d->site, string, pipe, (dt_thread)t)) continue;
            /* refused: the thread table does not know this pipe, or wear leaves no wall */
            if (dt_strength_make(catalogue, pipe, (dt_thread)t, d->load.wear_m, &c->strength) !=
                DT_OK)
                continue;
            c->price_per_m = d->site.price->per_m(d->site.price->context, pipe, (dt_thread)t);
            c->drift_m = dt_nest_drift(d->site.window->well, pipe);
            c->warm_from_m = warm_from(d, pipe);
            c->stocked = dt_pipe_stocked(d->site.window->well, pipe, (dt_thread)t);
            ++d->candidate_count;
        }
    }
    qsort(d->candidates, d->candidate_count, sizeof *d->candidates, by_price);
    return DT_OK;
}

/** Leaves connections that seal, where the gas on the string asks for that. A pinned one stays. */
static void keep_sealing(dt_string_design *d)
{
    const dt_pin *pin = pin_of(&d->site, d->load.seat);
    size_t kept = 0;
    if ((pin && pin->thread) || d->pinned || !dt_string_load_asks_seal(&d->load)) return;
    for (size_t i = 0; i < d->candidate_count; ++i) {
        const candidate *c = &d->candidates[i];
        if (dt_pipe_gas_tight(c->strength.pipe, c->strength.thread)) d->candidates[kept++] = *c;
    }
    d->candidate_count = kept;
}

/* ---- depths and limits ---- */

static dt_status make_spots(dt_string_design *d)
{
    dt_status status = dt_spots_make(&d->load, d->site.trajectory, &d->spots, &d->spot_count);
    for (size_t i = 0; status == DT_OK && i < d->spot_count / 2; ++i) { /* from the shoe up */
        const dt_spot kept = d->spots[i];
        d->spots[i] = d->spots[d->spot_count - 1 - i];
        d->spots[d->spot_count - 1 - i] = kept;
    }
    return status;
}

/** A node each foot from the shoe up, and the top. */
static dt_status make_nodes(dt_string_design *d)
{
    const dt_string_load *load = &d->load;
    const double length_m = load->shoe_md_m - load->top_md_m;
    const size_t steps = (size_t)dt_count_up(length_m / NODE_STEP_M);
    d->node_count = steps + 1;
    d->along_m = malloc(2 * d->node_count * sizeof *d->along_m);
    if (!d->along_m) return DT_E_MEMORY;
    d->rise_m = d->along_m + d->node_count;
    const bool vertical = d->site.trajectory->count == 0;
    for (size_t i = 0; i <= steps; ++i) {
        d->along_m[i] = i == steps ? length_m : (double)i * NODE_STEP_M;
        const double tvd_m =
            i == steps ? load->top_tvd_m
            : vertical ? load->shoe_tvd_m - d->along_m[i]
                       : dt_trajectory_deepest(d->site.trajectory, load->shoe_md_m - d->along_m[i]);
        d->rise_m[i] = fmax(load->shoe_tvd_m - tvd_m, i ? d->rise_m[i - 1] : 0);
    }
    return DT_OK;
}

static double rise_of(const dt_string_design *d, const dt_spot *spot)
{
    return d->load.shoe_tvd_m - spot->tvd_m;
}

/** More than the heaviest pipe never hangs: a bound above it is as good as it. */
static double most_that_hangs(const dt_string_design *d, size_t spot)
{
    return d->heaviest_npm * rise_of(d, &d->spots[spot]);
}

static bool binds(const dt_string_design *d, const candidate *c, size_t spot)
{
    return c->most_n[spot] < most_that_hangs(d, spot);
}

/**
 * Beside a spot whose bound binds the bound is wanted in full: the straight line between the two
 * would fall short of it if it began at what can hang.
 */
static void limit_beside_binding(const dt_string_design *d, const candidate *c, size_t spot)
{
    const bool beside =
        (spot > 0 && binds(d, c, spot - 1)) || (spot + 1 < d->spot_count && binds(d, c, spot + 1));
    if (!beside || binds(d, c, spot)) return;
    double least_n, most_n;
    dt_strength_limits(&c->strength, &d->load, d->site.design, &d->spots[spot], INFINITY, &least_n,
                       &most_n);
    c->most_n[spot] = most_n;
}

/** Room for the limits of all candidates, and the weights that bound them. */
static dt_status make_limits(dt_string_design *d)
{
    d->limits = malloc((2 * d->candidate_count * d->spot_count + 1) * sizeof *d->limits);
    if (!d->limits) return DT_E_MEMORY;
    d->lightest_npm = INFINITY;
    d->heaviest_npm = 0;
    for (size_t i = 0; i < d->candidate_count; ++i) {
        candidate *c = &d->candidates[i];
        const double weight_npm = c->strength.pipe->weight_kgm * g;
        d->lightest_npm = fmin(d->lightest_npm, weight_npm);
        d->heaviest_npm = fmax(d->heaviest_npm, weight_npm);
        c->least_n = d->limits + 2 * i * d->spot_count;
        c->most_n = c->least_n + d->spot_count;
    }
    return DT_OK;
}

/** What a candidate carries at each spot, when it is first looked at: most are too dear. */
static void limit(const dt_string_design *d, candidate *c)
{
    if (c->limited) return;
    for (size_t k = 0; k < d->spot_count; ++k)
        dt_strength_limits(&c->strength, &d->load, d->site.design, &d->spots[k],
                           most_that_hangs(d, k), &c->least_n[k], &c->most_n[k]);
    for (size_t k = 0; k < d->spot_count; ++k)
        limit_beside_binding(d, c, k);
    for (size_t k = 0; k < d->spot_count; ++k)
        if (d->spots[k].tvd_m < c->warm_from_m - SAME_DEPTH_M) {
            c->least_n[k] = INFINITY;
            c->most_n[k] = -INFINITY;
        }
    c->limited = true;
}

/** A load that is a part larger leaves as much as a factor that is. */
static void raise_factors(dt_string_design *d)
{
    if (!(d->load.spare > 0)) return;
    const double by = 1 + d->load.spare;
    d->spared = *d->site.design;
    d->spared.burst *= by;
    d->spared.collapse *= by;
    d->spared.tension *= by;
    d->spared.tension_pulled *= by;
    d->spared.triaxial *= by;
    d->site.design = &d->spared;
}

dt_status dt_string_design_make(const dt_design_site *site, const dt_string_load *load,
                                const dt_nest_pipe *size, dt_string_design **out)
{
    dt_string_design *d = calloc(1, sizeof *d);
    if (!d) return DT_E_MEMORY;
    d->site = *site;
    d->load = *load;
    d->pinned = pipe_pinned(site, load->seat);
    d->asked = site->design;
    raise_factors(d);
    dt_status status = list_candidates(d, size);
    double least_id_m = size->od_m;
    for (size_t i = 0; status == DT_OK && i < d->candidate_count; ++i)
        least_id_m = fmin(least_id_m, size->od_m - 2 * d->candidates[i].strength.pipe->wall_m);
    if (status != DT_OK) {
        dt_string_design_free(d);
        return status;
    }
    dt_string_load_fit(&d->load, least_id_m);
    keep_sealing(d);
    *out = d;
    return DT_OK;
}

/** What takes time, once: depths, and room for what each pipe carries there. */
static dt_status prepare(dt_string_design *d)
{
    if (d->limits) return DT_OK;
    dt_status status = make_spots(d);
    if (status == DT_OK) status = make_nodes(d);
    if (status == DT_OK) status = make_limits(d);
    return status;
}

void dt_string_design_free(dt_string_design *design)
{
    if (!design) return;
    free(design->candidates);
    free(design->spots);
    free(design->along_m);
    free(design->limits);
    free(design);
}

const dt_string_load *dt_string_design_load(const dt_string_design *design)
{
    return &design->load;
}

/* ---- the cheapest string ---- */

static bool passes(const candidate *c, double drift_m)
{
    return c->drift_m >= drift_m - SAME_DIAMETER_M;
}

/* ---- hangers ---- */

/** Most weight in air below the top that the string's own hanger takes under this pipe. */
static double most_hung(const dt_string_design *d, const dt_hanging *h, const candidate *c)
{
    return h->own ? dt_hanger_most_hanging(h->own, &d->load, c->strength.pipe) : INFINITY;
}

/** May this pipe stand where the hanger of the string below is set? */
static bool hosts(const dt_hanging *h, const candidate *c)
{
    return !h->guest || dt_hanger_fits(h->guest, c->strength.pipe);
}

/** The same as bounds: on what hangs from the top, and on the pipe within a foot of the guest. */
static void keep_hangers(const dt_string_design *d, const dt_hanging *h, const candidate *c,
                         double *least_n, double *most_n)
{
    const size_t last = d->node_count - 1;
    const double slack = 1 + SAME_SUM; /* as where limits are spread */
    most_n[last] = fmin(most_n[last], most_hung(d, h, c) * slack);
    if (hosts(h, c)) return;
    const double guest_along_m = d->load.shoe_md_m - h->guest_md_m;
    for (size_t n = 0; n < d->node_count; ++n) {
        const bool below = n < last && d->along_m[n + 1] <= guest_along_m;
        const bool above = n > 0 && d->along_m[n - 1] >= guest_along_m;
        if (below || above) continue;
        least_n[n] = INFINITY;
        most_n[n] = -INFINITY;
    }
}

/** Does this pipe alone hold from shoe to top? */
static bool holds_alone(const dt_string_design *d, const dt_hanging *h, const candidate *c)
{
    const double weight_npm = c->strength.pipe->weight_kgm * g;
    const double whole_n = weight_npm * d->rise_m[d->node_count - 1];
    if (!hosts(h, c) || whole_n * (1 - SAME_SUM) > most_hung(d, h, c)) return false;
    for (size_t k = 0; k < d->spot_count; ++k) {
        const double hanging_n = weight_npm * rise_of(d, &d->spots[k]);
        const double slack_n = BOUND_SLACK * hanging_n; /* the bound may be this very weight */
        if (!(hanging_n <= c->most_n[k] + slack_n && hanging_n >= c->least_n[k] - slack_n))
            return false;
    }
    return true;
}

/** Does the pipe bear whatever can hang at a spot and as far as the next on both sides? */
static bool bears_all(const dt_string_design *d, const candidate *c, size_t spot)
{
    return !binds(d, c, spot) && !(spot > 0 && binds(d, c, spot - 1)) &&
           !(spot + 1 < d->spot_count && binds(d, c, spot + 1));
}

/** Is a cheaper and lighter pipe as good wherever this one holds? */
static bool outdone(const dt_string_design *d, const dt_hanging *h, const candidate *by,
                    const candidate *c)
{
    if (hosts(h, c) && !hosts(h, by)) return false;
    if (most_hung(d, h, by) < most_hung(d, h, c)) return false;
    if (by->price_per_m > c->price_per_m ||
        by->strength.pipe->weight_kgm > c->strength.pipe->weight_kgm)
        return false;
    for (size_t k = 0; k < d->spot_count; ++k) {
        if (c->most_n[k] < c->least_n[k]) continue;
        if (by->most_n[k] < c->most_n[k] && !bears_all(d, by, k)) return false;
        if (by->least_n[k] > fmax(c->least_n[k], d->lightest_npm * rise_of(d, &d->spots[k])))
            return false;
    }
    return true;
}

static bool same_thread(const candidate *a, const candidate *b)
{
    return strcmp(dt_pipe_thread_text(a->strength.pipe, a->strength.thread),
                  dt_pipe_thread_text(b->strength.pipe, b->strength.thread)) == 0;
}

/** Fills chosen with the candidates worth a place: index list, by price. */
static size_t worth_trying(const dt_string_design *d, const dt_hanging *h, double drift_m,
                           bool stocked, size_t *chosen, double crossover)
{
    const double length_m = d->along_m[d->node_count - 1];
    const double section_m = fmin(d->site.design->min_section_m, length_m);
    const dt_well *well = d->site.window->well;
    const bool one_thread = dt_custom_word(well, DT_CUSTOM_DESIGN_ONE_THREAD) == 1;
    double bound = INFINITY, least_price = INFINITY;
    size_t count = 0;
    for (size_t i = 0; i < d->candidate_count; ++i) {
        const candidate *c = &d->candidates[i];
        if (!passes(c, drift_m) || (stocked && !c->stocked)) continue;
        least_price = fmin(least_price, c->price_per_m);
        /* dearer than a string that holds even where it is as short as can be */
        const double cheapest =
            c->price_per_m * section_m + least_price * (length_m - section_m) + crossover;
        if (cheapest > bound && c->price_per_m * length_m > bound) continue;
        limit(d, &d->candidates[i]);
        bool beaten = false; /* a gauge may ask for the very pipe that another outdoes */
        for (size_t k = 0; k < count && !beaten && !(d->site.design->gauge_m > 0); ++k)
            beaten = (!one_thread || same_thread(&d->candidates[chosen[k]], c)) &&
                     outdone(d, h, &d->candidates[chosen[k]], c);
        if (beaten) continue;
        chosen[count++] = i;
        if (c->price_per_m * length_m < bound && holds_alone(d, h, c))
            bound = c->price_per_m * length_m;
    }
    return count;
}

static unsigned mark_of(const dt_string_design *d, const candidate *c, size_t spot)
{
    return dt_strength_mark(&c->strength, &d->load, d->site.design, &d->spots[spot],
                            c->most_n[spot]);
}

/**
 * Is the straight line between a spot and the next as good as what holds between them? Where one
 * check binds at one end and another at the other, both bounds bend: the line may fall far short.
 * Only the part counts where the line is below what can hang; what bends down is at the middle of
 * it at least half as far from the line as anywhere.
 */
static bool line_is_near(const dt_string_design *d, const candidate *c, size_t k)
{
    const double below_n = c->most_n[k] - most_that_hangs(d, k);
    const double above_n = c->most_n[k + 1] - most_that_hangs(d, k + 1);
    if (below_n >= 0 && above_n >= 0) return true;
    const double crossing = below_n < 0 && above_n < 0 ? 1 : below_n / (below_n - above_n);
    const double part = below_n < 0 ? crossing / 2 : (1 + crossing) / 2;
    const double line_n = c->most_n[k] + part * (c->most_n[k + 1] - c->most_n[k]);
    dt_spot at;
    dt_spot_fill(&d->load, d->site.trajectory,
                 d->spots[k].md_m + part * (d->spots[k + 1].md_m - d->spots[k].md_m), &at);
    double least_n, most_n;
    dt_strength_limits(&c->strength, &d->load, d->site.design, &at,
                       d->heaviest_npm * rise_of(d, &at), &least_n, &most_n);
    return most_n - line_n <= c->strength.pipe->weight_kgm * g * LINE_NEAR_M;
}

/** Far under any weight, far over what rounding makes of none where a load bends at the shoe. */
#define ROUNDING_N (2 * TIE_HANGING_N)

/** How far a node is from one spot to the next above. What pressures do goes with depth; in a hole
 * nearly level, where there is next to none between them, what drag does goes with length. */
static double part_between(const dt_string_design *d, size_t node, const dt_spot *below,
                           const dt_spot *above)
{
    const double span_m = below->tvd_m - above->tvd_m, length_m = below->md_m - above->md_m;
    if (span_m > DT_LEVEL_GAIN * length_m) return (d->rise_m[node] - rise_of(d, below)) / span_m;
    const double md_m = d->load.shoe_md_m - d->along_m[node];
    return length_m > 0 ? fmin(fmax((below->md_m - md_m) / length_m, 0), 1) : 0;
}

/** A bound at each node: straight between the spots, which lies on the safe side (docs). Where the
 * pipe holds at one end of a stretch alone, the collapse regime changes, or the line falls short,
 * each node is looked at for itself. */
static void spread_limits(const dt_string_design *d, const candidate *c, double *least_n,
                          double *most_n)
{
    size_t k = 0, told = DT_NO_INDEX;
    bool smooth = false;
    for (size_t n = 0; n < d->node_count; ++n) {
        const double md_m = d->load.shoe_md_m - d->along_m[n];
        while (k + 2 < d->spot_count && d->spots[k + 1].md_m >= md_m)
            ++k;
        const dt_spot *below = &d->spots[k], *above = &d->spots[k + 1];
        const bool holds_below = c->most_n[k] >= c->least_n[k];
        const bool holds_above = c->most_n[k + 1] >= c->least_n[k + 1];
        if (k != told) {
            told = k;
            smooth = holds_below == holds_above &&
                     (!holds_below ||
                      (mark_of(d, c, k) == mark_of(d, c, k + 1) && line_is_near(d, c, k)));
        }
        if (!smooth) {
            dt_spot at;
            dt_spot_fill(&d->load, d->site.trajectory, md_m, &at);
            dt_strength_limits(&c->strength, &d->load, d->site.design, &at,
                               d->heaviest_npm * d->rise_m[n], &least_n[n], &most_n[n]);
        } else if (holds_below) {
            const double part = part_between(d, n, below, above);
            least_n[n] = c->least_n[k] + part * (c->least_n[k + 1] - c->least_n[k]);
            most_n[n] = c->most_n[k] + part * (c->most_n[k + 1] - c->most_n[k]);
        } else {
            least_n[n] = INFINITY;
            most_n[n] = -INFINITY;
        }
        /* the bound may be the very weight of the heaviest pipe, and at the shoe nothing */
        if (isfinite(most_n[n])) most_n[n] += SAME_SUM * fabs(most_n[n]) + ROUNDING_N;
    }
}

/** Among two nodes the one where the bound lets less hang, both told for the upper: 0 or 1. */
static size_t harder(double below, double above, double grown_n, double sign)
{
    return sign * (below + grown_n) < sign * above ? 0 : 1;
}

/**
 * A spot between two nodes binds the pipe that stands over both: a thin bed, or the edge of one,
 * may lie within the foot. Its bound is kept at the node that binds harder already, where it takes
 * the least from pipe that ends or begins there.
 */
static void keep_spots(const dt_string_design *d, const candidate *c, double *least_n,
                       double *most_n)
{
    const double slack = 1 + SAME_SUM; /* as where limits are spread */
    const double weight_npm = c->strength.pipe->weight_kgm * g;
    size_t n = 0;
    for (size_t k = 0; k < d->spot_count; ++k) {
        const double along_m = d->load.shoe_md_m - d->spots[k].md_m;
        while (n + 2 < d->node_count && d->along_m[n + 1] <= along_m)
            ++n;
        if (along_m <= d->along_m[n] + SAME_DEPTH_M || along_m >= d->along_m[n + 1] - SAME_DEPTH_M)
            continue;
        const double grown_n = weight_npm * (d->rise_m[n + 1] - d->rise_m[n]);
        const size_t most_at = n + harder(most_n[n], most_n[n + 1], grown_n, 1);
        const size_t least_at = n + harder(least_n[n], least_n[n + 1], grown_n, -1);
        const double rise_m = rise_of(d, &d->spots[k]);
        most_n[most_at] = fmin(most_n[most_at],
                               (c->most_n[k] + weight_npm * (d->rise_m[most_at] - rise_m)) * slack);
        least_n[least_at] =
            fmax(least_n[least_at], c->least_n[k] + weight_npm * (d->rise_m[least_at] - rise_m));
    }
}

/** May the pipe not stand near the surface, where only pipe of this bore does? */
static bool narrowed(const candidate *c, double bore_m)
{
    return !isnan(bore_m) && c->strength.pipe->id_m > bore_m + SAME_DIAMETER_M;
}

/** Keeps a pipe from the surface. */
static void keep_gauge(const dt_string_design *d, double *least_n, double *most_n)
{
    const double from_m = d->along_m[d->node_count - 1] - d->site.design->gauge_m;
    for (size_t n = 0; n < d->node_count; ++n)
        if (d->along_m[n] > from_m + SAME_LOOK_M) {
            least_n[n] = INFINITY;
            most_n[n] = -INFINITY;
        }
}

/** A grade for warm pipe alone stands only below the depth where the rock is warm enough. */
static void keep_warm(const dt_string_design *d, const candidate *c, double *least_n,
                      double *most_n)
{
    for (size_t n = 0; n < d->node_count; ++n)
        if (d->load.shoe_tvd_m - d->rise_m[n] < c->warm_from_m - SAME_DEPTH_M) {
            least_n[n] = INFINITY;
            most_n[n] = -INFINITY;
        }
}

/** Sections that a string may have, by its role. */
static size_t most_sections(const dt_string_design *d)
{
    size_t most = d->site.design->max_sections;
    if (d->load.role == DT_SURFACE) {
        const double of_surface =
            dt_custom_value_of(d->site.window->well, DT_CUSTOM_DESIGN_SURFACE_SECTIONS);
        most = of_surface < (double)most ? (size_t)of_surface : most;
    }
    return most < DT_TAPER_MOST_SECTIONS ? most : DT_TAPER_MOST_SECTIONS;
}

/** What strings are made of, for one bit and its hangers. */
typedef struct making {
    const dt_string_design *d;
    const dt_hanging *hanging;
    double crossover;
    double **bounds; /* [candidate]: least_n, then most_n at each node; NULL until asked for */
} making;

/** Bounds of a candidate at each node, but for a gauge: one string after the other asks for the
 * same. NULL: out of memory. */
static const double *bounds_of(const making *m, size_t index)
{
    const dt_string_design *d = m->d;
    const candidate *c = &d->candidates[index];
    if (m->bounds[index]) return m->bounds[index];
    double *least_n = malloc(2 * d->node_count * sizeof *least_n);
    if (!least_n) return NULL;
    double *most_n = least_n + d->node_count;
    spread_limits(d, c, least_n, most_n);
    keep_spots(d, c, least_n, most_n);
    keep_hangers(d, m->hanging, c, least_n, most_n);
    keep_warm(d, c, least_n, most_n);
    m->bounds[index] = least_n;
    return least_n;
}

/** The same with a gauge, in room for it where it matters to this pipe. */
static const double *gauged_bounds(const making *m, size_t index, double bore_m, double *room)
{
    const dt_string_design *d = m->d;
    const double *bounds = bounds_of(m, index);
    if (!bounds || !narrowed(&d->candidates[index], bore_m)) return bounds;
    memcpy(room, bounds, 2 * d->node_count * sizeof *room);
    keep_gauge(d, room, room + d->node_count);
    return room;
}

/** bore_m: bore of the pipe near the surface, NAN without a gauge. DT_E_NONE: none holds that costs
 * no more than most_price. */
static dt_status solve(const making *m, const size_t *chosen, size_t count, double bore_m,
                       double most_price, dt_design_choice *out)
{
    const dt_string_design *d = m->d;
    const size_t wide = isnan(bore_m) ? 0 : count;
    double *rooms = malloc((2 * wide * d->node_count + 1) * sizeof *rooms);
    dt_taper_pipe *pipes = malloc((count + 1) * sizeof *pipes);
    dt_taper_result result;
    dt_status status = rooms && pipes ? DT_OK : DT_E_MEMORY;
    for (size_t i = 0; status == DT_OK && i < count; ++i) {
        const candidate *c = &d->candidates[chosen[i]];
        const double *least_n =
            gauged_bounds(m, chosen[i], bore_m, rooms + (wide ? 2 * i * d->node_count : 0));
        if (!least_n) status = DT_E_MEMORY;
        pipes[i] = (dt_taper_pipe){c->price_per_m, c->strength.pipe->weight_kgm * g, least_n,
                                   least_n ? least_n + d->node_count : NULL};
    }
    if (status == DT_OK) {
        const dt_taper problem = {.node_count = d->node_count,
                                  .along_m = d->along_m,
                                  .rise_m = d->rise_m,
                                  .pipes = pipes,
                                  .pipe_count = count,
                                  .min_length_m = d->site.design->min_section_m,
                                  .crossover_price = m->crossover,
                                  .max_sections = most_sections(d),
                                  .most_price = most_price};
        status = dt_taper_solve(&problem, &result);
    }
    free(rooms);
    free(pipes);
    if (status != DT_OK) return status;
    *out = (dt_design_choice){.price = result.price, .section_count = result.section_count};
    for (size_t i = 0; i < result.section_count; ++i) {
        out->sections[i].pipe = chosen[result.sections[i].pipe];
        out->sections[i].base_node = result.sections[i].base_node;
        out->sections[i].top_node = result.sections[i].top_node;
    }
    return DT_OK;
}

/** What passes the top passes the string: the pipe near the surface has the smallest bore. Solved
 * for each bore it may have, with pipe of at least that bore below. */
static dt_status solve_with_gauge(const making *m, const size_t *chosen, size_t count,
                                  double most_price, dt_design_choice *out)
{
    const dt_string_design *d = m->d;
    size_t *wide = malloc((count + 1) * sizeof *wide);
    if (!wide) return DT_E_MEMORY;
    dt_status status = DT_E_NONE;
    for (size_t i = 0; i < count && status != DT_E_MEMORY; ++i) {
        const double bore_m = d->candidates[chosen[i]].strength.pipe->id_m;
        bool seen = false;
        size_t wide_count = 0;
        for (size_t k = 0; k < count; ++k) {
            const double other_m = d->candidates[chosen[k]].strength.pipe->id_m;
            seen = seen || (k < i && fabs(other_m - bore_m) <= SAME_DIAMETER_M);
            if (other_m >= bore_m - SAME_DIAMETER_M) wide[wide_count++] = chosen[k];
        }
        dt_design_choice found;
        if (seen) continue;
        const dt_status one = solve(m, wide, wide_count, bore_m, most_price, &found);
        if (one == DT_OK && (status != DT_OK || found.price < out->price * (1 - TIE_PRICE)))
            *out = found;
        if (one == DT_OK) most_price = fmin(most_price, out->price); /* only what is cheaper */
        if (one == DT_OK || one == DT_E_MEMORY) status = one;
    }
    free(wide);
    return status;
}

static void choose_one(const dt_string_design *d, size_t pipe, bool holds, dt_design_choice *out)
{
    *out =
        (dt_design_choice){.price = d->candidates[pipe].price_per_m * d->along_m[d->node_count - 1],
                           .pinned_pipe_fails = !holds,
                           .section_count = 1};
    out->sections[0].pipe = pipe;
    out->sections[0].base_node = 0;
    out->sections[0].top_node = d->node_count - 1;
}

/* A pin stays whatever its hanger bears; the program says so. */
static const dt_hanging free_hanging = {NULL, NULL, NAN};

/** The pinned pipe, in the thread that holds and lets the bit pass, or as near as it comes. */
static dt_status choose_pinned(const dt_string_design *d, double drift_m, dt_design_choice *out)
{
    size_t best = DT_NO_INDEX;
    int best_merit = -1;
    for (size_t i = 0; i < d->candidate_count; ++i) {
        limit(d, &d->candidates[i]);
        const bool holds = holds_alone(d, &free_hanging, &d->candidates[i]);
        const int merit = (passes(&d->candidates[i], drift_m) ? 2 : 0) + (holds ? 1 : 0);
        if (merit <= best_merit) continue;
        best = i;
        best_merit = merit;
    }
    if (best == DT_NO_INDEX) return DT_E_NONE;
    choose_one(d, best, holds_alone(d, &free_hanging, &d->candidates[best]), out);
    return DT_OK;
}

double dt_string_design_floor(const dt_string_design *d, double drift_m)
{
    double least = INFINITY;
    for (size_t i = 0; i < d->candidate_count; ++i)
        if (d->pinned || passes(&d->candidates[i], drift_m))
            least = fmin(least, d->candidates[i].price_per_m);
    return least * (d->load.shoe_md_m - d->load.top_md_m) * (1 - SAME_SUM);
}

/** The cheapest single pipe among those listed that holds the whole string; DT_NO_INDEX: none. */
static size_t cheapest_alone(const dt_string_design *d, const dt_hanging *h, const size_t *chosen,
                             size_t count)
{
    for (size_t i = 0; i < count; ++i) /* by price */
        if (holds_alone(d, h, &d->candidates[chosen[i]])) return chosen[i];
    return DT_NO_INDEX;
}

static dt_status solve_any(const making *m, const size_t *chosen, size_t count, double most_price,
                           dt_design_choice *out)
{
    return m->d->site.design->gauge_m > 0 ? solve_with_gauge(m, chosen, count, most_price, out)
                                          : solve(m, chosen, count, NAN, most_price, out);
}

/** The cheapest string with one thread: solved for each thread with its pipes alone. */
static dt_status solve_by_thread(const making *m, const size_t *chosen, size_t count,
                                 dt_design_choice *out)
{
    const dt_string_design *d = m->d;
    double most_price = INFINITY;
    size_t *alike = malloc((count + 1) * sizeof *alike);
    if (!alike) return DT_E_MEMORY;
    dt_status status = DT_E_NONE;
    for (size_t i = 0; i < count && status != DT_E_MEMORY; ++i) {
        bool seen = false;
        size_t alike_count = 0;
        for (size_t k = 0; k < count; ++k) {
            if (!same_thread(&d->candidates[chosen[i]], &d->candidates[chosen[k]])) continue;
            seen = seen || k < i;
            alike[alike_count++] = chosen[k];
        }
        dt_design_choice found;
        if (seen) continue;
        const dt_status one = solve_any(m, alike, alike_count, most_price, &found);
        if (one == DT_OK && (status != DT_OK || found.price < out->price * (1 - TIE_PRICE)))
            *out = found;
        if (one == DT_OK) most_price = fmin(most_price, out->price); /* only what is cheaper */
        if (one == DT_OK || one == DT_E_MEMORY) status = one;
    }
    free(alike);
    return status;
}

/** The cheapest string of those listed, in one thread where the basis asks for it. */
static dt_status solve_all(const dt_string_design *d, const dt_hanging *h, const size_t *chosen,
                           size_t count, double crossover, dt_design_choice *out)
{
    const making m = {d, h, crossover, calloc(d->candidate_count, sizeof *m.bounds)};
    if (!m.bounds) return DT_E_MEMORY;
    const dt_status status = dt_custom_word(d->site.window->well, DT_CUSTOM_DESIGN_ONE_THREAD) == 1
                                 ? solve_by_thread(&m, chosen, count, out)
                                 : solve_any(&m, chosen, count, INFINITY, out);
    for (size_t i = 0; i < d->candidate_count; ++i)
        free(m.bounds[i]);
    free(m.bounds);
    return status;
}

static dt_status choose_among(const dt_string_design *d, const dt_hanging *h, double drift_m,
                              bool stocked, size_t *chosen, dt_design_choice *out)
{
    double least_price = INFINITY;
    for (size_t i = 0; i < d->candidate_count; ++i)
        if (passes(&d->candidates[i], drift_m) && (!stocked || d->candidates[i].stocked))
            least_price = fmin(least_price, d->candidates[i].price_per_m);
    const double crossover = isfinite(least_price) ? least_price * d->site.design->crossover_m : 0;
    const size_t count = worth_trying(d, h, drift_m, stocked, chosen, crossover);
    if (count == 0) return DT_E_NONE;
    const size_t alone = cheapest_alone(d, h, chosen, count);
    if (alone == chosen[0]) { /* the cheapest pipe of all */
        choose_one(d, alone, true, out);
        return DT_OK;
    }
    const dt_status status = solve_all(d, h, chosen, count, crossover, out);
    if (status != DT_OK || alone == DT_NO_INDEX || out->section_count == 1) return status;
    const double saving = dt_custom_value_of(d->site.window->well, DT_CUSTOM_DESIGN_TAPER_SAVING);
    const double whole = d->candidates[alone].price_per_m * d->along_m[d->node_count - 1];
    if (out->price > whole * (1 - saving)) choose_one(d, alone, true, out);
    return status;
}

static dt_status choose(dt_string_design *d, double drift_m, const dt_hanging *h,
                        dt_design_choice *out)
{
    dt_status status = prepare(d);
    if (status != DT_OK) return status;
    if (d->pinned) return choose_pinned(d, drift_m, out);
    size_t *chosen = malloc((d->candidate_count + 1) * sizeof *chosen);
    if (!chosen) return DT_E_MEMORY;
    status = DT_E_NONE;
    if (dt_stock_first(d->site.window->well))
        status = choose_among(d, h, drift_m, true, chosen, out);
    if (status == DT_E_NONE) status = choose_among(d, h, drift_m, false, chosen, out);
    free(chosen);
    return status;
}

/* ---- strings that were designed before ---- */

/** All that choose() reads beside the well: the loads, the pipes that may be used and what the bit
 * and hangers ask. Where a string stands in its program is not read. */
static void write_key(const dt_string_design *d, double drift_m, const dt_hanging *h,
                      dt_design_key *key)
{
    dt_string_load load;
    memcpy(&load, &d->load, sizeof load);
    load.seat = load.place = 0;
    load.well = NULL;
    const double asked_m[] = {drift_m, h->own || h->guest ? h->guest_md_m : 0};
    const dt_hanger *hangers[] = {h->own, h->guest};
    dt_design_key_add(key, &load, sizeof load);
    dt_design_key_add(key, asked_m, sizeof asked_m);
    dt_design_key_add(key, hangers, sizeof hangers);
    dt_design_key_add(key, &d->pinned, sizeof d->pinned);
    for (size_t i = 0; i < d->candidate_count; ++i) {
        const candidate *c = &d->candidates[i];
        const double figures[] = {c->price_per_m, c->drift_m, c->warm_from_m};
        const int kinds[] = {(int)c->strength.thread, c->stocked};
        dt_design_key_add(key, &c->strength.pipe, sizeof c->strength.pipe);
        dt_design_key_add(key, figures, sizeof figures);
        dt_design_key_add(key, kinds, sizeof kinds);
    }
}

dt_status dt_string_design_choose(dt_string_design *d, double drift_m, const dt_hanging *h,
                                  dt_design_choice *out)
{
    dt_designed *designed = d->site.designed;
    if (!designed) return choose(d, drift_m, h, out);
    dt_design_key key = {0};
    dt_status status = DT_E_MEMORY, found = DT_E_MEMORY;
    write_key(d, drift_m, h, &key);
    if (!key.failed)
        found = dt_designed_find(designed, d->load.well, d->site.catalogue, &key, &status, out);
    if (found == DT_E_NONE) {
        status = choose(d, drift_m, h, out);
        if ((status == DT_OK || status == DT_E_NONE) &&
            dt_designed_keep(designed, &key, status, out) != DT_OK)
            status = DT_E_MEMORY;
    }
    dt_design_key_free(&key);
    return status;
}

/* ---- report ---- */

/** Holds a pipe over a stretch, weight below it known: the spots inside and both ends. */
static void screen_stretch(const dt_string_design *d, const candidate *c, size_t base_node,
                           size_t top_node, double below_n, dt_screen *out)
{
    const double weight_npm = c->strength.pipe->weight_kgm * g;
    const double base_rise_m = d->rise_m[base_node];
    const double base_md_m = d->load.shoe_md_m - d->along_m[base_node];
    const double top_md_m = d->load.shoe_md_m - d->along_m[top_node];
    dt_screen_begin(d->site.design, out);
    for (size_t k = 0; k < d->spot_count + 2; ++k) {
        dt_spot end;
        const dt_spot *spot = k < d->spot_count ? &d->spots[k] : &end;
        if (k >= d->spot_count) {
            const double md_m = k == d->spot_count              ? base_md_m
                                : top_node + 1 == d->node_count ? d->load.top_md_m
                                                                : top_md_m;
            dt_spot_fill(&d->load, d->site.trajectory, md_m, &end);
        }
        if (spot->md_m > base_md_m || spot->md_m < fmin(top_md_m, d->load.shoe_md_m)) {
            if (k < d->spot_count) continue;
        }
        const double rise_m = fmax(d->load.shoe_tvd_m - spot->tvd_m - base_rise_m, 0);
        dt_screen_add(out, &c->strength, &d->load, d->site.design, spot,
                      below_n + weight_npm * rise_m);
    }
    dt_screen_conclude(out);
}

/** Of the cheaper pipes the dearest that fails in this stretch. */
static void find_cheaper(const dt_string_design *d, double drift_m, size_t pipe, size_t base_node,
                         size_t top_node, double below_n, dt_section *out)
{
    const candidate *chosen = &d->candidates[pipe];
    for (size_t i = pipe; i-- > 0;) {
        const candidate *c = &d->candidates[i];
        if (!passes(c, drift_m) || !(c->price_per_m < chosen->price_per_m)) continue;
        dt_screen screen;
        screen_stretch(d, c, base_node, top_node, below_n, &screen);
        if (screen.ok) continue;
        out->cheaper_pipe = c->strength.pipe;
        out->cheaper_thread = c->strength.thread;
        out->cheaper_factor = screen.by_check[screen.worst_check];
        out->cheaper_load = screen.worst;
        out->cheaper_check = screen.worst_check;
        return;
    }
}

dt_status dt_string_design_report(dt_string_design *d, const dt_design_choice *choice,
                                  double drift_m, dt_section **sections)
{
    const dt_status status = prepare(d); /* it may have been designed before */
    if (status != DT_OK) return status;
    d->site.design = d->asked; /* factors are told against what is asked */
    dt_section *list = calloc(choice->section_count, sizeof *list);
    if (!list) return DT_E_MEMORY;
    double below_n = 0;
    for (size_t i = 0; i < choice->section_count; ++i) {
        const size_t base = choice->sections[i].base_node, top = choice->sections[i].top_node;
        const candidate *c = &d->candidates[choice->sections[i].pipe];
        dt_section *s = &list[choice->section_count - 1 - i];
        s->base_md_m = base == 0 ? d->load.shoe_md_m : d->load.shoe_md_m - d->along_m[base];
        s->top_md_m =
            top + 1 == d->node_count ? d->load.top_md_m : d->load.shoe_md_m - d->along_m[top];
        s->pipe = c->strength.pipe;
        s->thread = c->strength.thread;
        screen_stretch(d, c, base, top, below_n, &s->screen);
        if (!choice->pinned_pipe_fails)
            find_cheaper(d, drift_m, choice->sections[i].pipe, base, top, below_n, s);
        below_n += c->strength.pipe->weight_kgm * g * (d->rise_m[top] - d->rise_m[base]);
    }
    *sections = list;
    return DT_OK;
}
