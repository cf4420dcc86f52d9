#!/bin/sh
# SPDX-License-Identifier: MIT
# page.sh BUILD [FOLDER] [COUNT]: tests the live page of a build that has it (-DDRAWTUBE_PAGE=ON): its engine against the
# command in node (COUNT random wells, default none), then the page in Chromium where npm and chromium are at hand.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
source=$(cd "$here/../.." && pwd)
build=$(cd "${1:?usage: page.sh BUILD [FOLDER] [COUNT]}" && pwd)
folder=${2:-$source/build/browser}
command -v node >/dev/null 2>&1 || { echo "skipped: node is not installed (Debian: nodejs npm)"; exit 0; }
mkdir -p "$folder/engine" "$folder/page"
folder=$(cd "$folder" && pwd)
node "$here/engine.test.js" "$build/page/engine.wasm" "$build/drawtube" "$build/tests/selfcheck" "$source" "$folder/engine" "${3:-0}"
chromium=$(command -v chromium || command -v chromium-browser || true)
[ -n "$chromium" ] || { echo "skipped: chromium is not installed (Debian: chromium)"; exit 0; }
command -v npm >/dev/null 2>&1 || { echo "skipped: npm is not installed (Debian: npm)"; exit 0; }
if [ ! -d "$folder/node_modules/playwright-core" ]; then
    cp "$here"/package*.json "$folder/"
    (cd "$folder" && npm ci --no-audit --no-fund --silent) || { echo "skipped: npm cannot fetch its packages"; exit 0; }
fi
NODE_PATH="$folder/node_modules" CHROMIUM="$chromium" node "$here/page.test.js" "$build/drawtube" "$source" "$folder/page"
