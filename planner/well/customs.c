/* SPDX-License-Identifier: MIT */
/* customs.def as tables: what a basis may hold. The values are the basis files'. */
#include "basis.h"

#include <string.h>

static const dt_custom_row customs[DT_CUSTOM_COUNT] = {
#define PLACE_WELL  false
#define PLACE_BASIS true
#define DT_CUSTOM(name, place, element, attribute, form, kind, choices, words)                     \
    [DT_CUSTOM_##name] = {element,        attribute, PLACE_##place, DT_FORM_##form,                \
                          DT_KIND_##kind, choices,   words},
#include "customs.def"
};

static const dt_table_row tables[DT_TABLE_COUNT] = {
#define DT_CUSTOM_TABLE(name, element, row, type, words)                                           \
    [DT_TABLE_##name] = {element, row, false, sizeof(type), offsetof(type, line), #type, words},
#define DT_CUSTOM_SERIES(name, element, row, type, words)                                          \
    [DT_TABLE_##name] = {element, row, true, sizeof(type), offsetof(type, line), #type, words},
#include "customs.def"
};

/* The type of a table's rows under the table's name, for offsetof() in its columns. */
#define DT_CUSTOM_TABLE(name, element, row, type, words)  typedef type rows_of_##name;
#define DT_CUSTOM_SERIES(name, element, row, type, words) typedef type rows_of_##name;
#include "customs.def"

static const dt_column_row columns[DT_COLUMN_COUNT] = {
#define NEED_MUST true
#define NEED_MAY  false
#define DT_CUSTOM_COLUMN(table, name, need, attribute, form, kind, choices, member, words)         \
    [DT_COLUMN_##table##_##name] = {DT_TABLE_##table,                                              \
                                    NEED_##need,                                                   \
                                    attribute,                                                     \
                                    DT_FORM_##form,                                                \
                                    DT_KIND_##kind,                                                \
                                    choices,                                                       \
                                    offsetof(rows_of_##table, member),                             \
                                    #member,                                                       \
                                    words},
#include "customs.def"
};

const dt_custom_row *dt_custom_about(dt_custom custom)
{
    return &customs[custom];
}

dt_custom dt_custom_find(const char *element, const char *attribute)
{
    int i = 0;
    while (i < DT_CUSTOM_COUNT && (strcmp(customs[i].element, element) != 0 ||
                                   strcmp(customs[i].attribute, attribute) != 0))
        ++i;
    return (dt_custom)i;
}

const dt_table_row *dt_table_about(dt_custom_table table)
{
    return &tables[table];
}

const dt_column_row *dt_column_about(dt_custom_column column)
{
    return &columns[column];
}
