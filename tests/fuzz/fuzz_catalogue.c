/* SPDX-License-Identifier: MIT */
/* Any bytes as a file of --pipe, --stock or --bits; the header they begin with says which. */
#include <math.h>
#include <stdint.h>

#include "everything.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

typedef dt_status (*change)(dt_catalogue *, const char *, size_t, dt_report *);

static void check_catalogue(const dt_catalogue *c)
{
    MUST(c->pipe_count > 0 && c->bit_count > 0);
    for (size_t i = 0; i < c->pipe_count; ++i) {
        const dt_pipe *pipe = &c->pipes[i];
        MUST(pipe->grade && pipe->threads);
        MUST(isfinite(pipe->od_m) && pipe->id_m > 0 && pipe->id_m < pipe->od_m);
        MUST(isfinite(pipe->weight_kgm) && pipe->weight_kgm > 0);
    }
    for (size_t i = 0; i < c->bit_count; ++i)
        MUST(isfinite(c->bits[i].diameter_m) && c->bits[i].diameter_m > 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    static const change changes[] = {dt_catalogue_extend, dt_catalogue_restrict, dt_catalogue_bits};
    for (size_t i = 0; i < sizeof changes / sizeof *changes; ++i) {
        dt_catalogue catalogue = {0};
        dt_report report = {0};
        MUST(dt_catalogue_load(&catalogue) == DT_OK && dt_report_init(&report, "fuzz") == DT_OK);
        dt_status status = changes[i](&catalogue, (const char *)bytes, size, &report);
        MUST(status == DT_OK || (status == DT_E_INPUT && report.errors > 0));
        for (size_t k = 0; k < report.count; ++k) {
            char *line = NULL;
            MUST(dt_finding_line(&report, k, &line) == DT_OK);
            free(line);
        }
        check_catalogue(&catalogue); /* as it was when the file was refused */
        dt_report_free(&report);
        dt_catalogue_free(&catalogue);
    }
    return 0;
}
