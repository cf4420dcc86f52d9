/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_CLI_WRITING_H
#define DRAWTUBE_CLI_WRITING_H

#include <signal.h>

#include "cli.h"

/*
 * What writing a file and writing a folder share: temporary names, which run they belong to, and
 * the signals that wait. docs/decisions/0033.
 */

/** Holds back what would end the process; the mask to go back to is in *before. */
void cli_hold_signals(sigset_t *before);

/** Whether a signal that ends the process is waiting. */
bool cli_told_to_end(void);

/** Lets a waiting signal end the process. */
void cli_release_signals(const sigset_t *before);

typedef enum cli_lock {
    CLI_LOCKED,  /* ours until the descriptor, or any other of the same file, is closed */
    CLI_BUSY,    /* a run that is alive has it */
    CLI_NO_LOCKS /* not to be had here: the file is open for reading, or there are none */
} cli_lock;

/** Tries for the lock of an open file. A killed process has none. */
cli_lock cli_try_lock(int descriptor);

/** "FOLDER/.NAME.new-XXXXXX" for mkstemp and mkdtemp beside path, malloc'ed; NULL: no memory. */
char *cli_temporary_name(const char *path);

/**
 * Calls visit for everything beside path that has such a name. EXIT_DONE, or the first other
 * answer of visit; a folder that cannot be read has none.
 */
int cli_each_temporary(const char *path, int (*visit)(const char *name, void *data), void *data);

/** Writes all bytes and has them on the disk; false with errno when it cannot. */
bool cli_write_through(int descriptor, const char *bytes, size_t size);

/** Has what was done in a folder on the disk, as far as its file system knows how. */
void cli_sync_folder(const char *folder);

/** "FOLDER" of a path: ".", "/" or what stands before its last name; malloc'ed; NULL: no memory. */
char *cli_folder_of(const char *path);

#endif
