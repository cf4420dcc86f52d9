/* SPDX-License-Identifier: MIT */
/* From untrusted bytes to a tree that fits the schema. Only this file and well_read.c know
 * libxml2. */
#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <libxml/tree.h>
#include <libxml/xmlerror.h>
#include <libxml/xmlschemas.h>

#include <stdio.h>
#include <string.h>

#include "well_parts.h"
#include "xml_crowd.h"

extern const char dt_embedded_schema[];
extern const size_t dt_embedded_schema_size;
extern const char dt_embedded_basis_schema[];
extern const size_t dt_embedded_basis_schema_size;

/* Never NOENT, DTDLOAD or HUGE: with NOENT an external entity reads local files, HUGE takes off
 * the depth limit and the amplification guard. BIG_LINES keeps lines right past 65,535. */
#define PARSE_OPTIONS                                                                              \
    (XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING | XML_PARSE_BIG_LINES)

#define WELL_NAMESPACE "urn:drawtube:well:1"
#define XSI_NAMESPACE  "http://www.w3.org/2001/XMLSchema-instance"

#if LIBXML_VERSION >= 21200
typedef const xmlError *error_pointer;
#else
typedef xmlErrorPtr error_pointer;
#endif

/* ---- parsing ---- */

typedef struct parse_state {
    dt_report *report;
    bool refused; /* trust this, not the tree: a stopped parser hands out an empty one */
    bool out_of_memory;
} parse_state;

static bool is_encoding_error(int code)
{
    return code == XML_ERR_INVALID_ENCODING || code == XML_ERR_INVALID_CHAR ||
           code == XML_ERR_UNSUPPORTED_ENCODING || code == XML_ERR_UNKNOWN_ENCODING ||
           code == XML_I18N_CONV_FAILED || code == XML_I18N_NO_HANDLER;
}

/** Only the first error is reported: what follows it is mostly its echo. */
static void on_parse_error(void *data, error_pointer error)
{
    xmlParserCtxtPtr context = data;
    parse_state *state = context->_private;
    if (error->code == XML_ERR_NO_MEMORY) state->out_of_memory = true;
    if (error->level < XML_ERR_ERROR || state->refused) return;
    state->refused = true;

    char sentence[128]; /* libxml2's messages end in a line break, some go on after it */
    snprintf(sentence, sizeof sentence, "%s", error->message ? error->message : "");
    sentence[strcspn(sentence, "\n")] = '\0';
    dt_quoted words = dt_quote(sentence);
    dt_message id = DT_MSG_XML_BROKEN;
    if (is_encoding_error(error->code)) id = DT_MSG_XML_ENCODING;
    if (error->code == XML_ERR_INTERNAL_ERROR && context->nameNr >= (int)xmlParserMaxDepth - 1)
        id = DT_MSG_XML_TOO_DEEP;
    if (id == DT_MSG_XML_TOO_DEEP)
        dt_report_add(state->report, id, error->line, NULL,
                      "more than %u elements stand inside one another", xmlParserMaxDepth);
    else if (id == DT_MSG_XML_ENCODING)
        dt_report_add(state->report, id, error->line, NULL,
                      "the bytes here are no text in the encoding of the file");
    else if (error->code == XML_ERR_DOCUMENT_EMPTY)
        dt_report_add(state->report, id, error->line, NULL,
                      "this is not XML: no element starts here");
    else
        dt_report_add(state->report, id, error->line, NULL, "the XML is not well formed: %s",
                      words.text);
    xmlStopParser(context);
}

static void on_doctype(void *data, const xmlChar *name, const xmlChar *external,
                       const xmlChar *system)
{
    (void)name, (void)external, (void)system;
    xmlParserCtxtPtr context = data;
    parse_state *state = context->_private;
    if (!state->refused)
        dt_report_add(state->report, DT_MSG_XML_DOCTYPE, xmlSAX2GetLineNumber(context), NULL,
                      "the file has a DOCTYPE, which could define entities or name other files");
    state->refused = true;
    xmlStopParser(context);
}

static void stay_silent(void *context, xmlErrorPtr error)
{
    (void)context;
    (void)error;
}

/** Parses; NULL without out_of_memory means refused. */
static xmlDocPtr parse_quietly(const char *text, size_t size, parse_state *state)
{
    xmlParserCtxtPtr context = xmlNewParserCtxt();
    if (!context) {
        state->out_of_memory = true;
        return NULL;
    }
    context->_private = state;
    context->sax->serror = on_parse_error;
    context->sax->internalSubset = on_doctype;
    xmlDocPtr doc = xmlCtxtReadMemory(context, text, (int)size, NULL, NULL, PARSE_OPTIONS);
    /* libxml2 takes a zero byte behind the last element for the end of the file */
    const struct _xmlParserInput *input = context->input;
    if (doc && !state->refused && input && input->cur < input->end) {
        dt_report_add(state->report, DT_MSG_XML_ENCODING, input->line, NULL,
                      "a zero byte stands behind the last element");
        state->refused = true;
    }
    bool failed = state->refused || state->out_of_memory;
    if (!doc && !failed) state->out_of_memory = true;
    if (failed) {
        xmlFreeDoc(doc);
        doc = NULL;
    }
    xmlFreeParserCtxt(context);
    return doc;
}

/**
 * Bytes that an encoding cannot hold are reported past the parser's own handler, on standard
 * error; the handler of this thread takes them. The parser reports the same file itself.
 */
static xmlDocPtr parse_text(const char *text, size_t size, parse_state *state)
{
    xmlStructuredErrorFunc handler = xmlStructuredError;
    void *handler_context = xmlStructuredErrorContext;
    xmlSetStructuredErrorFunc(NULL, stay_silent);
    xmlDocPtr doc = parse_quietly(text, size, state);
    xmlSetStructuredErrorFunc(handler_context, handler);
    return doc;
}

/* ---- what the schema allows, looked up in the schema itself ---- */

static const char *attribute_text(const xmlNode *node, const char *name)
{
    for (const xmlAttr *at = node->properties; at; at = at->next)
        if (!at->ns && strcmp((const char *)at->name, name) == 0)
            return at->children ? (const char *)at->children->content : "";
    return NULL;
}

static bool is_named(const xmlNode *node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0;
}

/** The top-level definition of that sort ("complexType", "simpleType") and name. */
static const xmlNode *schema_type(const xmlNode *schema, const char *sort, const char *name)
{
    for (const xmlNode *at = schema->children; name && at; at = at->next) {
        const char *own = is_named(at, sort) ? attribute_text(at, "name") : NULL;
        if (own && strcmp(own, name) == 0) return at;
    }
    return NULL;
}

/** Next node below `top` in document order, NULL at the end. */
static const xmlNode *next_below(const xmlNode *top, const xmlNode *at)
{
    if (at->children) return at->children;
    while (at && at != top && !at->next)
        at = at->parent;
    return at && at != top ? at->next : NULL;
}

/** Declaration of the child element or attribute (`sort`) of that name in a type. */
static const xmlNode *schema_member(const xmlNode *type, const char *sort, const char *name)
{
    for (const xmlNode *at = next_below(type, type); at; at = next_below(type, at)) {
        const char *own = is_named(at, sort) ? attribute_text(at, "name") : NULL;
        if (own && strcmp(own, name) == 0) return at;
    }
    return NULL;
}

/** True for a type that takes any element (xs:any). */
static bool schema_is_open(const xmlNode *type)
{
    for (const xmlNode *at = next_below(type, type); at; at = next_below(type, at))
        if (is_named(at, "any")) return true;
    return false;
}

/** "a, b, c": the names (or values) of all `sort` below a type, for messages. */
typedef struct choices {
    char text[512];
} choices;

static choices schema_choices(const xmlNode *type, const char *sort, const char *key)
{
    choices list = {""};
    size_t used = 0;
    for (const xmlNode *at = next_below(type, type); at; at = next_below(type, at)) {
        if (!is_named(at, sort)) continue;
        int more = snprintf(list.text + used, sizeof list.text - used, "%s%s", used ? ", " : "",
                            attribute_text(at, key));
        if (more < 0 || (size_t)more >= sizeof list.text - used) break;
        used += (size_t)more;
    }
    return list;
}

/* ---- holding the tree against the schema ---- */

typedef struct examiner {
    dt_report *report;
    const xmlNode *schema;          /* root of the schema's own tree */
    const xmlNode *attributes_told; /* element whose attributes have been reported */
    bool out_of_memory;
} examiner;

static int node_line(const xmlNode *node)
{
    return (int)xmlGetLineNo(node);
}

dt_place dt_place_of(const xmlNode *node, const char *attribute)
{
    dt_place where;
    const xmlNode *parent = node->parent;
    bool inside = parent && parent->type == XML_ELEMENT_NODE && parent->parent &&
                  parent->parent->type == XML_ELEMENT_NODE;
    dt_quoted outer = dt_quote(inside ? (const char *)parent->name : "");
    dt_quoted own = dt_quote((const char *)node->name);
    dt_quoted at = dt_quote(attribute ? attribute : "");
    snprintf(where.text, sizeof where.text, "%s%s%s%s%s", outer.text, inside ? "/" : "", own.text,
             attribute ? "/@" : "", at.text);
    return where;
}

static void report_unknown_element(examiner *x, const xmlNode *node, const xmlNode *type)
{
    dt_quoted name = dt_quote((const char *)node->name);
    dt_quoted parent = dt_quote((const char *)node->parent->name);
    choices allowed = schema_choices(type, "element", "name");
    dt_place where = dt_place_of(node, NULL);
    dt_report_add(x->report, DT_MSG_ELEMENT_UNKNOWN, node_line(node), where.text,
                  "<%s> is not known inside <%s>", name.text, parent.text);
    if (*allowed.text)
        dt_report_fix(x->report, "<%s> may hold: %s", parent.text, allowed.text);
    else
        dt_report_fix(x->report, "<%s> holds no elements", parent.text);
}

static bool in_namespace(const xmlNs *ns, const char *uri)
{
    return ns && ns->href && strcmp((const char *)ns->href, uri) == 0;
}

/**
 * Attributes of the schema-instance namespace never reach the validator. schemaLocation is a hint
 * to editors and dropped: libxml2 2.9 opens the file it names only when it has no schema of its
 * own, and this does not lean on that. The others (type, nil) have no use in a well file.
 */
static void drop_instance_attributes(examiner *x, xmlNodePtr node)
{
    for (xmlAttrPtr at = node->properties, next = NULL; at; at = next) {
        next = at->next;
        if (!in_namespace(at->ns, XSI_NAMESPACE)) continue;
        const char *name = (const char *)at->name;
        if (strcmp(name, "schemaLocation") != 0 && strcmp(name, "noNamespaceSchemaLocation") != 0) {
            dt_place where = dt_place_of(node, name);
            dt_report_add(
                x->report, DT_MSG_ATTRIBUTE_UNKNOWN, node_line(node), where.text,
                "attributes of the schema-instance namespace are not used in a well file");
            dt_report_fix(x->report, "remove the attribute");
        }
        xmlRemoveProp(at);
    }
}

/** White space around an element taken out would count as text where only elements may stand. */
static void drop_blanks(xmlNodePtr parent)
{
    for (xmlNodePtr at = parent->children, next = NULL; at; at = next) {
        next = at->next;
        if (!xmlIsBlankNode(at)) continue;
        xmlUnlinkNode(at);
        xmlFreeNode(at);
    }
}

/**
 * Reports and takes out every element the schema does not know. The validator alone would
 * report the first in each parent and skip all that follows it.
 * Recursion ends at the parser's own depth limit (256).
 */
static void prune_unknown(examiner *x, xmlNodePtr node, const xmlNode *type)
{
    drop_instance_attributes(x, node);
    bool pruned = false;
    for (xmlNodePtr at = node->children, next = NULL; at; at = next) {
        next = at->next;
        if (at->type != XML_ELEMENT_NODE) continue;
        const xmlNode *known = in_namespace(at->ns, WELL_NAMESPACE)
                                   ? schema_member(type, "element", (const char *)at->name)
                                   : NULL;
        if (known) {
            const char *name = attribute_text(known, "type");
            const xmlNode *inner = schema_type(x->schema, "complexType", name);
            if (inner && !schema_is_open(inner)) prune_unknown(x, at, inner);
            continue;
        }
        report_unknown_element(x, at, type);
        xmlUnlinkNode(at);
        xmlFreeNode(at);
        pruned = true;
    }
    if (!pruned) return;
    node->_private = node;
    drop_blanks(node);
}

/** The schema's type of an element of the pruned tree. */
static const xmlNode *type_of(const examiner *x, const xmlNode *node)
{
    if (!node->parent || node->parent->type != XML_ELEMENT_NODE)
        return schema_type(x->schema, "complexType", "well");
    const xmlNode *outer = type_of(x, node->parent);
    const xmlNode *member =
        outer ? schema_member(outer, "element", (const char *)node->name) : NULL;
    return member ? schema_type(x->schema, "complexType", attribute_text(member, "type")) : NULL;
}

/** The words an attribute's declaration allows; empty when any text will do. */
static choices words_of(const examiner *x, const xmlNode *declaration)
{
    const xmlNode *type = schema_type(x->schema, "simpleType", attribute_text(declaration, "type"));
    return type ? schema_choices(type, "enumeration", "value") : (choices){""};
}

static bool is_one_of(const examiner *x, const xmlNode *declaration, const char *value)
{
    const xmlNode *type = schema_type(x->schema, "simpleType", attribute_text(declaration, "type"));
    for (const xmlNode *at = type ? next_below(type, type) : NULL; at; at = next_below(type, at))
        if (is_named(at, "enumeration") && strcmp(attribute_text(at, "value"), value) == 0)
            return true;
    return false;
}

static void report_missing_attribute(examiner *x, const xmlNode *node, const xmlNode *declaration)
{
    const char *name = attribute_text(declaration, "name");
    dt_place where = dt_place_of(node, name);
    choices allowed = words_of(x, declaration);
    dt_report_add(x->report, DT_MSG_ATTRIBUTE_MISSING, node_line(node), where.text,
                  "<%s> has no %s", (const char *)node->name, name);
    dt_report_fix(x->report, "add %s=\"...\"%s%s", name, *allowed.text ? ", one of " : "",
                  allowed.text);
}

static void report_unknown_attribute(examiner *x, const xmlNode *node, const char *attribute,
                                     const xmlNode *type)
{
    dt_place where = dt_place_of(node, attribute);
    dt_quoted name = dt_quote(attribute);
    choices allowed = schema_choices(type, "attribute", "name");
    dt_report_add(x->report, DT_MSG_ATTRIBUTE_UNKNOWN, node_line(node), where.text,
                  "<%s> has no attribute %s", (const char *)node->name, name.text);
    if (*allowed.text)
        dt_report_fix(x->report, "<%s> may have: %s", (const char *)node->name, allowed.text);
    else
        dt_report_fix(x->report, "<%s> has no attributes", (const char *)node->name);
}

static void report_bad_word(examiner *x, const xmlNode *node, const char *attribute,
                            const char *value, const char *allowed)
{
    dt_place where = dt_place_of(node, attribute);
    dt_quoted shown = dt_quote(value);
    dt_report_add(x->report, DT_MSG_VALUE_NOT_ALLOWED, node_line(node), where.text,
                  "\"%s\" is not a value of %s", shown.text, attribute);
    dt_report_fix(x->report, "write one of %s", allowed);
}

/**
 * Everything wrong with an element's attributes. The validator names the element at fault, the
 * attribute only inside a sentence; so its first complaint brings us here, once an element.
 */
static void report_attributes(examiner *x, const xmlNode *node, const xmlNode *type)
{
    if (x->attributes_told == node) return;
    x->attributes_told = node;
    for (const xmlNode *at = next_below(type, type); at; at = next_below(type, at)) {
        const char *use = is_named(at, "attribute") ? attribute_text(at, "use") : NULL;
        bool required = use && strcmp(use, "required") == 0;
        if (required && !attribute_text(node, attribute_text(at, "name")))
            report_missing_attribute(x, node, at);
    }
    for (const xmlAttr *at = node->properties; at; at = at->next) {
        const char *name = (const char *)at->name;
        const xmlNode *known = at->ns ? NULL : schema_member(type, "attribute", name);
        if (!known) {
            report_unknown_attribute(x, node, name, type);
            continue;
        }
        choices allowed = words_of(x, known);
        const char *value = at->children ? (const char *)at->children->content : "";
        if (*allowed.text && value && !is_one_of(x, known, value))
            report_bad_word(x, node, name, value, allowed.text);
    }
}

static void report_missing_child(examiner *x, const xmlNode *node, const xmlNode *type)
{
    if (node->_private) return; /* a child was there, but unknown: told already */
    dt_place where = dt_place_of(node, NULL);
    choices allowed = schema_choices(type, "element", "name");
    dt_report_add(x->report, DT_MSG_ELEMENT_MISSING, node_line(node), where.text,
                  "<%s> holds no <%s>", (const char *)node->name, allowed.text);
    dt_report_fix(x->report, "add at least one <%s>, or leave <%s> out where it is optional",
                  allowed.text, (const char *)node->name);
}

static void on_schema_error(void *data, error_pointer error)
{
    examiner *x = data;
    if (error->code == XML_ERR_NO_MEMORY) x->out_of_memory = true;
    const xmlNode *node = error->node;
    if (!node) return; /* the caller sees the validator's return code */
    if (node->type == XML_ATTRIBUTE_NODE) node = node->parent;
    const xmlNode *type = type_of(x, node);
    if (!type) return;

    switch (error->code) {
    case XML_SCHEMAV_ELEMENT_CONTENT:
        report_missing_child(x, node, type);
        break;
    case XML_SCHEMAV_CVC_COMPLEX_TYPE_2_1:
    case XML_SCHEMAV_CVC_COMPLEX_TYPE_2_3: {
        dt_place where = dt_place_of(node, NULL);
        dt_report_add(x->report, DT_MSG_TEXT_NOT_ALLOWED, node_line(node), where.text,
                      "text stands inside <%s>, which holds none", (const char *)node->name);
        break;
    }
    default: /* all other rules of our schema are about attributes */
        report_attributes(x, node, type);
    }
}

static void on_schema_text_error(void *data, error_pointer error)
{
    (void)data, (void)error; /* the schema is ours and tested: the return code says enough */
}

/** Root element and namespace; nothing else is looked at when they are wrong. */
static bool check_root(const xmlNode *root, const char *wanted, dt_report *report)
{
    bool named = strcmp((const char *)root->name, wanted) == 0;
    if (named && in_namespace(root->ns, WELL_NAMESPACE)) return true;
    dt_quoted name = dt_quote((const char *)root->name);
    dt_quoted ns = dt_quote(root->ns && root->ns->href ? (const char *)root->ns->href : "");
    if (named)
        dt_report_add(report, DT_MSG_ROOT_UNKNOWN, node_line(root), name.text,
                      "<%s> is in the namespace \"%s\"", wanted, ns.text);
    else
        dt_report_add(report, DT_MSG_ROOT_UNKNOWN, node_line(root), name.text,
                      "the first element is <%s>", name.text);
    if (strcmp(wanted, "basis") == 0)
        dt_report_fix(report,
                      "the first element of a basis must be <basis xmlns=\"%s\" "
                      "name=\"...\">",
                      WELL_NAMESPACE);
    return false;
}

/** Compiles the schema and validates. DT_OK whatever was found. */
static dt_status validate(xmlDocPtr doc, xmlDocPtr schema_doc, examiner *x)
{
    dt_status status = DT_E_MEMORY;
    xmlSchemaParserCtxtPtr compiler = NULL;
    xmlSchemaPtr schema = NULL;
    xmlSchemaValidCtxtPtr validator = NULL;

    compiler = xmlSchemaNewDocParserCtxt(schema_doc);
    if (!compiler) goto done;
    xmlSchemaSetParserStructuredErrors(compiler, on_schema_text_error, NULL);
    schema = xmlSchemaParse(compiler);
    if (!schema) goto done;
    validator = xmlSchemaNewValidCtxt(schema);
    if (!validator) goto done;
    xmlSchemaSetValidStructuredErrors(validator, on_schema_error, x);
    int found = xmlSchemaValidateDoc(validator, doc);
    if (found < 0 || x->out_of_memory) goto done;
    /* Invalid, yet nothing told: never let such a file pass. */
    if (found > 0 && x->report->errors == 0)
        dt_report_add(x->report, DT_MSG_VALUE_NOT_ALLOWED, 0, NULL,
                      "the file does not fit the schema (libxml2 code %d)", found);
    status = DT_OK;
done:
    xmlSchemaFreeValidCtxt(validator);
    xmlSchemaFree(schema);
    xmlSchemaFreeParserCtxt(compiler);
    return status;
}

dt_status dt_well_open(const char *text, size_t size, dt_report *report, struct _xmlDoc **out)
{
    dt_status status = DT_E_MEMORY;
    xmlDocPtr doc = NULL, schema_doc = NULL;
    parse_state state = {.report = report};
    parse_state schema_state = {.report = report};

    if (dt_xml_is_crowded(text, size, DT_XML_MOST_TAGS_WELL, report)) return DT_OK;
    doc = parse_text(text, size, &state);
    if (state.out_of_memory) goto done;
    if (!doc || !check_root(xmlDocGetRootElement(doc), "well", report)) {
        xmlFreeDoc(doc);
        doc = NULL;
        status = DT_OK;
        goto done;
    }

    schema_doc = parse_text(dt_embedded_schema, dt_embedded_schema_size, &schema_state);
    if (!schema_doc) goto done;
    examiner x = {.report = report, .schema = xmlDocGetRootElement(schema_doc)};
    prune_unknown(&x, xmlDocGetRootElement(doc), schema_type(x.schema, "complexType", "well"));
    status = validate(doc, schema_doc, &x);
done:
    xmlFreeDoc(schema_doc);
    if (status == DT_OK) {
        *out = doc;
    } else {
        xmlFreeDoc(doc);
    }
    return status;
}

/* ---- a basis ---- */

/** wells/basis.xsd with the types of wells/well.xsd in the place of its xs:include: nothing is ever
 * looked for in a folder. NULL when memory runs out. */
static xmlDocPtr basis_schema(parse_state *state)
{
    xmlDocPtr doc = parse_text(dt_embedded_basis_schema, dt_embedded_basis_schema_size, state);
    xmlDocPtr well = parse_text(dt_embedded_schema, dt_embedded_schema_size, state);
    xmlNodePtr root = doc ? xmlDocGetRootElement(doc) : NULL;
    bool whole = root && well;
    for (xmlNodePtr at = whole ? root->children : NULL, next = NULL; at; at = next) {
        next = at->next;
        if (!is_named(at, "include")) continue;
        xmlUnlinkNode(at);
        xmlFreeNode(at);
    }
    for (xmlNodePtr at = whole ? xmlDocGetRootElement(well)->children : NULL; at; at = at->next) {
        if (at->type != XML_ELEMENT_NODE) continue;
        xmlNodePtr made = xmlDocCopyNode(at, doc, 1);
        if (made)
            xmlAddChild(root, made);
        else
            whole = false;
    }
    xmlFreeDoc(well);
    if (whole) return doc;
    xmlFreeDoc(doc);
    return NULL;
}

typedef struct first_error {
    int line;
    bool out_of_memory;
} first_error;

static void keep_first(void *data, error_pointer error)
{
    first_error *first = data;
    if (error->code == XML_ERR_NO_MEMORY) first->out_of_memory = true;
    if (first->line > 0) return;
    const xmlNode *node = error->node;
    if (node && node->type == XML_ATTRIBUTE_NODE) node = node->parent;
    first->line = node ? node_line(node) : 1;
}

static dt_status validate_basis(xmlDocPtr doc, xmlDocPtr schema_doc, int *schema_line)
{
    dt_status status = DT_E_MEMORY;
    first_error first = {0};
    xmlSchemaPtr schema = NULL;
    xmlSchemaValidCtxtPtr validator = NULL;
    xmlSchemaParserCtxtPtr compiler = xmlSchemaNewDocParserCtxt(schema_doc);
    if (!compiler) goto done;
    xmlSchemaSetParserStructuredErrors(compiler, on_schema_text_error, NULL);
    schema = xmlSchemaParse(compiler);
    if (!schema) goto done;
    validator = xmlSchemaNewValidCtxt(schema);
    if (!validator) goto done;
    xmlSchemaSetValidStructuredErrors(validator, keep_first, &first);
    const int found = xmlSchemaValidateDoc(validator, doc);
    if (found < 0 || first.out_of_memory) goto done;
    *schema_line = found == 0 ? 0 : first.line > 0 ? first.line : 1;
    status = DT_OK;
done:
    xmlSchemaFreeValidCtxt(validator);
    xmlSchemaFree(schema);
    xmlSchemaFreeParserCtxt(compiler);
    return status;
}

dt_status dt_basis_tree(const char *text, size_t size, dt_report *report, struct _xmlDoc **out,
                        int *schema_line)
{
    *out = NULL;
    *schema_line = 0;
    if (dt_xml_is_crowded(text, size, DT_XML_MOST_TAGS_WELL, report)) return DT_OK;
    parse_state state = {.report = report}, schema_state = {.report = report};
    xmlDocPtr doc = parse_text(text, size, &state), schema_doc = NULL;
    if (state.out_of_memory) return DT_E_MEMORY;
    if (!doc || !check_root(xmlDocGetRootElement(doc), "basis", report)) {
        xmlFreeDoc(doc);
        return DT_OK;
    }
    examiner x = {.report = report};
    drop_instance_attributes(&x, xmlDocGetRootElement(doc));
    dt_status status = DT_E_MEMORY;
    schema_doc = basis_schema(&schema_state);
    if (schema_doc) status = validate_basis(doc, schema_doc, schema_line);
    xmlFreeDoc(schema_doc);
    if (status == DT_OK)
        *out = doc;
    else
        xmlFreeDoc(doc);
    return status;
}

const struct _xmlNode *dt_well_root(struct _xmlDoc *doc)
{
    return xmlDocGetRootElement(doc);
}

void dt_well_free_doc(struct _xmlDoc *doc)
{
    xmlFreeDoc(doc);
}
