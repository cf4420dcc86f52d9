/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CLI_H
#define DRAWTUBE_CLI_H

#include <stdio.h>

#include <drawtube/draw.h>

/** How many an array has. */
#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

/** Exit codes of the command; docs/command.md. */
enum { EXIT_DONE = 0, EXIT_NO_PROGRAM = 1, EXIT_USAGE = 2, EXIT_REFUSED = 3, EXIT_SYSTEM = 4 };

/** --with may stand so often. */
#define CLI_MOST_CHANGES 8

/** What the options of all commands come down to. Strings are argv's own. */
typedef struct cli_options {
    const char *input; /* WELL */
    char **inputs;     /* all of them, where a command takes several */
    int input_count;
    const char *output; /* -o, NULL when absent */
    bool json, metric, help;
    bool units_given;                /* --units: else those that each well file is written in */
    dt_display display;              /* of what is printed and drawn; set when a well is read */
    const char *od, *weight, *grade; /* rate */
    const char *wall, *yield, *tensile, *wear; /* rate: pipe the catalogue does not have, wear */
    const char *tension, *internal, *external, *dogleg; /* rate: a stated load */
    const char *pipe_file, *stock_file, *bits_file;     /* catalogue changes */
    const char *samples, *seed, *threads, *precision;   /* odds */
    const char *string, *without, *set, *only;          /* why */
    bool png, pdf, docx, report_pdf, compare, all;
    dt_form form;
    bool survey, offsets; /* import ... */
    const char *depth_column, *pore_column, *fracture_column, *collapse_column, *overburden_column;
    const char *tolerance, *into;
    const char *as;                   /* export */
    const char *basis[DT_BASIS_MOST]; /* --basis, in the order given */
    size_t basis_count;
    const char *changes[CLI_MOST_CHANGES]; /* --with, in the order given */
    size_t change_count;
} cli_options;

/** One option of the command line: parsed, completed and documented from here. */
typedef enum cli_kind { CLI_FLAG, CLI_TEXT, CLI_UNITS, CLI_FORM, CLI_BASIS, CLI_CHANGE } cli_kind;

typedef struct cli_option {
    const char *name; /* after -- */
    int letter;       /* names the option in cli_command.takes */
    cli_kind kind;
    size_t member;      /* offset in cli_options, of a bool or a text */
    const char *values; /* "FILE", words to choose from, "FILE" and words, "" for anything; NULL:
                         * takes no value */
} cli_option;

typedef struct cli_command {
    const char *name;
    int (*run)(cli_options *options);
    const char *takes; /* letters of its options; '+': several wells in one call */
    bool needs_input;
    const char *help;
} cli_command;

const cli_option *cli_option_table(size_t *count);
const cli_command *cli_command_table(size_t *count);

int cli_plan(cli_options *options);
int cli_check(cli_options *options);
int cli_draw(cli_options *options);
int cli_start(cli_options *options);
int cli_rate(cli_options *options);
int cli_compare(cli_options *options);
int cli_compare_two(cli_options *options); /* where two wells are given */
int cli_odds(cli_options *options);
int cli_why(cli_options *options);
int cli_page(cli_options *options);
int cli_import(cli_options *options);
int cli_export(cli_options *options);
int cli_completion(cli_options *options);

/* ---- guard.c ---- */

/** Called first: closed standard streams, limits on files, and libxml2 without memory. */
void cli_guard(void);

/* ---- files.c ---- */

/** Standard error, or what stands for it while a thread plans one of several wells. */
FILE *cli_messages(void);
void cli_messages_to(FILE *file); /* NULL: to standard error again */

/** "drawtube: WHAT PATH: reason in errno" on standard error; returns code. */
int cli_say_error(int code, const char *what, const char *path);

/** A file's name for a message: what a terminal would obey is shown as '?', the end may lack. */
typedef struct cli_words {
    char text[512];
} cli_words;
cli_words cli_shown(const char *path);

/** Sends what was printed on its way. EXIT_DONE, or EXIT_SYSTEM after a message. */
int cli_flush(void);

/**
 * Reads a file ("-" is stdin) of at most limit bytes into a malloc'ed buffer; one byte more
 * than the limit is kept, so that the reader itself can refuse the size.
 * @return EXIT_DONE; EXIT_REFUSED when it cannot be read (a message is printed); EXIT_SYSTEM.
 */
int cli_read(const char *path, size_t limit, char **bytes, size_t *size);

/** One output waiting to be written: name inside the folder, and its bytes. */
typedef struct cli_file {
    char name[48];
    dt_text text;
} cli_file;

/** Makes a folder and those above it unless they are there. EXIT_DONE or EXIT_SYSTEM. */
int cli_make_folder(const char *folder);

/** "folder/name", malloc'ed; NULL when memory runs out. */
char *cli_join(const char *folder, const char *name);

/**
 * Writes one file beside its place and renames it when it is whole and on disk; devices and pipes
 * are written to directly. "-" is stdout.
 */
int cli_write_file(const char *path, const dt_text *text);

/** Writes to stdout and makes sure it arrived. */
int cli_print(const dt_text *text);

/* ---- folder.c ---- */

/**
 * Writes all files into a folder (made when absent) in the place of those that the same command
 * wrote there before; other files in it stay. The folder is wholly old or wholly new, whatever
 * becomes of the process (docs/decisions/0033). kind: the command, a word. gone: how many files
 * that it wrote there before are no part of the new; NULL: nobody asks.
 * @return EXIT_DONE; EXIT_SYSTEM after a message, or silently when a signal is about to end the
 * process: the folder is as it was.
 */
int cli_write_folder(const char *folder, const char *kind, const cli_file *files, size_t count,
                     size_t *gone);

/** On standard error, what was written into a folder and what was taken away. */
void cli_say_written(const char *folder, size_t written, size_t gone);

/* ---- progress.c ---- */

/** A bar on standard error for work that takes over a second, when it is a terminal. */
typedef struct cli_progress {
    const char *what;
    size_t total;
    double started_s, drawn_s;
    bool on, shown;
} cli_progress;

cli_progress cli_progress_begin(const char *what, size_t total);
void cli_progress_step(cli_progress *progress, size_t done);
/** Takes the bar away while something is printed; the next step draws it again. */
void cli_progress_hide(cli_progress *progress);
/** Takes the bar away again. */
void cli_progress_end(cli_progress *progress);

/* ---- input.c ---- */

/** How many notices of a program are of a gravity. */
size_t cli_count_notices(const dt_program *program, dt_gravity gravity);

/** On stderr that a program cannot be run as it stands, where it is not seen otherwise. */
void cli_say_runnable(const cli_options *options, const dt_program *program);

enum { CLI_MOST_THREADS = 64 };

/** --NAME as a whole number within limits; false after a message. */
bool cli_whole_number(const char *name, const char *text, unsigned long long least,
                      unsigned long long most, unsigned long long *out);

/** --threads, or as many as there are cores; false after a message. */
bool cli_read_threads(const cli_options *options, unsigned *out);

/** All findings to stderr, a line each, and a count of errors. */
int cli_print_report(const char *file, const dt_report *report);

/** The text of a basis that --basis names, read and found good, for whoever hands it on; *text,
 * freed by the caller, is NULL for one that comes with drawtube. An exit code; what is wrong is
 * said. */
int cli_basis_text(const char *word, char **text, size_t *size);

/** Reads and checks a well; prints all findings to stderr. */
int cli_load_well(cli_options *options, dt_well **well);

/** The same, and hands out the file's bytes; the caller frees *text, whatever is returned. */
int cli_load_source(cli_options *options, dt_well **well, char **text, size_t *size);

/** Loads the built-in catalogue and applies the user's files. */
int cli_load_catalogue(const cli_options *options, dt_catalogue **catalogue);

/** A well, a catalogue and the program made of them; freed together. */
typedef struct cli_planned {
    dt_well *well;
    dt_catalogue *catalogue;
    dt_program *program;
    char *text; /* of the well file */
    size_t size;
    const dt_text *graph;  /* the option graph once it is drawn; borrowed */
    const dt_text *report; /* program.html once it is written; borrowed */
} cli_planned;

/** Reads, checks and plans; says why not. *p must be zeroed, and freed in every case. */
int cli_make_plan(cli_options *options, cli_planned *p);
void cli_planned_free(cli_planned *p);

/** Why there is no program, on standard error, behind some words; frees the refusal. */
void cli_say_refusal(const cli_options *options, const char *lead, dt_refusal *refusal);

/** Exit code of a status that no message has been printed for yet; prints one. */
int cli_fail(dt_status status);

#endif
