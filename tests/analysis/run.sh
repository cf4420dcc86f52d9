#!/bin/sh
# SPDX-License-Identifier: MIT
# run.sh WORK TOOL...: looks at the sources, or at runs, with one tool after another. WORK holds the builds.
#   cppcheck    the sources, half a minute
#   tidy        the sources with clang-tidy, two minutes on two cores
#   gcc         the sources with gcc -fanalyzer: prints what it finds, judges nothing (README.md here)
#   threads     odds, all that has threads, under ThreadSanitizer
#   odds        all of test_odds under ThreadSanitizer, some minutes
#   memory      the command on every shipped well under valgrind, some minutes
# Ends with 1 when a tool finds what is not accepted in the lists beside this script.
set -u
source=$(cd "$(dirname "$0")/../.." && pwd)
here=$source/tests/analysis
mkdir -p "${1:?run.sh WORK TOOL...}"
work=$(cd "$1" && pwd)
shift
cd "$source" || exit 1
failed=0

need() { command -v "$1" >/dev/null && return; echo "FAILED: $1 is not installed"; failed=1; return 1; }
quietly() { "$@" >"$work/log" 2>&1 || { cat "$work/log"; exit 1; }; }

run_cppcheck() {
    need cppcheck || return
    cppcheck -q -j2 --std=c11 --enable=warning,style,performance,portability --suppressions-list="$here/cppcheck-accepted.txt" \
        --template='{file}:{line}: {message} [{id}]' --error-exitcode=1 -Iinclude -Iplanner -Irender \
        planner render || failed=1
}

# Findings whose file and check are not in the list, and lines of the list that found nothing.
judge_tidy() {
    awk -v here="$source/" '
        FNR == NR { if ($0 !~ /^#/ && NF == 2) accepted[$1 " " $2] = 0; next }
        /: (warning|error): .*\[[a-z].*\]$/ {
            place = $0; sub(here, "", place); file = place; sub(/:.*/, "", file)
            check = $0; sub(/.*\[/, "", check); sub(/[],].*/, "", check)
            if ((file " " check) in accepted) ++accepted[file " " check]
            else { print place; bad = 1 }
        }
        END {
            for (line in accepted) if (!accepted[line]) { print "not needed any more: " line; bad = 1 }
            exit bad
        }' "$here/tidy-accepted.txt" "$1"
}

run_tidy() {
    need clang-tidy || return
    quietly cmake -S "$source" -B "$work/tidy" -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Debug
    printf '%s\0' planner/*/*.c render/*/*.c |
        xargs -0 -P2 -n1 clang-tidy -p "$work/tidy" --config-file="$here/clang-tidy.yaml" --quiet >"$work/tidy.txt" 2>"$work/tidy.err" ||
        { tail "$work/tidy.err"; echo "FAILED: clang-tidy did not end well"; failed=1; return; }
    grep -q "error:" "$work/tidy.txt" "$work/tidy.err" && { grep "error:" "$work/tidy.txt" "$work/tidy.err"; failed=1; }
    judge_tidy "$work/tidy.txt" || failed=1
}

run_gcc() {
    quietly cmake -S "$source" -B "$work/gcc" -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Release -DCMAKE_C_FLAGS=-fanalyzer
    cmake --build "$work/gcc" -j2 --target drawtube -- -k >"$work/gcc.txt" 2>&1
    sed -n "s|^$source/||; s/: error: /: /; /-Werror=analyzer/p" "$work/gcc.txt" | grep -v '^ ' | sort -u
}

# under_threads COMMAND...: ends at the first race.
under_threads() {
    TSAN_OPTIONS=halt_on_error=1 "$@" >"$work/log" 2>&1 || { cat "$work/log"; failed=1; }
}

run_threads() {
    quietly cmake -S "$source" -B "$work/threads" -C .cmake/threads.cmake
    quietly cmake --build "$work/threads" -j2 --target drawtube
    # A race shows in any realisation that two threads make: some hundred will do. The last, which is
    # interrupted, goes through a whole round of them.
    under_threads "$work/threads/drawtube" odds wells/brackwater-deep.xml --samples 400 --threads 4
    under_threads "$work/threads/drawtube" odds wells/brackwater-deep.xml --samples 600 --precision "2 %" --threads 3
    under_threads timeout -s INT --preserve-status 5 "$work/threads/drawtube" odds wells/brackwater-deep.xml \
        --samples 100000000 --threads 2
}

run_odds() {
    quietly cmake -S "$source" -B "$work/threads" -C .cmake/threads.cmake
    quietly cmake --build "$work/threads" -j2 --target test_odds
    under_threads "$work/threads/tests/test_odds"
}

# under_valgrind ARGS...: an exit code over 1 is an error of memory, of the program or of one of its children.
under_valgrind() {
    valgrind -q --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite --show-leak-kinds=definite \
        --num-callers=80 --suppressions="$here/valgrind-accepted.txt" --log-file="$work/valgrind.%p" "$work/memory/drawtube" "$@" >"$work/out" 2>"$work/err" </dev/null
    code=$?
    [ $code -le 1 ] && [ "$(cat "$work"/valgrind.* | wc -c)" = 0 ] && { rm -f "$work"/valgrind.*; return; }
    echo "FAILED: drawtube $* ended with $code under valgrind"
    cat "$work/err" "$work"/valgrind.*
    rm -f "$work"/valgrind.*
    failed=1
}

run_memory() {
    need valgrind || return
    quietly cmake -S "$source" -B "$work/memory" -DCMAKE_BUILD_TYPE=RelWithDebInfo
    quietly cmake --build "$work/memory" -j2 --target drawtube
    rm -f "$work"/valgrind.*
    for well in wells/*.xml; do
        under_valgrind plan "$well" -o "$work/made"
        under_valgrind compare "$well" -o "$work/made"
        under_valgrind why "$well"
        if grep -q ' sd="' "$well"; then under_valgrind odds "$well" --samples 200 -o "$work/made/odds.svg"; fi
    done
    under_valgrind why wells/brackwater-deep.xml --without "string 3" --json
    under_valgrind plan wells/alder-reach.xml --json
    under_valgrind draw wells/alder-reach.xml --form thumbnail --png -o "$work/made/a.png"
    under_valgrind export wells/hollinfold.xml --as witsml-trajectory
    under_valgrind export wells/mizzenlow-shelf.xml --as csv
    under_valgrind import docs/samples/pressures.las --pore PPG --fracture FG --into wells/alder-reach.xml
    under_valgrind import docs/samples/survey.xml --survey
    under_valgrind rate --od 9-5/8 --weight 47 --grade L80 --tension 500 --internal 6000 --external 2000 --json
}

for tool; do
    case $tool in
    cppcheck | tidy | gcc | threads | odds | memory)
        echo "== $tool"
        run_$tool
        ;;
    *) echo "unknown tool $tool"; exit 2 ;;
    esac
done
exit $failed
