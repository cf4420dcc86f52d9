#!/bin/sh
# SPDX-License-Identifier: MIT
# script_documents.sh COMMAND SOURCE: every "drawtube ..." line in a code block of README.md and docs/ is
# run, in a folder of its own; the pictures are what the command draws; links lead somewhere.
tube=$1
source=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail=0
bad() { echo "FAILED: $1"; fail=1; }

mkdir "$work/build" "$work/bin"
ln -s "$tube" "$work/bin/drawtube"
ln -s "$tube" "$work/build/drawtube"
cp -r "$source/wells" "$source/docs" "$work/"
plain_path=$PATH
PATH=$work/bin:$PATH
export PATH
cd "$work" || exit 1
drawtube start >my-well.xml
page_ends=0
drawtube page my-well.xml 2>&1 | grep -q "built without the live page" && page_ends=2

# Lines of code blocks (indented by four, or fenced) that begin with the command, but for those that
# only show a form: with a word in capitals to be filled in, dots, or something in brackets.
ran=0
for page in "$source/README.md" "$source"/docs/*.md; do
    awk '/^```/ {fence = !fence; next}
         fence || /^    / {sub(/^ +/, ""); sub(/^\$ /, "")
             if ($0 ~ /^(build\/)?drawtube /) print}' "$page" |
        grep -vE ' (WELL|FILE|DIR|COMMAND|OD|FORMAT|N|S)([ .\n]|$)|\[|\.\.\.|\|' >lines
    while IFS= read -r line; do
        sh -c "$line" </dev/null >said 2>complaints
        code=$?
        case $line in
        *narrowgate* | *first-4*) want=1 ;; # made to have no program
        *drawtube\ page*) want=$page_ends ;; # a build may be without the live page, and says so
        *) want=0 ;;
        esac
        [ $code -eq $want ] || { bad "$(basename "$page"): \"$line\" ended with $code"; cat complaints; }
        ran=$((ran + 1))
    done <lines
done
[ $ran -ge 15 ] || bad "only $ran examples were found"

# The first well as a newcomer pastes it after the set-up: one line after the other into one shell that knows no
# drawtube yet.
awk '/^```/ {fence = !fence; next} !fence && /^    / {sub(/^ +/, ""); print $0 "; echo \"ended $? \" \"" NR "\""}' \
    "$source/docs/first-well.md" >pasted
lines=$(wc -l <pasted)
PATH=$plain_path sh pasted </dev/null 2>complaints | grep '^ended' >ended
[ "$lines" -ge 7 ] && [ "$(wc -l <ended)" -eq "$lines" ] && [ "$(grep -c '^ended 1' ended)" -eq 1 ] &&
    [ "$(grep -c '^ended 0' ended)" -eq $((lines - 1)) ] || { bad "docs/first-well.md cannot be pasted"; cat ended complaints; }
[ -s out/first-1/program.html ] && [ -s first-3.svg ] || bad "docs/first-well.md made no report and no drawing"

# README's first output is how the program of the first well begins, blanks at ends of lines apart.
awk '/^Alder Reach 1/ {inside = 1} inside && /^```/ {exit} inside' "$source/README.md" >shown
[ "$(wc -l <shown)" -ge 20 ] || bad "README.md shows no first output"
drawtube plan wells/alder-reach.xml | sed 's/ *$//' | head -n "$(wc -l <shown)" | cmp - shown || bad "README.md's first output is not what is printed"

# One well file in, one folder out, and nothing the second time.
sh docs/samples/plan-one.sh wells/alder-reach.xml many || bad "plan-one.sh"
[ "$(cat many/alder-reach.done)" = 0 ] && [ -s many/alder-reach/program.json ] || bad "plan-one.sh made no program"
rm many/alder-reach/program.json
sh docs/samples/plan-one.sh wells/alder-reach.xml many || bad "plan-one.sh again"
[ ! -e many/alder-reach/program.json ] || bad "plan-one.sh does again what was done"
sh docs/samples/plan-one.sh wells/narrowgate.xml many || bad "plan-one.sh with a well without a program"
[ "$(cat many/narrowgate.done)" = 1 ] || bad "plan-one.sh does not keep the exit code"

# The wells of the page on practice are whole, whatever is planned for them.
for well in docs/practice/*.xml; do
    drawtube check "$well" >said 2>complaints || { bad "$well is refused"; cat complaints; }
done

# The pictures are today's.
mkdir pictures
sh "$source/docs/pictures/draw.sh" "$tube" "$work/pictures" || bad "the pictures cannot be drawn"
for picture in "$source"/docs/pictures/*.svg; do
    cmp -s "$picture" "pictures/$(basename "$picture")" || bad "docs/pictures/$(basename "$picture") is out of date: cmake --build build --target pictures"
done
for picture in pictures/*.svg; do
    [ -e "$source/docs/$picture" ] || bad "docs/$picture is not in the tree"
done

# Links to files of the tree.
for page in README.md DEVELOPERS.md docs/*.md; do
    [ -e "$source/$page" ] || continue
    grep -oE '\]\([^)#:]+[)#]' "$source/$page" | sed 's/^](//; s/[)#]$//' | while read -r target; do
        [ -e "$source/$(dirname "$page")/$target" ] || echo "$page: $target"
    done
done >links
[ ! -s links ] || { bad "links lead nowhere:"; cat links; }

# No line over 120 columns, so that a page reads well as it is: but rows of tables, which their format keeps in one
# line, fenced blocks, which show what is typed and printed, and two pages that runs over many wells write.
(cd "$source" && ls README.md DEVELOPERS.md docs/*.md docs/decisions/*.md 2>/dev/null) | grep -v -x -e docs/open-wells.md -e docs/offset-wells.md >pages
python3 - "$source" pages <<'END' || bad "lines over 120 columns"
import re, sys
wide, seen = [], 0
for name in open(sys.argv[2]).read().split():
    fenced = False
    for number, line in enumerate(open(sys.argv[1] + "/" + name, encoding="utf-8").read().split("\n"), 1):
        if re.match(r"\s*```", line): fenced = not fenced
        seen += 1
        if len(line) > 120 and not fenced and not line.lstrip().startswith("|"): wide.append("%s:%d" % (name, number))
sys.exit(" ".join(wide) if wide or seen < 3000 else 0)
END
echo "$ran examples run"
exit $fail
