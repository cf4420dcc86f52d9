/* SPDX-License-Identifier: MIT */
#include "failing_memory.h"

#include <jansson.h>
#include <stdlib.h>

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *old, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *old, size_t size);

static size_t calls, fail_at;

void memory_fails_at(size_t call)
{
    calls = 0;
    fail_at = call;
}

size_t memory_calls(void)
{
    return calls;
}

static int fails(void)
{
    return ++calls == fail_at;
}

void *__wrap_malloc(size_t size)
{
    return fails() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    return fails() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *old, size_t size)
{
    return fails() ? NULL : __real_realloc(old, size);
}

void memory_of_json(void)
{
    json_set_alloc_funcs(__wrap_malloc, free);
}
