/* SPDX-License-Identifier: MIT */
/*
 * Rows as a well file. No pore pressure was recorded: it is read from the mud, which is kept a trip
 * margin above it (common practice, no source). docs/open-wells.md tells the reading.
 */
#include "open_file.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TRIP_SG      0.05
#define SEA_SG       1.025
#define SEA_FLOOR_SG 0.03 /* what the sea floor bears over the water */

typedef struct table {
    FILE *out;
    double end_m, at_m, value_sg; /* last point written */
} table;

static void point(table *t, double depth_m, double value_sg)
{
    fprintf(t->out, "<point depth=\"%.10g\" value=\"%.6f\"/>", depth_m, value_sg);
    t->at_m = depth_m;
    t->value_sg = value_sg;
}

static table start(FILE *out, const char *element, double end_m)
{
    /* Between points pressures are straight. */
    fprintf(out, "<%s depth_unit=\"m\" unit=\"sg\" between=\"pressure\">", element);
    return (table){.out = out, .end_m = end_m};
}

/** The last value holds to the end. */
static void finish(table *t, const char *element)
{
    if (t->at_m < t->end_m) point(t, t->end_m, t->value_sg);
    fprintf(t->out, "</%s>\n", element);
}

/** Sea water's column as a mud weight from the rig floor. */
static double sea_sg(const open_well *well, double depth_m)
{
    return SEA_SG * (depth_m - well->rig_floor_m) / depth_m;
}

static size_t first_tested(const open_well *well)
{
    size_t i = 0;
    while (i < well->string_count && !isfinite(well->strings[i].leak_off_sg))
        ++i;
    return i;
}

/** The readings of one hole: each mud holds from its hole's start or straight from the reading
 * before. */
static void hole_points(table *t, const open_well *well, double top_m, double base_m)
{
    bool any = false;
    for (size_t k = 0; k < well->mud_count; ++k) {
        const open_mud *mud = &well->muds[k];
        if (mud->depth_m <= top_m || mud->depth_m > base_m) continue;
        if (!any) point(t, top_m, mud->mud_sg - TRIP_SG);
        any = true;
        point(t, mud->depth_m, mud->mud_sg - TRIP_SG);
    }
    if (any && t->at_m < base_m) point(t, base_m, t->value_sg);
}

static void write_pore(FILE *out, const open_well *well)
{
    table t = start(out, "pore_pressure", open_objective_m(well));
    const size_t first = first_tested(well);
    const double floor_m = well->rig_floor_m + well->water_depth_m;
    point(&t, floor_m, sea_sg(well, floor_m));
    const double tested_m = well->strings[first].shoe_m;
    point(&t, tested_m, sea_sg(well, tested_m));
    for (size_t i = first; i < well->string_count; ++i) {
        const bool last = i + 1 == well->string_count;
        hole_points(&t, well, well->strings[i].shoe_m,
                    last ? fmax(t.end_m, well->total_depth_m) : well->strings[i + 1].shoe_m);
    }
    finish(&t, "pore_pressure");
}

static void write_fracture(FILE *out, const open_well *well)
{
    table t = start(out, "fracture_gradient", open_objective_m(well));
    const double floor_m = well->rig_floor_m + well->water_depth_m;
    point(&t, floor_m, sea_sg(well, floor_m) + SEA_FLOOR_SG);
    for (size_t i = 0; i < well->string_count; ++i)
        if (isfinite(well->strings[i].leak_off_sg))
            point(&t, well->strings[i].shoe_m, well->strings[i].leak_off_sg);
    finish(&t, "fracture_gradient");
}

static const char *role_of(const open_well *well, size_t i)
{
    const bool last = i + 1 == well->string_count && !open_last_hole(well);
    return i == 0 ? "conductor" : i == 1 ? "surface" : last ? "production" : "intermediate";
}

static void write_pins(FILE *out, const open_well *well)
{
    fputs("<pinned>\n", out);
    for (size_t i = 0; i < well->string_count; ++i) {
        const open_string *s = &well->strings[i];
        const bool liner = i > 1 && strcmp(s->type, "liner") == 0;
        fprintf(out, "<string role=\"%s\"%s shoe=\"%.10g m\" hole=\"%.10g in\" od=\"%.10g in\"/>\n",
                role_of(well, i), liner ? " type=\"liner\"" : "", s->shoe_m, s->hole_in, s->od_in);
    }
    fputs("</pinned>\n", out);
}

static void write_objective(FILE *out, const open_well *well)
{
    const open_string *last = &well->strings[well->string_count - 1];
    fprintf(out, "<objective depth=\"%.10g m\" min_pipe_od=\"%.10g in\"", open_objective_m(well),
            last->od_in);
    if (open_last_hole(well)) {
        fputs(" last=\"open\"", out);
        if (isfinite(well->last_hole_in)) fprintf(out, " hole=\"%.10g in\"", well->last_hole_in);
    }
    fputs("/>\n", out);
}

char *open_file_of(const open_well *well, open_question question, size_t *size)
{
    char *bytes = NULL;
    FILE *out = open_memstream(&bytes, size);
    if (!out) abort();
    fprintf(out, "<well xmlns=\"urn:drawtube:well:1\" name=\"%s\" basis=\"shelf\">\n", well->name);
    fprintf(out, "<datum rig_floor=\"%.10g m\" over=\"sea\" water_depth=\"%.10g m\"%s/>\n",
            well->rig_floor_m, well->water_depth_m,
            well->floats ? " bop=\"seabed\"" : " bop=\"surface\"");
    write_objective(out, well);
    write_pore(out, well);
    write_fracture(out, well);
    fprintf(out, "<margins trip=\"%.10g sg\"", TRIP_SG);
    if (question == OPEN_WITH_KICK) fprintf(out, " kick=\"%.10g sg\"", OPEN_KICK_SG);
    fputs("/>\n", out);
    fprintf(out, "<conductor method=\"drilled\" depth=\"%.10g m\"/>\n", well->strings[0].shoe_m);
    if (question == OPEN_AS_DRILLED) write_pins(out, well);
    fputs("</well>\n", out);
    fclose(out);
    if (!bytes) abort();
    return bytes;
}
