/* SPDX-License-Identifier: MIT */
/*
 * The trajectory object of WITSML 1.4.1.1, and elements put into a well file. Part of the
 * import, import.h; in a file of its own since it knows libxml2.
 * Read: a sample trajectory of version 1.4.1.1, and classes generated from its schemas with the
 * order of elements and the units of depths (m, ft, ftUS). Angle units (dega, rad) from the
 * sample and from memory.
 */
#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <libxml/tree.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "import_parts.h"
#include "xml_crowd.h"

#define WITSML_NAMESPACE "http://www.witsml.org/schemas/1series"
#define M_PER_US_FT      (1200.0 / 3937.0) /* exact, NIST SP 811, B.6 */

#define PARSE_OPTIONS                                                                              \
    (XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING | XML_PARSE_BIG_LINES)

static bool is_named(const xmlNode *node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0;
}

/** Reads the rest of the file; no more than the limit, and no DOCTYPE, which could load others. */
static dt_status read_whole(dt_lines *lines, char **text, size_t *size)
{
    char *bytes = malloc(DT_IMPORT_MAX_WITSML + 1);
    *size = 0;
    if (!bytes) return DT_E_MEMORY;
    for (;;) {
        size_t left = 0;
        const char *more = dt_lines_peek(lines, &left);
        if (left == 0) break;
        if (*size + left > DT_IMPORT_MAX_WITSML) {
            dt_report_add(lines->report, DT_MSG_IMPORT_BIG, 0, NULL,
                          "the file is larger than %zu MiB", DT_IMPORT_MAX_WITSML >> 20);
            free(bytes);
            return DT_E_INPUT;
        }
        memcpy(bytes + *size, more, left);
        *size += left;
        lines->at += left;
    }
    bytes[*size] = '\0';
    *text = bytes;
    return DT_OK;
}

static void on_doctype(void *data, const xmlChar *name, const xmlChar *external,
                       const xmlChar *system)
{
    (void)name, (void)external, (void)system;
    xmlParserCtxtPtr context = data;
    *(int *)context->_private = xmlSAX2GetLineNumber(context);
    xmlStopParser(context);
}

/** The tree, or NULL. *doctype: there was one, and nothing was read. */
static xmlDocPtr parse(const char *text, size_t size, bool *doctype, int *line)
{
    xmlParserCtxtPtr context = xmlNewParserCtxt();
    int doctype_line = 0;
    *doctype = false;
    if (!context) return NULL;
    context->_private = &doctype_line;
    context->sax->internalSubset = on_doctype;
    xmlDocPtr doc = xmlCtxtReadMemory(context, text, (int)size, NULL, NULL, PARSE_OPTIONS);
    *doctype = doctype_line > 0;
    *line = *doctype ? doctype_line : context->lastError.line;
    /* libxml2 takes a zero byte behind the last element for the end of the file */
    bool more = doc && context->input && context->input->cur < context->input->end;
    if (more) *line = context->input->line;
    if (*doctype || !context->wellFormed || more) {
        xmlFreeDoc(doc);
        doc = NULL;
    }
    xmlFreeParserCtxt(context);
    return doc;
}

/** A child's number in SI; false with a finding when it is missing or has no known uom. */
static bool measure(const xmlNode *station, const char *name, dt_kind kind, dt_report *report,
                    double *si, const dt_unit **used)
{
    const xmlNode *child = station->children;
    while (child && !is_named(child, name))
        child = child->next;
    int line = (int)xmlGetLineNo(child ? child : station);
    if (!child) {
        dt_report_add(report, DT_MSG_WITSML_STATION, line, "trajectoryStation", "has no <%s>",
                      name);
        return false;
    }
    xmlChar *uom = xmlGetNoNsProp(child, BAD_CAST "uom");
    xmlChar *text = xmlNodeGetContent(child);
    const char *unit_text = uom ? (const char *)uom : "";
    const dt_unit *unit = dt_import_unit(kind, unit_text);
    double factor = unit ? unit->factor : 0, value = 0;
    if (kind == DT_KIND_LENGTH && strcmp(unit_text, "ftUS") == 0) factor = M_PER_US_FT;
    bool number = text && dt_number_parse((const char *)text, &value) == DT_PARSE_OK;
    if (!(factor > 0))
        dt_report_add(report, DT_MSG_IMPORT_UNIT, line, name, "unknown uom \"%s\"",
                      dt_show_cell(unit_text).text);
    else if (!number)
        dt_report_add(report, DT_MSG_IMPORT_NUMBER, line, name, "\"%s\" is not a number",
                      dt_show_cell(text ? (const char *)text : "").text);
    xmlFree(uom);
    xmlFree(text);
    *si = value * factor;
    if (used && unit) *used = unit;
    return factor > 0 && number;
}

static dt_status read_station(const xmlNode *node, dt_report *report, dt_imported *out)
{
    dt_station station = {.line = (int)xmlGetLineNo(node)};
    bool good = measure(node, "md", DT_KIND_LENGTH, report, &station.md_m, &out->md_unit);
    good = measure(node, "incl", DT_KIND_ANGLE, report, &station.inclination_rad, NULL) && good;
    good = measure(node, "azi", DT_KIND_ANGLE, report, &station.azimuth_rad, NULL) && good;
    return good ? dt_import_station(out, report, &station) : DT_E_INPUT;
}

static dt_status read_trajectory(const xmlNode *trajectory, dt_report *report, dt_imported *out)
{
    for (const xmlNode *at = trajectory->children; at; at = at->next) {
        dt_status status = DT_OK;
        if (is_named(at, "trajectoryStation")) status = read_station(at, report, out);
        if (is_named(at, "aziRef") && !out->azimuth_reference) {
            xmlChar *text = xmlNodeGetContent(at);
            dt_shown_cell shown = dt_show_cell(text ? (const char *)text : "");
            xmlFree(text);
            out->azimuth_reference = malloc(sizeof shown.text);
            if (!out->azimuth_reference) return DT_E_MEMORY;
            memcpy(out->azimuth_reference, shown.text, sizeof shown.text);
        }
        if (status != DT_OK) return status;
    }
    if (out->station_count > 0) return DT_OK;
    dt_report_add(report, DT_MSG_IMPORT_EMPTY, (int)xmlGetLineNo(trajectory), "trajectory",
                  "has no trajectoryStation");
    return DT_E_INPUT;
}

static dt_status read_tree(const xmlDoc *doc, dt_report *report, dt_imported *out)
{
    const xmlNode *root = xmlDocGetRootElement(doc);
    out->md_unit = dt_unit_find(DT_KIND_LENGTH, "m"); /* of US survey feet, which we do not write */
    const char *space = root && root->ns ? (const char *)root->ns->href : "";
    if (!root || !is_named(root, "trajectorys") || strcmp(space, WITSML_NAMESPACE) != 0) {
        dt_report_add(report, DT_MSG_WITSML_OBJECT, root ? (int)xmlGetLineNo(root) : 0, NULL,
                      "the first element is <%s> of \"%s\"",
                      root ? dt_show_cell((const char *)root->name).text : "",
                      dt_show_cell(space).text);
        return DT_E_INPUT;
    }
    const xmlNode *found = NULL;
    for (const xmlNode *at = root->children; at; at = at->next) {
        if (!is_named(at, "trajectory")) continue;
        if (found) {
            dt_report_add(report, DT_MSG_WITSML_OBJECT, (int)xmlGetLineNo(at), "trajectorys",
                          "there is more than one trajectory");
            dt_report_fix(report, "keep the one that is to be imported");
            return DT_E_INPUT;
        }
        found = at;
    }
    if (found) return read_trajectory(found, report, out);
    dt_report_add(report, DT_MSG_WITSML_OBJECT, (int)xmlGetLineNo(root), "trajectorys",
                  "there is no trajectory inside");
    return DT_E_INPUT;
}

dt_status dt_import_witsml(dt_lines *lines, dt_imported *out)
{
    char *text = NULL;
    size_t size = 0;
    bool doctype = false;
    int line = 0;
    dt_status status = read_whole(lines, &text, &size);
    if (status != DT_OK) return status;
    if (dt_xml_is_crowded(text, size, DT_XML_MOST_TAGS_WITSML, lines->report)) {
        free(text);
        return DT_E_INPUT;
    }
    xmlDocPtr doc = parse(text, size, &doctype, &line);
    free(text);
    if (doc)
        status = read_tree(doc, lines->report, out);
    else {
        dt_report_add(lines->report, doctype ? DT_MSG_XML_DOCTYPE : DT_MSG_XML_BROKEN, line, NULL,
                      doctype ? "the file has a DOCTYPE" : "the XML is not well formed");
        status = DT_E_INPUT;
    }
    xmlFreeDoc(doc);
    return status;
}

/* ---- into a well file ---- */

static xmlNodePtr child_named(xmlNodePtr root, const xmlChar *name)
{
    xmlNodePtr at = root->children;
    while (at && !(at->type == XML_ELEMENT_NODE && xmlStrEqual(at->name, name)))
        at = at->next;
    return at;
}

/** Puts a copy of the element in place of the one of its name, or before the root's end. */
static bool place(xmlNodePtr root, xmlNodePtr element)
{
    xmlNodePtr own = xmlDocCopyNode(element, root->doc, 1);
    if (!own) return false;
    xmlNodePtr old = child_named(root, own->name);
    if (old) {
        xmlReplaceNode(old, own);
        xmlFreeNode(old);
        return true;
    }
    xmlNodePtr indent = xmlNewDocText(root->doc, BAD_CAST "  "),
               end = xmlNewDocText(root->doc, BAD_CAST "\n");
    if (!indent || !end) {
        xmlFreeNode(own);
        xmlFreeNode(indent);
        xmlFreeNode(end);
        return false;
    }
    xmlAddChild(root, indent);
    xmlAddChild(root, own);
    xmlAddChild(root, end);
    return true;
}

static dt_status merge(xmlDocPtr into, xmlDocPtr parts, char **out)
{
    xmlNodePtr root = xmlDocGetRootElement(into), from = xmlDocGetRootElement(parts);
    for (xmlNodePtr at = from->children; at; at = at->next)
        if (at->type == XML_ELEMENT_NODE && !place(root, at)) return DT_E_MEMORY;
    xmlChar *bytes = NULL;
    int size = 0;
    xmlDocDumpMemoryEnc(into, &bytes, &size, "UTF-8");
    char *copy = bytes ? malloc((size_t)size + 1) : NULL;
    if (copy) {
        memcpy(copy, bytes, (size_t)size);
        copy[size] = '\0';
        *out = copy;
    }
    xmlFree(bytes);
    return copy ? DT_OK : DT_E_MEMORY;
}

dt_status dt_import_into(const dt_imported *imported, const char *well, size_t size, char **out)
{
    static const char open[] = "<well xmlns=\"urn:drawtube:well:1\">\n", close[] = "</well>";
    char *elements = NULL;
    dt_status status = dt_import_text(imported, &elements);
    if (status != DT_OK) return status;
    size_t room = strlen(elements) + sizeof open + sizeof close;
    char *wrapped = malloc(room);
    if (wrapped) snprintf(wrapped, room, "%s%s%s", open, elements, close);
    free(elements);
    bool doctype = false;
    int line = 0;
    xmlDocPtr parts = wrapped ? parse(wrapped, strlen(wrapped), &doctype, &line) : NULL;
    free(wrapped);
    if (!parts) return DT_E_MEMORY;
    bool fits =
        size <= DT_WELL_MAX_BYTES && !dt_xml_is_crowded(well, size, DT_XML_MOST_TAGS_WELL, NULL);
    xmlDocPtr into = fits ? parse(well, size, &doctype, &line) : NULL;
    xmlNodePtr root = into ? xmlDocGetRootElement(into) : NULL;
    status = root && is_named(root, "well") ? merge(into, parts, out) : DT_E_INPUT;
    xmlFreeDoc(parts);
    xmlFreeDoc(into);
    return status;
}
