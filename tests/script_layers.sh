#!/bin/sh
# The rooms keep their doors shut: what may include what. $2 is the source folder.
set -eu
cd "$2"
fail=0
bad() { echo "$1"; fail=1; }
grep -lE '#include.*(drawings\.h|render/|svg\.h)' planner/*.c planner/*.h 2>/dev/null | while read -r f; do echo "planner includes render: $f"; done | grep . && fail=1
for f in planner/*.c; do
    case $f in planner/well_*) continue ;; esac
    grep -q 'libxml' "$f" && bad "only the reader includes libxml2: $f"
done
for f in planner/cli/*.c planner/cli/*.h; do
    grep -E '#include "' "$f" | grep -vE '"(drawtube/[a-z_]+\.h|cli\.h|writing\.h)"' && bad "the command uses public headers only: $f"
done
grep -nE '\b(printf|fprintf|puts|exit|abort|setlocale) *\(' planner/*.c render/*.c | grep -vE 'snprintf|option_graph\.c' && bad "no printing and no exit below the command"
# Every public header has its source or is listed here as shared vocabulary.
for h in include/drawtube/*.h; do
    name=$(basename "$h" .h)
    case $name in status | findings | units | well | drawings) continue ;; esac
    [ -f "planner/$name.c" ] || bad "no planner/$name.c for $h"
done
# Every public function says what it does: a comment stands above it, or above the ones it stands with.
for h in include/drawtube/*.h; do
    awk '/^[a-z][a-z_ ]*[ *]dt_[a-z_0-9]+\(/ && !/^(typedef|static)/ && before == "" {print FILENAME ":" FNR ": not documented: " $0; bad = 1}
         {before = $0} END {exit bad}' "$h" || fail=1
done
# The top level is what it is.
extra=$(git ls-files 2>/dev/null | cut -d/ -f1 | sort -u | grep -vE '^(README\.md|DEVELOPERS\.md|LICENSE|CMakeLists\.txt|planner|render|include|tests|wells|docs|\..*)$' || true)
[ -z "$extra" ] || bad "not of the fixed top level: $extra"
exit $fail
