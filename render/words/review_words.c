/* SPDX-License-Identifier: MIT */
#include "review_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"
#include "sentence.h"

/* ---- how close ---- */

/** Figures that say what there is and what is needed, for those that call them so. */
static const struct {
    dt_notice_code code;
    const char *have, *need;
} pairs[] = {
    {DT_NOTICE_KICK_TOLERANCE_SHORT, "tolerance", "needed"},
    {DT_NOTICE_CEMENT_MARGIN_SMALL, "left", "margin"},
    {DT_NOTICE_PIN_CLEARANCE, "clearance", "needed"},
    {DT_NOTICE_PIN_COMPLETION, "od", "needed"},
    {DT_NOTICE_LAP_SHORT, "lap", "needed"},
    {DT_NOTICE_STANDOFF_MISSED, "left", "target"},
    {DT_NOTICE_SLURRY_OVER_LOADS, "in_loads", "slurry"},
    {DT_NOTICE_TEST_OVER_LOADS, "in_loads", "test"},
};

static double ratio_of(const dt_notice *n, const char *have, const char *need)
{
    const dt_figure *a = dt_notice_find_figure(n, have), *b = dt_notice_find_figure(n, need);
    if (!a || !b || !(b->value > 0) || a->value < 0) return NAN;
    const double ratio = a->value / b->value;
    return ratio > 1 ? 1 / ratio : ratio;
}

double dt_notice_closeness(const dt_notice *notice)
{
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; ++i)
        if (pairs[i].code == notice->code) return ratio_of(notice, pairs[i].have, pairs[i].need);
    /* a rule that a pin breaks says both sides of it */
    if (notice->code == DT_NOTICE_PIN_BREAKS_RULE && notice->because_count > 0)
        return ratio_of(&notice->because[0], "there", "needed");
    return NAN;
}

/* ---- the order ---- */

typedef struct placed {
    size_t index;
    int group;
    double closeness;
} placed;

static placed place_of(const dt_program *program, size_t index)
{
    const dt_notice *n = &program->notices.items[index];
    const double closeness = dt_notice_closeness(n);
    const bool tells = n->figure_count > 0 || n->because_count > 0 || n->line > 0;
    /* a repair says why the draft looks as it does; what only goes along with it comes late */
    const bool repair = n->code == DT_NOTICE_DRAFT_REPAIRED;
    const int group = !isnan(closeness)           ? 0
                      : repair                    ? (n->because_count > 0 ? 1 : 3)
                      : n->string != DT_NO_STRING ? 2
                      : tells                     ? 3
                                                  : 4;
    return (placed){index, group, closeness};
}

static int by_place(const void *left, const void *right)
{
    const placed *a = left, *b = right;
    if (a->group != b->group) return a->group < b->group ? -1 : 1;
    if (a->closeness < b->closeness) return -1;
    if (a->closeness > b->closeness) return 1;
    return a->index < b->index ? -1 : a->index > b->index;
}

dt_status dt_review_make(const dt_program *program, dt_review *out)
{
    const size_t most = program->notices.count + 1; /* never none */
    placed *all = calloc(most, sizeof *all);
    *out = (dt_review){.order = calloc(most, sizeof *out->order)};
    if (!all || !out->order) {
        free(all);
        dt_review_free(out);
        return DT_E_MEMORY;
    }
    for (size_t i = 0; i < program->notices.count; ++i)
        if (dt_notice_gravity(program->notices.items[i].code) == DT_REVIEW)
            all[out->count++] = place_of(program, i);
    qsort(all, out->count, sizeof *all, by_place);
    for (size_t i = 0; i < out->count; ++i)
        out->order[i] = all[i].index;
    free(all);
    return DT_OK;
}

void dt_review_free(dt_review *review)
{
    free(review->order);
    *review = (dt_review){0};
}

int dt_notice_line(const dt_program *program, const dt_notice *notice)
{
    if (notice->line > 0 || notice->string == DT_NO_STRING) return notice->line;
    const size_t pin = program->items[notice->string].seat->pin;
    return pin < program->well->pin_count ? program->well->pins[pin].line : 0;
}

int dt_stoppers_words(const dt_program *program, char *buffer, size_t size)
{
    const size_t count = dt_program_stoppers(program);
    return snprintf(buffer, size, "%zu stopper%s to cure", count, count == 1 ? "" : "s");
}

/* ---- what was assumed ---- */

/** Each file of the basis and source that the values of a notice have, once. */
static void say_origins(sentence *s, const dt_well *well, const dt_notice *n)
{
    for (size_t i = 0; i < n->taken_count; ++i) {
        const char *file, *source, *f, *t;
        bool told = false;
        dt_custom_origin(well, n->taken[i], &file, &source);
        for (size_t k = 0; k < i && !told; ++k) {
            dt_custom_origin(well, n->taken[k], &f, &t);
            told = strcmp(f, file) == 0 && strcmp(t, source) == 0;
        }
        if (!told) say(s, "%s%s: %s", i ? "; " : "", file, source);
    }
}

static dt_status fill(const dt_program *program, const dt_notice *n, dt_display display,
                      dt_assumed *out)
{
    char *what = NULL;
    sentence s = {0}, from = {0};
    dt_status status = dt_notice_part_words(n, DT_NOT_STATED, display, &what);
    if (status == DT_OK) status = dt_notice_part_words(n, DT_TAKEN, display, &out->taken);
    if (status == DT_OK) status = dt_notice_part_words(n, DT_FROM, display, &out->from);
    if (status == DT_OK && !out->from) {
        say_origins(&from, program->well, n);
        status = sentence_take(&from, &out->from);
    }
    if (status == DT_OK) {
        char where[32];
        dt_notice_where(program, n, where, sizeof where);
        say(&s, "%s%s%s", n->string == DT_NO_STRING ? "" : where,
            n->string == DT_NO_STRING ? "" : ": ", what);
        status = sentence_take(&s, &out->what);
    }
    free(what);
    return status;
}

static dt_status add(const dt_program *program, size_t notice, const dt_notice *n,
                     dt_display display, dt_assumptions *out)
{
    dt_assumed *bigger = realloc(out->items, (out->count + 1) * sizeof *bigger);
    if (!bigger) return DT_E_MEMORY;
    out->items = bigger;
    bigger[out->count] = (dt_assumed){.notice = notice};
    return fill(program, n, display, &bigger[out->count++]);
}

dt_status dt_assumptions_make(const dt_program *program, dt_display display, dt_assumptions *out)
{
    dt_status status = DT_OK;
    *out = (dt_assumptions){0};
    for (size_t i = 0; status == DT_OK && i < program->notices.count; ++i) {
        const dt_notice *n = &program->notices.items[i];
        if (dt_notice_gravity(n->code) != DT_ASSUMED) continue;
        if (n->because_count == 0) status = add(program, i, n, display, out);
        for (size_t k = 0; status == DT_OK && k < n->because_count; ++k)
            status = add(program, i, &n->because[k], display, out);
    }
    if (status != DT_OK) dt_assumptions_free(out);
    return status;
}

void dt_assumptions_free(dt_assumptions *assumptions)
{
    for (size_t i = 0; i < assumptions->count; ++i) {
        free(assumptions->items[i].what);
        free(assumptions->items[i].taken);
        free(assumptions->items[i].from);
    }
    free(assumptions->items);
    *assumptions = (dt_assumptions){0};
}
