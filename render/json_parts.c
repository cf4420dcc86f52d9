/* SPDX-License-Identifier: MIT */
#include "json_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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

dt_status dt_json_take(json_t *root, size_t indent, dt_text *out)
{
    size_t flags = JSON_INDENT(indent) | JSON_REAL_PRECISION(DIGITS);
    char *bytes = root ? json_dumps(root, flags) : NULL;
    json_decref(root);
    if (!bytes) return DT_E_MEMORY;
    size_t size = strlen(bytes);
    char *with_newline = realloc(bytes, size + 2);
    if (!with_newline) {
        free(bytes);
        return DT_E_MEMORY;
    }
    memcpy(with_newline + size, "\n", 2);
    *out = (dt_text){with_newline, size + 1};
    return DT_OK;
}
