/* SPDX-License-Identifier: MIT */
/* Notices and refusals as texts. */
#include <drawtube/draw.h>

#include "program.h"
#include "text.h"

/** A text of its own; NULL makes an empty one. */
static dt_status copy(const char *words, dt_text *out)
{
    dt_buffer buffer = {0};
    dt_buffer_text(&buffer, words ? words : "");
    return dt_buffer_take(&buffer, out);
}

dt_status dt_notice_text(const dt_program *program, size_t notice, dt_display display, dt_text *out)
{
    (void)display;
    if (notice >= program->warning_count) return DT_E_DOMAIN;
    return copy(program->warnings[notice].text, out);
}

dt_status dt_refusal_text(const dt_refusal *refusal, dt_display display, dt_text *out)
{
    (void)display;
    return copy(refusal ? refusal->text : NULL, out);
}
