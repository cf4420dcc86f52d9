/* SPDX-License-Identifier: MIT */
/* All stages asked of the first wells drawn from the spreads, and how much more a pipe must bear to
 * hold in them (docs/odds.md). */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "numbers.h"
#include "program_parts.h"

/** Wells with less of them broken by a string are no reason to change its pipe: one in fifty. */
enum { FEW = 50 };

dt_status dt_asked_begin(const dt_program *p, const dt_trials *trials, size_t most, dt_asked *out)
{
    *out = (dt_asked){.trials = trials, .strings = dt_program_strings(p)};
    out->of = trials->count < most ? trials->count : most;
    out->wells = calloc(out->of + 1, sizeof *out->wells);
    out->spare = calloc(out->of * out->strings + 1, sizeof *out->spare);
    if (out->wells && out->spare) return DT_OK;
    dt_asked_free(out);
    return DT_E_MEMORY;
}

void dt_asked_free(dt_asked *a)
{
    free(a->wells);
    free(a->spare);
    a->wells = NULL;
    a->spare = NULL;
}

/** What breaks of those stages and strings, written over what was known of them. */
static dt_status ask(const dt_program *p, dt_stages_asked asked, size_t well, dt_asked *a)
{
    dt_asked_well *w = &a->wells[well];
    dt_stage_breaks breaks;
    dt_status status = dt_program_breaks_of(p, &a->trials->items[well].window, asked, &breaks);
    if (status != DT_OK) return status;
    w->strength &= ~asked.strength;
    w->jobs &= ~asked.jobs;
    for (size_t i = 0; i < breaks.count; ++i) {
        const dt_stage_break *b = &breaks.items[i];
        const dt_string_set one = (dt_string_set)1 << b->string;
        if (b->stage != DT_STAGE_STRENGTH) {
            w->jobs |= one;
            continue;
        }
        double *spare = &a->spare[well * a->strings + b->string];
        *spare = (w->strength & one) ? fmax(*spare, b->spare) : b->spare;
        w->strength |= one;
    }
    return DT_OK;
}

dt_status dt_asked_ask(const dt_program *p, dt_string_set changed, dt_asked *a)
{
    const dt_stages_asked strength = {changed, 0};
    /* a job is done inside the pipe above: those of all strings from the first that changed on */
    const dt_stages_asked again = {0, ~((changed & (~changed + 1)) - 1)},
                          jobs = {0, DT_ALL_STRINGS};
    a->held = a->by_seats = 0;
    for (size_t i = 0; i < a->of; ++i) {
        dt_asked_well *w = &a->wells[i];
        if (changed == DT_ALL_STRINGS)
            w->seats = dt_program_holds_in(p, &a->trials->items[i].window);
        if (!w->seats) continue;
        ++a->by_seats;
        dt_status status = ask(p, strength, i, a);
        /* of a well that breaks as it is nothing more is asked */
        if (status == DT_OK && w->strength == 0) {
            status = ask(p, w->jobs_known ? again : jobs, i, a);
            w->jobs_known = true;
        } else if (w->jobs_known && changed != DT_ALL_STRINGS) {
            w->jobs_known = false;
        }
        if (status != DT_OK) return status;
        if (w->strength == 0 && w->jobs == 0) ++a->held;
    }
    return DT_OK;
}

dt_status dt_asked_copy(const dt_asked *a, dt_asked *out)
{
    *out = *a;
    out->wells = malloc((a->of + 1) * sizeof *out->wells);
    out->spare = malloc((a->of * a->strings + 1) * sizeof *out->spare);
    if (!out->wells || !out->spare) {
        dt_asked_free(out);
        return DT_E_MEMORY;
    }
    memcpy(out->wells, a->wells, (a->of + 1) * sizeof *out->wells);
    memcpy(out->spare, a->spare, (a->of * a->strings + 1) * sizeof *out->spare);
    return DT_OK;
}

dt_status dt_program_held_by_all(const dt_program *p, const dt_trials *trials, dt_held_by_all *out)
{
    dt_asked asked;
    dt_status status = dt_asked_begin(p, trials, DT_COMPARED_WELLS, &asked);
    if (status != DT_OK) return status;
    status = dt_asked_ask(p, DT_ALL_STRINGS, &asked);
    *out = (dt_held_by_all){asked.of, asked.by_seats, asked.held};
    dt_asked_free(&asked);
    return status;
}

size_t dt_asked_broken(const dt_asked *a, size_t string)
{
    size_t broken = 0;
    for (size_t i = 0; i < a->of; ++i)
        if (a->wells[i].seats && dt_string_in(a->wells[i].strength, string)) ++broken;
    return broken;
}

size_t dt_asked_weakest(const dt_asked *a, size_t drilled, dt_string_set done)
{
    size_t weakest = DT_NO_INDEX, most = a->of / FEW;
    for (size_t k = 0; k < drilled; ++k) {
        if (dt_string_in(done, k)) continue;
        const size_t broken = dt_asked_broken(a, k);
        if (broken <= most) continue;
        most = broken;
        weakest = k;
    }
    return weakest;
}

double dt_asked_spare(const dt_asked *a, size_t string, double part)
{
    double list[DT_ASKED_WELLS];
    size_t count = 0;
    for (size_t i = 0; i < a->of; ++i)
        if (a->wells[i].seats && dt_string_in(a->wells[i].strength, string))
            list[count++] = a->spare[i * a->strings + string];
    if (count == 0) return 0;
    qsort(list, count, sizeof *list, by_value);
    const size_t at = (size_t)ceil(part * (double)count);
    return list[at > 0 ? at - 1 : 0];
}

/* ---- what is said of it ---- */

static double share(size_t held, const dt_asked *a)
{
    return 100.0 * (double)held / (double)a->of;
}

/** A length of a string that has other pipe than it had. */
typedef struct changed_length {
    const dt_section *now, *was;
    double top_md_m, base_md_m;
} changed_length;

/** The longest of them. */
static changed_length longest_change(const dt_string *now, const dt_string *was)
{
    changed_length longest = {&now->sections[0], &was->sections[0], 0, 0};
    for (size_t i = 0; i < now->section_count; ++i)
        for (size_t k = 0; k < was->section_count; ++k) {
            const dt_section *a = &now->sections[i], *b = &was->sections[k];
            const changed_length c = {a, b, fmax(a->top_md_m, b->top_md_m),
                                      fmin(a->base_md_m, b->base_md_m)};
            if (a->pipe == b->pipe) continue;
            if (c.base_md_m - c.top_md_m > longest.base_md_m - longest.top_md_m) longest = c;
        }
    return longest;
}

void dt_firmer_note(dt_program *p, const dt_program *plain, const dt_firmed *f, const dt_asked *a)
{
    const dt_string *now = p->items[f->string].string, *was = plain->items[f->string].string;
    const changed_length c = longest_change(now, was);
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_FIRMER_PIPE, f->string);
    dt_notice_figure(n, "od", DT_KIND_DIAMETER, p->items[f->string].od_m);
    dt_notice_figure(n, "weight", DT_KIND_LINEAR_MASS, c.now->pipe->weight_kgm);
    dt_notice_name(n, "grade", c.now->pipe->grade->name);
    dt_notice_figure(n, "weight_before", DT_KIND_LINEAR_MASS, c.was->pipe->weight_kgm);
    dt_notice_name(n, "grade_before", c.was->pipe->grade->name);
    dt_notice_figure(n, "top_md", DT_KIND_LENGTH, c.top_md_m);
    dt_notice_figure(n, "base_md", DT_KIND_LENGTH, c.base_md_m);
    dt_notice_number(n, "held", share(f->held, a));
    dt_notice_number(n, "before", share(f->before, a));
    dt_notice_number(n, "percent", 100 * fmax(f->dearer, 0));
    dt_notice_mark(n, p->well->prices_given ? "money" : "steel", true);
}

void dt_asked_note(dt_program *p, const dt_asked *a)
{
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_ALL_STAGES, DT_NO_STRING);
    dt_notice_number(n, "held", (double)a->held);
    dt_notice_number(n, "of", (double)a->of);
    dt_notice_number(n, "seats", (double)a->by_seats);
}
