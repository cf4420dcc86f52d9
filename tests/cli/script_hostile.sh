#!/bin/sh
# SPDX-License-Identifier: MIT
# Files, names and calls that mean harm: tests/hostile/expected.txt says what each must bring.
# usage: script_hostile.sh DRAWTUBE SOURCE_DIR [--write]
drawtube=$1
source=$2/tests/hostile
write=${3:-}
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
failed=0
mkdir "$work/bin" "$work/in"
ln -s "$drawtube" "$work/bin/drawtube"
PATH=$work/bin:$PATH
cp "$source"/* "$work/in" && cd "$work/in" || exit 1
long= # a word of 20,000 letters, from there
. ./make.sh

# ---- the transcript
while IFS= read -r line; do
    case $line in
    '$ '*)
        printf '%s\n' "$line"
        # one shell a command, as at a prompt; a minute is far more than any may take
        long=$long timeout 60 sh -c "${line#'$ '}" >"$work/stdout" 2>"$work/stderr" </dev/null
        code=$?
        # lists of what there is (elements, grades) grow: a new one is no reason to touch these
        sed 's/ may hold: .*/ may hold: .../; s/; it has B, .*/; it has .../' "$work/stderr" |
            cut -c1-300 | grep . | head -12
        [ "$(wc -c <"$work/stdout")" -gt 1000 ] || grep . "$work/stdout" | sed 's/^/out: /'
        echo "exit $code"
        ;;
    '#'* | '') printf '%s\n' "$line" ;;
    esac
done <"$source/expected.txt" >"$work/transcript"
if [ "$write" = --write ]; then
    cp "$work/transcript" "$source/expected.txt"
elif ! diff -u "$source/expected.txt" "$work/transcript"; then
    failed=1
fi

# ---- names that are code elsewhere are text in every output
complain() { echo "$*"; failed=1; }
for folder in made-*; do
    for file in "$folder"/*.svg "$folder"/program.html; do
        grep -qiE '<script|<img src=x|onerror=alert\(1\)>|href="(javascript|http://192)' "$file" && complain "markup got through: $file"
    done
    if command -v xmllint >/dev/null; then
        xmllint --noout --nonet "$folder"/*.svg || complain "not well formed: $folder"
    fi
    case $folder in made-cdata) continue ;; esac
    name=$(sed -n 's/^.*<well[^>]* name="\([^"]*\)".*$/\1/p' "${folder#made-}.xml")
    grep -qF "$(printf '%s' "$name" | sed 's/&lt;.*//')" "$folder/program.json" "$folder/program.html" ||
        complain "the name is lost: $folder"
    # a cell of a spreadsheet that begins so is computed
    drawtube export "${folder#made-}.xml" --as csv | grep -E '(^|,)"?[=+@-][^0-9.]' && complain "a formula: $folder"
    # nothing but text and line ends reaches the terminal
    drawtube plan "${folder#made-}.xml" 2>&1 | LC_ALL=C grep -q "$(printf '[\001-\010\013-\037\177]')" &&
        complain "a control character on the terminal: $folder"
done
exit $failed
