/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CLI_H
#define DRAWTUBE_CLI_H

#include "drawtube/drawings.h"

/** Exit codes of the command; docs/command.md. */
enum { EXIT_DONE = 0, EXIT_NO_PROGRAM = 1, EXIT_USAGE = 2, EXIT_REFUSED = 3, EXIT_SYSTEM = 4 };

/** What the options of all commands come down to. Strings are argv's own. */
typedef struct cli_options {
    const char *input;  /* WELL */
    const char *output; /* -o, NULL when absent */
    bool json, metric, help;
    dt_display display;
    const char *od, *weight, *grade;           /* rate */
    const char *wall, *yield, *tensile, *wear; /* rate: pipe the catalogue does not have, wear */
    const char *tension, *internal, *external, *dogleg; /* rate: a stated load */
    const char *pipe_file, *stock_file, *bits_file; /* catalogue changes */
    const char *samples, *seed, *threads, *precision; /* odds */
    const char *string, *without, *set, *only;        /* why */
} cli_options;

int cli_plan(const cli_options *options);
int cli_check(const cli_options *options);
int cli_draw(const cli_options *options);
int cli_compare(const cli_options *options);
int cli_start(const cli_options *options);
int cli_rate(const cli_options *options);
int cli_odds(const cli_options *options);
int cli_why(const cli_options *options);

/* ---- files.c ---- */

/**
 * Reads a file ("-" is stdin) of at most limit bytes into a malloc'ed buffer; one byte more
 * than the limit is kept, so that the reader itself can refuse the size.
 * @return EXIT_DONE; EXIT_REFUSED when it cannot be read (a message is printed); EXIT_SYSTEM.
 */
int cli_read(const char *path, size_t limit, char **bytes, size_t *size);

/** One output waiting to be written: name inside the folder, and its bytes. */
typedef struct cli_file {
    const char *name;
    dt_text text;
} cli_file;

/**
 * Writes all files into a folder (made when absent), each first under a temporary name;
 * they get their names only when all are on disk. EXIT_DONE or EXIT_SYSTEM, nothing half.
 */
int cli_write_folder(const char *folder, const cli_file *files, size_t count);

/** Writes one file the same way; devices and pipes are written to directly. "-" is stdout. */
int cli_write_file(const char *path, const dt_text *text);

/** Writes to stdout and makes sure it arrived. */
int cli_print(const dt_text *text);

/* ---- input.c ---- */

/** Reads and checks a well; prints all findings to stderr. */
int cli_load_well(const cli_options *options, dt_well **well);

/** Loads the built-in catalogue and applies the user's files. */
int cli_load_catalogue(const cli_options *options, dt_catalogue *catalogue);

/** A well, a catalogue and the program made of them; freed together. */
typedef struct cli_planned {
    dt_well *well;
    dt_catalogue catalogue;
    dt_program *program;
} cli_planned;

/** Reads, checks and plans; says why not. *p must be zeroed, and freed in every case. */
int cli_make_plan(const cli_options *options, cli_planned *p);
void cli_planned_free(cli_planned *p);

/** Exit code of a status that no message has been printed for yet; prints one. */
int cli_fail(dt_status status);

#endif
