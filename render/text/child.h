/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_CHILD_H
#define DRAWTUBE_RENDER_CHILD_H

#include "text.h"

/*
 * Private to render/: work with libraries that leak, keep state or may crash on a broken
 * installation. It lives and dies in a child process (docs/decisions/0010).
 */

/** Makes bytes and hands them to dt_child_write(); 0 when all went well. */
typedef int (*dt_child_work)(const void *context, int out);

/** Writes all bytes; false when the parent is gone. */
bool dt_child_write(int out, const void *bytes, size_t size);

/** DT_OK with what the child wrote; DT_E_IO when it could not be started or failed. */
dt_status dt_child_run(dt_child_work work, const void *context, dt_buffer *out);

#endif
