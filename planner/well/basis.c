/* SPDX-License-Identifier: MIT */
#include "basis.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The files of planner/well/basis, the built-in one first; NULL ends them. */
extern const dt_basis *const dt_compiled_bases[];

/* The built-in basis says all, so that stacking it is to begin anew. */
#define BARE "bare"

const dt_basis *dt_basis_built_in(void)
{
    return dt_compiled_bases[0];
}

const dt_basis *dt_basis_of(const dt_well *well)
{
    return well && well->basis ? well->basis : dt_compiled_bases[0];
}

const dt_basis *dt_basis_shipped(const char *name)
{
    if (strcmp(name, BARE) == 0) return dt_compiled_bases[0];
    for (const dt_basis *const *at = dt_compiled_bases + 1; *at; ++at)
        if (strcmp((*at)->name, name) == 0) return *at;
    return NULL;
}

const char *dt_basis_shipped_name(size_t index)
{
    if (index == 0) return BARE;
    const dt_basis *const *at = dt_compiled_bases + 1;
    for (size_t i = 1; i < index && *at; ++i)
        ++at;
    return *at ? (*at)->name : NULL;
}

const char *dt_basis_name(const dt_basis *basis)
{
    return basis->name;
}

void dt_basis_close(dt_basis *basis)
{
    dt_basis_free(basis);
}

size_t dt_basis_list(const char *names, const dt_basis **layers, char unknown[64])
{
    size_t count = 0;
    unknown[0] = '\0';
    for (const char *at = names; *at;) {
        at += strspn(at, " \t\r\n");
        const size_t size = strcspn(at, " \t\r\n");
        char name[64];
        if (size == 0) break;
        snprintf(name, sizeof name, "%.*s", (int)(size < 63 ? size : 63), at);
        at += size;
        const dt_basis *basis = size < sizeof name ? dt_basis_shipped(name) : NULL;
        if (!basis) {
            if (!*unknown) memcpy(unknown, name, sizeof name);
            continue;
        }
        if (count < DT_BASIS_MOST_LAYERS) layers[count] = basis;
        ++count;
    }
    return count;
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

void dt_custom_origin(const dt_well *well, int value, const char **file, const char **source)
{
    const dt_basis *basis = dt_basis_of(well);
    const bool column = value >= DT_CUSTOM_COUNT;
    const dt_custom_column at = (dt_custom_column)(column ? value - DT_CUSTOM_COUNT : 0);
    const int layer =
        column ? basis->tables[dt_column_about(at)->table].layer : basis->values[value].layer;
    *file = basis->layers[layer].name;
    *source = column ? basis->column_sources[at] : basis->values[value].source;
}

const void *dt_custom_rows(const dt_well *well, dt_custom_table table, size_t *count)
{
    const dt_table_value *value = &dt_basis_of(well)->tables[table];
    *count = value->count;
    return value->rows;
}
