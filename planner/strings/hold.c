/* SPDX-License-Identifier: MIT */
#include "hold.h"

#include <math.h>
#include <stdlib.h>

#include "numbers.h"
#include "same.h"
#include "units.h"

/* Pipe held against the load cases, depth by depth (docs/strength.md). */

#define SPOT_STEP_M (100 * DT_M_PER_FT)

/* ---- depths ---- */

void dt_spot_fill(const dt_string_load *load, const dt_trajectory *trajectory, double md_m,
                  dt_spot *out)
{
    /* a survey station belongs to the arcs on both its sides */
    *out = (dt_spot){.md_m = md_m,
                     .tvd_m = md_m == load->top_md_m    ? load->top_tvd_m
                              : md_m == load->shoe_md_m ? load->shoe_tvd_m
                                                        : dt_trajectory_deepest(trajectory, md_m)};
    out->yield_part = dt_load_yield_part(load, out->tvd_m);
    out->drag_m = dt_load_drag(load, md_m);
    out->curvature_radm =
        fmax(md_m > load->top_md_m ? dt_trajectory_curvature(trajectory, md_m - SAME_DEPTH_M) : 0,
             md_m < load->shoe_md_m ? dt_trajectory_curvature(trajectory, md_m + SAME_DEPTH_M) : 0);
    dt_load_pressures_at(load, out->tvd_m, out->inside_pa, out->outside_pa);
}

static dt_load_point point_of(const dt_spot *spot, dt_load which)
{
    return (dt_load_point){.inside_pa = spot->inside_pa[which],
                           .outside_pa = spot->outside_pa[which],
                           .drag_m = spot->drag_m};
}

typedef struct depth_list {
    double *md_m;
    size_t count, capacity;
    bool failed;
} depth_list;

static void add_md(depth_list *list, const dt_string_load *load, double md_m)
{
    if (!(md_m >= load->top_md_m && md_m <= load->shoe_md_m) || list->failed) return;
    if (list->count == list->capacity) {
        const size_t capacity = list->capacity ? 2 * list->capacity : 256;
        double *bigger = realloc(list->md_m, capacity * sizeof *bigger);
        if (!bigger) {
            list->failed = true;
            return;
        }
        list->md_m = bigger;
        list->capacity = capacity;
    }
    list->md_m[list->count++] = md_m;
}

static void add_tvd(depth_list *list, const dt_string_load *load, const dt_trajectory *trajectory,
                    double tvd_m)
{
    if (tvd_m > load->top_tvd_m && tvd_m < load->shoe_tvd_m)
        add_md(list, load, dt_trajectory_md(trajectory, tvd_m));
}

static void add_curve(depth_list *list, const dt_string_load *load, const dt_trajectory *trajectory,
                      const dt_curve *curve)
{
    for (size_t i = 0; i < curve->count; ++i)
        add_tvd(list, load, trajectory, curve->points[i].tvd_m);
}

/* Levels the mud may fall to, and where less of another hole's stands from there down. */
static void add_losses(depth_list *list, const dt_string_load *load,
                       const dt_trajectory *trajectory)
{
    for (size_t i = 0; i < load->hole_count; ++i) {
        const dt_hole_below *a = &load->holes[i];
        const double a_m = dt_load_loss_level(load, i);
        add_tvd(list, load, trajectory, a_m);
        for (size_t k = 0; k < i; ++k) {
            const dt_hole_below *b = &load->holes[k];
            const double apart_kgm3 = a->mud_kgm3 - b->mud_kgm3;
            const double lost_kgm2 = a->mud_kgm3 * a_m - b->mud_kgm3 * dt_load_loss_level(load, k);
            if (apart_kgm3 != 0) add_tvd(list, load, trajectory, lost_kgm2 / apart_kgm3);
        }
    }
}

/* Where a load bends. Between two of them every pressure is straight (pore pressure and overburden
 * as good as straight), so bursting and triaxial stress are largest at an end. */
static void add_bends(depth_list *list, const dt_string_load *load, const dt_trajectory *trajectory)
{
    const dt_well *well = load->well;
    const double bends[] = {load->backup_top_tvd_m, load->cement_top_tvd_m, load->spacer_top_tvd_m,
                            load->tail_top_tvd_m,   load->above_tvd_m,      well->loads.unfilled_m};
    for (size_t i = 0; i < COUNT_OF(bends); ++i)
        add_tvd(list, load, trajectory, bends[i]);
    /* what is credited outside may step at the top of the cement */
    add_tvd(list, load, trajectory, load->cement_top_tvd_m + 1e-3);
    add_losses(list, load, trajectory);
    for (size_t i = 0; i < load->lap_test_count; ++i) { /* where the test pressure ends: a step */
        add_tvd(list, load, trajectory, load->lap_tests[i].base_tvd_m);
        add_tvd(list, load, trajectory, load->lap_tests[i].base_tvd_m + 1e-3);
    }
    add_curve(list, load, trajectory, &well->pore);
    add_curve(list, load, trajectory, &well->overburden);
    for (size_t i = 0; i < well->interval_count; ++i) {
        add_tvd(list, load, trajectory, well->intervals[i].top_m);
        add_tvd(list, load, trajectory, well->intervals[i].base_m);
    }
    for (size_t i = 0; i < well->thermal.count; ++i)
        add_tvd(list, load, trajectory, well->thermal.points[i].tvd_m);
    for (size_t i = 0; i < trajectory->count; ++i)
        add_md(list, load, trajectory->nodes[i].md_m);
}

dt_status dt_spots_make(const dt_string_load *load, const dt_trajectory *trajectory, dt_spot **out,
                        size_t *count)
{
    depth_list list = {0};
    const double length_m = load->shoe_md_m - load->top_md_m;
    const int steps = (int)dt_count_up(length_m / SPOT_STEP_M);
    for (int i = 0; i < steps; ++i)
        add_md(&list, load, load->top_md_m + length_m * i / steps);
    add_md(&list, load, load->shoe_md_m);
    add_bends(&list, load, trajectory);
    dt_spot *spots = list.failed ? NULL : malloc((list.count + 1) * sizeof *spots);
    if (!spots) {
        free(list.md_m);
        return DT_E_MEMORY;
    }
    qsort(list.md_m, list.count, sizeof *list.md_m, by_value);
    size_t made = 0;
    for (size_t i = 0; i < list.count; ++i)
        if (i == 0 || list.md_m[i] - list.md_m[i - 1] > SAME_LOOK_M)
            dt_spot_fill(load, trajectory, list.md_m[i], &spots[made++]);
    free(list.md_m);
    *out = spots;
    *count = made;
    return DT_OK;
}

/* ---- resistances ---- */

dt_status dt_strength_make(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                           double wear_m, dt_strength *out)
{
    if (thread >= DT_THREAD_COUNT || !(pipe->threads & 1u << thread)) return DT_E_DOMAIN;
    dt_strength s = {.pipe = pipe,
                     .thread = thread,
                     .ring = dt_ring_of(pipe, wear_m),
                     .wall_m = pipe->wall_m - wear_m,
                     .yield_pa = pipe->grade->yield_pa,
                     .collapse_part = dt_collapse_part(pipe, thread),
                     .shape = dt_wall_shape_of(pipe->od_m, pipe->wall_m - wear_m)};
    double body_n, coupling_pa, unloaded_pa;
    dt_status status = dt_internal_yield(pipe->od_m, s.wall_m, s.yield_pa, 0.875, &s.burst_pa);
    if (status == DT_OK && thread != DT_PLAIN_END) {
        status = dt_coupling_internal_yield(catalogue, pipe, thread, &coupling_pa);
        if (status == DT_OK) s.burst_pa = fmin(s.burst_pa, coupling_pa);
    }
    if (status == DT_OK) status = dt_body_yield(pipe->od_m, s.wall_m, s.yield_pa, &body_n);
    if (status == DT_OK) status = dt_joint_strength(catalogue, pipe, thread, &s.joint_n);
    if (status == DT_OK) status = dt_collapse(pipe->od_m, s.wall_m, s.yield_pa, &unloaded_pa, NULL);
    if (status != DT_OK) return status;
    s.joint_n = fmin(s.joint_n, body_n);
    *out = s;
    return DT_OK;
}

static double area_m2(const dt_strength *s)
{
    return s->ring.outer_m2 - s->ring.inner_m2;
}

/** Bending in force on the joints. The weight that hangs alone is held without, as its larger
 * factor covers it (docs/strength.md). */
static double bending_n(const dt_strength *s, const dt_spot *spot, dt_load which)
{
    if (which == DT_LOAD_TENSION_HANG) return 0;
    return dt_bending_stress(s->pipe->od_m, spot->curvature_radm) * area_m2(s);
}

/** Pressure that counts in collapse, and the part of the axial stress that does not hang below. */
typedef struct squeeze {
    double load_pa, stress_pa;
} squeeze;

static squeeze squeeze_of(const dt_strength *s, const dt_design_in_force *design,
                          const dt_load_force *force, double inside_pa, double outside_pa)
{
    if (design->collapse_method == DT_COLLAPSE_COMBINED)
        return (squeeze){outside_pa - inside_pa, force->landed_n / area_m2(s) + inside_pa};
    return (squeeze){outside_pa - (1 - 2 * s->wall_m / s->pipe->od_m) * inside_pa, 0};
}

/** Collapse resistance under a stress; 0 where tension leaves next to no yield strength, and that
 * fails the pipe even where there is no pressure yet. */
static double collapse_pa(const dt_strength *s, double yield_pa, double stress_pa)
{
    double resistance_pa;
    if (dt_collapse_axial(s->pipe->od_m, s->wall_m, yield_pa, stress_pa, &resistance_pa, NULL) !=
        DT_OK)
        return 0;
    return resistance_pa * s->collapse_part;
}

/* ---- bounds on the weight hanging ---- */

/** Largest axial stress at which the pipe still collapses at wanted_pa or more; -INFINITY: none.
 * Any stress up to high_pa that holds may be answered by INFINITY. */
static double most_stress(const dt_strength *s, double yield_pa, double wanted_pa, double high_pa)
{
    if (collapse_pa(s, yield_pa, fmax(high_pa, 0)) >= fmax(wanted_pa, 1e-300)) return INFINITY;
    double holds_pa = 0, fails_pa = fmin(fmax(high_pa, 0), yield_pa);
    if (collapse_pa(s, yield_pa, 0) < wanted_pa) return -INFINITY;
    while (fails_pa - holds_pa > 1e3) { /* to 0.15 psi, on the side that holds */
        const double middle_pa = (holds_pa + fails_pa) / 2;
        if (collapse_pa(s, yield_pa, middle_pa) >= fmax(wanted_pa, 1e-300))
            holds_pa = middle_pa;
        else
            fails_pa = middle_pa;
    }
    return holds_pa;
}

/** Largest weight hanging at which the pipe collapses at no less than it must. */
static double most_by_collapse(const dt_strength *s, const dt_design_in_force *design,
                               const dt_spot *spot, const squeeze *q, double hanging_part,
                               double high_n)
{
    const double per_n = hanging_part / area_m2(s);
    const double stress_pa =
        most_stress(s, s->yield_pa * spot->yield_part, q->load_pa * design->collapse,
                    per_n * high_n + q->stress_pa);
    /* compression holds as zero stress does */
    return (stress_pa - q->stress_pa) / per_n;
}

/** The same by bursting (all or nothing) and by tension. */
static double most_by_own_check(const dt_strength *s, const dt_design_in_force *design,
                                const dt_spot *spot, dt_load which, const dt_load_force *force)
{
    switch (dt_load_check(which)) {
    case DT_CHECK_BURST:
        return dt_reaches(s->burst_pa * spot->yield_part,
                          (spot->inside_pa[which] - spot->outside_pa[which]) * design->burst)
                   ? INFINITY
                   : -INFINITY;
    case DT_CHECK_TENSION:
        return (s->joint_n * spot->yield_part / dt_design_needed(design, which) - force->pull_n -
                bending_n(s, spot, which)) /
               force->hanging_part;
    case DT_CHECK_COLLAPSE:
    case DT_CHECK_TRIAXIAL:
    case DT_CHECK_COUNT:
        break;
    }
    return INFINITY;
}

static void add_triaxial(const dt_strength *s, const dt_design_in_force *design,
                         const dt_spot *spot, dt_load which, const dt_load_force *force,
                         double *least_n, double *most_n)
{
    const dt_pipe_load pressures = {spot->inside_pa[which], spot->outside_pa[which], 0,
                                    spot->curvature_radm};
    double least_axial_n, most_axial_n;
    if (dt_triaxial_range(s->pipe->od_m, s->wall_m, &pressures,
                          s->yield_pa * spot->yield_part / design->triaxial, &least_axial_n,
                          &most_axial_n) != DT_OK) {
        *least_n = INFINITY;
        return;
    }
    *least_n = fmax(*least_n, (least_axial_n - force->axial_n) / force->hanging_part);
    *most_n = fmin(*most_n, (most_axial_n - force->axial_n) / force->hanging_part);
}

void dt_strength_limits(const dt_strength *s, const dt_string_load *load,
                        const dt_design_in_force *design, const dt_spot *spot, double high_n,
                        double *least_n, double *most_n)
{
    double least = -INFINITY, most = high_n, hanging_part = 1;
    squeeze hardest = {-INFINITY, -INFINITY}; /* of cases with one and the same stress */
    for (int i = 0; i < DT_LOAD_COUNT && most >= least; ++i) {
        const dt_load which = (dt_load)i;
        if (!load->runs[i]) continue;
        const dt_load_point at = point_of(spot, which);
        const dt_load_force force = dt_load_force_at(load, which, &s->ring, spot->tvd_m, &at);
        hanging_part = force.hanging_part;
        most = fmin(most, most_by_own_check(s, design, spot, which, &force));
        add_triaxial(s, design, spot, which, &force, &least, &most);
        if (dt_load_check(which) != DT_CHECK_COLLAPSE) continue;
        const squeeze q = squeeze_of(s, design, &force, at.inside_pa, at.outside_pa);
        if (design->collapse_method == DT_COLLAPSE_COMBINED)
            most = fmin(most, most_by_collapse(s, design, spot, &q, hanging_part, high_n));
        else if (q.load_pa > hardest.load_pa)
            hardest = q;
    }
    if (most >= least && hardest.load_pa > -INFINITY)
        most = fmin(most, most_by_collapse(s, design, spot, &hardest, hanging_part, most));
    if (!(most >= least)) {
        least = INFINITY;
        most = -INFINITY;
    }
    *least_n = least;
    *most_n = most;
}

unsigned dt_strength_mark(const dt_strength *s, const dt_string_load *load,
                          const dt_design_in_force *design, const dt_spot *spot, double most_n)
{
    unsigned mark = 0;
    for (int i = 0; i < DT_LOAD_COUNT; ++i) {
        const dt_load which = (dt_load)i;
        if (!load->runs[i] || dt_load_check(which) != DT_CHECK_COLLAPSE) continue;
        const dt_load_point at = point_of(spot, which);
        const dt_load_force force = dt_load_force_at(load, which, &s->ring, spot->tvd_m, &at);
        const squeeze q = squeeze_of(s, design, &force, at.inside_pa, at.outside_pa);
        const double stress_pa = force.hanging_part * most_n / area_m2(s) + q.stress_pa;
        double unused_pa;
        dt_regime regime = DT_REGIME_COUNT;
        (void)dt_collapse_axial(s->pipe->od_m, s->wall_m, s->yield_pa * spot->yield_part, stress_pa,
                                &unused_pa, &regime);
        mark = mark * (DT_REGIME_COUNT + 1) + regime;
    }
    return mark;
}

/* ---- yes or no ---- */

/** One pipe over a whole string, held against some of its cases. */
typedef struct holding {
    const dt_strength *s;
    const dt_string_load *load;
    const dt_design_in_force *design;
    const dt_spot *spots;
    const dt_columns *columns; /* the same spots */
    dt_load cases[DT_LOAD_COUNT];
    size_t case_count;
    bool by_stretch; /* collapse: the stress at the top of a stretch is its largest */
    double pull_n;
} holding;

/** A load that is none but for what reckoning leaves of differences of pressure or force is none.
 */
static double factor_of(double load, double resistance)
{
    return load > TIE_PA ? resistance / load : resistance > 0 ? INFINITY : 0;
}

/** As consider() and dt_screen_conclude() have it. */
static bool enough(double load, double resistance, double needed)
{
    return dt_reaches(factor_of(load, resistance), needed);
}

static double hanging_n(const holding *h, const dt_spot *spot)
{
    return h->s->pipe->weight_kgm * DT_STANDARD_GRAVITY * (h->load->shoe_tvd_m - spot->tvd_m);
}

/** Is the triaxial stress no more than it may be? Reckoned in full where a quick look leaves doubt.
 */
static bool triaxial_holds(const holding *h, const dt_pipe_load *cut, double yield_pa)
{
    const double needed = h->design->triaxial;
    switch (dt_triaxial_look(&h->s->shape, cut, yield_pa / needed)) {
    case DT_SURELY_UNDER:
        return true;
    case DT_SURELY_OVER:
        return false;
    case DT_NEAR_LIMIT:
        break;
    }
    double stress_pa;
    return dt_triaxial(h->s->pipe->od_m, h->s->wall_m, cut, &stress_pa, NULL) == DT_OK &&
           enough(stress_pa, yield_pa, needed);
}

static dt_load_force force_at(const holding *h, const dt_spot *spot, dt_load which)
{
    const dt_load_point at = point_of(spot, which);
    return dt_load_force_at(h->load, which, &h->s->ring, spot->tvd_m, &at);
}

/** Tension at one spot, of a case that is checked for it. */
static bool pull_holds(holding *h, const dt_spot *spot, dt_load which, const dt_load_force *force,
                       double needed)
{
    const double pull_n =
        force->hanging_part * hanging_n(h, spot) + force->pull_n + bending_n(h->s, spot, which);
    if (!enough(pull_n, h->s->joint_n * spot->yield_part, needed)) return false;
    if (which == DT_LOAD_TENSION_RUN || which == DT_LOAD_TENSION_SHOCK)
        h->pull_n = fmax(h->pull_n, pull_n);
    return true;
}

/** All but collapse, at one spot. */
static bool spot_holds(holding *h, const dt_spot *spot)
{
    const dt_strength *s = h->s;
    const double hung_n = hanging_n(h, spot), yield_pa = s->yield_pa * spot->yield_part;
    for (size_t i = 0; i < h->case_count; ++i) {
        const dt_load which = h->cases[i];
        const double inside_pa = spot->inside_pa[which], outside_pa = spot->outside_pa[which];
        const dt_check check = dt_load_check(which);
        if (check == DT_CHECK_BURST &&
            !enough(inside_pa - outside_pa, s->burst_pa * spot->yield_part, h->design->burst))
            return false;
        const dt_load_force force = force_at(h, spot, which);
        if (check == DT_CHECK_TENSION &&
            !pull_holds(h, spot, which, &force, dt_design_needed(h->design, which)))
            return false;
        const dt_pipe_load cut = {inside_pa, outside_pa,
                                  force.hanging_part * hung_n + force.axial_n,
                                  spot->curvature_radm};
        if (!triaxial_holds(h, &cut, yield_pa)) return false;
    }
    return true;
}

/** Tension alone, at all spots. */
static bool pulls_hold(holding *h, size_t count)
{
    for (size_t i = 0; i < h->case_count; ++i) {
        const dt_load which = h->cases[i];
        if (dt_load_check(which) != DT_CHECK_TENSION) continue;
        const double needed = dt_design_needed(h->design, which);
        for (size_t k = 0; k < count; ++k) {
            const dt_load_force force = force_at(h, &h->spots[k], which);
            if (!pull_holds(h, &h->spots[k], which, &force, needed)) return false;
        }
    }
    return true;
}

/** All but collapse at all spots: case by case at a glance, and spot by spot where that leaves
 * doubt. */
static bool spots_hold(holding *h)
{
    const dt_columns *columns = h->columns;
    bool unseen = false;
    for (size_t i = 0; i < h->case_count; ++i) {
        const dt_sight sight = dt_columns_look(columns, h->s, h->load, h->design, h->cases[i]);
        if (sight == DT_SEEN_FAILING) return false;
        unseen = unseen || sight == DT_UNSEEN;
    }
    if (!unseen) return pulls_hold(h, columns->count);
    for (size_t k = 0; k < columns->count; ++k)
        if (!spot_holds(h, &h->spots[k])) return false;
    return true;
}

/** Collapse at one spot: with reduced yield the hardest pressure counts, its stress is that of all.
 */
static bool spot_stands(const holding *h, const dt_spot *spot)
{
    const double yield_pa = h->s->yield_pa * spot->yield_part;
    for (size_t i = 0; i < h->case_count; ++i) {
        const dt_load which = h->cases[i];
        if (dt_load_check(which) != DT_CHECK_COLLAPSE) continue;
        const dt_load_force force = force_at(h, spot, which);
        const squeeze q =
            squeeze_of(h->s, h->design, &force, spot->inside_pa[which], spot->outside_pa[which]);
        const double stress_pa =
            fmax(force.hanging_part * hanging_n(h, spot) / area_m2(h->s) + q.stress_pa, 0);
        if (!enough(q.load_pa, collapse_pa(h->s, yield_pa, stress_pa), h->design->collapse))
            return false;
    }
    return true;
}

/** Largest collapse load of the spots from first to last; -INFINITY without such a case. */
static double hardest_pa(const holding *h, size_t first, size_t last)
{
    double hardest = -INFINITY;
    for (size_t i = 0; i < h->case_count; ++i) {
        const dt_load which = h->cases[i];
        if (dt_load_check(which) != DT_CHECK_COLLAPSE) continue;
        const double *inside_pa = dt_columns_inside(h->columns, which);
        const double *outside_pa = inside_pa + h->columns->count;
        const dt_load_force none = {0};
        for (size_t k = first; k <= last; ++k) {
            const double load_pa =
                squeeze_of(h->s, h->design, &none, inside_pa[k], outside_pa[k]).load_pa;
            hardest = load_pa > hardest ? load_pa : hardest;
        }
    }
    return hardest;
}

/** A stretch that holds its hardest load under its largest stress holds at all its spots; else
 * each half is looked at. */
static bool stretch_stands(const holding *h, size_t first, size_t last)
{
    const double hardest = hardest_pa(h, first, last);
    if (hardest == -INFINITY) return true;
    if (first == last || !h->by_stretch) {
        for (size_t k = first; k <= last; ++k)
            if (!spot_stands(h, &h->spots[k])) return false;
        return true;
    }
    const dt_load_force force = force_at(h, &h->spots[first], DT_LOAD_COLLAPSE_CEMENT);
    const double stress_pa =
        fmax(force.hanging_part * hanging_n(h, &h->spots[first]) / area_m2(h->s), 0);
    if (enough(hardest, collapse_pa(h->s, h->s->yield_pa, stress_pa), h->design->collapse))
        return true;
    const size_t middle = (first + last) / 2;
    return stretch_stands(h, middle + 1, last) && stretch_stands(h, first, middle);
}

bool dt_strength_holds(const dt_strength *s, const dt_string_load *load,
                       const dt_design_in_force *design, const dt_spot *spots,
                       const dt_columns *columns, const bool cases[DT_LOAD_COUNT], double *pull_n)
{
    const size_t count = columns->count;
    holding h = {.s = s,
                 .load = load,
                 .design = design,
                 .spots = spots,
                 .columns = columns,
                 .by_stretch = design->collapse_method == DT_COLLAPSE_REDUCED_YIELD &&
                               !load->well->thermal.derating_count};
    for (int i = 0; i < DT_LOAD_COUNT; ++i)
        if (cases[i] && load->runs[i]) h.cases[h.case_count++] = (dt_load)i;
    *pull_n = 0;
    if (h.case_count == 0 || count == 0) return true;
    /* the shoe first: what fails mostly fails there */
    if (!spot_holds(&h, &spots[count - 1]) || !spot_stands(&h, &spots[count - 1])) return false;
    if (!spots_hold(&h)) return false;
    *pull_n = h.pull_n;
    return stretch_stands(&h, 0, count - 1);
}

/* ---- factors ---- */

static const dt_factor no_factor = {NAN, NAN, NAN, NAN, NAN, NAN};

void dt_screen_begin(const dt_design_in_force *design, dt_screen *out)
{
    *out = (dt_screen){.worst = DT_LOAD_COUNT};
    for (int i = 0; i < DT_CHECK_COUNT; ++i) {
        out->by_check[i] = no_factor;
        out->load_of_check[i] = DT_LOAD_COUNT;
    }
    for (int i = 0; i < DT_LOAD_COUNT; ++i) {
        out->by_load[i] = no_factor;
        out->by_load[i].needed = dt_design_needed(design, (dt_load)i);
        out->by_check[dt_load_check((dt_load)i)].needed = out->by_load[i].needed;
    }
    out->by_check[DT_CHECK_TRIAXIAL].needed = design->triaxial; /* every case is checked so */
}

/** Is a factor at a depth worse than the worst so far? Of depths that tie the shallower is named.
 */
static bool is_worse(const dt_factor *worst, double factor, double load, double md_m)
{
    if (isnan(worst->factor)) return true;
    /* among depths that load nothing the one nearest to doing so is named */
    if (isinf(worst->factor)) return !isinf(factor) || dt_less_by(worst->load, load, TIE_PA);
    const double slack = TIE * worst->factor;
    if (factor < worst->factor - slack) return true;
    return factor <= worst->factor + slack && md_m < worst->at_md_m - SAME_DEPTH_M;
}

/** Keeps the factor that is smaller for what it needs to be. True when it was this one. */
static bool consider(dt_factor *worst, double load, double resistance, double needed,
                     const dt_spot *spot)
{
    const double factor = factor_of(load, resistance);
    /* as if it needed what the worst so far does: tension has two factors */
    if (!is_worse(worst, factor * (worst->needed / needed), load, spot->md_m)) return false;
    worst->factor = factor;
    worst->needed = needed;
    worst->load = load;
    worst->resistance = resistance;
    worst->at_md_m = spot->md_m;
    worst->at_tvd_m = spot->tvd_m;
    return true;
}

static void consider_both(dt_screen *screen, dt_load which, double load, double resistance,
                          const dt_spot *spot)
{
    const dt_check check = dt_load_check(which);
    const double needed = screen->by_load[which].needed;
    consider(&screen->by_load[which], load, resistance, needed, spot);
    if (consider(&screen->by_check[check], load, resistance, needed, spot))
        screen->load_of_check[check] = which;
}

static void add_own_check(dt_screen *screen, const dt_strength *s, const dt_design_in_force *design,
                          const dt_spot *spot, dt_load which, const dt_load_force *force,
                          double hanging_n)
{
    const double inside_pa = spot->inside_pa[which], outside_pa = spot->outside_pa[which];
    switch (dt_load_check(which)) {
    case DT_CHECK_BURST:
        consider_both(screen, which, inside_pa - outside_pa, s->burst_pa * spot->yield_part, spot);
        break;
    case DT_CHECK_COLLAPSE: {
        const squeeze q = squeeze_of(s, design, force, inside_pa, outside_pa);
        const double stress_pa =
            fmax(force->hanging_part * hanging_n / area_m2(s) + q.stress_pa, 0);
        consider_both(screen, which, q.load_pa,
                      collapse_pa(s, s->yield_pa * spot->yield_part, stress_pa), spot);
        break;
    }
    case DT_CHECK_TENSION:
        consider_both(screen, which,
                      force->hanging_part * hanging_n + force->pull_n + bending_n(s, spot, which),
                      s->joint_n * spot->yield_part, spot);
        break;
    case DT_CHECK_TRIAXIAL:
    case DT_CHECK_COUNT:
        break;
    }
}

void dt_screen_add(dt_screen *screen, const dt_strength *s, const dt_string_load *load,
                   const dt_design_in_force *design, const dt_spot *spot, double hanging_n)
{
    for (int i = 0; i < DT_LOAD_COUNT; ++i) {
        const dt_load which = (dt_load)i;
        if (!load->runs[i]) continue;
        const dt_load_point at = point_of(spot, which);
        const dt_load_force force = dt_load_force_at(load, which, &s->ring, spot->tvd_m, &at);
        add_own_check(screen, s, design, spot, which, &force, hanging_n);
        const dt_pipe_load cut = {at.inside_pa, at.outside_pa,
                                  force.hanging_part * hanging_n + force.axial_n,
                                  spot->curvature_radm};
        double stress_pa;
        if (dt_triaxial(s->pipe->od_m, s->wall_m, &cut, &stress_pa, NULL) != DT_OK)
            stress_pa = INFINITY;
        if (consider(&screen->by_check[DT_CHECK_TRIAXIAL], stress_pa,
                     s->yield_pa * spot->yield_part, design->triaxial, spot))
            screen->load_of_check[DT_CHECK_TRIAXIAL] = which;
    }
}

void dt_screen_conclude(dt_screen *screen)
{
    double least = INFINITY;
    screen->ok = true;
    screen->worst_check = DT_CHECK_TENSION; /* looked at for every string */
    screen->worst = screen->load_of_check[DT_CHECK_TENSION];
    for (int i = 0; i < DT_CHECK_COUNT; ++i) {
        const dt_factor *f = &screen->by_check[i];
        if (isnan(f->factor)) continue;
        if (!dt_reaches(f->factor, f->needed)) screen->ok = false;
        if (!dt_less(f->factor / f->needed, least)) continue;
        least = f->factor / f->needed;
        screen->worst_check = (dt_check)i;
        screen->worst = screen->load_of_check[i];
    }
}

dt_status dt_string_screen(const dt_catalogue *catalogue, const dt_pipe *pipe, dt_thread thread,
                           const dt_string_load *load, const dt_trajectory *trajectory,
                           const dt_design_in_force *design, dt_screen *out)
{
    dt_strength strength;
    dt_status status = dt_strength_make(catalogue, pipe, thread, load->wear_m, &strength);
    if (status != DT_OK) return status;
    dt_string_load fitted = *load;
    dt_string_load_fit(&fitted, pipe->od_m - 2 * pipe->wall_m);
    dt_spot *spots;
    size_t count;
    status = dt_spots_make(&fitted, trajectory, &spots, &count);
    if (status != DT_OK) return status;
    dt_screen screen;
    dt_screen_begin(design, &screen);
    for (size_t i = 0; i < count; ++i)
        dt_screen_add(&screen, &strength, &fitted, design, &spots[i],
                      pipe->weight_kgm * DT_STANDARD_GRAVITY * (load->shoe_tvd_m - spots[i].tvd_m));
    dt_screen_conclude(&screen);
    free(spots);
    *out = screen;
    return DT_OK;
}
