/* SPDX-License-Identifier: MIT */
#include "program.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "customs_words.h"
#include "pressure.h"
#include "program_parts.h"

size_t dt_program_strings(const dt_program *program)
{
    return program->count + program->seats.tieback_count;
}

size_t dt_program_at(const dt_program *program, size_t position)
{
    return dt_seats_at(&program->seats, position);
}

int dt_program_string_name(const dt_program *program, size_t index, char *buffer, size_t size)
{
    dt_role role = program->items[index].seat->role;
    const char *tied = program->items[index].seat->type == DT_TIEBACK ? " tie-back" : "";
    unsigned of_role = 0;
    for (size_t i = 0; i < program->count; ++i)
        if (program->items[i].seat->role == role) ++of_role;
    if (of_role > 1)
        return snprintf(buffer, size, "%s %u%s", dt_role_text(role), program->items[index].ordinal,
                        tied);
    return snprintf(buffer, size, "%s%s", dt_role_text(role), tied);
}

/* ---- the strings in full ---- */

static void reckon_kick(const dt_program *p, size_t index, dt_program_string *item)
{
    if (index == 0 || index >= p->count) return; /* no hole is drilled for a tie-back */
    dt_kick_assembly_for(p->well, item->hole_m, &item->kick_assembly);
    item->kick_known = dt_kick_section(&p->window, &p->trajectory, &item->kick_assembly,
                                       p->seats.items[index - 1].shoe_m, item->shoe_tvd_m,
                                       item->seat->mud_kgm3, &item->kick) == DT_OK;
}

static void bill_pipe(const dt_well *well, const dt_string *string, dt_bill *bill)
{
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        dt_billed_pipe pipe = {section->pipe, section->thread,
                               section->base_md_m - section->top_md_m};
        dt_bill_add_pipe(well, &pipe, bill);
    }
    dt_bill_sum(bill);
}

/** What the string costs: its hole, then each length of its pipe. */
static void bill_item(const dt_program *p, size_t index, dt_program_string *item)
{
    const dt_well *well = p->well;
    const dt_seat *above = index > 0 ? &p->seats.items[index - 1] : NULL;
    double above_m = above ? above->shoe_m : dt_well_ground_m(well);
    if (item->seat->type == DT_TIEBACK) {
        dt_billed_tieback t = {.base_md_m = item->shoe_md_m, .od_m = item->od_m};
        dt_bill_tieback(well, &p->times, &t, &item->bill);
        bill_pipe(well, item->string, &item->bill);
        return;
    }
    double cement = dt_bill_cement_top(well, item->seat->role, item->seat->type, above_m,
                                       item->top_tvd_m, item->shoe_tvd_m);
    dt_billed_string s = {.index = index,
                          .last = index + 1 == p->seats.count,
                          .type = item->seat->type,
                          .hole_top_md_m = dt_trajectory_md(&p->trajectory, above_m),
                          .shoe_md_m = item->shoe_md_m,
                          .top_md_m = item->top_md_m,
                          .cement_top_md_m = dt_trajectory_md(&p->trajectory, cement),
                          .hole_m = item->hole_m,
                          .bit_m = item->bit_m,
                          .od_m = item->od_m};
    dt_bill_hole(well, &p->times, &s, &item->bill);
    bill_pipe(well, item->string, &item->bill);
}

static void fill_item(const dt_program *p, size_t index, dt_program_string *item)
{
    const dt_string *string = &p->strings.items[index];
    const dt_nest_hole *hole = &p->nest.holes[string->nest_hole];
    const dt_nest_pipe *pipe = &p->nest.pipes[string->nest_pipe];
    *item = (dt_program_string){.seat = &p->seats.items[index],
                                .string = string,
                                .top_md_m = string->load.top_md_m,
                                .top_tvd_m = string->load.top_tvd_m,
                                .shoe_md_m = string->load.shoe_md_m,
                                .shoe_tvd_m = string->load.shoe_tvd_m,
                                .hole_m = hole->diameter_m,
                                .bit_m = hole->bit_m,
                                .opened = hole->opened,
                                .od_m = pipe->od_m,
                                .largest_od_m = pipe->coupling_od_m};
    const bool tieback = item->seat->type == DT_TIEBACK;
    for (size_t i = 0; i <= (tieback ? item->seat->ties : index); ++i)
        if (p->seats.items[i].role == item->seat->role) ++item->ordinal;
    if (tieback) { /* no hole is drilled for it */
        item->hole_m = item->bit_m = NAN;
        item->opened = false;
    }
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *section = &string->sections[i];
        item->steel_kg += section->pipe->weight_kgm * (section->base_md_m - section->top_md_m);
    }
    item->job = &p->jobs[index];
    const dt_cement *cement = &item->job->cement;
    item->cement_rule = cement->rule;
    item->cement_top_tvd_m = item->job->cement_refused ? NAN : cement->top_tvd_m;
    item->cement_top_md_m = item->job->cement_refused ? NAN : cement->top_md_m;
    reckon_kick(p, index, item);
    bill_item(p, index, item);
    dt_program_hang(p, index, item);
}

static dt_status fill_items(dt_program *p)
{
    const size_t strings = p->seats.count + p->seats.tieback_count;
    p->items = calloc(strings, sizeof *p->items);
    if (!p->items) return DT_E_MEMORY;
    p->count = p->seats.count;
    dt_times_settle(p->well, &p->times);
    for (size_t i = 0; i < strings; ++i) {
        fill_item(p, i, &p->items[i]);
        p->steel_kg += p->items[i].steel_kg;
        dt_bill_add(&p->bill, &p->items[i].bill);
    }
    return DT_OK;
}

/* ---- warnings ---- */

dt_status dt_program_warn(dt_program *p, const char *code, const char *where, sentence *text)
{
    dt_warning *bigger = realloc(p->warnings, (p->warning_count + 1) * sizeof *bigger);
    sentence place = {0};
    say(&place, "%s", where);
    dt_warning warning = {.code = code};
    if (bigger) p->warnings = bigger;
    dt_status text_status = sentence_take(text, &warning.text);
    dt_status where_status = sentence_take(&place, &warning.where);
    if (!bigger || text_status != DT_OK || where_status != DT_OK) {
        free(warning.text);
        free(warning.where);
        return DT_E_MEMORY;
    }
    p->warnings[p->warning_count++] = warning;
    return DT_OK;
}

dt_status dt_program_warn_plainly(dt_program *p, const dt_plain_warning *all, size_t count)
{
    for (size_t i = 0; i < count; ++i) {
        if (!all[i].raised) continue;
        sentence text = {0};
        dt_say_customs(&text, p->well, all[i].text);
        if (dt_program_warn(p, all[i].code, "well", &text) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
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

static dt_status warn_of_well(dt_program *p)
{
    const dt_well *w = p->well;
    bool spread = has_spread(&w->pore) || has_spread(&w->fracture) || has_spread(&w->collapse) ||
                  depths_spread(w);
    bool computed_at_sea =
        w->over_sea && isnan(w->conductor.depth_m) && isnan(w->conductor.sea_gradient_kgm3);
    const dt_plain_warning all[] = {
        {isnan(w->fresh_water_m), "fresh-water-not-stated",
         "the well file states no fresh water: nothing protects it in this plan"},
        {!w->sticking.given, "sticking-not-checked",
         "no <sticking> limits in the well file: differential sticking is not checked"},
        {!w->prices_given, "not-priced", "no <prices> in the well file: nothing is priced"},
        {w->prices_given && p->seats.tieback_count > 0 && isnan(w->prices.receptacle),
         "receptacle-not-priced",
         "no price of a tie-back receptacle (receptacle of <liner> in <prices>): the tie-back is "
         "priced without"},
        {p->times.customary, "times-customary",
         "one or more times of the rig are not stated in <times>: days are counted with customary "
         "ones (common practice, no source; docs/costing.md)"},
        {spread, "base-values",
         "the points have spreads: the plan holds for the base values; \"drawtube odds\" says how "
         "sure it is"},
        {!w->kick.given, "kick-tolerance-customary",
         "no <kick_tolerance> in the well file: it is reckoned for a swabbed gas kick of "
         "{kick_tolerance influx} "
         "with customary drill pipe and collars, and no minimum is asked for"},
        {w->kick.given && w->kick.row_count == 0, "kick-rows-customary",
         "no <hole> rows in <kick_tolerance>: drill pipe, collars and smallest influx volumes are "
         "customary ones (from memory, not standardised)"},
        {p->design.factors_customary, "design-factors-customary",
         "one or more design factors are not stated: customary ones are used (burst "
         "{design burst}, collapse {design collapse}, tension {design tension}, triaxial {design "
         "triaxial}; common practice)"},
        {p->design.overpull_customary, "overpull-customary",
         "no overpull stated: {design overpull} is used (common practice)"},
        {p->design.gas_customary, "gas-gradient-customary",
         "no gas gradient stated: {design gas_gradient} is used (common practice)"},
        {computed_at_sea, "sea-gradient-customary",
         "no sea water gradient stated for the conductor: {conductor sea_gradient} is used"},
        {true, "conductor-not-screened",
         "the conductor is screened for its own weight only: it carries a diverter, no shut-in "
         "pressure"},
    };
    return dt_program_warn_plainly(p, all, sizeof all / sizeof *all);
}

static dt_status warn_of_broken_pins(dt_program *p, dt_display display)
{
    for (size_t i = 0; i < p->seats.broken_count; ++i) {
        const dt_broken_pin *broken = &p->seats.broken[i];
        char name[32];
        dt_program_string_name(p, broken->seat, name, sizeof name);
        char *why = NULL;
        if (dt_reason_sentence(&broken->why, p->well, display, &why) != DT_OK) return DT_E_MEMORY;
        sentence text = {0};
        say(&text, "a pinned seat is kept although it breaks a rule: %s", why);
        free(why);
        if (dt_program_warn(p, "pin-breaks-rule", name, &text) != DT_OK) return DT_E_MEMORY;
    }
    for (size_t i = 0; i < p->well->pin_count; ++i) {
        bool placed = false;
        for (size_t k = 0; k < dt_program_strings(p); ++k)
            placed = placed || p->seats.items[k].pin == i;
        if (placed) continue;
        const bool tieback = p->well->pins[i].type == DT_TIEBACK;
        if (tieback) { /* of its liner's pin something is said above, if that has no place */
            sentence text = {0};
            say(&text,
                "the pinned %s tie-back of line %d is left out: with a lap of %s its liner "
                "reaches the wellhead, or its liner is not there",
                dt_role_text(p->well->pins[i].role), p->well->pins[i].line,
                show(display, DT_KIND_LENGTH, p->lap_m).text);
            if (dt_program_warn(p, "tieback-left-out", "well", &text) != DT_OK) return DT_E_MEMORY;
            continue;
        }
        sentence text = {0};
        say(&text, "the pinned %s string of line %d has no place in this plan",
            dt_role_text(p->well->pins[i].role), p->well->pins[i].line);
        if (dt_program_warn(p, "pin-without-place", "well", &text) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

static dt_status warn_of_nest(dt_program *p, size_t i, const char *name, dt_display display)
{
    const dt_program_string *item = &p->items[i];
    double gap = (item->hole_m - item->largest_od_m) / 2;
    double need = dt_nest_clearance(p->well, item->od_m);
    bool driven = i == 0 && p->well->conductor.method != DT_CONDUCTOR_DRILLED;
    double drift = INFINITY;
    for (size_t k = 0; k < item->string->section_count; ++k)
        drift = fmin(drift, dt_nest_drift(p->well, item->string->sections[k].pipe));
    sentence text = {0};
    if (!driven && gap < need - 0.0005 * DT_M_PER_IN) {
        say(&text, "the pinned pipe leaves %s round its coupling, %s is asked for",
            show(display, DT_KIND_DIAMETER, gap).text, show(display, DT_KIND_DIAMETER, need).text);
        if (dt_program_warn(p, "pin-clearance", name, &text) != DT_OK) return DT_E_MEMORY;
    }
    if (drift < item->string->need_drift_m - 0.0005 * DT_M_PER_IN) {
        text = (sentence){0};
        say(&text, "the next bit, %s in, does not pass the drift of the pinned pipe, %s",
            show_inches(item->string->need_drift_m).text,
            show(display, DT_KIND_DIAMETER, drift).text);
        if (dt_program_warn(p, "pin-drift", name, &text) != DT_OK) return DT_E_MEMORY;
    } else if (i + 1 < p->count && drift < p->items[i + 1].largest_od_m - 0.0005 * DT_M_PER_IN) {
        text = (sentence){0}; /* in an opened hole, pipe may be wider than the bit */
        say(&text,
            "the next string, %s over its coupling, does not pass the drift of this one, %s: the "
            "pin "
            "of its hole and pipe stays",
            show(display, DT_KIND_DIAMETER, p->items[i + 1].largest_od_m).text,
            show(display, DT_KIND_DIAMETER, drift).text);
        if (dt_program_warn(p, "pin-drift", name, &text) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

/** Pinned pipe that is too small for what is run in it at the objective. */
static dt_status warn_of_completion(dt_program *p, size_t i, const char *name)
{
    const dt_program_string *item = &p->items[i];
    const dt_well *well = p->well;
    const size_t pin = item->seat->pin;
    if (i + 1 != p->count || item->od_m >= well->min_pipe_od_m - 0.0005 * DT_M_PER_IN) return DT_OK;
    sentence text = {0};
    say(&text, "the completion needs pipe of %s in or more (well file line %d), the pinned pipe",
        show_inches(well->min_pipe_od_m).text, well->objective_line);
    if (pin != DT_NO_INDEX && well->pins[pin].line > 0)
        say(&text, " of line %d", well->pins[pin].line);
    say(&text, " is %s in: the pin stays", show_inches(item->od_m).text);
    return dt_program_warn(p, "pin-completion", name, &text);
}

static dt_status warn_of_kick(dt_program *p, size_t i, const char *name, dt_display display)
{
    const dt_program_string *item = &p->items[i];
    double minimum = item->kick_assembly.minimum_m3;
    bool small = item->kick_known && !item->kick.whole_hole && item->kick.tolerance_m3 < minimum;
    /* A conductor carries a diverter: the hole below it is not shut in. */
    if (!p->well->kick.given || !small || i < 2) return DT_OK;
    sentence text = {0};
    say(&text,
        "kick tolerance of the %s in hole is %s, %s is asked for; the weak point is at %s TVD",
        show_inches(item->hole_m).text, show(display, DT_KIND_VOLUME, item->kick.tolerance_m3).text,
        show(display, DT_KIND_VOLUME, minimum).text,
        show(display, DT_KIND_LENGTH, item->kick.weak_tvd_m).text);
    return dt_program_warn(p, "kick-tolerance-short", name, &text);
}

static dt_status warn_of_fracture(dt_program *p, dt_display display)
{
    const dt_fracture_source *from = &p->well->fracture_from;
    if (from->method != DT_FRACTURE_POINTS) {
        sentence text = {0};
        say(&text,
            "the fracture gradient is computed by %s from overburden and pore pressure; methods "
            "differ by whole ppg",
            dt_fracture_method_words(from->method));
        if (dt_program_warn(p, "fracture-by-method", "well", &text) != DT_OK) return DT_E_MEMORY;
    }
    for (size_t i = 0; i < from->test_count; ++i) {
        sentence text = {0};
        say(&text, "the fracture gradient is calibrated by a leak-off test of %s less %s at %s TVD",
            show(display, DT_KIND_DENSITY, from->tests[i].emw_kgm3).text,
            show(display, DT_KIND_DENSITY, from->tests[i].deduct_kgm3).text,
            show(display, DT_KIND_LENGTH, from->tests[i].shoe_m).text);
        if (dt_program_warn(p, "fracture-calibrated", "well", &text) != DT_OK) return DT_E_MEMORY;
    }
    return DT_OK;
}

static dt_status warn_of_strings(dt_program *p, dt_display display)
{
    for (size_t n = 0; n < dt_program_strings(p); ++n) {
        const size_t i = dt_program_at(p, n);
        const dt_program_string *item = &p->items[i];
        char name[32];
        dt_program_string_name(p, i, name, sizeof name);
        if (warn_of_nest(p, i, name, display) != DT_OK) return DT_E_MEMORY;
        if (warn_of_completion(p, i, name) != DT_OK) return DT_E_MEMORY;
        if (warn_of_kick(p, i, name, display) != DT_OK) return DT_E_MEMORY;
        if (dt_program_warn_of_sections(p, i, name, display) != DT_OK) return DT_E_MEMORY;
        if (item->seat->type == DT_LINER && p->lap_customary) {
            sentence text = {0};
            say(&text, "no liner lap stated: %s is used (common practice)",
                show(display, DT_KIND_LENGTH, p->lap_m).text);
            if (dt_program_warn(p, "lap-customary", name, &text) != DT_OK) return DT_E_MEMORY;
        }
        double step = p->well->seats.round_to_m;
        double off = isfinite(step) && step > 0 ? fabs(remainder(item->seat->shoe_m, step)) : 0;
        bool chosen = i > 0 && i + 1 < p->count && !item->seat->shoe_pinned;
        if (chosen && off > 1e-6) {
            sentence text = {0};
            say(&text, "no rounding step fits between the limits of this seat: it stands at its "
                       "exact depth");
            if (dt_program_warn(p, "seat-not-rounded", name, &text) != DT_OK) return DT_E_MEMORY;
        }
    }
    return DT_OK;
}

/* ---- refusals ---- */

static dt_status refuse_seats(const dt_program *p, dt_display display, dt_refusal *refusal)
{
    sentence s = {0};
    say(&s, "No program exists: ");
    for (size_t i = 0; i < p->seats.collision_count; ++i) {
        char *why = NULL;
        if (dt_reason_sentence(&p->seats.collisions[i], p->well, display, &why) != DT_OK) {
            free(s.bytes);
            return DT_E_MEMORY;
        }
        say(&s, "%s%s", i ? ".\nThis collides with: " : "", why);
        free(why);
    }
    say(&s, ".");
    return sentence_take(&s, &refusal->text);
}

static const char *role_of(const dt_program *p, size_t string)
{
    return dt_role_text(p->seats.items[string].role);
}

static dt_status refuse_nest(const dt_program *p, size_t blocked, dt_display display,
                             dt_refusal *refusal)
{
    sentence s = {0};
    say(&s,
        "No program exists: the seats are found (%zu strings), but no hole and pipe of the "
        "catalogue nest for "
        "the %s string (shoe %s TVD) together with the strings inside it; the completion needs %s "
        "in.",
        p->seats.count, role_of(p, blocked),
        show(display, DT_KIND_LENGTH, p->seats.items[blocked].shoe_m).text,
        show_inches(p->well->min_pipe_od_m).text);
    bool hung = false;
    for (size_t i = 0; i < p->seats.count; ++i)
        hung = hung || p->seats.items[i].type == DT_LINER;
    if (hung && p->well->hangers.count > 0)
        say(&s, " Liners hang in the hangers of <liner_hangers> (line %d) alone.",
            p->well->hangers.line);
    for (size_t i = 0; i < p->well->pin_count; ++i)
        if (isfinite(p->well->pins[i].od_m) || isfinite(p->well->pins[i].hole_m))
            say(&s,
                p->well->pins[i].line > 0 ? " The %s string's sizes are pinned in line %d."
                                          : " The %s string's sizes are pinned.",
                dt_role_text(p->well->pins[i].role), p->well->pins[i].line);
    return sentence_take(&s, &refusal->text);
}

/** Would the nearest pipe hold if the liner below were tied back? Tried, not guessed. */
static bool tieback_helps(const dt_program *p, const dt_shortfall *f)
{
    const size_t below = f->seat + 1;
    if (!f->pipe || f->by_hanger || below >= p->seats.count) return false;
    if (p->seats.items[below].type != DT_LINER || p->seats.items[below].tied_back) return false;
    dt_seat *items = malloc(p->seats.count * sizeof *items);
    if (!items) return false; /* only the hint is lost */
    memcpy(items, p->seats.items, p->seats.count * sizeof *items);
    items[below].tied_back = true;
    const dt_seats tied = {.items = items, .count = p->seats.count};
    dt_string_load load;
    dt_screen screen;
    const bool helps = dt_string_load_build(&p->window, &tied, &p->trajectory, &p->design, p->lap_m,
                                            f->seat, &load) == DT_OK &&
                       dt_string_screen(p->catalogue, f->pipe, f->thread, &load, &p->trajectory,
                                        &p->design, &screen) == DT_OK &&
                       screen.ok;
    free(items);
    return helps;
}

/** Would evacuation="lost-returns" change the load? Not for the wall of the finished well. */
static bool may_assume_losses(const dt_program *p, size_t seat)
{
    dt_string_load load;
    return dt_string_load_build(&p->window, &p->seats, &p->trajectory, &p->design, p->lap_m, seat,
                                &load) == DT_OK &&
           !load.wall_when_finished && load.hole_count > 0;
}

static dt_status refuse_strings(const dt_program *p, const dt_shortfall *f, dt_display display,
                                dt_refusal *refusal)
{
    sentence s = {0};
    const dt_seat *seat = &p->seats.items[f->seat];
    const bool tieback = seat->type == DT_TIEBACK;
    if (tieback) seat = &p->seats.items[seat->ties];
    if (f->by_hanger && !tieback) {
        const bool liner = seat->type == DT_LINER;
        say(&s,
            "No program exists: pipe would hold the loads of the %s string (shoe %s TVD), but "
            "no hanger of <liner_hangers> (line %d) %s",
            role_of(p, f->seat), show(display, DT_KIND_LENGTH, seat->shoe_m).text,
            p->well->hangers.line,
            liner ? "hangs it in the pipe above, bears it and lets the next bit through"
                  : "is set in it, bears the string below and lets the next bit through");
        say(&s, ".");
        return sentence_take(&s, &refusal->text);
    }
    say(&s, "No program exists: no pipe that nests holds the loads of the %s %s (shoe %s TVD)",
        dt_role_text(seat->role), tieback ? "tie-back on the liner" : "string",
        show(display, DT_KIND_LENGTH, seat->shoe_m).text);
    if (f->pipe)
        say(&s,
            "; the nearest, %s in %s %s %s, reaches a factor of %.2f in %s, %s, at %s MD where "
            "%.2f is "
            "asked for",
            show_inches(f->pipe->od_m).text,
            show(display, DT_KIND_LINEAR_MASS, f->pipe->weight_kgm).text, f->pipe->grade->name,
            dt_thread_text(f->thread), f->factor.factor, dt_check_code(f->check),
            dt_load_code(f->load), show(display, DT_KIND_LENGTH, f->factor.at_md_m).text,
            f->factor.needed);
    if (tieback_helps(p, f))
        say(&s,
            "; it would hold if the %s liner below were tied back (type=\"tieback\" in <pinned>)",
            role_of(p, f->seat + 1));
    say(&s, ".");
    if (f->pipe && f->load == DT_LOAD_COLLAPSE_EMPTY && may_assume_losses(p, f->seat))
        say(&s, " The string is taken to be empty, as where nothing else is stated: with "
                "<loads evacuation=\"lost-returns\"/> only as far down as losses in the holes "
                "below it can bring the mud.");
    return sentence_take(&s, &refusal->text);
}

/* ---- all stages ---- */

static dt_status run_stages(dt_program *p, dt_display display, dt_refusal *refusal)
{
    const dt_well *well = p->well;
    dt_design_settle(well, &p->design);
    p->lap_customary = isnan(well->seats.lap_m);
    p->lap_m = dt_custom_or(well, well->seats.lap_m, DT_CUSTOM_SEATS_LAP);
    dt_status status = dt_program_check_pins(p, display, refusal);
    if (status == DT_OK)
        status = dt_trajectory_build(well->stations, well->station_count, &p->trajectory);
    if (status == DT_OK) status = dt_window_build(well, &p->window);
    if (status != DT_OK) return status;
    status = dt_seats_choose(&p->window, &p->seats);
    if (status == DT_E_NONE && refuse_seats(p, display, refusal) != DT_OK) return DT_E_MEMORY;
    if (status != DT_OK) return status;
    size_t blocked = 0;
    status = dt_nest_build(well, &p->seats, p->catalogue, &p->nest, &blocked);
    if (status == DT_E_NONE && refuse_nest(p, blocked, display, refusal) != DT_OK)
        return DT_E_MEMORY;
    if (status != DT_OK) return status;
    dt_shortfall shortfall = {0};
    status = dt_strings_choose(&p->window, &p->seats, &p->nest, p->catalogue, &p->trajectory,
                               p->lap_m, &p->strings, &shortfall);
    if (status == DT_E_NONE && refuse_strings(p, &shortfall, display, refusal) != DT_OK)
        return DT_E_MEMORY;
    if (status == DT_OK)
        status = dt_wellhead_build(&p->window, &p->seats, &p->strings, &p->trajectory, &p->design,
                                   &p->wellhead);
    return status;
}

dt_status dt_program_plan(const dt_well *well, const dt_catalogue *catalogue, dt_display display,
                          dt_program **out, dt_refusal *refusal)
{
    *refusal = (dt_refusal){0};
    dt_program *p = calloc(1, sizeof *p);
    if (!p) return DT_E_MEMORY;
    p->well = well;
    p->catalogue = catalogue;
    dt_status status = run_stages(p, display, refusal);
    if (status == DT_OK) status = dt_program_jobs(p);
    if (status == DT_OK) status = fill_items(p);
    if (status == DT_OK) status = warn_of_well(p);
    if (status == DT_OK) status = warn_of_fracture(p, display);
    if (status == DT_OK) status = warn_of_broken_pins(p, display);
    if (status == DT_OK) status = warn_of_strings(p, display);
    if (status == DT_OK) status = dt_program_warn_of_liners(p, display);
    if (status == DT_OK) status = dt_program_warn_of_jobs(p, display);
    if (status == DT_OK) status = dt_program_warn_strength(p, display);
    if (status == DT_OK)
        *out = p;
    else
        dt_program_free(p);
    return status;
}

void dt_program_free(dt_program *program)
{
    if (!program) return;
    for (size_t i = 0; i < program->warning_count; ++i) {
        free(program->warnings[i].text);
        free(program->warnings[i].where);
    }
    free(program->warnings);
    free(program->items);
    for (size_t i = 0; program->jobs && i < program->seats.count + program->seats.tieback_count;
         ++i) {
        dt_cement_free(&program->jobs[i].cement);
        dt_centralizers_free(&program->jobs[i].centralizing);
        dt_accessories_free(&program->jobs[i].accessories);
    }
    free(program->jobs);
    dt_wellhead_free(&program->wellhead);
    dt_strings_free(&program->strings);
    dt_nest_free(&program->nest);
    dt_seats_free(&program->seats);
    dt_window_free(&program->window);
    dt_trajectory_free(&program->trajectory);
    free(program->kept);
    free(program);
}

void dt_refusal_free(dt_refusal *refusal)
{
    if (!refusal) return;
    free(refusal->text);
    *refusal = (dt_refusal){0};
}
