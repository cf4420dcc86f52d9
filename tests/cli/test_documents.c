/* SPDX-License-Identifier: MIT */
/*
 * docs/well-file.md and wells/well.xsd say the same: every element, attribute and word of the
 * schema is in the page, in a section that tells about its element, and the page's headings and
 * tables name nothing that the schema does not know.
 */
#include <libxml/parser.h>
#include <libxml/tree.h>

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "palette.h"
#include "well.h"

typedef struct section {
    char *text; /* heading line and what follows it; into the page */
    size_t heading, size;
} section;

typedef struct page {
    char *bytes;
    section sections[64];
    size_t count;
} page;

static char *read_source(const char *name)
{
    char path[512];
    snprintf(path, sizeof path, "%s/../%s", DT_TESTS, name);
    FILE *file = fopen(path, "rb");
    if (!file) fail_msg("%s is not there", path);
    char *bytes = calloc(1, 1 << 20);
    assert_non_null(bytes);
    assert_true(fread(bytes, 1, (1 << 20) - 1, file) > 0);
    fclose(file);
    return bytes;
}

static void read_page(page *p)
{
    p->bytes = read_source("docs/well-file.md");
    p->count = 0;
    for (char *at = strstr(p->bytes, "\n## "); at; at = strstr(at + 1, "\n## ")) {
        char *next = strstr(at + 1, "\n## ");
        assert_true(p->count < 64);
        section *s = &p->sections[p->count++];
        s->text = at + 1;
        s->heading = strcspn(at + 1, "\n");
        s->size = next ? (size_t)(next - at - 1) : strlen(at + 1);
    }
}

static bool within(const char *text, size_t size, const char *word)
{
    size_t length = strlen(word);
    for (size_t i = 0; i + length <= size; ++i)
        if (memcmp(text + i, word, length) == 0) return true;
    return false;
}

/** Is the element told in the section? "<pay>" or "<pay name=" anywhere in it. */
static bool is_about(const section *s, const char *element)
{
    char tag[80], open[80];
    snprintf(tag, sizeof tag, "<%s>", element);
    snprintf(open, sizeof open, "<%s ", element);
    return within(s->text, s->size, tag) || within(s->text, s->size, open);
}

static bool in_word(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/** Does the word stand in the text, not as a part of another? */
static bool has_word(const section *s, const char *word)
{
    size_t length = strlen(word);
    for (size_t i = 1; i + length < s->size; ++i)
        if (memcmp(s->text + i, word, length) == 0 && !in_word(s->text[i - 1]) &&
            !in_word(s->text[i + length]))
            return true;
    return false;
}

static char *attribute(const xmlNode *node, const char *name)
{
    return (char *)xmlGetProp((xmlNodePtr)(uintptr_t)node, BAD_CAST name);
}

static bool is_named(const xmlNode *node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0;
}

static const xmlNode *find_type(const xmlNode *schema, const char *name)
{
    for (const xmlNode *at = schema->children; at; at = at->next) {
        if (at->type != XML_ELEMENT_NODE) continue;
        char *own = attribute(at, "name");
        bool same = own && strcmp(own, name) == 0 && !is_named(at, "element");
        xmlFree(own);
        if (same) return at;
    }
    return NULL;
}

typedef void (*visit)(const xmlNode *, void *);

static void each_below(const xmlNode *node, const char *name, visit call, void *context)
{
    for (const xmlNode *at = node->children; at; at = at->next) {
        if (is_named(at, name)) call(at, context);
        each_below(at, name, call, context);
    }
}

/* ---- from the schema to the page ---- */

typedef struct look {
    const page *page;
    const xmlNode *schema;
    const char *element;
    size_t elements, attributes, words, missing;
} look;

static bool page_says(const look *l, const char *word)
{
    for (size_t i = 0; i < l->page->count; ++i)
        if (is_about(&l->page->sections[i], l->element) && has_word(&l->page->sections[i], word))
            return true;
    return false;
}

/** Noted and not failed at once, so that one run tells all that is missing. */
static void miss(look *l, const char *word)
{
    print_error("<%s>: docs/well-file.md does not say `%s`\n", l->element, word);
    ++l->missing;
}

static void check_word(const xmlNode *node, void *context)
{
    look *l = context;
    char *value = attribute(node, "value");
    if (!page_says(l, value)) miss(l, value);
    ++l->words;
    xmlFree(value);
}

static void check_attribute(const xmlNode *node, void *context)
{
    look *l = context;
    char *name = attribute(node, "name"), *type = attribute(node, "type");
    if (!page_says(l, name)) miss(l, name);
    ++l->attributes;
    const xmlNode *words = type ? find_type(l->schema, type) : NULL;
    if (words) each_below(words, "enumeration", check_word, l);
    xmlFree(name);
    xmlFree(type);
}

static void check_schema_element(const xmlNode *node, void *context)
{
    look *l = context;
    char *name = attribute(node, "name"), *type = attribute(node, "type");
    bool found = strcmp(name, "point") == 0; /* told in the section of the tables */
    for (size_t i = 0; i < l->page->count; ++i)
        found = found || is_about(&l->page->sections[i], name);
    if (!found) {
        print_error("docs/well-file.md does not tell about <%s>\n", name);
        ++l->missing;
    }
    ++l->elements;
    char table[80]; /* a point is told where its table is: of type temperature_point, <temperature>
                     */
    snprintf(table, sizeof table, "%s", type ? type : "");
    char *ending = strstr(table, "_point");
    if (ending) *ending = '\0';
    l->element = strcmp(name, "point") != 0 ? name : ending ? table : "pore_pressure";
    const xmlNode *own = type ? find_type(l->schema, type) : NULL;
    assert_non_null(own);
    each_below(own, "attribute", check_attribute, l);
    xmlFree(name);
    xmlFree(type);
}

static void the_page_tells_all_of_the_schema(void **state)
{
    (void)state;
    char *bytes = read_source("wells/well.xsd");
    xmlDocPtr doc = xmlReadMemory(bytes, (int)strlen(bytes), NULL, NULL, XML_PARSE_NONET);
    assert_non_null(doc);
    page p;
    read_page(&p);
    look l = {.page = &p, .schema = xmlDocGetRootElement(doc)};
    each_below(l.schema, "element", check_schema_element, &l);
    print_message("%zu elements, %zu attributes, %zu words\n", l.elements, l.attributes, l.words);
    assert_int_equal(l.missing, 0);
    assert_true(l.elements > 20 && l.attributes > 60 && l.words > 20);
    xmlFreeDoc(doc);
    free(p.bytes);
    free(bytes);
}

/* ---- from the page to the schema ---- */

typedef struct known {
    const char *name;
    bool found;
} known;

static void match_name(const xmlNode *node, void *context)
{
    known *k = context;
    char *name = attribute(node, "name");
    k->found = k->found || (name && strcmp(name, k->name) == 0);
    xmlFree(name);
}

static bool schema_knows(const xmlNode *schema, const char *sort, const char *name)
{
    known k = {name, false};
    each_below(schema, sort, match_name, &k);
    return k.found;
}

/** Checks every `word` of a stretch of text against a sort of declaration. */
static size_t check_quoted(const xmlNode *schema, const char *sort, const char *text, size_t size)
{
    size_t checked = 0;
    for (const char *at = memchr(text, '`', size); at && at < text + size;) {
        const char *end = memchr(at + 1, '`', (size_t)(text + size - at - 1));
        if (!end) break;
        char word[96];
        snprintf(word, sizeof word, "%.*s", (int)(end - at - 1), at + 1);
        char *name = word;
        const char *kind = name[0] == '<' ? "element" : sort;
        if (name[0] == '<') ++name;
        name[strcspn(name, ">")] = '\0';
        name[strcspn(name, " =")] = '\0';
        if (!schema_knows(schema, kind, name))
            fail_msg("the page has %s `%s`, the schema has not", kind, name);
        ++checked;
        at = memchr(end + 1, '`', (size_t)(text + size - end - 1));
    }
    return checked;
}

static void the_page_tells_nothing_else(void **state)
{
    (void)state;
    char *bytes = read_source("wells/well.xsd");
    xmlDocPtr doc = xmlReadMemory(bytes, (int)strlen(bytes), NULL, NULL, XML_PARSE_NONET);
    assert_non_null(doc);
    const xmlNode *schema = xmlDocGetRootElement(doc);
    page p;
    read_page(&p);
    size_t headings = 0, rows = 0;
    for (size_t i = 0; i < p.count; ++i) {
        const section *s = &p.sections[i];
        if (!within(s->text, s->heading, "`<")) continue;
        headings += check_quoted(schema, "element", s->text, s->heading);
        for (const char *row = strstr(s->text, "\n| "); row && row < s->text + s->size;
             row = strstr(row + 1, "\n| ")) {
            const char *end = strchr(row + 3, '|');
            if (row[3] != '`' && strncmp(row + 3, "**`", 3) != 0) continue;
            rows += check_quoted(schema, "attribute", row + 3, (size_t)(end - row - 3));
        }
    }
    print_message("%zu headings, %zu rows\n", headings, rows);
    assert_true(headings > 15 && rows > 40);
    xmlFreeDoc(doc);
    free(p.bytes);
    free(bytes);
}

/* A kind of interval has a hatch and is told: dt_interval_kinds(), palette.c and two pages agree.
 */
static void every_kind_of_interval_is_drawn_and_told(void **state)
{
    (void)state;
    char *reference = read_source("docs/well-file.md"), *drawings = read_source("docs/drawings.md");
    const char *row = strstr(reference, "chooses the pattern in the drawing:");
    assert_non_null(row);
    for (const char *const *kind = dt_interval_kinds(); *kind; ++kind) {
        const char *told = strstr(row, *kind);
        if (!told || told > strchr(row, '\n'))
            fail_msg("docs/well-file.md does not tell %s", *kind);
        if (strcmp(*kind, "other") == 0) continue;
        const dt_hatch *hatch = dt_hatch_of_kind(*kind);
        if (strcmp(hatch->name, *kind) != 0)
            fail_msg("render/svg/palette.c has no hatch for %s", *kind);
        char words[32];
        snprintf(words, sizeof words, "%s", *kind);
        for (char *at = words; (at = strchr(at, '-')) != NULL;)
            *at = ' ';
        if (!strstr(drawings, words)) fail_msg("docs/drawings.md does not tell %s", words);
    }
    free(reference);
    free(drawings);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_page_tells_all_of_the_schema),
        cmocka_unit_test(the_page_tells_nothing_else),
        cmocka_unit_test(every_kind_of_interval_is_drawn_and_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
