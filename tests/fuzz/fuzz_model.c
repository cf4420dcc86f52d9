/* SPDX-License-Identifier: MIT */
/*
 * Valid wells grown from bytes: planned, drawn, explained, priced, compared.
 * DT_FUZZ_SHOW=1 prints the well of an input, to keep a finding as a well file.
 */
#include <unistd.h>

#include "grown_well.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    size_t length = 0;
    char *text = grow_well(bytes, size, &length);
    if (size > 0 && getenv("DT_FUZZ_SHOW")) { /* libFuzzer begins with an empty input */
        fputs(text, stdout);
        fflush(stdout);
        _exit(0); /* at exit() libFuzzer would complain */
    }
    dt_well *well = read_well(text, length);
    free(text);
    if (!well) return 0;
    /* a wish that is forbidden takes many plans, 20 s here where the command takes one */
    decisions last = decide_from(bytes, size);
    last.left = 0;
    plan_and_ask(well, (questions){.why = true,
                                   .wish = draw_rare(&last, 48),
                                   .odds = draw_rare(&last, 16),
                                   .compare = draw_rare(&last, 32)});
    dt_well_free(well);
    return 0;
}
