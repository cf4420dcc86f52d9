/* SPDX-License-Identifier: MIT */
#include "open_rows.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_CELLS = 16 };

/* More rock than a pocket below a shoe: then the record only left the bit out. */
#define POCKET_M 100.0

typedef struct csv {
    FILE *file;
    const char *path;
    size_t cells_wanted;
    char line[512];
    char *cells[MOST_CELLS];
    int number;
} csv;

static void refuse(const csv *in, const char *what)
{
    fprintf(stderr, "%s:%d: %s\n", in->path, in->number, what);
    exit(EXIT_FAILURE);
}

static bool next_row(csv *in)
{
    if (!fgets(in->line, sizeof in->line, in->file)) return false;
    ++in->number;
    in->line[strcspn(in->line, "\r\n")] = '\0';
    size_t count = 0;
    for (char *cell = in->line; cell && count < MOST_CELLS; ++count) {
        char *comma = strchr(cell, ',');
        if (comma) *comma = '\0';
        in->cells[count] = cell;
        cell = comma ? comma + 1 : NULL;
    }
    if (count != in->cells_wanted) refuse(in, "not so many cells as columns");
    return true;
}

static csv open_csv(char *path, size_t size, const char *folder, const char *name, size_t cells)
{
    snprintf(path, size, "%s/%s", folder, name);
    csv in = {.file = fopen(path, "r"), .path = path, .cells_wanted = cells};
    if (!in.file) {
        perror(path);
        exit(EXIT_FAILURE);
    }
    if (!next_row(&in)) refuse(&in, "empty");
    return in;
}

static double number(const csv *in, size_t cell)
{
    char *end = NULL;
    if (!*in->cells[cell]) return NAN;
    double value = strtod(in->cells[cell], &end);
    if (*end || !isfinite(value)) refuse(in, "not a number");
    return value;
}

static void *grown(void *items, size_t count, size_t size)
{
    void *more = realloc(items, count * size);
    if (!more) abort();
    return more;
}

static open_well *named(const csv *in, open_wells *wells)
{
    for (size_t i = 0; i < wells->count; ++i)
        if (strcmp(wells->items[i].name, in->cells[0]) == 0) return &wells->items[i];
    refuse(in, "a well that wells.csv does not have");
    return NULL;
}

static void read_wells(const char *folder, open_wells *out)
{
    char path[1024];
    csv in = open_csv(path, sizeof path, folder, "wells.csv", 12);
    while (next_row(&in)) {
        out->items = grown(out->items, out->count + 1, sizeof *out->items);
        open_well *well = &out->items[out->count++];
        *well = (open_well){.rig_floor_m = number(&in, 4),
                            .water_depth_m = number(&in, 5),
                            .total_depth_m = number(&in, 6),
                            .last_hole_in = number(&in, 7),
                            .latitude_deg = number(&in, 10),
                            .longitude_deg = number(&in, 11)};
        snprintf(well->name, sizeof well->name, "%s", in.cells[0]);
        well->floats =
            strncmp(in.cells[3], "semisub", 7) == 0 || strncmp(in.cells[3], "vessel", 6) == 0;
    }
    fclose(in.file);
}

static void read_strings(const char *folder, open_wells *wells)
{
    char path[1024];
    csv in = open_csv(path, sizeof path, folder, "strings.csv", 6);
    while (next_row(&in)) {
        open_well *well = named(&in, wells);
        if (well->string_count == OPEN_MOST_STRINGS) refuse(&in, "too many strings");
        open_string *s = &well->strings[well->string_count++];
        *s = (open_string){.od_in = number(&in, 2),
                           .hole_in = number(&in, 3),
                           .shoe_m = number(&in, 4),
                           .leak_off_sg = number(&in, 5)};
        snprintf(s->type, sizeof s->type, "%s", in.cells[1]);
        if (!isfinite(s->od_in + s->hole_in + s->shoe_m)) refuse(&in, "a size is missing");
    }
    fclose(in.file);
}

static void read_muds(const char *folder, open_wells *wells)
{
    char path[1024];
    csv in = open_csv(path, sizeof path, folder, "muds.csv", 3);
    while (next_row(&in)) {
        open_well *well = named(&in, wells);
        well->muds = grown(well->muds, well->mud_count + 1, sizeof *well->muds);
        well->muds[well->mud_count++] = (open_mud){number(&in, 1), number(&in, 2)};
        const open_mud *mud = &well->muds[well->mud_count - 1];
        if (well->mud_count > 1 && mud->depth_m < mud[-1].depth_m) refuse(&in, "not by depth");
    }
    fclose(in.file);
}

open_wells open_wells_read(const char *folder)
{
    open_wells wells = {0};
    read_wells(folder, &wells);
    read_strings(folder, &wells);
    read_muds(folder, &wells);
    return wells;
}

void open_wells_free(open_wells *wells)
{
    for (size_t i = 0; i < wells->count; ++i)
        free(wells->items[i].muds);
    free(wells->items);
    *wells = (open_wells){0};
}

bool open_last_hole(const open_well *well)
{
    const double last_m = well->strings[well->string_count - 1].shoe_m;
    return isfinite(well->last_hole_in) || well->total_depth_m - last_m > POCKET_M;
}

double open_objective_m(const open_well *well)
{
    return open_last_hole(well) ? well->total_depth_m
                                : well->strings[well->string_count - 1].shoe_m;
}

double open_least_margin_sg(const open_well *well)
{
    double least = INFINITY;
    for (size_t i = 0; i < well->string_count; ++i) {
        const open_string *s = &well->strings[i];
        const double end_m = i + 1 < well->string_count ? s[1].shoe_m : INFINITY;
        if (!isfinite(s->leak_off_sg)) continue;
        for (size_t k = 0; k < well->mud_count; ++k) {
            const open_mud *mud = &well->muds[k];
            if (mud->depth_m <= s->shoe_m || mud->depth_m > end_m) continue;
            least = fmin(least, s->leak_off_sg - mud->mud_sg);
        }
    }
    return least;
}
