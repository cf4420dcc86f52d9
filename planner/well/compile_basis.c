/* SPDX-License-Identifier: MIT */
/*
 * compile_basis BUILT-IN.xml [LAYER.xml...] OUT.c: turns the bases that come with drawtube into C
 * tables while building; the first says all, each other one what differs. The reader is the
 * library's. Everything wrong is told as file:line; nothing is written then.
 */
#include <libxml/parser.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"

static void complain(void *context, int line, const char *where, const char *problem)
{
    const char *file = context;
    fprintf(stderr, "%s:%d: %s: %s\n", file, line, where, problem);
}

static void put_text(FILE *out, const char *text)
{
    if (!text) {
        fputs("NULL", out);
        return;
    }
    fputc('"', out);
    for (; *text; ++text) {
        if (*text == '"' || *text == '\\') fputc('\\', out);
        fputc(*text, out);
    }
    fputc('"', out);
}

static void put_number(FILE *out, double number)
{
    if (isnan(number))
        fputs("NAN", out);
    else
        fprintf(out, "%.17g", number);
}

static void put_cell(FILE *out, const dt_column_row *column, const char *row)
{
    fprintf(out, ".%s = ", column->member);
    if (column->form == DT_FORM_NAME) {
        const char *name = NULL;
        memcpy(&name, row + column->offset, sizeof name);
        put_text(out, name);
    } else if (column->form == DT_FORM_WORD) {
        int word = 0;
        memcpy(&word, row + column->offset, sizeof word);
        fprintf(out, "%d", word);
    } else {
        double number = NAN;
        memcpy(&number, row + column->offset, sizeof number);
        put_number(out, number);
    }
    fputs(", ", out);
}

static void put_rows(FILE *out, const dt_basis *basis, size_t number, dt_custom_table table)
{
    const dt_table_row *about = dt_table_about(table);
    const dt_table_value *value = &basis->tables[table];
    if (value->count == 0) return;
    fprintf(out, "static const %s rows_%zu_%d[] = {\n", about->type, number, (int)table);
    for (size_t k = 0; k < value->count; ++k) {
        const char *row = (const char *)value->rows + k * about->size;
        int line = 0;
        memcpy(&line, row + about->line_offset, sizeof line);
        fputs("    {", out);
        for (int i = 0; i < DT_COLUMN_COUNT; ++i)
            if (dt_column_about((dt_custom_column)i)->table == table)
                put_cell(out, dt_column_about((dt_custom_column)i), row);
        fprintf(out, ".line = %d},\n", line);
    }
    fputs("};\n", out);
}

static void put_value(FILE *out, const dt_custom_value *value)
{
    fputs("        {", out);
    put_number(out, value->si);
    fprintf(out, ", %s, ", value->pressure ? "true" : "false");
    put_text(out, value->text);
    fputs(", ", out);
    put_text(out, value->source);
    fprintf(out, ", %d, %d},\n", value->line, value->layer);
}

static void put_tables(FILE *out, const dt_basis *basis, size_t number)
{
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        if (basis->tables[i].count > 0)
            fprintf(out, "        {rows_%zu_%d, %zu, %d},\n", number, i, basis->tables[i].count,
                    basis->tables[i].layer);
        else
            fputs("        {NULL, 0, 0},\n", out);
}

static void put_basis(FILE *out, const dt_basis *basis, size_t number)
{
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        put_rows(out, basis, number, (dt_custom_table)i);
    fprintf(out, "static const dt_basis basis_%zu = {\n    ", number);
    put_text(out, basis->name);
    fputs(",\n    {{", out);
    put_text(out, basis->layers[0].name);
    fputs(", ", out);
    put_text(out, basis->layers[0].as_of);
    fputs("}},\n    1,\n    {\n", out);
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i)
        put_value(out, &basis->values[i]);
    fputs("    },\n    {\n", out);
    put_tables(out, basis, number);
    fputs("    },\n    {\n", out);
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        fputs("        ", out);
        put_text(out, basis->column_sources[i]);
        fputs(",\n", out);
    }
    fputs("    },\n};\n", out);
}

enum { MOST_FILES = 32 };

static void put_all(FILE *out, dt_basis *const *bases, size_t count)
{
    fputs("#include <math.h>\n#include \"basis.h\"\n", out);
    for (size_t i = 0; i < count; ++i)
        put_basis(out, bases[i], i);
    fputs("extern const dt_basis *const dt_compiled_bases[];\n"
          "const dt_basis *const dt_compiled_bases[] = {",
          out);
    for (size_t i = 0; i < count; ++i)
        fprintf(out, "&basis_%zu, ", i);
    fputs("NULL};\n", out);
}

static int write_out(const char *path, dt_basis *const *bases, size_t count)
{
    FILE *out = fopen(path, "wb");
    bool bad = !out;
    if (out) {
        put_all(out, bases, count);
        bad = ferror(out) != 0;
        if (fclose(out) != 0) bad = true;
    }
    if (!bad) return EXIT_SUCCESS;
    perror(path);
    remove(path);
    return EXIT_FAILURE;
}

/** Hears of contradictions, and that there were some. */
typedef struct hearing {
    char *path;
    dt_status status;
} hearing;

static void hear(void *context, int line, const char *where, const char *problem)
{
    hearing *h = context;
    complain(h->path, line, where, problem);
    h->status = DT_E_INPUT;
}

static dt_status examine(const dt_basis *whole, char *path)
{
    hearing h = {path, DT_OK};
    dt_basis_examine(whole, hear, &h);
    return h.status;
}

/** A layer, once it makes sense over the built-in basis. */
static dt_status read_layer(const xmlNode *root, char *path, const dt_basis *under, dt_basis **out)
{
    dt_basis *whole = NULL;
    dt_status status = dt_basis_read(root, under, complain, path, &whole);
    if (status == DT_OK) status = examine(whole, path);
    dt_basis_free(whole);
    return status == DT_OK ? dt_basis_read_layer(root, complain, path, out) : status;
}

static dt_status read_one(char *path, const dt_basis *under, dt_basis **out)
{
    xmlDocPtr doc = xmlReadFile(path, NULL, XML_PARSE_NONET | XML_PARSE_BIG_LINES);
    const xmlNode *root = doc ? xmlDocGetRootElement(doc) : NULL;
    dt_status status = DT_E_INPUT; /* libxml2 has told why */
    if (root && under) status = read_layer(root, path, under, out);
    if (root && !under) status = dt_basis_read(root, NULL, complain, path, out);
    if (status == DT_OK && !under) status = examine(*out, path);
    if (status == DT_E_MEMORY) fprintf(stderr, "%s: out of memory\n", path);
    xmlFreeDoc(doc);
    return status;
}

int main(int argc, char **argv)
{
    dt_basis *bases[MOST_FILES] = {NULL};
    const size_t count = argc > 2 ? (size_t)argc - 2 : 0;
    if (count == 0 || count > MOST_FILES) {
        fprintf(stderr, "usage: compile_basis BUILT-IN.xml [LAYER.xml...] OUT.c\n");
        return 2;
    }
    dt_status status = DT_OK;
    for (size_t i = 0; status == DT_OK && i < count; ++i)
        status = read_one(argv[i + 1], i > 0 ? bases[0] : NULL, &bases[i]);
    int code = EXIT_FAILURE;
    if (status == DT_OK) code = write_out(argv[argc - 1], bases, count);
    for (size_t i = 0; i < count; ++i)
        dt_basis_free(bases[i]);
    return code;
}
