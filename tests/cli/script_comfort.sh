#!/bin/sh
# SPDX-License-Identifier: MIT
# script_comfort.sh COMMAND SOURCE: help, manual and completion name the same commands and options;
# several wells in one call; import and export round trips.
tube=$1
source=$2
wells=$source/wells
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
fail=0
bad() { echo "FAILED: $1"; fail=1; }

# ---- one table behind completion, held against help and manual ----
"$tube" completion bash >"$dir/bash" || bad "completion bash"
"$tube" completion zsh >"$dir/zsh" || bad "completion zsh"
"$tube" completion fish >/dev/null 2>&1; [ $? -eq 2 ] || bad "completion fish is not refused"
commands=$(sed -n 's/.*compgen -W "\(.*\) --help --version".*/\1/p' "$dir/bash")
[ -n "$commands" ] || bad "the completion names no commands"
for command in $commands; do
    "$tube" "$command" --help >"$dir/help" || bad "$command --help"
    grep -q "^\.It Cm $command\$" "$source/docs/drawtube.1" || bad "$command is not in the manual"
    taken=$(sed -n "s/^    $command) options=\"\(.*\)\" ;;/\1/p" "$dir/bash" | tr ' ' '\n' | grep -v -e '^--help$' | sort)
    told=$(grep -o -e '--[a-z][a-z-]*' "$dir/help" | grep -v -e '^--help$' | sort -u)
    [ "$taken" = "$told" ] || bad "$command --help tells [$(echo $told)], it takes [$(echo $taken)]"
    for option in $taken; do
        grep -q "Fl Fl ${option#--}" "$source/docs/drawtube.1" || bad "$option is not in the manual"
        "$tube" "$command" "$option" --help >/dev/null 2>&1
    done
done
for option in $(grep -o 'Fl Fl [a-z]*' "$source/docs/drawtube.1" | sed 's/Fl Fl /--/' | sort -u); do
    grep -qe "$option" "$dir/bash" || [ "$option" = --version ] || bad "the manual has $option, the command has not"
done
if command -v bash >/dev/null; then
    bash -n "$dir/bash" || bad "the bash completion is no bash"
    got=$(bash -c ". '$dir/bash'; COMP_WORDS=(drawtube pl); COMP_CWORD=1; _drawtube; echo \"\${COMPREPLY[*]}\"")
    [ "$got" = plan ] || bad "pl completes to $got"
    got=$(bash -c ". '$dir/bash'; COMP_WORDS=(drawtube draw --form col); COMP_CWORD=3; _drawtube; echo \"\${COMPREPLY[*]}\"")
    [ "$got" = column ] || bad "--form col completes to $got"
    got=$(bash -c ". '$dir/bash'; COMP_WORDS=(drawtube rate --gr); COMP_CWORD=2; _drawtube; echo \"\${COMPREPLY[*]}\"")
    [ "$got" = --grade ] || bad "--gr completes to $got"
fi
if command -v zsh >/dev/null; then zsh -n "$dir/zsh" || bad "the zsh completion is no zsh"; fi
if command -v mandoc >/dev/null; then
    mandoc -T lint "$source/docs/drawtube.1" || bad "mandoc finds fault with the manual"
else
    echo "skipped: mandoc is not installed (Debian: mandoc)"
fi

# ---- several wells: a folder each, the gravest exit code ----
"$tube" plan "$wells/alder-reach.xml" "$wells/hollinfold.xml" -o "$dir/two" >"$dir/out" 2>"$dir/err"
[ $? -eq 0 ] || bad "two wells"
grep -q '2 of 2 wells' "$dir/out" || bad "no summary of two wells"
"$tube" plan "$wells/alder-reach.xml" "$wells/hollinfold.xml" -o "$dir/one-thread" --threads 1 >"$dir/out1" 2>&1
diff -r "$dir/two" "$dir/one-thread" || bad "threads change files"
sed "s|$dir/one-thread|$dir/two|" "$dir/out1" | cmp -s - "$dir/out" || bad "threads change what is said"
for name in alder-reach hollinfold; do
    for file in program.html program.json schematic.svg schematic-column.svg schematic-thumbnail.svg window.svg; do
        [ -s "$dir/two/$name/$file" ] || bad "no $name/$file"
    done
    "$tube" plan "$wells/$name.xml" -o "$dir/one" >/dev/null 2>&1
    cmp "$dir/one/program.json" "$dir/two/$name/program.json" || bad "$name: alone and in company differ"
done
# a folder of one well planned over by another: its own files change, those that no longer belong go, others stay
"$tube" plan "$wells/brackwater-deep.xml" -o "$dir/over" >/dev/null 2>"$dir/err"
grep -q "^$dir/over: [0-9]* files written\$" "$dir/err" || bad "plan does not say what it wrote"
"$tube" compare "$wells/brackwater-deep.xml" -o "$dir/over" >/dev/null 2>"$dir/err"
grep -q "^$dir/over: 4 files written\$" "$dir/err" || bad "compare does not say what it wrote"
echo mine >"$dir/over/string-9.svg"
"$tube" plan "$wells/alder-reach.xml" -o "$dir/over" >/dev/null 2>"$dir/err"
grep -q "^$dir/over: [0-9]* files written, 2 of an earlier run removed\$" "$dir/err" || bad "plan does not say what it removed: $(cat "$dir/err")"
"$tube" plan "$wells/alder-reach.xml" -o "$dir/fresh" >/dev/null 2>&1
rm "$dir/fresh/.drawtube-files"
for file in "$dir/over"/*; do
    case ${file##*/} in
    compare.* | certainty.svg | options.json) ;;
    string-9.svg) [ "$(cat "$file")" = mine ] || bad "a file of somebody else changed" ;;
    *) cmp -s "$file" "$dir/fresh/${file##*/}" || bad "${file##*/} is left of another well" ;;
    esac
done
[ -s "$dir/over/string-9.svg" ] && [ -s "$dir/over/compare.html" ] || bad "a file that is not of plan went"
# what has no zones, and a last string without cement, has its report, too
"$tube" plan "$2/docs/practice/cinderfell-hot.xml" -o "$dir/hot" >/dev/null 2>&1
[ $? -le 1 ] && [ -s "$dir/hot/program.html" ] || bad "no report of a slotted liner"
"$tube" plan "$wells/alder-reach.xml" "$wells/narrowgate.xml" -o "$dir/mixed" >"$dir/out" 2>"$dir/err"
[ $? -eq 1 ] || bad "a well without a program among others"
[ -s "$dir/mixed/alder-reach/program.json" ] || bad "the well beside it is not planned"
grep -q '"runnable": false' "$dir/mixed/narrowgate/program.json" || bad "the nearest program of a well without one"
grep -q "no program exists" "$dir/out" || bad "the summary passes over a well without a program"
grep -q "collides here" "$dir/mixed/narrowgate/window.svg" || bad "the window plot does not mark where the well collides"
echo '<nonsense/>' >"$dir/nonsense.xml"
"$tube" plan "$dir/nonsense.xml" "$wells/narrowgate.xml" -o "$dir/mixed" >"$dir/out" 2>"$dir/err"
[ $? -eq 3 ] || bad "a refused well among others"
[ -e "$dir/mixed/nonsense" ] && bad "a folder for a well that was refused"
"$tube" plan "$wells/alder-reach.xml" "$wells/hollinfold.xml" >/dev/null 2>&1; [ $? -eq 2 ] || bad "several wells without -o"
"$tube" plan "$wells/alder-reach.xml" "$dir/../${dir##*/}/alder-reach.xml" -o "$dir/x" >/dev/null 2>&1; [ $? -eq 2 ] || bad "two wells for one folder"
"$tube" plan "$wells/alder-reach.xml" "$wells/hollinfold.xml" -o "$dir/x" --json >/dev/null 2>&1; [ $? -eq 2 ] || bad "several wells as JSON"
"$tube" draw "$wells/alder-reach.xml" --form poster >/dev/null 2>&1; [ $? -eq 2 ] || bad "an unknown form"
grep -q "$(printf '\033')" "$dir/out" "$dir/err" && bad "escape codes where nobody can see them"

# ---- the same plan comes back from what was written ----
"$tube" plan - <"$wells/alder-reach.xml" >"$dir/a" 2>/dev/null && "$tube" plan "$wells/alder-reach.xml" >"$dir/b" 2>/dev/null && cmp "$dir/a" "$dir/b" || bad "standard input differs from the file"
"$tube" import "$source/docs/samples/pressures.las" --pore PPG --fracture FG --into "$wells/alder-reach.xml" -o "$dir/into.xml" 2>"$dir/err" || bad "import into a well"
grep -q 'dropped' "$dir/err" || bad "import does not say what it dropped"
"$tube" check "$dir/into.xml" >/dev/null || bad "what was imported is refused"
"$tube" export "$wells/hollinfold.xml" --as witsml-trajectory -o "$dir/path.xml" || bad "export of a trajectory"
"$tube" import "$dir/path.xml" --survey --into "$wells/hollinfold.xml" -o "$dir/back.xml" 2>/dev/null || bad "import of what was exported"
"$tube" plan "$wells/hollinfold.xml" --json >"$dir/a" 2>/dev/null
"$tube" plan "$dir/back.xml" --json >"$dir/b" 2>/dev/null
grep -v 'governed\|"line"' "$dir/a" >"$dir/c"; grep -v 'governed\|"line"' "$dir/b" >"$dir/d" # reasons name lines of the file
cmp "$dir/c" "$dir/d" || bad "a survey that went out and came back gives another plan"
"$tube" export "$wells/alder-reach.xml" --as witsml-trajectory >/dev/null 2>&1; [ $? -eq 3 ] || bad "a trajectory of a vertical well"
"$tube" export "$wells/alder-reach.xml" --as csv >"$dir/csv" || bad "export as CSV"
[ "$(awk -F, 'NR == 1 {n = NF} NF != n {print NR}' "$dir/csv")" = "" ] || bad "CSV rows differ in length"
"$tube" export "$wells/alder-reach.xml" >/dev/null 2>&1; [ $? -eq 2 ] || bad "export without a format"
"$tube" import "$source/docs/samples/survey.csv" >/dev/null 2>&1; [ $? -eq 2 ] || bad "import of nothing in particular"
if command -v xmllint >/dev/null; then
    "$tube" export "$wells/mizzenlow-shelf.xml" --as witsml-geometry >"$dir/geometry.xml" && xmllint --noout "$dir/geometry.xml" || bad "the WITSML geometry is no XML"
fi
exit $fail
