#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds the fuzz targets and runs each for so many seconds, four at a time.
# usage: tests/fuzz/run.sh [SECONDS] [TARGET...]
# Exit 1 on a crash, a leak, a breach, an input that takes too long or too much memory; the input
# is then in build/fuzz/findings. What a run learns stays in build/fuzz/found for the next one.
# DT_FUZZ_TIMEOUT is how many seconds an input may take (120).
set -eu
cd "$(dirname "$0")/../.."
seconds=${1:-60}
[ $# -eq 0 ] || shift
targets=${*:-model plan well catalogue las csv survey} # the slowest first, or one core waits for it at the end

cmake -S . -B build/fuzz -C .cmake/fuzz.cmake >/dev/null
# shellcheck disable=SC2046,SC2086
cmake --build build/fuzz -j2 --target $(printf 'fuzz_%s ' $targets) >/dev/null
mkdir -p build/fuzz/findings build/fuzz/logs

# run TARGET: in the folder of what it found, from its corpus and what else is of its kind
cat >build/fuzz/run-one.sh <<'RUN'
target=$1
seconds=$2
max=8192 # bytes of an input
full=    # 0: as long as may be from the start, where more bytes are more decisions
case $target in
well | plan) more=wells words=well ;;
model) more= words= max=256 full=0 ;;
catalogue) more= words=catalogue ;;
*) more="tests/imports docs/samples" words=import ;;
esac
mkdir -p "build/fuzz/found/$target"
log=build/fuzz/logs/$target
# shellcheck disable=SC2086
if ! "build/fuzz/tests/fuzz_$target" "build/fuzz/found/$target" "tests/fuzz/corpus/$target" $more \
    ${words:+-dict=tests/fuzz/dictionaries/$words.dict} -max_total_time="$seconds" -max_len=$max ${full:+-len_control=$full} \
    -timeout="${DT_FUZZ_TIMEOUT:-240}" -rss_limit_mb=2048 -print_final_stats=1 -verbosity=1 \
    -artifact_prefix="build/fuzz/findings/$target-" >"$log" 2>&1; then
    tail -60 "$log"
    echo "fuzz_$target: FOUND something, see above and build/fuzz/findings"
    exit 1
fi
runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
slowest=$(sed -n 's/^stat::slowest_unit_time_sec: *//p' "$log")
echo "fuzz_$target: $runs runs in $seconds s, slowest ${slowest} s, no finding"
[ "$runs" -gt 0 ]
RUN
# shellcheck disable=SC2086
printf '%s\n' $targets | xargs -P 4 -I '{}' sh build/fuzz/run-one.sh '{}' "$seconds"
