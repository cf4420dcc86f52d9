/* SPDX-License-Identifier: MIT */
/* Any bytes as a well file, read and checked. */
#include <stdint.h>

#include "everything.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    dt_well_free(read_well((const char *)bytes, size));
    return 0;
}
