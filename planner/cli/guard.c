/* SPDX-License-Identifier: MIT */
/* What the process is protected from before any command runs. */
#include <errno.h>
#include <fcntl.h>
#include <libxml/xmlmemory.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli.h"

/*
 * libxml2 (2.9.14) does not survive running out of memory itself: it reads what it has freed, and
 * takes attributes it could not store for absent. So its allocations do not fail: the process
 * ends, which leaves nothing half, because no file is written while XML is read or made.
 */
static void *there_or_leave(void *memory)
{
    static const char words[] = "drawtube: out of memory\n";
    if (memory) return memory;
    ssize_t told = write(STDERR_FILENO, words, sizeof words - 1);
    (void)told; /* nobody left to tell */
    _exit(EXIT_SYSTEM);
}

static void *xml_malloc(size_t size)
{
    return there_or_leave(malloc(size ? size : 1));
}

static void *xml_realloc(void *old, size_t size)
{
    return there_or_leave(realloc(old, size ? size : 1));
}

static char *xml_duplicate(const char *text)
{
    size_t size = strlen(text) + 1;
    return memcpy(xml_malloc(size), text, size);
}

/**
 * A standard stream that is closed gets the null device, opened the wrong way round: reading or
 * writing fails as it should, and no file opened later takes the stream's number.
 */
static void fill_standard_streams(void)
{
    for (int descriptor = 0; descriptor < 3; ++descriptor) {
        if (fcntl(descriptor, F_GETFD) != -1 || errno != EBADF) continue;
        int mode = descriptor == STDIN_FILENO ? O_WRONLY : O_RDONLY;
        if (open("/dev/null", mode) != descriptor) _exit(EXIT_SYSTEM);
    }
}

void cli_guard(void)
{
    fill_standard_streams();
    signal(SIGXFSZ, SIG_IGN); /* a file too large for a limit is an error like any other */
    xmlMemSetup(free, xml_malloc, xml_realloc, xml_duplicate);
}
