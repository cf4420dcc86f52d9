/* SPDX-License-Identifier: MIT */
#include <libxml/parser.h>
#include <libxml/tree.h>
#include <stdlib.h>
#include <string.h>

#include "selfcheck.h"

/*
 * From the tree of the file one element, or one attribute, is left out at a time; what leaves the
 * check failing stays out. Rounds are repeated until one changes nothing.
 */

static char *text_of(xmlDoc *doc)
{
    xmlChar *bytes = NULL;
    int size = 0;
    xmlDocDumpMemory(doc, &bytes, &size);
    char *text = bytes ? malloc((size_t)size + 1) : NULL;
    if (text) {
        memcpy(text, bytes, (size_t)size);
        text[size] = '\0';
    }
    xmlFree(bytes);
    return text;
}

static bool still_fails(const bench *b, xmlDoc *doc, const char *check)
{
    trial *t = malloc(sizeof *t);
    char *text = text_of(doc);
    bool fails = false;
    if (t && text && trial_run(b, text, strlen(text), t)) {
        for (size_t i = 0; i < t->verdict.count; ++i)
            fails = fails || strcmp(t->verdict.items[i].check, check) == 0;
        trial_free(t);
    }
    free(text);
    free(t);
    return fails;
}

typedef struct shrinking {
    const bench *b;
    xmlDoc *doc;
    const char *check;
    size_t tried, taken;
} shrinking;

static bool fails_now(shrinking *s)
{
    ++s->tried;
    if (!still_fails(s->b, s->doc, s->check)) return false;
    ++s->taken;
    return true;
}

static void try_attributes(shrinking *s, xmlNode *element)
{
    size_t count = 0;
    for (xmlAttr *a = element->properties; a; a = a->next)
        ++count;
    for (; count > 0; --count) {
        /* the first goes, or comes back as the last: the order of attributes means nothing */
        xmlAttr *a = element->properties;
        xmlChar *value = xmlGetProp(element, a->name), *name = xmlStrdup(a->name);
        xmlRemoveProp(a);
        if (!fails_now(s)) xmlNewProp(element, name, value);
        xmlFree(value);
        xmlFree(name);
    }
}

/** The last children first: points of a table go before what they were added to. */
static void try_children(shrinking *s, xmlNode *parent)
{
    for (xmlNode *child = parent->last, *before; child; child = before) {
        before = child->prev;
        xmlNode *next = child->next;
        if (child->type != XML_ELEMENT_NODE) {
            xmlUnlinkNode(child); /* white space and comments are nobody's fault */
            xmlFreeNode(child);
            continue;
        }
        xmlUnlinkNode(child);
        if (fails_now(s)) {
            xmlFreeNode(child);
            continue;
        }
        if (next)
            xmlAddPrevSibling(next, child);
        else
            xmlAddChild(parent, child);
        try_children(s, child);
        try_attributes(s, child);
    }
}

char *shrink(const bench *b, const char *text, const char *check, size_t *tried)
{
    xmlDoc *doc = xmlReadMemory(text, (int)strlen(text), "random", NULL,
                                XML_PARSE_NONET | XML_PARSE_NOBLANKS);
    if (!doc) return NULL;
    shrinking s = {.b = b, .doc = doc, .check = check};
    xmlNode *root = xmlDocGetRootElement(doc);
    size_t before;
    do {
        before = s.taken;
        try_children(&s, root);
    } while (s.taken > before);
    xmlKeepBlanksDefault(0);
    xmlChar *bytes = NULL;
    int size = 0;
    xmlDocDumpFormatMemory(doc, &bytes, &size, 1);
    char *small = bytes ? malloc((size_t)size + 1) : NULL;
    if (small) {
        memcpy(small, bytes, (size_t)size);
        small[size] = '\0';
    }
    xmlFree(bytes);
    xmlFreeDoc(doc);
    *tried = s.tried;
    return small;
}
