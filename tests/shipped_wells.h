/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_SHIPPED_WELLS_H
#define DRAWTUBE_TESTS_SHIPPED_WELLS_H

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "program.h"

/* Reads and plans all well files of wells, in the order of their names. */

#define MOST_SHIPPED 64

#ifndef DT_FULL_SPEED
#define DT_FULL_SPEED 0
#endif

/** Its options are many: at full speed alone. */
static inline bool shipped_left_out(const char *name)
{
    return !DT_FULL_SPEED && strcmp(name, "quillfen-lateral.xml") == 0;
}

typedef struct shipped {
    char path[512];
    char name[256];
} shipped;

static inline int shipped_by_name(const void *a, const void *b)
{
    return strcmp(((const shipped *)a)->name, ((const shipped *)b)->name);
}

static inline size_t shipped_wells(shipped *out)
{
    size_t count = 0;
    DIR *folder = opendir(DT_WELLS);
    assert_non_null(folder);
    for (struct dirent *entry = readdir(folder); entry; entry = readdir(folder)) {
        size_t length = strlen(entry->d_name);
        if (length < 5 || strcmp(entry->d_name + length - 4, ".xml") != 0) continue;
        if (shipped_left_out(entry->d_name)) continue;
        assert_true(count < MOST_SHIPPED);
        snprintf(out[count].path, sizeof out[count].path, "%s/%s", DT_WELLS, entry->d_name);
        snprintf(out[count].name, sizeof out[count].name, "%s", entry->d_name);
        ++count;
    }
    closedir(folder);
    qsort(out, count, sizeof *out, shipped_by_name);
    return count;
}

static inline char *shipped_read(const char *path, size_t *size)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *bytes = malloc(DT_WELL_MAX_BYTES);
    assert_non_null(bytes);
    *size = fread(bytes, 1, DT_WELL_MAX_BYTES, file);
    fclose(file);
    return bytes;
}

static inline dt_well *shipped_parse(const char *path)
{
    size_t size = 0;
    char *bytes = shipped_read(path, &size);
    dt_report report;
    dt_well *well = NULL;
    assert_int_equal(dt_report_init(&report, path), DT_OK);
    if (dt_well_parse(bytes, size, &report, &well) != DT_OK) {
        for (size_t i = 0; i < report.count; ++i)
            printf("%s:%d: %s\n", path, report.items[i].line, report.items[i].text);
        fail_msg("%s is refused", path);
    }
    free(bytes);
    dt_report_free(&report);
    return well;
}

#endif
