#!/bin/sh
# SPDX-License-Identifier: MIT
# nightly.sh WORK [PART...]: what takes hours and so is no part of .ci/run. cmake --build build --target nightly
# runs all of it; parts: selfcheck mutations digits fuzz bytes analysis exercises word documents. Ends at the first part that
# fails and says which; findings stay in WORK.
set -eu
source=$(cd "$(dirname "$0")/.." && pwd)
mkdir -p "${1:?nightly.sh WORK [PART...]}"
work=$(cd "$1" && pwd)
shift
cd "$source"
export LC_ALL=C

release() {
    cmake -S "$source" -B "$work/release" -DCMAKE_BUILD_TYPE=Release >"$work/release.log" &&
        cmake --build "$work/release" -j2 --target drawtube selfcheck >>"$work/release.log" || { cat "$work/release.log"; exit 1; }
}

# 10,000 random wells against the independent checker, in two halves side by side.
part_selfcheck() {
    release
    "$work/release/tests/selfcheck" --count 5000 --seed 1 --failures "$work/failures" >"$work/selfcheck-1" 2>&1 &
    first=$!
    "$work/release/tests/selfcheck" --count 5000 --seed 5001 --failures "$work/failures" >"$work/selfcheck-2" 2>&1 ||
        { tail "$work/selfcheck-2"; exit 1; }
    wait $first || { tail "$work/selfcheck-1"; exit 1; }
    tail -n1 "$work/selfcheck-1" "$work/selfcheck-2"
}

# Claims spoiled on purpose.
part_mutations() {
    release
    sh tests/selfcheck/mutations.sh "$work/release/tests/selfcheck" 400 11
}

# Numbers of the files and results of the mathematics library moved by a last digit: is what is said the same?
part_digits() {
    release
    cmake --build "$work/release" -j2 --target test_last_digits >>"$work/release.log" || { cat "$work/release.log"; exit 1; }
    DT_LAST_DIGITS=5,300 "$work/release/tests/test_last_digits"
}

part_fuzz() { sh tests/fuzz/run.sh 3600; }
part_bytes() { sh tests/same_bytes/run.sh "$work/same_bytes" all; }
part_analysis() { sh tests/analysis/run.sh "$work/analysis" cppcheck tidy threads odds memory; }
part_exercises() { release && sh tests/cli/script_exercises.sh "$work/release/drawtube" "$source" "$work/exercises"; }

# Drawings as a word processor takes them: one page each, with ink on it. Look at the pictures, too.
part_word() {
    for need in soffice pdftoppm; do
        command -v $need >/dev/null || { echo "skipped: $need is not installed (Debian: libreoffice-draw-nogui libreoffice-writer-nogui poppler-utils)"; return 0; }
    done
    release
    for well in wells/*.xml; do
        name=$(basename "$well" .xml)
        "$work/release/drawtube" plan "$well" -o "$work/word/$name" >/dev/null 2>&1 || continue
        for drawing in schematic schematic-column window options; do
            (cd "$work/word/$name" &&
                soffice "-env:UserInstallation=file://$work/word/profile" --headless --convert-to pdf "$drawing.svg" >/dev/null 2>&1 &&
                pdftoppm -r 60 -gray "$drawing.pdf" "$drawing") || { echo "FAILED: $name/$drawing.svg"; exit 1; }
            pages=$(find "$work/word/$name" -name "$drawing-[0-9]*.pgm" | wc -l)
            [ "$pages" = 1 ] || { echo "FAILED: $name/$drawing.svg takes $pages pages"; exit 1; }
            ink=$(tail -c 100000 "$work/word/$name/$drawing"-*.pgm | tr -d '\377' | wc -c)
            [ "$ink" -gt 500 ] || { echo "FAILED: $name/$drawing.svg comes out blank"; exit 1; }
        done
    done
    echo "look at $work/word/*/*.pgm"
}

# The report as a word processor shows it: every page has ink, and the text of the pages has every figure of the
# casing program. Look at the pages, too.
part_documents() {
    for need in soffice pdftoppm pdftotext; do
        command -v $need >/dev/null || { echo "skipped: $need is not installed (Debian: libreoffice-writer-nogui poppler-utils)"; return 0; }
    done
    release
    for well in wells/*.xml; do
        name=$(basename "$well" .xml) to=$work/documents/$(basename "$well" .xml)
        "$work/release/drawtube" plan "$well" -o "$to" --docx >/dev/null 2>&1 || [ $? = 1 ] || { echo "FAILED: plan $name --docx"; exit 1; }
        [ -e "$to/program.docx" ] || continue
        soffice "-env:UserInstallation=file://$work/documents/profile" --headless --convert-to pdf --outdir "$to/shown" \
            "$to/program.docx" >/dev/null 2>&1
        pdftoppm -r 50 -gray "$to/shown/program.pdf" "$to/shown/page" || { echo "FAILED: $name is not shown"; exit 1; }
        for page in "$to"/shown/page-*.pgm; do
            ink=$(tail -c +20 "$page" | tr -d '\377' | wc -c)
            [ "$ink" -gt 300 ] || { echo "FAILED: $name has a blank page: $page"; exit 1; }
        done
        pdftotext -layout "$to/shown/program.pdf" "$to/shown/program.txt"
        python3 - "$to/program.json" "$to/shown/program.txt" <<'END' || { echo "FAILED: $name lacks figures"; exit 1; }
import json, sys
program, text = json.load(open(sys.argv[1])), open(sys.argv[2]).read()
words = set(text.split())
missing = [value for string in program["strings"] for value in
           ["%.0f" % string[key] for key in string if key in ("shoe_md_ft", "base_md_ft", "top_md_ft")] +
           ["%.2f" % string[key] for key in string if key == "mud_ppg"] + [section["grade"] for section in string["sections"]]
           if value not in words]
if program["well"] not in text: missing.append(program["well"])
if missing: sys.exit("not on the pages: %s" % missing)
END
    done
    echo "look at $work/documents/*/shown/*.pgm"
}

[ $# -gt 0 ] || set -- selfcheck mutations digits exercises bytes analysis word documents fuzz
for part; do
    echo "== $part"
    "part_$part" || { echo "FAILED: $part"; exit 1; }
done
