/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_JOBS_H
#define DRAWTUBE_TESTS_JOBS_H

#include <stdio.h>
#include <stdlib.h>

#include "cited.h"
#include "program.h"
#include "told.h"

/* A published job as a well file of tests/jobs/, run through the whole chain. */

typedef struct job_file {
    dt_well *well;
    dt_catalogue catalogue;
    dt_program *program;
} job_file;

static inline void job_open(const char *folder, const char *name, job_file *out)
{
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *in = fopen(path, "rb");
    if (!in) fail_msg("cannot open %s", path);
    static char text[1 << 20];
    size_t size = fread(text, 1, sizeof text, in);
    fclose(in);
    dt_report report;
    assert_int_equal(dt_report_init(&report, name), DT_OK);
    dt_status status = dt_well_parse(text, size, &report, &out->well);
    for (size_t i = 0; i < report.count; ++i)
        print_message("%s:%d: %s\n", name, report.items[i].line, report.items[i].text);
    dt_report_free(&report);
    assert_int_equal(status, DT_OK);
    assert_int_equal(dt_catalogue_load(&out->catalogue), DT_OK);
    dt_refusal refusal = {0};
    status = dt_program_plan(out->well, &out->catalogue, &out->program, &refusal);
    if (status != DT_OK)
        fail_msg("%s: %s", name, told_refusal(&refusal) ? told_refusal(&refusal) : "no memory");
    dt_refusal_free(&refusal);
}

static inline void job_close(job_file *file)
{
    dt_program_free(file->program);
    dt_catalogue_free(&file->catalogue);
    dt_well_free(file->well);
}

/** The last job of a role. */
static inline const dt_job *job_of(const job_file *file, dt_role role)
{
    const dt_job *found = NULL;
    for (size_t i = 0; i < file->program->count; ++i)
        if (file->program->items[i].seat->role == role) found = file->program->items[i].job;
    assert_non_null(found);
    return found;
}

static inline bool job_warns(const job_file *file, const char *code)
{
    for (size_t i = 0; i < file->program->notices.count; ++i)
        if (strcmp(told_code(file->program, i), code) == 0) return true;
    return false;
}

/** Cited within 0.3 %: what print that rounds on the way, and 0.052 for 12/231, leave open. */
#define assert_published(from, quantity, unit, ours, theirs)                                       \
    assert_cited(from, quantity, unit, ours, theirs, 0.003 * fabs((double)(theirs)))

#define FT  DT_M_PER_FT
#define IN  DT_M_PER_IN
#define PSI DT_PA_PER_PSI
#define PPG DT_KGM3_PER_PPG
#define BBL DT_M3_PER_BBL
#define FT3 (FT * FT * FT)
#define LBF DT_N_PER_LBF

#endif
