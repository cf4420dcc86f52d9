/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_REPORT_H
#define DRAWTUBE_RENDER_REPORT_H

#include <jansson.h>
#include <libxml/tree.h>

#include "comparison.h"
#include "html.h"
#include "pages.h"
#include "wording.h"

/*
 * Private to render/: the parts of program.html. report.c holds the table of sections and
 * the page around them; the other report_*.c fill them.
 * A new section is one row of the table and one function.
 */

typedef struct dt_page {
    dt_html html;
    const dt_program *program;
    const dt_comparison *comparison; /* NULL: none was made */
    dt_display display;
    const dt_source *source;
    xmlDocPtr tree; /* of the source, to look up what it states; owned by dt_write_report() */
    json_t *json;   /* program.json, as it is written; owned by dt_write_report() */
    dt_text file;   /* the source in UTF-8; bytes NULL where its encoding is not known here */
    dt_text schematic, window, course; /* SVG; course.bytes is NULL for a vertical well */
    dt_text options;                   /* NULL without a layout engine */
    double schematic_mm;               /* height of the schematic of the first page, on paper */
    bool schematic_apart;              /* the first page has no room for it */
    size_t review_beside; /* lines of review that the first page has room for; the rest follows */
    bool more_review;
} dt_page;

/** Writes the body of a section; the heading is already there. */
typedef void (*dt_section_writer)(dt_page *page);

/** Where a section stands: on the first page, in the body behind it, or in the appendix. */
typedef enum dt_report_part { DT_PART_COVER, DT_PART_BODY, DT_PART_APPENDIX } dt_report_part;

typedef struct dt_report_section {
    dt_report_part part;
    const char *id, *heading;
    dt_section_writer write;
    bool (*wanted)(const dt_page *page); /* NULL: always */
    bool new_page;                       /* in print it begins one */
} dt_report_section;

/* ---- figures: each names its place in program.json ---- */

/** Path of a figure in program.json: "strings.2.mud_ppg". */
typedef struct dt_json_path {
    char text[96];
} dt_json_path;

#if defined(__GNUC__)
__attribute__((format(printf, 1, 2)))
#endif
dt_json_path
dt_json(const char *format, ...);

/** A figure with its unit in running text. A dash when it is not finite. */
void dt_page_figure(dt_page *page, dt_kind kind, double si, dt_json_path path);
/** A cell with the figure in the unit of the column's head, and small below it in that of the other
 * system, where the two differ. */
void dt_page_cell_both(dt_page *page, dt_kind kind, double si, dt_json_path path);
/** A cell with the figure alone; the unit stands in the column's head. */
void dt_page_cell(dt_page *page, dt_kind kind, double si, dt_json_path path);
/** A cell with a diameter in fractions of an inch. */
void dt_page_inches(dt_page *page, double diameter_m, dt_json_path path);
/** A cell, or a span in running text, that shows the text of program.json. */
void dt_page_words(dt_page *page, const char *element, const char *text, dt_json_path path);

/* ---- what several sections need ---- */

/** Opens <section><table> with a caption; the section scrolls where the table is wider than the
 * page. */
void dt_page_table(dt_page *page, const char *caption);
/** One column head. Its unit is a literal one, or that of the kind, or none. */
typedef struct dt_column {
    const char *words;
    bool number;
    const char *unit;
    bool has_kind;
    dt_kind kind;
} dt_column;
#define DT_WORDS(words)                                                                            \
    {                                                                                              \
        words, false, NULL, false, DT_KIND_LENGTH                                                  \
    }
#define DT_NUMBER(words)                                                                           \
    {                                                                                              \
        words, true, NULL, false, DT_KIND_LENGTH                                                   \
    }
#define DT_NUMBER_IN(words, unit)                                                                  \
    {                                                                                              \
        words, true, unit, false, DT_KIND_LENGTH                                                   \
    }
#define DT_QUANTITY(words, kind)                                                                   \
    {                                                                                              \
        words, true, NULL, true, kind                                                              \
    }

void dt_page_head(dt_page *page, const dt_column *columns, size_t count);
/** The same over cells of dt_page_cell_both(): each unit over the other. */
void dt_page_head_both(dt_page *page, const dt_column *columns, size_t count);
void dt_page_table_end(dt_page *page);
/** Row head: <th scope="row">. */
void dt_page_row_head(dt_page *page, const char *text);
/** The same of a text it takes over; a text there was no memory for is the page's failure. */
void dt_page_row_head_of(dt_page *page, dt_buffer *text);
/** The same with the string of a place in the list: "9-5/8 in production". */
void dt_page_string_head(dt_page *page, size_t position);
/** Term and description of a list; the description is left open when text is NULL. */
/** String at a place of program.json's list: from the surface down, a tie-back after its liner. */
const dt_program_string *dt_page_item(const dt_page *page, size_t position);

void dt_page_term(dt_page *page, const char *term, const char *text);
/** The text of a buffer as an element's content; empties the buffer. */
void dt_page_say(dt_page *page, const char *element, const char *css_class, dt_buffer *text);
/** Words that lead to a line of the well file, where that is shown. */
void dt_page_line(dt_page *page, const char *words, long line);
/** A figure with its caption. */
void dt_page_drawing(dt_page *page, const dt_text *svg, const char *alt, const char *caption);

/* ---- sections ---- */

void dt_section_program(dt_page *page); /* the first page */
void dt_section_full(dt_page *page);    /* the columns that it has no room for */
void dt_section_why(dt_page *page);
void dt_section_window(dt_page *page);
void dt_section_course(dt_page *page);
void dt_section_reasons(dt_page *page);
void dt_section_sizes(dt_page *page);
void dt_section_strength(dt_page *page);
void dt_section_wellhead(dt_page *page);
void dt_section_hangers(dt_page *page);
bool dt_wants_hangers(const dt_page *page);
void dt_section_options(dt_page *page);
void dt_section_all_options(dt_page *page);
bool dt_wants_options(const dt_page *page);
void dt_section_sheets(dt_page *page);
void dt_section_jobs(dt_page *page);
void dt_section_kick(dt_page *page);
void dt_section_influx(dt_page *page);
void dt_section_bill(dt_page *page);
bool dt_wants_kick(const dt_page *page);
bool dt_wants_bill(const dt_page *page);
void dt_section_stoppers(dt_page *page);
bool dt_wants_stoppers(const dt_page *page);
void dt_section_review(dt_page *page);
/** Height of a schematic that has a page nearly for itself. */
#define DT_SCHEMATIC_MOST_MM 225.0
/** Settles how high the schematic is that the first page has room for. DT_OK; DT_E_MEMORY. */
dt_status dt_page_measure_cover(dt_page *page);
/** Settles how much of the review stands on the first page. DT_OK; DT_E_MEMORY. */
dt_status dt_page_split_review(dt_page *page);
bool dt_wants_review(const dt_page *page); /* what the first page has no room for */
void dt_section_assumed(dt_page *page);
void dt_section_settings(dt_page *page);
void dt_section_inputs(dt_page *page);
void dt_section_file(dt_page *page);
void dt_section_reading(dt_page *page);

#endif
