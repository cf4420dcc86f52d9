/* SPDX-License-Identifier: MIT */
/* From the tree of a basis file to the basis. The build reads the built-in one with it, so what it
 * calls must not lean on a basis itself: units and customs.def alone. */
#include <libxml/tree.h>

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "basis.h"

#define BASIS_NAMESPACE "urn:drawtube:well:1"

typedef struct reader {
    dt_basis_problem problem;
    void *context;
    dt_basis *basis;
    bool told, out_of_memory;
} reader;

/* ---- what is wrong ---- */

__attribute__((format(printf, 5, 6))) static void tell(reader *r, const xmlNode *node,
                                                       const char *row, const char *attribute,
                                                       const char *format, ...)
{
    char where[160], text[400];
    snprintf(where, sizeof where, "%s%s%s%s%s", (const char *)node->name, row ? "/" : "",
             row ? row : "", attribute ? "/@" : "", attribute ? attribute : "");
    va_list rest;
    va_start(rest, format);
    vsnprintf(text, sizeof text, format, rest);
    va_end(rest);
    r->problem(r->context, (int)xmlGetLineNo(node), where, text);
    r->told = true;
}

static char *copy(reader *r, const char *text)
{
    const size_t size = strlen(text) + 1;
    char *made = malloc(size);
    if (made)
        memcpy(made, text, size);
    else
        r->out_of_memory = true;
    return made;
}

static bool is_element(const xmlNode *node)
{
    return node->type == XML_ELEMENT_NODE;
}

static bool is_named(const xmlNode *node, const char *name)
{
    return is_element(node) && strcmp((const char *)node->name, name) == 0;
}

static bool in_namespace(const xmlNode *node)
{
    return node->ns && node->ns->href && strcmp((const char *)node->ns->href, BASIS_NAMESPACE) == 0;
}

/** Value of an attribute as it stands in the tree, NULL when the element has none. */
static const char *value_of(const xmlNode *node, const char *name)
{
    for (const xmlAttr *at = node->properties; at; at = at->next)
        if (!at->ns && strcmp((const char *)at->name, name) == 0)
            return at->children ? (const char *)at->children->content : "";
    return NULL;
}

/* ---- one value ---- */

/** How a value is written, for messages: "a number and one of ft, m". */
static void say_form(dt_custom_form form, dt_kind kind, const char *choices, char *out, size_t size)
{
    if (form == DT_FORM_QUANTITY)
        snprintf(out, size, "a number and one of %s", dt_unit_choices(kind));
    else if (form == DT_FORM_MARGIN)
        snprintf(out, size, "a number and one of %s, or for a pressure %s",
                 dt_unit_choices(DT_KIND_DENSITY), dt_unit_choices(DT_KIND_PRESSURE));
    else if (form == DT_FORM_WORD)
        snprintf(out, size, "one of %s", choices);
    else
        snprintf(out, size, "%s", form == DT_FORM_NUMBER ? "a number without a unit" : "a name");
}

/** Place of a word in "a|b|c"; -1 when it is none. */
static int place_in(const char *choices, const char *word)
{
    const size_t length = strlen(word);
    int place = 0;
    for (const char *at = choices; at; ++place) {
        const char *end = strchr(at, '|');
        const size_t size = end ? (size_t)(end - at) : strlen(at);
        if (size == length && memcmp(at, word, size) == 0) return place;
        at = end ? end + 1 : NULL;
    }
    return -1;
}

/** Reads a text; false when it is none of the form, or below 0. */
static bool parse(const char *text, dt_custom_form form, dt_kind kind, const char *choices,
                  double *si, bool *pressure)
{
    *si = NAN;
    *pressure = false;
    switch (form) {
    case DT_FORM_NUMBER:
        return dt_number_parse(text, si) == DT_PARSE_OK && *si >= 0;
    case DT_FORM_MARGIN:
        if (dt_quantity_parse(text, DT_KIND_PRESSURE, si) == DT_PARSE_OK) {
            *pressure = true;
            return *si >= 0;
        }
        return dt_quantity_parse(text, DT_KIND_DENSITY, si) == DT_PARSE_OK && *si >= 0;
    case DT_FORM_QUANTITY:
        return dt_quantity_parse(text, kind, si) == DT_PARSE_OK && *si >= 0;
    case DT_FORM_WORD:
        *si = place_in(choices, text);
        return *si >= 0;
    case DT_FORM_NAME:
        break;
    }
    for (const char *at = text; *at; ++at)
        if ((unsigned char)*at < 0x20 || *at == 0x7F) return false;
    return text[strspn(text, " ")] != '\0';
}

/* ---- sources ---- */

/** True when "a b c" holds the word; or any word that it is told to. */
static bool lists(const char *list, const char *word)
{
    const size_t length = strlen(word);
    for (const char *at = list; *at;) {
        at += strspn(at, " \t\r\n");
        const size_t size = strcspn(at, " \t\r\n");
        if (size > 0 && size == length && memcmp(at, word, size) == 0) return true;
        at += size;
    }
    return false;
}

/** Text of the <source> of an attribute, or of a column ("row/attribute"): the one that names it,
 * else the one that names its row, else the one that names nothing. NULL when there is none. */
static const char *source_text(const xmlNode *element, const char *row, const char *attribute)
{
    char column[96];
    snprintf(column, sizeof column, "%s%s%s", row ? row : "", row ? "/" : "", attribute);
    const char *of_row = NULL, *of_all = NULL;
    for (const xmlNode *at = element->children; at; at = at->next) {
        if (!is_named(at, "source")) continue;
        const char *of = value_of(at, "of");
        const char *text =
            at->children && at->children->content ? (const char *)at->children->content : "";
        if (!text[strspn(text, " \t\r\n")]) continue;
        if (!of) of_all = text;
        if (of && lists(of, column)) return text;
        if (of && row && lists(of, row)) of_row = text;
    }
    return of_row ? of_row : of_all;
}

/** A copy of the source, blanks joined; NULL (told) when there is none. */
static char *read_source(reader *r, const xmlNode *element, const char *row, const char *attribute)
{
    const char *text = source_text(element, row, attribute);
    if (!text) {
        tell(r, element, row, attribute, "has no source: add <source of=\"%s%s%s\">...</source>",
             row ? row : "", row ? "/" : "", attribute);
        return NULL;
    }
    char *made = copy(r, text + strspn(text, " \t\r\n"));
    if (!made) return NULL;
    size_t used = 0;
    for (const char *at = made; *at;) {
        const size_t size = strcspn(at, " \t\r\n");
        memmove(made + used, at, size);
        used += size;
        at += size;
        at += strspn(at, " \t\r\n");
        if (*at) made[used++] = ' ';
    }
    made[used] = '\0';
    return made;
}

/* ---- an element ---- */

static int table_of(const char *element, const char *row)
{
    for (int i = 0; i < DT_TABLE_COUNT; ++i) {
        const dt_table_row *about = dt_table_about((dt_custom_table)i);
        if (strcmp(about->element, element) == 0 && strcmp(about->row, row) == 0) return i;
    }
    return -1;
}

static bool element_known(const char *element)
{
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i)
        if (strcmp(dt_custom_about((dt_custom)i)->element, element) == 0) return true;
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        if (strcmp(dt_table_about((dt_custom_table)i)->element, element) == 0) return true;
    return false;
}

static void read_value(reader *r, const xmlNode *element, dt_custom custom)
{
    const dt_custom_row *about = dt_custom_about(custom);
    dt_custom_value *value = &r->basis->values[custom];
    const char *text = value_of(element, about->attribute);
    if (!parse(text, about->form, about->kind, about->choices, &value->si, &value->pressure)) {
        char form[240];
        say_form(about->form, about->kind, about->choices, form, sizeof form);
        tell(r, element, NULL, about->attribute, "\"%.60s\" is not %s", text, form);
    }
    value->line = (int)xmlGetLineNo(element);
    value->text = copy(r, text);
    value->source = read_source(r, element, NULL, about->attribute);
}

static void read_cell(reader *r, const xmlNode *node, const dt_column_row *about, char *row)
{
    const char *text = value_of(node, about->attribute);
    double si = NAN;
    bool pressure = false;
    if (!text && about->must)
        tell(r, node, NULL, about->attribute, "is missing (%s)", about->words);
    if (text && !parse(text, about->form, about->kind, about->choices, &si, &pressure)) {
        char form[240];
        say_form(about->form, about->kind, about->choices, form, sizeof form);
        tell(r, node, NULL, about->attribute, "\"%.60s\" is not %s", text, form);
    }
    if (about->form == DT_FORM_NAME) {
        char *name = text ? copy(r, text) : NULL;
        memcpy(row + about->offset, &name, sizeof name);
    } else if (about->form == DT_FORM_WORD) {
        const int word = isnan(si) ? -1 : (int)si;
        memcpy(row + about->offset, &word, sizeof word);
    } else {
        memcpy(row + about->offset, &si, sizeof si);
    }
}

/** The first column of a row, as a number to compare. */
static double first_cell(dt_custom_table table, const char *row)
{
    int column = 0;
    while (dt_column_about((dt_custom_column)column)->table != table)
        ++column;
    const dt_column_row *about = dt_column_about((dt_custom_column)column);
    double number = NAN;
    int word = 0;
    if (about->form == DT_FORM_WORD) {
        memcpy(&word, row + about->offset, sizeof word);
        return word;
    }
    memcpy(&number, row + about->offset, sizeof number);
    return number;
}

static void check_cells(reader *r, const xmlNode *node, dt_custom_table table)
{
    for (const xmlAttr *at = node->properties; at; at = at->next) {
        bool known = false;
        for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
            const dt_column_row *about = dt_column_about((dt_custom_column)i);
            known = known || (about->table == table &&
                              strcmp(about->attribute, (const char *)at->name) == 0);
        }
        if (!known)
            tell(r, node, NULL, (const char *)at->name, "<%s> has no such attribute",
                 (const char *)node->name);
    }
}

static void read_rows(reader *r, const xmlNode *element, dt_custom_table table)
{
    const dt_table_row *about = dt_table_about(table);
    size_t count = 0;
    for (const xmlNode *at = element->children; at; at = at->next)
        count += is_named(at, about->row);
    if (count == 0) return;
    char *rows = calloc(count, about->size), *row = rows;
    if (!rows) {
        r->out_of_memory = true;
        return;
    }
    r->basis->tables[table] = (dt_table_value){rows, count, 0};
    for (const xmlNode *at = element->children; at; at = at->next) {
        if (!is_named(at, about->row)) continue;
        const int line = (int)xmlGetLineNo(at);
        check_cells(r, at, table);
        for (int i = 0; i < DT_COLUMN_COUNT; ++i)
            if (dt_column_about((dt_custom_column)i)->table == table)
                read_cell(r, at, dt_column_about((dt_custom_column)i), row);
        memcpy(row + about->line_offset, &line, sizeof line);
        if (!about->series && row > rows &&
            !(first_cell(table, row) > first_cell(table, row - about->size)))
            tell(r, at, NULL, NULL, "is not more than the row before");
        row += about->size;
    }
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        const dt_column_row *column = dt_column_about((dt_custom_column)i);
        if (column->table == table)
            r->basis->column_sources[i] = read_source(r, element, about->row, column->attribute);
    }
}

/** What a <source> is of stands in its element. */
static void check_source(reader *r, const xmlNode *element, const xmlNode *source)
{
    const char *of = value_of(source, "of");
    if (!source->children || !source->children->content)
        tell(r, source, NULL, NULL, "says nothing");
    char word[96];
    for (const char *at = of ? of : ""; *at;) {
        at += strspn(at, " \t\r\n");
        const size_t size = strcspn(at, " \t\r\n");
        if (size == 0) break;
        snprintf(word, sizeof word, "%.*s", (int)size, at);
        at += size;
        word[strcspn(word, "/")] = '\0';
        const int table = table_of((const char *)element->name, word);
        if (!value_of(element, word) && (table < 0 || r->basis->tables[table].count == 0))
            tell(r, source, NULL, "of", "<%s> here states no %s", (const char *)element->name,
                 word);
    }
}

static void read_element(reader *r, const xmlNode *element)
{
    const char *name = (const char *)element->name;
    if (!in_namespace(element) || !element_known(name)) {
        tell(r, element, NULL, NULL, "<%s> is not known inside <basis>", name);
        return;
    }
    for (const xmlNode *at = element->prev; at; at = at->prev)
        if (is_named(at, name)) {
            tell(r, element, NULL, NULL, "a second <%s>; the first is in line %ld", name,
                 xmlGetLineNo(at));
            return;
        }
    for (const xmlAttr *at = element->properties; at; at = at->next) {
        const dt_custom custom = dt_custom_find(name, (const char *)at->name);
        if (custom == DT_CUSTOM_COUNT)
            tell(r, element, NULL, (const char *)at->name, "<%s> of a basis has no such attribute",
                 name);
        else
            read_value(r, element, custom);
    }
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        if (strcmp(dt_table_about((dt_custom_table)i)->element, name) == 0)
            read_rows(r, element, (dt_custom_table)i);
    for (const xmlNode *at = element->children; at; at = at->next) {
        if (!is_element(at)) continue;
        if (is_named(at, "source"))
            check_source(r, element, at);
        else if (table_of(name, (const char *)at->name) < 0)
            tell(r, at, NULL, NULL, "<%s> is not known inside <%s>", (const char *)at->name, name);
    }
}

/* ---- what the file leaves to the basis under it ---- */

static void take_rows(reader *r, const dt_basis *under, dt_custom_table table)
{
    const dt_table_row *about = dt_table_about(table);
    const dt_table_value *from = &under->tables[table];
    char *rows = calloc(from->count, about->size);
    if (!rows) {
        r->out_of_memory = true;
        return;
    }
    memcpy(rows, from->rows, from->count * about->size);
    r->basis->tables[table] = (dt_table_value){rows, from->count, from->layer};
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        const dt_column_row *column = dt_column_about((dt_custom_column)i);
        if (column->table != table) continue;
        r->basis->column_sources[i] = copy(r, under->column_sources[i]);
        for (size_t k = 0; column->form == DT_FORM_NAME && k < from->count; ++k) {
            char *cell = rows + k * about->size + column->offset, *name = NULL;
            memcpy(&name, cell, sizeof name);
            name = copy(r, name);
            memcpy(cell, &name, sizeof name);
        }
    }
}

static void copy_layers(reader *r, const dt_basis *from)
{
    dt_basis *to = r->basis;
    for (size_t i = 0; i < from->layer_count; ++i) {
        dt_basis_layer *layer = &to->layers[to->layer_count++];
        layer->name = copy(r, from->layers[i].name);
        if (from->layers[i].as_of) layer->as_of = copy(r, from->layers[i].as_of);
    }
}

/** What the file states moves from layer 0 to the place above all that is under it. */
static void lift_layer(dt_basis *basis, size_t by)
{
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i)
        basis->values[i].layer += (int)by;
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        basis->tables[i].layer += (int)by;
    for (size_t i = basis->layer_count; i-- > 0;)
        basis->layers[i + by] = basis->layers[i];
    memset(basis->layers, 0, by * sizeof *basis->layers);
    basis->layer_count = 0;
}

static void fill_up(reader *r, const xmlNode *root, const dt_basis *under)
{
    if (under) {
        const size_t own = r->basis->layer_count;
        lift_layer(r->basis, under->layer_count);
        copy_layers(r, under);
        r->basis->layer_count += own;
    }
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const dt_custom_row *about = dt_custom_about((dt_custom)i);
        dt_custom_value *value = &r->basis->values[i];
        if (value->line > 0) continue;
        if (!under) {
            tell(r, root, about->element, about->attribute, "is missing (%s)", about->words);
            continue;
        }
        *value = under->values[i];
        value->text = copy(r, under->values[i].text);
        value->source = copy(r, under->values[i].source);
    }
    for (int i = 0; i < DT_TABLE_COUNT; ++i) {
        const dt_table_row *about = dt_table_about((dt_custom_table)i);
        if (r->basis->tables[i].count > 0) continue;
        if (under)
            take_rows(r, under, (dt_custom_table)i);
        else
            tell(r, root, about->element, NULL, "has no <%s> (%s)", about->row, about->words);
    }
}

/* ---- the whole ---- */

static dt_status finish(reader *r, dt_basis **out)
{
    const dt_status status = r->out_of_memory ? DT_E_MEMORY : r->told ? DT_E_INPUT : DT_OK;
    if (status == DT_OK)
        *out = r->basis;
    else
        dt_basis_free(r->basis);
    return status;
}

/** Name and edition of the file, and all its elements. */
static void read_file(reader *r, const xmlNode *root)
{
    const char *name = value_of(root, "name"), *as_of = value_of(root, "as_of");
    if (!is_named(root, "basis") || !in_namespace(root))
        tell(r, root, NULL, NULL,
             "the first element must be <basis xmlns=\"" BASIS_NAMESPACE "\" name=\"...\">");
    else if (!name || !name[strspn(name, " \t\r\n")])
        tell(r, root, NULL, "name", "is missing: a basis has a name");
    else
        r->basis->name = copy(r, name);
    if (r->told) return;
    r->basis->layers[0].name = copy(r, name);
    if (as_of) r->basis->layers[0].as_of = copy(r, as_of);
    r->basis->layer_count = 1;
    for (const xmlNode *at = root->children; at; at = at->next)
        if (is_element(at)) read_element(r, at);
}

dt_status dt_basis_read(const struct _xmlNode *root, const dt_basis *under,
                        dt_basis_problem problem, void *context, dt_basis **out)
{
    reader r = {.problem = problem, .context = context, .basis = calloc(1, sizeof *r.basis)};
    if (!r.basis) return DT_E_MEMORY;
    read_file(&r, root);
    if (r.basis->layer_count > 0) fill_up(&r, root, under);
    return finish(&r, out);
}

dt_status dt_basis_read_layer(const struct _xmlNode *root, dt_basis_problem problem, void *context,
                              dt_basis **out)
{
    reader r = {.problem = problem, .context = context, .basis = calloc(1, sizeof *r.basis)};
    if (!r.basis) return DT_E_MEMORY;
    read_file(&r, root);
    return finish(&r, out);
}

/** "land us-ocs": the built-in basis is under every stack and not named. */
static char *stack_name(reader *r, const dt_basis *under, const dt_basis *layer)
{
    if (under->layer_count < 2) return copy(r, layer->name);
    const size_t size = strlen(under->name) + strlen(layer->name) + 2;
    char *name = malloc(size);
    if (name)
        snprintf(name, size, "%s %s", under->name, layer->name);
    else
        r->out_of_memory = true;
    return name;
}

dt_status dt_basis_stack(const dt_basis *under, const dt_basis *layer, dt_basis **out)
{
    if (under->layer_count + layer->layer_count > DT_BASIS_MOST_LAYERS) return DT_E_DOMAIN;
    reader r = {.basis = calloc(1, sizeof *r.basis)};
    if (!r.basis) return DT_E_MEMORY;
    r.basis->name = stack_name(&r, under, layer);
    copy_layers(&r, under);
    copy_layers(&r, layer);
    const int lift = (int)under->layer_count;
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        const bool own = layer->values[i].text != NULL;
        const dt_custom_value *from = own ? &layer->values[i] : &under->values[i];
        dt_custom_value *to = &r.basis->values[i];
        *to = *from;
        to->layer += own ? lift : 0;
        to->text = copy(&r, from->text);
        to->source = copy(&r, from->source);
    }
    for (int i = 0; i < DT_TABLE_COUNT; ++i) {
        const bool own = layer->tables[i].count > 0;
        take_rows(&r, own ? layer : under, (dt_custom_table)i);
        r.basis->tables[i].layer += own ? lift : 0;
    }
    return finish(&r, out);
}

static void free_names(const dt_table_value *value, const dt_column_row *column)
{
    const size_t size = dt_table_about(column->table)->size;
    for (size_t k = 0; column->form == DT_FORM_NAME && k < value->count; ++k) {
        char *name = NULL;
        memcpy(&name, (const char *)value->rows + k * size + column->offset, sizeof name);
        free(name);
    }
}

void dt_basis_free(dt_basis *basis)
{
    if (!basis) return;
    for (int i = 0; i < DT_CUSTOM_COUNT; ++i) {
        free((char *)basis->values[i].text);
        free((char *)basis->values[i].source);
    }
    for (int i = 0; i < DT_COLUMN_COUNT; ++i) {
        const dt_column_row *column = dt_column_about((dt_custom_column)i);
        free_names(&basis->tables[column->table], column);
        free((char *)basis->column_sources[i]);
    }
    for (int i = 0; i < DT_TABLE_COUNT; ++i)
        free((void *)basis->tables[i].rows);
    for (size_t i = 0; i < DT_BASIS_MOST_LAYERS; ++i) {
        free((char *)basis->layers[i].name);
        free((char *)basis->layers[i].as_of);
    }
    free((char *)basis->name);
    free(basis);
}
