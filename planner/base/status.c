/* SPDX-License-Identifier: MIT */
#include <stddef.h>

#include "same.h"
#include "status.h"

const char *dt_status_text(dt_status status)
{
    static const char *const texts[] = {
#define DT_STATUS_TEXT(name, text) [DT_##name] = text,
        DT_STATUS_LIST(DT_STATUS_TEXT)
#undef DT_STATUS_TEXT
    };
    size_t count = COUNT_OF(texts);
    return (size_t)status < count ? texts[status] : "unknown status";
}
