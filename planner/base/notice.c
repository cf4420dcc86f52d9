/* SPDX-License-Identifier: MIT */
#include "notice.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *code;
    dt_gravity gravity;
} codes[] = {
#define DT_NOTICE(name, code, severity, between, template) {code, DT_##severity},
#include "notices.def"
#undef DT_NOTICE
};

const char *dt_notice_code_text(dt_notice_code code)
{
    return code < DT_NOTICE_COUNT ? codes[code].code : "";
}

dt_gravity dt_notice_gravity(dt_notice_code code)
{
    return code < DT_NOTICE_COUNT ? codes[code].gravity : DT_REVIEW;
}

const char *dt_gravity_text(dt_gravity gravity)
{
    static const char *const texts[] = {
        [DT_STOPPER] = "stopper", [DT_REVIEW] = "review", [DT_ASSUMED] = "assumed"};
    return texts[gravity];
}

static dt_notice *add_to(dt_notice **items, size_t *count)
{
    dt_notice *bigger = realloc(*items, (*count + 1) * sizeof *bigger);
    if (!bigger) return NULL;
    *items = bigger;
    return &bigger[(*count)++];
}

dt_notice *dt_notice_add(dt_notices *list, dt_notice_code code, size_t string)
{
    dt_notice *notice = add_to(&list->items, &list->count);
    if (notice)
        *notice = (dt_notice){.code = code, .string = string};
    else
        list->failed = true;
    return notice;
}

dt_notice *dt_notice_below(dt_notices *list, dt_notice *above, dt_notice_code code)
{
    if (!above) return NULL;
    dt_notice *notice = add_to(&above->because, &above->because_count);
    if (notice)
        *notice = (dt_notice){.code = code, .string = above->string};
    else
        list->failed = true;
    return notice;
}

void dt_notice_figure(dt_notice *notice, const char *name, dt_kind kind, double si)
{
    if (!notice || !isfinite(si) || notice->figure_count == DT_NOTICE_FIGURES) return;
    notice->figures[notice->figure_count++] = (dt_figure){name, kind, si};
}

void dt_notice_number(dt_notice *notice, const char *name, double number)
{
    dt_notice_figure(notice, name, DT_KIND_COUNT, number);
}

void dt_notice_name(dt_notice *notice, const char *name, const char *text)
{
    if (!notice || !text || notice->name_count == DT_NOTICE_NAMES) return;
    dt_named *named = &notice->names[notice->name_count++];
    named->name = name;
    snprintf(named->text, sizeof named->text, "%s", text);
}

void dt_notice_mark(dt_notice *notice, const char *name, bool holds)
{
    if (holds) dt_notice_name(notice, name, "yes");
}

void dt_notice_took(dt_notice *notice, int value)
{
    if (!notice || notice->taken_count == DT_NOTICE_TAKEN) return;
    notice->taken[notice->taken_count++] = value;
}

const dt_figure *dt_notice_find_figure(const dt_notice *notice, const char *name)
{
    for (size_t i = 0; i < notice->figure_count; ++i)
        if (strcmp(notice->figures[i].name, name) == 0) return &notice->figures[i];
    return NULL;
}

const char *dt_notice_find_name(const dt_notice *notice, const char *name)
{
    for (size_t i = 0; i < notice->name_count; ++i)
        if (strcmp(notice->names[i].name, name) == 0) return notice->names[i].text;
    return NULL;
}

/* Reasons nest three deep at most: a refusal, a rule that collides, the hole that breaks it. */
static void copy_below(dt_notices *list, dt_notice *above, const dt_notice *notice,
                       bool same_strings)
{
    dt_notice *copy = dt_notice_below(list, above, notice->code);
    if (!copy) return;
    *copy = *notice;
    if (!same_strings) copy->string = DT_NO_STRING;
    copy->because = NULL;
    copy->because_count = 0;
    for (size_t i = 0; i < notice->because_count; ++i)
        copy_below(list, copy, &notice->because[i], same_strings);
}

void dt_notice_copy_below(dt_notices *list, dt_notice *above, const dt_notice *notice)
{
    copy_below(list, above, notice, true);
}

void dt_notice_copy_of_other(dt_notices *list, dt_notice *above, const dt_notice *notice)
{
    copy_below(list, above, notice, false);
}

static void free_below(dt_notice *notice)
{
    for (size_t i = 0; i < notice->because_count; ++i)
        free_below(&notice->because[i]);
    free(notice->because);
}

void dt_notices_free(dt_notices *list)
{
    if (!list) return;
    for (size_t i = 0; i < list->count; ++i)
        free_below(&list->items[i]);
    free(list->items);
    *list = (dt_notices){0};
}
