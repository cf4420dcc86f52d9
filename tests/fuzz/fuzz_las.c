/* SPDX-License-Identifier: MIT */
/* Any bytes as a LAS file with curves PP and FG, thinned and not. */
#include "import_once.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    dt_import_request thinned = {.tolerance_pa = 1e5}, whole = {.tolerance_pa = 0};
    thinned.table[DT_IMPORT_PORE].name = "PP";
    thinned.table[DT_IMPORT_FRACTURE].name = "FG";
    whole.table[DT_IMPORT_OVERBURDEN] = (dt_import_column){"PP", "psi"};
    import_once(bytes, size, &thinned);
    import_once(bytes, size, &whole);
    return 0;
}
