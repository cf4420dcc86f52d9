#!/bin/sh
# SPDX-License-Identifier: MIT
# What the world does to a run: no memory, no disk, no permission, nobody listening, a signal, a
# second run in the same folder. Never a half file, never a left one, and the exit code says it.
# usage: script_faults.sh DRAWTUBE SOURCE_DIR
drawtube=$1
wells=$2/wells
well=$wells/alder-reach.xml
failing=$(dirname "$1")/tests/drawtube_failing
work=$(mktemp -d) || exit 1
trap 'chmod -R u+w "$work"; rm -rf "$work"' EXIT
out=$work/out
failed=0

complain() {
    echo "$*"
    [ ! -s "$work/err" ] || head -5 "$work/err"
    failed=1
}

# expect CODE WORDS COMMAND...: the exit code, and words on standard error ("" for any)
expect() {
    want=$1 words=$2
    shift 2
    "$@" >"$work/stdout" 2>"$work/err"
    code=$?
    [ $code -eq "$want" ] || complain "exit $code where $want was due: $*"
    grep -qF -- "$words" "$work/err" || complain "does not say \"$words\": $*"
}

# nothing_left FOLDER: it holds no file at all; whole_or_nothing FOLDER: or all, and none half
count_files() { find "$1" -type f 2>/dev/null | wc -l; }
no_temporary() {
    find "$1" "$(dirname "$1")" \( -name '*.new-*' -o -name .drawtube-new -o -name .drawtube-ready \) 2>/dev/null | grep . && complain "a temporary file was left: $2"
}
nothing_left() {
    [ "$(count_files "$1")" -eq 0 ] || complain "files were left: $2"
}
whole_or_nothing() {
    no_temporary "$1" "$2"
    have=$(count_files "$1")
    [ "$have" -eq 0 ] || [ "$have" -eq "$all" ] || complain "$have of $all files: $2"
    for file in "$1"/*.svg "$1"/program.html "$1"/program.json; do
        [ ! -e "$file" ] || cmp -s "$file" "$work/good/${file##*/}" || complain "half a file $file: $2"
    done
}

"$drawtube" plan "$well" -o "$work/good" >"$work/good.txt" 2>&1 || complain "plan fails"
all=$(count_files "$work/good")

# ---- memory: every stage, the writers, and libxml2 and jansson below them
DT_FAIL_COUNT=$work/count "$failing" plan "$well" -o "$out" >/dev/null 2>&1 || complain "plan fails"
total=$(cat "$work/count")
[ "$total" -gt 10000 ] || complain "only $total allocations were counted"
tries=24 n=1
# hash tables of libxml2 are seeded anew each run, so the number differs by a few
while [ $n -lt $((total - 200)) ]; do
    rm -rf "$out"
    DT_FAIL_AT=$n expect 4 "" "$failing" plan "$well" -o "$out"
    # the last of all belong to the table on standard output: then the files are there
    whole_or_nothing "$out" "allocation $n"
    n=$((n + total / tries))
done
for command in "check $well" "why $well --json" "rate --od 7 --weight 29 --grade P110 --json" \
    "import $2/docs/samples/survey.xml --survey" "export $well --as witsml-geometry"; do
    # shellcheck disable=SC2086
    DT_FAIL_COUNT=$work/count "$failing" $command >/dev/null 2>&1
    for part in 1 2 5 9; do
        n=$(($(cat "$work/count") * part / 10 + 1))
        # shellcheck disable=SC2086
        DT_FAIL_AT=$n expect 4 "out of memory" "$failing" $command
    done
done

# ---- no room: a limit on files, a full device, a full disk where one may be mounted
rm -rf "$out"
(ulimit -f 40 && exec "$drawtube" plan "$well" -o "$out") >/dev/null 2>"$work/err"
code=$?
[ $code -eq 4 ] || complain "exit $code under a limit on files"
nothing_left "$out" "a limit on files"
if [ -e /dev/full ]; then
    expect 4 "No space left" "$drawtube" draw "$well" -o /dev/full
    for command in "plan $well" "check $well" "draw $well" "compare $well --json" start "rate --od 7 --weight 29 --grade P110" \
        "why $well" "--help" "plan --help" "--version" "completion bash" "export $well --as csv" \
        "import $2/docs/samples/survey.csv --survey"; do
        [ "$command" != "compare $well --json" ] || continue # the same code as plan's, and slow
        # shellcheck disable=SC2086
        "$drawtube" $command >/dev/full 2>"$work/err"
        code=$?
        [ $code -eq 4 ] || complain "exit $code with a full standard output: $command"
        grep -q 'No space left' "$work/err" || complain "gives no reason: $command"
    done
fi
mkdir "$work/disk"
if mount -t tmpfs -o size=200k tmpfs "$work/disk" 2>/dev/null; then
    expect 4 "No space left" "$drawtube" plan "$well" -o "$work/disk/out"
    nothing_left "$work/disk" "a full disk"
    umount "$work/disk"
else
    echo "skipped: a full disk (no right to mount one here)"
fi

# ---- no permission
mkdir "$work/locked"
chmod 555 "$work/locked"
as_other=
if [ "$(id -u)" -eq 0 ]; then
    if command -v setpriv >/dev/null && chmod 755 "$work" &&
        setpriv --reuid=65534 --regid=65534 --clear-groups test -x "$drawtube" 2>/dev/null; then
        as_other="setpriv --reuid=65534 --regid=65534 --clear-groups"
    else
        as_other=none
        echo "skipped: a read-only folder (root may write it, and nobody else may run $drawtube)"
    fi
fi
if [ "$as_other" != none ]; then
    # shellcheck disable=SC2086
    expect 4 "Permission denied" $as_other "$drawtube" plan "$well" -o "$work/locked"
    # shellcheck disable=SC2086
    expect 4 "Permission denied" $as_other "$drawtube" plan "$well" -o "$work/locked/new"
    # shellcheck disable=SC2086
    expect 4 "Permission denied" $as_other "$drawtube" draw "$well" -o "$work/locked/x.svg"
    nothing_left "$work/locked" "a read-only folder"
fi
: >"$work/file"
expect 4 "Not a directory" "$drawtube" plan "$well" -o "$work/file/out"
expect 4 "$work/file" "$drawtube" plan "$well" -o "$work/file"
mkdir -p "$out-taken/window.svg"
expect 4 "window.svg: Is a directory" "$drawtube" plan "$well" -o "$out-taken"
no_temporary "$out-taken" "a folder where a file should go"

# ---- a link to the folder stays one; a list of files from a stranger reaches nothing outside the folder
mkdir "$work/behind"
ln -s behind "$work/link"
"$drawtube" plan "$well" -o "$work/link" >/dev/null || complain "plan fails into link"
[ -L "$work/link" ] || complain "the link to a folder was replaced"
whole_or_nothing "$work/behind" "a link to the folder"
: >"$work/victim"
mkdir "$work/behind/dir"
for name in ../victim dir dir/../../victim .. . "" "a b"; do echo "plan $name"; done >>"$work/behind/.drawtube-files"
"$drawtube" plan "$well" -o "$work/behind" >/dev/null || complain "plan fails into behind"
[ -e "$work/victim" ] && [ -d "$work/behind/dir" ] || complain "a list of files removes what is not in the folder"
rmdir "$work/behind/dir"
whole_or_nothing "$work/behind" "a list of files from a stranger"
seq 200000 >"$work/behind/.drawtube-files"
mv "$work/behind/.drawtube-files" "$work/behind/strange" && ln -s strange "$work/behind/.drawtube-files"
expect 4 "Too many levels of symbolic links" "$drawtube" plan "$well" -o "$work/behind"

# ---- nobody listens: closed streams, a pipe without a reader
rm -rf "$out"
"$drawtube" plan "$well" -o "$out" >&- 2>"$work/err"
[ $? -eq 4 ] || complain "a closed standard output goes unnoticed"
whole_or_nothing "$out" "a closed standard output"
"$drawtube" plan "$well" >&- 2>&-
[ $? -eq 4 ] || complain "closed standard output and error"
"$drawtube" check - <&- 2>"$work/err"
[ $? -eq 3 ] || complain "a closed standard input is read"
"$drawtube" plan "$well" -o "$out" <&- >"$work/stdout" 2>&1
sed -i 's|^/.*: \([0-9]* files written\)|\1|' "$work/stdout" "$work/good.txt" # each names its own folder
cmp -s "$work/stdout" "$work/good.txt" || complain "a closed standard input disturbs"
# a pipe nobody reads: killed as usual, or exit 4 where the signal is ignored
for ignore in "" "trap '' PIPE;"; do
    sh -c "$ignore \"\$1\" plan \"\$2\" -o \"\$3\"; echo \$? >\"\$4\"" - "$drawtube" "$well" "$out" \
        "$work/code" 2>"$work/err" | :
    sleep 0.1
    while [ ! -s "$work/code" ]; do sleep 0.1; done
    code=$(cat "$work/code")
    case "$ignore $code" in
    " 141" | "trap"*" 4") ;;
    *" 0") ;; # the reader was still there
    *) complain "exit $code with a broken pipe ($ignore)" ;;
    esac
    whole_or_nothing "$out" "a broken pipe"
    rm -f "$work/code"
done

# ---- signals: before each file, and whenever they come
rm -rf "$out"
DT_STEP_COUNT=$work/count "$failing" plan "$well" -o "$out" >/dev/null 2>&1
steps=$(cat "$work/count")
for number in 2 15; do
    for step in 1 2 $((all - 1)) "$all" $((all + 1)) "$steps"; do
        rm -rf "$out"
        DT_SIGNAL=$number DT_SIGNAL_AT=$step "$failing" plan "$well" -o "$out" >/dev/null 2>"$work/err"
        code=$?
        [ $code -eq $((128 + number)) ] || complain "signal $number at step $step: exit $code"
        whole_or_nothing "$out" "signal $number at step $step"
    done
    rm -f "$work/drawing.svg"
    DT_SIGNAL=$number DT_SIGNAL_AT=2 "$failing" draw "$well" -o "$work/drawing.svg" 2>"$work/err"
    no_temporary "$work" "signal $number while drawing"
done
for wait in 0.02 0.1 0.2 0.3 0.4; do
    rm -rf "$out"
    timeout -s INT "$wait" "$drawtube" plan "$well" -o "$out" --png --pdf >/dev/null 2>&1
    no_temporary "$out" "interrupted after $wait s"
done

# ---- two runs, one folder, again and again: each file is whole whoever wins
rm -rf "$out"
for round in 1 2 3 4 5; do
    "$drawtube" plan "$well" -o "$out" >/dev/null 2>&1 &
    first=$!
    "$drawtube" plan "$well" -o "$out" >/dev/null 2>"$work/err"
    code=$?
    wait $first || complain "round $round: the first of two runs fails"
    [ $code -eq 0 ] || complain "round $round: the second of two runs fails"
    whole_or_nothing "$out" "two runs in one folder"
done
exit $failed
