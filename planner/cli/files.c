/* SPDX-License-Identifier: MIT */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli.h"
#include "writing.h"

/** Where messages go; NULL: to standard error. */
static FILE *messages;

FILE *cli_messages(void)
{
    return messages ? messages : stderr;
}

void cli_messages_to(FILE *file)
{
    messages = file;
}

int cli_say_error(int code, const char *what, const char *path)
{
    int reason = errno;
    fprintf(cli_messages(), "drawtube: %s %s: %s\n", what, cli_shown(path).text, strerror(reason));
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

void cli_hold_signals(sigset_t *before)
{
    sigset_t ending;
    sigemptyset(&ending);
    sigaddset(&ending, SIGINT);
    sigaddset(&ending, SIGTERM);
    sigaddset(&ending, SIGHUP);
    pthread_sigmask(SIG_BLOCK, &ending, before);
}

bool cli_told_to_end(void)
{
    sigset_t waiting;
    if (sigpending(&waiting) != 0) return false;
    return sigismember(&waiting, SIGINT) == 1 || sigismember(&waiting, SIGTERM) == 1 ||
           sigismember(&waiting, SIGHUP) == 1;
}

void cli_release_signals(const sigset_t *before)
{
    pthread_sigmask(SIG_SETMASK, before, NULL);
}

/* ---- temporary names, and whose they are ---- */

static const char temporary_mark[] = ".new-";
enum { TEMPORARY_TAIL = 6 }; /* what mkstemp makes of XXXXXX */

static const char *last_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

char *cli_folder_of(const char *path)
{
    size_t length = (size_t)(last_name(path) - path);
    while (length > 1 && path[length - 1] == '/')
        --length;
    if (length == 0) path = ".";
    if (length == 0) length = 1;
    char *folder = malloc(length + 1);
    if (!folder) return NULL;
    memcpy(folder, path, length);
    folder[length] = '\0';
    return folder;
}

char *cli_temporary_name(const char *path)
{
    const char *name = last_name(path);
    size_t room = strlen(path) + sizeof temporary_mark + TEMPORARY_TAIL + 1;
    char *made = malloc(room);
    if (made)
        snprintf(made, room, "%.*s.%s%sXXXXXX", (int)(name - path), path, name, temporary_mark);
    return made;
}

/** Whether an entry of a folder is ".NAME.new-" and six letters or digits. */
static bool is_temporary_of(const char *entry, const char *name)
{
    size_t length = strlen(name), mark = sizeof temporary_mark - 1;
    return entry[0] == '.' && strncmp(entry + 1, name, length) == 0 &&
           strncmp(entry + 1 + length, temporary_mark, mark) == 0 &&
           strlen(entry + 1 + length + mark) == TEMPORARY_TAIL;
}

int cli_each_temporary(const char *path, int (*visit)(const char *name, void *data), void *data)
{
    char *folder = cli_folder_of(path);
    if (!folder) return cli_fail(DT_E_MEMORY);
    DIR *stream = opendir(folder);
    int code = EXIT_DONE;
    for (struct dirent *entry; stream && code == EXIT_DONE && (entry = readdir(stream));) {
        if (!is_temporary_of(entry->d_name, last_name(path))) continue;
        char *name = cli_join(folder, entry->d_name);
        code = name ? visit(name, data) : cli_fail(DT_E_MEMORY);
        free(name);
    }
    if (stream) closedir(stream);
    free(folder);
    return code;
}

cli_lock cli_try_lock(int descriptor)
{
    struct flock lock = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    if (fcntl(descriptor, F_SETLK, &lock) == 0) return CLI_LOCKED;
    if (errno == EBADF && fcntl(descriptor, F_GETLK, &lock) == 0)
        return lock.l_type == F_UNLCK ? CLI_NO_LOCKS : CLI_BUSY;
    return errno == EACCES || errno == EAGAIN ? CLI_BUSY : CLI_NO_LOCKS;
}

bool cli_write_through(int descriptor, const char *bytes, size_t size)
{
    while (size > 0) {
        ssize_t written = write(descriptor, bytes, size);
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        bytes += written;
        size -= (size_t)written;
    }
    return fsync(descriptor) == 0 || errno == EINVAL; /* EINVAL: nothing to be had here */
}

void cli_sync_folder(const char *folder)
{
    int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0) return;
    fsync(descriptor);
    close(descriptor);
}

/** Takes away the temporary file of a run that was killed: its lock is to be had. */
static int remove_left_file(const char *name, void *data)
{
    (void)data;
    struct stat open_file, named;
    int descriptor = open(name, O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0) return EXIT_DONE; /* another user's, or gone */
    if (fstat(descriptor, &open_file) == 0 && S_ISREG(open_file.st_mode) &&
        cli_try_lock(descriptor) == CLI_LOCKED && lstat(name, &named) == 0 &&
        named.st_ino == open_file.st_ino)
        unlink(name);
    close(descriptor);
    return EXIT_DONE;
}

/**
 * An open file under a fresh name beside path, locked so that other runs leave it alone. Another
 * run may take a file that is not locked yet for a left one and remove it: then comes the next.
 */
static int make_temporary(const char *path, char **name)
{
    for (int tries = 0; tries < 100; ++tries) {
        *name = cli_temporary_name(path);
        if (!*name) {
            cli_fail(DT_E_MEMORY);
            return -1;
        }
        struct stat status;
        int descriptor = mkstemp(*name);
        if (descriptor < 0) break;
        if (cli_try_lock(descriptor) != CLI_BUSY && fstat(descriptor, &status) == 0 &&
            status.st_nlink > 0)
            return descriptor;
        close(descriptor);
        free(*name);
        errno = EBUSY;
        *name = NULL;
    }
    cli_say_error(EXIT_SYSTEM, "cannot write", path);
    free(*name);
    return -1;
}

/** Writes the bytes beside path and gives them its name; the lock lasts until they have it. */
static int write_and_rename(const char *path, const dt_text *text)
{
    char *name = NULL;
    int descriptor = make_temporary(path, &name);
    if (descriptor < 0) return EXIT_SYSTEM;
    /* mkstemp makes files that only the owner can read; results are for the team. */
    mode_t mask = umask(0);
    umask(mask);
    bool good = cli_write_through(descriptor, text->bytes, text->size) &&
                fchmod(descriptor, 0666 & ~mask) == 0 && rename(name, path) == 0;
    int saved = errno;
    if (!good) unlink(name);
    if (close(descriptor) != 0 && good) {
        saved = errno;
        good = false;
    }
    free(name);
    errno = saved;
    return good ? EXIT_DONE : cli_say_error(EXIT_SYSTEM, "cannot write", path);
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
    sigset_t before;
    cli_hold_signals(&before);
    int code = cli_each_temporary(path, remove_left_file, NULL);
    if (code == EXIT_DONE) code = write_and_rename(path, text);
    cli_release_signals(&before);
    return code;
}

int cli_print(const dt_text *text)
{
    fwrite(text->bytes, 1, text->size, stdout);
    return cli_flush();
}
