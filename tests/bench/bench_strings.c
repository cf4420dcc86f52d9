/* SPDX-License-Identifier: MIT */
/* Milliseconds for the strings of each shipped well: all load cases, the whole catalogue, every
 * nest of sizes that is asked for, at most four sections a string, boundaries to a foot. */
#define _POSIX_C_SOURCE 200809L
#include <stdio.h>
#include <stdlib.h>

#include "clock.h"
#include "program.h"

static dt_well *read_well(const char *path)
{
    static char bytes[1 << 20];
    FILE *file = fopen(path, "rb");
    if (!file) return NULL;
    size_t size = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    dt_report report;
    dt_well *well = NULL;
    if (dt_report_init(&report, path) != DT_OK) return NULL;
    dt_well_parse(bytes, size, &report, &well);
    dt_report_free(&report);
    return well;
}

/** The string stage alone, over and over; the other stages are run once. */
static int bench(const dt_catalogue *catalogue, const char *name)
{
    enum { TIMES = 20 };
    char path[512];
    snprintf(path, sizeof path, "%s/%s.xml", DT_WELLS, name);
    dt_well *well = read_well(path);
    if (!well) return 1;
    well->design.max_sections = 4;
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_status status = dt_program_plan(well, catalogue, &program, &refusal);
    dt_refusal_free(&refusal);
    if (status != DT_OK) {
        dt_well_free(well);
        return 1;
    }
    double best_ms = 1e9;
    for (int i = 0; i < TIMES; ++i) {
        dt_strings strings = {0};
        dt_shortfall shortfall = {0};
        const double start_ms = clock_ms(CLOCK_MONOTONIC);
        status =
            dt_strings_choose(&program->window, &program->seats, &program->nest, catalogue,
                              &program->trajectory, program->lap_m, NULL, &strings, &shortfall);
        const double took_ms = clock_ms(CLOCK_MONOTONIC) - start_ms;
        if (took_ms < best_ms) best_ms = took_ms;
        dt_strings_free(&strings);
    }
    printf("%-16s %zu strings  %7.2f ms  %6.2f ms a string\n", name, program->count, best_ms,
           best_ms / (double)program->count);
    dt_program_free(program);
    dt_well_free(well);
    return status != DT_OK;
}

int main(void)
{
    static const char *const wells[] = {"alder-reach", "brackwater-deep", "hollinfold",
                                        "mizzenlow-shelf"};
    dt_catalogue catalogue = {0};
    if (dt_catalogue_load(&catalogue) != DT_OK) return 1;
    int failed = 0;
    for (size_t i = 0; i < sizeof wells / sizeof *wells; ++i)
        failed |= bench(&catalogue, wells[i]);
    dt_catalogue_free(&catalogue);
    return failed;
}
