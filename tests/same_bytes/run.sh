#!/bin/sh
# SPDX-License-Identifier: MIT
# run.sh WORK [all]: same input, same bytes, whoever builds drawtube and wherever it runs.
# Builds it with gcc and with clang (release), and with gcc unoptimised, into WORK; makes every output
# of the shipped wells with each, and with the first under other surroundings: a locale with a decimal
# comma, time zones, another home, folder, umask, terminal and start of memory. Then compares. One run of
# the command keeps one core busy, so two sets are made side by side.
set -eu
source=$(cd "$(dirname "$0")/../.." && pwd)
mkdir -p "${1:?run.sh WORK [all]}"
work=$(cd "$1" && pwd)
pictures=${2:-some}
outputs="$source/tests/same_bytes/outputs.sh"
made=$work/outputs
rm -rf "$made"
mkdir -p "$made"

# build NAME COMPILER TYPE [FLAGS]: a build folder of its own, only the command.
build() {
    cmake -S "$source" -B "$work/$1" -DCMAKE_C_COMPILER="$2" -DCMAKE_BUILD_TYPE="$3" \
        -DCMAKE_C_FLAGS="${4:-}" >"$work/$1.log" &&
        cmake --build "$work/$1" -j2 --target drawtube >>"$work/$1.log" || { cat "$work/$1.log"; exit 1; }
}

# Each set has a folder of its own to run in, and the same words for every file it names.
ln -s "$source" "$made/source"
# make NAME BUILD VARIABLE=VALUE...: every output by a build in such surroundings.
make() {
    name=$1 build=$2
    shift 2
    mkdir "$made/$name"
    (cd "$made/$name" && env "$@" sh "$outputs" "$work/$build/drawtube" ../source "$pictures")
}

export LC_ALL=C TZ=UTC0
build gcc gcc Release
build plain gcc Debug -funsigned-char # char has no sign on ARM
clang=$(command -v clang || true)
if [ -n "$clang" ]; then build clang clang Release; else echo "skipped: clang is not installed"; fi

# A locale with a decimal comma, made here so that none need be installed.
comma=""
if command -v localedef >/dev/null && [ -e /usr/share/i18n/locales/de_DE ]; then
    mkdir -p "$work/locales"
    [ -d "$work/locales/de_DE.UTF-8" ] || localedef -i de_DE -f UTF-8 "$work/locales/de_DE.UTF-8"
    comma=$(LOCPATH=$work/locales LC_ALL=de_DE.UTF-8 locale decimal_point)
    [ "$comma" = , ] || { echo "FAILED: the German locale has \"$comma\" for a comma"; exit 1; }
else
    echo "skipped: no source of locales is installed (Debian: locales)"
fi

# Two halves that take about as long: the unoptimised build needs twice the time of the others.
(
    make plain plain
    # Everything else at once; if it ever differs, take them away one by one.
    mkdir -p "$work/home"
    umask 077
    make elsewhere gcc HOME="$work/home" XDG_CACHE_HOME="$work/home" USER=nobody TZ=ABC+11:30 TERM=dumb \
        COLUMNS=40 LINES=10 NO_COLOR=1 MALLOC_PERTURB_=165 SOURCE_DATE_EPOCH=86400
) &
half=$!
make gcc gcc
[ -z "$clang" ] || make clang clang
[ -z "$comma" ] || make comma gcc LOCPATH="$work/locales" LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8 LANGUAGE=de TZ=XYZ-14
# The C library takes other ways through exp() and pow() on processors without fused multiply-add: the
# last bit of a result may differ. No output shows it, so far; nothing of ours can promise it.
if [ "$pictures" = all ]; then make processor gcc GLIBC_TUNABLES=glibc.cpu.hwcaps=-AVX2,-FMA,-FMA4,-AVX; fi
wait $half || exit 1

failed=0
sets=1
for name in plain clang comma elsewhere processor; do
    [ -d "$made/$name" ] || continue
    sets=$((sets + 1))
    diff -rq "$made/gcc" "$made/$name" || { echo "FAILED: $name and gcc differ in bytes"; failed=1; }
done

# A narrow terminal in place of a file.
if command -v script >/dev/null; then
    cd "$made/gcc"
    SHELL=/bin/sh script -qec "stty cols 40; '$work/gcc/drawtube' plan ../source/wells/hollinfold.xml 2>/dev/null" \
        /dev/null </dev/null | tr -d '\r' >"$made/terminal"
    "$work/gcc/drawtube" plan ../source/wells/hollinfold.xml 2>/dev/null >"$made/file"
    cmp "$made/terminal" "$made/file" || { echo "FAILED: a terminal gets other words than a file"; failed=1; }
fi
[ $failed -eq 0 ] || exit 1
echo "$(find "$made/gcc" -type f | wc -l) files of $sets runs are the same, byte for byte"
