/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_PAGES_H
#define DRAWTUBE_RENDER_PAGES_H

#include "comparison.h"
#include "program.h"
#include "text.h"

/* Pages to read and to print. */

/** The well file a program was made from, as it was read. All borrowed. */
typedef struct dt_source {
    const char *file; /* as the user typed it */
    const char *text;
    size_t size;
} dt_source;

/**
 * The program as one self-contained page of HTML: drawings inside it, no script, nothing to
 * load, made to be read on a screen and printed on A4 or Letter. Each figure that program.json
 * holds names its place there in a data-json attribute. The source is echoed with its line
 * numbers and tells which settings were stated. comparison may be NULL: then no options are
 * shown beside the program. option_graph is the drawing of dt_draw_options(), NULL where there is
 * none: it comes from a library of its own.
 * @return DT_OK; DT_E_MEMORY; DT_E_INPUT when the source is not the file of this program.
 */
dt_status dt_write_report(const dt_program *program, const dt_comparison *comparison,
                          const dt_source *source, const dt_text *option_graph, dt_display display,
                          dt_text *out);

/** One page to print: the drawing, the bills line by line, what each buys and risks. */
dt_status dt_write_comparison_page(const dt_comparison *comparison, dt_display display,
                                   dt_text *out);

#endif
