#!/bin/sh
# SPDX-License-Identifier: MIT
# coverage.sh BUILD: lines and branches of planner that the tests reach. BUILD is made with
# .cmake/coverage.cmake and its tests have run (docs/coverage.md). "uncovered" as a second word lists the
# lines and branches that no test takes.
set -eu
source=$(cd "$(dirname "$0")/.." && pwd)
build=$(cd "${1:?coverage.sh BUILD [uncovered]}" && pwd)
cd "$(mktemp -d)"
trap 'rm -rf "$PWD"' EXIT
for file in "$source"/planner/*/*.c; do
    name=$(basename "$file")
    room=$(basename "$(dirname "$file")")
    objects=$build/planner/CMakeFiles/room_$room.dir/$room
    [ -e "$objects/$name.gcda" ] || { echo "$name: no test has run it" >&2; continue; }
    gcov -b -o "$objects/$name.o" "$file" 2>/dev/null |
        awk -v want="$file" -v name="$name" '
            /^File/ { here = index($0, want) > 0 }
            here && /^Lines executed/ { split($0, p, /[:% ]+/); lines = $NF; line_share = p[3] }
            here && /^Taken at least once/ { split($0, p, /[:% ]+/); branches = $NF; branch_share = p[5] }
            END { print name, lines, line_share, branches + 0, branch_share + 0 }'
    [ "${2:-}" = uncovered ] && awk -v name="$name" '
        /^ *#####:/ { split($0, p, ":"); print name ":" p[2] + 0 ": not run: " substr($0, index($0, p[3])); next }
        /^ *[0-9=#-]+\*?: *[0-9]+:/ { split($0, p, ":"); at = p[2] + 0; text = substr($0, index($0, ":") + 7) }
        /^branch/ && (/taken 0/ || /never/) && !/throw/ && !seen[at]++ { print name ":" at ": a branch is not taken: " text }
        ' "$name.gcov"
    rm -f ./*.gcov
done >figures
if [ "${2:-}" = uncovered ]; then
    grep ': ' figures
    exit
fi
awk 'BEGIN { form = "%-22s %7d %7.1f %% %9d %7.1f %%\n"; printf "%-22s %7s %9s %9s %9s\n", "", "lines", "run", "branches", "taken" }
    { printf form, $1, $2, $3, $4, $5; n += $2; run += $2 * $3 / 100; b += $4; taken += $4 * $5 / 100 }
    END { printf form, "all", n, 100 * run / n, b, 100 * taken / b }' figures
