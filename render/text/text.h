/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_TEXT_H
#define DRAWTUBE_RENDER_TEXT_H

#include <stdbool.h>
#include <stddef.h>

#include <drawtube/base.h>

/*
 * Private to render/: a growing byte buffer with a sticky failure, so that a writer can
 * write on and ask once at the end.
 */

typedef struct dt_buffer {
    char *bytes; /* NUL-terminated once anything was written; owned */
    size_t size, capacity;
    bool failed; /* memory ran out; what was written so far is incomplete */
} dt_buffer;

void dt_buffer_bytes(dt_buffer *buffer, const char *bytes, size_t count);
void dt_buffer_text(dt_buffer *buffer, const char *text);

/** A number in as few characters as it needs, at most `decimals` (0 to 6) after the point. */
void dt_buffer_number(dt_buffer *buffer, double value, int decimals);

/** Frees what the buffer holds and empties it. */
void dt_buffer_free(dt_buffer *buffer);

/** Hands the bytes over to *out. DT_E_MEMORY (buffer freed, *out untouched) after a failure. */
dt_status dt_buffer_take(dt_buffer *buffer, dt_text *out);

/**
 * Short decimal text of a finite number: no exponent, no trailing zero, no "-0", point '.'
 * whatever the locale. Returns the length. `out` holds at least DT_NUMBER_SIZE bytes.
 */
#define DT_NUMBER_SIZE 32
size_t dt_number_text(double value, int decimals, char *out);

/**
 * Copies text with everything left out that XML 1.0 cannot carry or a drawing cannot show:
 * control characters, bytes that are not UTF-8 (each becomes U+FFFD), non-characters. White
 * space of any kind becomes one space. DT_OK with *out malloc'ed, owned by the caller.
 */
dt_status dt_text_clean(const char *text, char **out);

/** Length in bytes of the UTF-8 character at text, and its code point; 1 and U+FFFD if bad. */
size_t dt_utf8_next(const char *text, unsigned *code_point);

#endif
