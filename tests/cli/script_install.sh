#!/bin/sh
# SPDX-License-Identifier: MIT
# Who installs drawtube has the pages that its messages cite, the schemas of what it writes, and what
# those pages refer to. usage: script_install.sh DRAWTUBE SOURCE_DIR
build=$(dirname "$1")
source=$(cd "$2" && pwd)
dir=$(mktemp -d) || exit 1
trap 'rm -rf "$dir"' EXIT
fail=0
bad() { echo "FAILED: $*"; fail=1; }

cmake --install "$build" --component pages --prefix "$dir" >"$dir/log" 2>&1 || { cat "$dir/log"; exit 1; }
pages=$dir/share/doc/drawtube
[ -f "$pages/command.md" ] || bad "no pages in share/doc/drawtube"

# ---- what the sources cite
cited=$(grep -rhoE '"[^"]*docs/[a-z0-9/-]+\.(md|json)' "$source/planner" "$source/render" --include='*.[ch]' --include='*.def' |
    grep -oE 'docs/[a-z0-9/-]+\.(md|json)' | sort -u)
[ "$(echo "$cited" | wc -l)" -ge 3 ] || bad "no message cites a page any more"
for page in $cited; do [ -f "$pages/${page#docs/}" ] || bad "a message cites $page, which is not installed"; done
for schema in "$source"/docs/schemas/*.json; do
    cmp -s "$schema" "$pages/schemas/${schema##*/}" || bad "${schema##*/} is not installed"
done

# ---- what pages refer to in docs/ itself is there
(cd "$pages" && find . -name '*.md') >"$dir/list"
while read -r page; do
    grep -oE '\]\([^)#: ]+' "$pages/$page" | cut -c3- | grep -v "^https*$" | while read -r link; do
        target=$(realpath -m "$pages/$(dirname "$page")/$link")
        case $target in "$pages"/*) [ -e "$target" ] || echo "${page#./} -> $link" ;; esac
    done
done <"$dir/list" | grep . && bad "links lead to what is not installed"
exit $fail
