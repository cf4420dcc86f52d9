/* SPDX-License-Identifier: MIT */
/* What hangs on the hangers of liners, and what the reader must know of hangers and laps. */
#include <math.h>
#include <stdio.h>

#include "basis.h"
#include "customs_words.h"
#include "program_parts.h"
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
            i == 0 ? item->top_tvd_m : dt_trajectory_tvd(&p->trajectory, s->top_md_m);
        const double base_m = i + 1 == string->section_count
                                  ? item->shoe_tvd_m
                                  : dt_trajectory_tvd(&p->trajectory, s->base_md_m);
        hanging_n += s->pipe->weight_kgm * DT_STANDARD_GRAVITY * (base_m - top_m);
    }
    item->hanger = p->nest.holes[string->nest_hole].hanger;
    item->hung = dt_hanger_load(&string->load, string->sections[0].pipe, hanging_n);
}

static dt_status warn_of_lap(dt_program *p, size_t i, const char *name, dt_display display)
{
    const double lap_m = p->items[i - 1].shoe_md_m - p->items[i].top_md_m;
    const double least_lap_m = dt_custom_value_of(p->well, DT_CUSTOM_SEATS_LEAST_LAP);
    if (lap_m >= least_lap_m - 1e-6) return DT_OK;
    sentence text = {0};
    say(&text,
        "its lap is %s; 30 CFR 250.421(f) (2015 edition) asks for %s at least, 43 CFR 3172.7 (from "
        "memory) for the same: look up the rule in force",
        show(display, DT_KIND_LENGTH, lap_m).text, show(display, DT_KIND_LENGTH, least_lap_m).text);
    return dt_program_warn(p, "lap-short", name, &text);
}

static dt_status warn_unchecked(dt_program *p, size_t i, const char *name, dt_display display)
{
    const dt_program_string *item = &p->items[i];
    sentence text = {0};
    if (p->well->hangers.count > 0) {
        say(&text,
            "the list of hangers has none for the pinned %s in liner in the pipe above: the pin "
            "stays, its hanger is not checked",
            show_inches(item->od_m).text);
        return dt_program_warn(p, "pin-hanger", name, &text);
    }
    say(&text,
        "no <liner_hangers> in the well file: capacity and bore of its hanger are not checked; %s "
        "hang on it once the plug is bumped",
        show(display, DT_KIND_FORCE, item->hung.total_n).text);
    return dt_program_warn(p, "hanger-not-checked", name, &text);
}

/** Only pins can bring a string here whose hanger does not suit. */
static dt_status warn_of_hanger(dt_program *p, size_t i, const char *name, dt_display display)
{
    const dt_program_string *item = &p->items[i];
    const dt_hanger *h = item->hanger;
    const dt_pipe *host = section_at(p->items[i - 1].string, item->top_md_m)->pipe;
    const double factor = dt_hanger_factor(p->well), bit_m = item->string->need_drift_m;
    dt_status status = DT_OK;
    sentence text = {0};
    if (!dt_hanger_fits(h, host)) {
        say(&text, "the hanger of line %d is not set in the pipe above, %s in %s: the pin stays",
            h->line, show_inches(host->od_m).text,
            show(display, DT_KIND_LINEAR_MASS, host->weight_kgm).text);
        status = dt_program_warn(p, "pin-hanger", name, &text);
    }
    text = (sentence){0};
    if (status == DT_OK && item->hung.total_n * factor * (1 - 1e-9) > h->capacity_n) {
        say(&text,
            "%s hang on the hanger of line %d, which bears %s, where it must bear %.2f times "
            "that: the pin stays",
            show(display, DT_KIND_FORCE, item->hung.total_n).text, h->line,
            show(display, DT_KIND_FORCE, h->capacity_n).text, factor);
        status = dt_program_warn(p, "pin-hanger", name, &text);
    }
    text = (sentence){0};
    if (status == DT_OK && !dt_hanger_passes(h, bit_m)) {
        say(&text, "the next bit, %s in, does not pass the hanger of line %d, %s: the pin stays",
            show_inches(bit_m).text, h->line,
            show(display, DT_KIND_DIAMETER, dt_hanger_bore(h)).text);
        status = dt_program_warn(p, "pin-hanger", name, &text);
    }
    return status;
}

/** The test of liners: not asked for, or by a customary pressure. */
static dt_status warn_of_test(dt_program *p)
{
    const dt_liner_test *test = &p->well->liner_test;
    sentence text = {0};
    if (!test->given) {
        say(&text, "no <liner_top_test>: no pressure test of liner and lap is looked at");
        return dt_program_warn(p, "liner-top-test-not-run", "well", &text);
    }
    const size_t last = p->count - 1;
    if (test->rule == DT_LINER_TEST_PRESSURE || !isnan(test->above_pa) ||
        p->items[last].seat->type != DT_LINER)
        return DT_OK;
    dt_say_customs(&text, p->well,
                   "no above in <liner_top_test>: the production liner is tested to "
                   "{liner_top_test above} over fracture pressure at the shoe it laps into (30 CFR "
                   "250.425, 2015 edition; moved since)");
    return dt_program_warn(p, "liner-top-test-customary", "well", &text);
}

dt_status dt_program_warn_of_liners(dt_program *p, dt_display display)
{
    bool any = false;
    for (size_t i = 1; i < p->count; ++i) {
        char name[32];
        if (p->items[i].seat->type != DT_LINER) continue;
        any = true;
        dt_program_string_name(p, i, name, sizeof name);
        dt_status status = warn_of_lap(p, i, name, display);
        if (status == DT_OK)
            status = p->items[i].hanger ? warn_of_hanger(p, i, name, display)
                                        : warn_unchecked(p, i, name, display);
        if (status != DT_OK) return status;
    }
    return any ? warn_of_test(p) : DT_OK;
}

const dt_lap_test *dt_program_liner_test(const dt_program_string *item)
{
    const dt_string_load *load = &item->string->load;
    return item->seat->type == DT_LINER && load->lap_test_count > 0 ? &load->lap_tests[0] : NULL;
}
