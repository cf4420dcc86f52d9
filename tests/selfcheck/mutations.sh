#!/bin/sh
# SPDX-License-Identifier: MIT
# mutations.sh SELFCHECK COUNT SEED: claims spoiled on purpose in so many wells: does the checker notice each kind? A
# spoiled figure can be within what the checker allows for its coarser steps in one well or another, never in two
# of ten.
set -eu
"$1" --mutate --count "$2" --seed "$3" 2>&1 |
    awk '/ made, / {++kinds; if ($4 * 10 > $2) {print; bad = 1}}
        END {print kinds + 0 " kinds of spoiled claims"; exit bad || kinds < 40}'
