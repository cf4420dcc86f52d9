#!/bin/sh
# SPDX-License-Identifier: MIT
# script_exercises.sh COMMAND SOURCE [WORK]: the exercises of docs/exercises.md still fit the tree and are
# small. With WORK, a folder to build in, all of them are applied to a copy of SOURCE, built and tested:
# cmake --build build --target exercises.
set -u
source=$2 work=${3-}
fail=0
bad() { echo "FAILED: $1"; fail=1; }
command -v git >/dev/null || { echo "git is not installed: not checked"; exit 0; }
cd "$source" || exit 1
count=0
for patch in docs/exercises/*.patch; do
    [ -e "$patch" ] || continue
    lines=$(grep -c '^[-+]' "$patch")
    heads=$(grep -c -e '^--- ' -e '^+++ ' "$patch")
    [ $((lines - heads)) -lt 30 ] || bad "$patch changes $((lines - heads)) lines: 30 are too many"
    git apply --check -C1 "$patch" || bad "$patch does not fit any more: do the exercise again"
    grep -q "exercises/$(basename "$patch")" docs/exercises.md || bad "docs/exercises.md does not tell $patch"
    count=$((count + 1))
done
[ $count -ge 3 ] || bad "only $count exercises"
[ -n "$work" ] && [ $fail -eq 0 ] || exit $fail

rm -rf "$work/source"
mkdir -p "$work/source"
cp -r CMakeLists.txt README.md LICENSE DEVELOPERS.md .cmake planner render include tests wells docs "$work/source" || exit 1
cd "$work/source" || exit 1
for patch in docs/exercises/*.patch; do
    GIT_CEILING_DIRECTORIES=$work git apply -C1 "$patch" || exit 1 # as a folder, not as part of a clone around it
done
cmake -S . -B "$work/build" -DCMAKE_BUILD_TYPE=Debug >/dev/null && cmake --build "$work/build" -j2 >/dev/null || exit 1
ctest --test-dir "$work/build" -j2 --output-on-failure \
    -R 'test_ratings|test_catalogue|test_load|test_strength|test_documents|test_drawings|test_well_read|test_report|script_catalogue' || exit 1
