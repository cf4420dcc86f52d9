/* SPDX-License-Identifier: MIT */
#include "child.h"

#include <errno.h>
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

bool dt_child_write(int out, const void *bytes, size_t size)
{
    const char *at = bytes;
    for (size_t done = 0; done < size;) {
        ssize_t written = write(out, at + done, size - done);
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        done += (size_t)written;
    }
    return true;
}

static int child_main(dt_child_work work, const void *context, int out)
{
    int nowhere = open("/dev/null", O_WRONLY);
    if (nowhere >= 0) dup2(nowhere, STDERR_FILENO); /* the library prints nothing */
    return work(context, out);
}

static dt_status read_all(int in, dt_buffer *out)
{
    char block[65536];
    for (;;) {
        ssize_t got = read(in, block, sizeof block);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return DT_E_IO;
        if (got == 0) return out->failed ? DT_E_MEMORY : DT_OK;
        dt_buffer_bytes(out, block, (size_t)got);
    }
}

dt_status dt_child_run(dt_child_work work, const void *context, dt_buffer *out)
{
    int ends[2];
    if (pipe(ends)) return DT_E_IO;
    pid_t child = fork();
    if (child == 0) {
        close(ends[0]);
        _exit(child_main(work, context, ends[1]));
    }
    close(ends[1]);
    dt_status status = child < 0 ? DT_E_IO : read_all(ends[0], out);
    close(ends[0]);
    if (child < 0) return status;
    int how = 0;
    pid_t waited;
    do
        waited = waitpid(child, &how, 0);
    while (waited < 0 && errno == EINTR);
    if (waited != child || !WIFEXITED(how) || WEXITSTATUS(how) != 0) return DT_E_IO;
    return status;
}
