/* SPDX-License-Identifier: MIT */
#include "odds_words.h"

#include <stdio.h>
#include <string.h>

#include "same.h"
#include "sentence.h"

const char *dt_odds_stage_words(dt_stage stage)
{
    static const char *const words[] = {[DT_STAGE_STRENGTH] = "casing does not hold",
                                        [DT_STAGE_RUNNING] = "casing cannot be run",
                                        [DT_STAGE_CEMENT] = "cement job cannot be done"};
    return words[stage];
}

const char *dt_odds_cause_words(const dt_odds_cause *cause)
{
    static const struct {
        const char *code, *words;
    } stops[] = {{"surge", "surge exceeds the fracture pressure"},
                 {"cement-breaks-formation", "cementing exceeds the fracture pressure"},
                 {"slurry-lighter-than-mud", "slurry no heavier than the mud"},
                 {"test-over-yield", "test over the internal yield"},
                 {"cement-too-slow", "slurry thickens too soon"},
                 {"rig-overloaded", "over the rig's load"},
                 {"drag-holds-string", "drag holds the string"}};
    for (int i = 0; cause->stage == DT_STAGE_STRENGTH && i < DT_LOAD_COUNT; ++i)
        if (strcmp(dt_load_code((dt_load)i), cause->code) == 0) return dt_load_words((dt_load)i);
    for (size_t i = 0; i < COUNT_OF(stops); ++i)
        if (strcmp(stops[i].code, cause->code) == 0) return stops[i].words;
    return cause->code;
}

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
