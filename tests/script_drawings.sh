#!/bin/sh
# SPDX-License-Identifier: MIT
# script_drawings.sh COMMAND SOURCE: librsvg renders every drawing of every shipped well.
set -eu
command=$1
source=$2
if ! command -v rsvg-convert >/dev/null 2>&1; then
    echo "skipped: rsvg-convert is not installed (Debian: librsvg2-bin)"
    exit 0
fi
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
rendered=0
for well in "$source"/wells/*.xml; do
    name=$(basename "$well" .xml)
    status=0
    "$command" plan "$well" -o "$out/$name" >/dev/null 2>&1 || status=$?
    [ "$status" -eq 1 ] && continue # the input is valid but no program exists
    [ "$status" -eq 0 ] || { echo "$name: plan ended with $status"; exit 1; }
    for drawing in schematic window options strength-1 strength-2; do
        rsvg-convert -d 150 -p 150 "$out/$name/$drawing.svg" -o "$out/$drawing.png" 2>"$out/words"
        [ ! -s "$out/words" ] || { echo "$name $drawing:"; cat "$out/words"; exit 1; }
        size=$(wc -c <"$out/$drawing.png")
        [ "$size" -gt 20000 ] || { echo "$name $drawing: nearly empty ($size bytes)"; exit 1; }
        rendered=$((rendered + 1))
    done
done
[ "$rendered" -gt 0 ] || { echo "nothing was rendered"; exit 1; }
echo "$rendered drawings rendered"
