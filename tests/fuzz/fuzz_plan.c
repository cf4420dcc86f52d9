/* SPDX-License-Identifier: MIT */
/*
 * Any bytes as a well file, read, planned and drawn. libFuzzer:
 *   cmake -S . -B build/fuzz -C .cmake/fuzz.cmake && cmake --build build/fuzz --target fuzz_plan
 *   mkdir -p build/fuzz/found && build/fuzz/tests/fuzz_plan build/fuzz/found wells -max_len=8192
 */
#include <stdint.h>
#include <stdlib.h>

#include "drawtube/drawings.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);
size_t LLVMFuzzerMutate(uint8_t *bytes, size_t size, size_t room);
size_t LLVMFuzzerCustomMutator(uint8_t *bytes, size_t size, size_t room, unsigned seed);

/**
 * Mostly changes one digit of one attribute, so that files stay well files and the planner is
 * reached; one time in eight anything at all.
 */
size_t LLVMFuzzerCustomMutator(uint8_t *bytes, size_t size, size_t room, unsigned seed)
{
    uint32_t r = seed * 2654435761u + 12345u;
    if (size == 0 || r % 8 == 0) return LLVMFuzzerMutate(bytes, size, room);
    for (unsigned changes = 1 + (r >> 8) % 4; changes > 0; --changes) {
        r = r * 1664525u + 1013904223u;
        size_t from = r % size;
        for (size_t i = 0; i < size; ++i) {
            uint8_t *c = &bytes[(from + i) % size];
            if (*c < '0' || *c > '9') continue;
            r = r * 1664525u + 1013904223u;
            *c = (uint8_t)('0' + (r >> 16) % 10);
            break;
        }
    }
    return size;
}

/** Reasons of the program, one wish, and a few drawn wells where the file has spreads. */
static void ask(const dt_program *program)
{
    const dt_odds_options options = {.samples = 4, .seed = 1, .threads = 1};
    dt_odds *odds = NULL;
    dt_why why = {0};
    dt_text text = {0};
    if (dt_why_explain(program, DT_NO_INDEX, DT_DISPLAY_FIELD, &why) != DT_OK) abort();
    if (dt_write_why_json(program, &why, &text) != DT_OK) abort();
    dt_text_free(&text);
    dt_why_free(&why);
    if (program->well->interval_count % 2) return; /* the search in it is slow: for some only */
    dt_status status = dt_odds_run(program, &options, &odds);
    if (status != DT_OK && status != DT_E_NONE) abort();
    if (status == DT_OK && dt_draw_odds(program, odds, DT_DISPLAY_METRIC, &text) != DT_OK) abort();
    if (status == DT_OK) dt_text_free(&text);
    dt_odds_free(odds);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    dt_report report = {0};
    dt_well *well = NULL;
    dt_catalogue catalogue = {0};
    dt_program *program = NULL;
    dt_refusal refusal = {0};
    dt_status status = dt_report_init(&report, "fuzz");
    if (status == DT_OK) status = dt_well_parse((const char *)bytes, size, &report, &well);
    if (status == DT_OK) status = dt_catalogue_load(&catalogue);
    if (status == DT_OK)
        status = dt_program_plan(well, &catalogue, DT_DISPLAY_FIELD, &program, &refusal);
    static dt_status (*const writers[])(const dt_program *, dt_display, dt_text *) = {
        dt_draw_schematic, dt_draw_window, dt_write_program_table};
    for (size_t i = 0; status == DT_OK && i < sizeof writers / sizeof *writers; ++i) {
        dt_text text = {0};
        if (writers[i](program, DT_DISPLAY_FIELD, &text) != DT_OK) abort();
        dt_text_free(&text);
    }
    for (size_t i = 0; status == DT_OK && i < program->count; ++i) {
        dt_text sheet = {0};
        if (dt_draw_string_sheet(program, i, DT_DISPLAY_METRIC, &sheet) != DT_OK) abort();
        dt_text_free(&sheet);
    }
    if (status == DT_OK) ask(program);
    dt_text json = {0};
    if (status == DT_OK && dt_write_program_json(program, &json) != DT_OK) abort();
    dt_text_free(&json);
    dt_program_free(program);
    dt_refusal_free(&refusal);
    dt_catalogue_free(&catalogue);
    dt_well_free(well);
    dt_report_free(&report);
    return 0;
}
