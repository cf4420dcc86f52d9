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
for well in "$source"/wells/*.xml; do
    name=$(basename "$well" .xml)
    for units in field metric; do
        status=0
        rm -rf "$folder/reports/$name-$units"
        "$command" plan "$well" -o "$folder/reports/$name-$units" --units $units --compare >/dev/null 2>&1 || status=$?
        case $status in
        0 | 1) ;; # 1: no program exists, or it is not runnable and has its report
        *) echo "FAILED: plan $name ended with $status"; exit 1 ;;
        esac
    done
done
NODE_PATH="$folder/node_modules" CHROMIUM="$chromium" node "$here/report.test.js" "$folder/reports"
