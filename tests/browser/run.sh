#!/bin/sh
# SPDX-License-Identifier: MIT
# run.sh COMMAND [FOLDER]: tests program.html of every shipped well in Chromium.
# COMMAND is the drawtube to test, FOLDER where reports and npm's modules go (default build/browser).
# Skips with a message where node, npm or chromium is missing: they are no part of the build.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
source=$(cd "$here/../.." && pwd)
command=${1:?usage: run.sh COMMAND [FOLDER]}
folder=${2:-$source/build/browser}
chromium=$(command -v chromium || command -v chromium-browser || true)
for need in node npm; do
    command -v $need >/dev/null 2>&1 || { echo "skipped: $need is not installed (Debian: nodejs npm)"; exit 0; }
done
[ -n "$chromium" ] || { echo "skipped: chromium is not installed (Debian: chromium)"; exit 0; }
mkdir -p "$folder/reports"
cp "$here"/package*.json "$folder/"
(cd "$folder" && npm ci --no-audit --no-fund --silent) || { echo "skipped: npm cannot fetch its packages"; exit 0; }
# print_one WELL UNITS: exit 1 of plan is a well without a program, or one that is not runnable and has its report
cat >"$folder/print-one.sh" <<'END'
command=$1 folder=$2 well=$3 units=$4
name=$(basename "$well" .xml)
rm -rf "$folder/reports/$name-$units"
"$command" plan "$well" -o "$folder/reports/$name-$units" --units "$units" --compare >/dev/null 2>&1
[ $? -le 1 ] || { echo "FAILED: plan $name in $units units"; exit 1; }
END
for units in field metric; do printf "%s\n$units\n" "$source"/wells/*.xml; done |
    xargs -P 2 -n 2 sh "$folder/print-one.sh" "$command" "$folder"
NODE_PATH="$folder/node_modules" CHROMIUM="$chromium" SOURCE="$source/wells" node "$here/report.test.js" "$folder/reports"
