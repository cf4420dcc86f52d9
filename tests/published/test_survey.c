/* SPDX-License-Identifier: MIT */
/* Minimum curvature against a published course. */
#include "cited.h"
#include "table.h"
#include "trajectory.h"
#include "units.h"

static const cited course = {CITED_READ,
                             "drillingformulas.com, Minimum curvature method (survey.csv)"};

static void course_as_published(void **state)
{
    const table_row *row = *state;
    const double deg = acos(-1) / 180;
    double tvd = NAN, north = NAN, east = NAN, dogleg = NAN, ratio = NAN;
    dt_minimum_curvature((table_number(row, 4) - table_number(row, 1)) * DT_M_PER_FT,
                         table_number(row, 2) * deg, table_number(row, 3) * deg,
                         table_number(row, 5) * deg, table_number(row, 6) * deg, &tvd, &north,
                         &east, &dogleg, &ratio);
    assert_cited(&course, "north", "ft", north / DT_M_PER_FT, table_number(row, 7), 0.005);
    assert_cited(&course, "east", "ft", east / DT_M_PER_FT, table_number(row, 8), 0.005);
    assert_cited(&course, "TVD", "ft", tvd / DT_M_PER_FT, table_number(row, 9), 0.005);
    assert_cited(&course, "dogleg", "rad", dogleg, table_number(row, 10), 0.000005);
    assert_cited(&course, "ratio factor", "", ratio, table_number(row, 11), 0.000005);
}

int main(void)
{
    size_t count = 0;
    table_row *rows = table_read("survey.csv", &count);
    for (size_t i = 0; i < count; ++i)
        snprintf(rows[i].name, sizeof rows[i].name, "%s", rows[i].cells[0]);
    int failed = table_run("survey", rows, count, course_as_published);
    free(rows);
    return failed;
}
