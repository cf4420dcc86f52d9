#!/bin/sh
# SPDX-License-Identifier: MIT
# plan -o killed with SIGKILL, which nobody can hold back: at each step of writing and at any time.
# The folder is wholly the program that was there or wholly the new one, files of others in it
# stay, and the next run leaves nothing of the killed one (docs/decisions/0033).
# usage: script_kill.sh DRAWTUBE SOURCE_DIR
drawtube=$1
failing=$(dirname "$1")/tests/drawtube_failing
one=$2/docs/samples/first-2.xml two=$2/wells/hollinfold.xml # fewer strings, more strings
# in memory where that can be had: some hundred runs wait for a disk at each file
work=$(mktemp -d /dev/shm/drawtube-kill-XXXXXX 2>/dev/null || mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
out=$work/place/out
mkdir "$work/place"
failed=0

complain() {
    echo "FAILED: $*"
    failed=1
    [ ! -d "$out" ] || ls -A "$work/place" "$out"
}

# What plan makes of each, in a folder of its own; and what else is kept in the folder.
"$drawtube" plan "$one" -o "$work/one" >/dev/null && "$drawtube" plan "$two" -o "$work/two" >/dev/null || exit 1
[ "$(ls "$work/one" | wc -l)" -lt "$(ls "$work/two" | wc -l)" ] || complain "the two have as many files"

# is FOLDER: which program it wholly is, apart from what is not ours; "" for a mixture
is() {
    for program in one two; do
        ! diff -rq -x notes.txt -x latest -x scans "$1" "$work/$program" >/dev/null || echo $program
    done
}

# other ONE: the well file of the program that the folder is not
other() { if [ "$1" = one ]; then echo "$two"; else echo "$one"; fi; }

# left: how many things stand beside the folder
left() { ls -A "$work/place" | grep -cvx out; }

# add_own: files that drawtube did not make
add_own() {
    echo "mud logger comes on Tuesday" >"$out/notes.txt"
    ln -s program.html "$out/latest"
}
own_is_there() {
    [ "$(cat "$out/notes.txt")" = "mud logger comes on Tuesday" ] && [ "$(readlink "$out/latest")" = program.html ]
}

# kill_at STEP WELL: 0 when it was killed there, 1 when it had done before
kill_at() {
    DT_SIGNAL=9 DT_SIGNAL_AT=$1 "$failing" plan "$2" -o "$out" >/dev/null 2>"$work/err"
    code=$?
    [ $code -eq 137 ] && return 0
    [ $code -eq 0 ] || complain "exit $code with a signal at step $1: $(cat "$work/err")"
    return 1
}

# ---- a folder that is not there: nothing, or all of it
step=1
while kill_at $step "$one"; do
    if [ -d "$out" ]; then
        [ "$(is "$out")" = one ] || complain "step $step of a new folder: a part of it"
        rm -rf "$out"
    fi
    [ "$(left)" -le 1 ] || complain "step $step of a new folder: $(left) things are left"
    step=$((step + 2))
done
[ $step -gt 15 ] || complain "a new folder has only $step steps"
[ "$(is "$out")" = one ] && [ "$(left)" -eq 0 ] || complain "a new folder after kills"

# ---- one program in the place of the other, at each step, killed run after killed run
add_own
was=one step=1
while kill_at $step "$(other $was)"; do
    now=$(is "$out")
    [ -n "$now" ] || complain "step $step: some files are old and some new"
    own_is_there || complain "step $step: files of others are gone"
    [ "$(left)" -le 1 ] || complain "step $step: $(left) things are left"
    was=${now:-$was} step=$((step + 1))
done
[ $step -gt 30 ] || complain "changing a folder has only $step steps"
[ "$(left)" -eq 0 ] || complain "the last run leaves $(left) things"

# ---- a folder with a folder of others in it cannot change places: the next run finishes it
mkdir "$out/scans"
echo log >"$out/scans/log.txt"
was=$(is "$out") step=1
while kill_at $step "$(other "$was")"; do
    own_is_there && [ "$(cat "$out/scans/log.txt")" = log ] || complain "step $step inside: files of others are gone"
    [ "$(ls -Ad "$out"/.drawtube-n* "$out"/.drawtube-r* 2>/dev/null | wc -l)" -le 1 ] && [ "$(left)" -eq 0 ] ||
        complain "step $step inside: too much is left"
    "$drawtube" plan "$one" -o "$out" >/dev/null || complain "step $step inside: the next run fails"
    was=$(is "$out")
    [ "$was" = one ] || complain "step $step inside: the next run does not bring it in order"
    step=$((step + 6))
done
[ $step -gt 30 ] || complain "writing inside a folder has only $step steps"
rm -rf "$out/scans"

# ---- one file
rm -rf "$work/place" && mkdir "$work/place"
"$drawtube" draw "$one" -o "$work/one.svg" && "$drawtube" draw "$two" -o "$out" || exit 1
cp "$out" "$work/two.svg"
for step in 1 2 3; do
    DT_SIGNAL=9 DT_SIGNAL_AT=$step "$failing" draw "$one" -o "$out" 2>/dev/null
    [ $? -eq 137 ] || complain "a file has fewer than $step steps"
    cmp -s "$out" "$work/two.svg" || complain "step $step of a file: it is not what it was"
    [ "$(left)" -le 1 ] || complain "step $step of a file: $(left) files are left"
done
"$drawtube" draw "$one" -o "$out" && cmp -s "$out" "$work/one.svg" && [ "$(left)" -eq 0 ] || complain "a file after kills"

# ---- at any time: the moment moves toward the end of the run, earlier again when a run had done before
rm -rf "$out"
"$drawtube" plan "$one" -o "$out" >/dev/null
add_own
start=$(date +%s%N)
for well in "$two" "$one"; do "$drawtube" plan "$well" -o "$out" >/dev/null; done
wait=$((($(date +%s%N) - start) / 3000)) # microseconds, two thirds of a run
kills=0 moment=1 was=one
while [ $moment -le 15 ]; do
    timeout -s KILL "$(awk "BEGIN { print $wait / 1e6 }")" "$drawtube" plan "$(other $was)" -o "$out" >/dev/null 2>&1
    if [ $? -eq 137 ]; then kills=$((kills + 1)) wait=$((wait * 107 / 100)); else wait=$((wait * 80 / 100)); fi
    now=$(is "$out")
    [ -n "$now" ] || complain "killed after $wait us: some files are old and some new"
    own_is_there || complain "killed after $wait us: files of others are gone"
    [ "$(left)" -le 1 ] || complain "killed after $wait us: $(left) things are left"
    was=${now:-$was} moment=$((moment + 1))
    [ $failed -eq 0 ] || break
done
[ $kills -ge 3 ] || complain "only $kills of 15 runs were still there to be killed"
"$drawtube" plan "$one" -o "$out" >/dev/null && [ "$(is "$out")" = one ] && [ "$(left)" -eq 0 ] ||
    complain "the run after all kills"
exit $failed
