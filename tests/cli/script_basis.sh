#!/bin/sh
# SPDX-License-Identifier: MIT
# Bases as files: what their compiler and the command do with them. The compiler stops the build where the built-in basis is wrong, says file and line, and writes
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
refused 'production="full"' '"300" is not a number and one of ft, m' 's/lap="300 ft"/lap="300"/'
refused 'normal_pore="' 'has no source' '/<conductor/,/<\/conductor>/s/<source>.*<\/source>//'
refused 'production="full"' 'not known inside <basis>' 's/<seats/<seat/; s/<\/seats/<\/seat/'
refused 'production="full"' 'no such attribute' 's/ lap="300 ft"/ lap="300 ft" laps="2"/'
: >"$work/in.xml"
if "$compiler" "$work/in.xml" "$work/out.c" 2>/dev/null || [ -e "$work/out.c" ]; then
    echo "accepted an empty file"
    failed=1
fi

# a layer is held against the built-in basis in the same way, and against what the two mean together
layer() {
    printf '<basis xmlns="urn:drawtube:well:1" name="x">\n%s</basis>\n' "$1" >"$work/layer.xml"
    if "$compiler" "$basis" "$work/layer.xml" "$work/out.c" 2>"$work/messages" || [ -e "$work/out.c" ]; then
        echo "accepted a layer: $1"
        failed=1
    elif ! grep -F "$work/layer.xml:2: " "$work/messages" | grep -qF "$2"; then
        echo "no message with \"$2\": $1"
        cat "$work/messages"
        failed=1
    fi
}
layer '<seats lap="300"><source>s</source></seats>' '"300" is not a number'
layer '<seats least_lap="400 ft"><source>s</source></seats>' 'is more than lap'

# ---- the command: names, files and what is wrong with them
tube=$1 well=$2/wells/alder-reach.xml
want() { # CODE WORDS ARGS...
    code=$1 words=$2
    shift 2
    "$tube" "$@" >"$work/out" 2>&1
    got=$?
    [ $got -eq "$code" ] && grep -qF -- "$words" "$work/out" && return
    echo "exit $got instead of $code, or no \"$words\": $*"
    cat "$work/out"
    failed=1
}
cat >"$work/ours.xml" <<'BASIS'
<basis xmlns="urn:drawtube:well:1" name="ours">
  <design max_sections="1"><source>rule 7</source></design>
</basis>
BASIS
want 0 'the well file is whole' check "$well" --basis us-onshore --basis "$work/ours.xml"
want 0 '"from": "ours"' plan "$well" --json --basis "$work/ours.xml"
want 0 'strings' plan "$well" --basis us-onshore -o "$work/report"
grep -qF 'us-onshore (as of 2023)' "$work/report/program.html" || { echo "the report does not name the basis"; failed=1; }
want 0 'for where the well stands' plan "$well" --all
"$tube" plan "$well" --json --basis bare | grep -q basis-taken && echo "a basis is taken over bare" && failed=1
for name in compare draw odds why; do
    want 2 'one of bare, land, shelf, deepwater, geothermal, platform, us-ocs' $name "$well" --basis offshore
done
want 3 'cannot open' plan "$well" --basis "$work/none.xml"
sed 's/max_sections="1"/max_sections="99"/' "$work/ours.xml" >"$work/bad.xml"
want 3 "$work/bad.xml:2: error DT-216: design/@max_sections" plan "$well" --basis "$work/bad.xml"
want 3 'first element is <well>' plan "$well" --basis "$well"
want 2 'write land, shelf, deepwater or geothermal' start --basis texas
for name in land shelf deepwater geothermal; do
    for metric in '' --metric; do
        "$tube" start --basis $name $metric >"$work/start.xml"
        want 0 strings plan "$work/start.xml"
    done
done
exit $failed
