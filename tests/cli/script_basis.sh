#!/bin/sh
# SPDX-License-Identifier: MIT
# The basis's compiler stops the build where the built-in basis is wrong, says file and line, and writes
# nothing. What the reader refuses is in tests/well/test_basis.c.
# usage: script_basis.sh DRAWTUBE SOURCE_DIR
compiler=$(dirname "$1")/planner/compile_basis
basis=$2/planner/well/basis/built-in.xml
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
failed=0

# refused LINE-OF WORDS SED: changed so, the basis is refused at the line that holds LINE-OF, with WORDS
refused() {
    sed "$3" "$basis" >"$work/in.xml"
    cmp -s "$basis" "$work/in.xml" && echo "changes nothing: $3" && failed=1
    line=$(grep -nF "$1" "$work/in.xml" | head -1 | cut -d: -f1)
    if "$compiler" "$work/in.xml" "$work/out.c" 2>"$work/messages"; then
        echo "accepted: $3"
        failed=1
    elif ! grep -F "$work/in.xml:$line: " "$work/messages" | grep -qF "$2"; then
        echo "no message for line $line with \"$2\": $3"
        cat "$work/messages"
        failed=1
    elif [ -e "$work/out.c" ]; then
        echo "wrote a table in spite of $3"
        failed=1
    fi
}

if ! "$compiler" "$basis" "$work/out.c" || ! [ -s "$work/out.c" ]; then
    echo "refuses the file as it is"
    failed=1
fi
rm -f "$work/out.c"
refused '<basis' 'seats/@lap: is missing (liner lap)' 's/ lap="300 ft"//'
refused '<basis' 'has no <clearance>' '/<clearance /d'
refused '<seats' '"300" is not a number and one of ft, m' 's/lap="300 ft"/lap="300"/'
refused '<conductor' 'has no source' '/<conductor/,/<\/conductor>/s/<source>.*<\/source>//'
refused '<seat ' 'not known inside <basis>' 's/<seats/<seat/; s/<\/seats/<\/seat/'
refused 'laps=' 'no such attribute' 's/ lap="300 ft"/ lap="300 ft" laps="2"/'
: >"$work/in.xml"
if "$compiler" "$work/in.xml" "$work/out.c" 2>/dev/null || [ -e "$work/out.c" ]; then
    echo "accepted an empty file"
    failed=1
fi
exit $failed
