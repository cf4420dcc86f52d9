/* SPDX-License-Identifier: MIT */
#include "jobs_table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "trigger_words.h"

/** Display number without its unit: the unit stands in the column head. "-" for none. */
static shown bare(dt_display display, dt_kind kind, double si)
{
    shown out;
    if (!isfinite(si)) {
        snprintf(out.text, sizeof out.text, "-");
        return out;
    }
    out = show(display, kind, si);
    char *space = strchr(out.text, ' ');
    if (space) *space = '\0';
    return out;
}

int dt_name_width(const dt_program *program)
{
    int widest = 15;
    for (size_t i = 0; i < dt_program_strings(program); ++i) {
        char name[32];
        int width = dt_program_string_name(program, i, name, sizeof name);
        if (width > widest) widest = width;
    }
    return widest;
}

/** "814 x 13.20": sacks and density of a slurry. */
static shown slurry(dt_display display, const dt_cement_part *part)
{
    shown out;
    if (part)
        snprintf(out.text, sizeof out.text, "%.0f x %.16s", part->sacks,
                 bare(display, DT_KIND_DENSITY, part->slurry.density_kgm3).text);
    else
        snprintf(out.text, sizeof out.text, "-");
    return out;
}

static void say_cement(sentence *s, int width, const char *name, const dt_cement *c,
                       dt_display display)
{
    const dt_cement_part *tail = &c->parts[c->part_count - 1];
    const dt_cement_part *lead = c->part_count > 1 ? &c->parts[0] : NULL;
    say(s, "%-*s %7s %14s %14s %7s %8s %7s %7s %8s %6s %5s\n", width, name,
        bare(display, DT_KIND_LENGTH, c->top_md_m).text, slurry(display, lead).text,
        slurry(display, tail).text, bare(display, DT_KIND_VOLUME, c->slurry_m3).text,
        bare(display, DT_KIND_VOLUME, c->displacement_m3).text,
        bare(display, DT_KIND_PRESSURE, c->bump_pa).text,
        bare(display, DT_KIND_PRESSURE, c->test_pa).text,
        bare(display, DT_KIND_DENSITY, c->shoe_kgm3).text,
        bare(display, DT_KIND_TIME, c->job_s).text, bare(display, DT_KIND_TIME, c->wait_s).text);
}

static void say_cements(sentence *s, const dt_program *p, dt_display display)
{
    const int width = dt_name_width(p);
    const char *density = dt_display_unit(display, DT_KIND_DENSITY);
    const char *volume = dt_display_unit(display, DT_KIND_VOLUME);
    const char *pressure = dt_display_unit(display, DT_KIND_PRESSURE);
    char sacks[24];
    snprintf(sacks, sizeof sacks, "sk x %s", density);
    say(s, "\n%-*s %7s %14s %14s %7s %8s %7s %7s %8s %6s %5s\n", width, "cement", "top MD", "lead",
        "tail", "slurry", "displace", "bump", "test", "shoe end", "job", "WOC");
    say(s, "%-*s %7s %14s %14s %7s %8s %7s %7s %8s %6s %5s\n", width, "",
        dt_display_unit(display, DT_KIND_LENGTH), sacks, sacks, volume, volume, pressure, pressure,
        density, "h", "h");
    for (size_t n = 0; n < dt_program_strings(p); ++n) {
        const size_t i = dt_program_at(p, n);
        char name[32];
        dt_program_string_name(p, i, name, sizeof name);
        const dt_cement *c = &p->items[i].job->cement;
        if (c->cemented)
            say_cement(s, width, name, c, display);
        else
            say(s, "%-*s %s\n", width, name,
                p->items[i].job->cement_refused ? "not computed: see the stoppers"
                                                : "not cemented");
    }
}

static void say_drilling_head(sentence *s, int width, const char *density)
{
    say(s, "\n%-*s %10s %10s %9s %10s %10s %10s\n", width, "while drilling", "minimum", "foreseen",
        "planned", "maximum", "maximum", "foreseen");
    say(s, "%-*s %10s %10s %9s %10s %10s %10s\n", width, "down to the", "leak-off", density, "mud",
        "mud", "pore", density);
}

static void say_trigger(sentence *s, const dt_program *p, size_t string, dt_display display)
{
    const dt_trigger t = dt_program_trigger(p, string);
    char name[32];
    dt_buffer words = {0};
    if (isnan(t.bounds.leak_off_kgm3)) return;
    dt_program_string_name(p, string, name, sizeof name);
    dt_trigger_words(p, string, &t, &words);
    say(s, "%-*s %10s %10s  %9s  %s\n", dt_name_width(p), name,
        bare(display, DT_KIND_LENGTH, t.highest_m).text,
        bare(display, DT_KIND_DENSITY, t.leak_off_kgm3).text,
        t.left == DT_LEFT_NONE ? "-" : bare(display, DT_KIND_LENGTH, t.run_at_m).text,
        words.bytes ? words.bytes : "");
    if (words.failed) s->failed = true;
    dt_buffer_free(&words);
}

/** What is done past a bound: the shoe moves, and past that a string more is run. */
static void say_triggers(sentence *s, const dt_program *p, dt_display display)
{
    const int width = dt_name_width(p);
    const char *depth = dt_display_unit(display, DT_KIND_LENGTH);
    say(s, "\n%-*s %10s %10s  %9s  %s\n", width, "past a bound", "shoe moves", "leak-off",
        "else, at", "is run");
    say(s, "%-*s %10s %10s  %9s\n", width, "", "up to", "at least", "most at");
    say(s, "%-*s %10s %10s  %9s\n", width, "", depth, dt_display_unit(display, DT_KIND_DENSITY),
        depth);
    for (size_t i = 1; i < p->count; ++i)
        say_trigger(s, p, i, display);
    say(s, "A leak-off below its minimum at the previous shoe, a mud weight or pore pressure over "
           "its\n"
           "maximum: the shoe is set higher, no higher than said; where the reading rules that "
           "out, the "
           "string named is run. By sizes and\nrules of seats; pipe and cement are planned on the "
           "well file with the reading in it.\n");
}

/** What the crew holds its readings against: bounds beside what is foreseen. */
static void say_drilling(sentence *s, const dt_program *p, dt_display display)
{
    const int width = dt_name_width(p);
    bool any = false;
    for (size_t i = 1; i < p->count; ++i) {
        const dt_while_drilling d = dt_program_while_drilling(p, i);
        const dt_program_string *item = &p->items[i];
        const double above_m = item[-1].shoe_tvd_m, base_m = item->shoe_tvd_m;
        const double fracture_kgm3 = dt_curve_emw(&p->well->fracture, above_m, DT_BELOW);
        const double pore_kgm3 = dt_curve_emw(&p->well->pore, base_m, DT_ABOVE);
        char name[32];
        if (isnan(d.leak_off_kgm3)) continue;
        if (!any) say_drilling_head(s, width, dt_display_unit(display, DT_KIND_DENSITY));
        any = true;
        dt_program_string_name(p, i, name, sizeof name);
        say(s, "%-*s %10s %10s %9s %10s %10s %10s\n", width, name,
            bare(display, DT_KIND_DENSITY, d.leak_off_kgm3).text,
            bare(display, DT_KIND_DENSITY, fracture_kgm3).text,
            bare(display, DT_KIND_DENSITY, item->seat->mud_kgm3).text,
            bare(display, DT_KIND_DENSITY, d.most_mud_kgm3).text,
            bare(display, DT_KIND_DENSITY, d.most_pore_kgm3).text,
            bare(display, DT_KIND_DENSITY, pore_kgm3).text);
    }
    if (any && dt_well_has_spreads(p->well))
        say_triggers(s, p, display);
    else if (any)
        say(s, "A leak-off below its minimum at the previous shoe, or a pore pressure over its "
               "maximum at "
               "the base:\nthe next shoe stands higher than planned, or a string more is set.\n");
}

static void say_running(sentence *s, const dt_program *p, dt_display display)
{
    const int width = dt_name_width(p);
    const char *depth = dt_display_unit(display, DT_KIND_LENGTH);
    const char *force = dt_display_unit(display, DT_KIND_FORCE);
    char unfilled[24], every[24];
    snprintf(unfilled, sizeof unfilled, "max %s", depth);
    snprintf(every, sizeof every, "every %s", depth);
    say(s, "\n%-*s %12s %8s %8s %9s %8s %8s %9s %10s %6s\n", width, "running", "joints+spare",
        "full", "empty", "overpull", "unfilled", "fill", "centr'ers", "s a joint", "time");
    say(s, "%-*s %12s %8s %8s %9s %8s %8s %9s %10s %6s\n", width, "", "", force, force, force,
        unfilled, every, "", "at least", "h");
    for (size_t n = 0; n < dt_program_strings(p); ++n) {
        const size_t i = dt_program_at(p, n);
        const dt_job *job = p->items[i].job;
        const dt_running *r = &job->running;
        char name[32], joints[40], lower[24], held[24];
        const bool rock = p->items[i].seat->type != DT_TIEBACK;
        dt_program_string_name(p, i, name, sizeof name);
        snprintf(joints, sizeof joints, "%zu+%zu R%d", r->joints, r->spare_joints,
                 r->settings.range);
        const bool surges = rock && !r->fills_itself && isfinite(r->joint_s);
        snprintf(lower, sizeof lower, surges ? "%.0f" : "-", ceil(r->joint_s));
        snprintf(held, sizeof held, rock ? "%zu" : "-",
                 job->centralizing.bows + job->centralizing.rigids);
        say(s, "%-*s %12s %8s %8s %9s %8s %8s %9s %10s %6s\n", width, name, joints,
            bare(display, DT_KIND_FORCE, r->hookload_filled_n).text,
            bare(display, DT_KIND_FORCE, r->hookload_floated_n).text,
            bare(display, DT_KIND_FORCE, r->overpull_pipe_n).text,
            bare(display, DT_KIND_LENGTH, r->fills_itself ? NAN : r->empty_md_m).text,
            bare(display, DT_KIND_LENGTH, r->fills_itself ? NAN : r->fill_every_m).text, held,
            lower, bare(display, DT_KIND_TIME, r->time_s).text);
    }
}

void dt_say_jobs(sentence *s, const dt_program *program, dt_display display)
{
    say_drilling(s, program, display);
    say_cements(s, program, display);
    say_running(s, program, display);
}
