#!/bin/sh
# SPDX-License-Identifier: MIT
# draw.sh COMMAND FOLDER: the pictures of docs/first-well.md, into FOLDER. The same wells give the same bytes.
set -eu
command=$1
folder=$2
samples=$(cd "$(dirname "$0")/../samples" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$command" plan "$samples/first-1.xml" -o "$work/1" >/dev/null
cp "$work/1/window.svg" "$folder/first-1-window.svg"
for step in 1 2 3; do
    "$command" draw "$samples/first-$step.xml" --form thumbnail -o "$folder/first-$step-thumbnail.svg"
done
"$command" draw "$samples/first-3.xml" --form column -o "$folder/first-3-column.svg"
