/* SPDX-License-Identifier: MIT */
/* What hangs on the hangers of liners, and what the reader must know of hangers and laps. */
#include <math.h>

#include "program_parts.h"
#include "same.h"
#include "units.h"

static const dt_section *section_at(const dt_string *string, double md_m)
{
    size_t i = 0;
    while (i + 1 < string->section_count && string->sections[i].base_md_m < md_m)
        ++i;
    return &string->sections[i];
}

void dt_program_hang(const dt_program *p, size_t index, dt_program_string *item)
{
    const dt_string *string = item->string;
    if (item->seat->type != DT_LINER || index == 0) return;
    double hanging_n = 0;
    for (size_t i = 0; i < string->section_count; ++i) {
        const dt_section *s = &string->sections[i];
        const double top_m =
            i == 0 ? item->top_tvd_m : dt_trajectory_deepest(&p->trajectory, s->top_md_m);
        const double base_m = i + 1 == string->section_count
                                  ? item->shoe_tvd_m
                                  : dt_trajectory_deepest(&p->trajectory, s->base_md_m);
        hanging_n += s->pipe->weight_kgm * DT_STANDARD_GRAVITY * (base_m - top_m);
    }
    item->hanger = p->nest.holes[string->nest_hole].hanger;
    item->hung = dt_hanger_load(&string->load, string->sections[0].pipe, hanging_n);
}

static void note_lap(dt_program *p, size_t i)
{
    const double lap_m = p->items[i - 1].shoe_md_m - p->items[i].top_md_m;
    const double least_lap_m = dt_custom_value_of(p->well, DT_CUSTOM_SEATS_LEAST_LAP);
    if (lap_m >= least_lap_m - SAME_DEPTH_M) return;
    dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_LAP_SHORT, i);
    dt_notice_figure(n, "lap", DT_KIND_LENGTH, lap_m);
    dt_notice_figure(n, "needed", DT_KIND_LENGTH, least_lap_m);
}

static void note_unchecked(dt_program *p, size_t i)
{
    const dt_program_string *item = &p->items[i];
    if (p->well->hangers.count > 0)
        dt_notice_figure(dt_notice_add(&p->notices, DT_NOTICE_PIN_HANGER, i), "liner",
                         DT_KIND_DIAMETER, item->od_m);
    else
        dt_notice_figure(dt_notice_add(&p->notices, DT_NOTICE_HANGER_NOT_CHECKED, i), "hung",
                         DT_KIND_FORCE, item->hung.total_n);
}

/** Only pins can bring a string here whose hanger does not suit. */
static void note_hanger(dt_program *p, size_t i)
{
    const dt_program_string *item = &p->items[i];
    const dt_hanger *h = item->hanger;
    const dt_pipe *host = section_at(p->items[i - 1].string, item->top_md_m)->pipe;
    const double factor = dt_hanger_factor(p->well), bit_m = item->string->need_drift_m;
    if (!dt_hanger_fits(h, host)) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_PIN_HANGER, i);
        dt_notice_figure(n, "host", DT_KIND_DIAMETER, host->od_m);
        dt_notice_figure(n, "host_weight", DT_KIND_LINEAR_MASS, host->weight_kgm);
        if (n) n->line = h->line;
    }
    if (item->hung.total_n * factor * (1 - 1e-9) > h->capacity_n) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_PIN_HANGER, i);
        dt_notice_figure(n, "hung", DT_KIND_FORCE, item->hung.total_n);
        dt_notice_figure(n, "capacity", DT_KIND_FORCE, h->capacity_n);
        dt_notice_number(n, "factor", factor);
        if (n) n->line = h->line;
    }
    if (!dt_hanger_passes(h, bit_m)) {
        dt_notice *n = dt_notice_add(&p->notices, DT_NOTICE_PIN_HANGER, i);
        dt_notice_figure(n, "bit", DT_KIND_DIAMETER, bit_m);
        dt_notice_figure(n, "bore", DT_KIND_DIAMETER, dt_hanger_bore(h));
        if (n) n->line = h->line;
    }
}

/** The test of liners: not asked for, or by a customary pressure. */
static void note_test(dt_program *p)
{
    const dt_liner_test *test = &p->well->liner_test;
    if (!test->given) {
        dt_notice_add(&p->notices, DT_NOTICE_LINER_TOP_TEST_NOT_RUN, DT_NO_STRING);
        return;
    }
    if (test->rule == DT_LINER_TEST_PRESSURE || !isnan(test->above_pa) ||
        p->items[p->count - 1].seat->type != DT_LINER)
        return;
    dt_note_custom(dt_notice_add(&p->notices, DT_NOTICE_LINER_TOP_TEST_CUSTOMARY, DT_NO_STRING),
                   p->well, "above", DT_CUSTOM_LINER_TEST_ABOVE);
}

void dt_program_note_liners(dt_program *p)
{
    bool any = false;
    for (size_t i = 1; i < p->count; ++i) {
        if (p->items[i].seat->type != DT_LINER) continue;
        any = true;
        note_lap(p, i);
        if (p->items[i].hanger)
            note_hanger(p, i);
        else
            note_unchecked(p, i);
    }
    if (any) note_test(p);
}

const dt_lap_test *dt_program_liner_test(const dt_program_string *item)
{
    const dt_string_load *load = &item->string->load;
    return item->seat->type == DT_LINER && load->lap_test_count > 0 ? &load->lap_tests[0] : NULL;
}
