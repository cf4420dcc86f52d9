/* SPDX-License-Identifier: MIT */
#include "placement.h"

#include <math.h>
#include <stdlib.h>

#include "numbers.h"
#include "same.h"
#include "units.h"

#define STEPS 60 /* looks at the job between the moments at which a liquid arrives somewhere */

static const double G = DT_STANDARD_GRAVITY;

/** Of nodes at one depth those of the rock stand first: an order that every qsort() keeps. */
static int by_depth(const void *left, const void *right)
{
    const placement_node *a = left, *b = right;
    if (a->md_m < b->md_m || a->md_m > b->md_m) return a->md_m > b->md_m ? 1 : -1;
    return (a->exposed > b->exposed) - (a->exposed < b->exposed);
}

/** The excess that a stretch of annulus was planned with: that of the slurry that ends there. */
static const dt_cement_part *planned_with(const dt_cement *cement, double md_m)
{
    size_t i = 0;
    while (i + 1 < cement->part_count && cement->parts[i + 1].top_md_m <= md_m)
        ++i;
    return &cement->parts[i];
}

static void fill_nodes(placement *p, const dt_cement *cement)
{
    const dt_annulus *a = p->job->annulus;
    placement_node *nodes = p->nodes;
    nodes[p->node_count - 1].below_m3 = 0;
    for (size_t i = p->node_count; i-- > 0;) {
        nodes[i].tvd_m = dt_trajectory_deepest(p->job->trajectory, nodes[i].md_m);
        if (i + 1 == p->node_count) continue;
        double middle = (nodes[i].md_m + nodes[i + 1].md_m) / 2;
        const dt_cement_part *part = planned_with(cement, middle);
        nodes[i].below_m3 =
            nodes[i + 1].below_m3 +
            dt_annulus_volume(a, nodes[i].md_m, nodes[i + 1].md_m, part->excess, part->excess_on);
    }
}

/** Friction from the top down to each node, for each liquid alone and each rate. */
static void fill_friction(placement *p)
{
    const dt_annulus *a = p->job->annulus;
    const double rates[2] = {p->job->settings.mix_rate_m3s, p->job->settings.displacement_rate_m3s};
    size_t n = p->node_count;
    for (size_t r = 0; r < 2; ++r)
        for (size_t k = 0; k < p->liquid_count; ++k) {
            double *row = p->friction + (r * p->liquid_count + k) * n;
            row[0] = 0;
            for (size_t i = 1; i < n; ++i) {
                double middle = (p->nodes[i - 1].md_m + p->nodes[i].md_m) / 2;
                const dt_annulus_piece *piece = dt_annulus_at(a, middle);
                double outer = dt_annulus_outer(piece, middle);
                double gap_area = PI / 4 * (outer * outer - piece->pipe_od_m * piece->pipe_od_m);
                double gradient =
                    gap_area > 0 ? dt_friction_annulus(outer, piece->pipe_od_m, rates[r] / gap_area,
                                                       p->liquids[k].liquid)
                                 : INFINITY;
                row[i] = row[i - 1] + gradient * (p->nodes[i].md_m - p->nodes[i - 1].md_m);
            }
        }
}

static void fill_liquids(placement *p, const dt_cement *cement)
{
    const dt_cement_settings *s = &p->job->settings;
    dt_liquid mud = s->mud, spacer = s->spacer, slurry = s->slurry;
    mud.density_kgm3 = cement->mud_kgm3;
    spacer.density_kgm3 = cement->spacer_kgm3;
    size_t last = p->liquid_count - 1;
    p->liquids[0] = (placement_liquid){mud, 0, "before the spacer", s->mix_rate_m3s};
    p->liquids[1] = (placement_liquid){spacer, cement->spacer_m3, "while the spacer is pumped",
                                       s->mix_rate_m3s};
    for (size_t i = 0; i < cement->part_count; ++i) {
        const dt_cement_part *part = &cement->parts[i];
        slurry.density_kgm3 = part->slurry.density_kgm3;
        const char *moment =
            i + 1 == cement->part_count ? "while the tail is mixed" : "while the lead is mixed";
        p->liquids[2 + i] =
            (placement_liquid){slurry, part->volume_m3 - part->rathole_m3, moment, s->mix_rate_m3s};
    }
    mud.density_kgm3 = cement->displacement_kgm3;
    p->liquids[last] = (placement_liquid){mud, cement->displacement_m3, "while it is displaced",
                                          s->displacement_rate_m3s};
}

/** Equal bores in a row are one. */
static void add_bore(placement *p, double id_m, double base_md_m)
{
    const bool same = p->bore_count && p->bores[p->bore_count - 1].id_m == id_m;
    if (!same) p->bores[p->bore_count++].id_m = id_m;
    p->bores[p->bore_count - 1].base_md_m = base_md_m;
}

dt_status placement_build(const dt_cement_job *job, const dt_cement *cement, placement *out)
{
    const dt_annulus *a = job->annulus;
    size_t most = a->count + 1 + job->exposed_count + cement->part_count;
    *out = (placement){.job = job, .liquid_count = cement->part_count + 3};
    out->liquids = calloc(out->liquid_count, sizeof *out->liquids);
    out->nodes = calloc(most, sizeof *out->nodes);
    out->edges = calloc(out->liquid_count + 1, sizeof *out->edges);
    out->levels = calloc(out->liquid_count, sizeof *out->levels);
    out->bores = calloc(a->count + 1, sizeof *out->bores);
    out->friction = calloc(2 * out->liquid_count * most, sizeof *out->friction);
    if (!out->liquids || !out->nodes || !out->edges || !out->levels || !out->bores ||
        !out->friction) {
        placement_free(out);
        return DT_E_MEMORY;
    }
    size_t n = 0;
    for (size_t i = 0; i < job->exposed_count; ++i)
        out->nodes[n++] = (placement_node){.md_m = job->exposed[i].md_m, .exposed = i};
    for (size_t i = 0; i <= a->count; ++i)
        out->nodes[n++] = (placement_node){
            .md_m = i < a->count ? a->pieces[i].top_md_m : a->shoe_md_m, .exposed = DT_NO_INDEX};
    for (size_t i = 0; i < cement->part_count; ++i)
        out->nodes[n++] =
            (placement_node){.md_m = cement->parts[i].top_md_m, .exposed = DT_NO_INDEX};
    qsort(out->nodes, n, sizeof *out->nodes, by_depth);
    out->node_count = n;
    fill_nodes(out, cement);
    fill_liquids(out, cement);
    fill_friction(out);
    if (a->pieces[0].top_md_m > 0) add_bore(out, a->above_id_m, a->pieces[0].top_md_m);
    for (size_t i = 0; i < a->count; ++i)
        add_bore(out, a->pieces[i].pipe_id_m, a->pieces[i].base_md_m);
    out->bore_m3 = dt_annulus_bore(a, 0, a->shoe_md_m);
    return DT_OK;
}

void placement_free(placement *p)
{
    free(p->liquids);
    free(p->nodes);
    free(p->edges);
    free(p->levels);
    free(p->bores);
    free(p->friction);
    *p = (placement){0};
}

/* ---- where the liquids are ---- */

/** Depth up to which a volume that came round the shoe fills the annulus. */
static double annulus_depth(const placement *p, double volume_m3)
{
    const placement_node *nodes = p->nodes;
    if (volume_m3 <= 0) return nodes[p->node_count - 1].md_m;
    if (volume_m3 >= nodes[0].below_m3) return nodes[0].md_m;
    size_t low = 0, high = p->node_count - 1; /* below_m3 falls going down */
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (nodes[middle].below_m3 >= volume_m3)
            low = middle;
        else
            high = middle;
    }
    double span = nodes[low].below_m3 - nodes[high].below_m3;
    double share = span > 0 ? (nodes[low].below_m3 - volume_m3) / span : 0;
    return nodes[low].md_m + share * (nodes[high].md_m - nodes[low].md_m);
}

/** Share of the way between the two nodes round a depth: for sums kept at nodes. */
static double between(const placement *p, const double *sums, double md_m)
{
    size_t low = 0, high = p->node_count - 1;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (p->nodes[middle].md_m <= md_m)
            low = middle;
        else
            high = middle;
    }
    double span = p->nodes[high].md_m - p->nodes[low].md_m;
    if (span <= 0) return sums[low];
    return sums[low] + (md_m - p->nodes[low].md_m) / span * (sums[high] - sums[low]);
}

/** After p->edges: what each liquid carries on its top. */
static void settle_levels(placement *p)
{
    size_t n = p->node_count;
    placement_level above = {.tvd_m = p->nodes[0].tvd_m,
                             .static_pa = p->job->annulus->top_pressure_pa};
    double friction[2] = {0, 0};
    for (size_t k = 0; k < p->liquid_count; ++k) {
        placement_level *level = &p->levels[k];
        *level = above;
        double top = p->edges[k], base = p->edges[k + 1];
        bool any = base > top;
        for (size_t r = 0; r < 2; ++r) {
            const double *row = p->friction + (r * p->liquid_count + k) * n;
            level->offset_pa[r] = friction[r] - (any ? between(p, row, top) : 0);
            if (any) friction[r] = level->offset_pa[r] + between(p, row, base);
        }
        if (!any) continue;
        above.tvd_m = dt_trajectory_deepest(p->job->trajectory, base);
        above.static_pa += p->liquids[k].liquid.density_kgm3 * G * (above.tvd_m - level->tvd_m);
    }
}

void placement_at(placement *p, double pumped_m3)
{
    double start = 0;
    p->edges[0] = p->nodes[0].md_m;
    for (size_t k = 1; k < p->liquid_count; ++k) {
        p->edges[k] = annulus_depth(p, pumped_m3 - start - p->bore_m3);
        start += p->liquids[k].volume_m3;
    }
    p->edges[p->liquid_count] = p->nodes[p->node_count - 1].md_m;
    settle_levels(p);
}

void placement_end(placement *p, const dt_cement *cement, double top_md_m)
{
    size_t last = p->liquid_count - 1;
    double shoe = p->nodes[p->node_count - 1].md_m, top = p->nodes[0].md_m;
    p->edges[0] = top;
    p->edges[1] = fmax(top, top_md_m - p->job->settings.spacer_length_m);
    p->edges[2] = top_md_m;
    for (size_t i = 1; i < cement->part_count; ++i)
        p->edges[2 + i] = fmax(cement->parts[i].top_md_m, top_md_m);
    p->edges[last] = p->edges[last + 1] = shoe;
    settle_levels(p);
}

double placement_pressure(const placement *p, size_t node, int rate)
{
    const placement_node *at = &p->nodes[node];
    size_t k = 0;
    while (k + 1 < p->liquid_count && p->edges[k + 1] < at->md_m - SAME_DEPTH_M)
        ++k;
    const placement_level *level = &p->levels[k];
    double pressure =
        level->static_pa + p->liquids[k].liquid.density_kgm3 * G * (at->tvd_m - level->tvd_m);
    if (rate == PLACEMENT_AT_REST) return pressure;
    const double *row = p->friction + ((size_t)rate * p->liquid_count + k) * p->node_count;
    return pressure + level->offset_pa[rate] + row[node];
}

static dt_tight_spot spot_at(const placement *p, size_t node, int rate)
{
    const dt_margin *margin = &p->job->settings.margin;
    const dt_exposed *rock = &p->job->exposed[p->nodes[node].exposed];
    dt_tight_spot at = {.md_m = rock->md_m, .tvd_m = rock->tvd_m};
    at.pressure_pa = placement_pressure(p, node, rate);
    at.fracture_pa = rock->fracture_pa;
    at.needed_pa = margin->emw_kgm3 * G * rock->tvd_m + margin->pressure_pa;
    at.spare_pa = at.fracture_pa - at.pressure_pa - at.needed_pa;
    return at;
}

/** Does one liquid stand all the way between two depths? Then pressure is straight there. */
static bool is_one_liquid(const placement *p, double top_md_m, double base_md_m)
{
    for (size_t k = 1; k < p->liquid_count; ++k)
        if (p->edges[k] > top_md_m + SAME_DEPTH_M && p->edges[k] < base_md_m - SAME_DEPTH_M)
            return false;
    return true;
}

/** Pressure where a liquid begins, from the one above. */
static double pressure_on_top(const placement *p, size_t k, int rate)
{
    const placement_level *level = &p->levels[k];
    if (rate == PLACEMENT_AT_REST) return level->static_pa;
    const double *row = p->friction + ((size_t)rate * p->liquid_count + k) * p->node_count;
    return level->static_pa + level->offset_pa[rate] + between(p, row, p->edges[k]);
}

/** Fracture pressure between two looks, as dt_tight_between() has it. */
static double rock_between(const dt_exposed *above, const dt_exposed *below, double tvd_m)
{
    const double share = (tvd_m - above->tvd_m) / (below->tvd_m - above->tvd_m);
    const double rise_pa = below->above_pa - above->below_pa - below->sag_pa;
    return above->below_pa + share * (rise_pa + share * below->sag_pa);
}

static double left_of(const dt_tight_spot *at)
{
    return at->fracture_pa - at->pressure_pa;
}

/** Keeps a spot where less is left, the margin counted and not; of equals the first. */
static void keep(const dt_tight_spot *at, dt_tight_spot *tight, dt_tight_spot *barest)
{
    if (at->spare_pa < tight->spare_pa - TIE_PA) *tight = *at;
    if (barest && left_of(at) < left_of(barest) - TIE_PA) *barest = *at;
}

/** Liquids that meet between two looks: under a heavier one that is where least is left. */
static void look_where_liquids_meet(const placement *p, int rate, const dt_exposed *rock,
                                    dt_tight_spot *tight, dt_tight_spot *barest)
{
    const dt_margin *margin = &p->job->settings.margin;
    for (size_t k = 1; k < p->liquid_count; ++k) {
        const double md_m = p->edges[k], tvd_m = p->levels[k].tvd_m;
        const bool any = p->edges[k + 1] > md_m; /* of it in the annulus */
        if (!any || !(md_m > rock[-1].md_m + SAME_DEPTH_M && md_m < rock->md_m - SAME_DEPTH_M))
            continue;
        dt_tight_spot at = {.md_m = md_m, .tvd_m = tvd_m};
        at.pressure_pa = pressure_on_top(p, k, rate);
        at.fracture_pa = rock_between(rock - 1, rock, tvd_m);
        at.needed_pa = margin->emw_kgm3 * G * tvd_m + margin->pressure_pa;
        at.spare_pa = at.fracture_pa - at.pressure_pa - at.needed_pa;
        keep(&at, tight, barest);
    }
}

dt_tight_spot placement_tight(const placement *p, int rate, dt_tight_spot *barest)
{
    dt_tight_spot worst = {.spare_pa = INFINITY}, before = worst, inside;
    double bend_md_m = -INFINITY; /* where friction last changed, not at a look */
    if (barest) *barest = (dt_tight_spot){.fracture_pa = INFINITY};
    for (size_t i = 0; i < p->node_count; ++i) {
        const size_t exposed_at = p->nodes[i].exposed;
        if (exposed_at == DT_NO_INDEX) {
            bend_md_m = p->nodes[i].md_m;
            continue;
        }
        const dt_tight_spot at = spot_at(p, i, rate);
        const dt_exposed *rock = &p->job->exposed[exposed_at];
        /* a bend at a look but for the last digit is none between looks */
        const bool bends =
            bend_md_m > before.md_m + SAME_DEPTH_M && bend_md_m < at.md_m - SAME_DEPTH_M;
        if (exposed_at > 0 && !bends && is_one_liquid(p, before.md_m, at.md_m) &&
            dt_tight_between(rock - 1, rock, &before, &at, &inside))
            keep(&inside, &worst, barest);
        if (exposed_at > 0) look_where_liquids_meet(p, rate, rock, &worst, barest);
        keep(&at, &worst, barest);
        before = at;
    }
    return worst;
}

/* ---- inside the pipe ---- */

/** Depth in the pipe that a volume from the surface reaches. */
static double bore_depth(const placement *p, double volume_m3)
{
    double at = 0;
    for (size_t i = 0; i < p->bore_count; ++i) {
        double to = p->bores[i].base_md_m, d = p->bores[i].id_m;
        double holds = PI / 4 * d * d * (to - at);
        if (volume_m3 <= holds) return at + volume_m3 / (PI / 4 * d * d);
        volume_m3 -= holds;
        at = to;
    }
    return at;
}

static double bore_friction(const placement *p, double from_m, double to_m, double rate_m3s,
                            dt_liquid liquid)
{
    double sum = 0, top = 0;
    for (size_t i = 0; i < p->bore_count; ++i) {
        double length = fmin(p->bores[i].base_md_m, to_m) - fmax(top, from_m);
        double d = p->bores[i].id_m;
        top = p->bores[i].base_md_m;
        if (length > 0) sum += length * dt_friction_pipe(d, rate_m3s / (PI / 4 * d * d), liquid);
    }
    return sum;
}

/** Weight of the liquids in the pipe at the shoe, and their friction on the way. */
static double inside_pressure(const placement *p, double pumped_m3, double rate_m3s,
                              double *friction_pa)
{
    double pressure = 0, start = 0, top = 0;
    for (size_t k = 1; k < p->liquid_count; ++k)
        start += p->liquids[k].volume_m3;
    *friction_pa = 0;
    for (size_t k = p->liquid_count; k-- > 0;) { /* the last pumped stands highest */
        const dt_liquid *liquid = &p->liquids[k].liquid;
        start -= p->liquids[k].volume_m3;
        double led = k == 0 ? INFINITY : pumped_m3 - start;
        if (led <= 0) continue;
        double base = led >= p->bore_m3 ? p->job->annulus->shoe_md_m : bore_depth(p, led);
        if (base <= top) continue;
        double from = dt_trajectory_deepest(p->job->trajectory, top);
        double to = dt_trajectory_deepest(p->job->trajectory, base);
        pressure += liquid->density_kgm3 * G * (to - from);
        *friction_pa += bore_friction(p, top, base, rate_m3s, *liquid);
        top = base;
    }
    return pressure;
}

/* ---- the whole job ---- */

/** The pumped volumes worth a look: each liquid's front at each node, and steps between. */
static size_t moments(const placement *p, double *list)
{
    size_t n = 0;
    double total = 0, start = 0;
    for (size_t k = 1; k < p->liquid_count; ++k)
        total += p->liquids[k].volume_m3;
    for (size_t k = 1; k < p->liquid_count; ++k) {
        list[n++] = start;
        for (size_t i = 0; i < p->node_count; ++i) {
            double at = start + p->bore_m3 + p->nodes[i].below_m3;
            if (at < total) list[n++] = at;
        }
        start += p->liquids[k].volume_m3;
    }
    for (int i = 0; i <= STEPS; ++i)
        list[n++] = total * i / STEPS;
    qsort(list, n, sizeof *list, by_value);
    return n;
}

static void look(placement *p, double pumped_m3, dt_cement *out)
{
    size_t last = p->liquid_count - 1, k = 1;
    double begun = p->liquids[1].volume_m3;
    while (k < last && pumped_m3 > begun + SAME_LOOK_M3)
        begun += p->liquids[++k].volume_m3;
    int rate = k == last ? PLACEMENT_DISPLACING : PLACEMENT_MIXING;
    placement_at(p, pumped_m3);
    dt_tight_spot barest;
    const dt_tight_spot tight = placement_tight(p, rate, &barest);
    if (tight.spare_pa < out->tight.spare_pa - TIE_PA) {
        out->tight = tight;
        out->tight_pumped_m3 = pumped_m3;
        out->tight_moment = p->liquids[k].moment;
    }
    if (left_of(&barest) < left_of(&out->barest) - TIE_PA) {
        out->barest = barest;
        out->barest_moment = p->liquids[k].moment;
    }
    if (p->job->rock_alone) return;
    double friction = 0;
    double shoe = placement_pressure(p, p->node_count - 1, rate);
    double inside = inside_pressure(p, pumped_m3, p->liquids[k].rate_m3s, &friction);
    double surface = shoe + friction - inside;
    out->pump_pa = fmax(out->pump_pa, surface);
    if (surface < -TIE_PA) { /* U-tube: the column runs ahead of the pump */
        if (isnan(out->free_fall_from_m3)) out->free_fall_from_m3 = pumped_m3;
        out->free_fall_to_m3 = pumped_m3;
    }
    double tvd = p->nodes[p->node_count - 1].tvd_m;
    out->peak_shoe_kgm3 = fmax(out->peak_shoe_kgm3, shoe / (G * tvd));
}

dt_status placement_run(placement *p, dt_cement *out)
{
    double *list = calloc(p->liquid_count * (p->node_count + 1) + STEPS + 1, sizeof *list);
    if (!list) return DT_E_MEMORY;
    size_t count = moments(p, list), shoe = p->node_count - 1;
    out->tight = (dt_tight_spot){.spare_pa = INFINITY};
    out->barest = (dt_tight_spot){.fracture_pa = INFINITY};
    out->free_fall_from_m3 = out->free_fall_to_m3 = NAN;
    out->pump_pa = 0;
    for (size_t i = 0; i < count; ++i)
        if (i == 0 || list[i] - list[i - 1] > SAME_LOOK_M3) look(p, list[i], out);
    placement_at(p, list[count - 1]);
    double friction = 0, tvd = p->nodes[shoe].tvd_m;
    double annulus = placement_pressure(p, shoe, PLACEMENT_AT_REST);
    out->shoe_static_kgm3 = annulus / (G * tvd);
    out->shoe_kgm3 = placement_pressure(p, shoe, PLACEMENT_DISPLACING) / (G * tvd);
    out->lift_pa = annulus - inside_pressure(p, list[count - 1], 0, &friction);
    free(list);
    return DT_OK;
}
