#!/bin/sh
# SPDX-License-Identifier: MIT
# revisions.sh WORK OLD [NEW]: do two revisions make the same bytes? Builds the command of both (NEW: the
# work tree as it stands when left out), makes every output of the shipped wells with each, from the
# wells of OLD, and compares. The proof of a change that must change nothing.
set -eu
source=$(cd "$(dirname "$0")/../.." && pwd)
work=${1:?revisions.sh WORK OLD [NEW]}
old=${2:?revisions.sh WORK OLD [NEW]}
new=${3:-}
mkdir -p "$work"
work=$(cd "$work" && pwd)
rm -rf "$work/outputs" "$work/source"
mkdir -p "$work/outputs" "$work/source"

# tree NAME REVISION: its sources in a folder of their own; the work tree itself where no revision is named.
tree() {
    if [ -z "$2" ]; then
        ln -s "$source" "$work/source/$1"
        return
    fi
    mkdir "$work/source/$1"
    git -C "$source" archive "$2" | tar -x -C "$work/source/$1"
}

# make NAME: builds the command, and its outputs from the wells of the old revision.
make() {
    rm -rf "$work/build-$1"
    cmake -S "$work/source/$1" -B "$work/build-$1" -DCMAKE_BUILD_TYPE=Release >"$work/$1.log" &&
        cmake --build "$work/build-$1" -j2 --target drawtube >>"$work/$1.log" || { cat "$work/$1.log"; exit 1; }
    mkdir "$work/outputs/$1"
    (cd "$work/outputs/$1" && sh "$source/tests/same_bytes/outputs.sh" "$work/build-$1/drawtube" ../../source/old some)
}

tree old "$old"
tree new "$new"
make old
make new
diff -rq "$work/outputs/old" "$work/outputs/new" || { echo "FAILED: $old and ${new:-the work tree} differ in bytes"; exit 1; }
echo "$(find "$work/outputs/old" -type f | wc -l) files of $old and ${new:-the work tree} are the same, byte for byte"
