/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PLANNER_XML_CROWD_H
#define DRAWTUBE_PLANNER_XML_CROWD_H

#include <stdbool.h>
#include <stddef.h>

#include "findings.h"

/* libxml2 compares every attribute of a tag with every other before it hands out the first: a tag
 * of 100,000 would hold it for minutes. So what no honest file has is counted before it reads. */

/** Attributes of one tag; the fullest element of a well file may have about thirty. */
#define DT_XML_MOST_ATTRIBUTES ((size_t)200)
/** Tags of a well file: a list holds 2000 entries, and there are a dozen lists. */
#define DT_XML_MOST_TAGS_WELL ((size_t)150000)
/** Tags of a survey: 2000 stations with everything WITSML may say about one. */
#define DT_XML_MOST_TAGS_WITSML ((size_t)500000)

/**
 * Counts what a parser of XML would have to hold.
 * @param text, size  the file, any bytes; UTF-8 and what holds ASCII, UTF-16, UCS-4, EBCDIC.
 * @param most_tags   elements, those in comments too.
 * @return true when there is too much; the report then says so, with the line; NULL is allowed.
 */
bool dt_xml_is_crowded(const char *text, size_t size, size_t most_tags, dt_report *report);

#endif
