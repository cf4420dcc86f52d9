/* SPDX-License-Identifier: MIT */
/* Two programs: what differs, string by string, for a terminal. */
#include <stdlib.h>
#include <string.h>

#include "change_words.h"
#include "tables.h"
#include "text.h"
#include "wrapped.h"

static void say_side(sentence *s, const char *lead, const dt_program *program)
{
    say(s, "%s", lead);
    say_clean(s, program->well->name);
    const dt_document *document = &program->well->document;
    if (document->revision) {
        say(s, ", revision ");
        say_clean(s, document->revision);
    }
    say(s, ": %zu strings, %.1f t of steel, %.1f days%s\n", dt_program_strings(program),
        program->steel_kg / 1000, program->bill.days,
        dt_program_runnable(program) ? "" : ", NOT RUNNABLE");
}

/** Each change under what it is about; *any: there is one. */
static dt_status say_changes(sentence *s, const dt_changes *c, dt_display display, bool *any)
{
    char about[64] = "";
    for (size_t i = 0; i < c->count; ++i) {
        char where[64], *words = NULL;
        const dt_status status = dt_change_words(c, i, display, &words);
        if (status != DT_OK) return status;
        if (!words) continue;
        dt_change_where(c, i, where, sizeof where);
        if (strcmp(where, about) != 0) say(s, "\n%s\n", where);
        memcpy(about, where, sizeof about);
        const size_t start = s->length;
        say(s, "  %s", words);
        free(words);
        dt_wrap(s, start, 6);
        dt_end_line(s);
        *any = true;
    }
    return DT_OK;
}

dt_status dt_write_changes_text(const dt_changes *changes, dt_display display, dt_text *out)
{
    sentence s = {0};
    bool any = false;
    char *bytes = NULL;
    say_side(&s, "First   ", changes->was);
    say_side(&s, "Second  ", changes->is);
    dt_status status = say_changes(&s, changes, display, &any);
    if (!any) say(&s, "\nNothing differs that is shown.\n");
    say(&s, "\nPreliminary planning aid. Verify pressures and regulations locally; a licensed "
            "engineer\nreviews before anything is run.\n");
    if (status != DT_OK) {
        free(s.bytes);
        return status;
    }
    const size_t size = s.length;
    status = sentence_take(&s, &bytes);
    if (status == DT_OK) *out = (dt_text){bytes, size};
    return status;
}
