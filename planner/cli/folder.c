/* SPDX-License-Identifier: MIT */
/*
 * A folder of results that is wholly the old or wholly the new one, whenever the process is
 * killed: docs/decisions/0033. The new folder is made complete beside the old one, with links to
 * the files in it that are not ours, and the two change places. Where they cannot, the new files
 * are made complete inside the folder and get their places one by one; a run that is killed while
 * they do is finished by the next.
 */
#define _GNU_SOURCE /* renameat2; without it files get their places one by one */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>
#ifdef __linux__
#include <sys/xattr.h>
#endif

#include "cli.h"
#include "writing.h"

/** Lists the files in a folder that are ours: "plan window.svg", a line each, after the heading. */
#define MANIFEST ".drawtube-files"
static const char heading[] =
    "drawtube 1: files made by drawtube, by command; what is not listed here is left alone\n";
/** Inside a folder: files in the making, and files that are complete and get their places. */
#define MAKING ".drawtube-new"
#define READY  ".drawtube-ready"

enum { MANIFEST_LIMIT = 1 << 18, LONGEST_NAME = 200, PATIENCE_NS = 10000000 };

/** One folder being written. Paths and texts are its own. */
typedef struct job {
    const char *kind; /* the command: another one's files in the folder are kept */
    const cli_file *files;
    size_t count;
    char *path; /* links followed */
    char *old;  /* manifest of the folder as it is: "" for none */
    char *next; /* manifest of the folder to come */
    int lock;   /* the folder's manifest, open and locked; -1 while there is none */
    bool made;  /* this run made the manifest it locked */
} job;

/* ---- the manifest ---- */

/** Reads through the descriptor that has the lock: closing a second one would lose it. */
static int read_manifest(int descriptor, char **text)
{
    *text = malloc(MANIFEST_LIMIT + 1);
    if (!*text) return cli_fail(DT_E_MEMORY);
    ssize_t got = pread(descriptor, *text, MANIFEST_LIMIT, 0);
    (*text)[got > 0 ? got : 0] = '\0';
    return EXIT_DONE;
}

/** Whether a manifest is one of ours; an empty one was about to be filled. */
static bool is_manifest(const char *text)
{
    return !*text || strncmp(text, heading, sizeof heading - 1) == 0;
}

static bool is_listed(const char *manifest, const char *name)
{
    size_t length = strlen(name);
    if (!is_manifest(manifest) || strchr(name, '\n')) return false;
    for (const char *line = strchr(manifest, '\n'); line; line = strchr(line, '\n')) {
        const char *space = strpbrk(++line, " \n");
        if (space && *space == ' ' && strncmp(space + 1, name, length) == 0 &&
            space[1 + length] == '\n')
            return true;
    }
    return false;
}

/** Whether the name is one of the files to be written. */
static bool is_new(const job *j, const char *name)
{
    for (size_t i = 0; i < j->count; ++i)
        if (strcmp(j->files[i].name, name) == 0) return true;
    return false;
}

/** Appends the old lines of the commands that come before (-1) or after (1) ours. */
static char *copy_lines(const job *j, int side, char *at)
{
    const char *line = is_manifest(j->old) ? strchr(j->old, '\n') : NULL;
    while (line && *++line) {
        const char *end = strchr(line, '\n'), *space = strchr(line, ' ');
        if (!end) break;
        if (space && space < end && space - line < 32 && end - space <= 256) {
            char kind[32], name[256];
            snprintf(kind, sizeof kind, "%.*s", (int)(space - line), line);
            snprintf(name, sizeof name, "%.*s", (int)(end - space - 1), space + 1);
            int order = strcmp(kind, j->kind);
            if (((side < 0 && order < 0) || (side > 0 && order > 0)) && !is_new(j, name))
                at += sprintf(at, "%s %s\n", kind, name);
        }
        line = end;
    }
    return at;
}

/** The manifest to come: commands in the order of their names, so it does not tell the past. */
static int make_manifest(job *j)
{
    size_t room = sizeof heading + strlen(j->old);
    for (size_t i = 0; i < j->count; ++i)
        room += strlen(j->kind) + strlen(j->files[i].name) + 2;
    j->next = malloc(room);
    if (!j->next) return cli_fail(DT_E_MEMORY);
    char *at = copy_lines(j, -1, j->next + sprintf(j->next, "%s", heading));
    for (size_t i = 0; i < j->count; ++i)
        at += sprintf(at, "%s %s\n", j->kind, j->files[i].name);
    copy_lines(j, 1, at);
    return EXIT_DONE;
}

/** How many files of the old manifest the new one does not have. */
static size_t count_gone(const job *j)
{
    size_t gone = 0;
    const char *line = is_manifest(j->old) ? strchr(j->old, '\n') : NULL;
    while (line && *++line) {
        const char *end = strchr(line, '\n'), *space = strchr(line, ' ');
        if (!end) break;
        if (space && space < end && end - space <= 256) {
            char name[256];
            snprintf(name, sizeof name, "%.*s", (int)(end - space - 1), space + 1);
            gone += !is_listed(j->next, name);
        }
        line = end;
    }
    return gone;
}

/* ---- going through folders ---- */

typedef int (*visitor)(const char *name, const char *path, void *data);

/** Calls visit for what is in a folder, its name and path; EXIT_DONE or the first other answer. */
static int each_entry(const char *folder, visitor visit, void *data)
{
    DIR *stream = opendir(folder);
    if (!stream) return cli_say_error(EXIT_SYSTEM, "cannot read the folder", folder);
    int code = EXIT_DONE;
    for (struct dirent *entry; code == EXIT_DONE && (entry = readdir(stream));) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) continue;
        char *path = cli_join(folder, entry->d_name);
        code = path ? visit(entry->d_name, path, data) : cli_fail(DT_E_MEMORY);
        free(path);
    }
    closedir(stream);
    return code;
}

static bool is_folder(const char *path)
{
    struct stat status;
    return lstat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

static int unlink_in(const char *folder, const char *name)
{
    char *path = cli_join(folder, name);
    if (!path) return cli_fail(DT_E_MEMORY);
    unlink(path);
    free(path);
    return EXIT_DONE;
}

/** A folder that this program made for itself alone, and what is in it. */
static int remove_file(const char *name, const char *path, void *data)
{
    (void)name;
    (void)data;
    unlink(path);
    return EXIT_DONE;
}

static int remove_own(const char *folder)
{
    if (!is_folder(folder)) return EXIT_DONE;
    int code = each_entry(folder, remove_file, NULL);
    rmdir(folder);
    return code;
}

/** A folder to be emptied, beside the one that is in force. */
typedef struct emptying {
    const char *manifest, *in_force; /* what is listed in either is ours */
    const char *path;                /* of the folder in force */
    bool kept;                       /* something has nowhere to go */
} emptying;

static bool is_newer(const struct stat *a, const struct stat *b)
{
    if (a->st_mtim.tv_sec != b->st_mtim.tv_sec) return a->st_mtim.tv_sec > b->st_mtim.tv_sec;
    return a->st_mtim.tv_nsec > b->st_mtim.tv_nsec;
}

/**
 * Ours goes. What is not ours has a link in the folder in force; where it has none, or has been
 * written since, it came while the folders changed places, and the newer of the two stays.
 */
static int empty_one(const char *name, const char *path, void *data)
{
    emptying *e = data;
    if (strcmp(name, MANIFEST) == 0) return EXIT_DONE;
    struct stat here, there;
    if (lstat(path, &here) != 0) return EXIT_DONE;
    if (!S_ISDIR(here.st_mode) && (is_listed(e->manifest, name) || is_listed(e->in_force, name))) {
        unlink(path);
        return EXIT_DONE;
    }
    char *place = cli_join(e->path, name);
    if (!place) return cli_fail(DT_E_MEMORY);
    bool missing = lstat(place, &there) != 0;
    bool same = !missing && here.st_dev == there.st_dev && here.st_ino == there.st_ino;
    if (missing || (!same && !S_ISDIR(there.st_mode) && is_newer(&here, &there)))
        e->kept = rename(path, place) != 0 || e->kept;
    else
        e->kept = unlink(path) != 0 || e->kept;
    free(place);
    return EXIT_DONE;
}

/** Takes a folder away that was in force or was to be; its manifest goes last. */
static int empty_folder(const char *folder, emptying *e)
{
    int code = each_entry(folder, empty_one, e);
    if (code != EXIT_DONE || e->kept) return code;
    code = unlink_in(folder, MANIFEST);
    rmdir(folder);
    return code;
}

/**
 * A folder that a run made and did not take away: gone when that run is dead. Without a manifest
 * it can only be empty, or it is not ours.
 */
static int remove_left_folder(const char *folder, void *data)
{
    const job *j = data;
    struct stat status; /* another user's is theirs; nor is a link followed */
    if (lstat(folder, &status) != 0 || !S_ISDIR(status.st_mode) || status.st_uid != geteuid())
        return EXIT_DONE;
    char *text = NULL, *name = cli_join(folder, MANIFEST);
    if (!name) return cli_fail(DT_E_MEMORY);
    int descriptor = open(name, O_RDWR | O_NOFOLLOW | O_CLOEXEC), code = EXIT_DONE;
    free(name);
    if (descriptor < 0) {
        rmdir(folder);
        return EXIT_DONE;
    }
    if (cli_try_lock(descriptor) == CLI_LOCKED) {
        code = read_manifest(descriptor, &text);
        emptying e = {text, j->old, j->path, false};
        if (code == EXIT_DONE && is_manifest(text)) code = empty_folder(folder, &e);
    }
    close(descriptor);
    free(text);
    return code;
}

/* ---- the lock of a folder: that of its manifest ---- */

/** Whether an open file still is what the path names. */
static bool is_still(int descriptor, const char *path)
{
    struct stat open_file, named;
    return fstat(descriptor, &open_file) == 0 && lstat(path, &named) == 0 &&
           open_file.st_dev == named.st_dev && open_file.st_ino == named.st_ino;
}

/** Waits while another run writes the folder; signals that wait are looked at. */
static int wait_for(int descriptor)
{
    const struct timespec pause = {.tv_nsec = PATIENCE_NS};
    while (cli_try_lock(descriptor) == CLI_BUSY) {
        if (cli_told_to_end()) return EXIT_SYSTEM;
        nanosleep(&pause, NULL);
    }
    return EXIT_DONE;
}

/**
 * Locks a folder that exists, and reads its manifest. When another run had it, the folder or its
 * manifest is a new one afterwards: then again. A manifest of another user that cannot be opened
 * for writing is read without a lock, when nobody has it.
 */
static int lock_folder(job *j)
{
    char *path = cli_join(j->path, MANIFEST);
    if (!path) return cli_fail(DT_E_MEMORY);
    int code = EXIT_DONE;
    do {
        if (j->lock >= 0) close(j->lock);
        j->lock = open(path, O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
        j->made = j->lock >= 0;
        if (!j->made && errno == EEXIST) j->lock = open(path, O_RDWR | O_NOFOLLOW | O_CLOEXEC);
        if (j->lock < 0 && errno == ENOENT && is_folder(j->path)) continue;
        if (j->lock < 0 && errno == EACCES) j->lock = open(path, O_RDONLY | O_NOFOLLOW | O_CLOEXEC);
        if (j->lock < 0)
            code = cli_say_error(EXIT_SYSTEM, "cannot write", path);
        else
            code = wait_for(j->lock);
    } while (code == EXIT_DONE && (j->lock < 0 || !is_still(j->lock, path)));
    free(path);
    if (code == EXIT_DONE) {
        free(j->old);
        code = read_manifest(j->lock, &j->old);
    }
    return code;
}

/** Gives the lock up; a manifest made for it alone goes, too. */
static void unlock_folder(job *j)
{
    struct stat status;
    char *path = j->made ? cli_join(j->path, MANIFEST) : NULL;
    if (path && fstat(j->lock, &status) == 0 && status.st_size == 0 && is_still(j->lock, path))
        unlink(path);
    free(path);
    if (j->lock >= 0) close(j->lock);
    j->lock = -1;
}

/* ---- making the new folder complete, wherever ---- */

static int write_one(const job *j, const char *folder, const char *name, const char *bytes,
                     size_t size)
{
    char *path = cli_join(folder, name), *place = cli_join(j->path, name);
    int code = path && place ? EXIT_DONE : cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE) {
        int descriptor = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        bool good = descriptor >= 0 && cli_write_through(descriptor, bytes, size);
        int saved = errno;
        if (descriptor >= 0 && close(descriptor) != 0 && good) {
            saved = errno;
            good = false;
        }
        errno = saved;
        if (!good) code = cli_say_error(EXIT_SYSTEM, "cannot write", place);
    }
    free(path);
    free(place);
    return code;
}

static int write_files(const job *j, const char *folder)
{
    for (size_t i = 0; i < j->count; ++i) {
        if (cli_told_to_end()) return EXIT_SYSTEM;
        const dt_text *text = &j->files[i].text;
        int code = write_one(j, folder, j->files[i].name, text->bytes, text->size);
        if (code != EXIT_DONE) return code;
    }
    return cli_told_to_end() ? EXIT_SYSTEM : EXIT_DONE;
}

/* ---- the way that holds: two folders change places ---- */

/** A folder in the making beside the one in force. Its manifest is locked while its run lives. */
typedef struct stage {
    char *path;
    int lock;
} stage;

/** The manifest of a fresh folder, locked; -1 when another run took the folder for a left one. */
static int claim_stage(const char *folder)
{
    char *name = cli_join(folder, MANIFEST);
    if (!name) return -1;
    int descriptor = open(name, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    free(name);
    struct stat status;
    if (descriptor < 0) return -1;
    if (cli_try_lock(descriptor) != CLI_BUSY && fstat(descriptor, &status) == 0 &&
        status.st_nlink > 0)
        return descriptor;
    close(descriptor);
    errno = ENOENT;
    return -1;
}

/** Makes it, with nothing but its manifest. False with errno when it cannot be had. */
static bool make_stage(const job *j, stage *s)
{
    for (int tries = 0; tries < 100; ++tries) {
        s->path = cli_temporary_name(j->path);
        s->lock = -1;
        if (!s->path || !mkdtemp(s->path)) break;
        s->lock = claim_stage(s->path);
        if (s->lock >= 0 && cli_write_through(s->lock, j->next, strlen(j->next))) return true;
        int saved = errno;
        if (s->lock >= 0) unlink_in(s->path, MANIFEST);
        if (s->lock >= 0) close(s->lock);
        rmdir(s->path);
        errno = saved;
        if (saved != ENOENT) break;
        free(s->path);
        s->path = NULL;
    }
    int saved = errno;
    free(s->path);
    s->path = NULL;
    errno = saved;
    return false;
}

static void stage_free(stage *s)
{
    if (s->lock >= 0) close(s->lock);
    free(s->path);
}

/** Takes a folder away that did not come into force: links to files of others, and ours. */
static int drop_stage(const job *j, const stage *s)
{
    emptying e = {j->next, "", j->path, false};
    return empty_folder(s->path, &e);
}

/** Rights and owner of the folder that is there; of a new one, what mkdir would have given. */
static bool give_rights(const char *folder, const struct stat *like)
{
    mode_t mask = umask(0);
    umask(mask);
    struct stat own;
    if (stat(folder, &own) != 0) return false;
    if (!like) return chmod(folder, (own.st_mode & S_ISGID) | (0777 & ~mask)) == 0;
    if ((own.st_uid != like->st_uid || own.st_gid != like->st_gid) &&
        chown(folder, like->st_uid, like->st_gid) != 0)
        return false;
    return chmod(folder, like->st_mode & 07777) == 0;
}

/** Where an entry of the old folder goes in the new one. */
typedef struct moving {
    const job *j;
    const char *stage;
    bool folders; /* one cannot be in two places: no changing places then */
    bool failed;
} moving;

/** A folder where a file should go is refused; whoever put it there has to decide. */
static int look_at(const char *name, const char *path, void *data)
{
    moving *m = data;
    if (!is_folder(path)) return EXIT_DONE;
    if (strcmp(name, MAKING) == 0 || strcmp(name, READY) == 0) return EXIT_DONE;
    m->folders = true;
    if (!is_new(m->j, name)) return EXIT_DONE;
    errno = EISDIR;
    return cli_say_error(EXIT_SYSTEM, "cannot write", path);
}

/** Gives a file that stays a second name in the new folder. */
static int link_one(const char *name, const char *path, void *data)
{
    moving *m = data;
    bool ours = is_listed(m->j->old, name) && !is_listed(m->j->next, name);
    if (ours || is_new(m->j, name) || strcmp(name, MANIFEST) == 0) return EXIT_DONE;
    char *second = cli_join(m->stage, name);
    if (!second) return cli_fail(DT_E_MEMORY);
    if (linkat(AT_FDCWD, path, AT_FDCWD, second, 0) != 0 && errno != ENOENT) m->failed = true;
    free(second);
    return EXIT_DONE;
}

/** Whether a folder carries more than rights and owner: access lists, labels of its own. */
static bool has_attributes(const char *folder)
{
#ifdef __linux__
    char names[4096];
    ssize_t size = listxattr(folder, names, sizeof names);
    if (size < 0) return errno == ERANGE;
    for (const char *name = names; name < names + size; name += strlen(name) + 1)
        if (strncmp(name, "security.", 9) != 0) return true;
#else
    (void)folder;
#endif
    return false;
}

/** Who stands in a folder would be left in one that is gone. */
static bool is_current(const struct stat *folder)
{
    struct stat here;
    return stat(".", &here) == 0 && here.st_dev == folder->st_dev && here.st_ino == folder->st_ino;
}

static bool change_places(const char *one, const char *other)
{
#ifdef RENAME_EXCHANGE
    return renameat2(AT_FDCWD, one, AT_FDCWD, other, RENAME_EXCHANGE) == 0;
#else
    (void)one;
    (void)other;
    return false;
#endif
}

static void sync_around(const char *path)
{
    char *above = cli_folder_of(path);
    if (above) cli_sync_folder(above);
    free(above);
}

/** Fills the stage and lets it change places with the folder; *done: it has. */
static int swap_stage(const job *j, const stage *s, const struct stat *like, bool *done)
{
    moving m = {j, s->path, false, !give_rights(s->path, like)};
    int code = m.failed ? EXIT_DONE : each_entry(j->path, link_one, &m);
    if (code == EXIT_DONE && !m.failed) code = write_files(j, s->path);
    if (code == EXIT_DONE && !m.failed) {
        cli_sync_folder(s->path);
        *done = change_places(s->path, j->path);
    }
    if (!*done) {
        int dropped = drop_stage(j, s);
        return code == EXIT_DONE ? dropped : code;
    }
    sync_around(j->path);
    emptying e = {j->old, j->next, j->path, false};
    return empty_folder(s->path, &e);
}

/** *done stays false where this way does not hold, and nothing has changed then. */
static int replace_by_swap(const job *j, bool *done)
{
    struct stat like;
    if (stat(j->path, &like) != 0) return cli_say_error(EXIT_SYSTEM, "cannot write", j->path);
    if (is_current(&like) || has_attributes(j->path)) return EXIT_DONE;
    stage s = {0};
    if (!make_stage(j, &s)) return EXIT_DONE; /* no right to write above, or no room */
    int code = swap_stage(j, &s, &like, done);
    stage_free(&s);
    return code;
}

/** A folder that is not there yet gets its name when it is complete. *done: nobody came first. */
static int make_by_rename(const job *j, bool *done)
{
    stage s = {0};
    if (!make_stage(j, &s)) return cli_say_error(EXIT_SYSTEM, "cannot make the folder", j->path);
    int code = EXIT_DONE;
    if (!give_rights(s.path, NULL))
        code = cli_say_error(EXIT_SYSTEM, "cannot make the folder", j->path);
    if (code == EXIT_DONE) code = write_files(j, s.path);
    if (code == EXIT_DONE) {
        cli_sync_folder(s.path);
        *done = rename(s.path, j->path) == 0;
        if (!*done && errno != ENOTEMPTY && errno != EEXIST)
            code = cli_say_error(EXIT_SYSTEM, "cannot make the folder", j->path);
    }
    if (*done)
        sync_around(j->path);
    else
        drop_stage(j, &s);
    stage_free(&s);
    return code;
}

/* ---- the other way: inside the folder, one by one ---- */

static int drop_stale(const char *name, const char *path, void *data)
{
    const job *j = data;
    if (is_listed(j->old, name) && !is_listed(j->next, name)) unlink(path);
    return EXIT_DONE;
}

static int place_one(const char *name, const char *path, void *data)
{
    const job *j = data;
    if (strcmp(name, MANIFEST) == 0) return EXIT_DONE;
    char *place = cli_join(j->path, name);
    if (!place) return cli_fail(DT_E_MEMORY);
    int code =
        rename(path, place) == 0 ? EXIT_DONE : cli_say_error(EXIT_SYSTEM, "cannot write", place);
    free(place);
    return code;
}

/** Gives the files in READY their places; the manifest last, so that this can be done again. */
static int place_all(const job *j, const char *ready)
{
    int code = each_entry(j->path, drop_stale, (void *)j);
    if (code == EXIT_DONE) code = each_entry(ready, place_one, (void *)j);
    char *from = cli_join(ready, MANIFEST), *to = cli_join(j->path, MANIFEST);
    if (code == EXIT_DONE && (!from || !to)) code = cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE && rename(from, to) != 0 && errno != ENOENT)
        code = cli_say_error(EXIT_SYSTEM, "cannot write", to);
    if (code == EXIT_DONE) rmdir(ready);
    free(from);
    free(to);
    cli_sync_folder(j->path);
    return code;
}

/** The manifest in a folder; NULL when there is none. EXIT_DONE or no memory. */
static int manifest_in(const char *folder, char **text)
{
    *text = NULL;
    char *name = cli_join(folder, MANIFEST);
    if (!name) return cli_fail(DT_E_MEMORY);
    int descriptor = open(name, O_RDONLY | O_NOFOLLOW | O_CLOEXEC);
    free(name);
    if (descriptor < 0) return EXIT_DONE;
    int code = read_manifest(descriptor, text);
    close(descriptor);
    return code;
}

/**
 * What a killed run left inside the folder: what was complete is finished, the rest goes. The
 * folder's manifest can be a new one afterwards.
 */
static int finish_inside(const job *j)
{
    char *making = cli_join(j->path, MAKING), *ready = cli_join(j->path, READY), *next = NULL;
    int code = making && ready ? remove_own(making) : cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE && is_folder(ready)) {
        code = manifest_in(ready, &next);
        const job left = {.path = j->path, .old = j->old, .next = next};
        if (next)
            code = place_all(&left, ready);
        else if (code == EXIT_DONE)
            rmdir(ready); /* all had their places already */
    }
    free(next);
    free(making);
    free(ready);
    return code;
}

static int replace_inside(const job *j)
{
    char *making = cli_join(j->path, MAKING), *ready = cli_join(j->path, READY);
    int code = making && ready ? EXIT_DONE : cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE && mkdir(making, 0777) != 0)
        code = cli_say_error(EXIT_SYSTEM, "cannot write into the folder", j->path);
    if (code == EXIT_DONE) code = write_one(j, making, MANIFEST, j->next, strlen(j->next));
    if (code == EXIT_DONE) code = write_files(j, making);
    if (code == EXIT_DONE) {
        cli_sync_folder(making);
        if (rename(making, ready) != 0)
            code = cli_say_error(EXIT_SYSTEM, "cannot write into the folder", j->path);
    }
    if (code == EXIT_DONE)
        code = place_all(j, ready);
    else if (making)
        remove_own(making);
    free(making);
    free(ready);
    return code;
}

/* ---- one folder ---- */

/**
 * The folder with links followed; one that is not there yet is named in the real folder above,
 * which is made. A link to nothing and a name too long for a second one beside it are not for us.
 */
static int resolve(const char *folder, char **path, bool *exists)
{
    struct stat status;
    *path = realpath(folder, NULL);
    *exists = *path != NULL;
    if (*exists && stat(*path, &status) == 0 && !S_ISDIR(status.st_mode)) errno = ENOTDIR;
    if (*exists)
        return is_folder(*path) ? EXIT_DONE
                                : cli_say_error(EXIT_SYSTEM, "cannot make the folder", folder);
    if (errno != ENOENT || lstat(folder, &status) == 0)
        return cli_say_error(EXIT_SYSTEM, "cannot make the folder", folder);
    size_t length = strlen(folder);
    while (length > 1 && folder[length - 1] == '/')
        --length;
    char *plain = malloc(length + 1);
    if (!plain) return cli_fail(DT_E_MEMORY);
    snprintf(plain, length + 1, "%s", folder);
    const char *slash = strrchr(plain, '/'), *name = slash ? slash + 1 : plain;
    char *above = cli_folder_of(plain), *real = NULL;
    bool plainly = strcmp(name, ".") != 0 && strcmp(name, "..") != 0 && strlen(name) < LONGEST_NAME;
    int code = above ? cli_make_folder(plainly ? above : plain) : cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE) {
        real = realpath(plainly ? above : plain, NULL);
        if (!real) code = cli_say_error(EXIT_SYSTEM, "cannot make the folder", folder);
    }
    *exists = !plainly;
    if (code == EXIT_DONE) *path = plainly ? cli_join(strcmp(real, "/") ? real : "", name) : real;
    if (code == EXIT_DONE && !*path) code = cli_fail(DT_E_MEMORY);
    if (plainly || code != EXIT_DONE) free(real);
    free(above);
    free(plain);
    return code;
}

/** Locks the folder and brings it in order: what killed runs left is finished or gone. */
static int take_over(job *j)
{
    int code = lock_folder(j);
    if (code == EXIT_DONE) code = finish_inside(j);
    char *manifest = cli_join(j->path, MANIFEST);
    if (code == EXIT_DONE && !manifest) code = cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE && !is_still(j->lock, manifest)) code = lock_folder(j);
    free(manifest);
    if (code == EXIT_DONE) code = cli_each_temporary(j->path, remove_left_folder, j);
    return code == EXIT_DONE ? make_manifest(j) : code;
}

/** Replaces what is ours in a folder that exists. */
static int replace(job *j)
{
    if (access(j->path, W_OK | X_OK) != 0)
        return cli_say_error(EXIT_SYSTEM, "cannot write into the folder", j->path);
    int code = take_over(j);
    moving m = {.j = j};
    bool done = false;
    if (code == EXIT_DONE) code = each_entry(j->path, look_at, &m);
    if (code == EXIT_DONE && !m.folders) code = replace_by_swap(j, &done);
    if (code == EXIT_DONE && !done) code = replace_inside(j);
    unlock_folder(j);
    return code;
}

/** Makes a folder that is not there. *done stays false when another run came first. */
static int make(job *j, bool *done)
{
    j->old = calloc(1, 1);
    int code = j->old ? cli_each_temporary(j->path, remove_left_folder, j) : cli_fail(DT_E_MEMORY);
    if (code == EXIT_DONE) code = make_manifest(j);
    if (code == EXIT_DONE) code = make_by_rename(j, done);
    free(j->next);
    j->next = NULL;
    return code;
}

int cli_write_folder(const char *folder, const char *kind, const cli_file *files, size_t count,
                     size_t *gone)
{
    job j = {.kind = kind, .files = files, .count = count, .lock = -1};
    bool exists = false, done = false;
    sigset_t before;
    cli_hold_signals(&before);
    int code = resolve(folder, &j.path, &exists);
    if (code == EXIT_DONE && !exists) code = make(&j, &done);
    if (code == EXIT_DONE && !done) code = replace(&j);
    if (code == EXIT_DONE && gone) *gone = done ? 0 : count_gone(&j);
    free(j.path);
    free(j.old);
    free(j.next);
    cli_release_signals(&before);
    return code;
}

void cli_say_written(const char *folder, size_t written, size_t gone)
{
    fprintf(cli_messages(), "%s: %zu file%s written", cli_shown(folder).text, written,
            written == 1 ? "" : "s");
    if (gone > 0) fprintf(cli_messages(), ", %zu of an earlier run removed", gone);
    fprintf(cli_messages(), "\n");
}
