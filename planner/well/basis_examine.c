/* SPDX-License-Identifier: MIT */
/* What the values of a basis mean together. The build holds the shipped bases against this too, so
 * it leans on no basis itself. Limits that depend on a well (a least kick tolerance that is more
 * than any hole holds) are the business of the stages that know the well. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "basis.h"

typedef struct examination {
    const dt_basis *basis;
    dt_basis_problem problem;
    void *context;
} examination;

static void tell(const examination *x, int line, const char *where, const char *problem)
{
    x->problem(x->context, line, where, problem);
}

static int line_of(const examination *x, dt_custom custom)
{
    return x->basis->values[custom].line;
}

static double value_of(const examination *x, dt_custom custom)
{
    return x->basis->values[custom].si;
}

/** A tolerance is looked at with the row of its hole: it must be more than what is a stopper. */
static void examine_kicks(const examination *x)
{
    const dt_table_value *table = &x->basis->tables[DT_TABLE_KICK_ROWS];
    const dt_kick_row *rows = table->rows;
    for (size_t i = 0; i < table->count; ++i) {
        if (rows[i].least_m3 > rows[i].minimum_m3)
            tell(x, rows[i].line, "kick_tolerance/hole/@least",
                 "is more than minimum: what stops a plan is less than what asks for a review");
        if (!(rows[i].collar_od_m >= rows[i].pipe_od_m))
            tell(x, rows[i].line, "kick_tolerance/hole/@collars",
                 "is thinner than the drill pipe of its row");
        if (!(rows[i].up_to_m > rows[i].collar_od_m))
            tell(x, rows[i].line, "kick_tolerance/hole/@collars",
                 "does not go into the hole of its row");
    }
}

/** The largest hole or pipe that there is has a row. */
static void examine_reach(const examination *x)
{
    static const struct {
        dt_custom_table table;
        const char *where;
    } all[] = {{DT_TABLE_KICK_ROWS, "kick_tolerance/hole/@up_to"},
               {DT_TABLE_CLEARANCES, "sizes/clearance/@up_to_od"},
               {DT_TABLE_CIRCULATING, "margins/circulating/@up_to"},
               {DT_TABLE_OPEN_HOLES, "seats/open_hole/@up_to"},
               {DT_TABLE_DRILLING_SPEEDS, "times/drilling/@up_to"},
               {DT_TABLE_CASING_SPEEDS, "times/casing/@up_to"}};
    for (size_t i = 0; i < sizeof all / sizeof *all; ++i) {
        const dt_table_row *about = dt_table_about(all[i].table);
        const dt_table_value *table = &x->basis->tables[all[i].table];
        if (table->count == 0) continue;
        const char *last = (const char *)table->rows + (table->count - 1) * about->size;
        double up_to_m = NAN; /* the first column, which is the first member */
        int line = 0;
        memcpy(&up_to_m, last, sizeof up_to_m);
        memcpy(&line, last + about->line_offset, sizeof line);
        if (!(up_to_m >= 36 * DT_M_PER_IN))
            tell(x, line, all[i].where, "of the last row is below 36 in: larger ones have no row");
    }
}

static void examine_surface(const examination *x)
{
    const dt_table_value *table = &x->basis->tables[DT_TABLE_SURFACE_ROWS];
    const dt_surface_custom *rows = table->rows;
    for (size_t i = 0; i < table->count; ++i)
        if (rows[i].least_m > rows[i].most_m)
            tell(x, rows[i].line, "seats/surface/@least", "is more than most");
}

static void examine_roles(const examination *x)
{
    const dt_table_value *table = &x->basis->tables[DT_TABLE_CEMENTING_ROLES];
    const dt_role_customs *rows = table->rows;
    if (table->count < DT_ROLE_COUNT)
        tell(x, table->count > 0 ? rows[0].line : 0, "cementing/by_role",
             "has no row for one of conductor, surface, intermediate, production");
    for (size_t i = 0; i < table->count; ++i)
        if (rows[i].test == DT_TEST_PRESSURE && isnan(rows[i].test_pressure_pa))
            tell(x, rows[i].line, "cementing/by_role/@test_pressure",
                 "is missing, which test=\"pressure\" needs");
}

static void examine_values(const examination *x)
{
    if (value_of(x, DT_CUSTOM_SEATS_LEAST_LAP) > value_of(x, DT_CUSTOM_SEATS_LAP))
        tell(x, line_of(x, DT_CUSTOM_SEATS_LEAST_LAP), "seats/@least_lap",
             "is more than lap: no liner would have it");
    if (!(value_of(x, DT_CUSTOM_LANDING_ID) < value_of(x, DT_CUSTOM_LANDING_OD)))
        tell(x, line_of(x, DT_CUSTOM_LANDING_ID), "running/@landing_id",
             "is not less than landing_od");
}

void dt_basis_examine(const dt_basis *basis, dt_basis_problem problem, void *context)
{
    const examination x = {basis, problem, context};
    examine_kicks(&x);
    examine_reach(&x);
    examine_surface(&x);
    examine_roles(&x);
    examine_values(&x);
}
