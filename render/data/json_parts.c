/* SPDX-License-Identifier: MIT */
#include "json_parts.h"

#include <math.h>

#include "text.h"

/*
 * Numbers are written with 15 significant digits: a decimal that was read comes out as it
 * went in, and nothing is rounded that anybody could measure.
 */
#define DIGITS 15

static void give_up(json_t **tree)
{
    json_decref(*tree);
    *tree = NULL;
}

void dt_json_put_new(json_t **object, const char *key, json_t *value)
{
    /* without an object or a value, jansson frees the other and says so */
    if (json_object_set_new(*object, key, value) != 0) give_up(object);
}

void dt_json_append(json_t **list, json_t *value)
{
    if (json_array_append_new(*list, value) != 0) give_up(list);
}

void dt_json_put(json_t **object, const char *key, double value)
{
    if (isfinite(value)) dt_json_put_new(object, key, json_real(value));
}

void dt_json_put_count(json_t **object, const char *key, size_t count)
{
    dt_json_put_new(object, key, json_integer((json_int_t)count));
}

void dt_json_put_text(json_t **object, const char *key, const char *text)
{
    /* json_string refuses what is not UTF-8; the readers have refused it before. */
    if (text) dt_json_put_new(object, key, json_string(text));
}

static int write_bytes(const char *bytes, size_t size, void *buffer)
{
    dt_buffer_bytes(buffer, bytes, size);
    return 0;
}

/*
 * Into a buffer of ours, which remembers a failure: json_dumps() of jansson 2.14 goes on when
 * there was no memory for a key, and hands out a text without it.
 */
dt_status dt_json_take(json_t *root, size_t indent, dt_text *out)
{
    dt_buffer buffer = {0};
    size_t flags = JSON_INDENT(indent) | JSON_REAL_PRECISION(DIGITS);
    int bad = root ? json_dump_callback(root, write_bytes, &buffer, flags) : -1;
    json_decref(root);
    dt_buffer_text(&buffer, "\n");
    if (bad == 0) return dt_buffer_take(&buffer, out);
    dt_buffer_free(&buffer);
    return DT_E_MEMORY;
}
