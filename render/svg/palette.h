/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_PALETTE_H
#define DRAWTUBE_RENDER_PALETTE_H

/*
 * The colours and hatches of every drawing. Hues start from the Okabe-Ito palette, which
 * keeps apart for the common forms of colour blindness (M. Okabe, K. Ito, "Color Universal
 * Design", 2008). Colour is never the only code: each area has a hatch of its own, each
 * line a dash of its own. Text colours have a contrast of at least 4.5 on white
 * (WCAG 2.2, 1.4.3); tests/render/test_drawings.c computes it.
 */

#define DT_FONT_STACK "Liberation Sans, Arial, Helvetica, sans-serif"

#define DT_PAPER "#ffffff"

/* text */
#define DT_TEXT       "#1a1a1a"
#define DT_TEXT_QUIET "#555555"
#define DT_TEXT_BLUE  "#005a8c"
#define DT_TEXT_RUST  "#a64900"
#define DT_TEXT_GREEN "#006b4e"
#define DT_TEXT_MAUVE "#8a3a66"

/* lines */
#define DT_LINE       "#1a1a1a"
#define DT_LINE_QUIET "#8c8c8c"
#define DT_LINE_FAINT "#d9d9d9"
#define DT_BLUE       "#0072b2"
#define DT_RUST       "#d55e00"
#define DT_GREEN      "#009e73"
#define DT_MAUVE      "#cc79a7"

/* areas */
#define DT_ROCK   "#f2ede4"
#define DT_HOLE   "#fffdf5"
#define DT_STEEL  "#22303c"
#define DT_CEMENT "#c9d0d4"
#define DT_WATER  "#dcebf6"
#define DT_WINDOW "#eaf3e6"
#define DT_CHOSEN "#fff3c4"

/** One family of parallel lines: a hatch has one or two. Lengths in drawing units. */
typedef struct dt_hatch_family {
    double angle_deg; /* 0 is along x, positive turns clockwise on the page */
    double spacing;   /* between neighbours, 0 for no such family */
    double on, off;   /* dash pattern along the line; off 0 is a full line */
    double stagger;   /* every second line starts its dashes this far along */
} dt_hatch_family;

typedef struct dt_hatch {
    const char *name;  /* interval kind, or the area's own name */
    const char *words; /* in legends */
    const char *fill, *ink, *text;
    double width;
    dt_hatch_family family[2];
} dt_hatch;

/** The hatch of an interval kind; an unknown kind has a hatch of its own. */
const dt_hatch *dt_hatch_of_kind(const char *kind);

extern const dt_hatch dt_hatch_pay;
extern const dt_hatch dt_hatch_water;
extern const dt_hatch dt_hatch_cement[2]; /* neighbouring strings alternate */

#endif
