/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_JSON_PARTS_H
#define DRAWTUBE_RENDER_JSON_PARTS_H

#include <jansson.h>

#include "drawtube/program.h"

/* Private to render/: what the sources that write JSON share. References are new ones. */

/** Adds a number, or leaves the key out when there is none. A missing key is never a zero. */
void dt_json_put(json_t *object, const char *key, double value);
void dt_json_put_count(json_t *object, const char *key, size_t count);
void dt_json_put_text(json_t *object, const char *key, const char *text);

/** "cement": an object, or JSON null when the string is not cemented. */
json_t *dt_json_cement(const dt_job *job);
/** "running". What only rock asks for is left out when it is not run into open hole: a tie-back. */
json_t *dt_json_running(const dt_job *job, bool in_open_hole);

#endif
