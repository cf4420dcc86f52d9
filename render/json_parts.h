/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_RENDER_JSON_PARTS_H
#define DRAWTUBE_RENDER_JSON_PARTS_H

#include <jansson.h>

#include "drawtube/program.h"

/* Private to render/: what the sources that write JSON share. References are new ones. */

/** "cement": an object, or JSON null when the string is not cemented. */
json_t *dt_json_cement(const dt_job *job);
/** "running". */
json_t *dt_json_running(const dt_job *job);

#endif
