#!/bin/sh
# SPDX-License-Identifier: MIT
# script_words.sh COMMAND SOURCE: the words of docs/glossary.md are those of the outputs; what stood in their place
# stands nowhere: not in what is printed, drawn and written of the shipped wells, not in help, messages and the page.
set -u
tube=$1
source=$2
. "$source/tests/command.sh"
shown=$dir/shown
mkdir "$shown"

old='least mud|most mud|may stand (from|nowhere|[0-9])|nowhere else|rock (breaks|bears|does not bear)|breaks the (rock|formation)|borne'
old="$old|(the|by) shoe before|(string|casing|the one) before\b|dry to|fill (it )?on the way|pulling|lowering|lower a joint|by its mark|held by the float"
old="$old|falls? free|left to fracture|on the rack|spare (liner|string)|\bspares\b|\bbuys\b|\brisks\b|\bwish|worth of knowing|\bwait\b|swelling"
old="$old|preventers|parted by|[0-9a-z] [0-9.]+ is asked for|(burst|collapse|tension|triaxial|factor) (of )?[0-9.]+ of [0-9]|may run empty"

# what a reader sees of a file: no tags and no names of keys, codes, attributes and elements
seen() {
    case $1 in
    *.html | *.svg) tr '\n' ' ' | sed -E -e 's/<(td|th|tr|p|li|text)[ >]/\n&/g' | sed -E -e 's/<[^>]*>//g' -e 's/, [a-z_]+ [a-z_]+$//' ;;
    *.json) sed -E -e 's/"[a-z_]+": ?//g' -e 's/"(code|path)": ?"[^"]*"//g' -e 's/"[a-z_]+(-[a-z]+)*",?$//' ;;
    *) cat ;;
    esac <"$1" | sed -E -e 's/(<|&lt;)\/?[a-z_]+//g' -e 's/[a-z_]+="[^"]*"//g' -e 's/\[[a-z-]+\]//g'
}

# check FOLDER: every file of it
check() {
    for file in "$1"/*; do
        [ -f "$file" ] || continue
        case $file in *.png | *.pdf | *.docx) continue ;; esac
        seen "$file" | grep -niE "$old" | cut -c1-200 >"$dir/found"
        [ -s "$dir/found" ] || continue
        bad "$(basename "$file") has words that the trade does not use (docs/glossary.md)"
        head -3 "$dir/found"
    done
}

wells=0
for well in "$source"/wells/*.xml; do
    name=$(basename "$well" .xml)
    "$tube" plan "$well" -o "$shown/$name" >"$shown/$name.plan" 2>&1
    "$tube" plan "$well" --all >"$shown/$name.all" 2>&1
    "$tube" why "$well" >"$shown/$name.why" 2>&1
    "$tube" odds "$well" --samples 300 -o "$shown/$name.odds.svg" >"$shown/$name.odds" 2>&1
    [ ! -d "$shown/$name" ] || check "$shown/$name"
    wells=$((wells + 1))
done
[ $wells -ge 8 ] || bad "only $wells wells are shipped"
"$tube" compare "$source/wells/mizzenlow-shelf.xml" -o "$shown/options" >"$shown/compare" 2>&1
check "$shown/options"
"$tube" compare "$source/wells/alder-reach.xml" "$source/wells/hollinfold.xml" -o "$shown/two" >"$shown/two.txt" 2>&1
check "$shown/two"
"$tube" why "$source/wells/alder-reach.xml" --without "string 3" >"$shown/without" 2>&1
"$tube" why "$source/wells/alder-reach.xml" --set "shoe of surface = 2500 ft" >"$shown/set" 2>&1
"$tube" --help >"$shown/help"
for command in plan check compare draw start rate why odds import export page; do "$tube" $command --help >"$shown/help.$command"; done
"$tube" start >"$shown/start"
"$tube" start --metric >"$shown/start.metric"
sed -E -n 's/^DT_NOTICE\([A-Z_0-9]+, "[^"]*", [A-Z]+, //p' "$source/planner/base/notices.def" |
    sed -E 's/\{[^}]*\}//g' >"$shown/notices"
sed -E -n 's/^DT_MESSAGE\([0-9]+, [A-Z_0-9]+, [A-Z_]+, //p' "$source/planner/base/messages.def" >"$shown/messages"
sed -n 's/^DT_CUSTOM.*, "\([^"]*\)".*/\1/p' "$source/planner/well/customs.def" >"$shown/customs"
cp "$source/render/page/page.html" "$source/docs/drawtube.1" "$shown"
[ "$(wc -l <"$shown/notices")" -ge 150 ] || bad "notices.def is written otherwise"
[ "$(wc -l <"$shown/messages")" -ge 100 ] || bad "messages.def is written otherwise"
check "$shown"

# The words it catches are caught.
printf 'least mud\nthe rock bears no more\ncollapse 1.18 of 1.00\n' >"$dir/odd"
[ "$(seen "$dir/odd" | grep -ciE "$old")" = 3 ] || bad "old words pass"

# Every word of the glossary has its line, in order.
sed -n 's/^| \([^|]*\) |.*/\1/p' "$source/docs/glossary.md" | sed 1,2d | tr '[:upper:]' '[:lower:]' >"$dir/terms"
[ "$(wc -l <"$dir/terms")" -ge 40 ] || bad "the glossary is short"
LC_ALL=C sort -c "$dir/terms" 2>"$dir/unsorted" || bad "the glossary is out of order: $(cat "$dir/unsorted")"
exit $fail
