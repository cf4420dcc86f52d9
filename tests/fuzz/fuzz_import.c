/* SPDX-License-Identifier: MIT */
/*
 * Any bytes as an imported file: LAS, CSV or WITSML as they begin. libFuzzer:
 *   cmake -S . -B build/fuzz -C .cmake/fuzz.cmake && cmake --build build/fuzz --target fuzz_import
 *   mkdir -p build/fuzz/found && build/fuzz/tests/fuzz_import build/fuzz/found tests/imports
 * -max_len=8192
 */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "drawtube/import.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

typedef struct input {
    const uint8_t *at;
    size_t left;
} input;

static size_t read_input(void *context, char *bytes, size_t size)
{
    input *in = context;
    size_t count = in->left < size ? in->left : size;
    memcpy(bytes, in->at, count);
    in->at += count;
    in->left -= count;
    return count;
}

static void import_once(const uint8_t *bytes, size_t size, const dt_import_request *request)
{
    input in = {bytes, size};
    dt_report report = {0};
    dt_imported imported = {0};
    if (dt_report_init(&report, "fuzz") != DT_OK) return;
    dt_status status = dt_import(read_input, &in, request, &report, &imported);
    if (status == DT_E_INPUT && report.errors == 0) abort(); /* refused without a reason */
    char *text = NULL;
    if (status == DT_OK && dt_import_text(&imported, &text) != DT_OK) abort();
    free(text);
    dt_imported_free(&imported);
    dt_report_free(&report);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    dt_import_request las = {.tolerance_pa = 1e5}, csv = {.tolerance_pa = 0};
    const dt_import_request survey = {.survey = true};
    las.table[DT_IMPORT_PORE].name = "PP";
    las.table[DT_IMPORT_FRACTURE].name = "FG";
    csv.table[DT_IMPORT_PORE].name = "pore";
    csv.table[DT_IMPORT_OVERBURDEN].name = "frac";
    import_once(bytes, size, &las);
    import_once(bytes, size, &csv);
    import_once(bytes, size, &survey);
    return 0;
}
