/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_XML_SINK_H
#define DRAWTUBE_RENDER_XML_SINK_H

#include <libxml/xmlwriter.h>

#include "text.h"

/** A writer whose bytes go into the buffer; NULL when out of memory. xmlFreeTextWriter() flushes
 * it. */
xmlTextWriterPtr dt_xml_writer_into(dt_buffer *buffer);

#endif
