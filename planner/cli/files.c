/* SPDX-License-Identifier: MIT */
#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli.h"

int cli_say_error(int code, const char *what, const char *path)
{
    int reason = errno;
    fprintf(stderr, "drawtube: %s %s: %s\n", what, cli_shown(path).text, strerror(reason));
    return code;
}

cli_words cli_shown(const char *path)
{
    cli_words words = {"\"\""};
    size_t size = 0;
    if (!*path) return words;
    for (; path[size] != '\0' && size + 1 < sizeof words.text; ++size) {
        unsigned char c = (unsigned char)path[size];
        words.text[size] = c < ' ' || c == 0x7f ? '?' : (char)c;
    }
    words.text[size] = '\0';
    return words;
}

int cli_flush(void)
{
    bool whole = ferror(stdout) == 0;
    if (fflush(stdout) == 0 && whole) return EXIT_DONE;
    return cli_say_error(EXIT_SYSTEM, "cannot write to", "standard output");
}

int cli_read(const char *path, size_t limit, char **bytes, size_t *size)
{
    bool standard = strcmp(path, "-") == 0;
    FILE *file = standard ? stdin : fopen(path, "rb");
    if (!file) return cli_say_error(EXIT_REFUSED, "cannot open", path);
    char *buffer = malloc(limit + 2);
    size_t got = buffer ? fread(buffer, 1, limit + 1, file) : 0;
    int code = EXIT_DONE;
    if (!buffer)
        code = cli_fail(DT_E_MEMORY);
    else if (ferror(file))
        code = cli_say_error(EXIT_REFUSED, "cannot read", path);
    if (!standard) fclose(file);
    if (code != EXIT_DONE) {
        free(buffer);
        return code;
    }
    buffer[got] = '\0';
    *bytes = buffer;
    *size = got;
    return EXIT_DONE;
}

/*
 * While files get their place, signals that end the process wait; between two files the writer
 * looks whether one does, gives up and takes its temporary files away.
 */

/** Holds back what would end the process; the mask to go back to is in *before. */
static void hold_signals(sigset_t *before)
{
    sigset_t ending;
    sigemptyset(&ending);
    sigaddset(&ending, SIGINT);
    sigaddset(&ending, SIGTERM);
    sigaddset(&ending, SIGHUP);
    sigprocmask(SIG_BLOCK, &ending, before);
}

static bool told_to_end(void)
{
    sigset_t waiting;
    if (sigpending(&waiting) != 0) return false;
    return sigismember(&waiting, SIGINT) == 1 || sigismember(&waiting, SIGTERM) == 1 ||
           sigismember(&waiting, SIGHUP) == 1;
}

/** Lets a waiting signal end the process. */
static void release_signals(const sigset_t *before)
{
    sigprocmask(SIG_SETMASK, before, NULL);
}

/** Writes bytes under a fresh name in the folder of path; the name is returned, malloc'ed. */
static int write_temporary(const char *path, const dt_text *text, char **temporary)
{
    size_t room = strlen(path) + 16;
    char *name = malloc(room);
    if (!name) return cli_fail(DT_E_MEMORY);
    snprintf(name, room, "%s.new-XXXXXX", path);
    int descriptor = mkstemp(name);
    if (descriptor < 0) {
        free(name);
        return cli_say_error(EXIT_SYSTEM, "cannot write", path);
    }
    FILE *file = fdopen(descriptor, "wb");
    bool good = file && fwrite(text->bytes, 1, text->size, file) == text->size && fflush(file) == 0;
    /* mkstemp makes files that only the owner can read; results are for the team. */
    mode_t mask = umask(0);
    umask(mask);
    good = good && fchmod(descriptor, 0666 & ~mask) == 0;
    int saved = errno;
    if (file ? fclose(file) != 0 : close(descriptor) != 0) {
        if (good) saved = errno;
        good = false;
    }
    if (!good) {
        errno = saved;
        cli_say_error(EXIT_SYSTEM, "cannot write", path);
        unlink(name);
        free(name);
        return EXIT_SYSTEM;
    }
    *temporary = name;
    return EXIT_DONE;
}

char *cli_join(const char *folder, const char *name)
{
    size_t room = strlen(folder) + strlen(name) + 2;
    char *path = malloc(room);
    if (path) snprintf(path, room, "%s/%s", folder, name);
    return path;
}

int cli_make_folder(const char *folder)
{
    size_t size = strlen(folder) + 1;
    char *path = malloc(size);
    if (!path) return cli_fail(DT_E_MEMORY);
    memcpy(path, folder, size);
    bool good = true;
    for (char *at = path + 1; good && *path && *at; ++at) {
        if (*at != '/') continue;
        *at = '\0';
        good = mkdir(path, 0777) == 0 || errno == EEXIST || errno == EISDIR;
        *at = '/';
    }
    good = good && (mkdir(path, 0777) == 0 || errno == EEXIST);
    free(path);
    return good ? EXIT_DONE : cli_say_error(EXIT_SYSTEM, "cannot make the folder", folder);
}

int cli_write_folder(const char *folder, const cli_file *files, size_t count)
{
    char **paths = calloc(count + 1, sizeof *paths),
         **temporaries = calloc(count + 1, sizeof *temporaries);
    int code = paths && temporaries ? EXIT_DONE : cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE) code = cli_make_folder(folder);
    sigset_t before;
    hold_signals(&before);
    for (size_t i = 0; code == EXIT_DONE && i < count; ++i) {
        paths[i] = cli_join(folder, files[i].name);
        if (told_to_end()) {
            code = EXIT_SYSTEM;
            break;
        }
        code = paths[i] ? write_temporary(paths[i], &files[i].text, &temporaries[i])
                        : cli_fail(DT_E_MEMORY);
    }
    for (size_t i = 0; code == EXIT_DONE && i < count; ++i) {
        if (rename(temporaries[i], paths[i]) != 0) {
            code = cli_say_error(EXIT_SYSTEM, "cannot write", paths[i]);
            break;
        }
        free(temporaries[i]);
        temporaries[i] = NULL;
    }
    for (size_t i = 0; paths && temporaries && i < count; ++i) {
        if (temporaries[i]) unlink(temporaries[i]);
        free(temporaries[i]);
        free(paths[i]);
    }
    free(paths);
    free(temporaries);
    release_signals(&before);
    return code;
}

static int write_directly(const char *path, const dt_text *text)
{
    FILE *file = fopen(path, "wb");
    if (!file) return cli_say_error(EXIT_SYSTEM, "cannot write", path);
    bool good = fwrite(text->bytes, 1, text->size, file) == text->size;
    if (fclose(file) != 0) good = false;
    return good ? EXIT_DONE : cli_say_error(EXIT_SYSTEM, "cannot write", path);
}

int cli_write_file(const char *path, const dt_text *text)
{
    if (strcmp(path, "-") == 0) return cli_print(text);
    struct stat status;
    if (stat(path, &status) == 0) {
        if (S_ISDIR(status.st_mode)) {
            errno = EISDIR;
            return cli_say_error(EXIT_SYSTEM, "cannot write", path);
        }
        if (!S_ISREG(status.st_mode)) return write_directly(path, text);
    }
    char *temporary = NULL;
    sigset_t before;
    hold_signals(&before);
    int code = write_temporary(path, text, &temporary);
    if (code == EXIT_DONE && rename(temporary, path) != 0) {
        code = cli_say_error(EXIT_SYSTEM, "cannot write", path);
        unlink(temporary);
    }
    free(temporary);
    release_signals(&before);
    return code;
}

int cli_print(const dt_text *text)
{
    fwrite(text->bytes, 1, text->size, stdout);
    return cli_flush();
}
