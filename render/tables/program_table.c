/* SPDX-License-Identifier: MIT */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "jobs_table.h"
#include "review_table.h"
#include "same.h"
#include "tables.h"
#include "units.h"
#include "wording.h"
#include "wrapped.h"

#define CAUTION                                                                                    \
    "Preliminary planning aid. Verify pressures and regulations locally; a licensed engineer\n"    \
    "reviews before anything is run.\n"

/** Display number without its unit: the unit stands in the column head. */
static shown bare(dt_display display, dt_kind kind, double si)
{
    shown out = show(display, kind, si);
    char *space = strchr(out.text, ' ');
    if (space) *space = '\0';
    return out;
}

static shown factor(const dt_factor *f)
{
    shown out;
    if (isnan(f->factor))
        snprintf(out.text, sizeof out.text, "-");
    else if (!isfinite(f->factor) || f->factor >= 100)
        snprintf(out.text, sizeof out.text, ">99");
    else
        /* never rounded up: what is asked for is reached or it is not */
        snprintf(out.text, sizeof out.text, "%.2f", dt_shown_factor(f->factor));
    return out;
}

#define ROW "%-*s %-*s %7s %7s %-20s %7s %9s %9s %8s %6s %6s %6s %6s"

/** Room for the word "tieback" only where one is there. */
static int type_width(const dt_program *program)
{
    return program->seats.tieback_count > 0 ? 7 : 6;
}

static void say_head(sentence *s, const dt_program *program, dt_display display)
{
    const int name_w = dt_name_width(program), type_w = type_width(program);
    const char *depth = dt_display_unit(display, DT_KIND_LENGTH);
    say(s, ROW, name_w, "string", type_w, "type", "hole", "pipe", "weight grade thread", "top",
        "base", "shoe", "mud", "burst", "coll.", "tens.", "triax.");
    dt_end_line(s);
    say(s, ROW, name_w, "", type_w, "", "in", "in", dt_display_unit(display, DT_KIND_LINEAR_MASS),
        depth, depth, depth, dt_display_unit(display, DT_KIND_DENSITY), "", "", "", "");
    dt_end_line(s);
    say(s, ROW, name_w, "", type_w, "", "", "", "", "MD", "MD", "TVD", "", "", "", "", "");
    dt_end_line(s);
}

static void say_section(sentence *s, const dt_program *program, size_t index, size_t which,
                        dt_display display)
{
    const dt_program_string *item = &program->items[index];
    const dt_section *section = &item->string->sections[which];
    char name[32], pipe[64];
    dt_program_string_name(program, index, name, sizeof name);
    snprintf(pipe, sizeof pipe, "%s %s %s",
             bare(display, DT_KIND_LINEAR_MASS, section->pipe->weight_kgm).text,
             section->pipe->grade->name, dt_pipe_thread_text(section->pipe, section->thread));
    const dt_factor *f = section->screen.by_check;
    bool no_mud = isnan(item->seat->mud_kgm3), first = which == 0;
    bool tieback = item->seat->type == DT_TIEBACK;
    say(s, ROW, dt_name_width(program), first ? name : "", type_width(program),
        !first                       ? ""
        : item->string->load.slotted ? "slots"
                                     : dt_string_type_text(item->seat->type),
        !first    ? ""
        : tieback ? "-"
                  : show_inches(item->hole_m).text,
        first ? show_inches(item->od_m).text : "", pipe,
        bare(display, DT_KIND_LENGTH, section->top_md_m).text,
        bare(display, DT_KIND_LENGTH, section->base_md_m).text,
        !first    ? ""
        : tieback ? "-"
                  : bare(display, DT_KIND_LENGTH, item->shoe_tvd_m).text,
        !first   ? ""
        : no_mud ? "-"
                 : bare(display, DT_KIND_DENSITY, item->seat->mud_kgm3).text,
        factor(&f[DT_CHECK_BURST]).text, factor(&f[DT_CHECK_COLLAPSE]).text,
        factor(&f[DT_CHECK_TENSION]).text, factor(&f[DT_CHECK_TRIAXIAL]).text);
    dt_end_line(s);
}

/** A last hole that stays open, where it is drilled from and to. */
static void say_open_end(sentence *s, const dt_program *program, dt_display display)
{
    const dt_open_end *open = &program->seats.open;
    if (!open->given) return;
    const dt_trajectory *path = &program->trajectory;
    say(s, ROW, dt_name_width(program), "open hole", type_width(program), "-",
        show_inches(open->hole_m).text, "-", "-",
        bare(display, DT_KIND_LENGTH, dt_trajectory_md(path, open->top_m)).text,
        bare(display, DT_KIND_LENGTH, dt_trajectory_md(path, open->base_m)).text,
        bare(display, DT_KIND_LENGTH, open->base_m).text,
        bare(display, DT_KIND_DENSITY, open->mud_kgm3).text, "-", "-", "-", "-");
    dt_end_line(s);
}

static void say_string(sentence *s, const dt_program *program, size_t index, dt_display display)
{
    for (size_t i = 0; i < program->items[index].string->section_count; ++i)
        say_section(s, program, index, i, display);
}

/** A reason; "the same" where its sentence is that of another one that was said. */
static dt_status say_reason(sentence *s, const char *head, const dt_reason *reason,
                            const dt_reason *said, const dt_well *well, dt_display display)
{
    char *text = NULL, *before = NULL;
    dt_status status = dt_reason_sentence(reason, well, display, &text);
    if (status == DT_OK && said) status = dt_reason_sentence(said, well, display, &before);
    if (status == DT_OK) {
        const size_t start = s->length;
        say(s, "%s%s", head, before && strcmp(before, text) == 0 ? "the same" : text);
        dt_wrap(s, start, (int)strlen(head));
        say(s, "\n");
    }
    free(text);
    free(before);
    return status;
}

/** What governs the shoe, and where it may move what keeps it from going further. */
static dt_status say_reasons(sentence *s, const dt_seat *seat, bool moves, const dt_well *well,
                             dt_display display)
{
    dt_status status = say_reason(s, "  governed by  ", &seat->why, NULL, well, display);
    if (status == DT_OK && moves)
        status = say_reason(s, "  no shallower ", &seat->why_shallowest, &seat->why, well, display);
    if (status == DT_OK && moves)
        status = say_reason(s, "  no deeper    ", &seat->why_deepest, &seat->why, well, display);
    return status;
}

static void say_kick(sentence *s, const dt_kick_result *k, bool known, dt_display display)
{
    if (!known) return;
    say(s, "  kick tolerance of its hole %s%s%s at %s\n", k->whole_hole ? "over " : "",
        show(display, DT_KIND_VOLUME, k->tolerance_m3).text,
        k->whole_hole     ? ", all the open hole,"
        : k->by_expansion ? ", bubble at the weak point"
                          : ", bubble at the bottom",
        show(display, DT_KIND_LENGTH, k->weak_tvd_m).text);
}

static dt_status say_seats(sentence *s, const dt_program *program, dt_display display)
{
    say(s, "\nWhy each shoe stands where it does (TVD)\n");
    for (size_t i = 0; i < program->count; ++i) {
        const dt_seat *seat = program->items[i].seat;
        char name[32];
        const size_t start = s->length;
        dt_program_string_name(program, i, name, sizeof name);
        say(s, "%s: shoe %s", name, show(display, DT_KIND_LENGTH, seat->shoe_m).text);
        bool moves = seat->deepest_m - seat->shallowest_m > SAME_DEPTH_M;
        if (moves)
            say(s, ", can be set from %s to %s",
                show(display, DT_KIND_LENGTH, seat->shallowest_m).text,
                show(display, DT_KIND_LENGTH, seat->deepest_m).text);
        if (fabs(seat->shoe_m - seat->exact_m) > SAME_DEPTH_M)
            say(s, ", rounded from %s", show(display, DT_KIND_LENGTH, seat->exact_m).text);
        if (seat->liner_by_sticking) say(s, "; a liner, since running it from surface could stick");
        if (seat->tied_back) say(s, "; a tie-back takes over above it once it is cemented");
        dt_wrap(s, start, 2);
        say(s, "\n");
        const dt_status status = say_reasons(s, seat, moves, program->well, display);
        if (status != DT_OK) return status;
        const dt_program_string *item = &program->items[i];
        say_kick(s, &item->kick, item->kick_known && !seat->rules.diverter, display);
    }
    const dt_open_end *open = &program->seats.open;
    if (!open->given) return DT_OK;
    say(s, "open hole: to %s\n", show(display, DT_KIND_LENGTH, open->base_m).text);
    say_kick(s, &program->open_kick, program->open_kick_known, display);
    return DT_OK;
}

/** What governs each section, and the next cheaper pipe that would fail there. */
static void say_governing(sentence *s, const dt_section *section, const char *name,
                          dt_display display)
{
    const dt_screen *screen = &section->screen;
    const dt_factor *f = &screen->by_check[screen->worst_check];
    say(s, "  %s %s to %s: %s SF %s (min %.2f), %s, at %s MD\n", name,
        bare(display, DT_KIND_LENGTH, section->top_md_m).text,
        show(display, DT_KIND_LENGTH, section->base_md_m).text, dt_check_code(screen->worst_check),
        factor(f).text, f->needed, dt_load_code(screen->worst),
        show(display, DT_KIND_LENGTH, f->at_md_m).text);
    if (!section->cheaper_pipe) return;
    f = &section->cheaper_factor;
    say(s, "    next cheaper, %s %s %s: %s SF %s (min %.2f), %s, at %s MD\n",
        bare(display, DT_KIND_LINEAR_MASS, section->cheaper_pipe->weight_kgm).text,
        section->cheaper_pipe->grade->name,
        dt_pipe_thread_text(section->cheaper_pipe, section->cheaper_thread),
        dt_check_code(section->cheaper_check), factor(f).text, f->needed,
        dt_load_code(section->cheaper_load), show(display, DT_KIND_LENGTH, f->at_md_m).text);
}

static void say_strength(sentence *s, const dt_program *program, dt_display display)
{
    say(s, "\nWhat governs each section (collapse: %s)\n",
        dt_collapse_method_words(program->design.collapse_method));
    for (size_t n = 0; n < dt_program_strings(program); ++n) {
        const size_t i = dt_program_at(program, n);
        for (size_t k = 0; k < program->items[i].string->section_count; ++k) {
            char name[32];
            dt_program_string_name(program, i, name, sizeof name);
            say_governing(s, &program->items[i].string->sections[k], name, display);
        }
    }
}

/** What is nippled up on each string, and what carries it. */
static void say_heads(sentence *s, const dt_program *program, dt_display display)
{
    say(s, "\nWellhead and BOP (anticipated %s, working-pressure class)\n",
        program->well->bop_at_seabed ? "pressure at the sea floor" : "surface pressure");
    for (size_t n = 0; n < program->wellhead.count; ++n) {
        const size_t i = dt_program_at(program, n);
        const dt_head_stage *head = &program->wellhead.stages[i];
        char name[32];
        dt_program_string_name(program, i, name, sizeof name);
        if (head->diverter) say(s, "  %s: diverter\n", name);
        if (isnan(head->pressure_pa)) continue;
        say(s, "  %s: %s", name, show(display, DT_KIND_PRESSURE, head->pressure_pa).text);
        if (!isnan(head->at_surface_pa))
            say(s, ", %s at the rig floor",
                show(display, DT_KIND_PRESSURE, head->at_surface_pa).text);
        if (head->class_psi > 0)
            say(s, ", class %.0f psi\n", head->class_psi);
        else
            say(s, ", %s\n", head->beyond_classes ? "above every class" : "no class needed");
    }
    for (size_t i = 0; i < program->wellhead.landing_count; ++i) {
        const dt_landing *l = &program->wellhead.landing[i];
        char name[32];
        if (!l->made) continue;
        dt_program_string_name(program, l->carrier, name, sizeof name);
        say(s, "  %s carries %s: SF %.2f on yield", name,
            show(display, DT_KIND_FORCE, l->load_n).text, l->stress_factor);
        if (l->column_made) say(s, ", %.2f as a column", l->column_factor);
        say(s, "\n");
    }
}

/** What hangs on each hanger that was checked. */
static void say_hangers(sentence *s, const dt_program *program, dt_display display)
{
    bool any = false;
    for (size_t i = 0; i < program->count; ++i) {
        const dt_program_string *item = &program->items[i];
        char name[32];
        if (!item->hanger) continue;
        if (!any) say(s, "\nLiner hangers: what hangs once the liner is set\n");
        any = true;
        dt_program_string_name(program, i, name, sizeof name);
        say(s,
            "  %s: %s, %s of it weight; governed by %s; hanger of line %d bears %s: SF "
            "%.2f (min %.2f); bore %s\n",
            name, show(display, DT_KIND_FORCE, item->hung.total_n).text,
            show(display, DT_KIND_FORCE, item->hung.weight_n).text, dt_load_code(item->hung.by),
            item->hanger->line, show(display, DT_KIND_FORCE, item->hanger->capacity_n).text,
            item->hanger->capacity_n / item->hung.total_n, dt_hanger_factor(program->well),
            show(display, DT_KIND_DIAMETER, item->hanger->bore_m).text);
    }
}

static void say_liner_tests(sentence *s, const dt_program *program, dt_display display)
{
    for (size_t i = 0; i < program->count; ++i) {
        const dt_lap_test *test = dt_program_liner_test(&program->items[i]);
        char name[32];
        if (!test) continue;
        dt_program_string_name(program, i, name, sizeof name);
        say(s, "  %s: liner and lap tested with %s at the surface, %s in the well\n", name,
            show(display, DT_KIND_PRESSURE, test->pressure_pa).text,
            show(display, DT_KIND_DENSITY, test->fluid_kgm3).text);
    }
}

/** "Revision B, A. Fenwick, 2 March 2026" on a line of its own. */
static void say_document(sentence *s, const dt_well *well)
{
    dt_buffer text = {0};
    dt_say_document(&text, well);
    if (text.size > 0) {
        say_clean(s, text.bytes);
        say(s, "\n");
    }
    s->failed = s->failed || text.failed;
    dt_buffer_free(&text);
}

static void say_title(sentence *s, const dt_program *program)
{
    say_clean(s, program->well->name);
    say(s, ": %zu strings, %.1f t of steel, %.1f days", dt_program_strings(program),
        program->steel_kg / 1000, program->bill.days);
    if (program->well->prices_given) {
        const char *currency = program->well->prices.currency;
        say(s, ", %.0f ", program->bill.total);
        say_clean(s, currency ? currency : "in the currency of the prices");
    }
    say(s, "\n");
    say_document(s, program->well);
    say(s, "\n");
}

static dt_status say_program(sentence *s, const dt_program *program, const dt_review *review,
                             dt_extent extent, dt_display display)
{
    say_title(s, program);
    dt_status status = dt_say_stoppers(s, program, 0, extent, display);
    if (!dt_program_runnable(program)) say(s, "\n");
    say_head(s, program, display);
    for (size_t n = 0; n < dt_program_strings(program); ++n)
        say_string(s, program, dt_program_at(program, n), display);
    say_open_end(s, program, display);
    if (status == DT_OK) status = dt_say_review(s, program, review, extent, display);
    if (status == DT_OK) status = say_seats(s, program, display);
    say_strength(s, program, display);
    dt_say_jobs(s, program, display);
    say_heads(s, program, display);
    say_hangers(s, program, display);
    say_liner_tests(s, program, display);
    if (status == DT_OK) status = dt_say_assumed(s, program, extent, display);
    say(s, "\n" CAUTION);
    return status;
}

static dt_status write_table(const dt_program *program, dt_extent extent, dt_display display,
                             dt_text *out)
{
    sentence s = {0};
    dt_review review;
    dt_status status = dt_review_make(program, &review);
    if (status != DT_OK) return status;
    status = say_program(&s, program, &review, extent, display);
    dt_review_free(&review);
    const size_t size = s.length;
    char *bytes = NULL;
    if (status == DT_OK) status = sentence_take(&s, &bytes);
    if (status == DT_OK)
        *out = (dt_text){bytes, size};
    else
        free(s.bytes);
    return status;
}

dt_status dt_write_program_table(const dt_program *program, dt_display display, dt_text *out)
{
    return write_table(program, DT_IN_SHORT, display, out);
}

dt_status dt_write_program_full_table(const dt_program *program, dt_display display, dt_text *out)
{
    return write_table(program, DT_IN_FULL, display, out);
}
