/* SPDX-License-Identifier: MIT */
/*
 * compile_basis FILE.xml OUT.c: turns the built-in basis into a C table while building. The reader
 * is the library's. Everything wrong is told as file:line; nothing is written then.
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

static void put_rows(FILE *out, const dt_basis *basis, dt_custom_table table)
{
    const dt_table_row *about = dt_table_about(table);
    const dt_table_value *value = &basis->tables[table];
    fprintf(out, "static const %s rows_%d[] = {\n", about->type, (int)table);
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
    fprintf(out, ", %d},\n", value->line);
}

static void put_basis(FILE *out, const dt_basis *basis)
{
    fputs("#include <math.h>\n#include \"basis.h\"\n", out);
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        put_rows(out, basis, (dt_custom_table)i);
    fputs("extern const dt_basis dt_compiled_basis;\nconst dt_basis dt_compiled_basis = {\n    ",
          out);
    put_text(out, basis->name);
    fputs(",\n    {\n", out);
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i)
        put_value(out, &basis->values[i]);
    fputs("    },\n    {\n", out);
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        fprintf(out, "        {rows_%d, %zu},\n", i, basis->tables[i].count);
    fputs("    },\n    {\n", out);
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        fputs("        ", out);
        put_text(out, basis->column_sources[i]);
        fputs(",\n", out);
    }
    fputs("    },\n};\n", out);
}

static int write_out(const char *path, const dt_basis *basis)
{
    FILE *out = fopen(path, "wb");
    bool bad = !out;
    if (out) {
        put_basis(out, basis);
        bad = ferror(out) != 0;
        if (fclose(out) != 0) bad = true;
    }
    if (!bad) return EXIT_SUCCESS;
    perror(path);
    remove(path);
    return EXIT_FAILURE;
}

int main(int argc, char **argv)
{
    if (argc != 3) {
        fprintf(stderr, "usage: compile_basis FILE.xml OUT.c\n");
        return 2;
    }
    int code = EXIT_FAILURE;
    xmlDocPtr doc = xmlReadFile(argv[1], NULL, XML_PARSE_NONET | XML_PARSE_BIG_LINES);
    const xmlNode *root = doc ? xmlDocGetRootElement(doc) : NULL;
    dt_basis *basis = NULL;
    dt_status status = DT_E_INPUT; /* libxml2 has told why */
    if (root) status = dt_basis_read(root, NULL, complain, argv[1], &basis);
    if (status == DT_E_MEMORY) fprintf(stderr, "%s: out of memory\n", argv[1]);
    if (status == DT_OK) code = write_out(argv[2], basis);
    dt_basis_free(basis);
    xmlFreeDoc(doc);
    return code;
}
