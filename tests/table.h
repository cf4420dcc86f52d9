/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_TABLE_H
#define DRAWTUBE_TESTS_TABLE_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"

/* Comma-separated tables of published values: '#' comments, one header line, then rows. */

enum { TABLE_CELLS = 16, TABLE_ROWS = 512 };

typedef struct table_row {
    char name[64]; /* of the test */
    char cells[TABLE_CELLS][32];
} table_row;

static inline void table_split(char *line, table_row *row)
{
    size_t i = 0;
    line[strcspn(line, "\r\n")] = '\0';
    for (char *cell = line; cell && i < TABLE_CELLS; ++i) {
        char *comma = strchr(cell, ',');
        if (comma) *comma = '\0';
        const size_t length = strlen(cell);
        if (length >= sizeof row->cells[i]) {
            fprintf(stderr, "cell too long: %s\n", cell);
            exit(EXIT_FAILURE);
        }
        memcpy(row->cells[i], cell, length + 1);
        cell = comma ? comma + 1 : NULL;
    }
}

/* Reads DT_TESTS/published/NAME; ends the program when it cannot. Rows are owned by the caller. */
static inline table_row *table_read(const char *name, size_t *count)
{
    char path[1024], line[512];
    snprintf(path, sizeof path, "%s/published/%s", DT_TESTS, name);
    FILE *in = fopen(path, "r");
    table_row *rows = calloc(TABLE_ROWS, sizeof *rows);
    if (!in || !rows) {
        perror(path);
        exit(EXIT_FAILURE);
    }
    int header = 1;
    *count = 0;
    while (fgets(line, sizeof line, in)) {
        if (line[0] == '#' || line[0] == '\n') continue;
        if (!header && *count < TABLE_ROWS) table_split(line, &rows[(*count)++]);
        header = 0;
    }
    fclose(in);
    return rows;
}

/** NAN for an empty or unreadable cell. */
static inline double table_number(const table_row *row, size_t cell)
{
    char *end = NULL;
    double value = strtod(row->cells[cell], &end);
    return end == row->cells[cell] || *end ? NAN : value;
}

/** One test a row, named by row->name; no rows is a failure. */
static inline int table_run(const char *group, table_row *rows, size_t count,
                            CMUnitTestFunction test)
{
    struct CMUnitTest *tests = calloc(count + 1, sizeof *tests);
    if (!tests || count == 0) {
        fprintf(stderr, "%s: no rows\n", group);
        free(tests);
        return 1;
    }
    for (size_t i = 0; i < count; ++i)
        tests[i] = (struct CMUnitTest){rows[i].name, test, NULL, NULL, &rows[i]};
    int failed = _cmocka_run_group_tests(group, tests, count, NULL, NULL);
    free(tests);
    return failed;
}

#endif
