#!/bin/sh
# The rooms keep their doors shut: what may include what. $2 is the source folder.
set -eu
cd "$2"
fail=0
bad() { echo "$1"; fail=1; }
# A room links what it may include (planner/CMakeLists.txt, render/CMakeLists.txt). Archives do not ask
# where a symbol comes from, so it is asked here: each must be defined in a room that is needed.
build=$(dirname "$1")
awk '/^drawtube_room\(/ {sub(/^drawtube_room\(/, ""); room = $1}
     room != "" && /^ *NEEDS / {needs[room] = substr($0, index($0, "NEEDS ") + 6)}
     room != "" && /^\)/ {print room ":" needs[room]; room = ""}' planner/CMakeLists.txt render/CMakeLists.txt |
    while IFS=: read -r room needs; do
        for archive in "$build"/planner/libroom_"$room".a "$build"/render/libroom_"$room".a; do
            [ -f "$archive" ] || continue
            nm "$archive" | awk -v room="$room" -v needs="$needs" '
                NF == 2 && $1 == "U" {print "U", room, $NF} NF == 3 && $2 ~ /^[TRDBC]$/ {print "D", room, $3}
                END {print "N", room, needs}'
        done
    done | awk '
        $1 == "D" {at[$3] = $2}
        $1 == "U" {asked[++asks] = $2 " " $3}
        $1 == "N" {for (i = 3; i <= NF; ++i) may[$2, $i] = 1; rooms[$2] = 1}
        END {
            for (round = 0; round < 20; ++round)
                for (a in rooms) for (b in rooms) if ((a, b) in may)
                    for (c in rooms) if ((b, c) in may) may[a, c] = 1
            for (a in rooms) ++seen
            if (seen < 20) {print "only " seen + 0 " rooms were seen"; exit 1}
            for (i = 1; i <= asks; ++i) {
                split(asked[i], ask, " ")
                if ((ask[2] in at) && at[ask[2]] != ask[1] && !((ask[1], at[ask[2]]) in may)) {
                    print ask[1] " reaches up to " at[ask[2]] ": " ask[2]; bad = 1
                }
            }
            exit bad
        }' || fail=1
# One library a room.
only() { # only LIBRARY PATTERN FOLDERS: nobody else includes it
    grep -rlE "#include <($1)" planner render --include='*.[ch]' | grep -vE "^($2)/" | while read -r f; do echo "$f includes $1"; done | grep . && fail=1
    return 0
}
only libxml/ 'planner/(well|import|cli)|render/(text|report|svg|graph|docx)'
only 'graphviz|gvc' render/graph
only 'cairo|librsvg' render/picture
only jansson 'render/(data|report)'
only 'zip' render/docx
grep -rnE '#include "[^"]*/' planner render tests --include='*.[ch]' && bad "a header is included by its name: rooms are on the path"
grep -nE '\b(printf|fprintf|puts|exit|abort|setlocale) *\(' $(git ls-files 'planner/*.c' 'render/*.c' | grep -vE '^planner/(cli/|catalogue/compile_|well/compile_|base/embed_)') |
    grep -vE 'snprintf|option_graph\.c|fprintf\(stream, ' && bad "no printing and no exit below the command"
# The command sees what any program sees: the public headers, and its own.
grep -hoE '#include "[^"]*"' planner/cli/*.[ch] | sort -u | sed 's/.*"\(.*\)"/\1/' | while read -r header; do
    [ -f "planner/cli/$header" ] || echo "planner/cli includes $header, which is a room's"
done | grep . && fail=1
# A public header declares public functions only, and includes no other header of ours.
grep -nE '^[a-z][a-z_ ]*[ *]dt_[a-z_0-9]+\(' include/drawtube/*.h && bad "declared without DT_API"
grep -nE '#include "' include/drawtube/*.h && bad "a public header includes <drawtube/...> and the C library"
# Sentences to the user are made in render/words; what a reader refuses is told where it is read.
grep -rlE '\bsay(_clean)?\(' planner --include='*.c' |
    grep -vE '^planner/(base/sentence|import/|well/well_xml|well/what_if|why/why_wish)' | while read -r f; do echo "$f makes sentences"; done | grep . && fail=1
grep -rnE '\bdt_display\b' planner --include='*.[ch]' | grep -vE '^planner/(base/|cli/|import/|why/why_wish|well/well\.h|library/inputs)' && bad "a stage asks for the units of a reader"
# Every public function says what it does: a comment stands above it, or above the ones it stands with.
for h in $(git ls-files 'include/*.h' 'planner/*.h'); do
    case $h in planner/cli/* | *_parts.h | *_elements.h | */hold.h | */options_search.h) continue ;; esac
    awk '/^(DT_API )?[a-z][a-z_ ]*[ *]dt_[a-z_0-9]+\(/ && !/^(typedef|static)/ && before == "" {print FILENAME ":" FNR ": not documented: " $0; bad = 1}
         {before = $0} END {exit bad}' "$h" || fail=1
done
# What a well leaves open is taken from its basis: no default stands in the code as a number or a word.
defaults='(#define|static const|const double|const char)[^;(]*([cC]ustomary|CUSTOMARY)'
defaults="$defaults|or_else\\([^()]*, *(-?[0-9.]|\")"
defaults="$defaults|isnan\\([^()]*\\) *\\? *(0?\\.[0-9]|[1-9])"
defaults="$defaults|if \\(isnan\\([^()]*\\)\\) [a-z_>.-]+ = (0?\\.[0-9]|[1-9]|[A-MO-Z_][A-Z_])"
defaults="$defaults|has_attribute\\([^;]*= *-?[0-9]"
defaults="$defaults|[^a-z_]settle\\([^;]*, *-?[0-9.]+[,)]"
planted() { # what the pattern is for, it sees
    echo "$1" | grep -qE "$defaults" || bad "the look for defaults does not see: $1"
}
planted 'static const double customary_burst = 1.10;'
planted '#define CUSTOMARY_LAP_M (300 * DT_M_PER_FT)'
planted '.spares = or_else(w->spares, 0.04),'
planted 'lead = or_else(w->lead, "G neat");'
planted 'x = isnan(w->k) ? 2.0 : w->k;'
planted 'if (isnan(sea)) sea = SEA_WATER_KGM3;'
planted 'if (!dt_has_attribute(node, "within")) interval->within_m = 0;'
planted 'f.burst = settle(d->given, d->burst, 1.10, &guessed);'
grep -rnE "$defaults" planner --include='*.[ch]' | grep -vE '^planner/well/(basis|customs)' |
    grep . && bad "a default belongs into planner/well/basis/built-in.xml (docs/basis.md)"
# Each custom is asked for somewhere: one that nobody reads would be a promise that is not kept.
asked=$(grep -rhoE 'DT_(CUSTOM|TABLE)_[A-Z_]+' planner --include='*.c' | sort -u)
for name in $(sed -nE 's/^DT_CUSTOM_(NUMBER|QUANTITY|MARGIN|WORD|NAME)\(([A-Z_]+),.*/DT_CUSTOM_\2/p; s/^DT_CUSTOM_(TABLE|SERIES)\(([A-Z_]+),.*/DT_TABLE_\2/p' planner/well/customs.def); do
    echo "$asked" | grep -qx "$name" || bad "no source asks for $name"
    customs=$((${customs:-0} + 1))
done
[ "${customs:-0}" -gt 100 ] || bad "only ${customs:-0} customs were seen"
# The top level is what it is.
extra=$(git ls-files 2>/dev/null | cut -d/ -f1 | sort -u | grep -vE '^(README\.md|DEVELOPERS\.md|LICENSE|CMakeLists\.txt|planner|render|include|tests|wells|docs|\..*)$' || true)
[ -z "$extra" ] || bad "not of the fixed top level: $extra"
exit $fail
