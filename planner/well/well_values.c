/* SPDX-License-Identifier: MIT */
#include "well_values.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "well_limits.h"

/* A name must fit a label of the drawing. */
#define NAME_MAX_BYTES 120

int dt_line_of(const xmlNode *node)
{
    return (int)xmlGetLineNo(node);
}

/* ---- attributes ---- */

char *dt_attribute(dt_reader *r, const xmlNode *node, const char *name)
{
    xmlAttrPtr at = xmlHasNsProp(node, (const xmlChar *)name, NULL);
    if (!at) return NULL;
    char *text = (char *)xmlGetNoNsProp(node, (const xmlChar *)name);
    if (!text) r->out_of_memory = true;
    return text;
}

bool dt_has_attribute(const xmlNode *node, const char *name)
{
    return xmlHasNsProp(node, (const xmlChar *)name, NULL) != NULL;
}

int dt_read_word(dt_reader *r, const xmlNode *node, const char *name, const char *const *words,
                 int count, int otherwise)
{
    char *text = dt_attribute(r, node, name);
    int found = otherwise;
    for (int i = 0; text && i < count; ++i)
        if (strcmp(words[i], text) == 0) found = i;
    xmlFree(text);
    return found;
}

bool dt_read_yes(dt_reader *r, const xmlNode *node, const char *name, bool otherwise)
{
    static const char *const words[] = {"no", "yes"};
    return dt_read_word(r, node, name, words, 2, otherwise) == 1;
}

char *dt_copy_text(dt_reader *r, const char *text)
{
    size_t size = strlen(text) + 1;
    char *copy = malloc(size);
    if (copy)
        memcpy(copy, text, size);
    else
        r->out_of_memory = true;
    return copy;
}

char *dt_read_name(dt_reader *r, const xmlNode *node, const char *name)
{
    char *text = dt_attribute(r, node, name);
    if (!text) return NULL;
    dt_place where = dt_place_of(node, name);
    dt_quoted shown = dt_quote(text);
    char *copy = NULL;
    if (!text[strspn(text, " \t\r\n")])
        dt_report_add(r->report, DT_MSG_NAME_EMPTY, dt_line_of(node), where.text, "%s is empty",
                      name);
    else if (dt_has_controls(text))
        dt_report_add(r->report, DT_MSG_NAME_CONTROL, dt_line_of(node), where.text,
                      "\"%s\" holds control characters", shown.text);
    else if (strlen(text) > NAME_MAX_BYTES)
        dt_report_add(r->report, DT_MSG_NAME_TOO_LONG, dt_line_of(node), where.text,
                      "\"%s\" has %zu bytes, more than %d", shown.text, strlen(text),
                      NAME_MAX_BYTES);
    else
        copy = dt_copy_text(r, text);
    xmlFree(text);
    return copy;
}

/* ---- numbers ---- */

/** A decimal comma, or digits in groups: how that is written here. False: it is neither. */
static bool say_what_was_meant(dt_reader *r, const char *text)
{
    char mended[160];
    if (!dt_number_mend(text, mended, sizeof mended)) return false;
    dt_report_fix(r->report, "%s", mended);
    return true;
}

void dt_report_parse(dt_reader *r, const xmlNode *node, const char *name, const char *text,
                     dt_parse parse, const char *choices)
{
    dt_place where = dt_place_of(node, name);
    dt_quoted shown = dt_quote(text);
    int line = dt_line_of(node);
    switch (parse) {
    case DT_PARSE_OK:
        break;
    case DT_PARSE_NO_NUMBER:
        dt_report_add(r->report, DT_MSG_QUANTITY_NOT_A_NUMBER, line, where.text,
                      "\"%s\" is not a plain decimal number and a unit", shown.text);
        say_what_was_meant(r, text);
        break;
    case DT_PARSE_NOT_FINITE:
        dt_report_add(r->report, DT_MSG_QUANTITY_NOT_FINITE, line, where.text,
                      "\"%s\" is too large to be a number", shown.text);
        break;
    case DT_PARSE_NO_UNIT:
        dt_report_add(r->report, DT_MSG_QUANTITY_WITHOUT_UNIT, line, where.text,
                      "\"%s\" has no unit", shown.text);
        dt_report_fix(r->report, "write one of %s", choices);
        break;
    case DT_PARSE_UNKNOWN_UNIT: {
        char *unit = NULL;
        (void)strtod(text, &unit); /* only where the number ends matters here */
        dt_quoted symbol = dt_quote(unit + strspn(unit, " \t\r\n"));
        dt_report_add(r->report, DT_MSG_QUANTITY_UNKNOWN_UNIT, line, where.text,
                      "\"%s\": unknown unit \"%s\"", shown.text, symbol.text);
        if (!say_what_was_meant(r, text)) dt_report_fix(r->report, "write one of %s", choices);
        break;
    }
    }
}

bool dt_within_limit(dt_reader *r, const xmlNode *node, const char *name, const char *text,
                     double si, const dt_limit *bound, double factor, const char *symbol)
{
    bool low = bound->above ? si <= bound->least : si < bound->least;
    bool high = si > bound->most;
    if (!low && !high) return true;
    dt_place where = dt_place_of(node, name);
    dt_quoted shown = dt_quote(text);
    int line = dt_line_of(node);
    if (low && bound->least == 0)
        dt_report_add(r->report, DT_MSG_QUANTITY_TOO_SMALL, line, where.text, "\"%s\" %s",
                      shown.text, bound->above ? "is not more than 0" : "is negative");
    else if (low)
        dt_report_add(r->report, DT_MSG_QUANTITY_TOO_SMALL, line, where.text,
                      "\"%s\" is less than %.5g%s%s: %s", shown.text, bound->least / factor,
                      *symbol ? " " : "", symbol, bound->why);
    else
        dt_report_add(r->report, DT_MSG_QUANTITY_TOO_LARGE, line, where.text,
                      "\"%s\" is more than %.5g%s%s: %s", shown.text, bound->most / factor,
                      *symbol ? " " : "", symbol, bound->why);
    return false;
}

const dt_unit *dt_unit_of(const char *text, dt_kind kind)
{
    double si = 0;
    const dt_unit *unit = NULL;
    return dt_quantity_read(text, kind, &si, &unit) == DT_PARSE_OK ? unit : NULL;
}

bool dt_read_quantity(dt_reader *r, const xmlNode *node, const char *name, dt_kind kind,
                      const dt_limit *bound, double *out)
{
    *out = NAN;
    char *text = dt_attribute(r, node, name);
    if (!text) return true;
    double si = NAN;
    const dt_unit *unit = NULL;
    dt_parse parse = dt_quantity_read(text, kind, &si, &unit);
    bool good = parse == DT_PARSE_OK;
    if (!good) dt_report_parse(r, node, name, text, parse, dt_unit_choices(kind));
    if (good) good = dt_within_limit(r, node, name, text, si, bound, unit->factor, unit->symbol);
    if (good) *out = si;
    xmlFree(text);
    return good;
}

bool dt_read_number(dt_reader *r, const xmlNode *node, const char *name, double factor,
                    const char *symbol, const dt_limit *bound, double *out)
{
    *out = NAN;
    char *text = dt_attribute(r, node, name);
    if (!text) return true;
    double number = NAN;
    dt_parse parse = dt_number_parse(text, &number);
    bool good = parse == DT_PARSE_OK && isfinite(number * factor);
    if (parse == DT_PARSE_NO_NUMBER) {
        dt_place where = dt_place_of(node, name);
        dt_quoted shown = dt_quote(text);
        dt_report_add(r->report, DT_MSG_NUMBER_NOT_PLAIN, dt_line_of(node), where.text,
                      "\"%s\" is not a plain number", shown.text);
        if (!say_what_was_meant(r, text) && *symbol)
            dt_report_fix(r->report, "write the number alone: the table gives the unit, %s",
                          symbol);
    } else if (!good) {
        dt_report_parse(r, node, name, text, DT_PARSE_NOT_FINITE, "");
    } else {
        good = dt_within_limit(r, node, name, text, number * factor, bound, factor, symbol);
    }
    if (good) *out = number * factor;
    xmlFree(text);
    return good;
}

bool dt_read_fields(dt_reader *r, const xmlNode *node, const dt_field *fields, size_t count,
                    void *base)
{
    bool good = true;
    for (size_t i = 0; i < count; ++i) {
        double value = NAN;
        if (!dt_read_quantity(r, node, fields[i].name, fields[i].kind, fields[i].bound, &value))
            good = false;
        memcpy((char *)base + fields[i].offset, &value, sizeof value);
    }
    return good;
}

void dt_read_margin(dt_reader *r, const xmlNode *node, const char *name, dt_margin *margin)
{
    margin->emw_kgm3 = margin->pressure_pa = 0;
    char *text = dt_attribute(r, node, name);
    if (!text) return;
    double value = 0;
    const dt_unit *unit = NULL;
    dt_kind kind = DT_KIND_DENSITY;
    dt_parse parse = dt_quantity_read(text, kind, &value, &unit);
    if (parse == DT_PARSE_UNKNOWN_UNIT) {
        kind = DT_KIND_PRESSURE;
        parse = dt_quantity_read(text, kind, &value, &unit);
    }
    const dt_limit *bound = kind == DT_KIND_DENSITY ? &MARGIN_EMW : &MARGIN_PA;
    if (parse != DT_PARSE_OK) {
        char choices[160];
        snprintf(choices, sizeof choices, "%s, or for a pressure %s",
                 dt_unit_choices(DT_KIND_DENSITY), dt_unit_choices(DT_KIND_PRESSURE));
        dt_report_parse(r, node, name, text, parse, choices);
    } else if (dt_within_limit(r, node, name, text, value, bound, unit->factor, unit->symbol)) {
        *(kind == DT_KIND_DENSITY ? &margin->emw_kgm3 : &margin->pressure_pa) = value;
    }
    xmlFree(text);
}

/* ---- children ---- */

static xmlNodePtr first_named(xmlNodePtr node, const char *name)
{
    while (node && (node->type != XML_ELEMENT_NODE || strcmp((const char *)node->name, name) != 0))
        node = node->next;
    return node;
}

xmlNodePtr dt_child_named(const xmlNode *parent, const char *name)
{
    return first_named(parent->children, name);
}

xmlNodePtr dt_next_named(const xmlNode *node, const char *name)
{
    return first_named(node->next, name);
}

/* No list of a well file needs more. Later stages compare lists with each other, so without a
 * cap a 4 MiB file could keep them busy for hours. */
enum { LIST_MAX = 2000 };

void *dt_list_for(dt_reader *r, const xmlNode *parent, const char *name, size_t size, size_t *count)
{
    *count = 0;
    size_t found = 0;
    for (xmlNodePtr at = dt_child_named(parent, name); at; at = dt_next_named(at, name))
        if (++found == LIST_MAX + 1) {
            dt_place where = dt_place_of(at, NULL);
            dt_report_add(r->report, DT_MSG_LIST_TOO_LONG, dt_line_of(at), where.text,
                          "more than %d <%s> in one list", LIST_MAX, name);
        }
    if (found == 0) return NULL;
    if (found > LIST_MAX) found = LIST_MAX;
    void *list = calloc(found, size);
    if (list)
        *count = found;
    else
        r->out_of_memory = true;
    return list;
}
