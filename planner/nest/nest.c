/* SPDX-License-Identifier: MIT */
#include "nest.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "liner_hangers.h"
#include "pipe_rules.h"
#include "same.h"
#include "units.h"

double dt_nest_clearance(const dt_well *well, double od_m)
{
    size_t count = well->sizes.clearance_count;
    const dt_clearance_row *rows = well->sizes.clearances;
    if (count == 0) rows = dt_custom_rows(well, DT_TABLE_CLEARANCES, &count);
    for (size_t i = 0; i < count; ++i)
        if (od_m <= rows[i].up_to_od_m + SAME_DIAMETER_M) return rows[i].radial_m;
    return rows[count - 1].radial_m;
}

/* Flush and semi-flush connections are at most so wide; the narrowest API coupling is 5 % wider. */
#define FLUSH_OVER_PIPE 1.03

double dt_nest_gap(const dt_well *well, double od_m, double largest_od_m)
{
    const double flush_m = dt_custom_value_of(well, DT_CUSTOM_FLUSH_CLEARANCE);
    const double up_to_m = dt_custom_value_of(well, DT_CUSTOM_FLUSH_UP_TO);
    const bool flush = flush_m > 0 && well->sizes.clearance_count == 0 &&
                       od_m <= up_to_m + SAME_DIAMETER_M && largest_od_m <= FLUSH_OVER_PIPE * od_m;
    const double gap_m = dt_nest_clearance(well, od_m);
    return flush ? fmin(flush_m, gap_m) : gap_m;
}

double dt_nest_drift(const dt_well *well, const dt_pipe *pipe)
{
    bool special = well->sizes.special_drift && pipe->special_drift_m > pipe->drift_m;
    return special ? pipe->special_drift_m : pipe->drift_m;
}

int dt_pair_order(const dt_well *well, dt_role role, double hole_m, bool opened, double od_m)
{
    size_t count;
    const dt_pair_custom *pairs = dt_custom_rows(well, DT_TABLE_PAIRS, &count);
    int best = DT_UNLISTED;
    for (size_t i = 0; i < count; ++i) {
        const bool same = fabs(pairs[i].od_m - od_m) < SAME_DIAMETER_M &&
                          (isnan(hole_m) || fabs(pairs[i].hole_m - hole_m) < SAME_DIAMETER_M);
        const bool so =
            (pairs[i].role < 0 || pairs[i].role == (int)role) && (pairs[i].opened == 1) == opened;
        if (same && so && pairs[i].order < best) best = (int)pairs[i].order;
    }
    return best;
}

static const dt_pin *pin_of(const dt_well *well, const dt_seat *seat)
{
    return seat->pin == DT_NO_INDEX ? NULL : &well->pins[seat->pin];
}

/** A what-if question may leave only some sizes. */
static bool size_wished(const dt_well *well, double od_m)
{
    bool wished = well->sizes.only_count == 0;
    for (size_t i = 0; i < well->sizes.only_count; ++i)
        wished = wished || fabs(well->sizes.only_m[i] - od_m) < SAME_DIAMETER_M;
    return wished;
}

bool dt_nest_pipe_allowed(const dt_well *well, const dt_seat *seat, size_t string,
                          const dt_pipe *pipe)
{
    /* Plain-end pipe is welded, which only a conductor is. */
    unsigned coupled = pipe->threads & ~(1u << DT_PLAIN_END);
    if (string > 0 && coupled == 0) return false;
    if (string > 0 && !size_wished(well, pipe->od_m)) return false;
    const dt_pin *pin = pin_of(well, seat);
    bool allowed = false;
    for (int t = 0; t < DT_THREAD_COUNT && !allowed; ++t)
        allowed = (pipe->threads & 1u << t) != 0 && (string == 0 || t != DT_PLAIN_END) &&
                  dt_pipe_rules_allow(well, seat->role, pin, pipe, (dt_thread)t);
    if (!allowed) return false;
    if (!pin) return true;
    if (isfinite(pin->od_m) && fabs(pin->od_m - pipe->od_m) > SAME_DIAMETER_M) return false;
    if (isfinite(pin->weight_kgm) && fabs(pin->weight_kgm - pipe->weight_kgm) > SAME_WEIGHT_KGM)
        return false;
    if (pin->grade && !dt_same_grade(pin->grade, pipe->grade->name)) return false;
    return !pin->thread || dt_pipe_thread_find(pipe, pin->thread) != DT_THREAD_COUNT;
}

/* ---- growing arrays ------------------------------------------------------------------------ */

static dt_status grow(void **items, size_t count, size_t size)
{
    /* Doubles at powers of two, so that count alone tells the room. */
    if (count != 0 && (count & (count - 1)) != 0) return DT_OK;
    void *bigger = realloc(*items, (count ? 2 * count : 1) * size);
    if (!bigger) return DT_E_MEMORY;
    *items = bigger;
    return DT_OK;
}

#define ADD(nest, list, counter, item)                                                             \
    (grow((void **)&(nest)->list, (nest)->counter, sizeof *(nest)->list) == DT_OK                  \
         ? ((nest)->list[(nest)->counter++] = (item), DT_OK)                                       \
         : DT_E_MEMORY)

/* ---- candidates ---------------------------------------------------------------------------- */

typedef struct builder {
    const dt_well *well;
    const dt_seats *seats;
    const dt_catalogue *catalogue;
    dt_nest all;      /* before pruning; its pipes and holes stand in the order of the strings */
    double *drifts_m; /* of each pipe of it: the largest among the weights it may be run in */
    size_t *ends;     /* [string]: one past its last pipe, then the same of holes */
} builder;

/** The pipes of a string, or its holes: from first to before end. */
typedef struct stretch {
    size_t first, end;
} stretch;

static stretch pipes_of(const builder *b, size_t string)
{
    return (stretch){string > 0 ? b->ends[string - 1] : 0, b->ends[string]};
}

static stretch holes_of(const builder *b, size_t string)
{
    const size_t *ends = b->ends + b->seats->count;
    return (stretch){string > 0 ? ends[string - 1] : 0, ends[string]};
}

double dt_nest_largest_od(const dt_pipe *pipe)
{
    return isfinite(pipe->coupling_od_m) ? pipe->coupling_od_m : pipe->od_m;
}

bool dt_nest_is_size(const dt_nest_pipe *node, const dt_pipe *pipe)
{
    return fabs(node->od_m - pipe->od_m) < SAME_DIAMETER_M &&
           fabs(node->coupling_od_m - dt_nest_largest_od(pipe)) < SAME_DIAMETER_M;
}

/** A string's node of the size of a pipe; DT_NO_INDEX: none yet. */
static size_t node_of(const dt_nest *n, size_t string, const dt_pipe *pipe)
{
    for (size_t i = n->pipe_count; i-- > 0 && n->pipes[i].string == string;)
        if (dt_nest_is_size(&n->pipes[i], pipe)) return i;
    return DT_NO_INDEX;
}

static dt_status add_pipe(builder *b, dt_nest_pipe node, double drift_m)
{
    const size_t at = b->all.pipe_count;
    if (grow((void **)&b->drifts_m, at, sizeof *b->drifts_m) != DT_OK) return DT_E_MEMORY;
    b->drifts_m[at] = drift_m;
    return ADD(&b->all, pipes, pipe_count, node);
}

/** May a string have the pipes of the one above it, size for size? */
static bool same_pipes(const builder *b, size_t string)
{
    const dt_seat *seat = &b->seats->items[string], *above = seat - 1;
    return string > 1 && string + 1 < b->seats->count && seat->role == above->role &&
           seat->pin == DT_NO_INDEX && above->pin == DT_NO_INDEX;
}

static dt_status copy_pipes(builder *b, size_t string)
{
    for (size_t i = 0, end = b->all.pipe_count; i < end; ++i) {
        dt_nest_pipe node = b->all.pipes[i];
        if (node.string + 1 != string) continue;
        node.string = string;
        if (add_pipe(b, node, b->drifts_m[i]) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

static dt_status add_pipes(builder *b, size_t string)
{
    if (same_pipes(b, string)) return copy_pipes(b, string);
    const dt_seat *seat = &b->seats->items[string];
    bool last = string + 1 == b->seats->count;
    const dt_pin *pin = pin_of(b->well, seat);
    bool od_pinned = pin && isfinite(pin->od_m);
    for (size_t i = 0; i < b->catalogue->pipe_count; ++i) {
        const dt_pipe *pipe = &b->catalogue->pipes[i];
        if (last && !od_pinned && pipe->od_m < b->well->min_pipe_od_m - SAME_DIAMETER_M) continue;
        const size_t at = node_of(&b->all, string, pipe);
        const double drift_m = dt_nest_drift(b->well, pipe);
        /* what is dear to ask comes last: most rows add nothing */
        if (at != DT_NO_INDEX && drift_m <= b->drifts_m[at]) continue;
        if (!dt_nest_pipe_allowed(b->well, seat, string, pipe)) continue;
        dt_nest_pipe node = {string, pipe->od_m, dt_nest_largest_od(pipe)};
        if (at != DT_NO_INDEX)
            b->drifts_m[at] = drift_m;
        else if (add_pipe(b, node, drift_m) != DT_OK)
            return DT_E_MEMORY;
    }
    return DT_OK;
}

static bool is_hung(const builder *b, size_t string)
{
    return string > 0 && b->well->hangers.count > 0 && b->seats->items[string].type == DT_LINER;
}

/** A hole for each hanger that the pins allow; where none suits a pinned liner, one without. */
static dt_status add_hung_holes(builder *b, dt_nest_hole hole)
{
    const dt_pin *pin = pin_of(b->well, &b->seats->items[hole.string]);
    const dt_pin *above = pin_of(b->well, &b->seats->items[hole.string - 1]);
    for (size_t i = 0; i < b->well->hangers.count; ++i) {
        hole.hanger = &b->well->hangers.items[i];
        if (pin && isfinite(pin->od_m) && !dt_hanger_is_for(hole.hanger, pin->od_m)) continue;
        if (above && isfinite(above->od_m) && !dt_hanger_fits_size(hole.hanger, above->od_m))
            continue;
        if (ADD(&b->all, holes, hole_count, hole) != DT_OK) return DT_E_MEMORY;
    }
    hole.hanger = NULL;
    return dt_hanger_waived(b->well, pin, above) ? ADD(&b->all, holes, hole_count, hole) : DT_OK;
}

static dt_status add_hole(builder *b, dt_nest_hole hole)
{
    if (is_hung(b, hole.string)) return add_hung_holes(b, hole);
    return ADD(&b->all, holes, hole_count, hole);
}

/** The hole opened from every pilot it may be opened from: a larger one lets a larger coupling by.
 */
static dt_status add_opened_holes(builder *b, size_t string, const dt_bit *bit)
{
    const double most = dt_custom_value_of(b->well, DT_CUSTOM_SIZES_MOST_OPENING);
    dt_status status = DT_OK;
    for (size_t i = 0; status == DT_OK && i < b->catalogue->bit_count; ++i) {
        const dt_bit *pilot = &b->catalogue->bits[i];
        if (pilot->commonness != DT_BIT_STANDARD) continue;
        if (pilot->diameter_m * most < bit->diameter_m - SAME_DIAMETER_M) continue;
        if (pilot->diameter_m > bit->diameter_m - SAME_DIAMETER_M) break;
        status = add_hole(b, (dt_nest_hole){.string = string,
                                            .diameter_m = bit->diameter_m,
                                            .bit_m = pilot->diameter_m,
                                            .commonness = bit->commonness,
                                            .opened = true});
    }
    return status;
}

/** Driven and jetted conductors make their own hole. */
static dt_status add_driven_holes(builder *b)
{
    for (size_t i = 0; i < b->all.pipe_count; ++i) {
        if (b->all.pipes[i].string != 0) continue;
        const double od_m = b->all.pipes[i].od_m;
        dt_nest_hole hole = {.diameter_m = od_m, .bit_m = od_m, .commonness = DT_BIT_STANDARD};
        if (add_hole(b, hole) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

static dt_status add_pinned_hole(builder *b, size_t string, double hole_m, double pilot_m)
{
    dt_nest_hole hole = {
        .string = string, .diameter_m = hole_m, .bit_m = hole_m, .commonness = DT_BIT_LESS_COMMON};
    for (size_t i = 0; i < b->catalogue->bit_count; ++i)
        if (fabs(b->catalogue->bits[i].diameter_m - hole_m) < SAME_DIAMETER_M)
            hole.commonness = b->catalogue->bits[i].commonness;
    if (pilot_m > 0) {
        hole.bit_m = pilot_m;
        hole.opened = pilot_m < hole_m - SAME_DIAMETER_M;
        return add_hole(b, hole);
    }
    if (add_hole(b, hole) != DT_OK) return DT_E_MEMORY;
    dt_bit bit = {hole_m, hole.commonness};
    /* one that was decided is made, if need be below a bit that passes */
    const bool opened = b->well->sizes.opened_hole || b->well->sizes.series;
    return opened && string > 0 ? add_opened_holes(b, string, &bit) : DT_OK;
}

static dt_status add_holes(builder *b, size_t string)
{
    const dt_pin *pin = pin_of(b->well, &b->seats->items[string]);
    if (string == 0 && b->well->conductor.method != DT_CONDUCTOR_DRILLED)
        return add_driven_holes(b);
    if (pin && isfinite(pin->hole_m)) return add_pinned_hole(b, string, pin->hole_m, pin->pilot_m);
    for (size_t i = 0; i < b->catalogue->bit_count; ++i) {
        const dt_bit *bit = &b->catalogue->bits[i];
        dt_nest_hole hole = {.string = string,
                             .diameter_m = bit->diameter_m,
                             .bit_m = bit->diameter_m,
                             .commonness = bit->commonness};
        if (add_hole(b, hole) != DT_OK) return DT_E_MEMORY;
        if (b->well->sizes.opened_hole && string > 0 && add_opened_holes(b, string, bit) != DT_OK)
            return DT_E_MEMORY;
    }
    return DT_OK;
}

/* ---- edges --------------------------------------------------------------------------------- */

bool dt_nest_unusual(const dt_nest_hole *hole)
{
    return hole->opened || hole->commonness == DT_BIT_LESS_COMMON;
}

/**
 * Is hole a at least as good as hole b for every pipe it clears? Then b is never needed. Usual
 * comes before small, as on the path: a hole opener's size may beat a smaller bit seldom stocked.
 */
static bool dominates(const dt_nest_hole *a, const dt_nest_hole *b)
{
    return a->hanger == b->hanger && a->opened <= b->opened &&
           dt_nest_unusual(a) <= dt_nest_unusual(b) && a->diameter_m <= b->diameter_m &&
           a->bit_m <= b->bit_m;
}

static double need_gap(const builder *b, const dt_nest_pipe *pipe)
{
    return pipe->string == 0 ? dt_nest_clearance(b->well, pipe->od_m)
                             : dt_nest_gap(b->well, pipe->od_m, pipe->coupling_od_m);
}

/** Beside the body of a liner, or of a long full string in heavy mud, cement needs room too. */
static double need_body_gap(const builder *b, size_t string)
{
    const dt_seat *seat = &b->seats->items[string];
    if (string == 0) return 0;
    if (seat->type == DT_LINER) return dt_custom_value_of(b->well, DT_CUSTOM_LINER_BODY_CLEARANCE);
    const bool deep = seat->shoe_m > dt_custom_value_of(b->well, DT_CUSTOM_LONG_STRING);
    const bool heavy = seat->mud_kgm3 > dt_custom_value_of(b->well, DT_CUSTOM_HEAVY_MUD);
    return deep && heavy ? dt_custom_value_of(b->well, DT_CUSTOM_LONG_BODY_CLEARANCE) : 0;
}

/** gap_m, body_m: needed round the widest of the pipe, and round its body. */
static bool clears(const builder *b, const dt_nest_hole *hole, const dt_nest_pipe *pipe,
                   double gap_m, double body_m)
{
    bool driven = hole->string == 0 && b->well->conductor.method != DT_CONDUCTOR_DRILLED;
    if (driven) return fabs(hole->diameter_m - pipe->od_m) < SAME_DIAMETER_M;
    /* What goes through the pipe above is known to pass as far as the pilot bit passes. */
    if (hole->opened && pipe->coupling_od_m > hole->bit_m + SAME_DIAMETER_M) return false;
    const double gap = (hole->diameter_m - pipe->coupling_od_m) / 2;
    const double body = (hole->diameter_m - pipe->od_m) / 2;
    return gap >= gap_m - SAME_DIAMETER_M && body >= body_m - SAME_DIAMETER_M;
}

static bool both_pinned(const dt_pin *pin)
{
    return pin && isfinite(pin->hole_m) && isfinite(pin->od_m);
}

/** A pair of the series is run for its own sake, and a larger hole bears more. */
static bool is_listed(const builder *b, const dt_nest_hole *hole, const dt_nest_pipe *pipe)
{
    return b->well->sizes.series &&
           dt_pair_order(b->well, b->seats->items[pipe->string].role, hole->diameter_m,
                         hole->opened, pipe->od_m) < DT_UNLISTED;
}

static dt_status add_fits(builder *b, size_t string)
{
    dt_nest *n = &b->all;
    bool kept_pin = both_pinned(pin_of(b->well, &b->seats->items[string]));
    const double body_m = need_body_gap(b, string);
    const stretch pipes = pipes_of(b, string), holes = holes_of(b, string);
    for (size_t p = pipes.first; p < pipes.end; ++p) {
        const size_t first = n->fit_count;
        const double gap_m = need_gap(b, &n->pipes[p]);
        for (size_t h = holes.first; h < holes.end; ++h) {
            const dt_nest_hole *hole = &n->holes[h];
            if (!(kept_pin || clears(b, hole, &n->pipes[p], gap_m, body_m))) continue;
            if (hole->hanger && !dt_hanger_is_for(hole->hanger, n->pipes[p].od_m)) continue;
            bool needed = true;
            for (size_t f = first; f < n->fit_count && needed; ++f)
                needed = !dominates(&n->holes[n->fits[f].hole], hole);
            if (!needed && !is_listed(b, hole, &n->pipes[p])) continue;
            dt_nest_fit fit = {h, p, (hole->diameter_m - n->pipes[p].coupling_od_m) / 2, gap_m};
            if (ADD(n, fits, fit_count, fit) != DT_OK) return DT_E_MEMORY;
        }
    }
    return DT_OK;
}

/** Does the hole suit the pipe above and its hanger? Which hanger that is, its own hole says;
 * here it is enough that one of the list would do. */
static bool hangs_on(const builder *b, const dt_nest_pipe *pipe, const dt_nest_hole *hole,
                     bool kept)
{
    if (hole->hanger && !dt_hanger_fits_size(hole->hanger, pipe->od_m)) return false;
    if (kept || !is_hung(b, pipe->string)) return true;
    const dt_seat *seat = &b->seats->items[pipe->string];
    bool passes = dt_hanger_waived(b->well, pin_of(b->well, seat), pin_of(b->well, seat - 1));
    for (size_t i = 0; i < b->well->hangers.count; ++i) {
        const dt_hanger *h = &b->well->hangers.items[i];
        passes = passes || (dt_hanger_is_for(h, pipe->od_m) && dt_hanger_passes(h, hole->bit_m));
    }
    return passes;
}

static dt_status add_passes(builder *b, size_t string)
{
    dt_nest *n = &b->all;
    const dt_pin *above = pin_of(b->well, &b->seats->items[string]);
    const dt_pin *below = pin_of(b->well, &b->seats->items[string + 1]);
    bool kept_pin = above && below && isfinite(above->od_m) && isfinite(below->hole_m);
    const stretch pipes = pipes_of(b, string), holes = holes_of(b, string + 1);
    for (size_t p = pipes.first; p < pipes.end; ++p) {
        const double drift = b->drifts_m[p];
        for (size_t h = holes.first; h < holes.end; ++h) {
            bool passes = n->holes[h].bit_m <= drift + SAME_DIAMETER_M;
            bool pinned_pass = kept_pin && !n->holes[h].opened;
            if (!passes && !pinned_pass) continue;
            if (!hangs_on(b, &n->pipes[p], &n->holes[h], pinned_pass)) continue;
            dt_nest_pass pass = {p, h, n->holes[h].bit_m};
            if (ADD(n, passes, pass_count, pass) != DT_OK) return DT_E_MEMORY;
        }
    }
    return DT_OK;
}

/* ---- pruning to complete paths --------------------------------------------------------------- */

typedef struct marks {
    unsigned char *pipe, *hole; /* 1: reached from the conductor, 2: reaches the production pipe */
} marks;

static void mark_down(const dt_nest *n, marks m)
{
    for (size_t k = 0; k < n->string_count; ++k) {
        for (size_t h = 0; k == 0 && h < n->hole_count; ++h)
            if (n->holes[h].string == 0) m.hole[h] |= 1;
        for (size_t f = 0; f < n->fit_count; ++f)
            if (n->holes[n->fits[f].hole].string == k && (m.hole[n->fits[f].hole] & 1))
                m.pipe[n->fits[f].pipe] |= 1;
        for (size_t e = 0; e < n->pass_count; ++e)
            if (n->pipes[n->passes[e].pipe].string == k && (m.pipe[n->passes[e].pipe] & 1))
                m.hole[n->passes[e].hole] |= 1;
    }
}

static void mark_up(const dt_nest *n, marks m)
{
    for (size_t k = n->string_count; k-- > 0;) {
        for (size_t p = 0; k + 1 == n->string_count && p < n->pipe_count; ++p)
            if (n->pipes[p].string == k) m.pipe[p] |= 2;
        for (size_t e = 0; e < n->pass_count; ++e)
            if (n->pipes[n->passes[e].pipe].string == k && (m.hole[n->passes[e].hole] & 2))
                m.pipe[n->passes[e].pipe] |= 2;
        for (size_t f = 0; f < n->fit_count; ++f)
            if (n->holes[n->fits[f].hole].string == k && (m.pipe[n->fits[f].pipe] & 2))
                m.hole[n->fits[f].hole] |= 2;
    }
}

/** Keeps what lies on a complete path, in place; map arrays give the new indices. */
static void keep_marked(dt_nest *n, marks m, size_t *pipe_map, size_t *hole_map)
{
    size_t kept = 0;
    for (size_t p = 0; p < n->pipe_count; ++p) {
        pipe_map[p] = m.pipe[p] == 3 ? kept : DT_NO_INDEX;
        if (m.pipe[p] == 3) n->pipes[kept++] = n->pipes[p];
    }
    n->pipe_count = kept;
    kept = 0;
    for (size_t h = 0; h < n->hole_count; ++h) {
        hole_map[h] = m.hole[h] == 3 ? kept : DT_NO_INDEX;
        if (m.hole[h] == 3) n->holes[kept++] = n->holes[h];
    }
    n->hole_count = kept;
    kept = 0;
    for (size_t f = 0; f < n->fit_count; ++f) {
        dt_nest_fit fit = n->fits[f];
        fit.hole = hole_map[fit.hole];
        fit.pipe = pipe_map[fit.pipe];
        if (fit.hole != DT_NO_INDEX && fit.pipe != DT_NO_INDEX) n->fits[kept++] = fit;
    }
    n->fit_count = kept;
    kept = 0;
    for (size_t e = 0; e < n->pass_count; ++e) {
        dt_nest_pass pass = n->passes[e];
        pass.hole = hole_map[pass.hole];
        pass.pipe = pipe_map[pass.pipe];
        if (pass.hole != DT_NO_INDEX && pass.pipe != DT_NO_INDEX) n->passes[kept++] = pass;
    }
    n->pass_count = kept;
}

/** The string above which nothing nests: the deepest one no marked-up pipe or hole belongs to. */
static size_t blocked_string(const dt_nest *n, marks m)
{
    for (size_t k = n->string_count; k-- > 0;) {
        bool reaches = false;
        for (size_t h = 0; h < n->hole_count; ++h)
            if (n->holes[h].string == k && (m.hole[h] & 2)) reaches = true;
        if (!reaches) return k;
    }
    return 0;
}

dt_status dt_nest_prune(dt_nest *n, size_t *blocked)
{
    dt_status status = DT_E_MEMORY;
    marks m = {calloc(n->pipe_count + 1, 1), calloc(n->hole_count + 1, 1)};
    size_t *pipe_map = malloc((n->pipe_count + 1) * sizeof *pipe_map);
    size_t *hole_map = malloc((n->hole_count + 1) * sizeof *hole_map);
    if (!m.pipe || !m.hole || !pipe_map || !hole_map) goto done;
    mark_down(n, m);
    mark_up(n, m);
    *blocked = blocked_string(n, m);
    keep_marked(n, m, pipe_map, hole_map);
    status = n->pipe_count > 0 && n->hole_count > 0 ? DT_OK : DT_E_NONE;
done:
    free(m.pipe);
    free(m.hole);
    free(pipe_map);
    free(hole_map);
    return status;
}

dt_status dt_nest_build(const dt_well *well, const dt_seats *seats, const dt_catalogue *catalogue,
                        dt_nest *out, size_t *blocked)
{
    builder b = {.well = well,
                 .seats = seats,
                 .catalogue = catalogue,
                 .all = {.string_count = seats->count},
                 .ends = calloc(2 * seats->count + 1, sizeof *b.ends)};
    dt_status status = b.ends ? DT_OK : DT_E_MEMORY;
    for (size_t k = 0; k < seats->count && status == DT_OK; ++k) {
        status = add_pipes(&b, k);
        b.ends[k] = b.all.pipe_count;
    }
    for (size_t k = 0; k < seats->count && status == DT_OK; ++k) {
        status = add_holes(&b, k);
        b.ends[seats->count + k] = b.all.hole_count;
    }
    for (size_t k = 0; k < seats->count && status == DT_OK; ++k)
        status = add_fits(&b, k);
    for (size_t k = 0; k + 1 < seats->count && status == DT_OK; ++k)
        status = add_passes(&b, k);
    free(b.drifts_m);
    free(b.ends);
    if (status == DT_OK) status = dt_nest_prune(&b.all, blocked);
    if (status == DT_OK)
        *out = b.all;
    else
        dt_nest_free(&b.all);
    return status;
}

void dt_nest_free(dt_nest *nest)
{
    if (!nest) return;
    free(nest->pipes);
    free(nest->holes);
    free(nest->passes);
    free(nest->fits);
    *nest = (dt_nest){0};
}
