/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_HTML_H
#define DRAWTUBE_RENDER_HTML_H

#include <libxml/xmlwriter.h>

#include "text.h"

/*
 * Private to render/: HTML that is also well-formed XML, over xmlTextWriter. Indent stays 0,
 * since line breaks between inline elements would show. The first failure sticks and is
 * handed back by dt_html_end().
 */

typedef struct dt_html {
    dt_buffer bytes;
    xmlTextWriterPtr writer;
    dt_status status;
} dt_html;

/** Opens <html>; lang is a language tag. */
void dt_html_begin(dt_html *html, const char *lang);
/** Closes <html> and frees the writer, in every case. *out is set on DT_OK only. */
dt_status dt_html_end(dt_html *html, dt_text *out);

/** The same for other XML: a declaration first, and no root yet. */
void dt_xml_begin(dt_html *xml);
/** Closes the root, whose end tag is `closing`; otherwise as dt_html_end(). */
dt_status dt_xml_end(dt_html *xml, const char *closing, dt_text *out);

void dt_html_open(dt_html *html, const char *element);
/** The same with a class. */
void dt_html_open_class(dt_html *html, const char *element, const char *css_class);
/** Only right after opening; later ones are lost, and the writer fails. */
void dt_html_attribute(dt_html *html, const char *name, const char *value);
/** Closes with an end tag, even when empty. */
void dt_html_close(dt_html *html);
/** Closes an element that HTML gives no end tag (meta, img, col). */
void dt_html_close_void(dt_html *html);

/** Text, cleaned of what XML cannot carry; runs of white space become one space. */
void dt_html_text(dt_html *html, const char *text);
/** Text with its white space kept, `size` bytes that need not end in NUL. */
void dt_html_verbatim(dt_html *html, const char *text, size_t size);
/** Trusted markup or style, as it stands. */
void dt_html_raw(dt_html *html, const char *markup);

/** A whole element that holds only text; css_class may be NULL. */
void dt_html_element(dt_html *html, const char *element, const char *css_class, const char *text);

/** <img> of bytes held in the page itself. */
void dt_html_image(dt_html *html, const char *media_type, const dt_text *bytes, const char *alt);

/** Appends bytes in base64, RFC 4648 section 4. */
void dt_buffer_base64(dt_buffer *buffer, const char *bytes, size_t size);

#endif
