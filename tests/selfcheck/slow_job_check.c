/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "slow_job.h"
#include "slow_seats.h"

/*
 * The cement job and the weight of the string, by docs/cement.md and docs/running.md: short
 * pieces of hole, summed.
 */

/** Longest piece, m. Pieces end wherever a diameter or a liquid changes. */
#define PIECE_M 1.0

/* ---- pieces ---------------------------------------------------------------------------------- */

static const claimed_section *section_at(const claimed_string *s, double md)
{
    for (size_t k = 0; k < s->section_count; ++k)
        if (md > s->sections[k].top_md_m && md < s->sections[k].base_md_m) return &s->sections[k];
    return NULL;
}

static double bore_of(const claimed_pipe *p)
{
    return p->od_m - 2 * p->wall_m;
}

/** The pipe a string stands in at a depth: the innermost of those run before it. */
static const claimed_section *pipe_round(const context *c, size_t string, double md)
{
    const claims *p = c->claims;
    size_t place = slow_place(p, string);
    if (place != string) { /* a tie-back: its liner ends below */
        const claimed_section *liner = section_at(&p->strings[place], md);
        if (liner) return liner;
    }
    for (size_t i = place; i-- > 0;) {
        size_t tie = slow_tieback_on(p, i);
        const claimed_section *round = section_at(&p->strings[i], md);
        if (!round && tie != DT_NO_INDEX) round = section_at(&p->strings[tie], md);
        if (round) return round;
    }
    return NULL;
}

static bool by_log(const dt_well *w, double md, double *diameter)
{
    for (size_t i = 1; i < w->caliper_count; ++i) {
        const dt_caliper_point *a = &w->caliper[i - 1], *b = &w->caliper[i];
        if (md < a->md_m - 1e-6 || md > b->md_m + 1e-6) continue;
        *diameter =
            a->diameter_m + (md - a->md_m) * (b->diameter_m - a->diameter_m) / (b->md_m - a->md_m);
        return true;
    }
    return false;
}

static piece make_piece(bore *b, double top, double base)
{
    const context *c = b->c;
    const dt_running_wishes *r = &c->well->running;
    double middle = (top + base) / 2;
    piece p = {.top = top, .base = base, .open = true};
    p.top_tvd = course_tvd(&c->course, top);
    p.base_tvd = course_tvd(&c->course, base);
    const claimed_section *own = section_at(&c->claims->strings[b->string], middle);
    p.own = own != NULL;
    p.od = own ? own->pipe.od_m : slow_or(r->landing_od_m, 5 * SLOW_IN);
    p.id = own ? bore_of(&own->pipe) : slow_or(r->landing_id_m, 4.276 * SLOW_IN);
    p.kgm = own ? own->pipe.weight_kgm : slow_or(r->landing_kgm, 19.5 * SLOW_LB / SLOW_FT);
    const claimed_section *round = pipe_round(c, b->string, middle);
    if (round) {
        p.outer[0] = p.outer[1] = p.outer[2] = bore_of(&round->pipe);
        p.open = false;
        return p;
    }
    if (c->well->bop_at_seabed && middle < course_md(&c->course, slow_ground(c->well))) {
        p.outer[0] = p.outer[1] = p.outer[2] = c->well->riser_bore_m;
        p.open = false;
        return p;
    }
    p.outer[0] = p.outer[1] = p.outer[2] = b->hole;
    if (by_log(c->well, middle, &p.outer[1])) {
        (void)by_log(c->well, top, &p.outer[0]);
        (void)by_log(c->well, base, &p.outer[2]);
        b->logged = p.logged = true;
    }
    return p;
}

static int by_depth(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

bool to_ground(const context *c, size_t string)
{
    return string == 0 || slow_to_sea(c->well, string);
}

liquid mud_of(const context *c, double density, bool thin)
{
    const dt_rheology *r = &c->well->rheology;
    const dt_well *w = c->well;
    double yp = SLOW_LBF / (100 * SLOW_FT * SLOW_FT);
    liquid l = {density, slow_or(r->mud_pv_pas, 0.020), slow_or(r->mud_yp_pa, 12 * yp), 0, 0, 0};
    if (r->mud_n > 0) {
        l.n = r->mud_n;
        l.k = r->mud_k_pasn;
    }
    if (r->mud_600 > 0) { /* through both readings */
        l.n = log(r->mud_600 / r->mud_300) / log(2);
        l.k = r->mud_600 * yp / exp(l.n * log(1022));
    }
    if (!thin) return l;
    l.n = 0;
    l.pv = slow_said(w, DT_CUSTOM_THIN_PV, 0.020);
    l.yp = slow_said(w, DT_CUSTOM_THIN_YP, 12 * yp);
    return l;
}

static bool bore_make(const context *c, size_t string, bore *out)
{
    const claims *p = c->claims;
    const claimed_string *s = &p->strings[string];
    double ground = course_md(&c->course, slow_ground(c->well));
    *out = (bore){.c = c, .string = string, .shoe = s->shoe_md_m, .own_top = s->top_md_m};
    out->hole = s->hole_m;
    out->open = string ? p->strings[string - 1].shoe_md_m : ground;
    if (string >= p->count) out->open = out->shoe; /* a tie-back: in pipe from end to end */
    out->top = to_ground(c, string) ? ground : 0;
    size_t room = 64 + slow_steps(out->shoe, PIECE_M) + c->well->caliper_count +
                  2 * CLAIM_SECTIONS * slow_all(p) + CLAIM_PARTS,
           n = 0;
    double *ends = calloc(room, sizeof *ends);
    out->items = calloc(room, sizeof *out->items);
    if (!ends || !out->items) {
        free(ends);
        free(out->items);
        return false;
    }
    size_t steps = slow_steps(out->shoe - out->top, PIECE_M);
    for (size_t i = 0; i <= steps && steps > 0; ++i)
        ends[n++] = out->top + (out->shoe - out->top) * (double)i / (double)steps;
    for (size_t i = 0; i < slow_all(p); ++i)
        for (size_t k = 0; k < p->strings[i].section_count; ++k) {
            ends[n++] = p->strings[i].sections[k].top_md_m;
            ends[n++] = p->strings[i].sections[k].base_md_m;
        }
    for (size_t i = 0; i < c->well->caliper_count; ++i)
        if (c->well->caliper[i].md_m >= out->open) ends[n++] = c->well->caliper[i].md_m;
    for (size_t i = 0; i < s->cement.part_count; ++i)
        ends[n++] = s->cement.parts[i].top_md_m;
    ends[n++] = s->cement.collar_md_m;
    ends[n++] = ground;
    qsort(ends, n, sizeof *ends, by_depth);
    for (size_t i = 1; i < n; ++i)
        if (ends[i - 1] >= out->top - 1e-9 && ends[i] <= out->shoe + 1e-9 &&
            ends[i] - ends[i - 1] > 1e-7)
            out->items[out->count++] = make_piece(out, ends[i - 1], ends[i]);
    free(ends);
    if (out->count > 0) return true;
    fault(c->v, "place", (int)string, "a string without a length");
    free(out->items);
    return false;
}

/** Annulus of a piece, m3: Simpson's rule, which a cone obeys. */
double bore_ring(const piece *p, double excess, bool on_all)
{
    double mean =
        (p->outer[0] * p->outer[0] + 4 * p->outer[1] * p->outer[1] + p->outer[2] * p->outer[2]) / 6;
    double factor = p->open || on_all ? 1 + excess : 1;
    return SLOW_PI / 4 * (mean - p->od * p->od) * (p->base - p->top) * factor;
}

static double annulus(const bore *b, double from, double to, double excess, bool on_all)
{
    double sum = 0;
    for (size_t i = 0; i < b->count; ++i) {
        const piece *p = &b->items[i];
        double middle = (p->top + p->base) / 2;
        if (middle > from && middle < to) sum += bore_ring(p, excess, on_all);
    }
    return sum;
}

/** Of what hangs at the sea floor the pipe it is run on is filled above it. */
double bore_inside(const bore *b, double from, double to)
{
    double sum = 0;
    bool hung = b->own_top > 0 && b->items[0].top > 0;
    double id = hung ? slow_or(b->c->well->running.landing_id_m, 4.276 * SLOW_IN) : b->items[0].id;
    if (from < b->items[0].top) sum += SLOW_PI / 4 * id * id * (fmin(b->items[0].top, to) - from);
    for (size_t i = 0; i < b->count; ++i) {
        const piece *p = &b->items[i];
        double top = fmax(p->top, from), base = fmin(p->base, to);
        if (base > top) sum += SLOW_PI / 4 * p->id * p->id * (base - top);
    }
    return sum;
}

/* ---- what holds where nothing is said -------------------------------------------------------- */

/** Held back to 4 ft/s in the narrowest annulus. */
static double rate(const bore *b, double most)
{
    for (size_t i = 0; i < b->count; ++i) {
        const piece *p = &b->items[i];
        double d = fmin(p->outer[0], p->outer[2]), area = SLOW_PI / 4 * (d * d - p->od * p->od);
        if (p->own && area > 0) most = fmin(most, area * 4 * SLOW_FT);
    }
    return most;
}

static settings settle(const bore *b, dt_role role)
{
    const dt_cement_wishes *w = &b->c->well->cementing;
    const dt_load_wishes *loads = &b->c->well->loads; /* of the same job: decision 0024 */
    bool shallow = role == DT_CONDUCTOR || role == DT_SURFACE, g = loads->given;
    const dt_well *well = b->c->well;
    settings s = {.above = slow_or(w->above_shoe_m,
                                   slow_said(well, DT_CUSTOM_CEMENTING_ABOVE_SHOE, 500 * SLOW_FT)),
                  .tail = slow_or(w->tail_length_m, 500 * SLOW_FT),
                  .tail_said = !isnan(w->tail_length_m),
                  .least_tail = slow_said(well, DT_CUSTOM_CEMENTING_TAIL_LEAST, 300 * SLOW_FT),
                  .slower = slow_said(well, DT_CUSTOM_CEMENTING_SLOWER, 1),
                  .rathole = slow_or(w->rathole_m, slow_said(well, DT_CUSTOM_CEMENTING_RATHOLE, 0)),
                  .spacer = slow_or(w->spacer_length_m, 500 * SLOW_FT),
                  .margin_emw = 0.3 * SLOW_PPG,
                  .bump = slow_or(w->bump_margin_pa,
                                  slow_or(g ? loads->bump_margin_pa : NAN, 500 * SLOW_PSI)),
                  .displacing = slow_or(w->displacement_kgm3, g ? loads->displacement_kgm3 : NAN)};
    s.excess = slow_or(w->excess, b->logged ? 0.15 : shallow ? 1.0 : 0.2);
    if (w->margin_given) {
        s.margin_emw = w->margin.emw_kgm3;
        s.margin_pa = w->margin.pressure_pa;
    }
    s.wait = slow_or(w->wait_s, (role == DT_PRODUCTION ? 24 : 12) * 3600.0);
    s.mix = isnan(w->mix_rate_m3s) ? rate(b, 5 * SLOW_BBL / 60) : w->mix_rate_m3s;
    s.displace =
        isnan(w->displacement_rate_m3s) ? rate(b, 8 * SLOW_BBL / 60) : w->displacement_rate_m3s;
    double piston = slow_or(w->pump_bore_m, 6.5 * SLOW_IN);
    s.stroke = 3 * SLOW_PI / 4 * piston * piston * slow_or(w->pump_stroke_m, 12 * SLOW_IN) *
               slow_or(w->pump_efficiency, 0.96);
    s.test = w->test != DT_TEST_COUNT ? w->test
             : role == DT_CONDUCTOR   ? DT_TEST_PRESSURE
                                      : DT_TEST_INTERNAL_YIELD;
    s.test_pa = w->test != DT_TEST_COUNT ? w->test_pressure_pa : 250 * SLOW_PSI;
    for (size_t i = 0; g && w->test == DT_TEST_COUNT && i < loads->test_count; ++i)
        if (loads->tests[i].role == role) {
            s.test = DT_TEST_PRESSURE;
            s.test_pa = loads->tests[i].pressure_pa;
        }
    return s;
}

typedef struct mix {
    double density, yield, water, sack_kg;
} mix;

static bool find_slurry(const context *c, const char *name, bool own, mix *out)
{
    for (size_t i = 0; own && i < c->well->slurry_count; ++i) {
        const dt_slurry *s = &c->well->slurries[i];
        double sack = 94 * SLOW_LB;
        if (strcmp(s->name, name) != 0) continue;
        *out = (mix){s->density_kgm3, s->yield_m3kg * sack, s->water_m3kg * sack, sack};
        return true;
    }
    for (size_t i = 0; i < c->rows->slurry_count; ++i) {
        const row_slurry *s = &c->rows->slurries[i];
        if (strcmp(s->name, name) != 0) continue;
        *out = (mix){s->density_kgm3, s->yield_m3, s->water_m3, s->sack_kg};
        return true;
    }
    return false;
}

/* ---- tops ------------------------------------------------------------------------------------ */

static double top_of_zone(const dt_well *w, double above, double shoe)
{
    double top = shoe;
    for (size_t i = 0; i < w->pay_count; ++i)
        if (w->pays[i].base_m > above && w->pays[i].top_m < shoe)
            top = fmin(top, fmax(w->pays[i].top_m, above));
    for (size_t i = 0; i < w->interval_count; ++i)
        if (w->intervals[i].base_m > above && w->intervals[i].top_m < shoe)
            top = fmin(top, fmax(w->intervals[i].top_m, above));
    return top;
}

static const dt_pin *pin_of(const context *c, size_t i)
{
    size_t pin = c->claims->strings[i].seat.pin;
    return pin < c->well->pin_count ? &c->well->pins[pin] : NULL;
}

/** TVD by pin or rule; NAN when not cemented. */
double slow_cement_top(const context *c, size_t i, double above_shoe, dt_cement_rule *rule)
{
    const claimed_string *s = &c->claims->strings[i];
    const dt_pin *pin = pin_of(c, i);
    double ground = slow_ground(c->well);
    if (pin && pin->cement_count && !isnan(pin->cement[0].top_m)) {
        *rule = DT_CEMENT_PINNED;
        return i ? pin->cement[0].top_m : fmax(pin->cement[0].top_m, ground);
    }
    if (i == 0 && c->well->conductor.method != DT_CONDUCTOR_DRILLED &&
        !(pin && pin->cement_count)) {
        *rule = DT_CEMENT_NONE;
        return NAN;
    }
    if (s->seat.type == DT_LINER) {
        *rule = DT_CEMENT_TO_LINER_TOP;
        return s->top_tvd_m;
    }
    if (i == 0 || s->seat.role == DT_SURFACE ||
        slow_said(c->well, DT_CUSTOM_CEMENTING_TO_SURFACE, 0) == 1) {
        *rule = DT_CEMENT_TO_GROUND;
        return ground;
    }
    *rule = DT_CEMENT_ABOVE_SHOE;
    double above = c->claims->strings[i - 1].seat.shoe_m;
    return fmax(top_of_zone(c->well, above, s->shoe_tvd_m) - above_shoe, ground);
}

/* ---- parts ----------------------------------------------------------------------------------- */

static const char *const leads[] = {"G + 8 % bentonite",
                                    "G + 12 % bentonite",
                                    "G + 2 % sodium metasilicate",
                                    "G + 3 % sodium metasilicate",
                                    "G + 17 lb/sk hollow glass spheres",
                                    "G + 22 lb/sk hollow glass spheres"};

static const char *tail_for(const context *c, double mud)
{
    static const char *const tails[] = {"G neat", "H neat", "H + 15.2 lb/sk hematite"};
    mix m = {0, 0, 0, 0};
    size_t i = 0;
    for (; i < 3; ++i)
        if (find_slurry(c, tails[i], false, &m) && m.density >= mud + 0.5 * SLOW_PPG) break;
    return tails[i < 3 ? i : 2];
}

double slow_tail_density(const context *c, double mud)
{
    const char *named = c->well->cementing.tail;
    mix m = {0, 0, 0, 0};
    return find_slurry(c, named ? named : tail_for(c, mud), named != NULL, &m) ? m.density : NAN;
}

double slow_lead_density(const context *c, double mud)
{
    const char *named = c->well->cementing.lead;
    mix m = {0, 0, 0, 0};
    if (!find_slurry(c, named ? named : leads[0], named != NULL, &m)) return NAN;
    return named || m.density >= mud + 0.5 * SLOW_PPG ? m.density : NAN;
}

double slow_tail_length(const dt_well *w, double length)
{
    double part = slow_said(w, DT_CUSTOM_CEMENTING_TAIL_PART, 0);
    double most = slow_said(w, DT_CUSTOM_CEMENTING_TAIL_MOST, 1000 * SLOW_FT);
    double least = slow_said(w, DT_CUSTOM_CEMENTING_TAIL_LEAST, 300 * SLOW_FT);
    if (!isnan(w->cementing.tail_length_m) || !(part > 0))
        return slow_or(w->cementing.tail_length_m, 500 * SLOW_FT);
    return fmax(least, fmin(most, part * length));
}

static void expect(const context *c, const bore *b, const settings *s, double top, double mud,
                   double track, expected *e)
{
    const dt_cement_wishes *w = &c->well->cementing;
    const dt_pin *pin = pin_of(c, b->string);
    *e = (expected){.collar = b->shoe - track};
    for (size_t i = 0; pin && i < pin->cement_count && i < CLAIM_PARTS; ++i) {
        const dt_pinned_cement *k = &pin->cement[i];
        e->slurry[i] = k->slurry;
        e->excess[i] = slow_or(k->excess, s->excess);
        e->on_all[i] = k->excess_on == DT_EXCESS_ANNULUS;
        e->top[i] = i == 0            ? top
                    : isnan(k->top_m) ? fmax(b->shoe - s->tail, e->top[i - 1])
                                      : course_md(&c->course, k->top_m);
        if (!isnan(k->collar_above_shoe_m)) e->collar = b->shoe - k->collar_above_shoe_m;
        e->count = i + 1;
    }
    if (e->count) return;
    double tail = slow_tail_length(c->well, b->shoe - top);
    mix lead = {0, 0, 0, 0};
    (void)find_slurry(c, w->lead ? w->lead : leads[0], w->lead != NULL, &lead);
    bool both = b->shoe - tail > top + 1e-6 && (w->lead || lead.density >= mud + 0.5 * SLOW_PPG);
    e->count = both ? 2 : 1;
    e->slurry[0] = w->lead;
    e->slurry[e->count - 1] = w->tail ? w->tail : tail_for(c, mud);
    e->top[0] = top;
    const claimed_cement *said = &c->claims->strings[b->string].cement;
    if (!said->refused && (said->repairs & DT_REPAIR_TAIL)) {
        demand_true(c->v, "repair", (int)b->string,
                    both && !s->tail_said && s->slower < 1 && tail > s->least_tail + 1e-6,
                    "a tail cut shorter that could not be");
        tail = s->least_tail;
    }
    if (both) e->top[1] = b->shoe - tail;
    e->excess[0] = e->excess[1] = s->excess;
}

static bool is_lead(const char *name)
{
    for (size_t i = 0; i < sizeof leads / sizeof *leads; ++i)
        if (strcmp(leads[i], name) == 0) return true;
    return false;
}

/** Volumes, sacks and water of every slurry. */
static void check_parts(const context *c, const bore *b, const settings *s, const expected *e)
{
    const claimed_cement *k = &c->claims->strings[b->string].cement;
    int n = (int)b->string;
    double slurry = 0, sacks = 0, kg = 0;
    for (size_t i = 0; i < e->count && i < k->part_count; ++i) {
        const claimed_part *p = &k->parts[i];
        bool last = i + 1 == e->count;
        mix m;
        demand_true(c->v, "slurry", n,
                    e->slurry[i] ? strcmp(p->slurry, e->slurry[i]) == 0 : is_lead(p->slurry),
                    "another slurry than the rule asks for");
        agree(c->v, "cement-top", n, "top of a slurry, m MD", p->top_md_m, e->top[i], 1e-5);
        agree(c->v, "excess", n, "excess", p->excess, e->excess[i], 1e-9);
        bool own = e->slurry[i] != NULL &&
                   (pin_of(c, b->string) || c->well->cementing.lead || c->well->cementing.tail);
        if (!find_slurry(c, p->slurry, own, &m)) {
            fault(c->v, "slurry", n, "no slurry of this name");
            return;
        }
        double base = last ? b->shoe : e->top[i + 1];
        double volume = annulus(b, e->top[i], base, e->excess[i], e->on_all[i]);
        if (last) {
            double hole = b->items[b->count - 1].outer[2];
            double more = c->well->cementing.rathole_excess ? 1 + e->excess[i] : 1;
            volume += SLOW_PI / 4 * hole * hole * s->rathole * more;
            volume += bore_inside(b, e->collar, b->shoe);
        }
        /* sums of thousands of pieces whose ends are solved depths */
        agree(c->v, "slurry-volume", n, "slurry, m3", p->volume_m3, volume, 1e-6 * volume + 1e-9);
        double count = volume / m.yield;
        /* a whole number may be missed by the last digits either way */
        if (fabs(count - round(count)) > 1e-4)
            agree(c->v, "sacks", n, "sacks", p->sacks, ceil(count), 0);
        agree(c->v, "water", n, "mix water, m3", p->water_m3, p->sacks * m.water,
              1e-9 * fabs(p->water_m3));
        slurry += volume;
        sacks += p->sacks;
        kg += p->sacks * m.sack_kg;
    }
    agree(c->v, "slurry-volume", n, "all slurry, m3", k->slurry_m3, slurry, 1e-6 * slurry + 1e-9);
    agree(c->v, "sacks", n, "all sacks", k->sacks, sacks, 0);
    agree(c->v, "sacks", n, "cement, kg", k->cement_kg, kg, 1e-9 * kg);
}

/* ---- pressures ------------------------------------------------------------------------------- */

/** Both kinds of flow of a power law in a slot, speeds for each. */
double slow_power(const liquid *l, double gap, double slow, double fast)
{
    double wall = l->k * pow(6 * slow / (gap / 2) * (2 + 1 / l->n) / 3, l->n);
    double f = 2 * l->k * pow(6 * fast / (gap / 2) * (2 + 1 / l->n) / 3, l->n) /
               (l->density * fast * fast);
    double re = 24 / f, lg = log10(l->n);
    double rough = (lg + 3.93) / 50 * pow(re, -(1.75 - lg) / 7);
    return fmax(4 * wall / gap, 2 * rough * l->density * fast * fast / gap);
}

bool slow_mud_stated(const dt_well *w)
{
    const dt_rheology *r = &w->rheology;
    return r->mud_pv_pas >= 0 || r->mud_yp_pa >= 0 || r->mud_n > 0 || r->mud_600 > 0;
}

double bore_friction(const piece *p, double rate_m3s, const liquid *l)
{
    double outer = p->outer[1], gap = outer - p->od;
    double v = rate_m3s / (SLOW_PI / 4 * (outer * outer - p->od * p->od));
    if (l->n > 0) return slow_power(l, gap, v, v);
    double slow = 48 * l->pv * v / (gap * gap) + 6 * l->yp / gap;
    double re = l->density * v * gap / l->pv;
    return fmax(slow, 2 * 0.0791 / pow(re, 0.25) * l->density * v * v / gap);
}

/** Top of the spacer: its volume, laid on the cement in the annulus as it was planned. */
static double spacer_top(const bore *b, const expected *e, double volume)
{
    for (size_t i = b->count; i-- > 0;) {
        const piece *p = &b->items[i];
        if (p->base > e->top[0] + 1e-7) continue;
        double holds = bore_ring(p, e->excess[0], e->on_all[0]);
        if (holds >= volume) return p->base - (p->base - p->top) * volume / holds;
        volume -= holds;
    }
    return b->top;
}

size_t bore_fill(const context *c, const bore *b, const expected *e, liquid *list)
{
    const claimed_cement *k = &c->claims->strings[b->string].cement;
    const dt_rheology *r = &c->well->rheology;
    double yp = SLOW_LBF / (100 * SLOW_FT * SLOW_FT);
    size_t n = 0;
    list[n] = mud_of(c, k->mud_kgm3, k->repairs & DT_REPAIR_MUD);
    list[n++].top = b->top;
    list[n++] = (liquid){k->spacer_kgm3,
                         slow_or(r->spacer_pv_pas, 0.020),
                         slow_or(r->spacer_yp_pa, 12 * yp),
                         spacer_top(b, e, k->spacer_m3),
                         0,
                         0};
    for (size_t i = 0; i < e->count; ++i) {
        mix m = {0, 0, 0, 0};
        if (!find_slurry(c, k->parts[i].slurry, true, &m)) return 0;
        list[n++] = (liquid){m.density,
                             slow_or(r->slurry_pv_pas, 0.050),
                             slow_or(r->slurry_yp_pa, 15 * yp),
                             e->top[i],
                             0,
                             0};
    }
    return n;
}

/**
 * The planner finds the top of the spacer by straight lines between depths at most 50 m apart. Over
 * a caliper log volume is a bow against depth: by L change / 8 for an area that changes by that
 * part over a length L. The steepest stretch of the log counts.
 */
double bore_bow_m(const context *c, const bore *b)
{
    double most = 0, od = b->items[b->count - 1].od;
    for (size_t i = 1; i < c->well->caliper_count; ++i) {
        const dt_caliper_point *p = &c->well->caliper[i - 1], *q = &c->well->caliper[i];
        double small = fmin(p->diameter_m, q->diameter_m), big = fmax(p->diameter_m, q->diameter_m);
        double length = q->md_m - p->md_m, part = fmin(50 / length, 1);
        double area = small * small - od * od;
        if (area > 0)
            most = fmax(most, part * length * part * (big * big - small * small) / area / 8);
    }
    return most;
}

/** Largest difference between two liquids that touch, kg/m3. */
double bore_widest_step(const liquid *list, size_t n)
{
    double most = 0;
    for (size_t i = 1; i < n; ++i)
        most = fmax(most, fabs(list[i].density - list[i - 1].density));
    return most;
}

double sea_on(const context *c, size_t string)
{
    const dt_well *w = c->well;
    if (!to_ground(c, string)) return 0;
    return slow_or(w->conductor.sea_gradient_kgm3, 1025) * SLOW_G * w->water_depth_m;
}

/** The end of the job, from the top down: at rest and while pumping. */
static void check_column(const context *c, const bore *b, const settings *s, const expected *e)
{
    const claimed_cement *k = &c->claims->strings[b->string].cement;
    const dt_well *w = c->well;
    liquid list[CLAIM_PARTS + 2];
    size_t n = bore_fill(c, b, e, list), at = 0;
    int string = (int)b->string;
    if (n == 0) return;
    double rest = sea_on(c, b->string);
    double moving = 0, least = INFINITY;
    for (size_t i = 0; i < b->count; ++i) {
        const piece *p = &b->items[i];
        /* a liquid may end inside a piece: the part above it belongs to the one before */
        double z = p->top;
        while (z < p->base - 1e-12) {
            while (at + 1 < n && list[at + 1].top <= z + 1e-12)
                ++at;
            double to = at + 1 < n && list[at + 1].top < p->base ? list[at + 1].top : p->base;
            double from_tvd = course_tvd(&c->course, z), to_tvd = course_tvd(&c->course, to);
            rest += list[at].density * SLOW_G * (to_tvd - from_tvd);
            moving += bore_friction(p, s->displace, &list[at]) * (to - z);
            z = to;
        }
        /* round the first pipe nothing bears at the ground: the planner begins a step below it */
        double from = b->string ? b->open + 1e-6 : fmin(b->open + 50, b->shoe - 1e-6);
        if (p->base <= from) continue;
        double rock =
            fmin(slow_emw(&w->fracture, p->base_tvd, -1),
                 p->base < b->shoe - 1e-6 ? slow_emw(&w->fracture, p->base_tvd, +1) : INFINITY);
        least = fmin(least, (rock - s->margin_emw) * SLOW_G * p->base_tvd - s->margin_pa - rest);
    }
    double shoe_tvd = b->items[b->count - 1].base_tvd;
    mix tail = {0, 0, 0, 0};
    (void)find_slurry(c, k->parts[k->part_count - 1].slurry, true, &tail);
    double collar = course_tvd(&c->course, e->collar);
    double inner =
        k->displacement_kgm3 * SLOW_G * collar + tail.density * SLOW_G * (shoe_tvd - collar);
    /* arithmetic, and where the log makes the planner's straight lines a bow */
    double fine = 100 + (b->logged ? bore_bow_m(c, b) * bore_widest_step(list, n) * SLOW_G : 0);
    agree(c->v, "shoe-pressure", string, "at the shoe at rest, Pa",
          k->shoe_static_kgm3 * SLOW_G * shoe_tvd, rest, fine);
    agree(c->v, "lift", string, "lift, Pa", k->lift_pa, rest - inner, fine);
    agree(c->v, "bump", string, "bump, Pa", k->bump_pa, fmax(rest - inner, 0) + s->bump, fine);
    /* over a caliper log friction is not straight: half a per cent of it */
    agree(c->v, "shoe-pressure", string, "at the shoe while pumping, Pa",
          k->shoe_kgm3 * SLOW_G * shoe_tvd, rest + moving,
          fine + (b->logged ? 0.02 : 0.001) * moving);
    /* the worst moment is no better than the end at rest; 5 m pieces against its depths */
    demand_true(c->v, "tight", string, !(k->tight_spare_pa > least + SLOW_PSI),
                "the narrowest moment leaves more than the end of the job at rest");
}

static void check_tests(const context *c, const bore *b, const settings *s)
{
    const claimed_string *t = &c->claims->strings[b->string];
    double yield = INFINITY, test = NAN, wait = s->wait;
    for (size_t i = 0; i < t->section_count; ++i) {
        strength pipe;
        if (strength_of(c->rows, &t->sections[i].pipe, 0, &pipe))
            yield = fmin(yield, pipe.burst_pa);
    }
    double length = (b->shoe - b->own_top) / SLOW_FT;
    if (s->test == DT_TEST_INTERNAL_YIELD) test = 0.7 * yield;
    if (s->test == DT_TEST_GRADIENT_022)
        test = fmin(fmax(0.22 * length, 1500) * SLOW_PSI, 0.7 * yield);
    if (s->test == DT_TEST_GRADIENT_020)
        test = fmin(0.2 * t->shoe_tvd_m / SLOW_FT, 1500) * SLOW_PSI;
    if (s->test == DT_TEST_PRESSURE) test = s->test_pa;
    agree(c->v, "test", (int)b->string, "casing test, Pa", t->cement.test_pa, test,
          1e-6 * fabs(slow_or(test, 0)));
    if (!isnan(test))
        stop_told(c, DT_NOTICE_TEST_OVER_YIELD, b->string, yield - test, 1e-6 * yield);
    const dt_cement_wishes *w = &c->well->cementing;
    double time = 0, strong = 0, want = slow_or(w->wait_strength_pa, 500 * SLOW_PSI);
    for (size_t i = 0; i < w->strength_count; ++i) {
        const dt_strength_point *p = &w->strengths[i];
        if (p->strength_pa >= want) {
            wait =
                fmax(wait, time + (want - strong) * (p->time_s - time) / (p->strength_pa - strong));
            break;
        }
        time = p->time_s;
        strong = p->strength_pa;
    }
    agree(c->v, "wait", (int)b->string, "waiting, s", t->cement.wait_s, wait, 1e-6 * wait);
}

static double least_mud(const context *c, size_t i)
{
    i = slow_place(c->claims, i);
    if (i > 0) return c->claims->strings[i].seat.mud_kgm3;
    double ground = slow_ground(c->well), shoe = c->claims->strings[0].seat.shoe_m;
    if (!(ground < shoe)) return -INFINITY;
    const dt_well *w = c->well;
    if (w->bop_at_seabed) return slow_sea_need(w, shoe, -1);
    slow_samples list = slow_sample(w, ground, shoe, 1.0);
    double trip = w->margins.trip.emw_kgm3 + w->margins.trip.pressure_pa / (SLOW_G * shoe);
    double mud = -INFINITY;
    for (size_t k = 0; k < list.count; ++k) {
        mud = fmax(mud, slow_emw(&w->pore, list.z[k], list.side[k]) + trip);
        if (w->collapse.count > 0) mud = fmax(mud, slow_emw(&w->collapse, list.z[k], list.side[k]));
    }
    free(list.z);
    free(list.side);
    return mud;
}

static double joint_length(const dt_well *w)
{
    static const double feet[] = {20, 29, 40};
    int range = (int)slow_or(w->running.range, 3);
    return slow_or(w->running.joint_m, feet[range - 1] * SLOW_FT);
}

/** Pumped as usual, or slower where nobody states a rate: by halves, down to the slowest. */
static void check_rates(const context *c, const bore *b, settings *s)
{
    const claimed_cement *k = &c->claims->strings[b->string].cement;
    const dt_cement_wishes *w = &c->well->cementing;
    const dt_pin *pin = pin_of(c, b->string);
    bool may =
        isnan(w->mix_rate_m3s) && isnan(w->displacement_rate_m3s) && !(pin && pin->cement_count);
    double part = 1;
    while (may && part / 2 >= s->slower - 1e-9 && k->mix_m3s < s->mix * part * 0.999)
        part /= 2;
    agree(c->v, "rate", (int)b->string, "mixing, m3/s", k->mix_m3s, s->mix * part, 1e-6 * s->mix);
    agree(c->v, "rate", (int)b->string, "displacing, m3/s", k->displace_m3s, s->displace * part,
          1e-6 * s->displace);
    demand_true(c->v, "repair", (int)b->string, (part < 1) == !!(k->repairs & DT_REPAIR_RATE),
                "pumped slower or not");
    demand_true(c->v, "repair", (int)b->string,
                !(k->repairs & DT_REPAIR_MUD) ||
                    (!slow_mud_stated(c->well) && !(pin && pin->cement_count)),
                "thinned where it could not be");
    s->mix *= part;
    s->displace *= part;
    s->thin = k->repairs & DT_REPAIR_MUD;
}

/**
 * A job is changed only where the rock does not withstand it without the last change. Of a shorter
 * tail that is not looked at: its volumes are another job's. Nor is a lighter lead, and what one
 * that was not changed far enough would have come to.
 */
static void check_repairs(const context *c, const bore *b, const settings *s, const expected *e)
{
    const claimed_cement *k = &c->claims->strings[b->string].cement;
    double fine = 0;
    settings before = *s;
    if (k->repairs & DT_REPAIR_MUD)
        before.thin = false;
    else if ((k->repairs & DT_REPAIR_RATE) && !(k->repairs & DT_REPAIR_TAIL)) {
        before.mix *= 2;
        before.displace *= 2;
    } else
        return;
    double left = least_left(b, &before, e, &fine);
    demand_true(c->v, "repair", (int)b->string, isinf(left) || left < fine,
                "a job is changed that the rock withstands");
}

/** Length of the shoe track: whole joints, under the top of the cement and in the string. */
static double track_of(const context *c, const bore *b, double top)
{
    bool one = b->string == 0 || c->claims->strings[b->string].seat.type == DT_LINER;
    double joints = slow_or(c->well->running.track_joints, one ? 1 : 2), track;
    while ((track = joints * joint_length(c->well)) > b->shoe - fmax(top, b->own_top) + 1e-6 &&
           joints > 0)
        joints -= 1;
    return track;
}

/** Do tops, collar and hole fit the string, so that there is a job at all? */
static void check_computed(const context *c, const bore *b, const settings *s, double top,
                           double mud)
{
    double fits = INFINITY, above = b->top;
    expected e;
    expect(c, b, s, top, mud, track_of(c, b, top), &e);
    for (size_t i = 0; i < b->count; ++i)
        fits = fmin(fits, fmin(b->items[i].outer[0], b->items[i].outer[2]) - b->items[i].od);
    fits = fmin(fits, fmin(b->shoe - e.collar, e.collar - b->own_top) + 1e-5);
    for (size_t i = 0; i < e.count; ++i) {
        fits = fmin(fits, fmin(e.top[i] - above + (i ? 0 : 1e-5), b->shoe - e.top[i]));
        above = e.top[i];
    }
    stop_told(c, DT_NOTICE_CEMENT_NOT_COMPUTED, b->string, fits, 2e-6);
}

/** What stops a job that can be computed. The conductor's grout is not judged by pressure or time,
 * and where a stage tool is proposed the claims are believed. */
static void check_job_stops(const context *c, const bore *b, const settings *s, const expected *e,
                            double displaced)
{
    const claimed_cement *k = &c->claims->strings[b->string].cement;
    double fine = 0, density = 0;
    for (size_t i = 0; i < k->part_count; ++i) {
        mix m = {0, 0, 0, 0};
        if (find_slurry(c, k->parts[i].slurry, true, &m)) density = m.density;
        stop_told(c, DT_NOTICE_SLURRY_LIGHTER_THAN_MUD, b->string, density - k->mud_kgm3, 1e-5);
    }
    if (b->string == 0) return;
    if (!k->staged)
        stop_told(c, DT_NOTICE_CEMENT_TOO_SLOW, b->string,
                  slow_or(c->well->cementing.thickening_s, INFINITY) - 3600 -
                      k->slurry_m3 / s->mix - 600 - displaced / s->displace,
                  1);
    else
        stop_told(c, DT_NOTICE_CEMENT_TOO_SLOW, b->string, 0, 1);
    settings bare = *s;
    bare.margin_emw = bare.margin_pa = 0;
    double left = least_left(b, &bare, e, &fine);
    if (isinf(left) || k->waived) left = 0;
    stop_told(c, DT_NOTICE_CEMENT_BREAKS_FORMATION, b->string, left, fmax(fine, 1));
}

static void check_job(const context *c, const bore *b)
{
    const claimed_string *t = &c->claims->strings[b->string];
    const claimed_cement *k = &t->cement;
    const dt_cement_wishes *w = &c->well->cementing;
    int n = (int)b->string;
    settings s = settle(b, t->seat.role);
    dt_cement_rule rule = DT_CEMENT_NONE;
    double top = slow_cement_top(c, b->string, s.above, &rule), mud = least_mud(c, b->string);
    demand_true(c->v, "cement-rule", n, k->rule == rule, "another rule placed the top");
    agree(c->v, "cement-top", n, "top, m TVD", k->top_tvd_m, top, 1e-5);
    if (rule == DT_CEMENT_PINNED)
        stop_told(c, DT_NOTICE_CEMENT_TOP_ABOVE_GROUND, b->string, top - slow_ground(c->well),
                  1e-5);
    if (!isnan(top)) check_computed(c, b, &s, course_md(&c->course, top), mud);
    if (isnan(top) || k->refused) return;
    agree(c->v, "cement-top", n, "top, m MD", k->top_md_m, course_md(&c->course, top), 1e-5);
    expected e;
    check_rates(c, b, &s);
    expect(c, b, &s, course_md(&c->course, top), mud, track_of(c, b, course_md(&c->course, top)),
           &e);
    agree(c->v, "collar", n, "float collar, m MD", k->collar_md_m, e.collar, 1e-5);
    if (!demand_true(c->v, "slurry", n, k->part_count == e.count, "another number of slurries"))
        return;
    agree(c->v, "mud", n, "mud of the job, kg/m3", k->mud_kgm3, mud, 1e-6);
    check_parts(c, b, &s, &e);
    mix first = {0, 0, 0, 0};
    (void)find_slurry(c, k->parts[0].slurry, true, &first);
    agree(c->v, "spacer", n, "spacer, kg/m3", k->spacer_kgm3,
          slow_or(w->spacer_kgm3, (mud + first.density) / 2), 1e-6);
    agree(c->v, "displacement", n, "displacing fluid, kg/m3", k->displacement_kgm3,
          slow_or(s.displacing, mud), 1e-6);
    double displaced = bore_inside(b, 0, e.collar);
    agree(c->v, "displacement", n, "displacement, m3", k->displacement_m3, displaced,
          1e-6 * displaced);
    agree(c->v, "displacement", n, "strokes", k->strokes, displaced / s.stroke,
          1e-6 * displaced / s.stroke);
    double from = fmax(b->shoe - s.spacer, b->top), spacer = 0;
    for (size_t i = 0; i < b->count; ++i) {
        const piece *p = &b->items[i];
        double part = (p->base - fmax(p->top, from)) / (p->base - p->top);
        if (part > 0) spacer += bore_ring(p, 0, false) * fmin(part, 1);
    }
    /* the piece that the spacer's top cuts is taken by length, which a cone is not */
    agree(c->v, "spacer", n, "spacer, m3", k->spacer_m3, spacer,
          (b->logged ? 2e-3 : 1e-6) * spacer);
    agree(c->v, "job-time", n, "job, s", k->job_s,
          k->slurry_m3 / s.mix + 600 + displaced / s.displace, 1e-6 * k->job_s);
    check_column(c, b, &s, &e);
    check_moments(b, &s, &e);
    check_repairs(c, b, &s, &e);
    check_tests(c, b, &s);
    check_job_stops(c, b, &s, &e, displaced);
}

void check_cement(const context *c)
{
    static const dt_notice_code told[] = {
        DT_NOTICE_CEMENT_TOP_ABOVE_GROUND, DT_NOTICE_CEMENT_NOT_COMPUTED,
        DT_NOTICE_CEMENT_BREAKS_FORMATION, DT_NOTICE_CEMENT_TOO_SLOW,
        DT_NOTICE_SLURRY_LIGHTER_THAN_MUD, DT_NOTICE_TEST_OVER_YIELD};
    for (size_t i = 0; i < c->claims->count; ++i) {
        bore b;
        if (!bore_make(c, i, &b)) return;
        check_job(c, &b);
        free(b.items);
    }
    for (size_t k = 0; k < sizeof told / sizeof *told; ++k)
        stop_none(c, told[k]);
}

/* ---- weight ---------------------------------------------------------------------------------- */

/** What pipe that is wound into a helix presses on the wall, N/m; none where it is not. */
static double wound(const context *c, const piece *p, double push, double w, double low,
                    double across)
{
    (void)c;
    double gap = (p->outer[1] - p->od) / 2, E = 30e6 * 6894.757293168;
    double EI = E * SLOW_PI / 64 * (pow(p->od, 4) - pow(p->id, 4));
    if (!(push > 0) || !(gap > 0)) return 0;
    double side = sqrt(low * low + across * across);
    double leaning = sqrt(8 * EI * side / gap), upright = 5.55 * pow(EI * w * w, 1.0 / 3);
    return push > leaning && push > upright ? gap * push * push / (4 * EI) : 0;
}

double bore_tension(const context *c, const bore *b, double mud, double fill, int motion,
                    double at_md)
{
    const dt_running_wishes *r = &c->well->running;
    double cased = slow_or(r->friction_cased, 0.20), open = slow_or(r->friction_open, 0.30), T = 0;
    for (size_t i = b->count; i-- > 0 && b->items[i].base > at_md + 1e-7;) {
        const piece *p = &b->items[i];
        double inner = SLOW_PI / 4 * p->id * p->id, outer = SLOW_PI / 4 * p->od * p->od;
        double length = p->base - p->top, full = 1;
        if (b->air_from > 0) full = fmin(fmax((b->air_from - p->top) / length, 0), 1);
        double w = (p->kgm + (p->own ? fill * full : mud) * inner - mud * outer) * SLOW_G;
        double hangs = w * (course_here(&c->course, p->base) - course_here(&c->course, p->top));
        double drag = 0;
        if (motion != 0) {
            double up = acos(fmin(course_down(&c->course, p->top), 1));
            double down = acos(fmin(course_down(&c->course, p->base), 1));
            double middle = (p->top + p->base) / 2, build = (down - up) / length;
            double bend = c->course.count ? course_bend(&c->course, middle, true, true) : 0;
            double turn2 = fmax(bend * bend - build * build, 0);
            for (int pass = 0; pass < 8; ++pass) { /* until the tension midway has settled */
                double at = T + (hangs + drag) / 2, low = w * sin((up + down) / 2) - at * build;
                drag = motion * (middle > b->open ? open : cased) * length *
                       sqrt(low * low + at * at * turn2);
            }
            if (motion < 0 && !b->straight) {
                double at = T + (hangs + drag) / 2, low = w * sin((up + down) / 2) - at * build;
                drag -= (middle > b->open ? open : cased) * length *
                        wound(c, p, -at, w, low, at * sqrt(turn2));
            }
        }
        T += hangs + drag;
    }
    return T;
}

/**
 * In a bend the side force may pass from one side of the hole to the other inside one of the
 * planner's steps, which sees its mean: a quarter of what it changes there. It shows where a string
 * is no longer than a step.
 */
static double turned_over(const context *c, const bore *b)
{
    const dt_running_wishes *r = &c->well->running;
    double most = 0, step = 10;
    for (size_t i = 0; i < b->count; ++i)
        most = fmax(most, b->items[i].kgm * SLOW_G * step *
                              course_bend(&c->course, b->items[i].base, true, true));
    return fmax(slow_or(r->friction_cased, 0.20), slow_or(r->friction_open, 0.30)) * step * most /
           4;
}

/** Of what hangs in a wellhead at the sea floor the pipe it is run on reaches up to the rig. */
static void hang_landing(bore *b)
{
    size_t steps = slow_steps(b->top, PIECE_M);
    for (size_t i = steps; i-- > 0;) {
        memmove(b->items + 1, b->items, b->count * sizeof *b->items);
        b->items[0] = make_piece(b, b->top * (double)i / (double)steps,
                                 b->top * (double)(i + 1) / (double)steps);
        ++b->count;
    }
}

/** The first pipe stands above its annulus, up to the rig floor, in whatever sections it has. */
static void hang_above(bore *b)
{
    const claimed_string *s = &b->c->claims->strings[b->string];
    if (b->c->well->bop_at_seabed) {
        hang_landing(b);
        return;
    }
    for (size_t k = s->section_count; k-- > 0;) {
        double top = s->sections[k].top_md_m, base = fmin(s->sections[k].base_md_m, b->top);
        size_t steps = base > top + 1e-7 ? slow_steps(base - top, PIECE_M) : 0;
        for (size_t i = steps; i-- > 0;) {
            memmove(b->items + 1, b->items, b->count * sizeof *b->items);
            b->items[0] = make_piece(b, top + (base - top) * (double)i / (double)steps,
                                     top + (base - top) * (double)(i + 1) / (double)steps);
            ++b->count;
        }
    }
}

void check_running(const context *c)
{
    static const dt_notice_code told[] = {DT_NOTICE_SURGE, DT_NOTICE_HOLE_TOO_NARROW,
                                          DT_NOTICE_RIG_OVERLOADED, DT_NOTICE_DRAG_HOLDS_STRING};
    for (size_t i = 0; i < slow_all(c->claims); ++i) {
        const claimed_string *s = &c->claims->strings[i];
        bore b;
        if (!bore_make(c, i, &b)) return;
        bool in_air = i == 0 && c->well->conductor.method != DT_CONDUCTOR_DRILLED;
        double mud = in_air ? 0 : least_mud(c, i);
        if (!in_air) check_room(&b);
        if (i > 0 && i < c->claims->count) check_surge(&b, mud);
        if (to_ground(c, i)) hang_above(&b);
        double full = bore_tension(c, &b, mud, mud, 0, 0),
               empty = bore_tension(c, &b, mud, 0, 0, 0);
        /* The planner steps 10 m. One that holds the end of a section, or the old shoe, is a mean
         * of two weights or two frictions: a thousandth where drag counts. */
        double heavy = bore_tension(c, &b, 0, 0, 0, 0);
        agree(c->v, "hook-load", (int)i, "filled, N", s->hookload_filled_n, full, 3e-4 * heavy);
        agree(c->v, "hook-load", (int)i, "floated, N", s->hookload_floated_n, empty, 3e-4 * heavy);
        double drag = (c->well->lateral ? 2e-3 : 1e-3) * heavy + turned_over(c, &b);
        agree(c->v, "hook-load", (int)i, "pulling, N", s->hookload_up_n,
              bore_tension(c, &b, mud, mud, 1, 0), drag);
        if (s->floated_md_m > 0) {
            double most = atan(1 / slow_or(c->well->running.friction_open, 0.30));
            demand_true(c->v, "floated", (int)i,
                        acos(course_down(&c->course, s->floated_md_m + 10.01)) > most - 1e-3 &&
                            acos(course_down(&c->course, s->floated_md_m - 10.01)) < most + 1e-3,
                        "the flotation collar is not at the heel");
            b.air_from = s->floated_md_m;
        }
        double lowered = bore_tension(c, &b, mud, mud, -1, 0);
        /* where the helix begins is known to a step; it feeds on itself from there */
        b.straight = true;
        drag += 0.1 * fabs(bore_tension(c, &b, mud, mud, -1, 0) - lowered);
        agree(c->v, "hook-load", (int)i, "lowering, N", s->hookload_down_n, lowered, drag);
        if (!in_air) stop_told(c, DT_NOTICE_DRAG_HOLDS_STRING, i, lowered, drag);
        size_t joints = 0;
        for (size_t k = 0; k < s->section_count; ++k)
            joints += (size_t)ceil((s->sections[k].base_md_m - s->sections[k].top_md_m) /
                                       joint_length(c->well) -
                                   1e-9);
        agree(c->v, "joints", (int)i, "joints", (double)s->joints, (double)joints, 0);
        check_overpull(&b, mud);
        free(b.items);
    }
    for (size_t k = 0; k < sizeof told / sizeof *told; ++k)
        stop_none(c, told[k]);
}
