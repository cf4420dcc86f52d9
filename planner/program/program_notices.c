/* SPDX-License-Identifier: MIT */
/* What a reader must know of a program: the well as it was asked, pins, seats, holes, kicks. */
#include <math.h>

#include "offsets.h"
#include "pressure.h"
#include "program_parts.h"
#include "same.h"
#include "units.h"

void dt_program_note_plainly(dt_program *p, const dt_plain_notice *all, size_t count)
{
    for (size_t i = 0; i < count; ++i)
        if (all[i].raised) dt_notice_add(&p->notices, all[i].code, DT_NO_STRING);
}

void dt_note_custom(dt_notice *notice, const dt_well *well, const char *name, dt_custom custom)
{
    const dt_kind kind = dt_custom_about(custom)->kind;
    dt_notice_figure(notice, name, kind, dt_custom_value_of(well, custom));
    dt_notice_name(notice, name, dt_custom_text(well, custom));
    dt_notice_took(notice, (int)custom);
}

void dt_note_open_custom(dt_notice *notice, const dt_well *well, const char *name, dt_custom custom)
{
    const bool stated = well->stated && well->stated[custom].line > 0;
    if (!stated) dt_note_custom(notice, well, name, custom);
}

size_t dt_program_stoppers(const dt_program *program)
{
    size_t count = 0;
    for (size_t i = 0; i < program->notices.count; ++i)
        count += dt_notice_gravity(program->notices.items[i].code) == DT_STOPPER &&
                 program->notices.items[i].code != DT_NOTICE_NO_DRAFT_CLOSES; /* it sums up */
    return count;
}

bool dt_program_runnable(const dt_program *program)
{
    return dt_program_stoppers(program) == 0;
}

static bool has_spread(const dt_curve *curve)
{
    for (size_t i = 0; i < curve->count; ++i)
        if (isfinite(curve->points[i].sd_kgm3) || isfinite(curve->points[i].low_kgm3) ||
            isfinite(curve->points[i].high_kgm3))
            return true;
    return false;
}

static bool depth_spread(const dt_depth_spread *spread)
{
    return spread->sd_m > 0 || spread->low_m < spread->high_m;
}

static bool depths_spread(const dt_well *well)
{
    bool any = depth_spread(&well->fresh_water_spread);
    for (size_t i = 0; i < well->interval_count; ++i)
        any = any || depth_spread(&well->intervals[i].top_spread);
    return any;
}

bool dt_well_has_spreads(const dt_well *well)
{
    return has_spread(&well->pore) || has_spread(&well->fracture) || has_spread(&well->collapse) ||
           depths_spread(well);
}

/** The layer next to the built-in one is the well's; what was given beside it stands over it. */
static void note_basis(dt_program *p)
{
    const dt_basis *basis = dt_basis_of(p->well);
    if (!p->well->basis_taken || basis->layer_count < 2) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_BASIS_TAKEN, DT_NO_STRING);
    dt_notice_name(n, "basis", basis->layers[1].name);
}

static void note_well(dt_program *p)
{
    const dt_well *w = p->well;
    const bool no_receptacle =
        w->prices_given && p->seats.tieback_count > 0 && isnan(w->prices.receptacle);
    const dt_plain_notice all[] = {
        {isnan(w->fresh_water_m), DT_NOTICE_FRESH_WATER_NOT_STATED},
        {!w->sticking.given, DT_NOTICE_STICKING_NOT_CHECKED},
        {!w->prices_given, DT_NOTICE_NOT_PRICED},
        {no_receptacle, DT_NOTICE_RECEPTACLE_NOT_PRICED},
        {p->times.customary, DT_NOTICE_TIMES_CUSTOMARY},
        {dt_well_has_spreads(w), DT_NOTICE_BASE_VALUES},
    };
    note_basis(p);
    dt_program_note_plainly(p, all, COUNT_OF(all));
}

/** Spreads that the class gave, not the engineer. */
static void note_spread(dt_program *p)
{
    const dt_well *w = p->well;
    const dt_spread_custom *row = dt_spread_custom_of(w);
    if (!row || (!w->spread_given.pore && !w->spread_given.fracture)) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_SPREAD_CUSTOMARY, DT_NO_STRING);
    if (!n) return;
    n->line = w->spread_line;
    dt_notice_name(n, "class", dt_spread_class_text(w->spread_class));
    if (w->spread_given.pore) dt_notice_figure(n, "pore", DT_KIND_DENSITY, row->pore_kgm3);
    if (w->spread_given.fracture)
        dt_notice_figure(n, "fracture", DT_KIND_DENSITY, row->fracture_kgm3);
    dt_notice_figure(n, "length", DT_KIND_LENGTH, row->length_m);
}

static void note_beyond(dt_program *p, bool pore)
{
    const dt_well *w = p->well;
    const double tvd_m = dt_well_ground_m(w) + dt_offsets_deepest_m(w, pore);
    if (!dt_less(tvd_m, w->objective_m)) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_OFFSETS_BEYOND, DT_NO_STRING);
    dt_notice_figure(n, "tvd", DT_KIND_LENGTH, tvd_m);
    dt_notice_name(n, "table", pore ? "pore pressure" : "fracture gradient");
}

static void note_not_used(dt_program *p, bool used, const char *table)
{
    if (used) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_OFFSETS_NOT_USED, DT_NO_STRING);
    if (n) n->line = p->well->offsets_line;
    dt_notice_name(n, "table", table);
}

/** Fewer wells than this leave the customary scatter to say most: common practice, no source. */
#define FEW_OFFSETS 3

/** Tables that were made of offset wells, and what these do not say. */
static void note_offsets(dt_program *p)
{
    const dt_well *w = p->well;
    const bool pore = w->pore_by_offsets, fracture = w->fracture_by_offsets;
    if (w->offset_count == 0) return;
    note_not_used(p, pore, "pore pressure");
    note_not_used(p, fracture, "fracture gradient");
    if (!pore && !fracture) return;
    double nearest_m = INFINITY;
    for (size_t i = 0; i < w->offset_count; ++i)
        nearest_m = fmin(nearest_m, w->offsets[i].distance_m);
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_OFFSETS_MADE, DT_NO_STRING);
    if (n) n->line = w->offsets_line;
    dt_notice_mark(n, "pore", pore);
    dt_notice_mark(n, "both", pore && fracture);
    dt_notice_mark(n, "fracture", fracture);
    dt_notice_number(n, "wells", (double)w->offset_count);
    dt_notice_figure(n, "nearest", DT_KIND_LENGTH, nearest_m);
    if (w->offset_count < FEW_OFFSETS) {
        n = dt_notice_add(&p->notices, DT_NOTICE_OFFSETS_FEW, DT_NO_STRING);
        dt_notice_number(n, "wells", (double)w->offset_count);
    }
    if (pore) note_beyond(p, true);
    if (fracture) note_beyond(p, false);
}

/** One value of the basis that a notice names, where something was not stated. */
typedef struct taken {
    bool raised;
    dt_notice_code code;
    const char *name;
    dt_custom custom;
} taken;

/** Does the basis ask an influx of a hole by its size? */
static bool asks_by_hole(const dt_well *well)
{
    size_t count;
    const dt_kick_row *rows = dt_custom_rows(well, DT_TABLE_KICK_ROWS, &count);
    for (size_t i = 0; i < count; ++i)
        if (rows[i].least_m3 > 0 || rows[i].minimum_m3 > 0) return true;
    return false;
}

/** A kick that is looked at although nothing asks for it. */
static void note_kick_taken(dt_program *p)
{
    if (p->well->kick.given) return;
    const double intensity_kgm3 = dt_custom_value_of(p->well, DT_CUSTOM_KICK_INTENSITY);
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_KICK_TOLERANCE_CUSTOMARY, DT_NO_STRING);
    dt_note_custom(n, p->well, "influx", DT_CUSTOM_KICK_INFLUX);
    if (intensity_kgm3 > 0)
        dt_note_custom(n, p->well, "intensity", DT_CUSTOM_KICK_INTENSITY);
    else
        dt_notice_name(n, "swabbed", "yes");
    dt_notice_mark(n, asks_by_hole(p->well) ? "by_hole" : "none", true);
}

static void note_taken(dt_program *p, const taken *t)
{
    if (!t->raised) return;
    dt_notice *n = dt_notice_add(&p->notices, t->code, DT_NO_STRING);
    dt_note_custom(n, p->well, t->name, t->custom);
}

static void note_factors(dt_program *p)
{
    static const struct {
        const char *name;
        dt_custom custom;
    } factors[] = {{"burst", DT_CUSTOM_DESIGN_BURST},
                   {"collapse", DT_CUSTOM_DESIGN_COLLAPSE},
                   {"tension", DT_CUSTOM_DESIGN_TENSION},
                   {"tension_pulled", DT_CUSTOM_DESIGN_TENSION_PULLED},
                   {"triaxial", DT_CUSTOM_DESIGN_TRIAXIAL}};
    if (!p->design.factors_customary) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_DESIGN_FACTORS_CUSTOMARY, DT_NO_STRING);
    for (size_t i = 0; i < COUNT_OF(factors); ++i)
        dt_note_open_custom(n, p->well, factors[i].name, factors[i].custom);
}

static void note_customs(dt_program *p)
{
    const dt_well *w = p->well;
    const bool sea =
        w->over_sea && isnan(w->conductor.depth_m) && isnan(w->conductor.sea_gradient_kgm3);
    const taken rest[] = {
        {p->design.overpull_customary, DT_NOTICE_OVERPULL_CUSTOMARY, "overpull",
         DT_CUSTOM_DESIGN_OVERPULL},
        {p->design.gas_customary, DT_NOTICE_GAS_GRADIENT_CUSTOMARY, "gas_gradient",
         DT_CUSTOM_DESIGN_GAS},
        {sea, DT_NOTICE_SEA_GRADIENT_CUSTOMARY, "sea_gradient", DT_CUSTOM_SEA_GRADIENT}};
    const dt_plain_notice rows = {w->kick.given && w->kick.row_count == 0,
                                  DT_NOTICE_KICK_ROWS_CUSTOMARY};
    note_kick_taken(p);
    dt_program_note_plainly(p, &rows, 1);
    note_factors(p);
    for (size_t i = 0; i < COUNT_OF(rest); ++i)
        note_taken(p, &rest[i]);
    dt_notice_add(&p->notices, DT_NOTICE_CONDUCTOR_NOT_SCREENED, DT_NO_STRING);
}

static void note_fracture(dt_program *p)
{
    note_spread(p);
    note_offsets(p);
    const dt_fracture_source *from = &p->well->fracture_from;
    if (from->method != DT_FRACTURE_POINTS) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_FRACTURE_BY_METHOD, DT_NO_STRING);
        dt_notice_name(n, "method", dt_fracture_method_words(from->method));
    }
    for (size_t i = 0; i < from->test_count; ++i) {
        const dt_leak_off *test = &from->tests[i];
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_FRACTURE_CALIBRATED, DT_NO_STRING);
        dt_notice_figure(n, "leak_off", DT_KIND_DENSITY, test->emw_kgm3);
        dt_notice_figure(n, "deduct", DT_KIND_DENSITY, test->deduct_kgm3);
        dt_notice_figure(n, "shoe_tvd", DT_KIND_LENGTH, test->shoe_m);
    }
}

/* ---- pins ---- */

static void note_pin_left_out(dt_program *p, const dt_pin *pin)
{
    /* of its liner's pin something is said beside, if that has no place */
    const bool tieback = pin->type == DT_TIEBACK;
    dt_notice *n = dt_notice_add(&p->notices,
                                 tieback ? DT_NOTICE_TIEBACK_LEFT_OUT : DT_NOTICE_PIN_WITHOUT_PLACE,
                                 DT_NO_STRING);
    if (!n) return;
    n->line = pin->line;
    dt_notice_name(n, "role", dt_role_text(pin->role));
    if (tieback) dt_notice_figure(n, "lap", DT_KIND_LENGTH, p->lap_m);
}

static void note_broken_pins(dt_program *p)
{
    for (size_t i = 0; i < p->seats.broken_count; ++i) {
        const dt_broken_pin *broken = &p->seats.broken[i];
        const dt_notice why = dt_reason_notice(&broken->why, p->well);
        const bool stops = dt_notice_gravity(why.code) == DT_STOPPER;
        /* A hole that stays open has no string of its own: the one above it is at fault. */
        const size_t string = broken->seat < p->count ? broken->seat : p->count - 1;
        dt_notice *n = dt_notice_add(
            &p->notices, stops ? DT_NOTICE_PIN_STOPS : DT_NOTICE_PIN_BREAKS_RULE, string);
        dt_reason_below(&p->notices, n, &broken->why, p->well);
    }
    for (size_t i = 0; i < p->well->pin_count; ++i) {
        bool placed = false;
        for (size_t k = 0; k < dt_program_strings(p); ++k)
            placed = placed || p->seats.items[k].pin == i;
        if (!placed) note_pin_left_out(p, &p->well->pins[i]);
    }
}

static void note_nest(dt_program *p, size_t i)
{
    const dt_program_string *item = &p->items[i];
    const double clearance_m = (item->hole_m - item->largest_od_m) / 2;
    const double needed_m = i == 0 ? dt_nest_clearance(p->well, item->od_m)
                                   : dt_nest_gap(p->well, item->od_m, item->largest_od_m);
    const bool driven = i == 0 && p->well->conductor.method != DT_CONDUCTOR_DRILLED;
    double drift_m = INFINITY;
    for (size_t k = 0; k < item->string->section_count; ++k)
        drift_m = fmin(drift_m, dt_nest_drift(p->well, item->string->sections[k].pipe));
    if (!driven && clearance_m < needed_m - SAME_DIAMETER_M) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_PIN_CLEARANCE, i);
        dt_notice_figure(n, "clearance", DT_KIND_DIAMETER, clearance_m);
        dt_notice_figure(n, "needed", DT_KIND_DIAMETER, needed_m);
    }
    const bool bit = drift_m < item->string->need_drift_m - SAME_DIAMETER_M;
    /* in an opened hole, pipe may be wider than the bit */
    const bool next = i + 1 < p->count && drift_m < p->items[i + 1].largest_od_m - SAME_DIAMETER_M;
    if (!bit && !next) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_PIN_DRIFT, i);
    dt_notice_figure(n, "drift", DT_KIND_DIAMETER, drift_m);
    if (bit)
        dt_notice_figure(n, "bit", DT_KIND_DIAMETER, item->string->need_drift_m);
    else
        dt_notice_figure(n, "next_coupling", DT_KIND_DIAMETER, p->items[i + 1].largest_od_m);
}

/** Pinned pipe that is too small for what is run in it at the objective. */
static void note_completion(dt_program *p, size_t i)
{
    const dt_program_string *item = &p->items[i];
    const dt_well *well = p->well;
    const size_t pin = item->seat->pin;
    if (i + 1 != p->count || item->od_m >= well->min_pipe_od_m - SAME_DIAMETER_M) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_PIN_COMPLETION, i);
    dt_notice_figure(n, "needed", DT_KIND_DIAMETER, well->min_pipe_od_m);
    dt_notice_figure(n, "od", DT_KIND_DIAMETER, item->od_m);
    dt_notice_number(n, "objective_line", well->objective_line);
    if (n && pin != DT_NO_INDEX) n->line = well->pins[pin].line;
}

/** A hole and what it bears. */
typedef struct kicked {
    size_t string; /* DT_NO_STRING for an open last hole */
    double hole_m;
    const dt_kick_assembly *assembly;
    const dt_kick_result *kick, *swabbed;
} kicked;

static void note_short(dt_program *p, const kicked *k, dt_notice_code code,
                       const dt_kick_result *borne, double needed_m3)
{
    if (borne->whole_hole || !dt_less(borne->tolerance_m3, needed_m3)) return;
    dt_notice *n = dt_notice_add(&p->notices, code, k->string);
    dt_notice_figure(n, "hole", DT_KIND_DIAMETER, k->hole_m);
    dt_notice_figure(n, "tolerance", DT_KIND_VOLUME, borne->tolerance_m3);
    dt_notice_figure(n, "needed", DT_KIND_VOLUME, needed_m3);
    dt_notice_figure(n, "weak_tvd", DT_KIND_LENGTH, borne->weak_tvd_m);
}

/** What a hole under a BOP should bear, where that is asked for, and what it must. */
static void note_kick_of(dt_program *p, const kicked *k)
{
    if (p->well->kick.given || p->well->sizes.series)
        note_short(p, k, DT_NOTICE_KICK_TOLERANCE_SHORT, k->kick, k->assembly->minimum_m3);
    note_short(p, k, DT_NOTICE_KICK_TOLERANCE_LEAST, k->swabbed, k->assembly->least_m3);
}

static void note_kick(dt_program *p, size_t i)
{
    const dt_program_string *item = &p->items[i];
    /* what is drilled under a diverter is not shut in */
    const bool diverter = item->seat->rules.diverter || (i < 2 && !p->well->sizes.series);
    if (!item->kick_known || diverter) return;
    const kicked k = {i, item->hole_m, &item->kick_assembly, &item->kick, &item->swabbed};
    note_kick_of(p, &k);
}

static void note_open_kick(dt_program *p)
{
    if (!p->open_kick_known) return;
    const kicked k = {DT_NO_STRING, p->seats.open.hole_m, &p->open_assembly, &p->open_kick,
                      &p->open_swabbed};
    note_kick_of(p, &k);
}

static void note_seat(dt_program *p, size_t i)
{
    const dt_program_string *item = &p->items[i];
    if (item->seat->type == DT_LINER && p->lap_customary) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_LAP_CUSTOMARY, i);
        dt_notice_figure(n, "lap", DT_KIND_LENGTH, p->lap_m);
    }
    const double step_m = p->well->seats.round_to_m;
    const double off_m =
        isfinite(step_m) && step_m > 0 ? fabs(remainder(item->seat->shoe_m, step_m)) : 0;
    const bool chosen = i > 0 && i + 1 < p->count && !item->seat->shoe_pinned;
    if (chosen && off_m > SAME_DEPTH_M) dt_notice_add(&p->notices, DT_NOTICE_SEAT_NOT_ROUNDED, i);
}

void dt_program_note(dt_program *p)
{
    note_well(p);
    note_customs(p);
    note_fracture(p);
    note_broken_pins(p);
    for (size_t n = 0; n < dt_program_strings(p); ++n) {
        const size_t i = dt_program_at(p, n);
        note_nest(p, i);
        note_completion(p, i);
        note_kick(p, i);
        dt_program_note_sections(p, i);
        note_seat(p, i);
    }
    note_open_kick(p);
}
