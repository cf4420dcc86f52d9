/* SPDX-License-Identifier: MIT */
/* Reports, wells and catalogues as handles. */
#include <stdlib.h>
#include <string.h>

#include "library.h"
#include "well.h"

void dt_text_take(char *bytes, dt_text *out)
{
    *out = (dt_text){bytes, strlen(bytes)};
}

/* ---- findings ---- */

dt_status dt_report_open(const char *file, dt_report **out)
{
    dt_report *report = calloc(1, sizeof *report);
    if (!report) return DT_E_MEMORY;
    dt_status status = dt_report_init(report, file);
    if (status == DT_OK)
        *out = report;
    else
        free(report);
    return status;
}

void dt_report_close(dt_report *report)
{
    dt_report_free(report);
    free(report);
}

size_t dt_report_count(const dt_report *report)
{
    return report->count;
}

size_t dt_report_found(const dt_report *report)
{
    return report->count + report->left_out;
}

size_t dt_report_errors(const dt_report *report)
{
    return report->errors;
}

dt_status dt_report_finding(const dt_report *report, size_t index, dt_finding_view *out)
{
    if (index >= report->count) return DT_E_DOMAIN;
    const dt_finding *finding = &report->items[index];
    *out = (dt_finding_view){.number = (int)finding->id,
                             .severity = finding->severity,
                             .line = finding->line,
                             .where = finding->where,
                             .text = finding->text,
                             .fix = dt_finding_fix(finding)};
    return DT_OK;
}

dt_status dt_report_line(const dt_report *report, size_t index, dt_text *out)
{
    char *line = NULL;
    if (index >= report->count) return DT_E_DOMAIN;
    dt_status status = dt_finding_line(report, index, &line);
    if (status == DT_OK) dt_text_take(line, out);
    return status;
}

const char *dt_well_name(const dt_well *well)
{
    return well->name;
}

dt_display dt_well_display(const dt_well *well)
{
    return well->display;
}

/* ---- the catalogue ---- */

dt_status dt_catalogue_open(dt_catalogue **out)
{
    dt_catalogue *catalogue = calloc(1, sizeof *catalogue);
    if (!catalogue) return DT_E_MEMORY;
    dt_status status = dt_catalogue_load(catalogue);
    if (status == DT_OK)
        *out = catalogue;
    else
        free(catalogue);
    return status;
}

void dt_catalogue_close(dt_catalogue *catalogue)
{
    if (!catalogue) return;
    dt_catalogue_free(catalogue);
    free(catalogue);
}

size_t dt_catalogue_count(const dt_catalogue *catalogue)
{
    return catalogue->pipe_count;
}

void dt_pipe_show(const dt_pipe *pipe, dt_pipe_view *out)
{
    *out = (dt_pipe_view){.od_m = pipe->od_m,
                          .wall_m = pipe->wall_m,
                          .id_m = pipe->id_m,
                          .weight_kgm = pipe->weight_kgm,
                          .drift_m = pipe->drift_m,
                          .special_drift_m = pipe->special_drift_m,
                          .coupling_od_m = pipe->coupling_od_m,
                          .clearance_coupling_od_m = pipe->clearance_coupling_od_m,
                          .grade = pipe->grade->name,
                          .yield_pa = pipe->grade->yield_pa,
                          .max_yield_pa = pipe->grade->max_yield_pa,
                          .tensile_pa = pipe->grade->tensile_pa,
                          .sour = pipe->grade->sour,
                          .threads = pipe->threads};
}

dt_status dt_catalogue_pipe(const dt_catalogue *catalogue, size_t index, dt_pipe_view *out)
{
    if (index >= catalogue->pipe_count) return DT_E_DOMAIN;
    dt_pipe_show(&catalogue->pipes[index], out);
    return DT_OK;
}

dt_status dt_catalogue_find(const dt_catalogue *catalogue, double od_m, double weight_kgm,
                            const char *grade, dt_pipe_view *out)
{
    const dt_pipe *pipe = dt_pipe_find(catalogue, od_m, weight_kgm, grade);
    if (!pipe) return DT_E_NONE;
    dt_pipe_show(pipe, out);
    return DT_OK;
}
