/* SPDX-License-Identifier: MIT */
/* A program held against a well drawn from the spreads by what comes after the seats: strength of
 * its strings, running and cement (docs/odds.md). */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "numbers.h"
#include "program_parts.h"
#include "same.h"

const char *dt_stage_code(dt_stage stage)
{
    static const char *const codes[] = {"strength", "running", "cement"};
    return codes[stage];
}

/** The program in a drawn well: what depends on its pressures is its own, the rest borrowed. */
typedef struct drawn {
    dt_program program;
    dt_well well;         /* the drawn one with the program's own pins: an option has them all */
    dt_section *sections; /* of all strings */
} drawn;

static dt_status copy_parts(const dt_program *p, drawn *d)
{
    const size_t strings = dt_program_strings(p);
    size_t sections = 0;
    for (size_t i = 0; i < strings; ++i)
        sections += p->strings.items[i].section_count;
    dt_program *own = &d->program;
    own->seats.items = malloc(strings * sizeof *own->seats.items);
    own->strings.items = malloc(strings * sizeof *own->strings.items);
    own->items = malloc(strings * sizeof *own->items);
    d->sections = malloc((sections + 1) * sizeof *d->sections);
    if (!own->seats.items || !own->strings.items || !own->items || !d->sections) return DT_E_MEMORY;
    memcpy(own->seats.items, p->seats.items, strings * sizeof *own->seats.items);
    memcpy(own->strings.items, p->strings.items, strings * sizeof *own->strings.items);
    memcpy(own->items, p->items, strings * sizeof *own->items);
    dt_section *next = d->sections;
    for (size_t i = 0; i < strings; ++i) {
        dt_string *string = &own->strings.items[i];
        memcpy(next, string->sections, string->section_count * sizeof *next);
        string->sections = next;
        next += string->section_count;
        own->items[i].string = string;
        own->items[i].seat = &own->seats.items[i];
    }
    return DT_OK;
}

static dt_status drawn_begin(const dt_program *p, const dt_window *window, drawn *d)
{
    *d = (drawn){.program = *p};
    dt_program *own = &d->program;
    memcpy(&d->well, window->well, sizeof d->well);
    d->well.pins = p->well->pins;
    d->well.pin_count = p->well->pin_count;
    own->well = &d->well;
    own->window = *window;
    own->window.well = &d->well;
    own->notices = (dt_notices){0};
    own->jobs = NULL;
    own->items = NULL;
    own->seats.items = NULL;
    own->strings.items = NULL;
    dt_status status = copy_parts(p, d);
    if (status == DT_OK) dt_seats_weigh_muds(&own->window, &own->seats);
    return status;
}

static void drawn_free(drawn *d)
{
    dt_program *own = &d->program;
    for (size_t i = 0; own->jobs && i < dt_program_strings(own); ++i)
        dt_cement_free(&own->jobs[i].cement);
    free(own->jobs);
    dt_notices_free(&own->notices);
    free(own->items);
    free(own->strings.items);
    free(own->seats.items);
    free(d->sections);
}

static void add_break(dt_stage_breaks *out, dt_stage_break found)
{
    for (size_t i = 0; i < out->count; ++i) {
        dt_stage_break *b = &out->items[i];
        if (b->string != found.string || strcmp(b->code, found.code) != 0) continue;
        b->spare = fmax(b->spare, found.spare);
        return;
    }
    if (out->count == DT_MOST_BREAKS) return; /* that it breaks is known by now */
    out->items[out->count++] = found;
}

/** By what part the loads of a section that fails are larger than in the well as stated. */
static double larger_by(const dt_screen *stated, const dt_screen *here)
{
    double most = 0;
    for (int c = 0; c < DT_CHECK_COUNT; ++c) {
        const dt_factor *was = &stated->by_check[c], *now = &here->by_check[c];
        if (isnan(now->factor) || dt_reaches(now->factor, now->needed)) continue;
        most = fmax(most, was->factor / now->factor - 1);
    }
    return most;
}

/** Every string that is asked against the loads of this well. */
static dt_status hold_strings(const dt_program *p, drawn *d, dt_stages_asked asked,
                              dt_stage_breaks *out)
{
    dt_program *own = &d->program;
    dt_screen screens[16];
    for (size_t i = 0; i < dt_program_strings(p); ++i) {
        dt_string *string = &own->strings.items[i];
        dt_string_load load;
        if (!dt_string_in(asked.strength | asked.jobs, i)) continue;
        if (string->section_count > COUNT_OF(screens)) return DT_E_DOMAIN;
        dt_status status = dt_string_load_lay(&own->window, &own->seats, &own->trajectory,
                                              &own->design, own->lap_m, i, &load);
        if (status != DT_OK) return status;
        if (!dt_string_in(asked.strength, i)) {
            load.drag = p->strings.items[i].load.drag;
            string->load = load;
            continue;
        }
        status = dt_string_hold_again(own->catalogue, &p->strings.items[i], &load, &own->trajectory,
                                      &own->design, screens);
        if (status != DT_OK) return status;
        string->load = load;
        for (size_t k = 0; k < string->section_count; ++k)
            if (!screens[k].ok)
                add_break(out,
                          (dt_stage_break){DT_STAGE_STRENGTH, i, dt_load_code(screens[k].worst),
                                           larger_by(&string->sections[k].screen, &screens[k])});
    }
    return DT_OK;
}

/** Is this said of running a string, and not of its cement? */
static bool is_of_running(dt_notice_code code)
{
    return code == DT_NOTICE_SURGE || code == DT_NOTICE_HOLE_TOO_NARROW ||
           code == DT_NOTICE_RIG_OVERLOADED || code == DT_NOTICE_DRAG_HOLDS_STRING;
}

/** Jobs of this well: what stops a program stops it here. */
static dt_status press_on_rock(drawn *d, dt_string_set asked, dt_stage_breaks *out)
{
    dt_program *own = &d->program;
    dt_status status = dt_program_jobs_on_rock(own, asked);
    if (status != DT_OK) return status;
    for (size_t i = 0; i < dt_program_strings(own); ++i)
        if (dt_string_in(asked, i)) dt_program_note_job(own, i);
    if (own->notices.failed) return DT_E_MEMORY;
    for (size_t i = 0; i < own->notices.count; ++i) {
        const dt_notice *n = &own->notices.items[i];
        if (dt_notice_gravity(n->code) != DT_STOPPER) continue;
        const dt_stage stage = is_of_running(n->code) ? DT_STAGE_RUNNING : DT_STAGE_CEMENT;
        add_break(out, (dt_stage_break){stage, n->string, dt_notice_code_text(n->code), 0});
    }
    return DT_OK;
}

dt_status dt_program_breaks(const dt_program *p, const dt_window *window, dt_stage_breaks *out)
{
    return dt_program_breaks_of(p, window, (dt_stages_asked){DT_ALL_STRINGS, DT_ALL_STRINGS}, out);
}

dt_status dt_program_breaks_of(const dt_program *p, const dt_window *window, dt_stages_asked asked,
                               dt_stage_breaks *out)
{
    drawn d;
    out->count = 0;
    dt_status status = drawn_begin(p, window, &d);
    if (status == DT_OK) status = hold_strings(p, &d, asked, out);
    if (status == DT_OK && asked.jobs != 0) status = press_on_rock(&d, asked.jobs, out);
    drawn_free(&d);
    return status;
}
