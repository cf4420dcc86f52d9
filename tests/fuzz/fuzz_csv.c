/* SPDX-License-Identifier: MIT */
/* Any bytes as a CSV of pressures with columns pore and frac, units from the file and given. */
#include "import_once.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    dt_import_request stated = {.tolerance_pa = 0}, given = {.tolerance_pa = 1e4};
    stated.table[DT_IMPORT_PORE].name = "pore";
    stated.table[DT_IMPORT_OVERBURDEN].name = "frac";
    given.depth = (dt_import_column){"depth", "m"};
    given.table[DT_IMPORT_COLLAPSE] = (dt_import_column){"pore", "sg"};
    import_once(bytes, size, &stated);
    import_once(bytes, size, &given);
    return 0;
}
