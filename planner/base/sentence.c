/* SPDX-License-Identifier: MIT */
#include "sentence.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

static bool make_room(sentence *s, size_t more)
{
    if (s->length + more + 1 <= s->room) return true;
    size_t room = 2 * s->room + more + 64;
    char *bytes = realloc(s->bytes, room);
    if (!bytes) return false;
    s->bytes = bytes;
    s->room = room;
    return true;
}

void say(sentence *s, const char *format, ...)
{
    va_list list, again;
    va_start(list, format);
    va_copy(again, list);
    int need = vsnprintf(NULL, 0, format, list);
    va_end(list);
    if (need < 0 || s->failed || !make_room(s, (size_t)need))
        s->failed = true;
    else
        s->length += (size_t)vsnprintf(s->bytes + s->length, s->room - s->length, format, again);
    va_end(again);
}

dt_status sentence_take(sentence *s, char **out)
{
    if (!s->failed && !s->bytes) say(s, "%s", "");
    if (s->failed) {
        free(s->bytes);
        *s = (sentence){0};
        return DT_E_MEMORY;
    }
    *out = s->bytes;
    *s = (sentence){0};
    return DT_OK;
}

shown show(dt_display display, dt_kind kind, double si)
{
    shown out;
    dt_display_text(display, kind, si, out.text, sizeof out.text);
    return out;
}

shown show_inches(double diameter_m)
{
    shown out;
    dt_inch_text(diameter_m, out.text, sizeof out.text);
    return out;
}

shown show_money(double amount)
{
    char digits[48];
    shown out;
    int length = snprintf(digits, sizeof digits, "%.0f", fabs(amount));
    size_t used = 0;
    if (amount < -0.5) out.text[used++] = '-';
    for (int i = 0; i < length && used + 2 < sizeof out.text; ++i) {
        if (i > 0 && (length - i) % 3 == 0) out.text[used++] = ',';
        out.text[used++] = digits[i];
    }
    out.text[used] = '\0';
    return out;
}

void say_clean(sentence *s, const char *text)
{
    for (; *text; ++text)
        say(s, "%c", (unsigned char)*text < 0x20 || *text == 0x7f ? ' ' : *text);
}
