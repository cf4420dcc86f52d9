/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_CHOICES_H
#define DRAWTUBE_TESTS_CHOICES_H

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "comparison.h"

/*
 * What a plan chooses and counts, flat: words, and numbers with how far they may move when only the
 * last digits of the reckoning do.
 */

typedef struct choice_made {
    char where[48], what[40], word[64];
    double value, within;
} choice_made;

typedef struct choices_made {
    choice_made *items;
    size_t count, room;
} choices_made;

static inline choice_made *choice_add(choices_made *c, const char *where, const char *what)
{
    if (c->count == c->room) {
        c->room = c->room ? 2 * c->room : 256;
        c->items = realloc(c->items, c->room * sizeof *c->items);
        if (!c->items) abort();
    }
    choice_made *made = &c->items[c->count++];
    memset(made, 0, sizeof *made);
    snprintf(made->where, sizeof made->where, "%s", where);
    snprintf(made->what, sizeof made->what, "%s", what);
    return made;
}

static inline void choice_word(choices_made *c, const char *where, const char *what,
                               const char *word)
{
    choice_made *made = choice_add(c, where, what);
    snprintf(made->word, sizeof made->word, "%s", word ? word : "-");
}

static inline void choice_number(choices_made *c, const char *where, const char *what, double value,
                                 double within)
{
    choice_made *made = choice_add(c, where, what);
    made->value = value;
    made->within = within;
}

static inline void choice_count(choices_made *c, const char *where, const char *what, double value)
{
    choice_number(c, where, what, value, 0);
}

#define CHOICE_SEAT_M 1e-6
#define CHOICE_SPOT_M 1e-3
#define CHOICE_SIZE_M 1e-9

static inline void choices_of_seat(choices_made *c, const char *where, const dt_seat *seat)
{
    choice_count(c, where, "type", seat->type);
    choice_number(c, where, "shoe", seat->shoe_m, CHOICE_SEAT_M);
    choice_number(c, where, "exact shoe", seat->exact_m, CHOICE_SEAT_M);
    choice_number(c, where, "shallowest", seat->shallowest_m, CHOICE_SEAT_M);
    choice_number(c, where, "deepest", seat->deepest_m, CHOICE_SEAT_M);
    const dt_reason *why[] = {&seat->why, &seat->why_shallowest, &seat->why_deepest};
    for (int i = 0; i < 3; ++i) {
        choice_word(c, where, "rule", dt_rule_code(why[i]->rule));
        choice_number(c, where, "depth of the rule", why[i]->tvd_m, CHOICE_SPOT_M);
        choice_count(c, where, "line of the rule", why[i]->line);
    }
    choice_number(c, where, "mud from", seat->mud_tvd_m, CHOICE_SPOT_M);
    choice_count(c, where, "mud by collapse", seat->mud_by_collapse);
    choice_count(c, where, "liner by sticking", seat->liner_by_sticking);
}

static inline void choices_of_factor(choices_made *c, const char *where, const char *what,
                                     const dt_factor *f, dt_load load)
{
    if (isnan(f->factor) || isinf(f->factor)) return;
    choice_word(c, where, what, dt_load_code(load));
    choice_number(c, where, "depth of the load", f->at_md_m, CHOICE_SPOT_M);
}

static inline void choices_of_section(choices_made *c, const char *where, const dt_section *s)
{
    choice_number(c, where, "section base", s->base_md_m, CHOICE_SEAT_M);
    choice_number(c, where, "weight", s->pipe->weight_kgm, CHOICE_SIZE_M);
    choice_word(c, where, "grade", s->pipe->grade->name);
    choice_count(c, where, "thread", s->thread);
    for (int k = 0; k < DT_CHECK_COUNT; ++k)
        choices_of_factor(c, where, dt_check_code((dt_check)k), &s->screen.by_check[k],
                          s->screen.load_of_check[k]);
    choice_word(c, where, "worst", dt_load_code(s->screen.worst));
    choice_word(c, where, "worst check", dt_check_code(s->screen.worst_check));
    choice_word(c, where, "cheaper grade", s->cheaper_pipe ? s->cheaper_pipe->grade->name : NULL);
    if (!s->cheaper_pipe) return;
    choice_number(c, where, "cheaper weight", s->cheaper_pipe->weight_kgm, CHOICE_SIZE_M);
    choices_of_factor(c, where, "cheaper load", &s->cheaper_factor, s->cheaper_load);
}

static inline void choices_of_job(choices_made *c, const char *where, const dt_job *job)
{
    const dt_running *r = &job->running;
    choice_count(c, where, "joints", (double)r->joints);
    choice_count(c, where, "spare joints", (double)r->spare_joints);
    choice_count(c, where, "track joints", (double)r->track_joint_count);
    choice_count(c, where, "fill joints", (double)r->fill_joint_count);
    choice_number(c, where, "run empty to", r->empty_md_m, 0.1);
    choice_count(c, where, "empty by float", r->empty_by_float);
    if (isfinite(r->surge.spare_pa))
        choice_number(c, where, "tight spot of surge", r->surge.md_m, CHOICE_SPOT_M);
    choice_count(c, where, "stops circulating", r->stops_circulating);
    const dt_cement *m = &job->cement;
    choice_count(c, where, "cement rule", m->rule);
    choice_count(c, where, "cemented", m->cemented);
    choice_count(c, where, "cement refused", job->cement_refused);
    choice_count(c, where, "slurries", (double)m->part_count);
    for (size_t i = 0; m->cemented && i < m->part_count; ++i) {
        choice_word(c, where, "slurry", m->parts[i].slurry.name);
        choice_count(c, where, "sacks", m->parts[i].sacks);
        choice_number(c, where, "slurry top", m->parts[i].top_md_m, CHOICE_SPOT_M);
    }
    if (m->cemented) {
        choice_number(c, where, "tight spot of cementing", m->tight.md_m, CHOICE_SPOT_M);
        choice_word(c, where, "tight moment", m->tight_moment);
        choice_count(c, where, "stage tool", m->stage.proposed);
        if (m->stage.proposed) {
            choice_number(c, where, "stage tool at", m->stage.md_m, CHOICE_SPOT_M);
            choice_count(c, where, "stage tool in casing", m->stage.in_casing);
            choice_count(c, where, "second stage sacks", m->stage.sacks);
        }
        choice_count(c, where, "strength never", m->strength_never);
    }
    const dt_centralizing *z = &job->centralizing;
    choice_count(c, where, "bows", (double)z->bows);
    choice_count(c, where, "rigids", (double)z->rigids);
    choice_count(c, where, "scratchers", (double)z->scratchers);
    choice_count(c, where, "centralizer runs", (double)z->count);
    for (size_t i = 0; i < z->count; ++i) {
        choice_number(c, where, "spacing", z->runs[i].spacing_m, CHOICE_SPOT_M);
        choice_count(c, where, "centralizers", (double)z->runs[i].count);
    }
    for (size_t i = 0; i < job->accessories.count; ++i) {
        choice_word(c, where, "accessory", job->accessories.items[i].name);
        choice_count(c, where, "accessories", (double)job->accessories.items[i].count);
    }
    for (size_t i = 0; i < job->accessories.torque_count; ++i)
        if (isfinite(job->accessories.torques[i].optimum_nm)) {
            choice_number(c, where, "torque", job->accessories.torques[i].optimum_nm, 0.1);
            choice_number(c, where, "least torque", job->accessories.torques[i].least_nm, 0.1);
            choice_number(c, where, "most torque", job->accessories.torques[i].most_nm, 0.1);
        }
}

static inline void choices_of_program(choices_made *c, const dt_program *p)
{
    choice_count(c, "well", "strings", (double)dt_program_strings(p));
    for (size_t i = 0; i < dt_program_strings(p); ++i) {
        const dt_program_string *item = &p->items[i];
        char where[48];
        dt_program_string_name(p, i, where, sizeof where);
        choices_of_seat(c, where, item->seat);
        choice_number(c, where, "hole", item->hole_m, CHOICE_SIZE_M);
        choice_number(c, where, "bit", item->bit_m, CHOICE_SIZE_M);
        choice_number(c, where, "pipe", item->od_m, CHOICE_SIZE_M);
        choice_number(c, where, "coupling", item->largest_od_m, CHOICE_SIZE_M);
        choice_count(c, where, "sections", (double)item->string->section_count);
        for (size_t k = 0; k < item->string->section_count; ++k)
            choices_of_section(c, where, &item->string->sections[k]);
        choice_count(c, where, "hanger", item->hanger ? item->hanger->line : 0);
        choice_count(c, where, "whole hole", item->kick.whole_hole);
        if (item->kick_known && !item->kick.whole_hole)
            choice_number(c, where, "weak point", item->kick.weak_tvd_m, CHOICE_SPOT_M);
        choice_number(c, where, "head class", p->wellhead.stages[i].class_psi, 0);
        choice_number(c, where, "head source", p->wellhead.stages[i].source_tvd_m, CHOICE_SPOT_M);
        choice_number(c, where, "kg to 0.1", item->bill.steel_kg, 0);
        choices_of_job(c, where, item->job);
    }
    choice_count(c, "well", "warnings", (double)p->notices.count);
    for (size_t i = 0; i < p->notices.count; ++i)
        choice_word(c, "well", "warning", dt_notice_code_text(p->notices.items[i].code));
}

static inline void choices_of_option(choices_made *c, const char *where, const dt_option *o)
{
    choice_count(c, where, "strings of the option", (double)o->count);
    choice_count(c, where, "tie-backs of the option", (double)o->tiebacks);
    choice_count(c, where, "spares of the option", (double)o->spares);
    for (size_t k = 0; k < o->count; ++k) {
        const dt_choice *s = &o->strings[k];
        choice_count(c, where, "type of the option", s->type);
        choice_number(c, where, "shoe of the option", s->shoe_m, CHOICE_SEAT_M);
        choice_number(c, where, "hole of the option", s->hole_m, CHOICE_SIZE_M);
        choice_number(c, where, "bit of the option", s->bit_m, CHOICE_SIZE_M);
        choice_number(c, where, "pipe of the option", s->pipe->od_m, CHOICE_SIZE_M);
        choice_number(c, where, "weight of the option", s->pipe->weight_kgm, CHOICE_SIZE_M);
        choice_word(c, where, "grade of the option", s->pipe->grade->name);
        choice_count(c, where, "thread of the option", s->thread);
    }
}

static inline void choices_of_comparison(choices_made *c, const dt_comparison *made)
{
    choice_count(c, "compare", "options", (double)made->options.count);
    for (size_t i = 0; i < made->options.count; ++i) {
        char where[48];
        snprintf(where, sizeof where, "option %zu", i + 1);
        choices_of_option(c, where, &made->options.items[i]);
    }
    for (size_t i = 0; i < made->count; ++i) {
        choice_count(c, made->items[i].label, "rank", (double)made->items[i].rank);
        choice_count(c, made->items[i].label, "tapers", made->items[i].tapers);
        choice_count(c, made->items[i].label, "beaten by", (double)made->items[i].dominated_by);
    }
}

static inline bool choice_same(const choice_made *a, const choice_made *b)
{
    if (strcmp(a->where, b->where) != 0 || strcmp(a->what, b->what) != 0) return false;
    if (strcmp(a->word, b->word) != 0) return false;
    if (isnan(a->value) || isnan(b->value)) return isnan(a->value) && isnan(b->value);
    return a->value == b->value || fabs(a->value - b->value) <= a->within;
}

/** Says the first differences of two runs; how many there are. */
static inline size_t choices_differ(const choices_made *a, const choices_made *b, const char *well,
                                    const char *moved)
{
    size_t differences = 0;
    for (size_t i = 0; i < a->count && i < b->count; ++i) {
        const choice_made *x = &a->items[i], *y = &b->items[i];
        if (choice_same(x, y)) continue;
        if (++differences <= 2)
            printf("%s, %s: %s, %s: %s %.12g, else %s %s: %s %.12g\n", well, moved, x->where,
                   x->what, x->word, x->value, y->where, y->what, y->word, y->value);
        if (strcmp(x->what, y->what) != 0) break; /* from here on nothing stands beside its like */
    }
    if (a->count != b->count && differences == 0) {
        printf("%s, %s: %zu choices, else %zu\n", well, moved, a->count, b->count);
        differences = 1;
    }
    return differences;
}

#endif
