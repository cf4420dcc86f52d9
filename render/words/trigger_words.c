/* SPDX-License-Identifier: MIT */
#include "trigger_words.h"

#include "wording.h"

void dt_trigger_words(const dt_program *program, size_t string, const dt_trigger *trigger,
                      dt_display display, dt_buffer *out)
{
    switch (trigger->left) {
    case DT_LEFT_NONE:
        dt_buffer_text(out, "no string is left to run");
        return;
    case DT_LEFT_SPARE:
        dt_buffer_text(out, "a contingency ");
        dt_say_size(out, display, trigger->spare.od_m);
        dt_buffer_text(out, " liner in ");
        dt_say_size(out, display, trigger->spare.hole_m);
        dt_buffer_text(out, " hole");
        return;
    case DT_LEFT_EARLY:
        break;
    }
    dt_buffer_text(out, "the ");
    dt_say_size(out, display, program->items[string].od_m);
    dt_buffer_text(out, ", and last a ");
    dt_say_size(out, display, trigger->spare.od_m);
    dt_buffer_text(out, " liner");
    if (!trigger->slim) return;
    dt_buffer_text(out, " (");
    dt_say_size(out, display, program->well->min_pipe_od_m);
    dt_buffer_text(out, " is needed)");
}
