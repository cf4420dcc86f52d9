/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_REVIEW_WORDS_H
#define DRAWTUBE_RENDER_REVIEW_WORDS_H

#include "notice_words.h"

/* What a reviewer reads of a program: what stops it, what to look at, what was assumed. */

/** Notices for review in the order they are read, as indices into program->notices. */
typedef struct dt_review {
    size_t *order; /* owned */
    size_t count;
} dt_review;

/**
 * First those whose figures tell how close they are, the worst before the others; then those about
 * a string; then those about the whole well, of which those come last that only name what the well
 * file lacks; each as they were raised. DT_OK, freed by dt_review_free(); DT_E_MEMORY.
 */
dt_status dt_review_make(const dt_program *program, dt_review *out);
void dt_review_free(dt_review *review);

/** What there is over what is needed, or the other way round where less is better: 1 just does. NAN
 * where the figures of a notice do not tell. */
double dt_notice_closeness(const dt_notice *notice);

/** Line of the well file that a notice is about: its own, or that of its string's pin; 0: none. */
int dt_notice_line(const dt_program *program, const dt_notice *notice);

/** "2 stoppers to cure", after "NOT RUNNABLE: ". Returns as snprintf does. */
int dt_stoppers_words(const dt_program *program, char *buffer, size_t size);

/** One value that was taken where nothing was stated. Texts are owned. */
typedef struct dt_assumed {
    size_t notice; /* index of the one that tells it */
    char *what, *taken, *from;
} dt_assumed;

typedef struct dt_assumptions {
    dt_assumed *items;
    size_t count;
} dt_assumptions;

/** Every one, each by itself where a notice tells several. DT_OK, freed by dt_assumptions_free();
 * as dt_notice_words(). */
dt_status dt_assumptions_make(const dt_program *program, dt_display display, dt_assumptions *out);
void dt_assumptions_free(dt_assumptions *assumptions);

#endif
