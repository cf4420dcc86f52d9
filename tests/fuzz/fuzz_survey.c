/* SPDX-License-Identifier: MIT */
/* Any bytes as a survey: CSV, or a WITSML trajectory where they begin as XML does; and as offset
 * wells. */
#include "import_once.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    const dt_import_request survey = {.survey = true}, offsets = {.offsets = true};
    import_once(bytes, size, &survey);
    import_once(bytes, size, &offsets);
    return 0;
}
