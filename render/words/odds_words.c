/* SPDX-License-Identifier: MIT */
#include "odds_words.h"

#include <stdio.h>

#include "sentence.h"

void dt_odds_input_words(const dt_program *program, const dt_odds_input *input, dt_display display,
                         char *buffer, size_t size)
{
    static const char *const tables[] = {[DT_INPUT_PORE] = "pore pressure",
                                         [DT_INPUT_FRACTURE] = "fracture gradient",
                                         [DT_INPUT_COLLAPSE] = "collapse gradient"};
    if (input->kind == DT_INPUT_INTERVAL)
        snprintf(buffer, size, "top of %.60s", program->well->intervals[input->index].name);
    else if (input->kind == DT_INPUT_FRESH_WATER)
        snprintf(buffer, size, "deepest fresh water");
    else if (input->whole_table)
        snprintf(buffer, size, "method of the fracture gradient");
    else
        snprintf(buffer, size, "%s at %s", tables[input->kind],
                 show(display, DT_KIND_LENGTH, input->tvd_m).text);
}
