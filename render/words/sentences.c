/* SPDX-License-Identifier: MIT */
/* Notices and refusals as texts of their own. */
#include <drawtube/draw.h>
#include <string.h>

#include "change_words.h"
#include "notice_words.h"
#include "text.h"

/** Hands malloc'ed words over as a text; NULL makes an empty one. */
static dt_status hand_over(char *words, dt_text *out)
{
    dt_buffer empty = {0};
    if (!words) return dt_buffer_take(&empty, out);
    *out = (dt_text){words, strlen(words)};
    return DT_OK;
}

dt_status dt_notice_text(const dt_notice *notice, dt_display display, dt_text *out)
{
    char *words = NULL;
    const dt_status status = dt_notice_words(notice, display, &words);
    return status == DT_OK ? hand_over(words, out) : status;
}

dt_status dt_change_text(const dt_changes *changes, size_t index, dt_display display, dt_text *out)
{
    char *words = NULL;
    if (index >= changes->count) return DT_E_DOMAIN;
    const dt_status status = dt_change_words(changes, index, display, &words);
    return status == DT_OK ? hand_over(words, out) : status;
}

dt_status dt_refusal_text(const dt_refusal *refusal, dt_display display, dt_text *out)
{
    char *words = NULL;
    const dt_status status = refusal ? dt_refusal_words(refusal, display, &words) : DT_OK;
    return status == DT_OK ? hand_over(words, out) : status;
}
