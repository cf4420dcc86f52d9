/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_EDITED_WELL_H
#define DRAWTUBE_TESTS_EDITED_WELL_H

#include "shipped_wells.h"

/* A well file read with a few words changed. */

typedef struct edit {
    const char *from, *to; /* the first `from` becomes `to`; NULL: nothing */
} edit;

/** The text with an edit made; malloc'ed, the one given is freed. */
static inline char *edited_text(char *text, const edit *e)
{
    if (!e->from) return text;
    char *at = strstr(text, e->from);
    if (!at) fail_msg("there is no %s", e->from);
    size_t room = strlen(text) + strlen(e->to) + 1;
    char *out = malloc(room);
    assert_non_null(out);
    snprintf(out, room, "%.*s%s%s", (int)(at - text), text, e->to, at + strlen(e->from));
    free(text);
    return out;
}

/** A file that names no basis stands on the built-in one alone: what is tested is what it states.
 */
static inline char *bare_text(char *text)
{
    static const edit bare = {"xmlns=\"urn:drawtube:well:1\"",
                              "xmlns=\"urn:drawtube:well:1\" basis=\"bare\""};
    return strstr(text, " basis=\"") ? text : edited_text(text, &bare);
}

static inline dt_well *edited_well(const char *path, const edit *edits, size_t count)
{
    size_t size = 0;
    char *bytes = shipped_read(path, &size), *text = realloc(bytes, size + 1);
    assert_non_null(text);
    text[size] = '\0';
    text = bare_text(text);
    for (size_t i = 0; i < count; ++i)
        text = edited_text(text, &edits[i]);
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, path), DT_OK);
    if (dt_well_parse(text, strlen(text), &report, &well) != DT_OK)
        fail_msg("%s: %s", path, report.count ? report.items[0].text : "no memory");
    dt_report_free(&report);
    free(text);
    return well;
}

#endif
