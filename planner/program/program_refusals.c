/* SPDX-License-Identifier: MIT */
/* Why no program exists: what collides, where nothing nests, which pipe comes nearest. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "program_parts.h"
#include "same.h"
#include "units.h"

static dt_status concluded(const dt_refusal *refusal, dt_status status)
{
    return refusal->why.failed ? DT_E_MEMORY : status;
}

/** "No program exists", and why. */
static dt_notice *begin(dt_refusal *refusal, dt_notice_code code, size_t string)
{
    dt_notice *n = dt_notice_below(
        &refusal->why, dt_notice_add(&refusal->why, DT_NOTICE_NO_PROGRAM, DT_NO_STRING), code);
    if (n) n->string = string;
    return n;
}

dt_status dt_program_refuse_seats(const dt_program *p, dt_learned *learned, dt_refusal *refusal)
{
    if (!refusal) return DT_E_NONE;
    dt_notice *n = begin(refusal, DT_NOTICE_NO_SEATS, DT_NO_STRING);
    for (size_t i = 0; i < p->seats.collision_count; ++i)
        dt_reason_below(&refusal->why, n, &p->seats.collisions[i], p->well);
    const dt_status status = dt_program_note_cures(p, learned, &refusal->why);
    if (status != DT_OK) return status;
    return concluded(refusal, DT_E_NONE);
}

static const char *role_of(const dt_program *p, size_t string)
{
    return dt_role_text(p->seats.items[string].role);
}

dt_status dt_program_refuse_nest(const dt_program *p, size_t blocked, dt_refusal *refusal)
{
    if (!refusal) return DT_E_NONE;
    const dt_well *well = p->well;
    dt_notice *n = begin(refusal, DT_NOTICE_NO_NEST, blocked);
    dt_notice_number(n, "strings", (double)p->seats.count);
    dt_notice_name(n, "role", role_of(p, blocked));
    dt_notice_figure(n, "shoe_tvd", DT_KIND_LENGTH, p->seats.items[blocked].shoe_m);
    dt_notice_figure(n, "completion", DT_KIND_DIAMETER, well->min_pipe_od_m);
    bool hung = false;
    for (size_t i = 0; i < p->seats.count; ++i)
        hung = hung || p->seats.items[i].type == DT_LINER;
    if (hung && well->hangers.count > 0) {
        dt_notice *why = dt_notice_below(&refusal->why, n, DT_NOTICE_NO_NEST_HANGERS);
        if (why) why->line = well->hangers.line;
    }
    for (size_t i = 0; i < well->pin_count; ++i) {
        const dt_pin *pin = &well->pins[i];
        if (!isfinite(pin->od_m) && !isfinite(pin->hole_m)) continue;
        dt_notice *why = dt_notice_below(&refusal->why, n, DT_NOTICE_NO_NEST_PIN);
        dt_notice_name(why, "role", dt_role_text(pin->role));
        if (why) why->line = pin->line;
    }
    return concluded(refusal, DT_E_NONE);
}

/** The first hole of seats that breaks a rule of the well as stated. */
static bool first_broken(const dt_program *p, const dt_seats *seats, dt_section_check *out)
{
    for (size_t k = 1; k < seats->count; ++k) {
        dt_section_test(&p->window, &seats->items[k].rules, seats->items[k - 1].shoe_m,
                        seats->items[k].shoe_m, true, out);
        if (!out->ok) return true;
    }
    if (!seats->open.given) return false;
    dt_section_test(&p->window, &seats->open.rules, seats->open.top_m, seats->open.base_m, true,
                    out);
    return !out->ok;
}

/** Is there a ladder without one of the rules of holes? Then *where is the first hole of it that
 * breaks the rule; where->ok: none of its seats as rounded does. */
static dt_status helps_without(const dt_program *p, dt_ladder_nests *nests, dt_rule rule,
                               bool *helps, dt_section_check *where)
{
    dt_well without = *p->well; /* borrows everything */
    const dt_ladder_cuts none = {.nests = nests};
    dt_window window;
    dt_ladder found;
    without.rules_off |= dt_rule_bit(rule);
    dt_status status = dt_window_build(&without, &window);
    if (status != DT_OK) return status;
    status = dt_ladder_choose(&window, p->catalogue, &none, &found);
    *helps = status == DT_OK;
    *where = (dt_section_check){.ok = true};
    if (*helps) {
        dt_seats seats = {0};
        status = dt_ladder_seats(&window, &found, &seats);
        if (status == DT_OK && !first_broken(p, &seats, where)) where->ok = true;
        dt_seats_free(&seats);
    }
    dt_window_free(&window);
    return status == DT_E_NONE ? DT_OK : status;
}

dt_status dt_program_refuse_ladders(dt_program *p, dt_learned *learned, dt_refusal *refusal)
{
    if (!refusal) return DT_E_NONE;
    static const dt_rule rules[] = {DT_RULE_KICK_LEAST,      DT_RULE_DIVERTER_PRESSURE,
                                    DT_RULE_DIVERTER_GAS,    DT_RULE_OPEN_HOLE,
                                    DT_RULE_CIRCULATING,     DT_RULE_DRILLING_MARGIN,
                                    DT_RULE_KICK_FIXED,      DT_RULE_KICK_DEPTH_RATIO,
                                    DT_RULE_STICKING_NORMAL, DT_RULE_STICKING_ABNORMAL};
    dt_status status = dt_seats_choose(&p->window, &p->seats);
    if (status == DT_E_NONE) return dt_program_refuse_seats(p, learned, refusal);
    if (status != DT_OK) return status;
    dt_notice *n = begin(refusal, DT_NOTICE_NO_LADDER, DT_NO_STRING);
    for (size_t i = 0; i < COUNT_OF(rules); ++i) {
        bool helps = false;
        dt_section_check where;
        status = helps_without(p, &learned->nests, rules[i], &helps, &where);
        if (status != DT_OK) return status;
        if (!helps) continue;
        dt_notice *why = dt_notice_below(&refusal->why, n, DT_NOTICE_NO_LADDER_RULE);
        dt_notice_name(why, "rule", dt_rule_code(rules[i]));
        if (!where.ok) dt_reason_below(&refusal->why, why, &where.why, p->well);
    }
    status = dt_program_note_cures(p, learned, &refusal->why);
    if (status != DT_OK) return status;
    return concluded(refusal, DT_E_NONE);
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

static dt_status refuse_hanger(const dt_program *p, const dt_shortfall *f, dt_refusal *refusal)
{
    const dt_seat *seat = &p->seats.items[f->seat];
    const bool liner = seat->type == DT_LINER;
    dt_notice *n = begin(refusal, DT_NOTICE_NO_HANGER, f->seat);
    dt_notice_name(n, "role", dt_role_text(seat->role));
    dt_notice_figure(n, "shoe_tvd", DT_KIND_LENGTH, seat->shoe_m);
    dt_notice_mark(n, "hangs", liner);
    dt_notice_mark(n, "carries", !liner);
    if (n) n->line = p->well->hangers.line;
    return concluded(refusal, DT_E_NONE);
}

static void note_nearest(dt_notice *n, const dt_shortfall *f)
{
    dt_notice_figure(n, "od", DT_KIND_DIAMETER, f->pipe->od_m);
    dt_notice_figure(n, "weight", DT_KIND_LINEAR_MASS, f->pipe->weight_kgm);
    dt_notice_name(n, "grade", f->pipe->grade->name);
    dt_notice_name(n, "thread", dt_pipe_thread_text(f->pipe, f->thread));
    dt_notice_number(n, "factor", f->factor.factor);
    dt_notice_number(n, "needed", f->factor.needed);
    dt_notice_name(n, "check", dt_check_code(f->check));
    dt_notice_name(n, "load", dt_load_code(f->load));
    dt_notice_figure(n, "at_md", DT_KIND_LENGTH, f->factor.at_md_m);
}

dt_status dt_program_refuse_strings(const dt_program *p, const dt_shortfall *f, dt_refusal *refusal)
{
    if (!refusal) return DT_E_NONE;
    const dt_seat *seat = &p->seats.items[f->seat];
    const bool tieback = seat->type == DT_TIEBACK;
    if (tieback) seat = &p->seats.items[seat->ties];
    if (f->by_hanger && !tieback) return refuse_hanger(p, f, refusal);
    dt_notice *n = begin(refusal, DT_NOTICE_NO_PIPE, f->seat);
    dt_notice_name(n, "role", dt_role_text(seat->role));
    dt_notice_mark(n, tieback ? "tieback" : "string", true);
    dt_notice_figure(n, "shoe_tvd", DT_KIND_LENGTH, seat->shoe_m);
    if (f->pipe) note_nearest(n, f);
    dt_notice_mark(n, "unlike", tieback && !f->pipe);
    if (tieback_helps(p, f)) dt_notice_name(n, "liner", role_of(p, f->seat + 1));
    if (f->pipe && f->load == DT_LOAD_COLLAPSE_EMPTY)
        dt_notice_mark(n, "losses", may_assume_losses(p, f->seat));
    return concluded(refusal, DT_E_NONE);
}

/* ---- pinned pipe that the catalogue does not have ---- */

static bool matches(const dt_pin *pin, const dt_pipe *pipe)
{
    if (!isnan(pin->od_m) && fabs(pin->od_m - pipe->od_m) > SAME_DIAMETER_M) return false;
    if (!isnan(pin->weight_kgm) && fabs(pin->weight_kgm - pipe->weight_kgm) > SAME_WEIGHT_KGM)
        return false;
    if (pin->grade && !dt_same_grade(pin->grade, pipe->grade->name)) return false;
    return !pin->thread || dt_pipe_thread_find(pipe, pin->thread) != DT_THREAD_COUNT;
}

static dt_status refuse_pin(const dt_program *p, const dt_pin *asked, dt_refusal *refusal)
{
    if (!refusal) return DT_E_INPUT;
    const bool no_grade = asked->grade && !dt_grade_find(p->catalogue, asked->grade);
    const bool no_thread = asked->thread && !dt_catalogue_has_thread(p->catalogue, asked->thread);
    dt_notice *n = dt_notice_add(&refusal->why,
                                 no_grade    ? DT_NOTICE_PIN_NO_GRADE
                                 : no_thread ? DT_NOTICE_PIN_NO_THREAD
                                             : DT_NOTICE_PIN_NO_PIPE,
                                 DT_NO_STRING);
    dt_notice_name(n, "role", dt_role_text(asked->role));
    dt_notice_mark(n, asked->type == DT_TIEBACK ? "tieback" : "string", true);
    dt_notice_name(n, "grade", asked->grade);
    dt_notice_name(n, "thread", asked->thread);
    dt_notice_figure(n, "od", DT_KIND_DIAMETER, asked->od_m);
    dt_notice_figure(n, "weight", DT_KIND_LINEAR_MASS, asked->weight_kgm);
    if (n) n->line = asked->line; /* 0: it is a wish */
    for (size_t k = 0; no_grade && k < p->catalogue->grade_count; ++k) {
        dt_notice *grade = dt_notice_below(&refusal->why, n, DT_NOTICE_GRADE_THERE);
        dt_notice_name(grade, "grade", p->catalogue->grades[k].name);
    }
    return concluded(refusal, DT_E_INPUT);
}

dt_status dt_program_check_pins(const dt_program *p, dt_refusal *refusal)
{
    for (size_t i = 0; i < p->well->pin_count; ++i) {
        const dt_pin *pin = &p->well->pins[i];
        const bool no_thread = pin->thread && !dt_catalogue_has_thread(p->catalogue, pin->thread);
        bool found = false;
        dt_pin asked = *pin;
        if (pin->type == DT_TIEBACK && isnan(pin->od_m) && i > 0) asked.od_m = pin[-1].od_m;
        for (size_t k = 0; !no_thread && k < p->catalogue->pipe_count && !found; ++k)
            found = matches(&asked, &p->catalogue->pipes[k]);
        if (!found) return refuse_pin(p, &asked, refusal);
    }
    return DT_OK;
}
