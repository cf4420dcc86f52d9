/* SPDX-License-Identifier: MIT */
/*
 * bench_odds [WELL]: what a realisation costs, against threads, the number of points and the
 * depth: all that odds asks, seats alone, and what comes after them. Times are CPU seconds of the
 * process (user), and wall clock beside them.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#include "odds.h"
#include "section.h"

static double wall_s(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

static double user_s(void)
{
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return (double)usage.ru_utime.tv_sec + (double)usage.ru_utime.tv_usec / 1e6;
}

static void report(const char *what, const dt_program *program, size_t samples, unsigned threads)
{
    const dt_odds_options options = {.samples = samples, .seed = 1, .threads = threads};
    dt_odds *odds = NULL;
    double wall = wall_s(), user = user_s();
    if (dt_odds_run(program, &options, &odds) != DT_OK) {
        printf("%-34s cannot be run\n", what);
        return;
    }
    wall = wall_s() - wall;
    user = user_s() - user;
    printf("%-34s %7zu wells  %7.3f s wall  %7.3f s user  %6.1f us user each\n", what, samples,
           wall, user, 1e6 * user / (double)samples);
    dt_odds_free(odds);
}

/** Seats alone: wells drawn, their windows built, the planned seats held against them. */
static void report_seats(const char *what, const dt_program *program, size_t samples)
{
    dt_uncertains inputs = {0};
    dt_drawn drawn = {0};
    dt_odds_holes holes;
    const dt_seats *seats = &program->seats;
    size_t held = 0;
    if (dt_uncertains_collect(program->well, &inputs) != DT_OK ||
        dt_drawn_begin(program->well, &inputs, &drawn) != DT_OK)
        exit(1);
    dt_odds_holes_of_seats(program->well, seats, &holes);
    const double user = user_s();
    for (size_t i = 0; i < samples; ++i) {
        dt_window window;
        dt_rule rule;
        bool all = true;
        dt_draw(&drawn, &inputs, 1, 0, i);
        if (dt_window_build(&drawn.well, &window) != DT_OK) exit(1);
        for (size_t k = 1; k < seats->count && all; ++k)
            all = dt_shoe_stands(&window, &holes, k, seats->items[k].shoe_m, &rule) &&
                  dt_section_holds(&window, &holes.rules[k], seats->items[k - 1].shoe_m,
                                   seats->items[k].shoe_m);
        held += all;
        dt_window_free(&window);
    }
    printf("%-34s %7zu wells  %5.1f %% hold  %6.2f us user each\n", what, samples,
           100 * (double)held / (double)samples, 1e6 * (user_s() - user) / (double)samples);
    dt_drawn_free(&drawn);
    dt_uncertains_free(&inputs);
}

/** What comes after the seats as well: strength, running and cement. */
static void report_stages(const char *what, const dt_program *program, size_t samples)
{
    dt_uncertains inputs = {0};
    dt_drawn drawn = {0};
    size_t broken = 0;
    if (dt_uncertains_collect(program->well, &inputs) != DT_OK ||
        dt_drawn_begin(program->well, &inputs, &drawn) != DT_OK)
        exit(1);
    const double user = user_s();
    for (size_t i = 0; i < samples; ++i) {
        dt_window window;
        dt_stage_breaks breaks;
        dt_draw(&drawn, &inputs, 1, 0, i);
        if (dt_window_build(&drawn.well, &window) != DT_OK) exit(1);
        if (dt_program_breaks(program, &window, &breaks) != DT_OK) exit(1);
        broken += breaks.count > 0;
        dt_window_free(&window);
    }
    printf("%-34s %7zu wells  %5.1f %% break  %6.0f us user each\n", what, samples,
           100 * (double)broken / (double)samples, 1e6 * (user_s() - user) / (double)samples);
    dt_drawn_free(&drawn);
    dt_uncertains_free(&inputs);
}

/** Every table with more points on the same lines, and spreads on all of them. */
static void thicken(dt_curve *curve, const dt_curve *from, size_t times, dt_curve_point *points)
{
    curve->points = points;
    curve->count = 0;
    for (size_t i = 0; i + 1 < from->count; ++i)
        for (size_t k = 0; k < times; ++k) {
            double part = (double)k / (double)times;
            const dt_curve_point *a = &from->points[i], *b = a + 1;
            dt_curve_point p = *a;
            p.tvd_m = a->tvd_m + part * (b->tvd_m - a->tvd_m);
            p.emw_kgm3 = a->emw_kgm3 + part * (b->emw_kgm3 - a->emw_kgm3);
            if (!(p.sd_kgm3 > 0)) p.sd_kgm3 = b->sd_kgm3;
            curve->points[curve->count++] = p;
        }
    curve->points[curve->count++] = from->points[from->count - 1];
}

static void against_points(const dt_well *well, const dt_catalogue *catalogue)
{
    static dt_curve_point pore[4000], fracture[4000];
    static const size_t denser[] = {1, 4, 16, 40, 64};
    for (size_t i = 0; i < sizeof denser / sizeof *denser; ++i) {
        const size_t times = denser[i];
        dt_well thick = *well;
        char what[64];
        thicken(&thick.pore, &well->pore, times, pore);
        thicken(&thick.fracture, &well->fracture, times, fracture);
        dt_program *program = NULL;
        dt_refusal refusal = {0};
        if (dt_program_plan(&thick, catalogue, &program, &refusal) == DT_OK) {
            snprintf(what, sizeof what, "%zu points, 2 threads",
                     thick.pore.count + thick.fracture.count);
            report(what, program, times >= 16 ? 4000 : 20000, 2);
            snprintf(what, sizeof what, "%zu points, seats alone",
                     thick.pore.count + thick.fracture.count);
            report_seats(what, program, times >= 16 ? 4000 : 50000);
            snprintf(what, sizeof what, "%zu points, after the seats",
                     thick.pore.count + thick.fracture.count);
            report_stages(what, program, 500);
        }
        dt_refusal_free(&refusal);
        dt_program_free(program);
    }
}

/** The same well squeezed or drawn out in depth. */
static void against_depth(const dt_well *well, const dt_catalogue *catalogue)
{
    static dt_curve_point pore[4000], fracture[4000];
    for (double factor = 0.5; factor <= 2; factor *= 2) {
        dt_well deep = *well;
        char what[64];
        thicken(&deep.pore, &well->pore, 1, pore);
        thicken(&deep.fracture, &well->fracture, 1, fracture);
        for (size_t i = 0; i < deep.pore.count; ++i)
            pore[i].tvd_m *= factor;
        for (size_t i = 0; i < deep.fracture.count; ++i)
            fracture[i].tvd_m *= factor;
        deep.objective_m *= factor;
        deep.interval_count = 0;
        dt_program *program = NULL;
        dt_refusal refusal = {0};
        if (dt_program_plan(&deep, catalogue, &program, &refusal) == DT_OK) {
            snprintf(what, sizeof what, "%.0f ft deep, %zu strings, 2 threads",
                     deep.objective_m / DT_M_PER_FT, program->count);
            report(what, program, 20000, 2);
        }
        dt_refusal_free(&refusal);
        dt_program_free(program);
    }
}

int main(int argc, char **argv)
{
    const char *path = argc > 1 ? argv[1] : DT_WELLS "/brackwater-deep.xml";
    static char bytes[1 << 20];
    FILE *file = fopen(path, "rb");
    size_t size = file ? fread(bytes, 1, sizeof bytes, file) : 0;
    if (file) fclose(file);
    dt_report report_of = {0};
    dt_well *well = NULL;
    dt_catalogue catalogue = {0};
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    int bad = dt_report_init(&report_of, path) || dt_well_parse(bytes, size, &report_of, &well) ||
              dt_catalogue_load(&catalogue) ||
              dt_program_plan(well, &catalogue, &program, &refusal);
    for (unsigned threads = 1; !bad && threads <= 4; threads *= 2) {
        char what[64];
        snprintf(what, sizeof what, "%u thread%s", threads, threads > 1 ? "s" : "");
        report(what, program, 100000, threads);
    }
    if (!bad) report_seats("seats alone", program, 200000);
    if (!bad) against_points(well, &catalogue);
    if (!bad) against_depth(well, &catalogue);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
    dt_report_free(&report_of);
    return bad;
}
