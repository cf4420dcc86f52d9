/* SPDX-License-Identifier: MIT */
#include "text.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static bool buffer_reserve(dt_buffer *buffer, size_t more)
{
    if (buffer->failed) return false;
    if (more >= SIZE_MAX / 4 || buffer->size >= SIZE_MAX / 4) {
        buffer->failed = true;
        return false;
    }
    size_t need = buffer->size + more + 1;
    if (need <= buffer->capacity) return true;
    size_t capacity = buffer->capacity ? buffer->capacity : 64;
    while (capacity < need)
        capacity *= 2;
    char *grown = realloc(buffer->bytes, capacity);
    if (!grown) {
        buffer->failed = true;
        return false;
    }
    buffer->bytes = grown;
    buffer->capacity = capacity;
    return true;
}

void dt_buffer_bytes(dt_buffer *buffer, const char *bytes, size_t count)
{
    if (!buffer_reserve(buffer, count)) return;
    if (count) memcpy(buffer->bytes + buffer->size, bytes, count);
    buffer->size += count;
    buffer->bytes[buffer->size] = '\0';
}

void dt_buffer_text(dt_buffer *buffer, const char *text)
{
    dt_buffer_bytes(buffer, text, strlen(text));
}

size_t dt_number_text(double value, int decimals, char *out)
{
    static const double powers[] = {1, 10, 100, 1e3, 1e4, 1e5, 1e6};
    double scaled = round(fabs(value) * powers[decimals]);
    if (!(scaled < 9e15)) scaled = 9e15; /* far outside any page; keeps the conversion defined */
    unsigned long long digits = (unsigned long long)scaled;
    while (decimals > 0 && digits % 10 == 0) {
        digits /= 10;
        --decimals;
    }
    char reversed[DT_NUMBER_SIZE];
    size_t count = 0;
    bool negative = value < 0 && digits != 0;
    for (int place = 0; digits || place <= decimals; ++place, digits /= 10) {
        if (place == decimals && place > 0) reversed[count++] = '.';
        reversed[count++] = (char)('0' + digits % 10);
    }
    size_t length = 0;
    if (negative) out[length++] = '-';
    while (count)
        out[length++] = reversed[--count];
    out[length] = '\0';
    return length;
}

void dt_buffer_number(dt_buffer *buffer, double value, int decimals)
{
    char text[DT_NUMBER_SIZE];
    dt_buffer_bytes(buffer, text, dt_number_text(value, decimals, text));
}

void dt_buffer_free(dt_buffer *buffer)
{
    free(buffer->bytes);
    *buffer = (dt_buffer){0};
}

dt_status dt_buffer_take(dt_buffer *buffer, dt_text *out)
{
    dt_buffer_bytes(buffer, "", 0); /* even an empty text is NUL-terminated */
    if (buffer->failed) {
        dt_buffer_free(buffer);
        return DT_E_MEMORY;
    }
    *out = (dt_text){.bytes = buffer->bytes, .size = buffer->size};
    *buffer = (dt_buffer){0};
    return DT_OK;
}

/* Well-formed sequences only: Unicode standard, table 3-7 (no overlong forms, no surrogates). */
size_t dt_utf8_next(const char *text, unsigned *code_point)
{
    const unsigned char *s = (const unsigned char *)text;
    *code_point = 0xFFFD;
    if (s[0] < 0x80) {
        *code_point = s[0];
        return 1;
    }
    size_t length = s[0] >= 0xC2 && s[0] <= 0xDF   ? 2
                    : s[0] >= 0xE0 && s[0] <= 0xEF ? 3
                    : s[0] >= 0xF0 && s[0] <= 0xF4 ? 4
                                                   : 1;
    if (length == 1) return 1;
    unsigned value = s[0] & (0x7Fu >> length);
    for (size_t i = 1; i < length; ++i) {
        if ((s[i] & 0xC0) != 0x80) return 1;
        value = value << 6 | (s[i] & 0x3Fu);
    }
    static const unsigned least[] = {0, 0, 0x80, 0x800, 0x10000};
    if (value < least[length] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return 1;
    *code_point = value;
    return length;
}

static bool is_space(unsigned code_point)
{
    return code_point == ' ' || (code_point >= 9 && code_point <= 13) || code_point == 0x85 ||
           code_point == 0xA0 || code_point == 0x2028 || code_point == 0x2029;
}

/** Controls, marks that turn or hide text (bidirectional overrides), and non-characters. */
static bool is_dropped(unsigned code_point)
{
    return code_point < 0x20 || (code_point >= 0x7F && code_point <= 0x9F) ||
           (code_point & 0xFFFE) == 0xFFFE || (code_point >= 0xFDD0 && code_point <= 0xFDEF) ||
           (code_point >= 0x202A && code_point <= 0x202E) ||
           (code_point >= 0x2066 && code_point <= 0x2069) || code_point == 0xFEFF;
}

dt_status dt_text_clean(const char *text, char **out)
{
    dt_buffer clean = {0};
    bool space = false;
    while (*text) {
        unsigned code_point;
        size_t length = dt_utf8_next(text, &code_point);
        if (is_space(code_point)) {
            space = clean.size > 0;
        } else if (!is_dropped(code_point)) {
            if (space) dt_buffer_text(&clean, " ");
            space = false;
            if (length == 1 && code_point == 0xFFFD)
                dt_buffer_text(&clean, "\xEF\xBF\xBD");
            else
                dt_buffer_bytes(&clean, text, length);
        }
        text += length;
    }
    dt_text result;
    dt_status status = dt_buffer_take(&clean, &result);
    if (status == DT_OK) *out = result.bytes;
    return status;
}
