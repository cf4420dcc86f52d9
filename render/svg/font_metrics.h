/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_FONT_METRICS_H
#define DRAWTUBE_RENDER_FONT_METRICS_H

/*
 * Advance widths in thousandths of the type size, U+0020 to U+007E, as Adobe's font metric
 * files for Helvetica and Helvetica-Bold print them. Liberation Sans and Arial are drawn to
 * the same advances, so one table serves the whole font stack.
 */
static const unsigned short dt_advance_regular[95] = {
    278,  278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278,
    278, /* space to / */
    556,  556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584,
    556, /* 0 to ? */
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722,
    778, /* @ to O */
    667,  778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
    556, /* P to _ */
    333,  556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556,
    556,                                                                        /* ` to o */
    556,  556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584, /* p to ~ */
};
static const unsigned short dt_advance_bold[95] = {
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, /* space to / */
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, /* 0 to ? */
    975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778, /* @ to O */
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556, /* P to _ */
    333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, /* ` to o */
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,      /* p to ~ */
};

/*
 * Beyond ASCII the drawings need an upper bound, not the exact figure: a label box may be
 * too wide, never too narrow. First match wins.
 */
typedef struct dt_advance_range {
    unsigned first, last;
    unsigned short advance;
} dt_advance_range;

static const dt_advance_range dt_advance_ranges[] = {
    {0x0300, 0x036F, 0},    /* combining marks */
    {0x200B, 0x200F, 0},    /* zero-width characters */
    {0x00A0, 0x00A0, 278},  /* hard space */
    {0x00B0, 0x00B0, 400},  /* degree */
    {0x2013, 0x2013, 556},  /* en dash */
    {0x2018, 0x201D, 500},  /* quotation marks */
    {0x0080, 0x024F, 1000}, /* Latin letters with marks; AE and OE are the widest */
    {0x0250, 0x052F, 1100}, /* Greek, Cyrillic */
};
#define DT_ADVANCE_OTHER 1300 /* whatever font the viewer finds */

#endif
