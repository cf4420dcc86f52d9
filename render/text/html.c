/* SPDX-License-Identifier: MIT */
#include "html.h"

#include <stdlib.h>
#include <string.h>

#include "xml_sink.h"

static void html_check(dt_html *html, int written)
{
    if (written < 0 && html->status == DT_OK) html->status = DT_E_MEMORY;
}

void dt_html_open(dt_html *html, const char *element)
{
    if (html->status != DT_OK) return;
    html_check(html, xmlTextWriterStartElement(html->writer, BAD_CAST element));
}

void dt_html_open_class(dt_html *html, const char *element, const char *css_class)
{
    dt_html_open(html, element);
    if (css_class) dt_html_attribute(html, "class", css_class);
}

void dt_html_attribute(dt_html *html, const char *name, const char *value)
{
    if (html->status != DT_OK) return;
    char *clean;
    if (dt_text_clean(value, &clean) != DT_OK) {
        html->status = DT_E_MEMORY;
        return;
    }
    html_check(html, xmlTextWriterWriteAttribute(html->writer, BAD_CAST name, BAD_CAST clean));
    free(clean);
}

void dt_html_close(dt_html *html)
{
    if (html->status != DT_OK) return;
    html_check(html, xmlTextWriterFullEndElement(html->writer));
}

void dt_html_close_void(dt_html *html)
{
    if (html->status != DT_OK) return;
    html_check(html, xmlTextWriterEndElement(html->writer));
}

void dt_html_raw(dt_html *html, const char *markup)
{
    if (html->status != DT_OK) return;
    html_check(html, xmlTextWriterWriteRaw(html->writer, BAD_CAST markup));
}

void dt_html_text(dt_html *html, const char *text)
{
    size_t size = strlen(text);
    if (html->status != DT_OK || size == 0) return;
    char *clean;
    if (dt_text_clean(text, &clean) != DT_OK) {
        html->status = DT_E_MEMORY;
        return;
    }
    /* Cleaning trims; a space beside an inline element has to stay. */
    if (text[0] == ' ') dt_html_raw(html, " ");
    html_check(html, xmlTextWriterWriteString(html->writer, BAD_CAST clean));
    if (size > 1 && text[size - 1] == ' ') dt_html_raw(html, " ");
    free(clean);
}

/** What may stand in a page as it is: tab, and no character that hides or turns others. */
static bool shows(unsigned code_point)
{
    return code_point == '\t' ||
           (code_point >= 0x20 && (code_point < 0x7F || code_point > 0x9F) &&
            (code_point & 0xFFFE) != 0xFFFE && !(code_point >= 0xFDD0 && code_point <= 0xFDEF) &&
            !(code_point >= 0x202A && code_point <= 0x202E) &&
            !(code_point >= 0x2066 && code_point <= 0x2069) && code_point != 0xFEFF);
}

void dt_html_verbatim(dt_html *html, const char *text, size_t size)
{
    dt_buffer copy = {0}, clean = {0};
    dt_buffer_bytes(&copy, text, size); /* NUL-terminated: no sequence is read past the end */
    dt_buffer_bytes(&clean, "", 0);
    for (size_t at = 0; !copy.failed && at < size;) {
        unsigned code_point;
        size_t length = dt_utf8_next(copy.bytes + at, &code_point);
        if (length == 1 && code_point == 0xFFFD)
            dt_buffer_text(&clean, "\xEF\xBF\xBD");
        else if (shows(code_point))
            dt_buffer_bytes(&clean, copy.bytes + at, length);
        at += length;
    }
    if (copy.failed || clean.failed)
        html->status = DT_E_MEMORY;
    else if (html->status == DT_OK)
        html_check(html, xmlTextWriterWriteString(html->writer, BAD_CAST clean.bytes));
    dt_buffer_free(&copy);
    dt_buffer_free(&clean);
}

void dt_html_element(dt_html *html, const char *element, const char *css_class, const char *text)
{
    dt_html_open_class(html, element, css_class);
    dt_html_text(html, text);
    dt_html_close(html);
}

void dt_buffer_base64(dt_buffer *buffer, const char *bytes, size_t size)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const unsigned char *in = (const unsigned char *)bytes;
    for (size_t at = 0; at < size; at += 3) {
        size_t left = size - at;
        unsigned group = (unsigned)in[at] << 16 | (left > 1 ? (unsigned)in[at + 1] << 8 : 0) |
                         (left > 2 ? (unsigned)in[at + 2] : 0);
        const char out[4] = {digits[group >> 18 & 63], digits[group >> 12 & 63],
                             left > 1 ? digits[group >> 6 & 63] : '=',
                             left > 2 ? digits[group & 63] : '='};
        dt_buffer_bytes(buffer, out, sizeof out);
    }
}

void dt_html_image(dt_html *html, const char *media_type, const dt_text *bytes, const char *alt)
{
    dt_buffer source = {0};
    dt_buffer_text(&source, "data:");
    dt_buffer_text(&source, media_type);
    dt_buffer_text(&source, ";base64,");
    dt_buffer_base64(&source, bytes->bytes, bytes->size);
    dt_html_open(html, "img");
    if (source.failed)
        html->status = DT_E_MEMORY;
    else
        dt_html_attribute(html, "src", source.bytes);
    dt_html_attribute(html, "alt", alt);
    dt_html_close_void(html);
    dt_buffer_free(&source);
}

static void open_writer(dt_html *html)
{
    *html = (dt_html){0};
    html->writer = dt_xml_writer_into(&html->bytes);
    if (!html->writer) html->status = DT_E_MEMORY;
}

void dt_html_begin(dt_html *html, const char *lang)
{
    open_writer(html);
    dt_html_raw(html, "<!DOCTYPE html>\n");
    dt_html_open(html, "html");
    dt_html_attribute(html, "lang", lang);
}

void dt_xml_begin(dt_html *xml)
{
    open_writer(xml);
    if (xml->status == DT_OK)
        html_check(xml, xmlTextWriterStartDocument(xml->writer, NULL, "UTF-8", NULL));
}

dt_status dt_xml_end(dt_html *xml, const char *closing, dt_text *out)
{
    size_t tail = strlen(closing);
    if (xml->writer) {
        dt_html_close(xml);
        if (xml->status == DT_OK) html_check(xml, xmlTextWriterEndDocument(xml->writer));
        xmlFreeTextWriter(xml->writer); /* flushes into xml->bytes */
        xml->writer = NULL;
    }
    while (xml->bytes.size > 0 && xml->bytes.bytes[xml->bytes.size - 1] == '\n')
        --xml->bytes.size;
    /* libxml2 does not report every failed allocation; a whole page ends with its end tag. */
    bool whole = xml->bytes.size > tail &&
                 memcmp(xml->bytes.bytes + xml->bytes.size - tail, closing, tail) == 0;
    if (xml->status == DT_OK && !whole) xml->status = DT_E_MEMORY;
    if (xml->status != DT_OK) {
        dt_buffer_free(&xml->bytes);
        return xml->status;
    }
    dt_buffer_text(&xml->bytes, "\n");
    return dt_buffer_take(&xml->bytes, out);
}

dt_status dt_html_end(dt_html *html, dt_text *out)
{
    return dt_xml_end(html, "</html>", out);
}
