/* SPDX-License-Identifier: MIT */
/* A basis file of a user: safe parsing, schema, reading, limits, and whether its values agree. */
#include <libxml/tree.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "basis.h"
#include "well_limits.h"
#include "well_parts.h"

static void tell_wrong(void *context, int line, const char *where, const char *problem)
{
    dt_quoted place = dt_quote(where);
    dt_report_add(context, DT_MSG_BASIS_WRONG, line, place.text, "%s", problem);
}

/* ---- texts: they go into tables, notices and messages ---- */

enum { LONGEST_NAME = 60, LONGEST_SOURCE = 1000 };

static void check_text(dt_report *report, int line, const char *where, const char *text,
                       size_t longest)
{
    if (!text) return;
    if (dt_has_controls(text))
        dt_report_add(report, DT_MSG_NAME_CONTROL, line, where, "\"%s\" holds control characters",
                      dt_quote(text).text);
    else if (strlen(text) > longest)
        dt_report_add(report, DT_MSG_NAME_TOO_LONG, line, where, "\"%s\" has more than %zu bytes",
                      dt_quote(text).text, longest);
}

static void check_source(dt_report *report, int line, const char *element, const char *text)
{
    char where[96];
    snprintf(where, sizeof where, "%s/source", element);
    check_text(report, line, where, text, LONGEST_SOURCE);
}

static void check_names(const dt_basis *basis, const dt_column_row *column, dt_report *report)
{
    const dt_table_row *about = dt_table_about(column->table);
    const dt_table_value *table = &basis->tables[column->table];
    for (size_t k = 0; column->form == DT_FORM_NAME && k < table->count; ++k) {
        const char *row = (const char *)table->rows + k * about->size, *name = NULL;
        int line = 0;
        memcpy(&name, row + column->offset, sizeof name);
        memcpy(&line, row + about->line_offset, sizeof line);
        check_text(report, line, about->row, name, LONGEST_NAME);
    }
}

static int line_of_rows(const dt_basis *basis, dt_custom_table table)
{
    int line = 0;
    if (basis->tables[table].count > 0)
        memcpy(&line, (const char *)basis->tables[table].rows + dt_table_about(table)->line_offset,
               sizeof line);
    return line;
}

static void check_texts(const xmlNode *root, const dt_basis *basis, dt_report *report)
{
    const int line = (int)xmlGetLineNo(root);
    check_text(report, line, "basis/@name", basis->layers[0].name, LONGEST_NAME);
    check_text(report, line, "basis/@as_of", basis->layers[0].as_of, LONGEST_NAME);
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_row *about = dt_custom_about((dt_custom)i);
        const dt_custom_value *value = &basis->values[i];
        check_text(report, value->line, about->element, value->text, LONGEST_NAME);
        check_source(report, value->line, about->element, value->source);
    }
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        const dt_column_row *column = dt_column_about((dt_custom_column)i);
        check_names(basis, column, report);
        check_source(report, line_of_rows(basis, column->table),
                     dt_table_about(column->table)->element, basis->column_sources[i]);
    }
}

/* ---- limits of what only a basis says, by kind; facts of the trade from memory ---- */

static const struct {
    dt_kind kind;
    double most;
    const char *why;
} MOST[] = {
    {DT_KIND_LENGTH, 20000, "no well is longer"},
    {DT_KIND_DIAMETER, 60 * DT_M_PER_IN, "pipes and bits end at 60 in"},
    {DT_KIND_DENSITY, 3000, "rock itself weighs little more than 2700 kg/m3"},
    {DT_KIND_PRESSURE, 200e6, "surface equipment ends at 20,000 psi"},
    {DT_KIND_FORCE, 20e6, "no rig pulls so much"},
    {DT_KIND_FRACTION, 10, "it is a part of a volume"},
    {DT_KIND_TIME, 1000 * 3600.0, "no operation takes six weeks"},
    {DT_KIND_SPEED, 30, "nothing in a well moves so fast"},
    {DT_KIND_VOLUME, 500, "no influx is so large"},
    {DT_KIND_ANGLE, 3.1416, "a well does not turn back"},
    {DT_KIND_COUNT, 1e6, "it is a count or a factor"},
};

static const char *beyond(dt_kind kind, double si)
{
    for (size_t i = 0; i < sizeof MOST / sizeof *MOST; ++i)
        if (MOST[i].kind == kind && si > MOST[i].most) return MOST[i].why;
    return NULL;
}

static void tell_limit(dt_report *report, int line, const char *element, const char *row,
                       const char *attribute, const char *why)
{
    char where[160];
    snprintf(where, sizeof where, "%s%s%s/@%s", element, row ? "/" : "", row ? row : "", attribute);
    dt_report_add(report, DT_MSG_BASIS_LIMIT, line, where, "is too large: %s", why);
}

static void limit_values(const dt_basis *basis, dt_report *report)
{
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_row *about = dt_custom_about((dt_custom)i);
        const dt_custom_value *value = &basis->values[i];
        if (!value->text || about->form == DT_FORM_WORD || about->form == DT_FORM_NAME) continue;
        const dt_kind kind = value->pressure ? DT_KIND_PRESSURE : about->kind;
        /* a length between wells, not in one */
        const bool apart = i == DT_CUSTOM_OFFSETS_DISTANCE;
        const char *why = !apart                  ? beyond(kind, value->si)
                          : value->si > AWAY.most ? AWAY.why
                                                  : NULL;
        if (why) tell_limit(report, value->line, about->element, NULL, about->attribute, why);
    }
}

static void limit_rows(const dt_basis *basis, const dt_column_row *column, dt_report *report)
{
    const dt_table_row *about = dt_table_about(column->table);
    const dt_table_value *table = &basis->tables[column->table];
    if (column->form != DT_FORM_NUMBER && column->form != DT_FORM_QUANTITY) return;
    for (size_t k = 0; k < table->count; ++k) {
        const char *row = (const char *)table->rows + k * about->size;
        double si = NAN;
        int line = 0;
        memcpy(&si, row + column->offset, sizeof si);
        memcpy(&line, row + about->line_offset, sizeof line);
        const char *why = beyond(column->kind, si);
        if (why) tell_limit(report, line, about->element, about->row, column->attribute, why);
    }
}

/** Limits that every value has, then those of the same elements of a well file. */
static dt_status check_limits(const xmlNode *root, const dt_basis *basis, dt_report *report)
{
    check_texts(root, basis, report);
    limit_values(basis, report);
    for (int i = 0; i < DT_COLUMN_COUNT; ++i)
        limit_rows(basis, dt_column_about((dt_custom_column)i), report);
    return report->errors > 0 ? DT_OK : dt_well_limit_basis(root, report);
}

/** Contradictions of the file itself: over the built-in basis, that says the rest. */
static dt_status check_whole(const dt_basis *layer, dt_report *report)
{
    dt_basis *whole = NULL;
    const dt_status status = dt_basis_stack(dt_basis_built_in(), layer, &whole);
    if (status == DT_OK) dt_basis_examine(whole, tell_wrong, report);
    dt_basis_free(whole);
    return status;
}

static dt_status read_tree(const xmlNode *root, int schema_line, dt_report *report, dt_basis **out)
{
    dt_status status = dt_basis_read_layer(root, tell_wrong, report, out);
    if (status == DT_E_INPUT) return DT_OK; /* told, and better than the schema could */
    if (status != DT_OK) return status;
    if (schema_line > 0)
        dt_report_add(report, DT_MSG_BASIS_SCHEMA, schema_line, NULL,
                      "this does not fit the schema of a basis");
    else
        status = check_limits(root, *out, report);
    if (status == DT_OK && report->errors == 0) status = check_whole(*out, report);
    return status;
}

dt_status dt_basis_open(const char *text, size_t size, dt_report *report, dt_basis **out)
{
    struct _xmlDoc *doc = NULL;
    dt_basis *basis = NULL;
    int schema_line = 0;
    dt_status status = DT_E_INPUT;
    if (dt_file_has_text(text, size, report)) {
        status = dt_basis_tree(text, size, report, &doc, &schema_line);
        if (status == DT_OK && doc)
            status = read_tree(dt_well_root(doc), schema_line, report, &basis);
        if (status == DT_OK && (!doc || report->errors > 0)) status = DT_E_INPUT;
    }
    if (report->out_of_memory) status = DT_E_MEMORY;
    dt_report_sort(report);
    dt_well_free_doc(doc);
    if (status == DT_OK)
        *out = basis;
    else
        dt_basis_free(basis);
    return status;
}
