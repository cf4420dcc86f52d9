/* SPDX-License-Identifier: MIT */
#include "basis.h"

#include <math.h>

extern const dt_basis dt_compiled_basis; /* of planner/well/basis/built-in.xml */

const dt_basis *dt_basis_built_in(void)
{
    return &dt_compiled_basis;
}

const dt_basis *dt_basis_of(const dt_well *well)
{
    return well && well->basis ? well->basis : &dt_compiled_basis;
}

double dt_custom_value_of(const dt_well *well, dt_custom custom)
{
    return dt_basis_of(well)->values[custom].si;
}

double dt_custom_or(const dt_well *well, double stated, dt_custom custom)
{
    return isnan(stated) ? dt_custom_value_of(well, custom) : stated;
}

dt_margin dt_custom_margin(const dt_well *well, dt_custom custom)
{
    const dt_custom_value *value = &dt_basis_of(well)->values[custom];
    dt_margin margin = {0};
    *(value->pressure ? &margin.pressure_pa : &margin.emw_kgm3) = value->si;
    return margin;
}

int dt_custom_word(const dt_well *well, dt_custom custom)
{
    return (int)dt_basis_of(well)->values[custom].si;
}

const char *dt_custom_text(const dt_well *well, dt_custom custom)
{
    return dt_basis_of(well)->values[custom].text;
}

const char *dt_custom_source(const dt_well *well, dt_custom custom)
{
    return dt_basis_of(well)->values[custom].source;
}

const void *dt_custom_rows(const dt_well *well, dt_custom_table table, size_t *count)
{
    const dt_table_value *value = &dt_basis_of(well)->tables[table];
    *count = value->count;
    return value->rows;
}
