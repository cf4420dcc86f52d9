/* SPDX-License-Identifier: MIT */
#include <drawtube/base.h>

#include <stdlib.h>

const char *dt_version(void)
{
    return DRAWTUBE_VERSION;
}

void dt_text_free(dt_text *text)
{
    if (!text) return;
    free(text->bytes);
    *text = (dt_text){0};
}
