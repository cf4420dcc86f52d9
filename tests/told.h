/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_TOLD_H
#define DRAWTUBE_TESTS_TOLD_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "notice_words.h"

/* Notices and refusals as a reader gets them, in field units. Each call has its own of a few static
 * buffers, so that two fit into one message. */

static inline char *told_buffer(void)
{
    static char buffers[4][4096];
    static size_t at;
    at = (at + 1) % 4;
    buffers[at][0] = '\0';
    return buffers[at];
}

/** A notice as a sentence. */
static inline const char *told(const dt_notice *notice)
{
    char *buffer = told_buffer(), *text = NULL;
    if (dt_notice_words(notice, DT_DISPLAY_FIELD, &text) != DT_OK) return "(not to be told)";
    snprintf(buffer, 4096, "%s", text);
    free(text);
    return buffer;
}

/** A refusal as a paragraph; NULL when there is none. */
static inline const char *told_refusal(const dt_refusal *refusal)
{
    return refusal->why.count > 0 ? told(&refusal->why.items[0]) : NULL;
}

/** What a notice is about. */
static inline const char *told_where(const dt_program *program, size_t i)
{
    char *buffer = told_buffer();
    dt_notice_where(program, &program->notices.items[i], buffer, 64);
    return buffer;
}

/** Its code and its sentence. */
static inline const char *told_code(const dt_program *program, size_t i)
{
    return dt_notice_code_text(program->notices.items[i].code);
}

static inline const char *told_text(const dt_program *program, size_t i)
{
    return told(&program->notices.items[i]);
}

#endif
