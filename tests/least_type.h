/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_LEAST_TYPE_H
#define DRAWTUBE_TESTS_LEAST_TYPE_H

#include <libxml/parser.h>
#include <libxml/tree.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"

/*
 * Type on paper. SVG 1.1, 7.7 to 7.9: a font-size counts in the units of the viewBox, and the width
 * of the picture is so many of these. A point is 1/72 in.
 */

#define LEAST_TYPE_PT 8.0 /* what paper asks for */

typedef struct paper_drawing {
    double width_mm, height_mm; /* its own size */
    double least_type_mm;       /* of its smallest text at that size */
    char words[64];             /* that text */
} paper_drawing;

static inline double paper_number(const xmlNode *node, const char *name)
{
    xmlChar *text = xmlGetNoNsProp(node, BAD_CAST name);
    double value = text ? strtod((const char *)text, NULL) : NAN;
    xmlFree(text);
    return value;
}

/** The smallest font-size of a text below a node, in the units of the drawing. */
static inline void paper_walk(const xmlNode *node, double *least, char words[64])
{
    for (; node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE) continue;
        if (strcmp((const char *)node->name, "text") == 0) {
            const double size = paper_number(node, "font-size");
            assert_true(isfinite(size)); /* each says its own */
            if (size < *least) {
                xmlChar *content = xmlNodeGetContent(node);
                *least = size;
                snprintf(words, 64, "%.60s", (const char *)content);
                xmlFree(content);
            }
        }
        paper_walk(node->children, least, words);
    }
}

static inline paper_drawing paper_measure(const char *svg, size_t size)
{
    xmlDocPtr doc = xmlReadMemory(svg, (int)size, NULL, NULL, XML_PARSE_NONET);
    assert_non_null(doc);
    const xmlNode *root = xmlDocGetRootElement(doc);
    paper_drawing out = {.width_mm = paper_number(root, "width"),
                         .height_mm = paper_number(root, "height"),
                         .least_type_mm = INFINITY};
    xmlChar *view = xmlGetNoNsProp(root, BAD_CAST "viewBox");
    double box[4];
    assert_int_equal(sscanf((const char *)view, "%lf %lf %lf %lf", box, box + 1, box + 2, box + 3),
                     4);
    xmlFree(view);
    paper_walk(root, &out.least_type_mm, out.words);
    out.least_type_mm *= out.width_mm / box[2];
    xmlFreeDoc(doc);
    return out;
}

/** Fails where a drawing that stands so wide on paper has text under 8 pt. */
static inline void paper_check(const paper_drawing *d, double placed_mm, const char *what)
{
    const double points = d->least_type_mm * placed_mm / d->width_mm / 25.4 * 72;
    if (points < LEAST_TYPE_PT)
        fail_msg("%s prints \"%s\" in %.2f pt, %.0f mm wide", what, d->words, points, placed_mm);
}

#endif
