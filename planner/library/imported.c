/* SPDX-License-Identifier: MIT */
/* Tables and surveys of other files as a handle. */
#include <stdlib.h>

#include "import.h"
#include "library.h"

dt_status dt_imported_open(dt_import_read read, void *context, const dt_import_request *request,
                           dt_report *report, dt_imported **out)
{
    dt_imported *imported = calloc(1, sizeof *imported);
    if (!imported) return DT_E_MEMORY;
    dt_status status = dt_import(read, context, request, report, imported);
    dt_report_sort(report);
    if (status == DT_OK)
        *out = imported;
    else
        free(imported);
    return status;
}

void dt_imported_close(dt_imported *imported)
{
    if (!imported) return;
    dt_imported_free(imported);
    free(imported);
}

dt_status dt_imported_table(const dt_imported *imported, dt_import_table table,
                            dt_imported_view *out)
{
    const dt_import_curve *curve = &imported->table[table];
    if (!curve->unit) return DT_E_NONE;
    *out = (dt_imported_view){.points = curve->count,
                              .rows = curve->rows,
                              .gaps = curve->gaps,
                              .gap_top = curve->gap_top,
                              .gap_base = curve->gap_base,
                              .depth_unit = curve->depth_unit->symbol,
                              .worst_pa = curve->worst_pa};
    return DT_OK;
}

size_t dt_imported_stations(const dt_imported *imported)
{
    return imported->station_count;
}

const char *dt_imported_north(const dt_imported *imported)
{
    return imported->azimuth_reference;
}

dt_status dt_imported_xml(const dt_imported *imported, const char *well, size_t size, dt_text *out)
{
    char *text = NULL;
    dt_status status =
        well ? dt_import_into(imported, well, size, &text) : dt_import_text(imported, &text);
    if (status == DT_OK) dt_text_take(text, out);
    return status;
}
