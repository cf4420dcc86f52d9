/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_PUBLIC_DOCX_H
#define DRAWTUBE_PUBLIC_DOCX_H

/* The report as a document for a word processor, by libzip and the pictures: libdrawtube-docx. */

#include <drawtube/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Whether this build has libzip, librsvg and cairo, which a document takes. */
DT_API bool dt_docx_built_in(void);

/**
 * A report of dt_write_report() as Office Open XML (ISO/IEC 29500, transitional): what it says in
 * headings, lists and tables, each of its drawings as SVG beside a picture of 300 dots an inch.
 * The same report gives the same bytes. A figure keeps its place in program.json in the attribute
 * `place` (urn:drawtube:report:1) of its runs, which word processors pass over.
 * DT_OK; DT_E_INPUT when the text is no report; DT_E_IO when documents are not built in, or
 * a picture cannot be made; DT_E_MEMORY.
 */
DT_API dt_status dt_write_docx(const dt_text *report, dt_text *out);

#ifdef __cplusplus
}
#endif

#endif
