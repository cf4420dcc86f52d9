/* SPDX-License-Identifier: MIT */
#include "trigger_words.h"

#include "units.h"

/** With plain spaces: program.json has these words as well. */
static void say_inches(dt_buffer *out, double diameter_m)
{
    char inches[48];
    dt_inch_text(diameter_m, inches, sizeof inches);
    dt_buffer_text(out, inches);
    dt_buffer_text(out, " in");
}

void dt_trigger_words(const dt_program *program, size_t string, const dt_trigger *trigger,
                      dt_buffer *out)
{
    switch (trigger->left) {
    case DT_LEFT_NONE:
        dt_buffer_text(out, "no string is left to run");
        return;
    case DT_LEFT_SPARE:
        dt_buffer_text(out, "a contingency ");
        say_inches(out, trigger->spare.od_m);
        dt_buffer_text(out, " liner in ");
        say_inches(out, trigger->spare.hole_m);
        dt_buffer_text(out, " hole");
        return;
    case DT_LEFT_EARLY:
        break;
    }
    dt_buffer_text(out, "the ");
    say_inches(out, program->items[string].od_m);
    dt_buffer_text(out, ", and last a ");
    say_inches(out, trigger->spare.od_m);
    dt_buffer_text(out, " liner");
    if (!trigger->slim) return;
    dt_buffer_text(out, " (");
    say_inches(out, program->well->min_pipe_od_m);
    dt_buffer_text(out, " is needed)");
}
