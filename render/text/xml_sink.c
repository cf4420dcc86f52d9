/* SPDX-License-Identifier: MIT */
#include "xml_sink.h"

static int sink_write(void *context, const char *bytes, int count)
{
    dt_buffer_bytes(context, bytes, (size_t)count);
    /* A failure is kept in the buffer: told here, libxml2 would print it on standard error. */
    return count;
}

static int sink_close(void *context)
{
    (void)context;
    return 0;
}

xmlTextWriterPtr dt_xml_writer_into(dt_buffer *buffer)
{
    xmlOutputBufferPtr sink = xmlOutputBufferCreateIO(sink_write, sink_close, buffer, NULL);
    xmlTextWriterPtr writer = sink ? xmlNewTextWriter(sink) : NULL;
    if (sink && !writer) xmlOutputBufferClose(sink);
    return writer;
}
