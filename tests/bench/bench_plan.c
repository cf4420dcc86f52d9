/* SPDX-License-Identifier: MIT */
/* bench_plan [WELL [RUNS]]: read, plan and make all outputs in memory; milliseconds and peak
 * memory. */
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>

#include "clock.h"
#include "drawings.h"

typedef struct lap {
    double read, plan, draw, total;
} lap;

static int one_run(const char *path, const char *bytes, size_t size, lap *out)
{
    dt_report report = {0};
    dt_well *well = NULL;
    dt_catalogue catalogue = {0};
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    double start = clock_ms(CLOCK_MONOTONIC);
    int bad = dt_report_init(&report, path) || dt_well_parse(bytes, size, &report, &well) ||
              dt_catalogue_load(&catalogue);
    double read = clock_ms(CLOCK_MONOTONIC);
    bad = bad || dt_program_plan(well, &catalogue, &program, &refusal);
    double planned = clock_ms(CLOCK_MONOTONIC);
    static dt_status (*const draw[])(const dt_program *, dt_display, dt_text *) = {
        dt_draw_schematic, dt_draw_window, dt_draw_options, dt_write_program_table};
    for (size_t i = 0; !bad && i < sizeof draw / sizeof *draw; ++i) {
        dt_text text = {0};
        bad = draw[i](program, DT_DISPLAY_FIELD, &text) != DT_OK;
        dt_text_free(&text);
    }
    for (size_t i = 0; !bad && i < program->count; ++i) {
        dt_text sheet = {0};
        bad = dt_draw_string_sheet(program, i, DT_DISPLAY_FIELD, &sheet) != DT_OK;
        dt_text_free(&sheet);
    }
    dt_text json = {0};
    bad = bad || dt_write_program_json(program, &json);
    dt_text_free(&json);
    double drawn = clock_ms(CLOCK_MONOTONIC);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
    dt_report_free(&report);
    *out = (lap){read - start, planned - read, drawn - planned, drawn - start};
    return bad;
}

static int by_total(const void *a, const void *b)
{
    double x = ((const lap *)a)->total, y = ((const lap *)b)->total;
    return (x > y) - (x < y);
}

int main(int argc, char **argv)
{
    const char *path = argc > 1 ? argv[1] : DT_WELLS "/brackwater-deep.xml";
    long runs = argc > 2 ? strtol(argv[2], NULL, 10) : 21;
    FILE *file = fopen(path, "rb");
    char *bytes = malloc(DT_WELL_MAX_BYTES);
    lap *laps = runs > 0 ? calloc((size_t)runs, sizeof *laps) : NULL;
    if (!file || !bytes || !laps) return 1;
    size_t size = fread(bytes, 1, DT_WELL_MAX_BYTES, file);
    fclose(file);
    for (long i = 0; i < runs; ++i)
        if (one_run(path, bytes, size, &laps[i])) return 1;
    qsort(laps, (size_t)runs, sizeof *laps, by_total);
    const lap *m = &laps[runs / 2];
    struct rusage self, child;
    getrusage(RUSAGE_SELF, &self);
    getrusage(RUSAGE_CHILDREN, &child);
    printf("%s, median of %ld runs: read %.2f ms, plan %.2f ms, outputs %.2f ms, all %.2f ms "
           "(least %.2f, most %.2f)\n",
           path, runs, m->read, m->plan, m->draw, m->total, laps[0].total, laps[runs - 1].total);
    printf("peak memory %.1f MB, of the layout process %.1f MB\n", (double)self.ru_maxrss / 1024,
           (double)child.ru_maxrss / 1024);
    free(laps);
    free(bytes);
    return 0;
}
